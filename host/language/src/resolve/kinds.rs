//! Pieces and parts, and what makes a good name.

use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::message::{Message, Problem};
use crate::model::{Kind, KindId, PIECE, Region};
use crate::resolve::Reader;
use crate::resolve::look::{Done, refuse};
use crate::span::Span;
use crate::syntax::{Name, NewName};
use crate::vocab::{Noun, is_closed, key, plural};

impl Reader<'_> {
    /// Kind 0 is "the piece", whatever piece it is.
    pub(super) fn begin_with_piece(&mut self) {
        self.model.kinds.push(Kind {
            name: "piece".to_owned(),
            plural: "pieces".to_owned(),
            is_piece: true,
            ..Kind::default()
        });
        self.add_noun(PIECE, "piece", false, None, true, Span::default());
        self.add_noun(PIECE, "pieces", true, None, true, Span::default());
    }

    pub(super) fn add_noun(
        &mut self,
        kind: KindId,
        form: &str,
        plural: bool,
        region: Option<Region>,
        own: bool,
        at: Span,
    ) {
        self.vocab.nouns.add(
            &key(form),
            Noun {
                kind,
                plural,
                region,
                own,
                at,
            },
        );
    }

    /// `Pieces:` and `Parts:`.
    pub(super) fn lists(&mut self, entries: &[Entry]) {
        for entry in entries {
            let is_piece = match entry.opener {
                Opener::Pieces => true,
                Opener::Parts => false,
                _ => continue,
            };
            let Some(names) = self.parse(entry, declare::list) else {
                continue;
            };
            let _ = self.particulars(entry);
            for name in names {
                self.new_kind(entry, &name, is_piece);
            }
        }
    }

    fn new_kind(&mut self, entry: &Entry, new: &NewName, is_piece: bool) {
        if let Err(message) = self.good_name(&new.name, false) {
            self.fail(entry, *message);
            return;
        }
        let region = match self.new_region(new) {
            Ok(region) => region,
            Err(message) => {
                self.fail(entry, *message);
                return;
            }
        };
        let before = self
            .vocab
            .nouns
            .get(&new.name.text)
            .iter()
            .find(|n| n.region == region)
            .copied();
        if let Some(before) = before {
            let other = &self.model.kinds[before.kind.index()];
            let line = self.files.line_from(other.at, new.name.at);
            let same = before.own && !before.plural && other.is_piece == is_piece;
            if same {
                let standard = self.is_standard(other.at);
                if standard == entry.standard {
                    self.say(
                        Message::new(
                            new.name.at,
                            Problem::ListedTwice {
                                word: &new.name.text,
                                line: &line,
                            },
                        )
                        .with_also(other.at),
                    );
                }
            } else {
                let one = if before.own && other.is_piece != is_piece {
                    if other.is_piece { "a piece" } else { "a part" }.to_owned()
                } else {
                    other.name.clone()
                };
                let two = if is_piece { "a piece" } else { "a part" };
                let here = self.files.line_from(new.name.at, new.name.at);
                self.fail(
                    entry,
                    Message::new(
                        new.name.at,
                        Problem::WordOfTwoMeanings {
                            word: &new.name.text,
                            one: &one,
                            line: &line,
                            other: two,
                            otherline: &here,
                        },
                    )
                    .with_also(other.at),
                );
            }
            return;
        }
        let Ok(id) = u16::try_from(self.model.kinds.len()) else {
            self.too_many("kinds of part", new.name.at);
            return;
        };
        let id = KindId(id);
        let name = self.written(new.name.at);
        let many = match &new.plural {
            Some(given) => self.written(given.at),
            None => plural(&name),
        };
        self.add_noun(id, &name, false, region, true, new.name.at);
        if key(&many) != key(&name) {
            self.add_noun(id, &many, true, region, true, new.name.at);
        }
        self.model.kinds.push(Kind {
            name,
            plural: many,
            is_piece,
            at: new.name.at,
            ..Kind::default()
        });
    }

    pub(super) fn new_region(&self, new: &NewName) -> Done<Option<Region>> {
        match &new.region {
            None => Ok(None),
            Some((Some(region), _)) => Ok(Some(*region)),
            Some((None, word)) => {
                let written = self.written(word.at);
                refuse(word.at, Problem::UnknownRegion { word: &written })
            }
        }
    }

    /// Refuses a new name with a closed word in it.
    pub(super) fn good_name(&self, name: &Name, fault: bool) -> Done<()> {
        use crate::grammar::name::{STRENGTHS, SURENESSES};
        use crate::vocab::JOINING;
        let mut at = 0;
        for (index, word) in name.text.split(' ').enumerate() {
            let bad = is_closed(word) || (index == 0 && JOINING.contains(&word));
            if bad {
                let start = name.at.start + u32::try_from(at).unwrap_or(0);
                let place = Span {
                    start,
                    end: start + u32::try_from(word.len()).unwrap_or(0),
                    ..name.at
                };
                let two = fault && ["and", "or"].contains(&word);
                return refuse(
                    place,
                    Problem::SmallWordInName {
                        word,
                        each: two.then_some("fault"),
                    },
                );
            }
            at += word.len() + 1;
        }
        let begins = STRENGTHS
            .iter()
            .map(|(w, _)| *w)
            .chain(SURENESSES.iter().map(|(w, _)| *w))
            .chain(["certainly"])
            .find(|w| name.text == *w || name.text.starts_with(&format!("{w} ")));
        if let Some(word) = begins {
            let place = crate::resolve::unknown::front(name, word);
            return refuse(place, Problem::NameBeginsWithStrength { word });
        }
        Ok(())
    }

    pub(super) fn too_many(&mut self, things: &str, at: Span) {
        if std::mem::replace(&mut self.is_full, true) {
            return;
        }
        let limit = u16::MAX.to_string();
        self.messages.push(Message::new(
            at,
            Problem::TooMuch {
                things,
                limit: &limit,
            },
        ));
    }

    /// Whether this was written in the rules that ship with the tool.
    pub(super) fn is_standard(&self, at: Span) -> bool {
        self.files.file(at).is_some_and(|f| f.standard)
    }
}
