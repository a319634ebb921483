//! What a house's rules say, once every word has been understood.
//!
//! The language reads files into a [`Model`]; the checks look at it, the
//! compiler turns it into a pack, the read-back prints it. Nothing here knows
//! how a sentence was spelt: words have become numbers that index the lists of
//! the model, and every entry remembers the [`Span`] it came from.

mod condition;
mod dating;
mod example;
mod figure;
mod finding;
mod handbook;
mod ids;
mod kin;
mod kind;
mod places;
mod plain;
mod relative;
mod round;
mod rule;
mod sign;
mod stand_in;
mod state;
mod work;
mod worked_out;

pub use condition::{Condition, HowMany, Placing, Predicate, Reach, Test};
pub use dating::{DateBound, Dating, Evidence, Region};
pub use example::{Example, Expect, Expected};
pub use figure::{HowOften, Mark, Minutes, Strength, Sureness, Thousandths, Ticks, Unit};
pub use finding::{Fact, Found, PartRef, PartStep, PieceOrder, Sure, Than, Which};
pub use handbook::{Along, By, Fed, Handbook, Input, InputSort, Sum, Table};
pub use ids::{JobId, KindId, PIECE, SignId, SourceId, StateId};
pub use kin::Inherited;
pub use kind::{CountedFrom, Kind, Member};
pub use plain::{PlainWords, Tell};
pub use relative::{Beside, Relative};
pub use round::{Known, Round, Step};
pub use rule::{AtMostOne, Means, OnlyIf, Rule, Together};
pub use sign::{Asks, Disturbs, Sense, Sign, Tense};
pub use stand_in::StandIn;
pub use state::{Missed, Nature, State, Towards, Verb};
pub use work::{Caution, Exclusion, Job, Ladder, Order, Plan, Takes, Until, WorkStage};
pub use worked_out::{Operand, OwnPart, WorkedOut, Working};

use crate::span::Span;

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
    /// `A … can be … only if …`.
    pub only_ifs: Vec<OnlyIf>,
    /// `If at least two of these are true of a …: …, that usually means …`.
    pub togethers: Vec<Together>,
    /// `A … is at most one of …`.
    pub at_most_ones: Vec<AtMostOne>,
    /// Jobs, each with its particulars.
    pub jobs: Vec<Job>,
    /// `When … plan to …`.
    pub plans: Vec<Plan>,
    /// `When …, instead of … plan to …`.
    pub stand_ins: Vec<StandIn>,
    /// `Depending on how …`.
    pub ladders: Vec<Ladder>,
    /// `Take care when …` and `Stop when …`.
    pub cautions: Vec<Caution>,
    /// `Tell the owner when …`.
    pub tells: Vec<Tell>,
    /// `In plain words:` and `Afterwards:`.
    pub plain: PlainWords,
    /// The standing order of work.
    pub orders: Vec<Order>,
    /// `Never plan to … and … together`.
    pub exclusions: Vec<Exclusion>,
    /// `A … is not earlier than …`.
    pub datings: Vec<Dating>,
    /// `A … is usually earlier than its …`, `A … that … has a later …`.
    pub relatives: Vec<Relative>,
    /// `To look over a …`.
    pub rounds: Vec<Round>,
    /// `Example: …`.
    pub examples: Vec<Example>,
    /// `Source …: …`.
    pub sources: Vec<Source>,
    /// What this house changed in or left out of the rules it builds on.
    pub changes: Vec<Change>,
    /// What kinds have from the kinds that they are kinds of.
    pub inherited: Inherited,
    /// `Never take … for …`.
    pub wrong_friends: Vec<WrongFriend>,
    /// `Bench remarks: …`, in the order in which the bench lists them.
    pub bench_remarks: Vec<BenchRemark>,
}

/// Something that can be remarked at the bench by a key.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq, Eq)]
pub struct BenchRemark {
    /// What it says.
    pub text: String,
    /// The whole list that it stands in.
    pub at: Span,
}

/// `Never take bowed for warped.`: words that a note is never taken to mean by.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, PartialEq)]
pub struct WrongFriend {
    /// "bowed".
    pub word: String,
    /// "warped": what they do not mean, as it was written.
    pub meant: String,
    /// The same in every way that the house says it.
    pub phrases: Vec<String>,
    /// Where it is said.
    pub at: Span,
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
    /// The name of the sentence; of what is declared, its words.
    pub called: String,
    /// Where the sentence stood.
    pub was: Span,
    /// What stands instead; for "Leave out …", the leaving out.
    pub now: Span,
    /// How it was changed.
    pub how: Changed,
    /// Why, where the house says so.
    pub because: Option<String>,
}

/// How a house changed a sentence.
#[derive(serde::Serialize, serde::Deserialize, Clone, Copy, Debug, PartialEq, Eq)]
pub enum Changed {
    /// "Leave out …".
    LeftOut,
    /// "Instead of …".
    Instead,
    /// Written again in the same words.
    Again,
}
