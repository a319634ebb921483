//! The unit's side: a byte in, an answer out.

use super::frame::{Frame, MAX_PAYLOAD, Received, Receiver};
use super::hello::Hello;
use super::message::{Answer, ENTRIES, HIGHEST, LOWEST, Refusal, Request, Spoken, Unreadable};
use crate::log::{Flash, Held, Log, LogError, Offered, PackStore, SLOT, StoreError};
use crate::pack::OpenError;

/// The unit's side of the link.
#[derive(Debug)]
pub struct UnitLink {
    board: [u8; 8],
    firmware: [u8; 3],
    built_in: Option<u32>,
    receiver: Receiver,
    frame: Frame,
}

/// The unit's reply, and what the rest of the unit should know.
#[derive(Clone, Copy, Debug)]
pub struct Reply<'a> {
    /// The bytes to send.
    pub bytes: &'a [u8],
    /// What has happened, if something has.
    pub event: Option<Event>,
}

/// What a request has changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Event {
    /// Notes were fetched, so there may be room again.
    Fetched {
        /// Up to this one.
        up_to: u32,
    },
    /// Another pack is current. The former one may be written over from now on.
    PackChanged(Held),
}

impl UnitLink {
    /// The link of a unit with this board number and firmware version.
    #[must_use]
    pub fn new(board: [u8; 8], firmware: [u8; 3]) -> Self {
        Self {
            board,
            firmware,
            built_in: None,
            receiver: Receiver::default(),
            frame: Frame::default(),
        }
    }

    /// With the check sum of a pack that came with the firmware, which is in use
    /// until another is sent.
    #[must_use]
    pub fn with_built_in(self, pack: u32) -> Self {
        Self {
            built_in: Some(pack),
            ..self
        }
    }

    /// Takes one byte from the line. When it ends a frame there is something to
    /// send, which should be sent before the next byte is handed in.
    pub fn receive<F: Flash, G: Flash>(
        &mut self,
        byte: u8,
        log: &mut Log<F>,
        packs: &mut PackStore<G>,
    ) -> Option<Reply<'_>> {
        let mut slots = [0; SLOT * ENTRIES as usize];
        let mut event = None;
        let hello = Spoken::Hello(Hello {
            lowest: LOWEST,
            highest: HIGHEST,
            firmware: self.firmware,
            board: self.board,
            log: log.identity(),
            pack: in_use(packs, self.built_in),
            unfetched: log.unfetched(),
            newest: log.newest(),
        });
        let spoken = match self.receiver.push(byte)? {
            Received::Garbled => Spoken::Garbled,
            Received::Payload(payload) => match Spoken::read(payload) {
                // Whoever asks in another version learns which are spoken here.
                Ok(Spoken::Query(_)) | Err(Unreadable::Version) => hello,
                Ok(Spoken::Request(tag, request)) => {
                    let built_in = self.built_in;
                    let answer = answer(&request, log, packs, built_in, &mut slots, &mut event);
                    Spoken::Answer(tag, answer.unwrap_or_else(Answer::Refused))
                }
                Err(Unreadable::Content(Some(tag))) => {
                    Spoken::Answer(tag, Answer::Refused(Refusal::NotUnderstood))
                }
                // Our own words, come back: there is nothing to answer.
                Ok(Spoken::Hello(_) | Spoken::Answer(..) | Spoken::Garbled)
                | Err(Unreadable::Content(None)) => return None,
            },
        };
        let mut room = [0; MAX_PAYLOAD];
        self.frame.fill(spoken.write(&mut room));
        Some(Reply {
            bytes: self.frame.bytes(),
            event,
        })
    }
}

fn answer<'s, F: Flash, G: Flash>(
    request: &Request<'_>,
    log: &mut Log<F>,
    packs: &mut PackStore<G>,
    built_in: Option<u32>,
    slots: &'s mut [u8],
    event: &mut Option<Event>,
) -> Result<Answer<'s>, Refusal> {
    Ok(match *request {
        Request::Notes { from, most } => Answer::Notes {
            log: log.identity(),
            newest: log.newest(),
            acknowledged: log.acknowledged(),
            begun: log.begun(),
            slots: notes(log, from, most.min(ENTRIES), slots),
        },
        Request::Acknowledge { log: name, up_to } => {
            if name != log.identity() {
                return Err(Refusal::OtherLog);
            }
            let before = log.acknowledged();
            log.acknowledge(up_to).map_err(log_refusal)?;
            let up_to = log.acknowledged();
            if up_to > before {
                *event = Some(Event::Fetched { up_to });
            }
            Answer::Acknowledged { up_to }
        }
        Request::Offer { id, length, anyway } => {
            if !anyway {
                notes_first(log, in_use(packs, built_in), id)?;
            }
            match packs.offer(id, length).map_err(store_refusal)? {
                Offered::Current => Answer::Current { id },
                Offered::Wanted { next } => Answer::Wanted { next },
            }
        }
        Request::Piece { id, at, bytes } => Answer::Wanted {
            next: packs.write(id, at, bytes).map_err(store_refusal)?,
        },
        Request::SwitchOver { id, anyway } => {
            if !anyway {
                notes_first(log, in_use(packs, built_in), id)?;
            }
            let before = packs.current();
            let held = packs.switch_over(id).map_err(store_refusal)?;
            if before != Some(held) {
                *event = Some(Event::PackChanged(held));
            }
            Answer::Current { id: held.id }
        }
    })
}

fn notes<'s, F: Flash>(log: &Log<F>, from: u32, most: u8, slots: &'s mut [u8]) -> &'s [u8] {
    let mut used = 0;
    let entries = log.from(from).take(usize::from(most));
    for (slot, entry) in slots.chunks_exact_mut(SLOT).zip(entries) {
        for (to, from) in slot.iter_mut().zip(entry.to_slot()) {
            *to = from;
        }
        used += SLOT;
    }
    slots.get(..used).unwrap_or(&[])
}

/// The check sum of the pack in use.
fn in_use<G: Flash>(packs: &PackStore<G>, built_in: Option<u32>) -> Option<u32> {
    packs.current().map(|held| held.id).or(built_in)
}

/// What was noted by one pack can only be read with that pack's rules, so it is
/// fetched before the unit gets other ones.
fn notes_first<F: Flash>(log: &Log<F>, in_use: Option<u32>, id: u32) -> Result<(), Refusal> {
    let unfetched = log.unfetched();
    match in_use {
        Some(pack) if pack != id && unfetched > 0 => Err(Refusal::NotesFirst { unfetched }),
        _ => Ok(()),
    }
}

fn log_refusal<E>(error: LogError<E>) -> Refusal {
    match error {
        LogError::Full | LogError::TooSmall { .. } | LogError::WornOut | LogError::Flash(_) => {
            Refusal::Flash
        }
    }
}

fn store_refusal<E>(error: StoreError<E>) -> Refusal {
    match error {
        StoreError::TooLong { most } => Refusal::TooLong { most },
        StoreError::NotOffered => Refusal::NotOffered,
        StoreError::Unfinished { next } => Refusal::Unfinished { next },
        StoreError::Misfit => Refusal::Misfit,
        StoreError::Pack(OpenError::Version {
            major,
            lowest_minor,
        }) => Refusal::PackVersion {
            major,
            lowest_minor,
        },
        StoreError::Pack(_) | StoreError::OtherPack => Refusal::BadPack,
        StoreError::TooSmall { .. } | StoreError::WornOut | StoreError::Flash(_) => Refusal::Flash,
    }
}
