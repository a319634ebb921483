//! A quotation as it is told in a terminal.

use super::Worked;
use crate::exit::Stopped;
use crate::frame::Frame;
use rust_decimal::Decimal;
use tellmark_job::advice::{self, Item, Points};
use tellmark_job::papers::{Agreed, Estimate, Groups, PriceLine};
use tellmark_job::scripts::Line;
use tellmark_language::ink::Ink;
use tellmark_language::words::{self, figure, hours, minutes, money};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// What the owner said to papers, and whether this goes over it.
pub(super) fn print_agreed(frame: &mut Frame, worked: &Worked) -> Result<(), Stopped> {
    for answered in &worked.agreed.answers {
        let said = format!(
            "{} ({})",
            words::capital(&answered.in_words()),
            answered.when
        );
        writeln!(frame.out, "{}", wrapped(&said, ROOM).join("\n    "))?;
    }
    if !worked.agreed.is_any() {
        return Ok(());
    }
    let most = worked.done + worked.priced.at_most;
    let over = most - worked.agreed.at_most();
    let with_done = match worked.done.is_zero() {
        true => "This".to_owned(),
        false => format!(
            "With {} for what is done, this",
            money(&worked.done.to_string())
        ),
    };
    if over > Decimal::ZERO {
        let said = format!(
            "{with_done} comes to {} {} at most, {} more than was agreed: ask before more is begun. \
             --supplement says what of it is new, if anything is.",
            money(&most.to_string()),
            worked.priced.currency,
            money(&over.to_string())
        );
        writeln!(frame.out, "{}", wrapped(&said, ROOM).join("\n    "))?;
    }
    Ok(())
}

pub(super) fn print_prices(frame: &mut Frame, worked: &Worked) -> Result<(), Stopped> {
    let priced = &worked.priced;
    let currency = &priced.currency;
    let groups = Groups::of(priced, &worked.quote.items);
    print_groups(frame, &groups, priced.fixed_total, currency)?;
    // What the owner agreed to holds, and their limit, whatever may come to light.
    if worked.unasked < priced.at_most {
        let most = money(&priced.at_most.to_string());
        print_total(frame, "All of it at most", &format!("{most} {currency}"))?;
    }
    let unasked = worked.unasked;
    let unasked = money(&unasked.to_string());
    print_total(
        frame,
        "Never more, unasked",
        &format!("{unasked} {currency}"),
    )?;
    writeln!(frame.out)?;
    Ok(())
}

/// What is fixed, what is planned as well, and what may come to it.
fn print_groups(
    frame: &mut Frame,
    groups: &Groups<'_>,
    fixed_total: Decimal,
    currency: &str,
) -> Result<(), Stopped> {
    let total = |frame: &mut Frame, what: &str, amount: Decimal| {
        let amount = format!("{} {currency}", money(&amount.to_string()));
        print_total(frame, what, &amount)
    };
    if !groups.fixed.is_empty() {
        writeln!(frame.out, "\n{STRONG}Fixed{STRONG:#}")?;
        print_lines(frame, &groups.fixed)?;
        total(frame, "Fixed in all", fixed_total)?;
    }
    if let Some(planned) = groups.planned_total {
        writeln!(
            frame.out,
            "\n{STRONG}Planned{STRONG:#}, each up to the amount beside it, unless the work \
             shows otherwise"
        )?;
        print_lines(frame, &groups.planned)?;
        total(frame, "With what is planned", planned)?;
    }
    if !groups.perhaps.is_empty() {
        writeln!(
            frame.out,
            "\n{STRONG}May come to it{STRONG:#}, each up to the amount beside it"
        )?;
        print_lines(frame, &groups.perhaps)?;
    }
    Ok(())
}

/// What is new against what was agreed.
pub(super) fn print_supplement(
    frame: &mut Frame,
    new: &Estimate,
    agreed: &Agreed,
) -> Result<(), Stopped> {
    writeln!(
        frame.out,
        "{STRONG}New against what was agreed: {}{STRONG:#}",
        new.piece
    )?;
    for answered in agreed.standing() {
        writeln!(frame.out, "{FAINT}{}{FAINT:#}", answered.in_words())?;
    }
    let of = |provisional: bool, planned: bool| -> Vec<Line> {
        let wanted = |p: &&PriceLine| (p.provisional, p.planned) == (provisional, planned);
        let lines = new.prices.iter().filter(wanted);
        let lines = lines.map(|price| Line {
            text: price.text.clone(),
            amount: price.amount,
            ask_owner: new
                .jobs
                .iter()
                .any(|j| Some(j.number) == price.job && j.ask_owner),
            item: None,
        });
        lines.collect()
    };
    let (fixed, planned, perhaps) = (of(false, false), of(true, true), of(true, false));
    let groups = Groups {
        fixed: fixed.iter().collect(),
        planned: planned.iter().collect(),
        perhaps: perhaps.iter().collect(),
        planned_total: new.planned_total,
    };
    print_groups(frame, &groups, new.fixed_total, &new.currency)?;
    let total = |frame: &mut Frame, what: &str, amount: Decimal| {
        let amount = format!("{} {}", money(&amount.to_string()), new.currency);
        print_total(frame, what, &amount)
    };
    let lines: Decimal = new.prices.iter().map(|price| price.amount).sum();
    if new.at_most < lines {
        total(frame, "All of it at most", lines)?;
    }
    total(frame, "Never more, unasked", new.at_most)?;
    let whole = |frame: &mut Frame, what: &str, before: Decimal, now: Decimal| {
        let (before, now) = (money(&before.to_string()), money(&now.to_string()));
        writeln!(frame.out, "{what}: {before} agreed, {now} with this.")
    };
    writeln!(frame.out)?;
    let with = agreed.with(new);
    whole(frame, "Fixed", agreed.fixed(), with.fixed())?;
    whole(frame, "At most", agreed.at_most(), with.at_most())?;
    if !new.decide.is_empty() {
        let jobs = words::list_or(&new.decide);
        writeln!(frame.out, "* The owner decides, before you {jobs}.")?;
    }
    Ok(())
}

/// Columns for sentences.
pub(super) const ROOM: usize = 78;
/// Columns before an amount, and for it.
const WIDTH: (usize, usize) = (60, 12);

fn print_lines(frame: &mut Frame, lines: &[&Line]) -> Result<(), Stopped> {
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
pub(super) fn wrapped(text: &str, most: usize) -> Vec<String> {
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

pub(super) fn print_total(frame: &mut Frame, what: &str, amount: &str) -> Result<(), Stopped> {
    let (number, currency) = amount.split_once(' ').unwrap_or((amount, ""));
    let (text, amounts) = WIDTH;
    writeln!(
        frame.out,
        "  {STRONG}{what:text$}{number:>amounts$}{STRONG:#} {currency}"
    )?;
    Ok(())
}

/// What is to be done a second time.
pub(super) fn print_again(frame: &mut Frame, quote: &advice::Quote) -> Result<(), Stopped> {
    for said in quote.again_in_words() {
        writeln!(frame.out, "{}", wrapped(&said, ROOM).join("\n    "))?;
    }
    Ok(())
}

pub(super) fn print_holds(frame: &mut Frame, items: &[Item]) -> Result<(), Stopped> {
    let mut jobs: Vec<&str> = Vec::new();
    for item in items.iter().filter(|item| item.comes_up_to_decide()) {
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

pub(super) fn print_hours(frame: &mut Frame, quote: &advice::Quote) -> Result<(), Stopped> {
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
    if quote.has_planned_hours() {
        row(frame, "all that is planned", &quote.planned_hours)?;
    }
    row(frame, "as it may turn out", &quote.hours)?;
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

pub(super) fn print_widens(frame: &mut Frame, quote: &advice::Quote) -> Result<(), Stopped> {
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
pub(super) fn print_left(frame: &mut Frame, quote: &advice::Quote) -> Result<(), Stopped> {
    for left in &quote.left {
        let because = match left.because.as_str() {
            "" => String::new(),
            because => format!(" ({because})"),
        };
        let said = format!(
            "Left alone, as the owner wishes: {}{because}. What the rules call for there, or may \
             call for, is in none of the figures: {}.",
            words::list(&left.parts),
            left.what()
        );
        writeln!(frame.out, "{}", wrapped(&said, ROOM).join("\n    "))?;
    }
    Ok(())
}

/// What is called for and in none of the figures, because what it needs was refused.
pub(super) fn print_not_done(frame: &mut Frame, quote: &advice::Quote) -> Result<(), Stopped> {
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
