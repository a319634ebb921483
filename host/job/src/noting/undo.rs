//! Taking a note back.

use super::{Noted, Noting};
use crate::record::{Job, JobError, New, Says};
use jiff::civil::DateTime;
use tellmark_language::model::{Asks, Fact, Found, Nature, SignId};
use tellmark_language::words::fact_line;

impl Noting<'_> {
    /// Takes back what was written of a note: what was known before counts again, and what
    /// was not is open again.
    ///
    /// # Errors
    /// As [`Noting::write`].
    pub fn undo(&mut self, job: &mut Job, noted: &Noted, now: DateTime) -> Result<(), JobError> {
        let mut lines: Vec<String> = Vec::new();
        if let Some((numbers, facts)) = &noted.found {
            let findings = self.findings(job);
            for fact in facts {
                let before = findings.all.iter().rev().find(|one| {
                    one.put_right_by.is_some_and(|by| numbers.contains(&by))
                        && one.fact.part == fact.part
                });
                let back = match before {
                    Some(before) => Some(fact_line(self.model, &before.fact)),
                    None => self
                        .open_again(fact)
                        .map(|open| fact_line(self.model, &open)),
                };
                lines.extend(back);
            }
        }
        let left = noted.left.iter();
        let settled: Vec<Says> = left
            .map(|(_, left)| Says::Settled(left.remark.clone()))
            .collect();
        let mut new: Vec<New<'_>> = lines.iter().map(|line| New::Finding(line)).collect();
        new.extend(settled.iter().map(New::Entry));
        if !new.is_empty() {
            job.append_all(&new, now)?;
            self.look_again(job);
        }
        Ok(())
    }

    /// The note that takes an answer back, if there is one.
    fn open_again(&self, fact: &Fact) -> Option<Fact> {
        let found = match fact.found {
            Found::State { state, .. } => match self.model.states.get(state.index())?.nature {
                Nature::Seen(sign) => Found::NotLooked(sign),
                Nature::Hidden { .. } | Nature::CountsAs { .. } => Found::NotOpened(state),
            },
            Found::Measure { sign, .. }
            | Found::Choice { sign, .. }
            | Found::Degree { sign, .. }
            | Found::SignCannotBeSeen(sign) => Found::NotLooked(sign),
            Found::Count { part, .. } => {
                let counts = |asks: &Asks| matches!(asks, Asks::HowMany(kind) if *kind == part);
                let sign = self
                    .model
                    .signs
                    .iter()
                    .position(|sign| counts(&sign.asks))?;
                Found::NotLooked(SignId(u16::try_from(sign).ok()?))
            }
            Found::PartCannotBeSeen => Found::PartCanBeSeen,
            Found::PartCanBeSeen | Found::NotLooked(_) | Found::NotOpened(_) => return None,
        };
        Some(Fact {
            found,
            ..fact.clone()
        })
    }
}
