//! Messages 160 to 169: measures as one quantity, and what can be at all.

use tellmark_language::Level;

use crate::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "only if, of a mark",
        number: 160,
        level: Level::Stop,
        edit: Edit::Add("A bottom can be cracked only if it is held fast.  From: house"),
        words: "cracked",
        text: "\"cracked\" is read off a measure, or is one of several values, so \"only if\" does not fit it.",
        help: Some("Say \"only if\" of a sign that is yes or no, or of a hidden fault."),
    },
    Case {
        name: "only if, of a value",
        number: 160,
        level: Level::Stop,
        edit: Edit::Add("A screw can be blunt only if it is loose.  From: house"),
        words: "blunt",
        text: "\"blunt\" is read off a measure, or is one of several values, so \"only if\" does not fit it.",
        help: Some("Say \"only if\" of a sign that is yes or no, or of a hidden fault."),
    },
    Case {
        name: "only if, of one kind of piece",
        number: 161,
        level: Level::Stop,
        edit: Edit::Add(
            "A chest of drawers can be kept near heating only if any of its drawers is stiff.  From: house",
        ),
        words: "chest of drawers",
        text: "We say of a piece that it can be kept near heating, so this would be about all of them.",
        help: Some("Begin with a piece, or declare a sign or fault of its own."),
    },
    Case {
        name: "a rule that leads to a stretch",
        number: 162,
        level: Level::Stop,
        edit: Edit::Add(
            "A bottom counts as just open when it is split between 0.2 and 0.9 mm wide.\nIf a bottom is held fast then it is often just open.  From: house",
        ),
        words: "is often just open",
        text: "\"just open\" has an end on both sides, so it follows from the measure and nothing can bring it about.",
        help: Some("Let the rule lead to a mark, as in \"counts as … when it is at least …\"."),
    },
    Case {
        name: "a meaning of a stretch",
        number: 162,
        level: Level::Stop,
        edit: Edit::Add(
            "A bottom counts as just open when it is split between 0.2 and 0.9 mm wide.\nIf a bottom is just open, that often means it is held fast.  From: house",
        ),
        words: "a bottom is just open",
        text: "\"just open\" has an end on both sides, so it follows from the measure and nothing can bring it about.",
        help: Some("Let the rule lead to a mark, as in \"counts as … when it is at least …\"."),
    },
    Case {
        name: "a start for what follows",
        number: 163,
        level: Level::Stop,
        edit: Edit::Add(
            "A bottom counts as just open when it is split at most 0.9 mm wide.  On its own: rarely",
        ),
        words: "A bottom counts as just open when it is split at most 0.9 mm wide. On its own: rarely",
        text: "How often \"just open\" is so follows from the marks that rules lead to.",
        help: Some("Take \"On its own:\" out here."),
    },
    Case {
        name: "rules that lead both ways",
        number: 167,
        level: Level::Stop,
        edit: Edit::Add(
            "A bottom counts as tight when it is split at most 0.1 mm wide.\nIf a piece is kept near heating then its bottoms are sometimes tight.  From: house",
        ),
        words: "A bottom counts as tight when it is split at most 0.1 mm wide.",
        text: "Rules lead along this measure both ways: to more, and to less with \"tight\".",
        help: Some(
            "Let them lead one way: give one of them a sign of its own, such as \"You can see whether …\".",
        ),
    },
    Case {
        name: "two names for one mark",
        number: 164,
        level: Level::Stop,
        edit: Edit::Add("A bottom counts as gaping when it is split at least 1 mm wide."),
        words: "gaping",
        text: "\"cracked\" begins at the same mark (line 41), so the two would be the same.",
        help: Some("Write \"For cracked we also say gaping.\""),
    },
    Case {
        name: "a gauge for what is seen",
        number: 165,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "You can feel whether a drawer is freshly waxed.\n",
            "You can feel whether a drawer is freshly waxed.  Reads to: 1 mm\n",
        )]),
        words: "1 mm",
        text: "\"Reads to:\" belongs to a measure (\"how …\").",
        help: Some("Take it out here."),
    },
    Case {
        name: "a slip for what is measured",
        number: 165,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "Ask: \"Width of split?\"",
            "Slip: 1 in 50  Ask: \"Width of split?\"",
        )]),
        words: "1 in 50",
        text: "\"Slip:\" belongs to a sign that is judged, not measured or counted.",
        help: Some("Take it out here."),
    },
    Case {
        name: "what is usual of a yes or no",
        number: 165,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "You can feel whether a drawer is freshly waxed.\n",
            "You can feel whether a drawer is freshly waxed.  Usually: waxed\n",
        )]),
        words: "waxed",
        text: "\"Usually:\" belongs to a choice (\"which …\").",
        help: Some("Take it out here."),
    },
    Case {
        name: "a start for a choice",
        number: 165,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "Ask: \"Which screw point?\"",
            "On its own: rarely  Ask: \"Which screw point?\"",
        )]),
        words: "rarely",
        text: "\"On its own:\" belongs to a sign that is yes or no, a measure or a count.",
        help: Some("Take it out here."),
    },
    Case {
        name: "usually none of the values",
        number: 166,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "Ask: \"Which screw point?\"",
            "Usually: rusty  Ask: \"Which screw point?\"",
        )]),
        words: "rusty",
        text: "\"rusty\" is none of these values: blunt, gimlet-point or cross-head.",
        help: Some("Write after \"Usually:\" the value that is there as a rule."),
    },
    Case {
        name: "a count of any piece",
        number: 168,
        level: Level::Stop,
        edit: Edit::Add("You can count the drawers of a piece."),
        words: "piece",
        text: "One kind of piece has another number of drawers than the next, so I cannot say what is usual.",
        help: Some(
            "Say it of each kind of piece: \"You can count the drawers of a chest of drawers.\"",
        ),
    },
    Case {
        name: "a name for every reading",
        number: 169,
        level: Level::Stop,
        edit: Edit::Add("A bottom counts as measured when it is split at least 0 mm wide."),
        words: "measured",
        text: "By all that can be read of this measure it would always be measured.",
        help: Some("Choose a mark between its smallest and its largest reading."),
    },
    Case {
        name: "a name for no reading",
        number: 169,
        level: Level::Stop,
        edit: Edit::Add("A bottom counts as gone when it is split less than 0 mm wide."),
        words: "gone",
        text: "By all that can be read of this measure it would never be gone.",
        help: Some("Choose a mark between its smallest and its largest reading."),
    },
];
