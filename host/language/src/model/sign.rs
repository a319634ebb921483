//! What can be found out about a part, and how.

use crate::model::{
    HowOften, KindId, Minutes, SourceId, StateId, Thousandths, Ticks, Unit, WorkedOut, Working,
};
use crate::span::Span;

/// Something that can be found out about a part.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Sign {
    /// Of which kind of part.
    pub kind: KindId,
    /// How.
    pub sense: Sense,
    /// What.
    pub asks: Asks,
    /// `Ask:`, the question on the bench screen (at most 21 characters).
    pub ask: Option<String>,
    /// `How:`, how to check.
    pub how: Option<String>,
    /// `Takes:`; `None` if the house did not say.
    pub takes: Option<Minutes>,
    /// `Slip:`, how often an ordinary answer is a slip of the eye (10 unless
    /// the house says otherwise).
    pub slip: Thousandths,
    /// `Disturbs:`.
    pub disturbs: Disturbs,
    /// `On its own:` of a measure or count: the chance that it passes a mark
    /// which a rule reads. (A yes/no sign keeps its chance in its state.)
    pub on_its_own: Option<HowOften>,
    /// `Usually:` of a choice: the value that it usually has, and how often.
    pub usually: Option<(u8, Thousandths)>,
    /// `In order:` the answers that are as they should be, by their numbers: of a yes or no
    /// 0 is no and 1 is yes, of degrees 0 is none. `None` if the house does not say.
    pub in_order: Option<Vec<u8>>,
    /// How it is worked out from others, if nobody asks for it.
    pub worked: Option<WorkedOut>,
    /// `From:`.
    pub source: Option<SourceId>,
    /// Where it was declared.
    pub at: Span,
}

impl Sign {
    /// How it says where a part stands among its like, if it does.
    #[must_use]
    pub fn place(&self) -> Option<Working> {
        let worked = self.worked.as_ref()?;
        worked.working.is_place().then_some(worked.working)
    }
}

/// What a sign asks for.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Asks {
    /// Yes or no: whether this state holds.
    Whether(StateId),
    /// "which point a screw has: blunt, gimlet-point or cross-head".
    Which {
        /// "point".
        attribute: String,
        /// The values, in the order written.
        values: Vec<String>,
    },
    /// "how wide a bottom is split, in mm, from 0 to 12".
    HowMuch {
        /// "wide".
        word: String,
        /// "split".
        phrase: String,
        /// The unit it is asked in.
        unit: Unit,
        /// Smallest reading.
        least: Ticks,
        /// Largest reading.
        most: Ticks,
        /// `Reads to:` one standard deviation of hand and gauge, in ticks
        /// (0: exact).
        gauge: Ticks,
    },
    /// "count the supports of a fall": how many parts of this kind there are.
    HowMany(KindId),
    /// "how badly a veneer is lifted: slightly, noticeably or badly".
    Degrees {
        /// "badly".
        word: String,
        /// "lifted"; empty for "how dirty a surface is".
        phrase: String,
        /// "slightly", "noticeably", "badly": above "not", in order.
        degrees: Vec<String>,
    },
}

/// How a measure is put into a sentence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tense {
    /// "is worn 3 mm".
    Is,
    /// "was moved 3 weeks ago".
    Ago,
    /// "has stood open for 3 days".
    Lasting,
}

impl Asks {
    /// How it is put into a sentence.
    #[must_use]
    pub fn tense(&self) -> Tense {
        match self {
            Self::HowMuch { word, .. } if word == "long ago" => Tense::Ago,
            Self::HowMuch { word, unit, .. } if word == "long" && unit.is_time() => Tense::Lasting,
            _ => Tense::Is,
        }
    }

    /// The smallest and the largest that a measure can be, or a judgement in degrees
    /// (where 0 is "not").
    #[must_use]
    pub fn ends(&self) -> Option<(Ticks, Ticks)> {
        match self {
            Self::HowMuch { least, most, .. } => Some((*least, *most)),
            Self::Degrees { degrees, .. } => {
                Some((0, Ticks::try_from(degrees.len()).unwrap_or(Ticks::MAX)))
            }
            Self::Whether(_) | Self::Which { .. } | Self::HowMany(_) => None,
        }
    }
}

/// How a sign is found out; these are also the verbs of a round.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sense {
    /// With the eye.
    See,
    /// With the hand.
    Feel,
    /// With the ear.
    Hear,
    /// With the nose.
    Smell,
    /// From the owner.
    Ask,
    /// With a gauge.
    Measure,
    /// By counting.
    Count,
}

/// How far a check interferes with the piece.
#[derive(
    serde::Serialize,
    serde::Deserialize,
    Clone,
    Copy,
    Debug,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Default,
)]
pub enum Disturbs {
    /// Looking, asking.
    #[default]
    Nothing,
    /// Pressing, pulling a drawer, a swab in a hidden place.
    ALittle,
    /// Something is opened or taken off.
    ALot,
}
