//! When the piece was made, what on it is later, and which fittings and traces
//! do not belong together.

use tellmark_core::dating::{Dates, Evidence, Together, decades, fewest_later, first_year};
use tellmark_core::number::Share;
use tellmark_core::pack::{Bound, Pack};
use tellmark_core::piece::{Answer, Part, SetUpError};
use tellmark_core::plan::Call;
use tellmark_core::truth::Truth;

use std::collections::BTreeSet;

use super::relative;

use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Case, Origin, SetUp, part_ref};
use tellmark_language::model::Region;
use tellmark_language::words;

/// A span of years, both included.
pub type Years = (u16, u16);

/// A part that something found speaks of the age of.
#[derive(Clone, Debug, PartialEq)]
pub struct DatedPart {
    /// Its name.
    pub name: String,
    /// The chance that it is original.
    pub original: f64,
    /// The years in which it was made, eight in ten.
    pub made: Years,
}

/// A dating that holds for some parts.
#[derive(Clone, Debug, PartialEq)]
pub struct DatingHeld {
    /// Index in the model.
    pub dating: usize,
    /// The parts, by name.
    pub parts: Vec<String>,
    /// The years of the piece, eight in ten, if this were not known.
    pub without: Years,
}

/// A fitting that fits no trace, or a trace that no fitting fits.
#[derive(Clone, Debug, PartialEq)]
pub struct Unpaired {
    /// Index of the dating in the model.
    pub dating: usize,
    /// The part that is the fitting, or that shows the trace.
    pub part: String,
    /// The chance that this part is original.
    pub original: f64,
    /// What gave the answers without which the dating would not hold, oldest first.
    pub from: Vec<Origin>,
}

/// A dating of parts beside what they are built into that holds.
#[derive(Clone, Debug, PartialEq)]
pub struct RelativeHeld {
    /// Index of the sentence among the model's that date so.
    pub relative: usize,
    /// What the parts are built into.
    pub owner: String,
    /// Each part, with the chance that it is original.
    pub parts: Vec<(String, f64)>,
    /// The chance of each if the sentence were not known.
    pub without: Vec<f64>,
    /// What gave the answers without which it would not hold, oldest first.
    pub from: Vec<Origin>,
}

/// What has to be later for the dates to agree.
#[derive(Clone, Debug, PartialEq)]
pub struct Later {
    /// The fewest parts, outermost first.
    pub parts: Vec<String>,
    /// The last year of the piece that goes with them.
    pub until: u16,
}

/// When the piece was made.
#[derive(Clone, Debug, PartialEq)]
pub struct Dated {
    /// The years in which it was made, eight in ten.
    pub made: Years,
    /// The chance of each decade that has one worth naming, by its first year.
    pub decades: Vec<(u16, f64)>,
    /// The parts that something speaks of, in order; the piece itself left out.
    pub parts: Vec<DatedPart>,
    /// The datings that hold.
    pub held: Vec<DatingHeld>,
    /// What is said of parts beside what they are built into.
    pub relative: Vec<RelativeHeld>,
    /// Fittings that fit no trace.
    pub fittings: Vec<Unpaired>,
    /// Traces that no fitting fits.
    pub traces: Vec<Unpaired>,
    /// Datings that hold but are of another country.
    pub elsewhere: usize,
    /// Set if not everything can be original; `Err` if no choice of later parts
    /// makes the dates agree.
    pub later: Option<Result<Later, ()>>,
}

/// Chances of decades below this are not named: about twice what each has before
/// anything is found.
const LEAST: f64 = 0.04;
/// What is cut off at each end of a span of years.
const TAIL: f64 = 0.1;

/// Works it out for a piece made in that country, up to the year `now`.
///
/// # Errors
/// If the piece cannot be set up.
pub fn date(
    set_up: &SetUp<'_>,
    pack: Pack<'_>,
    made_in: Option<Region>,
    now: u16,
) -> Result<Dated, SetUpError> {
    let mut room = Room::<f64>::default();
    let mut case = set_up.case(pack, &mut room)?;
    let (calls, elsewhere) = datings_here(&mut case, &pack, made_in);
    let mut unpaired = Vec::new();
    for call in &calls {
        if let Bound::Later(_) | Bound::Lost(_) = pack.dating(call.sentence).bound {
            unpaired.push((*call, behind(&mut case, &pack, call)));
        }
    }
    unpaired.sort_by_key(|(call, _)| call.part);
    let relative_held = relative::held(set_up, &mut case);
    let parts = case.inspection.piece().parts();
    let evidence_of = |call: &Call| {
        let dating = pack.dating(call.sentence);
        let evidence = Evidence::of(&pack, parts, &dating, call.part)?;
        Some((Says::Dating(call.sentence), evidence))
    };
    let findings = Findings {
        alone: calls
            .iter()
            .filter_map(evidence_of)
            .chain(relative_held.iter().flat_map(|held| {
                let says = Says::Relative(held.relative);
                let each = relative::evidence(set_up, held).into_iter();
                each.map(move |evidence| (says, evidence))
            }))
            .collect(),
        together: relative_held
            .iter()
            .filter_map(|held| {
                let together = relative::together(set_up, held)?;
                Some((Says::Relative(held.relative), together))
            })
            .collect(),
    };
    let name = |part: usize| {
        let reference = part_ref(&set_up.built.places, parts, part);
        words::part_name(set_up.model, &reference)
    };
    let known = findings.but(None);
    let mut numbers = memory(parts, now);
    let dates = dates(parts, &known, now, &mut numbers)?;
    let told = |(call, from): &(Call, Vec<Origin>)| Unpaired {
        dating: call.sentence,
        part: name(call.part),
        original: chance(dates.original(call.part)),
        from: from.clone(),
    };
    let (traces, fittings): (Vec<_>, Vec<_>) = unpaired
        .iter()
        .partition(|(call, _)| matches!(pack.dating(call.sentence).bound, Bound::Lost(_)));
    Ok(Dated {
        made: years(&dates, 0, now),
        decades: (0..dates.decades())
            .map(|d| (first_year(d), chance(dates.made_in(0, d))))
            .filter(|(_, chance)| *chance >= LEAST)
            .collect(),
        parts: parts_with_evidence(&known)
            .into_iter()
            .map(|part| DatedPart {
                name: name(part),
                original: chance(dates.original(part)),
                made: years(&dates, part, now),
            })
            .collect(),
        held: held(parts, &findings, now, &name)?,
        relative: relatives(parts, &findings, &relative_held, (&dates, now), &name)?,
        fittings: fittings
            .into_iter()
            .filter(|(call, _)| evidence_of(call).is_some())
            .map(told)
            .collect(),
        traces: traces.into_iter().map(told).collect(),
        elsewhere,
        later: later(parts, &known.0, now, &name),
    })
}

/// A sentence that dates, by its number among those of its sort.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Says {
    Dating(usize),
    Relative(usize),
}

/// Everything that speaks of when parts were made, with the sentence by which it does.
struct Findings {
    alone: Vec<(Says, Evidence)>,
    together: Vec<(Says, Together)>,
}

/// What is said of each part, and of several together.
type Known = (Vec<Evidence>, Vec<Together>);

impl Findings {
    /// All of it but what this sentence says.
    fn but(&self, left_out: Option<Says>) -> Known {
        let alone = self
            .alone
            .iter()
            .filter(|(says, _)| Some(*says) != left_out);
        let together = self
            .together
            .iter()
            .filter(|(says, _)| Some(*says) != left_out);
        (
            alone.map(|(_, evidence)| *evidence).collect(),
            together.map(|(_, together)| together.clone()).collect(),
        )
    }
}

/// The datings that hold and that are meant for where the piece was made, and how many
/// others hold.
fn datings_here(
    case: &mut Case<'_, f64>,
    pack: &Pack<'_>,
    made_in: Option<Region>,
) -> (Vec<Call>, usize) {
    let region = match made_in {
        None => 0,
        Some(Region::British) => 1,
        Some(Region::American) => 2,
    };
    let mut calls = Vec::new();
    case.inspection.datings(|call| calls.push(call));
    let all = calls.len();
    calls.retain(|call| {
        let here = pack.dating(call.sentence).region;
        here == 0 || region == 0 || here == region
    });
    let elsewhere = all - calls.len();
    (calls, elsewhere)
}

/// The parts that some evidence is about, each once, the piece itself left out.
fn parts_with_evidence((alone, together): &Known) -> Vec<usize> {
    let alone = alone.iter().map(|e| e.part);
    let together = together.iter().flat_map(|t| t.parts.clone());
    let parts: BTreeSet<usize> = alone.chain(together).collect();
    parts.into_iter().filter(|&part| part > 0).collect()
}

/// What gave the answers without which a dating would not hold, oldest first.
fn behind(case: &mut Case<'_, f64>, pack: &Pack<'_>, call: &Call) -> Vec<Origin> {
    let condition = pack.dating(call.sentence).condition;
    let mut from = Vec::new();
    for evidence in &case.evidence {
        let given = evidence.given;
        let inspection = &mut case.inspection;
        let _ = inspection.answer(given.part, given.ask, Answer::NotLooked);
        if inspection.holds(condition, call.part) != Some(Truth::True) {
            from.push(evidence.from);
        }
        let _ = inspection.answer(given.part, given.ask, given.answer);
    }
    from.sort_unstable();
    from.dedup();
    from
}

fn memory(parts: &[Part], now: u16) -> Vec<f64> {
    vec![0.0; Dates::<f64>::need(parts.len(), now)]
}

fn dates<'m>(
    parts: &'m [Part],
    (alone, together): &Known,
    now: u16,
    numbers: &'m mut [f64],
) -> Result<Dates<'m, f64>, SetUpError> {
    Dates::new(parts, alone, together, now, numbers).map_err(|_| SetUpError::TooManyParts)
}

/// A chance as a decimal fraction; parts and decades are those of the piece, so that
/// there is one.
fn chance(share: Option<Share>) -> f64 {
    share.unwrap_or_default().as_f64()
}

/// The years that hold all but the tails.
fn years(dates: &Dates<'_, f64>, part: usize, now: u16) -> Years {
    let chance = |d: usize| chance(dates.made_in(part, d));
    let all: Vec<usize> = (0..dates.decades()).collect();
    let reached = |decades: &[usize]| {
        let mut sum = 0.0;
        let before = decades.iter().take_while(|&&d| {
            sum += chance(d);
            sum <= TAIL
        });
        before.count()
    };
    let backwards: Vec<usize> = all.iter().rev().copied().collect();
    let from = reached(&all);
    let to = (all.len() - 1).saturating_sub(reached(&backwards));
    (first_year(from), (first_year(to) + 9).min(now))
}

/// Each dating that holds, with what the piece's years would be without it.
fn held(
    parts: &[Part],
    findings: &Findings,
    now: u16,
    name: &dyn Fn(usize) -> String,
) -> Result<Vec<DatingHeld>, SetUpError> {
    let says: BTreeSet<Says> = findings.alone.iter().map(|(says, _)| *says).collect();
    let mut numbers = memory(parts, now);
    let mut held = Vec::new();
    for says in says {
        let Says::Dating(dating) = says else {
            continue;
        };
        let others = findings.but(Some(says));
        let without = years(&dates(parts, &others, now, &mut numbers)?, 0, now);
        let own = findings.alone.iter().filter(|(s, _)| *s == says);
        held.push(DatingHeld {
            dating,
            parts: own.map(|(_, e)| name(e.part)).collect(),
            without,
        });
    }
    Ok(held)
}

/// Each dating of parts beside their owner that holds, with what their chances would be
/// without the sentence.
fn relatives(
    parts: &[Part],
    findings: &Findings,
    held: &[relative::Held],
    (dates, now): (&Dates<'_, f64>, u16),
    name: &dyn Fn(usize) -> String,
) -> Result<Vec<RelativeHeld>, SetUpError> {
    let mut numbers = memory(parts, now);
    let mut told = Vec::new();
    for one in held {
        let others = findings.but(Some(Says::Relative(one.relative)));
        let without = self::dates(parts, &others, now, &mut numbers)?;
        let each = || one.parts.clone();
        told.push(RelativeHeld {
            relative: one.relative,
            owner: name(one.owner),
            parts: each()
                .map(|p| (name(p), chance(dates.original(p))))
                .collect(),
            without: each().map(|p| chance(without.original(p))).collect(),
            from: one.from.clone(),
        });
    }
    Ok(told)
}

fn later(
    parts: &[Part],
    evidence: &[Evidence],
    now: u16,
    name: &dyn Fn(usize) -> String,
) -> Option<Result<Later, ()>> {
    let mut memory = vec![0; parts.len() * decades(now)];
    let mut found = Vec::new();
    let Some(decade) = fewest_later(parts, evidence, now, &mut memory, |p| found.push(p)) else {
        return Some(Err(()));
    };
    (!found.is_empty()).then(|| {
        Ok(Later {
            parts: found.into_iter().map(name).collect(),
            until: (first_year(decade) + 9).min(now),
        })
    })
}
