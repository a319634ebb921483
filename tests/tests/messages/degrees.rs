//! Messages 221 to 231: what an eye judges in degrees.

use tellmark_language::Level;

use super::{Case, Edit};

/// A judgement, and a sentence that misuses it.
macro_rules! with {
    ($more:literal) => {
        Edit::Add(concat!(
            "You can see how badly a top is lifted: slightly, noticeably or badly.\n",
            $more
        ))
    };
}

pub const CASES: &[Case] = &[
    Case {
        name: "not the lowest degree",
        number: 221,
        level: Level::Stop,
        edit: with!(
            "When a top is not slightly lifted then plan to fit a new runner.  From: house"
        ),
        words: "not slightly lifted",
        text: "\"Not slightly lifted\" can be read in two ways: less than that, or anything else.",
        help: Some("Write \"is not lifted\" or \"is more than slightly lifted\"."),
    },
    Case {
        name: "not a degree in the middle",
        number: 221,
        level: Level::Stop,
        edit: with!(
            "If a top is not noticeably lifted then its piece is kept near heating.  From: house"
        ),
        words: "not noticeably lifted",
        text: "\"Not noticeably lifted\" can be read in two ways: less than that, or anything else.",
        help: Some(
            "Write \"is less than noticeably lifted\" or \"is more than noticeably lifted\".",
        ),
    },
    Case {
        name: "at least what has no degrees",
        number: 222,
        level: Level::Stop,
        edit: Edit::Add("Take care when a drawer is at least stiff: \"Ease it out.\"  From: house"),
        words: "stiff",
        text: "\"stiff\" has no degrees, so it cannot be compared with.",
        help: Some(
            "Say whether it is so or not. Degrees are declared like this: \"You can see how badly a veneer is lifted: slightly, noticeably or badly.\"",
        ),
    },
    Case {
        name: "more than the highest degree",
        number: 223,
        level: Level::Stop,
        edit: with!("Take care when a top is more than badly lifted: \"Hold it.\"  From: house"),
        words: "badly lifted",
        text: "It is never so: there is no degree beyond. How badly a top is lifted is judged as slightly, noticeably or badly, or not so at all.",
        help: Some("Name a degree that leaves something on both sides."),
    },
    Case {
        name: "at most the highest degree",
        number: 223,
        level: Level::Stop,
        edit: with!("Take care when a top is at most badly lifted: \"Hold it.\"  From: house"),
        words: "badly lifted",
        text: "It is always so: there is no degree beyond. How badly a top is lifted is judged as slightly, noticeably or badly, or not so at all.",
        help: Some("Name a degree that leaves something on both sides."),
    },
    Case {
        name: "a judgement with a quantity",
        number: 224,
        level: Level::Stop,
        edit: with!("Take care when a top is lifted more than 2 mm: \"Hold it.\"  From: house"),
        words: "is lifted more than 2 mm",
        text: "How badly a top is lifted is judged by eye and not measured.",
        help: Some("Name a degree: slightly, noticeably or badly."),
    },
    Case {
        name: "a ladder of a judgement",
        number: 224,
        level: Level::Stop,
        edit: with!(
            "Depending on how badly a top is lifted:\n    up to 2 mm: nothing\n    more: plan to fit a new runner\n    From: house"
        ),
        words: "2 mm",
        text: "How badly a top is lifted is judged by eye and not measured.",
        help: Some("Name a degree: slightly, noticeably or badly."),
    },
    Case {
        name: "a result beyond a degree",
        number: 226,
        level: Level::Stop,
        edit: with!(
            "If a piece is kept near heating then its top is often at least slightly lifted.  From: house"
        ),
        words: "is often at least slightly lifted",
        text: "A result names the degree itself: a reason brings it at least so far, and another may bring it further.",
        help: Some("Write \"is often slightly lifted\"."),
    },
    Case {
        name: "a meaning of one degree",
        number: 227,
        level: Level::Stop,
        edit: with!(
            "A top may be unglued without showing it.\nIf a top is slightly lifted, that usually means it is unglued.  From: house"
        ),
        words: "a top is slightly lifted",
        text: "What a sign means is said of the sign as a whole or of its highest degree, which nothing can go beyond.",
        help: Some("Write \"If a top is lifted, that …\" or \"If a top is badly lifted, that …\"."),
    },
    Case {
        name: "the chance of just one degree",
        number: 228,
        level: Level::Stop,
        edit: with!(
            "Example: a top.\n    Given a drop-leaf table\n    Expect the top is rarely slightly lifted"
        ),
        words: "slightly lifted",
        text: "A chance is told of its being so at least, not of just this degree.",
        help: Some("Write \"is at least slightly lifted\"."),
    },
    Case {
        name: "one degree",
        number: 229,
        level: Level::Stop,
        edit: Edit::Add("You can see how badly a top is lifted: slightly."),
        words: "slightly",
        text: "One degree is no more than a yes or no.",
        help: Some(
            "Name two degrees or more, as in \"slightly or badly\". Or write \"whether … is lifted\".",
        ),
    },
    Case {
        name: "how sure of a degree",
        number: 230,
        level: Level::Stop,
        edit: with!("Take care when a top is probably badly lifted: \"Hold it.\"  From: house"),
        words: "probably",
        text: "\"probably\" does not belong before a degree: it can be looked at.",
        help: Some("Take it out."),
    },
    Case {
        name: "either degree",
        number: 231,
        level: Level::Stop,
        edit: with!(
            "Take care when a top is either slightly lifted or badly lifted: \"Hold it.\"  From: house"
        ),
        words: "is either slightly lifted or badly lifted",
        text: "Degrees stand in order, so there is no \"either\" between them.",
        help: Some(
            "Write \"at least …\" or \"at most …\" before a degree, or a sentence for each.",
        ),
    },
];
