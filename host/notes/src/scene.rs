//! The parts that a piece has, as far as its record says.

use tellmark_language::model::{
    Fact, Found, KindId, Model, PIECE, PartRef, PartStep, PieceOrder, Which,
};
use tellmark_language::span::Span;

/// More parts than this are not looked at one by one.
const MOST: usize = 4000;

/// A part of the piece.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    pub(crate) kind: KindId,
    pub(crate) owner: Option<usize>,
    /// Which one of its kind in its owner, from 1.
    pub(crate) number: u8,
    /// How many of its kind there are in its owner.
    pub(crate) of: u8,
    /// How it is called: by its name, its number, or as the only one.
    which: Which,
    /// "left".
    pub(crate) name: Option<String>,
}

/// A piece with its parts; the first is the piece itself.
#[derive(Clone, Debug)]
pub struct Scene {
    pub(crate) parts: Vec<Part>,
}

impl Scene {
    /// The parts of a piece that was opened like this, and of which so much has been found.
    #[must_use]
    pub fn of(model: &Model, order: &PieceOrder, known: &[&Fact]) -> Scene {
        let mut scene = Scene {
            parts: vec![Part {
                kind: order.kind,
                owner: None,
                number: 1,
                of: 1,
                which: Which::Only,
                name: None,
            }],
        };
        let mut at = 0;
        while at < scene.parts.len() && scene.parts.len() < MOST {
            scene.add_members(model, order, known, at);
            at += 1;
        }
        scene
    }

    fn add_members(&mut self, model: &Model, order: &PieceOrder, known: &[&Fact], owner: usize) {
        let kind = self.parts[owner].kind;
        let Some(entry) = model.kinds.get(kind.index()) else {
            return;
        };
        for member in &entry.members {
            let counted = known.iter().rev().find_map(|fact| match fact.found {
                Found::Count { part, number } if part == member.kind => {
                    self.is_meant(owner, &fact.part).then_some(number)
                }
                _ => None,
            });
            let ordered = order.counts.iter().find(|(kind, _)| *kind == member.kind);
            let ordered = ordered.map(|(_, number)| *number);
            let ordered = ordered.filter(|n| (member.least..=member.most).contains(n));
            let of = counted.or(ordered).unwrap_or(member.usual);
            for number in 1..=of {
                let name = member.names.get(usize::from(number) - 1);
                let which = match name {
                    Some(_) => Which::Named(number - 1),
                    None if member.most == 1 => Which::Only,
                    None => Which::Number(number),
                };
                self.parts.push(Part {
                    kind: member.kind,
                    owner: Some(owner),
                    number,
                    of,
                    which,
                    name: name.map(|name| name.to_lowercase()),
                });
            }
        }
    }

    /// What all of some parts are built into, if that is not the whole piece; none if they have
    /// nothing else in common.
    pub(crate) fn built_into(&self, parts: &[usize]) -> Vec<usize> {
        let Some((&first, others)) = parts.split_first() else {
            return Vec::new();
        };
        let has_all = |owner: &usize| others.iter().all(|&part| self.is_within(part, *owner));
        let common = self
            .lineage(first)
            .find(has_all)
            .filter(|&owner| owner != 0);
        common.into_iter().collect()
    }

    /// Every part, each as it is called.
    #[must_use]
    pub fn every_part(&self) -> Vec<PartRef> {
        (0..self.parts.len())
            .map(|part| self.reference(part))
            .collect()
    }

    /// The kind of a part that a reference means; `None` if the piece has none such.
    #[must_use]
    pub fn kind_of(&self, by: &PartRef) -> Option<KindId> {
        let part = *self.meant(by).first()?;
        self.parts.get(part).map(|part| part.kind)
    }

    /// A part, what it is built into, and so on to the piece.
    pub(crate) fn lineage(&self, part: usize) -> impl Iterator<Item = usize> + '_ {
        std::iter::successors(Some(part), |at| self.parts.get(*at)?.owner)
    }

    /// Whether a part is built into another, or is it.
    pub(crate) fn is_within(&self, part: usize, owner: usize) -> bool {
        self.lineage(part).any(|at| at == owner)
    }

    /// The parts of a kind, within a part.
    pub(crate) fn of_kind(&self, kind: KindId, within: usize) -> Vec<usize> {
        if kind == PIECE {
            return vec![0];
        }
        let parts = self.parts.iter().enumerate();
        let such = parts.filter(|(at, part)| part.kind == kind && self.is_within(*at, within));
        such.map(|(at, _)| at).collect()
    }

    /// Whether a reference means this part, among others perhaps.
    pub(crate) fn is_meant(&self, part: usize, by: &PartRef) -> bool {
        let mut lineage = self.lineage(part);
        for (at, step) in by.steps.iter().enumerate() {
            let is_it = |part: usize| {
                let part = &self.parts[part];
                let of_kind =
                    part.kind == step.kind || (step.kind == PIECE && part.owner.is_none());
                of_kind
                    && match step.which {
                        Which::Only | Which::Every => true,
                        Which::Number(number) => part.number == number,
                        Which::Named(name) => part.number == name + 1,
                    }
            };
            let found = if at == 0 {
                lineage.next().is_some_and(is_it)
            } else {
                lineage.any(is_it)
            };
            if !found {
                return false;
            }
        }
        true
    }

    /// The parts that a reference means.
    pub(crate) fn meant(&self, by: &PartRef) -> Vec<usize> {
        (0..self.parts.len())
            .filter(|&part| self.is_meant(part, by))
            .collect()
    }

    /// The single parts that a reference means, each as it is called.
    #[must_use]
    pub fn single_parts(&self, by: &PartRef) -> Vec<PartRef> {
        let parts = self.meant(by).into_iter();
        parts.map(|part| self.reference(part)).collect()
    }

    /// What single parts are called.
    pub(crate) fn reference(&self, part: usize) -> PartRef {
        let steps = self.lineage(part).map(|at| &self.parts[at]);
        let mut steps: Vec<PartStep> = steps
            .map(|part| PartStep {
                kind: part.kind,
                which: part.which.clone(),
            })
            .collect();
        if steps.len() > 1 {
            steps.pop();
        }
        PartRef {
            steps,
            at: Span::default(),
        }
    }

    /// What several parts are called, those that are every one of an owner together.
    pub(crate) fn references(&self, parts: &[usize]) -> Vec<PartRef> {
        if let [] | [_] = parts {
            return parts.iter().map(|&part| self.reference(part)).collect();
        }
        let mut owners: Vec<usize> = parts.iter().filter_map(|&p| self.parts[p].owner).collect();
        owners.dedup();
        let kind = self.parts[parts[0]].kind;
        let is_whole = |owner: &usize| {
            let mut such = self.of_kind(kind, *owner);
            such.retain(|&part| self.parts[part].owner == Some(*owner));
            such.iter().all(|part| parts.contains(part))
        };
        let same_kind = parts.iter().all(|&part| self.parts[part].kind == kind);
        if same_kind && !owners.is_empty() && owners.iter().all(is_whole) {
            return self.every(kind, parts, &owners);
        }
        let single = parts.iter().map(|&part| self.reference(part));
        single.collect()
    }

    fn every(&self, kind: KindId, parts: &[usize], owners: &[usize]) -> Vec<PartRef> {
        let several = parts.iter().any(|&part| self.parts[part].of > 1);
        let which = if several {
            Which::Every
        } else {
            self.parts[parts[0]].which.clone()
        };
        let step = PartStep { kind, which };
        let above = if owners == [0] {
            vec![PartRef {
                steps: Vec::new(),
                at: Span::default(),
            }]
        } else {
            self.references(owners)
        };
        let with = above.into_iter().map(|mut above| {
            above.steps.insert(0, step.clone());
            above
        });
        with.collect()
    }
}
