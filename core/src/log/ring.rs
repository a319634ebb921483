//! What was noted, one slot after another, in a ring of sectors.
//!
//! A sector begins with a sealed cell that says which turn of the ring it is.
//! The slots after it are written one by one and never a second time. When a
//! sector is full the next one of the ring is erased, if all it holds was
//! fetched, so every sector is erased as often as any other.

use super::cell;
use super::flash::{Flash, SECTOR, array};
use super::slot::{self, Entry, SLOT};
use crate::record::Noted;
use core::fmt;

const SLOTS: usize = SECTOR / SLOT;
/// Slots that the cell at the beginning of a sector takes.
const FIRST_SLOT: usize = cell::CELL / SLOT;
/// Fewest sectors of a ring.
const LEAST_SECTORS: usize = 2;
/// How many slots that do not keep what is written are passed over before the
/// flash is given up.
const TRIES: usize = 8;

/// How many notes fit in a sector.
pub const NOTES_PER_SECTOR: usize = SLOTS - FIRST_SLOT;

/// "TMLG", and the layout's number.
const MAGIC: [u8; 8] = *b"TMLG\x01\0\0\0";

/// Why something could not be noted, or the log not opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LogError<E> {
    /// Every slot holds a note that was not fetched yet. Nothing was lost, and
    /// there is room again once the host has fetched.
    Full,
    /// This much flash can never hold a log.
    TooSmall {
        /// Bytes it needs at least.
        needed: usize,
        /// Bytes there are.
        given: usize,
    },
    /// The flash does not keep what is written to it.
    WornOut,
    /// The chip reports an error.
    Flash(E),
}

impl<E> From<E> for LogError<E> {
    fn from(error: E) -> Self {
        Self::Flash(error)
    }
}

impl<E: fmt::Debug> fmt::Display for LogError<E> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Full => write!(f, "the log is full of notes that were not fetched"),
            Self::TooSmall { needed, given } => {
                write!(f, "a log needs {needed} bytes of flash, there are {given}")
            }
            Self::WornOut => write!(f, "the flash does not keep what is written to it"),
            Self::Flash(error) => write!(f, "the flash reports {error:?}"),
        }
    }
}

/// What the cell at the beginning of a sector says.
#[derive(Clone, Copy, Debug)]
struct Header {
    /// Name of the log.
    identity: u32,
    /// How many sectors were begun before it, ever.
    turn: u32,
    /// The number of the first note that goes into it.
    first: u32,
    /// The notes up to this one were fetched when it was begun.
    acknowledged: u32,
}

impl Header {
    fn to_body(self) -> [u8; cell::BODY] {
        let mut body = [0; cell::BODY];
        let numbers = [self.identity, self.turn, self.first, self.acknowledged];
        let bytes = MAGIC
            .into_iter()
            .chain(numbers.into_iter().flat_map(u32::to_le_bytes));
        for (to, from) in body.iter_mut().zip(bytes) {
            *to = from;
        }
        body
    }

    fn read(bytes: &[u8], sector: usize) -> Option<Self> {
        let body = cell::read(bytes, sector.checked_mul(SECTOR)?)?;
        let number = |at| Some(u32::from_le_bytes(array(&body, at)?));
        (array(&body, 0)? == MAGIC).then_some(())?;
        Some(Self {
            identity: number(8)?,
            turn: number(12)?,
            first: number(16)?,
            acknowledged: number(20)?,
        })
    }
}

/// The log.
#[derive(Debug)]
pub struct Log<F> {
    flash: F,
    identity: u32,
    sectors: usize,
    /// The sector being filled, its turn, and the next slot in it.
    sector: usize,
    turn: u32,
    slot: usize,
    /// How many sectors, going back from that one, may hold notes.
    held: usize,
    /// The number of the next note.
    next: u32,
    /// The notes up to this one were fetched; and what the flash says of that.
    acknowledged: u32,
    marked: u32,
    /// The number under which the last piece was begun.
    begun: Option<u32>,
    torn: u32,
}

impl<F: Flash> Log<F> {
    /// Opens the log on this flash, or begins one on a flash that has none.
    ///
    /// `fresh` names a log begun now, and should be a number that no other has:
    /// the host remembers by that name what it has fetched.
    ///
    /// # Errors
    /// If the flash is too small or fails.
    pub fn open(flash: F, fresh: u32) -> Result<Self, LogError<F::Error>> {
        let bytes = flash.bytes();
        let sectors = bytes.len() / SECTOR;
        if sectors < LEAST_SECTORS {
            return Err(LogError::TooSmall {
                needed: LEAST_SECTORS * SECTOR,
                given: bytes.len(),
            });
        }
        let newest = (0..sectors)
            .filter_map(|sector| Some((sector, Header::read(bytes, sector)?)))
            .max_by_key(|(_, header)| header.turn);
        let Some((sector, header)) = newest else {
            let mut log = Self {
                flash,
                identity: fresh,
                sectors,
                sector: sectors - 1,
                turn: 0,
                slot: SLOTS,
                held: 0,
                next: 1,
                acknowledged: 0,
                marked: 0,
                begun: None,
                torn: 0,
            };
            log.begin_sector()?;
            return Ok(log);
        };
        let mut log = Self {
            identity: header.identity,
            sectors,
            sector,
            turn: header.turn,
            slot: FIRST_SLOT,
            held: 1,
            next: header.first,
            acknowledged: header.acknowledged,
            marked: header.acknowledged,
            begun: None,
            torn: 0,
            flash,
        };
        log.recover();
        Ok(log)
    }

    /// Finds out how far the notes go, passing over what was cut short.
    fn recover(&mut self) {
        let bytes = self.flash.bytes();
        let (mut held, mut first) = (1, self.next);
        for back in 1..self.sectors {
            let header = Header::read(bytes, self.back(back));
            let turn = u32::try_from(back)
                .ok()
                .and_then(|b| self.turn.checked_sub(b));
            if let Some(header) = header
                && header.identity == self.identity
                && Some(header.turn) == turn
            {
                held = back + 1;
                first = header.first;
            }
        }
        let (mut next, mut acknowledged) = (self.next, self.acknowledged);
        let (mut free, mut torn) = (FIRST_SLOT, 0);
        for number in FIRST_SLOT..SLOTS {
            let Some(slot) = slot_at(bytes, self.sector, number) else {
                continue;
            };
            if slot == [0xFF; SLOT] {
                continue;
            }
            free = number + 1;
            if let Some(entry) = Entry::from_slot(slot) {
                next = next.max(entry.sequence.saturating_add(1));
            } else if let Some(mark) = slot::marked(slot) {
                acknowledged = acknowledged.max(mark);
            } else {
                torn += 1;
            }
        }
        // Only what was fetched is ever erased.
        acknowledged = acknowledged.max(first.saturating_sub(1));
        self.held = held;
        self.slot = free;
        self.torn = torn;
        self.next = next.max(acknowledged.saturating_add(1));
        self.acknowledged = acknowledged;
        self.marked = acknowledged;
        let begins = |entry: &Entry| matches!(entry.noted, Noted::Begun { .. });
        self.begun = self.from(0).filter(begins).map(|e| e.sequence).last();
    }

    /// The sector so many before the one being filled.
    fn back(&self, by: usize) -> usize {
        match self.sector.checked_sub(by) {
            Some(sector) => sector,
            None => (self.sector + self.sectors).saturating_sub(by),
        }
    }

    /// Notes something. When this gives its number it is on the flash, and
    /// stays there until it is fetched.
    ///
    /// # Errors
    /// If there is no room, or the flash fails. Then it was not noted.
    pub fn append(&mut self, noted: Noted) -> Result<u32, LogError<F::Error>> {
        let sequence = self.next;
        self.write(Entry { sequence, noted }.to_slot())?;
        self.next = self.next.saturating_add(1);
        if matches!(noted, Noted::Begun { .. }) {
            self.begun = Some(sequence);
        }
        Ok(sequence)
    }

    /// Writes the next slot, passing over those that do not keep it.
    fn write(&mut self, slot: [u8; SLOT]) -> Result<(), LogError<F::Error>> {
        for _ in 0..TRIES {
            if self.slot >= SLOTS {
                self.begin_sector()?;
            }
            let at = self.sector * SECTOR + self.slot * SLOT;
            // Whatever becomes of it, this slot is not written again.
            self.slot += 1;
            let (body, seal) = slot.split_at(slot::BODY);
            self.flash.program(at, body)?;
            self.flash.program(at + slot::BODY, seal)?;
            if array(self.flash.bytes(), at) == Some(slot) {
                return Ok(());
            }
            self.torn = self.torn.saturating_add(1);
        }
        Err(LogError::WornOut)
    }

    /// Goes on in the next sector of the ring.
    fn begin_sector(&mut self) -> Result<(), LogError<F::Error>> {
        let next = self.sector + 1;
        let sector = if next < self.sectors { next } else { 0 };
        let acknowledged = self.acknowledged;
        if self.held >= self.sectors {
            let kept = |entry: Entry| entry.sequence > acknowledged;
            if entries(self.flash.bytes(), sector).any(kept) {
                return Err(LogError::Full);
            }
            self.held = self.sectors - 1;
        }
        let at = sector * SECTOR;
        if Header::read(self.flash.bytes(), sector).is_some() {
            cell::void(&mut self.flash, at)?;
        }
        self.flash.erase(at)?;
        let header = Header {
            identity: self.identity,
            turn: self.turn.saturating_add(1),
            first: self.next,
            acknowledged,
        };
        if !cell::write(&mut self.flash, at, &header.to_body())? {
            return Err(LogError::WornOut);
        }
        self.sector = sector;
        self.turn = header.turn;
        self.slot = FIRST_SLOT;
        self.held += 1;
        self.marked = acknowledged;
        Ok(())
    }

    /// The host has everything up to this number on its own disk: it may be
    /// forgotten when room is needed. Saying it again does nothing.
    ///
    /// # Errors
    /// If the flash fails. The host will say it again.
    pub fn acknowledge(&mut self, up_to: u32) -> Result<(), LogError<F::Error>> {
        let up_to = up_to.min(self.newest());
        self.acknowledged = self.acknowledged.max(up_to);
        // Each mark takes a slot, so one is made when all is fetched; what is
        // fetched in part, the host says again.
        if self.acknowledged == self.newest() && self.marked < self.acknowledged {
            self.write(slot::mark(self.acknowledged))?;
            self.marked = self.acknowledged;
        }
        Ok(())
    }

    /// The name this log was begun under.
    #[must_use]
    pub fn identity(&self) -> u32 {
        self.identity
    }

    /// The number of the last note; 0 if nothing was noted yet.
    #[must_use]
    pub fn newest(&self) -> u32 {
        self.next.saturating_sub(1)
    }

    /// The notes up to this one were fetched.
    #[must_use]
    pub fn acknowledged(&self) -> u32 {
        self.acknowledged
    }

    /// How many notes were not fetched yet.
    #[must_use]
    pub fn unfetched(&self) -> u32 {
        self.newest().saturating_sub(self.acknowledged)
    }

    /// How many notes there is certainly room for.
    #[must_use]
    pub fn room(&self) -> usize {
        let bytes = self.flash.bytes();
        let fetched = (0..self.held.saturating_sub(1))
            .rev()
            .map(|back| self.back(back + 1))
            .take_while(|&s| entries(bytes, s).all(|e| e.sequence <= self.acknowledged))
            .count();
        let sectors = self.sectors - self.held + fetched;
        SLOTS.saturating_sub(self.slot) + sectors * NOTES_PER_SECTOR
    }

    /// How many slots of the sector being filled were cut short or did not keep
    /// what was written. They are passed over.
    #[must_use]
    pub fn torn(&self) -> u32 {
        self.torn
    }

    /// The notes from this number on, oldest first, those fetched but still
    /// there among them. A number that is left out was damaged on the flash.
    pub fn from(&self, sequence: u32) -> impl Iterator<Item = Entry> + '_ {
        let bytes = self.flash.bytes();
        // A sector is passed over if the one after it begins early enough.
        let oldest = (1..self.held)
            .find(|&back| {
                let header = Header::read(bytes, self.back(back - 1));
                header.is_some_and(|h| h.first <= sequence)
            })
            .map_or(self.held, |back| back);
        (0..oldest)
            .rev()
            .flat_map(move |back| entries(bytes, self.back(back)))
            .filter(move |entry| entry.sequence >= sequence)
    }

    /// The number under which the last piece was begun, as far as it is still
    /// known.
    #[must_use]
    pub fn begun(&self) -> Option<u32> {
        self.begun
    }

    /// The last piece begun and what was noted since: played back, they bring
    /// the bench to where it was.
    pub fn last_piece(&self) -> impl Iterator<Item = Entry> + '_ {
        self.from(self.begun.unwrap_or(u32::MAX))
    }
}

fn slot_at(bytes: &[u8], sector: usize, number: usize) -> Option<[u8; SLOT]> {
    array(bytes, sector * SECTOR + number * SLOT)
}

/// The notes in a sector, in order.
fn entries(bytes: &[u8], sector: usize) -> impl Iterator<Item = Entry> + '_ {
    (FIRST_SLOT..SLOTS).filter_map(move |number| Entry::from_slot(slot_at(bytes, sector, number)?))
}
