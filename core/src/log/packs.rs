//! Room for two packs, of which one is current.
//!
//! A pack that is being sent goes to the other half. It becomes current by a
//! mark that is written last, after the whole of it was read back and opened.

use super::cell;
use super::flash::{Flash, PAGE, SECTOR, array};
use super::slot::SLOT;
use crate::pack::{OpenError, Pack};
use core::fmt;

/// "TMPK", and the layout's number.
const COMING: [u8; 8] = *b"TMPK\x01\0\0\0";
/// "TMPC", and the layout's number.
const CURRENT: [u8; 8] = *b"TMPC\x01\0\0\0";
/// Where the mark is, from the beginning of a half.
const MARK: usize = cell::CELL;
/// Where a byte for each sector says that it is written.
const WRITTEN: usize = PAGE;
/// Most sectors of a pack.
const MOST_SECTORS: usize = SECTOR - WRITTEN;
/// Fewest sectors of a half.
const LEAST_SECTORS: usize = 2;

/// Why a pack could not be stored.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StoreError<E> {
    /// This much flash can never hold two packs.
    TooSmall {
        /// Bytes it needs at least.
        needed: usize,
        /// Bytes there are.
        given: usize,
    },
    /// The pack can never fit.
    TooLong {
        /// Bytes of the longest pack that does.
        most: u32,
    },
    /// No such pack was offered.
    NotOffered,
    /// Not all of it is there.
    Unfinished {
        /// The first byte that is missing.
        next: u32,
    },
    /// A piece must be a multiple of 16 bytes, but for the last, and lie within
    /// a page.
    Misfit,
    /// It is all there, but it is not a pack that can be used.
    Pack(OpenError),
    /// It is all there, but it is another pack than was offered.
    OtherPack,
    /// The flash does not keep what is written to it.
    WornOut,
    /// The chip reports an error.
    Flash(E),
}

impl<E> From<E> for StoreError<E> {
    fn from(error: E) -> Self {
        Self::Flash(error)
    }
}

impl<E: fmt::Debug> fmt::Display for StoreError<E> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooSmall { needed, given } => {
                write!(
                    f,
                    "two packs need {needed} bytes of flash, there are {given}"
                )
            }
            Self::TooLong { most } => write!(f, "a pack here has at most {most} bytes"),
            Self::NotOffered => write!(f, "no such pack was offered"),
            Self::Unfinished { next } => write!(f, "the pack is missing from byte {next} on"),
            Self::Misfit => write!(f, "a piece of a pack does not fit the pages of the flash"),
            Self::Pack(why) => write!(f, "{why}"),
            Self::OtherPack => write!(f, "it is another pack than was offered"),
            Self::WornOut => write!(f, "the flash does not keep what is written to it"),
            Self::Flash(error) => write!(f, "the flash reports {error:?}"),
        }
    }
}

/// A pack on the flash.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held {
    /// Where it begins, from the beginning of the flash lent to the store.
    pub at: usize,
    /// How many bytes it has.
    pub length: usize,
    /// Its own check sum, which names it.
    pub id: u32,
    half: usize,
    turn: u32,
}

/// A pack that is being sent.
#[derive(Clone, Copy, Debug)]
struct Coming {
    id: u32,
    length: u32,
    next: u32,
}

/// What becomes of a pack that is offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Offered {
    /// It is current already.
    Current,
    /// It is wanted from this byte on.
    Wanted {
        /// The first byte that is missing.
        next: u32,
    },
}

/// Room for two packs.
#[derive(Debug)]
pub struct PackStore<F> {
    flash: F,
    current: Option<Held>,
    coming: Option<Coming>,
    damaged: bool,
}

impl<F: Flash> PackStore<F> {
    /// Finds out which pack is current, and whether one was being sent.
    ///
    /// # Errors
    /// If the flash is too small.
    pub fn open(flash: F) -> Result<Self, StoreError<F::Error>> {
        let bytes = flash.bytes();
        let needed = 2 * LEAST_SECTORS * SECTOR;
        if bytes.len() < needed {
            return Err(StoreError::TooSmall {
                needed,
                given: bytes.len(),
            });
        }
        let mut current: Option<Held> = None;
        let mut damaged = false;
        for half in 0..2 {
            let Some(held) = committed(bytes, half) else {
                continue;
            };
            if open_at(bytes, held).is_err() {
                damaged = true;
            } else if current.is_none_or(|other| other.turn < held.turn) {
                current = Some(held);
            }
        }
        let mut store = Self {
            flash,
            current,
            coming: None,
            damaged,
        };
        store.coming = store.half_sent();
        Ok(store)
    }

    /// The pack that is current.
    #[must_use]
    pub fn current(&self) -> Option<Held> {
        self.current
    }

    /// Its bytes.
    #[must_use]
    pub fn current_bytes(&self) -> Option<&[u8]> {
        pack_bytes(self.flash.bytes(), self.current?)
    }

    /// Whether there was a pack that reads wrong now. An earlier one may be
    /// current in its place.
    #[must_use]
    pub fn damaged(&self) -> bool {
        self.damaged
    }

    /// Bytes of the longest pack that fits.
    #[must_use]
    pub fn most(&self) -> u32 {
        let sectors = (half_size(self.flash.bytes()) / SECTOR).saturating_sub(1);
        u32::try_from(sectors.min(MOST_SECTORS) * SECTOR).unwrap_or(u32::MAX)
    }

    /// The half that is not current.
    fn other(&self) -> usize {
        self.current.map_or(0, |held| 1 - held.half.min(1))
    }

    /// The pack that was being sent when power failed.
    fn half_sent(&self) -> Option<Coming> {
        let bytes = self.flash.bytes();
        let start = self.other() * half_size(bytes);
        let (id, length) = announced(bytes, start)?;
        // A mark that is spoilt can only be written over once the sector is erased, so
        // such a pack is sent again from the beginning.
        if !cell::is_blank(bytes, start + MARK) || length > self.most() {
            return None;
        }
        let marks = bytes.get(start + WRITTEN..start + SECTOR)?;
        let sectors = marks.iter().take_while(|&&mark| mark == 0).count();
        let written = u32::try_from(sectors.saturating_mul(SECTOR)).ok()?;
        let next = written.min(length);
        Some(Coming { id, length, next })
    }

    /// Gets ready for a pack, or goes on with it where it was left.
    ///
    /// # Errors
    /// If it can never fit, or the flash fails.
    pub fn offer(&mut self, id: u32, length: u32) -> Result<Offered, StoreError<F::Error>> {
        if self
            .current
            .is_some_and(|held| held.id == id && u32::try_from(held.length) == Ok(length))
        {
            return Ok(Offered::Current);
        }
        let most = self.most();
        if length > most {
            return Err(StoreError::TooLong { most });
        }
        if let Some(coming) = self.coming
            && coming.id == id
            && coming.length == length
        {
            return Ok(Offered::Wanted { next: coming.next });
        }
        self.coming = None;
        let start = self.other() * half_size(self.flash.bytes());
        cell::void(&mut self.flash, start + MARK)?;
        cell::void(&mut self.flash, start)?;
        self.flash.erase(start)?;
        let mut body = [0; cell::BODY];
        let bytes = COMING
            .into_iter()
            .chain(id.to_le_bytes())
            .chain(length.to_le_bytes());
        for (to, from) in body.iter_mut().zip(bytes) {
            *to = from;
        }
        if !cell::write(&mut self.flash, start, &body)? {
            return Err(StoreError::WornOut);
        }
        self.coming = Some(Coming {
            id,
            length,
            next: 0,
        });
        Ok(Offered::Wanted { next: 0 })
    }

    /// Takes a piece of the pack that was offered and says which byte is wanted
    /// next. A piece that is not the one wanted changes nothing.
    ///
    /// # Errors
    /// If there is no such pack, the piece has no proper size, or the flash
    /// fails.
    pub fn write(&mut self, id: u32, at: u32, piece: &[u8]) -> Result<u32, StoreError<F::Error>> {
        let coming = self
            .coming
            .filter(|coming| coming.id == id)
            .ok_or(StoreError::NotOffered)?;
        if at != coming.next || piece.is_empty() {
            return Ok(coming.next);
        }
        let (from, length) = (at as usize, coming.length as usize);
        let end = from.saturating_add(piece.len());
        let whole = end == length || end.is_multiple_of(SLOT);
        if end > length || !whole || from / PAGE != end.saturating_sub(1) / PAGE {
            return Err(StoreError::Misfit);
        }
        let start = self.other() * half_size(self.flash.bytes());
        let to = start + SECTOR + from;
        if from.is_multiple_of(SECTOR) {
            self.flash.erase(to)?;
        }
        self.flash.program(to, piece)?;
        if self.flash.bytes().get(to..to + piece.len()) != Some(piece) {
            return Err(StoreError::WornOut);
        }
        if end.is_multiple_of(SECTOR) || end == length {
            let mark = start + WRITTEN + from / SECTOR;
            self.flash.program(mark, &[0])?;
        }
        let next = u32::try_from(end).unwrap_or(coming.length);
        self.coming = Some(Coming { next, ..coming });
        Ok(next)
    }

    /// Makes the pack that was sent the current one, if all of it is there and
    /// right. For the one that is current already this does nothing.
    ///
    /// The former pack's half is written over when the next pack is offered:
    /// whoever reads it in place lets go of it before.
    ///
    /// # Errors
    /// If it is not all there, is not a pack that can be used here, or the flash
    /// fails. The current pack stays.
    pub fn switch_over(&mut self, id: u32) -> Result<Held, StoreError<F::Error>> {
        if let Some(held) = self.current
            && held.id == id
        {
            return Ok(held);
        }
        let coming = self
            .coming
            .filter(|coming| coming.id == id)
            .ok_or(StoreError::NotOffered)?;
        if coming.next < coming.length {
            return Err(StoreError::Unfinished { next: coming.next });
        }
        let half = self.other();
        let start = half * half_size(self.flash.bytes());
        let held = Held {
            at: start + SECTOR,
            length: coming.length as usize,
            id,
            half,
            turn: self.current.map_or(1, |held| held.turn.saturating_add(1)),
        };
        if let Err(why) = open_at(self.flash.bytes(), held) {
            // What was sent is no good; it has to be sent from the beginning.
            self.coming = None;
            cell::void(&mut self.flash, start)?;
            return Err(why.map_or(StoreError::OtherPack, StoreError::Pack));
        }
        let mut body = [0; cell::BODY];
        let bytes = CURRENT
            .into_iter()
            .chain(held.turn.to_le_bytes())
            .chain(id.to_le_bytes());
        for (to, from) in body.iter_mut().zip(bytes) {
            *to = from;
        }
        if !cell::write(&mut self.flash, start + MARK, &body)? {
            return Err(StoreError::WornOut);
        }
        self.current = Some(held);
        self.coming = None;
        Ok(held)
    }
}

/// Bytes of a half: a sector that says what is in it, and the pack.
fn half_size(bytes: &[u8]) -> usize {
    bytes.len() / SECTOR / 2 * SECTOR
}

/// Check sum and length of the pack that this half is for.
fn announced(bytes: &[u8], start: usize) -> Option<(u32, u32)> {
    let body = cell::read(bytes, start)?;
    (array(&body, 0)? == COMING).then_some(())?;
    let number = |at| Some(u32::from_le_bytes(array(&body, at)?));
    Some((number(8)?, number(12)?))
}

/// The pack in this half, if it has the mark.
fn committed(bytes: &[u8], half: usize) -> Option<Held> {
    let start = half * half_size(bytes);
    let (id, length) = announced(bytes, start)?;
    let body = cell::read(bytes, start + MARK)?;
    (array(&body, 0)? == CURRENT).then_some(())?;
    let number = |at| Some(u32::from_le_bytes(array(&body, at)?));
    let turn = number(8)?;
    (number(12)? == id).then_some(Held {
        at: start + SECTOR,
        length: length as usize,
        id,
        half,
        turn,
    })
}

fn pack_bytes(bytes: &[u8], held: Held) -> Option<&[u8]> {
    bytes.get(held.at..held.at.checked_add(held.length)?)
}

/// Whether the pack is good; `Err(None)` if it is another one.
fn open_at(bytes: &[u8], held: Held) -> Result<(), Option<OpenError>> {
    let bytes = pack_bytes(bytes, held).ok_or(Some(OpenError::TooShort))?;
    let pack = Pack::open(bytes).map_err(Some)?;
    if pack.id() == held.id {
        Ok(())
    } else {
        Err(None)
    }
}
