//! How a command ends.

use std::io;
use std::process::ExitCode;
use tellmark_job::house;
use tellmark_job::plain::io_reason;
use tellmark_job::record;
use tellmark_job::settings::SettingsError;

/// The exit codes, for scripts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// 0: all is well. Also when whoever was reading our output had enough.
    Fine = 0,
    /// 1: the answer is no: rules have errors, or an example does
    /// not come out as expected.
    No = 1,
    /// 2: wrong use: an option there is none of, words the rules do not know, a
    /// folder that is not a job.
    Misuse = 2,
    /// 3: something could not be read or written.
    Disk = 3,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}

/// Why a command stopped before its end.
#[derive(Debug)]
pub enum Stopped {
    /// Something must be said first, and nothing was written; [`Exit::No`].
    No(String),
    /// What was asked cannot be done; [`Exit::Misuse`].
    Misuse(String),
    /// Something could not be read or written; [`Exit::Disk`].
    Disk(String),
    /// Nobody reads the output any more; [`Exit::Fine`].
    Unread,
    /// Everything asked for was written down, and only the answer could not be printed.
    /// It ends as it would have, since whoever is told of a failure does it again.
    Untold {
        /// How it ends.
        exit: Exit,
        /// Why the answer could not be printed.
        why: String,
    },
}

impl From<io::Error> for Stopped {
    /// For what goes to the screen. Files have troubles of their own.
    fn from(why: io::Error) -> Stopped {
        // Windows' own number for a pipe that nobody reads any more.
        let is_closed = cfg!(windows) && why.raw_os_error() == Some(233);
        if is_closed || why.kind() == io::ErrorKind::BrokenPipe {
            Stopped::Unread
        } else {
            Stopped::Disk(format!("I could not print this: {}.", io_reason(&why)))
        }
    }
}

impl From<serde_json::Error> for Stopped {
    fn from(why: serde_json::Error) -> Stopped {
        Stopped::from(io::Error::from(why))
    }
}

impl From<house::RulesError> for Stopped {
    fn from(trouble: house::RulesError) -> Stopped {
        if trouble.is_of_the_disk() {
            Stopped::Disk(trouble.to_string())
        } else {
            Stopped::Misuse(trouble.to_string())
        }
    }
}

impl From<SettingsError> for Stopped {
    fn from(trouble: SettingsError) -> Stopped {
        Stopped::Disk(trouble.to_string())
    }
}

impl From<house::WorkshopError> for Stopped {
    fn from(trouble: house::WorkshopError) -> Stopped {
        match trouble {
            house::WorkshopError::Read(trouble) => trouble.into(),
            line @ house::WorkshopError::Line { .. } => Stopped::Misuse(line.to_string()),
        }
    }
}

impl From<record::JobError> for Stopped {
    fn from(trouble: record::JobError) -> Stopped {
        if trouble.is_of_the_disk() {
            Stopped::Disk(trouble.to_string())
        } else {
            Stopped::Misuse(trouble.to_string())
        }
    }
}
