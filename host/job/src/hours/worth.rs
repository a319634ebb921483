//! The values that a piece's circuit is worked out in.

use tellmark_compile::Laid;

/// Something that can be added and multiplied.
pub(super) trait Value: Copy {
    /// From a number.
    fn of(number: f64) -> Self;
    /// The sum.
    fn plus(self, other: Self) -> Self;
    /// The product.
    fn times(self, other: Self) -> Self;
}

/// A weight, with the hours that go with it: the weight, its sum of hours, and half
/// its sum of squared hours. (The weights of sums of independent times multiply like
/// power series.)
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Moments {
    pub weight: f64,
    pub first: f64,
    pub half_second: f64,
}

impl Moments {
    /// Of a time with this mean and variance.
    pub fn new(mean: f64, variance: f64) -> Self {
        Self {
            weight: 1.0,
            first: mean,
            half_second: (variance + mean * mean) / 2.0,
        }
    }

    /// Mean and variance; `None` without weight.
    pub fn mean_and_variance(self) -> Option<(f64, f64)> {
        let mean = self.first / self.weight;
        let variance = 2.0 * self.half_second / self.weight - mean * mean;
        mean.is_finite().then_some((mean, variance.max(0.0)))
    }
}

impl Value for Moments {
    fn of(number: f64) -> Self {
        Self {
            weight: number,
            ..Self::default()
        }
    }

    fn plus(self, other: Self) -> Self {
        Self {
            weight: self.weight + other.weight,
            first: self.first + other.first,
            half_second: self.half_second + other.half_second,
        }
    }

    fn times(self, other: Self) -> Self {
        Self {
            weight: self.weight * other.weight,
            first: self.first * other.weight + self.weight * other.first,
            half_second: self.half_second * other.weight
                + self.first * other.first
                + self.weight * other.half_second,
        }
    }
}

/// How many frequencies go through the circuit together.
pub(super) const TOGETHER: usize = 8;

/// Complex numbers, one for each of a few frequencies.
#[derive(Clone, Copy, Debug)]
pub(super) struct Waves {
    pub real: [f64; TOGETHER],
    pub imaginary: [f64; TOGETHER],
}

impl Value for Waves {
    fn of(number: f64) -> Self {
        Self {
            real: [number; TOGETHER],
            imaginary: [0.0; TOGETHER],
        }
    }

    fn plus(mut self, other: Self) -> Self {
        for i in 0..TOGETHER {
            self.real[i] += other.real[i];
            self.imaginary[i] += other.imaginary[i];
        }
        self
    }

    fn times(self, other: Self) -> Self {
        let mut product = self;
        for i in 0..TOGETHER {
            let (a, b) = (self.real[i], self.imaginary[i]);
            let (c, d) = (other.real[i], other.imaginary[i]);
            product.real[i] = a * c - b * d;
            product.imaginary[i] = a * d + b * c;
        }
        product
    }
}

/// Works out every node; the circuit's inputs have these values.
pub(super) fn forwards<V: Value>(laid: &Laid, inputs: &[V]) -> Vec<V> {
    let constants = laid
        .constants
        .iter()
        .map(|&bits| V::of(f64::from_bits(bits)));
    let mut values: Vec<V> = constants.chain(inputs.iter().copied()).collect();
    values.reserve(laid.steps.len());
    for step in &laid.steps {
        let (left, right) = (values[step.left], values[step.right]);
        values.push(if step.product {
            left.times(right)
        } else {
            left.plus(right)
        });
    }
    values
}

/// How the output hangs on each input: its derivative by it.
pub(super) fn backwards<V: Value>(laid: &Laid, values: &[V]) -> Vec<V> {
    let mut slopes = vec![V::of(0.0); values.len()];
    if let Some(&output) = laid.outputs.first() {
        slopes[output] = V::of(1.0);
    }
    let first = laid.constants.len() + laid.inputs;
    for (at, step) in laid.steps.iter().enumerate().rev() {
        let slope = slopes[first + at];
        let (left, right) = (values[step.left], values[step.right]);
        let (to_left, to_right) = if step.product {
            (slope.times(right), slope.times(left))
        } else {
            (slope, slope)
        };
        slopes[step.left] = slopes[step.left].plus(to_left);
        slopes[step.right] = slopes[step.right].plus(to_right);
    }
    slopes[laid.constants.len()..first].to_vec()
}
