//! Work and dates that hang on something, as a user sees them: in the plan, in the quotation,
//! in the dates and on the page for the owner.

use crate::user::User;

const RULES: &str = "\
House rules for the bench of doubts, version 1.
You can ask whether a piece is going to a museum.  Ask: \"Going to a museum?\"
You can see whether a chest of drawers is crooked. Ask: \"Crooked?\"
You can see whether a chest of drawers is grubby.  Ask: \"Grubby?\"
You can see whether a drawer shows mixed handles.  Ask: \"Handles unlike?\"
When a chest of drawers is crooked then plan to true the case.  Takes: 2 hours  From: house
When a piece is going to a museum, instead of true the case plan to prop the case.
    Takes: 1 hour  From: house
When a chest of drawers is grubby then plan to rinse the case.  Takes: 1 hour  From: house
When a piece is going to a museum, never plan to rinse the case and prop the case together.
    From: house
A drawer that shows mixed handles has a later handle.  From: house
";

fn user(record: &str) -> User {
    let header = "job folder: 1\npiece: chest of drawers with 2 drawers\n";
    let user = User::with_chest(header, record);
    user.make("rules");
    user.write("rules/house.rules.txt", RULES);
    user
}

/// The lines of what a command says that hold one of these words.
fn lines(said: &str, words: &[&str]) -> Vec<String> {
    let lines = said
        .lines()
        .filter(|line| words.iter().any(|word| line.contains(word)));
    lines.map(|line| line.trim().to_owned()).collect()
}

const CROOKED: &str = "2026-03-02 09:10  the chest of drawers is crooked\n\
                       2026-03-02 09:11  the chest of drawers is grubby\n";

#[test]
fn the_plan_quotes_what_it_hangs_on() {
    let user = user(CROOKED);
    let plan = user
        .run(&["plan", "chest", "--rules", "rules", "--all"])
        .out;
    assert_eq!(
        lines(&plan, &["true the case", "prop the case"]),
        [
            "16. perhaps prop the case (1 h)",
            "or else “true the case”, which is not known yet: “When a piece is going to a museum, \
             instead of true the case plan to prop the case” (line 7 of house.rules.txt)",
            "18. perhaps true the case (2 h)",
            "or “prop the case” instead, which is not known yet: “When a piece is going to a \
             museum, instead of true the case plan to prop the case” (line 7 of house.rules.txt)",
            "Perhaps not both: the rules never plan to rinse the case and to prop the case \
             together. Find out first.",
            "“When a piece is going to a museum, never plan to rinse the case and prop the case \
             together” (line 10 of house.rules.txt)",
        ]
    );
    let quote = user.run(&["quote", "chest", "--rules", "rules"]).out;
    let until = lines(&quote, &["Until somebody looks"]);
    assert!(
        until[0].contains("\"prop the case\" instead of \"true the case\""),
        "{until:?}"
    );
    user.add("2026-03-02 09:12  the chest of drawers is going to a museum");
    let plan = user
        .run(&["plan", "chest", "--rules", "rules", "--all"])
        .out;
    assert_eq!(
        lines(&plan, &["true the case", "prop the case"])[..2],
        [
            "16. prop the case (1 h)",
            "instead of “true the case” (line 7 of house.rules.txt)",
        ]
    );
    assert_eq!(lines(&plan, &["Not both"]).len(), 1);
    let why = [
        "plan",
        "chest",
        "--why",
        "prop the case",
        "--rules",
        "rules",
    ];
    let why = user.run(&why).out;
    assert!(
        why.contains("stands in the place of “true the case”"),
        "{why}"
    );
    let json = user
        .run(&["plan", "chest", "--json", "--rules", "rules"])
        .json();
    let steps = json["steps"].as_array().expect("a list");
    let prop = steps.iter().find(|step| step["job"] == "prop the case");
    let instead = &prop.expect("planned")["instead"][0];
    assert_eq!(
        (&instead["other"], &instead["line"]),
        (&"true the case".into(), &7.into())
    );
    assert_eq!(json["not_both_where"][0]["known"], true);
}

#[test]
fn the_dates_say_what_they_rest_on() {
    let user = user("2026-03-02 09:10  drawer 1 shows mixed handles\n");
    let said = user.run(&["date", "chest", "--rules", "rules"]).out;
    let beside = said.split("Dated beside").nth(1).expect("a heading");
    let beside: Vec<&str> = beside.lines().skip(1).map(str::trim).collect();
    let beside: Vec<&str> = beside
        .into_iter()
        .take_while(|line| !line.is_empty())
        .collect();
    assert_eq!(
        beside,
        [
            "handle 1 of drawer 1: possibly original (42 in 100; without it 69 in 100)",
            "handle 2 of drawer 1: possibly original (42 in 100; without it 69 in 100)",
            "line 1: drawer 1 shows mixed handles",
            "“A drawer that shows mixed handles has a later handle” (line 12 of house.rules.txt)",
        ]
    );
}

#[test]
fn the_page_for_the_owner_says_it_too() {
    let user = user(&format!(
        "{CROOKED}2026-03-02 09:12  drawer 1 shows mixed handles\n"
    ));
    let made = user
        .run(&["report", "chest", "--rules", "rules", "--json"])
        .out;
    for words in [
        "This or “prop the case”: which of the two is not known yet",
        "Handle 1 of drawer 1: possibly original (42 in 100)",
        "one at least of its handles is later than it",
        "together when it is going to a museum, which is not known yet of the chest of drawers",
    ] {
        assert!(made.contains(words), "{words}");
    }
}
