//! The number that chances are computed in.
//!
//! [`UFloat`] is an unsigned float with a 9-bit exponent and a 23-bit fraction
//! ("u9.23"): as precise as `f32`, with a range down to about 1e-115, no sign,
//! no NaN and no infinity. It is made of integer arithmetic only, so a bench
//! unit without a floating-point unit is quick at it and every machine gets the
//! same bits. Belief code is generic over [`Number`], so the same code also
//! runs in `f64`, for tests and for learning.
//!
//! Only sums and products of numbers that are not negative are ever needed, and
//! none of these loses precision, however small its operands.

use core::fmt;

/// A number that chances can be computed in.
pub trait Number: Copy + PartialEq + PartialOrd + fmt::Debug {
    /// Nothing.
    const ZERO: Self;
    /// One.
    const ONE: Self;
    /// The sum.
    #[must_use]
    fn plus(self, other: Self) -> Self;
    /// The product.
    #[must_use]
    fn times(self, other: Self) -> Self;
    /// The sum with the product of two more.
    #[must_use]
    #[inline]
    fn plus_product(self, one: Self, other: Self) -> Self {
        if one.is_zero() || other.is_zero() {
            self
        } else {
            self.plus(one.times(other))
        }
    }
    /// Whether it is exactly nothing.
    fn is_zero(self) -> bool;
    /// The power of two at or below it; 0 for nothing.
    fn exponent(self) -> i32;
    /// Times a power of two.
    #[must_use]
    fn shifted(self, power: i32) -> Self;
    /// From the bits of a finite `f64` that is not negative.
    fn from_f64_bits(bits: u64) -> Self;
    /// A whole number; what is finer than 52 bits is cut off.
    fn from_whole(n: u64) -> Self {
        let Some(exponent) = n.checked_ilog2() else {
            return Self::ZERO;
        };
        // The leading one goes.
        let after = n.checked_shl(u64::BITS - exponent).unwrap_or(0);
        Self::from_f64_bits((u64::from(exponent).saturating_add(1023) << 52) | (after >> 12))
    }
    /// The share `part / (part + rest)` in whole 2⁻³² (0 if both are nothing).
    fn share(part: Self, rest: Self) -> Share;
}

/// A share of one in units of 2⁻³², the end included.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Share(u64);

impl Share {
    /// One whole.
    pub const WHOLE: Self = Self(1 << 32);

    /// From units of 2⁻³²; more than a whole counts as a whole.
    #[must_use]
    pub fn from_units(units: u64) -> Self {
        Self(units.min(Self::WHOLE.0))
    }

    /// The nearest share to this many thousandths.
    #[must_use]
    pub fn from_thousandths(thousandths: u16) -> Self {
        Self::from_units(((u64::from(thousandths) << 32) + 500) / 1000)
    }

    /// Whether it has come to so many thousandths, a millionth allowed for:
    /// the numbers it is worked out in are no finer, and a chance that is on a
    /// mark has reached it.
    #[must_use]
    pub fn reaches(self, thousandths: u16) -> bool {
        const MILLIONTH: u64 = (1 << 32) / 1_000_000;
        self.0.saturating_add(MILLIONTH) >= Self::from_thousandths(thousandths).0
    }

    /// This share of another, in units of 2⁻³².
    #[must_use]
    pub(crate) fn of(self, units: u64) -> u64 {
        self.0.saturating_mul(units) >> 32
    }

    /// In units of 2⁻³².
    #[must_use]
    pub const fn units(self) -> u64 {
        self.0
    }

    /// As a decimal fraction.
    #[must_use]
    #[allow(clippy::float_arithmetic, clippy::cast_precision_loss)]
    pub fn as_f64(self) -> f64 {
        self.0 as f64 / 4_294_967_296.0
    }
}

/// An unsigned float: exponent in the upper 9 bits, fraction in the lower 23,
/// 0 for nothing.
///
/// On the bench unit sums and products are out of line: a Cortex-M0+ has so few
/// registers that what stands around them would cost more than the calls.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct UFloat(u32);

const FRACTION: u32 = 23;
const HIDDEN: u32 = 1 << FRACTION;
/// The exponent field of 1. Set high, because chances are small: 2⁻³⁸³ to 2¹²⁷.
const BIAS: u32 = 384;
const LARGEST_EXPONENT: u32 = 511;

impl UFloat {
    /// The bits.
    #[must_use]
    pub fn to_bits(self) -> u32 {
        self.0
    }

    /// From its bits.
    #[must_use]
    pub fn from_bits(bits: u32) -> Self {
        Self(bits)
    }

    /// The value, exactly.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        if self.0 == 0 {
            return 0.0;
        }
        let exponent = u64::from(self.0 >> FRACTION)
            .wrapping_add(1023)
            .wrapping_sub(u64::from(BIAS));
        let fraction = u64::from(self.0 & (HIDDEN - 1));
        f64::from_bits((exponent << 52) | (fraction << 29))
    }

    /// Significand with its leading one (24 bits), and the exponent field.
    fn parts(self) -> (u32, u32) {
        ((self.0 & (HIDDEN - 1)) | HIDDEN, self.0 >> FRACTION)
    }

    #[inline(always)]
    fn sum(self, other: Self) -> Self {
        let (large, small) = if self.0 >= other.0 {
            (self.0, other.0)
        } else {
            (other.0, self.0)
        };
        let exponent = large >> FRACTION;
        let shift = exponent.wrapping_sub(small >> FRACTION);
        if shift > 24 || small == 0 {
            return Self(large);
        }
        let addend = (small & (HIDDEN - 1)) | HIDDEN;
        let rounded = ((addend << 1 >> shift).wrapping_add(1)) >> 1;
        let sum = large.wrapping_add(rounded);
        let carried = exponent.wrapping_add(1) << FRACTION;
        if sum < carried {
            return Self(sum);
        }
        if exponent >= LARGEST_EXPONENT - 1 {
            return Self(u32::MAX);
        }
        Self(carried.wrapping_add((sum.wrapping_sub(carried).wrapping_add(1)) >> 1))
    }

    /// The product of two that are not nothing.
    #[inline(always)]
    fn product(self, other: Self) -> Self {
        let exponent = (self.0 >> FRACTION).wrapping_add(other.0 >> FRACTION);
        let a = (self.0 & (HIDDEN - 1)) | HIDDEN;
        let b = (other.0 & (HIDDEN - 1)) | HIDDEN;
        // The upper 32 bits of the 48-bit product, from 16-bit halves: a
        // Cortex-M0+ multiplies only 32 by 32 bits into 32.
        let (a_high, a_low) = (a >> 8, a & 0xff);
        let (b_high, b_low) = (b >> 8, b & 0xff);
        let cross = a_high
            .wrapping_mul(b_low)
            .wrapping_add(a_low.wrapping_mul(b_high));
        let product = a_high.wrapping_mul(b_high).wrapping_add(cross >> 8);
        let (significand, exponent) = if product & 0x8000_0000 != 0 {
            (product.wrapping_add(0x80) >> 8, exponent.wrapping_add(1))
        } else {
            (product.wrapping_add(0x40) >> 7, exponent)
        };
        // `significand` carries its leading one, which counts one exponent.
        let field = exponent.wrapping_sub(BIAS + 1);
        if field.wrapping_sub(1) >= LARGEST_EXPONENT - 1 {
            let is_small = exponent <= BIAS + 1;
            return Self(if is_small { 0 } else { u32::MAX });
        }
        Self((field << FRACTION).wrapping_add(significand))
    }
}

impl fmt::Debug for UFloat {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.to_f64())
    }
}

impl Number for UFloat {
    const ZERO: Self = Self(0);
    const ONE: Self = Self(BIAS << FRACTION);

    #[cfg_attr(target_arch = "arm", inline(never))]
    #[cfg_attr(not(target_arch = "arm"), inline)]
    fn plus(self, other: Self) -> Self {
        self.sum(other)
    }

    #[cfg_attr(target_arch = "arm", inline(never))]
    #[cfg_attr(not(target_arch = "arm"), inline)]
    fn times(self, other: Self) -> Self {
        if self.0 == 0 || other.0 == 0 {
            return Self::ZERO;
        }
        self.product(other)
    }

    #[cfg_attr(target_arch = "arm", inline(never))]
    #[cfg_attr(not(target_arch = "arm"), inline)]
    fn plus_product(self, one: Self, other: Self) -> Self {
        if one.0 == 0 || other.0 == 0 {
            return self;
        }
        let product = one.product(other);
        if self.0 == 0 {
            return product;
        }
        self.sum(product)
    }

    #[inline]
    fn is_zero(self) -> bool {
        self.0 == 0
    }

    fn exponent(self) -> i32 {
        if self.0 == 0 {
            0
        } else {
            (self.0 >> FRACTION)
                .cast_signed()
                .wrapping_sub(BIAS.cast_signed())
        }
    }

    fn shifted(self, power: i32) -> Self {
        if self.0 == 0 {
            return self;
        }
        let field = (self.0 >> FRACTION).cast_signed().saturating_add(power);
        if field <= 0 {
            Self::ZERO
        } else if field > LARGEST_EXPONENT.cast_signed() {
            Self(u32::MAX)
        } else {
            Self((field.cast_unsigned() << FRACTION) | (self.0 & (HIDDEN - 1)))
        }
    }

    fn from_f64_bits(bits: u64) -> Self {
        let field = (bits >> 52) & 0x7ff;
        let fraction = bits & ((1 << 52) - 1);
        let rounded = (fraction >> 29).wrapping_add((fraction >> 28) & 1);
        let joined = (field << FRACTION)
            .wrapping_add(rounded)
            .wrapping_add(u64::from(BIAS) << FRACTION);
        let floor = 1023_u64 << FRACTION;
        if field == 0 || joined <= floor.wrapping_add(u64::from(HIDDEN)) {
            return Self::ZERO;
        }
        Self(u32::try_from(joined.wrapping_sub(floor)).unwrap_or(u32::MAX))
    }

    fn share(part: Self, rest: Self) -> Share {
        if part.0 == 0 {
            return Share::default();
        }
        let total = part.plus(rest);
        let (numerator, part_exponent) = part.parts();
        let (denominator, total_exponent) = total.parts();
        let shift = total_exponent.wrapping_sub(part_exponent);
        let Some(units) = (u64::from(numerator) << 32).checked_div(u64::from(denominator)) else {
            return Share::default();
        };
        Share::from_units(units.checked_shr(shift).unwrap_or(0))
    }
}

#[allow(clippy::float_arithmetic)]
impl Number for f64 {
    const ZERO: Self = 0.0;
    const ONE: Self = 1.0;

    #[inline]
    fn plus(self, other: Self) -> Self {
        self + other
    }

    #[inline]
    fn times(self, other: Self) -> Self {
        self * other
    }

    #[inline]
    fn is_zero(self) -> bool {
        self == 0.0
    }

    fn exponent(self) -> i32 {
        if self == 0.0 {
            0
        } else {
            i32::try_from((self.to_bits() >> 52) & 0x7ff).map_or(0, |field| field - 1023)
        }
    }

    fn shifted(self, power: i32) -> Self {
        let power = power.clamp(-1022, 1023);
        let field = u64::try_from(power + 1023).unwrap_or(0);
        self * f64::from_bits(field << 52)
    }

    fn from_f64_bits(bits: u64) -> Self {
        f64::from_bits(bits)
    }

    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn share(part: Self, rest: Self) -> Share {
        if part == 0.0 {
            return Share::default();
        }
        Share::from_units((part / (part + rest) * 4_294_967_296.0) as u64)
    }
}

#[cfg(test)]
#[allow(clippy::float_arithmetic)]
mod tests {
    use super::*;

    /// Numbers from very small to large, drawn the same on every run.
    fn drawn() -> impl Iterator<Item = f64> {
        let mut seed = 1_u64;
        core::iter::repeat_with(move || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            let exponent = 1023 - 90 + (seed >> 57);
            f64::from_bits((exponent << 52) | (seed & ((1 << 52) - 1)))
        })
        .take(2_000)
    }

    fn near(found: UFloat, expected: f64) -> bool {
        // Half a unit in the last of 24 binary places, for each of three roundings.
        (found.to_f64() - expected).abs() <= expected * 2.0 / f64::from(HIDDEN)
    }

    #[test]
    fn sums_and_products_are_those_of_f64_up_to_rounding() {
        for (a, b) in drawn().zip(drawn().skip(1)) {
            let (x, y) = (
                UFloat::from_f64_bits(a.to_bits()),
                UFloat::from_f64_bits(b.to_bits()),
            );
            assert!(near(x, a), "{a}");
            assert!(near(x.plus(y), a + b), "{a} + {b}");
            assert!(near(x.times(y), a * b), "{a} times {b}");
            assert_eq!(x.plus(y), y.plus(x));
            assert_eq!(x.plus_product(x, y), x.plus(x.times(y)));
        }
    }

    #[test]
    fn zero_adds_nothing_and_one_changes_nothing() {
        let x = UFloat::from_f64_bits(0.3_f64.to_bits());
        assert_eq!(x.plus(UFloat::ZERO), x);
        assert_eq!(x.times(UFloat::ZERO), UFloat::ZERO);
        assert_eq!(x.times(UFloat::ONE), x);
        assert_eq!(UFloat::ONE.to_f64(), 1.0);
    }

    #[test]
    fn what_is_too_small_is_zero_and_what_is_too_large_stays_the_largest() {
        let small = UFloat::ONE.shifted(-300);
        assert_eq!(small.times(small), UFloat::ZERO);
        let large = UFloat::ONE.shifted(100);
        assert_eq!(large.times(large), UFloat::from_bits(u32::MAX));
        let largest = UFloat::from_bits(u32::MAX);
        assert_eq!(largest.plus(largest), largest);
        assert_eq!(UFloat::ONE.shifted(i32::MAX), largest);
        assert_eq!(UFloat::ONE.shifted(i32::MIN), UFloat::ZERO);
    }

    #[test]
    fn a_power_of_two_only_moves_the_exponent() {
        let x = UFloat::from_f64_bits(0.7_f64.to_bits());
        assert_eq!(x.shifted(-9).shifted(9), x);
        assert_eq!(x.exponent(), -1);
        assert_eq!(x.shifted(5).exponent(), 4);
    }

    #[test]
    fn a_share_is_exact_at_both_ends_and_in_the_middle() {
        let one = UFloat::ONE;
        assert_eq!(UFloat::share(UFloat::ZERO, one), Share::default());
        assert_eq!(UFloat::share(one, UFloat::ZERO), Share::WHOLE);
        assert_eq!(UFloat::share(one, one).units(), 1 << 31);
        assert_eq!(UFloat::share(UFloat::ZERO, UFloat::ZERO), Share::default());
        // Only the proportion counts, however small the numbers are.
        let (a, b) = (one.shifted(-200), one.plus(one).shifted(-200));
        assert_eq!(UFloat::share(a, b), f64::share(1.0, 2.0));
    }

    #[test]
    fn a_share_on_a_mark_has_reached_it() {
        let mark = Share::from_thousandths(800);
        assert!(mark.reaches(800));
        assert!(Share::from_units(mark.units() - 1).reaches(800));
        assert!(!Share::from_thousandths(799).reaches(800));
        assert_eq!(Share::from_units(u64::MAX), Share::WHOLE);
    }
}
