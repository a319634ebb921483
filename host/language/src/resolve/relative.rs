//! What is older than what, without a year.

use crate::entry::Entry;
use crate::message::{Message, Problem};
use crate::model::{Beside, Condition, Evidence, KindId, Relative};
use crate::resolve::Reader;
use crate::resolve::look::{Done, Look, refuse};
use crate::span::Span;
use crate::syntax::{Clause, Name};
use crate::words::{a, capital, list_or};

impl Reader<'_> {
    /// `A door is usually earlier than its lock`, `A base that … has a later castor`
    pub(super) fn relative(
        &mut self,
        (noun, that): (&Name, Option<&Clause>),
        (says, missing): (Beside, Option<Span>),
        other: &Name,
        entry: &Entry,
    ) -> Done<Relative> {
        self.with_look(|look| {
            let (subject, when) = look.some(noun, that)?;
            let part = look.plain(other)?.kind;
            if let Some(at) = missing {
                let at = Span {
                    end: at.start,
                    ..at
                };
                let owner = look.name(subject);
                let message = Message::new(
                    noun.at.to(other.at),
                    Problem::UsuallyMissing {
                        subject: owner,
                        part: look.name(part),
                    },
                );
                return Err(Box::new(message.with_fix(at, "usually ", true)));
            }
            look.is_member(subject, part, other)?;
            if says == Beside::OneLater && when.is_none() {
                let owner = look.name(subject);
                let right = format!(
                    "{} that … has a later {}",
                    capital(&a(owner)),
                    look.name(part)
                );
                return refuse(
                    noun.at,
                    Problem::HoldsOfEvery {
                        part: owner,
                        right: &right,
                    },
                );
            }
            Ok(Relative {
                subject,
                when: when as Option<Condition>,
                part,
                says,
                evidence: Evidence::default(),
                source: None,
                called: None,
                said_at: entry.sentence_at(),
                at: entry.at,
            })
        })
    }
}

impl Look<'_> {
    /// Whether a part is built straight into another.
    fn is_member(&self, owner: KindId, part: KindId, noun: &Name) -> Done<()> {
        if self.tree.member(owner, part).is_some() {
            return Ok(());
        }
        let owners: Vec<String> = self.tree.owners(part).iter().map(|&o| self.a(o)).collect();
        refuse(
            noun.at,
            Problem::NotStraightInto {
                part: self.name(part),
                subject: &self.a(owner),
                owners: (!owners.is_empty()).then(|| list_or(&owners)).as_deref(),
            },
        )
    }
}
