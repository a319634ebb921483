//! Rules, plans, ladders, cautions and datings, resolved; and what a house
//! changes in the rules it builds on.

use std::collections::HashMap;

use crate::language::entry::{Entry, Opener};
use crate::language::grammar::declare::region_of;
use crate::language::grammar::sentence::sentence;
use crate::language::message::{Level, Message};
use crate::language::near::nearest;
use crate::language::number::{UnitWord, unit_name};
use crate::language::resolve::clause::{Usage, frequency_word};
use crate::language::resolve::look::{Done, refuse};
use crate::language::resolve::particulars::Particulars;
use crate::language::resolve::reach::Scene;
use crate::language::resolve::{LATER, Late, Reader};
use crate::language::span::Span;
use crate::language::syntax::{Clause, Conditions, Name, NewBound, Saying, Sentence, Thing};
use crate::language::vocab::{Said, key};
use crate::model::{
    Asks, Caution, Change, Condition, DateBound, Dating, HowOften, KindId, Ladder, Means, Nature,
    PIECE, Plan, Predicate, Reach, Region, Rule, SignId, StateId, Strength, Test, Verb,
};

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
                let line = self.places.line_from(was, entry.at);
                let at = entry
                    .details
                    .iter()
                    .find(|d| d.label == crate::language::label::Label::Called)
                    .map_or(entry.at, |d| d.value_at());
                self.say(Message::new(107, at, &[("line", &line)]).with_also(was));
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
                let message =
                    match nearest(&name, named.keys().map(String::as_str)) {
                        Some(near) => {
                            Message::new(87, at, &[("word", &name), ("near", &near.joined())])
                                .with_fix(at, near.words[0], near.sure())
                        }
                        None => Message::new(87, at, &[("word", &name)]),
                    };
                self.fail(entry, message);
                continue;
            };
            let was = entries[old].at;
            if let Some(before) = dropped.insert(old, item.entry) {
                let line = self.places.line_from(entries[before].at, entry.at);
                self.say(Message::new(107, entry.at, &[("line", &line)]));
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
                103,
                *at,
                &[("name", name), ("one", sort_one), ("other", sort_other)],
            ));
        }
        let mut message = Message::new(103, *at, &[]);
        message.text = format!(
            "\"{name}\" is about {}, and what stands instead of it is about {}.",
            one.1, other.1
        );
        Some(message)
    }

    /// The sort of a sentence, and what its result is about.
    fn about(&self, item: &Item) -> (&'static str, String) {
        let state = |id: StateId| {
            let state = &self.model.states[id.index()];
            format!(
                "whether {} {} {}",
                crate::language::vocab::a(&self.model.kinds[state.kind.index()].name),
                crate::language::resolve::look::verb_word(state.verb),
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
                crate::language::vocab::a(&self.model.kinds[dating.subject.index()].name),
            ),
        }
    }

    /// Sources are compulsory for what can hurt, looked for elsewhere.
    fn source_given(&mut self, entry: &Entry, particulars: &Particulars) {
        let level = match entry.opener {
            Opener::Plan | Opener::Ladder | Opener::Caution | Opener::Dating | Opener::Order => {
                Level::Stop
            }
            Opener::If | Opener::Exclusion => Level::Look,
            _ => return,
        };
        if particulars.from_given {
            return;
        }
        let first = entry.sentence.first().map_or(entry.at, |t| t.at);
        let last = entry.sentence.last().map_or(entry.at, |t| t.at);
        let at = first_line(first.to(last), self.text(entry.at));
        self.say(Message::new(65, at, &[]).at_level(level));
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
                        20,
                        often.at,
                        &[("word", &frequency_word(often)), ("phrase", &phrase)],
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

    fn rule(
        &mut self,
        when: &Conditions,
        result: &Clause,
        second: Option<Span>,
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
            return refuse(15, second, &[("second", &words)]);
        }
        let (whose, state, strength) = self.result(&mut scene, result)?;
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
                    32,
                    clause.at,
                    &[
                        ("owner", "A piece"),
                        ("plural", "such parts"),
                        ("number", "several"),
                        ("places", "more than one kind of owner"),
                        ("examples", "which owner you mean"),
                    ],
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
                    // Counted cases may stand at the end.
                    if late.word.is_some() {
                        let word = frequency_word(late);
                        let be = self.written(clause.verb_at);
                        let thing = self.written(clause.thing.at());
                        let phrase = phrase_text(&clause.saying);
                        let right = format!("{thing} {be} {word} {phrase}");
                        return Err(Box::new(
                            Message::new(
                                19,
                                late.at,
                                &[("word", &word), ("be", &be), ("right", &right)],
                            )
                            .with_fix(clause.at, right.clone(), true),
                        ));
                    }
                }
                (often.or(*late), *sure)
            }
            Saying::Shows { often, sure, .. } => (*often, *sure),
            _ => (None, None),
        };
        let (reach, state) = self.concluded(scene, clause)?;
        let phrase = phrase_text(&clause.saying);
        if let Some((sureness, at)) = sure {
            let word = crate::language::resolve::clause::sureness_word(sureness);
            return refuse(122, at, &[("word", word)]);
        }
        if let Saying::Is { not: Some(at), .. } | Saying::Shows { not: Some(at), .. } =
            &clause.saying
        {
            let verb = match &clause.saying {
                Saying::Shows { .. } => "shows".to_owned(),
                _ => self.written(clause.verb_at),
            };
            self.late.push(Late {
                number: 16,
                at: at.to(clause.saying_at),
                state,
                word: String::new(),
                phrase: format!("{} {verb} {phrase}", self.written(clause.thing.at())),
            });
            // Nothing is concluded, and the message comes when all is read.
            return refuse(LATER, *at, &[]);
        }
        let strength = match often {
            None => self.strength(Strength::Always),
            Some(often) => {
                if matches!(often.word, Some(Strength::Rarely | Strength::HardlyEver)) {
                    self.late.push(Late {
                        number: 20,
                        at: often.at,
                        state,
                        word: frequency_word(&often),
                        phrase,
                    });
                    return refuse(LATER, often.at, &[]);
                }
                self.how_often(&often)?
            }
        };
        Ok((reach, state, strength))
    }

    /// Which part's state a result or meaning is about.
    fn concluded(&mut self, scene: &mut Scene, clause: &Clause) -> Done<(Vec<Reach>, StateId)> {
        let sentence_subject = scene.subject;
        self.with_look(|look| {
            let meant = look.meant(scene, &clause.thing, true)?;
            let owner = crate::language::vocab::capital(&look.a(meant.kind));
            let (phrase, verb) = match (&clause.attribute, &clause.saying) {
                (None, Saying::Is { phrase, .. }) => (phrase, Verb::Is),
                (None, Saying::Shows { phrase, .. }) => (phrase, Verb::Shows),
                (None, Saying::Measured { .. }) => {
                    let words = measured_words(&clause.saying);
                    return refuse(
                        97,
                        clause.saying_at,
                        &[("owner", &owner), ("phrase", &words)],
                    );
                }
                _ => return refuse(97, clause.saying_at, &[("owner", &owner)]),
            };
            let said = match look.said_or_strength(meant.kind, phrase) {
                Err(message) if message.number == 7 && matches!(clause.thing, Thing::It(_)) => {
                    // "it is …" said of something else that was spoken of.
                    let all = look.vocab.said(&phrase.text);
                    let other = scene
                        .had
                        .iter()
                        .find(|kind| all.iter().any(|(of, _)| of == *kind));
                    return match other {
                        Some(other) => Err(Box::new(
                            Message::new(
                                30,
                                clause.thing.at(),
                                &[
                                    ("subject", look.name(sentence_subject)),
                                    ("other", look.name(*other)),
                                ],
                            )
                            .at_level(Level::Stop),
                        )),
                        None => Err(message),
                    };
                }
                other => other?,
            };
            let Said::State(state) = said else {
                let words = format!("{} …", phrase.text);
                return refuse(
                    97,
                    clause.saying_at,
                    &[("owner", &owner), ("phrase", &words)],
                );
            };
            let right = look.state(state).verb;
            if right != verb {
                return look.wrong_verb(right, verb, phrase, meant.kind);
            }
            Ok((meant.reach, state))
        })
    }

    fn means(
        &mut self,
        sign: &Conditions,
        fault: &Clause,
    ) -> Done<(KindId, StateId, Reach, StateId)> {
        let (mut scene, condition) = self.with_look(|look| {
            let (mut scene, picked) = look.subject(sign, "If")?;
            if picked.is_some() {
                return refuse(102, sign.at, &[("owner", &look.a(scene.subject))]);
            }
            let condition = look.conditions(&mut scene, sign, Usage::Rule)?;
            Ok::<_, Box<Message>>((scene, condition))
        })?;
        let owner = self.with_look(|look| look.a(scene.subject));
        let state = match &condition {
            Condition::Test(Test {
                whose: Reach::Own,
                what: Predicate::State {
                    state, yes: true, ..
                },
                ..
            }) if !matches!(
                self.model.states[state.index()].nature,
                Nature::Hidden { .. }
            ) =>
            {
                *state
            }
            Condition::Test(Test {
                whose: Reach::Own,
                what: Predicate::Measure { .. },
                ..
            }) => {
                let words = match &sign.cond {
                    crate::language::syntax::Cond::One(clause) => measured_words(&clause.saying),
                    _ => String::new(),
                };
                let owner = crate::language::vocab::capital(&owner);
                return refuse(102, sign.at, &[("owner", &owner), ("phrase", &words)]);
            }
            _ => return refuse(102, sign.at, &[("owner", &owner)]),
        };
        if let Saying::Is { not: Some(at), .. } | Saying::Shows { not: Some(at), .. } =
            &fault.saying
        {
            return refuse(
                78,
                *at,
                &[
                    ("read", "means"),
                    ("wants", "a fault that is there"),
                    (
                        "example",
                        "\"If a drawer is stiff, that usually means its runners are worn thin.\"",
                    ),
                ],
            );
        }
        let (mut whose, fault_state) = self.concluded(&mut scene, fault)?;
        if whose.len() != 1 {
            return refuse(
                32,
                fault.at,
                &[
                    ("owner", "A piece"),
                    ("plural", "such parts"),
                    ("number", "several"),
                    ("places", "more than one kind of owner"),
                    ("examples", "which owner you mean"),
                ],
            );
        }
        Ok((scene.subject, state, whose.swap_remove(0), fault_state))
    }

    fn ladder(&mut self, sentence: &Sentence, at: Span) -> Done<Ladder> {
        let Sentence::Ladder {
            word,
            noun,
            phrase,
            rungs,
            more,
        } = sentence
        else {
            return refuse(78, at, &[("wants", "a ladder")]);
        };
        let sign = self.sign_of_measure(noun, word, phrase.as_ref())?;
        let mut found = Vec::new();
        for (quantity, outcome) in rungs {
            let ticks = self.with_look(|look| look.ticks(sign, quantity))?;
            if let Some((before, _)) = found.last()
                && ticks <= *before
            {
                let index = found.len() - 1;
                let this = self.written(quantity.at);
                let before = self.written(rungs[index].0.at);
                return refuse(40, quantity.at, &[("this", &this), ("before", &before)]);
            }
            let job = outcome.as_ref().map(|job| self.job(job)).transpose()?;
            found.push((ticks, job));
        }
        let Some(more) = more else {
            let last = rungs.last().map_or(at, |(q, _)| q.at);
            let words = self.written(last);
            return refuse(41, last, &[("last", &words)]);
        };
        let more = more.as_ref().map(|job| self.job(job)).transpose()?;
        Ok(Ladder {
            sign,
            rungs: found,
            more,
            source: None,
            called: None,
            at,
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

    fn dating(
        &mut self,
        noun: &Name,
        that: Option<&Clause>,
        bound: &NewBound,
        region: Option<&Name>,
        at: Span,
    ) -> Done<Dating> {
        let bound = match bound {
            NewBound::NotEarlier(year) => {
                DateBound::NotEarlier(self.year(*year, "not earlier than")?)
            }
            NewBound::NotLater(year) => DateBound::NotLater(self.year(*year, "not later than")?),
            NewBound::Usually(from, to) => {
                let (first, last) = (self.year(*from, "from")?, self.year(*to, "to")?);
                if first > last {
                    let right = format!("from {last} to {first}");
                    return refuse(37, from.1.to(to.1), &[("right", &right)]);
                }
                DateBound::Usually(first, last)
            }
        };
        let region = match region {
            None => None,
            Some(name) => match region_of(&name.text) {
                Some(region) => Some(region),
                None => return refuse(113, name.at, &[("word", &name.text)]),
            },
        };
        self.with_look(|look| {
            let found = look.noun(noun)?;
            let mut scene = Scene {
                subject: found.kind,
                opening: "A",
                opened: false,
                any_said: Vec::new(),
                had: Vec::new(),
            };
            let that = that
                .map(|clause| {
                    let mut clause = clause.clone();
                    clause.thing = Thing::It(noun.at);
                    look.clause(&mut scene, &clause, Usage::Trigger)
                })
                .transpose()?;
            let picked = found.choice.map(|(sign, value)| {
                Condition::Test(Test {
                    whose: Reach::Own,
                    what: Predicate::Choice {
                        sign,
                        values: vec![value],
                        yes: true,
                    },
                    at: noun.at,
                })
            });
            let when = match (picked, that) {
                (Some(one), Some(other)) => Some(Condition::All(vec![one, other])),
                (one, other) => one.or(other),
            };
            Ok(Dating {
                subject: found.kind,
                when,
                bound,
                region: region as Option<Region>,
                evidence: crate::model::Evidence::default(),
                source: None,
                called: None,
                at,
            })
        })
    }

    /// A year of four digits that has been.
    pub(super) fn year(&self, (year, at): (i64, Span), before: &str) -> Done<u16> {
        let written = self.written(at);
        let now = this_year();
        let words = format!("{before} {written}");
        if written.len() != 4 || !(1000..=9999).contains(&year) {
            let mut message = Message::new(39, at, &[("words", &words)]);
            message.text = format!("\"{words}\" is not a year: a year has four digits.");
            return Err(Box::new(message));
        }
        if year <= now {
            return Ok(u16::try_from(year).unwrap_or(u16::MAX));
        }
        let near = format!("1{}", &written[1..]);
        Err(Box::new(
            Message::new(39, at, &[("words", &words), ("near", &near)]).with_fix(
                at,
                near.clone(),
                false,
            ),
        ))
    }
}

impl crate::language::resolve::look::Look<'_> {
    /// The measure "how <word> a <part> is <phrase>".
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
                17,
                word.at,
                &[
                    ("word", &word.text),
                    ("read", "how"),
                    ("wants", "the word of a measure"),
                ],
            );
        };
        match self.said(kind, phrase)? {
            Said::Measure(sign) => {
                let right = match &self.sign(sign).asks {
                    Asks::HowMuch { word, .. } => word.clone(),
                    _ => String::new(),
                };
                Err(Box::new(
                    Message::new(17, word.at, &[("word", &word.text), ("near", &right)]).with_fix(
                        word.at,
                        right.clone(),
                        true,
                    ),
                ))
            }
            _ => refuse(
                120,
                phrase.at,
                &[
                    ("word", &word.text),
                    ("owner", &self.a(kind)),
                    ("phrase", &format!("\"{}\"", phrase.text)),
                    ("one", "yes or no, not a quantity"),
                    ("right", "Ask \"whether\" instead of \"how\"."),
                ],
            ),
        }
    }
}

/// The year it is.
fn this_year() -> i64 {
    let now = std::time::SystemTime::now()
        .duration_since(std::time::UNIX_EPOCH)
        .map_or(0, |d| d.as_secs());
    // Mean length of a year; a day's error at New Year does no harm.
    1970 + i64::try_from(now / 31_556_952).unwrap_or(0)
}

/// The condition with what a choice noun picked.
fn picking(
    picked: crate::language::resolve::clause::Picked,
    when: Condition,
    at: Span,
) -> Condition {
    let Some((sign, value)) = picked else {
        return when;
    };
    let choice = Condition::Test(Test {
        whose: Reach::Own,
        what: Predicate::Choice {
            sign,
            values: vec![value],
            yes: true,
        },
        at,
    });
    match when {
        Condition::All(mut all) => {
            all.insert(0, choice);
            Condition::All(all)
        }
        other => Condition::All(vec![choice, other]),
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
        Condition::Test(test) => (test.whose == Reach::Own).then(|| {
            Condition::Test(Test {
                whose: Reach::Up(PIECE),
                ..test.clone()
            })
        }),
    }
}

fn phrase_text(saying: &Saying) -> String {
    match saying {
        Saying::Is { phrase, .. } | Saying::Shows { phrase, .. } => phrase.text.clone(),
        _ => String::new(),
    }
}

/// "worn more than 2 mm", as it was said.
fn measured_words(saying: &Saying) -> String {
    use crate::language::syntax::Compare;
    let Saying::Measured {
        phrase,
        compare,
        word,
        ..
    } = saying
    else {
        return String::new();
    };
    let unit = |q: &crate::language::number::Quantity| match q.unit {
        Some(UnitWord::Measure(unit)) => format!("{} {}", q.number, unit_name(unit)),
        _ => q.number.to_string(),
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
