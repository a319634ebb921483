//! Opens a job for a command, and says what of its record is left out.

use super::exit::Stopped;
use super::frame::Frame;
use std::path::Path;
use tellmark_compile::Built;
use tellmark_compile::check::Checked;
use tellmark_core::piece::SetUpError;
use tellmark_job::advice::Progress;
use tellmark_job::open_job::{CannotOpen, JobView, OpenJob};
use tellmark_language::Level;
use tellmark_language::words::some_of;

/// Opens the job in a folder with the rules that the user asked for. Lines of the
/// record that cannot be used are named on the error stream.
pub(super) fn open_job(folder: &Path, frame: &mut Frame) -> Result<OpenJob, Stopped> {
    let rules = frame.ready()?;
    let mut open = match OpenJob::open(folder, rules) {
        Ok(open) => open,
        Err(CannotOpen::RulesHaveErrors(errors)) => return Err(has_errors(errors, frame)),
        Err(why) => return Err(why.into()),
    };
    open.job.write_as(frame.pen()?);
    for unread in open.job.unread() {
        writeln!(frame.err, "{unread}")?;
    }
    for (number, why) in &open.left_out {
        writeln!(frame.err, "Line {number} of the record is left out: {why}")?;
    }
    frame.notices.heed(&open);
    Ok(open)
}

/// What the owner wishes and decided, and what was done. Lines that cannot be used are
/// named on the error stream.
pub(super) fn progress(view: &JobView<'_>, frame: &mut Frame) -> Result<Progress, Stopped> {
    let progress = view.progress().map_err(cannot_set_up)?;
    for told in &progress.not_understood {
        let (line, why) = (told.line, &told.what);
        frame.notices.left_out(line);
        writeln!(frame.err, "Line {line} of the record is left out: {why}")?;
    }
    Ok(progress)
}

/// The rules built, or a word that they have errors.
pub(super) fn built_rules<'c>(checked: &'c Checked, frame: &Frame) -> Result<&'c Built, Stopped> {
    let built = checked.built.as_ref();
    built.ok_or_else(|| has_errors(checked.count(Level::Stop), frame))
}

fn has_errors(errors: usize, frame: &Frame) -> Stopped {
    let rules = frame.rules_argument();
    let errors = u32::try_from(errors).unwrap_or(u32::MAX);
    Stopped::Misuse(format!(
        "These rules have {}, so nothing can be worked out from them. \
         \"tellmark check{rules}\" says what.",
        some_of(errors, "error", "errors")
    ))
}

/// A piece that cannot be kept in hand: it has too much of something.
pub(super) fn cannot_set_up(why: SetUpError) -> Stopped {
    match why {
        SetUpError::TooManyParts | SetUpError::TooManyAnswers => Stopped::Misuse(
            "This piece has more parts, one inside another, than can be reckoned together. Open \
             it with fewer of them, or say in the rules that there are usually fewer."
                .to_owned(),
        ),
        SetUpError::NotAPiece | SetUpError::Count { .. } => internal(why),
    }
}

/// A fault of our own: rules and a job that were read cannot lead to it.
pub(super) fn internal(what: impl std::fmt::Debug) -> Stopped {
    Stopped::Misuse(format!("internal error, please report it: {what:?}"))
}

impl From<CannotOpen> for Stopped {
    fn from(why: CannotOpen) -> Stopped {
        match why {
            CannotOpen::Folder(trouble) => trouble.into(),
            other => Stopped::Misuse(other.to_string()),
        }
    }
}
