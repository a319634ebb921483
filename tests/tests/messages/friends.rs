//! Messages 250 and 251: words that are not taken for others.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "a wrong friend of nothing",
        number: 250,
        level: Level::Stop,
        edit: Edit::Add("Never take tight for upholstered."),
        words: "upholstered",
        text: "There is nothing called \"upholstered\" that can be said of a part.",
        help: Some("Name something that can be found, as in \"Never take bowed for warped.\""),
    },
    Case {
        name: "a wrong friend of something misspelt",
        number: 250,
        level: Level::Stop,
        edit: Edit::Add("Never take tight for held fsat."),
        words: "held fsat",
        text: "There is nothing called \"held fsat\" that can be said of a part.",
        help: Some("Did you mean \"held fast\"?"),
    },
    Case {
        name: "a wrong friend that is said for it",
        number: 251,
        level: Level::Stop,
        edit: Edit::Add("For held fast we also say jammed.\nNever take jammed for held fast."),
        words: "jammed",
        text: "\"jammed\" is one of your words for \"held fast\" (line 47), so it cannot be kept from meaning that.",
        help: Some("Take it out of one of the two sentences."),
    },
];
