//! Titles, pieces, parts, other words for them, and what is built into what.

use std::collections::HashMap;

use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::message::{Message, Problem};
use crate::model::{Kind, KindId, Member, PIECE, Region, Thousandths};
use crate::resolve::Reader;
use crate::resolve::look::{Done, refuse};
use crate::resolve::tree::{Tree, circle};
use crate::span::Span;
use crate::syntax::{Name, NewMember, NewName};
use crate::vocab::{Noun, Said, is_closed, key, plural};
use crate::words::{a, strength_word};

impl Reader<'_> {
    /// Kind 0 is "the piece", whatever piece it is.
    pub(super) fn begin_with_piece(&mut self) {
        self.model.kinds.push(Kind {
            name: "piece".to_owned(),
            plural: "pieces".to_owned(),
            also: Vec::new(),
            is_piece: true,
            members: Vec::new(),
            at: Span::default(),
        });
        self.add_noun(PIECE, "piece", false, None, true, Span::default());
        self.add_noun(PIECE, "pieces", true, None, true, Span::default());
    }

    fn add_noun(
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
        let mut given: HashMap<crate::model::Strength, (Span, bool)> = HashMap::new();
        for entry in entries.iter().filter(|e| e.opener == Opener::Scale) {
            let Some((strength, _, (n, of))) = self.parse(entry, declare::scale) else {
                continue;
            };
            let _ = self.particulars(entry);
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
            also: Vec::new(),
            is_piece,
            members: Vec::new(),
            at: new.name.at,
        });
    }

    fn new_region(&self, new: &NewName) -> Done<Option<Region>> {
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
            let place = crate::resolve::look::front(name, word);
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

    fn is_standard(&self, at: Span) -> bool {
        self.files.file(at).is_some_and(|f| f.standard)
    }

    /// Other words for parts; gives back those that are not about a part.
    pub(super) fn noun_synonyms<'e>(
        &mut self,
        entries: &'e [Entry],
    ) -> Vec<(&'e Entry, Name, Vec<NewName>)> {
        let mut others = Vec::new();
        for entry in entries.iter().filter(|e| e.opener == Opener::Synonym) {
            let Some((name, words)) = self.parse(entry, declare::synonym) else {
                continue;
            };
            let _ = self.particulars(entry);
            match self.vocab.nouns.get(&name.text).first().copied() {
                Some(noun) => {
                    for word in &words {
                        self.noun_synonym(entry, noun.kind, word);
                    }
                }
                None => others.push((entry, name, words)),
            }
        }
        others
    }

    fn noun_synonym(&mut self, entry: &Entry, kind: KindId, new: &NewName) {
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
        let clash = self
            .vocab
            .nouns
            .get(&new.name.text)
            .iter()
            .find(|n| n.region == region || n.kind == kind)
            .copied();
        if let Some(before) = clash {
            let line = self.files.line_from(before.at, new.name.at);
            if before.kind == kind {
                self.say(Message::new(
                    new.name.at,
                    Problem::ListedTwice {
                        word: &new.name.text,
                        line: &line,
                    },
                ));
                return;
            }
            let one = self.model.kinds[before.kind.index()].name.clone();
            let other = self.model.kinds[kind.index()].name.clone();
            let here = self.files.line_from(new.name.at, new.name.at);
            self.fail(
                entry,
                Message::new(
                    new.name.at,
                    Problem::WordOfTwoMeanings {
                        word: &new.name.text,
                        one: &one,
                        line: &line,
                        other: &other,
                        otherline: &here,
                    },
                )
                .with_also(before.at),
            );
            return;
        }
        let name = self.written(new.name.at);
        self.add_noun(kind, &name, false, region, false, new.name.at);
        let many = match &new.plural {
            Some(given) => {
                let many = self.written(given.at);
                self.model.other_plurals.push((kind, many.clone()));
                many
            }
            None => plural(&name),
        };
        if key(&many) != key(&name) {
            self.add_noun(kind, &many, true, region, false, new.name.at);
        }
        self.model.kinds[kind.index()].also.push(name);
    }

    /// Other words for what is said of parts.
    pub(super) fn state_synonyms(&mut self, others: Vec<(&Entry, Name, Vec<NewName>)>) {
        for (entry, name, words) in others {
            let all: Vec<(KindId, crate::model::StateId)> = self
                .vocab
                .phrases
                .get(&name.text)
                .iter()
                .filter_map(|(kind, said)| match said {
                    Said::State(state) => Some((*kind, *state)),
                    _ => None,
                })
                .collect();
            if all.is_empty() {
                let message = self.with_look(|look| {
                    let phrases: Vec<&str> = look
                        .vocab
                        .phrases
                        .forms()
                        .chain(look.vocab.nouns.forms())
                        .collect();
                    match look.nearest(&name.text, phrases) {
                        Some(near) => Message::new(
                            name.at,
                            Problem::UnknownWord {
                                word: &name.text,
                                near: Some(&near.joined()),
                                figure: None,
                                read: None,
                                wants: None,
                            },
                        )
                        .with_fix(name.at, near.words[0], near.sure()),
                        None => Message::new(
                            name.at,
                            Problem::UnknownPart {
                                word: &name.text,
                                whose: None,
                                whose_noun: None,
                                owner: None,
                                parts: None,
                            },
                        ),
                    }
                });
                self.fail(entry, message);
                continue;
            }
            for new in words {
                if let Err(message) = self.good_name(&new.name, true) {
                    self.fail(entry, *message);
                    continue;
                }
                let written = self.written(new.name.at);
                for &(kind, state) in &all {
                    let before = self
                        .vocab
                        .said(&new.name.text)
                        .iter()
                        .any(|(of, _)| *of == kind);
                    if before {
                        let owner = a(&self.model.kinds[kind.index()].name);
                        let line = self
                            .files
                            .line_from(self.model.states[state.index()].at, new.name.at);
                        self.fail(
                            entry,
                            Message::new(
                                new.name.at,
                                Problem::SaidAlready {
                                    phrase: &new.name.text,
                                    owner: &owner,
                                    line: &line,
                                },
                            ),
                        );
                        continue;
                    }
                    self.vocab.add_state(kind, state, &written);
                    self.model.states[state.index()].also.push(written.clone());
                }
            }
        }
    }

    /// `A fall has 2 to 3 hinges.`
    pub(super) fn makeups(&mut self, entries: &[Entry]) {
        for entry in entries.iter().filter(|e| e.opener == Opener::Makeup) {
            self.mending(entry, Self::makeup);
        }
        let mut guard = 0;
        while let Some(round) = circle(&self.model) {
            self.refuse_circle(&round);
            guard += 1;
            if guard > 100 {
                break;
            }
        }
        self.tree = Tree::of(&self.model);
    }

    fn makeup(&mut self, entry: &Entry) {
        let Some((owner, members)) = self.parse(entry, declare::makeup) else {
            return;
        };
        let _ = self.particulars(entry);
        let owner = self.with_look(|look| look.plain(&owner));
        let Some(owner) = self.keep(entry, owner) else {
            return;
        };
        let mut kinds = Vec::new();
        for member in &members {
            let found = self.with_look(|look| look.plain(&member.noun));
            kinds.push(self.keep(entry, found));
        }
        if kinds.iter().filter(|k| k.is_none()).count() == 1 && self.can_be_mended(entry) {
            return;
        }
        for (member, kind) in members.iter().zip(kinds) {
            if let Some(kind) = kind {
                self.new_member(entry, owner.kind, kind.kind, member);
            }
        }
    }

    /// Whether the last thing said is a slip of this entry that will be put
    /// right.
    fn can_be_mended(&self, entry: &Entry) -> bool {
        self.messages
            .last()
            .and_then(|m| m.fix.as_ref())
            .is_some_and(|fix| fix.sure && entry.with(fix).is_some())
    }

    /// Takes the last link of a circle out, and says so.
    fn refuse_circle(&mut self, round: &[KindId]) {
        let [.., owner, part] = round[..] else { return };
        let name = |k: &KindId| a(&self.model.kinds[k.index()].name);
        let links: Vec<String> = round
            .windows(2)
            .map(|pair| format!("{} has {}", name(&pair[0]), name(&pair[1])))
            .collect();
        let text = crate::words::capital(&links.join(", "));
        let members = &mut self.model.kinds[owner.index()].members;
        let Some(index) = members.iter().position(|m| m.kind == part) else {
            return;
        };
        let at = members[index].at;
        members.remove(index);
        self.say(Message::new(at, Problem::PartOfItself { circle: &text }));
    }

    fn new_member(&mut self, entry: &Entry, owner: KindId, part: KindId, new: &NewMember) {
        let standard = self.is_standard(entry.at);
        let usual = new.usual.unwrap_or(new.most);
        let why = if new.least > new.most {
            Some("the smaller number comes first".to_owned())
        } else if new.most == 0 {
            Some("say nothing about what it never has".to_owned())
        } else if new.most > 250 {
            Some("that is more than 250".to_owned())
        } else if !(new.least..=new.most).contains(&usual) {
            Some(format!("usually {usual} lies outside"))
        } else if !new.names.is_empty() && new.names.len() != new.most as usize {
            Some(format!(
                "there are {} names for {}",
                new.names.len(),
                new.most
            ))
        } else {
            None
        };
        if let Some(why) = why {
            let words = self.written(new.at);
            self.fail(
                entry,
                Message::new(
                    new.at,
                    Problem::BadNumberOfParts {
                        words: &words,
                        why: &why,
                    },
                ),
            );
            return;
        }
        let before = self.model.kinds[owner.index()]
            .members
            .iter()
            .position(|m| m.kind == part);
        let names: Vec<String> = new.names.iter().map(|n| self.written(n.at)).collect();
        for name in &names {
            self.vocab.names.add(&key(name), ());
        }
        let small = |n: u32| u8::try_from(n).unwrap_or(u8::MAX);
        let member = Member {
            kind: part,
            least: small(new.least),
            most: small(new.most),
            usual: small(usual),
            names,
            at: new.at,
        };
        match before {
            Some(index) => {
                let old = self.model.kinds[owner.index()].members[index].at;
                // A house may have other numbers than the standard rules.
                if self.is_standard(old) && !standard {
                    self.replaced(&self.written(old), old, entry.at);
                    self.model.kinds[owner.index()].members[index] = member;
                } else if !self.is_standard(old) && standard {
                    self.replaced(&self.written(new.at), entry.at, old);
                } else {
                    let line = self.files.line_from(old, new.at);
                    self.fail(
                        entry,
                        Message::new(new.at, Problem::RepeatedSentence { line: &line })
                            .with_also(old),
                    );
                }
            }
            None => self.model.kinds[owner.index()].members.push(member),
        }
    }

    /// Remembers that something of the house stands instead of something that
    /// ships with the tool.
    pub(super) fn replaced(&mut self, called: &str, was: Span, now: Span) {
        let line = self.files.line_from(was, now);
        self.messages
            .push(Message::new(now, Problem::ReplacesStandard { line: &line }).with_also(was));
        self.model.changes.push(crate::model::Change {
            called: called.to_owned(),
            was,
            now,
            how: crate::model::Changed::Again,
            because: None,
        });
    }
}
