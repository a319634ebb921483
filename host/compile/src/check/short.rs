//! Rules that come to less than they say: an ordinary yes to the condition leaves so much
//! doubt that "usually" counts for "often". What helps is tried before it is proposed.
//!
//! Of the standard rules only those are told that a sentence of the house brought down.
//! A rule may come to more than it says: others give reasons for the same thing.

use std::collections::{BTreeMap, HashSet};

use super::Say;
use super::trial::Trials;
use super::ways::{figures, lines, often_words, with_label};
use crate::built::{Built, build_listed};
use crate::meaning::tests;
use crate::obtained::{Obtained, Sentence};
use crate::rules::Listed;
use tellmark_language::model::{
    Asks, Condition, HowOften, Model, Nature, Predicate, Rule, SignId, StateId, Thousandths,
};
use tellmark_language::span::Span;
use tellmark_language::{Message, Problem, Reading, SourceFile, read, words};

/// How far a rule may come short of its figure before it is told.
const FAR: f64 = 0.10;
/// How near to its figure it must come to be mended.
const NEAR: f64 = 0.05;
/// What a standard rule must have come to before, beside now, for the house to have brought
/// it down.
const MOVED: f64 = 0.02;
/// Rules of the house that are looked at.
const MOST_RULES: usize = 500;
/// Signs for which it is tried what would help.
const MOST_TRIED: usize = 4;
/// Starting chances that are tried for a sign, the lowest that may do first.
const MOST_STARTS: usize = 2;

/// Says of every such rule what would help; of several about the same signs, once.
pub(super) fn say(say: &mut Say<'_>, built: &Built) {
    let reading = say.reading;
    let short = short(say, &reading.model, built);
    if short.is_empty() {
        return;
    }
    let mut by_signs: BTreeMap<Vec<Lever>, Vec<Short<'_>>> = BTreeMap::new();
    for one in short {
        let levers = levers(&reading.model, &one.rule.when);
        by_signs.entry(levers).or_default().push(one);
    }
    let mut groups: Vec<Group<'_>> = by_signs
        .into_iter()
        .filter(|(levers, _)| !levers.is_empty())
        .map(|(levers, rules)| Group { levers, rules })
        .collect();
    groups.sort_by_key(|group| group.rules.first().map(|one| one.rule.at));
    let trials = Trials::new(reading, built);
    let messages: Vec<Message> = groups
        .iter()
        .enumerate()
        .filter_map(|(nth, group)| {
            let ways = if nth < MOST_TRIED {
                group.ways(say, &reading.model, &trials)
            } else {
                Vec::new()
            };
            group.message(say, &reading.model, &ways)
        })
        .collect();
    say.messages.extend(messages);
}

/// A rule that comes short, at the place where it comes to least.
struct Short<'m> {
    rule: &'m Rule,
    yes: f64,
    certainly: f64,
}

impl Short<'_> {
    fn wanted(&self) -> f64 {
        strength(self.rule)
    }
}

/// What a sign can be given another figure of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Lever {
    /// A yes or no, with the sign by which it is seen; none if it is judged by eye on a
    /// measure.
    State(StateId, Option<SignId>),
    /// A choice.
    Choice(SignId),
}

/// The rules that come short: the house's own, and standard ones that the house brought
/// down.
fn short<'m>(say: &Say<'_>, model: &'m Model, built: &Built) -> Vec<Short<'m>> {
    let own = model.rules.iter().filter(|rule| !say.is_standard(rule.at));
    let last_own = own.map(|rule| rule.at).nth(MOST_RULES);
    let is_looked_at = |rule: &Rule| {
        strength(rule) > FAR
            && if say.is_standard(rule.at) {
                is_touched(say, model, rule)
            } else {
                last_own.is_none_or(|last| rule.at < last)
            }
    };
    let all = least(built, model, |rule| is_looked_at(&model.rules[rule]));
    let mut short: Vec<Short<'m>> = all
        .iter()
        .filter_map(|(&rule, one)| {
            let rule = &model.rules[rule];
            let (yes, certainly) = (one.yes?, one.certainly?);
            (yes < strength(rule) - FAR).then_some(Short {
                rule,
                yes,
                certainly,
            })
        })
        .collect();
    // Of what was said of several kinds, the one that comes to least.
    short.sort_by(|a, b| a.rule.at.cmp(&b.rule.at).then(a.yes.total_cmp(&b.yes)));
    short.dedup_by_key(|one| one.rule.at);
    if short.iter().any(|one| say.is_standard(one.rule.at)) {
        let before = as_standard(say.reading, &short).unwrap_or_default();
        short.retain(|one| {
            let was = before.get(&one.rule.at);
            !say.is_standard(one.rule.at) || was.is_some_and(|was| one.yes < was - MOVED)
        });
    }
    short
}

/// What each rule comes to after an ordinary yes where that is least.
fn least(
    built: &Built,
    model: &Model,
    wanted: impl Fn(usize) -> bool,
) -> BTreeMap<usize, Obtained> {
    let is_wanted = |sentence, _| matches!(sentence, Sentence::Rule(rule) if wanted(rule));
    let mut least: BTreeMap<usize, Obtained> = BTreeMap::new();
    for one in built.obtained(model, is_wanted) {
        let Sentence::Rule(rule) = one.sentence else {
            continue;
        };
        let known = least.entry(rule).or_insert(one);
        if one.yes.unwrap_or(1.0) < known.yes.unwrap_or(1.0) {
            *known = one;
        }
    }
    least
}

/// Whether the house says again how a sign is in the condition of a rule, or what one
/// means.
fn is_touched(say: &Say<'_>, model: &Model, rule: &Rule) -> bool {
    let is_own = |at: Span| !say.is_standard(at);
    levers(model, &rule.when).iter().any(|lever| match *lever {
        Lever::State(state, sign) => {
            is_own(model.states[state.index()].at)
                || sign.is_some_and(|sign| is_own(model.signs[sign.index()].at))
                || (model.means.iter()).any(|means| means.sign == state && is_own(means.at))
        }
        Lever::Choice(sign) => is_own(model.signs[sign.index()].at),
    })
}

/// What these rules come to without the house's own files.
fn as_standard(reading: &Reading, short: &[Short<'_>]) -> Option<BTreeMap<Span, f64>> {
    let mut files: Vec<SourceFile> = reading.files.to_vec();
    for file in files.iter_mut().filter(|file| !file.standard) {
        file.text.clear();
    }
    let model = read(files).model;
    let listed = Listed::of(&model).ok()?;
    let built = build_listed(&model, listed, &|_| String::new()).ok()?;
    let is_wanted = |rule: usize| short.iter().any(|one| one.rule.at == model.rules[rule].at);
    let all = least(&built, &model, is_wanted).into_iter();
    Some(
        all.filter_map(|(rule, one)| Some((model.rules[rule].at, one.yes?)))
            .collect(),
    )
}

/// What there is in a condition that an ordinary yes leaves in doubt.
fn levers(model: &Model, condition: &Condition) -> Vec<Lever> {
    let mut found = Vec::new();
    tests(condition, &mut |test| match &test.what {
        Predicate::State { state, .. } => match &model.states[state.index()].nature {
            Nature::Seen(sign) => {
                let (state, sign) = (model.said_state(*state), model.said_sign(*sign));
                found.push(Lever::State(state, Some(sign)));
            }
            Nature::CountsAs { .. } => {
                found.push(Lever::State(model.said_state(*state), None));
            }
            Nature::Hidden { .. } => {}
        },
        Predicate::Choice { sign, .. } => found.push(Lever::Choice(model.said_sign(*sign))),
        _ => {}
    });
    found.sort_unstable();
    found.dedup();
    found
}

/// Rules about the same signs, all of which come short.
struct Group<'m> {
    levers: Vec<Lever>,
    rules: Vec<Short<'m>>,
}

impl Group<'_> {
    fn message(&self, say: &Say<'_>, model: &Model, ways: &[String]) -> Option<Message> {
        let first = self.rules.first()?;
        let (at, also) = if say.is_standard(first.rule.at) {
            (self.own_place(say, model)?, Some(first.rule.at))
        } else {
            (first.rule.at, None)
        };
        let signs: Vec<String> = self
            .levers
            .iter()
            .map(|lever| named(model, *lever))
            .collect();
        let listed = lines(ways);
        let line = also.map(|at| say.line(at));
        let others = self.rules.len() - 1;
        let problem = Problem::ComesShort {
            line: line.as_deref(),
            wanted: &words::how_often(&first.rule.strength),
            reached: &words::figure(first.yes),
            certainly: &words::figure(first.certainly),
            signs: &words::list(&signs),
            others: (others > 0).then_some(others),
            ways: (!ways.is_empty()).then_some(listed.as_str()),
        };
        let message = Message::new(at, problem);
        Some(match also {
            Some(also) => message.with_also(also),
            None => message,
        })
    }

    /// Where the house says again how one of the signs is.
    fn own_place(&self, say: &Say<'_>, model: &Model) -> Option<Span> {
        let mut places = self.levers.iter().flat_map(|lever| match *lever {
            Lever::State(state, sign) => {
                let means = model.means.iter().filter(move |m| m.sign == state);
                let sign = sign.map(|sign| model.signs[sign.index()].at);
                let mut all = vec![model.states[state.index()].at];
                all.extend(sign);
                all.extend(means.map(|means| means.at));
                all
            }
            Lever::Choice(sign) => vec![model.signs[sign.index()].at],
        });
        places.find(|&at| !say.is_standard(at))
    }

    /// What was tried and mends every rule of the group.
    fn ways(&self, say: &Say<'_>, model: &Model, trials: &Trials<'_>) -> Vec<String> {
        let mut ways: Vec<String> = Vec::new();
        ways.extend(self.higher_start(say, model, trials));
        ways.extend(self.smaller_slip(say, model, trials));
        ways
    }

    /// Whether all rules of the group are near enough to their figures.
    fn is_mended(&self, model: &Model, built: &Built) -> bool {
        let ours = |at: Span| self.rules.iter().find(|one| one.rule.at == at);
        let all = least(built, model, |rule| ours(model.rules[rule].at).is_some());
        let known: HashSet<Span> = all.keys().map(|&rule| model.rules[rule].at).collect();
        known.len() == self.rules.len()
            && all.iter().all(|(&rule, one)| {
                let rule = &model.rules[rule];
                one.yes.is_some_and(|yes| yes >= strength(rule) - NEAR)
            })
    }

    /// The odds of the signs, after an ordinary yes, at which the rules come near enough
    /// if nothing else gives a reason.
    fn odds(&self) -> f64 {
        let wanted = self.rules.iter().map(Short::wanted).fold(0.0, f64::max);
        let share = 1.0 - NEAR / wanted;
        share / (1.0 - share)
    }

    /// Starting chances of the signs that are high enough.
    fn higher_start(&self, say: &Say<'_>, model: &Model, trials: &Trials<'_>) -> Option<String> {
        let starts: Vec<(StateId, HowOften)> = self
            .levers
            .iter()
            .filter_map(|lever| match *lever {
                Lever::State(state, _) => Some((state, model.states[state.index()].on_its_own?)),
                Lever::Choice(_) => None,
            })
            .collect();
        let (_, now) = starts.iter().max_by_key(|(_, often)| often.chance)?;
        let slip = self.slips(model).map(f64::from).fold(10.0, f64::max) / 1000.0;
        let odds = self.odds() * slip / (1.0 - slip);
        let needed = odds / (1.0 + odds);
        let mut all = figures(model);
        all.retain(|often| often.chance > now.chance && often.chance <= Thousandths(600));
        all.sort_by_key(|often| often.chance);
        all.dedup_by_key(|often| often.chance);
        // A little less may do, since the sign may have reasons of its own.
        let enough = |often: &HowOften| f64::from(often.chance.0) / 1000.0 >= 0.6 * needed;
        let found = all
            .into_iter()
            .filter(enough)
            .take(MOST_STARTS)
            .find(|often| {
                trials.keeps(
                    |model| {
                        for (state, _) in &starts {
                            model.start_anew(*state, *often);
                        }
                    },
                    |model, built| self.is_mended(model, built),
                )
            })?;
        let value = often_words(&found);
        let label = |(state, _): &(StateId, HowOften)| {
            with_label(say, model.states[state.index()].at, "On its own", &value)
        };
        let all: Vec<String> = starts.iter().map(label).collect();
        Some(all.join(", and "))
    }

    /// The slips of the signs, in thousandths.
    fn slips(&self, model: &Model) -> impl Iterator<Item = u16> {
        self.signs().map(|sign| model.signs[sign.index()].slip.0)
    }

    fn signs(&self) -> impl Iterator<Item = SignId> {
        self.levers.iter().filter_map(|lever| match *lever {
            Lever::State(_, sign) => sign,
            Lever::Choice(sign) => Some(sign),
        })
    }

    /// Slips of the signs that are small enough.
    fn smaller_slip(&self, say: &Say<'_>, model: &Model, trials: &Trials<'_>) -> Option<String> {
        let now = self.slips(model).max()?;
        // A sign that is judged by eye on a measure has no slip of its own.
        if self.signs().count() < self.levers.len() {
            return None;
        }
        let mut slips = [20_u16, 10, 5, 2, 1].into_iter().filter(|&slip| slip < now);
        let found = slips.find(|&slip| {
            trials.keeps(
                |model| {
                    for sign in self.signs() {
                        model.slip_less(sign, Thousandths(slip));
                    }
                },
                |model, built| self.is_mended(model, built),
            )
        })?;
        let value = format!("{found} in 1000");
        let label = |sign: SignId| with_label(say, model.signs[sign.index()].at, "Slip", &value);
        let all: Vec<String> = self.signs().map(label).collect();
        Some(all.join(", and "))
    }
}

fn strength(rule: &Rule) -> f64 {
    crate::network::weight(&rule.strength)
}

/// A sign, as the rule's condition has it.
fn named(model: &Model, lever: Lever) -> String {
    match lever {
        Lever::State(state, _) => words::quoted(&model.states[state.index()].phrase),
        Lever::Choice(sign) => words::quoted(match &model.signs[sign.index()].asks {
            Asks::Which { attribute, .. } => attribute,
            _ => "",
        }),
    }
}
