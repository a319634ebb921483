//! `tellmark done`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::{cannot_set_up, open_job, progress};
use super::steps;
use clap::Args;
use serde_json::json;
use std::path::PathBuf;
use tellmark_compile::set_up::SetUp;
use tellmark_job::advice::Progress;
use tellmark_job::open_job::JobView;
use tellmark_job::record::{New, Says};
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, Found, Sure};
use tellmark_language::words;

/// Tick a job of the plan as done, with what it took and what came to light
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark done walnut-chest wax the runners --took \"25 minutes\"\n  \
                        tellmark done walnut-chest reglue the drawer --part \"drawer 2\" --found \
                        \"drawer 2 is loose in the dovetails\"\n  tellmark done walnut-chest wax the \
                        runners --part \"drawer 2\" --undo\n\nWhat was found, or not found, when \
                        the piece was opened goes into the record as certain, and every chance \
                        and the plan follow it."
)]
pub struct Done {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// Which job of the plan: its name, part of its name, or its number there
    #[arg(required = true, value_name = "STEP")]
    step: Vec<String>,
    /// Only for this part; give it again for more [default: all that the plan names]
    #[arg(long, value_name = "PART")]
    part: Vec<String>,
    /// What it took at the bench, in all
    #[arg(long, value_name = "TIME")]
    took: Option<String>,
    /// A hidden fault that was there indeed
    #[arg(long, value_name = "FAULT")]
    found: Vec<String>,
    /// A hidden fault that was looked for and not there
    #[arg(long, value_name = "FAULT")]
    not_found: Vec<String>,
    /// A fault that the work put right, besides those that the rules say it mends; then
    /// the work need not be a job of the rules
    #[arg(long, value_name = "FAULT")]
    mends: Vec<String>,
    /// Take the tick back
    #[arg(long, conflicts_with_all = ["took", "found", "not_found", "mends"])]
    undo: bool,
}

impl Done {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = open_job(&self.job, frame)?;
        let (opened_up, tick) = {
            let view = job.view()?;
            let progress = progress(&view, frame)?;
            let opened_up = self.opened_up(&view.set_up())?;
            let tick = self.ticked(&view, &progress, frame)?;
            (opened_up, tick)
        };
        let findings = opened_up.iter().map(|text| New::Finding(text));
        let new: Vec<New<'_>> = findings.chain([New::Entry(&tick)]).collect();
        let last = job.job.append_all(&new, frame.now)?.number;
        let lines: Vec<String> = opened_up.into_iter().chain([tick.to_string()]).collect();
        let numbered = (last + 1 - lines.len()..).zip(&lines);
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                let lines: Vec<_> = numbered
                    .map(|(number, text)| json!({ "line": number, "text": text }))
                    .collect();
                return frame.print_json(json!({ "noted": lines }));
            }
            for (number, line) in numbered {
                writeln!(frame.out, "Line {number}: {line}")?;
            }
            Ok(())
        })
    }

    /// What was found and not found, as certain findings.
    fn opened_up(&self, set_up: &SetUp<'_>) -> Result<Vec<String>, Stopped> {
        let yes = self.found.iter().map(|text| (text, true));
        let no = self.not_found.iter().map(|text| (text, false));
        yes.chain(no)
            .map(|(text, yes)| finding(set_up, text, yes, Sure::Certain))
            .collect()
    }

    fn ticked(
        &self,
        view: &JobView<'_>,
        progress: &Progress,
        frame: &mut Frame,
    ) -> Result<Says, Stopped> {
        let set_up = view.set_up();
        let model = set_up.model;
        let asked = self.step.join(" ");
        let parts = self.named_parts(&set_up)?;
        if self.undo {
            let own = || progress.done().find(|told| told.what.job == asked);
            let job = match steps::any_job(model, &asked) {
                Ok(job) => steps::name(model, job).to_owned(),
                Err(unknown) => own().map(|told| told.what.job.clone()).ok_or(unknown)?,
            };
            if !progress.done().any(|told| told.what.job == job) {
                return Err(Stopped::Misuse(format!(
                    "\"{job}\" was not ticked, so there is nothing to take back."
                )));
            }
            return Ok(Says::NotDone { job, parts });
        }
        let took = self.took.as_deref().unwrap_or_default().trim().to_owned();
        if !took.is_empty() && AnswerReader::new(model).time(&took).is_none() {
            return Err(Stopped::Misuse(format!(
                "I cannot read \"{took}\" as a time: \"25 min\", \"1 h 30\", \"1:30\" or \"half an \
                 hour\" would do. Nothing was noted."
            )));
        }
        let mends = self.mended(&set_up)?;
        let is_one_s_own = !mends.is_empty() && steps::any_job(model, &asked).is_err();
        if is_one_s_own && asked.parse::<usize>().is_err() {
            return self.own_work(&asked, parts, took, mends);
        }
        let (job, planned) = self.meant(view, progress, frame)?;
        Ok(Says::Done {
            job: steps::name(model, job).to_owned(),
            parts: if parts.is_empty() { planned } else { parts },
            took,
            mends,
        })
    }

    /// The job that is meant, and the parts on which the plan calls for it. What was done
    /// is done, whether it was planned or not: but then it must be said on which part.
    fn meant(
        &self,
        view: &JobView<'_>,
        progress: &Progress,
        frame: &mut Frame,
    ) -> Result<(usize, Vec<String>), Stopped> {
        let (model, asked) = (view.open.model(), self.step.join(" "));
        let plan = view.plan(progress).map_err(cannot_set_up)?;
        let not_planned = match steps::step(model, &plan, &asked) {
            Ok(step) => {
                if step.to_ask {
                    writeln!(
                        frame.err,
                        "The owner was to be asked first, and the record has no answer: \
                         \"tellmark brief {} --agreed ...\" notes one.",
                        self.job.display()
                    )?;
                }
                let perhaps = step.perhaps.iter().map(|(part, _)| part);
                let called = if step.certain.is_empty() {
                    perhaps.cloned().collect()
                } else {
                    step.certain.clone()
                };
                return Ok((step.job, called));
            }
            Err(stopped) => stopped,
        };
        if asked.parse::<usize>().is_ok() {
            return Err(not_planned);
        }
        match steps::any_job(model, &asked) {
            Err(_) => Err(not_planned),
            Ok(job) if !self.part.is_empty() => Ok((job, Vec::new())),
            Ok(job) => Err(Stopped::Misuse(format!(
                "The plan does not ask to {}. If it was done all the same, say on which part: \
                 --part \"...\".",
                steps::name(model, job)
            ))),
        }
    }

    /// Work that is no job of the rules, in the words of whoever did it.
    fn own_work(
        &self,
        words: &str,
        parts: Vec<String>,
        took: String,
        mends: Vec<String>,
    ) -> Result<Says, Stopped> {
        let job = words.trim().to_owned();
        if job.is_empty() || job.contains([';', '\n']) {
            return Err(Stopped::Misuse(
                "Say what was done in a few words, without a semicolon. Nothing was noted."
                    .to_owned(),
            ));
        }
        Ok(Says::Done {
            job,
            parts,
            took,
            mends,
        })
    }

    /// What the work put right besides what the rules say, in their words.
    fn mended(&self, set_up: &SetUp<'_>) -> Result<Vec<String>, Stopped> {
        self.mends
            .iter()
            .map(|text| finding(set_up, text, true, Sure::Ordinary))
            .collect()
    }

    /// The parts given, in the words of the rules.
    fn named_parts(&self, set_up: &SetUp<'_>) -> Result<Vec<String>, Stopped> {
        self.part
            .iter()
            .map(|part| super::brief::known_part(set_up, part))
            .collect()
    }
}

/// What was typed of a part, as the line of a finding.
fn finding(set_up: &SetUp<'_>, text: &str, yes: bool, sure: Sure) -> Result<String, Stopped> {
    let reader = AnswerReader::new(set_up.model).about(set_up.order.kind);
    let (part, state) = reader
        .state(text)
        .map_err(|message| Stopped::Misuse(message.said()))?;
    let fact = Fact {
        at: part.at,
        part,
        found: Found::State { state, yes, sure },
    };
    tellmark_job::record::has_part(set_up.model, set_up.order, set_up.facts, &fact)
        .map_err(|none| Stopped::Misuse(format!("{none} Nothing was noted.")))?;
    Ok(words::fact_line(set_up.model, &fact))
}
