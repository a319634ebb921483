//! Commands described: help, completions for shells, pages of the manual.

use std::process::Command;

struct Said {
    out: String,
    err: String,
    code: Option<i32>,
}

fn tellmark(arguments: &[&str]) -> Said {
    let output = Command::new(env!("CARGO_BIN_EXE_tellmark"))
        .args(arguments)
        .env("COLUMNS", "100")
        .env("XDG_CONFIG_HOME", "nowhere")
        .env_remove("TELLMARK_RULES")
        .output()
        .expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("it is text");
    Said {
        out: text(output.stdout),
        err: text(output.stderr),
        code: output.status.code(),
    }
}

#[test]
fn help_of_a_command_is_what_the_command_says_of_itself() {
    for command in [vec!["note"], vec!["unit", "send"]] {
        let mut asked = vec!["help"];
        asked.extend(&command);
        let mut itself = command.clone();
        itself.push("--help");
        let (help, itself) = (tellmark(&asked), tellmark(&itself));
        assert_eq!(help.code, Some(0));
        let words =
            |text: &str| -> Vec<String> { text.split_whitespace().map(str::to_owned).collect() };
        assert_eq!(words(&help.out), words(&itself.out));
    }
    assert!(tellmark(&["help"]).out.contains("triage"));
}

#[test]
fn a_command_that_there_is_not_is_told() {
    let said = tellmark(&["help", "nott"]);
    assert_eq!(said.code, Some(2));
    assert_eq!(
        said.err,
        "There is no command \"nott\". Did you mean \"note\"?\n\
         \"tellmark help\" lists the commands.\n"
    );
}

/// What a shell is given is what it can read: bash is asked.
#[test]
fn completions_are_for_every_command() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let said = tellmark(&["completions", shell]);
        assert_eq!(said.code, Some(0), "{shell}");
        for word in ["triage", "quote", "--json"] {
            let word = word.trim_start_matches('-');
            assert!(said.out.contains(word), "{shell}: {word}");
        }
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("tellmark.bash");
    std::fs::write(&path, tellmark(&["completions", "bash"]).out).expect("it is written");
    if let Ok(checked) = Command::new("bash").arg("-n").arg(&path).output() {
        assert!(checked.status.success(), "{checked:?}");
    }
}

#[test]
fn every_command_has_a_page() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().to_str().expect("plain");
    let said = tellmark(&["man", "--out", out]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    let page = |name: &str| std::fs::read_to_string(folder.path().join(name)).expect(name);
    assert!(page("tellmark-note.1").contains(".TH tellmark-note 1"));
    assert!(page("tellmark-unit-send.1").contains("send"));
    assert_eq!(tellmark(&["man", "note"]).out, page("tellmark-note.1"));
    let nowhere = tellmark(&["man", "--out", "/nowhere/at/all"]);
    assert_eq!(nowhere.code, Some(3));
}
