//! The owner's answer to a paper, as lines of the record.
//!
//! A yes is one line, and a line of its own for each job that it settles: those that the
//! owner will not have, and those with a fixed price before which the owner was to be asked.
//! What only may come is still asked about when it comes.

use super::agreed::Agreed;
use super::estimate::{Estimate, EstimateJob};
use crate::amount::Money;
use crate::record::{Answer, Decision, Job, PaperKind, PaperName, PaperTrouble, Says};
use rust_decimal::Decimal;
use std::fmt;
use tellmark_language::near::nearest;
use tellmark_language::words::{self, money};

/// What the owner said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// The paper.
    pub paper: PaperName,
    /// Whether they said yes.
    pub yes: bool,
    /// Jobs that they will not have: names, or numbers in the paper as "job 7".
    pub except: Vec<String>,
    /// Up to this sum only.
    pub up_to: Option<String>,
    /// How and why; may be empty.
    pub words: String,
}

/// Why an answer cannot be written down.
#[derive(Debug)]
pub enum NoAnswer {
    /// The paper cannot be gone by.
    Paper(PaperTrouble),
    /// An invoice or a credit is no question.
    NotAsked(PaperName),
    /// The paper has no such job.
    NoJob(PaperName, String, String),
    /// A bare number, and what the paper has under it: the letter counts otherwise.
    WhichNumber(PaperName, usize, String),
    /// This is no amount.
    NotASum(String),
    /// It is in another currency than the paper.
    OtherMoney(String, String),
    /// Another answer stands in its way.
    NotAfter(PaperName, PaperName),
}

impl fmt::Display for NoAnswer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoAnswer::Paper(why) => why.fmt(f),
            NoAnswer::NotAsked(name) => {
                write!(f, "{} asks nothing.", words::capital(&name.to_string()))
            }
            NoAnswer::NoJob(name, asked, near) => {
                let near = match near.as_str() {
                    "" => String::new(),
                    near => format!(" Did you mean \"{near}\"?"),
                };
                write!(
                    f,
                    "{} has no job \"{asked}\".{near} Give a job's name, or its number in the paper \
                     as \"job 7\".",
                    words::capital(&name.to_string())
                )
            }
            NoAnswer::WhichNumber(name, number, job) => write!(
                f,
                "A number may be one of the owner's letter, which counts otherwise than the paper. \
                 In {name} job {number} is \"{job}\": say --except \"job {number}\" for that, or \
                 the name of the job that is meant."
            ),
            NoAnswer::NotASum(text) => write!(
                f,
                "I cannot read \"{text}\" as a sum of money: 900, 900.00 or 1,200.00 would do."
            ),
            NoAnswer::OtherMoney(text, currency) => {
                write!(
                    f,
                    "\"{text}\" is in other money than the paper, which is in {currency}."
                )
            }
            NoAnswer::NotAfter(name, estimate) => write!(
                f,
                "{} adds to {estimate}, to which the owner has not said yes.",
                words::capital(&name.to_string())
            ),
        }
    }
}

impl std::error::Error for NoAnswer {}

/// The lines that say it, and sentences on what it comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lines {
    /// For the record, in one write.
    pub lines: Vec<Says>,
    /// What whoever writes it down should know.
    pub notes: Vec<String>,
}

/// Puts an answer into lines.
///
/// # Errors
/// See [`NoAnswer`].
pub fn answer(job: &Job, said: &Said, today: jiff::civil::Date) -> Result<Lines, NoAnswer> {
    if said.paper.kind.is_of_the_year() {
        return Err(NoAnswer::NotAsked(said.paper));
    }
    let paper = Estimate::read(job, said.paper).map_err(NoAnswer::Paper)?;
    let before = Agreed::of(job).map_err(NoAnswer::Paper)?;
    let is_agreed = |name: &PaperName| before.papers().any(|a| a.paper.name == *name);
    if said.yes && paper.name.kind == PaperKind::Supplement {
        let missing = paper.adds_to.iter().find(|name| !is_agreed(name));
        if let Some(missing) = missing {
            return Err(NoAnswer::NotAfter(paper.name, *missing));
        }
    }
    let up_to = match &said.up_to {
        Some(text) => Some(sum(text, &paper)?),
        None => None,
    };
    let mut except: Vec<&EstimateJob> = Vec::new();
    for asked in &said.except {
        except.extend(meant(&paper, asked)?);
    }
    let mut lines = vec![Says::Answer(Answer {
        paper: paper.name,
        yes: said.yes,
        up_to: up_to.map_or(String::new(), |sum| sum.to_string()),
        words: said.words.clone(),
    })];
    if said.yes {
        lines.extend(decisions(&paper, &except, Says::Refused));
        let earlier = before.answers.iter().find(|a| a.paper.name == paper.name);
        let was_refused =
            |job: &EstimateJob| earlier.is_some_and(|a| a.except.contains(&job.number));
        let has_fixed_price = |job: &EstimateJob| {
            let mut prices = paper.prices.iter();
            prices.any(|line| line.job == Some(job.number) && !line.provisional)
        };
        let settled = paper.jobs.iter().filter(|job| {
            let is_excepted = except.iter().any(|e| e.number == job.number);
            !is_excepted && ((job.ask_owner && has_fixed_price(job)) || was_refused(job))
        });
        let settled: Vec<&EstimateJob> = settled.collect();
        lines.extend(decisions(&paper, &settled, Says::Agreed));
    } else if paper.name.kind == PaperKind::Supplement {
        // Who refuses what is new of an agreed work will not have it done.
        let priced = paper.jobs.iter().filter(|job| {
            let mut prices = paper.prices.iter();
            prices.any(|line| line.job == Some(job.number))
        });
        let priced: Vec<&EstimateJob> = priced.collect();
        lines.extend(decisions(&paper, &priced, Says::Refused));
    }
    let notes = notes(&paper, &except, up_to, today);
    Ok(Lines { lines, notes })
}

/// A line for each job, with its parts.
fn decisions(paper: &Estimate, jobs: &[&EstimateJob], says: fn(Decision) -> Says) -> Vec<Says> {
    let mut decisions: Vec<Decision> = Vec::new();
    for job in jobs {
        match decisions.iter_mut().find(|d| d.job == job.job) {
            Some(known) if known.parts.contains(&job.part) => {}
            Some(known) => known.parts.push(job.part.clone()),
            None => decisions.push(Decision {
                job: job.job.clone(),
                parts: vec![job.part.clone()],
                words: paper.name.to_string(),
            }),
        }
    }
    decisions.into_iter().map(says).collect()
}

/// The jobs of a paper that go by a name, or its number.
fn meant<'p>(paper: &'p Estimate, asked: &str) -> Result<Vec<&'p EstimateJob>, NoAnswer> {
    let asked = asked.trim();
    if let Some(job) = asked.parse().ok().and_then(|number| paper.job(number)) {
        let said = format!("{}: {}", job.job, job.part);
        return Err(NoAnswer::WhichNumber(paper.name, job.number, said));
    }
    let number = asked.strip_prefix("job ").unwrap_or("").parse::<usize>();
    let lower = asked.to_lowercase();
    let is_meant = |job: &&EstimateJob| match number {
        Ok(number) => job.number == number,
        Err(_) => {
            let whole = format!("{}: {}", job.job, job.part).to_lowercase();
            job.job.to_lowercase() == lower || whole == lower
        }
    };
    let jobs: Vec<&EstimateJob> = paper.jobs.iter().filter(is_meant).collect();
    match jobs.is_empty() {
        true => {
            let names = paper.jobs.iter().map(|job| job.job.as_str());
            let near = nearest(&lower, names).map_or_else(String::new, |near| near.joined());
            Err(NoAnswer::NoJob(paper.name, asked.to_owned(), near))
        }
        false => Ok(jobs),
    }
}

/// A sum in the paper's money.
fn sum(text: &str, paper: &Estimate) -> Result<Decimal, NoAnswer> {
    let not_a_sum = || NoAnswer::NotASum(text.to_owned());
    let read = Money::read(text).filter(|money| !money.amount.is_zero());
    let read = read.ok_or_else(not_a_sum)?;
    if !read.may_be_in(&paper.currency) {
        return Err(NoAnswer::OtherMoney(
            text.to_owned(),
            paper.currency.clone(),
        ));
    }
    let mut sum = read.amount;
    if sum.normalize().scale() > paper.at_most.scale() {
        return Err(not_a_sum());
    }
    sum.rescale(paper.at_most.scale());
    Ok(sum)
}

fn notes(
    paper: &Estimate,
    except: &[&EstimateJob],
    up_to: Option<Decimal>,
    today: jiff::civil::Date,
) -> Vec<String> {
    let mut notes = Vec::new();
    if today > paper.until {
        let name = words::capital(&paper.name.to_string());
        notes.push(format!(
            "{name} stood until {}: the answer came later.",
            paper.until
        ));
    }
    let is_left = |line: &&super::estimate::PriceLine| {
        let is_excepted = |job| except.iter().any(|e| e.number == job);
        !line.provisional && !line.job.is_some_and(is_excepted)
    };
    let fixed: Decimal = paper.prices.iter().filter(is_left).map(|l| l.amount).sum();
    if let Some(up_to) = up_to.filter(|up_to| *up_to < fixed) {
        notes.push(format!(
            "{} {} is less than what is fixed, {}: agree with the owner what is left out before \
             the work begins.",
            money(&up_to.to_string()),
            paper.currency,
            money(&fixed.to_string())
        ));
    }
    notes
}
