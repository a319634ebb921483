//! A file into entries: a line at the edge of the page and the lines moved in
//! under it. What sort of sentence an entry is, is settled by how it begins.

mod mend;
mod opener;

pub use opener::Opener;

use mend::mend;
use opener::{opener, put_words, unknown_opener};

use crate::files::Files;
use crate::label::{self, Detail};
use crate::message::{Fix, Message, Problem};
use crate::span::{FileId, Span};
use crate::token::{Sort, Token, one_line, span, tokens};
use crate::vocab::join;

/// An entry, cut into its sentence and its particulars.
#[derive(Clone, Debug)]
pub struct Entry {
    /// What sort of sentence it is.
    pub opener: Opener,
    /// Whether it comes from the rules that ship with the tool.
    pub standard: bool,
    /// The whole entry.
    pub at: Span,
    /// The tokens of the sentence.
    pub sentence: Vec<Token>,
    /// The particulars.
    pub details: Vec<Detail>,
    /// "Ask the owner first." among the particulars.
    pub ask_owner: Option<Span>,
    /// The name of the sentence that this one stands instead of.
    pub instead: Option<(String, Span)>,
    /// Whether a label was not understood.
    pub label_slip: bool,
    /// Whether a label was misspelt, understood or not.
    pub label_misspelt: bool,
}

impl Entry {
    /// Where the sentence stands, without its particulars.
    #[must_use]
    pub fn sentence_at(&self) -> Span {
        match (self.sentence.first(), self.sentence.last()) {
            (Some(first), Some(last)) => first.at.to(last.at),
            _ => self.at,
        }
    }

    /// The entry with a change made in its sentence; nothing if the change is
    /// not one of whole words.
    #[must_use]
    pub fn with(&self, fix: &Fix) -> Option<Entry> {
        let first = self
            .sentence
            .iter()
            .position(|t| t.at.start == fix.at.start)?;
        let last = self.sentence.iter().position(|t| t.at.end == fix.at.end)?;
        let place = self.sentence.get(first..=last)?;
        let (at, lead) = (place.first()?.at.to(place.last()?.at), place[0].first);
        let column = place[0].column;
        let words: Vec<Token> = fix
            .replacement
            .split_whitespace()
            .enumerate()
            .map(|(index, word)| Token {
                sort: Sort::Word,
                text: word.to_lowercase(),
                at,
                first: lead && index == 0,
                column,
            })
            .collect();
        let mut entry = self.clone();
        entry.sentence.splice(first..=last, words);
        Some(entry)
    }
}

/// A sentence that replaces another.
const INSTEAD_EXAMPLE: &str = "\"Instead of worn runner drags, if any runner of a drawer is worn \
                               more than 3 mm then the drawer is often stiff.\"";

/// Words that only ever go on with a sentence.
const GOING_ON: [&str; 6] = ["then", "unless", "and", "or", "given", "expect"];

/// Cuts a file into entries.
pub fn entries(
    file: FileId,
    text: &str,
    standard: bool,
    files: &Files,
    said: &mut Vec<Message>,
) -> Vec<Entry> {
    let mut ranges: Vec<(usize, usize)> = Vec::new();
    let mut offset = 0;
    for line in text.split_inclusive('\n') {
        let start = offset;
        offset += line.len();
        let words = line.trim_matches(|c: char| c.is_whitespace() || c == '\u{feff}');
        if words.is_empty() || words.starts_with('#') {
            continue;
        }
        let lead = line.trim_start_matches('\u{feff}');
        let end = start + line.trim_end().len();
        let start = start + line.len() - lead.len();
        if lead.starts_with(char::is_whitespace) {
            match ranges.last_mut() {
                Some(range) => range.1 = end,
                None => {
                    let from = start + (lead.len() - lead.trim_start().len());
                    said.push(Message::new(span(file, from, end), Problem::NothingAbove));
                }
            }
            continue;
        }
        if let Some(word) = goes_on(words)
            && let Some(range) = ranges.last_mut()
        {
            let at = span(file, start, start + word.len());
            said.push(Message::new(at, Problem::NotMovedIn { word }).with_fix(
                span(file, start, start),
                "    ",
                true,
            ));
            range.1 = end;
            continue;
        }
        ranges.push((start, end));
    }
    ranges
        .into_iter()
        .filter_map(|(start, end)| entry(file, text, (start, end), standard, files, said))
        .collect()
}

/// The word by which a line at the edge of the page shows that it belongs to
/// the one above.
fn goes_on(line: &str) -> Option<&str> {
    let word = line.split(|c: char| !c.is_alphanumeric()).next()?;
    let small = word.to_lowercase();
    let default = line.to_lowercase().starts_with("unless we say");
    if GOING_ON.contains(&small.as_str()) && !default {
        return Some(word);
    }
    if line.starts_with("- ") {
        return Some("-");
    }
    if small == "note" {
        return None;
    }
    label::LABELS.iter().find_map(|(_, name, _)| {
        let head = line.get(..=name.len())?;
        (head.to_lowercase() == format!("{}:", name.to_lowercase())).then_some(head)
    })
}

fn entry(
    file: FileId,
    text: &str,
    (start, end): (usize, usize),
    standard: bool,
    files: &Files,
    said: &mut Vec<Message>,
) -> Option<Entry> {
    let mut all = tokens(file, text, start, end);
    let at = span(file, start, end);
    if all.is_empty() {
        return None;
    }
    mend(&mut all, files, said);
    let instead = take_instead(&mut all);
    if instead.is_some() && all.iter().all(|t| t.sort == Sort::Stop) {
        let read = one_line(at.words(text));
        said.push(Message::new(
            at,
            Problem::Incomplete {
                read: read.trim_end_matches('.'),
                wants: "the sentence that stands instead",
                example: INSTEAD_EXAMPLE,
            },
        ));
        return None;
    }
    let opener = match opener(&all) {
        Some(opener) => opener,
        None => {
            let (message, mended) = unknown_opener(&all);
            said.push(message);
            if let Some((count, words)) = mended {
                put_words(&mut all, count, words);
            }
            opener(&all).unwrap_or(Opener::Unknown)
        }
    };
    if matches!(opener, Opener::Source | Opener::Note | Opener::Unknown) {
        return Some(Entry {
            opener,
            standard,
            at,
            sentence: all,
            details: Vec::new(),
            ask_owner: None,
            instead,
            label_slip: false,
            label_misspelt: false,
        });
    }
    let place = |sort| all.iter().position(|t| t.sort == sort);
    let (first_colon, first_text) = (place(Sort::Colon), place(Sort::Text));
    let mut split = label::split(
        all,
        |tokens, colon| is_structure(opener, tokens, colon, first_colon, first_text),
        said,
    );
    let ask_owner = take_ask_owner(&mut split);
    Some(Entry {
        opener,
        standard,
        at,
        sentence: split.sentence,
        details: split.details,
        ask_owner,
        instead,
        label_slip: split.slip,
        label_misspelt: split.misspelt,
    })
}

/// Takes "Instead of <name>," off the front.
fn take_instead(tokens: &mut Vec<Token>) -> Option<(String, Span)> {
    if !(starts(tokens, "instead of")) {
        return None;
    }
    let comma = tokens.iter().position(|t| t.sort == Sort::Comma)?;
    if comma < 3 || tokens[..comma].iter().any(|t| t.sort == Sort::Colon) {
        return None;
    }
    let name = join(&tokens[2..comma]);
    let at = tokens[2].at.to(tokens[comma - 1].at);
    tokens.drain(..=comma);
    Some((name, at))
}

/// Takes "Ask the owner first." out.
fn take_ask_owner(split: &mut label::Split) -> Option<Span> {
    let mut found = None;
    let mut take = |tokens: &mut Vec<Token>, from: usize| {
        let place = (from..tokens.len()).find(|&index| {
            starts(&tokens[index..], "ask the owner first")
                && (tokens[index].first
                    || index == 0
                    || matches!(tokens[index - 1].sort, Sort::Stop | Sort::Text))
        });
        if let Some(index) = place {
            found = Some(tokens[index].at.to(tokens[index + 3].at));
            let stop = tokens.get(index + 4).is_some_and(|t| t.sort == Sort::Stop);
            tokens.drain(index..index + 4 + usize::from(stop));
            // The full stop of what stood before it.
            if tokens.len() == index && index > from && tokens[index - 1].sort == Sort::Stop {
                tokens.pop();
            }
        }
    };
    take(&mut split.sentence, 1);
    for detail in &mut split.details {
        take(&mut detail.value, 0);
    }
    found
}

/// Whether the tokens begin with these words.
#[must_use]
pub fn starts(tokens: &[Token], words: &str) -> bool {
    let mut count = 0;
    for word in words.split(' ') {
        if !tokens.get(count).is_some_and(|t| t.is(word)) {
            return false;
        }
        count += 1;
    }
    count > 0
}

/// Whether the tokens hold these words one after the other.
#[must_use]
pub fn holds(tokens: &[Token], words: &str) -> bool {
    (0..tokens.len()).any(|index| starts(&tokens[index..], words))
}

/// "You can see how badly a veneer is lifted:", and no label.
fn is_before_degrees(tokens: &[Token]) -> bool {
    let is_how = tokens.get(3).is_some_and(|t| t.is("how"));
    let is_whole = |t: &Token| !matches!(t.sort, Sort::Comma | Sort::Stop);
    let colon = tokens.len().saturating_sub(1);
    is_how && tokens.iter().all(is_whole) && !label::ends_label(tokens, colon)
}

/// Whether a colon belongs to the sentence. `first_colon` and `first_text` are
/// where the entry has its first colon and text.
fn is_structure(
    opener: Opener,
    tokens: &[Token],
    colon: usize,
    first_colon: Option<usize>,
    first_text: Option<usize>,
) -> bool {
    // A head of a list is short, so there is no need to look far back.
    let before = &tokens[colon.saturating_sub(24)..colon];
    // "All of these are true of a fall:"
    let list = before
        .iter()
        .rposition(|t| matches!(t.sort, Sort::Colon | Sort::Bullet | Sort::Stop))
        .map_or(before, |p| &before[p..]);
    if holds(list, "of these") && list.iter().any(|t| t.is("true")) {
        return true;
    }
    let first = first_colon == Some(colon);
    match opener {
        Opener::Pieces
        | Opener::Parts
        | Opener::BenchRemarks
        | Opener::Job
        | Opener::Round
        | Opener::Example => first,
        Opener::Sign => {
            let is_choice = before.last().is_some_and(|t| t.is("has") || t.is("have"));
            is_choice || (first && is_before_degrees(&tokens[..=colon]))
        }
        Opener::Caution | Opener::Tell => first_text == Some(colon + 1),
        Opener::Ladder => {
            first
                || holds(list, "depending on how")
                || starts(&tokens[colon + 1..], "plan to")
                || starts(&tokens[colon + 1..], "nothing")
                || before.last().is_some_and(|t| {
                    t.is("more")
                        || matches!(t.sort, Sort::Number(_))
                        || crate::number::unit_of(&t.text).is_some()
                })
        }
        _ => false,
    }
}
