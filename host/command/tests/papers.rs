//! Papers that stay, as a user types them: estimates kept, answered and added to.

use crate::user::{Ran, User};
use std::fs;
use tellmark_job::papers::Estimate;
use tellmark_job::record::{Job, PaperName};

/// A linen press's lower half, as it came in.
const RECORD: &str = "\
2026-05-04 09:10  the purpose of the piece is daily use
2026-05-04 09:12  drawer 2 is stiff
2026-05-04 09:14  runner 1 of drawer 2 is certainly worn 3 mm
2026-05-04 09:15  bottom of drawer 1 is certainly split 2 mm wide
2026-05-04 09:16  the back is rattling
2026-05-04 09:17  the chest of drawers is out of square 6 mm
2026-05-04 09:18  the chest of drawers is swaying
";

/// A price list: so much an hour, what is likely has a price of its own.
const PRICES: &str = r##"
fn line(job) {
    let text = job.job + ": " + job.part;
    if job.mean == () { return; }
    if job.certain || job.in_100 >= 95 { return #{ text: text, amount: job.mean * 0.80 }; }
    if job.in_100 >= 40 { return #{ text: text, amount: job.most * 0.80, provisional: true }; }
}
fn terms(work) {
    #{
        currency: "marks",
        valid_days: 20,
        lines: [#{ text: "carriage", amount: 30 }],
        assumptions: ["The piece is as it was when it was looked over."],
    }
}
"##;

fn workshop() -> User {
    let header = "job folder: 1\npiece: chest of drawers with 3 drawers\n";
    let user = User::with_chest(header, RECORD);
    user.make("ours");
    user.write("ours/prices.rhai", PRICES);
    user
}

fn with_ours<'a>(arguments: &[&'a str]) -> Vec<&'a str> {
    [arguments, &["--rules", "ours"]].concat()
}

fn run(user: &User, arguments: &[&str]) -> Ran {
    user.run(&with_ours(arguments))
}

fn works(user: &User, arguments: &[&str]) -> String {
    user.works(&with_ours(arguments))
}

/// What the commands added to the record, without the times.
fn added(user: &User) -> Vec<String> {
    user.added_after(RECORD.lines().count())
}

fn estimate(user: &User, name: &str) -> Estimate {
    let job = Job::open(&user.path("chest")).expect("it opens");
    Estimate::read(&job, PaperName::read(name).expect("a name")).expect("it is read")
}

#[test]
fn a_tick_of_what_no_agreed_paper_has_says_so() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    works(&user, &["brief", "chest", "--agreed", "estimate 1"]);
    let told = run(&user, &["done", "chest", "refix the back", "--anyway"]).out;
    assert!(told.contains("done: refix the back"), "{told}");
    assert!(!told.contains("No paper"), "{told}");
    user.works(&["note", "chest", "handle 1 of drawer 1 is loose"]);
    let part = ["--part", "handle 1 of drawer 1", "--anyway"];
    let told = run(
        &user,
        &[&["done", "chest", "refit the handle"], &part[..]].concat(),
    )
    .out;
    let said = "No paper that the owner agreed to has a price for it on handle 1 of drawer 1, and";
    assert!(told.contains(said), "{told}");
    // What it says is to be done for it to be charged comes to that.
    works(&user, &["done", "chest", "refit the handle", "--undo"]);
    works(&user, &["quote", "chest", "--supplement", "--keep"]);
    works(&user, &["brief", "chest", "--agreed", "supplement 2"]);
    let again = [&["done", "chest", "refit the handle"], &part[..]].concat();
    let told = run(&user, &again).out;
    assert!(!told.contains("No paper"), "{told}");
}

/// Work of one's own that nobody planned is planned first: a supplement has it then.
#[test]
fn own_work_that_was_ticked_without_a_plan_can_still_be_charged() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    works(&user, &["brief", "chest", "--agreed", "estimate 1"]);
    let own = ["done", "chest", "turn a knob", "--own", "--took", "30 min"];
    let told = works(&user, &own);
    assert!(
        told.contains("tellmark plan chest --own \"turn a knob\" --takes"),
        "{told}"
    );
    works(&user, &["done", "chest", "turn a knob", "--undo"]);
    let plan = ["plan", "chest", "--own", "turn a knob", "--takes", "30 min"];
    works(&user, &plan);
    let told = works(&user, &["quote", "chest", "--supplement", "--keep"]);
    assert!(told.contains("turn a knob"), "{told}");
    works(&user, &["brief", "chest", "--agreed", "supplement 2"]);
    let told = works(&user, &["done", "chest", "turn a knob", "--took", "30 min"]);
    assert!(!told.contains("No paper"), "{told}");
    let told = works(&user, &["invoice", "chest"]);
    assert!(told.contains("turn a knob"), "{told}");
}

#[test]
fn the_letter_says_what_the_owner_answered_and_up_to_what() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    let yes = ["brief", "chest", "--agreed", "estimate 1", "--up-to", "900"];
    let job = "refix the back";
    works(
        &user,
        &[&yes[..], &["--except", job, "--because", "by letter"]].concat(),
    );
    let letter = run(&user, &["report", "chest", "--json"]).json();
    let decided = &letter["letter"]["decided"];
    assert_eq!(decided[0]["yes"], true);
    assert_eq!(
        decided[0]["what"],
        "Estimate 1, up to 900.00 marks, but without “refix the back”."
    );
    let when = decided[0]["when"].as_str().expect("text");
    assert!(when.ends_with(", by letter"), "{when}");
    // What was settled by the answer stands there once.
    assert_eq!(decided.as_array().expect("a list").len(), 1, "{decided}");
    let left = letter["letter"]["left"].to_string();
    let why = "You decided against this, in your answer to estimate 1: refix the back.";
    assert!(left.contains(why), "{left}");
}

#[test]
fn a_kept_estimate_stands_in_the_job_and_in_its_record() {
    let user = workshop();
    let told = works(&user, &["quote", "chest", "--keep"]);
    assert!(
        told.contains("Estimate 1 is kept (line 8 of the record)"),
        "{told}"
    );
    let text = user.text("chest/papers/estimate-1.txt");
    let line = added(&user).pop().expect("a line");
    assert!(line.starts_with("estimate: 1; checksum "), "{line}");
    let in_short = text.lines().find_map(|l| l.strip_prefix("in short: "));
    assert!(line.ends_with(in_short.expect("in short")), "{line}");
    for wanted in [
        "paper: estimate 1\n",
        "piece: chest of drawers with 3 drawers\n",
        "money: marks\n",
        "record: up to line 7\n",
        "taken for granted: The piece is as it was when it was looked over.\n",
        "fixed: 30.00; ; carriage\n",
    ] {
        assert!(text.contains(wanted), "{wanted} in\n{text}");
    }
    // The next has a number of its own, and the first is as it was.
    works(&user, &["note", "chest", "drawer 3 is stiff"]);
    works(&user, &["quote", "chest", "--keep"]);
    assert_eq!(text, user.text("chest/papers/estimate-1.txt"));
    assert!(
        user.text("chest/papers/estimate-2.txt")
            .contains("record: up to line 9\n")
    );
}

#[test]
fn what_is_written_is_read_again() {
    let user = workshop();
    works(
        &user,
        &[
            "brief",
            "chest",
            "--leave",
            "the top",
            "--because",
            "the rings; ours: kept",
        ],
    );
    let data = works(&user, &["quote", "chest", "--keep", "--json"]);
    let data: serde_json::Value = serde_json::from_str(&data).expect("JSON");
    let read = estimate(&user, "estimate 1");
    assert_eq!(serde_json::to_value(&read).expect("data"), data["paper"]);
    assert_eq!(read.rests_on.line, 8);
    let planned = read.planned_total.expect("planned");
    assert!(
        read.fixed_total < planned && planned < read.at_most,
        "{planned}"
    );
    let sum: rust_decimal::Decimal = read.prices.iter().map(|p| p.amount).sum();
    assert_eq!(sum, read.at_most);
    assert_eq!(read.hours.expect("hours").twentieths.len(), 19);
    assert!(!read.left_alone.is_empty());
}

#[test]
fn invented_prices_are_in_no_paper() {
    let user = workshop();
    let ran = user.run(&["quote", "chest", "--keep"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("These prices are invented"), "{}", ran.err);
    assert!(!user.path("chest/papers").exists());
    assert!(added(&user).is_empty());
}

#[test]
fn several_at_once_have_a_number_each() {
    let user = workshop();
    // The rules are built once, so that all begin at the same moment.
    works(&user, &["quote", "chest"]);
    let running: Vec<_> = (0..6)
        .map(|_| {
            let mut command = user.command(&with_ours(&["quote", "chest", "--keep"]));
            command.stdout(std::process::Stdio::null());
            command.spawn().expect("it runs")
        })
        .collect();
    for mut one in running {
        assert!(one.wait().expect("it ends").success());
    }
    let lines = added(&user);
    let numbers: Vec<&str> = lines
        .iter()
        .filter_map(|line| line.strip_prefix("estimate: ")?.split(';').next())
        .collect();
    assert_eq!(numbers, ["1", "2", "3", "4", "5", "6"]);
    for number in numbers {
        estimate(&user, &format!("estimate {number}"));
    }
}

#[test]
fn a_paper_that_was_changed_is_not_gone_by() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    let path = "chest/papers/estimate-1.txt";
    let text = user.text(path);
    user.write(path, text.replace("carriage", "carrying"));
    let ran = run(&user, &["brief", "chest", "--agreed", "estimate 1"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.err.contains("is not as it was written"), "{}", ran.err);
    assert_eq!(added(&user).len(), 1);
    let ran = user.run(&["repair", "chest"]);
    assert_eq!(ran.code, Some(1));
    assert_eq!(
        ran.out,
        "papers/estimate-1.txt is not as it was written, by line 8 of the record. Put it back as \
         it was.\n"
    );
    user.write(path, text);
    works(&user, &["brief", "chest", "--agreed", "estimate 1"]);
}

/// A program that was stopped between the paper and its line used that number.
#[test]
fn a_paper_without_a_line_gets_it_before_the_next_is_written() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    user.write("chest/record.txt", RECORD);
    let ran = user.run(&["repair", "chest"]);
    assert_eq!(ran.code, Some(1));
    assert!(
        ran.out
            .contains("No line of the record names papers/estimate-1.txt."),
        "{}",
        ran.out
    );
    let told = works(&user, &["quote", "chest", "--keep"]);
    assert!(told.contains("Estimate 1 was written before"), "{told}");
    let lines = added(&user);
    assert!(lines[0].starts_with("estimate: 1; ") && lines[1].starts_with("estimate: 2; "));
    assert_eq!(
        user.works(&["repair", "chest"]),
        "Nothing is amiss in chest.\n"
    );
    user.write("chest/record.txt", RECORD);
    let told = user.works(&["repair", "chest", "--write"]);
    assert_eq!(told.matches("It has its line now.").count(), 2, "{told}");
    assert_eq!(added(&user).len(), 2);
}

#[cfg(unix)]
#[test]
fn a_folder_of_papers_that_is_a_link_is_not_followed() {
    let user = workshop();
    user.make("elsewhere");
    std::os::unix::fs::symlink(user.path("elsewhere"), user.path("chest/papers")).expect("linked");
    let ran = run(&user, &["quote", "chest", "--keep"]);
    assert_eq!(ran.code, Some(3));
    assert!(
        ran.err.contains("it is a link to another place"),
        "{}",
        ran.err
    );
    assert_eq!(
        fs::read_dir(user.path("elsewhere")).expect("read").count(),
        0
    );
    assert!(added(&user).is_empty());
}

#[test]
fn an_answer_settles_what_has_a_fixed_price_and_leaves_out_what_is_excepted() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    let paper = estimate(&user, "estimate 1");
    let back = paper
        .jobs
        .iter()
        .find(|j| j.job == "refix the back")
        .expect("it is there");
    assert!(paper.prices.iter().any(|p| p.job == Some(back.number)));
    let number = format!("job {}", back.number);
    let told = works(
        &user,
        &[
            "brief",
            "chest",
            "--agreed",
            "estimate 1",
            "--except",
            &number,
            "--up-to",
            "300 marks",
            "--because",
            "by letter",
        ],
    );
    assert!(
        told.contains("answer: estimate 1; yes; up to 300.00; by letter"),
        "{told}"
    );
    assert!(
        told.contains("refused: refix the back; the back; estimate 1"),
        "{told}"
    );
    // The owner was to be asked before it, and its price is fixed: so they have been.
    assert!(
        told.contains("agreed: square the carcase; the chest of drawers; estimate 1"),
        "{told}"
    );
    let quoted = works(&user, &["quote", "chest"]);
    assert!(!quoted.contains("refix the back: the back"), "{quoted}");
    let brief = works(&user, &["brief", "chest"]);
    assert!(
        brief.contains("estimate 1: yes, without refix the back (the back); "),
        "{brief}"
    );
    assert!(brief.contains(" marks fixed, 300.00 marks at most, the owner's condition; by letter"));
    // A later answer takes its place.
    works(&user, &["brief", "chest", "--agreed", "estimate 1"]);
    assert!(works(&user, &["quote", "chest"]).contains("refix the back: the back"));
    works(
        &user,
        &[
            "brief",
            "chest",
            "--refused",
            "estimate 1",
            "--because",
            "too dear",
        ],
    );
    assert!(works(&user, &["brief", "chest"]).contains("estimate 1: no; too dear"));
}

#[test]
fn an_answer_that_means_nothing_is_refused() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    for (more, said) in [
        (&["--agreed", "estimate 2"][..], "names no estimate 2"),
        (
            &["--agreed", "invoice 2026-001"],
            "Invoice 2026-001 asks nothing",
        ),
        (
            &["--agreed", "estimate 1", "--except", "gild it"],
            "has no job \"gild it\"",
        ),
        (
            &["--agreed", "estimate 1", "--up-to", "12,50"],
            "I cannot read \"12,50\"",
        ),
        (
            &["--agreed", "estimate 1", "--up-to", "900 crowns"],
            "is in other money",
        ),
        (
            &["--agreed", "estimate 1", "--part", "drawer 1"],
            "--part goes with a job",
        ),
        (
            &["--agreed", "square the carcase", "--up-to", "9"],
            "go with a paper",
        ),
    ] {
        let ran = run(&user, &[&["brief", "chest"], more].concat());
        assert_eq!(ran.code, Some(2), "{more:?}");
        assert!(
            ran.err.contains(said) && ran.err.contains("Nothing was noted"),
            "{}",
            ran.err
        );
    }
    assert_eq!(added(&user).len(), 1);
}

#[test]
fn a_supplement_has_only_what_is_new() {
    let user = workshop();
    let ran = run(&user, &["quote", "chest", "--supplement"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("The owner has said yes to no paper"),
        "{}",
        ran.err
    );
    works(&user, &["quote", "chest", "--keep"]);
    works(&user, &["brief", "chest", "--agreed", "estimate 1"]);
    let told = works(&user, &["quote", "chest", "--supplement"]);
    assert!(
        told.starts_with("Nothing is new against what was agreed.\n"),
        "{told}"
    );
    works(
        &user,
        &[
            "note",
            "chest",
            "bottom of drawer 3 is certainly split 3 mm wide",
        ],
    );
    let told = works(&user, &["quote", "chest", "--supplement", "--keep"]);
    assert!(told.contains("Supplement 2 is kept"), "{told}");
    let new = estimate(&user, "supplement 2");
    assert!(!new.jobs.is_empty());
    assert!(
        new.jobs.iter().all(|job| job.part.contains("drawer 3")),
        "{:?}",
        new.jobs
    );
    assert_eq!(
        new.adds_to,
        [PaperName::read("estimate 1").expect("a name")]
    );
    let sum: rust_decimal::Decimal = new.prices.iter().map(|p| p.amount).sum();
    assert_eq!(sum, new.at_most);
    works(&user, &["brief", "chest", "--agreed", "supplement 2"]);
    let told = works(&user, &["quote", "chest", "--supplement"]);
    assert!(
        told.starts_with("Nothing is new against what was agreed.\n"),
        "{told}"
    );
}

/// What was only for the sake of something that is left out is named, with what it costs.
#[test]
fn what_falls_away_with_what_the_owner_leaves_out_is_said() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    let answer = ["brief", "chest", "--agreed", "estimate 1"];
    let told = works(
        &user,
        &[&answer[..], &["--except", "square the carcase"]].concat(),
    );
    let said = "Without that, this is planned no more, of what has a fixed price: label the parts: the \
                chest of drawers (8.80), clean out the joint: the chest of drawers (16.00) and assemble \
                it dry: the chest of drawers (13.60). They stay in the sum that was agreed, but only \
                what is done is charged.";
    assert!(told.contains(said), "{told}");
    let told = works(&user, &answer);
    assert!(!told.contains("planned no more"), "{told}");
}

/// The letter counts its steps, the paper its jobs: a bare number is not taken for either.
#[test]
fn a_bare_number_is_no_job_that_is_left_out() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    let answer = |except| {
        let told = [
            "brief",
            "chest",
            "--agreed",
            "estimate 1",
            "--except",
            except,
        ];
        user.run(&[&told[..], &["--rules", "ours"]].concat())
    };
    let ran = answer("16");
    assert_eq!(ran.code, Some(2), "{}", ran.out);
    let said = "A number may be one of the owner's letter, which counts otherwise than the paper. In \
                estimate 1 job 16 is \"square the carcase: the chest of drawers\": say --except \
                \"job 16\" for that, or the name of the job that is meant. Nothing was noted.\n";
    assert_eq!(ran.err, said);
    let ran = answer("job 16");
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    assert!(
        ran.out.contains("refused: square the carcase;"),
        "{}",
        ran.out
    );
    let ran = answer("job 1600");
    assert!(ran.err.contains("has no job \"job 1600\""), "{}", ran.err);
}

/// What the owner set as a limit holds for estimate and supplement together.
#[test]
fn a_supplement_promises_no_more_than_the_owner_s_limit_leaves() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    let first = estimate(&user, "estimate 1");
    works(&user, &["brief", "chest", "--agreed", "estimate 1"]);
    let limit = first.at_most + rust_decimal::Decimal::from(60);
    let limit = format!("{limit} marks");
    works(&user, &["brief", "chest", "--limit", &limit]);
    let split = "bottom of drawer 3 is certainly split 3 mm wide";
    works(&user, &["note", "chest", split]);
    let told = works(&user, &["quote", "chest", "--supplement", "--keep"]);
    let new = estimate(&user, "supplement 2");
    let lines: rust_decimal::Decimal = new.prices.iter().map(|p| p.amount).sum();
    assert!(new.fixed_total <= rust_decimal::Decimal::from(60) && lines > new.fixed_total);
    assert_eq!(new.at_most, rust_decimal::Decimal::from(60), "{told}");
    assert!(
        told.contains("Never more, unasked") && told.contains("60.00 marks"),
        "{told}"
    );
    assert!(
        told.contains("At most: 1,021.20 agreed, 1,081.20 with this."),
        "{told}"
    );
    // Where the limit leaves nothing, only what is fixed is promised, and that is said.
    let limit = format!("{} marks", first.at_most);
    works(&user, &["brief", "chest", "--limit", &limit]);
    let told = works(&user, &["quote", "chest", "--supplement", "--keep"]);
    let new = estimate(&user, "supplement 3");
    assert_eq!(new.at_most, new.fixed_total, "{told}");
    let said = "With what was agreed this is up to 40.00 marks more than the owner's limit leaves";
    assert!(told.contains(said), "{told}");
    // A limit that is less than what is fixed lets nothing else be promised either.
    works(&user, &["brief", "chest", "--limit", "300 marks"]);
    works(&user, &["quote", "chest", "--keep"]);
    let low = estimate(&user, "estimate 4");
    assert_eq!(low.at_most, low.fixed_total);
}

/// What a supplement has anew counts there, and not once more in the paper before.
#[test]
fn a_job_that_a_supplement_has_anew_counts_once_in_what_was_agreed() {
    let user = workshop();
    // What is likely is priced too low, and so it comes to more once it is certain.
    let prices = PRICES.replace("job.most * 0.80", "job.least * 0.40");
    user.write("ours/prices.rhai", prices);
    works(&user, &["note", "chest", "handle 1 of drawer 2 is loose"]);
    works(&user, &["quote", "chest", "--keep"]);
    works(&user, &["brief", "chest", "--agreed", "estimate 1"]);
    let first = estimate(&user, "estimate 1");
    works(
        &user,
        &[
            "note",
            "chest",
            "handle 1 of drawer 2 is certainly crushed behind",
        ],
    );
    works(&user, &["quote", "chest", "--supplement", "--keep"]);
    works(&user, &["brief", "chest", "--agreed", "supplement 2"]);
    let second = estimate(&user, "supplement 2");
    let again: rust_decimal::Decimal = first
        .prices
        .iter()
        .filter(|price| {
            let job = price.job.and_then(|number| first.job(number));
            job.is_some_and(|job| {
                let mut jobs = second.jobs.iter();
                jobs.any(|new| (&new.job, &new.part) == (&job.job, &job.part))
            })
        })
        .map(|price| price.amount)
        .sum();
    let json: serde_json::Value =
        serde_json::from_str(&works(&user, &["quote", "chest", "--json"])).expect("JSON");
    let most: rust_decimal::Decimal = json["agreed"]["at_most"]
        .as_str()
        .expect("a sum")
        .parse()
        .expect("a sum");
    assert!(!again.is_zero(), "nothing of it was in the first");
    assert_eq!(most, first.at_most + second.at_most - again);
}

#[test]
fn what_was_agreed_is_said_in_plan_and_quotation() {
    let user = workshop();
    works(&user, &["quote", "chest", "--keep"]);
    works(
        &user,
        &["brief", "chest", "--agreed", "estimate 1", "--up-to", "300"],
    );
    for command in ["plan", "quote"] {
        let told = works(&user, &[command, "chest"]);
        let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            told.contains("300.00 marks at most, the owner's condition"),
            "{told}"
        );
        assert!(!told.contains("Not agreed yet"), "{told}");
    }
    let told = works(&user, &["quote", "chest"]);
    assert!(told.contains("more than was agreed"), "{told}");
    works(
        &user,
        &[
            "note",
            "chest",
            "bottom of drawer 3 is certainly split 3 mm wide",
        ],
    );
    let told = works(&user, &["plan", "chest"]);
    assert!(
        told.contains("Not agreed yet: ") && told.contains("(the bottom of drawer 3)"),
        "{told}"
    );
}

#[test]
fn an_estimate_stands_beside_what_was_taken() {
    let user = workshop();
    let ran = run(&user, &["quote", "chest", "--against"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("No estimate of this job was kept"),
        "{}",
        ran.err
    );
    // What was done before the estimate is none of its business.
    works(
        &user,
        &["done", "chest", "photograph the piece", "--took", "40 min"],
    );
    works(&user, &["quote", "chest", "--keep"]);
    works(&user, &["brief", "chest", "--agreed", "estimate 1"]);
    run(
        &user,
        &[
            "done",
            "chest",
            "refix the back",
            "--took",
            "2 h 30",
            "--anyway",
        ],
    );
    works(&user, &["done", "chest", "label the parts"]);
    works(
        &user,
        &[
            "done",
            "chest",
            "peg the loose batten",
            "--took",
            "30 min",
            "--mends",
            "drawer 2 is stiff",
        ],
    );
    let data = works(&user, &["quote", "chest", "--against", "--json"]);
    let data: serde_json::Value = serde_json::from_str(&data).expect("JSON");
    let row = |job: &str| {
        let rows = data["rows"].as_array().expect("a list");
        rows.iter()
            .find(|row| row["job"] == job)
            .cloned()
            .unwrap_or_default()
    };
    assert_eq!(data["taken"], 180);
    assert_eq!(data["untimed"], 1);
    assert!(row("photograph the piece").is_null());
    let back = row("refix the back");
    assert_eq!(
        (&back["became"], &back["taken"]),
        (&"done".into(), &150.into())
    );
    // 150 minutes at 0.80 each.
    assert_eq!(back["by_hours"], "120.00");
    assert_eq!(row("label the parts")["taken"], serde_json::Value::Null);
    assert_eq!(row("peg the loose batten")["became"], "in-no-paper");
    assert_eq!(row("square the carcase")["became"], "not-done");
    let told = works(
        &user,
        &["quote", "chest", "--against", "--svg", "hours.svg"],
    );
    for said in [
        "3 h taken so far",
        "1 tick without a time",
        "There is work left",
    ] {
        assert!(told.contains(said), "{said} in {told}");
    }
    let drawing = user.text("hours.svg");
    assert!(
        drawing.starts_with("<svg") && drawing.contains("3 h taken"),
        "{drawing}"
    );
    user.write("letter.txt", "not a drawing");
    let ran = run(&user, &["quote", "chest", "--svg", "letter.txt"]);
    assert_eq!(ran.code, Some(2));
    assert_eq!(user.text("letter.txt"), "not a drawing");
}
