//! Answers: which single part, and what was found. Job notes and the Given
//! lines of examples share them.

use nom::branch::alt;
use nom::combinator::{cut, map, opt, value};
use nom::multi::many0;
use nom::sequence::preceded;
use nom::{Input, Parser};

use crate::grammar::clause::{beyond, measuring_word};
use crate::grammar::declare::sense;
use crate::grammar::name::{article, be, frequency, has, named, noun, phrase};
use crate::grammar::sentence::a_word;
use crate::grammar::time::{how, how_verb, lasting_note, past_note, was};
use crate::input::{Read, Tokens, end, word, words};
use crate::number::{Quantity, quantity, whole};
use crate::span::Span;
use crate::syntax::{Beyond, Frequency, Name};
use crate::token::Sort;

/// "left runner", "drawer 2", "every runner".
#[derive(Clone, Debug, PartialEq)]
pub struct OneStep {
    /// "every", "each", "no".
    pub amount: Option<(Many, Span)>,
    /// "the", "a": an article before it.
    pub the: bool,
    /// "left".
    pub name: Option<Name>,
    /// "runner".
    pub noun: Name,
    /// 2
    pub number: Option<(u32, Span)>,
    /// All of it.
    pub at: Span,
}

/// Every one, or no one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Many {
    /// every, each, all
    Every,
    /// no
    No,
}

/// Which part.
#[derive(Clone, Debug, PartialEq)]
pub struct OnePart {
    /// From the inside out; empty for "it".
    pub steps: Vec<OneStep>,
    /// All of it.
    pub at: Span,
}

/// Something said to be so of a part, or not so.
#[derive(Clone, Debug, PartialEq)]
pub struct Stated {
    /// So, rather than "not".
    pub yes: bool,
    /// "certainly".
    pub certain: bool,
    /// "looks".
    pub looks: bool,
    /// Whether the verb was "shows".
    pub shows: bool,
    /// How often, which only an expectation may say.
    pub often: Option<Frequency>,
    /// "at least", before a degree.
    pub beyond: Option<Beyond>,
    /// What.
    pub phrase: Name,
}

/// What was found of it.
#[derive(Clone, Debug, PartialEq)]
pub enum Finding {
    /// is stiff, shows dust, is gimlet-point
    Is(Stated),
    /// is worn 3 mm
    Measured {
        /// "worn".
        phrase: Option<Name>,
        /// 3 mm
        quantity: Quantity,
        /// "wide".
        word: Option<Name>,
    },
    /// has no bracket
    Has {
        /// How many.
        number: u32,
        /// Where the number stands.
        number_at: Span,
        /// What.
        noun: Name,
    },
    /// cannot be seen
    CannotBeSeen,
    /// can be seen
    CanBeSeen,
}

/// An answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// Something found of a part.
    Found {
        /// "point" of "point of screw 1 is gimlet-point".
        attribute: Option<Name>,
        /// Which part.
        part: OnePart,
        /// What.
        finding: Finding,
    },
    /// cannot see whether …, have not looked whether …
    Open {
        /// "have not looked": takes an answer back.
        back: bool,
        /// What.
        about: About,
    },
}

/// What "cannot see" and "have not looked" are about.
#[derive(Clone, Debug, PartialEq)]
pub enum About {
    /// whether drawer 2 is stiff
    Whether(OnePart, Name),
    /// how much runner 1 is worn
    HowMuch(Name, OnePart, Option<Name>),
    /// which point screw 1 has
    Which(Name, OnePart),
    /// the supports of fall 1
    Count(Name, OnePart),
}

/// A whole answer.
pub fn answer(input: Tokens<'_>) -> Read<'_, Answer> {
    let (rest, answer) = alt((open, found)).parse(input)?;
    let (rest, ()) = end(rest)?;
    Ok((rest, answer))
}

fn found(input: Tokens<'_>) -> Read<'_, Answer> {
    let (rest, (attribute, part)) = attributed(input)?;
    let (rest, finding) = finding(rest)?;
    Ok((
        rest,
        Answer::Found {
            attribute,
            part,
            finding,
        },
    ))
}

/// "[the] point of screw 1 of hinge 1".
fn attributed(input: Tokens<'_>) -> Read<'_, (Option<Name>, OnePart)> {
    let (rest, _) = opt(word("the")).parse(input)?;
    let count = rest.vocab.attributes.longest(rest.rest);
    if count > 0 && count >= rest.vocab.noun_length(rest.rest) {
        let (rest, attribute) = named(rest, count);
        if let Ok((rest, part)) = preceded(word("of"), one_part).parse(rest) {
            return Ok((rest, (Some(attribute), part)));
        }
    }
    map(one_part, |part| (None, part)).parse(input)
}

/// Which part.
pub fn one_part(input: Tokens<'_>) -> Read<'_, OnePart> {
    if let Ok((rest, at)) = word("it")(input) {
        return Ok((
            rest,
            OnePart {
                steps: Vec::new(),
                at,
            },
        ));
    }
    let (rest, (first, mut more)) = (step, many0(preceded(word("of"), cut(step)))).parse(input)?;
    more.insert(0, first);
    more.truncate(16);
    Ok((
        rest,
        OnePart {
            steps: more,
            at: input.span_to(&rest),
        },
    ))
}

fn step(input: Tokens<'_>) -> Read<'_, OneStep> {
    let (rest, amount) = opt(alt((
        value(Many::Every, alt((word("every"), word("each"), word("all")))),
        value(Many::No, word("no")),
    )))
    .parse(input)?;
    let amount = amount.map(|many| (many, input.span_to(&rest)));
    let (rest, the) = opt(alt((
        value((), word("the")),
        value((), word("its")),
        article,
    )))
    .parse(rest)?;
    let name = rest.vocab.names.longest(rest.rest);
    let (rest, name) = if name > 0 && name > rest.vocab.noun_length(rest.rest) {
        let (rest, name) = named(rest, name);
        (rest, Some(name))
    } else {
        (rest, None)
    };
    let (rest, noun) = noun(rest)?;
    let number_from = rest;
    // "2 brackets" after a part would be a count, but a verb stands between.
    let (rest, number) = match rest.first().map(|t| t.sort) {
        Some(Sort::Number(_)) => opt(whole).parse(rest)?,
        _ => (rest, None),
    };
    Ok((
        rest,
        OneStep {
            amount,
            the: the.is_some(),
            name,
            noun,
            number: number.map(|n| (n, number_from.span_to(&rest))),
            at: input.span_to(&rest),
        },
    ))
}

/// What was found of it.
pub fn finding(input: Tokens<'_>) -> Read<'_, Finding> {
    if be(input).is_ok() {
        return preceded(be, cut(being)).parse(input);
    }
    alt((
        preceded(has, lasting_note),
        preceded(has, cut(having)),
        value(
            Finding::CannotBeSeen,
            alt((words("cannot be seen"), words("can not be seen"))),
        ),
        value(Finding::CanBeSeen, words("can be seen")),
        looking,
        showing,
        preceded(was, cut(past_note)),
    ))
    .parse(input)
}

fn being(input: Tokens<'_>) -> Read<'_, Finding> {
    let (rest, not) = opt(word("not")).parse(input)?;
    let (rest, often) = opt(frequency).parse(rest)?;
    let (rest, certain) = opt(word("certainly")).parse(rest)?;
    let (rest, not) = match not {
        Some(at) => (rest, Some(at)),
        None => opt(word("not")).parse(rest)?,
    };
    if not.is_none()
        && often.is_none()
        && certain.is_none()
        && let Ok((rest, quantity)) = quantity(rest)
    {
        let (rest, word) = opt(measuring_word).parse(rest)?;
        return Ok((
            rest,
            Finding::Measured {
                phrase: None,
                quantity,
                word,
            },
        ));
    }
    let (rest, (beyond, phrase)) = degree(rest)?;
    let measured = rest
        .first()
        .is_some_and(|t| matches!(t.sort, Sort::Number(_)));
    if measured && not.is_none() && often.is_none() {
        let (rest, quantity) = quantity(rest)?;
        let (rest, word) = opt(measuring_word).parse(rest)?;
        return Ok((
            rest,
            Finding::Measured {
                phrase: Some(phrase),
                quantity,
                word,
            },
        ));
    }
    Ok((
        rest,
        Finding::Is(Stated {
            yes: not.is_none(),
            certain: certain.is_some(),
            looks: false,
            shows: false,
            often,
            beyond,
            phrase,
        }),
    ))
}

/// What is said of it, with "at least" or the like before it.
fn degree(input: Tokens<'_>) -> Read<'_, (Option<Beyond>, Name)> {
    alt((
        map(beyond, |(beyond, phrase)| (Some(beyond), phrase)),
        map(phrase, |phrase| (None, phrase)),
    ))
    .parse(input)
}

fn showing(input: Tokens<'_>) -> Read<'_, Finding> {
    let (rest, not) = opt((alt((word("does"), word("do"))), word("not"))).parse(input)?;
    let (rest, certain) = opt(word("certainly")).parse(rest)?;
    let (rest, often) = opt(frequency).parse(rest)?;
    let (rest, _) = alt((word("shows"), word("show"))).parse(rest)?;
    let (rest, phrase) = cut(phrase).parse(rest)?;
    Ok((
        rest,
        Finding::Is(Stated {
            yes: not.is_none(),
            certain: certain.is_some(),
            looks: false,
            shows: true,
            often,
            beyond: None,
            phrase,
        }),
    ))
}

/// "looks stiff", "does not look as if it shows fresh dust".
fn looking(input: Tokens<'_>) -> Read<'_, Finding> {
    let (rest, not) = opt((alt((word("does"), word("do"))), word("not"))).parse(input)?;
    let (rest, _) = alt((word("looks"), word("look"))).parse(rest)?;
    let (rest, as_if) = opt(preceded(
        (words("as if"), alt((word("it"), word("they")))),
        alt((
            value(true, alt((word("shows"), word("show")))),
            value(false, be),
        )),
    ))
    .parse(rest)?;
    let (rest, (beyond, phrase)) = cut(degree).parse(rest)?;
    Ok((
        rest,
        Finding::Is(Stated {
            yes: not.is_none(),
            certain: false,
            looks: true,
            shows: as_if == Some(true),
            often: None,
            beyond,
            phrase,
        }),
    ))
}

fn having(input: Tokens<'_>) -> Read<'_, Finding> {
    let (rest, number) = alt((
        value(0, word("no")),
        value(1, article),
        preceded(opt(word("exactly")), whole),
    ))
    .parse(input)?;
    let number_at = input.span_to(&rest);
    let (rest, noun) = noun(rest)?;
    Ok((
        rest,
        Finding::Has {
            number,
            number_at,
            noun,
        },
    ))
}

/// "cannot see whether …", "have not looked whether …".
fn open(input: Tokens<'_>) -> Read<'_, Answer> {
    let (rest, back) = alt((
        value(
            false,
            (
                opt(alt((word("i"), word("we")))),
                alt((value((), word("cannot")), value((), words("can not")))),
                sense,
            ),
        ),
        value(
            true,
            (
                opt(alt((word("i"), word("we")))),
                alt((words("have not"), words("has not"))),
                sensed,
            ),
        ),
    ))
    .parse(input)?;
    let (rest, about) = cut(about).parse(rest)?;
    Ok((rest, Answer::Open { back, about }))
}

/// The senses as something done: "looked", "measured".
fn sensed(input: Tokens<'_>) -> Read<'_, ()> {
    const DONE: [&str; 10] = [
        "looked", "seen", "felt", "heard", "smelt", "smelled", "asked", "measured", "counted",
        "opened",
    ];
    for done in DONE {
        if let Ok((rest, _)) = word(done)(input) {
            return Ok((rest, ()));
        }
    }
    input.fail("looked")
}

fn about(input: Tokens<'_>) -> Read<'_, About> {
    let (rest, asked) = alt((
        value(0, word("whether")),
        value(1, word("how")),
        value(2, word("which")),
        value(3, word("the")),
    ))
    .parse(input)?;
    match asked {
        0 => {
            let (rest, part) = one_part(rest)?;
            let (rest, _) = alt((be, value((), alt((word("shows"), word("show")))))).parse(rest)?;
            let (rest, phrase) = phrase(rest)?;
            Ok((rest, About::Whether(part, phrase)))
        }
        1 => {
            let (rest, word) = how(rest)?;
            let (rest, part) = one_part(rest)?;
            let (rest, _) = how_verb(&word, rest)?;
            let (rest, phrase) = opt(phrase).parse(rest)?;
            Ok((rest, About::HowMuch(word, part, phrase)))
        }
        2 => {
            let count = rest.vocab.attributes.longest(rest.rest);
            let (rest, attribute) = if count > 0 {
                named(rest, count)
            } else {
                a_word(rest)?
            };
            let (rest, part) = one_part(rest)?;
            let (rest, _) = has(rest)?;
            Ok((rest, About::Which(attribute, part)))
        }
        _ => {
            let (rest, noun) = noun(rest)?;
            let (rest, part) = preceded(word("of"), one_part).parse(rest)?;
            Ok((rest, About::Count(noun, part)))
        }
    }
}

/// The rest of a line, from this token on.
#[must_use]
pub fn remaining(input: Tokens<'_>) -> Span {
    input.span_to(&input.take_from(input.rest.len()))
}
