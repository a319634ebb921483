//! Work for a house's scripts and templates, in a process of this same program that the
//! operating system keeps within bounds.
//!
//! The program starts itself with [`ENTRY`] and the name of a task. The new process first
//! sets its own limits ([`limits`]), reads a request from its standard input, and writes
//! the answer to its standard output. It needs nothing else, so it may open no file. It
//! works in a thread with a stack of its own, whose end is the end of the process. A watch
//! on the processor time it spends ends it sooner than the system would, and a watch here
//! on the clock ends it should it wait for ever.

mod limits;

use std::ffi::OsString;
use std::io::{self, Read as _, Write as _};
use std::path::PathBuf;
use std::process::{Child, Command, ExitCode, ExitStatus, Stdio};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::Duration;
use tellmark_job::bounds::{Bounds, Stopped};
use tellmark_job::plain::io_reason;
use tellmark_job::scripts;

/// With this as its first argument the program works off one request.
const ENTRY: &str = "--bounded-work";
/// Processor time after which the work is stopped: a hundred times what a large price
/// list takes.
const PATIENCE: Duration = Duration::from_millis(700);
/// How often that is looked at.
const LOOK: Duration = Duration::from_millis(10);
/// Time on the wall after which the process is ended, however little it did: it may have
/// to share a slow machine.
const WAIT: Duration = Duration::from_secs(20);
/// Bytes of stack for the work.
const STACK: usize = 4 * 1024 * 1024;
/// The longest answer that is taken, in bytes.
const LONGEST_ANSWER: u64 = 16 * 1024 * 1024;

/// How the process says that it took too long.
const TOO_LONG: u8 = 71;
/// How it says that its limits could not be set, so that it did nothing.
const WITHOUT_LIMITS: u8 = 72;
/// How it says that the engine broke off.
const BROKE: u8 = 73;

/// Runs requests in processes of this program ([`tellmark_job::bounds`]).
#[derive(Debug)]
pub struct Bounded {
    program: io::Result<PathBuf>,
}

impl Bounded {
    /// By this same program.
    #[must_use]
    pub fn here() -> Bounded {
        Bounded {
            program: std::env::current_exe(),
        }
    }

    /// By this program.
    #[must_use]
    pub fn by(program: PathBuf) -> Bounded {
        Bounded {
            program: Ok(program),
        }
    }

    fn start(&self, task: &str) -> Result<Child, Stopped> {
        let not_run = |why: &io::Error| Stopped::NotRun(io_reason(why));
        let program = self.program.as_ref().map_err(not_run)?;
        let mut command = Command::new(program);
        command
            .arg(ENTRY)
            .arg(task)
            // One heap for all threads: each further one would reserve address space.
            .env("MALLOC_ARENA_MAX", "1")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null());
        command.spawn().map_err(|why| not_run(&why))
    }
}

impl Bounds for Bounded {
    fn run(&self, task: &str, request: &[u8]) -> Result<Vec<u8>, Stopped> {
        let mut child = self.start(task)?;
        let (to, from) = (child.stdin.take(), child.stdout.take());
        let (send, receive) = mpsc::channel();
        let answer = thread::scope(|scope| {
            scope.spawn(move || {
                // A process that ends before it has read everything says why by itself.
                to.map(|mut to| to.write_all(request))
            });
            scope.spawn(move || {
                let mut answer = Vec::new();
                let read = from.map(|from| from.take(LONGEST_ANSWER + 1).read_to_end(&mut answer));
                let whole = matches!(read, Some(Ok(length)) if length as u64 <= LONGEST_ANSWER);
                send.send(whole.then_some(answer))
            });
            let answer = receive.recv_timeout(WAIT);
            if !matches!(answer, Ok(Some(_))) {
                // It is ending already, or must be ended; both threads then come to an end.
                let _ = child.kill();
            }
            answer
        });
        let status = child.wait().map_err(|_| Stopped::Broke)?;
        match answer {
            Ok(Some(answer)) if status.success() => Ok(answer),
            Ok(Some(_)) => Err(why_it_ended(status)),
            Ok(None) => Err(Stopped::TooMuch),
            Err(_) => Err(Stopped::TooLong),
        }
    }
}

fn why_it_ended(status: ExitStatus) -> Stopped {
    let code = status.code().and_then(|code| u8::try_from(code).ok());
    match code {
        Some(TOO_LONG) => Stopped::TooLong,
        Some(WITHOUT_LIMITS) => Stopped::NotRun("its limits could not be set".to_owned()),
        Some(_) => Stopped::Broke,
        None if limits::is_out_of_time(status) => Stopped::TooLong,
        // No memory, or no stack: the process ended itself.
        None => Stopped::TooMuch,
    }
}

/// If the program was started to work off a request, does that.
pub(super) fn serve(arguments: &[OsString]) -> Option<ExitCode> {
    let [_, entry, task] = arguments else {
        return None;
    };
    (entry == ENTRY).then(|| match task.to_str() {
        Some(scripts::TASK) => work(scripts::answer),
        Some(tellmark_report::TASK) => work(tellmark_report::answer),
        _ => BROKE.into(),
    })
}

fn work(answer: fn(&[u8]) -> Vec<u8>) -> ExitCode {
    if limits::set().is_err() {
        return WITHOUT_LIMITS.into();
    }
    let mut request = Vec::new();
    if io::stdin().lock().read_to_end(&mut request).is_err() {
        return BROKE.into();
    }
    let (send, receive) = mpsc::channel();
    let worker = thread::Builder::new().stack_size(STACK);
    let started = worker.spawn(move || send.send(answer(&request)));
    if started.is_err() {
        return WITHOUT_LIMITS.into();
    }
    loop {
        match receive.recv_timeout(LOOK) {
            Ok(answer) => {
                let mut out = io::stdout().lock();
                let written = out.write_all(&answer).and_then(|()| out.flush());
                return written.map_or(BROKE.into(), |()| ExitCode::SUCCESS);
            }
            Err(RecvTimeoutError::Timeout) if limits::spent() > PATIENCE => {
                return TOO_LONG.into();
            }
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => return BROKE.into(),
        }
    }
}
