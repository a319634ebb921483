//! Plans, jobs, what comes before what, cautions.

use tellmark_core::pack::{Caution, Constraint, Force, Job, NONE, Pair, Plan};

use super::Writer;
use crate::numbers::{Number as _, Overflow, numbers};
use crate::plans::calls;
use crate::rules::Rules;
use crate::ties::ties;

impl Writer<'_> {
    pub(super) fn plans(&mut self) -> Result<Vec<Plan>, Overflow> {
        calls(self.rules.model)
            .iter()
            .map(|call| {
                Ok(Plan {
                    subject: call.subject.0,
                    job: call.job.0,
                    condition: self.call(call)?,
                    source: self.source(call.source)?,
                })
            })
            .collect()
    }

    pub(super) fn jobs(&mut self) -> Result<Vec<Job>, Overflow> {
        let model = self.rules.model;
        model
            .jobs
            .iter()
            .map(|job| {
                Ok(Job {
                    name: self.texts.add(&job.name)?,
                    needs: self.texts.add(&job.needs.join(", "))?,
                    takes: match job.takes {
                        Some(t) => [t.least.amount()?, t.mostly.amount()?, t.most.amount()?],
                        None => [0; 3],
                    },
                    waits: match job.waits {
                        Some((least, most)) => [least.amount()?, most.amount()?],
                        None => [0; 2],
                    },
                    once_for: job.once_for.map_or(NONE, |kind| kind.0),
                    source: self.source(job.source)?,
                    ask_owner: job.ask_owner,
                    stage: job.stage.number(),
                })
            })
            .collect()
    }

    pub(super) fn constraints(&mut self) -> Result<Vec<Constraint>, Overflow> {
        let model = self.rules.model;
        let ties = ties(model).into_iter().map(|tie| Constraint {
            before: tie.before.0,
            after: tie.after.0,
            because: 0,
            force: tie.force,
        });
        let mut all: Vec<Constraint> = ties.collect();
        for order in &model.orders {
            all.push(Constraint {
                before: order.before.0,
                after: order.after.0,
                because: self
                    .texts
                    .add(order.because.as_deref().unwrap_or_default())?,
                force: if order.always {
                    Force::Always
                } else {
                    Force::Better
                },
            });
        }
        Ok(all)
    }

    pub(super) fn cautions(&mut self) -> Result<Vec<Caution>, Overflow> {
        let model = self.rules.model;
        model
            .cautions
            .iter()
            .map(|caution| {
                Ok(Caution {
                    subject: caution.subject.0,
                    text: self.texts.add(&caution.text)?,
                    condition: self.condition(Some(&caution.when))?,
                    source: self.source(caution.source)?,
                    stop: caution.stop,
                })
            })
            .collect()
    }

    pub(super) fn pairs(&self) -> Vec<Pair> {
        let Rules { model, states, .. } = self.rules;
        // Those that hang on something are looked at with the plan, on the host.
        let always = model.exclusions.iter().filter(|one| one.when.is_none());
        let exclusions = always.map(|exclusion| Pair {
            job: exclusion.one.0,
            other: exclusion.other.0,
            mends: false,
        });
        let mends = numbers().zip(&model.jobs).flat_map(|(job, record)| {
            record.mends.iter().map(move |&state| Pair {
                job,
                other: states.number(state),
                mends: true,
            })
        });
        exclusions.chain(mends).collect()
    }
}
