//! The work that was done, in money.

use super::beside::Against;
use super::ticks::{Tick, Ticks};
use crate::advice::{Item, Points, Quote};
use crate::bounds::Bounds;
use crate::hours::Spread;
use crate::record::{Job, PaperTrouble};
use crate::scripts::{self, Priced, Ran};
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use tellmark_language::SourceFile;
use tellmark_language::model::{Minutes, Model};

/// The prices that were agreed for what was done, and the ticks that no agreed paper names.
///
/// # Errors
/// If a paper cannot be gone by.
pub fn agreed_of_done<'t>(
    job: &Job,
    ticks: &'t Ticks,
) -> Result<(Decimal, Vec<&'t Tick>), PaperTrouble> {
    Ok(match Against::of(job)? {
        Some(against) => against.done(ticks),
        None => (Decimal::ZERO, ticks.ticks.iter().collect()),
    })
}

/// What is done already, in money.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct DoneWork {
    /// What the papers that were agreed name of it.
    pub agreed: Decimal,
    /// What the price list asks for the time of the rest.
    pub by_hours: Decimal,
    /// How many ticks of the rest have no time, or no line in the price list.
    pub unpriced: usize,
}

impl DoneWork {
    /// What is known of it.
    #[must_use]
    pub fn sum(&self) -> Decimal {
        self.agreed + self.by_hours
    }

    /// With the ticks that no agreed paper names, at what the price list asks for them (see
    /// [`prices_by_hours`]).
    #[must_use]
    pub fn of(agreed: Decimal, others: &[&Tick], priced: &Priced) -> DoneWork {
        let amounts = by_line(others, priced);
        let has_none = |tick: &&&Tick| !amounts.contains_key(&tick.line);
        DoneWork {
            agreed,
            by_hours: amounts.values().sum(),
            unpriced: others.iter().filter(has_none).count(),
        }
    }
}

/// What a price list asks for each tick that has a time, by its line of the record. The lines of
/// the list go by the place of a tick in `ticks`.
pub(super) fn by_line(ticks: &[&Tick], priced: &Priced) -> BTreeMap<usize, Decimal> {
    let mut amounts: BTreeMap<usize, Decimal> = BTreeMap::new();
    for line in priced.fixed.iter().chain(&priced.provisional) {
        let tick = line.item.and_then(|item| ticks.get(item));
        if let Some(tick) = tick.filter(|tick| tick.minutes.is_some()) {
            *amounts.entry(tick.line).or_default() += line.amount;
        }
    }
    amounts
}

/// What the house's price list asks for work that was done, each tick at the time it took.
/// The lines go by the place of a tick in `ticks`; a tick without a time has none.
pub fn prices_by_hours(
    ticks: &[&Tick],
    model: &Model,
    piece: &str,
    file: &SourceFile,
    bounds: &dyn Bounds,
) -> Ran<Priced> {
    let all: Minutes = ticks.iter().filter_map(|tick| tick.minutes).sum();
    let hours = f64::from(all) / 60.0;
    let points = Points {
        p10: hours,
        p50: hours,
        p80: hours,
        p90: hours,
    };
    let quote = Quote {
        items: ticks.iter().map(|tick| item(tick, model)).collect(),
        mean: hours,
        deviation: 0.0,
        hours: points,
        planned_hours: points,
        total: Spread {
            step: hours,
            chances: vec![0.0, 1.0],
        },
        widens: Vec::new(),
        waits: [0, 0],
        not_done: Vec::new(),
        left: Vec::new(),
    };
    scripts::prices(&quote, piece, file, bounds)
}

fn item(tick: &Tick, model: &Model) -> Item {
    let job = model.jobs.iter().find(|job| job.name == tick.job);
    Item {
        job: tick.job.clone(),
        part: tellmark_language::words::list(&tick.parts),
        chance: Some(1.0),
        certain: true,
        cannot_say: false,
        counted_as: None,
        planned: true,
        minutes: tick.minutes.map(|minutes| [minutes; 3]),
        waits: None,
        needs: job.map_or_else(Vec::new, |job| job.needs.clone()),
        ask_owner: false,
        needed_by: None,
        again: None,
    }
}
