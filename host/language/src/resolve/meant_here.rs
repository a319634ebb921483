//! What a general word means on one piece: where its feet are bracket feet, "foot 2" is
//! one of these, and "the chest" is the bureau.

use crate::grammar::answer::{About, Answer, Many, OnePart, OneStep};
use crate::message::Problem;
use crate::model::{Fact, KindId, PartRef};
use crate::resolve::look::{Done, Look, refuse};
use crate::span::Span;
use crate::syntax::Name;
use crate::words::list;

impl Look<'_> {
    /// An answer as facts: one, but where "every foot" is said of feet of several kinds.
    pub fn facts(&self, answer: &Answer, at: Span) -> Done<Vec<Fact>> {
        let part = match answer {
            Answer::Found { part, .. } => part,
            Answer::Open { about, .. } => part_of(about),
        };
        let kinds = self.every_kind(part)?;
        if kinds.len() < 2 {
            return Ok(vec![self.fact(answer, at)?]);
        }
        let facts = kinds.into_iter().map(|kind| {
            let mut one = answer.clone();
            let part = match &mut one {
                Answer::Found { part, .. } => part,
                Answer::Open { about, .. } => part_of_mut(about),
            };
            if let Some(step) = part.steps.first_mut() {
                step.noun.text = crate::vocab::key(self.name(kind));
                step.amount = step.amount.or(Some((Many::Every, step.at)));
            }
            self.fact(&one, at)
        });
        facts.collect()
    }

    /// A part that is named by itself: of one kind, since what is said of it stands in one
    /// line.
    pub fn part_alone(&self, part: &OnePart) -> Done<PartRef> {
        let kinds = self.every_kind(part)?;
        match (part.steps.first(), kinds.len()) {
            (Some(step), 2..) => self.which_kind(step, true, &kinds),
            _ => Ok(self.part(part)?.part),
        }
    }

    /// The kinds that the innermost step speaks of, where it speaks of every one.
    fn every_kind(&self, part: &OnePart) -> Done<Vec<KindId>> {
        let (Some((first, owners)), Some(piece)) = (part.steps.split_first(), self.piece) else {
            return Ok(Vec::new());
        };
        let found = self.noun(&first.noun)?;
        if first.amount.is_none() && !found.plural {
            return Ok(Vec::new());
        }
        let owner = self.kinds_meant(owners)?.first().map(|(kind, _)| *kind);
        Ok(self.kinds_here(owner.unwrap_or(piece), found.kind))
    }

    /// The kind of each step, and whether a plural was written.
    pub(super) fn kinds_meant(&self, steps: &[OneStep]) -> Done<Vec<(KindId, bool)>> {
        let mut kinds: Vec<(KindId, bool)> = Vec::new();
        let mut within = self.piece;
        for (index, step) in steps.iter().enumerate().rev() {
            let found = self.plain(&step.noun)?;
            let mut kind = found.kind;
            if let Some(owner) = within {
                let every = step.amount.is_some() || found.plural;
                let here = self.kinds_here(owner, kind);
                kind = match here[..] {
                    [one] => one,
                    _ if every && index > 0 => return self.which_kind(step, every, &here),
                    _ if here.contains(&kind) => kind,
                    _ => return self.which_kind(step, every, &here),
                };
                within = Some(kind);
            }
            kinds.insert(0, (kind, found.plural));
        }
        Ok(kinds)
    }

    /// The kinds that a word can mean within a kind of this piece; the word's own if there
    /// are none.
    fn kinds_here(&self, within: KindId, kind: KindId) -> Vec<KindId> {
        if let Some(piece) = self.piece
            && self.tree.is_kind_of(piece, kind)
        {
            return vec![piece];
        }
        let kinds = self.model.kinds_of(kind);
        let here: Vec<KindId> = kinds
            .filter(|&kind| self.tree.is_within(kind, within))
            .collect();
        if here.is_empty() { vec![kind] } else { here }
    }

    /// The member of a kind that a word means: its own kind, or the only kind of it.
    pub(super) fn member_meant(&self, owner: KindId, noun: &Name, kind: KindId) -> Done<KindId> {
        let members = self.tree.members(owner).iter().map(|member| member.kind);
        let such: Vec<KindId> = members.filter(|&m| self.tree.is_kind_of(m, kind)).collect();
        match such[..] {
            [] => Ok(kind),
            [one] => Ok(one),
            _ if such.contains(&kind) => Ok(kind),
            _ => self.several_kinds(noun, &such, |name, _| format!("has 2 {name}")),
        }
    }

    /// The kind of part that is ordered with a piece.
    pub(super) fn ordered(&self, piece: KindId, noun: &Name, kind: KindId) -> Done<KindId> {
        let kinds = self.model.kinds_of(kind);
        let here: Vec<KindId> = kinds
            .filter(|&kind| self.tree.is_within(kind, piece))
            .collect();
        match here[..] {
            [] => Ok(kind),
            [one] => Ok(one),
            _ if here.contains(&kind) => Ok(kind),
            _ => self.several_kinds(noun, &here, |name, _| format!("2 {name}")),
        }
    }

    fn which_kind<T>(&self, step: &OneStep, every: bool, kinds: &[KindId]) -> Done<T> {
        self.several_kinds(&step.noun, kinds, |_, name| match step.number {
            Some((number, _)) => format!("{name} {number}"),
            None if every => format!("every {name}"),
            None => format!("the {name}"),
        })
    }

    /// Says that a word could mean parts of several kinds; `example` is given the plural
    /// and the name of one of them.
    fn several_kinds<T>(
        &self,
        noun: &Name,
        kinds: &[KindId],
        example: impl Fn(&str, &str) -> String,
    ) -> Done<T> {
        let plurals: Vec<String> = kinds
            .iter()
            .map(|&kind| self.plural(kind).to_owned())
            .collect();
        let last = kinds.last().copied().unwrap_or(crate::model::PIECE);
        refuse(
            noun.at,
            Problem::WhichKind {
                word: &noun.text,
                kinds: &list(&plurals),
                example: &example(self.plural(last), self.name(last)),
            },
        )
    }
}

fn part_of(about: &About) -> &OnePart {
    match about {
        About::Whether(part, _)
        | About::HowMuch(_, part, _)
        | About::Which(_, part)
        | About::Count(_, part) => part,
    }
}

fn part_of_mut(about: &mut About) -> &mut OnePart {
    match about {
        About::Whether(part, _)
        | About::HowMuch(_, part, _)
        | About::Which(_, part)
        | About::Count(_, part) => part,
    }
}
