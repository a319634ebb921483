//! `tellmark check`

use super::bounded::Bounded;
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use clap::Args;
use serde_json::json;
use tellmark_compile::check::{Altered, Depth, How, Unnoticed, check, unnoticed};
use tellmark_job::house;
use tellmark_job::scripts;
use tellmark_language::model::{Change, Changed};
use tellmark_language::words::{self, list, some_of};
use tellmark_language::{Level, Message, Reading, SourceFile, Style, line_of, text_of};

/// Say what is wrong with the rules, if anything
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark check --rules my-rules\n  tellmark check --rules my-rules \
                        --tests\n\nExit code 1 if there are errors, or with --tests something \
                        that no example notices."
)]
pub struct Check {
    /// Show small notes too
    #[arg(long)]
    all: bool,
    /// Say which sentences no example notices: each is altered in turn. Your own, or the
    /// standard ones if you have none
    #[arg(long)]
    tests: bool,
}

impl Check {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut checked = check(frame.reading()?, Depth::Full);
        let (said, trouble) = match house::script(frame.rules()?, scripts::CHECKS)? {
            Some(file) => house_checks(frame, &checked.reading, file)?,
            None => (Vec::new(), None),
        };
        checked.reading.messages.extend(said);
        let reading = &checked.reading;
        let read_back = words::read_back(&reading.model);
        let shown = |m: &&Message| self.all || m.level != Level::Note;
        let mut messages: Vec<&Message> = reading.messages.iter().filter(shown).collect();
        messages.sort_by_key(|m| m.level);
        let count = |level| u32::try_from(checked.count(level)).unwrap_or(u32::MAX);
        let mend = count(Level::Stop) + u32::from(trouble.is_some());
        let (look, notes) = (count(Level::Look), count(Level::Note));
        let written = |standard: bool| {
            read_back
                .iter()
                .filter_map(|entry| reading.files.get(usize::from(entry.at?.file.0)))
                .filter(|file| file.standard == standard)
                .count()
        };
        let (standard, own) = (written(true), written(false));
        let altered = (self.tests && mend == 0).then(|| {
            let is_house = reading.files.iter().any(|file| !file.standard);
            let is_wanted = |at| {
                reading
                    .files
                    .file(at)
                    .is_some_and(|f| f.standard != is_house)
            };
            unnoticed(reading, &is_wanted)
        });
        if frame.global.json {
            let messages: Vec<serde_json::Value> = messages
                .iter()
                .map(|m| tellmark_language::record(m, &reading.files))
                .chain(trouble.iter().map(scripts::ScriptError::record))
                .map(serde_json::to_value)
                .collect::<Result<_, _>>()?;
            frame.print_json(
                Shape::CHECK,
                json!({
                    "altered": altered.as_ref().map(|altered| altered_json(reading, altered)),
                    "to_mend": mend,
                    "to_look_at": look,
                    "notes": notes,
                    "sentences": { "standard": standard, "house": own },
                    "changes": changes(reading),
                    "messages": messages,
                }),
            )?;
        } else {
            let (shown, rest) = messages.split_at(messages.len().min(MOST_SHOWN));
            for message in shown {
                let text = tellmark_language::render(message, &reading.files, Style::Colour);
                writeln!(frame.out, "{}\n", text.trim_end())?;
            }
            if let Some(trouble) = &trouble {
                let text = trouble.render(Style::Colour);
                writeln!(frame.out, "{}\n", text.trim_end())?;
            }
            if !rest.is_empty() {
                writeln!(
                    frame.out,
                    "… and {} more. Mend these first, and check again; --json tells all of them.\n",
                    rest.len()
                )?;
            }
            say_changes(frame, reading)?;
            writeln!(frame.out, "{}", summary(mend, look, notes, self.all))?;
            writeln!(
                frame.out,
                "I understood {standard} of the standard sentences and {own} of your own."
            )?;
            match &altered {
                Some(altered) => say_altered(frame, reading, altered)?,
                None if self.tests => {
                    writeln!(frame.out, "No sentence was altered: the errors come first.")?
                }
                None => {}
            }
        }
        let is_unnoticed = altered.is_some_and(|altered| !altered.unnoticed.is_empty());
        Ok(if mend > 0 || is_unnoticed {
            Exit::No
        } else {
            Exit::Fine
        })
    }
}

/// Messages that are shown at once; more of them nobody reads.
const MOST_SHOWN: usize = 100;

/// What of the standard rules the house changes.
fn changed(reading: &Reading) -> Vec<&Change> {
    let is_standard = |at| reading.files.file(at).is_some_and(|file| file.standard);
    let changes = reading.model.changes.iter();
    let mut found: Vec<&Change> = changes.filter(|change| is_standard(change.was)).collect();
    found.sort_by_key(|change| change.now);
    found
}

/// The changes for other programs.
fn changes(reading: &Reading) -> Vec<serde_json::Value> {
    changed(reading)
        .into_iter()
        .map(|change| {
            let (file, line) = line_of(&reading.files, change.now);
            let (was_file, was_line) = line_of(&reading.files, change.was);
            json!({
                "called": change.called,
                "how": match change.how {
                    Changed::LeftOut => "left out",
                    Changed::Instead => "replaced",
                    Changed::Again => "given anew",
                },
                "because": change.because,
                "file": file, "line": line,
                "was_file": was_file, "was_line": was_line,
            })
        })
        .collect()
}

/// The changes, each with what stood there before.
fn say_changes(frame: &mut Frame, reading: &Reading) -> Result<(), Stopped> {
    let mut any = false;
    for change in changed(reading) {
        if !any {
            writeln!(frame.out, "What your rules change in the standard ones:")?;
            any = true;
        }
        let how = match change.how {
            Changed::LeftOut => "leaves out",
            Changed::Instead => "replaces",
            Changed::Again => "gives anew, as far as it says,",
        };
        let (file, line) = line_of(&reading.files, change.now);
        let (was_file, was_line) = line_of(&reading.files, change.was);
        let called = words::quoted(&change.called);
        writeln!(
            frame.out,
            "  {file}, line {line}, {how} {called} ({was_file}, line {was_line}):"
        )?;
        let was = text_of(&reading.files, change.was);
        writeln!(frame.out, "      was: {was}")?;
        if change.how != Changed::LeftOut {
            let now = text_of(&reading.files, change.now);
            writeln!(frame.out, "      now: {now}")?;
        }
    }
    if any {
        writeln!(frame.out)?;
    }
    Ok(())
}

/// What no example notices, sentence by sentence.
fn say_altered(frame: &mut Frame, reading: &Reading, altered: &Altered) -> Result<(), Stopped> {
    let alterations = |n: usize| {
        let n = u32::try_from(n).unwrap_or(u32::MAX);
        some_of(n, "alteration", "alterations")
    };
    let (tried, missed) = (alterations(altered.tried), altered.unnoticed.len());
    let refused = match altered.refused {
        0 => String::new(),
        refused => format!(" ({refused} make rules that are refused)"),
    };
    writeln!(frame.out)?;
    if altered.tried == 0 {
        writeln!(
            frame.out,
            "There is no sentence here that an example could notice."
        )?;
        return Ok(());
    }
    if missed == 0 {
        writeln!(frame.out, "Of {tried}, every one is noticed{refused}.")?;
        return Ok(());
    }
    writeln!(
        frame.out,
        "Of {tried}, {missed} would be noticed by no example{refused}:"
    )?;
    let same = |one: &Unnoticed, next: &Unnoticed| one.at == next.at;
    for sentence in altered.unnoticed.chunk_by(same) {
        let Some(first) = sentence.first() else {
            continue;
        };
        let (file, line) = line_of(&reading.files, first.at);
        writeln!(
            frame.out,
            "  {file}, line {line}: {}",
            text_of(&reading.files, first.at)
        )?;
        let how: Vec<String> = sentence.iter().map(|one| how_said(&one.how)).collect();
        writeln!(frame.out, "      {}", list(&how))?;
    }
    writeln!(
        frame.out,
        "An example that expects what such a sentence brings about, and one that has it just \
         miss, would notice."
    )?;
    Ok(())
}

/// "left out", "\"usually\" made \"often\"".
fn how_said(how: &How) -> String {
    match how {
        How::LeftOut => "left out".to_owned(),
        How::Weaker(word, weaker) => format!("\"{word}\" made \"{weaker}\""),
        How::Moved(mark, moved) => format!("{mark} moved to {moved}"),
        How::Dropped(words) => format!("\"{words}\" dropped"),
    }
}

fn altered_json(reading: &Reading, altered: &Altered) -> serde_json::Value {
    let unnoticed = altered.unnoticed.iter().map(|one| {
        let (file, line) = line_of(&reading.files, one.at);
        json!({
            "file": file,
            "line": line,
            "sentence": text_of(&reading.files, one.at),
            "altered": how_said(&one.how),
        })
    });
    json!({
        "tried": altered.tried,
        "refused": altered.refused,
        "unnoticed": unnoticed.collect::<Vec<_>>(),
    })
}

/// What the house's own checks say, or what is wrong with them.
fn house_checks(
    frame: &mut Frame,
    reading: &Reading,
    file: SourceFile,
) -> Result<(Vec<Message>, Option<scripts::ScriptError>), Stopped> {
    let ran = scripts::checks(reading, &file, &Bounded::here());
    for line in ran.printed {
        writeln!(frame.err, "{}: {line}", scripts::CHECKS)?;
    }
    Ok(match ran.result {
        Ok(said) => (said, None),
        Err(trouble) => (Vec::new(), Some(trouble)),
    })
}

/// "3 errors and 1 thing to look at."
fn summary(errors: u32, look: u32, notes: u32, all: bool) -> String {
    let mut said = Vec::new();
    if errors > 0 {
        said.push(some_of(errors, "error", "errors"));
    }
    if look > 0 {
        let things = some_of(look, "thing", "things");
        said.push(format!("{things} to look at"));
    }
    let notes = match (notes, all) {
        (0, _) | (_, true) => String::new(),
        (n, false) => format!(" ({} with --all.)", some_of(n, "small note", "small notes")),
    };
    if said.is_empty() {
        format!("No errors.{notes}")
    } else {
        format!("{}.{notes}", list(&said))
    }
}
