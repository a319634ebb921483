//! Lines of the record with a label: what is written is what is read.

use jiff::civil::date;
use proptest::prelude::*;
use tellmark_job::record::{
    Answer, Decision, Header, Job, KeptPaper, PaperKind, PaperName, Payment, Photo, Says, Stage,
};

/// Words that may stand between the signs of such a line.
fn words() -> impl Strategy<Value = String> {
    "[a-zé½]{1,8}( [a-z0-9:\\-]{1,8}){0,3}"
}

/// The same, or nothing.
fn maybe() -> impl Strategy<Value = String> {
    prop_oneof![Just(String::new()), words()]
}

fn parts() -> impl Strategy<Value = Vec<String>> {
    prop::collection::vec(words(), 0..4)
}

fn decision() -> impl Strategy<Value = Decision> {
    (words(), parts(), maybe()).prop_map(|(job, parts, words)| Decision { job, parts, words })
}

fn paper() -> impl Strategy<Value = PaperName> {
    let kinds = [
        PaperKind::Estimate,
        PaperKind::Supplement,
        PaperKind::Invoice,
        PaperKind::Credit,
    ];
    (prop::sample::select(kinds.to_vec()), 1..2000u32).prop_map(|(kind, number)| PaperName {
        kind,
        year: kind.is_of_the_year().then_some(2026),
        number,
    })
}

fn says() -> impl Strategy<Value = Says> {
    let stage = prop::sample::select(vec![Stage::Before, Stage::During, Stage::After]);
    prop_oneof![
        words().prop_map(Says::Wish),
        words().prop_map(Says::Limit),
        (words(), maybe()).prop_map(|(part, because)| Says::Leave { part, because }),
        words().prop_map(|part| Says::NotLeave { part }),
        decision().prop_map(Says::Agreed),
        decision().prop_map(Says::Refused),
        (words(), parts(), maybe(), parts()).prop_map(|(job, parts, took, mends)| Says::Done {
            job,
            parts,
            took,
            mends
        }),
        (words(), parts()).prop_map(|(job, parts)| Says::NotDone { job, parts }),
        (words(), prop::option::of(words()), stage, maybe()).prop_map(
            |(file, part, stage, words)| Says::Photo(Photo {
                file,
                part,
                stage,
                words
            })
        ),
        (words(), words()).prop_map(|(part, caution)| Says::Heeded { part, caution }),
        words().prop_map(Says::Finished),
        (paper(), any::<u32>(), maybe()).prop_map(|(name, checksum, words)| Says::Kept(
            KeptPaper {
                name,
                checksum,
                words
            }
        )),
        (
            paper(),
            any::<bool>(),
            "([0-9]{1,4}(\\.[0-9]{2})?)?",
            maybe()
        )
            .prop_map(|(paper, yes, up_to, words)| Says::Answer(Answer {
                paper,
                yes,
                up_to,
                words
            })),
        ("[0-9]{1,4}\\.[0-9]{2}", any::<bool>(), maybe())
            .prop_map(|(amount, back, how)| Says::Paid(Payment { amount, back, how })),
    ]
}

proptest! {
    #[test]
    fn what_is_written_is_read_again(says in says()) {
        let text = says.to_string();
        prop_assert_eq!(Says::read(&text), Some(Ok(says)));
    }

    #[test]
    fn any_text_is_read_or_refused(text in "\\PC{0,60}") {
        // A label may stand there in any case and with any spaces around it.
        if let Some(Ok(says)) = Says::read(&text) {
            prop_assert_eq!(Says::read(&says.to_string()), Some(Ok(says)));
        }
    }
}

#[test]
fn findings_and_labelled_lines_stand_in_one_record() {
    let parent = tempfile::tempdir().expect("a temporary folder");
    let now = date(2026, 3, 2).at(9, 10, 0, 0);
    let header = Header::new("chest of drawers", now, "", 0);
    let mut job = Job::create(parent.path(), "chest", &header).expect("made");
    job.append("drawer 2 is stiff", now).expect("written");
    let done = Says::Done {
        job: "wax the runners".to_owned(),
        parts: vec!["drawer 2".to_owned()],
        took: "25 minutes".to_owned(),
        mends: vec!["drawer 2 is stiff".to_owned()],
    };
    let added = job.append_entry(&done, now).expect("written");
    assert_eq!(added.number, 2);
    job.append("drawer 2 is not stiff", now).expect("written");
    let job = Job::open(job.folder()).expect("opens");
    let findings: Vec<usize> = job.lines().iter().map(|line| line.number).collect();
    assert_eq!(findings, [1, 3]);
    let entries: Vec<(usize, &Says)> = job.entries().iter().map(|e| (e.number, &e.says)).collect();
    assert_eq!(entries, [(2, &done)]);
    assert!(job.unread().is_empty());
}
