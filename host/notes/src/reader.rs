//! The reader of notes: a line in, and what it is taken for.

use crate::lexicon::Lexicon;
use crate::line::words;
use crate::measure::quantities;
use crate::mention::Finder;
use crate::ordering::Line;
use crate::reading::{Heard, Understood, What};
use crate::scene::Scene;
use crate::spoken::{Carried, Spoken};
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, KindId, Model, PartRef, Which};

/// Reads notes with the words of one house, on one piece.
pub struct NoteReader<'m> {
    pub(crate) model: &'m Model,
    pub(crate) lexicon: Lexicon,
    pub(crate) exact: AnswerReader<'m>,
}

impl<'m> NoteReader<'m> {
    /// Gets the words of a house ready, for a piece of this kind.
    #[must_use]
    pub fn new(model: &'m Model, piece: KindId) -> NoteReader<'m> {
        NoteReader {
            model,
            lexicon: Lexicon::of(model),
            exact: AnswerReader::new(model).about(piece),
        }
    }

    /// Reads a line; `subject` is what was spoken of before it.
    #[must_use]
    pub fn read(&self, scene: &Scene, subject: &[PartRef], text: &str) -> Understood {
        if let Some(facts) = self.read_exactly(scene, text) {
            let subject = facts.last().map(|fact| fact.part.clone());
            let about = subject.clone().unwrap_or_else(|| scene.reference(0));
            return Understood {
                heard: vec![Heard {
                    typed: 0..text.len(),
                    what: What::Found(facts),
                    dropped: Vec::new(),
                    about,
                }],
                subject: subject.into_iter().collect(),
                is_exact: true,
            };
        }
        let before: Vec<usize> = subject.iter().flat_map(|part| scene.meant(part)).collect();
        self.read_loosely(scene, before, text)
    }

    /// The line as the exact form, if it is that and the piece has such parts.
    pub(crate) fn read_exactly(&self, scene: &Scene, text: &str) -> Option<Vec<Fact>> {
        let facts = self.exact.facts(text).ok()?;
        let fits = facts.iter().all(|fact| {
            let meant = scene.meant(&fact.part).len();
            let is_every = fact.part.steps.iter().any(|step| step.which == Which::Every);
            meant == 1 || (meant > 1 && is_every)
        });
        fits.then_some(facts)
    }

    fn read_loosely(&self, scene: &Scene, mut subject: Vec<usize>, text: &str) -> Understood {
        let mut words = words(text, &self.lexicon);
        let finder = Finder {
            model: self.model,
            lexicon: &self.lexicon,
            scene,
        };
        for mention in finder.mentions(&words, &|_| true) {
            for at in mention.words {
                words[at].is_inside = true;
            }
        }
        let measured = quantities(&words);
        for quantity in &measured {
            for word in &mut words[quantity.from..quantity.until] {
                word.is_inside = true;
            }
        }
        let line = Line {
            finder,
            lexicon: &self.lexicon,
            words: &words,
            quantities: &measured,
        };
        let mut understood = Understood::default();
        let mut carried = Carried::default();
        for clause in line.clauses() {
            let spoken = Spoken {
                reader: self,
                line: &line,
                clause: &clause,
                subject: &subject,
                text,
            };
            let (heard, next) = spoken.read(&mut carried);
            understood.heard.extend(heard);
            if let Some(next) = next {
                subject = next;
            }
        }
        understood.subject = scene.references(&subject);
        understood
    }
}
