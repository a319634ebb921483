//! A job with the rules it is judged by.

use super::exit::Stopped;
use super::frame::Frame;
use std::path::Path;
use tellmark_compile::Built;
use tellmark_compile::check::Checked;
use tellmark_compile::set_up::SetUp;
use tellmark_job::advice::Progress;
use tellmark_job::record::{Finding, Findings, Job, has_part};
use tellmark_language::model::{Fact, Model, PieceOrder};
use tellmark_language::words::some_of;
use tellmark_language::{AnswerReader, Level, Message};

/// A job, its findings in the words of the rules, and the rules built.
pub(super) struct AtHand {
    /// The job.
    pub job: Job,
    /// The rules.
    pub checked: Checked,
    /// What the piece is.
    pub order: PieceOrder,
    /// The findings that stand, oldest first.
    pub findings: Vec<Finding>,
    /// The findings that a later line put right, oldest first.
    pub put_right: Vec<Finding>,
    /// Lines of the record that nothing goes by, and why.
    pub left_out: Vec<(usize, String)>,
}

impl AtHand {
    /// Opens the job's folder and builds the rules. Lines of the record that
    /// the rules do not understand are told on the error stream and stop
    /// nothing.
    pub fn open(folder: &Path, frame: &mut Frame) -> Result<AtHand, Stopped> {
        let job = Job::open(folder)?;
        let checked = frame.ready()?;
        built_rules(&checked, frame)?;
        let model = &checked.reading.model;
        let reader = AnswerReader::new(model);
        let order = reader
            .piece(&job.header().piece)
            .map_err(|message| Stopped::Misuse(message.said()))?;
        for unread in job.unread() {
            writeln!(frame.err, "{unread}")?;
        }
        let findings: Findings<Message> =
            Findings::read(model, job.lines(), |text| reader.facts(text));
        let mut left_out: Vec<(usize, String)> = findings
            .not_understood
            .iter()
            .map(|line| (line.line.number, line.why.said()))
            .collect();
        let known: Vec<&Fact> = findings.standing().map(|f| &f.fact).collect();
        let mut standing = Vec::new();
        for finding in findings.standing() {
            match has_part(model, &order, &known, &finding.fact) {
                Ok(()) => standing.push(finding.clone()),
                Err(none) => left_out.push((finding.number, none.to_string())),
            }
        }
        for (number, why) in &left_out {
            writeln!(frame.err, "Line {number} of the record is left out: {why}")?;
        }
        let mut put_right = findings.all;
        put_right.retain(|finding| finding.put_right_by.is_some());
        Ok(AtHand {
            job,
            checked,
            order,
            findings: standing,
            put_right,
            left_out,
        })
    }

    /// The rules.
    pub fn model(&self) -> &Model {
        &self.checked.reading.model
    }

    /// The pack and what goes with it.
    pub fn built(&self) -> Result<&Built, Stopped> {
        self.checked
            .built
            .as_ref()
            .ok_or_else(|| Stopped::Misuse("These rules have errors.".to_owned()))
    }

    /// The facts that stand, in the order of the record.
    pub fn facts(&self) -> Vec<&Fact> {
        self.findings.iter().map(|finding| &finding.fact).collect()
    }

    /// What the job's piece is set up from.
    pub fn set_up<'s>(&'s self, facts: &'s [&'s Fact]) -> Result<SetUp<'s>, Stopped> {
        Ok(SetUp {
            model: self.model(),
            built: self.built()?,
            order: &self.order,
            facts,
        })
    }

    /// What the record says with labels. Lines that the rules do not understand are
    /// told on the error stream.
    pub fn progress(&self, set_up: &SetUp<'_>, frame: &mut Frame) -> Result<Progress, Stopped> {
        let pack = self.built()?.bytes.open().map_err(unexpected)?;
        let progress = Progress::read(set_up, pack, self.job.entries()).map_err(unexpected)?;
        for told in &progress.not_understood {
            let (line, why) = (told.line, &told.what);
            writeln!(frame.err, "Line {line} of the record is left out: {why}")?;
        }
        Ok(progress)
    }

    /// What the whole piece is called: "the chest of drawers".
    pub fn piece_name(&self) -> String {
        let kind = self.model().kinds.get(self.order.kind.index());
        kind.map_or_else(String::new, |kind| format!("the {}", kind.name))
    }

    /// A line of the record, as it was written.
    pub fn line(&self, fact: usize) -> (usize, &str) {
        let number = self.findings.get(fact).map_or(0, |f| f.number);
        let line = self.job.lines().iter().find(|line| line.number == number);
        (number, line.map_or("", |line| line.text.as_str()))
    }
}

/// The rules built, or how many errors stand in the way.
pub(super) fn built_rules<'c>(checked: &'c Checked, frame: &Frame) -> Result<&'c Built, Stopped> {
    checked.built.as_ref().ok_or_else(|| {
        let stops = u32::try_from(checked.count(Level::Stop)).unwrap_or(u32::MAX);
        let rules = frame.rules_argument();
        Stopped::Misuse(format!(
            "These rules have {}, so nothing can be worked out from them. \
             \"tellmark check{rules}\" says what.",
            some_of(stops, "error", "errors")
        ))
    })
}

/// A pack that will not open, or a piece that will not be set up: neither can
/// come from rules and jobs that were read.
pub(super) fn unexpected(what: impl std::fmt::Debug) -> Stopped {
    Stopped::Misuse(format!("internal error, please report it: {what:?}"))
}
