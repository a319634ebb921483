//! Every screen of the bench, dot by dot.

use tellmark_compile::check::{Depth, check};
use tellmark_core::bench::Cable;
use tellmark_core::bench::keys::{Event, Key};
use tellmark_core::bench::wrap;
use tellmark_core::pack::Form;
use tellmark_core::piece::Answer;
use tellmark_core::record::Noted;
use tellmark_core::words::{Reading, Unit};
use tellmark_device::bench::Room;
use tellmark_language::{SourceFile, read};
use tellmark_tests::screen::{Bencher, pack};

const CHEST: &str = "3";
const TABLE: &str = "2 3";
const BEGIN: &str = "3";

/// What a set of keys shows, one picture after each word.
fn film(bencher: &mut Bencher<'_>, keys: &str) -> String {
    let shown = keys.split_whitespace().map(|word| {
        bencher.keys(word);
        format!("{word}\n{}", bencher.art())
    });
    shown.collect::<Vec<_>>().join("\n")
}

/// Goes on with the round, saying no or passing over, until it asks what is
/// wanted.
fn until(bencher: &mut Bencher<'_>, question: &str) {
    let pack = pack();
    for _ in 0..400 {
        while bencher.bench.is_warning() {
            bencher.keys("3");
        }
        let visit = bencher.bench.next_to_ask().expect("something to ask");
        let ask = pack.ask(usize::from(visit.ask));
        if pack.text(ask.question) == question {
            return;
        }
        match ask.form {
            Form::Whether => bencher.keys("2"),
            // Cannot be seen: after how to check, if the house says how.
            _ if pack.text(ask.how).is_empty() => bencher.keys("3 3"),
            _ => bencher.keys("3 2 3"),
        };
    }
    panic!("the round never asks {question}");
}

/// The chest of the demonstration job, in a few answers.
fn chest(bencher: &mut Bencher<'_>) {
    bencher.keys(CHEST).keys(BEGIN);
    until(bencher, "Diagonals differ by?");
    bencher.keys("1 1~30 3 1 1");
    until(bencher, "Front sits low?");
    bencher.keys("1 1 1");
    bencher.home();
}

#[test]
fn a_piece_is_begun() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    let first = bencher.art();
    // The chest; six drawers; three handles on the first, then five drawers
    // after all.
    let shown = film(&mut bencher, "3 2 3 1x2 3 2 3 1 3 1x1 3 2 3 1x2 3");
    insta::assert_snapshot!("begin", format!("{first}\n{shown}"));
    assert!(matches!(bencher.record[0], Noted::Begun { root: 0, pack: id } if id == pack().id()));
    insta::assert_debug_snapshot!("begin_record", bencher.record[1..]);
}

#[test]
fn questions_are_answered() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    bencher.keys(CHEST).keys(BEGIN);
    // No, looks like it, the one before, take the answer back.
    let shown = film(&mut bencher, "2 3 2 3 3 2x5 3 3 2x5 3");
    insta::assert_snapshot!("whether", shown);

    until(&mut bencher, "Main wood?");
    insta::assert_snapshot!("which", film(&mut bencher, "4 3 1 2 3"));

    until(&mut bencher, "Width of split?");
    insta::assert_snapshot!("how_much", film(&mut bencher, "4 3 1 1 1 1~12 2 3"));
}

#[test]
fn how_to_check_is_read() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    bencher.keys(CHEST).keys(BEGIN);
    until(&mut bencher, "Thick old paint?");
    insta::assert_snapshot!("how", film(&mut bencher, "3 3 4 4"));
}

#[test]
fn parts_are_counted_on_the_way() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    bencher.keys(TABLE).keys(BEGIN);
    until(&mut bencher, "Supports under it?");
    let before = bencher.bench.work().parts().len();
    let shown = film(&mut bencher, "4 3 1 1 3");
    let after = bencher.bench.work().parts().len();
    assert_eq!(after, before + 1, "a second bracket");
    insta::assert_snapshot!("count", shown);
}

#[test]
fn a_caution_is_heeded_before_the_round_goes_on() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    bencher.keys(CHEST).keys(BEGIN);
    until(&mut bencher, "Thick old paint?");
    // Yes; the caution; home; back to the round: the caution again; heeded.
    let shown = film(&mut bencher, "1 1 4 3 3");
    insta::assert_snapshot!("caution", shown);
    let heeded = |noted: &&Noted| matches!(noted, Noted::Heeded { .. });
    assert_eq!(bencher.record.iter().filter(heeded).count(), 1);
    // It can be read again.
    bencher.home();
    let shown = film(&mut bencher, "2x4 3 3");
    insta::assert_snapshot!("cautions", shown);
}

#[test]
fn likely_faults_are_listed_with_their_reasons() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    chest(&mut bencher);
    let shown = film(&mut bencher, "2 3 2 1 3 3 4 2 3 2 4 2 3 3");
    insta::assert_snapshot!("faults", shown);
    bencher.home();
    // What was found when it was opened.
    let shown = film(&mut bencher, "2 3 3 2x3 3 2x6 3");
    insta::assert_snapshot!("opened", shown);
}

#[test]
fn what_is_worth_looking_at_is_listed() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    chest(&mut bencher);
    bencher.keys("2x2");
    bencher.press(Event::Press(Key::Third));
    let working = bencher.art();
    // Worked out; then the first is looked at, and it is worked out again.
    let shown = film(&mut bencher, "4 3 2 3 2 1x9");
    insta::assert_snapshot!("looks", format!("{working}\n{shown}"));
}

#[test]
fn jobs_are_listed() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    chest(&mut bencher);
    insta::assert_snapshot!("jobs", film(&mut bencher, "2x3 3 2 3 2x9"));
}

#[test]
fn a_part_is_looked_over_by_itself() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    bencher.keys(TABLE).keys(BEGIN).home();
    // A screw of a hinge of a leaf, then the whole top hidden.
    let shown = film(&mut bencher, "2x5 3 1 3 3 1");
    insta::assert_snapshot!("part", shown);
    bencher.home();
    let shown = film(&mut bencher, "2x5 3 2 3 1 3");
    insta::assert_snapshot!("hidden", shown);
}

/// From a question one comes to everything about its part, and to the house's own remarks.
#[test]
fn a_remark_is_made_of_a_part() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    bencher.keys(CHEST).keys(BEGIN);
    until(&mut bencher, "Width of split?");
    // The last of the other answers; the second remark; back at the question.
    let shown = film(&mut bencher, "3 1 3 2 3");
    insta::assert_snapshot!("remark", shown);
    let remarked = |noted: &&Noted| matches!(noted, Noted::Remarked { .. });
    let made: Vec<&Noted> = bencher.record.iter().filter(remarked).collect();
    assert!(
        matches!(
            made[..],
            [Noted::Remarked {
                part: 1..,
                remark: 1
            }]
        ),
        "{made:?}"
    );
    // All of this part; its last row leads to the remarks as well.
    let shown = film(&mut bencher, "3 1 1 3 1 3 3");
    insta::assert_snapshot!("all_of_a_part", shown);
    assert_eq!(bencher.record.iter().filter(remarked).count(), 2);
}

#[test]
fn an_answer_is_put_right() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    bencher.keys(CHEST).keys(BEGIN).keys("1 2 2").home();
    let shown = film(&mut bencher, "2x6 3 2 3 1");
    insta::assert_snapshot!("answers", shown);
    let last = bencher.record.last().copied();
    assert!(
        matches!(
            last,
            Some(Noted::Answered {
                answer: Answer::Seen(true),
                ..
            })
        ),
        "{last:?}"
    );
}

#[test]
fn the_inspection_is_finished() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    bencher.bench.tell(Cable {
        connected: false,
        waiting: 3,
    });
    bencher.keys(CHEST).keys(BEGIN).home();
    let mut shown = film(&mut bencher, "2x7 3 4 2 3 2 3");
    shown.push('\n');
    bencher.bench.tell(Cable {
        connected: true,
        waiting: 0,
    });
    shown.push_str(&film(&mut bencher, "2x7 3 4 2 3"));
    insta::assert_snapshot!("finish", shown);
    assert_eq!(
        bencher.record.last(),
        Some(&Noted::Finished),
        "nothing is begun yet"
    );
}

#[test]
fn there_is_nothing_left_to_look_at() {
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack(), &mut room);
    bencher.keys(TABLE).keys(BEGIN);
    let pack = pack();
    while let Some(visit) = bencher.bench.next_to_ask() {
        let ask = pack.ask(usize::from(visit.ask));
        match ask.form {
            Form::Whether => bencher.keys("2"),
            Form::HowMany { .. } => bencher.keys("1 1x9 3"),
            _ => bencher.keys("1 3"),
        };
        while bencher.bench.is_warning() {
            bencher.keys("3");
        }
        assert!(bencher.record.len() < 2_000);
    }
    bencher.home();
    insta::assert_snapshot!("done", film(&mut bencher, "3 3"));
}

/// Rules under which two certain answers can clash.
const LEDGES: &str = "\
House rules for the ledge bench, version 1.
Pieces: stand.
Parts: ledge.
A stand has a ledge.
By rarely we mean 1 in 10.
By hardly ever we mean 3 in 100.
Unless we say otherwise, a fault is there on its own: rarely.
Unless we say otherwise, a sign is there on its own: hardly ever.
You can measure how wide a ledge is split, in mm, from 0 to 12.
    Ask: \"Width of split?\"
A ledge may be weak without showing it.
    Missed: 1 hour, risk 2
If a ledge is split more than 2 mm wide then it is by definition weak.
To look over a stand:
    1. measure how wide the ledge is split
";

#[test]
fn answers_that_clash_are_named() {
    let file = SourceFile {
        name: "ledge.rules.txt".to_owned(),
        text: LEDGES.to_owned(),
        standard: false,
    };
    let checked = check(read(vec![file]), Depth::Build);
    let messages = &checked.reading.messages;
    let built = checked
        .built
        .as_ref()
        .unwrap_or_else(|| panic!("{messages:?}"));
    let pack = built.bytes.open().expect("a pack");
    let mut room = Room::default();
    let mut bencher = Bencher::new(pack, &mut room);
    // Six millimetres; then it is opened, and not weak.
    bencher.keys("3 3 1 1~40 3").home();
    bencher.keys("2 3 3 2x4 3");
    assert!(bencher.bench.clashes());
    insta::assert_snapshot!("clash", film(&mut bencher, "4~ 3 2 3"));
}

#[test]
fn readings_are_dialled_in_round_steps() {
    let dial = |unit: Unit, gauge: u16, keys: &[(bool, u16)]| {
        let mut ticks = 0;
        let shown = keys.iter().map(|&(up, times)| {
            ticks = unit.dialled(ticks, up, gauge, times);
            let reading = Reading { ticks, unit };
            let mut other = String::new();
            reading.otherwise(&mut other).expect("a string");
            format!("{reading} ({other})")
        });
        shown.collect::<Vec<_>>()
    };
    let up = [(true, 0), (true, 0), (true, 8), (true, 16), (false, 0)];
    assert_eq!(
        dial(Unit::Mm, 0, &up),
        [
            "0.1 mm (under 1/64 in)",
            "0.2 mm (about 1/64 in)",
            "0.5 mm (about 1/64 in)",
            "1 mm (about 3/64 in)",
            "0.9 mm (about 1/32 in)"
        ]
    );
    assert_eq!(
        dial(Unit::Mm, 20_000, &up),
        [
            "0.5 mm (about 1/64 in)",
            "1 mm (about 3/64 in)",
            "2 mm (about 5/64 in)",
            "5 mm (about 13/64 in)",
            "4.5 mm (about 11/64 in)"
        ]
    );
    assert_eq!(
        dial(Unit::In, 0, &up),
        [
            "1/64 in (about 0.4 mm)",
            "1/32 in (about 0.8 mm)",
            "1/16 in (about 1.6 mm)",
            "1/8 in (about 3.2 mm)",
            "7/64 in (about 2.8 mm)"
        ]
    );
    assert_eq!(
        dial(Unit::PerCent, 0, &up),
        ["1 % ()", "2 % ()", "5 % ()", "10 % ()", "9 % ()"]
    );
    assert_eq!(
        dial(Unit::M, 0, &[(true, 200), (false, 0), (true, u16::MAX)]),
        [
            "1 m (about 39 3/8 in)",
            "0.99 m (about 38 31/32 in)",
            "1 m (about 39 3/8 in)"
        ]
    );
    // Never out of what a reading can be.
    assert_eq!(Unit::Ft.dialled(i32::MAX, true, 0, 99), i32::MAX);
    assert!(Unit::Ft.dialled(i32::MIN, false, 0, 99) < 0);
}

#[test]
fn words_are_set_in_lines() {
    let set = |columns: usize, text: &str| {
        let mut lines: Vec<String> = Vec::new();
        let mut place = |line: usize, column: usize, word: &str| {
            lines.resize(lines.len().max(line + 1), String::new());
            let before = column - lines[line].chars().count();
            lines[line].push_str(&" ".repeat(before));
            lines[line].push_str(word);
        };
        let mut wrap = wrap::Wrap::new(columns, &mut place);
        std::fmt::Write::write_str(&mut wrap, text).expect("never fails");
        let count = wrap.end();
        assert_eq!(count, wrap::lines(columns, |out| out.write_str(text)));
        assert_eq!(count, lines.len().max(1));
        lines
    };
    assert_eq!(set(8, "a left runner"), ["a left", "runner"]);
    assert_eq!(set(6, "a  left\nrunner"), ["a left", "runner"]);
    assert_eq!(set(5, "dovetails"), ["dovet", "ails"]);
    assert_eq!(set(5, "façade à côté"), ["façad", "e à", "côté"]);
    assert_eq!(set(99, ""), Vec::<String>::new());
    // As the rules are checked: the compiler warns of what does not fit.
    let how = "Press the leaf at its corner and watch the knuckles of both hinges.";
    assert_eq!(set(21, how).len(), tellmark_language::screen::wrapped(how));
}
