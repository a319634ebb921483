//! What the owner wishes and decided, and what was done, put to the rules and the
//! parts of the piece.

use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::piece::{Piece, SetUpError};
use tellmark_core::plan::Status;

use super::follows::ties;
use super::mends;
use crate::limit::Limit;
use crate::record::{Decision, Entry, Finding, Photo, Says, When, has_part};
use crate::worries::Worries;
use std::collections::BTreeSet;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::found_out;
use tellmark_compile::set_up::{Mend, SetUp, part_ref, resolve};
use tellmark_language::AnswerReader;
use tellmark_language::model::{
    Fact, Found, Job, KindId, Minutes, Model, PartRef, StateId, Thousandths,
};
use tellmark_language::words;

/// Something that the record says with a label, and where.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told<T> {
    /// What.
    pub what: T,
    /// The line of the record, from 1.
    pub line: usize,
    /// When it was written down.
    pub when: When,
}

/// Parts of the piece, as core counts them, and in words.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Parts {
    /// Indices in the piece. Everything built into one of them is meant too.
    pub indices: Vec<usize>,
    /// What they are called.
    pub names: Vec<String>,
}

/// A part that must not be touched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Left {
    /// Which.
    pub parts: Parts,
    /// Why; may be empty.
    pub because: String,
}

/// What was said of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// The owner agreed to it.
    Agreed,
    /// The owner will not have it.
    Refused,
    /// It is done.
    Done,
    /// It is not done after all.
    NotDone,
    /// What the owner had decided about it holds no more.
    Undecided,
}

impl Mark {
    /// Whether the owner decided something, or took it back, rather than that work was done.
    #[must_use]
    pub fn is_decision(self) -> bool {
        matches!(self, Mark::Agreed | Mark::Refused | Mark::Undecided)
    }
}

/// A job with what was said of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Marked {
    /// What was said.
    pub mark: Mark,
    /// The job as the record names it.
    pub job: String,
    /// Its index in the model; `None` if these rules have no such job.
    pub index: Option<usize>,
    /// The parts that it is said of; none: wherever it is called for.
    pub parts: Parts,
    /// What it took, if it says.
    pub took: Option<Minutes>,
    /// How and why; may be empty.
    pub words: String,
    /// Of a job that is done: the states that it mends, each with its part.
    pub mends: Vec<(usize, StateId)>,
    /// Of a job that is done: how often that fails.
    pub fails: Thousandths,
}

/// Work that no rule plans, as somebody wants it done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnWork {
    /// What, in their words.
    pub job: String,
    /// Where.
    pub parts: Parts,
    /// What it takes on each part.
    pub takes: Minutes,
}

/// A photograph, and the part it shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pictured {
    /// The photograph.
    pub photo: Photo,
    /// What it shows.
    pub parts: Parts,
}

/// A caution that was heeded, and about what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heeded {
    /// The part.
    pub parts: Parts,
    /// The caution's words.
    pub caution: String,
}

/// Something that a tick mended, and that is there after it, or may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Again {
    /// The line of the tick.
    line: usize,
    part: usize,
    /// Whether it was there before, so that the mend has failed.
    was_there: bool,
}

/// Everything that the record says with a label.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// What the piece is for, in the owner's own words.
    pub wishes: Vec<Told<String>>,
    /// How far the work may go.
    pub limits: Vec<Told<Limit>>,
    /// What must not be touched.
    pub left: Vec<Told<Left>>,
    /// What was decided and done, oldest first.
    pub marks: Vec<Told<Marked>>,
    /// Work to be done that no rule plans, oldest first; done or not.
    pub own: Vec<Told<OwnWork>>,
    /// Photographs, oldest first.
    pub photos: Vec<Told<Pictured>>,
    /// Cautions that were heeded at the bench, oldest first.
    pub heeded: Vec<Told<Heeded>>,
    /// The line that says last that the piece is looked over.
    pub finished: Option<usize>,
    /// Lines that the rules do not understand, and why.
    pub not_understood: Vec<Told<String>>,
    /// What may be touched after all: the line that says so, and the parts.
    freed: Vec<(usize, Parts)>,
    owners: Vec<Vec<usize>>,
    /// Jobs that would find out what is known already, each with the part.
    pub(super) found_out: BTreeSet<(usize, usize)>,
    /// Jobs that must be followed by another, by their indices: which, and by which.
    pub(super) ties: Vec<(usize, usize)>,
    /// The parts that each job works on besides the one that it is done for, wherever they are.
    touched: Vec<Vec<usize>>,
    /// What was mended and is there now, or may be.
    again: Vec<Again>,
    /// Where something was found that is not as it should be: the line, and the part.
    found: Vec<(usize, usize)>,
}

impl Progress {
    /// Puts the labelled lines of a record to the rules.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn read(
        set_up: &SetUp<'_>,
        pack: Pack<'_>,
        entries: &[Entry],
    ) -> Result<Progress, SetUpError> {
        let mut room = Room::<UFloat>::default();
        let case = set_up.case(pack, &mut room)?;
        let piece = case.inspection.piece();
        let mut progress = Progress {
            owners: (0..piece.parts().len())
                .map(|part| piece.owners(part).collect())
                .collect(),
            ties: ties(set_up.model),
            found_out: found_out(set_up, &case),
            touched: touched(set_up.model, piece),
            ..Progress::default()
        };
        let reader = AnswerReader::new(set_up.model).about(set_up.order.kind);
        let find = |part: &str| -> Result<Parts, String> {
            let meant = reader.part(part).map_err(|why| why.said())?;
            let about = Fact {
                at: meant.at,
                part: meant.clone(),
                found: Found::PartCannotBeSeen,
            };
            has_part(set_up.model, set_up.order, set_up.facts, &about)
                .map_err(|none| none.to_string())?;
            let indices = resolve(set_up.built, &case.inspection, &meant);
            let names = named(set_up, piece, &indices, &meant);
            Ok(Parts { indices, names })
        };
        let name = |part: usize| named_one(set_up, piece, part);
        for entry in entries {
            if let Err(why) = progress.take(set_up, &reader, &find, &name, entry) {
                progress.not_understood.push(told(entry, why));
            }
        }
        for told in &mut progress.marks {
            let (line, marked) = (told.line, &mut told.what);
            if let Mark::Done = marked.mark {
                let of_one_s_own = entries.iter().find(|entry| entry.number == line);
                match mends::mended(set_up, &case.inspection, &reader, marked, of_one_s_own) {
                    Ok(mended) => marked.mends = mended,
                    Err(what) => progress.not_understood.push(Told {
                        what,
                        line,
                        when: told.when,
                    }),
                }
            }
        }
        if let Some(later) = set_up.later {
            let again = later.mended.iter().filter(|mended| mended.is_in_doubt());
            let again = again.map(|mended| Again {
                line: mended.line,
                part: mended.part,
                was_there: mended.was_there,
            });
            progress.again = again.collect();
        }
        Ok(progress)
    }

    /// Takes in where something was found that is not as it should be: a caution that ended with
    /// a job is there again by it.
    ///
    /// # Errors
    /// If the piece cannot be set up.
    pub fn take_in_findings(
        &mut self,
        set_up: &SetUp<'_>,
        pack: Pack<'_>,
        findings: &[Finding],
    ) -> Result<(), SetUpError> {
        if self.done().next().is_none() {
            return Ok(());
        }
        let mut room = Room::<UFloat>::default();
        let bare = set_up.bare(pack, &mut room)?;
        let worries = Worries::of(set_up.model);
        let wrong = findings
            .iter()
            .filter(|finding| worries.is_one(set_up.model, &finding.fact));
        self.found = wrong
            .flat_map(|finding| {
                let parts = resolve(set_up.built, &bare, &finding.fact.part);
                parts.into_iter().map(|part| (finding.number, part))
            })
            .collect();
        Ok(())
    }

    /// Whether a job is done on a part, and nothing wrong was found there since.
    #[must_use]
    pub fn is_done_for_good(&self, job: usize, part: usize) -> bool {
        let done = self.done_in(job, part);
        done.is_some_and(|line| {
            let mut found = self.found.iter();
            !found.any(|&(number, at)| number > line && at == part)
        })
    }

    /// Takes in one line. `find` looks parts up by their words, `name` says what a part
    /// is called.
    fn take(
        &mut self,
        set_up: &SetUp<'_>,
        reader: &AnswerReader<'_>,
        find: &impl Fn(&str) -> Result<Parts, String>,
        name: &impl Fn(usize) -> String,
        entry: &Entry,
    ) -> Result<(), String> {
        match &entry.says {
            Says::Wish(words) => self.wishes.push(told(entry, words.clone())),
            Says::NotWish(words) => self.forget_wish(words)?,
            Says::Limit(words) => {
                let limit = Limit::read(words, reader, entry.when.date());
                // The owner has one limit of a sort: the last.
                self.limits
                    .retain(|told| !told.what.on.is_of_one_sort(&limit.on));
                self.limits.push(told(entry, limit));
            }
            Says::NotLimit(words) => self.forget_limit(words)?,
            Says::Leave { part, because } => {
                let parts = find(part)?;
                let because = because.clone();
                self.left.push(told(entry, Left { parts, because }));
            }
            Says::NotLeave { part } => self.free(entry.number, find(part)?, name),
            Says::Agreed(_)
            | Says::Refused(_)
            | Says::NotDecided { .. }
            | Says::Done { .. }
            | Says::NotDone { .. } => {
                let is_own = |job: &str| self.own.iter().any(|own| is_said(&own.what.job, job));
                if let Some(marked) = marked(set_up, reader, (find, &is_own), &entry.says)? {
                    let mark = marked.mark;
                    self.marks.push(told(entry, marked));
                    match mark {
                        Mark::NotDone => self.take_back(&[Mark::Done], name),
                        Mark::Undecided => self.undecide(name),
                        Mark::Agreed | Mark::Refused | Mark::Done => {}
                    }
                }
            }
            Says::OwnWork { job, parts, takes } => {
                let own = own_work(reader, find, name, (job, parts, takes))?;
                // What was planned of it before holds for the other parts.
                for earlier in self
                    .own
                    .iter_mut()
                    .filter(|told| is_said(&told.what.job, job))
                {
                    let again = |part| own.parts.indices.contains(&part);
                    earlier.what.parts.take_away(again, name);
                }
                self.own.retain(|told| !told.what.parts.indices.is_empty());
                self.own.push(told(entry, own));
            }
            Says::NotOwnWork(job) => {
                let before = self.own.len();
                self.own.retain(|told| !is_said(&told.what.job, job));
                if self.own.len() == before {
                    return Err(format!("No work of one's own is called \"{job}\"."));
                }
            }
            Says::Stopped { job: _, took } if reader.time(took).is_none() => {
                return Err(no_time(took));
            }
            Says::Heeded { part, caution } => {
                let parts = find(part)?;
                let caution = caution.clone();
                self.heeded.push(told(entry, Heeded { parts, caution }));
            }
            Says::Finished(_) => self.finished = Some(entry.number),
            // Nobody goes by them.
            Says::Remark(_) | Says::Typed { .. } | Says::Settled(_) | Says::Rules { .. } => {}
            // What is worked on is not done yet.
            Says::Started { .. } | Says::Stopped { .. } => {}
            // Of where it stands `Standing` tells.
            Says::Shelf(_) => {}
            // Papers and money are gone by in `crate::papers`.
            Says::Kept(_) | Says::Answer(_) | Says::Paid(_) => {}
            Says::Photo(photo) => {
                let parts = match &photo.part {
                    Some(part) => find(part)?,
                    None => Parts::default(),
                };
                let photo = photo.clone();
                self.photos.push(told(entry, Pictured { photo, parts }));
            }
        }
        Ok(())
    }

    /// Work of one's own that is still to be done, with each part where it is.
    pub fn own_to_do(&self) -> impl Iterator<Item = (&Told<OwnWork>, usize, &str)> {
        self.own.iter().flat_map(move |own| {
            let parts = &own.what.parts;
            let each = parts.indices.iter().copied().zip(&parts.names);
            each.filter(move |&(part, _)| !self.is_own_done(own, part))
                .filter(move |&(part, _)| {
                    self.leave(part).next().is_none() && !self.is_own_refused(&own.what.job, part)
                })
                .map(move |(part, name)| (own, part, name.as_str()))
        })
    }

    /// Whether work of one's own was ticked on a part since it was planned.
    fn is_own_done(&self, own: &Told<OwnWork>, part: usize) -> bool {
        let ticked = self.own_done_in(&own.what.job, part);
        ticked.is_some_and(|line| line > own.line)
    }

    /// Whether the owner will not have work of one's own done on a part.
    #[must_use]
    pub fn is_own_refused(&self, job: &str, part: usize) -> bool {
        self.own_refused_in(job, part).is_some()
    }

    /// The mark by which the owner will not have work of one's own done on a part.
    pub(super) fn own_refused_in(&self, job: &str, part: usize) -> Option<&Told<Marked>> {
        let mut marks = self.marks.iter().rev();
        let last = marks.find(|told| {
            let marked = &told.what;
            marked.mark.is_decision()
                && marked.index.is_none()
                && is_said(&marked.job, job)
                && (marked.parts.indices.is_empty() || self.is_among(&marked.parts, part))
        });
        last.filter(|told| told.what.mark == Mark::Refused)
    }

    /// The line of the last tick of work of one's own on a part.
    #[must_use]
    pub fn own_done_in(&self, job: &str, part: usize) -> Option<usize> {
        let mut ticks = self.marks.iter().rev();
        let last = ticks.find(|told| {
            let marked = &told.what;
            marked.mark == Mark::Done
                && marked.index.is_none()
                && is_said(&marked.job, job)
                && (marked.parts.indices.is_empty() || self.is_among(&marked.parts, part))
        });
        last.map(|told| told.line)
    }

    /// Takes a wish back.
    fn forget_wish(&mut self, words: &str) -> Result<(), String> {
        let before = self.wishes.len();
        self.wishes.retain(|told| !is_said(&told.what, words));
        match self.wishes.len() < before {
            true => Ok(()),
            false => Err(format!("No wish of the owner is \"{words}\".")),
        }
    }

    /// Takes a limit back.
    fn forget_limit(&mut self, words: &str) -> Result<(), String> {
        let before = self.limits.len();
        self.limits.retain(|told| !is_said(&told.what.words, words));
        match self.limits.len() < before {
            true => Ok(()),
            false => Err(format!("No limit of the owner is \"{words}\".")),
        }
    }

    /// Parts may be touched after all, as line `number` says.
    fn free(&mut self, number: usize, parts: Parts, name: &impl Fn(usize) -> String) {
        for left in &mut self.left {
            let gone = |part| is_among(&self.owners, &parts, part);
            left.what.parts.take_away(gone, name);
        }
        self.left.retain(|left| !left.what.parts.indices.is_empty());
        self.freed.push((number, parts));
    }

    /// Whether a job is done on a part, and not to be done anew.
    #[must_use]
    pub fn is_done(&self, job: usize, part: usize) -> bool {
        let last = self.last(job, part, &[Mark::Done, Mark::NotDone]);
        last.is_some_and(|told| {
            told.what.mark == Mark::Done
                && !self.is_again(told.line, part, |_| true)
                && !self.is_to_follow(told.line, job, part)
                && !self.is_put_back(told.line, job, part)
        })
    }

    /// Whether a tick of this name stands for any of these parts.
    #[must_use]
    pub fn is_ticked(&self, job: &str, parts: &[usize]) -> bool {
        let is_on = |told: &Told<Marked>| {
            let ticked = &told.what.parts;
            let mut parts = parts.iter();
            ticked.indices.is_empty()
                || parts.any(|&part| {
                    let mut inside = ticked.indices.iter();
                    self.is_among(ticked, part)
                        || inside.any(|&at| self.owners.get(at).is_some_and(|o| o.contains(&part)))
                })
        };
        self.done().any(|told| told.what.job == job && is_on(told))
    }

    /// The line of the tick, if a job is done on a part.
    #[must_use]
    pub fn done_in(&self, job: usize, part: usize) -> Option<usize> {
        let last = self.last(job, part, &[Mark::Done, Mark::NotDone]);
        last.filter(|_| self.is_done(job, part))
            .map(|told| told.line)
    }

    /// The line of the last tick of a job on a part, if what it mended was found there again, so
    /// that the job is to be done anew.
    #[must_use]
    pub fn did_not_hold(&self, job: usize, part: usize) -> Option<usize> {
        let last = self.last(job, part, &[Mark::Done, Mark::NotDone])?;
        let was_there = |again: &Again| again.was_there;
        let is_again = last.what.mark == Mark::Done && self.is_again(last.line, part, was_there);
        is_again.then_some(last.line)
    }

    /// Whether something that a tick mended on a part was found there again.
    fn is_again(&self, line: usize, part: usize, counts: impl Fn(&Again) -> bool) -> bool {
        let is_of = |outer: usize, inner: usize| self.is_within(inner, outer);
        let mut again = self.again.iter();
        again.any(|one| {
            one.line == line && counts(one) && (is_of(part, one.part) || is_of(one.part, part))
        })
    }

    /// What the ticks say was mended, in the order of the record.
    #[must_use]
    pub fn mends(&self) -> Vec<Mend> {
        let done = self.done().map(|told| Mend {
            line: told.line,
            states: told.what.mends.clone(),
            fails: f64::from(told.what.fails.0) / 1000.0,
        });
        done.collect()
    }

    /// What the owner decided about a job on a part, if anything.
    #[must_use]
    pub fn decision(&self, job: usize, part: usize) -> Option<&Told<Marked>> {
        let marks = [Mark::Agreed, Mark::Refused, Mark::Undecided];
        let last = self.last(job, part, &marks)?;
        (last.what.mark != Mark::Undecided).then_some(last)
    }

    /// The parts of which the owner took back what they decided of a job wherever it is called
    /// for.
    #[must_use]
    pub fn open_again(&self, decided: &Told<Marked>) -> Vec<&str> {
        if !decided.what.parts.indices.is_empty() {
            return Vec::new();
        }
        let later = self.marks.iter().filter(|told| {
            told.line > decided.line
                && told.what.mark == Mark::Undecided
                && is_said(&told.what.job, &decided.what.job)
        });
        let parts = later.flat_map(|told| {
            let Parts { indices, names } = &told.what.parts;
            indices.iter().zip(names)
        });
        let is_decided_since = |part: usize| {
            let mut since = self.marks.iter().filter(|told| told.line > decided.line);
            let last = since.rfind(|told| {
                is_said(&told.what.job, &decided.what.job)
                    && (told.what.parts.indices.is_empty() || self.is_among(&told.what.parts, part))
                    && told.what.mark.is_decision()
            });
            last.is_some_and(|told| told.what.mark != Mark::Undecided)
        };
        let mut open: Vec<&str> = Vec::new();
        for (_, name) in parts.filter(|&(&part, _)| !is_decided_since(part)) {
            if !open.contains(&name.as_str()) {
                open.push(name);
            }
        }
        open
    }

    /// Whether what the owner decided in a mark still holds, rather than what they said later of
    /// the same job and all its parts.
    #[must_use]
    pub fn still_holds(&self, decided: &Told<Marked>) -> bool {
        let is_later = |told: &&Told<Marked>| {
            told.line > decided.line
                && told.what.job == decided.what.job
                && matches!(told.what.mark, Mark::Agreed | Mark::Refused)
        };
        let covers = |told: &Told<Marked>| {
            let (later, parts) = (&told.what.parts, &decided.what.parts);
            later.indices.is_empty()
                || (!parts.indices.is_empty()
                    && parts.indices.iter().all(|&part| self.is_among(later, part)))
        };
        !self.marks.iter().filter(is_later).any(covers)
    }

    /// Whether the owner will not have a job done on a part.
    #[must_use]
    pub fn is_refused(&self, job: usize, part: usize) -> bool {
        let decision = self.decision(job, part);
        decision.is_some_and(|told| told.what.mark == Mark::Refused)
    }

    /// Where a job stands for a part. One that would find out what is known is as good as done.
    #[must_use]
    pub fn status(&self, job: usize, part: usize) -> Status {
        match () {
            () if self.is_done(job, part) => Status::Done,
            () if self.is_refused(job, part) => Status::Refused,
            () if self.found_out.contains(&(job, part)) => Status::Done,
            () if self.stops(job, part).next().is_some() => Status::Refused,
            () => Status::ToDo,
        }
    }

    /// What stops a job on a part that must be left alone: what was said before the owner
    /// agreed to just this does not.
    pub fn stops(&self, job: usize, part: usize) -> impl Iterator<Item = &Told<Left>> {
        let agreed = self.agreed_line(job, part);
        self.leave(part).filter(move |told| told.line > agreed)
    }

    /// What must be left alone of that which a job works on besides the part that it is done for
    /// (`Touches:`), each once. It does not stop the job, which is done for the other parts.
    #[must_use]
    pub fn touches(&self, job: usize, part: usize) -> Vec<&Told<Left>> {
        // Who agreed to it agreed to what it works on.
        let agreed = self.decision(job, part);
        let agreed = agreed.filter(|told| told.what.mark == Mark::Agreed);
        let agreed = agreed.map_or(0, |told| told.line);
        let touched = self.touched.get(job).map_or(&[][..], Vec::as_slice);
        let owners = self.owners.get(part).map_or(&[][..], Vec::as_slice);
        // The top of a table stands beside its frame, in what both are built into.
        let around = std::iter::once(&part).chain(owners);
        let of_it = around.map(|&of| {
            let here = touched.iter().copied();
            here.filter(|&at| self.is_within(at, of))
                .collect::<Vec<usize>>()
        });
        let here = of_it.into_iter().find(|here| !here.is_empty());
        let mut all: Vec<&Told<Left>> = Vec::new();
        for left in here
            .unwrap_or_default()
            .into_iter()
            .flat_map(|at| self.leave(at))
        {
            if left.line > agreed && !all.contains(&left) {
                all.push(left);
            }
        }
        all
    }

    /// Whether a job works on a part, wherever it is done (`Touches:`).
    #[must_use]
    pub fn works_on(&self, job: usize, part: usize) -> bool {
        self.touched
            .get(job)
            .is_some_and(|touched| touched.contains(&part))
    }

    /// The line by which the owner agreed to a job on just this part; 0 if they did not.
    fn agreed_line(&self, job: usize, part: usize) -> usize {
        let agreed = self
            .decision(job, part)
            .filter(|told| told.what.mark == Mark::Agreed && !told.what.parts.indices.is_empty());
        agreed.map_or(0, |told| told.line)
    }

    /// Why a part must be left alone, if it must.
    pub fn leave(&self, part: usize) -> impl Iterator<Item = &Told<Left>> {
        self.left.iter().filter(move |told| {
            let mut freed = self.freed.iter();
            self.is_among(&told.what.parts, part)
                && !freed.any(|(line, parts)| *line > told.line && self.is_among(parts, part))
        })
    }

    /// What the owner had decided is decided no more; nothing is left to say of it, unless it was
    /// decided wherever the job is called for and holds for other parts still.
    fn undecide(&mut self, name: &impl Fn(usize) -> String) {
        let sorts = [Mark::Agreed, Mark::Refused];
        self.take_back(&sorts, name);
        let Some((back, before)) = self.marks.split_last() else {
            return;
        };
        let is_left =
            |told: &Told<Marked>| sorts.contains(&told.what.mark) && told.what.job == back.what.job;
        if !before.iter().any(is_left) {
            self.marks.pop();
        }
    }

    /// Takes what the last mark takes back off the marks of these sorts before it. Of what was
    /// said of a job wherever it is called for, a part cannot be taken off: the mark itself says
    /// of which it does not hold.
    fn take_back(&mut self, sorts: &[Mark], name: &impl Fn(usize) -> String) {
        let Some((back, before)) = self.marks.split_last_mut() else {
            return;
        };
        let back = &back.what;
        let is_it = |told: &Told<Marked>| {
            sorts.contains(&told.what.mark)
                && told.what.job.to_lowercase() == back.job.to_lowercase()
        };
        let mut gone = BTreeSet::new();
        for told in before.iter_mut().filter(|told| is_it(told)) {
            let parts = &mut told.what.parts;
            if back.parts.indices.is_empty() {
                gone.insert(told.line);
            } else if !parts.indices.is_empty() {
                parts.take_away(|part| is_among(&self.owners, &back.parts, part), name);
                if parts.indices.is_empty() {
                    gone.insert(told.line);
                }
            }
        }
        self.marks
            .retain(|told| !sorts.contains(&told.what.mark) || !gone.contains(&told.line));
    }

    /// What was done, oldest first: ticks that were not taken back since.
    pub fn done(&self) -> impl Iterator<Item = &Told<Marked>> {
        let marks = self.marks.iter();
        marks.filter(|told| told.what.mark == Mark::Done)
    }

    fn last(&self, job: usize, part: usize, marks: &[Mark]) -> Option<&Told<Marked>> {
        self.marks.iter().rev().find(|told| {
            let marked = &told.what;
            marks.contains(&marked.mark)
                && marked.index == Some(job)
                && (marked.parts.indices.is_empty() || self.is_among(&marked.parts, part))
        })
    }

    /// Whether a part is another, or built into it.
    #[must_use]
    pub fn is_within(&self, inner: usize, outer: usize) -> bool {
        let owners = self.owners.get(inner).map_or(&[][..], Vec::as_slice);
        inner == outer || owners.contains(&outer)
    }

    fn is_among(&self, parts: &Parts, part: usize) -> bool {
        is_among(&self.owners, parts, part)
    }
}

/// What a line says of work of one's own.
fn own_work(
    reader: &AnswerReader<'_>,
    find: &impl Fn(&str) -> Result<Parts, String>,
    name: &impl Fn(usize) -> String,
    (job, parts, takes): (&str, &[String], &str),
) -> Result<OwnWork, String> {
    let mut all = Parts::default();
    for part in parts {
        for part in find(part)?.indices {
            if !all.indices.contains(&part) {
                all.indices.push(part);
            }
        }
    }
    all.names = all.indices.iter().map(|&part| name(part)).collect();
    Ok(OwnWork {
        job: job.to_owned(),
        parts: all,
        takes: reader.time(takes).ok_or_else(|| no_time(takes))?,
    })
}

/// What a line says of a job; `None` if it says something else.
fn marked(
    set_up: &SetUp<'_>,
    reader: &AnswerReader<'_>,
    (find, is_own): (
        &impl Fn(&str) -> Result<Parts, String>,
        &dyn Fn(&str) -> bool,
    ),
    says: &Says,
) -> Result<Option<Marked>, String> {
    let (mark, job, parts, took, words) = match says {
        Says::Agreed(Decision { job, parts, words }) => {
            (Mark::Agreed, job, parts, "", words.as_str())
        }
        Says::Refused(Decision { job, parts, words }) => {
            (Mark::Refused, job, parts, "", words.as_str())
        }
        Says::Done {
            job, parts, took, ..
        } => (Mark::Done, job, parts, took.as_str(), ""),
        Says::NotDone { job, parts } => (Mark::NotDone, job, parts, "", ""),
        Says::NotDecided { job, parts } => (Mark::Undecided, job, parts, "", ""),
        _ => return Ok(None),
    };
    let mut all = Parts::default();
    for part in parts {
        let found = find(part)?;
        all.indices.extend(found.indices);
        all.names.extend(found.names);
    }
    let minutes = reader.time(took);
    if minutes.is_none() && !took.is_empty() {
        return Err(no_time(took));
    }
    let mut jobs = set_up.model.jobs.iter();
    let index = jobs.position(|known| known.name.to_lowercase() == job.to_lowercase());
    // Work of one's own is done, and no rule need know it; what is decided is decided of a job.
    let is_decision = mark.is_decision();
    if index.is_none() && is_decision && !is_own(job) {
        return Err(format!("No job of these rules is called \"{job}\"."));
    }
    let known = index.and_then(|job| set_up.model.jobs.get(job));
    let fails = known.map_or(Job::FAILS, Job::fails);
    Ok(Some(Marked {
        mark,
        job: job.clone(),
        index,
        parts: all,
        took: minutes,
        words: words.to_owned(),
        mends: Vec::new(),
        fails,
    }))
}

fn no_time(took: &str) -> String {
    format!("I cannot read \"{took}\" as a time: 25 minutes, or 1 hour 30 minutes, would do.")
}

impl Parts {
    /// Takes parts away; what is left goes by its own names.
    fn take_away(&mut self, gone: impl Fn(usize) -> bool, name: &impl Fn(usize) -> String) {
        let before = self.indices.len();
        self.indices.retain(|&part| !gone(part));
        if self.indices.len() < before {
            self.names = self.indices.iter().map(|&part| name(part)).collect();
        }
    }
}

/// Whether a part is one of these, or built into one of them.
fn is_among(owners: &[Vec<usize>], parts: &Parts, part: usize) -> bool {
    let owners = owners.get(part).map_or(&[][..], Vec::as_slice);
    let mut own_and_owners = std::iter::once(&part).chain(owners);
    own_and_owners.any(|at| parts.indices.contains(at))
}

/// Whether words of the owner are these, however they are set out.
fn is_said(words: &str, asked: &str) -> bool {
    let plain = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
    plain(words).to_lowercase() == plain(asked).to_lowercase()
}

fn told<T>(entry: &Entry, what: T) -> Told<T> {
    Told {
        what,
        line: entry.number,
        when: entry.when,
    }
}

/// Each part by its own name; where the words mean many, as they were said.
fn named(set_up: &SetUp<'_>, piece: &Piece<'_>, indices: &[usize], meant: &PartRef) -> Vec<String> {
    const FEW: usize = 4;
    if indices.len() > FEW {
        return vec![words::part_name(set_up.model, meant)];
    }
    indices
        .iter()
        .map(|&part| named_one(set_up, piece, part))
        .collect()
}

fn named_one(set_up: &SetUp<'_>, piece: &Piece<'_>, part: usize) -> String {
    let reference = part_ref(&set_up.built.places, piece.parts(), part);
    words::part_name(set_up.model, &reference)
}

/// The parts of the kinds that each job works on besides the part that it is done for.
fn touched(model: &Model, piece: &Piece<'_>) -> Vec<Vec<usize>> {
    let of = |kinds: &[KindId]| {
        let parts = piece.parts().iter().enumerate();
        let of_kind = parts.filter(|(_, part)| {
            let kind = KindId(part.kind);
            kinds.iter().any(|&of| model.is_kind_of(kind, of))
        });
        of_kind.map(|(at, _)| at).collect()
    };
    model.jobs.iter().map(|job| of(&job.touches)).collect()
}
