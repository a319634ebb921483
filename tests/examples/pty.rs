//! A serial port for tests: prints the name of one end of a pseudo-terminal and
//! carries bytes between the other end and its own input and output.
//!
//! What an emulated bench unit says is written to its input; `tellmark unit` opens
//! the name as it would a real port.

#[cfg(unix)]
fn main() -> std::io::Result<()> {
    use std::io::{Read as _, Write as _};
    use std::os::fd::AsRawFd as _;
    use std::sync::Arc;
    use std::time::Duration;

    let (mut ours, theirs) = serial2::SerialPort::pair()?;
    ours.set_read_timeout(Duration::from_secs(3600))?;
    let name = std::fs::read_link(format!("/proc/self/fd/{}", theirs.as_raw_fd()))?;
    let mut out = std::io::stdout();
    writeln!(out, "{}", name.display())?;
    out.flush()?;

    let ours = Arc::new(ours);
    let from_host = Arc::clone(&ours);
    std::thread::spawn(move || {
        let mut bytes = [0; 1024];
        while let Ok(n) = from_host.read(&mut bytes) {
            let mut out = std::io::stdout();
            if out.write_all(&bytes[..n]).is_err() || out.flush().is_err() {
                break;
            }
        }
    });
    // `theirs` stays open, so that the port lives on when a host closes it.
    let mut bytes = [0; 1024];
    loop {
        match std::io::stdin().read(&mut bytes)? {
            0 => return Ok(()),
            n => ours.write_all(&bytes[..n])?,
        }
    }
}

#[cfg(not(unix))]
fn main() {
    eprintln!("Pseudo-terminals are for Unix only.");
}
