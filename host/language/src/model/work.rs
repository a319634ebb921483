//! Jobs, what calls for them, their order, and cautions.

use crate::model::{
    Condition, HowOften, JobId, KindId, Minutes, SignId, SourceId, StateId, Thousandths, Ticks,
};
use crate::span::Span;

/// A job with its particulars.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Job {
    /// "fit a new runner".
    pub name: String,
    /// `Takes:`; `None` for "not known".
    pub takes: Option<Takes>,
    /// `Waits:`, elapsed time after it, when no one works: least and most.
    pub waits: Option<(Minutes, Minutes)>,
    /// `Needs:`, materials.
    pub needs: Vec<String>,
    /// `First:`, jobs that must be done before it.
    pub first: Vec<JobId>,
    /// `Then:`, jobs that must follow it.
    pub then: Vec<JobId>,
    /// `Touches:`, the kinds of part that it works on besides the part that it is done for.
    pub touches: Vec<KindId>,
    /// `Mends:`, the states it puts right.
    pub mends: Vec<StateId>,
    /// `Until:`, what it finds out: once one of these is known, one way or the other, of the
    /// part that it would be done for, it is not done.
    pub until: Vec<StateId>,
    /// `Holds:`, how often what it puts right stays so.
    pub holds: Option<HowOften>,
    /// `Stage:`, where in the whole work it belongs.
    pub stage: WorkStage,
    /// "Ask the owner first."
    pub ask_owner: bool,
    /// "once for each drawer": the kind of part it is done for once, however
    /// many reasons there are.
    pub once_for: Option<KindId>,
    /// `From:`.
    pub source: Option<SourceId>,
    /// Where it was first written.
    pub at: Span,
}

impl Job {
    /// How often a mend fails if nobody says: 1 in 50. A figure of our own, so that a mend can
    /// be doubted at all.
    pub const FAILS: Thousandths = Thousandths(20);

    /// How often what it puts right is as it was all the same.
    #[must_use]
    pub fn fails(&self) -> Thousandths {
        let of = |often: HowOften| Thousandths(1000_u16.saturating_sub(often.chance.0));
        self.holds.map_or(Self::FAILS, of)
    }
}

/// `Stage:`, in the order in which work goes.
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
pub enum WorkStage {
    /// Recording, labelling, taking apart.
    Record,
    /// Keeping people and the piece from harm.
    MakeSafe,
    /// What carries: joints, carcase, frame.
    #[default]
    Structure,
    /// Drawers, leaves, locks and what they run or turn on.
    MovingParts,
    /// Veneer, cleaning, polish.
    Surface,
    /// Refitting, the last record, advice to the owner.
    HandBack,
}

impl WorkStage {
    /// Every stage with its words, in the order of work.
    pub const ALL: [(WorkStage, &'static str); 6] = [
        (WorkStage::Record, "record"),
        (WorkStage::MakeSafe, "make safe"),
        (WorkStage::Structure, "structure"),
        (WorkStage::MovingParts, "moving parts"),
        (WorkStage::Surface, "surface"),
        (WorkStage::HandBack, "hand back"),
    ];

    /// Its words.
    #[must_use]
    pub fn words(self) -> &'static str {
        let named = WorkStage::ALL.iter().find(|(stage, _)| *stage == self);
        named.map_or("", |(_, words)| words)
    }

    /// Its number in the pack: 0 for the first.
    #[must_use]
    pub fn number(self) -> u8 {
        self as u8
    }
}

/// `Takes: 2 to 4 hours, mostly 3`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Takes {
    /// Quickest.
    pub least: Minutes,
    /// Usual.
    pub mostly: Minutes,
    /// Slowest.
    pub most: Minutes,
}

/// `When … plan to …`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Plan {
    /// The kind of part it is about.
    pub subject: KindId,
    /// What triggers it.
    pub when: Condition,
    /// The job.
    pub job: JobId,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}

/// `Depending on how …: up to …`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Ladder {
    /// Where this is so of a part of this kind; `None`: always.
    pub when: Option<(KindId, Condition)>,
    /// The measure; without `when`, its kind is the subject.
    pub sign: SignId,
    /// Each rung: up to and including this many ticks, this job or nothing.
    pub rungs: Vec<(Ticks, Option<JobId>)>,
    /// Above the last rung.
    pub more: Option<JobId>,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}

/// `Take care when …` or `Stop when …`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Caution {
    /// "Stop" rather than "Take care".
    pub stop: bool,
    /// The kind of part it is about.
    pub subject: KindId,
    /// What raises it.
    pub when: Condition,
    /// What the screen says.
    pub text: String,
    /// `In plain words:` what its owner reads instead.
    pub plain: Option<String>,
    /// `Until:` what it ends with.
    pub until: Option<Until>,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}

/// What a caution ends with.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Until {
    /// "lift off the cornice": the job is done on the part, or on what that is built into.
    Done(JobId),
    /// "it is known whether a piece is painted with lead": of the part itself.
    Known(StateId),
}

/// "Always dust it dry before you clean it damp, because grime turns to mud."
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Order {
    /// Comes first.
    pub before: JobId,
    /// Comes after it.
    pub after: JobId,
    /// "Always" (refused otherwise) rather than "Better" (advice).
    pub always: bool,
    /// The reason, if given.
    pub because: Option<String>,
    /// `From:`.
    pub source: Option<SourceId>,
    /// The whole entry.
    pub at: Span,
}

/// "Never plan to … and … together."
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Exclusion {
    /// Where this is so of a part of this kind; `None`: always.
    pub when: Option<(KindId, Condition)>,
    /// One job.
    pub one: JobId,
    /// The other.
    pub other: JobId,
    /// `From:`.
    pub source: Option<SourceId>,
    /// The sentence, without its particulars.
    pub said_at: Span,
    /// The whole entry.
    pub at: Span,
}
