//! A compiled pack: what a house's rules say, as bytes.
//!
//! [`Pack::open`] checks the bytes once: header, checksum, section sizes and
//! every index and program. After that nothing can fail and nothing is copied;
//! records are read in place, in flash on the bench unit. The layout is
//! described in `core/src/pack/FORMAT.md`.

mod check;
pub mod condition;
mod layout;
mod manifest;
mod program;
mod records;
mod sum_table;
mod words;

pub use manifest::Manifest;
pub use program::{Operation, Program};
pub use records::{
    Ask, Bound, Caution, Constraint, Dating, Force, Form, Fragment, GROUP_WORDS, Group, Job, Kind,
    Lineage, Nature, OnlyIf, Pair, Place, Plan, Remark, Round, Sentence, State, Step, Touch, Trial,
    Verb, Way, WorkedOut, Working,
};
pub use sum_table::{Axis, AxisHead, Scale, Sort, SumTable, TableHead};
pub use words::NONE;

use layout::Row;

/// The first eight bytes.
pub const MAGIC: [u8; 8] = *b"TELLMARK";
/// Format version; a pack of another major version is refused.
pub const MAJOR: u8 = 1;
/// Additions that an older reader may ignore.
pub const MINOR: u8 = 7;
/// Bytes before the section table.
pub const HEADER_BYTES: usize = 32;
/// Bytes of one entry of the section table.
pub const SECTION_BYTES: usize = 12;
/// Most sections a pack may list.
pub const MAX_SECTIONS: usize = 32;

/// The checksum over everything that follows the header.
pub const CHECKSUM: crc::Crc<u32> = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC);

/// What a section holds; the numbers never change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Section {
    /// Title and version (postcard).
    Manifest = 1,
    /// All words.
    Texts = 2,
    /// Kinds of part.
    Kinds = 3,
    /// Where kinds stand in the tree of a piece.
    Places = 4,
    /// Things that may be true.
    States = 5,
    /// Things that can be asked.
    Asks = 6,
    /// Belief fragments: directory.
    Fragments = 7,
    /// Belief fragments: programs.
    Code = 8,
    /// Conditions, as programs.
    Conditions = 9,
    /// What triggers jobs.
    Plans = 10,
    /// Jobs.
    Jobs = 11,
    /// Order of work.
    Constraints = 12,
    /// Cautions.
    Cautions = 13,
    /// Datings.
    Datings = 14,
    /// Rounds.
    Rounds = 15,
    /// Steps of rounds.
    Steps = 16,
    /// Pairs: jobs never planned together, and what jobs mend.
    Pairs = 17,
    /// The sentences that give reasons.
    Sentences = 18,
    /// Where states can be at all.
    OnlyIfs = 19,
    /// Which kinds are kinds of others.
    Lineages = 20,
    /// Measures that are worked out from others.
    Workings = 21,
    /// What can be remarked at the bench.
    Remarks = 22,
    /// Tables of sums that measures are worked out by.
    Tables = 23,
}

/// Why bytes are not a pack that can be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OpenError {
    /// Too short to be a pack, or cut off.
    TooShort,
    /// Does not begin like a pack.
    NotAPack,
    /// Made for another version of the format.
    Version {
        /// Its major version.
        major: u8,
        /// The lowest minor version that can read it.
        lowest_minor: u8,
    },
    /// The bytes must lie on a four-byte boundary.
    Misaligned,
    /// Damaged: the checksum does not fit.
    Checksum,
    /// A section is missing or has the wrong size.
    Section(u8),
    /// A record says something that cannot be; the number is its section.
    Record(u8, u32),
}

impl core::fmt::Display for OpenError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match *self {
            Self::TooShort => write!(f, "the pack is cut off"),
            Self::NotAPack => write!(f, "this is not a pack"),
            Self::Version {
                major,
                lowest_minor,
            } => write!(
                f,
                "the pack is made for version {major}.{lowest_minor} of the format, this reads {MAJOR}.{MINOR}"
            ),
            Self::Misaligned => write!(f, "the pack must lie on a four-byte boundary"),
            Self::Checksum => write!(f, "the pack is damaged: its checksum does not fit"),
            Self::Section(id) => {
                write!(f, "section {id} of the pack is missing or has a wrong size")
            }
            Self::Record(id, row) => {
                write!(f, "row {row} in section {id} of the pack cannot be right")
            }
        }
    }
}

impl core::error::Error for OpenError {}

/// A pack that has been checked.
#[derive(Clone, Copy, Debug)]
pub struct Pack<'a> {
    manifest: Manifest<'a>,
    sections: [&'a [u32]; MAX_SECTIONS],
    text_bytes: &'a [u8],
    texts: usize,
    id: u32,
}

impl<'a> Pack<'a> {
    /// Checks the bytes of a pack.
    ///
    /// # Errors
    /// Says what is wrong with them; see [`OpenError`].
    pub fn open(bytes: &'a [u8]) -> Result<Self, OpenError> {
        let pack = check::sections(bytes)?;
        check::records(&pack)?;
        Ok(pack)
    }

    /// The checksum, which also names the pack.
    #[must_use]
    pub fn id(&self) -> u32 {
        self.id
    }

    /// Title and version.
    #[must_use]
    pub fn manifest(&self) -> &Manifest<'a> {
        &self.manifest
    }

    fn section(&self, section: Section) -> &'a [u32] {
        self.sections.get(section as usize).copied().unwrap_or(&[])
    }

    fn rows<R: Table>(&self) -> usize {
        self.section(R::SECTION).len() / R::WORDS
    }

    // With its caller, so that whoever wants one field does not read the others.
    #[inline(always)]
    fn row<R: Table>(&self, row: usize) -> R {
        let start = row.wrapping_mul(R::WORDS);
        let words = self
            .section(R::SECTION)
            .get(start..start.saturating_add(R::WORDS))
            .unwrap_or(&[]);
        R::read(words)
    }

    /// One text by its number; empty for a number there is not.
    #[must_use]
    pub fn text(&self, number: u16) -> &'a str {
        let number = usize::from(number);
        if number >= self.texts {
            return "";
        }
        let offsets = self.section(Section::Texts);
        let at = |i: usize| offsets.get(i).map_or(0, |&o| o as usize);
        let (start, end) = (at(number.wrapping_add(1)), at(number.wrapping_add(2)));
        let bytes = self.text_bytes.get(start..end).unwrap_or(&[]);
        core::str::from_utf8(bytes).unwrap_or("")
    }

    /// How many texts there are.
    #[must_use]
    pub fn texts(&self) -> usize {
        self.texts
    }

    /// The program of a fragment.
    #[must_use]
    pub fn program(&self, fragment: &Fragment) -> Program<'a> {
        Program::new(fragment, self.code(fragment))
    }

    fn code(&self, fragment: &Fragment) -> &'a [u32] {
        let start = fragment.code as usize;
        let end = start.saturating_add(fragment.code_words());
        self.section(Section::Code).get(start..end).unwrap_or(&[])
    }

    /// The words of the condition that starts there.
    #[must_use]
    pub(crate) fn condition(&self, at: u32) -> &'a [u32] {
        self.section(Section::Conditions)
            .get(at as usize..)
            .unwrap_or(&[])
    }

    /// The places built directly into this one, in order.
    pub fn children(&self, place: usize) -> impl Iterator<Item = usize> + use<'a> {
        let pack = *self;
        let end = usize::from(self.place(place).end);
        (place.saturating_add(1)..end).filter(move |&p| usize::from(pack.place(p).owner) == place)
    }

    /// The place where this kind stands as a whole piece.
    #[must_use]
    pub fn root_of(&self, kind: u16) -> Option<usize> {
        (0..self.places()).find(|&p| {
            let place = self.place(p);
            place.owner == NONE && place.kind == kind
        })
    }

    /// Which states and asks a place has.
    #[must_use]
    pub fn layout(&self, place: usize) -> Layout {
        let record = self.place(place);
        Layout {
            own: self.kind(usize::from(record.kind)),
            shared: self.shared(&record),
        }
    }

    /// The states of a place: see [`Layout::states`].
    pub fn states_of(&self, place: usize) -> impl Iterator<Item = u16> + use<'a> {
        self.layout(place).states()
    }

    /// The asks of a place: see [`Layout::asks`].
    pub fn asks_of(&self, place: usize) -> impl Iterator<Item = u16> + use<'a> {
        self.layout(place).asks()
    }

    /// Which of the states of a place this one is.
    #[must_use]
    pub fn state_slot(&self, place: usize, state: u16) -> Option<usize> {
        self.layout(place).state_slot(state)
    }

    /// Which of the asks of a place this one is.
    #[must_use]
    pub fn ask_slot(&self, place: usize, ask: u16) -> Option<usize> {
        self.layout(place).ask_slot(ask)
    }

    /// Whether one kind is the other, or a kind of it.
    #[must_use]
    pub fn is_kind_of(&self, kind: u16, general: u16) -> bool {
        let mut lineage = self.lineage_of(kind);
        lineage.any(|at| at == general)
    }

    /// A kind, what it is a kind of, and so on.
    pub fn lineage_of(&self, kind: u16) -> impl Iterator<Item = u16> + use<'a> {
        let pack = *self;
        let general = move |&kind: &u16| {
            let mut rows = (0..pack.lineages()).map(|row| pack.lineage(row));
            rows.find(|row| row.kind == kind).map(|row| row.general)
        };
        let longest = self.lineages().saturating_add(1);
        core::iter::successors(Some(kind), general).take(longest)
    }

    fn shared(&self, place: &Place) -> Kind {
        if place.owner == NONE && place.kind != 0 {
            self.kind(0)
        } else {
            Kind::default()
        }
    }
}

/// Which states and asks a place has: those of its kind and, for a whole piece,
/// before them those that any piece has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Layout {
    shared: Kind,
    own: Kind,
}

impl Layout {
    /// The numbers of its states, in order.
    pub fn states(&self) -> impl Iterator<Item = u16> + use<> {
        let range = |kind: Kind| kind.first_state..kind.first_state.saturating_add(kind.states);
        range(self.shared).chain(range(self.own))
    }

    /// The numbers of its asks, in order.
    pub fn asks(&self) -> impl Iterator<Item = u16> + use<> {
        let range = |kind: Kind| kind.first_ask..kind.first_ask.saturating_add(kind.asks);
        range(self.shared).chain(range(self.own))
    }

    /// Which of its states this one is.
    #[inline]
    #[must_use]
    pub fn state_slot(&self, state: u16) -> Option<usize> {
        let (shared, own) = (&self.shared, &self.own);
        slot(
            state,
            (shared.first_state, shared.states),
            (own.first_state, own.states),
        )
    }

    /// Which of its asks this one is.
    #[inline]
    #[must_use]
    pub fn ask_slot(&self, ask: u16) -> Option<usize> {
        let (shared, own) = (&self.shared, &self.own);
        slot(
            ask,
            (shared.first_ask, shared.asks),
            (own.first_ask, own.asks),
        )
    }
}

#[inline]
fn slot(number: u16, shared: (u16, u16), own: (u16, u16)) -> Option<usize> {
    let within = |(first, count): (u16, u16)| {
        let offset = number.checked_sub(first)?;
        (offset < count).then_some(usize::from(offset))
    };
    within(shared).or_else(|| Some(within(own)?.saturating_add(usize::from(shared.1))))
}

/// A row that a section is full of.
trait Table: Row {
    /// The section.
    const SECTION: Section;
}

/// For each table of a pack, which section it is and how its rows are read.
macro_rules! tables {
    ($($(#[$doc:meta])* $count:ident, $get:ident: $record:ident in $section:ident;)*) => {
        $(impl Table for $record {
            const SECTION: Section = Section::$section;
        })*

        impl Pack<'_> {
            $(
                #[doc = concat!("How many rows [`Pack::", stringify!($get), "`] has.")]
                #[must_use]
                pub fn $count(&self) -> usize {
                    self.rows::<$record>()
                }

                $(#[$doc])*
                #[must_use]
                #[inline(always)]
                pub fn $get(&self, row: usize) -> $record {
                    self.row::<$record>(row)
                }
            )*
        }
    };
}

tables! {
    /// A kind of part.
    kinds, kind: Kind in Kinds;
    /// A place in the tree of a piece.
    places, place: Place in Places;
    /// Something that may be true of a part.
    states, state: State in States;
    /// Something that can be asked of a part.
    asks, ask: Ask in Asks;
    /// The directory entry of a belief fragment.
    fragments, fragment: Fragment in Fragments;
    /// What triggers a job.
    plans, plan: Plan in Plans;
    /// A job.
    jobs, job: Job in Jobs;
    /// A constraint on the order of work.
    constraints, constraint: Constraint in Constraints;
    /// A caution.
    cautions, caution: Caution in Cautions;
    /// A dating.
    datings, dating: Dating in Datings;
    /// A round.
    rounds, round: Round in Rounds;
    /// A step of a round.
    steps, step: Step in Steps;
    /// A pair of numbers that belong together.
    pairs, pair: Pair in Pairs;
    /// A sentence that gives reasons.
    sentences, sentence: Sentence in Sentences;
    /// Where a state can be at all.
    only_ifs, only_if: OnlyIf in OnlyIfs;
    /// A kind that is a kind of another.
    lineages, lineage: Lineage in Lineages;
    /// A measure that is worked out from others.
    workings, working: WorkedOut in Workings;
    /// What can be remarked at the bench.
    remarks, remark: Remark in Remarks;
}
