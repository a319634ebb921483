//! What a house's rules say, once every word has been understood.
//!
//! The language reads files into a [`Model`]; the checks look at it, the
//! compiler turns it into a pack, the read-back prints it. Nothing here knows
//! how a sentence was spelt: words have become numbers that index the lists of
//! the model, and every entry remembers the [`Span`] it came from.

use crate::span::Span;

macro_rules! index {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub struct $name(pub u16);
        impl $name {
            /// The place in its list.
            #[must_use]
            pub fn index(self) -> usize {
                usize::from(self.0)
            }
        }
    };
}

index!(
    /// A kind of piece or part: an index into [`Model::kinds`].
    KindId
);
index!(
    /// Something that may be true of a part: an index into [`Model::states`].
    StateId
);
index!(
    /// Something that can be found out about a part: an index into [`Model::signs`].
    SignId
);
index!(
    /// A job: an index into [`Model::jobs`].
    JobId
);
index!(
    /// A source: an index into [`Model::sources`].
    SourceId
);

/// The kind that stands for "the piece", whatever piece it is. Its states and
/// signs belong to every kind that [`Kind::is_piece`] says is a piece.
pub const PIECE: KindId = KindId(0);

/// A chance in whole thousandths, so that a pack is the same on every machine.
#[derive(
    serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord,
)]
pub struct Thousandths(pub u16);

/// A quantity as a whole number of ticks: 25 nm for a length (1 mm = 40 000,
/// 1/64 in = 15 875, both exact), a hundredth of one per cent for a share.
pub type Ticks = i32;

/// A time in whole minutes.
pub type Minutes = u32;

/// Everything a set of rule files says.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, Default)]
pub struct Model {
    /// "the bench at Mill Lane".
    pub title: String,
    /// "version 3" in the title.
    pub version: u32,
    /// Whose words are used where a word means two things, e.g. "British".
    pub region: Option<Region>,
    /// What each strength word means in this house, in falling order.
    pub scale: Vec<(Strength, Thousandths)>,
    /// Kinds of piece and of part; entry 0 is [`PIECE`].
    pub kinds: Vec<Kind>,
    /// Plurals of other words for a kind, where they are not formed by rule
    /// ("leaves").
    pub other_plurals: Vec<(KindId, String)>,
    /// Everything that can be looked at, felt, measured, counted or asked.
    pub signs: Vec<Sign>,
    /// Everything that may be true of a part.
    pub states: Vec<State>,
    /// `If … then …`.
    pub rules: Vec<Rule>,
    /// `If …, that usually means …`.
    pub means: Vec<Means>,
    /// Jobs, each with its particulars.
    pub jobs: Vec<Job>,
    /// `When … plan to …`.
    pub plans: Vec<Plan>,
    /// `Depending on how …`.
    pub ladders: Vec<Ladder>,
    /// `Take care when …` and `Stop when …`.
    pub cautions: Vec<Caution>,
    /// The standing order of work.
    pub orders: Vec<Order>,
    /// `Never plan to … and … together`.
    pub exclusions: Vec<Exclusion>,
    /// `A … is not earlier than …`.
    pub datings: Vec<Dating>,
    /// `To look over a …`.
    pub rounds: Vec<Round>,
    /// `Example: …`.
    pub examples: Vec<Example>,
    /// `Source …: …`.
    pub sources: Vec<Source>,
    /// What this house changed in or left out of the rules it builds on.
    pub changes: Vec<Change>,
}

/// A region whose word or date is meant.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Region {
    /// Written (UK) or British.
    British,
    /// Written (US) or American.
    American,
}

/// The words for how often, strongest first.
#[derive(
    serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash,
)]
pub enum Strength {
    /// Nothing but the truth by the meaning of the words; exactly 1.
    ByDefinition,
    /// 99 in 100; also what no strength word means.
    Always,
    /// 19 in 20.
    NearlyAlways,
    /// 8 in 10.
    Usually,
    /// 6 in 10.
    Often,
    /// 3 in 10.
    Sometimes,
    /// 1 in 10; only for what is there on its own.
    Rarely,
    /// 3 in 100; only for what is there on its own.
    HardlyEver,
}

/// A chance as the house wrote it: a word, or "in 7 of 10 cases".
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq)]
pub struct HowOften {
    /// The word, unless the cases were counted.
    pub word: Option<Strength>,
    /// The cases, if they were counted: 7 of 10.
    pub cases: Option<(u32, u32)>,
    /// The figure, with this house's scale.
    pub chance: Thousandths,
}

/// A kind of piece or part.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Kind {
    /// The house's own word, singular, lower case.
    pub name: String,
    /// Its plural.
    pub plural: String,
    /// Other words for it, singular.
    pub also: Vec<String>,
    /// Whether it comes in whole, as a job of its own.
    pub is_piece: bool,
    /// What it is made of, in the order written.
    pub members: Vec<Member>,
    /// Where it was declared.
    pub at: Span,
}

/// "2 to 3 hinges (usually 2; left, right)" in a makeup sentence.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Member {
    /// The kind of the parts.
    pub kind: KindId,
    /// Fewest.
    pub least: u8,
    /// Most.
    pub most: u8,
    /// The number taken for granted until somebody counts: what "usually"
    /// says, else `most`.
    pub usual: u8,
    /// Names of the single parts, if they have any: "left", "right".
    pub names: Vec<String>,
    /// Where it was written.
    pub at: Span,
}

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

/// `Missed: 4 hours, risk 3`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub struct Missed {
    /// Extra bench time if it is found only after work has begun.
    pub minutes: Minutes,
    /// 1 a nuisance … 5 loss of the piece or injury.
    pub risk: u8,
}

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
    /// `From:`.
    pub source: Option<SourceId>,
    /// Where it was declared.
    pub at: Span,
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

/// A unit that the house may write.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Metres.
    M,
    /// Inches.
    In,
    /// Feet.
    Ft,
    /// Per cent.
    Percent,
}

/// A mark on a measure or a count: true from `at_least` up (every comparison
/// is one of these or its opposite, since quantities are whole ticks).
#[derive(
    serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord,
)]
pub struct Mark {
    /// The smallest quantity for which it holds.
    pub at_least: Ticks,
    /// The largest for which it holds, if it has an upper end.
    pub at_most: Option<Ticks>,
}

/// What must hold for a rule, plan, caution or step.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Condition {
    /// Every one of these.
    All(Vec<Condition>),
    /// At least one of these.
    Any(Vec<Condition>),
    /// One thing about one part or group of parts.
    Test(Test),
}

/// One clause: whose state, and which.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct Test {
    /// Which part is meant, seen from the subject.
    pub whose: Reach,
    /// What is said of it.
    pub what: Predicate,
    /// Where it was written.
    pub at: Span,
}

/// Which part is meant, seen from the subject of the sentence.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Reach {
    /// The subject itself.
    Own,
    /// What the subject is built into: its nearest owner of this kind.
    Up(KindId),
    /// Parts of the subject.
    Down {
        /// The kinds on the way down, the last one being meant:
        /// `[hinge, screw]` for "the screws of its hinges".
        path: Vec<KindId>,
        /// How many of them.
        many: HowMany,
    },
}

/// How many of a group of parts.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum HowMany {
    /// The only one there can be.
    The,
    /// At least one.
    Any,
    /// All (true of none; in a result: each one, separately).
    Every,
    /// Not one.
    No,
    /// This many or more.
    AtLeast(u8),
    /// Not this many.
    FewerThan(u8),
    /// This many, no more and no fewer.
    Exactly(u8),
}

/// What is said of a part.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Predicate {
    /// It is (or is not) so.
    State {
        /// The state.
        state: StateId,
        /// "is", not "is not".
        yes: bool,
        /// How sure one must be, for a hidden fault in a plan or caution.
        sureness: Option<Sureness>,
    },
    /// A measure passes a mark.
    Measure {
        /// The measure.
        sign: SignId,
        /// The mark.
        mark: Mark,
        /// "is", not "is not".
        yes: bool,
    },
    /// A choice is one of these values.
    Choice {
        /// The choice.
        sign: SignId,
        /// Indices of the values.
        values: Vec<u8>,
        /// "is", not "is not".
        yes: bool,
    },
    /// It has at least this many parts of a kind ("has no bracket": at least
    /// 1, `yes` false).
    Has {
        /// The kind counted, a direct member of the part.
        part: KindId,
        /// At least (and, for "exactly", at most) so many.
        mark: Mark,
        /// "has", not "has no".
        yes: bool,
    },
    /// It cannot be seen: boxed in, or missing. Never unknown.
    CannotBeSeen,
}

/// How sure one must be of a hidden fault before a plan or caution follows.
#[derive(
    serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash,
)]
pub enum Sureness {
    /// 15 in 100 or more.
    Possibly,
    /// 60 in 100 or more.
    Probably,
    /// 95 in 100 or more.
    Surely,
}

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
    /// How often it brings it about.
    pub strength: HowOften,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`, a name that a house can use to change it.
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
    /// `Mends:`, the states it puts right.
    pub mends: Vec<StateId>,
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
    /// The measure (its kind is the subject).
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
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
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
    /// One job.
    pub one: JobId,
    /// The other.
    pub other: JobId,
    /// `From:`.
    pub source: Option<SourceId>,
    /// The whole entry.
    pub at: Span,
}

/// "A gimlet-point screw is not earlier than 1846."
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Dating {
    /// The kind of part it dates.
    pub subject: KindId,
    /// What the part must be like for it to hold; `None`: any such part.
    pub when: Option<Condition>,
    /// What it says.
    pub bound: DateBound,
    /// Where it holds.
    pub region: Option<Region>,
    /// `Evidence:`.
    pub evidence: Evidence,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// The whole entry.
    pub at: Span,
}

/// What a dating says.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq, Eq)]
pub enum DateBound {
    /// Made in this year or later.
    NotEarlier(u16),
    /// Made in this year or earlier.
    NotLater(u16),
    /// Mostly made in these years.
    Usually(u16, u16),
    /// Fits no trace, so made after what it is built into, which is of this kind.
    LaterThan(KindId),
    /// Shows the trace of something that is gone: "handle".
    Lost(String),
}

/// How far a dating can be trusted.
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
pub enum Evidence {
    /// A hint.
    Weak,
    /// Worth having.
    #[default]
    Fair,
    /// Hardly ever wrong.
    Strong,
}

/// "To look over a …:".
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Round {
    /// The kind of piece.
    pub piece: KindId,
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// The whole entry.
    pub at: Span,
}

/// One step of a round.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Step {
    /// What is looked at (on every part of its kind).
    pub sign: SignId,
    /// Only if this holds, read with the piece as subject.
    pub only_if: Option<Condition>,
    /// Where it was written.
    pub at: Span,
}

/// `Example: …`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Example {
    /// "a fall with nothing under it".
    pub title: String,
    /// The piece and its counts.
    pub piece: PieceOrder,
    /// What was found.
    pub given: Vec<Fact>,
    /// What must follow.
    pub expect: Vec<Expect>,
    /// The whole entry.
    pub at: Span,
}

/// "a chest of drawers with 3 drawers": a piece to be set up.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct PieceOrder {
    /// The kind of piece.
    pub kind: KindId,
    /// How many of some kinds of part, each for every owner of that kind.
    /// What is not said is as usual.
    pub counts: Vec<(KindId, u8)>,
}

/// A part of a piece, named from the inside out: "runner 1 of drawer 2".
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct PartRef {
    /// The part first, then what it is built into, as far as was said.
    pub steps: Vec<PartStep>,
    /// Where it was written.
    pub at: Span,
}

/// One step of a [`PartRef`].
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct PartStep {
    /// The kind.
    pub kind: KindId,
    /// Which one.
    pub which: Which,
}

/// Which of several parts of a kind.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Which {
    /// There is only one: "the top".
    Only,
    /// Number, from 1.
    Number(u8),
    /// By its name in the makeup: index into [`Member::names`].
    Named(u8),
    /// Every one.
    Every,
}

/// One thing that was found.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct Fact {
    /// On which part.
    pub part: PartRef,
    /// What.
    pub found: Found,
    /// Where it was written.
    pub at: Span,
}

/// What was found on a part.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Found {
    /// A state, or that it is not so.
    State {
        /// The state.
        state: StateId,
        /// "is" rather than "is not".
        yes: bool,
        /// How it is known.
        sure: Sure,
    },
    /// A measure.
    Measure {
        /// The measure.
        sign: SignId,
        /// The reading.
        ticks: Ticks,
    },
    /// A choice.
    Choice {
        /// The choice.
        sign: SignId,
        /// Index of the value.
        value: u8,
    },
    /// How many parts of a kind it has.
    Count {
        /// The kind, a direct member of the part.
        part: KindId,
        /// How many.
        number: u8,
    },
    /// The whole part cannot be seen.
    PartCannotBeSeen,
    /// "cannot see whether drawer 2 is stiff".
    SignCannotBeSeen(SignId),
    /// "have not looked whether drawer 2 is stiff": takes an answer back.
    NotLooked(SignId),
    /// As `NotLooked`, for a fault found when a part was opened.
    NotOpened(StateId),
}

/// How well something is known.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sure {
    /// "is stiff": looked, with a slip of the eye allowed for. (Of a hidden
    /// fault: found when the part was opened, so certain.)
    Ordinary,
    /// "looks stiff" / "does not look stiff".
    Looks,
    /// "is certainly stiff": measured or opened up.
    Certain,
}

/// What an example expects.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Expect {
    /// What.
    pub what: Expected,
    /// Where it was written.
    pub at: Span,
}

/// What an example expects.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub enum Expected {
    /// "plan to …" or "no plan to …".
    Plan {
        /// The job.
        job: JobId,
        /// Expected, rather than expected not.
        yes: bool,
    },
    /// "take care" or "no take care".
    TakeCare(bool),
    /// "stop" or "no stop".
    Stop(bool),
    /// "no reason for drawer 2 is stiff": with every finding taken at its word,
    /// no likelier than before anything was found.
    NoReason(PartRef, StateId),
    /// "hinge 1 of fall 1 is usually under strain": within the band of the
    /// word, or of "in 7 of 10 cases" (within 5 in 100).
    Chance(PartRef, StateId, HowOften),
    /// "date not earlier than 1846" for the piece.
    NotEarlier(u16),
    /// "date not later than 1900" for the piece.
    NotLater(u16),
}

/// `Source Mercer 1923: …`.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Source {
    /// "Mercer 1923".
    pub name: String,
    /// The full reference.
    pub text: String,
    /// Where it was declared.
    pub at: Span,
}

/// Something this house changed in, or left out of, the rules it builds on.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct Change {
    /// The name of the sentence.
    pub called: String,
    /// Where the sentence stood.
    pub was: Span,
    /// What stands instead; for "Leave out …", the leaving out.
    pub now: Span,
    /// Left out, rather than replaced.
    pub left_out: bool,
}
