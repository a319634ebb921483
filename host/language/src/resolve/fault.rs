//! Hidden faults, and marks on a measure that have a name.

use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::message::{Message, Problem};
use crate::model::{Asks, KindId, Mark, Nature, SignId, State, StateId, Ticks, Verb};
use crate::resolve::Reader;
use crate::resolve::look::{Done, refuse};
use crate::resolve::particulars::Particulars;
use crate::syntax::{Name, Saying};
use crate::vocab::Said;
use crate::words::a;

impl Reader<'_> {
    pub(super) fn hidden(&mut self, entry: &Entry) {
        let Some((owner, verb, phrase)) = self.parse(entry, declare::hidden) else {
            return;
        };
        let particulars = self.particulars(entry);
        let good = self.good_name(&phrase, true);
        if self.keep(entry, good).is_none() {
            return;
        }
        let Some(kind) = self.owner(entry, &owner) else {
            return;
        };
        let before = self.said_before(entry, kind, &phrase);
        let Some(before) = self.keep(entry, before) else {
            return;
        };
        if let Some(Said::State(id)) = before {
            let was = self.model.states[id.index()].at;
            let state = &mut self.model.states[id.index()];
            if let Nature::Hidden { missed } = &mut state.nature {
                *missed = particulars.missed.or(*missed);
                state.on_its_own = particulars.on_its_own.or(state.on_its_own);
                state.source = particulars.from.or(state.source);
                state.at = entry.at;
                self.plain_of_state(entry, id, &particulars);
                let words = format!("{} may be {}", owner.text, phrase.text);
                self.replaced(&words, was, entry.at);
                return;
            }
        }
        if before.is_some() {
            let line = self.files.line(entry.at);
            let owner = a(&owner.text);
            self.fail(
                entry,
                Message::new(
                    phrase.at,
                    Problem::SaidAlready {
                        phrase: &phrase.text,
                        owner: &owner,
                        line: &line,
                    },
                ),
            );
            return;
        }
        self.push_state(
            entry,
            kind,
            verb,
            &phrase,
            Nature::Hidden {
                missed: particulars.missed,
            },
            &particulars,
        );
    }

    fn push_state(
        &mut self,
        entry: &Entry,
        kind: KindId,
        verb: Verb,
        phrase: &Name,
        nature: Nature,
        particulars: &Particulars,
    ) {
        let Ok(id) = u16::try_from(self.model.states.len()).map(StateId) else {
            self.too_many("faults", entry.at);
            return;
        };
        let written = self.written(phrase.at);
        self.vocab.add_state(kind, id, &written);
        self.model.states.push(State {
            kind,
            verb,
            phrase: written,
            also: Vec::new(),
            shared: Vec::new(),
            nature,
            on_its_own: particulars.on_its_own,
            source: particulars.from,
            at: entry.at,
        });
        self.plain_of_state(entry, id, particulars);
    }

    /// `A bottom counts as cracked when it is split at least 1 mm wide.`
    pub(super) fn counts_as(&mut self, entries: &[Entry]) {
        for standard in [true, false] {
            for entry in entries
                .iter()
                .filter(|e| e.opener == Opener::CountsAs && e.standard == standard)
            {
                self.mending(entry, Self::one_counts_as);
            }
        }
    }

    fn one_counts_as(&mut self, entry: &Entry) {
        let Some((owner, phrase, clause)) = self.parse(entry, declare::counts_as) else {
            return;
        };
        let particulars = self.particulars(entry);
        let good = self.good_name(&phrase, true);
        if self.keep(entry, good).is_none() {
            return;
        }
        let Some(kind) = self.owner(entry, &owner) else {
            return;
        };
        let before = self.said_before(entry, kind, &phrase);
        let Some(before) = self.keep(entry, before) else {
            return;
        };
        let measured = self.with_look(|look| match &clause.saying {
            Saying::Measured {
                not: None,
                phrase,
                compare,
                word,
            } if matches!(clause.thing, crate::syntax::Thing::It(_)) => {
                look.measured(kind, phrase.as_ref(), compare, word.as_ref(), &clause)
            }
            Saying::Is { phrase, .. } => match look.said(kind, phrase)? {
                Said::Measure(_) => refuse(
                    phrase.at,
                    Problem::AmountMissing {
                        phrase: &phrase.text,
                        amount: "more than 2 mm",
                    },
                ),
                _ => refuse(
                    phrase.at,
                    Problem::Unreadable {
                        read: Some("when it is"),
                        wants: "a measure",
                        example: Some(Opener::CountsAs.example()),
                    },
                ),
            },
            _ => refuse(
                clause.at,
                Problem::Unreadable {
                    read: Some("when"),
                    wants: "\"it is\" and a measure",
                    example: Some(Opener::CountsAs.example()),
                },
            ),
        });
        let Some((sign, mark, above)) = self.keep(entry, measured) else {
            return;
        };
        let mark = if above {
            mark
        } else {
            // "at most 3 mm": from the least reading up to there.
            let least = match &self.model.signs[sign.index()].asks {
                Asks::HowMuch { least, .. } => *least,
                _ => 0,
            };
            Mark {
                at_least: least,
                at_most: Some(mark.at_least.saturating_sub(1)),
            }
        };
        let again = match before {
            Some(Said::State(id)) => Some(id),
            _ => None,
        };
        let good = self.good_mark(again, (sign, mark), &phrase);
        if self.keep(entry, good).is_none() {
            return;
        }
        self.counted(
            entry,
            kind,
            &phrase,
            before,
            Nature::CountsAs { sign, mark },
            &particulars,
        );
    }

    /// Refuses a second name for one mark, and one for what is so of every reading, or of
    /// none. `again` is the state that is given anew, if it
    /// is one.
    fn good_mark(
        &self,
        again: Option<StateId>,
        (sign, mark): (SignId, Mark),
        phrase: &Name,
    ) -> Done<()> {
        let (least, most) = match &self.model.signs[sign.index()].asks {
            Asks::HowMuch { least, most, .. } => (*least, *most),
            _ => (Ticks::MIN, Ticks::MAX),
        };
        let at_most = mark.at_most.unwrap_or(Ticks::MAX);
        let always = mark.at_least <= least && at_most >= most;
        if always || mark.at_least > most || at_most < least {
            return refuse(
                phrase.at,
                Problem::MarkBeyondRange {
                    phrase: &phrase.text,
                    when: if always { "always" } else { "never" },
                },
            );
        }
        let nature = Nature::CountsAs { sign, mark };
        let mut states = self.model.states.iter().enumerate();
        let same = states.find(|(id, state)| {
            let is_again = again.is_some_and(|again| again.index() == *id);
            state.nature == nature && !is_again
        });
        match same {
            Some((_, other)) => refuse(
                phrase.at,
                Problem::SameMark {
                    other: &other.phrase,
                    line: &self.files.line_from(other.at, phrase.at),
                    phrase: &phrase.text,
                },
            ),
            None => Ok(()),
        }
    }

    fn counted(
        &mut self,
        entry: &Entry,
        kind: KindId,
        phrase: &Name,
        before: Option<Said>,
        nature: Nature,
        particulars: &Particulars,
    ) {
        let Some(Said::State(id)) = before else {
            self.push_state(entry, kind, Verb::Is, phrase, nature, particulars);
            return;
        };
        let state = &mut self.model.states[id.index()];
        let was = state.at;
        state.nature = nature;
        state.on_its_own = particulars.on_its_own.or(state.on_its_own);
        state.source = particulars.from.or(state.source);
        state.at = entry.at;
        self.plain_of_state(entry, id, particulars);
        let words = format!("counts as {}", phrase.text);
        self.replaced(&words, was, entry.at);
    }
}
