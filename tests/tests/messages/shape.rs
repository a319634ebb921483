//! Messages 11 to 26: the shape of the sentence.

use tellmark_language::Level;

use super::{Case, Edit};

pub const CASES: &[Case] = &[
    Case {
        name: "then is missing",
        number: 11,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "If a runner is infested then it usually shows",
            "If a runner is infested it usually shows",
        )]),
        words: "it",
        text: "This begins with \"If\", so I looked for \"then\".",
        help: Some(
            "I think it goes here: \"If a runner is infested then it usually shows fresh dust\".",
        ),
    },
    Case {
        name: "then for than",
        number: 12,
        level: Level::Stop,
        edit: Edit::Add(
            "When a runner is worn more then 3 mm then plan to fit a new runner.  From: house",
        ),
        words: "more then",
        text: "\"more than 3 mm\" compares; \"then\" starts the result.",
        help: Some("Change \"then\" to \"than\"?"),
    },
    Case {
        name: "and with or",
        number: 13,
        level: Level::Stop,
        edit: Edit::Add(
            "If a drawer is stiff and any of its runners is worn more than 2 mm or it is freshly waxed then its bottom is often held fast.  From: house",
        ),
        words: "or",
        text: "This mixes \"and\" with \"or\", and people read that in two ways.",
        help: Some(
            "Make it a list: \"If all of these are true of a drawer:\" with a \"- …\" line for each.",
        ),
    },
    Case {
        name: "a line not moved in",
        number: 14,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "    then the drawer is often stiff\n",
            "then the drawer is often stiff\n",
        )]),
        words: "then",
        text: "This line begins with \"then\", so it belongs to the sentence above it.",
        help: Some("Put two or more spaces in front of it."),
    },
    Case {
        name: "two results",
        number: 15,
        level: Level::Stop,
        edit: Edit::Add(
            "If a fall is sagging then its hinges are often under strain and its screws are often loose.  From: house",
        ),
        words: "and its screws are often loose",
        text: "One rule, one result.",
        help: Some(
            "Write a second rule with the same beginning for \"its screws are often loose\".",
        ),
    },
    Case {
        name: "a result with not",
        number: 16,
        level: Level::Stop,
        edit: Edit::Add("If a fall is sagging then its screws are not loose.  From: house"),
        words: "are not loose",
        text: "A rule can only give a reason FOR something.",
        help: Some(
            "Put the exception on the rule that says its screws are loose (line 51): \"unless …\".",
        ),
    },
    Case {
        name: "a strength word misspelt",
        number: 17,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "then its screws are often loose",
            "then its screws are ofen loose",
        )]),
        words: "ofen",
        text: "I do not know \"ofen\" here.",
        help: Some("Did you mean \"often\" (6 in 10)?"),
    },
    Case {
        name: "a strength word the house has not",
        number: 18,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "then its screws are often loose",
            "then its screws are mostly loose",
        )]),
        words: "mostly",
        text: "\"mostly\" is not one of the house words for how often.",
        help: Some(
            "They are: nearly always (19 in 20), usually (8 in 10), often (6 in 10), sometimes (3 in 10). Or write \"in 7 of 10 cases\".",
        ),
    },
    Case {
        name: "how often at the end",
        number: 19,
        level: Level::Stop,
        edit: Edit::Put(&[("then it is often cracked", "then it is cracked often")]),
        words: "often",
        text: "How often comes straight after \"is\", not at the end.",
        help: Some("Put \"often\" straight after \"is\": \"it is often cracked\"."),
    },
    Case {
        name: "rarely as a strength",
        number: 20,
        level: Level::Stop,
        edit: Edit::Add("If a fall is sagging then its screws are rarely loose.  From: house"),
        words: "rarely",
        text: "\"rarely\" here would still count as a small reason FOR \"loose\", though most people read it as a reason against.",
        help: Some(
            "Less likely because of this? Use \"unless\" on line 51. Now and then? Write \"sometimes\" or \"in 1 of 10 cases\".",
        ),
    },
    Case {
        name: "an unknown beginning",
        number: 21,
        level: Level::Stop,
        edit: Edit::Add("Whenever a drawer is stiff then plan to clear the drawer.  From: house"),
        words: "Whenever",
        text: "I do not know a sentence that begins \"Whenever\".",
        help: Some("For a job, begin with \"When\"; for a cause, begin with \"If\"."),
    },
    Case {
        name: "nobody's supports",
        number: 22,
        level: Level::Stop,
        edit: Edit::Add("When there are no supports then plan to make new lopers.  From: house"),
        words: "there are no supports",
        text: "Say whose supports.",
        help: Some("\"When a fall has no supports …\"."),
    },
    Case {
        name: "a label misspelt",
        number: 23,
        level: Level::Stop,
        edit: Edit::Put(&[("Needs: oak strip, hide glue", "Need: oak strip, hide glue")]),
        words: "Need:",
        text: "I do not know the label \"Need:\".",
        help: Some("Did you mean \"Needs:\"?"),
    },
    Case {
        name: "a text never closed",
        number: 24,
        level: Level::Stop,
        edit: Edit::Put(&[("Ask: \"Runner wear?\"", "Ask: \"Runner wear?")]),
        words: "\"Runner wear?",
        text: "This text starts with a quotation mark on line 35 and never ends.",
        help: Some("Put a quotation mark where the text ends."),
    },
    Case {
        name: "two steps with one number",
        number: 25,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "    3. measure how much each runner",
            "    2. measure how much each runner",
        )]),
        words: "2",
        text: "Two steps are number 2.",
        help: Some("Number the steps 1, 2, 3 … from the top."),
    },
    Case {
        name: "two negatives",
        number: 26,
        level: Level::Stop,
        edit: Edit::Add(
            "If no drawer of a chest of drawers is not stiff then it is often kept near heating.  From: house",
        ),
        words: "no drawer of a chest of drawers is not stiff",
        text: "Two \"no\"s in one sentence are easy to misread.",
        help: Some("\"every drawer is stiff\" says the same."),
    },
];
