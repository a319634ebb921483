//! Jobs whose record has ticks, ticks taken back, and notes, in any order: what is said of
//! the piece as it was found and as it is now.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use tellmark_job::advice::{Progress, Triage};
use tellmark_job::open_job::{JobView, OpenJob};
use tellmark_language::words::fact_line;
use tellmark_tests::dice::Dice;
use tellmark_tests::said::house;

const RULES: &str = "
House rules for the test of mending, version 1.
Pieces: table.
Parts: leaf (plural leaves), hinge, screw, knob.
A table has 2 leaves and a knob.
A knob may be broken without showing it.  On its own: rarely
Job: turn a knob.  Takes: 1 hour  Mends: a knob is broken
A leaf has 2 hinges.
A hinge has 2 screws.
You can see whether a leaf is sagging.   Ask: \"Sagging?\"  On its own: rarely
You can hear whether a leaf is creaking.  Ask: \"Creaking?\"  On its own: sometimes
You can feel whether a screw is loose.   Ask: \"Loose?\"  On its own: rarely
You can see whether a hinge is bent.     Ask: \"Bent?\"  On its own: rarely
You can measure how wide a leaf is split, in mm, from 0 to 20.  Ask: \"Split?\"
A leaf counts as cracked when it is split at least 1 mm wide.  On its own: rarely
A hinge may be split at the bed without showing it.  Missed: 2 hours, risk 4  On its own: rarely
A hinge may be under strain without showing it.      Missed: 1 hour, risk 2  On its own: sometimes
If a hinge is under strain then it is sometimes split at the bed.  From: house
If a hinge is under strain then its screws are often loose.        From: house
If any hinge of a leaf is split at the bed then the leaf is usually sagging.  From: house
If any hinge of a leaf is under strain then the leaf is often creaking.       From: house
If a leaf is sagging then its hinges are sometimes bent.  From: house
If a hinge is split at the bed then its leaf is sometimes cracked.  From: house
Stop when a hinge is probably split at the bed: \"Do not load the leaf.\"  From: house
Take care when a screw is loose: \"Mind the screw.\"  From: house
Take care when a leaf is sagging: \"Hold it up.\"  From: house
Take care when a leaf is cracked: \"Mind the crack.\"  From: house
When a hinge is probably split at the bed then plan to let in a new bed.  From: house
When a hinge is probably under strain then plan to ease the hinge.       From: house
When a screw is loose then plan to plug the hole.  From: house
When a leaf is sagging then plan to true the leaf.  From: house
When a leaf is cracked then plan to glue the crack.  From: house
Job: let in a new bed.  Takes: 2 hours  Mends: a hinge is split at the bed  Holds: in 99 of 100 cases
Job: ease the hinge.    Takes: 1 hour   Mends: a hinge is under strain
Job: plug the hole.     Takes: 1 hour   Mends: a screw is loose
Job: true the leaf.     Takes: 1 hour
Job: glue the crack.    Takes: 2 hours  Mends: a leaf is cracked
";

/// What each job mends, and the caution that falls silent with it.
const JOBS: [(&str, &str, &str, &str); 4] = [
    (
        "let in a new bed",
        "hinge",
        "split at the bed",
        "Do not load the leaf.",
    ),
    ("ease the hinge", "hinge", "under strain", ""),
    ("plug the hole", "screw", "loose", "Mind the screw."),
    ("glue the crack", "leaf", "cracked", "Mind the crack."),
];

struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let name = format!("tellmark-mended-{name}-{}", std::process::id());
        let folder = std::env::temp_dir().join(name);
        fs::create_dir_all(&folder).expect("a folder");
        fs::write(folder.join("job.txt"), "job folder: 1\npiece: table\n").expect("written");
        Self(folder)
    }

    fn open(&self, record: &[String]) -> OpenJob {
        let text: String = record
            .iter()
            .map(|line| format!("2026-03-02 09:10  {line}\n"))
            .collect();
        fs::write(self.0.join("record.txt"), text).expect("written");
        let job = OpenJob::open(&self.0, house(RULES)).expect("it opens");
        assert_eq!(job.left_out, [], "{record:?}");
        job
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn hinge(dice: &mut Dice) -> String {
    format!("hinge {} of leaf {}", 1 + dice.below(2), 1 + dice.below(2))
}

fn part(dice: &mut Dice, kind: &str) -> String {
    match kind {
        "hinge" => hinge(dice),
        "screw" => format!("screw {} of {}", 1 + dice.below(2), hinge(dice)),
        _ => format!("leaf {}", 1 + dice.below(2)),
    }
}

/// A random line of a record.
fn line(dice: &mut Dice, before: &[String]) -> String {
    let not = if dice.chance(35) { "not " } else { "" };
    match dice.below(10) {
        0 => format!("leaf {} is {not}sagging", 1 + dice.below(2)),
        1 => format!("leaf {} is {not}creaking", 1 + dice.below(2)),
        2 => format!(
            "leaf {} is split {} mm wide",
            1 + dice.below(2),
            dice.below(4)
        ),
        3 => format!("{} is {not}bent", hinge(dice)),
        4 => {
            let ticks: Vec<&String> = before.iter().filter(|l| l.starts_with("done: ")).collect();
            match ticks.is_empty() {
                true => "wish: in use again".to_owned(),
                false => format!("not {}", dice.pick(&ticks)),
            }
        }
        5 | 6 => {
            let (_, kind, phrase, _) = *dice.pick(&JOBS);
            format!("{} is {not}{phrase}", part(dice, kind))
        }
        _ => {
            let (job, kind, ..) = *dice.pick(&JOBS);
            format!("done: {job}; {}", part(dice, kind))
        }
    }
}

/// Everything that a page shows of the likely faults.
fn shown(triage: &Triage) -> Vec<String> {
    let mut all: Vec<String> = triage
        .groups
        .iter()
        .flat_map(|g| g.suspects.iter().map(move |s| (g, s)))
        .map(|(g, s)| format!("{} {:?} {:.9}", g.name, s.state, s.chance))
        .collect();
    all.sort();
    all.extend(triage.cautions.iter().map(|c| format!("{c:?}")));
    all
}

fn findings(view: &JobView<'_>) -> Vec<String> {
    let all = view.findings.iter();
    all.map(|f| format!("{} {}", f.number, fact_line(view.model(), &f.fact)))
        .collect()
}

/// What is mended and not there again, by the lines alone: part and state.
fn mended(record: &[String]) -> BTreeSet<(String, &'static str)> {
    let mut undone: BTreeSet<usize> = BTreeSet::new();
    for (at, line) in record.iter().enumerate() {
        if let Some(tick) = line.strip_prefix("not ") {
            let earlier = (0..at).filter(|&i| record[i] == tick);
            undone.extend(earlier);
        }
    }
    let mut mended = BTreeSet::new();
    for (at, line) in record.iter().enumerate() {
        for (job, kind, phrase, _) in JOBS {
            let tick = format!("done: {job}; ");
            if let Some(part) = line.strip_prefix(&tick).filter(|_| !undone.contains(&at)) {
                mended.insert((part.to_owned(), phrase));
            }
            let found = line.strip_suffix(&format!(" is {phrase}"));
            if let Some(part) = found.filter(|part| part.contains(kind)) {
                mended.remove(&(part.to_owned(), phrase));
            }
        }
        let split = line.split_once(" is split ");
        let wide = split.filter(|(_, wide)| !wide.starts_with("0 ") && !wide.starts_with("at"));
        if let Some((part, _)) = wide {
            mended.remove(&(part.to_owned(), "cracked"));
        }
    }
    mended
}

fn check(job: &OpenJob, record: &[String]) -> usize {
    let view = job.view().expect("rules in order");
    let mended = mended(record);
    let Ok(triage) = view.triage() else {
        panic!("{record:?}")
    };
    if triage.clash.is_some() {
        return 0;
    }
    let progress: Progress = view.progress().expect("it can be set up");
    let plan = view.plan(&progress).expect("it can be set up");
    for (part, phrase) in &mended {
        let (job_name, _, _, caution) = JOBS.iter().find(|j| j.2 == *phrase).expect("a job");
        let silent = triage.cautions.iter().filter(|c| c.text == *caution);
        for caution in silent {
            assert!(
                !caution.parts.contains(part),
                "{part}: {caution:?}, {record:#?}"
            );
        }
        let steps = plan.steps.iter().filter(|step| {
            let job = &view.model().jobs[step.job];
            job.name == *job_name
        });
        for step in steps {
            let parts = step
                .perhaps
                .iter()
                .map(|(part, _)| part)
                .chain(&step.certain);
            assert!(
                parts.clone().all(|p| p != part),
                "{part}: {step:?}, {record:#?}"
            );
        }
        let quote = view.quote(&progress).expect("hours");
        let offered = quote
            .items
            .iter()
            .find(|i| i.job == *job_name && i.part == *part);
        assert_eq!(offered, None, "{record:#?}");
    }
    mended.len()
}

#[test]
fn what_is_mended_is_neither_warned_of_nor_offered() {
    let folder = Folder::new("offered");
    let mut seen = 0;
    for seed in 0..250 {
        let mut dice = Dice::new(seed);
        let mut record = Vec::new();
        for _ in 0..4 + dice.below(14) {
            let next = line(&mut dice, &record);
            record.push(next);
        }
        seen += check(&folder.open(&record), &record);
    }
    assert!(seen > 300, "{seen}");
}

#[test]
fn a_tick_leaves_the_piece_as_found_alone_and_taken_back_leaves_no_trace() {
    let folder = Folder::new("traceless");
    let mut ticks = 0;
    for seed in 0..120 {
        let mut dice = Dice::new(1_000 + seed);
        let mut record = Vec::new();
        for _ in 0..2 + dice.below(10) {
            let next = line(&mut dice, &record);
            record.push(next);
        }
        let told = |job: &OpenJob| {
            let found = job.as_found().expect("rules in order");
            let now = job.view().expect("rules in order");
            let triage = |view: &JobView<'_>| shown(&view.triage().expect("it can be set up"));
            (findings(&found), triage(&found), triage(&now))
        };
        let before = told(&folder.open(&record));
        let (name, kind, ..) = *dice.pick(&JOBS);
        let tick = format!("done: {name}; {}", part(&mut dice, kind));
        if record.contains(&tick) {
            continue;
        }
        record.push(tick.clone());
        let ticked = told(&folder.open(&record));
        assert_eq!(
            (&ticked.0, &ticked.1),
            (&before.0, &before.1),
            "{record:#?}"
        );
        record.push(format!("not {tick}"));
        let back = told(&folder.open(&record));
        assert_eq!(back, before, "{record:#?}");
        ticks += 1;
    }
    assert!(ticks > 60, "{ticks}");
}

fn lines(all: &[&str]) -> Vec<String> {
    all.iter().map(|&line| line.to_owned()).collect()
}

fn cautions(folder: &Folder, record: &[&str]) -> Vec<String> {
    let job = folder.open(&lines(record));
    let view = job.view().expect("rules in order");
    let triage = view.triage().expect("it can be set up");
    triage
        .cautions
        .iter()
        .map(|c| format!("{}: {}", c.parts.join(", "), c.text))
        .collect()
}

#[test]
fn a_caution_falls_silent_and_returns() {
    let folder = Folder::new("silent");
    let split = "hinge 2 of leaf 1 is certainly split at the bed";
    let done = "done: let in a new bed; hinge 2 of leaf 1; 2 hours";
    let stop = ["hinge 2 of leaf 1: Do not load the leaf."];
    assert_eq!(cautions(&folder, &[split]), stop);
    assert_eq!(cautions(&folder, &[split, done]), [""; 0]);
    assert_eq!(cautions(&folder, &[split, done, split]), stop);
    assert_eq!(cautions(&folder, &[split, done, split, done]), [""; 0]);
    let back = "not done: let in a new bed; hinge 2 of leaf 1";
    assert_eq!(cautions(&folder, &[split, done, back]), stop);
    // A sign that was seen before counts as long as it may be there still.
    let sagging = "leaf 1 is sagging";
    let held = ["leaf 1: Hold it up."];
    assert_eq!(cautions(&folder, &[split, sagging, done]), held);
    let sound = "hinge 1 of leaf 1 is certainly not split at the bed";
    assert_eq!(cautions(&folder, &[split, sound, sagging, done]), [""; 0]);
    let other = "hinge 1 of leaf 1 is certainly split at the bed";
    let two = cautions(&folder, &[split, other, sagging, done]);
    assert_eq!(two[1..], held);
    // After the mend it says that the other hinge is split, too.
    let both = [
        "hinge 1 of leaf 1: Do not load the leaf.",
        "leaf 1: Hold it up.",
    ];
    assert_eq!(cautions(&folder, &[split, sagging, done, sagging]), both);
}

#[test]
fn what_is_noted_after_a_mend_speaks_of_now() {
    let folder = Folder::new("after");
    let record = lines(&[
        "leaf 1 is sagging",
        "hinge 1 of leaf 1 is certainly split at the bed",
        "done: let in a new bed; hinge 1 of leaf 1",
        "leaf 1 is sagging",
    ]);
    let job = folder.open(&record);
    let likely = |view: JobView<'_>| {
        let triage = view.triage().expect("it can be set up");
        let other = triage.groups.iter().find(|g| g.name == "hinge 2 of leaf 1");
        other.expect("listed").suspects[0].chance
    };
    let (found, now) = (
        likely(job.as_found().expect("in order")),
        likely(job.view().expect("in order")),
    );
    assert!(found < 0.3 && now > 0.6, "{found}, {now}");
    let view = job.as_found().expect("in order");
    assert_eq!(
        findings(&view),
        [
            "1 leaf 1 is sagging",
            "2 hinge 1 of leaf 1 is certainly split at the bed"
        ]
    );
}

#[test]
fn a_mended_job_is_called_for_again_when_its_fault_is_found_again() {
    let folder = Folder::new("again");
    let steps = |record: &[&str]| {
        let job = folder.open(&lines(record));
        let view = job.view().expect("in order");
        let progress = view.progress().expect("in order");
        let plan = view.plan(&progress).expect("in order");
        let certain = plan.steps.iter().filter(|step| !step.certain.is_empty());
        let named = certain.map(|step| view.model().jobs[step.job].name.clone());
        named
            .filter(|name| name == "plug the hole")
            .collect::<Vec<String>>()
    };
    let loose = "screw 1 of hinge 1 of leaf 1 is loose";
    let done = "done: plug the hole; screw 1 of hinge 1 of leaf 1";
    assert_eq!(steps(&[loose]), ["plug the hole"]);
    assert_eq!(steps(&[loose, done]), [""; 0]);
    assert_eq!(steps(&[loose, done, loose]), ["plug the hole"]);
    assert_eq!(steps(&[loose, done, loose, done]), [""; 0]);
    // Work of one's own.
    let own = "done: peg it; leaf 1; 1 hour; mends screw 1 of hinge 1 of leaf 1 is loose";
    assert_eq!(steps(&[loose, own]), [""; 0]);
    assert_eq!(steps(&[loose, own, "not done: peg it"]), ["plug the hole"]);
}

#[test]
fn what_cannot_be_seen_stays_so_and_is_not_proposed() {
    let folder = Folder::new("sight");
    let next = |record: &[&str]| {
        let job = folder.open(&lines(record));
        let view = job.view().expect("in order");
        let checks = view.next().expect("in order").expect("no clash");
        checks
            .into_iter()
            .map(|check| check.words)
            .collect::<Vec<_>>()
    };
    let hidden = "hinge 1 of leaf 1 cannot be seen";
    let is_of = |words: &String| words.contains("hinge 1 of leaf 1");
    assert!(next(&[]).iter().any(is_of));
    // It covers the screws, and holds whatever else is noted of the hinge.
    assert!(!next(&[hidden]).iter().any(is_of));
    let bent = "hinge 1 of leaf 1 is bent";
    assert!(!next(&[hidden, bent]).iter().any(is_of));
    let screw = "screw 1 of hinge 1 of leaf 1 is not loose";
    assert!(!next(&[hidden, bent, screw]).iter().any(is_of));
    let tick = "done: plug the hole; screw 2 of hinge 2 of leaf 2";
    assert!(!next(&[hidden, bent, tick]).iter().any(is_of));
    assert!(
        next(&[hidden, "hinge 1 of leaf 1 can be seen"])
            .iter()
            .any(is_of)
    );
}

#[test]
fn what_is_left_alone_stops_work_on_it_and_on_what_is_built_into_it() {
    let folder = Folder::new("leave");
    let offered = |record: &[&str]| {
        let job = folder.open(&lines(record));
        let view = job.view().expect("in order");
        let progress = view.progress().expect("in order");
        let plan = view.plan(&progress).expect("in order");
        let is_it = |job: usize| view.model().jobs[job].name == "plug the hole";
        let in_plan = plan
            .steps
            .iter()
            .any(|step| is_it(step.job) && !step.certain.is_empty());
        let quote = view.quote(&progress).expect("hours");
        let mut items = quote.items.iter();
        let in_quote = items.any(|item| item.job == "plug the hole" && item.certain);
        assert_eq!(in_plan, in_quote, "{record:?}");
        let stopped = plan.left_alone.iter().flat_map(|left| &left.jobs);
        let stopped = stopped
            .filter(|job| job.as_str() == "plug the hole: screw 1 of hinge 1 of leaf 1")
            .count();
        let in_quote = quote.left.iter().flat_map(|left| &left.jobs);
        let in_quote = in_quote
            .filter(|job| job.as_str() == "plug the hole: screw 1 of hinge 1 of leaf 1")
            .count();
        assert_eq!(stopped > 0, in_quote > 0, "{record:?}");
        (in_plan, stopped > 0)
    };
    let loose = "screw 1 of hinge 1 of leaf 1 is loose";
    assert_eq!(offered(&[loose]), (true, false));
    for part in [
        "screw 1 of hinge 1 of leaf 1",
        "hinge 1 of leaf 1",
        "leaf 1",
        "the table",
    ] {
        let leave = format!("leave: {part}; as it is");
        let back = format!("not leave: {part}");
        assert_eq!(offered(&[loose, &leave]), (false, true), "{part}");
        assert_eq!(offered(&[loose, &leave, &back]), (true, false), "{part}");
        // What may be touched before it is left alone is left alone.
        assert_eq!(offered(&[&back, loose, &leave]), (false, true), "{part}");
        assert_eq!(
            offered(&[&leave, &back, loose, &leave]),
            (false, true),
            "{part}"
        );
        // The owner may agree to just this.
        let agreed = "agreed: plug the hole; screw 1 of hinge 1 of leaf 1";
        assert_eq!(offered(&[loose, &leave, agreed]), (true, false), "{part}");
        assert_eq!(offered(&[loose, agreed, &leave]), (false, true), "{part}");
    }
    assert_eq!(offered(&[loose, "leave: leaf 2; as it is"]), (true, false));
}

/// What was mended apart from everything else changes nothing else: the chances, reasons and
/// checks that are worked out over both moments are those of one moment.
#[test]
fn both_moments_together_come_to_the_same_as_one_where_nothing_bears_on_it() {
    let folder = Folder::new("apart");
    let found = [
        "leaf 1 is sagging",
        "leaf 1 is split 3 mm wide",
        "leaf 2 looks creaking",
        "screw 1 of hinge 1 of leaf 2 is loose",
        "hinge 1 of leaf 1 is not bent",
        "hinge 2 of leaf 2 is certainly under strain",
    ];
    let job = folder.open(&lines(
        &[&found[..], &["done: turn a knob; the knob"][..]].concat(),
    ));
    let (of_found, now) = (
        job.as_found().expect("in order"),
        job.view().expect("in order"),
    );
    assert!(now.later().is_some());
    let near = |one: f64, other: f64| (one - other).abs() < 1e-3 * (1.0 + one.abs());
    let checks = |view: &JobView<'_>| {
        let checks = view.next().expect("in order").expect("no clash");
        let mut all: Vec<_> = checks
            .into_iter()
            .map(|c| (c.words, c.worth, c.changes))
            .collect();
        all.sort_by(|a, b| a.0.cmp(&b.0));
        all
    };
    let (one, other) = (checks(&of_found), checks(&now));
    assert!(one.len() > 4, "{}", one.len());
    assert_eq!(one.len(), other.len());
    for (one, other) in one.iter().zip(&other) {
        assert_eq!(one.0, other.0);
        assert!(near(one.1, other.1), "{one:?} against {other:?}");
        for (a, b) in one.2.iter().zip(&other.2) {
            assert!(near(a.now, b.now) && near(a.saves, b.saves), "{a:?}, {b:?}");
        }
    }
    let (one, other) = (of_found.triage(), now.triage());
    let (one, other) = (one.expect("in order"), other.expect("in order"));
    let suspects = |triage: &Triage| {
        let all = triage.groups.iter().flat_map(|g| g.suspects.clone());
        let mut all: Vec<_> = all.map(|s| ((s.part, s.state), s)).collect();
        all.sort_by_key(|(at, _)| *at);
        all
    };
    let knob = |name: &str| one.groups.iter().find(|g| g.name == name).map(|g| g.part);
    let knob = knob("the knob");
    // What is mended is suspected no longer.
    let (mut one, other) = (suspects(&one), suspects(&other));
    one.retain(|(at, _)| Some(at.0) != knob);
    assert_eq!(one.len(), other.len());
    for ((at, a), (_, b)) in one.into_iter().zip(other) {
        assert!(near(a.chance, b.chance), "{a:?} against {b:?}");
        assert_eq!(a.reasons.len(), b.reasons.len(), "{a:?} against {b:?}");
        let why = of_found
            .why(at.0, at.1)
            .expect("in order")
            .expect("no clash");
        let why_now = now.why(at.0, at.1).expect("in order").expect("no clash");
        assert!(near(why.chance, why_now.chance));
        assert_eq!(why.weights.len(), why_now.weights.len(), "{why:?}");
        for x in &why.weights {
            // What weighs the same may stand in either order.
            let mut others = why_now.weights.iter();
            let y = others.find(|y| y.from == x.from).expect("the same");
            assert!(
                near(x.in_order, y.in_order) && near(x.without, y.without),
                "{x:?}, {y:?}"
            );
            assert_eq!(x.sentences.is_empty(), y.sentences.is_empty());
        }
        for (x, y) in why.next.iter().zip(&why_now.next) {
            assert!(near(x.expected, y.expected), "{x:?}, {y:?}");
        }
    }
}
