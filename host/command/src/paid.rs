//! `tellmark paid`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use clap::Args;
use std::path::PathBuf;
use tellmark_job::papers;
use tellmark_job::record::{Payment, Says};

/// Note what the owner paid, a deposit for instance, or was given back
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark paid walnut-chest 250 --how \"by transfer\"\n  tellmark paid \
                  walnut-chest 40.00 --back --how \"in cash, it was too much\"\n\nThe next invoice \
                  takes it off. To put a slip right, note the opposite."
)]
pub struct Paid {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// How much, in the money of the house's prices
    #[arg(value_name = "SUM")]
    sum: String,
    /// How it was paid
    #[arg(long, value_name = "WORDS")]
    how: Option<String>,
    /// It was given back to the owner
    #[arg(long)]
    back: bool,
}

impl Paid {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = frame.job(&self.job)?;
        let one_line = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
        let payment = Payment {
            amount: one_line(&self.sum),
            back: self.back,
            how: one_line(self.how.as_deref().unwrap_or_default()),
        };
        papers::may_be_paid(&job, &payment)
            .map_err(|why| Stopped::Misuse(format!("{why} Nothing was noted.")))?;
        let says = Says::Paid(payment);
        let added = job.append_entry(&says, frame.now)?;
        frame.tell_line(added.number, &says)
    }
}
