//! A line that loses, damages and doubles bytes, with a clock of its own.

use super::board::Board;
use crate::dice::Dice;
use std::collections::VecDeque;
use std::io;
use tellmark_device::unit::Wire;

/// How many of 1,000 bytes a line drops, damages and doubles.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Rates {
    /// Dropped.
    pub dropped: usize,
    /// Damaged.
    pub damaged: usize,
    /// Doubled.
    pub doubled: usize,
}

/// One direction of a line.
#[derive(Clone, Debug)]
pub struct Faults {
    rates: Rates,
    dice: Dice,
}

impl Faults {
    /// A line of this quality.
    #[must_use]
    pub fn new(rates: Rates, seed: u64) -> Self {
        Self {
            rates,
            dice: Dice::new(seed),
        }
    }

    /// Another byte. Whether it is a zero, which ends a frame, does not depend
    /// on the byte it was: so what a line costs does not depend on what is sent.
    fn damage(&mut self, byte: u8) -> u8 {
        let new = match self.dice.below(16) {
            0 => 0,
            _ => u8::try_from(1 + self.dice.below(255)).unwrap_or(1),
        };
        match (new == byte, byte) {
            (false, _) => new,
            (true, 1) => 2,
            (true, _) => 1,
        }
    }

    /// What comes out at the other end.
    pub fn pass(&mut self, bytes: &[u8]) -> Vec<u8> {
        let mut out = Vec::with_capacity(bytes.len());
        let Rates {
            dropped,
            damaged,
            doubled,
        } = self.rates;
        for &byte in bytes {
            let fate = self.dice.below(1000);
            if fate < dropped {
                continue;
            }
            if fate < dropped + damaged {
                out.push(self.damage(byte));
            } else {
                out.push(byte);
                if fate < dropped + damaged + doubled {
                    out.push(byte);
                }
            }
        }
        out
    }
}

/// A line to a unit at 115,200 baud, in memory.
pub struct MemoryWire {
    /// The unit.
    pub board: Board,
    /// Frames and bytes from the host, as it sent them.
    pub sent: Vec<Vec<u8>>,
    /// The line is cut after so many more frames from the host.
    pub frames_left: Option<usize>,
    there: Faults,
    back: Faults,
    coming: VecDeque<u8>,
    microseconds: u64,
}

/// What a byte takes: ten bits at 115,200 a second.
const BYTE: u64 = 87;
/// What the unit takes to answer.
const ANSWER: u64 = 2_000;

impl MemoryWire {
    /// A line of this quality in both directions.
    #[must_use]
    pub fn new(board: Board, rates: Rates, seed: u64) -> Self {
        Self {
            board,
            sent: Vec::new(),
            frames_left: None,
            there: Faults::new(rates, seed),
            back: Faults::new(rates, seed ^ 0xBAC4),
            coming: VecDeque::new(),
            microseconds: 0,
        }
    }
}

impl Wire for MemoryWire {
    fn send(&mut self, bytes: &[u8]) -> io::Result<()> {
        if let Some(left) = &mut self.frames_left {
            *left = left
                .checked_sub(1)
                .ok_or(io::Error::from(io::ErrorKind::UnexpectedEof))?;
        }
        self.sent.push(bytes.to_vec());
        self.microseconds += BYTE * bytes.len() as u64;
        let arrived = self.there.pass(bytes);
        let answer = self.board.take(&arrived);
        if !answer.is_empty() {
            self.microseconds += ANSWER;
        }
        self.coming.extend(self.back.pass(&answer));
        Ok(())
    }

    fn receive(&mut self, into: &mut [u8], until: u64) -> io::Result<usize> {
        let mut number = 0;
        for slot in into {
            let Some(byte) = self.coming.pop_front() else {
                break;
            };
            *slot = byte;
            number += 1;
            self.microseconds += BYTE;
        }
        if number == 0 {
            self.microseconds = self.microseconds.max(until.saturating_mul(1000));
        }
        Ok(number)
    }

    fn now(&self) -> u64 {
        self.microseconds / 1000
    }
}
