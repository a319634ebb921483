//! `tellmark start` and `tellmark stop`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::open_job;
use super::shape::Shape;
use super::steps;
use super::typed::{as_argument, as_path};
use clap::Args;
use serde_json::json;
use std::path::PathBuf;
use tellmark_job::advice::timed;
use tellmark_job::record::{Running, Says};
use tellmark_language::AnswerReader;
use tellmark_language::words::minutes;

/// Start a clock for a job: how long it takes is noted by "stop"
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark start walnut-chest wax the runners\n  tellmark stop \
                        walnut-chest\n\nOne clock runs for a job at a time. What is no job of the \
                        rules is timed in your own words. Exit code 1 if one runs already."
)]
pub struct Start {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// What is worked on: the name of a job, part of it, its number in the plan shown last, or
    /// words of your own
    #[arg(required = true, value_name = "STEP")]
    step: Vec<String>,
}

/// Stop the clock, and note how long it ran
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark stop walnut-chest\n  tellmark stop walnut-chest --took \
                        \"2 h\"\n\nNothing is ticked by it; it says how to. A clock that ran over \
                        night is asked about: exit code 1 until --took says how long it was."
)]
pub struct Stop {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// How long it was, instead of what the clock says
    #[arg(long, value_name = "TIME")]
    took: Option<String>,
}

impl Start {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut open = open_job(&self.job, frame)?;
        if let Some(running) = open.job.running() {
            return Err(Stopped::No(format!(
                "A clock runs already on \"{}\", since {}. Nothing was noted. To stop it:\n  \
                 tellmark stop {}{}",
                running.job,
                running.since,
                as_path(&self.job),
                frame.rules_argument()
            )));
        }
        let asked = steps::typed(&open.job, self.step.join(" ").trim())?;
        let (job, is_known) = match steps::any_job(open.model(), &asked) {
            Ok(job) => (steps::name(open.model(), job).to_owned(), true),
            Err(_) => (asked, false),
        };
        if job.is_empty() || job.contains([';', '\n']) {
            return Err(Stopped::Misuse(
                "Say what is worked on in a few words, without a semicolon. Nothing was noted."
                    .to_owned(),
            ));
        }
        let says = Says::Started { job };
        let added = open.job.append_entry(&says, frame.now)?;
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                return frame.print_json(
                    Shape::START,
                    json!({
                        "line": added.number,
                        "text": says.to_string(),
                        "is_a_job_of_the_rules": is_known,
                    }),
                );
            }
            writeln!(frame.out, "Line {}: {}", added.number, says.shown())?;
            if !is_known {
                writeln!(
                    frame.out,
                    "No one job of the rules is called so: it is timed as work of your own."
                )?;
            }
            Ok(())
        })
    }
}

impl Stop {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut open = open_job(&self.job, frame)?;
        let Some(running) = open.job.running() else {
            return Err(Stopped::No(
                "No clock runs for this job. Nothing was noted.".to_owned(),
            ));
        };
        let reader = AnswerReader::new(open.model());
        let took = match &self.took {
            Some(took) if reader.time(took).is_none() => {
                return Err(Stopped::Misuse(format!(
                    "I cannot read \"{took}\" as a time: \"25 min\", \"1 h 30\", \"1:30\" or \
                     \"half an hour\" would do. Nothing was noted."
                )));
            }
            Some(took) => took.trim().to_owned(),
            None => self.by_the_clock(&running, frame)?,
        };
        let job = running.job.clone();
        let says = Says::Stopped { job, took };
        let added = open.job.append_entry(&says, frame.now)?;
        let all = timed(open.model(), &open.job, &running.job);
        let own = match steps::any_job(open.model(), &running.job) {
            Ok(_) => "",
            Err(_) => " --own",
        };
        let tick = format!(
            "tellmark done {} {}{own} --took {}{}",
            as_path(&self.job),
            as_argument(&running.job),
            as_argument(&minutes(all)),
            frame.rules_argument()
        );
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                return frame.print_json(
                    Shape::STOP,
                    json!({
                        "line": added.number,
                        "text": says.to_string(),
                        "minutes_in_all": all,
                        "tick": tick,
                    }),
                );
            }
            writeln!(frame.out, "Line {}: {}", added.number, says.shown())?;
            writeln!(
                frame.out,
                "{} on it in all. Nothing is ticked. When it is done:\n  {tick}",
                minutes(all)
            )?;
            Ok(())
        })
    }

    /// How long the clock ran; asked about where the clock alone cannot say.
    fn by_the_clock(&self, running: &Running, frame: &Frame) -> Result<String, Stopped> {
        let now = frame.offset.to_timestamp(frame.now).ok();
        let ran = now.and_then(|now| running.minutes(now, frame.offset));
        match ran {
            Some(ran) => Ok(minutes(ran)),
            None => Err(Stopped::No(format!(
                "The clock on \"{}\" was started {}, and not stopped that day. Nothing was noted. \
                 Say how long was worked:\n  tellmark stop {} --took \"2 h\"{}",
                running.job,
                running.since,
                as_path(&self.job),
                frame.rules_argument()
            ))),
        }
    }
}
