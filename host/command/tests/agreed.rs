//! What the owner agreed to, and what the papers say of it after.

use crate::user::User;
use serde_json::Value;

fn report(user: &User) -> Value {
    user.run(&["report", "chest", "--json"]).json()
}

#[test]
fn a_letter_after_the_yes_asks_for_no_yes() {
    let user = User::with_priced_house();
    let over = |user: &User| report(user)["letter"]["over"].as_str().map(str::to_owned);
    assert!(over(&user).expect("said").starts_with("Estimate of "));
    user.works(&["quote", "chest", "--keep"]);
    user.works(&["brief", "chest", "--agreed", "estimate 1"]);
    let report = report(&user);
    let letter = &report["letter"];
    let said = over(&user).expect("said");
    assert!(said.starts_with("What you agreed to, as of "), "{said}");
    assert!(
        letter["agreed"][0]
            .as_str()
            .is_some_and(|said| said.starts_with("estimate 1, on ")),
        "{letter}"
    );
    user.works(&["report", "chest", "--out", "page.html"]);
    let page = user.text("page.html");
    assert!(page.contains("What we will do, in this order"));
    assert!(page.contains("The owner said yes to estimate 1, on "));
    assert!(!page.contains("yes to the work that is proposed here"));

    // What is new since is agreed to by nobody yet.
    let own = ["--own", "turn a new knob", "--takes", "2 h"];
    user.works(&[&["plan", "chest"], &own[..]].concat());
    let said = over(&user).expect("said");
    assert!(said.ends_with(", agreed in part"), "{said}");
}

#[test]
fn a_sum_may_have_its_currency_before_or_behind_it() {
    let user = User::with_priced_house();
    user.works(&["quote", "chest", "--keep"]);
    let up_to = ["--agreed", "estimate 1", "--up-to", "Marks 900"];
    let told = user.works(&[&["brief", "chest"], &up_to[..]].concat());
    assert!(told.contains("900"), "{told}");
    let told = user.works(&["paid", "chest", "marks 200"]);
    assert!(told.contains("200.00 marks paid"), "{told}");
    let other = user.run(&["paid", "chest", "£200"]);
    assert_eq!(other.code, Some(2));
    assert!(
        other
            .err
            .contains("\"£\" is other money than the papers of this job"),
        "{}",
        other.err
    );
    let none = user.run(&["paid", "chest", "200 or so"]);
    assert_eq!(none.code, Some(2), "{}", none.out);
}

#[test]
fn a_wait_takes_a_day_as_people_write_it() {
    let user = User::with_priced_house();
    let told = user.works(&["shelf", "chest", "--waits", "oak", "--until", "2099-12-05"]);
    assert!(told.contains("2099-12-05"), "{told}");
    let told = user.works(&[
        "shelf",
        "chest",
        "--waits",
        "oak",
        "--until",
        "5th December 2099",
    ]);
    assert!(told.contains("2099-12-05"), "{told}");
    let none = user.run(&["shelf", "chest", "--waits", "oak", "--until", "soon"]);
    assert_eq!(none.code, Some(2));
    assert!(none.err.contains("\"2 weeks\""), "{}", none.err);
}

#[test]
fn a_limit_in_money_counts_what_was_done_without_a_paper() {
    let user = User::with_priced_house();
    user.works(&["brief", "chest", "--limit", "200 marks"]);
    let limit = |user: &User| {
        let quote = user.run(&["quote", "chest", "--json"]).json();
        quote["limits"][0].clone()
    };
    let before = limit(&user);
    assert_eq!(before["is_over"], false, "{before}");
    user.works(&["done", "chest", "photograph the piece", "--took", "5 h"]);
    let after = limit(&user);
    assert_eq!(after["is_over"], true, "{after}");
    let said = after["comes_to"].as_str().expect("said");
    assert!(
        said.starts_with("what is done and what is fixed comes to "),
        "{said}"
    );
    // Of a job without its time, nobody can say what it costs.
    let cleared = ["done", "chest", "clear the drawer", "--part", "drawer 2"];
    user.works(&cleared);
    let untimed = limit(&user);
    let said = untimed["comes_to"].as_str().expect("said");
    assert!(
        said.ends_with("; a job that is done has no price, and is not in it"),
        "{said}"
    );
}

#[test]
fn a_decision_that_is_taken_back_for_a_part_says_so() {
    let user = User::with_priced_house();
    user.works(&["note", "chest", "every runner of drawer 3 is worn 4 mm"]);
    let job = "renew the running edges";
    user.works(&["brief", "chest", "--agreed", job]);
    let back = ["--not-decided", job, "--part", "drawer 2"];
    user.works(&[&["brief", "chest"], &back[..]].concat());
    let decision = |user: &User| report(user)["owner"]["decisions"][0].clone();
    assert_eq!(decision(&user)["open_again"], "drawer 2");
    user.works(&["report", "chest", "--out", "page.html"]);
    let page = user.text("page.html");
    assert!(page.contains(", but for drawer 2, which you have not decided."));
    // Once they decide again, that is over.
    let again = ["--agreed", job, "--part", "drawer 2"];
    user.works(&[&["brief", "chest"], &again[..]].concat());
    assert_eq!(decision(&user)["open_again"], "");
}

#[test]
fn a_repair_whose_fault_nobody_saw_is_headed_by_the_sign_of_it() {
    let user = User::new();
    user.works(&["open", "gate-leg table", "--name", "chest"]);
    user.works(&["note", "chest", "leg 2 is loose"]);
    let ticked = ["glue up the leg", "--took", "1 h", "--anyway"];
    user.run(&[&["done", "chest"], &ticked[..]].concat());
    let letter = report(&user)["letter"].clone();
    let heading = letter["repairs"][0]["heading"].as_str().expect("a heading");
    assert!(
        heading.ends_with("leg of the joined frame was moving when pushed"),
        "{heading}"
    );
}

#[test]
fn what_is_found_of_every_part_after_a_mend_is_told_of_each() {
    let user = User::with_priced_house();
    let done = [
        "done",
        "chest",
        "renew the running edges",
        "--part",
        "drawer 2",
    ];
    user.run(&[&done[..], &["--took", "2 h", "--anyway"]].concat());
    user.works(&["note", "chest", "every runner of drawer 2 is worn 3 mm"]);
    let letter = report(&user)["letter"].clone();
    let found = letter["found"].to_string();
    assert!(
        found.contains("The left and the right runner of drawer 2: each is worn 3 mm."),
        "{found}"
    );
}

#[test]
fn why_work_of_ones_own_stands_where_it_does() {
    let user = User::with_priced_house();
    let own = ["--own", "turn a new knob", "--takes", "2 h"];
    user.works(&[&["plan", "chest"], &own[..]].concat());
    let why = user.works(&["plan", "chest", "--why", "Turn a new knob"]);
    assert!(why.contains("is work of your own (line 2)"), "{why}");
    let json = user
        .run(&["plan", "chest", "--why", "turn a new knob", "--json"])
        .json();
    assert_eq!(json["own_since_line"], 2);
}

#[test]
fn two_notes_between_quotation_marks_are_two_notes() {
    let user = User::with_priced_house();
    let notes = ["drawer 1 is stiff", "drawer 3 is scraping"];
    let told = user.works(&[&["note", "chest"], &notes[..]].concat());
    let read = "Drawer 1 is stiff and drawer 3 is scraping below";
    assert!(told.contains(read), "{told}");
    // Words without quotation marks are one note.
    // A short one is a note as well; a part that was put between quotation marks is none.
    let told = user.works(&[
        "note",
        "chest",
        "the back rattles",
        "drawer 3 stiff",
        "scraping",
    ]);
    let read = "The back is rattling, drawer 3 is stiff and drawer 3 is scraping below";
    assert!(told.contains(read), "{told}");
    let told = user.works(&[
        "note",
        "chest",
        "left runner",
        "of",
        "drawer 3",
        "worn",
        "3 mm",
    ]);
    assert!(
        told.contains("Left runner of drawer 3 is worn 3 mm"),
        "{told}"
    );
    let told = user.works(&["note", "chest", "drawer", "2", "stiff"]);
    assert!(told.contains("Drawer 2 is stiff"), "{told}");
}

#[test]
fn work_of_ones_own_hides_nothing_that_it_is_not_about() {
    let user = User::new();
    user.works(&["open", "chest of drawers with 4 drawers", "--name", "chest"]);
    user.works(&["note", "chest", "the top is cracked"]);
    user.works(&["note", "chest", "drawer 2 is creaking"]);
    let own = ["--own", "fit a castor", "--takes", "1 h", "--part", "top"];
    user.works(&[&["plan", "chest"], &own[..]].concat());
    user.works(&["done", "chest", "fit a castor", "--took", "1 h"]);
    let ticked = [
        "clear the drawer",
        "--part",
        "drawer 2",
        "--took",
        "10 min",
        "--anyway",
    ];
    user.run(&[&["done", "chest"], &ticked[..]].concat());
    let found = report(&user)["letter"]["found"].to_string();
    assert!(
        found.contains(
            "The top is cracked: so it was noted before we worked on it, and nobody has looked again."
        ),
        "{found}"
    );
    assert!(found.contains("Drawer 2 is creaking."), "{found}");
    // Once somebody has looked, that is told.
    user.works(&["note", "chest", "the top is not cracked"]);
    let found = report(&user)["letter"]["found"].to_string();
    assert!(!found.contains("cracked"), "{found}");
}

#[test]
fn what_was_done_again_and_holds_is_not_told_as_failed() {
    let user = User::with_priced_house();
    let job = [
        "done",
        "chest",
        "renew the running edges",
        "--part",
        "drawer 2",
    ];
    let tick = |user: &User| user.run(&[&job[..], &["--took", "1 h", "--anyway"]].concat());
    tick(&user);
    user.works(&[
        "note",
        "chest",
        "every runner of drawer 2 is certainly worn thin",
    ]);
    let says = |user: &User| report(user)["letter"]["repairs"][0]["says"].to_string();
    assert!(says(&user).contains("It did not hold: "), "{}", says(&user));
    tick(&user);
    let said = says(&user);
    assert!(
        said.contains("It did not hold at first, and we did it again."),
        "{said}"
    );
    assert!(!said.contains("It did not hold: "), "{said}");
}

#[test]
fn a_paper_promises_no_more_than_the_owners_limit() {
    let user = User::with_priced_house();
    user.works(&["brief", "chest", "--limit", "300 marks"]);
    let kept = user.works(&["quote", "chest", "--keep"]);
    assert!(kept.contains("300.00 marks at most"), "{kept}");
    assert!(kept.contains("Never more, unasked"), "{kept}");
    let lead = report(&user)["letter"]["lead"].to_string();
    assert!(lead.contains("we do not go beyond 300"), "{lead}");
    user.works(&["brief", "chest", "--agreed", "estimate 1"]);
    let quote = user.run(&["quote", "chest", "--json"]).json();
    assert_eq!(quote["agreed"]["at_most"], "300.00", "{}", quote["agreed"]);
}

#[test]
fn a_day_is_compared_with_what_the_piece_waits_for_already() {
    let user = User::with_priced_house();
    user.works(&["brief", "chest", "--limit", "by 1 March 2099"]);
    user.works(&["shelf", "chest", "--waits", "oak", "--until", "2099-12-05"]);
    let plan = user.works(&["plan", "chest"]);
    let said = "over the owner's limit of by 1 March 2099: ";
    assert!(plan.contains(said), "{plan}");
    assert!(
        plan.contains("it waits until 5 December 2099 at the least"),
        "{plan}"
    );
}

#[test]
fn what_is_new_and_refused_is_not_planned() {
    let user = User::with_priced_house();
    user.works(&["quote", "chest", "--keep"]);
    user.works(&["brief", "chest", "--agreed", "estimate 1"]);
    let own = ["--own", "turn a new knob", "--takes", "2 h"];
    user.works(&[&["plan", "chest"], &own[..]].concat());
    user.works(&["quote", "chest", "--supplement", "--keep"]);
    user.works(&["brief", "chest", "--refused", "supplement 2"]);
    let plan = user.works(&["plan", "chest"]);
    assert!(!plan.contains("turn a new knob: the chest"), "{plan}");
    assert!(!plan.contains("Not agreed yet"), "{plan}");
}

#[test]
fn work_of_ones_own_is_ticked_by_part_of_its_name() {
    let user = User::with_priced_house();
    let own = ["--own", "make a handle to match", "--takes", "2 h"];
    user.works(&[&["plan", "chest"], &own[..]].concat());
    let told = user.works(&["done", "chest", "make a handle", "--took", "1 h"]);
    assert!(told.contains("done: make a handle to match"), "{told}");
    let plan = user.works(&["plan", "chest"]);
    assert!(!plan.contains("Work of your own"), "{plan}");
}

/// What a test has shown is not to be tested again, and the owner is told, whichever way it
/// turned out.
#[test]
fn a_test_whose_outcome_is_known_is_not_planned() {
    let record = "2026-03-02 09:12  the piece shows old paint\n";
    let piece = "job folder: 1\npiece: cupboard with 2 doors\n";
    let planned = |user: &User| {
        user.works(&["plan", "chest"])
            .contains("test the old paint")
    };
    let user = User::with_chest(piece, record);
    assert!(planned(&user));
    user.works(&["note", "chest", "it is not painted with lead"]);
    assert!(!planned(&user));
    let letter = user
        .run(&["report", "chest", "--kind", "hand-back", "--json"])
        .json()["letter"]
        .to_string();
    assert!(letter.contains("found no lead in it"), "{letter}");
    user.works(&["note", "chest", "it is painted with lead"]);
    assert!(!planned(&user));
    user.works(&[
        "note",
        "chest",
        "have not looked whether it is painted with lead",
    ]);
    assert!(planned(&user));
}

/// Loose screws of one hinge are one line of the letter.
#[test]
fn parts_of_which_the_same_is_found_are_named_together() {
    let user = User::with_chest(
        "job folder: 1\npiece: cupboard with 2 doors\n",
        "2026-03-02 09:12  every screw of door hinge 1 of left door is loose\n",
    );
    let letter = user.run(&["report", "chest", "--json"]).json()["letter"]["found"].to_string();
    assert!(
        letter.contains("Screws 1, 2 and 3 of door hinge 1 of the left door: each is loose."),
        "{letter}"
    );
}

/// What was wrong with several screws and what is left alone equally long are each told once.
#[test]
fn the_letter_tells_alike_things_once() {
    let user = User::with_chest(
        "job folder: 1\npiece: cupboard with 2 doors\n",
        "2026-03-02 09:12  every screw of door hinge 1 of left door is loose\n\
         2026-03-02 09:13  the cupboard is racked\n",
    );
    let tick = |job: &str, part: &str| {
        let ran = user.run(&["done", "chest", job, "--part", part, "--anyway"]);
        assert_eq!(ran.code, Some(0), "{}", ran.all());
    };
    tick("plug the door screws", "door hinge 1 of left door");
    tick("square the carcase", "the cupboard");
    // Both in the same minute, whatever the clock said.
    let record = user.text("chest/record.txt");
    let first = record.lines().nth(2).and_then(|line| line.split_once("  "));
    let second = record.lines().nth(3).and_then(|line| line.split_once("  "));
    let (first, second) = (first.expect("a time").0, second.expect("a time").0);
    user.write("chest/record.txt", record.replace(second, first));
    let letter = report(&user)["letter"].to_string();
    assert!(
        letter.contains("It was the same with screws 2 and 3 of door hinge 1 of the left door."),
        "{letter}"
    );
    assert_eq!(
        letter.matches("to be left alone until").count(),
        1,
        "{letter}"
    );
}
