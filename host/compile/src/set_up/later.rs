//! The piece after something was mended: what was noted, put to its moment.
//!
//! What is noted speaks of the moment at which it is noted. Where nothing that was mended
//! in between bears on it, all moments are one, and the latest line counts; else the earlier
//! line speaks of the piece as it was, and the later one of the piece as it is since.

use std::collections::{BTreeMap, BTreeSet};

use tellmark_core::inspection::{Given, Inspection};
use tellmark_core::pack::{NONE, Pack, Trial, Way};
use tellmark_core::piece::{Answer, Eye, Judged, SetUpError};
use tellmark_core::truth::Truth;

use super::{Clash, Origin, SetUp, resolve};
use crate::circuit::TooLarge;
use crate::ground::{Claim, Ground};
use crate::moments::{Change, Joint, Moments, Pair, certainly, moved};
use crate::room::Room;
use tellmark_language::model::{Found, Model, Nature, StateId, Sure, Sureness, Than};

/// What a line of the record says was mended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mend {
    /// The line.
    pub line: usize,
    /// The states, each with its part.
    pub states: Vec<(usize, StateId)>,
}

/// A state that was mended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mended {
    /// The part.
    pub part: usize,
    /// The state.
    pub state: StateId,
    /// The line that says so.
    pub line: usize,
    /// The line that says it is there again, if one does.
    pub again: Option<usize>,
}

/// A fact as it counts at one moment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct At {
    /// Which of the facts.
    pub fact: usize,
    /// The parts of which it counts; `None`: all that it speaks of.
    pub parts: Option<Vec<usize>>,
}

/// The facts, moment by moment.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sorted {
    /// What was noted of the piece as it was found.
    pub found: Vec<At>,
    /// What was noted of it and holds now.
    pub now: Vec<At>,
    /// What was noted before something was mended that bears on it: nobody has looked since.
    pub overtaken: Vec<At>,
    /// What was noted of something that was itself mended since, with the line that says so.
    pub mended: Vec<(At, usize)>,
}

/// Why the piece as it is now cannot be worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoLater {
    /// It cannot be set up.
    SetUp(SetUpError),
    /// The rules tie too many parts of it together.
    TooTangled,
}

/// The piece as it is now, after something was mended.
#[derive(Clone, Debug)]
pub struct Later {
    /// What was mended, in the order of the record.
    pub mended: Vec<Mended>,
    /// What each fact says, and of when.
    pub sorted: Sorted,
    moments: Moments,
    joint: Joint,
    /// For each state of the network, how likely what was noted of it is.
    likely: Vec<Pair>,
    /// For each state of the network, its chance; `None` if what was noted cannot all be
    /// true.
    chances: Option<Vec<Option<f64>>>,
    /// For what gave each answer: how likely the rest is without it, where that differs.
    without: BTreeMap<Origin, Without>,
    /// Signs that were seen before something was mended and may well be there still.
    still: Vec<Given>,
    /// What each fact is called by whoever goes by the facts that count now.
    names: Vec<usize>,
}

/// What there would be without one thing that was told.
#[derive(Clone, Debug, Default)]
struct Without {
    parts: Vec<usize>,
    likely: Vec<(usize, Pair)>,
}

/// An answer on record.
#[derive(Clone, Copy, Debug)]
struct Note {
    given: Given,
    from: Origin,
    moment: usize,
}

impl Later {
    /// The chance of each state of the piece now, part by part; `None` where the rules say
    /// nothing of it.
    #[must_use]
    pub fn chances(&self) -> Vec<Option<f64>> {
        self.of_now(self.chances.as_deref())
    }

    /// The same without what one thing told says.
    #[must_use]
    pub fn chances_without(&self, from: Origin) -> Option<Vec<Option<f64>>> {
        let mut likely = self.likely.clone();
        for &(node, pair) in self.without.get(&from).iter().flat_map(|w| &w.likely) {
            likely[node] = pair;
        }
        let chances = self.joint.chances(&likely)?;
        Some(self.of_now(Some(&chances)))
    }

    /// The same with only what these told.
    #[must_use]
    pub fn chances_with(&self, told: &BTreeSet<Origin>) -> Option<Vec<Option<f64>>> {
        let chances = self.joint.chances(&self.likely_with(told))?;
        Some(self.of_now(Some(&chances)))
    }

    /// The same if a state of the piece (by its number) is so now; `None` if it cannot be.
    #[must_use]
    pub fn chances_if(&self, state: usize) -> Option<Vec<Option<f64>>> {
        let mut likely = self.likely.clone();
        likely[self.node(state)].0 = 0.0;
        let chances = self.joint.chances(&likely)?;
        Some(self.of_now(Some(&chances)))
    }

    fn likely_with(&self, told: &BTreeSet<Origin>) -> Vec<Pair> {
        let mut likely = self.likely.clone();
        for (_, without) in self.without.iter().filter(|(from, _)| !told.contains(from)) {
            for &(node, pair) in &without.likely {
                likely[node] = pair;
            }
        }
        likely
    }

    fn of_now(&self, chances: Option<&[Option<f64>]>) -> Vec<Option<f64>> {
        let of = |state| chances.and_then(|all| all[self.node(state)]);
        (0..self.moments.states()).map(of).collect()
    }

    /// A state of the piece as it is now, as a state of the network.
    fn node(&self, state: usize) -> usize {
        self.moments.node(self.moments.last(), state)
    }

    /// Everything that was told and bears on what is, and the parts it was told of.
    pub fn told(&self) -> impl Iterator<Item = (Origin, &[usize])> {
        let told = self.without.iter();
        told.map(|(from, without)| (*from, without.parts.as_slice()))
    }

    /// The states of the network that it bears on at first hand.
    pub fn touches(&self, from: Origin) -> impl Iterator<Item = usize> {
        let without = self.without.get(&from).into_iter();
        without.flat_map(|without| without.likely.iter().map(|(node, _)| *node))
    }

    /// What told it, as whoever goes by the facts that count now calls it.
    #[must_use]
    pub fn name(&self, from: Origin) -> Origin {
        match from {
            Origin::Opened => Origin::Opened,
            Origin::Fact(fact) => Origin::Fact(self.names.get(fact).copied().unwrap_or(fact)),
        }
    }

    /// Gives each fact the number by which it goes among those that count now.
    pub fn set_names(&mut self, names: Vec<usize>) {
        self.names = names;
    }

    /// Signs that were seen before something was mended that bears on them, and that may
    /// well be there still: with 15 in 100 or more.
    #[must_use]
    pub fn still(&self) -> &[Given] {
        &self.still
    }

    /// The network of all moments.
    #[must_use]
    pub fn ground(&self) -> &Ground {
        &self.moments.ground
    }

    /// How likely what was noted is, for each state of the network.
    #[must_use]
    pub fn likelihoods(&self) -> Vec<Pair> {
        let known = self.moments.known.iter();
        let pairs = known.zip(&self.likely);
        let pairs = pairs.map(|(known, likely)| known.map_or(*likely, |_| certainly(*known)));
        pairs.collect()
    }

    /// A claim about the piece, as one about how it is now.
    #[must_use]
    pub fn now(&self, claim: &Claim) -> Claim {
        let nodes: Vec<usize> = (0..self.moments.states()).map(|s| self.node(s)).collect();
        moved(claim, &nodes)
    }

    /// A state of the piece, as it is now, by its number in the network.
    #[must_use]
    pub fn state_now(&self, state: usize) -> usize {
        self.node(state)
    }

    /// Whether a state of the network is so, or not so, because it was mended or found
    /// again.
    #[must_use]
    pub fn is_known(&self, state: usize) -> bool {
        self.moments.known[state].is_some()
    }

    /// Whether what was noted cannot all be true.
    #[must_use]
    pub fn is_impossible(&self) -> bool {
        self.chances.is_none()
    }

    /// What cannot all be true, if there is such: a group of which none can be left out.
    #[must_use]
    pub fn clash(&self) -> Option<Clash> {
        if self.chances.is_some() {
            return None;
        }
        let mut told: BTreeSet<Origin> = self.without.keys().copied().collect();
        for from in self.without.keys() {
            told.remove(from);
            if self.joint.chances(&self.likely_with(&told)).is_some() {
                told.insert(*from);
            }
        }
        Some(Clash {
            from: told.into_iter().map(|from| self.name(from)).collect(),
        })
    }
}

impl SetUp<'_> {
    /// The piece as it is now, if anything was mended. The facts are all that the record
    /// says, oldest first, with the line of each.
    ///
    /// # Errors
    /// See [`NoLater`].
    pub fn later(
        &self,
        pack: Pack<'_>,
        lines: &[usize],
        mends: &[Mend],
    ) -> Result<Option<Later>, NoLater> {
        if mends.iter().all(|mend| mend.states.is_empty()) {
            return Ok(None);
        }
        let mut room = Room::<f64>::default();
        let inspection = self.bare(pack, &mut room).map_err(NoLater::SetUp)?;
        let ground = self.ground(&inspection);
        let mut line_up = LineUp {
            set_up: self,
            pack,
            groups: Groups::of(self, &ground, &pack),
            notes: Vec::new(),
            whole: Vec::new(),
            changes: Vec::new(),
            moment: 0,
            set: BTreeMap::new(),
            mended: Vec::new(),
            mends: BTreeMap::new(),
        };
        line_up.go_through(&inspection, &ground, lines, mends);
        let lasts = lasting(self, &ground);
        let moments = Moments::of(ground, &lasts, &line_up.changes);
        line_up.weigh(moments, inspection).map(Some)
    }
}

/// Which asks and states of a part belong together: those of one sign, measure or choice.
struct Groups {
    /// The group of each ask of each part.
    of_ask: BTreeMap<(usize, u16), usize>,
    /// The states of each group, by their numbers.
    states: Vec<Vec<usize>>,
    /// The asks of each group.
    asks: Vec<Vec<(usize, u16)>>,
}

impl Groups {
    fn of(set_up: &SetUp<'_>, ground: &Ground, pack: &Pack<'_>) -> Self {
        let rows = &set_up.built.states.states;
        let mut groups = Self {
            of_ask: BTreeMap::new(),
            states: Vec::new(),
            asks: Vec::new(),
        };
        for (part, record) in ground.parts.iter().enumerate() {
            for ask in pack.asks_of(record.place) {
                groups.of_ask.insert((part, ask), groups.states.len());
                groups.states.push(Vec::new());
                groups.asks.push(vec![(part, ask)]);
            }
        }
        for (number, state) in ground.states.iter().enumerate() {
            let row = &rows[state.row];
            let own = groups.of_ask.get(&(state.part, row.ask)).copied();
            let Some(own) = own else { continue };
            groups.states[own].push(number);
            let by_eye = row.whether.and_then(|ask| {
                let group = groups.of_ask.get(&(state.part, ask)).copied();
                group.filter(|&group| group != own)
            });
            if let Some(other) = by_eye {
                let asks = std::mem::take(&mut groups.asks[other]);
                let states = std::mem::take(&mut groups.states[other]);
                for &ask in &asks {
                    groups.of_ask.insert(ask, own);
                }
                groups.asks[own].extend(asks);
                groups.states[own].extend(states);
            }
        }
        groups
    }
}

/// Which states last: what the house calls a fault, hidden or by a job that mends it, with
/// everything that is one quantity with it or is so only where it is not.
fn lasting(set_up: &SetUp<'_>, ground: &Ground) -> Vec<bool> {
    let model = set_up.model;
    let rows = &set_up.built.states.states;
    let is_mended: BTreeSet<StateId> = model.jobs.iter().flat_map(|j| j.mends.clone()).collect();
    let is_fault = |state: StateId| {
        let hidden = matches!(model.states[state.index()].nature, Nature::Hidden { .. });
        hidden || is_mended.contains(&state)
    };
    let mut faults: BTreeSet<StateId> = (0..model.states.len())
        .filter_map(|i| Some(StateId(u16::try_from(i).ok()?)))
        .filter(|&state| is_fault(state))
        .collect();
    for one in &model.at_most_ones {
        if one.states.iter().any(|state| faults.contains(state)) {
            faults.extend(one.states.iter().copied());
        }
    }
    let asks: BTreeSet<u16> = rows
        .iter()
        .filter(|row| row.declared.is_some_and(|state| faults.contains(&state)))
        .map(|row| row.ask)
        .collect();
    let states = ground.states.iter();
    states
        .map(|state| asks.contains(&rows[state.row].ask))
        .collect()
}

/// The record, gone through once in its order.
struct LineUp<'s> {
    set_up: &'s SetUp<'s>,
    pack: Pack<'s>,
    groups: Groups,
    notes: Vec<Note>,
    /// Facts about whole parts and how many there are, which hold at every moment.
    whole: Vec<usize>,
    changes: Vec<Change>,
    moment: usize,
    /// What was changed of each group last: its states.
    set: BTreeMap<usize, BTreeMap<usize, bool>>,
    mended: Vec<Mended>,
    /// When each group was mended: the moment, and the line.
    mends: BTreeMap<usize, Vec<(usize, usize)>>,
}

impl LineUp<'_> {
    fn go_through(
        &mut self,
        inspection: &Inspection<'_, '_, f64>,
        ground: &Ground,
        lines: &[usize],
        mends: &[Mend],
    ) {
        self.take_counts(inspection);
        let mut mends = mends.iter().peekable();
        for (number, fact) in self.set_up.facts.iter().enumerate() {
            let line = lines.get(number).copied().unwrap_or(usize::MAX);
            while let Some(mend) = mends.next_if(|mend| mend.line < line) {
                self.mend(ground, mend);
            }
            let Some((ask, answer)) = self.set_up.answer(&fact.found) else {
                self.whole.push(number);
                continue;
            };
            for part in resolve(self.set_up.built, inspection, &fact.part) {
                let given = Given { part, ask, answer };
                self.note(ground, given, Origin::Fact(number), line);
            }
        }
        for mend in mends {
            self.mend(ground, mend);
        }
    }

    /// What the job was opened with, and what was counted.
    fn take_counts(&mut self, inspection: &Inspection<'_, '_, f64>) {
        let place = |part: usize| inspection.piece().part(part).map(|p| usize::from(p.place));
        let mut count = |part: usize, kind: u16, number: u8, from: Origin| {
            let form = tellmark_core::pack::Form::HowMany { part: kind };
            let mut asks = self.pack.asks_of(place(part).unwrap_or_default());
            let Some(ask) = asks.find(|&a| self.pack.ask(usize::from(a)).form == form) else {
                return;
            };
            let answer = Answer::Reading(number.into());
            self.notes.push(Note {
                given: Given { part, ask, answer },
                from,
                moment: 0,
            });
        };
        for part in 0..inspection.piece().parts().len() {
            for &(kind, number) in &self.set_up.order.counts {
                count(part, kind.0, number, Origin::Opened);
            }
        }
        for (number, fact) in self.set_up.facts.iter().enumerate() {
            if let Found::Count {
                part: kind,
                number: n,
            } = fact.found
            {
                for part in resolve(self.set_up.built, inspection, &fact.part) {
                    count(part, kind.0, n, Origin::Fact(number));
                }
            }
        }
    }

    fn mend(&mut self, ground: &Ground, mend: &Mend) {
        let mut changes: BTreeMap<usize, bool> = BTreeMap::new();
        let rows = &self.set_up.built.states.states;
        for &(part, state) in &mend.states {
            let wanted = self.set_up.built.states.declared(state);
            let sound = self.set_up.answer(&sound(self.set_up.model, state));
            if let Some((ask, answer)) = sound {
                let given = Given { part, ask, answer };
                changes.extend(self.decided(ground, given));
            }
            let ask = (part, rows[wanted].ask);
            if let Some(&group) = self.groups.of_ask.get(&ask) {
                let at = (self.moment + 1, mend.line);
                self.mends.entry(group).or_default().push(at);
            }
            self.mended.push(Mended {
                part,
                state,
                line: mend.line,
                again: None,
            });
        }
        self.change(ground, changes);
    }

    /// Takes what was changed for a moment of its own, if anything is then otherwise.
    fn change(&mut self, ground: &Ground, changes: BTreeMap<usize, bool>) {
        let moment = self.moment + 1;
        for (state, holds) in changes {
            let row = &self.set_up.built.states.states[ground.states[state].row];
            let at = (ground.states[state].part, row.ask);
            let Some(&group) = self.groups.of_ask.get(&at) else {
                continue;
            };
            if self.set.entry(group).or_default().insert(state, holds) != Some(holds) {
                self.moment = moment;
                self.changes.push(Change {
                    moment,
                    state,
                    holds,
                });
            }
        }
    }

    /// What an answer, taken as it is, says of the states that it is about.
    fn decided(&self, ground: &Ground, given: Given) -> BTreeMap<usize, bool> {
        let group = self.groups.of_ask.get(&(given.part, given.ask)).copied();
        let states = group.map_or(&[][..], |group| self.groups.states[group].as_slice());
        let truth = |&state: &usize| {
            let row = &self.set_up.built.states.states[ground.states[state].row];
            let trial = match row.whether {
                Some(ask) if ask == given.ask => Trial::Yes,
                _ if row.ask == given.ask => row.trial,
                _ => return None,
            };
            match given.answer.truth(trial) {
                Truth::NotKnown => None,
                truth => Some((state, truth == Truth::True)),
            }
        };
        states.iter().filter_map(truth).collect()
    }

    /// What was noted. Of what was mended it is taken as it is: it is there again, or not.
    fn note(&mut self, ground: &Ground, given: Given, from: Origin, line: usize) {
        let group = self.groups.of_ask.get(&(given.part, given.ask)).copied();
        let was_changed = group.is_some_and(|group| self.set.contains_key(&group));
        let changes = match was_changed && !is_a_hint(given.answer) {
            true => self.decided(ground, given),
            false => BTreeMap::new(),
        };
        for mended in &mut self.mended {
            let row = self.set_up.built.states.declared(mended.state);
            let is_again = |(&state, &holds): (&usize, &bool)| {
                let at = &ground.states[state];
                holds && (at.part, at.row) == (mended.part, row)
            };
            if mended.again.is_none() && changes.iter().any(is_again) {
                mended.again = Some(line);
            }
        }
        self.change(ground, changes);
        self.notes.push(Note {
            given,
            from,
            moment: self.moment,
        });
    }
}

/// What there is to be found of a state once it was mended: that it is certainly not so. A
/// measure, or what is judged in degrees, is then at the sound end of its range.
#[must_use]
pub fn sound(model: &Model, state: StateId) -> Found {
    if let Some((sign, _)) = model.degree_of(state) {
        return Found::Degree {
            sign,
            degree: 0,
            than: Than::Just,
            sure: Sure::Certain,
        };
    }
    let not_so = Found::State {
        state,
        yes: false,
        sure: Sure::Certain,
    };
    let Nature::CountsAs { sign, mark } = model.states[state.index()].nature else {
        return not_so;
    };
    match model.signs[sign.index()].asks.ends() {
        Some((least, _)) if mark.at_least > least => Found::Measure { sign, ticks: least },
        Some((_, most)) if mark.at_most.is_some() => Found::Measure { sign, ticks: most },
        _ => not_so,
    }
}

/// Whether it only looks like it.
fn is_a_hint(answer: Answer) -> bool {
    match answer {
        Answer::Looks(_) => true,
        Answer::Value(value) => Judged::of(value).is_some_and(|judged| judged.eye == Eye::Looks),
        other => !other.says_something(),
    }
}

/// The answers on record at a moment, and the moments at which they speak of the same.
struct Runs<'r> {
    moments: &'r Moments,
    groups: &'r Groups,
    notes: &'r [Note],
}

impl Runs<'_> {
    fn group(&self, note: &Note) -> Option<usize> {
        let at = (note.given.part, note.given.ask);
        self.groups.of_ask.get(&at).copied()
    }

    /// The first moment at which what a note is about is as it is at this one.
    fn first(&self, note: &Note, moment: usize) -> usize {
        let group = self.group(note);
        let states = group.map_or(&[][..], |group| self.groups.states[group].as_slice());
        self.moments.first(moment, states)
    }

    fn is_of_found(&self, note: &Note) -> bool {
        self.first(note, note.moment) == 0
    }

    /// Whether what it is about was itself mended, or found again.
    fn is_changed(&self, note: &Note) -> bool {
        let group = self.group(note);
        let states = group.map_or(&[][..], |group| self.groups.states[group].as_slice());
        let last = self.moments.last();
        let mut now = states.iter().map(|&state| self.moments.node(last, state));
        now.any(|node| self.moments.known[node].is_some())
    }

    fn is_of_now(&self, note: &Note) -> bool {
        self.first(note, self.moments.last()) == self.first(note, note.moment)
    }
}

impl LineUp<'_> {
    /// What was noted, as what it says of each moment.
    fn weigh(
        self,
        moments: Moments,
        mut inspection: Inspection<'_, '_, f64>,
    ) -> Result<Later, NoLater> {
        let runs = Runs {
            moments: &moments,
            groups: &self.groups,
            notes: &self.notes,
        };
        let mut likely: Vec<Pair> = vec![(1.0, 1.0); moments.ground.states.len()];
        let mut without: BTreeMap<Origin, Without> = BTreeMap::new();
        // Every moment from which on something was noted anew.
        let mut starts: BTreeSet<usize> =
            self.notes.iter().map(|n| runs.first(n, n.moment)).collect();
        starts.insert(0);
        let usual = usual(&mut inspection, &moments);
        for &start in &starts {
            let scene = Scene::of(self.set_up, &self.pack, &runs, start, &usual);
            scene.weigh(&mut inspection, &mut likely, &mut without);
        }
        let last = moments.last();
        let found_out = (0..likely.len()).filter(|&s| likely[s].0 != likely[s].1);
        let of_now = (0..moments.states()).map(|s| moments.node(last, s));
        let watched: Vec<usize> = found_out.chain(of_now).collect();
        let joint = Joint::of(&moments, watched).map_err(|TooLarge| NoLater::TooTangled)?;
        let chances = joint.chances(&likely);
        let still = still(self.set_up, &runs, chances.as_deref());
        let sorted = sorted(&runs, &self.whole, &self.mends, self.set_up.facts.len());
        Ok(Later {
            mended: self.mended,
            sorted,
            likely,
            chances,
            without,
            still,
            names: Vec::new(),
            joint,
            moments,
        })
    }
}

/// The chance of each state of the piece before anything was found: numbers are kept within
/// range by it.
fn usual(inspection: &mut Inspection<'_, '_, f64>, moments: &Moments) -> Vec<f64> {
    let of = |(part, slot)| {
        let (no, yes) = inspection.weights(part, slot).unwrap_or((1.0, 1.0));
        yes / (no + yes)
    };
    slots(moments).map(of).collect()
}

/// For each state of the piece its part, and which of the part's states it is.
fn slots(moments: &Moments) -> impl Iterator<Item = (usize, usize)> + '_ {
    let parts = moments.ground.states.iter().map(|state| state.part);
    let mut before = None;
    parts.take(moments.states()).map(move |part| {
        let slot = match before {
            Some((same, slot)) if same == part => slot + 1,
            _ => 0,
        };
        before = Some((part, slot));
        (part, slot)
    })
}

/// The answers that speak of one run of moments.
struct Scene {
    /// The last answer to each ask, with what gave it.
    answers: BTreeMap<(usize, u16), (Answer, Origin)>,
    /// The states that they may be about: part, number there, state of the network, and
    /// the chance before anything was found.
    about: Vec<(usize, usize, usize, f64)>,
}

impl Scene {
    fn of(
        set_up: &SetUp<'_>,
        pack: &Pack<'_>,
        runs: &Runs<'_>,
        start: usize,
        usual: &[f64],
    ) -> Self {
        let (moments, rows) = (runs.moments, &set_up.built.states.states);
        let mut answers = BTreeMap::new();
        for note in runs.notes {
            if runs.first(note, note.moment) == start {
                let at = (note.given.part, note.given.ask);
                answers.insert(at, (note.given.answer, note.from));
            }
        }
        let is_worked_out =
            |ask: u16| ask != NONE && pack.ask(usize::from(ask)).way == Way::WorkOut;
        let mut about = Vec::new();
        for (state, (part, slot)) in slots(moments).enumerate() {
            let ask = rows[moments.ground.states[state].row].ask;
            let group = runs.groups.of_ask.get(&(part, ask));
            let states = group.map_or(&[][..], |&group| &runs.groups.states[group]);
            let node = moments.node(start, state);
            let begins = start == 0 || moments.first(start, states) == start;
            let is_open = moments.known[node].is_none();
            if begins && is_open && (start == 0 || !is_worked_out(ask)) {
                about.push((part, slot, node, usual[state]));
            }
        }
        Self { answers, about }
    }

    /// Adds what they say, and notes what the rest says without each.
    fn weigh(
        &self,
        inspection: &mut Inspection<'_, '_, f64>,
        likely: &mut [Pair],
        without: &mut BTreeMap<Origin, Without>,
    ) {
        let give = |inspection: &mut Inspection<'_, '_, f64>, at: (usize, u16), answer| {
            let _ = inspection.answer(at.0, at.1, answer);
        };
        for (&at, &(answer, _)) in &self.answers {
            give(inspection, at, answer);
        }
        let told: BTreeSet<Origin> = self.answers.values().map(|(_, from)| *from).collect();
        let with = self.likelihoods(inspection);
        for &(node, pair) in &with {
            likely[node] = pair;
        }
        for from in told {
            let mut own = self.answers.iter().filter(|(_, (_, f))| *f == from);
            let own: Vec<(&(usize, u16), Answer)> =
                own.by_ref().map(|(at, (a, _))| (at, *a)).collect();
            let says = own.iter().any(|(_, answer)| answer.says_something());
            if !says {
                continue;
            }
            for (at, _) in &own {
                give(inspection, **at, Answer::NotLooked);
            }
            let rest = self.likelihoods(inspection);
            let entry = without.entry(from).or_default();
            entry.parts.extend(own.iter().map(|(at, _)| at.0));
            entry.likely.extend(differing(&with, rest));
            for (at, answer) in own {
                give(inspection, *at, answer);
            }
        }
        for &at in self.answers.keys() {
            give(inspection, at, Answer::NotLooked);
        }
    }

    /// How likely the answers are, for each state that they may be about.
    fn likelihoods(&self, inspection: &Inspection<'_, '_, f64>) -> Vec<(usize, Pair)> {
        let of = |&(part, slot, node, usual): &(usize, usize, usize, f64)| {
            let (no, yes) = inspection.likelihoods(part, slot).unwrap_or((1.0, 1.0));
            let scale = no * (1.0 - usual) + yes * usual;
            let scale = if scale.is_normal() { scale } else { 1.0 };
            (node, (no / scale, yes / scale))
        };
        self.about.iter().map(of).collect()
    }
}

fn differing(with: &[(usize, Pair)], rest: Vec<(usize, Pair)>) -> Vec<(usize, Pair)> {
    let pairs = with.iter().zip(rest);
    let pairs = pairs.filter(|((_, before), (_, after))| before != after);
    pairs.map(|(_, after)| after).collect()
}

/// Signs that were seen, that something mended since bears on, and that are still possible.
fn still(set_up: &SetUp<'_>, runs: &Runs<'_>, chances: Option<&[Option<f64>]>) -> Vec<Given> {
    let least = f64::from(Sureness::Possibly.percent()) / 100.0;
    let rows = &set_up.built.states.states;
    let mut last: BTreeMap<(usize, u16), &Note> = BTreeMap::new();
    for note in runs.notes {
        last.insert((note.given.part, note.given.ask), note);
    }
    let is_possible = |note: &&&Note| {
        let group = runs.group(note);
        let states = group.map_or(&[][..], |group| &runs.groups.states[group]);
        states.iter().any(|&state| {
            let row = &rows[runs.moments.ground.states[state].row];
            let trial = if row.ask == note.given.ask {
                row.trial
            } else {
                Trial::Yes
            };
            let now = runs.moments.node(runs.moments.last(), state);
            let chance = chances.and_then(|all| all[now]).unwrap_or(0.0);
            note.given.answer.truth(trial) == Truth::True && chance >= least
        })
    };
    let overtaken = last.values().filter(|note| !runs.is_of_now(note));
    let seen = overtaken
        .filter(|note| !runs.is_changed(note))
        .filter(is_possible);
    seen.map(|note| note.given).collect()
}

/// The facts, put to their moments.
fn sorted(
    runs: &Runs<'_>,
    whole: &[usize],
    mends: &BTreeMap<usize, Vec<(usize, usize)>>,
    facts: usize,
) -> Sorted {
    let mut of: Vec<Vec<&Note>> = vec![Vec::new(); facts];
    for note in runs.notes {
        if let Origin::Fact(fact) = note.from {
            of[fact].push(note);
        }
    }
    let mut sorted = Sorted::default();
    for (fact, notes) in of.iter().enumerate() {
        if whole.contains(&fact) {
            let all = At { fact, parts: None };
            sorted.found.push(all.clone());
            sorted.now.push(all);
            continue;
        }
        let add = |to: &mut Vec<At>, counts: &dyn Fn(&Note) -> bool| {
            let parts: Vec<usize> = notes
                .iter()
                .filter(|n| counts(n))
                .map(|n| n.given.part)
                .collect();
            if !parts.is_empty() {
                let all = parts.len() == notes.len();
                let parts = (!all).then_some(parts);
                to.push(At { fact, parts });
            }
        };
        add(&mut sorted.found, &|note| runs.is_of_found(note));
        add(&mut sorted.now, &|note| runs.is_of_now(note));
        let is_past =
            |note: &Note, mended| !runs.is_of_now(note) && runs.is_changed(note) == mended;
        add(&mut sorted.overtaken, &|note| is_past(note, false));
        let mut mended = Vec::new();
        add(&mut mended, &|note| is_past(note, true));
        let by = notes.iter().filter_map(|note| {
            let mut of_group = mends.get(&runs.group(note)?)?.iter();
            of_group
                .find(|(moment, _)| *moment > note.moment)
                .map(|(_, line)| *line)
        });
        let by = by.min();
        sorted.mended.extend(mended.into_iter().zip(by));
    }
    sorted
}
