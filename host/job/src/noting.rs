//! Notes in a restorer's own words, into a job's record.
//!
//! What is clear is written as findings in the words of the rules, with what was typed on
//! the line behind. What is not is a remark, to the byte; it can be settled later, when
//! somebody chooses or the rules have the words.

use crate::record::{
    Added, Findings, Job, JobError, Line, New, NoSuchPart, Remark, Remarked, Says, at_odds,
    has_part,
};
use crate::worries::Worries;
use jiff::civil::DateTime;
use std::ops::Range;
use tellmark_compile::check::Checked;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{SetUp, resolve};
use tellmark_core::number::UFloat;
use tellmark_language::model::{
    Asks, Disturbs, Fact, Found, Model, Nature, PIECE, PartRef, PartStep, PieceOrder, Sense,
    SignId, Sure, Which,
};
use tellmark_language::span::Span;
use tellmark_language::words::{fact_line, part_name};
use tellmark_language::{AnswerReader, Message};
use tellmark_notes::{NoteReader, Reading, Sayable, Scene, Understood, What, Why};

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

/// What was written down of a note.
#[derive(Clone, Debug, Default)]
pub struct Noted {
    /// The findings, and the lines that they stand on.
    pub found: Option<(Range<usize>, Vec<Fact>)>,
    /// Whether what was typed stands behind them.
    pub is_typed_kept: bool,
    /// The remark, and its line.
    pub remark: Option<(usize, Remark)>,
    /// What it could mean, where it was not clear and nothing was chosen.
    pub choices: Vec<Reading>,
    /// What can be said of the part, the nearest first, where nothing was understood.
    pub sayables: Vec<Sayable>,
    /// What of it stands in no finding.
    pub dropped: Vec<(String, Why)>,
    /// Why a note in the exact words was not taken as that.
    pub refused: Option<Refused>,
    /// Parts that were said to be as they should be, with what that answers; it stands among
    /// what was found.
    pub in_order: Vec<(PartRef, Vec<Fact>)>,
}

/// Why a note in the exact words is no finding on this piece.
#[derive(Clone, Debug)]
pub enum Refused {
    /// The piece has no such part.
    NoPart(NoSuchPart),
    /// Two findings of the line cannot both count.
    AtOdds(String, String),
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
    /// is left as a remark. `choose` is asked if there are several readings.
    ///
    /// # Errors
    /// If it cannot be written; then nothing of it is there.
    pub fn write(
        &mut self,
        job: &mut Job,
        typed: &str,
        now: DateTime,
        choose: &mut dyn FnMut(&mut Vec<Reading>) -> Option<usize>,
    ) -> Result<Noted, JobError> {
        let understood = self.hear(typed);
        let mut noted = Noted {
            dropped: dropped(&understood, typed),
            choices: understood.choices(),
            ..Noted::default()
        };
        // "Every drawer is stiff and no drawer is" is none of the things that were meant.
        let goes = |reading: &Reading| at_odds(self.model, &reading.facts).is_none();
        noted.choices.retain(goes);
        if understood.absent.is_some() {
            // What it could mean of other parts is not what was said.
            noted.choices.clear();
        }
        let mut facts: Vec<Fact> = understood.found().cloned().collect();
        let is_chosen = self.choose(&mut noted.choices, &mut facts, choose);
        // What is not clear is answered by neither.
        let asked = noted.choices.iter().flat_map(|one| one.facts.clone());
        let beside: Vec<Fact> = facts.iter().cloned().chain(asked).collect();
        noted.in_order = self.in_order(job, &understood, &beside);
        for (_, answers) in &noted.in_order {
            facts.extend(answers.iter().cloned());
        }
        let mut refused = self.refused(job, &facts);
        if facts.is_empty()
            && noted.choices.is_empty()
            && let Ok(exact) = self.exact.facts(typed)
        {
            refused = self.refused(job, &exact);
        } else if let (Some(part), true) = (&understood.absent, facts.is_empty()) {
            let of_it = Fact {
                part: part.clone(),
                found: Found::PartCannotBeSeen,
                at: Span::default(),
            };
            refused = self.refused(job, &[of_it]);
        }
        let is_left = understood.heard.iter().any(|heard| {
            let is_taken = match heard.what {
                What::Found(_) => true,
                What::Choose(_) => is_chosen,
                What::InOrder(_) => !noted.in_order.is_empty(),
                What::Nothing => false,
            };
            !is_taken || heard.dropped.iter().any(|one| one.why == Why::NoRule)
        });
        let found = if refused.is_some() { Vec::new() } else { facts };
        let is_exact = understood.is_exact && refused.is_none();
        let lines = self.finding_lines(&found, typed, is_exact);
        let remark = (is_left || refused.is_some() || found.is_empty()).then(|| Remark {
            part: self.about(&understood),
            words: typed.to_owned(),
        });
        noted.refused = refused;
        let is_nothing = understood
            .heard
            .iter()
            .any(|one| matches!(one.what, What::Nothing));
        if is_nothing && remark.is_some() {
            noted.sayables = self.sayables(&understood, typed);
        }
        let typed_line = Says::Typed {
            lines: lines.len(),
            words: typed.to_owned(),
        };
        let remark_line = remark.clone().map(Says::Remark);
        let mut new: Vec<New<'_>> = lines.iter().map(|line| New::Finding(line)).collect();
        noted.is_typed_kept = !lines.is_empty() && lines != [typed];
        if noted.is_typed_kept {
            new.push(New::Entry(&typed_line));
        }
        new.extend(remark_line.as_ref().map(New::Entry));
        let added = job.append_all(&new, now)?;
        let first = added.number + 1 - new.len();
        noted.found = (!lines.is_empty()).then(|| (first..first + lines.len(), found));
        noted.remark = remark.map(|remark| (added.number, remark));
        if !understood.subject.is_empty() {
            self.subject = understood.subject;
        }
        self.look_again(job);
        Ok(noted)
    }

    /// What is answered of each part that is said to be as it should be: whatever can be
    /// seen, felt, heard or smelled of it without taking it apart, that the rules say how it
    /// should be, and that was not noted before.
    fn in_order(
        &self,
        job: &Job,
        understood: &Understood,
        beside: &[Fact],
    ) -> Vec<(PartRef, Vec<Fact>)> {
        let mut known: Vec<Fact> = self
            .findings(job)
            .standing()
            .map(|one| one.fact.clone())
            .collect();
        known.extend(beside.iter().cloned());
        let worries = Worries::of(self.model);
        let mut all = Vec::new();
        for heard in &understood.heard {
            let What::InOrder(said) = &heard.what else {
                continue;
            };
            for part in &said.parts {
                // A part that is not there is not sound either.
                let kind = self.scene.kind_of(part);
                let is_none = known.iter().any(|fact| match fact.found {
                    Found::Count { part, number: 0 } => Some(part) == kind,
                    _ => false,
                });
                if is_none {
                    continue;
                }
                let facts = self.answers(&worries, &known, part, said.sure);
                if !facts.is_empty() {
                    all.push((part.clone(), facts));
                }
            }
        }
        all
    }

    fn answers(&self, worries: &Worries, known: &[Fact], part: &PartRef, sure: Sure) -> Vec<Fact> {
        let Some(kind) = self.scene.kind_of(part) else {
            return Vec::new();
        };
        let is_known = |fact: &Fact| {
            known.iter().any(|one| {
                sign_of(self.model, &one.found) == sign_of(self.model, &fact.found)
                    && self.scene.single_parts(&one.part).contains(part)
            })
        };
        let mut lines: Vec<String> = Vec::new();
        let mut facts: Vec<Fact> = Vec::new();
        let signs = (0..).map(SignId).zip(&self.model.signs);
        for (id, sign) in signs.filter(|(_, sign)| self.model.is_kind_of(kind, sign.kind)) {
            let is_looked_at = matches!(
                sign.sense,
                Sense::See | Sense::Feel | Sense::Hear | Sense::Smell
            ) && sign.disturbs != Disturbs::ALot
                && sign.worked.is_none();
            let answer = worries.as_it_should_be(self.model, id, part, sure);
            let Some(answer) = answer.filter(|_| is_looked_at) else {
                continue;
            };
            // As the rules read it: what a special kind says again counts for it.
            let line = fact_line(self.model, &answer);
            let Ok(read) = self.exact.facts(&line) else {
                continue;
            };
            if lines.contains(&line) || read.iter().any(is_known) {
                continue;
            }
            lines.push(line);
            facts.extend(read);
        }
        facts
    }

    /// Adds what is chosen to what is clear.
    fn choose(
        &self,
        choices: &mut Vec<Reading>,
        facts: &mut Vec<Fact>,
        choose: &mut dyn FnMut(&mut Vec<Reading>) -> Option<usize>,
    ) -> bool {
        if choices.is_empty() {
            return false;
        }
        let chosen = choose(choices).and_then(|chosen| choices.get(chosen));
        let is_chosen = chosen.is_some();
        facts.extend(chosen.into_iter().flat_map(|one| one.facts.clone()));
        if is_chosen {
            choices.clear();
        }
        is_chosen
    }

    /// What can be said of the part that was not understood, the nearest first.
    fn sayables(&self, understood: &Understood, typed: &str) -> Vec<Sayable> {
        let mut heard = understood.heard.iter();
        let left = heard.rfind(|one| matches!(one.what, What::Nothing));
        let part = left.map(|heard| heard.about.clone());
        let part = part.or(self.subject.first().cloned()).unwrap_or_else(piece);
        let kind = self.scene.kind_of(&part).unwrap_or(self.order.kind);
        self.notes.sayables(kind, typed)
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
        let rest = settled
            .and_then(|remark| self.rest(remark, facts))
            .map(Says::Remark);
        let typed_line = Says::Typed {
            lines: lines.len(),
            words: typed.to_owned(),
        };
        let mut new: Vec<New<'_>> = lines.iter().map(|line| New::Finding(line)).collect();
        if !lines.is_empty() {
            new.push(New::Entry(&typed_line));
        }
        new.extend(rest.as_ref().map(New::Entry));
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

    /// Takes back what was written of a note: what was known before counts again, and what
    /// was not is open again.
    ///
    /// # Errors
    /// As [`Noting::write`].
    pub fn undo(&mut self, job: &mut Job, noted: &Noted, now: DateTime) -> Result<(), JobError> {
        let mut lines: Vec<String> = Vec::new();
        if let Some((numbers, facts)) = &noted.found {
            let findings = self.findings(job);
            for fact in facts {
                let before = findings.all.iter().rev().find(|one| {
                    one.put_right_by.is_some_and(|by| numbers.contains(&by))
                        && one.fact.part == fact.part
                });
                let back = match before {
                    Some(before) => Some(fact_line(self.model, &before.fact)),
                    None => self
                        .open_again(fact)
                        .map(|open| fact_line(self.model, &open)),
                };
                lines.extend(back);
            }
        }
        let settled = noted.remark.as_ref();
        let settled = settled.map(|(_, remark)| Says::Settled(remark.clone()));
        let mut new: Vec<New<'_>> = lines.iter().map(|line| New::Finding(line)).collect();
        new.extend(settled.as_ref().map(New::Entry));
        if !new.is_empty() {
            job.append_all(&new, now)?;
            self.look_again(job);
        }
        Ok(())
    }

    /// The note that takes an answer back, if there is one.
    fn open_again(&self, fact: &Fact) -> Option<Fact> {
        let found = match fact.found {
            Found::State { state, .. } => match self.model.states.get(state.index())?.nature {
                Nature::Seen(sign) => Found::NotLooked(sign),
                Nature::Hidden { .. } | Nature::CountsAs { .. } => Found::NotOpened(state),
            },
            Found::Measure { sign, .. }
            | Found::Choice { sign, .. }
            | Found::Degree { sign, .. }
            | Found::SignCannotBeSeen(sign) => Found::NotLooked(sign),
            Found::Count { part, .. } => {
                let counts = |asks: &Asks| matches!(asks, Asks::HowMany(kind) if *kind == part);
                let sign = self
                    .model
                    .signs
                    .iter()
                    .position(|sign| counts(&sign.asks))?;
                Found::NotLooked(SignId(u16::try_from(sign).ok()?))
            }
            Found::PartCannotBeSeen => Found::PartCanBeSeen,
            Found::PartCanBeSeen | Found::NotLooked(_) | Found::NotOpened(_) => return None,
        };
        Some(Fact {
            found,
            ..fact.clone()
        })
    }

    /// What a remark could be read as, beside what was noted of it at once.
    #[must_use]
    pub fn readings(&self, job: &Job, remark: &Remarked) -> Vec<Reading> {
        let subject: Vec<PartRef> = self.exact.part(&remark.remark.part).into_iter().collect();
        let words = &remark.remark.words;
        let understood = self.notes.read(&self.scene, &subject, words);
        let known = self.noted_at_once(job, words);
        let mut readings = understood.choices();
        if readings.is_empty() {
            readings.push(Reading {
                facts: understood.found().cloned().collect(),
                fits: 1.0,
            });
        }
        for reading in &mut readings {
            reading
                .facts
                .retain(|fact| !known.contains(&fact_line(self.model, fact)));
        }
        readings.retain(|reading| {
            !reading.facts.is_empty() && self.refused(job, &reading.facts).is_none()
        });
        readings.dedup_by(|one, other| one.facts == other.facts);
        readings
    }

    /// What a remark says besides these findings, clause by clause: a remark of its own.
    #[must_use]
    pub fn rest(&self, remark: &Remark, facts: &[Fact]) -> Option<Remark> {
        if facts.is_empty() {
            return None;
        }
        let subject: Vec<PartRef> = self.exact.part(&remark.part).into_iter().collect();
        let understood = self.notes.read(&self.scene, &subject, &remark.words);
        let mut rest: Vec<&str> = Vec::new();
        let mut add = |typed: &Range<usize>| {
            let words = remark.words.get(typed.clone()).unwrap_or_default();
            let words = words.trim_matches(|c: char| !c.is_alphanumeric() && c != '"');
            if !words.is_empty() {
                rest.push(words);
            }
        };
        for heard in &understood.heard {
            let is_unread = heard.dropped.iter().any(|gone| gone.why == Why::NoRule);
            if is_unread || matches!(heard.what, What::Nothing) {
                add(&heard.typed);
            }
        }
        let whole = |words: &str| words.trim() == remark.words.trim();
        // Of one clause that says everything, the words that no finding has.
        let words = match rest.join(", ") {
            words if whole(&words) => unread_words(&understood, &remark.words).join(", "),
            words => words,
        };
        (!words.is_empty() && !whole(&words)).then(|| Remark {
            part: remark.part.clone(),
            words,
        })
    }

    /// What stands in the record for words that a remark keeps as well.
    fn noted_at_once(&self, job: &Job, words: &str) -> Vec<String> {
        let typed = job.entries().iter().filter(|entry| match &entry.says {
            Says::Typed { words: typed, .. } => typed == words,
            _ => false,
        });
        let mut known = Vec::new();
        for entry in typed {
            let Says::Typed { lines, .. } = entry.says else {
                continue;
            };
            let before = entry.number.saturating_sub(lines)..entry.number;
            let lines = job
                .lines()
                .iter()
                .filter(|line| before.contains(&line.number));
            let facts = lines.filter_map(|line| self.exact.facts(&line.text).ok());
            known.extend(facts.flatten().map(|fact| fact_line(self.model, &fact)));
        }
        known
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

    /// The part that a remark is about, in the words of the rules.
    fn about(&self, understood: &Understood) -> String {
        let left = understood
            .heard
            .iter()
            .find(|heard| !matches!(heard.what, What::Found(_)) || !heard.dropped.is_empty());
        let heard = left.or(understood.heard.first());
        let about = heard.map(|heard| &heard.about);
        let about = about
            .or(understood.subject.first())
            .or(self.subject.first());
        match about {
            Some(part) => self.part_words(part),
            None => self.part_words(&piece()),
        }
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

    /// Of readings that fit the words about as well, the likelier by the rules come first.
    /// They go by what stands before a line of the record, so that the same remark has its
    /// readings in the same order later. Where the chances cannot be worked out, the words
    /// alone decide.
    pub fn rank(&self, rules: &Checked, job: &Job, until: usize, readings: &mut [Reading]) {
        let Some(built) = &rules.built else {
            return;
        };
        let Ok(pack) = built.bytes.open() else {
            return;
        };
        let lines = job.lines().iter().filter(|line| line.number < until);
        let lines: Vec<Line> = lines.cloned().collect();
        let findings: Findings<Message> =
            Findings::read(self.model, &lines, |text| self.exact.facts(text));
        let all: Vec<&Fact> = findings.standing().map(|one| &one.fact).collect();
        let facts: Vec<&Fact> = all
            .iter()
            .copied()
            .filter(|fact| has_part(self.model, &self.order, &all, fact).is_ok())
            .collect();
        let set_up = SetUp {
            model: self.model,
            built,
            order: &self.order,
            facts: &facts,
            later: None,
        };
        let mut room = Room::<UFloat>::default();
        let Ok(mut case) = set_up.case(pack, &mut room) else {
            return;
        };
        let mut chance = |fact: &Fact| match fact.found {
            Found::State { state, yes, .. } => {
                let parts = resolve(built, &case.inspection, &fact.part);
                let number = built.states.number(state);
                let of_first = parts
                    .first()
                    .map(|&part| case.inspection.chance(part, number));
                let chance = of_first.and_then(Result::ok).map_or(0.5, |c| c.as_f64());
                if yes { chance } else { 1.0 - chance }
            }
            _ => 0.5,
        };
        let mut keyed: Vec<(i64, f64, Reading)> = Vec::new();
        for reading in readings.iter() {
            let likely = reading.facts.iter().map(&mut chance).fold(1.0, f64::min);
            // Tenths: what differs by less fits as well.
            #[allow(clippy::cast_possible_truncation)]
            let fits = (reading.fits * 10.0).round() as i64;
            keyed.push((fits, likely, reading.clone()));
        }
        keyed.sort_by(|one, other| other.0.cmp(&one.0).then(other.1.total_cmp(&one.1)));
        for (place, (_, _, reading)) in readings.iter_mut().zip(keyed) {
            *place = reading;
        }
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

/// The sign that a finding answers, if it is one that can be asked.
fn sign_of(model: &Model, found: &Found) -> Option<SignId> {
    match *found {
        Found::State { state, .. } => match model.states.get(state.index())?.nature {
            Nature::Seen(sign) | Nature::CountsAs { sign, .. } => Some(sign),
            Nature::Hidden { .. } => None,
        },
        Found::Measure { sign, .. }
        | Found::Choice { sign, .. }
        | Found::Degree { sign, .. }
        | Found::SignCannotBeSeen(sign)
        | Found::NotLooked(sign) => Some(sign),
        _ => None,
    }
}

/// The words of a line that stand in no finding, as they were typed.
fn unread_words<'t>(understood: &Understood, typed: &'t str) -> Vec<&'t str> {
    let all = understood.heard.iter().flat_map(|heard| &heard.dropped);
    let unread = all.filter(|gone| gone.why == Why::NoRule);
    let words = unread.filter_map(|gone| typed.get(gone.typed.clone()));
    words.filter(|words| !words.is_empty()).collect()
}

fn dropped(understood: &Understood, typed: &str) -> Vec<(String, Why)> {
    let all = understood.heard.iter().flat_map(|heard| &heard.dropped);
    all.filter_map(|one| Some((typed.get(one.typed.clone())?.to_owned(), one.why)))
        .collect()
}
