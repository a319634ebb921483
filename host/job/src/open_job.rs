//! A job with the rules it is judged by: the one way in for commands, reports and the
//! bench screen.
//!
//! [`OpenJob`] has everything that was read from the job's folder, in the words of the
//! rules. [`JobView`] is the piece as it stands, ready to be asked.

use crate::advice::{
    self, Check, Dated, NoQuote, Odd, Progress, Quote, Reckoned, Triage, Unread, Why, WorkPlan,
};
use crate::house::{self, Amiss};
use crate::moments::{self, Moments, Now};
use crate::record::{Entry, Finding, Findings, HEADER_FILE, Job, JobError, Says, has_part};
use std::fmt;
use std::ops::Range;
use std::path::Path;
use tellmark_compile::Built;
use tellmark_compile::check::Checked;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Clash, Later, Mended, NoLater, Origin, SetUp, part_ref, resolve};
use tellmark_core::number::UFloat;
use tellmark_core::pack::{OpenError, Pack};
use tellmark_core::piece::SetUpError;
use tellmark_core::truth::Truth;
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
    /// What was found of the piece as it came in, oldest first: the findings that count.
    pub findings: Vec<Finding>,
    /// The findings that a later line corrected, oldest first.
    pub corrected: Vec<Finding>,
    /// The piece as it is now, if something was mended.
    pub now: Option<Now>,
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
    /// What was mended cannot be reckoned with.
    NoLater(NoLater),
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
            CannotOpen::NoLater(NoLater::TooTangled) => f.write_str(
                "Something was mended, and the rules tie too many parts of this piece together \
                 to reckon with it. Fewer parts that hang together, or fewer that are counted \
                 usually, would do.",
            ),
            CannotOpen::NoLater(NoLater::SetUp(why)) => {
                write!(f, "internal error, please report it: {why:?}")
            }
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
        let mut all = read.all.clone();
        all.retain(|finding| has_part(model, &order, &known, &finding.fact).is_ok());
        let mut corrected = read.all;
        corrected.retain(|finding| finding.put_right_by.is_some());
        let mut open = OpenJob {
            job,
            rules,
            order,
            findings,
            corrected,
            now: None,
            left_out,
        };
        open.tell_moments_apart(&all)?;
        Ok(open)
    }

    /// What was mended makes two moments of one.
    fn tell_moments_apart(&mut self, all: &[Finding]) -> Result<(), CannotOpen> {
        let is_tick = |entry: &Entry| matches!(entry.says, Says::Done { .. });
        if !self.job.entries().iter().any(is_tick) {
            return Ok(());
        }
        let view = self.as_found()?;
        // Whoever goes by it hears that it cannot be set up.
        let Ok(progress) = view.progress() else {
            return Ok(());
        };
        let told = moments::moments(&view.set_up(), view.pack, all, &progress);
        let told = match told {
            Err(NoLater::SetUp(_)) => return Ok(()),
            told => told.map_err(CannotOpen::NoLater)?,
        };
        if let Some(Moments { found, now }) = told {
            let (findings, corrected) = moments::standing(&view.set_up(), &found);
            self.findings = findings;
            self.corrected = corrected;
            self.now = Some(now);
        }
        Ok(())
    }

    /// What the rules say.
    #[must_use]
    pub fn model(&self) -> &Model {
        &self.rules.reading.model
    }

    /// The piece as it stands now: with what was mended, and what was noted since.
    ///
    /// # Errors
    /// As [`OpenJob::open`], of the pack only; what was opened has one.
    pub fn view(&self) -> Result<JobView<'_>, CannotOpen> {
        let Some(now) = &self.now else {
            return Ok(JobView {
                is_now: true,
                ..self.as_found()?
            });
        };
        let holding = now.findings.iter().take(now.holding);
        Ok(JobView {
            findings: &now.findings,
            facts: holding.map(|finding| &finding.fact).collect(),
            later: Some(&now.later),
            is_now: true,
            ..self.as_found()?
        })
    }

    /// The piece as it was found, with everything that opening it up showed.
    ///
    /// # Errors
    /// As [`OpenJob::view`].
    pub fn as_found(&self) -> Result<JobView<'_>, CannotOpen> {
        let Some(built) = &self.rules.built else {
            return Err(CannotOpen::RulesHaveErrors(self.rules.count(Level::Stop)));
        };
        Ok(JobView {
            open: self,
            built,
            pack: built.bytes.open().map_err(CannotOpen::BadPack)?,
            findings: &self.findings,
            facts: self.findings.iter().map(|finding| &finding.fact).collect(),
            later: None,
            is_now: false,
        })
    }

    /// What the rules are called that the job is read by.
    #[must_use]
    pub fn house(&self) -> String {
        house::name(&self.rules.reading)
    }

    /// By whose rules the job was begun, or has gone by since; `None` if it does not say.
    #[must_use]
    pub fn goes_by(&self) -> Option<&str> {
        let entries = self.job.entries().iter().rev();
        let mut gone_over = entries.filter_map(|entry| match &entry.says {
            Says::Rules { house, .. } => Some(house.as_str()),
            _ => None,
        });
        gone_over.next().or(self.job.header().house.as_deref())
    }

    /// What is amiss between the job and the rules that it is read by.
    ///
    /// Every house builds on the standard rules, so a job that was begun by these alone can be
    /// read by any house.
    #[must_use]
    pub fn amiss(&self, progress: &Progress) -> Amiss {
        let house = self.house();
        let other = self.goes_by().filter(|begun| {
            *begun != house && *begun != self.model().title && *begun != house::standard_title()
        });
        let labelled = progress.not_understood.iter().map(|told| told.line);
        let lines = self.left_out.iter().map(|(line, _)| *line);
        Amiss {
            other: other.map(str::to_owned),
            not_known: lines.chain(labelled).collect(),
            house,
        }
    }

    /// What the whole piece is called: "the chest of drawers".
    #[must_use]
    pub fn piece_name(&self) -> String {
        let kind = self.model().kinds.get(self.order.kind.index());
        kind.map_or_else(String::new, |kind| format!("the {}", kind.name))
    }

    /// The words of a line of the record; empty if there is no such line.
    #[must_use]
    pub fn line_text(&self, number: usize) -> &str {
        let line = self.job.lines().iter().find(|line| line.number == number);
        line.map_or("", |line| line.text.as_str())
    }

    /// What a line of the record says, with its label if it has one.
    #[must_use]
    pub fn said(&self, number: usize) -> String {
        let mut entries = self.job.entries().iter();
        let entry = entries.find(|entry| entry.number == number);
        let text = || self.line_text(number).to_owned();
        entry.map_or_else(text, |entry| entry.says.shown())
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
    /// What is on record of this moment, oldest first.
    pub findings: &'j [Finding],
    facts: Vec<&'j Fact>,
    later: Option<&'j Later>,
    /// Whether this is the piece as it stands now, so that what is done counts.
    is_now: bool,
}

impl JobView<'_> {
    /// Where an answer was written down, and in which words. A fact is an index into
    /// [`JobView::findings`].
    #[must_use]
    pub fn written(&self, from: Origin) -> Written {
        let Origin::Fact(finding) = from else {
            let piece = words::piece_order(self.open.model(), &self.open.order);
            return Written {
                line: None,
                text: format!("opened as {}", words::a(&piece)),
            };
        };
        let number = self.findings.get(finding).map_or(0, |f| f.number);
        Written {
            line: Some(number),
            text: self.open.said(number),
        }
    }

    /// What the rules say.
    #[must_use]
    pub fn model(&self) -> &Model {
        self.open.model()
    }

    /// What was found, was mended since, and is not there again, in the order of the record.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn mended_since(&self) -> Result<Vec<Mended>, SetUpError> {
        let (Some(now), Ok(found)) = (&self.open.now, self.open.as_found()) else {
            return Ok(Vec::new());
        };
        let mut room = Room::<UFloat>::default();
        let case = found.set_up().case(self.pack, &mut room)?;
        let was_so = |mended: &&Mended| {
            let row = self.built.states.number(mended.state);
            let state = self.pack.state(usize::from(row));
            let truth = case
                .inspection
                .piece()
                .truth(&self.pack, mended.part, &state);
            truth == Truth::True
        };
        let mended = now
            .later
            .mended
            .iter()
            .filter(|mended| mended.again.is_none());
        Ok(mended.filter(was_so).copied().collect())
    }

    /// What a part is called: "left runner of drawer 2".
    #[must_use]
    pub fn part_name(&self, part: usize) -> String {
        let mut room = Room::<UFloat>::default();
        let Ok(bare) = self.set_up().bare(self.pack, &mut room) else {
            return String::new();
        };
        let reference = part_ref(&self.built.places, bare.piece().parts(), part);
        words::part_name(self.model(), &reference)
    }

    /// The parts that go by these names, as core counts them.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn parts_called(&self, names: &[String]) -> Result<Vec<usize>, SetUpError> {
        let mut room = Room::<UFloat>::default();
        let set_up = self.set_up();
        let case = set_up.bare(self.pack, &mut room)?;
        let reader = AnswerReader::new(set_up.model).about(set_up.order.kind);
        let meant = names.iter().filter_map(|name| reader.part(name).ok());
        let parts = meant.flat_map(|part| resolve(self.built, &case, &part));
        Ok(parts.collect())
    }

    /// The parts that each of these findings is about, as core counts them.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn parts_of_each(&self, findings: &[Finding]) -> Result<Vec<Vec<usize>>, SetUpError> {
        let mut room = Room::<UFloat>::default();
        let bare = self.set_up().bare(self.pack, &mut room)?;
        let parts = |finding: &Finding| resolve(self.built, &bare, &finding.fact.part);
        Ok(findings.iter().map(parts).collect())
    }

    /// How many findings there are of this moment.
    #[must_use]
    pub fn noted(&self) -> usize {
        let is_tick = |line| self.later().is_some_and(|now| now.is_tick(line));
        let noted = self.findings.iter().filter(|f| !is_tick(f.number));
        noted.count()
    }

    /// The piece after something was mended; `None` if this is the piece as it was found,
    /// or nothing was.
    #[must_use]
    pub fn later(&self) -> Option<&Now> {
        self.open.now.as_ref().filter(|_| self.later.is_some())
    }

    /// What the piece is set up from.
    #[must_use]
    pub fn set_up(&self) -> SetUp<'_> {
        SetUp {
            model: self.open.model(),
            built: self.built,
            order: &self.open.order,
            facts: &self.facts,
            later: self.later,
        }
    }

    /// What the owner wishes and decided, and what was done.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn progress(&self) -> Result<Progress, SetUpError> {
        let mut progress = Progress::read(&self.set_up(), self.pack, self.open.job.entries())?;
        progress.take_in_findings(&self.set_up(), self.pack, self.findings)?;
        Ok(progress)
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
            Origin::Fact(fact) => {
                let found = self.findings.get(fact);
                found.is_some_and(|f| lines.contains(&f.number))
            }
        };
        match self.later {
            Some(_) => Ok(Vec::new()),
            None => advice::odd(&self.set_up(), self.pack, is_said_there),
        }
    }

    /// What the owner is told of looking after the piece.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn owner_told(&self) -> Result<Vec<advice::OwnerTold>, SetUpError> {
        advice::owner_told(&self.set_up(), self.pack)
    }

    /// Likely hidden faults with their reasons.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn triage(&self) -> Result<Triage, SetUpError> {
        let progress = match self.is_now {
            true => Some(self.progress()?),
            false => None,
        };
        advice::triage(&self.set_up(), self.pack, progress.as_ref())
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

    /// The measures that are worked out by a sum of the handbook, as far as they are known.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn reckoned(&self) -> Result<Vec<Reckoned>, SetUpError> {
        advice::reckoned(&self.set_up(), self.pack)
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
