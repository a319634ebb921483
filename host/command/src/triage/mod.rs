//! `tellmark triage`

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
use tellmark_language::model::Missed;
use tellmark_language::words::{self, capital, figure, list, minutes, some_of, sureness_word};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;
const STOP: Ink = Ink::of(AnsiColor::Red.on_default().bold());
const CARE: Ink = Ink::of(AnsiColor::Yellow.on_default().bold());

/// Say which hidden faults are likely, part by part, and what that rests on
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark triage walnut-chest\n\nA fault is listed from 15 in 100 \
                        (\"possibly\") upwards. Under it stand the findings that move it most, \
                        each with the chance without it."
)]
pub struct Triage {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// List every fault, however unlikely
    #[arg(long)]
    all: bool,
    /// As the piece was found, whatever was mended since
    #[arg(long)]
    as_found: bool,
}

/// Reasons shown for one fault.
const REASONS: usize = 3;

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
    least: u8,
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
        for group in &self.list.groups {
            self.print_group(frame, group)?;
        }
        self.print_rest(frame)?;
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

    /// Faults that something found speaks for or against, part by part.
    fn print_group(&self, frame: &mut Frame, group: &Group) -> Result<(), Stopped> {
        let listed: Vec<&Suspect> = group
            .suspects
            .iter()
            .filter(|s| words::reaches(s.chance, self.least) && s.stands_out())
            .collect();
        if listed.is_empty() {
            return Ok(());
        }
        writeln!(
            frame.out,
            "\n{STRONG}{}{STRONG:#}{FAINT}{}{FAINT:#}",
            capital(&group.name),
            left(group.unseen)
        )?;
        for suspect in &listed {
            self.print_suspect(frame, suspect)?;
        }
        Ok(())
    }

    /// Faults that nothing speaks strongly of, each once with all its parts.
    fn print_rest(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let rest = self.list.with_less_to_go_on(self.least);
        if rest.is_empty() {
            return Ok(());
        }
        writeln!(
            frame.out,
            "\n{STRONG}Possible, with less to go on{STRONG:#}"
        )?;
        for (suspect, parts) in rest {
            let state = &self.job.model().states[suspect.state.index()];
            let moved = (suspect.chance - suspect.before).abs() >= 0.01;
            let before = if moved {
                format!(", {} before anything was found", figure(suspect.before))
            } else {
                String::new()
            };
            writeln!(
                frame.out,
                "  {}: {} {FAINT}({}{before}{}){FAINT:#}",
                state.phrase,
                self.list
                    .all_or_each(self.job.model(), suspect.state, &parts),
                figure(suspect.chance),
                suspect.missed.map_or_else(String::new, cost)
            )?;
            self.print_reasons(frame, suspect)?;
        }
        Ok(())
    }

    fn print_suspect(&self, frame: &mut Frame, suspect: &Suspect) -> Result<(), Stopped> {
        let model = self.job.model();
        if suspect.opened {
            let yes = suspect.chance > 0.5;
            let words = words::state_words(model, suspect.state, yes, false);
            writeln!(frame.out, "  {STRONG}{words}{STRONG:#} (found so)")?;
            return Ok(());
        }
        let phrase = words::likely_phrase(model, "", suspect.state, suspect.chance);
        writeln!(
            frame.out,
            "  {STRONG}{}{STRONG:#}{FAINT}, {} before anything was found{}{FAINT:#}",
            phrase.trim(),
            figure(suspect.before),
            suspect.missed.map_or_else(String::new, cost)
        )?;
        if let Some(doubted) = moments::doubted(self.job, suspect.part, suspect.state) {
            writeln!(frame.out, "    {doubted}")?;
        }
        self.print_reasons(frame, suspect)
    }

    fn print_reasons(&self, frame: &mut Frame, suspect: &Suspect) -> Result<(), Stopped> {
        for reason in suspect.reasons.iter().take(REASONS) {
            let written = self.job.written(reason.from);
            let side = if reason.decibans > 0.0 {
                "for"
            } else {
                "against"
            };
            writeln!(
                frame.out,
                "    {side:7} {} {FAINT}({}; without it {}){FAINT:#}",
                written.text,
                written.place(),
                figure(reason.without)
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

/// "; found late it costs 3 h, risk 2 of 5".
fn cost(missed: Missed) -> String {
    format!(
        "; found late it costs {}, risk {} of 5",
        minutes(missed.minutes),
        missed.risk
    )
}

fn seen(unseen: Unseen) -> String {
    let hidden = if unseen.out_of_sight > 0 {
        format!(", {} cannot be told", unseen.out_of_sight)
    } else {
        String::new()
    };
    format!(
        "Of {} checks {} are made{hidden}, and {} are left.",
        unseen.asked,
        unseen.answered,
        unseen.left()
    )
}

fn left(unseen: Unseen) -> String {
    match unseen.left() {
        0 => String::new(),
        left => format!(
            ", {} left here",
            some_of(u32::try_from(left).unwrap_or(u32::MAX), "check", "checks")
        ),
    }
}
