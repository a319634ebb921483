//! Between what the bench screen notes and the sentences of a job's record.

use std::collections::HashMap;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Origin, SetUp, part_ref};
use tellmark_compile::{Asked, Built};
use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::piece::{self, Answer, Eye, Judged, Part, SetUpError};
use tellmark_core::record::Noted;
use tellmark_job::advice::Progress;
use tellmark_job::record::{Remark, Says};
use tellmark_language::model::{Asks, Fact, Found, Model, Nature, Sure, Than};
use tellmark_language::span::Span;
use tellmark_language::words;

/// What a job's record comes to, as the bench screen would have noted it: the
/// piece, its parts, every answer that stands, in the order of the record, the
/// cautions that were heeded, and whether it is looked over. `last` is the line of
/// the last finding.
///
/// # Errors
/// If the piece cannot be set up.
pub fn opening(
    set_up: &SetUp<'_>,
    pack: Pack<'_>,
    progress: &Progress,
    last: usize,
) -> Result<Vec<Noted>, SetUpError> {
    let mut room = Room::<UFloat>::default();
    let case = set_up.case::<UFloat>(pack, &mut room)?;
    let piece = case.inspection.piece();
    let short = |number: usize| u16::try_from(number).unwrap_or(u16::MAX);
    let mut noted = vec![Noted::Begun {
        root: short(piece.root()),
        pack: pack.id(),
    }];
    for (owner, part) in piece.parts().iter().enumerate() {
        for place in pack.children(usize::from(part.place)) {
            let number = piece.children_at(owner, place).len();
            let number = u8::try_from(number).unwrap_or(u8::MAX);
            if number != pack.place(place).usual {
                noted.push(Noted::Parts {
                    owner: short(owner),
                    place: short(place),
                    number,
                });
            }
        }
    }
    noted.push(Noted::SetUp {
        parts: short(piece.parts().len()),
    });
    for (part, record) in piece.parts().iter().enumerate() {
        // What is built into a part is as visible as the part, unless it is noted.
        let owner = piece.owners(part).next().filter(|&owner| owner != 0);
        let with_owner = owner.and_then(|owner| piece.part(owner));
        if record.out_of_sight != with_owner.is_some_and(|owner| owner.out_of_sight) {
            noted.push(Noted::OutOfSight {
                part: short(part),
                out_of_sight: record.out_of_sight,
            });
        }
    }
    let order: HashMap<(usize, u16), Origin> = case
        .evidence
        .iter()
        .map(|evidence| ((evidence.given.part, evidence.given.ask), evidence.from))
        .collect();
    let mut answered: Vec<(usize, u16, Answer)> = piece.answered(&pack).collect();
    answered.sort_by_key(|&(part, ask, _)| order.get(&(part, ask)).copied());
    noted.extend(answered.into_iter().map(|(part, ask, answer)| {
        let part = short(part);
        Noted::Answered { part, ask, answer }
    }));
    for heeded in &progress.heeded {
        let is_it = |&caution: &usize| pack.text(pack.caution(caution).text) == heeded.what.caution;
        if let Some(caution) = (0..pack.cautions()).find(is_it) {
            noted.extend(heeded.what.parts.indices.iter().map(|&part| Noted::Heeded {
                caution: short(caution),
                part: short(part),
            }));
        }
    }
    if progress.finished.is_some_and(|line| line > last) {
        noted.push(Noted::Finished);
    }
    Ok(noted)
}

/// The line for a job's record that says what was noted; `None` for what a record
/// does not keep: how the piece was begun (its header says that).
#[must_use]
pub fn sentence(
    model: &Model,
    built: &Built,
    (pack, parts): (&Pack<'_>, &[Part]),
    noted: Noted,
) -> Option<String> {
    let part_of = |part: u16| part_ref(&built.places, parts, usize::from(part));
    let (part, found) = match noted {
        Noted::Answered { part, ask, answer } => (part, found(model, built, ask, answer)?),
        Noted::OutOfSight { part, out_of_sight } => {
            let found = match out_of_sight {
                true => Found::PartCannotBeSeen,
                false => Found::PartCanBeSeen,
            };
            (part, found)
        }
        Noted::Heeded { caution, part } => {
            return Some(heeded(
                pack,
                caution,
                &words::part_name(model, &part_of(part)),
            ));
        }
        Noted::Finished => return Some(finished()),
        Noted::Remarked { part, remark } => {
            let part = words::part_name(model, &part_of(part));
            return Some(remarked(pack, remark, &part));
        }
        _ => return None,
    };
    let fact = Fact {
        part: part_of(part),
        found,
        at: Span::default(),
    };
    Some(words::fact_line(model, &fact))
}

/// The line that says that a caution about a part was heeded.
#[must_use]
pub fn heeded(pack: &Pack<'_>, caution: u16, part: &str) -> String {
    let text = pack.text(pack.caution(usize::from(caution)).text);
    let (part, caution) = (part.to_owned(), text.to_owned());
    Says::Heeded { part, caution }.to_string()
}

/// The line that says that a remark of the house's list was made of a part.
#[must_use]
pub fn remarked(pack: &Pack<'_>, remark: u16, part: &str) -> String {
    let text = pack.text(pack.remark(usize::from(remark)).text);
    let (part, words) = (part.to_owned(), text.to_owned());
    Says::Remark(Remark { part, words }).to_string()
}

/// The line that says that the piece is looked over.
#[must_use]
pub fn finished() -> String {
    Says::Finished("the piece is looked over".to_owned()).to_string()
}

/// What an answer comes to in the words of the rules; `None` if they have none
/// for it.
#[must_use]
pub fn found(model: &Model, built: &Built, ask: u16, answer: Answer) -> Option<Found> {
    let said = |state, yes, sure| Some(Found::State { state, yes, sure });
    match built.states.asks.get(usize::from(ask))?.what {
        Asked::State(state) => {
            let nature = &model.states.get(state.index())?.nature;
            // Found when it was opened up, so certain without saying it.
            let certain = match nature {
                Nature::Hidden { .. } => Sure::Ordinary,
                _ => Sure::Certain,
            };
            match answer {
                Answer::NotLooked => Some(Found::NotOpened(state)),
                Answer::Seen(yes) => said(state, yes, Sure::Ordinary),
                Answer::Looks(yes) => said(state, yes, Sure::Looks),
                Answer::Certain(yes) => said(state, yes, certain),
                Answer::CannotSee | Answer::Reading(_) | Answer::Tabled(..) | Answer::Value(_) => {
                    None
                }
            }
        }
        Asked::Sign(sign) => match (answer, &model.signs.get(sign.index())?.asks) {
            (Answer::NotLooked, _) => Some(Found::NotLooked(sign)),
            (Answer::CannotSee, _) => Some(Found::SignCannotBeSeen(sign)),
            (Answer::Seen(yes), Asks::Whether(state)) => said(*state, yes, Sure::Ordinary),
            (Answer::Looks(yes), Asks::Whether(state)) => said(*state, yes, Sure::Looks),
            (Answer::Certain(yes), Asks::Whether(state)) => said(*state, yes, Sure::Certain),
            (Answer::Reading(ticks), Asks::HowMuch { .. }) => Some(Found::Measure { sign, ticks }),
            (Answer::Reading(number), Asks::HowMany(part)) => Some(Found::Count {
                part: *part,
                number: u8::try_from(number).ok()?,
            }),
            (Answer::Value(value), Asks::Which { .. }) => Some(Found::Choice { sign, value }),
            (Answer::Value(value), Asks::Degrees { .. }) => {
                let judged = Judged::of(value)?;
                Some(Found::Degree {
                    sign,
                    degree: judged.degree,
                    than: match judged.than {
                        piece::Than::Just => Than::Just,
                        piece::Than::AtLeast => Than::AtLeast,
                        piece::Than::LessThan => Than::LessThan,
                    },
                    sure: match judged.eye {
                        Eye::Ordinary => Sure::Ordinary,
                        Eye::Looks => Sure::Looks,
                        Eye::Certain => Sure::Certain,
                    },
                })
            }
            _ => None,
        },
    }
}
