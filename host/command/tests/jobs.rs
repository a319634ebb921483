//! The workshop's shelf: the jobs under a folder, and where each stands.

use crate::user::User;
use std::fs;

/// A workshop with three jobs: one in its own folder, two a year down.
fn workshop() -> User {
    let user = User::with_demonstration();
    user.make("2026");
    for name in ["new", "old"] {
        user.works(&[
            "open",
            "chest of drawers with 3 drawers",
            "--in",
            "2026",
            "--name",
            name,
        ]);
    }
    user.works(&["note", "2026/old", "drawer 2 is stiff"]);
    user.works(&[
        "done",
        "2026/old",
        "photograph the piece",
        "--took",
        "20 min",
    ]);
    user
}

#[test]
fn each_job_is_told_with_where_it_stands() {
    let user = workshop();
    let told = user.works(&["jobs"]);
    let heads: Vec<&str> = told.lines().filter(|line| !line.starts_with(' ')).collect();
    let names: Vec<&str> = heads
        .iter()
        .filter_map(|line| line.split(':').next())
        .collect();
    assert_eq!(names, ["2026/new", "2026/old", "chest"], "{told}");
    let standing: Vec<&str> = told.lines().filter(|line| line.starts_with(' ')).collect();
    assert_eq!(standing[0], "    Taken in");
    assert_eq!(standing[1], "    Nothing certain left: 1 job done");
    assert!(standing[2].starts_with("    Looked over: "), "{told}");
    assert!(
        standing[2].contains(" jobs certain and left, mostly "),
        "{told}"
    );
    assert!(standing[2].ends_with(" for the owner's answer"), "{told}");
    let json = user.run(&["jobs", "2026", "--json"]).json();
    let stages = json["jobs"].as_array().expect("a list").iter();
    let stages: Vec<&str> = stages.filter_map(|job| job["stage"].as_str()).collect();
    assert_eq!(stages, ["taken in", "nothing certain left"]);
}

#[test]
fn jobs_are_found_by_words_of_their_record() {
    let user = workshop();
    let told = user.works(&["jobs", "--with", "Drawer 2 is STIFF"]);
    assert!(told.contains("2026/old"), "{told}");
    assert!(!told.contains("2026/new"), "{told}");
    assert!(told.contains("      drawer 2 is stiff"), "{told}");
    let none = user.run(&["jobs", "--with", "hippopotamus"]);
    assert_eq!(none.code, Some(1));
    assert_eq!(
        none.out,
        "No job in this folder has \"hippopotamus\" in its record.\n"
    );
}

/// One that cannot be read stands on the shelf all the same; a link is not followed.
#[test]
fn a_job_that_cannot_be_read_hides_no_other() {
    let user = workshop();
    fs::write(user.path("2026/new/job.txt"), "job folder: 9\n").expect("written");
    #[cfg(unix)]
    std::os::unix::fs::symlink(user.path("2026"), user.path("again")).expect("a link");
    let told = user.works(&["jobs"]);
    assert!(told.contains("2026/new: a piece not known"), "{told}");
    assert!(told.contains("Where it stands cannot be said: "), "{told}");
    assert!(told.contains("2026/old"), "{told}");
    assert!(!told.contains("again"), "{told}");
}

#[test]
fn no_job_and_no_folder_are_told() {
    let user = User::new();
    let none = user.run(&["jobs"]);
    assert_eq!(
        (none.code, none.out.as_str()),
        (Some(1), "There is no job in this folder.\n")
    );
    let nowhere = user.run(&["jobs", "nowhere"]);
    assert_eq!(nowhere.code, Some(3));
    let bare = workshop();
    bare.write("house.rules.txt", "House rules for our shelf, version 1.\n");
    fs::remove_dir_all(bare.path("chest")).expect("removed");
    // One folder down they are found by "tellmark" alone, further down by "jobs".
    let told = bare.works(&[]);
    assert!(
        told.contains("2026/new: chest of drawers with 3 drawers, no findings"),
        "{told}"
    );
    assert!(told.contains("  tellmark triage 2026/old\n"), "{told}");
    let rules = bare.works(&["--rules", "house.rules.txt"]);
    assert!(
        rules.contains("  tellmark triage 2026/old --rules house.rules.txt\n"),
        "{rules}"
    );
    fs::create_dir(bare.path("years")).expect("made");
    fs::rename(bare.path("2026"), bare.path("years/2026")).expect("moved");
    let told = bare.works(&[]);
    assert!(told.contains("tellmark jobs"), "{told}");
}

/// Where a job stands, as the shelf has it.
fn stands(user: &User) -> String {
    let told = user.works(&["jobs", "chest"]);
    told.lines()
        .nth(1)
        .expect("where it stands")
        .trim()
        .to_owned()
}

#[test]
fn a_job_goes_from_taken_in_to_handed_back() {
    let header = "job folder: 1\npiece: chest of drawers with 3 drawers\nowner: the mill\n";
    let user = User::with_chest(header, "");
    assert_eq!(stands(&user), "Taken in");
    assert!(
        user.works(&["jobs"])
            .starts_with("chest: a chest of drawers with 3 drawers, of the mill\n")
    );
    user.works(&["note", "chest", "bottom of drawer 1 is split 2 mm wide"]);
    assert!(
        stands(&user).starts_with("Looked over: "),
        "{}",
        stands(&user)
    );
    user.works(&["brief", "chest", "--agreed", "let in a fillet"]);
    assert!(stands(&user).starts_with("Agreed: "), "{}", stands(&user));
    user.works(&["done", "chest", "photograph the piece"]);
    assert!(
        stands(&user).starts_with("On the bench: 1 job done; "),
        "{}",
        stands(&user)
    );
    // What sets is waited for by itself.
    user.run(&["done", "chest", "reglue the drawer", "--part", "drawer 1"]);
    let waiting = stands(&user);
    assert!(
        waiting.starts_with("Waiting: for \"reglue the drawer\" until "),
        "{waiting}"
    );
    assert!(waiting.contains("; 2 jobs done"), "{waiting}");
    user.works(&[
        "shelf",
        "chest",
        "--waits",
        "the lock from the smith",
        "--until",
        "2999-12-05",
    ]);
    let waiting = stands(&user);
    assert!(
        waiting.starts_with("Waiting: for \"the lock from the smith\", expected on 2999-12-05; "),
        "{waiting}"
    );
    let json = user.run(&["jobs", "--json"]).json();
    assert_eq!(json["jobs"][0]["waits_for"], "the lock from the smith");
    assert_eq!(json["jobs"][0]["owner"], "the mill");
    // A day that is over is no end of a wait: what was waited for has not come.
    user.works(&[
        "shelf",
        "chest",
        "--waits",
        "the lock",
        "--until",
        "2026-01-01",
    ]);
    let waiting = stands(&user);
    assert!(
        waiting.contains("for \"the lock\", expected on 2026-01-01, which is over"),
        "{waiting}"
    );
    user.works(&["shelf", "chest", "--ready"]);
    assert!(stands(&user).starts_with("Ready: "), "{}", stands(&user));
    // Work on it ends that.
    user.works(&["start", "chest", "wax the piece"]);
    assert!(!stands(&user).starts_with("Ready"), "{}", stands(&user));
    user.works(&["stop", "chest"]);
    let back = user.works(&["shelf", "chest", "--handed-back"]);
    assert!(back.contains("Still open: "), "{back}");
    assert!(back.contains("of the plan not done"), "{back}");
    assert!(back.contains("shelf chest --goes-on"), "{back}");
    assert!(!back.contains("STOP"), "{back}");
    // What goes home unfinished is not said to be on its way.
    let letter = user.run(&["report", "chest", "--json"]).json();
    assert_eq!(letter["kind"], "hand-back");
    assert!(
        letter["letter"]["left"]
            .to_string()
            .contains("This is not done: "),
        "{}",
        letter["letter"]["left"]
    );
    assert!(
        stands(&user).starts_with("Handed back: "),
        "{}",
        stands(&user)
    );
    assert_eq!(user.works(&["shelf", "chest"]).trim(), stands(&user));
    user.works(&["shelf", "chest", "--goes-on"]);
    assert!(
        !stands(&user).starts_with("Handed back"),
        "{}",
        stands(&user)
    );
}

#[test]
fn what_is_no_day_is_refused() {
    let user = User::with_demonstration();
    let before = user.text("chest/record.txt");
    for (arguments, words) in [
        (&["--waits", "the lock", "--until", "soon"][..], "as a day"),
        (&["--waits", " "], "Say what it waits for"),
        (&["--ready", "--handed-back"], ""),
    ] {
        let ran = user.run(&[&["shelf", "chest"], arguments].concat());
        assert_eq!(ran.code, Some(2), "{arguments:?}");
        assert!(ran.err.contains(words), "{}", ran.err);
    }
    assert_eq!(user.text("chest/record.txt"), before);
}
