//! Messages 50 to 73 and 248: jobs, cautions, dates, sources, the screen, examples.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "a count nobody takes",
        number: 50,
        level: Level::Stop,
        edit: Edit::Add(
            "If a hinge has fewer than 4 screws then it is often under strain.  From: house",
        ),
        words: "fewer than 4 screws",
        text: "Nobody is asked to count the screws of a hinge.",
        help: Some("Add: \"You can count the screws of a hinge.\""),
    },
    Case {
        name: "no starting chance",
        number: 52,
        level: Level::Stop,
        edit: Edit::Put(&[
            (
                "Unless we say otherwise, a sign is there on its own: hardly ever.\n",
                "",
            ),
            (
                "You can count the supports of a fall.",
                "You can count the supports of a fall.  On its own: hardly ever",
            ),
            (
                "freshly waxed.\n    Ask",
                "freshly waxed.  On its own: rarely\n    Ask",
            ),
            ("from 0 to 15.\n", "from 0 to 15.  On its own: rarely\n"),
            (
                "kept near heating.  Ask",
                "kept near heating.  On its own: rarely Ask",
            ),
            (
                "Takes: 1 minute  On its own: rarely\nYou can see which",
                "Takes: 1 minute\nYou can see which",
            ),
        ]),
        words: "You can feel whether a screw is loose.",
        text: "A rule says what makes a screw loose, but nothing says how often that happens by itself, so seeing it would PROVE the fault.",
        help: Some(
            "Add \"On its own: rarely\" (or another word), or say it once for all: \"Unless we say otherwise, a sign is there on its own: hardly ever.\"",
        ),
    },
    Case {
        name: "a fault that is never simply true",
        number: 55,
        level: Level::Stop,
        edit: Edit::Add("When a hinge is under strain then plan to make new lopers.  From: house"),
        words: "under strain",
        text: "\"under strain\" cannot be seen, so it is never simply true.",
        help: Some(
            "Say how sure you must be: \"surely\" (95 in 100), \"probably\" (6 in 10) or \"possibly\" (15 in 100).",
        ),
    },
    Case {
        name: "First: names no job",
        number: 58,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "Needs: oak strip, hide glue  First: clear the drawer",
            "Needs: oak strip, hide glue  First: clear the draw",
        )]),
        words: "clear the draw",
        text: "\"First: clear the draw\" names a job that is not in this file.",
        help: Some("Did you mean \"clear the drawer\"?"),
    },
    Case {
        name: "a mend that mends nothing",
        number: 248,
        level: Level::Stop,
        edit: Edit::Add("Job: dust the drawer.  Takes: 5 minutes  Holds: usually"),
        words: "Job: dust the drawer. Takes: 5 minutes Holds: usually",
        text: "\"dust the drawer\" mends nothing, so nothing can hold.",
        help: Some(
            "Say what it puts right: \"Mends: a runner is worn thin\". Or leave \"Holds:\" out.",
        ),
    },
    Case {
        name: "a mend that holds as nobody says",
        number: 18,
        level: Level::Stop,
        edit: Edit::Add(
            "Job: dust the drawer.  Takes: 5 minutes  Mends: a drawer is stiff  Holds: mostly",
        ),
        words: "mostly",
        text: "\"mostly\" is not one of the house words for how often.",
        help: Some(
            "They are: nearly always (19 in 20), usually (8 in 10), often (6 in 10), sometimes (3 in 10), rarely, hardly ever. Or write \"in 7 of 10 cases\".",
        ),
    },
    Case {
        name: "a job with no time",
        number: 61,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "Job: watch the split.  Takes: 5 minutes",
            "Job: watch the split.",
        )]),
        words: "watch the split",
        text: "How long does \"watch the split\" take?",
        help: Some("Add \"Takes: …\". Unknown is allowed: \"Takes: not known\"."),
    },
    Case {
        name: "no source",
        number: 65,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "A cross-head screw is not earlier than 1930.  From: house",
            "A cross-head screw is not earlier than 1930.",
        )]),
        words: "A cross-head screw is not earlier than 1930.",
        text: "This has no source.",
        help: Some("Add \"From: …\", or \"From: house\" if it is your own experience."),
    },
    Case {
        name: "no source of a rule",
        number: 65,
        level: Level::Look,
        edit: Edit::Put(&[(
            "If a bottom is held fast then it is often cracked.  From: house",
            "If a bottom is held fast then it is often cracked.",
        )]),
        words: "If a bottom is held fast then it is often cracked.",
        text: "This has no source.",
        help: Some("Add \"From: …\", or \"From: house\" if it is your own experience."),
    },
    Case {
        name: "a source misspelt",
        number: 66,
        level: Level::Stop,
        edit: Edit::Put(&[("From: Mercer 1923\n", "From: Mercer 1932\n")]),
        words: "Mercer 1932",
        text: "I do not know the source \"Mercer 1932\".",
        help: Some("Did you mean \"Mercer 1923\" (line 14)?"),
    },
    Case {
        name: "a question too long",
        number: 68,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "Ask: \"Lopers under fall?\"",
            "Ask: \"Are there lopers under it?\"",
        )]),
        words: "\"Are there lopers under it?\"",
        text: "\"Are there lopers under it?\" is 26 characters; the screen shows 21 on a line.",
        help: Some("Take out 5."),
    },
    Case {
        name: "a caution too long",
        number: 68,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "\"Bag it. Keep it well apart.\"",
            "\"Bag it and then keep it well apart from all the other wood in the house until it is treated.\"",
        )]),
        words: "\"Bag it and then keep it well apart from all the other wood in the house until it is treated.\"",
        text: "\"Bag it and then keep it well apart from all the other wood in the house until it is treated.\" fills 5 lines; the screen shows 3 here.",
        help: Some("Say it in fewer words."),
    },
    Case {
        name: "a word too long",
        number: 69,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "\"Bag it. Keep it well apart.\"",
            "\"Mind counterbalanced-flap-leaves here.\"",
        )]),
        words: "counterbalanced-flap-leaves",
        text: "\"counterbalanced-flap-leaves\" will be cut at 21.",
        help: Some("Use a space or a shorter word."),
    },
    Case {
        name: "a sign the screen has not",
        number: 70,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "\"Bag it. Keep it well apart.\"",
            "\"Bag it — keep it apart.\"",
        )]),
        words: "—",
        text: "The screen has no \"—\". It will show \"-\".",
        help: Some("Write \"-\"."),
    },
    Case {
        name: "a part the example has not",
        number: 72,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "Given fall 1 has no supports",
            "Given fall 3 has no supports",
        )]),
        words: "fall 3",
        text: "This example has 1 fall, so there is no fall 3.",
        help: Some("Say how many there are: \"Given a drop-leaf table with 3 falls\"."),
    },
    Case {
        name: "facts that cannot both be",
        number: 73,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "    Given drawer 2 is freshly waxed\n",
            "    Given drawer 2 is freshly waxed\n    Given drawer 2 is not freshly waxed\n",
        )]),
        words: "drawer 2 is not freshly waxed",
        text: "Line 113 and line 114 say that the same drawer is freshly waxed and is not freshly waxed.",
        help: Some("Take one of them out."),
    },
];
