//! `tellmark sum`

mod jars;
mod loads;
mod wood;

use super::drawing;
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use clap::{Args, Subcommand};
use serde_json::json;
use std::path::PathBuf;
use tellmark_language::ink::Ink;
use tellmark_language::words::capital;
use tellmark_sums::{SUMS, Trouble, Worked};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Work out a bench sum from published handbooks; without a name, list them
#[derive(Args, Debug)]
#[command(
    args_conflicts_with_subcommands = true,
    disable_help_subcommand = true,
    after_help = "Examples:\n  tellmark sum\n  tellmark sum movement --wood oak --width \"500 mm\" \
                  --climate \"20 C 60 %\" --climate \"20 C 35 %\"\n  tellmark sum shellac --cut \"2 \
                  lb\" --alcohol \"500 ml\" --working\n\nA sum needs no job. It takes metric and \
                  inch units: \"18 mm\", \"3/4 in\", \"70 F\", \"2 lb\". Sources and cautions are \
                  always printed. Exit code 1 where nothing holds what was asked about, and so \
                  there is no sum."
)]
pub struct Sum {
    #[command(subcommand)]
    which: Option<Which>,
    /// Show how the answer comes about
    #[arg(long, global = true)]
    working: bool,
}

#[derive(Subcommand, Debug)]
enum Which {
    Moisture(wood::Moisture),
    Movement(wood::Movement),
    Panel(wood::Panel),
    Screw(loads::Screw),
    Nail(loads::Nail),
    Fall(Box<loads::Fall>),
    Shelf(loads::Shelf),
    Tipping(loads::Tipping),
    Solvent(jars::Solvent),
    Shellac(jars::Shellac),
    Glue(jars::Glue),
    Dust(jars::Dust),
}

/// A sum that is done, and its drawing if one was asked for.
struct Done {
    worked: Worked,
    drawing: Option<(PathBuf, String)>,
}

impl From<Worked> for Done {
    fn from(worked: Worked) -> Done {
        Done {
            worked,
            drawing: None,
        }
    }
}

impl From<Trouble> for Stopped {
    fn from(trouble: Trouble) -> Stopped {
        match trouble.is_an_answer() {
            true => Stopped::No(trouble.to_string()),
            false => Stopped::Misuse(trouble.to_string()),
        }
    }
}

impl Which {
    fn work(&self) -> Result<Done, Trouble> {
        match self {
            Which::Moisture(sum) => sum.work(),
            Which::Movement(sum) => sum.work(),
            Which::Panel(sum) => sum.work(),
            Which::Screw(sum) => sum.work(),
            Which::Nail(sum) => sum.work(),
            Which::Fall(sum) => sum.work(),
            Which::Shelf(sum) => sum.work(),
            Which::Tipping(sum) => sum.work(),
            Which::Solvent(sum) => sum.work(),
            Which::Shellac(sum) => sum.work(),
            Which::Glue(sum) => sum.work(),
            Which::Dust(sum) => sum.work(),
        }
    }
}

impl Sum {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let Some(which) = &self.which else {
            return list(frame);
        };
        let Done { worked, drawing } = which.work()?;
        let file = drawing.as_ref().map(|(file, _)| file.clone());
        if let Some((file, drawing)) = &drawing {
            drawing::write(file, drawing)?;
            return frame.tell(Exit::Fine, |frame| self.tell(&worked, Some(file), frame));
        }
        self.tell(&worked, file.as_ref(), frame)?;
        Ok(Exit::Fine)
    }

    fn tell(
        &self,
        worked: &Worked,
        file: Option<&PathBuf>,
        frame: &mut Frame,
    ) -> Result<(), Stopped> {
        if frame.global.json {
            let mut value = serde_json::to_value(worked)?;
            if let Some(entries) = value.as_object_mut() {
                let file = file.map(|file| file.display().to_string());
                entries.insert("drawing".to_owned(), json!(file));
            }
            return frame.print_json(Shape::SUM, value);
        }
        writeln!(frame.out, "{STRONG}{}{STRONG:#}", worked.answer)?;
        if self.working {
            writeln!(frame.out)?;
            for line in &worked.working {
                writeln!(frame.out, "  {line}")?;
            }
        }
        writeln!(frame.out)?;
        for source in &worked.sources {
            writeln!(frame.out, "{FAINT}Source: {source}.{FAINT:#}")?;
        }
        writeln!(frame.out, "Take care: {}", worked.caution)?;
        drawing::tell(file.map(PathBuf::as_path), frame)
    }
}

fn list(frame: &mut Frame) -> Result<Exit, Stopped> {
    if frame.global.json {
        let sums: Vec<_> = SUMS
            .iter()
            .map(|sum| json!({ "name": sum.name, "about": sum.about }))
            .collect();
        frame.print_json(Shape::SUMS, json!({ "sums": sums }))?;
        return Ok(Exit::Fine);
    }
    let widest = SUMS.iter().map(|sum| sum.name.len()).max().unwrap_or(0);
    for sum in SUMS {
        let about = capital(sum.about);
        writeln!(frame.out, "{STRONG}{:widest$}{STRONG:#}  {about}", sum.name)?;
    }
    writeln!(
        frame.out,
        "\n{FAINT}\"tellmark sum NAME --help\" says what one takes, with an example.{FAINT:#}"
    )?;
    Ok(Exit::Fine)
}

#[cfg(test)]
mod tests {
    use super::Sum;
    use clap::Args as _;
    use tellmark_sums::SUMS;

    #[test]
    fn every_sum_that_is_listed_can_be_asked_for_and_the_other_way_round() {
        let command = Sum::augment_args(clap::Command::new("sum"));
        let asked: Vec<&str> = command
            .get_subcommands()
            .map(clap::Command::get_name)
            .collect();
        let listed: Vec<&str> = SUMS.iter().map(|sum| sum.name).collect();
        assert_eq!(asked, listed);
    }
}
