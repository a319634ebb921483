//! Families of pieces: what each of them must hold to, read with the standard rules.

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_core::limits::{MAX_INTERFACE, MAX_NODES};
use tellmark_job::house::{Families, files};
use tellmark_language::{Level, read};
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
        assert!(sizes.pack <= 256 * 1024, "{name}: {} bytes", sizes.pack);
        for kind in &sizes.kinds {
            let fits = kind.interface <= MAX_INTERFACE && kind.nodes <= MAX_NODES;
            assert!(fits, "{name}: {}", kind.name);
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
