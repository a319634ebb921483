//! What a sentence with a strength comes to in the finished pack: the chance of its
//! result once its condition is answered, with nothing else known.
//!
//! A strength is said of a condition that is so. An ordinary yes only makes that likely:
//! how likely hangs on the start of the sign and its slip, so that "usually" may come
//! to less. (See "What a figure comes to" in the guide.)

mod clauses;

use tellmark_core::inspection::Inspection;
use tellmark_core::piece::Answer;

use crate::fit::with_pieces;
use crate::room::PackBytes;
use crate::rules::Rules;
use crate::states::States;
use clauses::{Asker, Clause};
use tellmark_language::model::{Condition, KindId, Predicate, Reach, StateId, Test};
use tellmark_language::span::Span;

/// A sentence with a strength, by its index in the model.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sentence {
    /// `If … then …`.
    Rule(usize),
    /// `If …, that usually means …`.
    Means(usize),
}

/// How the condition of a sentence is answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answered {
    /// An ordinary yes to every clause. A hidden fault was opened up; a measure without
    /// a name is well over its mark.
    Yes,
    /// An ordinary no to every clause.
    No,
    /// The same yes, but certain.
    Certainly,
    /// Every measure reads just at its mark; an ordinary yes to the rest.
    AtMark,
    /// Every measure reads four standard deviations of its gauge over its mark (or as far
    /// as it goes).
    WellOver,
}

/// What a sentence comes to on one kind of piece, with all numbers of parts as usual.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Obtained {
    /// The sentence.
    pub sentence: Sentence,
    /// The place of the part that it is about.
    pub place: usize,
    /// The chance of its result before anything is known.
    pub before: f64,
    /// After an ordinary yes; `None` (here and below) where this cannot be answered, or
    /// all answers together cannot be true.
    pub yes: Option<f64>,
    /// After an ordinary no.
    pub no: Option<f64>,
    /// After a certain yes.
    pub certainly: Option<f64>,
    /// With a reading just at the mark; `None` too if nothing is measured.
    pub at_mark: Option<f64>,
    /// With a reading well over it.
    pub well_over: Option<f64>,
}

/// What the sentences that are `wanted` come to, piece by piece.
#[must_use]
pub(crate) fn obtained(
    rules: Rules<'_>,
    bytes: &PackBytes,
    wanted: impl Fn(Sentence, Span) -> bool,
) -> Vec<Obtained> {
    let said: Vec<Said<'_>> = sentences(rules, wanted).collect();
    let mut found = Vec::new();
    if said.is_empty() {
        return found;
    }
    with_pieces(rules.places, bytes, |inspection, root| {
        let within = root..rules.places.get(root).end;
        for said in &said {
            let places = rules.places.of_subject(said.subject);
            for place in places.into_iter().filter(|place| within.contains(place)) {
                found.extend(said.at(rules, inspection, place));
            }
        }
    });
    found
}

/// A sentence, whichever way it is written.
struct Said<'m> {
    sentence: Sentence,
    subject: KindId,
    when: Condition,
    unless: Option<&'m Condition>,
    result: &'m Reach,
    /// What it says is so, or one of it.
    states: Vec<StateId>,
}

fn sentences<'m>(
    rules: Rules<'m>,
    wanted: impl Fn(Sentence, Span) -> bool,
) -> impl Iterator<Item = Said<'m>> {
    let model = rules.model;
    let of_rules = model.rules.iter().enumerate().map(|(i, rule)| {
        let said = Said {
            sentence: Sentence::Rule(i),
            subject: rule.subject,
            when: rule.when.clone(),
            unless: rule.unless.as_ref(),
            result: &rule.result,
            states: rule.results().collect(),
        };
        (said, rule.at)
    });
    let of_means = model.means.iter().enumerate().map(|(i, means)| {
        let what = Predicate::State {
            state: means.sign,
            yes: true,
            sureness: None,
        };
        let said = Said {
            sentence: Sentence::Means(i),
            subject: means.subject,
            when: Condition::Test(Test {
                whose: Reach::Own,
                what,
                at: means.at,
            }),
            unless: None,
            result: &means.whose,
            states: vec![means.fault],
        };
        (said, means.at)
    });
    of_rules
        .chain(of_means)
        .filter(move |(said, at)| wanted(said.sentence, *at))
        .map(|(said, _)| said)
}

impl Said<'_> {
    /// What it comes to for the first part at a place that it speaks of, and the first part
    /// that its result is about; `None` if it says nothing there.
    fn at(
        &self,
        rules: Rules<'_>,
        inspection: &mut Inspection<'_, '_, f64>,
        place: usize,
    ) -> Option<Obtained> {
        let parts = inspection.piece().parts().iter();
        let at_place = parts
            .enumerate()
            .filter(|(_, p)| usize::from(p.place) == place);
        let at_place: Vec<usize> = at_place.map(|(part, _)| part).collect();
        let mut each = at_place.into_iter();
        each.find_map(|part| self.at_part(rules, inspection, (place, part)))
    }

    fn at_part(
        &self,
        rules: Rules<'_>,
        inspection: &mut Inspection<'_, '_, f64>,
        (place, part): (usize, usize),
    ) -> Option<Obtained> {
        let asker = Asker { rules };
        let target = *asker.parts(inspection, part, self.result).first()?;
        let results = |inspection: &mut Inspection<'_, '_, f64>| {
            any_of(rules.states, inspection, target, &self.states)
        };
        // Of a rule, exceptions do not apply, and the result is where it can be. The promise
        // of a `that means` sentence is made with nothing else known.
        let mut always = Vec::new();
        if let Some(unless) = self.unless {
            always.extend(asker.clauses(inspection, part, unless, false)?);
        }
        // (What a sign means is fitted with that not known.)
        for only_if in &rules.model.only_ifs {
            let is_rule = matches!(self.sentence, Sentence::Rule(_));
            let closed = rules.states.with(rules.model, only_if.state);
            let mut rows = self.states.iter().map(|&id| rules.states.declared(id));
            if is_rule && rows.any(|row| closed.contains(&row)) {
                always.extend(asker.clauses(inspection, target, &only_if.when, true)?);
            }
        }
        let so = asker.clauses(inspection, part, &self.when, true)?;
        let not_so = asker.clauses(inspection, part, &self.when, false);
        let is_measured = so.iter().any(|clause| asker.is_measured(clause));
        let before = results(inspection)?;
        let mut after = |clauses: &[Clause<'_>], how: Answered| {
            let always = always.iter().map(|clause| (clause, Answered::Yes));
            let all = always.chain(clauses.iter().map(|clause| (clause, how)));
            let answers: Option<Vec<_>> = all.map(|(c, how)| asker.answer(c, how)).collect();
            let answers = agreeing(answers?)?;
            with_answers(inspection, &answers, |inspection| results(inspection))
        };
        Some(Obtained {
            sentence: self.sentence,
            place,
            before,
            yes: after(&so, Answered::Yes),
            no: not_so.and_then(|not_so| after(&not_so, Answered::No)),
            certainly: after(&so, Answered::Certainly),
            at_mark: is_measured.then(|| after(&so, Answered::AtMark)).flatten(),
            well_over: is_measured
                .then(|| after(&so, Answered::WellOver))
                .flatten(),
        })
    }
}

/// The answers, unless clauses want different answers to one question: then there is no
/// plain way to answer the condition, and nothing is said of what it comes to.
fn agreeing(answers: Vec<(usize, u16, Answer)>) -> Option<Vec<(usize, u16, Answer)>> {
    let differ = |(i, one): (usize, &(usize, u16, Answer))| {
        let mut others = answers.iter().skip(i + 1);
        others.any(|other| (other.0, other.1) == (one.0, one.1) && other.2 != one.2)
    };
    let is_odd = answers.iter().enumerate().any(differ);
    (!is_odd).then_some(answers)
}

/// The chance that one of some states of a part is so.
fn any_of(
    states: &States,
    inspection: &mut Inspection<'_, '_, f64>,
    part: usize,
    any: &[StateId],
) -> Option<f64> {
    let Some((&first, others)) = any.split_first() else {
        return Some(0.0);
    };
    let so = chance(inspection, (part, states.number(first)))?;
    if others.is_empty() || so >= 1.0 {
        return Some(so);
    }
    let row = &states.states[states.declared(first)];
    let not_so = (part, row.whether.unwrap_or(row.ask), Answer::Certain(false));
    let other = with_answers(inspection, &[not_so], |inspection| {
        any_of(states, inspection, part, others)
    })?;
    Some(so + (1.0 - so) * other)
}

fn chance(inspection: &mut Inspection<'_, '_, f64>, (part, state): (usize, u16)) -> Option<f64> {
    let place = usize::from(inspection.piece().part(part)?.place);
    let slot = inspection.pack().state_slot(place, state)?;
    let (no, yes) = inspection.weights(part, slot).ok()?;
    Some(yes / (no + yes))
}

/// With these answers given; they are taken back.
fn with_answers<T>(
    inspection: &mut Inspection<'_, '_, f64>,
    answers: &[(usize, u16, Answer)],
    with: impl FnOnce(&mut Inspection<'_, '_, f64>) -> Option<T>,
) -> Option<T> {
    let mut given = 0;
    let all_fit = answers.iter().all(|&(part, ask, answer)| {
        given += 1;
        inspection.answer(part, ask, answer).is_ok()
    });
    let found = all_fit.then(|| with(inspection)).flatten();
    for &(part, ask, _) in answers.iter().take(given) {
        let _ = inspection.answer(part, ask, Answer::NotLooked);
    }
    found
}
