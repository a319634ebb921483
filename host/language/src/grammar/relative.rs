//! Sentences about what is older than what, without a year.

use nom::combinator::{cut, map, opt};
use nom::sequence::preceded;
use nom::{Input, Parser};

use crate::grammar::name::{article, be, has, noun};
use crate::grammar::sentence::some_of_a_kind;
use crate::input::{Read, Tokens, end, word, words};
use crate::model::Beside;
use crate::syntax::Sentence;

/// "A door is usually earlier than its lock."
/// "A base that shows odd castors has a later castor."
pub(super) fn relative(input: Tokens<'_>) -> Read<'_, Sentence> {
    let (rest, (part, that)) = some_of_a_kind(input)?;
    cut(|i| {
        let (rest, (says, usually, other)) = beside(i)?;
        let (rest, ()) = end(rest)?;
        Ok((
            rest,
            Sentence::Relative {
                noun: part.clone(),
                that: that.clone(),
                says,
                usually,
                other,
            },
        ))
    })
    .parse(rest)
}

type Said = (Beside, Option<crate::span::Span>, crate::syntax::Name);

fn beside(input: Tokens<'_>) -> Read<'_, Said> {
    if let Ok((rest, _)) = has(input) {
        let later = preceded((article, word("later")), cut(noun));
        return map(later, |other| (Beside::OneLater, None, other)).parse(rest);
    }
    let (rest, _) = be(input)?;
    let place = rest;
    let (rest, usually) = opt(word("usually")).parse(rest)?;
    // Where "usually" is missing, where it would stand.
    let missing = match usually {
        Some(_) => None,
        None => Some(place.span_to(&place.take_from(1))),
    };
    let (rest, other) = preceded(words("earlier than its"), cut(noun)).parse(rest)?;
    Ok((rest, (Beside::EachLater, missing, other)))
}
