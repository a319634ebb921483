//! Notes on their way into a job's record: played back, put into words, kept as
//! they were sent and written down.

use super::bench::{Bench, Said, Unsaid};
use super::fetch::{Fetched, Rules, Target};
use super::fetch_error::FetchError;
use super::ledger::{LEDGER_FILE, Ledger};
use crate::bench;
use std::path::Path;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::SetUp;
use tellmark_core::log::Entry;
use tellmark_core::number::UFloat;
use tellmark_core::piece::Part;
use tellmark_core::record::Noted;
use tellmark_job::record::{Findings, Header, Job, has_part};
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, Found, PieceOrder};
use tellmark_language::words;

/// Notes on their way into a job's record.
pub(super) struct Work<'r> {
    pub rules: Rules<'r>,
    pub target: Target<'r>,
    log: u32,
    reader: AnswerReader<'r>,
    pub bench: Bench<'r>,
    pub job: Option<(Job, Ledger)>,
    /// It has a piece from this unit.
    had_piece: bool,
    /// The notes up to this one were dealt with.
    pub done: u32,
    /// The notes since a piece was begun, until it is set up.
    pub held: Vec<Entry>,
    /// Notes that can be written, and their lines.
    ready: Vec<Entry>,
    lines: Vec<(u32, String)>,
    /// Counts that the job's record says, and these lines.
    counts: Vec<Fact>,
    pub fetched: Fetched,
}

impl<'r> Work<'r> {
    pub fn new(
        rules: Rules<'r>,
        target: Target<'r>,
        room: &'r mut bench::Room,
        log: u32,
        acknowledged: u32,
    ) -> Result<Work<'r>, FetchError> {
        let mut work = Work {
            rules,
            target,
            log,
            reader: AnswerReader::new(rules.model),
            bench: Bench::new(rules.model, rules.built, room)?,
            job: None,
            had_piece: false,
            done: acknowledged,
            held: Vec::new(),
            ready: Vec::new(),
            lines: Vec::new(),
            counts: Vec::new(),
            fetched: Fetched::default(),
        };
        if std::fs::symlink_metadata(target.folder).is_err() {
            return Ok(work);
        }
        let job = Job::open(target.folder)?;
        let ledger = Ledger::open(target.folder, log)?;
        // Notes after those that this job has, but acknowledged, went into
        // another job: what follows them does not go on about this one's piece.
        if ledger.done.max(ledger.kept) >= acknowledged {
            work.done = ledger.done;
            work.play_back(&ledger)?;
        }
        let told = ledger.notes.range(..=ledger.done);
        work.had_piece = told
            .into_iter()
            .any(|(_, entry)| matches!(entry.noted, Noted::SetUp { .. }));
        work.job = Some((job, ledger));
        work.counts = work.facts()?;
        work.counts
            .retain(|fact| matches!(fact.found, Found::Count { .. }));
        Ok(work)
    }

    /// Puts into words what the job's folder only kept until now, and writes it down.
    pub fn take_what_is_kept(&mut self) -> Result<(), FetchError> {
        let kept = self.ledger().map(Ledger::only_kept).unwrap_or_default();
        if kept.is_empty() {
            return Ok(());
        }
        self.take(&kept)?;
        self.write()?;
        Ok(())
    }

    pub fn ledger(&self) -> Option<&Ledger> {
        self.job.as_ref().map(|(_, ledger)| ledger)
    }

    /// Brings the bench to where the job's notes leave it.
    fn play_back(&mut self, ledger: &Ledger) -> Result<(), FetchError> {
        let told: Vec<Noted> = ledger
            .notes
            .range(..=ledger.done)
            .map(|(_, entry)| entry.noted)
            .collect();
        let begins = |noted: &Noted| matches!(noted, Noted::Begun { .. });
        let begun = told.iter().rposition(begins).unwrap_or(told.len());
        for noted in told.into_iter().skip(begun) {
            // What could not be said then cannot be said now.
            if let Err(Unsaid::OtherRules { pack }) = self.bench.take(noted) {
                return Err(FetchError::OtherRules {
                    notes: pack,
                    rules: self.rules.built.bytes.open()?.id(),
                    kept: None,
                });
            }
        }
        Ok(())
    }

    /// What the job's record says.
    fn facts(&self) -> Result<Vec<Fact>, FetchError> {
        let Some((job, _)) = &self.job else {
            return Ok(Vec::new());
        };
        let (model, order) = (self.rules.model, self.order(job)?);
        let reader = AnswerReader::new(model).about(order.kind);
        let read = |text: &str| reader.facts(text);
        let findings = Findings::read(model, job.lines(), read);
        let known: Vec<&Fact> = findings.standing().map(|f| &f.fact).collect();
        let of_this_piece = |fact: &&&Fact| has_part(model, &order, &known, fact).is_ok();
        let facts = known.iter().filter(of_this_piece);
        Ok(facts.copied().cloned().collect())
    }

    fn order(&self, job: &Job) -> Result<PieceOrder, FetchError> {
        self.reader
            .piece(&job.header().piece)
            .map_err(|message| FetchError::Unknown(Box::new(message)))
    }

    /// Takes notes, in order, until one begins another piece.
    pub fn take(&mut self, entries: &[Entry]) -> Result<(), FetchError> {
        for entry in entries {
            if let Noted::Begun { root, pack } = entry.noted
                && self.stops_at_begun(root, pack)?
            {
                self.fetched.more = true;
                return Ok(());
            }
            self.missing(entry.sequence);
            self.done = entry.sequence;
            self.note(*entry)?;
        }
        Ok(())
    }

    /// Says which notes are left out before this one; in one line, however many.
    fn missing(&mut self, before: u32) {
        let first = self.done.saturating_add(1);
        let number = before.saturating_sub(first);
        let text = match number {
            0 => return,
            1 => format!("note {first} was damaged on the unit and cannot be read"),
            _ => format!(
                "notes {first} to {} were damaged on the unit and cannot be read",
                before - 1
            ),
        };
        self.remark(before, &text);
        self.fetched.damaged += number as usize;
    }

    /// A piece is begun: whether that is for another time.
    fn stops_at_begun(&self, root: u16, pack: u32) -> Result<bool, FetchError> {
        let is_first = self.fetched.notes == 0 && self.ready.is_empty() && self.held.is_empty();
        if !is_first {
            return Ok(self.bench.has_piece());
        }
        let model = self.rules.model;
        let root = usize::from(root);
        let known =
            pack == self.rules.built.bytes.open()?.id() && root < self.rules.built.places.len();
        if known && self.had_piece && !self.target.again {
            let kind = model.kinds.get(self.rules.built.places.kind(root).index());
            return Err(FetchError::BegunAgain {
                unit: kind.map_or("piece", |kind| &kind.name).to_owned(),
            });
        }
        Ok(false)
    }

    fn note(&mut self, entry: Entry) -> Result<(), FetchError> {
        let begins = matches!(entry.noted, Noted::Begun { .. });
        if begins {
            // A piece that was begun and not set up is begun again.
            self.ready.append(&mut self.held);
        }
        match self.bench.take(entry.noted) {
            Ok(said) => {
                match said {
                    Some(Said::Finding(text)) => self.finding(entry, &text),
                    Some(Said::Label(text)) => self.say(entry.sequence, &text),
                    Some(Said::Remark(text)) => self.remark(entry.sequence, &text),
                    None => {}
                }
                if matches!(entry.noted, Noted::SetUp { .. }) {
                    self.set_up(entry.sequence)?;
                }
            }
            Err(Unsaid::OtherRules { pack }) => {
                return Err(FetchError::OtherRules {
                    notes: pack,
                    rules: self.rules.built.bytes.open()?.id(),
                    kept: None,
                });
            }
            Err(Unsaid::NoPiece)
                if self.fetched.notes == 0 && self.ready.is_empty() && self.held.is_empty() =>
            {
                return Err(FetchError::NoBeginning);
            }
            Err(Unsaid::NoPiece | Unsaid::NoSuch) if !self.bench.has_piece() => {
                return Err(FetchError::NoPiece);
            }
            Err(Unsaid::NoPiece | Unsaid::NoSuch) => self.unsaid(entry),
        }
        if self.bench.has_piece() {
            self.ready.append(&mut self.held);
            self.ready.push(entry);
        } else {
            self.held.push(entry);
        }
        Ok(())
    }

    fn finding(&mut self, entry: Entry, text: &str) {
        let order = self.bench.order();
        let (Ok(facts), Some(order)) = (self.reader.facts(text), order) else {
            return self.unsaid(entry);
        };
        let known: Vec<&Fact> = self.counts.iter().collect();
        let has_part = |fact: &Fact| has_part(self.rules.model, &order, &known, fact).is_ok();
        if !facts.iter().all(has_part) {
            return self.unsaid(entry);
        }
        let counts = |fact: &Fact| matches!(fact.found, Found::Count { .. });
        self.counts.extend(facts.into_iter().filter(counts));
        self.say(entry.sequence, text);
    }

    fn say(&mut self, number: u32, text: &str) {
        let minute = self.target.now.strftime("%Y-%m-%d %H:%M");
        self.lines.push((number, format!("{minute}  {text}")));
    }

    fn remark(&mut self, number: u32, text: &str) {
        let minute = self.target.now.strftime("%Y-%m-%d %H:%M");
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let line = format!("# {minute}  bench unit: {text}");
        self.lines.push((number, line));
    }

    fn unsaid(&mut self, entry: Entry) {
        let number = entry.sequence;
        let text = format!("note {number} is not in the words of these rules; see {LEDGER_FILE}");
        self.remark(number, &text);
        self.fetched.unsaid += 1;
    }

    /// The piece stands: the job's must be the same.
    fn set_up(&mut self, number: u32) -> Result<(), FetchError> {
        let unit = self.bench.name();
        if self.job.is_none() {
            let model = self.rules.model;
            let header = Header::new(&unit, self.target.now, &model.title, model.version);
            let (parent, name) = (self.target.folder.parent(), self.target.folder.file_name());
            let parent = match parent {
                Some(parent) if !parent.as_os_str().is_empty() => parent,
                _ => Path::new("."),
            };
            let name = name.unwrap_or_default().to_string_lossy();
            let job = Job::create(parent, &name, &header)?;
            let ledger = Ledger::open(job.folder(), self.log)?;
            self.job = Some((job, ledger));
            self.fetched.created = true;
        }
        self.remark(number, "the piece is set up");
        let mut facts = self.facts()?;
        let Some((job, _)) = &self.job else {
            return Ok(());
        };
        let order = self.order(job)?;
        let other = || FetchError::OtherPiece {
            job: words::piece_order(self.rules.model, &order),
            unit: unit.clone(),
        };
        let kind = self.bench.order().map(|order| order.kind);
        if kind != Some(order.kind) {
            return Err(other());
        }
        let mut counted = Vec::new();
        for _ in 0..=self.bench.parts().len() {
            let parts = self.parts_of(&order, &facts)?;
            let Some(difference) = self.bench.differs(&parts) else {
                break;
            };
            if difference.is_named {
                return Err(other());
            }
            let text = self
                .bench
                .counted(&difference)
                .map_err(|why| FetchError::Broken(format!("{why:?}")))?;
            facts.extend(self.reader.facts(&text).unwrap_or_default());
            counted.push(text);
        }
        let counts = |fact: &&Fact| matches!(fact.found, Found::Count { .. });
        self.counts = facts.iter().filter(counts).cloned().collect();
        for text in counted {
            self.say(number, &text);
        }
        Ok(())
    }

    /// The parts of the job's piece.
    fn parts_of(&self, order: &PieceOrder, facts: &[Fact]) -> Result<Vec<Part>, FetchError> {
        let facts: Vec<&Fact> = facts.iter().collect();
        let set_up = SetUp {
            model: self.rules.model,
            built: self.rules.built,
            order,
            facts: &facts,
            later: None,
        };
        let mut room = Room::<UFloat>::default();
        let inspection = set_up
            .bare(self.rules.built.bytes.open()?, &mut room)
            .map_err(|why| FetchError::Broken(format!("{why:?}")))?;
        Ok(inspection.piece().parts().to_vec())
    }

    /// Keeps what is ready, and writes it into the record. The number of the
    /// last note that is there now, if there is a new one.
    pub fn write(&mut self) -> Result<Option<u32>, FetchError> {
        let (Some((job, ledger)), Some(last)) = (&mut self.job, self.ready.last()) else {
            return Ok(None);
        };
        let last = last.sequence;
        let kept: String = self.ready.iter().map(|entry| ledger.note(entry)).collect();
        // After a power failure, some of these lines may be there already, under
        // the minute of that time.
        let mut there = std::mem::take(&mut ledger.there);
        let mut missing = std::mem::take(&mut self.lines);
        missing.retain(|(number, line)| {
            let same = |(n, l): &(u32, String)| n == number && said(l) == said(line);
            there.iter().position(same).is_none_or(|at| {
                there.swap_remove(at);
                false
            })
        });
        if missing.is_empty() {
            ledger.append(&kept)?;
        } else {
            let text: String = missing.iter().flat_map(|(_, l)| [l, "\n"]).collect();
            job.append_lines(&text, self.target.now, |at| {
                let (mut at, mut lines) = (at, kept);
                for (number, line) in &missing {
                    lines.push_str(&ledger.line(*number, at, line));
                    at += line.len() as u64 + 1;
                }
                ledger.append(&lines)
            })?;
        }
        if let Err(why) = ledger.finish(last) {
            return Err(FetchError::NotTicked {
                lines: missing.len(),
                why,
            });
        }
        self.fetched.notes += self.ready.len();
        self.ready.clear();
        let written = missing.into_iter().map(|(_, line)| line);
        self.fetched.lines.extend(written);
        Ok(Some(last))
    }
}

/// What a line says, without the minute in front of it.
fn said(line: &str) -> &str {
    line.split_once("  ").map_or(line, |(_, said)| said)
}
