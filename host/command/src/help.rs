//! `tellmark help`, `tellmark completions` and `tellmark man`: the commands described, for
//! people, for a shell and for the manual.

use super::Cli;
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use clap::{Args, Command, CommandFactory as _};
use clap_complete::Shell;
use std::path::{Path, PathBuf};
use tellmark_job::plain;

/// Say what a command does and what it takes
#[derive(Args, Debug)]
#[command(after_help = "Examples:\n  tellmark help note\n  tellmark help unit send")]
pub struct Help {
    /// The command; all of them, if it is left out
    #[arg(value_name = "COMMAND")]
    command: Vec<String>,
}

impl Help {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut cli = whole();
        let mut command = find(&mut cli, &self.command)?;
        let text = command.render_long_help().to_string();
        writeln!(frame.out, "{}", text.trim_end())?;
        Ok(Exit::Fine)
    }
}

/// Write what a shell needs to complete the commands by the Tab key
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark completions bash > ~/.local/share/bash-completion/completions/\
                  tellmark\n  tellmark completions fish > ~/.config/fish/completions/tellmark.fish"
)]
pub struct Completions {
    /// The shell
    #[arg(value_enum, value_name = "SHELL")]
    shell: Shell,
}

impl Completions {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut whole(), "tellmark", &mut script);
        frame.out.write_all(&script)?;
        Ok(Exit::Fine)
    }
}

/// Write the pages of the manual, as `man` reads them
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark man note > tellmark-note.1\n  tellmark man --out \
                        ~/.local/share/man/man1"
)]
pub struct Man {
    /// The command; the page about the program, if it is left out
    #[arg(value_name = "COMMAND")]
    command: Vec<String>,
    /// Write all pages into this folder
    #[arg(long, value_name = "DIR", conflicts_with = "command")]
    out: Option<PathBuf>,
}

impl Man {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut cli = whole();
        let Some(folder) = &self.out else {
            let command = find(&mut cli, &self.command)?;
            frame.out.write_all(&page(&command)?)?;
            return Ok(Exit::Fine);
        };
        if !folder.is_dir() {
            return Err(Stopped::Disk(format!(
                "There is no folder {} to write the pages into.",
                folder.display()
            )));
        }
        let mut written = 0;
        write_pages(folder, &cli, &mut written)?;
        frame.tell(Exit::Fine, |frame| {
            writeln!(
                frame.out,
                "Wrote {written} pages into {}.",
                folder.display()
            )?;
            Ok(())
        })
    }
}

/// The page of a command and those of the commands below it.
fn write_pages(folder: &Path, command: &Command, written: &mut u32) -> Result<(), Stopped> {
    let name = command.get_display_name().unwrap_or(command.get_name());
    let path = folder.join(format!("{name}.1"));
    plain::write_whole(&path, &page(command)?).map_err(|why| {
        let why = plain::io_reason(&why);
        Stopped::Disk(format!("I could not write {}: {why}.", path.display()))
    })?;
    *written += 1;
    for inner in command.get_subcommands() {
        write_pages(folder, inner, written)?;
    }
    Ok(())
}

fn page(command: &Command) -> Result<Vec<u8>, Stopped> {
    let mut page = Vec::new();
    clap_mangen::Man::new(command.clone()).render(&mut page)?;
    Ok(page)
}

/// All commands, with their full names.
fn whole() -> Command {
    let mut cli = Cli::command();
    cli.build();
    cli
}

/// The command that these words name.
fn find(cli: &mut Command, words: &[String]) -> Result<Command, Stopped> {
    let mut at: &Command = cli;
    for word in words {
        let Some(inner) = at.find_subcommand(word) else {
            let names: Vec<&str> = at.get_subcommands().map(Command::get_name).collect();
            let near = tellmark_language::near::nearest(word, names.iter().copied());
            let near = near.map_or(String::new(), |near| {
                format!(" Did you mean \"{}\"?", near.joined())
            });
            return Err(Stopped::Misuse(format!(
                "There is no command \"{word}\".{near}\n\"tellmark help\" lists the commands."
            )));
        };
        at = inner;
    }
    Ok(at.clone())
}
