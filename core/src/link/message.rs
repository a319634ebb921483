//! What is said, in version 1 of the protocol.
//!
//! A variant is never taken out, moved or changed, and new ones go to the end:
//! its place is its number on the wire. No wire type has a `usize` in it.

use super::frame::MAX_PAYLOAD;
use super::hello::{Hello, Query};
use serde::{Deserialize, Serialize};

/// The lowest version of the protocol that is spoken here.
pub const LOWEST: u8 = 1;
/// The highest.
pub const HIGHEST: u8 = 1;

/// Most notes in one answer.
pub const ENTRIES: u8 = 16;
/// Most bytes of a pack in one request: a page of flash.
pub const MAX_PIECE: usize = 256;

const REQUEST: u8 = b'Q';
const ANSWER: u8 = b'A';
const GARBLED: u8 = b'G';

/// What the host asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Request<'a> {
    /// Notes from this number on.
    Notes {
        /// The first that is wanted.
        from: u32,
        /// How many at most.
        most: u8,
    },
    /// The host has these notes on its disk.
    Acknowledge {
        /// The name of the log they are from.
        log: u32,
        /// Up to and with this one.
        up_to: u32,
    },
    /// A pack is there to be sent.
    Offer {
        /// Its check sum.
        id: u32,
        /// How many bytes it has.
        length: u32,
        /// Take it even if notes made by another pack were not fetched.
        anyway: bool,
    },
    /// A piece of it.
    Piece {
        /// The pack's check sum.
        id: u32,
        /// Where the piece begins.
        at: u32,
        /// Its bytes.
        bytes: &'a [u8],
    },
    /// All of it was sent: go by it from now on.
    SwitchOver {
        /// The pack's check sum.
        id: u32,
        /// As in the offer.
        anyway: bool,
    },
}

/// What the unit answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Answer<'a> {
    /// Notes.
    Notes {
        /// The name of the log they are from.
        log: u32,
        /// The number of the last note there is.
        newest: u32,
        /// The notes up to this one were fetched.
        acknowledged: u32,
        /// The number under which the last piece was begun, if that is known.
        begun: Option<u32>,
        /// The notes, in order, 16 bytes each, as they are on flash; a number
        /// that is left out cannot be read any more.
        slots: &'a [u8],
    },
    /// The notes up to this one were fetched.
    Acknowledged {
        /// Up to and with this one.
        up_to: u32,
    },
    /// The pack is wanted.
    Wanted {
        /// From this byte on; its length if all of it is there.
        next: u32,
    },
    /// The unit goes by this pack.
    Current {
        /// Its check sum.
        id: u32,
    },
    /// No.
    Refused(Refusal),
}

/// Why the unit would not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Refusal {
    /// The request is none that this unit knows.
    NotUnderstood,
    /// The unit holds notes made by the pack it has; they are to be fetched
    /// before it gets another.
    NotesFirst {
        /// How many.
        unfetched: u32,
    },
    /// The pack can never fit.
    TooLong {
        /// Bytes of the longest pack that does.
        most: u32,
    },
    /// No such pack was offered.
    NotOffered,
    /// Not all of the pack was sent.
    Unfinished {
        /// The first byte that is missing.
        next: u32,
    },
    /// The piece does not lie on the pages of the flash.
    Misfit,
    /// The pack is for another version of the format than this unit reads.
    PackVersion {
        /// The format's major version.
        major: u8,
        /// The lowest minor version of a reader that can use it.
        lowest_minor: u8,
    },
    /// What was sent is not a sound pack.
    BadPack,
    /// The flash does not keep what is written to it, or reports an error.
    Flash,
    /// These are notes of another log.
    OtherLog,
}

/// A payload, understood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spoken<'a> {
    /// Who are you?
    Query(Query),
    /// Who the unit is.
    Hello(Hello),
    /// A request and the number it is answered under.
    Request(u16, Request<'a>),
    /// An answer and the number it was asked under.
    Answer(u16, Answer<'a>),
    /// "What you sent last was damaged."
    Garbled,
}

/// Why a payload was not understood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unreadable {
    /// It is of another version of the protocol, or of another kind.
    Version,
    /// It is of this version, but says nothing that this side knows. The number
    /// it is to be answered under, if it is a request.
    Content(Option<u16>),
}

impl<'a> Spoken<'a> {
    /// Reads a payload.
    ///
    /// # Errors
    /// Why it is not understood.
    pub fn read(payload: &'a [u8]) -> Result<Self, Unreadable> {
        if let Some(query) = Query::from_bytes(payload) {
            return Ok(Self::Query(query));
        }
        if let Some(hello) = Hello::from_bytes(payload) {
            return Ok(Self::Hello(hello));
        }
        match *payload {
            [GARBLED] => Ok(Self::Garbled),
            [kind, version, low, high, ref rest @ ..]
                if (LOWEST..=HIGHEST).contains(&version) && [REQUEST, ANSWER].contains(&kind) =>
            {
                let tag = u16::from_le_bytes([low, high]);
                if kind == REQUEST {
                    let request = all(rest).ok_or(Unreadable::Content(Some(tag)))?;
                    Ok(Self::Request(tag, request))
                } else {
                    let answer = all(rest).ok_or(Unreadable::Content(None))?;
                    Ok(Self::Answer(tag, answer))
                }
            }
            _ => Err(Unreadable::Version),
        }
    }

    /// Writes a payload and gives the part of `room` that it takes. There is
    /// room for all that [`ENTRIES`] and [`MAX_PIECE`] allow.
    #[must_use]
    pub fn write<'r>(&self, room: &'r mut [u8; MAX_PAYLOAD]) -> &'r [u8] {
        let length = match self {
            Self::Query(query) => put(room, &query.to_bytes()),
            Self::Hello(hello) => put(room, &hello.to_bytes()),
            Self::Garbled => put(room, &[GARBLED]),
            Self::Request(tag, request) => numbered(room, REQUEST, *tag, request),
            Self::Answer(tag, answer) => numbered(room, ANSWER, *tag, answer),
        };
        room.get(..length.unwrap_or(0)).unwrap_or(&[])
    }
}

/// All of the bytes, as one value.
fn all<'a, T: Deserialize<'a>>(bytes: &'a [u8]) -> Option<T> {
    match postcard::take_from_bytes(bytes) {
        Ok((value, [])) => Some(value),
        _ => None,
    }
}

fn put(room: &mut [u8], bytes: &[u8]) -> Option<usize> {
    room.get_mut(..bytes.len())?.copy_from_slice(bytes);
    Some(bytes.len())
}

fn numbered<T: Serialize>(room: &mut [u8], kind: u8, tag: u16, value: &T) -> Option<usize> {
    let [low, high] = tag.to_le_bytes();
    let head = put(room, &[kind, HIGHEST, low, high])?;
    let rest = room.get_mut(head..)?;
    Some(head + postcard::to_slice(value, rest).ok()?.len())
}
