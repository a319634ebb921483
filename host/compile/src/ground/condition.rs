//! Conditions as claims about the parts of one piece.

use tellmark_core::pack::condition::Many;
use tellmark_language::model::{KindId, Mark, Placing, SignId, StateId, Sureness};

use super::{Claim, Ground};
use crate::meaning::{Counting, Meaning, Opposite, by_counting, is_within};
use crate::rules::Rules;
use crate::states::{Signed, count_sign, range};

/// The form of conditions over the states of one piece, each of which holds or does
/// not.
pub(super) struct Claims<'g> {
    pub(super) rules: Rules<'g>,
    pub(super) ground: &'g Ground,
}

impl Claims<'_> {
    /// A state of a part; one that the part does not have does not hold.
    fn literal(&self, part: usize, row: usize, yes: bool) -> Claim {
        let Rules { states, places, .. } = self.rules;
        match self.ground.node(states, places, part, row) {
            Some(node) => Claim::State(node, yes),
            None => Claim::Known(!yes),
        }
    }

    fn signed(&self, part: usize, within: Result<Vec<Signed>, bool>) -> Claim {
        match within {
            Err(known) => Claim::Known(known),
            Ok(literals) => {
                let claims = literals.into_iter();
                let claims = claims.map(|(row, yes)| self.literal(part, row, yes));
                Claim::all(claims.collect())
            }
        }
    }
}

impl Meaning for Claims<'_> {
    type Part = usize;
    type Group = Vec<usize>;
    type Value = Claim;

    fn known(&mut self, so: bool) -> Claim {
        Claim::Known(so)
    }

    fn is_not(&mut self, value: Claim) -> Claim {
        value.negated()
    }

    fn all(&mut self, values: Vec<Claim>) -> Claim {
        Claim::all(values)
    }

    fn any(&mut self, values: Vec<Claim>) -> Claim {
        Claim::any(values)
    }

    fn at_least_of(&mut self, n: usize, values: Vec<Claim>) -> Claim {
        Claim::at_least(n, values)
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
        is_so: &dyn Fn(&mut Self, &usize) -> Claim,
    ) -> Claim {
        by_counting(self, many, group, is_so)
    }

    fn state(&mut self, part: &usize, state: StateId, _: Option<Sureness>) -> Claim {
        self.literal(*part, self.rules.states.declared(state), true)
    }

    fn measure(&mut self, part: &usize, sign: SignId, mark: Mark) -> Claim {
        self.signed(
            *part,
            self.rules.states.within(self.rules.model, sign, mark),
        )
    }

    fn choice(&mut self, part: &usize, sign: SignId, values: &[u8]) -> Claim {
        let rows = values
            .iter()
            .filter_map(|&v| self.rules.states.value(sign, v));
        Claim::any(rows.map(|row| self.literal(*part, row, true)).collect())
    }

    fn has(&mut self, part: &usize, kind: KindId, mark: Mark) -> Claim {
        let own = self.rules.places.kind(self.ground.parts[*part].place);
        match count_sign(self.rules.model, own, kind) {
            Some(sign) => self.signed(
                *part,
                self.rules.states.within(self.rules.model, sign, mark),
            ),
            // What nobody counts has a fixed number.
            None => Claim::Known(is_within(mark, range(self.rules.model, own, kind).0)),
        }
    }

    fn placed(&mut self, part: &usize, place: &Placing) -> Claim {
        Claim::Known(self.ground.stands(self.rules.model, *part, place))
    }

    /// Rules may not speak of it; plans and cautions do.
    fn cannot_be_seen(&mut self, _: &usize) -> Claim {
        Claim::Known(false)
    }
}

impl Opposite for Claims<'_> {
    fn not(&mut self, value: Claim) -> Claim {
        value.negated()
    }
}

impl Counting for Claims<'_> {
    fn at_least(
        &mut self,
        n: usize,
        group: &Vec<usize>,
        is_so: &dyn Fn(&mut Self, &usize) -> Claim,
    ) -> Claim {
        let claims = group.iter().map(|part| is_so(self, part)).collect();
        Claim::at_least(n, claims)
    }
}
