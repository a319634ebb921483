//! Jobs: their names, their particulars, their order.

use std::collections::HashMap;

use crate::entry::Entry;
use crate::label::Label;
use crate::message::{Message, Problem};
use crate::model::{Exclusion, Job, JobId, KindId, Order, PIECE, StateId, Until, WorkStage};
use crate::near::nearest;
use crate::resolve::look::{Done, refuse};
use crate::resolve::particulars::Particulars;
use crate::resolve::sentence::Parsed;
use crate::resolve::{MOST_EXPLAINED, Reader};
use crate::span::Span;
use crate::syntax::{Name, Sentence};
use crate::token::{Sort, Token};
use crate::vocab::{Said, join, key};

/// How "Mends:" is written.
const MENDS: &str = "\"Mends: a runner is worn thin\"";
/// How "Until:" is written of what gets known.
const UNTIL_KNOWN: &str = "\"Until: it is known whether a runner is worn thin\", of the part that \
                           the caution is about";

/// How it is written of what a job finds out.
const UNTIL_FOUND_OUT: &str = "under a job only \"Until: it is known whether a piece is painted \
                               with lead\", which is what the job finds out";

/// What stands after "it is known whether".
fn after_known(words: &[Token]) -> Option<&[Token]> {
    const KNOWN: [&str; 4] = ["it", "is", "known", "whether"];
    let (begin, rest) = words.split_at_checked(KNOWN.len())?;
    let is_known = begin.iter().zip(KNOWN).all(|(token, word)| token.is(word));
    is_known.then_some(rest)
}

/// Where the particulars of jobs came from.
#[derive(Default)]
pub(super) struct JobBook {
    /// Where each job's `Takes:`, `Waits:` and `Stage:` were given.
    given_at: HashMap<(JobId, Label), Span>,
    /// `First:` and `Then:` lines to be looked up.
    ties: Vec<(JobId, Label, Vec<Token>)>,
    /// `Mends:` lines to be read.
    mends: Vec<(usize, JobId, Vec<Token>)>,
    /// `Until:` lines to be read.
    untils: Vec<(usize, JobId, Vec<Token>)>,
    /// Jobs whose entry had a label that was not understood.
    slips: Vec<JobId>,
    /// Where each job was named in a plan or ladder.
    named_at: HashMap<JobId, Span>,
}

impl Reader<'_> {
    /// Collects all jobs, then what their labels say.
    pub(super) fn read_jobs(&mut self, entries: &[Entry], parsed: &[Parsed]) {
        let mut book = JobBook::default();
        let parsed = by_name_of_job(entries, parsed);
        for item in &parsed {
            if let Sentence::Job { job, .. } = &item.sentence {
                self.declare_job(&entries[item.entry], item, job, &mut book);
            }
        }
        for item in parsed {
            let entry = &entries[item.entry];
            match &item.sentence {
                Sentence::Plan { job, .. } | Sentence::StandIn { job, .. } => {
                    let Some(id) = self.named_job(job, entry, &mut book) else {
                        continue;
                    };
                    self.job_particulars(entry, item, id, &mut book);
                }
                Sentence::Ladder { rungs, more, .. } => {
                    let jobs = rungs
                        .iter()
                        .filter_map(|(_, job)| job.as_ref())
                        .chain(more.iter().flatten());
                    for job in jobs {
                        self.named_job(job, entry, &mut book);
                    }
                }
                _ => {}
            }
        }
        for (id, label, words) in std::mem::take(&mut book.ties) {
            self.tied_jobs(id, label, &words);
        }
        for (entry, id, words) in std::mem::take(&mut book.mends) {
            self.mended_states(&entries[entry], id, &words);
        }
        for (entry, id, words) in std::mem::take(&mut book.untils) {
            let known = self.known_state(&entries[entry], &words, UNTIL_FOUND_OUT);
            if let Some(state) = self.keep(&entries[entry], known) {
                self.model.jobs[id.index()].until.push(state);
            }
        }
        self.mends_of_nothing(&book);
        self.jobs_without_time(&book);
    }

    fn declare_job(&mut self, entry: &Entry, item: &Parsed, job: &Name, book: &mut JobBook) {
        let known = self.jobs.get(&job.text).copied();
        if let Some(id) = known {
            let was = self.model.jobs[id.index()].at;
            let standard = self.jobs_from_standard.contains(&id);
            if standard && !entry.standard {
                let name = self.model.jobs[id.index()].name.clone();
                self.model.jobs[id.index()].at = entry.at;
                self.jobs_from_standard.remove(&id);
                self.forget_what_is_given(id, &item.particulars, book);
                self.replaced(&name, was, entry.at);
            } else {
                let line = self.files.line_from(was, entry.at);
                self.fail(
                    entry,
                    Message::new(job.at, Problem::RepeatedSentence { line: &line }).with_also(was),
                );
                return;
            }
        }
        let Some(id) = known.or_else(|| self.add_job(job, entry)) else {
            return;
        };
        if let Sentence::Job {
            once_for: Some(noun),
            ..
        } = &item.sentence
        {
            let found = self.with_look(|look| look.plain(noun));
            if let Some(found) = self.keep(entry, found) {
                self.model.jobs[id.index()].once_for = Some(found.kind);
            }
        }
        self.job_particulars(entry, item, id, book);
    }

    /// What a house says of a standard job takes the place of what was said; the
    /// rest stays.
    fn forget_what_is_given(&mut self, id: JobId, given: &Particulars, book: &mut JobBook) {
        let job = &mut self.model.jobs[id.index()];
        let labels = [
            (Label::Takes, given.takes.is_some()),
            (Label::Waits, given.waits.is_some()),
            (Label::Stage, given.stage.is_some()),
            (Label::Holds, given.holds.is_some()),
        ];
        for (label, _) in labels.iter().filter(|(_, is_given)| *is_given) {
            book.given_at.remove(&(id, *label));
        }
        if !given.needs.is_empty() {
            job.needs.clear();
        }
        if given.touches.is_some() {
            job.touches.clear();
        }
        if given.from.is_some() {
            job.source = None;
        }
        for (label, is_given) in [
            (Label::First, given.first.is_some()),
            (Label::Then, given.then.is_some()),
        ] {
            book.ties
                .retain(|(other, tie, _)| !is_given || (*other, *tie) != (id, label));
        }
        if given.mends.is_some() {
            book.mends.retain(|(_, other, _)| *other != id);
        }
        if given.until.is_some() {
            book.untils.retain(|(_, other, _)| *other != id);
        }
    }

    fn named_job(&mut self, job: &Name, entry: &Entry, book: &mut JobBook) -> Option<JobId> {
        let id = match self.jobs.get(&job.text) {
            Some(id) => *id,
            None => self.add_job(job, entry)?,
        };
        book.named_at.entry(id).or_insert(job.at);
        if entry.label_slip {
            book.slips.push(id);
        }
        Some(id)
    }

    fn add_job(&mut self, name: &Name, entry: &Entry) -> Option<JobId> {
        let Ok(id) = u16::try_from(self.model.jobs.len()).map(JobId) else {
            self.too_many("jobs", name.at);
            return None;
        };
        self.jobs.insert(key(&name.text), id);
        if entry.standard {
            self.jobs_from_standard.insert(id);
        }
        let written = self.written(name.at);
        self.model.jobs.push(Job {
            name: written,
            takes: None,
            waits: None,
            needs: Vec::new(),
            first: Vec::new(),
            then: Vec::new(),
            touches: Vec::new(),
            mends: Vec::new(),
            until: Vec::new(),
            holds: None,
            stage: WorkStage::default(),
            ask_owner: false,
            once_for: None,
            source: None,
            at: entry.at,
        });
        Some(id)
    }

    fn job_particulars(&mut self, entry: &Entry, item: &Parsed, id: JobId, book: &mut JobBook) {
        let Particulars {
            takes,
            waits,
            needs,
            first,
            then,
            touches,
            from,
            mends,
            until,
            holds,
            stage,
            ..
        } = &item.particulars;
        let unread = takes.is_none() && entry.details.iter().any(|d| d.label == Label::Takes);
        if entry.label_slip || unread {
            book.slips.push(id);
        }
        let now = &self.model.jobs[id.index()];
        let same = [
            (
                Label::Takes,
                takes.as_ref().map(|takes| *takes == now.takes),
            ),
            (Label::Waits, waits.map(|waits| Some(waits) == now.waits)),
            (Label::Stage, stage.map(|stage| stage == now.stage)),
            (Label::Holds, holds.map(|holds| Some(holds) == now.holds)),
        ];
        for (label, same) in same {
            let Some(same) = same else {
                continue;
            };
            if !self.is_first_given(entry, id, label, same, book) {
                continue;
            }
            let job = &mut self.model.jobs[id.index()];
            match label {
                Label::Takes => job.takes = takes.unwrap_or(job.takes),
                Label::Waits => job.waits = *waits,
                Label::Holds => job.holds = *holds,
                _ => job.stage = stage.unwrap_or(job.stage),
            }
        }
        let job = &mut self.model.jobs[id.index()];
        for need in needs {
            if !job.needs.contains(need) {
                job.needs.push(need.clone());
            }
        }
        job.ask_owner |= entry.ask_owner.is_some();
        job.source = job.source.or(*from);
        self.plain_of_job(entry, id, &item.particulars);
        for (label, words) in [(Label::First, first), (Label::Then, then)] {
            if let Some(words) = words {
                book.ties.push((id, label, words.clone()));
            }
        }
        if let Some(words) = touches {
            for noun in split_jobs(words, |_| false) {
                let found = self.with_look(|look| look.noun(&noun));
                if let Some(found) = self.keep(entry, found) {
                    self.model.jobs[id.index()].touches.push(found.kind);
                }
            }
        }
        if let Some(words) = mends {
            book.mends.push((item.entry, id, words.clone()));
        }
        if let Some(words) = until {
            book.untils.push((item.entry, id, words.clone()));
        }
    }

    /// Whether a particular of a job is given for the first time. Where another is
    /// given, the first one stays, and that is said; the same one twice is no quarrel.
    fn is_first_given(
        &mut self,
        entry: &Entry,
        id: JobId,
        label: Label,
        same: bool,
        book: &mut JobBook,
    ) -> bool {
        let Some(&before) = book.given_at.get(&(id, label)) else {
            book.given_at.insert((id, label), entry.at);
            return true;
        };
        if !same {
            let job = self.model.jobs[id.index()].name.clone();
            let line = self.files.line_from(before, entry.at);
            let detail = entry.details.iter().find(|d| d.label == label);
            let at = detail.map_or(entry.at, |d| d.at.to(d.value_at()));
            self.say(
                Message::new(
                    at,
                    Problem::ParticularGivenTwice {
                        label: label.words(),
                        job: &job,
                        line: &line,
                    },
                )
                .with_also(before),
            );
        }
        false
    }

    /// `First: clear the drawer and take off the locks`, or the same with `Then:`
    fn tied_jobs(&mut self, id: JobId, label: Label, words: &[Token]) {
        for name in split_jobs(words, |text| self.jobs.contains_key(text)) {
            match self.jobs.get(&name.text).copied() {
                Some(tied) => {
                    let job = &mut self.model.jobs[id.index()];
                    let all = match label {
                        Label::Then => &mut job.then,
                        _ => &mut job.first,
                    };
                    if !all.contains(&tied) {
                        all.push(tied);
                    }
                }
                None => {
                    let message = self.no_such_job(&name, Some(label.words()));
                    self.say(message);
                }
            }
        }
    }

    /// "First: clear the draw" names no job.
    pub(super) fn no_such_job(&self, name: &Name, label: Option<&str>) -> Message {
        let names = self.jobs.keys().map(String::as_str);
        let near = self
            .is_still_explaining()
            .then(|| nearest(&name.text, names))
            .flatten();
        let joined = near.as_ref().map(|near| near.joined());
        let message = Message::new(
            name.at,
            Problem::UnknownJob {
                label,
                job: &name.text,
                near: joined.as_deref(),
            },
        );
        match near {
            Some(near) => message.with_fix(name.at, near.words[0], near.sure()),
            None => message,
        }
    }

    /// `Mends: a runner is worn thin, a drawer is stiff`
    fn mended_states(&mut self, entry: &Entry, id: JobId, words: &[Token]) {
        let mut from = 0;
        for to in 0..=words.len() {
            let ends = words.get(to).is_none_or(|t| {
                t.sort == Sort::Comma
                    || (t.is("and")
                        && words[from..to]
                            .iter()
                            .any(|t| t.is("is") || t.is("are") || t.is("shows")))
            });
            if !ends {
                continue;
            }
            let run = &words[from..to];
            from = to + 1;
            if run.is_empty() {
                continue;
            }
            let run = if run[0].is("and") { &run[1..] } else { run };
            let state = self.state_said(entry, run, Label::Mends, MENDS);
            if let Some(state) = self.keep(entry, state) {
                let all = &mut self.model.jobs[id.index()].mends;
                if !all.contains(&state) {
                    all.push(state);
                }
            }
        }
    }

    /// "a runner is worn thin", after a label that takes such words.
    fn state_said(
        &mut self,
        entry: &Entry,
        words: &[Token],
        label: Label,
        form: &'static str,
    ) -> Done<crate::model::StateId> {
        use crate::grammar::sentence::mended;
        use crate::syntax::{Saying, Thing};
        let clause = self.parse_tokens(entry, words, |i| {
            let (rest, clause) = mended(i)?;
            let (rest, ()) = crate::input::end(rest)?;
            Ok((rest, clause))
        })?;
        self.with_look(|look| {
            let Thing::One { noun, .. } = &clause.thing else {
                return refuse(
                    clause.at,
                    Problem::Unreadable {
                        read: None,
                        wants: "a part",
                        example: None,
                    },
                );
            };
            let kind = look.plain(noun)?.kind;
            let (phrase, verb) = match &clause.saying {
                Saying::Is {
                    not: None,
                    sure: None,
                    phrase,
                    ..
                } => (phrase, crate::model::Verb::Is),
                Saying::Shows {
                    not: None,
                    sure: None,
                    phrase,
                    ..
                } => (phrase, crate::model::Verb::Shows),
                _ => {
                    return refuse(
                        clause.saying_at,
                        Problem::LabelUnreadable {
                            label: label.words(),
                            form,
                        },
                    );
                }
            };
            match look.said(kind, phrase)? {
                Said::State(state) => {
                    let right = look.state(state).verb;
                    if right != verb {
                        return look.wrong_verb(right, verb, phrase, kind);
                    }
                    Ok(state)
                }
                _ => refuse(
                    clause.saying_at,
                    Problem::LabelUnreadable {
                        label: label.words(),
                        form,
                    },
                ),
            }
        })
    }

    /// "Holds:" of a job that mends nothing.
    fn mends_of_nothing(&mut self, book: &JobBook) {
        let jobs = self.model.jobs.iter().enumerate();
        let idle: Vec<(Span, String)> = jobs
            .filter(|(_, job)| job.mends.is_empty())
            .filter_map(|(index, job)| {
                let id = JobId(u16::try_from(index).ok()?);
                let at = book.given_at.get(&(id, Label::Holds)).copied()?;
                (!book.slips.contains(&id)).then(|| (at, job.name.clone()))
            })
            .collect();
        for (at, job) in idle {
            self.say(Message::new(at, Problem::HoldsNothing { job: &job }));
        }
    }

    fn jobs_without_time(&mut self, book: &JobBook) {
        let mut said: Vec<Message> = Vec::new();
        let others: Vec<&str> = self
            .jobs
            .iter()
            .filter(|(_, other)| book.given_at.contains_key(&(**other, Label::Takes)))
            .map(|(name, _)| name.as_str())
            .collect();
        for (index, job) in self.model.jobs.iter().enumerate() {
            let Ok(id) = u16::try_from(index).map(JobId) else {
                break;
            };
            if book.given_at.contains_key(&(id, Label::Takes)) || book.slips.contains(&id) {
                continue;
            }
            let at = book.named_at.get(&id).copied().unwrap_or(job.at);
            let name = key(&job.name);
            let near = (self.messages.len() + said.len() < MOST_EXPLAINED)
                .then(|| nearest(&name, others.iter().copied()))
                .flatten();
            let message = match near {
                Some(near) => Message::new(
                    at,
                    Problem::TimeMissing {
                        job: &job.name,
                        near: Some(&near.joined()),
                    },
                )
                .with_fix(at, near.words[0], false),
                None => Message::new(
                    at,
                    Problem::TimeMissing {
                        job: &job.name,
                        near: None,
                    },
                ),
            };
            said.push(message);
        }
        for message in said {
            self.say(message);
        }
    }

    /// A job by its name.
    pub(super) fn job(&self, name: &Name) -> Done<JobId> {
        match self.jobs.get(&name.text) {
            Some(id) => Ok(*id),
            None => Err(Box::new(self.no_such_job(name, None))),
        }
    }

    /// `Until: it is known whether a piece is painted with lead`: the state. `form` says how it is
    /// written.
    fn known_state(&mut self, entry: &Entry, words: &[Token], form: &'static str) -> Done<StateId> {
        match (after_known(words), words.first(), words.last()) {
            (None, Some(first), Some(last)) => refuse(
                first.at.to(last.at),
                Problem::LabelUnreadable {
                    label: Label::Until.words(),
                    form,
                },
            ),
            (rest, ..) => {
                let rest = rest.unwrap_or_default();
                self.state_said(entry, rest, Label::Until, form)
            }
        }
    }

    /// `Until: lift off the cornice`, `Until: it is known whether a piece is painted with lead`,
    /// under a caution about parts of a kind.
    pub(super) fn until(
        &mut self,
        entry: &Entry,
        subject: KindId,
        words: &[Token],
    ) -> Done<Option<Until>> {
        let (Some(first), Some(last)) = (words.first(), words.last()) else {
            return Ok(None);
        };
        if after_known(words).is_some() {
            let state = self.known_state(entry, words, UNTIL_KNOWN)?;
            let of = self.model.states[state.index()].kind;
            let is_piece = of == PIECE && self.model.kinds[subject.index()].is_piece;
            if !is_piece && !self.model.is_kind_of(subject, of) {
                return refuse(
                    first.at.to(last.at),
                    Problem::LabelUnreadable {
                        label: Label::Until.words(),
                        form: UNTIL_KNOWN,
                    },
                );
            }
            return Ok(Some(Until::Known(state)));
        }
        let name = Name {
            text: join(words),
            at: first.at.to(last.at),
        };
        match self.jobs.get(&name.text) {
            Some(job) => Ok(Some(Until::Done(*job))),
            None => Err(Box::new(self.no_such_job(&name, Some("Until")))),
        }
    }

    pub(super) fn order(&self, entry: &Entry, item: &Parsed) -> Done<Option<Order>> {
        let Sentence::Order {
            hangs,
            always,
            before,
            after,
            because,
        } = &item.sentence
        else {
            return Ok(None);
        };
        if let Some(at) = hangs {
            return refuse(*at, Problem::OrderCannotHang);
        }
        Ok(Some(Order {
            before: self.job(before)?,
            after: self.job(after)?,
            always: *always,
            because: because.map(|at| self.written(at)),
            source: item.particulars.from,
            at: entry.at,
        }))
    }

    pub(super) fn exclusion(&mut self, entry: &Entry, item: &Parsed) -> Done<Option<Exclusion>> {
        let Sentence::Exclusion { when, splits } = &item.sentence else {
            return Ok(None);
        };
        let when = when.as_ref().map(|when| self.trigger(when, "When"));
        let when = when.transpose()?;
        let both = splits.iter().find(|(one, other)| {
            self.jobs.contains_key(&one.text) && self.jobs.contains_key(&other.text)
        });
        let (one, other) = match both.or_else(|| {
            splits
                .iter()
                .find(|(one, other)| {
                    self.jobs.contains_key(&one.text) || self.jobs.contains_key(&other.text)
                })
                .or(splits.first())
        }) {
            Some(pair) => pair,
            None => return Ok(None),
        };
        Ok(Some(Exclusion {
            when,
            one: self.job(one)?,
            other: self.job(other)?,
            source: item.particulars.from,
            said_at: entry.sentence_at(),
            at: entry.at,
        }))
    }
}

/// Splits a list of jobs at commas, and at each "and" unless the words with
/// it are a job.
fn split_jobs(words: &[Token], is_job: impl Fn(&str) -> bool) -> Vec<Name> {
    let name = |words: &[Token]| -> Option<Name> {
        let (first, last) = (words.first()?, words.last()?);
        Some(Name {
            text: join(words),
            at: first.at.to(last.at),
        })
    };
    let mut out = Vec::new();
    for part in words.split(|t| t.sort == Sort::Comma) {
        let part = match part {
            [first, rest @ ..] if first.is("and") => rest,
            all => all,
        };
        // Between "and"s, the longest run that is a job; else word by word.
        let mut ends: Vec<usize> = (0..part.len()).filter(|i| part[*i].is("and")).collect();
        ends.push(part.len());
        let (mut from, mut next) = (0, 0);
        while from < part.len() {
            while ends.get(next).is_some_and(|end| *end <= from) {
                next += 1;
            }
            let nearest = ends.get(next).copied().unwrap_or(part.len());
            let end = ends
                .iter()
                .skip(next)
                .take(8)
                .copied()
                .filter(|end| is_job(&join(&part[from..*end])))
                .last()
                .unwrap_or(nearest);
            out.extend(name(&part[from..end]));
            from = end + 1;
        }
    }
    out
}

/// Sentences about jobs: the standard ones as they stand, then the house's own by the names
/// of their jobs, so that nothing hangs on the order of its files or of what is in them.
fn by_name_of_job<'p>(entries: &[Entry], parsed: &'p [Parsed]) -> Vec<&'p Parsed> {
    let mut all: Vec<&Parsed> = parsed.iter().collect();
    all.sort_by_key(|item| match entries[item.entry].standard {
        true => (false, None),
        false => (true, name_of_job(&item.sentence)),
    });
    all
}

fn name_of_job(sentence: &Sentence) -> Option<&str> {
    let job = match sentence {
        Sentence::Job { job, .. } | Sentence::Plan { job, .. } | Sentence::StandIn { job, .. } => {
            Some(job)
        }
        Sentence::Ladder { rungs, more, .. } => {
            let mut jobs = rungs.iter().filter_map(|(_, job)| job.as_ref());
            jobs.next().or(more.as_ref()?.as_ref())
        }
        _ => None,
    };
    job.map(|job| job.text.as_str())
}
