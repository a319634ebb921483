//! The bench screen under a hundred thousand keys: nothing panics, nothing
//! answered is lost, the record played back gives the same piece, and home is
//! never far.

use tellmark_core::bench::Bench;
use tellmark_core::bench::keys::{Event, Key};
use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::piece::{Answer, Part};
use tellmark_core::record::Noted;
use tellmark_device::bench::Room;
use tellmark_tests::dice::Dice;
use tellmark_tests::screen::{Bencher, pack};

/// Everything that a record must bring back.
#[derive(Debug, PartialEq)]
struct State {
    root: Option<usize>,
    parts: Vec<Part>,
    answers: Vec<(usize, u16, Answer)>,
    heeded: Vec<(usize, usize)>,
    finished: bool,
    next: Option<(usize, u16)>,
}

fn state(bench: &Bench<'_, '_, UFloat>, pack: &Pack<'_>) -> State {
    let work = bench.work();
    let parts = work.parts().to_vec();
    let answers = work.inspection().map_or_else(Vec::new, |inspection| {
        inspection.piece().answered(pack).collect()
    });
    let heeded = (0..pack.cautions())
        .flat_map(|caution| (0..parts.len()).map(move |part| (caution, part)))
        .filter(|&(caution, part)| work.is_heeded(caution, part))
        .collect();
    State {
        root: work.root(),
        heeded,
        finished: work.is_finished(),
        next: bench.next_to_ask().map(|visit| (visit.part, visit.ask)),
        parts,
        answers,
    }
}

/// Keys as hands press them: mostly the first three, now and then kept down.
fn key(dice: &mut Dice) -> Event {
    let key = match dice.below(20) {
        0..6 => Key::First,
        6..12 => Key::Second,
        12..19 => Key::Third,
        _ => Key::Fourth,
    };
    if dice.chance(5) {
        let times = 1 + u16::try_from(dice.below(40)).unwrap();
        Event::Again(key, times)
    } else {
        Event::Press(key)
    }
}

/// Presses random keys for a while; every so often everything is compared.
fn walk(seed: u64, keys: usize) -> usize {
    let pack = pack();
    let (mut room, mut other) = (Room::default(), Room::default());
    let mut bencher = Bencher::new(pack, &mut room);
    let mut dice = Dice::new(seed);
    let mut answered = 0;
    for pressed in 0..keys {
        let before = bencher.record.len();
        bencher.press(key(&mut dice));
        for noted in &bencher.record[before..] {
            // What went out is what stands.
            if let Noted::Answered { part, ask, answer } = *noted {
                let now = bencher.bench.work().answer(usize::from(part), ask);
                assert_eq!(now, answer, "seed {seed}, key {pressed}");
                answered += 1;
            }
        }
        if dice.chance(30) {
            bencher.bench.tick(u32::try_from(pressed).unwrap() * 300);
            bencher.bench.idle();
        }
        if pressed % 16 == 0 {
            let _ = bencher.picture();
        }
        if pressed % 500 == 499 {
            played_back_it_is_the_same(&bencher, &mut other, seed);
            home_is_near(&mut bencher, seed);
        }
    }
    answered
}

fn played_back_it_is_the_same(bencher: &Bencher<'_>, room: &mut Room, seed: u64) {
    let pack = pack();
    // The bytes are what is stored.
    let record: Vec<Noted> = bencher
        .record
        .iter()
        .map(|noted| Noted::from_bytes(noted.to_bytes()).expect("its own bytes"))
        .collect();
    let again = Bencher::restored(pack, room, &record)
        .unwrap_or_else(|(at, why)| panic!("seed {seed}: {:?} {why:?}", record[at]));
    assert_eq!(
        state(&again.bench, &pack),
        state(&bencher.bench, &pack),
        "seed {seed}"
    );
}

/// The fourth key leads home, a page at a time; kept down, at once.
fn home_is_near(bencher: &mut Bencher<'_>, seed: u64) {
    const DEPTH: usize = 10;
    let noted = bencher.record.len();
    let mut presses = 0;
    while !bencher.bench.is_home() {
        bencher.press(Event::Press(Key::Fourth));
        presses += 1;
        assert!(presses <= DEPTH, "seed {seed}: the way home is too long");
    }
    bencher.press(Event::Again(Key::Fourth, 1));
    assert!(bencher.bench.is_home());
    assert_eq!(bencher.record.len(), noted, "going home notes nothing");
}

#[test]
fn a_hundred_thousand_keys() {
    // Half of the walks go into the chest, half into the table: the first key
    // on the first screen decides.
    let answered: usize = (0..20).map(|seed| walk(seed, 5_000)).sum();
    assert!(answered > 5_000, "only {answered} answers");
}
