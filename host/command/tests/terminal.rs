//! The bench screen in a terminal: it gives the terminal back when the system ends
//! it.
#![cfg(unix)]

use std::fs::{File, OpenOptions, read_link};
use std::os::fd::AsRawFd as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

/// A pseudo-terminal: our end, the other one, and its name.
fn terminal() -> (serial2::SerialPort, serial2::SerialPort, PathBuf) {
    let (mut ours, theirs) = serial2::SerialPort::pair().unwrap();
    ours.set_read_timeout(Duration::from_secs(60)).unwrap();
    let name = read_link(format!("/proc/self/fd/{}", theirs.as_raw_fd())).unwrap();
    (ours, theirs, name)
}

/// Asks `stty` about the terminal.
fn stty(name: &Path, arguments: &[&str]) -> String {
    let mut command = Command::new("stty");
    let said = command.args(arguments).stdin(File::open(name).unwrap());
    let said = said.output().unwrap();
    assert!(said.status.success(), "stty {arguments:?}");
    String::from_utf8(said.stdout).unwrap()
}

/// How the terminal treats what is typed and shown, as text.
fn settings(name: &Path) -> String {
    stty(name, &["-g"])
}

/// Reads until this has been shown; gives back everything shown.
fn shown_until(ours: &serial2::SerialPort, wanted: &str) -> String {
    let (mut seen, mut bytes) = (Vec::new(), [0; 1024]);
    loop {
        let n = ours.read(&mut bytes).expect("it is shown within a minute");
        seen.extend_from_slice(&bytes[..n]);
        let text = String::from_utf8_lossy(&seen);
        if text.contains(wanted) {
            return text.into_owned();
        }
    }
}

#[test]
fn told_to_end_it_gives_the_terminal_back() {
    const OTHER_SCREEN: &str = "\x1b[?1049h";
    const OWN_SCREEN: &str = "\x1b[?1049l";
    const CURSOR: &str = "\x1b[?25h";

    let folder = tempfile::tempdir().unwrap();
    std::fs::create_dir(folder.path().join("rules")).unwrap();
    let rules = include_str!("house/stand.rules.txt");
    std::fs::write(folder.path().join("rules/stand.rules.txt"), rules).unwrap();
    let tellmark = |arguments: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_tellmark"));
        command
            .args(["--rules", "rules"])
            .args(arguments)
            .current_dir(folder.path())
            .env(
                "XDG_CACHE_HOME",
                Path::new(env!("CARGO_TARGET_TMPDIR")).join("cache"),
            )
            .env("XDG_CONFIG_HOME", folder.path().join("config"))
            .env_remove("TELLMARK_RULES")
            .env("TERM", "xterm");
        command
    };
    let opened = tellmark(&["open", "music stand with 2 swivels", "--name", "job"]).output();
    assert!(opened.unwrap().status.success());

    for signal in ["TERM", "HUP"] {
        let (ours, theirs, name) = terminal();
        stty(&name, &["cols", "100", "rows", "40"]);
        let before = settings(&name);
        let end = || {
            OpenOptions::new()
                .read(true)
                .write(true)
                .open(&name)
                .unwrap()
        };
        let mut bench = tellmark(&["bench", "job"])
            .stdin(end())
            .stdout(end())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        shown_until(&ours, OTHER_SCREEN);
        shown_until(&ours, "q ends");
        assert_ne!(settings(&name), before, "keys come one by one");

        let id = bench.id().to_string();
        let sent = Command::new("kill")
            .args(["-s", signal, &id])
            .status()
            .unwrap();
        assert!(sent.success());
        let last = shown_until(&ours, CURSOR);
        assert!(last.contains(OWN_SCREEN), "{last:?}");
        let ended = bench.wait().unwrap();
        assert_eq!(ended.code(), Some(0), "{signal}");
        assert_eq!(settings(&name), before, "{signal}");
        drop(theirs);
    }
}
