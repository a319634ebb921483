//! The link's frames, its messages byte by byte, and what either side makes of
//! what it does not know.

use std::fmt::Write as _;
use tellmark_core::link::{
    Answer, Frame, Hello, MAX_FRAME, MAX_PAYLOAD, MAX_PIECE, Query, Received, Receiver, Refusal,
    Request, Spoken, Unreadable,
};
use tellmark_core::log::SLOT;
use tellmark_core::record::Noted;
use tellmark_device::unit::{Line, LinkError, PATIENCE, Size, Wire};
use tellmark_tests::dice::Dice;
use tellmark_tests::unit::{Board, MemoryWire, Rates};

fn framed(payload: &[u8]) -> Vec<u8> {
    let mut frame = Frame::default();
    frame.fill(payload);
    frame.bytes().to_vec()
}

/// What comes out of these bytes: payloads, and `None` for what is garbled.
fn received(bytes: &[u8]) -> Vec<Option<Vec<u8>>> {
    let mut receiver = Receiver::default();
    let mut all = Vec::new();
    for &byte in bytes {
        match receiver.push(byte) {
            None => {}
            Some(Received::Payload(payload)) => all.push(Some(payload.to_vec())),
            Some(Received::Garbled) => all.push(None),
        }
    }
    all
}

#[test]
fn every_payload_comes_out_as_it_went_in() {
    let mut dice = Dice::new(11);
    for length in 1..=MAX_PAYLOAD {
        let any: Vec<u8> = (0..length).map(|_| dice.roll().to_le_bytes()[0]).collect();
        for payload in [any, vec![0; length], vec![0xFF; length]] {
            let bytes = framed(&payload);
            assert!(bytes.len() <= MAX_FRAME);
            assert!(bytes.starts_with(&[0]) && bytes.ends_with(&[0]));
            let inner = &bytes[1..bytes.len() - 1];
            assert!(!inner.contains(&0), "a zero within");
            assert_eq!(received(&bytes), [Some(payload)]);
        }
    }
    assert!(framed(&vec![1; MAX_PAYLOAD + 1]).is_empty());
}

#[test]
fn one_damaged_dropped_or_doubled_byte_is_always_noticed() {
    let mut dice = Dice::new(12);
    for _ in 0..60 {
        let length = 1 + dice.below(60);
        let payload: Vec<u8> = (0..length)
            .map(|_| u8::try_from(dice.below(4)).unwrap())
            .collect();
        let good = framed(&payload);
        for at in 0..good.len() {
            let mut dropped = good.clone();
            dropped.remove(at);
            let mut doubled = good.clone();
            doubled.insert(at, good[at]);
            let mut damaged = Vec::new();
            for change in 1..=255 {
                let mut copy = good.clone();
                copy[at] ^= change;
                damaged.push(copy);
            }
            for bytes in damaged.into_iter().chain([dropped, doubled]) {
                // A zero ends what may be left of it.
                let all = received(&[&bytes[..], &[0]].concat());
                let right = |p: &Option<Vec<u8>>| p.as_ref().is_none_or(|p| *p == payload);
                assert!(all.iter().all(right), "{payload:?} became {all:?}");
                // And the next frame is read whatever came before.
                let all = received(&[&bytes[..], &good].concat());
                assert_eq!(all.last(), Some(&Some(payload.clone())));
            }
        }
    }
}

#[test]
fn anything_may_come_down_the_line() {
    let mut dice = Dice::new(13);
    let mut board = Board::new(1);
    let mut receiver = Receiver::default();
    for _ in 0..400_000 {
        let byte = if dice.chance(3) {
            0
        } else {
            dice.roll().to_le_bytes()[0]
        };
        receiver.push(byte);
        board.take(&[byte]);
    }
    let overlong = [vec![7; 5 * MAX_FRAME], vec![0]].concat();
    assert_eq!(received(&overlong), [None]);
    assert_eq!(board.log.newest(), 0);
    assert!(board.events.is_empty());
    // Sound frames with any content, too.
    for _ in 0..20_000 {
        let mut payload = vec![b'Q', 1, 0, 0];
        let length = dice.below(40);
        payload.extend((0..length).map(|_| u8::try_from(dice.below(12)).unwrap()));
        board.take(&framed(&payload));
    }
    assert_eq!(board.log.newest(), 0);
}

/// Every message, with the widest and narrowest figures.
fn messages() -> Vec<(&'static str, Spoken<'static>)> {
    static PIECE: [u8; MAX_PIECE] = [0xAB; MAX_PIECE];
    static SLOTS: [u8; 16 * SLOT] = [0xCD; 16 * SLOT];
    let hello = Hello {
        lowest: 1,
        highest: 3,
        firmware: [4, 5, 6],
        board: *b"board no",
        log: 0x0102_0304,
        pack: Some(0xA0B0_C0D0),
        unfetched: 258,
        newest: 772,
    };
    let request = |request| Spoken::Request(0x1234, request);
    let answer = |answer| Spoken::Answer(0x1234, answer);
    let refused = |refusal| answer(Answer::Refused(refusal));
    let query = Query {
        lowest: 1,
        highest: 2,
    };
    vec![
        ("query", Spoken::Query(query)),
        ("hello", Spoken::Hello(hello)),
        (
            "hello, no pack",
            Spoken::Hello(Hello {
                pack: None,
                ..hello
            }),
        ),
        ("garbled", Spoken::Garbled),
        (
            "notes?",
            request(Request::Notes {
                from: 300,
                most: 16,
            }),
        ),
        (
            "acknowledge",
            request(Request::Acknowledge {
                log: u32::MAX,
                up_to: 1,
            }),
        ),
        (
            "offer",
            request(Request::Offer {
                id: 0x0102_0304,
                length: 70_000,
                anyway: true,
            }),
        ),
        (
            "piece",
            request(Request::Piece {
                id: 1,
                at: 256,
                bytes: &PIECE[..3],
            }),
        ),
        (
            "longest piece",
            request(Request::Piece {
                id: u32::MAX,
                at: u32::MAX,
                bytes: &PIECE,
            }),
        ),
        (
            "switch over",
            request(Request::SwitchOver {
                id: 2,
                anyway: false,
            }),
        ),
        (
            "notes",
            answer(Answer::Notes {
                log: 1,
                newest: 9,
                acknowledged: 7,
                begun: None,
                slots: &SLOTS[..SLOT],
            }),
        ),
        (
            "most notes",
            answer(Answer::Notes {
                log: u32::MAX,
                newest: u32::MAX,
                acknowledged: u32::MAX,
                begun: Some(u32::MAX),
                slots: &SLOTS,
            }),
        ),
        ("acknowledged", answer(Answer::Acknowledged { up_to: 9 })),
        ("wanted", answer(Answer::Wanted { next: 4096 })),
        ("current", answer(Answer::Current { id: 0x0102_0304 })),
        ("not understood", refused(Refusal::NotUnderstood)),
        ("notes first", refused(Refusal::NotesFirst { unfetched: 5 })),
        ("too long", refused(Refusal::TooLong { most: 130_000 })),
        ("not offered", refused(Refusal::NotOffered)),
        ("unfinished", refused(Refusal::Unfinished { next: 16 })),
        ("misfit", refused(Refusal::Misfit)),
        (
            "pack version",
            refused(Refusal::PackVersion {
                major: 2,
                lowest_minor: 1,
            }),
        ),
        ("bad pack", refused(Refusal::BadPack)),
        ("flash", refused(Refusal::Flash)),
        ("other log", refused(Refusal::OtherLog)),
    ]
}

#[test]
fn the_layout_of_every_message_stays() {
    let mut table = String::new();
    for (name, spoken) in messages() {
        let mut room = [0; MAX_PAYLOAD];
        let bytes = spoken.write(&mut room);
        assert!(!bytes.is_empty(), "{name} does not fit");
        assert_eq!(Spoken::read(bytes), Ok(spoken), "{name}");
        assert!(!framed(bytes).is_empty(), "{name}");
        let hex: String = bytes.iter().take(48).map(|b| format!("{b:02x}")).collect();
        let more = if bytes.len() > 48 { "..." } else { "" };
        writeln!(table, "{name:14} {:3}  {hex}{more}", bytes.len()).unwrap();
    }
    insta::assert_snapshot!(table);
}

#[test]
fn a_message_cut_or_with_bytes_after_it_is_not_understood() {
    for (name, spoken) in messages() {
        let mut room = [0; MAX_PAYLOAD];
        let bytes = spoken.write(&mut room).to_vec();
        let frozen = matches!(spoken, Spoken::Query(_) | Spoken::Hello(_));
        for end in 0..bytes.len() {
            assert_ne!(
                Spoken::read(&bytes[..end]),
                Ok(spoken),
                "{name} cut at {end}"
            );
        }
        let longer = [&bytes[..], &[0]].concat();
        // Later versions may add to who is asked for and who answers, and to
        // nothing else.
        assert_eq!(Spoken::read(&longer) == Ok(spoken), frozen, "{name}");
    }
}

#[test]
fn a_request_of_another_version_is_answered_with_who_this_is() {
    let mut board = Board::new(77);
    for payload in [&[b'Q', 9, 1, 0, 0][..], b"Zsomething else"] {
        let answer = received(&board.take(&framed(payload)));
        let [Some(answer)] = answer.as_slice() else {
            panic!("{answer:?}");
        };
        let Ok(Spoken::Hello(hello)) = Spoken::read(answer) else {
            panic!("{answer:?}");
        };
        assert_eq!((hello.lowest, hello.highest, hello.log), (1, 1, 77));
    }
    let unknown = received(&board.take(&framed(&[b'Q', 1, 0x34, 0x12, 99])));
    let refused = Spoken::Answer(0x1234, Answer::Refused(Refusal::NotUnderstood));
    assert_eq!(Spoken::read(unknown[0].as_ref().unwrap()), Ok(refused));
    let garbled = received(&board.take(&[0, 5, 5, 5, 0]));
    assert_eq!(
        Spoken::read(garbled[0].as_ref().unwrap()),
        Ok(Spoken::Garbled)
    );
    assert_eq!(
        Spoken::read(&[b'A', 1, 0, 0, 99]),
        Err(Unreadable::Content(None))
    );
}

/// A unit whose firmware speaks these versions only.
struct Other(u8, u8, Vec<u8>);

impl Wire for Other {
    fn send(&mut self, _: &[u8]) -> std::io::Result<()> {
        let mut room = [0; MAX_PAYLOAD];
        let hello = Hello {
            lowest: self.0,
            highest: self.1,
            firmware: [7, 0, 2],
            board: [0; 8],
            log: 0,
            pack: None,
            unfetched: 0,
            newest: 0,
        };
        self.2 = framed(Spoken::Hello(hello).write(&mut room));
        Ok(())
    }

    fn receive(&mut self, into: &mut [u8], _: u64) -> std::io::Result<usize> {
        let number = self.2.len();
        into[..number].copy_from_slice(&self.2);
        self.2.clear();
        Ok(number)
    }

    fn now(&self) -> u64 {
        0
    }
}

#[test]
fn a_unit_of_another_version_gets_a_plain_message() {
    for (versions, said) in [
        (
            (2, 3),
            "This unit (firmware 7.0.2) speaks the link's versions 2 to 3, and this tellmark \
             speaks version 1. Use a later tellmark; what was noted is safe on the unit.",
        ),
        (
            (0, 0),
            "This unit (firmware 7.0.2) speaks the link's version 0, and this tellmark speaks \
             version 1. Put later firmware on the unit; what was noted is safe on the unit.",
        ),
    ] {
        let other = || Other(versions.0, versions.1, Vec::new());
        let greeted = Line::new(other(), PATIENCE, 0).greet().unwrap_err();
        assert_eq!(greeted.to_string(), said);
        // Also when it is asked for something before it was greeted.
        let asked = Line::new(other(), PATIENCE, 0)
            .notes(1, &mut Size::of_notes())
            .unwrap_err();
        assert_eq!(asked.to_string(), said);
    }
}

#[test]
fn what_is_asked_twice_is_done_once() {
    let mut board = Board::new(5);
    board.note(&[Noted::Finished; 40]);
    let mut wire = MemoryWire::new(board, Rates::default(), 0);
    let mut line = Line::new(&mut wire, PATIENCE, 0);
    let notes = line.notes(3, &mut Size::new(1, 200)).unwrap();
    let numbers: Vec<u32> = notes.entries.iter().map(|e| e.sequence).collect();
    assert!(numbers.into_iter().eq(3..=18), "at most sixteen, in order");
    assert_eq!(line.notes(3, &mut Size::new(1, 200)).unwrap(), notes);
    let acknowledge = |log| Request::Acknowledge { log, up_to: 18 };
    let up_to = |answer: Answer<'_>| match answer {
        Answer::Acknowledged { up_to } => Some(up_to),
        _ => None,
    };
    assert_eq!(line.ask(acknowledge(5), up_to).unwrap(), 18);
    assert_eq!(line.ask(acknowledge(5), up_to).unwrap(), 18);
    let other = line.ask(acknowledge(6), up_to).unwrap_err();
    assert!(matches!(other, LinkError::Refused(Refusal::OtherLog)));
    assert_eq!(wire.board.events.len(), 1);
    // Frames that come twice are answered twice, and nothing else happens.
    let sent: Vec<u8> = wire.sent.concat();
    let before = wire.board.log.unfetched();
    wire.board.take(&sent);
    assert_eq!(wire.board.log.unfetched(), before);
}

#[test]
fn nobody_there_is_said_after_a_while() {
    struct Nobody(u64);
    impl Wire for Nobody {
        fn send(&mut self, _: &[u8]) -> std::io::Result<()> {
            Ok(())
        }
        fn receive(&mut self, _: &mut [u8], until: u64) -> std::io::Result<usize> {
            self.0 = until;
            Ok(0)
        }
        fn now(&self) -> u64 {
            self.0
        }
    }
    let mut nobody = Nobody(0);
    let mut line = Line::new(&mut nobody, PATIENCE, 0);
    assert!(matches!(line.greet(), Err(LinkError::Silent)));
    assert_eq!(line.tally().sent, PATIENCE.tries);
    assert_eq!(nobody.0, u64::from(PATIENCE.wait * PATIENCE.tries));
}
