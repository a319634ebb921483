//! What the owner wants left as it is, and is no part: something that was found on one.

use super::exit::Stopped;
use super::steps;
use super::typed::as_argument;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use tellmark_job::advice::{self, Progress, Step};
use tellmark_job::noting::Noting;
use tellmark_job::open_job::JobView;
use tellmark_language::model::{Fact, Found};
use tellmark_language::words;
use tellmark_notes::What;

/// What is to be left alone is no part: if it is something found, the jobs are named that would
/// be done about it, to be refused.
pub(super) fn or_refuse(
    why: Stopped,
    view: &JobView<'_>,
    progress: &Progress,
    said: &str,
    command: &str,
) -> Stopped {
    let Stopped::Misuse(mut why) = why else {
        return why;
    };
    let model = view.model();
    let understood = Noting::new(model, &view.open.job).hear(said);
    let facts = understood.heard.iter().flat_map(|heard| match &heard.what {
        What::Found(facts) => facts.clone(),
        What::Choose(readings) => readings.iter().flat_map(|one| one.facts.clone()).collect(),
        What::InOrder(_) | What::Nothing => Vec::new(),
    });
    // What was not found is not left as it is.
    let facts: Vec<Fact> = facts.filter(|fact| is_noted(view, fact)).collect();
    let is_found = !facts.is_empty();
    let about: BTreeSet<usize> = facts
        .iter()
        .flat_map(|fact| advice::jobs_about(model, &fact.found))
        .collect();
    let planned = view.plan(progress).unwrap_or_default();
    let steps = planned
        .steps
        .iter()
        .filter(|step| about.contains(&step.job));
    let (planned, perhaps): (Vec<&Step>, Vec<&Step>) =
        steps.partition(|step| !step.certain.is_empty());
    let named = |steps: &[&Step]| -> Vec<&str> {
        let names = steps.iter().map(|step| steps::name(model, step.job));
        names.collect()
    };
    let (is, steps) = match planned.is_empty() {
        false => ("is", named(&planned)),
        true => ("may be", named(&perhaps)),
    };
    let _ = match (steps.first(), is_found) {
        (Some(first), _) => write!(
            why,
            "\nA part is left alone. To leave as it is what was found, refuse what {is} \
             planned about it ({}):\n  {command} --refused {}",
            words::list(&steps),
            as_argument(first)
        ),
        (None, true) => write!(
            why,
            "\nNothing is planned about it, so it stays as it is. To keep why:\n  {command} --wish {}",
            as_argument(&format!("leave as found: {said}"))
        ),
        (None, false) => Ok(()),
    };
    Stopped::Misuse(why)
}

/// Whether just this was noted, of any part and however surely.
fn is_noted(view: &JobView<'_>, fact: &Fact) -> bool {
    let mut findings = view.findings.iter();
    findings.any(|finding| match (&finding.fact.found, &fact.found) {
        (
            Found::State { state, yes, .. },
            Found::State {
                state: of,
                yes: said,
                ..
            },
        ) => (state, yes) == (of, said),
        (noted, said) => noted == said,
    })
}
