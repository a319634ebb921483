//! From what was meant to facts, by way of the exact words: nothing is noted that the rules
//! would not read as just that.

use crate::candidate::Candidate;
use crate::house::House;
use crate::lexicon::Meaning;
use crate::measure::{Quantity, number_text};
use crate::mention::{Finder, Mention, Pick};
use crate::reading::MOST_READINGS;
use crate::scene::Scene;
use crate::token::Ratio;
use tellmark_language::model::{
    Fact, Found, Nature, PIECE, PartRef, PartStep, SignId, Sure, Than, Ticks, Which,
};
use tellmark_language::span::Span;
use tellmark_language::words::{fact_line, measured_words, part_name};

/// How a finding is put.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Put {
    pub(crate) yes: bool,
    pub(crate) sure: Sure,
    /// It is said that it cannot be found out.
    pub(crate) cannot: bool,
}

/// Makes facts of one piece.
pub(crate) struct Findings<'f, 'm> {
    pub(crate) house: &'f House<'m>,
    pub(crate) scene: &'f Scene,
}

impl Findings<'_, '_> {
    /// The facts, where there is no doubt about them.
    pub(crate) fn clear(&self, best: &Candidate, put: Put) -> Option<Vec<Fact>> {
        let is_choice = matches!(best.meaning, Meaning::Value(..) | Meaning::Measure(_));
        if is_choice && (!put.yes || put.sure == Sure::Looks) && !put.cannot {
            return None;
        }
        if let (Meaning::Measure(sign), Some(quantity)) = (best.meaning, &best.quantity)
            && let Some(to) = quantity.to
        {
            let ends = self.measured(best, sign, quantity, quantity.number);
            let other = self.measured(best, sign, quantity, to);
            if self.passes_a_mark(sign, ends?.first()?, other?.first()?) {
                return None;
            }
        }
        self.facts(best, &best.place.parts, put)
    }

    /// The readings that are offered: of each part, where it is not certain which.
    pub(crate) fn offered(&self, one: &Candidate, put: Put) -> Vec<Vec<Fact>> {
        let is_choice = matches!(one.meaning, Meaning::Value(..) | Meaning::Measure(_));
        if is_choice && !put.yes && !put.cannot {
            return Vec::new();
        }
        if !one.place.is_sure && one.place.parts.len() > 1 {
            // "Hinge broken": one of them, be it of this door or that.
            let parts = &one.place.parts;
            let each = match one.place.is_one {
                true => parts.iter().map(|&part| vec![part]).collect(),
                false => self.by_owner(parts),
            };
            let has_keys = each.len() < MOST_READINGS || !one.place.is_one;
            let each = each.into_iter();
            let each = each.take(MOST_READINGS - 1);
            let mut readings: Vec<Vec<Fact>> = each
                .filter_map(|parts| self.facts(one, &parts, put))
                .collect();
            readings.extend(self.facts(one, parts, put).filter(|_| has_keys));
            return readings;
        }
        if let (Meaning::Measure(sign), Some(quantity)) = (one.meaning, &one.quantity)
            && let Some(to) = quantity.to
            && !put.cannot
        {
            let middle = quantity.number.between(to);
            let all = [middle, Some(quantity.number), Some(to)];
            let facts = all.into_iter().flatten();
            return facts
                .filter_map(|number| self.measured(one, sign, quantity, number))
                .collect();
        }
        self.facts(one, &one.place.parts, put).into_iter().collect()
    }

    /// The readings of so many of several parts, "2 handles loose" of three, if each set has a key.
    pub(crate) fn so_many(
        &self,
        one: &Candidate,
        count: usize,
        put: Put,
    ) -> Option<Vec<Vec<Fact>>> {
        let parts = &one.place.parts;
        if count < 2 || count >= parts.len() || parts.len() > MOST_READINGS {
            return None;
        }
        let sets = (0u32..1 << parts.len())
            .filter(|set| usize::try_from(set.count_ones()) == Ok(count))
            .map(|set| -> Vec<usize> {
                let is_in = |at: &usize| set & (1 << at) != 0;
                (0..parts.len()).filter(is_in).map(|at| parts[at]).collect()
            });
        let mut sets: Vec<Vec<usize>> = sets.collect();
        sets.sort();
        (sets.len() < MOST_READINGS).then(|| {
            let each = sets.iter();
            each.filter_map(|set| self.facts(one, set, put)).collect()
        })
    }

    /// Parts one by one; where they stand in several owners, those of each together.
    fn by_owner(&self, parts: &[usize]) -> Vec<Vec<usize>> {
        let mut owners: Vec<Option<usize>> = Vec::new();
        for &part in parts {
            let owner = self.scene.parts[part].owner;
            if !owners.contains(&owner) {
                owners.push(owner);
            }
        }
        if owners.len() < 2 || owners.len() == parts.len() {
            return parts.iter().map(|&part| vec![part]).collect();
        }
        let of = |owner: Option<usize>| {
            let parts = parts.iter().copied();
            parts
                .filter(|&part| self.scene.parts[part].owner == owner)
                .collect()
        };
        owners.into_iter().map(of).collect()
    }

    fn facts(&self, one: &Candidate, parts: &[usize], put: Put) -> Option<Vec<Fact>> {
        if let (Meaning::Measure(sign), Some(quantity), false) =
            (one.meaning, &one.quantity, put.cannot)
        {
            let number = match quantity.to {
                Some(to) => quantity.number.between(to)?,
                None => quantity.number,
            };
            let place = Candidate {
                place: crate::candidate::Placed {
                    parts: parts.to_vec(),
                    ..one.place.clone()
                },
                ..one.clone()
            };
            return self.measured(&place, sign, quantity, number);
        }
        let found = self.found(one, put)?;
        self.said(one, parts, &found)
    }

    fn found(&self, one: &Candidate, put: Put) -> Option<Found> {
        let Put { yes, sure, cannot } = put;
        if cannot {
            return Some(Found::SignCannotBeSeen(self.sign(one)?));
        }
        Some(match one.meaning {
            Meaning::State(state) => Found::State { state, yes, sure },
            Meaning::Value(sign, value) if yes => Found::Choice { sign, value },
            Meaning::Degree(sign, degree) => Found::Degree {
                sign,
                degree,
                than: if yes { Than::Just } else { Than::LessThan },
                sure,
            },
            Meaning::Value(..) | Meaning::Measure(_) => return None,
        })
    }

    /// What asks for it, if anything does that leaves the piece whole.
    fn sign(&self, one: &Candidate) -> Option<SignId> {
        match one.meaning {
            Meaning::State(state) => match self.house.model.states.get(state.index())?.nature {
                Nature::Seen(sign) | Nature::CountsAs { sign, .. } => Some(sign),
                Nature::Hidden { .. } => None,
            },
            Meaning::Measure(sign) | Meaning::Value(sign, _) | Meaning::Degree(sign, _) => {
                Some(sign)
            }
        }
    }

    fn said(&self, one: &Candidate, parts: &[usize], found: &Found) -> Option<Vec<Fact>> {
        let line = |part: PartRef| {
            let fact = Fact {
                part,
                found: found.clone(),
                at: Span::default(),
            };
            fact_line(self.house.model, &fact)
        };
        let together = self.references(one, parts).into_iter().map(line);
        let together: Vec<String> = together.collect();
        self.exactly(&together, parts).or_else(|| {
            // "Every pilaster" may be said of valances as well: then each by itself.
            let each = parts.iter().flat_map(|&part| self.references(one, &[part]));
            let each: Vec<String> = each.map(line).collect();
            self.exactly(&each, parts)
        })
    }

    fn references(&self, one: &Candidate, parts: &[usize]) -> Vec<PartRef> {
        if one.kind == PIECE {
            let step = PartStep {
                kind: PIECE,
                which: Which::Only,
            };
            return vec![PartRef {
                steps: vec![step],
                at: Span::default(),
            }];
        }
        self.scene.references(parts)
    }

    fn measured(
        &self,
        one: &Candidate,
        sign: SignId,
        quantity: &Quantity,
        number: Ratio,
    ) -> Option<Vec<Fact>> {
        let asks = &self.house.model.signs.get(sign.index())?.asks;
        let unit = quantity.unit.text();
        let amount = format!("{} {unit}", number_text(number));
        let said = measured_words(asks, &amount, false);
        let references = self.references(one, &one.place.parts);
        let lines: Vec<String> = references
            .iter()
            .map(|part| format!("{} {said}", part_name(self.house.model, part)))
            .collect();
        self.exactly(&lines, &one.place.parts)
    }

    /// The lines as the rules read them, if that is said of just these parts.
    fn exactly(&self, lines: &[String], parts: &[usize]) -> Option<Vec<Fact>> {
        let facts = lines.iter().map(|line| self.house.exact.facts(line).ok());
        let facts: Vec<Fact> = facts
            .collect::<Option<Vec<_>>>()?
            .into_iter()
            .flatten()
            .collect();
        let mut meant: Vec<usize> = facts
            .iter()
            .flat_map(|f| self.scene.meant(&f.part))
            .collect();
        meant.sort_unstable();
        let mut wanted = parts.to_vec();
        wanted.sort_unstable();
        (meant == wanted).then_some(facts)
    }

    /// Whether something that a rule reads lies between two readings.
    fn passes_a_mark(&self, sign: SignId, one: &Fact, other: &Fact) -> bool {
        let (Some(one), Some(other)) = (ticks(one), ticks(other)) else {
            return true;
        };
        let (low, high) = (one.min(other), one.max(other));
        self.house
            .model
            .states
            .iter()
            .any(|state| match &state.nature {
                Nature::CountsAs { sign: of, mark } if *of == sign => {
                    (low + 1..=high).contains(&mark.at_least)
                        || mark.at_most.is_some_and(|most| (low..high).contains(&most))
                }
                _ => false,
            })
    }

    /// These parts cannot be seen.
    pub(crate) fn out_of_sight(&self, parts: &[usize]) -> Option<Vec<Fact>> {
        let references = self.scene.references(parts).into_iter();
        let lines: Vec<String> = references
            .map(|part| {
                let fact = Fact {
                    part,
                    found: Found::PartCannotBeSeen,
                    at: Span::default(),
                };
                fact_line(self.house.model, &fact)
            })
            .collect();
        self.exactly(&lines, parts)
    }

    /// There are fewer of some parts than there were: of all that stand in one owner, so many
    /// are lost.
    pub(crate) fn fewer(&self, parts: &[usize], lost: u8) -> Option<Vec<Fact>> {
        let first = self.scene.parts.get(*parts.first()?)?;
        let is_alike = |&part: &usize| {
            let part = &self.scene.parts[part];
            (part.owner, part.kind) == (first.owner, first.kind)
        };
        let owner = first.owner.filter(|_| parts.iter().all(is_alike))?;
        let model = self.house.model;
        let owner_kind = model.kinds.get(self.scene.parts[owner].kind.index())?;
        let mut members = owner_kind.members.iter();
        let member = members.find(|member| member.kind == first.kind)?;
        let number = first.of.checked_sub(lost).filter(|&left| left > 0)?;
        if number < member.least {
            return None;
        }
        let owner_said = self.scene.references(&[owner]).into_iter().next()?;
        let fact = Fact {
            part: owner_said,
            found: Found::Count {
                part: first.kind,
                number,
            },
            at: Span::default(),
        };
        self.exactly(&[fact_line(model, &fact)], &[owner])
    }

    /// There is none of a part: "no lock", "lock missing". Also whether that is clear.
    pub(crate) fn none_of(
        &self,
        finder: &Finder<'_>,
        mention: &Mention,
        subject: &[usize],
    ) -> Option<(Vec<Fact>, bool)> {
        let model = self.house.model;
        let is_one = mention
            .step
            .picks
            .iter()
            .any(|pick| matches!(pick, Pick::Numbers(_) | Pick::Names(_) | Pick::Place(_)));
        if is_one {
            return None;
        }
        let owners: Vec<usize> = (0..self.scene.parts.len())
            .filter(|&at| {
                let owner = model.kinds.get(self.scene.parts[at].kind.index());
                owner.is_some_and(|owner| {
                    let mut members = owner.members.iter();
                    members.any(|m| m.least == 0 && mention.step.kinds.contains(&m.kind))
                })
            })
            .collect();
        let part = *mention.step.kinds.first()?;
        let (meant, is_sure) = match mention.outer.split_first() {
            Some((step, outer)) => {
                let outer = Mention {
                    step: step.clone(),
                    outer: outer.to_vec(),
                    ..mention.clone()
                };
                let meant = finder.meant(&outer, subject);
                (meant.parts, meant.is_sure)
            }
            None => {
                let near = subject.iter().flat_map(|&about| self.scene.lineage(about));
                let near: Vec<usize> = near.filter(|at| owners.contains(at)).collect();
                let sure = near.len() == 1 || owners.len() == 1;
                (
                    if near.is_empty() {
                        owners.clone()
                    } else {
                        near
                    },
                    sure,
                )
            }
        };
        let meant: Vec<usize> = meant.into_iter().filter(|at| owners.contains(at)).collect();
        if meant.is_empty() {
            return None;
        }
        let references = self.scene.references(&meant).into_iter();
        let lines: Vec<String> = references
            .map(|owner| {
                let fact = Fact {
                    part: owner,
                    found: Found::Count { part, number: 0 },
                    at: Span::default(),
                };
                fact_line(model, &fact)
            })
            .collect();
        Some((self.exactly(&lines, &meant)?, is_sure))
    }
}

fn ticks(fact: &Fact) -> Option<Ticks> {
    match fact.found {
        Found::Measure { ticks, .. } => Some(ticks),
        _ => None,
    }
}
