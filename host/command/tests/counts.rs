//! How many parts a piece has, as a user opens a job with it or notes it later: it is
//! known in every answer, and the parts are there.

use crate::user::User;

#[test]
fn a_part_that_was_counted_of_the_piece_itself_is_proposed_and_can_be_noted() {
    let user = User::new();
    user.works(&["open", "chest of drawers with 4 drawers", "--name", "chest"]);
    user.works(&["note", "chest", "the chest of drawers has 5 drawers"]);
    let next = user.works(&["next", "chest", "--json", "--most", "200"]);
    assert!(next.contains("drawer 5"), "{next}");
    user.works(&["note", "chest", "drawer 5 is stiff"]);
    let plan = user.works(&["plan", "chest", "--all"]);
    assert!(plan.contains("drawer 5"), "{plan}");
    user.works(&[
        "done", "chest", "clear", "the", "drawer", "--part", "drawer 5",
    ]);
    user.works(&["brief", "chest", "--leave", "drawer 5"]);

    user.works(&["open", "drop-leaf table", "--name", "table"]);
    user.works(&["note", "table", "the drop-leaf table has 1 leaf"]);
    let beyond = user.run(&["note", "table", "right leaf is sagging"]);
    assert_eq!(beyond.code, Some(1), "{}", beyond.out);
    assert!(!user.text("table/record.txt").contains("left leaf"));
    user.works(&["note", "table", "it has 2 leaves"]);
    user.works(&["note", "table", "right leaf is sagging"]);
}

#[test]
fn what_a_job_was_opened_with_is_a_reason() {
    let user = User::new();
    let piece = "drop-leaf table with 1 leaf and no brackets";
    user.works(&["open", piece, "--name", "table"]);
    let why = user.works(&["why", "table", "hinge 1 of left leaf is under strain"]);
    assert!(
        why.contains("opened as a drop-leaf table with 1 leaf and no brackets (job.txt;"),
        "{why}"
    );
    assert!(!why.contains("Nothing that was found"), "{why}");
    let json = user.run(&[
        "why",
        "table",
        "hinge 1 of left leaf is under strain",
        "--json",
    ]);
    let finding = &json.json()["findings"][0];
    assert_eq!(finding["line"], serde_json::Value::Null);
    assert!(finding["chance_without"].as_f64() < Some(0.3), "{finding}");
    // What is counted at the bench stands in its place.
    user.works(&["note", "table", "left leaf has no brackets"]);
    let why = user.works(&["why", "table", "hinge 1 of left leaf is under strain"]);
    assert!(why.contains("left leaf has no brackets (line 1;"), "{why}");
    assert!(!why.contains("job.txt"), "{why}");
}

#[test]
fn what_a_job_was_opened_with_is_named_in_a_clash() {
    let user = User::new();
    user.make("rules");
    user.write(
        "rules/house.rules.txt",
        "House rules for the bench of counts, version 1.\n\
         You can see whether a leaf is unpropped.  Ask: \"Unpropped?\"  On its own: rarely\n\
         If a leaf has no brackets then it is by definition unpropped.  From: house\n",
    );
    let piece = "drop-leaf table with 1 leaf and no brackets";
    user.works(&["open", piece, "--name", "table", "--rules", "rules"]);
    let finding = "left leaf is certainly not unpropped";
    user.works(&["note", "table", finding, "--rules", "rules"]);
    let clash = user.run(&["triage", "table", "--rules", "rules"]);
    assert_eq!(clash.code, Some(1), "{}", clash.err);
    let group = "One of these must be wrong:\n  \
                 job.txt: opened as a drop-leaf table with 1 leaf and no brackets\n  \
                 line 1: left leaf is certainly not unpropped\n";
    assert!(clash.out.contains(group), "{}", clash.out);
}
