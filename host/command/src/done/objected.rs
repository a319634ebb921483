//! What speaks against a tick is said, and --anyway taken.

use super::super::choice;
use super::super::exit::Stopped;
use super::super::frame::Frame;
use super::super::open_job::cannot_set_up;
use super::super::typed::as_argument;
use super::meant::Meant;
use super::{Done, JobView, Progress, WorkPlan};
use tellmark_job::advice::{Objection, objections};

impl Done {
    /// Says what speaks against a tick; it stops there unless somebody wants it all the same.
    pub(super) fn objected(
        &self,
        view: &JobView<'_>,
        progress: &Progress,
        plan: &WorkPlan,
        meant: &Meant,
        frame: &mut Frame,
    ) -> Result<(), Stopped> {
        let parts = view.parts_called(&meant.parts).map_err(cannot_set_up)?;
        let found = objections(
            view.model(),
            plan,
            progress,
            (meant.index, &meant.job),
            &parts,
            frame.moment(),
        );
        if found.is_empty() {
            return Ok(());
        }
        let said: Vec<String> = found.iter().map(|one| one.sentence()).collect();
        if self.anyway {
            for sentence in &said {
                writeln!(frame.err, "{sentence}")?;
            }
            return Ok(());
        }
        if choice::can_ask(frame) {
            for sentence in &said {
                writeln!(frame.out, "{sentence}")?;
            }
            let all_the_same = ["tick it all the same".to_owned()];
            if choice::choose(frame, &all_the_same)?.is_some() {
                return Ok(());
            }
            return Err(Stopped::No("Nothing was noted.".to_owned()));
        }
        let again = self.again(frame, &meant.job, &meant.parts, " --anyway");
        let on = meant.parts.iter();
        let on: String = on
            .map(|part| format!(" --part {}", as_argument(part)))
            .collect();
        let asked = match found.contains(&Objection::NotAsked) {
            true => format!(
                " If the owner agreed:\n  {} --agreed {}{on}\n",
                frame.command("brief", &self.job),
                as_argument(&meant.job)
            ),
            false => " ".to_owned(),
        };
        Err(Stopped::No(format!(
            "{}\nNothing was noted.{asked}If it was done all the same:\n  {again}",
            said.join("\n")
        )))
    }
}
