//! The work that was done, as the house's price list is asked for it.

use super::ticks::Tick;
use crate::advice::{Item, Points, Quote};
use crate::bounds::Bounds;
use crate::hours::Spread;
use crate::scripts::{self, Priced, Ran};
use tellmark_language::SourceFile;
use tellmark_language::model::{Minutes, Model};

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
