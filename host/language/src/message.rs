//! What the reader of a file has to say about it.
//!
//! The wording is data: `messages.txt` beside this file holds one numbered
//! entry for each mistake, so that it can be improved without any Rust.

use std::collections::HashMap;
use std::sync::OnceLock;

use crate::span::Span;

/// How much a message matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// The pack is not built until this is put right.
    Stop,
    /// The pack is built, but somebody should look at this.
    Look,
    /// Worth knowing; shown only when asked for.
    Note,
}

/// One thing to say about the files.
#[derive(Clone, Debug, PartialEq)]
pub struct Message {
    /// Its number in `messages.txt`.
    pub number: u16,
    /// How much it matters.
    pub level: Level,
    /// The words it is about.
    pub at: Span,
    /// What is wrong; stands alone.
    pub text: String,
    /// What to do about it.
    pub help: Option<String>,
    /// A change that would put it right.
    pub fix: Option<Fix>,
    /// Other places that have to do with it.
    pub also: Vec<Span>,
    /// The same mistake was already explained: this one is cut short.
    pub again: bool,
}

/// A change to a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// What to replace; empty for something to be put in.
    pub at: Span,
    /// What to put there.
    pub replacement: String,
    /// Sure enough to be made without asking.
    pub sure: bool,
}

impl Message {
    /// What it says, and what would help, in one line of plain text.
    #[must_use]
    pub fn said(&self) -> String {
        match &self.help {
            Some(help) => format!("{} {help}", self.text),
            None => self.text.clone(),
        }
    }

    /// The message with this number, its blanks filled in.
    ///
    /// Of the texts (and helps) that `messages.txt` has under the number, the
    /// first whose blanks are all given is used.
    #[must_use]
    pub fn new(number: u16, at: Span, blanks: &[(&str, &str)]) -> Message {
        let template = templates().get(&number);
        let (level, text, help) = match template {
            Some(template) => (
                template.level,
                fill_first(&template.texts, blanks),
                fill_first(&template.helps, blanks),
            ),
            None => (Level::Stop, None, None),
        };
        Message {
            number,
            level,
            at,
            text: text.unwrap_or_else(|| format!("Something is wrong here (message {number}).")),
            help,
            fix: None,
            also: Vec::new(),
            again: false,
        }
    }

    /// With a change that would put it right.
    #[must_use]
    pub fn with_fix(mut self, at: Span, replacement: impl Into<String>, sure: bool) -> Message {
        self.fix = Some(Fix {
            at,
            replacement: replacement.into(),
            sure,
        });
        self
    }

    /// With another place that has to do with it.
    #[must_use]
    pub fn with_also(mut self, at: Span) -> Message {
        self.also.push(at);
        self
    }

    /// At another level than the usual one.
    #[must_use]
    pub fn at_level(mut self, level: Level) -> Message {
        self.level = level;
        self
    }
}

/// One entry of `messages.txt`.
#[derive(Clone, Debug)]
struct Template {
    level: Level,
    texts: Vec<String>,
    helps: Vec<String>,
}

/// A numbered entry of the message file, for those who list or check it.
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

/// Every message there is, by number.
#[must_use]
pub fn wordings() -> Vec<Wording> {
    let mut all: Vec<Wording> = templates()
        .iter()
        .map(|(number, template)| Wording {
            number: *number,
            level: template.level,
            texts: template.texts.clone(),
            helps: template.helps.clone(),
        })
        .collect();
    all.sort_by_key(|wording| wording.number);
    all
}

fn templates() -> &'static HashMap<u16, Template> {
    static TEMPLATES: OnceLock<HashMap<u16, Template>> = OnceLock::new();
    TEMPLATES.get_or_init(|| parse(include_str!("messages.txt")))
}

/// Reads the message file: a line `12 stop` in column 1 opens an entry;
/// indented lines are its texts, those that begin with `>` its helps.
fn parse(file: &str) -> HashMap<u16, Template> {
    let mut all: HashMap<u16, Template> = HashMap::new();
    let mut current = 0;
    for line in file.lines() {
        let words = line.trim();
        if words.is_empty() || words.starts_with('#') {
            continue;
        }
        if line.starts_with(char::is_whitespace) {
            if let Some(template) = all.get_mut(&current) {
                match words.strip_prefix('>') {
                    Some(help) => template.helps.push(help.trim().to_owned()),
                    None => template.texts.push(words.to_owned()),
                }
            }
        } else {
            let mut parts = words.split_whitespace();
            current = parts.next().and_then(|n| n.parse().ok()).unwrap_or(0);
            let level = match parts.next() {
                Some("look") => Level::Look,
                Some("note") => Level::Note,
                _ => Level::Stop,
            };
            all.insert(
                current,
                Template {
                    level,
                    texts: Vec::new(),
                    helps: Vec::new(),
                },
            );
        }
    }
    all
}

fn fill_first(templates: &[String], blanks: &[(&str, &str)]) -> Option<String> {
    templates.iter().find_map(|text| fill(text, blanks))
}

/// The text with its blanks filled; nothing if one of them is not given.
fn fill(template: &str, blanks: &[(&str, &str)]) -> Option<String> {
    let mut out = String::with_capacity(template.len() + 32);
    let mut rest = template;
    while let Some(open) = rest.find('{') {
        out.push_str(&rest[..open]);
        let close = open + rest[open..].find('}')?;
        let name = &rest[open + 1..close];
        let (_, value) = blanks.iter().find(|(blank, _)| *blank == name)?;
        out.push_str(value);
        rest = &rest[close + 1..];
    }
    out.push_str(rest);
    Some(out)
}
