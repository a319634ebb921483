//! Nothing that comes from a file, a file's name or a command line reaches the terminal
//! as anything but words.

use crate::user::{Ran, User};

/// Clears the screen, one byte of the upper control set, an override of the direction of
/// writing, an invisible sign, a mark that only programs see.
const HOSTILE: &str = "x\u{1b}[2J\u{1b}]0;t\u{7}\u{9b}31m\u{202e}\u{200b}\u{e0041}\r\u{8}y";

/// Signs that a terminal obeys, or that nobody sees.
fn steers(sign: char) -> bool {
    (sign.is_control() && sign != '\n')
        || matches!(sign, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
            | '\u{feff}' | '\u{e0000}'..='\u{e0fff}')
}

fn is_harmless(ran: &Ran, what: &[&str]) {
    for text in [&ran.out, &ran.err] {
        assert!(!text.contains(steers), "{what:?} prints {text:?}");
    }
}

fn user() -> User {
    let header = format!("piece: chest of drawers with 3 drawers\nowner: {HOSTILE}\n");
    let record = format!(
        "2026-03-02 09:12  drawer 2 is stiff\n\
         2026-03-02 09:13  {HOSTILE}\n\
         drawer 1 is \u{202e}{invisible}\n\
         2026-03-02 09:14  wish: use it \u{202e}{invisible}\n\
         2026-03-02 09:14  photo: a\u{202e}b.jpg; ; before; {invisible}\n\
         2026-99-02 09:14  {HOSTILE}\n\
         2026-03-02 09:15  leave: {invisible}; {invisible}\n\
         2026-03-02 09:15  done: {invisible}; {invisible}\n\
         2026-03-02 09:15  {HOSTILE}",
        invisible = "\u{2066}\u{200b}\u{e0041}"
    );
    let user = User::with_chest(&header, &record);
    user.make(&format!("bad{HOSTILE}"));
    user.write(
        &format!("bad{HOSTILE}/job.txt"),
        format!("piece: {HOSTILE}\n"),
    );
    user.make("chest/photos");
    user.write(&format!("chest/photos/{HOSTILE}.jpg"), "no photograph");
    user.make("rules");
    let rules = format!(
        "House rules for {HOSTILE}, version 1.\n\nYou can {HOSTILE} whether {HOSTILE}.\n\nIf a \
         back is \u{202e}creaking, that {HOSTILE} means it is {HOSTILE}.\n"
    );
    user.write(&format!("rules/{HOSTILE}.rules.txt"), rules);
    user.make("priced");
    user.write("priced/prices.rhai", format!("throw \"{HOSTILE}\";"));
    user.make("own");
    user.write(
        "own/prices.rhai",
        format!(
            "fn line(job) {{ #{{ text: \"{HOSTILE}\", amount: 1 }} }}\n\
             fn terms(work) {{ #{{ currency: \"c\u{202e}\" }} }}"
        ),
    );
    user.write("page.html", format!("{{{{ {HOSTILE} }}}}"));
    user
}

#[cfg(unix)]
#[test]
fn words_from_anywhere_are_shown_and_never_obeyed() {
    let user = user();
    let bad = format!("bad{HOSTILE}");
    let commands: &[&[&str]] = &[
        &[],
        &["check", "--rules", "rules"],
        &["read", "--rules", "rules"],
        &["build", "--rules", "rules", "--out", HOSTILE],
        &["build", "--out", HOSTILE],
        &["open", HOSTILE],
        &["open", "chest of drawers", "--name", HOSTILE],
        &["note", "chest", HOSTILE],
        &["note", &bad, "drawer 1 is stiff"],
        &["triage", "chest"],
        &["triage", &bad],
        &["next", "chest"],
        &["why", "chest", HOSTILE],
        &["date", "chest"],
        &["plan", "chest"],
        &["quote", "chest"],
        &["quote", "chest", "--rules", "priced"],
        &["brief", "chest"],
        &["brief", "chest", "--wish", "in \u{202e}use\u{200b}"],
        &["brief", "chest", "--agreed", HOSTILE],
        &["quote", "chest", "--keep", "--rules", "own"],
        &[
            "brief",
            "chest",
            "--agreed",
            "estimate 1",
            "--except",
            HOSTILE,
        ],
        &[
            "brief",
            "chest",
            "--agreed",
            "estimate 1",
            "--up-to",
            HOSTILE,
        ],
        &[
            "brief",
            "chest",
            "--agreed",
            "estimate 1",
            "--because",
            HOSTILE,
        ],
        &["quote", "chest", "--supplement", "--rules", "own"],
        &["quote", "chest", "--against", "--rules", "own"],
        &[
            "quote",
            "chest",
            "--against",
            "--svg",
            HOSTILE,
            "--rules",
            "own",
        ],
        &["paid", "chest", HOSTILE],
        &["paid", "chest", "5", "--how", HOSTILE],
        &["invoice", "chest", "--rules", "own"],
        &["invoice", "chest", "--keep", "--rules", "own"],
        &["invoice", "chest", "--credit", HOSTILE],
        &["done", "chest", HOSTILE],
        &["photo", "chest"],
        &["house", "chest", "--rules", "rules"],
        &["house", "set", HOSTILE],
        &["photo", "chest", HOSTILE],
        &["report", "chest"],
        &["report", "chest", "--template", "page.html"],
        &["report", "chest", "--out", HOSTILE],
        &["bench", "chest", "--frames", HOSTILE, "--keys", HOSTILE],
        &["bench", "chest", "--frames", HOSTILE],
        &["sum", HOSTILE],
        &["sum", "glue", "--glue", HOSTILE],
        &["sum", "moisture", "--climate", HOSTILE],
        &["sum", "shellac", "--cut", HOSTILE, "--alcohol", "1 l"],
        &["sum", "solvent", "--mix", HOSTILE],
        &[
            "sum",
            "movement",
            "--wood",
            "oak",
            "--width",
            "5 in",
            "--moisture",
            "8 %",
            "--moisture",
            "9 %",
            "--svg",
            HOSTILE,
        ],
        &["unit", "find", "--port", HOSTILE],
        &["unit", "send", HOSTILE],
        &[HOSTILE],
        &["triage", "chest", HOSTILE],
        &["triage", "chest", "--colour", HOSTILE],
        &["bench", "chest", "--frames", "f", "--scale", HOSTILE],
    ];
    for command in commands {
        is_harmless(&user.run(command), command);
        let mut json = command.to_vec();
        json.push("--json");
        let ran = user.run(&json);
        is_harmless(&ran, &json);
        if !ran.out.is_empty() {
            let value: Result<serde_json::Value, _> = serde_json::from_str(&ran.out);
            assert!(value.is_ok(), "{json:?}: {}", ran.out);
        }
    }
}

/// The words themselves are there, in the JSON unchanged.
#[test]
fn json_has_the_words_as_they_are() {
    let user = user();
    let brief = user.run(&["brief", "chest", "--json"]);
    let value: serde_json::Value = serde_json::from_str(&brief.out).expect("JSON");
    assert_eq!(
        value["wishes"][0],
        "use it \u{202e}\u{2066}\u{200b}\u{e0041}"
    );
    assert!(brief.out.contains("\\u202e\\u2066\\u200b\\udb40\\udc41"));
}

/// Our own styling is still there, and a record cannot imitate it.
#[test]
fn styling_is_ours_alone() {
    let user = user();
    user.write(
        "chest/record.txt",
        "2026-03-02 09:14  wish: x\u{1b}[1my\n2026-03-02 09:14  limit: 20 hours\n",
    );
    let said = user.run(&["brief", "chest", "--colour", "always"]);
    let styled = "\u{1b}[1mHow far it may go\u{1b}[0m";
    assert!(said.out.contains(styled), "{:?}", said.out);
    assert!(said.err.contains("x\\u001b[1my"), "{}", said.err);
}
