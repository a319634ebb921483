//! What the reader of a file has to say about it.
//!
//! A [`Problem`] states which message it is and what fills its blanks; the
//! wording is data in `messages.txt`; a [`Message`] is the two put together, at
//! a place in a file.

mod problem;
mod wording;

pub use problem::{Problem, ProblemKind};
pub use wording::{Wording, wordings};

use crate::span::Span;

/// How much a message matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// The pack is not built until this is put right.
    Stop,
    /// The pack is built, but somebody should look at this.
    Look,
    /// Worth knowing; shown only when asked for.
    Note,
}

/// One thing to say about the files.
#[derive(Clone, Debug, PartialEq)]
pub struct Message {
    /// Which one it is.
    pub kind: ProblemKind,
    /// How much it matters.
    pub level: Level,
    /// The words it is about.
    pub at: Span,
    /// What is wrong; stands alone.
    pub text: String,
    /// What to do about it.
    pub help: Option<String>,
    /// A change that would put it right.
    pub fix: Option<Fix>,
    /// Other places that have to do with it.
    pub also: Vec<Span>,
    /// The same mistake was already explained: this one is cut short.
    pub again: bool,
}

/// A change to a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// What to replace; empty for something to be put in.
    pub at: Span,
    /// What to put there.
    pub replacement: String,
    /// Sure enough to be made without asking.
    pub sure: bool,
}

impl Message {
    /// What it says, and what would help, in one line of plain text.
    #[must_use]
    pub fn said(&self) -> String {
        match &self.help {
            Some(help) => format!("{} {help}", self.text),
            None => self.text.clone(),
        }
    }

    /// The message about a problem, in the words of `messages.txt`.
    #[must_use]
    pub fn new(at: Span, problem: Problem<'_>) -> Message {
        let filled = wording::fill(problem);
        Message {
            kind: problem.kind(),
            level: filled.level,
            at,
            text: filled.text,
            help: filled.help,
            fix: None,
            also: Vec::new(),
            again: false,
        }
    }

    /// Its number in `messages.txt`.
    #[must_use]
    pub fn number(&self) -> u16 {
        self.kind.number()
    }

    /// With a change that would put it right.
    #[must_use]
    pub fn with_fix(mut self, at: Span, replacement: impl Into<String>, sure: bool) -> Message {
        self.fix = Some(Fix {
            at,
            replacement: replacement.into(),
            sure,
        });
        self
    }

    /// With another place that has to do with it.
    #[must_use]
    pub fn with_also(mut self, at: Span) -> Message {
        self.also.push(at);
        self
    }

    /// At another level than the usual one.
    #[must_use]
    pub fn at_level(mut self, level: Level) -> Message {
        self.level = level;
        self
    }
}

impl ProblemKind {
    /// Whether a part is not known, misspelt or not.
    #[must_use]
    pub fn is_unknown_part(self) -> bool {
        matches!(self, Self::MisspeltPart | Self::UnknownPart)
    }

    /// Whether it may only follow from another sentence that could not be read.
    pub(crate) fn may_follow(self) -> bool {
        matches!(
            self,
            Self::MisspeltPart
                | Self::WrongPlural
                | Self::UnknownPart
                | Self::HasNoSuchPart
                | Self::SaidOfAnotherPart
                | Self::AnyOrEvery
                | Self::ItIsTheSubject
                | Self::InSeveralPlaces
                | Self::NotCounted
                | Self::UnknownJob
                | Self::TimeMissing
                | Self::UnknownSource
                | Self::UnknownPhrase
                | Self::UnknownName
                | Self::SeveralInResult
        )
    }

    /// Whether it can only follow from a sentence that declares words; what is
    /// said of jobs and names may follow from any.
    pub(crate) fn follows_declarations_only(self) -> bool {
        !matches!(
            self,
            Self::UnknownJob | Self::TimeMissing | Self::UnknownName
        )
    }

    /// Whether it rests on what a part has.
    pub(crate) fn rests_on_makeup(self) -> bool {
        matches!(
            self,
            Self::HasNoSuchPart
                | Self::AnyOrEvery
                | Self::InSeveralPlaces
                | Self::NotCounted
                | Self::NoSuchPartInExample
                | Self::UpAndDown
                | Self::OnlyThrough
                | Self::NumberOutsideMakeup
                | Self::SeveralInResult
                | Self::PartLeftOut
        )
    }
}
