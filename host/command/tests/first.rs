//! `First:` in the house's rules: where the earlier job goes, and what cannot be done when
//! it is refused, in the plan, the quotation and the report.

use crate::user::User;
use serde_json::Value;

const RULES: &str = "\
House rules for the bench of first things, version 1.
You can see whether a chest of drawers is skewed.  Ask: \"Skewed?\"
You can see whether a drawer is gritty.  Ask: \"Gritty?\"
Job: true the case.  Takes: 2 hours
    First: clear the drawer, grit the drawer, peg the case
Job: grit the drawer.  Takes: 30 minutes
Job: peg the case.  Takes: 1 hour  First: fetch the pegs
Job: fetch the pegs.  Takes: 10 minutes
When a chest of drawers is skewed then plan to true the case.  From: house
When a drawer is gritty then plan to grit the drawer.  From: house
";

/// A user with a skewed chest of three drawers, and more lines in its record.
fn skewed(more: &str) -> User {
    let header = "job folder: 1\npiece: chest of drawers with 3 drawers\n";
    let record = "2026-03-02 09:10  the chest of drawers is skewed\n\
                  2026-03-02 09:11  drawer 1 is not gritty\n\
                  2026-03-02 09:12  drawer 2 is not gritty\n\
                  2026-03-02 09:13  drawer 3 is not gritty\n";
    let user = User::with_chest(header, &format!("{record}{more}"));
    user.make("rules");
    user.write("rules/house.rules.txt", RULES);
    user
}

/// The jobs that are certain and are named here, each with its parts.
fn certain(user: &User, names: &[&str]) -> Vec<String> {
    let plan = user
        .run(&["plan", "chest", "--rules", "rules", "--json"])
        .json();
    let quote = user
        .run(&["quote", "chest", "--rules", "rules", "--json"])
        .json();
    let steps = plan["steps"].as_array().expect("a list");
    let mut planned = Vec::new();
    for step in steps {
        for part in step["certain"].as_array().expect("a list") {
            planned.push(told(&step["job"], part));
        }
    }
    let items = quote["rests_on"]["items"].as_array().expect("a list");
    let items = items.iter().filter(|item| item["certain"] == true);
    let quoted: Vec<String> = items
        .map(|item| told(&item["job"], &item["part"]))
        .collect();
    assert_eq!(
        sorted(quoted),
        sorted(planned.clone()),
        "plan and quotation"
    );
    planned.retain(|job| names.iter().any(|name| job.starts_with(name)));
    sorted(planned)
}

fn told(job: &Value, part: &Value) -> String {
    let text = |value: &Value| value.as_str().expect("text").to_owned();
    format!("{}: {}", text(job), text(part))
}

fn sorted(mut all: Vec<String>) -> Vec<String> {
    all.sort();
    all
}

#[test]
fn a_job_of_smaller_parts_is_done_where_it_is_called_for() {
    let names = ["true the case", "grit the drawer", "peg the case"];
    let user = skewed("");
    assert_eq!(
        certain(&user, &names),
        [
            "peg the case: the chest of drawers",
            "true the case: the chest of drawers"
        ]
    );
    let user = skewed("2026-03-02 09:14  drawer 2 is gritty\n");
    assert_eq!(
        certain(&user, &names),
        [
            "grit the drawer: drawer 2",
            "peg the case: the chest of drawers",
            "true the case: the chest of drawers"
        ]
    );
    let why = user.works(&[
        "plan",
        "chest",
        "--rules",
        "rules",
        "--why",
        "true the case",
    ]);
    assert!(why.contains("grit the drawer"), "{why}");
}

#[test]
fn a_job_once_for_each_part_is_done_for_each() {
    let each = [
        "clear the drawer: drawer 1",
        "clear the drawer: drawer 2",
        "clear the drawer: drawer 3",
    ];
    assert_eq!(certain(&skewed(""), &["clear the drawer"]), each);
    let user = skewed("2026-03-02 10:00  done: clear the drawer; drawer 2; 10 minutes\n");
    assert_eq!(certain(&user, &["clear the drawer"]), [each[0], each[2]]);
}

#[test]
fn what_needs_a_refused_job_is_told_apart() {
    let user = skewed("2026-03-02 10:00  refused: fetch the pegs; ; \n");
    let names = [
        "true the case",
        "grit the drawer",
        "peg the case",
        "fetch the pegs",
        "clear the drawer",
    ];
    assert_eq!(certain(&user, &names), [""; 0]);
    let told = "Not done, since \"fetch the pegs\" was refused: true the case";
    let plan = user.works(&["plan", "chest", "--rules", "rules"]);
    assert!(plan.contains(&format!("\n{told}.\n")), "{plan}");
    assert!(
        plan.contains("The owner will not have it: fetch the pegs."),
        "{plan}"
    );
    let quote = user.works(&["quote", "chest", "--rules", "rules"]);
    assert!(quote.contains(told), "{quote}");
    let json = user
        .run(&["plan", "chest", "--rules", "rules", "--json"])
        .json();
    let apart = serde_json::json!([{
        "job": "true the case",
        "parts": ["the chest of drawers"],
        "refused": "fetch the pegs", "left_alone": false, "is_certain": true,
    }]);
    assert_eq!(json["not_done"], apart);
    let json = user
        .run(&["quote", "chest", "--rules", "rules", "--json"])
        .json();
    assert_eq!(json["rests_on"]["not_done"], apart);
    user.works(&["report", "chest", "--rules", "rules", "--out", "page.html"]);
    let page = user.text("page.html");
    assert!(
        page.contains("True the case: not done, since"),
        "the page says so"
    );
}

#[test]
fn what_is_refused_for_one_part_bars_what_needs_it_there() {
    let gritty = "2026-03-02 09:14  drawer 2 is gritty\n";
    let one = |line: &str| certain(&skewed(&format!("{gritty}{line}\n")), &["true the case"]);
    let there = ["true the case: the chest of drawers"];
    assert_eq!(
        one("2026-03-02 10:00  refused: grit the drawer; drawer 1; "),
        there
    );
    assert_eq!(
        one("2026-03-02 10:00  refused: grit the drawer; drawer 2; "),
        [""; 0]
    );
    assert_eq!(
        one("2026-03-02 10:00  refused: clear the drawer; drawer 3; "),
        [""; 0]
    );
    // What is done needs nobody's leave any more.
    assert_eq!(one("2026-03-02 10:00  done: peg the case; ; 1 hour"), there);
}

#[test]
fn an_example_expects_what_the_plan_has_for_the_sake_of_another_job() {
    let user = User::new();
    user.make("rules");
    let check = |expect: &str| {
        let example = format!(
            "Example: a skewed chest.\n    Given a chest of drawers with 3 drawers\n    \
             Given the chest of drawers is skewed\n    Expect {expect}\n"
        );
        let then = RULES.replace(
            "First: fetch the pegs",
            "First: fetch the pegs  Then: wax the pegs",
        );
        let rules = format!(
            "{then}Job: wax the pegs.  Takes: 10 minutes\n\
             You can see whether a chest of drawers is chalky.  Ask: \"Chalky?\"\n\
             Job: try the chalk.  Takes: 5 minutes\n    \
             Until: it is known whether a chest of drawers is chalky\n\
             When a chest of drawers is skewed then plan to try the chalk.  From: house\n\
             {example}"
        );
        user.write("rules/house.rules.txt", &rules);
        user.run(&["check", "--rules", "rules"])
    };
    // Needed first, needed by what is needed, and to follow.
    for job in ["peg the case", "fetch the pegs", "wax the pegs"] {
        let met = check(&format!("plan to {job}"));
        assert_eq!(met.code, Some(0), "{job}: {}", met.all());
        let missed = check(&format!("no plan to {job}"));
        assert_eq!(missed.code, Some(1), "{job}: {}", missed.all());
    }
    // What it would find out is known, or not.
    let known = "no plan to try the chalk\n    Given the chest of drawers is not chalky";
    for expect in ["plan to try the chalk", known] {
        let met = check(expect);
        assert_eq!(met.code, Some(0), "{expect}: {}", met.all());
    }
    let missed = check("plan to set the piece apart");
    assert_eq!(missed.code, Some(1), "{}", missed.all());
}

#[test]
fn a_second_tick_does_not_go_to_the_part_that_is_only_perhaps() {
    let record = "2026-03-02 09:10  drawer 1 is gritty\n2026-03-02 09:11  drawer 3 is not gritty\n";
    let header = "job folder: 1\npiece: chest of drawers with 3 drawers\n";
    let user = User::with_chest(header, record);
    user.make("rules");
    user.write("rules/house.rules.txt", RULES);
    let done = ["done", "chest", "grit the drawer", "--rules", "rules"];
    user.works(&done);
    let again = user.run(&done);
    assert_eq!(again.code, Some(1), "{}", again.all());
    let said = "is ticked already for drawer 1, and is perhaps called for on drawer 2 as well";
    assert!(again.err.contains(said), "{}", again.err);
    let record = user.text("chest/record.txt");
    assert_eq!(record.matches("done: ").count(), 1, "{record}");
}
