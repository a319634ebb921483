//! The bench screen in a terminal, with the keyboard for its four keys.

use super::held::{BenchError, Held};
use super::picture::Picture;
use crossterm::event::{self, Event as Input, KeyCode, KeyEvent, KeyEventKind, KeyModifiers};
use crossterm::{cursor, execute, queue, terminal};
use std::io::{self, Write};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};
use tellmark_core::bench::canvas::{HEIGHT, WIDTH};
use tellmark_core::bench::keys::{Event, Key};

/// Why it ended before the user did.
#[derive(Debug)]
pub enum Stop {
    /// The terminal.
    Terminal(io::Error),
    /// The job.
    Job(BenchError),
}

impl From<io::Error> for Stop {
    fn from(error: io::Error) -> Self {
        Self::Terminal(error)
    }
}

/// How long nothing is pressed before the picture is looked at again.
const WAIT: Duration = Duration::from_millis(100);

/// What the keys are called below the picture.
const HELP: &str = "keys 1 2 3 4 from the left, or arrows and Enter, Esc; h home; q ends";

/// Runs it until the user ends it, or the system does. Whatever happens, the
/// terminal is as it was when this returns, or panics.
///
/// # Errors
/// See [`Stop`].
pub fn run(held: &mut Held<'_>) -> Result<(), Stop> {
    let mut out = io::stdout();
    let told_to_end = told_to_end()?;
    let _borrowed = Borrowed::take(&mut out)?;
    let mut repeats = Repeats::default();
    let begun = Instant::now();
    let mut changed = true;
    while !told_to_end.load(Ordering::Relaxed) {
        let now = u32::try_from(begun.elapsed().as_millis() & 0xffff_ffff).unwrap_or(0);
        changed |= held.bench.tick(now);
        if changed {
            draw(held, &mut out)?;
            changed = false;
        }
        // Between keys, a little work at a time.
        let wait = if held.bench.idle() {
            changed = true;
            Duration::ZERO
        } else {
            WAIT
        };
        if !event::poll(wait)? {
            continue;
        }
        match event::read()? {
            Input::Key(key) if key.kind != KeyEventKind::Release => match pressed(key) {
                Some(Pressed::End) => return Ok(()),
                Some(Pressed::Key(key)) => {
                    let event = repeats.event(key, Instant::now());
                    let now = jiff::ZonedDateTime::now().datetime();
                    held.press(event, now).map_err(Stop::Job)?;
                    changed = true;
                }
                Some(Pressed::Home) => {
                    let now = jiff::ZonedDateTime::now().datetime();
                    let home = Event::Again(Key::Fourth, 1);
                    held.press(home, now).map_err(Stop::Job)?;
                    changed = true;
                }
                None => {}
            },
            Input::Resize(..) => changed = true,
            _ => {}
        }
    }
    Ok(())
}

/// Set when the system asks the program to end, or the terminal is gone.
fn told_to_end() -> io::Result<Arc<AtomicBool>> {
    let told = Arc::new(AtomicBool::new(false));
    #[cfg(unix)]
    for signal in [signal_hook::consts::SIGTERM, signal_hook::consts::SIGHUP] {
        signal_hook::flag::register(signal, Arc::clone(&told))?;
    }
    Ok(told)
}

enum Pressed {
    Key(Key),
    Home,
    End,
}

/// What a key of the keyboard stands for.
fn pressed(key: KeyEvent) -> Option<Pressed> {
    if key.modifiers.contains(KeyModifiers::CONTROL) {
        return match key.code {
            KeyCode::Char('c' | 'd' | 'q') => Some(Pressed::End),
            _ => None,
        };
    }
    Some(match key.code {
        KeyCode::Char('1' | 'y' | '+') | KeyCode::Up => Pressed::Key(Key::First),
        KeyCode::Char('2' | 'n' | '-') | KeyCode::Down => Pressed::Key(Key::Second),
        KeyCode::Char('3' | ' ') | KeyCode::Enter | KeyCode::Right => Pressed::Key(Key::Third),
        KeyCode::Char('4') | KeyCode::Esc | KeyCode::Backspace | KeyCode::Left => {
            Pressed::Key(Key::Fourth)
        }
        KeyCode::Char('h') | KeyCode::Home => Pressed::Home,
        KeyCode::Char('q') => Pressed::End,
        _ => return None,
    })
}

/// A key that comes again sooner than this is kept down: no finger is so quick.
const SOON: Duration = Duration::from_millis(60);

/// Tells a key that is kept down from one that is pressed again, which a
/// terminal does not.
#[derive(Default)]
struct Repeats {
    last: Option<(Key, Instant, u16)>,
}

impl Repeats {
    fn event(&mut self, key: Key, now: Instant) -> Event {
        let times = match self.last {
            Some((last, then, times)) if last == key && now - then < SOON => {
                times.saturating_add(1)
            }
            _ => 0,
        };
        self.last = Some((key, now, times));
        match times {
            0 => Event::Press(key),
            times => Event::Again(key, times),
        }
    }
}

/// Draws the picture as large as the terminal has room for.
fn draw(held: &Held<'_>, out: &mut io::Stdout) -> io::Result<()> {
    let mut picture = Picture::default();
    match held.bench.draw(&mut picture) {
        Ok(()) => {}
        Err(never) => match never {},
    }
    let (columns, rows) = terminal::size()?;
    let (width, height) = (WIDTH.unsigned_abs(), HEIGHT.unsigned_abs());
    let half_blocks = u32::from(columns) >= width && u32::from(rows) > height / 2;
    let lines = if half_blocks {
        picture.half_blocks()
    } else {
        picture.braille()
    };
    queue!(out, terminal::BeginSynchronizedUpdate)?;
    for (row, line) in (0..rows).zip(lines.iter().map(String::as_str).chain([HELP])) {
        let shown: String = line.chars().take(usize::from(columns)).collect();
        queue!(
            out,
            cursor::MoveTo(0, row),
            terminal::Clear(terminal::ClearType::UntilNewLine)
        )?;
        write!(out, "{shown}")?;
    }
    queue!(
        out,
        terminal::Clear(terminal::ClearType::FromCursorDown),
        terminal::EndSynchronizedUpdate
    )?;
    out.flush()
}

/// The terminal while it is ours; given back when this goes, on a panic too.
struct Borrowed;

impl Borrowed {
    fn take(out: &mut io::Stdout) -> io::Result<Self> {
        terminal::enable_raw_mode()?;
        let borrowed = Self;
        execute!(out, terminal::EnterAlternateScreen, cursor::Hide)?;
        Ok(borrowed)
    }
}

impl Drop for Borrowed {
    fn drop(&mut self) {
        // Nothing more can be done for a terminal that is gone.
        let _ = execute!(io::stdout(), terminal::LeaveAlternateScreen, cursor::Show);
        let _ = terminal::disable_raw_mode();
    }
}
