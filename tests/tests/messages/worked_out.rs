//! Messages 236 to 239: measures that are worked out from others.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "a measure that there is not",
        number: 236,
        level: Level::Stop,
        edit: Edit::Add(
            "How far a drawer is uneven is the sum of how much its runners are worn and how deep it is.",
        ),
        words: "how deep it is",
        text: "I know no measure \"how deep it is\" of a drawer.",
        help: Some(
            "Use the words of a sentence about a drawer, such as \"You can measure how high a side is, in mm, from 0 to 900.\"",
        ),
    },
    Case {
        name: "a length and a share",
        number: 237,
        level: Level::Stop,
        edit: Edit::Add(
            "You can measure how much a drawer is damp, in %, from 0 to 60.\nHow far a drawer is uneven is the sum of how much its runners are worn and how much it is damp.",
        ),
        words: "the sum of how much its runners are worn and how much it is damp",
        text: "A length and a share cannot be reckoned together.",
        help: Some("Take two measures of one sort."),
    },
    Case {
        name: "the sum of one",
        number: 238,
        level: Level::Stop,
        edit: Edit::Add("How far a drawer is uneven is the sum of how wide its bottom is split."),
        words: "the sum of how wide its bottom is split",
        text: "This is only one reading.",
        help: Some("Name a second one after \"and\", or all parts that there are: \"its cracks\"."),
    },
    Case {
        name: "the difference between several",
        number: 238,
        level: Level::Stop,
        edit: Edit::Add(
            "How far a drawer is uneven is the difference between how much its runners are worn and how wide its bottom is split.",
        ),
        words: "how much its runners are worn",
        text: "A difference and a share are of two readings, and this is one for each of its runners.",
        help: Some(
            "Name one of its runners, or take the sum or the largest of them in a sentence of its own.",
        ),
    },
    Case {
        name: "a step about what is worked out",
        number: 239,
        level: Level::Stop,
        edit: Edit::Put(&[
            (
                "To look over a chest of drawers:\n",
                "How far a drawer is uneven is the largest of how much its runners are worn.\nTo look over a chest of drawers:\n",
            ),
            (
                "measure how wide each bottom is split\n    6.",
                "measure how far each drawer is uneven\n    6.",
            ),
        ]),
        words: "far each drawer is uneven",
        text: "How far a drawer is uneven is worked out and not asked for.",
        help: Some("Note what it is worked out from: how much a runner is worn."),
    },
];
