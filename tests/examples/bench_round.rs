//! A round of a chest of four drawers on the bench screen, on the host: which keys
//! were pressed, what was to be seen after each, and what it came to. The emulated
//! bench unit is given the same keys (`tests/device/desk.mjs`) and must show and
//! come to the same.

use serde_json::json;
use tellmark_core::belief::{Desk, Need};
use tellmark_core::bench::keys::{Event, Key};
use tellmark_core::bench::{Bench, Cable};
use tellmark_core::looking::{Candidate, Looking};
use tellmark_core::number::{Number as _, UFloat};
use tellmark_core::pack::{CHECKSUM, Form, Pack};
use tellmark_core::piece::{Answer, Part};
use tellmark_core::record::Noted;
use tellmark_core::work::Memory;
use tellmark_device::bench::{Picture, sentence};
use tellmark_tests::dice::Dice;
use tellmark_tests::screen::{Bencher, pack, rules};

/// Milliseconds for which what is to be seen is looked at: a long title turns.
const LOOK: std::ops::Range<u32> = 2_000..8_000;
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
    /// What may be seen after each.
    frames: Vec<Vec<u32>>,
    /// How much was noted by then.
    counts: Vec<usize>,
    now: u32,
}

impl<'m> Walk<'m> {
    fn taken_up(bench: Bench<'m, 'm, UFloat>, record: Vec<Noted>) -> Self {
        Self {
            bench,
            record,
            keys: Vec::new(),
            frames: Vec::new(),
            counts: Vec::new(),
            now: 0,
        }
    }

    /// Presses a key and looks two seconds later.
    fn press(&mut self, key: Key) {
        let record = &mut self.record;
        let press = Event::Press(key);
        self.bench.press(press, &mut |noted| record.push(noted));
        self.keys.push(key as usize);
        let seen = self.look();
        self.frames.push(seen);
        self.counts.push(self.record.len());
    }

    /// Everything that is to be seen while nobody presses a key.
    fn look(&mut self) -> Vec<u32> {
        while self.bench.idle() {}
        let waiting = u32::try_from(self.record.len()).unwrap_or(u32::MAX);
        self.bench.tell(Cable {
            connected: false,
            waiting,
        });
        let mut all = Vec::new();
        for after in LOOK.step_by(200) {
            self.bench.tick(self.now + after);
            all.push(seen(&self.bench));
        }
        self.now += LOOK.end;
        all.sort_unstable();
        all.dedup();
        all
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
    let mut numbers = vec![UFloat::ZERO; 10_000];
    let mut candidates = vec![Candidate::NONE; 1_000];
    let mut beside = vec![UFloat::ZERO; 10_000];
    let memory = Memory {
        parts: &mut parts,
        answers: &mut answers,
        numbers: &mut numbers,
        desks: &mut desks,
    };
    let mut bench = Bench::new(pack, memory);
    bench.lend_looking(Looking::new(&mut candidates, &mut beside));
    bench.take_up();
    let mut walk = Walk::taken_up(bench, Vec::new());
    let mut dice = Dice::new(1);
    let first = walk.look();
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
    // Finished, then home and down its list: what is there is opened and left again.
    for key in [3, 3, 4] {
        walk.press(Key::ALL[key - 1]);
    }
    for _ in 0..7 {
        for key in [2, 3, 3, 4, 4] {
            walk.press(Key::ALL[key - 1]);
        }
    }

    // Where each key left it after a power failure.
    let mut restored = Vec::new();
    for from in [40, 90] {
        // A question that is answered by one key.
        let answers = |&i: &usize| walk.keys[i] < 2 && walk.counts[i] == walk.counts[i - 1] + 1;
        let key = (from..walk.keys.len()).find(answers).ok_or("no answer")?;
        let cut = walk.counts[key - 1];
        let mut room = tellmark_device::bench::Room::default();
        let again = Bencher::restored(pack, &mut room, &walk.record[..cut]);
        let again = again.map_err(|why| format!("{why:?}"))?;
        let mut again = Walk::taken_up(again.bench, again.record);
        restored.push(json!({ "key": key, "frames": again.look() }));
    }
    let inspection = walk.bench.work().inspection().ok_or("no piece")?;
    let need = Need::of(&pack, inspection.piece()).numbers();
    let lines: Vec<String> = (walk.record.iter())
        .filter_map(|&noted| {
            sentence(
                &checked.reading.model,
                built,
                (&pack, walk.bench.work().parts()),
                noted,
            )
        })
        .collect();
    let notes = walk.record.len();
    let Walk { keys, frames, .. } = walk;
    let mut digest = CHECKSUM.digest();
    for number in &numbers[..need] {
        digest.update(&number.to_bits().to_le_bytes());
    }
    let out = json!({
        "pack": Pack::id(&pack),
        "first": first,
        "keys": keys,
        "frames": frames,
        "notes": notes,
        "restored": restored,
        "numbers": { "count": need, "sum": digest.finalize() },
        "lines": lines,
    });
    println!("{out}");
    Ok(())
}
