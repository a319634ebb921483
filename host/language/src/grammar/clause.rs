//! What must be so, and what is said of which part.

use nom::branch::alt;
use nom::combinator::{cut, map, opt, value};
use nom::multi::many0;
use nom::sequence::{preceded, terminated};
use nom::{Input, Parser};

use crate::grammar::name::{article, be, frequency, has, named, noun, phrase, sureness};
use crate::grammar::time::{lasting, past, was};
use crate::input::{Read, Tokens, colon, comma, word, words};
use crate::number::{Quantity, number, quantity, unit, whole};
use crate::syntax::{
    Amount, Beyond, Clause, Compare, Cond, Conditions, Enough, Name, Pointing, Saying, Thing,
};
use crate::token::Sort;
use crate::vocab::is_closed;

/// How deep lists may nest and "of" may chain.
const DEEPEST: u8 = 8;

/// What must be so.
pub fn conditions(input: Tokens<'_>) -> Read<'_, Conditions> {
    let mut slips = Slips::default();
    let (rest, (subject, cond)) = match list_head(input) {
        Ok((rest, (of_these, subject))) => {
            let (rest, items) = cut(|i| items(i, 0, DEEPEST, &mut slips)).parse(rest)?;
            (rest, (subject, of_these.listed(items)))
        }
        Err(_) => {
            let (rest, cond) = row(input, &mut slips)?;
            (rest, (None, cond))
        }
    };
    Ok((
        rest,
        Conditions {
            subject,
            cond,
            mixed: slips.mixed,
            crooked: slips.crooked,
            at: input.span_to(&rest),
        },
    ))
}

/// Slips that do not stop the reading.
#[derive(Default)]
struct Slips {
    mixed: Option<crate::span::Span>,
    crooked: Option<crate::span::Span>,
}

/// How many lines of a list must be so.
#[derive(Clone, Copy)]
enum OfThese {
    All,
    Any,
    AtLeast(Enough),
}

impl OfThese {
    fn listed(self, items: Vec<Cond>) -> Cond {
        match self {
            Self::All => Cond::All(items),
            Self::Any => Cond::Any(items),
            Self::AtLeast(enough) => Cond::AtLeast(items, enough),
        }
    }
}

/// Clauses with "and" or "or" between them.
fn row<'a>(input: Tokens<'a>, slips: &mut Slips) -> Read<'a, Cond> {
    let (mut rest, first) = clause(input)?;
    let mut all = vec![Cond::One(Box::new(first))];
    let mut joined: Option<bool> = None;
    loop {
        let joins = rest.rest.get(1).is_some_and(|t| t.is("and") || t.is("or"));
        let after_comma = match comma(rest) {
            Ok((after, _)) if joins => after,
            _ => rest,
        };
        let Ok((after, (and, at))) = alt((
            map(word("and"), |at| (true, at)),
            map(word("or"), |at| (false, at)),
        ))
        .parse(after_comma) else {
            break;
        };
        if joined.is_some_and(|before| before != and) && slips.mixed.is_none() {
            slips.mixed = Some(at);
        }
        joined.get_or_insert(and);
        let (after, next) = cut(clause).parse(after)?;
        all.push(Cond::One(Box::new(next)));
        rest = after;
    }
    let cond = if all.len() == 1 {
        all.swap_remove(0)
    } else {
        match joined {
            Some(false) => Cond::Any(all),
            _ => Cond::All(all),
        }
    };
    Ok((rest, cond))
}

/// "all of these are true of a fall:", "at least two of these are true:"
fn list_head(input: Tokens<'_>) -> Read<'_, (OfThese, Option<Name>)> {
    let (rest, of_these) = terminated(
        alt((
            value(OfThese::All, word("all")),
            value(OfThese::Any, word("any")),
            map(enough, OfThese::AtLeast),
        )),
        words("of these"),
    )
    .parse(input)?;
    let (rest, subject) = cut((
        be,
        word("true"),
        opt(preceded((word("of"), article), noun)),
        colon,
    ))
    .map(|(_, _, subject, _)| subject)
    .parse(rest)?;
    Ok((rest, (of_these, subject)))
}

/// "at least two"
fn enough(input: Tokens<'_>) -> Read<'_, Enough> {
    let (rest, number) = preceded(words("at least"), whole).parse(input)?;
    let at = input.span_to(&rest);
    Ok((rest, Enough { number, at }))
}

/// The lines of a list, which stand further in than `outer`.
fn items<'a>(input: Tokens<'a>, outer: u16, deepest: u8, slips: &mut Slips) -> Read<'a, Vec<Cond>> {
    let Some(first) = input.first().filter(|t| t.sort == Sort::Bullet) else {
        return input.fail("a line that begins with \"-\"");
    };
    let column = first.column;
    if outer > 0 && column <= outer {
        slips.crooked.get_or_insert(first.at);
    }
    let mut all = Vec::new();
    let mut rest = input;
    while let Some(bullet) = rest.first().filter(|t| t.sort == Sort::Bullet) {
        if bullet.column <= outer && !all.is_empty() {
            break;
        }
        if bullet.column != column && slips.crooked.is_none() {
            slips.crooked = Some(bullet.at);
        }
        let line = rest.take_from(1);
        let (after, item) = match list_head(line) {
            Ok((after, (of_these, _))) if deepest > 0 => {
                let (after, inner) = items(after, column, deepest - 1, slips)?;
                (after, of_these.listed(inner))
            }
            Ok(_) => return line.fail("a shorter list"),
            Err(nom::Err::Failure(lost)) => return Err(nom::Err::Failure(lost)),
            Err(_) => cut(|i| row(i, slips)).parse(line)?,
        };
        let (after, _) = opt(comma).parse(after)?;
        all.push(item);
        rest = after;
    }
    Ok((rest, all))
}

/// One clause.
pub fn clause(input: Tokens<'_>) -> Read<'_, Clause> {
    let (rest, (attribute, thing)) = alt((about, map(thing, |t| (None, t)))).parse(input)?;
    let verb = rest;
    if matches!(thing, Thing::There(_)) {
        // Only to say that it leaves open whose they are.
        let (rest, saying) = preceded(be, having).parse(rest)?;
        let at = input.span_to(&rest);
        return Ok((
            rest,
            Clause {
                attribute,
                thing,
                verb_at: at,
                saying,
                saying_at: at,
                at,
            },
        ));
    }
    let (rest, saying) = saying(rest)?;
    Ok((
        rest,
        Clause {
            attribute,
            thing,
            verb_at: verb.first().map_or(input.span_to(&rest), |t| t.at),
            saying,
            saying_at: verb.span_to(&rest),
            at: input.span_to(&rest),
        },
    ))
}

/// "its point", "the point of a screw".
fn about(input: Tokens<'_>) -> Read<'_, (Option<Name>, Thing)> {
    let (rest, (its, at)) = alt((
        map(word("its"), |at| (true, at)),
        map(word("the"), |at| (false, at)),
    ))
    .parse(input)?;
    let count = rest.vocab.attributes.longest(rest.rest);
    if count == 0 || count < rest.vocab.noun_length(rest.rest) {
        return input.fail("a part");
    }
    let (rest, attribute) = named(rest, count);
    if its {
        return Ok((rest, (Some(attribute), Thing::It(at))));
    }
    let (rest, thing) = preceded(word("of"), thing).parse(rest)?;
    Ok((rest, (Some(attribute), thing)))
}

/// Which part.
pub fn thing(input: Tokens<'_>) -> Read<'_, Thing> {
    alt((
        map(word("it"), Thing::It),
        map(word("there"), Thing::There),
        |i| many(i, DEEPEST),
        |i| one(i, DEEPEST),
    ))
    .parse(input)
}

fn one(input: Tokens<'_>, deepest: u8) -> Read<'_, Thing> {
    let (rest, how) = alt((
        value(Pointing::Its, word("its")),
        value(Pointing::TheSame, words("the same")),
        value(Pointing::The, word("the")),
        value(Pointing::A, article),
    ))
    .parse(input)?;
    let (rest, place) = opt(place).parse(rest)?;
    let (rest, noun) = noun(rest)?;
    let (rest, of) = opt(|i| owner(i, deepest)).parse(rest)?;
    Ok((
        rest,
        Thing::One {
            how,
            place,
            noun,
            of: of.map(Box::new),
            at: input.span_to(&rest),
        },
    ))
}

/// "left", "front left", "lowest", "other", before a part.
pub fn place(input: Tokens<'_>) -> Read<'_, Name> {
    match input.vocab.place_length(input.rest) {
        0 => input.fail("where a part stands"),
        length => Ok(named(input, length)),
    }
}

/// "another drawer": any other drawer.
fn another(input: Tokens<'_>, deepest: u8) -> Read<'_, Thing> {
    let (rest, at) = word("another")(input)?;
    let place = Name {
        text: "other".to_owned(),
        at,
    };
    let (rest, noun) = noun(rest)?;
    let (rest, of) = opt(|i| owner(i, deepest)).parse(rest)?;
    Ok((
        rest,
        Thing::Many {
            amount: Amount::Any,
            amount_at: at,
            place: Some(place),
            noun,
            of: of.map(Box::new),
            at: input.span_to(&rest),
        },
    ))
}

fn many(input: Tokens<'_>, deepest: u8) -> Read<'_, Thing> {
    if input.next_is("another") {
        return another(input, deepest);
    }
    let (rest, amount) = amount(input)?;
    let amount_at = input.span_to(&rest);
    let (rest, of_them) = opt(|i| {
        preceded(
            (opt(word("one")), word("of")),
            alt((word("its"), words("the same"), word("the"))),
        )
        .parse(i)
    })
    .parse(rest)?;
    if of_them.is_none() && ["all", "none"].iter().any(|w| input.next_is(w)) {
        // "all its runners"
        let (rest, _) = opt(alt((word("its"), word("the")))).parse(rest)?;
        return group(input, rest, amount, amount_at, deepest);
    }
    group(input, rest, amount, amount_at, deepest)
}

fn group<'a>(
    input: Tokens<'a>,
    rest: Tokens<'a>,
    amount: Amount,
    amount_at: crate::span::Span,
    deepest: u8,
) -> Read<'a, Thing> {
    let (rest, place) = opt(place).parse(rest)?;
    let (rest, noun) = noun(rest)?;
    let (rest, of) = opt(|i| owner(i, deepest)).parse(rest)?;
    Ok((
        rest,
        Thing::Many {
            amount,
            amount_at,
            place,
            noun,
            of: of.map(Box::new),
            at: input.span_to(&rest),
        },
    ))
}

/// "of a drawer", "of its hinges".
fn owner(input: Tokens<'_>, deepest: u8) -> Read<'_, Thing> {
    let (rest, _) = word("of")(input)?;
    if deepest == 0 {
        return input.fail("a shorter sentence");
    }
    alt((
        map(word("it"), Thing::It),
        |i| many(i, deepest - 1),
        |i| one(i, deepest - 1),
    ))
    .parse(rest)
}

/// any, every, no, at least two …
pub fn amount(input: Tokens<'_>) -> Read<'_, Amount> {
    alt((
        value(Amount::Any, word("any")),
        value(
            Amount::Every,
            alt((word("every"), word("each"), word("all"), word("both"))),
        ),
        value(Amount::No, alt((word("no"), word("none")))),
        map(preceded(words("at least"), whole), Amount::AtLeast),
        map(preceded(words("at most"), whole), Amount::AtMost),
        map(preceded(words("more than"), whole), Amount::MoreThan),
        map(
            preceded(alt((words("fewer than"), words("less than"))), whole),
            Amount::FewerThan,
        ),
        map(preceded(opt(word("exactly")), whole), Amount::Exactly),
    ))
    .parse(input)
}

/// What is said of it.
pub fn saying(input: Tokens<'_>) -> Read<'_, Saying> {
    if be(input).is_ok() {
        return preceded(be, cut(being)).parse(input);
    }
    alt((
        preceded(has, lasting),
        preceded(has, cut(having)),
        value(
            Saying::CannotBeSeen,
            alt((words("cannot be seen"), words("can not be seen"))),
        ),
        showing,
        preceded(was, cut(past)),
    ))
    .parse(input)
}

fn showing(input: Tokens<'_>) -> Read<'_, Saying> {
    let (rest, not) = opt(|i| {
        let (rest, _) = (alt((word("does"), word("do"))), word("not")).parse(i)?;
        Ok((rest, i.span_to(&rest)))
    })
    .parse(input)?;
    let (rest, sure) = opt(with_span(sureness)).parse(rest)?;
    let (rest, often) = opt(frequency).parse(rest)?;
    let (rest, _) = alt((word("shows"), word("show"))).parse(rest)?;
    let (rest, phrase) = cut(phrase).parse(rest)?;
    Ok((
        rest,
        Saying::Shows {
            not,
            often,
            sure,
            phrase,
        },
    ))
}

/// With where it stands.
fn with_span<'a, O>(
    mut inner: impl FnMut(Tokens<'a>) -> Read<'a, O>,
) -> impl FnMut(Tokens<'a>) -> Read<'a, (O, crate::span::Span)> {
    move |input| {
        let (rest, out) = inner(input)?;
        Ok((rest, (out, input.span_to(&rest))))
    }
}

fn being(input: Tokens<'_>) -> Read<'_, Saying> {
    let (rest, not) = opt(word("not")).parse(input)?;
    if rest.next_is("either") {
        let (rest, values) = (word("either"), phrase, many0(preceded(word("or"), phrase)))
            .map(|(_, first, mut more)| {
                more.insert(0, first);
                more
            })
            .parse(rest)?;
        return Ok((rest, Saying::Either { not, values }));
    }
    if let Ok((after, (_, place))) = (alt((word("the"), word("its"))), place).parse(rest) {
        let (after, noun) = noun(after)?;
        let (after, _) = opt(|i| owner(i, DEEPEST)).parse(after)?;
        return Ok((after, Saying::Stands { not, place, noun }));
    }
    if article(rest).is_ok() {
        let (rest, noun) = preceded(article, noun).parse(rest)?;
        return Ok((rest, Saying::IsA { not, noun }));
    }
    if let Ok((rest, compare)) = compare(rest) {
        let (rest, word) = opt(measuring_word).parse(rest)?;
        return Ok((
            rest,
            Saying::Measured {
                not,
                phrase: None,
                compare,
                word,
            },
        ));
    }
    let (rest, often) = opt(frequency).parse(rest)?;
    let (rest, sure) = opt(with_span(sureness)).parse(rest)?;
    let (rest, not) = match not {
        Some(at) => (rest, Some(at)),
        None => opt(word("not")).parse(rest)?,
    };
    if let Ok((rest, (beyond, phrase))) = beyond(rest) {
        let saying = Saying::Beyond {
            not,
            often,
            sure,
            beyond,
            phrase,
        };
        return Ok((rest, saying));
    }
    let (rest, phrase) = phrase(rest)?;
    if begins_compare(rest) {
        let (rest, compare) = cut(compare).parse(rest)?;
        let (rest, word) = opt(measuring_word).parse(rest)?;
        return Ok((
            rest,
            Saying::Measured {
                not,
                phrase: Some(phrase),
                compare,
                word,
            },
        ));
    }
    let (rest, late) = opt(frequency).parse(rest)?;
    Ok((
        rest,
        Saying::Is {
            not,
            often,
            late,
            sure,
            phrase,
        },
    ))
}

/// "at least noticeably lifted": what words, not a figure, are compared with.
pub fn beyond(input: Tokens<'_>) -> Read<'_, (Beyond, Name)> {
    let (rest, beyond) = alt((
        value(Beyond::MoreThan, words("more than")),
        value(Beyond::LessThan, words("less than")),
        value(Beyond::AtLeast, words("at least")),
        value(Beyond::AtMost, words("at most")),
    ))
    .parse(input)?;
    let (rest, phrase) = phrase(rest)?;
    Ok((rest, (beyond, phrase)))
}

fn begins_compare(input: Tokens<'_>) -> bool {
    ["more", "less", "at", "between", "fewer"]
        .iter()
        .any(|w| input.next_is(w))
}

/// "wide", at the end of a measure.
pub fn measuring_word(input: Tokens<'_>) -> Read<'_, Name> {
    match input.first() {
        Some(token) if input.vocab.measuring.contains(&token.text) => Ok(named(input, 1)),
        // A word that is not known, alone before the next part of the
        // sentence: looked up later, so that only this is lost.
        Some(token)
            if token.sort == Sort::Word
                && !is_closed(&token.text)
                && !token.first
                && !["only", "to", "of"].contains(&token.text.as_str())
                && input
                    .rest
                    .get(1)
                    .is_none_or(|t| t.sort != Sort::Word || is_closed(&t.text)) =>
        {
            Ok(named(input, 1))
        }
        _ => input.fail("a word such as \"wide\""),
    }
}

/// "more than 2 mm", "between 2 and 4 mm".
pub fn compare(input: Tokens<'_>) -> Read<'_, Compare> {
    alt((
        map(
            preceded(words("more than"), cut(quantity)),
            Compare::MoreThan,
        ),
        map(
            preceded(words("less than"), cut(quantity)),
            Compare::LessThan,
        ),
        map(preceded(words("at least"), cut(quantity)), Compare::AtLeast),
        map(preceded(words("at most"), cut(quantity)), Compare::AtMost),
        preceded(word("between"), cut(between)),
    ))
    .parse(input)
}

fn between(input: Tokens<'_>) -> Read<'_, Compare> {
    let (rest, (low, low_at)) = number(input)?;
    let (rest, low_unit) = opt(unit).parse(rest)?;
    let (rest, high) = preceded(word("and"), quantity).parse(rest)?;
    let low = Quantity {
        number: low,
        unit: low_unit.or(high.unit),
        at: low_at,
        unit_at: high.unit_at,
    };
    Ok((rest, Compare::Between(low, high)))
}

fn having(input: Tokens<'_>) -> Read<'_, Saying> {
    let (rest, amount) = alt((value(None, article), map(amount, Some))).parse(input)?;
    let amount_at = input.span_to(&rest);
    let (rest, noun) = noun(rest)?;
    Ok((
        rest,
        Saying::Has {
            amount,
            amount_at,
            noun,
        },
    ))
}
