//! Sums of the handbook that sentences can use: what goes into each, by its name.

use crate::model::{Ticks, Unit};

/// A sum of the handbook that a measure can be worked out by.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sum {
    /// How far a board moves across the grain between two airs.
    Movement,
    /// By what share of its width a held board would shrink between two airs.
    Strain,
    /// How far a shelf sags after years.
    Sag,
    /// What the worst screw of a fall without supports carries, as a share of what it holds.
    ScrewLoad,
    /// What tips a piece from its open drawers, as a share of a child's weight.
    Steadiness,
}

/// What goes into a sum.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Input {
    /// What sentences call it: "span".
    pub name: &'static str,
    /// Of what sort it is.
    pub sort: InputSort,
    /// Whether it must be said.
    pub is_needed: bool,
}

/// Of what sort something that goes into a sum is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InputSort {
    /// A length.
    Length,
    /// A share: the damp of air.
    Share,
    /// A weight.
    Weight,
    /// A small whole number.
    Number,
    /// A wood that the handbook knows.
    Wood,
    /// How a board was cut: flat-sawn, quartered, not known.
    Cut,
    /// How sound wood is: sound, suspect, stripped.
    Soundness,
}

const fn needs(name: &'static str, sort: InputSort) -> Input {
    Input {
        name,
        sort,
        is_needed: true,
    }
}

const fn may_have(name: &'static str, sort: InputSort) -> Input {
    Input {
        name,
        sort,
        is_needed: false,
    }
}

impl Sum {
    /// All of them.
    pub const ALL: [Sum; 5] = [
        Sum::Movement,
        Sum::Strain,
        Sum::Sag,
        Sum::ScrewLoad,
        Sum::Steadiness,
    ];

    /// What sentences call it.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Sum::Movement => "the movement of a board",
            Sum::Strain => "the strain of a held board",
            Sum::Sag => "the sag of a shelf",
            Sum::ScrewLoad => "the load on the screws of a fall",
            Sum::Steadiness => "the steadiness of open drawers",
        }
    }

    /// What `tellmark sum` calls it.
    #[must_use]
    pub const fn command(self) -> &'static str {
        match self {
            Sum::Movement => "movement",
            Sum::Strain => "panel",
            Sum::Sag => "shelf",
            Sum::ScrewLoad => "fall",
            Sum::Steadiness => "tipping",
        }
    }

    /// What goes into it, in the order in which it is said.
    #[must_use]
    pub const fn inputs(self) -> &'static [Input] {
        match self {
            Sum::Movement => {
                const {
                    &[
                        needs("width", InputSort::Length),
                        needs("wood", InputSort::Wood),
                        may_have("cut", InputSort::Cut),
                        needs("damp air", InputSort::Share),
                        needs("dry air", InputSort::Share),
                    ]
                }
            }
            Sum::Strain => {
                const {
                    &[
                        needs("wood", InputSort::Wood),
                        may_have("cut", InputSort::Cut),
                        needs("damp air", InputSort::Share),
                        needs("dry air", InputSort::Share),
                    ]
                }
            }
            Sum::Sag => {
                const {
                    &[
                        needs("span", InputSort::Length),
                        needs("depth", InputSort::Length),
                        needs("thickness", InputSort::Length),
                        needs("wood", InputSort::Wood),
                        needs("load on each metre", InputSort::Weight),
                    ]
                }
            }
            Sum::ScrewLoad => {
                const {
                    &[
                        needs("depth", InputSort::Length),
                        needs("length", InputSort::Length),
                        needs("thickness", InputSort::Length),
                        needs("wood", InputSort::Wood),
                        needs("weight on its edge", InputSort::Weight),
                        needs("leaf of a hinge", InputSort::Length),
                        needs("distance of the screws", InputSort::Length),
                        needs("number of hinges", InputSort::Number),
                        needs("number of screws in each", InputSort::Number),
                        needs("diameter of a screw", InputSort::Length),
                        needs("thread in the wood", InputSort::Length),
                        may_have("soundness", InputSort::Soundness),
                    ]
                }
            }
            Sum::Steadiness => {
                const {
                    &[
                        needs("weight of the carcase", InputSort::Weight),
                        needs("distance behind the front feet", InputSort::Length),
                        needs("weight of the drawers", InputSort::Weight),
                        needs("distance that they come out", InputSort::Length),
                    ]
                }
            }
        }
    }

    /// The unit in which it comes out.
    #[must_use]
    pub const fn unit(self) -> Unit {
        match self {
            Sum::Movement | Sum::Sag => Unit::Mm,
            Sum::Strain | Sum::ScrewLoad | Sum::Steadiness => Unit::Percent,
        }
    }
}

/// What a sentence gives a sum.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq, Eq)]
pub struct Handbook {
    /// Which sum.
    pub sum: Sum,
    /// What goes into it: of each of [`Sum::inputs`] at most one.
    pub fed: Vec<Fed>,
    /// What it comes to.
    pub table: Table,
    /// `Reads to:` stands under the sentence, so that what its readings may be out does not
    /// count.
    pub spread_is_said: bool,
}

/// One of what goes into a sum.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq, Eq)]
pub struct Fed {
    /// Which of [`Sum::inputs`].
    pub input: usize,
    /// What stands there.
    pub by: By,
}

/// What stands for something that goes into a sum.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq, Eq)]
pub enum By {
    /// What is found: which of the operands of the [`WorkedOut`](super::WorkedOut).
    Found(usize),
    /// A quantity, in ticks, and the unit it was written in.
    Quantity(Ticks, Unit),
    /// A whole number.
    Number(u32),
    /// A wood, a cut or a soundness by its name.
    Named(String),
}

/// What a sum comes to, worked out at some readings of each measure and for each value of each
/// choice that goes into it.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, Default, PartialEq, Eq)]
pub struct Table {
    /// For each operand, in order: the readings, rising; or of a choice how many values.
    pub axes: Vec<Along>,
    /// What it comes to, the last operand running fastest; nothing outside the sum, or for a
    /// value that it does not know.
    pub values: Vec<Option<Ticks>>,
    /// Between the readings it runs as a power of each, not straight.
    pub is_power: bool,
    /// Between the readings it is out by no more than about one part in so many.
    pub one_in: u32,
}

/// What a table has along one operand.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq, Eq)]
pub enum Along {
    /// Readings, rising, in ticks.
    Readings(Vec<Ticks>),
    /// So many values.
    Values(usize),
}

impl Along {
    /// How many there are.
    #[must_use]
    pub fn count(&self) -> usize {
        match self {
            Along::Readings(readings) => readings.len(),
            Along::Values(count) => *count,
        }
    }
}
