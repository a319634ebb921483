//! Messages 261 to 263: what can be remarked at the bench.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "a bench remark that is too long",
        number: 261,
        level: Level::Stop,
        edit: Edit::Add(
            "Bench remarks: \"Something that nobody wants to read on a small screen\".",
        ),
        words: "\"Something that nobody wants to read on a small screen\"",
        text: "A bench remark has 1 to 42 letters and spaces, and this has 53.",
        help: Some("Say it in a few words: \"Old label\", \"Ask the owner\"."),
    },
    Case {
        name: "an empty bench remark",
        number: 261,
        level: Level::Stop,
        edit: Edit::Add("Bench remarks: \" \"."),
        words: "\" \"",
        text: "A bench remark has 1 to 42 letters and spaces, and this has 0.",
        help: Some("Say it in a few words: \"Old label\", \"Ask the owner\"."),
    },
    Case {
        name: "a bench remark said twice",
        number: 262,
        level: Level::Stop,
        edit: Edit::Add("Bench remarks: \"Old label\", \"old label.\"."),
        words: "\"old label.\"",
        text: "\"old label\" is in the list already (line 120).",
        help: Some("Take one of the two out."),
    },
    Case {
        name: "one bench remark too many",
        number: 263,
        level: Level::Stop,
        edit: Edit::Made(too_many),
        words: "\"Number 25\"",
        text: "The bench lists 24 remarks at most, and this is one more.",
        help: Some("Keep those that you make often."),
    },
];

fn too_many() -> String {
    let all: Vec<String> = (1..=25).map(|n| format!("\"Number {n}\"")).collect();
    format!("Bench remarks: {}.", all.join(", "))
}
