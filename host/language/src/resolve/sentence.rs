//! Rules, plans, ladders, cautions and datings, resolved; and what a house
//! changes in the rules it builds on.

use std::collections::HashMap;

use crate::entry::{Entry, Opener};
use crate::grammar::sentence::sentence;
use crate::message::{Level, Message, Problem};
use crate::model::{
    Asks, Caution, Change, Condition, Dating, KindId, Ladder, Means, Plan, Rule, SignId, StateId,
    Strength,
};
use crate::near::nearest;
use crate::resolve::Reader;
use crate::resolve::clause::{Usage, picking};
use crate::resolve::look::{Done, refuse};
use crate::resolve::particulars::Particulars;
use crate::resolve::predicate::frequency_word;
use crate::resolve::rule::phrase_text;
use crate::span::Span;
use crate::syntax::{Conditions, Name, Sentence};
use crate::vocab::{Said, key};

/// An entry whose sentence could be read.
pub(super) struct Parsed {
    /// Which entry.
    pub entry: usize,
    /// Its sentence.
    pub sentence: Sentence,
    /// Its labels.
    pub particulars: Particulars,
}

/// A sentence that can have a name, resolved.
enum Item {
    Rule(Rule),
    Means(Means),
    Plan(Plan),
    Ladder(Ladder),
    Caution(Caution),
    Dating(Dating),
}

impl Reader<'_> {
    /// Reads every sentence that is not a declaration.
    pub(super) fn read_sentences(&mut self, entries: &[Entry]) -> Vec<Parsed> {
        let mut parsed = Vec::new();
        for (index, entry) in entries.iter().enumerate() {
            if !matches!(
                entry.opener,
                Opener::If
                    | Opener::Plan
                    | Opener::Ladder
                    | Opener::Job
                    | Opener::Order
                    | Opener::Exclusion
                    | Opener::Caution
                    | Opener::Dating
                    | Opener::Trace
                    | Opener::LeaveOut
            ) {
                continue;
            }
            let particulars = self.particulars(entry);
            let opener = entry.opener;
            let Some(sentence) = self.parse(entry, |i| sentence(opener, i)) else {
                continue;
            };
            parsed.push(Parsed {
                entry: index,
                sentence,
                particulars,
            });
        }
        parsed
    }

    /// Resolves them and puts them into the model.
    pub(super) fn resolve_sentences(&mut self, entries: &[Entry], parsed: &[Parsed]) {
        let (dropped, instead) = self.changes(entries, parsed);
        let mut items: HashMap<usize, Item> = HashMap::new();
        let mut order: Vec<usize> = Vec::new();
        for item in parsed {
            let entry = &entries[item.entry];
            self.source_given(entry, &item.particulars);
            match &item.sentence {
                Sentence::Order { .. } => {
                    let order = self.order(entry, item);
                    if let Some(Some(order)) = self.keep(entry, order) {
                        self.model.orders.push(order);
                    }
                }
                Sentence::Exclusion { .. } => {
                    let exclusion = self.exclusion(entry, item);
                    if let Some(Some(exclusion)) = self.keep(entry, exclusion) {
                        self.model.exclusions.push(exclusion);
                    }
                }
                _ => {
                    let done = self.item(entry, item);
                    if let Some(Some(found)) = self.keep(entry, done) {
                        items.insert(item.entry, found);
                        order.push(item.entry);
                    }
                }
            }
        }
        for (new, old) in &instead {
            if let (Some(now), Some(was)) = (items.get(new), items.get(old))
                && let Some(message) = self.other_sort(now, was, &entries[*new])
            {
                self.fail(&entries[*new], message);
            }
        }
        for index in order {
            if dropped.contains_key(&index) {
                continue;
            }
            match items.remove(&index) {
                Some(Item::Rule(rule)) => self.model.rules.push(rule),
                Some(Item::Means(means)) => self.model.means.push(means),
                Some(Item::Plan(plan)) => self.model.plans.push(plan),
                Some(Item::Ladder(ladder)) => self.model.ladders.push(ladder),
                Some(Item::Caution(caution)) => self.model.cautions.push(caution),
                Some(Item::Dating(dating)) => self.model.datings.push(dating),
                None => {}
            }
        }
    }

    /// What the house changes: entries dropped, and which stands instead of
    /// which.
    fn changes(
        &mut self,
        entries: &[Entry],
        parsed: &[Parsed],
    ) -> (HashMap<usize, usize>, Vec<(usize, usize)>) {
        let mut named: HashMap<String, usize> = HashMap::new();
        for item in parsed {
            let entry = &entries[item.entry];
            let Some(called) = &item.particulars.called else {
                continue;
            };
            if entry.instead.is_some() {
                continue;
            }
            if let Some(before) = named.get(&key(called)) {
                let was = entries[*before].at;
                let line = self.files.line_from(was, entry.at);
                let at = entry
                    .details
                    .iter()
                    .find(|d| d.label == crate::label::Label::Called)
                    .map_or(entry.at, |d| d.value_at());
                self.say(
                    Message::new(at, Problem::RepeatedSentence { line: &line }).with_also(was),
                );
                continue;
            }
            named.insert(key(called), item.entry);
        }
        let mut dropped = HashMap::new();
        let mut instead = Vec::new();
        for item in parsed {
            let entry = &entries[item.entry];
            let (name, at, left_out) = match (&item.sentence, &entry.instead) {
                (Sentence::LeaveOut { name }, _) => (name.text.clone(), name.at, true),
                (_, Some((name, at))) => (name.clone(), *at, false),
                _ => continue,
            };
            let Some(old) = named.get(&key(&name)).copied() else {
                let message = match nearest(&name, named.keys().map(String::as_str)) {
                    Some(near) => Message::new(
                        at,
                        Problem::UnknownName {
                            word: &name,
                            near: Some(&near.joined()),
                        },
                    )
                    .with_fix(at, near.words[0], near.sure()),
                    None => Message::new(
                        at,
                        Problem::UnknownName {
                            word: &name,
                            near: None,
                        },
                    ),
                };
                self.fail(entry, message);
                continue;
            };
            let was = entries[old].at;
            if let Some(before) = dropped.insert(old, item.entry) {
                let line = self.files.line_from(entries[before].at, entry.at);
                self.say(Message::new(
                    entry.at,
                    Problem::RepeatedSentence { line: &line },
                ));
                continue;
            }
            if !left_out {
                instead.push((item.entry, old));
            }
            self.model.changes.push(Change {
                called: self.written(at),
                was,
                now: entry.at,
                left_out,
            });
        }
        (dropped, instead)
    }

    /// A sentence that stands instead of another must be of its sort and say
    /// something of the same thing.
    fn other_sort(&self, now: &Item, was: &Item, entry: &Entry) -> Option<Message> {
        let (name, at) = entry.instead.as_ref()?;
        let (one, other) = (self.about(was), self.about(now));
        if one == other {
            return None;
        }
        let (sort_one, sort_other) = (one.0, other.0);
        if sort_one != sort_other {
            return Some(Message::new(
                *at,
                Problem::OtherSentenceInstead {
                    name,
                    one: Some(sort_one),
                    other: Some(sort_other),
                    subject: None,
                    other_subject: None,
                },
            ));
        }
        Some(Message::new(
            *at,
            Problem::OtherSentenceInstead {
                name,
                one: None,
                other: None,
                subject: Some(&one.1),
                other_subject: Some(&other.1),
            },
        ))
    }

    /// The sort of a sentence, and what its result is about.
    fn about(&self, item: &Item) -> (&'static str, String) {
        let state = |id: StateId| {
            let state = &self.model.states[id.index()];
            format!(
                "whether {} {} {}",
                crate::words::a(&self.model.kinds[state.kind.index()].name),
                crate::resolve::look::verb_word(state.verb),
                state.phrase
            )
        };
        match item {
            Item::Rule(rule) => ("a rule", state(rule.state)),
            Item::Means(means) => ("a sentence with \"means\"", state(means.fault)),
            Item::Plan(plan) => (
                "a plan",
                format!("\"{}\"", self.model.jobs[plan.job.index()].name),
            ),
            Item::Ladder(ladder) => ("a ladder", format!("sign {}", ladder.sign.0)),
            Item::Caution(caution) => (
                "a caution",
                if caution.stop {
                    "stopping"
                } else {
                    "taking care"
                }
                .to_owned(),
            ),
            Item::Dating(dating) => (
                "a dating",
                crate::words::a(&self.model.kinds[dating.subject.index()].name),
            ),
        }
    }

    /// Sources are compulsory for what can hurt, looked for elsewhere.
    fn source_given(&mut self, entry: &Entry, particulars: &Particulars) {
        let level = match entry.opener {
            Opener::Plan
            | Opener::Ladder
            | Opener::Caution
            | Opener::Dating
            | Opener::Trace
            | Opener::Order => Level::Stop,
            Opener::If | Opener::Exclusion => Level::Look,
            _ => return,
        };
        if particulars.from_given {
            return;
        }
        let first = entry.sentence.first().map_or(entry.at, |t| t.at);
        let last = entry.sentence.last().map_or(entry.at, |t| t.at);
        let at = first_line(first.to(last), self.text(entry.at));
        self.say(Message::new(at, Problem::SourceMissing).at_level(level));
    }

    fn item(&mut self, entry: &Entry, item: &Parsed) -> Done<Option<Item>> {
        let particulars = &item.particulars;
        let called = particulars
            .called
            .clone()
            .or_else(|| entry.instead.as_ref().map(|(_, at)| self.written(*at)));
        let source = particulars.from;
        Ok(Some(match &item.sentence {
            Sentence::Rule {
                when,
                result,
                second,
                unless,
            } => {
                let mut rule = self.rule(when, result, *second, unless.as_ref(), entry.at)?;
                rule.source = source;
                rule.called = called;
                Item::Rule(rule)
            }
            Sentence::Means { sign, often, fault } => {
                let strength = self.how_often(often)?;
                if matches!(often.word, Some(Strength::Rarely | Strength::HardlyEver)) {
                    let phrase = phrase_text(&fault.saying);
                    return refuse(
                        often.at,
                        Problem::WeakStrength {
                            word: &frequency_word(often),
                            phrase: &phrase,
                            line: None,
                        },
                    );
                }
                let (subject, sign, whose, fault) = self.means(sign, fault)?;
                Item::Means(Means {
                    subject,
                    sign,
                    whose,
                    fault,
                    strength,
                    source,
                    called,
                    at: entry.at,
                })
            }
            Sentence::Plan { when, job } => {
                let (subject, when) = self.trigger(when, "When")?;
                Item::Plan(Plan {
                    subject,
                    when,
                    job: self.job(job)?,
                    source,
                    called,
                    at: entry.at,
                })
            }
            Sentence::Caution { stop, when, text } => {
                let opening = if *stop { "Stop when" } else { "Take care when" };
                self.check_screen(&text.text, text.at, 3);
                let (subject, when) = self.trigger(when, opening)?;
                Item::Caution(Caution {
                    stop: *stop,
                    subject,
                    when,
                    text: text.text.clone(),
                    source,
                    called,
                    at: entry.at,
                })
            }
            Sentence::Ladder { .. } => {
                let mut ladder = self.ladder(&item.sentence, entry.at)?;
                ladder.source = source;
                ladder.called = called;
                Item::Ladder(ladder)
            }
            Sentence::Dating {
                noun,
                that,
                bound,
                region,
            } => {
                let mut dating =
                    self.dating(noun, that.as_ref(), bound, region.as_ref(), entry.at)?;
                dating.source = source;
                dating.called = called;
                dating.evidence = particulars.evidence.unwrap_or_default();
                Item::Dating(dating)
            }
            _ => return Ok(None),
        }))
    }

    /// The subject and condition of a plan, caution or step.
    fn trigger(
        &mut self,
        conditions: &Conditions,
        opening: &'static str,
    ) -> Done<(KindId, Condition)> {
        self.with_look(|look| {
            let (mut scene, picked) = look.subject(conditions, opening)?;
            let when = look.conditions(&mut scene, conditions, Usage::Trigger)?;
            Ok((scene.subject, picking(picked, when, conditions.at)))
        })
    }

    /// "how much a runner is worn".
    pub(super) fn sign_of_measure(
        &mut self,
        noun: &Name,
        word: &Name,
        phrase: Option<&Name>,
    ) -> Done<SignId> {
        self.with_look(|look| {
            let kind = look.plain(noun)?.kind;
            look.sign_of_measure(kind, word, phrase)
        })
    }
}

impl crate::resolve::look::Look<'_> {
    /// The measure `how <word> a <part> is <phrase>`.
    pub fn sign_of_measure(
        &self,
        kind: KindId,
        word: &Name,
        phrase: Option<&Name>,
    ) -> Done<SignId> {
        if let Some(sign) = self.measure(kind, phrase, Some(word)) {
            return Ok(sign);
        }
        let Some(phrase) = phrase else {
            return refuse(
                word.at,
                Problem::UnknownWord {
                    word: &word.text,
                    near: None,
                    figure: None,
                    read: Some("how"),
                    wants: Some("the word of a measure"),
                },
            );
        };
        match self.said(kind, phrase)? {
            Said::Measure(sign) => {
                let right = match &self.sign(sign).asks {
                    Asks::HowMuch { word, .. } => word.clone(),
                    _ => String::new(),
                };
                Err(Box::new(
                    Message::new(
                        word.at,
                        Problem::UnknownWord {
                            word: &word.text,
                            near: Some(&right),
                            figure: None,
                            read: None,
                            wants: None,
                        },
                    )
                    .with_fix(word.at, right.clone(), true),
                ))
            }
            _ => refuse(
                phrase.at,
                Problem::WrongSortOfAnswer {
                    word: &word.text,
                    owner: &self.a(kind),
                    phrase: &format!("\"{}\"", phrase.text),
                    one: "yes or no, not a quantity",
                    right: "Ask \"whether\" instead of \"how\".",
                },
            ),
        }
    }
}

/// The part of a span that is on its first line.
pub(super) fn first_line(at: Span, text: &str) -> Span {
    let words = at.words(text);
    let end = words.find('\n').unwrap_or(words.len());
    let end = words[..end].trim_end().len();
    Span {
        end: at.start + u32::try_from(end).unwrap_or(0),
        ..at
    }
}
