//! Bytes to and from a serial port.

use std::io;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Bits a second. Over USB the figure does not matter.
const BAUD: u32 = 115_200;

/// Something that carries bytes to a unit and back, and a clock.
pub trait Wire {
    /// Sends all of these.
    fn send(&mut self, bytes: &[u8]) -> io::Result<()>;

    /// Waits for bytes, at most until this millisecond, and says how many came.
    fn receive(&mut self, into: &mut [u8], until: u64) -> io::Result<usize>;

    /// Milliseconds since some time or other.
    fn now(&self) -> u64;
}

impl<W: Wire + ?Sized> Wire for &mut W {
    fn send(&mut self, bytes: &[u8]) -> io::Result<()> {
        (**self).send(bytes)
    }

    fn receive(&mut self, into: &mut [u8], until: u64) -> io::Result<usize> {
        (**self).receive(into, until)
    }

    fn now(&self) -> u64 {
        (**self).now()
    }
}

/// A serial port.
#[derive(Debug)]
pub struct Port {
    port: serial2::SerialPort,
    opened: Instant,
}

impl Port {
    /// Opens a port by its name in the file system.
    pub fn open(path: &Path) -> io::Result<Port> {
        let port = Port::over(serial2::SerialPort::open(path, BAUD)?);
        // Some boards send nothing until they are told that somebody listens;
        // some lines, such as a terminal's, have no such signal.
        let _ = port.port.set_dtr(true);
        // What an earlier program left unread is none of our answers.
        port.port.discard_input_buffer()?;
        Ok(port)
    }

    /// A port that is open already.
    #[must_use]
    pub fn over(port: serial2::SerialPort) -> Port {
        Port {
            port,
            opened: Instant::now(),
        }
    }
}

impl Wire for Port {
    fn send(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.port.write_all(bytes)
    }

    fn receive(&mut self, into: &mut [u8], until: u64) -> io::Result<usize> {
        let left = until.saturating_sub(self.now()).max(1);
        self.port.set_read_timeout(Duration::from_millis(left))?;
        match self.port.read(into) {
            Ok(0) => Err(io::ErrorKind::UnexpectedEof.into()),
            Err(why) if why.kind() == io::ErrorKind::TimedOut => Ok(0),
            Err(why) if why.kind() == io::ErrorKind::Interrupted => Ok(0),
            other => other,
        }
    }

    fn now(&self) -> u64 {
        u64::try_from(self.opened.elapsed().as_millis()).unwrap_or(u64::MAX)
    }
}

/// A place where a unit may be plugged in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// What to open.
    pub path: PathBuf,
    /// What the system calls the thing that is plugged in, if it says.
    pub name: Option<String>,
}

/// Where a unit may be plugged in: what the system says is plugged in by USB. Other ports are
/// left alone, since opening one may hang, or disturb what is connected there.
#[cfg(any(windows, target_os = "macos"))]
#[must_use]
pub fn ports() -> Vec<Place> {
    use serialport::SerialPortType::UsbPort;
    let found = serialport::available_ports().unwrap_or_default();
    let found = found.into_iter().filter_map(|port| match port.port_type {
        UsbPort(what) if !port.port_name.starts_with("/dev/tty.") => Some(Place {
            path: port.port_name.into(),
            name: what.product,
        }),
        _ => None,
    });
    found.collect()
}

/// Where a unit may be plugged in, going by the names in `/dev`.
#[cfg(not(any(windows, target_os = "macos")))]
#[must_use]
pub fn ports() -> Vec<Place> {
    ports_in(Path::new("/dev"))
}

#[cfg(not(any(windows, target_os = "macos")))]
fn ports_in(devices: &Path) -> Vec<Place> {
    let mut places: Vec<Place> = Vec::new();
    for named in names(&devices.join("serial/by-id")) {
        if let Ok(path) = named.canonicalize() {
            let name = named.file_name().map(|n| n.to_string_lossy().into_owned());
            places.push(Place { path, name });
        }
    }
    for path in names(devices) {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let is_serial = name.starts_with("ttyACM") || name.starts_with("ttyUSB");
        if is_serial && !places.iter().any(|place| place.path == path) {
            places.push(Place { path, name: None });
        }
    }
    places
}

/// What is in a folder, by name; nothing if there is no such folder.
#[cfg(not(any(windows, target_os = "macos")))]
fn names(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return Vec::new();
    };
    let mut names: Vec<PathBuf> = entries.flatten().map(|entry| entry.path()).collect();
    names.sort();
    names
}
