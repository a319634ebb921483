//! `Never take … for …`: words that a note never means something by.

use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::message::{Message, Problem};
use crate::model::WrongFriend;
use crate::resolve::Reader;
use crate::syntax::Name;
use crate::vocab::Said;

impl Reader<'_> {
    /// Reads these sentences, once everything that can be said of parts is known.
    pub(super) fn wrong_friends(&mut self, entries: &[Entry]) {
        for entry in entries.iter().filter(|e| e.opener == Opener::WrongFriend) {
            let Some((typed, meant)) = self.parse(entry, declare::wrong_friend) else {
                continue;
            };
            let _ = self.particulars(entry);
            let said = self.vocab.said(&meant.text);
            if said.is_empty() {
                let message = self.friend_of_nothing(&meant);
                self.fail(entry, message);
                continue;
            }
            let meanings: Vec<Said> = said.into_iter().map(|(_, said)| said).collect();
            for word in typed {
                self.wrong_friend(entry, &word, &meant, &meanings);
            }
        }
    }

    fn wrong_friend(&mut self, entry: &Entry, word: &Name, meant: &Name, meanings: &[Said]) {
        let means_it = self
            .vocab
            .said(&word.text)
            .iter()
            .any(|(_, said)| meanings.contains(said));
        // What the house says is no friend of the standard rules to part.
        if means_it && entry.standard {
            return;
        }
        if means_it {
            let at = meanings.first().map(|said| match said {
                Said::State(state) => self.model.states[state.index()].at,
                Said::Measure(sign) | Said::Value(sign, _) | Said::Degree(sign, _) => {
                    self.model.signs[sign.index()].at
                }
            });
            let line = self.files.line_from(at.unwrap_or(word.at), word.at);
            let problem = Problem::FriendIsSaid {
                word: &word.text,
                phrase: &meant.text,
                line: &line,
            };
            self.fail(entry, Message::new(word.at, problem));
            return;
        }
        let friend = WrongFriend {
            word: word.text.clone(),
            meant: meant.text.clone(),
            phrases: self.every_phrase(meanings),
            at: entry.at,
        };
        self.model.wrong_friends.push(friend);
    }

    /// What is meant in each of the house's words for it.
    fn every_phrase(&self, meanings: &[Said]) -> Vec<String> {
        let mut phrases: Vec<String> = Vec::new();
        for form in self.vocab.phrases.forms().chain(self.vocab.values.forms()) {
            let said = self.vocab.said(form);
            if said.iter().any(|(_, said)| meanings.contains(said)) {
                phrases.push(form.to_owned());
            }
        }
        phrases.sort();
        phrases.dedup();
        phrases
    }

    fn friend_of_nothing(&mut self, meant: &Name) -> Message {
        self.with_look(|look| {
            let forms: Vec<&str> = look.vocab.phrases.forms().collect();
            let near = look.nearest(&meant.text, forms);
            let joined = near.as_ref().map(|near| near.joined());
            let message = Message::new(
                meant.at,
                Problem::FriendOfNothing {
                    phrase: &meant.text,
                    near: joined.as_deref(),
                },
            );
            match near {
                Some(near) => message.with_fix(meant.at, near.words[0], near.sure()),
                None => message,
            }
        })
    }
}
