//! The standard rules, and the pieces of the corpus.

// Every test is a crate of its own, and uses what it needs.
#![allow(dead_code)]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, OnceLock};

use tellmark_language::model::{Model, PieceOrder};
use tellmark_language::{AnswerReader, SourceFile, read};
use tellmark_notes::{NoteReader, Scene};

/// What the standard rules say that every piece has in common.
pub fn model() -> &'static Model {
    model_with("")
}

/// What the standard rules say together with one family of them ("tables"); none for "".
pub fn model_with(family: &str) -> &'static Model {
    static MODELS: Mutex<BTreeMap<String, &'static Model>> = Mutex::new(BTreeMap::new());
    let mut models = MODELS
        .lock()
        .expect("no test failed while reading the rules");
    models.entry(family.to_owned()).or_insert_with(|| {
        let read = read(standard(family));
        let said = read.messages.iter().map(tellmark_language::Message::said);
        let said: Vec<String> = said.collect();
        assert!(read.is_usable(), "{}", said.join("\n"));
        Box::leak(Box::new(read.model))
    })
}

/// The standard rules, with one family; those of the folder in `NOTES_RULES`, if that is set.
fn standard(family: &str) -> Vec<SourceFile> {
    let folder = std::env::var_os("NOTES_RULES").map_or_else(
        || Path::new(env!("CARGO_MANIFEST_DIR")).join("../../rules"),
        PathBuf::from,
    );
    let mut files = Vec::new();
    for entry in fs::read_dir(&folder).expect("the rules") {
        let path = entry.expect("a file").path();
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        if name.ends_with(".rules.txt") {
            files.push(source(&name, &path));
        }
    }
    files.sort_by(|a, b| a.name.cmp(&b.name));
    if !family.is_empty() {
        let name = format!("families/{family}.rules.txt");
        files.push(source(&name, &folder.join(&name)));
    }
    files
}

fn source(name: &str, path: &Path) -> SourceFile {
    SourceFile {
        name: name.to_owned(),
        text: fs::read_to_string(path).expect("text"),
        standard: true,
    }
}

/// A piece, ready to be noted.
pub struct Piece {
    /// What it is.
    pub order: PieceOrder,
    /// The rules that know it.
    pub model: &'static Model,
    /// Its parts.
    pub scene: Scene,
    /// What reads notes about it.
    pub reader: NoteReader<'static>,
}

/// A piece in the words of the rules, of one family or of what all have in common ("").
pub fn piece_of(family: &str, words: &str) -> Piece {
    let model = model_with(family);
    let order = AnswerReader::new(model).piece(words).expect("a piece");
    Piece {
        scene: Scene::of(model, &order, &[]),
        reader: NoteReader::new(model, order.kind),
        order,
        model,
    }
}

/// A piece that every workshop knows.
pub fn piece(words: &str) -> Piece {
    piece_of("", words)
}

/// Pieces that the properties are tried on, by short names.
pub fn pieces() -> &'static BTreeMap<&'static str, Piece> {
    static PIECES: OnceLock<BTreeMap<&'static str, Piece>> = OnceLock::new();
    PIECES.get_or_init(|| {
        [
            ("chest", piece("chest of drawers with 4 drawers")),
            ("table", piece("drop-leaf table")),
            (
                "table3",
                piece("drop-leaf table with 2 leaves and 3 hinges"),
            ),
        ]
        .into_iter()
        .collect()
    })
}
