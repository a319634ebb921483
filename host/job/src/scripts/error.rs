//! What is wrong with a script, said as it is said of rules: the line, the words
//! underlined, and what to do.

use super::SENTENCES;
use crate::bounds::Stopped;
use crate::one_line::shortened;
use rhai::{EvalAltResult, LexError, ParseError, ParseErrorType, Position};

use serde::{Deserialize, Serialize};
use tellmark_language::message::ProblemKind;
use tellmark_language::span::{FileId, Span};
use tellmark_language::{Files, Level, Message, Problem, SourceFile, Style};

/// What is wrong with a script.
#[derive(Clone, Debug, PartialEq)]
pub struct ScriptError {
    /// The script; the message is about it.
    pub file: Files,
    /// What to say.
    pub message: Box<Message>,
}

/// The same without the script, as it comes from another process.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(super) struct Said {
    number: u16,
    at: Span,
    text: String,
    help: Option<String>,
}

impl From<ScriptError> for Said {
    fn from(trouble: ScriptError) -> Said {
        let message = *trouble.message;
        Said {
            number: message.number(),
            at: message.at,
            text: message.text,
            help: message.help,
        }
    }
}

impl ScriptError {
    fn new(file: SourceFile, at: Span, problem: Problem<'_>) -> Self {
        let mut message = Message::new(at, problem);
        // A script can throw a text of any length, and call a thing by any name.
        message.text = shortened(&message.text, SENTENCES);
        Self {
            file: Files::from(vec![file]),
            message: Box::new(message),
        }
    }

    /// With the writer's own line, the words underlined.
    #[must_use]
    pub fn render(&self, style: Style) -> String {
        tellmark_language::render(&self.message, &self.file, style)
    }

    /// As data.
    #[must_use]
    pub fn record(&self) -> tellmark_language::Record {
        tellmark_language::record(&self.message, &self.file)
    }

    /// What another process said of it.
    pub(super) fn of_said(file: SourceFile, said: Said) -> Self {
        let kind = ProblemKind::numbered(said.number).unwrap_or(ProblemKind::ScriptRefuses);
        Self {
            file: Files::from(vec![file]),
            message: Box::new(Message {
                kind,
                level: Level::Stop,
                at: said.at,
                text: said.text,
                help: said.help,
                fix: None,
                also: Vec::new(),
                again: false,
            }),
        }
    }

    /// The process that ran it came to no answer.
    pub(super) fn stopped(file: &SourceFile, why: &Stopped) -> Self {
        let why = why.to_string();
        Self::new(
            file.clone(),
            Span::default(),
            Problem::ScriptOverran { why: &why },
        )
    }

    /// It cannot be read.
    pub(super) fn of_reading(file: SourceFile, why: &ParseError) -> Self {
        let at = span(&file.text, why.position());
        match why.err_type() {
            ParseErrorType::VariableUndefined(name) => unknown(file, at, name),
            ParseErrorType::Reserved(name) => unknown(file, at, name),
            ParseErrorType::BadInput(LexError::ImproperSymbol(name, why))
                if why.ends_with("is disabled") =>
            {
                unknown(file, at, name)
            }
            other => {
                let why = lower(&other.to_string());
                Self::new(file, at, Problem::ScriptUnreadable { why: &why })
            }
        }
    }

    /// It has no such function.
    pub(super) fn no_function(file: SourceFile, function: &str) -> Self {
        let given = match function {
            "line" => "job",
            "terms" => "work",
            _ => "entry",
        };
        let head = format!("fn {function}({given})");
        let end = between(file.text.len(), file.text.len());
        Self::new(file, end, Problem::FunctionMissing { function: &head })
    }

    /// It was stopped while it ran.
    pub(super) fn of_running(file: SourceFile, function: &str, why: &EvalAltResult) -> Self {
        let mut inner = why;
        while let EvalAltResult::ErrorInFunctionCall(_, _, deeper, _) = inner {
            inner = deeper;
        }
        // Where a limit was reached the engine does not tell.
        let at = if inner.position().is_none() {
            head_of(&file.text, function)
        } else {
            span(&file.text, inner.position())
        };
        match inner {
            EvalAltResult::ErrorTooManyOperations(_) | EvalAltResult::ErrorTerminated(..) => {
                Self::new(file, at, Problem::ScriptEndless { function })
            }
            EvalAltResult::ErrorDataTooLarge(..) | EvalAltResult::ErrorTooManyVariables(_) => {
                Self::new(file, at, Problem::ScriptGrows { function })
            }
            EvalAltResult::ErrorStackOverflow(_) => {
                Self::new(file, at, Problem::ScriptTooDeep { function })
            }
            EvalAltResult::ErrorPropertyNotFound(name, _) => {
                Self::new(file, at, Problem::NothingCalledThat { name })
            }
            EvalAltResult::ErrorFunctionNotFound(signature, _) => {
                let (name, given) = signature.split_once(" (").unwrap_or((signature, ""));
                let given = given.trim_end_matches(')');
                if name.chars().all(|c| c.is_alphanumeric() || c == '_') {
                    unknown(file, at, name)
                } else {
                    let given = kinds(given);
                    Self::new(
                        file,
                        at,
                        Problem::ScriptStopped {
                            operator: Some(name),
                            given: Some(&given),
                            why: None,
                        },
                    )
                }
            }
            EvalAltResult::ErrorVariableNotFound(name, _) => unknown(file, at, name),
            EvalAltResult::ErrorRuntime(said, _) => {
                let why = said.to_string();
                Self::new(file, at, Problem::ScriptRefuses { said: &why })
            }
            EvalAltResult::ErrorParsing(why, _) => {
                let why = lower(&why.to_string());
                Self::new(file, at, Problem::ScriptUnreadable { why: &why })
            }
            other => {
                let said = other.to_string();
                // The place is shown apart.
                let why = said.split(" (line ").next().unwrap_or(&said);
                Self::new(
                    file,
                    at,
                    Problem::ScriptStopped {
                        operator: None,
                        given: None,
                        why: Some(&lower(why)),
                    },
                )
            }
        }
    }

    /// A function gave back something else than is wanted.
    pub(super) fn gave_back(file: &SourceFile, function: &str, found: &str, wanted: &str) -> Self {
        let at = head_of(&file.text, function);
        Self::new(
            file.clone(),
            at,
            Problem::WrongReturn {
                function,
                found: Some(found),
                wanted: Some(wanted),
                entry: None,
                known: None,
            },
        )
    }

    /// A function gave back an entry that means nothing.
    pub(super) fn unknown_entry(
        file: &SourceFile,
        function: &str,
        name: &str,
        known: &str,
    ) -> Self {
        let at = head_of(&file.text, function);
        Self::new(
            file.clone(),
            at,
            Problem::WrongReturn {
                function,
                found: None,
                wanted: None,
                entry: Some(name),
                known: Some(known),
            },
        )
    }
}

fn unknown(file: SourceFile, at: Span, name: &str) -> ScriptError {
    ScriptError::new(file, at, Problem::NotUsable { name })
}

/// "a number and a text", of the types of some values.
fn kinds(types: &str) -> String {
    let named: Vec<&str> = types.split(", ").map(kind).collect();
    tellmark_language::words::list(&named)
}

/// What a type is called.
pub(super) fn kind(name: &str) -> &str {
    match name {
        "i64" | "decimal" | "rust_decimal::decimal::Decimal" => "a number",
        "string" | "&str | ImmutableString | String" | "ImmutableString" => "a text",
        "array" => "a list",
        "map" => "a map",
        "bool" => "a yes or no",
        "()" => "nothing",
        other => other,
    }
}

/// With a small first letter, unless it is a name.
fn lower(said: &str) -> String {
    let mut signs = said.chars();
    match signs.next() {
        Some(first) => first.to_lowercase().chain(signs).collect(),
        None => String::new(),
    }
}

/// Where a function begins: "fn line".
fn head_of(text: &str, function: &str) -> Span {
    let head = format!("fn {function}");
    let start = text.find(&head).unwrap_or(0);
    let end = text.get(start..).map_or(start, |rest| {
        start + rest.find(')').map_or(head.len(), |close| close + 1)
    });
    between(start, end.min(text.len()))
}

/// The word that begins at a position.
fn span(text: &str, at: Position) -> Span {
    let Some(line) = at.line() else {
        return Span::default();
    };
    let start_of_line: usize = text
        .split_inclusive('\n')
        .take(line - 1)
        .map(str::len)
        .sum();
    let rest = text.get(start_of_line..).unwrap_or("");
    let column = at.position().unwrap_or(1).saturating_sub(1);
    let skip: usize = rest.chars().take(column).map(char::len_utf8).sum();
    let start = start_of_line + skip;
    let rest = text.get(start..).unwrap_or("");
    let is_name = |c: char| c.is_alphanumeric() || c == '_';
    let word: usize = rest
        .chars()
        .take_while(|&c| is_name(c))
        .map(char::len_utf8)
        .sum();
    let first = rest
        .chars()
        .next()
        .map_or(0, |c| if c == '\n' { 0 } else { c.len_utf8() });
    between(start, start + word.max(first))
}

fn between(start: usize, end: usize) -> Span {
    let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Span {
        file: FileId(0),
        start: number(start),
        end: number(end),
    }
}
