//! Readings: how they are written and read, and how far one step of a dial goes.
//!
//! A reading is in ticks: 25 nanometres for lengths, so that both tenths of a
//! millimetre and sixty-fourths of an inch are whole, hundredths for per
//! cent, sixteenths of a day for times, of which a month has 487 and a year 5,844, and tenths
//! of a gram for weights, of which a pound is taken to have 4,536.

mod read;

use core::fmt::{self, Write};

const MM: u32 = 40_000;
const SIXTY_FOURTH: u32 = 15_875;
const THOU: u32 = 1_016;
const INCH: u32 = 64 * SIXTY_FOURTH;
const FOOT: u32 = 12 * INCH;
const PER_CENT: u32 = 100;
const DAY: u32 = 16;
const WEEK: u32 = 7 * DAY;
const MONTH: u32 = 487;
const YEAR: u32 = 12 * MONTH;
const KG: u32 = 10_000;
const POUND: u32 = 4_536;

/// A unit, by its number in the pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Metres.
    M,
    /// Inches.
    In,
    /// Feet.
    Ft,
    /// Per cent.
    PerCent,
    /// Days.
    Day,
    /// Weeks.
    Week,
    /// Months: a twelfth of a year.
    Month,
    /// Years of 365 1/4 days.
    Year,
    /// Kilograms.
    Kg,
    /// Pounds.
    Lb,
}

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dimension {
    /// A length.
    Length,
    /// A share.
    Share,
    /// A time.
    Time,
    /// A weight.
    Weight,
}

impl Unit {
    /// From its number in the pack.
    #[must_use]
    pub fn numbered(number: u8) -> Self {
        match number {
            0 => Self::Mm,
            1 => Self::Cm,
            2 => Self::M,
            3 => Self::In,
            4 => Self::Ft,
            6 => Self::Day,
            7 => Self::Week,
            8 => Self::Month,
            9 => Self::Year,
            10 => Self::Kg,
            11 => Self::Lb,
            _ => Self::PerCent,
        }
    }

    /// What it measures.
    #[must_use]
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Mm | Self::Cm | Self::M | Self::In | Self::Ft => Dimension::Length,
            Self::PerCent => Dimension::Share,
            Self::Day | Self::Week | Self::Month | Self::Year => Dimension::Time,
            Self::Kg | Self::Lb => Dimension::Weight,
        }
    }

    /// Ticks in one of it.
    fn ticks(self) -> u32 {
        match self {
            Self::Mm => MM,
            Self::Cm => 10 * MM,
            Self::M => 1_000 * MM,
            Self::In => INCH,
            Self::Ft => FOOT,
            Self::PerCent => PER_CENT,
            Self::Day => DAY,
            Self::Week => WEEK,
            Self::Month => MONTH,
            Self::Year => YEAR,
            Self::Kg => KG,
            Self::Lb => POUND,
        }
    }

    /// The steps of a dial, round figures in this unit, in ticks.
    fn steps(self) -> &'static [u32] {
        match self {
            Self::Mm => &[MM / 10, MM / 2, MM, 5 * MM, 10 * MM, 50 * MM, 100 * MM],
            Self::Cm => &[MM, 5 * MM, 10 * MM, 50 * MM, 100 * MM],
            Self::M => &[10 * MM, 50 * MM, 100 * MM, 500 * MM, 1_000 * MM],
            Self::In => &[
                SIXTY_FOURTH,
                2 * SIXTY_FOURTH,
                4 * SIXTY_FOURTH,
                8 * SIXTY_FOURTH,
                16 * SIXTY_FOURTH,
                INCH,
                6 * INCH,
            ],
            Self::Ft => &[16 * SIXTY_FOURTH, INCH, 6 * INCH, FOOT, 10 * FOOT],
            Self::PerCent => &[PER_CENT, 5 * PER_CENT, 10 * PER_CENT],
            Self::Day => &[DAY, WEEK, 4 * WEEK, 52 * WEEK],
            Self::Week => &[WEEK, 4 * WEEK, 13 * WEEK, 52 * WEEK],
            Self::Month => &[MONTH, 6 * MONTH, YEAR, 5 * YEAR, 10 * YEAR],
            Self::Year => &[YEAR, 5 * YEAR, 10 * YEAR, 50 * YEAR],
            Self::Kg => &[KG / 10, KG / 2, KG, 5 * KG, 10 * KG, 50 * KG],
            Self::Lb => &[POUND / 2, POUND, 5 * POUND, 10 * POUND, 50 * POUND],
        }
    }

    /// The next round reading upwards or downwards. The first step is as fine as
    /// hand and gauge can tell; a key that is kept down (`times` says how often it
    /// has repeated) takes larger ones.
    #[must_use]
    pub fn dialled(self, reading: i32, up: bool, gauge: u16, times: u16) -> i32 {
        let steps = self.steps();
        let fine = |step: &&u32| **step <= u32::from(gauge);
        let first = steps.iter().take_while(fine).count().saturating_sub(1);
        let grown = first + usize::from(times / TIMES_A_STEP);
        let step = steps
            .get(grown)
            .or(steps.last())
            .and_then(|&step| i32::try_from(step).ok())
            .unwrap_or(1);
        let steps = reading.checked_div_euclid(step).unwrap_or(reading);
        let below = steps.saturating_mul(step);
        match (up, below == reading) {
            (true, _) => below.saturating_add(step),
            (false, true) => below.saturating_sub(step),
            (false, false) => below,
        }
    }
}

/// How often a key that is kept down repeats before it takes larger steps.
const TIMES_A_STEP: u16 = 8;

/// A reading in its unit: "3.5 mm", "1 3/32 in", "12 %", "3 weeks".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    /// Ticks.
    pub ticks: i32,
    /// The unit.
    pub unit: Unit,
}

impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.ticks < 0 {
            f.write_char('-')?;
        }
        let ticks = self.ticks.unsigned_abs();
        match self.unit {
            Unit::Mm => decimal(f, ticks, MM, " mm"),
            Unit::Cm => decimal(f, ticks, 10 * MM, " cm"),
            Unit::M => decimal(f, ticks, 1_000 * MM, " m"),
            Unit::PerCent => decimal(f, ticks, PER_CENT, " %"),
            Unit::Day | Unit::Week | Unit::Month | Unit::Year => time(f, ticks, self.unit),
            Unit::Lb if u64::from(ticks) * 1000 % u64::from(POUND) == 0 => {
                decimal(f, ticks, POUND, " lb")
            }
            Unit::Kg | Unit::Lb => decimal(f, ticks, KG, " kg"),
            Unit::Ft if ticks.is_multiple_of(FOOT) => write!(f, "{} ft", ticks / FOOT),
            Unit::In | Unit::Ft => inches(f, ticks),
        }
    }
}

impl Reading {
    /// A length in the other system of measures: "about 9/64 in". Writes nothing
    /// for 0, for per cent and for times.
    ///
    /// # Errors
    /// Those of `out`.
    pub fn otherwise(self, out: &mut dyn Write) -> fmt::Result {
        let ticks = self.ticks.unsigned_abs();
        if ticks == 0 {
            return Ok(());
        }
        let nearest = |size: u32| (ticks + size / 2) / size;
        match self.unit {
            Unit::PerCent | Unit::Day | Unit::Week | Unit::Month | Unit::Year => Ok(()),
            Unit::Mm | Unit::Cm | Unit::M => match nearest(SIXTY_FOURTH) {
                0 => out.write_str("under 1/64 in"),
                near => {
                    about(out, near * SIXTY_FOURTH == ticks)?;
                    fraction(out, near)?;
                    out.write_str(" in")
                }
            },
            Unit::Kg | Unit::Lb => {
                let (size, name) = match self.unit {
                    Unit::Kg => (POUND, " lb"),
                    _ => (KG, " kg"),
                };
                let tenths = (u64::from(ticks) * 10 + u64::from(size / 2)) / u64::from(size);
                let tenths = u32::try_from(tenths).unwrap_or(u32::MAX);
                about(
                    out,
                    u64::from(tenths) * u64::from(size) == u64::from(ticks) * 10,
                )?;
                decimal(out, tenths, 10, name)
            }
            Unit::In | Unit::Ft => match nearest(MM / 10) {
                0 => out.write_str("under 0.1 mm"),
                near => {
                    about(out, near * (MM / 10) == ticks)?;
                    decimal(out, near, 10, " mm")
                }
            },
        }
    }
}

/// "3 weeks", "1.5 years": in this unit or else the largest of which there is a whole number,
/// else in this one if it has three places at most there, else in days.
fn time(f: &mut fmt::Formatter<'_>, ticks: u32, unit: Unit) -> fmt::Result {
    let is_short = u64::from(ticks) * 1000 % u64::from(unit.ticks()) == 0;
    let whole = [unit, Unit::Year, Unit::Month, Unit::Week];
    let whole = whole
        .into_iter()
        .find(|unit| ticks.is_multiple_of(unit.ticks()));
    let unit = whole.unwrap_or(if is_short { unit } else { Unit::Day });
    decimal(
        f,
        ticks,
        unit.ticks(),
        match unit {
            Unit::Week => " week",
            Unit::Month => " month",
            Unit::Year => " year",
            _ => " day",
        },
    )?;
    f.write_str(if ticks == unit.ticks() { "" } else { "s" })
}

fn about(out: &mut dyn Write, exact: bool) -> fmt::Result {
    out.write_str(if exact { "" } else { "about " })
}

/// An exact decimal, as short as it can be.
fn decimal(out: &mut dyn Write, ticks: u32, per_unit: u32, unit: &str) -> fmt::Result {
    write!(out, "{}", ticks / per_unit)?;
    let mut rest = ticks % per_unit;
    if rest != 0 {
        out.write_char('.')?;
    }
    // Every unit is 2s and 5s times a tick, or has three places at most; so this ends.
    while rest != 0 {
        rest *= 10;
        write!(out, "{}", rest / per_unit)?;
        rest %= per_unit;
    }
    out.write_str(unit)
}

/// A fraction if they are whole sixty-fourths, else thousandths, else exactly
/// in millimetres.
fn inches(out: &mut dyn Write, ticks: u32) -> fmt::Result {
    if ticks.is_multiple_of(SIXTY_FOURTH) {
        fraction(out, ticks / SIXTY_FOURTH)?;
        out.write_str(" in")
    } else if ticks.is_multiple_of(THOU) {
        decimal(out, ticks / THOU, 1_000, " in")
    } else {
        decimal(out, ticks, MM, " mm")
    }
}

/// "1 3/32" from a number of sixty-fourths.
fn fraction(out: &mut dyn Write, sixty_fourths: u32) -> fmt::Result {
    let (whole, over) = (sixty_fourths / 64, sixty_fourths % 64);
    let halvings = over.trailing_zeros().min(6);
    let (over, under) = (over >> halvings, 64_u32 >> halvings);
    match (whole, over) {
        (whole, 0) => write!(out, "{whole}"),
        (0, over) => write!(out, "{over}/{under}"),
        (whole, over) => write!(out, "{whole} {over}/{under}"),
    }
}
