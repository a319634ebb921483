//! Questions, answers to them, and how something is found out.

use core::fmt::{self, Write};

use super::{Capital, Reading, Unit, time};
use crate::pack::{Ask, Form, Pack, Touch, Way};
use crate::piece::{Answer, Eye, Judged, Than};

/// The question: as the house words it, or else made from the words of the ask.
///
/// # Errors
/// Those of `out`.
pub fn question(out: &mut dyn Write, pack: &Pack<'_>, ask: &Ask) -> fmt::Result {
    let said = pack.text(ask.question);
    let phrase = pack.text(ask.phrase);
    if !said.is_empty() {
        return out.write_str(said);
    }
    match ask.form {
        Form::Whether => write!(out, "{}?", Capital(phrase)),
        Form::Which { .. } => write!(out, "Which {phrase}?"),
        Form::HowMuch { .. } | Form::Degrees { .. } => match (pack.text(ask.word), phrase) {
            (word, "") => write!(out, "How {word}?"),
            (word, phrase) => write!(out, "How {word} {phrase}?"),
        },
        Form::HowMany { part } => {
            let kind = pack.kind(usize::from(part));
            write!(out, "How many {}?", pack.text(kind.plural))
        }
    }
}

/// An answer in words.
///
/// # Errors
/// Those of `out`.
pub fn answer(out: &mut dyn Write, pack: &Pack<'_>, ask: &Ask, answer: Answer) -> fmt::Result {
    match answer {
        Answer::NotLooked => out.write_str("not looked at"),
        Answer::CannotSee => out.write_str("cannot be seen"),
        Answer::Seen(true) => out.write_str("yes"),
        Answer::Seen(false) => out.write_str("no"),
        Answer::Looks(true) => out.write_str("looks like it"),
        Answer::Looks(false) => out.write_str("looks unlikely"),
        Answer::Certain(true) => out.write_str("yes, for certain"),
        Answer::Certain(false) => out.write_str("no, for certain"),
        Answer::Reading(ticks) | Answer::Tabled(ticks, _) => match ask.form {
            Form::HowMuch { unit, .. } => {
                let unit = Unit::numbered(unit);
                write!(out, "{}", Reading { ticks, unit })
            }
            _ => write!(out, "{ticks}"),
        },
        Answer::Value(value) => match ask.form {
            Form::Which { first, values } if u16::from(value) < values => {
                out.write_str(pack.text(first.saturating_add(u16::from(value))))
            }
            Form::Degrees { first, values } => match Judged::of(value) {
                Some(judged) if u16::from(judged.degree) < values => {
                    let text = pack.text(first.saturating_add(u16::from(judged.degree)));
                    degree(out, judged, text)
                }
                _ => out.write_str("?"),
            },
            _ => out.write_str("?"),
        },
    }
}

/// "slightly lifted", "looks slightly lifted", "at least noticeably lifted, for certain".
fn degree(out: &mut dyn Write, judged: Judged, text: &str) -> fmt::Result {
    if judged.eye == Eye::Looks {
        out.write_str("looks ")?;
    }
    out.write_str(match judged.than {
        Than::Just => "",
        Than::AtLeast => "at least ",
        Than::LessThan => "less than ",
    })?;
    out.write_str(text)?;
    out.write_str(match judged.eye {
        Eye::Certain => ", for certain",
        Eye::Ordinary | Eye::Looks => "",
    })
}

/// How something is found out: "see", "measure" …
#[must_use]
pub fn way(way: Way) -> &'static str {
    match way {
        Way::See => "see",
        Way::Feel => "feel",
        Way::Hear => "hear",
        Way::Smell => "smell",
        Way::Ask => "ask the owner",
        Way::Measure => "measure",
        Way::Count => "count",
        Way::WorkOut => "work out",
        Way::Open => "open it up",
    }
}

/// How something is found out and what that takes: "measure, 3 min, disturbs".
///
/// # Errors
/// Those of `out`.
pub fn effort(out: &mut dyn Write, ask: &Ask) -> fmt::Result {
    out.write_str(way(ask.way))?;
    if ask.minutes > 0 {
        out.write_str(", ")?;
        time(out, ask.minutes)?;
    }
    out.write_str(match ask.touch {
        Touch::Nothing => "",
        Touch::ALittle => ", disturbs",
        Touch::ALot => ", opens it",
    })
}
