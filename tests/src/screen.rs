//! The bench screen for tests: keys as words, pictures as text.

use std::sync::OnceLock;

use tellmark_compile::Built;
use tellmark_compile::check::{Checked, Depth, check};
use tellmark_core::bench::Bench;
use tellmark_core::bench::keys::{Event, Key};
use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::record::Noted;
use tellmark_core::work::Refused;
use tellmark_device::bench::{Command, Picture, Room, read_keys};
use tellmark_job::house::standard;
use tellmark_language::read;

/// The standard rules, built.
///
/// # Panics
/// If they have errors.
#[must_use]
pub fn rules() -> (&'static Checked, &'static Built) {
    static CHECKED: OnceLock<Checked> = OnceLock::new();
    let checked = CHECKED.get_or_init(|| check(read(standard()), Depth::Build));
    (checked, checked.built.as_ref().expect("they are sound"))
}

/// The pack of the standard rules.
///
/// # Panics
/// If it does not open.
#[must_use]
pub fn pack() -> Pack<'static> {
    rules().1.bytes.open().expect("a pack")
}

/// A bench with everything that came out of it.
pub struct Bencher<'m> {
    /// The screen.
    pub bench: Bench<'m, 'm, UFloat>,
    /// What was noted.
    pub record: Vec<Noted>,
    time: u32,
}

impl<'m> Bencher<'m> {
    /// An empty bench.
    #[must_use]
    pub fn new(pack: Pack<'m>, room: &'m mut Room) -> Self {
        Self {
            bench: room.bench(pack),
            record: Vec::new(),
            time: 0,
        }
    }

    /// A bench to which a record was played back.
    ///
    /// # Errors
    /// The first thing that could not be.
    pub fn restored(
        pack: Pack<'m>,
        room: &'m mut Room,
        record: &[Noted],
    ) -> Result<Self, (usize, Refused)> {
        let mut bencher = Self::new(pack, room);
        for (at, noted) in record.iter().enumerate() {
            bencher.bench.play(*noted).map_err(|why| (at, why))?;
        }
        bencher.record = record.to_vec();
        bencher.bench.take_up();
        Ok(bencher)
    }

    /// One key.
    pub fn press(&mut self, event: Event) {
        let record = &mut self.record;
        self.bench.press(event, &mut |noted| record.push(noted));
    }

    /// Keys as `--keys` takes them; two seconds pass before each word.
    ///
    /// # Panics
    /// If a word is no key.
    pub fn keys(&mut self, script: &str) -> &mut Self {
        self.time += 2_000;
        self.bench.tick(self.time);
        for command in read_keys(script).expect("keys") {
            match command {
                Command::Key(event) => self.press(event),
                Command::Picture => while self.bench.idle() {},
            }
        }
        self
    }

    /// Keeps the fourth key down.
    pub fn home(&mut self) -> &mut Self {
        self.press(Event::Press(Key::Fourth));
        self.press(Event::Again(Key::Fourth, 1));
        self
    }

    /// The picture.
    #[must_use]
    pub fn picture(&self) -> Picture {
        let mut picture = Picture::default();
        match self.bench.draw(&mut picture) {
            Ok(()) => picture,
            Err(never) => match never {},
        }
    }

    /// The picture as text, two dots to a character, in a frame.
    #[must_use]
    pub fn art(&self) -> String {
        let lines = self.picture().half_blocks();
        let edge = "-".repeat(lines.first().map_or(0, |line| line.chars().count()));
        let mut art = format!("+{edge}+\n");
        for line in lines {
            art.push_str(&format!("|{line}|\n"));
        }
        art.push_str(&format!("+{edge}+"));
        art
    }
}
