//! The second stage's input: a slice of tokens that carries the vocabulary, and
//! the error that remembers how far reading came.

use std::cell::RefCell;
use std::iter::Enumerate;
use std::slice::Iter;

use nom::error::{ErrorKind, ParseError};
use nom::{IResult, Input, Needed};

use crate::span::Span;
use crate::token::{Sort, Token};
use crate::vocab::Vocab;

/// The furthest place where something was looked for in vain, and what.
#[derive(Debug, Default)]
pub struct Trail {
    inner: RefCell<(usize, Vec<&'static str>)>,
}

impl Trail {
    /// Notes that `want` was looked for at token `at`.
    pub fn missed(&self, at: usize, want: &'static str) {
        let mut inner = self.inner.borrow_mut();
        if at > inner.0 {
            inner.0 = at;
            inner.1.clear();
        }
        if at == inner.0 && !inner.1.contains(&want) {
            inner.1.push(want);
        }
    }

    /// The furthest token and everything that was looked for there.
    #[must_use]
    pub fn furthest(&self) -> (usize, Vec<&'static str>) {
        self.inner.borrow().clone()
    }
}

/// Tokens still to be read.
#[derive(Clone, Copy, Debug)]
pub struct Tokens<'a> {
    /// The tokens.
    pub rest: &'a [Token],
    /// How many were read before them.
    pub at: usize,
    /// The words of the pack.
    pub vocab: &'a Vocab,
    /// How far reading came.
    pub trail: &'a Trail,
}

impl<'a> Tokens<'a> {
    /// All of a sentence.
    #[must_use]
    pub fn new(rest: &'a [Token], vocab: &'a Vocab, trail: &'a Trail) -> Self {
        Tokens {
            rest,
            at: 0,
            vocab,
            trail,
        }
    }

    /// The next token.
    #[must_use]
    pub fn first(&self) -> Option<&'a Token> {
        self.rest.first()
    }

    /// Whether this word is next.
    #[must_use]
    pub fn next_is(&self, word: &str) -> bool {
        self.first().is_some_and(|t| t.is(word))
    }

    /// The span of the tokens between here and `later`.
    #[must_use]
    pub fn span_to(&self, later: &Tokens<'a>) -> Span {
        let count = later.at.saturating_sub(self.at).min(self.rest.len());
        match (self.rest.first(), self.rest[..count].last()) {
            (Some(first), Some(last)) => first.at.to(last.at),
            (Some(first), None) => first.at,
            _ => Span::default(),
        }
    }

    /// A failure here, looking for `want`.
    pub fn fail<O>(self, want: &'static str) -> Read<'a, O> {
        self.trail.missed(self.at, want);
        Err(nom::Err::Error(Lost { at: self.at }))
    }
}

impl<'a> Input for Tokens<'a> {
    type Item = &'a Token;
    type Iter = Iter<'a, Token>;
    type IterIndices = Enumerate<Iter<'a, Token>>;

    fn input_len(&self) -> usize {
        self.rest.len()
    }

    fn take(&self, index: usize) -> Self {
        Tokens {
            rest: &self.rest[..index.min(self.rest.len())],
            ..*self
        }
    }

    fn take_from(&self, index: usize) -> Self {
        let index = index.min(self.rest.len());
        Tokens {
            rest: &self.rest[index..],
            at: self.at + index,
            ..*self
        }
    }

    fn take_split(&self, index: usize) -> (Self, Self) {
        (self.take_from(index), self.take(index))
    }

    fn position<P: Fn(Self::Item) -> bool>(&self, predicate: P) -> Option<usize> {
        self.rest.iter().position(predicate)
    }

    fn iter_elements(&self) -> Self::Iter {
        self.rest.iter()
    }

    fn iter_indices(&self) -> Self::IterIndices {
        self.rest.iter().enumerate()
    }

    fn slice_index(&self, count: usize) -> Result<usize, Needed> {
        if self.rest.len() >= count {
            Ok(count)
        } else {
            Err(Needed::new(count - self.rest.len()))
        }
    }
}

/// Where reading was lost; what was looked for is in the [`Trail`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lost {
    /// Tokens read before it.
    pub at: usize,
}

impl<'a> ParseError<Tokens<'a>> for Lost {
    fn from_error_kind(input: Tokens<'a>, _: ErrorKind) -> Self {
        Lost { at: input.at }
    }

    fn append(_: Tokens<'a>, _: ErrorKind, other: Self) -> Self {
        other
    }

    fn or(self, other: Self) -> Self {
        if other.at > self.at { other } else { self }
    }
}

/// What a parser gives.
pub type Read<'a, O> = IResult<Tokens<'a>, O, Lost>;

/// This word.
pub fn word<'a>(wanted: &'static str) -> impl Fn(Tokens<'a>) -> Read<'a, Span> {
    move |input| match input.first() {
        Some(token) if token.is(wanted) => Ok((input.take_from(1), token.at)),
        _ => input.fail(wanted),
    }
}

/// These words, one after the other.
pub fn words<'a>(wanted: &'static str) -> impl Fn(Tokens<'a>) -> Read<'a, Span> {
    move |input| {
        let mut rest = input;
        for part in wanted.split(' ') {
            match rest.first() {
                Some(token) if token.is(part) => rest = rest.take_from(1),
                // Lost inside the phrase: that is where the slip is.
                _ if rest.at > input.at => {
                    rest.trail.missed(rest.at, part);
                    return input.fail(wanted);
                }
                _ => return input.fail(wanted),
            }
        }
        Ok((rest, input.span_to(&rest)))
    }
}

/// A mark of this sort.
pub fn sort<'a>(wanted: Sort, called: &'static str) -> impl Fn(Tokens<'a>) -> Read<'a, Span> {
    move |input| match input.first() {
        Some(token) if token.sort == wanted => Ok((input.take_from(1), token.at)),
        _ => input.fail(called),
    }
}

/// A comma.
pub fn comma(input: Tokens<'_>) -> Read<'_, Span> {
    sort(Sort::Comma, "a comma")(input)
}

/// A colon.
pub fn colon(input: Tokens<'_>) -> Read<'_, Span> {
    sort(Sort::Colon, "a colon")(input)
}

/// The end of the sentence, with or without a full stop.
pub fn end(input: Tokens<'_>) -> Read<'_, ()> {
    let rest = match input.first() {
        Some(token) if token.sort == Sort::Stop => input.take_from(1),
        _ => input,
    };
    if rest.rest.is_empty() {
        Ok((rest, ()))
    } else {
        rest.fail("the end of the sentence")
    }
}
