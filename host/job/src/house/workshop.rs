//! `workshop.txt`: what stands at the head of the papers that an owner gets. It lies beside
//! the house's rules, a `label: text` a line, and everything in it may be left out.

use super::RulesError;
use crate::plain;
use serde::Serialize;
use std::fmt;
use std::io;
use std::path::Path;
use tellmark_language::near::nearest;

/// The file.
pub const WORKSHOP: &str = "workshop.txt";

/// The longest text that a line may have: more does not fit the head of a page.
const LONGEST: usize = 120;
/// The longest file that is read, in bytes.
const LARGEST: usize = 16 * 1024;

/// Who the papers come from.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Workshop {
    /// `name:`
    pub name: String,
    /// `trade:`, in small words beside the name: "furniture mended".
    pub trade: String,
    /// `address:`
    pub address: String,
    /// `telephone:`
    pub telephone: String,
    /// `email:`
    pub email: String,
    /// `note:`, a line at the foot of the page: "Not registered for VAT."
    pub note: String,
}

/// Why `workshop.txt` could not be used.
#[derive(Debug)]
pub enum WorkshopError {
    /// The disk.
    Read(RulesError),
    /// A line.
    Line {
        /// The file and the line, from 1: "house/workshop.txt, line 3".
        place: String,
        /// The line as it stands.
        words: String,
        /// What is wrong with it, and what to do.
        why: String,
    },
}

impl fmt::Display for WorkshopError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            WorkshopError::Read(why) => why.fmt(f),
            WorkshopError::Line { place, words, why } => {
                write!(f, "{place}\n\n    {words}\n{why}")
            }
        }
    }
}

impl std::error::Error for WorkshopError {}

/// The workshop, from the folder of its rules; nothing of it where there is no such file.
///
/// # Errors
/// If there is one that cannot be read, or a line of it says nothing that is known.
pub fn workshop(house: Option<&Path>) -> Result<Workshop, WorkshopError> {
    let Some(path) = house.map(|house| house.join(WORKSHOP)) else {
        return Ok(Workshop::default());
    };
    let read = |why| {
        WorkshopError::Read(RulesError::Read {
            path: path.clone(),
            why,
        })
    };
    let text = match plain::read_text(&path) {
        Err(why)
            if matches!(
                why.kind(),
                io::ErrorKind::NotFound | io::ErrorKind::NotADirectory
            ) =>
        {
            return Ok(Workshop::default());
        }
        text => text.map_err(read)?,
    };
    if text.len() > LARGEST {
        return Err(WorkshopError::Read(RulesError::TooLong(path)));
    }
    Workshop::read(&text).map_err(|(line, why)| WorkshopError::Line {
        place: format!("{}, line {line}", path.display()),
        words: text
            .lines()
            .nth(line - 1)
            .unwrap_or_default()
            .trim()
            .to_owned(),
        why,
    })
}

impl Workshop {
    /// "Elm Yard, furniture mended; 3 Mill Lane; 01632 960 000", what there is of it.
    #[must_use]
    pub fn in_one_line(&self) -> String {
        let name = [&self.name, &self.trade].map(String::as_str);
        let name = name.into_iter().filter(|said| !said.is_empty());
        let name = name.collect::<Vec<_>>().join(", ");
        let said = [&name, &self.address, &self.telephone, &self.email];
        let said = said.into_iter().filter(|said| !said.is_empty());
        said.cloned().collect::<Vec<_>>().join("; ")
    }

    /// Reads the lines; a line that begins with # is a remark.
    fn read(text: &str) -> Result<Workshop, (usize, String)> {
        let mut workshop = Workshop::default();
        for (at, line) in (1..).zip(text.trim_start_matches('\u{feff}').lines()) {
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            workshop.take(line).map_err(|why| (at, why))?;
        }
        Ok(workshop)
    }

    fn take(&mut self, line: &str) -> Result<(), String> {
        let Some((label, said)) = line.split_once(':') else {
            return Err(format!(
                "A line of it is a label, a colon and a text, such as \"telephone: 01632 960 000\". \
                 The labels are: {}.",
                LABELS.join(", ")
            ));
        };
        let (label, said) = (label.trim().to_lowercase(), said.trim());
        let field = match label.as_str() {
            "name" => &mut self.name,
            "trade" => &mut self.trade,
            "address" => &mut self.address,
            "telephone" => &mut self.telephone,
            "email" => &mut self.email,
            "note" => &mut self.note,
            _ => {
                let meant = nearest(&label, LABELS);
                return Err(match meant {
                    Some(near) => format!("Did you mean \"{}:\"?", near.words[0]),
                    None => format!(
                        "I do not know \"{label}:\". The labels are: {}.",
                        LABELS.join(", ")
                    ),
                });
            }
        };
        if !field.is_empty() {
            return Err(format!(
                "\"{label}:\" stands twice. Put everything in one line, with commas."
            ));
        }
        if said.chars().count() > LONGEST {
            return Err(format!(
                "This is too long for the head of a page. Say it in {LONGEST} letters and spaces."
            ));
        }
        said.clone_into(field);
        Ok(())
    }
}

/// Every label.
const LABELS: [&str; 6] = ["name", "trade", "address", "telephone", "email", "note"];
