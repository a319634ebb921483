//! Sentences that declare words.

use nom::branch::alt;
use nom::combinator::{cut, map, opt, value};
use nom::multi::{many0, many1, separated_list1};
use nom::sequence::{delimited, preceded};
use nom::{Input, Parser};

use crate::grammar::name::{article, be, free, has, loose_frequency, named, noun, strength};
use crate::grammar::sentence::text;
use crate::grammar::time::{how, how_verb};
use crate::input::{Read, Tokens, colon, comma, end, sort, word, words};
use crate::model::{CountedFrom, Region, Sense, Strength, Verb};
use crate::number::{number, unit, whole};
use crate::span::Span;
use crate::syntax::{Frequency, Name, NewMember, NewName, NewSign};
use crate::token::Sort;

/// What a title says.
pub struct NewTitle {
    /// "the bench at Mill Lane".
    pub text: Span,
    /// version 3
    pub version: Option<u32>,
    /// British
    pub region: Option<Region>,
}

/// House rules for …
pub fn title(input: Tokens<'_>) -> Read<'_, NewTitle> {
    let (rest, _) = words("house rules for")(input)?;
    let count = (0..rest.rest.len())
        .take_while(|&index| {
            let token = &rest.rest[index];
            let next = rest.rest.get(index + 1);
            let ends = token.sort == Sort::Comma
                && next.is_some_and(|t| t.is("version") || region_of(&t.text).is_some());
            let stop = token.sort == Sort::Stop && next.is_none();
            !ends && !stop
        })
        .count();
    if count == 0 {
        return rest.fail("whose rules they are");
    }
    let (mut after, name) = named(rest, count);
    let mut title = NewTitle {
        text: name.at,
        version: None,
        region: None,
    };
    while after.first().is_some_and(|t| t.sort == Sort::Comma) {
        let (next, _) = comma(after)?;
        if next.next_is("version") {
            let (next, version) = cut(preceded(word("version"), whole)).parse(next)?;
            title.version = Some(version);
            after = next;
        } else {
            match next.first().and_then(|t| region_of(&t.text)) {
                Some(region) => {
                    title.region = Some(region);
                    after = next.take_from(1);
                }
                None => return next.fail("British or American"),
            }
        }
    }
    let (after, ()) = end(after)?;
    Ok((after, title))
}

/// The region a word stands for.
#[must_use]
pub fn region_of(word: &str) -> Option<Region> {
    match word {
        "uk" | "british" | "britain" | "gb" | "england" => Some(Region::British),
        "us" | "american" | "america" | "usa" => Some(Region::American),
        _ => None,
    }
}

/// Pieces: … and Parts: …
pub fn list(input: Tokens<'_>) -> Read<'_, Vec<NewName>> {
    let (rest, _) = (alt((word("pieces"), word("parts"))), colon).parse(input)?;
    cut(|i| {
        // An empty place between two commas does no harm.
        let (rest, _) = many0(comma).parse(i)?;
        let (rest, names) =
            separated_list1(many1(alt((comma, word("and")))), new_name).parse(rest)?;
        let (rest, _) = many0(comma).parse(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, names))
    })
    .parse(rest)
}

/// Bench remarks: …
pub fn bench_remarks(input: Tokens<'_>) -> Read<'_, Vec<Name>> {
    let (rest, _) = (words("bench remarks"), colon).parse(input)?;
    cut(|i| {
        let (rest, remarks) = separated_list1(many1(alt((comma, word("and")))), text).parse(i)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, remarks))
    })
    .parse(rest)
}

fn new_name(input: Tokens<'_>) -> Read<'_, NewName> {
    let (rest, name) = free(input, &["and", "or"], "a name")?;
    let (rest, bracket) = opt(bracket).parse(rest)?;
    let mut new = NewName {
        name,
        plural: None,
        region: None,
    };
    for (plural, name) in bracket.into_iter().flatten() {
        if plural {
            new.plural = Some(name);
        } else {
            new.region = Some((region_of(&name.text), name));
        }
    }
    Ok((rest, new))
}

/// "(plural feet)", "(US)", "(US; plural leaves)".
fn bracket(input: Tokens<'_>) -> Read<'_, Vec<(bool, Name)>> {
    let separator = || alt((comma, sort(Sort::Semicolon, "a semicolon")));
    delimited(
        sort(Sort::Open, "a bracket"),
        cut(separated_list1(
            separator(),
            alt((
                map(
                    preceded(word("plural"), |i| free(i, &[], "a plural")),
                    |n| (true, n),
                ),
                map(|i| free(i, &[], "a region or plural"), |n| (false, n)),
            )),
        )),
        cut(sort(Sort::Close, "a closing bracket")),
    )
    .parse(input)
}

/// For … we also say …
pub fn synonym(input: Tokens<'_>) -> Read<'_, (Name, Vec<NewName>)> {
    let (rest, _) = word("for")(input)?;
    cut(|i| {
        let (rest, name) = free(i, &["we"], "a part, sign or fault")?;
        let (rest, _) = words("we also say")(rest)?;
        let (rest, others) =
            separated_list1(many1(alt((comma, word("or")))), new_name).parse(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, (name, others)))
    })
    .parse(rest)
}

/// Never take … for …
pub fn wrong_friend(input: Tokens<'_>) -> Read<'_, (Vec<Name>, Name)> {
    let (rest, _) = words("never take")(input)?;
    cut(|i| {
        let one = |i| free(i, &["or", "for"], "a word");
        let (rest, typed) = separated_list1(many1(alt((comma, word("or")))), one).parse(i)?;
        let (rest, _) = word("for")(rest)?;
        let (rest, meant) = free(rest, &[], "a sign or fault")?;
        let (rest, ()) = end(rest)?;
        Ok((rest, (typed, meant)))
    })
    .parse(rest)
}

/// A … is a kind of …
pub fn kind_of(input: Tokens<'_>) -> Read<'_, (Name, Name)> {
    let (rest, _) = article(input)?;
    cut(|i| {
        let (rest, special) = noun(i)?;
        let (rest, _) = be(rest)?;
        let (rest, _) = words("a kind of")(rest)?;
        let (rest, general) = noun(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, (special, general)))
    })
    .parse(rest)
}

/// A … has …
pub fn makeup(input: Tokens<'_>) -> Read<'_, (Name, Vec<NewMember>)> {
    let (rest, _) = article(input)?;
    cut(|i| {
        let (rest, owner) = noun(i)?;
        let (rest, _) = has(rest)?;
        let (rest, members) = separated_list1(
            alt((comma, word("and"))),
            preceded(opt(word("and")), member),
        )
        .parse(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, (owner, members)))
    })
    .parse(rest)
}

fn member(input: Tokens<'_>) -> Read<'_, NewMember> {
    let (rest, (least, most)) = alt((
        map(
            (whole, opt(preceded(word("to"), cut(whole)))),
            |(low, high)| (low, high.unwrap_or(low)),
        ),
        value((1, 1), article),
        value((0, 0), word("no")),
    ))
    .parse(input)?;
    let (rest, noun) = cut(noun).parse(rest)?;
    let (rest, inside) = opt(delimited(
        sort(Sort::Open, "a bracket"),
        cut((
            opt(preceded(word("usually"), cut(whole))),
            opt(alt((sort(Sort::Semicolon, "a semicolon"), comma))),
            opt(counted_from),
            opt(alt((sort(Sort::Semicolon, "a semicolon"), comma))),
            opt(separated_list1(alt((comma, word("and"))), |i| {
                free(i, &["and"], "a name")
            })),
        )),
        cut(sort(Sort::Close, "a closing bracket")),
    ))
    .parse(rest)?;
    let (usual, from, names) = match inside {
        Some((usual, _, from, _, names)) => (usual, from, names.unwrap_or_default()),
        None => (None, None, Vec::new()),
    };
    Ok((
        rest,
        NewMember {
            least,
            most,
            usual,
            noun,
            names,
            from,
            at: input.span_to(&rest),
        },
    ))
}

/// "from the top": where parts are counted from.
fn counted_from(input: Tokens<'_>) -> Read<'_, CountedFrom> {
    preceded(
        words("from the"),
        alt((
            value(CountedFrom::Top, word("top")),
            value(CountedFrom::Bottom, word("bottom")),
            value(CountedFrom::Left, word("left")),
            value(CountedFrom::Right, word("right")),
            value(CountedFrom::Front, word("front")),
            value(CountedFrom::Back, word("back")),
        )),
    )
    .parse(input)
}

/// By … we mean …
pub fn scale<'a>(input: Tokens<'a>) -> Read<'a, (Strength, Span, (u32, u32))> {
    let (rest, _) = word("by")(input)?;
    cut(|i: Tokens<'a>| {
        let (rest, strength) = strength(i)?;
        let at = i.span_to(&rest);
        let (rest, _) = words("we mean")(rest)?;
        let (rest, (n, _, of)) = (whole, alt((word("in"), word("of"))), whole).parse(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, (strength, at, (n, of))))
    })
    .parse(rest)
}

/// How something is found out.
pub fn sense(input: Tokens<'_>) -> Read<'_, Sense> {
    alt((
        value(Sense::See, word("see")),
        value(Sense::Feel, word("feel")),
        value(Sense::Hear, word("hear")),
        value(Sense::Smell, word("smell")),
        value(Sense::Ask, word("ask")),
        value(Sense::Measure, word("measure")),
        value(Sense::Count, word("count")),
    ))
    .parse(input)
}

/// The words that end what is said when it is being declared.
fn new_phrase(input: Tokens<'_>) -> Read<'_, Name> {
    free(input, &[], "what is said of it")
}

/// You can …
pub fn sign(input: Tokens<'_>) -> Read<'_, (Sense, NewSign)> {
    let (rest, _) = words("you can")(input)?;
    cut(|i| {
        let (rest, sense) = sense(i)?;
        let (rest, asks) = alt((
            preceded(word("whether"), cut(whether)),
            preceded(word("which"), cut(which)),
            preceded(word("how"), cut(how_much)),
        ))
        .parse(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, (sense, asks)))
    })
    .parse(rest)
}

fn whether(input: Tokens<'_>) -> Read<'_, NewSign> {
    let (rest, noun) = preceded(alt((article, value((), word("the")))), noun).parse(input)?;
    let (rest, verb) = alt((
        value(Verb::Is, be),
        value(Verb::Shows, alt((word("shows"), word("show")))),
    ))
    .parse(rest)?;
    let (rest, phrase) = new_phrase(rest)?;
    Ok((rest, NewSign::Whether { noun, verb, phrase }))
}

fn which(input: Tokens<'_>) -> Read<'_, NewSign> {
    let (rest, attribute) = free(input, &["a", "an", "the"], "what differs")?;
    let (rest, noun) = preceded(alt((article, value((), word("the")))), noun).parse(rest)?;
    let (rest, _) = (has, colon).parse(rest)?;
    let value_name = |i| free(i, &["or"], "a value");
    let (rest, values) = or_list(rest, value_name)?;
    Ok((
        rest,
        NewSign::Which {
            attribute,
            noun,
            values,
        },
    ))
}

/// "blunt, gimlet-point or cross-head".
fn or_list<'a>(
    input: Tokens<'a>,
    one: impl Fn(Tokens<'a>) -> Read<'a, Name>,
) -> Read<'a, Vec<Name>> {
    (
        &one,
        many0(preceded(
            alt((
                map((comma, opt(word("or"))), |_| ()),
                map(word("or"), |_| ()),
            )),
            cut(&one),
        )),
    )
        .map(|(first, mut more)| {
            more.insert(0, first);
            more
        })
        .parse(input)
}

fn how_much(input: Tokens<'_>) -> Read<'_, NewSign> {
    let (rest, word_) = how(input)?;
    let (rest, noun) = preceded(alt((article, value((), word("the")))), noun).parse(rest)?;
    let (rest, lasting) = how_verb(&word_, rest)?;
    let none = Name {
        text: String::new(),
        at: noun.at,
    };
    let (rest, phrase) = opt(new_phrase).parse(rest)?;
    if let Ok((rest, _)) = colon(rest) {
        let (rest, degrees) = or_list(rest, |i| free(i, &["or"], "a degree"))?;
        let phrase = phrase.unwrap_or(none);
        let degrees = NewSign::Degrees {
            word: word_,
            noun,
            phrase,
            degrees,
        };
        return Ok((rest, degrees));
    }
    let (unit_from, _) = (comma, word("in")).parse(rest)?;
    let (range_from, unit) = unit(unit_from)?;
    let (rest, (_, _, (least, _), _, (most, _))) =
        (comma, word("from"), number, word("to"), number).parse(range_from)?;
    Ok((
        rest,
        NewSign::HowMuch {
            word: word_,
            noun,
            lasting,
            phrase: phrase.unwrap_or(none),
            unit,
            unit_at: unit_from.span_to(&range_from),
            least,
            most,
            range_at: range_from.take_from(1).span_to(&rest),
        },
    ))
}

/// You can count the …
pub fn count_sign(input: Tokens<'_>) -> Read<'_, (Name, Name)> {
    let (rest, _) = words("you can count the")(input)?;
    cut(|i| {
        let (rest, part) = noun(i)?;
        let (rest, owner) =
            preceded((word("of"), alt((article, value((), word("the"))))), noun).parse(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, (part, owner)))
    })
    .parse(rest)
}

/// A … may be … without showing it
pub fn hidden(input: Tokens<'_>) -> Read<'_, (Name, Verb, Name)> {
    let (rest, _) = article(input)?;
    cut(|i| {
        let (rest, owner) = noun(i)?;
        let (rest, _) = word("may")(rest)?;
        let (rest, verb) = alt((
            value(Verb::Is, word("be")),
            value(Verb::Shows, word("show")),
        ))
        .parse(rest)?;
        let (rest, phrase) = free(rest, &["without"], "what is said of it")?;
        let (rest, _) = words("without showing it")(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, (owner, verb, phrase)))
    })
    .parse(rest)
}

/// A … counts as … when it is …: the part, the name, and the measure.
pub fn counts_as(input: Tokens<'_>) -> Read<'_, (Name, Name, crate::syntax::Clause)> {
    let (rest, _) = article(input)?;
    cut(|i| {
        let (rest, owner) = noun(i)?;
        let (rest, _) = alt((words("counts as"), words("count as"))).parse(rest)?;
        let (rest, phrase) = free(rest, &["when"], "what it counts as")?;
        let (rest, _) = word("when")(rest)?;
        let (rest, clause) = crate::grammar::clause::clause(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, (owner, phrase, clause)))
    })
    .parse(rest)
}

/// Unless we say otherwise, a fault is there on its own: gives whether it is
/// about faults.
pub fn default(input: Tokens<'_>) -> Read<'_, bool> {
    let (rest, _) = words("unless we say otherwise")(input)?;
    cut(|i| {
        let (rest, fault) = preceded(
            (opt(comma), article),
            alt((value(true, word("fault")), value(false, word("sign")))),
        )
        .parse(i)?;
        let (rest, _) = words("is there")(rest)?;
        let (rest, ()) = end(rest)?;
        Ok((rest, fault))
    })
    .parse(rest)
}

/// The value of `On its own:`.
pub fn own_chance(input: Tokens<'_>) -> Read<'_, Frequency> {
    let (rest, often) = loose_frequency(input)?;
    let (rest, ()) = end(rest)?;
    Ok((rest, often))
}

/// Source …: its name.
pub fn source<'a>(input: Tokens<'a>) -> Read<'a, Name> {
    let (rest, _) = word("source")(input)?;
    cut(|i: Tokens<'a>| {
        let count = i.rest.iter().take_while(|t| t.sort != Sort::Colon).count();
        if count == 0 {
            return i.fail("the name of the source");
        }
        let (rest, name) = named(i, count);
        let (rest, _) = colon(rest)?;
        Ok((rest, name))
    })
    .parse(rest)
}
