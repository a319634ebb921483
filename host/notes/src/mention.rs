//! The parts that a note speaks of: "drawer 2", "bottom left runner", "legs 1-4", "all but
//! drawer 3".

use crate::english::{self, Place, Small};
use crate::lexicon::{Lexicon, Noun};
use crate::line::Word;
use crate::scene::Scene;
use crate::token::Sort;
use tellmark_language::model::{KindId, Model, PIECE};

/// Words for not all of several, and not which.
pub(crate) const SOME: [&str; 8] = [
    "some", "most", "several", "few", "many", "couple", "half", "certain",
];

/// Which of several.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Pick {
    /// Several were spoken of, not which.
    Plural,
    /// "one of the", "some", "2 or 3": not all of them, and not which.
    Some,
    /// "both".
    Both,
    /// Every one.
    All,
    /// No one.
    No,
    /// By number.
    Numbers(Vec<u64>),
    /// All but these.
    But(Vec<u64>),
    /// By name.
    Names(Vec<String>),
    /// By the place in the row.
    Place(Place),
}

/// A kind of part with what was said of which.
#[derive(Clone, Debug)]
pub(crate) struct Step {
    pub(crate) kinds: Vec<KindId>,
    pub(crate) picks: Vec<Pick>,
    /// It was said of more than one: "drawers".
    pub(crate) is_plural: bool,
}

/// A part or parts that were spoken of.
#[derive(Clone, Debug)]
pub(crate) struct Mention {
    pub(crate) step: Step,
    /// What it is built into, as far as was said.
    pub(crate) outer: Vec<Step>,
    /// The words that say so.
    pub(crate) words: Vec<usize>,
    /// Stands directly beside another that it has nothing to do with.
    pub(crate) is_odd: bool,
}

impl Mention {
    /// "no lock".
    pub(crate) fn is_none(&self) -> bool {
        self.step.picks.contains(&Pick::No)
    }
}

/// What finds parts in words.
#[derive(Clone, Copy)]
pub(crate) struct Finder<'f> {
    pub(crate) model: &'f Model,
    pub(crate) lexicon: &'f Lexicon,
    pub(crate) scene: &'f Scene,
}

/// One noun with what belongs to it.
pub(crate) struct Atom {
    pub(crate) step: Step,
    pub(crate) words: Vec<usize>,
    first: usize,
    last: usize,
}

impl Finder<'_> {
    /// The parts that some of the words speak of; `usable` says which words may.
    pub(crate) fn mentions(&self, words: &[Word], usable: &dyn Fn(usize) -> bool) -> Vec<Mention> {
        self.nested(words, self.atoms(words, usable))
    }

    /// The nouns among some of the words, each with what belongs to it.
    pub(crate) fn atoms(&self, words: &[Word], usable: &dyn Fn(usize) -> bool) -> Vec<Atom> {
        let mut atoms = Vec::new();
        let mut at = 0;
        while at < words.len() {
            // What names one part names no place of another.
            let floor = at_least(&atoms);
            let free = |at: usize| at >= floor && usable(at);
            match self.atom(words, at, &free) {
                Some(atom) => {
                    at = atom.last + 1;
                    atoms.push(atom);
                }
                None => at += 1,
            }
        }
        atoms
    }

    fn noun_at(
        &self,
        words: &[Word],
        at: usize,
        usable: &dyn Fn(usize) -> bool,
    ) -> Option<(usize, Vec<KindId>, bool)> {
        let run = words.iter().enumerate().skip(at);
        let run = run.take_while(|(at, word)| word.is_word() && usable(*at));
        let texts: Vec<&str> = run.map(|(_, word)| word.text()).take(6).collect();
        if let Some((count, nouns)) = self.lexicon.noun(&texts) {
            let kinds: Vec<KindId> = nouns
                .iter()
                .filter(|noun| !self.such(noun.kind).is_empty())
                .map(|noun| noun.kind)
                .collect();
            let plural = nouns.iter().all(|noun| noun.plural);
            let kinds = match kinds.is_empty() {
                true => self.in_place_of(nouns),
                false => kinds,
            };
            return Some((count, kinds, plural));
        }
        self.short_noun(words, at, usable)
    }

    /// What a word means of which this piece has none: a "leaf" where all leaves are draw
    /// leaves. A part that it has none of is still a part.
    fn in_place_of(&self, nouns: &[Noun]) -> Vec<KindId> {
        let name_of = |kind: KindId| {
            let kind = self.model.kinds.get(kind.index());
            kind.map_or("", |kind| kind.name.as_str())
        };
        let mut kinds: Vec<KindId> = Vec::new();
        for part in &self.scene.parts {
            let last = name_of(part.kind).rsplit(' ').next();
            let ends_so = |noun: &Noun| Some(name_of(noun.kind)) == last;
            if nouns.iter().any(ends_so) && !kinds.contains(&part.kind) {
                kinds.push(part.kind);
            }
        }
        match kinds.is_empty() {
            true => nouns.iter().map(|noun| noun.kind).collect(),
            false => kinds,
        }
    }

    /// "d2", "dr 2": a short word with a number behind it, where only one sort of part
    /// begins like that.
    fn short_noun(
        &self,
        words: &[Word],
        at: usize,
        usable: &dyn Fn(usize) -> bool,
    ) -> Option<(usize, Vec<KindId>, bool)> {
        let word = words.get(at)?;
        let number = words.get(at + 1)?;
        let short = word.token.text.as_str();
        let touches = number.token.start == word.token.end;
        let is_short = word.is_word() && usable(at) && short.len() <= 3 && word.small.is_none();
        if !is_short || number.whole().is_none() || (short.len() == 1 && !touches) {
            return None;
        }
        if self.lexicon.name(short).is_some() || self.is_unit_after(words, at + 2) {
            return None;
        }
        let mut kinds: Vec<KindId> = Vec::new();
        for part in self.scene.parts.iter().filter(|part| part.of > 1) {
            let name = self
                .model
                .kinds
                .get(part.kind.index())
                .map(|k| k.name.as_str());
            if name.is_some_and(|name| shortens(short, name)) && !kinds.contains(&part.kind) {
                kinds.push(part.kind);
            }
        }
        (kinds.len() == 1).then_some((1, kinds, false))
    }

    fn is_unit_after(&self, words: &[Word], at: usize) -> bool {
        let word = words.get(at);
        word.is_some_and(|word| {
            word.token.sort == Sort::Unit
                || [
                    "mm",
                    "cm",
                    "m",
                    "inch",
                    "inches",
                    "percent",
                    "mil",
                    "mils",
                    "millimetres",
                    "millimeters",
                    "degrees",
                    "cms",
                    "mms",
                ]
                .contains(&word.token.text.as_str())
                || (word.token.text == "in"
                    && words
                        .get(at + 1)
                        .is_none_or(|next| next.known.is_empty() && next.token.text != "the"))
        })
    }

    /// Every part of a kind, kinds of it among them.
    pub(crate) fn such(&self, kind: KindId) -> Vec<usize> {
        if kind == PIECE {
            return vec![0];
        }
        let parts = self.scene.parts.iter().enumerate();
        let such = parts.filter(|(_, part)| self.model.is_kind_of(part.kind, kind));
        such.map(|(at, _)| at).collect()
    }

    fn atom(&self, words: &[Word], at: usize, usable: &dyn Fn(usize) -> bool) -> Option<Atom> {
        let (count, kinds, plural) = self.noun_at(words, at, usable)?;
        // "When you pull it" is no pull.
        let is_done = |word: &Word| {
            let text = word.token.text.as_str();
            matches!(text, "you" | "i" | "we" | "they" | "he" | "she")
        };
        if count == 1 && at > 0 && is_done(&words[at - 1]) {
            return None;
        }
        // "Front right loose" is no front.
        if count == 1 && self.is_corner(words, at, usable) {
            return None;
        }
        // "front left leg" is a leg, though a drawer has a front.
        if count == 1 && self.begins_a_name(words, at, usable) {
            return None;
        }
        // "top drawer", "bottom left runner": where something else stands in a row.
        if count == 1 && english::place(words[at].text()).is_some() {
            let mut next = at + 1;
            while words
                .get(next)
                .is_some_and(|word| self.is_name(word) || word.token.text == "hand")
            {
                next += 1;
            }
            if let Some((length, row, _)) = self.noun_at(words, next, usable) {
                let is_numbered = words
                    .get(next + length)
                    .is_some_and(|w| w.whole().is_some());
                let is_row = row.iter().any(|kind| {
                    self.such(*kind).iter().any(|&part| {
                        self.scene
                            .lineage(part)
                            .any(|at| self.scene.parts[at].of > 1)
                    })
                });
                // "Top veneer" is that of the top; "top drawer" is the first.
                if is_row && !is_numbered && !self.is_inside(&row, &kinds) {
                    return None;
                }
            }
        }
        let mut atom = Atom {
            step: Step {
                kinds,
                picks: Vec::new(),
                is_plural: plural,
            },
            words: (at..at + count).collect(),
            first: at,
            last: at + count - 1,
        };
        self.before(words, &mut atom, usable);
        self.after(words, &mut atom, usable);
        if plural && atom.step.picks.is_empty() {
            atom.step.picks.push(Pick::Plural);
        }
        Some(atom)
    }

    /// Whether a word and the next are a name, "front right", with nothing behind them that is
    /// called so.
    fn is_corner(&self, words: &[Word], at: usize, usable: &dyn Fn(usize) -> bool) -> bool {
        let text = |at: usize| words.get(at).map_or("", |next| next.token.text.as_str());
        let mut next = at + 2;
        while words
            .get(next)
            .is_some_and(|word| self.is_name(word) || word.token.text == "hand")
        {
            next += 1;
        }
        matches!(text(at), "front" | "back" | "fore" | "rear" | "hind")
            && matches!(text(at + 1), "left" | "right" | "lh" | "rh")
            && self.noun_at(words, next, usable).is_none()
    }

    /// Whether a noun is the first word of the name of what stands behind it: "front left leg",
    /// "front and back legs".
    fn begins_a_name(&self, words: &[Word], at: usize, usable: &dyn Fn(usize) -> bool) -> bool {
        let Some(first) = words.get(at).and_then(|word| self.name_of(word)) else {
            return false;
        };
        let is_named = |noun: Option<(usize, Vec<KindId>, bool)>| {
            noun.is_some_and(|(_, kinds, _)| self.have_name(&kinds, &first))
        };
        let mut next = at + 1;
        while let Some(word) = words.get(next).filter(|_| usable(next)) {
            if is_named(self.noun_at(words, next, usable)) {
                return true;
            }
            let joins = word.small == Some(Small::And)
                || matches!(word.token.sort, Sort::Break(',' | '&' | '/'));
            if !joins && !self.is_name(word) {
                return false;
            }
            next += 1;
        }
        false
    }

    pub(crate) fn is_name(&self, word: &Word) -> bool {
        word.is_word() && self.lexicon.name(&word.token.text).is_some()
            || word.is_word() && self.lexicon.name(word.text()).is_some()
    }

    fn name_of(&self, word: &Word) -> Option<String> {
        let name = self.lexicon.name(&word.token.text);
        name.or_else(|| self.lexicon.name(word.text()))
            .map(str::to_owned)
    }

    /// Whether parts of these kinds can have such a name, be they there or not: "right leaf"
    /// is never the left one because the right one is gone.
    fn have_name(&self, kinds: &[KindId], name: &str) -> bool {
        let mut members = self.model.kinds.iter().flat_map(|kind| &kind.members);
        members.any(|member| {
            let of_kind = kinds
                .iter()
                .any(|&kind| self.model.is_kind_of(member.kind, kind));
            of_kind && member.names.iter().any(|one| english::is_named(one, name))
        })
    }

    /// "left", "second", "top", "all the", "no" before a noun.
    fn before(&self, words: &[Word], atom: &mut Atom, usable: &dyn Fn(usize) -> bool) {
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
            } else if let Some(number) = english::ordinal(text).filter(|_| !self.is_name(word)) {
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

    /// "left and right front legs": what the last name has beside, all have.
    fn share(&self, names: &mut [String]) {
        let Some((last, others)) = names.split_last_mut() else {
            return;
        };
        let is_name = |one: &str, other: &str| {
            self.lexicon.is_whole_name(&format!("{one} {other}"))
                || self.lexicon.is_whole_name(&format!("{other} {one}"))
        };
        for other in others.iter_mut().filter(|other| !other.contains(' ')) {
            let mut words = last.split(' ').filter(|_| last.contains(' '));
            if let Some(shared) = words.find(|word| is_name(word, other)) {
                *other = format!("{shared} {other}");
            }
        }
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

    /// Numbers and names after a noun: "2", "1, 2 and 4", "1-4", "left".
    fn after(&self, words: &[Word], atom: &mut Atom, usable: &dyn Fn(usize) -> bool) {
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

    /// Nouns put together: "left runner" with "drawer 2".
    fn nested(&self, words: &[Word], atoms: Vec<Atom>) -> Vec<Mention> {
        let mut mentions: Vec<Mention> = Vec::new();
        let mut last_end = 0;
        for atom in atoms {
            let joined = mentions.last_mut().is_some_and(|last| {
                let inner = self.is_inside(&atom.step.kinds, &last.step.kinds);
                let outer = self.is_inside(&last.step.kinds, &atom.step.kinds);
                let listed = (last_end..atom.first).any(|at| {
                    words[at].small == Some(Small::And)
                        || matches!(words[at].token.sort, Sort::Break(_))
                });
                // "Drawer 1 and its lock" are two.
                let is_added = (last_end..atom.first)
                    .any(|at| matches!(words[at].token.text.as_str(), "and" | "&" | "plus"));
                if inner && is_added {
                    return false;
                }
                if inner {
                    let step = std::mem::replace(&mut last.step, atom.step.clone());
                    last.outer.insert(0, step);
                } else if outer
                    && !(listed && last.outer.iter().any(|o| o.kinds == atom.step.kinds))
                {
                    last.outer.push(atom.step.clone());
                } else {
                    return false;
                }
                last.words.extend(&atom.words);
                true
            });
            let (first, end) = (atom.first, atom.last + 1);
            if !joined {
                let divided = (last_end..first).any(|at| {
                    words[at].small == Some(Small::And)
                        || matches!(words[at].token.sort, Sort::Break(_))
                });
                let is_odd = !mentions.is_empty() && !divided;
                mentions.push(Mention {
                    step: atom.step,
                    outer: Vec::new(),
                    words: atom.words,
                    is_odd,
                });
            }
            last_end = end;
        }
        mentions
    }

    /// Whether parts of one kind are built into parts of another.
    pub(crate) fn is_inside(&self, inner: &[KindId], outer: &[KindId]) -> bool {
        let is_of = |part: usize, kinds: &[KindId]| {
            let part = &self.scene.parts[part];
            kinds.iter().any(|&kind| {
                self.model.is_kind_of(part.kind, kind) || (kind == PIECE && part.owner.is_none())
            })
        };
        let parts = 0..self.scene.parts.len();
        let mut such = parts.filter(|&part| is_of(part, inner));
        such.any(|part| self.scene.lineage(part).skip(1).any(|at| is_of(at, outer)))
    }

    /// A name that stands by itself, "right one", of what was spoken of before.
    pub(crate) fn by_name(&self, name: &str, subject: &[usize]) -> Option<Mention> {
        let kind = subject.iter().find_map(|&about| {
            let lineage: Vec<usize> = self.scene.lineage(about).collect();
            lineage
                .into_iter()
                .map(|at| self.scene.parts[at].kind)
                .find(|&kind| self.have_name(&[kind], name))
        })?;
        Some(Mention {
            step: Step {
                kinds: vec![kind],
                picks: vec![Pick::Names(vec![name.to_owned()])],
                is_plural: false,
            },
            outer: Vec::new(),
            words: Vec::new(),
            is_odd: false,
        })
    }

    /// A number that stands by itself, "2 fine", of what was spoken of before.
    pub(crate) fn by_number(&self, number: u64, subject: &[usize]) -> Option<Mention> {
        let kind = subject.iter().find_map(|&about| {
            let lineage: Vec<usize> = self.scene.lineage(about).collect();
            let row = lineage.into_iter().find(|&at| self.scene.parts[at].of > 1);
            row.map(|at| self.scene.parts[at].kind)
        })?;
        Some(Mention {
            step: Step {
                kinds: vec![kind],
                picks: vec![Pick::Numbers(vec![number])],
                is_plural: false,
            },
            outer: Vec::new(),
            words: Vec::new(),
            is_odd: false,
        })
    }

    /// The name that a word stands for, if parts spoken of have it.
    pub(crate) fn name_word(&self, word: &Word) -> Option<String> {
        word.is_word().then(|| self.name_of(word)).flatten()
    }

    /// Gives a name that stands apart to the mention that can have it.
    pub(crate) fn give_name(&self, mentions: &mut [Mention], name: &str) -> bool {
        for mention in mentions.iter_mut().rev() {
            let steps = std::iter::once(&mut mention.step).chain(&mut mention.outer);
            for step in steps {
                let is_named = step.picks.iter().any(|pick| matches!(pick, Pick::Names(_)));
                if !is_named && self.have_name(&step.kinds, name) {
                    step.picks.retain(|pick| *pick != Pick::Plural);
                    step.picks.push(Pick::Names(vec![name.to_owned()]));
                    return true;
                }
            }
        }
        mentions
            .iter_mut()
            .rev()
            .any(|mention| self.give_owner(mention, name))
    }

    /// "hinge 2 on the left": a name of what it is built into.
    fn give_owner(&self, mention: &mut Mention, name: &str) -> bool {
        let such = mention.step.kinds.iter().flat_map(|&kind| self.such(kind));
        let mut above: Vec<KindId> = Vec::new();
        for part in such {
            for owner in self.scene.lineage(part).skip(1) {
                let kind = self.scene.parts[owner].kind;
                if !above.contains(&kind) && self.have_name(&[kind], name) {
                    above.push(kind);
                }
            }
        }
        let is_said = |kind: &KindId| mention.outer.iter().any(|step| step.kinds.contains(kind));
        above.retain(|kind| !is_said(kind));
        if above.is_empty() {
            return false;
        }
        mention.outer.push(Step {
            kinds: above,
            picks: vec![Pick::Names(vec![name.to_owned()])],
            is_plural: false,
        });
        true
    }
}

/// Where the words of the last noun end.
fn at_least(atoms: &[Atom]) -> usize {
    atoms.last().map_or(0, |atom| atom.last + 1)
}

/// Whether a short form may stand for a name: its letters stand there in that order, the
/// first first.
fn shortens(short: &str, name: &str) -> bool {
    let mut letters = name.chars();
    let mut first = true;
    short.chars().all(|letter| {
        let found = if first {
            letters.next() == Some(letter)
        } else {
            letters.any(|one| one == letter)
        };
        first = false;
        found
    })
}
