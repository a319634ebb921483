//! `tellmark unit send`

use super::super::exit::{Exit, Stopped};
use super::super::frame::Frame;
use super::super::shape::Shape;
use super::{Progress, Which};
use clap::Args;
use serde_json::json;
use std::path::PathBuf;
use tellmark_compile::room::PackBytes;
use tellmark_device::unit::send;
use tellmark_job::plain::{self, io_reason};

/// Send a pack to the bench unit; if it is cut short, sending again goes on
/// where it was
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark build --rules my-rules --out house.pack\n  tellmark unit \
                  send house.pack\n\nThe unit keeps the pack it had until all of the new one is \
                  there and right."
)]
pub struct Send {
    /// The pack, as "tellmark build" wrote it
    #[arg(value_name = "PACK")]
    pack: PathBuf,
    /// Send it even if notes made by the unit's present rules are not fetched
    #[arg(long)]
    anyway: bool,
    #[command(flatten)]
    which: Which,
}

impl Send {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let path = self.pack.display();
        let bytes = plain::read(&self.pack).map_err(|why| {
            Stopped::Disk(format!("I could not read {path}: {}.", io_reason(&why)))
        })?;
        let bytes = PackBytes::new(&bytes);
        let pack = bytes.open().map_err(|why| {
            Stopped::Misuse(format!(
                "{path} is no pack that I can read: {why}. \"tellmark build\" makes one."
            ))
        })?;
        let mut line = self.which.line()?;
        line.greet()?;
        let (progress, length) = (Progress::new(), bytes.bytes().len());
        let sent = send(&mut line, &pack, bytes.bytes(), self.anyway, |there| {
            let text = format!("{there} of {length} bytes");
            progress.show(frame.err, &text);
        });
        progress.end(frame.err);
        let sent = sent?;
        if frame.global.json {
            frame.print_json(
                Shape::UNIT_SEND,
                json!({
                    "pack": format!("{:08x}", pack.id()),
                    "bytes": sent.length,
                    "had_it": sent.had_it,
                    "resumed_at": sent.resumed_at,
                }),
            )?;
        } else if sent.had_it {
            writeln!(frame.out, "The unit goes by {path} already.")?;
        } else {
            let resumed = match sent.resumed_at {
                0 => String::new(),
                n => format!(" The first {n} bytes were there from an earlier time."),
            };
            writeln!(
                frame.out,
                "The unit goes by {path} now: {} bytes.{resumed}",
                sent.length
            )?;
        }
        Ok(Exit::Fine)
    }
}
