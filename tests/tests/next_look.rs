//! What a check is worth, against asking it: each answer given in turn, every
//! chance worked out anew, the losses added up.

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::room::Room;
use tellmark_core::inspection::Inspection;
use tellmark_core::number::Number;
use tellmark_core::pack::Form;
use tellmark_core::piece::Answer;
use tellmark_job::advice::{Check, next};
use tellmark_job::house::standard;
use tellmark_language::model::{Asks, Nature, StateId};
use tellmark_language::read;
use tellmark_tests::said::with_found;

/// The standard rules, with gauges that are never out: what a check is worth is
/// reckoned for readings clear of every mark.
fn rules() -> Checked {
    let mut reading = read(standard());
    for sign in &mut reading.model.signs {
        if let Asks::HowMuch { gauge, .. } = &mut sign.asks {
            *gauge = 0;
        }
    }
    check(reading, Depth::Build)
}

/// What a fault costs: missed, and planned for nothing, in minutes.
fn costs(checked: &Checked, state: StateId) -> Option<(f64, f64)> {
    let model = &checked.reading.model;
    let Nature::Hidden { missed: Some(m) } = model.states[state.index()].nature else {
        return None;
    };
    let risk = [0.0, 30.0, 120.0, 480.0, 2_400.0][usize::from(m.risk) - 1];
    let mends = model.jobs.iter().filter(|j| j.mends.contains(&state));
    let needless = mends
        .filter_map(|j| j.takes.map(|t| f64::from(t.mostly)))
        .fold(f64::INFINITY, f64::min);
    let needless = if needless.is_finite() { needless } else { 60.0 };
    Some((f64::from(m.minutes) + risk, needless))
}

/// The losses of all faults together.
fn loss<N: Number>(checked: &Checked, inspection: &mut Inspection<'_, '_, N>) -> f64 {
    let built = checked.built.as_ref().expect("built");
    let pack = *inspection.pack();
    let mut sum = 0.0;
    for part in 0..inspection.piece().parts().len() {
        let place = usize::from(inspection.piece().parts()[part].place);
        for number in pack.states_of(place) {
            let row = &built.states.states[usize::from(number)];
            let Some((missed, needless)) = row.declared.and_then(|s| costs(checked, s)) else {
                continue;
            };
            let p = inspection.chance(part, number).expect("no clash").as_f64();
            sum += f64::min(p * missed, (1.0 - p) * needless);
        }
    }
    sum
}

fn agree(checked: &Checked, piece: &str, found: &[&str], sample: usize) -> usize {
    with_found(checked, piece, found, |set_up, _| {
        let pack = set_up.built.bytes.open().expect("opens");
        let checks = next(set_up, pack).expect("set up").expect("no clash");
        assert!(checks.len() > sample);
        let mut room = Room::<f64>::default();
        let mut case = set_up.case(pack, &mut room).expect("set up");
        let now = loss(checked, &mut case.inspection);
        let mut compared = 0;
        let step = (checks.len() / sample).max(1);
        for check in checks.iter().step_by(step) {
            let saves = by_asking(checked, &mut case.inspection, check, now);
            let off = (saves - check.saves).abs();
            assert!(
                off < 0.02 + 1e-4 * saves,
                "{}: {saves} by asking, {} worked out",
                check.words,
                check.saves
            );
            compared += 1;
        }
        compared
    })
}

/// The expected loss is worked out over the answers that a check can have; the
/// chance of an answer comes from the state it is about.
fn by_asking(
    checked: &Checked,
    inspection: &mut Inspection<'_, '_, f64>,
    check: &Check,
    now: f64,
) -> f64 {
    let built = checked.built.as_ref().expect("built");
    let pack = *inspection.pack();
    let number = built.states.ask(check.sign);
    let ask = usize::from(number);
    let slip = f64::from(pack.ask(ask).slip) / 1000.0;
    let place = usize::from(inspection.piece().parts()[check.part].place);
    let mut after = 0.0;
    let answers: Vec<(Answer, f64)> = match &checked.reading.model.signs[check.sign.index()].asks {
        Asks::Whether(state) => {
            let slot = pack
                .state_slot(
                    place,
                    u16::try_from(built.states.declared(*state)).expect("few"),
                )
                .expect("its own");
            let (no, yes) = inspection.weights(check.part, slot).expect("no clash");
            let p = yes / (no + yes);
            let says_yes = p * (1.0 - slip) + (1.0 - p) * slip;
            vec![
                (Answer::Seen(true), says_yes),
                (Answer::Seen(false), 1.0 - says_yes),
            ]
        }
        _ => {
            // Every reading between two marks says the same: one for each band,
            // with the chance that all its states agree.
            let Form::HowMuch { least, most, .. } = pack.ask(ask).form else {
                return check.saves;
            };
            let mut cuts = vec![least];
            for row in built
                .states
                .states
                .iter()
                .filter(|r| r.ask == number && r.in_use)
            {
                if let tellmark_core::pack::Trial::Within(from, to) = row.trial {
                    cuts.extend([from, to.saturating_add(1)]);
                }
            }
            cuts.retain(|c| (least..=most).contains(c));
            cuts.sort_unstable();
            cuts.dedup();
            cuts.iter()
                .map(|&reading| {
                    let chance = band(checked, inspection, check.part, ask, reading);
                    (Answer::Reading(reading), chance)
                })
                .collect()
        }
    };
    let total: f64 = answers.iter().map(|(_, p)| p).sum();
    assert!((total - 1.0).abs() < 1e-6, "{}: {total}", check.words);
    for (answer, chance) in answers {
        if chance > 0.0 {
            inspection
                .answer(check.part, number, answer)
                .expect("it can be answered so");
            after += chance * loss(checked, inspection);
            inspection
                .answer(check.part, number, Answer::NotLooked)
                .expect("it can be answered so");
        }
    }
    now - after
}

/// The chance that a measure lies in the band of this reading: every mark is
/// passed or not as the reading says, multiplied out one after the other.
fn band(
    checked: &Checked,
    inspection: &mut Inspection<'_, '_, f64>,
    part: usize,
    ask: usize,
    reading: i32,
) -> f64 {
    let built = checked.built.as_ref().expect("built");
    let pack = *inspection.pack();
    let place = usize::from(inspection.piece().parts()[part].place);
    // Marks on one measure imply each other, so that the band is a difference.
    let mut inside = 1.0_f64;
    let mut outside = 0.0_f64;
    for (row, state) in built.states.states.iter().enumerate() {
        if usize::from(state.ask) != ask || !state.in_use {
            continue;
        }
        let tellmark_core::pack::Trial::Within(from, to) = state.trial else {
            continue;
        };
        let slot = pack
            .state_slot(place, u16::try_from(row).expect("few"))
            .expect("its own");
        let (no, yes) = inspection.weights(part, slot).expect("no clash");
        let p = yes / (no + yes);
        if from <= reading && reading <= to {
            inside = inside.min(p);
        } else {
            outside = outside.max(p);
        }
    }
    inside - outside
}

#[test]
fn a_check_saves_what_asking_it_saves() {
    let checked = rules();
    let chest = [
        "drawer 2 is sitting low",
        "the piece is kept near heating",
        "drawer 3 looks creaking",
        "left runner of drawer 2 is worn 3 mm",
        "the back shows daylight",
    ];
    let mut compared = agree(&checked, "chest of drawers with 3 drawers", &chest, 40);
    let table = ["left leaf is sagging"];
    compared += agree(&checked, "drop-leaf table", &table, 30);
    println!("{compared} checks compared");
    assert!(compared >= 70);
}
