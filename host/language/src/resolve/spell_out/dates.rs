//! Datings for every kind.

use super::Spell;
use crate::message::{Message, Problem};
use crate::model::{Beside, DateBound, Dating, KindId, Relative};
use crate::resolve::look::{Done, refuse};
use crate::words::{a, capital, list};

impl Spell<'_> {
    pub(super) fn dating(
        &self,
        dating: &Dating,
        out: &mut Vec<Dating>,
        refused: &mut Vec<Message>,
    ) {
        for subject in self.kinds_of(dating.subject) {
            let when = dating.when.as_ref();
            let when = when.map(|when| self.condition(subject, when)).transpose();
            let when = match when {
                Ok(when) => when,
                Err(message) => {
                    refused.push(*message);
                    return;
                }
            };
            let bounds = match dating.bound {
                DateBound::LaterThan(owner) => {
                    let owners = self.owners(subject, owner).into_iter();
                    owners.map(DateBound::LaterThan).collect()
                }
                ref other => vec![other.clone()],
            };
            out.extend(bounds.into_iter().map(|bound| Dating {
                subject,
                when: when.clone(),
                bound,
                ..dating.clone()
            }));
        }
    }

    /// What a part has of a kind, of each kind of these.
    pub(super) fn relative(&self, relative: &Relative) -> Done<Vec<Relative>> {
        let mut spelt = Vec::new();
        for subject in self.kinds_of(relative.subject) {
            let when = relative.when.as_ref();
            let when = when.map(|when| self.condition(subject, when)).transpose()?;
            let parts = self.kinds_of(relative.part);
            let parts: Vec<KindId> = parts
                .filter(|&part| self.tree.is_within(part, subject))
                .collect();
            if relative.says == Beside::OneLater && parts.len() > 1 {
                let plural = |kind: &KindId| self.model.kinds[kind.index()].plural.clone();
                let kinds: Vec<String> = parts.iter().map(plural).collect();
                return refuse(
                    relative.at,
                    Problem::CountedOverKinds {
                        owner: &capital(&a(&self.model.kinds[subject.index()].name)),
                        plural: &plural(&relative.part),
                        kinds: &list(&kinds),
                    },
                );
            }
            for part in parts {
                spelt.push(Relative {
                    subject,
                    when: when.clone(),
                    part,
                    ..relative.clone()
                });
            }
        }
        if spelt.is_empty() {
            spelt.push(relative.clone());
        }
        Ok(spelt)
    }
}
