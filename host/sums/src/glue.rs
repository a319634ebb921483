//! How much water for hide glue, and how hot.

use crate::quantity;
use crate::shown::{plain, temperature};
use crate::trouble::Trouble;
use crate::unit::Dimension;
use crate::worked::Worked;
use tellmark_core::handbook::glue::{self, Batch, FOR_JOINTS, FOR_SIZE, Pot, batch, batch_of};

const CAUTION: &str = "Warm it in a water bath, never on the flame; a pot boiled dry burns. Try it \
                       on scrap: grades differ. Throw away what smells or is mouldy.";

/// How much is wanted.
#[derive(Clone, Copy, Debug)]
pub enum Much<'a> {
    /// So much dry glue.
    Glue(&'a str),
    /// So much in all.
    All(&'a str),
}

/// A batch: for "joints" or "size", or with so much water to one of glue.
///
/// # Errors
///
/// What cannot be read, or is outside the sum.
pub fn mix(much: Much<'_>, purpose: Option<&str>, water: Option<&str>) -> Result<Worked, Trouble> {
    let choices = [("joints", FOR_JOINTS), ("size", (FOR_SIZE, FOR_SIZE))];
    let (least, most) = match (purpose, water) {
        (Some(_), Some(_)) => {
            return Err(Trouble::Wrong(
                "Say --for or --water, not both: what it is for decides the water.".to_owned(),
            ));
        }
        (_, Some(water)) => {
            let ratio = quantity::bare("the water", water)?;
            (ratio, ratio)
        }
        (purpose, None) => {
            crate::named::one_of("use of glue", purpose.unwrap_or("joints"), &choices)?
        }
    };
    let with = |ratio| -> Result<Batch, Trouble> {
        Ok(match much {
            Much::Glue(glue) => batch(grams("the glue", glue)?, ratio)?,
            Much::All(all) => batch_of(grams("the whole", all)?, ratio)?,
        })
    };
    let (thick, thin) = (with(least)?, with(most)?);
    let answer = format!(
        "{} g of dry glue and {} g (ml) of cold water, at {} % of glue.",
        crate::shown::span(thin.glue, thick.glue),
        crate::shown::span(thick.water, thin.water),
        crate::shown::span(thin.solids, thick.solids)
    );
    let mut worked = Worked::new("glue", answer, CAUTION);
    worked.step(format!(
        "Water to glue by weight: {} to 1.",
        crate::shown::span(least, most)
    ));
    worked.step(format!(
        "Soak in cold water till it is soft all through, then warm to {} to {}; above {} it weakens.",
        plain(glue::POT.0),
        temperature(glue::POT.1),
        temperature(glue::WEAKENS)
    ));
    worked.from(glue::SOURCE);
    worked.figure("glue", thick.glue, "g");
    worked.figure("water least", thick.water, "g");
    worked.figure("water most", thin.water, "g");
    worked.figure("solids least", thin.solids, "%");
    worked.figure("solids most", thick.solids, "%");
    Ok(worked)
}

/// What a pot of this heat is like.
///
/// # Errors
///
/// What cannot be read, or is hotter than water.
pub fn pot(heat: &str) -> Result<Worked, Trouble> {
    let celsius = quantity::read("the heat of the pot", heat, Dimension::Temperature)?;
    let said = match glue::pot(celsius)? {
        Pot::Gels => "the glue gels: warm it",
        Pot::Thick => "the glue is too thick to wet the wood: warm it",
        Pot::Right => "that is right",
        Pot::Hot => "that is hotter than need be: turn it down",
        Pot::Spoils => {
            "the glue is losing strength by the hour: turn it down, and test what is left"
        }
    };
    let answer = format!("At {} {said}.", temperature(celsius));
    let mut worked = Worked::new("glue", answer, CAUTION);
    worked.step(format!(
        "Gels at {} to {} (from memory, by its grade); right at {} to {}; weakens above {}.",
        plain(glue::GELS.0),
        temperature(glue::GELS.1),
        plain(glue::POT.0),
        temperature(glue::POT.1),
        temperature(glue::WEAKENS)
    ));
    worked.from(glue::SOURCE);
    worked.figure("temperature", celsius, "°C");
    Ok(worked)
}

fn grams(what: &'static str, text: &str) -> Result<f32, Trouble> {
    Ok(quantity::read(what, text, Dimension::Mass)? * 1000.0)
}
