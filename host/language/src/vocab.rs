//! The words a pack declares, and finding the longest of them in a sentence.

use std::collections::{HashMap, HashSet};

use crate::model::{Asks, KindId, Model, PIECE, Region, SignId, StateId};
use crate::span::Span;
use crate::token::{Sort, Token};

/// Words that may not stand inside a declared name, so that the end of a name
/// is always certain.
pub const CLOSED: [&str; 36] = [
    "is", "are", "be", "has", "have", "may", "can", "if", "then", "when", "unless", "and", "or",
    "not", "no", "than", "that", "it", "its", "shows", "show", "does", "do", "any", "every",
    "each", "plan", "either", "without", "more", "less", "cannot", "counts", "because", "instead",
    "fewer",
];

/// Words that a name may hold but not begin with.
pub const JOINING: [&str; 5] = ["of", "in", "on", "for", "with"];

/// Words for where a part stands among its like, whatever its name.
pub const PLACES: [&str; 29] = [
    "other",
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
    "last",
    "highest",
    "top",
    "upper",
    "lowest",
    "bottom",
    "lower",
    "leftmost",
    "left",
    "rightmost",
    "right",
    "foremost",
    "front",
    "hindmost",
    "back",
    "middle",
];

/// The most words of a place: "front left".
const MOST_PLACE_WORDS: usize = 3;

/// Whether it may not stand inside a name.
#[must_use]
pub fn is_closed(word: &str) -> bool {
    CLOSED.contains(&word)
}

/// Forms of words, each with what it may mean.
#[derive(Clone, Debug)]
pub struct Lexicon<M> {
    forms: HashMap<String, Vec<M>>,
    longest: HashMap<String, usize>,
}

impl<M> Default for Lexicon<M> {
    fn default() -> Self {
        Lexicon {
            forms: HashMap::new(),
            longest: HashMap::new(),
        }
    }
}

impl<M> Lexicon<M> {
    /// Adds a meaning of a form (in small letters, single spaces).
    pub fn add(&mut self, form: &str, meaning: M) {
        let first = form.split(' ').next().unwrap_or_default().to_owned();
        let count = form.split(' ').count();
        let longest = self.longest.entry(first).or_default();
        *longest = (*longest).max(count);
        self.forms.entry(form.to_owned()).or_default().push(meaning);
    }

    /// Takes out the meanings of a form that are not to be kept.
    pub fn retain(&mut self, form: &str, keep: impl Fn(&M) -> bool) {
        if let Some(meanings) = self.forms.get_mut(form) {
            meanings.retain(keep);
        }
        // A form without a meaning is none.
        if self.forms.get(form).is_some_and(Vec::is_empty) {
            self.forms.remove(form);
        }
    }

    /// What a form means.
    #[must_use]
    pub fn get(&self, form: &str) -> &[M] {
        self.forms.get(form).map_or(&[], Vec::as_slice)
    }

    /// How many of the tokens make the longest form that begins here.
    #[must_use]
    pub fn longest(&self, tokens: &[Token]) -> usize {
        let Some(first) = tokens.first().filter(|t| is_name_part(t)) else {
            return 0;
        };
        let Some(&longest) = self.longest.get(&first.text) else {
            return 0;
        };
        let room = tokens
            .iter()
            .take(longest)
            .take_while(|t| is_name_part(t))
            .count();
        (1..=room)
            .rev()
            .find(|&count| self.forms.contains_key(&join(&tokens[..count])))
            .unwrap_or(0)
    }

    /// Every form.
    pub fn forms(&self) -> impl Iterator<Item = &str> {
        self.forms.keys().map(String::as_str)
    }
}

fn is_name_part(token: &Token) -> bool {
    matches!(token.sort, Sort::Word | Sort::Number(_))
}

/// The words with single spaces.
#[must_use]
pub fn join(tokens: &[Token]) -> String {
    let mut out = String::new();
    for token in tokens {
        if !out.is_empty() && token.text != "%" {
            out.push(' ');
        }
        out.push_str(&token.text);
    }
    out
}

/// One way to say a kind of part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Noun {
    /// The kind.
    pub kind: KindId,
    /// Whether this is a plural.
    pub plural: bool,
    /// Where it is said, if it is marked.
    pub region: Option<Region>,
    /// Whether it is the house's own word.
    pub own: bool,
    /// Where it was declared.
    pub at: Span,
}

/// What can be said of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Said {
    /// A state.
    State(StateId),
    /// A measure.
    Measure(SignId),
    /// A value of a choice.
    Value(SignId, u8),
    /// A degree of a judgement: 1 is the lowest above "not".
    Degree(SignId, u8),
}

/// All words of a pack.
#[derive(Clone, Debug, Default)]
pub struct Vocab {
    /// Kinds of part.
    pub nouns: Lexicon<Noun>,
    /// States and measures, by what is said.
    pub phrases: Lexicon<(KindId, Said)>,
    /// Values of choices.
    pub values: Lexicon<(KindId, Said)>,
    /// "point" of "which point a screw has".
    pub attributes: Lexicon<(KindId, SignId)>,
    /// "left", "right".
    pub names: Lexicon<()>,
    /// "wide" of "how wide a bottom is split".
    pub measuring: HashSet<String>,
    /// Whose words the pack uses.
    pub region: Option<Region>,
}

impl Vocab {
    /// How many tokens make the noun that begins here, with a value before it
    /// if there is one ("gimlet-point screw"); 0 if none does.
    #[must_use]
    pub fn noun_length(&self, tokens: &[Token]) -> usize {
        let plain = self.nouns.longest(tokens);
        let value = self.values.longest(tokens);
        if value > 0 {
            let noun = self.nouns.longest(&tokens[value..]);
            if noun > 0
                && self.is_choice(&join(&tokens[..value]), &join(&tokens[value..value + noun]))
            {
                return plain.max(value + noun);
            }
        }
        plain
    }

    fn is_choice(&self, value: &str, noun: &str) -> bool {
        self.values
            .get(value)
            .iter()
            .any(|(kind, _)| self.nouns.get(noun).iter().any(|n| n.kind == *kind))
    }

    /// How many tokens say where a part stands among its like, if a part is named after
    /// them: "left runner", "top drawer". What is declared as a part of its own ("bottom
    /// runner", if there is one) is no place.
    #[must_use]
    pub fn place_length(&self, tokens: &[Token]) -> usize {
        let known = self.noun_length(tokens);
        let longest = (1..=MOST_PLACE_WORDS.min(tokens.len())).rev();
        let mut places = longest.filter(|&length| {
            let (place, noun) = tokens.split_at(length);
            known <= length && self.is_place(&join(place)) && self.noun_length(noun) > 0
        });
        places.next().unwrap_or(0)
    }

    /// Whether words can say where a part stands among its like.
    fn is_place(&self, words: &str) -> bool {
        PLACES.contains(&words)
            || self.names.forms().any(|name| {
                name == words || (name.contains(' ') && name.split(' ').any(|one| one == words))
            })
    }

    /// How many tokens make what is said of a part.
    #[must_use]
    pub fn phrase_length(&self, tokens: &[Token]) -> usize {
        self.phrases
            .longest(tokens)
            .max(self.values.longest(tokens))
    }

    /// Everything the phrase may mean.
    #[must_use]
    pub fn said(&self, phrase: &str) -> Vec<(KindId, Said)> {
        let mut all = self.phrases.get(phrase).to_vec();
        all.extend_from_slice(self.values.get(phrase));
        all
    }

    /// The words of a finished model, for reading answers.
    #[must_use]
    pub fn of(model: &Model) -> Vocab {
        let mut vocab = Vocab {
            region: model.region,
            ..Vocab::default()
        };
        for (index, kind) in model.kinds.iter().enumerate() {
            let id = KindId(u16::try_from(index).unwrap_or(u16::MAX));
            let mut add = |form: &str, plural: bool, own: bool| {
                vocab.nouns.add(
                    &form.to_lowercase(),
                    Noun {
                        kind: id,
                        plural,
                        region: None,
                        own,
                        at: kind.at,
                    },
                );
            };
            add(&kind.name, false, true);
            add(&kind.plural, true, true);
            for other in &kind.also {
                add(other, false, false);
                add(&plural(other), true, false);
            }
            for member in &kind.members {
                for name in &member.names {
                    vocab.names.add(&name.to_lowercase(), ());
                }
            }
        }
        for (kind, form) in &model.other_plurals {
            vocab.nouns.add(
                &form.to_lowercase(),
                Noun {
                    kind: *kind,
                    plural: true,
                    region: None,
                    own: false,
                    at: Span::default(),
                },
            );
        }
        for (index, state) in model.states.iter().enumerate() {
            let id = StateId(u16::try_from(index).unwrap_or(u16::MAX));
            // Degrees are said in their own words, but for the lowest: "lifted".
            if model.degree_of(id).is_some_and(|(_, degree)| degree > 1) {
                continue;
            }
            vocab.add_state(state.kind, id, &state.phrase);
            for other in &state.also {
                vocab.add_state(state.kind, id, other);
            }
        }
        for (index, sign) in model.signs.iter().enumerate() {
            let id = SignId(u16::try_from(index).unwrap_or(u16::MAX));
            vocab.add_asks(sign.kind, id, &sign.asks);
            if let Asks::Degrees { degrees, .. } = &sign.asks
                && let Some(lowest) = model.from_degree(id, 1)
            {
                for other in &model.states[lowest.index()].also {
                    vocab.add_degrees(sign.kind, id, degrees, other);
                }
            }
        }
        vocab
    }

    /// Adds "slightly lifted", "badly lifted" …
    pub fn add_degrees(&mut self, kind: KindId, sign: SignId, degrees: &[String], phrase: &str) {
        for (number, degree) in (1_u8..).zip(degrees) {
            let said = (kind, Said::Degree(sign, number));
            self.phrases.add(&key(&format!("{degree} {phrase}")), said);
        }
    }

    /// Adds words for a state.
    pub fn add_state(&mut self, kind: KindId, state: StateId, phrase: &str) {
        self.phrases.add(&key(phrase), (kind, Said::State(state)));
    }

    /// Takes out words for a state.
    pub fn remove_state(&mut self, kind: KindId, state: StateId, phrase: &str) {
        let gone = (kind, Said::State(state));
        self.phrases.retain(&key(phrase), |said| *said != gone);
    }

    /// Adds the words of a measure or choice.
    pub fn add_asks(&mut self, kind: KindId, sign: SignId, asks: &Asks) {
        match asks {
            Asks::Whether(_) | Asks::HowMany(_) => {}
            Asks::Which { attribute, values } => {
                self.attributes.add(&key(attribute), (kind, sign));
                for (index, value) in values.iter().enumerate() {
                    let index = u8::try_from(index).unwrap_or(u8::MAX);
                    self.values
                        .add(&key(value), (kind, Said::Value(sign, index)));
                }
            }
            Asks::Degrees {
                word,
                phrase,
                degrees,
            } => {
                let phrase = if phrase.is_empty() { word } else { phrase };
                self.add_degrees(kind, sign, degrees, phrase);
            }
            Asks::HowMuch { word, phrase, .. } => {
                self.measuring.insert(word.to_lowercase());
                if !phrase.is_empty() {
                    self.phrases.add(&key(phrase), (kind, Said::Measure(sign)));
                }
            }
        }
    }
}

/// The form under which a name is looked up: small letters, single spaces,
/// straight apostrophes.
#[must_use]
pub fn key(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    for word in name.split_whitespace() {
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(&word.to_lowercase().replace('’', "'"));
    }
    out
}

/// The plural formed by rule: on the word before of, in, on, for or with, else
/// on the last word.
#[must_use]
pub fn plural(name: &str) -> String {
    let words: Vec<&str> = name.split(' ').collect();
    let head = words
        .iter()
        .skip(1)
        .position(|word| JOINING.contains(word))
        .unwrap_or(words.len() - 1);
    let mut out = Vec::with_capacity(words.len());
    for (index, word) in words.iter().enumerate() {
        out.push(if index == head {
            plural_word(word)
        } else {
            (*word).to_owned()
        });
    }
    out.join(" ")
}

fn plural_word(word: &str) -> String {
    let ends = |tail: &str| word.ends_with(tail);
    if ends("s") || ends("x") || ends("z") || ends("ch") || ends("sh") {
        return format!("{word}es");
    }
    if let Some(stem) = word.strip_suffix('y')
        && stem.chars().last().is_some_and(|c| !"aeiou".contains(c))
    {
        return format!("{stem}ies");
    }
    format!("{word}s")
}

/// Whether something declared of `of` may be said of `part`.
#[must_use]
pub fn applies(of: KindId, part: KindId, part_is_piece: bool) -> bool {
    of == part || (of == PIECE && part_is_piece)
}

#[cfg(test)]
mod tests {
    use super::plural;

    #[test]
    fn a_plural_ends_in_s() {
        assert_eq!(plural("drawer"), "drawers");
        assert_eq!(plural("key"), "keys");
    }

    #[test]
    fn hissing_words_take_es_and_consonant_y_becomes_ies() {
        for (one, many) in [
            ("brush", "brushes"),
            ("box", "boxes"),
            ("glass", "glasses"),
            ("batch", "batches"),
            ("cavity", "cavities"),
        ] {
            assert_eq!(plural(one), many);
        }
    }

    #[test]
    fn the_word_before_of_or_on_is_the_one_that_changes() {
        assert_eq!(plural("chest of drawers"), "chests of drawers");
        assert_eq!(plural("patch on the veneer"), "patches on the veneer");
        assert_eq!(plural("drop-leaf table"), "drop-leaf tables");
    }

    #[test]
    fn a_name_that_begins_with_a_joining_word_is_no_trouble() {
        assert_eq!(plural("of"), "ofs");
        assert_eq!(plural(""), "s");
    }
}
