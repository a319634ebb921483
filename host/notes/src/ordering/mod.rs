//! The clauses of a line, put together as they belong: "creaks, drawer 3" is said of drawer
//! 3, "top and left side cracked" of both, "left 2mm right 3mm" of each.

mod run_on;

use crate::candidate::Seeker;
use crate::clause::{Clause, Joint, Manner, clauses};
use crate::english::{Small, is_praise};
use crate::lexicon::Lexicon;
use crate::line::Word;
use crate::measure::Quantity;
use crate::mention::{Finder, Mention};
use std::collections::BTreeSet;

/// A line of notes with its words looked up.
pub(crate) struct Line<'l> {
    pub(crate) finder: Finder<'l>,
    pub(crate) lexicon: &'l Lexicon,
    pub(crate) words: &'l [Word],
    pub(crate) quantities: &'l [Quantity],
}

/// What a clause has of its own.
#[derive(Clone, Copy)]
struct Has {
    content: bool,
    mention: bool,
    measure: bool,
    /// All that it says of its parts is "not".
    only_not: bool,
}

impl Line<'_> {
    /// The clauses, in the order in which they are read.
    pub(crate) fn clauses(&self) -> Vec<Clause> {
        let mut out: Vec<Clause> = Vec::new();
        let all = clauses(self.words);
        let all: Vec<Clause> = all.iter().flat_map(|clause| self.run_on(clause)).collect();
        for (at, clause) in all.iter().enumerate() {
            let has = self.has(clause);
            let is_weak = clause.joint != Joint::Strong;
            let last = out.last().map(|last| self.has(last));
            let is_only_part = has.mention && !has.content && !has.measure;
            match last {
                // Only a quantity: it belongs to what was said.
                Some(last)
                    if is_weak
                        && last.content
                        && !last.measure
                        && !has.content
                        && !has.mention
                        && has.measure =>
                {
                    add_to_last(&mut out, clause);
                }
                // "Worm holes, old ones": which they are.
                Some(last)
                    if is_weak && last.content && !has.mention && self.says_which(clause) =>
                {
                    add_to_last(&mut out, clause);
                }
                // "worn 3 mm, right one 2 mm": the same said again.
                Some(last)
                    if is_weak && last.content && last.measure && !has.content && has.measure =>
                {
                    let again = self.said_again(out.last(), clause);
                    out.push(again);
                }
                // "drawer 2 stiff, drawer 3 not": the same said again.
                Some(last) if is_weak && last.content && has.mention && has.only_not => {
                    let again = self.said_again(out.last(), clause);
                    out.push(again);
                }
                // "drawer 1 stiff, drawer 2 too", "… and drawer 2": the same said again.
                Some(last)
                    if last.content
                        && last.mention
                        && has.mention
                        && !has.measure
                        && (self.says_likewise(clause)
                            || (is_only_part && clause.joint == Joint::And)) =>
                {
                    let again = self.said_again(out.last(), clause);
                    out.push(again);
                }
                // "top and left side cracked": the parts together; "drawer 1, drawer 2 stiff" too,
                // but "drawer 2, handle loose" is a handle of drawer 2.
                Some(last)
                    if (clause.joint == Joint::And
                        || (clause.joint == Joint::Weak
                            && !self.goes_into(out.last(), clause)))
                        && last.mention
                        && !last.content
                        && !last.measure
                        && has.mention
                        && (has.content || !ends_a_sentence(&all, at)) =>
                {
                    add_to_last(&mut out, clause);
                }
                Some(_)
                    if is_only_part
                        && is_weak
                        && clause.joint != Joint::But
                        && ends_a_sentence(&all, at) =>
                {
                    self.put_before(&mut out, clause);
                }
                _ => out.push(clause.clone()),
            }
        }
        out.into_iter()
            .flat_map(|clause| self.paired(clause))
            .collect()
    }

    /// "Old ones", "a new one": what is spoken of, told apart.
    fn says_which(&self, clause: &Clause) -> bool {
        let text = |at: usize| self.words[at].token.text.as_str();
        let words = clause.words.as_slice();
        let (last, others) = match words.split_last() {
            Some((last, others)) if matches!(text(*last), "ones" | "one") => (last, others),
            _ => return false,
        };
        let mut before = others.iter().filter(|&&at| self.words[at].small.is_none());
        *last > 0 && before.next().is_some() && before.next().is_none()
    }

    /// "drawer 2 too", "so is drawer 2", "drawer 2 as well".
    fn says_likewise(&self, clause: &Clause) -> bool {
        const LIKEWISE: [&str; 6] = ["too", "also", "likewise", "same", "ditto", "similarly"];
        let text = |at: usize| self.words[at].token.text.as_str();
        let begins = clause.words.first().map_or("", |&at| text(at));
        let says = clause.words.iter().any(|&at| LIKEWISE.contains(&text(at)));
        let named = self.named(clause);
        let is_small = clause.words.iter().all(|at| {
            let word = &self.words[*at];
            named.contains(at) || word.small.is_some() || LIKEWISE.contains(&text(*at))
        });
        is_small && (says || matches!(begins, "so" | "as"))
    }

    /// Whether the parts of a clause are built into those of the one before it.
    fn goes_into(&self, before: Option<&Clause>, clause: &Clause) -> bool {
        let outer = before
            .map(|before| self.mentions(before))
            .unwrap_or_default();
        let inner = self.mentions(clause);
        inner.iter().any(|inner| {
            let mut outer = outer.iter();
            outer.any(|outer| self.finder.is_inside(&inner.step.kinds, &outer.step.kinds))
        })
    }

    /// The parts that a clause speaks of by itself.
    fn mentions(&self, clause: &Clause) -> Vec<Mention> {
        let seeker = Seeker {
            finder: self.finder,
            words: self.words,
            clause: &clause.words,
            quantities: self.quantities,
            subject: &[],
        };
        seeker.mentions(&|_| true).0
    }

    /// Whether a clause says something of a part, and does not only name it.
    pub(crate) fn says_something(&self, clause: &Clause) -> bool {
        let has = self.has(clause);
        has.content || has.measure
    }

    /// Whether it names a part.
    pub(crate) fn names_part(&self, clause: &Clause) -> bool {
        !self.mentions(clause).is_empty()
    }

    /// Whether several parts are spoken of in one word: "the drawers".
    pub(crate) fn is_of_several(&self, clause: &Clause) -> bool {
        self.mentions(clause).iter().any(|m| m.step.is_plural)
    }

    /// Whether a word stands in a quantity.
    pub(crate) fn is_measured(&self, at: usize) -> bool {
        let mut all = self.quantities.iter();
        all.any(|quantity| (quantity.from..quantity.until).contains(&at))
    }

    /// The words of a clause that name parts.
    fn named(&self, clause: &Clause) -> BTreeSet<usize> {
        let mentions = self.mentions(clause).into_iter();
        mentions.flat_map(|mention| mention.words).collect()
    }

    fn has(&self, clause: &Clause) -> Has {
        let named = self.named(clause);
        let says = |at: usize| {
            let word = &self.words[at];
            let is_empty = matches!(
                word.small,
                Some(Small::Empty | Small::All | Small::And | Small::About)
            );
            !named.contains(&at)
                && !self.is_measured(at)
                && (!is_empty || is_praise(&word.token.text))
                && !word.is_one()
                && !self.lexicon.is_measuring(&word.token.text)
        };
        Has {
            content: clause.words.iter().any(|&at| says(at)),
            mention: !named.is_empty(),
            measure: clause.words.iter().any(|&at| self.is_measured(at)),
            only_not: clause.words.iter().any(|&at| says(at))
                // "Can't see the lock" says something of its own.
                && Manner::of(self.words, clause, &|_| false).cannot.is_none()
                && clause
                    .words
                    .iter()
                    .filter(|at| says(**at))
                    .all(|&at| self.words[at].small == Some(Small::Not)),
        }
    }

    /// A clause with the words that the one before says something by.
    fn said_again(&self, before: Option<&Clause>, clause: &Clause) -> Clause {
        let mut again = clause.clone();
        let Some(before) = before else {
            return again;
        };
        let named = self.named(before);
        let says = before.words.iter().copied();
        let says = says.filter(|at| !self.is_measured(*at) && !named.contains(at));
        again
            .words
            .extend(says.filter(|&at| self.words[at].is_word()));
        again.words.sort_unstable();
        again
    }

    /// "creaks, drawer 3": the part is put before what is said of it, as far back as no
    /// other part is named.
    fn put_before(&self, out: &mut Vec<Clause>, part: &Clause) {
        let mut place = out.len();
        while place > 0 && !self.has(&out[place - 1]).mention {
            place -= 1;
            if out[place].joint == Joint::Strong {
                break;
            }
        }
        let mut part = part.clone();
        part.joint = Joint::Strong;
        out.insert(place, part);
    }

    /// "left 2mm right 3mm": the same said of each.
    fn paired(&self, clause: Clause) -> Vec<Clause> {
        let begins = |at: usize| {
            let name = self.finder.name_word(&self.words[at])?;
            let quantity = self.quantities.iter().find(|q| q.from == at + 1)?;
            Some((name, at..quantity.until))
        };
        let pairs: Vec<_> = clause.words.iter().filter_map(|&at| begins(at)).collect();
        if pairs.len() < 2 {
            return self.shared(clause);
        }
        let is_paired = |at: &usize| pairs.iter().any(|(_, pair)| pair.contains(at));
        let shared: Vec<usize> = clause
            .words
            .iter()
            .copied()
            .filter(|at| !is_paired(at))
            .collect();
        let each = pairs.iter().map(|(_, pair)| {
            let mut words = shared.clone();
            words.extend(pair.clone());
            words.sort_unstable();
            Clause {
                words,
                ..clause.clone()
            }
        });
        each.collect()
    }
}

impl Line<'_> {
    /// "top and left side cracked": parts of several kinds, a clause for each.
    fn shared(&self, clause: Clause) -> Vec<Clause> {
        let mentions = self.mentions(&clause);
        let first = mentions.first().map(|m| m.step.kinds.clone());
        let differ = mentions
            .iter()
            .any(|m| Some(&m.step.kinds) != first.as_ref());
        if !differ || mentions.iter().any(|m| m.is_odd) {
            return vec![clause];
        }
        let each = mentions.iter().map(|own| {
            let is_other = |at: &usize| {
                let mut others = mentions.iter().filter(|m| m.words != own.words);
                others.any(|m| m.words.contains(at))
            };
            Clause {
                words: clause
                    .words
                    .iter()
                    .copied()
                    .filter(|at| !is_other(at))
                    .collect(),
                ..clause.clone()
            }
        });
        each.collect()
    }
}

fn add_to_last(out: &mut [Clause], clause: &Clause) {
    if let Some(last) = out.last_mut() {
        last.words.extend(&clause.words);
        last.is_asked |= clause.is_asked;
    }
}

/// Whether nothing follows a clause but another sentence.
fn ends_a_sentence(all: &[Clause], at: usize) -> bool {
    all.get(at + 1)
        .is_none_or(|next| next.joint == Joint::Strong)
}
