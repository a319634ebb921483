//! One of several, chosen by a key where somebody is there.

use super::exit::Stopped;
use super::frame::Frame;
use super::note;
use tellmark_language::ink::Ink;

const STRONG: Ink = Ink::STRONG;

/// Whether somebody can be asked: one is at the keys, and it is not for a program.
pub(super) fn can_ask(frame: &Frame) -> bool {
    note::is_there() && !frame.global.json
}

/// Shows lines with their numbers and waits for one of them; any other key takes none.
pub(super) fn choose(frame: &mut Frame, lines: &[String]) -> Result<Option<usize>, Stopped> {
    for (number, line) in (1..).zip(lines) {
        writeln!(frame.out, "  {STRONG}{number}{STRONG:#}  {line}")?;
    }
    writeln!(frame.out, "A number takes it; any other key notes nothing.")?;
    frame.out.flush()?;
    let number = note::pressed()?.filter(|number| (1..=lines.len()).contains(number));
    Ok(number.map(|number| number - 1))
}
