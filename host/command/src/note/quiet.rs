//! `tellmark note JOB`: a quiet place to work, a line a note.

use super::super::exit::{Exit, Stopped};
use super::super::frame::{Colour, Frame};
use super::super::next;
use super::told::Told;
use super::{is_a_note, key, note, print_sayables};
use rustyline::completion::Completer;
use rustyline::error::ReadlineError;
use rustyline::highlight::Highlighter;
use rustyline::hint::{Hint, Hinter};
use rustyline::history::DefaultHistory;
use rustyline::validate::Validator;
use rustyline::{CompletionType, Config, Context, Editor, Helper};
use std::cell::RefCell;
use std::path::Path;
use std::rc::Rc;
use tellmark_compile::check::Checked;
use tellmark_job::noting::Noting;
use tellmark_job::record::Job;
use tellmark_language::ink::Ink;
use tellmark_language::model::Model;
use tellmark_language::words::{fact_sentence, list, part_name, some_of};
use tellmark_notes::What;

const FAINT: Ink = Ink::FAINT;

/// What can be typed beside notes.
const HELP: &str = "A part by itself is in hand from then on: \"drawer 2\". ? says what can be \
                    said of it, Tab finishes a word, the up arrow brings back a line.\nundo takes \
                    the last note back, next says what to look at, an empty line with Ctrl-D ends \
                    it.";

/// Runs it until somebody has enough.
pub(super) fn run(folder: &Path, frame: &mut Frame) -> Result<Exit, Stopped> {
    let mut job = frame.job(folder)?;
    let rules = frame.ready_or_warn()?;
    let model = &rules.reading.model;
    let noting = Rc::new(RefCell::new(Noting::new(model, &job)));
    writeln!(
        frame.out,
        "{}\n{FAINT}{HELP}{FAINT:#}",
        job.header().piece_said()
    )?;
    let config = Config::builder()
        .completion_type(CompletionType::List)
        .build();
    let mut editor: Editor<Bench<'_>, DefaultHistory> =
        Editor::with_config(config).map_err(no_terminal)?;
    editor.set_helper(Some(Bench {
        model,
        is_plain: frame.global.colour == Colour::Never,
        noting: Rc::clone(&noting),
    }));
    let mut place = Place {
        noting,
        rules: &rules,
        folder,
        notes: Vec::new(),
    };
    loop {
        frame.out.flush()?;
        match editor.readline(&place.prompt()) {
            Ok(line) => {
                let _ = editor.add_history_entry(&line);
                frame.tick();
                place.take(&line, &mut job, frame)?;
            }
            Err(ReadlineError::Eof | ReadlineError::Interrupted) => break,
            Err(why) => return Err(no_terminal(why)),
        }
    }
    Ok(Exit::Fine)
}

fn no_terminal(why: ReadlineError) -> Stopped {
    Stopped::Disk(format!("I could not read from this terminal: {why}."))
}

/// Where notes are made.
struct Place<'p> {
    noting: Rc<RefCell<Noting<'p>>>,
    rules: &'p Checked,
    folder: &'p Path,
    /// What was noted here, the last at the end.
    notes: Vec<Told>,
}

impl Place<'_> {
    /// "drawer 2> ".
    fn prompt(&self) -> String {
        let noting = self.noting.borrow();
        let parts: Vec<String> = noting
            .subject()
            .iter()
            .map(|p| noting.part_words(p))
            .collect();
        match parts.as_slice() {
            [] => "> ".to_owned(),
            [one] => format!("{one}> "),
            _ => format!("{}> ", list(&parts)),
        }
    }

    /// Does what a line asks for.
    fn take(&mut self, line: &str, job: &mut Job, frame: &mut Frame) -> Result<(), Stopped> {
        let line_words = line.trim();
        match line_words.to_lowercase().as_str() {
            "" => return Ok(()),
            "?" => return self.sayables("", frame),
            "undo" => return self.undo(job, frame),
            "next" => return next::print_first(self.folder, frame),
            _ => {}
        }
        if let Some(part) = line_words.strip_suffix('?')
            && self.noting.borrow().part(part).is_some()
        {
            return self.sayables(part, frame);
        }
        let part = self.noting.borrow().part(line_words);
        if let Some(part) = part {
            self.noting.borrow_mut().speak_of(vec![part]);
            return Ok(());
        }
        if let Err(Stopped::Misuse(why)) = is_a_note(line) {
            writeln!(frame.out, "{why}")?;
            return Ok(());
        }
        let mut noting = self.noting.borrow_mut();
        let told = note(&mut noting, self.rules, job, line, frame, key::is_there())?;
        told.print(frame, self.folder, None)?;
        self.notes.push(told);
        Ok(())
    }

    fn sayables(&self, part: &str, frame: &mut Frame) -> Result<(), Stopped> {
        let noting = self.noting.borrow();
        let part = noting.part(part).or(noting.subject().first().cloned());
        let part = part.unwrap_or_else(|| noting.spoken_of(""));
        writeln!(frame.out, "Of {}:", noting.part_words(&part))?;
        print_sayables(frame, &noting.sayables_of(&part))
    }

    fn undo(&mut self, job: &mut Job, frame: &mut Frame) -> Result<(), Stopped> {
        let Some(last) = self.notes.pop() else {
            writeln!(frame.out, "Nothing was noted here yet.")?;
            return Ok(());
        };
        self.noting.borrow_mut().undo(job, &last.noted, frame.now)?;
        writeln!(frame.out, "Taken back: {}", last.typed())?;
        Ok(())
    }
}

/// What the line editor asks: words that go on, and what the line would be taken for.
struct Bench<'b> {
    model: &'b Model,
    /// Whether nothing is to be styled.
    is_plain: bool,
    noting: Rc<RefCell<Noting<'b>>>,
}

/// What a line would be taken for; nothing of it is typed for anybody.
struct Taken(String);

impl Hint for Taken {
    fn display(&self) -> &str {
        &self.0
    }

    fn completion(&self) -> Option<&str> {
        None
    }
}

impl Hinter for Bench<'_> {
    type Hint = Taken;

    fn hint(&self, line: &str, pos: usize, _: &Context<'_>) -> Option<Taken> {
        let text = line.trim();
        if pos < line.len() || text.len() < 3 || text.ends_with('?') {
            return None;
        }
        let noting = self.noting.borrow();
        if let Some(part) = noting.part(text) {
            return Some(Taken(format!("   = {}", noting.part_words(&part))));
        }
        let mut said: Vec<String> = Vec::new();
        for heard in &noting.hear(text).heard {
            match &heard.what {
                What::Found(facts) => {
                    said.extend(facts.iter().map(|fact| fact_sentence(self.model, fact)));
                }
                What::Choose(readings) => {
                    let number = u32::try_from(readings.len()).unwrap_or(u32::MAX);
                    said.push(some_of(
                        number,
                        "reading to choose",
                        "readings to choose from",
                    ));
                }
                What::InOrder(fine) => {
                    let parts = fine.parts.iter().map(|part| noting.part_words(part));
                    let parts: Vec<String> = parts.collect();
                    let is = if parts.len() == 1 {
                        "is as it should be"
                    } else {
                        "are as they should be"
                    };
                    said.push(format!("{} {is}", list(&parts)));
                }
                // Half a word is nothing yet.
                What::Nothing => {}
            }
        }
        (!said.is_empty()).then(|| Taken(format!("   = {}", list(&said))))
    }
}

impl Completer for Bench<'_> {
    type Candidate = String;

    fn complete(
        &self,
        line: &str,
        pos: usize,
        _: &Context<'_>,
    ) -> rustyline::Result<(usize, Vec<String>)> {
        let before = line.get(..pos).unwrap_or(line);
        let noting = self.noting.borrow();
        let part = noting.spoken_of(before);
        let part = if noting.hear(before).subject.is_empty() {
            noting.subject().first().cloned().unwrap_or(part)
        } else {
            part
        };
        let mut words: Vec<String> = noting
            .sayables_of(&part)
            .into_iter()
            .map(|one| {
                let said = one
                    .words
                    .strip_prefix("is ")
                    .or(one.words.strip_prefix("shows "));
                said.map_or(one.words.clone(), str::to_owned)
            })
            .collect();
        words.extend(
            noting
                .parts()
                .iter()
                .map(|part| part_name(self.model, part)),
        );
        words.sort();
        words.dedup();
        // The longest end of the line that something begins with.
        let starts = std::iter::once(0).chain(before.match_indices(' ').map(|(at, _)| at + 1));
        for start in starts {
            let begun = before.get(start..).unwrap_or_default().to_lowercase();
            let fits = |word: &&String| !begun.is_empty() && word.starts_with(&begun);
            let found: Vec<String> = words.iter().filter(fits).cloned().collect();
            if !found.is_empty() {
                return Ok((start, found));
            }
        }
        Ok((pos, Vec::new()))
    }
}

impl Highlighter for Bench<'_> {
    fn highlight_hint<'h>(&self, hint: &'h str) -> std::borrow::Cow<'h, str> {
        // The line editor writes to the terminal by itself.
        if self.is_plain {
            return hint.into();
        }
        let faint = anstyle::Style::new().dimmed();
        format!("{faint}{hint}{faint:#}").into()
    }
}

impl Validator for Bench<'_> {}
impl Helper for Bench<'_> {}
