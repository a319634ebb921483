//! A job's folder: what the piece is and everything that was found, as plain
//! text that can be read for ever without this tool.
//!
//! # The folder
//!
//! ```text
//! chest-of-drawers-2026-11-25/
//!     job.txt       what the piece is
//!     record.txt    what was found, oldest first
//!     README.txt    how to read the two
//!     photos/       photographs, as they were given
//!     plans/        plans as they were shown, by their numbers
//!     papers/       estimates, supplements, invoices and credits, never changed
//!     bench-unit.txt  what came from a bench unit, as it was sent
//!     set-aside/    what a repair could not place
//! ```
//!
//! `job.txt` holds one `label: text` a line:
//!
//! ```text
//! job folder: 1
//! piece: chest of drawers with 4 drawers
//! opened: 2026-11-25 10:02
//! house rules: the bench at Mill Lane
//! version: 3
//! rules folder: ../our-rules
//! ```
//!
//! `rules folder` is where the rules lie that the job goes by, as seen from its folder.
//! `piece` is what the rule language reads after "Given a". `job folder` is the
//! number of this layout. Labels may stand in any order; those not listed here
//! (an owner's name, a shelf) are kept and left alone.
//!
//! `record.txt` holds one finding a line, with the day and minute in front and
//! the finding in the words of the house's rules. Behind the minute stands how far the clock
//! was before UTC, and then in brackets who wrote the line, if that is known ([`Pen`]);
//! lines without either are read as well. A line with a label is no
//! finding: it tells what the owner wishes and decides, what was done, names a
//! photograph, or keeps what somebody typed as it was typed ([`Says`]).
//!
//! ```text
//! 2026-11-25 10:14+00:00  runner 1 of drawer 2 is worn 3 mm
//! 2026-11-25 10:14+00:00 [A. Joiner]  the left side is bowed
//! 2026-11-25 10:15  the glue blocks cannot be seen
//! 2026-11-25 10:30  leave: the top; the rings are remembered
//! 2026-11-25 10:32  left leaf is sagging
//! 2026-11-25 10:32  typed: l/h leaf sags, creaks like a gate
//! 2026-11-25 10:32  remark: left leaf; creaks like a gate
//! 2026-11-27 16:05  done: wax the runners; drawer 2; 25 minutes
//! # left alone
//! ```
//!
//! # What is promised
//!
//! * Lines are only ever added at the end, in one write, and forced to the disk before
//!   [`Job::append`] returns. A correction is a later line about the same part and sign;
//!   the earlier one stays ([`Findings`]).
//! * What [`Job::append`] added will be read again as what was said; what would not is
//!   refused. If writing fails, what there is of the line is taken back before anybody is
//!   told.
//! * What was typed stands there to the byte, in `typed:` and `remark:`. Neither they nor
//!   `settled:` change what the rules make of a piece.
//! * If power fails while a line is written, at most that line is lost. What
//!   there is of it stays: the next line added ends it with [`CUT_SHORT`], and
//!   it is never read as a finding, since "3 m" may have been going to be
//!   "3 mm".
//! * Editors leave a last line without a newline, too. A line of ours begins with day,
//!   minute and what may stand between these and two spaces, so a last line that does not is whole and is read. One that
//!   does may have been cut short, and is not.
//! * A hand may edit both files. A line that is not understood is reported with
//!   its number ([`Job::unread`]) and stops nothing else. A line without a time
//!   is a finding all the same.
//! * A new folder appears whole or not at all.
//! * Two writers take turns, by the system's lock on a file, which ends with its program.
//! * Nothing in the folder that is a link to another place is read or written
//!   ([`crate::inside`]).

mod create;
mod entry;
mod error;
mod findings;
mod folder;
mod header;
mod lines;
mod lock;
mod paper;
mod papers;
mod parts;
mod photos;
mod plain_name;
mod plans;
mod remarks;
mod repair;
mod series;
mod timing;
mod verbatim;

pub use create::{README, folder_name};
pub use entry::{Decision, Entry, Photo, Remark, Says, Shelf, Stage};
pub use error::JobError;
pub use findings::{Finding, Findings, NotUnderstood, at_odds, puts_right};
pub(crate) use folder::HEADER_FILE;
pub use folder::RECORD_FILE;
pub use folder::{Added, Job, New, piece_name, rules_folder};
pub use header::Header;
pub use lines::{CUT_SHORT, Line, Name, Pen, Unread, When, Why};
pub use paper::{Answer, KeptPaper, PaperKind, PaperName, Payment, checksum};
pub use papers::{IN_SHORT, NewPaper, PAPERS_FOLDER, PaperOnRecord, PaperTrouble, PaperWritten};
pub use parts::{NoSuchPart, has_part};
pub use photos::{Copies, How, Kept, OnRecord, PHOTOS_FOLDER, Said};
pub use plans::{PLANS_FOLDER, ShownPlan, ShownStep};
pub use remarks::Remarked;
pub use repair::{Amiss, Mended, SET_ASIDE};
pub use series::{NoNumber, Numbered, SERIES_FILE};
pub use timing::Running;
