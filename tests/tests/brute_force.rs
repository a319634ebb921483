//! Every chance of random rules over random pieces against the enumeration of
//! all worlds.

use tellmark_compile::ground::{Ground, GroundPart};
use tellmark_compile::meaning::tests;
use tellmark_compile::room::Room;
use tellmark_compile::{Built, StateRow, build};
use tellmark_core::inspection::Inspection;
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::{Form, Nature, Pack, Trial, Way};
use tellmark_core::piece::{Answer, Eye, Judged, Part, Than};
use tellmark_language::model::{Model, Reach};
use tellmark_tests::dice::Dice;
use tellmark_tests::random::RandomRules;
use tellmark_tests::worlds::posteriors;

const CASES: usize = 2_500;
/// States in use that are still quick to enumerate.
const MOST_STATES: usize = 13;

/// How many parts each owner gets, the same for the core and the ground network:
/// worked out from the owner's index and the place alone.
fn count(seed: u64, owner: usize, place: usize, least: u8, most: u8) -> u8 {
    let mut dice = Dice::new(seed ^ ((owner as u64) << 32) ^ place as u64);
    let span = usize::from(most - least) + 1;
    least + u8::try_from(dice.below(span)).unwrap_or(0)
}

struct Case {
    built: Built,
    ground: Ground,
    root: usize,
    seed: u64,
    /// Whether a rule reads or concludes something of the others, or of those at a place.
    beside: (bool, bool),
}

fn draw(dice: &mut Dice) -> Option<Case> {
    let mut rules = RandomRules::draw(dice);
    if dice.chance(40) {
        rules.add_means(dice);
    }
    if dice.chance(30) {
        rules.add_degrees(dice);
    }
    if dice.chance(30) {
        rules.add_places(dice);
    }
    let built = build(&rules.model, &|_| String::new()).ok()?;
    let seed = dice.roll();
    let root = (0..built.places.len()).find(|&p| built.places.owner(p).is_none())?;
    let limits = |place: usize| {
        let member = built.places.get(place).member.as_ref();
        member.map_or((1, 1), |m| (m.least, m.most))
    };
    let ground = built.ground(&rules.model, root, |_: &[GroundPart], owner, place| {
        let (least, most) = limits(place);
        count(seed, owner, place, least, most)
    });
    let used = ground.states.iter().filter(|s| s.in_use).count();
    (2..=MOST_STATES).contains(&used).then_some(Case {
        built,
        ground,
        root,
        seed,
        beside: speaks_of_places(&rules.model),
    })
}

fn speaks_of_places(model: &Model) -> (bool, bool) {
    let (mut others, mut placed) = (false, false);
    for rule in &model.rules {
        let mut reach = |reach: &Reach| {
            others |= matches!(reach, Reach::Others { .. });
            placed |= matches!(reach, Reach::Down { only: Some(_), .. });
        };
        reach(&rule.result);
        for condition in std::iter::once(&rule.when).chain(&rule.unless) {
            tests(condition, &mut |test| reach(&test.whose));
        }
    }
    (others, placed)
}

impl Case {
    fn inspection<'m, N: Number>(
        &self,
        pack: Pack<'m>,
        room: &'m mut Room<N>,
    ) -> Inspection<'m, 'm, N> {
        room.inspection(pack, self.root, |_: &[Part], owner, place| {
            let record = pack.place(place);
            count(self.seed, owner, place, record.least, record.most)
        })
        .expect("the counts are within bounds")
    }

    /// A random answer to a random ask.
    fn answer(&self, dice: &mut Dice, pack: &Pack<'_>) -> (usize, u16, Answer) {
        let part = dice.below(self.ground.parts.len());
        let asks: Vec<u16> = pack.asks_of(self.ground.parts[part].place).collect();
        if asks.is_empty() {
            return self.answer(dice, pack);
        }
        let ask = *dice.pick(&asks);
        if pack.ask(usize::from(ask)).way == Way::WorkOut {
            return self.answer(dice, pack);
        }
        let yes = dice.chance(50);
        let answer = match pack.ask(usize::from(ask)).form {
            Form::Whether => match dice.below(6) {
                0 => Answer::NotLooked,
                1 => Answer::CannotSee,
                2 => Answer::Looks(yes),
                3 => Answer::Certain(yes),
                _ => Answer::Seen(yes),
            },
            Form::Which { values, .. } => {
                Answer::Value(u8::try_from(dice.below(usize::from(values))).unwrap_or(0))
            }
            Form::Degrees { values, .. } => judgement(dice, values),
            Form::HowMuch { .. } => Answer::Reading(i32::try_from(dice.below(100)).unwrap_or(0)),
            Form::HowMany { .. } => Answer::Reading(i32::try_from(dice.below(4)).unwrap_or(0)),
        };
        (part, ask, answer)
    }

    /// What was answered to an ask of a part, the last time.
    fn answered(answers: &[(usize, u16, Answer)], part: usize, ask: u16) -> Answer {
        let mut last = answers.iter().rev();
        let given = last.find(|(p, a, _)| *p == part && *a == ask);
        given.map_or(Answer::NotLooked, |given| given.2)
    }

    /// How likely the answers are that are about one state each, worked out apart from
    /// the core's own way.
    fn likelihoods(&self, answers: &[(usize, u16, Answer)]) -> Vec<(f64, f64)> {
        let sides = |yes: bool, against: f64| {
            if yes {
                (against, 1.0 - against)
            } else {
                (1.0 - against, against)
            }
        };
        let whether = |answer: Answer| match answer {
            Answer::Seen(yes) => sides(yes, 0.01),
            Answer::Looks(yes) => sides(yes, 0.2),
            Answer::Certain(yes) => sides(yes, 0.0),
            _ => (1.0, 1.0),
        };
        self.ground
            .states
            .iter()
            .map(|state| {
                let row = &self.built.states.states[state.row];
                let ask = match row.trial {
                    Trial::Yes => Some(row.ask),
                    _ => row.whether,
                };
                ask.map_or((1.0, 1.0), |ask| {
                    whether(Self::answered(answers, state.part, ask))
                })
            })
            .collect()
    }

    /// How likely the readings and choices are in a world, each of which is about
    /// several states.
    fn jointly(
        &self,
        pack: &Pack<'_>,
        answers: &[(usize, u16, Answer)],
        holds: &dyn Fn(usize) -> bool,
    ) -> f64 {
        let mut likely = 1.0;
        for (part, record) in self.ground.parts.iter().enumerate() {
            for ask in pack.asks_of(record.place) {
                likely *= match Self::answered(answers, part, ask) {
                    Answer::Reading(reading) => self.reading(pack, (part, ask), reading, holds),
                    Answer::Value(value) => self.value(pack, (part, ask), value, holds),
                    _ => 1.0,
                };
            }
        }
        likely
    }

    /// The states in use that an ask of a part decides: each by its number, with its
    /// trial.
    fn decided(&self, (part, ask): (usize, u16)) -> Vec<(usize, Trial)> {
        let states = self.ground.states.iter().enumerate();
        states
            .filter(|(_, state)| state.part == part && state.in_use)
            .map(|(number, state)| (number, &self.built.states.states[state.row]))
            .filter(|(_, row)| row.ask == ask)
            .map(|(number, row)| (number, row.trial))
            .collect()
    }

    /// How likely a reading is in a world: the true value lies evenly in its stretch
    /// between two names, and the gauge is out by a normal error.
    fn reading(
        &self,
        pack: &Pack<'_>,
        at: (usize, u16),
        reading: i32,
        holds: &dyn Fn(usize) -> bool,
    ) -> f64 {
        let decided = self.decided(at);
        let gauge = match pack.ask(usize::from(at.1)).form {
            Form::HowMuch { gauge, .. } => gauge,
            _ => 0,
        };
        if gauge == 0 {
            let agrees = |&(state, trial): &(usize, Trial)| match trial {
                Trial::Within(from, to) => holds(state) == (from <= reading && reading <= to),
                _ => true,
            };
            return f64::from(u8::from(decided.iter().all(agrees)));
        }
        // Towards less, as in a mirror.
        let is_less = self.is_less(at.1);
        let reading = if is_less { -reading } else { reading };
        // The mark just below the true value, and the one just above it.
        let marks = decided
            .iter()
            .filter_map(|&(state, trial)| Some((mark(is_less, trial)?, holds(state))));
        let marks: Vec<(i32, bool)> = marks.collect();
        let is_in_order = |a: &(i32, bool), b: &(i32, bool)| a.0 > b.0 || a.1 || !b.1;
        if !marks
            .iter()
            .all(|a| marks.iter().all(|b| is_in_order(a, b)))
        {
            return 0.0;
        }
        let below = marks.iter().filter(|m| m.1).map(|m| m.0).max();
        let above = marks.iter().filter(|m| !m.1).map(|m| m.0).min();
        let share = self.band(at, below, above);
        let sides = |mark: Option<i32>, without: f64| {
            mark.map_or(without, |mark| {
                normal(f64::from(mark - reading) / f64::from(gauge))
            })
        };
        (sides(above, 1.0) - sides(below, 0.0)) / share
    }

    /// The share that a band between two marks has of its stretch, which goes from one
    /// mark that a rule concludes up to the next.
    fn band(&self, at: (usize, u16), below: Option<i32>, above: Option<i32>) -> f64 {
        let is_less = self.is_less(at.1);
        let (least, top) = if is_less { (-100, 1) } else { (0, 101) };
        let rows = self.built.states.states.iter();
        let marks = rows
            .filter(|row| row.ask == at.1)
            .filter_map(|row| Some((mark(is_less, row.trial)?, row)));
        let marks: Vec<_> = marks.collect();
        let is_level = |row: &StateRow| row.nature == Nature::Mark;
        let levels = || marks.iter().filter(|(_, row)| is_level(row));
        let start = levels()
            .filter(|m| below.is_some_and(|b| m.0 <= b))
            .max_by_key(|m| m.0);
        let end = levels()
            .filter(|m| above.is_some_and(|a| m.0 >= a))
            .min_by_key(|m| m.0);
        let (most, rest) = (
            start.map_or(1.0, |m| m.1.alone),
            end.map_or(0.0, |m| m.1.alone),
        );
        let top = end.map_or(top, |m| m.0);
        let names = marks.iter().filter(|(from, row)| {
            let inside = start.is_none_or(|s| *from > s.0) && *from < top;
            row.declared.is_some() && inside
        });
        let names: Vec<_> = names.collect();
        let thousandths = |share: f64| (share * 1000.0).round() / 1000.0;
        let of = |chance: f64| ((chance - rest) / (most - rest)).clamp(0.0, 1.0);
        // How much of the stretch lies above: at its ends, and at every name between.
        let mut known = vec![(top, 0.0)];
        for name in &names {
            known.push((name.0, thousandths(of(name.1.alone)).max(0.001)));
        }
        match start {
            Some(start) => known.push((start.0, 1.0)),
            None => {
                let lowest = names.iter().copied().min_by_key(|m| m.0).or(end);
                let even = lowest.map_or(0.0, |m| m.1.alone * 101.0 / f64::from(least + 101 - m.0));
                let more = names.len();
                #[allow(clippy::cast_precision_loss)]
                let not_least = thousandths(of(f64::max(0.15, even)));
                known.push((least, not_least.clamp(0.001 * (more + 1) as f64, 0.999)));
            }
        }
        known.sort_by_key(|known| known.0);
        let above_mark = |mark: i32| {
            let at = known
                .iter()
                .position(|k| mark < k.0)
                .unwrap_or(known.len() - 1);
            let (low, high) = (known[at - 1], known[at]);
            let of_it = f64::from(high.0 - mark) / f64::from(high.0 - low.0);
            high.1 + (low.1 - high.1) * of_it
        };
        let highest = above.map_or(0.0, |a| if a == top { 0.0 } else { above_mark(a) });
        below.map_or(1.0, above_mark) - highest
    }

    /// Whether the marks of a measure are passed towards less.
    fn is_less(&self, ask: u16) -> bool {
        let mut rows = self.built.states.states.iter();
        rows.any(|row| {
            let is_measure = row.verb.is_some();
            row.ask == ask && is_measure && matches!(row.trial, Trial::Within(i32::MIN, _))
        })
    }

    /// How likely a judgement is in a world, from the degree that is so there. A degree is
    /// given for another with a chance that falls by the same factor for each step between
    /// them, so that in all it is wrong as often as the slip says, half of it too high;
    /// what would be beyond an end is given as that end.
    fn degree(
        &self,
        pack: &Pack<'_>,
        at: (usize, u16),
        (value, values): (u8, u16),
        holds: &dyn Fn(usize) -> bool,
    ) -> f64 {
        let decided = self.decided(at);
        if decided.is_empty() {
            return 1.0;
        }
        assert_eq!(
            decided.len() + 1,
            usize::from(values),
            "every degree is there"
        );
        let so = |degree: i32| {
            let is_it = |(_, trial): &&(usize, Trial)| *trial == Trial::Within(degree, i32::MAX);
            holds(decided.iter().find(is_it).expect("it is there").0)
        };
        let highest = i32::from(values) - 1;
        let degree = (1..=highest).filter(|&degree| so(degree)).count();
        let degree = i32::try_from(degree).unwrap_or(0);
        if degree > 0 && !so(degree) {
            // A higher degree without a lower one: there is no such world.
            return 0.0;
        }
        let judged = Judged::of(value).expect("a judgement");
        let said = i32::from(judged.degree);
        let slip = f64::from(pack.ask(usize::from(at.1)).slip) / 1000.0;
        let (wrong, step) = match judged.eye {
            Eye::Ordinary => (slip, slip / (2.0 - slip)),
            Eye::Looks => (0.4, 0.25),
            Eye::Certain => (0.0, 0.0),
        };
        match judged.than {
            Than::Just => {
                let falls = f64::powi(step, (said - degree).abs());
                let is_end = said == 0 || said == highest;
                falls
                    * if is_end {
                        1.0 - wrong / 2.0
                    } else {
                        1.0 - wrong
                    }
            }
            Than::AtLeast if degree >= said => 1.0 - wrong / 2.0,
            Than::LessThan if degree < said => 1.0 - wrong / 2.0,
            Than::AtLeast | Than::LessThan => wrong / 2.0,
        }
    }

    /// How likely a choice is in a world: right unless it is a slip, which falls on the
    /// other values alike.
    fn value(
        &self,
        pack: &Pack<'_>,
        at: (usize, u16),
        value: u8,
        holds: &dyn Fn(usize) -> bool,
    ) -> f64 {
        if let Form::Degrees { values, .. } = pack.ask(usize::from(at.1)).form {
            return self.degree(pack, at, (value, values), holds);
        }
        let Form::Which { values, .. } = pack.ask(usize::from(at.1)).form else {
            return 1.0;
        };
        let decided = self.decided(at);
        let slip = f64::from(pack.ask(usize::from(at.1)).slip) / 1000.0;
        let given_truth = |truth: u8| {
            if truth == value {
                1.0 - slip
            } else {
                slip / f64::from(values - 1)
            }
        };
        let meant = |trial: &Trial| match trial {
            Trial::Value(value) => Some(*value),
            _ => None,
        };
        let is_so = decided.iter().find(|(state, _)| holds(*state));
        if let Some((_, trial)) = is_so {
            return meant(trial).map_or(1.0, given_truth);
        }
        // One of the values that no state is about, each as likely as the next.
        let is_about = |v: &u8| decided.iter().any(|(_, trial)| meant(trial) == Some(*v));
        let others: Vec<u8> = (0..u8::try_from(values).unwrap_or(u8::MAX))
            .filter(|v| !is_about(v))
            .collect();
        if others.is_empty() {
            return 0.0;
        }
        let sum: f64 = others.iter().map(|&v| given_truth(v)).sum();
        #[allow(clippy::cast_precision_loss)]
        let many = others.len() as f64;
        sum / many
    }
}

/// A random judgement of so many degrees.
fn judgement(dice: &mut Dice, values: u16) -> Answer {
    let degree = u8::try_from(dice.below(usize::from(values))).unwrap_or(0);
    let than = match degree {
        0 => Than::Just,
        _ => *dice.pick(&[Than::Just, Than::Just, Than::AtLeast, Than::LessThan]),
    };
    let eye = *dice.pick(&[Eye::Ordinary, Eye::Ordinary, Eye::Looks, Eye::Certain]);
    Answer::Value(Judged { degree, than, eye }.value())
}

/// Where a mark stands; none for what follows from the others.
fn mark(is_less: bool, trial: Trial) -> Option<i32> {
    match (is_less, trial) {
        (false, Trial::Within(from, i32::MAX)) => Some(from),
        (true, Trial::Within(i32::MIN, to)) => Some(-to),
        _ => None,
    }
}

/// The normal distribution function, by the series of the error function near the mean
/// and the continued fraction of its complement in the tails (M. Abramowitz and I. A.
/// Stegun, Handbook of Mathematical Functions, 1964, 26.2.11 and 26.2.14).
fn normal(x: f64) -> f64 {
    let density = (-x * x / 2.0).exp() / std::f64::consts::TAU.sqrt();
    if x.abs() < 3.0 {
        let (mut term, mut sum) = (x, x);
        for n in 1..80 {
            term *= x * x / f64::from(2 * n + 1);
            sum += term;
        }
        0.5 + density * sum
    } else {
        let fraction = (1..200)
            .rev()
            .fold(x.abs(), |below, n| x.abs() + f64::from(n) / below);
        let tail = density / fraction;
        if x < 0.0 { tail } else { 1.0 - tail }
    }
}

#[derive(Default)]
struct Worst {
    exact: f64,
    gauge: f64,
    bench: f64,
}

fn compare(case: &Case, dice: &mut Dice, worst: &mut Worst, name: u64) -> usize {
    let pack = case.built.bytes.open().expect("a fresh pack opens");
    let mut exact_room = Room::<f64>::default();
    let mut bench_room = Room::<UFloat>::default();
    let mut exact = case.inspection(pack, &mut exact_room);
    let mut bench = case.inspection(pack, &mut bench_room);
    let mut answers = Vec::new();
    let mut impossible = 0;
    for round in 0..3 {
        for _ in 0..round * 2 {
            let given = case.answer(dice, &pack);
            exact
                .answer(given.0, given.1, given.2)
                .expect("it can be answered so");
            bench
                .answer(given.0, given.1, given.2)
                .expect("it can be answered so");
            answers.push(given);
            // Looking in between must not disturb what comes after.
            if dice.chance(30) {
                let _ = exact.weights(dice.below(case.ground.parts.len()), 0);
            }
        }
        let expected = posteriors(&case.ground, &case.likelihoods(&answers), &|holds| {
            case.jointly(&pack, &answers, holds)
        });
        let Some(expected) = expected else {
            assert!(exact.settle().is_err(), "case {name}: not seen to clash");
            assert!(bench.settle().is_err(), "case {name}: not seen to clash");
            impossible += 1;
            check_clash(&mut exact, name);
            break;
        };
        let is_gauge = |ask: u16| matches!(pack.ask(usize::from(ask)).form, Form::HowMuch { gauge, .. } if gauge > 0);
        let by_gauge = answers.iter().any(|&(_, ask, _)| is_gauge(ask));
        for part in 0..case.ground.parts.len() {
            let place = case.ground.parts[part].place;
            for slot in 0..pack.states_of(place).count() {
                let state = case.ground.state(part, slot);
                if !case.ground.states[state].in_use {
                    continue;
                }
                let (no, yes) = exact.weights(part, slot).expect("possible");
                let wrong = (yes / (no + yes) - expected[state]).abs();
                // What a gauge tells is kept to nine figures.
                let bound = if by_gauge { 2e-9 } else { 1e-12 };
                assert!(
                    wrong <= bound,
                    "case {name}: {} against {}",
                    yes / (no + yes),
                    expected[state]
                );
                let exact = if by_gauge {
                    &mut worst.gauge
                } else {
                    &mut worst.exact
                };
                *exact = exact.max(wrong);
                let (no, yes) = bench.weights(part, slot).expect("possible");
                let wrong = (UFloat::share(yes, no).as_f64() - expected[state]).abs();
                assert!(wrong <= 2e-6, "case {name}: off by {wrong} on the bench");
                worst.bench = worst.bench.max(wrong);
            }
        }
    }
    impossible
}

/// The group named in a clash really clashes, and no part of it does.
fn check_clash(inspection: &mut Inspection<'_, '_, f64>, name: u64) {
    let group = inspection.clash();
    assert!(!group.is_empty(), "case {name}: no group named");
    let all: Vec<(usize, u16, Answer)> = inspection
        .piece()
        .answered(&inspection.pack().clone())
        .collect();
    for (part, ask, _) in &all {
        inspection
            .answer(*part, *ask, Answer::NotLooked)
            .expect("it can be answered so");
    }
    for given in &group {
        inspection
            .answer(given.part, given.ask, given.answer)
            .expect("it can be answered so");
    }
    assert!(inspection.settle().is_err(), "case {name}: group agrees");
    for given in &group {
        inspection
            .answer(given.part, given.ask, Answer::NotLooked)
            .expect("it can be answered so");
        assert!(inspection.settle().is_ok(), "case {name}: group too large");
        inspection
            .answer(given.part, given.ask, given.answer)
            .expect("it can be answered so");
    }
}

#[test]
fn chances_agree_with_every_world() {
    let mut worst = Worst::default();
    let (mut cases, mut impossible, mut seed) = (0, 0, 0);
    let (mut others, mut placed) = (0, 0);
    while cases < CASES {
        seed += 1;
        let mut dice = Dice::new(seed);
        let Some(case) = draw(&mut dice) else {
            continue;
        };
        cases += 1;
        others += usize::from(case.beside.0);
        placed += usize::from(case.beside.1);
        impossible += compare(&case, &mut dice, &mut worst, seed);
    }
    println!(
        "{cases} cases, {impossible} with answers that clash; worst difference {:.1e} in f64, {:.1e} by a gauge, {:.1e} in u9.23",
        worst.exact, worst.gauge, worst.bench
    );
    assert!(impossible > 20, "clashes must come up too");
    assert!(others > 150 && placed > 150, "{others} and {placed} cases");
}
