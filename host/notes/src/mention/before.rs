//! What stands before a noun: "left", "second from the top", "all the", "no".

use super::{Atom, Finder, Pick, SOME};
use crate::english::{self, Place, Small};
use crate::line::Word;
use crate::token::Sort;

impl Finder<'_> {
    /// "left", "second", "top", "all the", "no" before a noun.
    pub(super) fn before(&self, words: &[Word], atom: &mut Atom, usable: &dyn Fn(usize) -> bool) {
        let mut names: Vec<String> = Vec::new();
        let mut is_beside = false;
        let mut at = atom.first;
        while at > 0 && usable(at - 1) {
            let word = &words[at - 1];
            let text = word.token.text.as_str();
            let is_hand = text == "hand" && at > 1 && self.is_name(&words[at - 2]);
            let joins = !names.is_empty()
                && (word.small == Some(Small::And)
                    || matches!(word.token.sort, Sort::Break(',' | '&' | '/')))
                && at > 1
                && self.is_name(&words[at - 2]);
            if let Some(name) = self
                .name_of(word)
                .filter(|n| self.have_name(&atom.step.kinds, n))
            {
                // "Front left" is one name, "front and left" are two.
                let both = names.first().map(|next| format!("{name} {next}"));
                match both.filter(|both| is_beside && self.have_name(&atom.step.kinds, both)) {
                    Some(both) => names[0] = both,
                    None => names.insert(0, name),
                }
                is_beside = true;
            } else if let Some(number) = english::ordinal(text) {
                is_beside = false;
                atom.step.picks.push(Pick::Numbers(vec![number]));
            } else if let Some(place) = english::place(word.text()) {
                atom.step.picks.push(Pick::Place(place));
            } else if !is_hand && !joins {
                break;
            } else if text == "or" {
                atom.step.picks.push(Pick::Some);
            }
            is_beside &= !joins;
            at -= 1;
            atom.words.push(at);
        }
        // "Second from top": counted from there.
        let text = |at: usize| words.get(at).map(|word| word.token.text.as_str());
        if let Some(from) = at.checked_sub(1).filter(|&at| usable(at))
            && matches!(text(from), Some("from" | "to"))
            && let Some(number) = from
                .checked_sub(1)
                .and_then(|at| english::ordinal(text(at)?))
            && let Some(place) = atom
                .step
                .picks
                .iter_mut()
                .find(|p| matches!(p, Pick::Place(_)))
        {
            *place = match place {
                Pick::Place(Place::First) => Pick::Numbers(vec![number]),
                // From the other end: which that is, nobody is told.
                _ => Pick::Numbers(Vec::new()),
            };
            at = from - 1;
            atom.words.extend(at..=from);
        }
        if !names.is_empty() {
            self.share(&mut names);
            atom.step.picks.push(Pick::Names(names));
        }
        self.amount(words, atom, at, usable);
    }

    /// "all", "both of the", "all four", "none of the", "all but".
    fn amount(&self, words: &[Word], atom: &mut Atom, from: usize, usable: &dyn Fn(usize) -> bool) {
        let mut at = from;
        let mut skipped = Vec::new();
        while at > 0 && usable(at - 1) && skipped.len() < 3 {
            let word = &words[at - 1];
            let is_between = matches!(
                word.token.text.as_str(),
                "the" | "of" | "these" | "its" | "but" | "except"
            );
            if !is_between && word.whole().is_none() {
                break;
            }
            skipped.push(at - 1);
            at -= 1;
        }
        // The nearest one counts: "all of the 4 legs", but not "top, 4 legs".
        let place = (0..=skipped.len()).find_map(|back| {
            let at = from.checked_sub(back + 1)?;
            let small = words.get(at).filter(|_| usable(at))?.small?;
            matches!(small, Small::All | Small::Not).then_some((at, small))
        });
        let one_of = skipped.iter().copied().find(|&at| {
            let next = words.get(at + 1).map(|w| w.token.text.as_str());
            words[at].whole().is_some() && next == Some("of")
        });
        let some = (0..=skipped.len()).find_map(|back| {
            let at = from.checked_sub(back + 1)?;
            let text = words.get(at).filter(|_| usable(at))?.token.text.as_str();
            SOME.contains(&text).then_some(at)
        });
        if let Some(at) = one_of.or(some).filter(|_| place.is_none()) {
            atom.step.picks.push(Pick::Some);
            atom.words.extend(at..from);
            return;
        }
        let Some((at, small)) = place else {
            return;
        };
        let between = || (at + 1..from).map(|at| words[at].token.text.as_str());
        if small == Small::All {
            let is_but = between().any(|text| matches!(text, "but" | "except"));
            let is_not = at > 0 && usable(at - 1) && words[at - 1].small == Some(Small::Not);
            atom.step.picks.push(match words[at].token.text.as_str() {
                _ if is_not => Pick::Some,
                _ if is_but => Pick::But(Vec::new()),
                "both" => Pick::Both,
                _ => Pick::All,
            });
        } else {
            let word = words[at].token.text.as_str();
            let counts = matches!(word, "no" | "none" | "neither");
            if !counts || between().any(|text| text == "but") {
                return;
            }
            atom.step.picks.push(Pick::No);
        }
        atom.words.extend(at..from);
    }
}
