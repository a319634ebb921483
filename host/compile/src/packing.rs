//! From fitted figures to a pack: network, fragments, tables.

use crate::assemble;
use crate::fitted::Fitted;
use crate::fragment::Fragment;
use crate::network::{Network, Without};
use crate::problem::Problem;
use crate::room::PackBytes;
use crate::rules::Rules;
use tellmark_language::span::Span;

/// A pack, with the belief fragments in it, one for each place.
#[derive(Clone, Debug)]
pub struct Packed {
    /// One for each place.
    pub fragments: Vec<Fragment>,
    /// The pack.
    pub bytes: PackBytes,
}

impl Packed {
    /// Makes it. `words_of` gives the words of an entry on one line.
    ///
    /// # Errors
    /// See [`Problem`].
    pub fn of(
        rules: Rules<'_>,
        fitted: &Fitted,
        words_of: &dyn Fn(Span) -> String,
    ) -> Result<Self, Problem> {
        let network = Network::of(rules, fitted, Without::Nothing, 0..rules.places.len());
        let fragments = (0..rules.places.len())
            .map(|place| Fragment::of(&network, rules.places, place))
            .collect::<Result<Vec<_>, _>>()?;
        let bytes = assemble::pack(&assemble::Parts {
            rules,
            fragments: &fragments,
            words_of,
        })?;
        Ok(Self { fragments, bytes })
    }
}
