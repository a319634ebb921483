//! Every state and every ask of a pack, in the order in which it lists them.
//!
//! Besides the states that the house declared there are those that its rules
//! read without a name: "worn more than 2 mm", "has fewer than 2 supports",
//! "point is gimlet-point". Each becomes a yes/no state of its own, tied to the
//! others of the same measure, count or choice by what the words mean: what is
//! worn more than 4 mm is worn more than 2 mm.

use std::collections::HashMap;
use std::ops::Range;

use tellmark_core::pack::{Nature as PackNature, Trial};

use tellmark_language::model::{
    Asks, Condition, KindId, Mark, Missed, Model, Nature, Predicate, SignId, StateId, Test, Ticks,
    Verb,
};

/// A state as the pack lists it.
#[derive(Clone, Debug)]
pub struct StateRow {
    /// The kind it is said of.
    pub kind: KindId,
    /// "sagging", "worn more than 2 mm".
    pub phrase: String,
    /// How it is put into a sentence; `None`: "has".
    pub verb: Option<Verb>,
    /// How it can be known.
    pub nature: PackNature,
    /// The ask that decides it.
    pub ask: usize,
    /// A yes/no ask that decides it when `ask` has no answer.
    pub whether: Option<usize>,
    /// How an answer decides it.
    pub trial: Trial,
    /// Its chance when nothing gives a reason for it.
    pub own: f64,
    /// Whether any rule reads or concludes it, or it is a hidden fault; the
    /// others have no place in the belief network.
    pub in_use: bool,
    /// States of the same part that imply it by what the words mean.
    pub implied_by: Vec<usize>,
    /// For a value of a choice, or a number over what is usual: the states that
    /// exclude it, and its chance when none of them holds.
    pub unless: Option<(Vec<usize>, f64)>,
    /// What it costs to find it late.
    pub missed: Option<Missed>,
    /// The declared state, if it is one.
    pub declared: Option<StateId>,
}

/// An ask as the pack lists it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AskRow {
    /// The kind it is asked of.
    pub kind: KindId,
    /// What it asks for.
    pub what: Asked,
}

/// What an ask asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// A declared sign.
    Sign(SignId),
    /// Whether a hidden fault, or a state that counts as something by a
    /// measure, is so.
    State(StateId),
}

/// The states and asks of a pack.
#[derive(Clone, Debug, Default)]
pub struct States {
    /// Sorted by kind.
    pub states: Vec<StateRow>,
    /// Sorted by kind.
    pub asks: Vec<AskRow>,
    /// Which states belong to a kind.
    pub of_kind: Vec<Range<usize>>,
    /// Which asks belong to a kind.
    pub asks_of_kind: Vec<Range<usize>>,
    declared: HashMap<StateId, usize>,
    signs: HashMap<SignId, usize>,
    opened: HashMap<StateId, usize>,
    marks: HashMap<(SignId, Ticks), usize>,
    values: HashMap<(SignId, u8), usize>,
}

/// One state, and whether it must hold or must not.
pub type Signed = (usize, bool);

impl States {
    /// Collects them from a model.
    #[must_use]
    pub fn of(model: &Model) -> Self {
        let uses = Uses::of(model);
        let mut all = Self::default();
        for kind in 0..model.kinds.len() {
            let kind = KindId(u16::try_from(kind).unwrap_or(u16::MAX));
            all.add_asks(model, kind);
            let first = all.states.len();
            all.add_declared(model, kind, &uses);
            all.add_marks(model, kind, &uses);
            all.add_values(model, kind, &uses);
            all.of_kind.push(first..all.states.len());
            all.imply(first);
            all.part_counts(first);
        }
        all
    }

    fn add_asks(&mut self, model: &Model, kind: KindId) {
        let first = self.asks.len();
        for (i, sign) in model.signs.iter().enumerate() {
            if sign.kind == kind {
                let sign = SignId(u16::try_from(i).unwrap_or(u16::MAX));
                self.signs.insert(sign, self.asks.len());
                self.asks.push(AskRow {
                    kind,
                    what: Asked::Sign(sign),
                });
            }
        }
        for (i, state) in model.states.iter().enumerate() {
            if state.kind == kind && !matches!(state.nature, Nature::Seen(_)) {
                let state = StateId(u16::try_from(i).unwrap_or(u16::MAX));
                self.opened.insert(state, self.asks.len());
                self.asks.push(AskRow {
                    kind,
                    what: Asked::State(state),
                });
            }
        }
        self.asks_of_kind.push(first..self.asks.len());
    }

    fn add_declared(&mut self, model: &Model, kind: KindId, uses: &Uses) {
        for (i, state) in model.states.iter().enumerate() {
            if state.kind != kind {
                continue;
            }
            let id = StateId(u16::try_from(i).unwrap_or(u16::MAX));
            let own = state
                .on_its_own
                .map_or(0.0, |often| f64::from(often.chance.0) / 1000.0);
            let opened = self.opened.get(&id).copied();
            let mut is_read = uses.states.contains(&id);
            let (nature, ask, whether, trial, missed) = match &state.nature {
                Nature::Seen(sign) => {
                    let ask = self.signs.get(sign).copied().unwrap_or_default();
                    (PackNature::Seen, ask, None, Trial::Yes, None)
                }
                Nature::Hidden { missed } => (
                    PackNature::Hidden,
                    opened.unwrap_or_default(),
                    None,
                    Trial::Yes,
                    *missed,
                ),
                Nature::CountsAs { sign, mark } => {
                    if mark.at_most.is_none() {
                        self.marks.insert((*sign, mark.at_least), self.states.len());
                        is_read |= uses.marks.contains(&(*sign, mark.at_least));
                    }
                    let trial = Trial::Within(mark.at_least, mark.at_most.unwrap_or(Ticks::MAX));
                    let ask = self.signs.get(sign).copied().unwrap_or_default();
                    (PackNature::Mark, ask, opened, trial, None)
                }
            };
            self.declared.insert(id, self.states.len());
            self.states.push(StateRow {
                kind,
                phrase: state.phrase.clone(),
                verb: Some(state.verb),
                nature,
                ask,
                whether,
                trial,
                own,
                in_use: nature == PackNature::Hidden || is_read,
                implied_by: Vec::new(),
                unless: None,
                missed,
                declared: Some(id),
            });
        }
    }

    /// Marks on measures and counts that rules read without a name.
    fn add_marks(&mut self, model: &Model, kind: KindId, uses: &Uses) {
        let mut marks: Vec<(SignId, Ticks)> = uses
            .marks
            .iter()
            .copied()
            .filter(|(sign, at)| {
                model.signs[sign.index()].kind == kind && !self.marks.contains_key(&(*sign, *at))
            })
            .collect();
        marks.sort_unstable();
        for (sign, at) in marks {
            if self.marks.contains_key(&(sign, at)) {
                continue;
            }
            let record = &model.signs[sign.index()];
            let own = record
                .on_its_own
                .map_or(0.0, |often| f64::from(often.chance.0) / 1000.0);
            let (phrase, verb, trial) = match &record.asks {
                Asks::HowMany(part) => {
                    let fewer = at <= usual(model, kind, *part);
                    let plural = &model.kinds[part.index()].plural;
                    if fewer {
                        let phrase = if at == 1 {
                            format!("no {}", model.kinds[part.index()].name)
                        } else {
                            format!("fewer than {at} {plural}")
                        };
                        (phrase, None, Trial::Within(Ticks::MIN, at - 1))
                    } else {
                        let phrase = format!("at least {at} {plural}");
                        (phrase, None, Trial::Within(at, Ticks::MAX))
                    }
                }
                Asks::HowMuch {
                    phrase, word, unit, ..
                } => {
                    let quantity = tellmark_language::words::quantity_short(at, *unit);
                    let word = if word == "much" || word == "far" {
                        String::new()
                    } else {
                        format!(" {word}")
                    };
                    let phrase = format!("{phrase} at least {quantity}{word}");
                    (phrase, Some(Verb::Is), Trial::Within(at, Ticks::MAX))
                }
                Asks::Whether(_) | Asks::Which { .. } => continue,
            };
            self.marks.insert((sign, at), self.states.len());
            self.states.push(StateRow {
                kind,
                phrase,
                verb,
                nature: PackNature::Mark,
                ask: self.signs.get(&sign).copied().unwrap_or_default(),
                whether: None,
                trial,
                own,
                in_use: true,
                implied_by: Vec::new(),
                unless: None,
                missed: None,
                declared: None,
            });
        }
    }

    /// Too few and more than usual exclude each other: a count that is over what
    /// is usual can only be so where it does not fall short.
    fn part_counts(&mut self, first: usize) {
        let counted = |row: &StateRow| row.verb.is_none() && row.nature == PackNature::Mark;
        for over in first..self.states.len() {
            let Trial::Within(from, Ticks::MAX) = self.states[over].trial else {
                continue;
            };
            let ask = self.states[over].ask;
            let widest = (first..self.states.len())
                .filter(|&s| counted(&self.states[s]) && self.states[s].ask == ask)
                .filter_map(|s| match self.states[s].trial {
                    Trial::Within(Ticks::MIN, to) if to < from => Some((to, s)),
                    _ => None,
                })
                .max();
            if let (true, Some((_, short))) = (counted(&self.states[over]), widest) {
                let own = self.states[over].own;
                self.states[over].unless = Some((vec![short], own));
                self.states[over].own = 0.0;
            }
        }
    }

    /// Values of choices that rules read. Every value is as likely as the next,
    /// and they exclude each other.
    fn add_values(&mut self, model: &Model, kind: KindId, uses: &Uses) {
        let mut values: Vec<(SignId, u8)> = uses
            .values
            .iter()
            .copied()
            .filter(|(sign, _)| model.signs[sign.index()].kind == kind)
            .collect();
        values.sort_unstable();
        let mut earlier: Vec<usize> = Vec::new();
        let mut of_sign = None;
        for (sign, value) in values {
            let Asks::Which {
                attribute,
                values: words,
            } = &model.signs[sign.index()].asks
            else {
                continue;
            };
            if of_sign != Some(sign) {
                earlier.clear();
                of_sign = Some(sign);
            }
            let left = words.len().saturating_sub(earlier.len()).max(1);
            #[allow(clippy::cast_precision_loss)]
            let chance = 1.0 / left as f64;
            let word = words.get(usize::from(value)).map_or("", String::as_str);
            self.values.insert((sign, value), self.states.len());
            self.states.push(StateRow {
                kind,
                phrase: format!("{word} {attribute}"),
                verb: None,
                nature: PackNature::Mark,
                ask: self.signs.get(&sign).copied().unwrap_or_default(),
                whether: None,
                trial: Trial::Value(value),
                own: 0.0,
                in_use: true,
                implied_by: Vec::new(),
                unless: Some((earlier.clone(), chance)),
                missed: None,
                declared: None,
            });
            earlier.push(self.states.len() - 1);
        }
    }

    /// Ties the marks of one measure or count together: each is implied by the
    /// next narrower ones.
    fn imply(&mut self, first: usize) {
        let within = |states: &[StateRow], i: usize| match states[i].trial {
            Trial::Within(from, to) => Some((states[i].ask, from, to)),
            _ => None,
        };
        for wide in first..self.states.len() {
            let Some((ask, from, to)) = within(&self.states, wide) else {
                continue;
            };
            let inside = |inner: usize| {
                inner != wide
                    && within(&self.states, inner).is_some_and(|(a, f, t)| {
                        a == ask && from <= f && t <= to && (f, t) != (from, to)
                    })
            };
            let narrower: Vec<usize> = (first..self.states.len()).filter(|&n| inside(n)).collect();
            let direct = |&n: &usize| {
                let Some((_, f, t)) = within(&self.states, n) else {
                    return false;
                };
                !narrower.iter().any(|&m| {
                    m != n
                        && within(&self.states, m)
                            .is_some_and(|(_, mf, mt)| mf <= f && t <= mt && (mf, mt) != (f, t))
                })
            };
            let implied_by: Vec<usize> = narrower.iter().copied().filter(direct).collect();
            self.states[wide].implied_by = implied_by;
        }
        // What is read brings in all narrower marks of the same measure.
        let mut open: Vec<usize> = (first..self.states.len())
            .filter(|&state| self.states[state].in_use)
            .collect();
        while let Some(state) = open.pop() {
            for inner in self.states[state].implied_by.clone() {
                if !self.states[inner].in_use {
                    self.states[inner].in_use = true;
                    open.push(inner);
                }
            }
        }
    }

    /// Where a declared state stands.
    #[must_use]
    pub fn declared(&self, state: StateId) -> usize {
        self.declared.get(&state).copied().unwrap_or_default()
    }

    /// Where the ask of a sign stands.
    #[must_use]
    pub fn ask(&self, sign: SignId) -> usize {
        self.signs.get(&sign).copied().unwrap_or_default()
    }

    /// Where the ask stands that says whether a hidden or measured state is so.
    #[must_use]
    pub fn opened(&self, state: StateId) -> Option<usize> {
        self.opened.get(&state).copied()
    }

    /// "is at least this": a state that must or must not hold, or known at once.
    fn at_least(&self, model: &Model, sign: SignId, at: Ticks) -> Result<Signed, bool> {
        let record = &model.signs[sign.index()];
        let (least, most) = match &record.asks {
            Asks::HowMuch { least, most, .. } => (*least, *most),
            Asks::HowMany(part) => range(model, record.kind, *part),
            Asks::Whether(_) | Asks::Which { .. } => return Err(false),
        };
        if at <= least {
            return Err(true);
        }
        if at > most {
            return Err(false);
        }
        let Some(&state) = self.marks.get(&(sign, at)) else {
            return Err(false);
        };
        // A mark on a count at or below the usual number is kept as its
        // opposite, "fewer than".
        let fewer = matches!(self.states[state].trial, Trial::Within(Ticks::MIN, _));
        Ok((state, !fewer))
    }

    /// "lies within this mark", as literals that must all hold; `Err` if it is
    /// always or never so.
    ///
    /// # Errors
    /// The truth value, if it does not depend on anything.
    pub fn within(&self, model: &Model, sign: SignId, mark: Mark) -> Result<Vec<Signed>, bool> {
        let mut literals = Vec::new();
        match self.at_least(model, sign, mark.at_least) {
            Ok(literal) => literals.push(literal),
            Err(true) => {}
            Err(false) => return Err(false),
        }
        if let Some(at_most) = mark.at_most {
            match self.at_least(model, sign, at_most.saturating_add(1)) {
                Ok((state, yes)) => literals.push((state, !yes)),
                Err(true) => return Err(false),
                Err(false) => {}
            }
        }
        if literals.is_empty() {
            return Err(true);
        }
        Ok(literals)
    }

    /// The state of one value of a choice.
    #[must_use]
    pub fn value(&self, sign: SignId, value: u8) -> Option<usize> {
        self.values.get(&(sign, value)).copied()
    }
}

/// The sign that counts these parts of this kind, if there is one.
#[must_use]
pub fn count_sign(model: &Model, kind: KindId, part: KindId) -> Option<SignId> {
    model
        .signs
        .iter()
        .position(|sign| sign.kind == kind && sign.asks == Asks::HowMany(part))
        .map(|i| SignId(u16::try_from(i).unwrap_or(u16::MAX)))
}

/// Fewest and most of these parts in this kind.
#[must_use]
pub fn range(model: &Model, kind: KindId, part: KindId) -> (Ticks, Ticks) {
    model.kinds[kind.index()]
        .members
        .iter()
        .find(|member| member.kind == part)
        .map_or((0, 0), |member| {
            (Ticks::from(member.least), Ticks::from(member.most))
        })
}

fn usual(model: &Model, kind: KindId, part: KindId) -> Ticks {
    model.kinds[kind.index()]
        .members
        .iter()
        .find(|member| member.kind == part)
        .map_or(0, |member| Ticks::from(member.usual))
}

/// What the rules read or conclude.
#[derive(Default)]
struct Uses {
    states: std::collections::HashSet<StateId>,
    marks: std::collections::HashSet<(SignId, Ticks)>,
    values: std::collections::HashSet<(SignId, u8)>,
}

impl Uses {
    fn of(model: &Model) -> Self {
        let mut uses = Self::default();
        for rule in &model.rules {
            uses.states.insert(rule.state);
            uses.condition(model, &rule.when, rule.subject);
            if let Some(unless) = &rule.unless {
                uses.condition(model, unless, rule.subject);
            }
        }
        for means in &model.means {
            uses.states.insert(means.sign);
            uses.states.insert(means.fault);
        }
        uses
    }

    fn condition(&mut self, model: &Model, condition: &Condition, subject: KindId) {
        match condition {
            Condition::All(parts) | Condition::Any(parts) => {
                for part in parts {
                    self.condition(model, part, subject);
                }
            }
            Condition::Test(test) => self.test(model, test, subject),
        }
    }

    fn test(&mut self, model: &Model, test: &Test, subject: KindId) {
        match &test.what {
            Predicate::State { state, .. } => {
                self.states.insert(*state);
            }
            Predicate::Measure { sign, mark, .. } => self.mark(*sign, *mark),
            Predicate::Choice { sign, values, .. } => {
                self.values.extend(values.iter().map(|&v| (*sign, v)));
            }
            Predicate::Has { part, mark, .. } => {
                let kind = match &test.whose {
                    tellmark_language::model::Reach::Own => subject,
                    tellmark_language::model::Reach::Up(kind) => *kind,
                    tellmark_language::model::Reach::Down { path, .. } => {
                        path.last().copied().unwrap_or(subject)
                    }
                };
                if let Some(sign) = count_sign(model, kind, *part) {
                    self.mark(sign, *mark);
                }
            }
            Predicate::CannotBeSeen => {}
        }
    }

    fn mark(&mut self, sign: SignId, mark: Mark) {
        self.marks.insert((sign, mark.at_least));
        if let Some(at_most) = mark.at_most {
            self.marks.insert((sign, at_most.saturating_add(1)));
        }
    }
}
