//! `tellmark check`

use super::bounded::Bounded;
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use clap::Args;
use serde_json::json;
use tellmark_compile::check::{Depth, check};
use tellmark_job::house;
use tellmark_job::scripts;
use tellmark_language::words::{self, list, some_of};
use tellmark_language::{Level, Message, Reading, SourceFile, Style};

/// Say what is wrong with the rules, if anything
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark check --rules my-rules\n\nExit code 1 if there is \
                        errors."
)]
pub struct Check {
    /// Show small notes too
    #[arg(long)]
    all: bool,
}

impl Check {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut checked = check(frame.reading()?, Depth::Full);
        let (said, trouble) = match house::script(frame.global.rules.as_deref(), scripts::CHECKS)? {
            Some(file) => house_checks(frame, &checked.reading, file)?,
            None => (Vec::new(), None),
        };
        checked.reading.messages.extend(said);
        let reading = &checked.reading;
        let read_back = words::read_back(&reading.model);
        let shown = |m: &&Message| self.all || m.level != Level::Note;
        let mut messages: Vec<&Message> = reading.messages.iter().filter(shown).collect();
        messages.sort_by_key(|m| m.level);
        let count = |level| u32::try_from(checked.count(level)).unwrap_or(u32::MAX);
        let mend = count(Level::Stop) + u32::from(trouble.is_some());
        let (look, notes) = (count(Level::Look), count(Level::Note));
        let written = |standard: bool| {
            read_back
                .iter()
                .filter_map(|entry| reading.files.get(usize::from(entry.at?.file.0)))
                .filter(|file| file.standard == standard)
                .count()
        };
        let (standard, own) = (written(true), written(false));
        if frame.global.json {
            let messages: Vec<serde_json::Value> = messages
                .iter()
                .map(|m| tellmark_language::record(m, &reading.files))
                .chain(trouble.iter().map(scripts::ScriptError::record))
                .map(serde_json::to_value)
                .collect::<Result<_, _>>()?;
            frame.print_json(&json!({
                "to_mend": mend,
                "to_look_at": look,
                "notes": notes,
                "sentences": { "standard": standard, "house": own },
                "messages": messages,
            }))?;
        } else {
            for message in &messages {
                let text = tellmark_language::render(message, &reading.files, Style::Colour);
                writeln!(frame.out, "{}\n", text.trim_end())?;
            }
            if let Some(trouble) = &trouble {
                let text = trouble.render(Style::Colour);
                writeln!(frame.out, "{}\n", text.trim_end())?;
            }
            writeln!(frame.out, "{}", summary(mend, look, notes, self.all))?;
            writeln!(
                frame.out,
                "I understood {standard} of the standard sentences and {own} of your own."
            )?;
        }
        Ok(if mend > 0 { Exit::No } else { Exit::Fine })
    }
}

/// What the house's own checks say, or what is wrong with them.
fn house_checks(
    frame: &mut Frame,
    reading: &Reading,
    file: SourceFile,
) -> Result<(Vec<Message>, Option<scripts::ScriptError>), Stopped> {
    let ran = scripts::checks(reading, &file, &Bounded::here());
    for line in ran.printed {
        writeln!(frame.err, "{}: {line}", scripts::CHECKS)?;
    }
    Ok(match ran.result {
        Ok(said) => (said, None),
        Err(trouble) => (Vec::new(), Some(trouble)),
    })
}

/// "3 errors and 1 thing to look at."
fn summary(errors: u32, look: u32, notes: u32, all: bool) -> String {
    let mut said = Vec::new();
    if errors > 0 {
        said.push(some_of(errors, "error", "errors"));
    }
    if look > 0 {
        let things = some_of(look, "thing", "things");
        said.push(format!("{things} to look at"));
    }
    let notes = match (notes, all) {
        (0, _) | (_, true) => String::new(),
        (n, false) => format!(" ({} with --all.)", some_of(n, "small note", "small notes")),
    };
    if said.is_empty() {
        format!("No errors.{notes}")
    } else {
        format!("{}.{notes}", list(&said))
    }
}
