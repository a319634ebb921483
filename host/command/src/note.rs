//! `tellmark note`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::moments;
use super::together;
use clap::Args;
use serde_json::json;
use std::collections::BTreeSet;
use std::path::PathBuf;
use tellmark_job::open_job::OpenJob;
use tellmark_job::record::{Findings, Job, Says, at_odds, has_part};
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, Model};
use tellmark_language::words::{self, list};

/// Note what was found; every word is checked before it goes into the record
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark note walnut-chest \"runner 1 of drawer 2 is worn 3 \
                        mm\"\n  tellmark note walnut-chest the glue blocks cannot be seen\n\nTo \
                        put something right, note it again: the latest line counts."
)]
pub struct Note {
    /// The job's folder
    #[arg(value_name = "JOB")]
    job: PathBuf,
    /// What was found, in the words of the rules
    #[arg(required = true, value_name = "FINDING")]
    finding: Vec<String>,
}

impl Note {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = Job::open(&self.job)?;
        let rules = frame.ready_or_warn()?;
        let model = &rules.reading.model;
        let finding = self.finding.join(" ");
        let finding = finding.split_whitespace().collect::<Vec<_>>().join(" ");
        if Says::read(&finding).is_some() {
            return Err(Stopped::Misuse(
                "That is no finding. What the owner wants is noted by \"tellmark brief\", what was \
                 done by \"tellmark done\", a photograph by \"tellmark photo\". Nothing was noted."
                    .to_owned(),
            ));
        }
        let reader = about_its_piece(AnswerReader::new(model), &job);
        let facts = reader
            .facts(&finding)
            .map_err(|message| Stopped::Misuse(message.said()))?;
        of_this_piece(model, &reader, &job, &facts)?;
        if let Some((one, other)) = at_odds(model, &facts) {
            let said = |at: usize| words::fact_sentence(model, &facts[at]);
            return Err(Stopped::Misuse(format!(
                "\"{}\" and \"{}\" say different things of the same, and only one of them can \
                 count. Nothing was noted.",
                said(one),
                said(other)
            )));
        }
        let added = job.append(&finding, frame.now)?;
        let mut noted = Noted {
            line: added.number,
            understood: facts
                .iter()
                .map(|fact| words::fact_sentence(model, fact))
                .collect(),
            puts_right: put_right(model, &reader, &job, added.number),
        };
        // With rules that have errors, or do not know the piece, this cannot be told.
        let open = OpenJob::open(&self.job, rules).ok();
        if let Some(open) = &open {
            // What was noted before something was mended is put right by nothing since.
            let stays = |line: &usize| open.findings.iter().any(|f| f.number == *line);
            noted.puts_right.retain(|line| !stays(line));
        }
        frame.tell(Exit::Fine, |frame| {
            // A last line that was cut short has got its mark by now.
            for unread in job.unread() {
                writeln!(frame.err, "{unread}")?;
            }
            noted.print(frame, open.as_ref())
        })
    }
}

/// A finding that is in the record.
struct Noted {
    line: usize,
    understood: Vec<String>,
    puts_right: BTreeSet<usize>,
}

impl Noted {
    fn print(&self, frame: &mut Frame, open: Option<&OpenJob>) -> Result<(), Stopped> {
        let view = open.and_then(|open| open.view().ok());
        let clash = view.as_ref().and_then(|view| view.clash().ok()).flatten();
        let odd = view
            .as_ref()
            .and_then(|view| view.odd_beside(self.line).ok());
        let odd = odd.unwrap_or_default();
        if frame.global.json {
            let clash = view.as_ref().zip(clash.as_ref());
            return frame.print_json(&json!({
                "line": self.line,
                "understood": self.understood,
                "puts_right": self.puts_right,
                "clash": clash.map(|(view, clash)| together::clash_json(view, clash)),
                "sit_oddly": view.as_ref().map(|view| together::odd_json(view, &odd)),
            }));
        }
        let said = words::sentence(&list(&self.understood));
        writeln!(frame.out, "Line {}: {said}", self.line)?;
        if !self.puts_right.is_empty() {
            let lines: Vec<String> = self.puts_right.iter().map(ToString::to_string).collect();
            let line = if lines.len() == 1 { "line" } else { "lines" };
            writeln!(frame.out, "This puts right {line} {}.", list(&lines))?;
        }
        let Some(view) = view else { return Ok(()) };
        moments::print_noted(frame, &view, self.line)?;
        if let Some(clash) = &clash {
            together::print_clash(frame, &view, clash)?;
        }
        together::print_odd(frame, &view, &odd)
    }
}

/// The reader for the piece of a job, if these rules know it.
fn about_its_piece<'m>(reader: AnswerReader<'m>, job: &Job) -> AnswerReader<'m> {
    match reader.piece(&job.header().piece) {
        Ok(order) => reader.about(order.kind),
        Err(_) => reader,
    }
}

/// Refuses a finding about a part that this piece has not.
fn of_this_piece(
    model: &Model,
    reader: &AnswerReader<'_>,
    job: &Job,
    facts: &[Fact],
) -> Result<(), Stopped> {
    // A piece that these rules no longer know is no reason to lose a finding.
    let Ok(order) = reader.piece(&job.header().piece) else {
        return Ok(());
    };
    let earlier = Findings::read(model, job.lines(), |text| reader.facts(text));
    let known: Vec<&Fact> = earlier.standing().map(|finding| &finding.fact).collect();
    for fact in facts {
        has_part(model, &order, &known, fact)
            .map_err(|none| Stopped::Misuse(format!("{none} Nothing was noted.")))?;
    }
    Ok(())
}

/// The earlier lines about the same parts and signs.
fn put_right(
    model: &Model,
    reader: &AnswerReader<'_>,
    job: &Job,
    number: usize,
) -> BTreeSet<usize> {
    let findings = Findings::read(model, job.lines(), |text| reader.facts(text));
    findings
        .all
        .iter()
        .filter(|f| f.put_right_by == Some(number))
        .map(|f| f.number)
        .collect()
}
