//! A house's price list, checks and page template: read, and not run. What they may do
//! when they are run is bounded elsewhere.

use super::{Form, Seen, Target, file, words_in};
use minijinja::Environment;
use tellmark_job::scripts::Script;
use tellmark_language::{SourceFile, Style};

pub(super) const TARGET: Target = Target {
    name: "script",
    form: Form::Text,
    longest: 4_000,
    memory: 0,
    run,
    seeds,
    words,
};

fn run(input: &[u8], seen: &mut Seen) {
    let Some((&first, rest)) = input.split_first() else {
        return;
    };
    let text = String::from_utf8_lossy(rest).into_owned();
    if first == b't' {
        let mut environment = Environment::new();
        if let Err(why) = environment.add_template("page.html", &text) {
            seen.note_words(1, why.detail().unwrap_or_default());
        }
        return;
    }
    let file = SourceFile {
        name: "prices.rhai".to_owned(),
        text,
        standard: false,
    };
    match Script::read(file) {
        Ok(_) => seen.note(2, 0),
        Err(why) => {
            let said = why.render(Style::Plain);
            assert!(!said.is_empty());
            seen.note_words(3, said.lines().last().unwrap_or_default());
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
