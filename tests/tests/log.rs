//! The log on flash whose power fails at every byte: nothing that was given a
//! number is lost, nothing false is read.

use tellmark_core::log::{Entry, Flash, Log, LogError, NOTES_PER_SECTOR, SECTOR};
use tellmark_core::piece::Answer;
use tellmark_core::record::Noted;
use tellmark_tests::dice::Dice;
use tellmark_tests::unit::{Cut, MockFlash, PowerIsOff};

const NAME: u32 = 0x5EED_0001;

/// The note with this number; each is another one.
fn note(sequence: u32) -> Noted {
    Noted::Answered {
        part: u16::try_from(sequence % 7).unwrap(),
        ask: u16::try_from(sequence % 65_521).unwrap(),
        answer: Answer::Reading(i32::try_from(sequence).unwrap() * 977),
    }
}

fn is_as_noted(entry: &Entry) -> bool {
    entry.noted == note(entry.sequence)
}

fn fill(log: &mut Log<impl Flash<Error = PowerIsOff>>, notes: u32) {
    for _ in 0..notes {
        let expected = log.newest() + 1;
        assert_eq!(log.append(note(expected)), Ok(expected));
    }
}

/// Everything readable is as it was noted, in order, and all that was not
/// fetched is there.
fn check<F: Flash>(log: &Log<F>, what: &str) {
    let all: Vec<Entry> = log.from(0).collect();
    assert!(all.iter().all(is_as_noted), "{what}: something false");
    assert!(
        all.windows(2).all(|w| w[0].sequence + 1 == w[1].sequence),
        "{what}: out of order"
    );
    let first = log.acknowledged() + 1;
    let unfetched: Vec<u32> = log.from(first).map(|e| e.sequence).collect();
    assert!(
        unfetched.into_iter().eq(first..=log.newest()),
        "{what}: something is lost"
    );
}

/// One thing done to a log.
#[derive(Clone, Copy, Debug)]
enum Act {
    Note,
    Acknowledge(u32),
}

fn act(log: &mut Log<&mut MockFlash>, act: Act) -> Result<(), LogError<PowerIsOff>> {
    match act {
        Act::Note => log.append(note(log.newest() + 1)).map(|_| ()),
        Act::Acknowledge(up_to) => log.acknowledge(up_to),
    }
}

/// Cuts the power at every byte of what this act changes, and again at every
/// byte of the first write after the restart if `twice`.
fn cut_everywhere(flash: &MockFlash, what: Act, twice: bool) -> (MockFlash, u64) {
    let before = {
        let mut copy = flash.clone();
        let log = Log::open(&mut copy, NAME).unwrap();
        (log.newest(), log.acknowledged())
    };
    let mut whole = flash.clone();
    let start = whole.changed();
    act(&mut Log::open(&mut whole, NAME).unwrap(), what).unwrap();
    let bytes = whole.changed() - start;
    let mut cuts = 0;
    for after in 0..bytes {
        for all_at_once in [false, true] {
            let mut cut = flash.clone();
            cut.cut(Cut {
                after,
                all_at_once,
                dice: Dice::new(after * 2 + u64::from(all_at_once)),
            });
            let done = act(&mut Log::open(&mut cut, NAME).unwrap(), what);
            assert_eq!(done, Err(LogError::Flash(PowerIsOff)));
            cuts += 1 + after_restart(&cut, before, what, after, twice);
        }
    }
    (whole, cuts)
}

fn after_restart(cut: &MockFlash, before: (u32, u32), what: Act, after: u64, twice: bool) -> u64 {
    let said = format!("{what:?} cut after {after} bytes");
    let (newest, acknowledged) = before;
    let mut flash = cut.restarted();
    let mut log = Log::open(&mut flash, NAME).unwrap();
    check(&log, &said);
    // Of the note that was being written, all is there or nothing.
    let most = newest + u32::from(matches!(what, Act::Note));
    assert!((newest..=most).contains(&log.newest()), "{said}: notes");
    let most = match what {
        Act::Note => acknowledged,
        Act::Acknowledge(up_to) => up_to,
    };
    assert!(
        log.acknowledged() <= acknowledged.max(most),
        "{said}: nobody fetched that"
    );
    assert_eq!(log.identity(), NAME, "{said}");
    let mut more = 0;
    if twice {
        more = cut_everywhere(&flash, Act::Note, false).1;
        log = Log::open(&mut flash, NAME).unwrap();
    }
    let next = log.newest() + 1;
    assert_eq!(log.append(note(next)), Ok(next), "{said}: no going on");
    check(&log, &said);
    check(&Log::open(&mut flash, NAME).unwrap(), &said);
    more
}

#[test]
fn power_may_fail_at_every_byte_of_a_note() {
    let mut flash = MockFlash::new(2);
    Log::open(&mut flash, NAME).unwrap();
    let mut cuts = 0;
    for _ in 0..6 {
        let (next, more) = cut_everywhere(&flash, Act::Note, true);
        flash = next;
        cuts += more;
    }
    assert!(cuts > 5_000, "{cuts} cuts");
}

#[test]
fn power_may_fail_at_every_byte_of_a_mark() {
    let mut flash = MockFlash::new(2);
    fill(&mut Log::open(&mut flash, NAME).unwrap(), 5);
    let (flash, cuts) = cut_everywhere(&flash, Act::Acknowledge(5), true);
    assert!(cuts > 500, "{cuts} cuts");
    let mut flash = flash;
    let log = Log::open(&mut flash, NAME).unwrap();
    assert_eq!((log.acknowledged(), log.unfetched()), (5, 0));
}

#[test]
fn power_may_fail_at_every_byte_while_the_ring_turns() {
    let per_sector = u32::try_from(NOTES_PER_SECTOR).unwrap();
    let mut flash = MockFlash::new(2);
    let mut log = Log::open(&mut flash, NAME).unwrap();
    // Into the second sector, with the mark of fetching on flash or not.
    fill(&mut log, 2 * per_sector);
    log.acknowledge(per_sector + 3).unwrap();
    let mut whole = flash.clone();
    let mut cuts = 0;
    // What was acknowledged in part is said again by the host after a restart,
    // so this is cut with the log left open.
    let mut open = Log::open(&mut whole, NAME).unwrap();
    assert_eq!(open.append(note(2 * per_sector + 1)), Err(LogError::Full));
    open.acknowledge(per_sector + 3).unwrap();
    assert_eq!(
        open.append(note(2 * per_sector + 1)),
        Ok(2 * per_sector + 1)
    );
    let bytes = whole.changed() - flash.changed();
    for after in 0..bytes {
        for all_at_once in [false, true] {
            let mut cut = flash.clone();
            cut.cut(Cut {
                after,
                all_at_once,
                dice: Dice::new(after * 2 + u64::from(all_at_once)),
            });
            let mut log = Log::open(&mut cut, NAME).unwrap();
            log.acknowledge(per_sector + 3).unwrap();
            let noted = log.append(note(2 * per_sector + 1));
            assert_eq!(noted, Err(LogError::Flash(PowerIsOff)));
            cuts += 1;
            let mut flash = cut.restarted();
            let mut log = Log::open(&mut flash, NAME).unwrap();
            let said = format!("cut after {after} bytes");
            check(&log, &said);
            assert!(log.newest() >= 2 * per_sector, "{said}");
            assert!(log.acknowledged() <= per_sector + 3, "{said}");
            log.acknowledge(per_sector + 3).unwrap();
            let next = log.newest() + 1;
            assert_eq!(log.append(note(next)), Ok(next), "{said}: no going on");
            check(&log, &said);
        }
    }
    assert!(cuts > 8_000, "{cuts} cuts");
}

#[test]
fn power_may_fail_at_every_byte_of_the_very_first_sector() {
    let mut whole = MockFlash::new(3);
    Log::open(&mut whole, NAME).unwrap();
    for after in 0..whole.changed() {
        for all_at_once in [false, true] {
            let mut cut = MockFlash::with(3, {
                let mut dice = Dice::new(after);
                move || dice.roll().to_le_bytes()[0]
            });
            cut.cut(Cut {
                after,
                all_at_once,
                dice: Dice::new(after),
            });
            let opened = Log::open(&mut cut, NAME).map(|_| ());
            assert_eq!(opened, Err(LogError::Flash(PowerIsOff)));
            let mut flash = cut.restarted();
            let mut log = Log::open(&mut flash, NAME).unwrap();
            assert_eq!(log.newest(), 0);
            fill(&mut log, 3);
            check(&log, "after the first sector was cut");
        }
    }
}

#[test]
fn power_may_fail_again_and_again() {
    let mut dice = Dice::new(7);
    let mut flash = MockFlash::new(3);
    let (mut noted, mut fetched) = (0, 0);
    for _ in 0..3_000 {
        flash.cut(Cut {
            after: dice.below(9_000) as u64,
            all_at_once: dice.chance(50),
            dice: dice.clone(),
        });
        if let Ok(mut log) = Log::open(&mut flash, NAME) {
            assert!(log.newest() >= noted, "something is lost");
            check(&log, "after many cuts");
            loop {
                let next = log.newest() + 1;
                match log.append(note(next)) {
                    Ok(number) => noted = number,
                    Err(LogError::Full) => {
                        fetched = log.newest() - u32::try_from(dice.below(40)).unwrap();
                        if log.acknowledge(fetched).is_err() {
                            break;
                        }
                    }
                    Err(error) => {
                        assert_eq!(error, LogError::Flash(PowerIsOff));
                        break;
                    }
                }
            }
        }
        flash = flash.restarted();
    }
    assert!(noted > 5_000 && fetched > 4_000, "{noted}, {fetched}");
}

#[test]
fn a_full_log_says_so_and_keeps_everything() {
    let mut flash = MockFlash::new(4);
    let mut log = Log::open(&mut flash, NAME).unwrap();
    let all = u32::try_from(4 * NOTES_PER_SECTOR).unwrap();
    for number in 1..=all {
        assert_eq!(log.room(), (all - number + 1) as usize);
        assert_eq!(log.append(note(number)), Ok(number));
    }
    assert_eq!(log.append(note(all + 1)), Err(LogError::Full));
    assert_eq!((log.unfetched(), log.room()), (all, 0));
    check(&log, "full");
    // All but the last of the first sector are not enough to make room.
    let per_sector = u32::try_from(NOTES_PER_SECTOR).unwrap();
    log.acknowledge(per_sector - 1).unwrap();
    assert_eq!(log.room(), 0);
    assert_eq!(log.append(note(all + 1)), Err(LogError::Full));
    log.acknowledge(per_sector).unwrap();
    assert_eq!(log.room(), NOTES_PER_SECTOR);
    fill(&mut log, per_sector);
    assert_eq!(log.append(note(0)), Err(LogError::Full));
    check(&log, "full again");
    let newest = log.newest();
    log.acknowledge(newest).unwrap();
    assert_eq!(log.unfetched(), 0);
    let log = Log::open(&mut flash, NAME).unwrap();
    assert_eq!((log.unfetched(), log.newest()), (0, newest));
}

#[test]
fn too_small_a_flash_says_how_much_it_needs() {
    let small = Log::open(MockFlash::new(1), NAME).map(|_| ());
    let needed = LogError::TooSmall {
        needed: 2 * SECTOR,
        given: SECTOR,
    };
    assert_eq!(small, Err(needed));
    assert_eq!(
        needed.to_string(),
        "a log needs 8192 bytes of flash, there are 4096"
    );
}

#[test]
fn sectors_are_worn_evenly() {
    let mut flash = MockFlash::new(8);
    let mut dice = Dice::new(1);
    let mut log = Log::open(&mut flash, NAME).unwrap();
    while log.newest() < 60_000 {
        fill(&mut log, u32::try_from(1 + dice.below(60)).unwrap());
        let newest = log.newest();
        log.acknowledge(newest - u32::try_from(dice.below(3)).unwrap().min(newest))
            .unwrap();
    }
    let (least, most) = (flash.erased().iter().min(), flash.erased().iter().max());
    let (least, most) = (*least.unwrap(), *most.unwrap());
    assert!(most - least <= 1, "{:?}", flash.erased());
    assert!(least > 25, "{:?}", flash.erased());
}

#[test]
fn an_acknowledgement_is_for_good_and_can_be_said_twice() {
    let mut flash = MockFlash::new(2);
    let mut log = Log::open(&mut flash, NAME).unwrap();
    fill(&mut log, 10);
    log.acknowledge(4).unwrap();
    log.acknowledge(2).unwrap();
    assert_eq!((log.acknowledged(), log.unfetched()), (4, 6));
    // More than there is says no more than all there is.
    log.acknowledge(99).unwrap();
    assert_eq!((log.acknowledged(), log.newest()), (10, 10));
    let before = flash.changed();
    let mut log = Log::open(&mut flash, NAME).unwrap();
    log.acknowledge(10).unwrap();
    assert_eq!(flash.changed(), before, "a second time, nothing is written");
}

#[test]
fn what_was_not_fetched_is_still_not_fetched_after_a_restart() {
    let mut flash = MockFlash::new(2);
    fill(&mut Log::open(&mut flash, NAME).unwrap(), 5);
    let log = Log::open(&mut flash, NAME).unwrap();
    assert_eq!(
        (log.acknowledged(), log.unfetched(), log.newest()),
        (0, 5, 5)
    );
    // In the second sector too.
    let per_sector = u32::try_from(NOTES_PER_SECTOR).unwrap();
    fill(&mut Log::open(&mut flash, NAME).unwrap(), per_sector);
    let log = Log::open(&mut flash, NAME).unwrap();
    assert_eq!((log.acknowledged(), log.unfetched()), (0, per_sector + 5));
}

#[test]
fn a_number_that_was_fetched_is_never_given_again() {
    let mut flash = MockFlash::new(2);
    let mut log = Log::open(&mut flash, NAME).unwrap();
    fill(&mut log, 5);
    log.acknowledge(5).unwrap();
    // The fifth note is damaged; that it was fetched stands behind it.
    flash.program(32 + 4 * 16, &[0]).unwrap();
    let mut log = Log::open(&mut flash, NAME).unwrap();
    assert_eq!((log.newest(), log.acknowledged()), (5, 5));
    assert_eq!(log.append(note(6)), Ok(6));
}

#[test]
fn the_last_piece_can_be_played_back_after_it_was_fetched() {
    let mut flash = MockFlash::new(2);
    let mut log = Log::open(&mut flash, NAME).unwrap();
    let pieces = [
        Noted::Begun { root: 0, pack: 9 },
        note(1),
        Noted::Finished,
        Noted::Begun { root: 3, pack: 9 },
        Noted::SetUp { parts: 4 },
        note(2),
    ];
    for noted in pieces {
        log.append(noted).unwrap();
    }
    log.acknowledge(6).unwrap();
    let log = Log::open(&mut flash, NAME).unwrap();
    let back: Vec<Noted> = log.last_piece().map(|entry| entry.noted).collect();
    assert_eq!(back, pieces[3..]);
}

#[test]
fn a_note_damaged_on_flash_is_left_out_and_the_rest_stays() {
    let mut flash = MockFlash::new(2);
    let mut log = Log::open(&mut flash, NAME).unwrap();
    fill(&mut log, 9);
    // The fifth slot after the cell of 32 bytes.
    flash.program(32 + 4 * 16, &[0]).unwrap();
    let log = Log::open(&mut flash, NAME).unwrap();
    let left: Vec<u32> = log.from(1).map(|e| e.sequence).collect();
    assert_eq!(left, [1, 2, 3, 4, 6, 7, 8, 9]);
    assert_eq!((log.torn(), log.newest()), (1, 9));
    assert!(log.from(1).all(|e| is_as_noted(&e)));
}

#[test]
fn what_was_never_a_log_is_no_reason_to_stop() {
    for seed in 0..50 {
        let mut dice = Dice::new(seed);
        let mut flash = MockFlash::with(3, || dice.roll().to_le_bytes()[0]);
        let mut log = Log::open(&mut flash, NAME).unwrap();
        assert_eq!(log.from(0).count(), 0);
        fill(&mut log, 700);
        check(&log, "on used flash");
    }
}

/// Flash of which some bytes no longer turn from one to zero.
struct Worn {
    flash: MockFlash,
    bytes: std::ops::Range<usize>,
}

impl Flash for Worn {
    type Error = PowerIsOff;

    fn bytes(&self) -> &[u8] {
        self.flash.bytes()
    }

    fn program(&mut self, at: usize, bytes: &[u8]) -> Result<(), PowerIsOff> {
        let kept = |(i, &byte): (usize, &u8)| {
            let is_worn = self.bytes.contains(&(at + i));
            if is_worn { 0xFF } else { byte }
        };
        let kept: Vec<u8> = bytes.iter().enumerate().map(kept).collect();
        self.flash.program(at, &kept)
    }

    fn erase(&mut self, at: usize) -> Result<(), PowerIsOff> {
        self.flash.erase(at)
    }
}

/// The slots from the fourth of the first sector on; it begins with a cell of 32 bytes.
fn worn_from_the_fourth(slots: usize) -> Worn {
    let first = 32 + 3 * 16;
    Worn {
        flash: MockFlash::new(2),
        bytes: first..first + 16 * slots,
    }
}

#[test]
fn slots_that_do_not_keep_a_note_are_passed_over() {
    for slots in [1, 7] {
        let mut flash = worn_from_the_fourth(slots);
        let mut log = Log::open(&mut flash, NAME).unwrap();
        fill(&mut log, 9);
        check(&log, "as written");
        assert_eq!(log.torn(), u32::try_from(slots).unwrap());
        let log = Log::open(&mut flash, NAME).unwrap();
        check(&log, "opened again");
        assert_eq!(log.newest(), 9);
    }
}

#[test]
fn a_worn_out_flash_says_so_and_nothing_counts_as_noted() {
    let mut log = Log::open(worn_from_the_fourth(8), NAME).unwrap();
    fill(&mut log, 3);
    assert_eq!(log.append(note(4)), Err(LogError::WornOut));
    assert_eq!(log.newest(), 3);
    check(&log, "worn out");
    // Eight slots are behind; the next ones are good.
    fill(&mut log, 2);
    check(&log, "further on");
    // The mark of what was fetched is read back too.
    let mut log = Log::open(worn_from_the_fourth(8), NAME).unwrap();
    fill(&mut log, 3);
    assert_eq!(log.acknowledge(3), Err(LogError::WornOut));
}

#[test]
fn a_sector_whose_beginning_is_worn_out_is_not_used() {
    for byte in [0, 31] {
        let flash = Worn {
            flash: MockFlash::new(2),
            bytes: byte..byte + 1,
        };
        let opened = Log::open(flash, NAME).map(|_| ());
        assert_eq!(opened, Err(LogError::WornOut), "byte {byte}");
    }
}
