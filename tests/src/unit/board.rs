//! The unit's side: the real log, store of packs and link, over mock flash.

use super::flash::MockFlash;
use tellmark_core::link::{Event, UnitLink};
use tellmark_core::log::{Log, PackStore};
use tellmark_core::record::Noted;

/// A unit.
pub struct Board {
    /// What was noted.
    pub log: Log<MockFlash>,
    /// Its packs.
    pub packs: PackStore<MockFlash>,
    link: UnitLink,
    /// What the link has told the rest of the unit.
    pub events: Vec<Event>,
}

impl Board {
    /// A unit that was never used.
    #[must_use]
    pub fn new(log: u32) -> Self {
        Self::with(MockFlash::new(8), MockFlash::new(256), log)
    }

    /// A unit with these chips.
    #[must_use]
    pub fn with(log: MockFlash, packs: MockFlash, fresh: u32) -> Self {
        Self {
            log: Log::open(log, fresh).unwrap(),
            packs: PackStore::open(packs).unwrap(),
            link: UnitLink::new(*b"mockunit", [0, 1, 0]),
            events: Vec::new(),
        }
    }

    /// Notes all of these.
    pub fn note(&mut self, all: &[Noted]) {
        for noted in all {
            self.log.append(*noted).unwrap();
        }
    }

    /// Takes bytes from the line and gives back what the unit sends.
    pub fn take(&mut self, bytes: &[u8]) -> Vec<u8> {
        let mut sent = Vec::new();
        for &byte in bytes {
            if let Some(said) = self.link.receive(byte, &mut self.log, &mut self.packs) {
                sent.extend_from_slice(said.bytes);
                self.events.extend(said.event);
            }
        }
        sent
    }
}
