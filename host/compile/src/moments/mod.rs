//! Several moments of one piece: as it was found, and after each thing that was mended.
//!
//! Every start and every reason of a state fires or not, once and for good; all moments
//! share them. What lasts (a fault) is the same at every moment until it is changed: mended,
//! or found again. What does not last (a sign) shows what there is at its moment: it is
//! worked out anew, by the same starts and reasons, wherever something that it hangs on
//! has changed. So a sign that only a mended fault brought about is gone, and one that has
//! another reason is still there.
//!
//! A mend may not hold. Whether it does is drawn once for each mend, as a start is: where it
//! fails, what it was to mend is as it was before.
//!
//! [`Moments`] lays all of this out as one network of the kind that is enumerated for one
//! moment: a state that differs from one moment to the next is there twice, and what both
//! share stands as a state of its own, without reasons. [`Joint`] works out chances in it.

mod joint;

pub use joint::{Joint, Pair, certainly};

use std::collections::{BTreeMap, HashMap};

use crate::ground::{Claim, Ground, GroundCause, GroundState, SentenceId};

/// What becomes of a state at a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Change {
    /// The moment, from 1; the piece was found at moment 0.
    pub moment: usize,
    /// The state, by its number in the network of one moment.
    pub state: usize,
    /// Whether it is so from then on, until it is changed again.
    pub holds: bool,
    /// The mend that changed it, by its number among all that may fail; `None` if it is so
    /// (or not so) for certain.
    pub mend: Option<usize>,
}

/// What became of a state at a change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Changed {
    /// Whether it is so, if the mend holds.
    pub holds: bool,
    /// How likely the mend is not to hold.
    pub fails: f64,
}

/// All moments of a piece, as one network.
#[derive(Clone, Debug)]
pub struct Moments {
    /// The network. The states of the moment at which the piece was found stand first,
    /// with their own numbers.
    pub ground: Ground,
    /// What is so (or not so) for certain because it was changed: by state of the network.
    pub known: Vec<Option<bool>>,
    /// Of each state of the network that something was changed to: to what.
    changed: Vec<Option<Changed>>,
    /// For each moment and each state of the piece, its state in the network.
    nodes: Vec<Vec<usize>>,
}

impl Moments {
    /// From the network of one moment. `lasts` says of each state whether it is as it was
    /// until it is changed, `fails` of each mend how likely it is not to hold; changes stand in
    /// the order of their moments.
    #[must_use]
    pub fn of(ground: Ground, lasts: &[bool], changes: &[Change], fails: &[f64]) -> Self {
        let mut laid = Laying {
            count: ground.states.len(),
            order: from_causes_on(&ground),
            known: vec![None; ground.states.len()],
            changed: vec![None; ground.states.len()],
            failing: vec![None; fails.len()],
            fails,
            plain: ground.states.clone(),
            ground,
            shared: HashMap::new(),
            copies: HashMap::new(),
        };
        let mut nodes: Vec<Vec<usize>> = vec![(0..laid.count).collect()];
        let mut changed: BTreeMap<usize, usize> = BTreeMap::new();
        let last = changes.last().map_or(0, |change| change.moment);
        for moment in 1..=last {
            let before = nodes.last().cloned().unwrap_or_default();
            for change in changes.iter().filter(|c| c.moment == moment) {
                let node = laid.changed(change, before[change.state]);
                changed.insert(change.state, node);
            }
            nodes.push(laid.moment(lasts, &changed));
        }
        Self {
            ground: laid.ground,
            known: laid.known,
            changed: laid.changed,
            nodes,
        }
    }

    /// Of a state of the network that something was mended to, or was found again as: what
    /// became of it.
    #[must_use]
    pub fn changed(&self, node: usize) -> Option<Changed> {
        self.changed.get(node).copied().flatten()
    }

    /// The last moment.
    #[must_use]
    pub fn last(&self) -> usize {
        self.nodes.len() - 1
    }

    /// A state of the piece at a moment, as a state of the network.
    #[must_use]
    pub fn node(&self, moment: usize, state: usize) -> usize {
        let at = self.nodes.get(moment).and_then(|nodes| nodes.get(state));
        at.copied().unwrap_or(state)
    }

    /// How many states the piece has at one moment.
    #[must_use]
    pub fn states(&self) -> usize {
        self.nodes.first().map_or(0, Vec::len)
    }

    /// The first moment at which these states are as they are at this one.
    #[must_use]
    pub fn first(&self, moment: usize, states: &[usize]) -> usize {
        let is_same = |earlier: &usize| {
            let mut all = states.iter();
            all.all(|&s| self.node(*earlier, s) == self.node(moment, s))
        };
        (0..moment).find(is_same).unwrap_or(moment)
    }
}

/// A state of a moment: the state of the piece, and the states that it hangs on.
type Copied = (usize, Vec<usize>);

/// The network while it is laid out.
struct Laying<'f> {
    ground: Ground,
    known: Vec<Option<bool>>,
    changed: Vec<Option<Changed>>,
    /// How likely each mend is not to hold, and the state that says whether it did.
    fails: &'f [f64],
    failing: Vec<Option<Claim>>,
    /// The states of the piece as the rules have them.
    plain: Vec<GroundState>,
    count: usize,
    /// The states of the piece, each after those that bring it about.
    order: Vec<usize>,
    /// For each state that is there more than once, the states that stand for its start
    /// and its reasons.
    shared: HashMap<usize, Shared>,
    copies: HashMap<Copied, usize>,
}

/// What every moment of a state shares.
#[derive(Clone, Debug)]
struct Shared {
    /// Whether it is there on its own; `None` if it never is.
    own: Option<Claim>,
    /// Whether each reason brings it about where it holds.
    causes: Vec<Claim>,
}

impl Laying<'_> {
    /// The states of one moment.
    fn moment(&mut self, lasts: &[bool], changed: &BTreeMap<usize, usize>) -> Vec<usize> {
        let mut now: Vec<usize> = (0..self.count).collect();
        for at in 0..self.order.len() {
            let state = self.order[at];
            if !self.plain[state].in_use {
                continue;
            }
            if let Some(&node) = changed.get(&state) {
                now[state] = node;
                continue;
            }
            if lasts[state] {
                continue;
            }
            let mut hangs_on = Vec::new();
            for cause in &self.plain[state].causes {
                cause.when.states(&mut |s| hangs_on.push(s));
            }
            if hangs_on.iter().any(|&s| now[s] != s) {
                let hangs_on = hangs_on.into_iter().map(|s| now[s]).collect();
                now[state] = self.copy((state, hangs_on), &now);
            }
        }
        now
    }

    /// What becomes of a state by a change; `before` is what it was.
    fn changed(&mut self, change: &Change, before: usize) -> usize {
        let is_so_already = self.known[before] == Some(change.holds);
        let may_stay = self.plain[change.state].in_use && !is_so_already;
        match change.mend.map(|mend| (mend, self.fails[mend])) {
            Some((mend, fails)) if fails > 0.0 && may_stay => self.mended(change, before, mend),
            _ => self.constant(change.state, change.holds),
        }
    }

    /// A state that is so, or not so, unless its mend fails: then it is as it was before.
    fn mended(&mut self, change: &Change, before: usize, mend: usize) -> usize {
        let like = self.plain[change.state].clone();
        let fails = match &self.failing[mend] {
            Some(fails) => fails.clone(),
            None => self.chance(&like, self.fails[mend]),
        };
        self.failing[mend] = Some(fails.clone());
        let was_so = Claim::State(before, true);
        let when = match change.holds {
            false => Claim::all(vec![was_so, fails]),
            true => Claim::any(vec![was_so, fails.negated()]),
        };
        let cause = GroundCause {
            when,
            weight: 1.0,
            sentence: SentenceId::Meaning,
        };
        let mended = GroundState {
            own: 0.0,
            causes: vec![cause],
            in_use: true,
            ..like
        };
        let at = self.push(mended, None);
        self.changed[at] = Some(Changed {
            holds: change.holds,
            fails: self.fails[mend],
        });
        at
    }

    /// A state that is so, or not so, whatever brings it about.
    fn constant(&mut self, state: usize, holds: bool) -> usize {
        let key = (state, vec![usize::MAX - usize::from(holds)]);
        if let Some(&known) = self.copies.get(&key) {
            return known;
        }
        let like = &self.plain[state];
        let constant = GroundState {
            part: like.part,
            row: like.row,
            own: f64::from(u8::from(holds)),
            causes: Vec::new(),
            in_use: true,
        };
        let at = self.push(constant, Some(holds));
        self.changed[at] = Some(Changed { holds, fails: 0.0 });
        self.copies.insert(key, at);
        at
    }

    /// The state as it is where what it hangs on is so.
    fn copy(&mut self, key: Copied, now: &[usize]) -> usize {
        if let Some(&known) = self.copies.get(&key) {
            return known;
        }
        let state = key.0;
        let shared = self.share(state);
        let like = self.plain[state].clone();
        let causes = like.causes.iter().zip(&shared.causes);
        let causes = causes.map(|(cause, fires)| certain(moved(&cause.when, now), fires, cause));
        let copy = GroundState {
            own: 0.0,
            causes: shared.on_its_own().into_iter().chain(causes).collect(),
            ..like
        };
        let at = self.push(copy, None);
        self.copies.insert(key, at);
        at
    }

    /// What all moments of a state share; from then on the state as it was found is worked
    /// out from it too.
    fn share(&mut self, state: usize) -> Shared {
        if let Some(shared) = self.shared.get(&state) {
            return shared.clone();
        }
        let like = self.plain[state].clone();
        let own = (like.own > 0.0).then(|| self.chance(&like, like.own));
        let causes = like.causes.iter();
        let causes = causes.map(|cause| self.chance(&like, cause.weight));
        let shared = Shared {
            own,
            causes: causes.collect(),
        };
        let reasons = like.causes.iter().zip(&shared.causes);
        let reasons = reasons.map(|(cause, fires)| certain(cause.when.clone(), fires, cause));
        self.ground.states[state].causes = shared.on_its_own().into_iter().chain(reasons).collect();
        self.ground.states[state].own = 0.0;
        self.shared.insert(state, shared.clone());
        shared
    }

    /// A state of its own that is so with this chance, whatever else is.
    fn chance(&mut self, like: &GroundState, chance: f64) -> Claim {
        if chance >= 1.0 {
            return Claim::Known(true);
        }
        let fires = GroundState {
            part: like.part,
            row: like.row,
            own: chance,
            causes: Vec::new(),
            in_use: true,
        };
        Claim::State(self.push(fires, None), true)
    }

    fn push(&mut self, state: GroundState, known: Option<bool>) -> usize {
        self.ground.states.push(state);
        self.known.push(known);
        self.changed.push(None);
        self.ground.states.len() - 1
    }
}

impl Shared {
    fn on_its_own(&self) -> Option<GroundCause> {
        self.own.clone().map(|when| GroundCause {
            when,
            weight: 1.0,
            sentence: SentenceId::Meaning,
        })
    }
}

/// A reason that brings its state about wherever its condition holds and it fires.
fn certain(when: Claim, fires: &Claim, cause: &GroundCause) -> GroundCause {
    GroundCause {
        when: Claim::all(vec![when, fires.clone()]),
        weight: 1.0,
        sentence: cause.sentence,
    }
}

/// The same claim about the states of another moment.
#[must_use]
pub fn moved(claim: &Claim, now: &[usize]) -> Claim {
    let all = |parts: &[Claim]| parts.iter().map(|part| moved(part, now)).collect();
    match claim {
        Claim::Known(value) => Claim::Known(*value),
        Claim::State(state, yes) => Claim::State(now[*state], *yes),
        Claim::All(parts) => Claim::All(all(parts)),
        Claim::AtLeast(n, parts) => Claim::AtLeast(*n, all(parts)),
        Claim::Not(part) => Claim::Not(Box::new(moved(part, now))),
    }
}

/// The states, each after those that bring it about; the rules have no circle.
fn from_causes_on(ground: &Ground) -> Vec<usize> {
    let mut order = Vec::with_capacity(ground.states.len());
    let mut begun = vec![false; ground.states.len()];
    let mut placed = begun.clone();
    for first in 0..ground.states.len() {
        let mut open = vec![first];
        while let Some(&state) = open.last() {
            if placed[state] {
                open.pop();
            } else if std::mem::replace(&mut begun[state], true) {
                placed[state] = true;
                order.push(state);
                open.pop();
            } else {
                for cause in &ground.states[state].causes {
                    cause.when.states(&mut |s| {
                        if !placed[s] {
                            open.push(s);
                        }
                    });
                }
            }
        }
    }
    order
}
