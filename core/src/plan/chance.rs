//! How likely it is that a condition which is not known yet will turn out to hold.

use crate::inspection::Inspection;
use crate::number::{Number, Share};
use crate::pack::Trial;
use crate::pack::condition::{Look, Test, What, Whose, only_look};

impl<N: Number> Inspection<'_, '_, N> {
    /// The chance that a condition holds for a part, if it looks at one thing
    /// only, and that is a state of the part or of the piece: then it is among the
    /// chances that are known anyway. `None` for any other condition.
    pub(super) fn chance_of(&mut self, condition: u32, part: usize) -> Option<Share> {
        let pack = *self.pack();
        let asked = |part: usize, slot: u16| {
            let kind = pack.kind(usize::from(self.piece().record(part).kind));
            (part, kind.first_ask.saturating_add(slot))
        };
        let (at, state, yes) = match only_look(&pack, condition)? {
            Look::Own(slot, yes) => {
                let (at, ask) = asked(part, slot);
                (at, self.decided(at, ask, Trial::Yes)?, yes)
            }
            Look::Piece(slot, yes) => {
                let ask = pack.kind(0).first_ask.saturating_add(slot);
                (0, self.decided(0, ask, Trial::Yes)?, yes)
            }
            Look::Test(Test {
                whose: Whose::Own,
                what,
                yes,
            }) => match what {
                What::State(state) => (part, state, yes),
                What::Within(ask, from, to) => {
                    let state = self.decided(part, ask, Trial::Within(from, to))?;
                    (part, state, yes)
                }
                _ => return None,
            },
            _ => return None,
        };
        let place = usize::from(self.piece().record(at).place);
        let slot = pack.state_slot(place, state)?;
        let (no, with) = self.weights(at, slot).ok()?;
        // A state that no rule has to do with has no chance.
        if no.is_zero() && with.is_zero() {
            return None;
        }
        Some(if yes {
            N::share(with, no)
        } else {
            N::share(no, with)
        })
    }

    /// The state of a part that an ask decides in this way.
    fn decided(&self, part: usize, ask: u16, trial: Trial) -> Option<u16> {
        let pack = self.pack();
        let place = usize::from(self.piece().record(part).place);
        pack.states_of(place).find(|&state| {
            let state = pack.state(usize::from(state));
            state.ask == ask && state.trial == trial
        })
    }
}
