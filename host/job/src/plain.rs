//! Files of plain text, and what to say when they cannot be read or written.

use crate::inside;
use std::fs::{self, File};
use std::hash::{BuildHasher as _, RandomState};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Windows' own number for a file that another program has open.
const SHARING_VIOLATION: i32 = 32;
const IN_USE: &str = "another program has it open. Close it there and try again";

/// Why a file could not be read or written: "the disk is full", "it is not
/// there". What has no plain word is passed on as the system said it.
#[must_use]
pub fn io_reason(error: &io::Error) -> String {
    if cfg!(windows) && error.raw_os_error() == Some(SHARING_VIOLATION) {
        return IN_USE.to_owned();
    }
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
    inside::text_of(read(path)?)
}

/// How the names of files begin that are being written. What is left of a program that
/// was stopped half way has such a name.
pub const UNFINISHED: &str = ".unfinished-";

/// A name that nobody can foresee, for something on its way into a folder.
#[must_use]
pub fn unfinished_in(folder: &Path) -> PathBuf {
    // The standard library draws the number at random, to keep its tables from those who
    // would fill them.
    let number = RandomState::new().hash_one(std::process::id());
    folder.join(format!("{UNFINISHED}{number:016x}"))
}

/// A new file in a folder, under a name that nothing had.
pub fn create_unfinished(folder: &Path) -> io::Result<(File, PathBuf)> {
    let path = unfinished_in(folder);
    Ok((File::create_new(&path)?, path))
}

/// Writes a file so that it is there whole or as it was before. A link of that name is
/// not followed. Whoever could read the file still can, and nobody else.
pub fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    inside::refuse_link(path)?;
    let folder = folder_of(path);
    let (mut file, beside) = create_unfinished(folder)?;
    let as_it_was = match fs::symlink_metadata(path) {
        Ok(there) => file.set_permissions(there.permissions()),
        Err(_) => Ok(()),
    };
    let written = as_it_was
        .and_then(|()| file.write_all(bytes))
        .and_then(|()| file.sync_all())
        .and_then(|()| replace(&beside, path))
        .and_then(|()| sync_folder(folder));
    if written.is_err() {
        // Why it failed is worth more to the user than what tidying says.
        let _ = fs::remove_file(&beside);
    }
    written
}

/// Puts a file in the place of another. On Windows that fails while a program has the other
/// open, as a browser or a scanner for viruses has for a moment: then it is tried for a second.
pub fn replace(from: &Path, to: &Path) -> io::Result<()> {
    const PATIENCE: Duration = Duration::from_secs(1);
    const PAUSE: Duration = Duration::from_millis(20);
    let until = Instant::now() + PATIENCE;
    loop {
        match fs::rename(from, to) {
            Err(why) if cfg!(windows) && may_be_in_use(&why) && to.exists() => {
                if Instant::now() >= until {
                    return Err(io::Error::from_raw_os_error(SHARING_VIOLATION));
                }
                std::thread::sleep(PAUSE);
            }
            moved => return moved,
        }
    }
}

fn may_be_in_use(why: &io::Error) -> bool {
    why.kind() == io::ErrorKind::PermissionDenied || why.raw_os_error() == Some(SHARING_VIOLATION)
}

/// The folder that a path lies in.
fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Forces a folder's list of names to the disk. Where the system cannot do that, the
/// files themselves are safe all the same.
pub fn sync_folder(folder: &Path) -> io::Result<()> {
    let cannot = |why: &io::Error| {
        matches!(
            why.kind(),
            io::ErrorKind::PermissionDenied
                | io::ErrorKind::InvalidInput
                | io::ErrorKind::Unsupported
        )
    };
    match File::open(folder).and_then(|folder| folder.sync_all()) {
        Err(why) if cannot(&why) => Ok(()),
        synced => synced,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two at once, as when a report is made twice: either's is there whole, and nothing
    /// else.
    #[test]
    fn several_write_the_same_file_at_once() {
        let folder = unfinished_in(&std::env::temp_dir());
        fs::create_dir(&folder).expect("made");
        let path = folder.join("page.html");
        std::thread::scope(|scope| {
            for letter in ["a", "b", "c", "d"] {
                let (path, text) = (&path, letter.repeat(100_000));
                scope.spawn(move || {
                    for _ in 0..10 {
                        write_whole(path, text.as_bytes()).expect("written");
                    }
                });
            }
        });
        let text = read_text(&path).expect("there");
        let first = text.chars().next().expect("not empty");
        assert_eq!(
            (text.len(), text.matches(first).count()),
            (100_000, 100_000)
        );
        assert_eq!(fs::read_dir(&folder).expect("read").count(), 1);
        fs::remove_dir_all(&folder).expect("removed");
    }

    #[cfg(unix)]
    #[test]
    fn who_may_read_a_file_stays_as_it_was() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = unfinished_in(&std::env::temp_dir());
        fs::create_dir(&folder).expect("made");
        let path = folder.join("record.txt");
        fs::write(&path, "one line").expect("written");
        fs::set_permissions(&path, fs::Permissions::from_mode(0o600)).expect("set");
        write_whole(&path, b"two lines").expect("written");
        let mode = fs::metadata(&path).expect("there").permissions().mode();
        assert_eq!(mode & 0o777, 0o600);
        fs::remove_dir_all(&folder).expect("removed");
    }
}
