//! `tellmark report`: what stands on the page, that nothing anybody wrote gets out of its
//! place there, templates of a house, and files that must not be written over.

use crate::pictures;

use crate::user::User;
use jiff::civil::{DateTime, date};
use jiff::tz::Offset;
use std::fs;
use std::ops::Deref;
use std::path::Path;
use tellmark::Bounded;
use tellmark_compile::check::{Depth, check};
use tellmark_job::advice::Now;
use tellmark_job::house::{self, Workshop};
use tellmark_job::open_job::OpenJob;
use tellmark_job::papers::DoneWork;
use tellmark_job::scripts::prices;
use tellmark_report::{Matter, Quoted, Report, Template, gather, page};

const HEADER: &str = "\
job folder: 1
piece: chest of drawers with 2 drawers
opened: 2026-03-01 09:00
house rules: the standard bench
version: 1
height: 1040 mm
examiner: an invented examiner
";

const RECORD: &str = "\
2026-03-02 09:05  wish: in use again, for linen
2026-03-02 09:06  limit: 2 hours
2026-03-02 09:07  leave: the top; the rings are remembered
2026-03-02 09:10  the piece is used daily
2026-03-02 09:11  the main wood of the piece is walnut
2026-03-02 09:12  drawer 2 is stiff
2026-03-02 09:13  drawer 1 is not stiff
2026-03-02 09:14  left runner of drawer 2 is worn 3 mm
2026-03-02 09:15  bottom of drawer 1 is split 2 mm wide
2026-03-02 09:16  the lock of drawer 1 cannot be seen
2026-03-02 09:17  drawer 2 looks creaking
2026-03-02 09:18  drawer 2 is machine-dovetailed
2026-03-02 09:19  drawer 1 is stiff
2026-03-02 09:20  the front of drawer 1 shows plugged holes
2026-03-02 09:21  handle 1 of drawer 1 is fresh-seated
2026-03-03 10:00  refused: let in a fillet; bottom of drawer 1; by telephone
2026-03-04 16:00  done: photograph the piece; ; 20 minutes
2026-03-04 16:05  photo: 2-after.jpg; drawer 2; after; lip renewed
2026-03-04 16:06  photo: 1-before.jpg; drawer 2; before; the torn lip
2026-03-04 16:07  the colour of the piece is not so good
";

struct Chest {
    user: User,
}

impl Deref for Chest {
    type Target = User;

    fn deref(&self) -> &User {
        &self.user
    }
}

impl Chest {
    fn new(header: &str, record: &str) -> Chest {
        let chest = Chest {
            user: User::with_chest(header, record),
        };
        chest.make("chest/photos");
        for (name, hue) in [("1-before.jpg", 90), ("2-after.jpg", 200)] {
            let jpeg = pictures::jpeg(&[hue; 3 * 40 * 30], 40, 30);
            chest.write(&format!("chest/photos/{name}"), jpeg);
        }
        chest
    }

    /// The page as of a fixed day, by the standard rules.
    fn page(&self, template: Option<&Template>) -> Result<String, String> {
        let noon = date(2026, 3, 5).at(12, 0, 0, 0);
        let mut report = report_of(&self.path("chest"), noon);
        // Neither is of this test: they change with every rule and every version.
        report.identity.pack = "0000abcd".to_owned();
        report.identity.program = "0".to_owned();
        page(&report, template, &bounds()).map_err(|bad| bad.to_string())
    }
}

/// Where templates of a house are set out.
fn bounds() -> Bounded {
    Bounded::by(env!("CARGO_BIN_EXE_tellmark").into())
}

/// The report of a job by the standard rules and prices.
fn report_of(folder: &Path, now: DateTime) -> Report {
    let rules = check(tellmark_language::read(house::standard()), Depth::Build);
    let job = OpenJob::open(folder, rules).expect("a job");
    let view = job.view().expect("the standard rules are in order");
    let found = job.as_found().expect("the standard rules are in order");
    let progress = view.progress().expect("it can be set up");
    let quote = view.quote(&progress).ok();
    let list = house::prices(None).expect("the standard one");
    let piece = &job.job.header().piece;
    let priced = quote.as_ref().map(|quote| {
        let ran = prices(quote, piece, &list, &bounds());
        ran.result.expect("it can be priced")
    });
    let matter = Matter {
        found: &found,
        view: &view,
        progress: &progress,
        quoted: quote.as_ref().map(|quote| Quoted {
            quote,
            priced: priced.as_ref(),
            taxes: &[],
            done: DoneWork::default(),
        }),
        made_in: job.model().region,
        kind: None,
        workshop: &Workshop::default(),
        now: Now {
            wall: now,
            offset: Offset::UTC,
        },
    };
    let mut report = gather(&matter).expect("it can be set up");
    report.photographs.load(|_, _| {});
    report
}

/// The words of a page, a line for every element that stands on its own.
fn words(page: &str) -> String {
    const INSIDE: [&str; 6] = ["bdi", "/bdi", "span", "/span", "a", "/a"];
    let body = page.split_once("<body>").expect("a body").1;
    let mut text = String::new();
    let mut rest = body;
    while let Some((before, after)) = rest.split_once('<') {
        text.push_str(&before.replace('\n', " "));
        let (tag, after) = after.split_once('>').expect("a tag has its end");
        let name = tag
            .split([' ', '/'])
            .find(|n| !n.is_empty())
            .unwrap_or_default();
        let name = if tag.starts_with('/') {
            format!("/{name}")
        } else {
            name.to_owned()
        };
        if name == "td" || name == "dd" || name == "th" {
            text.push_str(" | ");
        } else if name == "img" {
            let alt = tag.split("alt=\"").nth(1).unwrap_or_default();
            text.push_str(&format!("\n[picture: {}]", alt.trim_end_matches('"')));
        } else if !INSIDE.contains(&name.as_str()) {
            text.push('\n');
        }
        rest = after;
    }
    for (escaped, plain) in [
        ("&#x2f;", "/"),
        ("&#x27;", "'"),
        ("&quot;", "\""),
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&amp;", "&"),
    ] {
        text = text.replace(escaped, plain);
    }
    let lines = text.lines().map(|line| {
        let words: Vec<&str> = line.split_whitespace().collect();
        words.join(" ")
    });
    let lines: Vec<String> = lines
        .filter(|line| !line.is_empty() && line != "|")
        .collect();
    lines.join("\n")
}

#[test]
fn the_page_of_a_small_job() {
    let chest = Chest::new(HEADER, RECORD);
    let page = chest.page(None).expect("a page");
    insta::assert_snapshot!("small_job", words(&page));
}

/// The example that is kept beside its job is what the command makes of it today.
/// `UPDATE=1` writes it anew.
#[test]
fn the_page_kept_as_an_example_is_of_today() {
    let folder =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/jobs/landing-chest-finished");
    let report = report_of(&folder, date(2026, 10, 2).at(12, 0, 0, 0));
    assert!(report.price.is_none(), "everything is done");
    let page = page(&report, None, &bounds()).expect("a page");
    let kept = folder.join("report.html");
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&kept, &page).expect("written");
    }
    let kept = fs::read_to_string(&kept).unwrap_or_default();
    let differ = kept
        .lines()
        .zip(page.lines())
        .find(|(kept, new)| kept != new);
    assert!(
        kept == page,
        "The example is not of today ({differ:?}): UPDATE=1 cargo test -p tellmark --test all report"
    );
}

/// The page needs nothing but itself, and does nothing by itself.
#[test]
fn the_page_is_one_file_without_scripts() {
    let chest = Chest::new(HEADER, RECORD);
    let page = chest.page(None).expect("a page").to_lowercase();
    let outside = page.replace("http://www.w3.org/2000/svg", "");
    for never in [
        "http:",
        "https:",
        "//",
        "<script",
        "javascript",
        "<link",
        "@import",
        "<iframe",
    ] {
        assert!(!strip_data(&outside).contains(never), "{never}");
    }
    for inside in outside.split("url(").skip(1) {
        assert!(inside.starts_with("data:font/woff2;base64,"));
    }
    for source in page.split(" src=\"").skip(1) {
        assert!(
            source.starts_with("data:image/jpeg;base64,"),
            "{}",
            &source[..40]
        );
    }
    assert!(page.contains("default-src 'none'"), "a browser keeps to it");
}

fn strip_data(page: &str) -> String {
    let mut parts = page.split(";base64,");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |all, part| {
        all + part.split_once(['"', ')']).map_or("", |(_, rest)| rest)
    })
}

/// Whatever a hand writes stays text: the page has the same elements as with plain words.
#[test]
fn hostile_words_stay_words() {
    let long = "w".repeat(4000);
    let hostile = [
        "<script>alert(1)</script>",
        "\"><img src=x onerror=alert(1)>",
        "' onload='alert(1)",
        "</style></td></table><h1>",
        "{{ report }} {% raw %}",
        "\u{202e}gnikcart\u{202c} \u{200f}",
        "&lt;b&gt; &#60; ]]> <!-- -->",
        &long,
    ];
    let tags = |page: &str| {
        let body = strip_data(page);
        let names = body.split('<').skip(1).map(|tag| {
            let end = tag.find([' ', '>', '\n']).unwrap_or(tag.len());
            tag[..end].to_owned()
        });
        names.collect::<Vec<_>>()
    };
    let page_with = |words: &str| {
        let header = format!("{HEADER}{words}: {words}\nowner: {words}\n");
        let record = format!(
            "{RECORD}2026-03-05 09:00  wish: {words}\n2026-03-05 09:01  limit: {words}\n\
             2026-03-05 09:02  leave: the back; {words}\n2026-03-05 09:03  agreed: {words}; ; {words}\n\
             2026-03-05 09:04  done: {words}\n2026-03-05 09:05  photo: 1-before.jpg; drawer 2; before; {words}\n\
             2026-03-05 09:06  photo: {words}; ; before; {words}\n2026-03-05 09:07  note {words}\n\
             2026-03-05 09:08  leave: {words}; {words}\n"
        );
        // A colon or semicolon of its own would divide the line elsewhere.
        let chest = Chest::new(&header, &record);
        chest.page(None).expect("a page")
    };
    let plain = tags(&page_with("plain words"));
    for words in hostile {
        let words = words.replace([';', ':'], ",");
        let page = page_with(&words);
        assert_eq!(tags(&page), plain, "{words}");
        assert!(!page.contains("<script") && !page.contains("<img src=x"));
    }
}

#[test]
fn a_house_sets_the_page_out_in_its_own_way() {
    let chest = Chest::new(HEADER, RECORD);
    fs::create_dir(chest.path("rules")).expect("made");
    chest.write(
        "rules/own.rules.txt",
        "House rules for our bench, version 4.\n",
    );
    let list = "fn line(job) { #{ text: job.job, amount: 10.0 } }\nfn terms(work) { #{ currency: \"pence\" } }\n";
    chest.write("rules/prices.rhai", list);
    chest.write(
        "rules/report.html",
        "{% extends \"standard.html\" %}\n{% block head %}<h1>Our bench: {{ report.identity.piece }}</h1>{% endblock %}\n",
    );
    let ran = chest.run(&["report", "chest", "--rules", "rules", "--out", "ours.html"]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    let ours = fs::read_to_string(chest.path("ours.html")).expect("written");
    assert!(ours.contains("<h1>Our bench: Chest of drawers with 2 drawers</h1>"));
    assert!(ours.contains("id=\"condition\""), "the rest is as usual");
    assert_eq!(ours.matches("data:image/jpeg;base64,").count(), 2);
    assert!(
        !ours.contains("src=\"picture"),
        "every mark has its picture"
    );
    assert!(ours.contains(">What it costs</h2>") && ours.contains(">pence</th>"));
    let ran = chest.run(&["report", "chest", "--out", "standard.html"]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    let standard = fs::read_to_string(chest.path("standard.html")).expect("written");
    assert!(standard.contains(">Hours</h3>"), "hours need no price list");
    assert!(
        !standard.contains("Quotation") && !standard.contains("What it costs"),
        "invented prices are not for an owner"
    );
}

#[test]
fn what_is_wrong_with_a_template_is_said_with_its_line() {
    let chest = Chest::new(HEADER, RECORD);
    let said = |text: &str| {
        let template = Template {
            name: "ours.html".to_owned(),
            text: text.to_owned(),
        };
        chest.page(Some(&template)).expect_err("it is wrong")
    };
    let all = [
        "<!doctype html>\n<p>{{ report.identity.peice }}</p>",
        "<!doctype html>\n\n{% for part in report.condition %}\n<p>",
        "<!doctype html>\n<p>{{ report.made|upside_down }}</p>",
        "{% extends \"another.html\" %}",
        "{% extends \"standard.html\" %}\n{% block head %}{{ report.nothing }}{% endblock %}",
        "<p>only a paragraph</p>",
    ];
    let all: Vec<String> = all.iter().map(|text| said(text)).collect();
    insta::assert_snapshot!("bad_templates", all.join("\n\n----\n\n"));
    // By the steps of the engine, or on a machine that is busy by the time that they take.
    let round = "{% for a in range(9999) %}{% for b in range(9999) %}x{% endfor %}{% endfor %}";
    let endless = said(&format!("<!doctype html>\n{round}"));
    assert!(endless.contains("too long"), "{endless}");

    let ran = chest.run(&["report", "chest", "--template", "none.html"]);
    assert_eq!(ran.code, Some(3));
    assert!(
        ran.err
            .contains("I could not read the template none.html: it is not there.")
    );
}

#[test]
fn a_page_is_written_over_and_nothing_else() {
    let chest = Chest::new(HEADER, RECORD);
    let ran = chest.run(&["report", "chest"]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    let said = ran
        .out
        .strip_prefix("The report is in ")
        .expect("it says where");
    let out = said.trim_end().trim_end_matches('.').to_owned();
    assert!(
        out.starts_with("chest/report-") && out.ends_with(".html"),
        "{out}"
    );
    assert_eq!(chest.run(&["report", "chest", "--out", &out]).code, Some(1));

    let ran = chest.run(&["report", "chest", "--out", "chest/record.txt"]);
    assert_eq!(ran.code, Some(2));
    assert!(
        ran.err.contains("is there already and is no page"),
        "{}",
        ran.err
    );
    let record = fs::read_to_string(chest.path("chest/record.txt")).expect("there");
    assert_eq!(record, RECORD);
    let ran = chest.run(&["report", "chest", "--out", "nowhere/r.html"]);
    assert_eq!(ran.code, Some(3));
    assert_eq!(
        chest.run(&["report", "chest", "--out", "chest"]).code,
        Some(3)
    );
}

#[test]
fn findings_that_contradict_each_other_are_said_and_nothing_is_made_of_them() {
    let clash = "the back is pulled off\nthe back is certainly not rattling\n";
    let chest = Chest::new(HEADER, &format!("{RECORD}{clash}"));
    fs::create_dir(chest.path("rules")).expect("made");
    chest.write(
        "rules/sure.rules.txt",
        "House rules for sure, version 1.\nSource sure: our own.\n\
         A back may be pulled off without showing it.  On its own: rarely\n    Missed: 1 hour, risk 1\n\
         If a back is pulled off then it is by definition rattling.  From: sure\n",
    );
    let ran = chest.run(&["report", "chest", "--rules", "rules", "--out", "r.html"]);
    assert_eq!(ran.code, Some(1), "{}", ran.err);
    assert!(
        ran.out.contains("Some findings contradict each other"),
        "{}",
        ran.out
    );
    let words = words(&fs::read_to_string(chest.path("r.html")).expect("written"));
    assert!(words.contains(
        "Findings that contradict each other\nBy the house rules these cannot all be true"
    ));
    assert!(words.contains(
        "\nthe back is pulled off (line 21)\nthe back is certainly not rattling (line 22)\n"
    ));
    assert!(!words.contains("Likely hidden faults") && !words.contains("Plan of work"));
}

#[test]
fn a_photograph_that_cannot_be_shown_says_why() {
    let more = "2026-03-05 09:00  photo: ../job.txt; ; before; a way out\n\
                2026-03-05 09:01  photo: 9-gone.jpg; ; before; gone\n\
                2026-03-05 09:02  photo: 8-text.jpg; ; before; text\n";
    let chest = Chest::new(HEADER, &format!("{RECORD}{more}"));
    chest.write("chest/photos/8-text.jpg", "no picture");
    let ran = chest.run(&["report", "chest", "--out", "r.html"]);
    assert_eq!(ran.code, Some(1));
    for said in [
        "The photograph ../job.txt is no plain name",
        "The photograph 9-gone.jpg could not be read: it is not there.",
        "The photograph 8-text.jpg is not a photograph that I can read.",
    ] {
        assert!(ran.err.contains(said), "{said}: {}", ran.err);
    }
    let page = fs::read_to_string(chest.path("r.html")).expect("written");
    assert!(page.contains("This photograph could not be read: it is not there."));
    assert_eq!(
        page.matches("data:image/jpeg;base64,").count(),
        2,
        "the other two are shown"
    );
}
