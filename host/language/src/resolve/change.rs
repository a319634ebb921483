//! What a house changes in the rules it builds on: which sentence a name stands
//! for, what is left out, and what stands instead.

use std::cmp::Reverse;
use std::collections::{BTreeMap, HashSet};

use crate::entry::{Entry, Opener};
use crate::label::Label;
use crate::message::{Message, Problem};
use crate::model::{Change, Changed, Means, SignId, StateId, Together};
use crate::near::{Near, nearest};
use crate::resolve::Reader;
use crate::resolve::example::title;
use crate::resolve::sentence::{Item, Parsed};
use crate::span::Span;
use crate::syntax::Sentence;
use crate::token::{Sort, Token};
use crate::vocab::{join, key};
use crate::words::{called, list};

/// What the house changes, by the numbers of the entries.
#[derive(Default)]
pub(super) struct Changes {
    dropped: HashSet<usize>,
    /// The new entry and the one that it stands instead of.
    pub(super) instead: Vec<(usize, usize)>,
}

impl Changes {
    /// Whether an entry was left out, or another stands instead of it.
    pub(super) fn is_dropped(&self, entry: usize) -> bool {
        self.dropped.contains(&entry)
    }
}

/// The entries that a name stands for. Of sentences with `Called:` there is one;
/// of those that are called by their own words there may be more.
#[derive(Default)]
struct Names {
    entries: BTreeMap<String, Vec<usize>>,
    given: BTreeMap<String, usize>,
}

/// What a change asks for.
struct Wanted<'e> {
    entry: usize,
    name: &'e str,
    at: Span,
    because: Option<Span>,
    left_out: bool,
}

/// Names that are shown where one was not found.
const MOST_ALIKE: usize = 4;

impl Reader<'_> {
    /// Finds out what is left out and what is replaced.
    pub(super) fn changes(&mut self, entries: &[Entry], parsed: &[Parsed]) -> Changes {
        self.instead_of_declared(entries);
        let names = self.names(entries, parsed);
        let mut changes = Changes::default();
        let mut changed: BTreeMap<usize, usize> = BTreeMap::new();
        for wanted in wanted(entries, parsed) {
            let entry = &entries[wanted.entry];
            let found = self.one_called(&names, entries, wanted.name, wanted.at);
            let Some(old) = self.keep(entry, found.map_err(Box::new)) else {
                continue;
            };
            if let Some(before) = changed.get(&old) {
                let line = self.files.line_from(entries[*before].at, entry.at);
                self.say(Message::new(
                    entry.at,
                    Problem::RepeatedSentence { line: &line },
                ));
                continue;
            }
            if let Some(message) = self.other_whole(entry, &entries[old], &wanted) {
                self.fail(entry, message);
                continue;
            }
            changed.insert(old, wanted.entry);
            changes.dropped.insert(old);
            if !wanted.left_out {
                changes.instead.push((wanted.entry, old));
            }
            self.note_change(&wanted, entries[old].at, entry.at);
        }
        changes
    }

    fn note_change(&mut self, wanted: &Wanted<'_>, was: Span, now: Span) {
        let how = if wanted.left_out {
            Changed::LeftOut
        } else {
            Changed::Instead
        };
        self.model.changes.push(Change {
            called: self.written(wanted.at),
            was,
            now,
            how,
            because: wanted.because.map(|at| self.written(at)),
        });
    }

    /// "Instead of …" before what is given anew by being written again.
    fn instead_of_declared(&mut self, entries: &[Entry]) {
        for entry in entries {
            let Some((_, at)) = &entry.instead else {
                continue;
            };
            if can_stand_instead(entry.opener) || entry.opener == Opener::Unknown {
                continue;
            }
            let first = entry.sentence.first().map_or(entry.at.end, |t| t.at.start);
            let name = self.written(*at);
            let again = is_given_again(entry.opener).then_some(entry.opener.name());
            let message = Message::new(
                *at,
                Problem::InsteadOfDeclared {
                    name: &name,
                    entry: entry.opener.name(),
                    again,
                },
            );
            let words = Span {
                end: first,
                ..entry.at
            };
            self.say(message.with_fix(words, "", true));
        }
    }

    /// What every sentence is called.
    fn names(&mut self, entries: &[Entry], parsed: &[Parsed]) -> Names {
        let mut names = Names::default();
        for item in parsed {
            let entry = &entries[item.entry];
            // What stands instead of a sentence has its name.
            if entry.instead.is_some() {
                continue;
            }
            if let Some(given) = &item.particulars.called {
                let name = key(given);
                if let Some(&before) = names.given.get(&name) {
                    self.called_twice(given, entry, &entries[before]);
                    continue;
                }
                names.given.insert(name.clone(), item.entry);
                names.entries.entry(name).or_default().push(item.entry);
            } else if let Some(name) = own_words(&item.sentence) {
                names.entries.entry(name).or_default().push(item.entry);
            }
        }
        for (index, entry) in entries.iter().enumerate() {
            if entry.instead.is_none()
                && let Some(name) = whole_called(entry)
            {
                names.entries.entry(name).or_default().push(index);
            }
        }
        names
    }

    fn called_twice(&mut self, name: &str, entry: &Entry, before: &Entry) {
        let line = self.files.line_from(before.at, entry.at);
        let called = entry.details.iter().find(|d| d.label == Label::Called);
        let at = called.map_or(entry.at, |d| d.value_at());
        let instead = (before.standard && !entry.standard).then_some(name);
        self.say(
            Message::new(
                at,
                Problem::CalledTwice {
                    name,
                    line: &line,
                    instead,
                },
            )
            .with_also(before.at),
        );
    }

    /// The one entry with this name.
    fn one_called(
        &self,
        names: &Names,
        entries: &[Entry],
        name: &str,
        at: Span,
    ) -> Result<usize, Message> {
        match names.entries.get(&key(name)).map(Vec::as_slice) {
            Some(&[one]) => Ok(one),
            Some(several) if !several.is_empty() => {
                let lines: Vec<String> = several
                    .iter()
                    .take(MOST_ALIKE)
                    .map(|&index| self.files.line_from(entries[index].at, at))
                    .collect();
                let mut message = Message::new(
                    at,
                    Problem::NameOfSeveral {
                        name,
                        number: several.len(),
                        lines: &list(&lines),
                    },
                );
                for &index in several.iter().take(MOST_ALIKE) {
                    message = message.with_also(entries[index].at);
                }
                Err(message)
            }
            _ => Err(self.no_such_name(names, name, at)),
        }
    }

    fn no_such_name(&self, names: &Names, name: &str, at: Span) -> Message {
        let all = || names.entries.keys().map(String::as_str);
        let (near, alike) = if self.is_still_explaining() {
            nearest_names(name, all)
        } else {
            (None, None)
        };
        let joined = near.as_ref().map(|near| near.joined());
        let message = Message::new(
            at,
            Problem::UnknownName {
                word: name,
                near: joined.as_deref(),
                alike: alike.as_deref(),
            },
        );
        match near {
            Some(near) => message.with_fix(at, near.words[0], near.sure()),
            None => message,
        }
    }

    /// An example can stand instead of an example only, a round instead of the
    /// round of the same piece. Other sentences are compared once they are
    /// resolved.
    fn other_whole(&self, now: &Entry, was: &Entry, wanted: &Wanted<'_>) -> Option<Message> {
        let whole = |entry: &Entry| matches!(entry.opener, Opener::Example | Opener::Round);
        if wanted.left_out || !(whole(now) || whole(was)) {
            return None;
        }
        let problem = |one, other, subject, other_subject| {
            Message::new(
                wanted.at,
                Problem::OtherSentenceInstead {
                    name: wanted.name,
                    one,
                    other,
                    subject,
                    other_subject,
                },
            )
        };
        if now.opener != was.opener {
            let (one, other) = (was.opener.name(), now.opener.name());
            return Some(problem(Some(one), Some(other), None, None));
        }
        let (one, other) = (head_words(was), head_words(now));
        (now.opener == Opener::Round && one != other)
            .then(|| problem(None, None, Some(one.as_str()), Some(other.as_str())))
    }

    /// A sentence that stands instead of another must be of its sort and say
    /// something of the same thing.
    pub(super) fn other_sort(&self, now: &Item, was: &Item, entry: &Entry) -> Option<Message> {
        let (name, at) = entry.instead.as_ref()?;
        let (one, other) = (self.about(was), self.about(now));
        if one == other {
            return None;
        }
        let sorts = one.0 != other.0;
        Some(Message::new(
            *at,
            Problem::OtherSentenceInstead {
                name,
                one: sorts.then_some(one.0),
                other: sorts.then_some(other.0),
                subject: (!sorts).then_some(one.1.as_str()),
                other_subject: (!sorts).then_some(other.1.as_str()),
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
        let job = |id: crate::model::JobId| format!("\"{}\"", self.model.jobs[id.index()].name);
        let both = |one, other| {
            let mut jobs = [job(one), job(other)];
            jobs.sort();
            list(&jobs)
        };
        match item {
            Item::Rule(rule) => {
                let mut results: Vec<String> = rule.results().map(state).collect();
                results.sort();
                ("a rule", list(&results))
            }
            Item::Means(Means { fault, .. }) | Item::Together(Together { fault, .. }) => {
                ("a sentence with \"means\"", state(*fault))
            }
            Item::AtMostOne(one) => (
                Opener::AtMostOne.name(),
                crate::words::a(&self.model.kinds[one.kind.index()].name),
            ),
            Item::OnlyIf(only_if) => ("a sentence with \"only if\"", state(only_if.state)),
            Item::Plan(plan) => ("a plan", job(plan.job)),
            Item::StandIn(stand_in) => (Opener::StandIn.name(), job(stand_in.replaced)),
            Item::Ladder(ladder) => ("a ladder", self.sign_called(ladder.sign)),
            Item::Caution(caution) => (
                "a caution",
                if caution.stop {
                    "stopping"
                } else {
                    "taking care"
                }
                .to_owned(),
            ),
            Item::Tell(_) => (Opener::Tell.name(), String::new()),
            Item::Dating(dating) => (
                "a dating",
                crate::words::a(&self.model.kinds[dating.subject.index()].name),
            ),
            Item::Relative(relative) => (
                Opener::Relative.name(),
                crate::words::a(&self.model.kinds[relative.subject.index()].name),
            ),
            Item::Order(order) => ("an order of work", both(order.before, order.after)),
            Item::Exclusion(exclusion) => (
                Opener::Exclusion.name(),
                both(exclusion.one, exclusion.other),
            ),
        }
    }

    /// Remembers that something of the house stands instead of something that
    /// ships with the tool.
    pub(super) fn replaced(&mut self, called: &str, was: Span, now: Span) {
        let line = self.files.line_from(was, now);
        self.messages
            .push(Message::new(now, Problem::ReplacesStandard { line: &line }).with_also(was));
        self.model.changes.push(crate::model::Change {
            called: called.to_owned(),
            was,
            now,
            how: crate::model::Changed::Again,
            because: None,
        });
    }

    /// "how wide a side is split"
    fn sign_called(&self, sign: SignId) -> String {
        let notes = std::cell::RefCell::new(Vec::new());
        self.look(&notes).sign_words(sign)
    }
}

/// Every "Leave out …" and "Instead of …", in the order of the entries.
fn wanted<'e>(entries: &'e [Entry], parsed: &'e [Parsed]) -> Vec<Wanted<'e>> {
    let mut wanted = Vec::new();
    for item in parsed {
        if let Sentence::LeaveOut { name, because } = &item.sentence {
            wanted.push(Wanted {
                entry: item.entry,
                name: &name.text,
                at: name.at,
                because: *because,
                left_out: true,
            });
        }
    }
    let readable: HashSet<usize> = parsed.iter().map(|item| item.entry).collect();
    for (index, entry) in entries.iter().enumerate() {
        let is_read =
            readable.contains(&index) || matches!(entry.opener, Opener::Example | Opener::Round);
        if let Some((name, at)) = &entry.instead
            && can_stand_instead(entry.opener)
            && is_read
        {
            wanted.push(Wanted {
                entry: index,
                name,
                at: *at,
                because: None,
                left_out: false,
            });
        }
    }
    wanted.sort_by_key(|wanted| wanted.entry);
    wanted
}

/// Whether such a sentence can stand instead of another.
fn can_stand_instead(opener: Opener) -> bool {
    matches!(
        opener,
        Opener::If
            | Opener::Plan
            | Opener::StandIn
            | Opener::Ladder
            | Opener::Order
            | Opener::Exclusion
            | Opener::Caution
            | Opener::Tell
            | Opener::Dating
            | Opener::Relative
            | Opener::Trace
            | Opener::OnlyIf
            | Opener::AtMostOne
            | Opener::Round
            | Opener::Example
    )
}

/// Whether such a sentence takes the place of one that says the same words.
fn is_given_again(opener: Opener) -> bool {
    matches!(
        opener,
        Opener::Sign
            | Opener::CountSign
            | Opener::Hidden
            | Opener::WorkedOut
            | Opener::CountsAs
            | Opener::Job
            | Opener::Makeup
            | Opener::Scale
            | Opener::Default
            | Opener::Source
    )
}

/// The name of a sentence that is called by its own words.
fn own_words(sentence: &Sentence) -> Option<String> {
    match sentence {
        Sentence::Order { before, after, .. } => {
            Some(key(&called::order(&before.text, &after.text)))
        }
        Sentence::Exclusion { splits, .. } => {
            let (one, other) = splits.first()?;
            Some(key(&called::exclusion(&one.text, &other.text)))
        }
        _ => None,
    }
}

/// What an example or a round is called.
fn whole_called(entry: &Entry) -> Option<String> {
    match entry.opener {
        Opener::Example => {
            let title = join(title(entry));
            (!title.is_empty()).then(|| key(&called::example(&title)))
        }
        Opener::Round => Some(key(&called::round(&head_words(entry)))),
        _ => None,
    }
}

/// "a chest of drawers" of "To look over a chest of drawers:".
fn head_words(entry: &Entry) -> String {
    let tokens: Vec<Token> = entry
        .sentence
        .iter()
        .skip(3)
        .take_while(|t| t.sort != Sort::Colon)
        .cloned()
        .collect();
    join(&tokens)
}

/// A name that is a slip of the hand away; else those that share its words.
fn nearest_names<'n, I: Iterator<Item = &'n str>>(
    name: &str,
    all: impl Fn() -> I,
) -> (Option<Near<'n>>, Option<String>) {
    let near = nearest(name, all());
    if near.as_ref().is_some_and(Near::sure) {
        return (near, None);
    }
    let (shared, shown) = alike(name, all());
    if shared || near.is_none() {
        (None, shown)
    } else {
        (near, None)
    }
}

/// Names that share words with one that is not known, the likest first; and whether
/// the likest has all of its words.
fn alike<'a>(name: &str, names: impl Iterator<Item = &'a str>) -> (bool, Option<String>) {
    const SMALL: [&str; 10] = [
        "a", "an", "the", "of", "for", "in", "on", "to", "by", "plan",
    ];
    let words: HashSet<String> = name
        .split(' ')
        .filter(|word| !SMALL.contains(word))
        .map(super::stem)
        .collect();
    let mut found: Vec<(usize, &str)> = names
        .map(|other| {
            let shared: HashSet<String> = other
                .split(' ')
                .map(super::stem)
                .filter(|word| words.contains(word))
                .collect();
            (shared.len(), other)
        })
        .filter(|(shared, _)| *shared > 0 && shared * 2 >= words.len())
        .collect();
    found.sort_by_key(|&(shared, other)| (Reverse(shared), other.len(), other));
    let more = found.len().saturating_sub(MOST_ALIKE);
    let mut shown: Vec<String> = found
        .iter()
        .take(MOST_ALIKE)
        .map(|(_, other)| format!("\"{other}\""))
        .collect();
    if more > 0 {
        shown.push(format!("{more} more"));
    }
    let has_all = found
        .first()
        .is_some_and(|(shared, _)| *shared == words.len());
    (has_all, (!shown.is_empty()).then(|| list(&shown)))
}
