//! `that … means` of several signs of a part, and of one sign of several parts.

use tellmark_compile::room::Room;
use tellmark_language::Level;
use tellmark_tests::said::{house, share, with_found};
use tellmark_tests::worlds::posteriors;

const CHESTS: &str = "\
House rules for chests, version 1.
Pieces: chest.
Parts: drawer, side.
A chest has 3 drawers and two sides.
Source house: our own.
You can see whether a chest is leaning.     On its own: in 3 of 100 cases
You can feel whether a chest is swaying.    On its own: in 3 of 100 cases  Slip: 3 in 100
You can hear whether a chest is creaking.   On its own: in 5 of 100 cases
You can feel whether a drawer is stiff.     On its own: in 1 of 10 cases
You can see whether a side is bowed.        On its own: in 1 of 10 cases
A chest may be racked without showing it.   On its own: in 1 of 10 cases
A side may be shrunk without showing it.    On its own: in 1 of 10 cases
";

const LIST: &str = "\
If at least two of these are true of a chest:
    - it is leaning
    - it is swaying
    - it is creaking
    that usually means it is racked.
    From: house  Called: two of three
";

/// The chance of a fault after a yes to at least `enough` of these signs, all of them
/// answered, by summing over all answers.
fn after(rules: &str, signs: &[&str], enough: usize, fault: &str) -> f64 {
    let rules = house(rules);
    let messages = &rules.reading.messages;
    assert!(
        messages.iter().all(|m| m.level != Level::Stop),
        "{messages:?}"
    );
    let (mut all, mut with) = (0.0, 0.0);
    for answers in 0_usize..1 << signs.len() {
        if (answers.count_ones() as usize) < enough {
            continue;
        }
        let mut found: Vec<String> = Vec::new();
        let mut chance = 1.0;
        for (i, sign) in signs.iter().enumerate() {
            let so: Vec<&str> = found.iter().map(String::as_str).collect();
            let share = share(&rules, "chest", &so, sign);
            let slip = if sign.contains("swaying") { 0.03 } else { 0.01 };
            let yes = share * (1.0 - slip) + (1.0 - share) * slip;
            if answers >> i & 1 == 1 {
                chance *= yes;
                found.push((*sign).to_owned());
            } else {
                chance *= 1.0 - yes;
                found.push(sign.replace(" is ", " is not "));
            }
        }
        let found: Vec<&str> = found.iter().map(String::as_str).collect();
        all += chance;
        with += chance * share(&rules, "chest", &found, fault);
    }
    with / all
}

const SIGNS: [&str; 3] = [
    "the chest is leaning",
    "the chest is swaying",
    "the chest is creaking",
];

fn close(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-5, "{found}, not {wanted}");
}

#[test]
fn so_many_of_a_list_mean_it_that_often() {
    close(
        after(&format!("{CHESTS}{LIST}"), &SIGNS, 2, "the chest is racked"),
        0.8,
    );
}

#[test]
fn all_of_them_and_any_of_them() {
    let all = "If a chest is leaning and it is swaying and it is creaking, that nearly always means it is racked.  From: house\n";
    close(
        after(&format!("{CHESTS}{all}"), &SIGNS, 3, "the chest is racked"),
        0.95,
    );
    let any = "If a chest is leaning or it is swaying or it is creaking, that in 4 of 10 cases means it is racked.  From: house\n";
    close(
        after(&format!("{CHESTS}{any}"), &SIGNS, 1, "the chest is racked"),
        0.4,
    );
}

#[test]
fn one_sign_of_several_parts() {
    let drawers = "If at least two drawers of a chest are stiff, that often means the chest is racked.  From: house\n";
    let signs = [
        "drawer 1 is stiff",
        "drawer 2 is stiff",
        "drawer 3 is stiff",
    ];
    close(
        after(
            &format!("{CHESTS}{drawers}"),
            &signs,
            2,
            "the chest is racked",
        ),
        0.6,
    );
}

/// Many parts are no more work than few.
#[test]
fn one_sign_of_very_many_parts() {
    let many = CHESTS.replace("has 3 drawers", "has 0 to 30 drawers (usually 30)");
    let drawers = "If at least 14 drawers of a chest are stiff, that often means the chest is racked.  From: house\n";
    let rules = house(&format!("{many}{drawers}"));
    let reached = rules
        .built
        .as_ref()
        .expect("built")
        .reached_together(&rules.reading.model);
    assert!((reached[0].reached - 0.6).abs() < 1e-5, "{reached:?}");
    let any = "If any drawer of a chest is stiff, that in 2 of 10 cases means the chest is racked.  From: house\n";
    let rules = CHESTS.replace(
        "stiff.     On its own: in 1 of 10",
        "stiff.     On its own: in 2 of 100",
    );
    let signs = [
        "drawer 1 is stiff",
        "drawer 2 is stiff",
        "drawer 3 is stiff",
    ];
    close(
        after(&format!("{rules}{any}"), &signs, 1, "the chest is racked"),
        0.2,
    );
}

/// A sign that means something by itself keeps that promise too.
#[test]
fn beside_a_sentence_about_one_of_the_signs() {
    let one = "If a chest is leaning, that often means it is racked.  From: house\n";
    let rules = format!("{CHESTS}{LIST}{one}");
    close(after(&rules, &SIGNS, 2, "the chest is racked"), 0.8);
    close(after(&rules, &SIGNS[..1], 1, "the chest is racked"), 0.6);
}

/// Other reasons for the signs are counted in.
#[test]
fn beside_rules_that_lead_to_the_signs() {
    let rules = "\
If any side of a chest is shrunk then the chest is often creaking.  From: house
If any side of a chest is shrunk then its sides are often bowed.    From: house
If a chest is racked then it is sometimes swaying.                  From: house
";
    close(
        after(
            &format!("{CHESTS}{LIST}{rules}"),
            &SIGNS,
            2,
            "the chest is racked",
        ),
        0.8,
    );
}

#[test]
fn the_fault_of_a_part() {
    let list = LIST.replace(
        "usually means it is racked",
        "sometimes means its sides are shrunk",
    );
    close(
        after(&format!("{CHESTS}{list}"), &SIGNS, 2, "side 1 is shrunk"),
        0.3,
    );
}

/// The same rules laid out part by part come to the same chances.
#[test]
fn laid_out_part_by_part() {
    let drawers = "If at least two drawers of a chest are stiff, that often means the chest is racked.  From: house\n";
    let rules = house(&format!("{CHESTS}{LIST}{drawers}"));
    with_found(&rules, "chest", &[], |set_up, _| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("a fresh pack opens");
        let mut case = set_up.case(pack, &mut room).expect("a small piece");
        let ground = set_up.ground(&case.inspection);
        let nothing = vec![(1.0, 1.0); ground.states.len()];
        let all = posteriors(&ground, &nothing, &|_| 1.0).expect("no clash");
        for (state, wanted) in ground.states.iter().zip(all) {
            let number = u16::try_from(state.row).expect("few states");
            let place = usize::from(case.inspection.piece().parts()[state.part].place);
            let slot = pack.state_slot(place, number).filter(|_| state.in_use);
            let Some(slot) = slot else { continue };
            let (no, yes) = case.inspection.weights(state.part, slot).expect("no clash");
            assert!((yes / (no + yes) - wanted).abs() < 1e-12);
        }
    });
}

#[test]
fn it_is_read_back() {
    let drawers = "If at least two drawers of a chest are stiff, that often means the chest is racked.  From: house\n";
    let rules = house(&format!("{CHESTS}{LIST}{drawers}"));
    let said = tellmark_language::words::read_back(&rules.reading.model);
    let texts: Vec<&str> = said.iter().map(|said| said.text.as_str()).collect();
    let has = |text: &str| assert!(texts.contains(&text), "{texts:#?}");
    has(
        "Knowing only, of a chest looked over for it, that at least two of these are so [it is leaning; it is swaying; it is creaking]: it is usually (8 in 10) racked. [house]",
    );
    has(
        "Knowing only, of a chest looked over for it, that at least two of its drawers are stiff: it is often (6 in 10) racked. [house]",
    );
}
