//! `tellmark why`

mod asked;

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::moments;
use super::open_job::{cannot_set_up, open_job};
use super::shape::Shape;
use clap::Args;
use serde_json::{Value, json};
use std::path::PathBuf;
use tellmark_core::truth::Truth;
use tellmark_job::advice::{Look, Reckoned, Rival, Sentence, Unread, Weight, Why as Reasons};
use tellmark_job::open_job::{JobView, Written};
use tellmark_language::ink::Ink;
use tellmark_language::line_of;
use tellmark_language::model::StateId;
use tellmark_language::words::{self, figure, minutes};
use tellmark_sums::of_rules;

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Say why a fault is as likely as it is, and what would change that
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark why walnut-chest \"drawer 2 is loose in its joints\"\n  \
                        tellmark why walnut-chest left leaf is sagging\n\nThe weight of a finding \
                        is given in decibans (ten times the common logarithm of what it does to \
                        the odds): 3 doubles the odds, 10 makes them ten times as high."
)]
pub struct Why {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// What is asked about: a part and what may be true of it, in your own words
    #[arg(required = true, value_name = "FAULT")]
    fault: Vec<String>,
    /// As the piece was found, whatever was mended since
    #[arg(long)]
    as_found: bool,
}

impl Why {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let job = open_job(&self.job, frame)?;
        let (part, state) = self.asked(&job, frame)?;
        let view = if self.as_found {
            job.as_found()?
        } else {
            job.view()?
        };
        if let Some(mended) = moments::mended(&view, part, state) {
            return moments::print_mended(frame, &view, mended);
        }
        if let Some(unread) = view.unread(part, state).map_err(cannot_set_up)? {
            print_unread(frame, &view, &unread, state)?;
            return Ok(Exit::Fine);
        }
        let why = view.why(part, state).map_err(cannot_set_up)?;
        let Some(why) = why else {
            let triage = frame.command("triage", &self.job);
            return Err(Stopped::Misuse(format!(
                "The findings cannot all be true, so there are no chances to explain. \
                 To see which ones clash:\n  {triage}"
            )));
        };
        let page = Page {
            job: &view,
            part,
            why: &why,
        };
        if frame.global.json {
            frame.print_json(Shape::WHY, page.as_json())?;
        } else {
            page.print(frame)?;
        }
        Ok(Exit::Fine)
    }
}

/// What was found of a sign that no rule reads.
fn print_unread(
    frame: &mut Frame,
    job: &JobView<'_>,
    unread: &Unread,
    state: StateId,
) -> Result<(), Stopped> {
    let model = job.model();
    let lines: Vec<Written> = unread.from.iter().map(|&from| job.written(from)).collect();
    if frame.global.json {
        let found = lines
            .iter()
            .map(|written| json!({ "line": written.line, "text": written.text }));
        return frame.print_json(
            Shape::WHY_UNREAD,
            json!({
                "part": unread.part,
                "fault": words::state_words(model, state, true, false),
                "chance": null,
                "found": match unread.so {
                    Truth::True => json!(true),
                    Truth::False => json!(false),
                    Truth::NotKnown => Value::Null,
                },
                "findings": found.collect::<Vec<_>>(),
            }),
        );
    }
    let phrase = |yes| words::state_phrase(model, &unread.part, state, yes);
    let said = match unread.so {
        Truth::True => format!("{}, as was found.", phrase(true)),
        Truth::False => format!("{}, as was found.", phrase(false)),
        Truth::NotKnown if lines.is_empty() => {
            format!("Nothing was found of whether {}.", phrase(true))
        }
        Truth::NotKnown => format!("It is not settled whether {}.", phrase(true)),
    };
    writeln!(frame.out, "{STRONG}{}{STRONG:#}", words::capital(&said))?;
    for written in &lines {
        let (text, place) = (&written.text, written.place());
        writeln!(frame.out, "  {text} {FAINT}({place}){FAINT:#}")?;
    }
    writeln!(
        frame.out,
        "No rule reads it: it has no chance of its own, and it moves none."
    )?;
    Ok(())
}

struct Page<'p> {
    job: &'p JobView<'p>,
    /// The part that is asked about.
    part: usize,
    why: &'p Reasons,
}

impl Page<'_> {
    fn print(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let (model, why) = (self.job.model(), self.why);
        moments::print_which(frame, self.job)?;
        writeln!(
            frame.out,
            "{STRONG}{}{STRONG:#}",
            words::sentence(&words::likely_phrase(
                model, &why.part, why.state, why.chance
            ))
        )?;
        writeln!(
            frame.out,
            "Before anything was found it was {}; with nothing to bring it about it is {}.",
            figure(why.before),
            figure(why.own)
        )?;
        if let Some(doubted) = moments::doubted(self.job, self.part, why.state) {
            writeln!(frame.out, "It was {doubted}.")?;
        }
        self.print_weights(frame)?;
        self.print_reckoned(frame)?;
        self.print_sentences(frame)?;
        self.print_rivals(frame)?;
        self.print_next(frame)
    }

    fn print_weights(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if self.why.weights.is_empty() {
            writeln!(frame.out, "\nNothing that was found so far moves it.")?;
            return Ok(());
        }
        writeln!(
            frame.out,
            "\nWhat moves it: first if it is taken back alone, then as it was found:"
        )?;
        for weight in &self.why.weights {
            let written = self.job.written(weight.from);
            writeln!(
                frame.out,
                "  {:>5} {:>5}  {} {FAINT}({}; without it {}){FAINT:#}",
                signed(weight.decibans),
                signed(weight.in_order),
                written.text,
                written.place(),
                figure(weight.without)
            )?;
        }
        if self.why.weights.iter().any(opposed) {
            writeln!(
                frame.out,
                "Where the two point opposite ways, something found since explains it better."
            )?;
        }
        Ok(())
    }

    /// What was worked out from the findings, from what, by which sum and source.
    fn print_reckoned(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if !self.why.reckoned.is_empty() {
            writeln!(frame.out, "\nWorked out from what was found:")?;
        }
        for one in &self.why.reckoned {
            let (said, fed) = (one.words(self.job.model()), one.fed_words());
            writeln!(
                frame.out,
                "  {said}.\n    By {}, where {fed}.",
                one.sum.name()
            )?;
            let sum = of_rules(one);
            writeln!(frame.out, "    {FAINT}{}{FAINT:#}", sum.formula())?;
            for source in sum.sources() {
                writeln!(frame.out, "    {FAINT}Source: {source}.{FAINT:#}")?;
            }
            writeln!(
                frame.out,
                "    {FAINT}Take care: {}{FAINT:#}",
                sum.caution()
            )?;
            if let Some(command) = sum.command() {
                writeln!(frame.out, "    {FAINT}Each step: {command}{FAINT:#}")?;
            }
        }
        Ok(())
    }

    fn print_rivals(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if !self.why.rivals.is_empty() {
            writeln!(frame.out, "\nIt competes with what explains the same:")?;
        }
        for rival in &self.why.rivals {
            writeln!(
                frame.out,
                "  {}: {}, and {} if this is so",
                words::state_phrase(self.job.model(), &rival.part, rival.state, true),
                figure(rival.now),
                figure(rival.then)
            )?;
        }
        Ok(())
    }

    fn print_sentences(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if !self.why.sentences.is_empty() {
            writeln!(frame.out, "\nBy these sentences:")?;
        }
        for sentence in &self.why.sentences {
            let (file, line) = line_of(&self.job.open.rules.reading.files, sentence.at);
            writeln!(
                frame.out,
                "  {}\n    {FAINT}{file}, line {line}{FAINT:#}",
                sentence.words
            )?;
        }
        Ok(())
    }

    fn print_next(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if !self.why.next.is_empty() {
            writeln!(frame.out, "\nWhat would move it most:")?;
        }
        for look in &self.why.next {
            let takes = match look.minutes {
                0 => String::new(),
                n => format!("{}; ", minutes(u32::from(n))),
            };
            writeln!(
                frame.out,
                "  {} {FAINT}({takes}{} to {}){FAINT:#}",
                look.check,
                figure(look.from_to.0),
                figure(look.from_to.1)
            )?;
        }
        Ok(())
    }

    fn as_json(&self) -> Value {
        let (model, why) = (self.job.model(), self.why);
        let weights: Vec<Value> = why
            .weights
            .iter()
            .map(|weight| {
                let written = self.job.written(weight.from);
                json!({
                    "line": written.line,
                    "text": written.text,
                    "decibans": weight.decibans,
                    "chance_without": weight.without,
                    "decibans_in_order": weight.in_order,
                })
            })
            .collect();
        json!({
            "moment": moments::which_json(self.job),
            "part": why.part,
            "fault": words::state_words(model, why.state, true, false),
            "chance": why.chance,
            "before": why.before,
            "on_its_own": why.own,
            "mended": moments::doubted(self.job, self.part, why.state),
            "findings": weights,
            "worked_out": why.reckoned.iter().map(|one| self.reckoned_json(one)).collect::<Vec<_>>(),
            "sentences": why.sentences.iter().map(|s| self.sentence_json(s)).collect::<Vec<_>>(),
            "rivals": why.rivals.iter().map(|r| self.rival_json(r)).collect::<Vec<_>>(),
            "next": why.next.iter().map(look_json).collect::<Vec<_>>(),
        })
    }

    fn reckoned_json(&self, one: &Reckoned) -> Value {
        let sum = of_rules(one);
        json!({
            "part": one.name,
            "words": one.words(self.job.model()),
            "sum": one.sum.command(),
            "from": one.fed_words(),
            "sources": sum.sources(),
            "caution": sum.caution(),
            "command": sum.command(),
        })
    }

    fn rival_json(&self, rival: &Rival) -> Value {
        json!({
            "part": rival.part,
            "fault": words::state_words(self.job.model(), rival.state, true, false),
            "chance": rival.now,
            "chance_then": rival.then,
        })
    }

    fn sentence_json(&self, sentence: &Sentence) -> Value {
        let reading = &self.job.open.rules.reading;
        let (file, line) = line_of(&reading.files, sentence.at);
        let source = sentence
            .source
            .map(|id| reading.model.sources[id.index()].name.clone());
        json!({
            "file": file,
            "line": line,
            "words": sentence.words,
            "source": source,
        })
    }
}

/// A measure that was worked out by a sum, to be explained.
fn of_rules(one: &Reckoned) -> of_rules::Reckoned<'_> {
    of_rules::Reckoned {
        sum: one.sum,
        fed: &one.fed,
    }
}

/// "+3.2", "-0.4"; what comes to nothing is "0.0".
fn signed(decibans: f64) -> String {
    if decibans.abs() < 0.05 {
        "0.0".to_owned()
    } else {
        format!("{decibans:+.1}")
    }
}

/// Whether a finding spoke one way when it was made and speaks the other now.
fn opposed(weight: &Weight) -> bool {
    let least = 0.5;
    weight.decibans.abs() >= least
        && weight.in_order.abs() >= least
        && (weight.decibans > 0.0) != (weight.in_order > 0.0)
}

fn look_json(look: &Look) -> Value {
    json!({
        "check": look.check,
        "part": look.part,
        "minutes": look.minutes,
        "lowest": look.from_to.0,
        "highest": look.from_to.1,
    })
}
