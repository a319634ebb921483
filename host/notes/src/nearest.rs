//! What can be said of a part, the nearest to some words first.

use crate::english::small;
use crate::lexicon::{Lexicon, Saying, split};
use crate::stem::stem;
use std::collections::BTreeMap;
use tellmark_language::model::{Asks, KindId, Model, Nature, PIECE, Sense, SignId};
use tellmark_language::words::{how_words, state_words};

/// Something that can be said of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Sayable {
    /// How it is said: "is stiff", "how much it is worn", "which finish it has".
    pub words: String,
    /// How it is found out; `None` for a fault that a piece must be taken apart to see.
    pub sense: Option<Sense>,
    /// How near it is to the words, up to 1.
    pub near: f64,
}

/// Everything that can be said of a kind of part, the nearest to the words first.
pub(crate) fn sayables(
    model: &Model,
    lexicon: &Lexicon,
    kind: KindId,
    words: &str,
) -> Vec<Sayable> {
    let is_piece = model
        .kinds
        .get(kind.index())
        .is_some_and(|kind| kind.is_piece);
    let typed: Vec<String> = split(words)
        .into_iter()
        .filter(|word| small(word).is_none())
        .collect();
    let mut best: BTreeMap<String, (Option<Sense>, f64)> = BTreeMap::new();
    for saying in &lexicon.sayings {
        if saying.kind != kind && !(is_piece && saying.kind == PIECE) {
            continue;
        }
        let Some((words, sense)) = said(model, saying) else {
            continue;
        };
        let near = nearness(saying, &typed);
        let entry = best.entry(words).or_insert((sense, near));
        entry.1 = entry.1.max(near);
    }
    let mut all: Vec<Sayable> = best
        .into_iter()
        .map(|(words, (sense, near))| Sayable { words, sense, near })
        .collect();
    all.sort_by(|one, other| other.near.total_cmp(&one.near));
    all
}

/// How a saying is put, in the house's own words, and how it is found out.
fn said(model: &Model, saying: &Saying) -> Option<(String, Option<Sense>)> {
    use crate::lexicon::Meaning;
    let sense = |sign: SignId| model.signs.get(sign.index()).map(|sign| sign.sense);
    Some(match saying.meaning {
        Meaning::State(state) => {
            let sign = match model.states.get(state.index())?.nature {
                Nature::Seen(sign) | Nature::CountsAs { sign, .. } => Some(sign),
                Nature::Hidden { .. } => None,
            };
            (state_words(model, state, true, false), sign.and_then(sense))
        }
        Meaning::Measure(sign) | Meaning::Degree(sign, _) => {
            let asks = &model.signs.get(sign.index())?.asks;
            (how_words(asks, "it"), sense(sign))
        }
        Meaning::Value(sign, _) => match &model.signs.get(sign.index())?.asks {
            Asks::Which { attribute, values } => {
                let values = tellmark_language::words::list_or(values);
                (format!("which {attribute} it has: {values}"), sense(sign))
            }
            _ => return None,
        },
    })
}

/// How near some words are to a saying: the share of its words that were typed, or begin
/// alike.
fn nearness(saying: &Saying, typed: &[String]) -> f64 {
    if typed.is_empty() {
        return 0.0;
    }
    let all: f64 = saying.words.iter().map(|word| word.weight).sum();
    let said: f64 = saying
        .words
        .iter()
        .map(|word| {
            let near = typed
                .iter()
                .map(|one| alike(one, &word.word))
                .fold(0.0, f64::max);
            near * word.weight
        })
        .sum();
    said / all
}

/// 1 for forms of one word; else the share of letters that they begin with alike.
fn alike(one: &str, other: &str) -> f64 {
    if stem(one) == stem(other) {
        return 1.0;
    }
    let same = one
        .chars()
        .zip(other.chars())
        .take_while(|(a, b)| a == b)
        .count();
    let most = one.chars().count().max(other.chars().count());
    if same < 3 {
        return 0.0;
    }
    let share = |number: usize| f64::from(u32::try_from(number).unwrap_or(u32::MAX));
    share(same) / share(most) * 0.8
}
