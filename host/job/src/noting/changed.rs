//! What is said to be otherwise now, with nothing ticked that would have changed it.

use super::{Changed, Left, Noting};
use crate::record::{Entry, Findings, Job, Remark, Says, puts_right};
use crate::worries::sense;
use tellmark_language::Message;
use tellmark_language::model::{Fact, Found, PartRef, Sense};
use tellmark_language::words::fact_line;
use tellmark_notes::{Reading, Understood, What};

/// Words by which somebody says that something has changed.
const NOW: [&str; 6] = [
    "now",
    "nowadays",
    "no longer",
    "any longer",
    "any more",
    "anymore",
];

/// Whether words say how something was: "was stiff", "were sticking". What was done to it, as
/// "was nailed", is there still.
fn says_was(typed: &str) -> bool {
    let words = typed.split(|letter: char| !letter.is_alphanumeric());
    let words: Vec<String> = words
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect();
    let is_small = |word: &str| {
        matches!(
            word,
            "very"
                | "quite"
                | "rather"
                | "a"
                | "bit"
                | "little"
                | "badly"
                | "always"
                | "often"
                | "so"
        )
    };
    words.iter().enumerate().any(|(at, word)| {
        let mut then = words[at + 1..].iter().filter(|word| !is_small(word));
        matches!(word.as_str(), "was" | "were")
            && then.next().is_some_and(|word| !says_what_was_done(word))
    })
}

/// Whether a word after "was" says what was done: "nailed", "broken", "cut".
fn says_what_was_done(word: &str) -> bool {
    const OTHERS: [&str; 24] = [
        "bent", "bought", "built", "burnt", "cut", "found", "gone", "held", "hung", "kept", "laid",
        "left", "let", "lost", "made", "not", "put", "set", "sold", "split", "stuck", "there",
        "worn", "torn",
    ];
    word.ends_with("ed") || word.ends_with("en") || OTHERS.contains(&word)
}

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
    /// Takes out of a note what is said to have been so, which a finding would say is so: each is
    /// a remark of its own, with the one reading.
    pub(super) fn take_past(&self, typed: &str, understood: &mut Understood) -> Vec<Left> {
        let mut left = Vec::new();
        if !says_was(typed) {
            return left;
        }
        understood.heard.retain(|heard| {
            let words = typed.get(heard.typed.clone()).unwrap_or_default();
            let What::Found(facts) = &heard.what else {
                return true;
            };
            let is_told = |fact: &Fact| sense(self.model, fact) == Some(Sense::Ask);
            let is_state = |fact: &Fact| matches!(fact.found, Found::State { yes: true, .. });
            let is_past = facts.iter().all(is_state) && !facts.iter().any(is_told);
            if !is_past || !says_was(words) {
                return true;
            }
            left.push(self.with_one_reading(&heard.about, words, facts));
            false
        });
        left
    }

    /// A remark of its own, with the one reading that it has.
    fn with_one_reading(&self, about: &PartRef, words: &str, facts: &[Fact]) -> Left {
        Left {
            remark: Remark {
                part: self.part_words(about),
                words: words.to_owned(),
            },
            readings: vec![Reading {
                facts: facts.to_vec(),
                fits: 1.0,
            }],
            unread: Vec::new(),
            sayables: Vec::new(),
        }
    }

    /// Takes out of a note what is said to be otherwise by now: written, it would put an earlier
    /// finding right, as if that had never been so. Each is a remark of its own, with the one
    /// reading. Once something is ticked that mends anything, the moments of the piece tell the
    /// two apart.
    pub(super) fn take_changed(
        &self,
        job: &Job,
        typed: &str,
        understood: &mut Understood,
    ) -> (Vec<Changed>, Vec<Left>) {
        let (mut changed, mut left) = (Vec::new(), Vec::new());
        if !says_now(typed) {
            return (changed, left);
        }
        let findings = self.findings(job);
        understood.heard.retain(|heard| {
            let words = typed.get(heard.typed.clone()).unwrap_or_default();
            let What::Found(facts) = &heard.what else {
                return true;
            };
            let before = facts.iter().find_map(|fact| self.was(job, &findings, fact));
            let Some(before) = before.filter(|_| says_now(words)) else {
                return true;
            };
            changed.push(before);
            left.push(self.with_one_reading(&heard.about, words, facts));
            false
        });
        (changed, left)
    }

    /// The finding that says the opposite of a fact, with no mend ticked since.
    fn was(&self, job: &Job, findings: &Findings<Message>, fact: &Fact) -> Option<Changed> {
        let Found::State { yes, .. } = fact.found else {
            return None;
        };
        let is_it = |earlier: &Fact| {
            matches!(earlier.found, Found::State { yes: before, .. } if before != yes)
                && puts_right(self.model, fact, earlier)
        };
        let mut standing = findings.standing();
        let earlier = standing.find(|one| is_it(&one.fact))?;
        let is_since = |entry: &Entry| entry.number > earlier.number;
        let mut since = job.entries().iter().filter(|entry| is_since(entry));
        match since.any(|entry| self.mends(entry)) {
            true => None,
            false => Some(Changed {
                line: earlier.number,
                said: fact_line(self.model, &earlier.fact),
            }),
        }
    }

    /// Whether a line of the record ticks something that mends anything.
    fn mends(&self, entry: &Entry) -> bool {
        let Says::Done { job, mends, .. } = &entry.says else {
            return false;
        };
        let mut jobs = self.model.jobs.iter();
        let known = jobs.find(|known| known.name == *job);
        !mends.is_empty() || known.is_some_and(|known| !known.mends.is_empty())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_so_is_told_from_what_was_done() {
        assert!(says_was("drawer 2 was stiff"));
        assert!(says_was("The hinges were very loose."));
        assert!(!says_was("drawer 1 was nailed at some time"));
        assert!(!says_was("the leg was broken"));
        assert!(!says_was("drawer 2 is stiff"));
        assert!(!says_was("was not stiff"));
    }

    #[test]
    fn words_of_time_are_words_of_their_own() {
        assert!(says_now("no fresh frass now"));
        assert!(says_now("Drawer 2 is no longer stiff."));
        assert!(says_now("it doesn't rattle any-more"));
        assert!(!says_now("known to be stiff, and snow on it"));
    }
}
