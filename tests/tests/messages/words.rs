//! Messages 1 to 10: words.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "a part misspelt",
        number: 1,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "If a hinge is under strain then",
            "If a hnige is under strain then",
        )]),
        words: "hnige",
        text: "I do not know a part called \"hnige\".",
        help: Some("Did you mean \"hinge\"?"),
    },
    Case {
        name: "an irregular plural",
        number: 2,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "A hinge has 2 to 8 screws.",
            "A hinge has 2 to 8 screws. \nA top has four feet.\nParts: foot.",
        )]),
        words: "feet",
        text: "I do not know \"feet\".",
        help: Some(
            "You have a part \"foot\"; if its plural is irregular, write it in Parts: \"foot (plural feet)\".",
        ),
    },
    Case {
        name: "a plural formed wrongly",
        number: 2,
        level: Level::Stop,
        edit: Edit::Add("Parts: brush.\nA top has four brushs."),
        words: "brushs",
        text: "I do not know \"brushs\".",
        help: Some("You have a part \"brush\", and its plural is \"brushes\"."),
    },
    Case {
        name: "a part never declared",
        number: 3,
        level: Level::Stop,
        edit: Edit::Add("You can feel whether a castor is loose."),
        words: "castor",
        text: "I do not know a part called \"castor\".",
        help: Some("If it is a new part, add it to the Parts: line."),
    },
    Case {
        name: "what a part has, taken for a part",
        number: 3,
        level: Level::Stop,
        edit: Edit::Add("You can feel whether a point is bent."),
        words: "point",
        text: "I do not know a part called \"point\".",
        help: Some(
            "It is something that a screw has: say whose it is, \"the point of the screw\".",
        ),
    },
    Case {
        name: "the same sign twice",
        number: 4,
        level: Level::Stop,
        edit: Edit::Add("You can feel whether a drawer is stiff."),
        words: "stiff",
        text: "\"stiff\" is already said of a drawer on line 30.",
        help: Some("Use other words for one of them, or take one out."),
    },
    Case {
        name: "an everyday word of two things, in a rule",
        number: 264,
        level: Level::Stop,
        edit: Edit::Add(
            "For stiff we also say wrong.\nFor freshly waxed we also say wrong.\nIf a drawer is wrong then \
             its front is usually warped.  From: house",
        ),
        words: "wrong",
        text: "\"wrong\" is an everyday word for more than one thing of a drawer, so a rule cannot say it.",
        help: Some("Say which: stiff or freshly waxed."),
    },
    Case {
        name: "one word for two parts",
        number: 5,
        level: Level::Stop,
        edit: Edit::Add("For runner we also say bearer."),
        words: "bearer",
        text: "\"bearer\" would mean both support (line 6) and runner (line 120), so I could not tell them apart.",
        help: Some("Keep it for one, or mark where it is said: \"bearer (US)\"."),
    },
    Case {
        name: "a part the thing has not",
        number: 6,
        level: Level::Stop,
        edit: Edit::Add("If a drawer is stiff then its screws are often loose.  From: house"),
        words: "screws",
        text: "This rule is about a drawer, and a drawer has no screw.",
        help: Some(
            "A drawer has: front, bottom, runners. It is a hinge that has screws; should the rule be about a hinge?",
        ),
    },
    Case {
        name: "a sign said of the wrong part",
        number: 7,
        level: Level::Stop,
        edit: Edit::Add("If a bottom is sagging then it is often cracked.  From: house"),
        words: "sagging",
        text: "\"sagging\" is a thing we say of a fall, not of a bottom.",
        help: Some(
            "Say \"the fall …\", or declare it: \"You can see whether a bottom is sagging.\"",
        ),
    },
    Case {
        name: "a small word inside a name",
        number: 8,
        level: Level::Stop,
        edit: Edit::Add("A top may be loose and split without showing it."),
        words: "and",
        text: "A name cannot contain \"and\", because I would not know where it ends.",
        help: Some("Make two sentences, one for each fault."),
    },
    Case {
        name: "a word of the other region",
        number: 9,
        level: Level::Note,
        edit: Edit::Put(&[
            ("version 1.\n", "version 1, British.\n"),
            (
                "When a fall has no supports then",
                "When a fall has no slides then",
            ),
        ]),
        words: "slides",
        text: "You wrote \"slides\"; this house says \"support\" (line 6). I read it as support.",
        help: Some("Nothing has to be changed."),
    },
    Case {
        name: "a false friend",
        number: 10,
        level: Level::Stop,
        edit: Edit::Put(&[
            ("version 1.\n", "version 1, British.\n"),
            (
                "Pieces: drop-leaf table, chest of drawers.",
                "Pieces: drop-leaf table, chest of drawers, dresser.\nFor chest of drawers we also say dresser (US).\nA dresser has a top.\n",
            ),
        ]),
        words: "dresser",
        text: "\"dresser\" is marked (US) for chest of drawers, and this pack is marked British.",
        help: Some("Do you mean the chest of drawers or the dresser?"),
    },
];
