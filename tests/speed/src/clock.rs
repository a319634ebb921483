//! How long something takes: the shortest of many runs.

use std::time::{Duration, Instant};

/// How long each thing is run over and over.
const LONG_ENOUGH: Duration = Duration::from_millis(400);
/// Short things are run in batches at least this long.
const BATCH: Duration = Duration::from_micros(100);
/// Fewest batches.
const FEWEST: usize = 3;

/// Seconds that one run takes: the shortest batch, over its runs.
pub fn best(mut run: impl FnMut()) -> f64 {
    let start = Instant::now();
    run();
    let once = start.elapsed().max(Duration::from_nanos(1));
    let runs = u32::try_from(BATCH.as_nanos() / once.as_nanos())
        .unwrap_or(1)
        .max(1);
    let mut shortest = Duration::MAX;
    let mut batches = 0;
    let start = Instant::now();
    while batches < FEWEST || start.elapsed() < LONG_ENOUGH {
        let batch = Instant::now();
        for _ in 0..runs {
            run();
        }
        shortest = shortest.min(batch.elapsed());
        batches += 1;
    }
    shortest.as_secs_f64() / f64::from(runs)
}

/// Mean of some times.
pub fn mean(times: &[f64]) -> f64 {
    // There are never more than a few dozen.
    #[allow(clippy::cast_precision_loss)]
    let many = times.len() as f64;
    times.iter().sum::<f64>() / many
}
