//! Messages 232 to 235: times as measures.

use tellmark_language::Level;

use super::{Case, Edit};

/// A time, and a sentence that misuses it.
macro_rules! with {
    ($more:literal) => {
        Edit::Add(concat!(
            "You can ask how long ago a top was oiled, in months, from 0 to 600.\n",
            "You can ask how long a top has stood open, in weeks, from 0 to 600.\n",
            $more
        ))
    };
}

pub const CASES: &[Case] = &[
    Case {
        name: "half a month",
        number: 232,
        level: Level::Stop,
        edit: with!(
            "Take care when a top was oiled less than 1.5 months ago: \"It is soft.\"  From: house"
        ),
        words: "1.5 months",
        text: "1.5 months cannot be kept exactly: times are kept in sixteenths of a day, and a month is 30 7/16 of them.",
        help: Some("Say it in days or weeks."),
    },
    Case {
        name: "how long ago, as a length",
        number: 233,
        level: Level::Stop,
        edit: Edit::Add("You can ask how long ago a top was oiled, in mm, from 0 to 600."),
        words: "mm",
        text: "This asks how long ago it was, which is a time.",
        help: Some("Ask for it in days, weeks, months or years."),
    },
    Case {
        name: "how long it has stood, as a length",
        number: 233,
        level: Level::Stop,
        edit: Edit::Add("You can ask how long a top has stood open, in mm, from 0 to 600."),
        words: "mm",
        text: "This asks how long it has lasted, which is a time.",
        help: Some("Ask for it in days, weeks, months or years."),
    },
    Case {
        name: "how long it is, as a time",
        number: 234,
        level: Level::Stop,
        edit: Edit::Add("You can ask how long a top is stood open, in weeks, from 0 to 600."),
        words: "long",
        text: "How long something has lasted is asked with \"has\".",
        help: Some(
            "Write \"how long a piece has stood open, in weeks, …\". How long ago it began is \"how long ago a piece was moved, in weeks, …\".",
        ),
    },
    Case {
        name: "is oiled so long",
        number: 235,
        level: Level::Stop,
        edit: with!(
            "Take care when a top is oiled less than 3 weeks: \"It is soft.\"  From: house"
        ),
        words: "is oiled less than 3 weeks",
        text: "How long ago a top was oiled is said with other words.",
        help: Some("Write \"was oiled … ago\"."),
    },
    Case {
        name: "is stood so long",
        number: 235,
        level: Level::Stop,
        edit: with!(
            "Take care when a top is stood open more than 3 weeks: \"It is dry.\"  From: house"
        ),
        words: "is stood open more than 3 weeks",
        text: "How long a top has stood open is said with other words.",
        help: Some("Write \"has stood open for …\"."),
    },
    Case {
        name: "hours of what is asked in weeks",
        number: 35,
        level: Level::Stop,
        edit: with!(
            "Take care when a top was oiled less than 3 hours ago: \"It is wet.\"  From: house"
        ),
        words: "hours",
        text: "This compares a time with hours or minutes.",
        help: Some("How long ago a top was oiled is measured in months."),
    },
];
