//! The condition of a plan as claims about a world.

use tellmark_compile::ground::{Claim, Ground};
use tellmark_compile::meaning::{Counting, Meaning, Opposite, by_counting, is_within};
use tellmark_compile::{Rules, count_sign};
use tellmark_core::inspection::Inspection;
use tellmark_core::logic::can_be;
use tellmark_core::number::Number;
use tellmark_core::pack::condition::Many;
use tellmark_core::pack::{Form, Trial};
use tellmark_core::piece::Answer;
use tellmark_core::truth::Truth;
use tellmark_language::model::{JobId, KindId, Mark, Placing, SignId, StateId, Sureness, Ticks};

/// When a condition holds, as far as anybody can say: surely where the one claim does,
/// and perhaps where the other does. They differ where it hangs on something to which
/// the rules give no chance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bounds {
    /// It holds at least in these worlds.
    pub surely: Claim,
    /// It holds at most in these.
    pub perhaps: Claim,
}

impl Bounds {
    /// Nobody can say.
    pub const OPEN: Self = Self {
        surely: Claim::Known(false),
        perhaps: Claim::Known(true),
    };

    /// Just this claim.
    #[must_use]
    pub fn exactly(claim: Claim) -> Self {
        Self {
            surely: claim.clone(),
            perhaps: claim,
        }
    }

    fn each(values: Vec<Self>, join: impl Fn(Vec<Claim>) -> Claim) -> Self {
        let (surely, perhaps) = values.into_iter().map(|v| (v.surely, v.perhaps)).unzip();
        Self {
            surely: join(surely),
            perhaps: join(perhaps),
        }
    }
}

/// The form of conditions over a piece as it was found: what was seen is so, what was
/// not seen is as the world has it, and the rest is open.
pub struct Found<'j, 'a, 'm, N> {
    /// The rules.
    pub rules: Rules<'j>,
    /// The piece, part by part.
    pub ground: &'j Ground,
    /// What was found.
    pub inspection: &'j Inspection<'m, 'a, N>,
}

impl<N: Number> Found<'_, '_, '_, N> {
    /// A state of a part: as it was found, else as it is in the world; `None` if it has
    /// no chance.
    fn row(&self, part: usize, row: usize) -> Option<Claim> {
        let pack = self.inspection.pack();
        let record = pack.state(row);
        match self.inspection.piece().truth(pack, part, &record) {
            Truth::True => Some(Claim::Known(true)),
            Truth::False => Some(Claim::Known(false)),
            Truth::NotKnown if !can_be(pack, self.inspection.piece(), part, record.ask) => {
                Some(Claim::Known(false))
            }
            Truth::NotKnown => {
                let Rules { states, places, .. } = self.rules;
                let node = self.ground.node(states, places, part, row)?;
                let in_use = self.ground.states[node].in_use;
                in_use.then_some(Claim::State(node, true))
            }
        }
    }

    fn answer(&self, part: usize, sign: SignId) -> Option<Answer> {
        let ask = self.rules.states.ask(sign);
        let piece = self.inspection.piece();
        piece.answer(self.inspection.pack(), part, ask)
    }

    /// A mark that the rules give a chance for.
    fn marks(&self, part: usize, sign: SignId, mark: Mark) -> Option<Claim> {
        let within = self
            .rules
            .states
            .within(self.rules.model, sign, mark)
            .ok()?;
        let claims = within.into_iter().map(|(row, yes)| {
            let claim = self.row(part, row)?;
            Some(if yes { claim } else { claim.negated() })
        });
        Some(Claim::all(claims.collect::<Option<Vec<_>>>()?))
    }

    fn measured(&self, part: usize, sign: SignId, mark: Mark) -> Option<Claim> {
        if let Some(reading) = self.answer(part, sign).and_then(Answer::reading) {
            return Some(Claim::Known(is_within(mark, reading)));
        }
        let (least, most) = self.rules.model.signs[sign.index()].asks.ends()?;
        if let Some(answer @ Answer::Value(_)) = self.answer(part, sign) {
            let to = mark.at_most.unwrap_or(Ticks::MAX);
            match answer.truth(Trial::Within(mark.at_least, to)) {
                Truth::NotKnown => {}
                known => return Some(Claim::Known(known == Truth::True)),
            }
        }
        known_over((least, most), mark).or_else(|| self.marks(part, sign, mark))
    }

    fn chosen(&self, part: usize, sign: SignId, values: &[u8]) -> Option<Claim> {
        if let Some(Answer::Value(value)) = self.answer(part, sign) {
            return Some(Claim::Known(values.contains(&value)));
        }
        let claims = values.iter().map(|&value| {
            let row = self.rules.states.value(sign, value)?;
            self.row(part, row)
        });
        Some(Claim::any(claims.collect::<Option<Vec<_>>>()?))
    }

    /// A number of parts is known if it was counted, or if nobody counts it and so it
    /// was stated when the piece was set up. What no count could change is known as well.
    fn counted(&self, part: usize, kind: KindId, mark: Mark) -> Option<Claim> {
        let (pack, piece) = (self.inspection.pack(), self.inspection.piece());
        let place = usize::from(piece.part(part)?.place);
        let form = Form::HowMany { part: kind.0 };
        let mut asks = pack.asks_of(place);
        let Some(ask) = asks.find(|&ask| pack.ask(usize::from(ask)).form == form) else {
            let parts = self.ground.down(self.rules.places, part, &[kind]);
            let number = Ticks::try_from(parts.len()).ok()?;
            return Some(Claim::Known(is_within(mark, number)));
        };
        match piece.answer(pack, part, ask) {
            Some(Answer::Reading(number)) => Some(Claim::Known(is_within(mark, number))),
            _ => {
                let own = self.rules.places.kind(place);
                let mut children = pack.children(place).map(|at| pack.place(at));
                let member = children.find(|child| child.kind == kind.0);
                let range =
                    member.map_or((0, 0), |member| (member.least.into(), member.most.into()));
                known_over(range, mark).or_else(|| {
                    let sign = count_sign(self.rules.model, own, kind)?;
                    self.marks(part, sign, mark)
                })
            }
        }
    }

    /// One of the states that a job mends is there, on this part.
    pub(super) fn mends(&self, part: usize, job: JobId) -> Claim {
        let Rules {
            model,
            states,
            places,
        } = self.rules;
        let mended = model.jobs[job.index()].mends.iter().filter_map(|&state| {
            let row = states.declared(state);
            // A state that this part does not have is not there.
            self.ground.node(states, places, part, row)?;
            self.row(part, row)
        });
        Claim::any(mended.collect())
    }
}

/// Whether a quantity lies within a mark, if that is the same over its whole range.
fn known_over((least, most): (Ticks, Ticks), mark: Mark) -> Option<Claim> {
    let end = mark.at_most.unwrap_or(Ticks::MAX);
    match () {
        () if end < least || most < mark.at_least => Some(Claim::Known(false)),
        () if mark.at_least <= least && most <= end => Some(Claim::Known(true)),
        () => None,
    }
}

fn or_open(claim: Option<Claim>) -> Bounds {
    claim.map_or(Bounds::OPEN, Bounds::exactly)
}

impl<N: Number> Meaning for Found<'_, '_, '_, N> {
    type Part = usize;
    type Group = Vec<usize>;
    type Value = Bounds;

    fn known(&mut self, so: bool) -> Bounds {
        Bounds::exactly(Claim::Known(so))
    }

    fn is_not(&mut self, value: Bounds) -> Bounds {
        self.not(value)
    }

    fn all(&mut self, values: Vec<Bounds>) -> Bounds {
        Bounds::each(values, Claim::all)
    }

    fn any(&mut self, values: Vec<Bounds>) -> Bounds {
        Bounds::each(values, Claim::any)
    }

    fn at_least_of(&mut self, n: usize, values: Vec<Bounds>) -> Bounds {
        Bounds::each(values, |claims| Claim::at_least(n, claims))
    }

    fn owner(&mut self, part: &usize, kind: KindId) -> Option<usize> {
        self.ground.owner(self.rules.places, *part, kind)
    }

    fn group(&mut self, part: &usize, path: &[KindId], only: Option<&Placing>) -> Vec<usize> {
        self.ground.some_down(self.rules, *part, (path, only))
    }

    fn others(&mut self, part: &usize, kind: KindId) -> Vec<usize> {
        self.ground.others(self.rules.places, *part, kind)
    }

    fn quantified(
        &mut self,
        many: Many,
        group: &Vec<usize>,
        is_so: &dyn Fn(&mut Self, &usize) -> Bounds,
    ) -> Bounds {
        by_counting(self, many, group, is_so)
    }

    /// In a world a fault is there or it is not, however sure a plan must be of it.
    fn state(&mut self, part: &usize, state: StateId, _: Option<Sureness>) -> Bounds {
        or_open(self.row(*part, self.rules.states.declared(state)))
    }

    fn measure(&mut self, part: &usize, sign: SignId, mark: Mark) -> Bounds {
        or_open(self.measured(*part, sign, mark))
    }

    fn choice(&mut self, part: &usize, sign: SignId, values: &[u8]) -> Bounds {
        or_open(self.chosen(*part, sign, values))
    }

    fn has(&mut self, part: &usize, kind: KindId, mark: Mark) -> Bounds {
        or_open(self.counted(*part, kind, mark))
    }

    fn placed(&mut self, part: &usize, place: &Placing) -> Bounds {
        Bounds::exactly(Claim::Known(self.ground.stands(
            self.rules.model,
            *part,
            place,
        )))
    }

    fn cannot_be_seen(&mut self, part: &usize) -> Bounds {
        let record = self.inspection.piece().part(*part);
        let hidden = record.is_some_and(|record| record.out_of_sight);
        Bounds::exactly(Claim::Known(hidden))
    }
}

impl<N: Number> Opposite for Found<'_, '_, '_, N> {
    fn not(&mut self, value: Bounds) -> Bounds {
        Bounds {
            surely: value.perhaps.negated(),
            perhaps: value.surely.negated(),
        }
    }
}

impl<N: Number> Counting for Found<'_, '_, '_, N> {
    fn at_least(
        &mut self,
        n: usize,
        group: &Vec<usize>,
        is_so: &dyn Fn(&mut Self, &usize) -> Bounds,
    ) -> Bounds {
        let values = group.iter().map(|part| is_so(self, part)).collect();
        Bounds::each(values, |claims| Claim::at_least(n, claims))
    }
}

#[cfg(test)]
mod tests {
    use super::{Bounds, Claim};

    #[test]
    fn what_is_open_may_be_either_way() {
        let so = Bounds::exactly(Claim::Known(true));
        let not_so = Bounds::exactly(Claim::Known(false));
        let all = |values: &[&Bounds]| {
            let values = values.iter().map(|&v| v.clone()).collect();
            Bounds::each(values, Claim::all)
        };
        assert_eq!(all(&[&so, &Bounds::OPEN]), Bounds::OPEN);
        assert_eq!(all(&[&not_so, &Bounds::OPEN]), not_so);
        let two = |values: Vec<Bounds>| Bounds::each(values, |c| Claim::at_least(2, c));
        let open = || Bounds::OPEN;
        assert_eq!(two(vec![so.clone(), so.clone(), open()]), so);
        assert_eq!(two(vec![so, open()]), Bounds::OPEN);
        assert_eq!(two(vec![not_so.clone(), open()]), not_so);
    }
}
