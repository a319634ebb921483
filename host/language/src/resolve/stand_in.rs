//! Work that hangs on something: a job in the place of another, and a ladder that goes
//! for some parts only.

use crate::entry::Entry;
use crate::message::{Message, Problem};
use crate::model::{Condition, KindId, SignId, StandIn};
use crate::resolve::Reader;
use crate::resolve::look::{Done, refuse};
use crate::span::Span;
use crate::syntax::{Conditions, Name};

impl Reader<'_> {
    /// `When …, instead of … plan to …`
    pub(super) fn stand_in(
        &mut self,
        when: &Conditions,
        replaced: &Name,
        job: &Name,
        entry: &Entry,
    ) -> Done<StandIn> {
        let (subject, when) = self.trigger(when, "When")?;
        let (of, by) = (self.job(replaced)?, self.job(job)?);
        if of == by {
            return refuse(job.at, Problem::StandsInForItself { job: &job.text });
        }
        Ok(StandIn {
            subject,
            when,
            replaced: of,
            job: by,
            source: None,
            called: None,
            replaced_at: replaced.at,
            said_at: entry.sentence_at(),
            at: entry.at,
        })
    }

    /// `When …, depending on how … it is …`: the measure, and what must be so.
    pub(super) fn ladder_when(
        &mut self,
        when: &Conditions,
        (noun, thing_at): (Option<&Name>, Span),
        word: &Name,
        phrase: Option<&Name>,
    ) -> Done<(SignId, (KindId, Condition))> {
        let (subject, when) = self.trigger(when, "When")?;
        if noun.is_some() {
            let part = self.model.kinds[subject.index()].name.clone();
            let message = Message::new(thing_at, Problem::LadderOfIt { noun: Some(&part) });
            return Err(Box::new(message.with_fix(thing_at, "it", false)));
        }
        let sign = self.with_look(|look| look.sign_of_measure(subject, word, phrase))?;
        Ok((sign, (subject, when)))
    }
}
