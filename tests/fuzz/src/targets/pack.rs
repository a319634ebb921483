//! Packs with anything in them, and a right checksum: opened, and everything in them
//! used.

use super::{Form, Seen, Target, files, sum};
use std::cell::RefCell;
use tellmark_compile::room::{PackBytes, Room};
use tellmark_core::bench::keys::{Event, Key};
use tellmark_core::dating::{Dates, Evidence, Together, fewest_later};
use tellmark_core::inspection::{Given, Inspection};
use tellmark_core::looking::{Candidate, Looking, Need, Progress};
use tellmark_core::number::{Number as _, UFloat};
use tellmark_core::pack::{CHECKSUM, Form as Asks, MAGIC, MAJOR, NONE, OpenError, Pack};
use tellmark_core::piece::{Answer, Eye, Judged, Than};
use tellmark_core::plan::{Memory, Seat, Status, Task};
use tellmark_device::bench::{Picture, Room as BenchRoom};
use tellmark_tests::dice::Dice;
use tellmark_tests::random::RandomRules;

pub(super) const TARGET: Target = Target {
    name: "pack",
    form: Form::Bytes,
    longest: 12_000,
    memory: 0,
    run,
    seeds,
    words,
};

/// The first byte of an input says what is put right.
const LENGTH: u8 = 1;
const SUM: u8 = 2;
const VERSION: u8 = 4;

fn run(input: &[u8], seen: &mut Seen) {
    let Some((&flags, bytes)) = input.split_first() else {
        return;
    };
    let mut bytes = bytes.to_vec();
    if flags & VERSION != 0 && bytes.len() >= 12 {
        bytes[..8].copy_from_slice(&MAGIC);
        bytes[8..12].copy_from_slice(&[MAJOR, 0, 32, 0]);
    }
    if flags & LENGTH != 0 && bytes.len() >= 16 {
        let length = u32::try_from(bytes.len()).unwrap_or(0);
        bytes[12..16].copy_from_slice(&length.to_le_bytes());
    }
    if flags & SUM != 0 && bytes.len() >= 20 {
        let mut digest = CHECKSUM.digest();
        digest.update(&bytes[..16]);
        digest.update(&bytes[20..]);
        bytes[16..20].copy_from_slice(&digest.finalize().to_le_bytes());
    }
    let mut dice = Dice::new(sum(input));
    use_up(&bytes, &mut dice, seen);
}

/// Opens a pack; if it passes every check, uses everything in it.
pub(super) fn use_up(bytes: &[u8], dice: &mut Dice, seen: &mut Seen) {
    let bytes = PackBytes::new(bytes);
    let pack = match bytes.open() {
        Ok(pack) => pack,
        Err(why) => {
            // Which row it was makes no difference.
            match why {
                OpenError::Record(section, _) => seen.note(20, u64::from(section)),
                OpenError::Section(section) => seen.note(36, u64::from(section)),
                why => seen.note_kind(37, &why),
            }
            return;
        }
    };
    seen.note(21, 0);
    for text in 0..pack.texts() {
        let _ = pack.text(u16::try_from(text).unwrap_or(0)).len();
    }
    let roots = (0..pack.places()).filter(|&place| pack.place(place).owner == NONE);
    for root in roots.take(3) {
        let mut room = Room::<UFloat>::default();
        let count = |_: &[_], _, place| {
            let record = pack.place(place);
            record.usual.min(3).max(record.least)
        };
        match room.inspection(pack, root, count) {
            Ok(mut inspection) => inspect(&mut inspection, dice, seen),
            Err(why) => seen.note_words(22, &format!("{why:?}")),
        }
    }
    if dice.chance(40) {
        at_the_bench(pack, dice, seen);
    }
}

fn inspect(inspection: &mut Inspection<'_, '_, UFloat>, dice: &mut Dice, seen: &mut Seen) {
    let pack = *inspection.pack();
    seen.note_size(23, inspection.piece().parts().len());
    for _ in 0..8 {
        let part = dice.below(inspection.piece().parts().len());
        let Some(record) = inspection.piece().part(part) else {
            continue;
        };
        let place = usize::from(record.place);
        let asks: Vec<u16> = pack.asks_of(place).collect();
        if let Some(&ask) = asks.get(dice.below(asks.len())) {
            let answer = any_answer(pack.ask(usize::from(ask)).form, dice);
            let noted = inspection.answer(part, ask, answer);
            seen.note_words(35, &format!("{:?}", noted.err()));
        }
        if dice.chance(10) {
            let _ = inspection.out_of_sight(part, dice.chance(50));
        }
        if let Ok((no, yes)) = inspection.weights(part, dice.below(4)) {
            let _ = no.plus(yes);
        }
        let states: Vec<u16> = pack.states_of(place).collect();
        if let Some(&state) = states.get(dice.below(states.len())) {
            let chance = inspection.chance(part, state);
            seen.note(24, u64::from(chance.is_ok()));
        }
    }
    let given = inspection.piece().answered(&pack).next();
    if let Some((part, ask, answer)) = given {
        let _ = inspection.chance_without(Given { part, ask, answer }, 0, 0);
    }
    let clash = inspection.clash();
    seen.note_size(25, clash.len());
    let mut called = 0;
    inspection.plans(|_| called += 1);
    inspection.cautions(|_| called += 1);
    seen.note_size(26, called);
    date(inspection, seen);
    order(inspection, seen);
    look(inspection, seen);
    recount(inspection, dice, seen);
}

/// An answer, mostly of the form that is asked for.
pub(super) fn any_answer(form: Asks, dice: &mut Dice) -> Answer {
    let yes = dice.chance(50);
    let any = i32::from_le_bytes([0; 4].map(|_: u8| dice.roll().to_le_bytes()[0]));
    match (dice.below(12), form) {
        (0, _) => Answer::CannotSee,
        (1, _) => Answer::Looks(yes),
        (2, _) => Answer::Reading(any),
        (3, _) => Answer::Value(dice.roll().to_le_bytes()[0]),
        (_, Asks::Whether) => *dice.pick(&[Answer::Seen(yes), Answer::Certain(yes)]),
        (_, Asks::Which { values, .. }) => {
            let value = dice.below(usize::from(values));
            Answer::Value(u8::try_from(value).unwrap_or(0))
        }
        (_, Asks::Degrees { values, .. }) => {
            let degree = u8::try_from(dice.below(usize::from(values))).unwrap_or(0);
            let eye = *dice.pick(&[Eye::Ordinary, Eye::Looks, Eye::Certain]);
            let than = *dice.pick(&[Than::Just, Than::AtLeast, Than::LessThan]);
            Answer::Value(Judged { degree, than, eye }.value())
        }
        (_, Asks::HowMuch { most, .. }) => {
            let most = usize::try_from(most).unwrap_or(0);
            Answer::Reading(i32::try_from(dice.below(most + 2)).unwrap_or(0))
        }
        (_, Asks::HowMany { .. }) => Answer::Reading(i32::try_from(dice.below(6)).unwrap_or(0)),
    }
}

fn date(inspection: &mut Inspection<'_, '_, UFloat>, seen: &mut Seen) {
    let pack = *inspection.pack();
    let mut calls = Vec::new();
    inspection.datings(|call| calls.push(call));
    let parts = inspection.piece().parts();
    let evidence: Vec<Evidence> = calls
        .iter()
        .take(200)
        .filter_map(|call| Evidence::of(&pack, parts, &pack.dating(call.sentence), call.part))
        .collect();
    seen.note_size(27, evidence.len());
    let now = 2026;
    let mut numbers = vec![UFloat::ZERO; Dates::<UFloat>::need(parts.len(), now)];
    let inner = parts[0].first_child.into()..usize::from(parts[0].first_child + parts[0].children);
    let together = [Together {
        parts: inner,
        finding: 0,
        strength: 2,
    }];
    let dates = Dates::new(parts, &evidence, &together, now, &mut numbers).expect("room enough");
    for part in 0..parts.len().min(20) {
        let _ = (dates.original(part), dates.made_in(part, 30));
    }
    let mut memory = vec![0; parts.len() * dates.decades()];
    let latest = fewest_later(parts, &evidence, now, &mut memory, |_| {});
    seen.note(28, u64::from(latest.is_some()));
}

fn order(inspection: &mut Inspection<'_, '_, UFloat>, seen: &mut Seen) {
    let pack = *inspection.pack();
    let mut tasks = vec![Task::NONE; 2_000];
    let mut seats = vec![Seat::FREE; pack.jobs()];
    let mut broken = vec![false; pack.constraints()];
    let memory = Memory {
        tasks: &mut tasks,
        seats: &mut seats,
        broken: &mut broken,
    };
    match inspection.order(memory, |_, _| Status::ToDo, &[]) {
        Ok(order) => {
            seen.note_size(29, order.tasks().len());
            let _ = order.times(&pack);
            let _ = (order.against(&pack).count(), order.at_odds(&pack).count());
            for job in order.tasks().iter().take(20).map(|task| task.job) {
                let _ = (order.reasons(&pack, job).count(), order.waits_before(job));
            }
        }
        Err(why) => seen.note_words(30, &format!("{why:?}")),
    }
}

fn look(inspection: &mut Inspection<'_, '_, UFloat>, seen: &mut Seen) {
    let need = Need::of(inspection.pack(), inspection.piece());
    let mut candidates = vec![Candidate::NONE; need.candidates];
    let mut numbers = vec![UFloat::ZERO; need.numbers];
    let mut looking = Looking::new(&mut candidates, &mut numbers);
    let started = looking.start(inspection);
    seen.note(31, u64::from(started.is_ok()));
    for _ in 0..60 {
        if looking.step(inspection, |_, _| ()) != Progress::More {
            break;
        }
    }
    seen.note_size(32, looking.best().len());
}

fn recount(inspection: &mut Inspection<'_, '_, UFloat>, dice: &mut Dice, seen: &mut Seen) {
    let pack = *inspection.pack();
    for _ in 0..2 {
        let owner = dice.below(inspection.piece().parts().len());
        let place = inspection.piece().part(owner).map_or(0, |part| part.place);
        let children: Vec<usize> = pack.children(usize::from(place)).collect();
        let place = children.get(dice.below(children.len())).copied();
        let number = u8::try_from(dice.below(5)).unwrap_or(0);
        let done = inspection.recount(owner, place.unwrap_or(0), number, |_, _| {});
        seen.note_words(33, &format!("{:?}", done.is_ok()));
        let _ = inspection.settle();
    }
}

thread_local! {
    static BENCH: RefCell<BenchRoom> = RefCell::default();
}

/// Works in the memory of a bench, which is large and kept.
pub(super) fn with_bench_room<T>(work: impl FnOnce(&mut BenchRoom) -> T) -> T {
    BENCH.with(|room| match room.try_borrow_mut() {
        Ok(mut room) => work(&mut room),
        // A case before this one panicked in the middle.
        Err(_) => work(&mut BenchRoom::default()),
    })
}

fn at_the_bench(pack: Pack<'_>, dice: &mut Dice, seen: &mut Seen) {
    with_bench_room(|room| {
        let mut bench = room.bench(pack);
        let mut noted = 0;
        for pressed in 0..40 {
            let event = any_key(dice);
            bench.press(event, &mut |_| noted += 1);
            if pressed % 8 == 0 {
                bench.tick(pressed * 700);
                bench.idle();
                let mut picture = Picture::default();
                let Ok(()) = bench.draw(&mut picture);
            }
        }
        seen.note_size(34, noted);
    });
}

/// A key as hands press them.
pub(super) fn any_key(dice: &mut Dice) -> Event {
    let key = match dice.below(20) {
        0..6 => Key::First,
        6..12 => Key::Second,
        12..19 => Key::Third,
        _ => Key::Fourth,
    };
    if dice.chance(8) {
        Event::Again(key, u16::try_from(1 + dice.below(40)).unwrap_or(1))
    } else {
        Event::Press(key)
    }
}

fn seeds() -> Vec<Vec<u8>> {
    // A few of the random rules are too much for one kind of part.
    let random = (0..).filter_map(|seed| {
        let mut dice = Dice::new(seed);
        let mut rules = RandomRules::draw(&mut dice);
        if seed % 3 == 0 {
            rules.add_degrees(&mut dice);
        }
        let built = tellmark_compile::build(&rules.model, &|_| "a sentence".to_owned());
        Some(built.ok()?.bytes.bytes().to_vec())
    });
    let mut packs = files("tests/packs/v1", ".pack");
    packs.extend(random.take(24));
    let all = packs.into_iter();
    all.map(|pack| [&[VERSION | LENGTH | SUM][..], &pack].concat())
        .collect()
}

fn words() -> Vec<Vec<u8>> {
    let mut words = vec![b"TELLMARK".to_vec()];
    words.extend((1..=21_u32).map(|section| section.to_le_bytes().to_vec()));
    words.extend((0..=8_u8).map(|operation| vec![operation, 0, 0, 0]));
    words
}
