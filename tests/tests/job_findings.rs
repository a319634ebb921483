//! Which lines of a record stand, which were put right, and which speak of a
//! part that the piece has not.

use jiff::civil::date;
use tellmark_job::record::{Findings, Line, When, has_part};
use tellmark_language::model::Model;
use tellmark_language::words;
use tellmark_language::{SourceFile, read_facts, read_piece};

fn model() -> Model {
    let text = include_str!("../../host/command/tests/house/stand.rules.txt");
    let reading = tellmark_language::read(vec![SourceFile {
        name: "stand.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    }]);
    assert_eq!(reading.messages, []);
    reading.model
}

fn record(texts: &[&str]) -> Vec<Line> {
    texts
        .iter()
        .enumerate()
        .map(|(at, text)| Line {
            by: None,
            number: at + 1,
            when: When::Minute(date(2026, 11, 25).at(10, 14, 0, 0), None),
            text: (*text).to_owned(),
        })
        .collect()
}

/// Each finding as `line: text` and what put it right.
fn told(texts: &[&str]) -> Vec<String> {
    let model = model();
    let findings = Findings::read(&model, &record(texts), |text| read_facts(&model, text));
    assert!(findings.not_understood.is_empty());
    findings
        .all
        .iter()
        .map(|f| {
            let said = words::fact_line(&model, &f.fact);
            match f.put_right_by {
                None => format!("{}: {said}", f.number),
                Some(by) => format!("{}: {said} (put right by {by})", f.number),
            }
        })
        .collect()
}

#[test]
fn the_latest_line_about_the_same_part_and_sign_counts() {
    assert_eq!(
        told(&[
            "swivel 1 is seized",
            "swivel 2 is seized",
            "swivel 1 shows verdigris",
            "swivel 1 looks seized",
            "swivel 1 is not seized",
        ]),
        [
            "1: swivel 1 is seized (put right by 4)",
            "2: swivel 2 is seized",
            "3: swivel 1 shows verdigris",
            "4: swivel 1 looks seized (put right by 5)",
            "5: swivel 1 is not seized",
        ]
    );
}

#[test]
fn a_part_is_the_same_under_each_of_its_names() {
    assert_eq!(
        told(&[
            "upper collar of swivel 1 is perished",
            "ferrule 1 of swivel 1 is certainly not perished",
            "ledge 1 is split 2 mm wide",
            "the ledge is split 3 mm wide",
        ]),
        [
            "1: upper collar of swivel 1 is perished (put right by 2)",
            "2: collar 1 of swivel 1 is certainly not perished",
            "3: ledge 1 is split 2 mm wide (put right by 4)",
            "4: the ledge is split 3 mm wide",
        ]
    );
}

#[test]
fn all_puts_right_one_but_one_does_not_put_right_all() {
    assert_eq!(
        told(&[
            "swivel 1 is seized",
            "no swivel is seized",
            "swivel 2 is seized"
        ]),
        [
            "1: swivel 1 is seized (put right by 2)",
            "2: no swivel is seized",
            "3: swivel 2 is seized",
        ]
    );
}

#[test]
fn an_owner_that_is_not_named_may_be_any() {
    assert_eq!(
        told(&[
            "no collar is perished",
            "every collar of swivel 1 is perished",
            "upper collar of swivel 2 is perished",
            "no collar of every swivel is perished",
        ]),
        [
            "1: no collar is perished (put right by 4)",
            "2: every collar of swivel 1 is perished (put right by 4)",
            "3: upper collar of swivel 2 is perished (put right by 4)",
            "4: no collar of every swivel is perished",
        ]
    );
}

#[test]
fn an_answer_can_be_taken_back() {
    assert_eq!(
        told(&[
            "swivel 1 has 2 thumbscrews",
            "have not counted the thumbscrews of swivel 1",
            "the ledge is split 2 mm wide",
            "cannot measure how wide the ledge is split",
            "collar 1 of swivel 1 is perished",
            "have not looked whether collar 1 of swivel 1 is perished",
        ]),
        [
            "1: swivel 1 has 2 thumbscrews (put right by 2)",
            "2: have not counted the thumbscrews of swivel 1",
            "3: the ledge is split 2 mm wide (put right by 4)",
            "4: cannot measure how wide the ledge is split",
            "5: collar 1 of swivel 1 is perished (put right by 6)",
            "6: have not looked whether collar 1 of swivel 1 is perished",
        ]
    );
}

#[test]
fn a_part_stays_out_of_sight_until_it_can_be_seen() {
    assert_eq!(
        told(&[
            "swivel 1 cannot be seen",
            "swivel 1 is seized",
            "swivel 1 can be seen",
            "swivel 1 cannot be seen"
        ]),
        [
            "1: swivel 1 cannot be seen (put right by 3)",
            "2: swivel 1 is seized",
            "3: swivel 1 can be seen (put right by 4)",
            "4: swivel 1 cannot be seen",
        ]
    );
}

#[test]
fn a_line_that_is_not_understood_stops_nothing() {
    let model = model();
    let lines = record(&[
        "swivel 1 is seized",
        "phoned the owner",
        "swivel 2 is seized",
    ]);
    let findings = Findings::read(&model, &lines, |text| read_facts(&model, text));
    assert_eq!(findings.standing().count(), 2);
    let numbers: Vec<usize> = findings
        .not_understood
        .iter()
        .map(|n| n.line.number)
        .collect();
    assert_eq!(numbers, [2]);
}

/// Why a finding cannot be about a piece that was opened like this, and of which these
/// lines are known; `None` if it can.
fn refused_of(opened: &str, record_lines: &[&str], finding: &str) -> Option<String> {
    let model = model();
    let order = read_piece(&model, opened).unwrap();
    let findings = Findings::read(&model, &record(record_lines), |text| {
        read_facts(&model, text)
    });
    let known: Vec<_> = findings.standing().map(|f| &f.fact).collect();
    let facts = read_facts(&model, finding).unwrap();
    let mut none = facts.iter();
    none.find_map(|fact| has_part(&model, &order, &known, fact).err())
        .map(|none| none.to_string())
}

#[test]
fn a_piece_has_the_parts_it_was_opened_with_or_that_were_counted_since() {
    let refused = |record_lines: &[&str], finding: &str| {
        refused_of("music stand with 2 swivels", record_lines, finding)
    };
    assert_eq!(refused(&[], "swivel 2 is seized"), None);
    assert_eq!(refused(&[], "lower collar of swivel 2 is perished"), None);
    assert_eq!(refused(&[], "the piece cannot be seen"), None);
    assert_eq!(refused(&[], "every thumbscrew is winged"), None);
    assert_eq!(refused(&[], "thumbscrew 1 of swivel 2 is winged"), None);
    assert_eq!(
        refused(&[], "thumbscrew 2 of swivel 2 is winged").unwrap(),
        "As far as this job says swivel 2 has 1 thumbscrew, so there is no thumbscrew 2 of \
         swivel 2. If it has more, note first: swivel 2 has 2 thumbscrews."
    );
    let counted = ["swivel 2 has 2 thumbscrews"];
    assert_eq!(
        refused(&counted, "thumbscrew 2 of swivel 2 is winged"),
        None
    );
    assert!(refused(&counted, "thumbscrew 2 of swivel 1 is winged").is_some());
    let none = ["swivel 2 has no thumbscrews"];
    assert_eq!(
        refused(&none, "thumbscrew 1 of swivel 2 is winged").unwrap(),
        "As far as this job says swivel 2 has no thumbscrews, so there is no thumbscrew 1 of \
         swivel 2. If it has more, note first: swivel 2 has 1 thumbscrew."
    );
}

#[test]
fn what_was_counted_of_the_piece_itself_counts() {
    let opened = "music stand with 1 swivel";
    for counted in [
        "the music stand has 2 swivels",
        "the piece has 2 swivels",
        "it has 2 swivels",
    ] {
        let lines = [counted];
        for finding in [
            "swivel 2 is seized",
            "swivel 2 of the piece is seized",
            "swivel 2 of the music stand is seized",
            "lower collar of swivel 2 is perished",
        ] {
            let none = refused_of(opened, &lines, finding);
            assert_eq!(none, None, "{counted}, {finding}");
        }
        let beyond = refused_of(opened, &lines, "swivel 3 is seized");
        assert_eq!(
            beyond.unwrap(),
            "As far as this job says the music stand has 2 swivels, so there is no swivel 3. The \
             rules allow no more."
        );
    }
    let fewer = refused_of(
        "music stand with 2 swivels",
        &["it has 1 swivel"],
        "swivel 2 is seized",
    );
    assert!(fewer.is_some());
}

#[test]
fn a_part_without_its_owner_is_there_if_any_owner_has_it() {
    let opened = "music stand with 2 swivels";
    let counted = ["swivel 2 has 3 thumbscrews"];
    let refused = |finding| refused_of(opened, &counted, finding);
    assert_eq!(refused("thumbscrew 3 is winged"), None);
    assert_eq!(
        refused("thumbscrew 4 is winged").unwrap(),
        "As far as this job says swivel 2 has 3 thumbscrews, so there is no thumbscrew 4. The \
         rules allow no more."
    );
}

#[test]
fn the_only_part_of_none_is_not_there() {
    let opened = "music stand with 2 swivels";
    let none = ["swivel 2 has no thumbscrews"];
    let refused = |finding| refused_of(opened, &none, finding);
    assert_eq!(
        refused("the thumbscrew of swivel 2 is winged").unwrap(),
        "As far as this job says swivel 2 has no thumbscrews, so there is no thumbscrew of \
         swivel 2. If it has more, note first: swivel 2 has 1 thumbscrew."
    );
    assert_eq!(refused("the thumbscrew of swivel 1 is winged"), None);
}

#[test]
fn the_piece_is_one_part_whatever_it_is_called() {
    assert_eq!(
        told(&["the piece has 1 swivel", "the music stand has 2 swivels"]),
        [
            "1: the piece has 1 swivel (put right by 2)",
            "2: the music stand has 2 swivels",
        ]
    );
}

/// Whatever can be noted is said back in words that mean the same.
#[test]
fn what_is_said_back_reads_the_same() {
    let model = model();
    for finding in [
        "swivel 1 is seized",
        "swivel 1 is not seized",
        "swivel 1 is certainly seized",
        "swivel 1 is certainly not seized",
        "swivel 1 looks seized",
        "swivel 1 does not look seized",
        "swivel 1 shows verdigris",
        "swivel 1 does not show verdigris",
        "swivel 1 certainly shows verdigris",
        "swivel 1 looks as if it shows verdigris",
        "swivel 1 does not look as if it shows verdigris",
        "no swivel is seized",
        "every swivel is seized",
        "no collar of swivel 2 looks perished",
        "upper collar of swivel 2 is perished",
        "the ledge is split 2.5 mm wide",
        "the ledge is split 3/32 in wide",
        "the ledge cannot be seen",
        "the piece cannot be seen",
        "swivel 1 has no thumbscrews",
        "swivel 1 has 1 thumbscrew",
        "swivel 1 has 3 thumbscrews",
        "head of thumbscrew 1 of swivel 1 is winged",
        "thumbscrew 1 of swivel 1 is slotted",
        "cannot see whether swivel 1 is seized",
        "cannot see which head thumbscrew 1 of swivel 1 has",
        "cannot measure how wide the ledge is split",
        "cannot count the thumbscrews of swivel 1",
        "have not looked whether swivel 1 is seized",
        "have not measured how wide the ledge is split",
        "have not looked whether upper collar of swivel 1 is perished",
    ] {
        let facts = read_facts(&model, finding).expect(finding);
        for fact in &facts {
            let said = words::fact_line(&model, fact);
            let again = read_facts(&model, &said).expect(&said);
            let same = |a: &tellmark_language::model::Fact, b: &tellmark_language::model::Fact| {
                let steps = |f: &tellmark_language::model::Fact| f.part.steps.clone();
                steps(a) == steps(b) && a.found == b.found
            };
            assert_eq!(again.len(), 1, "{finding} -> {said}");
            assert!(same(fact, &again[0]), "{finding} -> {said}");
        }
    }
}

/// A surface of a side is none of the top's, nor of another side.
#[test]
fn like_parts_of_unlike_owners_leave_each_other_alone() {
    let model = tellmark_job::house::read(None, &tellmark_job::house::Families::These(Vec::new()))
        .expect("the standard rules")
        .model;
    let texts = [
        "surface of right side is solid",
        "surface of the top is thin-sawn",
        "surface of left side is knife-cut",
        "surface of the front of drawer 1 is solid",
        "every surface is solid",
        "surface of the top of the chest of drawers is solid",
    ];
    let findings = Findings::read(&model, &record(&texts), |text| read_facts(&model, text));
    assert!(findings.not_understood.is_empty());
    let put_right: Vec<_> = findings.all.iter().map(|f| f.put_right_by).collect();
    assert_eq!(put_right, [Some(5), Some(5), Some(5), Some(5), None, None]);
}
