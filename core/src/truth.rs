//! The three values.

/// True, false or not known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Truth {
    /// It is not so.
    False,
    /// Nobody has looked, or it cannot be told.
    #[default]
    NotKnown,
    /// It is so.
    True,
}

impl Truth {
    /// Both: as weak as the weaker.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        self.min(other)
    }

    /// Either: as strong as the stronger.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        self.max(other)
    }

    /// True if and only if `yes`, where it is known at all.
    #[must_use]
    pub fn is(self, yes: bool) -> Self {
        if yes { self } else { !self }
    }
}

impl core::ops::Not for Truth {
    type Output = Self;

    fn not(self) -> Self {
        match self {
            Self::False => Self::True,
            Self::NotKnown => Self::NotKnown,
            Self::True => Self::False,
        }
    }
}

impl From<bool> for Truth {
    fn from(value: bool) -> Self {
        if value { Self::True } else { Self::False }
    }
}
