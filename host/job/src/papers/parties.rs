//! Between whom a paper is: the workshop that writes it and the owner of the piece.

use super::text::Labelled;
use crate::house::Workshop;
use crate::record::Job;
use serde::Serialize;

/// The label of the workshop's line in a paper.
const FROM: &str = "from";
/// The label of the owner's line.
const OWNER: &str = "owner";

/// Between whom a paper is.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Parties {
    /// The workshop, in one line; `None` if the house has no `workshop.txt`, or nothing in it.
    pub from: Option<String>,
    /// The owner, as `job.txt` has them; `None` if it does not say.
    pub owner: Option<String>,
}

impl Parties {
    /// The workshop of this house, and the owner of this job's piece.
    #[must_use]
    pub fn of(workshop: &Workshop, job: &Job) -> Parties {
        let from = workshop.in_one_line();
        Parties {
            from: (!from.is_empty()).then_some(from),
            owner: job.header().owner(),
        }
    }

    /// The two as they stand in a paper: the label, and what is said.
    pub fn lines(&self) -> impl Iterator<Item = (&'static str, &str)> {
        let both = [(FROM, &self.from), (OWNER, &self.owner)];
        let both = both.into_iter();
        both.filter_map(|(label, said)| Some((label, said.as_deref()?)))
    }

    pub(super) fn write(&self, text: &mut Labelled) {
        for (label, said) in self.lines() {
            text.line(label, said);
        }
    }

    pub(super) fn read(text: &Labelled) -> Parties {
        let said = |label| text.one_if_there(label).map(str::to_owned);
        Parties {
            from: said(FROM),
            owner: said(OWNER),
        }
    }
}
