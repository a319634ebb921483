//! `tellmark plan`

mod hangs;
mod own;
mod why;

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::{cannot_set_up, open_job, progress};
use super::shape::Shape;
use super::typed::as_argument;
use super::{moments, quote, steps};
use clap::Args;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::PathBuf;
use tellmark_core::pack::Force;
use tellmark_job::advice::{
    After, LISTED, Now, OneOf, Progress, Quote, Step, WorkPlan, sets_until, waits,
};
use tellmark_job::limits::{Work, limits};
use tellmark_job::open_job::OpenJob;
use tellmark_job::papers::Agreed;
use tellmark_job::record::{Entry, Name, ShownStep};
use tellmark_language::Reading;
use tellmark_language::ink::Ink;
use tellmark_language::model::{Job, Model, Sureness};
use tellmark_language::words::{self, figure, minutes, minutes_range, reaches};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Say what to do, in an order that does not undo itself
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark plan walnut-chest\n  tellmark plan walnut-chest --why \
                        \"renew the slips\"\n  tellmark plan walnut-chest --why \"renew the \
                        slips\" --and \"fit new stops\"\n\nA job that is not called for yet \
                        is marked \"perhaps\", with its chance where one sign decides it. What is \
                        called for may rest on a fault that is only likely; \"tellmark quote\" says \
                        what is certain, whatever is hidden. Bench hours and waiting are counted apart: other work goes on while glue dries."
)]
pub struct Plan {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// Why this job stands where it does
    #[arg(long, value_name = "JOB OF THE PLAN")]
    why: Option<String>,
    /// With --why: why it stands before or after this one
    #[arg(long, value_name = "OTHER JOB", requires = "why")]
    and: Option<String>,
    /// Leave out what is only perhaps
    #[arg(long = "called-for", alias = "certain", conflicts_with = "all")]
    certain: bool,
    /// Everything that is perhaps called for, however unlikely
    #[arg(long)]
    all: bool,
    /// Plan work of your own that no rule calls for
    #[arg(long, value_name = "WORDS", requires = "takes", conflicts_with_all = ["why", "certain", "all"])]
    own: Option<String>,
    /// With --own: what it takes on each part
    #[arg(long, value_name = "TIME", requires = "own")]
    takes: Option<String>,
    /// With --own: where; give it again for more [default: the whole piece]
    #[arg(long, value_name = "PART", requires = "own")]
    part: Vec<String>,
    /// Work of your own that is not to be done after all
    #[arg(long, value_name = "WORDS", conflicts_with_all = ["why", "certain", "all", "own"])]
    not_own: Option<String>,
}

impl Plan {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        if self.own.is_some() || self.not_own.is_some() {
            return self.write_own(frame);
        }
        let job = open_job(&self.job, frame)?;
        let view = job.view()?;
        let progress = progress(&view, frame)?;
        let mut plan = view.plan(&progress).map_err(cannot_set_up)?;
        // What is said of a job here is what the quotation says of it.
        let quote = match plan.clash {
            None => view.quote(&progress).ok(),
            Some(_) => None,
        };
        if let Some(quote) = &quote {
            plan.go_by(quote, job.model());
        }
        if plan.clash.is_some() {
            let triage = frame.command("triage", &self.job);
            return Err(Stopped::Misuse(format!(
                "The findings cannot all be true, so nothing can be planned. \
                 To see which ones clash:\n  {triage}"
            )));
        }
        let before = plan.steps.len();
        let mut loose = Vec::new();
        if self.certain {
            loose = keep(&mut plan.steps, |step| !step.certain.is_empty());
            for step in &mut plan.steps {
                step.perhaps.clear();
                step.turns.retain(|turned| turned.is_known);
            }
        } else if !self.all && self.why.is_none() && !frame.global.json {
            loose = keep(&mut plan.steps, is_worth_a_line);
        }
        let not_certain = before - plan.steps.len();
        let number = match self.why {
            Some(_) => None,
            None => kept(&job, &plan, frame)?,
        };
        let agreed = quote::agreed(&job.job, frame)?;
        let printed = Printed {
            number,
            missing: agreed.missing(&plan, job.model()),
            folder: as_argument(&self.job.display().to_string()),
            agreed: &agreed,
            reading: &job.rules.reading,
            model: job.model(),
            plan: &plan,
            progress: &progress,
            quote: quote.as_ref(),
            doubts: moments::doubts(&view),
            entries: job.job.entries(),
            now: frame.moment(),
            piece: job.piece_name(),
            not_certain,
            loose,
            all: self.all,
        };
        if let Some(asked) = &self.why {
            let asked = steps::typed(&job.job, asked)?;
            return match &self.and {
                Some(other) => printed.why_pair(frame, &asked, &steps::typed(&job.job, other)?),
                None => printed.why(frame, &asked),
            };
        }
        if frame.global.json {
            frame.print_json(Shape::PLAN, printed.as_json())?;
        } else {
            printed.print(frame)?;
        }
        Ok(Exit::Fine)
    }
}

/// Keeps a plan that is shown with the job, and gives its number; says why if it cannot be.
fn kept(job: &OpenJob, plan: &WorkPlan, frame: &mut Frame) -> Result<Option<u32>, Stopped> {
    let steps = plan.steps.iter().map(|step| ShownStep {
        job: steps::name(job.model(), step.job).to_owned(),
        certain: step.certain.clone(),
        perhaps: step.perhaps.iter().map(|(part, _)| part.clone()).collect(),
    });
    let own = plan.own.iter().map(|own| ShownStep {
        job: own.job.clone(),
        certain: own.parts.clone(),
        perhaps: Vec::new(),
    });
    let steps: Vec<ShownStep> = steps.chain(own).collect();
    if steps.is_empty() {
        return Ok(None);
    }
    match job.job.keep_plan(&steps, frame.now) {
        Ok(number) => Ok(Some(number)),
        Err(why) => {
            writeln!(
                frame.err,
                "This plan has no number, since it is not kept. {why}"
            )?;
            Ok(None)
        }
    }
}

/// Whether a step is called for, or likely enough to be: the mark of "possibly". What may stand
/// in the place of another is something to be settled.
fn is_worth_a_line(step: &Step) -> bool {
    let mut perhaps = step.perhaps.iter();
    !step.certain.is_empty()
        || !step.turns.is_empty()
        || !step.one_of.is_empty()
        || perhaps.any(|(_, chance)| chance.is_some_and(|chance| reaches(chance, LISTED)))
}

struct Printed<'p> {
    /// The number of the plan, if it is kept.
    number: Option<u32>,
    /// What the owner said to papers.
    agreed: &'p Agreed,
    /// What is called for and has no price in what was agreed.
    missing: Vec<String>,
    /// The job's folder, as it is typed.
    folder: String,
    reading: &'p Reading,
    model: &'p Model,
    plan: &'p WorkPlan,
    progress: &'p Progress,
    /// The hours and chances of a quotation, where they can be worked out.
    quote: Option<&'p Quote>,
    /// What ticks mended and is there again, or may be.
    doubts: Vec<(usize, String)>,
    entries: &'p [Entry],
    now: Now,
    /// What the whole piece is called.
    piece: String,
    /// Jobs left out because they are not called for yet.
    not_certain: usize,
    /// Cautions of jobs that are left out, after which no other job comes.
    loose: Vec<usize>,
    /// Every part is named on which a job is only perhaps called for.
    all: bool,
}

/// Leaves out steps. What must be heeded at one that is left out is heeded at the next that is
/// not; returns what is left where none comes after it.
fn keep(steps: &mut Vec<Step>, is_kept: impl Fn(&Step) -> bool) -> Vec<usize> {
    let mut carried: Vec<usize> = Vec::new();
    let mut kept = Vec::new();
    for mut step in steps.drain(..) {
        carried.append(&mut step.cautions);
        if is_kept(&step) {
            step.cautions = std::mem::take(&mut carried);
            kept.push(step);
        }
    }
    *steps = kept;
    carried
}

/// So many parts on which a job is only perhaps called for are named, unless all are asked for.
pub(super) const SOME: usize = 4;

impl Printed<'_> {
    fn job(&self, index: usize) -> Option<&Job> {
        self.model.jobs.get(index)
    }

    fn name(&self, index: usize) -> &str {
        steps::name(self.model, index)
    }

    /// ": drawer 2 and drawer 4", if it is done for parts and not for the whole piece.
    fn on(&self, parts: &[String]) -> String {
        if parts.is_empty() || parts == [self.piece.as_str()] {
            String::new()
        } else {
            format!(": {}", words::list(parts))
        }
    }

    /// Who wrote a line of the record, if it says.
    fn by(&self, line: usize) -> Option<&Name> {
        let mut entries = self.entries.iter();
        let entry = entries.find(|entry| entry.number == line)?;
        entry.by.as_ref()
    }

    fn print(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if let Some(number) = self.number {
            writeln!(frame.out, "{STRONG}Plan {number}{STRONG:#}\n")?;
        }
        let ticked = self.print_done(frame)?;
        if self.plan.is_empty() {
            let is_left_out = !self.plan.refused.is_empty()
                || !self.plan.not_done.is_empty()
                || !self.plan.left_alone.is_empty();
            let what = match (ticked, is_left_out) {
                (true, _) if self.not_certain > 0 => "\nWhat is called for is done.",
                (false, _) if self.not_certain > 0 => "Nothing is called for yet.",
                (true, false) => "\nEverything that was found to do is done.",
                (true, true) => "\nEverything that was found to do and was not refused is done.",
                (false, true) => "Nothing is to be done.",
                (false, false) => "Nothing that was found calls for a job.",
            };
            writeln!(frame.out, "{what}")?;
            self.print_cautions(frame, &self.loose)?;
            return self.print_trouble(frame);
        }
        let mut stage = None;
        for (i, step) in self.plan.steps.iter().enumerate() {
            if stage != Some(step.stage) {
                let gap = if stage.is_some() || ticked { "\n" } else { "" };
                let words = words::capital(step.stage.words());
                writeln!(frame.out, "{gap}{STRONG}{words}{STRONG:#}")?;
                stage = Some(step.stage);
            }
            self.print_step(frame, i + 1, step)?;
        }
        self.print_own(frame)?;
        if !self.loose.is_empty() {
            writeln!(frame.out)?;
        }
        self.print_cautions(frame, &self.loose)?;
        self.print_left_out(frame)?;
        self.print_times(frame)?;
        self.print_needs(frame)?;
        self.print_agreed(frame)?;
        self.print_trouble(frame)
    }

    /// What the owner said to papers, and what is in none of them.
    fn print_agreed(&self, frame: &mut Frame) -> Result<(), Stopped> {
        for answered in &self.agreed.answers {
            let said = words::capital(&answered.in_words());
            writeln!(frame.out, "{said} {FAINT}({}){FAINT:#}", answered.when)?;
        }
        if !self.missing.is_empty() {
            writeln!(
                frame.out,
                "{STRONG}Not agreed yet:{STRONG:#} {}. A supplement says what it comes to: \
                 tellmark quote {} --supplement{}",
                words::list(&self.missing),
                self.folder,
                frame.rules_argument()
            )?;
        }
        Ok(())
    }

    /// What is done already; `false` if nothing is.
    fn print_done(&self, frame: &mut Frame) -> Result<bool, Stopped> {
        let mut taken = 0;
        let mut any = false;
        for told in self.progress.done() {
            if !any {
                writeln!(frame.out, "{STRONG}Done{STRONG:#}")?;
                any = true;
            }
            let done = &told.what;
            taken += done.took.unwrap_or(0);
            let took = done
                .took
                .map_or(String::new(), |took| format!("{}, ", minutes(took)));
            let by = self.by(told.line);
            let by = by.map_or(String::new(), |by| format!(", {by}"));
            writeln!(
                frame.out,
                "  x  {}{} {FAINT}({took}{}{by}){FAINT:#}",
                done.job,
                self.on(&done.parts.names),
                told.when
            )?;
            for (_, doubt) in self.doubts.iter().filter(|(line, _)| *line == told.line) {
                writeln!(frame.out, "       {doubt}")?;
            }
            if let Some(until) = sets_until(self.model, told, self.now) {
                writeln!(
                    frame.out,
                    "       {FAINT}leave it until {} at the least{FAINT:#}",
                    until.strftime("%Y-%m-%d %H:%M")
                )?;
            }
        }
        if taken > 0 {
            writeln!(frame.out, "     {FAINT}{} in all{FAINT:#}", minutes(taken))?;
        }
        Ok(any)
    }

    fn print_cautions(&self, frame: &mut Frame, cautions: &[usize]) -> Result<(), Stopped> {
        for caution in cautions.iter().filter_map(|&at| self.plan.cautions.get(at)) {
            let word = if caution.stop { "Stop" } else { "Take care" };
            writeln!(
                frame.out,
                "      {STRONG}{word}:{STRONG:#} {}",
                caution.text
            )?;
        }
        Ok(())
    }

    fn print_step(&self, frame: &mut Frame, number: usize, step: &Step) -> Result<(), Stopped> {
        let Some(job) = self.job(step.job) else {
            return Ok(());
        };
        self.print_cautions(frame, &step.cautions)?;
        for left in &step.left {
            writeln!(
                frame.out,
                "      {STRONG}Leave:{STRONG:#} the owner wants {} left alone{}.",
                words::list(&left.what.parts.names),
                said(":", &left.what.because)
            )?;
        }
        if step.to_ask {
            writeln!(
                frame.out,
                "      {STRONG}Hold:{STRONG:#} the owner decides before the next job."
            )?;
        }
        if step.waits[1] > 0 {
            writeln!(
                frame.out,
                "      {FAINT}not before {} from the start, for what must set or dry{FAINT:#}",
                minutes_range(step.waits[0], step.waits[1])
            )?;
        }
        let perhaps = sureness(step);
        let takes = job
            .takes
            .as_ref()
            .map_or("time not known".to_owned(), words::takes);
        writeln!(
            frame.out,
            "{number:3}. {perhaps}{STRONG}{}{STRONG:#}{} {FAINT}({takes}{}){FAINT:#}",
            job.name,
            self.on(&step.certain),
            each(step)
        )?;
        for agreed in &step.agreed {
            writeln!(
                frame.out,
                "       {FAINT}agreed, {}{}{FAINT:#}",
                agreed.when,
                said(",", &agreed.what.words)
            )?;
        }
        let chances = self.perhaps_words(step);
        if !chances.is_empty() {
            writeln!(frame.out, "       {FAINT}{chances}{FAINT:#}")?;
        }
        for turned in &step.turns {
            writeln!(
                frame.out,
                "       {FAINT}{}{FAINT:#}",
                self.turned(step, turned)
            )?;
        }
        for one in &step.one_of {
            if let Some(said) = self.one_of(one) {
                writeln!(frame.out, "       {FAINT}{said}{FAINT:#}")?;
            }
        }
        Ok(())
    }

    /// "one of watch the split, slip the top or rejoin the top, by how wide the top is split".
    fn one_of(&self, one: &OneOf) -> Option<String> {
        let ladder = self.model.ladders.get(one.ladder)?;
        let sign = self.model.signs.get(ladder.sign.index())?;
        let rungs = ladder.rungs.iter().filter_map(|(_, job)| *job);
        let mut jobs: Vec<&str> = Vec::new();
        for job in rungs.chain(ladder.more) {
            let name = self.name(job.index());
            if !jobs.contains(&name) {
                jobs.push(name);
            }
        }
        let how = words::how_words(&sign.asks, &one.part);
        let jobs = words::list_or(&jobs);
        Some(match one.chance {
            None => format!("one of {jobs}, by {how}: it is not measured"),
            Some(chance) => {
                let chance = figure(chance);
                format!("{chance} that it is one of {jobs}, by {how}: it is not measured")
            }
        })
    }

    /// "perhaps also drawer 1 (15 in 100) and drawer 3", "11 in 100".
    fn perhaps_words(&self, step: &Step) -> String {
        if let ([(part, chance)], true) = (&step.perhaps[..], step.certain.is_empty())
            && *part == self.piece
        {
            return chance.map_or_else(String::new, figure);
        }
        let mut perhaps: Vec<&(String, Option<f64>)> = step.perhaps.iter().collect();
        let most = match self.all {
            true => usize::MAX - 1,
            false => SOME,
        };
        if perhaps.len() > most + 1 {
            // The likeliest first.
            let chance = |one: &(String, Option<f64>)| one.1.unwrap_or_default();
            perhaps.sort_by(|a, b| chance(b).total_cmp(&chance(a)));
        }
        let named: Vec<String> = perhaps
            .into_iter()
            .map(|(part, chance)| match chance {
                Some(chance) => format!("{part} ({})", figure(*chance)),
                None => part.clone(),
            })
            .collect();
        if named.is_empty() {
            return String::new();
        }
        let word = if step.certain.is_empty() {
            "for"
        } else {
            "perhaps also"
        };
        format!("{word} {}", words::list_some(&named, most))
    }

    fn print_times(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let times = &self.plan.times;
        let span = |[least, usual, most]: [u32; 3]| {
            format!("{}, mostly {}", minutes_range(least, most), minutes(usual))
        };
        let is_certain = self.plan.steps.iter().any(|step| !step.certain.is_empty());
        let bench = match (times.certain[2], is_certain) {
            (0, false) => "nothing is called for yet".to_owned(),
            (0, true) => "not known".to_owned(),
            _ => span(times.certain),
        };
        writeln!(frame.out, "\nBench time: {bench}")?;
        for limit in limits(
            self.progress,
            &Work {
                plan: self.plan,
                quote: None,
                price: None,
                waits: &waits(self.model, self.entries, self.progress, frame.moment()),
            },
            frame.now.date(),
        ) {
            let said = limit.sentence("the owner's");
            match limit.is_over {
                Some(true) => writeln!(frame.out, "  {STRONG}{said}{STRONG:#}")?,
                _ => writeln!(frame.out, "  {said}")?,
            }
        }
        if let Some(quote) = self.quote.filter(|_| times.perhaps[2] > 0) {
            writeln!(
                frame.out,
                "  with what is perhaps called for, and what may yet come to light: {} are enough in \
                 5 of 10 cases, {} in 9, as in the quotation",
                words::hours(quote.hours.p50),
                words::hours(quote.hours.p90)
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
        let mut needs: BTreeMap<&str, usize> = BTreeMap::new();
        for step in &self.plan.steps {
            for need in self.job(step.job).iter().flat_map(|job| &job.needs) {
                *needs.entry(need).or_default() += step.certain.len();
            }
        }
        let needs: Vec<String> = needs
            .into_iter()
            .filter(|(_, times)| *times > 0)
            .map(|(need, times)| match times {
                1 => need.to_owned(),
                times => format!("{need} ({times} times)"),
            })
            .collect();
        if !needs.is_empty() {
            writeln!(frame.out, "Materials: {}", needs.join(", "))?;
        }
        Ok(())
    }

    fn print_trouble(&self, frame: &mut Frame) -> Result<(), Stopped> {
        for (job, parts) in &self.plan.refused {
            writeln!(
                frame.out,
                "\nThe owner will not have it: {}{}.",
                self.name(*job),
                self.on(parts)
            )?;
        }
        for left in &self.plan.left_alone {
            writeln!(
                frame.out,
                "\nLeft alone, as the owner wishes: {}{}. What the rules call for there, or may \
                 call for, is not planned: {}.",
                words::list(&left.parts),
                said(":", &left.because),
                left.what()
            )?;
        }
        for not_done in &self.plan.not_done {
            writeln!(
                frame.out,
                "\n{}: {}{}.",
                words::capital(&not_done.reason()),
                not_done.job,
                self.on(&not_done.parts)
            )?;
        }
        self.print_at_odds(frame)?;
        for (job, after) in &self.plan.against {
            writeln!(
                frame.out,
                "\nIt would be better to {} before you {}{}, but the stages of the work, or \
                 what must come first, say otherwise.",
                self.name(after.job),
                self.name(*job),
                because(after)
            )?;
        }
        Ok(())
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
                    "stage": step.stage.words(),
                    "ask_owner": step.to_ask,
                    "agreed": step
                        .agreed
                        .iter()
                        .map(|a| json!({ "line": a.line, "words": a.what.words }))
                        .collect::<Vec<_>>(),
                    "leave": step
                        .left
                        .iter()
                        .map(|l| json!({ "parts": l.what.parts.names, "because": l.what.because }))
                        .collect::<Vec<_>>(),
                    "after": after,
                    "one_of": step.one_of.iter().filter_map(|one| self.one_of(one)).collect::<Vec<_>>(),
                    "instead": step.turns.iter().map(|t| self.turned_json(t)).collect::<Vec<_>>(),
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
        let done: Vec<Value> = self
            .progress
            .done()
            .map(|told| {
                json!({
                    "job": told.what.job,
                    "parts": told.what.parts.names,
                    "when": told.when.to_string(),
                    "minutes": told.what.took,
                    "by": self.by(told.line).map(ToString::to_string),
                })
            })
            .collect();
        let refused: Vec<Value> = self
            .plan
            .refused
            .iter()
            .map(|(job, parts)| json!({ "job": self.name(*job), "parts": parts }))
            .collect();
        let limits = self.progress.limits.iter();
        json!({
            "plan": self.number,
            "done": done,
            "steps": steps,
            "refused": refused,
            "own": self.plan.own,
            "not_done": self.plan.not_done,
            "left_alone": self.plan.left_alone,
            "limits": limits.map(|l| &l.what.words).collect::<Vec<_>>(),
            "minutes": { "certain": times.certain, "perhaps": times.perhaps },
            "waits": times.waits.certain,
            "not_both": self.not_both_json(),
            "not_both_where": self.not_both_where_json(),
        })
    }
}

/// ": the rings are remembered", if there are words.
fn said(sign: &str, words: &str) -> String {
    match words {
        "" => String::new(),
        words => format!("{sign} {words}"),
    }
}

/// "perhaps ", or how it stands with what is as good as certain: a quotation may have a fixed
/// price for that.
fn sureness(step: &Step) -> &'static str {
    let mut perhaps = step.perhaps.iter();
    let is_sure = |chance: &Option<f64>| {
        chance.is_some_and(|chance| reaches(chance, Sureness::Surely.percent()))
    };
    match step.certain.is_empty() {
        false => "",
        true if perhaps.any(|(_, chance)| is_sure(chance)) => "almost certainly ",
        true => "perhaps ",
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

/// ", because …", if the rules say.
fn because(after: &After) -> String {
    match after.because.as_str() {
        "" => String::new(),
        because => format!(", because {because}"),
    }
}
