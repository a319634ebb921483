//! What was wrong and what was done, one repair after the other.

use super::super::when::noted;
use super::Gathering;
use super::album::At;
use super::together::{all_called, together};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};
use tellmark_compile::set_up::Mended;
use tellmark_core::piece::SetUpError;
use tellmark_job::advice::{Marked, Told, shown_by};
use tellmark_job::record::Stage;
use tellmark_language::model::{Found, JobId, Minutes, Nature, StateId, Sure, WorkStage};
use tellmark_language::words::{
    self, Plainly, capital, list, minutes, plain_fault, plain_job, the_part,
};

/// A repair.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Repair {
    /// From 1, in the order in which they were done.
    pub number: usize,
    /// What was wrong, or on what something was done: "The chest had been pushed out of
    /// square".
    pub heading: String,
    /// What else was wrong, and what was done.
    pub says: Vec<String>,
    /// Before it.
    pub before: Option<At>,
    /// After it.
    pub after: Option<At>,
    /// The numbers in the record of the parts that it is about: "A3".
    pub record: Vec<String>,
    /// The day, or days.
    pub day: String,
}

/// One job, with every tick of it.
struct Doing<'g> {
    job: &'g Marked,
    ticks: Vec<&'g Told<Marked>>,
}

/// The repairs, and what was done besides in a sentence or two.
pub(super) fn repairs(g: &Gathering<'_>) -> Result<(Vec<Repair>, String), SetUpError> {
    let mended = g.matter.view.mended_since()?;
    let mut repairs = Vec::new();
    let mut also = Vec::new();
    let mut seen = BTreeSet::new();
    for doing in doings(g) {
        let faults = faults(&doing, &mended);
        let mut targets: Vec<usize> = faults.values().flatten().copied().collect();
        targets.extend(doing.parts());
        let (before, after) = pair(g, &targets, &repairs);
        let is_shown = doing.is_on_a_part() && (before.is_some() || after.is_some());
        if faults.is_empty() && !doing.mends(g) && !is_shown {
            also.extend(doing.besides(g));
            continue;
        }
        let mut says = what_was_wrong(g, &faults);
        // Of work of one's own nobody has said that it was done for what was seen there.
        if says.is_empty() && doing.mends(g) && doing.index().is_some() {
            says = what_was_seen(g, &doing, &mut seen);
        }
        let mut done = doing.done(g);
        let heading = match (says.is_empty(), doing.is_on_a_part()) {
            (false, _) => says.remove(0),
            (true, true) => capital(&named(g, &doing.parts())),
            (true, false) if doing.index().is_none() => capital(&doing.job.job),
            // Nobody saw what was wrong: what was done says it all.
            (true, false) => done.remove(0),
        };
        let heading = heading.trim_end_matches('.').to_owned();
        says.extend(done);
        says.extend(did_not_hold(g, &doing).or_else(|| doubt(&doing, &mended)));
        targets.sort_unstable();
        targets.dedup();
        repairs.push(Repair {
            number: 0,
            heading,
            says,
            before,
            after,
            record: record(g, &targets),
            day: doing.days(),
        });
    }
    // Those with pictures stand together, and the others in few lines behind them.
    repairs.sort_by_key(|repair: &Repair| repair.before.is_none() && repair.after.is_none());
    for (number, repair) in (1..).zip(&mut repairs) {
        repair.number = number;
    }
    let also = besides(&also, !repairs.is_empty());
    Ok((repairs, also))
}

/// What shows some parts before and after the work; failing that, what they are built into, if
/// no other repair shows it.
fn pair(g: &Gathering<'_>, targets: &[usize], others: &[Repair]) -> (Option<At>, Option<At>) {
    let shown = |parts: &[usize]| {
        let of = |stage| g.album.of_parts(stage, parts);
        (of(Stage::Before), of(Stage::After))
    };
    let own = shown(targets);
    if own != (None, None) {
        return own;
    }
    let owner = |part: &usize| g.parts.get(*part).and_then(|part| part.owner);
    let mut owners = targets
        .iter()
        .flat_map(|&part| std::iter::successors(owner(&part), owner))
        .filter(|&owner| owner != 0);
    let is_new = |pair: &(Option<At>, Option<At>)| {
        let both = pair.0.is_some() && pair.1.is_some();
        both && others.iter().all(|one| (one.before, one.after) != *pair)
    };
    let found = owners.find_map(|owner| Some(shown(&[owner])).filter(is_new));
    found.unwrap_or((None, None))
}

/// The numbers in the record of some parts.
fn record(g: &Gathering<'_>, parts: &[usize]) -> Vec<String> {
    let numbers = g.numbers.iter().filter(|(part, _)| parts.contains(part));
    numbers.map(|(_, number)| number.clone()).collect()
}

/// Every job that is done, in the order of the first tick of each.
fn doings<'g>(g: &'g Gathering<'_>) -> Vec<Doing<'g>> {
    let mut doings: Vec<Doing<'g>> = Vec::new();
    for tick in g.matter.progress.done() {
        let same = |doing: &&mut Doing<'_>| doing.job.job.eq_ignore_ascii_case(&tick.what.job);
        match doings.iter_mut().find(same) {
            Some(doing) => doing.ticks.push(tick),
            None => doings.push(Doing {
                job: &tick.what,
                ticks: vec![tick],
            }),
        }
    }
    doings
}

/// The faults that it mended and that were so, each with its parts.
fn faults(doing: &Doing<'_>, mended: &[Mended]) -> BTreeMap<StateId, Vec<usize>> {
    let mut faults: BTreeMap<StateId, Vec<usize>> = BTreeMap::new();
    for one in mended.iter().filter(|one| one.was_there) {
        if doing.ticks.iter().any(|tick| tick.line == one.line) {
            let parts = faults.entry(one.state).or_default();
            if !parts.contains(&one.part) {
                parts.push(one.part);
            }
        }
    }
    faults
}

/// A sentence where what it mended was found again since.
fn did_not_hold(g: &Gathering<'_>, doing: &Doing<'_>) -> Option<String> {
    let now = g.matter.view.later()?;
    let is_of_it = |line: usize| doing.ticks.iter().any(|tick| tick.line == line);
    let mut mended = now.later.mended.iter();
    let again = mended.find(|one| one.again.is_some() && one.was_there && is_of_it(one.line))?;
    // The same was done once more, and nobody found it there since.
    let mut later = now.later.mended.iter();
    let is_redone = later.any(|one| {
        (one.part, one.state) == (again.part, again.state)
            && one.line > again.line
            && is_of_it(one.line)
            && one.again.is_none()
    });
    if is_redone {
        return Some("It did not hold at first, and we did it again.".to_owned());
    }
    let fault = plain_fault(
        g.matter.model(),
        again.state,
        Plainly::Is,
        g.name_of(again.part),
        g.kind_of(again.part),
    );
    Some(format!(
        "It did not hold: {}",
        fault.replacen(fault.get(..1)?, &fault.get(..1)?.to_lowercase(), 1)
    ))
}

/// A sentence where something that was noted since speaks against it that the mend holds.
fn doubt(doing: &Doing<'_>, mended: &[Mended]) -> Option<String> {
    let is_of_it = |one: &Mended| doing.ticks.iter().any(|tick| tick.line == one.line);
    let mut in_doubt = mended
        .iter()
        .filter(|one| one.was_there && one.is_in_doubt());
    let found = in_doubt.any(is_of_it);
    found.then(|| "What we noted since puts in doubt that this holds.".to_owned())
}

fn what_was_wrong(g: &Gathering<'_>, faults: &BTreeMap<StateId, Vec<usize>>) -> Vec<String> {
    let mut says = Vec::new();
    // What could not be seen says more than what showed it.
    let model = g.matter.model();
    let is_seen = |state: StateId| {
        let state = model.states.get(state.index());
        state.is_some_and(|state| matches!(state.nature, Nature::Seen(_)))
    };
    let mut in_order: Vec<(StateId, &Vec<usize>)> = faults.iter().map(|(s, p)| (*s, p)).collect();
    in_order.sort_by_key(|(state, _)| is_seen(*state));
    for (state, parts) in in_order {
        let Some((&first, others)) = parts.split_first() else {
            continue;
        };
        let name = g.name_of(first);
        let kind = g.kind_of(first);
        says.push(plain_fault(
            g.matter.model(),
            state,
            Plainly::Was,
            name,
            kind,
        ));
        says.extend(the_same(g, "It was the same with", others));
    }
    says
}

/// Where nobody saw the fault that a job mends: the signs that it brings about on these parts, on
/// what they are built into and on what is built into them, by which it was suspected. Each is
/// told once, of the first job that may have mended it; `seen` has the lines of the record that
/// were told.
fn what_was_seen(g: &Gathering<'_>, doing: &Doing<'_>, seen: &mut BTreeSet<usize>) -> Vec<String> {
    let model = g.matter.model();
    let job = doing.index().and_then(|job| model.jobs.get(job.index()));
    let (Some(now), Some(job)) = (g.matter.view.later(), job) else {
        return Vec::new();
    };
    let shown = shown_by(model, &job.mends);
    let owner = |part: &usize| g.parts.get(*part).and_then(|part| part.owner);
    let is_in =
        |part: usize, of: usize| std::iter::successors(Some(part), owner).any(|at| at == of);
    let on = doing.parts();
    let is_near = |part: &&usize| on.iter().any(|&on| is_in(**part, on) || is_in(on, **part));
    let mut says = Vec::new();
    let again: Vec<usize> = now.look_again().iter().map(|f| f.number).collect();
    for (finding, of) in &g.noted_now {
        let Found::State { state, sure, .. } = finding.fact.found else {
            continue;
        };
        let is_plain = matches!(sure, Sure::Ordinary | Sure::Certain);
        if let Some(&part) = of.iter().find(is_near)
            && is_plain
            && shown.contains(&state)
            && again.contains(&finding.number)
            && seen.insert(finding.number)
        {
            let (name, kind) = (g.name_of(part), g.kind_of(part));
            says.push(plain_fault(model, state, Plainly::Was, name, kind));
        }
    }
    says
}

/// "It was the same with drawers 3 and 4."
fn the_same(g: &Gathering<'_>, begin: &str, others: &[usize]) -> Option<String> {
    (!others.is_empty()).then(|| format!("{begin} {}.", named(g, others)))
}

/// "drawers 3 and 4", "the left and the right runner of drawer 2".
fn named(g: &Gathering<'_>, parts: &[usize]) -> String {
    let names = parts.iter().map(|&part| the_part(g.name_of(part)));
    let kinds = all_called(g, parts.iter().copied());
    together(&names.collect::<Vec<_>>(), &kinds)
}

impl Doing<'_> {
    /// The job in the rules, if it is one of theirs.
    fn index(&self) -> Option<JobId> {
        self.job
            .index
            .and_then(|job| u16::try_from(job).ok())
            .map(JobId)
    }

    /// The parts that it was done on.
    fn parts(&self) -> Vec<usize> {
        let named = self.ticks.iter().flat_map(|tick| &tick.what.parts.indices);
        // Work of one's own says by what it mends on what it was done.
        let ticks = self.ticks.iter().filter(|tick| tick.what.index.is_none());
        let mended = ticks.flat_map(|tick| tick.what.mends.iter().map(|(part, _)| part));
        let mut parts = Vec::new();
        for &part in named.chain(mended) {
            if !parts.contains(&part) {
                parts.push(part);
            }
        }
        parts
    }

    /// Whether it was done on parts, rather than on the whole piece.
    fn is_on_a_part(&self) -> bool {
        let parts = self.parts();
        !parts.is_empty() && !parts.contains(&0)
    }

    /// Whether the house says that it mends something, or it was said of work of one's own.
    fn mends(&self, g: &Gathering<'_>) -> bool {
        let job = self
            .index()
            .and_then(|job| g.matter.model().jobs.get(job.index()));
        match job {
            Some(job) => !job.mends.is_empty(),
            None => true,
        }
    }

    /// What was done, in sentences.
    fn done(&self, g: &Gathering<'_>) -> Vec<String> {
        let Some(job) = self.index() else {
            return vec![format!(
                "We did this: {}.",
                self.job.job.trim_end_matches('.')
            )];
        };
        let parts = self.parts();
        let (first, others) = match parts.split_first() {
            Some((first, others)) => (*first, others),
            None => (0, &[][..]),
        };
        let name = g.name_of(first);
        let done = plain_job(g.matter.model(), job, name, g.kind_of(first));
        let others = the_same(g, "We did the same to", others);
        std::iter::once(done).chain(others).collect()
    }

    /// The same for work that is not worth a picture; nothing for what is only of the record.
    fn besides(&self, g: &Gathering<'_>) -> Vec<String> {
        let job = self
            .index()
            .and_then(|job| g.matter.model().jobs.get(job.index()));
        let of_record = |stage| matches!(stage, WorkStage::Record | WorkStage::HandBack);
        // What was taken off is told, and so is that it was put back.
        let mut jobs = g.matter.model().jobs.iter();
        let is_followed = |id: JobId| jobs.any(|other| other.then.contains(&id));
        let puts_back = self.index().is_some_and(is_followed);
        if job.is_some_and(|job| of_record(job.stage)) && !puts_back {
            return Vec::new();
        }
        // Among other things that were done, "the same" would be the same as the last of them.
        let parts = self.parts();
        match (self.done(g).as_slice(), parts.as_slice()) {
            ([done, _], [first, others @ ..]) => {
                // What was done to a frame was done to the legs that it has.
                let owner = |part: &usize| g.parts.get(*part).and_then(|part| part.owner);
                let is_in_first =
                    |part: &usize| std::iter::successors(Some(*part), owner).any(|at| at == *first);
                let others: Vec<usize> = others
                    .iter()
                    .copied()
                    .filter(|part| !is_in_first(part))
                    .collect();
                if others.is_empty() {
                    return vec![done.clone()];
                }
                let done = done.trim_end_matches('.');
                vec![format!("{done}, and the same on {}.", named(g, &others))]
            }
            (all, _) => all.to_vec(),
        }
    }

    fn days(&self) -> String {
        let mut days: Vec<String> = self.ticks.iter().map(|tick| noted(tick.when)).collect();
        days.dedup();
        days.retain(|day| !day.is_empty());
        match days.as_slice() {
            [] => String::new(),
            [one] => one.clone(),
            [first, .., last] => format!("{first} to {last}"),
        }
    }

    fn took(&self) -> Option<Minutes> {
        let took = self.ticks.iter().filter_map(|tick| tick.what.took);
        let took: Vec<Minutes> = took.collect();
        (!took.is_empty()).then(|| took.iter().sum())
    }
}

/// "We also dusted it with a soft brush, cleaned off the grime with damp swabs and waxed it."
fn besides(said: &[String], is_more: bool) -> String {
    let is_plain = |said: &&str| !said.contains(['.', ',']) && !said.contains(" and ");
    let short: Vec<&str> = said
        .iter()
        .filter_map(|said| said.strip_prefix("We ")?.strip_suffix('.'))
        .filter(is_plain)
        .collect();
    let others = said.iter().filter(|said| {
        let short = said
            .strip_prefix("We ")
            .and_then(|said| said.strip_suffix('.'));
        !short.is_some_and(|short| is_plain(&short))
    });
    let mut sentences = Vec::new();
    if !short.is_empty() {
        let also = if is_more { "also " } else { "" };
        sentences.push(format!("We {also}{}.", list(&short)));
    }
    sentences.extend(others.cloned());
    sentences.join(" ")
}

/// What each job took, all of them, and whether each says so.
pub(super) fn took(g: &Gathering<'_>) -> (Vec<(String, String)>, String, bool) {
    let doings = doings(g);
    let each = doings.iter().filter_map(|doing| {
        let on = if doing.is_on_a_part() {
            format!(": {}", named(g, &doing.parts()))
        } else {
            String::new()
        };
        Some((
            format!("{}{on}", capital(&doing.job.job)),
            minutes(doing.took()?),
        ))
    });
    let all: Minutes = doings.iter().filter_map(Doing::took).sum();
    let in_all = if all > 0 {
        words::minutes(all)
    } else {
        String::new()
    };
    let is_whole = doings.iter().all(|doing| doing.took().is_some());
    (each.collect(), in_all, is_whole)
}
