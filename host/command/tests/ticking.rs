//! Ticking jobs as people do it: by the numbers of a plan on paper, out of order, against what
//! was wished, work of one's own; and time by the clock.

use crate::user::{Ran, User};

/// A chest of ours whose drawers ask for the same job.
const RECORD: &str = "\
2026-03-02 09:12  drawer 2 is stiff
2026-03-02 09:14  runner 1 of drawer 2 is worn 3 mm
2026-03-02 09:15  bottom of drawer 1 is split 2 mm wide
";

fn chest() -> User {
    User::with_chest(
        "job folder: 1\npiece: chest of drawers with 3 drawers\n",
        RECORD,
    )
}

/// What was added to the record, without the times.
fn added(user: &User) -> Vec<String> {
    user.added_after(RECORD.lines().count())
}

/// The number that a job has in a plan that is printed.
fn number(plan: &str, job: &str) -> String {
    let line = plan.lines().find(|line| line.contains(&format!(". {job}")));
    let line = line.unwrap_or_else(|| panic!("{job}: {plan}"));
    let (number, _) = line.trim().split_once('.').expect("a number");
    number.to_owned()
}

/// Runs a command that was offered, as a shell would.
fn offered(user: &User, said: &str) -> Ran {
    let line = said.lines().find(|line| line.starts_with("  tellmark "));
    let line = line.unwrap_or_else(|| panic!("a command: {said}"));
    let program = env!("CARGO_BIN_EXE_tellmark");
    let line = line.trim().replacen("tellmark", program, 1);
    let mut shell = user.command(&[]);
    let mut command = std::process::Command::new("sh");
    command.arg("-c").arg(line).current_dir(user.path("."));
    for (name, value) in shell.env("NO_COLOR", "1").get_envs() {
        match value {
            Some(value) => command.env(name, value),
            None => command.env_remove(name),
        };
    }
    Ran::of(command.output().expect("it runs"))
}

#[test]
fn a_number_means_the_job_that_it_had_when_the_plan_was_shown() {
    let user = chest();
    let plan = user.works(&["plan", "chest"]);
    assert!(plan.starts_with("Plan 1\n"), "{plan}");
    let clear = number(&plan, "clear the drawer");
    // The plan has moved on, the paper has not.
    user.works(&["done", "chest", "1"]);
    user.works(&["done", "chest", &clear, "--took", "20 min"]);
    let last = added(&user).pop().expect("a line");
    assert!(
        last.starts_with("done: clear the drawer; drawer 1, drawer 2"),
        "{last}"
    );
    let again = user.run(&["done", "chest", &clear]);
    assert_eq!(again.code, Some(1));
    assert!(again.err.contains("is ticked already"), "{}", again.err);
    // The same plan keeps its number, another gets one of its own.
    assert!(user.works(&["plan", "chest"]).starts_with("Plan 2\n"));
    assert!(user.works(&["plan", "chest"]).starts_with("Plan 2\n"));
    // For a program all of it is listed, as with --all: another plan.
    let json = user.run(&["plan", "chest", "--json"]).json();
    assert_eq!(json["plan"], 3);
    assert!(
        user.works(&["plan", "chest", "--all"])
            .starts_with("Plan 3\n")
    );
    // An older one can still be named.
    let was = user.run(&["done", "chest", &clear, "--plan", "1"]);
    assert!(
        was.err.contains("plan 1, \"clear the drawer\""),
        "{}",
        was.err
    );
    let none = user.run(&["done", "chest", "1", "--plan", "9"]);
    assert_eq!(
        (none.code, none.err.as_str()),
        (
            Some(2),
            "There is no plan 9 of this job. Nothing was noted.\n"
        )
    );
}

#[test]
fn a_number_of_no_plan_is_refused() {
    let user = chest();
    let ran = user.run(&["done", "chest", "1"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("No plan of this job was shown yet"),
        "{}",
        ran.err
    );
    assert!(added(&user).is_empty());
}

#[test]
fn what_has_changed_since_the_plan_is_asked_about() {
    let user = chest();
    let plan = user.works(&["plan", "chest", "--certain"]);
    let clear = number(&plan, "clear the drawer");
    user.works(&["note", "chest", "drawer 3 is stiff"]);
    user.works(&["note", "chest", "runner 1 of drawer 3 is worn 3 mm"]);
    user.works(&["done", "chest", "photograph the piece"]);
    let before = added(&user);
    let asked = user.run(&["done", "chest", &clear, "--took", "25 min"]);
    assert_eq!(asked.code, Some(1), "{}{}", asked.out, asked.err);
    assert_eq!(added(&user), before);
    let said = format!(
        "Number {clear} of plan 1 was \"clear the drawer\", for drawer 1 and drawer 2. By now it \
         is called for on drawer 1, drawer 2 and drawer 3. Say for which it was done. Nothing was \
         noted.\n"
    );
    assert!(asked.err.starts_with(&said), "{}", asked.err);
    assert_eq!(asked.err.matches("  tellmark done chest ").count(), 2);
    let ran = offered(&user, &asked.err);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert_eq!(
        added(&user).last().expect("a line"),
        "done: clear the drawer; drawer 1, drawer 2; 25 min"
    );
}

#[test]
fn only_what_is_certain_is_ticked() {
    let user = User::with_demonstration();
    let count = user.text("chest/record.txt").lines().count();
    let said = user
        .run(&["done", "chest", "renew the running edges", "--anyway"])
        .out;
    let ticked = user.added_after(count);
    assert_eq!(ticked, ["done: renew the running edges; drawer 2"]);
    let words = "It is perhaps called for on drawer 1, drawer 3 and drawer 4 as well, and not \
                 ticked there.";
    assert!(said.contains(words), "{said}");
    // Of several that it may be, none is taken for meant.
    let plan = user.works(&["plan", "chest", "--json"]);
    let plan: serde_json::Value = serde_json::from_str(&plan).expect("JSON");
    let steps = plan["steps"].as_array().expect("a list");
    let is_open = |step: &&serde_json::Value| {
        let many = step["perhaps"]
            .as_array()
            .is_some_and(|parts| parts.len() > 1);
        many && step["certain"].as_array().is_some_and(Vec::is_empty)
    };
    let open = steps.iter().find(is_open).expect("one that is open");
    let job = open["job"].as_str().expect("text");
    let ran = user.run(&["done", "chest", job]);
    assert_eq!(ran.code, Some(1), "{job}: {}", ran.err);
    assert!(ran.err.contains("Say where it was done."), "{}", ran.err);
    assert!(ran.err.contains(" --part \""), "{}", ran.err);
}

/// What is to be left alone for weeks is not worked on the same day without a word.
#[test]
fn what_is_to_be_left_alone_is_said_when_the_next_job_is_ticked() {
    let user = chest();
    let dry = ["done", "chest", "dry out the drawer", "--part", "drawer 2"];
    user.works(&[&dry[..], &["--anyway"]].concat());
    let edges = ["done", "chest", "renew the running edges", "--part"];
    let ran = user.run(&[&edges[..], &["drawer 2"]].concat());
    assert_eq!(ran.code, Some(1), "{}", ran.all());
    let said = "\"dry out the drawer\" (line 4) is to be left alone until ";
    assert!(ran.all().contains(said), "{}", ran.all());
    let before = added(&user);
    assert_eq!(before.len(), 1, "{before:?}");
    // Another drawer does not wait for it, and what was done is done.
    let ran = user.run(&[&edges[..], &["drawer 3", "--anyway"]].concat());
    assert!(!ran.all().contains(said), "{}", ran.all());
    let ran = user.run(&[&edges[..], &["drawer 2", "--anyway"]].concat());
    assert!(ran.err.contains(said), "{}", ran.all());
    assert_eq!((ran.code, added(&user).len()), (Some(0), 3));
}

#[test]
fn a_job_out_of_order_says_what_it_was_to_come_after() {
    let user = chest();
    let early = [
        "done",
        "chest",
        "renew the running edges",
        "--part",
        "drawer 2",
    ];
    let ran = user.run(&early);
    assert_eq!(ran.code, Some(1));
    assert!(
        ran.err
            .contains("It was to come after \"clear the drawer\" (drawer 2), which is not ticked"),
        "{}",
        ran.err
    );
    assert!(added(&user).is_empty());
    let ran = offered(&user, &ran.err);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert_eq!(added(&user), ["done: renew the running edges; drawer 2"]);
    // What is to be done on another drawer is not waited for.
    let user = chest();
    user.works(&["done", "chest", "photograph the piece"]);
    user.works(&["done", "chest", "clear the drawer", "--part", "drawer 2"]);
    user.works(&early);
}

#[test]
fn what_the_owner_wanted_otherwise_is_said() {
    let user = chest();
    user.works(&[
        "brief",
        "chest",
        "--leave",
        "drawer 2",
        "--because",
        "the old wax",
    ]);
    user.works(&["brief", "chest", "--refused", "let in a fillet"]);
    let before = added(&user);
    for (job, part, words) in [
        (
            "clear the drawer",
            "drawer 2",
            "The owner wants drawer 2 left alone (line 4): the old wax.",
        ),
        (
            "let in a fillet",
            "bottom of drawer 1",
            "The owner would not have it (line 5).",
        ),
    ] {
        let ran = user.run(&["done", "chest", job, "--part", part]);
        assert_eq!(ran.code, Some(1), "{job}");
        assert!(ran.err.contains(words), "{}", ran.err);
        assert_eq!(added(&user), before, "{job}");
        let anyway = user.run(&["done", "chest", job, "--part", part, "--anyway"]);
        assert_eq!(anyway.code, Some(0), "{}", anyway.err);
        assert!(anyway.err.contains(words), "{}", anyway.err);
        user.run(&["done", "chest", job, "--undo"]);
        user.write("chest/record.txt", format!("{RECORD}{}", dated(&before)));
    }
    // Work of one's own, too.
    let own = [
        "done",
        "chest",
        "oil the lock",
        "--own",
        "--part",
        "drawer 2",
    ];
    assert_eq!(user.run(&own).code, Some(1));
}

fn dated(lines: &[String]) -> String {
    let lines = lines
        .iter()
        .map(|line| format!("2026-03-02 10:00  {line}\n"));
    lines.collect()
}

#[test]
fn work_that_no_rule_plans_is_ticked_with_its_hours() {
    let user = chest();
    let slip = user.run(&["done", "chest", "turn a new knob", "--took", "2 h"]);
    assert_eq!(slip.code, Some(2));
    assert!(added(&user).is_empty(), "a slip is not work of one's own");
    let ran = offered(&user, &slip.err);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert_eq!(added(&user), ["done: turn a new knob; ; 2 h"]);
    let plan = user.works(&["plan", "chest", "--certain"]);
    assert!(plan.contains("  x  turn a new knob (2 h, "), "{plan}");
    user.works(&["done", "chest", "turn a new knob", "--undo"]);
    assert!(!user.works(&["plan", "chest"]).contains("turn a new knob"));
}

#[test]
fn a_clock_runs_from_start_to_stop() {
    let user = chest();
    user.works(&["done", "chest", "photograph the piece"]);
    assert_eq!(user.run(&["stop", "chest"]).code, Some(1));
    user.works(&["start", "chest", "clear the dr"]);
    let shelf = user.works(&["jobs"]);
    assert!(
        shelf.contains("A clock runs on \"clear the drawer\", since "),
        "{shelf}"
    );
    let twice = user.run(&["start", "chest", "wax the piece"]);
    assert_eq!(twice.code, Some(1));
    assert!(
        twice
            .err
            .contains("A clock runs already on \"clear the drawer\""),
        "{}",
        twice.err
    );
    let stopped = user.works(&["stop", "chest"]);
    assert!(
        stopped.contains("stopped: clear the drawer; 1 min"),
        "{stopped}"
    );
    assert!(
        !user.works(&["plan", "chest"]).contains("  x  clear"),
        "nothing is ticked"
    );
    user.works(&["start", "chest", "clear the drawer"]);
    user.works(&["stop", "chest", "--took", "half an hour"]);
    assert!(!user.works(&["jobs"]).contains("A clock runs"));
    // What was timed is what it took, unless somebody says otherwise.
    let ticked = user.works(&["done", "chest", "clear the drawer"]);
    assert!(ticked.contains("drawer 1, drawer 2; 31 min"), "{ticked}");
    assert!(ticked.contains("The time is as it was timed."), "{ticked}");
    let own = user.works(&["start", "chest", "turn a new knob"]);
    assert!(own.contains("timed as work of your own"), "{own}");
    let offer = user.works(&["stop", "chest"]);
    let ran = offered(&user, &offer);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert_eq!(
        added(&user).last().expect("a line"),
        "done: turn a new knob; ; 1 min"
    );
}

/// Nobody works through the night: how long it was, only they can say.
#[test]
fn a_clock_that_ran_over_night_is_asked_about() {
    let user = chest();
    user.add("2026-03-05 16:40+00:00  started: clear the drawer");
    let asked = user.run(&["stop", "chest"]);
    assert_eq!(asked.code, Some(1));
    assert!(asked.err.contains("not stopped that day"), "{}", asked.err);
    assert_eq!(added(&user).len(), 1);
    let ran = offered(&user, &asked.err);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert_eq!(
        added(&user).last().expect("a line"),
        "stopped: clear the drawer; 2 h"
    );
}

#[test]
fn a_job_of_the_rules_is_no_work_of_one_s_own_and_what_is_not_ticked_is_not_taken_back() {
    let user = User::with_demonstration();
    let own = user.run(&["done", "chest", "fit new stops", "--own"]);
    assert_eq!(own.code, Some(2), "{}", own.all());
    assert!(own.err.contains("leave --own out"), "{}", own.err);
    let tick = ["done", "chest", "photograph the piece", "--took", "1 h"];
    user.works(&tick);
    let twice = user.run(&tick);
    assert_eq!(twice.code, Some(1), "{}", twice.all());
    assert!(twice.err.contains("It is ticked already"), "{}", twice.err);
    user.run(&[
        "done",
        "chest",
        "renew the bearers",
        "--part",
        "drawer 2",
        "--anyway",
    ]);
    let back = user.run(&[
        "done",
        "chest",
        "renew the bearers",
        "--undo",
        "--part",
        "drawer 3",
    ]);
    assert_eq!(back.code, Some(2), "{}", back.all());
    assert!(
        back.err.contains("was not ticked for drawer 3"),
        "{}",
        back.err
    );
}

/// A tick after one that was taken back is a new moment: what was noted between counts as found
/// before the work, and is said to.
#[test]
fn a_second_tick_says_what_the_notes_before_it_count_as() {
    let user = chest();
    user.works(&["done", "chest", "photograph the piece"]);
    let told = user.works(&["done", "chest", "clear the drawer", "--part", "drawer 2"]);
    assert!(!told.contains("It was ticked before"), "{told}");
    let first = user.text("chest/record.txt").lines().count();
    user.works(&["done", "chest", "clear the drawer", "--part", "drawer 3"]);
    user.works(&["note", "chest", "drawer 2 is creaking"]);
    user.works(&[
        "done",
        "chest",
        "clear the drawer",
        "--part",
        "drawer 2",
        "--undo",
    ]);
    let told = user.works(&["done", "chest", "clear the drawer", "--part", "drawer 2"]);
    let said = format!("It was ticked before, on line {first}, and that was taken back.");
    assert!(told.contains(&said), "{told}");
    assert!(
        told.contains("now counts as found before this work"),
        "{told}"
    );
    // What was taken back for one part says nothing of another.
    let told = user.works(&["done", "chest", "clear the drawer", "--part", "drawer 1"]);
    assert!(!told.contains("It was ticked before"), "{told}");
}

/// What is taken off is put back, whatever becomes of the reason for which it was taken off; and
/// once more, if it is taken off once more.
#[test]
fn doors_that_were_taken_off_are_still_to_be_hung() {
    let user = User::with_chest(
        "job folder: 1\npiece: cupboard with 2 doors\n",
        "2026-03-02 09:12  the cupboard is racked\n",
    );
    let hangs = || {
        let plan = user.works(&["plan", "chest"]);
        plan.lines().any(|line| line.contains(". hang the doors"))
    };
    let done = |job: &str| {
        let ran = user.run(&["done", "chest", job, "--anyway"]);
        assert_eq!(ran.code, Some(0), "{job}: {}", ran.err);
    };
    assert!(hangs());
    done("take off the doors");
    done("square the carcase");
    let plan = user.works(&["plan", "chest"]);
    assert!(!plan.contains(". take off the doors"), "{plan}");
    assert!(hangs());
    let why = user.works(&["plan", "chest", "--why", "hang the doors"]);
    assert!(
        why.contains("because it must follow \"take off the doors\""),
        "{why}"
    );
    let quote = user.works(&["quote", "chest"]);
    assert!(quote.contains("hang the doors: the cupboard"), "{quote}");
    done("hang the doors");
    assert!(!hangs());
    done("take off the doors");
    assert!(hangs());
    user.works(&["done", "chest", "take off the doors", "--undo"]);
    assert!(!hangs());
    // So it is where a hand wrote no part.
    user.add("2026-03-09 09:12  done: take off the doors");
    assert!(hangs());
}

/// A follower that is to do with its first, that cannot be done, and that follows what was refused
/// only after it was done.
#[test]
fn what_must_follow_is_told_whatever_becomes_of_it() {
    let rules = "House rules for the lamp bench, version 1.\n\nPieces: lamp box.\n\
        Parts: lamp tray.\n\
        A lamp box has 2 lamp trays.\n\
        You can see whether a lamp tray is gritty.  Ask: \"Gritty?\"\n\
        When a lamp tray is gritty then plan to lift the tray.  From: house\n\
        Job: lift the tray.  Takes: 10 minutes  Then: seat the tray\n\
        Job: seat the tray.  Takes: 10 minutes  First: oil the slot\n\
        Job: oil the slot.  Takes: 5 minutes  First: lift the tray\n";
    let user = User::with_chest(
        "job folder: 1\npiece: lamp box\n",
        "2026-03-02 09:12  lamp tray 2 is gritty\n",
    );
    user.make("rules");
    user.write("rules/lamp.rules.txt", rules);
    let run = |arguments: &[&str]| user.run(&[&["--rules", "rules"], arguments].concat());
    let plan = || run(&["plan", "chest"]).all();
    assert!(plan().contains(". seat the tray"), "{}", plan());
    let refused = ["brief", "chest", "--refused", "oil the slot"];
    assert_eq!(run(&refused).code, Some(0));
    assert_eq!(
        run(&["done", "chest", "lift the tray", "--part", "lamp tray 2"]).code,
        Some(0)
    );
    let told = plan();
    assert!(
        told.contains("Not done, since \"oil the slot\" was refused: seat the tray: lamp tray"),
        "{told}"
    );
    // The owner thinks better of it; what was done is done, even if it is refused by then.
    run(&["brief", "chest", "--not-decided", "oil the slot"]);
    run(&["brief", "chest", "--refused", "lift the tray"]);
    assert!(plan().contains(". seat the tray"), "{}", plan());
    // Once seated, it is to be lifted again if something calls for that.
    for job in ["oil the slot", "seat the tray"] {
        let ran = run(&["done", "chest", job, "--part", "lamp tray 2", "--anyway"]);
        assert_eq!(ran.code, Some(0), "{}", ran.all());
    }
    assert!(!plan().contains(". seat the tray"), "{}", plan());
}

/// What must set is waited for by what comes after it, however the rules say that it does.
#[test]
fn a_job_before_which_something_must_set_is_not_ticked_without_a_word() {
    let user = User::with_chest(
        "job folder: 1\npiece: glazed bookcase with 2 doors\n",
        "2026-03-02 09:12  glazing of left glazed door is hard in the putty\n",
    );
    let done = |job: &str, more: &[&str]| user.run(&[&["done", "chest", job], more].concat());
    for job in [
        "take off the doors",
        "take out the glass",
        "renew the putty",
    ] {
        let part = ["--part", "glazing of left glazed door", "--anyway"];
        let more = match job {
            "take off the doors" => &part[2..],
            _ => &part[..],
        };
        let ran = done(job, more);
        assert_eq!(ran.code, Some(0), "{job}: {}", ran.all());
    }
    let ran = done("hang the doors", &[]);
    assert_eq!(ran.code, Some(1), "{}", ran.all());
    assert!(ran.err.contains("renew the putty"), "{}", ran.err);
}
