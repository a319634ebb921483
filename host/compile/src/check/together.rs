//! `that … means` sentences about several signs that do not come true.

use std::collections::HashSet;

use super::Say;
use crate::built::Built;
use crate::fit::TOLERANCE;
use tellmark_language::{Problem, words};

/// Says it of every such sentence, once.
pub(super) fn say(say: &mut Say<'_>, built: &Built) {
    let model = &say.reading.model;
    let mut said = HashSet::new();
    for one in built.reached_together(model) {
        let together = &model.togethers[one.together];
        let wanted = f64::from(together.strength.chance.0) / 1000.0;
        if (one.reached - wanted).abs() <= TOLERANCE || !said.insert(one.together) {
            continue;
        }
        say.at(
            together.at,
            Problem::TogetherMissed {
                reached: &words::figure(one.reached),
                wanted: &words::how_often(&together.strength),
                less: (one.reached < wanted).then_some(""),
            },
        );
    }
}
