//! `tellmark quote`, and the house's own checks, as a user types them.

use std::fs;
use std::ops::Deref;

use crate::user::User;
use serde_json::Value;

/// A copy of the demonstration job, and rules of a house beside it.
struct Bench {
    user: User,
}

impl Deref for Bench {
    type Target = User;

    fn deref(&self) -> &User {
        &self.user
    }
}

impl Bench {
    fn new() -> Self {
        let user = User::with_demonstration();
        user.make("rules");
        let rules = "House rules for a test, version 1.\n\nJob: oil the runners.\n    \
                     Takes: 5 to 10 minutes, mostly 5  From: house\n";
        user.write("rules/own.rules.txt", rules);
        Self { user }
    }

    /// The quotation as data.
    fn quoted(&self, more: &[&str]) -> Value {
        let ran = self.run(&[&["quote", "chest", "--json"], more].concat());
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
        serde_json::from_str(&ran.out).expect("JSON")
    }
}

/// A price list that takes every hour for one coin.
const PLAIN: &str = "
fn line(job) {
    if job.certain { #{ text: job.job, amount: job.mean } }
}
fn terms(work) {
    #{ currency: \"coins\", decimals: 0, valid_days: 10 }
}
";

/// Without the day, which is another one tomorrow.
fn dateless(out: &str) -> String {
    let line = |line: &str| match line.split_once(", until ") {
        Some((stands, _)) => format!("{stands}, until (a day).\n"),
        None => format!("{line}\n"),
    };
    out.lines().map(line).collect()
}

#[test]
fn quotation_for_the_demonstration() {
    let ran = Bench::new().run(&["quote", "chest"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("quote", dateless(&ran.out));
}

#[test]
fn the_house_has_its_own_prices() {
    let bench = Bench::new();
    bench.write("rules/prices.rhai", PLAIN);
    // Its prices alone will do: then it goes by the standard rules.
    fs::remove_file(bench.path("rules/own.rules.txt")).expect("removed");
    let quoted = bench.quoted(&["--rules", "rules"]);
    assert_eq!(quoted["prices_are_invented"], false);
    assert_eq!(quoted["prices"]["currency"], "coins");
    assert_eq!(quoted["prices"]["valid_days"], 10);
    let lines = quoted["prices"]["fixed"].as_array().expect("a list");
    let sum: u64 = lines
        .iter()
        .map(|line| {
            line["amount"]
                .as_str()
                .expect("text")
                .parse::<u64>()
                .expect("whole")
        })
        .sum();
    assert_eq!(quoted["prices"]["fixed_total"], sum.to_string());
    let ran = bench.run(&["quote", "chest", "--rules", "rules", "--valid", "1"]);
    assert!(
        ran.out.contains("It stands for 1 day, until "),
        "{}",
        ran.out
    );
    assert!(!ran.out.contains("invented"), "{}", ran.out);
}

#[test]
fn the_total_is_worked_out_from_the_whole_record() {
    let bench = Bench::new();
    let before = bench.quoted(&[]);
    let hours = |quoted: &Value| quoted["rests_on"]["mean"].as_f64().expect("a number");
    let spread = |quoted: &Value| quoted["rests_on"]["deviation"].as_f64().expect("a number");
    // The first thing named as widening the range, found to be so.
    let record = fs::read_to_string(bench.path("chest/record.txt")).expect("there");
    let first = &before["rests_on"]["widens"][0];
    assert_eq!(first["words"], "is stood on damp floors");
    bench.write(
        "chest/record.txt",
        format!("{record}2026-11-24 15:00  the piece is certainly stood on damp floors\n"),
    );
    let after = bench.quoted(&[]);
    let wanted = first["hours_if_so"].as_f64().expect("a number");
    assert!(
        (hours(&after) - wanted).abs() < 1e-6,
        "{} {wanted}",
        hours(&after)
    );
    bench.write(
        "chest/record.txt",
        format!("{record}2026-11-24 15:00  the piece is certainly not stood on damp floors\n"),
    );
    let other = bench.quoted(&[]);
    let chance = first["chance"].as_f64().expect("a number");
    let left = chance * spread(&after).powi(2) + (1.0 - chance) * spread(&other).powi(2);
    let wanted = first["deviation"].as_f64().expect("a number");
    assert!(
        (left.sqrt() - wanted).abs() < 1e-6,
        "{} {wanted}",
        left.sqrt()
    );
}

#[test]
fn what_is_refused_or_done_costs_nothing_more() {
    let bench = Bench::new();
    let has = |quoted: &Value, job: &str, part: &str| {
        let items = quoted["rests_on"]["items"].as_array().expect("a list");
        items
            .iter()
            .any(|item| item["job"] == job && item["part"] == part)
    };
    let before = bench.quoted(&[]);
    let (carcase, side) = ("the chest of drawers", "left side");
    assert!(has(&before, "square the carcase", carcase));
    assert!(has(&before, "slip the side", side));
    let refused = bench.run(&["brief", "chest", "--refused", "square the carcase"]);
    assert_eq!(refused.code, Some(0), "{}", refused.err);
    let done = bench.run(&["done", "chest", "slip the side"]);
    assert_eq!(done.code, Some(0), "{}", done.err);
    let after = bench.quoted(&[]);
    assert!(!has(&after, "square the carcase", carcase));
    assert!(!has(&after, "slip the side", side));
    let mean = |quoted: &Value| quoted["rests_on"]["mean"].as_f64().expect("a number");
    // Squaring takes 3 to 6 hours, the side 1.5 to 3.
    let less = mean(&before) - mean(&after);
    assert!((5.0..9.0).contains(&less), "{less}");
}

#[test]
fn a_script_that_goes_wrong_stops_the_quotation_and_nothing_else() {
    let bench = Bench::new();
    bench.write(
        "rules/prices.rhai",
        "fn line(job) { loop { } }\nfn terms(work) { }\n",
    );
    let ran = bench.run(&["quote", "chest", "--rules", "rules"]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""));
    insta::assert_snapshot!("quote_loop", ran.err);
    assert_eq!(
        bench.run(&["plan", "chest", "--rules", "rules"]).code,
        Some(0)
    );
    let page = ["report", "chest", "--rules", "rules", "--out", "page.html"];
    let ran = bench.run(&page);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    let said = "The page names no prices until that is put right.\n";
    assert!(ran.err.ends_with(said), "{}", ran.err);
    let page = fs::read_to_string(bench.path("page.html")).expect("written");
    assert!(page.contains("What we propose") && !page.contains("What it costs"));
}

#[test]
fn what_a_script_prints_goes_to_the_error_stream() {
    let bench = Bench::new();
    bench.write(
        "rules/prices.rhai",
        PLAIN.replace("fn terms(work) {", "fn terms(work) { print(work.piece);"),
    );
    let ran = bench.run(&["quote", "chest", "--rules", "rules"]);
    assert_eq!(ran.code, Some(0));
    assert_eq!(ran.err, "prices.rhai: chest of drawers with 4 drawers\n");
}

#[test]
fn findings_that_clash_cannot_be_quoted() {
    let bench = Bench::new();
    bench.write(
        "rules/own.rules.txt",
        "House rules for sure, version 1.\nSource sure: our own.\n\
         A back may be pulled off without showing it.  On its own: rarely\n    Missed: 1 hour, risk 1\n\
         If a back is pulled off then it is by definition rattling.  From: sure\n",
    );
    let record = fs::read_to_string(bench.path("chest/record.txt")).expect("there");
    bench.write(
        "chest/record.txt",
        format!(
            "{record}2026-11-24 15:00  the back is pulled off\n\
             2026-11-24 15:01  the back is certainly not rattling\n"
        ),
    );
    let ran = bench.run(&["quote", "chest", "--rules", "rules"]);
    assert_eq!((ran.code, ran.out.as_str()), (Some(2), ""));
    assert_eq!(
        ran.err,
        "The findings cannot all be true, so nothing can be quoted. To see which ones clash:\n  tellmark triage chest --rules rules\n"
    );
}

#[test]
fn a_house_checks_its_own_rules() {
    let bench = Bench::new();
    let check = "fn check(entry) {\n    if !entry.standard && entry.kind == \"job\" && \
                 entry.needs.is_empty() {\n        \"Which materials does it need?\"\n    }\n}\n";
    bench.write("rules/checks.rhai", check);
    let ran = bench.run(&["check", "--rules", "rules"]);
    assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""));
    insta::assert_snapshot!("check_house", ran.out);

    bench.write("rules/checks.rhai", "fn check(entry) { entry.nmae }\n");
    let ran = bench.run(&["check", "--rules", "rules"]);
    assert_eq!(ran.code, Some(1));
    insta::assert_snapshot!("check_house_wrong", ran.out);
    let ran = bench.run(&["check", "--rules", "rules", "--json"]);
    let said: Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(said["to_mend"], 1);
    assert!(
        said["messages"]
            .as_array()
            .expect("a list")
            .iter()
            .any(|m| {
                m["file"] == "checks.rhai" && m["words"] == "nmae" && m["level"] == "stop"
            })
    );
}

/// What the owner wants left alone is said where its price stands.
#[test]
fn what_is_to_be_left_alone_is_said_beside_the_figures() {
    let bench = Bench::new();
    let ran = bench.run(&[
        "brief",
        "chest",
        "--leave",
        "the top",
        "--because",
        "the rings are remembered",
    ]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let ran = bench.run(&["quote", "chest", "--rules", "rules"]);
    let said = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains(
            "Left alone, as the owner wishes: the top (the rings are remembered). What the rules \
             call for there, or may call for, is in none of the figures: "
        ),
        "{}",
        ran.out
    );
    // What nothing that was found speaks for is only counted.
    assert!(!said.contains("hold the loose veneer: the surface of the top"));
    let counted = " jobs that are only perhaps called for.";
    assert!(said.contains(counted), "{said}");
    bench.run(&["note", "chest", "the top shows white rings"]);
    let ran = bench.run(&["quote", "chest", "--rules", "rules"]);
    let said = ran.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("is in none of the figures: clear the white rings: the top and "),
        "{said}"
    );
}

/// What did not hold is not sold a second time without a word.
#[test]
fn what_is_done_again_is_said_to_be_and_the_price_list_is_told() {
    let user = User::with_demonstration();
    user.make("ours");
    user.write(
        "ours/prices.rhai",
        include_str!("../../../rules/prices.rhai"),
    );
    let rules = |words: &[&str]| {
        let ran = user.run(&[words, &["--rules", "ours"]].concat());
        assert_eq!(ran.code, Some(0), "{}", ran.all());
        ran.out
    };
    rules(&[
        "done",
        "chest",
        "refix the back",
        "--took",
        "2 h",
        "--anyway",
    ]);
    assert!(!rules(&["quote", "chest"]).contains("was done before"));
    rules(&["note", "chest", "the back is certainly loose on the nails"]);
    let quote = rules(&["quote", "chest"]);
    assert!(
        quote.contains("\"refix the back\" (the back) was done before"),
        "{quote}"
    );
    let line = quote
        .lines()
        .find(|line| line.contains("refix the back: the back (again)"));
    let line = line.unwrap_or_else(|| panic!("{quote}"));
    assert!(line.ends_with(" 0.00"), "{line}");
}
