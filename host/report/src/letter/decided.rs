//! What the owner has said yes to, and to which papers no.

use super::super::owner::decisions;
use super::super::price::amount;
use super::super::when::noted;
use super::Gathering;
use serde::Serialize;
use tellmark_job::amount::Money;
use tellmark_job::papers::{Agreed, Answered};
use tellmark_job::record::PaperName;
use tellmark_language::words::{capital, list};

/// Something that the owner decided.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Answer {
    /// Whether they said yes.
    pub yes: bool,
    /// "Estimate 1, up to £900.00, but without “treat for worm”."
    pub what: String,
    /// The day, and how it was said; may be empty.
    pub when: String,
}

/// The answers to papers that count, then what was decided of single jobs.
pub(super) fn decided(g: &Gathering<'_>) -> Vec<Answer> {
    let agreed = Agreed::of(g.matter.job()).unwrap_or_default();
    let standing = agreed.standing();
    let refused = agreed.answers.iter().filter(|a| !a.answer.yes);
    let papers: Vec<&Answered> = standing.into_iter().chain(refused).collect();
    let is_of_paper = |words: &str| {
        let name = PaperName::read(words);
        name.is_some_and(|name| agreed.answers.iter().any(|a| a.paper.name == name))
    };
    let single = decisions(g.matter);
    let single = single
        .into_iter()
        .filter(|decision| decision.agreed && !is_of_paper(&decision.words))
        .map(|decision| {
            let mut what = capital(&decision.job);
            if !decision.parts.is_empty() {
                what.push_str(&format!(": {}", decision.parts));
            }
            if !decision.open_again.is_empty() {
                let open = decision.open_again;
                what.push_str(&format!(", but for {open}, which you have not decided"));
            }
            Answer {
                yes: true,
                what: what + ".",
                when: said(decision.day, &decision.words),
            }
        });
    papers.into_iter().map(answer).chain(single).collect()
}

fn answer(answered: &Answered) -> Answer {
    let mut what = capital(&answered.paper.name.to_string());
    if let Some(up_to) = Money::read(&answered.answer.up_to).filter(|_| answered.answer.yes) {
        let sum = amount(&answered.paper.currency, &up_to.amount);
        what.push_str(&format!(", up to {sum}"));
    }
    let jobs = answered.paper.jobs.iter();
    let mut without: Vec<String> = Vec::new();
    for job in jobs.filter(|job| answered.answer.yes && answered.except.contains(&job.number)) {
        let job = format!("“{}”", job.job);
        if !without.contains(&job) {
            without.push(job);
        }
    }
    if !without.is_empty() {
        what.push_str(&format!(", but without {}", list(&without)));
    }
    Answer {
        yes: answered.answer.yes,
        what: what + ".",
        when: said(noted(answered.when), &answered.answer.words),
    }
}

/// When and how: "1 Dec 2026, by letter".
fn said(day: String, words: &str) -> String {
    match (day.as_str(), words) {
        (_, "") => day,
        ("", words) => words.to_owned(),
        (day, words) => format!("{day}, {words}"),
    }
}
