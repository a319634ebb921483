//! Where rules come from: the standard ones inside the program, and the house's
//! own folder ([`Places::find`] says which).

mod amiss;
mod families;
mod kept;
mod search;
mod workshop;

pub use amiss::Amiss;
pub use families::Families;
pub use search::{By, For, House, NEAR, Places, VARIABLE, as_seen_from};
pub use workshop::{WORKSHOP, Workshop, WorkshopError, workshop};

use crate::plain::{self, io_reason};
use crate::record;
use crate::scripts;
use std::fmt;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use tellmark_compile::check::{Checked, Depth, check};
use tellmark_language::words::list;
use tellmark_language::{Level, Reading, SourceFile};

/// The standard rules, file name and text, sorted by name.
const STANDARD: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/standard_rules.rs"));

/// The price list that stands in for a house's own.
const STANDARD_PRICES: &str = include_str!("../../../../rules/prices.rhai");

/// How the name of a file of rules ends.
pub const ENDING: &str = ".rules.txt";

/// The longest file of rules that is read; a house's whole book is a hundredth
/// of it.
const LONGEST: usize = 16 * 1024 * 1024;

/// Why rules could not be read from the disk.
#[derive(Debug)]
pub enum RulesError {
    /// The folder or file named is not there.
    NotThere(PathBuf),
    /// There is no file of rules in the folder.
    NoRules(PathBuf),
    /// A file is named that is none of rules.
    NotRules(PathBuf),
    /// A file is not plain text.
    NotText {
        /// The file.
        path: PathBuf,
        /// The line with the first bad byte, from 1.
        line: usize,
    },
    /// A file is longer than any house's rules.
    TooLong(PathBuf),
    /// The system would not read it.
    Read {
        /// The file or folder.
        path: PathBuf,
        /// Why.
        why: io::Error,
    },
    /// A setting names rules that cannot be used.
    Named {
        /// The setting.
        by: By,
        /// What is wrong with them.
        why: Box<RulesError>,
        /// What to do about it.
        remedy: &'static str,
    },
}

impl fmt::Display for RulesError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RulesError::NotThere(path) => {
                write!(f, "There is no folder of rules {}.", path.display())?;
                // "C:\my rules\" --json: Windows takes the rest of the line into the name.
                match path.to_string_lossy().contains('"') {
                    true => f.write_str(
                        " Its name has a quotation mark in it: a backslash before the closing \
                         mark keeps that from closing. Leave the last backslash out.",
                    ),
                    false => Ok(()),
                }
            }
            RulesError::NoRules(path) => write!(
                f,
                "There are no rules in {}: no file there has a name that ends in {ENDING}.",
                path.display()
            ),
            RulesError::NotRules(path) => write!(
                f,
                "{} is no file of rules: the name of one ends in {ENDING}. Name the folder with \
                 your rules.",
                path.display()
            ),
            RulesError::NotText { path, line } => write!(
                f,
                "I could not read {}: line {line} is not plain text. Save the file as UTF-8.",
                path.display()
            ),
            RulesError::Named { by, why, remedy } => {
                write!(f, "{why} These are the rules {}. {remedy}", by.words())
            }
            RulesError::TooLong(path) => write!(
                f,
                "I could not read {}: it is far too long for a file of rules.",
                path.display()
            ),
            RulesError::Read { path, why } => {
                write!(
                    f,
                    "I could not read {}: {}.",
                    path.display(),
                    io_reason(why)
                )
            }
        }
    }
}

impl std::error::Error for RulesError {}

impl RulesError {
    /// Whether the disk or the system is to blame, rather than what was asked.
    #[must_use]
    pub fn is_of_the_disk(&self) -> bool {
        match self {
            RulesError::NotThere(_) | RulesError::NoRules(_) | RulesError::NotRules(_) => false,
            RulesError::NotText { .. } | RulesError::TooLong(_) | RulesError::Read { .. } => true,
            RulesError::Named { why, .. } => why.is_of_the_disk(),
        }
    }
}

/// The standard rules that ship with the program, for chests and tables; [`Families`] has
/// the others.
#[must_use]
pub fn standard() -> Vec<SourceFile> {
    STANDARD
        .iter()
        .map(|(name, text)| SourceFile {
            name: (*name).to_owned(),
            text: (*text).to_owned(),
            standard: true,
        })
        .collect()
}

/// What a set of rules is called: by its own title; if it has none, by that of the standard
/// rules and the names of the house's own files.
#[must_use]
pub fn name(reading: &Reading) -> String {
    let title = &reading.model.title;
    let files = reading.files.iter().filter(|file| !file.standard);
    let own: Vec<&str> = files.map(|file| file.name.as_str()).collect();
    match own.is_empty() || *title != standard_title() {
        true => title.clone(),
        false => format!("{title}, with {}", list(&own)),
    }
}

/// "the standard bench": what the standard rules call themselves. Every house builds on them.
#[must_use]
pub fn standard_title() -> &'static str {
    let mut texts = STANDARD.iter().map(|(_, text)| *text);
    let title = texts.find_map(|text| text.split("House rules for ").nth(1));
    title.and_then(|rest| rest.split(',').next()).unwrap_or("")
}

/// The standard rules with these families, and all `*.rules.txt` of the house's folder, by
/// name. Instead of a folder, one file of rules will do.
pub fn files(house: Option<&Path>, families: &Families) -> Result<Vec<SourceFile>, RulesError> {
    let mut files = standard();
    files.extend(families.files());
    if let Some(house) = house {
        for path in paths(house)? {
            files.push(file(&path)?);
        }
    }
    Ok(files)
}

/// The same files, read.
pub fn read(house: Option<&Path>, families: &Families) -> Result<Reading, RulesError> {
    Ok(tellmark_language::read(files(house, families)?))
}

/// The rules checked and built, for work that goes by them. What was built once
/// is kept, so that the next time is quicker.
pub fn ready(house: Option<&Path>, families: &Families) -> Result<Checked, RulesError> {
    let files = files(house, families)?;
    let key = kept::key(&files);
    if let Some(checked) = kept::find(&key, &files) {
        return Ok(checked);
    }
    let checked = check(tellmark_language::read(files), Depth::Build);
    kept::keep(&key, &checked);
    Ok(checked)
}

/// The families that a job reads: those that its piece needs. A house's rules may speak of
/// others; then all of them are read.
///
/// # Errors
/// As [`ready`].
pub fn families(house: Option<&Path>, piece: &str) -> Result<Families, RulesError> {
    let needed = Families::of_piece(piece);
    let is_enough = house.is_none()
        || needed == Families::All
        || ready(house, &needed)?.count(Level::Stop) == 0;
    Ok(if is_enough { needed } else { Families::All })
}

/// A script of the house, by its name, if its folder has it.
pub fn script(house: Option<&Path>, name: &str) -> Result<Option<SourceFile>, RulesError> {
    let path = house.map(|folder| folder.join(name));
    match path.filter(|path| path.is_file()) {
        Some(path) => Ok(Some(file(&path)?)),
        None => Ok(None),
    }
}

/// The standard price list with nothing invented in it: the figures are to be filled in.
#[must_use]
pub fn prices_to_fill_in() -> String {
    const INVENTED: [(&str, &str); 4] = [
        (
            "// EVERY FIGURE IN THIS FILE IS INVENTED, and so is the currency. Copy the file into\n// \
             the folder of your own rules, as prices.rhai, and put your own figures in.\n",
            "// Put your own figures in. Until HOUR has one, nothing is priced.\n",
        ),
        (
            "const CURRENCY = \"crowns\"; ",
            "const CURRENCY = \"\";       ",
        ),
        ("const HOUR = 40.00;", "const HOUR = ();   "),
        ("const MATERIALS = 0.15;", "const MATERIALS = 0.0; "),
    ];
    INVENTED
        .iter()
        .fold(STANDARD_PRICES.to_owned(), |text, (invented, own)| {
            text.replacen(invented, own, 1)
        })
}

/// Whether words can stand after "House rules for".
#[must_use]
pub fn is_name_of_a_house(name: &str) -> bool {
    let title = SourceFile {
        name: "house.rules.txt".to_owned(),
        text: format!("House rules for {name}, version 1.\n"),
        standard: false,
    };
    let reading = tellmark_language::read(vec![title]);
    reading.is_usable() && !name.trim().is_empty()
}

/// The price list of the house; the standard one, with its invented figures, if it
/// has none.
pub fn prices(house: Option<&Path>) -> Result<SourceFile, RulesError> {
    let own = script(house, scripts::PRICES)?;
    Ok(own.unwrap_or_else(|| SourceFile {
        name: scripts::PRICES.to_owned(),
        text: STANDARD_PRICES.to_owned(),
        standard: true,
    }))
}

/// A sum of some files, by which it is seen whether they are the same still.
#[must_use]
pub fn checksum(files: &[SourceFile]) -> u32 {
    let texts: Vec<String> = files
        .iter()
        .map(|file| format!("{}\n{}\n{}", file.name, file.text.len(), file.text))
        .collect();
    record::checksum(texts.concat().as_bytes())
}

fn paths(house: &Path) -> Result<Vec<PathBuf>, RulesError> {
    let trouble = |why: io::Error| {
        if why.kind() == io::ErrorKind::NotFound {
            RulesError::NotThere(house.to_owned())
        } else {
            RulesError::Read {
                path: house.to_owned(),
                why,
            }
        }
    };
    if fs::metadata(house).map_err(trouble)?.is_file() {
        return match house.to_string_lossy().ends_with(ENDING) {
            true => Ok(vec![house.to_owned()]),
            false => Err(RulesError::NotRules(house.to_owned())),
        };
    }
    let mut paths = Vec::new();
    let mut has_script = false;
    for entry in fs::read_dir(house).map_err(trouble)? {
        let path = entry.map_err(trouble)?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        has_script |= name == scripts::PRICES || name == scripts::CHECKS;
        // What begins with a stop is hidden: an editor's or a system's, not the house's.
        if name.ends_with(ENDING) && !name.starts_with('.') {
            paths.push(path);
        }
    }
    // A house may go by the standard rules, and have prices of its own.
    if paths.is_empty() && !has_script {
        return Err(RulesError::NoRules(house.to_owned()));
    }
    paths.sort();
    Ok(paths)
}

fn file(path: &Path) -> Result<SourceFile, RulesError> {
    let bytes = plain::read(path).map_err(|why| RulesError::Read {
        path: path.to_owned(),
        why,
    })?;
    if bytes.len() > LONGEST {
        return Err(RulesError::TooLong(path.to_owned()));
    }
    let text = String::from_utf8(bytes).map_err(|not_text| {
        let good = not_text.utf8_error().valid_up_to();
        let before = not_text.as_bytes().get(..good).unwrap_or_default();
        RulesError::NotText {
            path: path.to_owned(),
            line: 1 + before.iter().filter(|b| **b == b'\n').count(),
        }
    })?;
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    Ok(SourceFile {
        name: name.into_owned(),
        text: text
            .strip_prefix('\u{feff}')
            .map_or(text.clone(), str::to_owned),
        standard: false,
    })
}
