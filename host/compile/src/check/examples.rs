//! Runs the examples of a set of rules.

use std::collections::HashSet;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

use tellmark_core::inspection::Inspection;
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Bound, NONE, Pack};
use tellmark_core::plan::{Status, Task};
use tellmark_core::truth::Truth;

use crate::built::Built;
use crate::room::Room;
use crate::set_up::{Case, Caution, SetUp, WorkRoom, found_out, resolve};
use tellmark_language::model::{
    Example, Expect, Expected, Fact, Found, HowOften, Model, PartRef, StateId, Strength, Sure,
};
use tellmark_language::words;

/// An expectation that was not met.
#[derive(Clone, Debug, PartialEq)]
pub struct Unmet {
    /// Index of the example.
    pub example: usize,
    /// Index of the expectation in it.
    pub expect: usize,
    /// What was expected, in words.
    pub expected: String,
    /// What was worked out, in words.
    pub found: String,
}

/// Runs every example, side by side on what processors there are.
#[must_use]
pub fn run(model: &Model, built: &Built) -> Vec<Unmet> {
    let Ok(pack) = built.bytes.open() else {
        return Vec::new();
    };
    let next = AtomicUsize::new(0);
    let some = || {
        let mut unmet = Vec::new();
        loop {
            let i = next.fetch_add(1, Ordering::Relaxed);
            let Some(example) = model.examples.get(i) else {
                return unmet;
            };
            run_one(model, built, pack, i, example, &mut unmet);
        }
    };
    let helpers = thread::available_parallelism().map_or(0, |n| n.get() - 1);
    let mut unmet = thread::scope(|scope| {
        let helpers: Vec<_> = (0..helpers.min(model.examples.len() / FEW))
            .map(|_| scope.spawn(some))
            .collect();
        let mut unmet = some();
        for helper in helpers {
            match helper.join() {
                Ok(found) => unmet.extend(found),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        unmet
    });
    unmet.sort_by_key(|u| (u.example, u.expect));
    unmet
}

/// Examples for which it is worth starting a thread.
const FEW: usize = 8;

fn run_one(
    model: &Model,
    built: &Built,
    pack: Pack<'_>,
    index: usize,
    example: &Example,
    unmet: &mut Vec<Unmet>,
) {
    let facts: Vec<&Fact> = example.given.iter().collect();
    let set_up = SetUp {
        model,
        built,
        order: &example.piece,
        facts: &facts,
        later: None,
    };
    let mut room = Room::<UFloat>::default();
    let Ok(mut case) = set_up.case(pack, &mut room) else {
        unmet.push(Unmet {
            example: index,
            expect: 0,
            expected: words::piece_order(model, &example.piece),
            found: "a piece that the rules do not allow".to_owned(),
        });
        return;
    };
    let clash = case.inspection.settle().is_err();
    let mut runner = Runner {
        set_up: &set_up,
        case: &mut case,
        pack,
        planned: None,
        cautions: None,
    };
    for (i, expect) in example.expect.iter().enumerate() {
        let outcome = if clash {
            Err((
                runner.words(expect),
                "that the answers given cannot all be true".to_owned(),
            ))
        } else {
            runner.check(expect)
        };
        if let Err((expected, found)) = outcome {
            unmet.push(Unmet {
                example: index,
                expect: i,
                expected,
                found,
            });
        }
    }
}

struct Runner<'r, 'm> {
    set_up: &'r SetUp<'r>,
    case: &'r mut Case<'m, UFloat>,
    pack: Pack<'r>,
    planned: Option<HashSet<u16>>,
    cautions: Option<Vec<Caution>>,
}

type Outcome = Result<(), (String, String)>;

impl Runner<'_, '_> {
    fn words(&self, expect: &Expect) -> String {
        let model = self.set_up.model;
        match &expect.what {
            Expected::Plan { job, yes } => {
                let no = if *yes { "" } else { "no " };
                format!("{no}plan to {}", model.jobs[job.index()].name)
            }
            Expected::TakeCare(yes) => format!("{}take care", if *yes { "" } else { "no " }),
            Expected::Stop(yes) => format!("{}stop", if *yes { "" } else { "no " }),
            Expected::NoReason(part, state) => format!(
                "no reason for \"{}\"",
                words::state_phrase(model, &words::part_name(model, part), *state, true)
            ),
            Expected::Chance(part, state, often) => {
                let (low, high) = band(model, often);
                format!(
                    "\"{}\" {} ({} to {} in 100)",
                    words::state_phrase(model, &words::part_name(model, part), *state, true),
                    words::how_often(often),
                    in_100(low),
                    in_100(high)
                )
            }
            Expected::NotEarlier(year) => format!("date not earlier than {year}"),
            Expected::NotLater(year) => format!("date not later than {year}"),
        }
    }

    fn check(&mut self, expect: &Expect) -> Outcome {
        let found = match &expect.what {
            Expected::Plan { job, yes } => {
                let planned = self.planned().contains(&job.0);
                (planned != *yes).then(|| planned_words(planned))
            }
            Expected::TakeCare(yes) => self.caution(false, *yes),
            Expected::Stop(yes) => self.caution(true, *yes),
            Expected::NoReason(part, state) => {
                let (Some(chance), Some(before)) =
                    (self.at_their_word(part, *state), self.before(part, *state))
                else {
                    return Err((self.words(expect), "no such part".to_owned()));
                };
                (chance > before + NO_REASON).then(|| {
                    format!(
                        "{}, up from {} before anything was found",
                        words::figure(chance),
                        words::figure(before)
                    )
                })
            }
            Expected::Chance(part, state, often) => {
                let Some(chance) = self.chance(part, *state) else {
                    return Err((self.words(expect), "no such part".to_owned()));
                };
                let (low, high) = band(self.set_up.model, often);
                (chance < low || chance > high).then(|| {
                    let before = self.before(part, *state).unwrap_or_default();
                    format!(
                        "{} (it is {} before anything is found)",
                        outside(chance, low, high),
                        words::figure(before)
                    )
                })
            }
            Expected::NotEarlier(year) => self.date(true, *year),
            Expected::NotLater(year) => self.date(false, *year),
        };
        match found {
            None => Ok(()),
            Some(found) => Err((self.words(expect), found)),
        }
    }

    fn chance(&mut self, part: &PartRef, state: StateId) -> Option<f64> {
        chance_of(self.set_up, &mut self.case.inspection, part, state)
    }

    /// The chance on the same piece with nothing found.
    fn before(&mut self, part: &PartRef, state: StateId) -> Option<f64> {
        let mut room = Room::<UFloat>::default();
        let mut bare = self.set_up.bare(self.pack, &mut room).ok()?;
        chance_of(self.set_up, &mut bare, part, state)
    }

    /// The chance with every finding taken at its word: no slip of the eye.
    fn at_their_word(&mut self, part: &PartRef, state: StateId) -> Option<f64> {
        let facts: Vec<Fact> = self.set_up.facts.iter().map(|f| certain(f)).collect();
        let facts: Vec<&Fact> = facts.iter().collect();
        let set_up = SetUp {
            facts: &facts,
            ..*self.set_up
        };
        let mut room = Room::<UFloat>::default();
        let mut case = set_up.case(self.pack, &mut room).ok()?;
        chance_of(&set_up, &mut case.inspection, part, state)
    }

    /// The jobs that are planned: called for, or needed by what is called for, or to follow it;
    /// but not what would find out what is known.
    fn planned(&mut self) -> &HashSet<u16> {
        let (case, pack, set_up) = (&mut *self.case, self.pack, self.set_up);
        self.planned.get_or_insert_with(|| {
            let mut room = WorkRoom::of(&pack);
            let found_out = found_out(set_up, case);
            let status = |job, part| match found_out.contains(&(usize::from(job), part)) {
                true => Status::Done,
                false => Status::ToDo,
            };
            if room.grow(case, &status, &[]).is_err() {
                return HashSet::new();
            }
            let order = case.inspection.order(room.memory(), status, &[]);
            let tasks: Vec<Task> =
                order.map_or_else(|_| Vec::new(), |order| order.tasks().to_vec());
            let sure = tasks.iter().filter(|task| task.truth == Truth::True);
            sure.map(|task| task.job).collect()
        })
    }

    fn caution(&mut self, stop: bool, yes: bool) -> Option<String> {
        let (case, set_up) = (&mut *self.case, self.set_up);
        let cautions = self.cautions.get_or_insert_with(|| case.cautions(set_up));
        let raised: Vec<_> = cautions.iter().filter(|c| c.stop == stop).collect();
        if raised.is_empty() != yes {
            return None;
        }
        Some(match raised.first() {
            None => "none".to_owned(),
            Some(caution) => format!("\"{}\" for {}", caution.text, caution.parts.join(", ")),
        })
    }

    /// What the datings that hold say of the piece, every part taken for
    /// original.
    fn date(&mut self, not_earlier: bool, year: u16) -> Option<String> {
        let pack = *self.case.inspection.pack();
        let mut years = Vec::new();
        for dating in (0..pack.datings()).map(|d| pack.dating(d)) {
            let says = match dating.bound {
                Bound::NotEarlier(says) if not_earlier => says,
                Bound::NotLater(says) if !not_earlier => says,
                _ => continue,
            };
            for part in 0..self.case.inspection.piece().parts().len() {
                let Some(record) = self.case.inspection.piece().part(part) else {
                    break;
                };
                let kind = pack.place(usize::from(record.place)).kind;
                let is_piece = dating.subject == 0 && record.owner == NONE;
                if (kind == dating.subject || is_piece)
                    && self.case.inspection.holds(dating.condition, part) == Some(Truth::True)
                {
                    years.push(says);
                }
            }
        }
        let (found, met, words) = if not_earlier {
            let latest = years.into_iter().max();
            (
                latest,
                latest.is_some_and(|y| y >= year),
                "not earlier than",
            )
        } else {
            let earliest = years.into_iter().min();
            (
                earliest,
                earliest.is_some_and(|y| y <= year),
                "not later than",
            )
        };
        if met {
            return None;
        }
        Some(found.map_or("no date".to_owned(), |y| format!("{words} {y}")))
    }
}

fn chance_of(
    set_up: &SetUp<'_>,
    inspection: &mut Inspection<'_, '_, UFloat>,
    part: &PartRef,
    state: StateId,
) -> Option<f64> {
    let parts = resolve(set_up.built, inspection, part);
    let number = set_up.built.states.number(state);
    let chance = inspection.chance(*parts.first()?, number).ok()?;
    Some(chance.as_f64())
}

/// The same finding, known for certain.
fn certain(fact: &Fact) -> Fact {
    let mut fact = fact.clone();
    if let Found::State { sure, .. } = &mut fact.found
        && *sure == Sure::Ordinary
    {
        *sure = Sure::Certain;
    }
    fact
}

/// How much a chance may rise and still count as no reason.
const NO_REASON: f64 = 0.01;
/// How far a counted expectation ("in 7 of 10 cases") may be missed.
const COUNTED: f64 = 0.05;

fn planned_words(planned: bool) -> String {
    if planned {
        "that it is planned"
    } else {
        "that it is not planned"
    }
    .to_owned()
}

/// A bound of a band as a share of 100: "97", "87.5".
fn in_100(bound: f64) -> String {
    let tenths = (bound * 1000.0).round() / 10.0;
    format!("{tenths}")
}

/// A chance outside a band, with as many digits as it takes to see that.
fn outside(chance: f64, low: f64, high: f64) -> String {
    let short = (chance * 100.0).round() / 100.0;
    if short < low || short > high {
        return words::figure(chance);
    }
    let shown = |digits: usize| format!("{:.digits$}", chance * 100.0);
    let is_seen = |text: &String| {
        let shown = text.parse::<f64>().unwrap_or(0.0) / 100.0;
        shown < low || shown > high
    };
    let seen = (1..6).map(shown).find(is_seen);
    format!("{} in 100", seen.unwrap_or_else(|| shown(6)))
}

/// The band that an expectation accepts: half way to the neighbouring words.
#[must_use]
pub fn band(model: &Model, often: &HowOften) -> (f64, f64) {
    let chance = f64::from(often.chance.0) / 1000.0;
    let Some(word) = often.word else {
        return ((chance - COUNTED).max(0.0), (chance + COUNTED).min(1.0));
    };
    let of = |strength: Strength| {
        model
            .scale
            .iter()
            .find(|(s, _)| *s == strength)
            .map(|(_, t)| f64::from(t.0) / 1000.0)
    };
    let words = [
        Strength::ByDefinition,
        Strength::Always,
        Strength::NearlyAlways,
        Strength::Usually,
        Strength::Often,
        Strength::Sometimes,
        Strength::Rarely,
        Strength::HardlyEver,
    ];
    let at = words.iter().position(|w| *w == word).unwrap_or(0);
    let above = at.checked_sub(1).and_then(|i| of(words[i]));
    let below = words.get(at + 1).and_then(|w| of(*w));
    let high = match above {
        Some(above) if word != Strength::Always => f64::midpoint(chance, above),
        _ => 1.0,
    };
    let low = below.map_or(0.0, |below| f64::midpoint(chance, below));
    (low, high)
}

#[cfg(test)]
mod tests {
    use super::{in_100, outside};

    #[test]
    fn what_lies_outside_is_seen_to_lie_outside() {
        assert_eq!(outside(0.5, 0.875, 0.97), "50 in 100");
        assert_eq!(outside(0.972, 0.875, 0.97), "97.2 in 100");
        assert_eq!(outside(0.970_04, 0.875, 0.97), "97.004 in 100");
        assert_eq!(outside(0.874_6, 0.875, 0.97), "87 in 100");
    }

    #[test]
    fn a_bound_has_the_digits_it_needs() {
        assert_eq!(in_100(0.875), "87.5");
        assert_eq!(in_100(0.97), "97");
        assert_eq!(in_100(0.0), "0");
    }
}
