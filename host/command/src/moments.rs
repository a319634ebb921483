//! The piece as it was found and as it is now, in words: which of the two a page shows,
//! what was mended, and what was noted before that and is to be looked at again.

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use serde_json::{Value, json};
use std::ops::Range;
use tellmark_compile::meaning::tests;
use tellmark_compile::set_up::Mended;
use tellmark_job::open_job::JobView;
use tellmark_language::ink::Ink;
use tellmark_language::model::{Found, Predicate, StateId, Sureness};
use tellmark_language::words::{self, capital, figure, sentence};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Says which moment a page shows, if something was mended.
pub(super) fn print_which(frame: &mut Frame, view: &JobView<'_>) -> Result<(), Stopped> {
    if view.open.now.is_none() {
        return Ok(());
    }
    let which = match view.later() {
        Some(_) => "As it is now, with what was mended.",
        None => "As it was found, whatever was mended since.",
    };
    writeln!(frame.out, "{STRONG}{which}{STRONG:#}")?;
    Ok(())
}

/// Which moment it is, for programs.
pub(super) fn which_json(view: &JobView<'_>) -> &'static str {
    match (view.later(), &view.open.now) {
        (None, Some(_)) => "as found",
        _ => "now",
    }
}

/// Prints what was mended, and what is to be looked at again.
pub(super) fn print_mends(frame: &mut Frame, view: &JobView<'_>) -> Result<(), Stopped> {
    let Some(now) = view.later() else {
        return Ok(());
    };
    let mended = said(view);
    if !mended.is_empty() {
        writeln!(frame.out, "\n{STRONG}Mended{STRONG:#}")?;
    }
    for said in mended {
        let Said { what, by, .. } = &said;
        let doubt = said.doubt();
        writeln!(frame.out, "  {what} {FAINT}({by}){FAINT:#}{doubt}")?;
    }
    let again = now.look_again();
    if !again.is_empty() {
        writeln!(
            frame.out,
            "\n{STRONG}Noted before something was mended that bears on it; look again{STRONG:#}"
        )?;
    }
    for finding in again {
        let words = words::fact_sentence(view.model(), &finding.fact);
        writeln!(
            frame.out,
            "  {words} {FAINT}(line {}){FAINT:#}",
            finding.number
        )?;
    }
    Ok(())
}

/// Something that was mended, in words.
struct Said {
    /// "hinge 2 of left leaf: split at the bed".
    what: String,
    /// "let in a new bed, line 7".
    by: String,
    /// How likely it is to be there all the same.
    chance: f64,
    in_doubt: bool,
}

impl Said {
    fn doubt(&self) -> String {
        match figure(self.chance) {
            failed if self.in_doubt => format!(": in doubt, {failed} that it did not hold"),
            failed if words::reaches(self.chance, Sureness::Possibly.percent()) => {
                format!(": {failed} that it does not hold")
            }
            _ => String::new(),
        }
    }
}

/// What was found, mended, and was not found again.
fn said(view: &JobView<'_>) -> Vec<Said> {
    let mended = view.mended_since().unwrap_or_default().into_iter();
    mended
        .map(|mended| {
            let job = view.open.said(mended.line);
            let job = job.strip_prefix("done: ").unwrap_or(&job);
            let job = job.split(';').next().unwrap_or_default().trim().to_owned();
            let phrase = view.model().states.get(mended.state.index());
            let phrase = phrase.map_or("", |state| state.phrase.as_str());
            let what = format!("{}: {phrase}", view.part_name(mended.part));
            Said {
                what,
                by: format!("{job}, line {}", mended.line),
                chance: mended.chance,
                in_doubt: mended.is_in_doubt(),
            }
        })
        .collect()
}

/// What was mended, for programs.
pub(super) fn mended_json(view: &JobView<'_>) -> Vec<Value> {
    let all = said(view).into_iter();
    let json = |said: Said| {
        json!({
            "mended": said.what,
            "by": said.by,
            "chance": said.chance,
            "in_doubt": said.in_doubt,
        })
    };
    all.map(json).collect()
}

/// What is to be looked at again, for programs.
pub(super) fn overtaken_json(view: &JobView<'_>) -> Vec<Value> {
    let again = view.later().map_or_else(Vec::new, |now| now.look_again());
    let again = again.into_iter();
    again
        .map(|f| json!({ "line": f.number, "text": view.open.line_text(f.number) }))
        .collect()
}

/// What a new line speaks of, where earlier ones about the same stay as they were.
pub(super) fn print_noted(
    frame: &mut Frame,
    view: &JobView<'_>,
    lines: &Range<usize>,
) -> Result<(), Stopped> {
    let Some(now) = view.later() else {
        return Ok(());
    };
    let is_again = |m: &&Mended| m.was_there && m.again.is_some_and(|line| lines.contains(&line));
    for mended in now.later.mended.iter().filter(is_again) {
        let words = name(view, mended);
        writeln!(
            frame.out,
            "{} again: it was mended in line {}. What is called for because of it is called for \
             again.",
            capital(&words),
            mended.line
        )?;
    }
    for mended in now.later.mended.iter().filter(|m| m.again.is_none()) {
        if may_show(view, lines, mended) {
            writeln!(frame.out, "{}", comes_from(view, mended))?;
        }
    }
    let mut found = view.open.findings.iter();
    let is_of_found = found.any(|f| lines.contains(&f.number));
    if !is_of_found && !lines.is_empty() {
        writeln!(
            frame.out,
            "This speaks of the piece as it is now, after what was mended; what was found before \
             stays as it was found."
        )?;
    }
    Ok(())
}

/// What a sign that is seen after a mend says of the mend.
fn comes_from(view: &JobView<'_>, mended: &Mended) -> String {
    let (line, name) = (mended.line, name(view, mended));
    let chance = figure(mended.chance);
    let next = if mended.is_in_doubt() {
        "The mend is in doubt, and what was done for it is no longer taken as done. Look whether \
         it is so, and note it as certainly so or not so."
    } else {
        "If you find it so, note it as certainly so: then it is called for again."
    };
    format!(
        "This can come from what was mended in line {line}: {chance} that {name} again, or was not \
         mended right. {next}"
    )
}

/// Says of a fault that it was mended, and that this is in doubt.
pub(super) fn doubted(view: &JobView<'_>, part: usize, state: StateId) -> Option<String> {
    let last = view.later()?.later.last_mended(part, state)?;
    let is_doubted = last.again.is_none() && last.is_in_doubt();
    is_doubted.then(|| format!("mended in line {}; that may not have held", last.line))
}

/// What ticks mended that is there again, or may be: the line of the tick, and a sentence.
pub(super) fn doubts(view: &JobView<'_>) -> Vec<(usize, String)> {
    let mended = view.later().map_or(&[][..], |now| &now.later.mended);
    let doubted = mended
        .iter()
        .filter(|mended| mended.was_there && mended.is_in_doubt());
    let in_words = |mended: &Mended| {
        let name = name(view, mended);
        match mended.again {
            Some(line) => format!("{name} again (line {line})"),
            None => format!(
                "in doubt: {} that {name} all the same",
                figure(mended.chance)
            ),
        }
    };
    doubted
        .map(|mended| (mended.line, in_words(mended)))
        .collect()
}

/// What was mended of a state last, unless it is there again, or may be.
pub(super) fn mended(view: &JobView<'_>, part: usize, state: StateId) -> Option<Mended> {
    let last = view.later()?.later.last_mended(part, state);
    last.filter(|mended| !mended.is_in_doubt()).copied()
}

/// Says that a fault was mended, in the place of its reasons.
pub(super) fn print_mended(
    frame: &mut Frame,
    view: &JobView<'_>,
    mended: Mended,
) -> Result<Exit, Stopped> {
    let words = name(view, &mended);
    if frame.global.json {
        frame.print_json(
            Shape::WHY_MENDED,
            json!({
                "moment": "now",
                "fault": words,
                "chance": mended.chance,
                "mended": { "line": mended.line, "text": view.open.said(mended.line) },
            }),
        )?;
        return Ok(Exit::Fine);
    }
    print_which(frame, view)?;
    writeln!(
        frame.out,
        "{STRONG}{}{STRONG:#}",
        sentence(&format!("{words} no longer: it was mended"))
    )?;
    writeln!(
        frame.out,
        "  {} {FAINT}(line {}){FAINT:#}\n\"tellmark why ... --as-found\" says why it was likely as \
         the piece was found.",
        view.open.said(mended.line),
        mended.line
    )?;
    Ok(Exit::Fine)
}

/// "hinge 2 of left leaf is split at the bed".
fn name(view: &JobView<'_>, mended: &Mended) -> String {
    words::state_phrase(
        view.model(),
        &view.part_name(mended.part),
        mended.state,
        true,
    )
}

/// Whether something noted in these lines is what a mended fault shows by.
fn may_show(view: &JobView<'_>, lines: &Range<usize>, mended: &Mended) -> bool {
    let model = view.model();
    let new = view.findings.iter().filter(|f| lines.contains(&f.number));
    let mut signs = new.filter_map(|finding| match finding.fact.found {
        Found::State {
            state, yes: true, ..
        } => Some(state),
        _ => None,
    });
    signs.any(|sign| {
        let means = model.means.iter();
        let mut means = means.filter(|means| means.sign == sign);
        let mut rules = model.rules.iter().filter(|rule| rule.state == sign);
        means.any(|means| means.fault == mended.state)
            || rules.any(|rule| {
                let mut reads = false;
                tests(&rule.when, &mut |test| {
                    reads |= matches!(
                        test.what,
                        Predicate::State { state, yes: true, .. } if state == mended.state
                    );
                });
                reads
            })
    })
}
