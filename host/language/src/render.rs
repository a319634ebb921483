//! Messages as they are shown, and as data for other programs.

use anstyle::AnsiColor;
use serde::Serialize;
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr as _};

use crate::files::Files;
use crate::ink::{Ink, push_escaped};
use crate::message::{Level, Message};
use crate::span::Span;
use crate::token::one_line;

/// Whether colours may be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Style {
    /// Words alone.
    Plain,
    /// With colours for the level, to be printed by way of [`crate::ink::pieces`].
    Colour,
}

/// The file and line (from 1) of a place.
#[must_use]
pub fn line_of(files: &Files, at: Span) -> (&str, usize) {
    match files.file(at) {
        Some(file) => (&file.name, files.number(at)),
        None => ("", 1),
    }
}

/// The words of a place on one line.
#[must_use]
pub fn text_of(files: &Files, at: Span) -> String {
    files
        .file(at)
        .map_or_else(String::new, |file| one_line(at.words(&file.text)))
}

/// A message with the writer's own line, the words underlined.
#[must_use]
pub fn render(message: &Message, files: &Files, style: Style) -> String {
    let paint = match (style, message.level) {
        (Style::Plain, _) => Ink::PLAIN,
        (Style::Colour, Level::Stop) => Ink::of(AnsiColor::Red.on_default().bold()),
        (Style::Colour, Level::Look) => Ink::of(AnsiColor::Yellow.on_default().bold()),
        (Style::Colour, Level::Note) => Ink::of(AnsiColor::Cyan.on_default()),
    };
    let dim = match style {
        Style::Plain => Ink::PLAIN,
        Style::Colour => Ink::FAINT,
    };
    let mut out = String::new();
    if let Some(file) = files.file(message.at) {
        let (name, number) = line_of(files, message.at);
        out.push_str(&format!("{dim}{name}, line {number}{dim:#}\n"));
        let (line, marks) = underlined(&file.text, files.line_start(message.at), message.at);
        if !line.trim().is_empty() {
            if !message.again {
                out.push('\n');
            }
            out.push_str(&format!("    {line}\n    {paint}{marks}{paint:#}\n"));
        }
    }
    out.push_str(&message.text);
    if let Some(help) = &message.help {
        out.push_str(if message.text.len() + help.len() > 70 {
            "\n"
        } else {
            " "
        });
        out.push_str(help);
    }
    out.push('\n');
    if !message.again {
        for other in &message.also {
            if files.file(*other).is_some() && !other.is_empty() {
                let (name, number) = line_of(files, *other);
                let same = other.file == message.at.file;
                let place = if same {
                    format!("line {number}")
                } else {
                    format!("{name}, line {number}")
                };
                let words = text_of(files, *other);
                out.push_str(&format!("{dim}    {place}: {}{dim:#}\n", shortened(&words)));
            }
        }
    }
    let level = match message.level {
        Level::Stop => "",
        Level::Look => "look, ",
        Level::Note => "note, ",
    };
    let tail = format!("{level}message {}", message.number());
    out.push_str(&format!("{dim}{tail:>78}{dim:#}\n"));
    out
}

fn shortened(words: &str) -> String {
    match words.char_indices().nth(68) {
        Some((cut, _)) => format!("{} …", words[..cut].trim_end()),
        None => words.to_owned(),
    }
}

/// How much of a very long line is shown before the words; twice as much after.
const LONGEST: usize = 400;

/// The line a place begins on, and marks under its words.
fn underlined(text: &str, line_start: usize, at: Span) -> (String, String) {
    let start = floor(text, at.start as usize);
    let end = floor(text, at.end as usize).max(start);
    // Of a very long line, the part around the words.
    let first = line_start.min(start).max(start.saturating_sub(LONGEST));
    let line_start = floor(text, first);
    let last = floor(text, start + 2 * LONGEST);
    let line_end = text[start..last].find('\n').map_or(last, |i| start + i);
    let end = end.min(line_end).max(start);
    let line = text[line_start..line_end].trim_end();
    let mut shown = String::new();
    let mut marks = String::new();
    let mut column = 0;
    for (offset, sign) in line.char_indices() {
        let here = line_start + offset;
        let before = shown.len();
        if sign == '\t' {
            shown.extend(std::iter::repeat_n(' ', 4 - column % 4));
        } else {
            push_escaped(&mut shown, sign);
        }
        let width = shown[before..].width();
        column += width;
        let mark = if here >= start && here < end {
            '^'
        } else {
            ' '
        };
        marks.extend(std::iter::repeat_n(mark, width));
    }
    if !marks.contains('^') {
        // A place between two words: one mark where something is missing.
        let before = text[line_start..start.min(line_start + line.len())]
            .chars()
            .map(|c| if c == '\t' { 4 } else { c.width().unwrap_or(0) })
            .sum();
        marks = " ".repeat(before);
        marks.push('^');
    }
    (shown, marks.trim_end().to_owned())
}

/// The nearest place at or before an offset where a character begins.
fn floor(text: &str, offset: usize) -> usize {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

/// A message as data.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Record {
    /// The file.
    pub file: String,
    /// The line, from 1.
    pub line: usize,
    /// The character on that line, from 1.
    pub column: usize,
    /// The words it is about.
    pub words: String,
    /// "stop", "look" or "note".
    pub level: &'static str,
    /// Its number.
    pub number: u16,
    /// What is wrong.
    pub text: String,
    /// What to do about it.
    pub help: Option<String>,
    /// A change that would put it right.
    pub fix: Option<FixRecord>,
}

/// A change to a file, as data.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FixRecord {
    /// First byte to replace.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
    /// What to put there.
    pub replacement: String,
    /// Sure enough to be made without asking.
    pub sure: bool,
}

/// A message as data.
#[must_use]
pub fn record(message: &Message, files: &Files) -> Record {
    let (file, line) = line_of(files, message.at);
    let column = files.file(message.at).map_or(1, |source| {
        let start = floor(&source.text, message.at.start as usize);
        let line_start = files.line_start(message.at).min(start);
        source.text[line_start..start].chars().count() + 1
    });
    Record {
        file: file.to_owned(),
        line,
        column,
        words: text_of(files, message.at),
        level: match message.level {
            Level::Stop => "stop",
            Level::Look => "look",
            Level::Note => "note",
        },
        number: message.number(),
        text: message.text.clone(),
        help: message.help.clone(),
        fix: message.fix.as_ref().map(|fix| FixRecord {
            start: fix.at.start,
            end: fix.at.end,
            replacement: fix.replacement.clone(),
            sure: fix.sure,
        }),
    }
}
