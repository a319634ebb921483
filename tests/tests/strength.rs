//! What sentences come to, against asking: strength written is strength obtained where the
//! condition is certain, and what an ordinary answer makes of it otherwise.

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::{Obtained, Sentence, TOLERANCE};
use tellmark_job::house::standard;
use tellmark_language::read;
use tellmark_tests::said::{house, share};

fn comes_to(checked: &Checked, wanted: Sentence) -> Vec<Obtained> {
    let texts = checked.reading.messages.iter().map(|m| (m.at, &m.text));
    let texts: Vec<_> = texts.collect();
    let built = checked.built.as_ref();
    let built = built.unwrap_or_else(|| panic!("{texts:?}"));
    built.obtained(&checked.reading.model, |sentence, _| sentence == wanted)
}

fn is_near(found: Option<f64>, asked: f64) {
    let found = found.expect("it can be answered");
    assert!((found - asked).abs() < 1e-9, "{found}, not {asked}");
}

const RULES: &str = "\
House rules for tests, version 1.
Pieces: chest.
Parts: drawer, runner, support.
A chest has 2 drawers and 0 to 4 supports (usually 2).
A drawer has 2 runners.
You can feel whether a drawer is stiff.      On its own: in 5 of 100 cases  Slip: 3 in 100
You can feel whether a drawer is waxed.      On its own: in 3 of 10 cases
You can feel whether a drawer is skewing.    On its own: in 1 of 10 cases
You can hear whether a drawer is creaking.   On its own: in 1 of 10 cases
You can see which back a chest has: plank, panel or ply.  Slip: 2 in 100
You can count the supports of a chest.       On its own: in 1 of 10 cases
You can measure how much a runner is worn, in mm, from 0 to 15.  Reads to: 0.5 mm  On its own: in 2 of 10 cases
A runner counts as thin when it is worn at least 4 mm.  On its own: in 1 of 10 cases
A chest may be racked without showing it.    On its own: in 1 of 10 cases
If a drawer is stiff then it is usually creaking unless it is waxed.  From: house
If any runner of a drawer is worn at least 2 mm then it is often stiff.  From: house
If every one of the runners of a drawer is thin then its chest is sometimes racked.  From: house
If a chest is panel then it is often racked.  From: house
If a chest has fewer than 2 supports then its drawers are often stiff.  From: house
If a chest is racked and it has more than 2 supports then its drawers are usually creaking.  From: house
If no drawer of a chest is waxed then it is sometimes racked.  From: house
If a drawer is skewing, that sometimes means its chest is racked.  From: house
";

#[test]
fn each_way_to_answer_is_what_asking_so_gives() {
    let rules = house(RULES);
    let asked = |found: &[&str], asked: &str| share(&rules, "chest", found, asked);
    let rule = |nth: usize| {
        let all = comes_to(&rules, Sentence::Rule(nth));
        assert_eq!(all.len(), 1, "{nth}");
        all[0]
    };
    let creaks = "drawer 1 is creaking";
    let one = rule(0);
    assert!((one.before - asked(&[], creaks)).abs() < 1e-9);
    let not_waxed = "drawer 1 is not waxed";
    is_near(one.yes, asked(&[not_waxed, "drawer 1 is stiff"], creaks));
    is_near(one.no, asked(&[not_waxed, "drawer 1 is not stiff"], creaks));
    is_near(
        one.certainly,
        asked(&[not_waxed, "drawer 1 is certainly stiff"], creaks),
    );
    assert_eq!(one.at_mark, None);

    let stiff = "drawer 1 is stiff";
    let one = rule(1);
    let worn = |reading: &str| format!("runner 1 of drawer 1 is worn {reading} mm");
    is_near(one.at_mark, asked(&[&worn("2")], stiff));
    is_near(one.well_over, asked(&[&worn("4")], stiff));
    assert_eq!((one.yes, one.certainly), (one.well_over, one.well_over));

    let racked = "the chest is racked";
    let one = rule(2);
    let thin = [
        "runner 1 of drawer 1 is thin",
        "runner 2 of drawer 1 is thin",
    ];
    is_near(one.yes, asked(&thin, racked));
    let by_gauge = [&*worn("6"), "runner 2 of drawer 1 is worn 6 mm"];
    is_near(one.well_over, asked(&by_gauge, racked));

    let one = rule(3);
    is_near(one.yes, asked(&["the chest is panel"], racked));
    is_near(one.no, asked(&["the chest is plank"], racked));

    let one = rule(4);
    is_near(one.yes, asked(&["the chest has 1 support"], stiff));
    let one = rule(5);
    let both = ["the chest is racked", "the chest has 3 supports"];
    is_near(one.yes, asked(&both, creaks));

    let one = rule(6);
    let none = ["drawer 1 is not waxed", "drawer 2 is not waxed"];
    is_near(one.yes, asked(&none, racked));
    is_near(one.no, asked(&["drawer 1 is waxed"], racked));

    let all = comes_to(&rules, Sentence::Means(0));
    assert_eq!(all.len(), 1);
    is_near(all[0].yes, asked(&["drawer 1 is skewing"], racked));
}

/// Each rule of the standard ones is answered in some way, and comes to no less than its
/// strength where its condition is certain: a rule only gives reasons for.
#[test]
fn a_certain_condition_comes_to_the_strength_at_least() {
    let checked = check(read(standard()), Depth::Build);
    let model = &checked.reading.model;
    let all = checked
        .built
        .as_ref()
        .expect("a pack")
        .obtained(model, |_, _| true);
    for (i, rule) in model.rules.iter().enumerate() {
        let mut here = all.iter().filter(|o| o.sentence == Sentence::Rule(i));
        let first = here.next();
        assert!(first.is_some(), "{rule:?}");
        let strength = f64::from(rule.strength.chance.0) / 1000.0;
        for one in first.into_iter().chain(here) {
            assert!(one.yes.is_some() && one.no.is_some(), "{rule:?}");
            let is_certain =
                one.at_mark.is_none() && !format!("{:?}", rule.when).contains("Choice");
            let certainly = one.certainly.expect("it can be certain");
            assert!(
                !is_certain || certainly > strength - 1e-6,
                "{rule:?}: {one:?}"
            );
        }
    }
    for (i, means) in model.means.iter().enumerate() {
        let strength = f64::from(means.strength.chance.0) / 1000.0;
        for one in all.iter().filter(|o| o.sentence == Sentence::Means(i)) {
            let off = (one.yes.expect("a yes") - strength).abs();
            assert!(off < TOLERANCE, "{means:?}: {one:?}");
        }
    }
}
