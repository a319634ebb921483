//! Sources, and the starting chances of what has none of its own.

use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::label::Label;
use crate::message::{Message, Problem};
use crate::resolve::Reader;
use crate::span::Span;
use crate::token::one_line;

impl Reader<'_> {
    /// `Source …: …`, and what the tool always knows as sources.
    pub(super) fn read_sources(&mut self, entries: &[Entry]) {
        let mut order: Vec<&Entry> = entries
            .iter()
            .filter(|e| e.opener == Opener::Source)
            .collect();
        // The house's own wording of a source wins.
        order.sort_by_key(|e| e.standard);
        for entry in order {
            let Some(name) = self.parse(entry, declare::source) else {
                continue;
            };
            let colon = entry
                .sentence
                .iter()
                .find(|t| t.sort == crate::token::Sort::Colon)
                .map_or(entry.at.end, |t| t.at.end);
            let text = Span {
                start: colon,
                ..entry.at
            };
            let text = one_line(text.words(self.text(entry.at)));
            if let Some(id) = self.sources.get(&name.text).copied() {
                let before = self.model.sources[id.index()].at;
                if self.files[usize::from(before.file.0)].standard == entry.standard {
                    let line = self.files.line_from(before, entry.at);
                    self.say(
                        Message::new(entry.at, Problem::RepeatedSentence { line: &line })
                            .with_also(before),
                    );
                } else {
                    // The house's own come first.
                    let name = self.model.sources[id.index()].name.clone();
                    self.replaced(&name, entry.at, before);
                }
                continue;
            }
            let written = self.written(name.at);
            if self.add_source(written, text, entry.at).is_none() {
                self.too_many("sources", entry.at);
            }
        }
    }

    /// `Unless we say otherwise, a fault is there on its own: rarely.`
    pub(super) fn read_defaults(&mut self, entries: &[Entry]) {
        for entry in entries.iter().filter(|e| e.opener == Opener::Default) {
            self.mending(entry, Self::read_default);
        }
    }

    fn read_default(&mut self, entry: &Entry) {
        let Some(fault) = self.parse(entry, declare::default) else {
            return;
        };
        let particulars = self.particulars(entry);
        let Some(often) = particulars.on_its_own else {
            if !entry.details.iter().any(|d| d.label == Label::OnItsOwn) {
                self.fail(
                    entry,
                    Message::new(
                        entry.at,
                        Problem::Incomplete {
                            read: "a fault is there",
                            wants: "\"on its own: …\"",
                            example: Opener::Default.example(),
                        },
                    ),
                );
            }
            return;
        };
        let before = if fault {
            self.defaults.fault
        } else {
            self.defaults.sign
        };
        match before {
            Some((_, at, standard)) if standard == entry.standard => {
                let line = self.files.line_from(at, entry.at);
                self.say(
                    Message::new(entry.at, Problem::RepeatedSentence { line: &line }).with_also(at),
                );
                return;
            }
            Some((own, at, false)) => {
                if own.chance != often.chance {
                    self.replaced(default_called(fault), entry.at, at);
                }
                return;
            }
            Some((was, before, true)) if was.chance != often.chance => {
                self.replaced(default_called(fault), before, entry.at);
            }
            _ => {}
        }
        let now = Some((often, entry.at, entry.standard));
        if fault {
            self.defaults.fault = now;
        } else {
            self.defaults.sign = now;
        }
    }
}

/// What the starting chance of faults, or of signs, is called.
fn default_called(fault: bool) -> &'static str {
    if fault {
        "on its own, of a fault"
    } else {
        "on its own, of a sign"
    }
}
