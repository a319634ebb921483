//! What is worked out for a list when it is opened: likely faults, cautions,
//! jobs. Lists are short: the unit shows what matters most.

use heapless::Vec;

use crate::inspection::Inspection;
use crate::number::{Number, Share};
use crate::pack::Nature;
use crate::plan::{self, Seat, Task};
use crate::slices::insert;
use crate::truth::Truth;

/// Faults listed.
pub const SUSPECTS: usize = 24;
/// Cautions listed, one for each part they are about.
pub const CAUTIONS: usize = 32;
/// Jobs listed, one for each part that calls for them.
pub const JOBS: usize = 96;
/// Jobs of a pack that can be put in order.
const MOST_JOBS: usize = 128;
/// Constraints of a pack that can be gone by.
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
    /// It is called for; else it may yet be.
    pub sure: bool,
}

fn short(number: usize) -> u16 {
    u16::try_from(number).unwrap_or(u16::MAX)
}

/// The likeliest hidden faults, the likeliest first; those that read the same
/// in the order of the parts.
pub fn suspects<N: Number>(inspection: &mut Inspection<'_, '_, N>) -> Vec<Suspect, SUSPECTS> {
    let mut found: Vec<Suspect, SUSPECTS> = Vec::new();
    let pack = *inspection.pack();
    let thousandths = |chance: Share| (chance.units() * 1000 + (1 << 31)) >> 32;
    for part in 0..inspection.piece().parts().len() {
        let place = usize::from(inspection.piece().part(part).place);
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

/// The cautions that hold, stops first.
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

/// The jobs, in the order in which they are to be done. Should that take more
/// memory than there is here, those called for come before those that may yet be,
/// in the order of the rules.
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
        |_, _| true,
    );
    let mut found: Vec<Called, JOBS> = Vec::new();
    if let Ok(order) = order {
        for task in order.tasks() {
            // There were no more tasks to lend than the list has room for.
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
