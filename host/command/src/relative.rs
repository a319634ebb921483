//! Parts that are dated beside what they are built into, with what that rests on.

use super::exit::Stopped;
use super::frame::Frame;
use serde_json::{Value, json};
use tellmark_job::advice::{Dated, RelativeHeld};
use tellmark_job::open_job::JobView;
use tellmark_language::ink::Ink;
use tellmark_language::words::{self, figure};
use tellmark_language::{line_of, text_of};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Prints them, if there are any.
pub(super) fn print(frame: &mut Frame, job: &JobView<'_>, dated: &Dated) -> Result<(), Stopped> {
    if dated.relative.is_empty() {
        return Ok(());
    }
    writeln!(
        frame.out,
        "\n{STRONG}Dated beside what they are built into{STRONG:#}"
    )?;
    for held in &dated.relative {
        for ((part, original), without) in held.parts.iter().zip(&held.without) {
            writeln!(
                frame.out,
                "  {part}: {} original ({}; without it {})",
                words::sureness_word(*original),
                figure(*original),
                figure(*without)
            )?;
        }
        for &from in &held.from {
            let written = job.written(from);
            writeln!(frame.out, "    {}: {}", written.place(), written.text)?;
        }
        let (said, file, line) = sentence(job, held);
        let said = words::quoted(said.trim_end_matches('.'));
        writeln!(
            frame.out,
            "    {FAINT}{said} (line {line} of {file}){FAINT:#}"
        )?;
    }
    Ok(())
}

/// They for programs.
pub(super) fn as_json(job: &JobView<'_>, dated: &Dated) -> Vec<Value> {
    let one = |held: &RelativeHeld| {
        let (said, file, line) = sentence(job, held);
        let parts = held.parts.iter().zip(&held.without);
        let parts = parts.map(|((part, original), without)| {
            json!({ "part": part, "original": original, "without": without })
        });
        let lines = held.from.iter().map(|&from| job.written(from));
        json!({
            "owner": held.owner,
            "parts": parts.collect::<Vec<_>>(),
            "record": lines
                .map(|written| json!({ "line": written.line, "text": written.text }))
                .collect::<Vec<_>>(),
            "sentence": said,
            "file": file,
            "line": line,
        })
    };
    dated.relative.iter().map(one).collect()
}

/// The house's own sentence, and where it stands.
fn sentence(job: &JobView<'_>, held: &RelativeHeld) -> (String, String, usize) {
    let files = &job.open.rules.reading.files;
    let at = job.model().relatives[held.relative].said_at;
    let (file, line) = line_of(files, at);
    (text_of(files, at), file.to_owned(), line)
}
