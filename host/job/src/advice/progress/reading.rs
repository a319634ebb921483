//! Reads the labelled lines of a record, in their order.

use super::super::{follows::ties, mends};
use super::{Again, Heeded, Left, Mark, Marked, OwnWork, Parts, Pictured, Progress, Told, is_said};
use crate::limit::Limit;
use crate::record::{Decision, Entry, Finding, Says, has_part};
use crate::worries::Worries;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{SetUp, found_out, part_ref, resolve};
use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::piece::{Piece, SetUpError};
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, Found, Job, KindId, Model, PartRef};
use tellmark_language::words;

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

/// The parts that each job works on besides the part that it is done for, kind by kind.
fn touched(model: &Model, piece: &Piece<'_>) -> Vec<Vec<Vec<usize>>> {
    let of = |&of: &KindId| {
        let parts = piece.parts().iter().enumerate();
        let of_kind = parts.filter(|(_, part)| model.is_kind_of(KindId(part.kind), of));
        of_kind.map(|(at, _)| at).collect()
    };
    let jobs = model.jobs.iter();
    jobs.map(|job| job.touches.iter().map(of).collect())
        .collect()
}
