//! The small words of ordinary English: numbers, doubt, "not", what says nothing. No word
//! here is about furniture; those are the house's.

use std::collections::HashMap;
use std::sync::OnceLock;

/// Ordinary words of three to nine letters (see `ordinary.copyright.txt`): what is one of
/// these is a word by itself, and is not taken for a slip of the finger without asking.
const ORDINARY: &str = include_str!("ordinary.txt");

/// Whether it is a word of ordinary English.
pub(crate) fn is_ordinary(word: &str) -> bool {
    static WORDS: OnceLock<Vec<&str>> = OnceLock::new();
    let words = WORDS.get_or_init(|| ORDINARY.lines().collect());
    words.binary_search(&word).is_ok()
}

/// "two", "second": the number.
#[must_use]
pub fn number_word(word: &str) -> Option<u64> {
    const WORDS: [&str; 20] = [
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
        "twenty",
    ];
    const TENS: [&str; 7] = [
        "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
    ];
    if let Some(ten) = TENS.iter().position(|one| *one == word) {
        return u64::try_from((ten + 3) * 10).ok();
    }
    let found = WORDS.iter().position(|one| *one == word)?;
    u64::try_from(found + 1).ok()
}

/// "third", "3rd": the place in a row.
pub(crate) fn ordinal(word: &str) -> Option<u64> {
    const WORDS: [&str; 8] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth",
    ];
    if let Some(found) = WORDS.iter().position(|one| *one == word) {
        return u64::try_from(found + 1).ok();
    }
    let digits = word.trim_end_matches(|c: char| c.is_alphabetic());
    let ends = ["st", "nd", "rd", "th"].contains(&word.get(digits.len()..)?);
    ends.then(|| digits.parse().ok()).flatten()
}

/// What a small word does to a clause.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Small {
    /// Says nothing by itself: "the", "is", "of".
    Empty,
    /// Makes more or less of it, which the record has no way to say: "very", "lot", "much", "a bit".
    Degree,
    /// "not", "no", "never".
    Not,
    /// "missing", "without", "gone".
    Missing,
    /// "maybe", "seems".
    Doubt,
    /// "definitely".
    Certain,
    /// "about": of a measure.
    About,
    /// Turns what is said around, or into another time: "unless", "formerly".
    Turn,
    /// "and", "but", "or".
    And,
    /// "all", "every", "both".
    All,
    /// "except".
    But,
}

/// Whether a word says that all is well, where it stands at the end: "the dovetails are fine".
pub(crate) fn is_praise(word: &str) -> bool {
    const WORDS: [&str; 22] = [
        "fine",
        "good",
        "sound",
        "ok",
        "okay",
        "perfect",
        "great",
        "nice",
        "alright",
        "right",
        "healthy",
        "solid",
        "well",
        "smoothly",
        "freely",
        "nicely",
        "properly",
        "sweetly",
        "perfectly",
        "easily",
        "correctly",
        "cleanly",
    ];
    WORDS.contains(&word)
}

/// Words of praise that may mean something else: the right leaf, a good top.
const UNCLEAR: [&str; 3] = ["right", "nice", "great"];

/// Whether a word says that all is well, and nothing else.
pub(crate) fn is_well(word: &str) -> bool {
    is_praise(word) && !UNCLEAR.contains(&word)
}

/// Whether a word says that something is not there: "lost", "bare".
pub(crate) fn is_loss(word: &str) -> bool {
    matches!(small(word), Some(Small::Missing)) || matches!(word, "short" | "bare" | "wanting")
}

const EMPTY: &[&str] = &[
    "a",
    "an",
    "the",
    "is",
    "are",
    "was",
    "were",
    "be",
    "been",
    "being",
    "am",
    "has",
    "have",
    "had",
    "having",
    "it",
    "its",
    "this",
    "that",
    "these",
    "those",
    "there",
    "of",
    "in",
    "on",
    "at",
    "to",
    "from",
    "with",
    "for",
    "by",
    "into",
    "onto",
    "here",
    "he",
    "she",
    "they",
    "them",
    "i",
    "we",
    "you",
    "one",
    "ones",
    "my",
    "her",
    "his",
    "him",
    "our",
    "your",
    "their",
    "us",
    "after",
    "since",
    "me",
    "when",
    "where",
    "which",
    "who",
    "what",
    "as",
    "so",
    "um",
    "er",
    "uh",
    "erm",
    "hmm",
    "oh",
    "sorry",
    "yeah",
    "yep",
    "basically",
    "actually",
    "anyway",
    "heck",
    "somebody",
    "someone",
    "okay",
    "ok",
    "well",
    "yes",
    "s",
    "shows",
    "show",
    "showing",
    "shown",
    "looked",
    "see",
    "seen",
    "find",
    "found",
    "hear",
    "heard",
    "feel",
    "feels",
    "felt",
    "noticed",
    "notice",
    "do",
    "does",
    "did",
    "doing",
    "get",
    "gets",
    "got",
    "getting",
    "go",
    "goes",
    "going",
    "come",
    "comes",
    "some",
    "number",
    "no.",
    "nr",
    "now",
    "then",
    "can",
    "will",
    "would",
    "t",
    "re",
    "ve",
    "ll",
    "out",
    "off",
    "up",
    "down",
    "over",
    "under",
    "measures",
    "measured",
    "measuring",
    "reads",
    "reading",
    "readings",
    "how",
    "please",
    "just",
    "also",
    "too",
    "still",
    "again",
    "already",
    "itself",
    "any",
    "anywhere",
    "say",
    "says",
    "tells",
    "told",
    "said",
    "like",
    "though",
    "owner",
    "customer",
    "client",
    "right",
];

const DEGREE: &[&str] = &[
    "very",
    "quite",
    "rather",
    "really",
    "slightly",
    "badly",
    "little",
    "bit",
    "somewhat",
    "fairly",
    "pretty",
    "terribly",
    "nasty",
    "bad",
    "awful",
    "slight",
    "heavily",
    "severely",
    "minor",
    "major",
    "big",
    "small",
    "large",
    "strong",
    "strongly",
    "totally",
    "completely",
    "well",
];

const DOUBT: &[&str] = &[
    "seems",
    "seem",
    "seemed",
    "seemingly",
    "looks",
    "look",
    "looking",
    "appears",
    "appear",
    "apparently",
    "maybe",
    "perhaps",
    "probably",
    "possibly",
    "possible",
    "might",
    "may",
    "could",
    "likely",
    "think",
    "thinks",
    "reckons",
    "reckon",
    "guess",
    "suspect",
    "presumably",
    "prob",
    "poss",
    "mebbe",
    "perh",
    "believe",
    "assume",
];

const TURN: &[&str] = &[
    "if",
    "unless",
    "until",
    "formerly",
    "previously",
    "ago",
    "since",
    "yesterday",
    "neither",
    "nor",
    "zero",
    "denies",
    "denied",
    "otherwise",
    "elsewhere",
    "once",
    "ex",
    "used",
    "former",
    "nearly",
    "almost",
    "hardly",
    "barely",
    "only",
    "except",
    "than",
    "before",
    "longer",
    "repaired",
    "fixed",
    "mended",
    "restored",
    "cured",
    "would",
    "should",
    "must",
    "will",
    "why",
    "whether",
    "instead",
    "rarely",
    "sometimes",
    "soon",
    "prevent",
    "against",
    "fine",
    "good",
    "sound",
    "alright",
    "less",
    "cause",
    "because",
    "due",
    "need",
    "needs",
    "needed",
];

const NOT: &[&str] = &[
    "not", "no", "never", "none", "neither", "nor", "nothing", "cannot", "isnt", "doesnt", "wasnt",
    "arent", "hasnt", "havent", "dont", "wont", "cant", "aint", "didnt", "non", "negative",
    "dosnt", "dosent", "doesent", "dosn't", "arnt", "wernt", "couldnt", "hadnt",
];

const MISSING: &[&str] = &[
    "missing", "without", "lacking", "lacks", "lost", "absent", "gone", "w/o",
];

const CERTAIN: &[&str] = &[
    "definitely",
    "certainly",
    "clearly",
    "certain",
    "surely",
    "obviously",
    "positively",
    "undoubtedly",
];

const ABOUT: &[&str] = &[
    "about",
    "approx",
    "approximately",
    "roughly",
    "circa",
    "ca",
    "around",
    "abt",
];

const AND: &[&str] = &["and", "or", "but", "plus", "n"];

const ALL: &[&str] = &["all", "every", "each", "both", "everywhere", "whole"];

const BUT: &[&str] = &["except", "excepting", "besides"];

/// What a small word does; `None` for a word that says something by itself.
pub(crate) fn small(word: &str) -> Option<Small> {
    static WORDS: OnceLock<HashMap<&str, Small>> = OnceLock::new();
    if word.ends_with("n't") {
        return Some(Small::Not);
    }
    let words = WORDS.get_or_init(|| {
        // A word in two lists is what the later one says.
        let lists = [
            (EMPTY, Small::Empty),
            (DEGREE, Small::Degree),
            (TURN, Small::Turn),
            (DOUBT, Small::Doubt),
            (BUT, Small::But),
            (ALL, Small::All),
            (AND, Small::And),
            (ABOUT, Small::About),
            (CERTAIN, Small::Certain),
            (MISSING, Small::Missing),
            (NOT, Small::Not),
        ];
        let pairs = |(list, small): (&'static [&'static str], Small)| {
            list.iter().map(move |word| (*word, small))
        };
        lists.into_iter().flat_map(pairs).collect()
    });
    words.get(word).copied()
}

/// Whether a word denies, doubts or leaves out: what is said with it is not just what is named.
/// "no door", "maybe the back", "all but the top".
#[must_use]
pub fn turns(word: &str) -> bool {
    let word = word.to_lowercase();
    let turns = [Small::Not, Small::Missing, Small::Doubt, Small::But];
    small(&word).is_some_and(|small| turns.contains(&small)) || matches!(&*word, "but" | "rest")
}

/// A place in a row: "top" of "top drawer". The words are looked up only where a part
/// follows them that there are several of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    /// The first.
    First,
    /// The one in the middle, if there is one.
    Middle,
    /// The last.
    Last,
}

/// Other words for where a part is: "rear" for "back".
pub(crate) fn same_place(word: &str) -> &'static [&'static str] {
    match word {
        "back" => &["rear", "hind", "bk", "behind"],
        "rear" => &["back", "hind", "bk", "behind"],
        "front" => &["fore", "frt", "fr"],
        "fore" => &["front", "frt", "fr"],
        "hind" => &["back", "rear", "bk", "behind"],
        _ => &[],
    }
}

/// Whether a part of this name may be meant: "front left" by "left front", or by "front"; "fore" by
/// "front".
pub(crate) fn is_named(name: &str, said: &str) -> bool {
    let is_it = |word: &str, one: &str| {
        let word = word.to_lowercase();
        word == one || same_place(&word).contains(&one)
    };
    let mut said = said.split(' ');
    said.all(|one| name.split(' ').any(|word| is_it(word, one)))
}

/// "top", "lower", "middle".
pub(crate) fn place(word: &str) -> Option<Place> {
    match word {
        "top" | "upper" | "topmost" | "uppermost" | "highest" | "first" => Some(Place::First),
        "middle" | "mid" | "centre" | "center" => Some(Place::Middle),
        "bottom" | "lower" | "lowest" | "bottommost" | "last" => Some(Place::Last),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::{Small, is_ordinary, ordinal, small};

    #[test]
    fn ordinary_words_are_found_and_slips_are_not() {
        assert!(is_ordinary("tacked") && is_ordinary("window"));
        assert!(!is_ordinary("craeking") && !is_ordinary("stif"));
    }

    #[test]
    fn nots_are_nots_however_they_are_written() {
        for word in ["not", "isn't", "isnt", "doesn't", "no", "couldn't"] {
            assert_eq!(small(word), Some(Small::Not), "{word}");
        }
        assert_eq!(small("stiff"), None);
    }

    #[test]
    fn places_in_a_row_are_read() {
        assert_eq!(ordinal("third"), Some(3));
        assert_eq!(ordinal("2nd"), Some(2));
        assert_eq!(ordinal("second-hand"), None);
        assert_eq!(ordinal("th"), None);
    }
}
