//! A question and its answer, asked again until it comes.

use super::port::Wire;
use std::fmt;
use std::io;
use tellmark_core::link::{
    Answer, Caller, ENTRIES, HIGHEST, Heard, Hello, LOWEST, Patience, Refusal, Request, Step, Tally,
};
use tellmark_core::log::{Entry, SLOT};
use tellmark_core::pack::{MAJOR, MINOR};
use tellmark_job::plain::io_reason;

/// How long a unit may take: erasing a sector of flash takes most of it.
pub const PATIENCE: Patience = Patience {
    wait: 500,
    tries: 30,
};

/// How often something long is asked before it is asked for in smaller pieces.
const TRIES_OF_LONG: u32 = 4;

/// Why a unit does not do what it is asked.
#[derive(Debug)]
pub enum LinkError {
    /// The port would not be opened, read or written.
    Port(io::Error),
    /// Nobody answers.
    Silent,
    /// The unit speaks other versions of the protocol.
    Version(Hello),
    /// The unit would not.
    Refused(Refusal),
    /// The answer is none to the question.
    Nonsense,
}

impl From<io::Error> for LinkError {
    fn from(why: io::Error) -> LinkError {
        LinkError::Port(why)
    }
}

/// What to do where a port may not be opened.
#[must_use]
pub fn way_in(why: &io::Error) -> &'static str {
    if why.kind() != io::ErrorKind::PermissionDenied {
        ""
    } else if cfg!(windows) {
        " Another program may have it open: close that first."
    } else if cfg!(target_os = "macos") {
        " Another program may have it open, or you may not use it."
    } else {
        " On most systems you must be in the group \"dialout\"."
    }
}

impl fmt::Display for LinkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LinkError::Port(why) if why.kind() == io::ErrorKind::UnexpectedEof => {
                write!(f, "The cable was pulled out, or the unit was switched off.")
            }
            LinkError::Port(why) => {
                write!(
                    f,
                    "I could not talk to the unit: {}.{}",
                    io_reason(why),
                    way_in(why)
                )
            }
            LinkError::Silent => write!(
                f,
                "Nobody answers there. Is it a bench unit, and is it switched on?"
            ),
            LinkError::Version(hello) => {
                let [a, b, c] = hello.firmware;
                let update = if hello.lowest > HIGHEST {
                    "Use a later tellmark"
                } else {
                    "Put later firmware on the unit"
                };
                write!(
                    f,
                    "This unit (firmware {a}.{b}.{c}) speaks the link's {}, and this tellmark \
                     speaks {}. {update}; what was noted is safe on the unit.",
                    versions(hello.lowest, hello.highest),
                    versions(LOWEST, HIGHEST),
                )
            }
            LinkError::Refused(refusal) => refused(f, refusal),
            LinkError::Nonsense => write!(
                f,
                "internal error, please report it: the unit answered something else than it was \
                 asked."
            ),
        }
    }
}

fn versions(lowest: u8, highest: u8) -> String {
    if lowest == highest {
        format!("version {lowest}")
    } else {
        format!("versions {lowest} to {highest}")
    }
}

fn refused(f: &mut fmt::Formatter<'_>, refusal: &Refusal) -> fmt::Result {
    match refusal {
        Refusal::NotUnderstood => write!(
            f,
            "The unit's firmware does not know how to do that. Put later firmware on it."
        ),
        Refusal::NotesFirst { unfetched } => write!(
            f,
            "The unit holds {unfetched} notes made by the rules it has now. Fetch them first \
             (\"tellmark unit fetch JOB\"), with those rules; or send with --anyway: the notes \
             stay on the unit until they are fetched with those rules."
        ),
        Refusal::TooLong { most } => write!(
            f,
            "The unit has room for a pack of {most} bytes, and this one is longer. Build it \
             with fewer families of pieces: tellmark build --families none"
        ),
        Refusal::PackVersion {
            major,
            lowest_minor,
        } => write!(
            f,
            "The unit's firmware cannot read this pack: it is of format {major}.{lowest_minor}. \
             This tellmark makes {MAJOR}.{MINOR}. Put firmware of the same day on the unit. It \
             keeps the pack it had."
        ),
        Refusal::BadPack => write!(
            f,
            "What arrived is not a sound pack. The unit keeps the pack it had. Send it again."
        ),
        Refusal::NotOffered | Refusal::Unfinished { .. } | Refusal::Misfit => write!(
            f,
            "The unit lost its place in the pack. It keeps the pack it had. Send it again."
        ),
        Refusal::Flash => write!(
            f,
            "The unit's flash does not keep what is written to it. What it noted before can still \
             be fetched."
        ),
        Refusal::OtherLog => write!(f, "This is another unit than a moment ago."),
    }
}

impl std::error::Error for LinkError {}

/// Notes as they came.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notes {
    /// The name of the log.
    pub log: u32,
    /// The number of the last note there is.
    pub newest: u32,
    /// The notes up to this one were fetched.
    pub acknowledged: u32,
    /// The number under which the last piece was begun.
    pub begun: Option<u32>,
    /// The notes, in order.
    pub entries: Vec<Entry>,
}

/// The line to a unit.
#[derive(Debug)]
pub struct Line<W> {
    wire: W,
    caller: Caller,
    patience: Patience,
    tries: u32,
}

impl<W: Wire> Line<W> {
    /// A line over this wire. The first question has the number after `tag`; it
    /// should not be one that an earlier program has just used, whose answer may
    /// still be on its way.
    pub fn new(wire: W, patience: Patience, tag: u16) -> Line<W> {
        Line {
            wire,
            caller: Caller::new(patience, tag),
            patience,
            tries: 0,
        }
    }

    /// Asks who is there.
    pub fn greet(&mut self) -> Result<Hello, LinkError> {
        self.caller.greet();
        self.exchange(|heard| match heard {
            Heard::Hello(hello) if hello.speaks(HIGHEST) => Ok(hello),
            Heard::Hello(hello) => Err(LinkError::Version(hello)),
            Heard::Answer(_) => Err(LinkError::Nonsense),
        })
    }

    /// Asks for something; `read` takes the answer, if it is one to this.
    pub fn ask<T>(
        &mut self,
        request: Request<'_>,
        read: impl Fn(Answer<'_>) -> Option<T>,
    ) -> Result<T, LinkError> {
        self.caller.ask(request);
        self.exchange(|heard| match heard {
            Heard::Answer(Answer::Refused(refusal)) => Err(LinkError::Refused(refusal)),
            Heard::Answer(answer) => read(answer).ok_or(LinkError::Nonsense),
            Heard::Hello(hello) => Err(LinkError::Version(hello)),
        })
    }

    /// Asks for something in the size that the line will bear: `request` is
    /// given the size that came through last, then smaller ones.
    pub fn ask_sized<'r, T>(
        &mut self,
        size: &mut Size,
        request: impl Fn(usize) -> Request<'r>,
        read: impl Fn(Answer<'_>) -> Option<T>,
    ) -> Result<T, LinkError> {
        loop {
            let is_least = size.now <= size.least;
            let tries = if is_least {
                self.patience.tries
            } else {
                TRIES_OF_LONG.min(self.patience.tries)
            };
            self.caller.set_tries(tries);
            let answer = self.ask(request(size.now), &read);
            self.caller.set_tries(self.patience.tries);
            match answer {
                Err(LinkError::Silent) if !is_least => size.shrink(),
                answer => {
                    if self.tries > 1 {
                        size.shrink();
                    } else {
                        size.grow();
                    }
                    return answer;
                }
            }
        }
    }

    /// Asks for notes from this number on, as many as the line will bear. They come in
    /// order, none of them before that, and there is a number left for the next.
    pub fn notes(&mut self, from: u32, size: &mut Size) -> Result<Notes, LinkError> {
        let request = |most| Request::Notes {
            from,
            most: u8::try_from(most).unwrap_or(ENTRIES),
        };
        let notes = self.ask_sized(size, request, read_notes)?;
        let numbers = notes.entries.iter().map(|entry| entry.sequence);
        let is_in_order = numbers.is_sorted_by(|a, b| a < b);
        let is_from_there = notes.entries.first().is_none_or(|e| e.sequence >= from);
        let is_followed = notes.entries.last().is_none_or(|e| e.sequence < u32::MAX);
        if is_in_order && is_from_there && is_followed {
            Ok(notes)
        } else {
            Err(LinkError::Nonsense)
        }
    }

    fn exchange<T>(
        &mut self,
        read: impl Fn(Heard<'_>) -> Result<T, LinkError>,
    ) -> Result<T, LinkError> {
        let before = self.caller.tally().sent;
        loop {
            let until = match self.caller.step(self.wire.now()) {
                Step::Send(bytes) => {
                    self.wire.send(bytes)?;
                    continue;
                }
                Step::WaitUntil(until) => until,
                Step::GaveUp => return Err(LinkError::Silent),
            };
            let mut bytes = [0; 512];
            let number = self.wire.receive(&mut bytes, until)?;
            for &byte in bytes.iter().take(number) {
                if let Some(heard) = self.caller.receive(byte) {
                    let read = read(heard);
                    self.tries = self.caller.tally().sent.saturating_sub(before);
                    return read;
                }
            }
        }
    }

    /// What the line has cost so far.
    #[must_use]
    pub fn tally(&self) -> Tally {
        self.caller.tally()
    }

    /// Lets time pass.
    pub fn rest(&mut self, milliseconds: u64) -> Result<(), LinkError> {
        let until = self.wire.now().saturating_add(milliseconds);
        let mut late = [0; 512];
        while self.wire.now() < until {
            // What still comes is late, and answers nothing.
            self.wire.receive(&mut late, until)?;
        }
        Ok(())
    }
}

/// In what sizes something is sent, or asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    now: usize,
    least: usize,
    most: usize,
}

impl Size {
    /// From the least to the most, to begin with the most.
    #[must_use]
    pub fn new(least: usize, most: usize) -> Size {
        Size {
            now: most,
            least,
            most,
        }
    }

    /// Of notes.
    #[must_use]
    pub fn of_notes() -> Size {
        Size::new(1, usize::from(ENTRIES))
    }

    fn shrink(&mut self) {
        self.now = (self.now / 2).max(self.least);
    }

    fn grow(&mut self) {
        self.now = (self.now * 2).min(self.most);
    }
}

fn read_notes(answer: Answer<'_>) -> Option<Notes> {
    let Answer::Notes {
        log,
        newest,
        acknowledged,
        begun,
        slots,
    } = answer
    else {
        return None;
    };
    let (slots, []) = slots.as_chunks::<SLOT>() else {
        return None;
    };
    let entries = slots.iter().map(|slot| Entry::from_slot(*slot));
    Some(Notes {
        log,
        newest,
        acknowledged,
        begun,
        entries: entries.collect::<Option<_>>()?,
    })
}
