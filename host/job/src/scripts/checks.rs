//! The house's own checks of its rules: what it wants of every entry, beyond what the
//! language asks.

use rhai::{Array, Dynamic};

use super::map::{map, text_or_nothing, texts, whole};
use super::sandbox::Script;
use super::trouble::{Trouble, kind};
use tellmark_language::model::{Disturbs, Model, Nature, SourceId};
use tellmark_language::span::Span;
use tellmark_language::words;
use tellmark_language::{Message, Problem, Reading, line_of, text_of};

/// Puts every entry of the rules to the house's checks; what they say is said at the
/// entry's place.
///
/// # Errors
/// What is wrong with the script.
pub fn checks(reading: &Reading, script: &Script) -> Result<Vec<Message>, Trouble> {
    let mut messages = Vec::new();
    for (at, entry) in entries(reading) {
        let answer = script.call("check", entry)?;
        for said in said(script, answer)? {
            let problem = Problem::HouseCheck {
                said: &said,
                script: &script.file().name,
            };
            messages.push(Message::new(at, problem));
        }
    }
    Ok(messages)
}

/// Nothing, a text, or a list of texts.
fn said(script: &Script, answer: Dynamic) -> Result<Vec<String>, Trouble> {
    let wrong = |found: &str| {
        let wanted = "a text, a list of texts, or nothing";
        Trouble::gave_back(script.file(), "check", found, wanted)
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
    found: Vec<(Span, Dynamic)>,
}

/// Every entry, as a map.
fn entries(reading: &Reading) -> Vec<(Span, Dynamic)> {
    let mut entries = Entries {
        reading,
        found: Vec::new(),
    };
    let model = &reading.model;
    for job in &model.jobs {
        let minutes = |n: usize| {
            job.takes
                .map_or(Dynamic::UNIT, |t| whole([t.least, t.mostly, t.most][n]))
        };
        let first = job
            .first
            .iter()
            .map(|f| model.jobs[f.index()].name.as_str());
        let mends: Vec<String> = job.mends.iter().map(|&s| state(model, s)).collect();
        let more = [
            ("name", job.name.clone().into()),
            ("least", minutes(0)),
            ("mostly", minutes(1)),
            ("most", minutes(2)),
            ("needs", texts(job.needs.iter().map(String::as_str))),
            ("first", texts(first)),
            ("mends", texts(mends.iter().map(String::as_str))),
            ("ask_owner", job.ask_owner.into()),
        ];
        entries.add("job", job.at, job.source, more);
    }
    for sign in &model.signs {
        let touch = match sign.disturbs {
            Disturbs::Nothing => "nothing",
            Disturbs::ALittle => "a little",
            Disturbs::ALot => "a lot",
        };
        let more = [
            ("part", model.kinds[sign.kind.index()].name.clone().into()),
            ("ask", text_or_nothing(sign.ask.as_deref())),
            ("how", text_or_nothing(sign.how.as_deref())),
            ("minutes", sign.takes.map_or(Dynamic::UNIT, whole)),
            ("disturbs", touch.to_owned().into()),
        ];
        entries.add("sign", sign.at, sign.source, more);
    }
    for fault in &model.states {
        if let Nature::Hidden { missed } = fault.nature {
            let of = |n: Option<u32>| n.map_or(Dynamic::UNIT, whole);
            let more = [
                ("part", model.kinds[fault.kind.index()].name.clone().into()),
                ("phrase", fault.phrase.clone().into()),
                ("missed", of(missed.map(|m| m.minutes))),
                ("risk", of(missed.map(|m| u32::from(m.risk)))),
            ];
            entries.add("fault", fault.at, fault.source, more);
        }
    }
    let strength = |chance: u16| [("in_1000", whole(chance))];
    for rule in &model.rules {
        entries.add(
            "rule",
            rule.at,
            rule.source,
            strength(rule.strength.chance.0),
        );
    }
    for means in &model.means {
        entries.add(
            "means",
            means.at,
            means.source,
            strength(means.strength.chance.0),
        );
    }
    for plan in &model.plans {
        let job = model.jobs[plan.job.index()].name.clone();
        entries.add("plan", plan.at, plan.source, [("job", job.into())]);
    }
    for caution in &model.cautions {
        let more = [
            ("text", caution.text.clone().into()),
            ("stop", caution.stop.into()),
        ];
        entries.add("caution", caution.at, caution.source, more);
    }
    for dating in &model.datings {
        entries.add("dating", dating.at, dating.source, []);
    }
    entries.found
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
        more: [(&str, Dynamic); N],
    ) {
        let files = &self.reading.files;
        let (file, line) = line_of(files, at);
        let standard = files
            .get(usize::from(at.file.0))
            .is_some_and(|file| file.standard);
        let source = source.map(|s| self.reading.model.sources[s.index()].name.as_str());
        let shared = map([
            ("kind", kind.to_owned().into()),
            ("file", file.to_owned().into()),
            ("line", whole(line)),
            ("words", text_of(files, at).into()),
            ("standard", standard.into()),
            ("source", text_or_nothing(source)),
        ]);
        let mut entry = shared.try_cast::<rhai::Map>().unwrap_or_default();
        for (name, value) in more {
            entry.insert(name.into(), value);
        }
        self.found.push((at, entry.into()));
    }
}
