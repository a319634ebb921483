//! What a user has set once and for all: the folder of their rules, and their name.
//!
//! It is a file of plain text, one `label: text` a line, in the user's own folder of
//! configurations (`XDG_CONFIG_HOME` or `~/.config`; `%APPDATA%` on Windows).

use crate::plain::{self, io_reason};
use etcetera::BaseStrategy as _;
use std::fmt::{self, Write as _};
use std::io;
use std::path::{Path, PathBuf};

const LABEL_RULES: &str = "rules";
const LABEL_ME: &str = "me";

/// The settings of a user.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Settings {
    /// The folder of the user's rules.
    pub rules: Option<PathBuf>,
    /// The name that lines of a record are noted under.
    pub me: Option<String>,
    /// Everything else that the file says, left as it is.
    other: Vec<String>,
}

/// The settings could not be read or written.
#[derive(Debug)]
pub enum SettingsError {
    /// There is no folder for them: the system names none.
    NoFolder,
    /// The file could not be read.
    Read {
        /// The file.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
    /// The file could not be written; it is as it was.
    Write {
        /// The file.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
}

impl fmt::Display for SettingsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (what, path, why) = match self {
            SettingsError::NoFolder => {
                return f.write_str(
                    "The system names no folder for your settings, so nothing can be kept there. \
                     Use --rules and --by instead.",
                );
            }
            SettingsError::Read { path, why } => ("read", path, why),
            SettingsError::Write { path, why } => ("write", path, why),
        };
        write!(
            f,
            "I could not {what} your settings, {}: {}.",
            path.display(),
            io_reason(why)
        )
    }
}

impl std::error::Error for SettingsError {}

impl Settings {
    /// The file in which they are kept; `None` if the system names no folder for it.
    #[must_use]
    pub fn file() -> Option<PathBuf> {
        let base = etcetera::choose_base_strategy().ok()?;
        Some(base.config_dir().join("tellmark").join("settings.txt"))
    }

    /// Reads the settings; nothing is set if there is no file.
    ///
    /// # Errors
    /// If there is a file that cannot be read.
    pub fn read() -> Result<Settings, SettingsError> {
        let Some(path) = Settings::file() else {
            return Ok(Settings::default());
        };
        match plain::read_text(&path) {
            Ok(text) => Ok(Settings::from_text(&text)),
            Err(why) if is_not_there(&why) => Ok(Settings::default()),
            Err(why) => Err(SettingsError::Read { path, why }),
        }
    }

    /// Writes them, and says where.
    ///
    /// # Errors
    /// The file is as it was then.
    pub fn write(&self) -> Result<PathBuf, SettingsError> {
        let path = Settings::file().ok_or(SettingsError::NoFolder)?;
        let folder = path.parent().unwrap_or(Path::new("."));
        let written = std::fs::create_dir_all(folder)
            .and_then(|()| plain::write_whole(&path, self.to_text().as_bytes()));
        match written {
            Ok(()) => Ok(path),
            Err(why) => Err(SettingsError::Write { path, why }),
        }
    }

    fn from_text(text: &str) -> Settings {
        let mut settings = Settings::default();
        for line in text.trim_start_matches('\u{feff}').lines() {
            let (label, said) = line.split_once(':').unwrap_or((line, ""));
            let said = said.trim();
            match label.trim().to_lowercase().as_str() {
                LABEL_RULES if !said.is_empty() && settings.rules.is_none() => {
                    settings.rules = Some(PathBuf::from(said));
                }
                LABEL_ME if !said.is_empty() && settings.me.is_none() => {
                    settings.me = Some(said.to_owned());
                }
                _ => settings.other.push(line.to_owned()),
            }
        }
        settings
    }

    fn to_text(&self) -> String {
        let mut text = String::new();
        // Writing to a string cannot fail.
        if let Some(rules) = &self.rules {
            let _ = writeln!(text, "{LABEL_RULES}: {}", rules.display());
        }
        if let Some(me) = &self.me {
            let _ = writeln!(text, "{LABEL_ME}: {me}");
        }
        for line in &self.other {
            let _ = writeln!(text, "{line}");
        }
        text
    }
}

fn is_not_there(why: &io::Error) -> bool {
    matches!(
        why.kind(),
        io::ErrorKind::NotFound | io::ErrorKind::NotADirectory
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_known_stays_as_it_is() {
        let text = "# mine\nme: A. Joiner\nshelf: left\nrules: /srv/our rules\n";
        let mut settings = Settings::from_text(text);
        assert_eq!(settings.me.as_deref(), Some("A. Joiner"));
        assert_eq!(settings.rules.as_deref(), Some(Path::new("/srv/our rules")));
        settings.rules = None;
        assert_eq!(settings.to_text(), "me: A. Joiner\n# mine\nshelf: left\n");
    }
}
