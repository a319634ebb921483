//! Why notes are not fetched, in plain words.

use super::line::LinkError;
use std::fmt;
use std::path::PathBuf;
use tellmark_core::pack::OpenError;
use tellmark_job::record;
use tellmark_language::Message;
use tellmark_language::words;

/// Why nothing, or nothing more, was fetched.
#[derive(Debug)]
pub enum FetchError {
    /// The unit or the line to it.
    Line(LinkError),
    /// The job's folder.
    Job(record::JobError),
    /// The lines are in the record, and what came from the unit could not be ticked as
    /// done. It is safe to fetch again.
    NotTicked {
        /// How many lines.
        lines: usize,
        /// Why not.
        why: record::JobError,
    },
    /// The notes were made by other rules.
    OtherRules {
        /// The check sum of their pack.
        notes: u32,
        /// The check sum of the pack these rules compile to.
        rules: u32,
        /// How many notes are kept in the job's folder as they were sent.
        kept: Option<(usize, PathBuf)>,
    },
    /// The job is about another piece.
    OtherPiece {
        /// The job's.
        job: String,
        /// The unit's.
        unit: String,
    },
    /// The job has a piece from this unit, and the notes begin one.
    BegunAgain {
        /// The piece that they begin.
        unit: String,
    },
    /// The notes go on about a piece that was begun in notes fetched elsewhere.
    NoBeginning,
    /// The notes that begin the piece do not fit each other or the rules.
    NoPiece,
    /// `job.txt` names a piece that the rules do not know.
    Unknown(Box<Message>),
    /// Something that cannot be.
    Broken(String),
}

impl From<LinkError> for FetchError {
    fn from(trouble: LinkError) -> FetchError {
        FetchError::Line(trouble)
    }
}

impl From<record::JobError> for FetchError {
    fn from(trouble: record::JobError) -> FetchError {
        FetchError::Job(trouble)
    }
}

impl From<OpenError> for FetchError {
    fn from(why: OpenError) -> FetchError {
        FetchError::Broken(why.to_string())
    }
}

impl fmt::Display for FetchError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FetchError::Line(trouble) => write!(f, "{trouble}"),
            FetchError::Job(trouble) => write!(f, "{trouble}"),
            FetchError::NotTicked { lines, why } => {
                let lines = u32::try_from(*lines).unwrap_or(u32::MAX);
                let lines = words::some_of(lines, "line", "lines");
                write!(
                    f,
                    "{why} Before that, {lines} went into the record. Fetch again: nothing is \
                     written twice."
                )
            }
            FetchError::OtherRules { notes, rules, kept } => {
                write!(
                    f,
                    "These notes were made by the rules of pack {notes:08x}, and the rules here \
                     make pack {rules:08x}. Name the folder with those rules (--rules DIR), as \
                     they were then; or, if they are gone, keep the notes as they are in a job's \
                     folder (--only-keep). "
                )?;
                if let Some((number, path)) = kept {
                    let notes = some_notes(*number);
                    write!(f, "{notes} are kept in {}. ", path.display())?;
                }
                write!(f, "Nothing was taken off the unit.")
            }
            FetchError::OtherPiece { job, unit } => write!(
                f,
                "The job is about {}, and the notes are about {}. Nothing was written. Name \
                 another folder, and a new job is made.",
                words::a(job),
                words::a(unit)
            ),
            FetchError::BegunAgain { unit } => write!(
                f,
                "This job has a piece from this unit already, and the notes begin {}. Name \
                 another folder, and a new job is made. If it is the same piece, looked over \
                 again, say --again.",
                words::a(unit)
            ),
            FetchError::NoBeginning => write!(
                f,
                "The notes go on about a piece whose beginning was fetched before, into another \
                 job. Fetch into that one. Nothing was taken off the unit."
            ),
            FetchError::NoPiece => write!(
                f,
                "The notes that begin the piece do not fit together; one of them may have been \
                 damaged on the unit. Nothing was taken off the unit. To keep them in a job's \
                 folder as they are: --only-keep."
            ),
            FetchError::Unknown(message) => {
                write!(
                    f,
                    "job.txt names a piece that these rules do not know. {}",
                    message.text
                )
            }
            FetchError::Broken(why) => write!(f, "internal error, please report it: {why}"),
        }
    }
}

impl std::error::Error for FetchError {}

/// "1 note", "12 notes".
fn some_notes(number: usize) -> String {
    words::some_of(u32::try_from(number).unwrap_or(u32::MAX), "note", "notes")
}
