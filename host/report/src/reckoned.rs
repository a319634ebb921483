//! Measures that were worked out from others by a sum of the handbook, with their source.

use super::matter::Matter;
use serde::Serialize;
use tellmark_sums::of_rules;

/// A measure that was worked out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Reckoned {
    /// "Shelf 1 is bowed 2.6 mm, give or take 0.2 mm".
    pub says: String,
    /// "the sag of a shelf".
    pub sum: String,
    /// "the span is 900 mm and the depth is 250 mm".
    pub from: String,
    /// Where formula and figures are from.
    pub sources: Vec<String>,
    /// What to mind before it is gone by.
    pub caution: String,
}

/// Those that are known, part by part.
pub(super) fn reckoned(matter: &Matter<'_>) -> Vec<Reckoned> {
    // A piece that can be set up for the rest of the page can be set up here.
    let all = matter.view.reckoned().unwrap_or_default();
    let of_rules = all.iter().map(|one| {
        let sum = of_rules::Reckoned {
            sum: one.sum,
            fed: &one.fed,
        };
        Reckoned {
            says: one.words(matter.model()),
            sum: one.sum.name().to_owned(),
            from: one.fed_words(),
            sources: sum.sources(),
            caution: sum.caution().to_owned(),
        }
    });
    of_rules.collect()
}
