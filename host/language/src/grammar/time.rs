//! How long ago something was, and how long it has lasted: "was moved less than 6 weeks
//! ago", "was moved within the last year", "has stood open for at least 3 days".

use nom::branch::alt;
use nom::combinator::{cut, map, opt, value};
use nom::sequence::preceded;
use nom::{Input, Parser};

use crate::grammar::answer::Finding;
use crate::grammar::name::{article, be, has, named};
use crate::grammar::sentence::a_word;
use crate::input::{Read, Tokens, word, words};
use crate::number::{Quantity, number, unit, whole};
use crate::span::Span;
use crate::syntax::{Compare, Name, Saying};
use crate::token::{Number, Sort, Token};
use crate::vocab::is_closed;

/// What stands after "how": "much", "wide", "long ago".
pub fn how(input: Tokens<'_>) -> Read<'_, Name> {
    let is_ago = input.next_is("long") && input.rest.get(1).is_some_and(|t| t.is("ago"));
    if is_ago {
        return Ok(named(input, 2));
    }
    a_word(input)
}

/// The verb that goes with it: "was" of how long ago; "has", which is told, of how long it
/// has lasted; or else "is".
pub fn how_verb<'a>(word: &Name, input: Tokens<'a>) -> Read<'a, bool> {
    match word.text.as_str() {
        "long ago" => value(false, was).parse(input),
        "long" => alt((value(false, be), value(true, has))).parse(input),
        _ => value(false, be).parse(input),
    }
}

/// was, were
pub fn was(input: Tokens<'_>) -> Read<'_, ()> {
    value((), alt((word("was"), word("were")))).parse(input)
}

/// What is said after "was": "moved less than 6 weeks ago", "moved within the last year".
pub fn past(input: Tokens<'_>) -> Read<'_, Saying> {
    let (rest, not) = opt(word("not")).parse(input)?;
    let (rest, phrase) = past_phrase(rest)?;
    let (rest, (compare, word)) = alt((within_the_last, compared_ago)).parse(rest)?;
    Ok((rest, measured(not, phrase, compare, word)))
}

/// What is said after "has": "stood open for at least 3 days". Fails, so that something
/// else may be read, if no time follows a "for".
pub fn lasting(input: Tokens<'_>) -> Read<'_, Saying> {
    let (rest, not) = opt(word("not")).parse(input)?;
    let (rest, (phrase, for_at)) = lasting_phrase(rest)?;
    let (rest, compare) = cut(compare).parse(rest)?;
    Ok((rest, measured(not, phrase, compare, lasted(for_at))))
}

/// What a note says after "was": "moved 3 weeks ago".
pub fn past_note(input: Tokens<'_>) -> Read<'_, Finding> {
    const WANTED: &str = "how long ago, as in \"3 weeks ago\"";
    if input.next_is("not") {
        return input.fail(WANTED);
    }
    let (rest, phrase) = past_phrase(input)?;
    if rest.next_is("within") {
        return rest.fail(WANTED);
    }
    let (rest, (quantity, word)) = (span_of_time, ago).parse(rest)?;
    Ok((rest, noted(phrase, quantity, word)))
}

/// What a note says after "has": "stood open for 3 days".
pub fn lasting_note(input: Tokens<'_>) -> Read<'_, Finding> {
    let (rest, (phrase, for_at)) = lasting_phrase(input)?;
    let (rest, quantity) = cut(just_a_time).parse(rest)?;
    Ok((rest, noted(phrase, quantity, lasted(for_at))))
}

fn measured(not: Option<Span>, phrase: Name, compare: Compare, word: Name) -> Saying {
    Saying::Measured {
        not,
        phrase: Some(phrase),
        compare,
        word: Some(word),
    }
}

fn noted(phrase: Name, quantity: Quantity, word: Name) -> Finding {
    Finding::Measured {
        phrase: Some(phrase),
        quantity,
        word: Some(word),
    }
}

/// The word by which a measure of how long something has lasted is looked up.
fn lasted(at: Span) -> Name {
    Name {
        text: "for".to_owned(),
        at,
    }
}

/// Whether a time begins here: a number, or what it is compared with.
fn begins_time(input: &Tokens<'_>, at: usize) -> bool {
    let Some(token) = input.rest.get(at) else {
        return false;
    };
    let compares = ["more", "less", "at", "between", "a", "an"];
    matches!(token.sort, Sort::Number(_))
        || compares.iter().any(|word| token.is(word))
        || whole(input.take_from(at)).is_ok()
}

/// Whether it may be a part of what was done: the next clause is none.
fn is_of_name(token: &Token) -> bool {
    token.sort == Sort::Word && !is_closed(&token.text)
}

/// Up to "within", or to where a time begins.
fn past_phrase(input: Tokens<'_>) -> Read<'_, Name> {
    let known = input.vocab.phrases.longest(input.rest);
    let is_word = |at: usize| input.rest.get(at).is_some_and(is_of_name);
    let ends =
        |at: usize| begins_time(&input, at) || input.rest.get(at).is_some_and(|t| t.is("within"));
    let run = (0..12).take_while(|&at| is_word(at) && !ends(at)).count();
    match known.max(run) {
        0 => input.fail("what was done"),
        count => Ok(named(input, count)),
    }
}

/// Up to a "for" after which a time begins; and where that stands.
fn lasting_phrase(input: Tokens<'_>) -> Read<'_, (Name, Span)> {
    let is_for = |&at: &usize| {
        input.rest.get(at).is_some_and(|t| t.is("for")) && begins_time(&input, at + 1)
    };
    let words = input.rest.iter().take_while(|t| is_of_name(t));
    match (1..words.count().min(12)).find(is_for) {
        Some(count) => {
            let (rest, phrase) = named(input, count);
            let (rest, at) = word("for")(rest)?;
            Ok((rest, (phrase, at)))
        }
        None => input.fail("how long"),
    }
}

/// "within the last year", "within the last 6 weeks".
fn within_the_last(input: Tokens<'_>) -> Read<'_, (Compare, Name)> {
    let (rest, _) = words("within the last")(input)?;
    let (after, number) = opt(alt((map(number, |(n, _)| n), counted))).parse(rest)?;
    let (end, unit) = cut(unit).parse(after)?;
    let quantity = Quantity {
        number: number.unwrap_or(Number::whole(1)),
        unit: Some(unit),
        at: rest.span_to(&end),
        unit_at: Some(after.span_to(&end)),
    };
    let ago = Name {
        text: "long ago".to_owned(),
        at: input.span_to(&end),
    };
    Ok((end, (Compare::AtMost(quantity), ago)))
}

fn compared_ago(input: Tokens<'_>) -> Read<'_, (Compare, Name)> {
    (compare, ago).parse(input)
}

/// "ago", by which a measure of how long ago it was is looked up.
fn ago(input: Tokens<'_>) -> Read<'_, Name> {
    let (rest, at) = word("ago")(input)?;
    let text = "long ago".to_owned();
    Ok((rest, Name { text, at }))
}

/// "more than 6 weeks", "between 2 and 4 weeks".
fn compare(input: Tokens<'_>) -> Read<'_, Compare> {
    let span = || cut(span_of_time);
    alt((
        map(preceded(words("more than"), span()), Compare::MoreThan),
        map(preceded(words("less than"), span()), Compare::LessThan),
        map(preceded(words("at least"), span()), Compare::AtLeast),
        map(preceded(words("at most"), span()), Compare::AtMost),
        preceded(word("between"), cut(between)),
    ))
    .parse(input)
}

fn between(input: Tokens<'_>) -> Read<'_, Compare> {
    let (after, low) = alt((map(number, |(n, _)| n), counted)).parse(input)?;
    let low_at = input.span_to(&after);
    let (rest, low_unit) = opt(unit).parse(after)?;
    let (rest, high) = preceded(word("and"), span_of_time).parse(rest)?;
    let low = Quantity {
        number: low,
        unit: low_unit.or(high.unit),
        at: low_at,
        unit_at: high.unit_at,
    };
    Ok((rest, Compare::Between(low, high)))
}

/// "three", "a".
fn counted(input: Tokens<'_>) -> Read<'_, Number> {
    alt((
        map(whole, |n| Number::whole(n.into())),
        value(Number::whole(1), article),
    ))
    .parse(input)
}

/// A time, with nothing that it is compared with.
fn just_a_time(input: Tokens<'_>) -> Read<'_, Quantity> {
    if ["at", "more", "less", "between"]
        .iter()
        .any(|w| input.next_is(w))
    {
        return input.fail("how long, as in \"3 weeks\"");
    }
    span_of_time(input)
}

/// "6 weeks", "three weeks", "a year".
fn span_of_time(input: Tokens<'_>) -> Read<'_, Quantity> {
    let (after, number) = alt((map(number, |(n, _)| n), counted)).parse(input)?;
    let (rest, unit) = opt(unit).parse(after)?;
    Ok((
        rest,
        Quantity {
            number,
            unit,
            at: input.span_to(&rest),
            unit_at: unit.map(|_| after.span_to(&rest)),
        },
    ))
}
