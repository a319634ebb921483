//! The parts that a note speaks of: "drawer 2", "bottom left runner", "legs 1-4", "all but
//! drawer 3".

mod after;
mod apart;
mod before;
mod names;
mod noun;

use crate::english::{self, Place, Small};
use crate::lexicon::Lexicon;
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

    /// Every part of a kind, kinds of it among them.
    pub(crate) fn such(&self, kind: KindId) -> Vec<usize> {
        if kind == PIECE {
            return vec![0];
        }
        let parts = self.scene.parts.iter().enumerate();
        let such = parts.filter(|(_, part)| self.model.is_kind_of(part.kind, kind));
        such.map(|(at, _)| at).collect()
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
}

/// Where the words of the last noun end.
fn at_least(atoms: &[Atom]) -> usize {
    atoms.last().map_or(0, |atom| atom.last + 1)
}
