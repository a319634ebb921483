//! Measures that are worked out from others: "How far a table leans is the difference
//! between how high its left side is and how high its right side is."

use nom::Parser;
use nom::branch::alt;
use nom::combinator::{cut, map, opt, peek, value};
use nom::multi::many0;
use nom::sequence::preceded;

use crate::grammar::name::{article, be, free, has, named, noun, phrase};
use crate::grammar::sentence::a_word;
use crate::input::{Read, Tokens, comma, end, word, words};
use crate::model::{Sum, Working};
use crate::number::quantity;
use crate::syntax::{Name, NewFed, NewOperand, NewValue, NewWorking};

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
    let (rest, how) = opt(handbook).parse(rest)?;
    let (rest, (working, of), sum) = match how {
        Some(sum) => (rest, (Working::Handbook, Vec::new()), Some(sum)),
        None => {
            let (rest, worked) = alt((between, several, share)).parse(rest)?;
            (rest, worked, None)
        }
    };
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
            sum,
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

/// "the sag of a shelf, where the span is how long it is, … and the wood is oak".
fn handbook(input: Tokens<'_>) -> Read<'_, (Sum, Vec<NewFed>)> {
    let named = |sum: &Sum| words(sum.name())(input).ok().map(|(rest, _)| (rest, *sum));
    let Some((rest, sum)) = Sum::ALL.iter().find_map(named) else {
        return input.fail("a sum of the handbook");
    };
    let (rest, _) = cut((opt(comma), word("where"))).parse(rest)?;
    let (rest, first) = cut(fed).parse(rest)?;
    let (rest, more) = many0(preceded(next_fed, cut(fed))).parse(rest)?;
    let mut all = vec![first];
    all.extend(more);
    Ok((rest, (sum, all)))
}

/// The comma, or the "and", before one more of what goes into a sum.
fn next_fed(input: Tokens<'_>) -> Read<'_, ()> {
    value(
        (),
        alt((value((), (comma, opt(word("and")))), value((), word("and")))),
    )
    .parse(input)
}

/// "the span is how long it is".
fn fed(input: Tokens<'_>) -> Read<'_, NewFed> {
    let (rest, _) = word("the")(input)?;
    let (rest, name) = free(rest, &["is", "are"], "what goes into the sum")?;
    let (from, _) = be(rest)?;
    let quantity = map(quantity, NewValue::Quantity);
    let measure = map(preceded(peek(word("how")), cut(operand)), NewValue::Measure);
    let choice = map(preceded(word("which"), cut(choice)), NewValue::Choice);
    let words = |input| free(input, &["and"], "what it is");
    let (rest, value) =
        alt((measure, choice, quantity, map(words, NewValue::Named))).parse(from)?;
    let at = from.span_to(&rest);
    Ok((rest, NewFed { name, value, at }))
}

/// "wood it has", "wood its piece has", after "which".
fn choice(input: Tokens<'_>) -> Read<'_, NewOperand> {
    let (rest, word_) = free(input, &["it", "its"], "what differs")?;
    let (rest, part) = its(rest)?;
    let (rest, _) = has(rest)?;
    Ok((
        rest,
        NewOperand {
            word: word_,
            part,
            phrase: None,
            at: input.span_to(&rest),
        },
    ))
}

/// "it", "its left side".
fn its(input: Tokens<'_>) -> Read<'_, Option<(Option<Name>, Name)>> {
    alt((
        value(None, word("it")),
        map(preceded(word("its"), its_part), Some),
    ))
    .parse(input)
}

/// "how wide its cracks are", "how high its left side is", "how thick it is".
fn operand(input: Tokens<'_>) -> Read<'_, NewOperand> {
    let (rest, _) = word("how")(input)?;
    let (rest, word_) = a_word(rest)?;
    let (rest, part) = its(rest)?;
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
