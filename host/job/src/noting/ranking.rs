//! Which of several readings is the likelier by the rules.

use super::Noting;
use crate::record::{Findings, Job, Line, has_part};
use tellmark_compile::check::Checked;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{SetUp, resolve};
use tellmark_core::number::UFloat;
use tellmark_language::Message;
use tellmark_language::model::{Fact, Found};
use tellmark_notes::Reading;

impl Noting<'_> {
    /// Of readings that fit the words about as well, the likelier by the rules come first.
    /// They go by what stands before a line of the record, so that the same remark has its
    /// readings in the same order later. Where the chances cannot be worked out, the words
    /// alone decide.
    pub fn rank(&self, rules: &Checked, job: &Job, until: usize, readings: &mut [Reading]) {
        let Some(built) = &rules.built else {
            return;
        };
        let Ok(pack) = built.bytes.open() else {
            return;
        };
        let lines = job.lines().iter().filter(|line| line.number < until);
        let lines: Vec<Line> = lines.cloned().collect();
        let findings: Findings<Message> =
            Findings::read(self.model, &lines, |text| self.exact.facts(text));
        let all: Vec<&Fact> = findings.standing().map(|one| &one.fact).collect();
        let facts: Vec<&Fact> = all
            .iter()
            .copied()
            .filter(|fact| has_part(self.model, &self.order, &all, fact).is_ok())
            .collect();
        let set_up = SetUp {
            model: self.model,
            built,
            order: &self.order,
            facts: &facts,
            later: None,
        };
        let mut room = Room::<UFloat>::default();
        let Ok(mut case) = set_up.case(pack, &mut room) else {
            return;
        };
        let mut chance = |fact: &Fact| match fact.found {
            Found::State { state, yes, .. } => {
                let parts = resolve(built, &case.inspection, &fact.part);
                let number = built.states.number(state);
                let of_first = parts
                    .first()
                    .map(|&part| case.inspection.chance(part, number));
                let chance = of_first.and_then(Result::ok).map_or(0.5, |c| c.as_f64());
                if yes { chance } else { 1.0 - chance }
            }
            _ => 0.5,
        };
        let mut keyed: Vec<(i64, f64, Reading)> = Vec::new();
        for reading in readings.iter() {
            let likely = reading.facts.iter().map(&mut chance).fold(1.0, f64::min);
            // Tenths: what differs by less fits as well.
            #[allow(clippy::cast_possible_truncation)]
            let fits = (reading.fits * 10.0).round() as i64;
            keyed.push((fits, likely, reading.clone()));
        }
        keyed.sort_by(|one, other| other.0.cmp(&one.0).then(other.1.total_cmp(&one.1)));
        for (place, (_, _, reading)) in readings.iter_mut().zip(keyed) {
            *place = reading;
        }
    }
}
