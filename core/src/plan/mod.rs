//! The jobs and cautions that follow from what was seen.

use crate::inspection::Inspection;
use crate::logic::Truth;
use crate::logic::condition::Judge;
use crate::number::{Number, Share};
use crate::pack::NONE;

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
    pub fn plans(&mut self, mut found: impl FnMut(Call)) {
        for sentence in 0..self.pack().plans() {
            let plan = self.pack().plan(sentence);
            self.calls(plan.subject, plan.condition, sentence, &mut found);
        }
    }

    /// Every caution that is called for, or may yet be.
    pub fn cautions(&mut self, mut found: impl FnMut(Call)) {
        for sentence in 0..self.pack().cautions() {
            let caution = self.pack().caution(sentence);
            self.calls(caution.subject, caution.condition, sentence, &mut found);
        }
    }

    /// Whether the condition that starts there holds for a part.
    pub fn holds(&mut self, condition: u32, part: usize) -> Truth {
        let (pack, piece, belief) = self.judge_parts();
        let chance = |part: usize, state: u16| {
            belief
                .chance(pack, piece, part, state)
                .unwrap_or(Share::default())
        };
        Judge::new(pack, piece, chance).holds(condition, part)
    }

    fn calls(
        &mut self,
        subject: u16,
        condition: u32,
        sentence: usize,
        found: &mut impl FnMut(Call),
    ) {
        for part in 0..self.piece().parts().len() {
            let place = self
                .pack()
                .place(usize::from(self.piece().part(part).place));
            if place.kind != subject && !(subject == 0 && place.owner == NONE) {
                continue;
            }
            let truth = self.holds(condition, part);
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
