//! The unit at work: the bench screen with its keys and display, the log under it,
//! and the link to the host.

use core::mem::MaybeUninit;
use core::ptr::addr_of_mut;

use tellmark_core::bench::keys::Event as Key;
use tellmark_core::bench::{self, Bench};
use tellmark_core::link::{Event, UnitLink};
use tellmark_core::log::{Log, PackStore};
use tellmark_core::number::UFloat;
use tellmark_core::pack::{CHECKSUM, Pack};
use tellmark_core::record::Noted;

use crate::board::Board;
use crate::flash::{self, Flash};
use crate::map::{self, Stretch};
use crate::room::Room;
use crate::{cable, fault, keys, notice};

/// The pack of the standard rules, in use until the house sends its own.
#[unsafe(link_section = ".pack")]
#[used]
static STANDARD: Aligned<{ include_bytes!(concat!(env!("OUT_DIR"), "/standard.pack")).len() }> =
    Aligned(*include_bytes!(concat!(env!("OUT_DIR"), "/standard.pack")));

/// Bytes on the boundary that a pack needs.
#[repr(C, align(4))]
struct Aligned<const N: usize>([u8; N]);

/// The firmware's version.
const VERSION: [u8; 3] = [
    number(env!("CARGO_PKG_VERSION_MAJOR")),
    number(env!("CARGO_PKG_VERSION_MINOR")),
    number(env!("CARGO_PKG_VERSION_PATCH")),
];

/// Most that one key can come to in the record.
const MOST_NOTES: usize = 8;
/// Milliseconds between looks at the time while somebody is at work: what the bench
/// said last is over after a while, and long titles turn.
const BEAT: u32 = 400;
/// Milliseconds since the last key for which somebody is at work.
const AT_WORK: u32 = 20_000;
/// Milliseconds without a key after which the display is made dark, to spare it.
const PATIENCE: u32 = 3 * 60 * 1_000;
/// Milliseconds after which nobody is at the other end of the cable.
const SILENCE: u32 = 5_000;
/// Milliseconds that it may sleep: the watchdog waits for eight seconds.
const NAP: u32 = 4_000;

const FULL: [&str; 6] = [
    "THE RECORD IS FULL.",
    "Nothing is lost.",
    "Plug the unit in and",
    "fetch the record:",
    "tellmark unit fetch",
    "Then it goes on.",
];
const WORN: [&str; 6] = [
    "THE FLASH IS WORN OUT",
    "and keeps nothing",
    "new. What was keyed",
    "so far is safe: fetch",
    "it, then use another",
    "unit.",
];

const UNREADABLE: [&str; 4] = [
    "THE RULES ON THE UNIT",
    "cannot be read. Put",
    "the program on it",
    "again.",
];

/// A decimal number below 256.
const fn number(text: &str) -> u8 {
    let mut value = 0_u8;
    let mut rest = text.as_bytes();
    while let [digit, after @ ..] = rest {
        value = value.wrapping_mul(10).wrapping_add(*digit - b'0');
        rest = after;
    }
    value
}

/// What takes the bench screen's place.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Instead {
    Nothing,
    /// There is no room for more notes.
    Full,
    /// The flash does not keep them.
    Worn,
}

/// The unit at work.
pub struct Unit {
    board: Board,
    log: Log<Flash>,
    packs: PackStore<Flash>,
    link: UnitLink,
    bench: Bench<'static, 'static, UFloat>,
    /// Notes that there is certainly room for.
    room: usize,
    instead: Instead,
    /// When a key was last pressed, and when the host last spoke.
    touched: u32,
    heard: Option<u32>,
    dark: bool,
}

impl Unit {
    /// Starts everything, in the memory that is lent, and takes up the work where
    /// the record left it.
    pub fn start(
        unit: &'static mut MaybeUninit<Self>,
        room: &'static mut Room,
    ) -> &'static mut Self {
        let pack = Self::make_all_but_bench(unit);
        // SAFETY: `make_all_but_bench` has written every other field.
        let unit = unsafe {
            addr_of_mut!((*unit.as_mut_ptr()).bench).write(room.bench(pack));
            unit.assume_init_mut()
        };
        unit.take_up();
        unit
    }

    /// Writes every field but the bench, which is for the pack that is given back. What
    /// that takes of the stack is free again afterwards.
    #[inline(never)]
    fn make_all_but_bench(unit: &mut MaybeUninit<Self>) -> Pack<'static> {
        let Some(mut board) = Board::start() else {
            fault::restart()
        };
        let number = flash::number();
        let log = Log::open(Flash::new(map::log()), fresh(&mut board, number));
        let packs = PackStore::open(Flash::new(map::slots()));
        let (Ok(log), Ok(packs)) = (log, packs) else {
            halt(board, &WORN)
        };
        let own = packs.current().map(|held| Stretch {
            start: map::slots().start + held.at as u32,
            length: held.length as u32,
        });
        let bytes = own.map_or(&STANDARD.0[..], flash::bytes);
        let Ok(pack) = Pack::open(bytes) else {
            halt(board, &UNREADABLE)
        };
        let built_in = Pack::open(&STANDARD.0).map_or(0, |pack| pack.id());
        let place = unit.as_mut_ptr();
        let (link, log_room) = (
            UnitLink::new(number, VERSION).with_built_in(built_in),
            log.room(),
        );
        let touched = board.clock.now();
        // Field by field: all together would stand on the stack first.
        // SAFETY: `place` is memory for a `Self` that nobody else has.
        unsafe {
            addr_of_mut!((*place).link).write(link);
            addr_of_mut!((*place).room).write(log_room);
            addr_of_mut!((*place).touched).write(touched);
            addr_of_mut!((*place).board).write(board);
            addr_of_mut!((*place).log).write(log);
            addr_of_mut!((*place).packs).write(packs);
            addr_of_mut!((*place).instead).write(Instead::Nothing);
            addr_of_mut!((*place).heard).write(None);
            addr_of_mut!((*place).dark).write(false);
        }
        pack
    }

    #[inline(never)]
    fn take_up(&mut self) {
        for entry in self.log.last_piece() {
            // What was noted under other rules than these has been fetched, or
            // will be; it has no place on this bench.
            let _ = self.bench.play(entry.noted);
        }
        self.bench.take_up();
    }

    /// Works for ever.
    pub fn run(&mut self) -> ! {
        let mut stale = true;
        loop {
            self.board.watchdog.feed();
            while let Some(key) = keys::next() {
                stale |= self.press(key);
            }
            while let Some(byte) = cable::next() {
                stale |= self.hear(byte);
            }
            stale |= self.look_round();
            if stale {
                self.draw();
                stale = false;
                continue;
            }
            stale = self.instead == Instead::Nothing && self.bench.idle();
            if !stale {
                self.sleep();
            }
        }
    }

    /// Takes a key; whether the picture changes.
    fn press(&mut self, key: Key) -> bool {
        self.touched = self.board.clock.now();
        if self.dark {
            self.dark = false;
            self.board.display.light(true);
            return true;
        }
        if self.room < MOST_NOTES {
            self.room = self.log.room();
        }
        if self.room < MOST_NOTES && self.instead == Instead::Nothing {
            self.instead = Instead::Full;
        }
        if self.instead != Instead::Nothing {
            return true;
        }
        let (log, room) = (&mut self.log, &mut self.room);
        let mut kept = true;
        self.bench.press(key, &mut |noted: Noted| {
            kept &= log.append(noted).is_ok();
            *room = room.saturating_sub(1);
        });
        if !kept {
            self.instead = Instead::Worn;
        }
        true
    }

    /// Takes a byte from the host; whether the picture changes.
    fn hear(&mut self, byte: u8) -> bool {
        let Some(said) = self.link.receive(byte, &mut self.log, &mut self.packs) else {
            return false;
        };
        self.board.cable.send(said.bytes);
        let event = said.event;
        self.heard = Some(self.board.clock.now());
        match event {
            // The bench reads the former pack in place.
            Some(Event::PackChanged(_)) => {
                self.board.cable.finish();
                fault::restart()
            }
            Some(Event::Fetched { .. }) => {
                self.room = self.log.room();
                if self.instead == Instead::Full {
                    self.instead = Instead::Nothing;
                    return true;
                }
                false
            }
            None => false,
        }
    }

    /// Sees to what only time brings; whether the picture changes.
    fn look_round(&mut self) -> bool {
        let now = self.board.clock.now();
        let connected = self.heard.is_some_and(|at| now.wrapping_sub(at) < SILENCE);
        let told = self.bench.tell(bench::Cable {
            connected,
            waiting: self.log.unfetched(),
        });
        if !self.dark && now.wrapping_sub(self.touched) >= PATIENCE {
            self.dark = true;
            self.board.display.light(false);
        }
        self.bench.tick(now) | told
    }

    fn draw(&mut self) {
        let display = &mut self.board.display;
        match self.instead {
            // The frame is memory, which takes everything.
            Instead::Nothing => drop(self.bench.draw(&mut display.frame)),
            Instead::Full => notice::draw(&mut display.frame, &FULL),
            Instead::Worn => notice::draw(&mut display.frame, &WORN),
        }
        let seen = display.show();
        self.board.show_light(!seen);
    }

    /// Sleeps until there is something to do.
    fn sleep(&mut self) {
        let now = self.board.clock.now();
        let at_work = now.wrapping_sub(self.touched) < AT_WORK;
        let nap = if at_work { BEAT } else { NAP };
        self.board.clock.wake_after(nap);
        critical_section::with(|cs| {
            if !keys::waiting(cs) && !cable::waiting(cs) {
                // Interrupts are held off, but one that comes still wakes it.
                cortex_m::asm::wfi();
            }
        });
    }
}

/// A name for a log that no other has: from the chip's own number and chance.
#[inline(never)]
fn fresh(board: &mut Board, number: [u8; 8]) -> u32 {
    let mut digest = CHECKSUM.digest();
    digest.update(&number);
    for _ in 0..8 {
        let bits = (0..8).fold(0, |bits, _| {
            bits << 1 | u8::from(board.chance.get_random_bit())
        });
        digest.update(&[bits]);
    }
    digest.finalize()
}

/// Shows why it cannot work, and stays.
fn halt(mut board: Board, lines: &[&str]) -> ! {
    notice::draw(&mut board.display.frame, lines);
    board.display.show();
    loop {
        board.watchdog.feed();
        board.clock.wake_after(NAP);
        cortex_m::asm::wfi();
    }
}
