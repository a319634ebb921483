//! What the table of a sum comes to for the answers of a part, and by how much that is out.
//!
//! Readings and values are below 2³⁰ in a pack that the compiler made, and so nothing here goes
//! past 64 bits. With other packs nothing worse comes out than a wrong figure.

use super::{Answer, Deviation, Piece};
use crate::limits::MAX_SUM_READINGS;
use crate::logarithm::{exp2, log2};
use crate::pack::{Axis, NONE, Pack, Scale, Sort, SumTable};

/// Corners of a cell of the table.
const CORNERS: usize = 1 << MAX_SUM_READINGS;

/// Where a reading lies between two of an axis.
#[derive(Clone, Copy, Default)]
struct Between {
    /// How far it is past the lower one.
    past: i64,
    /// How far these two are apart.
    apart: i64,
    /// The reading itself.
    reading: i32,
    /// By how much the reading may be out: one standard deviation.
    out_by: u32,
    /// How many values further on the upper one stands.
    step: usize,
}

impl Between {
    /// The value here, between that at the lower reading and that at the upper one.
    fn value(self, lower: i64, upper: i64) -> Option<i64> {
        let rise = upper.wrapping_sub(lower).wrapping_mul(self.past);
        Some(lower.wrapping_add(rounded(rise, self.apart)?))
    }

    /// By how much the value is out for what this reading may be out.
    fn out_by(self, scale: Scale, (lower, upper): (i64, i64), value: i64) -> Option<u64> {
        let out_by = match scale {
            Scale::Ticks => self.out_by.into(),
            // Of a power the share by which it is out is that of the reading, as often as the
            // power says.
            Scale::Logarithms => {
                let times = value.wrapping_mul(self.out_by.into());
                rounded(times, self.reading.max(1).into())?
            }
        };
        let rise = upper.wrapping_sub(lower).wrapping_mul(out_by);
        Some(rounded(rise, self.apart)?.unsigned_abs())
    }
}

/// A quotient to the nearest whole number; the divisor is above 0.
fn rounded(number: i64, divisor: i64) -> Option<i64> {
    let half = divisor / 2;
    number.wrapping_add(half).checked_div_euclid(divisor)
}

/// The root of a number, rounded down, a bit of it at a time: small, as the unit wants it.
fn root(number: u64) -> u64 {
    let mut root = 0_u64;
    for bit in (0..u64::BITS / 2).rev() {
        let with = root | 1 << bit;
        if with.wrapping_mul(with) <= number {
            root = with;
        }
    }
    root
}

impl Piece<'_> {
    /// What a sum comes to for a part, within two ends; nothing as long as an answer that it
    /// takes is not there, and outside the sum.
    ///
    /// One standard deviation of it is the root of the squares of what each reading alone may
    /// put it out by (error propagation to the first order), along the lines of the table.
    #[inline(never)]
    pub(super) fn tabled(
        &self,
        pack: &Pack<'_>,
        part: usize,
        table: &SumTable<'_>,
        (least, most): (i32, i32),
    ) -> Option<Answer> {
        let scale = table.head.scale;
        let mut all = [Between::default(); MAX_SUM_READINGS];
        let mut used = 0_usize;
        let mut first = 0_usize;
        for axis in table.axes() {
            // The axes after this one run faster.
            first = first.wrapping_mul(axis.count());
            for between in all.iter_mut().take(used) {
                between.step = between.step.wrapping_mul(axis.count());
            }
            let answer = self.along(pack, part, &axis)?;
            match (axis.head.sort, answer) {
                (Sort::Values, Answer::Value(value)) => {
                    first = first.wrapping_add(usize::from(value));
                }
                (Sort::Readings, answer) => {
                    let form = pack.ask(usize::from(axis.head.ask)).form;
                    let (index, mut between) = place(&axis, answer.reading()?, scale)?;
                    between.out_by = answer.out_by(form);
                    first = first.wrapping_add(index);
                    *all.get_mut(used)? = between;
                    used = used.wrapping_add(1);
                }
                _ => return None,
            }
        }
        let cell = Cell::read(table, first, all.get(..used)?)?;
        let (value, out_by) = cell.value_and_spread(scale)?;
        let value = value.clamp(least.into(), most.max(least).into());
        let value = i32::try_from(value).ok()?;
        Some(if table.head.spread_is_said {
            Answer::Reading(value)
        } else {
            Answer::Tabled(value, Deviation::of(out_by))
        })
    }

    /// The part whose answer an axis of a sum's table reads, where the sum is worked out for
    /// this one; nothing if the piece has no such part.
    #[must_use]
    pub fn part_along(&self, pack: &Pack<'_>, part: usize, axis: &Axis<'_>) -> Option<usize> {
        let head = axis.head;
        if head.kind == NONE {
            return Some(part);
        }
        if head.of_owner {
            // Every piece is of kind 0.
            return match head.kind {
                0 => Some(0),
                kind => self
                    .owners(part)
                    .find(|&owner| pack.is_kind_of(self.record(owner).kind, kind)),
            };
        }
        let place = usize::from(self.record(part).place);
        let mut places = pack.children(place);
        let place = places.find(|&place| pack.place(place).kind == head.kind)?;
        let mut parts = self.children_at(part, place);
        parts.find(|&part| head.which == 0 || self.record(part).number == head.which)
    }

    /// The answer that an axis reads.
    fn along(&self, pack: &Pack<'_>, part: usize, axis: &Axis<'_>) -> Option<Answer> {
        self.answer(pack, self.part_along(pack, part, axis)?, axis.head.ask)
    }
}

/// The lower of the two readings of an axis that a reading lies between, and where it lies.
/// What is below the first or above the last is taken for these.
fn place(axis: &Axis<'_>, reading: i32, scale: Scale) -> Option<(usize, Between)> {
    let at = match scale {
        Scale::Ticks => reading,
        Scale::Logarithms => log2(reading),
    };
    let last = axis.count().checked_sub(2)?;
    let index = (1..=last)
        .take_while(|&index| axis.reading(index) <= at)
        .count();
    let lower = i64::from(axis.reading(index));
    let apart = i64::from(axis.reading(index.wrapping_add(1))).wrapping_sub(lower);
    let past = i64::from(at).wrapping_sub(lower).clamp(0, apart.max(0));
    let between = Between {
        past,
        apart,
        reading,
        out_by: 0,
        step: 1,
    };
    Some((index, between))
}

/// A cell of the table: the values at its corners, and where the readings lie in it.
struct Cell<'b> {
    corners: [i64; CORNERS],
    between: &'b [Between],
}

impl<'b> Cell<'b> {
    fn read(table: &SumTable<'_>, first: usize, between: &'b [Between]) -> Option<Self> {
        let value = table.reader();
        let mut corners = [0; CORNERS];
        let many = 1_usize << between.len();
        for (corner, to) in corners.iter_mut().enumerate().take(many) {
            let steps = between.iter().enumerate();
            let up = steps.filter(|(bit, _)| corner >> bit & 1 != 0);
            let up: usize = up.map(|(_, between)| between.step).sum();
            *to = value(first.wrapping_add(up))?.into();
        }
        Some(Self { corners, between })
    }

    fn value_and_spread(&self, scale: Scale) -> Option<(i64, u64)> {
        let straight = match self.between.first() {
            Some(between) => {
                let (lower, upper) = self.ends(0)?;
                between.value(lower, upper)?
            }
            None => *self.corners.first()?,
        };
        let value = match scale {
            Scale::Ticks => straight,
            Scale::Logarithms => exp2(i32::try_from(straight).ok()?).into(),
        };
        let mut squares = 0_u64;
        for (bit, between) in self.between.iter().enumerate() {
            let out_by = between.out_by(scale, self.ends(bit)?, value)?;
            // Each below 2²⁴, which is as much as a deviation can say.
            let out_by = out_by.min(0x00ff_ffff);
            squares = squares.wrapping_add(out_by.wrapping_mul(out_by));
        }
        Some((value, root(squares)))
    }

    /// The values at both ends of the line along one reading.
    fn ends(&self, along: usize) -> Option<(i64, i64)> {
        let mut corners = self.corners;
        for (bit, between) in self.between.iter().enumerate() {
            if bit == along {
                continue;
            }
            for corner in 0..CORNERS {
                let upper = corner | 1 << bit;
                if upper != corner {
                    let (low, high) = (*corners.get(corner)?, *corners.get(upper)?);
                    *corners.get_mut(corner)? = between.value(low, high)?;
                }
            }
        }
        Some((*corners.first()?, *corners.get(1 << along)?))
    }
}
