//! Work that hangs on something: one job in the place of another, ladders and exclusions
//! that go where something is so. What random ones come to is compared with every
//! possibility in `judging.rs` (plans) and `hours.rs` (bench hours).

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::plans::MOST_BEHIND;
use tellmark_compile::room::Room;
use tellmark_job::advice::{Progress, WorkPlan, plan};
use tellmark_job::hours::{Hours, Work};
use tellmark_language::{Level, SourceFile, read, text_of, words};
use tellmark_tests::said::{house, with_found};

const CHAIRS: &str = "\
House rules for chairs, version 1.
Pieces: chair, stool.
Parts: seat, rail, top.
A chair has a seat and 2 rails.
A stool has a seat and a top.
Unless we say otherwise, a sign is there on its own: hardly ever.
You can ask whether a piece is going to a museum.
You can see whether a chair is gilded.
You can see whether a seat is sagging.
You can see whether a rail is oak.
You can measure how wide a rail is split, in mm, from 0 to 12.
You can see whether a top is veneered.
You can see whether a top is stained.
You can see whether a top is scratched.
When a seat is sagging then plan to renew the webbing.  Takes: 3 hours  From: house
When a piece is going to a museum, instead of renew the webbing plan to support the webbing.
    Takes: 1 hour  From: house  Called: museum webbing
When a rail is oak, depending on how wide it is split:
    up to 1 mm: nothing
    up to 4 mm: plan to fill the split
    more: plan to reglue the rail
    From: house
Job: fill the split.  Takes: 1 hour
Job: reglue the rail.  Takes: 2 hours
When a top is stained then plan to bleach the top.  Takes: 1 hour  From: house
When a top is scratched then plan to steam the top.  Takes: 1 hour  From: house
When a top is veneered, never plan to bleach the top and steam the top together.  From: house
";

fn planned(rules: &Checked, piece: &str, found: &[&str]) -> WorkPlan {
    with_found(rules, piece, found, |set_up, _| {
        let pack = set_up.built.bytes.open().expect("a fresh pack opens");
        plan(set_up, pack, &Progress::default()).expect("a small piece")
    })
}

/// The jobs but those of rails, those that are not certain with "perhaps".
fn jobs(rules: &Checked, piece: &str, found: &[&str]) -> Vec<String> {
    let mut jobs = all_jobs(rules, piece, found);
    jobs.retain(|job| !job.ends_with("split") && !job.ends_with("rail"));
    jobs
}

/// The jobs, those that are not certain with "perhaps".
fn all_jobs(rules: &Checked, piece: &str, found: &[&str]) -> Vec<String> {
    let plan = planned(rules, piece, found);
    let name = |job: usize| rules.reading.model.jobs[job].name.clone();
    let steps = plan.steps.iter().map(|step| match step.certain.len() {
        0 => format!("perhaps {}", name(step.job)),
        _ => name(step.job),
    });
    steps.collect()
}

fn hours(rules: &Checked, piece: &str, found: &[&str]) -> (Hours, Work) {
    use tellmark_core::plan::Status;
    with_found(rules, piece, found, |set_up, _| {
        let pack = set_up.built.bytes.open().expect("a fresh pack opens");
        let mut room = Room::<f64>::default();
        let mut case = set_up.case(pack, &mut room).expect("a small piece");
        let work = Work::of(set_up, pack, &mut case, &|_, _| Status::ToDo, &[]).expect("small");
        (work.hours().expect("hours"), work)
    })
}

#[test]
fn one_job_stands_in_the_place_of_another_and_not_known_is_neither() {
    let rules = house(CHAIRS);
    let sags = "the seat is sagging";
    let of = |found: &[&str]| jobs(&rules, "chair", found);
    assert_eq!(
        of(&[sags, "the chair is not going to a museum"]),
        ["renew the webbing"]
    );
    assert_eq!(
        of(&[sags, "the chair is going to a museum"]),
        ["support the webbing"]
    );
    let both = ["perhaps renew the webbing", "perhaps support the webbing"];
    assert_eq!(of(&[sags]), both);
    assert_eq!(of(&["the seat is not sagging"]), Vec::<String>::new());
}

#[test]
fn the_plan_says_what_it_hangs_on() {
    let rules = house(CHAIRS);
    let oak = "rail 1 is not oak; rail 2 is not oak";
    let plan = planned(&rules, "chair", &["the seat is sagging", oak]);
    let [renew, support] = &plan.steps[..] else {
        panic!("{:?}", plan.steps);
    };
    for (step, other, stands_in) in [(renew, support, false), (support, renew, true)] {
        let [turned] = &step.turns[..] else {
            panic!("{:?}", step.turns);
        };
        assert_eq!((turned.other, turned.stands_in), (other.job, stands_in));
        assert!(!turned.is_known);
        assert_eq!(turned.parts, ["the seat"]);
    }
    let museum = ["the seat is sagging", oak, "the chair is going to a museum"];
    let plan = planned(&rules, "chair", &museum);
    assert!(plan.steps[0].turns[0].is_known);
    let sentence = &rules.reading.model.stand_ins[plan.steps[0].turns[0].stand_in];
    assert_eq!(
        text_of(&rules.reading.files, sentence.said_at),
        "When a piece is going to a museum, instead of renew the webbing plan to support the webbing."
    );
    // Where nothing is replaced there is nothing to say.
    let home = [
        "the seat is sagging",
        oak,
        "the chair is not going to a museum",
    ];
    assert!(planned(&rules, "chair", &home).steps[0].turns.is_empty());
}

/// The museum has no chance, since no rule has to do with it. One of the two jobs is done
/// for certain; the longer is counted, and neither is certain.
#[test]
fn as_long_as_nobody_looked_the_longer_job_is_counted() {
    let rules = house(CHAIRS);
    let (hours, work) = hours(&rules, "chair", &["the seat is sagging"]);
    assert!((hours.mean - 3.0).abs() < 1e-9, "{}", hours.mean);
    assert!(work.certain().iter().all(|certain| !certain));
    let name = |task: usize| {
        let job = work.tasks[task].job;
        rules.reading.model.jobs[job.index()].name.as_str()
    };
    for task in 0..work.tasks.len() {
        match name(task) {
            "renew the webbing" => assert_eq!(hours.chances[task], Some(1.0)),
            "support the webbing" => {
                let longer = work.tasks[task].counted_as.expect("a longer one");
                assert_eq!(longer, rules.reading.model.stand_ins[0].replaced);
                assert_eq!(hours.chances[task], None);
            }
            other => assert!(
                other.ends_with("split") || other.ends_with("rail"),
                "{other}"
            ),
        }
    }
    // With a chance of its own, each counts with its own.
    let usual = CHAIRS.replace(
        "whether a piece is going to a museum.",
        "whether a piece is going to a museum.  On its own: in 3 of 10 cases",
    );
    let more = "You can see whether a seat is dusty.\n\
                If a piece is going to a museum then its seats are sometimes dusty.  From: house\n";
    let rules = house(&format!("{usual}{more}"));
    let (hours, _) = self::hours(&rules, "chair", &["the seat is sagging"]);
    assert!(
        (hours.mean - (0.7 * 3.0 + 0.3)).abs() < 1e-9,
        "{}",
        hours.mean
    );
}

#[test]
fn one_behind_the_other_and_two_for_one() {
    let chain = "\
When a chair is gilded, instead of support the webbing plan to leave the seat.
    Takes: 10 minutes  From: house
When a piece is going to a museum, instead of renew the webbing plan to note the webbing.
    Takes: 5 minutes  From: house
";
    let rules = house(&format!("{CHAIRS}{chain}"));
    let museum = ["the seat is sagging", "the piece is going to a museum"];
    let of = |piece: &str, more: &[&str]| {
        let found: Vec<&str> = museum.iter().chain(more).copied().collect();
        jobs(&rules, piece, &found)
    };
    assert_eq!(
        of("chair", &["the chair is gilded"]),
        ["leave the seat", "note the webbing"]
    );
    assert_eq!(
        of("chair", &["the chair is not gilded"]),
        ["note the webbing", "support the webbing"]
    );
    // A stool is not built into a chair: of that nothing is true.
    let top = "the top is not stained; the top is not scratched";
    assert_eq!(
        of("stool", &[top]),
        ["note the webbing", "support the webbing"]
    );
}

/// A plan about any piece, and a sentence about one kind of it.
#[test]
fn a_condition_about_one_kind_of_piece() {
    let of_pieces = "\
When a piece is going to a museum then plan to dust the piece.  Takes: 1 hour  From: house
When a chair is gilded, instead of dust the piece plan to brush the piece.
    Takes: 1 hour  From: house
";
    let rules = house(&format!("{CHAIRS}{of_pieces}"));
    let museum = "the piece is going to a museum";
    assert_eq!(
        jobs(
            &rules,
            "chair",
            &[museum, "the chair is gilded", "the seat is not sagging"]
        ),
        ["brush the piece"]
    );
    let stool = [
        museum,
        "the seat is not sagging; the top is not stained",
        "the top is not scratched",
    ];
    assert_eq!(jobs(&rules, "stool", &stool), ["dust the piece"]);
}

#[test]
fn a_ladder_goes_where_it_is_so() {
    let rules = house(CHAIRS);
    let of = |found: &[&str]| all_jobs(&rules, "chair", found);
    let split = "rail 1 is split 3 mm wide; rail 2 is not oak";
    assert_eq!(of(&[split, "rail 1 is oak"])[..1], ["fill the split"]);
    assert_eq!(of(&[split])[..1], ["perhaps fill the split"]);
    let none = of(&[split, "rail 1 is not oak"]);
    assert!(!none.iter().any(|job| job.contains("split")), "{none:?}");
}

#[test]
fn an_exclusion_goes_where_it_is_so_and_is_told_while_it_is_not_known() {
    let rules = house(CHAIRS);
    let both = "the top is stained; the top is scratched";
    let odds = |found: &[&str]| {
        let plan = planned(&rules, "stool", found);
        let hangs = plan.at_odds.iter().map(|odds| odds.hangs.clone());
        hangs.collect::<Vec<_>>()
    };
    let [Some(hangs)] = &odds(&[both, "the top is veneered"])[..] else {
        panic!("not told");
    };
    assert!(hangs.is_known && hangs.parts == ["the top"]);
    let [Some(hangs)] = &odds(&[both])[..] else {
        panic!("not told");
    };
    assert!(!hangs.is_known);
    assert_eq!(odds(&[both, "the top is not veneered"]), []);
    assert_eq!(
        odds(&["the top is stained; the top is not scratched; the top is veneered"]),
        []
    );
}

/// Of two parts of one kind, only what has to do with the one is at odds.
#[test]
fn an_exclusion_is_about_one_part() {
    let text = "\
House rules for doors, version 1.
Pieces: press.
Parts: door.
A press has 2 doors.
Unless we say otherwise, a sign is there on its own: hardly ever.
You can see whether a door is painted.
You can see whether a door is dirty.
You can see whether a door is dull.
When a door is dirty then plan to wash the door.  Takes: 1 hour  From: house
When a door is dull then plan to oil the door.  Takes: 1 hour  From: house
When a door is painted, never plan to wash the door and oil the door together.  From: house
";
    let rules = house(text);
    let odds = |found: &str| {
        let plan = planned(&rules, "press", &[found]);
        let hangs = plan.at_odds.into_iter().filter_map(|odds| odds.hangs);
        hangs.map(|hangs| hangs.parts).collect::<Vec<_>>()
    };
    let painted = "door 1 is painted; door 2 is not painted; door 1 is dirty; door 2 is dull";
    assert_eq!(
        odds(&format!("{painted}; door 1 is dull; door 2 is not dirty")),
        [["door 1"]]
    );
    let apart = format!("{painted}; door 1 is not dull; door 2 is not dirty");
    assert_eq!(odds(&apart), Vec::<Vec<String>>::new());
}

fn checked(more: &str) -> Checked {
    let file = SourceFile {
        name: "house.rules.txt".to_owned(),
        text: format!("{CHAIRS}{more}"),
        standard: false,
    };
    check(read(vec![file]), Depth::Full)
}

/// The messages about the whole that stop, or are one of these.
fn said(more: &str, wanted: u16) -> (String, String, Option<String>) {
    let checked = checked(more);
    let stops = |m: &&tellmark_language::Message| m.level == Level::Stop || m.number() == wanted;
    let found: Vec<_> = checked.reading.messages.iter().filter(stops).collect();
    let texts: Vec<&String> = found.iter().map(|m| &m.text).collect();
    assert_eq!(found.len(), 1, "{texts:?}");
    assert_eq!(found[0].number(), wanted, "{texts:?}");
    let at = text_of(&checked.reading.files, found[0].at);
    (at, found[0].text.clone(), found[0].help.clone())
}

#[test]
fn a_circle_is_refused_by_name() {
    let (at, text, help) = said(
        "When a chair is gilded, instead of support the webbing plan to renew the webbing.  From: house",
        202,
    );
    assert!(
        at.starts_with("When a piece is going to a museum, instead of"),
        "{at}"
    );
    assert_eq!(
        text,
        "These jobs stand in for each other in a circle, so that nothing would be done: \
         \"renew the webbing\", then \"support the webbing\", then \"renew the webbing\" (line 16 \
         and line 28)."
    );
    assert_eq!(help.as_deref(), Some("Take one of these sentences out."));
}

#[test]
fn what_nothing_plans_cannot_be_replaced() {
    let (at, text, _) = said(
        "Job: oil the chair.  Takes: 1 hour\n\
         When a chair is gilded, instead of oil the chair plan to support the webbing.  From: house",
        203,
    );
    assert_eq!(at, "oil the chair");
    assert_eq!(
        text,
        "No plan and no ladder calls for \"oil the chair\", so nothing could be planned in its place."
    );
}

#[test]
fn it_must_be_about_the_part_or_what_that_is_built_into() {
    let (at, text, help) = said(
        "When a rail is oak, instead of renew the webbing plan to fill the split.  From: house",
        204,
    );
    assert_eq!(at, "renew the webbing");
    assert_eq!(
        text,
        "\"renew the webbing\" is planned for a seat, and this asks about a rail, which that is \
         not and is not built into."
    );
    assert_eq!(
        help.as_deref(),
        Some("Ask about a seat, or about what it is built into.")
    );
    let (_, text, help) = said(
        "When any rail of a chair is oak, instead of renew the webbing plan to fill the split.  \
         From: house",
        205,
    );
    assert_eq!(
        text,
        "\"renew the webbing\" is planned for a seat, and this asks about other parts of a chair \
         that it is built into."
    );
    assert_eq!(
        help.as_deref(),
        Some("Begin with a seat, or ask only about a chair itself.")
    );
}

#[test]
fn what_another_job_needs_first_cannot_be_replaced() {
    let (at, text, help) = said(
        "When a seat is sagging then plan to cover the seat.\n    Takes: 1 hour  First: renew the webbing  \
         From: house",
        206,
    );
    assert_eq!(at, "renew the webbing");
    assert_eq!(
        text,
        "\"renew the webbing\" is done for the sake of \"cover the seat\" (line 28), which names \
         it after \"First:\", wherever that is done. What \"cover the seat\" would need here, this does not say."
    );
    assert_eq!(
        help.as_deref(),
        Some(
            "Take \"renew the webbing\" out of \"First:\" there, and say with \"Always … before you …, \
             because …\" what comes before what, of \"renew the webbing\" and of \"support the \
             webbing\"."
        )
    );
    let (_, text, _) = said(
        "When a seat is sagging then plan to cover the seat.\n    Takes: 1 hour  Then: renew the webbing  \
         From: house",
        206,
    );
    assert!(text.contains("names it after \"Then:\""), "{text}");
}

#[test]
fn its_place_in_the_order_of_work_is_asked_for() {
    let cover = "When a seat is sagging then plan to cover the seat.  Takes: 1 hour  From: house\n\
                 Always renew the webbing before you cover the seat, because it hides it.  From: house\n";
    let (_, text, help) = said(cover, 207);
    assert_eq!(
        text,
        "\"renew the webbing\" has its place in the order of work: Always renew the webbing \
         before you cover the seat (line 29). Nothing says so of \"support the webbing\", which \
         is planned in its place."
    );
    assert_eq!(
        help.as_deref(),
        Some(
            "Add, if it is so: \"Always support the webbing before you cover the seat, because \
             ….\"."
        )
    );
    let also =
        "Always support the webbing before you cover the seat, because it hides it.  From: house";
    let messages = checked(&format!("{cover}{also}")).reading.messages;
    assert!(messages.iter().all(|m| m.number() != 207));
}

#[test]
fn its_place_beside_work_on_other_pieces_is_not_asked_for() {
    let told = |rules: &str| {
        let rules = format!(
            "{rules}Always bleach the top before you renew the webbing, because acid drips.  From: house\n"
        );
        let file = SourceFile {
            name: "house.rules.txt".to_owned(),
            text: rules,
            standard: false,
        };
        let messages = check(read(vec![file]), Depth::Full).reading.messages;
        assert!(messages.iter().all(|m| m.level != Level::Stop));
        messages.iter().any(|m| m.number() == 207)
    };
    assert!(told(CHAIRS), "a stool has a seat and a top");
    let of_chairs = CHAIRS.replace(
        "When a piece is going to a museum",
        "When a chair is gilded",
    );
    assert!(!told(&of_chairs), "no chair has a top");
    let rail =
        "Always reglue the rail before you renew the webbing, because it rocks.  From: house\n";
    assert!(told(&format!("{of_chairs}{rail}")), "a chair has rails");
    let both = "When a chair is gilded, instead of reglue the rail plan to support the webbing.  From: house\n";
    assert!(
        !told(&format!("{of_chairs}{rail}{both}")),
        "one job stands in for both"
    );
}

#[test]
fn it_is_said_back_and_has_a_name() {
    let rules = house(CHAIRS);
    let said = words::read_back(&rules.reading.model);
    let of = |words: &str| {
        let mut found = said.iter().filter(|entry| entry.text.contains(words));
        found.next().expect(words)
    };
    let stand_in = of("in its place");
    assert_eq!(
        stand_in.text,
        "For each piece: when it is going to a museum, wherever you would plan to renew the webbing, \
         plan to support the webbing in its place: 1 h. [house]"
    );
    assert_eq!(stand_in.called.as_deref(), Some("museum webbing"));
    assert_eq!(
        of("by how wide").text,
        "For each rail, when it is oak, by how wide it is split: up to 1 mm (about 3/64 in) plan \
         nothing; up to 4 mm (about 5/32 in) plan to fill the split; more than that plan to reglue \
         the rail. [house]"
    );
    assert_eq!(
        of("never plan").text,
        "For each top: when it is veneered, never plan to bleach the top and steam the top \
         together. [house]"
    );
    let kept = "Leave out museum webbing, because we have no museums.\n";
    let rules = house(&format!("{CHAIRS}{kept}"));
    assert!(rules.reading.model.stand_ins.is_empty());
    let other = "Instead of museum webbing, when a piece is going to a museum, instead of renew the \
                 webbing plan to note it.  Takes: 1 hour  From: house\n";
    let rules = house(&format!("{CHAIRS}{other}"));
    assert_eq!(rules.reading.model.stand_ins.len(), 1);
    assert_eq!(
        jobs(
            &rules,
            "chair",
            &["the seat is sagging", "the piece is going to a museum"]
        ),
        ["note it"]
    );
}

/// One plan, and sentences that stand behind one another in many ways.
#[test]
fn too_many_ways_are_refused_before_they_are_listed() {
    let mut text = CHAIRS.to_owned();
    for n in 0..40 {
        let of = if n == 0 {
            "bleach the top".to_owned()
        } else {
            format!("job {n}")
        };
        let next = n + 1;
        for sign in ["stained", "scratched"] {
            text.push_str(&format!(
                "When a top is {sign}, instead of {of} plan to job {next}.  From: house\n"
            ));
        }
        text.push_str(&format!("Job: job {next}.  Takes: 1 hour\n"));
    }
    let started = std::time::Instant::now();
    let rules = house(&text);
    assert!(rules.built.is_none());
    let numbers: Vec<u16> = rules.reading.messages.iter().map(|m| m.number()).collect();
    assert_eq!(numbers, [150]);
    assert!(started.elapsed().as_secs() < 5);
}

/// A long row of sentences, each in the place of the one before.
#[test]
fn a_long_row_is_refused_and_one_that_is_not_too_long_is_built() {
    let row = |sentences: usize| {
        let mut text = CHAIRS.to_owned();
        for n in 0..sentences {
            let of = if n == 0 {
                "bleach the top".to_owned()
            } else {
                format!("job {n}")
            };
            let next = n + 1;
            text.push_str(&format!(
                "When a top is stained, instead of {of} plan to job {next}.  Takes: 1 hour  From: house\n"
            ));
        }
        house(&text)
    };
    let fits = row(MOST_BEHIND);
    assert!(fits.built.is_some());
    assert_eq!(
        jobs(
            &fits,
            "stool",
            &["the top is stained; the top is not scratched; the seat is not sagging"]
        ),
        [format!("job {MOST_BEHIND}")]
    );
    for more in [1, 5_000] {
        let too_long = row(MOST_BEHIND + more);
        let texts: Vec<&str> = too_long
            .reading
            .messages
            .iter()
            .map(|m| m.text.as_str())
            .collect();
        assert_eq!(
            texts,
            [
                "There is no room for this: more than 32 sentences with \"instead of\" one behind the \
              other; the most is 32."
            ]
        );
    }
}

const ROUND: &str = "\
House rules for presses, version 1.
Pieces: press.
Parts: shelf (plural shelves), peg, back.
A press has 0 to 3 shelves (usually 2) and a back.
A shelf has 2 pegs.
Unless we say otherwise, a sign is there on its own: hardly ever.
You can see whether a shelf is loose.
You can see which wood a shelf has: oak, pine or ash.
You can see whether a peg is loose.
You can measure how thick a back is, in mm, from 2 to 20.
You can see whether a back is bowed.
You can ask whether a press is old.
To look over a press:
    1. see whether each shelf is loose
    2. see which wood each shelf has
    3. see whether each peg is loose
    4. measure how thick the back is
    5. see whether the back is bowed, only once it is known WHAT
";

/// Whether the last step is asked for once this is found.
fn is_asked(what: &str, found: &[&str]) -> bool {
    use tellmark_core::round::Round;
    let rules = house(&ROUND.replace("WHAT", what));
    with_found(&rules, "press with 2 shelves", found, |set_up, _| {
        let pack = set_up.built.bytes.open().expect("a fresh pack opens");
        let mut room = Room::<f64>::default();
        let mut case = set_up.case(pack, &mut room).expect("a small piece");
        let piece = case.inspection.piece();
        let round = Round::of(&pack, piece);
        let wanted = round.wanted(&mut case.inspection);
        let mut asks = 0;
        let last = pack.step(4).ask;
        round.walk(&pack, case.inspection.piece(), &wanted, |visit| {
            asks += usize::from(visit.ask == last);
            true
        });
        asks == 1
    })
}

#[test]
fn a_step_waits_until_something_is_known() {
    let each = "whether each shelf is loose";
    assert!(!is_asked(each, &[]));
    assert!(!is_asked(each, &["shelf 1 is loose"]));
    assert!(is_asked(each, &["shelf 1 is loose; shelf 2 is not loose"]));
    // What was only looked at from afar, or cannot be seen, is not known.
    assert!(!is_asked(each, &["shelf 1 is loose; shelf 2 looks loose"]));
    assert!(!is_asked(
        each,
        &["shelf 1 is loose; cannot see whether shelf 2 is loose"]
    ));
    let any = "whether any shelf is loose";
    assert!(!is_asked(any, &["shelf 1 is not loose"]));
    assert!(is_asked(any, &["shelf 1 is loose"]));
    assert!(is_asked(
        any,
        &["shelf 1 is not loose; shelf 2 is not loose"]
    ));
    let pegs = "whether each peg is loose";
    let found = "peg 1 of shelf 1 is loose; peg 2 of shelf 1 is loose; peg 1 of shelf 2 is loose";
    assert!(!is_asked(pegs, &[found]));
    assert!(is_asked(pegs, &[found, "peg 2 of shelf 2 is not loose"]));
    let wood = "which wood each shelf has";
    assert!(!is_asked(wood, &["shelf 1 is oak"]));
    assert!(is_asked(wood, &["shelf 1 is oak; shelf 2 is ash"]));
    for thickness in ["2 mm", "11 mm", "20 mm"] {
        let thick = format!("the back is {thickness} thick");
        assert!(is_asked("how thick the back is", &[&thick]));
    }
    assert!(!is_asked("how thick the back is", &[]));
    assert!(is_asked(
        "whether the press is old",
        &["the press is not old"]
    ));
    assert!(!is_asked("whether the press is old", &[]));
}

/// Every answer to the one shelf with every answer to the other.
#[test]
fn a_step_waits_for_all_answers_there_may_be() {
    const ANSWERS: [(&str, Option<bool>); 6] = [
        ("have not looked whether shelf N is loose", None),
        ("cannot see whether shelf N is loose", None),
        ("shelf N looks loose", None),
        ("shelf N is loose", Some(true)),
        ("shelf N is not loose", Some(false)),
        ("shelf N is certainly not loose", Some(false)),
    ];
    for (first, one) in ANSWERS {
        for (second, other) in ANSWERS {
            let found = [first.replace('N', "1"), second.replace('N', "2")];
            let found: Vec<&str> = found.iter().map(String::as_str).collect();
            let each = one.is_some() && other.is_some();
            assert_eq!(
                is_asked("whether each shelf is loose", &found),
                each,
                "{found:?}"
            );
            let any = each || [one, other].contains(&Some(true));
            assert_eq!(
                is_asked("whether any shelf is loose", &found),
                any,
                "{found:?}"
            );
        }
    }
}

#[test]
fn a_step_that_waits_is_said_back() {
    let of = |what: &str| {
        let rules = house(&ROUND.replace("WHAT", what));
        let said = words::read_back(&rules.reading.model);
        let mut steps = said.iter().filter(|entry| entry.text.contains("only once"));
        steps.next().expect("a step").text.clone()
    };
    for (what, said) in [
        ("whether each shelf is loose", "whether each shelf is loose"),
        ("whether any shelf is loose", "whether any shelf is loose"),
        ("which wood each shelf has", "which wood each shelf has"),
        ("how thick the back is", "how thick each back is"),
        ("whether the press is old", "whether the piece is old"),
    ] {
        assert_eq!(
            of(what),
            format!(
                "Looking over a press, 5: see whether each back is bowed, only once it is known {said}."
            )
        );
    }
}

/// All of it together, in a pack that campaigns of changed input begin with.
#[test]
fn a_pack_with_all_of_it_is_sound() {
    let file = SourceFile {
        name: "hanging.rules.txt".to_owned(),
        text: include_str!("packs/hanging.rules.txt").to_owned(),
        standard: false,
    };
    let checked = check(read(vec![file]), Depth::Full);
    let texts: Vec<&String> = checked.reading.messages.iter().map(|m| &m.text).collect();
    assert!(checked.is_sound(), "{texts:?}");
    let unasked = |m: &&tellmark_language::Message| m.number() != 49;
    let others: Vec<_> = checked.reading.messages.iter().filter(unasked).collect();
    assert!(others.is_empty(), "{others:?}");
}

#[test]
fn what_follows_a_job_and_what_it_finds_out_are_said_back() {
    let checked = checked(
        "When a rail is split at least 2 mm wide then plan to lift the rail.  From: house\n\
         Job: lift the rail.  Takes: 5 minutes  Then: lay the rail\n    \
         Until: it is known whether a rail is oak.\n\
         Job: lay the rail.  Takes: 5 minutes",
    );
    let model = &checked.reading.model;
    let job = model.jobs.iter().find(|job| job.name == "lift the rail");
    let said = tellmark_language::words::job(model, job.expect("there"));
    assert!(said.contains("; followed by lay the rail;"), "{said}");
    assert!(
        said.contains("; not done once it is known whether a rail is oak;"),
        "{said}"
    );
    let plan = model
        .plans
        .iter()
        .find(|plan| model.jobs[plan.job.index()].name == "lift the rail");
    let said = tellmark_language::words::plan(model, plan.expect("there"));
    assert!(said.contains("followed by lay the rail"), "{said}");
}

#[test]
fn a_label_until_is_explained_for_what_it_stands_under() {
    let (_, _, help) = said(
        "When a rail is oak then plan to try the rail.  Takes: 5 minutes  From: house\n\
         Job: try the rail.\n    Until: it is known whether a rail has a split.",
        101,
    );
    let help = help.expect("it helps");
    assert!(
        help.contains("under a job") && !help.contains("caution"),
        "{help}"
    );
}

#[test]
fn what_a_job_finds_out_is_of_a_part_that_it_is_done_for() {
    let (_, text, help) = said(
        "When a seat is sagging then plan to try the seat.  Takes: 5 minutes  From: house\n\
         Job: try the seat.\n    Until: it is known whether a rail is oak.",
        257,
    );
    assert_eq!(
        text,
        "\"try the seat\" is done for a seat, and what it is to find out is of a rail, so that would \
         never end it."
    );
    assert_eq!(
        help.as_deref(),
        Some("Name something of a seat after \"Until:\", or say what calls for the job of a rail.")
    );
}

#[test]
fn a_job_is_not_planned_from_what_it_is_to_find_out() {
    let rules = |when: &str| {
        format!(
            "When {when} then plan to try the rail.  Takes: 5 minutes  From: house\n\
             Job: try the rail.\n    Until: it is known whether a rail is oak."
        )
    };
    let (_, text, help) = said(
        &rules("a rail is oak and it is split at least 2 mm wide"),
        258,
    );
    assert_eq!(
        text,
        "\"try the rail\" is planned only where it is known whether a rail is oak, and that is what \
         it is to find out. So it would never be done."
    );
    let help = help.expect("it helps");
    // Either way out of it works.
    assert!(help.starts_with("Name something else after"), "{help}");
    for open in [
        "a rail is split at least 2 mm wide",
        "a rail is oak or it is split at least 2 mm wide",
    ] {
        let checked = checked(&rules(open));
        let mut problems = checked.reading.messages.iter();
        assert!(!problems.any(|p| p.number() == 258), "{open}");
    }
}

#[test]
fn jobs_that_lead_to_one_another_are_not_kept_apart() {
    for label in ["Then: lay the rail", "First: lay the rail"] {
        let (_, text, _) = said(
            &format!(
                "When a rail is split at least 2 mm wide then plan to lift the rail.  From: house\n\
                 Job: lift the rail.  Takes: 5 minutes  {label}\n\
                 Job: lay the rail.  Takes: 5 minutes\n\
                 Never plan to lift the rail and lay the rail together.  From: house"
            ),
            259,
        );
        assert!(text.contains(" by \"") && text.contains("(line "), "{text}");
    }
}

#[test]
fn a_job_once_for_each_is_called_for_by_what_is_built_into_one() {
    let rules = |when: &str| {
        format!(
            "When {when} then plan to try the seat.  From: house\n\
             Job: try the seat, once for each seat.  Takes: 5 minutes"
        )
    };
    let (_, text, help) = said(&rules("a chair is going to a museum"), 260);
    assert_eq!(
        text,
        "\"try the seat\" is done once for each seat, and a chair is built into none. It would be \
         done for the chair, and once more for whatever else calls for it."
    );
    assert!(
        help.expect("it helps")
            .contains("\"When the chair of a seat is …\"")
    );
    // What it says to do works.
    let checked = checked(&rules("the chair of a seat is going to a museum"));
    let problems = checked.reading.messages.iter();
    let wrong: Vec<u16> = problems.map(|p| p.number()).filter(|n| *n == 260).collect();
    assert!(wrong.is_empty());
}
