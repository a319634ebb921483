//! Reasons: what has nothing to do with a fault moves nothing, and the checks that are
//! named move it as far as is said.

use tellmark_compile::build;
use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::ground::{Ground, SentenceId};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::Origin;
use tellmark_core::inspection::Inspection;
use tellmark_core::logic::can_be;
use tellmark_core::looking::{Candidate, Looking, Move, Need};
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::{Form, Pack};
use tellmark_core::piece::Answer;
use tellmark_job::advice::{Why, why};
use tellmark_language::{SourceFile, read};
use tellmark_tests::dice::Dice;
use tellmark_tests::random::RandomRules;
use tellmark_tests::said::with_found;

/// Damp racks a chest, and a racked chest gapes. So does a rotten one, which is musty.
/// Stains have nothing to do with either.
const RULES: &str = "
House rules for reasons, version 1.
Pieces: chest.
Source house: our own notes.
You can ask whether a chest is damp.  On its own: in 2 of 10 cases
You can see whether a chest is gaping.  On its own: in 5 of 100 cases
You can smell whether a chest is musty.  On its own: in 5 of 100 cases
You can see whether a chest is stained.  On its own: in 3 of 10 cases
A chest may be racked without showing it.  On its own: in 5 of 100 cases
A chest may be rotten without showing it.  On its own: in 10 of 100 cases
A chest may be spoilt without showing it.  On its own: in 10 of 100 cases
If a chest is damp then it is racked in 5 of 10 cases.  From: house
If a chest is racked then it is gaping in 8 of 10 cases.  From: house
If a chest is rotten then it is gaping in 8 of 10 cases.  From: house
If a chest is rotten then it is musty in 9 of 10 cases.  From: house
If a chest is spoilt then it is stained in 9 of 10 cases.  From: house
";

fn rules() -> Checked {
    let file = SourceFile {
        name: "why.rules.txt".to_owned(),
        text: RULES.to_owned(),
        standard: false,
    };
    check(read(vec![file]), Depth::Build)
}

/// Why a chest is racked, with these findings.
fn why_racked(checked: &Checked, found: &[&str]) -> Why {
    with_found(checked, "chest", found, |set_up, reader| {
        let pack = set_up.built.bytes.open().expect("a fresh pack opens");
        let (_, state) = reader.state("the chest is racked").expect("a fault");
        why(set_up, pack, 0, state)
            .expect("it can be set up")
            .expect("no clash")
    })
}

fn facts_that_weigh(why: &Why) -> Vec<usize> {
    let facts = why.weights.iter().filter_map(|w| match w.from {
        Origin::Fact(fact) => Some(fact),
        _ => None,
    });
    let mut facts: Vec<usize> = facts.collect();
    facts.sort_unstable();
    facts
}

fn checks(why: &Why) -> Vec<&str> {
    let mut checks: Vec<&str> = why.next.iter().map(|look| look.check.as_str()).collect();
    checks.sort_unstable();
    checks
}

#[test]
fn what_is_separated_moves_nothing() {
    let checked = rules();
    // Two causes of what nobody has looked at say nothing of each other.
    let why = why_racked(&checked, &["the chest is musty", "the chest is stained"]);
    assert!(facts_that_weigh(&why).is_empty(), "{:?}", why.weights);
    assert_eq!(
        checks(&why),
        [
            "ask whether the chest is damp",
            "see whether the chest is gaping"
        ]
    );
    assert!((why.chance - why.before).abs() < 1e-6);
}

#[test]
fn what_was_found_joins_its_causes() {
    let checked = rules();
    let found = [
        "the chest is gaping",
        "the chest is musty",
        "the chest is stained",
    ];
    let why = why_racked(&checked, &found);
    assert_eq!(facts_that_weigh(&why), [0, 1]);
    let of = |fact: usize| {
        let mut weights = why.weights.iter();
        weights
            .find(|w| w.from == Origin::Fact(fact))
            .expect("it weighs")
    };
    assert!(of(0).decibans > 0.0, "a racked chest gapes");
    assert!(of(1).decibans < 0.0, "rot explains it as well");
    // From the smell to rot, to the gap, to the rack.
    let lines: Vec<SentenceId> = of(1).sentences.clone();
    assert_eq!(
        lines,
        [
            SentenceId::Rule(1),
            SentenceId::Rule(2),
            SentenceId::Rule(3)
        ]
    );
    assert_eq!(why.rivals.len(), 1);
    assert_eq!(checks(&why), ["ask whether the chest is damp"]);
    let gaping_only = why_racked(&checked, &found[..1]);
    let both = [
        "ask whether the chest is damp",
        "smell whether the chest is musty",
    ];
    assert_eq!(checks(&gaping_only), both);
}

/// Every check that can move a state, by its part and ask.
fn moves<N: Number>(
    inspection: &mut Inspection<'_, '_, N>,
    part: usize,
    slot: usize,
) -> Vec<(usize, u16, Move)> {
    let need = Need::of(inspection.pack(), inspection.piece());
    let mut candidates = vec![Candidate::default(); need.candidates];
    let mut numbers = vec![N::ZERO; need.numbers];
    let mut looking = Looking::new(&mut candidates, &mut numbers);
    let mut found = Vec::new();
    looking
        .moves(inspection, (part, slot), |check, moves| {
            found.push((usize::from(check.part), check.ask, moves));
        })
        .expect("room enough, and no clash");
    found
}

/// How far a yes/no check is expected to move a chance: by asking both ways.
fn by_asking<N: Number>(
    inspection: &mut Inspection<'_, '_, N>,
    (part, ask): (usize, u16),
    decides: (usize, u16),
    (of, state): (usize, u16),
) -> f64 {
    let pack = *inspection.pack();
    let slip = f64::from(pack.ask(usize::from(ask)).slip) / 1000.0;
    let now = inspection.chance(of, state).expect("no clash").as_f64();
    let so = inspection
        .chance(decides.0, decides.1)
        .expect("no clash")
        .as_f64();
    let yes = so * (1.0 - slip) + (1.0 - so) * slip;
    let mut expected = 0.0;
    for (answer, chance) in [(true, yes), (false, 1.0 - yes)] {
        inspection
            .answer(part, ask, Answer::Seen(answer))
            .expect("it is asked");
        // What cannot be answered has no chance.
        if let Ok(after) = inspection.chance(of, state) {
            expected += chance * (after.as_f64() - now).abs();
        }
    }
    inspection
        .answer(part, ask, Answer::NotLooked)
        .expect("it is asked");
    expected
}

/// The states that what is known of some others leaves joined to this one (d-separation),
/// by walking over every way.
fn joined(ground: &Ground, from: usize, is_known: &[bool]) -> Vec<bool> {
    let many = ground.states.len();
    let mut causes = vec![Vec::new(); many];
    let mut effects = vec![Vec::new(); many];
    for (effect, state) in ground.states.iter().enumerate() {
        for cause in &state.causes {
            cause.when.states(&mut |cause| {
                causes[effect].push(cause);
                effects[cause].push(effect);
            });
        }
    }
    let mut tells = is_known.to_vec();
    for _ in 0..many {
        for state in 0..many {
            let below = effects[state].iter().any(|&effect| tells[effect]);
            tells[state] |= below;
        }
    }
    // A stop, and whether it was come to from an effect.
    let mut seen = vec![[false; 2]; many];
    let mut open = vec![(from, true)];
    while let Some((at, from_below)) = open.pop() {
        if std::mem::replace(&mut seen[at][usize::from(from_below)], true) {
            continue;
        }
        // Answers leave room for a slip, so that what is known does not block.
        if from_below || tells[at] {
            open.extend(causes[at].iter().map(|&cause| (cause, true)));
        }
        open.extend(effects[at].iter().map(|&effect| (effect, false)));
    }
    seen.iter().map(|seen| seen[0] || seen[1]).collect()
}

fn answer_some(dice: &mut Dice, inspection: &mut Inspection<'_, '_, UFloat>, pack: &Pack<'_>) {
    for _ in 0..dice.below(4) {
        let part = dice.below(inspection.piece().parts().len());
        let place = usize::from(inspection.piece().parts()[part].place);
        let whether = |ask: &u16| pack.ask(usize::from(*ask)).form == Form::Whether;
        let asks: Vec<u16> = pack.asks_of(place).filter(whether).collect();
        if !asks.is_empty() {
            let answer = Answer::Seen(dice.chance(50));
            let ask = *dice.pick(&asks);
            inspection.answer(part, ask, answer).expect("it is asked");
        }
    }
}

#[test]
fn checks_move_a_chance_as_far_as_asking_does() {
    const CASES: usize = 300;
    let (mut cases, mut seed) = (0, 0);
    let (mut compared, mut separated) = (0, 0);
    while cases < CASES {
        seed += 1;
        let mut dice = Dice::new(seed);
        let model = RandomRules::draw(&mut dice).model;
        let Ok(built) = build(&model, &|_| String::new()) else {
            continue;
        };
        let pack = built.bytes.open().expect("a fresh pack opens");
        let root = pack.root_of(1).expect("a box");
        let mut room = Room::<UFloat>::default();
        let mut inspection = room
            .inspection(pack, root, |_, _, place| pack.place(place).usual)
            .expect("the usual piece");
        answer_some(&mut dice, &mut inspection, &pack);
        if inspection.settle().is_err() {
            continue;
        }
        cases += 1;
        let ground = built.ground(&model, root, |_, _, place| pack.place(place).usual);
        let is_known: Vec<bool> = ground
            .states
            .iter()
            .map(|state| {
                let row = &built.states.states[state.row];
                let mut asks = std::iter::once(row.ask).chain(row.whether);
                asks.any(|ask| {
                    let answer = inspection.piece().answer(&pack, state.part, ask);
                    answer.is_some_and(Answer::says_something)
                })
            })
            .collect();
        let part = dice.below(inspection.piece().parts().len());
        let place = usize::from(inspection.piece().parts()[part].place);
        for (slot, state) in pack.states_of(place).enumerate() {
            let node = ground.state(part, slot);
            if !ground.states[node].in_use {
                continue;
            }
            let found = moves(&mut inspection, part, slot);
            let joined = joined(&ground, node, &is_known);
            for (other, of_other) in ground.states.iter().enumerate() {
                let row = &built.states.states[of_other.row];
                let at = (of_other.part, row.ask);
                let answer = inspection.piece().answer(&pack, at.0, at.1);
                let is_whether = pack.ask(usize::from(row.ask)).form == Form::Whether;
                let is_hidden = row
                    .declared
                    .is_none_or(|d| built.states.opened(d).is_some());
                if !is_whether || is_hidden || !of_other.in_use || answer != Some(Answer::NotLooked)
                {
                    continue;
                }
                // Nobody is asked about what cannot be.
                if !can_be(&pack, inspection.piece(), at.0, at.1) {
                    continue;
                }
                let mut same = found.iter().filter(|(p, a, _)| (*p, *a) == at);
                let ours = same.next().map_or(0.0, |(.., m)| m.expected.as_f64());
                let number = built.states.number(row.declared.expect("declared"));
                let wanted = by_asking(&mut inspection, at, (at.0, number), (part, state));
                let about = format!("case {seed}: state {slot} of {part}, ask {at:?}");
                assert!((ours - wanted).abs() < 4e-6, "{about}: {ours} {wanted}");
                compared += 1;
                if !joined[other] {
                    assert!(ours < 4e-6, "{about}: separated, and moves it by {ours}");
                    separated += 1;
                }
            }
        }
    }
    println!("{compared} checks compared, {separated} of them separated");
    assert!(compared > 1_000 && separated > 100);
}
