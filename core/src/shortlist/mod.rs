//! Short lists of what follows from the answers: the likeliest faults, the
//! cautions that hold, the jobs called for.
//!
//! Each list has a fixed size and keeps what matters most.

mod in_full;

pub use in_full::each_once;

use heapless::Vec;

use crate::inspection::Inspection;
use crate::number::{Number, Share};
use crate::pack::{Nature, Pack, Sentence};
use crate::plan::{self, Seat, Task};
use crate::slices::insert;
use crate::truth::Truth;

/// Faults listed.
pub const SUSPECTS: usize = 24;
/// Cautions listed, one for each part they are about.
pub const CAUTIONS: usize = 32;
/// Jobs listed, one for each part that calls for them.
pub const JOBS: usize = 96;
/// Most jobs of a pack that can be put in order.
const MOST_JOBS: usize = 128;
/// Most constraints of a pack that can be kept to.
const MOST_CONSTRAINTS: usize = 256;
/// Faults less likely than this, in thousandths, are not listed.
const LEAST: u16 = 50;

/// A hidden fault that may be there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Suspect {
    /// Index of the part.
    pub part: u16,
    /// Number of the state in the pack.
    pub state: u16,
    /// Its chance.
    pub chance: Share,
}

/// A caution that holds for a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Warned {
    /// Number of the caution in the pack.
    pub caution: u16,
    /// Index of the part.
    pub part: u16,
}

/// A job that a part calls for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Called {
    /// Number of the job in the pack.
    pub job: u16,
    /// Index of the part.
    pub part: u16,
    /// It is called for; otherwise it may yet be.
    pub sure: bool,
}

fn short(number: usize) -> u16 {
    u16::try_from(number).unwrap_or(u16::MAX)
}

/// The likeliest hidden faults, the likeliest first. Those that are equally
/// likely, to a thousandth, stand in the order of the parts.
#[inline(never)]
pub fn suspects<N: Number>(inspection: &mut Inspection<'_, '_, N>) -> Vec<Suspect, SUSPECTS> {
    let mut found: Vec<Suspect, SUSPECTS> = Vec::new();
    let pack = *inspection.pack();
    let thousandths = |chance: Share| (chance.units() * 1000 + (1 << 31)) >> 32;
    for part in 0..inspection.piece().parts().len() {
        let place = usize::from(inspection.piece().record(part).place);
        for state in pack.states_of(place) {
            if pack.state(usize::from(state)).nature != Nature::Hidden {
                continue;
            }
            let chance = inspection.chance(part, state).unwrap_or_default();
            if !chance.reaches(LEAST) {
                continue;
            }
            let likelier = |s: &Suspect| thousandths(s.chance) >= thousandths(chance);
            let at = found.iter().take_while(|s| likelier(s)).count();
            if found.is_full() && at < found.len() {
                found.pop();
            }
            // A full list keeps what is likelier.
            let suspect = Suspect {
                part: short(part),
                state,
                chance,
            };
            insert(&mut found, at, suspect);
        }
    }
    found
}

/// The sentences of the rules that give reasons for a state.
pub fn sentences<'a>(pack: &Pack<'a>, state: u16) -> impl Iterator<Item = Sentence> + use<'a> {
    let pack = *pack;
    (0..pack.sentences())
        .map(move |row| pack.sentence(row))
        .filter(move |sentence| sentence.state == state)
}

/// The cautions that hold, stops first.
#[inline(never)]
pub fn cautions<N: Number>(inspection: &mut Inspection<'_, '_, N>) -> Vec<Warned, CAUTIONS> {
    let pack = *inspection.pack();
    let mut found: Vec<Warned, CAUTIONS> = Vec::new();
    let mut stops = 0;
    inspection.cautions(|call| {
        if call.truth != Truth::True {
            return;
        }
        let warned = Warned {
            caution: short(call.sentence),
            part: short(call.part),
        };
        let stop = pack.caution(call.sentence).stop;
        let at = if stop { stops } else { found.len() };
        if stop && found.is_full() && stops < found.len() {
            found.pop();
        }
        if insert(&mut found, at, warned) && stop {
            stops += 1;
        }
    });
    found
}

/// The jobs, in the order in which they are to be done. If ordering them takes
/// more memory than is set aside here, those called for come first, then those
/// that may yet be, each in the order of the rules.
#[inline(never)]
pub fn jobs<N: Number>(inspection: &mut Inspection<'_, '_, N>) -> Vec<Called, JOBS> {
    let pack = *inspection.pack();
    let mut tasks = [Task::NONE; JOBS];
    let mut seats = [Seat::FREE; MOST_JOBS];
    let mut broken = [false; MOST_CONSTRAINTS];
    let order = inspection.order(
        plan::Memory {
            tasks: &mut tasks,
            seats: &mut seats,
            broken: &mut broken,
        },
        |_, _| plan::Status::ToDo,
        &[],
    );
    let mut found: Vec<Called, JOBS> = Vec::new();
    if let Ok(order) = order {
        for task in order.tasks() {
            // The list has room for as many tasks as were lent.
            let _ = found.push(Called {
                job: task.job,
                part: task.part,
                sure: task.truth == Truth::True,
            });
        }
        return found;
    }
    for wanted in [Truth::True, Truth::NotKnown] {
        inspection.plans(|call| {
            let called = Called {
                job: pack.plan(call.sentence).job,
                part: short(call.part),
                sure: wanted == Truth::True,
            };
            let known = |c: &Called| c.job == called.job && c.part == called.part;
            if call.truth == wanted && !found.iter().any(known) {
                let _ = found.push(called);
            }
        });
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::piece::Answer;
    use crate::sample::{answer, with_chest};

    #[test]
    fn the_likeliest_stands_first_and_jobs_follow_what_was_found() {
        with_chest(3, |chest| {
            answer(chest, "drawer 2", "stiff", Answer::Seen(true));
            let runner = "left runner of drawer 2";
            answer(chest, runner, "worn hollow", Answer::Certain(true));
            let found = suspects(chest);
            assert!(found.is_sorted_by(|a, b| a.chance >= b.chance));
            assert!(found.iter().all(|s| s.chance.reaches(LEAST)));
            let jobs = jobs(chest);
            let renew = chest.pack().find_job("fit a new runner");
            let called = |c: &&Called| Ok(c.job) == renew && c.sure;
            assert_eq!(jobs.iter().filter(called).count(), 1);
            let once = each_once(&jobs).filter(|c| Ok(c.job) == renew);
            assert_eq!(once.count(), 1);
        });
    }
}
