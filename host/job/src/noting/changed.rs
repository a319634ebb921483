//! What is said to be otherwise now, with nothing ticked that would have changed it.

use super::{Noting, Refused};
use crate::record::{Job, Says, puts_right};
use tellmark_language::model::{Fact, Found};
use tellmark_language::words::fact_line;

/// Words by which somebody says that something has changed.
const NOW: [&str; 6] = [
    "now",
    "nowadays",
    "no longer",
    "any longer",
    "any more",
    "anymore",
];

/// Whether words say that something is so by now.
fn says_now(typed: &str) -> bool {
    let words = typed.split(|letter: char| !letter.is_alphanumeric());
    let words: Vec<String> = words
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let said = format!(" {} ", words.join(" "));
    NOW.iter().any(|now| said.contains(&format!(" {now} ")))
}

impl Noting<'_> {
    /// Why something that is said to be otherwise by now is not written: it would put an earlier
    /// finding right, as if that had never been so. Once something is ticked, the moments of the
    /// piece tell the two apart.
    pub(super) fn changed(&self, job: &Job, typed: &str, facts: &[Fact]) -> Option<Refused> {
        if !says_now(typed) {
            return None;
        }
        let findings = self.findings(job);
        let is_worked_on = |line: usize| {
            let mut entries = job.entries().iter();
            entries.any(|entry| entry.number > line && matches!(entry.says, Says::Done { .. }))
        };
        facts.iter().find_map(|fact| {
            let Found::State { yes, .. } = fact.found else {
                return None;
            };
            let is_it = |earlier: &Fact| {
                matches!(earlier.found, Found::State { yes: before, .. } if before != yes)
                    && puts_right(self.model, fact, earlier)
            };
            let mut standing = findings.standing();
            let earlier = standing.find(|one| is_it(&one.fact) && !is_worked_on(one.number))?;
            Some(Refused::Changed {
                line: earlier.number,
                said: fact_line(self.model, &earlier.fact),
            })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_of_time_are_words_of_their_own() {
        assert!(says_now("no fresh frass now"));
        assert!(says_now("Drawer 2 is no longer stiff."));
        assert!(says_now("it doesn't rattle any-more"));
        assert!(!says_now("known to be stiff, and snow on it"));
    }
}
