//! Why a sum cannot be done, in sentences that give the fix.

use crate::unit::Dimension;
use std::error::Error;
use std::fmt;
use tellmark_core::handbook::fall::NoStop;
use tellmark_core::handbook::{Quantity, Refused};
use tellmark_language::words::{capital, list};

/// Why a sum cannot be done.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// No number where one is wanted.
    NoNumber {
        /// What the number is of: "the width".
        what: &'static str,
        /// What was typed.
        text: String,
        /// How it is written.
        written: &'static str,
    },
    /// A comma in a number: a thousand to some, a decimal point to others.
    Comma {
        /// What was typed.
        text: String,
    },
    /// A number without a unit.
    NoUnit {
        /// What the number is of.
        what: &'static str,
        /// What was typed.
        text: String,
        /// How it is written.
        written: &'static str,
    },
    /// A unit that there is none of.
    UnknownUnit {
        /// What the number is of.
        what: &'static str,
        /// What was typed.
        text: String,
        /// The word that was taken for a unit.
        unit: String,
        /// How it is written.
        written: &'static str,
    },
    /// A unit that is not one size everywhere.
    NotOneSize {
        /// The unit.
        unit: &'static str,
        /// What to write instead.
        instead: &'static str,
    },
    /// A quantity of the wrong sort.
    Other {
        /// What it is of.
        what: &'static str,
        /// What was typed.
        text: String,
        /// What it is.
        found: Dimension,
        /// What is wanted.
        wanted: &'static str,
        /// How it is written.
        written: &'static str,
    },
    /// Metric and inch units in one quantity, or more quantities than one.
    Mixed {
        /// What it is of.
        what: &'static str,
        /// What was typed.
        text: String,
        /// How it is written.
        written: &'static str,
    },
    /// Less than nothing.
    Negative {
        /// What it is of.
        what: &'static str,
        /// What was typed.
        text: String,
    },
    /// A cut that is not in pounds, nor in grams to the litre.
    NotACut {
        /// What was typed.
        text: String,
    },
    /// A name that is not in a table.
    NotNamed {
        /// What it is a name of: "wood".
        what: &'static str,
        /// What was typed.
        name: String,
        /// Names that are near.
        near: Vec<&'static str>,
        /// All of them.
        all: Vec<&'static str>,
    },
    /// Something is missing, or does not go together: the whole sentence.
    Wrong(String),
    /// A joint that holds nothing by itself.
    NoEquilibrium(NoStop),
    /// Outside the range of the sum.
    Outside {
        /// What it is of: the option or word as typed, if it is known.
        what: &'static str,
        /// The refusal.
        refused: Refused,
    },
}

impl From<Refused> for Trouble {
    fn from(refused: Refused) -> Trouble {
        match refused {
            Refused::NoEquilibrium(joint) => Trouble::NoEquilibrium(joint),
            Refused::Outside { quantity, .. } => Trouble::Outside {
                what: quantity.name(),
                refused,
            },
            Refused::NothingMixed => {
                Trouble::Wrong("All the parts are nothing. Say how much of each.".to_owned())
            }
        }
    }
}

impl Trouble {
    /// Whether the answer is no, and not that something was typed wrongly.
    #[must_use]
    pub fn is_an_answer(&self) -> bool {
        matches!(self, Trouble::NoEquilibrium(_))
    }
}

/// What to do about a number that is outside the range of a sum.
fn fix(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Temperature => {
            "The published table goes no further. Use a temperature of the room the piece stands in"
        }
        Quantity::Moisture => {
            "Look at the meter again: wood in a house has 6 to 16 %, and above 30 % it no longer swells"
        }
        Quantity::Humidity => "Relative humidity is a share of what air can hold",
        Quantity::Hold => {
            "With less in the wood a fastener is not to be relied on, and with more it is no \
             furniture fastener. Measure what is in the wood, or use another"
        }
        Quantity::PushDepth => {
            "The push is between the pin and the lower face. Measure from the pin down"
        }
        Quantity::ScrewDepth => "The screws sit on the leaf. Measure both from the pin",
        Quantity::Soundness => "1 is sound, 0.5 suspect, 0 stripped",
        Quantity::Dispersion => {
            "A mixture lies between its two solvents. Choose a target between them, or another solvent"
        }
        Quantity::Cut => {
            "Polish can be let down with alcohol, and not made stronger; for that, add flake"
        }
        Quantity::Moment => {
            "It tips by itself, without a pull. Fix it to the wall before anything else"
        }
        Quantity::Hours => "A day has 24 hours",
        Quantity::Gravity => "The published classes go no further. Choose the nearest wood",
        _ => "Look at the number and its unit again",
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Trouble::NoNumber {
                what,
                text,
                written,
            } => write!(
                f,
                "I find no number in \"{text}\" for {what}. Write it like {written}."
            ),
            Trouble::Comma { text } => write!(
                f,
                "In \"{text}\" the comma may be a thousand or a decimal point. Write 1200 or 1.2."
            ),
            Trouble::NoUnit {
                what,
                text,
                written,
            } => {
                write!(
                    f,
                    "\"{text}\" for {what} has no unit. Write it like {written}."
                )
            }
            Trouble::UnknownUnit {
                what,
                text,
                unit,
                written,
            } => write!(
                f,
                "I do not know the unit \"{unit}\" in \"{text}\" for {what}. Write it like {written}."
            ),
            Trouble::NotOneSize { unit, instead } => {
                write!(f, "A {unit} is not one size everywhere: {instead}.")
            }
            Trouble::Other {
                what,
                text,
                found,
                wanted,
                written,
            } => write!(
                f,
                "\"{text}\" for {what} is {}, and {wanted} is wanted. Write it like {written}.",
                found.name()
            ),
            Trouble::Mixed {
                what,
                text,
                written,
            } => write!(
                f,
                "\"{text}\" for {what} mixes units. Write one quantity in one system, like {written}."
            ),
            Trouble::Negative { what, text } => write!(
                f,
                "\"{text}\" is less than nothing, which {what} cannot be. Leave the minus out."
            ),
            Trouble::NotACut { text } => write!(
                f,
                "\"{text}\" is no cut. A cut is pounds of flake to the US gallon of alcohol, \"2 lb\", \
                 or grams to the litre of alcohol, \"240 g/l\"; nothing else is read, so that no two \
                 systems are mixed."
            ),
            Trouble::NotNamed {
                what,
                name,
                near,
                all,
            } => {
                write!(f, "I have no figures for the {what} \"{name}\".")?;
                if !near.is_empty() {
                    write!(f, " Did you mean \"{}\"?", near.join("\" or \""))?;
                }
                write!(f, " I know {}.", list(all))
            }
            Trouble::Wrong(sentence) => f.write_str(sentence),
            Trouble::NoEquilibrium(joint) => write!(
                f,
                "{} has no stop below its pin, so its leaf needs its bracket or support: without one \
                 it falls, and there is no hinge load to work out. Its hinges are strained by hanging, \
                 by being forced past level, or by a prop in the wrong place. Say how far the support \
                 reaches with --supports.",
                capital(joint.name())
            ),
            Trouble::Outside { what, refused } => match refused {
                Refused::Outside {
                    quantity,
                    value,
                    lowest,
                    highest,
                } => {
                    let unit = quantity.unit();
                    let space = if unit.is_empty() { "" } else { " " };
                    write!(
                        f,
                        "{} comes to {}{space}{unit}, and the sum holds from {} to {}{space}{unit}. {}.",
                        capital(what),
                        tidy(*value),
                        tidy(*lowest),
                        tidy(*highest),
                        fix(*quantity)
                    )
                }
                other => write!(f, "{}.", capital(&other.to_string())),
            },
        }
    }
}

impl Error for Trouble {}

/// A number as short as it can be said.
fn tidy(number: f32) -> String {
    let rounded = (f64::from(number) * 1000.0).round() / 1000.0;
    match rounded.is_finite() {
        true => format!("{rounded}"),
        false => "more than can be counted".to_owned(),
    }
}
