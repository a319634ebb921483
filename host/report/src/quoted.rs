//! Hours and prices, as a report is given them.

use tellmark_job::advice::Quote;
use tellmark_job::papers::DoneWork;
use tellmark_job::scripts::{Priced, Tax};

/// Hours and prices, as they were worked out.
#[derive(Clone, Copy, Debug)]
pub struct Quoted<'q> {
    /// The hours and what they rest on.
    pub quote: &'q Quote,
    /// What the house's price list makes of them; `None` if it has no list of its own.
    pub priced: Option<&'q Priced>,
    /// What is added to its sums.
    pub taxes: &'q [Tax],
    /// What is done already.
    pub done: DoneWork,
}
