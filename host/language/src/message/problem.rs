//! Everything there is to say about a house's files: one variant for each
//! numbered entry of `messages.txt`, with what fills the blanks of its wording.
//!
//! Level and wording stand in `messages.txt`, so that they can be improved
//! without any Rust; a test holds the two together. A number is never used
//! again: 42, 43, 46, 47, 53, 56, 57, 60, 64, 71, 75, 76 and 243
//! are retired.

/// What fills one blank of a wording.
trait Blank {
    /// The words; nothing if they are not known.
    fn words(&self) -> Option<String>;
}

impl Blank for &str {
    fn words(&self) -> Option<String> {
        Some((*self).to_owned())
    }
}

impl Blank for u16 {
    fn words(&self) -> Option<String> {
        Some(self.to_string())
    }
}

impl Blank for u32 {
    fn words(&self) -> Option<String> {
        Some(self.to_string())
    }
}

impl Blank for usize {
    fn words(&self) -> Option<String> {
        Some(self.to_string())
    }
}

impl<T: Blank> Blank for Option<T> {
    fn words(&self) -> Option<String> {
        self.as_ref().and_then(Blank::words)
    }
}

/// One row for each message: its number, its name, and its blanks. Of this are
/// made [`Problem`] with the blanks as fields, and [`ProblemKind`] without.
macro_rules! problems {
    ($(
        $(#[$doc:meta])*
        $number:literal => $name:ident $({ $($blank:ident: $words:ty),* $(,)? })?,
    )*) => {
        /// One thing to say, with what fills the blanks of its wording. A blank
        /// that is `None` makes the wording one that does without it.
        #[derive(Clone, Copy, Debug, PartialEq)]
        pub enum Problem<'a> {
            $(
                $(#[$doc])*
                $name $({ $(
                    #[doc = concat!("Fills `{", stringify!($blank), "}`.")]
                    $blank: $words
                ),* })?,
            )*
        }

        impl Problem<'_> {
            /// Which one it is.
            #[must_use]
            pub fn kind(&self) -> ProblemKind {
                match self {
                    $(Problem::$name { .. } => ProblemKind::$name,)*
                }
            }

            /// The blanks by name, with their words where they are known.
            #[must_use]
            pub fn blanks(&self) -> Vec<(&'static str, Option<String>)> {
                match *self {
                    $(Problem::$name $({ $($blank),* })? => {
                        vec![$($((stringify!($blank), Blank::words(&$blank))),*)?]
                    })*
                }
            }
        }

        /// Which message it is; as a number, the one in `messages.txt`.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[repr(u16)]
        pub enum ProblemKind {
            $($(#[$doc])* $name = $number,)*
        }

        impl ProblemKind {
            /// Every one, with its blanks by name, and whether each may be unknown.
            pub const ALL: &'static [(ProblemKind, &'static [(&'static str, bool)])] = &[
                $((
                    ProblemKind::$name,
                    &[$($((stringify!($blank), may_be_unknown(stringify!($words)))),*)?],
                ),)*
            ];

            /// The one with this number.
            #[must_use]
            pub fn numbered(number: u16) -> Option<ProblemKind> {
                let mut all = Self::ALL.iter().map(|(kind, _)| *kind);
                all.find(|kind| kind.number() == number)
            }

            /// Its number in `messages.txt`.
            #[must_use]
            pub fn number(self) -> u16 {
                self as u16
            }
        }
    };
}

/// Whether a blank of this type may be unknown.
const fn may_be_unknown(words: &str) -> bool {
    matches!(words.as_bytes(), [b'O', b'p', b't', ..])
}

problems! {
    // ---- words

    /// A part that is not known, near to one that is.
    1 => MisspeltPart { word: &'a str, near: &'a str },
    /// A plural that is not the one of a known part.
    2 => WrongPlural {
        word: &'a str,
        part: Option<&'a str>,
        plural: Option<&'a str>,
        declared: Option<&'a str>,
    },
    /// A part that is not known.
    3 => UnknownPart {
        word: &'a str,
        whose: Option<&'a str>,
        whose_noun: Option<&'a str>,
        owner: Option<&'a str>,
        parts: Option<&'a str>,
    },
    /// The same is declared of a part twice.
    4 => SaidAlready { phrase: &'a str, owner: &'a str, line: &'a str },
    /// A word would mean two things.
    5 => WordOfTwoMeanings {
        word: &'a str,
        one: &'a str,
        line: &'a str,
        other: &'a str,
        otherline: &'a str,
    },
    /// The subject has no part of this kind.
    6 => HasNoSuchPart {
        subject: &'a str,
        part: &'a str,
        subject_cap: &'a str,
        parts: Option<&'a str>,
        owner: Option<&'a str>,
        plural: &'a str,
    },
    /// A phrase that is said of another kind of part.
    7 => SaidOfAnotherPart {
        phrase: &'a str,
        owner: &'a str,
        other: &'a str,
        ownername: &'a str,
        declared: &'a str,
    },
    /// A small word stands in a new name.
    8 => SmallWordInName { word: &'a str, each: Option<&'a str> },
    /// Another word than the house's own.
    9 => HouseWord { word: &'a str, name: &'a str, line: &'a str },
    /// The region of the pack does not settle a word of two meanings.
    10 => RegionOpen {
        word: &'a str,
        region: &'a str,
        marked: &'a str,
        pack: Option<&'a str>,
        other: &'a str,
    },

    // ---- the shape of the sentence

    /// `If` without `then`.
    11 => ThenMissing { before: Option<&'a str>, after: Option<&'a str> },
    /// `more then 2 mm`.
    12 => ThenForThan { word: &'a str, amount: &'a str },
    /// `and` and `or` in one row.
    13 => AndWithOr { subject: &'a str },
    /// A line that belongs to the sentence above is not moved in.
    14 => NotMovedIn { word: &'a str },
    /// A rule with two results.
    15 => SecondResult { second: &'a str },
    /// A rule that concludes that something is not so.
    16 => ReasonAgainst { they: &'a str, line: Option<&'a str> },
    /// A word that cannot be read here.
    17 => UnknownWord {
        word: &'a str,
        near: Option<&'a str>,
        figure: Option<&'a str>,
        read: Option<&'a str>,
        wants: Option<&'a str>,
    },
    /// A word that should say how often, and is none of the house's.
    18 => UnknownStrength { word: &'a str, words: &'a str },
    /// How often stands at the end.
    19 => StrengthAtEnd { be: &'a str, word: &'a str, right: &'a str },
    /// `rarely` as the strength of a reason.
    20 => WeakStrength { word: &'a str, phrase: &'a str, line: Option<&'a str> },
    /// A sentence that begins in no known way.
    21 => UnknownBeginning { word: &'a str, near: Option<&'a str> },
    /// It is not said whose parts are meant.
    22 => Nobodys {
        plural: &'a str,
        example: Option<&'a str>,
        opening: Option<&'a str>,
        owner: Option<&'a str>,
        count: Option<&'a str>,
    },
    /// A label that is not known.
    23 => UnknownLabel { word: &'a str, near: Option<&'a str>, labels: Option<&'a str> },
    /// A text without its closing quotation mark.
    24 => OpenText { line: &'a str },
    /// Two steps of a round have one number.
    25 => StepNumberTwice { number: u32 },
    /// Two negations in one sentence.
    26 => DoubleNegative { right: Option<&'a str> },

    // ---- it, its, the, any, every

    /// `it` with nothing that it could mean.
    27 => NothingToStandFor { word: &'a str, opening: &'a str, example: &'a str },
    /// One of several parts is spoken of as if it were the only one.
    28 => AnyOrEvery { owner: &'a str, plural: &'a str },
    /// `the` part in a sentence that has not named it.
    29 => WhichOne { part: &'a str, a_part: &'a str },
    /// `it` seems to be meant for another part than the subject.
    30 => ItIsTheSubject { subject: &'a str, other: &'a str },
    /// `the same` of what may be several.
    31 => SameOfSeveral {
        plural: &'a str,
        part: &'a str,
        a_part: &'a str,
        opening: &'a str,
        subject: &'a str,
    },
    /// Parts of this kind are built in at several places.
    32 => InSeveralPlaces {
        owner: &'a str,
        plural: &'a str,
        number: &'a str,
        places: &'a str,
        examples: &'a str,
    },

    // ---- numbers and units

    /// A quantity without its unit.
    33 => UnitMissing { number: &'a str, unit: &'a str },
    /// A quantity outside the range of its measure.
    34 => OutsideRange {
        amount: &'a str,
        converted: &'a str,
        least: &'a str,
        most: &'a str,
        unit: &'a str,
        sign: &'a str,
        line: &'a str,
        near: Option<&'a str>,
    },
    /// A length where a share is measured, or the reverse.
    35 => OtherDimension { kind: &'a str, other: &'a str, sign: &'a str, unit: &'a str },
    /// A decimal comma.
    36 => DecimalComma { whole: &'a str, rest: &'a str, right: &'a str },
    /// The larger number of two stands first.
    37 => LargerFirst { right: &'a str },
    /// A number of parts that the makeup rules out.
    38 => NumberNeverSo { owner: &'a str, range: &'a str, line: &'a str },
    /// A year that is none, or is still to come.
    39 => NoSuchYear { future: Option<&'a str>, words: Option<&'a str>, near: Option<&'a str> },

    // ---- marks and ladders

    /// The rungs of a ladder do not rise.
    40 => RungsNotRising { this: &'a str, before: &'a str },
    /// A ladder without `more:`.
    41 => NoLastRung { last: &'a str },

    // ---- rules seen together

    /// Rules that go round in a circle.
    44 => RuleCircle { circle: &'a str, lines: &'a str, alike: Option<&'a str> },
    /// Two rules with the same conditions and result.
    45 => SameRuleTwice {
        line: &'a str,
        otherline: &'a str,
        one: &'a str,
        other: &'a str,
        together: &'a str,
    },
    /// A hidden fault that no finding bears on.
    48 => NothingReveals { owner: &'a str, phrase: &'a str },
    /// A sign that no round asks for.
    49 => NeverAsked { question: &'a str },
    /// Nobody is asked to count these parts.
    50 => NotCounted { plural: &'a str, owner: &'a str },
    /// A step waits for one that comes later.
    51 => WaitsForLaterStep { step: usize, question: &'a str, later: usize },
    /// A chance on its own is missing.
    52 => NoStartingChance {
        owner: Option<&'a str>,
        phrase: Option<&'a str>,
        sign: Option<&'a str>,
        sort: &'a str,
        often: &'a str,
    },
    /// A kind of part whose tables would be too large.
    54 => TooTangled {
        part: &'a str,
        size: &'a str,
        line: Option<&'a str>,
        sentence: Option<&'a str>,
    },

    // ---- jobs, cautions, dates

    /// A hidden fault triggers a plan without saying how sure one must be.
    55 => SurenessMissing { phrase: &'a str },
    /// A job that is not known.
    58 => UnknownJob { label: Option<&'a str>, job: &'a str, near: Option<&'a str> },
    /// Jobs that wait for each other.
    59 => JobCircle { circle: &'a str, lines: &'a str },
    /// A job without its time.
    61 => TimeMissing { job: &'a str, near: Option<&'a str> },
    /// A job that nothing plans.
    62 => NeverPlanned { job: &'a str },
    /// Two datings of the same thing that leave no year.
    63 => DatesDisagree {
        part: &'a str,
        earliest: u16,
        line: &'a str,
        latest: u16,
        otherline: &'a str,
    },
    /// `later than its …` of something a part is not built into.
    130 => NotBuiltIntoIt { subject: &'a str, owners: &'a str, words: &'a str },
    /// `later than its …` of a whole piece.
    131 => PieceLater { subject: &'a str },
    /// A trace or a later fitting that would hold of every such part.
    132 => HoldsOfEvery { part: &'a str, right: &'a str },
    /// `later than 1850` where `not earlier than` is meant.
    133 => YearWithoutNot { words: &'a str, right: &'a str },

    // ---- the whole pack

    /// A `that means` sentence that cannot come true.
    129 => MeansMissed {
        fault: &'a str,
        reached: &'a str,
        wanted: &'a str,
        before: &'a str,
        ways: Option<&'a str>,
    },

    // ---- sources and the screen

    /// A sentence without its source.
    65 => SourceMissing,
    /// A source that is not declared.
    66 => UnknownSource { word: &'a str, near: Option<&'a str>, line: Option<&'a str> },
    /// A source from which nothing is taken.
    67 => UnusedSource { name: &'a str },
    /// A text that does not fit the bench screen.
    68 => TextTooLong {
        text: &'a str,
        length: Option<usize>,
        room: usize,
        lines: Option<usize>,
        over: Option<usize>,
    },
    /// A word longer than a line of the bench screen.
    69 => WordTooLong { word: &'a str, room: usize },
    /// A character that the bench screen does not have.
    70 => SignNotShown { sign: &'a str, shown: &'a str, right: Option<&'a str> },

    // ---- examples

    /// An example speaks of a part that its piece has not.
    72 => NoSuchPartInExample {
        has: &'a str,
        part: &'a str,
        piece: Option<&'a str>,
        number: Option<&'a str>,
        plural: Option<&'a str>,
    },
    /// An example gives both a finding and its opposite.
    73 => GivenBothWays {
        line: &'a str,
        otherline: &'a str,
        part: &'a str,
        one: &'a str,
        other: &'a str,
    },
    /// An example does not come out as expected.
    74 => ExpectationMissed { expected: &'a str, found: &'a str, called: Option<&'a str> },

    // ---- more about sentences

    /// A phrase that cannot be said of a part.
    77 => UnknownPhrase {
        phrase: &'a str,
        owner: &'a str,
        near: Option<&'a str>,
        known: Option<&'a str>,
    },
    /// A sentence that cannot be read from here on.
    78 => Unreadable { read: Option<&'a str>, wants: &'a str, example: Option<&'a str> },
    /// A line of a list under neither of its neighbours.
    79 => ListNotAligned,
    /// A measured phrase without an amount.
    80 => AmountMissing { phrase: &'a str, amount: &'a str },
    /// `cannot be seen` in what a rule concludes from.
    81 => NotSeenAsReason,
    /// A word for how sure in a rule.
    82 => SurenessInRule { word: &'a str },
    /// `not surely`.
    83 => NotWithSureness { word: &'a str },
    /// A word for how often in a condition.
    84 => StrengthInCondition { word: &'a str },
    /// Files without a title.
    85 => TitleMissing,
    /// A word listed twice.
    86 => ListedTwice { word: &'a str, line: &'a str },
    /// A name that no sentence has.
    87 => UnknownName { word: &'a str, near: Option<&'a str>, alike: Option<&'a str> },
    /// A label that does not belong to this sort of sentence.
    88 => LabelNotAllowed { label: &'a str, entry: &'a str, labels: &'a str },
    /// A label that stands twice.
    89 => LabelTwice { label: &'a str },
    /// A way up from the subject and down again.
    90 => UpAndDown { subject: &'a str, up: &'a str, a_up: &'a str },
    /// `every` of parts that there may be none of.
    91 => EveryOfNone { owner: &'a str, part: &'a str },
    /// A number of parts counted on another part than their owner.
    92 => CountedElsewhere { plural: &'a str, owner: &'a str },
    /// `has` of parts that belong to a part of it.
    93 => OnlyThrough { subject_cap: &'a str, plural: &'a str, through: &'a str },
    /// A second part of the subject's own kind.
    94 => AnotherOfTheKind { words: &'a str, part: &'a str },
    /// A value picks out some parts, of another kind than the subject.
    95 => ValueOfAnother { noun: &'a str, a_noun: &'a str, plural: &'a str, value: &'a str },
    /// A result that leaves open which part it is about.
    96 => ResultLeftOpen { word: &'a str, plural: &'a str, part: &'a str },
    /// A rule concludes something that has no name.
    97 => ResultHasNoName { owner: &'a str, phrase: Option<&'a str> },
    /// A step with another verb than its sign has.
    98 => OtherSense { word: &'a str, line: &'a str, sense: &'a str },
    /// A line moved in under nothing.
    99 => NothingAbove,
    /// A part that is built into itself.
    100 => PartOfItself { circle: &'a str },
    /// What stands after a label cannot be read.
    101 => LabelUnreadable { label: &'a str, form: &'a str },
    /// Several signs together, one of which is more than a yes or no.
    194 => NotYesOrNo { why: &'a str },
    /// What `that … means` is said of is not one sign of the part itself.
    102 => NotOneSign { owner: &'a str, phrase: Option<&'a str> },
    /// A sentence replaces one of another sort or about something else.
    103 => OtherSentenceInstead {
        name: &'a str,
        one: Option<&'a str>,
        other: Option<&'a str>,
        subject: Option<&'a str>,
        other_subject: Option<&'a str>,
    },
    /// A word would be said of a part in two ways.
    104 => SaidInTwoWays {
        word: &'a str,
        owner: &'a str,
        one: &'a str,
        line: &'a str,
        other: &'a str,
    },
    /// A noun said of itself.
    105 => SaysNothingNew { words: &'a str, owner: &'a str },
    /// An answer leaves open which part is meant.
    106 => WhichPart { part: &'a str, name: Option<&'a str>, names: Option<&'a str> },
    /// A sentence that was already said.
    107 => RepeatedSentence { line: &'a str },
    /// A part where a piece is wanted.
    108 => NotAPiece { a_part: &'a str, pieces: Option<&'a str> },
    /// A number that cannot be worked with.
    109 => BadNumberOfParts { words: &'a str, why: &'a str },
    /// A new name begins with a word for how often or how sure.
    110 => NameBeginsWithStrength { word: &'a str },
    /// A particular of a job is given in two places.
    111 => ParticularGivenTwice { label: &'a str, job: &'a str, line: &'a str },
    /// An answer gives a number of parts that the makeup rules out.
    112 => NumberOutsideMakeup { owner: &'a str, range: &'a str, line: &'a str, number: &'a str },
    /// A region that is not known.
    113 => UnknownRegion { word: &'a str },
    /// More of something than can be numbered.
    114 => TooMuch { things: &'a str, limit: &'a str },
    /// `is` where `shows` belongs, or the reverse.
    115 => WrongVerb { phrase: &'a str, right: &'a str, wrong: &'a str, words: &'a str },
    /// A result about one of several parts.
    116 => SeveralInResult { owner: &'a str, plural: &'a str },
    /// Several values without `either`.
    117 => EitherMissing { right: &'a str },
    /// A sentence that stops too early.
    118 => Incomplete { read: &'a str, wants: &'a str, example: &'a str },
    /// A round about a part.
    119 => RoundOfAPart { a_part: &'a str },
    /// An answer of another sort than the question.
    120 => WrongSortOfAnswer {
        word: &'a str,
        owner: &'a str,
        phrase: &'a str,
        one: &'a str,
        right: &'a str,
    },
    /// A house's sentence takes the place of a standard one.
    121 => ReplacesStandard { line: &'a str },
    /// A word for how sure in a result.
    122 => SurenessInResult { word: &'a str },
    /// A word of a measure that already means another.
    123 => WordTaken { word: &'a str, owner: &'a str, line: &'a str },
    /// Two different words for how many, one inside the other.
    124 => AmountInsideAmount,
    /// A part between two that were named is left out.
    125 => PartLeftOut { part: &'a str, owner: &'a str, a_between: &'a str, right: &'a str },
    /// A round asks for what cannot be seen.
    126 => HiddenInRound { phrase: &'a str },
    /// A word for how often or how sure in an answer.
    127 => StrengthInAnswer { word: &'a str },
    /// A colon without a label.
    128 => LooseColon { labels: &'a str },

    // ---- the house's scripts

    /// A script that cannot be read.
    134 => ScriptUnreadable { why: &'a str },
    /// A script without the function asked for.
    135 => FunctionMissing { function: &'a str },
    /// A script that stopped on what it was given.
    136 => ScriptStopped {
        operator: Option<&'a str>,
        given: Option<&'a str>,
        why: Option<&'a str>,
    },
    /// A script that does not come to an end.
    137 => ScriptEndless { function: &'a str },
    /// A script whose values grow without end.
    138 => ScriptGrows { function: &'a str },
    /// A script whose functions call each other without end.
    139 => ScriptTooDeep { function: &'a str },
    /// A script's function gave back something else than is wanted.
    140 => WrongReturn {
        function: &'a str,
        found: Option<&'a str>,
        wanted: Option<&'a str>,
        entry: Option<&'a str>,
        known: Option<&'a str>,
    },
    /// A script reads an entry that it was not given.
    141 => NothingCalledThat { name: &'a str },
    /// A script uses what scripts cannot use.
    142 => NotUsable { name: &'a str },
    /// What a house's own check says.
    143 => HouseCheck { said: &'a str, script: &'a str },
    /// A script stopped itself.
    144 => ScriptRefuses { said: &'a str },
    /// A script that the system had to stop.
    149 => ScriptOverran { why: &'a str },

    // ---- what the bench has room for

    /// A gauge coarser than a pack can hold.
    145 => GaugeTooCoarse { amount: &'a str, most: &'a str },
    /// A choice with more values than are told apart.
    146 => TooManyValues { number: usize, most: usize },
    /// A round with more steps than the bench walks.
    147 => RoundTooLong { most: usize },
    /// A measure with more marks than are told apart.
    148 => TooManyMarks { sign: &'a str, most: usize },
    /// Anything else that a pack or the unit has no room for.
    150 => NoRoom { found: &'a str, most: &'a str },

    // ---- measures as one quantity, and what can be at all

    /// "Only if" of what is measured or chosen.
    160 => CanAlwaysBe { phrase: &'a str },
    /// "Only if" of one kind of piece where the state is that of any piece.
    161 => OnlyIfOfEvery { owner: &'a str, verb: &'a str, phrase: &'a str },
    /// A rule that concludes a stretch with two ends.
    162 => BetweenConcluded { phrase: &'a str },
    /// A start for what follows from the marks that rules lead to.
    163 => FollowsFromMarks { phrase: &'a str },
    /// Rules that lead along one measure both ways.
    167 => MeasureLedBothWays { phrase: &'a str },
    /// Two names for one mark.
    164 => SameMark { other: &'a str, line: &'a str, phrase: &'a str },

    /// A label that says nothing of such a sign.
    165 => LabelDoesNotFit { label: &'a str, sort: &'a str },
    /// "Usually:" with something that is not a value of the choice.
    166 => NotAmongValues { word: &'a str, values: &'a str },

    /// A count of the parts of any piece.
    168 => CountOfAnyPiece { parts: &'a str, owner: &'a str },

    /// A name for what is so of every reading, or of none.
    169 => MarkBeyondRange { phrase: &'a str, when: &'a str },

    /// A figure for "by definition".
    170 => DefinitionIsExact,

    /// A list of which more lines are to be so than it has, or none.
    171 => SoManyOfThese { enough: u32, lines: usize },
    /// A list of too many lines, of which some are enough.
    172 => TooManyToChooseFrom { lines: usize, most: usize },
    /// The same thing twice where one of several is said to be so.
    173 => NamedTwice { phrase: &'a str },
    /// More results after "or", or more that exclude one another, than can be told apart.
    174 => TooManyAlternatives { most: usize },
    /// "At most one of" with one thing only.
    175 => OneAlone { phrase: &'a str },
    /// "At most one of" with a mark on a measure or a value of a choice.
    176 => ExcludesAnyway { phrase: &'a str },
    /// "At most one of" with something that is said of another kind of part.
    177 => ExcludedOfEvery { owner: &'a str, phrase: &'a str },
    /// "At most one of" with something that another such sentence has.
    178 => InTwoExclusions { phrase: &'a str, line: &'a str },
    /// A sentence about several signs that cannot come true.
    240 => TogetherMissed {
        reached: &'a str,
        wanted: &'a str,
        less: Option<&'a str>,
    },
    /// A rule about little of a measure of which nobody says how much there usually is.
    241 => TakenForSmallest { how: &'a str, smallest: &'a str, share: &'a str },
    /// So many of several signs, no more, tell against the fault.
    242 => JustSoManyTellAgainst {
        enough: usize,
        all: usize,
        just: &'a str,
        before: &'a str,
    },
    /// What a sign of several parts means, said of something else than what they are
    /// parts of.
    180 => PartsMeanOwn { owner: &'a str },
    /// "At most one of" with a sign of which another sentence says what it means.
    179 => ExcludedSignMeans { phrase: &'a str, line: &'a str },

    // ---- kinds

    /// A kind that would be a kind of itself.
    181 => KindOfItself { circle: &'a str },
    /// A kind of two kinds.
    182 => KindOfTwo { a_kind: &'a str, general: &'a str, line: &'a str },
    /// A piece that is a kind of a part, or the other way about.
    183 => KindOfAnother { special: &'a str, general: &'a str, which: &'a str },
    /// "Has no …" of what it would not have anyway.
    184 => NothingLeftOut { owner: &'a str, part: &'a str, a_general: Option<&'a str> },
    /// What is had and left out.
    185 => HadAndLeftOut { owner: &'a str, parts: &'a str, line: &'a str },
    /// A sign or fault that the general kind has already.
    186 => SaidOfGeneral {
        phrase: &'a str,
        a_kind: &'a str,
        general: &'a str,
        line: &'a str,
    },
    /// A word that could mean parts of several kinds.
    187 => WhichKind { word: &'a str, kinds: &'a str, example: &'a str },
    /// A kind within another kind of the same.
    188 => KinWithinKin { inner: &'a str, outer: &'a str, general: &'a str },
    /// A number of parts of several kinds that could be made up in very many ways.
    190 => TooManyWays { kinds: &'a str, most: usize },
    /// A number of parts of several kinds, of each of several parts.
    189 => CountedOverKinds { owner: &'a str, plural: &'a str, kinds: &'a str },

    // ---- what a house changes in the rules it builds on

    /// "Instead of" before a sentence that is given anew by its own words.
    151 => InsteadOfDeclared { name: &'a str, entry: &'a str, again: Option<&'a str> },
    /// A name that several sentences have.
    152 => NameOfSeveral { name: &'a str, number: usize, lines: &'a str },
    /// A name that another sentence was given.
    153 => CalledTwice { name: &'a str, line: &'a str, instead: Option<&'a str> },
    /// A name that could not be written after "Instead of".
    154 => BadSentenceName { name: &'a str, sign: &'a str },
    /// A sentence of the house that keeps another from coming true.
    155 => SentencesPullApart {
        other: &'a str,
        means_line: &'a str,
        rule_line: &'a str,
        sign: &'a str,
        fault: &'a str,
        wanted: &'a str,
        reached: &'a str,
        alone: &'a str,
        unsaid: &'a str,
        ways: &'a str,
    },
    /// A change of the house that keeps a sentence from coming true.
    156 => ChangeUndoes {
        means_line: &'a str,
        sign: &'a str,
        fault: &'a str,
        wanted: &'a str,
        reached: &'a str,
        alone: &'a str,
        others: Option<usize>,
        ways: &'a str,
    },
    /// A rule that comes to less than its figure.
    157 => ComesShort {
        line: Option<&'a str>,
        wanted: &'a str,
        reached: &'a str,
        certainly: &'a str,
        signs: &'a str,
        others: Option<usize>,
        ways: Option<&'a str>,
    },

    // ---- work that hangs on something

    /// A job in its own place.
    201 => StandsInForItself { job: &'a str },
    /// Jobs that stand in for each other.
    202 => StandInCircle { circle: &'a str, lines: &'a str },
    /// A job in the place of one that nothing plans.
    203 => NothingToStandInFor { job: &'a str },
    /// A condition about something that the replaced job has nothing to do with.
    204 => StandInElsewhere { job: &'a str, planned: &'a str, subject: &'a str },
    /// A condition about the parts of what the replaced job's part is built into.
    205 => StandInOfOtherParts { job: &'a str, planned: &'a str, subject: &'a str },
    /// A job is replaced that another needs first, or that must follow another.
    206 => StandInForTied { label: &'a str, job: &'a str, other: &'a str, line: &'a str, instead: &'a str },
    /// The replaced job has a place in the order of work; the other has none there.
    207 => StandInWithoutPlace {
        replaced: &'a str,
        order: &'a str,
        line: &'a str,
        job: &'a str,
        right: &'a str,
    },
    /// A ladder about "it" without "When", or about a part after "When".
    208 => LadderOfIt { noun: Option<&'a str> },
    /// An order of work that hangs on something.
    209 => OrderCannotHang,
    /// "Instead of" where a sentence of another sort would have it.
    210 => InsteadOfElsewhere { example: &'a str },
    /// A step that waits for something of one part of several.
    211 => KnownOfEachOrAny { part: &'a str, plural: &'a str },

    // ---- what is older than what

    /// "Is earlier than its …" without "usually".
    212 => UsuallyMissing { subject: &'a str, part: &'a str },
    /// "Usually later than its …", which is said the other way round.
    213 => UsuallyLater { right: Option<&'a str> },
    /// "Is often earlier than its …".
    215 => OnlyUsually,
    /// That one of several parts is later, as a rule.
    216 => LaterOfSeveral { example: &'a str },
    /// No comma after "When …".
    217 => CommaMissing { words: &'a str },
    /// A part that is not built straight into the other.
    214 => NotStraightInto { part: &'a str, subject: &'a str, owners: Option<&'a str> },

    // ---- degrees
    /// "is not slightly lifted".
    221 => NotJustDegree { phrase: &'a str, not: Option<&'a str> },
    /// "is at least stiff".
    222 => NoDegrees { phrase: &'a str },
    /// "is more than badly lifted", where badly is the highest degree.
    223 => DegreeBeyondRange { when: &'a str, sign: &'a str, degrees: &'a str },
    /// "is lifted 3 mm", where it is judged by eye.
    224 => JudgedNotMeasured { sign: &'a str, degrees: &'a str },
    /// Other degrees than those of the standard rules.
    225 => OtherDegrees { line: &'a str },
    /// "then it is at least noticeably lifted".
    226 => ResultBeyond { right: &'a str },
    /// "If a veneer is badly lifted, that usually means …".
    227 => MeansOneDegree { owner: &'a str, phrase: &'a str, degree: &'a str },
    /// The chance of just this degree.
    228 => ChanceOfDegree { phrase: &'a str },
    /// A single degree.
    229 => OneDegree { phrase: &'a str },
    /// "is probably badly lifted".
    230 => SurenessOfDegree { word: &'a str },
    /// "is either slightly lifted or badly lifted".
    231 => EitherDegree,

    // ---- time
    /// "1.5 months".
    232 => TimeTooFine { amount: &'a str },
    /// "how long ago … in mm".
    233 => NotATime { how: &'a str },
    /// "how long a piece is stood open, in weeks".
    234 => TimeLasts,
    /// "is moved 3 weeks".
    235 => TimeSaidSo { sign: &'a str, right: &'a str },

    /// "A chest has 4 feet", where its base has them.
    193 => SecondPlace {
        owner_cap: &'a str,
        plural: &'a str,
        holder: &'a str,
        holder_cap: &'a str,
        new: &'a str,
        own_holder: &'a str,
        a_own_holder: &'a str,
    },

    // ---- where a part stands among its like
    /// "Any other drawer", in a sentence about something else.
    244 => OtherThanWhat { part: &'a str, plural: &'a str, a_part: &'a str, subject: &'a str },
    /// "The lowest drawer", where nobody says from where drawers are counted.
    245 => NotCountedFrom {
        place: &'a str,
        owner: &'a str,
        owner_cap: &'a str,
        plural: &'a str,
        example: &'a str,
    },
    /// "The middle runner" of two.
    246 => NoSuchPlace {
        words: &'a str,
        part: &'a str,
        owner: &'a str,
        names: Option<&'a str>,
        plural: &'a str,
        most: Option<u32>,
    },
    /// "The runners of its lowest drawer".
    247 => PlaceOnTheWay { part: &'a str, a_part: &'a str, place: Option<&'a str> },
    /// "Both feet" of four.
    195 => BothOfSeveral { owner: &'a str, plural: &'a str, part: &'a str, most: u32 },
    /// "If drawer is stiff".
    196 => ArticleMissing { part: &'a str, a_part: &'a str },
    /// "Then it usually is stiff".
    197 => OftenBeforeIs { right: &'a str },
    /// "The other drawer" of several; "every other drawer".
    249 => SeveralOthers { part: &'a str, plural: &'a str, every: Option<&'a str> },
    /// "That means the other drawers are …".
    218 => MeansOthers { subject: &'a str },
    /// "The next drawer", "the drawer above it".
    219 => NextToOneAnother { plural: &'a str, part: &'a str },
    /// "whether the left runner …" in a step.
    191 => PlaceInStep { place: &'a str, noun: &'a str },
    /// "then the left runner …" in a sentence about a runner.
    192 => PlaceInResult { place: &'a str, part: &'a str },
    /// "A left runner", where left is another number in each owner.
    220 => PlaceDiffers { place: &'a str, part: &'a str, owners: &'a str },

    /// "Holds: usually" of a job without "Mends:".
    248 => HoldsNothing { job: &'a str },

    // ---- what is worked out
    /// "how high its left side is", where nobody measures that.
    236 => NoSuchMeasure { words: &'a str, owner: Option<&'a str> },
    /// A length and a share together.
    237 => UnlikeMeasures { one: &'a str, other: &'a str },
    /// The sum of one reading; the difference between several and another.
    238 => NotOneReading { several: Option<&'a str> },
    /// A note, or a step, about what is worked out.
    239 => IsWorkedOut { sign: &'a str, of: &'a str },

    // ---- words that are not taken for others
    /// "Never take bowed for wapred."
    250 => FriendOfNothing { phrase: &'a str, near: Option<&'a str> },
    /// "Never take drooping for sagging", where drooping is said for sagging.
    251 => FriendIsSaid { word: &'a str, phrase: &'a str, line: &'a str },

    // ---- plain words for the owner
    /// A fault in plain words without "had", "was" or "were".
    252 => PlainFaultNotPast { part: &'a str },
    /// A fault in plain words that does not say of which part.
    253 => PlainWithoutPart { part: &'a str, part_cap: &'a str },
    /// A job in plain words that does not say what was done.
    254 => PlainJobNotDone { done: &'a str },
    /// No whole sentence.
    255 => PlainHalf,
    /// Too long a sentence for a page.
    256 => PlainTooLong { number: usize, most: usize },
    /// What a job finds out is of a part that it is never done for.
    257 => UntilOfAnother { job: &'a str, done_for: &'a str, of: &'a str },
    /// A job is planned only from what it would find out.
    258 => UntilKnownBefore { job: &'a str, sign: &'a str },
    /// Two jobs of which one leads to the other are never to be planned together.
    259 => ExcludedAndTied { before: &'a str, after: &'a str, label: &'a str, line: &'a str },
    /// A job that is done once for something is called for by what is built into no such thing.
    260 => OnceForNoOwner { job: &'a str, once_for: &'a str, subject: &'a str, once: &'a str, of: &'a str },
    /// A bench remark that is empty or too long for the screen.
    261 => RemarkLength { number: usize, most: usize },
    /// A bench remark that is in the list already.
    262 => RemarkTwice { text: &'a str, line: &'a str },
    /// More bench remarks than the screen lists.
    263 => TooManyRemarks { most: usize },
    /// An everyday word of more than one thing, in a rule.
    264 => SaidOfSeveral { phrase: &'a str, owner: &'a str, things: &'a str },
    /// Something goes into a sum that it does not have.
    270 => NotFed { name: &'a str, sum: &'a str, names: &'a str, near: Option<&'a str> },
    /// Something goes into a sum twice.
    271 => FedTwice { name: &'a str },
    /// Something that a sum needs is not said.
    272 => FedTooLittle { sum: &'a str, missing: &'a str },
    /// Nothing that goes into a sum is found on the piece.
    273 => NothingFound { sum: &'a str },
    /// What goes into a sum is of another sort.
    274 => FedWrongly { name: &'a str, wanted: &'a str, found: &'a str },
    /// A wood, a cut or a soundness that the handbook does not know.
    275 => NotInHandbook { name: &'a str, what: &'a str, names: &'a str, near: Option<&'a str> },
    /// A sum that comes to nothing anywhere.
    276 => SumOfNothing { sum: &'a str, why: &'a str },
    /// A sum whose table would be too large.
    277 => SumTooLarge { sum: &'a str },
    /// A sum takes what is found of an owner that has kinds.
    278 => OwnerOfKinds { owner: &'a str, special: &'a str },
}
