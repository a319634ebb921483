//! What the owner wants, and what may be said of it: limits, wishes and decisions that are taken
//! back, work that is not begun unasked, waits that the letter tells of.

use crate::user::User;
use serde_json::Value;

fn chest() -> User {
    let user = User::new();
    user.works(&["open", "chest of drawers with 4 drawers", "--name", "chest"]);
    user.works(&["note", "chest", "every runner of drawer 2 is worn 4 mm"]);
    user
}

/// "limit" to what stands beside it in the plan.
fn limits(user: &User) -> Vec<String> {
    let plan = user.works(&["plan", "chest"]);
    let lines = plan.lines().map(str::trim);
    lines
        .filter(|line| line.contains("the owner's limit"))
        .map(str::to_owned)
        .collect()
}

fn letter(user: &User) -> Value {
    user.run(&["report", "chest", "--json"]).json()["letter"].clone()
}

#[test]
fn the_last_limit_of_a_sort_counts_and_each_can_be_taken_back() {
    let user = chest();
    let told = user.works(&["brief", "chest", "--limit", "20 hours"]);
    assert!(
        told.contains("compared with the hours of the plan, as 20 h."),
        "{told}"
    );
    let told = user.works(&["brief", "chest", "--limit", "no more than 1 hour"]);
    assert!(
        told.contains("It takes the place of line 2: 20 hours."),
        "{told}"
    );
    user.works(&["brief", "chest", "--limit", "£900"]);
    let told = user.works(&["brief", "chest", "--limit", "when the swallows come"]);
    assert!(told.contains("compared with nothing"), "{told}");
    let said = limits(&user);
    assert_eq!(said.len(), 3, "{said:?}");
    assert!(
        said[0].starts_with("over the owner's limit of no more than 1 hour: "),
        "{said:?}"
    );
    assert!(said[1].contains("£900 (not compared: "), "{said:?}");
    assert!(
        said[2].contains("(not compared: it is not read as a time"),
        "{said:?}"
    );

    let none = user.run(&["brief", "chest", "--not-limit", "20 hours"]);
    assert_eq!(none.code, Some(2));
    assert!(
        none.err.contains("On record: \"no more than 1 hour\""),
        "{}",
        none.err
    );
    user.works(&["brief", "chest", "--not-limit", "No more than 1 hour"]);
    assert_eq!(limits(&user).len(), 2);
}

#[test]
fn a_day_is_over_once_it_is_past_or_what_must_dry_takes_longer() {
    let user = chest();
    let is_over = |limit: &str| {
        user.works(&["brief", "chest", "--limit", limit]);
        let said = limits(&user);
        let [one] = said.as_slice() else {
            panic!("{said:?}");
        };
        (one.starts_with("over "), one.clone())
    };
    let (over, said) = is_over("2020-01-01");
    assert!(over && said.contains("that day is over"), "{said}");
    let (over, said) = is_over("by 3 March 2099");
    assert!(!over && said.contains("that is in "), "{said}");
    assert!(said.contains("what is left to do takes mostly"), "{said}");
}

#[test]
fn what_was_wished_and_decided_can_be_taken_back() {
    let user = chest();
    user.works(&["brief", "chest", "--wish", "for linen again"]);
    user.works(&["brief", "chest", "--refused", "renew the running edges"]);
    let plan = user.works(&["plan", "chest"]);
    assert!(
        plan.contains("The owner will not have it: renew the running edges"),
        "{plan}"
    );
    user.works(&["brief", "chest", "--not-wish", "for linen again"]);
    user.works(&["brief", "chest", "--not-decided", "renew the running edges"]);
    let brief = user.works(&["brief", "chest"]);
    assert!(
        !brief.contains("linen") && !brief.contains("renew"),
        "{brief}"
    );
    let plan = user.works(&["plan", "chest"]);
    assert!(plan.contains("renew the running edges: drawer 2"), "{plan}");
    let none = user.run(&["brief", "chest", "--not-decided", "wax the runners"]);
    assert_eq!(none.code, Some(2), "{}", none.err);
}

#[test]
fn of_two_decisions_the_later_one_holds() {
    let user = chest();
    user.works(&["brief", "chest", "--agreed", "renew the running edges"]);
    user.works(&["brief", "chest", "--refused", "renew the running edges"]);
    let brief = user.works(&["brief", "chest"]);
    assert!(
        brief.contains("refused: renew the running edges"),
        "{brief}"
    );
    assert!(!brief.contains("agreed: "), "{brief}");
    // What is taken back of one part holds for the others.
    user.works(&[
        "brief",
        "chest",
        "--not-decided",
        "renew the running edges",
        "--part",
        "drawer 2",
    ]);
    let plan = user.works(&["plan", "chest"]);
    assert!(plan.contains("renew the running edges: drawer 2"), "{plan}");
}

#[test]
fn a_job_that_the_owner_decides_on_is_not_ticked_unasked() {
    let user = chest();
    user.works(&["note", "chest", "the piece shows old paint"]);
    user.works(&["done", "chest", "photograph the piece"]);
    let ran = user.run(&["done", "chest", "test the old paint"]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    assert!(
        ran.err.contains("The owner was to be asked first"),
        "{}",
        ran.err
    );
    assert!(
        ran.err.contains(
            "tellmark brief chest --agreed \"test the old paint\" --part \"the chest of drawers\""
        ),
        "{}",
        ran.err
    );
    user.works(&["brief", "chest", "--agreed", "test the old paint"]);
    user.works(&["done", "chest", "test the old paint"]);
}

/// What sets is waited for beside what somebody waits for, the piece is not ready until then, and
/// its owner reads of both.
#[test]
fn a_piece_that_waits_is_not_ready_and_its_owner_reads_why() {
    let user = chest();
    user.works(&[
        "done",
        "chest",
        "dry the base",
        "--part",
        "the base",
        "--anyway",
    ]);
    let before = user.works(&["shelf", "chest"]);
    assert!(before.starts_with("Waiting: "), "{before}");
    user.works(&[
        "shelf",
        "chest",
        "--waits",
        "the hinge",
        "--until",
        "2099-01-01",
    ]);
    let shelf = user.works(&["shelf", "chest"]);
    assert!(
        shelf.contains("for \"the hinge\", expected on 2099-01-01"),
        "{shelf}"
    );
    assert!(shelf.contains("for \"dry the base\""), "{shelf}");
    let json = user.run(&["shelf", "chest", "--json"]).json();
    assert_eq!(json["waits_for"], "the hinge");
    assert_eq!(json["waits"].as_array().map(Vec::len), Some(2), "{json}");
    let lead = letter(&user)["lead"].to_string();
    assert!(
        lead.contains("We wait for the hinge, which we expect on 1 January 2099."),
        "{lead}"
    );
    assert!(
        lead.contains("What we did there is to be left alone until "),
        "{lead}"
    );

    // Everything ticked, and glue that sets.
    let user = User::new();
    user.works(&["open", "chest of drawers with 2 drawers", "--name", "chest"]);
    user.works(&[
        "done",
        "chest",
        "dry the base",
        "--part",
        "the base",
        "--anyway",
    ]);
    let report = user.run(&["report", "chest", "--json"]).json();
    assert_eq!(report["kind"], "progress", "{}", report["letter"]["over"]);
}

#[test]
fn a_caution_ends_with_what_it_says() {
    let user = User::new();
    user.works(&["open", "cupboard", "--name", "press"]);
    user.works(&["note", "press", "the cornice is lifting off by hand"]);
    user.works(&["note", "press", "the piece shows old paint"]);
    let stops = |user: &User| -> Vec<String> {
        let triage = user.works(&["triage", "press"]);
        let stops = triage.lines().filter(|line| line.starts_with("STOP"));
        stops.map(str::to_owned).collect()
    };
    assert_eq!(stops(&user).len(), 2, "{:?}", stops(&user));
    // The plan has it before the job that ends it.
    let plan = user.works(&["plan", "press"]);
    let caution = plan.find("Cornice may fall").expect("told");
    let job = plan.find("lift off the cornice").expect("planned");
    assert!(caution < job, "{plan}");
    user.works(&["note", "press", "the piece is not painted with lead"]);
    user.run(&["done", "press", "lift off the cornice", "--anyway"]);
    assert_eq!(stops(&user), Vec::<String>::new());
    // It is on the piece again, and lifting again.
    user.works(&["note", "press", "the cornice is lifting off by hand"]);
    assert!(
        stops(&user)[0].contains("Cornice may fall."),
        "{:?}",
        stops(&user)
    );
    user.works(&["done", "press", "lift off the cornice", "--undo"]);
    user.works(&["note", "press", "the piece is painted with lead"]);
    let told = stops(&user);
    assert!(
        told.iter().any(|stop| stop.contains("Lead paint.")),
        "{told:?}"
    );
    assert!(
        told.iter().any(|stop| stop.contains("Cornice may fall.")),
        "{told:?}"
    );
}

#[test]
fn a_piece_keeps_the_name_that_it_was_given() {
    let user = User::new();
    let opened = user.works(&[
        "open",
        "a linen press with 3 trays and 2 drawers",
        "--name",
        "press",
    ]);
    assert!(
        opened.contains(
            "a cupboard with 3 sliding trays and 2 cupboard drawers, called \"linen press\""
        ),
        "{opened}"
    );
    user.works(&["note", "press", "the piece is musty"]);
    let letter = user.run(&["report", "press", "--json"]).json()["letter"].clone();
    assert_eq!(letter["title"], "Your linen press");
    let lead = letter["lead"][0].as_str().expect("text");
    assert!(
        lead.starts_with("A linen press with 3 sliding trays and 2 cupboard drawers"),
        "{lead}"
    );
    let found = letter["found"].to_string();
    assert!(found.contains("The linen press"), "{found}");
    let ran = user.run(&["open", "linen press with 3 trays and 2 feathers"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err
            .contains("\"2 feathers\" is nothing that I can count of a cupboard."),
        "{}",
        ran.err
    );
}

/// The owner's yes to one part is one, though the job is perhaps called for elsewhere; and no job
/// before which they are to be asked is ticked without it, planned or not.
#[test]
fn the_owner_is_asked_of_the_parts_that_are_ticked() {
    let user = chest();
    user.works(&[
        "brief",
        "chest",
        "--agreed",
        "rejoin the top",
        "--part",
        "the top",
    ]);
    user.works(&["done", "chest", "rejoin the top", "--part", "the top"]);
    let ran = user.run(&[
        "done",
        "chest",
        "square the carcase",
        "--part",
        "the chest of drawers",
    ]);
    assert_eq!(ran.code, Some(1), "{}", ran.out);
    assert!(
        ran.err.contains("The owner was to be asked first"),
        "{}",
        ran.err
    );
}

#[test]
fn what_was_handed_back_waits_for_nothing_until_it_is_here_again() {
    let user = chest();
    user.works(&["shelf", "chest", "--handed-back"]);
    let ran = user.run(&["shelf", "chest", "--waits", "the hinge"]);
    assert_eq!(ran.code, Some(1), "{}", ran.out);
    assert!(ran.err.contains("--goes-on"), "{}", ran.err);
    user.works(&["shelf", "chest", "--goes-on"]);
    // A day that is over is no end of the wait: the thing has not come.
    user.works(&[
        "shelf",
        "chest",
        "--waits",
        "the hinge",
        "--until",
        "2020-01-01",
    ]);
    let shelf = user.works(&["shelf", "chest"]);
    assert!(
        shelf.contains("expected on 2020-01-01, which is over"),
        "{shelf}"
    );
    let lead = letter(&user)["lead"].to_string();
    assert!(
        lead.contains("which we expected on 1 January 2020"),
        "{lead}"
    );
}

/// What was mended and found again is said to be, what was noted since stands in the record, and
/// what nobody worked on is wrong still.
#[test]
fn a_mend_that_did_not_hold_is_told() {
    let user = User::new();
    user.works(&["open", "bureau with 4 drawers", "--name", "chest"]);
    user.works(&["note", "chest", "the fall is sloping"]);
    user.works(&["note", "chest", "handle 1 of drawer 2 is loose"]);
    user.works(&["note", "chest", "the back is rattling"]);
    user.run(&["done", "chest", "pad the lopers", "--anyway"]);
    user.run(&[
        "done",
        "chest",
        "refix the back",
        "--part",
        "the back",
        "--anyway",
    ]);
    user.works(&["note", "chest", "the fall is sloping"]);
    user.works(&["note", "chest", "the back is not rattling"]);
    // What is done to the whole piece mends no handle.
    let dusted = [
        "done",
        "chest",
        "dust the piece dry",
        "--part",
        "the piece",
        "--anyway",
    ];
    user.run(&dusted);
    let report = ["report", "chest", "--kind", "progress", "--json"];
    let report = user.run(&report).json();
    let repairs = report["letter"]["repairs"].to_string();
    assert!(repairs.contains("It did not hold: "), "{repairs}");
    let found = report["letter"]["found"].to_string();
    assert!(
        found.contains("The fall is hanging below level when open."),
        "{found}"
    );
    assert!(
        found.to_lowercase().contains("handle 1 of drawer 2"),
        "{found}"
    );
    let condition = report["condition"].to_string();
    assert!(
        condition.contains("since then: is not rattling"),
        "{condition}"
    );
    assert!(condition.contains("mended, and there again"), "{condition}");
}

/// The letter promises no more than the owner's limit.
#[test]
fn the_letter_stays_within_the_owners_limit() {
    let user = User::with_priced_house();
    user.works(&["brief", "chest", "--limit", "200 marks"]);
    let lead = letter(&user)["lead"].to_string();
    assert!(lead.contains("do not go beyond 200.00 marks"), "{lead}");
}

/// A name that several parts have is asked about, and what is offered works.
#[test]
fn a_name_of_several_parts_is_asked_about() {
    let header = "job folder: 1\npiece: chest of drawers with 3 drawers\n";
    let user = User::with_chest(header, "");
    let ran = user.run(&["brief", "chest", "--leave", "left runner"]);
    assert_eq!(ran.code, Some(2), "{}", ran.all());
    assert_eq!(
        ran.err,
        "\"left runner\" may be any of these: left runner of drawer 1, left runner of drawer 2 and \
         left runner of drawer 3. Say which, or \"left runner of every drawer\". Nothing was noted.\n"
    );
    let both = ["left runner of drawer 2", "left runner of every drawer"];
    for part in both {
        user.works(&["brief", "chest", "--leave", part]);
    }
    // Of the plural all are meant.
    user.works(&["brief", "chest", "--leave", "the handles"]);
}

/// What was never left alone is not freed, and the answer says what is.
#[test]
fn what_is_not_left_alone_is_not_taken_back() {
    let header = "job folder: 1\npiece: glazed bookcase\n";
    let user = User::with_chest(header, "");
    let free = ["brief", "chest", "--not-leave", "right glazed door"];
    let ran = user.run(&free);
    assert_eq!(ran.code, Some(2), "{}", ran.all());
    user.works(&["brief", "chest", "--leave", "left glazed door"]);
    let ran = user.run(&free);
    assert_eq!(
        ran.err,
        "The right glazed door is not on what is left alone. Left alone: left glazed door. Nothing \
         was noted.\n"
    );
    user.works(&["brief", "chest", "--not-leave", "left glazed door"]);
    // A name that is said as if there were one of it, and there are a dozen.
    let ran = user.run(&["brief", "chest", "--leave", "the pane"]);
    assert!(
        ran.err.contains("Say which, or \"every pane\"."),
        "{}",
        ran.err
    );
    user.works(&["brief", "chest", "--leave", "every pane"]);
}

/// A burn is no part that can be left alone: what is planned about a finding is refused.
#[test]
fn to_leave_something_found_the_job_about_it_is_named() {
    let user = User::new();
    user.works(&["open", "chest of drawers", "--name", "chest"]);
    user.works(&["note", "chest", "the top shows white rings"]);
    let leave = |what| user.run(&["brief", "chest", "--leave", what]);
    let ran = leave("the white rings");
    assert_eq!(ran.code, Some(2), "{}", ran.err);
    let said = "refuse what is planned about it (clear the white rings):\n  tellmark brief chest \
                --refused \"clear the white rings\"\n";
    assert!(ran.err.ends_with(said), "{}", ran.err);
    user.works(&["brief", "chest", "--refused", "clear the white rings"]);
    let ran = leave("the white rings");
    let said = "Nothing is planned about it, so it stays as it is. To keep why:\n  tellmark brief \
                chest --wish \"leave as found: the white rings\"\n";
    assert!(ran.err.ends_with(said), "{}", ran.err);
    let ran = leave("the moonlight");
    assert!(ran.err.ends_with("Nothing was noted.\n"), "{}", ran.err);
}
