//! A flash chip that can lose its power at any byte.
//!
//! It refuses, by panicking, what a real chip would not do as meant: a write
//! across a page, a one where there is a zero, an erase off a sector's edge.

use crate::dice::Dice;
use tellmark_core::log::{Flash, PAGE, SECTOR};

/// What a chip says when its power is off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PowerIsOff;

/// When and how power fails.
#[derive(Clone, Debug)]
pub struct Cut {
    /// So many bytes are still changed, in the order of their addresses; the
    /// next one is half changed.
    pub after: u64,
    /// The bytes behind it, of the same write or erase, are half changed too,
    /// as on a chip that works on all of them at once.
    pub all_at_once: bool,
    /// Which bits of a half changed byte are changed.
    pub dice: Dice,
}

/// A chip, or a stretch of one.
#[derive(Clone, Debug)]
pub struct MockFlash {
    words: Vec<u32>,
    cut: Option<Cut>,
    off: bool,
    changed: u64,
    erased: Vec<u32>,
}

impl MockFlash {
    /// A chip that was never used.
    #[must_use]
    pub fn new(sectors: usize) -> Self {
        Self {
            words: vec![u32::MAX; sectors * SECTOR / 4],
            cut: None,
            off: false,
            changed: 0,
            erased: vec![0; sectors],
        }
    }

    /// A chip with something on it.
    #[must_use]
    pub fn with(sectors: usize, mut byte: impl FnMut() -> u8) -> Self {
        let mut flash = Self::new(sectors);
        flash.bytes_mut().fill_with(&mut byte);
        flash
    }

    /// Lets power fail.
    pub fn cut(&mut self, cut: Cut) {
        self.cut = Some(cut);
    }

    /// Power is back; what was on the chip is still there.
    #[must_use]
    pub fn restarted(&self) -> Self {
        Self {
            cut: None,
            off: false,
            ..self.clone()
        }
    }

    /// Whether power has failed.
    #[must_use]
    pub fn is_off(&self) -> bool {
        self.off
    }

    /// How many bytes were programmed or erased so far.
    #[must_use]
    pub fn changed(&self) -> u64 {
        self.changed
    }

    /// How often each sector was erased.
    #[must_use]
    pub fn erased(&self) -> &[u32] {
        &self.erased
    }

    fn bytes_mut(&mut self) -> &mut [u8] {
        bytemuck::cast_slice_mut(&mut self.words)
    }

    /// Changes bytes one after the other, until power fails.
    fn change(&mut self, at: usize, new: &[u8]) -> Result<(), PowerIsOff> {
        let left = self.cut.as_ref().map_or(u64::MAX, |cut| cut.after);
        let whole = usize::try_from(left).map_or(new.len(), |left| left.min(new.len()));
        self.bytes_mut()[at..at + whole].copy_from_slice(&new[..whole]);
        self.changed += whole as u64;
        let Some(cut) = self.cut.as_mut() else {
            return Ok(());
        };
        cut.after -= whole as u64;
        if whole < new.len() {
            let mut dice = cut.dice.clone();
            let half_changed = if cut.all_at_once {
                new.len()
            } else {
                whole + 1
            };
            for (i, &byte) in new.iter().enumerate().take(half_changed).skip(whole) {
                let old = self.bytes()[at + i];
                let mask = dice.roll().to_le_bytes()[0];
                self.bytes_mut()[at + i] = (old & !mask) | (byte & mask);
            }
            self.off = true;
            return Err(PowerIsOff);
        }
        Ok(())
    }
}

impl Flash for MockFlash {
    type Error = PowerIsOff;

    fn bytes(&self) -> &[u8] {
        bytemuck::cast_slice(&self.words)
    }

    fn program(&mut self, at: usize, bytes: &[u8]) -> Result<(), PowerIsOff> {
        if self.off {
            return Err(PowerIsOff);
        }
        assert!(!bytes.is_empty(), "an empty write");
        let last = at + bytes.len() - 1;
        assert_eq!(at / PAGE, last / PAGE, "a write across a page, at {at}");
        for (&old, &new) in self.bytes()[at..].iter().zip(bytes) {
            assert_eq!(old & new, new, "a one where there is a zero, at {at}");
        }
        self.change(at, bytes)
    }

    fn erase(&mut self, at: usize) -> Result<(), PowerIsOff> {
        if self.off {
            return Err(PowerIsOff);
        }
        assert_eq!(at % SECTOR, 0, "an erase off a sector's edge, at {at}");
        self.erased[at / SECTOR] += 1;
        self.change(at, &[0xFF; SECTOR])
    }
}
