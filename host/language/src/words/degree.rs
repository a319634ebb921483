//! Degrees in words: "slightly lifted", "at least noticeably lifted", "not lifted".

use crate::model::{Asks, Mark, Sure, Than};

/// "slightly lifted"; "at least noticeably lifted", which of the lowest degree is
/// "lifted" and of the highest the degree itself; "less than badly lifted", which of the
/// lowest is "not lifted".
#[must_use]
pub fn degree_words(asks: &Asks, than: Than, degree: u8) -> String {
    let Asks::Degrees {
        word,
        phrase,
        degrees,
    } = asks
    else {
        return "?".to_owned();
    };
    let phrase = if phrase.is_empty() { word } else { phrase };
    let Some(below) = usize::from(degree).checked_sub(1) else {
        return format!("not {phrase}");
    };
    let just = match degrees.get(below) {
        Some(degree) => format!("{degree} {phrase}"),
        None => "?".to_owned(),
    };
    let is_highest = below + 1 == degrees.len();
    match than {
        Than::Just => just,
        Than::AtLeast if degree == 1 => phrase.clone(),
        Than::AtLeast if is_highest => just,
        Than::AtLeast => format!("at least {just}"),
        Than::LessThan if degree == 1 => format!("not {phrase}"),
        Than::LessThan if is_highest => format!("not {just}"),
        Than::LessThan => format!("less than {just}"),
    }
}

/// All that can be answered, the lowest first: "not lifted", "slightly lifted" …
#[must_use]
pub fn every_degree(asks: &Asks) -> Vec<String> {
    let most = asks.ends().map_or(0, |(_, most)| most);
    let degrees = 0..=u8::try_from(most).unwrap_or(0);
    degrees
        .map(|degree| degree_words(asks, Than::Just, degree))
        .collect()
}

/// What a condition asks for: "is slightly lifted, no less and no more", "is at least
/// noticeably lifted".
pub(super) fn degree_predicate(asks: &Asks, mark: Mark, yes: bool, plural: bool) -> String {
    let be = if plural { "are" } else { "is" };
    let degree = |ticks| u8::try_from(ticks).unwrap_or(0);
    let from = degree(mark.at_least);
    match mark.at_most.map(degree) {
        Some(to) if to == from => {
            let just = degree_words(asks, Than::Just, from);
            format!("{be} {just}, no less and no more")
        }
        _ if yes => format!("{be} {}", degree_words(asks, Than::AtLeast, from)),
        _ => format!("{be} {}", degree_words(asks, Than::LessThan, from)),
    }
}

/// "is slightly lifted", "looks at least noticeably lifted", "is certainly not lifted".
pub(super) fn judged_words(asks: &Asks, (than, degree): (Than, u8), sure: Sure) -> String {
    let words = degree_words(asks, than, degree);
    match (sure, words.strip_prefix("not ")) {
        (Sure::Ordinary, _) => format!("is {words}"),
        (Sure::Certain, _) => format!("is certainly {words}"),
        (Sure::Looks, Some(words)) => format!("does not look {words}"),
        (Sure::Looks, None) => format!("looks {words}"),
    }
}
