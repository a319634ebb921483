//! Conditions that stand in no table of the pack, judged by the core all the same.

use tellmark_core::number::Number;
use tellmark_core::truth::Truth;

use super::{Case, SetUp};
use crate::assemble::condition_program;
use tellmark_language::model::Condition;

impl<N: Number> Case<'_, N> {
    /// Whether a condition of the model holds for a part: true, false or not known, exactly
    /// as if it stood in a plan.
    pub fn truth_of(&mut self, set_up: &SetUp<'_>, condition: &Condition, part: usize) -> Truth {
        let program = condition_program(set_up.model, &set_up.built.states, condition);
        let truth = program
            .ok()
            .and_then(|program| self.inspection.holds_by(&program, part));
        truth.unwrap_or(Truth::NotKnown)
    }
}

impl SetUp<'_> {
    /// Whether two conditions about the same kind of part ask for the same.
    #[must_use]
    pub fn is_same(&self, one: Option<&Condition>, other: Option<&Condition>) -> bool {
        let program = |condition: &Condition| {
            condition_program(self.model, &self.built.states, condition).ok()
        };
        one.map(program) == other.map(program)
    }
}
