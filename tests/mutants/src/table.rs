//! What came of the changes, by area.

use crate::allowed::Allowed;
use crate::trial::{Mutant, Outcome};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// What is known of each change, by what it is called.
pub type Outcomes = BTreeMap<String, Outcome>;

/// One row of the table.
#[derive(Default)]
struct Row {
    tried: usize,
    caught: usize,
    took_too_long: usize,
    survived: usize,
    not_reached: usize,
    allowed: usize,
    not_tried: usize,
}

/// The table, and every change that no test noticed.
pub fn table(mutants: &[Mutant], outcomes: &Outcomes, allowed: &Allowed) -> String {
    let mut rows: BTreeMap<&str, Row> = BTreeMap::new();
    let mut unnoticed = String::new();
    for mutant in mutants {
        let row = rows.entry(mutant.area).or_default();
        let key = mutant.key();
        if allowed.contains_key(&key) {
            row.allowed += 1;
            continue;
        }
        let Some(outcome) = outcomes.get(&key) else {
            row.not_tried += 1;
            continue;
        };
        row.tried += 1;
        match outcome {
            Outcome::Caught => row.caught += 1,
            Outcome::TookTooLong => {
                row.caught += 1;
                row.took_too_long += 1;
            }
            Outcome::Survived => row.survived += 1,
            Outcome::NotReached => row.not_reached += 1,
        }
        if matches!(outcome, Outcome::Survived | Outcome::NotReached) {
            let _ = writeln!(
                unnoticed,
                "{outcome}: {}:{} {}",
                mutant.file, mutant.line, mutant.what
            );
        }
    }
    let mut text = String::from(
        "| area | tried | caught | of these by time | survived | not reached | caught of tried | allowed | not tried |\n\
         | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n",
    );
    for (area, row) in &rows {
        // In tenths of a percent.
        let share = (row.caught * 1000).checked_div(row.tried).unwrap_or(0);
        let _ = writeln!(
            text,
            "| {area} | {} | {} | {} | {} | {} | {}.{} % | {} | {} |",
            row.tried,
            row.caught,
            row.took_too_long,
            row.survived,
            row.not_reached,
            share / 10,
            share % 10,
            row.allowed,
            row.not_tried,
        );
    }
    if !unnoticed.is_empty() {
        text += "\nNo test noticed:\n\n";
        text += &unnoticed;
    }
    text
}

/// As it is kept for the next time.
pub fn write(outcomes: &Outcomes) -> String {
    let lines = outcomes
        .iter()
        .map(|(key, outcome)| format!("{outcome}\t{key}\n"));
    lines.collect()
}

/// What was kept.
pub fn read(text: &str) -> Outcomes {
    let lines = text.lines().filter_map(|line| line.split_once('\t'));
    lines
        .filter_map(|(said, key)| {
            let outcome = Outcome::ALL.into_iter().find(|o| o.to_string() == said)?;
            Some((key.to_owned(), outcome))
        })
        .collect()
}
