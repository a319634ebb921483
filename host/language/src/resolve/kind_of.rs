//! What is a kind of what, and the parts that a kind has from the kind that it is a kind
//! of.

use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::message::{Message, Problem};
use crate::model::{KindId, Member, PIECE};
use crate::resolve::look::{Done, refuse};
use crate::resolve::{LeftOut, Reader};
use crate::syntax::{Name, NewMember};
use crate::words::{a, capital};

impl Reader<'_> {
    /// `A bureau is a kind of desk.`
    pub(super) fn kinds_of(&mut self, entries: &[Entry]) {
        for entry in entries.iter().filter(|e| e.opener == Opener::KindOf) {
            self.mending(entry, Self::kind_of);
        }
    }

    fn kind_of(&mut self, entry: &Entry) {
        let Some((special, general)) = self.parse(entry, declare::kind_of) else {
            return;
        };
        let _ = self.particulars(entry);
        let found =
            self.with_look(|look| Ok((look.plain(&special)?.kind, look.plain(&general)?.kind)));
        let Some((kind, of)) = self.keep(entry, found) else {
            return;
        };
        let done = self.can_be_kind_of(entry, (kind, &special), (of, &general));
        if self.keep(entry, done) == Some(true) {
            let record = &mut self.model.kinds[kind.index()];
            record.general = Some(of);
            record.general_at = entry.at;
        }
    }

    /// Whether this says something new; refused if it cannot be.
    fn can_be_kind_of(
        &self,
        entry: &Entry,
        (kind, special): (KindId, &Name),
        (of, general): (KindId, &Name),
    ) -> Done<bool> {
        let name = |kind: KindId| a(&self.model.kinds[kind.index()].name);
        let at = special.at.to(general.at);
        if let Some(before) = self.model.kinds[kind.index()].general {
            let was = self.model.kinds[kind.index()].general_at;
            let line = self.files.line_from(was, at);
            if before == of && self.is_standard(was) != entry.standard {
                return Ok(false);
            }
            let problem = if before == of {
                Problem::RepeatedSentence { line: &line }
            } else {
                Problem::KindOfTwo {
                    a_kind: &capital(&name(kind)),
                    general: &self.model.kinds[before.index()].name,
                    line: &line,
                }
            };
            return Err(Box::new(Message::new(at, problem).with_also(was)));
        }
        let is_piece = |kind: KindId| self.model.kinds[kind.index()].is_piece;
        let which = if kind == PIECE || of == PIECE {
            Some("every piece is one".to_owned())
        } else if is_piece(kind) != is_piece(of) {
            let (piece, part) = if is_piece(kind) {
                (kind, of)
            } else {
                (of, kind)
            };
            Some(format!(
                "{} is a piece, {} is a part",
                name(piece),
                name(part)
            ))
        } else {
            None
        };
        if let Some(which) = which {
            return refuse(
                at,
                Problem::KindOfAnother {
                    special: &capital(&name(kind)),
                    general: &self.model.kinds[of.index()].name,
                    which: &which,
                },
            );
        }
        if self.model.is_kind_of(of, kind) {
            let mut circle: Vec<String> = Vec::new();
            let mut at = kind;
            for next in self.model.lineage(of) {
                let next_name = &self.model.kinds[next.index()].name;
                circle.push(format!("{} is a kind of {next_name}", name(at)));
                at = next;
                if next == kind {
                    break;
                }
            }
            let circle = capital(&circle.join(", "));
            return refuse(
                special.at.to(general.at),
                Problem::KindOfItself { circle: &circle },
            );
        }
        Ok(true)
    }

    /// Takes in "a bureau has no cornice", if that is what a member says.
    pub(super) fn leaves_out(&mut self, owner: KindId, part: KindId, new: &NewMember) -> bool {
        let kind = &self.model.kinds[owner.index()];
        let may_inherit = kind.general.is_some() || (kind.is_piece && owner != PIECE);
        let says_so = new.least == 0 && new.most == 0 && may_inherit && new.names.is_empty();
        if says_so {
            self.left_out.push(LeftOut {
                owner,
                part,
                at: new.at,
            });
        }
        says_so
    }

    /// Gives every kind the parts of the kind that it is a kind of, but for those that its
    /// own take the place of, and those that it is said to have none of.
    pub(super) fn inherit_members(&mut self) {
        for kind in 0..self.model.kinds.len() {
            self.own_instead_of_standard(kind);
        }
        for left_out in std::mem::take(&mut self.left_out) {
            self.leave_out(&left_out);
        }
        let kinds = (0..).map(KindId).zip(&self.model.kinds);
        let mut special: Vec<(usize, KindId, KindId)> = kinds
            .filter_map(|(kind, record)| Some((kind, record.general?)))
            .map(|(kind, general)| (self.model.lineage(kind).count(), kind, general))
            .collect();
        special.sort_unstable();
        for (_, kind, general) in special {
            let from = self.model.kinds[general.index()].members.clone();
            self.take_over(kind, &from);
        }
    }

    /// Where a house says of a standard part that it has bracket feet, these take the place of
    /// its standard feet.
    fn own_instead_of_standard(&mut self, kind: usize) {
        let members = self.model.kinds[kind].members.clone();
        for standard in &members {
            if !self.is_standard(standard.at) {
                continue;
            }
            let is_kin = |own: &&Member| {
                !self.is_standard(own.at) && self.model.are_kin(own.kind, standard.kind)
            };
            if let Some(own) = members.iter().find(is_kin) {
                self.replaced(&self.written(standard.at), standard.at, own.at);
                let members = &mut self.model.kinds[kind].members;
                members.retain(|member| member.kind != standard.kind);
            }
        }
    }

    /// What "a piece" has, every piece has.
    pub(super) fn share_piece_members(&mut self) {
        let shared = self.model.kinds[PIECE.index()].members.clone();
        for kind in (1..self.model.kinds.len()).filter_map(|at| u16::try_from(at).ok()) {
            let kind = KindId(kind);
            if !self.model.kinds[kind.index()].is_piece {
                continue;
            }
            let has = |part: KindId| {
                let own = self.model.kinds[kind.index()].members.iter();
                own.clone()
                    .any(|member| self.model.are_kin(member.kind, part))
                    || self.is_left_out(kind, part)
            };
            let more: Vec<Member> = shared.iter().filter(|m| !has(m.kind)).cloned().collect();
            self.model.kinds[kind.index()].members.extend(more);
        }
    }

    fn is_left_out(&self, owner: KindId, part: KindId) -> bool {
        let mut lineage = self.model.lineage(owner);
        lineage.any(|owner| {
            let left_out = self.model.kinds[owner.index()].left_out.iter();
            left_out
                .clone()
                .any(|&out| self.model.is_kind_of(part, out))
        })
    }

    /// Puts what a kind inherits before what is its own.
    fn take_over(&mut self, kind: KindId, from: &[Member]) {
        let own = std::mem::take(&mut self.model.kinds[kind.index()].members);
        let mut all: Vec<Member> = Vec::new();
        for inherited in from {
            if self.model.kinds[kind.index()]
                .left_out
                .iter()
                .any(|&out| self.model.is_kind_of(inherited.kind, out))
            {
                continue;
            }
            let instead = own
                .iter()
                .filter(|m| self.model.are_kin(m.kind, inherited.kind));
            let instead: Vec<&Member> = instead.collect();
            if instead.is_empty() {
                all.push(inherited.clone());
            }
            for member in instead {
                if !all.iter().any(|m| m.kind == member.kind) {
                    all.push(member.clone());
                }
            }
        }
        for member in own {
            if !all.iter().any(|m| m.kind == member.kind) {
                all.push(member);
            }
        }
        self.model.kinds[kind.index()].members = all;
    }

    fn leave_out(&mut self, left_out: &LeftOut) {
        let LeftOut { owner, part, at } = *left_out;
        let is_such = |member: &&Member| self.model.is_kind_of(member.kind, part);
        let own = self.model.kinds[owner.index()]
            .members
            .iter()
            .find(is_such)
            .cloned();
        let own_is_dropped = own.is_some();
        if let Some(own) = own {
            match (self.is_standard(own.at), self.is_standard(at)) {
                // A house may leave out what the standard rules have, and the other way.
                (true, false) => {
                    self.replaced(&self.written(own.at), own.at, at);
                    self.model.kinds[owner.index()]
                        .members
                        .retain(|m| m.at != own.at);
                }
                (false, true) => {
                    self.replaced(&self.written(at), at, own.at);
                    return;
                }
                _ => {
                    let line = self.files.line_from(own.at, at);
                    let problem = Problem::HadAndLeftOut {
                        owner: &capital(&self.a_kind(owner)),
                        parts: &self.model.kinds[own.kind.index()].plural.clone(),
                        line: &line,
                    };
                    self.say(Message::new(at, problem).with_also(own.at));
                    return;
                }
            }
        }
        if !self.would_have(owner, part) {
            if own_is_dropped {
                return;
            }
            let general = self.model.kinds[owner.index()].general;
            let general = general.map(|general| self.a_kind(general));
            let problem = Problem::NothingLeftOut {
                owner: &capital(&self.a_kind(owner)),
                part: &self.model.kinds[part.index()].name,
                a_general: general.as_deref(),
            };
            self.say(Message::new(at, problem));
            return;
        }
        self.model.kinds[owner.index()].left_out.push(part);
    }

    /// "a bureau".
    fn a_kind(&self, kind: KindId) -> String {
        a(&self.model.kinds[kind.index()].name)
    }

    /// Whether a kind would have a part if it were not left out.
    fn would_have(&self, owner: KindId, part: KindId) -> bool {
        let piece = self.model.kinds[owner.index()].is_piece.then_some(PIECE);
        let general = self.model.lineage(owner).skip(1).chain(piece);
        general.into_iter().any(|kind| {
            let members = &self.model.kinds[kind.index()].members;
            members
                .iter()
                .any(|member| self.model.is_kind_of(member.kind, part))
        })
    }

    /// Refuses a kind that is built into another kind of the same: "its drawer" could be
    /// either.
    pub(super) fn refuse_kin_within_kin(&mut self) {
        let mut said = Vec::new();
        for (inner, kind) in (0..).map(KindId).zip(&self.model.kinds) {
            let others = self.model.lineage(inner).skip(1).flat_map(|general| {
                let others = self.model.kinds_of(general);
                others.map(move |outer| (general, outer))
            });
            let within = others
                .into_iter()
                .find(|(_, outer)| self.tree.is_within(inner, *outer));
            if let Some((general, outer)) = within {
                said.push((kind.general_at, inner, outer, general));
            }
        }
        for (at, inner, outer, general) in said {
            let name = |kind: KindId| a(&self.model.kinds[kind.index()].name);
            let problem = Problem::KinWithinKin {
                inner: &capital(&name(inner)),
                outer: &name(outer),
                general: &self.model.kinds[general.index()].name.clone(),
            };
            self.say(Message::new(at, problem));
        }
    }
}
