//! The page itself: what was gathered, set out by a template.
//!
//! The standard template is ours and is set out here. A house's template comes from
//! anybody, so it is set out in a process that the operating system keeps within bounds.
//! The small copies of the photographs, which are most of a page, stay here: the template
//! is given a mark for each, and they are put in for the marks afterwards.

use super::Report;
use super::fonts;
use super::photographs::Photographs;
use minijinja::{AutoEscape, Environment, Error, ErrorKind, UndefinedBehavior, context};
use serde::{Deserialize, Serialize};
use std::fmt;
use tellmark_job::bounds::{Bounds, Stopped};
use tellmark_job::one_line::shortened;

/// The standard template: head, style, letter and record in one.
pub const STANDARD: &str = concat!(
    include_str!("page/head.html"),
    include_str!("page/paper.css"),
    include_str!("page/letter.html"),
    include_str!("page/record.html")
);
/// The name by which a house's template can build on the standard one.
const STANDARD_NAME: &str = "standard.html";
/// Steps that setting out a page may take: a hundred times what a large job takes. A
/// template that goes round for ever comes to its end here, with its line.
const STEPS: u64 = 5_000_000;
/// The largest page that a house's template may make, in bytes, without photographs.
const LARGEST_PAGE: usize = 8 * 1024 * 1024;
/// How often a template may show each photograph, on average.
const SHOWN: usize = 4;

/// By this name a process is asked for [`answer`].
pub const TASK: &str = "page";

/// A house's own template.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Template {
    /// Its file, for messages.
    pub name: String,
    /// Its text.
    pub text: String,
}

/// What is wrong with a template.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BadTemplate {
    /// Its file.
    pub name: String,
    /// The line, from 1, if it is known.
    pub line: Option<usize>,
    /// The line as it stands; empty if it is not known.
    pub words: String,
    /// What is wrong with it.
    pub why: String,
}

impl fmt::Display for BadTemplate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            Some(line) => writeln!(f, "{}, line {line}\n\n    {}", self.name, self.words)?,
            None => writeln!(f, "{}", self.name)?,
        }
        write!(f, "{} No report was written.", self.why)
    }
}

impl std::error::Error for BadTemplate {}

impl BadTemplate {
    /// Something is wrong with the whole of it.
    fn whole(name: &str, why: String) -> BadTemplate {
        BadTemplate {
            name: name.to_owned(),
            line: None,
            words: String::new(),
            why,
        }
    }
}

/// Sets the page out by the standard template, or by the house's own, which is run within
/// `bounds`.
///
/// Everything is escaped; a drawing is markup of our own and is put in with `|safe`.
/// The house's template can begin with `{% extends "standard.html" %}` and replace
/// blocks of the standard one.
///
/// # Errors
/// If the template cannot be understood, asks for something that there is not, or goes
/// beyond its bounds.
pub fn page(
    report: &Report,
    template: Option<&Template>,
    bounds: &dyn Bounds,
) -> Result<String, BadTemplate> {
    let page = match template {
        None => set_out(report, None)?,
        Some(template) => within_bounds(report, template, bounds)?,
    };
    if is_page(page.as_bytes()) {
        Ok(page)
    } else {
        let name = template.map_or(STANDARD_NAME, |template| template.name.as_str());
        let why = format!("What it makes does not begin with {BEGINNING}>, as a page must.");
        Err(BadTemplate::whole(name, why))
    }
}

/// What a process is asked to set out. `R` is anything that reads and writes as data.
#[derive(Serialize, Deserialize)]
struct Request<T, R> {
    template: T,
    report: R,
}

fn within_bounds(
    report: &Report,
    template: &Template,
    bounds: &dyn Bounds,
) -> Result<String, BadTemplate> {
    let stopped =
        |why: Stopped| BadTemplate::whole(&template.name, format!("This template {why}."));
    let mut report = report.clone();
    let marks = Marks::new(&mut report.photographs);
    let request = serde_json::to_vec(&Request {
        template,
        report: &report,
    });
    let answer = request
        .map_err(|_| Stopped::Broke)
        .and_then(|request| bounds.run(TASK, &request))
        .and_then(|bytes| serde_json::from_slice(&bytes).map_err(|_| Stopped::Broke));
    let page: Result<String, BadTemplate> = answer.map_err(stopped)?;
    let page = page?;
    let pictures: usize = marks.pictures.iter().map(String::len).sum();
    if page.len() <= LARGEST_PAGE && marks.length(&page) <= LARGEST_PAGE + SHOWN * pictures {
        Ok(marks.put_pictures(&page))
    } else {
        let why = format!(
            "The page that it makes is far too large: more than {} MB without photographs, or \
             each photograph more than {SHOWN} times.",
            LARGEST_PAGE / 1024 / 1024
        );
        Err(BadTemplate::whole(&template.name, why))
    }
}

/// Answers a request for [`TASK`]. This is what the process does that is kept within
/// bounds; what is no request has no answer.
#[must_use]
pub fn answer(request: &[u8]) -> Vec<u8> {
    let request = serde_json::from_slice::<Request<Template, minijinja::Value>>(request);
    let Ok(Request { template, report }) = request else {
        return Vec::new();
    };
    let page = set_out(&report, Some(&template));
    serde_json::to_vec(&page).unwrap_or_default()
}

/// Marks that stand for the small copies of photographs while a template is set out.
struct Marks {
    /// How each mark begins; its number and [`END`] follow. It has a random number in it,
    /// so that no words of a job can be mistaken for a mark.
    begin: String,
    pictures: Vec<String>,
}

/// How a mark ends.
const END: char = 'e';

impl Marks {
    /// Takes the small copies out, and puts a mark in for each.
    fn new(photographs: &mut Photographs) -> Marks {
        use std::hash::{BuildHasher as _, Hasher as _, RandomState};
        let random = RandomState::new().build_hasher().finish();
        let mut marks = Marks {
            begin: format!("picture{random}n"),
            pictures: Vec::new(),
        };
        let shots = photographs.parts.iter_mut().flat_map(|of| &mut of.shots);
        for shot in shots.filter(|shot| !shot.picture.is_empty()) {
            let mark = format!("{}{}{END}", marks.begin, marks.pictures.len());
            marks
                .pictures
                .push(std::mem::replace(&mut shot.picture, mark));
        }
        marks
    }

    /// The page in pieces: words, then a picture and words, and so on.
    fn pieces<'p>(&'p self, page: &'p str) -> impl Iterator<Item = (&'p str, &'p str)> {
        let mut pieces = page.split(self.begin.as_str());
        let first = pieces.next().map(|words| ("", words));
        first.into_iter().chain(pieces.map(|piece| {
            let (number, words) = piece.split_once(END).unwrap_or(("", piece));
            let picture = number
                .parse()
                .ok()
                .and_then(|n: usize| self.pictures.get(n));
            (picture.map_or("", String::as_str), words)
        }))
    }

    /// How long the page is with its pictures.
    fn length(&self, page: &str) -> usize {
        let lengths = self
            .pieces(page)
            .map(|(picture, words)| picture.len() + words.len());
        lengths.sum()
    }

    fn put_pictures(&self, page: &str) -> String {
        let mut whole = String::with_capacity(self.length(page));
        for (picture, words) in self.pieces(page) {
            whole.push_str(picture);
            whole.push_str(words);
        }
        whole
    }
}

/// Sets a report out by a template, here and now.
fn set_out(report: impl Serialize, template: Option<&Template>) -> Result<String, BadTemplate> {
    let mut environment = Environment::new();
    environment.set_auto_escape_callback(|_| AutoEscape::Html);
    environment.set_undefined_behavior(UndefinedBehavior::Strict);
    environment.set_fuel(Some(STEPS));
    environment.set_trim_blocks(true);
    environment.set_lstrip_blocks(true);
    let (name, text) = match template {
        // A house's file of that name can still build on the standard one.
        Some(template) if template.name == STANDARD_NAME => {
            ("./standard.html", template.text.as_str())
        }
        Some(template) => (template.name.as_str(), template.text.as_str()),
        None => (STANDARD_NAME, STANDARD),
    };
    let bad = |error: &Error| bad(error, name, text);
    environment
        .add_template(STANDARD_NAME, STANDARD)
        .map_err(|error| bad(&error))?;
    if template.is_some() {
        environment
            .add_template(name, text)
            .map_err(|error| bad(&error))?;
    }
    let page = environment
        .get_template(name)
        .and_then(|template| template.render(context! { report, fonts => fonts::faces() }));
    page.map(without_controls).map_err(|error| bad(&error))
}

/// HTML has no place for what steers a terminal, which a record that came from elsewhere may hold.
fn without_controls(page: String) -> String {
    let steers = |c: char| c.is_control() && !matches!(c, '\n' | '\t');
    match page.contains(steers) {
        true => page.replace(steers, "\u{fffd}"),
        false => page,
    }
}

/// The most signs that are shown of a template's line, or of what is wrong with it.
const LONGEST_WORDS: usize = 300;
const BEGINNING: &str = "<!doctype html";

/// Whether these bytes begin as every page does.
#[must_use]
pub fn is_page(bytes: &[u8]) -> bool {
    let begins = bytes.trim_ascii_start().get(..BEGINNING.len());
    begins.is_some_and(|b| b.eq_ignore_ascii_case(BEGINNING.as_bytes()))
}

fn bad(error: &Error, name: &str, text: &str) -> BadTemplate {
    let standard = error.name() == Some(STANDARD_NAME);
    let text = if standard { STANDARD } else { text };
    let words = error
        .line()
        .and_then(|line| text.lines().nth(line.checked_sub(1)?));
    let detail = shortened(error.detail().unwrap_or_default(), LONGEST_WORDS);
    let why = match error.kind() {
        ErrorKind::UndefinedError => {
            "Here something is asked for that a report has not. \"tellmark report JOB --json\" \
             shows all it has."
                .to_owned()
        }
        ErrorKind::OutOfFuel => {
            "Setting out this page takes too long: something goes round and round.".to_owned()
        }
        ErrorKind::SyntaxError => format!("This cannot be understood: {detail}."),
        ErrorKind::TemplateNotFound => {
            format!("There is no other template but \"{STANDARD_NAME}\" to build on.")
        }
        ErrorKind::UnknownFilter => format!("There is no such filter: {detail}."),
        ErrorKind::UnknownFunction | ErrorKind::UnknownMethod => {
            format!("There is no such function: {detail}.")
        }
        ErrorKind::UnknownTest => format!("There is no such test: {detail}."),
        kind if detail.is_empty() => format!("This cannot be done: {kind}."),
        _ => format!("This cannot be done: {detail}."),
    };
    BadTemplate {
        name: shortened(error.name().unwrap_or(name), LONGEST_WORDS),
        line: error.line(),
        words: shortened(words.unwrap_or_default(), LONGEST_WORDS),
        why,
    }
}
