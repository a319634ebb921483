//! What was noted at the bench, played back whatever it says, and keys after it: on the
//! bench screen, and put into words for a job's record.

use super::pack::{any_key, with_bench_room};
use super::{Bytes, Form, Seen, Target, files, sum};
use std::sync::OnceLock;
use tellmark_compile::room::PackBytes;
use tellmark_core::bench::keys::{Event, Key};
use tellmark_core::pack::Pack;
use tellmark_core::record::{BODY, Noted};
use tellmark_device::bench::{Picture, Room};
use tellmark_device::unit::Bench;
use tellmark_tests::dice::Dice;
use tellmark_tests::{screen, unit};

pub(super) const TARGET: Target = Target {
    name: "bench",
    form: Form::Bytes,
    longest: 500,
    memory: 0,
    run,
    seeds,
    words,
};

/// Things done in one case at most.
const MOST: usize = 40;

fn packs() -> &'static [PackBytes] {
    static PACKS: OnceLock<Vec<PackBytes>> = OnceLock::new();
    PACKS.get_or_init(|| {
        let v1 = files("tests/packs/v1", ".pack");
        v1.iter().map(|bytes| PackBytes::new(bytes)).collect()
    })
}

fn run(input: &[u8], seen: &mut Seen) {
    let mut bytes = Bytes::of(input);
    let which = bytes.byte();
    let mut noted: Vec<Noted> = Vec::new();
    for _ in 0..MOST {
        let Ok(body) = <[u8; BODY]>::try_from(bytes.take(BODY)) else {
            break;
        };
        let Some(one) = Noted::from_bytes(body) else {
            seen.note(1, 0);
            break;
        };
        assert_eq!(one.to_bytes(), body, "{one:?}");
        noted.push(one);
    }
    if which.is_multiple_of(16) {
        in_words(&noted, seen);
    }
    let old = packs();
    match old.get(usize::from(which) % (old.len() + 1)) {
        Some(pack) => on_screen(pack.open().expect("sound"), which, &noted, input, seen),
        None => on_screen(screen::pack(), which, &noted, input, seen),
    }
}

/// The notes speak of the pack that is there, if the record says so at all.
fn of_this_pack(noted: Noted, pack: &Pack<'_>) -> Noted {
    match noted {
        Noted::Begun { root, pack: 0..200 } => Noted::Begun {
            root,
            pack: pack.id(),
        },
        other => other,
    }
}

fn on_screen(pack: Pack<'_>, which: u8, noted: &[Noted], input: &[u8], seen: &mut Seen) {
    let mut dice = Dice::new(sum(input));
    with_bench_room(|room| {
        let mut bench = room.bench(pack);
        for noted in noted {
            match bench.play(of_this_pack(*noted, &pack)) {
                Ok(()) => seen.note(2, u64::from(noted.to_bytes()[0])),
                Err(why) => seen.note_words(3, &format!("{why:?}")),
            }
        }
        bench.take_up();
        if which & 1 == 1 {
            bench.keep_to_piece();
        }
        let mut answered = 0;
        for pressed in 0..u32::from(which >> 2) {
            let event = any_key(&mut dice);
            bench.press(event, &mut |noted| {
                assert_eq!(Noted::from_bytes(noted.to_bytes()), Some(noted));
                answered += 1;
            });
            if pressed % 8 == 0 {
                bench.tick(pressed.wrapping_mul(0x0100_0193));
                bench.idle();
                let mut picture = Picture::default();
                let Ok(()) = bench.draw(&mut picture);
            }
        }
        seen.note_size(4, answered);
        bench.press(Event::Again(Key::Fourth, 1), &mut |_| {});
        assert!(bench.is_home());
    });
}

fn in_words(noted: &[Noted], seen: &mut Seen) {
    let (checked, built) = screen::rules();
    let pack = screen::pack();
    let mut room = Room::default();
    let mut bench = Bench::new(&checked.reading.model, built, &mut room).expect("a sound pack");
    for noted in noted {
        let noted = of_this_pack(*noted, &pack);
        assert!(!bench.plainly(noted).is_empty());
        match bench.take(noted) {
            Ok(said) => seen.note(5, u64::from(said.is_some())),
            Err(why) => seen.note_words(6, &format!("{why:?}")),
        }
        let _ = bench.order();
    }
    seen.note_size(7, bench.parts().len());
}

fn seeds() -> Vec<Vec<u8>> {
    let mut seeds = Vec::new();
    let packs = packs().iter().map(|pack| pack.open().expect("sound"));
    let packs: Vec<Pack<'_>> = packs.chain([screen::pack()]).collect();
    for (which, pack) in packs.iter().enumerate() {
        for seed in 0..6_u8 {
            let noted = unit::inspection(pack, &mut Dice::new(u64::from(seed)), 10);
            // A multiple of 4 keeps to this pack; with more of it, more keys.
            let number = u8::try_from(which).unwrap_or(0) + 4 * 5 * seed;
            let mut input = vec![number];
            input.extend(noted.into_iter().flat_map(Noted::to_bytes));
            seeds.push(input);
        }
    }
    seeds
}

fn words() -> Vec<Vec<u8>> {
    let pack = screen::pack();
    let inspection = unit::inspection(&pack, &mut Dice::new(9), 60);
    inspection
        .into_iter()
        .map(|n| n.to_bytes().to_vec())
        .collect()
}
