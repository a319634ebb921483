//! The house's scripts: prices that add up, checks that speak at the right place, and
//! what is said of every script that goes wrong.

use tellmark_job::advice::{Item, Points, Quote};
use tellmark_job::bounds::{Bounds, Stopped};
use tellmark_job::house;
use tellmark_job::scripts::{self, Priced, Ran, ScriptError, checks, prices};
use tellmark_language::{Level, SourceFile, Style};

fn file(name: &str, text: &str) -> SourceFile {
    SourceFile {
        name: name.to_owned(),
        text: text.to_owned(),
        standard: false,
    }
}

fn item(job: &str, chance: Option<f64>, minutes: [u32; 3]) -> Item {
    Item {
        job: job.to_owned(),
        part: "drawer 1".to_owned(),
        chance,
        certain: chance == Some(1.0),
        cannot_say: chance.is_none(),
        counted_as: None,
        planned: true,
        called: true,
        longest_of_several: false,
        minutes: Some(minutes),
        waits: None,
        needs: vec!["hide glue".to_owned()],
        ask_owner: job == "true the front",
        needed_by: None,
        again: None,
    }
}

fn quote() -> Quote {
    let points = Points {
        p10: 2.0,
        p50: 3.5,
        p80: 5.0,
        p90: 6.25,
    };
    Quote {
        items: vec![
            item("reglue the drawer", Some(1.0), [90, 120, 180]),
            item("true the front", Some(0.45), [120, 210, 300]),
            item("mend the lap", Some(0.1), [60, 120, 180]),
            item("watch the split", None, [5, 5, 10]),
        ],
        mean: 3.7,
        deviation: 1.4,
        hours: points,
        planned_hours: points,
        total: tellmark_job::hours::Spread {
            step: 1.0,
            chances: vec![1.0],
        },
        widens: Vec::new(),
        waits: [0, 0],
        not_done: Vec::new(),
        left: Vec::new(),
    }
}

/// No bounds at all: the scripts of these tests stop at the engine's own limits.
struct Here;

impl Bounds for Here {
    fn run(&self, task: &str, request: &[u8]) -> Result<Vec<u8>, Stopped> {
        assert_eq!(task, scripts::TASK);
        Ok(scripts::answer(request))
    }
}

/// Where nothing can be run.
struct Nowhere;

impl Bounds for Nowhere {
    fn run(&self, _: &str, _: &[u8]) -> Result<Vec<u8>, Stopped> {
        Err(Stopped::NotRun("it is not there".to_owned()))
    }
}

/// A script of a house is never run without its bounds.
#[test]
fn what_cannot_be_kept_within_bounds_is_not_run() {
    let list = file("prices.rhai", &with_line("#{ text: \"x\", amount: 1 }"));
    let trouble = prices(&quote(), "chest of drawers", &list, &Nowhere).result;
    let said = trouble.expect_err("it is not run").render(Style::Plain);
    assert!(
        said.contains("The script was not run, because the process that keeps it within bounds could not be started: it is not there."),
        "{said}"
    );
}

#[test]
fn what_a_script_throws_is_cut_short() {
    let text = with_line("let a = \"no\\n\"; while a.len < 5000 { a += a; } throw a;");
    let said = priced(&text).expect_err("it stops itself").message.said();
    let words = said.split(": ").nth(1).expect("what it said");
    assert!(
        words.starts_with("no no no") && words.ends_with('…'),
        "{words}"
    );
    assert_eq!(said.chars().count(), 2_001);
}

/// What a script says stands in one line, and looks like no line or column of ours.
#[test]
fn texts_of_a_script_are_of_one_line() {
    let text = r#"
fn line(job) {
    print("a\n  b");
    #{ text: "varnish\n  Fixed in all      5.00", amount: 100 }
}
fn terms(work) {
    #{ currency: "crowns\r\n", assumptions: ["It is dry.\n\tTotal   5.00\u001b[2J"] }
}
"#;
    let Ran { printed, result } = ran(text);
    let priced = result.expect("it is in order");
    assert_eq!(priced.fixed[0].text, "varnish Fixed in all 5.00");
    assert_eq!(priced.currency, "crowns");
    assert_eq!(priced.assumptions, ["It is dry. Total 5.00 [2J"]);
    assert_eq!(printed[0], "a b");
}

fn ran(text: &str) -> Ran<Priced> {
    prices(
        &quote(),
        "chest of drawers",
        &file("prices.rhai", text),
        &Here,
    )
}

fn priced(text: &str) -> Result<Priced, ScriptError> {
    ran(text).result
}

#[test]
fn the_standard_prices_add_up() {
    let standard = house::prices(None).expect("it is built in");
    let priced = priced(&standard.text).expect("it is in order");
    // The list that ships is ours, and needs no process of its own.
    let here = prices(&quote(), "chest of drawers", &standard, &Nowhere);
    assert_eq!(here.result, Ok(priced.clone()));
    insta::assert_snapshot!(format!("{priced:#?}"));
}

#[test]
fn lines_are_rounded_first_and_money_is_exact() {
    let text = r#"
fn line(job) { #{ text: job.job, amount: 0.1 + 0.2 + 0.005 } }
fn terms(work) { #{ currency: "x", lines: [#{ text: "more", amount: 7, provisional: true }] } }
"#;
    let priced = priced(text).expect("it is in order");
    // 0.305 is 0.31 to a hundredth, halves up, and four lines are 1.24; in binary
    // numbers 0.1 + 0.2 + 0.005 is below a half, and four times the sum is 1.22.
    assert_eq!(priced.fixed_total.to_string(), "1.24");
    assert_eq!(priced.at_most.to_string(), "8.24");
    assert_eq!(priced.valid_days, 30);
}

/// A price list in order, but for what is said of a job.
fn with_line(body: &str) -> String {
    format!(
        "fn line(job) {{\n    {body}\n}}\n\nfn terms(work) {{\n    #{{ currency: \"x\" }}\n}}\n"
    )
}

/// Scripts that go wrong, by what is wrong with them.
fn wrong() -> Vec<(&'static str, String)> {
    let line = |name, body: &str| (name, with_line(body));
    vec![
        line("a loop without end", "loop { }"),
        line(
            "a range without end",
            "let s = 0; for n in 0..9000000000000000000 { s += 1; }",
        ),
        line(
            "a long way round",
            "let n = 0; while n < 1000000 { n += 1; }",
        ),
        line("a text that doubles", "let a = \"glue\"; loop { a += a; }"),
        line("a list that doubles", "let a = [1]; loop { a += a; }"),
        line("lists in lists", "let a = []; loop { a = [a, a]; }"),
        line(
            "a map that grows",
            "let m = #{}; let n = 0; loop { m[\"k\" + n] = n; n += 1; }",
        ),
        line("padding", "let a = []; a.pad(1000000, 0);"),
        (
            "functions without end",
            "fn line(job) {\n    again(job)\n}\nfn again(job) {\n    line(job)\n}\n".to_owned(),
        ),
        line(
            "far too deep",
            &format!("let n = {}1{};", "(".repeat(80), ")".repeat(80)),
        ),
        line("a number for a line", "42"),
        line("no text", "#{ amount: 3 }"),
        line(
            "a text far too long",
            "let a = \"glue \"; while a.len < 600 { a += a; } #{ text: a, amount: 3 }",
        ),
        line("a text for an amount", "#{ text: \"x\", amount: \"3\" }"),
        line("less than nothing", "#{ text: \"x\", amount: -3 }"),
        line("a slip in an entry", "#{ text: \"x\", ammount: 3 }"),
        line(
            "a slip in what it was given",
            "#{ text: job.jbo, amount: 3 }",
        ),
        line(
            "a slip in a name",
            "let price = 3;\n    #{ text: \"x\", amount: prise }",
        ),
        line(
            "a function that is not there",
            "#{ text: \"x\", amount: cost(job) }",
        ),
        line(
            "a text and a number",
            "#{ text: \"x\", amount: job.needs * 3 }",
        ),
        line("by nothing", "#{ text: \"x\", amount: 1 / 0 }"),
        line(
            "a number too large",
            "#{ text: \"x\", amount: 9223372036854775807 + job.least }",
        ),
        line(
            "the largest decimal number",
            "#{ text: \"x\", amount: 79228162514264337593543950335.0 }",
        ),
        line(
            "amounts that cannot be added up",
            "#{ text: \"x\", amount: 999999999999.0 }",
        ),
        (
            "a total too large",
            "fn line(job) { #{ text: \"x\", amount: 250000000000 } }\n\
             fn terms(work) {\n    #{ currency: \"x\", lines: [#{ text: \"y\", amount: 0.004 }, #{ text: \"z\", amount: 0.01, provisional: true }] }\n}\n"
                .to_owned(),
        ),
        line(
            "a product too large",
            "#{ text: \"x\", amount: 79228162514264337593543950335.0 * 2.0 }",
        ),
        line("it stops itself", "throw \"no price for \" + job.job"),
        line("another program", "import \"/etc/passwd\" as p;"),
        line("words as a program", "eval(\"1 + 1\")"),
        line("asleep", "sleep(10)"),
        line("the time", "timestamp()"),
        line("a file", "open_file(\"/etc/passwd\")"),
        line("not closed", "#{ text: \"x\", amount: 3 "),
        line("a text not closed", "#{ text: \"x, amount: 3 }"),
        (
            "no line",
            "fn terms(work) {\n    #{ currency: \"x\" }\n}\n".to_owned(),
        ),
        ("no terms", "fn line(job) { }\n".to_owned()),
        (
            "no currency",
            "fn line(job) { }\nfn terms(work) {\n    #{ }\n}\n".to_owned(),
        ),
        (
            "half a day",
            "fn line(job) { }\nfn terms(work) {\n    #{ currency: \"x\", valid_days: 0.5 }\n}\n"
                .to_owned(),
        ),
        (
            "lines that are none",
            "fn line(job) { }\nfn terms(work) {\n    #{ currency: \"x\", lines: 3 }\n}\n"
                .to_owned(),
        ),
        ("empty", String::new()),
        (
            "no script at all",
            "House rules for the bench.\n".to_owned(),
        ),
    ]
}

#[test]
fn what_is_said_of_a_script_that_goes_wrong() {
    let mut said = String::new();
    for (name, text) in wrong() {
        let trouble = priced(&text).expect_err(name);
        assert_eq!(trouble.message.level, Level::Stop, "{name}");
        said += &format!("=== {name}\n{}\n", trouble.render(Style::Plain));
    }
    insta::assert_snapshot!(said);
}

const HOUSE: &str = "
House rules for a bench, version 1.
Job: oil the runners.
    Takes: 5 to 10 minutes, mostly 5
    From: house
Job: true the lid.
    Takes: 1 to 3 hours, mostly 2  Needs: cramps
    From: house
";

fn check_said(text: &str) -> Result<String, ScriptError> {
    let mut files = house::standard();
    files.push(file("own.rules.txt", HOUSE));
    let reading = tellmark_language::read(files);
    let messages = checks(&reading, &file("checks.rhai", text), &Here).result?;
    assert!(messages.iter().all(|m| m.level == Level::Look));
    let said = messages
        .iter()
        .map(|message| tellmark_language::render(message, &reading.files, Style::Plain));
    Ok(said.collect())
}

#[test]
fn checks_speak_at_the_entry() {
    let text = r#"
fn check(entry) {
    if entry.standard { return; }
    if entry.kind == "job" && entry.needs.is_empty() {
        return "Which materials does it need?";
    }
    if entry.kind == "job" && entry.most > 150 {
        return ["Longer than a morning.", "Line " + entry.line + " of " + entry.file + "."];
    }
}
"#;
    insta::assert_snapshot!(check_said(text).expect("it is in order"));
}

#[test]
fn the_guide_shows_checks_that_run() {
    let guide = concat!(env!("CARGO_MANIFEST_DIR"), "/../rules/SCRIPTS.md");
    let guide = std::fs::read_to_string(guide).expect("it is there");
    let example = guide.split("```rhai\n").nth(1).expect("an example");
    let example = example.split("```").next().unwrap_or_default();
    let said = check_said(example).expect("it is in order");
    assert!(said.contains("Which materials does it need?"), "{said}");
    assert_eq!(said.matches("message 143").count(), 1, "{said}");
}

#[test]
fn every_kind_of_entry_has_what_the_guide_says() {
    let text = r#"
fn check(entry) {
    let all = [entry.file, entry.line, entry.words, entry.source, entry.standard];
    switch entry.kind {
        "job" => all += [entry.name, entry.least, entry.mostly, entry.most, entry.needs,
                         entry.first, entry.mends, entry.ask_owner],
        "sign" => all += [entry.part, entry.ask, entry.how, entry.minutes, entry.disturbs],
        "fault" => all += [entry.part, entry.phrase, entry.missed, entry.risk],
        "rule" | "means" => all += [entry.in_1000],
        "plan" => all += [entry.job],
        "caution" => all += [entry.text, entry.stop],
        "dating" => {}
        _ => throw "an entry of another kind: " + entry.kind,
    }
}
"#;
    assert_eq!(check_said(text).expect("it is in order"), "");
}

#[test]
fn what_is_said_of_checks_that_go_wrong() {
    let wrong = [
        ("no check", "fn chek(entry) { }\n"),
        (
            "a number",
            "fn check(entry) {\n    if entry.kind == \"job\" { 7 }\n}\n",
        ),
        (
            "a loop",
            "fn check(entry) {\n    let s = 0;\n    for n in 0..9000000000000000000 { s += 1; }\n}\n",
        ),
        (
            "a slip",
            "fn check(entry) {\n    entry.kind == \"job\" && entry.need == 3;\n}\n",
        ),
    ];
    let mut said = String::new();
    for (name, text) in wrong {
        let trouble = check_said(text).expect_err(name);
        said += &format!("=== {name}\n{}\n", trouble.render(Style::Plain));
    }
    insta::assert_snapshot!(said);
}

#[test]
fn what_a_script_prints_is_kept() {
    let text = with_line("print(job.job);");
    let printed = ran(&text).printed;
    assert_eq!(printed.len(), quote().items.len());
    assert_eq!(printed[0], "reglue the drawer");
}
