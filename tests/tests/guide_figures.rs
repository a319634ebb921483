//! The worked figures of the guide: each is given by the pack above it, and by the sum
//! that stands beside it.

use tellmark_compile::check::Checked;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Later, Mend, SetUp, resolve};
use tellmark_job::advice::{date, next, odd};
use tellmark_job::hours::Pert;
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, Job, Model, PartRef, StateId};
use tellmark_language::words::fact_line;
use tellmark_tests::said::{house, share, with_found};
use tellmark_tests::sum::worked_out;

const GUIDE: &str = include_str!("../../rules/LANGUAGE.md");
const HEADING: &str = "## 12. What a figure comes to\n";
const FENCE: &str = "```rules figures\n";
/// The year in which the dates of the guide are worked out.
const NOW: u16 = 2026;

/// A pack of the chapter, with the tables below it.
struct Worked<'g> {
    pack: Checked,
    piece: &'g str,
    tables: Vec<Vec<Vec<&'g str>>>,
}

fn chapter() -> &'static str {
    let from = GUIDE.split_once(HEADING).expect("the chapter").1;
    from.split("\n## ").next().expect("its end")
}

fn worked(begin: &'static str) -> Worked<'static> {
    let of_pack = format!("House rules for {begin},");
    let mut blocks = chapter().split(FENCE).skip(1);
    let block = blocks.find(|block| block.starts_with(&of_pack));
    let block = block.unwrap_or_else(|| panic!("no pack for {begin}"));
    let (rules, below) = block.split_once("```").expect("the end of the block");
    let pieces = rules.lines().find_map(|line| line.strip_prefix("Pieces: "));
    Worked {
        pack: house(rules),
        piece: pieces.expect("a piece").trim_end_matches('.'),
        tables: tables(below),
    }
}

/// The tables of a text, row by row, without their heads.
fn tables(text: &str) -> Vec<Vec<Vec<&str>>> {
    let mut all: Vec<Vec<Vec<&str>>> = Vec::new();
    let mut is_table = false;
    for line in text.lines() {
        let Some(row) = line.strip_prefix("| ") else {
            is_table = false;
            continue;
        };
        let row = row
            .trim_end_matches('|')
            .split('|')
            .map(str::trim)
            .collect();
        if !is_table {
            all.push(Vec::new());
            is_table = true;
        }
        all.last_mut().expect("a table").push(row);
    }
    for table in &mut all {
        table.drain(..2);
    }
    all
}

/// What is wrong with a figure: it must be the sum beside it and what the tool says, to
/// as many digits as are written. (The sum may have rounded figures in it.)
fn wrong(written: &str, sum: &str, tool: f64) -> Option<String> {
    let digits = written
        .split_once('.')
        .map_or(0, |(_, digits)| digits.len());
    let unit = 0.1_f64.powi(i32::try_from(digits).expect("few digits"));
    let by_hand = worked_out(sum);
    let is_right =
        format!("{tool:.digits$}") == written && (by_hand - number(written)).abs() < 1.01 * unit;
    (!is_right).then(|| format!("written {written}, by the tool {tool}, by hand {by_hand}: {sum}"))
}

/// Nothing is wrong.
fn agree(wrong: impl IntoIterator<Item = Option<String>>) {
    let wrong: Vec<String> = wrong.into_iter().flatten().collect();
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

fn number(text: &str) -> f64 {
    text.parse()
        .unwrap_or_else(|_| panic!("{text} is no number"))
}

fn found(cell: &str) -> Vec<&str> {
    match cell {
        "nothing" => Vec::new(),
        _ => cell.split(';').map(str::trim).collect(),
    }
}

fn chances(begin: &'static str, least: usize) {
    let worked = worked(begin);
    let rows: Vec<&Vec<&str>> = worked.tables.iter().take(1).flatten().collect();
    assert!(rows.len() >= least, "{begin}: {}", rows.len());
    agree(rows.into_iter().map(|row| {
        let [findings, asked, written, sum] = row[..] else {
            panic!("{row:?}");
        };
        let tool = share(&worked.pack, worked.piece, &found(findings), asked);
        wrong(written, sum, tool)
    }));
}

#[test]
fn reasons_and_answers() {
    chances("reasons", 6);
}

#[test]
fn after_something_was_mended() {
    let worked = worked("mending");
    let rows: Vec<&Vec<&str>> = worked.tables.iter().take(1).flatten().collect();
    assert!(rows.len() >= 9, "{}", rows.len());
    agree(rows.into_iter().map(|row| {
        let [noted, asked, written, sum] = row[..] else {
            panic!("{row:?}");
        };
        let tool = at_its_moment(&worked.pack, worked.piece, &found(noted), asked);
        wrong(written, sum, tool)
    }));
}

/// The chance of a state "as found: …" or "now: …", after what was noted and mended.
fn at_its_moment(checked: &Checked, piece: &str, noted: &[&str], asked: &str) -> f64 {
    let built = checked.built.as_ref().expect("the rules are in order");
    let model = &checked.reading.model;
    let reader = AnswerReader::new(model);
    let order = reader.piece(piece).expect("a piece");
    let (moment, asked) = asked.split_once(": ").expect("a moment");
    let (mut facts, mut lines, mut mended) = (Vec::new(), Vec::new(), Vec::new());
    for (line, &text) in (1..).zip(noted) {
        match text.strip_prefix("mended: ") {
            Some(state) => mended.push((line, reader.state(state).expect("a state"))),
            None => {
                let read = reader.facts(text).expect("an answer");
                lines.extend(read.iter().map(|_| line));
                facts.extend(read);
            }
        }
    }
    let facts: Vec<&Fact> = facts.iter().collect();
    let set_up = SetUp {
        model,
        built,
        order: &order,
        facts: &facts,
        later: None,
    };
    let pack = built.bytes.open().expect("a fresh pack opens");
    let mut room = Room::<f64>::default();
    let bare = set_up.bare(pack, &mut room).expect("it can be set up");
    let only = |part: &PartRef| resolve(built, &bare, part)[0];
    let mends: Vec<Mend> = mended
        .iter()
        .map(|(line, (part, state))| Mend {
            fails: fails(model, *state),
            line: *line,
            states: vec![(only(part), *state)],
        })
        .collect();
    let (part, state) = reader.state(asked).expect("a state");
    let (part, row) = (only(&part), built.states.declared(state));
    let ground = set_up.ground(&bare);
    let number = ground
        .node(&built.states, &built.places, part, row)
        .expect("there");
    let later = set_up.later(pack, &lines, &mends).expect("small enough");
    if moment == "now" {
        return later.expect("something was mended").chances()[number].expect("a chance");
    }
    let of_found = |later: &Later| later.sorted.found.iter().map(|at| facts[at.fact]).collect();
    let of_found: Vec<&Fact> = later.as_ref().map_or_else(|| facts.clone(), of_found);
    let found = SetUp {
        facts: &of_found,
        ..set_up
    };
    let mut room = Room::<f64>::default();
    let mut case = found.case(pack, &mut room).expect("it can be set up");
    case.inspection
        .chance(part, built.states.number(state))
        .expect("a chance")
        .as_f64()
}

/// How likely a mend of this is to fail, by the job that mends it.
fn fails(model: &Model, state: StateId) -> f64 {
    let mut jobs = model.jobs.iter();
    let job = jobs.find(|job| job.mends.contains(&state));
    f64::from(job.map_or(Job::FAILS, Job::fails).0) / 1000.0
}

#[test]
fn kinds() {
    chances("kinds", 4);
}

#[test]
fn that_means_sentences() {
    chances("meanings", 6);
}

#[test]
fn only_if() {
    chances("limits", 4);
}

#[test]
fn several_signs_together() {
    chances("signs together", 3);
}

#[test]
fn one_of_several() {
    chances("several", 5);
}

#[test]
fn choices() {
    chances("choices", 5);
}

#[test]
fn counts() {
    chances("counts", 5);
}

#[test]
fn findings_that_sit_oddly() {
    let worked = worked("oddness");
    let rows: Vec<&Vec<&str>> = worked.tables.iter().flatten().collect();
    assert!(rows.len() >= 3);
    agree(rows.into_iter().map(|row| {
        let [findings, doubted, written, sum] = row[..] else {
            panic!("{row:?}");
        };
        let rarer = with_found(&worked.pack, worked.piece, &found(findings), |set_up, _| {
            let pack = set_up.built.bytes.open().expect("a fresh pack opens");
            let groups = odd(set_up, pack, |_| true).expect("a small piece");
            let mut members = groups.iter().flat_map(|group| &group.found);
            members.find_map(|member| {
                let said = fact_line(set_up.model, member.fact.as_ref()?);
                let same = said == doubted;
                member.doubt.filter(|_| same).map(|doubt| doubt.rarer)
            })
        });
        wrong(
            written,
            sum,
            rarer.unwrap_or_else(|| panic!("{doubted} is not odd")),
        )
    }));
}

#[test]
fn levels_of_a_measure() {
    chances("levels", 5);
}

#[test]
fn what_is_worked_out() {
    chances("legs", 3);
}

#[test]
fn degrees() {
    chances("degrees", 8);
}

#[test]
fn levels_towards_less() {
    chances("thinness", 2);
}

#[test]
fn shares_of_a_measure() {
    chances("shares", 10);
}

/// Calls `with` with the piece of a pack as it was found.
fn set_up<T>(worked: &Worked<'_>, findings: &str, with: impl FnOnce(&SetUp<'_>) -> T) -> T {
    let found = found(findings);
    with_found(&worked.pack, worked.piece, &found, |set_up, _| with(set_up))
}

#[test]
fn what_a_check_saves() {
    let worked = worked("checks");
    assert!(!worked.tables[0].is_empty());
    agree(worked.tables[0].iter().map(|row| {
        let [findings, check, written, sum] = row[..] else {
            panic!("{row:?}");
        };
        let saves = set_up(&worked, findings, |set_up| {
            let pack = set_up.built.bytes.open().expect("opens");
            let checks = next(set_up, pack).expect("a piece").expect("no clash");
            let check = checks.iter().find(|c| c.words == check);
            check.expect("a check that is worth something").saves
        });
        wrong(written, sum, saves)
    }));
}

#[test]
fn the_time_of_a_job() {
    let worked = worked("times");
    let jobs = &worked.pack.reading.model.jobs;
    assert_eq!(worked.tables[0].len(), jobs.len());
    for row in &worked.tables[0] {
        let [name, mean, mean_sum, deviation, deviation_sum] = row[..] else {
            panic!("{row:?}");
        };
        let job = jobs.iter().find(|job| job.name == name).expect("a job");
        let time = Pert::from(job.takes.expect("a time"));
        agree([
            wrong(mean, mean_sum, time.mean()),
            wrong(deviation, deviation_sum, time.variance().sqrt()),
        ]);
    }
}

#[test]
fn dates() {
    dated("dates", 4);
}

#[test]
fn dates_beside_one_another() {
    dated("relative dates", 5);
}

fn dated(begin: &'static str, rows: usize) {
    let worked = worked(begin);
    assert_eq!(worked.tables[0].len(), rows);
    agree(worked.tables[0].iter().map(|row| {
        let [findings, asked, written, sum] = row[..] else {
            panic!("{row:?}");
        };
        let dated = set_up(&worked, findings, |set_up| {
            let pack = set_up.built.bytes.open().expect("opens");
            date(set_up, pack, None, NOW).expect("a piece")
        });
        let tool = if let Some((_, decade)) = asked.split_once(" was made in the ") {
            let year = decade.trim_end_matches('s').parse::<u16>().expect("a year");
            let named = dated.decades.iter().find(|(first, _)| *first == year);
            named.map_or(0.0, |(_, chance)| *chance)
        } else {
            let name = asked.trim_end_matches(" is original");
            let part = dated.parts.iter().find(|part| part.name.ends_with(name));
            let names: Vec<&str> = dated.parts.iter().map(|p| p.name.as_str()).collect();
            part.unwrap_or_else(|| panic!("{name}: {names:?}")).original
        };
        wrong(written, sum, tool)
    }));
}
