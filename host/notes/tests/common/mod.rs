//! The standard rules, and the pieces of the corpus.

// Every test is a crate of its own, and uses what it needs.
#![allow(dead_code)]

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::sync::OnceLock;

use tellmark_language::model::{Model, PieceOrder};
use tellmark_language::{AnswerReader, SourceFile, read};
use tellmark_notes::{NoteReader, Scene};

/// What the standard rules say.
pub fn model() -> &'static Model {
    static MODEL: OnceLock<Model> = OnceLock::new();
    MODEL.get_or_init(|| {
        let reading = read(standard());
        reading.model
    })
}

/// The standard rules.
fn standard() -> Vec<SourceFile> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../rules");
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).expect("the rules") {
        let path = entry.expect("a file").path();
        let name = path
            .file_name()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        if name.ends_with(".rules.txt") {
            let text = fs::read_to_string(&path).expect("text");
            files.push(SourceFile {
                name,
                text,
                standard: true,
            });
        }
    }
    files.sort_by(|a, b| a.name.cmp(&b.name));
    files
}

/// A piece, ready to be noted.
pub struct Piece {
    /// What it is.
    pub order: PieceOrder,
    /// Its parts.
    pub scene: Scene,
    /// What reads notes about it.
    pub reader: NoteReader<'static>,
}

/// A piece in the words of the rules.
pub fn piece(words: &str) -> Piece {
    let order = AnswerReader::new(model()).piece(words).expect("a piece");
    Piece {
        scene: Scene::of(model(), &order, &[]),
        reader: NoteReader::new(model(), order.kind),
        order,
    }
}

/// The pieces of the corpus.
pub fn pieces() -> &'static BTreeMap<&'static str, Piece> {
    static PIECES: OnceLock<BTreeMap<&'static str, Piece>> = OnceLock::new();
    PIECES.get_or_init(|| {
        [
            ("chest", "chest of drawers with 4 drawers"),
            ("table", "drop-leaf table"),
            ("table3", "drop-leaf table with 2 leaves and 3 hinges"),
        ]
        .into_iter()
        .map(|(name, words)| (name, piece(words)))
        .collect()
    })
}
