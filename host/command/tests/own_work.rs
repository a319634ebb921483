//! Work that no rule plans: planned, priced, agreed, ticked and charged like any other.

use crate::user::User;

/// A workshop with prices, and an estimate that was agreed to.
fn workshop() -> User {
    let user = User::with_priced_house();
    user.works(&["quote", "chest", "--keep"]);
    user.works(&["brief", "chest", "--agreed", "estimate 1"]);
    user
}

/// A house that was begun asks for its prices before it names any.
#[test]
fn a_house_without_prices_names_none() {
    let user = User::new();
    user.works(&["house", "begin", "house", "--name", "the bench at Tanyard"]);
    let prices = user.text("house/prices.rhai");
    assert!(!prices.to_lowercase().contains("invented"), "{prices}");
    user.works(&["open", "chest of drawers", "--name", "chest"]);
    let unpriced = user.run(&["quote", "chest"]);
    assert_eq!(unpriced.code, Some(2), "{}", unpriced.out);
    assert!(
        unpriced.err.contains("the price of an hour"),
        "{}",
        unpriced.err
    );
}

#[test]
fn own_work_is_planned_priced_agreed_ticked_and_charged() {
    let user = workshop();
    let own = [
        "--own",
        "turn a new knob",
        "--takes",
        "2 h",
        "--part",
        "drawer 1",
    ];
    user.works(&[&["plan", "chest"], &own[..]].concat());
    let plan = user.works(&["plan", "chest"]);
    assert!(plan.contains("turn a new knob: drawer 1 (2 h)"), "{plan}");
    assert!(
        plan.contains("Not agreed yet: turn a new knob (drawer 1)."),
        "{plan}"
    );
    let supplement = user.works(&["quote", "chest", "--supplement", "--keep"]);
    assert!(
        supplement.contains("turn a new knob: drawer 1"),
        "{supplement}"
    );
    assert!(supplement.contains("60.00 marks"), "{supplement}");
    user.works(&["brief", "chest", "--agreed", "supplement 2"]);
    let plan = user.works(&["plan", "chest"]);
    assert!(!plan.contains("Not agreed yet"), "{plan}");
    let letter = user.run(&["report", "chest", "--json"]).json()["letter"].clone();
    assert!(
        letter["proposed"]
            .to_string()
            .contains("We will do this: turn a new knob."),
        "{letter}"
    );

    // By its number in the plan, like any job.
    let line = plan.lines().find(|line| line.contains("turn a new knob"));
    let number = line
        .and_then(|line| line.trim().split('.').next())
        .expect("numbered");
    user.works(&["done", "chest", number, "--took", "2 h 10"]);
    let again = user.run(&["done", "chest", "turn a new knob"]);
    assert_eq!(again.code, Some(1), "{}", again.err);
    assert!(again.err.contains("It is ticked already"), "{}", again.err);
    let plan = user.works(&["plan", "chest"]);
    assert!(!plan.contains("Work of your own"), "{plan}");
    let invoice = user.works(&["invoice", "chest"]);
    assert!(invoice.contains("turn a new knob: drawer 1"), "{invoice}");
    assert!(invoice.contains("60.00"), "{invoice}");
}

#[test]
fn own_work_counts_in_hours_and_in_what_is_left() {
    let user = workshop();
    let minutes = |user: &User| -> Vec<f64> {
        let plan = user.run(&["plan", "chest", "--json"]).json();
        let certain = plan["minutes"]["certain"]
            .as_array()
            .expect("three")
            .clone();
        certain
            .iter()
            .filter_map(serde_json::Value::as_f64)
            .collect()
    };
    let mean =
        |user: &User| user.run(&["quote", "chest", "--json"]).json()["rests_on"]["mean"].as_f64();
    let (before, mean_before) = (minutes(&user), mean(&user).expect("a figure"));
    user.works(&[
        "plan",
        "chest",
        "--own",
        "line the drawers",
        "--takes",
        "30 min",
        "--part",
        "every drawer",
    ]);
    let after = minutes(&user);
    for (before, after) in before.iter().zip(&after) {
        assert!((after - before - 120.0).abs() < 1e-9, "{before} {after}");
    }
    let more = mean(&user).expect("a figure") - mean_before;
    assert!((more - 2.0).abs() < 1e-9, "{more}");
    // Ticked for one drawer, three are left.
    user.works(&["done", "chest", "line the drawers", "--part", "drawer 3"]);
    let plan = user.works(&["plan", "chest"]);
    assert!(
        plan.contains("line the drawers: drawer 1, drawer 2 and drawer 4 (30 min each)"),
        "{plan}"
    );
    user.works(&["plan", "chest", "--not-own", "line the drawers"]);
    let plan = user.works(&["plan", "chest"]);
    assert!(!plan.contains("Work of your own"), "{plan}");
    let none = user.run(&["plan", "chest", "--not-own", "line the drawers"]);
    assert_eq!(none.code, Some(2), "{}", none.err);
}

#[test]
fn a_job_of_the_rules_is_no_work_of_ones_own() {
    let user = workshop();
    let ran = user.run(&[
        "plan",
        "chest",
        "--own",
        "wax the runners",
        "--takes",
        "1 h",
    ]);
    assert_eq!(ran.code, Some(2), "{}", ran.out);
    assert!(ran.err.contains("is a job of these rules"), "{}", ran.err);
    let ran = user.run(&["plan", "chest", "--own", "turn a knob", "--takes", "soon"]);
    assert_eq!(ran.code, Some(2), "{}", ran.out);
    // A number would be taken for a step; a full stop makes no other job of it.
    let long = "turn a knob ".repeat(20);
    for name in ["3", "wax the runners.", "", long.as_str()] {
        let ran = user.run(&["plan", "chest", "--own", name, "--takes", "1 h"]);
        assert_eq!(ran.code, Some(2), "{name}: {}", ran.out);
    }
}

#[test]
fn a_house_begins_with_what_is_to_be_filled_in_and_nothing_is_written_over() {
    let user = User::new();
    user.works(&["house", "begin", "house"]);
    user.write("house/workshop.txt", "name: our own\n");
    let again = user.works(&["house", "begin", "house"]);
    assert!(again.starts_with("All of it is there already"), "{again}");
    assert_eq!(user.text("house/workshop.txt"), "name: our own\n");
    user.works(&["check", "--rules", "house"]);
    user.works(&["open", "chest of drawers with 4 drawers", "--name", "chest"]);
    let ran = user.run(&["quote", "chest", "--rules", "house"]);
    assert_ne!(ran.code, Some(0), "{}", ran.out);
    assert!(
        ran.err.contains("put the price of an hour behind HOUR"),
        "{}",
        ran.err
    );
    let ran = user.run(&["house", "begin", "other", "--name", "x: y\nz"]);
    assert_eq!(ran.code, Some(2), "{}", ran.out);
    assert!(!user.path("other").exists());
}

#[test]
fn the_owner_decides_on_own_work_as_on_any_job() {
    let user = workshop();
    let plan_own = |part: &str| {
        user.works(&[
            "plan", "chest", "--own", "gild it", "--takes", "3 h", "--part", part,
        ])
    };
    plan_own("drawer 1");
    // What is planned of it elsewhere stays, and a part counts once.
    user.works(&[
        "plan", "chest", "--own", "gild it", "--takes", "3 h", "--part", "drawer 2", "--part",
        "drawer 2",
    ]);
    let plan = user.works(&["plan", "chest"]);
    assert!(plan.contains("gild it: drawer 1 (3 h)"), "{plan}");
    assert!(plan.contains("gild it: drawer 2 (3 h)"), "{plan}");
    user.works(&[
        "brief",
        "chest",
        "--refused",
        "gild it",
        "--part",
        "drawer 1",
    ]);
    let plan = user.works(&["plan", "chest"]);
    assert!(!plan.contains("gild it: drawer 1"), "{plan}");
    assert!(plan.contains("gild it: drawer 2"), "{plan}");
    let ran = user.run(&["done", "chest", "gild it", "--part", "drawer 1"]);
    assert_eq!(ran.code, Some(1), "{}", ran.out);
    assert!(
        ran.err.contains("The owner would not have it"),
        "{}",
        ran.err
    );
    // And by a paper.
    user.works(&["quote", "chest", "--keep"]);
    user.works(&[
        "brief",
        "chest",
        "--agreed",
        "estimate 2",
        "--except",
        "gild it",
    ]);
    let plan = user.works(&["plan", "chest"]);
    assert!(!plan.contains("gild it: drawer"), "{plan}");
}

#[test]
fn own_work_is_not_planned_on_what_is_to_be_left_alone() {
    let user = workshop();
    user.works(&[
        "plan", "chest", "--own", "gild it", "--takes", "3 h", "--part", "drawer 1",
    ]);
    user.works(&["brief", "chest", "--leave", "drawer 1"]);
    let plan = user.works(&["plan", "chest"]);
    assert!(!plan.contains("gild it"), "{plan}");
    let ran = user.run(&[
        "plan",
        "chest",
        "--own",
        "turn a knob",
        "--takes",
        "1 h",
        "--part",
        "drawer 1",
    ]);
    assert_eq!(ran.code, Some(1), "{}", ran.out);
    assert!(ran.err.contains("left alone (line "), "{}", ran.err);
    assert!(
        ran.err
            .contains("tellmark brief chest --not-leave \"drawer 1\""),
        "{}",
        ran.err
    );
}

/// Work of one's own is not said to have been done for whatever was wrong with the part.
#[test]
fn the_letter_gives_no_reason_for_work_of_ones_own_that_nobody_gave() {
    let user = User::with_chest(
        "job folder: 1\npiece: chest of drawers with 3 drawers\n",
        "2026-03-02 09:12  drawer 2 is stiff\n\
         2026-03-02 09:13  drawer 2 is scraping below\n\
         2026-03-02 09:14  left runner of drawer 2 is worn 3 mm\n",
    );
    let part = ["--part", "drawer 2", "--took", "1 h", "--anyway"];
    let own = ["done", "chest", "turn a new knob", "--own"];
    user.run(&[&own[..], &part].concat());
    let mended = ["done", "chest", "dry out the drawer"];
    user.run(&[&mended[..], &part].concat());
    let letter = user.run(&["report", "chest", "--kind", "hand-back", "--json"]);
    let repairs = letter.json()["letter"]["repairs"].clone();
    let repairs = repairs.as_array().expect("a list");
    let of_own = repairs
        .iter()
        .find(|repair| repair["says"].to_string().contains("turn a new knob"))
        .expect("told");
    assert_eq!(of_own["heading"], "Drawer 2");
}
