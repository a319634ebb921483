//! Where a figure comes from, and how sure it is.

use core::fmt;

/// How sure a figure is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sureness {
    /// From memory and doubtful; shown as a range or as "likely", and never alone.
    Doubtful,
    /// From memory, and in keeping with other figures.
    Remembered,
    /// Read in its source, or remembered and confirmed by working it out independently.
    Confirmed,
}

impl fmt::Display for Sureness {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Sureness::Doubtful => "from memory, doubtful",
            Sureness::Remembered => "from memory",
            Sureness::Confirmed => "confirmed",
        })
    }
}

/// A published source, and how sure the figures taken from it are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// Author, title, chapter or table.
    pub text: &'static str,
    /// How sure the figures are.
    pub sureness: Sureness,
}

impl Source {
    /// A source whose figures were read or confirmed.
    #[must_use]
    pub const fn confirmed(text: &'static str) -> Self {
        let sureness = Sureness::Confirmed;
        Self { text, sureness }
    }

    /// A source whose figures are from memory.
    #[must_use]
    pub const fn remembered(text: &'static str) -> Self {
        let sureness = Sureness::Remembered;
        Self { text, sureness }
    }

    /// A source whose figures are from memory and doubtful.
    #[must_use]
    pub const fn doubtful(text: &'static str) -> Self {
        let sureness = Sureness::Doubtful;
        Self { text, sureness }
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.text, self.sureness)
    }
}
