//! How many bench hours a piece will take.
//!
//! Nobody knows before it is apart. Every world that the findings allow has its
//! chance and its jobs (`called.rs` says which), every job its time between a quickest
//! and a slowest ([`Pert`]), and the total has a distribution, which is worked out
//! exactly, with everything that hangs together hanging together: a racked carcase
//! makes a loose back likelier, and both are dear.

mod called;
mod condition;
mod pert;
mod spread;
mod worth;

pub use called::Task;
pub use condition::{Bounds, Found};
pub use pert::Pert;
pub use spread::Spread;

use std::collections::{BTreeMap, BTreeSet};
use tellmark_core::pack::{Nature, Pack};
use tellmark_core::piece::SetUpError;
use tellmark_core::plan::Status;

use tellmark_compile::Laid;
use tellmark_compile::flat::Flat;
use tellmark_compile::ground::{Claim, Ground};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Case, SetUp};
use worth::{Moments, backwards, forwards};

/// A piece's jobs, and what they hang on.
#[derive(Clone, Debug)]
pub struct Work {
    /// The rules, part by part.
    pub ground: Ground,
    /// How likely the findings are if each state does not and does hold (up to a
    /// factor for each state, which keeps the numbers within range).
    pub likelihoods: Vec<(f64, f64)>,
    /// What may have to be done.
    pub tasks: Vec<Task>,
    /// How long each takes; `None` where the rules do not say.
    pub times: Vec<Option<Pert>>,
    /// States that nobody knows yet, and could.
    pub unseen: Vec<usize>,
}

/// Why hours cannot be worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoHours {
    /// The findings cannot all be true.
    Clash,
    /// The rules tie too many parts of the piece together.
    TooTangled,
}

/// Bench hours, and what they hang on.
#[derive(Clone, Debug, PartialEq)]
pub struct Hours {
    /// The chance of each task to be done, in the order of [`Work::tasks`]; 1 if it is
    /// done whatever is hidden, `None` if nobody can say.
    pub chances: Vec<Option<f64>>,
    /// Mean and standard deviation of the total.
    pub mean: f64,
    /// See `mean`.
    pub deviation: f64,
    /// Everything.
    pub total: Spread,
    /// How much knowing each of [`Work::unseen`] would narrow it, widest first.
    pub widens: Vec<Widens>,
}

/// What one unseen thing has to do with the width of the range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Widens {
    /// The state.
    pub state: usize,
    /// Its chance.
    pub chance: f64,
    /// Mean hours if it is not so, and if it is.
    pub means: (f64, f64),
    /// The standard deviation that is to be expected once it is known: the root of
    /// the mean variance.
    pub deviation: f64,
}

impl Work {
    /// What may have to be done on a piece. `status` says of a job (by its number) and
    /// the part that it would be done for where it stands; `done` lists the jobs that are done
    /// and that others must follow, each with its part.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn of(
        set_up: &SetUp<'_>,
        pack: Pack<'_>,
        case: &mut Case<'_, f64>,
        status: &dyn Fn(u16, usize) -> Status,
        done: &[(u16, usize)],
    ) -> Result<Self, SetUpError> {
        let ground = set_up.ground(&case.inspection);
        let mut room = Room::<f64>::default();
        let mut bare = set_up.bare(pack, &mut room)?;
        let (mut likelihoods, mut unseen) = (Vec::new(), Vec::new());
        for part in 0..ground.parts.len() {
            for (slot, row) in pack.states_of(ground.parts[part].place).enumerate() {
                let likelihoods_here = case.inspection.likelihoods(part, slot);
                let (no, yes) = likelihoods_here.unwrap_or((1.0, 1.0));
                let before = bare.weights(part, slot).unwrap_or((1.0, 1.0));
                let usual = (no * before.0 + yes * before.1) / (before.0 + before.1);
                let scale = if usual.is_normal() { usual } else { 1.0 };
                let state = likelihoods.len();
                likelihoods.push((no / scale, yes / scale));
                let nature = pack.state(usize::from(row)).nature;
                let is_open = no > 0.0 && yes > 0.0;
                let could_be_known = match nature {
                    Nature::Hidden => is_open,
                    Nature::Seen | Nature::Mark | Nature::Divides => is_open && no == yes,
                };
                if could_be_known && ground.states[state].in_use {
                    unseen.push(state);
                }
            }
        }
        let mut tasks = called::tasks(set_up.model, set_up.built, &ground, case, status, done);
        let (mut ground, mut likelihoods) = (ground, likelihoods);
        if let Some(later) = set_up.later {
            // What is to be done is about the piece as it is now.
            for (_, claim) in tasks.iter_mut().flat_map(|task| &mut task.when) {
                *claim = later.now(claim);
            }
            let now = unseen.iter().map(|&state| later.state_now(state));
            unseen = now.filter(|&state| !later.is_known(state)).collect();
            likelihoods = later.likelihoods();
            ground = later.ground().clone();
        }
        let times = tasks.iter().map(|task| {
            let takes = set_up.model.jobs[task.job.index()].takes;
            takes.map(Pert::from)
        });
        Ok(Self {
            likelihoods,
            unseen,
            times: times.collect(),
            tasks,
            ground,
        })
    }

    /// Which tasks are done whatever is hidden.
    #[must_use]
    pub fn certain(&self) -> Vec<bool> {
        self.and_what_they_need(|task| task.is_certain)
    }

    /// Which tasks have a chance: not those of which nobody can say anything.
    fn weighed(&self) -> Vec<bool> {
        let may_be = |claim: &Claim| *claim != Claim::Known(false);
        self.and_what_they_need(|task| task.when.iter().any(|(_, claim)| may_be(claim)))
    }

    /// The tasks that are so, and what they need.
    fn and_what_they_need(&self, is_so: impl Fn(&Task) -> bool) -> Vec<bool> {
        let mut called: Vec<bool> = self.tasks.iter().map(is_so).collect();
        loop {
            let tasks = self.tasks.iter().zip(&called);
            let next: Vec<bool> = tasks
                .map(|(task, &is)| is || task.needed_by.iter().any(|&by| called[by]))
                .collect();
            if next == called {
                return called;
            }
            called = next;
        }
    }

    /// These tasks, in groups that are done in the same worlds: a frame that is taken apart must be
    /// glued again, and is glued only once it was taken apart.
    fn done_together(&self, open: &[usize]) -> Vec<Vec<usize>> {
        let needing: BTreeMap<usize, BTreeSet<usize>> =
            open.iter().map(|&at| (at, self.all_needing(at))).collect();
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for &at in open {
            if groups.iter().any(|group| group.contains(&at)) {
                continue;
            }
            let others = open.iter().copied().filter(|&other| {
                other == at || (needing[&at].contains(&other) && needing[&other].contains(&at))
            });
            groups.push(others.collect());
        }
        groups
    }

    /// The tasks that need this one, or that it must follow, directly or by way of others.
    fn all_needing(&self, task: usize) -> BTreeSet<usize> {
        let mut all = BTreeSet::new();
        let mut open = vec![task];
        while let Some(at) = open.pop() {
            for &by in &self.tasks[at].needed_by {
                if all.insert(by) {
                    open.push(by);
                }
            }
        }
        all
    }

    /// The circuit of the piece: an input for each task that may be done or not, then
    /// one for each of these states.
    fn circuit(&self, certain: &[bool], watched: &[usize]) -> Result<(Laid, Vec<usize>), NoHours> {
        let mut wanted = watched.to_vec();
        for task in &self.tasks {
            for (_, claim) in &task.when {
                claim.states(&mut |state| wanted.push(state));
            }
        }
        let mut flat = Flat::of(&self.ground, &self.likelihoods, wanted);
        let weighed = self.weighed();
        let open: Vec<usize> = (0..self.tasks.len())
            .filter(|&t| weighed[t] && !certain[t])
            .collect();
        let mut formulas: Vec<Option<_>> = vec![None; self.tasks.len()];
        let groups = self.done_together(&open);
        // What needs a group comes before it: circles are within groups.
        for _ in 0..=groups.len() {
            for group in &groups {
                let needs: BTreeSet<usize> = group
                    .iter()
                    .flat_map(|&at| self.tasks[at].needed_by.iter().copied())
                    .filter(|by| open.contains(by) && !group.contains(by))
                    .collect();
                let is_done = group.iter().all(|&at| formulas[at].is_some());
                if is_done || needs.iter().any(|&by| formulas[by].is_none()) {
                    continue;
                }
                let own = group.iter().flat_map(|&at| &self.tasks[at].when);
                let own: Vec<_> = own
                    .map(|(part, claim)| (*part, flat.formula(claim)))
                    .collect();
                let by = needs
                    .iter()
                    .filter_map(|&by| Some((self.tasks[by].part, formulas[by].clone()?)));
                let formula = flat.any(own.into_iter().chain(by).collect());
                let formula = flat.shared(formula);
                for &at in group {
                    formulas[at] = Some(formula.clone());
                }
            }
        }
        for (input, &task) in open.iter().enumerate() {
            if let Some(formula) = formulas[task].clone() {
                flat.weigh(formula, input);
            }
        }
        for (i, &state) in watched.iter().enumerate() {
            let formula = flat.formula(&Claim::State(state, true));
            flat.weigh(formula, open.len() + i);
        }
        let inputs = open.len() + watched.len();
        let laid = flat.finish(inputs).map_err(|_| NoHours::TooTangled)?;
        Ok((laid, open))
    }

    /// Hours of these tasks alone, all of them done.
    #[must_use]
    pub fn hours_of(&self, is_of: impl Fn(&Task) -> bool) -> Spread {
        let tasks = self.tasks.iter().zip(&self.times);
        let times = tasks.filter(|(task, _)| is_of(task));
        let times: Vec<Pert> = times.filter_map(|(_, time)| *time).collect();
        spread::total(&NOTHING, self.step(), &times, &[])
    }

    /// Steps that are fine enough for all hours together.
    fn step(&self) -> f64 {
        spread::step_for(self.times.iter().flatten().map(Pert::most).sum())
    }

    /// Works the hours out.
    ///
    /// # Errors
    /// See [`NoHours`].
    pub fn hours(&self) -> Result<Hours, NoHours> {
        self.hours_in_steps(self.step())
    }

    /// Works the hours out, in steps of so many hours.
    ///
    /// # Errors
    /// See [`NoHours`].
    pub fn hours_in_steps(&self, step: f64) -> Result<Hours, NoHours> {
        let certain = self.certain();
        let fixed: Vec<Pert> = (0..self.tasks.len())
            .filter(|&t| certain[t])
            .filter_map(|t| self.times[t])
            .collect();
        let of_fixed = |each: fn(&Pert) -> f64| fixed.iter().map(each).sum::<f64>();

        let (wide, open) = self.circuit(&certain, &self.unseen)?;
        let inputs: Vec<Moments> = open
            .iter()
            .map(|&t| {
                self.times[t].map_or(Moments::new(0.0, 0.0), |p| {
                    Moments::new(p.mean(), p.variance())
                })
            })
            .chain(self.unseen.iter().map(|_| Moments::new(0.0, 0.0)))
            .collect();
        let values = forwards(&wide, &inputs);
        let slopes = backwards(&wide, &values);
        let output = wide.outputs.first().map(|&o| values[o]);
        let all = output.filter(|o| o.weight > 0.0).ok_or(NoHours::Clash)?;
        let (open_mean, open_variance) = all.mean_and_variance().ok_or(NoHours::Clash)?;
        let variance = open_variance + of_fixed(Pert::variance);

        let mut chances: Vec<Option<f64>> = certain.iter().map(|&is| is.then_some(1.0)).collect();
        for (&task, slope) in open.iter().zip(&slopes) {
            chances[task] = Some((slope.weight / all.weight).clamp(0.0, 1.0));
        }
        let fixed_mean = of_fixed(Pert::mean);
        let mut widens: Vec<Widens> = self
            .unseen
            .iter()
            .zip(&slopes[open.len()..])
            .filter_map(|(&state, with)| {
                let chance = with.weight / all.weight;
                let rest = (all.weight - with.weight, all.first - with.first);
                if !(UNLIKELY..=1.0 - UNLIKELY).contains(&chance) {
                    return None;
                }
                let (no, yes) = (rest.1 / rest.0, with.first / with.weight);
                let apart = chance * (1.0 - chance) * (yes - no).powi(2);
                Some(Widens {
                    state,
                    chance,
                    means: (fixed_mean + no, fixed_mean + yes),
                    deviation: (variance - apart).max(0.0).sqrt(),
                })
            })
            .collect();
        widens.sort_by(|a, b| a.deviation.total_cmp(&b.deviation));

        let (narrow, open) = self.circuit(&certain, &[])?;
        let perhaps: Vec<Option<Pert>> = open.iter().map(|&t| self.times[t]).collect();
        Ok(Hours {
            chances,
            mean: fixed_mean + open_mean,
            deviation: variance.sqrt(),
            total: spread::total(&narrow, step, &fixed, &perhaps),
            widens,
        })
    }
}

/// What is less likely than this, or likelier than the opposite, widens nothing.
const UNLIKELY: f64 = 1e-6;

/// A circuit without inputs, whose value is taken for 1.
const NOTHING: Laid = Laid {
    constants: Vec::new(),
    inputs: 0,
    steps: Vec::new(),
    outputs: Vec::new(),
};
