//! An estimate beside what was taken, and drawings of the hours.

use super::{Quote, no_paper};
use crate::bounded::Bounded;
use crate::drawing;
use crate::exit::{Exit, Stopped};
use crate::frame::Frame;
use crate::open_job::{cannot_set_up, progress};
use crate::shape::Shape;
use crate::typed::as_path;
use serde_json::json;
use std::path::Path;
use tellmark_job::open_job::OpenJob;
use tellmark_job::papers::{Against, Became, Beside, HoursRange, Row, Ticks, prices_by_hours};
use tellmark_job::{house, scripts};
use tellmark_language::ink::Ink;
use tellmark_language::words::{capital, list, minutes, minutes_range, money, some_of};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

impl Quote {
    /// Puts the papers that count beside what was taken.
    pub(super) fn against(&self, job: &OpenJob, frame: &mut Frame) -> Result<Exit, Stopped> {
        let Some(beside) = beside(job, frame)? else {
            return Err(Stopped::Misuse(format!(
                "No estimate of this job was kept, so there is nothing to put the work beside. \
                 \"tellmark quote {} --keep{}\" keeps one.",
                as_path(&self.job),
                frame.rules_argument()
            )));
        };
        if let (Some(file), Some(hours)) = (&self.svg, &beside.hours) {
            draw(file, hours, Some(&beside))?;
        }
        if frame.global.json {
            let mut value = serde_json::to_value(&beside)?;
            if let Some(value) = value.as_object_mut() {
                value.insert("share_below".to_owned(), json!(beside.share_below()));
            }
            frame.print_json(Shape::AGAINST, value)?;
            return Ok(Exit::Fine);
        }
        print(&beside, frame)?;
        drawing::tell(self.svg.as_deref(), frame)?;
        Ok(Exit::Fine)
    }
}

/// Writes the drawing of the hours.
pub(super) fn draw(
    file: &Path,
    hours: &HoursRange,
    beside: Option<&Beside>,
) -> Result<(), Stopped> {
    drawing::write(file, &tellmark_report::hours_drawing(hours, beside))
}

/// The papers of a job beside its work; `None` if there is no paper.
fn beside(job: &OpenJob, frame: &mut Frame) -> Result<Option<Beside>, Stopped> {
    let Some(against) = Against::of(&job.job).map_err(no_paper)? else {
        return Ok(None);
    };
    let view = job.view()?;
    let progress = progress(&view, frame)?;
    let ticks = Ticks::of(&view, &progress).map_err(cannot_set_up)?;
    let plan = view.plan(&progress).map_err(cannot_set_up)?;
    let is_over = !plan.is_left();
    let file = house::prices(frame.rules()?)?;
    let priced =
        if file.standard {
            None
        } else {
            let since = against.ticks(&ticks);
            let piece = &job.job.header().piece;
            let ran = prices_by_hours(&since, job.model(), piece, &file, &Bounded::here());
            for line in &ran.printed {
                writeln!(frame.err, "{}: {line}", scripts::PRICES)?;
            }
            Some(ran.result.map_err(|trouble| {
                Stopped::Misuse(trouble.render(tellmark_language::Style::Colour))
            })?)
        };
    Ok(Some(against.beside(&ticks, priced.as_ref(), is_over)))
}

fn print(beside: &Beside, frame: &mut Frame) -> Result<(), Stopped> {
    let names: Vec<String> = beside.papers.iter().map(ToString::to_string).collect();
    let agreed = if beside.agreed {
        "agreed"
    } else {
        "not answered"
    };
    writeln!(
        frame.out,
        "{STRONG}{} ({agreed}) beside what was taken{STRONG:#}",
        capital(&list(&names))
    )?;
    print_done(beside, frame)?;
    for (became, heading) in [
        (Became::InNoPaper, "Done, and in no paper"),
        (Became::NotDone, "In the papers, and not done yet"),
        (
            Became::NotCalledFor,
            "In the papers, not ticked, and not called for now",
        ),
    ] {
        let mut rows = beside.that(became).peekable();
        if rows.peek().is_some() {
            writeln!(frame.out, "\n{STRONG}{heading}{STRONG:#}")?;
        }
        for row in rows {
            print_row(row, frame)?;
        }
    }
    print_hours(beside, frame)
}

/// Columns: the job, what was expected, what was taken, the price, the price by the hour.
fn print_columns(frame: &mut Frame, cells: [&str; 5]) -> Result<(), Stopped> {
    let [job, expected, taken, price, by_hours] = cells;
    let room = 34;
    let long = job.chars().count() > room;
    if long {
        writeln!(frame.out, "  {job}")?;
    }
    let job = if long { "" } else { job };
    writeln!(
        frame.out,
        "  {job:room$} {expected:>18} {taken:>9} {price:>12} {by_hours:>12}"
    )?;
    Ok(())
}

fn print_done(beside: &Beside, frame: &mut Frame) -> Result<(), Stopped> {
    let is_any = beside
        .rows
        .iter()
        .any(|row| matches!(row.became, Became::Done | Became::InNoPaper));
    if !is_any {
        writeln!(frame.out, "Nothing was ticked since.")?;
        return Ok(());
    }
    write!(frame.out, "{FAINT}")?;
    print_columns(
        frame,
        ["", "expected", "taken", "in the paper", "by the hour"],
    )?;
    write!(frame.out, "{FAINT:#}")?;
    for row in beside.that(Became::Done) {
        print_row(row, frame)?;
    }
    let (price, by_hours) = beside.money();
    let (expected, taken) = match beside.compared() {
        Some(([least, _, most], taken)) => (minutes_range(least, most), minutes(taken)),
        None => (String::new(), String::new()),
    };
    write!(frame.out, "{STRONG}")?;
    print_columns(
        frame,
        [
            "Of what was done, in all",
            &expected,
            &taken,
            &money(&price.to_string()),
            &money(&by_hours.to_string()),
        ],
    )?;
    write!(frame.out, "{STRONG:#}")?;
    writeln!(
        frame.out,
        "  {FAINT}{} in the papers: {} fixed, {} at most{FAINT:#}",
        capital(&beside.currency),
        money(&beside.fixed.to_string()),
        money(&beside.at_most.to_string())
    )?;
    Ok(())
}

fn print_row(row: &Row, frame: &mut Frame) -> Result<(), Stopped> {
    let parts = list(&row.parts);
    let on = if parts.is_empty() { "" } else { ": " };
    let is_done = matches!(row.became, Became::Done | Became::InNoPaper);
    let taken = match row.taken {
        Some(taken) => minutes(taken),
        None if is_done => "not said".to_owned(),
        None => "-".to_owned(),
    };
    let up_to = if row.up_to { "up to " } else { "" };
    let price = row.price.map_or("-".to_owned(), |price| {
        format!("{up_to}{}", money(&price.to_string()))
    });
    let by_hours = row
        .by_hours
        .map_or("-".to_owned(), |price| money(&price.to_string()));
    let expected = row.expected.map_or("-".to_owned(), |[least, _, most]| {
        minutes_range(least, most)
    });
    print_columns(
        frame,
        [
            &format!("{}{on}{parts}", row.job),
            &expected,
            &taken,
            &price,
            &by_hours,
        ],
    )
}

/// Where the hours fell in the range that was given.
fn print_hours(beside: &Beside, frame: &mut Frame) -> Result<(), Stopped> {
    writeln!(frame.out, "\n{STRONG}Bench hours{STRONG:#}")?;
    let so_far = if beside.is_over { "" } else { " so far" };
    writeln!(frame.out, "  {} taken{so_far}", minutes(beside.taken))?;
    if beside.untimed > 0 {
        let ticks = some_of(
            u32::try_from(beside.untimed).unwrap_or(u32::MAX),
            "tick",
            "ticks",
        );
        writeln!(
            frame.out,
            "  {} without a time, so it was more; --took says what a job took",
            capital(&ticks)
        )?;
    }
    let (Some(hours), Some(share)) = (&beside.hours, beside.share_below()) else {
        return Ok(());
    };
    let at = |at: usize| {
        let hours = hours.twentieths.get(at).copied().unwrap_or(0.0);
        tellmark_language::words::hours(hours)
    };
    writeln!(
        frame.out,
        "  the estimate: {} in 1 of 10 such pieces, {} in 5, {} in 9",
        at(1),
        at(9),
        at(17)
    )?;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let (below, tenth) = (
        (share * 10.0).round() as u32,
        (share * 10.0).floor() as u32 + 1,
    );
    let said = match below {
        _ if share < 0.05 => "Hardly any such piece takes less.".to_owned(),
        _ if share > 0.95 => "Hardly any such piece takes more.".to_owned(),
        below => format!(
            "About {below} of 10 such pieces take less: the {} tenth of the range.",
            ordinal(tenth.min(10))
        ),
    };
    writeln!(frame.out, "  {said}")?;
    if !beside.is_over {
        writeln!(frame.out, "  There is work left, so this will move.")?;
    }
    Ok(())
}

/// "first" … "tenth".
fn ordinal(n: u32) -> &'static str {
    const NAMES: [&str; 10] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth",
    ];
    let at = usize::try_from(n).unwrap_or(0).saturating_sub(1);
    NAMES.get(at).copied().unwrap_or("tenth")
}
