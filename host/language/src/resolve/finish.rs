//! What can only be settled when all is read: starting chances, messages that
//! need to know every rule, and the order of messages.

use std::collections::HashSet;

use crate::entry::Entry;
use crate::message::{Level, Message, Problem, ProblemKind};
use crate::model::{
    Asks, Condition, KindId, Nature, Predicate, Rule, SignId, State, StateId, Test,
};
use crate::resolve::sentence::first_line;
use crate::resolve::{Misused, Reader};
use crate::span::Span;
use crate::vocab::applies;
use crate::words::a;

/// What rules read and conclude.
#[derive(Default)]
struct Uses {
    concluded: HashSet<StateId>,
    read: HashSet<StateId>,
    signs: HashSet<SignId>,
}

impl Reader<'_> {
    /// Settles what is left.
    pub(super) fn finish(&mut self, entries: &[Entry]) {
        self.late_messages();
        self.drop_words_of_elsewhere();
        let follows = self.one_way_along_measures();
        self.fill_defaults(&follows);
        self.starting_chances(&follows);
        self.limit_marks();
        self.limit_exclusions();
        self.order_messages(entries);
    }

    /// Of a word that means two things and is settled by the pack's region, leaves only the
    /// meaning that it has here, so that job notes are read as rules are.
    fn drop_words_of_elsewhere(&mut self) {
        let vocab = &self.vocab;
        for (id, kind) in (0..).map(KindId).zip(&mut self.model.kinds) {
            kind.also.retain(|word| {
                let meanings = vocab.nouns.get(&word.to_lowercase());
                let here: Vec<KindId> = meanings
                    .iter()
                    .filter(|noun| noun.region.is_some() && noun.region == vocab.region)
                    .map(|noun| noun.kind)
                    .collect();
                !matches!(here[..], [one] if one != id)
            });
        }
    }

    /// Messages that name the rule that gives the reason.
    fn late_messages(&mut self) {
        for late in std::mem::take(&mut self.late) {
            let rule = self
                .model
                .rules
                .iter()
                .find(|r| r.results().any(|s| s == late.state));
            let line = rule.map(|r| self.files.line_from(r.at, late.at));
            let line = line.as_deref();
            let problem = match &late.what {
                Misused::Negation { they } => Problem::ReasonAgainst { they, line },
                Misused::WeakStrength { word, phrase } => {
                    Problem::WeakStrength { word, phrase, line }
                }
            };
            let mut message = Message::new(late.at, problem);
            if let Some(rule) = rule {
                message = message.with_also(rule.at);
            }
            self.say(message);
        }
    }

    /// Finds the states read off a measure that follow from its levels, and refuses what
    /// is said of them as if they were levels too.
    fn one_way_along_measures(&mut self) -> HashSet<StateId> {
        let results = self.model.rules.iter().flat_map(Rule::results);
        let led_to: HashSet<StateId> = results.collect();
        let signs = self.model.means.iter().map(|means| means.sign);
        let together = self.model.togethers.iter().flat_map(|t| t.signs.clone());
        let led_to: HashSet<StateId> = led_to.into_iter().chain(signs).chain(together).collect();
        let mut follow = HashSet::new();
        let mut said = Vec::new();
        for (id, state) in (0..).map(StateId).zip(&self.model.states) {
            let Nature::CountsAs { sign, .. } = state.nature else {
                continue;
            };
            let way = self.model.measured_towards(sign, |id| led_to.contains(&id));
            if self.model.towards(state) == Some(way) {
                continue;
            }
            follow.insert(id);
            let at = first_line(state.at, self.text(state.at));
            let phrase = &state.phrase;
            if led_to.contains(&id) {
                said.push(Message::new(at, Problem::MeasureLedBothWays { phrase }));
            } else if state.on_its_own.is_some() {
                said.push(Message::new(at, Problem::FollowsFromMarks { phrase }));
            }
        }
        said.into_iter().for_each(|message| self.say(message));
        follow
    }

    fn fill_defaults(&mut self, follows: &HashSet<StateId>) {
        let fault = self.defaults.fault.map(|(often, _, _)| often);
        let sign = self.defaults.sign.map(|(often, _, _)| often);
        for (id, state) in (0..).map(StateId).zip(&mut self.model.states) {
            if state.on_its_own.is_none() && !follows.contains(&id) {
                state.on_its_own = match state.nature {
                    Nature::Hidden { .. } => fault,
                    _ => sign,
                };
            }
        }
        let mut unsaid = HashSet::new();
        for (id, found) in (0..).map(SignId).zip(&mut self.model.signs) {
            if found.on_its_own.is_none() && matches!(found.asks, Asks::HowMuch { .. }) {
                unsaid.insert(id);
            }
            if found.on_its_own.is_none()
                && matches!(
                    found.asks,
                    Asks::HowMuch { .. } | Asks::HowMany(_) | Asks::Degrees { .. }
                )
            {
                found.on_its_own = sign;
            }
        }
        if let Some(said) = &mut self.model.inherited.said {
            said.states.clone_from(&self.model.states);
            said.signs.clone_from(&self.model.signs);
        }
        if let Some(often) = sign {
            self.taken_for_smallest(&unsaid, often);
        }
    }

    /// Every input a rule reads, and everything a rule concludes, must have a
    /// starting chance.
    fn starting_chances(&mut self, follows: &HashSet<StateId>) {
        let uses = self.uses();
        let mut said: Vec<Message> = Vec::new();
        for (index, state) in self.model.states.iter().enumerate() {
            let Ok(id) = u16::try_from(index).map(StateId) else {
                break;
            };
            let is_judged = self.model.degree_of(id).is_some();
            if state.on_its_own.is_none() && !follows.contains(&id) && !is_judged {
                said.extend(self.state_without_chance(id, state, &uses));
            }
        }
        for (index, sign) in self.model.signs.iter().enumerate() {
            let Ok(id) = u16::try_from(index).map(SignId) else {
                break;
            };
            if sign.on_its_own.is_some() || !uses.signs.contains(&id) {
                continue;
            }
            let at = first_line(sign.at, self.text(sign.at));
            let notes = std::cell::RefCell::new(Vec::new());
            let words = self.look(&notes).sign_words(id);
            said.push(Message::new(
                at,
                Problem::NoStartingChance {
                    owner: None,
                    phrase: None,
                    sign: Some(&words),
                    sort: "a sign",
                    often: "hardly ever",
                },
            ));
        }
        for message in said {
            self.say(message);
        }
    }

    /// What the rules read and conclude.
    fn uses(&self) -> Uses {
        let mut uses = Uses::default();
        for rule in &self.model.rules {
            uses.concluded.extend(rule.results());
            self.reads(&rule.when, rule.subject, &mut uses);
            if let Some(unless) = &rule.unless {
                self.reads(unless, rule.subject, &mut uses);
            }
        }
        for one in &self.model.at_most_ones {
            uses.read.extend(&one.states);
        }
        for only_if in &self.model.only_ifs {
            let kind = self.model.states[only_if.state.index()].kind;
            self.reads(&only_if.when, kind, &mut uses);
        }
        for means in &self.model.means {
            uses.concluded.insert(means.fault);
            uses.read.insert(means.sign);
        }
        for together in &self.model.togethers {
            uses.concluded.insert(together.fault);
            uses.read.extend(&together.signs);
        }
        let states = uses.concluded.iter().chain(&uses.read);
        let judged = states.filter_map(|state| self.model.degree_of(*state));
        uses.signs.extend(judged.map(|(sign, _)| sign));
        uses
    }

    /// The message about a state without a starting chance, if a rule needs it.
    fn state_without_chance(&self, id: StateId, state: &State, uses: &Uses) -> Option<Message> {
        let fault = matches!(state.nature, Nature::Hidden { .. });
        let (sort, often) = if fault {
            ("a fault", "rarely")
        } else {
            ("a sign", "hardly ever")
        };
        let at = first_line(state.at, self.text(state.at));
        let owner = a(&self.model.kinds[state.kind.index()].name);
        if uses.concluded.contains(&id) {
            let phrase = match state.verb {
                crate::model::Verb::Is => state.phrase.clone(),
                crate::model::Verb::Shows => format!("show {}", state.phrase),
            };
            return Some(Message::new(
                at,
                Problem::NoStartingChance {
                    owner: Some(&owner),
                    phrase: Some(&phrase),
                    sign: None,
                    sort,
                    often,
                },
            ));
        }
        if !uses.read.contains(&id) {
            return None;
        }
        let verb = crate::resolve::look::verb_word(state.verb);
        let sign = format!("whether {owner} {verb} {}", state.phrase);
        Some(Message::new(
            at,
            Problem::NoStartingChance {
                owner: None,
                phrase: None,
                sign: Some(&sign),
                sort,
                often,
            },
        ))
    }

    fn reads(&self, condition: &Condition, subject: KindId, uses: &mut Uses) {
        match condition {
            Condition::All(all) | Condition::Any(all) | Condition::AtLeast(_, all) => {
                for one in all {
                    self.reads(one, subject, uses);
                }
            }
            Condition::Test(test) => self.read_test(test, subject, uses),
        }
    }

    fn read_test(&self, test: &Test, subject: KindId, uses: &mut Uses) {
        match &test.what {
            Predicate::State { state, .. } => {
                uses.read.insert(*state);
            }
            Predicate::Measure { sign, .. } => {
                uses.signs.insert(*sign);
            }
            Predicate::Has { part, .. } => {
                let owner = test.whose.kind(subject);
                let piece = self.model.kinds[owner.index()].is_piece;
                let sign =
                    self.model.signs.iter().position(|s| {
                        s.asks == Asks::HowMany(*part) && applies(s.kind, owner, piece)
                    });
                if let Some(id) = sign.and_then(|i| u16::try_from(i).ok()) {
                    uses.signs.insert(SignId(id));
                }
            }
            Predicate::Choice { .. } | Predicate::Placed { .. } | Predicate::CannotBeSeen => {}
        }
    }

    /// Vocabulary before sentences, then by place; what repeats is cut short.
    fn order_messages(&mut self, entries: &[Entry]) {
        let mut declaring: Vec<Span> = entries
            .iter()
            .filter(|e| e.opener.declares())
            .map(|e| e.at)
            .collect();
        declaring.sort_unstable();
        let declares = |at: Span| {
            let index = declaring.partition_point(|d| (d.file, d.start) <= (at.file, at.start));
            index
                .checked_sub(1)
                .and_then(|i| declaring.get(i))
                .is_some_and(|d| d.file == at.file && at.start < d.end)
        };
        self.messages
            .sort_by_key(|m| (!declares(m.at), m.at.file, m.at.start, m.at.end));
        self.messages.dedup_by(|again, first| {
            let is_same =
                again.kind == first.kind && again.at == first.at && again.text == first.text;
            if is_same && again.level == Level::Stop {
                first.level = Level::Stop;
            }
            is_same
        });
        let mut seen: HashSet<(ProblemKind, String)> = HashSet::new();
        for index in 0..self.messages.len() {
            let message = &self.messages[index];
            if message.level != Level::Stop || !AGAIN.contains(&message.kind) {
                continue;
            }
            let again = !seen.insert((message.kind, message.text.clone()));
            let written = self.written(self.messages[index].at);
            let message = &mut self.messages[index];
            if again {
                message.again = true;
                message.text = match &message.fix {
                    Some(fix) => format!("Again: \"{written}\" → \"{}\"?", fix.replacement),
                    None => format!("Again: \"{written}\"."),
                };
                message.help = None;
            }
        }
    }
}

/// Messages about a word, which are cut short when the word comes again.
const AGAIN: [ProblemKind; 10] = [
    ProblemKind::MisspeltPart,
    ProblemKind::WrongPlural,
    ProblemKind::UnknownPart,
    ProblemKind::SaidOfAnotherPart,
    ProblemKind::UnknownWord,
    ProblemKind::UnknownStrength,
    ProblemKind::UnknownLabel,
    ProblemKind::UnknownJob,
    ProblemKind::UnknownSource,
    ProblemKind::UnknownPhrase,
];
