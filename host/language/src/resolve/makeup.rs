//! What a part has, and how many of them.

use std::cell::RefCell;

use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::message::{Message, Problem};
use crate::model::{KindId, Member};
use crate::resolve::Reader;
use crate::resolve::tree::{Tree, circle};
use crate::syntax::NewMember;
use crate::vocab::key;
use crate::words::a;

impl Reader<'_> {
    /// `A fall has 2 to 3 hinges.`
    pub(super) fn makeups(&mut self, entries: &[Entry]) {
        for entry in entries.iter().filter(|e| e.opener == Opener::Makeup) {
            self.mending(entry, Self::makeup);
        }
        self.refuse_circles();
        self.inherit_members();
        self.refuse_circles();
        self.tree = Tree::of(&self.model);
        self.refuse_kin_within_kin();
        self.tell_of_second_places();
    }

    /// Tells of parts that a house gives to something which has such parts elsewhere by the
    /// standard rules: a chest whose feet belong to its base.
    fn tell_of_second_places(&mut self) {
        let mut said = Vec::new();
        for (owner, kind) in (1..).map(KindId).zip(self.model.kinds.iter().skip(1)) {
            for new in kind.members.iter().filter(|m| !self.is_standard(m.at)) {
                let is_such = |part: KindId| self.model.are_kin(part, new.kind);
                let inside = kind.members.iter().find_map(|holder| {
                    let mut parts = (1..).map(KindId).take(self.model.kinds.len() - 1);
                    let such =
                        parts.find(|&part| is_such(part) && self.tree.is_within(part, holder.kind));
                    let is_old = self.is_standard(holder.at) && holder.kind != new.kind;
                    such.filter(|_| is_old).map(|such| (holder.kind, such))
                });
                said.extend(inside.map(|(holder, such)| (new.at, owner, holder, such, new.kind)));
            }
        }
        for (at, owner, holder, such, new) in said {
            let notes = RefCell::new(Vec::new());
            let look = self.look(&notes);
            let message = look.second_place(at, (owner, holder), (such, new));
            self.say(message);
        }
    }

    fn refuse_circles(&mut self) {
        let mut guard = 0;
        while let Some(round) = circle(&self.model) {
            self.refuse_circle(&round);
            guard += 1;
            if guard > 100 {
                break;
            }
        }
    }

    fn makeup(&mut self, entry: &Entry) {
        let Some((owner, members)) = self.parse(entry, declare::makeup) else {
            return;
        };
        let _ = self.particulars(entry);
        let owner = self.with_look(|look| look.plain(&owner));
        let Some(owner) = self.keep(entry, owner) else {
            return;
        };
        let mut kinds = Vec::new();
        for member in &members {
            let found = self.with_look(|look| look.plain(&member.noun));
            kinds.push(self.keep(entry, found));
        }
        if kinds.iter().filter(|k| k.is_none()).count() == 1 && self.can_be_mended(entry) {
            return;
        }
        for (member, kind) in members.iter().zip(kinds) {
            if let Some(kind) = kind {
                self.new_member(entry, owner.kind, kind.kind, member);
            }
        }
    }

    /// Whether the last thing said is a slip of this entry that will be put
    /// right.
    fn can_be_mended(&self, entry: &Entry) -> bool {
        self.messages
            .last()
            .and_then(|m| m.fix.as_ref())
            .is_some_and(|fix| fix.sure && entry.with(fix).is_some())
    }

    /// Takes the last link of a circle out, and says so.
    fn refuse_circle(&mut self, round: &[KindId]) {
        let [.., owner, part] = round[..] else { return };
        let name = |k: &KindId| a(&self.model.kinds[k.index()].name);
        let links: Vec<String> = round
            .windows(2)
            .map(|pair| format!("{} has {}", name(&pair[0]), name(&pair[1])))
            .collect();
        let text = crate::words::capital(&links.join(", "));
        let members = &mut self.model.kinds[owner.index()].members;
        let Some(index) = members.iter().position(|m| m.kind == part) else {
            return;
        };
        let at = members[index].at;
        members.remove(index);
        self.say(Message::new(at, Problem::PartOfItself { circle: &text }));
    }

    fn new_member(&mut self, entry: &Entry, owner: KindId, part: KindId, new: &NewMember) {
        if self.leaves_out(owner, part, new) {
            return;
        }
        let standard = self.is_standard(entry.at);
        let usual = new.usual.unwrap_or(new.most);
        let why = if new.least > new.most {
            Some("the smaller number comes first".to_owned())
        } else if new.most == 0 {
            Some("say nothing about what it never has".to_owned())
        } else if new.most > 250 {
            Some("that is more than 250".to_owned())
        } else if !(new.least..=new.most).contains(&usual) {
            Some(format!("usually {usual} lies outside"))
        } else if !new.names.is_empty() && new.names.len() != new.most as usize {
            Some(format!(
                "there are {} names for {}",
                new.names.len(),
                new.most
            ))
        } else {
            None
        };
        if let Some(why) = why {
            let words = self.written(new.at);
            self.fail(
                entry,
                Message::new(
                    new.at,
                    Problem::BadNumberOfParts {
                        words: &words,
                        why: &why,
                    },
                ),
            );
            return;
        }
        let before = self.model.kinds[owner.index()]
            .members
            .iter()
            .position(|m| m.kind == part);
        let names: Vec<String> = new.names.iter().map(|n| self.written(n.at)).collect();
        for name in &names {
            self.vocab.names.add(&key(name), ());
        }
        let small = |n: u32| u8::try_from(n).unwrap_or(u8::MAX);
        let member = Member {
            kind: part,
            least: small(new.least),
            most: small(new.most),
            usual: small(usual),
            names,
            from: new.from,
            at: new.at,
        };
        match before {
            Some(index) => {
                let old = self.model.kinds[owner.index()].members[index].at;
                // A house may have other numbers than the standard rules.
                if self.is_standard(old) && !standard {
                    self.replaced(&self.written(old), old, entry.at);
                    self.model.kinds[owner.index()].members[index] = member;
                } else if !self.is_standard(old) && standard {
                    self.replaced(&self.written(new.at), entry.at, old);
                } else {
                    let line = self.files.line_from(old, new.at);
                    self.fail(
                        entry,
                        Message::new(new.at, Problem::RepeatedSentence { line: &line })
                            .with_also(old),
                    );
                }
            }
            None => self.model.kinds[owner.index()].members.push(member),
        }
    }
}
