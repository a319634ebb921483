//! "Drawer 1 is sound", "the rest of it is fine": a part that is as it should be, with
//! nothing said of any one thing.

use crate::clause::{Clause, Manner};
use crate::english::{Small, is_well};
use crate::line::Word;
use crate::mention::SOME;

/// How a part is said to be as it should be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Sound {
    /// With all that is built into it: "the whole drawer is sound".
    pub(crate) is_whole: bool,
}

/// Words that may stand beside the praise and the part, and say no finding.
const BESIDE: [&str; 14] = [
    "rest",
    "else",
    "otherwise",
    "remainder",
    "everything",
    "order",
    "as",
    "should",
    "whole",
    "entire",
    "throughout",
    "all",
    "generally",
    "still",
];
/// What there can be none of.
const FAULTS: [&str; 14] = [
    "wrong",
    "amiss",
    "fault",
    "faults",
    "problem",
    "problems",
    "issue",
    "issues",
    "defect",
    "defects",
    "damage",
    "trouble",
    "complaints",
    "complaint",
];
/// What others say of it, and what was so once, is no looking.
const HEARSAY: [&str; 18] = [
    "owner",
    "customer",
    "client",
    "says",
    "say",
    "said",
    "thinks",
    "reckons",
    "claims",
    "told",
    "believes",
    "according",
    "was",
    "were",
    "had",
    "been",
    "looked",
    "seemed",
];
/// What a clause says, if that is all it says; `named` are the words that name parts.
pub(crate) fn sound(
    words: &[Word],
    clause: &Clause,
    manner: &Manner,
    named: &dyn Fn(usize) -> bool,
) -> Option<Sound> {
    let rest: Vec<usize> = clause
        .words
        .iter()
        .copied()
        .filter(|&at| !named(at))
        .collect();
    let text = |at: usize| words[at].token.text.as_str();
    let has = |list: &[&str]| rest.iter().any(|&at| list.contains(&text(at)));
    let follows = |first: &str, second: &str| {
        let mut pairs = rest.windows(2);
        pairs.any(|pair| text(pair[0]) == first && text(pair[1]) == second)
    };
    let denied = has(&FAULTS) && (has(&["nothing"]) || !manner.nots.is_empty());
    let all_right = follows("all", "right");
    // "Most of it", "two drawers", "the other drawers": not which.
    let is_some = clause.words.iter().any(|&at| SOME.contains(&text(at)))
        || rest.iter().any(|&at| words[at].whole().is_some())
        || has(&["other", "others", "remaining"]);
    // "It should be sound" is a hope; "nothing badly wrong" is not nothing.
    let is_hoped = has(&["should"]) && !has(&["as"]);
    let is_partly = denied
        && rest.iter().any(|&at| {
            matches!(
                words[at].small,
                Some(Small::Degree | Small::Certain | Small::Doubt)
            )
        });
    let nots = clause
        .words
        .iter()
        .filter(|&&at| words[at].small == Some(Small::Not));
    let is_vague = is_some || is_hoped || is_partly || nots.count() > 1;
    let is_hearsay = has(&HEARSAY);
    let praised = rest.iter().any(|&at| is_well(text(at)))
        || all_right
        || follows("in", "order")
        || (has(&["as"]) && follows("should", "be"));
    let is_denial = |at: usize| denied && (FAULTS.contains(&text(at)) || text(at) == "nothing");
    let is_harmless = |at: usize| {
        let small = words[at].small;
        let is_not = matches!(small, Some(Small::Not));
        is_well(text(at))
            || (all_right && text(at) == "right")
            || is_denial(at)
            || BESIDE.contains(&text(at))
            || (is_not && denied)
            || matches!(
                small,
                Some(Small::Empty | Small::Doubt | Small::Certain | Small::All | Small::Degree)
            )
            || !words[at].is_word()
    };
    let said = (praised && manner.nots.is_empty()) || (denied && !praised);
    (said && !is_hearsay && !is_vague && rest.iter().all(|&at| is_harmless(at))).then(|| Sound {
        is_whole: clause
            .words
            .iter()
            .any(|&at| ["whole", "entire", "throughout", "everything"].contains(&text(at))),
    })
}
