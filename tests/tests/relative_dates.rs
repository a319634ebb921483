//! What is older than what, without a year: sentences of the house, and what they come to.
//! The chances are compared with every combination in `dates.rs`.

use tellmark_compile::check::Checked;
use tellmark_job::advice::{Dated, date};
use tellmark_language::words;
use tellmark_tests::said::{house, with_found};

const PRESS: &str = "\
House rules for presses, version 1.
Pieces: press, trunk.
Parts: door, lock, wheel.
A press has 2 doors and 4 wheels.
A trunk has 0 to 3 wheels.
A door has a lock.
Unless we say otherwise, a sign is there on its own: hardly ever.
You can see whether a piece shows odd wheels.
You can see whether a door is panelled.
You can see whether a wheel is fresh-seated.
You can count the wheels of a trunk.
A door that is panelled is usually earlier than its lock.  From: house  Called: panelled doors
A piece that shows odd wheels has a later wheel.  From: house  Evidence: strong
A wheel that is fresh-seated is later than its piece.  From: house  Evidence: strong
";

fn dated(rules: &Checked, piece: &str, found: &[&str]) -> Dated {
    with_found(rules, piece, found, |set_up, _| {
        let pack = set_up.built.bytes.open().expect("a fresh pack opens");
        date(set_up, pack, None, 2026).expect("a small piece")
    })
}

/// The chance that a part of which something is said is original.
fn original(dated: &Dated, name: &str) -> f64 {
    let mut parts = dated.parts.iter();
    let part = parts.find(|part| part.name == name);
    part.unwrap_or_else(|| panic!("{name}: {:?}", dated.parts))
        .original
}

#[test]
fn it_holds_where_it_is_known_and_nowhere_else() {
    let rules = house(PRESS);
    let none = dated(&rules, "press", &[]);
    assert!(none.relative.is_empty() && none.parts.is_empty());
    let one = dated(
        &rules,
        "press",
        &["door 1 is panelled; door 2 is not panelled"],
    );
    let own = 0.833 * 0.05 / (0.833 * 0.05 + 0.167);
    assert!((original(&one, "the lock of door 1") - 0.833 * own).abs() < 1e-8);
    assert_eq!(one.parts.len(), 1);
    let [held] = &one.relative[..] else {
        panic!("{:?}", one.relative);
    };
    assert_eq!(held.owner, "door 1");
    assert_eq!(held.from.len(), 1);
    assert!((held.without[0] - 0.833 * 0.833).abs() < 1e-8);
    // Nothing of it speaks of years.
    assert!(one.later.is_none() && one.held.is_empty());
}

/// One later wheel explains that they are unlike one another.
#[test]
fn one_of_them_is_later_and_one_that_is_explains_it() {
    let rules = house(PRESS);
    let odd = "the piece shows odd wheels";
    let wheels = |found: &[&str]| {
        let dated = dated(&rules, "press", found);
        [1, 2, 3, 4].map(|n| original(&dated, &format!("wheel {n}")))
    };
    let (a, w) = (0.833_f64, 0.002);
    let all = a.powi(4);
    let one = a * (w * a.powi(3) + 1.0 - a.powi(3)) / (w * all + 1.0 - all);
    for chance in wheels(&[odd]) {
        assert!((chance - one).abs() < 1e-8);
    }
    let [first, second, ..] = wheels(&[odd, "wheel 1 is fresh-seated"]);
    assert!(first < 0.01, "{first}");
    assert!((second - a).abs() < 0.002, "{second}");
}

#[test]
fn of_no_parts_it_says_nothing_and_of_one_it_is_that_one() {
    let rules = house(PRESS);
    let odd = "the piece shows odd wheels";
    let of = |wheels: usize| dated(&rules, &format!("trunk with {wheels} wheels"), &[odd]);
    assert!(of(0).relative.is_empty());
    let one = original(&of(1), "wheel 1");
    assert!((one - 0.833 * 0.002 / (0.833 * 0.002 + 0.167)).abs() < 1e-8);
}

/// Two sentences about one finding are one reason.
#[test]
fn one_finding_counts_once() {
    let again =
        "A door that is panelled is usually earlier than its locks.  From: house  Evidence: weak\n";
    let other = "A door is usually earlier than its lock.  From: house\n";
    let found = ["door 1 is panelled"];
    let of = |more: &str| {
        let rules = house(&format!("{PRESS}{more}"));
        original(&dated(&rules, "press", &found), "the lock of door 1")
    };
    let alone = of("");
    assert!((of(again) - alone).abs() < 1e-8);
    assert!(of(other) < alone / 5.0);
}

#[test]
fn it_is_said_back_and_has_a_name() {
    let rules = house(PRESS);
    let said = words::read_back(&rules.reading.model);
    let of = |words: &str| {
        let mut found = said.iter().filter(|entry| entry.text.contains(words));
        found.next().expect(words).clone()
    };
    let doors = of("its lock is usually");
    assert_eq!(
        doors.text,
        "For each door: when it is panelled, its lock is usually later than it (fair evidence). \
         [house]"
    );
    assert_eq!(doors.called.as_deref(), Some("panelled doors"));
    assert_eq!(
        of("one at least").text,
        "For each piece: when it shows odd wheels, one at least of its wheels is later than it \
         (strong evidence). [house]"
    );
    let changed =
        "Instead of panelled doors, a door is usually earlier than its lock.  From: house\n";
    let rules = house(&format!("{PRESS}{changed}"));
    assert_eq!(rules.reading.model.relatives.len(), 2);
    assert_eq!(dated(&rules, "press", &[]).relative.len(), 2);
    let left = "Leave out panelled doors, because we do not know.\n";
    let rules = house(&format!("{PRESS}{left}"));
    assert_eq!(rules.reading.model.relatives.len(), 1);
}
