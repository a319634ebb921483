//! `tellmark quote`

use super::bounded::Bounded;
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::{cannot_set_up, open_job, progress};
use clap::Args;
use jiff::ToSpan as _;
use serde_json::json;
use std::path::PathBuf;
use tellmark_job::advice::{self, Item, NoQuote, Points};
use tellmark_job::hours::NoHours;
use tellmark_job::house;
use tellmark_job::scripts::{self, Line, Priced};
use tellmark_language::SourceFile;
use tellmark_language::ink::Ink;
use tellmark_language::words::{self, figure, hours, minutes, money};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Say what it will cost: what is fixed, what may come to it, and how sure that is
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark quote walnut-chest\n  tellmark quote walnut-chest --valid \
                        14\n\nPrices come from prices.rhai in the folder of your own rules; until \
                        you have one, the figures are invented. Hours are worked out over \
                        everything that may be hidden, all of it together."
)]
pub struct Quote {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// For how many days it stands, instead of what the price list says
    #[arg(long, value_name = "DAYS", value_parser = clap::value_parser!(u32).range(..=3650))]
    valid: Option<u32>,
}

impl Quote {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let job = open_job(&self.job, frame)?;
        let view = job.view()?;
        let progress = progress(&view, frame)?;
        let quote = view
            .quote(&progress)
            .map_err(|why| self.no_quote(why, frame))?;
        let file = house::prices(frame.rules()?)?;
        let is_standard = file.standard;
        let piece = job.job.header().piece.clone();
        let mut priced = priced(frame, &quote, &piece, &file)?;
        priced.valid_days = self.valid.unwrap_or(priced.valid_days);
        let days = i64::from(priced.valid_days);
        let until = frame.now.date().saturating_add(days.days());
        if frame.global.json {
            frame.print_json(json!({
                "piece": piece,
                "prices": priced,
                "prices_are_invented": is_standard,
                "valid_until": until.to_string(),
                "rests_on": quote,
            }))?;
            return Ok(Exit::Fine);
        }
        writeln!(frame.out, "{STRONG}Quotation: {piece}{STRONG:#}")?;
        if is_standard {
            writeln!(
                frame.out,
                "The prices are invented. Put your own list, {}, into the folder of your rules.",
                scripts::PRICES
            )?;
        }
        let is_planned = quote.items.iter().any(|item| item.planned);
        if !is_planned && progress.done().next().is_some() {
            writeln!(
                frame.out,
                "Nothing that was found is left to do. This is for what may still be hidden."
            )?;
        }
        print_prices(frame, &priced)?;
        print_holds(frame, &quote.items)?;
        print_left(frame, &quote)?;
        for assumption in &priced.assumptions {
            let said = format!("Taken for granted: {assumption}");
            writeln!(frame.out, "{}", wrapped(&said, ROOM).join("\n    "))?;
        }
        writeln!(
            frame.out,
            "It stands for {}, until {until}.",
            words::some_of(priced.valid_days, "day", "days")
        )?;
        print_hours(frame, &quote)?;
        print_widens(frame, &quote)?;
        print_not_done(frame, &quote)?;
        let uncounted = quote.uncounted_in_words();
        if !uncounted.is_empty() {
            writeln!(frame.out, "\n{}", uncounted.join("\n"))?;
        }
        Ok(Exit::Fine)
    }

    fn no_quote(&self, why: NoQuote, frame: &Frame) -> Stopped {
        let triage = frame.command("triage", &self.job);
        match why {
            NoQuote::SetUp(why) => cannot_set_up(why),
            NoQuote::Hours(NoHours::Clash) => Stopped::Misuse(format!(
                "The findings cannot all be true, so nothing can be quoted. \
                 To see which ones clash:\n  {triage}"
            )),
            NoQuote::Hours(NoHours::TooTangled) => Stopped::Misuse(
                "The rules tie so many parts of this piece together that the hours cannot be \
                 worked out. \"tellmark plan\" gives the jobs with their times."
                    .to_owned(),
            ),
        }
    }
}

/// What a price list makes of the work; what it prints goes to the error stream.
pub(super) fn priced(
    frame: &mut Frame,
    quote: &advice::Quote,
    piece: &str,
    file: &SourceFile,
) -> Result<Priced, Stopped> {
    let ran = scripts::prices(quote, piece, file, &Bounded::here());
    for line in &ran.printed {
        writeln!(frame.err, "{}: {line}", scripts::PRICES)?;
    }
    ran.result
        .map_err(|trouble| Stopped::Misuse(trouble.render(tellmark_language::Style::Colour)))
}

fn print_prices(frame: &mut Frame, priced: &Priced) -> Result<(), Stopped> {
    let currency = &priced.currency;
    if !priced.fixed.is_empty() {
        writeln!(frame.out, "\n{STRONG}Fixed{STRONG:#}")?;
        print_lines(frame, &priced.fixed)?;
        let total = money(&priced.fixed_total.to_string());
        print_total(frame, "Fixed in all", &format!("{total} {currency}"))?;
    }
    if !priced.provisional.is_empty() {
        writeln!(
            frame.out,
            "\n{STRONG}May come to it{STRONG:#}, each up to the amount beside it"
        )?;
        print_lines(frame, &priced.provisional)?;
    }
    let most = money(&priced.at_most.to_string());
    print_total(frame, "Never more, unasked", &format!("{most} {currency}"))?;
    writeln!(frame.out)?;
    Ok(())
}

/// Columns for sentences.
const ROOM: usize = 78;
/// Columns before an amount, and for it.
const WIDTH: (usize, usize) = (60, 12);

fn print_lines(frame: &mut Frame, lines: &[Line]) -> Result<(), Stopped> {
    for line in lines {
        let amount = money(&line.amount.to_string());
        let (text, amounts) = WIDTH;
        let hold = if line.ask_owner { " *" } else { "" };
        let mut rows = wrapped(&format!("{}{hold}", line.text), text);
        let last = rows.pop().unwrap_or_default();
        // What goes on from the line above stands deeper, and so begins no line of its own.
        let mut indent = "  ";
        for row in rows {
            writeln!(frame.out, "{indent}{row}")?;
            indent = "      ";
        }
        let room = (text + 2).saturating_sub(indent.len());
        writeln!(frame.out, "{indent}{last:room$}{amount:>amounts$}")?;
    }
    Ok(())
}

/// A text in rows of at most so many signs, less what further rows are indented by.
fn wrapped(text: &str, most: usize) -> Vec<String> {
    const INDENT: usize = 4;
    let length = |text: &str| text.chars().count();
    let mut rows = vec![String::new()];
    for word in text.split(' ') {
        let mut word = word;
        loop {
            let most = if rows.len() == 1 { most } else { most - INDENT };
            let Some(row) = rows.last_mut() else { break };
            let space = usize::from(!row.is_empty());
            if length(row) + space + length(word) <= most {
                if space == 1 {
                    row.push(' ');
                }
                row.push_str(word);
                break;
            }
            // A word that is longer than a row is divided.
            if row.is_empty() {
                let end = word
                    .char_indices()
                    .nth(most)
                    .map_or(word.len(), |(at, _)| at);
                let (begin, rest) = word.split_at(end);
                row.push_str(begin);
                word = rest;
            }
            rows.push(String::new());
        }
    }
    rows
}

fn print_total(frame: &mut Frame, what: &str, amount: &str) -> Result<(), Stopped> {
    let (number, currency) = amount.split_once(' ').unwrap_or((amount, ""));
    let (text, amounts) = WIDTH;
    writeln!(
        frame.out,
        "  {STRONG}{what:text$}{number:>amounts$}{STRONG:#} {currency}"
    )?;
    Ok(())
}

/// Of the owner's decisions, those that are likely to come up: what the rules call
/// possible.
const POSSIBLE: u8 = tellmark_language::model::Sureness::Possibly.percent();

fn print_holds(frame: &mut Frame, items: &[Item]) -> Result<(), Stopped> {
    let comes_up =
        |item: &&Item| item.ask_owner && item.chance.is_some_and(|c| words::reaches(c, POSSIBLE));
    let mut jobs: Vec<&str> = Vec::new();
    for item in items.iter().filter(comes_up) {
        if !jobs.contains(&item.job.as_str()) {
            jobs.push(&item.job);
        }
    }
    if !jobs.is_empty() {
        writeln!(
            frame.out,
            "* The owner decides, before you {}.",
            words::list_or(&jobs.iter().map(ToString::to_string).collect::<Vec<_>>())
        )?;
    }
    Ok(())
}

fn print_hours(frame: &mut Frame, quote: &advice::Quote) -> Result<(), Stopped> {
    writeln!(frame.out, "\n{STRONG}Bench hours{STRONG:#}")?;
    let row = |frame: &mut Frame, what: &str, points: &Points| -> Result<(), Stopped> {
        let [a, b, c, d] = [points.p10, points.p50, points.p80, points.p90].map(hours);
        writeln!(frame.out, "  {what:22}{a:>12}{b:>12}{c:>12}{d:>12}")?;
        Ok(())
    };
    writeln!(
        frame.out,
        "  {FAINT}{:22}{:>12}{:>12}{:>12}{:>12}{FAINT:#}",
        "enough in", "1 in 10", "5 in 10", "8 in 10", "9 in 10"
    )?;
    if quote.items.iter().any(|item| item.certain) {
        row(frame, "what is certain", &quote.certain_hours)?;
    }
    row(frame, "everything", &quote.hours)?;
    writeln!(
        frame.out,
        "  {} on average, give or take {}",
        hours(quote.mean),
        hours(quote.deviation)
    )?;
    Ok(())
}

/// How many of the things that widen the range are shown.
const SHOWN: usize = 4;

fn print_widens(frame: &mut Frame, quote: &advice::Quote) -> Result<(), Stopped> {
    let groups = quote.widens_alike();
    if groups.is_empty() {
        return Ok(());
    }
    writeln!(
        frame.out,
        "\n{STRONG}What makes the range wide{STRONG:#}, and what would be left of {}",
        hours(quote.deviation)
    )?;
    for (parts, unseen) in groups.iter().take(SHOWN) {
        let others = u32::try_from(parts.len() - 1).unwrap_or(u32::MAX);
        let alike = match others {
            0 => String::new(),
            _ => format!(
                "; the same for {} like it",
                words::some_of(others, "other", "others")
            ),
        };
        writeln!(
            frame.out,
            "  whether {} {} ({}): {} if known{alike}",
            parts[0],
            unseen.words,
            figure(unseen.chance),
            hours_and_minutes(unseen.deviation),
        )?;
        writeln!(
            frame.out,
            "      {FAINT}{} in all if so, {} if not{FAINT:#}",
            hours(unseen.hours_if_so),
            hours(unseen.hours_if_not)
        )?;
    }
    Ok(())
}

/// What the owner wants left alone, with the jobs that it stops.
fn print_left(frame: &mut Frame, quote: &advice::Quote) -> Result<(), Stopped> {
    for left in &quote.left {
        let because = match left.because.as_str() {
            "" => String::new(),
            because => format!(" ({because})"),
        };
        let said = format!(
            "Left alone, as the owner wishes: {}{because}. What the rules call for there, or may \
             call for, is in none of the figures: {}.",
            words::list(&left.parts),
            words::list(&left.jobs)
        );
        writeln!(frame.out, "{}", wrapped(&said, ROOM).join("\n    "))?;
    }
    Ok(())
}

/// What is called for and in none of the figures, because what it needs was refused.
fn print_not_done(frame: &mut Frame, quote: &advice::Quote) -> Result<(), Stopped> {
    for not_done in &quote.not_done {
        let said = format!(
            "{}: {} ({}).",
            words::capital(&not_done.reason()),
            not_done.job,
            words::list(&not_done.parts)
        );
        writeln!(frame.out, "\n{}", wrapped(&said, ROOM).join("\n    "))?;
    }
    Ok(())
}

/// To the minute.
fn hours_and_minutes(hours: f64) -> String {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let whole = (hours * 60.0).round().max(0.0) as u32;
    minutes(whole)
}
