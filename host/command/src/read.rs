//! `tellmark read`

use super::comes_to::ComesTo;
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use clap::Args;
use serde_json::json;
use tellmark_language::words::{self, ReadBack};
use tellmark_language::{Reading, line_of};

/// Say every sentence of the rules as it was understood, with its figures
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark read runner\n  tellmark read --rules my-rules --file \
                        mill-lane.rules.txt --lines\n  tellmark read --figures stiff"
)]
pub struct Read {
    /// Only sentences with this word or these words in them
    #[arg(value_name = "WORD")]
    filter: Vec<String>,
    /// Only sentences of this file
    #[arg(long, value_name = "NAME")]
    file: Option<String>,
    /// Say the file and line of each
    #[arg(long)]
    lines: bool,
    /// Say what each sentence with a strength comes to when its condition is answered
    #[arg(long)]
    figures: bool,
}

impl Read {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let reading = frame.ready_or_warn()?.reading;
        if let Some(name) = &self.file
            && !reading.files.iter().any(|f| f.name == *name)
        {
            let names: Vec<&str> = reading.files.iter().map(|f| f.name.as_str()).collect();
            return Err(Stopped::Misuse(format!(
                "There is no file of rules called \"{name}\". There are: {}.",
                words::list(&names)
            )));
        }
        let wanted = self.filter.join(" ").to_lowercase();
        let entries: Vec<ReadBack> = words::read_back(&reading.model)
            .into_iter()
            .filter(|entry| says(entry, &wanted))
            .filter(|entry| match &self.file {
                None => true,
                Some(name) => place(&reading, entry).is_some_and(|(file, _)| file == name),
            })
            .collect();
        let comes_to = if self.figures {
            ComesTo::of(frame, &entries)?
        } else {
            ComesTo::default()
        };
        if frame.global.json {
            let entries: Vec<serde_json::Value> = entries
                .iter()
                .map(|entry| {
                    let place = place(&reading, entry);
                    let mut record = json!({
                        "about": entry.about.heading(),
                        "called": entry.called,
                        "text": entry.text,
                        "file": place.map(|(file, _)| file),
                        "line": place.map(|(_, line)| line),
                    });
                    if self.figures {
                        record["comes_to"] = comes_to.record(entry);
                    }
                    record
                })
                .collect();
            frame.print_json(Shape::READ, json!({ "sentences": entries }))?;
            return Ok(Exit::Fine);
        }
        let mut about = None;
        for entry in &entries {
            if about != Some(entry.about) {
                let space = if about.is_some() { "\n" } else { "" };
                writeln!(frame.out, "{space}{}\n", entry.about.heading())?;
                about = Some(entry.about);
            }
            let place = match place(&reading, entry) {
                Some((file, line)) if self.lines => format!(" ({file}, line {line})"),
                _ => String::new(),
            };
            let called = match &entry.called {
                // An example is called by its title, an order of work by its jobs.
                Some(name) if !holds(&entry.text, name.trim_start_matches("example ")) => {
                    format!(" (called {})", words::quoted(name))
                }
                _ => String::new(),
            };
            writeln!(frame.out, "  {}{called}{place}", entry.text)?;
            for line in comes_to.lines(entry) {
                writeln!(frame.out, "      {line}")?;
            }
        }
        if entries.is_empty() {
            writeln!(frame.out, "No sentence says that.")?;
        }
        Ok(Exit::Fine)
    }
}

/// Whether an entry has these words in it, or in its name.
fn says(entry: &ReadBack, wanted: &str) -> bool {
    let called = entry.called.as_deref().unwrap_or_default();
    holds(&entry.text, wanted) || holds(called, wanted)
}

fn holds(text: &str, words: &str) -> bool {
    text.to_lowercase().contains(&words.to_lowercase())
}

/// File and line of an entry.
fn place<'a>(reading: &'a Reading, entry: &ReadBack) -> Option<(&'a str, usize)> {
    entry.at.map(|at| line_of(&reading.files, at))
}
