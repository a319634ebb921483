//! How long ago something was, how long it has lasted, how old it is: times as measures.

use tellmark_compile::check::Checked;
use tellmark_compile::room::Room;
use tellmark_core::truth::Truth;
use tellmark_core::words::{Reading, Unit};
use tellmark_language::model::{Asks, Found};
use tellmark_language::words;
use tellmark_language::{AnswerReader, Level};
use tellmark_tests::said::{house, share, with_found};

const TRUNKS: &str = "\
House rules for trunks, version 1.
Pieces: trunk.
Parts: lid.
A trunk has a lid.
Source house: our own.
You can ask how long ago a trunk was moved, in months, from 0 to 600.  Reads to: 1 week  On its own: in 5 of 10 cases
You can ask how long a lid has stood open, in days, from 0 to 4000.  On its own: in 2 of 10 cases
You can ask how old a trunk is, in years, from 0 to 400.
You can ask which season a trunk has: spring, summer, autumn or winter.
A trunk counts as newly moved when it was moved less than 6 weeks ago.  On its own: in 1 of 10 cases
You can see whether a lid is warped.  On its own: in 0 of 10 cases
Job: air the trunk.  Takes: 1 hour
";

fn rules(more: &str) -> Checked {
    let rules = house(&format!("{TRUNKS}{more}"));
    let stops = rules.reading.messages.iter();
    let stops: Vec<&str> = stops
        .filter(|m| m.level == Level::Stop)
        .map(|m| m.text.as_str())
        .collect();
    assert!(stops.is_empty(), "{stops:?}");
    rules
}

/// Whether the one plan of the rules is called for.
fn plan(condition: &str, found: &[&str]) -> Truth {
    let rules = rules(&format!(
        "When {condition} then plan to air the trunk.  From: house\n"
    ));
    with_found(&rules, "trunk", found, |set_up, _| {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("it opens");
        let mut case = set_up.case(pack, &mut room).expect("it fits");
        let mut called = Truth::False;
        case.inspection.plans(|call| called = call.truth);
        called
    })
}

#[test]
fn a_condition_holds_up_to_the_day_it_says() {
    let ago = |note: &str| format!("the trunk was moved {note} ago");
    let so = |condition: &str, note: &str| plan(condition, &[&ago(note)]);
    let less = "a trunk was moved less than 6 weeks ago";
    assert_eq!(so(less, "41 days"), Truth::True);
    assert_eq!(so(less, "6 weeks"), Truth::False);
    let within = "a trunk was moved within the last year";
    assert_eq!(so(within, "12 months"), Truth::True);
    assert_eq!(so(within, "366 days"), Truth::False);
    assert_eq!(plan(within, &[]), Truth::NotKnown);
    let not = "a trunk was not moved within the last six weeks";
    assert_eq!(so(not, "6 weeks"), Truth::False);
    assert_eq!(so(not, "43 days"), Truth::True);
    let between = "a trunk was moved between two and 4 weeks ago";
    assert_eq!(so(between, "two weeks"), Truth::True);
    assert_eq!(so(between, "13 days"), Truth::False);
    assert_eq!(so("a trunk is newly moved", "a month"), Truth::True);

    let lasting = "any lid of a trunk has stood open for at least 3 weeks";
    let stood = |note: &str| plan(lasting, &[&format!("the lid has stood open for {note}")]);
    assert_eq!(stood("21 days"), Truth::True);
    assert_eq!(stood("20.5 days"), Truth::False);
    let old = |note: &str| plan("a trunk is at least 100 years old", &[note]);
    assert_eq!(old("the trunk is 1200 months old"), Truth::True);
    assert_eq!(old("the trunk is 99 years old"), Truth::False);
}

/// What is had, and how long something has lasted, in one sentence.
#[test]
fn a_time_in_the_next_clause_is_not_of_this_one() {
    let both = "a trunk has a lid and any lid has stood open for at least 3 weeks";
    assert_eq!(
        plan(both, &["the lid has stood open for a month"]),
        Truth::True
    );
    let moved = "a trunk was moved within the last year and any lid has stood open for 3 weeks";
    let house = house(&format!(
        "{TRUNKS}When {moved} then plan to air the trunk.  From: house\n"
    ));
    let stops = house.reading.messages.iter();
    assert!(
        stops.clone().any(|m| m.level == Level::Stop),
        "a bare time is no limit"
    );
}

/// A time is a measure like any other: a reading within its gauge of a mark is in doubt.
#[test]
fn a_time_is_a_measure() {
    let reads = "If a trunk was moved less than 6 weeks ago then its lid is by definition warped.  From: house\n";
    let rules = rules(reads);
    let warped = |found: &[&str]| share(&rules, "trunk", found, "the lid is warped");
    assert!((warped(&[]) - 0.1).abs() < 1e-9);
    assert!(warped(&["the trunk was moved 2 weeks ago"]) > 0.99);
    assert!(warped(&["the trunk was moved 20 weeks ago"]) < 1e-6);
    let near = warped(&["the trunk was moved 6 weeks ago"]);
    assert!((0.2..0.8).contains(&near), "{near}");
}

/// A month is 487 sixteenths of a day, a year twelve of them.
#[test]
fn times_are_kept_exactly() {
    let rules = rules("");
    let reader = AnswerReader::new(&rules.reading.model);
    let ticks = |amount: &str| {
        let note = format!("the trunk was moved {amount} ago");
        match reader.facts(&note).expect("a note")[0].found {
            Found::Measure { ticks, .. } => ticks,
            _ => panic!("{note}"),
        }
    };
    let all = [
        "1 day",
        "1 week",
        "1 month",
        "1 year",
        "2.5 weeks",
        "a year",
        "three weeks",
    ];
    assert_eq!(all.map(ticks), [16, 112, 487, 5_844, 280, 5_844, 336]);
    assert!(reader.facts("the trunk was moved 1.5 months ago").is_err());
    assert!(reader.facts("the trunk was moved 51 years ago").is_err());
    assert!(reader.facts("the trunk was moved 3 hours ago").is_err());
}

#[test]
fn times_are_said_in_the_unit_that_they_are_whole_in() {
    use tellmark_language::model::Unit::{Day, Month, Week, Year};
    let said = |ticks, unit| words::quantity_short(ticks, unit);
    assert_eq!(said(0, Month), "0 months");
    assert_eq!(said(487, Month), "1 month");
    assert_eq!(said(336, Month), "3 weeks");
    assert_eq!(said(160, Month), "10 days");
    assert_eq!(said(168, Week), "1.5 weeks");
    assert_eq!(said(5_844, Day), "1 year");
    assert_eq!(said(18 * 487, Year), "18 months");
    assert_eq!(said(1, Year), "0.0625 days");
    // The unit says the same.
    let units = [
        (Day, Unit::Day),
        (Week, Unit::Week),
        (Month, Unit::Month),
        (Year, Unit::Year),
    ];
    for ticks in 0..20_000 {
        for (host, unit) in units {
            assert_eq!(Reading { ticks, unit }.to_string(), said(ticks, host));
        }
    }
}

#[test]
fn notes_and_sentences_are_read_back() {
    let more = "\
If a trunk was moved within the last year and its season is winter then its lid is often warped.  From: house
If a lid has stood open for more than a year then it is often warped.  From: house
";
    let rules = rules(more);
    let model = &rules.reading.model;
    let said: Vec<String> = words::read_back(model)
        .into_iter()
        .map(|s| s.text)
        .collect();
    let has = |text: &str| assert!(said.iter().any(|s| s.contains(text)), "{text}: {said:#?}");
    has("You can ask how long ago a trunk was moved, in months, from 0 months to 600 months");
    has("You can ask how long a lid has stood open, in days, from 0 days to 4000 days");
    has("counts as newly moved when it was moved less than 6 weeks ago");
    has("if it was moved at most 12 months ago, and its season is winter");
    has("if it has stood open for more than 1 year");
    let reader = AnswerReader::new(model);
    for note in [
        "the trunk was moved 3 weeks ago",
        "the trunk was moved 18 months ago",
        "the lid has stood open for 25 days",
        "the lid has stood open for 10.5 days",
        "the trunk is 120 years old",
        "season of the trunk is winter",
        "cannot ask how long ago the trunk was moved",
        "have not asked how long the lid has stood open",
    ] {
        let facts = reader.facts(note).expect(note);
        assert_eq!(words::fact_line(model, &facts[0]), note);
    }
}

#[test]
fn the_bench_dials_times_and_an_older_reader_refuses_the_pack() {
    let rules = rules("");
    let built = rules.built.as_ref().expect("sound");
    assert_eq!(built.bytes.bytes()[20], 3, "the lowest minor version");
    let dialled = |unit: Unit, times: u16| {
        let mut ticks = 0;
        let steps = (0..3).map(|_| {
            ticks = unit.dialled(ticks, true, 0, times);
            Reading { ticks, unit }.to_string()
        });
        steps.collect::<Vec<_>>().join(", ")
    };
    assert_eq!(dialled(Unit::Day, 0), "1 day, 2 days, 3 days");
    assert_eq!(dialled(Unit::Week, 8), "4 weeks, 8 weeks, 12 weeks");
    assert_eq!(dialled(Unit::Month, 16), "12 months, 24 months, 36 months");
    assert_eq!(dialled(Unit::Year, 99), "50 years, 100 years, 150 years");
    let asks = rules.reading.model.signs.iter().map(|sign| &sign.asks);
    assert_eq!(
        asks.filter(|asks| matches!(asks, Asks::HowMuch { .. }))
            .count(),
        3
    );
}
