//! Measures in words: "is worn 3 mm", "was moved 3 weeks ago", "has stood open for 3 days".

use super::condition::trailing;
use crate::model::{Asks, Tense};

/// What is found, or looked for: "is split 2 mm wide"; `plural`: "are split …".
#[must_use]
pub fn measured_words(asks: &Asks, quantity: &str, plural: bool) -> String {
    let Asks::HowMuch { word, phrase, .. } = asks else {
        return "?".to_owned();
    };
    match asks.tense() {
        Tense::Ago => {
            let was = if plural { "were" } else { "was" };
            format!("{was} {phrase} {quantity} ago")
        }
        Tense::Lasting => {
            let has = if plural { "have" } else { "has" };
            format!("{has} {phrase} for {quantity}")
        }
        Tense::Is => {
            let be = if plural { "are" } else { "is" };
            // "How thick a top is" has no more words.
            let space = if phrase.is_empty() { "" } else { " " };
            format!("{be} {phrase}{space}{quantity}{}", trailing(word))
        }
    }
}

/// What is asked: "how much runner 1 is worn", "how long ago the piece was moved".
#[must_use]
pub fn how_words(asks: &Asks, part: &str) -> String {
    let (Asks::HowMuch { word, phrase, .. } | Asks::Degrees { word, phrase, .. }) = asks else {
        return "?".to_owned();
    };
    let verb = match asks.tense() {
        Tense::Is => "is",
        Tense::Ago => "was",
        Tense::Lasting => "has",
    };
    // "How thick a top is" has no more words.
    let said = format!("how {word} {part} {verb} {phrase}");
    said.trim_end().to_owned()
}
