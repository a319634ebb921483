//! Tries a change of the rules: does everything come true that came true before,
//! and the sentence that did not?

use std::cell::Cell;
use std::collections::HashSet;

use super::examples::run;
use crate::built::{Built, build_listed};
use crate::fit::{Reached, TOLERANCE};
use crate::rules::Listed;
use tellmark_language::model::{Change, Model};
use tellmark_language::span::Span;
use tellmark_language::{Reading, SourceFile, read};

/// Changes that are tried for one set of rules; each takes as long as a check.
const MOST_TRIALS: usize = 60;

/// What does not come true in some rules.
#[derive(Clone, Debug, Default)]
struct Broken {
    means: HashSet<Span>,
    expects: HashSet<Span>,
}

/// The rules as they are, against which changes are tried.
pub(super) struct Trials<'m> {
    reading: &'m Reading,
    model: &'m Model,
    before: Broken,
    left: Cell<usize>,
}

impl<'m> Trials<'m> {
    /// Begins with what does not come true now.
    pub(super) fn new(reading: &'m Reading, built: &Built) -> Self {
        let model = &reading.model;
        Self {
            reading,
            model,
            before: broken(model, built),
            left: Cell::new(MOST_TRIALS),
        }
    }

    /// The rules with a change made; nothing if too much was tried already, or the
    /// change does not fit.
    pub(super) fn changed(&self, change: impl FnOnce(&mut Model)) -> Option<(Model, Built)> {
        self.left.set(self.left.get().checked_sub(1)?);
        let mut model = self.model.clone();
        change(&mut model);
        built_anew(model)
    }

    /// The rules as they would be read without an entry.
    fn without(&self, entry: Span) -> Option<(Model, Built)> {
        self.left.set(self.left.get().checked_sub(1)?);
        let mut files: Vec<SourceFile> = self.reading.files.to_vec();
        let file = files.get_mut(usize::from(entry.file.0))?;
        // Every other entry stays where it stands.
        let (start, end) = (entry.start as usize, entry.end as usize);
        let blank: String = file
            .text
            .get(start..end)?
            .bytes()
            .map(|byte| if byte == b'\n' { '\n' } else { ' ' })
            .collect();
        file.text.replace_range(start..end, &blank);
        let reading = read(files);
        reading
            .is_usable()
            .then_some(reading.model)
            .and_then(built_anew)
    }

    /// Whether this change makes the sentence at `at` come true (or takes it out),
    /// and nothing else untrue.
    pub(super) fn helps(&self, at: Span, change: impl FnOnce(&mut Model)) -> bool {
        self.costs(at, change).is_some_and(|lost| lost.is_empty())
    }

    /// If this change makes the sentence at `at` come true (or takes it out), and
    /// every other sentence stays true: the expectations that are met no more.
    pub(super) fn costs(&self, at: Span, change: impl FnOnce(&mut Model)) -> Option<Vec<Span>> {
        let (model, built) = self.changed(change)?;
        let after = broken(&model, &built);
        if after.means.contains(&at) || !after.means.is_subset(&self.before.means) {
            return None;
        }
        let lost = after.expects.difference(&self.before.expects);
        Some(lost.copied().collect())
    }

    /// Whether with this change everything stays true that is true now, and what was
    /// built of it is as it should be.
    pub(super) fn keeps(
        &self,
        change: impl FnOnce(&mut Model),
        is_right: impl FnOnce(&Model, &Built) -> bool,
    ) -> bool {
        let Some((model, built)) = self.changed(change) else {
            return false;
        };
        if !is_right(&model, &built) {
            return false;
        }
        let after = broken(&model, &built);
        after.means.is_subset(&self.before.means) && after.expects.is_subset(&self.before.expects)
    }

    /// The rules without a change of the house; nothing if that makes a sentence
    /// untrue that is true.
    pub(super) fn undo(&self, change: &'m Change) -> Option<Undo<'m>> {
        let (model, built) = self.without(change.now)?;
        let after = broken(&model, &built);
        after.means.is_subset(&self.before.means).then(|| Undo {
            change,
            is_free: after.expects.is_subset(&self.before.expects),
            untrue: after.means,
            model,
            built,
        })
    }
}

/// The rules without a change of the house.
pub(super) struct Undo<'m> {
    /// The change.
    pub(super) change: &'m Change,
    /// The sentences that are still not true.
    pub(super) untrue: HashSet<Span>,
    /// Whether no example is lost with it.
    pub(super) is_free: bool,
    /// The rules, and what was built of them.
    pub(super) model: Model,
    pub(super) built: Built,
}

fn built_anew(model: Model) -> Option<(Model, Built)> {
    let listed = Listed::of(&model).ok()?;
    let built = build_listed(&model, listed, &|_| String::new()).ok()?;
    Some((model, built))
}

/// Whether a sentence comes to something else than its figure.
pub(super) fn is_missed(model: &Model, reached: &Reached) -> bool {
    let aim = f64::from(model.means[reached.means].strength.chance.0) / 1000.0;
    (reached.reached - aim).abs() > TOLERANCE
}

fn broken(model: &Model, built: &Built) -> Broken {
    let reached = built.reached(model);
    let means = reached
        .iter()
        .filter(|reached| is_missed(model, reached))
        .map(|reached| model.means[reached.means].at)
        .collect();
    let expects = run(model, built)
        .iter()
        .filter_map(|unmet| {
            let example = model.examples.get(unmet.example)?;
            Some(
                example
                    .expect
                    .get(unmet.expect)
                    .map_or(example.at, |e| e.at),
            )
        })
        .collect();
    Broken { means, expects }
}
