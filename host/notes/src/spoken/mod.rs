//! One clause: what it is taken for, whether that is clear, and what of it is left over.

mod clear;
mod left;
mod missing;
mod what;
mod wished;

use clear::{explains_less, is_above, is_far_reaching};

use crate::candidate::{Candidate, Seeker};
use crate::clause::{Clause, Joint, Manner};
use crate::english::Small;
use crate::findings::{Findings, Put};
use crate::house::House;
use crate::mention::Mention;
use crate::ordering::Line;
use crate::reading::{Heard, InOrder, MOST_READINGS, What};
use crate::sound::sound;
use std::collections::BTreeSet;
use std::ops::Range;
use tellmark_language::model::{Fact, Found, Sure};

/// A reading that fits less is not offered.
const OFFERED: f64 = 0.34;
/// Findings of one clause at most.
const MOST_FINDINGS: usize = 4;

/// What one clause leaves to the next.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Carried {
    is_negated: bool,
    is_doubted: bool,
    /// Something turned it around, or put it in another time.
    is_turned: bool,
    /// A part was named, and it is not known which: "the left hand drawer" of two, one above
    /// the other. What is said of several parts after it may be meant of those of that one.
    is_lost: bool,
    /// Nothing was made of it: "the skin is dry", and then "and has cracks".
    is_unread: bool,
}

/// What was done about a fault: what it was before is past.
pub(crate) const MENDED: [&str; 9] = [
    "mended", "repaired", "fixed", "glued", "reglued", "patched", "plated", "screwed", "nailed",
];

/// A clause that is read.
pub(crate) struct Spoken<'s, 'm> {
    pub(crate) house: &'s House<'m>,
    pub(crate) line: &'s Line<'s>,
    pub(crate) clause: &'s Clause,
    pub(crate) subject: &'s [usize],
    pub(crate) text: &'s str,
    /// What comes after it says nothing but "no" or "maybe", or it is how things were: "was
    /// stiff, now runs well".
    pub(crate) is_taken_back: bool,
    /// It is one of several of which only one need be so: "stiff or worn".
    pub(crate) is_alternative: bool,
    /// Nothing before it in the line spoke of a part of a part, or of one that is missing: what is
    /// spoken of is known.
    pub(crate) is_plain_so_far: bool,
}

/// A finding of a clause: what it rests on, and what is offered or written.
struct Taken {
    best: Candidate,
    what: What,
}

/// Something that a clause says, and what it may be as well.
type Chosen = (Candidate, Vec<Candidate>);

impl Spoken<'_, '_> {
    /// What the clause is taken for, and what is spoken of after it.
    pub(crate) fn read(&self, carried: &mut Carried) -> (Vec<Heard>, Option<Vec<usize>>) {
        if let Some(read) = self.exact(carried) {
            // "Drawer 3 is not stiff" in the exact words denies what "or" adds to it, too.
            let facts = || read.0.iter().flat_map(Heard::found);
            let is_no = |fact: &Fact| matches!(fact.found, Found::State { yes: false, .. });
            *carried = Carried {
                is_negated: facts().next().is_some() && facts().all(is_no),
                ..Carried::default()
            };
            return read;
        }
        let seeker = self.seeker();
        let wish = self.wish();
        let mut candidates = seeker.candidates(&|at| at < wish);
        if let Some(well) = self.says_well() {
            // "The drawer runs fine" is nothing that is wrong with it.
            candidates.retain(|one| one.words.contains(&well));
        }
        let whole = candidates.first().filter(|best| best.is_whole());
        let taken: BTreeSet<usize> = whole.map(|best| best.words.clone()).unwrap_or_default();
        let mut manner = Manner::of(self.line.words, self.clause, &|at| taken.contains(&at));
        // "Dropped so far that the lock no longer meets its keep": it is dropped.
        let until = self.consequence(&taken);
        manner.turns.retain(|&at| at < wish.min(until));
        manner.nots.retain(|&at| at < until);
        let (mentions, is_apart) = seeker.mentions(&|at| !taken.contains(&at));
        // A side that belongs to nothing: what is spoken of is not known from here on.
        let spoken_of = match is_apart {
            true => Some(Vec::new()),
            false => self.spoken_of(&mentions),
        };
        if let Some(heard) = self.in_order(&manner, &mentions, whole) {
            *carried = Carried {
                is_doubted: manner.is_doubted,
                is_turned: !manner.turns.is_empty(),
                ..Carried::default()
            };
            return (vec![heard], spoken_of);
        }
        if manner.is_not_looked {
            return (vec![self.remark(&spoken_of)], spoken_of);
        }
        let put = self.put(&manner, carried, &mentions);
        let facts = Findings {
            house: self.house,
            scene: self.line.finder.scene,
        };
        let found = match self.without_saying(&facts, &manner, &mentions, whole) {
            Some(what) => vec![(what, BTreeSet::new(), None)],
            None => self
                .findings(
                    &seeker, candidates, &manner, put, is_apart, carried, &mentions,
                )
                .into_iter()
                .map(|t| (t.what, t.best.words.clone(), Some(t.best)))
                .collect(),
        };
        let is_negated = !manner.nots.is_empty() || !put.yes;
        let is_lost = match mentions.is_empty() {
            true => carried.is_lost,
            false => {
                is_apart || spoken_of.is_none() || (carried.is_lost && mentions[0].outer.is_empty())
            }
        };
        *carried = Carried {
            is_lost,
            is_unread: found.is_empty() && !self.says_nothing(&mentions),
            is_negated: is_negated && !found.is_empty(),
            is_doubted: put.sure == Sure::Looks,
            is_turned: !manner.turns.is_empty() || self.says(&MENDED),
        };
        // What follows is not about what was spoken of before another part was named.
        let another = || (!mentions.is_empty()).then(Vec::new);
        let subject = spoken_of
            .clone()
            .or_else(|| self.subject_of(&found))
            .or_else(another);
        if found.is_empty() {
            if self.says_nothing(&mentions) {
                return (Vec::new(), subject);
            }
            return (vec![self.remark(&spoken_of)], subject);
        }
        (self.heard(found, &manner, &mentions, &spoken_of), subject)
    }

    /// Whether the parts that it names are named by themselves, and none is said to be missing.
    pub(crate) fn names_plainly(&self) -> bool {
        let (mentions, is_apart) = self.seeker().mentions(&|_| true);
        let is_missing = |at: &usize| matches!(self.line.words[*at].small, Some(Small::Missing));
        !is_apart
            && mentions
                .iter()
                .all(|mention| mention.outer.is_empty() && !mention.is_none())
            && !self.clause.words.iter().any(is_missing)
    }

    /// Parts that are said to be as they should be.
    fn in_order(
        &self,
        manner: &Manner,
        mentions: &[Mention],
        whole: Option<&Candidate>,
    ) -> Option<Heard> {
        let is_open = self.clause.is_asked || self.is_taken_back || self.is_alternative;
        if whole.is_some() || is_open || matches!(self.clause.joint, Joint::Or | Joint::Nor) {
            return None;
        }
        // "One lock ok", where there is one.
        let is_count = |at: usize| {
            let word = &self.line.words[at];
            let of = mentions.iter().find(|m| m.words.contains(&(at + 1)));
            let parts = of.map(|m| self.line.finder.meant(m, self.subject).parts.len());
            let count = word.whole().and_then(|count| usize::try_from(count).ok());
            count.is_some() && count == parts
        };
        let named = |at: usize| mentions.iter().any(|m| m.words.contains(&at)) || is_count(at);
        let sound = sound(self.line.words, self.clause, manner, &named)?;
        // "The rest of the drawers" is not the rest of each.
        let is_rest = |m: &Mention| {
            let mut words = m.words.iter();
            words.any(|&at| self.line.words[at].token.text == "rest")
        };
        if self.says(&["rest", "otherwise", "else"])
            && mentions.iter().any(|m| m.step.is_plural && !is_rest(m))
        {
            return None;
        }
        // "Front left leg loose, rest ok": of that leg, or the other legs?
        let is_in_a_row = |&of: &usize| self.line.finder.scene.parts[of].of > 1;
        if mentions.is_empty()
            && self.says(&["rest", "remainder"])
            && !self.says(&["it"])
            && self.subject.iter().any(is_in_a_row)
        {
            return None;
        }
        let spoken_of = match mentions {
            [] if !self.is_plain_so_far => return None,
            [] if self.says(&["are"]) => return None,
            [] => self.subject.to_vec(),
            _ => self.spoken_of(mentions)?,
        };
        // "All fine" of a whole piece is no answer to any one question.
        if spoken_of.is_empty() || spoken_of.contains(&0) {
            return None;
        }
        let scene = self.line.finder.scene;
        let is_meant = |part: &usize| {
            spoken_of.iter().any(|&of| match sound.is_whole {
                true => scene.is_within(*part, of),
                false => of == *part,
            })
        };
        let parts = (0..scene.parts.len()).filter(is_meant);
        Some(Heard {
            typed: self.typed(),
            what: What::InOrder(InOrder {
                parts: parts.map(|part| scene.reference(part)).collect(),
                sure: manner.sure(false),
            }),
            dropped: Vec::new(),
            about: self.about(&spoken_of),
            is_instead: false,
            is_bound: false,
        })
    }

    fn seeker(&self) -> Seeker<'_> {
        Seeker {
            finder: self.line.finder,
            words: self.line.words,
            clause: &self.clause.words,
            quantities: self.line.quantities,
            subject: self.subject,
        }
    }

    /// The clause in the exact words of the rules.
    fn exact(&self, carried: &Carried) -> Option<(Vec<Heard>, Option<Vec<usize>>)> {
        let typed = self.typed();
        let scene = self.line.finder.scene;
        let words = &self.clause.words;
        let is_one = words.windows(2).all(|pair| pair[1] == pair[0] + 1);
        let text = self
            .text
            .get(typed.clone())
            .filter(|_| is_one && !self.clause.is_asked)
            .filter(|_| !self.is_taken_back && !self.is_alternative)
            .filter(|_| !matches!(self.clause.joint, Joint::Or | Joint::Nor))?;
        let facts = self.house.read_exactly(scene, text)?;
        if !self.subject.is_empty() && facts.iter().any(|fact| is_far_reaching(scene, fact)) {
            return None;
        }
        if carried.is_lost && facts.iter().any(|fact| scene.meant(&fact.part).len() > 1) {
            return None;
        }
        let about = facts.last()?.part.clone();
        let subject = scene.meant(&about);
        let heard = Heard {
            typed,
            what: What::Found(facts),
            dropped: Vec::new(),
            about,
            is_instead: false,
            is_bound: false,
        };
        Some((vec![heard], Some(subject)))
    }

    fn typed(&self) -> Range<usize> {
        let words = self
            .clause
            .words
            .iter()
            .map(|&at| &self.line.words[at].token);
        let start = words.clone().map(|token| token.start).min().unwrap_or(0);
        let end = words.map(|token| token.end).max().unwrap_or(0);
        start..end
    }

    /// The parts that are named, if it is certain which.
    fn spoken_of(&self, mentions: &[Mention]) -> Option<Vec<usize>> {
        let finder = &self.line.finder;
        let mut parts = Vec::new();
        for mention in mentions {
            let meant = finder.meant(mention, self.subject);
            if !meant.is_sure {
                return None;
            }
            parts.extend(meant.parts);
        }
        parts.dedup();
        (!parts.is_empty()).then_some(parts)
    }

    /// What is spoken of after a finding that named no part: what it was said of.
    fn subject_of(
        &self,
        found: &[(What, BTreeSet<usize>, Option<Candidate>)],
    ) -> Option<Vec<usize>> {
        let (what, _, best) = found.last()?;
        let best = best.as_ref()?;
        let is_found = matches!(what, What::Found(_)) && best.place.parts != [0];
        is_found.then(|| best.place.parts.clone())
    }

    fn put(&self, manner: &Manner, carried: &Carried, mentions: &[Mention]) -> Put {
        let hangs_on = match self.clause.joint {
            Joint::Nor => true,
            Joint::Or => carried.is_negated,
            _ => false,
        };
        let goes_on = carried.is_doubted && self.clause.joint == Joint::And && mentions.is_empty();
        let sure = manner.sure(goes_on);
        Put {
            yes: manner.nots.is_empty() && !hangs_on,
            sure,
            cannot: manner.cannot.is_some(),
        }
    }

    /// The findings that the clause makes, the best first.
    #[allow(clippy::too_many_arguments)]
    fn findings(
        &self,
        seeker: &Seeker<'_>,
        first: Vec<Candidate>,
        manner: &Manner,
        put: Put,
        is_apart: bool,
        carried: &Carried,
        mentions: &[Mention],
    ) -> Vec<Taken> {
        let (chosen, used) = self.chosen(seeker, first, mentions);
        let is_clear = !is_apart && self.is_clear(seeker, manner, mentions, (&chosen, &used));
        let two_ways = matches!(self.clause.joint, Joint::And | Joint::Weak)
            && carried.is_negated
            && manner.nots.is_empty()
            && mentions.is_empty();
        let negated_once = chosen.len() < 2 || put.yes;
        let is_turned = matches!(self.clause.joint, Joint::And | Joint::Weak)
            && carried.is_turned
            && mentions.is_empty();
        let is_lost = carried.is_lost && chosen.iter().any(|(best, _)| best.place.parts.len() > 1);
        // Whatever was meant before, this is said of it as well.
        let is_more_of_it =
            carried.is_unread && self.clause.joint == Joint::And && mentions.is_empty();
        let is_open = self.is_taken_back || self.is_alternative || is_lost || is_more_of_it;
        let is_plain = is_clear && !two_ways && negated_once && !is_turned && !is_open;
        let read = |is_plain: bool| -> Vec<What> {
            let each = chosen.iter();
            each.map(|(best, rivals)| self.what(best, rivals, manner, put, is_plain, two_ways))
                .collect()
        };
        let mut whats = read(is_plain);
        // Of several things said in one breath, one that must be asked makes all uncertain.
        if whats.len() > 1 && whats.iter().any(|what| !matches!(what, What::Found(_))) {
            whats = read(false);
        }
        let taken = chosen.iter().zip(whats);
        taken
            .map(|((best, _), what)| Taken {
                best: best.clone(),
                what,
            })
            .collect()
    }

    /// What the clause is taken to say, the best first, each with what it may be as well; also the
    /// words that this uses.
    fn chosen(
        &self,
        seeker: &Seeker<'_>,
        first: Vec<Candidate>,
        mentions: &[Mention],
    ) -> (Vec<Chosen>, BTreeSet<usize>) {
        let is_where = self.is_where(mentions);
        let mut chosen: Vec<Chosen> = Vec::new();
        let mut used: BTreeSet<usize> = BTreeSet::new();
        let mut candidates = first;
        while chosen.len() < MOST_FINDINGS {
            candidates.retain(|one| one.words.is_disjoint(&used));
            let is_more = !chosen.is_empty();
            let until = self.circumstance(&used);
            let in_time = |one: &Candidate| one.words.iter().all(|&at| at < until);
            let goes_on = |one: &&Candidate| one.is_whole() && one.place.far < 0.1 && in_time(one);
            let Some(best) = candidates
                .iter()
                .find(|one| !is_more || goes_on(one))
                .cloned()
            else {
                break;
            };
            if best.score() < OFFERED {
                break;
            }
            used.extend(&best.words);
            used.extend(&best.mentioned);
            let mut rivals = rivals(&best, &candidates);
            if best.is_whole() && !is_where {
                rivals.retain(|one| !explains_less(one, &best) && !is_above(one, &best));
            }
            // "Hinges tight" does not say that a door is tight along the edge.
            if best.is_well {
                rivals.retain(|one| one.is_well || one.is_whole());
            }
            let goes_on = best.is_whole();
            chosen.push((best, rivals));
            if !goes_on {
                break;
            }
            let (taken, wish) = (used.clone(), self.wish());
            candidates = seeker.candidates(&|at| at < wish && !taken.contains(&at));
        }
        (chosen, used)
    }

    pub(crate) fn remark(&self, spoken_of: &Option<Vec<usize>>) -> Heard {
        // What names something else is not about what was spoken of before.
        let mentions = || self.seeker().mentions(&|_| true).0;
        let about = match spoken_of {
            Some(parts) if !parts.is_empty() => parts.clone(),
            _ => match mentions().as_slice() {
                [] => self.subject.to_vec(),
                [one] => self.within(one),
                _ => Vec::new(),
            },
        };
        Heard {
            typed: self.typed(),
            what: What::Nothing,
            dropped: Vec::new(),
            about: self.about(&about),
            is_instead: false,
            is_bound: false,
        }
    }

    /// What the parts that a mention may mean are built into, if it is more than the piece.
    fn within(&self, mention: &Mention) -> Vec<usize> {
        let meant = self.line.finder.meant(mention, self.subject);
        self.line.finder.scene.built_into(&meant.parts)
    }

    /// The part that words are about, the piece if there are several or none.
    fn about(&self, parts: &[usize]) -> tellmark_language::model::PartRef {
        let scene = self.line.finder.scene;
        match scene.references(parts).as_slice() {
            [one] => one.clone(),
            _ => scene.reference(0),
        }
    }
}

/// The other candidates that share words with the best and are not plainly worse.
fn rivals(best: &Candidate, candidates: &[Candidate]) -> Vec<Candidate> {
    let is_rival = |one: &&Candidate| {
        let same = (one.meaning, &one.place.parts, &one.quantity)
            == (best.meaning, &best.place.parts, &best.quantity);
        let shares = !one.words.is_disjoint(&best.words);
        let explains_less = best.is_whole()
            && one.words.is_subset(&best.words)
            && one.words.len() < best.words.len();
        let weaker = one.words.is_subset(&best.words) && one.score() < best.score() - 0.3;
        !same && shares && one.score() >= OFFERED && !explains_less && !(best.is_whole() && weaker)
    };
    candidates
        .iter()
        .filter(is_rival)
        .take(MOST_READINGS)
        .cloned()
        .collect()
}
