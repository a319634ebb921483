//! A piece as people write it: "drop leaf table", "a 4-drawer chest of drawers".

use crate::english::number_word;
use crate::stem::stem;
use tellmark_language::model::{Kind, Model, PieceOrder};
use tellmark_language::{Message, read_piece};

/// Reads what a piece is. Words that are written apart or together, in the plural, with an
/// article or with "old" before them are the same words; "a 4-drawer chest" and "chest of 4
/// drawers" are chests with 4 drawers, if that is what the rules call them.
///
/// # Errors
/// What is wrong with the words, as they would be read exactly.
pub fn piece(model: &Model, asked: &str) -> Result<PieceOrder, Box<Message>> {
    read_piece(model, asked).or_else(|message| {
        let said = as_the_rules_say(model, asked);
        let read = said.and_then(|said| read_piece(model, &said).ok());
        read.ok_or_else(|| Box::new(message))
    })
}

/// As [`piece`], and gives back the words before the name of a piece that are no part of it:
/// "Georgian oak" of "a Georgian oak coffer". They say something of the piece, which is for the
/// reader of notes.
///
/// # Errors
/// As [`piece`].
pub fn piece_described(model: &Model, asked: &str) -> Result<(PieceOrder, String), Box<Message>> {
    let whole = match piece(model, asked) {
        Ok(order) => return Ok((order, String::new())),
        Err(message) => message,
    };
    let (mut said, mut rest) = (Vec::new(), bare_name(asked));
    while let Some((first, after)) = rest.split_once(char::is_whitespace) {
        if !describes(model, first) {
            break;
        }
        said.push(first);
        rest = after.trim_start();
        if let Ok(order) = piece(model, rest) {
            return Ok((order, said.join(" ")));
        }
    }
    Err(whole)
}

/// Whether a word may stand before the name of a piece and say something of it: "oak", and not
/// "chest", "bureau" or "on".
fn describes(model: &Model, word: &str) -> bool {
    const BETWEEN: [&str; 8] = ["on", "of", "with", "and", "or", "in", "for", "without"];
    let word = word.to_lowercase();
    let is_in = |name: &String| {
        let name = name.to_lowercase();
        name.split([' ', '-']).next_back() == Some(word.as_str())
    };
    let mut kinds = model.kinds.iter().skip(1);
    let mut is_noun =
        |kind: &Kind| is_in(&kind.name) || is_in(&kind.plural) || kind.also.iter().any(is_in);
    let is_noun = kinds.any(&mut is_noun);
    let has_figures = word.contains(|c: char| c.is_ascii_digit());
    !is_noun && !has_figures && !BETWEEN.contains(&word.as_str()) && number_word(&word).is_none()
}

/// The words of a piece without those that say nothing of it: "a grand piano" is a "grand
/// piano".
#[must_use]
pub fn bare_name(asked: &str) -> &str {
    const SAYS_NOTHING: [&str; 6] = ["a", "an", "the", "one", "old", "antique"];
    let mut rest = asked.trim();
    while let Some((first, after)) = rest.split_once(' ') {
        if !SAYS_NOTHING.contains(&first.to_lowercase().as_str()) {
            break;
        }
        rest = after.trim_start();
    }
    rest
}

fn as_the_rules_say(model: &Model, asked: &str) -> Option<String> {
    let (head, with) = match asked.split_once(" with ") {
        Some((head, with)) => (head, Some(with)),
        None => (asked, None),
    };
    let words: Vec<String> = bare_name(head)
        .split(|c: char| c.is_whitespace() || c == '-')
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let named = |words: &[String]| named(model, words).map(|kind| kind.name.clone());
    let (name, counted) = match named(&words) {
        Some(name) => (name, None),
        None => counted(model, &words)
            .find_map(|(rest, counted)| named(&rest).map(|name| (name, Some(counted))))?,
    };
    let with: Vec<&str> = counted.as_deref().into_iter().chain(with).collect();
    Some(match with.is_empty() {
        true => name,
        false => format!("{name} with {}", with.join(" and ")),
    })
}

/// The piece whose name, or another word for it, these are.
fn named<'m>(model: &'m Model, words: &[String]) -> Option<&'m Kind> {
    // Apart or together: "drop leaf" and "dropleaf".
    let typed: String = words.iter().map(|word| stem(word)).collect();
    let is_it = |name: &String| {
        let name = name.to_lowercase();
        name.split([' ', '-']).map(stem).collect::<String>() == typed
    };
    let mut pieces = model.kinds.iter().skip(1).filter(|kind| kind.is_piece);
    pieces.find(|kind| is_it(&kind.name) || kind.also.iter().any(is_it))
}

/// Each way to take a number and the word behind it for a count of parts: the words that are
/// left, and "4 drawers".
fn counted<'a>(
    model: &'a Model,
    words: &'a [String],
) -> impl Iterator<Item = (Vec<String>, String)> + 'a {
    words.windows(2).enumerate().flat_map(move |(at, pair)| {
        let number = pair[0].parse().ok().or_else(|| number_word(&pair[0]));
        let part = named_part(model, &pair[1]);
        let count = number.zip(part).map(|(number, part)| match number {
            1 => format!("1 {}", part.name),
            _ => format!("{number} {}", part.plural),
        });
        // "4 drawer chest" loses both words, "chest of 4 drawers" the number.
        let without = move |range: std::ops::Range<usize>| {
            let mut rest = words.to_vec();
            rest.drain(range);
            rest
        };
        let rests = count.map(|count| {
            [
                (without(at..at + 1), count.clone()),
                (without(at..at + 2), count),
            ]
        });
        rests.into_iter().flatten()
    })
}

fn named_part<'m>(model: &'m Model, word: &str) -> Option<&'m Kind> {
    let typed = stem(word);
    let mut parts = model.kinds.iter().skip(1).filter(|kind| !kind.is_piece);
    parts.find(|kind| stem(&kind.name.to_lowercase()) == typed)
}
