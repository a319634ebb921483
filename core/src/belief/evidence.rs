//! What was answered about a part, as evidence: the likelihoods that enter its circuit,
//! and which of the states that it reads are known for certain.

use super::{Belief, fragment, likelihood};
use crate::number::Number;
use crate::pack::{Group, Layout, NONE, Pack};
use crate::piece::{Answer, Piece};

/// What was answered to an ask of a part; nothing, if it has no such ask.
pub(super) fn answered(layout: &Layout, answers: &[Answer], ask: u16) -> Answer {
    layout
        .ask_slot(ask)
        .and_then(|slot| answers.get(slot))
        .copied()
        .unwrap_or_default()
}

/// Whether anything was answered about a part.
pub(super) fn says_something(piece: &Piece<'_>, part: usize) -> bool {
    let mut answers = piece.answers_of(part).iter();
    answers.any(|answer| answer.says_something())
}

impl<N: Number> Belief<'_, N> {
    /// Which value each state that the part reads is known to have, as two
    /// sets of bits: known, and known to hold.
    pub(super) fn clamped(
        pack: &Pack<'_>,
        piece: &Piece<'_>,
        part: usize,
        reads: u8,
    ) -> (u16, u16) {
        let (mut known, mut holds) = (0, 0);
        for read in 0..usize::from(reads) {
            if let Some(yes) = Self::clamp(pack, piece, part, read) {
                known |= 1 << read;
                holds |= u16::from(yes) << read;
            }
        }
        (known, holds)
    }

    /// Which value a state that the part reads is known to have.
    fn clamp(pack: &Pack<'_>, piece: &Piece<'_>, part: usize, read: usize) -> Option<bool> {
        let (mut part, mut read) = (part, read);
        loop {
            let record = piece.record(part);
            if record.owner == NONE {
                return None;
            }
            let owner = usize::from(record.owner);
            let place = usize::from(piece.record(owner).place);
            let fragment = fragment(pack, place);
            let g = pack
                .children(place)
                .position(|c| c == usize::from(record.place))?;
            let source = *pack.program(&fragment).group(g).sources.get(read)?;
            if source == NONE {
                return None;
            }
            if source & Group::READ == 0 {
                if !says_something(piece, owner) {
                    return None;
                }
                let state = pack.states_of(place).nth(usize::from(source))?;
                let state = pack.state(usize::from(state));
                let layout = pack.layout(place);
                let answers = piece.answers_of(owner);
                let answer = |ask| answered(&layout, answers, ask);
                if !likelihood::may_be_firm(pack, &state, &answer) {
                    return None;
                }
                let (no, yes) = likelihood::of::<N>(pack, &layout, &state, &answer);
                return match (no.is_zero(), yes.is_zero()) {
                    (true, false) => Some(true),
                    (false, true) => Some(false),
                    _ => None,
                };
            }
            read = usize::from(source & !Group::READ);
            part = owner;
        }
    }

    /// Which of the states that the part reads are known, and which of those
    /// hold, as bits of an entry of its message.
    pub(super) fn known_reads(&self, part: usize) -> (usize, usize) {
        self.desks.get(part).map_or((0, 0), |desk| {
            (usize::from(desk.known), usize::from(desk.holds))
        })
    }
}
