//! A unit that answers whatever it likes, and a host that fetches from it, keeps its
//! notes and sends it a pack.

use super::link::framed;
use super::{Bytes, Form, Seen, Target, file, scratch};
use jiff::civil::date;
use std::cell::RefCell;
use std::collections::VecDeque;
use std::fs;
use std::io;
use std::path::PathBuf;
use std::sync::OnceLock;
use tellmark_compile::check::{Checked, Depth, check};
use tellmark_core::link::{
    Answer, Hello, MAX_PAYLOAD, Received, Receiver, Refusal, Request, Spoken,
};
use tellmark_core::log::Entry;
use tellmark_core::record::{BODY, Noted};
use tellmark_device::unit::{Line, PATIENCE, Rules, Target as Into, Wire, fetch, keep, send};
use tellmark_language::{SourceFile, read};
use tellmark_tests::dice::Dice;
use tellmark_tests::unit::{Board, MockFlash, inspection};

pub(super) const TARGET: Target = Target {
    name: "unit",
    form: Form::Bytes,
    longest: 1_500,
    memory: 0,
    run,
    seeds,
    words,
};

const LOG: u32 = 0x5EED_0001;
/// Answers before the cable is pulled out.
const ANSWERS: usize = 80;

/// Small rules, so that a case takes little.
fn rules() -> &'static Checked {
    static RULES: OnceLock<Checked> = OnceLock::new();
    RULES.get_or_init(|| {
        let text = file("tests/tests/packs/mill-lane.rules.txt");
        let file = SourceFile {
            name: "house.rules.txt".to_owned(),
            text: String::from_utf8_lossy(&text).into_owned(),
            standard: false,
        };
        check(read(vec![file]), Depth::Build)
    })
}

/// A line to a unit that follows a script, and where it does not, is honest.
struct Scripted<'a> {
    script: Bytes<'a>,
    board: Board,
    answers: usize,
    coming: VecDeque<u8>,
    now: u64,
}

impl Wire for Scripted<'_> {
    fn send(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.answers += 1;
        if self.answers > ANSWERS {
            return Err(io::ErrorKind::UnexpectedEof.into());
        }
        let mut receiver = Receiver::default();
        let payload = bytes.iter().find_map(|&byte| match receiver.push(byte)? {
            Received::Payload(payload) => Some(payload.to_vec()),
            Received::Garbled => None,
        });
        let payload = payload.expect("the host sends sound frames");
        let spoken = Spoken::read(&payload).expect("the host's own words");
        let honest = self.board.take(bytes);
        let answer = self.answer(&spoken, honest);
        self.coming.extend(answer);
        Ok(())
    }

    fn receive(&mut self, into: &mut [u8], until: u64) -> io::Result<usize> {
        let number = into.len().min(self.coming.len());
        for (to, from) in into.iter_mut().zip(self.coming.drain(..number)) {
            *to = from;
        }
        if number == 0 {
            self.now = self.now.max(until);
        }
        Ok(number)
    }

    fn now(&self) -> u64 {
        self.now
    }
}

impl Scripted<'_> {
    fn answer(&mut self, spoken: &Spoken<'_>, honest: Vec<u8>) -> Vec<u8> {
        if self.script.is_empty() {
            return honest;
        }
        let mut room = [0; MAX_PAYLOAD];
        let script = &mut self.script;
        match (script.byte() % 8, spoken) {
            (0 | 1, _) => honest,
            (2, _) => Vec::new(),
            (3, _) => script.block().to_vec(),
            (4, Spoken::Request(tag, _)) => {
                let [low, high] = tag.to_le_bytes();
                framed(&[&[b'A', 1, low, high][..], script.block()].concat())
            }
            (_, Spoken::Query(_)) => {
                let hello = Hello {
                    lowest: 1,
                    highest: 1 + script.byte() % 2,
                    firmware: [0, 1, 0],
                    board: *b"scripted",
                    log: LOG,
                    pack: script.byte().is_multiple_of(2).then(|| script.number()),
                    unfetched: script.number(),
                    newest: script.number(),
                };
                framed(Spoken::Hello(hello).write(&mut room))
            }
            (_, Spoken::Request(tag, request)) => {
                let mut slots = Vec::new();
                let answer = any_answer(request, script, &mut slots);
                framed(Spoken::Answer(*tag, answer).write(&mut room))
            }
            _ => honest,
        }
    }
}

/// An answer of the kind that is asked for, or a refusal, with any figures.
fn any_answer<'s>(
    request: &Request<'_>,
    script: &mut Bytes<'_>,
    slots: &'s mut Vec<u8>,
) -> Answer<'s> {
    if script.byte().is_multiple_of(8) {
        let refusals = [
            Refusal::NotUnderstood,
            Refusal::NotesFirst { unfetched: 3 },
            Refusal::TooLong {
                most: script.number(),
            },
            Refusal::BadPack,
            Refusal::OtherLog,
            Refusal::Unfinished {
                next: script.number(),
            },
        ];
        return Answer::Refused(refusals[usize::from(script.byte()) % refusals.len()]);
    }
    match request {
        Request::Notes { from, .. } => {
            let mut sequence = from.wrapping_add(match script.byte() {
                ahead @ 0..8 => u32::from(ahead / 4),
                _ => script.number(),
            });
            let pack = rules().built.as_ref().map(|built| built.bytes.open());
            let id = pack.and_then(Result::ok).map_or(0, |pack| pack.id());
            for _ in 0..script.byte() % 16 {
                let body = <[u8; BODY]>::try_from(script.take(BODY));
                let noted = body.ok().and_then(Noted::from_bytes);
                let noted = match noted {
                    Some(Noted::Begun { root, .. }) => Noted::Begun { root, pack: id },
                    other => other.unwrap_or(Noted::Finished),
                };
                slots.extend(Entry { sequence, noted }.to_slot());
                let step = script.byte();
                sequence = sequence.wrapping_add(if step < 250 { 1 } else { script.number() });
            }
            Answer::Notes {
                log: LOG + u32::from(script.byte() == 1),
                newest: script.number(),
                acknowledged: script.number(),
                begun: script.byte().is_multiple_of(2).then(|| script.number()),
                slots,
            }
        }
        Request::Acknowledge { up_to, .. } => Answer::Acknowledged { up_to: *up_to },
        Request::SwitchOver { id, .. } if !script.byte().is_multiple_of(4) => {
            Answer::Current { id: *id }
        }
        _ => Answer::Wanted {
            next: script.number(),
        },
    }
}

thread_local! {
    static FOLDER: RefCell<Option<PathBuf>> = const { RefCell::new(None) };
}

fn run(input: &[u8], seen: &mut Seen) {
    let checked = rules();
    let built = checked.built.as_ref().expect("sound rules");
    let pack = built.bytes.open().expect("a sound pack");
    let mut script = Bytes::of(input);
    let how = script.byte();
    let mut board = Board::with(MockFlash::new(2), MockFlash::new(8), LOG);
    board.note(&inspection(&pack, &mut Dice::new(u64::from(how >> 4)), 6));
    let wire = Scripted {
        script,
        board,
        answers: 0,
        coming: VecDeque::new(),
        now: 0,
    };
    let mut line = Line::new(wire, PATIENCE, 1);
    let folder =
        FOLDER.with_borrow_mut(|folder| folder.get_or_insert_with(|| scratch("unit")).clone());
    let job = folder.join("chest");
    let _ = fs::remove_dir_all(&job);
    let target = Into {
        folder: &job,
        now: date(2026, 11, 28).at(9, 30, 0, 0),
        again: how & 4 == 4,
    };
    let rules = Rules {
        model: &checked.reading.model,
        built,
    };
    match how % 4 {
        0 | 1 => match fetch(&mut line, rules, target, |_, _| {}) {
            Ok(fetched) => {
                seen.note_size(1, fetched.notes);
                seen.note_size(2, fetched.lines.len());
            }
            Err(why) => seen.note_kind(3, &why),
        },
        2 => {
            let _ = fs::create_dir_all(&job);
            let _ = fs::write(
                job.join("job.txt"),
                "piece: chest of drawers with 3 drawers\n",
            );
            match keep(&mut line, &job) {
                Ok(number) => seen.note_size(4, number),
                Err(why) => seen.note_kind(5, &why),
            }
        }
        _ => match send(&mut line, &pack, built.bytes.bytes(), true, |_| {}) {
            Ok(sent) => seen.note(6, u64::from(sent.had_it)),
            Err(why) => seen.note_kind(7, &why),
        },
    }
}

fn seeds() -> Vec<Vec<u8>> {
    let checked = rules();
    let built = checked.built.as_ref().expect("sound rules");
    let pack = built.bytes.open().expect("a sound pack");
    let mut seeds: Vec<Vec<u8>> = (0..8).map(|how| vec![how * 17]).collect();
    for how in [0, 1, 2] {
        let noted = inspection(&pack, &mut Dice::new(u64::from(how)), 8);
        // Greeted honestly; then notes that follow each other, all of them new.
        let mut input = vec![how, 0, 0, 5, 1, 0];
        input.push(u8::try_from(noted.len().min(15)).unwrap_or(0));
        for noted in noted.into_iter().take(15) {
            input.extend(noted.to_bytes());
            input.push(0);
        }
        input.extend([0, 30, 0, 1, 5, 5, 1]);
        seeds.push(input);
    }
    seeds
}

fn words() -> Vec<Vec<u8>> {
    let finished = Noted::Finished.to_bytes().to_vec();
    vec![
        finished,
        vec![230, 8],
        vec![225, 1],
        vec![255; 5],
        vec![5, 1, 0, 1],
    ]
}
