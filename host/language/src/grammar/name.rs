//! Parts, phrases and other names: where they begin and end.
//!
//! A name that is declared ends where its longest form ends. One that is not
//! is taken up to the next closed word, so that one slip does not spoil the
//! rest of the sentence; looking it up later says what is wrong with it.

use nom::branch::alt;
use nom::combinator::{map, opt, value};
use nom::{Input, Parser};

use crate::input::{Read, Tokens, word, words};
use crate::model::{Strength, Sureness};
use crate::number::whole;
use crate::syntax::{Frequency, Name};
use crate::token::{Sort, Token};
use crate::vocab::{JOINING, is_closed, join};

/// Strength words, strongest first.
pub const STRENGTHS: [(&str, Strength); 8] = [
    ("by definition", Strength::ByDefinition),
    ("always", Strength::Always),
    ("nearly always", Strength::NearlyAlways),
    ("usually", Strength::Usually),
    ("often", Strength::Often),
    ("sometimes", Strength::Sometimes),
    ("rarely", Strength::Rarely),
    ("hardly ever", Strength::HardlyEver),
];

/// Sureness words.
pub const SURENESSES: [(&str, Sureness); 3] = [
    (Sureness::Surely.word(), Sureness::Surely),
    (Sureness::Probably.word(), Sureness::Probably),
    (Sureness::Possibly.word(), Sureness::Possibly),
];

/// The first tokens as a name.
#[must_use]
pub fn named<'a>(input: Tokens<'a>, count: usize) -> (Tokens<'a>, Name) {
    let taken = &input.rest[..count.min(input.rest.len())];
    let rest = input.take_from(count);
    (
        rest,
        Name {
            text: join(taken),
            at: input.span_to(&rest),
        },
    )
}

/// The noun for a part, known or not.
pub fn noun(input: Tokens<'_>) -> Read<'_, Name> {
    let known = input.vocab.noun_length(input.rest);
    let count = if known > 0 {
        known
    } else {
        input
            .rest
            .iter()
            .enumerate()
            .take(6)
            .take_while(|(index, token)| {
                token.sort == Sort::Word
                    && !ends_noun(token, input.rest.get(index + 1))
                    && !(*index > 0 && token.first)
            })
            .count()
    };
    match input.first() {
        Some(first) if count > 0 && !begins_badly(first) => Ok(named(input, count)),
        _ => input.fail("a part"),
    }
}

fn begins_badly(token: &Token) -> bool {
    JOINING.contains(&token.text.as_str())
        || ["a", "an", "the", "one"].contains(&token.text.as_str())
}

fn ends_noun(token: &Token, next: Option<&Token>) -> bool {
    let next = next.map_or("", |t| t.text.as_str());
    is_closed(&token.text)
        || (token.text == "of"
            && [
                "a", "an", "the", "its", "each", "every", "any", "it", "these",
            ]
            .contains(&next))
        || (["of", "with"].contains(&token.text.as_str())
            && next.starts_with(|c: char| c.is_ascii_digit()))
        || ["cannot", "was", "were"].contains(&token.text.as_str())
}

/// What is said of a part, known or not.
pub fn phrase(input: Tokens<'_>) -> Read<'_, Name> {
    let known = input.vocab.phrase_length(input.rest);
    let run = input
        .rest
        .iter()
        .enumerate()
        .take(12)
        .take_while(|(index, token)| {
            token.sort == Sort::Word
                && !ends_phrase(&input.rest[*index..])
                && !(*index >= known && known > 0 && token.first)
        })
        .count();
    let count = known.max(run);
    if count == 0 {
        return input.fail("what is said of it");
    }
    Ok(named(input, count))
}

fn ends_phrase(tokens: &[Token]) -> bool {
    let Some(first) = tokens.first() else {
        return true;
    };
    let next = tokens.get(1);
    let number = next.is_some_and(|t| matches!(t.sort, Sort::Number(_)));
    is_closed(&first.text)
        || (first.is("at") && next.is_some_and(|t| t.is("least") || t.is("most")))
        || (["between", "in", "exactly"].contains(&first.text.as_str()) && number)
        || STRENGTHS.iter().any(|(w, _)| {
            let mut parts = w.split(' ');
            first.is(parts.next().unwrap_or_default())
                && parts.next().is_none_or(|p| next.is_some_and(|t| t.is(p)))
        })
}

/// A run of words up to a comma, full stop, bracket or one of `stops`.
pub fn free<'a>(input: Tokens<'a>, stops: &[&str], want: &'static str) -> Read<'a, Name> {
    let count = input
        .rest
        .iter()
        .take_while(|t| {
            matches!(t.sort, Sort::Word | Sort::Number(_)) && !stops.contains(&t.text.as_str())
        })
        .count();
    if count == 0 {
        return input.fail(want);
    }
    Ok(named(input, count))
}

/// A strength word, or "in 7 of 10 cases".
pub fn frequency(input: Tokens<'_>) -> Read<'_, Frequency> {
    let (rest, (word, cases)) = alt((
        map(strength, |s| (Some(s), None)),
        map(
            (
                word("in"),
                whole,
                word("of"),
                whole,
                alt((word("cases"), word("case"))),
            ),
            |(_, n, _, of, _)| (None, Some((n, of))),
        ),
    ))
    .parse(input)?;
    Ok((
        rest,
        Frequency {
            word,
            cases,
            at: input.span_to(&rest),
        },
    ))
}

/// As after `On its own:`, where "3 in 100" will do as well.
pub fn loose_frequency(input: Tokens<'_>) -> Read<'_, Frequency> {
    let (rest, _) = opt(word("in")).parse(input)?;
    let counted = (
        whole,
        alt((word("in"), word("of"))),
        whole,
        opt(alt((word("cases"), word("case")))),
    )
        .parse(rest);
    if let Ok((rest, (n, _, of, _))) = counted {
        return Ok((
            rest,
            Frequency {
                word: None,
                cases: Some((n, of)),
                at: input.span_to(&rest),
            },
        ));
    }
    frequency(input)
}

/// A strength word.
pub fn strength(input: Tokens<'_>) -> Read<'_, Strength> {
    for (name, strength) in STRENGTHS {
        if let Ok((rest, _)) = words(name)(input) {
            return Ok((rest, strength));
        }
    }
    input.fail("how often")
}

/// A sureness word.
pub fn sureness(input: Tokens<'_>) -> Read<'_, Sureness> {
    alt((
        value(Sureness::Surely, word("surely")),
        value(Sureness::Probably, word("probably")),
        value(Sureness::Possibly, word("possibly")),
    ))
    .parse(input)
}

/// a, an
pub fn article(input: Tokens<'_>) -> Read<'_, ()> {
    value((), alt((word("a"), word("an")))).parse(input)
}

/// is, are
pub fn be(input: Tokens<'_>) -> Read<'_, ()> {
    value((), alt((word("is"), word("are")))).parse(input)
}

/// has, have
pub fn has(input: Tokens<'_>) -> Read<'_, ()> {
    value((), alt((word("has"), word("have")))).parse(input)
}
