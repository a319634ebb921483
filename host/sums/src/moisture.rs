//! How moist wood becomes in a room, or which room keeps it so.

use crate::quantity;
use crate::shown::{plain, temperature};
use crate::trouble::Trouble;
use crate::unit::Dimension;
use crate::worked::Worked;
use tellmark_core::handbook::moisture;

const CAUTION: &str = "It is an average of woods that have come to rest, which takes weeks. Old \
                       wood, extractives and finish shift it by about 1 %. Measure the piece.";

/// Wood that comes to rest in this air, as "20 C 50 %".
///
/// # Errors
///
/// What cannot be read, or is outside the published table.
pub fn in_air(climate: &str) -> Result<Worked, Trouble> {
    let (celsius, humidity) = quantity::climate(climate)?;
    let wood = moisture::equilibrium(celsius, humidity)?;
    let answer = format!(
        "Wood comes to rest at {} % of moisture in air of {} and {} %.",
        plain(wood),
        temperature(celsius),
        plain(humidity)
    );
    let mut worked = Worked::new("moisture", answer, CAUTION);
    worked.step(format!(
        "Eq. (4-5), two hydrates, with T = {celsius} °C and h = {}: {wood:.2} %.",
        humidity / 100.0
    ));
    give_or_take(&mut worked);
    worked.figure("temperature", celsius, "°C");
    worked.figure("humidity", humidity, "%");
    worked.figure("moisture", wood, "%");
    Ok(worked)
}

/// Air that keeps wood at this moisture, as "12 %", at a temperature.
///
/// # Errors
///
/// What cannot be read, or is outside the published table.
pub fn air_for(wood: &str, at: &str) -> Result<Worked, Trouble> {
    let wood = quantity::read("the moisture", wood, Dimension::Share)?;
    let celsius = quantity::read("the temperature", at, Dimension::Temperature)?;
    let humidity = moisture::humidity_for(celsius, wood)?;
    let answer = format!(
        "Air of {humidity:.0} % at {} keeps wood at {} % of moisture.",
        temperature(celsius),
        plain(wood)
    );
    let mut worked = Worked::new("moisture", answer, CAUTION);
    worked.step(format!(
        "Eq. (4-5) solved for the humidity by halving: {humidity:.1} %."
    ));
    give_or_take(&mut worked);
    worked.figure("temperature", celsius, "°C");
    worked.figure("moisture", wood, "%");
    worked.figure("humidity", humidity, "%");
    Ok(worked)
}

fn give_or_take(worked: &mut Worked) {
    worked.step(format!(
        "A real piece may differ by {} % of moisture (from memory).",
        moisture::GIVE_OR_TAKE
    ));
    worked.from(moisture::SOURCE);
}
