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
    let words = words_of(head);
    let (kind, counted) = match named(model, &words) {
        Some(kind) => (kind, None),
        None => counted(model, &words)
            .find_map(|(rest, counted)| named(model, &rest).map(|kind| (kind, Some(counted))))?,
    };
    let with = with.map(|with| parts_of_the_piece(model, kind, with));
    let with: Vec<String> = counted.into_iter().chain(with).collect();
    Some(match with.is_empty() {
        true => kind.name.clone(),
        false => format!("{} with {}", kind.name, with.join(" and ")),
    })
}

fn words_of(text: &str) -> Vec<String> {
    bare_name(text)
        .split(|c: char| c.is_whitespace() || c == '-')
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect()
}

/// What somebody called a piece that the rules call otherwise: "linen press", of a cupboard.
/// `None` where it is the rules' own word, or another way to write it.
#[must_use]
pub fn called(model: &Model, order: &PieceOrder, asked: &str) -> Option<String> {
    let head = asked.split_once(" with ").map_or(asked, |(head, _)| head);
    let kind = model.kinds.get(order.kind.index())?;
    let mut words = words_of(head);
    while !words.is_empty() {
        let is_it =
            |words: &[String]| named(model, words).is_some_and(|named| std::ptr::eq(named, kind));
        let counted = || counted(model, &words).find_map(|(rest, _)| is_it(&rest).then_some(rest));
        if let Some(called) = is_it(&words).then(|| words.clone()).or_else(counted) {
            return (joined(&called) != joined(&words_of(&kind.name))).then(|| called.join(" "));
        }
        // What stands before it says something of it.
        words.remove(0);
    }
    None
}

/// Words apart or together: "drop leaf" and "dropleaf".
fn joined(words: &[String]) -> String {
    words.iter().map(|word| stem(word)).collect()
}

/// "3 drawers and 2 trays" as the rules call the parts of this piece: another piece may have
/// other trays.
fn parts_of_the_piece(model: &Model, piece: &Kind, with: &str) -> String {
    let own = |words: &[String]| {
        let typed = joined(words);
        let of_piece = piece.members.iter();
        let mut kinds = of_piece.filter_map(|member| model.kinds.get(member.kind.index()));
        kinds.find(|kind| {
            let names = [&kind.name, &kind.plural].into_iter().chain(&kind.also);
            let mut names = names.map(|name| joined(&words_of(name)));
            names.any(|name| name == typed)
        })
    };
    let each = with.split(',').flat_map(|some| some.split(" and "));
    let each = each.filter(|some| !some.trim().is_empty()).map(|some| {
        let words = words_of(some);
        let split = words.split_first();
        let number = split.and_then(|(first, _)| first.parse().ok().or_else(|| number_word(first)));
        let part = split.and_then(|(_, rest)| own(rest));
        match number.zip(part) {
            Some((1, part)) => format!("1 {}", part.name),
            Some((number, part)) => format!("{number} {}", part.plural),
            None => some.trim().to_owned(),
        }
    });
    each.collect::<Vec<_>>().join(" and ")
}

/// The piece whose name, or another word for it, these are.
fn named<'m>(model: &'m Model, words: &[String]) -> Option<&'m Kind> {
    // Apart or together: "drop leaf" and "dropleaf".
    let typed = joined(words);
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
