//! Rules that are off to a start nobody meant: a measure of which nobody says how often it
//! is more than its smallest reading is taken to be there, and a rule about little of it
//! then holds before anybody measured.

use std::collections::HashSet;

use crate::message::{Message, Problem};
use crate::model::{Asks, Condition, HowOften, Mark, Predicate, SignId, Test};
use crate::resolve::Reader;
use crate::words::quantity_short;

impl Reader<'_> {
    /// Says so of the house's own rules, once for each measure. `unsaid` has the measures
    /// without a start of their own, and `often` is the one that they have by default.
    pub(super) fn taken_for_smallest(&mut self, unsaid: &HashSet<SignId>, often: HowOften) {
        let mut said = HashSet::new();
        let mut messages = Vec::new();
        let model = self.model.as_said();
        for rule in &model.rules {
            if self.is_standard(rule.at) {
                continue;
            }
            let mut tests = Vec::new();
            collect(&rule.when, &mut tests);
            for test in tests {
                let Predicate::Measure { sign, mark, yes } = test.what else {
                    continue;
                };
                let Asks::HowMuch { least, unit, .. } = model.signs[sign.index()].asks else {
                    continue;
                };
                if is_within(mark, least) != yes || !unsaid.contains(&sign) || !said.insert(sign) {
                    continue;
                }
                let smallest = quantity_short(least, unit);
                let share = 100.0 - f64::from(often.chance.0) / 10.0;
                messages.push((test.at, sign, smallest, format!("{share:.0}")));
            }
        }
        for (at, sign, smallest, share) in messages {
            let how = self.with_look(|look| look.sign_words(sign));
            self.say(Message::new(
                at,
                Problem::TakenForSmallest {
                    how: &how,
                    smallest: &smallest,
                    share: &share,
                },
            ));
        }
    }
}

fn collect<'c>(condition: &'c Condition, tests: &mut Vec<&'c Test>) {
    match condition {
        Condition::All(all) | Condition::Any(all) | Condition::AtLeast(_, all) => {
            all.iter().for_each(|one| collect(one, tests));
        }
        Condition::Test(test) => tests.push(test),
    }
}

fn is_within(mark: Mark, reading: i32) -> bool {
    mark.at_least <= reading && mark.at_most.is_none_or(|most| reading <= most)
}
