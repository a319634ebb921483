//! What stands behind a noun: "2", "1, 2 and 4", "on the left", "but 3".

use super::{Atom, Finder, Pick};
use crate::english::Small;
use crate::line::Word;
use crate::token::Sort;

impl Finder<'_> {
    /// Numbers and names after a noun: "2", "1, 2 and 4", "1-4", "left".
    pub(super) fn after(&self, words: &[Word], atom: &mut Atom, usable: &dyn Fn(usize) -> bool) {
        let mut at = atom.last + 1;
        let text = |at: usize| words.get(at).map(|word| word.token.text.as_str());
        let number_at = |at: usize| {
            let number = words.get(at).filter(|_| usable(at))?.whole()?;
            let unit = self.is_unit_after(words, at + 1);
            // "2-3 mm": neither of them.
            let range = words.get(at + 1).is_some_and(|w| w.token.sort == Sort::To)
                && self.is_unit_after(words, at + 3);
            (!unit && !range && number > 0).then_some(number)
        };
        if matches!(text(at), Some("number" | "no" | "nr" | "num")) && number_at(at + 1).is_some() {
            at += 1;
        }
        let mut numbers = Vec::new();
        if let Some(first) = number_at(at) {
            numbers.push(first);
            // "Handles of drawer 3, one is loose": no drawer one.
            let in_figures = words[at].figure().is_some();
            let next_at = |at: usize| number_at(at).filter(|_| !(in_figures && words[at].is_one()));
            let (end, is_or) = self.more_numbers(words, at + 1, &mut numbers, &next_at);
            at = end;
            if is_or {
                atom.step.picks.push(Pick::Some);
            }
        }
        if !numbers.is_empty() {
            let but = atom.step.picks.iter_mut().find_map(|pick| match pick {
                Pick::But(list) => Some(list),
                _ => None,
            });
            match but {
                Some(list) => list.extend(&numbers),
                None => atom.step.picks.push(Pick::Numbers(numbers)),
            }
            atom.words.extend(atom.last + 1..at);
            atom.last = at - 1;
        }
        self.name_after(words, atom, usable);
        self.but_after(words, atom, &number_at, usable);
    }

    fn more_numbers(
        &self,
        words: &[Word],
        from: usize,
        numbers: &mut Vec<u64>,
        number_at: &dyn Fn(usize) -> Option<u64>,
    ) -> (usize, bool) {
        let mut at = from;
        let mut is_or = false;
        loop {
            let Some(word) = words.get(at) else {
                return (at, is_or);
            };
            let is_to = word.token.sort == Sort::To || word.token.text == "to";
            let mut next = at + 1;
            let is_list = word.small == Some(Small::And) && word.token.text != "but"
                || matches!(word.token.sort, Sort::Break(',' | '&' | '/'));
            if is_list && words.get(next).is_some_and(|w| w.small == Some(Small::And)) {
                next += 1;
            }
            let Some(number) = number_at(next).filter(|_| is_to || is_list) else {
                return (at, is_or);
            };
            // "drawer 1 stiff, 2 fine": a number with words of its own begins a clause.
            is_or |= word.token.text == "or";
            match (is_to, numbers.last()) {
                (true, Some(&last)) if number > last && number - last < 100 => {
                    numbers.extend(last + 1..=number);
                }
                (true, _) => return (at, is_or),
                _ => numbers.push(number),
            }
            at = next + 1;
        }
    }

    /// "runner left", "runner on the right".
    fn name_after(&self, words: &[Word], atom: &mut Atom, usable: &dyn Fn(usize) -> bool) {
        if atom
            .step
            .picks
            .iter()
            .any(|pick| matches!(pick, Pick::Names(_)))
        {
            return;
        }
        let mut at = atom.last + 1;
        if words.get(at).is_some_and(|word| word.token.text == "on") {
            at += 1;
            if words.get(at).is_some_and(|word| word.token.text == "the") {
                at += 1;
            }
        }
        let Some(word) = words.get(at).filter(|_| usable(at)) else {
            return;
        };
        let Some(mut name) = self
            .name_of(word)
            .filter(|n| self.have_name(&atom.step.kinds, n))
        else {
            return;
        };
        let mut next = at + 1;
        // "leg front left"
        while let Some(word) = words.get(next).filter(|_| usable(next))
            && let Some(more) = self.name_of(word)
            && let both = format!("{name} {more}")
            && self.have_name(&atom.step.kinds, &both)
        {
            name = both;
            next += 1;
        }
        if words
            .get(next)
            .is_some_and(|word| word.token.text == "hand")
        {
            next += 1;
        }
        let begins_another = self.noun_at(words, next, usable).is_some();
        let is_measured = matches!(words.get(next).map(|w| w.token.sort), Some(Sort::Number(_)));
        if begins_another || is_measured {
            return;
        }
        atom.step.picks.push(Pick::Names(vec![name]));
        atom.words.extend(atom.last + 1..next);
        atom.last = next - 1;
    }

    /// "all drawers but 3", "every drawer except drawer 1".
    fn but_after(
        &self,
        words: &[Word],
        atom: &mut Atom,
        number_at: &dyn Fn(usize) -> Option<u64>,
        usable: &dyn Fn(usize) -> bool,
    ) {
        let is_every = atom
            .step
            .picks
            .iter()
            .any(|pick| matches!(pick, Pick::All | Pick::Plural))
            || atom.step.picks.is_empty();
        let mut at = atom.last + 1;
        let is_but = words
            .get(at)
            .is_some_and(|word| matches!(word.token.text.as_str(), "but" | "except" | "bar"));
        if !is_every || !is_but {
            return;
        }
        at += 1;
        while words
            .get(at)
            .is_some_and(|w| matches!(w.token.text.as_str(), "for" | "the"))
        {
            at += 1;
        }
        if let Some((count, kinds, _)) = self.noun_at(words, at, usable)
            && kinds == atom.step.kinds
        {
            at += count;
        }
        let mut numbers = Vec::new();
        let Some(first) = number_at(at) else {
            return;
        };
        numbers.push(first);
        (at, _) = self.more_numbers(words, at + 1, &mut numbers, number_at);
        atom.step
            .picks
            .retain(|pick| !matches!(pick, Pick::All | Pick::Plural));
        atom.step.picks.push(Pick::But(numbers));
        atom.words.extend(atom.last + 1..at);
        atom.last = at - 1;
    }
}
