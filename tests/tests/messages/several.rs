//! Messages 171 to 179: so many of a list, and one of several.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "more lines wanted than there are",
        number: 171,
        level: Level::Stop,
        edit: Edit::Add(
            "If at least 3 of these are true of a drawer:\n    - it is freshly waxed\n    - its bottom is cracked\n    then it is often stiff.  From: house",
        ),
        words: "at least 3",
        text: "There are 2 lines below, so \"at least 3 of these\" does not tell them apart.",
        help: Some("Write a number from 1 to 2."),
    },
    Case {
        name: "no line wanted",
        number: 171,
        level: Level::Stop,
        edit: Edit::Add(
            "If at least 0 of these are true of a drawer:\n    - it is freshly waxed\n    - its bottom is cracked\n    then it is often stiff.  From: house",
        ),
        words: "at least 0",
        text: "There are 2 lines below, so \"at least 0 of these\" does not tell them apart.",
        help: Some("Write a number from 1 to 2."),
    },
    Case {
        name: "too many lines to choose from",
        number: 172,
        level: Level::Stop,
        edit: Edit::Made(|| {
            let line = "    - its bottom is cracked\n".repeat(9);
            format!(
                "If at least two of these are true of a drawer:\n{line}    then it is often stiff.  From: house"
            )
        }),
        words: "at least two",
        text: "There are 9 lines below; of more than 8 I cannot say how many are so.",
        help: Some(
            "Put lines that belong together into one: \"- any of these is true:\" with its own lines further in.",
        ),
    },
    Case {
        name: "a result twice",
        number: 173,
        level: Level::Stop,
        edit: Edit::Add(
            "If a bottom is cracked then its drawer is often stiff or stiff.  From: house",
        ),
        words: "stiff",
        text: "\"stiff\" stands here twice.",
        help: Some("Take one of them out."),
    },
    Case {
        name: "too many that exclude one another",
        number: 174,
        level: Level::Stop,
        edit: Edit::Made(|| {
            let faults = ["ashen", "bleak", "crazed", "dingy", "eaten"];
            let declared = faults.map(|fault| format!("A bottom may be {fault} without showing it.\nIf a bottom is {fault} then it is often cracked.  From: house\n"));
            format!(
                "{}A bottom is at most one of ashen, bleak, crazed, dingy or eaten.  From: house",
                declared.concat()
            )
        }),
        words: "eaten",
        text: "I can tell at most 4 of these apart.",
        help: Some("Write a sentence of its own for those that matter least, or leave them out."),
    },
    Case {
        name: "one alone",
        number: 175,
        level: Level::Stop,
        edit: Edit::Add("A bottom is at most one of held fast.  From: house"),
        words: "held fast",
        text: "\"held fast\" alone excludes nothing.",
        help: Some(
            "Name two or more: \"A bottom is at most one of cracked, held fast or shrunk.\"",
        ),
    },
    Case {
        name: "a mark among those that exclude one another",
        number: 176,
        level: Level::Stop,
        edit: Edit::Add("A bottom is at most one of held fast or cracked.  From: house"),
        words: "cracked",
        text: "\"cracked\" is a value of a choice or a mark on a measure, which the words themselves keep apart from the others.",
        help: Some("Name what is said as a yes or no, or leave this out."),
    },
    Case {
        name: "said of every piece",
        number: 177,
        level: Level::Stop,
        edit: Edit::Add(
            "A drop-leaf table is at most one of kept near heating or kept near heating.  From: house",
        ),
        words: "drop-leaf table",
        text: "\"kept near heating\" is said of a piece, so what excludes it must be said of a piece too.",
        help: None,
    },
    Case {
        name: "a sign that means something",
        number: 179,
        level: Level::Stop,
        edit: Edit::Add(
            "You can hear whether a drawer is creaking.  Ask: \"Creaks?\"\nIf a drawer is creaking, that often means its bottom is held fast.  From: house\nA drawer is at most one of stiff or creaking.  From: house",
        ),
        words: "A drawer is at most one of stiff or creaking. From: house",
        text: "Another sentence (line 121) says what \"creaking\" means; what keeps it away would break that.",
        help: Some(
            "Leave \"creaking\" out of this sentence, or write the other one as \"If <fault> then it is usually creaking.\"",
        ),
    },
    Case {
        name: "in two such sentences",
        number: 178,
        level: Level::Stop,
        edit: Edit::Add(
            "A bottom may be eaten without showing it.\nA bottom may be soft without showing it.\nIf a bottom is eaten or it is soft then it is often cracked.  From: house\nA bottom is at most one of held fast or eaten.  From: house\nA bottom is at most one of held fast or soft.  From: house",
        ),
        words: "A bottom is at most one of held fast or soft. From: house",
        text: "There is already a sentence of what excludes \"held fast\" (line 123).",
        help: Some("Put all that exclude one another into one sentence."),
    },
    Case {
        name: "a sign of parts that means something of another part",
        number: 180,
        level: Level::Stop,
        edit: Edit::Add(
            "You can see whether a screw is rusty.  Ask: \"Rusty?\"\nIf at least two screws of a hinge are rusty, that often means its fall is sagging.  From: house",
        ),
        words: "its fall is sagging",
        text: "A sign of several parts can mean something of a hinge only, of which they are parts.",
        help: Some("Say what it means of a hinge itself: \"…, that usually means it is …\"."),
    },
    Case {
        name: "a measure taken for its smallest reading",
        number: 241,
        level: Level::Look,
        edit: Edit::Add(
            "If a runner is worn less than 5 mm then its drawer is often freshly waxed.  From: house",
        ),
        words: "a runner is worn less than 5 mm",
        text: "Nobody says how often this is more than 0 mm. So before anybody finds out how much a runner is worn, it is taken to be 0 mm in 97 of 100 cases, and this holds.",
        help: Some(
            "Say under the sentence that declares it how often it is more, as in \"On its own: nearly always\".",
        ),
    },
    Case {
        name: "a hidden fault said of the wrong part",
        number: 7,
        level: Level::Stop,
        edit: Edit::Add("If a drawer is stiff, that often means it is held fast.  From: house"),
        words: "held fast",
        text: "\"held fast\" is a thing we say of a bottom, not of a drawer.",
        help: Some(
            "Say \"the bottom …\", or declare it: \"A drawer may be held fast without showing it.\"",
        ),
    },
    Case {
        name: "a choice among several signs",
        number: 194,
        level: Level::Stop,
        edit: Edit::Add(
            "If a screw is loose and it is blunt, that usually means its hinge is under strain.  From: house",
        ),
        words: "it is blunt",
        text: "Of several signs that mean something together each is a plain yes or no of the part itself, and this is one of several values.",
        help: Some("Leave it out here. What it means by itself goes into a sentence of its own."),
    },
];
