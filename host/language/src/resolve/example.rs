//! Examples: a piece, what was found on it, and what must follow.

use std::collections::HashMap;

use nom::Parser;
use nom::branch::alt;
use nom::combinator::{cut, map, opt, value};
use nom::multi::separated_list1;
use nom::sequence::preceded;

use crate::entry::{Entry, Opener};
use crate::grammar::answer::{Answer, Finding, Stated, answer, one_part};
use crate::grammar::name::{article, free, noun};
use crate::input::{Read, Tokens, comma, end, word, words};
use crate::message::{Message, Problem};
use crate::model::{
    Example, Expect, Expected, Fact, Found, KindId, PIECE, PartRef, PieceOrder, StateId, Strength,
    Verb, Which,
};
use crate::number::{whole, year};
use crate::resolve::Reader;
use crate::resolve::change::Changes;
use crate::resolve::look::{Done, Look, verb_word};
use crate::span::Span;
use crate::syntax::Name;
use crate::token::{Sort, Token};
use crate::words::degree_words;

/// A piece as ordered: its kind and numbers of parts.
pub type NewPiece = (Name, Vec<(u32, Name, Span)>);

/// "chest of drawers with 4 drawers and 2 locks"
pub fn piece(input: Tokens<'_>) -> Read<'_, NewPiece> {
    let (rest, _) = opt(alt((article, value((), word("the"))))).parse(input)?;
    let (rest, kind) = noun(rest)?;
    let (rest, counts) = opt(preceded(
        word("with"),
        cut(separated_list1(
            alt((
                map((comma, opt(word("and"))), |_| ()),
                map(word("and"), |_| ()),
            )),
            count,
        )),
    ))
    .parse(rest)?;
    let (rest, ()) = end(rest)?;
    Ok((rest, (kind, counts.unwrap_or_default())))
}

fn count(input: Tokens<'_>) -> Read<'_, (u32, Name, Span)> {
    let (rest, number) = alt((whole, value(0, word("no")), value(1, article))).parse(input)?;
    let (rest, part) = noun(rest)?;
    Ok((rest, (number, part, input.span_to(&rest))))
}

/// What an example expects, as written.
enum NewExpect {
    Plan(bool, Name),
    TakeCare(bool),
    Stop(bool),
    NoReason(Answer),
    Chance(Answer),
    Year(bool, (i64, Span)),
}

fn expect(input: Tokens<'_>) -> Read<'_, NewExpect> {
    let (rest, _) = word("expect")(input)?;
    cut(expected).parse(rest)
}

fn expected(input: Tokens<'_>) -> Read<'_, NewExpect> {
    let (rest, no) = opt(word("no")).parse(input)?;
    let yes = no.is_none();
    if let Ok((rest, _)) = words("reason for")(rest)
        && no.is_some()
    {
        let (rest, found) = cut(answer).parse(rest)?;
        return Ok((rest, NewExpect::NoReason(found)));
    }
    if rest.next_is("plan") {
        let (rest, job) = preceded(words("plan to"), cut(|i| free(i, &[], "a job"))).parse(rest)?;
        let (rest, ()) = end(rest)?;
        return Ok((rest, NewExpect::Plan(yes, job)));
    }
    if let Ok((rest, _)) = words("take care")(rest) {
        let (rest, ()) = end(rest)?;
        return Ok((rest, NewExpect::TakeCare(yes)));
    }
    if let Ok((rest, _)) = word("stop")(rest) {
        let (rest, ()) = end(rest)?;
        return Ok((rest, NewExpect::Stop(yes)));
    }
    if yes && rest.next_is("date") {
        let (rest, earlier) = preceded(
            words("date not"),
            cut(alt((
                value(true, words("earlier than")),
                value(false, words("later than")),
            ))),
        )
        .parse(rest)?;
        let (rest, year) = cut(year).parse(rest)?;
        let (rest, ()) = end(rest)?;
        return Ok((rest, NewExpect::Year(earlier, year)));
    }
    if !yes {
        return rest.fail("plan to");
    }
    let _ = one_part(rest)?;
    map(answer, NewExpect::Chance).parse(rest)
}

/// The words of an example's title, without the full stop.
pub(super) fn title(entry: &Entry) -> &[Token] {
    let tokens = &entry.sentence;
    let end = (2..tokens.len())
        .find(|&i| begins_row(tokens, i))
        .unwrap_or(tokens.len());
    let mut title = tokens.get(2..end).unwrap_or_default();
    while let [before @ .., last] = title
        && last.sort == Sort::Stop
    {
        title = before;
    }
    title
}

/// Whether a line that begins "Given" or "Expect" begins here.
fn begins_row(tokens: &[Token], index: usize) -> bool {
    (tokens[index].is("given") || tokens[index].is("expect"))
        && (tokens[index].first || tokens[index - 1].sort == Sort::Stop)
}

impl Reader<'_> {
    /// `Example: …`
    pub(super) fn examples(&mut self, entries: &[Entry], changes: &Changes) {
        for (index, entry) in entries.iter().enumerate() {
            if entry.opener == Opener::Example && !changes.is_dropped(index) {
                self.example(entry);
            }
        }
    }

    fn example(&mut self, entry: &Entry) {
        let _ = self.particulars(entry);
        let tokens = &entry.sentence;
        let starts: Vec<usize> = (2..tokens.len())
            .filter(|&i| begins_row(tokens, i))
            .collect();
        let title = match title(entry) {
            [first, .., last] => self.written(first.at.to(last.at)),
            [only] => self.written(only.at),
            [] => String::new(),
        };
        let mut piece: Option<PieceOrder> = None;
        let mut piece_spoilt = false;
        let mut given: Vec<Fact> = Vec::new();
        let mut expect_rows: Vec<Expect> = Vec::new();
        let rows = starts.iter().enumerate().map(|(index, &from)| {
            let to = starts.get(index + 1).copied().unwrap_or(tokens.len());
            &tokens[from..to]
        });
        let is_piece = |row: &&[Token]| !row[0].is("expect") && names_piece(row);
        let (pieces, rows): (Vec<&[Token]>, Vec<&[Token]>) = rows.partition(is_piece);
        for row in pieces {
            let done = self.piece_row(entry, row);
            match self.keep(entry, done) {
                Some(order) => piece = Some(order),
                None => piece_spoilt = true,
            }
        }
        let kind = piece.as_ref().map(|piece| piece.kind);
        for row in rows {
            if row[0].is("expect") {
                let done = self.expect_row(entry, row, kind);
                expect_rows.extend(self.keep(entry, done));
            } else {
                let done = self.given_row(entry, row, kind);
                given.extend(self.keep(entry, done).into_iter().flatten());
            }
        }
        let Some(piece) = piece else {
            if !piece_spoilt {
                let at = tokens.get(1).map_or(entry.at, |t| tokens[0].at.to(t.at));
                self.fail(
                    entry,
                    Message::new(
                        at,
                        Problem::Incomplete {
                            read: "Example",
                            wants: "\"Given\" and a piece",
                            example: "\"Given a chest of drawers with 3 drawers\"",
                        },
                    ),
                );
            }
            return;
        };
        let parts: Vec<&PartRef> = given
            .iter()
            .map(|f| &f.part)
            .chain(expect_rows.iter().filter_map(|e| match &e.what {
                Expected::NoReason(part, _) | Expected::Chance(part, _, _) => Some(part),
                _ => None,
            }))
            .collect();
        let missing = self.with_look(|look| {
            parts
                .iter()
                .find_map(|part| look.missing_part(&piece, &given, part))
        });
        if let Some(message) = missing {
            self.fail(entry, message);
        }
        let clash = self.with_look(|look| look.contradiction(&given));
        if let Some(message) = clash {
            self.fail(entry, message);
        }
        self.model.examples.push(Example {
            title,
            piece,
            given,
            expect: expect_rows,
            at: entry.at,
        });
    }

    fn piece_row(&mut self, entry: &Entry, row: &[Token]) -> Done<PieceOrder> {
        let (kind, counts) = self.parse_tokens(entry, &row[1..], piece)?;
        self.with_look(|look| look.piece_order(&kind, &counts))
    }

    fn given_row(
        &mut self,
        entry: &Entry,
        row: &[Token],
        piece: Option<KindId>,
    ) -> Done<Vec<Fact>> {
        let found = self.parse_tokens(entry, &row[1..], answer)?;
        let at = sentence_span(&row[1..]);
        self.with_look(|look| Look { piece, ..*look }.facts(&found, at))
    }

    fn expect_row(&mut self, entry: &Entry, row: &[Token], piece: Option<KindId>) -> Done<Expect> {
        let at = sentence_span(&row[1..]);
        let what = match self.parse_tokens(entry, row, expect)? {
            NewExpect::Plan(yes, job) => Expected::Plan {
                job: self.job(&job)?,
                yes,
            },
            NewExpect::TakeCare(yes) => Expected::TakeCare(yes),
            NewExpect::Stop(yes) => Expected::Stop(yes),
            NewExpect::NoReason(found) => {
                let (part, state) =
                    self.with_look(|look| Look { piece, ..*look }.part_state(&found))?;
                Expected::NoReason(part, state)
            }
            NewExpect::Chance(found) => {
                let often = match &found {
                    Answer::Found {
                        finding: Finding::Is(Stated { often, .. }),
                        ..
                    } => *often,
                    _ => None,
                };
                let (part, state) =
                    self.with_look(|look| Look { piece, ..*look }.part_state(&found))?;
                let often = match often {
                    Some(often) => self.how_often(&often)?,
                    None => self.strength(Strength::Always),
                };
                Expected::Chance(part, state, often)
            }
            NewExpect::Year(earlier, year) => {
                if earlier {
                    Expected::NotEarlier(self.year(year, "not earlier than")?)
                } else {
                    Expected::NotLater(self.year(year, "not later than")?)
                }
            }
        };
        Ok(Expect { what, at })
    }
}

/// Whether a Given line names the piece: no verb stands in it.
fn names_piece(row: &[Token]) -> bool {
    let verbs = [
        "is", "are", "shows", "show", "has", "have", "does", "do", "cannot", "looks", "look",
        "can", "was", "were",
    ];
    !row.iter().any(|t| verbs.iter().any(|v| t.is(v)))
}

fn sentence_span(tokens: &[Token]) -> Span {
    let last = tokens
        .iter()
        .rev()
        .find(|t| t.sort != Sort::Stop)
        .or(tokens.last());
    match (tokens.first(), last) {
        (Some(first), Some(last)) => first.at.to(last.at),
        _ => Span::default(),
    }
}

impl Look<'_> {
    /// "This example has 1 fall, so there is no fall 3."
    fn missing_part(&self, piece: &PieceOrder, given: &[Fact], part: &PartRef) -> Option<Message> {
        for (index, step) in part.steps.iter().enumerate() {
            let kind = step.kind;
            if kind == PIECE || kind == piece.kind {
                continue;
            }
            let piece_a = self.a(piece.kind);
            if !self.tree.is_below(kind, piece.kind) {
                let has = format!("{piece_a}, which has no {}", self.name(kind));
                return Some(Message {
                    help: None,
                    ..Message::new(
                        part.at,
                        Problem::NoSuchPartInExample {
                            has: &has,
                            part: self.name(kind),
                            piece: None,
                            number: None,
                            plural: None,
                        },
                    )
                });
            }
            let Which::Number(number) = step.which else {
                continue;
            };
            let owner = part.steps.get(index + 1).map(|s| s.kind);
            let most = self.count_in(piece, given, owner, kind);
            if u32::from(number) <= most {
                continue;
            }
            let name = if most == 1 {
                self.name(kind)
            } else {
                self.plural(kind)
            };
            let has = format!("{most} {name}");
            let wanted = format!("{} {number}", self.name(kind));
            return Some(Message::new(
                part.at,
                Problem::NoSuchPartInExample {
                    has: &has,
                    part: &wanted,
                    piece: Some(&piece_a),
                    number: Some(&number.to_string()),
                    plural: Some(self.plural(kind)),
                },
            ));
        }
        None
    }

    /// How many parts of a kind an owner has in an example, at most.
    fn count_in(
        &self,
        piece: &PieceOrder,
        given: &[Fact],
        owner: Option<KindId>,
        kind: KindId,
    ) -> u32 {
        let counted = given
            .iter()
            .filter_map(|f| match f.found {
                Found::Count { part, number } if part == kind => Some(u32::from(number)),
                _ => None,
            })
            .max();
        let ordered = piece
            .counts
            .iter()
            .find(|(k, _)| *k == kind)
            .map(|(_, n)| u32::from(*n));
        let usual = || {
            let owners = match owner {
                Some(owner) if self.tree.own_member(owner, kind).is_some() => vec![owner],
                _ => {
                    let mut owners = self.tree.owners(kind);
                    owners.retain(|o| *o == piece.kind || self.tree.is_below(*o, piece.kind));
                    owners.push(piece.kind);
                    owners
                }
            };
            owners
                .iter()
                .filter_map(|o| self.tree.own_member(*o, kind))
                .map(|m| u32::from(m.usual))
                .max()
                .unwrap_or(0)
        };
        match (counted, ordered) {
            (Some(a), Some(b)) => a.max(b),
            (Some(a), None) => a.max(usual()),
            (None, Some(b)) => b,
            (None, None) => usual(),
        }
    }

    /// "Lines 112 and 113 say that the same drawer is and is not stiff."
    fn contradiction(&self, given: &[Fact]) -> Option<Message> {
        let mut seen: HashMap<(String, String), (String, Span)> = HashMap::new();
        for fact in given {
            let place = format!("{:?}", fact.part.steps);
            let (what, words) = match &fact.found {
                Found::State { state, yes, .. } => {
                    (format!("state {}", state.0), self.state_words(*state, *yes))
                }
                Found::Measure { sign, ticks } => {
                    let sign_words = self.sign_words(*sign);
                    (
                        format!("sign {}", sign.0),
                        match &self.sign(*sign).asks {
                            crate::model::Asks::HowMuch { unit, phrase, .. } => format!(
                                "is {phrase} {} {}",
                                crate::number::in_unit(*ticks, *unit),
                                crate::number::unit_name(*unit)
                            ),
                            _ => sign_words,
                        },
                    )
                }
                Found::Choice { sign, value } => (
                    format!("sign {}", sign.0),
                    match &self.sign(*sign).asks {
                        crate::model::Asks::Which { values, .. } => values
                            .get(usize::from(*value))
                            .map_or_else(String::new, |v| format!("is {v}")),
                        _ => String::new(),
                    },
                ),
                Found::Degree {
                    sign, degree, than, ..
                } => (
                    format!("sign {}", sign.0),
                    format!(
                        "is {}",
                        degree_words(&self.sign(*sign).asks, *than, *degree)
                    ),
                ),
                Found::Count { part, number } => (
                    format!("count {}", part.0),
                    format!("has {number} {}", self.plural(*part)),
                ),
                _ => continue,
            };
            let Some((before, at)) = seen.insert((place, what), (words.clone(), fact.at)) else {
                continue;
            };
            if before == words {
                continue;
            }
            let part = fact
                .part
                .steps
                .first()
                .map_or("part", |s| self.name(s.kind));
            let line = crate::words::capital(&self.line(at, fact.at));
            let other = self.line(fact.at, fact.at);
            return Some(
                Message::new(
                    fact.at,
                    Problem::GivenBothWays {
                        line: &line,
                        otherline: &other,
                        part,
                        one: &before,
                        other: &words,
                    },
                )
                .with_also(at),
            );
        }
        None
    }

    fn state_words(&self, id: StateId, yes: bool) -> String {
        let state = self.state(id);
        match (state.verb, yes) {
            (Verb::Shows, false) => format!("does not show {}", state.phrase),
            (verb, true) => format!("{} {}", verb_word(verb), state.phrase),
            (verb, false) => format!("{} not {}", verb_word(verb), state.phrase),
        }
    }
}
