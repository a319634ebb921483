//! Datings for every kind.

use super::Spell;
use crate::message::Message;
use crate::model::{DateBound, Dating, Relative};
use crate::resolve::look::Done;

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
            for part in parts.filter(|&part| self.tree.is_within(part, subject)) {
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
