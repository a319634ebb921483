//! `record.txt`: what was found, wished and done, one line each.

use super::entry::{Entry, Says};
use jiff::civil::{Date, DateTime, Time};
use std::fmt;

/// Stands at the end of a line that was cut short and of which the rest is
/// lost. Such a line is never read as a finding.
pub const CUT_SHORT: &str = " <cut short here, not read>";

/// When a finding was written down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// It does not say: a line added by hand.
    Unknown,
    /// The day only.
    Day(Date),
    /// Day and minute.
    Minute(DateTime),
}

impl fmt::Display for When {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            When::Unknown => f.write_str("no date"),
            When::Day(day) => write!(f, "{day}"),
            When::Minute(minute) => write!(f, "{}", minute.strftime("%Y-%m-%d %H:%M")),
        }
    }
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Its line in the file, from 1.
    pub number: usize,
    /// When it was written down.
    pub when: When,
    /// "runner 1 of drawer 2 is worn 3 mm".
    pub text: String,
}

/// A line that is no finding and no remark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    /// Its line in the file, from 1.
    pub number: usize,
    /// The line, with a mark for every byte that is no text.
    pub text: String,
    /// Why it was not read.
    pub why: Why,
}

/// Why a line was not read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// Writing it was cut short, and the next writer marked it so.
    CutShort,
    /// It is the last one, and nothing ends it: it may have been cut short.
    NotEnded,
    /// It begins with a day or time that there is none of.
    NoSuchTime,
    /// It has a time, and nothing after it.
    Empty,
    /// It is not plain text (UTF-8).
    NotText,
    /// Something is missing after its label; this is how such a line should read.
    Label(&'static str),
}

impl Why {
    /// In a few words, for a list that shows the line as well.
    #[must_use]
    pub fn in_words(self) -> String {
        match self {
            Why::CutShort => "It was cut short while it was being written.".to_owned(),
            Why::NotEnded => "It has no end, so it may have been cut short.".to_owned(),
            Why::NoSuchTime => "It begins with a time that there is none of.".to_owned(),
            Why::Empty => "It has a time and nothing after it.".to_owned(),
            Why::NotText => "It is not plain text.".to_owned(),
            Why::Label(like) => {
                format!("Something is missing after its label (\"{like}\" would do).")
            }
        }
    }
}

impl fmt::Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = self.number;
        match self.why {
            Why::CutShort => write!(
                f,
                "Line {number} of record.txt was cut short while it was being written, so I do \
                 not go by it. If it is worth having, note it again: {}",
                self.text.trim_end_matches(CUT_SHORT)
            ),
            Why::NotEnded => write!(
                f,
                "Line {number} of record.txt has no end: it may have been cut short while it \
                 was being written, so I do not go by it. If it is whole, open the file and \
                 press Enter behind it; if not, note it again: {}",
                self.text
            ),
            Why::NoSuchTime => write!(
                f,
                "Line {number} of record.txt begins with a time that I cannot read \
                 (2026-11-25 10:14 would do): {}",
                self.text
            ),
            Why::Empty => write!(
                f,
                "Line {number} of record.txt has a time and nothing after it."
            ),
            Why::NotText => write!(
                f,
                "Line {number} of record.txt is not plain text: {}",
                self.text
            ),
            Why::Label(like) => write!(
                f,
                "Line {number} of record.txt lacks something after its label \
                 (\"{like}\" would do): {}",
                self.text
            ),
        }
    }
}

/// A record as read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Record {
    pub(super) lines: Vec<Line>,
    pub(super) entries: Vec<Entry>,
    pub(super) unread: Vec<Unread>,
}

impl Record {
    /// Reads a record. Every byte sequence gives one.
    pub(super) fn from_bytes(bytes: &[u8]) -> Record {
        let mut record = Record::default();
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        for (at, line) in bytes.split_inclusive(|b| *b == b'\n').enumerate() {
            let number = at + 1;
            let read = match Tail::of(line) {
                Tail::Ended | Tail::ByHand => read_line(line),
                Tail::Torn => Err(Why::NotEnded),
            };
            let trouble = match read {
                Ok(None) => continue,
                Ok(Some((when, text))) => match Says::read(&text) {
                    None => {
                        record.lines.push(Line { number, when, text });
                        continue;
                    }
                    Some(Ok(says)) => {
                        record.entries.push(Entry { number, when, says });
                        continue;
                    }
                    Some(Err(like)) => Why::Label(like),
                },
                Err(why) => why,
            };
            record.unread.push(Unread {
                number,
                text: String::from_utf8_lossy(line).trim().to_owned(),
                why: trouble,
            });
        }
        record
    }
}

/// How the last line of a record ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tail {
    /// With a newline, or there is none.
    Ended,
    /// Without one, and it is none of ours: a hand left it so, and it is whole.
    ByHand,
    /// Without one, and it may be one of ours that was cut short.
    Torn,
}

/// How every line of ours begins: figures for the day and the minute, and two spaces; or
/// a remark, with the same after its sign.
const OURS: [&str; 2] = ["0000-00-00 00:00  ", "# 0000-00-00 00:00  "];

impl Tail {
    /// Looks at the last line, or at a whole record.
    ///
    /// What was cut short is one of our lines up to some byte (or, on some disks, has
    /// zeros from there on): it begins as ours do, or is the beginning of that. A line
    /// that does not cannot have been cut, however it ends.
    pub(super) fn of(bytes: &[u8]) -> Tail {
        let last = bytes.split(|b| *b == b'\n').next_back().unwrap_or_default();
        if last.is_empty() {
            return Tail::Ended;
        }
        let last = last.strip_prefix(b"\xef\xbb\xbf").unwrap_or(last);
        let Ok(text) = std::str::from_utf8(last) else {
            return Tail::Torn;
        };
        let as_in_ours = |(ours, found): (u8, u8)| match ours {
            b'0' => found.is_ascii_digit(),
            _ => found == ours,
        };
        let is_odd = |c: char| c.is_control() && c != '\t' && c != '\r';
        let may_be_ours = |ours: &str| ours.bytes().zip(text.bytes()).all(as_in_ours);
        if text.contains(is_odd) || OURS.into_iter().any(may_be_ours) {
            Tail::Torn
        } else {
            Tail::ByHand
        }
    }

    /// What ends it, before another line is added.
    pub(super) fn ending(self) -> String {
        match self {
            Tail::Ended => String::new(),
            Tail::ByHand => "\n".to_owned(),
            Tail::Torn => format!("{CUT_SHORT}\n"),
        }
    }
}

fn read_line(line: &[u8]) -> Result<Option<(When, String)>, Why> {
    if line.trim_ascii_end().ends_with(CUT_SHORT.trim().as_bytes()) {
        return Err(Why::CutShort);
    }
    let text = std::str::from_utf8(line).map_err(|_| Why::NotText)?.trim();
    if text.is_empty() || text.starts_with('#') {
        return Ok(None);
    }
    if text.contains(|c: char| c.is_control() && c != '\t') {
        return Err(Why::NotText);
    }
    let (first, rest) = next_word(text);
    if !looks_like_a_day(first) {
        return Ok(Some((When::Unknown, text.to_owned())));
    }
    let day = Date::strptime("%Y-%m-%d", first).map_err(|_| Why::NoSuchTime)?;
    let (second, after) = next_word(rest);
    let (when, text) = if looks_like_a_time(second) {
        let time = Time::strptime("%H:%M", second)
            .or_else(|_| Time::strptime("%H:%M:%S", second))
            .map_err(|_| Why::NoSuchTime)?;
        (When::Minute(day.to_datetime(time)), after)
    } else {
        (When::Day(day), rest)
    };
    if text.is_empty() {
        return Err(Why::Empty);
    }
    Ok(Some((when, text.to_owned())))
}

fn next_word(text: &str) -> (&str, &str) {
    text.split_once(char::is_whitespace)
        .map_or((text, ""), |(word, rest)| (word, rest.trim_start()))
}

/// "2026-11-25", and what is like it: digits and two strokes.
fn looks_like_a_day(word: &str) -> bool {
    word.matches('-').count() == 2 && word.chars().all(|c| c.is_ascii_digit() || c == '-')
}

/// "10:14", and what is like it.
fn looks_like_a_time(word: &str) -> bool {
    word.contains(':') && word.chars().all(|c| c.is_ascii_digit() || c == ':')
}

/// One line for the record, with the newline that makes it whole. It begins like [`OURS`].
pub(super) fn written(text: &str, now: DateTime) -> String {
    format!("{}  {text}\n", now.strftime("%Y-%m-%d %H:%M"))
}
