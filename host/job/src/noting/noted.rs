//! What became of a note.

use crate::record::{NoSuchPart, Remark};
use std::ops::Range;
use tellmark_language::model::{Fact, PartRef};
use tellmark_notes::{Reading, Sayable, Why};

/// What was written down of a note.
#[derive(Clone, Debug, Default)]
pub struct Noted {
    /// The findings, and the lines that they stand on.
    pub found: Option<(Range<usize>, Vec<Fact>)>,
    /// Whether what was typed stands behind them.
    pub is_typed_kept: bool,
    /// What is left of it as remarks, each with its line.
    pub left: Vec<(usize, Left)>,
    /// What of it stands in no finding.
    pub dropped: Vec<(String, Why)>,
    /// Why a note in the exact words was not taken as that.
    pub refused: Option<Refused>,
    /// What is said to be otherwise now; it is among what is left.
    pub changed: Vec<Changed>,
    /// Something is said to have been so, and nobody says that it is.
    pub is_past: bool,
    /// What is left speaks of a part that this piece cannot have: a sentence on which can.
    pub elsewhere: Option<String>,
    /// Parts that were said to be as they should be, with what that answers; it stands among
    /// what was found.
    pub in_order: Vec<(PartRef, Vec<Fact>)>,
}

/// Why a note that is understood is no finding on this piece.
#[derive(Clone, Debug)]
pub enum Refused {
    /// The piece has no such part.
    NoPart(NoSuchPart),
    /// Two findings of the line cannot both count.
    AtOdds(String, String),
}

/// Something that is said to be otherwise now, and nothing is ticked that would have changed it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// The line that says what was found, from 1.
    pub line: usize,
    /// What was found.
    pub said: String,
}

/// Words of a note that are left as a remark.
#[derive(Clone, Debug)]
pub struct Left {
    /// The remark: a stretch of what was typed, or all of it.
    pub remark: Remark,
    /// What it could mean, the likeliest first; none where nobody is to be asked.
    pub readings: Vec<Reading>,
    /// The words of it that no rule reads.
    pub unread: Vec<String>,
    /// What can be said of the part, the nearest first, where nothing was understood.
    pub sayables: Vec<Sayable>,
}
