//! What may be wrong out of sight, and what only the owner knows.

use super::super::condition::Since;
use super::super::kind::Kind;
use super::Gathering;
use super::pegs;
use serde::Serialize;
use tellmark_compile::set_up::Origin;
use tellmark_core::piece::SetUpError;
use tellmark_job::advice::{LISTED, Suspect};
use tellmark_language::model::{Asks, Sense, Sureness};
use tellmark_language::words::{Plainly, list, minutes, plain_fault, reaches};

/// Something that may be wrong.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Suspected {
    /// "The chest may have been pushed out of square."
    pub says: String,
    /// "almost certain", "as likely as not".
    pub sure: String,
    /// "more than 9 in 10", "5 in 10".
    pub tenths: String,
    /// The same, drawn.
    pub drawn: String,
    /// What speaks for it and against it.
    pub why: Vec<String>,
    /// "6 h": what mending it takes at most, where the house says; may be empty.
    pub at_most: String,
}

/// Something that is not known.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Open {
    /// In a sentence.
    pub says: String,
}

/// More than these are left to the record.
const MOST: usize = 6;
/// Of a piece that goes home fewer are told.
const MOST_AT_HOME: usize = 4;
/// From this risk on a fault is grave: it may cost the piece, or hurt somebody.
const GRAVE: u8 = 4;
/// Reasons for each.
const REASONS: usize = 2;

/// What may be wrong, likeliest first, and how many more the record has.
pub(super) fn suspected(g: &Gathering<'_>) -> (Vec<Suspected>, usize) {
    if g.kind == Kind::HandBack {
        return (Vec::new(), 0);
    }
    let (shown, more) = worst(open(g), MOST);
    let shown = shown.into_iter();
    let since = Since::of_job(g.matter, g.parts);
    (shown.map(|suspect| one(g, suspect, &since)).collect(), more)
}

/// What is not known and worth a word, likeliest first.
fn open<'g>(g: &'g Gathering<'_>) -> Vec<&'g Suspect> {
    let suspects = g.triage.groups.iter().flat_map(|group| &group.suspects);
    let worth = |s: &&Suspect| !s.opened && reaches(s.chance, LISTED) && s.stands_out();
    let mut open: Vec<&Suspect> = suspects.filter(worth).collect();
    let thousandths = |s: &Suspect| (s.chance * 1000.0).round();
    open.sort_by(|a, b| thousandths(b).total_cmp(&thousandths(a)));
    open
}

/// The likeliest, and how many are left out. What is probable and grave is never left out for
/// what is only likelier.
fn worst(mut open: Vec<&Suspect>, most: usize) -> (Vec<&Suspect>, usize) {
    let is_grave = |suspect: &Suspect| {
        let risk = suspect.missed.map_or(0, |missed| missed.risk);
        risk >= GRAVE && reaches(suspect.chance, Sureness::Probably.percent())
    };
    let more = open.len().saturating_sub(most);
    let mut left_out = more;
    let mut at = open.len();
    while left_out > 0 && at > 0 {
        at -= 1;
        if !is_grave(open[at]) {
            open.remove(at);
            left_out -= 1;
        }
    }
    open.truncate(most);
    (open, more)
}

fn one(g: &Gathering<'_>, suspect: &Suspect, since: &Since<'_>) -> Suspected {
    let tenths = in_tenths(suspect.chance);
    let why = [("For", true), ("Against", false)]
        .into_iter()
        .filter_map(|(word, is_for)| {
            let reasons = suspect.reasons.iter().take(REASONS);
            let such = reasons.filter(|reason| (reason.decibans > 0.0) == is_for);
            let said: Vec<String> = such
                .map(|reason| reason_said(g, reason.from, since))
                .collect();
            (!said.is_empty()).then(|| format!("{word}: {}.", list(&said)))
        });
    Suspected {
        says: may_be(g, suspect),
        sure: in_words(suspect.chance).to_owned(),
        tenths: said(suspect.chance),
        drawn: pegs::chance(tenths),
        why: why.collect(),
        at_most: at_most(g, suspect),
    }
}

/// What speaks for something or against it. Of what was worked on since, it says so.
fn reason_said(g: &Gathering<'_>, from: Origin, since: &Since<'_>) -> String {
    let text = g.matter.view.written(from).text;
    let Origin::Fact(fact) = from else {
        return text;
    };
    let finding = g.matter.view.findings.get(fact);
    let is_so = g.kind == Kind::Estimate
        || finding.is_none_or(|finding| {
            let is_it = |&fact: &usize| {
                let of_found = g.matter.found.findings.get(fact);
                of_found.is_some_and(|of_found| of_found.number == finding.number)
            };
            let mut parts = g.parts.iter().enumerate();
            let at = parts.find(|(_, part)| part.wrong.iter().any(is_it));
            at.is_none_or(|(at, _)| since.is_as_found(finding, at))
        });
    match is_so {
        true => text,
        false => format!("{text} (so it was before we worked on it)"),
    }
}

fn may_be(g: &Gathering<'_>, suspect: &Suspect) -> String {
    let part = suspect.part;
    let model = g.matter.model();
    plain_fault(
        model,
        suspect.state,
        Plainly::MayBe,
        g.name_of(part),
        g.kind_of(part),
    )
}

/// What the longest job that mends it takes at most.
fn at_most(g: &Gathering<'_>, suspect: &Suspect) -> String {
    let jobs = g.matter.model().jobs.iter();
    let mending = jobs.filter(|job| job.mends.contains(&suspect.state));
    let longest = mending.filter_map(|job| Some(job.takes?.most)).max();
    longest.map_or_else(String::new, minutes)
}

/// A chance in whole tenths; neither none nor all, of what nobody has seen.
fn in_tenths(chance: f64) -> usize {
    let tenths = (chance * 10.0).round().clamp(1.0, 10.0);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let tenths = tenths as usize;
    tenths
}

/// "7 in 10".
fn said(chance: f64) -> String {
    match in_tenths(chance) {
        10 => "more than 9 in 10".to_owned(),
        tenths => format!("{tenths} in 10"),
    }
}

/// The one ladder of words that the letter uses.
fn in_words(chance: f64) -> &'static str {
    match in_tenths(chance) {
        9.. => "almost certain",
        7 | 8 => "likely",
        6 => "more likely than not",
        5 => "as likely as not",
        3 | 4 => "less likely than not",
        _ => "unlikely",
    }
}

/// What could not be seen, and what is still not known of a piece that goes home.
pub(super) fn unknown(g: &Gathering<'_>) -> Vec<Open> {
    let unseen = g.hidden.iter().map(|hidden| Open {
        says: hidden.plain.clone(),
    });
    let mut unknown: Vec<Open> = unseen.collect();
    if g.kind == Kind::HandBack {
        let (open, _) = worst(open(g), MOST_AT_HOME);
        unknown.extend(open.into_iter().map(|suspect| Open {
            says: format!(
                "{} ({})",
                may_be(g, suspect).trim_end_matches('.'),
                said(suspect.chance)
            ) + ".",
        }));
    }
    unknown
}

/// How many questions an owner is asked at once.
const QUESTIONS: usize = 4;

/// What only the owner can tell, most worth knowing first.
pub(super) fn questions(g: &Gathering<'_>) -> Result<Vec<String>, SetUpError> {
    if g.kind == Kind::HandBack {
        return Ok(Vec::new());
    }
    let model = g.matter.model();
    let checks = g.matter.view.next()?.unwrap_or_default();
    let asked = checks.iter().filter_map(|check| {
        let sign = model.signs.get(check.sign.index())?;
        if sign.sense != Sense::Ask || !matches!(sign.asks, Asks::Whether(_)) {
            return None;
        }
        let about = check.words.strip_prefix("ask whether ")?;
        Some(match about.split_once(" is ") {
            Some((part, so)) => format!("Is {part} {so}?"),
            None => format!("Is it so that {about}?"),
        })
    });
    let mut asked: Vec<String> = asked.collect();
    asked.dedup();
    asked.truncate(QUESTIONS);
    Ok(asked)
}
