//! `tellmark repair`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use super::typed::as_path;
use clap::Args;
use serde_json::{Value, json};
use std::path::PathBuf;
use tellmark_job::record::{Amiss, Mended, PHOTOS_FOLDER};
use tellmark_language::words::some_of;

/// List what stopped programs and slips left amiss in a job's folder, and mend it
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark repair walnut-chest\n  tellmark repair walnut-chest \
                        --write\n\nNo photograph and no line of the record is ever deleted: what \
                        has no place goes into the folder set-aside. What only you can know, such \
                        as what a photograph shows, is left to you. Use it when no other program \
                        is at work on the job.\n\nExit code 1 if something is amiss, or is left so."
)]
pub struct Repair {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// Mend what can be mended
    #[arg(long)]
    write: bool,
}

impl Repair {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = frame.job(&self.job)?;
        let told: Vec<(Amiss, Option<Mended>)> = if self.write {
            let mended = job.mend(frame.now)?;
            mended.into_iter().map(|(a, m)| (a, Some(m))).collect()
        } else {
            job.amiss()?.into_iter().map(|a| (a, None)).collect()
        };
        let is_left =
            |(_, mended): &(_, Option<Mended>)| matches!(mended, None | Some(Mended::Not));
        let exit = if told.iter().any(is_left) {
            Exit::No
        } else {
            Exit::Fine
        };
        frame.tell(exit, |frame| {
            if frame.global.json {
                let amiss: Vec<Value> = told.iter().map(|(a, m)| self.as_json(a, m)).collect();
                return frame.print_json(Shape::REPAIR, json!({ "amiss": amiss }));
            }
            self.print(frame, &told)
        })
    }

    fn print(&self, frame: &mut Frame, told: &[(Amiss, Option<Mended>)]) -> Result<(), Stopped> {
        if told.is_empty() {
            writeln!(frame.out, "Nothing is amiss in {}.", self.job.display())?;
            return Ok(());
        }
        for (amiss, mended) in told {
            let done = match mended {
                Some(Mended::SetAside(path)) => format!("It is now {path}."),
                Some(Mended::Removed) => "It is removed.".to_owned(),
                Some(Mended::Marked) => "It is marked as cut short.".to_owned(),
                Some(Mended::OnRecord) => "It has its line now.".to_owned(),
                Some(Mended::Not) | None => self.to_do(amiss),
            };
            writeln!(frame.out, "{} {done}", what(amiss))?;
        }
        let can_mend = |(amiss, mended): &(Amiss, Option<Mended>)| {
            mended.is_none()
                && !matches!(
                    amiss,
                    Amiss::NoLine { .. } | Amiss::NoPhoto { .. } | Amiss::NoPaper { .. }
                )
        };
        let number = told.iter().filter(|one| can_mend(one)).count();
        if number > 0 {
            writeln!(
                frame.out,
                "To mend {} of this: tellmark repair {} --write",
                some_of(u32::try_from(number).unwrap_or(u32::MAX), "thing", "things"),
                self.folder()
            )?;
        }
        Ok(())
    }

    fn folder(&self) -> String {
        as_path(&self.job)
    }

    /// What is to be done about it.
    fn to_do(&self, amiss: &Amiss) -> String {
        match amiss {
            Amiss::Leftover { .. } => "It can be set aside.".to_owned(),
            Amiss::Lock => "It can be removed.".to_owned(),
            Amiss::NotEnded { .. } => "If it is whole, open the file and press Enter behind it; \
                                       else it can be marked as cut short."
                .to_owned(),
            Amiss::NoLine { file } => {
                let path = self.job.join(PHOTOS_FOLDER).join(file);
                format!(
                    "Say what it shows: tellmark photo {} {} --part \"...\" --shows \"...\"",
                    self.folder(),
                    as_path(&path)
                )
            }
            Amiss::NoPhoto { .. } | Amiss::NoPaper { changed: false, .. } => {
                "Put it back under that name.".to_owned()
            }
            Amiss::PaperWithoutLine(_) => "It can be given its line.".to_owned(),
            Amiss::NoPaper { changed: true, .. } => "Put it back as it was.".to_owned(),
        }
    }

    fn as_json(&self, amiss: &Amiss, mended: &Option<Mended>) -> Value {
        let (what, line) = match amiss {
            Amiss::Leftover { .. } => ("leftover", None),
            Amiss::Lock => ("lock", None),
            Amiss::NotEnded { line, .. } => ("not ended", Some(line)),
            Amiss::NoLine { .. } => ("no line", None),
            Amiss::NoPhoto { line, .. } => ("no photograph", Some(line)),
            Amiss::PaperWithoutLine(_) => ("paper without a line", None),
            Amiss::NoPaper {
                line,
                changed: false,
                ..
            } => ("no paper", Some(line)),
            Amiss::NoPaper { line, .. } => ("paper changed", Some(line)),
        };
        let now = match mended {
            Some(Mended::SetAside(path)) => Some(path),
            _ => None,
        };
        json!({
            "what": what,
            "file": amiss.place(),
            "line": line,
            "mended": !matches!(mended, None | Some(Mended::Not)),
            "now": now,
        })
    }
}

/// What is amiss, in a sentence.
fn what(amiss: &Amiss) -> String {
    let place = amiss.place();
    match amiss {
        Amiss::Leftover { .. } => format!("{place} was left by a program that was stopped."),
        Amiss::Lock => {
            format!("{place} was left by a program that was stopped, and locks nothing.")
        }
        Amiss::NotEnded { line, text } => {
            format!("Line {line} of {place} has no end, and may have been cut short: {text}.")
        }
        Amiss::NoLine { .. } | Amiss::PaperWithoutLine(_) => {
            format!("No line of the record names {place}.")
        }
        Amiss::NoPaper {
            line,
            changed: true,
            ..
        } => format!("{place} is not as it was written, by line {line} of the record."),
        Amiss::NoPhoto { line, .. } | Amiss::NoPaper { line, .. } => {
            format!("Line {line} of the record names {place}, which is not there.")
        }
    }
}
