//! Notes in a restorer's own words, into a job's record.
//!
//! What is clear is written as findings in the words of the rules, with what was typed on
//! the line behind. What is not is a remark, to the byte; it can be settled later, when
//! somebody chooses or the rules have the words.

mod changed;
mod elsewhere;
mod in_order;
mod noted;
mod part;
mod ranking;
mod remarks;
mod undo;

pub use noted::{Changed, Left, Noted, Refused};
pub use part::NoPart;
pub use remarks::Rest;

use crate::record::{Added, Findings, Job, JobError, New, Remark, Says, at_odds, has_part};
use jiff::civil::DateTime;
use tellmark_language::model::{Fact, Found, Model, PIECE, PartRef, PartStep, PieceOrder, Which};
use tellmark_language::span::Span;
use tellmark_language::words::{fact_line, part_name};
use tellmark_language::{AnswerReader, Message};
use tellmark_notes::{NoteReader, Reading, Sayable, Scene, Understood, What, Why};

/// Takes what it will of the readings of some words; `None` leaves them a remark.
pub type Choose<'c> = dyn FnMut(&Noting<'_>, &str, &mut Vec<Reading>) -> Option<usize> + 'c;

/// Reads notes about the piece of one job.
pub struct Noting<'m> {
    model: &'m Model,
    exact: AnswerReader<'m>,
    notes: NoteReader<'m>,
    order: PieceOrder,
    /// Whether the rules know the piece; if not, only the exact words are read.
    is_known: bool,
    scene: Scene,
    /// What was spoken of last.
    subject: Vec<PartRef>,
}

impl<'m> Noting<'m> {
    /// Gets the words of the rules ready for the piece of a job. A piece that they do not
    /// know is no reason to lose a note.
    #[must_use]
    pub fn new(model: &'m Model, job: &Job) -> Noting<'m> {
        let mut exact = AnswerReader::new(model);
        let order = exact.piece(&job.header().piece).ok();
        let is_known = order.is_some();
        let order = order.unwrap_or(PieceOrder {
            kind: PIECE,
            counts: Vec::new(),
        });
        if is_known {
            exact = exact.about(order.kind);
        }
        let notes = NoteReader::new(model, order.kind);
        let mut noting = Noting {
            scene: Scene::of(model, &order, &[]),
            model,
            exact,
            notes,
            order,
            is_known,
            subject: Vec::new(),
        };
        noting.look_again(job);
        noting
    }

    /// Takes in the numbers of parts that the record says.
    fn look_again(&mut self, job: &Job) {
        let findings = self.findings(job);
        let known: Vec<&Fact> = findings.standing().map(|one| &one.fact).collect();
        self.scene = Scene::of(self.model, &self.order, &known);
    }

    fn findings(&self, job: &Job) -> Findings<Message> {
        Findings::read(self.model, job.lines(), |text| self.exact.facts(text))
    }

    /// What was spoken of last: "stiff" by itself is said of it.
    #[must_use]
    pub fn subject(&self) -> &[PartRef] {
        &self.subject
    }

    /// Sets what is spoken of.
    pub fn speak_of(&mut self, parts: Vec<PartRef>) {
        self.subject = parts;
    }

    /// What a line would be taken for.
    #[must_use]
    pub fn hear(&self, text: &str) -> Understood {
        if !self.is_known
            && let Ok(facts) = self.exact.facts(text)
        {
            return Understood::exactly(text, facts);
        }
        self.notes.read(&self.scene, &self.subject, text)
    }

    /// The part that some words name, if they name one and nothing else.
    #[must_use]
    pub fn part(&self, text: &str) -> Option<PartRef> {
        let heard = self.hear(text);
        match (heard.heard.as_slice(), heard.subject.as_slice()) {
            ([], [one]) => Some(one.clone()),
            _ => None,
        }
    }

    /// The part that some words are about; the piece if they name none.
    #[must_use]
    pub fn spoken_of(&self, text: &str) -> PartRef {
        let heard = self.hear(text);
        match heard.subject.as_slice() {
            [one] => one.clone(),
            _ => piece(),
        }
    }

    /// Writes a note down: what is clear as findings, with what is chosen of the rest; what
    /// is left as remarks. `choose` is asked of everything that has several readings, with the
    /// words; it is lent this, to rank them.
    ///
    /// # Errors
    /// If it cannot be written; then nothing of it is there.
    pub fn write(
        &mut self,
        job: &mut Job,
        typed: &str,
        now: DateTime,
        choose: &mut Choose<'_>,
    ) -> Result<Noted, JobError> {
        let mut understood = self.hear(typed);
        let (changed, asked_again) = self.take_changed(job, typed, &mut understood);
        let past = self.take_past(typed, &mut understood);
        let is_past = !past.is_empty();
        let mut facts: Vec<Fact> = understood.found().cloned().collect();
        let mut left = self.left_open(&understood, typed);
        left.retain_mut(|one| {
            // "Every drawer is stiff and no drawer is" is none of the things that were meant.
            let goes = |reading: &Reading| at_odds(self.model, &reading.facts).is_none();
            one.readings.retain(goes);
            if understood.absent.is_some() {
                // What it could mean of other parts is not what was said.
                one.readings.clear();
            }
            let chosen = match one.readings.is_empty() {
                true => None,
                false => choose(self, &one.remark.words, &mut one.readings),
            };
            let Some(chosen) = chosen.and_then(|chosen| one.readings.get(chosen)) else {
                return true;
            };
            facts.extend(chosen.facts.iter().cloned());
            one.readings.clear();
            !one.unread.is_empty()
        });
        // What is not clear is answered by neither.
        let asked = left.iter().flat_map(|one| &one.readings);
        let asked = asked.flat_map(|one| one.facts.iter().cloned());
        let mut beside: Vec<Fact> = facts.iter().cloned().chain(asked).collect();
        if understood
            .heard
            .iter()
            .any(|one| matches!(one.what, What::InOrder(_)))
        {
            beside.extend(self.asked_before(job));
        }
        let in_order = self.in_order(job, &understood, &beside);
        if in_order.is_empty() {
            left.extend(self.sound(&understood, typed));
        }
        for (_, answers) in &in_order {
            facts.extend(answers.iter().cloned());
        }
        left.extend(asked_again);
        left.extend(past);
        let refused = self.refusal(job, typed, &understood, &facts, &left);
        if refused.is_some() || (facts.is_empty() && left.len() < 2) {
            let whole = self.whole(&understood, typed);
            let readings = left.pop().map_or_else(Vec::new, |one| one.readings);
            left = vec![Left { readings, ..whole }];
        }
        let found = if refused.is_some() { Vec::new() } else { facts };
        let is_exact = understood.is_exact && refused.is_none();
        let lines = self.finding_lines(&found, typed, is_exact);
        // Between remarks on parts of a line, something that was typed could be lost.
        let is_typed_kept = match lines.as_slice() {
            [] => left.len() > 1,
            [line] => line != typed,
            _ => true,
        };
        let typed_line = Says::Typed {
            lines: lines.len(),
            words: typed.to_owned(),
        };
        let remarks = left.iter().map(|one| Says::Remark(one.remark.clone()));
        let remarks: Vec<Says> = remarks.collect();
        let mut new: Vec<New<'_>> = lines.iter().map(|line| New::Finding(line)).collect();
        new.extend(is_typed_kept.then_some(New::Entry(&typed_line)));
        new.extend(remarks.iter().map(New::Entry));
        let added = job.append_all(&new, now)?;
        let first = added.number + 1 - new.len();
        let first_remark = added.number + 1 - left.len();
        if !understood.subject.is_empty() {
            self.subject.clone_from(&understood.subject);
        }
        self.look_again(job);
        let elsewhere = understood.elsewhere.filter(|_| !left.is_empty());
        Ok(Noted {
            changed,
            is_past,
            elsewhere: elsewhere.and_then(|kind| self.who_has(kind)),
            found: (!lines.is_empty()).then(|| (first..first + lines.len(), found)),
            is_typed_kept,
            left: (first_remark..).zip(left).collect(),
            dropped: dropped(&understood, typed),
            refused,
            in_order,
        })
    }

    /// Why a note in words that the rules have is no finding on this piece, if it is none.
    fn refusal(
        &self,
        job: &Job,
        typed: &str,
        understood: &Understood,
        facts: &[Fact],
        left: &[Left],
    ) -> Option<Refused> {
        let is_asked = left.iter().any(|one| !one.readings.is_empty());
        if facts.is_empty()
            && !is_asked
            && let Ok(exact) = self.exact.facts(typed)
        {
            return self.refused(job, &exact);
        }
        match &understood.absent {
            Some(part) if facts.is_empty() => {
                let of_it = Fact {
                    part: part.clone(),
                    found: Found::PartCannotBeSeen,
                    at: Span::default(),
                };
                self.refused(job, &[of_it])
            }
            _ => self.refused(job, facts),
        }
    }

    /// What can be said of a part, by no words in particular.
    #[must_use]
    pub fn sayables_of(&self, part: &PartRef) -> Vec<Sayable> {
        let kind = self.scene.kind_of(part).unwrap_or(self.order.kind);
        self.notes.sayables(kind, "")
    }

    /// Every part of the piece, as it is called.
    #[must_use]
    pub fn parts(&self) -> Vec<PartRef> {
        self.scene.every_part()
    }

    /// Writes findings that were chosen for a note, and what was typed for them.
    ///
    /// # Errors
    /// As [`Noting::write`].
    pub fn write_chosen(
        &mut self,
        job: &mut Job,
        typed: &str,
        facts: &[Fact],
        settled: Option<&Remark>,
        now: DateTime,
    ) -> Result<Added, JobError> {
        let lines = self.finding_lines(facts, typed, false);
        let rest: Vec<Says> =
            match settled.and_then(|remark| Some((remark, self.rest(remark, facts)?))) {
                Some((_, Rest::Clauses(rest))) => vec![Says::Remark(rest)],
                // The note stands there once more, as one that nobody is asked about.
                Some((whole, Rest::Words(_))) => {
                    vec![Says::Settled(whole.clone()), Says::Remark(whole.clone())]
                }
                None => Vec::new(),
            };
        let typed_line = Says::Typed {
            lines: lines.len(),
            words: typed.to_owned(),
        };
        let mut new: Vec<New<'_>> = lines.iter().map(|line| New::Finding(line)).collect();
        if !lines.is_empty() {
            new.push(New::Entry(&typed_line));
        }
        new.extend(rest.iter().map(New::Entry));
        let added = match settled {
            Some(remark) => job.settle(remark, &new, now)?,
            None => job.append_all(&new, now)?,
        };
        let count = new.len() + usize::from(settled.is_some());
        self.look_again(job);
        Ok(Added {
            number: added.number + 1 - count,
            ..added
        })
    }

    /// Keeps words as a remark, whatever the rules make of them.
    ///
    /// # Errors
    /// As [`Noting::write`].
    pub fn remark(
        &mut self,
        job: &mut Job,
        remark: &Remark,
        now: DateTime,
    ) -> Result<Added, JobError> {
        job.append_entry(&Says::Remark(remark.clone()), now)
    }

    fn refused(&self, job: &Job, facts: &[Fact]) -> Option<Refused> {
        let findings = self.findings(job);
        let known: Vec<&Fact> = findings.standing().map(|one| &one.fact).collect();
        for fact in facts.iter().filter(|_| self.is_known) {
            if let Err(none) = has_part(self.model, &self.order, &known, fact) {
                return Some(Refused::NoPart(none));
            }
        }
        let (one, other) = at_odds(self.model, facts)?;
        let said = |at: usize| fact_line(self.model, &facts[at]);
        Some(Refused::AtOdds(said(one), said(other)))
    }

    /// A line for each finding of a note; what was typed in the exact words stands as it is.
    fn finding_lines(&self, facts: &[Fact], typed: &str, is_exact: bool) -> Vec<String> {
        if is_exact && !facts.is_empty() {
            return vec![typed.split_whitespace().collect::<Vec<_>>().join(" ")];
        }
        let mut lines: Vec<String> = Vec::new();
        for fact in facts {
            let line = fact_line(self.model, fact);
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
        lines
    }

    /// What a part is called in the record.
    #[must_use]
    pub fn part_words(&self, part: &PartRef) -> String {
        let is_piece = part
            .steps
            .first()
            .is_none_or(|step| step.kind == PIECE || step.kind == self.order.kind);
        let part = if is_piece { piece() } else { part.clone() };
        part_name(self.model, &part)
    }
}

/// "The piece".
fn piece() -> PartRef {
    PartRef {
        steps: vec![PartStep {
            kind: PIECE,
            which: Which::Only,
        }],
        at: Span::default(),
    }
}

fn dropped(understood: &Understood, typed: &str) -> Vec<(String, Why)> {
    let all = understood.heard.iter().flat_map(|heard| &heard.dropped);
    all.filter_map(|one| Some((typed.get(one.typed.clone())?.to_owned(), one.why)))
        .collect()
}
