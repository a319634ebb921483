//! Messages about where parts stand among their like.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "the others of what the sentence is not about",
        number: 244,
        level: Level::Stop,
        edit: Edit::Add(
            "If any other drawer of a chest of drawers is stiff then its drawers are often freshly waxed.  From: house",
        ),
        words: "other",
        text: "\"Other\" than which drawer? This sentence is about a chest of drawers.",
        help: Some(
            "Begin with the drawer that it is other than: \"If a drawer is … and any other drawer is … then …\", or \"If a drawer is … then the other drawers are …\".",
        ),
    },
    Case {
        name: "the lowest of what nobody says from where it is counted",
        number: 245,
        level: Level::Stop,
        edit: Edit::Add(
            "If the lowest drawer of a chest of drawers is stiff then its drawers are often freshly waxed.  From: house",
        ),
        words: "lowest",
        text: "Nobody says from where the drawers of a chest of drawers are counted, so I do not know which is the lowest one.",
        help: Some(
            "Say it where they are declared: \"A chest of drawers has 2 to 10 drawers (from the top).\"",
        ),
    },
    Case {
        name: "a place that has no name",
        number: 246,
        level: Level::Stop,
        edit: Edit::Add(
            "If the left runner of a drawer is infested then the drawer is often stiff.  From: house",
        ),
        words: "left",
        text: "The runners of a drawer have no names, so I do not know which is the left one.",
        help: Some("Give them names where they are declared: \"2 runners (left, right)\"."),
    },
    Case {
        name: "a name that is another one",
        number: 246,
        level: Level::Stop,
        edit: Edit::Put(&[
            ("two runners.", "two runners (left, right)."),
            (
                "If a runner is infested then it usually",
                "If the middle runner of a drawer is infested then it usually",
            ),
        ]),
        words: "middle",
        text: "No runner of a drawer is called \"middle\": their names are left and right.",
        help: Some(
            "Write one of left and right, or \"first\", \"second\" … by their number, or \"last\".",
        ),
    },
    Case {
        name: "a number that there cannot be",
        number: 246,
        level: Level::Stop,
        edit: Edit::Add(
            "If the third runner of a drawer is infested then the drawer is often stiff.  From: house",
        ),
        words: "third",
        text: "There are at most 2 runners, so none is the third one.",
        help: Some("Write \"first\" or another number up to 2, or \"last\"."),
    },
    Case {
        name: "a place on the way to another part",
        number: 247,
        level: Level::Stop,
        edit: Edit::Add(
            "If any runner of the first drawer of a chest of drawers is infested then its bottoms are often held fast.  From: house",
        ),
        words: "first drawer",
        text: "Where a drawer stands cannot be said on the way to another part.",
        help: Some("Make the sentence about a drawer: \"If a drawer is the first drawer and …\"."),
    },
    Case {
        name: "the other one of several",
        number: 249,
        level: Level::Stop,
        edit: Edit::Add(
            "If a drawer is stiff and the other drawer is stiff then it is often freshly waxed.  From: house",
        ),
        words: "other",
        text: "There can be several other drawers.",
        help: Some(
            "Say \"any other drawer\", \"no other drawer\" or \"all the other drawers\"; in a result \"the other drawers\".",
        ),
    },
    Case {
        name: "every other one",
        number: 249,
        level: Level::Stop,
        edit: Edit::Add(
            "If a drawer is stiff and every other drawer is stiff then it is often freshly waxed.  From: house",
        ),
        words: "other",
        text: "\"Every other drawer\" may also be each second one.",
        help: Some(
            "Say \"any other drawer\", \"no other drawer\" or \"all the other drawers\"; in a result \"the other drawers\".",
        ),
    },
    Case {
        name: "a sign that means something of the others",
        number: 218,
        level: Level::Stop,
        edit: Edit::Add(
            "If a runner shows fresh dust, that often means the other runner is infested.  From: house",
        ),
        words: "the other runner is infested",
        text: "What a sign means is said of the part itself, of what it is built into, or of its own parts.",
        help: Some(
            "Say it the other way round: \"If a runner is … then the other … are often …\", with the fault first and the sign as the result.",
        ),
    },
    Case {
        name: "the next one",
        number: 219,
        level: Level::Stop,
        edit: Edit::Add(
            "If a drawer is stiff then the next drawer is often freshly waxed.  From: house",
        ),
        words: "next",
        text: "Which drawers stand next to one another makes no difference to rules.",
        help: Some(
            "Say \"any other drawer\", or name drawers by their places: \"the lowest\", \"the first\", \"the second\".",
        ),
    },
    Case {
        name: "a name that is another part elsewhere",
        number: 220,
        level: Level::Stop,
        edit: Edit::Put(&[
            (
                "two runners.",
                "two runners (left, right).\nA fall has 2 runners (right, left).",
            ),
            (
                "If a runner is infested then it usually",
                "If a left runner is infested then it usually",
            ),
        ]),
        words: "left",
        text: "The left runner is not the same one everywhere: a fall and a drawer have other names for theirs.",
        help: Some(
            "Say whose it is: make the sentence about what has it, with \"its left runner\".",
        ),
    },
    Case {
        name: "a step about one of several",
        number: 191,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "    3. measure how much each runner",
            "    3. measure how much the first runner",
        )]),
        words: "first",
        text: "A step is about every runner, not only about the first one.",
        help: Some("Leave out \"first\". Whoever looks over the piece can pass over the others."),
    },
    Case {
        name: "a place in the result",
        number: 192,
        level: Level::Stop,
        edit: Edit::Add(
            "If a runner is infested then the first runner often shows fresh dust.  From: house",
        ),
        words: "the first runner",
        text: "Which runner the result is about must stand in the condition.",
        help: Some("Write \"if it is the first runner and …\", and in the result \"it is …\"."),
    },
    Case {
        name: "parts of the other one",
        number: 247,
        level: Level::Stop,
        edit: Edit::Add(
            "If a fall is sagging then the hinges of the other fall are often under strain.  From: house",
        ),
        words: "other fall",
        text: "Where a fall stands cannot be said on the way to another part.",
        help: Some(
            "Make the sentence about a fall that the other one bears on: \"If a fall is … and the other fall is … then its … are …\".",
        ),
    },
    Case {
        name: "both of more than two",
        number: 195,
        level: Level::Stop,
        edit: Edit::Add(
            "If both drawers of a chest of drawers are stiff then its bottoms are often held fast.  From: house",
        ),
        words: "both",
        text: "A chest of drawers has up to 10 drawers, so it is not clear which two are both.",
        help: Some(
            "Write \"every drawer\", \"at least 2 drawers\", or which two, by a word of their names: \"both left drawers\".",
        ),
    },
    Case {
        name: "a part without a small word before it",
        number: 196,
        level: Level::Stop,
        edit: Edit::Add("If drawer is stiff then it is often freshly waxed.  From: house"),
        words: "drawer",
        text: "Which drawer?",
        help: Some("Write \"a drawer\", \"its drawer\" or \"the drawer\"."),
    },
    Case {
        name: "how often before is",
        number: 197,
        level: Level::Stop,
        edit: Edit::Add("If a drawer is stiff then it usually is freshly waxed.  From: house"),
        words: "usually is",
        text: "The word for how often comes after \"is\".",
        help: Some("Write \"is usually\"."),
    },
];
