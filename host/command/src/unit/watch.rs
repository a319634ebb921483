//! `tellmark unit watch`

use super::super::exit::{Exit, Stopped};
use super::super::frame::Frame;
use super::super::open_job::{built_rules, internal};
use super::Which;
use super::rules::of_pack;
use clap::Args;
use serde_json::json;
use tellmark_core::record::Noted;
use tellmark_device::bench::Room;
use tellmark_device::unit::{Bench, LinkError, Size};

/// Show what is noted at the bench as it comes; nothing is taken off the unit
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark unit watch\n\nIt begins with what was noted about the \
                  piece so far, and ends when the unit is unplugged or Control-C is pressed. With \
                  --json there is one JSON value a line."
)]
pub struct Watch {
    #[command(flatten)]
    which: Which,
}

/// Milliseconds between two looks.
const PAUSE: u64 = 200;

impl Watch {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut line = self.which.line()?;
        let own = match line.greet()?.pack {
            Some(pack) => of_pack(pack, frame)?,
            None => None,
        };
        let checked = match own {
            Some(checked) => checked,
            None => frame.ready()?,
        };
        let built = built_rules(&checked, frame)?;
        let mut room = Room::default();
        let mut bench = Bench::new(&checked.reading.model, built, &mut room).map_err(internal)?;
        let mut size = Size::of_notes();
        let head = line.notes(u32::MAX, &mut size)?;
        let mut from = head.begun.unwrap_or(head.newest.saturating_add(1));
        loop {
            let notes = match line.notes(from, &mut size) {
                Ok(notes) => notes,
                Err(LinkError::Port(_)) => {
                    writeln!(frame.err, "The unit was unplugged.")?;
                    return Ok(Exit::Fine);
                }
                Err(trouble) => return Err(trouble.into()),
            };
            for entry in &notes.entries {
                from = entry.sequence.saturating_add(1);
                let said = bench.plainly(entry.noted);
                if frame.global.json {
                    let value = json!({ "note": entry.sequence, "said": said });
                    writeln!(frame.out, "{value}")?;
                } else if !matches!(entry.noted, Noted::Begun { .. } | Noted::Parts { .. }) {
                    writeln!(frame.out, "{:5}  {said}", entry.sequence)?;
                }
            }
            frame.out.flush()?;
            if notes.entries.is_empty() {
                // If the unit is gone, the next question says so.
                let _ = line.rest(PAUSE);
            }
        }
    }
}
