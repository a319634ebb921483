//! What an answer says about a state: how likely the answer is if the state
//! does not hold, and if it does.

use crate::number::Number;
use crate::pack::{Form, NONE, Pack, State, Trial};
use crate::piece::Answer;

/// "Looks like it" is four times as likely if it is so.
const LOOKS: u32 = 16_384;
/// One, in the units of [`normal`].
const ONE: u32 = 65_536;

/// The likelihoods of what was answered about a state: (no, yes). `answer` says
/// what was answered to an ask.
pub(super) fn of<N: Number>(
    pack: &Pack<'_>,
    state: &State,
    answer: impl Fn(u16) -> Answer,
) -> (N, N) {
    let given = answer(state.ask);
    let ask = || pack.ask(usize::from(state.ask));
    match (given, state.trial) {
        (Answer::Value(value), Trial::Value(meant)) => {
            sides(value == meant, thousandths(ask().slip))
        }
        (Answer::Reading(reading), Trial::Within(from, to)) => {
            let gauge = match ask().form {
                Form::HowMuch { gauge, .. } => gauge,
                _ => 0,
            };
            let inside = within(reading, from, to, gauge);
            (share(ONE.saturating_sub(inside)), share(inside))
        }
        (given, Trial::Yes) => whether(pack, state.ask, given),
        _ if state.whether == NONE => (N::ONE, N::ONE),
        _ => whether(pack, state.whether, answer(state.whether)),
    }
}

fn whether<N: Number>(pack: &Pack<'_>, ask: u16, given: Answer) -> (N, N) {
    match given {
        Answer::Seen(yes) => sides(yes, thousandths(pack.ask(usize::from(ask)).slip)),
        Answer::Looks(yes) => sides(yes, share(LOOKS)),
        Answer::Certain(yes) => sides(yes, N::ZERO),
        _ => (N::ONE, N::ONE),
    }
}

fn sides<N: Number>(yes: bool, against: N) -> (N, N) {
    if yes {
        (against, N::ONE)
    } else {
        (N::ONE, against)
    }
}

/// So many 65 536ths.
fn share<N: Number>(units: u32) -> N {
    whole::<N>(units).shifted(-16)
}

/// So many thousandths.
fn thousandths<N: Number>(n: u16) -> N {
    // 0x3f50_624d_d2f1_a9fc is 0.001 as an f64.
    whole::<N>(u32::from(n)).times(N::from_f64_bits(0x3f50_624d_d2f1_a9fc))
}

/// A whole number below 2²⁰.
pub(super) fn whole<N: Number>(n: u32) -> N {
    let Some(exponent) = n.checked_ilog2() else {
        return N::ZERO;
    };
    let fraction = (u64::from(n) << (52 - exponent)) & ((1 << 52) - 1);
    N::from_f64_bits((u64::from(1023 + exponent) << 52) | fraction)
}

/// Chance that the true value lies within bounds when a gauge with this
/// standard deviation shows `reading`, in 65 536ths.
fn within(reading: i32, from: i32, to: i32, gauge: u16) -> u32 {
    if gauge == 0 {
        return if from <= reading && reading <= to {
            ONE
        } else {
            0
        };
    }
    let below = |mark: i32| normal(i64::from(mark) - i64::from(reading), gauge);
    let to = if to == i32::MAX { ONE } else { below(to) };
    let from = if from == i32::MIN { 0 } else { below(from) };
    to.saturating_sub(from)
}

/// The normal distribution function at `distance / deviation`, in 65 536ths: a
/// table with a row for each eighth, and straight lines between (off by less
/// than 1 in 2 000).
fn normal(distance: i64, deviation: u16) -> u32 {
    // Φ(x) − ½ for x = 0, ⅛ … 4 in 65 536ths, from the error function; agrees
    // with M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions
    // (1964), table 26.1. The last row is rounded up to a whole half.
    const ABOVE_HALF: [u32; 33] = [
        0, 3_260, 6_469, 9_579, 12_548, 15_336, 17_916, 20_265, 22_370, 24_229, 25_844, 27_226,
        28_390, 29_355, 30_143, 30_776, 31_277, 31_667, 31_967, 32_193, 32_361, 32_484, 32_573,
        32_636, 32_680, 32_710, 32_730, 32_744, 32_753, 32_759, 32_762, 32_765, 32_768,
    ];
    const STEPS_PER_DEVIATION: u64 = 8;
    let scaled = distance
        .unsigned_abs()
        .saturating_mul(STEPS_PER_DEVIATION << 16)
        / u64::from(deviation.max(1));
    let row = usize::try_from(scaled >> 16).unwrap_or(usize::MAX);
    let between = u32::try_from(scaled & 0xffff).unwrap_or(0);
    let at = |row: usize| ABOVE_HALF.get(row).copied().unwrap_or(ONE / 2);
    let (low, high) = (at(row), at(row.saturating_add(1)));
    let above = low + ((high - low) * (between >> 4)) / 4096;
    if distance < 0 {
        ONE / 2 - above
    } else {
        ONE / 2 + above
    }
}
