//! Messages 33 to 41: numbers, units, ladders.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "a number without its unit",
        number: 33,
        level: Level::Stop,
        edit: Edit::Add(
            "When a runner is worn more than 3 then plan to fit a new runner.  From: house",
        ),
        words: "3",
        text: "3 what?",
        help: Some("This sign is measured in mm, so \"3 mm\"."),
    },
    Case {
        name: "a quantity out of range",
        number: 34,
        level: Level::Stop,
        edit: Edit::Add(
            "When a runner is worn more than 2 in then plan to fit a new runner.  From: house",
        ),
        words: "2 in",
        text: "2 in is 50.8 mm, which is outside the 0 to 15 mm given for how much a runner is worn (line 34).",
        help: Some("Did you mean 2 mm?"),
    },
    Case {
        name: "a length with a time",
        number: 35,
        level: Level::Stop,
        edit: Edit::Add(
            "When a runner is worn more than 2 hours then plan to fit a new runner.  From: house",
        ),
        words: "hours",
        text: "This compares a length with a time.",
        help: Some("How much a runner is worn is measured in mm."),
    },
    Case {
        name: "a decimal comma",
        number: 36,
        level: Level::Stop,
        edit: Edit::Add(
            "When a runner is worn more than 1,5 mm then plan to fit a new runner.  From: house",
        ),
        words: "1,5 mm",
        text: "I read \"1\" and then \"5 mm\".",
        help: Some("Write it with a full stop: 1.5."),
    },
    Case {
        name: "between the wrong way round",
        number: 37,
        level: Level::Stop,
        edit: Edit::Add(
            "When a runner is worn between 4 and 2 mm then plan to fit a new runner.  From: house",
        ),
        words: "4 and 2 mm",
        text: "The smaller number comes first.",
        help: Some("\"between 2 and 4 mm\"."),
    },
    Case {
        name: "a number there can never be",
        number: 38,
        level: Level::Stop,
        edit: Edit::Add(
            "If a fall has more than 4 supports then it is often sagging.  From: house",
        ),
        words: "more than 4 supports",
        text: "This can never be true: you say a fall has 0 to 3 supports (line 9).",
        help: Some("Change one of the two."),
    },
    Case {
        name: "a year to come",
        number: 39,
        level: Level::Stop,
        edit: Edit::Put(&[("not earlier than 1846", "not earlier than 2846")]),
        words: "2846",
        text: "\"not earlier than 2846\" is after this year.",
        help: Some("Did you mean 1846?"),
    },
    Case {
        name: "a year of three digits",
        number: 39,
        level: Level::Stop,
        edit: Edit::Put(&[("not earlier than 1846", "not earlier than 184")]),
        words: "184",
        text: "\"not earlier than 184\" is not a year: a year has four digits.",
        help: Some("Write the whole year, such as 1846."),
    },
    Case {
        name: "a ladder not rising",
        number: 40,
        level: Level::Stop,
        edit: Edit::Put(&[("up to 4 mm: plan to let", "up to 0.5 mm: plan to let")]),
        words: "0.5 mm",
        text: "The steps must go up: 0.5 mm comes after 1 mm.",
        help: Some("Put them in rising order."),
    },
    Case {
        name: "a ladder without more",
        number: 41,
        level: Level::Stop,
        edit: Edit::Put(&[("    more: plan to reglue the bottom\n", "")]),
        words: "4 mm",
        text: "What if it is more than 4 mm?",
        help: Some("Add a last step: \"more: plan to …\", or \"more: nothing\"."),
    },
];
