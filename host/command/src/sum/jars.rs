//! Sums of what is mixed and breathed.

use super::Done;
use clap::Args;
use tellmark_sums::glue::Much;
use tellmark_sums::shellac::Of;
use tellmark_sums::{Trouble, dust, glue, shellac, solvent};

/// Work out mixtures of solvents, and series for tests
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark sum solvent --mix \"acetone 1\" --mix \"white spirit 3\"\n  \
                  tellmark sum solvent --target 70 --base \"white spirit\" --add ethanol\n  tellmark \
                  sum solvent --series LE --working"
)]
pub(super) struct Solvent {
    /// A solvent and its parts by volume; said for each
    #[arg(
        long,
        value_name = "PART",
        allow_hyphen_values = true,
        required_unless_present_any = ["target", "series"],
        conflicts_with_all = ["target", "series"]
    )]
    mix: Vec<String>,
    /// The dispersion parameter (Fd) to come to
    #[arg(
        long,
        value_name = "NUMBER",
        allow_hyphen_values = true,
        requires_all = ["base", "add"],
        conflicts_with = "series"
    )]
    target: Option<String>,
    /// The solvent to begin with
    #[arg(long, value_name = "SOLVENT", requires = "target")]
    base: Option<String>,
    /// The solvent to add
    #[arg(long, value_name = "SOLVENT", requires = "target")]
    add: Option<String>,
    /// A series for tests: LA, LE, AE or Feller
    #[arg(long, value_name = "NAME")]
    series: Option<String>,
}

impl Solvent {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        let worked = match (&self.series, &self.target) {
            (Some(name), _) => solvent::series(name)?,
            (None, Some(target)) => {
                let text = |text: &Option<String>| text.clone().unwrap_or_default();
                solvent::to_target(target, &text(&self.base), &text(&self.add))?
            }
            (None, None) => {
                let parts: Vec<&str> = self.mix.iter().map(String::as_str).collect();
                solvent::mixture(&parts)?
            }
        };
        Ok(worked.into())
    }
}

/// Say how much flake a cut takes, and how to let polish down
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark sum shellac --cut \"2 lb\" --alcohol \"500 ml\"\n  tellmark \
                  sum shellac --cut \"3 lb\" --down-to \"1.5 lb\" --polish \"500 ml\"\n\nA cut is \
                  pounds to the US gallon of alcohol (\"2 lb\"), or grams to the litre of alcohol \
                  (\"240 g/l\")."
)]
pub(super) struct Shellac {
    /// The cut
    #[arg(long, value_name = "CUT", allow_hyphen_values = true)]
    cut: String,
    /// How much alcohol, before the flake goes in
    #[arg(
        long,
        value_name = "VOLUME",
        allow_hyphen_values = true,
        required_unless_present = "polish",
        conflicts_with = "polish"
    )]
    alcohol: Option<String>,
    /// How much polish as it is made up, instead of the alcohol
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    polish: Option<String>,
    /// The cut to let it down to
    #[arg(long, value_name = "CUT", allow_hyphen_values = true)]
    down_to: Option<String>,
}

impl Shellac {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        let of = match (&self.polish, &self.alcohol) {
            (Some(polish), _) => Of::Polish(polish),
            (None, alcohol) => Of::Alcohol(alcohol.as_deref().unwrap_or_default()),
        };
        let worked = match &self.down_to {
            Some(to) => shellac::down(&self.cut, to, of)?,
            None => shellac::flake(&self.cut, of)?,
        };
        Ok(worked.into())
    }
}

/// Say how much water hide glue takes, and how hot it is to be
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark sum glue --glue \"100 g\"\n  tellmark sum glue --all \"280 g\" \
                  --water 1.8\n  tellmark sum glue --pot \"145 F\""
)]
pub(super) struct Glue {
    /// How much dry glue
    #[arg(
        long,
        value_name = "WEIGHT",
        allow_hyphen_values = true,
        required_unless_present_any = ["all", "pot"],
        conflicts_with_all = ["all", "pot"]
    )]
    glue: Option<String>,
    /// How much in all, instead
    #[arg(
        long,
        value_name = "WEIGHT",
        allow_hyphen_values = true,
        conflicts_with = "pot"
    )]
    all: Option<String>,
    /// What it is for: joints or size
    #[arg(long = "for", value_name = "USE", conflicts_with = "pot")]
    purpose: Option<String>,
    /// Water to one of dry glue, by weight, instead
    #[arg(
        long,
        value_name = "NUMBER",
        allow_hyphen_values = true,
        conflicts_with_all = ["pot", "purpose"]
    )]
    water: Option<String>,
    /// The heat of the pot, to be judged
    #[arg(long, value_name = "HEAT", allow_hyphen_values = true)]
    pot: Option<String>,
}

impl Glue {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        let much = match (&self.pot, &self.all, &self.glue) {
            (Some(heat), ..) => return Ok(glue::pot(heat)?.into()),
            (None, Some(all), _) => Much::All(all),
            (None, None, glue) => Much::Glue(glue.as_deref().unwrap_or_default()),
        };
        let worked = glue::mix(much, self.purpose.as_deref(), self.water.as_deref())?;
        Ok(worked.into())
    }
}

/// Work out wood dust over a day, beside the limits
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark sum dust --stretch \"6 mg/m3 2 h\" --stretch \"1 mg/m3 6 h\"\n\n\
                  Dust of hardwood, or of hardwood and softwood, unless --softwood is said."
)]
pub(super) struct Dust {
    /// A stretch of work: dust in the air and how long; said for each
    #[arg(
        long,
        value_name = "DUST AND TIME",
        required = true,
        allow_hyphen_values = true
    )]
    stretch: Vec<String>,
    /// It is of softwood alone
    #[arg(long)]
    softwood: bool,
}

impl Dust {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        let stretches: Vec<&str> = self.stretch.iter().map(String::as_str).collect();
        Ok(dust::day(&stretches, self.softwood)?.into())
    }
}
