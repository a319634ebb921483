//! A round of a chest of four drawers on the bench screen, on the host: which keys
//! were pressed, what was to be seen after each, and what it came to. The emulated
//! bench unit is given the same keys (`tests/device/desk.mjs`) and must show and
//! come to the same.

use serde_json::json;
use tellmark::bench::{Picture, sentence};
use tellmark_core::belief::{Desk, Need};
use tellmark_core::bench::Bench;
use tellmark_core::bench::keys::{Event, Key};
use tellmark_core::bench::work::Memory;
use tellmark_core::number::{Number as _, UFloat};
use tellmark_core::pack::{CHECKSUM, Form, Pack};
use tellmark_core::piece::{Answer, Part};
use tellmark_core::record::Noted;
use tellmark_tests::dice::Dice;
use tellmark_tests::screen::{Bencher, pack, rules};

/// As much memory as the unit has.
const NUMBERS: usize = 10_000;

/// Most keys that one answer takes.
const PATIENCE: usize = 12;

/// A check sum of what is to be seen: eight dots a byte, row by row.
fn seen(bench: &Bench<'_, '_, UFloat>) -> u32 {
    let mut picture = Picture::default();
    let Ok(()) = bench.draw(&mut picture);
    let mut digest = CHECKSUM.digest();
    for y in 0..64 {
        for x in (0..128).step_by(8) {
            let byte = (x..x + 8).fold(0, |byte, x| byte << 1 | u8::from(picture.is_lit(x, y)));
            digest.update(&[byte]);
        }
    }
    digest.finalize()
}

struct Walk<'m> {
    bench: Bench<'m, 'm, UFloat>,
    record: Vec<Noted>,
    keys: Vec<usize>,
    frames: Vec<u32>,
    /// How much was noted by then.
    counts: Vec<usize>,
    now: u32,
}

impl Walk<'_> {
    /// Presses a key and looks two seconds later.
    fn press(&mut self, key: Key) {
        let record = &mut self.record;
        let press = Event::Press(key);
        self.bench.press(press, &mut |noted| record.push(noted));
        while self.bench.idle() {}
        self.now += 2_000;
        self.bench.tick(self.now);
        self.keys.push(key as usize);
        self.frames.push(seen(&self.bench));
        self.counts.push(self.record.len());
    }

    /// Answers what is asked next.
    fn answer(&mut self, form: Form, dice: &mut Dice) {
        let before = self.record.len();
        let answered = |walk: &Self| {
            let is_answer = |noted: &Noted| matches!(noted, Noted::Answered { .. });
            walk.record[before..].iter().any(is_answer)
        };
        let yes = match form {
            Form::Whether => dice.chance(25),
            _ => true,
        };
        for _ in 0..PATIENCE {
            self.press(if yes { Key::First } else { Key::Second });
            if answered(self) {
                return;
            }
            // A dial is open, or a list of values, or a caution that comes first.
            if !matches!(form, Form::Whether) && dice.chance(30) {
                self.press(Key::First);
            }
            self.press(Key::Third);
            if answered(self) {
                return;
            }
        }
    }
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let pack = pack();
    let (checked, built) = rules();
    let mut parts = vec![Part::default(); 240];
    let mut answers = vec![Answer::NotLooked; 2_000];
    let mut desks = vec![Desk::default(); 120];
    let mut numbers = vec![UFloat::ZERO; NUMBERS];
    let memory = Memory {
        parts: &mut parts,
        answers: &mut answers,
        numbers: &mut numbers,
        desks: &mut desks,
    };
    let mut bench = Bench::new(pack, memory);
    bench.take_up();
    let mut walk = Walk {
        bench,
        record: Vec::new(),
        keys: Vec::new(),
        frames: Vec::new(),
        counts: Vec::new(),
        now: 0,
    };
    let mut dice = Dice::new(1);
    let first = seen(&walk.bench);
    // The first kind of piece is a chest of drawers, as it usually is.
    walk.press(Key::Third);
    walk.press(Key::Third);
    let mut last = None;
    while let Some(visit) = walk.bench.next_to_ask() {
        if last == Some(visit) {
            return Err(format!("no answer to {visit:?} after {:?}", walk.keys).into());
        }
        last = Some(visit);
        let form = pack.ask(usize::from(visit.ask)).form;
        walk.answer(form, &mut dice);
    }
    // Finished, then home, and down the list: likely faults, jobs, cautions.
    for key in [3, 3, 4, 4, 2, 3, 3, 4, 4, 2, 3, 4, 2, 3, 4] {
        walk.press(Key::ALL[key - 1]);
    }

    // Where each key left it after a power failure.
    let mut restored = Vec::new();
    for cut in [40, 90] {
        let cut = cut.min(walk.record.len());
        let mut room = tellmark::bench::Room::default();
        let again = Bencher::restored(pack, &mut room, &walk.record[..cut]);
        let again = again.map_err(|why| format!("{why:?}"))?;
        restored.push(json!({ "notes": cut, "frame": seen(&again.bench) }));
    }
    let inspection = walk.bench.work().inspection().ok_or("no piece")?;
    let need = Need::of(&pack, inspection.piece()).numbers();
    let lines: Vec<String> = (walk.record.iter())
        .filter_map(|&noted| {
            sentence(&checked.reading.model, built, walk.bench.work().parts(), noted)
        })
        .collect();
    let notes = walk.record.len();
    let Walk {
        keys,
        frames,
        counts,
        ..
    } = walk;
    let mut digest = CHECKSUM.digest();
    for number in &numbers[..need] {
        digest.update(&number.to_bits().to_le_bytes());
    }
    let out = json!({
        "pack": Pack::id(&pack),
        "first": first,
        "keys": keys,
        "frames": frames,
        "counts": counts,
        "notes": notes,
        "restored": restored,
        "numbers": { "count": need, "sum": digest.finalize() },
        "lines": lines,
    });
    println!("{out}");
    Ok(())
}
