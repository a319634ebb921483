//! Sentences as read, before anything is looked up.

use crate::model::{Beside, CountedFrom, Region, Sense, Strength, Sum, Sureness, Verb, Working};
use crate::number::Quantity;
use crate::span::Span;

/// Words that name something, in small letters.
#[derive(Clone, Debug, PartialEq)]
pub struct Name {
    /// The words.
    pub text: String,
    /// Where they stand.
    pub at: Span,
}

/// How often, as written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frequency {
    /// A strength word.
    pub word: Option<Strength>,
    /// "in 7 of 10 cases".
    pub cases: Option<(u32, u32)>,
    /// Where it stands.
    pub at: Span,
}

/// The little word before a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pointing {
    /// a, an
    A,
    /// the
    The,
    /// its
    Its,
    /// the same
    TheSame,
}

/// How many of a group.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Amount {
    /// any
    Any,
    /// every, each, all
    Every,
    /// no, none
    No,
    /// at least
    AtLeast(u32),
    /// at most
    AtMost(u32),
    /// more than
    MoreThan(u32),
    /// fewer than, less than
    FewerThan(u32),
    /// a bare number, exactly
    Exactly(u32),
}

/// Which part is spoken of.
#[derive(Clone, Debug, PartialEq)]
pub enum Thing {
    /// it
    It(Span),
    /// "there is …", which says of nothing whose it is.
    There(Span),
    /// "a drawer", "its runner", "the screws of its hinges".
    One {
        /// The little word.
        how: Pointing,
        /// "left", "lowest", "other": where it stands among its like.
        place: Option<Name>,
        /// The part.
        noun: Name,
        /// Of which part.
        of: Option<Box<Thing>>,
        /// All of it.
        at: Span,
    },
    /// "any of its runners", "no drawer".
    Many {
        /// How many.
        amount: Amount,
        /// The words that say how many.
        amount_at: Span,
        /// "left", "lowest", "other": where they stand among their like.
        place: Option<Name>,
        /// The parts.
        noun: Name,
        /// Of which part.
        of: Option<Box<Thing>>,
        /// All of it.
        at: Span,
    },
}

impl Thing {
    /// Where it stands.
    #[must_use]
    pub fn at(&self) -> Span {
        match self {
            Thing::It(at) | Thing::There(at) => *at,
            Thing::One { at, .. } | Thing::Many { at, .. } => *at,
        }
    }
}

/// "more than 2 mm".
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Compare {
    /// more than
    MoreThan(Quantity),
    /// less than
    LessThan(Quantity),
    /// at least
    AtLeast(Quantity),
    /// at most
    AtMost(Quantity),
    /// between … and …
    Between(Quantity, Quantity),
}

/// Which side of a degree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beyond {
    /// more than
    MoreThan,
    /// less than
    LessThan,
    /// at least
    AtLeast,
    /// at most
    AtMost,
}

/// What is said of a part.
#[derive(Clone, Debug, PartialEq)]
pub enum Saying {
    /// `is [not] [often] [probably] under strain [often]`.
    Is {
        /// "not".
        not: Option<Span>,
        /// "often".
        often: Option<Frequency>,
        /// "often", at the end.
        late: Option<Frequency>,
        /// "probably".
        sure: Option<(Sureness, Span)>,
        /// What.
        phrase: Name,
    },
    /// `[often] shows fresh dust`.
    Shows {
        /// "does not".
        not: Option<Span>,
        /// "often".
        often: Option<Frequency>,
        /// "probably".
        sure: Option<(Sureness, Span)>,
        /// What.
        phrase: Name,
    },
    /// "is worn more than 2 mm".
    Measured {
        /// "not".
        not: Option<Span>,
        /// "worn".
        phrase: Option<Name>,
        /// "more than 2 mm".
        compare: Compare,
        /// "wide".
        word: Option<Name>,
    },
    /// "is at least noticeably lifted".
    Beyond {
        /// "not".
        not: Option<Span>,
        /// "often".
        often: Option<Frequency>,
        /// "probably".
        sure: Option<(Sureness, Span)>,
        /// "at least".
        beyond: Beyond,
        /// "noticeably lifted".
        phrase: Name,
    },
    /// "is a gimlet-point screw".
    IsA {
        /// "not".
        not: Option<Span>,
        /// What.
        noun: Name,
    },
    /// "is either blunt or cross-head".
    Either {
        /// "not".
        not: Option<Span>,
        /// The values.
        values: Vec<Name>,
    },
    /// "has no supports".
    Has {
        /// How many; nothing for "a bracket".
        amount: Option<Amount>,
        /// The words that say how many.
        amount_at: Span,
        /// What.
        noun: Name,
    },
    /// "is the left runner", "is not the lowest drawer of its chest".
    Stands {
        /// "not"
        not: Option<Span>,
        /// "left", "lowest".
        place: Name,
        /// The part.
        noun: Name,
    },
    /// "cannot be seen".
    CannotBeSeen,
}

/// One thing said of one part or group.
#[derive(Clone, Debug, PartialEq)]
pub struct Clause {
    /// "point" of "its point is blunt".
    pub attribute: Option<Name>,
    /// Of what.
    pub thing: Thing,
    /// The verb: "is" or "are".
    pub verb_at: Span,
    /// What.
    pub saying: Saying,
    /// What is said, without the part.
    pub saying_at: Span,
    /// All of it.
    pub at: Span,
}

/// What must be so.
#[derive(Clone, Debug, PartialEq)]
pub enum Cond {
    /// All of these.
    All(Vec<Cond>),
    /// Any of these.
    Any(Vec<Cond>),
    /// At least so many of these.
    AtLeast(Vec<Cond>, Enough),
    /// This.
    One(Box<Clause>),
}

/// How many lines of a list are enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Enough {
    /// The number.
    pub number: u32,
    /// "at least two of these".
    pub at: Span,
}

/// What must be so, with the part a list names.
#[derive(Clone, Debug, PartialEq)]
pub struct Conditions {
    /// "of a fall" in a list head.
    pub subject: Option<Name>,
    /// What must be so.
    pub cond: Cond,
    /// Where "and" and "or" are mixed.
    pub mixed: Option<Span>,
    /// Where a list does not line up.
    pub crooked: Option<Span>,
    /// All of it.
    pub at: Span,
}

/// A name that is being declared.
#[derive(Clone, Debug, PartialEq)]
pub struct NewName {
    /// The name.
    pub name: Name,
    /// "(plural feet)".
    pub plural: Option<Name>,
    /// "(US)".
    pub region: Option<(Option<Region>, Name)>,
}

/// "2 to 3 hinges (usually 2; left, right)".
#[derive(Clone, Debug, PartialEq)]
pub struct NewMember {
    /// Fewest.
    pub least: u32,
    /// Most.
    pub most: u32,
    /// Usually.
    pub usual: Option<u32>,
    /// The part.
    pub noun: Name,
    /// Names.
    pub names: Vec<Name>,
    /// From where they are counted.
    pub from: Option<CountedFrom>,
    /// All of it.
    pub at: Span,
}

/// What a sign asks for, as written.
#[derive(Clone, Debug, PartialEq)]
pub enum NewSign {
    /// whether a drawer is stiff
    Whether {
        /// The part.
        noun: Name,
        /// "is" or "shows".
        verb: Verb,
        /// What.
        phrase: Name,
    },
    /// which point a screw has: …
    Which {
        /// "point".
        attribute: Name,
        /// The part.
        noun: Name,
        /// The values.
        values: Vec<Name>,
    },
    /// how badly a veneer is lifted: slightly, noticeably or badly
    Degrees {
        /// "badly".
        word: Name,
        /// The part.
        noun: Name,
        /// "lifted"; empty for "how dirty a surface is".
        phrase: Name,
        /// The degrees, the lowest first.
        degrees: Vec<Name>,
    },
    /// how wide a bottom is split, in mm, from 0 to 12
    HowMuch {
        /// "wide".
        word: Name,
        /// The part.
        noun: Name,
        /// "has", as in "how long a piece has stood open".
        lasting: bool,
        /// "split"; empty for "how thick a top is".
        phrase: Name,
        /// "mm".
        unit: crate::number::UnitWord,
        /// Where the unit stands.
        unit_at: Span,
        /// From.
        least: crate::token::Number,
        /// To.
        most: crate::token::Number,
        /// Where the range stands.
        range_at: Span,
    },
}

/// A measure that is worked out, as written.
#[derive(Clone, Debug, PartialEq)]
pub struct NewWorking {
    /// "far".
    pub word: Name,
    /// The part.
    pub noun: Name,
    /// "out of level".
    pub phrase: Name,
    /// How.
    pub working: Working,
    /// From what.
    pub of: Vec<NewOperand>,
    /// Of a sum of the handbook: which, and what goes into it.
    pub sum: Option<(Sum, Vec<NewFed>)>,
    /// What stands after "is".
    pub at: Span,
}

impl NewWorking {
    /// Everything that it is worked out from.
    pub fn operands(&self) -> impl Iterator<Item = &NewOperand> {
        let fed = self.sum.iter().flat_map(|(_, fed)| fed);
        self.of.iter().chain(fed.filter_map(|one| match &one.value {
            NewValue::Measure(operand) | NewValue::Choice(operand) => Some(operand),
            NewValue::Quantity(_) | NewValue::Named(_) => None,
        }))
    }
}

/// What goes into a sum, as written: "the span is how long it is".
#[derive(Clone, Debug, PartialEq)]
pub struct NewFed {
    /// "span".
    pub name: Name,
    /// What stands there.
    pub value: NewValue,
    /// What stands after "is".
    pub at: Span,
}

/// What goes into a sum.
#[derive(Clone, Debug, PartialEq)]
pub enum NewValue {
    /// A measure: "how long it is".
    Measure(NewOperand),
    /// A choice: "which wood it has".
    Choice(NewOperand),
    /// "20 kg", "3".
    Quantity(Quantity),
    /// "oak", "not known".
    Named(Name),
}

/// What it is worked out from: "how high its left side is".
#[derive(Clone, Debug, PartialEq)]
pub struct NewOperand {
    /// "high"; of a choice what differs, "wood".
    pub word: Name,
    /// "left side": the name of one part, if it has one, and the part. `None`: "it".
    pub part: Option<(Option<Name>, Name)>,
    /// "worn", if the measure has more words.
    pub phrase: Option<Name>,
    /// All of it.
    pub at: Span,
}

/// What a dating says.
#[derive(Clone, Debug, PartialEq)]
pub enum NewBound {
    /// is not earlier than
    NotEarlier((i64, Span)),
    /// is not later than
    NotLater((i64, Span)),
    /// is usually from … to …
    Usually((i64, Span), (i64, Span)),
    /// is later than its …
    LaterThan(Name),
    /// has lost a …
    Lost(Name),
}

/// A sign as a step of a round or an answer names it.
#[derive(Clone, Debug, PartialEq)]
pub enum Question {
    /// whether each drawer is stiff
    Whether(Thing, Verb, Name),
    /// how wide each bottom is split
    HowMuch(Name, Thing, Option<Name>),
    /// which point each screw has
    Which(Name, Thing),
    /// `[count] the supports of each fall`
    Count(Name, Thing),
}

/// A sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Sentence {
    /// If … then …
    Rule {
        /// What must be so.
        when: Conditions,
        /// What follows.
        result: Clause,
        /// "or blistered"
        or: Vec<Name>,
        /// A second result, which is refused.
        second: Option<Span>,
        /// The exception.
        unless: Option<Conditions>,
    },
    /// If …, that usually means …
    Means {
        /// The sign.
        sign: Conditions,
        /// How often.
        often: Frequency,
        /// What it means.
        fault: Clause,
    },
    /// When … plan to …
    Plan {
        /// What must be so.
        when: Conditions,
        /// The job.
        job: Name,
    },
    /// When …, instead of … plan to …
    StandIn {
        /// What must be so.
        when: Conditions,
        /// The job that is not planned then.
        replaced: Name,
        /// The one that is planned in its place.
        job: Name,
    },
    /// [When …,] depending on how …
    Ladder {
        /// What must be so.
        when: Option<Conditions>,
        /// "much".
        word: Name,
        /// The part; nothing for "it".
        noun: Option<Name>,
        /// Where the part or "it" stands.
        thing_at: Span,
        /// "worn".
        phrase: Option<Name>,
        /// The steps; no job for "nothing".
        rungs: Vec<(Quantity, Option<Name>)>,
        /// The last step.
        more: Option<Option<Name>>,
    },
    /// Job: …
    Job {
        /// Its name.
        job: Name,
        /// once for each …
        once_for: Option<Name>,
    },
    /// Always … before you …
    Order {
        /// "When …," before it, which is refused.
        hangs: Option<Span>,
        /// "Always" rather than "Better".
        always: bool,
        /// The earlier one.
        before: Name,
        /// The later one.
        after: Name,
        /// Why.
        because: Option<Span>,
    },
    /// [When …,] never plan to … and … together: the words between.
    Exclusion {
        /// What must be so.
        when: Option<Conditions>,
        /// Both jobs with "and" between, split at each "and" that may divide.
        splits: Vec<(Name, Name)>,
    },
    /// Take care when …
    Caution {
        /// "Stop".
        stop: bool,
        /// What must be so.
        when: Conditions,
        /// What the screen says.
        text: Name,
    },
    /// Tell the owner when …
    Tell {
        /// What must be so.
        when: Conditions,
        /// What the owner is told.
        text: Name,
    },
    /// … is not earlier than …, … has lost a …
    Dating {
        /// The part.
        noun: Name,
        /// that …
        that: Option<Clause>,
        /// What it says.
        bound: NewBound,
        /// in …
        region: Option<Name>,
    },
    /// … is at most one of …
    AtMostOne {
        /// The part.
        noun: Name,
        /// "shows", not "is".
        shows: bool,
        /// What it is at most one of.
        phrases: Vec<Name>,
    },
    /// … is usually earlier than its …, … has a later …
    Relative {
        /// The part that others are built into.
        noun: Name,
        /// that …
        that: Option<Clause>,
        /// What is said of these.
        says: Beside,
        /// Where "usually" is missing.
        usually: Option<Span>,
        /// What is built into it.
        other: Name,
    },
    /// … can be … only if …
    OnlyIf {
        /// The part.
        noun: Name,
        /// What can be said of it.
        phrase: Name,
        /// "show" rather than "be".
        shows: bool,
        /// What must be so.
        when: Conditions,
    },
    /// Leave out …
    LeaveOut {
        /// The name of a sentence.
        name: Name,
        /// Why.
        because: Option<Span>,
    },
}

/// A step of a round as written.
#[derive(Clone, Debug, PartialEq)]
pub struct NewStep {
    /// Its number.
    pub number: u32,
    /// How it is found out.
    pub sense: Sense,
    /// Where that stands.
    pub sense_at: Span,
    /// What.
    pub question: Question,
    /// only if …
    pub only_if: Option<Conditions>,
    /// only once it is known …
    pub known: Option<(Question, Span)>,
    /// All of it.
    pub at: Span,
}
