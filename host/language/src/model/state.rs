//! What may be true of a part, and how it can be known.

use crate::model::{Asks, HowOften, KindId, Mark, Minutes, Model, SignId, SourceId, StateId};
use crate::span::Span;

/// Something that may be true of a part.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct State {
    /// Of which kind of part.
    pub kind: KindId,
    /// "is sagging" or "shows fresh dust".
    pub verb: Verb,
    /// "sagging", "fresh dust".
    pub phrase: String,
    /// Other words for it.
    pub also: Vec<String>,
    /// Everyday words that are said of something else on the same kind of part as well: a note
    /// with one is asked about, and no rule takes them.
    pub shared: Vec<String>,
    /// How it can be known.
    pub nature: Nature,
    /// Its chance when no rule gives a reason for it. `None` only where no
    /// rule concludes or reads it.
    pub on_its_own: Option<HowOften>,
    /// Where "for what" it came from: `From:`, if given.
    pub source: Option<SourceId>,
    /// Where it was declared.
    pub at: Span,
}

/// How a state is put into a sentence.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verb {
    /// A drawer *is* stiff.
    Is,
    /// A runner *shows* fresh dust.
    Shows,
}

/// How a state can be known.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Nature {
    /// By looking, feeling, asking …: this sign asks for it.
    Seen(SignId),
    /// Only when the piece is apart.
    Hidden {
        /// What it costs to find it late, if the house says.
        missed: Option<Missed>,
    },
    /// By a measure that passes a mark: "counts as cracked when it is split
    /// at least 1 mm wide".
    CountsAs {
        /// The measure.
        sign: SignId,
        /// The mark.
        mark: Mark,
    },
}

/// Which way something is passed along a measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Towards {
    /// "At least 2 mm".
    More,
    /// "At most 3 mm".
    Less,
}

impl Model {
    /// Which way a state is passed that is read off a measure: `None` if it has ends on
    /// both sides, or is no such state.
    #[must_use]
    pub fn towards(&self, state: &State) -> Option<Towards> {
        let Nature::CountsAs { sign, mark } = &state.nature else {
            return None;
        };
        let (least, most) = self.signs.get(sign.index())?.asks.ends()?;
        match mark.at_most {
            Some(at_most) if at_most < most && mark.at_least > least => None,
            Some(at_most) if at_most < most => Some(Towards::Less),
            _ => Some(Towards::More),
        }
    }

    /// The sign that judges a state in degrees, and from which degree on the state is so.
    #[must_use]
    pub fn degree_of(&self, state: StateId) -> Option<(SignId, u8)> {
        let Nature::CountsAs { sign, mark } = &self.states.get(state.index())?.nature else {
            return None;
        };
        let is_judged = matches!(self.signs.get(sign.index())?.asks, Asks::Degrees { .. });
        let degree = u8::try_from(mark.at_least).ok()?;
        is_judged.then_some((*sign, degree))
    }

    /// The state of being of this degree or a higher one.
    #[must_use]
    pub fn from_degree(&self, sign: SignId, degree: u8) -> Option<StateId> {
        let mut states = (0..).map(StateId).zip(&self.states);
        let found = states.find(|(id, _)| self.degree_of(*id) == Some((sign, degree)));
        found.map(|(id, _)| id)
    }

    /// Whether a state is a stretch of a measure with an end on both sides.
    #[must_use]
    pub fn is_between(&self, state: &State) -> bool {
        matches!(state.nature, Nature::CountsAs { .. }) && self.towards(state).is_none()
    }

    /// Which way the levels of a measure go. Those that rules conclude decide, `concluded`
    /// saying which these are; or else the names there are.
    #[must_use]
    pub fn measured_towards(&self, sign: SignId, concluded: impl Fn(StateId) -> bool) -> Towards {
        let mut named = [false; 2];
        for (id, state) in (0..).map(StateId).zip(&self.states) {
            if !matches!(state.nature, Nature::CountsAs { sign: of, .. } if of == sign) {
                continue;
            }
            let Some(towards) = self.towards(state) else {
                continue;
            };
            if concluded(id) {
                return towards;
            }
            named[usize::from(towards == Towards::Less)] = true;
        }
        if named == [false, true] {
            Towards::Less
        } else {
            Towards::More
        }
    }
}

/// `Missed: 4 hours, risk 3`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Missed {
    /// Extra bench time if it is found only after work has begun.
    pub minutes: Minutes,
    /// 1 a nuisance … 5 loss of the piece or injury.
    pub risk: u8,
}
