//! Messages 252 to 256: what is said to the owner.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "a fault that is not said of the past",
        number: 252,
        level: Level::Stop,
        edit: Edit::Add(
            "A drawer may be twisted without showing it.  On its own: rarely\n    \
             In plain words: \"The drawer sticks.\"",
        ),
        words: "\"The drawer sticks.\"",
        text: "This does not say that something was so, so I could not say that it is so, or that \
               it may be.",
        help: Some(
            "Write what was wrong, with \"had\", \"was\" or \"were\": \"The drawer had worked \
             loose.\" Of it I make \"has worked loose\" and \"may have worked loose\".",
        ),
    },
    Case {
        name: "a fault of no part",
        number: 253,
        level: Level::Stop,
        edit: Edit::Add(
            "A drawer may be twisted without showing it.  On its own: rarely\n    \
             In plain words: \"It had twisted.\"",
        ),
        words: "\"It had twisted.\"",
        text: "This does not say which drawer it speaks of.",
        help: Some(
            "Write \"the drawer\" in it; the name of the part goes there, as in \"Drawer 2 had \
             worked loose.\"",
        ),
    },
    Case {
        name: "a job that does not say what was done",
        number: 254,
        level: Level::Stop,
        edit: Edit::Add(
            "Job: sand the base.  Takes: 1 hour  In plain words: \"The base is smooth.\"\n\
             When a drawer is stiff then plan to sand the base.  From: house",
        ),
        words: "\"The base is smooth.\"",
        text: "This does not say what was done.",
        help: Some(
            "Begin with \"We\" and what was done: \"We sanded the base.\" Of it I make what will \
             be done.",
        ),
    },
    Case {
        name: "half a sentence for the owner",
        number: 255,
        level: Level::Stop,
        edit: Edit::Add(
            "Tell the owner when a drawer is stiff: \"wax it once a year\"  From: house",
        ),
        words: "\"wax it once a year\"",
        text: "This is no whole sentence, and the owner reads it as it stands.",
        help: Some("Begin it with a capital letter and end it with a full stop."),
    },
    Case {
        name: "more than an owner reads",
        number: 256,
        level: Level::Stop,
        edit: Edit::Made(|| {
            let words = "Wax it once a year. ".repeat(16);
            format!("Tell the owner when a drawer is stiff: \"{words}\"  From: house")
        }),
        words: "\"Wax it once a year. Wax it once a year. Wax it once a year. Wax it once a year. \
                Wax it once a year. Wax it once a year. Wax it once a year. Wax it once a year. \
                Wax it once a year. Wax it once a year. Wax it once a year. Wax it once a year. \
                Wax it once a year. Wax it once a year. Wax it once a year. Wax it once a year. \"",
        text: "These are 319 letters and spaces, and there is room for 300.",
        help: Some("Say one thing a sentence, and leave out what an owner can do without."),
    },
];
