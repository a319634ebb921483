//! `tellmark sum`, as a user types it.

use crate::user::User;
use serde_json::Value;

const FALL: &[&str] = &[
    "sum",
    "fall",
    "--depth",
    "450 mm",
    "--thickness",
    "20 mm",
    "--weight",
    "4.779 kg",
];

const YEAR: &[&str] = &[
    "sum",
    "movement",
    "--wood",
    "mahogany",
    "--cut",
    "flat",
    "--width",
    "500 mm",
    "--climate",
    "18 C 45 %",
    "--climate",
    "18 C 48 %",
    "--climate",
    "18 C 50 %",
    "--climate",
    "19 C 52 %",
    "--climate",
    "19 C 55 %",
    "--climate",
    "20 C 58 %",
    "--climate",
    "21 C 60 %",
    "--climate",
    "21 C 62 %",
    "--climate",
    "20 C 60 %",
    "--climate",
    "19 C 55 %",
    "--climate",
    "18 C 48 %",
    "--climate",
    "18 C 44 %",
];

#[test]
fn without_a_name_the_sums_are_listed() {
    let user = User::new();
    let out = user.works(&["sum"]);
    for listed in ["moisture", "panel", "tipping", "Hide", "sum NAME --help"] {
        let found = out.to_lowercase().contains(&listed.to_lowercase());
        assert!(found, "{listed} in {out}");
    }
    let json = user.run(&["sum", "--json"]).json();
    assert_eq!(json["shape"], "sums 1");
    assert_eq!(json["sums"].as_array().map(Vec::len), Some(12));
}

#[test]
fn source_and_caution_are_always_printed_and_working_when_asked_for() {
    let user = User::new();
    let asked = ["sum", "shellac", "--cut", "2-lb", "--alcohol", "500 ml"];
    let out = user.works(&asked);
    assert!(
        out.starts_with("A 2 lb cut takes 120 g of flake for 500 ml of alcohol.\n"),
        "{out}"
    );
    assert!(out.contains("\nSource: Conversion of pounds"), "{out}");
    assert!(out.contains("\nTake care: Alcohol takes fire"), "{out}");
    assert!(!out.contains("239.65") && !out.contains("240 g/l"), "{out}");
    let out = user.works(&[&asked[..], &["--working"]].concat());
    assert!(out.contains("is 119.83 g to the litre"), "{out}");
    let json = user.run(&[&asked[..], &["--json"]].concat()).json();
    assert_eq!(
        (&json["shape"], &json["sum"]),
        (&"sum 1".into(), &"shellac".into())
    );
    assert_eq!(json["drawing"], Value::Null);
    for list in ["working", "sources", "figures"] {
        assert!(
            json[list].as_array().is_some_and(|list| !list.is_empty()),
            "{list}: {json}"
        );
    }
    assert_eq!(json["figures"][2]["value"], 119.826);
    assert_eq!(json["figures"][2]["unit"], "g");
}

#[test]
fn what_is_wrong_is_misuse_with_the_fix() {
    let user = User::new();
    for (asked, said) in [
        (
            &["sum", "shellac", "--cut", "200 g/cup", "--alcohol", "1 l"][..],
            "\"200 g/cup\" is no cut.",
        ),
        (
            &["sum", "shellac", "--cut", "2 lb", "--alcohol", "1 cup"],
            "A cup is not one size everywhere",
        ),
        (
            &[
                "sum", "screw", "--wood", "oak", "--gauge", "8", "--thread", "-5 mm",
            ],
            "is less than nothing",
        ),
        (
            &[
                "sum", "screw", "--wood", "oak", "--gauge", "8", "--thread", "20 C",
            ],
            "is a temperature, and a length is wanted",
        ),
        (
            &[
                "sum", "screw", "--wood", "mahagony", "--gauge", "8", "--thread", "20 mm",
            ],
            "Did you mean \"mahogany\"?",
        ),
        (
            &["sum", "moisture", "--climate", "90 C 50 %"],
            "the sum holds from -1.2 to 60 °C",
        ),
        (
            &["sum", "screw", "--wood", "oak", "--thread", "20 mm"],
            "This is missing: --gauge",
        ),
        (
            &["sum", "shellack"],
            "There is no command \"shellack\". Did you mean \"shelf\" or \"shellac\"?",
        ),
    ] {
        let ran = user.run(asked);
        assert_eq!(ran.code, Some(2), "{asked:?}: {}", ran.err);
        assert!(
            ran.out.is_empty() && ran.err.contains(said),
            "{asked:?}: {}",
            ran.err
        );
    }
}

#[test]
fn a_rule_joint_is_answered_no() {
    let user = User::new();
    let rule = [FALL, &["--joint", "rule"]].concat();
    let ran = user.run(&rule);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    assert!(
        ran.err
            .starts_with("A rule joint has no stop below its pin"),
        "{}",
        ran.err
    );
    let json = user.run(&[&rule[..], &["--json"]].concat());
    let value: Value = serde_json::from_str(&json.out).expect("JSON");
    assert_eq!(
        (&value["shape"], &value["exit"]),
        (&"error 1".into(), &1.into())
    );
    let out = user.works(&[&rule[..], &["--supports", "300 mm"]].concat());
    assert!(out.contains("nothing lifts"), "{out}");
}

#[test]
fn drawings_are_written_over_nothing_but_drawings() {
    let user = User::new();
    let out = user.works(&[FALL, &["--hand", "50 N", "--svg", "fall.svg"]].concat());
    assert!(out.ends_with("The drawing is in fall.svg.\n"), "{out}");
    let drawing = user.text("fall.svg");
    assert!(
        drawing.starts_with("<svg") && drawing.ends_with("</svg>"),
        "{drawing}"
    );
    for said in ["weight 47 N", "hand 50 N", "hinges hold back 2065 N"] {
        assert!(drawing.contains(said), "{said} in {drawing}");
    }
    user.works(
        &[
            FALL,
            &[
                "--supports",
                "200 mm",
                "--hand",
                "50 N",
                "--svg",
                "fall.svg",
            ],
        ]
        .concat(),
    );
    let drawing = user.text("fall.svg");
    assert!(drawing.contains("hinges hold down 68 N"), "{drawing}");
    user.works(&[YEAR, &["--svg", "year.svg"]].concat());
    let drawing = user.text("year.svg");
    for said in ["Mahogany", "Jan", "Dec", "18 °C", "44 %", "<polygon"] {
        assert!(
            drawing.contains(said) || drawing.contains(&said.to_lowercase()),
            "{said}"
        );
    }
    user.write("letter.txt", "not a drawing");
    let ran = user.run(&[FALL, &["--svg", "letter.txt"]].concat());
    assert_eq!(ran.code, Some(2), "{}", ran.err);
    assert_eq!(user.text("letter.txt"), "not a drawing");
}

#[cfg(unix)]
#[test]
fn a_drawing_follows_no_link() {
    let user = User::new();
    user.write("elsewhere.svg", "<svg>another's</svg>");
    std::os::unix::fs::symlink(user.path("elsewhere.svg"), user.path("fall.svg")).expect("a link");
    let ran = user.run(&[FALL, &["--svg", "fall.svg"]].concat());
    assert_eq!(ran.code, Some(3), "{}", ran.err);
    assert!(
        ran.err.contains("it is a link to another place"),
        "{}",
        ran.err
    );
    assert_eq!(user.text("elsewhere.svg"), "<svg>another's</svg>");
    let ran = user.run(&[FALL, &["--svg", "nowhere/fall.svg"]].concat());
    assert_eq!(ran.code, Some(3), "{}", ran.err);
}

/// Examples in the help of each sum are what they say: they work.
#[test]
fn examples_in_the_help_work() {
    let user = User::new();
    let list = user.run(&["sum", "--json"]).json();
    let mut tried = 0;
    for sum in list["sums"].as_array().expect("a list") {
        let name = sum["name"].as_str().expect("a name");
        let help = user.works(&["sum", name, "--help"]);
        let examples = help.split("Example").nth(1).unwrap_or_default();
        // Examples may be wrapped: each goes on to the next, or to an empty line.
        let examples = examples.split("\n\n").next().unwrap_or_default();
        for example in examples.split("tellmark sum ").skip(1) {
            let arguments: Vec<String> = words(&format!("sum {example}"));
            let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
            user.works(&arguments);
            tried += 1;
        }
    }
    assert!(tried > 15, "only {tried}");
}

/// Words of a command line, with quotes taken as one.
fn words(line: &str) -> Vec<String> {
    let line = line.split_whitespace().collect::<Vec<_>>().join(" ");
    let parts = line.split('"').enumerate();
    parts
        .flat_map(|(at, part)| match at % 2 {
            0 => part
                .split(' ')
                .filter(|word| !word.is_empty())
                .map(str::to_owned)
                .collect(),
            _ => vec![part.to_owned()],
        })
        .collect()
}
