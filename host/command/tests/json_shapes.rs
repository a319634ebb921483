//! What `--json` prints, against the document that describes it (`JSON.md`).
//!
//! A shape that changes without the document fails here. `UPDATE_SHAPES=1` writes the entries
//! anew; then read them, and let the version grow (`src/shape.rs`) where an entry went or came
//! to mean something else.

use crate::user::User;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use tellmark::Shape;

/// What stands in an answer: its entries by their paths, each with the kinds of value seen.
type Entries = BTreeMap<String, BTreeSet<&'static str>>;

/// Shapes that only a bench unit at the other end of a cable gives.
const OF_A_UNIT: [Shape; 4] = [
    Shape::UNIT_FETCH,
    Shape::UNIT_FIND,
    Shape::UNIT_KEPT,
    Shape::UNIT_SEND,
];

const PRICES: &str = r##"
fn line(job) {
    if job.mean == () { return; }
    #{ text: job.job + ": " + job.part, amount: job.mean * 0.80 }
}
fn terms(work) { #{ currency: "marks", valid_days: 20, assumptions: ["As it is."] } }
"##;

const OWN: &str = "\
House rules for the test of shapes, version 2.
You can see whether a drawer is lined.  Ask: \"Lined?\"
";

const TRIED: &str = "\
House rules for the test of examples, version 1.
Take care when a drawer is stiff: \"Mind.\"  From: house
";

/// A drawing of dots, for a photograph.
fn picture() -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, 4, 4);
    encoder.set_color(png::ColorType::Grayscale);
    let mut writer = encoder.write_header().expect("written");
    writer.write_image_data(&[7; 16]).expect("written");
    drop(writer);
    bytes
}

/// Everything that is asked, in the order of a job.
const ASKED: &[&[&str]] = &[
    &["check", "--all"],
    &["check", "--rules", "broken"],
    &["check", "--rules", "tried", "--families", "none", "--tests"],
    &["read", "--figures", "stiff"],
    &["build", "--out", "a.pack"],
    &["build", "--rules", "broken"],
    &["open", "chest of drawers with 2 drawers", "--name", "new"],
    &[],
    &["house", "chest"],
    &["house", "begin", "begun"],
    &["house", "set", "ours"],
    &["house", "forget"],
    &["me", "A. Joiner"],
    &["me"],
    &["remark", "chest", "from the mill"],
    &["note", "chest", "--settle"],
    &["note", "chest", "--settle", "--line", "25", "--as", "0"],
    &["note", "chest", "drawer 1 stiff"],
    &["note", "chest", "drawer 1 is not stiff"],
    &["note", "chest", "drawer 1 is not stiff"],
    &["note", "chest", "drawer 1 sticks and sings"],
    &["note", "chest", "the top shows white rings"],
    &["note", "chest", "-"],
    &["note", "chest", "--settle"],
    &["brief", "chest", "--wish", "in use again"],
    &["brief", "chest", "--limit", "20 hours"],
    &["brief", "chest", "--leave", "the top", "--because", "rings"],
    &["brief", "chest", "--refused", "wax the piece"],
    &["brief", "chest"],
    &["bench", "chest", "--frames", "frames", "--keys", "1 2"],
    &["triage", "chest"],
    &["triage", "chest", "--all"],
    &["next", "chest"],
    &["why", "chest", "drawer 3 is loose in the dovetails"],
    &["why", "chest", "drawer 1 is lined", "--rules", "ours"],
    &["date", "chest"],
    &["plan", "chest"],
    &["plan", "chest", "--why", "fit new stops"],
    &[
        "plan",
        "chest",
        "--why",
        "fit new stops",
        "--and",
        "renew the bearers",
    ],
    &["quote", "chest"],
    &["quote", "chest", "--keep", "--rules", "ours"],
    &["brief", "chest", "--agreed", "estimate 1"],
    &["quote", "chest", "--supplement", "--rules", "ours"],
    &["start", "chest", "photograph the piece"],
    &["jobs"],
    &["stop", "chest"],
    &["done", "chest", "photograph the piece"],
    &[
        "done",
        "chest",
        "renew the running edges",
        "--part",
        "drawer 2",
        "--anyway",
    ],
    &["plan", "chest"],
    &["plan", "chest", "--rules", "ours"],
    &["triage", "chest", "--rules", "ours"],
    &["quote", "chest", "--against", "--rules", "ours"],
    &["paid", "chest", "20", "--how", "in cash"],
    &["paid", "chest"],
    &["invoice", "chest", "--rules", "ours"],
    &["invoice", "chest", "--keep", "--rules", "ours"],
    &["jobs"],
    &["why", "chest", "right runner of drawer 2 is worn thin"],
    &["triage", "chest"],
    &[
        "shelf",
        "chest",
        "--waits",
        "the lock",
        "--until",
        "2999-01-01",
    ],
    &["shelf", "chest"],
    &["jobs"],
    &[
        "photo", "chest", "a.png", "--part", "drawer 2", "--shows", "the lip",
    ],
    &["photo", "chest"],
    &["repair", "chest"],
    &["brief", "chest", "--leave", "left side"],
    &["report", "chest"],
    &["sum"],
    &["sum", "glue", "--glue", "100 g"],
    &[
        "sum",
        "fall",
        "--depth",
        "450 mm",
        "--thickness",
        "20 mm",
        "--weight",
        "5 kg",
        "--svg",
        "fall.svg",
    ],
    &["sum", "glue", "--glue", "100"],
    &["triage", "nowhere"],
    &["triage"],
];

/// A workshop that has a little of everything.
fn workshop() -> User {
    let user = User::with_demonstration();
    user.make("ours");
    user.make("broken");
    user.make("tried");
    user.write("tried/own.rules.txt", TRIED);
    user.write("ours/own.rules.txt", OWN);
    user.write("ours/prices.rhai", PRICES);
    user.write("ours/workshop.txt", "name: Elm Yard\n");
    user.write("broken/own.rules.txt", "If a drawer is singing then so.\n");
    user.write("a.png", picture());
    user.write("lines.txt", "the back rattles\n");
    user.write("chest/.unfinished-0", "half a page");
    user
}

/// Every answer's entries, by the name of its shape.
fn seen() -> BTreeMap<String, Entries> {
    let user = workshop();
    let mut all: BTreeMap<String, Entries> = BTreeMap::new();
    for asked in ASKED {
        let arguments = [*asked, &["--json"]].concat();
        let mut command = user.command(&arguments);
        let typed = fs::File::open(user.path("lines.txt")).expect("there");
        let output = command.stdin(typed).output().expect("it runs");
        let out = String::from_utf8(output.stdout).expect("text");
        let value: Value = serde_json::from_str(&out)
            .unwrap_or_else(|why| panic!("{asked:?} printed no JSON: {why}\n{out}"));
        let shape = value["shape"].as_str();
        let shape = shape.unwrap_or_else(|| panic!("{asked:?} names no shape: {out}"));
        if output.status.code() > Some(1) {
            assert_eq!(shape, "error 1", "{asked:?}: {out}");
        }
        let entries = all.entry(shape.to_owned()).or_default();
        walk(&value, "", entries);
    }
    all
}

/// The entries of a value, by their paths.
fn walk(value: &Value, path: &str, entries: &mut Entries) {
    let kind = match value {
        Value::Null => "null",
        Value::Bool(_) => "yes or no",
        Value::Number(_) => "number",
        Value::String(_) => "text",
        Value::Array(items) => {
            for item in items {
                walk(item, &format!("{path}[]"), entries);
            }
            "list"
        }
        Value::Object(fields) => {
            for (name, field) in fields {
                let dot = if path.is_empty() { "" } else { "." };
                walk(field, &format!("{path}{dot}{name}"), entries);
            }
            "entries"
        }
    };
    if !path.is_empty() {
        entries.entry(path.to_owned()).or_default().insert(kind);
    }
}

fn document() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("JSON.md")
}

/// The entries as the document has them.
fn in_words(entries: &Entries) -> String {
    let lines = entries.iter().map(|(path, kinds)| {
        let kinds: Vec<&str> = kinds.iter().copied().collect();
        format!("{path}: {}\n", kinds.join(", "))
    });
    lines.collect()
}

/// What stands between the fences under each heading.
fn described(text: &str) -> BTreeMap<String, String> {
    let sections = text.split("\n## ").skip(1);
    let described = sections.map(|section| {
        let (heading, rest) = section.split_once('\n').expect("a heading");
        let block = rest.split("```").nth(1).unwrap_or_default();
        let block = block.trim_start_matches("text").trim_start();
        (heading.trim().to_owned(), block.to_owned())
    });
    described.collect()
}

#[test]
fn every_shape_is_as_the_document_says() {
    let seen = seen();
    let path = document();
    let mut text = fs::read_to_string(&path).expect("the document");
    if std::env::var_os("UPDATE_SHAPES").is_some() {
        for (shape, entries) in &seen {
            let heading = format!("\n## {shape}\n");
            let at = text
                .find(&heading)
                .unwrap_or_else(|| panic!("no heading \"{shape}\""));
            let start = at + text[at..].find("```text\n").expect("a block") + "```text\n".len();
            let end = start + text[start..].find("```").expect("its end");
            text.replace_range(start..end, &in_words(entries));
        }
        fs::write(&path, &text).expect("written");
    }
    let described = described(&text);
    for shape in Shape::ALL {
        let called = shape.called();
        assert!(
            described.contains_key(&called),
            "JSON.md says nothing of \"{called}\""
        );
        if !OF_A_UNIT.contains(shape) {
            assert!(
                seen.contains_key(&called),
                "nothing here gives \"{called}\""
            );
        }
    }
    for (shape, entries) in &seen {
        let said = described.get(shape).map_or("", String::as_str);
        assert_eq!(
            said,
            in_words(entries),
            "\"{shape}\" is not as JSON.md says; UPDATE_SHAPES=1 writes it anew, then read it and \
             let its version grow if an entry went or means something else"
        );
    }
}
