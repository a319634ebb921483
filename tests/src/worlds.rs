//! Chances by looking at every world, one by one.

use tellmark_compile::ground::Ground;

/// Which states hold.
pub type World<'w> = &'w dyn Fn(usize) -> bool;

/// Calls `each` with every world that is possible: its weight, and which states hold
/// in it.
///
/// A world is a choice of true or false for each state in use; its weight is
/// the product, over the states, of their chance given the rules whose
/// conditions hold in that world, and of the likelihood of what was answered.
///
/// # Panics
/// If there are more than 20 states in use.
pub fn for_each(
    ground: &Ground,
    likelihoods: &[(f64, f64)],
    each: impl FnMut(f64, &dyn Fn(usize) -> bool),
) {
    for_each_with(ground, likelihoods, &|_| 1.0, each);
}

/// The same, where some answers are about several states together: `jointly` says how
/// likely those are in a world.
///
/// # Panics
/// If there are more than 20 states in use.
pub fn for_each_with(
    ground: &Ground,
    likelihoods: &[(f64, f64)],
    jointly: &dyn Fn(World<'_>) -> f64,
    mut each: impl FnMut(f64, &dyn Fn(usize) -> bool),
) {
    let used: Vec<usize> = (0..ground.states.len())
        .filter(|&s| ground.states[s].in_use)
        .collect();
    assert!(used.len() <= 20, "too many states to enumerate");
    let mut bit = vec![None; ground.states.len()];
    for (i, &state) in used.iter().enumerate() {
        bit[state] = Some(i);
    }
    for world in 0_u32..1 << used.len() {
        let holds = |state: usize| bit[state].is_some_and(|b| world >> b & 1 == 1);
        let mut weight = 1.0;
        for &state in &used {
            let record = &ground.states[state];
            let mut absent = 1.0 - record.own;
            for cause in &record.causes {
                if cause.when.holds(&holds) {
                    absent *= 1.0 - cause.weight;
                }
            }
            let (no, yes) = likelihoods[state];
            weight *= if holds(state) {
                (1.0 - absent) * yes
            } else {
                absent * no
            };
            if weight == 0.0 {
                break;
            }
        }
        if weight > 0.0 {
            weight *= jointly(&holds);
        }
        if weight > 0.0 {
            each(weight, &holds);
        }
    }
}

/// The chance of every state, given how likely the answers are if each state
/// does not and does hold, and in each world; `None` if the answers cannot all be true.
#[must_use]
pub fn posteriors(
    ground: &Ground,
    likelihoods: &[(f64, f64)],
    jointly: &dyn Fn(World<'_>) -> f64,
) -> Option<Vec<f64>> {
    let mut total = 0.0;
    let mut with = vec![0.0; ground.states.len()];
    for_each_with(ground, likelihoods, jointly, |weight, holds| {
        total += weight;
        for (state, with) in with.iter_mut().enumerate() {
            if holds(state) {
                *with += weight;
            }
        }
    });
    (total > 0.0).then(|| with.iter().map(|w| w / total).collect())
}

/// Whether a state would be a reason for itself. Reading refuses such rules; those that are
/// made up at random may have one where a mark of a measure leads to a lower level.
#[must_use]
pub fn has_circle(ground: &Ground) -> bool {
    let mut settled = vec![false; ground.states.len()];
    loop {
        let is_free = |state: usize| {
            let mut free = true;
            for cause in &ground.states[state].causes {
                cause.when.states(&mut |from| free &= settled[from]);
            }
            free
        };
        let next: Vec<usize> = (0..settled.len())
            .filter(|&state| !settled[state] && is_free(state))
            .collect();
        if next.is_empty() {
            return settled.contains(&false);
        }
        next.into_iter().for_each(|state| settled[state] = true);
    }
}
