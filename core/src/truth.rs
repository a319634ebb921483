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

#[cfg(test)]
mod tests {
    use super::Truth::{self, False, NotKnown, True};

    const ALL: [Truth; 3] = [False, NotKnown, True];

    #[test]
    fn what_is_not_known_stays_so_unless_the_other_side_decides() {
        assert_eq!(True.and(NotKnown), NotKnown);
        assert_eq!(False.and(NotKnown), False);
        assert_eq!(True.or(NotKnown), True);
        assert_eq!(False.or(NotKnown), NotKnown);
        assert_eq!(!NotKnown, NotKnown);
    }

    #[test]
    fn not_turns_and_into_or() {
        for a in ALL {
            for b in ALL {
                assert_eq!(!a.and(b), (!a).or(!b));
            }
            assert_eq!(a.is(true), a);
            assert_eq!(a.is(false), !a);
        }
    }
}
