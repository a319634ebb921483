//! The wording of every message, read from `messages.txt`.

use std::collections::HashMap;
use std::sync::OnceLock;

use crate::message::{Level, Problem};

/// A numbered entry of the message file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wording {
    /// The number.
    pub number: u16,
    /// The level.
    pub level: Level,
    /// The texts, blanks unfilled.
    pub texts: Vec<String>,
    /// The helps, blanks unfilled.
    pub helps: Vec<String>,
}

/// What a problem says.
pub(super) struct Filled {
    pub(super) level: Level,
    pub(super) text: String,
    pub(super) help: Option<String>,
}

/// Every wording there is, by number.
#[must_use]
pub fn wordings() -> Vec<Wording> {
    let mut all: Vec<Wording> = by_number().values().cloned().collect();
    all.sort_by_key(|wording| wording.number);
    all
}

/// The words for a problem: of the texts (and helps) under its number, the first
/// whose blanks are all known.
pub(super) fn fill(problem: Problem<'_>) -> Filled {
    let number = problem.kind().number();
    let Some(wording) = by_number().get(&number) else {
        // A test keeps wordings and problems together.
        return Filled {
            level: Level::Stop,
            text: format!("Something is wrong here (message {number})."),
            help: None,
        };
    };
    let blanks = problem.blanks();
    Filled {
        level: wording.level,
        text: fill_first(&wording.texts, &blanks).unwrap_or_default(),
        help: fill_first(&wording.helps, &blanks),
    }
}

fn by_number() -> &'static HashMap<u16, Wording> {
    static WORDINGS: OnceLock<HashMap<u16, Wording>> = OnceLock::new();
    WORDINGS.get_or_init(|| parse(include_str!("messages.txt")))
}

/// Reads the message file: a line `12 stop` in column 1 opens an entry;
/// indented lines are its texts, those that begin with `>` its helps.
fn parse(file: &str) -> HashMap<u16, Wording> {
    let mut all: HashMap<u16, Wording> = HashMap::new();
    let mut number = 0;
    for line in file.lines() {
        let words = line.trim();
        if words.is_empty() || words.starts_with('#') {
            continue;
        }
        if line.starts_with(char::is_whitespace) {
            if let Some(wording) = all.get_mut(&number) {
                match words.strip_prefix('>') {
                    Some(help) => wording.helps.push(help.trim().to_owned()),
                    None => wording.texts.push(words.to_owned()),
                }
            }
        } else {
            let mut parts = words.split_whitespace();
            number = parts.next().and_then(|n| n.parse().ok()).unwrap_or(0);
            let level = match parts.next() {
                Some("look") => Level::Look,
                Some("note") => Level::Note,
                _ => Level::Stop,
            };
            let wording = Wording {
                number,
                level,
                texts: Vec::new(),
                helps: Vec::new(),
            };
            all.insert(number, wording);
        }
    }
    all
}

fn fill_first(lines: &[String], blanks: &[(&str, Option<String>)]) -> Option<String> {
    lines.iter().find_map(|line| fill_line(line, blanks))
}

/// The line with its blanks filled; nothing if one of them is not known.
fn fill_line(line: &str, blanks: &[(&str, Option<String>)]) -> Option<String> {
    let mut out = String::with_capacity(line.len() + 32);
    let mut rest = line;
    while let Some(open) = rest.find('{') {
        out.push_str(&rest[..open]);
        let close = open + rest[open..].find('}')?;
        let name = &rest[open + 1..close];
        let (_, words) = blanks.iter().find(|(blank, _)| *blank == name)?;
        out.push_str(words.as_deref()?);
        rest = &rest[close + 1..];
    }
    out.push_str(rest);
    Some(out)
}
