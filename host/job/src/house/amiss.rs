//! What a page must not keep quiet about: that a job goes by other rules than those it is read
//! by, and that these do not know some lines of its record.

use std::collections::BTreeSet;
use tellmark_language::words::list;

/// What is amiss between a job and the rules that it is read by.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Amiss {
    /// What these rules are called.
    pub house: String,
    /// What the rules are called that the job goes by, if it is others.
    pub other: Option<String>,
    /// Lines of the record that these rules do not know, from 1.
    pub not_known: BTreeSet<usize>,
}

impl Amiss {
    /// Whether anything is.
    #[must_use]
    pub fn is_any(&self) -> bool {
        self.other.is_some() || !self.not_known.is_empty()
    }

    /// What it is, a sentence each.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let other = self.other.as_ref().map(|other| {
            format!(
                "This job goes by the rules of \"{other}\", and is read here by those of \"{}\": \
                 what only the others know is not in this.",
                self.house
            )
        });
        let lines: Vec<String> = self.not_known.iter().map(usize::to_string).collect();
        let lines = match lines.as_slice() {
            [] => None,
            [one] => Some(format!(
                "Line {one} of the record is not known to these rules, and left out."
            )),
            some => Some(format!(
                "Lines {} of the record are not known to these rules, and left out.",
                list(some)
            )),
        };
        other.into_iter().chain(lines).collect()
    }
}
