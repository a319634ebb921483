//! Weighing checks as the unit does, for random rules, pieces and answers:
//! against asking, and for what it leaves behind, which is nothing.

use tellmark_compile::build;
use tellmark_compile::check::{Depth, check};
use tellmark_compile::room::Room;
use tellmark_core::inspection::Inspection;
use tellmark_core::logic::can_be;
use tellmark_core::looking::{Candidate, Looking, Need, NotStarted, Progress};
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::{Form, Nature as PackNature, Pack, Touch, Trial, Way};
use tellmark_core::piece::Answer;
use tellmark_job::house::standard;
use tellmark_language::model::WorkStage;
use tellmark_language::model::{
    Asks, Disturbs, Job, Missed, Model, Nature, StateId, Takes, Thousandths,
};
use tellmark_language::read;
use tellmark_language::span::Span;
use tellmark_tests::dice::Dice;
use tellmark_tests::random::RandomRules;

/// Random rules whose faults cost something, missed or planned for nothing.
/// Choices have no slips and gauges are exact: a check is weighed as if it told a value
/// for certain.
fn rules(dice: &mut Dice) -> Model {
    let mut random = RandomRules::draw(dice);
    if dice.chance(30) {
        random.add_degrees(dice);
    }
    let mut model = random.model;
    let minutes = |dice: &mut Dice, most: usize| u32::try_from(5 + dice.below(most)).unwrap_or(5);
    for at in 0..model.states.len() {
        if !matches!(model.states[at].nature, Nature::Hidden { .. }) {
            continue;
        }
        let missed = Missed {
            minutes: minutes(dice, 600),
            risk: u8::try_from(1 + dice.below(5)).unwrap_or(1),
        };
        let missed = dice.chance(90).then_some(missed);
        model.states[at].nature = Nature::Hidden { missed };
        for _ in 0..dice.below(3) {
            let [least, mostly, most] = [1, minutes(dice, 900), 2_000];
            let takes = dice.chance(80).then_some(Takes {
                least,
                mostly,
                most,
            });
            model.jobs.push(Job {
                name: format!("job {}", model.jobs.len()),
                takes,
                waits: None,
                needs: Vec::new(),
                first: Vec::new(),
                then: Vec::new(),
                touches: Vec::new(),
                mends: vec![StateId(u16::try_from(at).unwrap_or(0))],
                until: Vec::new(),
                holds: None,
                ask_owner: false,
                stage: WorkStage::default(),
                once_for: None,
                source: None,
                at: Span::default(),
            });
        }
    }
    for sign in &mut model.signs {
        sign.takes = dice.chance(80).then(|| minutes(dice, 10));
        sign.disturbs = *dice.pick(&[Disturbs::Nothing, Disturbs::ALittle, Disturbs::ALot]);
        match &mut sign.asks {
            Asks::Which { .. } | Asks::Degrees { .. } => sign.slip = Thousandths(0),
            Asks::HowMuch { gauge, .. } => *gauge = 0,
            Asks::Whether(_) | Asks::HowMany(_) => {}
        }
    }
    model
}

/// What a fault costs: missed, and planned for nothing, in minutes.
fn costs(pack: &Pack<'_>, state: u16) -> (f64, f64) {
    let record = pack.state(usize::from(state));
    let risk = [0.0, 0.0, 30.0, 120.0, 480.0, 2_400.0][usize::from(record.risk)];
    let jobs = (0..pack.pairs()).map(|row| pack.pair(row));
    let hours = jobs
        .filter(|pair| pair.mends && pair.other == state)
        .map(|pair| f64::from(pack.job(usize::from(pair.job)).takes[1]))
        .filter(|&minutes| minutes > 0.0)
        .fold(f64::INFINITY, f64::min);
    let needless = if hours.is_finite() { hours } else { 60.0 };
    (f64::from(record.missed) + risk, needless)
}

/// The losses of all faults together.
fn loss(inspection: &mut Inspection<'_, '_, f64>) -> f64 {
    let pack = *inspection.pack();
    let mut sum = 0.0;
    for part in 0..inspection.piece().parts().len() {
        let place = usize::from(inspection.piece().parts()[part].place);
        for state in pack.states_of(place) {
            if pack.state(usize::from(state)).nature == PackNature::Hidden {
                let (missed, needless) = costs(&pack, state);
                let p = inspection.chance(part, state).expect("no clash").as_f64();
                sum += f64::min(p * missed, (1.0 - p) * needless);
            }
        }
    }
    sum
}

/// The chances of the states that an ask decides, and what decides them; those
/// that no rule has to do with have none.
fn decided(inspection: &mut Inspection<'_, '_, f64>, part: usize, ask: u16) -> Vec<(Trial, f64)> {
    let pack = *inspection.pack();
    let place = usize::from(inspection.piece().parts()[part].place);
    let mut found = Vec::new();
    for (slot, state) in pack.states_of(place).enumerate() {
        let record = pack.state(usize::from(state));
        if record.ask == ask {
            let (no, yes) = inspection.weights(part, slot).expect("no clash");
            if no + yes > 0.0 {
                found.push((record.trial, yes / (no + yes)));
            }
        }
    }
    found
}

/// Answers, one for all that say the same, and the chance of each.
fn answers(inspection: &mut Inspection<'_, '_, f64>, part: usize, ask: u16) -> Vec<(Answer, f64)> {
    let details = inspection.pack().ask(usize::from(ask));
    let decided = decided(inspection, part, ask);
    if decided.is_empty() {
        return Vec::new();
    }
    match details.form {
        Form::Whether => {
            let slip = f64::from(details.slip) / 1000.0;
            let p = decided[0].1;
            let says_yes = p * (1.0 - slip) + (1.0 - p) * slip;
            vec![
                (Answer::Seen(true), says_yes),
                (Answer::Seen(false), 1.0 - says_yes),
            ]
        }
        Form::Degrees { values, .. } => {
            let from = |degree: i32| match degree {
                0 => 1.0,
                _ => {
                    let is_it =
                        |(trial, _): &&(Trial, f64)| *trial == Trial::Within(degree, i32::MAX);
                    decided.iter().find(is_it).map_or(0.0, |(_, p)| *p)
                }
            };
            (0..u8::try_from(values).expect("few degrees"))
                .map(|value| {
                    let degree = i32::from(value);
                    (Answer::Value(value), from(degree) - from(degree + 1))
                })
                .collect()
        }
        Form::Which { values, .. } => {
            let chance = |value: u8| {
                let is_it = |(trial, _): &&(Trial, f64)| *trial == Trial::Value(value);
                decided.iter().find(is_it).map(|(_, p)| *p)
            };
            let values = 0..u8::try_from(values).expect("few values");
            let rest = 1.0 - values.clone().filter_map(chance).sum::<f64>();
            let other = values.clone().find(|&v| chance(v).is_none());
            values
                .filter_map(|v| Some((Answer::Value(v), chance(v)?)))
                .chain(other.map(|v| (Answer::Value(v), rest)))
                .collect()
        }
        Form::HowMuch { .. } | Form::HowMany { .. } => {
            // What goes the other way than the levels follows from them.
            let is_measure = matches!(details.form, Form::HowMuch { .. });
            let is_less = |trial: &Trial| matches!(trial, Trial::Within(i32::MIN, _));
            let less = decided.iter().any(|(trial, _)| is_less(trial));
            let mut decided = decided;
            decided.retain(|(trial, _)| match trial {
                Trial::Within(_, to) if is_measure && !less => *to == i32::MAX,
                trial if is_measure => is_less(trial),
                _ => true,
            });
            let mut cuts = vec![0];
            for (trial, _) in &decided {
                if let Trial::Within(from, to) = *trial {
                    cuts.extend([from, to.saturating_add(1)]);
                }
            }
            cuts.retain(|c| (0..=100).contains(c));
            cuts.sort_unstable();
            cuts.dedup();
            cuts.into_iter()
                .map(|reading| (Answer::Reading(reading), band(&decided, reading)))
                .collect()
        }
    }
}

/// The chance of a reading: that of the narrowest state about it, less those of
/// the widest states within that one.
fn band(decided: &[(Trial, f64)], reading: i32) -> f64 {
    let bounds = |trial: &Trial| match *trial {
        Trial::Within(from, to) => (i64::from(from), i64::from(to)),
        _ => (0, -1),
    };
    let whole = (i64::from(i32::MIN), i64::from(i32::MAX));
    let reading = i64::from(reading);
    let about = decided
        .iter()
        .map(|(trial, p)| (bounds(trial), *p))
        .filter(|((from, to), _)| *from <= reading && reading <= *to)
        .chain([(whole, 1.0)])
        .min_by_key(|((from, to), _)| to - from)
        .expect("the whole is about it");
    let mut within: Vec<((i64, i64), f64)> = decided
        .iter()
        .map(|(trial, p)| (bounds(trial), *p))
        .filter(|(b, _)| *b != about.0 && about.0.0 <= b.0 && b.1 <= about.0.1)
        .collect();
    within.sort_by_key(|((from, to), _)| from - to);
    let mut taken: Vec<(i64, i64)> = Vec::new();
    let mut chance = about.1;
    for (b, p) in within {
        if !taken.iter().any(|t| t.0 <= b.0 && b.1 <= t.1) {
            taken.push(b);
            chance -= p;
        }
    }
    chance
}

/// What a check saves, by giving every answer in turn.
fn by_asking(inspection: &mut Inspection<'_, '_, f64>, part: usize, ask: u16, now: f64) -> f64 {
    let answers = answers(inspection, part, ask);
    if answers.is_empty() {
        return 0.0;
    }
    let total: f64 = answers.iter().map(|(_, p)| p).sum();
    assert!((total - 1.0).abs() < 1e-9, "{answers:?}");
    let mut after = 0.0;
    for (answer, chance) in answers {
        if chance > 1e-12 {
            inspection
                .answer(part, ask, answer)
                .expect("it can be answered so");
            after += chance * loss(inspection);
            inspection
                .answer(part, ask, Answer::NotLooked)
                .expect("it can be answered so");
        }
    }
    now - after
}

fn answer_some<N: Number>(inspection: &mut Inspection<'_, '_, N>, dice: &mut Dice) {
    let pack = *inspection.pack();
    for _ in 0..dice.below(6) {
        let part = dice.below(inspection.piece().parts().len());
        let place = usize::from(inspection.piece().parts()[part].place);
        let asks: Vec<u16> = pack.asks_of(place).collect();
        let Some(&ask) = asks.get(dice.below(asks.len().max(1))) else {
            continue;
        };
        let yes = dice.chance(50);
        let answer = match pack.ask(usize::from(ask)).form {
            Form::Whether if dice.chance(30) => Answer::Certain(yes),
            Form::Whether if dice.chance(30) => Answer::Looks(yes),
            Form::Whether => Answer::Seen(yes),
            Form::Which { .. } | Form::Degrees { .. } => Answer::Value(u8::from(yes)),
            Form::HowMuch { .. } => Answer::Reading(if yes { 50 } else { 10 }),
            Form::HowMany { .. } => Answer::Reading(i32::from(yes)),
        };
        inspection
            .answer(part, ask, answer)
            .expect("it can be answered so");
    }
    for part in 0..inspection.piece().parts().len() {
        inspection
            .out_of_sight(part, dice.chance(15))
            .expect("it is there");
    }
}

/// Every weight and answer.
fn everything(inspection: &mut Inspection<'_, '_, UFloat>) -> (Vec<u32>, Vec<Answer>, u32) {
    let pack = *inspection.pack();
    let (mut weights, mut answers) = (Vec::new(), Vec::new());
    for part in 0..inspection.piece().parts().len() {
        let place = usize::from(inspection.piece().parts()[part].place);
        for slot in 0..pack.states_of(place).count() {
            let (no, yes) = inspection.weights(part, slot).expect("no clash");
            weights.extend([no.to_bits(), yes.to_bits()]);
        }
        answers.extend(inspection.piece().answers_of(part));
    }
    (weights, answers, inspection.changes())
}

/// Memory for weighing checks.
struct Memory<N> {
    candidates: Vec<Candidate>,
    numbers: Vec<N>,
}

impl<N: Number> Memory<N> {
    fn of(inspection: &Inspection<'_, '_, N>) -> Self {
        let need = Need::of(inspection.pack(), inspection.piece());
        Self {
            candidates: vec![Candidate::NONE; need.candidates],
            numbers: vec![N::ZERO; need.numbers],
        }
    }

    fn looking(&mut self) -> Looking<'_, N> {
        Looking::new(&mut self.candidates, &mut self.numbers)
    }
}

fn saved(found: &[Candidate], part: usize, ask: u16) -> f64 {
    let is_it = |c: &&Candidate| usize::from(c.part) == part && c.ask == ask;
    let saves = found.iter().find(is_it).map(|c| c.saves.units());
    f64::from(saves.unwrap_or(0)) / 4_096.0
}

/// The most worth making first, but none before a gentler one that changes the
/// same fault most.
fn assert_in_order(found: &[Candidate]) {
    let gentle = found.iter().filter(|c| c.touch == Touch::Nothing);
    let worths: Vec<f64> = gentle
        .map(|c| f64::from(c.saves.units()) / 4_096.0 / f64::from(c.minutes))
        .collect();
    assert!(worths.windows(2).all(|w| w[0] > w[1] - 0.1), "{worths:?}");
    for (i, before) in found.iter().enumerate() {
        let same =
            |c: &&Candidate| (c.most.part, c.most.state) == (before.most.part, before.most.state);
        let mut after = found[i..].iter().filter(same);
        assert!(after.all(|c| c.touch >= before.touch));
    }
}

#[test]
fn every_check_saves_what_asking_it_saves() {
    let mut dice = Dice::new(20);
    let (mut compared, mut worth_something, mut pieces) = (0, 0, 0);
    while pieces < 1_000 {
        let model = rules(&mut dice);
        let costs = |s: &tellmark_language::model::State| {
            matches!(s.nature, Nature::Hidden { missed: Some(_) })
        };
        if model.rules.len() < 3 || !model.states.iter().any(costs) {
            continue;
        }
        let Ok(built) = build(&model, &|_| String::new()) else {
            continue;
        };
        let pack = built.bytes.open().expect("opens");
        // Asking takes long where much hangs together.
        if (0..pack.fragments()).any(|f| pack.fragment(f).steps > 1_000) {
            continue;
        }
        let root = (0..built.places.len()).find(|&p| built.places.owner(p).is_none());
        let counts = dice.roll();
        let count = |owner: usize, place: usize| {
            let record = pack.place(place);
            let mut dice = Dice::new(counts ^ ((owner as u64) << 32) ^ place as u64);
            let span = usize::from(record.most - record.least) + 1;
            record.least + u8::try_from(dice.below(span)).unwrap_or(0)
        };
        let root = root.expect("a piece");
        let answers = dice.roll();

        let mut room = Room::<f64>::default();
        let mut inspection = room
            .inspection(pack, root, |_, owner, place| count(owner, place))
            .expect("the counts are within bounds");
        answer_some(&mut inspection, &mut Dice::new(answers));
        if inspection.settle().is_err() {
            continue;
        }
        pieces += 1;
        let mut memory = Memory::of(&inspection);
        let mut looking = memory.looking();
        looking.start(&mut inspection).expect("room enough");
        while looking.step(&mut inspection, |_, _| ()) == Progress::More {}
        let exact = looking.best().to_vec();
        assert_in_order(&exact);

        let mut room = Room::<UFloat>::default();
        let mut bench = room
            .inspection(pack, root, |_, owner, place| count(owner, place))
            .expect("the counts are within bounds");
        answer_some(&mut bench, &mut Dice::new(answers));
        let mut memory = Memory::of(&bench);
        let mut looking = memory.looking();
        let as_it_was = everything(&mut bench);
        looking.start(&mut bench).expect("room enough");
        while looking.step(&mut bench, |_, _| ()) == Progress::More {
            if pieces % 8 == 0 {
                assert!(everything(&mut bench) == as_it_was);
            }
        }
        let on_the_bench = looking.best().to_vec();

        let now = loss(&mut inspection);
        for part in 0..inspection.piece().parts().len() {
            let place = usize::from(inspection.piece().parts()[part].place);
            for ask in pack.asks_of(place) {
                if inspection.piece().parts()[part].out_of_sight {
                    let on_it = |c: &Candidate| usize::from(c.part) == part;
                    assert!(!exact.iter().chain(&on_the_bench).any(on_it));
                    continue;
                }
                let is_open =
                    inspection.piece().answer(&pack, part, ask) == Some(Answer::NotLooked);
                // Nobody is asked about what cannot be.
                let is_asked = is_open && can_be(&pack, inspection.piece(), part, ask);
                if !is_asked || pack.ask(usize::from(ask)).way == Way::Open {
                    continue;
                }
                let asked = by_asking(&mut inspection, part, ask, now);
                // Savings of a thousandth of a minute for a fault are left out.
                let off = (asked - saved(&exact, part, ask)).abs();
                assert!(off < 0.01 + 1e-6 * asked, "{asked} by asking, off by {off}");
                let off = (asked - saved(&on_the_bench, part, ask)).abs();
                assert!(off < 0.02 + 1e-4 * asked, "{asked} by asking, off by {off}");
                compared += 1;
                worth_something += usize::from(asked > 0.01);
            }
        }
    }
    println!("{compared} checks compared, {worth_something} worth something");
    assert!(compared > 3_000 && worth_something > 100);
}

#[test]
fn an_answer_in_between_is_noticed() {
    let checked = check(read(standard()), Depth::Build);
    let built = checked.built.expect("the standard rules build");
    let pack = built.bytes.open().expect("opens");
    let root = pack.root_of(1).or(pack.root_of(2)).expect("a piece");
    let mut room = Room::<UFloat>::default();
    let mut inspection = room
        .inspection(pack, root, |_, _, place| pack.place(place).usual)
        .expect("the usual counts are allowed");
    let mut memory = Memory::of(&inspection);
    let mut looking = memory.looking();
    let seen = |_: &Candidate, _| ();
    assert_eq!(looking.step(&mut inspection, seen), Progress::Outdated);
    looking.start(&mut inspection).expect("room enough");
    for _ in 0..inspection.piece().parts().len() + 5 {
        assert_eq!(looking.step(&mut inspection, seen), Progress::More);
        assert!(looking.best().is_empty());
    }
    let place = inspection.piece().root();
    let ask = pack
        .asks_of(place)
        .find(|&ask| pack.ask(usize::from(ask)).form == Form::Whether)
        .expect("something to ask");
    inspection
        .answer(0, ask, Answer::Seen(true))
        .expect("it can be answered so");
    assert_eq!(looking.step(&mut inspection, seen), Progress::Outdated);
    looking.start(&mut inspection).expect("room enough");
    while looking.step(&mut inspection, seen) == Progress::More {}
    assert!(looking.best().len() > 20);
    assert!(looking.best().iter().all(|c| (c.part, c.ask) != (0, ask)));
    // A part that cannot be seen has no checks; that too starts it again.
    inspection
        .out_of_sight(0, true)
        .expect("the piece is there");
    assert_eq!(looking.step(&mut inspection, seen), Progress::Outdated);
    looking.start(&mut inspection).expect("room enough");
    while looking.step(&mut inspection, seen) == Progress::More {}
    assert!(looking.best().iter().all(|c| c.part != 0));
}

#[test]
fn too_little_memory_and_clashing_answers_are_said() {
    let mut dice = Dice::new(4);
    let model = rules(&mut dice);
    let built = build(&model, &|_| String::new()).expect("builds");
    let pack = built.bytes.open().expect("opens");
    let root = (0..pack.places())
        .find(|&p| built.places.owner(p).is_none())
        .expect("a piece");
    let mut room = Room::<UFloat>::default();
    let mut inspection = room
        .inspection(pack, root, |_, _, place| pack.place(place).usual)
        .expect("the usual counts are allowed");
    let need = Need::of(inspection.pack(), inspection.piece());
    let mut memory = Memory::of(&inspection);
    let mut looking = Looking::new(&mut memory.candidates, &mut memory.numbers[1..]);
    assert_eq!(
        looking.start(&mut inspection),
        Err(NotStarted::TooSmall(need))
    );
    assert_eq!(looking.step(&mut inspection, |_, _| ()), Progress::Outdated);
}
