//! `that … means` said of several signs: how strong the links from the fault to the signs
//! must be, all alike, for the sentence to come true.
//!
//! What a yes to so many signs says of the fault rises with the links, so there is one such
//! strength, or none. It is looked for on the compiled rules themselves: exact chances for
//! each try, with everything else that leads to the signs.

use tellmark_core::inspection::Inspection;
use tellmark_core::piece::Answer;

use super::with_pieces;
use crate::fitted::Fitted;
use crate::packing::Packed;
use crate::placed::stands;
use crate::problem::Problem;
use crate::room::PackBytes;
use crate::rules::Rules;
use tellmark_language::model::{Reach, Together};

/// The strongest that a link can be.
const MOST: f64 = 0.99;
/// How many tries are made for one sentence: each halves what is left, or better.
const TRIES: usize = 24;
/// How near a try must come.
const NEAR: f64 = 1e-7;

/// What a sentence about several signs comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReachedTogether {
    /// Which sentence.
    pub together: usize,
    /// The place of the part that it is about.
    pub place: usize,
    /// The figure that it comes to.
    pub reached: f64,
    /// The same with just so many of the signs, the first of them, and none of the others.
    pub just: f64,
    /// The chance of the fault before anything is known.
    pub before: f64,
    /// How many signs there are, with those of all parts.
    pub signs: usize,
}

/// Fits one sentence at every place that it speaks of, the figures of all others being
/// given.
pub(super) fn solve(rules: Rules<'_>, number: usize, fitted: &mut Fitted) -> Result<(), Problem> {
    let together = &rules.model.togethers[number];
    let wanted = f64::from(together.strength.chance.0) / 1000.0;
    for place in rules.places.of_subject(together.subject) {
        let mut at = |link: f64| -> Result<Option<f64>, Problem> {
            fitted.set_together(place, number, link);
            let packed = Packed::of(rules, fitted, &|_| String::new())?;
            let all = of_sentence(rules, &packed.bytes, number);
            let here = all.into_iter().find(|reached| reached.place == place);
            Ok(here.map(|reached| reached.reached))
        };
        let (Some(low), Some(high)) = (at(0.0)?, at(MOST)?) else {
            fitted.set_together(place, number, 0.0);
            continue;
        };
        let (mut from, mut to) = ((0.0, low - wanted), (MOST, high - wanted));
        let mut link = if from.1 >= 0.0 { 0.0 } else { MOST };
        if from.1 < 0.0 && to.1 > 0.0 {
            // The Illinois method: a chord, with an end that stays put pulled in.
            let mut stayed = 0;
            for _ in 0..TRIES {
                link = (from.0 * to.1 - to.0 * from.1) / (to.1 - from.1);
                let off = at(link)?.unwrap_or(wanted) - wanted;
                if off.abs() < NEAR {
                    break;
                }
                if off < 0.0 {
                    from = (link, off);
                    to.1 *= if stayed == 1 { 0.5 } else { 1.0 };
                    stayed = 1;
                } else {
                    to = (link, off);
                    from.1 *= if stayed == -1 { 0.5 } else { 1.0 };
                    stayed = -1;
                }
            }
        }
        fitted.set_together(place, number, (link * 1e6).round() / 1e6);
    }
    Ok(())
}

/// What all sentences about several signs come to in a pack.
pub(super) fn reached(rules: Rules<'_>, bytes: &PackBytes) -> Vec<ReachedTogether> {
    let numbers = 0..rules.model.togethers.len();
    numbers
        .flat_map(|number| of_sentence(rules, bytes, number))
        .collect()
}

fn of_sentence(rules: Rules<'_>, bytes: &PackBytes, number: usize) -> Vec<ReachedTogether> {
    let together = &rules.model.togethers[number];
    let mut found = Vec::new();
    with_pieces(rules.places, bytes, |inspection, root| {
        let within = root..rules.places.get(root).end;
        for place in rules.places.of_subject(together.subject) {
            if !within.contains(&place) {
                continue;
            }
            let reached = at_place(rules, inspection, (number, together), place);
            found.extend(reached);
        }
    });
    found
}

/// The chance of the fault after an ordinary yes to at least so many of the signs, all of
/// them looked at.
fn at_place(
    rules: Rules<'_>,
    inspection: &mut Inspection<'_, '_, f64>,
    (number, together): (usize, &Together),
    place: usize,
) -> Option<ReachedTogether> {
    let mut parts = inspection.piece().parts().iter();
    let part = parts.position(|p| usize::from(p.place) == place)?;
    let fault_part = first_of(rules, inspection, part, &together.whose)?;
    let shown = down(rules, inspection, part, &together.path);
    let signs = together.signs.iter().flat_map(|&sign| {
        let row = &rules.states.states[rules.states.declared(sign)];
        let number = rules.states.number(sign);
        shown.iter().map(move |&part| Node {
            part,
            state: number,
            ask: row.ask,
        })
    });
    let mut answers = Answers {
        inspection,
        signs: signs.collect(),
        enough: together.enough.into(),
        fault: (fault_part, rules.states.number(together.fault)),
        sums: (0.0, 0.0),
    };
    let before = answers.share(answers.fault)?;
    if together.path.is_empty() {
        answers.from(0, 0, 1.0)?;
    } else {
        answers.of_like_parts()?;
    }
    let (all, with) = answers.sums;
    let (just, with_just) = answers.first_so_many(answers.enough)?;
    (all > 0.0).then(|| ReachedTogether {
        together: number,
        place,
        reached: with / all,
        just: with_just / just,
        before,
        signs: answers.signs.len(),
    })
}

/// A sign of a part.
#[derive(Clone, Copy)]
struct Node {
    part: usize,
    state: u16,
    ask: u16,
}

/// Goes through the answers to all signs of which enough are yes.
struct Answers<'i, 'm, 'a> {
    inspection: &'i mut Inspection<'m, 'a, f64>,
    signs: Vec<Node>,
    enough: usize,
    fault: (usize, u16),
    /// The chance of such answers, and of the fault with them.
    sums: (f64, f64),
}

impl Answers<'_, '_, '_> {
    /// From this sign on, so many of those before being yes; the answers so far have this
    /// chance.
    fn from(&mut self, at: usize, yes: usize, chance: f64) -> Option<()> {
        let Some(&sign) = self.signs.get(at) else {
            self.sums.0 += chance;
            self.sums.1 += chance * self.share(self.fault)?;
            return Some(());
        };
        let says_yes = self.says_yes(sign)?;
        for (answer, part_of) in [(false, 1.0 - says_yes), (true, says_yes)] {
            let count = yes + usize::from(answer);
            let left = self.signs.len() - at - 1;
            if part_of <= 0.0 || count + left < self.enough {
                continue;
            }
            let _ = self
                .inspection
                .answer(sign.part, sign.ask, Answer::Seen(answer));
            self.from(at + 1, count, chance * part_of)?;
            let _ = self
                .inspection
                .answer(sign.part, sign.ask, Answer::NotLooked);
        }
        Some(())
    }

    /// The same of one sign of parts of which each is as likely as the next to show it: so
    /// many yeses are as likely whichever parts they are of, so that those of the first
    /// parts count for all.
    fn of_like_parts(&mut self) -> Option<()> {
        let all = self.signs.len();
        if self.enough <= 1 {
            // All but a no to every one; the parts may stand in different parts.
            let before = self.share(self.fault)?;
            let (none, with_none) = self.first_so_many(0)?;
            self.sums = (1.0 - none, before - with_none);
            return Some(());
        }
        let mut ways = 1.0;
        for yes in 0..=all {
            if yes >= self.enough {
                let (chance, with) = self.first_so_many(yes)?;
                self.sums.0 += ways * chance;
                self.sums.1 += ways * with;
            }
            #[allow(clippy::cast_precision_loss)]
            let more = (all - yes) as f64 / (yes + 1) as f64;
            ways *= more;
        }
        Some(())
    }

    /// The chance of a yes to just the first so many signs and a no to the others, and of
    /// the fault with it.
    fn first_so_many(&mut self, yes: usize) -> Option<(f64, f64)> {
        let mut chance = 1.0;
        for (at, sign) in self.signs.clone().into_iter().enumerate() {
            let says_yes = self.says_yes(sign)?;
            chance *= if at < yes { says_yes } else { 1.0 - says_yes };
            let seen = Answer::Seen(at < yes);
            let _ = self.inspection.answer(sign.part, sign.ask, seen);
        }
        let share = self.share(self.fault);
        for sign in self.signs.clone() {
            let nothing = Answer::NotLooked;
            let _ = self.inspection.answer(sign.part, sign.ask, nothing);
        }
        Some((chance, chance * share.unwrap_or(0.0)))
    }

    /// The chance that somebody says yes to a sign, slips counted in.
    fn says_yes(&mut self, sign: Node) -> Option<f64> {
        let so = self.share((sign.part, sign.state))?;
        let slip = self.inspection.pack().ask(sign.ask.into()).slip;
        let slip = f64::from(slip) / 1000.0;
        Some(so * (1.0 - slip) + (1.0 - so) * slip)
    }

    fn share(&mut self, (part, state): (usize, u16)) -> Option<f64> {
        let place = usize::from(self.inspection.piece().part(part)?.place);
        let slot = self.inspection.pack().state_slot(place, state)?;
        let (no, yes) = self.inspection.weights(part, slot).ok()?;
        Some(yes / (no + yes))
    }
}

/// The part whose fault is meant; of several the first.
fn first_of(
    rules: Rules<'_>,
    inspection: &Inspection<'_, '_, f64>,
    part: usize,
    whose: &Reach,
) -> Option<usize> {
    match whose {
        Reach::Own => Some(part),
        Reach::Up(kind) => {
            let place = usize::from(inspection.piece().part(part)?.place);
            let owner = rules.places.owner_of_kind(place, *kind)?;
            let piece = inspection.piece();
            let mut owners = piece.owners(part);
            owners.find(|&o| piece.part(o).is_some_and(|o| usize::from(o.place) == owner))
        }
        Reach::Down { path, only, .. } => {
            let parts = down(rules, inspection, part, path);
            let is_meant = |&part: &usize| {
                let only = only.as_ref();
                only.is_none_or(|only| stands(rules.model, inspection.piece(), part, only))
            };
            parts.into_iter().find(is_meant)
        }
        // The language does not let signs mean something of the others.
        Reach::Others { .. } => None,
    }
}

fn down(
    rules: Rules<'_>,
    inspection: &Inspection<'_, '_, f64>,
    part: usize,
    path: &[tellmark_language::model::KindId],
) -> Vec<usize> {
    let piece = inspection.piece();
    let Some(record) = piece.part(part) else {
        return Vec::new();
    };
    let places = rules.places.down(usize::from(record.place), path);
    places
        .unwrap_or_default()
        .into_iter()
        .fold(vec![part], |parts, place| {
            let children = parts.into_iter().map(|p| piece.children_at(p, place));
            children.flatten().collect()
        })
}
