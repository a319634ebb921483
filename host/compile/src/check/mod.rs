//! Checks of a whole set of rules, once every sentence has been read: circles,
//! what the bench unit can carry, faults that nothing reveals, examples.

mod circles;
mod examples;
mod jobs;
mod missed;
mod problems;
mod short;
mod stand_ins;
mod together;
mod trial;
mod unnoticed;
mod ways;
mod whole;

pub use examples::{Unmet, band, run};
pub use unnoticed::{Altered, How, Unnoticed, unnoticed};

use crate::built::{Built, build_listed};
use crate::rules::Listed;
use tellmark_language::model::{JobId, Model, Reach};
use tellmark_language::span::Span;
use tellmark_language::words;
use tellmark_language::{Level, Message, Problem, Reading, line_of, text_of};

/// A set of rules, read and checked.
#[derive(Debug)]
pub struct Checked {
    /// The files and what they say.
    pub reading: Reading,
    /// The pack; `None` if a message says stop.
    pub built: Option<Built>,
}

impl Checked {
    /// How many messages there are of a level.
    #[must_use]
    pub fn count(&self, level: Level) -> usize {
        let messages = self.reading.messages.iter();
        messages.filter(|m| m.level == level).count()
    }

    /// Whether the pack could be built.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        self.built.is_some() && self.count(Level::Stop) == 0
    }
}

/// How much is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// Only what keeps a pack from being built.
    Build,
    /// Everything, the examples too.
    Full,
}

/// Checks what has been read, and builds the pack if nothing says stop. While
/// sentences are not understood, what needs the whole pack waits.
#[must_use]
pub fn check(mut reading: Reading, depth: Depth) -> Checked {
    let stopped = |messages: &[Message]| messages.iter().any(|m| m.level == Level::Stop);
    if stopped(&reading.messages) {
        return Checked {
            reading,
            built: None,
        };
    }
    let mut say = Say {
        reading: &reading,
        messages: Vec::new(),
    };
    let built = whole_pack(&mut say, depth);
    let messages = say.messages;
    reading.messages.extend(messages);
    let built = built.filter(|_| !stopped(&reading.messages));
    Checked { reading, built }
}

/// Collects messages about what was read.
struct Say<'r> {
    reading: &'r Reading,
    messages: Vec<Message>,
}

impl Say<'_> {
    fn at(&mut self, at: Span, problem: Problem<'_>) {
        self.messages.push(Message::new(at, problem));
    }

    /// "line 47", with the file where there are several.
    fn line(&self, at: Span) -> String {
        let (file, line) = line_of(&self.reading.files, at);
        if self.reading.files.len() > 1 {
            format!("line {line} of {file}")
        } else {
            format!("line {line}")
        }
    }

    /// Whether this was written in the rules that ship with the tool.
    fn is_standard(&self, at: Span) -> bool {
        let file = self.reading.files.file(at);
        file.is_some_and(|file| file.standard)
    }

    fn lines(&self, spans: &[Span]) -> String {
        let lines: Vec<String> = spans.iter().map(|&at| self.line(at)).collect();
        words::list(&lines)
    }
}

/// The parts that a rule would have make one another alike, if a circle is of such a rule.
fn alike_in(model: &Model, circle: &circles::RuleCircle) -> Option<String> {
    let mut rules = model.rules.iter();
    let rule = rules.find(|rule| {
        circle.sentences.contains(&rule.at) && matches!(rule.result, Reach::Others { .. })
    })?;
    let kind = rule.result.kind(rule.subject);
    Some(model.kinds[kind.index()].plural.clone())
}

fn whole_pack(say: &mut Say<'_>, depth: Depth) -> Option<Built> {
    let model = &say.reading.model;
    if circles::in_makeup(model).is_some() {
        return None;
    }
    if !stand_ins::check(say, model) {
        return None;
    }
    let listed = match Listed::of(model) {
        Ok(listed) => listed,
        Err(too_much) => {
            problems::too_much(say, &too_much);
            return None;
        }
    };
    let Listed { places, states } = &listed;
    if let Some(circle) = circles::among_rules(listed.rules(model)) {
        let names: Vec<&str> = circle
            .states
            .iter()
            .map(|&row| states.states[row].phrase.as_str())
            .collect();
        let lines = say.lines(&circle.sentences);
        let at = circle.sentences.first().copied().unwrap_or_default();
        say.at(
            at,
            Problem::RuleCircle {
                circle: &names.join(" → "),
                lines: &lines,
                alike: alike_in(model, &circle).as_deref(),
            },
        );
        return None;
    }
    if let Some(circle) = circles::among_jobs(model) {
        let mut waits = String::new();
        for (i, &waiting) in circle.jobs.iter().enumerate() {
            waits.push_str(match i {
                0 => "",
                1 => " waits for ",
                _ => ", which waits for ",
            });
            waits.push_str(&format!("\"{}\"", job(model, waiting)));
        }
        let lines = say.lines(&circle.sentences);
        let at = circle.sentences.first().copied().unwrap_or_default();
        say.at(
            at,
            Problem::JobCircle {
                circle: &waits,
                lines: &lines,
            },
        );
    }
    let files = &say.reading.files;
    let built = match build_listed(model, listed.clone(), &|at| text_of(files, at)) {
        Ok(built) => built,
        Err(problem) => {
            problems::say(say, listed.rules(model), &problem);
            return None;
        }
    };
    if depth == Depth::Full {
        missed::say(say, &built);
        together::say(say, &built);
        short::say(say, &built);
        whole::check(say, model, states, places);
        jobs::check(say, model, places);
        stand_ins::without_place(say, model, places);
        for unmet in run(model, &built) {
            let example = &model.examples[unmet.example];
            let at = example
                .expect
                .get(unmet.expect)
                .map_or(example.at, |e| e.at);
            let called = words::called::example(&example.title);
            let called = say.is_standard(example.at).then_some(called.as_str());
            say.at(
                at,
                Problem::ExpectationMissed {
                    expected: &unmet.expected,
                    found: &unmet.found,
                    called,
                },
            );
        }
    }
    Some(built)
}

fn job(model: &Model, job: JobId) -> &str {
    model.jobs.get(job.index()).map_or("?", |j| j.name.as_str())
}
