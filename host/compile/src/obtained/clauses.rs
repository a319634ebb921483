//! Which answers make a condition so, or not so: clause by clause.

use tellmark_core::inspection::Inspection;
use tellmark_core::piece::{Answer, Eye, Judged, Than};

use super::Answered;
use crate::placed::stands;
use crate::rules::Rules;
use crate::states::{count_sign, range};
use tellmark_language::model::{
    Asks, Condition, HowMany, KindId, Mark, Nature, Predicate, Reach, SignId, Test, Ticks,
};

/// Something that is to be so, or not so, of one part.
#[derive(Clone, Copy)]
pub(super) struct Clause<'c> {
    part: usize,
    /// The kind of the part.
    kind: KindId,
    what: &'c Predicate,
    /// Whether what the predicate names is to be so (its own "not" counted in).
    so: bool,
}

/// Turns conditions into answers.
pub(super) struct Asker<'m> {
    pub(super) rules: Rules<'m>,
}

impl Asker<'_> {
    /// The parts that a reach means, seen from a part.
    pub(super) fn parts(
        &self,
        inspection: &Inspection<'_, '_, f64>,
        part: usize,
        reach: &Reach,
    ) -> Vec<usize> {
        let (piece, places) = (inspection.piece(), self.rules.places);
        let place = |part: usize| piece.part(part).map(|record| usize::from(record.place));
        match reach {
            Reach::Own => vec![part],
            Reach::Up(kind) => {
                let owner = place(part).and_then(|place| places.owner_of_kind(place, *kind));
                let mut owners = piece.owners(part);
                let found = owners.find(|&o| owner.is_some() && place(o) == owner);
                found.into_iter().collect()
            }
            Reach::Others { of, .. } => {
                let beside = place(part).and_then(|place| places.beside(place, *of));
                let owner = piece.owners(part).next();
                let (Some(beside), Some(owner)) = (beside, owner) else {
                    return Vec::new();
                };
                let others = piece.children_at(owner, beside);
                others.filter(|&other| other != part).collect()
            }
            Reach::Down { path, only, .. } => {
                let down = place(part).and_then(|place| places.down(place, path));
                let Some(down) = down else {
                    return Vec::new();
                };
                let mut parts = down.into_iter().fold(vec![part], |parts, place| {
                    let children = parts.into_iter().map(|p| piece.children_at(p, place));
                    children.flatten().collect()
                });
                let model = self.rules.model;
                parts.retain(|&part| {
                    let only = only.as_ref();
                    only.is_none_or(|only| stands(model, piece, part, only))
                });
                parts
            }
        }
    }

    /// The clauses of a condition about a part, all of them as they are written (or all
    /// of them the other way); `None` if there are not the parts for it.
    pub(super) fn clauses<'c>(
        &self,
        inspection: &Inspection<'_, '_, f64>,
        part: usize,
        condition: &'c Condition,
        yes: bool,
    ) -> Option<Vec<Clause<'c>>> {
        match condition {
            Condition::All(conditions)
            | Condition::Any(conditions)
            | Condition::AtLeast(_, conditions) => {
                let mut all = Vec::new();
                for condition in conditions {
                    all.extend(self.clauses(inspection, part, condition, yes)?);
                }
                Some(all)
            }
            Condition::Test(test) => self.of_test(inspection, part, test, yes),
        }
    }

    fn of_test<'c>(
        &self,
        inspection: &Inspection<'_, '_, f64>,
        part: usize,
        test: &'c Test,
        yes: bool,
    ) -> Option<Vec<Clause<'c>>> {
        let parts = self.parts(inspection, part, &test.whose);
        if parts.is_empty() {
            return None;
        }
        if let Predicate::Placed {
            place,
            yes: is_there,
        } = &test.what
        {
            // Nobody answers it: it is so of the parts that stand there.
            let mut each = parts.iter();
            let so = each.all(|&part| {
                stands(self.rules.model, inspection.piece(), part, place) == *is_there
            });
            return (so || !yes).then(Vec::new);
        }
        let all = parts.len();
        // Of how many it is so, and whether the others are known not to be.
        let (some, is_rest_not) = match (&test.whose, yes) {
            (Reach::Own | Reach::Up(_), yes) => (if yes { all } else { 0 }, true),
            (Reach::Down { many, .. } | Reach::Others { many, .. }, true) => match *many {
                HowMany::The | HowMany::Any => (1, false),
                HowMany::Every => (all, true),
                HowMany::No | HowMany::FewerThan(_) => (0, true),
                HowMany::AtLeast(n) => (usize::from(n), false),
                HowMany::Exactly(n) => (usize::from(n), true),
            },
            (Reach::Down { many, .. } | Reach::Others { many, .. }, false) => match *many {
                HowMany::No => (1, false),
                HowMany::FewerThan(n) => (usize::from(n), false),
                HowMany::Exactly(0) => (1, false),
                _ => (0, true),
            },
        };
        if some > all {
            return None;
        }
        let is_positive = positive(&test.what)?;
        let told = if is_rest_not { all } else { some };
        let place = inspection.piece().part(*parts.first()?)?.place;
        let kind = self.rules.places.kind(usize::from(place));
        let clause = |(nth, &part): (usize, &usize)| Clause {
            part,
            kind,
            what: &test.what,
            so: (nth < some) == is_positive,
        };
        Some(parts.iter().take(told).enumerate().map(clause).collect())
    }

    /// Whether a clause is about a measure.
    pub(super) fn is_measured(&self, clause: &Clause<'_>) -> bool {
        match clause.what {
            Predicate::Measure { sign, .. } => {
                let asks = &self.rules.model.signs[sign.index()].asks;
                !matches!(asks, Asks::Degrees { .. })
            }
            Predicate::State { state, .. } => {
                let model = self.rules.model;
                let nature = &model.states[state.index()].nature;
                matches!(nature, Nature::CountsAs { .. }) && model.degree_of(*state).is_none()
            }
            _ => false,
        }
    }

    /// The answer that makes a clause so: the part, what is asked of it, and what is
    /// answered.
    pub(super) fn answer(
        &self,
        clause: &Clause<'_>,
        how: Answered,
    ) -> Option<(usize, u16, Answer)> {
        let Rules { model, states, .. } = self.rules;
        let so = clause.so;
        let said = match how {
            Answered::Certainly => Answer::Certain(so),
            _ => Answer::Seen(so),
        };
        let by_gauge = matches!(how, Answered::AtMark | Answered::WellOver);
        let (ask, answer) = match clause.what {
            Predicate::State { state, .. } => match model.states[state.index()].nature {
                Nature::Seen(sign) => (states.ask(sign), said),
                Nature::Hidden { .. } => (states.opened(*state)?, Answer::Certain(so)),
                Nature::CountsAs { sign, mark } if model.degree_of(*state).is_some() => {
                    (states.ask(sign), self.judged(sign, mark, so, how)?)
                }
                Nature::CountsAs { sign, mark } if by_gauge => {
                    (states.ask(sign), self.reading(sign, mark, so, how)?)
                }
                Nature::CountsAs { .. } => (states.opened(*state)?, said),
            },
            Predicate::Measure { sign, mark, .. }
                if matches!(model.signs[sign.index()].asks, Asks::Degrees { .. }) =>
            {
                (states.ask(*sign), self.judged(*sign, *mark, so, how)?)
            }
            Predicate::Measure { sign, mark, .. } => {
                (states.ask(*sign), self.reading(*sign, *mark, so, how)?)
            }
            Predicate::Choice { sign, values, .. } => {
                let Asks::Which { values: words, .. } = &model.signs[sign.index()].asks else {
                    return None;
                };
                let mut all = (0..words.len()).filter_map(|value| u8::try_from(value).ok());
                let value = all.find(|value| values.contains(value) == so)?;
                (states.ask(*sign), Answer::Value(value))
            }
            Predicate::Has { part, mark, .. } => {
                let sign = count_sign(model, clause.kind, *part)?;
                (states.ask(sign), self.reading(sign, *mark, so, how)?)
            }
            Predicate::Placed { .. } | Predicate::CannotBeSeen => return None,
        };
        Some((clause.part, ask, answer))
    }

    /// A judgement that is within a mark, or is not: of what is so from some degree on, the
    /// least that says so; "is lifted", not a degree of it.
    fn judged(&self, sign: SignId, mark: Mark, so: bool, how: Answered) -> Option<Answer> {
        let (_, most) = self.rules.model.signs[sign.index()].asks.ends()?;
        let from = u8::try_from(mark.at_least).ok()?;
        let (degree, than) = match (so, mark.at_most) {
            (true, Some(_)) => (from, Than::Just),
            (true, None) if mark.at_least == most => (from, Than::Just),
            (true, None) => (from, Than::AtLeast),
            (false, _) if from == 1 => (0, Than::Just),
            (false, _) => (from, Than::LessThan),
        };
        let eye = match how {
            Answered::Certainly => Eye::Certain,
            _ => Eye::Ordinary,
        };
        Some(Answer::Value(Judged { degree, than, eye }.value()))
    }

    /// A reading or a number that lies within a mark (or does not): at the mark, or well
    /// on the right side of it.
    fn reading(&self, sign: SignId, mark: Mark, so: bool, how: Answered) -> Option<Answer> {
        let model = self.rules.model;
        let record = &model.signs[sign.index()];
        let (least, most, gauge) = match record.asks {
            Asks::HowMuch {
                least, most, gauge, ..
            } => (least, most, gauge),
            Asks::HowMany(part) => {
                let (least, most) = range(model, record.kind, part);
                (least, most, 0)
            }
            Asks::Whether(_) | Asks::Which { .. } | Asks::Degrees { .. } => return None,
        };
        let clear = match how {
            Answered::AtMark => 0,
            _ => gauge.saturating_mul(DEVIATIONS),
        };
        reading((least, most), mark, so, clear).map(Answer::Reading)
    }
}

/// How many standard deviations of its gauge a reading is clear of a mark, to be well
/// over it.
const DEVIATIONS: Ticks = 4;

/// A quantity within a mark (or not), so far clear of it as there is room; `None` if there is
/// none.
fn reading((least, most): (Ticks, Ticks), mark: Mark, so: bool, clear: Ticks) -> Option<Ticks> {
    let up_to = mark.at_most.filter(|&at_most| at_most < most);
    let over = |at: Ticks| at.saturating_add(clear).min(most);
    let under = |at: Ticks| at.saturating_sub(clear).max(least);
    let from_least = mark.at_least <= least;
    let found = match (so, up_to) {
        (true, None) => over(mark.at_least.max(least)),
        (true, Some(end)) if from_least => under(end),
        (true, Some(end)) => over(mark.at_least).min(mark.at_least.midpoint(end)),
        (false, Some(end)) if from_least => over(end.saturating_add(1)),
        (false, _) => under(mark.at_least.saturating_sub(1)),
    };
    let is_within = mark.at_least <= found && mark.at_most.is_none_or(|end| found <= end);
    (is_within == so && least <= found && found <= most).then_some(found)
}

/// Whether a predicate says "is", not "is not"; `None` of what no rule of this sort says.
fn positive(what: &Predicate) -> Option<bool> {
    match what {
        Predicate::State { yes, .. }
        | Predicate::Measure { yes, .. }
        | Predicate::Choice { yes, .. }
        | Predicate::Has { yes, .. } => Some(*yes),
        Predicate::Placed { .. } | Predicate::CannotBeSeen => None,
    }
}

#[cfg(test)]
mod tests {
    use super::reading;
    use tellmark_language::model::Mark;

    #[test]
    fn a_reading_is_on_the_right_side_and_as_far_as_there_is_room() {
        let ends = (0, 100);
        let from = |at_least| Mark {
            at_least,
            at_most: None,
        };
        assert_eq!(reading(ends, from(20), true, 0), Some(20));
        assert_eq!(reading(ends, from(20), true, 8), Some(28));
        assert_eq!(reading(ends, from(95), true, 8), Some(100));
        assert_eq!(reading(ends, from(20), false, 0), Some(19));
        assert_eq!(reading(ends, from(5), false, 8), Some(0));
        assert_eq!(reading(ends, from(0), false, 8), None);
        let between = Mark {
            at_least: 20,
            at_most: Some(30),
        };
        assert_eq!(reading(ends, between, true, 2), Some(22));
        assert_eq!(reading(ends, between, true, 8), Some(25));
        assert_eq!(reading(ends, between, false, 8), Some(11));
        let at_most = Mark {
            at_least: 0,
            at_most: Some(30),
        };
        assert_eq!(reading(ends, at_most, true, 8), Some(22));
        assert_eq!(reading(ends, at_most, false, 8), Some(39));
    }
}
