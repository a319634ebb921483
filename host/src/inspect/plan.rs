//! What to do, and in what order.

use tellmark_core::logic::Truth;
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Force, Pack};
use tellmark_core::piece::SetUpError;
use tellmark_core::plan::{Memory, Order, Reason, Seat, Task, Times, TooSmall};

use super::apply::SetUp;
use super::parts::part_ref;
use super::standing::{Caution, Clash};
use crate::room::Room;
use crate::words;

/// One job of the plan, with the parts that it is done for.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Index of the job in the model.
    pub job: usize,
    /// The parts for which it is certain.
    pub certain: Vec<String>,
    /// The parts for which it is not known yet, each with the chance that it will
    /// be called for, where that can be said.
    pub perhaps: Vec<(String, Option<f64>)>,
    /// Only other jobs need it: this one, by its index.
    pub needed_by: Option<usize>,
    /// What must come before it, and why.
    pub after: Vec<After>,
    /// Minutes that must have been waited for before it, least and most.
    pub waits: [u32; 2],
    /// Cautions that must be heeded here, as indices into the plan's list.
    pub cautions: Vec<usize>,
}

/// A job that comes before, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct After {
    /// Index of the job that comes before.
    pub job: usize,
    /// In the rules' own words; empty if they do not say.
    pub because: String,
    /// How it says so.
    pub force: Force,
}

/// The plan of a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkPlan {
    /// What to do, in order.
    pub steps: Vec<Step>,
    /// What it takes.
    pub times: Times,
    /// Advice that it goes against: the job that comes too early by it, and what
    /// it should come after.
    pub against: Vec<(usize, After)>,
    /// Jobs that the rules never plan together.
    pub at_odds: Vec<(usize, usize)>,
    /// Cautions that hold.
    pub cautions: Vec<Caution>,
    /// Set if the answers cannot all be true; then there is no plan.
    pub clash: Option<Clash>,
}

/// Room for tasks at the first try, and the most there can be.
const TASKS: (usize, usize) = (512, 1 << 20);

/// Works out the plan.
///
/// # Errors
/// If the piece cannot be set up.
pub fn plan(set_up: &SetUp<'_>, pack: Pack<'_>) -> Result<WorkPlan, SetUpError> {
    let mut room = Room::<UFloat>::default();
    let mut case = set_up.case(pack, &mut room)?;
    if let Some(clash) = case.clash() {
        return Ok(WorkPlan {
            steps: Vec::new(),
            times: Times::default(),
            against: Vec::new(),
            at_odds: Vec::new(),
            cautions: Vec::new(),
            clash: Some(clash),
        });
    }
    let mut seats = vec![Seat::FREE; pack.jobs()];
    let mut broken = vec![false; pack.constraints()];
    let mut tasks = vec![Task::NONE; TASKS.0];
    while let Err(why) = case.inspection.order(Memory {
        tasks: &mut tasks,
        seats: &mut seats,
        broken: &mut broken,
    }) {
        let more = tasks.len() * 4;
        if why != TooSmall::Tasks || more > TASKS.1 {
            return Err(SetUpError::TooManyParts);
        }
        tasks.resize(more, Task::NONE);
    }
    let cautions = case.cautions(set_up);
    let mut bites: Vec<(usize, usize)> = Vec::new();
    let mut calls = Vec::new();
    case.inspection.cautions(|call| {
        if call.truth == Truth::True {
            calls.push(call);
        }
    });
    let memory = Memory {
        tasks: &mut tasks,
        seats: &mut seats,
        broken: &mut broken,
    };
    let order = case
        .inspection
        .order(memory)
        .map_err(|_| SetUpError::TooManyParts)?;
    let piece = case.inspection.piece();
    for call in calls {
        let listed = cautions.iter().position(|c| c.caution == call.sentence);
        if let (Some(listed), Some(task)) = (listed, order.bites_at(piece, call.part)) {
            bites.push((task, listed));
        }
    }
    let name = |part: u16| {
        let reference = part_ref(&set_up.built.places, piece.parts(), usize::from(part));
        words::part_name(set_up.model, &reference)
    };
    Ok(WorkPlan {
        steps: steps(&order, &pack, &bites, &name),
        times: order.times(&pack),
        against: order
            .against(&pack)
            .map(|(job, reason)| (usize::from(job), after(&pack, &reason)))
            .collect(),
        at_odds: order
            .at_odds(&pack)
            .map(|(one, other)| (usize::from(one), usize::from(other)))
            .collect(),
        cautions,
        clash: None,
    })
}

fn after(pack: &Pack<'_>, reason: &Reason) -> After {
    After {
        job: usize::from(reason.before),
        because: pack.text(reason.because).to_owned(),
        force: reason.force,
    }
}

/// The tasks of one job stand together, and make one step.
fn steps(
    order: &Order<'_>,
    pack: &Pack<'_>,
    bites: &[(usize, usize)],
    name: &dyn Fn(u16) -> String,
) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    for (at, task) in order.tasks().iter().enumerate() {
        let job = usize::from(task.job);
        if steps.last().is_none_or(|step| step.job != job) {
            let waits = order.waits_before(task.job);
            steps.push(Step {
                job,
                certain: Vec::new(),
                perhaps: Vec::new(),
                needed_by: task.needed_by.map(usize::from),
                after: order
                    .reasons(pack, task.job)
                    .map(|reason| after(pack, &reason))
                    .collect(),
                waits: waits.certain,
                cautions: Vec::new(),
            });
        }
        let Some(step) = steps.last_mut() else {
            continue;
        };
        if task.needed_by.is_none() {
            step.needed_by = None;
        }
        match task.truth {
            Truth::True => step.certain.push(name(task.part)),
            _ => {
                let chance = task.chance.map(|share| share.as_f64());
                step.perhaps.push((name(task.part), chance));
            }
        }
        for &(_, caution) in bites.iter().filter(|(task, _)| *task == at) {
            if !step.cautions.contains(&caution) {
                step.cautions.push(caution);
            }
        }
    }
    steps
}
