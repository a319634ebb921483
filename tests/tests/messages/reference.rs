//! Messages 27 to 32: it, its, the, any, every.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "it with nothing to stand for",
        number: 27,
        level: Level::Stop,
        edit: Edit::Add("If it is under strain then its screws are often loose.  From: house"),
        words: "it",
        text: "\"it\" needs something to stand for.",
        help: Some("Name the part first: \"If a hinge is under strain …\"."),
    },
    Case {
        name: "any or every",
        number: 28,
        level: Level::Stop,
        edit: Edit::Add(
            "If a drawer is freshly waxed and its runners are infested then it is often stiff.  From: house",
        ),
        words: "its runners",
        text: "A drawer can have several runners. Any of them, or every one of them?",
        help: Some("Write \"any of its runners is …\" or \"every one of its runners is …\"."),
    },
    Case {
        name: "the at the start",
        number: 29,
        level: Level::Stop,
        edit: Edit::Add("If the bottom is held fast then it is often cracked.  From: house"),
        words: "the bottom",
        text: "Which bottom?",
        help: Some("Begin with \"a bottom\", so that the rule is about every bottom."),
    },
    Case {
        name: "it that could be two things",
        number: 30,
        level: Level::Look,
        edit: Edit::Add(
            "You can feel whether a drawer is damp.  On its own: rarely\nYou can feel whether a bottom is damp.  On its own: rarely\nIf a drawer has a bottom and it is damp then it is often stiff.  From: house",
        ),
        words: "it",
        text: "\"it\" always means the part the rule is about, here the drawer.",
        help: Some("If you mean the bottom, write \"its bottom\"."),
    },
    Case {
        name: "the same one of several",
        number: 31,
        level: Level::Stop,
        edit: Edit::Add(
            "If a drawer is stiff and any of its runners is infested and the same runner shows fresh dust then it is often stiff.  From: house",
        ),
        words: "the same runner",
        text: "\"any of its runners\" may be true of several, so \"the same runner\" is not one thing.",
        help: Some("Make the rule about a runner: \"If a runner is … and its drawer is …\"."),
    },
    Case {
        name: "two ways down",
        number: 32,
        level: Level::Stop,
        edit: Edit::Add(
            "Parts: lock.\nA drop-leaf table has a lock.\nA lock has 2 screws.\nIf a drop-leaf table is kept near heating then its screws are often loose.  From: house",
        ),
        words: "screws",
        text: "A drop-leaf table has screws in two places: lock and hinges.",
        help: Some("Say \"the screws of its lock\" or \"the screws of its hinges\"."),
    },
];
