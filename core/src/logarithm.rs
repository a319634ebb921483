//! Logarithms to base 2 in whole numbers, so that every machine gets the same bits.

/// Places after the point of a logarithm.
pub const PLACES: u32 = 20;

/// How a number from 1 to 2 is held: 1 is one with so many noughts.
const ONE: u32 = 31;

/// The logarithm of a number of 1 or more, in 2⁻²⁰, rounded down; 0 of anything less.
///
/// Each squaring of a number from 1 to 2 gives the next place of its logarithm.
#[must_use]
pub fn log2(number: i32) -> i32 {
    let Some(number) = u32::try_from(number).ok().filter(|&number| number > 0) else {
        return 0;
    };
    let whole = number.ilog2();
    let mut rest = u64::from(number) << ONE.saturating_sub(whole);
    let mut log = whole;
    for _ in 0..PLACES {
        rest = rest.wrapping_mul(rest) >> ONE;
        let is_two = rest >> ONE > 1;
        rest >>= u32::from(is_two);
        log = (log << 1) | u32::from(is_two);
    }
    log.cast_signed()
}

/// The number that has this logarithm (in 2⁻²⁰), to the nearest whole number; 1 for what is
/// below 0, and the largest there is for what is too large.
#[must_use]
pub fn exp2(log: i32) -> i32 {
    let Ok(log) = u32::try_from(log) else {
        return 1;
    };
    let whole = log >> PLACES;
    if whole >= ONE {
        return i32::MAX;
    }
    let mut number = 1_u64 << ONE;
    for (place, root) in ROOTS.iter().enumerate() {
        if log >> (PLACES as usize).saturating_sub(place.saturating_add(1)) & 1 != 0 {
            number = number.wrapping_mul(u64::from(*root)) >> ONE;
        }
    }
    let down = ONE.saturating_sub(whole);
    let half = (1_u64 << down) >> 1;
    i32::try_from(number.saturating_add(half) >> down).unwrap_or(i32::MAX)
}

/// 2 to the power of 1/2, 1/4, 1/8 …, in 2⁻³¹, to the nearest.
const ROOTS: [u32; PLACES as usize] = [
    3_037_000_500,
    2_553_802_834,
    2_341_847_524,
    2_242_560_872,
    2_194_507_417,
    2_170_868_212,
    2_159_144_272,
    2_153_306_067,
    2_150_392_887,
    2_148_937_775,
    2_148_210_589,
    2_147_847_087,
    2_147_665_360,
    2_147_574_502,
    2_147_529_075,
    2_147_506_361,
    2_147_495_005,
    2_147_489_326,
    2_147_486_487,
    2_147_485_068,
];

#[cfg(test)]
#[allow(
    clippy::float_arithmetic,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation
)]
mod tests {
    use super::*;

    #[test]
    fn logarithms_are_those_of_floating_point_rounded_down() {
        for number in [1, 2, 3, 7, 10, 1_000, 40_000, 123_456_789, i32::MAX] {
            let place = f64::from(1_u32 << PLACES);
            let exact = f64::from(number).log2() * place;
            let found = f64::from(log2(number));
            assert!(
                found <= exact + 1e-6 && found > exact - 1.5,
                "{number}: {found}, {exact}"
            );
        }
        assert_eq!((log2(0), log2(-5)), (0, 0));
    }

    #[test]
    fn a_number_comes_back_from_its_logarithm() {
        let mut number = 1_i64;
        while number < i64::from(i32::MAX) {
            let back = i64::from(exp2(log2(number as i32)));
            let off = (back - number).abs() as f64;
            assert!(off <= 0.51 + 1.5e-6 * number as f64, "{number}: {back}");
            number += 1 + number / 37;
        }
        assert_eq!((exp2(-1), exp2(i32::MAX), exp2(0)), (1, i32::MAX, 1));
    }
}
