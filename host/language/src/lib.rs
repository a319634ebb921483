//! The rule language: plain sentences in, a [`crate::model::Model`] and messages out.
//!
//! A file is cut into entries (a line at the edge of the page and what is
//! moved in under it). The first pass collects the words a pack declares, the
//! second reads the sentences with them; what they say is then looked up and
//! put into the model. A broken entry never spoils the next one.

pub mod answers;
pub mod entry;
pub mod files;
pub mod grammar;
pub mod ink;
pub mod input;
pub mod label;
pub mod message;
pub mod model;
pub mod near;
pub mod number;
pub mod render;
pub mod resolve;
pub mod screen;
pub mod span;
mod spent;
mod sums;
pub mod syntax;
pub mod token;
pub mod vocab;
pub mod words;

pub use answers::{AnswerReader, read_facts, read_piece, read_state};
pub use files::{Files, SourceFile};
pub use message::{Fix, Level, Message, Problem, ProblemKind};
pub use render::{Record, Style, line_of, record, render, text_of};

use crate::model::Model;
use entry::{Entry, entries};
use resolve::Reader;
use span::{FileId, Span};

/// What reading some files gave.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The files.
    pub files: Files,
    /// What they say; to be used only if no message has [`Level::Stop`].
    pub model: Model,
    /// What there is to say about them.
    pub messages: Vec<Message>,
}

impl Reading {
    /// Whether the model may be used.
    #[must_use]
    pub fn is_usable(&self) -> bool {
        !self.messages.iter().any(|m| m.level == Level::Stop)
    }
}

/// Reads the files of a pack.
#[must_use]
pub fn read(files: Vec<SourceFile>) -> Reading {
    let files = Files::from(files);
    let mut said = Vec::new();
    let mut all: Vec<Entry> = Vec::new();
    for (index, file) in files.iter().enumerate() {
        let Ok(id) = u16::try_from(index) else {
            said.push(too_much("files"));
            break;
        };
        if u32::try_from(file.text.len()).is_err() {
            said.push(too_much("words"));
            continue;
        }
        all.extend(entries(
            FileId(id),
            &file.text,
            file.standard,
            &files,
            &mut said,
        ));
    }
    let mut reader = Reader::new(&files, said);
    reader.read(&all);
    let (model, messages) = (
        std::mem::take(&mut reader.model),
        std::mem::take(&mut reader.messages),
    );
    Reading {
        files,
        model,
        messages,
    }
}

fn too_much(things: &str) -> Message {
    Message::new(
        Span::default(),
        Problem::TooMuch {
            things,
            limit: "65535 files of 4 GB",
        },
    )
}
