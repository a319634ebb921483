//! A house's price list, checks and page template: read, and not run. What they may do
//! when they are run is bounded by the process that they run in; what that process may
//! answer is fuzzed here.

use super::{Form, Seen, Target, file, words_in};
use minijinja::Environment;
use std::sync::OnceLock;
use tellmark_job::bounds::{Bounds, Stopped};
use tellmark_job::scripts::{answer, checks};
use tellmark_language::{Reading, SourceFile, Style};

pub(super) const TARGET: Target = Target {
    name: "script",
    form: Form::Text,
    longest: 4_000,
    memory: 0,
    run,
    seeds,
    words,
};

/// What stands for the process that scripts run in.
enum Process<'a> {
    /// It reads the script. What it is asked for is none of the functions of a price
    /// list, so nothing is run.
    Reads,
    /// It answers this, whatever it was asked.
    Says(&'a [u8]),
}

impl Bounds for Process<'_> {
    fn run(&self, _: &str, request: &[u8]) -> Result<Vec<u8>, Stopped> {
        match self {
            Process::Reads => Ok(answer(request)),
            Process::Says(bytes) => Ok(bytes.to_vec()),
        }
    }
}

fn rules() -> &'static Reading {
    static RULES: OnceLock<Reading> = OnceLock::new();
    RULES.get_or_init(|| {
        let text = file("tests/oracles/packs/parts.rules.txt");
        tellmark_language::read(vec![SourceFile {
            name: "house.rules.txt".to_owned(),
            text: String::from_utf8_lossy(&text).into_owned(),
            standard: false,
        }])
    })
}

fn run(input: &[u8], seen: &mut Seen) {
    let Some((&first, rest)) = input.split_first() else {
        return;
    };
    let text = String::from_utf8_lossy(rest).into_owned();
    let process = match first {
        b't' => {
            let mut environment = Environment::new();
            if let Err(why) = environment.add_template("page.html", &text) {
                let detail: String = why.detail().unwrap_or_default().chars().take(24).collect();
                seen.note_words(1, &detail);
            }
            return;
        }
        b'r' => return seen.note_size(2, answer(rest).len()),
        b'a' => Process::Says(rest),
        _ => Process::Reads,
    };
    let file = SourceFile {
        name: "checks.rhai".to_owned(),
        // A function of this name would be run.
        text: text.replace("check", "chequer"),
        standard: false,
    };
    let ran = checks(rules(), &file, &process);
    seen.note_size(3, ran.printed.len());
    match ran.result {
        Ok(messages) => seen.note_size(4, messages.len()),
        Err(why) => {
            let said = why.render(Style::Plain);
            assert!(!said.is_empty());
            // How a message begins tells which it is; its end has the writer's words.
            let last = said.lines().last().unwrap_or_default();
            let begins: String = last.chars().take(24).collect();
            seen.note_words(5, &begins);
            let _ = why.record();
        }
    }
}

/// The blocks of scripts in the text that explains them.
fn texts() -> Vec<Vec<u8>> {
    let explained = file("rules/SCRIPTS.md");
    let explained = String::from_utf8_lossy(&explained).into_owned();
    let blocks = explained.split("```").skip(1).step_by(2);
    let mut texts: Vec<Vec<u8>> = blocks
        .filter_map(|block| Some(block.split_once('\n')?.1.as_bytes().to_vec()))
        .collect();
    texts.push(file("rules/prices.rhai"));
    texts
}

fn seeds() -> Vec<Vec<u8>> {
    let mut seeds: Vec<Vec<u8>> = texts()
        .into_iter()
        .map(|text| [&b"s"[..], &text].concat())
        .collect();
    let page = file("host/report/src/page.html");
    let lines: Vec<&[u8]> = page.split_inclusive(|b| *b == b'\n').collect();
    for some in lines.chunks(25) {
        seeds.push([&b"t"[..], &some.concat()].concat());
    }
    // An answer with nothing printed, and with a few checks.
    seeds.push(b"a\0\0\x01\x02\x01\x05words\0\x04more".to_vec());
    seeds.push(b"a\x01\x07printed\0\x01\0".to_vec());
    seeds.push(b"r\x0bchecks.rhai\x04true\x01\0".to_vec());
    seeds.push(
        b"t{% extends \"standard.html\" %}{% block head %}<h1>{{ x }}</h1>{% endblock %}".to_vec(),
    );
    seeds
}

fn words() -> Vec<Vec<u8>> {
    let mut all = texts();
    all.push(file("host/report/src/page.html"));
    let mut words = words_in(&all);
    let marks = [
        "{{", "}}", "{%", "%}", "{#", "#}", "|", "((((((((", "[[[[[[[[", "{{{{{{{{", "!!!!!!!!",
        "--------", "#{", "`${", "=>", "switch", "loop", "fn", "not ", "if x ", "0x", "\"",
    ];
    words.extend(marks.map(|mark| mark.as_bytes().to_vec()));
    words
}
