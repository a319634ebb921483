//! What the machine says went wrong, in plain words.

use std::io;

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
