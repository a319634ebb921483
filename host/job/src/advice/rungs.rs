//! Ladders of which some rung is called for, or likely to be, and it is not known which: a top is
//! cracked, and nobody has measured how wide.

use std::collections::BTreeMap;

use tellmark_compile::set_up::{Case, SetUp};
use tellmark_core::number::UFloat;
use tellmark_core::truth::Truth;
use tellmark_language::model::{JobId, Ladder, Nature, StateId, Ticks};

use super::hangs::parts_of_kind;
use tellmark_language::words::reaches;

/// From this chance on, in hundredths, a ladder is told: three jobs are much to read for what is
/// hardly to be expected. It is where the standard price list gives a job a line of its own.
const TOLD: u8 = 40;

/// A ladder of which one rung is called for on a part, or likely to be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct OpenLadder {
    /// Its index in the model.
    pub(super) ladder: usize,
    /// The chance that one of its rungs is called for; `None` if it is certain.
    pub(super) chance: Option<f64>,
}

/// The ladders that are open on a part, by the job and the part of each of their rungs.
pub(super) type Rungs = BTreeMap<(usize, usize), OpenLadder>;

/// The rungs of which one is called for, or likely enough to be that it is told, and nobody knows
/// which.
pub(super) fn open_rungs(set_up: &SetUp<'_>, case: &mut Case<'_, UFloat>) -> Rungs {
    let model = set_up.model;
    let pack = *case.inspection.pack();
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
            .map(|number| (number, pack.state(usize::from(number))))
            .collect();
        for part in parts_of_kind(&pack, case.inspection.piece(), sign.kind) {
            let mut likeliest = 0.0;
            let mut is_certain = false;
            for (number, state) in &marks {
                let piece = case.inspection.piece();
                is_certain |= piece.truth(&pack, part, state) == Truth::True;
                if let Ok(chance) = case.inspection.chance(part, *number) {
                    likeliest = chance.as_f64().max(likeliest);
                }
            }
            if is_certain || reaches(likeliest, TOLD) {
                let here = OpenLadder {
                    ladder: index,
                    chance: (!is_certain).then_some(likeliest),
                };
                let jobs = ladder.rungs.iter().filter_map(|(_, job)| *job);
                open.extend(
                    jobs.chain(ladder.more)
                        .map(|job: JobId| ((job.index(), part), here)),
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
