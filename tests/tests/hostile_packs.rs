//! Packs that are cut off, damaged, or made to do harm are refused cleanly.

use tellmark_compile::build;
use tellmark_compile::room::{PackBytes, Room};
use tellmark_core::inspection::Inspection;
use tellmark_core::limits::MAX_DEPTH;
use tellmark_core::looking::{Candidate, Looking, Need, Progress};
use tellmark_core::number::UFloat;
use tellmark_core::pack::condition::{Among, END, Go, Look, Many, Test, What, Whose};
use tellmark_core::pack::{
    CHECKSUM, Form, GROUP_WORDS, HEADER_BYTES, OpenError, Pack, SECTION_BYTES, Section,
};
use tellmark_core::piece::Answer;
use tellmark_tests::dice::Dice;
use tellmark_tests::random::RandomRules;
use tellmark_tests::said::house;

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
        let place = usize::from(inspection.piece().parts()[part].place);
        let asks: Vec<u16> = inspection.pack().asks_of(place).collect();
        if let Some(&ask) = asks.get(dice.below(asks.len())) {
            let _ = inspection.answer(part, ask, Answer::Certain(dice.chance(50)));
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

/// Where a section's words start, and how many bytes it has.
fn section(bytes: &[u8], number: Section) -> (usize, usize) {
    let word = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().expect("four bytes"));
    let entries = (0..usize::from(bytes[21])).map(|i| HEADER_BYTES + i * SECTION_BYTES);
    let entry = entries
        .into_iter()
        .find(|&at| bytes[at] == number as u8)
        .expect("every pack has this section");
    (word(entry + 4) as usize, word(entry + 8) as usize)
}

/// The number of a place with at least so many kinds of part built into it, and where
/// in the bytes the description of its last group starts.
fn last_group(bytes: &[u8], at_least: u8) -> Option<(u32, usize)> {
    let packed = PackBytes::new(bytes);
    let pack = packed.open().expect("the pack is sound");
    let place = (0..pack.places()).find(|&place| {
        let fragment = pack.fragment(usize::from(pack.place(place).fragment));
        fragment.groups >= at_least
    })?;
    let fragment = pack.fragment(usize::from(pack.place(place).fragment));
    let words = fragment.code as usize
        + 2 * usize::from(fragment.constants)
        + fragment.entries().div_ceil(2)
        + GROUP_WORDS * (usize::from(fragment.groups) - 1);
    let row = u32::try_from(place).expect("few places");
    Some((row, section(bytes, Section::Code).0 + 4 * words))
}

#[test]
fn a_group_whose_table_would_be_larger_than_any_memory_is_refused() {
    let whole = (0..200)
        .map(small_pack)
        .find(|bytes| last_group(bytes, 2).is_some())
        .expect("some rules have an owner with two kinds of part");
    let (row, at) = last_group(&whole, 2).expect("just found");
    let mut altered = whole;
    // Twelve feeds, each counted up to 255: 256 to the power of twelve outcomes.
    altered[at + 1] = 12;
    altered[at + 4..at + 16].fill(255);
    sign(&mut altered);
    let place = Section::Places as u8;
    assert_eq!(open(&altered), Err(OpenError::Record(place, row)));
}

/// The bytes of a pack with so many jobs more than it has, none of which anything
/// calls for.
fn with_more_jobs(bytes: &[u8], more: usize) -> Vec<u8> {
    const JOB_BYTES: usize = 20;
    let (_, length) = section(bytes, Section::Jobs);
    let mut altered = bytes.to_vec();
    let (start, _) = section(bytes, Section::Jobs);
    let jobs = bytes[start..start + length].to_vec();
    let offset = altered.len();
    altered.extend(jobs);
    altered.resize(altered.len() + more * JOB_BYTES, 0);
    let entries = (0..usize::from(bytes[21])).map(|i| HEADER_BYTES + i * SECTION_BYTES);
    for at in entries.filter(|&at| bytes[at] == Section::Jobs as u8) {
        let four = |n: usize| u32::try_from(n).expect("a small pack").to_le_bytes();
        altered[at + 4..at + 8].copy_from_slice(&four(offset));
        altered[at + 8..at + 12].copy_from_slice(&four(length + more * JOB_BYTES));
    }
    let total = u32::try_from(altered.len()).expect("a small pack");
    altered[12..16].copy_from_slice(&total.to_le_bytes());
    sign(&mut altered);
    altered
}

#[test]
fn a_job_cannot_have_the_number_that_means_none() {
    let whole = small_pack(7);
    let jobs = section(&whole, Section::Jobs).1 / 20;
    assert_eq!(open(&with_more_jobs(&whole, 65_535 - jobs)), Ok(()));
    let refused = OpenError::Section(Section::Jobs as u8);
    assert_eq!(open(&with_more_jobs(&whole, 65_536 - jobs)), Err(refused));
}

/// Rules with a plan whose condition is long: there is room for others in its place.
const LONG: &str = "House rules for the test, version 1.
Pieces: chest.
Parts: drawer, lock.
Unless we say otherwise, a sign is there on its own: rarely.
Unless we say otherwise, a fault is there on its own: rarely.
A chest has 3 drawers.
A drawer has a lock.
You can see whether a chest is dusty.  Ask: \"Dusty?\"
You can see whether a drawer is stiff.  Ask: \"Stiff?\"
You can see whether a drawer is split.  Ask: \"Split?\"
You can see whether a drawer is scraping.  Ask: \"Scraping?\"
You can measure how much a drawer is worn, in mm, from 0 to 9.  Ask: \"Worn?\"
You can see which wood a drawer has: oak or pine.  Ask: \"Wood?\"
You can see whether a lock is lost.  Ask: \"Lost?\"
A drawer may be warped without showing it.
If a drawer is warped then it is usually stiff.  From: house
When a drawer is stiff and it is split and it is scraping and its lock is lost
    and the chest is dusty and it is oak and it is worn at least 2 mm
    then plan to mend it.  From: house
Job: mend it.  Takes: 1 hour
";

/// The same pack with another program in the place of its plan's condition.
fn with_condition(bytes: &[u8], at: u32, program: &[u32]) -> Vec<u8> {
    let mut altered = bytes.to_vec();
    let start = section(bytes, Section::Conditions).0 + 4 * at as usize;
    for (n, word) in program.iter().enumerate() {
        altered[start + 4 * n..start + 4 * n + 4].copy_from_slice(&word.to_le_bytes());
    }
    sign(&mut altered);
    altered
}

#[test]
fn conditions_that_are_not_whole_or_name_what_is_not_there_are_refused() {
    let checked = house(LONG);
    let built = checked.built.as_ref();
    let built = built.unwrap_or_else(|| panic!("{:?}", checked.reading.messages));
    let bytes = built.bytes.bytes();
    let pack = built.bytes.open().expect("a fresh pack opens");
    let plan = pack.plan(0);
    let kind = pack.kind(usize::from(plan.subject));
    let (kinds, states, asks) = [pack.kinds(), pack.states(), pack.asks()]
        .map(|n| u16::try_from(n).expect("few"))
        .into();
    let form = |slot: u16| pack.ask(usize::from(kind.first_ask + slot)).form;
    let plain = (0..kind.asks).find(|&slot| form(slot) == Form::Whether);
    let measured = (0..kind.asks).find(|&slot| form(slot) != Form::Whether);
    let (plain, measured) = (plain.expect("a plain ask"), measured.expect("a measure"));
    let is_refused = |program: &[u32]| {
        let altered = open(&with_condition(bytes, plan.condition, program));
        assert!(
            matches!(altered, Ok(()) | Err(OpenError::Record(..))),
            "{altered:?}"
        );
        altered.is_err()
    };
    let ends = |look: Look| {
        let mut program = look.words(Go::Holds, Go::Fails).to_vec();
        program.push(END);
        program
    };
    let test = |whose: Whose, what: What| {
        let look = Look::Test(Test {
            whose,
            what,
            yes: true,
        });
        ends(look)
    };
    // What is whole and names what there is passes.
    assert!(!is_refused(&ends(Look::Always)));
    assert!(!is_refused(&ends(Look::Own(plain, true))));
    assert!(!is_refused(&test(Whose::Own, What::State(states - 1))));
    assert!(!is_refused(&test(
        Whose::Owner(kinds - 1),
        What::Has(kinds - 1, 1, 1)
    )));
    // No instruction at all.
    assert!(is_refused(&[END]));
    // What there is not, wherever it is named.
    assert!(is_refused(&ends(Look::Own(kind.asks, true))));
    assert!(is_refused(&ends(Look::Own(measured, true))));
    assert!(is_refused(&ends(Look::Piece(asks, true))));
    for what in [
        What::State(states),
        What::Sure(states, 500),
        What::Within(asks, 0, 1),
        What::Values(asks, 1),
        What::Has(kinds, 1, 1),
    ] {
        assert!(is_refused(&test(Whose::Own, what)), "{what:?}");
    }
    let parts = |path: &[u16]| {
        let mut all = [0; MAX_DEPTH];
        all[..path.len()].copy_from_slice(path);
        let (steps, among) = (u8::try_from(path.len()).expect("few"), Among::ALL);
        Whose::Parts {
            path: all,
            steps,
            many: Many::Every,
            among,
        }
    };
    let others = |kind| Whose::Others {
        kind,
        many: Many::Every,
    };
    for (whose, is_bad) in [
        (Whose::Owner(kinds), true),
        (others(kinds), true),
        (parts(&[1, kinds]), true),
        (parts(&[kinds, 1]), true),
        (parts(&[1, 1]), false),
        (others(1), false),
    ] {
        assert_eq!(
            is_refused(&test(whose, What::OutOfSight)),
            is_bad,
            "{whose:?}"
        );
    }
    // Jumps: forwards, to where an instruction starts, and not to the end.
    let jumps = |so: Go, not: Go| {
        let mut program = Look::Always.words(so, not).to_vec();
        program.extend(ends(Look::Always));
        program
    };
    assert!(!is_refused(&jumps(Go::To(2), Go::To(2))));
    for bad in [0, 1, 3, 4, 5, 900].map(Go::To) {
        assert!(is_refused(&jumps(bad, Go::Fails)), "{bad:?}");
        assert!(is_refused(&jumps(Go::Holds, bad)), "{bad:?}");
        assert!(is_refused(&jumps(Go::To(2), bad)), "{bad:?}");
    }
    // Cut off in the middle of an instruction.
    assert!(is_refused(&[0xff, END]));
}
