//! Names and numbers that stand apart from their noun: "right one", "2 fine", "on the left", "the
//! other three".

use super::{Finder, Mention, Pick, Step};
use crate::line::Word;
use tellmark_language::model::KindId;

impl Finder<'_> {
    /// A name that stands by itself, "right one", of what was spoken of before.
    pub(crate) fn by_name(&self, name: &str, subject: &[usize]) -> Option<Mention> {
        let kind = subject.iter().find_map(|&about| {
            let lineage: Vec<usize> = self.scene.lineage(about).collect();
            lineage
                .into_iter()
                .map(|at| self.scene.parts[at].kind)
                .find(|&kind| self.have_name(&[kind], name))
        })?;
        Some(Mention {
            step: Step {
                kinds: vec![kind],
                picks: vec![Pick::Names(vec![name.to_owned()])],
                is_plural: false,
            },
            outer: Vec::new(),
            words: Vec::new(),
            is_odd: false,
        })
    }

    /// A number that stands by itself, "2 fine", of what was spoken of before.
    pub(crate) fn by_number(&self, number: u64, subject: &[usize]) -> Option<Mention> {
        let kind = subject.iter().find_map(|&about| {
            let lineage: Vec<usize> = self.scene.lineage(about).collect();
            let row = lineage.into_iter().find(|&at| self.scene.parts[at].of > 1);
            row.map(|at| self.scene.parts[at].kind)
        })?;
        Some(Mention {
            step: Step {
                kinds: vec![kind],
                picks: vec![Pick::Numbers(vec![number])],
                is_plural: false,
            },
            outer: Vec::new(),
            words: Vec::new(),
            is_odd: false,
        })
    }

    /// "The others", "the other three", "the rest are": those that stand in a row with what is spoken
    /// of; also where they are spoken of by their noun, "the other legs". It is odd if it is not
    /// certain which.
    pub(crate) fn others(
        &self,
        words: &[Word],
        clause: &[usize],
        mentions: &mut Vec<Mention>,
        subject: &[usize],
    ) {
        let text = |at: usize| words[at].token.text.as_str();
        let says = |wanted: &[&str]| clause.iter().any(|&at| wanted.contains(&text(at)));
        let is_rest = |at: usize| text(at) == "rest" && says(&["are", "all"]) && !says(&["of"]);
        let begins =
            |at: usize| matches!(text(at), "other" | "others" | "remaining") || is_rest(at);
        let Some(at) = clause.iter().copied().find(|&at| begins(at)) else {
            return;
        };
        let Some(first) = subject.first().map(|&first| &self.scene.parts[first]) else {
            return;
        };
        let is_such = |part: &usize| {
            let part = &self.scene.parts[*part];
            (part.owner, part.kind) == (first.owner, first.kind)
        };
        let row = (0..self.scene.parts.len()).filter(is_such);
        let numbers: Vec<u64> = row
            .filter(|part| !subject.contains(part))
            .map(|part| u64::from(self.scene.parts[part].number))
            .collect();
        let next = |at: usize| words.get(at + 1).filter(|_| clause.contains(&(at + 1)));
        let mut own = vec![at];
        let said = next(at).and_then(Word::whole);
        own.extend(said.map(|_| at + 1));
        let last = own.last().copied().unwrap_or(at);
        // "The other one", of two.
        let is_one = said.is_none() && text(at) == "other";
        own.extend(
            next(last)
                .filter(|word| matches!(word.token.text.as_str(), "one" | "ones"))
                .map(|_| last + 1),
        );
        let is_many = next(last).is_some_and(|word| word.token.text == "ones");
        let count = match (said, is_one && !is_many) {
            (Some(said), _) => Some(said),
            (None, true) => Some(1),
            (None, false) => None,
        };
        let is_count = |count: u64| u64::try_from(numbers.len()) == Ok(count);
        let is_odd = numbers.is_empty()
            || !subject.iter().all(is_such)
            || count.is_some_and(|count| !is_count(count));
        match mentions.as_mut_slice() {
            [] => mentions.push(Mention {
                step: Step {
                    kinds: vec![first.kind],
                    picks: vec![Pick::Numbers(numbers)],
                    is_plural: !is_one,
                },
                outer: Vec::new(),
                words: own,
                is_odd,
            }),
            [one] if one.step.kinds.contains(&first.kind) && one.words.contains(&(last + 1)) => {
                let is_plural = one.step.is_plural;
                let is_odd = is_odd && !(is_plural && said.is_none() && !numbers.is_empty());
                one.step.picks = vec![Pick::Numbers(numbers)];
                one.words.extend(own);
                one.is_odd = is_odd;
            }
            _ => {}
        }
    }

    /// Gives a name that stands apart to the mention that can have it.
    pub(crate) fn give_name(&self, mentions: &mut [Mention], name: &str) -> bool {
        for mention in mentions.iter_mut().rev() {
            let steps = std::iter::once(&mut mention.step).chain(&mut mention.outer);
            for step in steps {
                let is_named = step.picks.iter().any(|pick| matches!(pick, Pick::Names(_)));
                if !is_named && self.have_name(&step.kinds, name) {
                    step.picks.retain(|pick| *pick != Pick::Plural);
                    step.picks.push(Pick::Names(vec![name.to_owned()]));
                    return true;
                }
            }
        }
        mentions
            .iter_mut()
            .rev()
            .any(|mention| self.give_owner(mention, name))
    }

    /// "hinge 2 on the left": a name of what it is built into.
    fn give_owner(&self, mention: &mut Mention, name: &str) -> bool {
        let such = mention.step.kinds.iter().flat_map(|&kind| self.such(kind));
        let mut above: Vec<KindId> = Vec::new();
        for part in such {
            for owner in self.scene.lineage(part).skip(1) {
                let kind = self.scene.parts[owner].kind;
                if !above.contains(&kind) && self.have_name(&[kind], name) {
                    above.push(kind);
                }
            }
        }
        let is_said = |kind: &KindId| mention.outer.iter().any(|step| step.kinds.contains(kind));
        above.retain(|kind| !is_said(kind));
        if above.is_empty() {
            return false;
        }
        mention.outer.push(Step {
            kinds: above,
            picks: vec![Pick::Names(vec![name.to_owned()])],
            is_plural: false,
        });
        true
    }
}
