//! `tellmark done`

mod meant;
mod objected;

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::{cannot_set_up, open_job, progress};
use super::shape::Shape;
use super::typed::{as_argument, as_path};
use clap::Args;
use meant::Meant;
use serde_json::json;
use std::collections::BTreeSet;
use std::path::PathBuf;
use tellmark_job::advice::{OwnWork, Progress, Told, WorkPlan, timed};
use tellmark_job::noting::Noting;
use tellmark_job::open_job::JobView;
use tellmark_job::record::{Entry, New, Says};
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, Found, Minutes, PartRef, StateId, Sure};
use tellmark_language::words::{self, list, list_some, minutes};

/// Tick a job of the plan as done, with what it took and what came to light
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark done walnut-chest wax the runners --took \"25 minutes\"\n  \
                        tellmark done walnut-chest 12 --took \"1 h 30\"\n  \
                        tellmark done walnut-chest reglue the drawer --part \"drawer 2\" --found \
                        \"drawer 2 is loose in the dovetails\"\n  tellmark done walnut-chest \"turn \
                        a new knob\" --own --took \"2 h\"\n  tellmark done walnut-chest wax the \
                        runners --part \"drawer 2\" --undo\n\nA number is that of the plan which \
                        was shown last; --plan names another. What is only perhaps called for is \
                        ticked where --part says so. What was timed by \"start\" and \"stop\" is \
                        what it took, unless --took says otherwise.\n\nWhat was found, or not \
                        found, when the piece was opened goes into the record as certain, and \
                        every chance and the plan follow it.\n\nExit code 1 if something must be \
                        said first: on which part, or --anyway. Then nothing was noted."
)]
pub struct Done {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// Which job of the plan: its name, part of its name, or its number there
    #[arg(required = true, value_name = "STEP")]
    step: Vec<String>,
    /// Only for this part; give it again for more [default: all that it is certain for]
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
    /// Work of your own that is no job of the rules
    #[arg(long)]
    own: bool,
    /// The number of the plan that a number is of [default: the one shown last]
    #[arg(long, value_name = "NUMBER")]
    plan: Option<u32>,
    /// Tick it though it was to come later, or the owner wanted it otherwise
    #[arg(long)]
    anyway: bool,
    /// Take the tick back
    #[arg(long, conflicts_with_all = ["took", "found", "not_found", "mends", "own", "anyway"])]
    undo: bool,
}

/// What is to be noted, and what is to be said of it.
struct Tick {
    says: Says,
    /// Sentences besides the lines that are noted.
    beside: Vec<String>,
}

impl Done {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = open_job(&self.job, frame)?;
        let (opened_up, tick) = {
            let view = job.view()?;
            let progress = progress(&view, frame)?;
            let opened_up = self.opened_up(&view)?;
            let tick = match self.undo {
                true => self.taken_back(&view, &progress)?,
                false => self.ticked(&view, &progress, frame)?,
            };
            (opened_up, tick)
        };
        let findings = opened_up.iter().map(|text| New::Finding(text));
        let new: Vec<New<'_>> = findings.chain([New::Entry(&tick.says)]).collect();
        let last = job.job.append_all(&new, frame.now)?.number;
        let said = match frame.global.json {
            true => tick.says.to_string(),
            false => tick.says.shown(),
        };
        let lines = opened_up.into_iter().chain([said]);
        let lines: Vec<String> = lines.collect();
        let numbered = (last + 1 - lines.len()..).zip(&lines);
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                let lines: Vec<_> = numbered
                    .map(|(number, text)| json!({ "line": number, "text": text }))
                    .collect();
                return frame.print_json(
                    Shape::DONE,
                    json!({ "noted": lines, "beside": tick.beside }),
                );
            }
            for (number, line) in numbered {
                writeln!(frame.out, "Line {number}: {line}")?;
            }
            for said in &tick.beside {
                writeln!(frame.out, "{said}")?;
            }
            Ok(())
        })
    }

    fn asked(&self) -> String {
        self.step.join(" ").trim().to_owned()
    }

    /// A job that is said to be done is not said to have found nothing to mend, but for --anyway.
    fn was_needed(&self, view: &JobView<'_>, meant: &Meant, frame: &Frame) -> Result<(), Stopped> {
        let job = meant.index.and_then(|job| view.model().jobs.get(job));
        let Some(job) = job.filter(|_| !self.anyway) else {
            return Ok(());
        };
        for text in &self.not_found {
            let (part, state) = stated(view, text)?;
            if !job.mends.contains(&state) {
                continue;
            }
            let found = Found::State {
                state,
                yes: false,
                sure: Sure::Certain,
            };
            let fact = Fact {
                at: part.at,
                part,
                found,
            };
            let line = words::fact_line(view.model(), &fact);
            return Err(Stopped::No(format!(
                "\"{}\" mends just what you say was not there: {line}. Nothing was noted. If it was \
                 not done, note what you saw:\n  {} {}\nIf it was done all the same:\n  {}",
                meant.job,
                frame.command("note", &self.job),
                as_argument(&line),
                self.again(frame, &meant.job, &meant.parts, " --anyway")
            )));
        }
        Ok(())
    }

    /// That what is ticked stands in none of the papers that the owner agreed to, if they agreed
    /// to any.
    fn in_no_paper(
        &self,
        view: &JobView<'_>,
        meant: &Meant,
        frame: &mut Frame,
    ) -> Result<Option<String>, Stopped> {
        let agreed = crate::quote::agreed(&view.open.job, frame)?;
        let missing: Vec<&str> = meant
            .parts
            .iter()
            .map(String::as_str)
            .filter(|part| agreed.is_any() && !agreed.has_price(&meant.job, part))
            .collect();
        let is_nowhere =
            meant.parts.is_empty() && agreed.is_any() && !agreed.has_price_anywhere(&meant.job);
        if missing.is_empty() && !is_nowhere {
            return Ok(None);
        }
        let on = match is_nowhere {
            true => String::new(),
            false => format!(" on {}", list(&missing)),
        };
        let progress = view.progress().map_err(cannot_set_up)?;
        let is_planned = |own: &Told<OwnWork>| own.what.job.eq_ignore_ascii_case(&meant.job);
        let is_known = view.model().jobs.iter().any(|job| job.name == meant.job);
        let (job, rules) = (as_path(&self.job), frame.rules_argument());
        let plan = match is_known || progress.own.iter().any(is_planned) {
            true => String::new(),
            false => format!(
                "\n  tellmark plan {job} --own {} --takes \"...\"{rules}",
                as_argument(&meant.job)
            ),
        };
        Ok(Some(format!(
            "No paper that the owner agreed to has a price for it{on}, and an invoice of what was \
             agreed leaves it out. For it to be charged, take the tick back, have a supplement \
             agreed, and tick it again:\n  tellmark done {job} {} --undo{rules}{plan}\n  {} \
             --supplement --keep",
            as_argument(&meant.job),
            frame.command("quote", &self.job)
        )))
    }

    /// What was found and not found, as certain findings.
    fn opened_up(&self, view: &JobView<'_>) -> Result<Vec<String>, Stopped> {
        let yes = self.found.iter().map(|text| (text, true));
        let no = self.not_found.iter().map(|text| (text, false));
        yes.chain(no)
            .map(|(text, yes)| finding(view, text, yes, Sure::Certain))
            .collect()
    }

    fn taken_back(&self, view: &JobView<'_>, progress: &Progress) -> Result<Tick, Stopped> {
        let asked = self.asked();
        let of_own = || progress.done().find(|told| told.what.job == asked);
        let job = match self.job_named(view, &asked) {
            Ok(job) => job,
            Err(unknown) => of_own().map(|told| told.what.job.clone()).ok_or(unknown)?,
        };
        if !progress.done().any(|told| told.what.job == job) {
            return Err(Stopped::Misuse(format!(
                "\"{job}\" was not ticked, so there is nothing to take back."
            )));
        }
        let parts = self.named_parts(view)?;
        let indices = view.parts_called(&parts).map_err(cannot_set_up)?;
        if !parts.is_empty() && !progress.is_ticked(&job, &indices) {
            return Err(Stopped::Misuse(format!(
                "\"{job}\" was not ticked for {}, so there is nothing to take back.",
                list(&parts)
            )));
        }
        Ok(Tick {
            says: Says::NotDone { job, parts },
            beside: Vec::new(),
        })
    }

    fn ticked(
        &self,
        view: &JobView<'_>,
        progress: &Progress,
        frame: &mut Frame,
    ) -> Result<Tick, Stopped> {
        let took = self.took(view)?;
        let mends = self.mended(view)?;
        let plan = view.plan(progress).map_err(cannot_set_up)?;
        let meant = self.meant(view, progress, &plan, frame)?;
        self.was_needed(view, &meant, frame)?;
        self.objected(view, progress, &plan, &meant, frame)?;
        let mut beside = meant.beside(&self.job);
        let took = match (took, self.as_timed(view, &meant.job)) {
            (took, None) => took,
            (took, Some(timed)) if took.is_empty() => {
                beside.push("The time is as it was timed.".to_owned());
                minutes(timed)
            }
            (took, Some(timed)) => {
                beside.push(format!("It was timed as {} in all.", minutes(timed)));
                took
            }
        };
        beside.extend(self.still_runs(view, &meant.job, frame));
        beside.extend(noted_since_undone(view, &meant.job, &meant.parts));
        beside.extend(self.in_no_paper(view, &meant, frame)?);
        Ok(Tick {
            says: Says::Done {
                job: meant.job,
                parts: meant.parts,
                took,
                mends,
            },
            beside,
        })
    }

    /// What it took, as it was typed; empty if it was not.
    fn took(&self, view: &JobView<'_>) -> Result<String, Stopped> {
        let took = self.took.as_deref().unwrap_or_default().trim().to_owned();
        if !took.is_empty() && AnswerReader::new(view.model()).time(&took).is_none() {
            return Err(Stopped::Misuse(format!(
                "I cannot read \"{took}\" as a time: \"25 min\", \"1 h 30\", \"1:30\" or \"half an \
                 hour\" would do. Nothing was noted."
            )));
        }
        Ok(took)
    }

    fn as_timed(&self, view: &JobView<'_>, job: &str) -> Option<Minutes> {
        let minutes = timed(view.model(), &view.open.job, job);
        (minutes > 0).then_some(minutes)
    }

    /// Says that a clock still runs on it.
    fn still_runs(&self, view: &JobView<'_>, job: &str, frame: &Frame) -> Option<String> {
        let running = view.open.job.running()?;
        let is_it = running.job.to_lowercase() == job.to_lowercase();
        is_it.then(|| {
            format!(
                "A clock still runs on it, since {}: tellmark stop {}{}",
                running.since,
                as_path(&self.job),
                frame.rules_argument()
            )
        })
    }

    /// What the work put right besides what the rules say, in their words.
    fn mended(&self, view: &JobView<'_>) -> Result<Vec<String>, Stopped> {
        self.mends
            .iter()
            .map(|text| finding(view, text, true, Sure::Ordinary))
            .collect()
    }

    /// The parts given, in the words of the rules.
    fn named_parts(&self, view: &JobView<'_>) -> Result<Vec<String>, Stopped> {
        self.part
            .iter()
            .map(|part| super::brief::known_part(view, part))
            .collect()
    }

    /// This command once more, for a job and parts that are named, and what else is added.
    fn again(&self, frame: &Frame, job: &str, parts: &[String], more: &str) -> String {
        let mut said = format!("tellmark done {} {}", as_path(&self.job), as_argument(job));
        let mut option = |name: &str, values: &[String]| {
            for value in values {
                said.push_str(&format!(" {name} {}", as_argument(value)));
            }
        };
        option("--part", parts);
        option("--took", self.took.as_slice());
        option("--found", &self.found);
        option("--not-found", &self.not_found);
        option("--mends", &self.mends);
        option("--by", frame.global.by.as_slice());
        for (flag, is_set) in [("--own", self.own), ("--anyway", self.anyway)] {
            if is_set {
                said.push_str(&format!(" {flag}"));
            }
        }
        said.push_str(more);
        said.push_str(&frame.rules_argument());
        said
    }
}

/// That what was noted after an earlier tick of the job for one of these parts, which was taken
/// back, counts as found before this one.
fn noted_since_undone(view: &JobView<'_>, job: &str, parts: &[String]) -> Option<String> {
    let ticked = undone_ticks(view.open.job.entries(), job, parts);
    let first = ticked.first()?;
    let findings = view.open.job.lines().iter().map(|line| line.number);
    let since: Vec<String> = findings
        .filter(|number| number > first)
        .map(|number| number.to_string())
        .collect();
    let ticked: Vec<String> = ticked.iter().map(usize::to_string).collect();
    let before = match ticked.as_slice() {
        [one] => format!("line {one}"),
        several => format!("lines {}", list(several)),
    };
    let (lines, counts) = match since.as_slice() {
        [] => return None,
        [one] => (format!("line {one}"), "counts"),
        several => (format!("lines {}", list(several)), "count"),
    };
    Some(format!(
        "It was ticked before, on {before}, and that was taken back. What was noted since \
         ({lines}) now {counts} as found before this work. What is so after it is to be noted again."
    ))
}

/// The lines that ticked a job for one of these parts, were taken back, and not ticked again.
fn undone_ticks(entries: &[Entry], job: &str, parts: &[String]) -> Vec<usize> {
    let is_it = |other: &String| other.to_lowercase() == job.to_lowercase();
    let mut undone = BTreeSet::new();
    for part in parts {
        let covers = |of: &[String]| of.is_empty() || of.contains(part);
        let (mut ticked, mut taken_back) = (None, None);
        for entry in entries {
            match &entry.says {
                Says::Done { job, parts, .. } if is_it(job) && covers(parts) => {
                    (ticked, taken_back) = (Some(entry.number), None);
                }
                Says::NotDone { job, parts } if is_it(job) && covers(parts) => {
                    taken_back = taken_back.or(ticked);
                }
                _ => {}
            }
        }
        undone.extend(taken_back);
    }
    undone.into_iter().collect()
}

impl Meant {
    /// Where the job may have been done as well, and is not ticked.
    fn beside(&self, folder: &std::path::Path) -> Vec<String> {
        if self.perhaps.is_empty() {
            return Vec::new();
        }
        let folder = as_path(folder);
        let first = self.perhaps.first().map_or("", String::as_str);
        vec![format!(
            "It is perhaps called for on {} as well, and not ticked there. If it was done there: \
             tellmark done {folder} {} --part {}",
            list_some(&self.perhaps, crate::plan::SOME),
            as_argument(&self.job),
            as_argument(first)
        )]
    }
}

/// What was typed of a part, as the line of a finding.
fn finding(view: &JobView<'_>, text: &str, yes: bool, sure: Sure) -> Result<String, Stopped> {
    let set_up = view.set_up();
    let (part, state) = stated(view, text)?;
    let fact = Fact {
        at: part.at,
        part,
        found: Found::State { state, yes, sure },
    };
    tellmark_job::record::has_part(set_up.model, set_up.order, set_up.facts, &fact)
        .map_err(|none| Stopped::Misuse(format!("{none} Nothing was noted.")))?;
    Ok(words::fact_line(set_up.model, &fact))
}

/// The one state that some words say of a part, in the words of the rules or of a note.
fn stated(view: &JobView<'_>, text: &str) -> Result<(PartRef, StateId), Stopped> {
    let model = view.model();
    let reader = AnswerReader::new(model).about(view.open.order.kind);
    // "Looks racked" is not what was found once it was open.
    let is_doubted = |fact: &Fact| {
        matches!(
            fact.found,
            Found::State {
                sure: Sure::Looks,
                ..
            }
        )
    };
    let facts = reader.facts(text).unwrap_or_default();
    if let Ok(exact) = reader.state(text)
        && !facts.iter().any(is_doubted)
    {
        return Ok(exact);
    }
    let heard = Noting::new(model, &view.open.job).hear(text);
    let is_whole = heard.heard.len() == 1 && heard.heard.iter().all(|one| one.dropped.is_empty());
    let clear: Vec<&Fact> = heard.found().collect();
    if let ([fact], true) = (clear.as_slice(), is_whole)
        && let Found::State {
            state,
            yes: true,
            sure: Sure::Ordinary | Sure::Certain,
        } = fact.found
    {
        return Ok((fact.part.clone(), state));
    }
    let choices = heard.choices();
    let readings = choices.iter().map(|reading| &reading.facts);
    let mut near: Vec<String> = Vec::new();
    for fact in facts.iter().chain(clear).chain(readings.flatten()) {
        let Found::State { state, .. } = fact.found else {
            continue;
        };
        let plainly = Fact {
            found: Found::State {
                state,
                yes: true,
                sure: Sure::Ordinary,
            },
            ..fact.clone()
        };
        let said = format!("\"{}\"", words::fact_line(model, &plainly));
        if near.len() < 3 && !near.contains(&said) {
            near.push(said);
        }
    }
    let near = match near.is_empty() {
        true => "Name the part and one thing of it: \"drawer 2 is stiff\".".to_owned(),
        false => format!("Did you mean {}?", words::list_or(&near)),
    };
    Err(Stopped::Misuse(format!(
        "I cannot tell what \"{text}\" says of which part. {near} Nothing was noted."
    )))
}
