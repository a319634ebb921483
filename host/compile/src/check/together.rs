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
        if said.contains(&one.together) {
            continue;
        }
        if (one.reached - wanted).abs() <= TOLERANCE {
            if one.just < one.before && !say.is_standard(together.at) {
                said.insert(one.together);
                say.at(
                    together.at,
                    Problem::JustSoManyTellAgainst {
                        enough: together.enough.into(),
                        all: one.signs,
                        just: &words::figure(one.just),
                        before: &words::figure(one.before),
                    },
                );
            }
            continue;
        }
        said.insert(one.together);
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
