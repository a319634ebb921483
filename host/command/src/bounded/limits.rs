//! The limits that a process sets itself before it looks at what a house wrote.
//!
//! | system | memory | processor time | files |
//! | --- | --- | --- | --- |
//! | Linux | address space | yes | none opened, none written, no core dump |
//! | other Unix | the engines' own limits | yes | the same |
//! | others | the engines' own limits | time on the wall | the engines open none |
//!
//! On macOS a limit on address space is not kept, since the system maps far more than any
//! program uses. On Windows a job object can bound both, and would be set in this file.

pub(super) use system::{is_out_of_time, set, spent};

#[cfg(unix)]
mod system {
    use rustix::io::Result;
    use rustix::process::{Resource, Rlimit, getrlimit, setrlimit};
    use rustix::time::{ClockId, clock_gettime};
    use std::os::unix::process::ExitStatusExt as _;
    use std::process::ExitStatus;
    use std::time::Duration;

    /// Bytes of address space, all told: the program, its stacks and its heap.
    #[cfg(target_os = "linux")]
    const MEMORY: u64 = 96 * 1024 * 1024;
    /// Seconds of processor time until the system ends the process.
    const SECONDS: u64 = 1;
    /// Files that may be open: standard input, output and error.
    const FILES: u64 = 3;

    /// Sets all limits.
    ///
    /// # Errors
    /// If the system does not take one of them.
    pub(in super::super) fn set() -> Result<()> {
        #[cfg(target_os = "linux")]
        at_most(Resource::As, MEMORY)?;
        at_most(Resource::Cpu, SECONDS)?;
        at_most(Resource::Nofile, FILES)?;
        at_most(Resource::Fsize, 0)?;
        at_most(Resource::Core, 0)
    }

    fn at_most(what: Resource, most: u64) -> Result<()> {
        // A limit can be set lower than it is, never higher.
        let known = getrlimit(what).maximum;
        let most = Some(known.map_or(most, |known| known.min(most)));
        let limit = Rlimit {
            current: most,
            maximum: most,
        };
        setrlimit(what, limit)
    }

    /// Processor time that this process has spent.
    pub(in super::super) fn spent() -> Duration {
        let spent = clock_gettime(ClockId::ProcessCPUTime);
        Duration::try_from(spent).unwrap_or(Duration::MAX)
    }

    /// Whether the system ended a process for the processor time that it spent.
    pub(in super::super) fn is_out_of_time(status: ExitStatus) -> bool {
        let signals = [rustix::process::Signal::XCPU, rustix::process::Signal::KILL];
        let signal = status.signal();
        signals.iter().any(|s| signal == Some(s.as_raw()))
    }
}

#[cfg(not(unix))]
mod system {
    use std::io::Result;
    use std::process::ExitStatus;
    use std::sync::OnceLock;
    use std::time::{Duration, Instant};

    static STARTED: OnceLock<Instant> = OnceLock::new();

    /// Nothing to set: time on the wall is looked at, and the engines have limits.
    #[allow(clippy::unnecessary_wraps)]
    pub(in super::super) fn set() -> Result<()> {
        STARTED.get_or_init(Instant::now);
        Ok(())
    }

    /// Time since the limits were set.
    pub(in super::super) fn spent() -> Duration {
        STARTED.get().map_or(Duration::ZERO, Instant::elapsed)
    }

    /// The system ends no process here.
    pub(in super::super) fn is_out_of_time(_: ExitStatus) -> bool {
        false
    }
}
