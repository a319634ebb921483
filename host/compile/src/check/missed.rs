//! `that means` sentences that do not come true: which other sentence is in the
//! way, and what to write, each tried before it is proposed.

use std::collections::HashSet;

use super::Say;
use super::trial::{Trials, Undo, is_missed};
use super::ways::{counted, figures, lines, often_words, share, with_label, written};
use crate::built::Built;
use crate::fit::Reached;
use tellmark_language::model::{HowOften, Means, Model, Nature, Rule, State, StateId, Thousandths};
use tellmark_language::span::Span;
use tellmark_language::{Message, Problem, words};

/// Other rules that may be in the way of a sentence and are looked at.
const MOST_SUSPECTS: usize = 8;

/// Says of every such sentence why, and what would help.
pub(super) fn say(say: &mut Say<'_>, built: &Built) {
    let reading = say.reading;
    let model = &reading.model;
    let mut all: Vec<Reached> = built.reached(model);
    all.retain(|reached| is_missed(model, reached));
    if all.is_empty() {
        return;
    }
    let trials = Trials::new(reading, built);
    // A sentence may be missed at several places of a piece, and for several kinds.
    let mut seen = HashSet::new();
    all.retain(|reached| seen.insert(model.means[reached.means].at));
    let missed: Vec<Missed<'_>> = all
        .iter()
        .map(|reached| Missed {
            say,
            model,
            trials: &trials,
            means: &model.means[reached.means],
            reached,
        })
        .collect();
    let messages = messages(&missed, &trials, model);
    say.messages.extend(messages);
}

/// A message for every sentence; one for all that one change of the house undoes.
fn messages(missed: &[Missed<'_>], trials: &Trials<'_>, model: &Model) -> Vec<Message> {
    let mut messages = Vec::new();
    let mut rest = Vec::new();
    for one in missed {
        match one.culprit() {
            Some(rule) => messages.push(one.pulled_apart(rule)),
            None => rest.push(one),
        }
    }
    let Some(first) = rest.first() else {
        return messages;
    };
    let changes = model.changes.iter();
    let own = changes.filter(|change| first.is_own(change.now));
    for change in own.take(MOST_SUSPECTS) {
        let Some(undo) = trials.undo(change) else {
            continue;
        };
        let (undone, others): (Vec<_>, Vec<_>) = rest
            .into_iter()
            .partition(|one| !undo.untrue.contains(&one.means.at));
        if let Some((first, more)) = undone.split_first() {
            messages.push(first.undone(&undo, more.len()));
        }
        rest = others;
    }
    messages.extend(rest.into_iter().map(Missed::alone));
    messages
}

/// A sentence that does not come true.
struct Missed<'m> {
    say: &'m Say<'m>,
    model: &'m Model,
    trials: &'m Trials<'m>,
    means: &'m Means,
    reached: &'m Reached,
}

impl Missed<'_> {
    fn is_own(&self, at: Span) -> bool {
        !self.say.is_standard(at)
    }

    fn wants_more(&self) -> bool {
        self.reached.reached * 1000.0 < f64::from(self.means.strength.chance.0)
    }

    /// The rule without which it comes true. One of the two is the house's own.
    fn culprit(&self) -> Option<&Rule> {
        let own = self.is_own(self.means.at);
        let mut suspects: Vec<&Rule> = self
            .model
            .rules
            .iter()
            .filter(|rule| own || self.is_own(rule.at))
            .filter(|rule| rule.state == self.means.sign || self.is_own(rule.at))
            .collect();
        suspects.sort_by_key(|rule| {
            let other_sign = rule.state != self.means.sign;
            (other_sign, !self.is_own(rule.at))
        });
        suspects.into_iter().take(MOST_SUSPECTS).find(|rule| {
            self.trials
                .helps(self.means.at, |model| take_out(model, rule.at))
        })
    }

    /// Two sentences that cannot both stand.
    fn pulled_apart(&self, rule: &Rule) -> Message {
        let means = self.means;
        let (at, other) = if self.is_own(rule.at) {
            (rule.at, means.at)
        } else {
            (means.at, rule.at)
        };
        let without = |at: Span| self.comes_to(|model| take_out(model, at));
        let unsaid = self.comes_to_unsaid();
        let mut ways: Vec<String> = self.weaker_rule(rule).into_iter().collect();
        ways.extend(self.other_figure());
        ways.extend(self.without_means());
        if self.is_own(rule.at) {
            ways.push(format!("take {} out", self.say.line(rule.at)));
        } else {
            ways.extend(rule.called.as_deref().map(leave_out));
        }
        let (sign, fault) = (self.state(means.sign), self.state(means.fault));
        Message::new(
            at,
            Problem::SentencesPullApart {
                other: &self.say.line(other),
                means_line: &words::capital(&self.say.line(means.at)),
                rule_line: &self.say.line(rule.at),
                sign: &sign.phrase,
                fault: &fault.phrase,
                wanted: &words::how_often(&means.strength),
                reached: &words::figure(self.reached.reached),
                alone: &without(rule.at).map_or("?".to_owned(), words::figure),
                unsaid: &unsaid.map_or("?".to_owned(), words::figure),
                ways: &lines(&ways),
            },
        )
        .with_also(other)
    }

    /// A change of the house, other than a rule, without which it comes true, and so
    /// many others with it.
    fn undone(&self, undo: &Undo<'_>, others: usize) -> Message {
        let line = self.say.line(undo.change.now);
        let mut ways: Vec<String> = Vec::new();
        if others == 0 {
            ways.extend(self.other_start());
            ways.extend(self.smaller_slip());
            ways.extend(self.other_figure());
            ways.extend(self.without_means());
        }
        if undo.is_free || ways.is_empty() {
            ways.push(format!("take {line} out"));
        }
        let alone = self.reached_in(&undo.model, &undo.built);
        let message = Message::new(
            undo.change.now,
            Problem::ChangeUndoes {
                means_line: &self.say.line(self.means.at),
                sign: &self.state(self.means.sign).phrase,
                fault: &self.state(self.means.fault).phrase,
                wanted: &words::how_often(&self.means.strength),
                reached: &words::figure(self.reached.reached),
                alone: &alone.map_or("?".to_owned(), words::figure),
                others: (others > 0).then_some(others),
                ways: &lines(&ways),
            },
        );
        message.with_also(self.means.at)
    }

    /// No one rule is in the way.
    fn alone(&self) -> Message {
        let mut ways: Vec<String> = self.other_start().into_iter().collect();
        ways.extend(self.smaller_slip());
        ways.extend(self.other_figure());
        if !self.is_own(self.means.at) {
            ways.extend(self.without_means());
        }
        let listed = lines(&ways);
        Message::new(
            self.means.at,
            Problem::MeansMissed {
                fault: &self.state(self.means.fault).phrase,
                reached: &words::figure(self.reached.reached),
                wanted: &words::how_often(&self.means.strength),
                before: &words::figure(self.reached.before),
                ways: (!ways.is_empty()).then_some(listed.as_str()),
            },
        )
    }

    fn state(&self, id: StateId) -> &State {
        &self.model.states[id.index()]
    }

    /// What the sentence comes to with a change.
    fn comes_to(&self, change: impl FnOnce(&mut Model)) -> Option<f64> {
        let (model, built) = self.trials.changed(change)?;
        self.reached_in(&model, &built)
    }

    fn reached_in(&self, model: &Model, built: &Built) -> Option<f64> {
        let all = built.reached(model);
        let this = |reached: &&Reached| {
            model.means[reached.means].at == self.means.at && reached.place == self.reached.place
        };
        all.iter().find(this).map(|reached| reached.reached)
    }

    /// What the sign would mean if the sentence were not there: the same pack, fitted
    /// without it, asked for the same two things.
    fn comes_to_unsaid(&self) -> Option<f64> {
        let (mut model, built) = self
            .trials
            .changed(|model| take_out(model, self.means.at))?;
        // Only what is asked, not what was fitted, takes the sentence.
        model.means = vec![self.means.clone()];
        let all = built.reached(&model);
        let this = |reached: &&Reached| reached.place == self.reached.place;
        all.iter().find(this).map(|reached| reached.reached)
    }

    /// A weaker word in the rule that is in the way.
    fn weaker_rule(&self, rule: &Rule) -> Option<String> {
        let written = written(self.say, rule.at);
        let now = often_words(&rule.strength);
        if !self.is_own(rule.at) || !written.contains(&format!(" {now} ")) {
            return None;
        }
        let weaker = figures(self.model)
            .into_iter()
            .filter(|often| often.chance < rule.strength.chance && often.chance >= Thousandths(50));
        let mut weaker: Vec<HowOften> = weaker.collect();
        weaker.sort_by_key(|often| std::cmp::Reverse(often.chance));
        let found = weaker.into_iter().find(|often| {
            self.trials.helps(self.means.at, |model| {
                let rules = model.rules.iter_mut().filter(|r| r.at == rule.at);
                rules.for_each(|r| r.strength = *often);
            })
        })?;
        Some(format!(
            "in {}, write \"{}\" instead of \"{now}\"",
            self.say.line(rule.at),
            often_words(&found)
        ))
    }

    /// The figure that the sentence can come to.
    fn other_figure(&self) -> Option<String> {
        let reached = self.reached.reached;
        let mut near = figures(self.model);
        near.retain(|often| (share(often) - reached).abs() < 0.05 && *often != self.means.strength);
        near.sort_by(|a, b| {
            let off = |often: &HowOften| (share(often) - reached).abs();
            off(a).total_cmp(&off(b))
        });
        near.truncate(3);
        let is_it = |hundredths: &u32| f64::from(*hundredths) >= reached * 100.0 - 0.5;
        near.push(counted((1..99).find(is_it).unwrap_or(99), 100));
        let found = near.into_iter().find(|often| {
            self.trials.helps(self.means.at, |model| {
                let means = model.means.iter_mut().filter(|m| m.at == self.means.at);
                means.for_each(|m| m.strength = *often);
            })
        })?;
        let (now, then) = (often_words(&self.means.strength), often_words(&found));
        if self.is_own(self.means.at) {
            let line = self.say.line(self.means.at);
            return Some(format!("in {line}, write \"{then}\" instead of \"{now}\""));
        }
        let written = written(self.say, self.means.at);
        let sentence = written.replacen(
            &format!("that {now} means"),
            &format!("that {then} means"),
            1,
        );
        let called = self.means.called.as_deref()?;
        (sentence != written).then(|| {
            format!(
                "write \"Instead of {called}, {}  From: house\"",
                uncapital(&sentence)
            )
        })
    }

    /// Without the sentence, and without the standard examples that are there for it.
    fn without_means(&self) -> Option<String> {
        let at = self.means.at;
        let lost = self.trials.costs(at, |model| take_out(model, at))?;
        if self.is_own(at) {
            let line = self.say.line(at);
            return lost.is_empty().then(|| format!("take {line} out"));
        }
        let mut way = leave_out(self.means.called.as_deref()?);
        for title in self.examples_of(&lost)? {
            way.push_str(" and ");
            way.push_str(&leave_out(&title).replacen("write ", "", 1));
        }
        Some(way)
    }

    /// What the standard examples are called that have these expectations; nothing if one is
    /// the house's own.
    fn examples_of(&self, expects: &[Span]) -> Option<Vec<String>> {
        let mut titles = Vec::new();
        for example in &self.model.examples {
            let has = |at: &Span| example.at == *at || example.expect.iter().any(|e| e.at == *at);
            if !expects.iter().any(has) {
                continue;
            }
            if self.is_own(example.at) {
                return None;
            }
            titles.push(words::called::example(&example.title));
        }
        Some(titles)
    }

    /// Another starting chance of the fault, or of the sign.
    fn other_start(&self) -> Option<String> {
        let more = self.wants_more();
        for (state, up) in [(self.means.fault, more), (self.means.sign, !more)] {
            let Some(now) = self.state(state).on_its_own else {
                continue;
            };
            let mut all = figures(self.model);
            all.retain(|often| (often.chance > now.chance) == up && often.chance != now.chance);
            all.retain(|often| often.chance <= Thousandths(600));
            all.sort_by_key(|often| often.chance.0.abs_diff(now.chance.0));
            let found = all.into_iter().find(|often| {
                self.trials.helps(self.means.at, |model| {
                    model.start_anew(state, *often);
                })
            });
            if let Some(found) = found {
                let value = often_words(&found);
                return Some(with_label(
                    self.say,
                    self.state(state).at,
                    "On its own",
                    &value,
                ));
            }
        }
        None
    }

    /// A sign that is mistaken less often.
    fn smaller_slip(&self) -> Option<String> {
        let Nature::Seen(sign) = self.state(self.means.sign).nature else {
            return None;
        };
        let now = self.model.signs[sign.index()].slip;
        let slip = [5, 2, 1]
            .map(Thousandths)
            .into_iter()
            .filter(|slip| *slip < now)
            .find(|slip| {
                self.trials.helps(self.means.at, |model| {
                    model.slip_less(sign, *slip);
                })
            })?;
        let value = format!("{} in 1000", slip.0);
        Some(with_label(
            self.say,
            self.model.signs[sign.index()].at,
            "Slip",
            &value,
        ))
    }
}

fn take_out(model: &mut Model, at: Span) {
    model.rules.retain(|rule| rule.at != at);
    model.means.retain(|means| means.at != at);
}

fn leave_out(called: &str) -> String {
    format!("write \"Leave out {called}, because …\"")
}

/// The sentence as it stands after "Instead of …,".
fn uncapital(sentence: &str) -> String {
    let mut letters = sentence.chars();
    let first = letters.next().map(|c| c.to_lowercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}
