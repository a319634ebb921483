//! Pieces and random answers, made the same way wherever this runs.
//!
//! The unit and the host must give the same bits. The binary `bits` gives each
//! piece of [`TRIALS`] some sets of random answers and hashes the chances of all
//! its states; the workspace's `device_bits` test includes this file, does the
//! same on the host and compares.

use tellmark_core::inspection::Inspection;
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::{CHECKSUM, Form, Pack};
use tellmark_core::piece::{Answer, Part};

/// A kind of piece that is given random answers.
#[derive(Clone, Copy, Debug)]
pub struct Trial {
    /// Its name in the pack.
    pub piece: &'static str,
    /// How many drawers, if it has any.
    pub drawers: u8,
    /// How many sets of answers it is given.
    pub sets: u32,
}

/// A thousand sets in all. Two drawers, not six, so that an emulator is done with
/// them in two minutes: parts of one kind go by the same code, and it is with the
/// second that a group begins to count.
pub const TRIALS: [Trial; 2] = [
    Trial {
        piece: "chest of drawers",
        drawers: 2,
        sets: 300,
    },
    Trial {
        piece: "drop-leaf table",
        drawers: 0,
        sets: 700,
    },
];

/// The hash of a set of answers that cannot all be true.
pub const IMPOSSIBLE: u32 = 0;

/// The place where a kind of piece stands in the pack's tree.
#[must_use]
pub fn root_of(pack: &Pack<'_>, piece: &str) -> Option<usize> {
    let mut kinds = (0_u16..).take(pack.kinds());
    let kind = kinds.find(|&k| pack.text(pack.kind(usize::from(k)).name) == piece)?;
    pack.root_of(kind)
}

/// As many parts as usual, and so many drawers.
pub fn counts(pack: Pack<'_>, drawers: u8) -> impl FnMut(&[Part], usize, usize) -> u8 {
    move |_, _, place| {
        let record = pack.place(place);
        let is_drawer = pack.text(pack.kind(usize::from(record.kind)).name) == "drawer";
        if is_drawer { drawers } else { record.usual }
    }
}

/// A source of random choices: SplitMix64 (G. L. Steele, D. Lea and C. H. Flood,
/// "Fast splittable pseudorandom number generators", OOPSLA 2014).
#[derive(Clone, Debug)]
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `n`.
    fn below(&mut self, n: u32) -> u32 {
        let upper = self.next() >> 32;
        u32::try_from((upper * u64::from(n)) >> 32).unwrap_or(0)
    }

    /// True in `n` of 100 throws.
    fn chance(&mut self, n: u32) -> bool {
        self.below(100) < n
    }

    fn answer(&mut self, form: Form) -> Answer {
        match form {
            Form::Whether => {
                let yes = self.chance(40);
                match self.below(100) {
                    0..=1 => Answer::Certain(yes),
                    2..=19 => Answer::Looks(yes),
                    20..=24 => Answer::CannotSee,
                    _ => Answer::Seen(yes),
                }
            }
            Form::Which { values, .. } | Form::Degrees { values, .. } => {
                Answer::Value(u8::try_from(self.below(u32::from(values))).unwrap_or(0))
            }
            Form::HowMuch { least, most, .. } => {
                let range = u32::try_from(i64::from(most) - i64::from(least)).unwrap_or(u32::MAX);
                let above = self.below(range.saturating_add(1));
                Answer::Reading(least.saturating_add_unsigned(above))
            }
            Form::HowMany { .. } => Answer::Reading(i32::try_from(self.below(4)).unwrap_or(0)),
        }
    }
}

/// Answers about so many in a hundred of the things that can be asked, and takes
/// all other answers back.
pub fn give(inspection: &mut Inspection<'_, '_, UFloat>, seed: u32, in_a_hundred: u32) {
    let mut dice = Dice(u64::from(seed));
    let pack = *inspection.pack();
    for part in 0..inspection.piece().parts().len() {
        let Some(record) = inspection.piece().part(part) else {
            return;
        };
        for ask in pack.asks_of(usize::from(record.place)) {
            let answer = if dice.chance(in_a_hundred) {
                dice.answer(pack.ask(usize::from(ask)).form)
            } else {
                Answer::NotLooked
            };
            // The answer is drawn to fit.
            let _ = inspection.answer(part, ask, answer);
        }
    }
}

/// Gives a piece the set of answers with this number; the more, the higher its
/// last digit. The hash of all the chances that follow comes back: CRC-32
/// (ISO-HDLC) over, for each state of each part in order, the bits of its weights
/// (no, yes; four bytes each) and its share in units of 2⁻³² (eight bytes), all
/// little-endian.
pub fn hash(inspection: &mut Inspection<'_, '_, UFloat>, set: u32) -> u32 {
    give(inspection, set, 8 * (set % 10) + 4);
    let pack = *inspection.pack();
    let mut digest = CHECKSUM.digest();
    for part in 0..inspection.piece().parts().len() {
        let Some(record) = inspection.piece().part(part) else {
            return IMPOSSIBLE;
        };
        for slot in 0..pack.states_of(usize::from(record.place)).count() {
            let Ok((no, yes)) = inspection.weights(part, slot) else {
                return IMPOSSIBLE;
            };
            digest.update(&no.to_bits().to_le_bytes());
            digest.update(&yes.to_bits().to_le_bytes());
            digest.update(&UFloat::share(yes, no).units().to_le_bytes());
        }
    }
    digest.finalize()
}
