//! What is put to other libraries: the standard rules laid out for real
//! pieces, and random answers about them.

pub mod network;
pub mod sets;

use tellmark_compile::Built;
use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::ground::{Ground, GroundPart};
use tellmark_compile::room::Room;
use tellmark_core::inspection::Inspection;
use tellmark_core::number::Number;
use tellmark_core::pack::Pack;
use tellmark_core::piece::Part;
use tellmark_job::house;
use tellmark_language::model::{Model, PieceOrder};
use tellmark_language::{SourceFile, Style};

/// The pieces whose chances are checked: a name for the file, and the words a
/// job would be opened with.
pub const PIECES: [(&str, &str); 5] = [
    ("chest-2", "chest of drawers with 2 drawers"),
    ("chest-4", "chest of drawers with 4 drawers"),
    ("chest-6", "chest of drawers with 6 drawers"),
    ("table-1", "drop-leaf table with 1 leaf"),
    ("table-2", "drop-leaf table with 2 leaves"),
];

/// Sets of answers for each piece.
pub const SETS: usize = 200;

/// Reads and builds rules that must be sound.
///
/// # Panics
/// If there is anything wrong with them.
#[must_use]
pub fn sound(files: Vec<SourceFile>) -> (Model, Built) {
    let Checked { reading, built } = check(tellmark_language::read(files), Depth::Build);
    let shown: String = reading
        .messages
        .iter()
        .map(|m| tellmark_language::render(m, &reading.files, Style::Plain))
        .collect();
    let built = built.unwrap_or_else(|| panic!("the rules are not sound:\n{shown}"));
    (reading.model, built)
}

/// The rules that ship with the program.
#[must_use]
pub fn standard() -> (Model, Built) {
    sound(house::standard())
}

/// A piece under some rules.
#[derive(Debug)]
pub struct Subject<'r> {
    /// The rules.
    pub model: &'r Model,
    /// The rules, built.
    pub built: &'r Built,
    /// What the piece is.
    pub order: PieceOrder,
    /// Its place in the pack.
    pub root: usize,
    /// Its network, laid out.
    pub ground: Ground,
}

impl<'r> Subject<'r> {
    /// Lays a piece out.
    ///
    /// # Panics
    /// If the rules know no such piece.
    #[must_use]
    pub fn new(model: &'r Model, built: &'r Built, words: &str) -> Self {
        let order = tellmark_language::read_piece(model, words)
            .unwrap_or_else(|message| panic!("{words}: {}", message.text));
        let pack = built.bytes.open().expect("a fresh pack opens");
        let root = pack.root_of(order.kind.0).expect("the rules know it");
        let ground = built.ground(model, root, |_: &[GroundPart], _, place| {
            count(built, &order, &pack, place)
        });
        Self {
            model,
            built,
            order,
            root,
            ground,
        }
    }

    /// The same piece for the core.
    ///
    /// # Panics
    /// If it cannot be set up.
    pub fn inspection<'m, N: Number>(
        &self,
        pack: Pack<'m>,
        room: &'m mut Room<N>,
    ) -> Inspection<'m, 'm, N> {
        room.inspection(pack, self.root, |_: &[Part], _, place| {
            count(self.built, &self.order, &pack, place)
        })
        .expect("the counts are within bounds")
    }

    /// States in use, as part and number within the part, in the order in which
    /// they are put to other libraries.
    #[must_use]
    pub fn used(&self) -> Vec<(usize, usize)> {
        let mut first = 0;
        let mut used = Vec::new();
        for (i, state) in self.ground.states.iter().enumerate() {
            if i > 0 && self.ground.states[i - 1].part != state.part {
                first = i;
            }
            if state.in_use {
                used.push((state.part, i - first));
            }
        }
        used
    }
}

fn count(built: &Built, order: &PieceOrder, pack: &Pack<'_>, place: usize) -> u8 {
    let kind = built.places.kind(place);
    let record = pack.place(place);
    let ordered = order.counts.iter().find(|(k, _)| *k == kind);
    ordered
        .map_or(record.usual, |(_, number)| *number)
        .clamp(record.least, record.most)
}
