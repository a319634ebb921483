//! The pages that can be open on the screen.

use crate::round::Visit;

/// A page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Page {
    /// Which kind of piece is begun.
    #[default]
    Pieces,
    /// How many parts the piece being begun has.
    Counts,
    /// Dialling one of those numbers.
    Count { owner: u16, place: u16, number: u8 },
    /// What there is to do.
    Home,
    /// One thing to look at.
    Question,
    /// The other ways to answer it.
    Other,
    /// The values of a choice.
    Values,
    /// Dialling a reading or a number of parts.
    Dial(i32),
    /// A caution that is not heeded yet.
    Caution,
    /// The cautions that hold.
    Cautions,
    /// Likely faults.
    Suspects,
    /// One of them.
    Suspect(u16),
    /// What speaks for and against it.
    Weights,
    /// The sentences that give reasons for it.
    Sentences,
    /// What is worth looking at next.
    Looks,
    /// Jobs called for.
    Jobs,
    /// Answers given, to be put right.
    Answers,
    /// Answers that cannot all be true.
    Clash,
    /// The parts of the piece.
    Parts,
    /// What is asked of one of them.
    Part(u16),
    /// What can be remarked of one of them.
    Remarks(u16),
    /// Whether to finish.
    Finish,
    /// The cable.
    Cable,
    /// Something to read.
    Read(Text),
}

/// Something to read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Text {
    /// How to check what is asked.
    How,
    /// A caution that holds.
    Caution(u16),
    /// A likely fault.
    Suspect(u16),
    /// A sentence that gives reasons.
    Sentence(u16),
    /// A job.
    Job(u16),
}

/// An open page with the place its reader has come to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Open {
    pub page: Page,
    /// The row that is chosen; in a text, the first line shown.
    pub row: u16,
    /// The first row shown.
    pub top: u16,
}

impl Open {
    pub fn at(page: Page) -> Self {
        Self {
            page,
            row: 0,
            top: 0,
        }
    }
}

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Asked {
    pub visit: Visit,
    pub origin: Origin,
}

/// Why it is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Origin {
    /// The round has come to it; the next thing follows.
    Round,
    /// It was picked from a list; the answer leads back there.
    Once,
}
