//! Works out sums as the guide writes them: `1 − 0.9 × (1 − 0.2 × 0.6)`, with `/`, `min`,
//! `√` and `Φ`, the part of the normal curve below so many standard deviations.

/// What a sum comes to.
///
/// # Panics
/// If it is not written in this way.
#[must_use]
pub fn worked_out(sum: &str) -> f64 {
    let mut left = Left(sum.chars().filter(|c| !c.is_whitespace()).collect());
    left.0.reverse();
    let value = left.terms();
    assert!(left.0.is_empty(), "in {sum}");
    value
}

/// What is left to read, the next sign last.
struct Left(Vec<char>);

impl Left {
    fn takes(&mut self, sign: char) -> bool {
        let is_next = self.0.last() == Some(&sign);
        if is_next {
            self.0.pop();
        }
        is_next
    }

    fn terms(&mut self) -> f64 {
        let mut value = self.factors();
        loop {
            if self.takes('+') {
                value += self.factors();
            } else if self.takes('−') {
                value -= self.factors();
            } else {
                return value;
            }
        }
    }

    fn factors(&mut self) -> f64 {
        let mut value = self.factor();
        loop {
            if self.takes('×') {
                value *= self.factor();
            } else if self.takes('/') {
                value /= self.factor();
            } else {
                return value;
            }
        }
    }

    fn factor(&mut self) -> f64 {
        if self.takes('−') {
            return -self.factor();
        }
        if self.takes('√') {
            return self.factor().sqrt();
        }
        if self.takes('Φ') {
            return normal(self.factor());
        }
        if self.takes('m') {
            assert!(self.takes('i') && self.takes('n') && self.takes('('), "min");
            let mut least = self.terms();
            while self.takes(',') {
                least = least.min(self.terms());
            }
            assert!(self.takes(')'), "a bracket that ends");
            return least;
        }
        if self.takes('(') {
            let value = self.terms();
            assert!(self.takes(')'), "a bracket that ends");
            return value;
        }
        let mut digits = String::new();
        while let Some(&digit) = self.0.last() {
            if !digit.is_ascii_digit() && digit != '.' {
                break;
            }
            digits.push(digit);
            self.0.pop();
        }
        digits.parse().expect("a number")
    }
}

/// The part of the normal curve below `x` standard deviations: the series of M. Abramowitz
/// and I. A. Stegun, Handbook of Mathematical Functions (1964), 26.2.11.
fn normal(x: f64) -> f64 {
    let density = (-x * x / 2.0).exp() / std::f64::consts::TAU.sqrt();
    let (mut term, mut sum) = (x, x);
    for n in 1..200 {
        term *= x * x / f64::from(2 * n + 1);
        sum += term;
    }
    0.5 + density * sum
}

#[cfg(test)]
mod tests {
    use super::worked_out;

    #[test]
    fn sums_come_to_what_they_say() {
        let is = |sum, value: f64| assert!((worked_out(sum) - value).abs() < 1e-6, "{sum}");
        is("1 − 0.9 × (1 − 0.2 × 0.6)", 0.208);
        is("6 / 2 / 3", 1.0);
        is("−2 + min(3, 1 + 1)", 0.0);
        is("√(9 / 4)", 1.5);
        // Abramowitz and Stegun, table 26.1.
        is("Φ(2)", 0.977_249_868);
        is("Φ(−2)", 0.022_750_132);
    }
}
