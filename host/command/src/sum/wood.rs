//! Sums of moisture and movement.

use super::Done;
use clap::Args;
use std::path::PathBuf;
use tellmark_report::year_drawing;
use tellmark_sums::movement::{Asked, Between};
use tellmark_sums::{Trouble, moisture};

/// Say how moist wood becomes in a room, or which room keeps it so
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark sum moisture --climate \"20 C 50 %\"\n  tellmark sum \
                  moisture --moisture \"12 %\" --temperature \"68 F\""
)]
pub(super) struct Moisture {
    /// The air: its temperature and relative humidity
    #[arg(
        long,
        value_name = "AIR",
        allow_hyphen_values = true,
        conflicts_with_all = ["moisture", "temperature"],
        required_unless_present = "moisture"
    )]
    climate: Option<String>,
    /// The moisture of the wood, for the air that keeps it so
    #[arg(
        long,
        value_name = "SHARE",
        allow_hyphen_values = true,
        requires = "temperature"
    )]
    moisture: Option<String>,
    /// The temperature of that air
    #[arg(
        long,
        value_name = "HEAT",
        allow_hyphen_values = true,
        requires = "moisture"
    )]
    temperature: Option<String>,
}

impl Moisture {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        let worked = match (&self.climate, &self.moisture, &self.temperature) {
            (_, Some(wood), Some(at)) => moisture::air_for(wood, at)?,
            (climate, ..) => moisture::in_air(climate.as_deref().unwrap_or_default())?,
        };
        Ok(worked.into())
    }
}

/// A board, and what it passes through.
#[derive(Args, Debug)]
struct Board {
    /// The wood: oak, walnut, mahogany …
    #[arg(long, value_name = "WOOD")]
    wood: String,
    /// How it was cut: flat, quarter or unknown
    #[arg(long, value_name = "CUT")]
    cut: Option<String>,
    /// The air, in the order in which it changes; said 2 to 12 times. Sizes are those in the first
    #[arg(
        long,
        value_name = "AIR",
        allow_hyphen_values = true,
        conflicts_with = "moisture"
    )]
    climate: Vec<String>,
    /// Moistures of the wood, instead of the air; said 2 to 12 times
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    moisture: Vec<String>,
}

impl Board {
    fn with<T>(&self, ask: impl FnOnce(Asked<'_>) -> T) -> T {
        let climates: Vec<&str> = self.climate.iter().map(String::as_str).collect();
        let moistures: Vec<&str> = self.moisture.iter().map(String::as_str).collect();
        ask(Asked {
            wood: &self.wood,
            cut: self.cut.as_deref(),
            between: match moistures.is_empty() {
                true => Between::Climates(&climates),
                false => Between::Moistures(&moistures),
            },
        })
    }
}

/// Say how far a board or panel swells and shrinks across the grain
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark sum movement --wood \"white oak\" --cut flat --width \
                  \"18 in\" --moisture \"12 %\" --moisture \"8 %\"\n  tellmark sum movement --wood \
                  walnut --width \"480 mm\" --climate \"20 C 60 %\" --climate \"20 C 35 %\" --svg \
                  year.svg\n\nWhere sources disagree, or the cut is not known, it is a range. Twelve \
                  climates are the months of a year in the drawing."
)]
pub(super) struct Movement {
    #[command(flatten)]
    board: Board,
    /// How wide it is across the grain
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    width: String,
    /// Draw it into this file
    #[arg(long, value_name = "FILE")]
    svg: Option<PathBuf>,
}

impl Movement {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        let (worked, year) = self.board.with(|asked| asked.board(&self.width))?;
        let drawing = self.svg.clone().map(|file| (file, year_drawing(&year)));
        Ok(Done { worked, drawing })
    }
}

/// Say what becomes of a panel that is held and cannot move
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark sum panel --wood oak --cut flat --climate \"20 C 55 %\" \
                  --climate \"22 C 20 %\""
)]
pub(super) struct Panel {
    #[command(flatten)]
    board: Board,
}

impl Panel {
    pub(super) fn work(&self) -> Result<Done, Trouble> {
        Ok(self.board.with(|asked| asked.panel())?.into())
    }
}
