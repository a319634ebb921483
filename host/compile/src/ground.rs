//! The belief network of one piece, part by part.
//!
//! The same sentences as in a pack, read once more and laid out for every part
//! of a piece, with nothing shared and nothing summed out. It is the other road
//! to the same chances: tests enumerate its worlds, other libraries are given
//! it, and reasons are found by walking along it.

use super::fit::Fitted;
use super::network::weight;
use super::places::Places;
use super::states::{Signed, States, count_sign};
use tellmark_language::model::{
    Condition, HowMany, KindId, Model, PIECE, Predicate, Reach, Rule, Test,
};

/// A part of the piece, in the same order as the core sets parts up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GroundPart {
    /// Its place.
    pub place: usize,
    /// The part it is built into.
    pub owner: Option<usize>,
    /// Which of its owner's parts of this kind, from 1.
    pub number: u8,
}

/// A condition over the states of a piece.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Claim {
    /// Always or never.
    Known(bool),
    /// A state (by number) holds, or does not.
    State(usize, bool),
    /// Every one of these.
    All(Vec<Claim>),
    /// At least so many of these.
    AtLeast(usize, Vec<Claim>),
    /// Not this.
    Not(Box<Claim>),
}

impl Claim {
    /// Whether it holds in a world.
    pub fn holds(&self, world: &impl Fn(usize) -> bool) -> bool {
        match self {
            Self::Known(value) => *value,
            Self::State(state, yes) => world(*state) == *yes,
            Self::All(parts) => parts.iter().all(|part| part.holds(world)),
            Self::AtLeast(n, parts) => parts.iter().filter(|part| part.holds(world)).count() >= *n,
            Self::Not(part) => !part.holds(world),
        }
    }

    /// Calls `each` with every state it mentions.
    pub fn states(&self, each: &mut impl FnMut(usize)) {
        match self {
            Self::Known(_) => {}
            Self::State(state, _) => each(*state),
            Self::All(parts) | Self::AtLeast(_, parts) => {
                for part in parts {
                    part.states(each);
                }
            }
            Self::Not(part) => part.states(each),
        }
    }
}

/// Which sentence gives a reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SentenceId {
    /// `If … then …`.
    Rule(usize),
    /// `If …, that usually means …`.
    Means(usize),
    /// What the words themselves mean.
    Meaning,
}

/// Something that can bring a state about.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundCause {
    /// When it can.
    pub when: Claim,
    /// How often it then does.
    pub weight: f64,
    /// The sentence that says so.
    pub sentence: SentenceId,
}

/// A state of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundState {
    /// The part.
    pub part: usize,
    /// The row of the pack's states.
    pub row: usize,
    /// Its chance when nothing gives a reason for it.
    pub own: f64,
    /// What gives reasons for it.
    pub causes: Vec<GroundCause>,
    /// Whether it takes part in the network.
    pub in_use: bool,
}

/// The belief network of one piece.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ground {
    /// The parts.
    pub parts: Vec<GroundPart>,
    /// The states of all parts.
    pub states: Vec<GroundState>,
    first: Vec<usize>,
}

impl Ground {
    pub(super) fn of(
        model: &Model,
        states: &States,
        places: &Places,
        fitted: &Fitted,
        root: usize,
        count: impl FnMut(&[GroundPart], usize, usize) -> u8,
    ) -> Self {
        let mut ground = Self::default();
        ground.add_parts(places, root, count);
        for part in 0..ground.parts.len() {
            ground.first.push(ground.states.len());
            let place = ground.parts[part].place;
            for row in places.states(states, place) {
                let state = &states.states[row];
                ground.states.push(GroundState {
                    part,
                    row,
                    own: fitted.false_alarm(place, row).unwrap_or(state.own),
                    causes: Vec::new(),
                    in_use: state.in_use,
                });
            }
        }
        let mut layer = Layer {
            model,
            states,
            places,
            ground,
        };
        layer.add_meanings();
        for (i, rule) in model.rules.iter().enumerate() {
            layer.add_rule(rule, SentenceId::Rule(i));
        }
        layer.add_means(fitted);
        layer.ground
    }

    /// As it would be if every `that means` sentence had a link from its fault
    /// to its sign: enough to look for circles in.
    #[must_use]
    pub fn assumed(
        model: &Model,
        states: &States,
        places: &Places,
        root: usize,
        count: impl FnMut(&[GroundPart], usize, usize) -> u8,
    ) -> Self {
        let fitted = Fitted::assumed(model, places);
        Self::of(model, states, places, &fitted, root, count)
    }

    fn add_parts(
        &mut self,
        places: &Places,
        root: usize,
        mut count: impl FnMut(&[GroundPart], usize, usize) -> u8,
    ) {
        self.parts.push(GroundPart {
            place: root,
            owner: None,
            number: 1,
        });
        let mut at = 0;
        while at < self.parts.len() {
            for child in places.children(self.parts[at].place) {
                let many = count(&self.parts, at, child);
                for number in 1..=many {
                    self.parts.push(GroundPart {
                        place: child,
                        owner: Some(at),
                        number,
                    });
                }
            }
            at += 1;
        }
    }

    /// Whether a part is of this kind.
    #[must_use]
    pub fn is_of(&self, places: &Places, part: usize, kind: KindId) -> bool {
        let record = self.parts[part];
        places.kind(record.place) == kind || (kind == PIECE && record.owner.is_none())
    }

    /// The nearest owner of this kind.
    #[must_use]
    pub fn owner(&self, places: &Places, part: usize, kind: KindId) -> Option<usize> {
        let mut at = self.parts[part].owner;
        while let Some(owner) = at {
            if self.is_of(places, owner, kind) {
                return Some(owner);
            }
            at = self.parts[owner].owner;
        }
        None
    }

    /// The parts down a path of kinds.
    #[must_use]
    pub fn down(&self, places: &Places, part: usize, path: &[KindId]) -> Vec<usize> {
        path.iter().fold(vec![part], |parts, &kind| {
            (0..self.parts.len())
                .filter(|&p| {
                    let record = self.parts[p];
                    record.owner.is_some_and(|o| parts.contains(&o))
                        && places.kind(record.place) == kind
                })
                .collect()
        })
    }

    /// The number of a row of the pack's states, as a state of this part.
    #[must_use]
    pub fn node(&self, states: &States, places: &Places, part: usize, row: usize) -> Option<usize> {
        let slot = places.slot(states, self.parts[part].place, row)?;
        Some(self.state(part, slot))
    }

    /// The number of a state of a part.
    #[must_use]
    pub fn state(&self, part: usize, slot: usize) -> usize {
        self.first[part] + slot
    }
}

struct Layer<'m> {
    model: &'m Model,
    states: &'m States,
    places: &'m Places,
    ground: Ground,
}

impl Layer<'_> {
    fn node(&self, part: usize, row: usize) -> Option<usize> {
        self.ground.node(self.states, self.places, part, row)
    }

    fn add_meanings(&mut self) {
        for node in 0..self.ground.states.len() {
            let (part, row) = (self.ground.states[node].part, self.ground.states[node].row);
            let state = &self.states.states[row];
            let implied = state
                .implied_by
                .iter()
                .filter(|&&inner| self.states.states[inner].in_use)
                .filter_map(|&inner| Some((Claim::State(self.node(part, inner)?, true), 1.0)));
            let mut causes: Vec<(Claim, f64)> = implied.collect();
            if let Some((others, chance)) = &state.unless {
                let none = others
                    .iter()
                    .filter_map(|&other| Some(Claim::State(self.node(part, other)?, false)));
                causes.push((Claim::All(none.collect()), *chance));
            }
            for (when, weight) in causes {
                self.ground.states[node].causes.push(GroundCause {
                    when,
                    weight,
                    sentence: SentenceId::Meaning,
                });
            }
        }
    }

    fn add_rule(&mut self, rule: &Rule, sentence: SentenceId) {
        let row = self.states.declared(rule.state);
        for part in 0..self.ground.parts.len() {
            if !self.ground.is_of(self.places, part, rule.subject) {
                continue;
            }
            let mut when = self.condition(part, &rule.when);
            if let Some(unless) = &rule.unless {
                let exception = Claim::Not(Box::new(self.condition(part, unless)));
                when = Claim::All(vec![when, exception]);
            }
            for target in self.reached(part, &rule.result) {
                self.conclude(target, row, when.clone(), weight(&rule.strength), sentence);
            }
        }
    }

    fn reached(&self, part: usize, reach: &Reach) -> Vec<usize> {
        match reach {
            Reach::Own => vec![part],
            Reach::Up(kind) => self
                .ground
                .owner(self.places, part, *kind)
                .into_iter()
                .collect(),
            Reach::Down { path, .. } => self.ground.down(self.places, part, path),
        }
    }

    fn conclude(
        &mut self,
        part: usize,
        row: usize,
        when: Claim,
        weight: f64,
        sentence: SentenceId,
    ) {
        if let Some(node) = self.node(part, row) {
            self.ground.states[node].causes.push(GroundCause {
                when,
                weight,
                sentence,
            });
        }
    }

    fn add_means(&mut self, fitted: &Fitted) {
        for (i, means) in self.model.means.iter().enumerate() {
            let sign = self.states.declared(means.sign);
            let fault = self.states.declared(means.fault);
            for part in 0..self.ground.parts.len() {
                if !self.ground.is_of(self.places, part, means.subject) {
                    continue;
                }
                let place = self.ground.parts[part].place;
                let Some(link) = fitted.link(place, i) else {
                    continue;
                };
                for cause in self.reached(part, &means.whose) {
                    if let Some(node) = self.node(cause, fault) {
                        let when = Claim::State(node, true);
                        self.conclude(part, sign, when, link, SentenceId::Means(i));
                    }
                }
            }
        }
    }

    fn condition(&self, part: usize, condition: &Condition) -> Claim {
        match condition {
            Condition::All(parts) => {
                Claim::All(parts.iter().map(|p| self.condition(part, p)).collect())
            }
            Condition::Any(parts) => {
                Claim::AtLeast(1, parts.iter().map(|p| self.condition(part, p)).collect())
            }
            Condition::Test(test) => self.test(part, test),
        }
    }

    fn test(&self, part: usize, test: &Test) -> Claim {
        match &test.whose {
            Reach::Own => self.predicate(part, &test.what),
            Reach::Up(kind) => match self.ground.owner(self.places, part, *kind) {
                Some(owner) => self.predicate(owner, &test.what),
                None => Claim::Known(false),
            },
            Reach::Down { path, many } => {
                let claims: Vec<Claim> = self
                    .ground
                    .down(self.places, part, path)
                    .into_iter()
                    .map(|p| self.predicate(p, &test.what))
                    .collect();
                let at_least = |n: u8| Claim::AtLeast(usize::from(n), claims.clone());
                let not = |claim: Claim| Claim::Not(Box::new(claim));
                match *many {
                    HowMany::The | HowMany::Any => at_least(1),
                    HowMany::Every => Claim::All(claims),
                    HowMany::No => not(at_least(1)),
                    HowMany::AtLeast(n) => at_least(n),
                    HowMany::FewerThan(n) => not(at_least(n)),
                    HowMany::Exactly(n) => {
                        Claim::All(vec![at_least(n), not(at_least(n.saturating_add(1)))])
                    }
                }
            }
        }
    }

    fn signed(&self, part: usize, within: Result<Vec<Signed>, bool>) -> Claim {
        match within {
            Err(known) => Claim::Known(known),
            Ok(literals) => Claim::All(
                literals
                    .into_iter()
                    .map(|(row, yes)| match self.node(part, row) {
                        Some(node) => Claim::State(node, yes),
                        None => Claim::Known(!yes),
                    })
                    .collect(),
            ),
        }
    }

    fn predicate(&self, part: usize, what: &Predicate) -> Claim {
        let (claim, yes) = match what {
            Predicate::State { state, yes, .. } => {
                let row = self.states.declared(*state);
                (self.signed(part, Ok(vec![(row, true)])), *yes)
            }
            Predicate::Measure { sign, mark, yes } => {
                let within = self.states.within(self.model, *sign, *mark);
                (self.signed(part, within), *yes)
            }
            Predicate::Choice { sign, values, yes } => {
                let claims = values
                    .iter()
                    .filter_map(|&v| self.states.value(*sign, v))
                    .map(|row| self.signed(part, Ok(vec![(row, true)])));
                (Claim::AtLeast(1, claims.collect()), *yes)
            }
            Predicate::Has {
                part: counted,
                mark,
                yes,
            } => {
                let kind = self.places.kind(self.ground.parts[part].place);
                let claim = match count_sign(self.model, kind, *counted) {
                    Some(sign) => self.signed(part, self.states.within(self.model, sign, *mark)),
                    None => {
                        let (least, _) = super::states::range(self.model, kind, *counted);
                        let most = mark.at_most.unwrap_or(i32::MAX);
                        Claim::Known(mark.at_least <= least && least <= most)
                    }
                };
                (claim, *yes)
            }
            Predicate::CannotBeSeen => (Claim::Known(false), true),
        };
        if yes {
            claim
        } else {
            Claim::Not(Box::new(claim))
        }
    }
}
