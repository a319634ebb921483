//! What a gauge can tell: how likely the true value lies between two marks when the gauge
//! shows a reading.
//!
//! Errors of hand and gauge are taken for normal. The chance that a normal variable lies
//! above x is worked out from a table with a row for each eighth: from the next row up,
//! by the Taylor series of the density, whose terms are Hermite polynomials. Whole
//! numbers only, so that every machine gets the same bits; off by less than 1e-9.

/// One whole, in the units of [`between`].
pub const WHOLE: u64 = 1 << 62;

/// The least that is ever said of a band, however far from the reading: about 1e-15. A
/// reading makes what it is far from as good as impossible, but never contradicts it.
const LEAST: u64 = 1 << 12;

/// Rows for each standard deviation, and the last one.
const ROWS_A_DEVIATION: u64 = 8;
const LAST_ROW: u64 = 8 * ROWS_A_DEVIATION;

/// How fine standard deviations are counted: in 2⁻³⁰.
const FINE: u32 = 30;
/// The width of a row in these.
const ROW: u64 = 1 << (FINE - 3);

/// The chance that the true value lies from one mark up to another, in units of
/// 1 / [`WHOLE`]. `from` and `to` are counted from the reading, in ticks; `None` is
/// without end. `deviation` is one standard deviation of hand and gauge, in ticks.
#[must_use]
pub fn between(from: Option<i64>, to: Option<i64>, deviation: u32) -> u64 {
    let above_from = from.map_or((WHOLE, 0), |d| sides(d, deviation));
    let above_to = to.map_or((0, WHOLE), |d| sides(d, deviation));
    // Of the two tails, the difference of the smaller ones keeps its precision.
    let mass = if from.is_some_and(|d| d >= 0) {
        above_from.0.saturating_sub(above_to.0)
    } else {
        above_to.1.saturating_sub(above_from.1)
    };
    mass.max(LEAST)
}

/// The chances that a normal variable lies above and below a distance from its mean.
fn sides(distance: i64, deviation: u32) -> (u64, u64) {
    let tail = tail(distance.unsigned_abs(), deviation);
    let rest = WHOLE.saturating_sub(tail);
    if distance < 0 {
        (rest, tail)
    } else {
        (tail, rest)
    }
}

/// The chance that a normal variable lies above its mean by more than this.
fn tail(distance: u64, deviation: u32) -> u64 {
    if distance >> (u64::BITS - 1 - FINE) != 0 {
        return 0;
    }
    let x = (distance << FINE)
        .checked_div(u64::from(deviation))
        .unwrap_or(u64::MAX);
    let row = x.div_ceil(ROW);
    if row > LAST_ROW {
        return 0;
    }
    let Some(&(above, density)) = usize::try_from(row).ok().and_then(|row| TABLE.get(row)) else {
        return 0;
    };
    let at = row.wrapping_mul(ROW);
    above.saturating_add(below_row(density, at, at.saturating_sub(x)))
}

/// The chance between `at - back` and `at`, where the density is `density`.
///
/// The density at `at - t` is `density` times the sum of He_n(at) tⁿ / n!; its integral
/// is back times the sum of He_n(at) backⁿ / (n + 1)!. With uₙ = He_n(at) backⁿ / n!,
/// uₙ₊₁ = (at back uₙ - back² uₙ₋₁) / (n + 1). All are below 2, and so products of two
/// below 2⁶²: nothing overflows.
fn below_row(density: u64, at: u64, back: u64) -> u64 {
    let fine = |n: u64| i64::try_from(n >> FINE).unwrap_or(i64::MAX);
    let first = fine(at.wrapping_mul(back));
    let second = fine(back.wrapping_mul(back));
    let one = 1_i64 << FINE;
    let times = |a: i64, b: i64| a.wrapping_mul(b) >> FINE;
    let (mut before, mut term, mut sum) = (0_i64, one, one);
    for (&one_nth, &one_next) in RECIPROCALS.iter().zip(RECIPROCALS.iter().skip(1)) {
        let next = times(first, term).wrapping_sub(times(second, before));
        let next = times(next, one_nth);
        (before, term) = (term, next);
        sum = sum.wrapping_add(times(next, one_next));
    }
    let share = u64::try_from(sum).unwrap_or(0).wrapping_mul(back) >> FINE;
    scaled(density, share)
}

/// A 2⁻³⁰th share of a number; the share is below 2.
fn scaled(number: u64, share: u64) -> u64 {
    let (high, low) = (number >> 32, number & 0xffff_ffff);
    (high.wrapping_mul(share) << (32 - FINE)).wrapping_add(low.wrapping_mul(share) >> FINE)
}

/// 1, 1/2 ... 1/12 in 2⁻³⁰, to the nearest: a product takes far less time than a quotient.
const RECIPROCALS: [i64; 12] = [
    1_073_741_824,
    536_870_912,
    357_913_941,
    268_435_456,
    214_748_365,
    178_956_971,
    153_391_689,
    134_217_728,
    119_304_647,
    107_374_182,
    97_612_893,
    89_478_485,
];

/// For x = 0, 1/8 ... 8: the chance that a standard normal variable lies above x, and its
/// density there, in units of 2⁻⁶². From the complementary error function to 40 digits;
/// agrees with M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions (1964),
/// table 26.1.
const TABLE: [(u64, u64); 65] = [
    (0x2000000000000000, 0x19884533d436508d),
    (0x1cd116c3bf96a67e, 0x19556797fced534e),
    (0x19aecba9d2252796, 0x18bf2ba104becc72),
    (0x16a527901e824319, 0x17cc794ec1630052),
    (0x13bf143b9aa71243, 0x16883d022086ac29),
    (0x1105e82b1e4c9fd4, 0x150096dcefd7c83e),
    (0x0e811002b59d26db, 0x1345d5efad34148e),
    (0x0c35da7ac0525cf8, 0x1169595e2ff285ae),
    (0x0a27685dbe590597, 0x0f7c72c7198b9bb8),
    (0x0856bed07cd85c41, 0x0d8f63101923bab5),
    (0x06c2f744aea70a51, 0x0bb085ca18f863d4),
    (0x05698658f724817e, 0x09ebb890a7d2c69b),
    (0x044691b62591fba8, 0x084a042b690f4235),
    (0x03554cb7f49f05c2, 0x06d185e2592c8384),
    (0x0290544828aadb95, 0x0585914dafc58af1),
    (0x01f20394ecbf67af, 0x0466fe8d45b6b728),
    (0x0174bcf82c9d85fa, 0x03749686dd075a8e),
    (0x0113243b7f38027b, 0x02ab8e7ecee76203),
    (0x00c8492790e9b092, 0x020805bfa7b83436),
    (0x008fc2d0e4d94bee, 0x01857a94283500c0),
    (0x0065bd395f927391, 0x011f2f0557f52562),
    (0x0046fb9b01f7c519, 0x00d07915f4e9923d),
    (0x0030d208693d9006, 0x0094fd2a631a0f1f),
    (0x002119121cf9b7ee, 0x0068d3a95f6338d7),
    (0x00161de1f985b5d7, 0x00489c84ff5dda22),
    (0x000e90d7a5706eb7, 0x00318444daf5ca6c),
    (0x00097437ebe81a03, 0x00213e71c3145041),
    (0x00060c06f9025eb0, 0x0015f90f6ce87b37),
    (0x0003cfb79256efbb, 0x000e4c4be8a3f310),
    (0x00025dfeff8623cf, 0x000928dfbd1587d7),
    (0x000172d9564b2dce, 0x0005c6e4bb2aa9e4),
    (0x0000df9bb31d2522, 0x000396440e5a4147),
    (0x000084d6bcaa5800, 0x000231531c581697),
    (0x00004dbfabb36348, 0x000151cfa5ec5ce8),
    (0x00002cd4b797e48a, 0x0000c8257eef4665),
    (0x000019775b45c269, 0x000074be91121ba4),
    (0x00000e403946e9d8, 0x0000430a694cf42f),
    (0x000007db1c1f492c, 0x000025e6bf63a7a1),
    (0x0000044415b680f3, 0x00001518646fbb0c),
    (0x000002482933b636, 0x00000b8f2bbb9d86),
    (0x00000133ca2f2134, 0x0000063c5a59323f),
    (0x0000009fbd46c769, 0x0000034fd10f2f7f),
    (0x00000051a85b35ee, 0x000001bb4a8be267),
    (0x000000291d719557, 0x000000e42fcf0306),
    (0x0000001463cfa9c8, 0x00000073a3b0e494),
    (0x00000009f59a2924, 0x00000039b1d45684),
    (0x00000004ca8d78cd, 0x0000001c56b24c53),
    (0x000000024526c6ef, 0x0000000db424594e),
    (0x000000010f30ef01, 0x0000000686203ef4),
    (0x000000007ca27522, 0x000000030ec5b460),
    (0x000000003869851e, 0x000000016930a865),
    (0x0000000019256fc3, 0x00000000a413f6c5),
    (0x000000000b0a0259, 0x00000000496155ac),
    (0x0000000004c5c55b, 0x00000000204f1227),
    (0x0000000002082f14, 0x000000000e013e6d),
    (0x0000000000da1b80, 0x0000000005f9fe89),
    (0x00000000005a0f0e, 0x000000000282cc7e),
    (0x0000000000249ec1, 0x000000000109df86),
    (0x00000000000ea9f2, 0x00000000006c43d6),
    (0x000000000005c84a, 0x00000000002b6711),
    (0x0000000000023ed2, 0x0000000000112148),
    (0x000000000000dbce, 0x000000000006a7f0),
    (0x00000000000052c5, 0x0000000000028bd0),
    (0x0000000000001eb1, 0x000000000000f57a),
    (0x0000000000000b35, 0x0000000000005b03),
];

#[cfg(test)]
#[allow(clippy::float_arithmetic, clippy::cast_precision_loss)]
mod tests {
    use super::*;

    fn share(units: u64) -> f64 {
        units as f64 / WHOLE as f64
    }

    #[test]
    fn tails_agree_with_published_values() {
        // Abramowitz and Stegun, table 26.1: P(x) for x = 0.5, 1, 1.96, 3, 4.
        let published = [
            (500, 0.691_462_461_274_013),
            (1000, 0.841_344_746_068_543),
            (1960, 0.975_002_104_851_780),
            (3000, 0.998_650_101_968_370),
            (4000, 0.999_968_328_758_167),
        ];
        for (thousandths, below) in published {
            let worked_out = share(between(None, Some(thousandths), 1000));
            assert!((worked_out - below).abs() < 1e-9, "{thousandths}");
            let above = share(between(Some(thousandths), None, 1000));
            assert!((above - (1.0 - below)).abs() < 1e-9, "{thousandths}");
        }
    }

    #[test]
    fn bands_that_meet_make_a_whole() {
        for cut in [-7_999, -1_234, -1, 0, 1, 77, 4_321, 9_000] {
            let below = share(between(None, Some(cut), 1000));
            let above = share(between(Some(cut), None, 1000));
            assert!((below + above - 1.0).abs() < 2e-9, "{cut}");
        }
    }

    #[test]
    fn a_narrow_band_has_the_density_times_its_width() {
        // The density at one deviation, 0.241970724519143 (table 26.1).
        let band = share(between(Some(1_000_000), Some(1_000_010), 1_000_000));
        assert!((band / 1e-5 - 0.241_970_724_519).abs() < 1e-5);
    }

    #[test]
    fn what_is_far_from_the_reading_is_never_impossible() {
        assert_eq!(between(Some(1_000_000), Some(2_000_000), 1), LEAST);
        assert_eq!(between(None, Some(-1_000_000), 1), LEAST);
        // So far that the distance in deviations does not fit.
        assert_eq!(between(Some(1 << 34), None, 1_000), LEAST);
        assert_eq!(between(Some(i64::MAX), None, u32::MAX), LEAST);
    }
}
