//! `tellmark triage`

mod brief;
mod full;

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::moments;
use super::open_job::{cannot_set_up, open_job};
use super::shape::Shape;
use super::together;
use anstyle::AnsiColor;
use clap::Args;
use serde_json::{Value, json};
use std::path::PathBuf;
use tellmark_compile::set_up::Caution;
use tellmark_job::advice::{self, Group, Reason, Suspect, Triage as List, Unseen};
use tellmark_job::open_job::JobView;
use tellmark_job::record::Remarked;
use tellmark_language::ink::Ink;
use tellmark_language::words::{self, capital, list, some_of, sureness_word};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;
const STOP: Ink = Ink::of(AnsiColor::Red.on_default().bold());
const CARE: Ink = Ink::of(AnsiColor::Yellow.on_default().bold());

/// Say which hidden faults are likely, part by part, and what that rests on
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark triage walnut-chest\n  tellmark triage walnut-chest \
                        --full\n\nA fault is listed from 15 in 100 (\"possibly\") upwards, what \
                        matters most first: by its chance and its risk. In brackets stand the \
                        findings that speak for it most; --full has them all, with the chance \
                        without each. \"late: 4 h, risk 3\" is what a grave fault costs that is \
                        found only when the work has begun, and how grave it is, of 5."
)]
pub struct Triage {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// Part by part, with what each fault rests on
    #[arg(long)]
    full: bool,
    /// List every fault, however unlikely
    #[arg(long)]
    all: bool,
    /// As the piece was found, whatever was mended since
    #[arg(long)]
    as_found: bool,
}

impl Triage {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let job = open_job(&self.job, frame)?;
        let view = if self.as_found {
            job.as_found()?
        } else {
            job.view()?
        };
        let list = view.triage().map_err(cannot_set_up)?;
        let page = Page {
            job: &view,
            list: &list,
            least: if self.all { 0 } else { advice::LISTED },
            full: self.full,
        };
        if frame.global.json {
            frame.print_json(Shape::TRIAGE, page.as_json())?;
        } else {
            page.print(frame)?;
        }
        Ok(if list.clash.is_some() {
            Exit::No
        } else {
            Exit::Fine
        })
    }
}

struct Page<'p> {
    job: &'p JobView<'p>,
    list: &'p List,
    /// Chances in 100 from which a fault is listed.
    least: u8,
    full: bool,
}

impl Page<'_> {
    fn print(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let piece = words::piece_order(self.job.model(), &self.job.open.order);
        let findings = u32::try_from(self.job.noted()).unwrap_or(u32::MAX);
        writeln!(
            frame.out,
            "{STRONG}{}{STRONG:#}: {}.\n{}",
            capital(&piece),
            some_of(findings, "finding", "findings"),
            seen(self.list.unseen)
        )?;
        moments::print_which(frame, self.job)?;
        if let Some(clash) = &self.list.clash {
            return together::print_clash(frame, self.job, clash);
        }
        self.print_cautions(frame)?;
        together::print_odd(frame, self.job, &self.list.odd)?;
        if self.full {
            self.print_full(frame)?;
        } else {
            self.print_brief(frame)?;
        }
        moments::print_mends(frame, self.job)?;
        self.print_remarks(frame)
    }

    /// What was noted in words that no rule reads.
    fn print_remarks(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let remarks = self.job.open.job.remarks();
        if remarks.is_empty() {
            return Ok(());
        }
        let number = u32::try_from(remarks.len()).unwrap_or(u32::MAX);
        let remarks_are = some_of(number, "remark", "remarks");
        writeln!(
            frame.out,
            "\n{STRONG}{remarks_are} that no rule reads{STRONG:#}"
        )?;
        for remark in &remarks {
            let (line, part) = (remark.number, &remark.remark.part);
            let words = &remark.remark.words;
            writeln!(frame.out, "  {part}: {words} {FAINT}(line {line}){FAINT:#}")?;
        }
        Ok(())
    }

    fn print_cautions(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if !self.list.cautions.is_empty() {
            writeln!(frame.out)?;
        }
        for caution in &self.list.cautions {
            let (style, word) = if caution.stop {
                (STOP, "STOP")
            } else {
                (CARE, "Take care")
            };
            writeln!(
                frame.out,
                "{style}{word}{style:#} ({}): {}{FAINT}{}{FAINT:#}",
                list(&caution.parts),
                caution.text,
                source_mark(&caution.source)
            )?;
        }
        Ok(())
    }

    fn as_json(&self) -> Value {
        let clash = self.list.clash.as_ref();
        let clash = clash.map(|clash| together::clash_json(self.job, clash));
        json!({
            "moment": moments::which_json(self.job),
            "mended": moments::mended_json(self.job),
            "look_again": moments::overtaken_json(self.job),
            "piece": words::piece_order(self.job.model(), &self.job.open.order),
            "findings": self.job.noted(),
            "seen": unseen_json(self.list.unseen),
            "clash": clash,
            "sit_oddly": together::odd_json(self.job, &self.list.odd),
            "remarks": self.job.open.job.remarks().iter().map(remark_json).collect::<Vec<_>>(),
            "cautions": self.list.cautions.iter().map(caution_json).collect::<Vec<_>>(),
            "parts": self.list.groups.iter().filter_map(|g| self.group_json(g)).collect::<Vec<_>>(),
        })
    }

    fn group_json(&self, group: &Group) -> Option<Value> {
        let suspects: Vec<Value> = group
            .suspects
            .iter()
            .filter(|s| words::reaches(s.chance, self.least))
            .map(|s| self.suspect_json(s))
            .collect();
        (!suspects.is_empty()).then(|| {
            json!({
                "part": group.name,
                "seen": unseen_json(group.unseen),
                "faults": suspects,
            })
        })
    }

    fn suspect_json(&self, suspect: &Suspect) -> Value {
        let model = self.job.model();
        let reason = |reason: &Reason| {
            json!({
                "finding": together::line_json(self.job, reason.from),
                "decibans": reason.decibans,
                "chance_without": reason.without,
            })
        };
        json!({
            "fault": words::state_words(model, suspect.state, true, false),
            "chance": suspect.chance,
            "word": sureness_word(suspect.chance),
            "before": suspect.before,
            "opened": suspect.opened,
            "mended": moments::doubted(self.job, suspect.part, suspect.state),
            "missed_minutes": suspect.missed.map(|m| m.minutes),
            "risk": suspect.missed.map(|m| m.risk),
            "rests_on": suspect.reasons.iter().map(reason).collect::<Vec<_>>(),
        })
    }
}

fn remark_json(remark: &Remarked) -> Value {
    json!({
        "line": remark.number,
        "part": remark.remark.part,
        "words": remark.remark.words,
    })
}

fn caution_json(caution: &Caution) -> Value {
    json!({
        "stop": caution.stop,
        "parts": caution.parts,
        "text": caution.text,
        "source": caution.source,
    })
}

fn unseen_json(unseen: Unseen) -> Value {
    json!({
        "checks": unseen.asked,
        "made": unseen.answered,
        "mended": unseen.mended,
        "cannot_be_seen": unseen.out_of_sight,
        "left": unseen.left(),
    })
}

fn source_mark(source: &str) -> String {
    if source.is_empty() {
        String::new()
    } else {
        format!(" [{source}]")
    }
}

fn seen(unseen: Unseen) -> String {
    let hidden = if unseen.out_of_sight > 0 {
        format!(", {} cannot be told", unseen.out_of_sight)
    } else {
        String::new()
    };
    let mended = match unseen.mended {
        0 => String::new(),
        1 => ", 1 is settled by what was mended".to_owned(),
        some => format!(", {some} are settled by what was mended"),
    };
    format!(
        "Of {} checks {} are made{mended}{hidden}, and {} are left.",
        unseen.asked,
        unseen.answered,
        unseen.left()
    )
}
