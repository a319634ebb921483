//! `tellmark build`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use clap::Args;
use serde_json::json;
use std::path::PathBuf;
use tellmark_compile::Built;
use tellmark_compile::check::{Depth, check};
use tellmark_core::limits::{MAX_INTERFACE, MAX_NODES};
use tellmark_job::house::{self, Families};
use tellmark_job::plain::{io_reason, write_whole};
use tellmark_language::words::{self, list_or};
use tellmark_language::{Level, Message, Reading, Style, render};

/// What the bench unit's own memory holds of a pack (`hw-notes/budget.md`).
const UNIT_HOLDS: usize = 258_048;

/// Build the pack that the bench unit goes by
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark build --rules my-rules --out house.pack\n\nExit code 1 \
                        if the rules have errors."
)]
pub struct Build {
    /// The file to write
    #[arg(long, value_name = "FILE", default_value = "house.pack")]
    out: PathBuf,
}

impl Build {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let checked = check(self.reading(frame)?, Depth::Build);
        let Some(built) = &checked.built else {
            return Self::refuse(frame, &checked.reading);
        };
        write_whole(&self.out, built.bytes.bytes()).map_err(|why| {
            let path = self.out.display();
            Stopped::Disk(format!("I could not write {path}: {}.", io_reason(&why)))
        })?;
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                frame.print_json(Shape::BUILD, self.as_json(built))
            } else {
                self.print(frame, built)
            }
        })
    }

    /// The rules: a unit has no room for every family of pieces, so none is read that was not
    /// asked for, unless the house's own rules speak of one.
    fn reading(&self, frame: &Frame<'_>) -> Result<Reading, Stopped> {
        if frame.global.families.is_some() {
            return frame.reading();
        }
        let house = frame.rules()?;
        let bare = house::read(house, &Families::These(Vec::new()))?;
        let is_enough = bare.messages.iter().all(|m| m.level != Level::Stop);
        let reading = match house {
            Some(_) if !is_enough => house::read(house, &Families::All)?,
            _ => bare,
        };
        frame.notices.go_by(&reading);
        Ok(reading)
    }

    /// Says what the errors are. The file, if there is one, stays as it was.
    fn refuse(frame: &mut Frame, reading: &Reading) -> Result<Exit, Stopped> {
        let stops: Vec<&Message> = reading
            .messages
            .iter()
            .filter(|m| m.level == Level::Stop)
            .collect();
        for message in &stops {
            let text = render(message, &reading.files, Style::Colour);
            writeln!(frame.err, "{}\n", text.trim_end())?;
        }
        let errors = super::frame::errors(stops.len());
        Err(Stopped::No(format!(
            "Nothing was built: these rules have {errors}."
        )))
    }

    fn print(&self, frame: &mut Frame, built: &Built) -> Result<(), Stopped> {
        let file = self.out.display();
        let sizes = &built.sizes;
        writeln!(frame.out, "Wrote {file}: {} bytes.", sizes.pack)?;
        if sizes.pack > UNIT_HOLDS {
            writeln!(
                frame.out,
                "The bench unit of hw-notes has room for {UNIT_HOLDS} bytes: build it with fewer \
                 families of pieces (--families)."
            )?;
        } else if frame.global.families.is_none() {
            let names = list_or(&Families::names());
            writeln!(
                frame.out,
                "It has chests and drop-leaf tables. For other pieces build another, with \
                 --families {names}."
            )?;
        }
        writeln!(frame.out)?;
        writeln!(
            frame.out,
            "{:32} {:>6} {:>6} {:>6} {:>7} {:>6} {:>6}",
            "What each kind of part costs", "states", "shared", "nodes", "bytes", "up", "down"
        )?;
        for kind in &sizes.kinds {
            writeln!(
                frame.out,
                "{:32} {:6} {:6} {:6} {:7} {:6} {:6}",
                kind.name, kind.states, kind.interface, kind.nodes, kind.kept, kind.up, kind.down
            )?;
        }
        writeln!(
            frame.out,
            "Shared: states in common with owners, at most {MAX_INTERFACE}. Nodes: at most \
             {MAX_NODES}. Bytes: kept\nfor each such part; {} more to run the largest. Up and \
             down: sums and products.\n",
            sizes.running()
        )?;
        for piece in &sizes.pieces {
            writeln!(
                frame.out,
                "{}, as it usually is: {} parts, {} states, {} bytes on the bench unit, {} sums \
                 and products for everything from nothing.",
                words::capital(&words::a(&piece.name)),
                piece.parts,
                piece.states,
                piece.ram,
                piece.operations
            )?;
        }
        Ok(())
    }

    fn as_json(&self, built: &Built) -> serde_json::Value {
        let kinds: Vec<serde_json::Value> = built
            .sizes
            .kinds
            .iter()
            .map(|kind| {
                json!({
                    "part": kind.name,
                    "states": kind.states,
                    "interface": kind.interface,
                    "nodes": kind.nodes,
                    "bytes_each": kind.kept,
                    "bytes_running": kind.running,
                    "operations_up": kind.up,
                    "operations_down": kind.down,
                })
            })
            .collect();
        let pieces: Vec<serde_json::Value> = built
            .sizes
            .pieces
            .iter()
            .map(|piece| {
                json!({
                    "piece": piece.name,
                    "parts": piece.parts,
                    "states": piece.states,
                    "bytes": piece.ram,
                    "operations": piece.operations,
                })
            })
            .collect();
        json!({
            "file": self.out.display().to_string(),
            "bytes": built.sizes.pack,
            "kinds": kinds,
            "pieces": pieces,
        })
    }
}
