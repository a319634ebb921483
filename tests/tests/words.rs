//! Chances, lengths, times and lists in plain English.

use tellmark_language::model::{HowOften, Mark, Strength, Takes, Thousandths, Unit};
use tellmark_language::words;

const MM: i32 = 40_000;
const SIXTY_FOURTH: i32 = 15_875;

#[test]
fn figures_never_claim_certainty() {
    let said: Vec<String> = [0.0, 0.0099, 0.01, 0.416, 0.82, 0.99, 0.9901, 1.0, f64::NAN]
        .into_iter()
        .map(words::figure)
        .collect();
    assert_eq!(
        said,
        [
            "under 1 in 100",
            "under 1 in 100",
            "1 in 100",
            "42 in 100",
            "82 in 100",
            "99 in 100",
            "over 99 in 100",
            "over 99 in 100",
            "not known"
        ]
    );
}

#[test]
fn sureness_keeps_to_the_marks_of_the_language() {
    for (chance, word) in [
        (1.0, "almost certainly"),
        (0.95, "almost certainly"),
        (0.949, "probably"),
        (0.60, "probably"),
        (0.599, "possibly"),
        (0.15, "possibly"),
        (0.149, "probably not"),
        (0.05, "probably not"),
        (0.049, "almost certainly not"),
        (0.0, "almost certainly not"),
    ] {
        assert_eq!(words::sureness_word(chance), word, "{chance}");
    }
}

#[test]
fn how_often_shows_the_smallest_exact_figure() {
    let word = |word, chance| {
        words::how_often(&HowOften {
            word: Some(word),
            cases: None,
            chance: Thousandths(chance),
        })
    };
    assert_eq!(word(Strength::Usually, 800), "usually (8 in 10)");
    assert_eq!(
        word(Strength::NearlyAlways, 950),
        "nearly always (19 in 20)"
    );
    assert_eq!(word(Strength::HardlyEver, 30), "hardly ever (3 in 100)");
    assert_eq!(word(Strength::Often, 605), "often (605 in 1000)");
    assert_eq!(word(Strength::ByDefinition, 1000), "by definition");
    let counted = HowOften {
        word: None,
        cases: Some((7, 10)),
        chance: Thousandths(700),
    };
    assert_eq!(words::how_often(&counted), "in 7 of 10 cases");
}

#[test]
fn lengths_stand_in_both_systems() {
    for (ticks, unit, text) in [
        (2 * MM, Unit::Mm, "2 mm (about 5/64 in)"),
        (3 * MM, Unit::Mm, "3 mm (about 1/8 in)"),
        (MM / 2, Unit::Mm, "0.5 mm (about 1/64 in)"),
        (MM / 20, Unit::Mm, "0.05 mm (under 1/64 in)"),
        (0, Unit::Mm, "0 mm"),
        (1_016_000, Unit::Mm, "25.4 mm (1 in)"),
        (50 * MM, Unit::Cm, "5 cm (about 1 31/32 in)"),
        (1_200 * MM, Unit::M, "1.2 m (about 47 1/4 in)"),
        (6 * SIXTY_FOURTH, Unit::In, "3/32 in (about 2.4 mm)"),
        (96 * SIXTY_FOURTH, Unit::In, "1 1/2 in (38.1 mm)"),
        (101_600, Unit::In, "0.1 in (about 2.5 mm)"),
        (12 * 1_016_000, Unit::Ft, "1 ft (304.8 mm)"),
        (-2 * MM, Unit::Mm, "-2 mm (about -5/64 in)"),
        (1_250, Unit::Percent, "12.5 %"),
        (i32::MAX, Unit::Mm, "53687.091175 mm (about 2113 43/64 in)"),
        (i32::MIN, Unit::In, "-53687.0912 mm (about -53687.1 mm)"),
    ] {
        assert_eq!(words::quantity(ticks, unit), text);
    }
}

#[test]
fn marks_are_said_the_way_they_were_written() {
    let mark = |at_least, at_most| Mark { at_least, at_most };
    let open = |at_least| mark(at_least, None);
    for (mark, yes, text) in [
        (open(2 * MM), true, "at least 2 mm (about 5/64 in)"),
        (open(2 * MM + 1), true, "more than 2 mm (about 5/64 in)"),
        (open(2 * MM), false, "less than 2 mm (about 5/64 in)"),
        (open(2 * MM + 1), false, "at most 2 mm (about 5/64 in)"),
        (open(1), true, "more than 0 mm"),
        (mark(0, Some(2 * MM)), true, "at most 2 mm (about 5/64 in)"),
        (
            mark(0, Some(2 * MM - 1)),
            true,
            "less than 2 mm (about 5/64 in)",
        ),
        (
            mark(0, Some(2 * MM)),
            false,
            "more than 2 mm (about 5/64 in)",
        ),
        (
            mark(2 * MM, Some(4 * MM)),
            true,
            "between 2 mm (about 5/64 in) and 4 mm (about 5/32 in)",
        ),
        (
            mark(2 * MM, Some(2 * MM)),
            false,
            "not exactly 2 mm (about 5/64 in)",
        ),
    ] {
        assert_eq!(words::comparison(mark, yes, 0, Unit::Mm), text);
    }
    let share = words::comparison(open(1_201), true, 0, Unit::Percent);
    assert_eq!(share, "more than 12 %");
    let fraction = words::comparison(open(6 * SIXTY_FOURTH + 1), true, 0, Unit::In);
    assert_eq!(fraction, "more than 3/32 in (about 2.4 mm)");
}

#[test]
fn times_are_short() {
    for (minutes, text) in [
        (0, "0 min"),
        (5, "5 min"),
        (60, "1 h"),
        (65, "1 h 05"),
        (90, "1 h 30"),
        (24 * 60, "24 h"),
        (48 * 60, "2 days"),
        (49 * 60, "49 h"),
    ] {
        assert_eq!(words::minutes(minutes), text);
    }
    let three_points = Takes {
        least: 120,
        mostly: 180,
        most: 240,
    };
    assert_eq!(words::takes(&three_points), "2 to 4 h, mostly 3 h");
    for (least, most, text) in [
        (10, 30, "10 to 30 min"),
        (45, 90, "45 min to 1 h 30"),
        (60, 90, "1 h to 1 h 30"),
        (24 * 60, 72 * 60, "24 h to 3 days"),
        (14 * 24 * 60, 42 * 24 * 60, "14 to 42 days"),
    ] {
        assert_eq!(words::minutes_range(least, most), text);
    }
    let one_point = Takes {
        least: 90,
        mostly: 90,
        most: 90,
    };
    assert_eq!(words::takes(&one_point), "1 h 30");
}

#[test]
fn articles_go_by_sound() {
    for (noun, text) in [
        ("drawer", "a drawer"),
        ("apron", "an apron"),
        ("overlay", "an overlay"),
        ("upholstered seat", "an upholstered seat"),
        ("unit", "a unit"),
        ("used screw", "a used screw"),
        ("uninsured piece", "an uninsured piece"),
        ("hourglass", "an hourglass"),
        ("one-piece top", "a one-piece top"),
        ("8-day clock", "an 8-day clock"),
        ("", "a "),
    ] {
        assert_eq!(words::a(noun), text);
    }
}

#[test]
fn lists_and_numbers() {
    assert_eq!(words::list::<&str>(&[]), "");
    assert_eq!(words::list(&["a"]), "a");
    assert_eq!(words::list(&["a", "b"]), "a and b");
    assert_eq!(words::list(&["a", "b", "c"]), "a, b and c");
    assert_eq!(words::list_or(&["a", "b", "c"]), "a, b or c");
    assert_eq!(words::number(2), "two");
    assert_eq!(words::number(13), "13");
    assert_eq!(words::some_of(0, "leaf", "leaves"), "no leaves");
    assert_eq!(words::some_of(1, "leaf", "leaves"), "1 leaf");
    assert_eq!(words::sentence(" it is stiff"), "It is stiff.");
    assert_eq!(words::sentence("“Stop.”"), "“Stop.”");
}

proptest::proptest! {
    /// Every length and mark can be said, and the metric figure is exact.
    #[test]
    fn any_length_can_be_said(ticks: i32, to: i32, yes: bool) {
        let said = words::quantity_short(ticks, Unit::Mm);
        let mm: f64 = said.strip_suffix(" mm").unwrap().parse().unwrap();
        assert!((mm * f64::from(MM) - f64::from(ticks)).abs() < 0.01, "{said}");
        for unit in [Unit::Mm, Unit::Cm, Unit::M, Unit::In, Unit::Ft, Unit::Percent] {
            assert!(!words::quantity(ticks, unit).is_empty());
            for at_most in [None, Some(to)] {
                let mark = Mark { at_least: ticks, at_most };
                assert!(!words::comparison(mark, yes, 0, unit).is_empty());
            }
        }
    }
}
