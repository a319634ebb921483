//! What leads to what.

use crate::model::{Condition, HowOften, KindId, Reach, SourceId, StateId};
use crate::span::Span;

/// `If … then … unless …`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Rule {
    /// The kind of part the rule is about.
    pub subject: KindId,
    /// The condition.
    pub when: Condition,
    /// The exception.
    pub unless: Option<Condition>,
    /// Whose state it gives a reason for: `Own`, `Up`, or `Down` with `Every`
    /// (each separately) or `The`.
    pub result: Reach,
    /// The state it gives a reason for.
    pub state: StateId,
    /// "or blistered": other states of the same part. It gives a reason for one of all
    /// these, each as likely as the next.
    pub or: Vec<StateId>,
    /// How often it brings it about.
    pub strength: HowOften,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`, a name that a house can use to change it.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}

impl Rule {
    /// The states that it may give a reason for.
    pub fn results(&self) -> impl Iterator<Item = StateId> + '_ {
        std::iter::once(self.state).chain(self.or.iter().copied())
    }
}

/// `If at least two of these are true of a chest: …, that usually means it is racked`, or `If
/// at least two drawers of a chest are stiff, that …`: of those looked over for these signs
/// on which so many were seen, with nothing else known, the fault is there that often.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Together {
    /// The kind of part that shows the signs, or whose parts do.
    pub subject: KindId,
    /// The kinds on the way down to the parts that show the sign; none, if the subject
    /// shows the signs itself.
    pub path: Vec<KindId>,
    /// The signs: one, if parts show it; several, if the subject does.
    pub signs: Vec<StateId>,
    /// How many of the signs, or at how many of the parts, are enough.
    pub enough: u8,
    /// Whose fault they point to: `Own`, and of several signs also `Up`, or `Down` with
    /// `Every` or `The`.
    pub whose: Reach,
    /// The fault they point to.
    pub fault: StateId,
    /// How often the fault is there when so many are known.
    pub strength: HowOften,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}

/// `A bottom is at most one of cracked, held fast or shrunk.`: where there are reasons for
/// several, one of these is so, each as likely as the next.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct AtMostOne {
    /// The kind of part that they are states of.
    pub kind: KindId,
    /// The states, two or more; each stands in one such sentence only.
    pub states: Vec<StateId>,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}

/// `A muntin can be split only if its bottom is barred.`: where this is not so, the state
/// does not hold, whatever else is so.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct OnlyIf {
    /// The state; what must be so is said of the kind of part that it is a state of.
    pub state: StateId,
    /// What must be so.
    pub when: Condition,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}

/// `If <sign>, that usually means <fault>`: knowing this sign and nothing
/// else, the fault is there that often.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Means {
    /// The kind of part that shows the sign.
    pub subject: KindId,
    /// The sign (a state of the subject that can be looked at or measured).
    pub sign: StateId,
    /// Whose fault it points to: `Own`, `Up`, or `Down` with `Every` or `The`.
    pub whose: Reach,
    /// The fault it points to.
    pub fault: StateId,
    /// How often the fault is there when the sign is known.
    pub strength: HowOften,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}
