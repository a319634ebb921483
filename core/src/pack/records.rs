//! The rows of a pack's tables. Each is a few 32-bit words, read on demand.

use super::Section;
use super::words::{NONE, byte, bytes, halves, high, low, word};

/// A row of fixed size.
pub trait Record: Sized {
    /// The section it stands in.
    const SECTION: Section;
    /// Its size in words.
    const WORDS: usize;
    /// From its words; missing words read as 0.
    fn read(words: &[u32]) -> Self;
}

/// Title and version of a pack, stored with postcard.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Manifest<'a> {
    /// "the bench at Mill Lane".
    #[serde(borrow)]
    pub title: &'a str,
    /// Version of the rules.
    pub version: u32,
    /// Version of the tool that made the pack.
    pub made_by: &'a str,
}

/// A kind of piece or part. Kind 0 is "the piece", whatever it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Kind {
    /// Text: singular.
    pub name: u16,
    /// Text: plural.
    pub plural: u16,
    /// First of its states; they stand together.
    pub first_state: u16,
    /// How many states it has.
    pub states: u16,
    /// First of its asks; they stand together.
    pub first_ask: u16,
    /// How many asks it has.
    pub asks: u16,
}

impl Record for Kind {
    const SECTION: Section = Section::Kinds;
    const WORDS: usize = 3;
    fn read(w: &[u32]) -> Self {
        Self {
            name: low(word(w, 0)),
            plural: high(word(w, 0)),
            first_state: low(word(w, 1)),
            states: high(word(w, 1)),
            first_ask: low(word(w, 2)),
            asks: high(word(w, 2)),
        }
    }
}

impl Kind {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 3] {
        [
            halves(self.name, self.plural),
            halves(self.first_state, self.states),
            halves(self.first_ask, self.asks),
        ]
    }
}

/// A kind where it stands in the tree of a piece. Places are in preorder: a
/// place comes after its owner, and `place..end` is everything built into it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// The kind.
    pub kind: u16,
    /// The place it is built into; [`NONE`] for a whole piece.
    pub owner: u16,
    /// One past the last place built into it.
    pub end: u16,
    /// Its belief fragment.
    pub fragment: u16,
    /// Fewest in one owner.
    pub least: u8,
    /// Most in one owner.
    pub most: u8,
    /// Taken for granted until counted.
    pub usual: u8,
    /// How many of them have names of their own (left, right).
    pub names: u8,
    /// Text: the first of those names; they stand together.
    pub first_name: u16,
    /// The ask of the owner's kind that counts them; [`NONE`] if nobody does.
    pub counted_by: u16,
}

impl Record for Place {
    const SECTION: Section = Section::Places;
    const WORDS: usize = 4;
    fn read(w: &[u32]) -> Self {
        Self {
            kind: low(word(w, 0)),
            owner: high(word(w, 0)),
            end: low(word(w, 1)),
            fragment: high(word(w, 1)),
            least: byte(word(w, 2), 0),
            most: byte(word(w, 2), 1),
            usual: byte(word(w, 2), 2),
            names: byte(word(w, 2), 3),
            first_name: low(word(w, 3)),
            counted_by: high(word(w, 3)),
        }
    }
}

impl Place {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 4] {
        [
            halves(self.kind, self.owner),
            halves(self.end, self.fragment),
            bytes([self.least, self.most, self.usual, self.names]),
            halves(self.first_name, self.counted_by),
        ]
    }
}

/// How a state is put into a sentence.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Verb {
    /// It is so.
    #[default]
    Is,
    /// It shows it.
    Shows,
    /// It has it (a mark on a count).
    Has,
}

/// How a state can be known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Nature {
    /// It can be looked at.
    #[default]
    Seen,
    /// Only when the piece is apart.
    Hidden,
    /// By a measure, a count or a choice.
    Mark,
}

/// How an answer decides a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trial {
    /// Yes.
    Yes,
    /// A reading or count within these bounds, both included.
    Within(i32, i32),
    /// This choice.
    Value(u8),
}

/// Something that may be true of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct State {
    /// Text: "sagging".
    pub phrase: u16,
    /// The kind it is said of.
    pub kind: u16,
    /// The ask that decides it.
    pub ask: u16,
    /// A yes/no ask that decides it when `ask` has no answer; [`NONE`] if none.
    pub whether: u16,
    /// How it is put into a sentence.
    pub verb: Verb,
    /// How it can be known.
    pub nature: Nature,
    /// What finding it late risks, 1 to 5; 0 if the house does not say.
    pub risk: u8,
    /// How an answer decides it.
    pub trial: Trial,
    /// Extra minutes when it is found late.
    pub missed: u16,
    /// Its chance when nothing gives a reason for it, in thousandths.
    pub own: u16,
}

impl Record for State {
    const SECTION: Section = Section::States;
    const WORDS: usize = 6;
    fn read(w: &[u32]) -> Self {
        let flags = word(w, 2);
        let (first, second) = (word(w, 3), word(w, 4));
        Self {
            phrase: low(word(w, 0)),
            kind: high(word(w, 0)),
            ask: low(word(w, 1)),
            whether: high(word(w, 1)),
            verb: match byte(flags, 0) {
                0 => Verb::Is,
                1 => Verb::Shows,
                _ => Verb::Has,
            },
            nature: match byte(flags, 1) {
                0 => Nature::Seen,
                1 => Nature::Hidden,
                _ => Nature::Mark,
            },
            risk: byte(flags, 2),
            trial: match byte(flags, 3) {
                0 => Trial::Yes,
                1 => Trial::Within(first.cast_signed(), second.cast_signed()),
                _ => Trial::Value(byte(first, 0)),
            },
            missed: low(word(w, 5)),
            own: high(word(w, 5)),
        }
    }
}

impl State {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 6] {
        let verb = match self.verb {
            Verb::Is => 0,
            Verb::Shows => 1,
            Verb::Has => 2,
        };
        let nature = match self.nature {
            Nature::Seen => 0,
            Nature::Hidden => 1,
            Nature::Mark => 2,
        };
        let (trial, first, second) = match self.trial {
            Trial::Yes => (0, 0, 0),
            Trial::Within(from, to) => (1, from.cast_unsigned(), to.cast_unsigned()),
            Trial::Value(value) => (2, u32::from(value), 0),
        };
        [
            halves(self.phrase, self.kind),
            halves(self.ask, self.whether),
            bytes([verb, nature, self.risk, trial]),
            first,
            second,
            halves(self.missed, self.own),
        ]
    }
}

/// How something is found out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Way {
    /// With the eye.
    #[default]
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
    /// By taking it apart.
    Open,
}

/// What an answer looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Yes or no.
    Whether,
    /// One of some values.
    Which {
        /// Text: the first value; they stand together.
        first: u16,
        /// How many.
        values: u16,
    },
    /// A reading.
    HowMuch {
        /// Smallest reading, in ticks.
        least: i32,
        /// Largest reading, in ticks.
        most: i32,
        /// One standard deviation of hand and gauge, in ticks.
        gauge: u16,
        /// The unit it is asked in (see `FORMAT.md`).
        unit: u8,
    },
    /// How many parts.
    HowMany {
        /// The kind of the parts.
        part: u16,
    },
}

/// How far a check interferes with the piece.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Touch {
    /// Looking, asking.
    #[default]
    Nothing,
    /// Pressing, pulling.
    ALittle,
    /// Opening, taking off.
    ALot,
}

/// Something that can be asked of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ask {
    /// The kind it is asked of.
    pub kind: u16,
    /// Text: the question on the screen; empty if no round asks it.
    pub question: u16,
    /// Text: how to check.
    pub how: u16,
    /// Text: "worn", "point": the words of a measure or choice.
    pub phrase: u16,
    /// Text: "wide", "much": how it is measured.
    pub word: u16,
    /// How it is found out.
    pub way: Way,
    /// How far that interferes.
    pub touch: Touch,
    /// Minutes it takes.
    pub minutes: u16,
    /// How often an ordinary answer is a slip, in thousandths.
    pub slip: u16,
    /// What an answer looks like.
    pub form: Form,
}

impl Record for Ask {
    const SECTION: Section = Section::Asks;
    const WORDS: usize = 7;
    fn read(w: &[u32]) -> Self {
        let flags = word(w, 3);
        let (first, second) = (word(w, 5), word(w, 6));
        Self {
            kind: low(word(w, 0)),
            question: high(word(w, 0)),
            how: low(word(w, 1)),
            phrase: high(word(w, 1)),
            word: low(word(w, 2)),
            minutes: high(word(w, 2)),
            way: match byte(flags, 0) {
                0 => Way::See,
                1 => Way::Feel,
                2 => Way::Hear,
                3 => Way::Smell,
                4 => Way::Ask,
                5 => Way::Measure,
                6 => Way::Count,
                _ => Way::Open,
            },
            touch: match byte(flags, 1) {
                0 => Touch::Nothing,
                1 => Touch::ALittle,
                _ => Touch::ALot,
            },
            slip: low(word(w, 4)),
            form: match byte(flags, 2) {
                0 => Form::Whether,
                1 => Form::Which {
                    first: low(first),
                    values: high(first),
                },
                2 => Form::HowMuch {
                    least: first.cast_signed(),
                    most: second.cast_signed(),
                    gauge: high(word(w, 4)),
                    unit: byte(flags, 3),
                },
                _ => Form::HowMany { part: low(first) },
            },
        }
    }
}

impl Ask {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 7] {
        let way = match self.way {
            Way::See => 0,
            Way::Feel => 1,
            Way::Hear => 2,
            Way::Smell => 3,
            Way::Ask => 4,
            Way::Measure => 5,
            Way::Count => 6,
            Way::Open => 7,
        };
        let touch = match self.touch {
            Touch::Nothing => 0,
            Touch::ALittle => 1,
            Touch::ALot => 2,
        };
        let (form, unit, gauge, first, second) = match self.form {
            Form::Whether => (0, 0, 0, 0, 0),
            Form::Which { first, values } => (1, 0, 0, halves(first, values), 0),
            Form::HowMuch {
                least,
                most,
                gauge,
                unit,
            } => (2, unit, gauge, least.cast_unsigned(), most.cast_unsigned()),
            Form::HowMany { part } => (3, 0, 0, u32::from(part), 0),
        };
        [
            halves(self.kind, self.question),
            halves(self.how, self.phrase),
            halves(self.word, self.minutes),
            bytes([way, touch, form, unit]),
            halves(self.slip, gauge),
            first,
            second,
        ]
    }
}

/// The directory entry of a belief fragment: how the states of one place
/// depend on each other, on the states of its owners that it reads and on its
/// own parts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Fragment {
    /// First word of its program in the code section.
    pub code: u32,
    /// States of owners that it reads.
    pub reads: u8,
    /// States of its owner that it feeds.
    pub feeds: u8,
    /// Kinds of part that are built into it.
    pub groups: u8,
    /// Constants.
    pub constants: u16,
    /// States.
    pub states: u16,
    /// Entries of its parts' tables, all groups together.
    pub table: u16,
    /// Sums and products.
    pub steps: u16,
}

/// Words of one group description in a fragment's program.
pub const GROUP_WORDS: usize = 9;

impl Fragment {
    /// Entries of its message: two to the power of reads and feeds.
    #[must_use]
    pub fn entries(&self) -> usize {
        1 << (u32::from(self.reads) + u32::from(self.feeds)).min(24)
    }

    /// Numbers that running it needs, of each of two kinds.
    #[must_use]
    pub fn nodes(&self) -> usize {
        usize::from(self.constants)
            + 2 * usize::from(self.states)
            + usize::from(self.table)
            + usize::from(self.steps)
    }

    /// Words of its program.
    #[must_use]
    pub fn code_words(&self) -> usize {
        2 * usize::from(self.constants)
            + self.entries().div_ceil(2)
            + GROUP_WORDS * usize::from(self.groups)
            + usize::from(self.steps)
    }
}

impl Record for Fragment {
    const SECTION: Section = Section::Fragments;
    const WORDS: usize = 4;
    fn read(w: &[u32]) -> Self {
        Self {
            code: word(w, 0),
            reads: byte(word(w, 1), 0),
            feeds: byte(word(w, 1), 1),
            groups: byte(word(w, 1), 2),
            constants: low(word(w, 2)),
            states: high(word(w, 2)),
            table: low(word(w, 3)),
            steps: high(word(w, 3)),
        }
    }
}

impl Fragment {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 4] {
        [
            self.code,
            bytes([self.reads, self.feeds, self.groups, 0]),
            halves(self.constants, self.states),
            halves(self.table, self.steps),
        ]
    }
}

/// How the parts of one kind report to their owner.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Group {
    /// States that they read.
    pub reads: u8,
    /// States that they feed.
    pub feeds: u8,
    /// First entry in the owner's table.
    pub table: u16,
    /// For each feed, how far the owner counts (1: some or none).
    pub caps: [u8; 12],
    /// For each read, where the owner has the state: one of its own (its
    /// number), one it reads itself (number + [`Group::READ`]), or neither
    /// ([`NONE`]: a helper state).
    pub sources: [u16; 10],
}

impl Group {
    /// Added to a source that the owner only passes on.
    pub const READ: u16 = 0x8000;

    /// From its words.
    #[must_use]
    pub fn read(w: &[u32]) -> Self {
        let mut caps = [0; 12];
        for (i, cap) in (0_u32..).zip(caps.iter_mut()) {
            *cap = byte(word(w, 1 + (i / 4) as usize), i % 4);
        }
        let mut sources = [NONE; 10];
        for (i, source) in sources.iter_mut().enumerate() {
            let pair = word(w, 4 + i / 2);
            *source = if i % 2 == 0 { low(pair) } else { high(pair) };
        }
        Self {
            reads: byte(word(w, 0), 0),
            feeds: byte(word(w, 0), 1),
            table: high(word(w, 0)),
            caps,
            sources,
        }
    }

    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; GROUP_WORDS] {
        let [c0, c1, c2, c3, c4, c5, c6, c7, c8, c9, c10, c11] = self.caps;
        let [s0, s1, s2, s3, s4, s5, s6, s7, s8, s9] = self.sources;
        [
            halves(
                u16::from(self.reads) | (u16::from(self.feeds) << 8),
                self.table,
            ),
            bytes([c0, c1, c2, c3]),
            bytes([c4, c5, c6, c7]),
            bytes([c8, c9, c10, c11]),
            halves(s0, s1),
            halves(s2, s3),
            halves(s4, s5),
            halves(s6, s7),
            halves(s8, s9),
        ]
    }

    /// Ways in which the feeds can have come out, counted up to their caps.
    #[must_use]
    pub fn outcomes(&self) -> usize {
        self.caps
            .iter()
            .take(usize::from(self.feeds))
            .fold(1, |n: usize, &cap| n.saturating_mul(usize::from(cap) + 1))
    }

    /// Entries in the owner's table; the largest number there is if there would be
    /// more of them than that.
    #[must_use]
    pub fn entries(&self) -> usize {
        let (outcomes, reads) = (self.outcomes(), u32::from(self.reads).min(16));
        if outcomes > usize::MAX >> reads {
            usize::MAX
        } else {
            outcomes << reads
        }
    }
}

/// What triggers a job: a condition on parts of one kind.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// The kind it is about.
    pub subject: u16,
    /// The job.
    pub job: u16,
    /// First word of the condition.
    pub condition: u32,
    /// Text: the source.
    pub source: u16,
}

impl Record for Plan {
    const SECTION: Section = Section::Plans;
    const WORDS: usize = 3;
    fn read(w: &[u32]) -> Self {
        Self {
            subject: low(word(w, 0)),
            job: high(word(w, 0)),
            condition: word(w, 1),
            source: low(word(w, 2)),
        }
    }
}

impl Plan {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 3] {
        [
            halves(self.subject, self.job),
            self.condition,
            u32::from(self.source),
        ]
    }
}

/// A job.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Job {
    /// Text: its name.
    pub name: u16,
    /// Text: materials, as one list.
    pub needs: u16,
    /// Minutes: quickest, usual, slowest; all 0 if not known.
    pub takes: [u16; 3],
    /// Minutes of waiting after it, least and most.
    pub waits: [u16; 2],
    /// The kind it is done once for; [`NONE`]: for the part that asks for it.
    pub once_for: u16,
    /// Text: the source.
    pub source: u16,
    /// Whether the owner must be asked first.
    pub ask_owner: bool,
    /// Where in the whole work it belongs: lower numbers come first.
    pub stage: u8,
}

impl Record for Job {
    const SECTION: Section = Section::Jobs;
    const WORDS: usize = 5;
    fn read(w: &[u32]) -> Self {
        Self {
            name: low(word(w, 0)),
            needs: high(word(w, 0)),
            takes: [low(word(w, 1)), high(word(w, 1)), low(word(w, 2))],
            waits: [high(word(w, 2)), low(word(w, 3))],
            once_for: high(word(w, 3)),
            source: low(word(w, 4)),
            ask_owner: high(word(w, 4)) & 1 != 0,
            stage: high(word(w, 4)).to_le_bytes()[1],
        }
    }
}

impl Job {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 5] {
        [
            halves(self.name, self.needs),
            halves(self.takes[0], self.takes[1]),
            halves(self.takes[2], self.waits[0]),
            halves(self.waits[1], self.once_for),
            halves(
                self.source,
                u16::from_le_bytes([u8::from(self.ask_owner), self.stage]),
            ),
        ]
    }
}

/// How one job comes before another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Force {
    /// Better so.
    #[default]
    Better,
    /// Always so.
    Always,
    /// Always so, and the earlier job is done for the sake of the later.
    First,
}

/// One job before another.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Constraint {
    /// Comes first.
    pub before: u16,
    /// Comes after it.
    pub after: u16,
    /// Text: why.
    pub because: u16,
    /// How much it holds.
    pub force: Force,
}

impl Record for Constraint {
    const SECTION: Section = Section::Constraints;
    const WORDS: usize = 2;
    fn read(w: &[u32]) -> Self {
        Self {
            before: low(word(w, 0)),
            after: high(word(w, 0)),
            because: low(word(w, 1)),
            force: match high(word(w, 1)) {
                0 => Force::Better,
                1 => Force::Always,
                _ => Force::First,
            },
        }
    }
}

impl Constraint {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 2] {
        let force = match self.force {
            Force::Better => 0,
            Force::Always => 1,
            Force::First => 2,
        };
        [halves(self.before, self.after), halves(self.because, force)]
    }
}

/// A caution: a condition on parts of one kind, and what to say.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Caution {
    /// The kind it is about.
    pub subject: u16,
    /// Text: what the screen says.
    pub text: u16,
    /// First word of the condition.
    pub condition: u32,
    /// Text: the source.
    pub source: u16,
    /// Stop, rather than take care.
    pub stop: bool,
}

impl Record for Caution {
    const SECTION: Section = Section::Cautions;
    const WORDS: usize = 3;
    fn read(w: &[u32]) -> Self {
        Self {
            subject: low(word(w, 0)),
            text: high(word(w, 0)),
            condition: word(w, 1),
            source: low(word(w, 2)),
            stop: high(word(w, 2)) != 0,
        }
    }
}

impl Caution {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 3] {
        [
            halves(self.subject, self.text),
            self.condition,
            halves(self.source, u16::from(self.stop)),
        ]
    }
}

/// What a dating says of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    /// Made in this year or later.
    NotEarlier(u16),
    /// Made in this year or earlier.
    NotLater(u16),
    /// Mostly made from the first of these years to the second.
    Usually(u16, u16),
    /// Fits no trace, so made after what it is built into, where that is of this
    /// kind.
    Later(u16),
    /// Shows the trace of something that is gone; the text says of what. Nothing
    /// follows for when it was made.
    Lost(u16),
}

impl Default for Bound {
    fn default() -> Self {
        Self::NotEarlier(0)
    }
}

/// A dating.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Dating {
    /// The kind it dates.
    pub subject: u16,
    /// Text: the source.
    pub source: u16,
    /// First word of the condition.
    pub condition: u32,
    /// What it says.
    pub bound: Bound,
    /// 0 weak, 1 fair, 2 strong.
    pub strength: u8,
    /// 0 anywhere, 1 Britain, 2 America.
    pub region: u8,
}

impl Record for Dating {
    const SECTION: Section = Section::Datings;
    const WORDS: usize = 4;
    fn read(w: &[u32]) -> Self {
        let flags = word(w, 3);
        let (first, second) = (low(word(w, 2)), high(word(w, 2)));
        Self {
            subject: low(word(w, 0)),
            source: high(word(w, 0)),
            condition: word(w, 1),
            bound: match byte(flags, 0) {
                0 => Bound::NotEarlier(first),
                1 => Bound::NotLater(first),
                2 => Bound::Usually(first, second),
                3 => Bound::Later(first),
                _ => Bound::Lost(first),
            },
            strength: byte(flags, 1),
            region: byte(flags, 2),
        }
    }
}

impl Dating {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 4] {
        let (bound, first, second) = match self.bound {
            Bound::NotEarlier(year) => (0, year, 0),
            Bound::NotLater(year) => (1, year, 0),
            Bound::Usually(from, to) => (2, from, to),
            Bound::Later(kind) => (3, kind, 0),
            Bound::Lost(what) => (4, what, 0),
        };
        [
            halves(self.subject, self.source),
            self.condition,
            halves(first, second),
            bytes([bound, self.strength, self.region, 0]),
        ]
    }
}

/// The round of a piece: steps that stand together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Round {
    /// The kind of piece.
    pub piece: u16,
    /// Its first step.
    pub first: u16,
    /// How many steps.
    pub steps: u16,
}

impl Record for Round {
    const SECTION: Section = Section::Rounds;
    const WORDS: usize = 2;
    fn read(w: &[u32]) -> Self {
        Self {
            piece: low(word(w, 0)),
            first: high(word(w, 0)),
            steps: low(word(w, 1)),
        }
    }
}

impl Round {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 2] {
        [halves(self.piece, self.first), u32::from(self.steps)]
    }
}

/// A step of a round.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Step {
    /// What is asked, of every part of its kind.
    pub ask: u16,
    /// First word of the condition, with the piece as subject.
    pub condition: u32,
}

impl Record for Step {
    const SECTION: Section = Section::Steps;
    const WORDS: usize = 2;
    fn read(w: &[u32]) -> Self {
        Self {
            ask: low(word(w, 0)),
            condition: word(w, 1),
        }
    }
}

impl Step {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 2] {
        [u32::from(self.ask), self.condition]
    }
}

/// Two numbers that belong together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Pair {
    /// A job.
    pub job: u16,
    /// A job never planned with it, or a state that it mends.
    pub other: u16,
    /// `other` is a state.
    pub mends: bool,
}

impl Record for Pair {
    const SECTION: Section = Section::Pairs;
    const WORDS: usize = 2;
    fn read(w: &[u32]) -> Self {
        Self {
            job: low(word(w, 0)),
            other: high(word(w, 0)),
            mends: word(w, 1) != 0,
        }
    }
}

impl Pair {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 2] {
        [halves(self.job, self.other), u32::from(self.mends)]
    }
}

/// A sentence that gives a reason for a state.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sentence {
    /// The state it gives a reason for.
    pub state: u16,
    /// Its strength in thousandths.
    pub strength: u16,
    /// Text: the sentence as the house wrote it.
    pub text: u16,
    /// Text: the source.
    pub source: u16,
}

impl Record for Sentence {
    const SECTION: Section = Section::Sentences;
    const WORDS: usize = 2;
    fn read(w: &[u32]) -> Self {
        Self {
            state: low(word(w, 0)),
            strength: high(word(w, 0)),
            text: low(word(w, 1)),
            source: high(word(w, 1)),
        }
    }
}

impl Sentence {
    /// Its words.
    #[must_use]
    pub fn words(&self) -> [u32; 2] {
        [
            halves(self.state, self.strength),
            halves(self.text, self.source),
        ]
    }
}
