//! Plans, ladders, cautions and what hangs on something, for every kind.

use super::{Spell, in_place};
use crate::message::Message;
use crate::model::{Caution, Exclusion, Ladder, Model, Plan, StandIn, Tell, Until};
use crate::resolve::look::Done;

impl Spell<'_> {
    pub(super) fn work(&self, out: &mut Model, refused: &mut Vec<Message>) {
        let model = self.model;
        let plans = model.plans.iter().map(|plan| {
            let kinds = self.kinds_of(plan.subject);
            let spelt = kinds.map(|subject| {
                let when = self.condition(subject, &plan.when)?;
                Ok(Plan {
                    subject,
                    when,
                    ..plan.clone()
                })
            });
            self.kept(&plan.at, spelt.collect(), refused)
        });
        out.plans = in_place(plans.collect());
        let ladders = model
            .ladders
            .iter()
            .map(|ladder| self.kept(&ladder.at, self.ladder(ladder), refused));
        out.ladders = in_place(ladders.collect());
        let stand_ins = model.stand_ins.iter().map(|stand_in| {
            let kinds = self.kinds_of(stand_in.subject);
            let spelt = kinds.map(|subject| {
                let when = self.condition(subject, &stand_in.when)?;
                Ok(StandIn {
                    subject,
                    when,
                    ..stand_in.clone()
                })
            });
            self.kept(&stand_in.at, spelt.collect(), refused)
        });
        out.stand_ins = in_place(stand_ins.collect());
        let exclusions = model.exclusions.iter();
        let exclusions = exclusions.map(|one| self.kept(&one.at, self.exclusion(one), refused));
        out.exclusions = in_place(exclusions.collect());
        let cautions = model.cautions.iter().map(|caution| {
            let kinds = self.kinds_of(caution.subject);
            let spelt = kinds.map(|subject| {
                let when = self.condition(subject, &caution.when)?;
                Ok(Caution {
                    subject,
                    when,
                    until: caution.until.map(|until| match until {
                        Until::Known(state) => Until::Known(self.state(state, subject)),
                        Until::Done(job) => Until::Done(job),
                    }),
                    ..caution.clone()
                })
            });
            self.kept(&caution.at, spelt.collect(), refused)
        });
        out.cautions = in_place(cautions.collect());
        let tells = model.tells.iter().map(|tell| {
            let kinds = self.kinds_of(tell.subject);
            let spelt = kinds.map(|subject| {
                let when = self.condition(subject, &tell.when)?;
                Ok(Tell {
                    subject,
                    when,
                    ..tell.clone()
                })
            });
            self.kept(&tell.at, spelt.collect(), refused)
        });
        out.tells = in_place(tells.collect());
        for job in &mut out.jobs {
            for states in [&mut job.mends, &mut job.until] {
                let spelt = states.iter().flat_map(|&state| {
                    let kinds = self.kinds_of(model.states[state.index()].kind);
                    kinds.map(move |kind| self.state(state, kind))
                });
                *states = spelt.collect();
            }
        }
    }

    /// A ladder for each kind of part that is measured, where its condition is about that
    /// part or about each kind of owner that it may have.
    fn ladder(&self, ladder: &Ladder) -> Done<Vec<Ladder>> {
        let of = self.model.signs[ladder.sign.index()].kind;
        let mut spelt = Vec::new();
        for kind in self.kinds_of(of) {
            let sign = self.sign(ladder.sign, kind);
            let about = match &ladder.when {
                None => vec![None],
                Some((subject, _)) if self.model.are_kin(*subject, of) => vec![Some(kind)],
                Some((subject, _)) => self.owners(kind, *subject).into_iter().map(Some).collect(),
            };
            for subject in about {
                let when = ladder.when.as_ref().zip(subject);
                let when = when.map(|((_, when), subject)| {
                    Ok::<_, Box<Message>>((subject, self.condition(subject, when)?))
                });
                spelt.push(Ladder {
                    when: when.transpose()?,
                    sign,
                    ..ladder.clone()
                });
            }
        }
        Ok(spelt)
    }

    fn exclusion(&self, exclusion: &Exclusion) -> Done<Vec<Exclusion>> {
        let Some((subject, when)) = &exclusion.when else {
            return Ok(vec![exclusion.clone()]);
        };
        let spelt = self.kinds_of(*subject).map(|subject| {
            Ok(Exclusion {
                when: Some((subject, self.condition(subject, when)?)),
                ..exclusion.clone()
            })
        });
        spelt.collect()
    }
}
