//! The record in the words of the rules: what stands, and what a later line put
//! right.

use super::lines::{Line, When};
use tellmark_core::limits::MAX_DEPTH;
use tellmark_language::model::{
    Asks, Fact, Found, KindId, Model, Nature, PIECE, PartRef, PartStep, SignId, StateId, Which,
};

/// One thing that a line of the record says.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The line of the record, from 1.
    pub number: usize,
    /// When it was written down.
    pub when: When,
    /// What was found.
    pub fact: Fact,
    /// The line that later said something about the same part and sign.
    pub put_right_by: Option<usize>,
    /// Whether that line only says it again.
    pub is_said_again: bool,
}

/// A line that the rules do not understand, with what they say about it.
#[derive(Clone, Debug, PartialEq)]
pub struct NotUnderstood<E> {
    /// The line.
    pub line: Line,
    /// Why.
    pub why: E,
}

/// Everything that the record says.
#[derive(Clone, Debug, PartialEq)]
pub struct Findings<E> {
    /// Every finding, oldest first, those put right since among them.
    pub all: Vec<Finding>,
    /// Lines that stop nothing and are shown to the user.
    pub not_understood: Vec<NotUnderstood<E>>,
}

impl<E> Findings<E> {
    /// Reads lines in the words of a model; `read` is
    /// [`tellmark_language::AnswerReader::facts`] or stands for it.
    ///
    /// The latest line about the same part and sign counts. A line about every
    /// part of a kind puts right earlier ones about single parts of it; a line
    /// about one part leaves the earlier one about all of them standing, and
    /// whoever goes by the findings takes them in order, part by part. That a part
    /// cannot be seen stays so, whatever single thing is noted of it, until it "can be
    /// seen"; and it does not take back what was seen before.
    pub fn read(
        model: &Model,
        lines: &[Line],
        read: impl Fn(&str) -> Result<Vec<Fact>, E>,
    ) -> Findings<E> {
        let mut findings = Findings {
            all: Vec::new(),
            not_understood: Vec::new(),
        };
        for line in lines {
            match read(&line.text) {
                Ok(facts) => {
                    for fact in facts {
                        findings.add(model, line, fact);
                    }
                }
                Err(why) => findings.not_understood.push(NotUnderstood {
                    line: line.clone(),
                    why,
                }),
            }
        }
        findings
    }

    fn add(&mut self, model: &Model, line: &Line, fact: Fact) {
        let finding = Finding {
            number: line.number,
            when: line.when,
            fact,
            put_right_by: None,
            is_said_again: false,
        };
        self.put(model, finding);
    }

    fn put(&mut self, model: &Model, finding: Finding) {
        for earlier in &mut self.all {
            if earlier.put_right_by.is_none()
                && earlier.number != finding.number
                && puts_right(model, &finding.fact, &earlier.fact)
            {
                earlier.put_right_by = Some(finding.number);
                earlier.is_said_again = earlier.fact.found == finding.fact.found;
            }
        }
        self.all.push(finding);
    }

    /// The same findings, oldest first, as if there were no others: which of them stand.
    #[must_use]
    pub fn again(model: &Model, findings: impl IntoIterator<Item = Finding>) -> Findings<E> {
        let mut all = Findings {
            all: Vec::new(),
            not_understood: Vec::new(),
        };
        for finding in findings {
            all.put(
                model,
                Finding {
                    put_right_by: None,
                    is_said_again: false,
                    ..finding
                },
            );
        }
        all
    }

    /// The findings that stand, oldest first.
    pub fn standing(&self) -> impl Iterator<Item = &Finding> {
        self.all.iter().filter(|f| f.put_right_by.is_none())
    }
}

/// Two findings of one line that say different things of the same, by their numbers.
#[must_use]
pub fn at_odds(model: &Model, facts: &[Fact]) -> Option<(usize, usize)> {
    let about = |fact: &Fact| {
        let part = by_one_name(model, &fact.part);
        (part.steps, topic(model, &fact.found))
    };
    (1..facts.len()).find_map(|later| {
        let earlier = facts[..later].iter().position(|fact| {
            about(fact) == about(&facts[later]) && fact.found != facts[later].found
        });
        earlier.map(|earlier| (earlier, later))
    })
}

/// Whether a fact is about the same sign of the same part as an earlier one.
#[must_use]
pub fn puts_right(model: &Model, later: &Fact, earlier: &Fact) -> bool {
    let [later_part, earlier_part] = [later, earlier].map(|fact| by_one_name(model, &fact.part));
    if !covers(model, &later_part, &earlier_part) {
        return false;
    }
    topic(model, &later.found) == topic(model, &earlier.found)
}

/// The same words with the whole piece always called "the piece": a job has only one.
fn by_one_name(model: &Model, part: &PartRef) -> PartRef {
    let mut part = part.clone();
    for step in &mut part.steps {
        let kind = model.kinds.get(step.kind.index());
        if step.kind == PIECE || kind.is_some_and(|kind| kind.is_piece) {
            step.kind = PIECE;
            step.which = Which::Only;
        }
    }
    part
}

/// What a finding is about, apart from which part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Topic {
    Sign(SignId),
    State(StateId),
    Count(KindId),
    Part,
}

fn topic(model: &Model, found: &Found) -> Topic {
    match found {
        Found::State { state, .. } | Found::NotOpened(state) => {
            if let Some((sign, _)) = model.degree_of(*state) {
                return Topic::Sign(sign);
            }
            match model.states.get(state.index()).map(|s| &s.nature) {
                Some(Nature::Seen(sign)) => Topic::Sign(*sign),
                _ => Topic::State(*state),
            }
        }
        Found::Measure { sign, .. } | Found::Choice { sign, .. } | Found::Degree { sign, .. } => {
            Topic::Sign(*sign)
        }
        Found::SignCannotBeSeen(sign) | Found::NotLooked(sign) => {
            match model.signs.get(sign.index()).map(|s| &s.asks) {
                Some(Asks::HowMany(kind)) => Topic::Count(*kind),
                _ => Topic::Sign(*sign),
            }
        }
        Found::Count { part, .. } => Topic::Count(*part),
        Found::PartCannotBeSeen | Found::PartCanBeSeen => Topic::Part,
    }
}

/// Whether every part that `inner` means is among those that `outer` means.
///
/// An owner that is not named may be any. One that only `outer` names must be
/// the only one there is.
pub(super) fn covers(model: &Model, outer: &PartRef, inner: &PartRef) -> bool {
    let (Some((first, owners)), Some((inner_first, mut rest))) =
        (outer.steps.split_first(), inner.steps.split_first())
    else {
        return false;
    };
    let step_covers = |outer: &PartStep, inner: &PartStep| {
        outer.kind == inner.kind && within(&inner.which, &outer.which)
    };
    step_covers(first, inner_first)
        && owners.iter().all(
            |owner| match rest.iter().position(|step| step.kind == owner.kind) {
                Some(at) => {
                    let same = rest.get(at).is_some_and(|step| step_covers(owner, step));
                    rest = rest.get(at + 1..).unwrap_or_default();
                    same
                }
                None => {
                    let is_only = owner.which == Which::Only || owner.which == Which::Every;
                    let next = rest.first().map(|step| step.kind);
                    is_only && can_own(model, owner.kind, first.kind, next)
                }
            },
        )
}

/// Whether a part of kind `part`, which stands in a `next` if that is named, can stand in
/// an `owner`: a surface of a side is none of a top.
fn can_own(model: &Model, owner: KindId, part: KindId, next: Option<KindId>) -> bool {
    let has = |outer, inner| holds(model, outer, inner, 0);
    has(owner, part) && next.is_none_or(|next| has(owner, next) || has(next, owner))
}

/// Whether a kind of part has another built into it, however far down.
fn holds(model: &Model, outer: KindId, inner: KindId, depth: usize) -> bool {
    let Some(kind) = model.kinds.get(outer.index()) else {
        return false;
    };
    let is_deep = depth > MAX_DEPTH;
    let mut members = kind.members.iter();
    outer == PIECE
        || (!is_deep
            && members
                .any(|member| member.kind == inner || holds(model, member.kind, inner, depth + 1)))
}

fn within(inner: &Which, outer: &Which) -> bool {
    match (place(inner), place(outer)) {
        (_, None) => true,
        (None, Some(_)) => false,
        (Some(inner), Some(outer)) => inner == outer,
    }
}

/// The number of the part, from 1; `None` for every one.
fn place(which: &Which) -> Option<u16> {
    match which {
        Which::Only => Some(1),
        Which::Number(n) => Some(u16::from(*n)),
        Which::Named(n) => Some(u16::from(*n) + 1),
        Which::Every => None,
    }
}
