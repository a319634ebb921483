//! Every state and every ask of a pack, in the order in which it lists them.
//!
//! Besides the states that the house declared there are those that its rules
//! read without a name: "worn more than 2 mm", "has fewer than 2 supports",
//! "point is gimlet-point". Each becomes a yes/no state of its own, tied to the
//! others of the same measure, count or choice by what the words mean: what is
//! worn more than 4 mm is worn more than 2 mm.

mod counts;
mod degrees;
mod inner;
mod marks;
mod measures;
mod shares;
mod uses;
mod values;

use std::collections::HashMap;
use std::ops::Range;

use tellmark_core::pack::{Nature as PackNature, Trial};

use crate::numbers::{Number as _, Overflow, numbers};
use crate::problem::{Capacity, TooMuch};
use inner::Inner;
use tellmark_language::model::{
    Asks, KindId, Mark, Missed, Model, Nature, PIECE, Sign, SignId, StateId, Ticks, Towards, Verb,
};
use uses::Uses;

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
    /// The ask that decides it, by its number.
    pub ask: u16,
    /// A yes/no ask that decides it when `ask` has no answer.
    pub whether: Option<u16>,
    /// How an answer decides it.
    pub trial: Trial,
    /// Its chance when nothing gives a reason for it.
    pub alone: f64,
    /// The same, but for what another mark of its measure or count implies.
    pub own: f64,
    /// Of a mark that divides a stretch of a measure: how much of the stretch lies
    /// above it, if it has a name; how much of the lowest stretch does not stand at the
    /// smallest reading, if it has none. In thousandths.
    pub share: u16,
    /// Whether any rule reads or concludes it, or it is a hidden fault; the
    /// others have no place in the belief network.
    pub in_use: bool,
    /// The reasons for it that lie in what the words mean.
    pub meant: Vec<Meant>,
    /// What it costs to find it late.
    pub missed: Option<Missed>,
    /// The declared state, if it is one.
    pub declared: Option<StateId>,
}

/// A reason for a state that lies in what the words mean.
#[derive(Clone, Debug, PartialEq)]
pub struct Meant {
    /// Other states of the same part that all must hold, or must not.
    pub when: Vec<Signed>,
    /// How often it is then so.
    pub weight: f64,
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
    declared: HashMap<StateId, u16>,
    signs: HashMap<SignId, u16>,
    opened: HashMap<StateId, u16>,
    marks: HashMap<(SignId, Ticks), usize>,
    values: HashMap<(SignId, u8), usize>,
    inner: Inner,
}

/// One state, and whether it must hold or must not.
pub type Signed = (usize, bool);

impl States {
    /// Collects them from a model.
    ///
    /// # Errors
    /// [`TooMuch`] if there are more than a pack has numbers for.
    pub fn of(model: &Model) -> Result<Self, TooMuch> {
        let uses = Uses::of(model);
        let mut all = Self::default();
        for kind in numbers().zip(&model.kinds).map(|(kind, _)| KindId(kind)) {
            all.add_asks(model, kind)
                .map_err(|Overflow| too_many(Capacity::Asks, all.asks.len()))?;
            let first = all.states.len();
            all.add_states(model, kind, &uses)
                .map_err(|Overflow| too_many(Capacity::States, all.states.len()))?;
            all.of_kind.push(first..all.states.len());
            all.tie_measures(model, &uses, first);
            all.tie_counts(model, first);
            all.tie_inner();
        }
        Ok(all)
    }

    fn add_states(&mut self, model: &Model, kind: KindId, uses: &Uses) -> Result<(), Overflow> {
        self.add_declared(model, kind, uses)?;
        self.add_marks(model, kind, uses)?;
        self.add_values(model, kind, uses)?;
        self.add_inner(model, kind)
    }

    /// Adds a state, and gives back its row.
    fn push(&mut self, row: StateRow) -> Result<usize, Overflow> {
        let at = self.states.len();
        at.half()?;
        self.states.push(row);
        Ok(at)
    }

    fn add_asks(&mut self, model: &Model, kind: KindId) -> Result<(), Overflow> {
        let first = self.asks.len();
        let read = model.places_read();
        let of_kind = numbers().zip(&model.signs).filter(|&(id, sign)| {
            let is_idle = sign.place().is_some() && !read.contains(&SignId(id));
            sign.kind == kind && !is_idle
        });
        for sign in of_kind.map(|(sign, _)| SignId(sign)) {
            let ask = self.push_ask(kind, Asked::Sign(sign))?;
            self.signs.insert(sign, ask);
        }
        for (state, record) in numbers().zip(&model.states) {
            let state = StateId(state);
            let is_judged = model.degree_of(state).is_some();
            if record.kind == kind && !matches!(record.nature, Nature::Seen(_)) && !is_judged {
                let ask = self.push_ask(kind, Asked::State(state))?;
                self.opened.insert(state, ask);
            }
        }
        self.asks_of_kind.push(first..self.asks.len());
        Ok(())
    }

    fn push_ask(&mut self, kind: KindId, what: Asked) -> Result<u16, Overflow> {
        let at = self.asks.len().half()?;
        self.asks.push(AskRow { kind, what });
        Ok(at)
    }

    fn add_declared(&mut self, model: &Model, kind: KindId, uses: &Uses) -> Result<(), Overflow> {
        for (id, state) in numbers().map(StateId).zip(&model.states) {
            if state.kind != kind {
                continue;
            }
            let alone = state
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
                    let (trial, from) = match (uses.towards(model, *sign), model.towards(state)) {
                        (Towards::More, Some(Towards::More)) => {
                            let trial = Trial::Within(mark.at_least, Ticks::MAX);
                            (trial, Some(mark.at_least))
                        }
                        (Towards::Less, Some(Towards::Less)) => {
                            let at_most = mark.at_most.unwrap_or(Ticks::MAX);
                            let trial = Trial::Within(Ticks::MIN, at_most);
                            (trial, Some(at_most.saturating_add(1)))
                        }
                        _ => {
                            let at_most = mark.at_most.unwrap_or(Ticks::MAX);
                            (Trial::Within(mark.at_least, at_most), None)
                        }
                    };
                    if let Some(from) = from {
                        self.marks.insert((*sign, from), self.states.len());
                        is_read |= uses.marks.contains(&(*sign, from));
                    }
                    let ask = self.signs.get(sign).copied().unwrap_or_default();
                    (PackNature::Mark, ask, opened, trial, None)
                }
            };
            self.declared.insert(id, self.states.len().half()?);
            self.push(StateRow {
                kind,
                phrase: state.phrase.clone(),
                verb: Some(state.verb),
                nature,
                ask,
                whether,
                trial,
                alone,
                own: alone,
                share: 0,
                in_use: nature == PackNature::Hidden || is_read,
                meant: Vec::new(),
                missed,
                declared: Some(id),
            })?;
        }
        Ok(())
    }

    /// Where a declared state stands.
    #[must_use]
    pub fn declared(&self, state: StateId) -> usize {
        usize::from(self.number(state))
    }

    /// The number of a declared state in the pack.
    #[must_use]
    pub fn number(&self, state: StateId) -> u16 {
        self.declared.get(&state).copied().unwrap_or_default()
    }

    /// The number of the ask of a sign in the pack.
    #[must_use]
    pub fn ask(&self, sign: SignId) -> u16 {
        self.signs.get(&sign).copied().unwrap_or_default()
    }

    /// The number of the ask that says whether a hidden or measured state is so.
    #[must_use]
    pub fn opened(&self, state: StateId) -> Option<u16> {
        self.opened.get(&state).copied()
    }

    /// "is at least this": a state that must or must not hold, or known at once.
    fn at_least(&self, model: &Model, sign: SignId, at: Ticks) -> Result<Signed, bool> {
        let (least, most) = limits(model, sign).ok_or(false)?;
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

/// The sign that counts these parts of this kind, if there is one. What is counted of
/// any piece is counted of each kind of piece.
#[must_use]
pub fn count_sign(model: &Model, kind: KindId, part: KindId) -> Option<SignId> {
    let is_piece = model.kinds[kind.index()].is_piece;
    let counts = |sign: &Sign| {
        let is_asked = sign.kind == kind || (is_piece && sign.kind == PIECE);
        is_asked && sign.asks == Asks::HowMany(part)
    };
    let mut signs = numbers().zip(&model.signs);
    let found = signs.find(|(_, sign)| counts(sign));
    found.map(|(sign, _)| SignId(sign))
}

fn too_many(what: Capacity, found: usize) -> TooMuch {
    TooMuch {
        what,
        found: found + 1,
        most: usize::from(tellmark_core::pack::NONE),
        at: None,
    }
}

/// The least and the most that can be measured or counted.
fn limits(model: &Model, sign: SignId) -> Option<(Ticks, Ticks)> {
    let record = &model.signs[sign.index()];
    match &record.asks {
        Asks::HowMany(part) => Some(range(model, record.kind, *part)),
        asks => asks.ends(),
    }
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
