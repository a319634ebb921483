//! What is taken back: wishes, limits, decisions, ticks, parts that were to be left alone.

use super::{Mark, Marked, Parts, Progress, Told, is_among, is_said};
use std::collections::BTreeSet;

impl Progress {
    /// Takes a wish back.
    pub(super) fn forget_wish(&mut self, words: &str) -> Result<(), String> {
        let before = self.wishes.len();
        self.wishes.retain(|told| !is_said(&told.what, words));
        match self.wishes.len() < before {
            true => Ok(()),
            false => Err(format!("No wish of the owner is \"{words}\".")),
        }
    }

    /// Takes a limit back.
    pub(super) fn forget_limit(&mut self, words: &str) -> Result<(), String> {
        let before = self.limits.len();
        self.limits.retain(|told| !is_said(&told.what.words, words));
        match self.limits.len() < before {
            true => Ok(()),
            false => Err(format!("No limit of the owner is \"{words}\".")),
        }
    }

    /// Parts may be touched after all, as line `number` says.
    pub(super) fn free(&mut self, number: usize, parts: Parts, name: &impl Fn(usize) -> String) {
        for left in &mut self.left {
            let gone = |part| is_among(&self.owners, &parts, part);
            left.what.parts.take_away(gone, name);
        }
        self.left.retain(|left| !left.what.parts.indices.is_empty());
        self.freed.push((number, parts));
    }

    /// What the owner had decided is decided no more; nothing is left to say of it, unless it was
    /// decided wherever the job is called for and holds for other parts still.
    pub(super) fn undecide(&mut self, name: &impl Fn(usize) -> String) {
        let sorts = [Mark::Agreed, Mark::Refused];
        self.take_back(&sorts, name);
        let Some((back, before)) = self.marks.split_last() else {
            return;
        };
        let is_left =
            |told: &Told<Marked>| sorts.contains(&told.what.mark) && told.what.job == back.what.job;
        if !before.iter().any(is_left) {
            self.marks.pop();
        }
    }

    /// Takes what the last mark takes back off the marks of these sorts before it. Of what was
    /// said of a job wherever it is called for, a part cannot be taken off: the mark itself says
    /// of which it does not hold.
    pub(super) fn take_back(&mut self, sorts: &[Mark], name: &impl Fn(usize) -> String) {
        let Some((back, before)) = self.marks.split_last_mut() else {
            return;
        };
        let back = &back.what;
        let is_it = |told: &Told<Marked>| {
            sorts.contains(&told.what.mark)
                && told.what.job.to_lowercase() == back.job.to_lowercase()
        };
        let mut gone = BTreeSet::new();
        for told in before.iter_mut().filter(|told| is_it(told)) {
            let parts = &mut told.what.parts;
            if back.parts.indices.is_empty() {
                gone.insert(told.line);
            } else if !parts.indices.is_empty() {
                parts.take_away(|part| is_among(&self.owners, &back.parts, part), name);
                if parts.indices.is_empty() {
                    gone.insert(told.line);
                }
            }
        }
        self.marks
            .retain(|told| !sorts.contains(&told.what.mark) || !gone.contains(&told.line));
    }
}
