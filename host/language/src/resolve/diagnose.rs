//! What to say about a sentence that could not be read.

use crate::entry::{Opener, starts};
use crate::input::Trail;
use crate::message::{Message, Problem};
use crate::near::nearest;
use crate::resolve::look::Look;
use crate::span::Span;
use crate::syntax::Name;
use crate::token::{Sort, Token};
use crate::vocab::{is_closed, join};
use crate::words::{capital, cases};

/// The message for a sentence whose reading was lost.
#[must_use]
pub fn diagnose(
    opener: Option<Opener>,
    example: &str,
    tokens: &[Token],
    trail: &Trail,
    look: &Look<'_>,
    written: impl Fn(Span) -> String,
) -> Message {
    let (lost, mut wants) = trail.furthest();
    let lost = lost.min(tokens.len());
    if let Some(message) = known_slip(opener, tokens, lost, &wants, look, &written) {
        return message;
    }
    if let Some(message) = small_word(tokens, lost, &wants, look) {
        return message;
    }
    if let Some(message) = near_want(tokens, lost, &wants, look) {
        return message;
    }
    if wants.len() > 1 {
        wants.retain(|w| *w != "a comma" && *w != "the end of the sentence");
    }
    // How often may stand in many places; it is seldom what is missing.
    let strength = |want: &str| {
        want == "in"
            || want == "how often"
            || crate::grammar::name::STRENGTHS
                .iter()
                .any(|(name, _)| *name == want)
    };
    if wants.iter().any(|w| !strength(w)) {
        wants.retain(|w| !strength(w));
    }
    wants.sort_by_key(|w| is_literal(w) && *w != "then");
    wants.truncate(6);
    let wanted = wants
        .iter()
        .map(|w| describe(w))
        .collect::<Vec<_>>()
        .join(" or ");
    let read = read_so_far(tokens, lost, &written);
    let Some(token) = tokens.get(lost) else {
        let at = tokens.last().map_or(Span::default(), |t| t.at);
        return Message::new(
            at,
            Problem::Incomplete {
                read: &read,
                wants: &wanted,
                example,
            },
        );
    };
    let mut at = token.at;
    if token.sort == Sort::Word {
        // A word that is not known, rather than a known word out of place.
        if !is_closed(&token.text) && look.vocab.noun_length(&tokens[lost..]) == 0 {
            if wants.iter().all(|w| strength(w)) {
                let words = look.scale_words();
                return Message::new(
                    at,
                    Problem::UnknownStrength {
                        word: &token.text,
                        words: &words,
                    },
                );
            }
            return Message::new(
                at,
                Problem::UnknownWord {
                    word: &token.text,
                    near: None,
                    figure: None,
                    read: Some(&read),
                    wants: Some(&wanted),
                },
            );
        }
        let known = look.vocab.noun_length(&tokens[lost..]).max(1);
        at = at.to(tokens[lost + known - 1].at);
    }
    if lost == 0 {
        return Message::new(
            at,
            Problem::Unreadable {
                read: None,
                wants: &wanted,
                example: Some(example),
            },
        );
    }
    Message::new(
        at,
        Problem::Unreadable {
            read: Some(&read),
            wants: &wanted,
            example: Some(example),
        },
    )
}

/// A part without "a", "its" or "the" before it; "is" after the word for how often.
fn small_word(
    tokens: &[Token],
    lost: usize,
    wants: &[&'static str],
    look: &Look<'_>,
) -> Option<Message> {
    let token = tokens.get(lost)?;
    let noun = look.vocab.noun_length(&tokens[lost..]);
    if noun > 0 && wants.contains(&"its") && wants.contains(&"the") {
        let part = join(&tokens[lost..lost + noun]);
        let at = token.at.to(tokens[lost + noun - 1].at);
        let a_part = &crate::words::a(&part);
        let part = &part;
        return Some(Message::new(at, Problem::ArticleMissing { part, a_part }));
    }
    let before = lost.checked_sub(1).and_then(|at| tokens.get(at))?;
    let is_often = crate::grammar::name::STRENGTHS
        .iter()
        .any(|(word, _)| before.is(word));
    if is_often && (token.is("is") || token.is("are")) && wants.contains(&"shows") {
        let right = format!("{} {}", token.text, before.text);
        let at = before.at.to(token.at);
        let problem = Problem::OftenBeforeIs { right: &right };
        return Some(Message::new(at, problem).with_fix(at, right.clone(), true));
    }
    None
}

/// A word that is near to one of those looked for.
fn near_want(
    tokens: &[Token],
    lost: usize,
    wants: &[&'static str],
    look: &Look<'_>,
) -> Option<Message> {
    if tokens.get(lost).is_none_or(|t| is_closed(&t.text)) {
        return None;
    }
    let candidates: Vec<&str> = wants.iter().copied().filter(|w| is_literal(w)).collect();
    let mut best: Option<(usize, crate::near::Near<'_>)> = None;
    for count in 1..=3 {
        let run = tokens.get(lost..lost + count)?;
        if run.iter().any(|t| t.sort != Sort::Word) {
            break;
        }
        let words = join(run);
        let same: Vec<&str> = candidates
            .iter()
            .copied()
            .filter(|c| c.split(' ').count() == count)
            .collect();
        if let Some(near) = nearest(&words, same)
            && best.as_ref().is_none_or(|(_, b)| near.slips < b.slips)
        {
            best = Some((count, near));
        }
        if tokens.len() <= lost + count {
            break;
        }
    }
    let (count, near) = best?;
    let at = tokens[lost].at.to(tokens[lost + count - 1].at);
    let word = join(&tokens[lost..lost + count]);
    let joined = near.joined();
    let chance = crate::grammar::name::STRENGTHS
        .iter()
        .find(|(name, _)| *name == near.words[0])
        .and_then(|(_, s)| look.model.scale.iter().find(|(of, _)| of == s))
        .map(|(_, chance)| cases(*chance));
    let problem = Problem::UnknownWord {
        word: &word,
        near: Some(&joined),
        figure: chance.as_deref().filter(|_| near.words.len() == 1),
        read: None,
        wants: None,
    };
    Some(Message::new(at, problem).with_fix(at, near.words[0], near.sure()))
}

/// Whether what was looked for is a word as written, not a description.
fn is_literal(want: &str) -> bool {
    !(want.starts_with("a ")
        || want.starts_with("the ")
        || want.starts_with("what")
        || want.starts_with("how often")
        || want.contains('"')
        || want.contains(" or "))
}

fn describe(want: &str) -> String {
    if is_literal(want) {
        format!("\"{want}\"")
    } else {
        want.to_owned()
    }
}

/// The last few words that were read, as written.
fn read_so_far(tokens: &[Token], lost: usize, written: &impl Fn(Span) -> String) -> String {
    let from = lost.saturating_sub(4);
    match (
        tokens.get(from),
        lost.checked_sub(1).and_then(|i| tokens.get(i)),
    ) {
        (Some(first), Some(last)) => {
            let words = written(first.at.to(last.at));
            if from > 0 {
                format!("… {words}")
            } else {
                words
            }
        }
        _ => String::new(),
    }
}

/// Slips that have a message of their own.
fn known_slip(
    opener: Option<Opener>,
    tokens: &[Token],
    lost: usize,
    wants: &[&'static str],
    look: &Look<'_>,
    written: &impl Fn(Span) -> String,
) -> Option<Message> {
    let after = tokens.get(lost);
    if matches!(opener, Some(Opener::Plan | Opener::If))
        && let Some(at) = (0..tokens.len()).find(|&at| starts(&tokens[at..], "instead of"))
    {
        return Some(Message::new(
            tokens[at].at.to(tokens[at + 1].at),
            Problem::InsteadOfElsewhere {
                example: Opener::StandIn.example(),
            },
        ));
    }
    if let Some(message) = comma_missing(opener, tokens) {
        return Some(message);
    }
    if opener == Some(Opener::If)
        && let Some(at) = is_later(tokens)
    {
        let example = "A base that shows odd castors has a later castor.";
        return Some(Message::new(at, Problem::LaterOfSeveral { example }));
    }
    if opener == Some(Opener::Relative)
        && after.is_some()
        && starts(tokens.get(lost + 1..).unwrap_or(&[]), "earlier than its")
    {
        let at = tokens[lost].at;
        return Some(Message::new(at, Problem::OnlyUsually).with_fix(at, "usually", false));
    }
    if opener == Some(Opener::If) && wants.contains(&"then") && !tokens.iter().any(|t| t.is("then"))
    {
        // A near word stands where "then" should.
        if let Some(message) = near_want(tokens, lost, &["then"], look) {
            return Some(message);
        }
        return Some(then_missing(tokens, lost, written));
    }
    if opener == Some(Opener::If)
        && !tokens.iter().any(|t| t.is("then") || t.is("that"))
        && lost >= tokens.len()
    {
        return Some(then_missing(tokens, lost, written));
    }
    if opener == Some(Opener::Hidden)
        && let Some(closed) = after.filter(|t| is_closed(&t.text) && wants.contains(&"without"))
    {
        return Some(Message::new(
            closed.at,
            Problem::SmallWordInName {
                word: &closed.text,
                each: Some("fault"),
            },
        ));
    }
    if opener == Some(Opener::Dating)
        && let Some(message) = usually_later(tokens, look)
    {
        return Some(message);
    }
    if opener == Some(Opener::Dating)
        && let Some(message) = year_without_not(tokens, lost)
    {
        return Some(message);
    }
    if opener == Some(Opener::Ladder) && wants.contains(&"more") && after.is_none() {
        return None;
    }
    // "blunt or gimlet-point" without "either"
    if lost >= 2 && after.is_some() && tokens[lost - 1].is("or") {
        let value = look.vocab.values.longest(&tokens[lost..]);
        if value > 0 {
            let next = join(&tokens[lost..lost + value]);
            let before = &tokens[lost - 2].text;
            let right = format!("either {before} or {next}");
            let at = tokens[lost - 2].at.to(tokens[lost + value - 1].at);
            return Some(Message::new(at, Problem::EitherMissing { right: &right }));
        }
    }
    None
}

/// "When a base is oak depending on how …": without a comma, all of it would be said of the
/// base.
fn comma_missing(opener: Option<Opener>, tokens: &[Token]) -> Option<Message> {
    let words = match opener {
        Some(Opener::Ladder) => "depending on how",
        Some(Opener::Exclusion) => "never plan to",
        _ => return None,
    };
    let at = (1..tokens.len()).find(|&at| starts(&tokens[at..], words))?;
    let (before, word) = (&tokens[at - 1], &tokens[at]);
    if before.sort == Sort::Comma || !starts(tokens, "when") {
        return None;
    }
    let place = Span {
        start: before.at.end,
        end: before.at.end,
        ..before.at
    };
    let message = Message::new(word.at, Problem::CommaMissing { words });
    Some(message.with_fix(place, ",", true))
}

/// "…, one of them is later".
fn is_later(tokens: &[Token]) -> Option<Span> {
    let is_it = |at: usize| {
        let verb = tokens[at].is("is") || tokens[at].is("are");
        let ends = tokens.get(at + 2).is_none_or(|t| !t.is("than"));
        verb && ends && tokens.get(at + 1).is_some_and(|t| t.is("later"))
    };
    let at = (0..tokens.len()).find(|&at| is_it(at))?;
    Some(tokens[at].at.to(tokens[at + 1].at))
}

/// "A lock is usually later than its door", which is said the other way round.
fn usually_later(tokens: &[Token], look: &Look<'_>) -> Option<Message> {
    let at = (0..tokens.len()).find(|&at| starts(&tokens[at..], "usually later than its"))?;
    let verb = at.checked_sub(1)?;
    let rest = tokens.get(at + 4..)?;
    let end = rest.iter().take_while(|t| t.sort == Sort::Word).count();
    let kind = |words: &[Token]| {
        let (first, last) = (words.first()?, words.last()?);
        let name = Name {
            text: join(words),
            at: first.at.to(last.at),
        };
        look.plain(&name).ok().map(|found| found.kind)
    };
    let part = tokens.get(1..verb).and_then(kind);
    let owner = rest.get(..end).and_then(kind);
    let right = part.zip(owner).and_then(|(part, owner)| {
        look.tree.member(owner, part)?;
        let owner = capital(&look.a(owner));
        Some(format!(
            "{owner} is usually earlier than its {}.",
            look.name(part)
        ))
    });
    Some(Message::new(
        tokens[at].at.to(tokens[at + 3].at),
        Problem::UsuallyLater {
            right: right.as_deref(),
        },
    ))
}

/// "later than 1846" where "not earlier than 1846" is meant.
fn year_without_not(tokens: &[Token], lost: usize) -> Option<Message> {
    let start = [lost, lost.saturating_sub(2)]
        .into_iter()
        .find(|&i| starts(tokens.get(i..).unwrap_or(&[]), "later than"))
        .or_else(|| starts(tokens.get(lost..)?, "earlier than").then_some(lost))?;
    let year = tokens.get(start + 2)?;
    if !matches!(year.sort, Sort::Number(_)) {
        return None;
    }
    let other = if tokens[start].is("later") {
        "earlier"
    } else {
        "later"
    };
    let at = tokens[start].at.to(year.at);
    let words = join(&tokens[start..=start + 2]);
    let right = format!("not {other} than {}", year.text);
    Some(
        Message::new(
            at,
            Problem::YearWithoutNot {
                words: &words,
                right: &right,
            },
        )
        .with_fix(at, right, false),
    )
}

/// "I think it goes here: …"
fn then_missing(tokens: &[Token], lost: usize, written: &impl Fn(Span) -> String) -> Message {
    let (Some(first), Some(last)) = (tokens.first(), tokens.last()) else {
        return Message::new(
            Span::default(),
            Problem::ThenMissing {
                before: None,
                after: None,
            },
        );
    };
    let place = tokens.get(lost).filter(|_| lost > 1);
    let Some(place) = place else {
        return Message::new(
            first.at,
            Problem::ThenMissing {
                before: None,
                after: None,
            },
        );
    };
    let before = written(first.at.to(tokens[lost - 1].at));
    let after = written(place.at.to(last.at));
    let after = after.trim_end_matches('.');
    let after = match after.char_indices().nth(40) {
        Some((cut, _)) => format!("{} …", after[..cut].trim_end()),
        None => after.to_owned(),
    };
    let at = Span {
        end: place.at.start,
        start: place.at.start,
        ..place.at
    };
    Message::new(
        place.at,
        Problem::ThenMissing {
            before: Some(&before),
            after: Some(&after),
        },
    )
    .with_fix(at, "then ", starts(&tokens[lost..], "it"))
}
