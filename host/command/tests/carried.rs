//! A gate-leg table carried through by hand: what is said of a job is true at the moment at which
//! it is said.

use crate::user::User;

/// The table, with these notes.
fn table(notes: &[&str]) -> User {
    let user = User::new();
    let piece = "gate-leg table with 1 drawer";
    user.works(&["open", piece, "--name", "chest", "--owner", "A. Linden"]);
    for note in notes {
        user.run(&["note", "chest", note]);
    }
    user
}

/// The letter of a report, without its tags.
fn letter(user: &User, kind: &str) -> String {
    let page = ["report", "chest", "--kind", kind, "--out", "page.html"];
    user.run(&page);
    let page = user.text("page.html");
    let page = page.split("<h1>").nth(1).expect("a title");
    let page = page.split("id=\"record\"").next().unwrap_or(page);
    let mut text = String::new();
    let mut is_tag = false;
    for sign in page.chars() {
        match sign {
            '<' => is_tag = true,
            '>' => is_tag = false,
            _ if !is_tag => text.push(sign),
            _ => {}
        }
    }
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn plan(user: &User) -> String {
    user.works(&["plan", "chest"])
}

/// At which place a step stands in a plan.
fn place(plan: &str, job: &str) -> usize {
    let is_it = |line: &str| {
        let said = line.split_once(". ").map_or("", |(_, said)| said);
        said.starts_with(job)
    };
    plan.lines()
        .position(is_it)
        .unwrap_or_else(|| panic!("no {job} in:\n{plan}"))
}

#[test]
fn a_key_is_cut_to_a_lock_that_is_there() {
    let user = table(&["the drawer shows lost keys"]);
    // Nobody said whether it has a lock; a lost key speaks for one, and a look settles it.
    assert!(plan(&user).contains("almost certainly cut a drawer key"));
    let why = user.works(&["why", "chest", "the drawer shows lost keys"]);
    assert!(why.contains("count the locks of table drawer 1"), "{why}");
    let told = user.run(&["note", "chest", "the drawer has no locks"]).out;
    assert!(told.contains("These sit oddly together"), "{told}");
    assert!(!plan(&user).contains("cut a drawer key"));
    let said = letter(&user, "estimate");
    assert!(said.contains("Table drawer 1 has no lock."), "{said}");
    assert!(!said.contains("cut a key"), "{said}");
    user.works(&["note", "chest", "the drawer has 1 lock"]);
    let planned = plan(&user);
    assert!(planned.contains(". cut a drawer key"), "{planned}");
}

/// The same of a box, whose key is asked for.
#[test]
fn a_box_without_a_lock_gets_no_key() {
    let user = User::new();
    user.works(&["open", "box", "--name", "chest"]);
    user.works(&["note", "chest", "the box case is short of a key"]);
    assert!(plan(&user).contains("almost certainly cut a key"));
    user.run(&["note", "chest", "the box case has no locks"]);
    assert!(!plan(&user).contains("cut a key"));
}

#[test]
fn a_top_that_is_left_alone_is_not_taken_off_without_asking() {
    let user = table(&[
        "the joined frame is racking",
        "front left leg is moving by hand",
    ]);
    user.works(&["brief", "chest", "--leave", "the top"]);
    let planned = plan(&user);
    let step = place(&planned, "take the frame down");
    let before: Vec<&str> = planned.lines().take(step).collect();
    let [.., leave, hold] = before.as_slice() else {
        panic!("{planned}")
    };
    assert!(
        leave.contains("Leave: the owner wants the top left alone"),
        "{planned}"
    );
    assert!(hold.contains("Hold: the owner decides"), "{planned}");
    let quoted = user.works(&["quote", "chest"]);
    assert!(
        quoted.contains("take the frame down: the joined frame *"),
        "{quoted}"
    );
    let said = letter(&user, "estimate");
    assert!(
        said.contains("we will take the top off and the joined frame apart at its loose joints"),
        "{said}"
    );
    let told = user.run(&["done", "chest", "take the frame down"]);
    assert_eq!(told.code, Some(1));
    assert!(
        told.err.contains("The owner wants the top left alone"),
        "{}",
        told.err
    );
}

#[test]
fn nothing_is_undone_by_what_comes_after() {
    let user = table(&[
        "the joined frame is slack at the joints",
        "left table stretcher is broken along the length",
        "fore table stretcher is loose in the mortise",
        "left gated leaf is warped",
        "left gated leaf is off the centre",
        "hinge 1 of left gated leaf is under strain",
    ]);
    let planned = plan(&user);
    let order = [
        "take the frame down",
        "clean out the joint",
        "assemble it dry",
        "glue up the stretcher",
        "glue up the frame",
        "flatten the leaf",
        "ease the rule joint",
    ];
    let places: Vec<usize> = order.iter().map(|job| place(&planned, job)).collect();
    assert!(places.is_sorted(), "{planned}");
    assert!(place(&planned, "mend the stretcher") < place(&planned, "assemble it dry"));
    assert!(place(&planned, "flatten the leaf") < place(&planned, "rehang the flap"));
}

#[test]
fn plan_and_quotation_say_the_same_of_a_job() {
    let user = table(&["the drawer shows lost keys", "the joined frame is racking"]);
    let plan = user.run(&["plan", "chest", "--json"]).json();
    let quote = user.run(&["quote", "chest", "--json"]).json();
    let items = quote["rests_on"]["items"].as_array().expect("items");
    let mut compared = 0;
    for step in plan["steps"].as_array().expect("steps") {
        for one in step["perhaps"].as_array().expect("perhaps") {
            let is_it = |item: &&serde_json::Value| {
                item["job"] == step["job"] && item["part"] == one["part"]
            };
            if let Some(item) = items.iter().find(is_it)
                && !item["chance"].is_null()
                && item["longest_of_several"] == false
            {
                assert_eq!(item["chance"], one["chance"], "{one}");
                compared += 1;
            }
        }
    }
    assert!(compared > 5);
    // What has a fixed price is not called "perhaps".
    let planned = self::plan(&user);
    let quoted = user.works(&["quote", "chest"]);
    let fixed = quoted.split("Fixed in all").next().expect("what is fixed");
    assert!(fixed.contains("photograph the piece"), "{quoted}");
    assert!(
        !planned.contains("perhaps photograph the piece"),
        "{planned}"
    );
    let nine = quote["rests_on"]["hours"]["p90"].as_f64().expect("hours");
    let said = format!("{} in 9", tellmark_language::words::hours(nine));
    assert!(planned.contains(&said), "{planned}");
}

#[test]
fn live_worm_is_told_however_much_else_is_likely() {
    let user = table(&[
        "bright holes",
        "the joined frame is racking",
        "front left leg is moving by hand",
        "front right leg is moving by hand",
        "back left leg is moving by hand",
        "back right leg is moving by hand",
        "fore table stretcher is giving at the joint",
        "hind table stretcher is giving at the joint",
        "left table stretcher is giving at the joint",
        "right table stretcher is giving at the joint",
    ]);
    let triage = user.works(&["triage", "chest"]);
    assert!(triage.contains("actively wormed"), "{triage}");
    let said = letter(&user, "estimate");
    assert!(
        said.contains("The piece may have live woodworm in it."),
        "{said}"
    );
}

#[test]
fn what_was_so_is_not_written_as_what_is_so() {
    let user = table(&[]);
    let told = user.run(&["note", "chest", "the drawer was stiff"]);
    assert_eq!(told.code, Some(1));
    assert!(told.out.contains("\"Was\" may be over"), "{}", told.out);
    assert_eq!(
        user.added_after(0),
        ["remark: table drawer 1; the drawer was stiff"]
    );
    user.works(&["note", "chest", "the drawer is stiff"]);
}

#[test]
fn what_was_noted_of_marks_and_earlier_work_is_no_blank() {
    let user = table(&["the piece is mended earlier"]);
    user.works(&["remark", "chest", "stamped JW", "--part", "the top"]);
    user.run(&["report", "chest", "--out", "page.html"]);
    let page = user.text("page.html");
    assert!(page.contains("stamped JW (line 2)"), "marks");
    let blank = page.split("left blank: ").nth(1).expect("blank fields");
    let blank = blank.split("</p>").next().expect("an end");
    assert!(!blank.contains("marks and inscriptions"), "{blank}");
    assert!(!blank.contains("earlier treatment"), "{blank}");
    assert!(blank.contains("dimensions"), "{blank}");
}

#[test]
fn the_letter_tells_in_a_sentence_or_two_what_must_be_left_alone() {
    let user = table(&[
        "left table stretcher is broken along the length",
        "fore table stretcher is loose in the mortise",
        "left gated leaf is warped",
    ]);
    for job in [
        "mend the stretcher",
        "glue up the stretcher",
        "flatten the leaf",
    ] {
        let ran = user.run(&["done", "chest", job, "--anyway"]);
        assert_eq!(ran.code, Some(0), "{}", ran.all());
    }
    let said = letter(&user, "hand-back");
    let lead = said.split("What was wrong").next().expect("a lead");
    assert!(lead.contains("We flattened the left gated leaf."), "{lead}");
    assert_eq!(lead.matches("to be left alone").count(), 2, "{lead}");
    assert!(
        lead.contains("Two more repairs are to be left alone as well, none longer."),
        "{lead}"
    );
    assert!(!lead.contains("We mended the break"), "{lead}");
}

#[test]
fn an_owner_is_not_told_what_the_bench_is_told() {
    let user = table(&[
        "fresh frass",
        "hinge 1 of left gated leaf is broken at the knuckle",
    ]);
    let triage = user.works(&["triage", "chest"]);
    assert!(triage.contains("Set it apart. Bag it."), "{triage}");
    let said = letter(&user, "estimate");
    assert!(
        said.contains("Keep it apart from other furniture."),
        "{said}"
    );
    assert!(
        said.contains("The hinge is broken. Do not raise the leaf."),
        "{said}"
    );
    assert!(
        !said.contains("Bag it") && !said.contains("Follow local rules"),
        "{said}"
    );
}

#[test]
fn why_a_job_is_not_in_the_plan_is_said() {
    let user = table(&["left gated leaf is warped"]);
    let told = user.works(&["plan", "chest", "--why", "ease the slide"]);
    assert!(
        told.contains("nothing that was found calls for it"),
        "{told}"
    );
    user.run(&["done", "chest", "flatten the leaf", "--anyway"]);
    let told = user.works(&["plan", "chest", "--why", "flatten the leaf"]);
    assert!(
        told.contains("is done: left gated leaf: line 2, "),
        "{told}"
    );
    let told = user.run(&["plan", "chest", "--why", "flaten the leaf"]);
    assert!(
        told.err.contains("Did you mean \"flatten the leaf\"?"),
        "{}",
        told.err
    );
}

#[test]
fn a_slip_of_the_finger_in_an_answer_is_told_the_nearest_job() {
    let user = User::with_priced_house();
    user.works(&["quote", "chest", "--keep"]);
    let answer = |job: &str| {
        let agreed = ["brief", "chest", "--agreed", "estimate 1", "--except", job];
        user.run(&agreed)
    };
    let told = answer("photgraph the piece").err;
    assert!(
        told.contains("Did you mean \"photograph the piece\"?"),
        "{told}"
    );
    assert_eq!(answer("photograph the piece").code, Some(0));
}

/// A span of centuries tells an owner nothing.
#[test]
fn a_span_that_tells_nothing_is_not_told() {
    let user = User::new();
    user.works(&["open", "chest of drawers with 2 drawers", "--name", "chest"]);
    user.works(&["note", "chest", "drawer 1 is coarse-dovetailed"]);
    let said = letter(&user, "estimate");
    assert!(!said.contains("some time from"), "{said}");
}
