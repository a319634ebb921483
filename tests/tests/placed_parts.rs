//! Rules that say which part is meant: by its name or number, or as the others of one.

use tellmark_compile::room::Room;
use tellmark_core::truth::Truth;
use tellmark_language::{Level, words};
use tellmark_tests::dice::Dice;
use tellmark_tests::said::{house, share, with_found};
use tellmark_tests::worlds::posteriors;

const CHESTS: &str = "\
House rules for chests, version 1.
Pieces: chest.
Parts: drawer, runner, foot (plural feet).
A chest has 1 to 4 drawers (usually 3; from the top) and 4 feet (front left, front right, back left, back right).
A drawer has two runners (left, right).
Source house: our own.
You can count the drawers of a chest.      On its own: in 1 of 10 cases
You can see whether a foot is short.       On its own: in 2 of 10 cases
You can feel whether a drawer is stiff.    On its own: in 2 of 10 cases
You can feel whether a drawer is loose.    On its own: in 3 of 10 cases
You can see whether a runner is worn.      On its own: in 1 of 10 cases
You can feel whether a chest is leaning.   On its own: in 1 of 10 cases
Job: wax the drawer.  Takes: 1 hour
";

fn close(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-12, "{found}, not {wanted}");
}

/// Random rules from one numbered drawer to another: all of one kind, so that only where
/// each stands keeps them from going round in a circle.
fn numbered(dice: &mut Dice) -> String {
    let words = ["first", "second", "third", "fourth"];
    let mut rules = CHESTS.replace("has 1 to 4 drawers (usually 3;", "has 4 drawers (");
    rules = rules.replace(
        "You can count the drawers of a chest.      On its own: in 1 of 10 cases\n",
        "",
    );
    for _ in 0..3 + dice.below(3) {
        let from = dice.below(3);
        let to = from + 1 + dice.below(3 - from);
        let (sign, also) = (*dice.pick(&["stiff", "loose"]), dice.chance(30));
        let also = if also {
            " and its last drawer is not loose"
        } else {
            ""
        };
        // The last is never a result of "loose", so that nothing comes back to it.
        let result = if to == 3 { "stiff" } else { sign };
        let sign = if result == "stiff" { sign } else { "loose" };
        rules.push_str(&format!(
            "If the {} drawer of a chest is {sign}{also} then its {} drawer is {} {result}.  From: house\n",
            words[from],
            words[to],
            dice.pick(&["often", "usually", "sometimes"]),
        ));
    }
    if dice.chance(50) {
        rules.push_str("If the left runner of a drawer is worn then its right runner is often worn.  From: house\n");
    }
    rules
}

/// Every chance that the core gives is that of all worlds of the rules laid out part by part.
fn agrees_with_every_world(rules: &str, found: &[&str]) -> bool {
    let rules = house(rules);
    if rules.built.is_none() {
        let all = rules.reading.messages.iter();
        // The same sentence twice, or too much to draw.
        assert!(
            all.clone().all(|m| m.number() != 129),
            "{:?}",
            rules.reading.messages
        );
        return false;
    }
    with_found(&rules, "chest", found, |set_up, _| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("a fresh pack opens");
        let mut case = set_up.case(pack, &mut room).expect("a small piece");
        let ground = set_up.ground(&case.inspection);
        let piece = case.inspection.piece();
        let likely = |state: &tellmark_compile::ground::GroundState| {
            let row = &set_up.built.states.states[state.row];
            match piece.answer(&pack, state.part, row.ask) {
                Some(tellmark_core::piece::Answer::Certain(true)) => (0.0, 1.0),
                Some(tellmark_core::piece::Answer::Certain(false)) => (1.0, 0.0),
                _ => (1.0, 1.0),
            }
        };
        let likely: Vec<(f64, f64)> = ground.states.iter().map(likely).collect();
        let all = posteriors(&ground, &likely, &|_| 1.0).expect("no clash");
        for (state, wanted) in ground.states.iter().zip(all) {
            let number = u16::try_from(state.row).expect("few states");
            let place = usize::from(case.inspection.piece().parts()[state.part].place);
            let slot = pack.state_slot(place, number).filter(|_| state.in_use);
            let Some(slot) = slot else { continue };
            let (no, yes) = case.inspection.weights(state.part, slot).expect("no clash");
            close(yes / (no + yes), wanted);
        }
        true
    })
}

#[test]
fn from_one_numbered_part_to_the_next() {
    let mut compared = 0;
    for seed in 0..60 {
        let mut dice = Dice::new(seed);
        let rules = numbered(&mut dice);
        let all = [
            "drawer 2 is certainly stiff",
            "drawer 4 is certainly loose",
            "left runner of drawer 1 is certainly worn",
            "drawer 3 is certainly not stiff",
        ];
        let found: Vec<&str> = all.into_iter().filter(|_| dice.chance(40)).collect();
        compared += usize::from(agrees_with_every_world(&rules, &found));
    }
    assert!(compared > 40, "{compared}");
}

#[test]
fn a_word_of_the_name_means_each_part_that_has_it() {
    let rules = format!(
        "{CHESTS}If both left feet of a chest are short then it is by definition leaning.  From: house\n"
    );
    let rules = house(&rules);
    let leaning = |found: &[&str]| share(&rules, "chest", found, "the chest is leaning");
    let both = [
        "front left foot is certainly short",
        "back left foot is certainly short",
    ];
    close(leaning(&both), 1.0);
    close(
        leaning(&["front right foot is certainly short", both[0]]),
        0.1 + 0.9 * 0.2,
    );
}

/// The last of so many is the last of as many as were counted.
#[test]
fn the_lowest_follows_the_count() {
    let rules = format!(
        "{CHESTS}If the lowest drawer of a chest is stiff then the chest is by definition leaning.  From: house\n"
    );
    let rules = house(&rules);
    let leaning = |found: &[&str]| share(&rules, "chest", found, "the chest is leaning");
    close(leaning(&["drawer 3 is certainly stiff"]), 1.0);
    let two = ["the chest has 2 drawers", "drawer 2 is certainly stiff"];
    close(leaning(&two), 1.0);
    let later = ["drawer 2 is certainly stiff", "the chest has 2 drawers"];
    close(leaning(&later), 1.0);
    let four = ["drawer 3 is certainly stiff", "the chest has 4 drawers"];
    close(leaning(&four), 0.1 + 0.9 * 0.2);
    let one = ["the chest has 1 drawer", "drawer 1 is certainly stiff"];
    close(leaning(&one), 1.0);
}

#[test]
fn a_sign_means_something_of_one_part() {
    let rules = format!(
        "{CHESTS}A runner may be cut without showing it.  On its own: in 1 of 10 cases\n\
         If a drawer is stiff, that usually means its left runner is cut.  From: house\n"
    );
    let rules = house(&rules.replace("Source house: our own.\n", ""));
    let cut = |found: &[&str], which: &str| {
        let asked = format!("{which} runner of drawer 1 is cut");
        share(&rules, "chest", found, &asked)
    };
    let stiff = ["drawer 1 is stiff"];
    assert!((cut(&stiff, "left") - 0.8).abs() < 1e-5);
    close(cut(&stiff, "right"), 0.1);
}

#[test]
fn the_others_are_all_but_the_part_itself() {
    let rules = format!(
        "{CHESTS}If a drawer is loose and no other drawer is loose then it is by definition stiff.  From: house\n"
    );
    let rules = house(&rules);
    let stiff = |found: &[&str]| share(&rules, "chest", found, "drawer 1 is stiff");
    let alone = [
        "drawer 1 is certainly loose",
        "drawer 2 is certainly not loose",
        "drawer 3 is certainly not loose",
    ];
    close(stiff(&alone), 1.0);
    close(
        stiff(&["drawer 1 is certainly loose"]),
        1.0 - 0.8 * (1.0 - 0.7 * 0.7),
    );
    close(stiff(&["drawer 1 is certainly not loose"]), 0.2);
}

/// After a part that stands somewhere, the others are all that stand elsewhere.
#[test]
fn no_other_than_the_lowest() {
    let rules = format!(
        "{CHESTS}If the lowest drawer of a chest is stiff and no other drawer is stiff then it is by definition leaning.  From: house\n\
         When the lowest drawer of a chest is stiff and no other drawer is stiff, plan to wax the drawer.  From: house\n"
    );
    let rules = house(&rules);
    let alone = [
        "drawer 1 is certainly not stiff",
        "drawer 2 is certainly not stiff",
        "drawer 3 is certainly stiff",
    ];
    let not_alone = [
        "drawer 1 is certainly stiff",
        "drawer 2 is certainly not stiff",
        "drawer 3 is certainly stiff",
    ];
    for (found, truth) in [(alone, Truth::True), (not_alone, Truth::False)] {
        let leaning = share(&rules, "chest", &found, "the chest is leaning");
        close(leaning, if truth == Truth::True { 1.0 } else { 0.1 });
        with_found(&rules, "chest", &found, |set_up, _| {
            let mut room = Room::<f64>::default();
            let pack = set_up.built.bytes.open().expect("a fresh pack opens");
            let mut case = set_up.case(pack, &mut room).expect("a small piece");
            let when = &set_up.model.plans[0].when;
            assert_eq!(case.truth_of(set_up, when, 0), truth);
        });
    }
}

/// Of two runners there may be just one that is so, or fewer than two.
#[test]
fn so_many_that_are_so_may_be_fewer_than_there_are() {
    let rules = format!(
        "{CHESTS}If exactly one runner of a drawer is worn then the drawer is by definition stiff.  From: house\n\
         If fewer than 2 runners of a drawer are worn then the drawer is by definition loose.  From: house\n"
    );
    let rules = house(&rules);
    let one = [
        "left runner of drawer 1 is certainly worn",
        "right runner of drawer 1 is certainly not worn",
    ];
    close(share(&rules, "chest", &one, "drawer 1 is stiff"), 1.0);
    close(share(&rules, "chest", &one, "drawer 1 is loose"), 1.0);
    let none = [
        "left runner of drawer 1 is certainly not worn",
        "right runner of drawer 1 is certainly not worn",
    ];
    close(share(&rules, "chest", &none, "drawer 1 is stiff"), 0.2);
}

/// Where a part stands is known to plans and cautions as well, and so are the others.
#[test]
fn plans_know_which_part_is_meant() {
    let rules = format!(
        "{CHESTS}When a drawer is the lowest drawer and it is stiff, plan to wax the drawer.  From: house\n\
         When a drawer is loose and any other drawer is loose, plan to oil the drawer.  Takes: 1 hour  From: house\n"
    );
    let rules = house(&rules);
    let found = [
        "drawer 1 is stiff",
        "drawer 3 is stiff",
        "drawer 2 is loose",
    ];
    with_found(&rules, "chest", &found, |set_up, _| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("a fresh pack opens");
        let mut case = set_up.case(pack, &mut room).expect("a small piece");
        let drawers: Vec<usize> = (0..case.inspection.piece().parts().len())
            .filter(|&part| {
                let place = usize::from(case.inspection.piece().parts()[part].place);
                set_up.model.kinds[set_up.built.places.kind(place).index()].name == "drawer"
            })
            .collect();
        let mut truths = |plan: usize| {
            let when = &set_up.model.plans[plan].when;
            let truths = drawers
                .iter()
                .map(|&part| case.truth_of(set_up, when, part));
            truths.collect::<Vec<_>>()
        };
        assert_eq!(truths(0), [Truth::False, Truth::False, Truth::True]);
        // Whether another one is loose is not known of the second.
        assert_eq!(
            truths(1),
            [Truth::NotKnown, Truth::NotKnown, Truth::NotKnown]
        );
    });
}

#[test]
fn what_makes_the_others_alike_is_a_circle() {
    let said = |rule: &str| {
        let rules = house(&format!("{CHESTS}{rule}  From: house\n"));
        let stops = rules.reading.messages.into_iter();
        let stops: Vec<u16> = stops
            .filter(|m| m.level == Level::Stop)
            .map(|m| m.number())
            .collect();
        stops
    };
    let to_the_other = "If a runner is worn then the other runner is often worn.";
    assert_eq!(said(to_the_other), [44]);
    // With one drawer the first is the last.
    let to_the_last =
        "If the first drawer of a chest is loose then its last drawer is often loose.";
    assert_eq!(said(to_the_last), [44]);
    let to_the_second =
        "If the first drawer of a chest is loose then its second drawer is often loose.";
    assert_eq!(said(to_the_second), [0_u16; 0]);
}

/// Each kind of them is counted by itself.
#[test]
fn of_several_kinds_each_has_a_lowest() {
    let rules = format!(
        "{CHESTS}Pieces: bureau.\nParts: small drawer.\n\
         A bureau is a kind of chest.\nA small drawer is a kind of drawer.\n\
         A bureau has 2 drawers (from the top) and 2 small drawers (from the top).\n\
         If the lowest drawer of a chest is stiff then the chest is by definition leaning.  From: house\n\
         If a drawer is loose and any other drawer is loose then it is by definition stiff.  From: house\n"
    );
    let rules = house(&rules);
    let leaning = |found: &str| share(&rules, "bureau", &[found], "the bureau is leaning");
    close(leaning("drawer 2 is certainly stiff"), 1.0);
    close(leaning("small drawer 2 is certainly stiff"), 1.0);
    assert!(leaning("small drawer 1 is certainly stiff") < 0.9);
    let stiff = |found: &[&str]| share(&rules, "bureau", found, "drawer 1 is stiff");
    let small = [
        "drawer 1 is certainly loose",
        "small drawer 2 is certainly loose",
    ];
    close(stiff(&small), 1.0);
    let none = 0.7 * 0.7 * 0.7;
    close(stiff(&small[..1]), 1.0 - 0.8 * none);
}

#[test]
fn it_is_read_back() {
    let rules = format!(
        "{CHESTS}If the left runner of a drawer is worn then the drawer is often stiff.  From: house\n\
         If a drawer is stiff then the other drawers are sometimes loose.  From: house\n\
         If a drawer is not the lowest drawer and any other drawer is stiff then it is sometimes loose.  From: house\n"
    );
    let said = words::read_back(&house(&rules).reading.model);
    let texts: Vec<&str> = said.iter().map(|said| said.text.as_str()).collect();
    for text in [
        "For each drawer: if its left runner is worn, the drawer is often (6 in 10) stiff. [house]",
        "For each drawer: if it is stiff, each of the other drawers is sometimes (3 in 10) loose. [house]",
        "For each drawer: if it is not the lowest drawer, and any of the other drawers is stiff, the drawer is sometimes (3 in 10) loose. [house]",
    ] {
        assert!(texts.contains(&text), "{texts:#?}");
    }
    assert!(!texts.iter().any(|text| text.contains("which of its like")));
}
