//! The house's own checks of its rules: what it wants of every entry, beyond what the
//! language asks.

use rhai::{Array, Dynamic};

use super::SENTENCES;
use super::error::{ScriptError, kind};
use super::request::{Asked, Ran, Told, ask};
use super::sandbox::Script;
use super::value::{Value, named, or_nothing, text, texts, whole};
use crate::bounds::Bounds;
use crate::one_line::shortened;
use tellmark_language::SourceFile;
use tellmark_language::model::{Disturbs, Model, Nature, Sign, SourceId};
use tellmark_language::span::Span;
use tellmark_language::words;
use tellmark_language::{Message, Problem, Reading, line_of, text_of};

/// Puts every entry of the rules to the house's checks; what they say is said at the
/// entry's place.
pub fn checks(reading: &Reading, file: &SourceFile, bounds: &dyn Bounds) -> Ran<Vec<Message>> {
    let (places, entries): (Vec<Span>, Vec<Value>) = entries(reading).into_iter().unzip();
    let message = |(entry, said): (usize, String)| {
        let at = places.get(entry).copied().unwrap_or_default();
        let problem = Problem::HouseCheck {
            said: &said,
            script: &file.name,
        };
        Message::new(at, problem)
    };
    ask(file.clone(), Asked::Checks(entries), bounds).map(file, |told| match told {
        Told::Checks(said) => Some(said.into_iter().map(message).collect()),
        Told::Prices(_) | Told::Invoice(_) => None,
    })
}

/// Puts entries to the script; gives what it says, with the number of the entry.
pub(super) fn check(
    script: &Script,
    entries: Vec<Value>,
) -> Result<Vec<(usize, String)>, ScriptError> {
    let mut all = Vec::new();
    for (number, entry) in entries.into_iter().enumerate() {
        let answer = script.call("check", entry.into())?;
        let said = said(script, answer)?.into_iter();
        all.extend(said.map(|said| (number, shortened(&said, SENTENCES))));
    }
    Ok(all)
}

/// Nothing, a text, or a list of texts.
fn said(script: &Script, answer: Dynamic) -> Result<Vec<String>, ScriptError> {
    let wrong = |found: &str| {
        let wanted = "a text, a list of texts, or nothing";
        ScriptError::gave_back(script.file(), "check", found, wanted)
    };
    if answer.is_unit() {
        return Ok(Vec::new());
    }
    let found = kind(answer.type_name()).to_owned();
    if answer.is_array() {
        let list = answer.try_cast::<Array>().unwrap_or_default();
        return list
            .into_iter()
            .map(|one| one.into_string().map_err(|found| wrong(kind(found))))
            .collect();
    }
    answer
        .into_string()
        .map(|text| vec![text])
        .map_err(|_| wrong(&found))
}

struct Entries<'r> {
    reading: &'r Reading,
    found: Vec<(Span, Value)>,
}

/// Every entry, as a map.
fn entries(reading: &Reading) -> Vec<(Span, Value)> {
    let mut entries = Entries {
        reading,
        found: Vec::new(),
    };
    // What holds for several kinds was said once.
    let model = reading.model.as_said();
    entries.add_jobs(model);
    entries.add_looks(model);
    entries.add_strengths(model);
    entries.add_work(model);
    entries.found
}

impl Entries<'_> {
    /// Jobs, with what they take and need.
    fn add_jobs(&mut self, model: &Model) {
        for job in &model.jobs {
            let minutes =
                |n: usize| or_nothing(job.takes, |t| whole([t.least, t.mostly, t.most][n]));
            let first = job
                .first
                .iter()
                .map(|f| model.jobs[f.index()].name.as_str());
            let then = job.then.iter().map(|f| model.jobs[f.index()].name.as_str());
            let mends: Vec<String> = job.mends.iter().map(|&s| state(model, s)).collect();
            let more = [
                ("name", text(&job.name)),
                ("least", minutes(0)),
                ("mostly", minutes(1)),
                ("most", minutes(2)),
                ("needs", texts(job.needs.iter().map(String::as_str))),
                ("first", texts(first)),
                ("then", texts(then)),
                ("mends", texts(mends.iter().map(String::as_str))),
                ("ask_owner", Value::Yes(job.ask_owner)),
            ];
            self.add("job", job.at, job.source, more);
        }
    }

    /// What is looked for, and what may be hidden.
    fn add_looks(&mut self, model: &Model) {
        // Where a part stands among its like is no sign that anybody looks for.
        let is_sought = |sign: &&Sign| sign.place().is_none();
        for sign in model.declared_signs().iter().filter(is_sought) {
            let touch = match sign.disturbs {
                Disturbs::Nothing => "nothing",
                Disturbs::ALittle => "a little",
                Disturbs::ALot => "a lot",
            };
            let more = [
                ("part", text(&model.kinds[sign.kind.index()].name)),
                ("ask", or_nothing(sign.ask.as_deref(), text)),
                ("how", or_nothing(sign.how.as_deref(), text)),
                ("minutes", or_nothing(sign.takes, whole)),
                ("disturbs", text(touch)),
            ];
            self.add("sign", sign.at, sign.source, more);
        }
        for fault in model.declared_states() {
            if let Nature::Hidden { missed } = fault.nature {
                let of = |n: Option<u32>| or_nothing(n, whole);
                let more = [
                    ("part", text(&model.kinds[fault.kind.index()].name)),
                    ("phrase", text(&fault.phrase)),
                    ("missed", of(missed.map(|m| m.minutes))),
                    ("risk", of(missed.map(|m| u32::from(m.risk)))),
                ];
                self.add("fault", fault.at, fault.source, more);
            }
        }
    }

    /// What makes what likely.
    fn add_strengths(&mut self, model: &Model) {
        let strength = |chance: u16| [("in_1000", whole(chance))];
        for rule in &model.rules {
            self.add(
                "rule",
                rule.at,
                rule.source,
                strength(rule.strength.chance.0),
            );
        }
        for means in &model.means {
            self.add(
                "means",
                means.at,
                means.source,
                strength(means.strength.chance.0),
            );
        }
        for together in &model.togethers {
            self.add(
                "means",
                together.at,
                together.source,
                strength(together.strength.chance.0),
            );
        }
    }

    /// What calls for work, what is to be heeded, and years.
    fn add_work(&mut self, model: &Model) {
        for plan in &model.plans {
            let job = text(&model.jobs[plan.job.index()].name);
            self.add("plan", plan.at, plan.source, [("job", job)]);
        }
        for one in &model.stand_ins {
            let name = |job: tellmark_language::model::JobId| text(&model.jobs[job.index()].name);
            let jobs = [("job", name(one.job)), ("replaced", name(one.replaced))];
            self.add("stand-in", one.at, one.source, jobs);
        }
        for caution in &model.cautions {
            let more = [
                ("text", text(&caution.text)),
                ("stop", Value::Yes(caution.stop)),
            ];
            self.add("caution", caution.at, caution.source, more);
        }
        for dating in &model.datings {
            self.add("dating", dating.at, dating.source, []);
        }
        for relative in &model.relatives {
            self.add("dating", relative.at, relative.source, []);
        }
    }
}

fn state(model: &Model, state: tellmark_language::model::StateId) -> String {
    let kind = &model.kinds[model.states[state.index()].kind.index()];
    let part = words::a(&kind.name);
    words::state_phrase(model, &part, state, true)
}

impl Entries<'_> {
    fn add<const N: usize>(
        &mut self,
        kind: &str,
        at: Span,
        source: Option<SourceId>,
        more: [(&str, Value); N],
    ) {
        let files = &self.reading.files;
        let (file, line) = line_of(files, at);
        let standard = files
            .get(usize::from(at.file.0))
            .is_some_and(|file| file.standard);
        let source = source.map(|s| self.reading.model.sources[s.index()].name.as_str());
        let mut entry = named([
            ("kind", text(kind)),
            ("file", text(file)),
            ("line", whole(line)),
            ("words", text(&text_of(files, at))),
            ("standard", Value::Yes(standard)),
            ("source", or_nothing(source, text)),
        ]);
        entry.extend(named(more));
        self.found.push((at, Value::Map(entry)));
    }
}
