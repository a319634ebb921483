//! `job.txt`: what the piece is.

use super::error::JobError;
use jiff::civil::DateTime;
use std::fmt::Write as _;
use std::path::Path;
use tellmark_language::words::list;

/// The layout this tool writes and knows.
const LAYOUT: &str = "1";
const LABEL_LAYOUT: &str = "job folder";
const LABEL_PIECE: &str = "piece";
const LABEL_OPENED: &str = "opened";
const LABEL_HOUSE: &str = "house rules";
const LABEL_VERSION: &str = "version";
const LABEL_RULES: &str = "rules folder";
const LABEL_OWNER: &str = "owner";
const LABEL_CALLED: &str = "called";

/// What `job.txt` says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Header {
    /// "chest of drawers with 4 drawers".
    pub piece: String,
    /// When the job was opened, if it says.
    pub opened: Option<DateTime>,
    /// Whose rules were in force, if it says.
    pub house: Option<String>,
    /// Their version, if it says.
    pub version: Option<u32>,
    /// The folder of the rules that the job goes by, as seen from its own, if it says.
    pub rules: Option<String>,
    /// Everything else, label and text, as somebody wrote it.
    pub other: Vec<(String, String)>,
}

impl Header {
    /// A header for a job opened now under these rules.
    #[must_use]
    pub fn new(piece: &str, opened: DateTime, house: &str, version: u32) -> Header {
        Header {
            piece: piece.to_owned(),
            opened: Some(opened),
            house: (!house.is_empty()).then(|| house.to_owned()),
            version: (version > 0).then_some(version),
            rules: None,
            other: Vec::new(),
        }
    }

    /// What the piece is called where the rules have another word for it: "linen press", of a
    /// cupboard.
    #[must_use]
    pub fn called(&self) -> Option<&str> {
        self.label(LABEL_CALLED)
    }

    /// The piece by its name, with what the rules call it: "linen press (cupboard with 2 cupboard
    /// drawers)".
    #[must_use]
    pub fn piece_said(&self) -> String {
        match self.called() {
            Some(called) => format!("{called} ({})", self.piece),
            None => self.piece.clone(),
        }
    }

    /// Says what the piece is called.
    pub fn set_called(&mut self, called: &str) {
        self.other
            .push((LABEL_CALLED.to_owned(), called.to_owned()));
    }

    /// Whose piece it is, if it says: "A. Linden and B. Ash" of two lines.
    #[must_use]
    pub fn owner(&self) -> Option<String> {
        self.all_of(&[LABEL_OWNER])
    }

    /// Says whose piece it is.
    pub fn set_owner(&mut self, owner: &str) {
        self.other.push((LABEL_OWNER.to_owned(), owner.to_owned()));
    }

    /// What stands after a label of somebody's own, "owner", if there is one.
    #[must_use]
    pub fn label(&self, label: &str) -> Option<&str> {
        let mut other = self.other.iter();
        let found = other.find(|(known, _)| known.to_lowercase() == label);
        found.map(|(_, said)| said.as_str())
    }

    /// What stands after labels of somebody's own, in every line that has one of them.
    #[must_use]
    pub fn all_of(&self, labels: &[&str]) -> Option<String> {
        let mut all: Vec<&str> = Vec::new();
        for (label, said) in &self.other {
            let is_one = labels.contains(&label.to_lowercase().as_str());
            if is_one && !all.contains(&said.as_str()) {
                all.push(said);
            }
        }
        (!all.is_empty()).then(|| list(&all))
    }

    /// The text of `job.txt`. Line ends inside a text become spaces.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = String::new();
        let mut line = |label: &str, said: &str| {
            // Of the name of a folder every space counts.
            let said = match label {
                LABEL_RULES => said.replace(['\r', '\n'], " "),
                _ => said.split_whitespace().collect::<Vec<_>>().join(" "),
            };
            // Writing to a string cannot fail.
            let _ = writeln!(text, "{label}: {said}");
        };
        line(LABEL_LAYOUT, LAYOUT);
        line(LABEL_PIECE, &self.piece);
        if let Some(opened) = self.opened {
            line(LABEL_OPENED, &opened.strftime("%Y-%m-%d %H:%M").to_string());
        }
        if let Some(house) = &self.house {
            line(LABEL_HOUSE, house);
        }
        if let Some(version) = self.version {
            line(LABEL_VERSION, &version.to_string());
        }
        if let Some(rules) = &self.rules {
            line(LABEL_RULES, rules);
        }
        for (label, said) in &self.other {
            line(label, said);
        }
        text
    }

    /// Reads `job.txt`. Only the piece must be there; a time or version that
    /// cannot be read is kept among the rest.
    pub(super) fn from_text(text: &str, path: &Path) -> Result<Header, JobError> {
        let mut piece = None;
        let mut header = Header {
            piece: String::new(),
            opened: None,
            house: None,
            version: None,
            rules: None,
            other: Vec::new(),
        };
        for line in text.trim_start_matches('\u{feff}').lines() {
            let Some((label, said)) = line.split_once(':') else {
                continue;
            };
            let (label, said) = (label.trim(), said.trim());
            if label.is_empty() || said.is_empty() || label.starts_with('#') {
                continue;
            }
            match label.to_lowercase().as_str() {
                LABEL_LAYOUT if said != LAYOUT => {
                    return Err(JobError::TooNew {
                        path: path.to_owned(),
                        layout: said.to_owned(),
                    });
                }
                LABEL_LAYOUT => continue,
                LABEL_PIECE if piece.is_none() => {
                    piece = Some(said.to_owned());
                    continue;
                }
                LABEL_HOUSE if header.house.is_none() => {
                    header.house = Some(said.to_owned());
                    continue;
                }
                LABEL_RULES if header.rules.is_none() => {
                    header.rules = Some(said.to_owned());
                    continue;
                }
                LABEL_OPENED if header.opened.is_none() => {
                    header.opened = DateTime::strptime("%Y-%m-%d %H:%M", said).ok();
                    if header.opened.is_some() {
                        continue;
                    }
                }
                LABEL_VERSION if header.version.is_none() => {
                    header.version = said.parse().ok();
                    if header.version.is_some() {
                        continue;
                    }
                }
                _ => {}
            }
            header.other.push((label.to_owned(), said.to_owned()));
        }
        header.piece = piece.ok_or_else(|| JobError::NoPiece(path.to_owned()))?;
        Ok(header)
    }
}
