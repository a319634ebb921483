//! One piece by rules with kinds: what words mean on it, its work, its round, its parts.

use tellmark_compile::check::Checked;
use tellmark_compile::room::Room;
use tellmark_core::number::UFloat;
use tellmark_core::pack::OpenError;
use tellmark_core::round::Round;
use tellmark_job::advice::{Progress, plan};
use tellmark_language::model::{Fact, Found, PartRef};
use tellmark_language::words::{fact_line, read_back};
use tellmark_language::{AnswerReader, Level, Reading, SourceFile, read};
use tellmark_tests::said::{house, share, with_found};

const RULES: &str = "\
House rules for kinds, version 1.
Pieces: chest of drawers, bureau, secretaire.
Parts: foot (plural feet), bracket foot (plural bracket feet), bun foot (plural bun feet).
Parts: drawer, small drawer, knob, cornice.
For chest of drawers we also say chest.
A bureau is a kind of chest of drawers.
A secretaire is a kind of bureau.
A bracket foot is a kind of foot.
A bun foot is a kind of foot.
A small drawer is a kind of drawer.
A chest of drawers has 4 feet, 2 to 6 drawers (usually 3) and a cornice.
A drawer has 1 to 2 knobs.
A bureau has 4 bracket feet, 2 to 4 drawers (usually 2) and 2 small drawers.
A bureau has no cornice.
A secretaire has 2 bracket feet and 2 bun feet.
A small drawer has a knob.
You can see whether a foot is damp.         Ask: \"Damp?\"  On its own: in 1 of 10 cases
You can feel whether a drawer is stiff.     Ask: \"Stiff?\"  On its own: in 2 of 10 cases
You can see whether a chest of drawers is leaning.  Ask: \"Leans?\"  On its own: in 1 of 10 cases
You can count the knobs of a drawer.        Ask: \"Knobs?\"  On its own: in 1 of 10 cases
You can count the drawers of a chest.       Ask: \"Drawers?\"  On its own: in 1 of 10 cases
A foot may be rotten without showing it.    On its own: in 2 of 10 cases
If a foot is rotten then its chest is often leaning.  From: house
Job: clear the drawer, once for each drawer.  Takes: 10 minutes
Job: wax the drawer.  Takes: 10 minutes
Job: true the case.   Takes: 1 hour  First: clear the drawer and wax the drawer
When a chest is leaning then plan to true the case.  From: house
When a drawer is stiff then plan to wax the drawer.  From: house
To look over a chest of drawers:
    1. see whether the chest is leaning
    2. feel whether each drawer is stiff
    3. count the knobs of each drawer
    4. see whether each foot is damp
Example: a bureau by the words of a chest.
    Given a bureau with 2 drawers
    Given foot 2 is certainly rotten
    Given the chest is leaning
    Expect no reason for foot 1 is damp
    Expect plan to true the case
";

fn rules() -> Checked {
    let checked = house(RULES);
    let said: Vec<&str> = checked
        .reading
        .messages
        .iter()
        .map(|m| m.text.as_str())
        .collect();
    assert!(said.is_empty(), "{said:?}");
    checked
}

/// Findings as the rules' own words.
fn meant(checked: &Checked, piece: &str, text: &str) -> Result<Vec<String>, String> {
    let model = &checked.reading.model;
    let reader = AnswerReader::new(model);
    let order = reader.piece(piece).map_err(|m| m.said())?;
    let facts = reader.about(order.kind).facts(text).map_err(|m| m.said())?;
    Ok(facts.iter().map(|fact| fact_line(model, fact)).collect())
}

#[test]
fn a_general_word_means_what_the_piece_has() {
    let rules = rules();
    for (said, by_its_own_words) in [
        ("foot 2 is damp", "bracket foot 2 is damp"),
        ("bracket foot 2 is damp", "bracket foot 2 is damp"),
        (
            "foot 2 of the chest is rotten",
            "bracket foot 2 of the bureau is rotten",
        ),
        (
            "bracket foot 2 of the chest is rotten",
            "bracket foot 2 of the bureau is rotten",
        ),
        ("no foot is damp", "no bracket foot is damp"),
        ("the feet are damp", "every bracket foot is damp"),
        ("drawer 2 is stiff", "drawer 2 is stiff"),
        ("small drawer 2 is stiff", "small drawer 2 is stiff"),
        ("the chest is leaning", "the bureau is leaning"),
        ("the chest of drawers is leaning", "the bureau is leaning"),
        ("the bureau is leaning", "the bureau is leaning"),
        ("the chest has 3 drawers", "the bureau has 3 drawers"),
        (
            "knob 1 of drawer 1 cannot be seen",
            "knob 1 of drawer 1 cannot be seen",
        ),
    ] {
        assert_eq!(
            meant(&rules, "bureau", said),
            Ok(vec![by_its_own_words.to_owned()]),
            "{said}"
        );
    }
    // Of both kinds of drawer, one after the other.
    let both = ["every drawer is stiff", "every small drawer is stiff"];
    for said in ["every drawer is stiff", "the drawers are stiff"] {
        assert_eq!(
            meant(&rules, "bureau", said),
            Ok(both.map(str::to_owned).to_vec())
        );
    }
    // The general kind itself has its own.
    assert_eq!(
        meant(&rules, "chest of drawers", "foot 2 is damp"),
        Ok(vec!["foot 2 is damp".to_owned()])
    );
    let which = meant(&rules, "secretaire", "foot 2 is damp");
    assert_eq!(
        which,
        Err(
            "\"foot\" could be several things here: bracket feet and bun feet. Say which, as in \
             \"bun foot 2\"."
                .to_owned()
        )
    );
    assert_eq!(
        meant(&rules, "secretaire", "every foot is damp").map(|facts| facts.len()),
        Ok(2)
    );
}

#[test]
fn a_piece_is_ordered_by_the_parts_it_has() {
    let rules = rules();
    let reader = AnswerReader::new(&rules.reading.model);
    let order = |text: &str| {
        reader
            .piece(text)
            .map(|order| order.counts)
            .map_err(|m| m.said())
    };
    assert_eq!(
        order("bureau with 4 feet"),
        order("bureau with 4 bracket feet")
    );
    assert!(order("bureau with 4 feet").is_ok());
    assert!(order("bureau with 5 drawers").is_err_and(|why| why.contains("2 to 4 drawers")));
    assert!(order("bureau with a cornice").is_err());
    assert!(order("secretaire with 2 feet").is_err_and(|why| why.contains("several things")));
}

/// The chances of a special kind follow from what is said of the general kind.
#[test]
fn rules_reach_the_special_kind() {
    let rules = rules();
    let rotten = ["bracket foot 1 is certainly rotten"];
    let nothing = share(&rules, "bureau", &[], "the bureau is leaning");
    let four = 1.0 - 0.9 * (1.0_f64 - 0.2 * 0.6).powi(4);
    assert!((nothing - four).abs() < 1e-12, "{nothing}");
    let one = 1.0 - 0.9 * (1.0_f64 - 0.2 * 0.6).powi(3) * 0.4;
    let found = share(&rules, "bureau", &rotten, "the chest is leaning");
    assert!((found - one).abs() < 1e-12, "{found}");
    let mixed = share(
        &rules,
        "secretaire",
        &["bun foot 2 is certainly rotten"],
        "the chest is leaning",
    );
    assert!((mixed - one).abs() < 1e-12, "{mixed}");
}

fn planned(checked: &Checked, piece: &str, found: &[&str]) -> Vec<String> {
    with_found(checked, piece, found, |set_up, _| {
        let pack = set_up.built.bytes.open().expect("it opens");
        let plan = plan(set_up, pack, &Progress::default()).expect("it fits");
        let jobs = &set_up.model.jobs;
        let name = |job: usize| jobs[job].name.as_str();
        let steps = plan.steps.iter().filter(|step| !step.certain.is_empty());
        let mut all: Vec<String> = steps
            .flat_map(|step| {
                step.certain
                    .iter()
                    .map(|part| format!("{}: {part}", name(step.job)))
            })
            .collect();
        all.sort();
        all
    })
}

#[test]
fn a_job_once_for_each_is_done_for_every_kind() {
    let rules = rules();
    let leaning = [
        "the chest is certainly leaning",
        "small drawer 1 is certainly stiff",
    ];
    assert_eq!(
        planned(&rules, "bureau", &leaning),
        [
            "clear the drawer: drawer 1",
            "clear the drawer: drawer 2",
            "clear the drawer: small drawer 1",
            "clear the drawer: small drawer 2",
            "true the case: the bureau",
            "wax the drawer: small drawer 1",
        ]
    );
}

/// A job of smaller parts stays with those, also where no part of some kind stands.
#[test]
fn a_job_of_smaller_parts_is_one_for_every_kind() {
    let rules = rules();
    assert_eq!(
        planned(
            &rules,
            "chest of drawers",
            &["the chest is certainly leaning"]
        ),
        [
            "clear the drawer: drawer 1",
            "clear the drawer: drawer 2",
            "clear the drawer: drawer 3",
            "true the case: the chest of drawers",
        ]
    );
}

#[test]
fn the_round_of_the_general_kind_serves() {
    let rules = rules();
    let walked = |piece: &str| -> Vec<String> {
        with_found(&rules, piece, &[], |set_up, _| {
            let pack = set_up.built.bytes.open().expect("it opens");
            let mut room = Room::<UFloat>::default();
            let mut case = set_up.case(pack, &mut room).expect("it fits");
            let round = Round::of(&pack, case.inspection.piece());
            let wanted = round.wanted(&mut case.inspection);
            let mut visits = Vec::new();
            round.walk(&pack, case.inspection.piece(), &wanted, |visit| {
                let parts = case.inspection.piece().parts();
                let part =
                    tellmark_compile::set_up::part_ref(&set_up.built.places, parts, visit.part);
                let part = tellmark_language::words::part_name(set_up.model, &part);
                let ask = pack.ask(usize::from(visit.ask));
                visits.push(format!("{part}: {}", pack.text(ask.question)));
                true
            });
            visits
        })
    };
    assert_eq!(
        walked("bureau with 2 drawers"),
        [
            "the bureau: Leans?",
            "drawer 1: Stiff?",
            "drawer 1: Knobs?",
            "drawer 2: Stiff?",
            "drawer 2: Knobs?",
            "small drawer 1: Stiff?",
            "small drawer 2: Stiff?",
            "bracket foot 1: Damp?",
            "bracket foot 2: Damp?",
            "bracket foot 3: Damp?",
            "bracket foot 4: Damp?",
        ]
    );
}

#[test]
fn kinds_are_read_back() {
    let rules = rules();
    let said: Vec<String> = read_back(&rules.reading.model)
        .into_iter()
        .map(|entry| entry.text)
        .collect();
    let once = |words: &str| said.iter().filter(|text| text.contains(words)).count();
    for text in [
        "A bureau is a kind of chest of drawers. It has 4 bracket feet instead of its feet; 2 to 4 \
         drawers (taken as 2 until counted) instead of 2 to 6 drawers; 2 small drawers; no cornice.",
        "A secretaire is a kind of bureau. It has 2 bracket feet instead of 4 bracket feet; 2 bun \
         feet; like any bureau 2 to 4 drawers (taken as 2 until counted) and 2 small drawers.",
        "A bracket foot is a kind of foot.",
        "A small drawer is a kind of drawer. It has 1 knob instead of 1 to 2 knobs.",
    ] {
        assert!(said.iter().any(|one| one == text), "{said:#?}");
    }
    assert_eq!(once("rotten, its chest of drawers is often"), 1);
    assert_eq!(once("may be rotten"), 1);
    assert_eq!(once("whether a foot is damp"), 1);
    assert_eq!(once("bracket foot is damp"), 0);
    assert_eq!(once("Looking over a chest of drawers, 2"), 1);
    assert_eq!(once("Looking over a bureau"), 0);
}

/// What is usual where nothing is said holds for what is said of kinds too.
#[test]
fn usual_starts_are_read_back() {
    let more = "\
Unless we say otherwise, a sign is there on its own: rarely.
You can see whether a knob is odd.  Ask: \"Odd?\"
If any knob of a drawer is odd then the drawer is sometimes stiff.  From: house
";
    let rules = house(&format!("{RULES}{more}"));
    let said = read_back(&rules.reading.model);
    let odd = said.iter().find(|one| one.text.contains("a knob is odd"));
    let text = odd.map_or("", |one| one.text.as_str());
    assert!(text.contains("so on its own rarely (1 in 10)"), "{text}");
}

fn both(standard: &str, own: &str) -> Reading {
    let file = |name: &str, text: &str, standard| SourceFile {
        name: name.to_owned(),
        text: text.to_owned(),
        standard,
    };
    read(vec![
        file("standard.rules.txt", standard, true),
        file("own.rules.txt", own, false),
    ])
}

/// A house may say what its own pieces are kinds of, and have other parts than the standard
/// rules say.
#[test]
fn a_house_builds_on_standard_kinds() {
    let own = "\
Pieces: escritoire.
An escritoire is a kind of secretaire.
A bureau is a kind of chest of drawers.
A bureau has a cornice.
A secretaire has no bun feet.
";
    let reading = both(RULES, own);
    let stop: Vec<&str> = reading
        .messages
        .iter()
        .filter(|m| m.level == Level::Stop)
        .map(|m| m.text.as_str())
        .collect();
    assert!(stop.is_empty(), "{stop:?}");
    let model = &reading.model;
    let parts = |piece: &str| -> Vec<String> {
        let kind = model.kinds.iter().find(|kind| kind.name == piece);
        let members = kind.map(|kind| kind.members.clone()).unwrap_or_default();
        let name = |kind: usize| model.kinds[kind].name.clone();
        members
            .iter()
            .map(|m| format!("{} {}", m.usual, name(m.kind.index())))
            .collect()
    };
    let bureau = ["4 bracket foot", "2 drawer", "2 small drawer", "1 cornice"];
    assert_eq!(parts("bureau"), bureau);
    let secretaire = ["2 bracket foot", "2 drawer", "2 small drawer", "1 cornice"];
    assert_eq!(parts("secretaire"), secretaire);
    assert_eq!(parts("escritoire"), secretaire);
    assert_eq!(model.changes.len(), 2, "{:?}", model.changes);
}

/// What a house has of one kind of foot takes the place of standard feet, unless it says both.
#[test]
fn a_house_has_its_own_kind_of_part_instead() {
    let usual = |own: &str| -> Vec<u8> {
        let reading = both(RULES, own);
        let said: Vec<&str> = reading.messages.iter().map(|m| m.text.as_str()).collect();
        assert!(reading.is_usable(), "{said:?}");
        let chest = &reading.model.kinds[1];
        assert_eq!(chest.name, "chest of drawers");
        let mut feet: Vec<(String, u8)> = chest
            .members
            .iter()
            .map(|m| (reading.model.kinds[m.kind.index()].name.clone(), m.usual))
            .filter(|(name, _)| name.contains("foot"))
            .collect();
        feet.sort();
        feet.into_iter().map(|(_, usual)| usual).collect()
    };
    assert_eq!(usual("A chest of drawers has 3 bracket feet."), [3]);
    assert_eq!(
        usual("A chest of drawers has 2 feet and 3 bracket feet."),
        [3, 2]
    );
    assert_eq!(usual("A drawer has 2 knobs."), [4]);
}

/// What is said again of a kind has its own figures and keeps the rest.
#[test]
fn figures_of_its_own() {
    let more = "\
A bracket foot may be rotten without showing it.  On its own: in 5 of 10 cases  Missed: 1 hour, risk 2
You can see whether a bracket foot is damp.  On its own: in 3 of 10 cases
";
    let rules = house(&format!("{RULES}{more}"));
    let rotten = |piece: &str| share(&rules, piece, &[], "foot 1 is rotten");
    assert!((rotten("bureau") - 0.5).abs() < 1e-12);
    assert!((rotten("chest") - 0.2).abs() < 1e-12);
    let model = &rules.reading.model;
    let damp = model
        .signs
        .iter()
        .filter(|sign| sign.ask.as_deref() == Some("Damp?"));
    assert_eq!(damp.count(), 3, "the question stays");
    let said: Vec<u16> = rules.reading.messages.iter().map(|m| m.number()).collect();
    assert!(!said.contains(&49), "the round asks for it: {said:?}");
}

/// What has feet only of special kinds has no feet to count but these.
#[test]
fn only_what_there_is_is_counted() {
    let text = "\
House rules for stands, version 1.
Pieces: stand, tall stand.
Parts: foot (plural feet), bun foot (plural bun feet), claw foot (plural claw feet).
A bun foot is a kind of foot.
A claw foot is a kind of foot.
A tall stand is a kind of stand.
A stand has 1 to 4 bun feet (usually 3).
A tall stand has 0 to 2 claw feet and 3 bun feet.
You can count the feet of a stand.  Ask: \"Feet?\"  On its own: in 1 of 10 cases
You can see whether a stand is low.  Ask: \"Low?\"  On its own: in 1 of 10 cases
If a stand has fewer than 3 feet then it is usually low.  From: house
To look over a stand:
    1. count the feet of the stand
    2. see whether the stand is low
";
    let rules = house(text);
    let questions = |piece: &str| -> Vec<String> {
        with_found(&rules, piece, &[], |set_up, _| {
            let pack = set_up.built.bytes.open().expect("it opens");
            let root = pack.root_of(set_up.order.kind.0).expect("a piece");
            let asks = pack.asks_of(root).map(|ask| pack.ask(usize::from(ask)));
            asks.map(|ask| pack.text(ask.phrase).to_owned()).collect()
        })
    };
    assert_eq!(questions("stand"), ["bun feet", "low"]);
    assert_eq!(questions("tall stand"), ["low", "claw feet"]);
    let low = |piece: &str, found: &[&str]| share(&rules, piece, found, "the stand is low");
    assert!((low("stand", &["the stand has 2 feet"]) - (1.0 - 0.9 * 0.2)).abs() < 1e-12);
    assert!((low("stand", &["the stand has 3 bun feet"]) - 0.1).abs() < 1e-12);
    // Three bun feet alone are enough.
    assert!((low("tall stand", &[]) - 0.1).abs() < 1e-12);
}

/// A pack with kinds says that it needs a reader who knows them; another is as it was.
#[test]
fn only_packs_with_kinds_need_a_new_reader() {
    let version = |checked: &Checked| -> [u8; 2] {
        let bytes = checked.built.as_ref().expect("built").bytes.bytes();
        [bytes[9], bytes[20]]
    };
    assert_eq!(version(&rules()), [3, 3]);
    let plain = house("House rules for plain, version 1.\nPieces: box.\n");
    assert_eq!(version(&plain), [2, 0]);
}

/// A pack in which something is a kind of itself, or of what there is not, does not open.
#[test]
fn a_bad_lineage_is_refused() {
    let checked = rules();
    let bytes = checked
        .built
        .as_ref()
        .expect("built")
        .bytes
        .bytes()
        .to_vec();
    let entries = usize::from(bytes[21]);
    let row = |at: usize| 32 + 12 * at;
    let entry = (0..entries)
        .map(row)
        .find(|&at| bytes[at] == 20)
        .expect("a section");
    let offset = u32::from_le_bytes(bytes[entry + 4..entry + 8].try_into().expect("four bytes"));
    let offset = usize::try_from(offset).expect("small");
    for general in [
        u16::MAX,
        u16::from_le_bytes([bytes[offset], bytes[offset + 1]]),
    ] {
        let mut bad = bytes.clone();
        bad[offset + 2..offset + 4].copy_from_slice(&general.to_le_bytes());
        let mut digest = tellmark_core::pack::CHECKSUM.digest();
        digest.update(&bad[..16]);
        digest.update(&bad[20..]);
        let sum = digest.finalize().to_le_bytes();
        bad[16..20].copy_from_slice(&sum);
        let pack = tellmark_compile::room::PackBytes::new(&bad);
        assert_eq!(pack.open().err(), Some(OpenError::Record(20, 0)));
    }
}

/// (So that a fact can be made by hand in tests of other files.)
#[test]
fn a_part_alone_is_of_one_kind() {
    let rules = rules();
    let model = &rules.reading.model;
    let reader = AnswerReader::new(model);
    let kind = reader.piece("bureau").expect("a piece").kind;
    let reader = reader.about(kind);
    let part: Result<PartRef, String> = reader.part("every drawer").map_err(|m| m.said());
    assert!(part.is_err_and(|why| why.contains("every small drawer")));
    let part = reader.part("the feet").expect("bracket feet");
    let fact = Fact {
        at: part.at,
        part,
        found: Found::PartCannotBeSeen,
    };
    assert_eq!(fact_line(model, &fact), "every bracket foot cannot be seen");
}

const STANDS: &str = "\
House rules for stands, version 1.
Pieces: stand, tall stand.
Parts: leg, turned leg.
A tall stand is a kind of stand.
A turned leg is a kind of leg.
A stand has 2 legs.
You can measure how much a leg is worn, in mm, from 0 to 50.  Ask: \"Worn?\"  Reads to: 0.5 mm
You can see whether a leg is split.  Ask: \"Split?\"  On its own: in 1 of 10 cases
You can see whether a stand is plain.  Ask: \"Plain?\"  On its own: in 1 of 10 cases
A stand may be twisted without showing it.  On its own: in 1 of 10 cases
";
const WORN: &str = "\
How far a stand is worn in all is the sum of how much its legs are worn.  On its own: in 5 of 10 cases
A stand counts as tired when it is worn in all at least 20 mm.  On its own: in 1 of 10 cases
If a stand is twisted then it is usually tired.  From: house
";

fn stops(rules: &str) -> Vec<u16> {
    let messages = house(rules).reading.messages;
    let stops = messages.iter().filter(|m| m.level == Level::Stop);
    stops.map(tellmark_language::Message::number).collect()
}

/// What is worked out is out by as much as the readings of the parts that this kind has.
#[test]
fn what_is_worked_out_has_the_spread_of_the_kinds_own_parts() {
    let kinds = format!("{STANDS}A tall stand has 6 turned legs.\n{WORN}");
    let flat = STANDS
        .replace("A tall stand is a kind of stand.\n", "")
        .replace("A turned leg is a kind of leg.\n", "")
        .replace("A stand has 2 legs.", "A tall stand has 6 turned legs.")
        .replace(" a leg ", " a turned leg ")
        .replace(" a stand ", " a tall stand ")
        .replace("A stand ", "A tall stand ");
    let worn = WORN
        .replace("its legs", "its turned legs")
        .replace(" a stand ", " a tall stand ")
        .replace("A stand ", "A tall stand ");
    let found = ["every turned leg is worn 3.2 mm"];
    let of = |rules: &str| {
        share(
            &house(rules),
            "tall stand",
            &found,
            "the tall stand is twisted",
        )
    };
    let (by_kinds, by_hand) = (of(&kinds), of(&format!("{flat}{worn}")));
    assert!((by_kinds - by_hand).abs() < 1e-12, "{by_kinds} {by_hand}");
    assert!(
        (by_kinds - 0.1).abs() > 0.01,
        "it says something: {by_kinds}"
    );
}

/// A number that only a kind can have is no slip.
#[test]
fn a_kind_may_have_more_than_its_general_kind() {
    let rules = format!(
        "{STANDS}A tall stand has 6 turned legs.\nIf at least three legs of a stand are split then the stand is often twisted.  From: house\n"
    );
    assert_eq!(stops(&rules), [0_u16; 0]);
    let split = ["every leg is certainly split"];
    let twisted = |piece: &str, asked: &str| share(&house(&rules), piece, &split, asked);
    assert!((twisted("stand", "the stand is twisted") - 0.1).abs() < 1e-12);
    let tall = twisted("tall stand", "the tall stand is twisted");
    assert!((tall - (1.0 - 0.9 * 0.4)).abs() < 1e-12, "{tall}");
    assert_eq!(stops(&rules.replace("three legs", "seven legs")), [38]);
}

/// "One of its legs is later" cannot be told of legs of two kinds together.
#[test]
fn one_later_part_of_several_kinds_is_refused() {
    let both = "A tall stand has 1 leg and 2 turned legs.\nA stand that is plain has a later leg.  From: house\n";
    assert_eq!(stops(&format!("{STANDS}{both}")), [189]);
    let one = both.replace("1 leg and 2", "3");
    assert_eq!(stops(&format!("{STANDS}{one}")), [0_u16; 0]);
}

/// Of a sentence spelt out for several kinds, it is enough that one is for the job.
#[test]
fn a_job_of_one_kind_is_replaced_by_the_words_of_another() {
    let work = "\
A tall stand has 6 turned legs.
When a turned leg is split then plan to glue the leg.  Takes: 1 hour  From: house
When a leg is split, instead of glue the leg plan to pin the leg.  Takes: 1 hour  From: house
";
    assert_eq!(stops(&format!("{STANDS}{work}")), [0_u16; 0]);
    let owner = work.replace(
        "When a leg is split, instead",
        "When a stand is plain, instead",
    );
    assert_eq!(stops(&format!("{STANDS}{owner}")), [0_u16; 0]);
}
