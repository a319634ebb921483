//! Drawings in files of their own.

use super::exit::Stopped;
use super::frame::Frame;
use std::path::Path;
use tellmark_job::plain::{self, io_reason};

/// Writes a drawing, over nothing but another drawing.
pub(super) fn write(file: &Path, drawing: &str) -> Result<(), Stopped> {
    if let Ok(text) = plain::read(file)
        && !text.starts_with(b"<svg")
    {
        return Err(Stopped::Misuse(format!(
            "{} is there already, and is no drawing of ours. Choose another name.",
            file.display()
        )));
    }
    plain::write_whole(file, drawing.as_bytes()).map_err(|why| {
        Stopped::Disk(format!(
            "I could not write {}: {}.",
            file.display(),
            io_reason(&why)
        ))
    })
}

/// Says where a drawing is.
pub(super) fn tell(file: Option<&Path>, frame: &mut Frame) -> Result<(), Stopped> {
    if let Some(file) = file {
        writeln!(frame.out, "\nThe drawing is in {}.", file.display())?;
    }
    Ok(())
}
