//! The page itself: what was gathered, set out by a template.

use super::Report;
use minijinja::{AutoEscape, Environment, Error, ErrorKind, UndefinedBehavior, context};
use std::fmt;

/// The standard template.
pub const STANDARD: &str = include_str!("page.html");
/// The name by which a house's template can build on the standard one.
const STANDARD_NAME: &str = "standard.html";
/// Steps that setting out a page may take: a hundred times what a large job takes. A
/// template that goes round for ever comes to its end here.
const STEPS: u64 = 50_000_000;

/// A house's own template.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Template {
    /// Its file, for messages.
    pub name: String,
    /// Its text.
    pub text: String,
}

/// What is wrong with a template.
#[derive(Clone, Debug, PartialEq, Eq)]
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

/// Sets the page out by the standard template, or by the house's own.
///
/// Everything is escaped; a drawing is markup of our own and is put in with `|safe`.
/// The house's template can begin with `{% extends "standard.html" %}` and replace
/// blocks of the standard one.
///
/// # Errors
/// If the template cannot be understood, or asks for something that there is not.
pub fn page(report: &Report, template: Option<&Template>) -> Result<String, BadTemplate> {
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
        .and_then(|template| template.render(context! { report }))
        .map_err(|error| bad(&error))?;
    if is_page(page.as_bytes()) {
        Ok(page)
    } else {
        Err(BadTemplate {
            name: name.to_owned(),
            line: None,
            words: String::new(),
            why: format!("What it makes does not begin with {BEGINNING}>, as a page must."),
        })
    }
}

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
    let detail = error.detail().unwrap_or_default();
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
        name: error.name().unwrap_or(name).to_owned(),
        line: error.line(),
        words: words.unwrap_or_default().trim().to_owned(),
        why,
    }
}
