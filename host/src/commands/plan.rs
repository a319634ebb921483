//! `tellmark plan`

use super::at_hand::{AtHand, unexpected};
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use crate::inspect::{self, After, Step, WorkPlan};
use crate::model::{Job, Model};
use crate::words::{self, figure, minutes, minutes_range};
use anstyle::Style;
use clap::Args;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::PathBuf;
use tellmark_core::pack::Force;

const STRONG: Style = Style::new().bold();
const FAINT: Style = Style::new().dimmed();

/// Say what to do, in an order that does not undo itself
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark plan walnut-chest\n  tellmark plan walnut-chest --why \
                        \"renew the slips\"\n\nA job that is not certain yet is marked \"perhaps\", \
                        with its chance where one sign decides it. Bench hours and waiting are \
                        counted apart: other work goes on while glue dries."
)]
pub struct Plan {
    /// The job's folder
    #[arg(value_name = "JOB")]
    job: PathBuf,
    /// Why this job stands where it does
    #[arg(long, value_name = "JOB OF THE PLAN")]
    why: Option<String>,
    /// Leave out what is not certain yet
    #[arg(long)]
    certain: bool,
}

impl Plan {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let at_hand = AtHand::open(&self.job, frame)?;
        let facts = at_hand.facts();
        let set_up = at_hand.set_up(&facts)?;
        let pack = at_hand.built()?.bytes.open().map_err(unexpected)?;
        let mut plan = inspect::plan(&set_up, pack).map_err(unexpected)?;
        if plan.clash.is_some() {
            let folder = self.job.display();
            return Err(Stopped::Misuse(format!(
                "The findings cannot all be true, so nothing can be planned. \
                 \"tellmark triage {folder}\" says which ones clash."
            )));
        }
        if self.certain {
            plan.steps.retain(|step| !step.certain.is_empty());
            for step in &mut plan.steps {
                step.perhaps.clear();
            }
        }
        let printed = Printed {
            model: at_hand.model(),
            plan: &plan,
        };
        if let Some(job) = &self.why {
            return printed.why(frame, job);
        }
        if frame.global.json {
            frame.print_json(&printed.as_json())?;
        } else {
            printed.print(frame)?;
        }
        Ok(Exit::Fine)
    }
}

struct Printed<'p> {
    model: &'p Model,
    plan: &'p WorkPlan,
}

impl Printed<'_> {
    fn job(&self, index: usize) -> Option<&Job> {
        self.model.jobs.get(index)
    }

    fn name(&self, index: usize) -> &str {
        self.job(index).map_or("?", |job| job.name.as_str())
    }

    fn print(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if self.plan.steps.is_empty() {
            writeln!(frame.out, "Nothing that was found calls for a job.")?;
            return Ok(());
        }
        for (i, step) in self.plan.steps.iter().enumerate() {
            self.print_step(frame, i + 1, step)?;
        }
        self.print_times(frame)?;
        self.print_needs(frame)?;
        self.print_trouble(frame)
    }

    fn print_step(&self, frame: &mut Frame, number: usize, step: &Step) -> Result<(), Stopped> {
        let Some(job) = self.job(step.job) else {
            return Ok(());
        };
        for &caution in &step.cautions {
            if let Some(caution) = self.plan.cautions.get(caution) {
                let word = if caution.stop { "Stop" } else { "Take care" };
                writeln!(
                    frame.out,
                    "      {STRONG}{word}:{STRONG:#} {}",
                    caution.text
                )?;
            }
        }
        if job.ask_owner {
            writeln!(
                frame.out,
                "      {STRONG}Hold:{STRONG:#} the owner decides before the next job."
            )?;
        }
        if step.waits[1] > 0 {
            writeln!(
                frame.out,
                "      {FAINT}{} from the start have been waited for by now{FAINT:#}",
                minutes_range(step.waits[0], step.waits[1])
            )?;
        }
        let perhaps = if step.certain.is_empty() {
            "perhaps "
        } else {
            ""
        };
        let takes = job
            .takes
            .as_ref()
            .map_or("time not known".to_owned(), words::takes);
        writeln!(
            frame.out,
            "{number:3}. {perhaps}{STRONG}{}{STRONG:#}{} {FAINT}({takes}{}){FAINT:#}",
            job.name,
            self.on(step),
            each(step)
        )?;
        let chances = perhaps_words(step);
        if !chances.is_empty() {
            writeln!(frame.out, "       {FAINT}{chances}{FAINT:#}")?;
        }
        Ok(())
    }

    /// ": drawer 2 and drawer 4", if it is done for parts.
    fn on(&self, step: &Step) -> String {
        let parts: Vec<&str> = step.certain.iter().map(String::as_str).collect();
        if parts.is_empty() {
            String::new()
        } else {
            format!(": {}", words::list(&parts))
        }
    }

    fn print_times(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let times = &self.plan.times;
        let span = |[least, usual, most]: [u32; 3]| {
            format!("{}, mostly {}", minutes_range(least, most), minutes(usual))
        };
        writeln!(frame.out, "\nBench time: {}", span(times.certain))?;
        if times.perhaps[2] > 0 {
            writeln!(
                frame.out,
                "  and if everything marked perhaps comes true: {} more",
                span(times.perhaps)
            )?;
        }
        if times.waits.certain[1] > 0 {
            let [least, most] = times.waits.certain;
            writeln!(frame.out, "Waiting: {}", minutes_range(least, most))?;
        }
        if times.untimed > 0 {
            writeln!(
                frame.out,
                "For {} the rules do not say what it takes.",
                words::some_of(
                    u32::try_from(times.untimed).unwrap_or(u32::MAX),
                    "job",
                    "jobs"
                )
            )?;
        }
        Ok(())
    }

    fn print_needs(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let certain = self.plan.steps.iter().filter(|s| !s.certain.is_empty());
        let needs: BTreeSet<&str> = certain
            .filter_map(|step| self.job(step.job))
            .flat_map(|job| job.needs.iter().map(String::as_str))
            .collect();
        if !needs.is_empty() {
            let needs: Vec<&str> = needs.into_iter().collect();
            writeln!(frame.out, "Materials: {}", needs.join(", "))?;
        }
        Ok(())
    }

    fn print_trouble(&self, frame: &mut Frame) -> Result<(), Stopped> {
        for (one, other) in &self.plan.at_odds {
            writeln!(
                frame.out,
                "\n{STRONG}Not both:{STRONG:#} the rules never plan to {} and to {} together. \
                 Decide which.",
                self.name(*one),
                self.name(*other)
            )?;
        }
        for (job, after) in &self.plan.against {
            writeln!(
                frame.out,
                "\nIt would be better to {} before you {}{}, but something else forbids it.",
                self.name(after.job),
                self.name(*job),
                because(after)
            )?;
        }
        Ok(())
    }

    /// Why a job stands where it does.
    fn why(&self, frame: &mut Frame, asked: &str) -> Result<Exit, Stopped> {
        let mut named: Vec<&Step> = self
            .plan
            .steps
            .iter()
            .filter(|step| self.name(step.job) == asked)
            .collect();
        if named.is_empty() {
            let has = |step: &&Step| self.name(step.job).contains(asked);
            named = self.plan.steps.iter().filter(has).collect();
        }
        let step = match named[..] {
            [step] => step,
            [] => {
                return Err(Stopped::Misuse(format!(
                    "No job of this plan is called \"{asked}\"."
                )));
            }
            _ => {
                let names: Vec<&str> = named.iter().map(|step| self.name(step.job)).collect();
                return Err(Stopped::Misuse(format!(
                    "\"{asked}\" could be any of these: {}.",
                    names.join("; ")
                )));
            }
        };
        let follow: Vec<(&Step, &After)> = self
            .plan
            .steps
            .iter()
            .filter_map(|later| {
                let after = later.after.iter().find(|after| after.job == step.job)?;
                Some((later, after))
            })
            .collect();
        if frame.global.json {
            let before: Vec<Value> = step.after.iter().map(|a| self.after_json(a)).collect();
            let after: Vec<Value> = follow
                .iter()
                .map(|(later, after)| {
                    json!({ "job": self.name(later.job), "because": after.because })
                })
                .collect();
            frame.print_json(
                &json!({ "job": self.name(step.job), "after": before, "before": after }),
            )?;
            return Ok(Exit::Fine);
        }
        writeln!(frame.out, "{STRONG}{}{STRONG:#}", self.name(step.job))?;
        if let Some(job) = step.needed_by {
            writeln!(
                frame.out,
                "  is done because \"{}\" needs it",
                self.name(job)
            )?;
        }
        for after in &step.after {
            writeln!(
                frame.out,
                "  {} \"{}\"{}",
                match after.force {
                    Force::Better => "better after",
                    _ => "after",
                },
                self.name(after.job),
                because(after)
            )?;
        }
        for (later, after) in follow {
            writeln!(
                frame.out,
                "  {} \"{}\"{}",
                match after.force {
                    Force::Better => "better before",
                    _ => "before",
                },
                self.name(later.job),
                because(after)
            )?;
        }
        if step.after.is_empty() {
            writeln!(
                frame.out,
                "  Nothing has to come before it; it stands in the order of the rules."
            )?;
        }
        Ok(Exit::Fine)
    }

    fn after_json(&self, after: &After) -> Value {
        json!({
            "job": self.name(after.job),
            "because": after.because,
            "advice": after.force == Force::Better,
        })
    }

    fn as_json(&self) -> Value {
        let steps: Vec<Value> = self
            .plan
            .steps
            .iter()
            .map(|step| {
                let job = self.job(step.job);
                let perhaps: Vec<Value> = step
                    .perhaps
                    .iter()
                    .map(|(part, chance)| json!({ "part": part, "chance": chance }))
                    .collect();
                let after: Vec<Value> = step.after.iter().map(|a| self.after_json(a)).collect();
                json!({
                    "job": self.name(step.job),
                    "certain": step.certain,
                    "perhaps": perhaps,
                    "takes": job.and_then(|j| j.takes).map(|t| [t.least, t.mostly, t.most]),
                    "needs": job.map(|j| &j.needs),
                    "ask_owner": job.is_some_and(|j| j.ask_owner),
                    "after": after,
                    "waits_before": step.waits,
                    "cautions": step
                        .cautions
                        .iter()
                        .filter_map(|&c| self.plan.cautions.get(c))
                        .map(|c| &c.text)
                        .collect::<Vec<_>>(),
                })
            })
            .collect();
        let times = &self.plan.times;
        json!({
            "steps": steps,
            "minutes": { "certain": times.certain, "perhaps": times.perhaps },
            "waits": times.waits.certain,
            "not_both": self
                .plan
                .at_odds
                .iter()
                .map(|(one, other)| [self.name(*one), self.name(*other)])
                .collect::<Vec<_>>(),
        })
    }
}

/// ", because …", if the rules say.
fn because(after: &After) -> String {
    match after.because.as_str() {
        "" => String::new(),
        because => format!(", because {because}"),
    }
}

/// " each", if it is done more than once.
fn each(step: &Step) -> &'static str {
    if step.certain.len() + step.perhaps.len() > 1 {
        " each"
    } else {
        ""
    }
}

/// "perhaps: drawer 1 (15 in 100) and drawer 3".
fn perhaps_words(step: &Step) -> String {
    let named: Vec<String> = step
        .perhaps
        .iter()
        .map(|(part, chance)| match chance {
            Some(chance) => format!("{part} ({})", figure(*chance)),
            None => part.clone(),
        })
        .collect();
    if named.is_empty() {
        return String::new();
    }
    let named: Vec<&str> = named.iter().map(String::as_str).collect();
    let word = if step.certain.is_empty() {
        "for"
    } else {
        "perhaps also"
    };
    format!("{word} {}", words::list(&named))
}
