//! What is said of a part, resolved.

use crate::grammar::name::SURENESSES;
use crate::message::{Message, Problem, ProblemKind};
use crate::model::{Asks, KindId, Mark, Nature, Predicate, SignId, Sureness, Ticks, Verb};
use crate::resolve::clause::Usage;
use crate::resolve::look::{Done, Look, refuse, verb_word};
use crate::resolve::reach::Meant;
use crate::span::Span;
use crate::syntax::{Amount, Clause, Frequency, Name, Saying};
use crate::vocab::{Said, applies};
use crate::words::{a, capital, cases, strength_word};

impl Look<'_> {
    pub(super) fn predicate(
        &self,
        meant: &Meant,
        clause: &Clause,
        usage: Usage,
    ) -> Done<Predicate> {
        if let Some(attribute) = &clause.attribute {
            return self.choice(meant.kind, attribute, clause);
        }
        match &clause.saying {
            Saying::Is {
                not,
                often,
                late,
                sure,
                phrase,
            } => {
                self.not_how_often(often.or(*late))?;
                let said = self.said_or_strength(meant.kind, phrase)?;
                self.state_like(said, Verb::Is, *not, *sure, phrase, usage)
            }
            Saying::Shows {
                not,
                often,
                sure,
                phrase,
            } => {
                self.not_how_often(*often)?;
                let said = self.said(meant.kind, phrase)?;
                self.state_like(said, Verb::Shows, *not, *sure, phrase, usage)
            }
            Saying::Measured {
                not,
                phrase,
                compare,
                word,
            } => {
                let (sign, mark, yes) =
                    self.measured(meant.kind, phrase.as_ref(), compare, word.as_ref(), clause)?;
                Ok(Predicate::Measure {
                    sign,
                    mark,
                    yes: yes != not.is_some(),
                })
            }
            Saying::Beyond {
                not,
                often,
                sure,
                beyond,
                phrase,
            } => {
                self.not_how_often(*often)?;
                let Said::Degree(sign, degree) = self.said(meant.kind, phrase)? else {
                    return self.no_degrees(phrase);
                };
                if let Some((sureness, at)) = sure {
                    let word = sureness.word();
                    return refuse(*at, Problem::SurenessOfDegree { word });
                }
                self.degree((sign, degree), Some(*beyond), *not, phrase)
            }
            Saying::IsA { not, noun } => self.is_a(meant, clause, *not, noun),
            Saying::Either { not, values } => self.either(meant, clause, *not, values),
            Saying::Has {
                amount,
                amount_at,
                noun,
            } => self.has(meant.kind, *amount, *amount_at, noun),
            Saying::Stands { not, place, noun } => {
                let kind = self.plain(noun)?.kind;
                if place.text == "other" || !self.model.are_kin(kind, meant.kind) {
                    return self.other_than_what(meant.kind, kind, place);
                }
                let place = self.placing(None, meant.kind, place)?;
                let yes = not.is_none();
                Ok(Predicate::Placed { place, yes })
            }
            Saying::CannotBeSeen => {
                if usage == Usage::Rule {
                    return refuse(clause.saying_at, Problem::NotSeenAsReason);
                }
                Ok(Predicate::CannotBeSeen)
            }
        }
    }

    /// "is a gimlet-point screw".
    fn is_a(
        &self,
        meant: &Meant,
        clause: &Clause,
        not: Option<Span>,
        noun: &Name,
    ) -> Done<Predicate> {
        let found = self.noun(noun)?;
        match found.choice {
            Some((sign, value))
                if applies(found.kind, meant.kind, self.kind(meant.kind).is_piece) =>
            {
                Ok(Predicate::Choice {
                    sign,
                    values: vec![value],
                    yes: not.is_none(),
                })
            }
            _ => refuse(
                clause.saying_at,
                Problem::SaysNothingNew {
                    words: &format!("is {}", a(&noun.text)),
                    owner: &self.a(meant.kind),
                },
            ),
        }
    }

    /// "is either blunt or cross-head".
    fn either(
        &self,
        meant: &Meant,
        clause: &Clause,
        not: Option<Span>,
        values: &[Name],
    ) -> Done<Predicate> {
        let first = self.said(meant.kind, &values[0])?;
        if let Said::Degree(..) = first {
            return refuse(clause.saying_at, Problem::EitherDegree);
        }
        let Said::Value(sign, _) = first else {
            return refuse(
                values[0].at,
                Problem::AmountMissing {
                    phrase: &values[0].text,
                    amount: "more than 2 mm",
                },
            );
        };
        self.values(sign, values, not.is_none())
    }

    pub(super) fn not_how_often(&self, often: Option<Frequency>) -> Done<()> {
        match often {
            None => Ok(()),
            Some(often) => refuse(
                often.at,
                Problem::StrengthInCondition {
                    word: &frequency_word(&often),
                },
            ),
        }
    }

    /// As `said`, but seeing that a first word may be meant for how often.
    pub fn said_or_strength(&self, kind: KindId, phrase: &Name) -> Done<Said> {
        let lost = match self.said(kind, phrase) {
            Err(message) if message.kind == ProblemKind::UnknownPhrase => message,
            other => return other,
        };
        let Some((first, tail)) = phrase.text.split_once(' ') else {
            return Err(lost);
        };
        if self.vocab.said(tail).is_empty() {
            return Err(lost);
        }
        if let Some(near) = &lost.fix
            && near.at == phrase.at
        {
            return Err(lost);
        }
        Err(Box::new(self.odd_strength(first, phrase)))
    }

    /// `ofen`, `mostly`: a word where how often should stand.
    fn odd_strength(&self, word: &str, phrase: &Name) -> Message {
        use crate::grammar::name::STRENGTHS;
        use crate::near::nearest;
        let at = crate::resolve::unknown::front(phrase, word);
        let names: Vec<&str> = STRENGTHS
            .iter()
            .map(|(name, _)| *name)
            .chain(SURENESSES.iter().map(|(name, _)| *name))
            .collect();
        if let Some(near) = nearest(word, names.iter().copied()) {
            let figure = STRENGTHS
                .iter()
                .find(|(name, _)| *name == near.words[0])
                .and_then(|(_, s)| self.model.scale.iter().find(|(of, _)| of == s))
                .map(|(_, chance)| cases(*chance));
            let joined = near.joined();
            let problem = Problem::UnknownWord {
                word,
                near: Some(&joined),
                figure: figure.as_deref().filter(|_| near.words.len() == 1),
                read: None,
                wants: None,
            };
            return Message::new(at, problem).with_fix(at, near.words[0], near.sure());
        }
        Message::new(
            at,
            Problem::UnknownStrength {
                word,
                words: &self.scale_words(),
            },
        )
    }

    /// "nearly always (19 in 20), usually (8 in 10), …"
    #[must_use]
    pub fn scale_words(&self) -> String {
        use crate::grammar::name::STRENGTHS;
        use crate::model::{Strength, Thousandths};
        STRENGTHS
            .iter()
            .filter(|(_, s)| {
                matches!(
                    s,
                    Strength::NearlyAlways
                        | Strength::Usually
                        | Strength::Often
                        | Strength::Sometimes
                )
            })
            .map(|(name, strength)| {
                let chance = self
                    .model
                    .scale
                    .iter()
                    .find(|(of, _)| of == strength)
                    .map_or(Thousandths(0), |(_, chance)| *chance);
                format!("{name} ({})", cases(chance))
            })
            .collect::<Vec<_>>()
            .join(", ")
    }

    fn state_like(
        &self,
        said: Said,
        verb: Verb,
        not: Option<Span>,
        sure: Option<(Sureness, Span)>,
        phrase: &Name,
        usage: Usage,
    ) -> Done<Predicate> {
        match said {
            Said::State(id) => {
                let state = self.state(id);
                if state.verb != verb {
                    return self.wrong_verb(state.verb, verb, phrase, state.kind);
                }
                if let Some((sureness, at)) = sure {
                    let word = sureness.word();
                    if usage == Usage::Rule {
                        return refuse(at, Problem::SurenessInRule { word });
                    }
                    if let Some(not) = not {
                        return refuse(not.to(at), Problem::NotWithSureness { word });
                    }
                } else if usage == Usage::Trigger && matches!(state.nature, Nature::Hidden { .. }) {
                    return refuse(
                        phrase.at,
                        Problem::SurenessMissing {
                            phrase: &phrase.text,
                        },
                    );
                }
                Ok(Predicate::State {
                    state: id,
                    yes: not.is_none(),
                    sureness: sure.map(|(s, _)| s),
                })
            }
            Said::Measure(sign) => {
                let unit = self.unit_of(sign);
                refuse(
                    phrase.at,
                    Problem::AmountMissing {
                        phrase: &phrase.text,
                        amount: &format!("more than 2 {unit}"),
                    },
                )
            }
            Said::Value(sign, value) => Ok(Predicate::Choice {
                sign,
                values: vec![value],
                yes: not.is_none(),
            }),
            Said::Degree(sign, degree) => {
                if verb != Verb::Is {
                    return self.wrong_verb(Verb::Is, verb, phrase, self.sign(sign).kind);
                }
                if let Some((sureness, at)) = sure {
                    let word = sureness.word();
                    return refuse(at, Problem::SurenessOfDegree { word });
                }
                self.degree((sign, degree), None, not, phrase)
            }
        }
    }

    /// "is fresh dust"
    pub fn wrong_verb<T>(&self, right: Verb, wrong: Verb, phrase: &Name, kind: KindId) -> Done<T> {
        let words = format!("{} {} {}", self.a(kind), verb_word(right), phrase.text);
        refuse(
            phrase.at,
            Problem::WrongVerb {
                phrase: &phrase.text,
                right: verb_word(right),
                wrong: verb_word(wrong),
                words: &words,
            },
        )
    }

    fn choice(&self, kind: KindId, attribute: &Name, clause: &Clause) -> Done<Predicate> {
        let sign = self.attribute(kind, attribute)?;
        match &clause.saying {
            Saying::Is {
                not,
                often,
                late,
                phrase,
                ..
            } => {
                self.not_how_often(often.or(*late))?;
                self.values(sign, std::slice::from_ref(phrase), not.is_none())
            }
            Saying::Either { not, values } => self.values(sign, values, not.is_none()),
            _ => {
                let values = self.value_list(sign);
                refuse(
                    clause.saying_at,
                    Problem::WrongSortOfAnswer {
                        word: &attribute.text,
                        owner: &self.a(kind),
                        phrase: &attribute.text,
                        one: &values,
                        right: "Choose one of these.",
                    },
                )
            }
        }
    }

    fn value_list(&self, sign: SignId) -> String {
        match &self.sign(sign).asks {
            Asks::Which { values, .. } => values.join(" or "),
            _ => String::new(),
        }
    }

    /// Some values of one choice.
    pub fn values(&self, sign: SignId, names: &[Name], yes: bool) -> Done<Predicate> {
        let kind = self.sign(sign).kind;
        let Asks::Which { values, attribute } = &self.sign(sign).asks else {
            return refuse(
                names[0].at,
                Problem::Unreadable {
                    read: None,
                    wants: "a value",
                    example: None,
                },
            );
        };
        let mut found = Vec::new();
        for name in names {
            let index = values.iter().position(|v| v.to_lowercase() == name.text);
            match index.and_then(|i| u8::try_from(i).ok()) {
                Some(index) if !found.contains(&index) => found.push(index),
                Some(_) => {}
                None => {
                    let lower: Vec<String> = values.iter().map(|v| v.to_lowercase()).collect();
                    let near = crate::near::nearest(&name.text, lower.iter().map(String::as_str));
                    if let Some(near) = near {
                        return Err(Box::new(
                            Message::new(
                                name.at,
                                Problem::UnknownWord {
                                    word: &name.text,
                                    near: Some(&near.joined()),
                                    figure: None,
                                    read: None,
                                    wants: None,
                                },
                            )
                            .with_fix(
                                name.at,
                                near.words[0],
                                near.sure(),
                            ),
                        ));
                    }
                    return refuse(
                        name.at,
                        Problem::WrongSortOfAnswer {
                            word: &name.text,
                            owner: &format!("the {attribute} of {}", self.a(kind)),
                            phrase: "it",
                            one: &values.join(" or "),
                            right: "Choose one of these.",
                        },
                    );
                }
            }
        }
        Ok(Predicate::Choice {
            sign,
            values: found,
            yes,
        })
    }

    fn has(
        &self,
        owner: KindId,
        amount: Option<Amount>,
        amount_at: Span,
        noun: &Name,
    ) -> Done<Predicate> {
        let part = match self.plain(noun) {
            Err(message) if message.kind.is_unknown_part() => {
                return Err(Box::new(self.unknown_noun(noun, Some(owner))));
            }
            other => other?.kind,
        };
        let Some(member) = self.tree.member(owner, part) else {
            if let Some(way) = self.tree.ways(owner, part).first() {
                let through = self.plural(way[0]);
                return refuse(
                    noun.at,
                    Problem::OnlyThrough {
                        subject_cap: &capital(&self.a(owner)),
                        plural: self.plural(part),
                        through,
                    },
                );
            }
            return Err(Box::new(self.has_not(owner, part, noun)));
        };
        let amount = amount.unwrap_or(Amount::AtLeast(1));
        let at = amount_at.to(noun.at);
        self.can_be_so_many(owner, part, amount, at)?;
        let fixed = member.least == member.most;
        let is_piece = self.kind(owner).is_piece;
        let members = self.tree.members(owner).iter();
        let mut such = members.filter(|member| self.tree.is_kind_of(member.kind, part));
        let counted = such.all(|member| {
            let is_fixed = member.least == member.most;
            let mut signs = self.model.signs.iter();
            is_fixed
                || signs.any(|sign| {
                    sign.asks == Asks::HowMany(member.kind) && applies(sign.kind, owner, is_piece)
                })
        });
        if !fixed && !counted {
            return refuse(
                at,
                Problem::NotCounted {
                    plural: self.plural(part),
                    owner: &self.a(owner),
                },
            );
        }
        let ticks = |n: u32| Ticks::try_from(n).unwrap_or(Ticks::MAX);
        let from = |n: u32| Mark {
            at_least: ticks(n),
            at_most: None,
        };
        let (mark, yes) = match amount {
            Amount::Any => (from(1), true),
            Amount::No => (from(1), false),
            Amount::AtLeast(n) => (from(n), true),
            Amount::MoreThan(n) => (from(n.saturating_add(1)), true),
            Amount::AtMost(n) => (from(n.saturating_add(1)), false),
            Amount::FewerThan(n) => (from(n), false),
            Amount::Exactly(0) => (from(1), false),
            Amount::Exactly(n) => (
                Mark {
                    at_least: ticks(n),
                    at_most: Some(ticks(n)),
                },
                true,
            ),
            Amount::Every => {
                return refuse(amount_at, Problem::SurenessInResult { word: "every" });
            }
        };
        Ok(Predicate::Has { part, mark, yes })
    }
}

/// "often", or "in 7 of 10 cases".
#[must_use]
pub fn frequency_word(often: &Frequency) -> String {
    match (often.word, often.cases) {
        (Some(strength), _) => strength_word(strength).to_owned(),
        (None, Some((n, of))) => format!("in {n} of {of} cases"),
        _ => String::new(),
    }
}
