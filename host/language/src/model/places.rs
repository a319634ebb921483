//! Which places of parts among their like the sentences of a model speak of.

use std::collections::HashSet;

use crate::model::{Condition, Model, Placing, Predicate, Reach, SignId};

impl Model {
    /// The signs of the places that any sentence speaks of. Where none does, it makes no
    /// difference where a part stands.
    #[must_use]
    pub fn places_read(&self) -> HashSet<SignId> {
        let mut read = HashSet::new();
        self.each_placing(&mut |place| read.extend(place.at.iter().map(|&(sign, _)| sign)));
        read
    }

    /// Calls `each` with every place that a sentence speaks of.
    pub fn each_placing(&self, each: &mut dyn FnMut(&Placing)) {
        for rule in &self.rules {
            of_reach(&rule.result, each);
            of_conditions(std::iter::once(&rule.when).chain(&rule.unless), each);
        }
        for means in &self.means {
            of_reach(&means.whose, each);
        }
        let ladders = self.ladders.iter().filter_map(|l| l.when.as_ref());
        let exclusions = self.exclusions.iter().filter_map(|e| e.when.as_ref());
        let steps = self.rounds.iter().flat_map(|round| &round.steps);
        of_conditions(self.only_ifs.iter().map(|o| &o.when), each);
        of_conditions(self.plans.iter().map(|p| &p.when), each);
        of_conditions(self.stand_ins.iter().map(|s| &s.when), each);
        of_conditions(ladders.chain(exclusions).map(|(_, when)| when), each);
        of_conditions(self.cautions.iter().map(|c| &c.when), each);
        of_conditions(self.tells.iter().map(|t| &t.when), each);
        of_conditions(self.datings.iter().filter_map(|d| d.when.as_ref()), each);
        of_conditions(self.relatives.iter().filter_map(|r| r.when.as_ref()), each);
        of_conditions(steps.filter_map(|step| step.only_if.as_ref()), each);
    }
}

fn of_conditions<'c>(
    conditions: impl Iterator<Item = &'c Condition>,
    each: &mut dyn FnMut(&Placing),
) {
    for condition in conditions {
        of_condition(condition, each);
    }
}

fn of_condition(condition: &Condition, each: &mut dyn FnMut(&Placing)) {
    match condition {
        Condition::All(parts) | Condition::Any(parts) | Condition::AtLeast(_, parts) => {
            of_conditions(parts.iter(), each);
        }
        Condition::Test(test) => {
            of_reach(&test.whose, each);
            if let Predicate::Placed { place, .. } = &test.what {
                each(place);
            }
        }
    }
}

fn of_reach(reach: &Reach, each: &mut dyn FnMut(&Placing)) {
    if let Reach::Down {
        only: Some(only), ..
    } = reach
    {
        each(only);
    }
}
