//! Sentences about work that hang on something: `When …, instead of … plan to …`,
//! `When …, depending on how …` and `When …, never plan to … and … together`.

use nom::Parser;
use nom::combinator::{cut, opt};
use nom::sequence::preceded;

use crate::grammar::clause::conditions;
use crate::grammar::sentence::{exclusion, job, ladder_from, order};
use crate::input::{Read, Tokens, comma, end, word, words};
use crate::syntax::{Conditions, Sentence};

/// "When a piece is going to a museum, instead of renew the webbing plan to support the
/// webbing."
pub(super) fn stand_in(input: Tokens<'_>) -> Read<'_, Sentence> {
    let (rest, when) = when(input)?;
    cut(|i| {
        let (rest, _) = words("instead of")(i)?;
        let (rest, replaced) = job(rest, &["plan"])?;
        let (rest, _) = opt(comma).parse(rest)?;
        let (rest, _) = words("plan to")(rest)?;
        let (rest, job) = job(rest, &["unless"])?;
        let (rest, ()) = end(rest)?;
        Ok((
            rest,
            Sentence::StandIn {
                when: when.clone(),
                replaced,
                job,
            },
        ))
    })
    .parse(rest)
}

/// "When a base is of oak, depending on how wide it is split: …", or without what must
/// be so.
pub(super) fn ladder(input: Tokens<'_>) -> Read<'_, Sentence> {
    let (rest, when) = opt(when).parse(input)?;
    cut(|i| ladder_from(i, when.clone())).parse(rest)
}

/// "When a top is veneered, never plan to … and … together", or without what must be so.
pub(super) fn exclusion_when(input: Tokens<'_>) -> Read<'_, Sentence> {
    let (rest, when) = opt(when).parse(input)?;
    cut(|i| exclusion(i, when.clone())).parse(rest)
}

/// "Always … before you …"; what must be so before it is read, and refused later.
pub(super) fn order_when(input: Tokens<'_>) -> Read<'_, Sentence> {
    let (rest, hangs) = opt(when).parse(input)?;
    let hangs = hangs.map(|_| input.span_to(&rest));
    cut(|i| order(i, hangs)).parse(rest)
}

/// "When …,"
fn when(input: Tokens<'_>) -> Read<'_, Conditions> {
    let (rest, when) = preceded(word("when"), cut(conditions)).parse(input)?;
    let (rest, _) = opt(comma).parse(rest)?;
    Ok((rest, when))
}
