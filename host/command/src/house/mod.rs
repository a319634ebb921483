//! `tellmark house`

mod begin;

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use super::whose;
use clap::{Args, Subcommand};
use serde_json::json;
use std::path::{Path, PathBuf};
use tellmark_job::house::{self, By, Families, For, VARIABLE};
use tellmark_job::record::{Job, Says};
use tellmark_job::settings::Settings;

/// What a house is called that was given no name.
const NO_NAME: &str = "our bench";

/// Say whose rules are gone by and why, or set whose
#[derive(Args, Debug)]
#[command(
    disable_help_subcommand = true,
    args_conflicts_with_subcommands = true,
    after_help = "Examples:\n  tellmark house\n  tellmark house walnut-chest\n  tellmark house begin my-rules\n  tellmark house set \
                  my-rules\n  tellmark house adopt walnut-chest\n\nRules are looked for in this \
                  order, and the first place that names some is gone by: --rules; the line \"rules \
                  folder:\" of the job's job.txt, which \"open --rules\" writes; TELLMARK_RULES; \
                  what \"house set\" set; a folder \"house\" beside the job or above it. A folder \
                  that is named and not there is an error."
)]
pub struct House {
    /// The job's folder; if you do not say, what is gone by in this folder
    #[arg(value_name = "JOB")]
    job: Option<PathBuf>,
    #[command(subcommand)]
    what: Option<What>,
}

#[derive(Subcommand, Debug)]
enum What {
    /// Begin a house: rules, prices and the head of your papers, to be filled in
    Begin {
        /// The folder to write them into
        #[arg(value_name = "DIR")]
        folder: PathBuf,
        /// What the house is called
        #[arg(long, value_name = "NAME", default_value = NO_NAME)]
        name: String,
    },
    /// Go by the rules in this folder, wherever nothing else is named
    Set {
        /// The folder of your rules
        #[arg(value_name = "DIR")]
        folder: PathBuf,
    },
    /// Forget what was set
    Forget,
    /// Note that a job goes by the rules that it is read by now, and no longer by those that
    /// it was begun by
    Adopt {
        /// The job's folder
        #[arg(value_name = "JOB")]
        job: PathBuf,
    },
}

impl House {
    /// What it is about.
    pub(super) fn about(&self) -> For<'_> {
        match (&self.job, &self.what) {
            (Some(job), _) | (None, Some(What::Adopt { job })) => For::Job(job),
            _ => For::Folder(Path::new(".")),
        }
    }

    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        match &self.what {
            None => self.show(frame),
            Some(What::Begin { folder, name }) => begin::begin(folder, name, frame),
            Some(What::Set { folder }) => set(frame, folder),
            Some(What::Forget) => forget(frame),
            Some(What::Adopt { job }) => adopt(frame, job),
        }
    }

    fn show(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let begun = match &self.job {
            Some(job) => Job::open(job)?.header().house.clone(),
            None => None,
        };
        let reading = frame.reading()?;
        let house = frame.house()?.clone();
        if frame.global.json {
            frame.print_json(Shape::HOUSE, json!({ "begun_by": begun }))?;
            return Ok(Exit::Fine);
        }
        let name = house::name(&reading);
        let rules = whose::in_words(&name, reading.model.version, &house);
        writeln!(frame.out, "The rules of {rules}.")?;
        if let Some(begun) = begun.filter(|begun| *begun != name) {
            writeln!(frame.out, "The job was begun by the rules of {begun}.")?;
        }
        if house.by == By::Nothing {
            writeln!(
                frame.out,
                "These are the standard rules. To begin your own: tellmark house begin DIR"
            )?;
        }
        // All of it is said already.
        frame.has_written.set(true);
        Ok(Exit::Fine)
    }
}

fn set(frame: &mut Frame, folder: &Path) -> Result<Exit, Stopped> {
    let reading = house::read(Some(folder), &Families::All)?;
    let folder = std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned());
    let Some(text) = folder.to_str().filter(|text| !text.contains(['\r', '\n'])) else {
        return Err(Stopped::Misuse(format!(
            "The name of the folder {} cannot be kept as plain text. Give it another name. \
             Nothing was set.",
            folder.display()
        )));
    };
    if text.trim() != text {
        return Err(Stopped::Misuse(format!(
            "The name of the folder \"{text}\" ends with a space, which a setting would lose. Give \
             it another name. Nothing was set."
        )));
    }
    let mut settings = Settings::read()?;
    settings.rules = Some(folder.clone());
    let file = settings.write()?;
    let name = house::name(&reading);
    frame.tell(Exit::Fine, |frame| {
        if frame.global.json {
            return frame.print_json(
                Shape::HOUSE_SET,
                json!({
                    "set": folder.display().to_string(),
                    "house": name,
                    "settings": file.display().to_string(),
                }),
            );
        }
        writeln!(
            frame.out,
            "From now on I go by the rules of {name} ({}), wherever nothing else is named. It is \
             noted in {}.",
            folder.display(),
            file.display()
        )?;
        if std::env::var_os(VARIABLE).is_some_and(|set| !set.is_empty()) {
            writeln!(frame.out, "{VARIABLE} is set as well, and goes before it.")?;
        }
        Ok(())
    })
}

fn forget(frame: &mut Frame) -> Result<Exit, Stopped> {
    let mut settings = Settings::read()?;
    let was = settings.rules.take().map(|was| was.display().to_string());
    if was.is_some() {
        settings.write()?;
    }
    let exit = match was {
        Some(_) => Exit::Fine,
        None => Exit::No,
    };
    frame.tell(exit, |frame| {
        if frame.global.json {
            return frame.print_json(Shape::HOUSE_FORGOTTEN, json!({ "forgotten": was }));
        }
        match &was {
            Some(was) => writeln!(frame.out, "Forgotten: {was}. The folder is as it was.")?,
            None => writeln!(
                frame.out,
                "No rules were set, so there is nothing to forget."
            )?,
        }
        Ok(())
    })
}

fn adopt(frame: &mut Frame, folder: &Path) -> Result<Exit, Stopped> {
    let mut open = super::open_job::open_job(folder, frame)?;
    let house = open.house();
    let goes_by = open.goes_by().map(str::to_owned);
    if goes_by.as_ref() == Some(&house) {
        frame.has_written.set(true);
        if frame.global.json {
            frame.print_json(Shape::LINE, json!({ "line": null, "text": null }))?;
        } else {
            writeln!(
                frame.out,
                "The job goes by the rules of {house} already. Nothing was noted."
            )?;
        }
        return Ok(Exit::Fine);
    }
    let named = open.job.header().rules.clone();
    if let (Some(named), true) = (named, frame.house()?.by != By::Job) {
        return Err(Stopped::Misuse(format!(
            "The line \"rules folder: {named}\" of job.txt names the rules of this job, and would go \
             on doing so. Change it to the folder of the other rules, or take it out; then adopt \
             them. Nothing was noted."
        )));
    }
    let says = Says::Rules {
        house,
        version: open.model().version,
    };
    let added = open.job.append_entry(&says, frame.now)?;
    frame.notices.adopted();
    frame.tell(Exit::Fine, |frame| {
        frame.print_line(added.number, &says)?;
        if let Some(before) = goes_by.as_ref().filter(|_| !frame.global.json) {
            writeln!(
                frame.out,
                "Up to now it went by the rules of {before}; what only they know is not gone by \
                 any more."
            )?;
        }
        Ok(())
    })
}
