//! What a clause may say: every saying of the house that some of its words stand in, and
//! the parts that it would be said of.

use crate::english::Small;
use crate::lexicon::{Known, Meaning, Saying};
use crate::line::Word;
use crate::meant::Meant;
use crate::measure::Quantity;
use crate::mention::{Finder, Mention, Pick};
use std::collections::{BTreeMap, BTreeSet};
use tellmark_language::model::{Asks, KindId, Nature, PIECE, SignId};

/// A saying that a clause may mean.
#[derive(Clone, Debug)]
pub(crate) struct Candidate {
    pub(crate) kind: KindId,
    pub(crate) meaning: Meaning,
    /// The words that it rests on.
    pub(crate) words: BTreeSet<usize>,
    /// How much of the saying was said, up to 1.
    pub(crate) coverage: f64,
    /// How near the words are to those of the house: the worst of them.
    pub(crate) near: f64,
    /// The words that name parts, where this is meant.
    pub(crate) mentioned: BTreeSet<usize>,
    /// The parts that it would be said of.
    pub(crate) place: Placed,
    pub(crate) is_hidden: bool,
    /// It was said in one word that is not the house's own for it.
    pub(crate) is_loose: bool,
    /// The quantity that goes with it.
    pub(crate) quantity: Option<Quantity>,
    /// The word that the saying turns on is among those that were said: "rings" of "black
    /// rings".
    pub(crate) ends_it: bool,
    /// It stands for something else than its words say by themselves: "split" for "cracked".
    pub(crate) is_derived: bool,
    /// The "not" of the clause says it, and does not deny it: "won't shut", "no key" of "lost
    /// keys".
    pub(crate) is_by_not: bool,
    /// It goes as it should, so this is not so: "shuts nicely" of "won't shut" or "shutting badly".
    pub(crate) is_well: bool,
}

/// The parts that something would be said of.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Placed {
    pub(crate) parts: Vec<usize>,
    /// Whether it is certain which.
    pub(crate) is_sure: bool,
    /// "no drawer is …".
    pub(crate) is_no: bool,
    /// How far it is from what was named.
    pub(crate) far: f64,
    /// One was spoken of: "hinge broken".
    pub(crate) is_one: bool,
}

impl Candidate {
    /// How well it fits, up to 1.
    pub(crate) fn score(&self) -> f64 {
        self.coverage * self.near - self.place.far
    }

    /// Whether all of it was said, in words that leave no doubt.
    pub(crate) fn is_whole(&self) -> bool {
        self.coverage >= WHOLE && self.near >= NEAR && self.place.far <= FAR
    }
}

const WHOLE: f64 = 0.85;
const NEAR: f64 = 0.84;
const FAR: f64 = 0.2;
/// How far a part inside the one that was named is: what can be said of that itself is
/// meant, if anything is.
const INSIDE: f64 = 0.16;
/// How far a part is that only stands next to the one that was named.
const NEXT_TO: f64 = 0.35;
/// What a saying is worth of which the one word that says it was not said.
const HALF: f64 = 0.6;
/// What a saying is worth of which the thing was said, and that it is well: "tooling good".
const PRAISED: f64 = 0.9;
/// Less than this of a saying is no candidate.
const LEAST: f64 = 0.3;

/// How much farther a part is, where none was named, for each that it is built into.
const DEEPER: f64 = 0.01;

/// Everything that looking for candidates needs.
pub(crate) struct Seeker<'s> {
    pub(crate) finder: Finder<'s>,
    pub(crate) words: &'s [Word],
    /// The words of the clause, in their order.
    pub(crate) clause: &'s [usize],
    pub(crate) quantities: &'s [Quantity],
    /// What is spoken of, where the clause does not say.
    pub(crate) subject: &'s [usize],
}

/// The words of a saying that were said: how near, and which word.
pub(crate) type Slots = Vec<Option<(f64, usize)>>;

impl Seeker<'_> {
    /// Every candidate, the best first; `free` says which words are not taken yet.
    pub(crate) fn candidates(&self, free: &dyn Fn(usize) -> bool) -> Vec<Candidate> {
        let mut candidates = Vec::new();
        let (plain, _) = self.mentions(&|_| true);
        let named: BTreeSet<usize> = plain.iter().flat_map(|m| m.words.iter().copied()).collect();
        // The "right" of "right door" is no word of "won't shut right".
        let is_free = |at: usize| {
            let is_of_part = named.contains(&at)
                && named.contains(&(at + 1))
                && self.finder.is_name(&self.words[at]);
            free(at) && !is_of_part
        };
        for (index, slots) in self.said(&is_free) {
            let saying = &self.finder.lexicon.sayings[index];
            if let Some(candidate) = self.candidate(saying, &slots, &plain, &named) {
                self.add_meanings(candidate, &mut candidates);
            }
        }
        let same = |a: &Candidate, b: &Candidate| {
            (a.meaning, &a.place.parts, &a.quantity) == (b.meaning, &b.place.parts, &b.quantity)
        };
        candidates.sort_by(|a, b| {
            let by_score = b.rank().total_cmp(&a.rank());
            by_score.then_with(|| a.meaning.cmp(&b.meaning))
        });
        let mut kept: Vec<Candidate> = Vec::new();
        for candidate in candidates {
            if !kept.iter().any(|one| same(one, &candidate)) {
                kept.push(candidate);
            }
        }
        kept
    }

    /// Which words of which saying stand in the clause.
    fn said(&self, free: &dyn Fn(usize) -> bool) -> BTreeMap<usize, Slots> {
        let lexicon = self.finder.lexicon;
        let mut said: BTreeMap<usize, Slots> = BTreeMap::new();
        for at in self.clause.iter().copied().filter(|at| free(*at)) {
            let word = &self.words[at];
            if !word.is_word() {
                continue;
            }
            let plain = [Known {
                word: word.token.text.clone(),
                near: 1.0,
            }];
            let known = if word.known.is_empty() {
                &plain
            } else {
                word.known.as_slice()
            };
            for known in known {
                for (saying, slot, near) in lexicon.with(known) {
                    let count = lexicon.sayings[saying].words.len();
                    let slots = said.entry(saying).or_insert_with(|| vec![None; count]);
                    let better = slots[slot].is_none_or(|(before, _)| before < near);
                    // "side" is not both sides of "side-to-side".
                    let is_taken = slots.iter().flatten().any(|(_, taken)| *taken == at);
                    if better && !is_taken {
                        slots[slot] = Some((near, at));
                    }
                }
            }
        }
        said
    }

    fn candidate(
        &self,
        saying: &Saying,
        slots: &Slots,
        plain: &[Mention],
        named: &BTreeSet<usize>,
    ) -> Option<Candidate> {
        let weights = saying.words.iter().map(|word| word.weight);
        let all: f64 = weights.sum();
        let mut said = 0.0;
        let mut near: f64 = 1.0;
        let mut words = BTreeSet::new();
        for (word, slot) in saying.words.iter().zip(slots) {
            if let Some((how_near, at)) = slot {
                said += word.weight;
                near = near.min(*how_near);
                words.insert(*at);
            }
        }
        let mut is_by_not = false;
        let mut is_well = false;
        let praise = saying
            .goes
            .and_then(|goes| self.goes_well(&words, saying, goes, named));
        if let Some(praise) = praise {
            // "Runs fine", of "not running freely": whatever word says how it goes.
            said += saying.how.map_or(0.0, |how| saying.words[how].weight);
            words.insert(praise);
            is_well = true;
        } else if saying.is_negated {
            // "Nothing shuts" is no lid that won't.
            let is_of_verb = |text: &str| {
                !matches!(
                    text,
                    "no" | "none" | "nothing" | "never" | "nor" | "neither" | "without"
                )
            };
            is_by_not = self.denial(is_of_verb);
            // "Tight", of "not tight".
            is_well = !is_by_not && self.is_affirmed(saying, slots, plain);
            if !is_by_not && !is_well {
                return None;
            }
        }
        if let Some(turns) = saying.turns
            && slots.get(turns).is_some_and(Option::is_none)
        {
            // "Level" is not "out of level", and "not level" is.
            is_by_not = self.denial(|_| true);
            is_well = !is_by_not && self.is_affirmed(saying, slots, plain);
            if !is_by_not && !is_well {
                return None;
            }
            said += saying.words[turns].weight;
        }
        if let Some(loss) = saying.loss
            && slots.get(loss).is_some_and(Option::is_none)
        {
            // "Key present" is no lost key.
            is_by_not = self.is_without(words.first().copied()?);
            if !is_by_not {
                words.insert(self.is_there(&words, named)?);
                is_well = true;
            }
            said += saying.words[loss].weight;
        }
        if !is_by_not
            && !is_well
            && let Some(praise) = self.is_praised(saying, slots, named)
        {
            // "Tooling good", of "rubbed in the tooling".
            said = all * PRAISED;
            words.insert(praise);
            is_well = true;
        }
        // "Escutcheon" is not "escutcheon off".
        let is_half = !is_well
            && saying
                .needs
                .is_some_and(|at| slots.get(at).is_some_and(Option::is_none));
        let coverage = said / all * if is_half { HALF } else { 1.0 };
        let says_something = words
            .iter()
            .any(|at| self.words[*at].small.is_none() || coverage >= 0.99);
        // "Catch" of "catch holds" names a part: it is no "catching".
        let is_form = saying.words.len() == 1 && near < 1.0;
        // "Can't see the lock" is not "won't lock".
        let is_noun = is_by_not
            && words.first().is_some_and(|&first| {
                let before = first.checked_sub(1).and_then(|at| self.words.get(at));
                before.is_none_or(|word| word.small != Some(Small::Not))
            });
        let is_name = words.is_subset(named) && (coverage < 0.99 || is_form || is_noun);
        if coverage < LEAST || !says_something || is_name {
            return None;
        }
        let typed: Vec<String> = words
            .iter()
            .map(|at| self.words[*at].token.text.clone())
            .collect();
        if self.finder.lexicon.is_apart(&typed, saying) {
            return None;
        }
        let is_full = coverage >= 0.99 && words.len() > 1 && words.is_disjoint(named);
        let (mut place, mentioned) = self.placed(saying.kind, &words, plain, named, is_full)?;
        // "Lost" by itself is of something: that one sort of part can be said to be lost does not
        // say that it is meant.
        let is_loss = words
            .iter()
            .all(|&at| self.words[at].small == Some(Small::Missing));
        if is_loss && mentioned.is_empty() && !place.parts.contains(&0) {
            place.is_sure = false;
        }
        // "No crack" of what is spoken of is none of any sort.
        let ends_it = slots.get(saying.head).is_some_and(Option::is_some);
        let is_itself = place.far == 0.0 && !(mentioned.is_empty() && self.subject.is_empty());
        let is_none = ends_it && is_itself && !is_by_not && !saying.is_hidden && self.denies_all();
        let coverage = match is_none {
            true => coverage.max(PRAISED),
            false => coverage,
        };
        Some(Candidate {
            kind: saying.kind,
            meaning: saying.meaning,
            coverage,
            near,
            mentioned,
            place,
            is_hidden: saying.is_hidden,
            is_loose: saying.is_loose,
            quantity: None,
            ends_it,
            is_derived: false,
            is_by_not,
            is_well,
            words,
        })
    }

    /// Whether the clause has a "not" of some sort.
    pub(crate) fn denial(&self, is_such: impl Fn(&str) -> bool) -> bool {
        self.clause.iter().any(|&at| {
            let word = &self.words[at];
            word.small == Some(Small::Not) && is_such(&word.token.text)
        })
    }

    /// Whether it is denied by a "no" that begins the clause: "no crack".
    fn denies_all(&self) -> bool {
        let mut words = self.clause.iter().map(|&at| &self.words[at]);
        let first = words.find(|word| word.is_word());
        first.is_some_and(|word| matches!(word.token.text.as_str(), "no" | "without"))
    }

    /// "No key", "without key", "key missing": whether the word that begins at a place is said
    /// not to be there.
    fn is_without(&self, first: usize) -> bool {
        let missing = |at: &usize| self.words[*at].small == Some(Small::Missing);
        if self.clause.iter().any(missing) {
            return !self.denial(|_| true);
        }
        let before = self.clause.iter().rev().copied().filter(|&at| at < first);
        let mut before = before
            .skip_while(|&at| matches!(self.words[at].small, Some(Small::Empty | Small::Degree)));
        let is_no = |at: usize| matches!(self.words[at].token.text.as_str(), "no" | "none");
        before.next().is_some_and(is_no)
    }

    /// The parts that it is said of, and the words that name them. What is said in full, and in
    /// more than a word, may be meant of what stands next to the part that is named.
    fn placed(
        &self,
        kind: KindId,
        words: &BTreeSet<usize>,
        plain: &[Mention],
        named: &BTreeSet<usize>,
        is_full: bool,
    ) -> Option<(Placed, BTreeSet<usize>)> {
        // Words of the saying do not name parts as well, unless there are no others, or what they
        // help to name is what it is said of: "pane 3 missing", of "pane missing".
        let own;
        let mentions = if words.is_disjoint(named) {
            plain
        } else {
            let is_said = |mention: &&Mention| mention.words.iter().any(|at| words.contains(at));
            let goes_on = |mention: &Mention| {
                !mention.step.picks.is_empty() && mention.step.kinds.contains(&kind)
            };
            own = match plain.iter().filter(is_said).any(goes_on) {
                true => {
                    let kept = plain.iter().filter(|m| !is_said(m) || goes_on(m));
                    kept.cloned().collect()
                }
                false => self.mentions(&|at| !words.contains(&at)).0,
            };
            own.as_slice()
        };
        let mentioned: BTreeSet<usize> = mentions
            .iter()
            .flat_map(|m| m.words.iter().copied())
            .collect();
        if mentions.is_empty() {
            let mut unnamed = self.unnamed(kind)?;
            let mut said = plain
                .iter()
                .filter(|m| m.words.iter().any(|at| words.contains(at)));
            unnamed.is_one = said.any(|mention| self.speaks_of_one(mention, kind));
            return Some((unnamed, mentioned));
        }
        let mut all: Option<Placed> = None;
        let mut is_left = false;
        // Nothing that this piece could have: it says nothing about where, but something is amiss.
        let is_elsewhere = |mention: &Mention| !self.finder.can_be_here(&mention.step.kinds);
        if mentions.iter().all(is_elsewhere) {
            let unnamed = self.unnamed(kind)?;
            let placed = Placed {
                is_sure: false,
                far: unnamed.far + 0.15,
                ..unnamed
            };
            return Some((placed, mentioned));
        }
        for mention in mentions {
            let meant = self.finder.meant(mention, self.subject);
            let Some(placed) = self.beside(kind, &meant, is_full) else {
                is_left = true;
                continue;
            };
            all = Some(match all {
                None => placed,
                Some(mut all) => {
                    all.parts.extend(placed.parts);
                    all.is_sure &= placed.is_sure;
                    all.far = all.far.max(placed.far);
                    all.is_no |= placed.is_no;
                    all
                }
            });
        }
        let mut all = all?;
        // A part that this cannot be said of was named as well.
        if is_left {
            all.is_sure = false;
            all.far += 0.1;
        }
        all.parts.dedup();
        all.is_one = mentions
            .iter()
            .all(|mention| self.speaks_of_one(mention, kind));
        Some((all, mentioned))
    }

    /// Whether a mention speaks of one part of a kind: "hinge".
    fn speaks_of_one(&self, mention: &Mention, kind: KindId) -> bool {
        let step = &mention.step;
        let is_many = |pick: &Pick| matches!(pick, Pick::All | Pick::Both | Pick::No);
        let is_such = |&of: &KindId| self.finder.model.is_kind_of(kind, of);
        step.kinds.iter().any(is_such) && !step.is_plural && !step.picks.iter().any(is_many)
    }

    /// The parts of a kind that go with the parts that were named.
    fn beside(&self, kind: KindId, meant: &Meant, is_full: bool) -> Option<Placed> {
        let scene = self.finder.scene;
        let mut placed = Placed {
            parts: Vec::new(),
            is_sure: meant.is_sure,
            is_no: meant.is_no,
            far: 0.0,
            is_one: false,
        };
        let mut take = |parts: Vec<usize>, far: f64, sure: bool| {
            placed.parts.extend(parts);
            placed.far = placed.far.max(far);
            placed.is_sure &= sure;
        };
        let model = self.finder.model;
        let has_some = |kind| meant.parts.iter().any(|&p| scene.parts[p].kind == kind);
        for &part in &meant.parts {
            // Of "all drawers" the small ones go with the drawers, as "every drawer" does.
            let is_special = scene.parts[part].kind != kind;
            if is_special && model.is_kind_of(scene.parts[part].kind, kind) && has_some(kind) {
                take(vec![part], 0.0, true);
                continue;
            }
            let is_root = scene.parts[part].owner.is_none();
            if scene.parts[part].kind == kind || (kind == PIECE && is_root) {
                take(vec![part], 0.0, true);
            } else if kind == PIECE {
                take(vec![0], 0.12, true);
            } else {
                let within = scene.of_kind(kind, part);
                match within.len() {
                    0 => {
                        let mut above = scene.lineage(part);
                        match above.find(|&at| scene.parts[at].kind == kind) {
                            Some(owner) => take(vec![owner], 0.4, true),
                            // "Right door key lost", where the lock is the cupboard's.
                            None if is_full => take(self.next_to(kind, part)?, NEXT_TO, false),
                            None => return None,
                        }
                    }
                    1 => take(within, if is_root { 0.0 } else { INSIDE }, true),
                    _ => take(within, INSIDE, false),
                }
            }
        }
        placed.parts.sort_unstable();
        placed.parts.dedup();
        (!placed.parts.is_empty()).then_some(placed)
    }

    /// The parts of a kind that stand next to a part, in the nearest thing that both are built
    /// into.
    fn next_to(&self, kind: KindId, part: usize) -> Option<Vec<usize>> {
        let scene = self.finder.scene;
        let mut around = scene.lineage(part);
        around.find_map(|at| Some(scene.of_kind(kind, at)).filter(|found| !found.is_empty()))
    }

    /// The parts of a kind that go with what is spoken of, or with the piece.
    fn unnamed(&self, kind: KindId) -> Option<Placed> {
        let scene = self.finder.scene;
        let placed = |parts: Vec<usize>, is_sure: bool, far: f64| Placed {
            parts,
            is_sure,
            is_no: false,
            far,
            is_one: false,
        };
        if kind == PIECE {
            return Some(placed(
                vec![0],
                true,
                if self.subject.is_empty() { 0.0 } else { 0.02 },
            ));
        }
        if !self.subject.is_empty() {
            let spoken_of = Meant {
                parts: self.subject.to_vec(),
                is_sure: true,
                is_no: false,
            };
            if let Some(mut near) = self.beside(kind, &spoken_of, false) {
                near.far = match near.far {
                    far if far >= 0.4 => 0.2,
                    far => far,
                };
                return Some(near);
            }
        }
        let all = scene.of_kind(kind, 0);
        let far = if self.subject.is_empty() { 0.0 } else { 0.25 };
        match all.len() {
            0 => None,
            // "Wobbles" is said rather of the frame than of a rail of its back.
            1 => {
                let deep = scene.lineage(all[0]).skip(2).count().min(3);
                let deep = f64::from(u8::try_from(deep).unwrap_or(0));
                Some(placed(all, true, far + DEEPER * deep))
            }
            _ => Some(placed(all, false, far + 0.05)),
        }
    }

    /// The parts that the clause speaks of, and whether a name of one stands apart.
    pub(crate) fn mentions(&self, usable: &dyn Fn(usize) -> bool) -> (Vec<Mention>, bool) {
        let clause = self.clause;
        let inside = |at: usize| clause.contains(&at) && usable(at);
        let mut mentions = self.finder.mentions(self.words, &inside);
        mentions.retain(|mention| mention.words.iter().any(|at| clause.contains(at)));
        self.leave_out_where(&mut mentions);
        let used: BTreeSet<usize> = mentions
            .iter()
            .flat_map(|m| m.words.iter().copied())
            .collect();
        let mut apart = false;
        for at in clause
            .iter()
            .copied()
            .filter(|at| inside(*at) && !used.contains(at))
        {
            let Some(name) = self.finder.name_word(&self.words[at]) else {
                continue;
            };
            if Finder::is_no_side(self.words, at) {
                continue;
            }
            // "L" for left only where a part could be so called.
            if self.finder.give_name(&mut mentions, &name) {
                if let Some(last) = mentions.last_mut() {
                    last.words.push(at);
                }
            } else if mentions.is_empty()
                && let Some(mut mention) = self.finder.by_name(&name, self.subject)
            {
                mention.words.push(at);
                // "The right one".
                let one = Some(at + 1).filter(|&at| inside(at) && self.words[at].is_one());
                mention.words.extend(one);
                mentions.push(mention);
            } else if self.finder.lexicon.is_whole_name(&name)
                && (at > 0 || self.words[at].small.is_none())
            {
                apart = true;
            }
        }
        if mentions.is_empty()
            && let Some(&first) = clause.first()
            && let Some(number) = self.words.get(first).and_then(Word::figure)
            && !self.quantities.iter().any(|q| q.from == first)
            && let Some(mut mention) = self.finder.by_number(number, self.subject)
        {
            mention.words.push(first);
            mentions.push(mention);
        }
        self.finder
            .others(self.words, clause, &mut mentions, self.subject);
        (mentions, apart)
    }

    /// Leaves out a part that only says where on another something is: "leg loose at the top".
    fn leave_out_where(&self, mentions: &mut Vec<Mention>) {
        const WHERE: [&str; 7] = ["at", "near", "by", "along", "against", "towards", "toward"];
        let others = mentions.len() > 1 || !self.subject.is_empty();
        if !others {
            return;
        }
        let says_where = |mention: &Mention| {
            let first = mention.words.iter().min().copied().unwrap_or_default();
            let mut before = self.words[..first].iter().rev();
            let before = before.find(|word| word.token.text != "the");
            before.is_some_and(|word| WHERE.contains(&word.token.text.as_str()))
        };
        // Of what is built into what is spoken of, it may be said all the same.
        let scene = self.finder.scene;
        let is_inside = |mention: &Mention| {
            let kinds = &mention.step.kinds;
            self.subject.iter().any(|&of| {
                let mut inside = (0..scene.parts.len()).filter(|&at| scene.is_within(at, of));
                inside.any(|at| kinds.contains(&scene.parts[at].kind))
            })
        };
        let keep: Vec<bool> = mentions
            .iter()
            .map(|mention| !says_where(mention) || !mention.outer.is_empty() || is_inside(mention))
            .collect();
        if mentions.len() > 1 && !keep.contains(&true) {
            return;
        }
        let mut keep = keep.into_iter();
        mentions.retain(|_| keep.next().unwrap_or(true));
    }

    /// A candidate, or what it comes to where there is a quantity or there is none.
    fn add_meanings(&self, candidate: Candidate, candidates: &mut Vec<Candidate>) {
        let model = self.finder.model;
        match candidate.meaning {
            Meaning::Measure(sign) => {
                let before = candidates.len();
                self.add_measured(&candidate, sign, candidates);
                if candidates.len() == before {
                    self.add_named_marks(&candidate, sign, candidates);
                }
            }
            Meaning::State(state) => {
                let nature = model.states.get(state.index()).map(|state| &state.nature);
                if let Some(Nature::CountsAs { sign, .. }) = nature
                    && model.degree_of(state).is_none()
                {
                    self.add_measured(&candidate, *sign, candidates);
                }
                candidates.push(candidate);
            }
            Meaning::Value(..) | Meaning::Degree(..) => candidates.push(candidate),
        }
    }

    /// A measure with each quantity that can be its reading.
    fn add_measured(&self, candidate: &Candidate, sign: SignId, to: &mut Vec<Candidate>) {
        let Some(Asks::HowMuch { word, unit, .. }) =
            self.finder.model.signs.get(sign.index()).map(|s| &s.asks)
        else {
            return;
        };
        let here = self
            .quantities
            .iter()
            .filter(|q| self.clause.contains(&q.from));
        let fits: Vec<&Quantity> = here.filter(|q| q.unit.fits(*unit)).collect();
        let goes_on = |q: &Quantity| {
            let next = self.words.get(q.until);
            next.is_some_and(|next| next.token.text == *word)
        };
        let named: Vec<&Quantity> = fits.iter().copied().filter(|q| goes_on(q)).collect();
        let chosen = if named.len() == 1 { named } else { fits };
        let is_one = chosen.len() == 1;
        for quantity in chosen {
            let mut measured = candidate.clone();
            measured.meaning = Meaning::Measure(sign);
            measured.quantity = Some(quantity.clone());
            measured.words.extend(quantity.from..quantity.until);
            if !is_one {
                measured.near = measured.near.min(0.8);
            }
            if quantity.is_about {
                let about = self
                    .clause
                    .iter()
                    .copied()
                    .find(|&at| self.words[at].small == Some(Small::About));
                measured.words.extend(about);
            }
            to.push(measured);
        }
    }

    /// "Split", without saying how wide: what a measure counts as.
    fn add_named_marks(&self, candidate: &Candidate, sign: SignId, to: &mut Vec<Candidate>) {
        let model = self.finder.model;
        let ends = model
            .signs
            .get(sign.index())
            .and_then(|sign| sign.asks.ends());
        let Some((least, most)) = ends else {
            return;
        };
        for (state, entry) in (0..)
            .map(tellmark_language::model::StateId)
            .zip(&model.states)
        {
            let Nature::CountsAs { sign: of, mark } = &entry.nature else {
                continue;
            };
            if *of != sign {
                continue;
            }
            // A mark that is next to nothing says no more than that there is some of it.
            let is_low = (mark.at_least - least).saturating_mul(10) <= most - least;
            let mut named = candidate.clone();
            named.meaning = Meaning::State(state);
            named.is_derived = true;
            named.near = named.near.min(if is_low { 0.9 } else { 0.7 });
            to.push(named);
        }
    }
}

impl Candidate {
    /// What it is ordered by: how well it fits, and how much of the clause it explains.
    fn rank(&self) -> f64 {
        let words = f64::from(u32::try_from(self.words.len()).unwrap_or(u32::MAX));
        // The "not" that says it is explained, too.
        let nots = f64::from(u8::from(self.is_by_not));
        // "Hinges tight" praises them rather, where it may be either.
        let well = f64::from(u8::from(self.is_well)) * 0.01;
        self.score() + well + 0.06 * (words + nots).min(5.0)
    }
}
