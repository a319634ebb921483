//! A request to run a script, and its answer: plain data, so that the script can run in
//! another process.

use serde::{Deserialize, Serialize};
use tellmark_language::SourceFile;

use super::checks::check;
use super::error::{Said, ScriptError};
use super::invoice::{self, InvoiceTerms};
use super::prices::{Priced, price};
use super::sandbox::Script;
use super::value::Value;
use crate::bounds::{Bounds, Stopped};

/// By this name a process is asked for [`answer`].
pub const TASK: &str = "scripts";

/// What came of a script.
#[derive(Clone, Debug)]
pub struct Ran<T> {
    /// What it printed, also when something is wrong with it.
    pub printed: Vec<String>,
    /// What it gave back, or what is wrong with it.
    pub result: Result<T, ScriptError>,
}

/// What a script is asked.
#[derive(Serialize, Deserialize)]
pub(super) enum Asked {
    /// What each job costs, and then the whole.
    Prices {
        /// What the script is told of each job, and whether the owner decides before it.
        jobs: Vec<(Value, bool)>,
        /// What it is told of the whole.
        work: Vec<(String, Value)>,
    },
    /// How its invoices are made, and what it is told.
    Invoice(Vec<(String, Value)>),
    /// What the house has to say to each entry of the rules.
    Checks(Vec<Value>),
}

/// What a script told.
#[derive(Serialize, Deserialize)]
pub(super) enum Told {
    /// What it all costs.
    Prices(Priced),
    /// How its invoices are made.
    Invoice(InvoiceTerms),
    /// What is to be said, each with the number of the entry it is about.
    Checks(Vec<(usize, String)>),
}

#[derive(Serialize, Deserialize)]
struct Request {
    name: String,
    text: String,
    asked: Asked,
}

#[derive(Serialize, Deserialize)]
struct Answer {
    printed: Vec<String>,
    told: Result<Told, Said>,
}

/// Asks a script: the standard one here, since we wrote it, any other in a process that is
/// kept within bounds.
pub(super) fn ask(file: SourceFile, asked: Asked, bounds: &dyn Bounds) -> Ran<Told> {
    if file.standard {
        let (printed, result) = run(&file, asked);
        return Ran { printed, result };
    }
    let request = Request {
        name: file.name.clone(),
        text: file.text.clone(),
        asked,
    };
    let bytes = postcard::to_stdvec(&request).map_err(|_| Stopped::Broke);
    let answer = bytes
        .and_then(|request| bounds.run(TASK, &request))
        .and_then(|bytes| postcard::from_bytes::<Answer>(&bytes).map_err(|_| Stopped::Broke));
    match answer {
        Ok(answer) => Ran {
            printed: answer.printed,
            result: answer.told.map_err(|said| ScriptError::of_said(file, said)),
        },
        Err(why) => Ran {
            printed: Vec::new(),
            result: Err(ScriptError::stopped(&file, &why)),
        },
    }
}

/// Answers a request for [`TASK`]. This is what the process does that is kept within
/// bounds; what is no request has no answer.
#[must_use]
pub fn answer(request: &[u8]) -> Vec<u8> {
    let Ok(request) = postcard::from_bytes::<Request>(request) else {
        return Vec::new();
    };
    let file = SourceFile {
        name: request.name,
        text: request.text,
        standard: false,
    };
    let (printed, told) = run(&file, request.asked);
    let told = told.map_err(Said::from);
    postcard::to_stdvec(&Answer { printed, told }).unwrap_or_default()
}

fn run(file: &SourceFile, asked: Asked) -> (Vec<String>, Result<Told, ScriptError>) {
    let script = match Script::read(file.clone()) {
        Ok(script) => script,
        Err(trouble) => return (Vec::new(), Err(trouble)),
    };
    let told = match asked {
        Asked::Prices { jobs, work } => price(&script, jobs, work).map(Told::Prices),
        Asked::Invoice(work) => invoice::terms(&script, work).map(Told::Invoice),
        Asked::Checks(entries) => check(&script, entries).map(Told::Checks),
    };
    (script.printed(), told)
}

impl Ran<Told> {
    /// With what was asked for taken out of what was told.
    pub(super) fn map<T>(self, file: &SourceFile, take: impl FnOnce(Told) -> Option<T>) -> Ran<T> {
        let other = || ScriptError::stopped(file, &Stopped::Broke);
        Ran {
            printed: self.printed,
            result: self.result.and_then(|told| take(told).ok_or_else(other)),
        }
    }
}
