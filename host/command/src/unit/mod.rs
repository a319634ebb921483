//! `tellmark unit`: the bench unit at the other end of a cable.

mod fetch;
mod find;
mod rules;
mod send;
mod watch;

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use clap::{Args, Subcommand};
use std::io;
use std::path::{Path, PathBuf};
use tellmark_core::link::{Hello, Patience};
use tellmark_device::unit::{FetchError, Line, LinkError, PATIENCE, Place, Port, ports, way_in};
use tellmark_job::house::For;
use tellmark_job::plain::io_reason;
use tellmark_language::ink::LineStart;

/// Find the bench unit, send it rules, fetch what it noted
#[derive(Args, Debug)]
#[command(
    disable_help_subcommand = true,
    after_help = "Examples:\n  tellmark unit find\n  tellmark unit send house.pack\n  tellmark \
                  unit fetch walnut-chest"
)]
pub struct Unit {
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand, Debug)]
enum What {
    Find(find::Find),
    Send(send::Send),
    Fetch(fetch::Fetch),
    Watch(watch::Watch),
}

impl Unit {
    /// What it is about.
    pub(super) fn about(&self) -> For<'_> {
        match &self.what {
            What::Fetch(command) => For::Job(&command.job),
            What::Watch(_) | What::Find(_) | What::Send(_) => For::Folder(Path::new(".")),
        }
    }

    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        match &self.what {
            What::Find(command) => command.run(frame),
            What::Send(command) => command.run(frame),
            What::Fetch(command) => command.run(frame),
            What::Watch(command) => command.run(frame),
        }
    }
}

/// Which unit.
#[derive(Args, Debug)]
struct Which {
    /// The port it is plugged into, if there are several
    #[arg(long, value_name = "PATH")]
    port: Option<PathBuf>,
}

/// How long a port is given to say that there is a unit.
const GREETING: Patience = Patience {
    wait: 400,
    tries: 5,
};

/// Where the questions of this program begin to be numbered.
fn tag() -> u16 {
    let [low, high, ..] = std::process::id().wrapping_mul(0x9E37).to_le_bytes();
    u16::from_le_bytes([low, high])
}

/// A port, and what answers there.
struct Tried {
    place: Place,
    hello: Result<Hello, LinkError>,
}

impl Which {
    /// Greets whatever is plugged in.
    fn greet_all(&self) -> Vec<Tried> {
        let places = match &self.port {
            Some(path) => vec![Place {
                path: path.clone(),
                name: None,
            }],
            None => ports(),
        };
        let greeted = places.into_iter().map(|place| {
            let line = Port::open(&place.path).map_err(LinkError::from);
            let hello = line.and_then(|port| Line::new(port, GREETING, tag()).greet());
            Tried { place, hello }
        });
        greeted.collect()
    }

    /// The line to the unit that is plugged in.
    fn line(&self) -> Result<Line<Port>, Stopped> {
        let path = match &self.port {
            Some(path) => path.clone(),
            None => self.only_one()?,
        };
        let port = Port::open(&path).map_err(|why| cannot_open(&path, &why))?;
        Ok(Line::new(port, PATIENCE, tag()))
    }

    fn only_one(&self) -> Result<PathBuf, Stopped> {
        let mut tried = self.greet_all();
        // A unit of another version is still the unit that is meant.
        tried.retain(|t| matches!(t.hello, Ok(_) | Err(LinkError::Version(_))));
        let paths: Vec<String> = tried
            .iter()
            .map(|t| t.place.path.display().to_string())
            .collect();
        match (tried.pop(), tried.is_empty()) {
            (Some(one), true) => Ok(one.place.path),
            (None, _) => Err(Stopped::Disk(NOTHING.to_owned())),
            (Some(_), false) => Err(Stopped::Misuse(format!(
                "There are {} bench units: {}. Say which: --port {}.",
                paths.len(),
                paths.join(", "),
                paths.first().map_or("", String::as_str)
            ))),
        }
    }
}

const NOTHING: &str = "There is no bench unit. Plug it in with a cable that carries data, and wait \
                       a second or two; \"tellmark unit find\" says what is plugged in. If you \
                       know the port: --port PATH.";

fn cannot_open(path: &Path, why: &io::Error) -> Stopped {
    Stopped::Disk(format!(
        "I could not open {}: {}.{}",
        path.display(),
        io_reason(why),
        way_in(why)
    ))
}

impl From<LinkError> for Stopped {
    fn from(trouble: LinkError) -> Stopped {
        match trouble {
            LinkError::Refused(_) => Stopped::Misuse(trouble.to_string()),
            LinkError::Port(_)
            | LinkError::Silent
            | LinkError::Version(_)
            | LinkError::Nonsense => Stopped::Disk(trouble.to_string()),
        }
    }
}

impl From<FetchError> for Stopped {
    fn from(trouble: FetchError) -> Stopped {
        match trouble {
            FetchError::Line(trouble) => trouble.into(),
            FetchError::Job(trouble) => trouble.into(),
            FetchError::NotTicked { .. } => Stopped::Disk(trouble.to_string()),
            other => Stopped::Misuse(other.to_string()),
        }
    }
}

/// A bar of text on the error stream, where somebody watches; told how far
/// something is.
struct Progress {
    shown: bool,
}

impl Progress {
    fn new() -> Progress {
        use std::io::IsTerminal as _;
        Progress {
            shown: io::stderr().is_terminal(),
        }
    }

    fn show(&self, err: &mut dyn io::Write, text: &str) {
        if self.shown {
            // Who cannot be shown how far it is is not stopped for that.
            let _ = write!(err, "{LineStart}{text}").and_then(|()| err.flush());
        }
    }

    fn end(&self, err: &mut dyn io::Write) {
        if self.shown {
            let _ = writeln!(err);
        }
    }
}
