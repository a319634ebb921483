//! Every chance of random rules over random pieces against the enumeration of
//! all worlds.

use tellmark_compile::ground::{Ground, GroundPart};
use tellmark_compile::room::Room;
use tellmark_compile::{Built, build};
use tellmark_core::inspection::Inspection;
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::{Form, Pack, Trial};
use tellmark_core::piece::{Answer, Part};
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
}

fn draw(dice: &mut Dice) -> Option<Case> {
    let mut rules = RandomRules::draw(dice);
    if dice.chance(40) {
        rules.add_means(dice);
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
    })
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
            Form::HowMuch { .. } => Answer::Reading(i32::try_from(dice.below(100)).unwrap_or(0)),
            Form::HowMany { .. } => Answer::Reading(i32::try_from(dice.below(4)).unwrap_or(0)),
        };
        (part, ask, answer)
    }

    /// How likely the answers are, worked out apart from the core's own way.
    fn likelihoods(&self, answers: &[(usize, u16, Answer)]) -> Vec<(f64, f64)> {
        let of = |part: usize, ask: u16| {
            let given = answers
                .iter()
                .rev()
                .find(|(p, a, _)| *p == part && *a == ask);
            given.map_or(Answer::NotLooked, |g| g.2)
        };
        let sides = |yes: bool, against: f64| if yes { (against, 1.0) } else { (1.0, against) };
        let whether = |answer: Answer| match answer {
            Answer::Seen(yes) => sides(yes, 0.01),
            Answer::Looks(yes) => sides(yes, 0.25),
            Answer::Certain(yes) => sides(yes, 0.0),
            _ => (1.0, 1.0),
        };
        self.ground
            .states
            .iter()
            .map(|state| {
                let row = &self.built.states.states[state.row];
                let by_ask = match (of(state.part, row.ask), row.trial) {
                    (Answer::Value(v), Trial::Value(meant)) => Some(sides(v == meant, 0.01)),
                    (Answer::Reading(x), Trial::Within(from, to)) => {
                        Some(sides(from <= x && x <= to, 0.0))
                    }
                    (answer, Trial::Yes) => Some(whether(answer)),
                    _ => None,
                };
                by_ask.unwrap_or_else(|| {
                    row.whether
                        .map_or((1.0, 1.0), |ask| whether(of(state.part, ask)))
                })
            })
            .collect()
    }
}

#[derive(Default)]
struct Worst {
    exact: f64,
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
        let expected = posteriors(&case.ground, &case.likelihoods(&answers));
        let Some(expected) = expected else {
            assert!(exact.settle().is_err(), "case {name}: not seen to clash");
            assert!(bench.settle().is_err(), "case {name}: not seen to clash");
            impossible += 1;
            check_clash(&mut exact, name);
            break;
        };
        for part in 0..case.ground.parts.len() {
            let place = case.ground.parts[part].place;
            for slot in 0..pack.states_of(place).count() {
                let state = case.ground.state(part, slot);
                if !case.ground.states[state].in_use {
                    continue;
                }
                let (no, yes) = exact.weights(part, slot).expect("possible");
                let wrong = (yes / (no + yes) - expected[state]).abs();
                assert!(
                    wrong <= 1e-12,
                    "case {name}: {} against {}",
                    yes / (no + yes),
                    expected[state]
                );
                worst.exact = worst.exact.max(wrong);
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
    while cases < CASES {
        seed += 1;
        let mut dice = Dice::new(seed);
        let Some(case) = draw(&mut dice) else {
            continue;
        };
        cases += 1;
        impossible += compare(&case, &mut dice, &mut worst, seed);
    }
    println!(
        "{cases} cases, {impossible} with answers that clash; worst difference {:.1e} in f64, {:.1e} in u9.23",
        worst.exact, worst.bench
    );
    assert!(impossible > 20, "clashes must come up too");
}
