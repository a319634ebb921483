//! What must be so, resolved.

use crate::language::grammar::name::SURENESSES;
use crate::language::message::{Level, Message};
use crate::language::number::{Quantity, UnitWord, in_unit, to_ticks, unit_name};
use crate::language::resolve::look::{Done, Found, Look, refuse, verb_word};
use crate::language::resolve::reach::{Meant, Scene, amount_word};
use crate::language::span::Span;
use crate::language::syntax::{
    Amount, Clause, Compare, Cond, Conditions, Frequency, Name, Saying, Thing,
};
use crate::language::vocab::{Said, a, applies, capital};
use crate::model::{
    Asks, Condition, HowMany, KindId, Mark, Nature, PIECE, Predicate, Reach, SignId, Sureness,
    Test, Ticks, Unit, Verb,
};

/// Where a condition stands, which decides what it may ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Usage {
    /// In `If …`.
    Rule,
    /// In a plan, caution, dating or step.
    Trigger,
}

/// Which of the subject a choice noun picked: "a gimlet-point screw".
pub type Picked = Option<(SignId, u8)>;

impl Look<'_> {
    /// The kind a sentence is about, from its first clause or list head.
    pub fn subject(&self, conditions: &Conditions, opening: &'static str) -> Done<(Scene, Picked)> {
        let mut scene = Scene {
            subject: PIECE,
            opening,
            opened: false,
            any_said: Vec::new(),
            had: Vec::new(),
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
            Thing::One { how, noun, of, at } => {
                use crate::language::syntax::Pointing;
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
                            22,
                            *at,
                            &[("plural", self.plural(kind)), ("example", &example)],
                        ),
                        None => refuse(
                            29,
                            *at,
                            &[("part", self.name(kind)), ("a_part", &self.a(kind))],
                        ),
                    }
                }
            },
        }
    }

    fn which(&self, noun: &Name, at: Span) -> Done<Found> {
        let found = self.noun(noun)?;
        refuse(
            29,
            at,
            &[
                ("part", self.name(found.kind)),
                ("a_part", &self.a(found.kind)),
            ],
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
            27,
            at,
            &[("word", word), ("opening", opening), ("example", &said)],
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
                22,
                at,
                &[
                    ("plural", noun),
                    ("opening", opening),
                    ("owner", &self.a(owner)),
                    ("count", format!("{count} {noun}").trim()),
                ],
            ),
            None => refuse(22, at, &[("plural", noun)]),
        }
    }

    /// What must be so, seen from the subject.
    pub fn conditions(
        &self,
        scene: &mut Scene,
        conditions: &Conditions,
        usage: Usage,
    ) -> Done<Condition> {
        if let Some(at) = conditions.mixed {
            return refuse(13, at, &[("subject", &self.a(scene.subject))]);
        }
        if let Some(at) = conditions.crooked {
            return refuse(79, at, &[]);
        }
        self.cond(scene, &conditions.cond, usage)
    }

    fn cond(&self, scene: &mut Scene, cond: &Cond, usage: Usage) -> Done<Condition> {
        match cond {
            Cond::All(all) => {
                let all: Done<Vec<Condition>> =
                    all.iter().map(|c| self.cond(scene, c, usage)).collect();
                Ok(Condition::All(all?))
            }
            Cond::Any(all) => {
                let all: Done<Vec<Condition>> =
                    all.iter().map(|c| self.cond(scene, c, usage)).collect();
                Ok(Condition::Any(all?))
            }
            Cond::One(clause) => self.clause(scene, clause, usage),
        }
    }

    /// One clause.
    pub fn clause(&self, scene: &mut Scene, clause: &Clause, usage: Usage) -> Done<Condition> {
        let meant = self.meant(scene, &clause.thing, false)?;
        self.two_negatives(clause)?;
        let what = match self.predicate(&meant, clause, usage) {
            Err(message) if message.number == 7 => {
                return Err(self.it_or_other(scene, clause, message));
            }
            other => other?,
        };
        if let Predicate::Has { part, .. } = &what {
            scene.had.push(*part);
        }
        self.ambiguous_it(scene, clause, &what);
        Ok(test(meant.reach, what, clause.at))
    }

    /// `no drawer is not stiff`
    fn two_negatives(&self, clause: &Clause) -> Done<()> {
        let Thing::Many {
            amount: Amount::No,
            noun,
            amount_at,
            ..
        } = &clause.thing
        else {
            return Ok(());
        };
        let at = amount_at.to(clause.at);
        match &clause.saying {
            Saying::Is {
                not: Some(_),
                phrase,
                ..
            } => {
                let right = format!("every {} is {}", noun.text, phrase.text);
                refuse(26, at, &[("right", &right)])
            }
            Saying::Shows {
                not: Some(_),
                phrase,
                ..
            } => {
                let right = format!("every {} shows {}", noun.text, phrase.text);
                refuse(26, at, &[("right", &right)])
            }
            Saying::Has {
                amount: Some(Amount::No),
                noun: part,
                ..
            } => {
                let right = format!("every {} has {}", noun.text, a(&part.text));
                refuse(26, at, &[("right", &right)])
            }
            Saying::Measured { not: Some(_), .. }
            | Saying::IsA { not: Some(_), .. }
            | Saying::Either { not: Some(_), .. }
            | Saying::CannotBeSeen => refuse(26, at, &[]),
            _ => Ok(()),
        }
    }

    /// "a drawer has a bottom and it is damp": of the bottom only.
    fn it_or_other(&self, scene: &Scene, clause: &Clause, message: Box<Message>) -> Box<Message> {
        let (Thing::It(at), Some(phrase)) = (&clause.thing, phrase_of(&clause.saying)) else {
            return message;
        };
        let all = self.vocab.said(&phrase.text);
        let other = scene
            .had
            .iter()
            .find(|kind| all.iter().any(|(of, _)| of == *kind));
        match other {
            Some(other) => Box::new(
                Message::new(
                    30,
                    *at,
                    &[
                        ("subject", self.name(scene.subject)),
                        ("other", self.name(*other)),
                    ],
                )
                .at_level(Level::Stop),
            ),
            None => message,
        }
    }

    /// The same, where it could be said of both.
    fn ambiguous_it(&self, scene: &Scene, clause: &Clause, what: &Predicate) {
        let (Thing::It(at), Some(phrase)) = (&clause.thing, phrase_of(&clause.saying)) else {
            return;
        };
        if clause.attribute.is_some() || matches!(what, Predicate::Has { .. }) {
            return;
        }
        let all = self.vocab.said(&phrase.text);
        if let Some(other) = scene
            .had
            .iter()
            .find(|kind| all.iter().any(|(of, _)| of == *kind))
        {
            self.notes.borrow_mut().push(Message::new(
                30,
                *at,
                &[
                    ("subject", self.name(scene.subject)),
                    ("other", self.name(*other)),
                ],
            ));
        }
    }

    fn predicate(&self, meant: &Meant, clause: &Clause, usage: Usage) -> Done<Predicate> {
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
            Saying::IsA { not, noun } => {
                let found = self.noun(noun)?;
                let owner = self.a(meant.kind);
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
                        105,
                        clause.saying_at,
                        &[
                            ("words", &format!("is {}", a(&noun.text))),
                            ("owner", &owner),
                        ],
                    ),
                }
            }
            Saying::Either { not, values } => {
                let first = self.said(meant.kind, &values[0])?;
                let Said::Value(sign, _) = first else {
                    return refuse(
                        80,
                        values[0].at,
                        &[("phrase", &values[0].text), ("unit", "mm")],
                    );
                };
                self.values(sign, values, not.is_none())
            }
            Saying::Has {
                amount,
                amount_at,
                noun,
            } => self.has(meant.kind, *amount, *amount_at, noun),
            Saying::CannotBeSeen => {
                if usage == Usage::Rule {
                    return refuse(81, clause.saying_at, &[]);
                }
                Ok(Predicate::CannotBeSeen)
            }
        }
    }

    fn not_how_often(&self, often: Option<Frequency>) -> Done<()> {
        match often {
            None => Ok(()),
            Some(often) => refuse(84, often.at, &[("word", &frequency_word(&often))]),
        }
    }

    /// As `said`, but seeing that a first word may be meant for how often.
    pub fn said_or_strength(&self, kind: KindId, phrase: &Name) -> Done<Said> {
        let lost = match self.said(kind, phrase) {
            Err(message) if message.number == 77 => message,
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
        use crate::language::grammar::name::STRENGTHS;
        use crate::language::near::nearest;
        let at = crate::language::resolve::look::front(phrase, word);
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
                .map(|(_, chance)| figure(chance.0));
            let joined = near.joined();
            let mut blanks = vec![("word", word), ("near", joined.as_str())];
            if let Some(figure) = figure.as_deref().filter(|_| near.words.len() == 1) {
                blanks.push(("figure", figure));
            }
            return Message::new(17, at, &blanks).with_fix(at, near.words[0], near.sure());
        }
        Message::new(18, at, &[("word", word), ("words", &self.scale_words())])
    }

    /// "nearly always (19 in 20), usually (8 in 10), …"
    #[must_use]
    pub fn scale_words(&self) -> String {
        use crate::language::grammar::name::STRENGTHS;
        use crate::model::Strength;
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
                    .map_or(0, |(_, chance)| chance.0);
                format!("{name} ({})", figure(chance))
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
                    let word = sureness_word(sureness);
                    if usage == Usage::Rule {
                        return refuse(82, at, &[("word", word)]);
                    }
                    if let Some(not) = not {
                        return refuse(83, not.to(at), &[("word", word)]);
                    }
                } else if usage == Usage::Trigger && matches!(state.nature, Nature::Hidden { .. }) {
                    return refuse(55, phrase.at, &[("phrase", &phrase.text)]);
                }
                Ok(Predicate::State {
                    state: id,
                    yes: not.is_none(),
                    sureness: sure.map(|(s, _)| s),
                })
            }
            Said::Measure(sign) => {
                let unit = match &self.sign(sign).asks {
                    Asks::HowMuch { unit, .. } => unit_name(*unit),
                    _ => "mm",
                };
                refuse(80, phrase.at, &[("phrase", &phrase.text), ("unit", unit)])
            }
            Said::Value(sign, value) => Ok(Predicate::Choice {
                sign,
                values: vec![value],
                yes: not.is_none(),
            }),
        }
    }

    /// "is fresh dust"
    pub fn wrong_verb<T>(&self, right: Verb, wrong: Verb, phrase: &Name, kind: KindId) -> Done<T> {
        let words = format!("{} {} {}", self.a(kind), verb_word(right), phrase.text);
        refuse(
            115,
            phrase.at,
            &[
                ("phrase", &phrase.text),
                ("right", verb_word(right)),
                ("wrong", verb_word(wrong)),
                ("words", &words),
            ],
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
                    120,
                    clause.saying_at,
                    &[
                        ("word", &attribute.text),
                        ("owner", &self.a(kind)),
                        ("phrase", &attribute.text),
                        ("one", &values),
                        ("right", "Choose one of these."),
                    ],
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
            return refuse(78, names[0].at, &[("wants", "a value")]);
        };
        let mut found = Vec::new();
        for name in names {
            let index = values.iter().position(|v| v.to_lowercase() == name.text);
            match index.and_then(|i| u8::try_from(i).ok()) {
                Some(index) if !found.contains(&index) => found.push(index),
                Some(_) => {}
                None => {
                    let lower: Vec<String> = values.iter().map(|v| v.to_lowercase()).collect();
                    let near = crate::language::near::nearest(
                        &name.text,
                        lower.iter().map(String::as_str),
                    );
                    if let Some(near) = near {
                        return Err(Box::new(
                            Message::new(
                                17,
                                name.at,
                                &[("word", &name.text), ("near", &near.joined())],
                            )
                            .with_fix(
                                name.at,
                                near.words[0],
                                near.sure(),
                            ),
                        ));
                    }
                    return refuse(
                        120,
                        name.at,
                        &[
                            ("word", &name.text),
                            ("owner", &format!("the {attribute} of {}", self.a(kind))),
                            ("phrase", "it"),
                            ("one", &values.join(" or ")),
                            ("right", "Choose one of these."),
                        ],
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
            Err(message) if message.number == 1 || message.number == 3 => {
                return Err(Box::new(self.unknown_noun(noun, Some(owner))));
            }
            other => other?.kind,
        };
        let Some(member) = self.tree.member(owner, part) else {
            if let Some(way) = self.tree.ways(owner, part).first() {
                let through = self.plural(way[0]);
                return refuse(
                    93,
                    noun.at,
                    &[
                        ("subject_cap", &capital(&self.a(owner))),
                        ("plural", self.plural(part)),
                        ("through", through),
                    ],
                );
            }
            return Err(Box::new(self.has_not(owner, part, noun)));
        };
        let amount = amount.unwrap_or(Amount::AtLeast(1));
        let at = amount_at.to(noun.at);
        self.can_be_so_many(owner, part, amount, at)?;
        let fixed = member.least == member.most;
        let counted = self.model.signs.iter().any(|sign| {
            sign.asks == Asks::HowMany(part) && applies(sign.kind, owner, self.kind(owner).is_piece)
        });
        if !fixed && !counted {
            return refuse(
                50,
                at,
                &[("plural", self.plural(part)), ("owner", &self.a(owner))],
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
                return refuse(122, amount_at, &[("word", "every")]);
            }
        };
        Ok(Predicate::Has { part, mark, yes })
    }

    /// The measure, its mark, and whether it must be passed.
    pub fn measured(
        &self,
        kind: KindId,
        phrase: Option<&Name>,
        compare: &Compare,
        word: Option<&Name>,
        clause: &Clause,
    ) -> Done<(SignId, Mark, bool)> {
        let sign = match self.measure(kind, phrase, word) {
            Some(sign) => sign,
            None => return self.no_measure(kind, phrase, clause),
        };
        let ticks = |quantity: &Quantity| self.ticks(sign, quantity);
        let from = |t: Ticks| Mark {
            at_least: t,
            at_most: None,
        };
        Ok(match compare {
            Compare::MoreThan(q) => (sign, from(ticks(q)?.saturating_add(1)), true),
            Compare::AtMost(q) => (sign, from(ticks(q)?.saturating_add(1)), false),
            Compare::AtLeast(q) => (sign, from(ticks(q)?), true),
            Compare::LessThan(q) => (sign, from(ticks(q)?), false),
            Compare::Between(low, high) => {
                let (from, to) = (ticks(low)?, ticks(high)?);
                if from > to {
                    let unit = high.unit.map_or("", unit_text);
                    let right = format!("between {} and {} {unit}", high.number, low.number);
                    return refuse(37, low.at.to(high.at), &[("right", right.trim_end())]);
                }
                (
                    sign,
                    Mark {
                        at_least: from,
                        at_most: Some(to),
                    },
                    true,
                )
            }
        })
    }

    fn no_measure(
        &self,
        kind: KindId,
        phrase: Option<&Name>,
        clause: &Clause,
    ) -> Done<(SignId, Mark, bool)> {
        let Some(phrase) = phrase else {
            return refuse(
                77,
                clause.saying_at,
                &[("phrase", "this measure"), ("owner", &self.a(kind))],
            );
        };
        // Known of another part, or not a measure, or not known at all.
        let said = self.said(kind, phrase)?;
        match said {
            Said::Measure(sign) => {
                let right = self.sign_words(sign);
                let word = match &clause.saying {
                    Saying::Measured { word: Some(w), .. } => w.clone(),
                    _ => phrase.clone(),
                };
                refuse(
                    17,
                    word.at,
                    &[
                        ("word", &word.text),
                        ("read", &phrase.text),
                        ("wants", &format!("the word of \"{right}\"")),
                    ],
                )
            }
            _ => refuse(
                120,
                clause.saying_at,
                &[
                    ("word", "this"),
                    ("owner", &self.a(kind)),
                    ("phrase", &format!("\"{}\"", phrase.text)),
                    ("one", "yes or no, not a quantity"),
                    ("right", &format!("Say \"is {}\".", phrase.text)),
                ],
            ),
        }
    }

    /// A quantity in ticks of a measure, inside its range.
    pub fn ticks(&self, sign: SignId, quantity: &Quantity) -> Done<Ticks> {
        let Asks::HowMuch {
            unit, least, most, ..
        } = &self.sign(sign).asks
        else {
            return refuse(78, quantity.at, &[("wants", "a measure")]);
        };
        let unit_word = unit_name(*unit);
        let number = quantity.number.to_string();
        let written = match quantity.unit {
            None => {
                return Err(Box::new(
                    Message::new(33, quantity.at, &[("number", &number), ("unit", unit_word)])
                        .with_fix(
                            Span {
                                start: quantity.at.end,
                                ..quantity.at
                            },
                            format!(" {unit_word}"),
                            false,
                        ),
                ));
            }
            Some(UnitWord::Measure(written)) if dimension(written) == dimension(*unit) => written,
            Some(other) => {
                return refuse(
                    35,
                    quantity.unit_at.unwrap_or(quantity.at),
                    &[
                        ("kind", dimension(*unit)),
                        (
                            "other",
                            match other {
                                UnitWord::Time(_) => "a time",
                                UnitWord::Weight => "a weight",
                                UnitWord::Measure(unit) => dimension(unit),
                            },
                        ),
                        ("sign", &capital(&self.sign_words(sign))),
                        ("unit", unit_word),
                    ],
                );
            }
        };
        let ticks = to_ticks(quantity.number, written);
        if let Some(ticks) = ticks.filter(|t| (*least..=*most).contains(t)) {
            return Ok(ticks);
        }
        let amount = format!("{number} {}", unit_name(written));
        let converted = match ticks {
            Some(ticks) if written != *unit => {
                format!(" is {} {unit_word}, which", in_unit(ticks, *unit))
            }
            _ => String::new(),
        };
        let (low, high) = (in_unit(*least, *unit), in_unit(*most, *unit));
        let words = self.sign_words(sign);
        let line = self.line(self.sign(sign).at, quantity.at);
        let near = to_ticks(quantity.number, *unit)
            .filter(|t| written != *unit && (*least..=*most).contains(t))
            .map(|_| format!("{number} {unit_word}"));
        let mut blanks = vec![
            ("amount", amount.as_str()),
            ("converted", &converted),
            ("least", &low),
            ("most", &high),
            ("unit", unit_word),
            ("sign", &words),
            ("line", &line),
        ];
        if let Some(near) = &near {
            blanks.push(("near", near));
        }
        let mut message = Message::new(34, quantity.at, &blanks).with_also(self.sign(sign).at);
        if near.is_some()
            && let Some(at) = quantity.unit_at
        {
            message = message.with_fix(at, unit_word, false);
        }
        Err(Box::new(message))
    }
}

/// "a length", "a share".
#[must_use]
pub fn dimension(unit: Unit) -> &'static str {
    match unit {
        Unit::Percent => "a share",
        _ => "a length",
    }
}

fn unit_text(unit: UnitWord) -> &'static str {
    match unit {
        UnitWord::Measure(unit) => unit_name(unit),
        _ => "",
    }
}

/// "surely".
#[must_use]
pub fn sureness_word(sureness: Sureness) -> &'static str {
    SURENESSES
        .iter()
        .find(|(_, s)| *s == sureness)
        .map_or("", |(word, _)| word)
}

/// "often", or "in 7 of 10 cases".
#[must_use]
pub fn frequency_word(often: &Frequency) -> String {
    use crate::language::grammar::name::STRENGTHS;
    match (often.word, often.cases) {
        (Some(strength), _) => STRENGTHS
            .iter()
            .find(|(_, s)| *s == strength)
            .map_or_else(String::new, |(word, _)| (*word).to_owned()),
        (None, Some((n, of))) => format!("in {n} of {of} cases"),
        _ => String::new(),
    }
}

/// "6 in 10", "19 in 20", "3 in 100".
#[must_use]
pub fn figure(thousandths: u16) -> String {
    let t = u32::from(thousandths);
    if t % 100 == 0 {
        format!("{} in 10", t / 100)
    } else if t % 50 == 0 {
        format!("{} in 20", t / 50)
    } else if t % 10 == 0 {
        format!("{} in 100", t / 10)
    } else {
        format!("{t} in 1000")
    }
}

fn first_clause(cond: &Cond) -> &Clause {
    match cond {
        Cond::One(clause) => clause,
        Cond::All(all) | Cond::Any(all) => first_clause(&all[0]),
    }
}

/// The part after the last "of", if it is new: "any runner of a drawer".
fn outermost(thing: &Thing) -> Option<&Name> {
    use crate::language::syntax::Pointing;
    match thing {
        Thing::One { how, noun, of, .. } => match of {
            Some(of) => outermost(of),
            None => (*how == Pointing::A).then_some(noun),
        },
        Thing::Many { of, .. } => of.as_deref().and_then(outermost),
        Thing::It(_) | Thing::There(_) => None,
    }
}

fn phrase_of(saying: &Saying) -> Option<&Name> {
    match saying {
        Saying::Is { phrase, .. } | Saying::Shows { phrase, .. } => Some(phrase),
        Saying::Measured { phrase, .. } => phrase.as_ref(),
        _ => None,
    }
}

/// One test, or one for each way down from "a piece".
fn test(mut reach: Vec<Reach>, what: Predicate, at: Span) -> Condition {
    if reach.len() == 1 {
        let whose = reach.swap_remove(0);
        return Condition::Test(Test { whose, what, at });
    }
    let every = matches!(
        reach.first(),
        Some(Reach::Down {
            many: HowMany::Every | HowMany::No,
            ..
        })
    );
    let tests = reach
        .into_iter()
        .map(|whose| {
            Condition::Test(Test {
                whose,
                what: what.clone(),
                at,
            })
        })
        .collect();
    if every {
        Condition::All(tests)
    } else {
        Condition::Any(tests)
    }
}
