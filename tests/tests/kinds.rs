//! Kinds of kinds: rules with them, against the same rules as somebody writes them who has
//! none; and what is said of one kind and of its general kind on one piece.

use std::collections::{BTreeMap, BTreeSet};

use tellmark_compile::check::Checked;
use tellmark_compile::ground::GroundPart;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{SetUp, part_ref};
use tellmark_core::inspection::Inspection;
use tellmark_core::number::UFloat;
use tellmark_job::advice::{Progress, date, next, quote};
use tellmark_language::words::part_name;
use tellmark_tests::dice::Dice;
use tellmark_tests::kinds::draw;
use tellmark_tests::said::{house, with_found};
use tellmark_tests::worlds::posteriors;

/// Everything that is worked out of a piece, in words.
#[derive(Debug, Default, PartialEq)]
struct Figures {
    /// The chance of what the house has words for.
    chances: BTreeMap<String, f64>,
    /// The chance of marks, counts and values without a name, as far as rules read them.
    marks: BTreeMap<String, f64>,
    /// Plans, cautions and datings that hold, or may.
    calls: BTreeSet<String>,
    /// Years of the piece and its parts.
    dates: String,
    /// What is worth looking at next, and what it saves.
    next: BTreeMap<String, f64>,
    /// Mean and deviation of the hours.
    hours: [f64; 2],
}

/// Stands for the chance of a state that no rule has to do with.
const UNUSED: f64 = -2.0;

/// What each part is called.
fn names<N: tellmark_core::number::Number>(
    set_up: &SetUp<'_>,
    inspection: &Inspection<'_, '_, N>,
) -> Vec<String> {
    let parts = inspection.piece().parts();
    let name = |part| part_name(set_up.model, &part_ref(&set_up.built.places, parts, part));
    (0..parts.len()).map(name).collect()
}

fn figures(checked: &Checked, piece: &str, found: &[&str]) -> Figures {
    with_found(checked, piece, found, |set_up, _| {
        let mut all = Figures::default();
        let pack = set_up.built.bytes.open().expect("it opens");
        let mut room = Room::<f64>::default();
        let mut case = set_up.case(pack, &mut room).expect("it fits");
        let names = names(set_up, &case.inspection);
        for (part, name) in names.iter().enumerate() {
            let place = usize::from(case.inspection.piece().parts()[part].place);
            for (slot, number) in pack.states_of(place).enumerate() {
                let row = &set_up.built.states.states[usize::from(number)];
                let weights = case.inspection.weights(part, slot);
                let chance = weights.map_or(-1.0, |(no, yes)| yes / (no + yes));
                let chance = if row.in_use { chance } else { UNUSED };
                let words = format!("{name}: {}", row.phrase);
                if row.declared.is_some() {
                    all.chances.insert(words, chance);
                } else if row.in_use {
                    all.marks.insert(words, chance);
                }
            }
        }
        let mut calls = Vec::new();
        case.inspection.plans(|call| {
            let job = pack.text(pack.job(usize::from(pack.plan(call.sentence).job)).name);
            calls.push((format!("plan to {job}"), call.part, call.truth));
        });
        case.inspection.cautions(|call| {
            let text = pack.text(pack.caution(call.sentence).text);
            calls.push((text.to_owned(), call.part, call.truth));
        });
        case.inspection.datings(|call| {
            let strength = pack.dating(call.sentence).strength;
            let later = matches!(
                pack.dating(call.sentence).bound,
                tellmark_core::pack::Bound::Later(_)
            );
            calls.push((format!("dated {strength} {later}"), call.part, call.truth));
        });
        let called = |(what, part, truth)| format!("{what}: {} {truth:?}", names[part]);
        all.calls = calls.into_iter().map(called).collect();
        let dated = date(set_up, pack, None, 1949).expect("it fits");
        all.dates = format!("{:?} {:?} {:?}", dated.made, dated.decades, dated.parts);
        for check in next(set_up, pack).expect("it fits").into_iter().flatten() {
            all.next.insert(check.words, check.saves);
        }
        if let Ok(quote) = quote(set_up, pack, &Progress::default()) {
            all.hours = [quote.mean, quote.deviation];
        }
        all
    })
}

fn assert_close(what: &str, one: &BTreeMap<String, f64>, other: &BTreeMap<String, f64>, off: f64) {
    for (words, chance) in one {
        // (A rule that can never hold is left out of the text without kinds, and what only
        // it leads to has then no rule at all.)
        if let Some(same) = other.get(words).filter(|same| **same != UNUSED) {
            assert!(
                (chance - same).abs() <= off * same.abs().max(1.0),
                "{what}, {words}: {chance}, {same}"
            );
        }
    }
}

/// Some findings on parts that a piece has when nothing is counted.
fn findings(dice: &mut Dice, checked: &Checked, piece: &str) -> Vec<String> {
    with_found(checked, piece, &[], |set_up, _| {
        let pack = set_up.built.bytes.open().expect("it opens");
        let mut room = Room::<UFloat>::default();
        let case = set_up.case(pack, &mut room).expect("it fits");
        let names = names(set_up, &case.inspection);
        let mut found = Vec::new();
        for (part, name) in names.iter().enumerate() {
            let place = usize::from(case.inspection.piece().parts()[part].place);
            for number in pack.states_of(place) {
                let row = &set_up.built.states.states[usize::from(number)];
                if row.declared.is_none() || !dice.chance(15) {
                    continue;
                }
                let verb = *dice.pick(&["is", "is not", "looks"]);
                found.push(format!("{name} {verb} {}", row.phrase));
            }
            for child in set_up.built.places.children(place) {
                let Some(member) = &set_up.built.places.get(child).member else {
                    continue;
                };
                let kind = &set_up.model.kinds[member.kind.index()];
                if member.least < member.most && dice.chance(20) {
                    let more = dice.below(usize::from(member.most - member.least) + 1);
                    match usize::from(member.least) + more {
                        0 => found.push(format!("{name} has no {}", kind.name)),
                        1 => found.push(format!("{name} has 1 {}", kind.name)),
                        n => found.push(format!("{name} has {n} {}", kind.plural)),
                    }
                }
            }
            if name.contains("foot") && dice.chance(20) {
                found.push(format!("{name} is worn {} mm", dice.below(12)));
            }
            if name.contains("drawer") && !name.contains("knob") && dice.chance(20) {
                let lining = dice.pick(&["pine", "oak", "cedar"]);
                found.push(format!("{name} is {lining}"));
            }
        }
        found
    })
}

/// Every chance, plan, caution, date, check and hour of rules with kinds is that of the same
/// rules written out for every kind.
#[test]
fn kinds_give_what_sentences_for_each_kind_give() {
    let (mut compared, mut found_all, mut with_hours) = (0, 0, 0);
    for seed in 0..120 {
        let texts = draw(seed);
        let (with, without) = (house(&texts.with), house(&texts.without));
        let messages = |checked: &Checked| -> Vec<String> {
            let all = checked.reading.messages.iter();
            let stop = all.filter(|m| m.level == tellmark_language::Level::Stop);
            stop.map(|m| m.text.clone()).collect()
        };
        if with.built.is_none() || without.built.is_none() {
            let both = with.built.is_none() && without.built.is_none();
            assert!(
                both,
                "{seed}: {:?}\n{:?}\n{}\n\n{}",
                messages(&with),
                messages(&without),
                texts.with,
                texts.without
            );
            continue;
        }
        let mut dice = Dice::new(seed + 1000);
        for piece in &texts.pieces {
            let found = findings(&mut dice, &with, piece);
            let found: Vec<&str> = found.iter().map(String::as_str).collect();
            found_all += found.len();
            let one = figures(&with, piece, &found);
            let other = figures(&without, piece, &found);
            let keys = |map: &BTreeMap<String, f64>| map.keys().cloned().collect::<Vec<_>>();
            let what = format!("{seed}, {piece} {found:?}");
            assert_eq!(keys(&one.chances), keys(&other.chances), "{what}");
            assert_close(&what, &one.chances, &other.chances, 1e-12);
            assert_close(&what, &one.marks, &other.marks, 1e-12);
            assert_eq!(one.calls, other.calls, "{what}");
            assert_eq!(one.dates, other.dates, "{what}");
            assert_eq!(keys(&one.next), keys(&other.next), "{what}");
            assert_close(&what, &one.next, &other.next, 1e-4);
            if texts.all_written_out {
                for (hours, same) in one.hours.iter().zip(other.hours) {
                    assert!((hours - same).abs() < 1e-9, "{what}: {hours} h, {same} h");
                }
                with_hours += 1;
            }
            compared += 1;
        }
    }
    assert!(
        compared > 240 && found_all > 1_000 && with_hours > 100,
        "{compared} {found_all} {with_hours}"
    );
}

/// The second way to every chance, part by part, agrees with the pack.
#[test]
fn the_ground_network_knows_kinds() {
    let mut compared = 0;
    for seed in 0..60 {
        let checked = house(&draw(seed).with);
        let (model, Some(built)) = (&checked.reading.model, &checked.built) else {
            continue;
        };
        for piece in ["chest with 1 drawer", "bureau", "tall bureau"] {
            let Ok(order) = tellmark_language::AnswerReader::new(model).piece(piece) else {
                continue;
            };
            let set_up = SetUp {
                model,
                built,
                order: &order,
                facts: &[],
                later: None,
            };
            let pack = built.bytes.open().expect("it opens");
            let mut room = Room::<f64>::default();
            let mut case = set_up.case(pack, &mut room).expect("it fits");
            let ground = set_up.ground(&case.inspection);
            let used = ground.states.iter().filter(|state| state.in_use).count();
            if used > 16 {
                continue;
            }
            let open = vec![(1.0, 1.0); ground.states.len()];
            let chances = posteriors(&ground, &open, &|_| 1.0).expect("no answer");
            for (state, chance) in ground.states.iter().zip(chances) {
                if state.in_use {
                    let part = ground_part(&ground.parts, state.part);
                    let place = usize::from(case.inspection.piece().parts()[part].place);
                    let number = u16::try_from(state.row).expect("few states");
                    let slot = pack.state_slot(place, number).expect("its own");
                    let (no, yes) = case.inspection.weights(part, slot).expect("no clash");
                    assert!((yes / (no + yes) - chance).abs() < 1e-12, "{seed} {piece}");
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 200, "{compared}");
}

/// The core has parts in the same order.
fn ground_part(_: &[GroundPart], part: usize) -> usize {
    part
}

/// A kind that says nothing itself speaks as the nearest kind above it does.
#[test]
fn plain_words_are_those_of_the_nearest_kind() {
    let checked = house(
        "House rules for the test, version 1.
Pieces: cupboard, press, linen press.
A press is a kind of cupboard.
A linen press is a kind of press.
Unless we say otherwise, a sign is there on its own: rarely.
You can see whether a cupboard shows gaps.
    In plain words: \"The cupboard had gaps.\"
You can see whether a press shows gaps.
    In plain words: \"The press had gaps round its doors.\"
You can see whether a cupboard is scratched.
    In plain words: \"The cupboard was scratched.\"
",
    );
    let said = |piece: &str, found: &str| {
        with_found(&checked, piece, &[], |set_up, reader| {
            let (_, state) = reader.state(found).expect("a state");
            set_up.model.plain_fault(state).map(str::to_owned)
        })
    };
    let doors = Some("The press had gaps round its doors.".to_owned());
    assert_eq!(said("linen press", "the linen press shows gaps"), doors);
    assert_eq!(said("press", "the press shows gaps"), doors);
    let plain = Some("The cupboard had gaps.".to_owned());
    assert_eq!(said("cupboard", "the cupboard shows gaps"), plain);
    let scratched = Some("The cupboard was scratched.".to_owned());
    assert_eq!(
        said("linen press", "the linen press is scratched"),
        scratched
    );
}
