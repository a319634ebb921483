//! Ladders of which it is known that some rung is called for, and not which: a top is cracked, and
//! nobody has measured how wide.

use std::collections::BTreeMap;

use tellmark_compile::set_up::{Case, SetUp};
use tellmark_core::number::UFloat;
use tellmark_core::truth::Truth;
use tellmark_language::model::{JobId, Ladder, Nature, StateId, Ticks};

use super::hangs::parts_of_kind;

/// The ladders of which one rung is called for on a part, by the job and the part of each of their
/// rungs: the index of the ladder.
pub(super) type Rungs = BTreeMap<(usize, usize), usize>;

/// The rungs of which one is called for, and nobody knows which.
pub(super) fn open_rungs(set_up: &SetUp<'_>, case: &Case<'_, UFloat>) -> Rungs {
    let model = set_up.model;
    let (pack, piece) = (case.inspection.pack(), case.inspection.piece());
    let mut open = Rungs::new();
    // Where a ladder hangs on something else as well, it may be that none of it is called for.
    let ladders = model.ladders.iter().enumerate();
    for (index, ladder) in ladders.filter(|(_, ladder)| ladder.when.is_none()) {
        let Some(sign) = model.signs.get(ladder.sign.index()) else {
            continue;
        };
        let nothing = nothing_up_to(ladder);
        // What is so from where something is called for: "is cracked", at least 0.5 mm, where up
        // to 0.5 mm calls for nothing.
        let marks = model.states.iter().enumerate().filter(|(_, state)| {
            matches!(&state.nature, Nature::CountsAs { sign, mark }
                if *sign == ladder.sign && nothing.is_none_or(|most| mark.at_least >= most))
        });
        let marks = marks.filter_map(|(at, _)| u16::try_from(at).ok());
        let marks = marks.map(|at| set_up.built.states.number(StateId(at)));
        let marks: Vec<_> = marks
            .map(|number| pack.state(usize::from(number)))
            .collect();
        for part in parts_of_kind(pack, piece, sign.kind) {
            let is_so = |state| piece.truth(pack, part, state) == Truth::True;
            if marks.iter().any(is_so) {
                let jobs = ladder.rungs.iter().filter_map(|(_, job)| *job);
                open.extend(
                    jobs.chain(ladder.more)
                        .map(|job: JobId| ((job.index(), part), index)),
                );
            }
        }
    }
    open
}

/// Up to how much a ladder calls for nothing; `None` if it always calls for something.
fn nothing_up_to(ladder: &Ladder) -> Option<Ticks> {
    let nothing = ladder.rungs.iter().take_while(|(_, job)| job.is_none());
    nothing.last().map(|(most, _)| *most)
}
