//! Files inside a job's folder, which may have come from a stranger.
//!
//! A name in it may be a link to any other place. Nothing in a job's folder needs to be
//! one, so a link is neither read (its words would stand in the report) nor written.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read as _};
use std::path::Path;

/// Refuses a link to another place.
pub fn refuse_link(path: &Path) -> io::Result<()> {
    if fs::symlink_metadata(path).is_ok_and(|what| what.is_symlink()) {
        return Err(io::Error::other(
            "it is a link to another place, and I follow none. Put the file itself there",
        ));
    }
    Ok(())
}

/// The bytes of a file; not of a link, a folder, or a device or pipe that never ends.
pub fn read(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    open_to_read(path)?.read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// A file to be read.
pub fn open_to_read(path: &Path) -> io::Result<File> {
    open(path, OpenOptions::new().read(true))
}

/// As [`read`], as text.
pub fn read_text(path: &Path) -> io::Result<String> {
    text_of(read(path)?)
}

/// Bytes as text.
pub fn text_of(bytes: Vec<u8>) -> io::Result<String> {
    refuse_utf16(&bytes)?;
    String::from_utf8(bytes).map_err(|_| io::ErrorKind::InvalidData.into())
}

/// Refuses a file that an editor has saved with two bytes for each letter: every line of it
/// would be unreadable, and a line added to it as well.
pub fn refuse_utf16(bytes: &[u8]) -> io::Result<()> {
    if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
        return Err(io::Error::other(
            "it is saved as UTF-16, which some editors call Unicode. Open it in the editor and \
             save it as UTF-8",
        ));
    }
    Ok(())
}

/// A file to be read and added to; made if it is not there.
pub fn open_to_add(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    open(path, options.read(true).append(true).create(true))
}

/// Opens a file that is a file. What is there is looked at before it is opened, since
/// opening a pipe waits for its other end; and again after, since it may be another by
/// then.
fn open(path: &Path, options: &mut OpenOptions) -> io::Result<File> {
    refuse_link(path)?;
    if let Ok(what) = fs::symlink_metadata(path) {
        must_be_a_file(&what)?;
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        options.custom_flags(libc::O_NOFOLLOW | libc::O_NONBLOCK);
    }
    #[cfg(windows)]
    {
        use std::os::windows::fs::OpenOptionsExt as _;
        // FILE_FLAG_OPEN_REPARSE_POINT: a link is opened itself, and refused below.
        options.custom_flags(0x0020_0000);
    }
    let file = options.open(path)?;
    must_be_a_file(&file.metadata()?)?;
    Ok(file)
}

fn must_be_a_file(what: &fs::Metadata) -> io::Result<()> {
    if what.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    if !what.is_file() {
        return Err(io::Error::other("it is not a file"));
    }
    Ok(())
}
