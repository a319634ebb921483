//! The program of a belief fragment: sums and products in order.
//!
//! Its nodes are, in this order: constants; two likelihoods ("no", "yes") for
//! each state; the tables of the groups of parts; the results of the steps.

use super::layout::Row;
use super::words::{high, low, word};
use super::{Fragment, GROUP_WORDS, Group};

/// One sum or product of two earlier nodes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Operation {
    /// A product rather than a sum.
    pub product: bool,
    /// One operand.
    pub left: usize,
    /// The other.
    pub right: usize,
}

impl Operation {
    /// As a word of a program; operands are below 2¹⁵.
    #[must_use]
    pub fn word(self) -> u32 {
        let operand = |n: usize| u32::try_from(n).unwrap_or(0) & 0x7fff;
        (u32::from(self.product) << 31) | (operand(self.right) << 15) | operand(self.left)
    }

    #[inline]
    fn read(word: u32) -> Self {
        Self {
            product: word >> 31 != 0,
            left: (word & 0x7fff) as usize,
            right: ((word >> 15) & 0x7fff) as usize,
        }
    }
}

/// A fragment's program, read in place.
#[derive(Clone, Copy, Debug)]
pub struct Program<'a> {
    fragment: Fragment,
    code: &'a [u32],
}

impl<'a> Program<'a> {
    pub(crate) fn new(fragment: &Fragment, code: &'a [u32]) -> Self {
        Self {
            fragment: *fragment,
            code,
        }
    }

    fn part(&self, from: usize, words: usize) -> &'a [u32] {
        self.code
            .get(from..from.saturating_add(words))
            .unwrap_or(&[])
    }

    /// The constants, as bits of `f64`.
    pub fn constants(&self) -> impl Iterator<Item = u64> + use<'a> {
        self.part(0, 2 * usize::from(self.fragment.constants))
            .chunks_exact(2)
            .map(|pair| u64::from(word(pair, 0)) | (u64::from(word(pair, 1)) << 32))
    }

    /// The node that holds this entry of the message.
    #[must_use]
    pub fn output(&self, entry: usize) -> usize {
        let at = 2 * usize::from(self.fragment.constants) + entry / 2;
        let pair = word(self.code, at);
        usize::from(if entry.is_multiple_of(2) {
            low(pair)
        } else {
            high(pair)
        })
    }

    /// How the parts of the `g`-th kind report.
    #[must_use]
    pub fn group(&self, g: usize) -> Group {
        let first = 2 * usize::from(self.fragment.constants) + self.fragment.entries().div_ceil(2);
        let start = first.saturating_add(g.wrapping_mul(GROUP_WORDS));
        Group::read(self.part(start, GROUP_WORDS))
    }

    /// First likelihood node.
    #[must_use]
    pub fn first_likelihood(&self) -> usize {
        usize::from(self.fragment.constants)
    }

    /// First table node.
    #[must_use]
    pub fn first_table(&self) -> usize {
        self.first_likelihood() + 2 * usize::from(self.fragment.states)
    }

    /// The node of the first step.
    #[must_use]
    pub fn first_step(&self) -> usize {
        self.first_table() + usize::from(self.fragment.table)
    }

    /// The steps, in order.
    #[inline]
    pub fn steps(
        &self,
    ) -> impl DoubleEndedIterator<Item = Operation> + ExactSizeIterator + use<'a> {
        let words = usize::from(self.fragment.steps);
        let from = self.fragment.code_words().saturating_sub(words);
        self.part(from, words).iter().map(|&w| Operation::read(w))
    }
}
