//! The link: any bytes and any sound frames, to the unit's side and to the host's.

use super::{Bytes, Form, Seen, Target};
use tellmark_core::link::{
    Caller, ENTRIES, Frame, MAX_PAYLOAD, Patience, Received, Receiver, Request, Spoken, Step,
};
use tellmark_core::record::Noted;
use tellmark_tests::unit::{Board, MockFlash};

pub(super) const TARGET: Target = Target {
    name: "link",
    form: Form::Bytes,
    longest: 600,
    memory: 0,
    run,
    seeds,
    words,
};

/// The name of the log.
const LOG: u32 = 77;
const PATIENCE: Patience = Patience { wait: 10, tries: 3 };

/// Both sides, and the line between them.
struct Ends {
    board: Board,
    caller: Caller,
    now: u64,
    noted: u32,
}

fn run(input: &[u8], seen: &mut Seen) {
    let mut bytes = Bytes::of(input);
    let mut ends = Ends {
        board: Board::with(MockFlash::new(2), MockFlash::new(6), LOG),
        caller: Caller::new(PATIENCE, 0),
        now: 0,
        noted: 0,
    };
    for _ in 0..60 {
        if bytes.is_empty() {
            break;
        }
        match bytes.byte() % 8 {
            0 => {
                let raw = bytes.block();
                ends.unit_takes(raw, seen);
                ends.host_takes(raw, seen);
            }
            1 | 2 => {
                let frame = framed(bytes.block());
                ends.unit_takes(&frame, seen);
                ends.host_takes(&frame, seen);
            }
            3 | 4 => {
                let mut room = [0; MAX_PAYLOAD];
                let spoken = Spoken::Request(bytes.half(), request(&mut bytes));
                let frame = framed(spoken.write(&mut room));
                ends.unit_takes(&frame, seen);
            }
            5 => {
                for _ in 0..bytes.byte() % 64 {
                    if ends.board.log.append(Noted::Finished).is_ok() {
                        ends.noted += 1;
                    }
                }
            }
            6 => ends.exchange(&mut bytes, seen),
            _ => {
                let mut frame = framed(bytes.block());
                // A byte of a sound frame, damaged.
                let at = usize::from(bytes.byte()) % frame.len().max(1);
                if let Some(byte) = frame.get_mut(at) {
                    *byte ^= bytes.byte();
                }
                ends.unit_takes(&frame, seen);
                ends.host_takes(&frame, seen);
            }
        }
        // Nothing is ever noted by way of the link, and nothing lost.
        assert_eq!(ends.board.log.newest(), ends.noted);
        assert!(ends.board.log.acknowledged() <= ends.noted);
        assert_eq!(ends.board.log.identity(), LOG);
    }
    seen.note_size(1, ends.board.events.len());
}

impl Ends {
    /// The unit answers in sound frames that are read again.
    fn unit_takes(&mut self, bytes: &[u8], seen: &mut Seen) -> Vec<u8> {
        let answered = self.board.take(bytes);
        let mut receiver = Receiver::default();
        for &byte in &answered {
            match receiver.push(byte) {
                None => {}
                Some(Received::Garbled) => panic!("the unit sent what is no frame"),
                Some(Received::Payload(payload)) => {
                    let spoken = Spoken::read(payload).expect("the unit's own words");
                    marked(2, &spoken, seen);
                }
            }
        }
        answered
    }

    fn host_takes(&mut self, bytes: &[u8], seen: &mut Seen) {
        for &byte in bytes {
            if self.caller.receive(byte).is_some() {
                seen.note(3, 0);
            }
        }
    }

    /// The host asks, the unit answers over a line that damages a byte here and there.
    fn exchange(&mut self, bytes: &mut Bytes<'_>, seen: &mut Seen) {
        match bytes.byte() % 4 {
            0 => self.caller.greet(),
            _ => self.caller.ask(request(bytes)),
        }
        for _ in 0..8 {
            let sent = match self.caller.step(self.now) {
                Step::Send(frame) => frame.to_vec(),
                Step::WaitUntil(u64::MAX) => return seen.note(4, 0),
                Step::WaitUntil(until) => {
                    self.now = until;
                    continue;
                }
                Step::GaveUp => return seen.note(5, 0),
            };
            let mut answered = self.unit_takes(&sent, seen);
            if bytes.byte().is_multiple_of(4) {
                let at = usize::from(bytes.byte()) % answered.len().max(1);
                if let Some(byte) = answered.get_mut(at) {
                    *byte ^= bytes.byte();
                }
            }
            let mut heard = false;
            for byte in answered {
                heard |= self.caller.receive(byte).is_some();
            }
            if heard {
                return seen.note(6, 0);
            }
        }
    }
}

pub(super) fn framed(payload: &[u8]) -> Vec<u8> {
    let mut frame = Frame::default();
    frame.fill(payload);
    frame.bytes().to_vec()
}

/// Which message it is, down to the kind of refusal.
fn marked(sort: u8, spoken: &Spoken<'_>, seen: &mut Seen) {
    let mut room = [0; MAX_PAYLOAD];
    let bytes = spoken.write(&mut room);
    let kind = bytes.iter().take(1).chain(bytes.iter().skip(4).take(2));
    seen.note(sort, kind.fold(0, |sum, b| sum << 8 | u64::from(*b)));
}

/// A request that the unit understands.
pub(super) fn request<'a>(bytes: &mut Bytes<'a>) -> Request<'a> {
    match bytes.byte() % 5 {
        0 => Request::Notes {
            from: bytes.number(),
            most: bytes.byte() % (ENTRIES + 3),
        },
        1 => Request::Acknowledge {
            log: LOG + u32::from(bytes.byte() == 0),
            up_to: bytes.number(),
        },
        2 => Request::Offer {
            id: bytes.number(),
            length: bytes.number(),
            anyway: bytes.byte().is_multiple_of(2),
        },
        3 => Request::Piece {
            id: bytes.number(),
            at: bytes.number(),
            bytes: bytes.block(),
        },
        _ => Request::SwitchOver {
            id: bytes.number(),
            anyway: bytes.byte().is_multiple_of(2),
        },
    }
}

fn seeds() -> Vec<Vec<u8>> {
    let mut room = [0; MAX_PAYLOAD];
    let query = Spoken::Query(tellmark_core::link::Query {
        lowest: 1,
        highest: 1,
    });
    let query = query.write(&mut room).to_vec();
    let length = u8::try_from(query.len()).unwrap_or(0);
    let raw = framed(&query);
    vec![
        [&[1, length][..], &query].concat(),
        [&[0, length + 4][..], &raw].concat(),
        // Notes, fetched and acknowledged.
        vec![
            5, 30, 3, 1, 0, 0, 1, 16, 3, 2, 0, 1, 1, 30, 6, 1, 0, 1, 16, 1, 1, 1,
        ],
        // A pack of 32 bytes that is none: offered, sent, switched over to.
        [
            &[3, 1, 0, 2, 9, 32, 0, 3, 2, 0, 3, 9, 0, 16][..],
            &[7; 16],
            &[3, 3, 0, 3, 9, 16, 16],
            &[7; 16],
            &[3, 4, 0, 4, 9, 0],
        ]
        .concat(),
        vec![6, 0, 1, 1, 1, 6, 1, 0, 0, 16, 0, 3, 0xFF, 1, 1],
        vec![7, 4, b'Q', 1, 0, 0, 2, 0x80],
    ]
}

fn words() -> Vec<Vec<u8>> {
    vec![
        b"TELLMARK?\x01\x01".to_vec(),
        b"TELLMARK!".to_vec(),
        b"Q\x01\0\0".to_vec(),
        b"A\x01\0\0".to_vec(),
        b"G".to_vec(),
        vec![0],
        vec![0xFF; 8],
        vec![0x80; 5],
    ]
}
