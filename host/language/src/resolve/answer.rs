//! Answers, resolved: job notes and the Given lines of examples.

use crate::grammar::answer::{About, Answer, Finding, Many, OnePart, OneStep, Stated};
use crate::message::Problem;
use crate::model::{
    Fact, Found, KindId, Nature, PIECE, PartRef, PartStep, SignId, StateId, Verb, Which,
};
use crate::resolve::look::{Done, Look, refuse};
use crate::span::Span;
use crate::syntax::Name;
use crate::vocab::Said;
use crate::words::capital;

/// A part that was named: which, of what kind, and whether "no" stood before.
pub struct Named {
    /// Which.
    pub part: PartRef,
    /// Its kind.
    pub kind: KindId,
    /// Whether "no" stood before it.
    pub no: Option<Span>,
}

impl Look<'_> {
    /// An answer as a fact.
    pub fn fact(&self, answer: &Answer, at: Span) -> Done<Fact> {
        match answer {
            Answer::Found {
                attribute,
                part,
                finding,
            } => {
                let named = self.part(part)?;
                let found = self.finding(&named, attribute.as_ref(), finding, at)?;
                Ok(Fact {
                    part: named.part,
                    found,
                    at,
                })
            }
            Answer::Open { back, about } => self.open(*back, about, at),
        }
    }

    /// Which part is named.
    pub fn part(&self, part: &OnePart) -> Done<Named> {
        let mut steps: Vec<PartStep> = Vec::new();
        let mut no = None;
        let kinds = self.kinds_meant(&part.steps)?;
        for (index, step) in part.steps.iter().enumerate() {
            let (kind, plural) = kinds[index];
            let owner = kinds.get(index + 1).map(|(kind, _)| *kind);
            let which = self.which_one(step, kind, plural, owner)?;
            if let Some((Many::No, at)) = step.amount {
                if index > 0 {
                    return refuse(at, Problem::AmountInsideAmount);
                }
                no = Some(at);
            }
            steps.push(PartStep { kind, which });
            if let Some(owner) = owner {
                let between = self.between(kind, owner, step, &part.steps[index + 1])?;
                steps.extend(between);
            }
        }
        if steps.is_empty() {
            steps.push(PartStep {
                kind: PIECE,
                which: Which::Only,
            });
        }
        let kind = steps[0].kind;
        Ok(Named {
            part: PartRef { steps, at: part.at },
            kind,
            no,
        })
    }

    fn which_one(
        &self,
        step: &OneStep,
        kind: KindId,
        plural: bool,
        owner: Option<KindId>,
    ) -> Done<Which> {
        if let Some(name) = &step.name {
            return self.by_name(name, kind, owner);
        }
        if let Some((number, at)) = step.number {
            return match u8::try_from(number).ok().filter(|n| *n > 0) {
                Some(number) => Ok(Which::Number(number)),
                None => refuse(
                    step.noun.at.to(at),
                    Problem::WhichPart {
                        part: self.name(kind),
                        name: None,
                        names: None,
                    },
                ),
            };
        }
        if step.amount.is_some() || plural {
            return Ok(Which::Every);
        }
        let most = match owner {
            Some(owner) => self.tree.member(owner, kind).map_or(1, |m| m.most),
            None => self
                .tree
                .owners(kind)
                .iter()
                .filter_map(|o| self.tree.member(*o, kind))
                .map(|m| m.most)
                .max()
                .unwrap_or(1),
        };
        if most > 1 && !step.the {
            return refuse(
                step.at,
                Problem::WhichPart {
                    part: self.name(kind),
                    name: None,
                    names: None,
                },
            );
        }
        Ok(Which::Only)
    }

    /// "left", where the makeup gives names.
    fn by_name(&self, name: &Name, kind: KindId, owner: Option<KindId>) -> Done<Which> {
        let owners = match owner {
            Some(owner) if self.tree.member(owner, kind).is_some() => vec![owner],
            _ => self.tree.owners(kind),
        };
        let mut known: Vec<&str> = Vec::new();
        let mut places: Vec<usize> = Vec::new();
        for owner in owners {
            if let Some(member) = self.tree.member(owner, kind) {
                known.extend(member.names.iter().map(String::as_str));
                places.extend(
                    member
                        .names
                        .iter()
                        .position(|n| n.to_lowercase() == name.text),
                );
            }
        }
        places.dedup();
        if let [place] = places[..] {
            return Ok(Which::Named(u8::try_from(place).unwrap_or(u8::MAX)));
        }
        let list = known.join(", ");
        refuse(
            name.at,
            Problem::WhichPart {
                name: Some(&name.text),
                part: self.name(kind),
                names: Some(list.as_str()).filter(|l| !l.is_empty()),
            },
        )
    }

    /// Single parts that were left out between two that were named.
    fn between(
        &self,
        part: KindId,
        owner: KindId,
        step: &OneStep,
        owner_step: &OneStep,
    ) -> Done<Vec<PartStep>> {
        if self.tree.member(owner, part).is_some() {
            return Ok(Vec::new());
        }
        let ways = self.tree.ways(owner, part);
        let Some(way) = ways.first() else {
            return Err(Box::new(self.has_not(owner, part, &step.noun)));
        };
        let between = &way[..way.len() - 1];
        let single = self.tree.range(owner, between).1 <= 1;
        if single && ways.len() == 1 {
            return Ok(between
                .iter()
                .rev()
                .map(|kind| PartStep {
                    kind: *kind,
                    which: Which::Only,
                })
                .collect());
        }
        let chain: Vec<String> = [part]
            .iter()
            .chain(between.iter().rev())
            .map(|k| format!("{} 1", self.name(*k)))
            .collect();
        let number = owner_step
            .number
            .map_or_else(String::new, |(n, _)| format!(" {n}"));
        let right = format!("{} of {}{number}", chain.join(" of "), owner_step.noun.text);
        refuse(
            step.at.to(owner_step.at),
            Problem::PartLeftOut {
                part: self.name(part),
                owner: self.name(owner),
                a_between: &self.a(between[0]),
                right: &right,
            },
        )
    }

    fn open(&self, back: bool, about: &About, at: Span) -> Done<Fact> {
        let (part, found) = match about {
            About::Whether(part, phrase) => {
                let named = self.part(part)?;
                let found = match self.said(named.kind, phrase)? {
                    Said::State(state) => self.open_state(back, state, phrase)?,
                    Said::Measure(sign) | Said::Value(sign, _) | Said::Degree(sign, _) => {
                        open_sign(back, sign)
                    }
                };
                (named.part, found)
            }
            About::HowMuch(word, part, phrase) => {
                let named = self.part(part)?;
                let sign = self.sign_of_measure(named.kind, word, phrase.as_ref())?;
                let sign = self.not_worked_out(sign, at)?;
                (named.part, open_sign(back, sign))
            }
            About::Which(attribute, part) => {
                let named = self.part(part)?;
                let sign = self.attribute(named.kind, attribute)?;
                (named.part, open_sign(back, sign))
            }
            About::Count(noun, part) => {
                let named = self.part(part)?;
                let kind = self.plain(noun)?.kind;
                let kind = self.member_meant(named.kind, noun, kind)?;
                let sign = self.count_of(named.kind, kind, noun)?;
                (named.part, open_sign(back, sign))
            }
        };
        Ok(Fact { part, found, at })
    }

    fn open_state(&self, back: bool, state: StateId, phrase: &Name) -> Done<Found> {
        if let Some((sign, _)) = self.model.degree_of(state) {
            return Ok(open_sign(back, sign));
        }
        match self.state(state).nature {
            Nature::Seen(sign) => Ok(open_sign(back, sign)),
            // What was said of the state itself, not the measure, is taken back.
            Nature::Hidden { .. } | Nature::CountsAs { .. } if back => Ok(Found::NotOpened(state)),
            Nature::CountsAs { sign, .. } => Ok(open_sign(back, sign)),
            Nature::Hidden { .. } => refuse(
                phrase.at,
                Problem::HiddenInRound {
                    phrase: &phrase.text,
                },
            ),
        }
    }

    /// A piece with numbers of its parts.
    pub fn piece_order(
        &self,
        noun: &Name,
        counts: &[(u32, Name, Span)],
    ) -> Done<crate::model::PieceOrder> {
        let kind = self.plain(noun)?.kind;
        if !self.kind(kind).is_piece || kind == PIECE {
            let pieces = self
                .model
                .kinds
                .iter()
                .skip(1)
                .filter(|k| k.is_piece)
                .take(12)
                .map(|k| k.name.as_str())
                .collect::<Vec<_>>()
                .join(", ");
            return refuse(
                noun.at,
                Problem::NotAPiece {
                    a_part: &capital(&self.a(kind)),
                    pieces: Some(pieces.as_str()).filter(|p| !p.is_empty()),
                },
            );
        }
        let mut order = crate::model::PieceOrder {
            kind,
            counts: Vec::new(),
        };
        for (number, noun, at) in counts {
            let part = match self.plain(noun) {
                Err(message) if message.kind.is_unknown_part() => {
                    return Err(Box::new(self.unknown_noun(noun, Some(kind))));
                }
                other => other?.kind,
            };
            let part = self.ordered(kind, noun, part)?;
            if !self.tree.is_below(part, kind) {
                return Err(Box::new(self.has_not(kind, part, noun)));
            }
            // It must be possible for at least one owner in this piece.
            let owners: Vec<KindId> = self
                .tree
                .owners(part)
                .into_iter()
                .filter(|o| *o == kind || self.tree.is_within(*o, kind))
                .filter(|o| self.tree.own_member(*o, part).is_some())
                .collect();
            let fits = owners.iter().any(|o| {
                self.tree
                    .own_member(*o, part)
                    .is_some_and(|m| (u32::from(m.least)..=u32::from(m.most)).contains(number))
            }) || self
                .tree
                .own_member(kind, part)
                .is_some_and(|m| (u32::from(m.least)..=u32::from(m.most)).contains(number));
            if !fits {
                let owner = owners.first().copied().unwrap_or(kind);
                return Err(Box::new(self.not_so_many(owner, part, *number, *at)));
            }
            if order.counts.iter().any(|(k, _)| *k == part) {
                let line = self.line(*at, *at);
                return refuse(*at, Problem::RepeatedSentence { line: &line });
            }
            order
                .counts
                .push((part, u8::try_from(*number).unwrap_or(u8::MAX)));
        }
        Ok(order)
    }

    /// A part and what may be so of it, as for "why".
    pub fn part_state(&self, answer: &Answer) -> Done<(PartRef, StateId)> {
        let Answer::Found {
            attribute: None,
            part,
            finding:
                Finding::Is(Stated {
                    shows,
                    phrase,
                    yes: true,
                    beyond,
                    ..
                }),
        } = answer
        else {
            let at = match answer {
                Answer::Found { part, .. } => part.at,
                Answer::Open { .. } => Span::default(),
            };
            return refuse(
                at,
                Problem::Unreadable {
                    read: None,
                    wants: "something that may be so of a part",
                    example: Some("\"hinge 1 of fall 1 is under strain\""),
                },
            );
        };
        self.part_alone(part)?;
        let named = self.part(part)?;
        match self.said(named.kind, phrase)? {
            Said::State(state) => {
                let right = self.state(state).verb;
                let wrong = if *shows { Verb::Shows } else { Verb::Is };
                if right != wrong {
                    return self.wrong_verb(right, wrong, phrase, named.kind);
                }
                match beyond {
                    Some(_) => self.no_degrees(phrase),
                    None => Ok((named.part, state)),
                }
            }
            Said::Degree(sign, degree) => {
                let state = self.chance_of((sign, degree), *beyond, phrase)?;
                Ok((named.part, state))
            }
            _ => refuse(
                phrase.at,
                Problem::WrongSortOfAnswer {
                    word: &phrase.text,
                    owner: &self.a(named.kind),
                    phrase: "this",
                    one: "not a matter of yes or no",
                    right: "Name a sign or fault that can be so or not.",
                },
            ),
        }
    }
}

fn open_sign(back: bool, sign: SignId) -> Found {
    if back {
        Found::NotLooked(sign)
    } else {
        Found::SignCannotBeSeen(sign)
    }
}
