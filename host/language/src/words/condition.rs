//! Conditions in words.

use std::cell::Cell;

use super::degree::degree_predicate;
use super::grammar::{list_or, number};
use super::length::comparison;
use super::measure::measured_words;
use super::part::{kind_name, kind_plural};
use super::state::verb;
use crate::model::{
    Asks, Condition, HowMany, KindId, Mark, Model, PIECE, Predicate, Reach, SignId, Test,
};

/// How parts are called while one sentence is said: "it" is the subject until
/// another part has been named, and from then on "the drawer".
pub(super) struct Voice<'m> {
    model: &'m Model,
    subject: KindId,
    its: &'static str,
    strayed: Cell<bool>,
}

impl<'m> Voice<'m> {
    /// For a sentence that has named its subject: "For each drawer: if it …".
    pub(super) fn of(model: &'m Model, subject: KindId) -> Voice<'m> {
        Voice {
            model,
            subject,
            its: "its",
            strayed: Cell::new(false),
        }
    }

    /// For a sentence that has named something else last, as the step of a
    /// round does: "…, only if the piece is damp".
    pub(super) fn from_outside(model: &'m Model, subject: KindId) -> Voice<'m> {
        Voice {
            its: "the",
            strayed: Cell::new(true),
            ..Voice::of(model, subject)
        }
    }

    /// "it", "the drawer", "its chest of drawers", "any of its runners", "at
    /// least two of the screws of its hinges".
    pub(super) fn reach(&self, reach: &Reach) -> String {
        match reach {
            Reach::Own if self.strayed.get() => self.the_subject(),
            Reach::Own => "it".to_owned(),
            Reach::Up(kind) => {
                self.strayed.set(true);
                match *kind {
                    PIECE => "the piece".to_owned(),
                    kind => format!("{} {}", self.its, kind_name(self.model, kind)),
                }
            }
            Reach::Down { path, many, only } => {
                self.strayed.set(true);
                let place = only.as_ref().map(|only| match only.except {
                    true => "other",
                    false => only.words.as_str(),
                });
                self.down(path, *many, place)
            }
            Reach::Others { of, many } => {
                self.strayed.set(true);
                match many {
                    HowMany::The => format!("the other {}", kind_name(self.model, *of)),
                    many => of_them(*many, format!("the other {}", kind_plural(self.model, *of))),
                }
            }
        }
    }

    fn the_subject(&self) -> String {
        let kind = self.model.kinds.get(self.subject.index());
        if self.subject == PIECE || kind.is_some_and(|k| k.is_piece) {
            "the piece".to_owned()
        } else {
            format!("the {}", kind_name(self.model, self.subject))
        }
    }

    /// One clause or several.
    pub(super) fn condition(&self, when: &Condition) -> String {
        match when {
            Condition::Test(test) => self.clause(test),
            Condition::All(parts) => self.joined(parts, ", and "),
            Condition::Any(parts) => self.joined(parts, ", or "),
            Condition::AtLeast(..) => self.inside(when),
        }
    }

    fn joined(&self, parts: &[Condition], between: &str) -> String {
        let parts: Vec<String> = parts.iter().map(|part| self.inside(part)).collect();
        parts.join(between)
    }

    fn inside(&self, part: &Condition) -> String {
        let (head, parts) = match part {
            Condition::Test(test) => return self.clause(test),
            Condition::All(parts) => ("all of these".to_owned(), parts),
            Condition::Any(parts) => ("at least one of these".to_owned(), parts),
            Condition::AtLeast(enough, parts) => {
                let enough = number((*enough).into());
                (format!("at least {enough} of these are so"), parts)
            }
        };
        if let [only] = parts.as_slice() {
            return self.inside(only);
        }
        format!("{head} [{}]", self.joined(parts, "; "))
    }

    fn clause(&self, test: &Test) -> String {
        if let Predicate::Choice { sign, values, yes } = &test.what {
            return self.choice(*sign, values, *yes, &test.whose);
        }
        let whose = self.reach(&test.whose);
        let plural = reach_is_plural(&test.whose);
        format!("{whose} {}", predicate(self.model, &test.what, plural))
    }

    fn down(&self, path: &[KindId], many: HowMany, place: Option<&str>) -> String {
        // "the screws of its hinges": the part meant, then the ways to it, each
        // in the plural where there can be several.
        let mut owner = self.subject;
        let mut single = Vec::with_capacity(path.len());
        for kind in path {
            single.push(one_at_most(self.model, owner, *kind));
            owner = *kind;
        }
        let mut words = String::new();
        let last = path.len().saturating_sub(1);
        for (at, kind) in path.iter().enumerate().rev() {
            let alone = single.get(at).copied().unwrap_or(false);
            let name = if (at == last && many == HowMany::The) || (at != last && alone) {
                kind_name(self.model, *kind)
            } else {
                kind_plural(self.model, *kind)
            };
            if at != last {
                words.push_str(" of ");
            }
            words.push_str(if at == 0 { self.its } else { "the" });
            words.push(' ');
            if let Some(place) = place.filter(|_| at == last) {
                words.push_str(place);
                words.push(' ');
            }
            words.push_str(name);
        }
        of_them(many, words)
    }

    fn choice(&self, sign: SignId, values: &[u8], yes: bool, whose: &Reach) -> String {
        let Some(Asks::Which {
            attribute,
            values: all,
        }) = self.model.signs.get(sign.index()).map(|s| &s.asks)
        else {
            return "?".to_owned();
        };
        let chosen: Vec<&str> = values
            .iter()
            .filter_map(|v| all.get(usize::from(*v)).map(String::as_str))
            .collect();
        let about = match whose {
            Reach::Own if !self.strayed.get() => format!("its {attribute}"),
            _ => format!("the {attribute} of {}", self.reach(whose)),
        };
        let not = if yes { "" } else { "not " };
        format!("{about} is {not}{}", list_or(&chosen))
    }
}

/// A condition as one clause or several: "it has no supports, and any of its
/// hinges is under strain".
///
/// `subject` is the kind that "it" stands for. A group inside a group stands in
/// square brackets, so that "and" and "or" are never read two ways.
#[must_use]
pub fn condition(model: &Model, subject: KindId, when: &Condition) -> String {
    Voice::of(model, subject).condition(when)
}

/// Which part is meant, seen from the subject: "it", "its drawer", "any of its
/// runners", "at least two of the screws of its hinges".
#[must_use]
pub fn reach(model: &Model, subject: KindId, reach: &Reach) -> String {
    Voice::of(model, subject).reach(reach)
}

/// Whether the words for it take "are" rather than "is".
#[must_use]
pub fn reach_is_plural(reach: &Reach) -> bool {
    let (Reach::Down { many, .. } | Reach::Others { many, .. }) = reach else {
        return false;
    };
    match many {
        HowMany::The | HowMany::Any | HowMany::Every | HowMany::No => false,
        HowMany::AtLeast(n) | HowMany::FewerThan(n) | HowMany::Exactly(n) => *n != 1,
    }
}

/// "any of its runners", "at least two of them".
fn of_them(many: HowMany, words: String) -> String {
    match many {
        HowMany::The => words,
        HowMany::Any => format!("any of {words}"),
        HowMany::Every => format!("each of {words}"),
        HowMany::No => format!("none of {words}"),
        HowMany::AtLeast(n) => format!("at least {} of {words}", number(n.into())),
        HowMany::FewerThan(n) => format!("fewer than {} of {words}", number(n.into())),
        HowMany::Exactly(n) => format!("exactly {} of {words}", number(n.into())),
    }
}

fn one_at_most(model: &Model, owner: KindId, kind: KindId) -> bool {
    model
        .kinds
        .get(owner.index())
        .and_then(|k| k.members.iter().find(|m| m.kind == kind))
        .is_some_and(|m| m.most <= 1)
}

/// "is stiff", "is worn more than 2 mm (about 5/64 in)", "has no supports".
fn predicate(model: &Model, what: &Predicate, plural: bool) -> String {
    match what {
        Predicate::State {
            state,
            yes,
            sureness,
        } => {
            let Some(state) = model.states.get(state.index()) else {
                return "?".to_owned();
            };
            let verb = verb(state.verb, *yes, plural);
            match sureness {
                None => format!("{verb} {}", state.phrase),
                Some(sureness) => {
                    let (word, mark) = (sureness.word(), sureness.percent());
                    let figure = if *yes {
                        format!("{mark} in 100 or more")
                    } else {
                        format!("under {mark} in 100")
                    };
                    match state.verb {
                        crate::model::Verb::Is => {
                            format!("{verb} {word} ({figure}) {}", state.phrase)
                        }
                        crate::model::Verb::Shows => {
                            format!("{word} ({figure}) {verb} {}", state.phrase)
                        }
                    }
                }
            }
        }
        Predicate::Measure { sign, mark, yes } => measured(model, *sign, *mark, *yes, plural),
        Predicate::Has { part, mark, yes } => has(model, *part, *mark, *yes, plural),
        Predicate::Placed { place, yes } => {
            let sign = place
                .at
                .first()
                .and_then(|(sign, _)| model.signs.get(sign.index()));
            let part = sign.map_or("one", |sign| kind_name(model, sign.kind));
            let be = if *yes { "is" } else { "is not" };
            format!("{be} the {} {part}", place.words)
        }
        Predicate::CannotBeSeen => "cannot be seen".to_owned(),
        // The attribute goes in front of the part, so `clause` sees to it.
        Predicate::Choice { .. } => String::new(),
    }
}

/// "is split at least 1 mm (about 3/64 in) wide".
pub(super) fn measured(model: &Model, sign: SignId, mark: Mark, yes: bool, plural: bool) -> String {
    if let Some(asks @ Asks::Degrees { .. }) = model.signs.get(sign.index()).map(|s| &s.asks) {
        return degree_predicate(asks, mark, yes, plural);
    }
    let Some(asks @ Asks::HowMuch { unit, least, .. }) =
        model.signs.get(sign.index()).map(|s| &s.asks)
    else {
        return "?".to_owned();
    };
    measured_words(asks, &comparison(mark, yes, *least, *unit), plural)
}

/// " wide"; nothing for "how much" and "how far".
#[must_use]
pub fn trailing(word: &str) -> String {
    if word == "much" || word == "far" {
        String::new()
    } else {
        format!(" {word}")
    }
}

fn has(model: &Model, part: KindId, mark: Mark, yes: bool, plural: bool) -> String {
    let have = if plural { "have" } else { "has" };
    let does_not = if plural {
        "do not have"
    } else {
        "does not have"
    };
    let count = |n: i32| {
        let n = u32::try_from(n).unwrap_or(0);
        let name = if n == 1 {
            kind_name(model, part)
        } else {
            kind_plural(model, part)
        };
        format!("{} {name}", number(n))
    };
    let plural_name = kind_plural(model, part);
    match (mark.at_least, mark.at_most, yes) {
        (1, None, false) | (_, Some(0), true) => format!("{have} no {plural_name}"),
        (from, None, true) => format!("{have} at least {}", count(from)),
        (from, None, false) => format!("{have} fewer than {}", count(from)),
        (from, Some(to), yes) if from == to => {
            let has = if yes { have } else { does_not };
            format!("{has} exactly {}", count(to))
        }
        (from, Some(to), true) if from <= 0 => format!("{have} at most {}", count(to)),
        (from, Some(to), false) if from <= 0 => format!("{have} more than {}", count(to)),
        (from, Some(to), yes) => {
            let has = if yes { have } else { does_not };
            format!("{has} {from} to {to} {plural_name}")
        }
    }
}
