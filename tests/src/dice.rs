//! A small generator of random numbers, the same on every machine.
//!
//! SplitMix64: G. L. Steele, D. Lea and C. H. Flood, "Fast splittable
//! pseudorandom number generators", OOPSLA 2014.

/// A source of random choices.
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    /// Starts from a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// Any number.
    pub fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `n`.
    pub fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.roll() % n.max(1) as u64).unwrap_or(0)
    }

    /// True in `n` of 100 throws.
    pub fn chance(&mut self, n: usize) -> bool {
        self.below(100) < n
    }

    /// One of these.
    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }
}
