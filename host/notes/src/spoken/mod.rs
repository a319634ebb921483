//! One clause: what it is taken for, whether that is clear, and what of it is left over.

mod left;
mod missing;

use crate::candidate::{Candidate, Seeker};
use crate::clause::{Cannot, Clause, Joint, Manner};
use crate::english::{Small, is_praise, is_well};
use crate::findings::{Findings, Put};
use crate::house::House;
use crate::lexicon::Meaning;
use crate::mention::{Mention, SOME};
use crate::ordering::Line;
use crate::reading::{Heard, InOrder, MOST_READINGS, Reading, What, Why};
use crate::scene::Scene;
use crate::sound::sound;
use crate::token::Sort;
use std::collections::BTreeSet;
use std::ops::Range;
use tellmark_language::model::{Fact, PIECE, Sure};

/// A reading that fits less is not offered.
const OFFERED: f64 = 0.34;
/// How much better the best must fit than any other to be taken without asking.
const BETTER: f64 = 0.15;
/// So much farther is what a part is built into than the part itself.
const ABOVE: f64 = 0.35;
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
            *carried = Carried::default();
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
        manner.turns.retain(|&at| at < wish);
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
            is_turned: !manner.turns.is_empty(),
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

    fn says(&self, wanted: &[&str]) -> bool {
        let mut words = self.clause.words.iter();
        words.any(|&at| wanted.contains(&self.line.words[at].token.text.as_str()))
    }

    /// The word that says that all is well, if the clause ends in one.
    fn says_well(&self) -> Option<usize> {
        let words = self.line.words;
        let says = |at: &&usize| {
            words[**at].is_word() && !matches!(words[**at].small, Some(Small::Degree))
        };
        let last = self.clause.words.iter().rfind(says).copied()?;
        let is_denied = self
            .clause
            .words
            .iter()
            .any(|&at| matches!(words[at].small, Some(Small::Not | Small::Missing)));
        (is_well(&words[last].token.text) && !is_denied).then_some(last)
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
        let named = |at: usize| mentions.iter().any(|m| m.words.contains(&at));
        let sound = sound(self.line.words, self.clause, manner, &named)?;
        // "The rest of the drawers" is not the rest of each.
        if self.says(&["rest", "otherwise", "else"]) && mentions.iter().any(|m| m.step.is_plural) {
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

    /// Where it begins to say what is to be done, "needs gluing": nothing that stands there is
    /// found.
    fn wish(&self) -> usize {
        let wished = self.wished().filter(|&at| {
            // "Wants a new lock" may say something of the old one.
            let next = self
                .line
                .words
                .get(at + 1)
                .map(|word| word.token.text.as_str());
            !next.is_some_and(|next| matches!(next, "a" | "an" | "new" | "some" | "another"))
        });
        wished.unwrap_or(usize::MAX)
    }

    /// The word by which it says what is to be done.
    fn wished(&self) -> Option<usize> {
        const WISHES: [&str; 9] = [
            "need",
            "needs",
            "needed",
            "needing",
            "want",
            "wants",
            "require",
            "requires",
            "requiring",
        ];
        let wishes = |at: &usize| WISHES.contains(&self.line.words[*at].token.text.as_str());
        let mut words = self.clause.words.iter().copied();
        let last = self.clause.words.last().copied();
        words.find(|at| wishes(at) && Some(*at) != last)
    }

    /// Whether nothing in the clause speaks against what was chosen, or would be lost with it.
    fn is_clear(
        &self,
        seeker: &Seeker<'_>,
        manner: &Manner,
        mentions: &[Mention],
        (chosen, used): (&[Chosen], &BTreeSet<usize>),
    ) -> bool {
        let wish = self.wish();
        let all = seeker.candidates(&|at| at < wish);
        let may_say = |at: usize| {
            all.iter().any(|one| {
                one.words.contains(&at)
                    && one.coverage >= 0.5
                    && one.place.far < 0.3
                    && one.words.iter().any(|word| !used.contains(word))
            })
        };
        let left = self.left_over(used, manner, chosen);
        // "Handles of drawer 3, one is loose".
        let of_some = chosen.iter().any(|(best, _)| best.place.parts.len() > 1)
            && self.clause.words.iter().any(|at| {
                let text = self.line.words[*at].token.text.as_str();
                !used.contains(at) && (text == "one" || SOME.contains(&text))
            });
        // "Strands of the rush have broken at the front rail": it is not the rail that broke.
        let is_where = self.is_where(mentions) && left.iter().any(|left| left.why == Why::NoRule);
        // Beside words that nothing reads, what is said of a part is not said of the whole piece.
        let is_of_piece = chosen
            .iter()
            .any(|(best, _)| best.kind == PIECE && best.place.far > 0.1)
            && left.iter().any(|left| left.why == Why::NoRule);
        // A fault that nobody can see is not certain beside words that nothing reads.
        let is_hidden = chosen.iter().any(|(best, _)| best.is_hidden);
        let is_read = !is_hidden || left.iter().all(|left| left.why != Why::NoRule);
        // "Woodworm holes", of the back, where nobody named it and the whole piece may have them.
        let is_unnamed = mentions.is_empty()
            && self.subject.is_empty()
            && chosen.iter().any(|(best, rivals)| {
                best.kind != PIECE && rivals.iter().any(|rival| rival.kind == PIECE)
            });
        // "Caning needs replaced" finds nothing by itself.
        let is_wished = self.wished().is_some();
        is_read
            && !is_wished
            && !is_unnamed
            && !is_of_piece
            && !is_where
            && !of_some
            // "Rings gone": that they are there, or were.
            && (manner.missing.is_empty() || chosen.iter().all(|(best, _)| best.is_by_not))
            && manner.turns.is_empty()
            && left
                .iter()
                .all(|left| left.is_harmless || (!left.is_figure && !may_say(left.at)))
    }

    /// Where a circumstance begins, "when you lift it", behind what was said: nothing that
    /// stands in it is found.
    fn circumstance(&self, said: &BTreeSet<usize>) -> usize {
        const BEGINS: [&str; 9] = [
            "when", "while", "after", "until", "since", "where", "as", "because", "so",
        ];
        let first = said.first().copied().unwrap_or(usize::MAX);
        let mut words = self.clause.words.iter().copied();
        let begins = words
            .find(|&at| at > first && BEGINS.contains(&self.line.words[at].token.text.as_str()));
        begins.unwrap_or(usize::MAX)
    }

    /// What is written or offered for the best candidate and those beside it.
    fn what(
        &self,
        best: &Candidate,
        rivals: &[Candidate],
        manner: &Manner,
        put: Put,
        is_plain: bool,
        two_ways: bool,
    ) -> What {
        let facts = Findings {
            house: self.house,
            scene: self.line.finder.scene,
        };
        let put_for = |one: &Candidate| Put {
            yes: !one.is_well && (one.is_by_not || (put.yes && !one.place.is_no)),
            ..put
        };
        let nots = manner.nots.len() + usize::from(best.place.is_no);
        let is_careful =
            best.is_hidden && (best.coverage < 0.99 || best.near < 0.97 || best.is_loose);
        let asks_back = matches!(
            manner.cannot,
            Some(Cannot::Reach | Cannot::Any | Cannot::Doubt)
        );
        // "Walnut top" is not what the whole piece is made of.
        let is_far_value = matches!(best.meaning, Meaning::Value(..)) && best.place.far > 0.1;
        let is_not_what_is = self.is_not_what_is(best, manner);
        let may_be_else = asks_back || is_far_value || is_not_what_is || self.ends_in_praise(best);
        let is_clear = is_plain
            && !may_be_else
            && best.is_whole()
            && best.place.is_sure
            && nots <= 1
            && !is_careful
            && rivals
                .iter()
                .all(|rival| rival.score() < best.score() - BETTER);
        if is_clear && let Some(found) = facts.clear(best, put_for(best)) {
            return What::Found(found);
        }
        let mut readings: Vec<Reading> = Vec::new();
        let mut offer = |found: Vec<Fact>, fits: f64| {
            let is_new = !readings.iter().any(|one| one.facts == found);
            if is_new && !found.is_empty() && readings.len() < MOST_READINGS {
                readings.push(Reading { facts: found, fits });
            }
        };
        if !put_for(best).yes && manner.cannot.is_none() {
            offer(self.none_of_these(best, rivals, put), best.score());
        }
        for one in std::iter::once(best).chain(rivals) {
            let put = put_for(one);
            // Said in a way that can be taken for something else too.
            let or_else = match manner.cannot {
                Some(Cannot::Doubt) => Some(Put {
                    yes: true,
                    sure: Sure::Looks,
                    cannot: false,
                }),
                Some(Cannot::Any) => Some(Put {
                    yes: false,
                    sure: Sure::Ordinary,
                    cannot: false,
                }),
                _ => None,
            };
            // "No key" is no lock that is not stiff to the key.
            let is_denied = !put.yes && !one.is_well && !self.says(&["negative"]);
            if is_denied && !one.ends_it && !one.is_whole() && manner.cannot.is_none() {
                continue;
            }
            let turned = (two_ways || is_not_what_is).then_some(Put {
                yes: !put.yes,
                ..put
            });
            for put in [Some(put), or_else, turned].into_iter().flatten() {
                for found in facts.offered(one, put) {
                    offer(found, one.score());
                }
            }
        }
        if readings.is_empty() {
            What::Nothing
        } else {
            What::Choose(readings)
        }
    }

    /// "Can't see behind the interior": what is there is not the interior.
    fn is_beside(&self, mentions: &[Mention]) -> bool {
        const WHERE: [&str; 12] = [
            "behind",
            "under",
            "underneath",
            "beneath",
            "below",
            "inside",
            "into",
            "past",
            "through",
            "above",
            "beyond",
            "between",
        ];
        let first = mentions.iter().filter_map(|m| m.words.first()).min();
        let mut before = self.clause.words.iter().filter(|&at| Some(at) < first);
        before.any(|&at| WHERE.contains(&self.line.words[at].token.text.as_str()))
    }

    /// Whether a part only says where: "at the front rail".
    fn is_where(&self, mentions: &[Mention]) -> bool {
        const WHERE: [&str; 6] = ["at", "near", "by", "along", "beside", "against"];
        let words = self.line.words;
        mentions.iter().any(|mention| {
            let first = mention.words.iter().min().copied().unwrap_or_default();
            let mut before = words[..first].iter().rev().take(2);
            before.any(|word| WHERE.contains(&word.token.text.as_str()))
        })
    }

    /// "Old holes that don't match": they are there, and something else is not so.
    fn is_not_what_is(&self, best: &Candidate, manner: &Manner) -> bool {
        let last = best.words.last().copied().unwrap_or_default();
        let relates =
            |at: usize| ["that", "which", "who"].contains(&self.line.words[at].token.text.as_str());
        let mut after = self.clause.words.iter().copied().filter(|&at| at > last);
        let begins = after.find(|&at| relates(at));
        begins.is_some_and(|at| manner.nots.iter().any(|&not| not > at))
    }

    /// Whether it ends in a word that may just say that all is well: "the dovetails are fine" is
    /// not fine dovetails.
    fn ends_in_praise(&self, best: &Candidate) -> bool {
        let last = best.words.last().copied();
        best.words.len() > 1 && last.is_some_and(|at| is_praise(&self.line.words[at].token.text))
    }

    /// "No rings": none of all that ends with the word. Empty if there is only one such.
    fn none_of_these(&self, best: &Candidate, rivals: &[Candidate], put: Put) -> Vec<Fact> {
        let facts = Findings {
            house: self.house,
            scene: self.line.finder.scene,
        };
        let put = Put { yes: false, ..put };
        let such = std::iter::once(best).chain(rivals).filter(|one| {
            one.ends_it
                && !one.is_hidden
                && one.place.is_sure
                && one.words == best.words
                && (one.coverage - best.coverage).abs() < 0.1
        });
        let each: Vec<Vec<Fact>> = such.filter_map(|one| facts.clear(one, put)).collect();
        if each.len() < 2 {
            return Vec::new();
        }
        each.into_iter().flatten().collect()
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

    /// Whether the clause only names a part, for what follows.
    fn says_nothing(&self, mentions: &[Mention]) -> bool {
        // "No lock" says that there is none.
        if mentions.iter().any(Mention::is_none) {
            return false;
        }
        let is_named = |at: &usize| mentions.iter().any(|m| m.words.contains(at));
        self.clause.words.iter().all(|at| {
            let word = &self.line.words[*at];
            let is_empty = matches!(word.small, Some(Small::Empty | Small::And | Small::All));
            let is_mark = matches!(word.token.sort, Sort::Break(_) | Sort::Question);
            is_named(at) || is_empty || is_mark
        }) && (!mentions.is_empty()
            || self
                .clause
                .words
                .iter()
                .all(|&at| self.line.words[at].small.is_some()))
    }
}

/// "Screws are loose" of every screw there is, where one hinge is spoken of.
fn is_far_reaching(scene: &Scene, fact: &Fact) -> bool {
    let parts = scene.meant(&fact.part);
    let owner = |part: &usize| scene.parts[*part].owner;
    fact.part.steps.len() == 1 && parts.iter().any(|part| owner(part) != owner(&parts[0]))
}

/// Whether a candidate takes the name of a part for a word of what it says of something larger,
/// where the better one is said of that part itself: "screw 1 of the hinge is loose" is no loose
/// hinge.
fn is_above(one: &Candidate, best: &Candidate) -> bool {
    one.place.far >= best.place.far + ABOVE && !one.words.is_disjoint(&best.mentioned)
}

/// Whether a candidate leaves out a part that was named, and that the better one is said of:
/// "screw 1 of the hinge is loose" says nothing of the hinge itself.
fn explains_less(one: &Candidate, best: &Candidate) -> bool {
    let all = |of: &Candidate| -> BTreeSet<usize> { &of.words | &of.mentioned };
    let (one, best) = (all(one), all(best));
    one.is_subset(&best) && one.len() < best.len()
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
