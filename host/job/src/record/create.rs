//! A new job folder, whole or not at all.

use super::error::JobError;
use super::folder::{HEADER_FILE, Job, RECORD_FILE};
use super::header::Header;
use super::lines::{Pen, Record};
use super::plain_name::{may_be_a_folder, plain_name};
use crate::plain;
use jiff::civil::Date;
use std::fs::{self, File};
use std::io::{self, Write as _};
use std::path::Path;

/// What `README.txt` in every job folder says.
pub const README: &str = "\
How to read this job
====================

This folder is one job: one piece of furniture and everything that was found on
it. All of it is plain text. Any editor opens it, and no program is needed.

job.txt     What the piece is, when the job was opened and under which house
            rules. One \"label: text\" a line. You may add lines of your own,
            such as \"owner: ...\" or \"shelf: ...\".

record.txt  What was found, oldest first: day, time, two spaces, and the finding
            in the words of the house rules. \"+01:00\" behind the time says that
            the clock was an hour before UTC, a name in [] who wrote the line.
            You may add lines at the end, with or without all that. A line that
            begins with # is left alone.
            Lines with a label are no findings, but tell of the work:
              wish: limit:       what the owner wants, and how far it may go
              leave:             a part that must not be touched; why
              agreed: refused:   a job; the parts; what the owner said
              done: not done:    a job; the parts; what it took
              started: stopped:  a job that is being timed; how long it was
              photo:             a file in photos/; the part; before, during or
                                 after; what it shows
              heeded: finished:  a caution that was read at the bench; that the
                                 piece is looked over
              typed:             what was typed for the finding on the line before
              typed for 3:       the same for the three lines before
              estimate: supplement: invoice: credit:
                                 a paper in papers/; its number; the sum of its
                                 bytes; what it says, in short
              answer:            a paper; yes or no; up to what; how it was said
              paid: paid back:   how much; how
              remark: settled:   a part; words that no rule reads, as they were
                                 typed; that such a remark is done with
              waits for: ready:  where the piece stands on the shelf; the day on
              handed back:       which what it waits for is expected
              goes on:
              rules:             whose rules the job goes by from here on

photos/     Photographs, as they were given.

plans/      Plans as they were shown, each with its number.
papers/     Estimates, supplements, invoices and credits, one file each. A paper is
            never changed: what was wrong in it is put right by a later one. The line
            of the record has the sum (CRC-32) of its bytes as it was written.

To put something right, add a new line about the same part; the latest one
counts. The earlier line stays, so that the record shows what was thought when.

A line that ends in \"<cut short here, not read>\" was being written when power
failed or a program was stopped. What there is of it was kept, but nothing goes
by it. The same may be true of a last line with day and time that nothing ends:
if it is whole, press Enter behind it.

bench-unit.txt is there if findings came from a bench unit: what it sent, as it
was sent, so that nothing is written down twice. Leave it as it is.

record.lock is there while a program writes a line. If it stays, it is in nobody's
way. Nor is a file whose name begins with .unfinished, which is what a program that
was stopped left of something it was writing.

set-aside/ is there if a repair found something that it could not place.
";

impl Job {
    /// Makes a new job folder `name` in `parent` and opens it.
    ///
    /// It is made under another name and renamed when all of it is on the disk,
    /// so nobody ever sees half of it.
    ///
    /// # Errors
    /// There is no such folder then.
    pub fn create(parent: &Path, name: &str, header: &Header) -> Result<Job, JobError> {
        if !may_be_a_folder(name) {
            return Err(JobError::Name(name.to_owned()));
        }
        let folder = parent.join(name);
        if !parent.is_dir() {
            return Err(JobError::NoFolder(parent.to_owned()));
        }
        if fs::symlink_metadata(&folder).is_ok() {
            return Err(JobError::Taken(folder));
        }
        let text = header.to_text();
        let header = Header::from_text(&text, &folder.join(HEADER_FILE))?;
        let unfinished = plain::unfinished_in(parent);
        fs::create_dir(&unfinished).map_err(JobError::write(&folder))?;
        let made = fill(&unfinished, text).and_then(|()| {
            fs::rename(&unfinished, &folder).map_err(|why| match why.kind() {
                io::ErrorKind::DirectoryNotEmpty | io::ErrorKind::AlreadyExists => {
                    JobError::Taken(folder.clone())
                }
                _ => JobError::Write {
                    path: folder.clone(),
                    why,
                },
            })?;
            plain::sync_folder(parent).map_err(|why| {
                // Back under the name under which it is taken away.
                let _ = fs::rename(&folder, &unfinished);
                JobError::Write {
                    path: folder.clone(),
                    why,
                }
            })
        });
        if let Err(trouble) = made {
            // The trouble is worth more to the user than what tidying says.
            let _ = fs::remove_dir_all(&unfinished);
            return Err(trouble);
        }
        Ok(Job {
            folder,
            header,
            record: Record::default(),
            pen: Pen::default(),
        })
    }
}

fn fill(folder: &Path, header: String) -> Result<(), JobError> {
    let texts = [
        (HEADER_FILE, header),
        (RECORD_FILE, String::new()),
        ("README.txt", README.to_owned()),
    ];
    for (name, text) in texts {
        let path = folder.join(name);
        File::create_new(&path)
            .and_then(|mut file| {
                file.write_all(text.as_bytes())?;
                file.sync_all()
            })
            .map_err(JobError::write(&path))?;
    }
    plain::sync_folder(folder).map_err(JobError::write(folder))
}

/// A free name for a job folder in `parent`: "chest-of-drawers-2026-11-25",
/// then "chest-of-drawers-2026-11-25-2".
#[must_use]
pub fn folder_name(parent: &Path, piece: &str, day: Date) -> String {
    let stem = plain_name(piece);
    let first = format!("{stem}-{day}");
    let later = (2..).map(|n: u64| format!("{first}-{n}"));
    std::iter::once(first.clone())
        .chain(later)
        .find(|name| fs::symlink_metadata(parent.join(name)).is_err())
        .unwrap_or_default()
}
