//! What a tick mends: which states of which parts.
//!
//! A job mends what stands after its `Mends:`, on the part that it was done for; of a state
//! of smaller parts on each of them that is built into it, of one of something larger on what
//! it is built into. Work of one's own mends what its line says.

use tellmark_core::inspection::Inspection;
use tellmark_core::number::Number;

use super::progress::Marked;
use crate::record::{Entry, Says};
use tellmark_compile::set_up::{SetUp, resolve};
use tellmark_language::AnswerReader;
use tellmark_language::model::{PIECE, StateId};

/// What a ticked job mends, each state once; `entry` is the line that ticks it.
///
/// # Errors
/// What is wrong with the words of the line.
pub(super) fn mended<N: Number>(
    set_up: &SetUp<'_>,
    inspection: &Inspection<'_, '_, N>,
    reader: &AnswerReader<'_>,
    marked: &Marked,
    entry: Option<&Entry>,
) -> Result<Vec<(usize, StateId)>, String> {
    let job = marked.index.and_then(|job| set_up.model.jobs.get(job));
    let mends = job.map_or(&[][..], |job| &job.mends);
    let all: Vec<usize> = (0..inspection.piece().parts().len()).collect();
    let on = match marked.parts.indices.as_slice() {
        [] => all.as_slice(),
        parts => parts,
    };
    let mut found = Vec::new();
    for &state in mends {
        for &part in on {
            add(&mut found, of_kind(set_up, inspection, part, state), state);
        }
    }
    let said = entry.map(|entry| &entry.says);
    if let Some(Says::Done { mends, .. }) = said {
        for words in mends {
            let (part, state) = reader.state(words).map_err(|message| message.said())?;
            let parts = resolve(set_up.built, inspection, &part);
            // A tick that was taken back for some of its parts mends nothing there.
            let left = parts.into_iter().filter(|&part| {
                let owners = inspection.piece().owners(part);
                let is_on = |at: &usize| on.contains(at);
                marked.parts.names.is_empty()
                    || on
                        .iter()
                        .any(|&at| inspection.piece().owners(at).any(|o| o == part))
                    || std::iter::once(part).chain(owners).any(|at| is_on(&at))
            });
            add(&mut found, left.collect(), state);
        }
    }
    Ok(found)
}

fn add(found: &mut Vec<(usize, StateId)>, parts: Vec<usize>, state: StateId) {
    for part in parts {
        if !found.contains(&(part, state)) {
            found.push((part, state));
        }
    }
}

/// The parts of which a state is said, for a job that was done for this part.
fn of_kind<N: Number>(
    set_up: &SetUp<'_>,
    inspection: &Inspection<'_, '_, N>,
    part: usize,
    state: StateId,
) -> Vec<usize> {
    let (piece, places) = (inspection.piece(), &set_up.built.places);
    let Some(kind) = set_up.model.states.get(state.index()).map(|s| s.kind) else {
        return Vec::new();
    };
    let is_of = |at: usize| {
        let record = piece.part(at);
        let own = record.is_some_and(|r| places.kind(usize::from(r.place)) == kind);
        own || (kind == PIECE && at == 0)
    };
    if is_of(part) {
        return vec![part];
    }
    let inside = (0..piece.parts().len())
        .filter(|&at| is_of(at) && piece.owners(at).any(|owner| owner == part));
    let inside: Vec<usize> = inside.collect();
    if inside.is_empty() {
        return piece
            .owners(part)
            .find(|&at| is_of(at))
            .into_iter()
            .collect();
    }
    inside
}
