//! Families of pieces: what each of them must hold to, read with the standard rules.

use std::collections::{BTreeMap, BTreeSet};
use tellmark_compile::TOLERANCE;
use tellmark_compile::check::{Checked, Depth, check};
use tellmark_core::limits::{MAX_INTERFACE, MAX_NODES};
use tellmark_job::house::{Families, files};
use tellmark_language::{Level, read};
use tellmark_tests::likely::{faults, likely};
use tellmark_tests::said::share;

/// The standard rules with one family.
fn with(name: &str, depth: Depth) -> Checked {
    let family = Families::These(vec![name.to_owned()]);
    check(read(files(None, &family).expect("rules")), depth)
}

#[test]
fn each_family_has_nothing_to_mend_and_fits_the_unit() {
    for name in Families::names() {
        let checked = with(name, Depth::Full);
        let messages = checked.reading.messages.iter();
        let messages: Vec<&str> = messages
            .filter(|message| message.level != Level::Note)
            .map(|message| message.text.as_str())
            .collect();
        assert_eq!(messages, Vec::<&str>::new(), "{name}");
        assert!(checked.is_sound(), "{name}");
        let sizes = &checked.built.as_ref().expect("it builds").sizes;
        assert!(sizes.pack <= 252 * 1024, "{name}: {} bytes", sizes.pack);
        for kind in &sizes.kinds {
            let fits = kind.interface <= MAX_INTERFACE && kind.nodes <= MAX_NODES;
            assert!(fits, "{name}: {}", kind.name);
        }
    }
}

/// What a piece brings that nobody has looked at: its family (none: the common rules), and the
/// faults that it is expected to have, at least and at most. Why so many stands in
/// `rules/README.md` and at the head of each family.
const BRINGS: [(&str, &str, f64, f64); 29] = [
    ("", "chest of drawers", 10.0, 15.0),
    ("", "drop-leaf table", 4.0, 6.5),
    ("bureau", "fall-front desk", 15.0, 23.0),
    ("chairs", "chair", 3.5, 6.0),
    ("chairs", "armchair", 3.5, 6.0),
    ("chairs", "stick chair", 2.5, 6.0),
    ("chairs", "rocking chair", 2.5, 6.0),
    ("chairs", "bentwood chair", 2.5, 6.0),
    ("chairs", "stool", 2.5, 6.0),
    ("boxes", "box", 3.0, 7.0),
    ("boxes", "tea caddy", 3.0, 7.0),
    ("boxes", "writing box", 3.0, 7.0),
    ("boxes", "blanket chest", 3.5, 7.0),
    ("boxes", "coffer", 3.5, 7.0),
    ("cupboards", "cupboard", 3.5, 7.0),
    ("cupboards", "wardrobe", 3.5, 7.0),
    ("cupboards", "glazed bookcase", 3.5, 7.0),
    ("cupboards", "corner cupboard", 3.0, 7.0),
    ("cupboards", "sideboard", 4.0, 8.0),
    ("glasses", "looking-glass", 3.0, 7.0),
    ("glasses", "gilt glass", 3.0, 7.0),
    ("glasses", "toilet glass", 3.5, 7.0),
    ("glasses", "cheval glass", 3.5, 7.0),
    ("tables", "plain table", 3.5, 6.5),
    ("tables", "card table", 3.5, 6.5),
    ("tables", "draw-leaf table", 3.0, 6.5),
    ("tables", "extending table", 3.5, 6.5),
    ("tables", "pedestal table", 3.0, 6.5),
    ("tables", "gate-leg table", 4.0, 8.0),
];

/// The rules of each family that is named here, built once.
fn families() -> BTreeMap<&'static str, Checked> {
    let names: BTreeSet<&str> = BRINGS.iter().map(|(family, ..)| *family).collect();
    let built = |name: &'static str| match name {
        "" => check(
            read(files(None, &Families::These(Vec::new())).expect("rules")),
            Depth::Build,
        ),
        name => with(name, Depth::Build),
    };
    names.into_iter().map(|name| (name, built(name))).collect()
}

#[test]
fn every_family_says_what_its_pieces_bring() {
    let told: BTreeSet<&str> = BRINGS.iter().map(|(family, ..)| *family).collect();
    let names = Families::names().into_iter();
    let untold: Vec<&str> = names.filter(|name| !told.contains(name)).collect();
    assert_eq!(untold, Vec::<&str>::new());
}

#[test]
fn a_piece_nobody_has_looked_at_is_no_wreck() {
    let families = families();
    let mut amiss = Vec::new();
    for (family, piece, least, most) in BRINGS {
        let all = faults(likely(&families[family], piece, &[]));
        let sum: f64 = all.iter().map(|one| one.chance).sum();
        let late: f64 = all
            .iter()
            .map(|one| one.chance * f64::from(one.missed))
            .sum();
        println!("{piece}: {sum:.1} faults, found late {:.1} h", late / 60.0);
        if !(least..most).contains(&sum) {
            amiss.push(format!("{piece}: {sum:.1} faults"));
        }
        let likely = all.iter().filter(|one| one.chance >= 0.36);
        amiss.extend(likely.map(|one| format!("{piece}: {} {:.2}", one.words, one.chance)));
    }
    assert!(amiss.is_empty(), "{amiss:#?}");
}

#[test]
fn a_piece_on_which_all_is_well_has_no_likely_fault() {
    let families = families();
    let mut amiss = Vec::new();
    for (family, piece, ..) in BRINGS {
        let rules = &families[family];
        let signs = likely(rules, piece, &[])
            .into_iter()
            .filter(|one| !one.hidden);
        let fine: Vec<String> = signs.map(|one| one.denied).collect();
        let fine: Vec<&str> = fine.iter().map(String::as_str).collect();
        let all = faults(likely(rules, piece, &fine)).into_iter();
        let likely = all.filter(|one| one.chance >= 0.05);
        amiss.extend(likely.map(|one| format!("{piece}: {} {:.3}", one.words, one.chance)));
    }
    assert!(amiss.is_empty(), "{amiss:#?}");
}

#[test]
fn every_that_means_sentence_of_a_family_comes_true() {
    for (name, rules) in families() {
        let model = &rules.reading.model;
        let reached = rules.built.as_ref().expect("it builds").reached(model);
        assert!(!reached.is_empty(), "{name}");
        for one in &reached {
            let wanted = f64::from(model.means[one.means].strength.chance.0) / 1000.0;
            let off = (one.reached - wanted).abs();
            assert!(off <= TOLERANCE, "{name}: {:?}", model.means[one.means]);
        }
    }
}

/// What is wrong with a fall-front desk and not with a chest.
const DESK_FAULTS: [&str; 16] = [
    "left fall hinge of the fall is under strain",
    "left fall hinge of the fall is stripped",
    "left fall hinge of the fall is split at the bed",
    "left loper of the fall is worn low",
    "left loper of the fall is tight in the opening",
    "left loper of the fall is short of a stop",
    "left loper of the fall is split at the knob",
    "left loper of the fall is altered",
    "the fall is held by the cleats",
    "the fall is warped",
    "the fall is replaced",
    "the writing surface of the fall is off the ground",
    "the interior is loose in the grooves",
    "the interior is fitted out later",
    "the interior is hiding a space",
    "pilaster 1 of the interior is hiding a drawer",
];

#[test]
fn a_desk_of_which_nothing_is_known_is_no_wreck() {
    let rules = with("bureau", Depth::Build);
    for fault in DESK_FAULTS {
        let chance = share(&rules, "fall-front desk", &[], fault);
        assert!((0.01..0.36).contains(&chance), "{fault}: {chance}");
    }
}

#[test]
fn a_desk_on_which_all_is_fine_has_no_fault() {
    let rules = with("bureau", Depth::Build);
    let fine = [
        "the fall is not let down unsupported",
        "the fall is not leant on",
        "the piece is not kept near heating",
        "the piece is not kept in strong sun",
        "the piece is not kept in damp air",
        "the piece is not moved around",
        "the piece is not used daily",
        "the fall is not standing off",
        "the fall is not binding at the side",
        "the fall is not stepped at the cleats",
        "the fall is not off the flat",
        "the fall is not odd beside the sides",
        "the fall is split 0 mm wide",
        "the fall is below level 0 mm",
        "no fall hinge shows lost screws",
        "no fall hinge shows proud heads",
        "no fall hinge shows mixed heads",
        "no fall hinge shows filler",
        "no fall hinge is bent at the pin",
        "no fall hinge is gapping on lift",
        "no fall hinge is cracked beside",
        "no fall hinge is flexing beside",
        "no loper is stiff to draw",
        "no loper is wagging",
        "no loper shows lost pads",
        "no loper is coming right out",
        "no loper shows lost knobs",
        "no loper is cracked at the knob",
        "no loper shows added strips",
        "no loper is unlike the other one",
        "the writing surface of the fall is not wrinkled",
        "the writing surface of the fall is not loose at the edge",
        "the interior does not show loose partitions",
        "the interior does not show open grooves",
        "the interior is not unlike the drawers",
        "the interior is short behind 0 mm",
        "no pilaster is giving to a pull",
        "no pilaster shows rubbed edges",
    ];
    for fault in DESK_FAULTS {
        let chance = share(&rules, "fall-front desk", &fine, fault);
        assert!(chance < 0.05, "{fault}: {chance}");
    }
}
