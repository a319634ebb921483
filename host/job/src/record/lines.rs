//! `record.txt`: what was found, wished and done, one line each.

use super::entry::{Entry, Says};
use crate::one_line::in_one_line;
use jiff::Timestamp;
use jiff::civil::{Date, DateTime, Time};
use jiff::tz::Offset;
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
    /// Day and minute on the wall, and how far that clock was before UTC, if it says.
    Minute(DateTime, Option<Offset>),
}

impl When {
    /// The day.
    #[must_use]
    pub fn date(self) -> Option<Date> {
        match self {
            When::Unknown => None,
            When::Day(day) => Some(day),
            When::Minute(minute, _) => Some(minute.date()),
        }
    }

    /// The minute as clocks everywhere agree on it; one that does not say how far its clock
    /// was before UTC is taken to have stood as `here` does.
    #[must_use]
    pub fn instant(self, here: Offset) -> Option<Timestamp> {
        match self {
            When::Unknown | When::Day(_) => None,
            When::Minute(minute, offset) => offset.unwrap_or(here).to_timestamp(minute).ok(),
        }
    }
}

/// Who writes a line, and how their clock stands.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pen {
    /// How far their clock is before UTC; lines do not say if it is not known.
    pub offset: Option<Offset>,
    /// Their name; lines do not say if it is not known.
    pub by: Option<Name>,
}

/// The name of somebody, as it can stand in a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name(String);

impl Name {
    /// The longest name, in signs.
    pub const LONGEST: usize = 60;

    /// A name, if it can stand in a line: a few words without brackets or signs that are not
    /// seen.
    #[must_use]
    pub fn new(text: &str) -> Option<Name> {
        let text = text.trim();
        let is_odd = |c: char| c.is_control() || c == '[' || c == ']';
        let is_whole = in_one_line(text) == text;
        let fits = !text.is_empty() && text.chars().count() <= Name::LONGEST;
        (fits && is_whole && !text.contains(is_odd)).then(|| Name(text.to_owned()))
    }
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl fmt::Display for When {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            When::Unknown => f.write_str("no date"),
            When::Day(day) => write!(f, "{day}"),
            When::Minute(minute, _) => write!(f, "{}", minute.strftime("%Y-%m-%d %H:%M")),
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
    /// Who wrote it down, if it says.
    pub by: Option<Name>,
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
                Ok(Some(Head { when, by, text })) => match Says::read(&text) {
                    None => {
                        record.lines.push(Line {
                            number,
                            when,
                            by,
                            text,
                        });
                        continue;
                    }
                    Some(Ok(says)) => {
                        record.entries.push(Entry {
                            number,
                            when,
                            by,
                            says,
                        });
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

/// How every line of ours begins: figures for the day and the minute, how far the clock is
/// before UTC or behind it, who wrote it, and two spaces; those of earlier programs without
/// the middle; or a remark, with the same after its sign.
const OURS: [&str; 4] = [
    "0000-00-00 00:00  ",
    "0000-00-00 00:00+00:00  ",
    "0000-00-00 00:00+00:00 [",
    "# 0000-00-00 00:00  ",
];

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
            b'+' => found == b'+' || found == b'-',
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

/// A line taken apart.
struct Head {
    when: When,
    by: Option<Name>,
    text: String,
}

impl Head {
    fn undated(text: &str) -> Head {
        Head {
            when: When::Unknown,
            by: None,
            text: text.to_owned(),
        }
    }
}

fn read_line(line: &[u8]) -> Result<Option<Head>, Why> {
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
        return Ok(Some(Head::undated(text)));
    }
    let day = Date::strptime("%Y-%m-%d", first).map_err(|_| Why::NoSuchTime)?;
    let (second, after) = next_word(rest);
    let (when, by, text) = if looks_like_a_time(second) {
        let (minute, offset) = minute(day, second)?;
        let (by, after) = match offset {
            Some(_) => written_by(after),
            // Lines of earlier programs name nobody.
            None => (None, after),
        };
        (When::Minute(minute, offset), by, after)
    } else {
        (When::Day(day), None, rest)
    };
    if text.is_empty() {
        return Err(Why::Empty);
    }
    let text = text.to_owned();
    Ok(Some(Head { when, by, text }))
}

/// "10:14" or "10:14+01:00" of a day.
fn minute(day: Date, word: &str) -> Result<(DateTime, Option<Offset>), Why> {
    let sign = word.find(['+', '-']);
    let (time, offset) = word.split_at(sign.unwrap_or(word.len()));
    let time = Time::strptime("%H:%M", time)
        .or_else(|_| Time::strptime("%H:%M:%S", time))
        .map_err(|_| Why::NoSuchTime)?;
    let offset = match offset {
        "" => None,
        offset => Some(read_offset(offset).ok_or(Why::NoSuchTime)?),
    };
    Ok((day.to_datetime(time), offset))
}

/// "+01:00".
fn read_offset(text: &str) -> Option<Offset> {
    let sign = if text.starts_with('-') { -1 } else { 1 };
    let (hours, minutes) = text.get(1..)?.split_once(':')?;
    let figure = |text: &str| {
        let is_two = text.len() == 2 && text.chars().all(|c| c.is_ascii_digit());
        is_two.then(|| text.parse::<i32>().ok()).flatten()
    };
    let minutes = figure(minutes).filter(|minutes| *minutes < 60)?;
    Offset::from_seconds(sign * (figure(hours)? * 60 + minutes) * 60).ok()
}

/// "[A. Joiner]  drawer 2 is stiff".
fn written_by(text: &str) -> (Option<Name>, &str) {
    let inside = text.strip_prefix('[').and_then(|rest| rest.split_once(']'));
    let named = inside.and_then(|(name, after)| Some((Name::new(name)?, after.trim_start())));
    match named {
        Some((name, after)) => (Some(name), after),
        None => (None, text),
    }
}

fn next_word(text: &str) -> (&str, &str) {
    text.split_once(char::is_whitespace)
        .map_or((text, ""), |(word, rest)| (word, rest.trim_start()))
}

/// "2026-11-25", and what is like it: digits and two strokes.
fn looks_like_a_day(word: &str) -> bool {
    word.matches('-').count() == 2 && word.chars().all(|c| c.is_ascii_digit() || c == '-')
}

/// "10:14" or "10:14+01:00", and what is like it.
fn looks_like_a_time(word: &str) -> bool {
    let is_one = |c: char| c.is_ascii_digit() || matches!(c, ':' | '+' | '-');
    word.contains(':') && word.starts_with(|c: char| c.is_ascii_digit()) && word.chars().all(is_one)
}

/// One line for the record, with the newline that makes it whole. It begins like [`OURS`].
pub(super) fn written(text: &str, now: DateTime, pen: &Pen) -> String {
    let now = now.strftime("%Y-%m-%d %H:%M");
    let offset = pen.offset.map_or_else(String::new, in_figures);
    // Who wrote a line is told behind the offset, which earlier programs did not write.
    let by = pen.by.as_ref().filter(|_| pen.offset.is_some());
    let by = by.map_or_else(String::new, |by| format!(" [{by}]"));
    format!("{now}{offset}{by}  {text}\n")
}

/// "+01:00".
fn in_figures(offset: Offset) -> String {
    let minutes = offset.seconds() / 60;
    let sign = if minutes < 0 { '-' } else { '+' };
    let minutes = minutes.abs();
    format!("{sign}{:02}:{:02}", minutes / 60, minutes % 60)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Of each beginning of a line of ours nobody can say that it is whole; of what a hand
    /// wrote, one can.
    #[test]
    fn a_line_of_ours_may_have_been_cut_at_any_byte() {
        let pen = Pen {
            offset: Some(Offset::from_seconds(-12_600).expect("an offset")),
            by: Name::new("A. Joiner"),
        };
        let now = jiff::civil::date(2026, 11, 25).at(10, 14, 0, 0);
        for pen in [pen, Pen::default()] {
            let line = written("drawer 2 is stiff", now, &pen);
            for end in 1..line.len() {
                assert_eq!(
                    Tail::of(&line.as_bytes()[..end]),
                    Tail::Torn,
                    "{}",
                    &line[..end]
                );
            }
        }
        assert_eq!(Tail::of(b"2026-11-25 10:14 a hand's"), Tail::ByHand);
    }
}
