//! The log and the packs on flash with anything on it, added to, with power that fails.

use super::{Bytes, Form, Seen, Target, file, sum};
use std::sync::OnceLock;
use tellmark_core::log::{
    Entry, Flash as _, Log, LogError, Offered, PAGE, PackStore, SECTOR, SLOT, StoreError,
};
use tellmark_core::pack::CHECKSUM;
use tellmark_core::record::{BODY, Noted};
use tellmark_tests::dice::Dice;
use tellmark_tests::unit::{Cut, MockFlash, PowerIsOff};

pub(super) const TARGET: Target = Target {
    name: "flash",
    form: Form::Bytes,
    longest: 9_000,
    memory: 0,
    run,
    seeds,
    words,
};

const NAME: u32 = 0x5EED_0001;
/// Sectors of a log.
const LOG: usize = 2;
/// Sectors of two packs.
const PACKS: usize = 6;
/// Things done in one case at most.
const MOST: usize = 40;
/// A log whose numbers have come so far is at its end: no bench notes so much.
const LAST: u32 = u32::MAX - 10_000;

fn run(input: &[u8], seen: &mut Seen) {
    let mut bytes = Bytes::of(input);
    let dice = Dice::new(sum(input));
    let how = bytes.byte();
    if how & 1 == 0 {
        let image = logs()[usize::from(how >> 1) % logs().len()].clone();
        let image = altered(image, &mut bytes);
        let mut flash = MockFlash::with(LOG, reader(&image));
        work_log(&mut flash, &mut bytes, dice, seen);
    } else {
        let image = stores()[usize::from(how >> 1) % stores().len()].clone();
        let image = altered(image, &mut bytes);
        let mut flash = MockFlash::with(PACKS, reader(&image));
        work_packs(&mut flash, &mut bytes, dice, seen);
    }
}

fn reader(image: &[u8]) -> impl FnMut() -> u8 {
    let mut at = 0;
    move || {
        at += 1;
        image.get(at - 1).copied().unwrap_or(0xFF)
    }
}

/// Puts bytes, and things that are sealed, anywhere on an image.
fn altered(mut image: Vec<u8>, bytes: &mut Bytes<'_>) -> Vec<u8> {
    for _ in 0..bytes.byte() % 8 {
        let sector = usize::from(bytes.byte()) % (image.len() / SECTOR);
        let within = usize::from(bytes.half());
        let (at, with) = match bytes.byte() % 6 {
            0 => (within % SECTOR, bytes.block().to_vec()),
            1 => {
                // A note with any number.
                let body = <[u8; BODY]>::try_from(bytes.take(BODY));
                let noted = body.ok().and_then(Noted::from_bytes);
                let sequence = bytes.number();
                let noted = noted.unwrap_or(Noted::Finished);
                let at = within % (SECTOR / SLOT) * SLOT;
                (at, Entry { sequence, noted }.to_slot().to_vec())
            }
            2 => {
                // The cell that begins a sector of the log.
                let mut body = b"TMLG\x01\0\0\0".to_vec();
                let identity = if bytes.byte().is_multiple_of(4) {
                    1
                } else {
                    NAME
                };
                body.extend(identity.to_le_bytes());
                // No chip lives to see half of the turns that can be counted.
                body.extend((bytes.number() & 0x7FFF_FFFF).to_le_bytes());
                for _ in 0..2 {
                    body.extend(bytes.number().to_le_bytes());
                }
                (0, sealed(body))
            }
            3 => {
                // The cells that begin a half for a pack.
                let name = [b"TMPK", b"TMPC"][usize::from(bytes.byte() % 2)];
                let mut body = [&name[..], b"\x01\0\0\0"].concat();
                for _ in 0..2 {
                    body.extend(bytes.number().to_le_bytes());
                }
                (within % 2 * 32, sealed(body))
            }
            4 => (PAGE + within % 4, vec![0; 1 + within % 3]),
            _ => (0, bytes.take(SECTOR).to_vec()),
        };
        let place = image[sector * SECTOR..][..SECTOR].iter_mut().skip(at);
        for (to, from) in place.zip(with) {
            *to = from;
        }
    }
    image
}

/// Twenty-eight bytes and their seal, as `LAYOUT.md` has it.
fn sealed(mut body: Vec<u8>) -> Vec<u8> {
    body.resize(28, 0);
    let seal = match CHECKSUM.checksum(&body) {
        0 | u32::MAX => 1,
        seal => seal,
    };
    body.extend(seal.to_le_bytes());
    body
}

fn work_log(flash: &mut MockFlash, bytes: &mut Bytes<'_>, mut dice: Dice, seen: &mut Seen) {
    let mut written: Vec<Entry> = Vec::new();
    for _ in 0..4 {
        let mut log = match Log::open(&mut *flash, NAME) {
            Ok(log) => log,
            Err(LogError::Flash(PowerIsOff)) => {
                *flash = flash.restarted();
                continue;
            }
            Err(why) => panic!("{why:?}"),
        };
        seen.note(1, u64::from(log.torn().min(20)));
        seen.note_size(2, log.from(0).count());
        let _ = (log.room(), log.unfetched(), log.last_piece().count());
        assert!(log.acknowledged() <= log.newest() || log.newest() >= LAST);
        // All that was given a number is there, until it is fetched.
        if log.newest() < LAST {
            for entry in written.iter().filter(|e| e.sequence > log.acknowledged()) {
                let found = log
                    .from(entry.sequence)
                    .find(|e| e.sequence == entry.sequence);
                assert_eq!(found.as_ref(), Some(entry), "lost");
            }
        }
        let mut is_off = false;
        for _ in 0..MOST {
            if bytes.is_empty() {
                break;
            }
            let done = match bytes.byte() % 8 {
                0..4 => {
                    let body = <[u8; BODY]>::try_from(bytes.take(BODY));
                    let noted = body.ok().and_then(Noted::from_bytes);
                    let noted = noted.unwrap_or(Noted::Finished);
                    let expected = log.newest().saturating_add(1);
                    log.append(noted).map(|sequence| {
                        assert_eq!(sequence, expected);
                        written.retain(|e| e.sequence != sequence);
                        written.push(Entry { sequence, noted });
                    })
                }
                4 => {
                    let many = usize::from(bytes.byte());
                    (0..many).try_for_each(|_| log.append(Noted::Finished).map(|_| ()))
                }
                5 => log.acknowledge(bytes.number()),
                6 => {
                    let newest = log.newest();
                    log.acknowledge(newest)
                }
                _ => break,
            };
            match done {
                Ok(()) => {}
                Err(LogError::Flash(PowerIsOff)) => {
                    is_off = true;
                    break;
                }
                Err(why @ (LogError::Full | LogError::WornOut)) => {
                    seen.note_words(3, &format!("{why:?}"));
                }
                Err(why) => panic!("{why:?}"),
            }
        }
        if is_off {
            *flash = flash.restarted();
        }
        if bytes.byte().is_multiple_of(2) {
            flash.cut(Cut {
                after: u64::from(bytes.half() % 6_000),
                all_at_once: bytes.byte().is_multiple_of(2),
                dice: Dice::new(dice.roll()),
            });
        }
    }
}

fn work_packs(flash: &mut MockFlash, bytes: &mut Bytes<'_>, mut dice: Dice, seen: &mut Seen) {
    let packs = packs();
    for _ in 0..3 {
        let Ok(mut store) = PackStore::open(&mut *flash) else {
            panic!("there is room");
        };
        let before = store.current_bytes().map(<[u8]>::to_vec);
        seen.note(
            4,
            u64::from(before.is_some()) * 2 + u64::from(store.damaged()),
        );
        let mut is_off = false;
        for _ in 0..MOST {
            if bytes.is_empty() {
                break;
            }
            let pack = &packs[usize::from(bytes.byte()) % packs.len()];
            let own = id(pack);
            let length = u32::try_from(pack.len()).unwrap_or(0);
            let done = match bytes.byte() % 8 {
                0 => store.offer(own, length).map(|_| ()),
                1 => store.offer(bytes.number(), bytes.number()).map(|_| ()),
                2 => store
                    .write(bytes.number(), bytes.number(), bytes.block())
                    .map(|_| ()),
                3 | 4 => {
                    // Pieces of a pack, from wherever it is wanted.
                    let wanted = store.offer(own, length);
                    let many = usize::from(bytes.byte());
                    wanted.and_then(|wanted| {
                        let Offered::Wanted { mut next } = wanted else {
                            return Ok(());
                        };
                        for _ in 0..many {
                            let from = next as usize;
                            let end = ((from / PAGE + 1) * PAGE).min(pack.len());
                            let piece = pack.get(from..end).unwrap_or(&[]);
                            next = store.write(own, next, piece)?;
                        }
                        Ok(())
                    })
                }
                5 | 6 => store.switch_over(own).map(|held| {
                    assert_eq!(held.id, own);
                    seen.note(5, 0);
                }),
                _ => break,
            };
            match done {
                Ok(()) => {}
                Err(StoreError::Flash(PowerIsOff)) => {
                    is_off = true;
                    break;
                }
                Err(why) => seen.note_words(6, &format!("{why}").replace(char::is_numeric, "")),
            }
            // What is current is a pack, whatever is being sent.
            if let Some(held) = store.current() {
                let current = store.current_bytes().map(<[u8]>::len);
                assert_eq!(current, Some(held.length));
            }
        }
        if is_off {
            *flash = flash.restarted();
        }
        if bytes.byte().is_multiple_of(2) {
            flash.cut(Cut {
                after: u64::from(bytes.half() % 9_000),
                all_at_once: bytes.byte().is_multiple_of(2),
                dice: Dice::new(dice.roll()),
            });
        }
    }
}

fn packs() -> &'static [Vec<u8>] {
    static PACKS: OnceLock<Vec<Vec<u8>>> = OnceLock::new();
    PACKS.get_or_init(|| {
        ["bench", "further", "traces"]
            .map(|name| file(&format!("tests/packs/v1/{name}.pack")))
            .to_vec()
    })
}

fn id(pack: &[u8]) -> u32 {
    let bytes = pack.get(16..20).and_then(|b| b.try_into().ok());
    u32::from_le_bytes(bytes.unwrap_or_default())
}

/// Logs: of a new unit, with some notes, and gone around the ring.
fn logs() -> &'static [Vec<u8>] {
    static LOGS: OnceLock<Vec<Vec<u8>>> = OnceLock::new();
    LOGS.get_or_init(|| {
        [0, 9, 300, 700]
            .map(|notes| {
                let mut flash = MockFlash::new(LOG);
                let mut log = Log::open(&mut flash, NAME).expect("a sound chip");
                for number in 0..notes {
                    log.append(Noted::Answered {
                        part: number,
                        ask: 3,
                        answer: tellmark_core::piece::Answer::Seen(true),
                    })
                    .expect("room");
                    if number % 100 == 99 {
                        let newest = log.newest();
                        log.acknowledge(newest).expect("a sound chip");
                    }
                }
                flash.bytes().to_vec()
            })
            .to_vec()
    })
}

/// Packs: none, one, one with another half sent, two.
fn stores() -> &'static [Vec<u8>] {
    static STORES: OnceLock<Vec<Vec<u8>>> = OnceLock::new();
    STORES.get_or_init(|| {
        let packs = packs();
        let mut flash = MockFlash::new(PACKS);
        let mut images = vec![flash.bytes().to_vec()];
        for (pack, pieces) in [(&packs[0], 100), (&packs[1], 20), (&packs[1], 100)] {
            let mut store = PackStore::open(&mut flash).expect("a sound chip");
            let length = u32::try_from(pack.len()).unwrap_or(0);
            let offered = store.offer(id(pack), length).expect("a sound chip");
            let Offered::Wanted { mut next } = offered else {
                continue;
            };
            for _ in 0..pieces {
                let from = next as usize;
                let end = ((from / PAGE + 1) * PAGE).min(pack.len());
                if from < end {
                    next = store
                        .write(id(pack), next, &pack[from..end])
                        .expect("sound");
                }
            }
            let _ = store.switch_over(id(pack));
            images.push(flash.bytes().to_vec());
        }
        images
    })
}

fn seeds() -> Vec<Vec<u8>> {
    let mut seeds = Vec::new();
    for how in 0..8 {
        // As it is; then noted, fetched and noted again, or sent in pieces.
        seeds.push(vec![how]);
        seeds.push(vec![
            how, 0, 4, 40, 6, 4, 90, 5, 20, 7, 0, 200, 1, 0, 4, 250, 6, 4, 250,
        ]);
        seeds.push(vec![
            how, 0, 1, 3, 30, 1, 5, 0, 3, 30, 0, 5, 0, 7, 0, 9, 4, 1, 2, 3, 9,
        ]);
        seeds.push(
            [
                &[how, 3, 0, 32, 0, 1][..],
                &Noted::Finished.to_bytes(),
                &[7],
            ]
            .concat(),
        );
        seeds.push(vec![how, 1, 1, 0, 0, 2, 1, 9, 9, 9, 4, 30, 6, 7, 1]);
        seeds.push(vec![
            how, 2, 3, 0, 0, 3, 0, 9, 40, 3, 32, 0, 3, 1, 9, 9, 0, 0, 5, 7, 1,
        ]);
    }
    seeds
}

fn words() -> Vec<Vec<u8>> {
    let finished = Noted::Finished.to_bytes().to_vec();
    let begun = Noted::Begun { root: 1, pack: 2 }.to_bytes().to_vec();
    vec![
        finished,
        begun,
        vec![225, 0],
        vec![230, 8],
        b"TMLG\x01\0\0\0".to_vec(),
        b"TMPK\x01\0\0\0".to_vec(),
        b"TMPC\x01\0\0\0".to_vec(),
    ]
}
