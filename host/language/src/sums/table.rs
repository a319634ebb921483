//! Tables of sums: at which readings a sum is worked out, so that in between it runs straight
//! enough, and what it comes to there.

use super::evaluate::{Given, NoSum, Value};
use crate::model::{Along, Sum, Table, Ticks};
use tellmark_core::limits::MAX_SUM_VALUES;

/// One of what is found that goes into a sum.
pub(crate) enum Axis {
    /// A measure, from its smallest reading to its largest.
    Readings {
        least: Ticks,
        most: Ticks,
        /// One standard deviation of hand and gauge.
        gauge: Ticks,
        /// Ticks in one mm, kg or per cent.
        each: f64,
    },
    /// The values of a choice, as the handbook knows them.
    Values(Vec<Option<Value>>),
}

/// Why there is no table.
pub(crate) enum Failed {
    /// The sum comes to nothing anywhere; why, in the middle of everything.
    Nothing(NoSum),
    /// It would have too many values.
    TooLarge,
}

/// How near a table is to its sum: one part in so many. The first that has room is taken. The
/// figures of the handbook are no nearer themselves: stiffness alone varies by a fifth.
const ONE_IN: [u32; 2] = [50, 25];
/// How narrow the step between two readings may become, as a share of the whole measure.
const NARROWEST: f64 = 1.0 / 512.0;
/// Readings along one axis at the most.
const MOST_READINGS: usize = 255;
/// The least that a table of logarithms has, in ticks: what is smaller is too coarse there.
const FINE: Ticks = 16;
/// The most points of the other axes that a step is tried at.
const MOST_TRIED: usize = 120;

/// A sum with what is fixed, and what is found.
pub(crate) struct Tabulated<'s> {
    pub(crate) sum: Sum,
    /// By the places of [`Sum::inputs`].
    pub(crate) fixed: &'s [Option<Value>],
    /// Which input, and what is found for it.
    pub(crate) axes: &'s [(usize, Axis)],
}

/// The table of a sum, and one standard deviation of it in the middle of everything.
pub(crate) fn tabulate(sum: &Tabulated<'_>) -> Result<(Table, Ticks), Failed> {
    let mut is_nothing = false;
    for one_in in ONE_IN {
        let tables = [Scale::Straight, Scale::Power].map(|scale| sum.table(scale, one_in));
        let tables = tables.into_iter().flatten();
        let Some(table) = tables.min_by_key(|table| table.values.len()) else {
            continue;
        };
        if table.values.iter().any(Option::is_some) {
            return Ok((table, sum.spread()));
        }
        is_nothing = true;
    }
    if !is_nothing {
        return Err(Failed::TooLarge);
    }
    let why = sum.sum_at(&sum.middle());
    Err(Failed::Nothing(why.err().unwrap_or(NoSum::NotKnown)))
}

/// How a table runs between its readings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Scale {
    /// Straight.
    Straight,
    /// As a power of each reading: straight along logarithms.
    Power,
}

impl Scale {
    fn of(self, number: f64) -> f64 {
        match self {
            Scale::Straight => number,
            Scale::Power => number.ln(),
        }
    }

    fn back(self, number: f64) -> f64 {
        match self {
            Scale::Straight => number,
            Scale::Power => number.exp(),
        }
    }
}

/// Where along each axis: ticks of a reading, the number of a value.
type Point = Vec<f64>;

impl Tabulated<'_> {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    fn sum_at(&self, point: &[f64]) -> Result<f64, NoSum> {
        let mut given = self.fixed.to_vec();
        for ((input, axis), at) in self.axes.iter().zip(point) {
            let value = match axis {
                Axis::Readings { each, .. } => Some(Value::Number((at / each) as f32)),
                Axis::Values(values) => values.get(*at as usize).copied().flatten(),
            };
            if let Some(slot) = given.get_mut(*input) {
                *slot = value;
            }
            if value.is_none() {
                return Err(NoSum::NotKnown);
            }
        }
        #[allow(clippy::cast_precision_loss)]
        let each = self.sum.unit().ticks() as f64;
        Ok(f64::from(self.sum.of(&Given(&given))?) * each)
    }

    fn at(&self, point: &[f64]) -> Option<f64> {
        self.sum_at(point).ok().filter(|ticks| ticks.is_finite())
    }

    fn middle(&self) -> Point {
        let one = |(_, axis): &(usize, Axis)| match axis {
            Axis::Readings { least, most, .. } => f64::midpoint((*least).into(), (*most).into()),
            Axis::Values(values) => {
                let known = values.iter().position(Option::is_some).unwrap_or(0);
                index(known)
            }
        };
        self.axes.iter().map(one).collect()
    }

    /// One standard deviation in the middle of everything, for what its readings may be out.
    #[allow(clippy::cast_possible_truncation)]
    fn spread(&self) -> Ticks {
        let middle = self.middle();
        let mut squares = 0.0;
        for (number, (_, axis)) in self.axes.iter().enumerate() {
            if let Axis::Readings { gauge, .. } = axis {
                let moved = |by: f64| {
                    let mut point = middle.clone();
                    point[number] += by * f64::from(*gauge);
                    self.at(&point)
                };
                if let (Some(up), Some(down)) = (moved(0.5), moved(-0.5)) {
                    squares += (up - down) * (up - down);
                }
            }
        }
        squares.sqrt().round() as Ticks
    }

    /// The table of this scale that is so near; nothing if it would be too large, or if the
    /// scale does not go with it.
    fn table(&self, scale: Scale, one_in: u32) -> Option<Table> {
        let is_above_nothing = |(_, axis): &(usize, Axis)| match axis {
            Axis::Readings { least, .. } => *least > 0,
            Axis::Values(_) => true,
        };
        if scale == Scale::Power && !self.axes.iter().all(is_above_nothing) {
            return None;
        }
        let axes: Vec<Along> = (0..self.axes.len())
            .map(|axis| self.along(axis, scale, one_in))
            .collect::<Option<_>>()?;
        let counts = axes.iter().map(Along::count);
        if counts.fold(1_usize, usize::saturating_mul) > MAX_SUM_VALUES {
            return None;
        }
        let values = self.values(&axes);
        let is_power = scale == Scale::Power;
        if is_power && values.iter().flatten().any(|&value| value < FINE) {
            return None;
        }
        Some(Table {
            axes,
            values,
            is_power,
            one_in,
        })
    }

    /// What is read along an axis; nothing if it is more than a table has room for.
    fn along(&self, axis: usize, scale: Scale, one_in: u32) -> Option<Along> {
        let (least, most) = match &self.axes[axis].1 {
            Axis::Values(values) => return Some(Along::Values(values.len())),
            Axis::Readings { least, most, .. } => (*least, *most),
        };
        let measures = self.axes.iter();
        let measures = measures.filter(|(_, axis)| matches!(axis, Axis::Readings { .. }));
        let share = 1.0 / f64::from(one_in) / index(measures.count().max(1));
        let (from, to) = (scale.of(least.into()), scale.of(most.into()));
        let step = Step {
            sum: self,
            axis,
            scale,
            others: self.others(axis),
            share,
            narrowest: (to - from) * NARROWEST,
        };
        let mut readings = vec![least];
        let mut at = least;
        while at < most {
            let furthest = step.furthest(scale.of(at.into()), to);
            #[allow(clippy::cast_possible_truncation)]
            let next = scale.back(furthest).round() as Ticks;
            // The last is the end itself, whatever was rounded on the way.
            at = if furthest >= to {
                most
            } else {
                next.clamp(at.saturating_add(1), most)
            };
            readings.push(at);
            if readings.len() > MOST_READINGS {
                return None;
            }
        }
        Some(Along::Readings(readings))
    }

    /// Points at which a step along an axis is tried: all values, and both ends and the middle
    /// of the other measures; of very many, some.
    fn others(&self, axis: usize) -> Vec<Point> {
        let mut points = vec![self.middle()];
        for (number, (_, other)) in self.axes.iter().enumerate() {
            let places: Vec<f64> = match other {
                _ if number == axis => continue,
                Axis::Readings { least, most, .. } => {
                    let (least, most) = (f64::from(*least), f64::from(*most));
                    vec![least, f64::midpoint(least, most), most]
                }
                Axis::Values(values) => (0..values.len()).map(index).collect(),
            };
            let with = |point: &Point, place: f64| {
                let mut point = point.clone();
                point[number] = place;
                point
            };
            points = points
                .iter()
                .flat_map(|point| places.iter().map(|&place| with(point, place)))
                .collect();
        }
        let every = points.len().div_ceil(MOST_TRIED).max(1);
        points.into_iter().step_by(every).collect()
    }

    /// What it comes to at all points, the last axis running fastest.
    #[allow(clippy::cast_possible_truncation)]
    fn values(&self, axes: &[Along]) -> Vec<Option<Ticks>> {
        let mut points: Vec<Point> = vec![Vec::new()];
        for axis in axes {
            let places: Vec<f64> = match axis {
                Along::Readings(readings) => readings.iter().map(|&at| at.into()).collect(),
                Along::Values(count) => (0..*count).map(index).collect(),
            };
            points = points
                .iter()
                .flat_map(|point| {
                    places.iter().map(move |&place| {
                        let mut point = point.clone();
                        point.push(place);
                        point
                    })
                })
                .collect();
        }
        // What the reader of a table multiplies has room in 64 bits.
        let most = f64::from(1 << 30);
        let held = |ticks: f64| ticks.clamp(-most, most).round() as Ticks;
        points
            .iter()
            .map(|point| self.at(point).map(held))
            .collect()
    }
}

#[allow(clippy::cast_precision_loss)]
fn index(index: usize) -> f64 {
    index as f64
}

/// Steps along an axis.
struct Step<'s> {
    sum: &'s Tabulated<'s>,
    axis: usize,
    scale: Scale,
    others: Vec<Point>,
    /// By what share a straight line may miss.
    share: f64,
    /// A step so narrow is good whatever lies in it.
    narrowest: f64,
}

impl Step<'_> {
    /// The furthest reading to which a straight line from here is good.
    fn furthest(&self, from: f64, most: f64) -> f64 {
        if self.is_good(from, most) {
            return most;
        }
        let (mut good, mut bad) = (from + self.narrowest, most);
        while bad - good > self.narrowest / 4.0 {
            let middle = f64::midpoint(good, bad);
            if self.is_good(from, middle) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        good.min(most)
    }

    fn is_good(&self, from: f64, to: f64) -> bool {
        to - from <= self.narrowest
            || self
                .others
                .iter()
                .all(|point| self.is_straight(point, from, to))
    }

    /// Whether the line from one end to the other, both as the scale has them, is near the
    /// sum in between.
    fn is_straight(&self, point: &Point, from: f64, to: f64) -> bool {
        let mut point = point.clone();
        let mut at = |share: f64| {
            point[self.axis] = self.scale.back(from + (to - from) * share);
            self.sum.at(&point)
        };
        let ends = (at(0.0), at(1.0));
        [0.25, 0.5, 0.75]
            .into_iter()
            .all(|share| match (ends, at(share)) {
                ((Some(low), Some(high)), Some(sum)) => {
                    let (low, high) = (self.scale.of(low), self.scale.of(high));
                    let line = self.scale.back(low + (high - low) * share);
                    #[allow(clippy::cast_precision_loss)]
                    let fine = self.sum.sum.unit().ticks() as f64 / 100.0;
                    (line - sum).abs() <= fine.max(sum.abs() * self.share)
                }
                ((None, None), None) => true,
                _ => false,
            })
    }
}
