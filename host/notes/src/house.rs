//! A house's words, ready for notes about one kind of piece.

use crate::lexicon::Lexicon;
use crate::scene::Scene;
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, KindId, Model, Which};

/// What a house says, its words, and the reader of its exact words.
pub(crate) struct House<'m> {
    pub(crate) model: &'m Model,
    pub(crate) lexicon: Lexicon,
    pub(crate) exact: AnswerReader<'m>,
}

impl<'m> House<'m> {
    pub(crate) fn new(model: &'m Model, piece: KindId) -> House<'m> {
        House {
            model,
            lexicon: Lexicon::of(model),
            exact: AnswerReader::new(model).about(piece),
        }
    }

    /// Words as the exact form, if they are that and the piece has such parts.
    pub(crate) fn read_exactly(&self, scene: &Scene, text: &str) -> Option<Vec<Fact>> {
        let facts = self.exact.facts(text).ok()?;
        let fits = facts.iter().all(|fact| {
            let meant = scene.meant(&fact.part).len();
            let is_every = fact
                .part
                .steps
                .iter()
                .any(|step| step.which == Which::Every);
            meant == 1 || (meant > 1 && is_every)
        });
        fits.then_some(facts)
    }
}
