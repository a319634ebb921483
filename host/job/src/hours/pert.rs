//! How long a job takes that has a quickest, a usual and a slowest time.
//!
//! The usual three-point estimate: a beta distribution between quickest and
//! slowest whose mean is (quickest + 4 usual + slowest) / 6 (D. G. Malcolm,
//! J. H. Roseboom, C. E. Clark and W. Fazar, "Application of a technique for
//! research and development program evaluation", Operations Research 7, 1959). Its
//! spread follows from its shape; it is not taken as a sixth of the range.

use tellmark_language::model::Takes;

/// A time between a quickest and a slowest, in hours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pert {
    least: f64,
    range: f64,
    alpha: f64,
    beta: f64,
}

impl From<Takes> for Pert {
    fn from(takes: Takes) -> Self {
        let hours = |minutes: u32| f64::from(minutes) / 60.0;
        Self::new(hours(takes.least), hours(takes.mostly), hours(takes.most))
    }
}

impl Pert {
    /// From its three points. The usual one is taken to lie between the others.
    #[must_use]
    pub fn new(least: f64, mostly: f64, most: f64) -> Self {
        let range = (most - least).max(0.0);
        let usual = if range > 0.0 {
            ((mostly - least) / range).clamp(0.0, 1.0)
        } else {
            0.5
        };
        Self {
            least,
            range,
            alpha: 1.0 + 4.0 * usual,
            beta: 5.0 - 4.0 * usual,
        }
    }

    /// The mean.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.least + self.range * self.alpha / (self.alpha + self.beta)
    }

    /// The variance.
    #[must_use]
    pub fn variance(&self) -> f64 {
        let mean = self.mean();
        (mean - self.least) * (self.least + self.range - mean) / (self.alpha + self.beta + 1.0)
    }

    /// The slowest.
    #[must_use]
    pub fn most(&self) -> f64 {
        self.least + self.range
    }

    /// The chance that it takes no longer than this.
    #[must_use]
    pub fn within(&self, hours: f64) -> f64 {
        if self.range <= 0.0 {
            return if hours < self.least { 0.0 } else { 1.0 };
        }
        let share = (hours - self.least) / self.range;
        beta_below(share, self.alpha, self.beta)
    }

    /// The mean, counting only the times no longer than this.
    fn mean_within(&self, hours: f64) -> f64 {
        let share = (hours - self.least) / self.range;
        let of_share =
            self.alpha / (self.alpha + self.beta) * beta_below(share, self.alpha + 1.0, self.beta);
        self.least * self.within(hours) + self.range * of_share
    }

    /// The same time on a grid: the weight of 0, 1, 2 … steps. What lies between two
    /// points of the grid is shared out between them so that the mean stays.
    #[must_use]
    pub fn on_grid(&self, step: f64) -> Vec<f64> {
        let steps = |hours: f64| (hours / step).max(0.0);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let (first, last) = (
            steps(self.least + 1e-9).floor() as usize,
            steps(self.most() - 1e-9).ceil() as usize,
        );
        let mut weights = vec![0.0; last.max(first) + 2];
        #[allow(clippy::cast_precision_loss)]
        let at = |n: usize| n as f64 * step;
        if self.range <= 0.0 {
            let over = (self.least - at(first)) / step;
            weights[first] = 1.0 - over;
            weights[first + 1] = over;
        } else {
            for n in first..last {
                let (from, to) = (at(n), at(n + 1));
                let weight = self.within(to) - self.within(from);
                let mean = self.mean_within(to) - self.mean_within(from);
                let over = ((mean - from * weight) / step).clamp(0.0, weight.max(0.0));
                weights[n] += weight - over;
                weights[n + 1] += over;
            }
        }
        while weights.last() == Some(&0.0) {
            weights.pop();
        }
        weights
    }
}

/// The chance that a beta variable is below `x`: the continued fraction 8.17.22 of
/// the NIST Digital Library of Mathematical Functions, worked out by Lentz's method.
fn beta_below(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - beta_below(1.0 - x, b, a);
    }
    let front = a * x.ln() + b * (-x).ln_1p() + ln_gamma(a + b) - ln_gamma(a) - ln_gamma(b);
    let small = |v: f64| if v.abs() < 1e-300 { 1e-300 } else { v };
    let (mut c, mut d) = (1.0, 1.0 / small(1.0 - (a + b) * x / (a + 1.0)));
    let mut fraction = d;
    for n in 1..300 {
        let m = f64::from(n);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let mut change = 1.0;
        for term in [even, odd] {
            d = 1.0 / small(1.0 + term * d);
            c = small(1.0 + term / c);
            change = c * d;
            fraction *= change;
        }
        if (change - 1.0).abs() < 1e-16 {
            break;
        }
    }
    (front.exp() * fraction / a).clamp(0.0, 1.0)
}

/// The logarithm of the gamma function, for numbers above 0: stepped up to where
/// Stirling's series (NIST Digital Library of Mathematical Functions, 5.11.1) is
/// exact to the last digit.
fn ln_gamma(x: f64) -> f64 {
    let (mut x, mut product) = (x, 1.0);
    while x < 16.0 {
        product *= x;
        x += 1.0;
    }
    let series = 1.0 / (12.0 * x) - 1.0 / (360.0 * x.powi(3)) + 1.0 / (1260.0 * x.powi(5))
        - 1.0 / (1680.0 * x.powi(7))
        + 1.0 / (1188.0 * x.powi(9));
    (x - 0.5) * x.ln() - x + 0.5 * (2.0 * std::f64::consts::PI).ln() + series - product.ln()
}

#[cfg(test)]
mod tests {
    use super::Pert;

    #[test]
    fn a_time_that_does_not_vary_is_met_at_once() {
        let hour = Pert::new(1.0, 1.0, 1.0);
        assert!((hour.mean() - 1.0).abs() < 1e-15);
        assert!(hour.variance().abs() < 1e-15);
        assert!(hour.within(0.999).abs() < 1e-15);
        assert!((hour.within(1.0) - 1.0).abs() < 1e-15);
    }

    #[test]
    fn the_mean_is_a_sixth_of_the_ends_and_four_of_the_usual() {
        let time = Pert::new(1.0, 2.0, 6.0);
        assert!((time.mean() - (1.0 + 4.0 * 2.0 + 6.0) / 6.0).abs() < 1e-14);
        assert!((time.most() - 6.0).abs() < 1e-15);
    }

    #[test]
    fn nothing_is_quicker_than_the_quickest_or_slower_than_the_slowest() {
        let time = Pert::new(1.0, 2.0, 6.0);
        assert!(time.within(1.0).abs() < 1e-15);
        assert!((time.within(6.0) - 1.0).abs() < 1e-15);
        let shares: Vec<f64> = (0..=50).map(|n| time.within(f64::from(n) / 8.0)).collect();
        assert!(shares.windows(2).all(|pair| pair[0] <= pair[1]));
    }

    #[test]
    fn a_usual_time_outside_the_ends_counts_as_the_nearer_end() {
        assert_eq!(Pert::new(2.0, 1.0, 4.0), Pert::new(2.0, 2.0, 4.0));
        assert_eq!(Pert::new(2.0, 9.0, 4.0), Pert::new(2.0, 4.0, 4.0));
    }

    #[test]
    fn between_two_points_of_the_grid_a_fixed_time_is_shared_out() {
        let row = Pert::new(1.75, 1.75, 1.75).on_grid(0.5);
        let wanted = [0.0, 0.0, 0.0, 0.5, 0.5];
        assert_eq!(row.len(), wanted.len());
        for (is, wanted) in row.iter().zip(wanted) {
            assert!((is - wanted).abs() < 1e-9, "{row:?}");
        }
    }
}
