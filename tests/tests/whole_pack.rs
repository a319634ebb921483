//! What can only be said once a whole set of rules has been read: circles,
//! faults that nothing reveals, sentences that say the same, and so on. Each
//! case is a good set of rules with one thing wrong, and one message.

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_language::{SourceFile, read, text_of};

/// A small set of rules with nothing to say about it.
const GOOD: &str = "\
House rules for a stool, version 1.
Pieces: stool.
Parts: seat, leg.
A stool has a seat and 3 to 4 legs (usually 4).
Source house: our own notes.
Unless we say otherwise, a fault is there on its own: rarely.
Unless we say otherwise, a sign is there on its own: hardly ever.
You can feel whether a leg is loose.  Ask: \"Leg loose?\"  Takes: 1 minute
You can see whether a leg is split.  Ask: \"Leg split?\"  Takes: 1 minute
A leg may be cracked inside without showing it.  Missed: 2 hours, risk 4
If a leg is cracked inside then it is often split.  From: house
If a leg is split then it is often loose.  From: house
Job: brush it down.  Takes: 5 minutes
When a leg is split then plan to glue the leg.  Takes: 1 hour  First: brush it down  From: house
To look over a stool:
    1. see whether each leg is split
    2. feel whether each leg is loose
";

fn checked(text: &str) -> Checked {
    let files = vec![SourceFile {
        name: "stool.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    }];
    check(read(files), Depth::Full)
}

/// The one message about these rules: number, the words it is about, what it
/// says.
fn only(text: &str) -> (u16, String, String) {
    let checked = checked(text);
    let said: Vec<_> = checked.reading.messages.iter().collect();
    let texts: Vec<&String> = said.iter().map(|m| &m.text).collect();
    assert_eq!(said.len(), 1, "{texts:?}");
    let at = text_of(&checked.reading.files, said[0].at);
    (said[0].number(), at, said[0].text.clone())
}

fn with(more: &str) -> String {
    format!("{GOOD}{more}\n")
}

#[test]
fn good_rules_have_nothing_to_say() {
    let checked = checked(GOOD);
    let texts: Vec<&String> = checked.reading.messages.iter().map(|m| &m.text).collect();
    assert_eq!(texts, Vec::<&String>::new());
    assert!(checked.is_sound());
}

#[test]
fn a_circle_of_causes_is_refused_by_name() {
    let rules = with("If a leg is loose then it is sometimes cracked inside.  From: house");
    let (number, _, said) = only(&rules);
    assert_eq!(number, 44);
    for name in [
        "cracked inside",
        "split",
        "loose",
        "line 11",
        "line 12",
        "line 18",
    ] {
        assert!(said.contains(name), "{said}");
    }
}

#[test]
fn a_circle_through_that_means_is_seen_too() {
    let rules = with(
        "If a leg is loose, that usually means it is cracked inside.  From: house\n\
                      If a leg is loose then its stool is often wobbling.  From: house\n\
                      You can feel whether a stool is wobbling.  Ask: \"Wobbles?\"\n\
                      If a stool is wobbling then its legs are often cracked inside.  From: house",
    );
    let checked = checked(&rules);
    let numbers: Vec<u16> = checked
        .reading
        .messages
        .iter()
        .map(|m| m.number())
        .collect();
    assert_eq!(numbers, [44]);
    assert!(checked.built.is_none());
}

#[test]
fn a_circle_of_jobs_is_refused_by_name() {
    let rules =
        with("Always glue the leg before you brush it down, because dust sticks.  From: house");
    let (number, _, said) = only(&rules);
    assert_eq!(number, 59);
    assert!(said.contains("\"brush it down\""), "{said}");
    assert!(said.contains(", which waits for "), "{said}");
}

#[test]
fn the_same_rule_twice_is_told_with_what_it_comes_to() {
    let rules = with("If a leg is split then it is sometimes loose.  From: house");
    let (number, _, said) = only(&rules);
    assert_eq!(number, 45);
    // 1 − 0.4 × 0.7 = 0.72
    assert!(said.contains("72 in 100"), "{said}");
}

#[test]
fn a_fault_that_nothing_reveals_is_refused() {
    let rules = with("A seat may be hollow without showing it.  Missed: 1 hour, risk 1");
    let (number, at, said) = only(&rules);
    assert_eq!(number, 48);
    assert!(at.contains("hollow"), "{at}");
    assert!(said.contains("a seat is hollow"), "{said}");
}

#[test]
fn a_sign_that_no_round_asks_for_is_told() {
    let rules = with("You can see whether a seat is scratched.  Ask: \"Scratched?\"");
    let (number, at, said) = only(&rules);
    assert_eq!(number, 49);
    assert!(at.contains("scratched"), "{at}");
    assert!(said.contains("whether a seat is scratched"), "{said}");
}

#[test]
fn a_step_that_waits_for_a_later_one_is_refused() {
    let rules = GOOD.replace(
        "    1. see whether each leg is split\n    2. feel whether each leg is loose\n",
        "    1. see whether each leg is split, only if any leg is loose\n    2. feel whether each leg is loose\n",
    );
    let (number, at, said) = only(&rules);
    assert_eq!(number, 51);
    assert!(at.contains("only if"), "{at}");
    assert!(said.contains("Step 1") && said.contains("step 2"), "{said}");
}

#[test]
fn a_job_that_is_never_planned_is_told() {
    let rules = with("Job: wax the seat.  Takes: 10 minutes");
    let (number, _, said) = only(&rules);
    assert_eq!((number, said.contains("wax the seat")), (62, true));
}

#[test]
fn dates_that_leave_no_year_are_refused() {
    let rules = with(
        "You can see which foot a leg has: pad or claw.  Ask: \"Which foot?\"\n\
                      A claw leg is not earlier than 1846.  From: house\n\
                      A claw leg is not later than 1790.  From: house",
    )
    .replace(
        "    2. feel whether each leg is loose\n",
        "    2. feel whether each leg is loose\n    3. see which foot each leg has\n",
    );
    let (number, _, said) = only(&rules);
    assert_eq!(number, 63);
    assert!(said.contains("1846") && said.contains("1790"), "{said}");
}

#[test]
fn a_source_that_nothing_is_taken_from_is_noted() {
    let rules = with("Source the old book: a book we no longer have.");
    let (number, _, said) = only(&rules);
    assert_eq!((number, said.contains("old book")), (67, true));
}

/// A fault that is there on its own in 3 of 100 cases cannot come to 19 in 20 by
/// one ordinary look, which is wrong in 1 of 100.
#[test]
fn a_figure_that_cannot_be_reached_is_refused_with_the_most_it_can_be() {
    let rules = with(
        "A leg may be eaten without showing it.  On its own: hardly ever  Missed: 1 hour, risk 2\n\
                      You can see whether a leg shows holes.  Ask: \"Holes?\"\n\
                      If a leg shows holes, that nearly always means it is eaten.  From: house",
    )
    .replace(
        "    2. feel whether each leg is loose\n",
        "    2. feel whether each leg is loose\n    3. see whether each leg shows holes\n",
    );
    let (number, at, said) = only(&rules);
    assert_eq!(number, 129);
    assert!(at.contains("nearly always means"), "{at}");
    // 0.03 × 0.9901 / (0.03 × 0.9901 + 0.97 × 0.0105) ≈ 0.745
    assert!(
        said.contains("75 in 100") || said.contains("74 in 100"),
        "{said}"
    );
    assert!(said.contains("3 in 100 before anything is known"), "{said}");
}

#[test]
fn an_expectation_that_is_not_met_says_what_was_worked_out() {
    let rules = with(
        "Example: a split leg.\n    Given a stool with 4 legs\n    Given leg 2 is split\n    Expect leg 2 is rarely cracked inside",
    );
    let (number, at, said) = only(&rules);
    assert_eq!(number, 74);
    assert!(at.contains("rarely cracked inside"), "{at}");
    assert!(said.contains("worked out"), "{said}");
}

#[test]
fn several_signs_that_cannot_mean_so_much_or_so_little() {
    let more = |figure: &str| {
        with(&format!(
            "You can see whether a leg is bent.  Ask: \"Leg bent?\"  On its own: often\n\
             You can see whether a leg is grey.  Ask: \"Leg grey?\"  On its own: often\n\
             If a leg is bent and it is grey, that {figure} means it is cracked inside.  From: house\n"
        ))
        .replace("each leg is loose\n", "each leg is loose\n    3. see whether each leg is bent\n    4. see whether each leg is grey\n")
    };
    let (number, at, text) = only(&more("nearly always"));
    assert_eq!(number, 240);
    assert!(at.starts_with("If a leg is bent and it is grey"), "{at}");
    assert!(
        text.contains("come to 23 in 100, not nearly always"),
        "{text}"
    );
    let (number, _, text) = only(&more("in 2 of 100 cases"));
    assert_eq!(number, 240);
    assert!(text.contains("come to 10 in 100"), "{text}");
    let checked = checked(&more("in 2 of 10 cases"));
    assert!(checked.is_sound() && checked.reading.messages.is_empty());
}

/// Two loose legs of four come to less than nothing known, where the other two are firm.
#[test]
fn just_so_many_that_tell_against_it() {
    let rules = with(
        "You can see whether a leg is bent.  Ask: \"Leg bent?\"  On its own: in 14 of 100 cases\n\
         A stool may be overloaded without showing it.\n\
         If at least two legs of a stool are bent, that in 51 of 100 cases means it is overloaded.  From: house\n",
    )
    .replace("each leg is loose\n", "each leg is loose\n    3. see whether each leg is bent\n");
    let (number, _, text) = only(&rules);
    assert_eq!(number, 242, "{text}");
    assert!(text.starts_with("With just 2 of all 4 seen"), "{text}");
}
