//! Claims about the states of one piece.

/// A condition over the states of a piece.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Claim {
    /// Always or never.
    Known(bool),
    /// A state (by number) holds, or does not.
    State(usize, bool),
    /// Every one of these.
    All(Vec<Claim>),
    /// At least so many of these.
    AtLeast(usize, Vec<Claim>),
    /// Not this.
    Not(Box<Claim>),
}

impl Claim {
    /// Whether it holds in a world.
    pub fn holds(&self, world: &impl Fn(usize) -> bool) -> bool {
        match self {
            Self::Known(value) => *value,
            Self::State(state, yes) => world(*state) == *yes,
            Self::All(parts) => parts.iter().all(|part| part.holds(world)),
            Self::AtLeast(n, parts) => parts.iter().filter(|part| part.holds(world)).count() >= *n,
            Self::Not(part) => !part.holds(world),
        }
    }

    /// Calls `each` with every state it mentions.
    pub fn states(&self, each: &mut impl FnMut(usize)) {
        match self {
            Self::Known(_) => {}
            Self::State(state, _) => each(*state),
            Self::All(parts) | Self::AtLeast(_, parts) => {
                for part in parts {
                    part.states(each);
                }
            }
            Self::Not(part) => part.states(each),
        }
    }

    /// The opposite.
    #[must_use]
    pub fn negated(self) -> Self {
        match self {
            Self::Known(value) => Self::Known(!value),
            Self::State(state, yes) => Self::State(state, !yes),
            Self::Not(inner) => *inner,
            other => Self::Not(Box::new(other)),
        }
    }

    /// Every one of these; what is known is worked out.
    #[must_use]
    pub fn all(parts: Vec<Self>) -> Self {
        if parts.contains(&Self::Known(false)) {
            return Self::Known(false);
        }
        let mut open = without_known(parts);
        match open.len() {
            0 => Self::Known(true),
            1 => open.remove(0),
            _ => Self::All(open),
        }
    }

    /// At least one of these; what is known is worked out.
    #[must_use]
    pub fn any(parts: Vec<Self>) -> Self {
        Self::at_least(1, parts)
    }

    /// At least so many of these; what is known is worked out.
    #[must_use]
    pub fn at_least(n: usize, parts: Vec<Self>) -> Self {
        let surely = parts.iter().filter(|&p| *p == Self::Known(true)).count();
        let mut open = without_known(parts);
        match (n.saturating_sub(surely), open.len()) {
            (0, _) => Self::Known(true),
            (n, there) if there < n => Self::Known(false),
            (1, 1) => open.remove(0),
            (n, _) => Self::AtLeast(n, open),
        }
    }
}

fn without_known(mut parts: Vec<Claim>) -> Vec<Claim> {
    parts.retain(|part| !matches!(part, Claim::Known(_)));
    parts
}

#[cfg(test)]
mod tests {
    use super::Claim;

    const YES: Claim = Claim::Known(true);
    const NO: Claim = Claim::Known(false);

    fn is(state: usize) -> Claim {
        Claim::State(state, true)
    }

    #[test]
    fn what_is_known_is_worked_out() {
        assert_eq!(Claim::all(vec![]), YES);
        assert_eq!(Claim::any(vec![]), NO);
        assert_eq!(Claim::at_least(0, vec![NO]), YES);
        assert_eq!(Claim::all(vec![YES, is(1)]), is(1));
        assert_eq!(Claim::all(vec![is(1), NO]), NO);
        assert_eq!(Claim::any(vec![NO, is(1)]), is(1));
        assert_eq!(Claim::at_least(2, vec![is(1), YES]), is(1));
        assert_eq!(Claim::at_least(3, vec![is(1), YES, NO]), NO);
        assert_eq!(is(1).negated().negated(), is(1));
    }

    #[test]
    fn working_out_changes_no_meaning() {
        let parts = [YES, NO, is(0), is(1).negated(), is(2)];
        for world in 0..8_usize {
            let holds = |state: usize| world >> state & 1 == 1;
            for n in 0..=parts.len() + 1 {
                let plain = Claim::AtLeast(n, parts.to_vec());
                let short = Claim::at_least(n, parts.to_vec());
                assert_eq!(plain.holds(&holds), short.holds(&holds), "{n} in {world}");
                assert_eq!(
                    plain.clone().negated().holds(&holds),
                    !plain.holds(&holds),
                    "{n} in {world}"
                );
            }
        }
    }
}
