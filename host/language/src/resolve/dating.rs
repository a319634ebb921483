//! Ladders, datings and traces.

use crate::grammar::declare::region_of;
use crate::message::{Message, Problem};
use crate::model::{
    Condition, DateBound, Dating, KindId, Ladder, PIECE, Predicate, Reach, Region, Test,
};
use crate::resolve::Reader;
use crate::resolve::clause::Usage;
use crate::resolve::look::{Done, Look, refuse};
use crate::resolve::reach::Scene;
use crate::span::Span;
use crate::syntax::{Clause, Name, NewBound, Sentence, Thing};
use crate::words::{a, capital, list_or};

impl Reader<'_> {
    pub(super) fn ladder(&mut self, sentence: &Sentence, at: Span) -> Done<Ladder> {
        let Sentence::Ladder {
            when,
            word,
            noun,
            thing_at,
            phrase,
            rungs,
            more,
        } = sentence
        else {
            return refuse(
                at,
                Problem::Unreadable {
                    read: None,
                    wants: "a ladder",
                    example: None,
                },
            );
        };
        let (sign, when) = match (when, noun) {
            (Some(when), noun) => {
                let (sign, when) =
                    self.ladder_when(when, (noun.as_ref(), *thing_at), word, phrase.as_ref())?;
                (sign, Some(when))
            }
            (None, Some(noun)) => (self.sign_of_measure(noun, word, phrase.as_ref())?, None),
            (None, None) => return refuse(*thing_at, Problem::LadderOfIt { noun: None }),
        };
        let mut found = Vec::new();
        for (quantity, outcome) in rungs {
            let ticks = self.with_look(|look| look.ticks(sign, quantity))?;
            if let Some((before, _)) = found.last()
                && ticks <= *before
            {
                let index = found.len() - 1;
                let this = self.written(quantity.at);
                let before = self.written(rungs[index].0.at);
                return refuse(
                    quantity.at,
                    Problem::RungsNotRising {
                        this: &this,
                        before: &before,
                    },
                );
            }
            let job = outcome.as_ref().map(|job| self.job(job)).transpose()?;
            found.push((ticks, job));
        }
        let Some(more) = more else {
            let last = rungs.last().map_or(at, |(q, _)| q.at);
            let words = self.written(last);
            return refuse(last, Problem::NoLastRung { last: &words });
        };
        let more = more.as_ref().map(|job| self.job(job)).transpose()?;
        Ok(Ladder {
            when,
            sign,
            rungs: found,
            more,
            source: None,
            called: None,
            at,
        })
    }

    pub(super) fn dating(
        &mut self,
        noun: &Name,
        that: Option<&Clause>,
        bound: &NewBound,
        region: Option<&Name>,
        at: Span,
    ) -> Done<Dating> {
        let bound = match bound {
            NewBound::LaterThan(owner) => DateBound::LaterThan(self.built_into(noun, owner)?),
            NewBound::Lost(what) => DateBound::Lost(what.text.clone()),
            NewBound::NotEarlier(year) => {
                DateBound::NotEarlier(self.year(*year, "not earlier than")?)
            }
            NewBound::NotLater(year) => DateBound::NotLater(self.year(*year, "not later than")?),
            NewBound::Usually(from, to) => {
                let (first, last) = (self.year(*from, "from")?, self.year(*to, "to")?);
                if first > last {
                    let right = format!("from {last} to {first}");
                    return refuse(from.1.to(to.1), Problem::LargerFirst { right: &right });
                }
                DateBound::Usually(first, last)
            }
        };
        let region = match region {
            None => None,
            Some(name) => match region_of(&name.text) {
                Some(region) => Some(region),
                None => return refuse(name.at, Problem::UnknownRegion { word: &name.text }),
            },
        };
        self.with_look(|look| {
            let (subject, when) = look.some(noun, that)?;
            if when.is_none() {
                let rest = match &bound {
                    DateBound::LaterThan(_) => "is later than its …",
                    DateBound::Lost(_) => "has lost …",
                    _ => "",
                };
                if !rest.is_empty() {
                    let part = &look.model.kinds[subject.index()].name;
                    let right = format!("{} that … {rest}", capital(&a(part)));
                    return refuse(
                        noun.at,
                        Problem::HoldsOfEvery {
                            part,
                            right: &right,
                        },
                    );
                }
            }
            Ok(Dating {
                subject,
                when,
                bound,
                region: region as Option<Region>,
                evidence: crate::model::Evidence::default(),
                source: None,
                called: None,
                at,
            })
        })
    }

    /// The kind that a part is built into, if that is what the words after "its"
    /// mean.
    fn built_into(&mut self, noun: &Name, owner: &Name) -> Done<KindId> {
        self.with_look(|look| {
            let part = look.noun(noun)?.kind;
            let meant = look.plain(owner)?.kind;
            let name = |kind: KindId| look.model.kinds[kind.index()].name.clone();
            let is_piece = |kind: KindId| look.model.kinds[kind.index()].is_piece;
            let owners = look.tree.owners(part);
            if part == PIECE || is_piece(part) {
                let subject = capital(&a(&name(part)));
                return refuse(noun.at, Problem::PieceLater { subject: &subject });
            }
            let is_meant = |owner: &KindId| look.tree.is_kind_of(*owner, meant);
            if owners.iter().any(is_meant)
                || (meant == PIECE && owners.iter().any(|o| is_piece(*o)))
            {
                return Ok(meant);
            }
            let owners: Vec<String> = owners.into_iter().map(name).collect();
            let words: Vec<String> = owners
                .iter()
                .map(|owner| format!("\"later than its {owner}\""))
                .collect();
            refuse(
                owner.at,
                Problem::NotBuiltIntoIt {
                    subject: &capital(&a(&name(part))),
                    owners: &list_or(&owners.iter().map(|o| a(o)).collect::<Vec<_>>()),
                    words: &list_or(&words),
                },
            )
        })
    }

    /// A year of four digits that has been.
    pub(super) fn year(&self, (year, at): (i64, Span), before: &str) -> Done<u16> {
        let written = self.written(at);
        let now = this_year();
        let words = format!("{before} {written}");
        if written.len() != 4 || !(1000..=9999).contains(&year) {
            return refuse(
                at,
                Problem::NoSuchYear {
                    future: None,
                    words: Some(&words),
                    near: None,
                },
            );
        }
        if year <= now {
            return Ok(u16::try_from(year).unwrap_or(u16::MAX));
        }
        let near = format!("1{}", &written[1..]);
        if *near < *"1500" {
            return refuse(
                at,
                Problem::NoSuchYear {
                    future: Some(&words),
                    words: None,
                    near: None,
                },
            );
        }
        Err(Box::new(
            Message::new(
                at,
                Problem::NoSuchYear {
                    future: Some(&words),
                    words: None,
                    near: Some(&near),
                },
            )
            .with_fix(at, near.clone(), false),
        ))
    }
}

impl Look<'_> {
    /// "A screw that is loose", "a gimlet-point screw": the kind, and what it must be like.
    pub(super) fn some(
        &self,
        noun: &Name,
        that: Option<&Clause>,
    ) -> Done<(KindId, Option<Condition>)> {
        let found = self.noun(noun)?;
        let mut scene = Scene {
            subject: found.kind,
            opening: "A",
            opened: false,
            any_said: Vec::new(),
            had: Vec::new(),
            placed: None,
        };
        let that = that
            .map(|clause| {
                let mut clause = clause.clone();
                clause.thing = Thing::It(noun.at);
                self.clause(&mut scene, &clause, Usage::Trigger)
            })
            .transpose()?;
        let picked = found.choice.map(|(sign, value)| {
            Condition::Test(Test {
                whose: Reach::Own,
                what: Predicate::Choice {
                    sign,
                    values: vec![value],
                    yes: true,
                },
                at: noun.at,
            })
        });
        let when = match (picked, that) {
            (Some(one), Some(other)) => Some(Condition::All(vec![one, other])),
            (one, other) => one.or(other),
        };
        Ok((found.kind, when))
    }
}

/// The year it is.
fn this_year() -> i64 {
    let now = std::time::SystemTime::now()
        .duration_since(std::time::UNIX_EPOCH)
        .map_or(0, |d| d.as_secs());
    // Mean length of a year; a day's error at New Year does no harm.
    1970 + i64::try_from(now / 31_556_952).unwrap_or(0)
}
