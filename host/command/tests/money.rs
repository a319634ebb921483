//! Sums that must agree: what is planned and the owner's limit, what is done and what an invoice
//! charges for it, whole numbers and decimal ones in a price list.

use crate::user::User;
use tellmark_job::papers::Agreed;
use tellmark_job::record::Job;

/// A job that was ticked in several lots, some parts of it at a fixed price: what is done is worth
/// the same in the quotation and on the invoice, and each part is charged its share of the time.
#[test]
fn what_is_done_is_worth_the_same_in_quotation_and_invoice() {
    let user = User::with_priced_house();
    let run = |arguments: &[&str]| user.works(&[arguments, &["--rules", "house"]].concat());
    run(&["open", "gate-leg table", "--name", "table"]);
    run(&[
        "note",
        "table",
        "front left leg of the joined frame is certainly loose in the joint",
    ]);
    run(&[
        "note",
        "table",
        "back left table leg is moving by hand; front right table leg is moving by hand",
    ]);
    run(&["quote", "table", "--keep"]);
    run(&["brief", "table", "--agreed", "estimate 1"]);
    let job = "clean out the joint";
    let (left, right) = ("front left table leg", "front right table leg");
    let first = [
        "done", "table", job, "--part", left, "--part", right, "--took", "1 h", "--anyway",
    ];
    // The joints were cleaned before the frame was down: that is said, and what it is worth stays.
    let done = |arguments: &[&str]| {
        let ran = user.run(&[arguments, &["--rules", "house"]].concat());
        assert_eq!(ran.code, Some(0), "{}", ran.all());
        ran.out
    };
    let told = done(&first);
    assert!(
        !told.contains("No paper that the owner agreed to"),
        "{told}"
    );
    done(&[
        "done",
        "table",
        job,
        "--part",
        "back left table leg",
        "--took",
        "10 min",
        "--anyway",
    ]);
    let invoice = run(&["invoice", "table"]);
    let sum = invoice
        .lines()
        .find_map(|line| line.trim().strip_prefix("In all"));
    let sum = sum
        .expect("a sum")
        .trim()
        .trim_end_matches(" marks")
        .to_owned();
    // Half of the hour is of the leg with a fixed price.
    assert!(invoice.contains(", 40 min (agreed up to "), "{invoice}");
    // What is still open beside what was agreed is less by just that.
    let most = Agreed::of(&Job::open(&user.path("table")).expect("it opens"))
        .expect("read")
        .at_most();
    let told = run(&["quote", "table"]);
    let unasked = told
        .lines()
        .find_map(|line| line.trim().strip_prefix("Never more, unasked"));
    let unasked = unasked.expect("said").trim().trim_end_matches(" marks");
    let number = |said: &str| said.parse::<rust_decimal::Decimal>().expect("an amount");
    assert_eq!(most - number(&sum), number(unasked), "{told}");
}

/// A tick of a dozen parts is a line of an invoice like any other.
#[test]
fn a_tick_of_many_parts_stops_no_paper() {
    let user = User::with_priced_house();
    let run = |arguments: &[&str]| user.works(&[arguments, &["--rules", "house"]].concat());
    run(&["open", "gate-leg table", "--name", "table"]);
    let loose = "every table leg of the joined frame is certainly loose in the joint; every table \
                 stretcher of the joined frame is certainly loose in the joint";
    run(&["note", "table", loose]);
    run(&["quote", "table", "--keep"]);
    run(&["brief", "table", "--agreed", "estimate 1"]);
    let tick = [
        "done",
        "table",
        "assemble it dry",
        "--anyway",
        "--took",
        "3 h",
    ];
    let ran = user.run(&[&tick[..], &["--rules", "house"]].concat());
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    for command in ["quote", "invoice"] {
        run(&[command, "table"]);
    }
}

/// An hour at 52 costs what an hour at 52.0 costs.
#[test]
fn whole_numbers_in_a_price_list_are_divided_exactly() {
    let user = User::with_priced_house();
    let quote = |user: &User| user.works(&["quote", "chest", "--rules", "house"]);
    let list = user.text("house/prices.rhai");
    let mut told = Vec::new();
    for hour in ["52.0", "52"] {
        let hour = list.replace("const HOUR = 30.0", &format!("const HOUR = {hour}"));
        user.write("house/prices.rhai", hour);
        told.push(quote(&user));
    }
    assert!(told[0].contains("Fixed in all"), "{}", told[0]);
    assert_eq!(told[0], told[1]);
}

/// So are they in place, and beside decimal numbers.
#[test]
fn a_number_is_divided_in_place_as_it_is_elsewhere() {
    let user = User::with_priced_house();
    let list = user.text("house/prices.rhai");
    let sums = "fn line(job) { let a = 90; a /= 60; let b = 5.0; b /= 2; let c = 7; c /= 2.0; \
                print(`${a} ${b} ${c} ${90 / 60} ${90 / 45}`);";
    user.write("house/prices.rhai", list.replace("fn line(job) {", sums));
    let ran = user.run(&["quote", "chest", "--rules", "house"]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(
        ran.err.starts_with("prices.rhai: 1.50 2.5 3.5 1.50 2\n"),
        "{}",
        ran.err
    );
    for zero in [
        "9 / 0",
        "{ let a = 9; a /= 0; a }",
        "{ let a = 9.5; a /= 0; a }",
    ] {
        let sums = format!("fn line(job) {{ let x = {zero};");
        user.write("house/prices.rhai", list.replace("fn line(job) {", &sums));
        let ran = user.run(&["quote", "chest", "--rules", "house"]);
        assert_eq!(ran.code, Some(2), "{zero}");
    }
}

/// What is planned, and not only what is fixed, is held against the owner's limit.
#[test]
fn a_limit_is_compared_with_what_is_planned() {
    let user = User::with_priced_house();
    let run = |arguments: &[&str]| user.works(&[arguments, &["--rules", "house"]].concat());
    run(&["open", "pedestal table", "--name", "table"]);
    run(&[
        "note",
        "table",
        "pedestal leg 2 of the pedestal is moving by hand",
    ]);
    run(&["brief", "table", "--limit", "60 marks"]);
    let told = run(&["quote", "table"]);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("Over the owner's limit of 60 marks: what is fixed comes to"),
        "{told}"
    );
    run(&["report", "table", "--out", "page.html"]);
    let page = user.text("page.html");
    assert!(page.contains("That is more than we may begin: we do not go beyond"));
}

/// What falls away with an exception is said, also where it was only to come up to its price.
#[test]
fn what_is_not_sure_and_falls_away_is_said_too() {
    let user = User::with_priced_house();
    let rules = ["--rules", "house"];
    user.works(&[&["open", "pedestal table", "--name", "table"][..], &rules].concat());
    let loose = "pedestal leg 2 of the pedestal is moving by hand";
    user.works(&[&["note", "table", loose][..], &rules].concat());
    user.works(&[&["quote", "table", "--keep"][..], &rules].concat());
    let answer = ["brief", "table", "--agreed", "estimate 1"];
    let except = ["--except", "clean out the joint"];
    let told = user.works(&[&answer[..], &except, &rules].concat());
    let (_, said) = told
        .split_once("Without that, this will not be done either: ")
        .expect("said");
    let leg = "reset the pedestal leg: pedestal leg 2 of the pedestal (up to ";
    assert!(said.contains(leg), "{told}");
}
