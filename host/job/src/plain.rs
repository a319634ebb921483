//! Files of plain text, and what to say when they cannot be read or written.

use std::fs;
use std::io::{self, Write as _};
use std::path::Path;

/// Why a file could not be read or written: "the disk is full", "it is not
/// there". What has no plain word is passed on as the system said it.
#[must_use]
pub fn io_reason(error: &io::Error) -> String {
    let plain = match error.kind() {
        io::ErrorKind::NotFound => "it is not there",
        io::ErrorKind::PermissionDenied => "it is not allowed",
        io::ErrorKind::AlreadyExists => "it is there already",
        io::ErrorKind::StorageFull => "the disk is full",
        io::ErrorKind::QuotaExceeded => "no more room is allowed here",
        io::ErrorKind::ReadOnlyFilesystem => "the disk can only be read",
        io::ErrorKind::IsADirectory => "it is a folder, not a file",
        io::ErrorKind::NotADirectory => "a file stands where a folder should be",
        io::ErrorKind::InvalidData => "it is not plain text (UTF-8)",
        _ => return error.to_string(),
    };
    plain.to_owned()
}

/// The bytes of a file that is a file: not of a folder, and not of a device or
/// pipe that never ends.
pub fn read(path: &Path) -> io::Result<Vec<u8>> {
    // Asked before opening: opening a pipe waits for its other end.
    let what = fs::metadata(path)?;
    if what.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    if !what.is_file() {
        return Err(io::Error::other("it is not a file"));
    }
    fs::read(path)
}

/// As [`read`], as text.
pub fn read_text(path: &Path) -> io::Result<String> {
    String::from_utf8(read(path)?).map_err(|_| io::ErrorKind::InvalidData.into())
}

/// Writes a file so that it is there whole or as it was before.
pub fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut beside = path.as_os_str().to_owned();
    beside.push(".unfinished");
    let written = fs::File::create(&beside)
        .and_then(|mut file| {
            file.write_all(bytes)?;
            file.sync_all()
        })
        .and_then(|()| fs::rename(&beside, path));
    if written.is_err() {
        // Why it failed is worth more to the user than what tidying says.
        let _ = fs::remove_file(&beside);
    }
    written
}
