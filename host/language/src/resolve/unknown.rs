//! Messages about words that are not known: what may have been meant.

use crate::message::{Message, Problem};
use crate::model::{KindId, Nature, Verb};
use crate::near::nearest_run;
use crate::resolve::look::Look;
use crate::span::Span;
use crate::syntax::Name;
use crate::vocab::{Said, plural};

impl Look<'_> {
    /// What to say about a part that is not known; `owner` is what it would
    /// be a part of, if that is certain.
    #[must_use]
    pub fn unknown_noun(&self, name: &Name, owner: Option<KindId>) -> Message {
        if let Some(message) = self.odd_plural(name) {
            return message;
        }
        let words: Vec<&str> = name.text.split(' ').collect();
        // "gimlet-point screw", where only the screw is known.
        for count in 1..words.len() {
            let tail = words[count..].join(" ");
            let Some(noun) = self.vocab.nouns.get(&tail).first() else {
                continue;
            };
            let head = words[..count].join(" ");
            if self.nearest(&name.text, self.vocab.nouns.forms()).is_some() {
                break;
            }
            if let Some(message) = self.next_to_one_another(noun.kind, name) {
                return message;
            }
            let owner = self.a(noun.kind);
            let at = front(name, &head);
            let values = self.vocab.values.forms();
            let near = self.nearest(&head, values);
            let joined = near.as_ref().map(|n| n.joined());
            let message = Message::new(
                at,
                Problem::UnknownPhrase {
                    phrase: &head,
                    owner: &owner,
                    near: joined.as_deref(),
                    known: None,
                },
            );
            return match near {
                Some(near) => message.with_fix(at, near.words[0], near.sure()),
                None => message,
            };
        }
        if let Some((kind, _)) = self.vocab.attributes.get(&name.text).first() {
            let problem = Problem::UnknownPart {
                word: &name.text,
                whose: Some(&self.a(*kind)),
                whose_noun: Some(self.name(*kind)),
                owner: None,
                parts: None,
            };
            return Message::new(name.at, problem);
        }
        let forms: Vec<&str> = self
            .vocab
            .nouns
            .forms()
            .chain(
                owner
                    .map(|_| self.vocab.attributes.forms())
                    .into_iter()
                    .flatten(),
            )
            .collect();
        if let Some((count, near)) = nearest_run(&words, &forms) {
            let run = words[..count].join(" ");
            let at = front(name, &run);
            let near_text = sorted(&near.words).join("\" or \"");
            let fix = near.words[0].to_owned();
            let sure = near.sure();
            return Message::new(
                at,
                Problem::MisspeltPart {
                    word: &run,
                    near: &near_text,
                },
            )
            .with_fix(at, fix, sure);
        }
        let parts = owner
            .map(|owner| (self.a(owner), self.parts(owner)))
            .filter(|(_, parts)| !parts.is_empty());
        Message::new(
            name.at,
            Problem::UnknownPart {
                word: &name.text,
                whose: None,
                whose_noun: None,
                owner: parts.as_ref().map(|(owner, _)| owner.as_str()),
                parts: parts.as_ref().map(|(_, parts)| parts.as_str()),
            },
        )
    }

    /// "feet" or "foots", where there is a part "foot".
    pub(super) fn odd_plural(&self, name: &Name) -> Option<Message> {
        let word = name.text.as_str();
        let mut singulars: Vec<String> = Vec::new();
        for (tail, put) in [("ves", "f"), ("ves", "fe"), ("es", ""), ("s", "")] {
            if let Some(stem) = word.strip_suffix(tail) {
                singulars.push(format!("{stem}{put}"));
            }
        }
        for (many, one) in [("feet", "foot"), ("teeth", "tooth")] {
            if let Some(stem) = word.strip_suffix(many) {
                singulars.push(format!("{stem}{one}"));
            }
        }
        let (singular, noun) = singulars.iter().find_map(|s| {
            let noun = self.vocab.nouns.get(s).iter().find(|n| !n.plural)?;
            Some((s, noun))
        })?;
        let kind = self.kind(noun.kind);
        let declared = kind.plural.to_lowercase();
        let regular = declared == plural(&kind.name.to_lowercase());
        let odd = ["ves", "feet", "teeth"]
            .iter()
            .any(|tail| word.ends_with(tail));
        if noun.own && !(regular && odd) {
            return Some(
                Message::new(
                    name.at,
                    Problem::WrongPlural {
                        word,
                        part: Some(&kind.name),
                        plural: None,
                        declared: Some(&kind.plural),
                    },
                )
                .with_fix(name.at, kind.plural.clone(), true),
            );
        }
        Some(Message::new(
            name.at,
            Problem::WrongPlural {
                word,
                part: Some(singular),
                plural: Some(word),
                declared: None,
            },
        ))
    }

    pub(super) fn wrong_part(
        &self,
        kind: KindId,
        other: KindId,
        said: Said,
        name: &Name,
    ) -> Message {
        // Misspelt where it was declared of this part, perhaps.
        let known: Vec<String> = self
            .known_sayings(kind)
            .iter()
            .map(|k| k.to_lowercase())
            .collect();
        if self
            .nearest(&name.text, known.iter().map(String::as_str))
            .is_some()
        {
            return self.unknown_phrase(kind, name);
        }
        let of = match said {
            Said::State(state) => Some(self.state(state)),
            _ => None,
        };
        let shows = of.is_some_and(|state| state.verb == Verb::Shows);
        let (part, phrase) = (self.a(kind), &name.text);
        // A fault that is hidden in the one is in the other.
        let declared = if of.is_some_and(|state| matches!(state.nature, Nature::Hidden { .. })) {
            let be = if shows { "show" } else { "be" };
            let part = crate::words::capital(&part);
            format!("{part} may {be} {phrase} without showing it.")
        } else {
            let is = if shows { "shows" } else { "is" };
            format!("You can see whether {part} {is} {phrase}.")
        };
        Message::new(
            name.at,
            Problem::SaidOfAnotherPart {
                phrase: &name.text,
                owner: &self.a(other),
                other: &self.a(kind),
                ownername: self.name(other),
                declared: &declared,
            },
        )
    }

    /// What can be said of a part, as long as it is still shown.
    fn known_sayings(&self, kind: KindId) -> Vec<&str> {
        if self.is_explaining {
            self.sayings(kind)
        } else {
            Vec::new()
        }
    }

    /// "The next drawer": rules do not know which parts stand next to one another.
    fn next_to_one_another(&self, kind: KindId, name: &Name) -> Option<Message> {
        const NEXT: [&str; 6] = [
            "next",
            "adjacent",
            "adjoining",
            "neighbouring",
            "opposite",
            "previous",
        ];
        let first = name.text.split(' ').next()?;
        let problem = Problem::NextToOneAnother {
            plural: self.plural(kind),
            part: self.name(kind),
        };
        NEXT.contains(&first)
            .then(|| Message::new(front(name, first), problem))
    }

    pub(super) fn unknown_phrase(&self, kind: KindId, name: &Name) -> Message {
        let known = self.known_sayings(kind);
        let lower: Vec<String> = known.iter().map(|k| k.to_lowercase()).collect();
        let candidates: Vec<&str> = lower.iter().map(String::as_str).collect();
        let owner = self.a(kind);
        let whole = self.nearest(&name.text, candidates.iter().copied());
        if let Some(near) = whole {
            let right = near.words[0].to_owned();
            let sure = near.sure();
            return Message::new(
                name.at,
                Problem::UnknownPhrase {
                    phrase: &name.text,
                    owner: &owner,
                    near: Some(&near.joined()),
                    known: None,
                },
            )
            .with_fix(name.at, right, sure);
        }
        // A phrase that is known, and more words that are not.
        let words: Vec<&str> = name.text.split(' ').collect();
        for count in (1..words.len()).rev() {
            let head = words[..count].join(" ");
            if self.pick(kind, &self.vocab.said(&head)).is_some() {
                let tail = words[count..].join(" ");
                let at = back(name, &tail);
                return Message::new(
                    at,
                    Problem::UnknownWord {
                        word: &tail,
                        near: None,
                        figure: None,
                        read: Some(&head),
                        wants: Some("the next part of the sentence"),
                    },
                );
            }
        }
        let near = nearest_run(&words, &candidates);
        if let Some((count, near)) = near {
            let run = words[..count].join(" ");
            let at = front(name, &run);
            let right = near.words[0].to_owned();
            return Message::new(
                at,
                Problem::UnknownPhrase {
                    phrase: &run,
                    owner: &owner,
                    near: Some(&near.joined()),
                    known: None,
                },
            )
            .with_fix(at, right, false);
        }
        let list = known
            .iter()
            .take(8)
            .map(|phrase| {
                let shows = self
                    .model
                    .states
                    .iter()
                    .any(|s| s.verb == Verb::Shows && s.phrase == *phrase && s.kind == kind);
                if shows {
                    format!("shows {phrase}")
                } else {
                    (*phrase).to_owned()
                }
            })
            .collect::<Vec<_>>()
            .join(", ");
        Message::new(
            name.at,
            Problem::UnknownPhrase {
                phrase: &name.text,
                owner: &owner,
                near: None,
                known: Some(list.as_str()).filter(|l| !l.is_empty()),
            },
        )
    }
}

fn sorted<'a>(words: &[&'a str]) -> Vec<&'a str> {
    let mut words = words.to_vec();
    words.sort_unstable();
    words
}

/// The span of the first words of a name.
#[must_use]
pub(super) fn front(name: &Name, run: &str) -> Span {
    if run.len() >= name.text.len() {
        return name.at;
    }
    Span {
        end: name
            .at
            .start
            .saturating_add(u32::try_from(run.len()).unwrap_or(0))
            .min(name.at.end),
        ..name.at
    }
}

/// The span of the last words of a name.
#[must_use]
pub(super) fn back(name: &Name, run: &str) -> Span {
    if run.len() >= name.text.len() {
        return name.at;
    }
    Span {
        start: name
            .at
            .end
            .saturating_sub(u32::try_from(run.len()).unwrap_or(0))
            .max(name.at.start),
        ..name.at
    }
}
