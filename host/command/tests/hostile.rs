//! House templates and scripts that want to do harm: each ends soon, within its memory,
//! and leaves no more than a sentence.

#![cfg(unix)]

use crate::user::User;
use serde_json::{Value, json};
use std::fs;
use std::os::unix::fs::PermissionsExt as _;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use tellmark::Bounded;
use tellmark_job::advice::{Item, Points, Quote};
use tellmark_job::bounds::Bounds as _;
use tellmark_job::hours::Spread;
use tellmark_job::scripts::prices;
use tellmark_language::{SourceFile, Style};

/// What came of something hostile, in a word or two.
type Ended = &'static str;

/// Templates that want to do harm.
#[allow(clippy::too_many_lines)]
fn templates() -> Vec<(&'static str, String)> {
    let text = |name, text: &str| (name, text.to_owned());
    let repeated = |name, before: &str, middle: &str, after: &str, times: usize| {
        let text = format!("{}{middle}{}", before.repeat(times), after.repeat(times));
        (name, text)
    };
    let doubled = |name: &'static str, by: &str| {
        let text = format!(
            "{{% set ns = namespace(a='xxxxxxxx') %}}{{% for i in range(64) %}}{{% set ns.a = {by} \
             %}}{{% endfor %}}{{{{ ns.a|length }}}}"
        );
        (name, text)
    };
    vec![
        repeated("not, nested", "{{ ", &"not ".repeat(100_000), "1 }}", 1),
        repeated("brackets, nested", "{{ ", &"(".repeat(100_000), "1 }}", 1),
        repeated(
            "brackets, closed",
            "",
            &format!("{{{{ {}1{} }}}}", "(".repeat(50_000), ")".repeat(50_000)),
            "",
            1,
        ),
        repeated(
            "lists, nested",
            "",
            &format!("{{{{ {}{} }}}}", "[".repeat(50_000), "]".repeat(50_000)),
            "",
            1,
        ),
        repeated(
            "maps, nested",
            "",
            &format!("{{{{ {}1{} }}}}", "{1:".repeat(50_000), "}".repeat(50_000)),
            "",
            1,
        ),
        repeated(
            "minus, nested",
            "",
            &format!("{{{{ {}1 }}}}", "-".repeat(200_000)),
            "",
            1,
        ),
        repeated(
            "a chain of sums",
            "",
            &format!("{{{{ 1{} }}}}", "+1".repeat(200_000)),
            "",
            1,
        ),
        repeated(
            "a chain of powers",
            "",
            &format!("{{{{ 2{} }}}}", "**2".repeat(100_000)),
            "",
            1,
        ),
        repeated(
            "a chain of joins",
            "",
            &format!("{{{{ 'a'{} }}}}", "~'a'".repeat(100_000)),
            "",
            1,
        ),
        repeated(
            "a chain of filters",
            "",
            &format!("{{{{ 'a'{} }}}}", "|upper".repeat(100_000)),
            "",
            1,
        ),
        repeated(
            "a chain of attributes",
            "",
            &format!("{{{{ report{} }}}}", ".a".repeat(200_000)),
            "",
            1,
        ),
        repeated(
            "a chain of indices",
            "",
            &format!("{{{{ report{} }}}}", "[0]".repeat(200_000)),
            "",
            1,
        ),
        repeated(
            "a chain of choices",
            "",
            &format!("{{{{ {}1 }}}}", "1 if 0 else ".repeat(50_000)),
            "",
            1,
        ),
        repeated(
            "a chain of and",
            "",
            &format!("{{{{ 1{} }}}}", " and 1".repeat(100_000)),
            "",
            1,
        ),
        repeated(
            "a chain of comparisons",
            "",
            &format!("{{{{ 1{} }}}}", " < 2".repeat(100_000)),
            "",
            1,
        ),
        repeated("if, nested", "{% if 1 %}", "x", "{% endif %}", 20_000),
        repeated(
            "for, nested",
            "{% for a in [1] %}",
            "x",
            "{% endfor %}",
            20_000,
        ),
        repeated(
            "for over ten, nested",
            "{% for a in range(10) %}",
            "x",
            "{% endfor %}",
            40,
        ),
        repeated(
            "with, nested",
            "{% with a=1 %}",
            "x",
            "{% endwith %}",
            20_000,
        ),
        repeated(
            "filter blocks, nested",
            "{% filter upper %}",
            "x",
            "{% endfilter %}",
            20_000,
        ),
        repeated(
            "set blocks, nested",
            "{% set a %}",
            "x",
            "{% endset %}",
            20_000,
        ),
        repeated(
            "macros, nested",
            "{% macro a() %}",
            "x",
            "{% endmacro %}",
            20_000,
        ),
        repeated(
            "blocks, nested",
            "{% autoescape true %}",
            "x",
            "{% endautoescape %}",
            20_000,
        ),
        repeated(
            "elif, many",
            "{% if 0 %}",
            &"{% elif 0 %}".repeat(60_000),
            "{% endif %}",
            1,
        ),
        text(
            "a macro that calls itself",
            "{% macro m(n) %}{{ m(n + 1) }}{% endmacro %}{{ m(0) }}",
        ),
        text(
            "a macro that calls itself twice",
            "{% macro m(n) %}{{ m(n + 1) }}{{ m(n + 1) }}{% endmacro %}{{ m(0) }}",
        ),
        text(
            "two macros that call each other",
            "{% macro a() %}{{ b() }}{% endmacro %}{% macro b() %}{{ a() }}{% endmacro %}{{ a() }}",
        ),
        text(
            "a caller within a caller",
            "{% macro m() %}{% call m() %}{{ caller() }}{% endcall %}{% endmacro %}{% call m() %}x{% endcall %}",
        ),
        text(
            "a loop that calls itself",
            "{% for a in [[1]] recursive %}{{ loop([a]) }}{% endfor %}",
        ),
        text("it includes itself", "{% include 'ours.html' %}"),
        text(
            "it includes itself twice",
            "{% include 'ours.html' %}{% include 'ours.html' %}",
        ),
        text("it extends itself", "{% extends 'ours.html' %}"),
        text("it imports itself", "{% import 'ours.html' as a %}"),
        text(
            "a block in itself",
            "{% block a %}{{ self.a() }}{% endblock %}",
        ),
        text("a file of the system", "{% include '/etc/passwd' %}"),
        text("a wide indent", "{{ 'a\nb'|indent(100000000000) }}"),
        text(
            "a wide indent of many lines",
            "{{ ('a\n' * 10000)|indent(100000) }}",
        ),
        text(
            "indents of indents",
            "{% set ns = namespace(a='a\n') %}{% for i in range(30) %}{% set ns.a = (ns.a ~ ns.a)|indent(99) %}{% endfor %}{{ ns.a }}",
        ),
        text("a text a thousand million times", "{{ 'x' * 1000000000 }}"),
        text(
            "a list a thousand million times",
            "{{ ([1] * 1000000000)|length }}",
        ),
        text(
            "lists of lists",
            "{% set ns = namespace(a=[1]) %}{% for i in range(99999) %}{% set ns.a = [ns.a, ns.a] %}{% endfor %}{{ ns.a }}",
        ),
        text(
            "a deep list, compared",
            "{% set ns = namespace(a=[1], b=[1]) %}{% for i in range(99999) %}{% set ns.a = [ns.a] %}{% set ns.b = [ns.b] %}{% endfor %}{{ ns.a == ns.b }}",
        ),
        text(
            "a deep list, dropped",
            "{% set ns = namespace(a=[1]) %}{% for i in range(99999) %}{% set ns.a = [ns.a] %}{% endfor %}x",
        ),
        text(
            "a deep map, printed",
            "{% set ns = namespace(a={}) %}{% for i in range(99999) %}{% set ns.a = {'a': ns.a} %}{% endfor %}{{ ns.a }}",
        ),
        text(
            "a deep list as data",
            "{% set ns = namespace(a=[1]) %}{% for i in range(99999) %}{% set ns.a = [ns.a] %}{% endfor %}{{ ns.a|string|length }}",
        ),
        text(
            "a list that holds itself",
            "{% set ns = namespace(a=[]) %}{% set ns.a = [ns, ns] %}{{ ns }}",
        ),
        text(
            "a wide tree, printed",
            "{% set ns = namespace(a=['glue']) %}{% for i in range(40) %}{% set ns.a = [ns.a, ns.a, ns.a] %}{% endfor %}{{ ns.a }}",
        ),
        text(
            "a wide tree, sorted",
            "{% set ns = namespace(a=['glue']) %}{% for i in range(40) %}{% set ns.a = [ns.a, ns.a, ns.a] %}{% endfor %}{{ [ns.a, ns.a]|sort }}",
        ),
        doubled("a text that doubles", "ns.a ~ ns.a"),
        doubled("a text that doubles, added", "ns.a + ns.a"),
        doubled("a text that is replaced", "ns.a|replace('x', 'xxxxxxxx')"),
        doubled(
            "a text that is escaped",
            "(ns.a ~ '<')|escape|string|escape ~ ns.a",
        ),
        doubled("a list that doubles", "(ns.a|list) + (ns.a|list)"),
        doubled("a text joined by itself", "ns.a|list|join(ns.a)"),
        text("a long range", "{{ range(100000000000)|length }}"),
        text(
            "a long range, in a list",
            "{{ range(99999)|list|length }}{% for a in range(99999) %}{% set b = range(99999)|list %}{% endfor %}",
        ),
        text(
            "loops in loops",
            "{% for a in range(9999) %}{% for b in range(9999) %}x{% endfor %}{% endfor %}",
        ),
        text(
            "printing without an end",
            "{% for a in range(99999) %}{{ report }}{% endfor %}",
        ),
        text(
            "everything, again and again",
            "{% for a in range(99999) %}{{ debug() }}{% endfor %}",
        ),
        text("a wide format", "{{ '%1000000000d'|format(1) }}"),
        text("many decimals", "{{ 1.5|round(400000000) }}"),
        text(
            "large numbers",
            "{{ 9223372036854775807 * 9223372036854775807 * 9223372036854775807 * 9223372036854775807 }}",
        ),
        text("by nothing", "{{ 1 // 0 }}{{ 1 % 0 }}"),
        text("batches", "{{ [1]|batch(100000000000, 0)|list|length }}"),
        text("slices", "{{ [1]|slice(100000000000)|list|length }}"),
        text(
            "slices of a text",
            "{% set a = 'x' * 9000000 %}{% for i in range(99999) %}{{ a[::-1]|length }}{% endfor %}",
        ),
        text(
            "long texts, counted",
            "{% set a = 'ä' * 9000000 %}{% for i in range(99999) %}{{ a|length }}{% endfor %}",
        ),
        text(
            "long lists, sorted",
            "{% set a = range(99999)|list %}{% for i in range(99999) %}{{ a|sort(reverse=true)|first }}{% endfor %}",
        ),
        text(
            "a text looked for in a text",
            "{% set a = 'x' * 4000000 %}{% for i in range(99999) %}{{ (a ~ 'y') in a }}{% endfor %}",
        ),
        text(
            "all the same",
            "{% set a = range(99999)|list %}{% for i in range(99999) %}{{ a|unique|list|length }}{% endfor %}",
        ),
        text("as data, indented", "{{ report|tojson(indent=100000000) }}"),
        (
            "one long name",
            format!("{{{{ {} }}}}", "a".repeat(900_000)),
        ),
        (
            "one long text",
            format!("{{{{ '{}'|nothing }}}}", "a".repeat(900_000)),
        ),
        (
            "many blocks",
            (0..30_000)
                .map(|n| format!("{{% block b{n} %}}{{% endblock %}}"))
                .collect(),
        ),
        (
            "many names",
            (0..40_000)
                .map(|n| format!("{{% set a{n} = 1 %}}"))
                .collect(),
        ),
        ("open brackets", "{{".repeat(400_000)),
        ("open comments", "{#".repeat(400_000)),
        ("open blocks", "{%".repeat(400_000)),
        ("zeros", "\0".repeat(900_000)),
    ]
}

/// Scripts that want to do harm, each the body of `line`.
fn scripts() -> Vec<(&'static str, String)> {
    let body = |name, body: &str| (name, body.to_owned());
    vec![
        body(
            "closures that double",
            "let f = |x| x; loop { f = f.curry(f); }",
        ),
        body(
            "closures in closures",
            "let f = |x| x; loop { let g = f; f = |y| g.call(y); }",
        ),
        body(
            "a closure that calls itself",
            "let f = |x, f| f.call(x, f); f.call(1, f)",
        ),
        body(
            "functions by name",
            "let f = Fn(\"line\"); loop { f = f.curry(f).curry(f); }",
        ),
        body("lists in lists", "let a = [1]; loop { a = [a, a]; }"),
        body("a deep list", "let a = [1]; loop { a = [a]; }"),
        body(
            "a deep list, printed",
            "let a = [1]; for n in 0..30000 { a = [a]; } print(a);",
        ),
        body(
            "a deep list, compared",
            "let a = [1]; let b = [1]; for n in 0..15000 { a = [a]; b = [b]; } a == b",
        ),
        body("a deep map", "let a = #{}; loop { a = #{ a: a }; }"),
        body(
            "a deep map, as text",
            "let a = #{}; for n in 0..30000 { a = #{ a: a }; } \"\" + a",
        ),
        body(
            "a wide tree, as text",
            "let a = [\"glue\"]; for n in 0..30 { a = [a, a, a]; } \"\" + a",
        ),
        body(
            "texts in a list",
            "let a = []; let t = \"x\"; for n in 0..13 { t += t; } loop { a.push(t + a.len); }",
        ),
        body(
            "lists of long texts",
            "let m = #{}; let t = \"x\"; for n in 0..13 { t += t; } for k in 0..100 { let a = []; for n in 0..999 { a.push(t + n); } m[\"k\" + k] = a; }",
        ),
        body("a text that doubles", "let a = \"glue\"; loop { a += a; }"),
        body(
            "a text that is replaced",
            "let a = \"x\"; loop { a.replace(\"x\", \"xxxxxxxx\"); }",
        ),
        body("padding", "let a = []; a.pad(100000000000, [0]);"),
        body("a padded text", "let a = \"\"; a.pad(100000000000, 'x');"),
        body("a loop without an end", "loop { }"),
        body(
            "a range without an end",
            "let s = 0; for n in 0..9000000000000000000 { s += 1; }",
        ),
        body("a function that calls itself", "line(job)"),
        body("a function that calls itself twice", "line(job); line(job)"),
        body(
            "sorting",
            "let a = []; for n in 0..999 { a.push(999 - n); } loop { a.sort(|x, y| x - y); a.reverse(); }",
        ),
        body(
            "all of a list with all of it",
            "let a = []; for n in 0..999 { a.push(n); } loop { a.filter(|x| a.all(|y| x == x)); }",
        ),
        body(
            "a list split and joined",
            "let t = \"x,\"; for n in 0..8 { t += t; } loop { t.split(\",\"); }",
        ),
        (
            "brackets, nested",
            format!("{}1{}", "(".repeat(100_000), ")".repeat(100_000)),
        ),
        (
            "lists, nested",
            format!("{}{}", "[".repeat(100_000), "]".repeat(100_000)),
        ),
        (
            "braces, nested",
            format!("{}{}", "{".repeat(100_000), "}".repeat(100_000)),
        ),
        ("not, nested", format!("{}true", "!".repeat(200_000))),
        ("a chain of sums", format!("1{}", "+1".repeat(200_000))),
        (
            "a chain of indices",
            format!("job{}", "[0]".repeat(100_000)),
        ),
        (
            "a chain of else",
            format!("if false {{}}{}", " else if false {}".repeat(50_000)),
        ),
        ("closures, nested", format!("{}1", "|x| ".repeat(50_000))),
        (
            "texts in texts",
            format!("{}1{}", "`${".repeat(20_000), "}`".repeat(20_000)),
        ),
        (
            "a large number",
            format!("let n = {}.0; n", "9".repeat(500_000)),
        ),
        body("large powers", "let n = 9.9; loop { n = n * n; }"),
        body(
            "decimals to the power",
            "let n = 1.000001; loop { n ** 99999; }",
        ),
    ]
}

fn bounds() -> Bounded {
    Bounded::by(PathBuf::from(env!("CARGO_BIN_EXE_tellmark")))
}

/// The demonstration job as a template is given it.
fn report() -> Value {
    User::with_demonstration()
        .run(&["report", "chest", "--json"])
        .json()
}

fn template_ended(bounds: &Bounded, report: &Value, text: &str) -> Ended {
    let template = json!({ "name": "ours.html", "text": text });
    let request = json!({ "template": template, "report": report });
    let request = serde_json::to_vec(&request).expect("data");
    match bounds.run(tellmark_report::TASK, &request) {
        Err(tellmark_job::bounds::Stopped::TooLong) => "took too long",
        Err(tellmark_job::bounds::Stopped::TooMuch) => "memory or stack",
        Err(tellmark_job::bounds::Stopped::Broke) => "broke off",
        Err(why) => panic!("{why}"),
        Ok(answer) => {
            let page: Result<String, tellmark_report::BadTemplate> =
                serde_json::from_slice(&answer).expect("an answer");
            match page {
                Ok(_) => "a page",
                Err(bad) => {
                    assert!(bad.to_string().len() < 2_000, "a sentence");
                    "refused with its line"
                }
            }
        }
    }
}

fn script_ended(bounds: &Bounded, body: &str) -> Ended {
    let text =
        format!("fn line(job) {{\n{body}\n}}\nfn terms(work) {{\n#{{ currency: \"x\" }}\n}}\n");
    let file = SourceFile {
        name: "prices.rhai".to_owned(),
        text,
        standard: false,
    };
    match prices(&quote(), "chest of drawers", &file, bounds).result {
        Ok(_) => "prices",
        Err(trouble) => {
            let said = trouble.render(Style::Plain);
            let sentence = trouble.message.said();
            assert!(sentence.len() < 4_000, "a sentence: {}", sentence.len());
            match said {
                said if said.contains("took too long") => "took too long",
                said if said.contains("more memory than it may have") => "memory or stack",
                said if said.contains("break off") => "broke off",
                said if said.contains("message 145") => panic!("{said}"),
                _ => "refused with its line",
            }
        }
    }
}

fn quote() -> Quote {
    let points = Points::default();
    let item = Item {
        job: "reglue the drawer".to_owned(),
        part: "drawer 1".to_owned(),
        chance: Some(1.0),
        certain: true,
        cannot_say: false,
        counted_as: None,
        planned: true,
        called: true,
        longest_of_several: false,
        minutes: Some([90, 120, 180]),
        waits: None,
        needs: Vec::new(),
        ask_owner: false,
        needed_by: None,
        again: None,
    };
    Quote {
        items: vec![item],
        mean: 2.0,
        deviation: 1.0,
        hours: points,
        planned_hours: points,
        total: Spread {
            step: 1.0,
            chances: vec![1.0],
        },
        widens: Vec::new(),
        waits: [0, 0],
        not_done: Vec::new(),
        left: Vec::new(),
    }
}

/// Long enough for a machine with much else to do.
const SOON: Duration = Duration::from_secs(15);

#[test]
fn hostile_templates_end_with_a_sentence() {
    let (bounds, report) = (bounds(), report());
    assert!(templates().len() >= 50);
    for (name, text) in templates() {
        let started = Instant::now();
        let ended = template_ended(&bounds, &report, &text);
        eprintln!("{name}: {ended} after {:?}", started.elapsed());
        assert!(started.elapsed() < SOON, "{name}");
    }
}

#[test]
fn hostile_scripts_end_with_a_sentence() {
    let bounds = bounds();
    assert!(scripts().len() >= 20);
    for (name, body) in scripts() {
        let started = Instant::now();
        let ended = script_ended(&bounds, &body);
        eprintln!("{name}: {ended} after {:?}", started.elapsed());
        assert!(started.elapsed() < SOON, "{name}");
        assert_ne!(ended, "prices", "{name}");
    }
}

/// The program is there, but is none that keeps anything within bounds.
#[test]
fn without_bounds_nothing_is_run() {
    let none = Bounded::by(PathBuf::from("/nowhere/tellmark"));
    let stopped = none.run(tellmark_report::TASK, b"{}");
    let why = stopped.expect_err("it is not there").to_string();
    assert!(
        why.contains("could not be started: it is not there"),
        "{why}"
    );
    let other = Bounded::by(PathBuf::from("/bin/true"));
    let answer = other.run(tellmark_report::TASK, b"{}");
    assert_eq!(answer, Ok(Vec::new()), "which is no answer to anything");
}

/// A process that may open no file and start no other.
#[test]
fn a_bounded_process_reaches_no_file() {
    let text = "{% include '/etc/passwd' %}";
    assert_eq!(
        template_ended(&bounds(), &json!({}), text),
        "refused with its line"
    );
}

/// What each takes. With GNU time,
/// `PROGRAM=$PWD/target/release/tellmark UPDATE=1 cargo test -p tellmark --test all hostile --
/// --ignored` writes the table anew.
#[test]
#[ignore = "measures: needs GNU time"]
fn what_hostile_forms_take() {
    let report = report();
    let user = User::new();
    let (wrapper, figures) = (user.path("measured"), user.path("figures"));
    let program = std::env::var("PROGRAM");
    let program = program.unwrap_or_else(|_| env!("CARGO_BIN_EXE_tellmark").to_owned());
    let script = format!(
        "#!/bin/sh\nexec /usr/bin/time -q -o {} -f '%U %S %M' {program} \"$@\"\n",
        figures.display()
    );
    fs::write(&wrapper, script).expect("written");
    fs::set_permissions(&wrapper, fs::Permissions::from_mode(0o755)).expect("set");
    let (plain, measured) = (Bounded::by(PathBuf::from(&program)), Bounded::by(wrapper));
    let mut table = "What hostile forms take: seconds of processor time, most memory in MB, \
                     how it ends.\n\n"
        .to_owned();
    let (mut slowest, mut largest) = (0.0f64, 0u32);
    let mut row = |name: &str, ended: Ended| {
        let figures = fs::read_to_string(&figures).expect("measured");
        let figures: Vec<&str> = figures.split_whitespace().collect();
        let seconds = |at: usize| figures[at].parse::<f64>().expect("a number");
        let seconds = seconds(0) + seconds(1);
        let kilobytes: u32 = figures[2].parse().expect("a number");
        let megabytes = kilobytes.div_ceil(1000);
        (slowest, largest) = (slowest.max(seconds), largest.max(megabytes));
        table += &format!("{name:36}{seconds:6.2}{megabytes:6}  {ended}\n");
    };
    let ordinary = "{% extends \"standard.html\" %}{% block head %}<h1>Ours</h1>{% endblock %}";
    let templates = [("(template) ordinary", ordinary.to_owned())]
        .into_iter()
        .chain(templates());
    let ordinary = "#{ text: job.job, amount: job.mean }";
    let scripts = [("(script) ordinary", ordinary.to_owned())]
        .into_iter()
        .chain(scripts());
    for (name, text) in templates {
        let ended = template_ended(&plain, &report, &text);
        let request = json!({
            "template": { "name": "ours.html", "text": text },
            "report": report,
        });
        let _ = measured.run(
            tellmark_report::TASK,
            &serde_json::to_vec(&request).expect("data"),
        );
        row(name, ended);
    }
    for (name, body) in scripts {
        let ended = script_ended(&plain, &body);
        let file = SourceFile {
            name: "prices.rhai".to_owned(),
            text: format!(
                "fn line(job) {{\n{body}\n}}\nfn terms(work) {{\n#{{ currency: \"x\" }}\n}}\n"
            ),
            standard: false,
        };
        let _ = prices(&quote(), "chest of drawers", &file, &measured);
        row(name, ended);
    }
    table += &format!("\nThe slowest {slowest:.2} s, the largest {largest} MB.\n");
    println!("{table}");
    if std::env::var_os("UPDATE").is_some() {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/hostile.txt");
        fs::write(path, &table).expect("written");
    }
    assert!(slowest < 1.0 && largest < 100, "{slowest} s, {largest} MB");
}
