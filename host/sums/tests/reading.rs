//! Quantities as people write them, and what is refused in which words.

use proptest::prelude::*;
use tellmark_sums::quantity::{bare, both, climate, cut, force, read};
use tellmark_sums::{Dimension, Trouble};

#[track_caller]
fn reads(text: &str, dimension: Dimension, expected: f32) {
    let found = read("the size", text, dimension).unwrap_or_else(|why| panic!("{text}: {why}"));
    let off = (found - expected).abs();
    assert!(
        off <= expected.abs() * 1e-6,
        "{text}: {found}, not {expected}"
    );
}

#[test]
fn lengths_in_both_systems() {
    for (text, mm) in [
        ("18 mm", 18.0),
        ("18mm", 18.0),
        (" 18  MM ", 18.0),
        ("1.8 cm", 18.0),
        ("0.018 m", 18.0),
        ("3/4 in", 19.05),
        ("3/4\"", 19.05),
        ("3/4 inch", 19.05),
        ("¾ in", 19.05),
        ("3 1/2 in", 88.9),
        ("3-1/2 in", 88.9),
        ("3½\"", 88.9),
        ("3 ½ in", 88.9),
        ("5 ft", 1524.0),
        ("5 ft 3 1/2 in", 1612.9),
        ("5' 3\"", 1600.2),
        ("1 m 20 cm", 1200.0),
        ("-0 mm", 0.0),
    ] {
        reads(text, Dimension::Length, mm);
    }
}

#[test]
fn other_quantities_in_both_systems() {
    for (text, dimension, value) in [
        ("21 C", Dimension::Temperature, 21.0),
        ("21 °C", Dimension::Temperature, 21.0),
        ("70 F", Dimension::Temperature, 38.0 / 1.8),
        ("32F", Dimension::Temperature, 0.0),
        ("-5 C", Dimension::Temperature, -5.0),
        ("50 %", Dimension::Share, 50.0),
        ("50% RH", Dimension::Share, 50.0),
        ("5 kg", Dimension::Mass, 5.0),
        ("2 lb", Dimension::Mass, 0.907_184_7),
        ("2 lb 8 oz", Dimension::Mass, 1.133_980_9),
        ("200 g", Dimension::Mass, 0.2),
        ("500 ml", Dimension::Volume, 500.0),
        ("1/2 l", Dimension::Volume, 500.0),
        ("1 us gallon", Dimension::Volume, 3_785.411_8),
        ("1 uk pint", Dimension::Volume, 568.261_2),
        ("20 kg/m", Dimension::Along, 20.0),
        ("1 lb/ft", Dimension::Along, 1.488_164),
        ("720 kg/m3", Dimension::Density, 720.0),
        ("45 lb/ft3", Dimension::Density, 720.830_9),
        ("3 mg/m³", Dimension::Dust, 3.0),
        ("2 h 30 min", Dimension::Time, 2.5),
        ("50 N", Dimension::Force, 50.0),
    ] {
        reads(text, dimension, value);
    }
}

#[test]
fn a_force_may_be_said_as_a_weight() {
    let near = |text, expected: f32| {
        let found = force("the hand", text).unwrap();
        assert!((found - expected).abs() < 0.001, "{text}: {found}");
    };
    near("50 N", 50.0);
    near("5 kg", 49.033_25);
    near("11 lbf", 48.930_4);
    near("11 lb", 48.930_4);
    assert!(matches!(
        force("the hand", "5 mm"),
        Err(Trouble::Other { .. })
    ));
}

#[test]
fn a_cut_is_pounds_or_grams_to_the_litre_and_nothing_else() {
    for text in ["2 lb", "2-lb", "2 lb cut", "2-lb cut", "2 pounds"] {
        assert_eq!(cut(text), Ok(2.0), "{text}");
    }
    assert_eq!(cut("1 1/2 lb"), Ok(1.5));
    assert!((cut("240 g/l").unwrap() - 2.0029).abs() < 0.0001);
    for text in [
        "200 g/cup",
        "32 oz",
        "1 kg",
        "2 lb 3 oz",
        "2 lb/gal",
        "5 mm",
        "1 stone",
    ] {
        let said = cut(text).unwrap_err().to_string();
        let shown = format!("\"{text}\" is no cut.");
        assert!(
            said.starts_with(&shown) && said.contains("\"240 g/l\""),
            "{said}"
        );
    }
    // A number alone could be either.
    assert!(matches!(cut("2"), Err(Trouble::NoUnit { .. })));
}

#[test]
fn air_is_a_temperature_and_a_humidity_in_either_order() {
    let (celsius, humidity) = climate("68 F / 60 %").unwrap();
    assert!((celsius - 20.0).abs() < 1e-5 && humidity == 60.0);
    for text in [
        "20 C 60 %",
        "60 %, 20 C",
        "20C,60%",
        "20C60%",
        "20 °C; 60 % RH",
    ] {
        assert_eq!(climate(text), Ok((20.0, 60.0)), "{text}");
    }
    assert_eq!(climate("-1 C 80 %"), Ok((-1.0, 80.0)));
    for text in [
        "20 C",
        "60 %",
        "20 C 60 % 5 mm",
        "20 C 30 C",
        "20 C 30 C 60 %",
    ] {
        let said = climate(text).unwrap_err().to_string();
        assert!(said.contains("Write them like \"20 C 60 %\""), "{said}");
    }
    let (dust, hours) = both("work", "2 h 6 mg/m3", Dimension::Dust, Dimension::Time).unwrap();
    assert_eq!((dust, hours), (6.0, 2.0));
}

#[test]
fn what_is_nonsense_is_refused_with_the_fix() {
    let said = |text, dimension| {
        let trouble = read("the width", text, dimension).unwrap_err();
        trouble.to_string()
    };
    for (text, dimension, expected) in [
        (
            "500",
            Dimension::Length,
            "\"500\" for the width has no unit. Write it like \"18 mm\", \"1.8 cm\" or \"3/4 in\".",
        ),
        (
            "20 C",
            Dimension::Length,
            "\"20 C\" for the width is a temperature, and a length is wanted. Write it like \"18 \
             mm\", \"1.8 cm\" or \"3/4 in\".",
        ),
        (
            "18 mm",
            Dimension::Temperature,
            "\"18 mm\" for the width is a length, and a temperature is wanted. Write it like \"21 C\" \
             or \"70 F\".",
        ),
        (
            "-18 mm",
            Dimension::Length,
            "\"-18 mm\" is less than nothing, which the width cannot be. Leave the minus out.",
        ),
        (
            "5 furlongs",
            Dimension::Length,
            "I do not know the unit \"furlongs\" in \"5 furlongs\" for the width. Write it like \"18 \
             mm\", \"1.8 cm\" or \"3/4 in\".",
        ),
        (
            "1,5 mm",
            Dimension::Length,
            "In \"1,5 mm\" the comma may be a thousand or a decimal point. Write 1200 or 1.2.",
        ),
        (
            "3 in 4 mm",
            Dimension::Length,
            "\"3 in 4 mm\" for the width mixes units. Write one quantity in one system, like \"18 \
             mm\", \"1.8 cm\" or \"3/4 in\".",
        ),
        (
            "1 cup",
            Dimension::Volume,
            "A cup is not one size everywhere: write it in ml (a US cup is 237 ml, a metric one 250 ml).",
        ),
        (
            "2 gallons",
            Dimension::Volume,
            "A gallon is not one size everywhere: write \"us gallon\" (3.79 litres) or \"uk gallon\" \
             (4.55 litres).",
        ),
        (
            "1 pint",
            Dimension::Volume,
            "A pint is not one size everywhere: write \"us pint\" (473 ml) or \"uk pint\" (568 ml).",
        ),
    ] {
        assert_eq!(said(text, dimension), expected);
    }
    for text in [
        "", "wide", "NaN mm", "inf mm", "-inf mm", "mm", "1/0 in", "5 m3", "1.2.3 mm", "..mm",
    ] {
        let trouble = read("the width", text, Dimension::Length).unwrap_err();
        assert!(
            matches!(
                trouble,
                Trouble::NoNumber { .. } | Trouble::UnknownUnit { .. }
            ),
            "{text}: {trouble}"
        );
    }
    for text in [
        "1e9 mm",
        "5 ft 30 in",
        "5 ft -3 in",
        "2 in 3 in",
        "3 cm 2 ft",
    ] {
        assert!(
            read("the width", text, Dimension::Length).is_err(),
            "{text}"
        );
    }
    let huge = format!("{} mm", "9".repeat(400));
    assert!(said(&huge, Dimension::Length).contains("more than anything on a bench"));
    assert!(said("99999999 mm", Dimension::Length).contains("more than anything"));
    assert!(bare("the target", "80 %").is_err());
    assert_eq!(bare("the target", "1 1/2"), Ok(1.5));
    assert!(matches!(
        bare("the target", "-3"),
        Err(Trouble::Negative { .. })
    ));
}

proptest! {
    /// Whatever is typed is read or refused, and what is read is a number.
    #[test]
    fn no_text_panics(text in "\\PC{0,24}") {
        for dimension in [Dimension::Length, Dimension::Temperature, Dimension::Along] {
            if let Ok(value) = read("the width", &text, dimension) {
                prop_assert!(value.is_finite());
            }
        }
        let _ = (cut(&text), climate(&text), force("the hand", &text), bare("it", &text));
    }

    /// The same of texts that are nearly quantities.
    #[test]
    fn no_near_quantity_panics(
        text in "[-0-9./ ½,'\"]{0,8} ?(mm|in|ft|C|F|%|lb|cut|g/l|us pint|°|m|)[ 0-9/]{0,4}(in|)",
    ) {
        let read = read("the width", &text, Dimension::Length);
        prop_assert!(read.is_err() || read.is_ok_and(|mm| mm >= 0.0 && mm.is_finite()));
        let _ = (cut(&text), climate(&text), force("the hand", &text), bare("it", &text));
    }

    #[test]
    fn inches_are_so_many_millimetres(whole in 0_u16..200, over in 1_u16..16) {
        let expected = (f32::from(whole) + f32::from(over) / 16.0) * 25.4;
        reads(&format!("{whole} {over}/16 in"), Dimension::Length, expected);
        reads(&format!("{whole}-{over}/16\""), Dimension::Length, expected);
    }
}
