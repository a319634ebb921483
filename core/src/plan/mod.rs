//! The jobs and cautions that follow from what was seen, and the order of work.

mod chance;
mod needed;
mod order;
mod tasks;

pub use needed::Goes;
pub use order::{Memory, Order, Reason, Seat, ThreeMinutes, Times, TooSmall, Waits};
pub use tasks::{Status, Task, done_for};

use crate::inspection::Inspection;
use crate::logic::Judge;
use crate::number::Number;
use crate::truth::Truth;

/// Something that a sentence calls for, on one part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Call {
    /// Which plan, or caution, in the pack.
    pub sentence: usize,
    /// The part it is about.
    pub part: usize,
    /// True, or not known yet.
    pub truth: Truth,
}

impl<N: Number> Inspection<'_, '_, N> {
    /// Every plan that is called for, or may yet be.
    pub fn plans(&mut self, found: impl FnMut(Call)) {
        let pack = *self.pack();
        let plans = (0..pack.plans()).map(|i| {
            let plan = pack.plan(i);
            (plan.subject, plan.condition)
        });
        self.calls(plans, found);
    }

    /// Every caution that is called for, or may yet be.
    pub fn cautions(&mut self, found: impl FnMut(Call)) {
        let pack = *self.pack();
        let cautions = (0..pack.cautions()).map(|i| {
            let caution = pack.caution(i);
            (caution.subject, caution.condition)
        });
        self.calls(cautions, found);
    }

    /// Whether the condition that starts there holds for a part; `None` if there is no
    /// such part. While the answers cannot all be true, no hidden state is known.
    pub fn holds(&mut self, condition: u32, part: usize) -> Option<Truth> {
        let (pack, piece, belief) = self.judge_parts();
        let mut chance = |part: usize, state: u16| belief.chance(pack, piece, part, state).ok();
        let is_there = part < piece.parts().len();
        is_there.then(|| Judge::new(pack, piece, &mut chance).holds(condition, part))
    }

    /// Whether a condition holds for a part that is given as a program of this pack's
    /// numbers, and need not be one of the pack's; `None` if there is no such part.
    pub fn holds_by(&mut self, program: &[u32], part: usize) -> Option<Truth> {
        let (pack, piece, belief) = self.judge_parts();
        let mut chance = |part: usize, state: u16| belief.chance(pack, piece, part, state).ok();
        let is_there = part < piece.parts().len();
        is_there.then(|| Judge::new(pack, piece, &mut chance).holds_by(program, part))
    }

    /// Judges each sentence (its subject and its condition) on each part that
    /// it is about.
    pub(crate) fn calls(
        &mut self,
        sentences: impl Iterator<Item = (u16, u32)>,
        mut found: impl FnMut(Call),
    ) {
        let (pack, piece, belief) = self.judge_parts();
        let mut chance = |part: usize, state: u16| belief.chance(pack, piece, part, state).ok();
        let mut judge = Judge::new(pack, piece, &mut chance);
        for (sentence, (subject, condition)) in sentences.enumerate() {
            for (part, record) in piece.parts().iter().enumerate() {
                if record.kind != subject && !(subject == 0 && part == 0) {
                    continue;
                }
                let truth = judge.holds(condition, part);
                if truth != Truth::False {
                    found(Call {
                        sentence,
                        part,
                        truth,
                    });
                }
            }
        }
    }
}
