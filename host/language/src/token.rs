//! The first stage: the text of a file into words, numbers and marks.

use nom::branch::alt;
use nom::bytes::complete::{take_while, take_while1};
use nom::character::complete::{char, digit1, one_of, satisfy};
use nom::combinator::{map, opt, recognize, verify};
use nom::sequence::{pair, preceded};
use nom::{IResult, Parser};

use crate::span::{FileId, Span};

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// A word; `%` counts as one.
    Word,
    /// A number.
    Number(Number),
    /// Something in quotation marks.
    Text,
    /// Something that opens with a quotation mark and never closes.
    OpenText,
    /// `,`
    Comma,
    /// `.`
    Stop,
    /// `:`
    Colon,
    /// `;`
    Semicolon,
    /// `(`
    Open,
    /// `)`
    Close,
    /// The `-` that begins a line of a list.
    Bullet,
    /// Any other sign.
    Other,
}

/// A number as written, kept exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Number {
    /// Above the line.
    pub over: i64,
    /// Below the line, never 0.
    pub under: i64,
}

impl Number {
    /// A whole number.
    #[must_use]
    pub fn whole(over: i64) -> Number {
        Number { over, under: 1 }
    }

    /// The whole number it is, if it is one.
    #[must_use]
    pub fn as_whole(self) -> Option<i64> {
        (self.over % self.under == 0).then_some(self.over / self.under)
    }

    /// The sum, for "1 1/2".
    #[must_use]
    pub fn plus(self, other: Number) -> Number {
        Number {
            over: self
                .over
                .saturating_mul(other.under)
                .saturating_add(other.over.saturating_mul(self.under)),
            under: self.under.saturating_mul(other.under).max(1),
        }
    }

    /// So many times as much, to the nearest whole.
    #[must_use]
    pub fn times(self, each: i64) -> i64 {
        let over = i128::from(self.over) * i128::from(each) * 2 + i128::from(self.under);
        let rounded = over.div_euclid(i128::from(self.under) * 2);
        i64::try_from(rounded).unwrap_or(i64::MAX)
    }
}

impl std::fmt::Display for Number {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if let Some(whole) = self.as_whole() {
            return write!(f, "{whole}");
        }
        let mut under = self.under;
        while under % 10 == 0 {
            under /= 10;
        }
        while under % 5 == 0 {
            under /= 5;
        }
        if under == 1 {
            #[allow(clippy::cast_precision_loss)]
            return write!(f, "{}", self.over as f64 / self.under as f64);
        }
        write!(f, "{}/{}", self.over, self.under)
    }
}

/// A word, number or mark, and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Token {
    /// What it is.
    pub sort: Sort,
    /// A word in small letters; a text without its quotation marks; else as
    /// written.
    pub text: String,
    /// Where it stands.
    pub at: Span,
    /// Whether it is the first on its line.
    pub first: bool,
    /// How far in it stands, from 0, if it is the first on its line.
    pub column: u16,
}

impl Token {
    /// Whether it is this word.
    #[must_use]
    pub fn is(&self, word: &str) -> bool {
        self.sort == Sort::Word && self.text == word
    }
}

/// The tokens of the part of a file that begins at byte `from`.
#[must_use]
pub fn tokens(file: FileId, text: &str, from: usize, to: usize) -> Vec<Token> {
    let Some(all) = text.get(from..to) else {
        return Vec::new();
    };
    let mut out = Vec::with_capacity(all.len() / 6);
    let mut rest = all;
    let mut first = true;
    let mut line_start = from;
    while let Some(sign) = rest.chars().next() {
        let at = to - rest.len();
        if sign == '\n' {
            first = true;
            line_start = at + 1;
            rest = &rest[1..];
            continue;
        }
        if sign.is_whitespace() || sign == '\u{feff}' {
            rest = &rest[sign.len_utf8()..];
            continue;
        }
        if sign == '#' {
            rest = rest.find('\n').map_or("", |end| &rest[end..]);
            continue;
        }
        // Only the first of a line is ever asked how far in it stands.
        let column = if first {
            let lead = text.get(line_start..at).map_or(0, |s| s.chars().count());
            u16::try_from(lead).unwrap_or(u16::MAX)
        } else {
            u16::MAX
        };
        let (after, (sort, word)) = match token(rest, first) {
            Ok(found) => found,
            Err(_) => (&rest[sign.len_utf8()..], (Sort::Other, sign.to_string())),
        };
        let end = to - after.len();
        if rest[..end - at].contains('\n') {
            line_start = at + rest[..end - at].rfind('\n').unwrap_or(0) + 1;
        }
        out.push(Token {
            sort,
            text: word,
            at: span(file, at, end),
            first,
            column,
        });
        first = false;
        rest = after;
    }
    join_fractions(out)
}

/// A span from byte offsets.
#[must_use]
pub fn span(file: FileId, start: usize, end: usize) -> Span {
    Span {
        file,
        start: u32::try_from(start).unwrap_or(u32::MAX),
        end: u32::try_from(end).unwrap_or(u32::MAX),
    }
}

type Lexed<'a> = IResult<&'a str, (Sort, String)>;

fn token(text: &str, first: bool) -> Lexed<'_> {
    if first && let Ok(found) = bullet(text) {
        return Ok(found);
    }
    // The first sign tells which it can be.
    match text.chars().next() {
        Some(sign) if sign.is_alphabetic() => word(text),
        Some(sign) if sign.is_ascii_digit() => number(text),
        Some(sign) if QUOTES.contains(sign) => alt((quoted, open_quoted)).parse(text),
        _ => alt((number, mark)).parse(text),
    }
}

fn bullet(text: &str) -> Lexed<'_> {
    map(
        pair(one_of("-–—•*"), satisfy(char::is_whitespace)),
        |_| (Sort::Bullet, "-".to_owned()),
    )
    .parse(text)
    .map(|(rest, found)| {
        // The space or line end after the mark is not part of it.
        let mark = text.chars().next().map_or(0, char::len_utf8);
        (
            if rest.len() < text.len() {
                &text[mark..]
            } else {
                rest
            },
            found,
        )
    })
}

const QUOTES: &str = "\"“”„";

/// Labels that would never stand inside a text: where one does, the text was
/// not closed.
const INSIDE: [&str; 7] = [
    "Ask:",
    "How:",
    "Takes:",
    "From:",
    "On its own:",
    "Note:",
    "Called:",
];

fn quoted(text: &str) -> Lexed<'_> {
    let (rest, (_, inside, _)) = (
        one_of(QUOTES),
        verify(take_while(|c| !QUOTES.contains(c)), |inside: &str| {
            !(inside.contains('\n') && INSIDE.iter().any(|l| inside.contains(l)))
        }),
        one_of(QUOTES),
    )
        .parse(text)?;
    Ok((rest, (Sort::Text, one_line(inside))))
}

fn open_quoted(text: &str) -> Lexed<'_> {
    let (_, line) = preceded(one_of(QUOTES), take_while(|c| c != '\n')).parse(text)?;
    // A label ends it, since it cannot be part of a text.
    let end = INSIDE
        .iter()
        .filter_map(|label| line.find(label))
        .min()
        .unwrap_or(line.len());
    let inside = line[..end].trim_end();
    let first = text.chars().next().map_or(1, char::len_utf8);
    Ok((
        &text[first + inside.len()..],
        (Sort::OpenText, one_line(inside)),
    ))
}

/// The words with single spaces between them.
#[must_use]
pub fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn number(text: &str) -> Lexed<'_> {
    if let Ok((rest, sign)) = one_of::<_, _, nom::error::Error<&str>>("½¼¾").parse(text) {
        let (over, under) = match sign {
            '½' => (1, 2),
            '¼' => (1, 4),
            _ => (3, 4),
        };
        return Ok((
            rest,
            (Sort::Number(Number { over, under }), sign.to_string()),
        ));
    }
    let (rest, whole) = digit1(text)?;
    let tail: IResult<&str, (char, &str)> = pair(one_of("./"), digit1).parse(rest);
    let (rest, number) = match tail {
        Ok((rest, ('.', after))) => {
            // More digits than a tick can tell apart are dropped.
            let after = &after[..after.len().min(6)];
            let under = 10_i64.pow(u32::try_from(after.len()).unwrap_or(0));
            let over = digits(whole)
                .saturating_mul(under)
                .saturating_add(digits(after));
            (rest, Number { over, under })
        }
        Ok((rest, ('/', below))) if digits(below) > 0 => (
            rest,
            Number {
                over: digits(whole),
                under: digits(below),
            },
        ),
        _ => (rest, Number::whole(digits(whole))),
    };
    let written = text[..text.len() - rest.len()].to_owned();
    Ok((rest, (Sort::Number(number), written)))
}

/// Too large a number stays the largest that anything is compared with.
fn digits(text: &str) -> i64 {
    text.parse().unwrap_or(i64::MAX).min(1_000_000_000)
}

fn word(text: &str) -> Lexed<'_> {
    let letter = |c: char| c.is_alphabetic();
    let inner = |c: char| c.is_alphanumeric();
    map(
        recognize((
            satisfy(letter),
            take_while(inner),
            nom::multi::many0_count(pair(one_of("-'’"), take_while1(inner))),
            opt(char('\'')),
        )),
        |word: &str| {
            let word = word.trim_end_matches('\'');
            let small = if word.bytes().all(|b| b.is_ascii_lowercase() || b == b'-') {
                word.to_owned()
            } else {
                word.to_lowercase().replace('’', "'")
            };
            (Sort::Word, small)
        },
    )
    .parse(text)
}

fn mark(text: &str) -> Lexed<'_> {
    map(one_of(",.:;()%"), |sign| {
        let sort = match sign {
            ',' => Sort::Comma,
            '.' => Sort::Stop,
            ':' => Sort::Colon,
            ';' => Sort::Semicolon,
            '(' => Sort::Open,
            ')' => Sort::Close,
            _ => Sort::Word,
        };
        (sort, sign.to_string())
    })
    .parse(text)
}

/// "1 1/2" and "1½" are one number.
fn join_fractions(tokens: Vec<Token>) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::with_capacity(tokens.len());
    for token in tokens {
        if let Sort::Number(fraction) = token.sort {
            let proper = fraction.under > 1
                && fraction.over < fraction.under
                && !token.text.contains('.')
                && !token.first;
            if let Some(last) = out.last_mut().filter(|_| proper)
                && let Sort::Number(whole) = last.sort
                && whole.under == 1
            {
                last.sort = Sort::Number(whole.plus(fraction));
                last.text = format!("{} {}", last.text, token.text);
                last.at = last.at.to(token.at);
                continue;
            }
        }
        out.push(token);
    }
    out
}
