//! `tellmark repair`, over what stopped programs and slips leave.

use crate::user::User;
use std::fs;

const HEADER: &str = "job folder: 1\npiece: chest of drawers with 3 drawers\n";
const RECORD: &str = "2026-03-02 09:12  drawer 2 is stiff\n\
                      2026-03-02 09:13  photo: 1-front.jpg; ; before; the front\n\
                      2026-03-02 09:13  photo: 4-back.jpg; ; before; the back\n\
                      2026-03-02 09:14  drawer 3 is sti";

fn user() -> User {
    let user = User::with_chest(HEADER, RECORD);
    user.make("chest/photos");
    user.write("chest/photos/1-front.jpg", "the front");
    user.write("chest/photos/2-lip.jpg", "the lip");
    user.write(
        "chest/photos/.unfinished-0123456789abcdef",
        "half a photograph",
    );
    user.write("chest/.unfinished-0123456789abcdef", "half a page");
    user.write("chest/report-2026-03-02.html.unfinished", "half a page");
    user.write("chest/record.lock", "program number 7 since yesterday\n");
    user
}

/// Every file with what is in it.
fn everything(user: &User, folder: &str) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for entry in fs::read_dir(user.path(folder)).expect("read").flatten() {
        let name = entry.file_name().into_string().expect("text");
        let path = format!("{folder}/{name}");
        if entry.path().is_dir() {
            all.extend(everything(user, &path));
        } else {
            let text = user.text(&path);
            all.push((path, text));
        }
    }
    all.sort();
    all
}

#[test]
fn what_is_amiss_is_listed_and_mended() {
    let user = user();
    let before = everything(&user, "chest");
    let listed = user.run(&["repair", "chest"]);
    insta::assert_snapshot!("repair_listed", listed.all());
    assert_eq!(
        everything(&user, "chest"),
        before,
        "listing changes nothing"
    );

    let mended = user.run(&["repair", "chest", "--write"]);
    insta::assert_snapshot!("repair_mended", mended.all());
    let after = everything(&user, "chest");
    let words = |files: &[(String, String)]| {
        let texts = files.iter().filter(|(path, _)| !path.contains("record."));
        let mut texts: Vec<String> = texts.map(|(_, text)| text.clone()).collect();
        texts.sort();
        texts
    };
    assert_eq!(words(&after), words(&before), "nothing is deleted");
    let record = user.text("chest/record.txt");
    assert_eq!(record, format!("{RECORD} <cut short here, not read>\n"));

    let left = user.run(&["repair", "chest", "--write"]);
    insta::assert_snapshot!("repair_left", left.all());
    assert_eq!(everything(&user, "chest"), after);
}

#[test]
fn programs_are_told_the_same() {
    let user = user();
    let ran = user.run(&["repair", "chest", "--json"]);
    assert_eq!(ran.code, Some(1));
    insta::assert_snapshot!("repair_json", ran.out);
}

#[test]
fn where_nothing_is_amiss_it_says_so() {
    let user = User::with_chest(HEADER, "drawer 2 is stiff");
    assert_eq!(
        user.works(&["repair", "chest"]),
        "Nothing is amiss in chest.\n"
    );
    assert_eq!(
        user.works(&["repair", "chest", "--write"]),
        "Nothing is amiss in chest.\n"
    );
    assert_eq!(user.text("chest/record.txt"), "drawer 2 is stiff");
    let missing = user.run(&["repair", "nowhere"]);
    assert_eq!(missing.code, Some(2));
}

/// A lock that somebody holds is none that was left.
#[test]
fn a_program_at_work_is_left_alone() {
    let user = User::with_chest(HEADER, "drawer 2 is stiff\n");
    user.write("chest/record.lock", "program number 7\n");
    let held = fs::File::open(user.path("chest/record.lock")).expect("there");
    held.lock().expect("locked");
    assert_eq!(
        user.works(&["repair", "chest"]),
        "Nothing is amiss in chest.\n"
    );
    let busy = user.run(&["repair", "chest", "--write"]);
    assert_eq!(busy.code, Some(3), "{}", busy.err);
}
