//! Notes in a restorer's own words: the corpus of hurried phrases, scored, and what must
//! hold of any note.

mod common;

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use common::{Piece, piece_of};
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, PartRef};
use tellmark_language::words::{fact_line, list, part_name};
use tellmark_notes::What;

/// A note and what a colleague would take it for.
struct Phrase {
    group: String,
    piece: String,
    typed: String,
    meant: Meant,
}

enum Meant {
    Findings(Vec<String>),
    Ask(Vec<Vec<String>>),
    Remark,
}

/// The phrases of a file, and the pieces that it speaks of.
fn corpus(file: &Path) -> (Vec<Phrase>, BTreeMap<String, Piece>) {
    let text = fs::read_to_string(file).expect("a file of phrases");
    let mut group = String::new();
    let mut phrases = Vec::new();
    let mut pieces = BTreeMap::new();
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        if let Some(name) = line.strip_prefix("== ") {
            name.clone_into(&mut group);
        } else if let Some((name, words)) = line
            .strip_prefix("piece ")
            .and_then(|l| l.split_once(" = "))
        {
            let (family, words) = words.split_once(": ").unwrap_or(("", words));
            pieces.insert(name.to_owned(), piece_of(family, words));
        } else if let Some((left, meant)) = line.split_once(" => ")
            && let Some((piece, typed)) = left.split_once(": ")
        {
            let findings = |words: &str| -> Vec<String> {
                words.split(';').map(|one| one.trim().to_owned()).collect()
            };
            let meant = match (meant.trim(), meant.strip_prefix("ask: ")) {
                ("remark", _) => Meant::Remark,
                (_, Some(readings)) => Meant::Ask(readings.split(" | ").map(findings).collect()),
                (all, None) => Meant::Findings(findings(all)),
            };
            phrases.push(Phrase {
                group: group.clone(),
                piece: piece.to_owned(),
                typed: typed.to_owned(),
                meant,
            });
        }
    }
    (phrases, pieces)
}

/// Every single part that facts speak of, with what is said of it: the same however parts
/// are put together.
fn each(piece: &Piece, facts: &[Fact]) -> Vec<String> {
    let mut all = Vec::new();
    for fact in facts {
        for part in piece.scene.single_parts(&fact.part) {
            let one = Fact {
                part,
                ..fact.clone()
            };
            all.push(fact_line(piece.model, &one));
        }
    }
    all.sort();
    all.dedup();
    all
}

fn meant(piece: &Piece, findings: &[String]) -> Vec<String> {
    let reader = AnswerReader::new(piece.model).about(piece.order.kind);
    let mut facts = Vec::new();
    let mut all = Vec::new();
    for finding in findings {
        // A part that is as it should be in all that can be asked of it.
        if let Some(part) = finding.strip_suffix(" is sound") {
            let part = reader.part(part).expect("a part");
            all.extend(
                piece
                    .scene
                    .single_parts(&part)
                    .iter()
                    .map(|part| sound(piece, part)),
            );
            continue;
        }
        match reader.facts(finding) {
            Ok(found) => facts.extend(found),
            Err(message) => panic!("{finding}: {}", message.said()),
        }
    }
    all.extend(each(piece, &facts));
    all.sort();
    all
}

fn sound(piece: &Piece, part: &PartRef) -> String {
    format!("{} is sound", part_name(piece.model, part))
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Came {
    /// Written at once, as meant.
    First,
    /// Right by one choice.
    Choice,
    /// Right by a key for each of several things said; a key may also leave one a remark.
    Choices,
    /// Some of it was written, rightly, and the rest kept as a remark.
    Part,
    /// Kept as a remark, or the right reading was not among those offered.
    Missed,
    /// Something else was written without asking.
    Wrong,
}

/// What became of a phrase, and in words.
fn came(phrase: &Phrase, piece: &Piece) -> (Came, String) {
    let understood = piece.reader.read(&piece.scene, &[], &phrase.typed);
    let found: Vec<Fact> = understood.found().cloned().collect();
    let questions: Vec<Vec<Vec<String>>> = understood
        .questions()
        .iter()
        .map(|question| {
            let readings = question.readings.iter();
            readings
                .map(|reading| each(piece, &reading.facts))
                .collect()
        })
        .collect();
    let mut found = each(piece, &found);
    // Older phrases do not say which parts are sound.
    let says_sound = match &phrase.meant {
        Meant::Findings(findings) => findings.iter().any(|one| one.ends_with(" is sound")),
        Meant::Ask(_) | Meant::Remark => false,
    };
    for heard in understood.heard.iter().filter(|_| says_sound) {
        if let What::InOrder(fine) = &heard.what {
            found.extend(fine.parts.iter().map(|part| sound(piece, part)));
        }
    }
    found.sort();
    found.dedup();
    let mut shown = format!("wrote {:?}", list(&found));
    for heard in &understood.heard {
        if let What::InOrder(fine) = &heard.what {
            let fine: Vec<String> = fine.parts.iter().map(|part| sound(piece, part)).collect();
            let _ = write!(shown, "\n      as it should be: {}", list(&fine));
        }
    }
    for question in &questions {
        for (number, reading) in (1..).zip(question) {
            let _ = write!(shown, "\n      {number}  {}", reading.join(" + "));
        }
        shown.push_str("\n      --");
    }
    // Whether a set is written, together with one reading of everything that is asked.
    let reaches = |wanted: &[String]| {
        let mut open: Vec<&String> = wanted.iter().filter(|one| !found.contains(one)).collect();
        let is_wanted = |reading: &&Vec<String>| reading.iter().all(|one| wanted.contains(one));
        for question in &questions {
            let right = question.iter().filter(is_wanted);
            let most = right.max_by_key(|reading| {
                let of_it = open.iter().filter(|one| reading.contains(one));
                of_it.count()
            });
            // Where none of the readings is right, another key leaves the words a remark.
            if let Some(most) = most {
                open.retain(|one| !most.contains(one));
            }
        }
        open.is_empty() && found.iter().all(|one| wanted.contains(one))
    };
    // By one key: one thing is asked, and one of its readings is right.
    let is_one_key = |wanted: &[String]| {
        questions.len() == 1
            && questions[0]
                .iter()
                .any(|reading| reading.iter().all(|one| wanted.contains(one)))
    };
    let is_right = |wanted: &[String]| found.iter().all(|one| wanted.contains(one));
    let came = match &phrase.meant {
        Meant::Remark if found.is_empty() => Came::First,
        Meant::Remark => Came::Wrong,
        Meant::Findings(findings) => {
            let wanted = meant(piece, findings);
            match (reaches(&wanted), is_one_key(&wanted), is_right(&wanted)) {
                (_, _, false) => Came::Wrong,
                (true, _, _) if questions.is_empty() => Came::First,
                (true, true, _) => Came::Choice,
                (true, false, _) => Came::Choices,
                (false, ..) if found.is_empty() => Came::Missed,
                (false, ..) => Came::Part,
            }
        }
        Meant::Ask(readings) => {
            let wanted: Vec<Vec<String>> = readings.iter().map(|r| meant(piece, r)).collect();
            let asked = !questions.is_empty() && wanted.iter().any(|one| reaches(one));
            let by_one_key = wanted.iter().any(|one| reaches(one) && is_one_key(one));
            let harmless = found.is_empty()
                || (!questions.is_empty() && wanted.iter().any(|one| is_right(one)));
            match (asked, harmless) {
                (_, false) => Came::Wrong,
                (true, _) if by_one_key => Came::Choice,
                (true, _) => Came::Choices,
                (false, _) => Came::Missed,
            }
        }
    };
    (came, shown)
}

/// The score of a file by group, and the phrases that did not come out right.
fn score(file: &Path) -> (BTreeMap<String, BTreeMap<Came, usize>>, String) {
    let mut groups: BTreeMap<String, BTreeMap<Came, usize>> = BTreeMap::new();
    let mut failures = String::new();
    let (phrases, pieces) = corpus(file);
    for phrase in phrases {
        let piece = pieces.get(&phrase.piece);
        let piece = piece.unwrap_or_else(|| panic!("no piece is called {}", phrase.piece));
        let (came, shown) = came(&phrase, piece);
        *groups
            .entry(phrase.group.clone())
            .or_default()
            .entry(came)
            .or_default() += 1;
        let Phrase { piece, typed, .. } = &phrase;
        if came >= least_shown() {
            let _ = writeln!(failures, "{came:?}: {piece}: {typed}\n    {shown}");
        }
    }
    (groups, failures)
}

/// What is shown of a score: what did not come out right; with `NOTES_SHOW=asked` also what was
/// asked, with `NOTES_SHOW=all` every phrase.
fn least_shown() -> Came {
    match std::env::var("NOTES_SHOW").as_deref() {
        Ok("all") => Came::First,
        Ok("asked") => Came::Choice,
        _ => Came::Part,
    }
}

/// How many keys are pressed for each thing that is noted: what is typed, Enter, and a key for
/// each question; of the phrases that come out right and of which it is said what they mean.
fn keys_a_finding(file: &Path) -> f64 {
    let (phrases, pieces) = corpus(file);
    let (mut keys, mut findings) = (0, 0);
    for phrase in &phrases {
        let Meant::Findings(meant) = &phrase.meant else {
            continue;
        };
        let piece = &pieces[&phrase.piece];
        if came(phrase, piece).0 <= Came::Choices {
            let understood = piece.reader.read(&piece.scene, &[], &phrase.typed);
            keys += phrase.typed.chars().count() + 1 + understood.questions().len();
            findings += meant.len();
        }
    }
    let number = |count: usize| f64::from(u32::try_from(count).expect("few"));
    number(keys) / number(findings.max(1))
}

/// A table of a score, a line a group.
fn table(groups: &BTreeMap<String, BTreeMap<Came, usize>>) -> String {
    let mut table =
        String::from("group        phrases  first  choice  choices  part  missed  wrong\n");
    let mut all: BTreeMap<Came, usize> = BTreeMap::new();
    let row = |name: &str, counts: &BTreeMap<Came, usize>| {
        let of = |came: Came| counts.get(&came).copied().unwrap_or(0);
        format!(
            "{name:12} {:7} {:6} {:7} {:8} {:5} {:7} {:6}\n",
            counts.values().sum::<usize>(),
            of(Came::First),
            of(Came::Choice),
            of(Came::Choices),
            of(Came::Part),
            of(Came::Missed),
            of(Came::Wrong)
        )
    };
    for (name, counts) in groups {
        table.push_str(&row(name, counts));
        for (came, count) in counts {
            *all.entry(*came).or_default() += count;
        }
    }
    table.push_str(&row("all", &all));
    table
}

/// A file of phrases that is kept with the tests.
fn kept(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../tests/notes")
        .join(name)
}

/// So many in a hundred of a file are understood at first or by one choice, and at most so many
/// are written wrongly without asking.
fn is_understood(file: &Path, phrases: usize, understood: usize, wrong: usize) {
    let (groups, failures) = score(file);
    println!("{}\n{failures}", table(&groups));
    println!("{:.1} keys a finding", keys_a_finding(file));
    let of = |came: Came| {
        let counts = groups.values();
        counts
            .map(|g| g.get(&came).copied().unwrap_or(0))
            .sum::<usize>()
    };
    let all: usize = groups.values().flat_map(|g| g.values()).sum();
    let right = of(Came::First) + of(Came::Choice) + of(Came::Choices);
    assert!(all >= phrases, "{all} phrases");
    assert!(right * 100 >= all * understood, "{right} of {all}");
    assert!(
        of(Came::Wrong) * 100 <= all * wrong,
        "{} wrong",
        of(Came::Wrong)
    );
}

#[test]
fn nine_in_ten_hurried_phrases_are_understood() {
    is_understood(&kept("corpus.txt"), 400, 90, 1);
    assert!(keys_a_finding(&kept("corpus.txt")) < 30.0);
}

/// Notes about the other families are longer, and understood less well: what is reached is held.
#[test]
fn nine_in_ten_phrases_about_every_family_are_understood() {
    is_understood(&kept("families.txt"), 200, 90, 1);
}

/// Two files of a hundred that were written before any was tried: the first was used afterwards.
#[test]
fn a_third_file_about_every_family_is_understood() {
    is_understood(&kept("families-third.txt"), 100, 85, 3);
}

/// The second of them was scored once, and is put away.
#[test]
fn a_fourth_file_about_every_family_is_scored_as_it_falls() {
    let (groups, failures) = score(&kept("families-fourth.txt"));
    println!("{}\n{failures}", table(&groups));
    let all: usize = groups.values().flat_map(|g| g.values()).sum();
    assert!(all >= 100, "{all} phrases");
}

#[test]
fn phrases_about_every_family_that_were_put_away_are_scored_as_they_fall() {
    let (groups, failures) = score(&kept("families-held-out.txt"));
    println!("{}\n{failures}", table(&groups));
    let all: usize = groups.values().flat_map(|g| g.values()).sum();
    assert!(all >= 200, "{all} phrases");
}

/// The second hundred, which nothing was tuned for: shown with `--nocapture`, as it falls.
#[test]
fn the_second_hundred_is_scored_as_it_falls() {
    let (groups, failures) = score(&kept("held-out.txt"));
    println!("{}\n{failures}", table(&groups));
    let all: usize = groups.values().flat_map(|g| g.values()).sum();
    assert!(all >= 100, "{all} phrases");
}

/// Phrases of one's own, by `NOTES_FILE=… cargo test -p tellmark-notes --test corpus -- --ignored
/// --nocapture ones_own`; with `NOTES_RULES=…`, by rules in another folder.
#[test]
#[ignore = "it scores a file that whoever runs it names"]
fn a_file_of_ones_own_is_scored() {
    let file = std::env::var_os("NOTES_FILE").expect("NOTES_FILE names the file");
    let (groups, failures) = score(Path::new(&file));
    println!("{}\n{failures}", table(&groups));
}
