//! `tellmark paid`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use clap::Args;
use serde_json::json;
use std::path::PathBuf;
use tellmark_job::papers::{self, Account};
use tellmark_job::record::{Job, Payment, Says};
use tellmark_language::words::capital;

/// Note what the owner paid, a deposit for instance, or was given back
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark paid walnut-chest 250 --how \"by transfer\"\n  tellmark paid \
                  walnut-chest 40.00 --back --how \"in cash, it was too much\"\n  tellmark paid \
                  walnut-chest\n\nThe next invoice \
                  takes it off. To put a slip right, note the opposite."
)]
pub struct Paid {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// How much, in the money of the house's prices; if left out, what is left to pay is said
    #[arg(value_name = "SUM")]
    sum: Option<String>,
    /// How it was paid
    #[arg(long, value_name = "WORDS", requires = "sum")]
    how: Option<String>,
    /// It was given back to the owner
    #[arg(long, requires = "sum")]
    back: bool,
}

impl Paid {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = frame.job(&self.job)?;
        let Some(sum) = &self.sum else {
            return show(&job, frame);
        };
        let one_line = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
        let payment = Payment {
            amount: one_line(sum),
            back: self.back,
            how: one_line(self.how.as_deref().unwrap_or_default()),
        };
        papers::may_be_paid(&job, &payment)
            .map_err(|why| Stopped::Misuse(format!("{why} Nothing was noted.")))?;
        let says = Says::Paid(payment);
        let added = job.append_entry(&says, frame.now)?;
        let exit = frame.tell_line(added.number, &says)?;
        if !frame.global.json
            && let Ok(Some(account)) = Account::of(&job)
        {
            writeln!(frame.out, "{}.", capital(&account.in_words("the owner's")))?;
        }
        Ok(exit)
    }
}

/// What is left to pay.
fn show(job: &Job, frame: &mut Frame) -> Result<Exit, Stopped> {
    let account = Account::of(job).map_err(|why| Stopped::Misuse(why.to_string()))?;
    if frame.global.json {
        frame.print_json(Shape::ACCOUNT, json!({ "account": account }))?;
        return Ok(Exit::Fine);
    }
    let said = account.map_or_else(
        || "Nothing was invoiced or paid yet".to_owned(),
        |account| capital(&account.in_words("the owner's")),
    );
    writeln!(frame.out, "{said}.")?;
    Ok(Exit::Fine)
}
