//! Random answers about a piece: from a few to nearly everything that can be
//! asked, in every form.
//!
//! Most sets are drawn from one possible world, with some slips, as answers on
//! a real piece would be; the others are any answers at all, some of which
//! cannot all be true.

use serde_json::{Value, json};
use tellmark_compile::ground::Ground;
use tellmark_core::pack::{Form, Pack, Trial};
use tellmark_core::piece::{Answer, Eye, Judged, Than};

use super::Subject;
use crate::dice::Dice;

/// An answer about a part: part, ask, answer.
pub type Given = (usize, u16, Answer);

/// One set of answers.
#[must_use]
pub fn draw(subject: &Subject<'_>, dice: &mut Dice) -> Vec<Given> {
    let pack = subject.built.bytes.open().expect("a fresh pack opens");
    let world = dice.chance(75).then(|| world(&subject.ground, dice));
    let mut open: Vec<(usize, u16)> = Vec::new();
    for (part, record) in subject.ground.parts.iter().enumerate() {
        open.extend(pack.asks_of(record.place).map(|ask| (part, ask)));
    }
    let wanted = match dice.below(6) {
        0 => 1 + dice.below(5),
        1 => 1 + open.len() / 20,
        2 => 1 + open.len() / 8,
        3 => open.len() / 3,
        4 => open.len() * 2 / 3,
        _ => open.len() * 19 / 20,
    };
    let mut given = Vec::new();
    while given.len() < wanted && !open.is_empty() {
        let (part, ask) = open.swap_remove(dice.below(open.len()));
        let about = About {
            subject,
            pack: &pack,
            world: world.as_deref(),
            part,
            ask,
        };
        given.push((part, ask, about.answer(dice)));
    }
    given
}

/// A world, drawn as the rules would have it.
fn world(ground: &Ground, dice: &mut Dice) -> Vec<bool> {
    let mut world = vec![None; ground.states.len()];
    for state in 0..ground.states.len() {
        settle(ground, state, &mut world, dice);
    }
    world.into_iter().map(Option::unwrap_or_default).collect()
}

fn settle(ground: &Ground, state: usize, world: &mut Vec<Option<bool>>, dice: &mut Dice) {
    if world[state].is_some() {
        return;
    }
    let record = &ground.states[state];
    let mut holds = throw(record.own, dice);
    for cause in &record.causes {
        cause
            .when
            .states(&mut |other| settle(ground, other, world, dice));
        let known = |other: usize| world[other].unwrap_or_default();
        if cause.when.holds(&known) && throw(cause.weight, dice) {
            holds = true;
        }
    }
    world[state] = Some(holds);
}

fn throw(chance: f64, dice: &mut Dice) -> bool {
    // The upper 53 bits of a throw, as a fraction of one.
    #[allow(clippy::cast_precision_loss)]
    let fraction = (dice.roll() >> 11) as f64 / (1_u64 << 53) as f64;
    fraction < chance
}

/// One ask about one part.
struct About<'s> {
    subject: &'s Subject<'s>,
    pack: &'s Pack<'s>,
    world: Option<&'s [bool]>,
    part: usize,
    ask: u16,
}

impl About<'_> {
    fn answer(&self, dice: &mut Dice) -> Answer {
        match self.pack.ask(usize::from(self.ask)).form {
            Form::Whether => {
                let truth = self.truth().unwrap_or_else(|| dice.chance(50));
                match dice.below(20) {
                    0 => Answer::CannotSee,
                    1 => Answer::Seen(!truth),
                    2 => Answer::Looks(!truth),
                    3..=7 => Answer::Looks(truth),
                    8..=10 => Answer::Certain(truth),
                    _ => Answer::Seen(truth),
                }
            }
            Form::Which { values, .. } => self.value(usize::from(values), dice),
            Form::Degrees { values, .. } => self.degree(values, dice),
            Form::HowMuch {
                least, most, gauge, ..
            } => self.reading(least, most, i32::from(gauge), dice),
            Form::HowMany { part } => Answer::Reading(self.counted(part)),
        }
    }

    /// The states of this part that the ask decides, and whether each holds.
    fn decided(&self) -> impl Iterator<Item = (Trial, bool)> + '_ {
        let states = self.subject.ground.states.iter().enumerate();
        states
            .filter(|(_, state)| state.part == self.part && state.in_use)
            .filter_map(|(i, state)| {
                let row = &self.subject.built.states.states[state.row];
                let holds = *self.world?.get(i)?;
                let ask = self.ask;
                if row.ask == ask {
                    Some((row.trial, holds))
                } else {
                    (row.whether == Some(ask)).then_some((Trial::Yes, holds))
                }
            })
    }

    fn truth(&self) -> Option<bool> {
        self.decided()
            .find(|(trial, _)| *trial == Trial::Yes)
            .map(|(_, holds)| holds)
    }

    fn degree(&self, values: u16, dice: &mut Dice) -> Answer {
        let marks = self.decided().filter_map(|(trial, holds)| match trial {
            Trial::Within(from, _) if holds => u8::try_from(from).ok(),
            _ => None,
        });
        let degree = if dice.chance(80) {
            marks.max().unwrap_or(0)
        } else {
            u8::try_from(dice.below(usize::from(values))).unwrap_or(0)
        };
        let than = *dice.pick(&[Than::Just, Than::Just, Than::AtLeast, Than::LessThan]);
        let eye = *dice.pick(&[Eye::Ordinary, Eye::Ordinary, Eye::Looks, Eye::Certain]);
        let judged = match (than, degree) {
            (Than::AtLeast | Than::LessThan, 0) => Judged {
                degree,
                than: Than::Just,
                eye,
            },
            _ => Judged { degree, than, eye },
        };
        Answer::Value(judged.value())
    }

    fn value(&self, values: usize, dice: &mut Dice) -> Answer {
        let meant = self.decided().find_map(|(trial, holds)| match trial {
            Trial::Value(value) if holds => Some(value),
            _ => None,
        });
        let any = u8::try_from(dice.below(values)).unwrap_or(0);
        Answer::Value(if dice.chance(90) {
            meant.unwrap_or(any)
        } else {
            any
        })
    }

    /// A reading that fits the world, often close to a mark.
    fn reading(&self, least: i32, most: i32, gauge: i32, dice: &mut Dice) -> Answer {
        let marks: Vec<(i32, i32, bool)> = self
            .decided()
            .filter_map(|(trial, holds)| match trial {
                Trial::Within(from, to) => Some((from, to, holds)),
                _ => None,
            })
            .collect();
        let span = |n: i32| usize::try_from(n).unwrap_or(0) + 1;
        let offset = |n: usize| i32::try_from(n).unwrap_or(0);
        let mut reading = least;
        for _ in 0..40 {
            reading = least + offset(dice.below(span(most - least)));
            if !marks.is_empty() && dice.chance(50) {
                let (from, to, _) = *dice.pick(&marks);
                let mark = if from == i32::MIN { to } else { from };
                let reach = 1 + 5 * gauge;
                reading = mark - reach + offset(dice.below(span(2 * reach)));
            }
            reading = reading.clamp(least, most);
            let fits =
                |&(from, to, holds): &(i32, i32, bool)| (from <= reading && reading <= to) == holds;
            if marks.iter().all(fits) {
                break;
            }
        }
        Answer::Reading(reading)
    }

    /// How many parts of a kind the part really has.
    fn counted(&self, kind: u16) -> i32 {
        let parts = self.subject.ground.parts.iter();
        let counted = parts.filter(|part| {
            part.owner == Some(self.part) && self.subject.built.places.kind(part.place).0 == kind
        });
        i32::try_from(counted.count()).unwrap_or(0)
    }
}

/// An answer as it is written down: `[part, ask, "y"]`, with `y` and `n` for
/// seen, `ly` and `ln` for looks, `cy` and `cn` for certain, `v2` for a value,
/// `r400` for a reading or a count, `?` for "cannot see".
#[must_use]
pub fn written(given: Given) -> Value {
    let sides = |mark: &str, yes| format!("{mark}{}", if yes { "y" } else { "n" });
    let (part, ask, answer) = given;
    let answer = match answer {
        Answer::NotLooked => String::new(),
        Answer::CannotSee => "?".to_owned(),
        Answer::Seen(yes) => sides("", yes),
        Answer::Looks(yes) => sides("l", yes),
        Answer::Certain(yes) => sides("c", yes),
        Answer::Value(value) => format!("v{value}"),
        Answer::Reading(reading) | Answer::Tabled(reading, _) => format!("r{reading}"),
    };
    json!([part, ask, answer])
}

/// The same, read.
#[must_use]
pub fn read(written: &Value) -> Option<Given> {
    let part = usize::try_from(written.get(0)?.as_u64()?).ok()?;
    let ask = u16::try_from(written.get(1)?.as_u64()?).ok()?;
    let answer = match written.get(2)?.as_str()? {
        "?" => Answer::CannotSee,
        "y" => Answer::Seen(true),
        "n" => Answer::Seen(false),
        "ly" => Answer::Looks(true),
        "ln" => Answer::Looks(false),
        "cy" => Answer::Certain(true),
        "cn" => Answer::Certain(false),
        other => match other.split_at_checked(1)? {
            ("v", value) => Answer::Value(value.parse().ok()?),
            ("r", reading) => Answer::Reading(reading.parse().ok()?),
            _ => return None,
        },
    };
    Some((part, ask, answer))
}
