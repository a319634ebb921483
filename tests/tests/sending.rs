//! A pack, sent to a unit: over a bad line, cut short and gone on with, over
//! flash whose power fails at every byte. A half-sent pack never replaces a good
//! one.

use tellmark_compile::room::PackBytes;
use tellmark_core::link::{
    Answer, Event, Frame, MAX_PAYLOAD, MAX_PIECE, Received, Receiver, Refusal, Spoken,
};
use tellmark_core::log::{Flash, Offered, PackStore, SECTOR, StoreError};
use tellmark_core::pack::OpenError;
use tellmark_core::record::Noted;
use tellmark_device::unit::{Line, LinkError, PATIENCE, Sent, Wire, send};
use tellmark_tests::dice::Dice;
use tellmark_tests::unit::{Board, Cut, MemoryWire, MockFlash, PowerIsOff, Rates};

fn old() -> PackBytes {
    PackBytes::new(include_bytes!("../packs/v1/bench.pack"))
}

fn new() -> PackBytes {
    PackBytes::new(include_bytes!("../packs/v1/further.pack"))
}

/// The check sum that names it, where the format has it.
fn id(pack: &PackBytes) -> u32 {
    u32::from_le_bytes(pack.bytes()[16..20].try_into().unwrap())
}

fn length(pack: &PackBytes) -> u32 {
    u32::try_from(pack.bytes().len()).unwrap()
}

/// The steps of a transfer.
#[derive(Clone, Copy, Debug)]
enum Step {
    Offer,
    Piece(u32),
    SwitchOver,
}

fn steps(pack: &PackBytes) -> Vec<Step> {
    let pieces = (0..length(pack)).step_by(MAX_PIECE).map(Step::Piece);
    let all = [Step::Offer].into_iter().chain(pieces);
    all.chain([Step::SwitchOver]).collect()
}

fn take(
    store: &mut PackStore<&mut MockFlash>,
    pack: &PackBytes,
    step: Step,
) -> Result<(), StoreError<PowerIsOff>> {
    let id = id(pack);
    match step {
        Step::Offer => store.offer(id, length(pack)).map(|_| ()),
        Step::Piece(at) => {
            let piece = pack.bytes()[at as usize..]
                .chunks(MAX_PIECE)
                .next()
                .unwrap();
            store.write(id, at, piece).map(|_| ())
        }
        Step::SwitchOver => store.switch_over(id).map(|_| ()),
    }
}

/// From wherever it stands to the end.
fn go_on(flash: &mut MockFlash, pack: &PackBytes, said: &str) {
    let mut store = PackStore::open(flash).unwrap();
    let offered = store.offer(id(pack), length(pack));
    let mut next = match offered.expect(said) {
        Offered::Current => length(pack),
        Offered::Wanted { next } => next,
    };
    while next < length(pack) {
        let piece = pack.bytes()[next as usize..]
            .chunks(MAX_PIECE)
            .next()
            .unwrap();
        next = store.write(id(pack), next, piece).expect(said);
    }
    store.switch_over(id(pack)).expect(said);
    assert_eq!(store.current_bytes(), Some(pack.bytes()), "{said}");
}

/// All steps, in a store that stays open; which one fails.
fn all_steps(flash: &mut MockFlash, pack: &PackBytes) -> Option<Step> {
    let mut store = PackStore::open(flash).unwrap();
    steps(pack).into_iter().find(|step| {
        let done = take(&mut store, pack, *step);
        assert!(
            matches!(done, Ok(()) | Err(StoreError::Flash(PowerIsOff))),
            "{step:?}: {done:?}"
        );
        done.is_err()
    })
}

fn cut_everywhere(flash: &MockFlash, before: Option<&PackBytes>, pack: &PackBytes) -> u32 {
    let mut whole = flash.clone();
    assert!(all_steps(&mut whole, pack).is_none());
    let mut cuts = 0;
    for after in 0..whole.changed() - flash.changed() {
        for all_at_once in [false, true] {
            let mut cut = flash.clone();
            cut.cut(Cut {
                after,
                all_at_once,
                dice: Dice::new(after),
            });
            let step = all_steps(&mut cut, pack).unwrap();
            cuts += 1;
            let mut cut = cut.restarted();
            let said = format!("cut after {after} bytes, {step:?}");
            let store = PackStore::open(&mut cut).unwrap();
            let current = store.current_bytes();
            let switched = matches!(step, Step::SwitchOver) && current == Some(pack.bytes());
            assert!(
                switched || current == before.map(PackBytes::bytes),
                "{said}: a half-sent pack"
            );
            // Going on to the end is much the same from one byte to the next.
            if after % 31 == 0 || !matches!(step, Step::Piece(_)) && after % 7 == 0 {
                go_on(&mut cut, pack, &said);
            }
        }
    }
    cuts
}

#[test]
fn a_half_sent_pack_never_replaces_a_good_one() {
    let mut flash = MockFlash::new(6);
    go_on(&mut flash, &old(), "the old pack");
    let cuts = cut_everywhere(&flash, Some(&old()), &new());
    assert!(cuts > 30_000, "{cuts} cuts");
}

#[test]
fn the_first_pack_of_a_unit_is_there_whole_or_not_at_all() {
    let mut dice = Dice::new(4);
    let used = MockFlash::with(6, || dice.roll().to_le_bytes()[0]);
    let cuts = cut_everywhere(&used, None, &old());
    assert!(cuts > 30_000, "{cuts} cuts");
}

#[test]
fn packs_take_turns_in_the_two_halves() {
    let mut flash = MockFlash::new(6);
    for turn in 0..9 {
        let (pack, other) = if turn % 2 == 0 {
            (old(), new())
        } else {
            (new(), old())
        };
        go_on(&mut flash, &pack, "a turn");
        let store = PackStore::open(&mut flash).unwrap();
        assert_eq!(store.current().unwrap().id, id(&pack));
        assert_ne!(id(&pack), id(&other));
        assert_eq!(store.current().unwrap().at % 4, 0);
    }
    let (least, most) = (flash.erased().iter().min(), flash.erased().iter().max());
    assert!(
        *most.unwrap() - *least.unwrap() <= 1,
        "{:?}",
        flash.erased()
    );
}

#[test]
fn what_is_no_pack_or_too_long_is_refused() {
    let mut flash = MockFlash::new(6);
    go_on(&mut flash, &old(), "the old pack");
    let mut store = PackStore::open(&mut flash).unwrap();
    assert_eq!(store.most(), u32::try_from(2 * SECTOR).unwrap());
    let too_long = store.offer(1, 2 * 4096 + 1);
    assert_eq!(too_long, Err(StoreError::TooLong { most: 8192 }));
    // Right in size and wrong in content.
    store.offer(7, 32).unwrap();
    assert_eq!(store.write(7, 0, &[9; 33]), Err(StoreError::Misfit));
    assert_eq!(store.write(7, 0, &[9; 15]), Err(StoreError::Misfit));
    assert_eq!(store.write(8, 0, &[9; 16]), Err(StoreError::NotOffered));
    assert_eq!(store.write(7, 0, &[9; 16]), Ok(16));
    assert_eq!(
        store.switch_over(7),
        Err(StoreError::Unfinished { next: 16 })
    );
    // The same piece again, and one too early, change nothing.
    assert_eq!(store.write(7, 0, &[3; 16]), Ok(16));
    assert_eq!(store.write(7, 16, &[9; 16]), Ok(32));
    let no_pack = store.switch_over(7);
    assert_eq!(no_pack, Err(StoreError::Pack(OpenError::NotAPack)));
    assert_eq!(store.current_bytes(), Some(old().bytes()));
    // It can be sent again from the beginning.
    assert_eq!(store.offer(7, 32), Ok(Offered::Wanted { next: 0 }));
    let store = PackStore::open(&mut flash).unwrap();
    assert_eq!(store.current_bytes(), Some(old().bytes()));
    assert!(!store.damaged());
}

/// A unit that understands everything and wants the first byte of the pack for ever.
struct Forgetful(Vec<u8>);

impl Wire for Forgetful {
    fn send(&mut self, bytes: &[u8]) -> std::io::Result<()> {
        let mut receiver = Receiver::default();
        let tag = bytes.iter().find_map(|&byte| match receiver.push(byte)? {
            Received::Payload(payload) => match Spoken::read(payload) {
                Ok(Spoken::Request(tag, _)) => Some(tag),
                _ => None,
            },
            Received::Garbled => None,
        });
        let answer = Spoken::Answer(tag.unwrap(), Answer::Wanted { next: 0 });
        let mut frame = Frame::default();
        frame.fill(answer.write(&mut [0; MAX_PAYLOAD]));
        self.0.extend_from_slice(frame.bytes());
        Ok(())
    }

    fn receive(&mut self, into: &mut [u8], _: u64) -> std::io::Result<usize> {
        let number = self.0.len();
        into[..number].copy_from_slice(&self.0);
        self.0.clear();
        Ok(number)
    }

    fn now(&self) -> u64 {
        0
    }
}

#[test]
fn a_unit_that_gets_nowhere_is_given_up() {
    let pack = new();
    let mut line = Line::new(Forgetful(Vec::new()), PATIENCE, 0);
    let sent = send(&mut line, &pack.open().unwrap(), pack.bytes(), true, |_| {});
    assert!(matches!(sent, Err(LinkError::Nonsense)));
}

/// Whatever stands where the mark belongs, the pack is sent again and gets its mark.
#[test]
fn a_spoilt_mark_does_not_keep_a_pack_out() {
    let half = 3 * SECTOR;
    for spoilt in [[0x12; 28], [0; 28], [0xFE; 28]] {
        let mut flash = MockFlash::new(6);
        go_on(&mut flash, &old(), "the old pack");
        let mut store = PackStore::open(&mut flash).unwrap();
        for step in steps(&new()) {
            if !matches!(step, Step::SwitchOver) {
                take(&mut store, &new(), step).unwrap();
            }
        }
        flash.program(half + 32, &spoilt).unwrap();
        let store = PackStore::open(&mut flash).unwrap();
        assert_eq!(store.current_bytes(), Some(old().bytes()));
        go_on(&mut flash, &new(), "the new pack");
    }
}

#[test]
fn a_pack_that_reads_wrong_later_gives_way_to_the_one_before() {
    let mut flash = MockFlash::new(6);
    go_on(&mut flash, &old(), "the old pack");
    go_on(&mut flash, &new(), "the new pack");
    let at = PackStore::open(&mut flash).unwrap().current().unwrap().at;
    Flash::program(&mut flash, at + 60, &[0; 8]).unwrap();
    let store = PackStore::open(&mut flash).unwrap();
    assert!(store.damaged());
    assert_eq!(store.current_bytes(), Some(old().bytes()));
    go_on(&mut flash, &new(), "the new pack again");
}

fn send_over(wire: &mut MemoryWire, pack: &PackBytes) -> Result<Sent, LinkError> {
    let mut line = Line::new(wire, PATIENCE, 0);
    send(
        &mut line,
        &pack.open().unwrap(),
        pack.bytes(),
        false,
        |_| {},
    )
}

#[test]
fn a_pack_arrives_over_a_bad_line() {
    let mut table = format!("{:14} {:>6} {:>8}\n", "of 1,000 bytes", "frames", "seconds");
    for (name, dropped, damaged, doubled) in [
        ("a good line", 0, 0, 0),
        ("10 dropped", 10, 0, 0),
        ("10 damaged", 0, 10, 0),
        ("10 doubled", 0, 0, 10),
        ("4 of each", 4, 4, 4),
    ] {
        let rates = Rates {
            dropped,
            damaged,
            doubled,
        };
        let mut wire = MemoryWire::new(Board::new(1), rates, 5);
        let sent = send_over(&mut wire, &new()).unwrap();
        assert_eq!((sent.had_it, sent.resumed_at), (false, 0));
        assert_eq!(wire.board.packs.current_bytes(), Some(new().bytes()));
        let changed = |e: &&Event| matches!(e, Event::PackChanged(_));
        assert_eq!(wire.board.events.iter().filter(changed).count(), 1);
        let seconds = wire.now() as f64 / 1000.0;
        let frames = wire.sent.len();
        table.push_str(&format!("{name:14} {frames:6} {seconds:8.1}\n"));
    }
    insta::assert_snapshot!(table);
}

#[test]
fn sending_goes_on_where_it_was_cut_short() {
    let board = Board::new(1);
    let mut wire = MemoryWire::new(board, Rates::default(), 5);
    // The offer, the two pages more than a sector has, and no more.
    wire.frames_left = Some(1 + SECTOR / MAX_PIECE + 2);
    let cut = send_over(&mut wire, &new());
    assert!(matches!(cut, Err(LinkError::Port(_))), "{cut:?}");
    assert_eq!(wire.board.packs.current_bytes(), None);
    wire.frames_left = None;
    let sent = send_over(&mut wire, &new()).unwrap();
    // The unit was on all the while.
    assert_eq!(sent.resumed_at, 4096 + 512);
    let again = send_over(&mut wire, &new()).unwrap();
    assert!(again.had_it);
}

#[test]
fn notes_made_by_the_old_pack_come_first() {
    let mut wire = MemoryWire::new(Board::new(1), Rates::default(), 5);
    send_over(&mut wire, &old()).unwrap();
    wire.board.note(&[Noted::Finished, Noted::Finished]);
    // The pack it has is no other pack.
    assert!(send_over(&mut wire, &old()).unwrap().had_it);
    let refused = send_over(&mut wire, &new()).unwrap_err();
    assert!(matches!(
        refused,
        LinkError::Refused(Refusal::NotesFirst { unfetched: 2 })
    ));
    let pack = new();
    let mut line = Line::new(&mut wire, PATIENCE, 9);
    let sent = send(&mut line, &pack.open().unwrap(), pack.bytes(), true, |_| {});
    assert!(sent.is_ok(), "{sent:?}");
    assert_eq!(wire.board.packs.current_bytes(), Some(new().bytes()));
    assert_eq!(wire.board.log.unfetched(), 2);
}

/// Flash of which one byte no longer turns from one to zero.
struct Worn<'f> {
    flash: &'f mut MockFlash,
    byte: usize,
}

impl Flash for Worn<'_> {
    type Error = PowerIsOff;

    fn bytes(&self) -> &[u8] {
        self.flash.bytes()
    }

    fn program(&mut self, at: usize, bytes: &[u8]) -> Result<(), PowerIsOff> {
        let mut kept = bytes.to_vec();
        if let Some(byte) = self.byte.checked_sub(at).and_then(|i| kept.get_mut(i)) {
            *byte = 0xFF;
        }
        self.flash.program(at, &kept)
    }

    fn erase(&mut self, at: usize) -> Result<(), PowerIsOff> {
        self.flash.erase(at)
    }
}

#[test]
fn a_worn_out_flash_says_so_and_the_current_pack_stays() {
    // What announces the pack, its first bytes, and the mark that makes it current.
    for byte in [0, 28, SECTOR, SECTOR + 17, 32, 60] {
        let mut flash = MockFlash::new(6);
        go_on(&mut flash, &old(), "the old pack");
        let half = 3 * SECTOR;
        let worn = Worn {
            flash: &mut flash,
            byte: half + byte,
        };
        let mut store = PackStore::open(worn).unwrap();
        let (pack, mut done) = (new(), store.offer(id(&new()), length(&new())).map(|_| ()));
        for (at, piece) in (0_u32..).zip(pack.bytes().chunks(16)) {
            done = done.and_then(|()| store.write(id(&pack), 16 * at, piece).map(|_| ()));
        }
        done = done.and_then(|()| store.switch_over(id(&pack)).map(|_| ()));
        assert_eq!(done, Err(StoreError::WornOut), "byte {byte}");
        assert_eq!(store.current_bytes(), Some(old().bytes()), "byte {byte}");
        let store = PackStore::open(&mut flash).unwrap();
        assert_eq!(store.current_bytes(), Some(old().bytes()), "byte {byte}");
    }
}

#[test]
fn a_store_has_room_for_two_packs_of_a_sector_at_least() {
    let needed = StoreError::TooSmall {
        needed: 4 * SECTOR,
        given: 3 * SECTOR,
    };
    assert_eq!(PackStore::open(MockFlash::new(3)).map(|_| ()), Err(needed));
    assert_eq!(PackStore::open(MockFlash::new(4)).unwrap().most(), 4096);
    assert_eq!(PackStore::open(MockFlash::new(9)).unwrap().most(), 3 * 4096);
}

#[test]
fn a_pack_goes_on_after_a_restart_from_the_last_whole_sector() {
    for current in [None, Some(old())] {
        for length in [4096 + 16, 8192 - 16, 8192] {
            let mut flash = MockFlash::new(6);
            if let Some(current) = &current {
                go_on(&mut flash, current, "the current pack");
            }
            let mut store = PackStore::open(&mut flash).unwrap();
            assert_eq!(store.offer(7, length), Ok(Offered::Wanted { next: 0 }));
            for at in (0..4096 + 16).step_by(16) {
                assert_eq!(store.write(7, at, &[9; 16]), Ok(at + 16));
            }
            // The same offer again goes on; another length, or another pack, begins anew.
            let next = Offered::Wanted { next: 4096 + 16 };
            assert_eq!(store.offer(7, length), Ok(next));
            let mut store = PackStore::open(&mut flash).unwrap();
            // A last sector that is not full is whole with its last byte.
            let next = if length < 8192 - 16 { length } else { 4096 };
            assert_eq!(store.offer(7, length), Ok(Offered::Wanted { next }));
            assert_eq!(store.offer(7, 32), Ok(Offered::Wanted { next: 0 }));
            assert_eq!(store.offer(8, 32), Ok(Offered::Wanted { next: 0 }));
            let bytes = current.as_ref().map(PackBytes::bytes);
            assert_eq!(store.current_bytes(), bytes);
        }
    }
}

#[test]
fn a_pack_of_the_same_name_and_another_length_is_not_the_current_one() {
    let mut flash = MockFlash::new(6);
    go_on(&mut flash, &old(), "the old pack");
    let mut store = PackStore::open(&mut flash).unwrap();
    let (id, length) = (id(&old()), length(&old()));
    assert_eq!(store.offer(id, length), Ok(Offered::Current));
    let wanted = Ok(Offered::Wanted { next: 0 });
    assert_eq!(store.offer(id, length + 16), wanted);
    assert_eq!(store.offer(id + 1, length), wanted);
}

#[test]
fn what_went_wrong_with_a_pack_is_said() {
    let said = [
        StoreError::TooSmall {
            needed: 16_384,
            given: 8_192,
        },
        StoreError::TooLong { most: 8_192 },
        StoreError::NotOffered,
        StoreError::Unfinished { next: 48 },
        StoreError::Misfit,
        StoreError::Pack(OpenError::NotAPack),
        StoreError::OtherPack,
        StoreError::WornOut,
        StoreError::Flash(PowerIsOff),
    ]
    .map(|error: StoreError<PowerIsOff>| error.to_string());
    let expected = [
        "two packs need 16384 bytes of flash, there are 8192",
        "a pack here has at most 8192 bytes",
        "no such pack was offered",
        "the pack is missing from byte 48 on",
        "a piece of a pack does not fit the pages of the flash",
        &OpenError::NotAPack.to_string(),
        "it is another pack than was offered",
        "the flash does not keep what is written to it",
        "the flash reports PowerIsOff",
    ];
    assert_eq!(said, expected);
}
