//! Running what a house wrote in a process that the operating system keeps within bounds.
//!
//! A house's scripts and page templates come from anybody. The engines that run them have
//! limits of their own, but not on everything: a chain of closures or of nested values can
//! take all memory, and deep nesting all of the stack. So a front end hands each of them,
//! as a request of plain data, to a process of its own ([`Bounds`]), and whatever becomes
//! of that process is a sentence here.

use std::fmt;

/// Runs requests in processes that the operating system keeps within bounds.
pub trait Bounds {
    /// Runs one request in a process of its own, and gives back its answer.
    ///
    /// `task` names the function that makes the answer there: [`crate::scripts::TASK`] for
    /// [`crate::scripts::answer`].
    ///
    /// # Errors
    /// If there is no answer. What cannot be kept within bounds is not run.
    fn run(&self, task: &str, request: &[u8]) -> Result<Vec<u8>, Stopped>;
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stopped {
    /// It took too long.
    TooLong,
    /// It took more memory than it may, or went too deep into itself.
    TooMuch,
    /// The engine that runs it broke off.
    Broke,
    /// It was not run at all, for this reason: "it is not there".
    NotRun(String),
}

impl fmt::Display for Stopped {
    /// What follows "the script" or "the template": "took too long, and was stopped".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Stopped::TooLong => f.write_str("took too long, and was stopped"),
            Stopped::TooMuch => f.write_str(
                "took more memory than it may have, or went too deep into itself, and was stopped",
            ),
            Stopped::Broke => f.write_str("made the program that runs it break off"),
            Stopped::NotRun(why) => write!(
                f,
                "was not run, because the process that keeps it within bounds could not be \
                 started: {why}"
            ),
        }
    }
}

impl std::error::Error for Stopped {}
