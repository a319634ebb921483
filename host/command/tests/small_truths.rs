//! Small things that a command says, and that are true: what can be pasted, what is left out,
//! what is kept.

use crate::user::{Ran, User};

/// Runs the last command that was offered, as a shell would.
fn pasted(user: &User, said: &str) -> Ran {
    let line = said.split("tellmark ").last().expect("a command");
    let line = line.lines().next().unwrap_or_default();
    let mut command = std::process::Command::new("sh");
    let program = env!("CARGO_BIN_EXE_tellmark");
    command.args(["-c", &format!("{program} {line}")]);
    let of_user = user.command(&[]);
    for (name, value) in of_user.get_envs() {
        match value {
            Some(value) => command.env(name, value),
            None => command.env_remove(name),
        };
    }
    Ran::of(
        command
            .current_dir(user.path("."))
            .output()
            .expect("it runs"),
    )
}

#[cfg(unix)]
#[test]
fn a_command_that_is_offered_can_be_pasted() {
    for name in [
        "it's $5 `now`",
        "two \"words\"",
        "back\\slash",
        "-flag",
        "wow!",
    ] {
        let user = User::with_demonstration();
        std::fs::rename(user.path("chest"), user.path(name)).expect("renamed");
        user.make("my $rules");
        user.write(
            "my $rules/own.rules.txt",
            "House rules for ours, version 1.\n",
        );
        let folder = format!("./{name}");
        for line in [
            "drawer 1 is certainly stiff",
            "drawer 1 is certainly not held fast",
        ] {
            let record = user.text(&format!("{name}/record.txt"));
            user.write(&format!("{name}/record.txt"), format!("{record}{line}\n"));
        }
        let started = user.run(&["start", &folder, "x y", "--rules", "my $rules"]);
        assert_eq!(started.code, Some(0), "{}", started.err);
        let twice = user.run(&["start", &folder, "z", "--rules", "my $rules"]);
        assert_eq!(twice.code, Some(1));
        let stopped = pasted(&user, &twice.err);
        assert_eq!(stopped.code, Some(0), "{name}: {}", stopped.err);
        let ticked = pasted(&user, &stopped.out);
        assert_eq!(ticked.code, Some(0), "{name}: {}", ticked.err);
    }
}

#[test]
fn what_nobody_filled_in_is_not_shown() {
    let user = User::with_demonstration();
    let said = user.works(&[
        "brief",
        "chest",
        "--refused",
        "wax the piece",
        "--because",
        "no shine",
    ]);
    assert_eq!(said, "Line 25: refused: wax the piece; no shine\n");
    let record = user.text("chest/record.txt");
    assert!(
        record.ends_with("  refused: wax the piece; ; no shine\n"),
        "{record}"
    );
    let found = user.works(&["jobs", "--with", "no shine"]);
    assert!(
        found.contains("refused: wax the piece; no shine"),
        "{found}"
    );
}

#[test]
fn two_options_of_one_kind_are_told_in_plain_words() {
    let user = User::with_demonstration();
    for (arguments, said) in [
        (
            &["brief", "chest", "--wish", "a", "--limit", "b"][..],
            "--wish and --limit cannot be said together.\n",
        ),
        (
            &["brief", "chest", "--wish", "a", "--wish", "b"],
            "--wish can be said only once.\n",
        ),
        (
            &["done", "chest", "1", "--undo", "--took", "1 h"],
            "--undo and --took cannot be said together.\n",
        ),
    ] {
        let ran = user.run(arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}");
        assert!(ran.err.starts_with(said), "{}", ran.err);
        assert!(!ran.err.contains("Usage"), "{}", ran.err);
    }
}

/// The same photograph once more: what is not said stays as it was said before.
#[test]
fn a_photograph_that_is_given_again_keeps_its_words() {
    let user = User::with_demonstration();
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, 4, 4);
    encoder.set_color(png::ColorType::Grayscale);
    let mut writer = encoder.write_header().expect("written");
    writer.write_image_data(&[7; 16]).expect("written");
    drop(writer);
    user.write("a.png", bytes);
    user.works(&[
        "photo",
        "chest",
        "a.png",
        "--part",
        "drawer 2",
        "--shows",
        "the torn lip",
        "--stage",
        "during",
    ]);
    let lines = user.text("chest/record.txt");
    let again = user.works(&["photo", "chest", "a.png"]);
    assert!(again.contains("Nothing was written."), "{again}");
    assert_eq!(user.text("chest/record.txt"), lines);
    let said = user.works(&["photo", "chest", "a.png", "--stage", "after"]);
    assert!(
        said.contains("Drawer 2, after the work: The torn lip."),
        "{said}"
    );
    let json = user.run(&["photo", "chest", "--json"]).json();
    assert_eq!(json["photos"][0]["part"], "drawer 2");
    assert_eq!(json["photos"][0]["shows"], "the torn lip");
    assert_eq!(json["photos"][0]["stage"], "after");
}

/// Some editors write two bytes for each letter. Nothing is added to such a record, and it is
/// said once what to do.
#[test]
fn a_record_saved_as_utf16_is_said_to_be_and_left_alone() {
    let user = User::with_demonstration();
    let record = user.path("chest/record.txt");
    let text = std::fs::read_to_string(&record).expect("a record");
    let mut bytes = vec![0xff, 0xfe];
    bytes.extend(text.encode_utf16().flat_map(u16::to_le_bytes));
    std::fs::write(&record, &bytes).expect("written");
    for command in [
        &["triage", "chest"][..],
        &["note", "chest", "drawer 1 stiff"],
        &["remark", "chest", "from the mill"],
        &["done", "chest", "wax the runners", "--part", "drawer 1"],
    ] {
        let ran = user.run(command);
        assert!(ran.code.is_some_and(|code| code > 1), "{}", ran.all());
        assert_eq!(ran.err.matches("UTF-16").count(), 1, "{}", ran.err);
        assert!(ran.err.contains("save it as UTF-8"), "{}", ran.err);
        assert_eq!(std::fs::read(&record).expect("there"), bytes);
    }
}

/// What steers a terminal has no place in a page either.
#[test]
fn a_page_has_no_signs_that_steer() {
    let user = User::with_demonstration();
    user.add("2026-03-05 16:40  drawer 2 is \u{1b}[31mstiff\u{1b}[0m\r\u{7}");
    user.run(&["report", "chest", "--out", "page.html"]);
    let page = user.text("page.html");
    assert!(page.contains("[31mstiff"), "the line is not told of");
    let steers = |c: char| c.is_control() && !matches!(c, '\n' | '\t');
    assert!(!page.contains(steers));
}

#[test]
fn a_house_is_a_folder_or_a_file_of_rules() {
    let user = User::with_demonstration();
    for command in [
        &["house", "set", "chest/record.txt"][..],
        &["check", "--rules", "chest/record.txt"],
    ] {
        let ran = user.run(command);
        assert_eq!(ran.code, Some(2), "{}", ran.all());
        assert!(ran.err.contains("is no file of rules"), "{}", ran.err);
    }
}

/// A part is named as a restorer would name it, wherever one is asked for; and what is no part of
/// this piece is told in their own words, with what may be meant.
#[test]
fn a_part_is_found_by_the_words_of_a_note() {
    let user = User::with_chest(
        "job folder: 1\npiece: chest of drawers with 3 drawers\n",
        "2026-03-02 09:12  drawer 2 is stiff\n",
    );
    let said = user.works(&["brief", "chest", "--leave", "l/h runner of drawr 1"]);
    assert!(said.contains("leave: left runner of drawer 1"), "{said}");
    let refused = |arguments: &[&str], offers: &str| {
        let ran = user.run(arguments);
        assert_eq!(ran.code, Some(2), "{arguments:?}: {}", ran.out);
        assert!(ran.err.contains(offers), "{arguments:?}: {}", ran.err);
        for of_rules in ["Parts:", "This rule", "declare"] {
            assert!(!ran.err.contains(of_rules), "{}", ran.err);
        }
    };
    refused(
        &["brief", "chest", "--leave", "the tpo"],
        "Did you mean \"the top\"?",
    );
    refused(
        &["remark", "chest", "--part", "foot", "scratched"],
        "Did you mean \"foot 1 of the base\"",
    );
    let own = ["plan", "chest", "--own", "turn a knob", "--takes", "1 h"];
    refused(&[&own[..], &["--part", "elephant"]].concat(), "It has: ");
    refused(
        &["photo", "chest", "none.jpg", "--part", "the dor"],
        "No photograph was kept.",
    );
    let done = ["done", "chest", "wax the runners", "--part", "drawer 2"];
    refused(
        &[&done[..], &["--mends", "drawer 2 is wonky"]].concat(),
        "Did you mean \"drawer 2 is",
    );
    let done = [&done[..], &["--mends", "drawer 2 sticks", "--anyway"]].concat();
    let ran = user.run(&done);
    assert!(ran.out.contains("mends drawer 2 is stiff"), "{}", ran.all());
}

/// Words that name more than one part, none, or one that the piece has not, protect nothing and
/// are refused.
#[test]
fn words_that_name_no_one_part_are_refused() {
    let user = User::with_chest("job folder: 1\npiece: cupboard with 2 doors\n", "");
    for (part, said) in [
        ("door 1 and door 2", "may be more than one part"),
        ("the door or the back", "may be more than one part"),
        ("door. back", "may be more than one part"),
        ("no door", "no part"),
        ("maybe the back", "no part"),
        ("front", "no"),
    ] {
        let ran = user.run(&["brief", "chest", "--leave", part]);
        assert_eq!(ran.code, Some(2), "{part}: {}", ran.out);
        assert!(ran.err.contains(said), "{part}: {}", ran.err);
    }
    let both = user.works(&["brief", "chest", "--leave", "doors 1 and 2"]);
    assert!(both.contains("every door"), "{both}");
}

/// What is only thought is not written as found once the piece was open.
#[test]
fn a_doubt_is_not_found() {
    let user = User::with_chest(
        "job folder: 1\npiece: cupboard with 2 doors\n",
        "2026-03-02 09:12  the cupboard is racked\n",
    );
    let done = ["done", "chest", "square the carcase", "--anyway", "--found"];
    for typed in ["maybe racked", "the cupboard looks racked"] {
        let ran = user.run(&[&done[..], &[typed]].concat());
        assert_eq!(ran.code, Some(2), "{typed}: {}", ran.out);
        assert!(
            ran.err.contains("Did you mean \"the cupboard is racked\""),
            "{}",
            ran.err
        );
    }
}
