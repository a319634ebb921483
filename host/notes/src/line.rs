//! A line of notes, each word with what the house may mean by it.

use crate::english::{Small, small};
use crate::lexicon::{Known, Lexicon};
use crate::token::{Sort, Token, tokens};

/// A token with what it may be.
#[derive(Clone, Debug)]
pub(crate) struct Word {
    pub(crate) token: Token,
    /// The words of the house that it may be, nearest first.
    pub(crate) known: Vec<Known>,
    /// What it does if it says nothing by itself.
    pub(crate) small: Option<Small>,
    /// A comma or "and" inside a list of parts, which ends no clause.
    pub(crate) is_inside: bool,
}

impl Word {
    /// The word as the house would write it.
    pub(crate) fn text(&self) -> &str {
        self.known
            .first()
            .map_or(self.token.text.as_str(), |known| known.word.as_str())
    }

    pub(crate) fn is_word(&self) -> bool {
        self.token.sort == Sort::Word
    }

    /// "one" as in "the left one".
    pub(crate) fn is_one(&self) -> bool {
        self.token.text == "one"
    }

    /// The whole number that it is, if it is written in figures: "one" may be no number.
    pub(crate) fn figure(&self) -> Option<u64> {
        let digits = self.token.text.chars().all(|sign| sign.is_ascii_digit());
        self.whole().filter(|_| digits)
    }

    /// The whole number that it is.
    pub(crate) fn whole(&self) -> Option<u64> {
        match self.token.sort {
            Sort::Number(ratio) => ratio.as_whole().filter(|n| *n <= 250),
            _ => None,
        }
    }
}

/// Reads the words of a line.
pub(crate) fn words(text: &str, lexicon: &Lexicon) -> Vec<Word> {
    let mut words: Vec<Word> = joined(tokens(text), lexicon)
        .into_iter()
        .map(|token| {
            let is_word = token.sort == Sort::Word;
            let known = if is_word {
                lexicon.known(&token.text)
            } else {
                Vec::new()
            };
            Word {
                small: is_word.then(|| small(&token.text)).flatten(),
                known,
                token,
                is_inside: false,
            }
        })
        .collect();
    speak(&mut words);
    reach(&mut words, lexicon);
    join(&mut words);
    words
}

/// "day light" for "daylight": two words that are one of the house's.
fn joined(tokens: Vec<Token>, lexicon: &Lexicon) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::with_capacity(tokens.len());
    for token in tokens {
        if let Some(last) = out.last_mut()
            && (last.sort, token.sort) == (Sort::Word, Sort::Word)
            && last.text.len() > 1
            && token.text.len() > 2
        {
            let whole = format!("{}{}", last.text, token.text);
            if lexicon.is_word(&whole) {
                last.text = whole;
                last.end = token.end;
                continue;
            }
        }
        out.push(token);
    }
    out
}

/// "Top to bottom", "end to end": how far something goes, in one word, and not of what it is said.
fn reach(words: &mut Vec<Word>, lexicon: &Lexicon) {
    const ENDS: [&str; 8] = [
        "top", "bottom", "front", "back", "side", "end", "left", "right",
    ];
    let mut at = 2;
    while at < words.len() {
        let text = |at: usize| words[at].token.text.as_str();
        if ENDS.contains(&text(at - 2)) && text(at - 1) == "to" && ENDS.contains(&text(at)) {
            let whole = format!("{} to {}", text(at - 2), text(at));
            if lexicon.has_phrase(&whole) {
                at += 1;
                continue;
            }
            let last = words[at].token.clone();
            let first = &mut words[at - 2];
            first.token.text = whole;
            first.token.end = last.end;
            first.known.clear();
            first.small = Some(Small::Degree);
            words.drain(at - 1..=at);
        }
        at += 1;
    }
}

/// "An lid": an "and" that lost its end, where no vowel follows.
fn join(words: &mut [Word]) {
    for at in 1..words.len() {
        let next = words
            .get(at + 1)
            .and_then(|next| next.token.text.chars().next());
        let is_and = words[at].token.text == "an"
            && next.is_some_and(|first| first.is_alphabetic() && !"aeiouh".contains(first));
        if is_and {
            "and".clone_into(&mut words[at].token.text);
            words[at].small = Some(Small::And);
        }
    }
}

/// What a machine wrote down for a spoken mark: "comma", "full stop".
fn speak(words: &mut Vec<Word>) {
    let is_known = |word: &Word| !word.known.is_empty() && word.known[0].near >= 1.0;
    let mut at = 0;
    while at < words.len() {
        let next = words.get(at + 1).map(|word| word.token.text.clone());
        let (mark, count) = match (words[at].token.text.as_str(), next.as_deref()) {
            ("comma", _) => (',', 1),
            ("full", Some("stop")) | ("new", Some("line")) => ('.', 2),
            ("semicolon", _) => (';', 1),
            _ => {
                at += 1;
                continue;
            }
        };
        if count == 1 && is_known(&words[at]) {
            at += 1;
            continue;
        }
        let end = words[at + count - 1].token.end;
        words[at].token.sort = Sort::Break(mark);
        words[at].token.end = end;
        words[at].known.clear();
        words[at].small = None;
        words.drain(at + 1..at + count);
        at += 1;
    }
}
