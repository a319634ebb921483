//! Packs that are cut off, damaged, or made to do harm are refused cleanly.

use tellmark_compile::build;
use tellmark_compile::room::{PackBytes, Room};
use tellmark_core::inspection::Inspection;
use tellmark_core::looking::{Candidate, Looking, Need, Progress};
use tellmark_core::number::UFloat;
use tellmark_core::pack::{CHECKSUM, OpenError, Pack};
use tellmark_core::piece::Answer;
use tellmark_tests::dice::Dice;
use tellmark_tests::random::RandomRules;

fn small_pack(seed: u64) -> Vec<u8> {
    let rules = RandomRules::draw(&mut Dice::new(seed));
    let built = build(&rules.model, &|_| "a sentence".to_owned()).expect("small rules fit");
    built.bytes.bytes().to_vec()
}

/// Puts the right checksum on altered bytes, as somebody who means harm would.
fn sign(bytes: &mut [u8]) {
    let mut digest = CHECKSUM.digest();
    digest.update(&bytes[..16]);
    digest.update(&bytes[20..]);
    let checksum = digest.finalize().to_le_bytes();
    bytes[16..20].copy_from_slice(&checksum);
}

fn open(bytes: &[u8]) -> Result<(), OpenError> {
    let bytes = PackBytes::new(bytes);
    Pack::open(bytes.bytes()).map(|_| ())
}

#[test]
fn every_truncation_is_refused() {
    let whole = small_pack(7);
    for length in 0..whole.len() {
        let cut = &whole[..length];
        assert!(open(cut).is_err(), "{length} bytes of {}", whole.len());
    }
    assert_eq!(open(&whole), Ok(()));
}

#[test]
fn every_flipped_bit_is_refused() {
    let whole = small_pack(7);
    for at in 0..whole.len() {
        for bit in 0..8 {
            let mut flipped = whole.clone();
            flipped[at] ^= 1 << bit;
            assert!(open(&flipped).is_err(), "bit {bit} of byte {at}");
        }
    }
}

#[test]
fn bytes_off_their_boundary_are_refused() {
    let mut shifted = vec![0];
    shifted.extend(small_pack(7));
    let words = PackBytes::new(&shifted);
    assert_eq!(
        Pack::open(&words.bytes()[1..shifted.len()]).err(),
        Some(OpenError::Misaligned)
    );
}

/// Opens altered bytes that carry a right checksum; if they pass every check,
/// uses everything in them. Nothing may panic, hang or read outside the pack.
fn use_up(bytes: &[u8], dice: &mut Dice) -> bool {
    let bytes = PackBytes::new(bytes);
    let Ok(pack) = bytes.open() else {
        return false;
    };
    for place in 0..pack.places() {
        let mut room = Room::<UFloat>::default();
        let usual = |_: &[_], _, place| pack.place(place).usual.min(4);
        let Ok(mut inspection) = room.inspection(pack, place, usual) else {
            continue;
        };
        answer_at_random(&mut inspection, dice);
        weigh_checks(&mut inspection);
    }
    for text in 0..pack.texts() {
        let _ = pack.text(u16::try_from(text).unwrap_or(0)).len();
    }
    true
}

fn answer_at_random(inspection: &mut Inspection<'_, '_, UFloat>, dice: &mut Dice) {
    let parts = inspection.piece().parts().len();
    for _ in 0..6 {
        let part = dice.below(parts);
        let place = usize::from(inspection.piece().part(part).place);
        let asks: Vec<u16> = inspection.pack().asks_of(place).collect();
        if let Some(&ask) = asks.get(dice.below(asks.len())) {
            inspection.answer(part, ask, Answer::Certain(dice.chance(50)));
        }
        let _ = inspection.weights(part, dice.below(4));
    }
    inspection.plans(|_| {});
    inspection.cautions(|_| {});
    let _ = inspection.clash();
}

/// Weighs every check, as far as the answers allow.
fn weigh_checks(inspection: &mut Inspection<'_, '_, UFloat>) {
    let need = Need::of(inspection.pack(), inspection.piece());
    let mut candidates = vec![Candidate::NONE; need.candidates];
    let mut numbers = vec![UFloat::from_bits(0); need.numbers];
    let mut looking = Looking::new(&mut candidates, &mut numbers);
    let _ = looking.start(inspection);
    while looking.step(inspection, |_, _| ()) == Progress::More {}
    let _ = looking.best().len();
}

#[test]
fn altered_bytes_with_a_right_checksum_do_no_harm() {
    let mut dice = Dice::new(99);
    let (mut tried, mut passed) = (0, 0);
    for seed in [3, 7, 12, 20] {
        let whole = small_pack(seed);
        // Every byte of the pack, set to values that tend to break things.
        for at in 0..whole.len() {
            for value in [0, 1, 0x7f, 0x80, 0xff] {
                if whole[at] == value || dice.chance(60) {
                    continue;
                }
                let mut altered = whole.clone();
                altered[at] = value;
                sign(&mut altered);
                tried += 1;
                passed += usize::from(use_up(&altered, &mut dice));
            }
        }
    }
    println!("{tried} altered packs, {passed} of them still sound");
    assert!(tried > 5_000 && passed > 0);
}
