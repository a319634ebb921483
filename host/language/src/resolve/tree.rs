//! What is built into what.

use std::collections::HashMap;

use crate::model::{KindId, Member, Model, PIECE};

/// The makeup of every kind, ready for looking up and down.
#[derive(Clone, Debug, Default)]
pub struct Tree {
    members: Vec<Vec<Member>>,
    /// The same by every word for them: bracket feet are feet too.
    called: Vec<Vec<Member>>,
    /// What is built into a kind, directly or not.
    within: Vec<Vec<KindId>>,
    /// The same by every word for it.
    below: Vec<Vec<KindId>>,
    /// The same, with what only some kinds of it have.
    ever_below: Vec<Vec<KindId>>,
    /// A kind, what it is a kind of, and so on.
    lineages: Vec<Vec<KindId>>,
    pieces: Vec<bool>,
}

/// The most steps that are looked down.
const DEEPEST: usize = 8;
/// The most ways down that are told apart.
const MOST_WAYS: usize = 16;
/// The most steps taken to find them.
const MOST_STEPS: u32 = 10_000;

impl Tree {
    /// The makeup a model has; what "a piece" has is what any piece has.
    #[must_use]
    pub fn of(model: &Model) -> Tree {
        let count = model.kinds.len();
        let mut tree = Tree {
            members: model.kinds.iter().map(|k| k.members.clone()).collect(),
            called: Vec::new(),
            within: vec![Vec::new(); count],
            below: vec![Vec::new(); count],
            ever_below: Vec::new(),
            lineages: (0..count)
                .filter_map(|index| u16::try_from(index).ok())
                .map(|index| model.lineage(KindId(index)).collect())
                .collect(),
            pieces: model.kinds.iter().map(|k| k.is_piece).collect(),
        };
        if count == 0 {
            return tree;
        }
        let mut all: Vec<Member> = tree.members[0].clone();
        for (index, kind) in model.kinds.iter().enumerate().skip(1) {
            if kind.is_piece {
                for member in &tree.members[index] {
                    match all.iter_mut().find(|m| m.kind == member.kind) {
                        Some(found) => {
                            found.most = found.most.max(member.most);
                            found.least = found.least.min(member.least);
                        }
                        None => all.push(member.clone()),
                    }
                }
            }
        }
        tree.members[0] = all;
        let mut done = vec![false; count];
        for index in 0..count {
            tree.fill(index, &mut done, 0);
        }
        tree.name_members();
        tree.find_ever_below();
        tree
    }

    /// Lists what each kind has by every word for it.
    fn name_members(&mut self) {
        let called = self
            .members
            .iter()
            .map(|members| self.by_every_word(members));
        self.called = called.collect();
        let pieces = self.pieces.iter().zip(&self.called).skip(1);
        let all = pieces
            .filter(|(is_piece, _)| **is_piece)
            .map(|(_, called)| called);
        let all = all.chain(self.called.first()).flatten();
        let mut any: Vec<Member> = Vec::new();
        for member in all {
            match any.iter_mut().find(|m| m.kind == member.kind) {
                Some(found) => {
                    found.most = found.most.max(member.most);
                    found.least = found.least.min(member.least);
                }
                None => any.push(member.clone()),
            }
        }
        if let Some(first) = self.called.first_mut() {
            *first = any;
        }
    }

    /// Members by every word for them, with the numbers of all that it stands for.
    fn by_every_word(&self, members: &[Member]) -> Vec<Member> {
        let mut called: Vec<Member> = Vec::new();
        for member in members {
            for &kind in self.lineage(member.kind) {
                if called.iter().any(|m| m.kind == kind) {
                    continue;
                }
                let mut such = members.iter().filter(|m| self.is_kind_of(m.kind, kind));
                let Some(first) = such.next() else { continue };
                let mut all = Member {
                    kind,
                    ..first.clone()
                };
                for more in such {
                    all.least = all.least.saturating_add(more.least);
                    all.most = all.most.saturating_add(more.most);
                    all.usual = all.usual.saturating_add(more.usual);
                    all.names.clear();
                }
                called.push(all);
            }
        }
        called
    }

    fn find_ever_below(&mut self) {
        self.ever_below = self.below.clone();
        for (kind, lineage) in self.lineages.iter().enumerate() {
            for general in lineage.iter().skip(1) {
                let more = self.below[kind].clone();
                let below = &mut self.ever_below[general.index()];
                below.extend(more);
                below.sort_unstable();
                below.dedup();
            }
        }
    }

    /// A kind, what it is a kind of, and so on.
    fn lineage(&self, kind: KindId) -> &[KindId] {
        self.lineages.get(kind.index()).map_or(&[], Vec::as_slice)
    }

    /// Whether one kind is the other, or a kind of it.
    #[must_use]
    pub fn is_kind_of(&self, kind: KindId, general: KindId) -> bool {
        self.lineage(kind).contains(&general)
    }

    fn fill(&mut self, index: usize, done: &mut [bool], depth: usize) {
        if done[index] || depth > 64 {
            return;
        }
        done[index] = true;
        let mut within: Vec<KindId> = Vec::new();
        for member in self.members[index].clone() {
            self.fill(member.kind.index(), done, depth + 1);
            within.push(member.kind);
            within.extend_from_slice(&self.within[member.kind.index()]);
        }
        within.sort_unstable();
        within.dedup();
        let called = within.iter().flat_map(|kind| self.lineage(*kind));
        let mut below: Vec<KindId> = called.copied().collect();
        below.sort_unstable();
        below.dedup();
        self.within[index] = within;
        self.below[index] = below;
    }

    /// What a kind is made of.
    #[must_use]
    pub fn members(&self, kind: KindId) -> &[Member] {
        self.members.get(kind.index()).map_or(&[], Vec::as_slice)
    }

    /// The very member of a kind, by its own word.
    #[must_use]
    pub fn own_member(&self, owner: KindId, part: KindId) -> Option<&Member> {
        self.members(owner).iter().find(|m| m.kind == part)
    }

    /// The member of a kind that a word stands for, if there is one; of several kinds of
    /// it, all together.
    #[must_use]
    pub fn member(&self, owner: KindId, part: KindId) -> Option<&Member> {
        let called = self.called.get(owner.index())?;
        called.iter().find(|m| m.kind == part)
    }

    /// Whether these very parts stand in a kind, directly or not.
    #[must_use]
    pub fn is_within(&self, part: KindId, owner: KindId) -> bool {
        let within = self.within.get(owner.index());
        within.is_some_and(|within| within.binary_search(&part).is_ok())
    }

    /// Whether `part` can be built into `owner` or into some kind of it, directly or not.
    #[must_use]
    pub fn can_be_in(&self, part: KindId, owner: KindId) -> bool {
        let inside = self
            .ever_below
            .get(owner.index())
            .is_some_and(|b| b.binary_search(&part).is_ok());
        inside || self.is_below(part, owner)
    }

    /// Whether `part` can be built into `owner`, directly or not.
    #[must_use]
    pub fn is_below(&self, part: KindId, owner: KindId) -> bool {
        if part == PIECE {
            return false;
        }
        let inside = self
            .below
            .get(owner.index())
            .is_some_and(|b| b.binary_search(&part).is_ok());
        inside || (owner == PIECE && self.is_piece(part))
    }

    /// Whether it is a piece.
    #[must_use]
    pub fn is_piece(&self, kind: KindId) -> bool {
        self.pieces.get(kind.index()).copied().unwrap_or(false)
    }

    /// Every way down from one kind to another.
    #[must_use]
    pub fn ways(&self, from: KindId, to: KindId) -> Vec<Vec<KindId>> {
        let mut found = Vec::new();
        let mut steps = MOST_STEPS;
        self.walk(from, to, &mut Vec::new(), &mut found, &mut steps);
        found.sort_by_key(Vec::len);
        found.dedup();
        // "The runners of its drawers" are those of its small drawers too.
        let all = found.clone();
        let covers = |one: &[KindId], other: &[KindId]| {
            let mut steps = one.iter().zip(other);
            one.len() == other.len() && steps.all(|(one, other)| self.is_kind_of(*other, *one))
        };
        found.retain(|way| !all.iter().any(|other| other != way && covers(other, way)));
        found
    }

    fn walk(
        &self,
        from: KindId,
        to: KindId,
        path: &mut Vec<KindId>,
        found: &mut Vec<Vec<KindId>>,
        steps: &mut u32,
    ) {
        if path.len() >= DEEPEST || found.len() >= MOST_WAYS || *steps == 0 {
            return;
        }
        *steps -= 1;
        for member in self.members(from) {
            let here = self.is_kind_of(member.kind, to);
            if !here && !self.is_below(to, member.kind) {
                continue;
            }
            path.push(to);
            if here && !found.contains(path) {
                found.push(path.clone());
            }
            path.pop();
            path.push(member.kind);
            if self.is_below(to, member.kind) {
                self.walk(member.kind, to, path, found, steps);
            }
            path.pop();
        }
    }

    /// How many there can be at the end of a way: fewest and most.
    #[must_use]
    pub fn range(&self, from: KindId, path: &[KindId]) -> (u32, u32) {
        let mut owner = from;
        let (mut least, mut most) = (1_u32, 1_u32);
        for part in path {
            let (low, high) = self
                .member(owner, *part)
                .map_or((0, 1), |m| (m.least, m.most));
            least = least.saturating_mul(u32::from(low));
            most = most.saturating_mul(u32::from(high));
            owner = *part;
        }
        (least, most)
    }

    /// Kinds that `part` is a direct member of.
    #[must_use]
    pub fn owners(&self, part: KindId) -> Vec<KindId> {
        (0..self.members.len())
            .filter_map(|i| u16::try_from(i).ok())
            .map(KindId)
            .filter(|owner| *owner != PIECE || self.pieces.len() == 1)
            .filter(|owner| self.member(*owner, part).is_some())
            .collect()
    }
}

/// Finds a circle in the makeup: the kinds on it, in order.
#[must_use]
pub fn circle(model: &Model) -> Option<Vec<KindId>> {
    // 1: on the way; 2: done.
    let mut marks: HashMap<KindId, u8> = HashMap::new();
    for index in 0..model.kinds.len() {
        let Ok(id) = u16::try_from(index) else { break };
        let mut way: Vec<(KindId, usize)> = vec![(KindId(id), 0)];
        if marks.contains_key(&KindId(id)) {
            continue;
        }
        marks.insert(KindId(id), 1);
        while let Some((kind, next)) = way.last_mut() {
            let members = &model.kinds[kind.index()].members;
            let Some(member) = members.get(*next) else {
                marks.insert(*kind, 2);
                way.pop();
                continue;
            };
            *next += 1;
            match marks.get(&member.kind) {
                None => {
                    marks.insert(member.kind, 1);
                    way.push((member.kind, 0));
                }
                Some(1) => {
                    let from = way.iter().position(|(k, _)| *k == member.kind)?;
                    let mut round: Vec<KindId> = way[from..].iter().map(|(k, _)| *k).collect();
                    round.push(member.kind);
                    return Some(round);
                }
                Some(_) => {}
            }
        }
    }
    None
}
