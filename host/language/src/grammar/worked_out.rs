//! Measures that are worked out from others: "How far a table leans is the difference
//! between how high its left side is and how high its right side is."

use nom::Parser;
use nom::branch::alt;
use nom::combinator::{cut, opt, value};
use nom::sequence::preceded;

use crate::grammar::name::{article, be, free, named, noun, phrase};
use crate::grammar::sentence::a_word;
use crate::input::{Read, Tokens, comma, end, word, words};
use crate::model::Working;
use crate::syntax::{Name, NewOperand, NewWorking};

/// How far a … is … is …
pub fn worked_out(input: Tokens<'_>) -> Read<'_, NewWorking> {
    let (rest, _) = word("how")(input)?;
    cut(body).parse(rest)
}

fn body(input: Tokens<'_>) -> Read<'_, NewWorking> {
    let (rest, word_) = a_word(input)?;
    let (rest, noun) = preceded(article, noun).parse(rest)?;
    let (rest, _) = be(rest)?;
    let (rest, phrase) = free(rest, &["is", "are"], "what is said of it")?;
    let (rest, _) = be(rest)?;
    let from = rest;
    let (rest, (working, of)) = alt((between, several, share)).parse(rest)?;
    let at = from.span_to(&rest);
    let (rest, ()) = end(rest)?;
    Ok((
        rest,
        NewWorking {
            word: word_,
            noun,
            phrase,
            working,
            of,
            at,
        },
    ))
}

type Worked = (Working, Vec<NewOperand>);

fn between(input: Tokens<'_>) -> Read<'_, Worked> {
    let (rest, _) = words("the difference between")(input)?;
    let (rest, (first, _, second)) = cut((operand, word("and"), operand)).parse(rest)?;
    Ok((rest, (Working::Difference, vec![first, second])))
}

/// "the sum of how wide its cracks are", "the larger of … and …".
fn several(input: Tokens<'_>) -> Read<'_, Worked> {
    let (rest, working) = alt((
        value(Working::Sum, words("the sum of")),
        value(
            Working::Most,
            alt((words("the largest of"), words("the larger of"))),
        ),
        value(
            Working::Least,
            alt((words("the smallest of"), words("the smaller of"))),
        ),
    ))
    .parse(input)?;
    let (rest, first) = cut(operand).parse(rest)?;
    let (rest, second) = opt(preceded(word("and"), cut(operand))).parse(rest)?;
    let mut of = vec![first];
    of.extend(second);
    Ok((rest, (working, of)))
}

/// "how far it is cracked in all, as a share of how wide it is".
fn share(input: Tokens<'_>) -> Read<'_, Worked> {
    let (rest, first) = operand(input)?;
    let (rest, _) = (comma, words("as a share of")).parse(rest)?;
    let (rest, second) = cut(operand).parse(rest)?;
    Ok((rest, (Working::Share, vec![first, second])))
}

/// "how wide its cracks are", "how high its left side is", "how thick it is".
fn operand(input: Tokens<'_>) -> Read<'_, NewOperand> {
    let (rest, _) = word("how")(input)?;
    let (rest, word_) = a_word(rest)?;
    let (rest, part) = alt((
        value(None, word("it")),
        nom::combinator::map(preceded(word("its"), its_part), Some),
    ))
    .parse(rest)?;
    let (rest, _) = be(rest)?;
    let (rest, phrase) = opt(phrase).parse(rest)?;
    Ok((
        rest,
        NewOperand {
            word: word_,
            part,
            phrase,
            at: input.span_to(&rest),
        },
    ))
}

/// "left side", "cracks": the name of one, if there is one, and the part.
fn its_part(input: Tokens<'_>) -> Read<'_, (Option<Name>, Name)> {
    let name = input.vocab.names.longest(input.rest);
    let (rest, name) = if name > 0 && name > input.vocab.noun_length(input.rest) {
        let (rest, name) = named(input, name);
        (rest, Some(name))
    } else {
        (input, None)
    };
    let (rest, noun) = noun(rest)?;
    Ok((rest, (name, noun)))
}
