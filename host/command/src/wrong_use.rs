//! Help, and what to say about arguments that cannot be understood.

use super::exit::Exit;
use super::screen::Screen;
use super::shape::Shape;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use serde_json::json;
use std::io::{self, Write};
use tellmark_language::words::{list, list_or};

/// Prints what the parser of the arguments has to say. Help that was asked for
/// goes to the screen, everything else to the error stream.
pub(super) fn tell(error: &clap::Error, is_for_a_program: bool) -> Exit {
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => {
            // Help is in our own words, and may be styled as the parser likes. A closed
            // pipe loses nothing but help.
            let _ = error.print();
            Exit::Fine
        }
        _ => {
            // The parser repeats what was typed.
            let text = plain(error).unwrap_or_else(|| error.render().to_string());
            // If even this cannot be printed, the exit code still says it.
            let _ = writeln!(Screen::new(std::io::stderr()), "{}", text.trim_end());
            if is_for_a_program {
                let mut out = Screen::new(std::io::stdout());
                let _ = tell_a_program(&mut out, text.trim_end(), Exit::Misuse);
            }
            Exit::Misuse
        }
    }
}

/// The same trouble on standard output, as one JSON value.
pub(super) fn tell_a_program(out: &mut dyn Write, trouble: &str, exit: Exit) -> io::Result<()> {
    let value = json!({
        "shape": Shape::ERROR.called(),
        "error": trouble,
        "exit": exit as u8,
    });
    serde_json::to_writer_pretty(&mut *out, &value)?;
    writeln!(out)?;
    out.flush()
}

/// The common mistakes in the tone of the rest.
fn plain(error: &clap::Error) -> Option<String> {
    let one = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => Some(text.clone()),
        Some(ContextValue::Strings(texts)) => Some(list_or(texts)),
        _ => None,
    };
    let all = |kind| match error.get(kind) {
        Some(ContextValue::Strings(texts)) => texts.clone(),
        Some(ContextValue::String(text)) => vec![text.clone()],
        _ => Vec::new(),
    };
    let quoted = |texts: Vec<String>| {
        let texts: Vec<String> = texts.iter().map(|t| format!("\"{t}\"")).collect();
        list_or(&texts)
    };
    let did_you_mean = |kind| match all(kind) {
        texts if texts.is_empty() => String::new(),
        texts => format!(" Did you mean {}?", quoted(texts)),
    };
    let said = match error.kind() {
        ErrorKind::InvalidSubcommand => {
            let word = one(ContextKind::InvalidSubcommand)?;
            let near = did_you_mean(ContextKind::SuggestedSubcommand);
            format!("There is no command \"{word}\".{near}")
        }
        ErrorKind::UnknownArgument => {
            let word = one(ContextKind::InvalidArg)?;
            let near = did_you_mean(ContextKind::SuggestedArg);
            format!("I do not know what to do with \"{word}\" here.{near}")
        }
        ErrorKind::InvalidValue => {
            let option = one(ContextKind::InvalidArg)?;
            let option = option.split(' ').next().unwrap_or_default();
            let value = one(ContextKind::InvalidValue)?;
            let valid = quoted(all(ContextKind::ValidValue));
            if value.is_empty() {
                format!("Something must follow {option}.")
            } else if valid.is_empty() {
                return None;
            } else {
                format!("{option} cannot be \"{value}\"; it can be {valid}.")
            }
        }
        ErrorKind::ArgumentConflict => {
            let bare = |option: &String| option.split(' ').next().unwrap_or_default().to_owned();
            let this = bare(&one(ContextKind::InvalidArg)?);
            let others: Vec<String> = all(ContextKind::PriorArg).iter().map(bare).collect();
            match others.as_slice() {
                [] => format!("{this} can be said only once."),
                [other] if *other == this => format!("{this} can be said only once."),
                others => format!("{this} and {} cannot be said together.", list(others)),
            }
        }
        ErrorKind::MissingRequiredArgument => {
            let missing: Vec<String> = all(ContextKind::InvalidArg)
                .iter()
                .map(|m| m.replace(['<', '>', '.'], ""))
                .collect();
            format!("This is missing: {}.", list(&missing))
        }
        _ => return None,
    };
    Some(format!(
        "{said}\n\"tellmark --help\" lists the commands, \"tellmark COMMAND --help\" what one takes."
    ))
}
