//! What the owner reads: the right paper at every moment, in plain words, and not one sentence
//! that is not true then.

use crate::user::User;
use std::fs;

const HEADER: &str = "\
job folder: 1
piece: chest of drawers with 2 drawers
opened: 2026-03-01 09:00
house rules: the standard bench
version: 1
owner: an invented owner
examiner: an invented examiner
";

const FOUND: &str = "\
2026-03-02 09:10  the piece is kept near heating
2026-03-02 09:11  the main wood of the piece is walnut
2026-03-02 09:12  drawer 2 is stiff
2026-03-02 09:13  foot 3 of the base is leaning
2026-03-02 09:14  foot 3 of the base shows pale squares
2026-03-02 09:15  drawer 1 is stiff
2026-03-02 09:16  drawer 1 is not stiff
2026-03-02 09:17  the purpose of the piece is daily use
2026-03-02 09:18  leave: the surface of the top; the rings are remembered
";

const BEGUN: &str = "\
2026-03-09 09:00  foot 3 of the base is certainly off the blocks
2026-03-09 09:00  done: reblock the foot; foot 3 of the base; 1 hour
";

/// The words of the owner's part of the page, without marks, and the rest of it.
fn pages(chest: &User, more: &[&str]) -> (String, String) {
    let mut arguments = vec!["report", "chest", "--out", "page.html"];
    arguments.extend(more);
    let ran = chest.run(&arguments);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let page = fs::read_to_string(chest.path("page.html")).expect("written");
    let body = page.split_once("<body>").expect("a body").1.to_owned();
    let (letter, record) = body.split_once("id=\"record\"").expect("a record");
    (plain(letter), plain(record))
}

fn plain(html: &str) -> String {
    let mut text = String::new();
    for part in html.split('<') {
        text.push(' ');
        text.push_str(part.split_once('>').map_or(part, |(_, words)| words));
    }
    let text = text.replace("&#x27;", "'").replace("&#x2f;", "/");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn chest(record: &str) -> User {
    User::with_chest(HEADER, record)
}

#[test]
fn before_the_work_it_is_an_estimate_that_says_what_is_to_come() {
    let (letter, _) = pages(&chest(FOUND), &[]);
    for said in [
        "Estimate of",
        "Your chest of drawers A chest of drawers with 2 drawers, in walnut",
        "Drawer 2 is stiff.",
        "Foot 3 of the base may have come off the blocks that hold it.",
        "We will glue new blocks behind foot 3 of the base.",
        "You asked us to leave it alone. The rings are remembered.",
        "an invented owner : yes to the work",
    ] {
        assert!(letter.contains(said), "{said}\n{letter}");
    }
    for never in [
        "We glued",
        "Handed back",
        "had come off",
        "received",
        "What was wrong",
    ] {
        assert!(!letter.contains(never), "{never}\n{letter}");
    }
}

#[test]
fn while_it_lasts_it_says_what_is_done_and_what_is_left() {
    let record = format!("{FOUND}2026-03-08 09:00  drawer 2 is short of stops\n{BEGUN}");
    let (letter, _) = pages(&chest(&record), &[]);
    for said in [
        "How far it is on",
        "One repair is done.",
        "Foot 3 of the base had come off the blocks that hold it",
        "We glued new blocks behind foot 3 of the base.",
        "Drawer 2 has lost the small blocks that stop it.",
        "We will fit new stops for drawer 2.",
    ] {
        assert!(letter.contains(said), "{said}\n{letter}");
    }
    for never in [
        "Estimate of",
        "Handed back",
        "foot 3 of the base may",
        "received",
    ] {
        assert!(!letter.contains(never), "{never}\n{letter}");
    }
}

#[test]
fn when_all_is_done_it_goes_home_in_the_past() {
    let (letter, record) = pages(&chest(&format!("{FOUND}{BEGUN}")), &[]);
    for said in [
        "Ready to be handed back, ",
        "It came to us on 1 March 2026.",
        "Foot 3 of the base had come off the blocks that hold it",
        "We glued new blocks behind foot 3 of the base.",
        "You asked us to leave it alone. The rings are remembered.",
        "Lift it to move it, and do not drag it.",
        "Move it a step away from the heater",
        "Dust it with a dry soft cloth.",
        "It took 1 h at the bench",
        "an invented examiner , for the workshop: done as written here.",
        "an invented owner : received.",
    ] {
        assert!(letter.contains(said), "{said}\n{letter}");
    }
    for never in [
        "is leaning",
        "may have come off",
        "has come off",
        "We will",
        "Estimate",
    ] {
        assert!(!letter.contains(never), "{never}\n{letter}");
    }
    assert!(record.contains("mended 9 Mar 2026"), "{record}");
    assert!(
        record.contains("is stiff felt 2 Mar 2026 3 as found"),
        "{record}"
    );
}

/// What came back after the mend is neither mended nor forgotten.
#[test]
fn what_is_there_again_is_said_in_the_present() {
    let again = "2026-03-10 09:00  foot 3 of the base is certainly off the blocks\n";
    let (letter, _) = pages(&chest(&format!("{FOUND}{BEGUN}{again}")), &[]);
    assert!(!letter.contains("Handed back"), "{letter}");
    let said = "Foot 3 of the base has come off the blocks that hold it.";
    assert!(letter.contains(said), "{letter}");
}

/// A sign that is seen again puts the mend in doubt, and the paper says so.
#[test]
fn a_mend_in_doubt_is_not_told_of_as_if_it_held() {
    let again = "2026-03-10 09:00  foot 3 of the base is leaning\n";
    let (letter, record) = pages(&chest(&format!("{FOUND}{BEGUN}{again}")), &[]);
    assert!(!letter.contains("Handed back"), "{letter}");
    assert!(
        letter.contains("puts in doubt that this holds."),
        "{letter}"
    );
    assert!(record.contains("mended, and now in doubt"), "{record}");
}

#[test]
fn a_paper_that_would_not_be_true_is_refused() {
    let chest = chest(&format!("{FOUND}{BEGUN}"));
    let ran = chest.run(&["report", "chest", "--kind", "estimate"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("an estimate says only what is to come"),
        "{}",
        ran.err
    );
    assert!(ran.err.contains("--kind progress"), "{}", ran.err);
    let (letter, _) = pages(&chest, &["--kind", "progress"]);
    assert!(letter.contains("How far it is on"), "{letter}");
    let ran = chest.run(&["report", "chest", "--kind", "invoice"]);
    assert_eq!(ran.code, Some(2));
}

/// What is recorded before the work is no work yet.
#[test]
fn photographs_and_labels_leave_it_an_estimate() {
    let done = "2026-03-03 09:00  done: photograph the piece; the chest of drawers; 20 minutes\n";
    let (letter, _) = pages(&chest(&format!("{FOUND}{done}")), &[]);
    assert!(letter.contains("Estimate of"), "{letter}");
}

#[test]
fn the_workshop_stands_at_the_head() {
    let chest = chest(FOUND);
    chest.make("rules");
    chest.write(
        "rules/own.rules.txt",
        "House rules for our bench, version 4.\n",
    );
    let (letter, _) = pages(&chest, &["--rules", "rules"]);
    let begins = letter.find("Estimate of").expect("a title");
    assert!(
        !letter[..begins].contains('·'),
        "nothing is made up: {letter}"
    );
    chest.write(
        "rules/workshop.txt",
        "# who we are\nname: The Invented Bench\ntelephone: 01632 960 001\naddress: 2 No Lane\n",
    );
    let (letter, _) = pages(&chest, &["--rules", "rules"]);
    assert!(
        letter.contains("The Invented Bench 2 No Lane · 01632 960 001"),
        "{letter}"
    );
    for (line, said) in [
        ("telefone: 1", "Did you mean \"telephone:\"?"),
        ("name: a\nname: b", "\"name:\" stands twice."),
        ("just words", "a label, a colon and a text"),
        ("bank: 1", "The labels are: name, trade, address"),
    ] {
        chest.write("rules/workshop.txt", line);
        let ran = chest.run(&["report", "chest", "--rules", "rules"]);
        assert_eq!(ran.code, Some(2), "{}", ran.err);
        assert!(ran.err.contains("workshop.txt, line "), "{}", ran.err);
        assert!(ran.err.contains(said), "{}", ran.err);
    }
}

/// A house's own words go before ours, and a job without any has a decent sentence.
#[test]
fn a_house_says_it_in_its_own_words() {
    let record = format!(
        "{FOUND}{BEGUN}2026-03-09 10:00  done: oil the hinges; the chest of drawers; 10 minutes\n"
    );
    let chest = chest(&record);
    chest.make("rules");
    chest.write(
        "rules/own.rules.txt",
        "House rules for our bench, version 4.\n\
         A foot may be off the blocks without showing it.\n    \
         In plain words: \"The foot had dropped off.\"\n\
         Job: reblock the foot.\n    \
         In plain words: \"We set the foot on new blocks and left it a night.\"\n    \
         Afterwards: \"Ring us if it creaks.\"\n\
         Tell the owner when a piece is kept near heating: \"Ask us about felt.\"  From: house\n\
         Leave out owner and heating, because felt does more.\n",
    );
    let (letter, _) = pages(&chest, &["--rules", "rules"]);
    for said in [
        "Foot 3 of the base had dropped off",
        "We set foot 3 of the base on new blocks and left it a night.",
        "it creaks.",
        "Ask us about felt.",
        "We did this: oil the hinges.",
    ] {
        assert!(letter.contains(said), "{said}\n{letter}");
    }
    assert!(!letter.contains("Move it a step"), "{letter}");
}

/// A second look on the same day is a slip of the pen; one on another day is an amendment.
#[test]
fn slips_of_the_day_are_folded_away() {
    let (_, record) = pages(&chest(FOUND), &[]);
    assert!(record.contains("None so far."), "{record}");
    assert!(
        record.contains("1 slip of the pen, put right on the day"),
        "{record}"
    );
    let later = format!("{FOUND}2026-03-04 09:00  drawer 2 is not stiff\n");
    let (_, record) = pages(&chest(&later), &[]);
    assert!(!record.contains("None so far."), "{record}");
}

const PAINTED: &str = "\
2026-03-02 09:12  the piece shows old paint
2026-03-02 09:13  the piece shows flaking paint
2026-03-02 09:14  the piece is certainly actively wormed
";

/// A test finds out, and mends nothing; and what a job mends is mended, though nothing follows
/// from it.
#[test]
fn what_was_only_tried_is_still_so_and_what_was_mended_is_not() {
    let tested = format!(
        "{PAINTED}2026-03-03 09:00  done: test the old paint; the chest of drawers; 30 min\n\
         2026-03-03 09:40  the piece is painted with lead\n"
    );
    let (letter, record) = pages(&chest(&tested), &[]);
    assert!(letter.contains("Paint is coming off."), "{letter}");
    assert!(
        record.contains("shows flaking paint seen 2 Mar 2026 2 as found"),
        "{record}"
    );
    let laid =
        format!("{tested}2026-03-04 09:00  done: lay down the loose paint; the chest of drawers\n");
    let (letter, record) = pages(&chest(&laid), &[]);
    assert!(!letter.contains("Paint is coming off."), "{letter}");
    assert!(letter.contains("Paint was coming off"), "{letter}");
    assert!(record.contains("2 mended 4 Mar 2026"), "{record}");
    // There again after the mend, it is told so.
    let again = format!("{laid}2026-03-06 09:00  the piece shows flaking paint\n");
    let (letter, record) = pages(&chest(&again), &[]);
    assert!(letter.contains("Paint is coming off."), "{letter}");
    assert!(record.contains("2 mended, and there again"), "{record}");
}

/// Live worm does not go home without a word, whether or not anybody decided on it.
#[test]
fn what_stops_the_work_is_said_as_the_piece_goes_home() {
    let user = chest(PAINTED);
    let ran = user.works(&["shelf", "chest", "--handed-back"]);
    assert!(
        ran.contains("STOP (the chest of drawers: Set it apart."),
        "{ran}"
    );
    let (letter, _) = pages(&user, &[]);
    assert!(
        letter.contains("There may be live woodworm in it."),
        "{letter}"
    );
    assert!(letter.contains("Its paint is coming off."), "{letter}");
}

/// What the owner wishes is told back to them, and a piece of two people is a piece of both.
#[test]
fn the_owner_s_wish_stands_in_the_letter_and_each_owner_is_named() {
    let header = format!("{HEADER}owner: another of them\n");
    let record = format!("{FOUND}2026-03-02 09:20  wish: used every day; its old colour kept.\n");
    let (letter, _) = pages(&User::with_chest(&header, &record), &[]);
    let said = "What you wish, as we noted it: used every day; its old colour kept.";
    assert_eq!(letter.matches(said).count(), 1, "{letter}");
    assert!(
        letter.contains("an invented owner and another of them"),
        "{letter}"
    );
}
