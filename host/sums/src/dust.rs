//! Wood dust over a day, beside the limits.

use crate::quantity;
use crate::shown::plain;
use crate::trouble::Trouble;
use crate::unit::Dimension;
use crate::worked::Worked;
use tellmark_core::handbook::dust::{self, LIMITS, average};
use tellmark_language::words::list;

const CAUTION: &str = "Hardwood dust causes cancer of the nose, and some woods set off asthma: keep \
                       it as low as you can, whatever a limit says. Extract at the tool, wear a \
                       fitted mask, never sweep dry. Local rules, and people licensed to measure, \
                       come first.";

/// The average over a day, of stretches as "6 mg/m3 2 h"; of softwood alone, or of hardwood or
/// both.
///
/// # Errors
///
/// What cannot be read; more hours than a day has.
pub fn day(stretches: &[&str], is_softwood: bool) -> Result<Worked, Trouble> {
    let read = stretches
        .iter()
        .map(|text| quantity::both("a stretch of work", text, Dimension::Dust, Dimension::Time))
        .collect::<Result<Vec<_>, Trouble>>()?;
    let average = average(read.iter().copied())?;
    let limits = LIMITS.iter().filter(|limit| match is_softwood {
        true => limit.for_softwood,
        false => limit.for_hardwood,
    });
    let (over, within): (Vec<_>, Vec<_>) = limits.partition(|limit| average > limit.limit);
    let names = |limits: &[&dust::Limit]| {
        let names: Vec<String> = limits
            .iter()
            .map(|limit| format!("{} ({} mg/m³)", limit.name, plain(limit.limit)))
            .collect();
        list(&names)
    };
    let verdict = match (over.is_empty(), within.is_empty()) {
        (true, _) => format!("within the limits of {}", names(&within)),
        (false, true) => format!("over the limits of {}", names(&over)),
        (false, false) => format!(
            "over the limits of {}, and within those of {}",
            names(&over),
            names(&within)
        ),
    };
    let answer = format!(
        "Over eight hours that is {} mg/m³: {verdict}.",
        plain(average)
    );
    let mut worked = Worked::new("dust", answer, CAUTION);
    let stretches: Vec<String> = read
        .iter()
        .map(|(dust, hours)| format!("{} mg/m³ × {} h", plain(*dust), plain(*hours)))
        .collect();
    worked.step(format!(
        "({}) / 8 h = {average:.2} mg/m³; the rest of the day counts as clean air.",
        stretches.join(" + ")
    ));
    worked.from(dust::SOURCE);
    for limit in over.iter().chain(&within) {
        worked.from(limit.source);
    }
    worked.figure("average over eight hours", average, "mg/m³");
    for limit in over.iter().chain(&within) {
        worked.figure(limit.name, limit.limit, "mg/m³");
    }
    Ok(worked)
}
