//! Messages 201 to 217: work that hangs on something, and what is older than what.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "a job in its own place",
        number: 201,
        level: Level::Stop,
        edit: Edit::Add(
            "When a fall is sagging, instead of make new lopers plan to make new lopers.  From: house",
        ),
        words: "make new lopers",
        text: "\"make new lopers\" cannot stand in its own place.",
        help: Some("Name another job after \"plan to\"."),
    },
    Case {
        name: "instead of a job that there is none of",
        number: 58,
        level: Level::Stop,
        edit: Edit::Add(
            "When a fall is sagging, instead of make new loper plan to reglue the bottom.  From: house",
        ),
        words: "make new loper",
        text: "\"make new loper\" is not a job in these files.",
        help: Some("Did you mean \"make new lopers\"?"),
    },
    Case {
        name: "instead of, and then no plan",
        number: 17,
        level: Level::Stop,
        edit: Edit::Add(
            "When a fall is sagging, instead of make new lopers, reglue the bottom.  From: house",
        ),
        words: "reglue",
        text: "I do not know \"reglue\" here.",
        help: Some("After \"… make new lopers,\" I looked for \"plan to\"."),
    },
    Case {
        name: "instead of in a plan",
        number: 210,
        level: Level::Stop,
        edit: Edit::Add(
            "When a fall is sagging then plan to reglue the bottom instead of make new lopers.  From: house",
        ),
        words: "instead of",
        text: "That one job stands in the place of another is said in this order: \"When …, instead of … plan to …\".",
        help: Some(
            "For example: \"When a drawer is nailed shut, instead of wax the runner plan to open the drawer.\"",
        ),
    },
    Case {
        name: "instead of in a rule",
        number: 210,
        level: Level::Stop,
        edit: Edit::Add(
            "If a fall is sagging, instead of make new lopers plan to reglue the bottom.  From: house",
        ),
        words: "instead of",
        text: "That one job stands in the place of another is said in this order: \"When …, instead of … plan to …\".",
        help: Some(
            "For example: \"When a drawer is nailed shut, instead of wax the runner plan to open the drawer.\"",
        ),
    },
    Case {
        name: "a ladder about another part",
        number: 208,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "Depending on how wide a bottom is split:",
            "When a bottom is cracked, depending on how wide a bottom is split:",
        )]),
        words: "a bottom",
        text: "After \"When …,\" a ladder is about the bottom that it begins with.",
        help: Some("Write \"it\", which is the bottom."),
    },
    Case {
        name: "a ladder about nothing",
        number: 208,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "Depending on how wide a bottom is split:",
            "Depending on how wide it is split:",
        )]),
        words: "it",
        text: "\"It\" stands for nothing here.",
        help: Some(
            "Name the part, as in \"Depending on how wide a bottom is split:\"; or begin with what must be so: \"When a bottom is of oak, depending on how wide it is split:\".",
        ),
    },
    Case {
        name: "an order that hangs on something",
        number: 209,
        level: Level::Stop,
        edit: Edit::Add(
            "When a bottom is cracked, always clear the drawer before you reglue the bottom.  From: house",
        ),
        words: "When a bottom is cracked,",
        text: "An order of work goes for every piece; it cannot hang on anything.",
        help: Some(
            "Take \"When …,\" out. Where one job stands in the place of another, \"When …, instead of … plan to …\", the two can have an order each.",
        ),
    },
    Case {
        name: "known of one of several",
        number: 211,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "6. ask whether the piece is kept near heating",
            "6. ask whether the piece is kept near heating, only once it is known whether the drawer is stiff",
        )]),
        words: "the drawer",
        text: "A step waits until something is known of the whole piece, and it can have several drawers.",
        help: Some(
            "Write \"each drawer\", to wait until it is known of every one, or \"any drawer\", to wait until it is known whether there is one.",
        ),
    },
    Case {
        name: "only once nothing is known",
        number: 78,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "6. ask whether the piece is kept near heating",
            "6. ask whether the piece is kept near heating, only once it is known that each drawer is stiff",
        )]),
        words: "that",
        text: "I read this as far as \"… once it is known\", and then looked for \"whether\", \"how\" or \"which\".",
        help: Some(
            "A sentence of this sort reads: \"To look over a chest of drawers:\", then lines such as \"1. feel whether each drawer is stiff\"",
        ),
    },
    Case {
        name: "earlier, and not only usually",
        number: 212,
        level: Level::Stop,
        edit: Edit::Add("A fall is earlier than its hinge.  From: house"),
        words: "fall is earlier than its hinge",
        text: "Whether a hinge is later than the fall it is in, no rule can know; it can say what is usual.",
        help: Some(
            "Write \"is usually earlier than its hinge\", with \"Evidence:\" for how far it can be trusted.",
        ),
    },
    Case {
        name: "usually later",
        number: 213,
        level: Level::Stop,
        edit: Edit::Add("A hinge is usually later than its fall.  From: house"),
        words: "usually later than its",
        text: "What is usual of a part and what it is built into is said of the earlier of the two.",
        help: Some("Write \"A fall is usually earlier than its hinge.\"."),
    },
    Case {
        name: "usually later, of some",
        number: 213,
        level: Level::Stop,
        edit: Edit::Add("A screw that is loose is usually later than its hinge.  From: house"),
        words: "usually later than its",
        text: "What is usual of a part and what it is built into is said of the earlier of the two.",
        help: Some("For example: \"A door is usually earlier than its lock.\""),
    },
    Case {
        name: "earlier than what is not straight in it",
        number: 214,
        level: Level::Stop,
        edit: Edit::Add("A fall is usually earlier than its screw.  From: house"),
        words: "screw",
        text: "A screw is not built straight into a fall; it is dated beside a hinge.",
        help: Some(
            "Say it of what it is built into, as in \"A door is usually earlier than its lock\".",
        ),
    },
    Case {
        name: "a later part of every one",
        number: 132,
        level: Level::Stop,
        edit: Edit::Add("A fall has a later hinge.  From: house"),
        words: "fall",
        text: "This would hold of every fall.",
        help: Some("Say what shows it: \"A fall that … has a later hinge\"."),
    },
    Case {
        name: "often earlier",
        number: 215,
        level: Level::Stop,
        edit: Edit::Add("A fall is often earlier than its hinge.  From: house"),
        words: "often",
        text: "What is older than what has one word for how often, \"usually\"; how far it can be trusted is said under it.",
        help: Some("Write \"usually\", and \"Evidence: strong\", \"fair\" or \"weak\" under it."),
    },
    Case {
        name: "later as a result",
        number: 216,
        level: Level::Stop,
        edit: Edit::Add("If its hinges are unlike one another, one of them is later.  From: house"),
        words: "is later",
        text: "That a part is later is no result of a rule: it is a dating.",
        help: Some(
            "One of several, by what shows it: \"A base that shows odd castors has a later castor.\" Each of them: \"A door is usually earlier than its lock.\"",
        ),
    },
    Case {
        name: "a ladder without a comma",
        number: 217,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "Depending on how wide a bottom is split:",
            "When a bottom is cracked depending on how wide it is split:",
        )]),
        words: "depending",
        text: "A comma is missing before \"depending on how\".",
        help: Some("Without it, I would read on as if it were still said what must be so."),
    },
    Case {
        name: "instead of, in front",
        number: 210,
        level: Level::Stop,
        edit: Edit::Add("Instead of make new lopers plan to reglue the bottom.  From: house"),
        words: "Instead of",
        text: "That one job stands in the place of another is said in this order: \"When …, instead of … plan to …\".",
        help: Some(
            "For example: \"When a drawer is nailed shut, instead of wax the runner plan to open the drawer.\"",
        ),
    },
];
