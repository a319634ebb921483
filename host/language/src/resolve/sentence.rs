//! Rules, plans, ladders, cautions, datings and orders of work, resolved.

use std::collections::HashMap;

use crate::entry::{Entry, Opener};
use crate::grammar::sentence::sentence;
use crate::message::{Level, Message, Problem};
use crate::model::{
    Asks, AtMostOne, Caution, Condition, Dating, Exclusion, KindId, Ladder, Means, OnlyIf, Order,
    Plan, Relative, Rule, SignId, SourceId, StandIn, Strength, Tell, Together, Verb,
};
use crate::resolve::Reader;
use crate::resolve::change::Changes;
use crate::resolve::clause::{Usage, picking};
use crate::resolve::look::{Done, Put, refuse};
use crate::resolve::particulars::Particulars;
use crate::resolve::predicate::frequency_word;
use crate::resolve::rule::Meaning;
use crate::resolve::rule::phrase_text;
use crate::resolve::together::Signs;
use crate::span::Span;
use crate::syntax::{Conditions, Name, Sentence};
use crate::vocab::Said;

/// An entry whose sentence could be read.
pub(super) struct Parsed {
    /// Which entry.
    pub entry: usize,
    /// Its sentence.
    pub sentence: Sentence,
    /// Its labels.
    pub particulars: Particulars,
}

/// A sentence that is no declaration, resolved.
pub(super) enum Item {
    Rule(Box<Rule>),
    Means(Means),
    Together(Together),
    Plan(Plan),
    StandIn(StandIn),
    Ladder(Ladder),
    Caution(Caution),
    Tell(Tell),
    Dating(Dating),
    Relative(Relative),
    Order(Order),
    Exclusion(Exclusion),
    AtMostOne(AtMostOne),
    OnlyIf(OnlyIf),
}

/// Where a sentence comes from, and what it is called.
#[derive(Clone)]
struct Kept {
    source: Option<SourceId>,
    called: Option<String>,
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
                    | Opener::StandIn
                    | Opener::Ladder
                    | Opener::Job
                    | Opener::Order
                    | Opener::Exclusion
                    | Opener::Caution
                    | Opener::Tell
                    | Opener::Dating
                    | Opener::Relative
                    | Opener::Trace
                    | Opener::OnlyIf
                    | Opener::AtMostOne
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

    /// Resolves them and puts those that stand into the model.
    pub(super) fn resolve_sentences(
        &mut self,
        entries: &[Entry],
        parsed: &[Parsed],
        changes: &Changes,
    ) {
        let mut items: HashMap<usize, Item> = HashMap::new();
        for item in parsed {
            let entry = &entries[item.entry];
            let found = if changes.is_dropped(item.entry) {
                self.dropped_item(entry, item)
            } else {
                self.source_given(entry, &item.particulars);
                let done = self.item(entry, item);
                self.keep(entry, done).flatten()
            };
            if let Some(found) = found {
                items.insert(item.entry, found);
            }
        }
        for &(now, was) in &changes.instead {
            if let (Some(new), Some(old)) = (items.get(&now), items.get(&was))
                && let Some(message) = self.other_sort(new, old, &entries[now])
            {
                self.fail(&entries[now], message);
            }
        }
        for item in parsed {
            if !changes.is_dropped(item.entry)
                && let Some(found) = items.remove(&item.entry)
            {
                self.add_item(found);
            }
        }
    }

    fn add_item(&mut self, item: Item) {
        match item {
            Item::Rule(rule) => self.model.rules.push(*rule),
            Item::Means(means) => self.model.means.push(means),
            Item::Together(together) => self.model.togethers.push(together),
            Item::Plan(plan) => self.model.plans.push(plan),
            Item::StandIn(stand_in) => self.model.stand_ins.push(stand_in),
            Item::Ladder(ladder) => self.model.ladders.push(ladder),
            Item::Caution(caution) => self.model.cautions.push(caution),
            Item::Tell(tell) => self.model.tells.push(tell),
            Item::Dating(dating) => self.model.datings.push(dating),
            Item::AtMostOne(one) => self.model.at_most_ones.push(one),
            Item::Relative(relative) => self.model.relatives.push(relative),
            Item::OnlyIf(only_if) => self.model.only_ifs.push(only_if),
            Item::Order(order) => self.model.orders.push(order),
            Item::Exclusion(exclusion) => self.model.exclusions.push(exclusion),
        }
    }

    /// A sentence that no longer stands, to compare it with what stands instead.
    /// What is wrong with it does not matter any more.
    fn dropped_item(&mut self, entry: &Entry, item: &Parsed) -> Option<Item> {
        let said = self.messages.len();
        let found = self.item(entry, item).ok().flatten();
        self.messages.truncate(said);
        found
    }

    /// Sources are compulsory for what can hurt, looked for elsewhere.
    fn source_given(&mut self, entry: &Entry, particulars: &Particulars) {
        let level = match entry.opener {
            Opener::Plan
            | Opener::StandIn
            | Opener::Ladder
            | Opener::Caution
            | Opener::Tell
            | Opener::Dating
            | Opener::Relative
            | Opener::Trace
            | Opener::Order => Level::Stop,
            Opener::If | Opener::Exclusion | Opener::OnlyIf | Opener::AtMostOne => Level::Look,
            _ => return,
        };
        if particulars.from_given {
            return;
        }
        let at = first_line(entry.sentence_at(), self.text(entry.at));
        self.say(Message::new(at, Problem::SourceMissing).at_level(level));
    }

    fn item(&mut self, entry: &Entry, item: &Parsed) -> Done<Option<Item>> {
        let kept = Kept {
            source: item.particulars.from,
            called: item
                .particulars
                .called
                .clone()
                .or_else(|| entry.instead.as_ref().map(|(_, at)| self.written(*at))),
        };
        if let Some(found) = self.chance_item(entry, item, kept.clone())? {
            return Ok(Some(found));
        }
        if let Some(found) = self.work_item(entry, item, kept.clone())? {
            return Ok(Some(found));
        }
        self.dated_item(entry, item, kept)
    }

    /// A sentence about what makes what likely, and what can be at all.
    fn chance_item(&mut self, entry: &Entry, item: &Parsed, kept: Kept) -> Done<Option<Item>> {
        let Kept { source, called } = kept;
        Ok(Some(match &item.sentence {
            Sentence::Rule {
                when,
                result,
                or,
                second,
                unless,
            } => {
                let result = (result, or.as_slice(), *second);
                let mut rule = self.rule(when, result, unless.as_ref(), entry.at)?;
                rule.source = source;
                rule.called = called;
                Item::Rule(Box::new(rule))
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
                let at = entry.at;
                let (subject, read, whose, fault) = self.means(sign, fault)?;
                match read {
                    Meaning::One(sign) => Item::Means(Means {
                        subject,
                        sign,
                        whose,
                        fault,
                        strength,
                        source,
                        called,
                        at,
                    }),
                    Meaning::Several(Signs {
                        path,
                        signs,
                        enough,
                    }) => Item::Together(Together {
                        subject,
                        path,
                        signs,
                        enough,
                        whose,
                        fault,
                        strength,
                        source,
                        called,
                        at,
                    }),
                }
            }
            Sentence::AtMostOne {
                noun,
                shows,
                phrases,
            } => {
                let verb = if *shows { Verb::Shows } else { Verb::Is };
                let (kind, states) = self.at_most_one(noun, verb, phrases)?;
                Item::AtMostOne(AtMostOne {
                    kind,
                    states,
                    source,
                    called,
                    at: entry.at,
                })
            }
            Sentence::OnlyIf {
                noun,
                phrase,
                shows,
                when,
            } => {
                let verb = if *shows { Verb::Shows } else { Verb::Is };
                let (state, when) = self.only_if((noun, verb, phrase), when)?;
                Item::OnlyIf(OnlyIf {
                    state,
                    when,
                    source,
                    called,
                    at: entry.at,
                })
            }
            _ => return Ok(None),
        }))
    }

    /// A sentence about work, and what is to be heeded.
    fn work_item(&mut self, entry: &Entry, item: &Parsed, kept: Kept) -> Done<Option<Item>> {
        let Kept { source, called } = kept;
        Ok(Some(match &item.sentence {
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
            Sentence::StandIn {
                when,
                replaced,
                job,
            } => {
                let mut stand_in = self.stand_in(when, replaced, job, entry)?;
                stand_in.source = source;
                stand_in.called = called;
                Item::StandIn(stand_in)
            }
            Sentence::Caution { stop, when, text } => {
                let opening = if *stop { "Stop when" } else { "Take care when" };
                self.check_screen(&text.text, text.at, 3);
                let (subject, when) = self.trigger(when, opening)?;
                let until = item.particulars.until.as_deref().unwrap_or_default();
                let until = self.until(entry, subject, until)?;
                let plain = item.particulars.plain.as_ref();
                let plain = plain.map(super::plain_words::whole).transpose()?;
                Item::Caution(Caution {
                    stop: *stop,
                    subject,
                    when,
                    text: text.text.clone(),
                    plain,
                    until,
                    source,
                    called,
                    at: entry.at,
                })
            }
            Sentence::Tell { when, text } => {
                let (subject, when) = self.trigger(when, "Tell the owner when")?;
                let text = super::plain_words::whole(text)?;
                Item::Tell(Tell {
                    subject,
                    when,
                    text,
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
            Sentence::Order { .. } => return Ok(self.order(entry, item)?.map(Item::Order)),
            Sentence::Exclusion { .. } => {
                return Ok(self.exclusion(entry, item)?.map(Item::Exclusion));
            }
            _ => return Ok(None),
        }))
    }

    /// A sentence about years.
    fn dated_item(&mut self, entry: &Entry, item: &Parsed, kept: Kept) -> Done<Option<Item>> {
        let Kept { source, called } = kept;
        Ok(Some(match &item.sentence {
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
                dating.evidence = item.particulars.evidence.unwrap_or_default();
                Item::Dating(dating)
            }
            Sentence::Relative {
                noun,
                that,
                says,
                usually,
                other,
            } => {
                let some = (noun, that.as_ref());
                let mut relative = self.relative(some, (*says, *usually), other, entry)?;
                relative.source = source;
                relative.called = called;
                relative.evidence = item.particulars.evidence.unwrap_or_default();
                Item::Relative(relative)
            }
            _ => return Ok(None),
        }))
    }

    /// The subject and condition of a plan, caution or step.
    pub(super) fn trigger(
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
        if let Some(sign) = self.measure(kind, phrase, Some(word), Put::Named) {
            return Ok(sign);
        }
        if let Some(sign) = self.judgement(kind, phrase, word) {
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
