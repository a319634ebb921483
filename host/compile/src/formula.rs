//! Conditions with the negations pushed down to what they are about.

/// A condition over literals of type `L`.
#[derive(Clone, Debug, PartialEq)]
pub enum Formula<L> {
    /// Always or never.
    Known(bool),
    /// One thing.
    Literal(L),
    /// Every one of these.
    All(Vec<Formula<L>>),
    /// At least one of these.
    Any(Vec<Formula<L>>),
}

/// Something that can be turned into its opposite.
pub trait Negate {
    /// The opposite.
    #[must_use]
    fn negated(self) -> Self;
}

impl<L: Negate> Negate for Formula<L> {
    fn negated(self) -> Self {
        let each = |parts: Vec<Self>| parts.into_iter().map(Negate::negated).collect();
        match self {
            Self::Known(value) => Self::Known(!value),
            Self::Literal(literal) => Self::Literal(literal.negated()),
            Self::All(parts) => Self::Any(each(parts)),
            Self::Any(parts) => Self::All(each(parts)),
        }
    }
}

impl<L: Clone + PartialEq> Formula<L> {
    /// All of these, simplified.
    #[must_use]
    pub fn all(parts: impl IntoIterator<Item = Self>) -> Self {
        let mut kept = Vec::new();
        for part in parts {
            match part {
                Self::Known(true) => {}
                Self::Known(false) => return Self::Known(false),
                Self::All(inner) => kept.extend(inner),
                other => kept.push(other),
            }
        }
        match (kept.pop(), kept.is_empty()) {
            (None, _) => Self::Known(true),
            (Some(only), true) => only,
            (Some(last), false) => {
                kept.push(last);
                Self::All(kept)
            }
        }
    }

    /// Any of these, simplified.
    #[must_use]
    pub fn any(parts: impl IntoIterator<Item = Self>) -> Self {
        let mut kept = Vec::new();
        for part in parts {
            match part {
                Self::Known(false) => {}
                Self::Known(true) => return Self::Known(true),
                Self::Any(inner) => kept.extend(inner),
                other => kept.push(other),
            }
        }
        match (kept.pop(), kept.is_empty()) {
            (None, _) => Self::Known(false),
            (Some(only), true) => only,
            (Some(last), false) => {
                kept.push(last);
                Self::Any(kept)
            }
        }
    }

    /// At least `n` of these, simplified: with the first, one fewer of the others will do.
    #[must_use]
    pub fn at_least(n: usize, parts: &[Self]) -> Self {
        match parts.split_first() {
            _ if n == 0 => Self::Known(true),
            Some((first, others)) if n <= parts.len() => {
                let with_it = Self::all([first.clone(), Self::at_least(n - 1, others)]);
                Self::any([with_it, Self::at_least(n, others)])
            }
            _ => Self::Known(false),
        }
    }

    /// Calls `each` with every literal.
    pub fn literals<'f>(&'f self, each: &mut impl FnMut(&'f L)) {
        match self {
            Self::Known(_) => {}
            Self::Literal(literal) => each(literal),
            Self::All(parts) | Self::Any(parts) => {
                for part in parts {
                    part.literals(each);
                }
            }
        }
    }

    /// Whether it holds, when `truth` says which literals do.
    pub fn holds(&self, truth: &impl Fn(&L) -> bool) -> bool {
        match self {
            Self::Known(value) => *value,
            Self::Literal(literal) => truth(literal),
            Self::All(parts) => parts.iter().all(|part| part.holds(truth)),
            Self::Any(parts) => parts.iter().any(|part| part.holds(truth)),
        }
    }
}
