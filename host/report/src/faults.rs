//! Likely hidden faults, and what each rests on.

use super::matter::Matter;
use serde::Serialize;
use tellmark_job::advice::{LISTED, Suspect, Triage};
use tellmark_language::words::{self, capital, figure, minutes, reaches};

/// A finding that a figure rests on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Rests {
    /// Whether it speaks for the fault rather than against it.
    pub speaks_for: bool,
    /// The line of the record, with its number.
    pub finding: String,
    /// The figure without it: "59 in 100".
    pub without: String,
}

/// A hidden fault that stands out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Fault {
    /// "Right runner of drawer 2 is probably worn thin (67 in 100)", or how it was found
    /// when it was opened up.
    pub says: String,
    /// Whether it was noted itself.
    pub opened: bool,
    /// "28 in 100": before anything was found.
    pub before: String,
    /// "3 h, risk 2 of 5": what finding it late costs; empty if the rules do not say.
    pub late: String,
    /// What it rests on, heaviest first.
    pub rests_on: Vec<Rests>,
}

/// A fault with less to go on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LessLikely {
    /// "possibly worn thin".
    pub fault: String,
    /// The parts.
    pub parts: String,
    /// "28 in 100".
    pub figure: String,
}

/// Likely hidden faults.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Faults {
    /// What is said of the likeliest few, likeliest first.
    pub foremost: Vec<String>,
    /// Those that stand out, part by part, likeliest part first.
    pub likely: Vec<Fault>,
    /// Those with less to go on, each once.
    pub less_likely: Vec<LessLikely>,
}

/// How many faults stand foremost.
const FOREMOST: usize = 5;
/// Findings named for one fault.
const RESTS_ON: usize = 3;

pub(super) fn faults(matter: &Matter<'_>, triage: &Triage) -> Faults {
    let mut likely = Vec::new();
    let mut chances = Vec::new();
    for group in &triage.groups {
        for suspect in &group.suspects {
            if reaches(suspect.chance, LISTED) && suspect.stands_out() {
                let fault = fault(matter, &group.name, suspect);
                chances.push((suspect.chance, fault.says.clone()));
                likely.push(fault);
            }
        }
    }
    // Chances that read the same stay in the order of the parts.
    let thousandths = |chance: f64| (chance * 1000.0).round();
    chances.sort_by(|(a, _), (b, _)| thousandths(*b).total_cmp(&thousandths(*a)));
    let foremost = chances.into_iter().take(FOREMOST).map(|(_, says)| says);
    let model = matter.model();
    let less_likely = triage.with_less_to_go_on(LISTED).into_iter();
    let less_likely = less_likely.map(|alike| {
        let suspect = alike.first();
        LessLikely {
            fault: model
                .states
                .get(suspect.state.index())
                .map_or_else(String::new, |state| state.phrase.clone()),
            parts: triage.all_or_each(model, suspect.state, &alike.parts),
            figure: figure(suspect.chance),
        }
    });
    Faults {
        foremost: foremost.collect(),
        likely,
        less_likely: less_likely.collect(),
    }
}

fn fault(matter: &Matter<'_>, part: &str, suspect: &Suspect) -> Fault {
    let model = matter.model();
    let says = if suspect.opened {
        words::state_phrase(model, part, suspect.state, suspect.chance > 0.5)
    } else {
        words::likely_phrase(model, part, suspect.state, suspect.chance)
    };
    let rests_on = suspect.reasons.iter().take(RESTS_ON).map(|reason| Rests {
        speaks_for: reason.decibans > 0.0,
        finding: matter.written(reason.from),
        without: figure(reason.without),
    });
    Fault {
        says: capital(&says),
        opened: suspect.opened,
        before: figure(suspect.before),
        late: suspect.missed.map_or_else(String::new, |missed| {
            format!("{}, risk {} of 5", minutes(missed.minutes), missed.risk)
        }),
        rests_on: rests_on.collect(),
    }
}
