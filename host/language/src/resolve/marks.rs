//! How many marks the rules put on each measure.

use std::collections::{HashMap, HashSet};

use tellmark_core::limits::MAX_MARKS;

use crate::message::{Message, Problem};
use crate::model::{Condition, Mark, Nature, Predicate, SignId, Ticks};
use crate::resolve::Reader;
use crate::span::Span;

/// The marks on each measure, as far as they are known.
#[derive(Default)]
struct Marks {
    known: HashMap<SignId, HashSet<Ticks>>,
    /// The first mark too many of each measure.
    over: Vec<(SignId, Span)>,
}

impl Marks {
    fn add(&mut self, sign: SignId, mark: Mark, at: Span) {
        let known = self.known.entry(sign).or_default();
        let beyond = mark.at_most.map(|at_most| at_most.saturating_add(1));
        for end in [Some(mark.at_least), beyond].into_iter().flatten() {
            if known.insert(end) && known.len() == MAX_MARKS + 1 {
                self.over.push((sign, at));
            }
        }
    }

    fn add_all(&mut self, condition: &Condition) {
        match condition {
            Condition::All(all) | Condition::Any(all) | Condition::AtLeast(_, all) => {
                for one in all {
                    self.add_all(one);
                }
            }
            Condition::Test(test) => {
                if let Predicate::Measure { sign, mark, .. } = test.what {
                    self.add(sign, mark, test.at);
                }
            }
        }
    }
}

impl Reader<'_> {
    /// Refuses more marks on one measure than are told apart when a check is
    /// weighed. Those of plans and cautions are free: they only compare.
    pub(super) fn limit_marks(&mut self) {
        let mut marks = Marks::default();
        for state in &self.model.states {
            if let Nature::CountsAs { sign, mark } = state.nature {
                marks.add(sign, mark, state.at);
            }
        }
        for rule in &self.model.rules {
            marks.add_all(&rule.when);
            if let Some(unless) = &rule.unless {
                marks.add_all(unless);
            }
        }
        for (sign, at) in marks.over {
            let words = self.with_look(|look| look.sign_words(sign));
            self.say(Message::new(
                at,
                Problem::TooManyMarks {
                    sign: &words,
                    most: MAX_MARKS,
                },
            ));
        }
    }
}
