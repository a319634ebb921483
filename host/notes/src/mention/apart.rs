//! Names and numbers that stand apart from their noun: "right one", "2 fine", "on the left".

use super::{Finder, Mention, Pick, Step};
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
