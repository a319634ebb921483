//! The title, and what the words for how often mean.

use std::collections::HashMap;

use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::message::{Message, Problem};
use crate::model::{Strength, Thousandths};
use crate::resolve::Reader;
use crate::span::Span;
use crate::words::strength_word;

impl Reader<'_> {
    /// Titles: the house's own wins.
    pub(super) fn titles(&mut self, entries: &[Entry]) {
        let mut given: Option<(Span, bool)> = None;
        for entry in entries.iter().filter(|e| e.opener == Opener::Title) {
            let Some(title) = self.parse(entry, declare::title) else {
                given.get_or_insert((entry.at, entry.standard));
                continue;
            };
            let _ = self.particulars(entry);
            match given {
                Some((before, standard)) if standard == entry.standard => {
                    let line = self.files.line_from(before, entry.at);
                    self.say(
                        Message::new(entry.at, Problem::RepeatedSentence { line: &line })
                            .with_also(before),
                    );
                    continue;
                }
                Some((_, false)) => continue,
                _ => {}
            }
            given = Some((entry.at, entry.standard));
            self.model.title = self.written(title.text);
            self.model.version = title.version.unwrap_or(1);
            if title.region.is_some() {
                self.model.region = title.region;
            }
        }
        self.vocab.region = self.model.region;
        if given.is_none() {
            self.say(Message::new(Span::default(), Problem::TitleMissing));
        }
    }

    /// `By usually we mean 8 in 10.`
    pub(super) fn scales(&mut self, entries: &[Entry]) {
        let mut given: HashMap<Strength, (Span, bool)> = HashMap::new();
        for entry in entries.iter().filter(|e| e.opener == Opener::Scale) {
            let Some((strength, _, (n, of))) = self.parse(entry, declare::scale) else {
                continue;
            };
            let _ = self.particulars(entry);
            if strength == Strength::ByDefinition {
                self.fail(entry, Message::new(entry.at, Problem::DefinitionIsExact));
                continue;
            }
            if n > of || of == 0 {
                let words = format!("{n} in {of}");
                self.fail(
                    entry,
                    Message::new(
                        entry.at,
                        Problem::BadNumberOfParts {
                            words: &words,
                            why: "there cannot be more of them than there are cases",
                        },
                    ),
                );
                continue;
            }
            let chance = (u64::from(n) * 1000 + u64::from(of) / 2) / u64::from(of);
            let chance = Thousandths(u16::try_from(chance).unwrap_or(1000));
            // The same figure again changes nothing.
            let is_other = !self.model.scale.contains(&(strength, chance));
            match given.get(&strength).copied() {
                Some((before, standard)) if standard == entry.standard => {
                    let line = self.files.line_from(before, entry.at);
                    self.say(
                        Message::new(entry.at, Problem::RepeatedSentence { line: &line })
                            .with_also(before),
                    );
                    continue;
                }
                Some((own, false)) => {
                    if is_other {
                        self.replaced(strength_word(strength), entry.at, own);
                    }
                    continue;
                }
                Some((before, true)) if is_other => {
                    self.replaced(strength_word(strength), before, entry.at);
                }
                _ => {}
            }
            given.insert(strength, (entry.at, entry.standard));
            for (word, figure) in &mut self.model.scale {
                if *word == strength {
                    *figure = chance;
                }
            }
        }
    }
}
