//! Kinds of kinds.

use super::{Case, Edit, Level};

pub const CASES: &[Case] = &[
    Case {
        name: "a kind of itself",
        number: 181,
        level: Level::Stop,
        edit: Edit::Add("Parts: knob, ring.\nA knob is a kind of ring.\nA ring is a kind of knob."),
        words: "ring is a kind of knob",
        text: "A ring is a kind of knob, a knob is a kind of ring: so it would be a kind of itself.",
        help: Some("Take one of these sentences out."),
    },
    Case {
        name: "a kind of two kinds",
        number: 182,
        level: Level::Stop,
        edit: Edit::Add(
            "Parts: knob, ring, pull.\nA ring is a kind of knob.\nA ring is a kind of pull.",
        ),
        words: "ring is a kind of pull",
        text: "A ring is a kind of knob already (line 121), and nothing is a kind of two things.",
        help: Some(
            "Take one of the two sentences out. What belongs to both may be said of a kind that both are kinds of.",
        ),
    },
    Case {
        name: "a piece that is a kind of part",
        number: 183,
        level: Level::Stop,
        edit: Edit::Add("Pieces: bureau.\nA bureau is a kind of drawer."),
        words: "bureau is a kind of drawer",
        text: "A bureau cannot be a kind of drawer: a bureau is a piece, a drawer is a part.",
        help: Some("Only pieces are kinds of pieces, and parts kinds of parts."),
    },
    Case {
        name: "a kind of piece",
        number: 183,
        level: Level::Stop,
        edit: Edit::Add("Pieces: bureau.\nA bureau is a kind of piece."),
        words: "bureau is a kind of piece",
        text: "A bureau cannot be a kind of piece: every piece is one.",
        help: Some("Only pieces are kinds of pieces, and parts kinds of parts."),
    },
    Case {
        name: "without what it would not have",
        number: 184,
        level: Level::Stop,
        edit: Edit::Add(
            "Pieces: bureau.\nA bureau is a kind of chest of drawers.\nA bureau has no fall.",
        ),
        words: "no fall",
        text: "A bureau would have no fall anyway: a chest of drawers has none.",
        help: Some("Say nothing about what it never has."),
    },
    Case {
        name: "a piece without what no piece has",
        number: 184,
        level: Level::Stop,
        edit: Edit::Add("A chest of drawers has no fall."),
        words: "no fall",
        text: "A chest of drawers would have no fall anyway.",
        help: Some("Say nothing about what it never has."),
    },
    Case {
        name: "with and without",
        number: 185,
        level: Level::Stop,
        edit: Edit::Add(
            "Pieces: bureau.\nA bureau is a kind of chest of drawers.\nA bureau has no drawers.\nA bureau has 4 drawers.",
        ),
        words: "no drawers",
        text: "A bureau has drawers (line 123), so it cannot be without them.",
        help: Some("Take one of the two sentences out."),
    },
    Case {
        name: "a measure that the general kind has",
        number: 186,
        level: Level::Stop,
        edit: Edit::Add(
            "Parts: short runner.\nA short runner is a kind of runner.\nYou can measure how much a short runner is worn, in mm, from 0 to 9.",
        ),
        words: "You can measure how much a short runner is worn, in mm, from 0 to 9.",
        text: "A short runner is a kind of runner, so \"worn\" is said of it already (line 34).",
        help: Some(
            "Leave this out. Only what is yes or no can be said again of a kind, in the same words and with figures of its own.",
        ),
    },
    Case {
        name: "a word for feet of two kinds",
        number: 187,
        level: Level::Stop,
        edit: Edit::Add(
            "Parts: knob, ring, pull.\nA ring is a kind of knob.\nA pull is a kind of knob.\nA chest of drawers has 2 rings and 2 pulls.\nYou can see whether a knob is odd.  Ask: \"Odd?\"\nExample: two kinds of knob.\n    Given a chest of drawers\n    Given knob 2 is odd\n    Expect no stop",
        ),
        words: "knob",
        text: "\"knob\" could be several things here: rings and pulls.",
        help: Some("Say which, as in \"pull 2\"."),
    },
    Case {
        name: "a kind within a kind of the same",
        number: 188,
        level: Level::Stop,
        edit: Edit::Add(
            "Parts: tray, till.\nA tray is a kind of drawer.\nA till is a kind of drawer.\nA tray has 2 tills.",
        ),
        words: "A till is a kind of drawer.",
        text: "A till can be built into a tray, and both are kinds of drawer: \"its drawer\" could be either.",
        help: Some("Leave one of the two sentences \"is a kind of\" out."),
    },
    Case {
        name: "a number that could be made up in very many ways",
        number: 190,
        level: Level::Stop,
        edit: Edit::Add(
            "Parts: knob, ring, pull.\nA ring is a kind of knob.\nA pull is a kind of knob.\nYou can see whether a knob is odd.  Ask: \"Odd?\"  On its own: rarely\nA drawer has 40 knobs, 40 rings and 40 pulls.\nIf at least 40 knobs of a drawer are odd then the drawer is often stiff.  From: house",
        ),
        words: "at least 40 knobs of a drawer are odd",
        text: "So many parts can be made up of knobs, rings and pulls in more than 100 ways.",
        help: Some("Say it of each kind of part on its own, or give a smaller number."),
    },
    Case {
        name: "a number of parts of two kinds of each of several parts",
        number: 189,
        level: Level::Stop,
        edit: Edit::Add(
            "Parts: knob, ring.\nA ring is a kind of knob.\nA drawer has 2 knobs and 0 to 2 rings.\nYou can count the rings of a drawer.  Ask: \"Rings?\"\nIf any drawer of a chest of drawers has 3 knobs then it is kept near heating.  From: house",
        ),
        words: "any drawer of a chest of drawers has 3 knobs",
        text: "A drawer has knobs of several kinds (knobs and rings), and what this says of all of them together cannot be told.",
        help: Some("Say it of each kind of part on its own."),
    },
];
