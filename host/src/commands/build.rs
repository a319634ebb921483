//! `tellmark build`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use crate::compile::{self, Built, TooTangled};
use crate::language::{Level, Reading, line_of, text_of};
use crate::plain::{io_reason, write_whole};
use crate::words::{self, figure, some_of};
use clap::Args;
use serde_json::json;
use std::path::PathBuf;

/// Build the pack that the bench unit goes by
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark build --rules my-rules --out house.pack\n\nExit code 1 \
                        if the rules have something to mend first."
)]
pub struct Build {
    /// The file to write
    #[arg(long, value_name = "FILE", default_value = "house.pack")]
    out: PathBuf,
    /// Say what each kind of part costs on the unit
    #[arg(long)]
    sizes: bool,
}

impl Build {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let reading = frame.reading()?;
        let stops = reading
            .messages
            .iter()
            .filter(|m| m.level == Level::Stop)
            .count();
        if stops > 0 {
            let things = some_of(u32::try_from(stops).unwrap_or(u32::MAX), "thing", "things");
            writeln!(
                frame.err,
                "Nothing was built: these rules have {things} to mend. \"tellmark check\" says what."
            )?;
            return Ok(Exit::No);
        }
        let words_of = |at| text_of(&reading.files, at);
        let built = match compile::build(&reading.model, &words_of) {
            Ok(built) => built,
            Err(tangled) => {
                writeln!(frame.err, "{}", too_tangled(&reading, &tangled))?;
                return Ok(Exit::No);
            }
        };
        write_whole(&self.out, built.bytes.bytes()).map_err(|why| {
            let path = self.out.display();
            Stopped::Disk(format!("I could not write {path}: {}.", io_reason(&why)))
        })?;
        if frame.global.json {
            frame.print_json(&self.as_json(&reading, &built))?;
        } else {
            self.print(frame, &reading, &built)?;
        }
        Ok(Exit::Fine)
    }

    fn print(&self, frame: &mut Frame, reading: &Reading, built: &Built) -> Result<(), Stopped> {
        writeln!(
            frame.out,
            "Wrote {}: {} bytes.",
            self.out.display(),
            built.sizes.pack
        )?;
        for missed in missed(reading, built) {
            writeln!(frame.out, "{missed}")?;
        }
        if self.sizes {
            for kind in &built.sizes.kinds {
                writeln!(
                    frame.out,
                    "  {}: {} states, {} shared with owners, {} nodes, {} bytes for each, {} sums \
                     up and {} down",
                    kind.name,
                    kind.states,
                    kind.interface,
                    kind.nodes,
                    kind.kept,
                    kind.up,
                    kind.down
                )?;
            }
            writeln!(
                frame.out,
                "  {} bytes to run the largest",
                built.sizes.running()
            )?;
        }
        Ok(())
    }

    fn as_json(&self, reading: &Reading, built: &Built) -> serde_json::Value {
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
        json!({
            "file": self.out.display().to_string(),
            "bytes": built.sizes.pack,
            "kinds": kinds,
            "missed": missed(reading, built),
        })
    }
}

/// `that means` sentences whose figure the other sentences do not allow.
fn missed(reading: &Reading, built: &Built) -> Vec<String> {
    let model = &reading.model;
    built
        .missed
        .iter()
        .filter_map(|missed| {
            let means = model.means.get(missed.means)?;
            let (file, line) = line_of(&reading.files, means.at);
            Some(format!(
                "{file}, line {line}: with the other rules as they are this comes to {}, from {} \
                 before anything is known. {}",
                figure(missed.reached),
                figure(missed.before),
                words::means(model, means)
            ))
        })
        .collect()
}

fn too_tangled(reading: &Reading, tangled: &TooTangled) -> String {
    let kind = reading.model.kinds.get(tangled.kind.index());
    let kind = words::a(kind.map_or("part", |k| k.name.as_str()));
    let weigh = tangled.interface;
    let remove = tangled.remove.map_or_else(String::new, |at| {
        let (file, line) = line_of(&reading.files, at);
        let text = text_of(&reading.files, at);
        format!(" Taking this out would help most ({file}, line {line}): {text}")
    });
    format!(
        "Nothing was built: to judge {kind} the bench unit would have to weigh too much at once, \
         {weigh} things of what it is built into among it.{remove}"
    )
}
