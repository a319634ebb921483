//! Whose rules a job goes by: how they are found, said, set and forgotten.

use crate::user::{Ran, User};

const RULES: &str = include_str!("house/stand.rules.txt");

/// A user with the stand maker's rules in these folders, and a job of a stand.
fn stand(houses: &[&str]) -> User {
    let user = User::new();
    for house in houses {
        user.make(house);
        user.write(&format!("{house}/stand.rules.txt"), RULES);
    }
    user.make("job");
    user.write(
        "job/job.txt",
        "job folder: 1\npiece: music stand with 2 swivels\n",
    );
    user.write("job/record.txt", "2026-03-02 09:10  swivel 1 is seized\n");
    user
}

/// How `tellmark house` says that the rules were found.
fn found_by(ran: &Ran) -> String {
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let json: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    json["rules"]["found_by"].as_str().expect("text").to_owned()
}

#[test]
fn the_first_place_that_names_a_house_is_used() {
    let user = stand(&["asked", "own", "env", "mine", "house"]);
    let how = |more: &[&str], variable: Option<&str>| {
        let mut arguments = vec!["house", "job", "--json"];
        arguments.extend(more);
        let mut command = user.command(&arguments);
        if let Some(folder) = variable {
            command.env("TELLMARK_RULES", user.path(folder));
        }
        found_by(&Ran::of(command.output().expect("it runs")))
    };
    assert_eq!(how(&[], None), "a folder house");
    user.works(&["house", "set", "mine"]);
    assert_eq!(how(&[], None), "your setting");
    assert_eq!(how(&[], Some("env")), "TELLMARK_RULES");
    let header = user.text("job/job.txt");
    user.write("job/job.txt", format!("{header}rules folder: ../own\n"));
    assert_eq!(how(&[], Some("env")), "job.txt");
    assert_eq!(how(&["--rules", "asked"], Some("env")), "--rules");
    user.write("job/job.txt", header);
    user.works(&["house", "forget"]);
    assert_eq!(how(&[], None), "a folder house");
    assert_eq!(user.run(&["house", "forget"]).code, Some(1));
}

/// A setting that names what is gone is told, although another would do.
#[test]
fn a_house_that_is_gone_is_told() {
    let user = stand(&["mine", "house"]);
    user.works(&["house", "set", "mine"]);
    std::fs::rename(user.path("mine"), user.path("moved")).expect("renamed");
    let gone = user.run(&["triage", "job"]);
    assert_eq!(gone.code, Some(2));
    assert!(gone.out.is_empty(), "{}", gone.out);
    for words in [
        "There is no folder of rules",
        "your own setting",
        "house forget",
    ] {
        assert!(gone.err.contains(words), "{}", gone.err);
    }
    let header = user.text("job/job.txt");
    user.write("job/job.txt", format!("{header}rules folder: ../away\n"));
    let gone = user.run(&["plan", "job"]);
    assert_eq!(gone.code, Some(2));
    assert!(gone.err.contains("named in job.txt"), "{}", gone.err);
    user.write("job/job.txt", header);
    // The fix that is offered works as it stands.
    user.works(&["house", "forget"]);
    assert_eq!(user.run(&["triage", "job"]).code, Some(0));
}

#[test]
fn a_job_that_was_opened_by_rules_goes_by_them() {
    let user = stand(&["my rules"]);
    user.works(&[
        "open",
        "music stand with 2 swivels",
        "--name",
        "new",
        "--rules",
        "my rules",
    ]);
    assert!(
        user.text("new/job.txt")
            .contains("\nrules folder: ../my rules\n")
    );
    user.works(&["note", "new", "swivel 1 is seized"]);
    let said = user.works(&["triage", "new"]);
    assert!(
        said.trim_end().ends_with("named in job.txt)."),
        "whose rules: {said}"
    );
    // Both can be moved together.
    user.make("away");
    for folder in ["new", "my rules"] {
        std::fs::rename(user.path(folder), user.path(&format!("away/{folder}"))).expect("moved");
    }
    user.works(&["plan", "away/new"]);
}

#[test]
fn every_page_says_whose_rules_it_went_by() {
    let user = stand(&["house"]);
    for command in ["triage", "next", "date", "plan", "quote"] {
        let page = user.works(&[command, "job"]);
        assert!(
            page.contains("By the rules of the stand makers' bench"),
            "{page}"
        );
        let json = user.run(&[command, "job", "--json"]).json();
        assert_eq!(
            json["rules"]["house"], "the stand makers' bench",
            "{command}"
        );
        assert_eq!(json["notices"], serde_json::json!([]), "{command}");
    }
    user.works(&["report", "job", "--out", "page.html"]);
    assert!(user.text("page.html").contains("the stand makers"));
    // What is done by the standard rules needs no word.
    let chest = User::with_demonstration();
    assert!(
        !chest
            .works(&["triage", "chest"])
            .contains("By the rules of")
    );
}

/// Rules without a title of their own are not called by that of the standard ones alone.
#[test]
fn a_house_without_a_title_is_known_by_its_files() {
    let user = User::with_demonstration();
    user.make("house");
    user.write(
        "house/first.rules.txt",
        "You can hear whether a back is creaking.\n    Ask: \"Creaks?\"\n",
    );
    let said = user.works(&["triage", "chest"]);
    assert!(
        said.contains("By the rules of the standard bench, with first.rules.txt, version 1 ("),
        "{said}"
    );
    user.works(&["report", "chest", "--out", "page.html"]);
    assert!(user.text("page.html").contains("with first.rules.txt"));
    user.works(&["open", "chest of drawers", "--name", "new"]);
    std::fs::remove_dir_all(user.path("house")).expect("removed");
    let other = user.run(&["next", "new"]);
    assert_eq!(other.code, Some(1));
    assert!(other.out.contains("with first.rules.txt"), "{}", other.out);
}

#[test]
fn a_job_that_another_house_began_is_never_quiet() {
    let user = User::with_demonstration();
    let text = user.text("chest/job.txt");
    user.write(
        "chest/job.txt",
        text.replace("the standard bench", "the bench at the weir"),
    );
    for command in ["triage", "next", "date", "plan", "quote", "brief", "jobs"] {
        let about = if command == "jobs" { "." } else { "chest" };
        let ran = user.run(&[command, about]);
        assert_eq!(ran.code, Some(1), "{command}: {}", ran.err);
        let words = "the rules of \"the bench at the weir\", and is read here by those of";
        assert!(ran.out.contains(words), "{command}: {}", ran.out);
        let ran = user.run(&[command, about, "--json"]);
        assert_eq!(ran.code, Some(1), "{command}");
        assert!(ran.out.contains("the bench at the weir"), "{command}");
    }
    let report = user.run(&["report", "chest", "--out", "page.html"]);
    assert_eq!(report.code, Some(1));
    let page = user.text("page.html");
    assert!(page.contains("the bench at the weir"), "on the page");
    // What is written down is written down, and the word is said beside it.
    let noted = user.run(&["note", "chest", "drawer 2 is stiff"]);
    assert_eq!(noted.code, Some(0), "{}", noted.err);
    assert!(noted.err.contains("the bench at the weir"), "{}", noted.err);
    // The command that is offered works as it stands, and ends it.
    let offered = report_line(&user, "tellmark house adopt ");
    assert_eq!(offered, "chest");
    user.run(&["house", "adopt", "chest"]);
    let last = user.text("chest/record.txt");
    let last = last.lines().last().expect("a line");
    assert!(
        last.ends_with("  rules: the standard bench; version 1"),
        "{last}"
    );
    user.works(&["triage", "chest"]);
}

/// What follows some words in what `triage` says.
fn report_line(user: &User, words: &str) -> String {
    let out = user.run(&["triage", "chest"]).out;
    let rest = out.split(words).nth(1).expect("offered");
    rest.lines().next().unwrap_or_default().to_owned()
}

#[test]
fn lines_that_the_rules_do_not_know_are_never_quiet() {
    let user = User::with_demonstration();
    user.add("2026-11-25 10:00  the back is singing");
    user.add("2026-11-25 10:01  refused: polish the moon");
    let lines = user.text("chest/record.txt").lines().count();
    let words = format!(
        "Lines {} and {lines} of the record are not known to these rules",
        lines - 1
    );
    for command in ["plan", "quote"] {
        let ran = user.run(&[command, "chest"]);
        assert_eq!(ran.code, Some(1), "{command}");
        assert!(ran.out.contains(&words), "{command}: {}", ran.out);
    }
}
