//! The piece as it was found and as it is now, of random rules, against every world there
//! is: each start and each reason fires or not, and all moments follow from that.

use std::collections::{BTreeMap, BTreeSet};

use tellmark_compile::ground::{Ground, GroundPart};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Mend, Mended, SetUp, part_ref};
use tellmark_compile::{Built, build};
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Pack, Trial};
use tellmark_core::piece::{Part, Piece};
use tellmark_language::model::{
    Fact, Found, Job, KindId, Model, Nature, PieceOrder, StateId, Sure, Takes,
};
use tellmark_language::span::Span;
use tellmark_tests::dice::Dice;
use tellmark_tests::random::RandomRules;

const CASES: usize = 600;
/// Starts and reasons that are still quick to enumerate.
const MOST_DRAWS: usize = 12;

struct Case {
    model: Model,
    built: Built,
    order: PieceOrder,
    ground: Ground,
    /// For each part, its name.
    names: Vec<tellmark_language::model::PartRef>,
}

/// Something in the record.
#[derive(Clone, Debug)]
enum Event {
    /// A yes or no about a state, and how sure.
    Noted(usize, StateId, bool, Sure),
    /// What was mended, and how likely that is to fail.
    Mended(Vec<(usize, StateId)>, f64),
}

fn mending_job(mends: Vec<StateId>) -> Job {
    Job {
        name: "put it right".to_owned(),
        takes: Some(Takes {
            least: 1,
            mostly: 2,
            most: 3,
        }),
        waits: None,
        needs: Vec::new(),
        first: Vec::new(),
        then: Vec::new(),
        touches: Vec::new(),
        mends,
        until: Vec::new(),
        holds: None,
        ask_owner: false,
        once_for: None,
        stage: tellmark_language::model::WorkStage::default(),
        source: None,
        at: Span::default(),
    }
}

/// What can be answered with yes or no, and whether it is hidden.
fn plain_states(model: &Model, built: &Built) -> Vec<(StateId, bool)> {
    let all = (0..model.states.len()).filter_map(|i| Some(StateId(u16::try_from(i).ok()?)));
    all.filter(|&state| built.states.states[built.states.declared(state)].trial == Trial::Yes)
        .map(|state| {
            let nature = &model.states[state.index()].nature;
            (state, matches!(nature, Nature::Hidden { .. }))
        })
        .collect()
}

fn draw(dice: &mut Dice) -> Option<Case> {
    let mut rules = RandomRules::draw(dice);
    if dice.chance(40) {
        rules.add_means(dice);
    }
    let mut model = rules.model;
    let built = build(&model, &|_| String::new()).ok()?;
    // Some signs are faults in themselves: a job mends them.
    let signs = plain_states(&model, &built).into_iter();
    let mends = signs
        .filter(|(_, hidden)| *hidden || dice.chance(40))
        .map(|(s, _)| s);
    let mends: Vec<StateId> = mends.collect();
    model.jobs.push(mending_job(mends));
    let built = build(&model, &|_| String::new()).ok()?;
    let order = PieceOrder {
        kind: KindId(1),
        counts: Vec::new(),
    };
    let (ground, names) = {
        let set_up = SetUp {
            model: &model,
            built: &built,
            order: &order,
            facts: &[],
            later: None,
        };
        let pack = built.bytes.open().expect("a fresh pack opens");
        let mut room = Room::<UFloat>::default();
        let bare = set_up.bare(pack, &mut room).ok()?;
        let piece: &Piece<'_> = bare.piece();
        let parts: &[Part] = piece.parts();
        let names = (0..parts.len())
            .map(|p| part_ref(&built.places, parts, p))
            .collect();
        (set_up.ground(&bare), names)
    };
    let used = ground.states.iter().filter(|s| s.in_use);
    let draws: usize = used
        .map(|s| {
            let open = |weight: f64| usize::from(weight > 0.0 && weight < 1.0);
            open(s.own) + s.causes.iter().map(|c| open(c.weight)).sum::<usize>()
        })
        .sum();
    let _: &[GroundPart] = &ground.parts;
    (2..=MOST_DRAWS).contains(&draws).then_some(Case {
        model,
        built,
        order,
        ground,
        names,
    })
}

impl Case {
    fn row(&self, state: StateId) -> usize {
        self.built.states.declared(state)
    }

    fn number(&self, part: usize, state: StateId) -> Option<usize> {
        let row = self.row(state);
        let mut states = self.ground.states.iter();
        states.position(|s| s.in_use && (s.part, s.row) == (part, row))
    }

    /// A random part that has a random state of these.
    fn place(&self, dice: &mut Dice, states: &[StateId]) -> Option<(usize, StateId)> {
        let state = *dice.pick(states);
        let all = (0..self.names.len()).filter(|&p| self.number(p, state).is_some());
        let all: Vec<usize> = all.collect();
        (!all.is_empty()).then(|| (*dice.pick(&all), state))
    }

    fn events(&self, dice: &mut Dice) -> Vec<Event> {
        let plain = plain_states(&self.model, &self.built);
        let states: Vec<StateId> = plain.iter().map(|(state, _)| *state).collect();
        let faults = self.model.jobs[0].mends.clone();
        let mut events = Vec::new();
        for _ in 0..3 + dice.below(8) {
            if dice.chance(30) && !faults.is_empty() {
                let mended = (0..1 + dice.below(2)).filter_map(|_| self.place(dice, &faults));
                let mended = mended.collect();
                events.push(Event::Mended(mended, *dice.pick(&[0.0, 0.02, 0.3])));
            } else if let Some((part, state)) = self.place(dice, &states) {
                let sure =
                    *dice.pick(&[Sure::Ordinary, Sure::Ordinary, Sure::Looks, Sure::Certain]);
                events.push(Event::Noted(part, state, dice.chance(60), sure));
            }
        }
        events
    }

    /// Which states last.
    fn lasts(&self) -> Vec<bool> {
        let mut faults: BTreeSet<StateId> = self.model.jobs[0].mends.iter().copied().collect();
        for one in &self.model.at_most_ones {
            if one.states.iter().any(|s| faults.contains(s)) {
                faults.extend(one.states.iter().copied());
            }
        }
        let rows: BTreeSet<usize> = faults.iter().map(|&s| self.row(s)).collect();
        self.ground
            .states
            .iter()
            .map(|s| rows.contains(&s.row))
            .collect()
    }
}

/// What became of a state that was changed.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Change {
    /// It is so, or not so, as it was noted.
    Known(bool),
    /// It is as it was (as it was found, if nobody has noted it since) if all of these mends
    /// failed; else it is mended.
    Mended(Option<bool>, Vec<usize>),
}

/// What was changed so far: mended, or found again.
type Forced = BTreeMap<usize, Change>;

/// How likely each mend is to fail.
type Fails = Vec<f64>;

/// One way for everything to be: which starts and reasons fire, in the order of the network,
/// and which mends fail.
struct World<'w> {
    case: &'w Case,
    lasts: &'w [bool],
    fires: BTreeMap<(usize, usize), bool>,
    failed: Vec<bool>,
}

impl World<'_> {
    /// Whether a start (0) or a reason (from 1) of a state fires.
    fn fires(&self, state: usize, which: usize, weight: f64) -> bool {
        weight >= 1.0 || (weight > 0.0 && self.fires[&(state, which)])
    }

    /// A state, when these are changed.
    fn holds(&self, state: usize, forced: &Forced) -> bool {
        let record = &self.case.ground.states[state];
        if !record.in_use {
            return false;
        }
        match forced.get(&state) {
            Some(Change::Known(so)) => return *so,
            Some(Change::Mended(was, mends)) => {
                let failed = mends.iter().all(|&mend| self.failed[mend]);
                return failed && was.unwrap_or_else(|| self.holds(state, &Forced::new()));
            }
            None => {}
        }
        if self.lasts[state] && !forced.is_empty() {
            return self.holds(state, &Forced::new());
        }
        if self.fires(state, 0, record.own) {
            return true;
        }
        record.causes.iter().enumerate().any(|(i, cause)| {
            let fires = self.fires(state, i + 1, cause.weight);
            fires && cause.when.holds(&|other| self.holds(other, forced))
        })
    }
}

/// What has been changed and bears on a state, by way of signs.
fn bears(case: &Case, lasts: &[bool], state: usize, forced: &Forced) -> BTreeSet<(usize, Change)> {
    if let Some(change) = forced.get(&state) {
        return BTreeSet::from([(state, change.clone())]);
    }
    let mut found = BTreeSet::new();
    if lasts[state] || !case.ground.states[state].in_use {
        return found;
    }
    for cause in &case.ground.states[state].causes {
        let mut on = Vec::new();
        cause.when.states(&mut |s| on.push(s));
        for other in on {
            found.extend(bears(case, lasts, other, forced));
        }
    }
    found
}

/// A note that counts: of a state, at a moment, and how likely it is there.
struct Note {
    state: usize,
    forced: Forced,
    likely: (f64, f64),
    of: BTreeSet<(usize, Change)>,
}

/// Mends a state: each time it is mended is one more mend that may fail.
fn mend(forced: &mut Forced, state: usize, mend: usize) {
    let was = match forced.remove(&state) {
        Some(Change::Known(false)) => {
            forced.insert(state, Change::Known(false));
            return;
        }
        Some(Change::Known(true)) => Change::Mended(Some(true), vec![mend]),
        Some(Change::Mended(was, mut mends)) => {
            mends.push(mend);
            Change::Mended(was, mends)
        }
        None => Change::Mended(None, vec![mend]),
    };
    forced.insert(state, was);
}

/// Goes through the record: the notes that count, what is changed in the end, and how likely
/// each mend is to fail.
fn notes(case: &Case, events: &[Event]) -> (Vec<Note>, Forced, Fails) {
    let lasts = case.lasts();
    let mut forced = Forced::new();
    let mut fails = Fails::new();
    let mut notes: Vec<Note> = Vec::new();
    for event in events {
        match event {
            Event::Mended(all, chance) => {
                let all: BTreeSet<usize> = all
                    .iter()
                    .filter_map(|&(part, state)| case.number(part, state))
                    .collect();
                for state in all {
                    if *chance > 0.0 {
                        mend(&mut forced, state, fails.len());
                        fails.push(*chance);
                    } else {
                        forced.insert(state, Change::Known(false));
                    }
                }
            }
            &Event::Noted(part, state, yes, sure) => {
                let Some(number) = case.number(part, state) else {
                    continue;
                };
                let hidden = matches!(
                    case.model.states[state.index()].nature,
                    Nature::Hidden { .. }
                );
                let slip = match sure {
                    Sure::Looks => 0.2,
                    Sure::Ordinary if !hidden => 0.01,
                    _ => 0.0,
                };
                match forced.get_mut(&number) {
                    // As it should be, or it only looks so: an answer as any other.
                    Some(Change::Mended(..)) if !yes || sure == Sure::Looks => {}
                    Some(change) => {
                        if sure != Sure::Looks {
                            *change = Change::Known(yes);
                        }
                        continue;
                    }
                    None => {}
                }
                let of = bears(case, &lasts, number, &forced);
                // The latest line about the same counts.
                notes.retain(|note| note.state != number || note.of != of);
                let likely = if yes {
                    (slip, 1.0 - slip)
                } else {
                    (1.0 - slip, slip)
                };
                notes.push(Note {
                    state: number,
                    forced: forced.clone(),
                    likely,
                    of,
                });
            }
        }
    }
    (notes, forced, fails)
}

/// The chance of every state when these are changed, given notes, over all worlds; `None`
/// if the notes cannot all be true.
fn enumerated(case: &Case, notes: &[&Note], forced: &Forced, fails: &[f64]) -> Option<Vec<f64>> {
    let lasts = case.lasts();
    let mut open: Vec<(usize, usize, f64)> = Vec::new();
    for (state, record) in case.ground.states.iter().enumerate() {
        if record.in_use {
            let weights = std::iter::once(record.own).chain(record.causes.iter().map(|c| c.weight));
            let weights = weights.enumerate().filter(|(_, w)| *w > 0.0 && *w < 1.0);
            open.extend(weights.map(|(which, weight)| (state, which, weight)));
        }
    }
    let draws = open.len() + fails.len();
    let mut all = 0.0;
    let mut sums = vec![0.0; case.ground.states.len()];
    let chances = open.iter().map(|(_, _, chance)| *chance);
    let chances: Vec<f64> = chances.chain(fails.iter().copied()).collect();
    for number in 0_u32..1 << draws {
        let fires = |at: usize| number >> at & 1 == 1;
        let mut weight: f64 = chances
            .iter()
            .enumerate()
            .map(|(at, chance)| if fires(at) { *chance } else { 1.0 - chance })
            .product();
        let drawn = open.iter().enumerate();
        let world = World {
            case,
            lasts: &lasts,
            fires: drawn
                .map(|(at, &(s, which, _))| ((s, which), fires(at)))
                .collect(),
            failed: (open.len()..draws).map(fires).collect(),
        };
        for note in notes {
            let so = world.holds(note.state, &note.forced);
            weight *= if so { note.likely.1 } else { note.likely.0 };
        }
        if weight > 0.0 {
            all += weight;
            for (state, sum) in sums.iter_mut().enumerate() {
                *sum += weight * f64::from(u8::from(world.holds(state, forced)));
            }
        }
    }
    (all > 0.0).then(|| sums.into_iter().map(|sum| sum / all).collect())
}

/// How the record of these events reads: the facts with their lines, and what was mended.
fn record(case: &Case, events: &[Event]) -> (Vec<Fact>, Vec<usize>, Vec<Mend>) {
    let (mut facts, mut lines, mut mends) = (Vec::new(), Vec::new(), Vec::new());
    for (line, event) in (1..).zip(events) {
        match event {
            Event::Mended(states, fails) => mends.push(Mend {
                line,
                states: states.clone(),
                fails: *fails,
            }),
            &Event::Noted(part, state, yes, sure) => {
                let part = case.names[part].clone();
                facts.push(Fact {
                    at: part.at,
                    part,
                    found: Found::State { state, yes, sure },
                });
                lines.push(line);
            }
        }
    }
    (facts, lines, mends)
}

/// How far the piece as it was found and as it is now are from all worlds.
#[derive(Default)]
struct Seen {
    mended: usize,
    again: usize,
    in_doubt: usize,
    impossible: usize,
    copied: usize,
    worst: f64,
}

fn compare(case: &Case, events: &[Event], name: u64, seen: &mut Seen) {
    let (facts, lines, mends) = record(case, events);
    let facts: Vec<&Fact> = facts.iter().collect();
    let pack: Pack<'_> = case.built.bytes.open().expect("a fresh pack opens");
    let set_up = SetUp {
        model: &case.model,
        built: &case.built,
        order: &case.order,
        facts: &facts,
        later: None,
    };
    let Some(later) = set_up.later(pack, &lines, &mends).expect("small enough") else {
        return;
    };
    seen.mended += 1;
    seen.again += usize::from(later.mended.iter().any(|m| m.again.is_some()));
    let is_in_doubt = |m: &Mended| m.again.is_none() && m.is_in_doubt();
    seen.in_doubt += usize::from(later.mended.iter().any(is_in_doubt));
    let (notes, forced, fails) = notes(case, events);
    let all: Vec<&Note> = notes.iter().collect();
    seen.copied += usize::from(notes.iter().any(|n| !n.of.is_empty()));
    let Some(expected) = enumerated(case, &all, &forced, &fails) else {
        assert!(later.is_impossible(), "case {name}: not seen to clash");
        let clash = later.clash().expect("a clash");
        assert!(!clash.from.is_empty(), "case {name}: no group named");
        seen.impossible += 1;
        return;
    };
    assert!(!later.is_impossible(), "case {name}: seen to clash");
    for (state, chance) in later.chances().into_iter().enumerate() {
        if case.ground.states[state].in_use {
            let wrong = (chance.expect("a chance") - expected[state]).abs();
            assert!(
                wrong < 1e-10,
                "case {name}, state {state}: {chance:?} against {}",
                expected[state]
            );
            seen.worst = seen.worst.max(wrong);
        }
    }
    for mended in &later.mended {
        let state = case.number(mended.part, mended.state).expect("a state");
        assert!(
            (mended.chance - expected[state]).abs() < 1e-10,
            "case {name}"
        );
    }
    check_if_and_without(case, &later, &notes, (&forced, &fails), name);
    check_found(case, &set_up, &later, &notes, name);
}

/// What one more thing being so would do, and one less being told.
fn check_if_and_without(
    case: &Case,
    later: &tellmark_compile::set_up::Later,
    notes: &[Note],
    (forced, fails): (&Forced, &[f64]),
    name: u64,
) {
    let open = (0..case.ground.states.len()).find(|s| {
        let chance = later.chances()[*s];
        case.ground.states[*s].in_use && chance.is_some_and(|c| c > 1e-9 && c < 1.0 - 1e-9)
    });
    let Some(open) = open else { return };
    let so = Note {
        state: open,
        forced: forced.clone(),
        likely: (0.0, 1.0),
        of: BTreeSet::new(),
    };
    let with: Vec<&Note> = notes.iter().chain([&so]).collect();
    let expected = enumerated(case, &with, forced, fails).expect("it may be so");
    let found = later.chances_if(open).expect("it may be so");
    for (state, chance) in found.into_iter().enumerate() {
        if case.ground.states[state].in_use {
            let wrong = (chance.expect("a chance") - expected[state]).abs();
            assert!(wrong < 1e-10, "case {name}: if {open}, {state}");
        }
    }
    let nothing: Vec<Option<f64>> = later
        .chances_with(&BTreeSet::new())
        .expect("nothing clashes");
    let expected = enumerated(case, &[], forced, fails).expect("nothing clashes");
    for (state, chance) in nothing.into_iter().enumerate() {
        if case.ground.states[state].in_use {
            let wrong = (chance.expect("a chance") - expected[state]).abs();
            assert!(wrong < 1e-10, "case {name}: with nothing told, {state}");
        }
    }
}

/// The piece as it was found goes by what was noted of it as it was found.
fn check_found(
    case: &Case,
    set_up: &SetUp<'_>,
    later: &tellmark_compile::set_up::Later,
    notes: &[Note],
    name: u64,
) {
    let of_found: Vec<&Note> = notes.iter().filter(|n| n.of.is_empty()).collect();
    let facts: Vec<&Fact> = later
        .sorted
        .found
        .iter()
        .map(|at| set_up.facts[at.fact])
        .collect();
    let found = SetUp {
        facts: &facts,
        ..*set_up
    };
    let pack: Pack<'_> = case.built.bytes.open().expect("a fresh pack opens");
    let mut room = Room::<f64>::default();
    let mut case_of_found = found.case(pack, &mut room).expect("it can be set up");
    let Some(expected) = enumerated(case, &of_found, &Forced::new(), &[]) else {
        assert!(
            case_of_found.is_impossible(),
            "case {name}: not seen to clash"
        );
        return;
    };
    for part in 0..case.ground.parts.len() {
        let place = case.ground.parts[part].place;
        for slot in 0..pack.states_of(place).count() {
            let state = case.ground.state(part, slot);
            if case.ground.states[state].in_use {
                let (no, yes) = case_of_found
                    .inspection
                    .weights(part, slot)
                    .expect("possible");
                let wrong = (yes / (no + yes) - expected[state]).abs();
                assert!(wrong < 1e-10, "case {name}: as found, {state}");
            }
        }
    }
}

#[test]
fn both_moments_agree_with_every_world() {
    let mut seen = Seen::default();
    let (mut cases, mut seed) = (0, 0);
    while cases < CASES {
        seed += 1;
        let mut dice = Dice::new(seed);
        let Some(case) = draw(&mut dice) else {
            continue;
        };
        cases += 1;
        let events = case.events(&mut dice);
        // Un-ticking takes a mend away as if it had never been, whichever it is.
        for left_out in 0..=events.len() {
            let is_there = |at: usize| at != left_out || matches!(events[at], Event::Noted(..));
            let events = (0..events.len())
                .filter(|&at| is_there(at))
                .map(|at| events[at].clone());
            let events: Vec<Event> = events.collect();
            let is_new = left_out == events.len() || events.len() < left_out;
            if is_new || left_out % 3 == 0 {
                compare(&case, &events, seed, &mut seen);
            }
        }
    }
    println!(
        "{} records with something mended, {} found again, {} in doubt, {} with later notes, {} \
         that clash; worst difference {:.1e}",
        seen.mended, seen.again, seen.in_doubt, seen.copied, seen.impossible, seen.worst
    );
    assert!(seen.mended > 300 && seen.again > 20 && seen.copied > 50 && seen.impossible > 5);
    assert!(seen.in_doubt > 10);
}

#[test]
fn a_tick_never_changes_the_piece_as_it_was_found() {
    let mut changed = 0;
    for seed in 0..400 {
        let mut dice = Dice::new(seed);
        let Some(case) = draw(&mut dice) else {
            continue;
        };
        let mut events = case.events(&mut dice);
        let found = |events: &[Event]| {
            let (facts, lines, mends) = record(&case, events);
            let facts: Vec<&Fact> = facts.iter().collect();
            let set_up = SetUp {
                model: &case.model,
                built: &case.built,
                order: &case.order,
                facts: &facts,
                later: None,
            };
            let pack = case.built.bytes.open().expect("a fresh pack opens");
            let later = set_up.later(pack, &lines, &mends).expect("small enough");
            let all = (0..facts.len()).collect::<Vec<_>>();
            later.map_or(all, |l| l.sorted.found.iter().map(|at| at.fact).collect())
        };
        let before = found(&events);
        let faults = case.model.jobs[0].mends.clone();
        let Some(fault) = (!faults.is_empty())
            .then(|| case.place(&mut dice, &faults))
            .flatten()
        else {
            continue;
        };
        events.push(Event::Mended(vec![fault], 0.02));
        assert_eq!(found(&events), before, "seed {seed}");
        changed += 1;
    }
    assert!(changed > 50);
}
