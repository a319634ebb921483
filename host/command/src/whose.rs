//! Whose rules a command went by, and what it must not keep quiet about them: a job that was
//! begun by other rules, and lines of its record that these do not know.

use super::exit::{Exit, Stopped};
use super::frame::{Frame, Global};
use super::typed::as_path;
use serde_json::{Value, json};
use std::cell::RefCell;
use std::path::PathBuf;
use tellmark_job::advice::Progress;
use tellmark_job::house::{self, Amiss, By, For, House, Places, VARIABLE};
use tellmark_job::open_job::OpenJob;
use tellmark_job::settings::Settings;
use tellmark_language::Reading;
use tellmark_language::ink::Ink;

const FAINT: Ink = Ink::FAINT;
const STRONG: Ink = Ink::STRONG;

/// Where a house may be named, for this run of the program.
pub(super) fn places(global: &Global) -> Result<Places, Stopped> {
    let asked = global.rules.clone();
    // What was asked for goes before everything, and needs no settings to be read.
    if asked.is_some() {
        return Ok(Places {
            asked,
            ..Places::default()
        });
    }
    let environment = std::env::var_os(VARIABLE).filter(|folder| !folder.is_empty());
    Ok(Places {
        asked,
        environment: environment.map(PathBuf::from),
        user: Settings::read()?.rules,
    })
}

/// What is to be said at the end.
#[derive(Debug, Default)]
pub struct Notices {
    /// What the rules are called, and their version.
    rules: RefCell<Option<(String, u32)>>,
    /// By whose rules the job was begun, or has gone by since.
    begun: RefCell<Option<String>>,
    /// What is amiss between the two.
    amiss: RefCell<Amiss>,
}

impl Notices {
    /// These are the rules.
    pub(super) fn go_by(&self, reading: &Reading) {
        let named = (house::name(reading), reading.model.version);
        self.rules.replace(Some(named));
    }

    /// This is the job.
    pub(super) fn heed(&self, job: &OpenJob) {
        self.begun.replace(job.goes_by().map(str::to_owned));
        self.amiss.replace(job.amiss(&Progress::default()));
    }

    /// The job goes by these rules from now on.
    pub(super) fn adopted(&self) {
        self.amiss.borrow_mut().other = None;
    }

    /// A line of the record that the rules do not know.
    pub(super) fn left_out(&self, line: usize) {
        self.amiss.borrow_mut().not_known.insert(line);
    }

    /// Whether something is amiss, so that a page which shows results is not the whole truth.
    pub(super) fn is_amiss(&self) -> bool {
        self.amiss.borrow().is_any()
    }

    /// What is amiss, with what to do about it.
    fn sentences(&self, frame: &Frame<'_>) -> Vec<String> {
        let amiss = self.amiss.borrow();
        let mut said = amiss.sentences();
        if amiss.other.is_some() {
            let (For::Job(folder) | For::Folder(folder)) = frame.about;
            said.push(format!(
                "If it is to go by these from now on: tellmark house adopt {}{}",
                as_path(folder),
                frame.rules_argument()
            ));
        }
        said
    }
}

/// "our bench, version 3 (rules, named by --rules)".
pub(super) fn in_words(name: &str, version: u32, house: &House) -> String {
    let version = match version {
        0 => String::new(),
        version => format!(", version {version}"),
    };
    let folder = house.folder.as_ref();
    let folder = folder.map_or(String::new(), |folder| format!("{}, ", folder.display()));
    format!("{name}{version} ({folder}{})", house.by.words())
}

/// Whose rules were gone by, if they are not the standard ones and are to be named.
pub(super) fn line(frame: &Frame<'_>) -> Option<String> {
    let house = frame.house.get()?;
    let is_as_typed = house.by == By::Asked && matches!(frame.about, For::Folder(_));
    if house.by == By::Nothing || is_as_typed {
        return None;
    }
    let rules = frame.notices.rules.borrow();
    let (name, version) = rules.as_ref()?;
    let begun = frame.notices.begun.borrow();
    let begun = match begun.as_deref() {
        Some(begun) if begun == house::standard_title() && begun != name => {
            "; the job was begun by the standard ones"
        }
        _ => "",
    };
    let rules = in_words(name, *version, house);
    Some(format!("By the rules of {rules}{begun}."))
}

/// Says at the end whose rules were gone by, and what is amiss; a page that shows results
/// ends with [`Exit::No`] then. What was written down is written down.
pub(super) fn close(frame: &mut Frame<'_>, exit: Exit) -> Result<Exit, Stopped> {
    let has_written = frame.has_written.get();
    if !frame.global.json {
        let amiss = frame.notices.sentences(frame);
        let line = line(frame).filter(|_| !has_written);
        let out = match has_written {
            true => &mut *frame.err,
            false => &mut *frame.out,
        };
        if !has_written && (line.is_some() || !amiss.is_empty()) {
            writeln!(out)?;
        }
        for sentence in &amiss {
            writeln!(out, "{STRONG}{sentence}{STRONG:#}")?;
        }
        if let Some(line) = line {
            writeln!(out, "{FAINT}{line}{FAINT:#}")?;
        }
    }
    Ok(match exit {
        Exit::Fine if !has_written && frame.notices.is_amiss() => Exit::No,
        exit => exit,
    })
}

/// The same for programs: entries of an answer.
pub(super) fn add_to(value: &mut Value, frame: &Frame<'_>) {
    let (Some(house), Some(entries)) = (frame.house.get(), value.as_object_mut()) else {
        return;
    };
    if let Some((name, version)) = &*frame.notices.rules.borrow() {
        let folder = house.folder.as_ref().map(|f| f.display().to_string());
        let rules =
            json!({ "house": name, "version": version, "folder": folder, "found_by": house.by });
        entries.insert("rules".to_owned(), rules);
        let amiss = frame.notices.sentences(frame);
        entries.insert("notices".to_owned(), json!(amiss));
    }
}
