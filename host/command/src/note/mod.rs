//! `tellmark note`

mod key;
mod lines;
mod quiet;
mod settle;
mod told;

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::typed::as_path;
use clap::Args;
use std::io::IsTerminal as _;
use std::path::{Path, PathBuf};
use tellmark_compile::check::Checked;
use tellmark_job::noting::Noting;
use tellmark_job::open_job::OpenJob;
use tellmark_job::record::{Job, Remarked, Says, When};
use tellmark_notes::Reading;
use told::Told;

pub(super) use key::{is_there, pressed};
pub(super) use told::print_sayables;

/// Note what was found, in your own words
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark note walnut-chest l/h runner of drawer 2 worn 3mm\n  \
                        tellmark note walnut-chest \"drawer 2: stiff, scraping, lock missing\"\n  \
                        tellmark note walnut-chest\n\nWith no words it is a place to work: a \
                        line a note, Tab for words, ? for what can be said.\n\nWhat is clear is \
                        written down in the words of the rules, with what you typed. What is \
                        not is kept as a remark, and the exit code is 1. To put something right, \
                        note it again: the latest line counts."
)]
pub struct Note {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// What was found; - reads a note a line from standard input
    #[arg(value_name = "FINDING")]
    finding: Vec<String>,
    /// Go through the remarks that no rule reads, and say what they could be
    #[arg(long, conflicts_with = "finding")]
    settle: bool,
    /// With --settle: the remark on this line only
    #[arg(long, value_name = "LINE", requires = "settle")]
    line: Option<usize>,
    /// With --line: take this reading; 0 to be done with the remark
    #[arg(long = "as", value_name = "NUMBER", requires = "line")]
    reading: Option<usize>,
}

impl Note {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        if self.settle {
            return settle::run(self, frame);
        }
        let words: Vec<&str> = self.finding.iter().map(String::as_str).collect();
        match words.as_slice() {
            [] if key::is_there() => quiet::run(&self.job, frame),
            [] => Err(Stopped::Misuse(
                "Say what was found, or give a note a line on standard input with \"-\". Nothing \
                 was noted."
                    .to_owned(),
            )),
            ["-"] => lines::run(&self.job, frame),
            // Notes of several words each are notes of their own, and so is a word ("wobbles") that
            // comes after them; single words are one note that nobody put between quotation marks.
            several => {
                let is_note = |words: &&str| words.trim().contains(char::is_whitespace);
                let notes = several.iter().take_while(|words| is_note(words)).count();
                let are_notes = notes == several.len() || (notes > 1 && notes + 1 == several.len());
                let between = if are_notes { "; " } else { " " };
                one(&self.job, &several.join(between), frame)
            }
        }
    }
}

/// A note that is given whole.
fn one(folder: &Path, typed: &str, frame: &mut Frame) -> Result<Exit, Stopped> {
    let mut job = frame.job(folder)?;
    let rules = frame.ready_or_warn()?;
    is_a_note(typed)?;
    let mut told = {
        let mut noting = Noting::new(&rules.reading.model, &job);
        note(&mut noting, &rules, &mut job, typed, frame, key::is_there())?
    };
    // With rules that have errors, or do not know the piece, this cannot be told.
    let open = OpenJob::open(folder, rules).ok();
    if let Some(open) = &open {
        told.leave_what_was_mended(open);
        frame.notices.heed(open);
    }
    frame.tell(told.exit(), |frame| {
        // A last line that was cut short has got its mark by now.
        for unread in job.unread() {
            writeln!(frame.err, "{unread}")?;
        }
        told.print(frame, folder, open.as_ref())
    })
}

/// Refuses what is no note at all.
fn is_a_note(typed: &str) -> Result<(), Stopped> {
    if typed.trim().is_empty() {
        return Err(Stopped::Misuse(
            "There are no words in this note. Nothing was noted.".to_owned(),
        ));
    }
    let begins = typed.split_whitespace().collect::<Vec<_>>().join(" ");
    if Says::read(&begins).is_some() {
        return Err(Stopped::Misuse(
            "That is no finding. What the owner wants is noted by \"tellmark brief\", what was \
             done by \"tellmark done\", a photograph by \"tellmark photo\", a remark by \
             \"tellmark remark\". Nothing was noted."
                .to_owned(),
        ));
    }
    Ok(())
}

/// Writes a note down, asking where there are several readings and somebody is there.
fn note(
    noting: &mut Noting<'_>,
    rules: &Checked,
    job: &mut Job,
    typed: &str,
    frame: &mut Frame,
    asks: bool,
) -> Result<Told, Stopped> {
    let (record, now) = (job.clone(), frame.now);
    let model = &rules.reading.model;
    let mut trouble = None;
    let mut noted = {
        let mut choose = |noting: &Noting<'_>, words: &str, readings: &mut Vec<Reading>| {
            noting.rank(rules, &record, usize::MAX, readings);
            if !asks {
                return None;
            }
            match key::choose(frame, model, (typed, words), readings) {
                Ok(chosen) => chosen,
                Err(why) => {
                    trouble = Some(why);
                    None
                }
            }
        };
        noting.write(job, typed, now, &mut choose)?
    };
    // The numbers that are shown are those that a reading is taken by later.
    for (line, left) in &mut noted.left {
        if !left.readings.is_empty() {
            let remarked = Remarked {
                number: *line,
                when: When::Unknown,
                remark: left.remark.clone(),
            };
            left.readings = settle::readings(noting, rules, job, &remarked);
        }
    }
    match trouble {
        Some(why) => Err(why),
        None => Ok(Told::of(model, job, typed, noted)),
    }
}

/// A job's folder and the rules, as a command shown to the user has them.
fn arguments(frame: &Frame, folder: &Path) -> (String, String) {
    (as_path(folder), frame.rules_argument())
}

/// Whether somebody sits at the terminal.
fn is_terminal() -> bool {
    std::io::stdin().is_terminal() && std::io::stdout().is_terminal()
}
