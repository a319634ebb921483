//! A job with the rules it is judged by: the one way in for commands, reports and the
//! bench screen.
//!
//! [`OpenJob`] has everything that was read from the job's folder, in the words of the
//! rules. [`JobView`] is the piece as it stands, ready to be asked.

use crate::advice::{
    self, Check, Dated, NoQuote, Odd, Progress, Quote, Triage, Unread, Why, WorkPlan,
};
use crate::record::{Finding, Findings, HEADER_FILE, Job, JobError, has_part};
use std::fmt;
use std::ops::Range;
use std::path::Path;
use tellmark_compile::Built;
use tellmark_compile::check::Checked;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Clash, Origin, SetUp};
use tellmark_core::number::UFloat;
use tellmark_core::pack::{OpenError, Pack};
use tellmark_core::piece::SetUpError;
use tellmark_language::model::{Fact, Model, PieceOrder, Region, StateId};
use tellmark_language::words;
use tellmark_language::{AnswerReader, Level, Message};

/// A job, its findings in the words of the rules, and the rules.
#[derive(Debug)]
pub struct OpenJob {
    /// The job's folder.
    pub job: Job,
    /// The rules, checked and built.
    pub rules: Checked,
    /// What the piece is.
    pub order: PieceOrder,
    /// The findings that count, oldest first.
    pub findings: Vec<Finding>,
    /// The findings that a later line corrected, oldest first.
    pub corrected: Vec<Finding>,
    /// Lines of the record that these rules cannot use, and why.
    pub left_out: Vec<(usize, String)>,
}

/// Why a job cannot be opened with these rules.
#[derive(Debug)]
pub enum CannotOpen {
    /// Its folder cannot be read.
    Folder(JobError),
    /// The rules have this many errors, so there is no pack to go by.
    RulesHaveErrors(usize),
    /// The rules know no such piece.
    UnknownPiece(Box<Message>),
    /// The pack that was built from the rules does not open: our own fault.
    BadPack(OpenError),
}

impl fmt::Display for CannotOpen {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            CannotOpen::Folder(trouble) => trouble.fmt(f),
            CannotOpen::RulesHaveErrors(1) => {
                f.write_str("These rules have an error, so nothing can be worked out from them.")
            }
            CannotOpen::RulesHaveErrors(errors) => write!(
                f,
                "These rules have {errors} errors, so nothing can be worked out from them."
            ),
            CannotOpen::UnknownPiece(message) => f.write_str(&message.said()),
            CannotOpen::BadPack(why) => {
                write!(f, "internal error, please report it: a pack with {why:?}")
            }
        }
    }
}

impl std::error::Error for CannotOpen {}

impl OpenJob {
    /// Reads a job's folder in the words of rules that were checked and built. A line
    /// of the record that the rules do not understand stops nothing: it stands in
    /// [`OpenJob::left_out`].
    ///
    /// # Errors
    /// If the folder cannot be read, the rules have errors, or they do not know the
    /// piece.
    pub fn open(folder: &Path, rules: Checked) -> Result<OpenJob, CannotOpen> {
        let job = Job::open(folder).map_err(CannotOpen::Folder)?;
        let Some(built) = &rules.built else {
            return Err(CannotOpen::RulesHaveErrors(rules.count(Level::Stop)));
        };
        built.bytes.open().map_err(CannotOpen::BadPack)?;
        let model = &rules.reading.model;
        let reader = AnswerReader::new(model);
        let order = reader
            .piece(&job.header().piece)
            .map_err(|message| CannotOpen::UnknownPiece(Box::new(message)))?;
        let reader = reader.about(order.kind);
        let read: Findings<Message> = Findings::read(model, job.lines(), |text| reader.facts(text));
        let mut left_out: Vec<(usize, String)> = read
            .not_understood
            .iter()
            .map(|line| (line.line.number, line.why.said()))
            .collect();
        let known: Vec<&Fact> = read.standing().map(|f| &f.fact).collect();
        let mut findings = Vec::new();
        for finding in read.standing() {
            match has_part(model, &order, &known, &finding.fact) {
                Ok(()) => findings.push(finding.clone()),
                Err(none) => left_out.push((finding.number, none.to_string())),
            }
        }
        let mut corrected = read.all;
        corrected.retain(|finding| finding.put_right_by.is_some());
        Ok(OpenJob {
            job,
            rules,
            order,
            findings,
            corrected,
            left_out,
        })
    }

    /// What the rules say.
    #[must_use]
    pub fn model(&self) -> &Model {
        &self.rules.reading.model
    }

    /// The piece as its record says it stands.
    ///
    /// # Errors
    /// As [`OpenJob::open`], of the pack only; what was opened has one.
    pub fn view(&self) -> Result<JobView<'_>, CannotOpen> {
        let Some(built) = &self.rules.built else {
            return Err(CannotOpen::RulesHaveErrors(self.rules.count(Level::Stop)));
        };
        Ok(JobView {
            open: self,
            built,
            pack: built.bytes.open().map_err(CannotOpen::BadPack)?,
            facts: self.findings.iter().map(|finding| &finding.fact).collect(),
        })
    }

    /// What the whole piece is called: "the chest of drawers".
    #[must_use]
    pub fn piece_name(&self) -> String {
        let kind = self.model().kinds.get(self.order.kind.index());
        kind.map_or_else(String::new, |kind| format!("the {}", kind.name))
    }

    /// Where an answer was written down, and in which words. A fact is an index into
    /// [`OpenJob::findings`].
    #[must_use]
    pub fn written(&self, from: Origin) -> Written {
        let Origin::Fact(finding) = from else {
            let piece = words::piece_order(self.model(), &self.order);
            return Written {
                line: None,
                text: format!("opened as {}", words::a(&piece)),
            };
        };
        let number = self.findings.get(finding).map_or(0, |f| f.number);
        Written {
            line: Some(number),
            text: self.line_text(number).to_owned(),
        }
    }

    /// The words of a line of the record; empty if there is no such line.
    #[must_use]
    pub fn line_text(&self, number: usize) -> &str {
        let line = self.job.lines().iter().find(|line| line.number == number);
        line.map_or("", |line| line.text.as_str())
    }
}

/// Something that a job's folder says, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// The line of the record, from 1; `None` for how the job was opened, which stands
    /// in `job.txt`.
    pub line: Option<usize>,
    /// The words.
    pub text: String,
}

impl Written {
    /// "line 11", "job.txt".
    #[must_use]
    pub fn place(&self) -> String {
        let line = self.line.map(|number| format!("line {number}"));
        line.unwrap_or_else(|| HEADER_FILE.to_owned())
    }
}

/// The piece of an open job, ready to be asked about.
#[derive(Clone, Debug)]
pub struct JobView<'j> {
    /// The job.
    pub open: &'j OpenJob,
    /// The rules, compiled.
    pub built: &'j Built,
    /// The pack of the rules.
    pub pack: Pack<'j>,
    facts: Vec<&'j Fact>,
}

impl JobView<'_> {
    /// What the piece is set up from.
    #[must_use]
    pub fn set_up(&self) -> SetUp<'_> {
        SetUp {
            model: self.open.model(),
            built: self.built,
            order: &self.open.order,
            facts: &self.facts,
        }
    }

    /// What the owner wishes and decided, and what was done.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn progress(&self) -> Result<Progress, SetUpError> {
        Progress::read(&self.set_up(), self.pack, self.open.job.entries())
    }

    /// The findings that cannot all be true under the rules, if there are such.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn clash(&self) -> Result<Option<Clash>, SetUpError> {
        let mut room = Room::<UFloat>::default();
        let mut case = self.set_up().case(self.pack, &mut room)?;
        Ok(case.clash())
    }

    /// The findings that sit oddly together, where something is doubted that these lines
    /// of the record say.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn odd_beside(&self, lines: Range<usize>) -> Result<Vec<Odd>, SetUpError> {
        let is_said_there = |from| match from {
            Origin::Opened => false,
            Origin::Fact(fact) => self
                .open
                .findings
                .get(fact)
                .is_some_and(|f| lines.contains(&f.number)),
        };
        advice::odd(&self.set_up(), self.pack, is_said_there)
    }

    /// Likely hidden faults with their reasons.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn triage(&self) -> Result<Triage, SetUpError> {
        advice::triage(&self.set_up(), self.pack)
    }

    /// What is worth looking at next, best first; `None` if the findings clash.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn next(&self) -> Result<Option<Vec<Check>>, SetUpError> {
        advice::next(&self.set_up(), self.pack)
    }

    /// What the chance of one state of one part rests on; `None` if the findings clash.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn why(&self, part: usize, state: StateId) -> Result<Option<Why>, SetUpError> {
        advice::why(&self.set_up(), self.pack, part, state)
    }

    /// What was found of one state of one part, if no rule reads it; `None` if one does.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn unread(&self, part: usize, state: StateId) -> Result<Option<Unread>, SetUpError> {
        advice::unread(&self.set_up(), self.pack, part, state)
    }

    /// When the piece was made, and which parts are original.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn date(&self, made_in: Option<Region>, year: u16) -> Result<Dated, SetUpError> {
        advice::date(&self.set_up(), self.pack, made_in, year)
    }

    /// The work that the findings call for, in order.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn plan(&self, progress: &Progress) -> Result<WorkPlan, SetUpError> {
        advice::plan(&self.set_up(), self.pack, progress)
    }

    /// The hours that the work will take, and what they hang on.
    ///
    /// # Errors
    /// If the piece cannot be set up or its hours cannot be worked out.
    pub fn quote(&self, progress: &Progress) -> Result<Quote, NoQuote> {
        advice::quote(&self.set_up(), self.pack, progress)
    }
}
