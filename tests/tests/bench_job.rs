//! The bench screen over a job's folder: what is keyed in is in the record, in
//! the sentences that `tellmark note` would write, and is there again.

use jiff::civil::date;
use std::collections::BTreeSet;
use tellmark_compile::room::Room as Lent;
use tellmark_compile::set_up::SetUp;
use tellmark_core::number::UFloat;
use tellmark_core::pack::Form;
use tellmark_core::piece::Answer;
use tellmark_core::record::Noted;
use tellmark_device::bench::{Room, opening, sentence};
use tellmark_job::advice::Progress;
use tellmark_job::record::{Findings, Header, Job};
use tellmark_language::model::Fact;
use tellmark_language::{AnswerReader, read_piece};
use tellmark_tests::dice::Dice;
use tellmark_tests::screen::{Bencher, pack, rules};

/// Every answer to every ask of every part, said and read again, is the same
/// answer.
#[test]
fn every_note_is_a_sentence_that_reads_the_same() {
    let (checked, built) = rules();
    let model = &checked.reading.model;
    let reader = AnswerReader::new(model);
    let pack = pack();
    let mut said = 0;
    for piece in ["chest of drawers with 3 drawers", "drop-leaf table"] {
        let order = read_piece(model, piece).expect("a piece");
        let bare = SetUp {
            model,
            built,
            order: &order,
            facts: &[],
            later: None,
        };
        let mut room = Lent::<UFloat>::default();
        let inspection = bare.bare(pack, &mut room).expect("set up");
        let parts = inspection.piece().parts().to_vec();
        let mut dice = Dice::new(7);
        for (index, record) in parts.iter().enumerate() {
            let part = u16::try_from(index).unwrap();
            for ask in pack.asks_of(usize::from(record.place)) {
                let form = pack.ask(usize::from(ask)).form;
                let answers = match form {
                    Form::Whether => vec![
                        Answer::Seen(true),
                        Answer::Seen(false),
                        Answer::Looks(true),
                        Answer::Looks(false),
                        Answer::Certain(dice.chance(50)),
                    ],
                    Form::Which { values, .. } | Form::Degrees { values, .. } => (0..values)
                        .map(|value| Answer::Value(u8::try_from(value).unwrap()))
                        .collect(),
                    Form::HowMuch { least, most, .. } => {
                        vec![Answer::Reading(least), Answer::Reading(most)]
                    }
                    Form::HowMany { .. } => vec![Answer::Reading(2)],
                };
                let answers = answers.into_iter().chain([Answer::CannotSee]);
                for answer in answers {
                    let noted = Noted::Answered { part, ask, answer };
                    let Some(line) = sentence(model, built, (&pack, &parts), noted) else {
                        continue;
                    };
                    let facts = reader
                        .facts(&line)
                        .unwrap_or_else(|m| panic!("{line}: {m:?}"));
                    let facts: Vec<&Fact> = facts.iter().collect();
                    let set_up = SetUp {
                        facts: &facts,
                        ..bare
                    };
                    let mut room = Lent::<UFloat>::default();
                    let case = set_up.case(pack, &mut room).expect("set up");
                    let answered = case.inspection.piece().answer(&pack, index, ask);
                    let answered = answered.expect("it is asked of this part");
                    let opened = match answer {
                        // A hidden fault is seen for certain or not at all.
                        Answer::Seen(yes) if answered == Answer::Certain(yes) => answered,
                        answer => answer,
                    };
                    assert_eq!(answered, opened, "{line}");
                    said += 1;
                }
            }
        }
    }
    assert!(said > 2_000, "{said} sentences");
}

/// A remark that was made by a key stands in the record as one that was typed.
#[test]
fn a_remark_by_a_key_is_a_remark_of_the_record() {
    let (checked, built) = rules();
    let model = &checked.reading.model;
    let pack = pack();
    assert_eq!(pack.remarks(), model.bench_remarks.len());
    let order = read_piece(model, "chest of drawers with 3 drawers").expect("a piece");
    let bare = SetUp {
        model,
        built,
        order: &order,
        facts: &[],
        later: None,
    };
    let mut room = Lent::<UFloat>::default();
    let inspection = bare.bare(pack, &mut room).expect("set up");
    let parts = inspection.piece().parts().to_vec();
    let second = Noted::Remarked { part: 1, remark: 2 };
    assert_eq!(
        sentence(model, built, (&pack, &parts), second).as_deref(),
        Some("remark: the top; Ask the owner")
    );
}

/// A job looked over with random keys: taken up again from its record, it is
/// where it was.
#[test]
fn a_job_is_taken_up_where_it_was() {
    let (checked, built) = rules();
    let model = &checked.reading.model;
    let reader = AnswerReader::new(model);
    let pack = pack();
    for (seed, piece) in [
        (1, "chest of drawers with 5 drawers"),
        (2, "drop-leaf table with 1 leaf"),
        (3, "drop-leaf table"),
    ] {
        let parent = tempfile::tempdir().unwrap();
        let day = date(2026, 11, 25).at(10, 0, 0, 0);
        let header = Header::new(piece, day, "the standard bench", 1);
        let mut job = Job::create(parent.path(), "job", &header).unwrap();
        let order = read_piece(model, piece).expect("a piece");
        let open = |job: &Job| {
            let findings = Findings::read(model, job.lines(), |text| reader.facts(text));
            assert!(findings.not_understood.is_empty());
            let facts: Vec<&Fact> = findings.standing().map(|f| &f.fact).collect();
            let set_up = SetUp {
                model,
                built,
                order: &order,
                facts: &facts,
                later: None,
            };
            let progress = Progress::read(&set_up, pack, job.entries()).expect("set up");
            let last = job.lines().last().map_or(0, |line| line.number);
            opening(&set_up, pack, &progress, last).expect("set up")
        };
        let mut room = Room::default();
        let mut bencher = Bencher::restored(pack, &mut room, &open(&job)).expect("plays");
        bencher.bench.keep_to_piece();
        let mut dice = Dice::new(seed);
        for _ in 0..600 {
            let before = bencher.record.len();
            let word = *dice.pick(&["1", "2", "2", "3", "3", "1~9", "4", "4~"]);
            bencher.keys(word);
            for &noted in &bencher.record[before..] {
                let on = (&pack, bencher.bench.work().parts());
                if let Some(line) = sentence(model, built, on, noted) {
                    job.append(&line, day).unwrap();
                }
            }
        }
        assert!(job.lines().len() > 20, "{}", job.lines().len());
        let job = Job::open(job.folder()).unwrap();
        let mut other = Room::default();
        let again = Bencher::restored(pack, &mut other, &open(&job)).expect("plays");
        let everything = |bencher: &Bencher<'_>| {
            let work = bencher.bench.work();
            let piece = work.inspection().expect("a piece").piece();
            let hidden: BTreeSet<usize> = (0..piece.parts().len())
                .filter(|&part| piece.parts()[part].out_of_sight)
                .collect();
            let answers: Vec<_> = piece.answered(&pack).collect();
            let heeded: BTreeSet<(usize, usize)> = (0..pack.cautions())
                .flat_map(|caution| (0..piece.parts().len()).map(move |part| (caution, part)))
                .filter(|&(caution, part)| work.is_heeded(caution, part))
                .collect();
            let parts = piece.parts().len();
            (parts, hidden, answers, heeded, work.is_finished())
        };
        assert_eq!(everything(&again), everything(&bencher), "{piece}");
    }
}
