//! How likely each total of hours is.

use std::f64::consts::TAU;

use super::pert::Pert;
use super::worth::{TOGETHER, Value, Waves, forwards};
use tellmark_compile::Laid;

/// Hours, and how likely they are.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Spread {
    /// Hours from one entry to the next.
    pub step: f64,
    /// The chance of 0, 1, 2 … steps.
    pub chances: Vec<f64>,
}

impl Spread {
    /// So many hours are enough in this share of all cases.
    #[must_use]
    pub fn point(&self, share: f64) -> f64 {
        let mut below = 0.0;
        for (n, &chance) in self.chances.iter().enumerate() {
            if below + chance >= share {
                if n == 0 {
                    return 0.0;
                }
                #[allow(clippy::cast_precision_loss)]
                let start = n as f64 - 0.5;
                let part = if chance > 0.0 {
                    (share - below) / chance
                } else {
                    0.0
                };
                return (start + part.clamp(0.0, 1.0)) * self.step;
            }
            below += chance;
        }
        #[allow(clippy::cast_precision_loss)]
        let end = self.chances.len().saturating_sub(1) as f64;
        end * self.step
    }

    /// The same with so many hours more in every case, to the nearest step.
    #[must_use]
    pub fn later(&self, hours: f64) -> Spread {
        let steps = if self.step > 0.0 {
            hours / self.step
        } else {
            0.0
        };
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let steps = steps.round().clamp(0.0, 100_000.0) as usize;
        let more = std::iter::repeat_n(0.0, steps);
        Spread {
            step: self.step,
            chances: more.chain(self.chances.iter().copied()).collect(),
        }
    }

    /// The mean.
    #[must_use]
    pub fn mean(&self) -> f64 {
        #[allow(clippy::cast_precision_loss)]
        let each = self.chances.iter().enumerate().map(|(n, p)| n as f64 * p);
        each.sum::<f64>() * self.step
    }
}

/// Entries that a spread has at most: steps are as long as that takes.
const MOST_STEPS: f64 = 1_000.0;
/// Minutes from which a step is chosen.
const STEPS: [u32; 9] = [1, 2, 5, 10, 15, 30, 60, 120, 240];

/// The step for so many hours in all.
pub(super) fn step_for(most: f64) -> f64 {
    let hours = STEPS.map(|minutes| f64::from(minutes) / 60.0);
    let fits = |step: &&f64| most / **step <= MOST_STEPS;
    hours.iter().find(fits).copied().unwrap_or(hours[8])
}

/// The total of all jobs: of those that are done in every world, and of those that
/// are inputs of the circuit.
///
/// A time is a row of chances, and the chances of a sum of times are convolved. The
/// discrete Fourier transform turns that into products, number by number: so each
/// frequency goes through the circuit by itself, with the transform of a job's time
/// as the weight of the worlds in which it is done. That is exact.
pub(super) fn total(laid: &Laid, step: f64, certain: &[Pert], perhaps: &[Option<Pert>]) -> Spread {
    let rows =
        |times: &[Pert]| -> Vec<Vec<f64>> { times.iter().map(|time| time.on_grid(step)).collect() };
    let timed: Vec<Pert> = perhaps.iter().flatten().copied().collect();
    let (certain, timed) = (rows(certain), rows(&timed));
    let ends = certain.iter().chain(&timed);
    let size = 1 + ends.map(|row| row.len() - 1).sum::<usize>();

    #[allow(clippy::cast_precision_loss)]
    let turn: Vec<(f64, f64)> = (0..size)
        .map(|n| {
            let angle = -TAU * n as f64 / size as f64;
            (angle.cos(), angle.sin())
        })
        .collect();
    let transform = |row: &[f64], first: usize| {
        let mut waves = Waves::of(0.0);
        for i in 0..TOGETHER {
            let frequency = (first + i) % size;
            let mut at = 0;
            for &chance in row {
                waves.real[i] += chance * turn[at].0;
                waves.imaginary[i] += chance * turn[at].1;
                at = (at + frequency) % size;
            }
        }
        waves
    };
    // The chances are real, so that half of the frequencies tell the other half.
    let half = size / 2 + 1;
    let mut transformed = Vec::with_capacity(half + TOGETHER);
    for first in (0..half).step_by(TOGETHER) {
        let mut of_timed = timed.iter().map(|row| transform(row, first));
        let inputs: Vec<Waves> = perhaps
            .iter()
            .map(|time| match time {
                Some(_) => of_timed.next().unwrap_or(Waves::of(1.0)),
                None => Waves::of(1.0),
            })
            .chain(std::iter::repeat(Waves::of(1.0)))
            .take(laid.inputs)
            .collect();
        let values = forwards(laid, &inputs);
        let output = laid.outputs.first().map_or(Waves::of(1.0), |&o| values[o]);
        let product = certain
            .iter()
            .fold(output, |product, row| product.times(transform(row, first)));
        for i in 0..TOGETHER {
            transformed.push((product.real[i], product.imaginary[i]));
        }
    }
    transformed.truncate(half);
    let all = transformed.first().map_or(1.0, |zero| zero.0);
    #[allow(clippy::cast_precision_loss)]
    let scale = 1.0 / (all * size as f64);
    let chances = (0..size).map(|n| {
        let mut sum = 0.0;
        let mut at = 0;
        for (frequency, &(real, imaginary)) in transformed.iter().enumerate() {
            // Turned the other way: the conjugate.
            let term = real * turn[at].0 + imaginary * turn[at].1;
            let is_alone = frequency == 0 || 2 * frequency == size;
            sum += if is_alone { term } else { 2.0 * term };
            at = (at + n) % size;
        }
        (sum * scale).max(0.0)
    });
    Spread {
        step,
        chances: chances.collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::{Pert, Spread, step_for, total};
    use tellmark_compile::Laid;
    use tellmark_core::pack::Operation;

    /// A circuit of nothing but the constant 1.
    fn certain() -> Laid {
        Laid {
            constants: vec![1.0_f64.to_bits()],
            inputs: 0,
            steps: Vec::new(),
            outputs: vec![0],
        }
    }

    /// A job that is done in three worlds of four: 0.25 + 0.75 · input.
    fn perhaps() -> Laid {
        let step = |product, left, right| Operation {
            product,
            left,
            right,
        };
        Laid {
            constants: vec![0.25_f64.to_bits(), 0.75_f64.to_bits()],
            inputs: 1,
            steps: vec![step(true, 1, 2), step(false, 0, 3)],
            outputs: vec![4],
        }
    }

    fn is_close(spread: &Spread, wanted: &[f64]) {
        for (n, chance) in spread.chances.iter().enumerate() {
            let wanted = wanted.get(n).copied().unwrap_or_default();
            assert!((chance - wanted).abs() < 1e-12, "{n}: {chance} {wanted}");
        }
    }

    fn fixed(hours: f64) -> Pert {
        Pert::new(hours, hours, hours)
    }

    #[test]
    fn certain_times_add_up() {
        let spread = total(&certain(), 1.0, &[fixed(2.0), fixed(3.0)], &[]);
        is_close(&spread, &[0.0, 0.0, 0.0, 0.0, 0.0, 1.0]);
        assert!((spread.mean() - 5.0).abs() < 1e-12);
    }

    #[test]
    fn a_job_that_may_be_done_adds_its_time_where_it_is() {
        let spread = total(&perhaps(), 1.0, &[fixed(1.0)], &[Some(fixed(2.0))]);
        is_close(&spread, &[0.0, 0.25, 0.0, 0.75]);
        assert!((spread.mean() - 2.5).abs() < 1e-12);
    }

    #[test]
    fn a_job_of_no_known_time_adds_nothing() {
        let spread = total(&perhaps(), 1.0, &[fixed(1.0)], &[None]);
        is_close(&spread, &[0.0, 1.0]);
    }

    #[test]
    fn points_rise_with_their_share() {
        let spread = Spread {
            step: 0.5,
            chances: vec![0.25, 0.5, 0.25],
        };
        assert!(
            spread.point(0.2).abs() < 1e-12,
            "nothing is enough in a quarter"
        );
        assert!(
            (spread.point(0.5) - 0.5).abs() < 1e-12,
            "the middle of the middle step"
        );
        let points: Vec<f64> = (1..100)
            .map(|n| spread.point(f64::from(n) / 100.0))
            .collect();
        assert!(points.windows(2).all(|pair| pair[0] <= pair[1]));
    }

    #[test]
    fn the_step_keeps_a_spread_short() {
        assert!((step_for(10.0) - 1.0 / 60.0).abs() < 1e-12);
        assert!((step_for(400.0) - 0.5).abs() < 1e-12);
        assert!((step_for(1e9) - 4.0).abs() < 1e-12, "the longest there is");
    }
}
