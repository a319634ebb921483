//! The part a sentence is about.

use crate::message::Problem;
use crate::model::PIECE;
use crate::resolve::clause::Picked;
use crate::resolve::look::{Done, Found, Look, refuse};
use crate::resolve::reach::{Scene, amount_word};
use crate::span::Span;
use crate::syntax::{Clause, Cond, Conditions, Name, Saying, Thing};

impl Look<'_> {
    /// The kind a sentence is about, from its first clause or list head.
    pub fn subject(&self, conditions: &Conditions, opening: &'static str) -> Done<(Scene, Picked)> {
        let mut scene = Scene {
            subject: PIECE,
            opening,
            opened: false,
            any_said: Vec::new(),
            had: Vec::new(),
            placed: None,
        };
        if let Some(name) = &conditions.subject {
            let found = self.noun(name)?;
            scene.subject = found.kind;
            scene.opened = true;
            return Ok((scene, found.choice));
        }
        let first = first_clause(&conditions.cond);
        let found = self.opened_by(first, opening)?;
        scene.subject = found.kind;
        Ok((scene, found.choice))
    }

    fn opened_by(&self, clause: &Clause, opening: &'static str) -> Done<Found> {
        let thing = &clause.thing;
        if clause.attribute.is_some()
            && let Thing::It(at) = thing
        {
            return self.nothing_to_stand_for("its", *at, clause, opening);
        }
        match thing {
            Thing::It(at) => self.nothing_to_stand_for("it", *at, clause, opening),
            Thing::There(at) => self.nobodys(*at, clause, opening),
            Thing::One {
                how, noun, of, at, ..
            } => {
                use crate::syntax::Pointing;
                let noun_found = outermost(thing);
                match (how, of) {
                    (Pointing::Its, _) => {
                        let word = Span {
                            end: at.start + 3,
                            ..*at
                        };
                        self.nothing_to_stand_for("its", word, clause, opening)
                    }
                    (_, Some(_)) => match noun_found {
                        Some(owner) => self.noun(owner),
                        None => self.which(noun, *at),
                    },
                    (Pointing::A, None) => self.noun(noun),
                    _ => self.which(noun, *at),
                }
            }
            Thing::Many {
                noun,
                of,
                at,
                amount,
                amount_at,
                ..
            } => match (of, outermost(thing)) {
                (Some(_), Some(owner)) => self.noun(owner),
                _ => {
                    let kind = self.noun(noun)?.kind;
                    let gap = at.end.saturating_sub(amount_at.end);
                    if usize::try_from(gap).unwrap_or(0) > noun.text.len() + 1 {
                        return self.nothing_to_stand_for("its", *at, clause, opening);
                    }
                    let owner = self.tree.owners(kind).first().copied();
                    let example = owner.map(|o| {
                        format!(
                            "{opening} {} {} of {}",
                            amount_word(*amount),
                            noun.text,
                            self.a(o)
                        )
                    });
                    match example {
                        Some(example) => refuse(
                            *at,
                            Problem::Nobodys {
                                plural: self.plural(kind),
                                example: Some(&example),
                                opening: None,
                                owner: None,
                                count: None,
                            },
                        ),
                        None => refuse(
                            *at,
                            Problem::WhichOne {
                                part: self.name(kind),
                                a_part: &self.a(kind),
                            },
                        ),
                    }
                }
            },
        }
    }

    fn which(&self, noun: &Name, at: Span) -> Done<Found> {
        let found = self.noun(noun)?;
        refuse(
            at,
            Problem::WhichOne {
                part: self.name(found.kind),
                a_part: &self.a(found.kind),
            },
        )
    }

    fn nothing_to_stand_for(
        &self,
        word: &str,
        at: Span,
        clause: &Clause,
        opening: &'static str,
    ) -> Done<Found> {
        // The part of which this is said, if one is certain.
        let kind = match &clause.saying {
            Saying::Is { phrase, .. }
            | Saying::Shows { phrase, .. }
            | Saying::Measured {
                phrase: Some(phrase),
                ..
            } => match self.vocab.said(&phrase.text)[..] {
                [(kind, _)] => Some(kind),
                _ => None,
            },
            _ => None,
        };
        let example = kind
            .filter(|_| matches!(clause.thing, Thing::It(_)) && clause.attribute.is_none())
            .map(|k| self.a(k));
        let said = match (&clause.saying, example) {
            (Saying::Is { phrase, .. }, Some(example)) => format!("{example} is {}", phrase.text),
            (_, Some(example)) => example,
            (_, None) => "a hinge".to_owned(),
        };
        refuse(
            at,
            Problem::NothingToStandFor {
                word,
                opening,
                example: &said,
            },
        )
    }

    /// "there are no supports"
    fn nobodys(&self, at: Span, clause: &Clause, opening: &'static str) -> Done<Found> {
        let (count, noun, at) = match &clause.saying {
            Saying::Has { amount, noun, .. } => (
                amount.map_or_else(String::new, amount_word),
                noun.text.as_str(),
                clause.at,
            ),
            _ => (String::new(), "parts", at),
        };
        let kind = self.vocab.nouns.get(noun).first().map(|n| n.kind);
        let owner = kind.and_then(|k| self.tree.owners(k).first().copied());
        match owner {
            Some(owner) => refuse(
                at,
                Problem::Nobodys {
                    plural: noun,
                    example: None,
                    opening: Some(opening),
                    owner: Some(&self.a(owner)),
                    count: Some(format!("{count} {noun}").trim()),
                },
            ),
            None => refuse(
                at,
                Problem::Nobodys {
                    plural: noun,
                    example: None,
                    opening: None,
                    owner: None,
                    count: None,
                },
            ),
        }
    }
}

fn first_clause(cond: &Cond) -> &Clause {
    match cond {
        Cond::One(clause) => clause,
        Cond::All(all) | Cond::Any(all) | Cond::AtLeast(all, _) => first_clause(&all[0]),
    }
}

/// The part after the last "of", if it is new: "any runner of a drawer".
fn outermost(thing: &Thing) -> Option<&Name> {
    use crate::syntax::Pointing;
    match thing {
        Thing::One { how, noun, of, .. } => match of {
            Some(of) => outermost(of),
            None => (*how == Pointing::A).then_some(noun),
        },
        Thing::Many { of, .. } => of.as_deref().and_then(outermost),
        Thing::It(_) | Thing::There(_) => None,
    }
}
