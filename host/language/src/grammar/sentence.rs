//! Rules, plans, ladders, jobs, cautions, datings and traces.

use nom::branch::alt;
use nom::combinator::{cut, map, opt, value};
use nom::multi::many0;
use nom::sequence::preceded;
use nom::{Input, Parser};

use crate::entry::Opener;
use crate::grammar::clause::{clause, conditions, measuring_word, saying, thing};
use crate::grammar::depends::{exclusion_when, ladder, order_when, stand_in};
use crate::grammar::name::{article, be, free, frequency, has, named, noun, phrase};
use crate::grammar::relative::relative;
use crate::grammar::time::{how, how_verb};
use crate::input::{Read, Tokens, colon, comma, end, word, words};
use crate::number::{quantity, year};
use crate::span::Span;
use crate::syntax::{Clause, Conditions, Name, NewBound, Pointing, Sentence, Thing};
use crate::token::Sort;
use crate::vocab::is_closed;

/// The sentence of an entry that is not a declaration.
pub fn sentence(opener: Opener, input: Tokens<'_>) -> Read<'_, Sentence> {
    match opener {
        Opener::If => rule(input),
        Opener::Plan => plan(input),
        Opener::StandIn => stand_in(input),
        Opener::Ladder => ladder(input),
        Opener::Job => job_entry(input),
        Opener::Order => order_when(input),
        Opener::Exclusion => exclusion_when(input),
        Opener::Caution => caution(input),
        Opener::Tell => tell(input),
        Opener::Dating => dating(input),
        Opener::Relative => relative(input),
        Opener::Trace => trace(input),
        Opener::AtMostOne => at_most_one(input),
        Opener::OnlyIf => only_if(input),
        Opener::LeaveOut => leave_out(input),
        _ => input.fail("a sentence"),
    }
}

fn rule(input: Tokens<'_>) -> Read<'_, Sentence> {
    let (rest, when) = preceded(word("if"), cut(conditions)).parse(input)?;
    let (rest, _) = opt(comma).parse(rest)?;
    if rest.next_is("that") {
        return cut(|i| means(i, when.clone())).parse(rest);
    }
    cut(|i| {
        let (rest, result) = preceded(word("then"), clause).parse(i)?;
        let (rest, or) = many0(preceded(word("or"), cut(phrase))).parse(rest)?;
        let (after, _) = opt(comma).parse(rest)?;
        let second = opt(|i| {
            let (rest, _) = preceded(word("and"), clause).parse(i)?;
            Ok((rest, i.span_to(&rest)))
        })
        .parse(after);
        let (rest, second) = match second {
            Ok((after, Some(at))) => (after, Some(at)),
            _ => (rest, None),
        };
        let (rest, unless) =
            opt(preceded((opt(comma), word("unless")), cut(conditions))).parse(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((
            rest,
            Sentence::Rule {
                when: when.clone(),
                result,
                or,
                second,
                unless,
            },
        ))
    })
    .parse(rest)
}

fn means(input: Tokens<'_>, sign: crate::syntax::Conditions) -> Read<'_, Sentence> {
    let (rest, often) = preceded(word("that"), frequency).parse(input)?;
    let (rest, _) = alt((word("means"), word("mean"))).parse(rest)?;
    let (rest, fault) = clause(rest)?;
    let (rest, ()) = end(rest)?;
    Ok((rest, Sentence::Means { sign, often, fault }))
}

/// The name of a job, up to the end of the sentence.
pub(super) fn job<'a>(input: Tokens<'a>, stops: &[&str]) -> Read<'a, Name> {
    let count = input
        .rest
        .iter()
        .enumerate()
        .take_while(|(index, token)| {
            matches!(token.sort, Sort::Word | Sort::Number(_))
                && !stops.contains(&token.text.as_str())
                && !(*index > 0
                    && token.first
                    && ["up", "more", "expect", "given"].contains(&token.text.as_str()))
        })
        .count();
    if count == 0 {
        return input.fail("a job");
    }
    Ok(named(input, count))
}

fn plan(input: Tokens<'_>) -> Read<'_, Sentence> {
    let (rest, when) = preceded(word("when"), cut(conditions)).parse(input)?;
    cut(|i| {
        let (rest, _) = (opt(comma), opt(word("then")), words("plan to")).parse(i)?;
        let (rest, job) = job(rest, &["unless", "instead"])?;
        let (rest, ()) = end(rest)?;
        Ok((
            rest,
            Sentence::Plan {
                when: when.clone(),
                job,
            },
        ))
    })
    .parse(rest)
}

/// "depending on how wide a bottom is split: …"; of what something must be so of, "how
/// wide it is split".
pub(super) fn ladder_from(input: Tokens<'_>, when: Option<Conditions>) -> Read<'_, Sentence> {
    let (rest, _) = words("depending on how")(input)?;
    let (rest, word_) = how(rest)?;
    let thing = rest;
    let a_part = map(preceded(article, noun), Some);
    let (rest, noun) = alt((value(None, word("it")), a_part)).parse(rest)?;
    let thing_at = thing.span_to(&rest);
    let (rest, _) = how_verb(&word_, rest)?;
    let (rest, phrase) = opt(phrase).parse(rest)?;
    let (mut rest, _) = colon(rest)?;
    let mut rungs = Vec::new();
    while rest.next_is("up") {
        let (after, quantity) = cut(preceded(words("up to"), quantity)).parse(rest)?;
        let (after, outcome) = cut(preceded(colon, outcome)).parse(after)?;
        rungs.push((quantity, outcome));
        rest = after;
    }
    if rungs.is_empty() {
        return rest.fail("up to");
    }
    let (rest, more) = opt(preceded(word("more"), cut(preceded(colon, outcome)))).parse(rest)?;
    let (rest, ()) = end(rest)?;
    Ok((
        rest,
        Sentence::Ladder {
            when,
            word: word_,
            noun,
            thing_at,
            phrase,
            rungs,
            more,
        },
    ))
}

/// "plan to wax the runner" or "nothing", with a full stop or comma if liked.
fn outcome(input: Tokens<'_>) -> Read<'_, Option<Name>> {
    let (rest, outcome) = alt((
        value(None, word("nothing")),
        map(preceded(words("plan to"), cut(|i| job(i, &[]))), Some),
    ))
    .parse(input)?;
    let next = rest.rest.get(1);
    let more = rest
        .first()
        .is_some_and(|t| matches!(t.sort, Sort::Stop | Sort::Comma | Sort::Semicolon))
        && next.is_some_and(|t| t.is("up") || t.is("more"));
    Ok((if more { rest.take_from(1) } else { rest }, outcome))
}

/// One word that is not closed.
pub fn a_word(input: Tokens<'_>) -> Read<'_, Name> {
    match input.first() {
        Some(token)
            if token.sort == Sort::Word
                && (!is_closed(&token.text))
                && !["a", "an", "the"].contains(&token.text.as_str()) =>
        {
            Ok(named(input, 1))
        }
        _ => input.fail("a word such as \"much\" or \"wide\""),
    }
}

fn job_entry(input: Tokens<'_>) -> Read<'_, Sentence> {
    let (rest, _) = (word("job"), colon).parse(input)?;
    cut(|i| {
        let (rest, job) = job(i, &[])?;
        let (rest, once_for) = opt(preceded(
            (
                opt(comma),
                words("once for"),
                alt((word("each"), word("every"))),
            ),
            cut(noun),
        ))
        .parse(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, Sentence::Job { job, once_for }))
    })
    .parse(rest)
}

pub(super) fn order<'a>(input: Tokens<'a>, hangs: Option<Span>) -> Read<'a, Sentence> {
    let (rest, always) =
        alt((value(true, word("always")), value(false, word("better")))).parse(input)?;
    cut(|i: Tokens<'a>| {
        let (rest, before) = job(i, &["before"])?;
        let (rest, _) = words("before you")(rest)?;
        let (rest, after) = job(rest, &["because"])?;
        let (rest, _) = opt(comma).parse(rest)?;
        let (rest, because) = because(rest)?;
        Ok((
            rest,
            Sentence::Order {
                hangs,
                always,
                before,
                after,
                because,
            },
        ))
    })
    .parse(rest)
}

/// "because …" to the end, or the end.
fn because(input: Tokens<'_>) -> Read<'_, Option<Span>> {
    if !input.next_is("because") {
        let (rest, ()) = end(input)?;
        return Ok((rest, None));
    }
    let reason = input.take_from(1);
    let mut count = reason.rest.len();
    if reason.rest.last().is_some_and(|t| t.sort == Sort::Stop) {
        count -= 1;
    }
    if count == 0 {
        return reason.fail("a reason");
    }
    let at = reason.span_to(&reason.take_from(count));
    Ok((reason.take_from(reason.rest.len()), Some(at)))
}

pub(super) fn exclusion<'a>(input: Tokens<'a>, when: Option<Conditions>) -> Read<'a, Sentence> {
    let (rest, _) = words("never plan to")(input)?;
    cut(|i: Tokens<'a>| {
        let last = i.rest.iter().rposition(|t| t.is("together"));
        let Some(last) = last else {
            let (after, _) = job(i, &[])?;
            return after.fail("together");
        };
        let splits: Vec<(Name, Name)> = (1..last.saturating_sub(1))
            .filter(|index| i.rest[*index].is("and"))
            .map(|index| {
                let (_, one) = named(i, index);
                let (_, other) = named(i.take_from(index + 1), last - index - 1);
                (one, other)
            })
            .collect();
        if splits.is_empty() {
            return i.take_from(last).fail("and");
        }
        let (rest, ()) = end(i.take_from(last + 1))?;
        let when = when.clone();
        Ok((rest, Sentence::Exclusion { when, splits }))
    })
    .parse(rest)
}

fn caution(input: Tokens<'_>) -> Read<'_, Sentence> {
    let (rest, stop) = alt((
        value(false, words("take care when")),
        value(true, words("stop when")),
    ))
    .parse(input)?;
    cut(|i| {
        let (rest, when) = conditions(i)?;
        let (rest, _) = colon(rest)?;
        let (rest, text) = text(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, Sentence::Caution { stop, when, text }))
    })
    .parse(rest)
}

fn tell(input: Tokens<'_>) -> Read<'_, Sentence> {
    let (rest, ()) = value((), words("tell the owner when")).parse(input)?;
    cut(|i| {
        let (rest, when) = conditions(i)?;
        let (rest, _) = colon(rest)?;
        let (rest, text) = text(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, Sentence::Tell { when, text }))
    })
    .parse(rest)
}

/// Something in quotation marks.
pub fn text(input: Tokens<'_>) -> Read<'_, Name> {
    match input.first() {
        Some(token) if token.sort == Sort::Text => Ok((
            input.take_from(1),
            Name {
                text: token.text.clone(),
                at: token.at,
            },
        )),
        _ => input.fail("a text in quotation marks"),
    }
}

/// "a screw that is loose".
pub(super) fn some_of_a_kind<'a>(input: Tokens<'a>) -> Read<'a, (Name, Option<Clause>)> {
    let (rest, noun) = preceded(article, noun).parse(input)?;
    let (rest, that) = opt(|i: Tokens<'a>| {
        let (rest, _) = word("that")(i)?;
        let (after, saying) = cut(saying).parse(rest)?;
        Ok((
            after,
            Clause {
                attribute: None,
                thing: Thing::One {
                    how: Pointing::A,
                    place: None,
                    noun: noun.clone(),
                    of: None,
                    at: noun.at,
                },
                verb_at: rest.first().map_or(noun.at, |t| t.at),
                saying,
                saying_at: rest.span_to(&after),
                at: rest.span_to(&after),
            },
        ))
    })
    .parse(rest)?;
    Ok((rest, (noun, that)))
}

fn dating<'a>(input: Tokens<'a>) -> Read<'a, Sentence> {
    let (rest, (part, that)) = some_of_a_kind(input)?;
    cut(|i: Tokens<'a>| {
        let (rest, _) = be(i)?;
        let (rest, bound) = alt((
            map(
                preceded((word("later"), words("than its")), cut(noun)),
                NewBound::LaterThan,
            ),
            map(
                preceded((word("not"), words("earlier than")), cut(year)),
                NewBound::NotEarlier,
            ),
            map(
                preceded((word("not"), words("later than")), cut(year)),
                NewBound::NotLater,
            ),
            map(
                (
                    words("usually from"),
                    cut(year),
                    alt((word("to"), word("till"))),
                    cut(year),
                ),
                |(_, from, _, to)| NewBound::Usually(from, to),
            ),
        ))
        .parse(rest)?;
        let (rest, region) = match bound {
            NewBound::LaterThan(_) => (rest, None),
            _ => opt(preceded(word("in"), cut(a_word))).parse(rest)?,
        };
        let (rest, ()) = end(rest)?;
        Ok((
            rest,
            Sentence::Dating {
                noun: part.clone(),
                that: that.clone(),
                bound,
                region,
            },
        ))
    })
    .parse(rest)
}

fn trace<'a>(input: Tokens<'a>) -> Read<'a, Sentence> {
    let (rest, (part, that)) = some_of_a_kind(input)?;
    cut(|i: Tokens<'a>| {
        let (rest, what) = preceded(
            (has, word("lost"), article),
            cut(|i| free(i, &[], "what it has lost")),
        )
        .parse(i)?;
        let (rest, ()) = end(rest)?;
        Ok((
            rest,
            Sentence::Dating {
                noun: part.clone(),
                that: that.clone(),
                bound: NewBound::Lost(what),
                region: None,
            },
        ))
    })
    .parse(rest)
}

fn at_most_one<'a>(input: Tokens<'a>) -> Read<'a, Sentence> {
    let (rest, _) = article(input)?;
    cut(|i: Tokens<'a>| {
        let (rest, noun) = noun(i)?;
        let (rest, shows) = alt((
            value(false, be),
            value(true, alt((word("shows"), word("show")))),
        ))
        .parse(rest)?;
        let (rest, _) = words("at most one of")(rest)?;
        let (rest, first) = phrase(rest)?;
        let next = preceded(alt((comma, word("or"))), cut(phrase));
        let (rest, mut phrases) = many0(next).parse(rest)?;
        let (rest, ()) = end(rest)?;
        phrases.insert(0, first);
        Ok((
            rest,
            Sentence::AtMostOne {
                noun,
                shows,
                phrases,
            },
        ))
    })
    .parse(rest)
}

fn only_if<'a>(input: Tokens<'a>) -> Read<'a, Sentence> {
    let (rest, _) = article(input)?;
    cut(|i: Tokens<'a>| {
        let (rest, part) = noun(i)?;
        let (rest, _) = word("can")(rest)?;
        let (rest, shows) =
            alt((value(false, word("be")), value(true, word("show")))).parse(rest)?;
        let (rest, said) = free(rest, &["only"], "what can be said of it")?;
        let (rest, _) = word("only")(rest)?;
        let (rest, when) = preceded(word("if"), conditions).parse(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((
            rest,
            Sentence::OnlyIf {
                noun: part,
                phrase: said,
                shows,
                when,
            },
        ))
    })
    .parse(rest)
}

fn leave_out<'a>(input: Tokens<'a>) -> Read<'a, Sentence> {
    let (rest, _) = words("leave out")(input)?;
    cut(|i: Tokens<'a>| {
        // The title of an example may hold a comma.
        let mut count = i
            .rest
            .iter()
            .take_while(|t| t.sort != Sort::Stop && !t.is("because"))
            .count();
        if i.rest[..count]
            .last()
            .is_some_and(|t| t.sort == Sort::Comma)
        {
            count -= 1;
        }
        if count == 0 {
            return i.fail("the name of a sentence");
        }
        let (rest, name) = named(i, count);
        let (rest, _) = opt(comma).parse(rest)?;
        if !rest.next_is("because") {
            return rest.fail("because");
        }
        let (rest, because) = because(rest)?;
        Ok((rest, Sentence::LeaveOut { name, because }))
    })
    .parse(rest)
}

/// "a runner is worn thin", as after `Mends:`.
pub fn mended(input: Tokens<'_>) -> Read<'_, Clause> {
    let (rest, _) = opt(alt((article, value((), word("the"))))).parse(input)?;
    let (rest, noun) = noun(rest)?;
    let verb = rest;
    let (rest, saying) = saying(rest)?;
    Ok((
        rest,
        Clause {
            attribute: None,
            thing: Thing::One {
                how: Pointing::A,
                place: None,
                at: noun.at,
                noun,
                of: None,
            },
            verb_at: verb.first().map_or(Span::default(), |t| t.at),
            saying,
            saying_at: verb.span_to(&rest),
            at: input.span_to(&rest),
        },
    ))
}

/// How a step or answer names a sign.
pub fn question(input: Tokens<'_>) -> Read<'_, crate::syntax::Question> {
    use crate::model::Verb;
    use crate::syntax::Question;
    let (rest, asked) = alt((
        value(0, word("whether")),
        value(1, word("how")),
        value(2, word("which")),
        value(3, word("the")),
    ))
    .parse(input)?;
    match asked {
        0 => {
            let (rest, thing) = part(rest)?;
            let (rest, verb) = alt((
                value(Verb::Is, be),
                value(Verb::Shows, alt((word("shows"), word("show")))),
            ))
            .parse(rest)?;
            let (rest, phrase) = phrase(rest)?;
            Ok((rest, Question::Whether(thing, verb, phrase)))
        }
        1 => {
            let (rest, word) = how(rest)?;
            let (rest, thing) = part(rest)?;
            let (rest, _) = how_verb(&word, rest)?;
            let (rest, phrase) = opt(phrase).parse(rest)?;
            let (rest, _) = opt(measuring_word).parse(rest)?;
            Ok((rest, Question::HowMuch(word, thing, phrase)))
        }
        2 => {
            let count = rest.vocab.attributes.longest(rest.rest);
            let (rest, attribute) = if count > 0 {
                named(rest, count)
            } else {
                a_word(rest)?
            };
            let (rest, thing) = part(rest)?;
            let (rest, _) = has(rest)?;
            Ok((rest, Question::Which(attribute, thing)))
        }
        _ => {
            let (rest, noun) = noun(rest)?;
            let (rest, thing) = preceded(word("of"), part).parse(rest)?;
            Ok((rest, Question::Count(noun, thing)))
        }
    }
}

/// "each drawer", "the piece", "runner 1 of drawer 2".
fn part(input: Tokens<'_>) -> Read<'_, Thing> {
    thing(input)
}
