//! Rules and meanings: what must be so, and what follows.

use crate::message::{Level, Message, Problem, ProblemKind};
use crate::model::{
    Asks, Condition, HowOften, KindId, Nature, PIECE, Predicate, Reach, Rule, StateId, Strength,
    Test, Than, Verb,
};
use crate::number::unit_name;
use crate::resolve::clause::{Usage, picking};
use crate::resolve::look::{Done, refuse};
use crate::resolve::predicate::frequency_word;
use crate::resolve::reach::Scene;
use crate::resolve::together::Signs;
use crate::resolve::{Late, Misused, Reader};
use crate::span::Span;
use crate::syntax::{Clause, Conditions, Frequency, Name, Saying, Thing};
use crate::vocab::Said;
use crate::words::degree_words;

/// The most results of which a rule brings about one, and the most states that exclude
/// one another.
pub(super) const MOST_ALTERNATIVES: usize = 4;

/// What a sentence with "means" begins with.
pub(super) enum Meaning {
    One(StateId),
    Several(Signs),
}

impl Reader<'_> {
    pub(super) fn rule(
        &mut self,
        when: &Conditions,
        (result, or, second): (&Clause, &[Name], Option<Span>),
        unless: Option<&Conditions>,
        at: Span,
    ) -> Done<Rule> {
        let (mut scene, condition) = self.with_look(|look| {
            let (mut scene, picked) = look.subject(when, "If")?;
            let condition = look.conditions(&mut scene, when, Usage::Rule)?;
            Ok::<_, Box<Message>>((scene, picking(picked, condition, when.at)))
        })?;
        if let Some(second) = second {
            let words = self.written(second);
            let words = words.strip_prefix("and ").unwrap_or(&words).to_owned();
            return refuse(second, Problem::SecondResult { second: &words });
        }
        let (whose, state, strength) = self.result(&mut scene, result)?;
        let or = self.alternatives(&mut scene, result, state, or)?;
        let exception = self.with_look(|look| {
            unless
                .map(|unless| {
                    if let Some(subject) = &unless.subject {
                        let found = look.plain(subject)?;
                        if found.kind != scene.subject {
                            return Err(Box::new(look.has_not(scene.subject, found.kind, subject)));
                        }
                    }
                    look.conditions(&mut scene, unless, Usage::Rule)
                })
                .transpose()
        })?;
        let (subject, condition, exception, result) =
            self.one_way(scene.subject, condition, exception, whose, result)?;
        Ok(Rule {
            subject,
            when: condition,
            unless: exception,
            result,
            state,
            or,
            strength,
            source: None,
            called: None,
            at,
        })
    }

    /// A result with several ways down from "a piece" is turned round: a rule
    /// about the part, whose piece is so.
    fn one_way(
        &self,
        subject: KindId,
        when: Condition,
        unless: Option<Condition>,
        mut whose: Vec<Reach>,
        clause: &Clause,
    ) -> Done<(KindId, Condition, Option<Condition>, Reach)> {
        if whose.len() == 1 {
            return Ok((subject, when, unless, whose.swap_remove(0)));
        }
        let part = match whose.first() {
            Some(Reach::Down { path, .. }) => path.last().copied(),
            _ => None,
        };
        let turned = part.and_then(|part| {
            let when = turn(&when)?;
            let unless = match &unless {
                None => None,
                Some(unless) => Some(turn(unless)?),
            };
            Some((part, when, unless, Reach::Own))
        });
        turned.map_or_else(
            || {
                refuse(
                    clause.at,
                    Problem::InSeveralPlaces {
                        owner: "A piece",
                        plural: "such parts",
                        number: "several",
                        places: "more than one kind of owner",
                        examples: "which owner you mean",
                    },
                )
            },
            Ok,
        )
    }

    /// The result of a rule: whose state, and how often.
    fn result(
        &mut self,
        scene: &mut Scene,
        clause: &Clause,
    ) -> Done<(Vec<Reach>, StateId, HowOften)> {
        let (often, sure) = match &clause.saying {
            Saying::Is {
                often, late, sure, ..
            } => {
                if let (Some(late), None) = (late, often) {
                    self.refuse_word_at_end(clause, late)?;
                }
                (often.or(*late), *sure)
            }
            Saying::Shows { often, sure, .. } => (*often, *sure),
            _ => (None, None),
        };
        let (reach, state) = self.concluded(scene, clause)?;
        if let Some((sureness, at)) = sure {
            let word = sureness.word();
            return refuse(at, Problem::SurenessInResult { word });
        }
        self.refuse_negation(clause, state)?;
        let strength = match often {
            None => self.strength(Strength::Always),
            Some(often) => self.result_strength(clause, state, &often)?,
        };
        Ok((reach, state, strength))
    }

    /// "… or blistered": the other results, of which there is one.
    fn alternatives(
        &mut self,
        scene: &mut Scene,
        result: &Clause,
        first: StateId,
        or: &[Name],
    ) -> Done<Vec<StateId>> {
        let mut all = vec![first];
        for other in or {
            let mut clause = result.clone();
            if let Saying::Is { phrase, .. } | Saying::Shows { phrase, .. } = &mut clause.saying {
                phrase.clone_from(other);
            }
            clause.saying_at = other.at;
            let (_, state) = self.concluded(scene, &clause)?;
            if all.contains(&state) {
                let phrase = &other.text;
                return refuse(other.at, Problem::NamedTwice { phrase });
            }
            if all.len() == MOST_ALTERNATIVES {
                let most = MOST_ALTERNATIVES;
                return refuse(other.at, Problem::TooManyAlternatives { most });
            }
            all.push(state);
        }
        all.remove(0);
        Ok(all)
    }

    /// A word for how often stands before what it is said of; counted cases may stand
    /// at the end.
    fn refuse_word_at_end(&self, clause: &Clause, late: &Frequency) -> Done<()> {
        if late.word.is_none() {
            return Ok(());
        }
        let word = frequency_word(late);
        let be = self.written(clause.verb_at);
        let thing = self.written(clause.thing.at());
        let phrase = phrase_text(&clause.saying);
        let right = format!("{thing} {be} {word} {phrase}");
        let message = Message::new(
            late.at,
            Problem::StrengthAtEnd {
                be: &be,
                word: &word,
                right: &right,
            },
        );
        Err(Box::new(message.with_fix(clause.at, right.clone(), true)))
    }

    /// "is not" in a result: worded once every rule is known.
    fn refuse_negation(&mut self, clause: &Clause, state: StateId) -> Done<()> {
        let (Saying::Is { not: Some(at), .. } | Saying::Shows { not: Some(at), .. }) =
            &clause.saying
        else {
            return Ok(());
        };
        let verb = match &clause.saying {
            Saying::Shows { .. } => "shows".to_owned(),
            _ => self.written(clause.verb_at),
        };
        let at = at.to(clause.saying_at);
        let phrase = phrase_text(&clause.saying);
        let they = format!("{} {verb} {phrase}", self.written(clause.thing.at()));
        self.late.push(Late {
            at,
            state,
            what: Misused::Negation { they: they.clone() },
        });
        refuse(
            at,
            Problem::ReasonAgainst {
                they: &they,
                line: None,
            },
        )
    }

    /// How often a result comes about; "rarely" is read as a reason against, and
    /// worded once every rule is known.
    fn result_strength(
        &mut self,
        clause: &Clause,
        state: StateId,
        often: &Frequency,
    ) -> Done<HowOften> {
        if !matches!(often.word, Some(Strength::Rarely | Strength::HardlyEver)) {
            return self.how_often(often);
        }
        let word = frequency_word(often);
        let phrase = phrase_text(&clause.saying);
        self.late.push(Late {
            at: often.at,
            state,
            what: Misused::WeakStrength {
                word: word.clone(),
                phrase: phrase.clone(),
            },
        });
        refuse(
            often.at,
            Problem::WeakStrength {
                word: &word,
                phrase: &phrase,
                line: None,
            },
        )
    }

    /// Which part's state a result or meaning is about.
    fn concluded(&mut self, scene: &mut Scene, clause: &Clause) -> Done<(Vec<Reach>, StateId)> {
        let sentence_subject = scene.subject;
        self.with_look(|look| {
            let meant = look.meant(scene, &clause.thing, true)?;
            look.no_place_in_result(&meant, clause.thing.at())?;
            let owner = crate::words::capital(&look.a(meant.kind));
            let (phrase, verb) = match (&clause.attribute, &clause.saying) {
                (None, Saying::Is { phrase, .. }) => (phrase, Verb::Is),
                (None, Saying::Shows { phrase, .. }) => (phrase, Verb::Shows),
                (None, Saying::Beyond { phrase, often, .. }) => {
                    let often = often
                        .map_or_else(String::new, |often| format!("{} ", frequency_word(&often)));
                    let right = format!("is {often}{}", phrase.text);
                    return refuse(clause.saying_at, Problem::ResultBeyond { right: &right });
                }
                (None, Saying::Measured { .. }) => {
                    let words = measured_words(&clause.saying);
                    return refuse(
                        clause.saying_at,
                        Problem::ResultHasNoName {
                            owner: &owner,
                            phrase: Some(&words),
                        },
                    );
                }
                _ => {
                    return refuse(
                        clause.saying_at,
                        Problem::ResultHasNoName {
                            owner: &owner,
                            phrase: None,
                        },
                    );
                }
            };
            let said = match look.said_or_strength(meant.kind, phrase) {
                Err(message)
                    if message.kind == ProblemKind::SaidOfAnotherPart
                        && matches!(clause.thing, Thing::It(_)) =>
                {
                    // "it is …" said of something else that was spoken of.
                    let all = look.vocab.said(&phrase.text);
                    let other = scene
                        .had
                        .iter()
                        .find(|kind| all.iter().any(|(of, _)| of == *kind));
                    return match other {
                        Some(other) => Err(Box::new(
                            Message::new(
                                clause.thing.at(),
                                Problem::ItIsTheSubject {
                                    subject: look.name(sentence_subject),
                                    other: look.name(*other),
                                },
                            )
                            .at_level(Level::Stop),
                        )),
                        None => Err(message),
                    };
                }
                other => other?,
            };
            let state = match said {
                Said::State(state) => Some(state),
                Said::Degree(sign, degree) => look.model.from_degree(sign, degree),
                _ => None,
            };
            let Some(state) = state else {
                let words = format!("{} …", phrase.text);
                return refuse(
                    clause.saying_at,
                    Problem::ResultHasNoName {
                        owner: &owner,
                        phrase: Some(&words),
                    },
                );
            };
            let record = look.state(state);
            if record.verb != verb {
                return look.wrong_verb(record.verb, verb, phrase, meant.kind);
            }
            if look.model.is_between(record) {
                return refuse(
                    clause.saying_at,
                    Problem::BetweenConcluded {
                        phrase: &phrase.text,
                    },
                );
            }
            Ok((meant.reach, state))
        })
    }

    /// `that … means`: of one sign of the part, of several, or of one of its parts.
    pub(super) fn means(
        &mut self,
        sign: &Conditions,
        fault: &Clause,
    ) -> Done<(KindId, Meaning, Reach, StateId)> {
        let (mut scene, condition) = self.with_look(|look| {
            let (mut scene, picked) = look.subject(sign, "If")?;
            if picked.is_some() {
                return refuse(
                    sign.at,
                    Problem::NotOneSign {
                        owner: &look.a(scene.subject),
                        phrase: None,
                    },
                );
            }
            let condition = look.conditions(&mut scene, sign, Usage::Rule)?;
            Ok::<_, Box<Message>>((scene, condition))
        })?;
        let read = match self.several_signs(&condition, sign.at)? {
            Some(signs) => Meaning::Several(signs),
            None => Meaning::One(self.one_sign(sign, &scene, &condition)?),
        };
        if let Saying::Is { not: Some(at), .. } | Saying::Shows { not: Some(at), .. } =
            &fault.saying
        {
            return refuse(
                *at,
                Problem::Unreadable {
                    read: Some("means"),
                    wants: "a fault that is there",
                    example: Some(
                        "\"If a drawer is stiff, that usually means its runners are worn thin.\"",
                    ),
                },
            );
        }
        let (mut whose, fault_state) = self.concluded(&mut scene, fault)?;
        if whose.len() != 1 {
            return refuse(
                fault.at,
                Problem::InSeveralPlaces {
                    owner: "A piece",
                    plural: "such parts",
                    number: "several",
                    places: "more than one kind of owner",
                    examples: "which owner you mean",
                },
            );
        }
        let whose = whose.swap_remove(0);
        if matches!(whose, Reach::Others { .. }) {
            let subject = self.with_look(|look| look.a(scene.subject));
            return refuse(fault.at, Problem::MeansOthers { subject: &subject });
        }
        let of_parts = matches!(&read, Meaning::Several(signs) if !signs.path.is_empty());
        if of_parts && whose != Reach::Own {
            let owner = self.with_look(|look| look.a(scene.subject));
            return refuse(fault.at, Problem::PartsMeanOwn { owner: &owner });
        }
        Ok((scene.subject, read, whose, fault_state))
    }

    /// The one sign that a sentence with "means" begins with.
    fn one_sign(&mut self, sign: &Conditions, scene: &Scene, read: &Condition) -> Done<StateId> {
        let test = match read {
            Condition::Test(test) if test.whose == Reach::Own => Some(&test.what),
            _ => None,
        };
        if let Some(Predicate::State {
            state, yes: true, ..
        }) = test
            && !matches!(
                self.model.states[state.index()].nature,
                Nature::Hidden { .. }
            )
        {
            let record = &self.model.states[state.index()];
            if self.model.is_between(record) {
                let phrase = record.phrase.clone();
                return refuse(sign.at, Problem::BetweenConcluded { phrase: &phrase });
            }
            return Ok(*state);
        }
        if let Some(Predicate::Measure {
            sign: of,
            mark,
            yes: true,
        }) = test
            && let Some((_, most)) = self.model.signs[of.index()].asks.ends()
            && let Ok(degree) = u8::try_from(mark.at_least)
            && mark.at_least == most
            && let Some(state) = self.model.from_degree(*of, degree)
        {
            return Ok(state);
        }
        self.no_plain_sign(read)?;
        let owner = self.with_look(|look| look.a(scene.subject));
        if let Some(Predicate::Measure { sign: of, .. }) = test
            && let asks @ Asks::Degrees { word, phrase, .. } = &self.model.signs[of.index()].asks
        {
            let phrase = if phrase.is_empty() { word } else { phrase };
            let most = asks.ends().and_then(|(_, most)| u8::try_from(most).ok());
            let degree = degree_words(asks, Than::Just, most.unwrap_or(0));
            let (owner, degree) = (&owner, &degree);
            let problem = Problem::MeansOneDegree {
                owner,
                phrase,
                degree,
            };
            return refuse(sign.at, problem);
        }
        let measured = match (test, &sign.cond) {
            (Some(Predicate::Measure { .. }), crate::syntax::Cond::One(clause)) => {
                Some(measured_words(&clause.saying))
            }
            (Some(Predicate::Measure { .. }), _) => Some(String::new()),
            _ => None,
        };
        let owner = match measured {
            Some(_) => crate::words::capital(&owner),
            None => owner,
        };
        refuse(
            sign.at,
            Problem::NotOneSign {
                owner: &owner,
                phrase: measured.as_deref(),
            },
        )
    }
}

/// A condition about "a piece" as one about a part of it; nothing if it looks
/// down.
fn turn(condition: &Condition) -> Option<Condition> {
    match condition {
        Condition::All(all) => all
            .iter()
            .map(turn)
            .collect::<Option<_>>()
            .map(Condition::All),
        Condition::Any(all) => all
            .iter()
            .map(turn)
            .collect::<Option<_>>()
            .map(Condition::Any),
        Condition::AtLeast(enough, all) => all
            .iter()
            .map(turn)
            .collect::<Option<_>>()
            .map(|all| Condition::AtLeast(*enough, all)),
        Condition::Test(test) => (test.whose == Reach::Own).then(|| {
            Condition::Test(Test {
                whose: Reach::Up(PIECE),
                ..test.clone()
            })
        }),
    }
}

pub(super) fn phrase_text(saying: &Saying) -> String {
    match saying {
        Saying::Is { phrase, .. } | Saying::Shows { phrase, .. } => phrase.text.clone(),
        _ => String::new(),
    }
}

/// "worn more than 2 mm", as it was said.
fn measured_words(saying: &Saying) -> String {
    use crate::syntax::Compare;
    let Saying::Measured {
        phrase,
        compare,
        word,
        ..
    } = saying
    else {
        return String::new();
    };
    let unit = |q: &crate::number::Quantity| match q.unit {
        Some(unit) => match unit.of_measure() {
            Some(unit) => format!("{} {}", q.number, unit_name(unit)),
            None => q.number.to_string(),
        },
        None => q.number.to_string(),
    };
    let compared = match compare {
        Compare::MoreThan(q) => format!("more than {}", unit(q)),
        Compare::LessThan(q) => format!("less than {}", unit(q)),
        Compare::AtLeast(q) => format!("at least {}", unit(q)),
        Compare::AtMost(q) => format!("at most {}", unit(q)),
        Compare::Between(a, b) => format!("between {} and {}", a.number, unit(b)),
    };
    [
        phrase.as_ref().map_or("", |p| p.text.as_str()),
        &compared,
        word.as_ref().map_or("", |w| w.text.as_str()),
    ]
    .join(" ")
    .trim()
    .to_owned()
}
