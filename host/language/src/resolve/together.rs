//! `that … means` said of several signs, or of one sign of several parts.

use crate::message::Problem;
use crate::model::{Condition, HowMany, KindId, Nature, Predicate, Reach, StateId, Test};
use crate::resolve::Reader;
use crate::resolve::look::{Done, refuse};
use crate::span::Span;

/// The signs, and how many are enough.
pub(super) struct Signs {
    pub(super) path: Vec<KindId>,
    pub(super) signs: Vec<StateId>,
    pub(super) enough: u8,
}

/// The most signs that are looked at together.
const MOST_TOGETHER: usize = 8;

impl Reader<'_> {
    /// Several signs of the subject, or one of its parts; nothing, if the condition is
    /// neither.
    pub(super) fn several_signs(&self, condition: &Condition, at: Span) -> Done<Option<Signs>> {
        let all_of = |tests: &[Condition]| -> Option<Vec<StateId>> {
            tests.iter().map(|test| self.sign_of(test, true)).collect()
        };
        let (enough, all) = match condition {
            Condition::All(all) => (all.len(), all_of(all)),
            Condition::Any(all) => (1, all_of(all)),
            Condition::AtLeast(enough, all) => (usize::from(*enough), all_of(all)),
            Condition::Test(test) => return Ok(self.sign_of_parts(test)),
        };
        let Some(signs) = all.filter(|signs| signs.len() > 1) else {
            return Ok(None);
        };
        if signs.len() > MOST_TOGETHER {
            let (lines, most) = (signs.len(), MOST_TOGETHER);
            return refuse(at, Problem::TooManyToChooseFrom { lines, most });
        }
        for (i, sign) in signs.iter().enumerate() {
            if signs[..i].contains(sign) {
                let phrase = &self.model.states[sign.index()].phrase;
                return refuse(at, Problem::NamedTwice { phrase });
            }
        }
        Ok(Some(Signs {
            path: Vec::new(),
            signs,
            enough: u8::try_from(enough).unwrap_or(u8::MAX),
        }))
    }

    /// The sign that a clause says of the subject (or of its parts), if it is one that can
    /// be looked at.
    fn sign_of(&self, condition: &Condition, own: bool) -> Option<StateId> {
        let Condition::Test(Test { whose, what, .. }) = condition else {
            return None;
        };
        let Predicate::State {
            state, yes: true, ..
        } = what
        else {
            return None;
        };
        let nature = &self.model.states[state.index()].nature;
        let is_sign = matches!(nature, Nature::Seen(_));
        (is_sign && (!own || *whose == Reach::Own)).then_some(*state)
    }

    /// Refuses the first of several signs that is more than a yes or no.
    pub(super) fn no_plain_sign(&self, condition: &Condition) -> Done<()> {
        let (Condition::All(all) | Condition::Any(all) | Condition::AtLeast(_, all)) = condition
        else {
            return Ok(());
        };
        let odd = all.iter().find_map(|part| match part {
            Condition::Test(test) => Some((test.at, self.why_no_plain_sign(test)?)),
            _ => None,
        });
        match odd {
            Some((at, why)) => refuse(at, Problem::NotYesOrNo { why }),
            None => Ok(()),
        }
    }

    fn why_no_plain_sign(&self, test: &Test) -> Option<&'static str> {
        if test.whose != Reach::Own {
            return Some("said of something else");
        }
        match &test.what {
            Predicate::State { yes: false, .. } => Some("said to be not so"),
            Predicate::State { state, .. } => match self.model.states[state.index()].nature {
                Nature::Seen(_) => None,
                Nature::Hidden { .. } => Some("a hidden fault"),
                Nature::CountsAs { .. } => Some("a mark on a measure or a judgement"),
            },
            Predicate::Measure { sign, .. } => {
                let is_judged = matches!(
                    self.model.signs[sign.index()].asks,
                    crate::model::Asks::Degrees { .. }
                );
                Some(if is_judged {
                    "a judgement in degrees"
                } else {
                    "a measure"
                })
            }
            Predicate::Choice { .. } => Some("one of several values"),
            Predicate::Has { .. } => Some("a number of parts"),
            Predicate::Placed { .. } | Predicate::CannotBeSeen => {
                Some("nothing that anybody looks for")
            }
        }
    }

    /// "at least two drawers of a chest are stiff"
    fn sign_of_parts(&self, test: &Test) -> Option<Signs> {
        let Reach::Down {
            path,
            many,
            only: None,
        } = &test.whose
        else {
            return None;
        };
        let enough = match many {
            HowMany::Any | HowMany::The => 1,
            HowMany::AtLeast(n) => *n,
            _ => return None,
        };
        let state = self.sign_of(&Condition::Test(test.clone()), false)?;
        Some(Signs {
            path: path.clone(),
            signs: vec![state],
            enough,
        })
    }
}
