//! `tellmark date`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::{cannot_set_up, open_job};
use super::relative;
use super::shape::Shape;
use super::unpaired;
use clap::{Args, ValueEnum};
use serde_json::{Value, json};
use std::path::PathBuf;
use tellmark_job::advice::{Dated, Later, Years};
use tellmark_job::open_job::JobView;
use tellmark_language::ink::Ink;
use tellmark_language::model::{DateBound, Model, Region};
use tellmark_language::words::{self, figure};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Say when the piece was made, and which parts of it are later
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark date walnut-chest --made-in britain\n\nA feature dates the \
                  part it is on, and the piece only if that part is original. All parts are \
                  judged together. A span of years holds eight in ten."
)]
pub struct Date {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// Where it was made: britain, america or unknown; if you do not say, where
    /// your rules are from
    #[arg(long, value_name = "COUNTRY", hide_possible_values = true)]
    made_in: Option<MadeIn>,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum MadeIn {
    Britain,
    America,
    Unknown,
}

impl Date {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let job = open_job(&self.job, frame)?;
        // What is dated is the piece as it came in.
        let view = job.as_found()?;
        let made_in = match self.made_in {
            None => job.model().region,
            Some(MadeIn::Britain) => Some(Region::British),
            Some(MadeIn::America) => Some(Region::American),
            Some(MadeIn::Unknown) => None,
        };
        let now = u16::try_from(frame.now.year()).unwrap_or(u16::MAX);
        let dated = view.date(made_in, now).map_err(cannot_set_up)?;
        if frame.global.json {
            frame.print_json(Shape::DATE, as_json(&view, &dated))?;
        } else {
            print(frame, &view, &dated, made_in)?;
        }
        Ok(match dated.later {
            Some(Err(())) => Exit::No,
            _ => Exit::Fine,
        })
    }
}

fn print(
    frame: &mut Frame,
    job: &JobView<'_>,
    dated: &Dated,
    made_in: Option<Region>,
) -> Result<(), Stopped> {
    let model = job.model();
    if !dated
        .held
        .iter()
        .any(|held| speaks_of_years(model, held.dating))
    {
        writeln!(
            frame.out,
            "Nothing that was found speaks of when it was made."
        )?;
    } else {
        writeln!(
            frame.out,
            "{STRONG}Made {}{STRONG:#} (eight in ten)",
            span(dated.made)
        )?;
        print_decades(frame, dated)?;
        print_later(frame, dated)?;
        print_parts(frame, dated)?;
        print_held(frame, job, dated)?;
    }
    relative::print(frame, job, dated)?;
    unpaired::print_fittings(frame, job, dated)?;
    unpaired::print_traces(frame, job, dated)?;
    if dated.elsewhere > 0 {
        let country = match made_in {
            Some(Region::American) => "America",
            _ => "Britain",
        };
        writeln!(
            frame.out,
            "\n{FAINT}It is taken to have been made in {country}: {} left out. --made-in says \
             where else.{FAINT:#}",
            words::some_of(
                u32::try_from(dated.elsewhere).unwrap_or(u32::MAX),
                "dating for another country is",
                "datings for another country are"
            )
        )?;
    }
    Ok(())
}

fn print_decades(frame: &mut Frame, dated: &Dated) -> Result<(), Stopped> {
    const WIDEST: f64 = 40.0;
    let most = dated.decades.iter().map(|d| d.1).fold(0.0, f64::max);
    let mut last = None;
    for &(year, chance) in &dated.decades {
        if last.is_some_and(|last| last + 10 < year) {
            writeln!(frame.out, "  {FAINT}…{FAINT:#}")?;
        }
        last = Some(year);
        let tenths = (chance / most * WIDEST).round().max(1.0);
        let bar = "▪".repeat((0..40).take_while(|&i| f64::from(i) < tenths).count());
        writeln!(frame.out, "  {year}s  {bar} {}", figure(chance))?;
    }
    Ok(())
}

fn print_later(frame: &mut Frame, dated: &Dated) -> Result<(), Stopped> {
    match &dated.later {
        None => {}
        Some(Ok(Later { parts, until })) => writeln!(
            frame.out,
            "\nNot all of it can be original. The dates agree if only {} {} later; then the piece \
             is of {until} at the latest.",
            words::list(&parts.iter().map(String::as_str).collect::<Vec<_>>()),
            if parts.len() == 1 { "is" } else { "are" }
        )?,
        Some(Err(())) => writeln!(
            frame.out,
            "\nThe dates do not agree, whichever parts are later: something found on one part \
             contradicts something else found on it. Look at both again."
        )?,
    }
    Ok(())
}

fn print_parts(frame: &mut Frame, dated: &Dated) -> Result<(), Stopped> {
    if dated.parts.is_empty() {
        return Ok(());
    }
    writeln!(frame.out, "\nPart by part")?;
    for part in &dated.parts {
        writeln!(
            frame.out,
            "  {}: {} original ({}); made {}",
            part.name,
            words::sureness_word(part.original),
            figure(part.original),
            span(part.made)
        )?;
    }
    Ok(())
}

fn print_held(frame: &mut Frame, job: &JobView<'_>, dated: &Dated) -> Result<(), Stopped> {
    let model = job.model();
    writeln!(frame.out, "\nBy these datings")?;
    for held in &dated.held {
        let Some(dating) = model.datings.get(held.dating) else {
            continue;
        };
        if !speaks_of_years(model, held.dating) {
            continue;
        }
        let parts: Vec<&str> = held.parts.iter().map(String::as_str).collect();
        writeln!(frame.out, "  {}", words::dating(model, dating))?;
        writeln!(
            frame.out,
            "    {FAINT}on {}; without it the piece would be {}{FAINT:#}",
            words::list(&parts),
            span(held.without)
        )?;
    }
    Ok(())
}

/// Whether a dating names a year.
fn speaks_of_years(model: &Model, dating: usize) -> bool {
    let dating = model.datings.get(dating);
    dating.is_some_and(|d| !matches!(d.bound, DateBound::LaterThan(_) | DateBound::Lost(_)))
}

/// "from 1730 to 1769".
fn span((from, to): Years) -> String {
    format!("from {from} to {to}")
}

fn as_json(job: &JobView<'_>, dated: &Dated) -> Value {
    let model = job.model();
    let years = |(from, to): Years| json!({ "from": from, "to": to });
    let decades: Vec<Value> = dated
        .decades
        .iter()
        .map(|(year, chance)| json!({ "decade": year, "chance": chance }))
        .collect();
    let parts: Vec<Value> = dated
        .parts
        .iter()
        .map(|p| json!({ "part": p.name, "original": p.original, "made": years(p.made) }))
        .collect();
    let sentence = |dating: usize| model.datings.get(dating).map(|d| words::dating(model, d));
    let held: Vec<Value> = dated
        .held
        .iter()
        .map(|held| {
            json!({
                "dating": sentence(held.dating),
                "parts": held.parts,
                "without": years(held.without),
            })
        })
        .collect();
    let later = match &dated.later {
        None => json!({ "agree": true, "parts": [] }),
        Some(Ok(later)) => json!({ "agree": false, "parts": later.parts, "until": later.until }),
        Some(Err(())) => json!({ "agree": false, "parts": null }),
    };
    json!({
        "made": years(dated.made),
        "decades": decades,
        "parts": parts,
        "datings": held,
        "beside_owner": relative::as_json(job, dated),
        "fittings_without_trace": unpaired::fittings_as_json(job, dated),
        "traces_without_fitting": unpaired::traces_as_json(job, dated),
        "later": later,
        "of_another_country": dated.elsewhere,
    })
}
