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

/// What is done already. `priced` is what the price list asks for every tick (see
/// [`prices_by_hours`]); without it nothing is known of what no agreed paper names.
///
/// # Errors
/// If a paper cannot be gone by.
pub fn done_work(
    job: &Job,
    ticks: &Ticks,
    priced: Option<&Priced>,
) -> Result<DoneWork, PaperTrouble> {
    let all: Vec<&Tick> = ticks.ticks.iter().collect();
    let by_hours = priced.map_or_else(BTreeMap::new, |priced| by_line(&all, priced));
    Ok(match Against::of(job)? {
        Some(against) => against.done(ticks, &by_hours),
        None => DoneWork::by_hours(all.into_iter(), &by_hours),
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

    /// Of ticks that no agreed paper names, at what the price list asks for each.
    pub(super) fn by_hours<'t>(
        ticks: impl Iterator<Item = &'t Tick>,
        by_hours: &BTreeMap<usize, Decimal>,
    ) -> DoneWork {
        let mut done = DoneWork::default();
        for tick in ticks {
            match by_hours.get(&tick.line) {
                Some(amount) => done.by_hours += amount,
                None => done.unpriced += 1,
            }
        }
        done
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

/// So many parts of a tick are named in its line of an invoice; of more, their number is told.
const NAMED: usize = 4;

fn item(tick: &Tick, model: &Model) -> Item {
    let job = model.jobs.iter().find(|job| job.name == tick.job);
    Item {
        job: tick.job.clone(),
        part: tellmark_language::words::list_some(&tick.parts, NAMED),
        chance: Some(1.0),
        certain: true,
        cannot_say: false,
        counted_as: None,
        planned: true,
        called: true,
        longest_of_several: false,
        minutes: tick.minutes.map(|minutes| [minutes; 3]),
        waits: None,
        needs: job.map_or_else(Vec::new, |job| job.needs.clone()),
        ask_owner: false,
        needed_by: None,
        again: None,
    }
}
