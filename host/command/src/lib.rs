//! The `tellmark` command: one file a command, with no logic of their own.
//!
//! A command is a clap struct with `fn run(&self, frame: &mut Frame) ->
//! Result<Exit, Stopped>`. To add one: its file, its line in `Command`, its
//! line in `Command::run`.

mod bare;
mod bench;
mod bounded;
mod brief;
mod build;
mod check;
mod choice;
mod comes_to;
mod date;
mod done;
mod drawing;
mod exit;
mod frame;
mod help;
mod house;
mod invoice;
mod jobs;
mod left_finding;
mod me;
mod moments;
mod next;
mod note;
mod open;
mod open_job;
mod paid;
mod photo;
mod plan;
mod quote;
mod read;
mod relative;
mod remark;
mod repair;
mod report;
mod screen;
mod shape;
mod shelf;
mod steps;
mod sum;
mod timer;
mod together;
mod triage;
mod typed;
mod unit;
mod unpaired;
mod whose;
mod why;
mod wrong_use;

pub use bounded::Bounded;
pub use exit::{Exit, Stopped};
pub use frame::{Colour, Frame, Global};
pub use shape::Shape;

use clap::{Parser, Subcommand};
use screen::Screen;
use std::cell::{Cell, OnceCell};
use std::ffi::OsString;
use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;
use tellmark_job::house::For;
use whose::Notices;

/// Goes by a restorer's own rules: what is likely wrong with a piece of
/// furniture, and why.
#[derive(Parser, Debug)]
#[command(
    name = "tellmark",
    bin_name = "tellmark",
    version,
    disable_help_subcommand = true,
    after_help = "Exit codes: 0 all is well; 1 the answer is no; 2 wrong use; 3 something could \
                  not be read or written.\n\nWith no command it says what to do next."
)]
struct Cli {
    #[command(flatten)]
    global: Global,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Subcommand, Debug)]
enum Command {
    Check(check::Check),
    Read(read::Read),
    Build(build::Build),
    Open(open::Open),
    Note(note::Note),
    Remark(remark::Remark),
    Brief(brief::Brief),
    Bench(bench::Bench),
    Triage(triage::Triage),
    Next(next::Next),
    Why(why::Why),
    Date(date::Date),
    Plan(plan::Plan),
    Quote(quote::Quote),
    Start(timer::Start),
    Stop(timer::Stop),
    Done(done::Done),
    Paid(paid::Paid),
    Invoice(invoice::Invoice),
    Photo(photo::Photo),
    Report(report::Report),
    Repair(repair::Repair),
    Jobs(jobs::Jobs),
    Shelf(shelf::Shelf),
    Sum(sum::Sum),
    Unit(unit::Unit),
    House(house::House),
    Me(me::Me),
    Help(help::Help),
    Completions(help::Completions),
    Man(help::Man),
}

impl Command {
    fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        match self {
            Command::Check(command) => command.run(frame),
            Command::Read(command) => command.run(frame),
            Command::Build(command) => command.run(frame),
            Command::Open(command) => command.run(frame),
            Command::Note(command) => command.run(frame),
            Command::Remark(command) => command.run(frame),
            Command::Brief(command) => command.run(frame),
            Command::Bench(command) => command.run(frame),
            Command::Triage(command) => command.run(frame),
            Command::Next(command) => command.run(frame),
            Command::Why(command) => command.run(frame),
            Command::Date(command) => command.run(frame),
            Command::Plan(command) => command.run(frame),
            Command::Quote(command) => command.run(frame),
            Command::Start(command) => command.run(frame),
            Command::Stop(command) => command.run(frame),
            Command::Done(command) => command.run(frame),
            Command::Paid(command) => command.run(frame),
            Command::Invoice(command) => command.run(frame),
            Command::Photo(command) => command.run(frame),
            Command::Report(command) => command.run(frame),
            Command::Repair(command) => command.run(frame),
            Command::Jobs(command) => command.run(frame),
            Command::Shelf(command) => command.run(frame),
            Command::Sum(command) => command.run(frame),
            Command::Unit(command) => command.run(frame),
            Command::House(command) => command.run(frame),
            Command::Me(command) => command.run(frame),
            Command::Help(command) => command.run(frame),
            Command::Completions(command) => command.run(frame),
            Command::Man(command) => command.run(frame),
        }
    }
}

impl Command {
    /// What a command is about: where its rules are looked for.
    fn about(&self) -> For<'_> {
        match self {
            Command::Note(command) => For::Job(&command.job),
            Command::Remark(command) => For::Job(&command.job),
            Command::Brief(command) => For::Job(&command.job),
            Command::Bench(command) => For::Job(&command.job),
            Command::Triage(command) => For::Job(&command.job),
            Command::Next(command) => For::Job(&command.job),
            Command::Why(command) => For::Job(&command.job),
            Command::Date(command) => For::Job(&command.job),
            Command::Plan(command) => For::Job(&command.job),
            Command::Quote(command) => For::Job(&command.job),
            Command::Start(command) => For::Job(&command.job),
            Command::Stop(command) => For::Job(&command.job),
            Command::Done(command) => For::Job(&command.job),
            Command::Paid(command) => For::Job(&command.job),
            Command::Invoice(command) => For::Job(&command.job),
            Command::Shelf(command) => For::Job(&command.job),
            Command::Photo(command) => For::Job(&command.job),
            Command::Report(command) => For::Job(&command.job),
            Command::Repair(command) => For::Job(&command.job),
            Command::Open(command) => For::Folder(&command.parent),
            Command::Jobs(command) => For::Folder(&command.folder),
            Command::House(command) => command.about(),
            Command::Unit(command) => command.about(),
            Command::Check(_)
            | Command::Read(_)
            | Command::Build(_)
            | Command::Me(_)
            | Command::Sum(_)
            | Command::Help(_)
            | Command::Completions(_)
            | Command::Man(_) => here(),
        }
    }
}

/// What a command is about that is about no job.
fn here() -> For<'static> {
    For::Folder(Path::new("."))
}

/// Runs the command that these arguments ask for, the first being the name of
/// the program.
#[must_use]
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    if let Some(ended) = bounded::serve(&arguments) {
        return ended;
    }
    be_quiet_about_photographs();
    let is_for_a_program = arguments.iter().any(|argument| argument == "--json");
    let cli = match Cli::try_parse_from(arguments) {
        Ok(cli) => cli,
        Err(error) => return wrong_use::tell(&error, is_for_a_program).into(),
    };
    let colour = cli.global.colour.into();
    let stdout = anstream::AutoStream::new(std::io::stdout().lock(), colour);
    let stderr = anstream::AutoStream::new(std::io::stderr().lock(), colour);
    let (mut out, mut err) = (Screen::new(stdout), Screen::new(stderr));
    let about = match &cli.command {
        Some(command) => command.about(),
        None => here(),
    };
    let now = jiff::ZonedDateTime::now();
    let mut frame = Frame {
        global: &cli.global,
        now: now.datetime(),
        offset: now.offset(),
        out: &mut out,
        err: &mut err,
        about,
        house: OnceCell::new(),
        notices: Notices::default(),
        has_written: Cell::new(false),
    };
    let ended = match &cli.command {
        Some(command) => command.run(&mut frame),
        None => bare::run(&mut frame),
    };
    let ended = ended.and_then(|exit| {
        let exit = whose::close(&mut frame, exit)?;
        frame.out.flush()?;
        Ok(exit)
    });
    let is_told = !matches!(ended, Err(Stopped::Untold { .. }));
    let (exit, trouble) = match ended {
        Ok(exit) => (exit, None),
        Err(Stopped::Unread) => (Exit::Fine, None),
        Err(Stopped::Untold { exit, why }) => (exit, Some(why)),
        Err(Stopped::No(why)) => (Exit::No, Some(why)),
        Err(Stopped::Misuse(trouble)) => (Exit::Misuse, Some(trouble)),
        Err(Stopped::Disk(trouble)) => (Exit::Disk, Some(trouble)),
    };
    if let Some(trouble) = trouble.filter(|trouble| !trouble.is_empty()) {
        // If even this cannot be printed, the exit code still says it.
        let _ = writeln!(err, "{}", trouble.trim_end());
        if cli.global.json && is_told {
            let _ = wrong_use::tell_a_program(&mut out, trouble.trim_end(), exit);
        }
    }
    exit.into()
}

/// What a decoder gives up on is told as a damaged photograph, and not as a panic.
fn be_quiet_about_photographs() {
    let tell = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        if std::thread::current().name() != Some(tellmark_report::picture::THREAD) {
            tell(panic);
        }
    }));
}

#[cfg(test)]
mod tests {
    use super::Cli;
    use clap::CommandFactory as _;
    use tellmark_language::message::wordings;

    /// What a message names between grave accents, or after "tellmark", is a
    /// command, and its options are that command's.
    #[test]
    fn what_messages_tell_the_user_to_type_exists() {
        let cli = Cli::command();
        for wording in wordings() {
            for line in wording.texts.iter().chain(&wording.helps) {
                for typed in typed(line) {
                    let mut words = typed.split_whitespace();
                    let name = words.next().unwrap_or_default();
                    let command = cli.find_subcommand(name);
                    let Some(command) = command else {
                        panic!("message {}: no command {name:?} ({line})", wording.number);
                    };
                    for option in words.filter_map(|word| word.strip_prefix("--")) {
                        let known = |arguments: &clap::Command| {
                            arguments
                                .get_arguments()
                                .any(|a| a.get_long() == Some(option))
                        };
                        assert!(
                            known(command) || known(&cli),
                            "message {}: {name} has no --{option}",
                            wording.number
                        );
                    }
                }
            }
        }
    }

    /// The commands that a line names.
    fn typed(line: &str) -> Vec<&str> {
        let accents = line.split('`').skip(1).step_by(2);
        let named = line
            .split("tellmark ")
            .skip(1)
            .map(|rest| rest.split(['"', '`', '.', ',']).next().unwrap_or(rest));
        accents
            .map(|typed| typed.strip_prefix("tellmark ").unwrap_or(typed))
            .chain(named)
            .collect()
    }

    #[test]
    fn commands_are_found_in_a_line() {
        assert_eq!(
            typed("Try `tellmark check --all`."),
            ["check --all", "check --all"]
        );
        assert_eq!(typed("\"tellmark read\" says what."), ["read"]);
        assert!(typed("Write 1846.").is_empty());
    }
}
