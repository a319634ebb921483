//! Which parts of the piece a mention means, and whether that is certain.

use crate::english::{self, Place};
use crate::mention::{Finder, Mention, Pick, Step};
use tellmark_language::model::{CountedFrom, KindId, PIECE, PartRef, PartStep, Which};

/// The parts that a mention means.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Meant {
    pub(crate) parts: Vec<usize>,
    /// Whether it is certain which.
    pub(crate) is_sure: bool,
    /// "no drawer".
    pub(crate) is_no: bool,
}

impl Finder<'_> {
    /// The parts that a mention means, beside what was spoken of before.
    pub(crate) fn meant(&self, mention: &Mention, subject: &[usize]) -> Meant {
        let (parts, is_open) = self.parts_meant(mention, subject);
        let is_sure = !is_open && self.is_sure(mention, &parts, subject);
        Meant {
            is_sure,
            is_no: mention.step.picks.contains(&Pick::No),
            parts,
        }
    }

    /// The parts; also whether it is open if they are of what is spoken of, or of the whole piece.
    fn parts_meant(&self, mention: &Mention, subject: &[usize]) -> (Vec<usize>, bool) {
        let mut all: Vec<usize> = (0..self.scene.parts.len())
            .filter(|&part| self.fits(part, mention))
            .collect();
        // "Bottom stretcher", where none stands in a row: it may be any.
        let is_place = |pick: &Pick| matches!(pick, Pick::Place(_));
        let is_nowhere = all.is_empty() && mention.step.picks.iter().any(is_place);
        if is_nowhere {
            let mut anywhere = mention.clone();
            anywhere.step.picks.retain(|pick| !is_place(pick));
            let fits = |part: &usize| self.fits(*part, &anywhere);
            all.extend((0..self.scene.parts.len()).filter(fits));
        }
        self.prefer_the_word_itself(mention, &mut all);
        let mut parts: Vec<usize> = Vec::new();
        let says_which = !mention.step.picks.is_empty();
        for &about in subject {
            // "The drawer", where one is spoken of; but "drawers 1 and 4" are two.
            if all.contains(&about) && !says_which {
                parts.push(about);
                continue;
            }
            let near = self.scene.lineage(about).find_map(|owner| {
                let inside = |part: &usize| *part != owner && self.scene.is_within(*part, owner);
                let within: Vec<usize> = all.iter().copied().filter(inside).collect();
                (!within.is_empty()).then_some(within)
            });
            parts.extend(near.into_iter().flatten());
        }
        // "Front legs: left loose": of those that are spoken of.
        let mut picks = mention.step.picks.iter();
        let is_named = picks.all(|pick| matches!(pick, Pick::Names(_)));
        let spoken_of = all.iter().copied().filter(|part| subject.contains(part));
        let of_these: Vec<usize> = spoken_of.collect();
        if is_named && says_which && subject.len() > 1 && !of_these.is_empty() {
            parts = of_these;
        }
        // "All handles", of the drawer that is spoken of or of every one?
        let is_wide = mention.step.picks.contains(&Pick::All) && mention.outer.is_empty();
        let is_open = is_wide && !parts.is_empty() && parts.len() < all.len();
        if subject.is_empty() || parts.is_empty() || is_open {
            parts = all;
        }
        parts.sort_unstable();
        parts.dedup();
        (parts, is_open || is_nowhere)
    }

    /// Whether it is certain that just these parts are meant.
    fn is_sure(&self, mention: &Mention, parts: &[usize], subject: &[usize]) -> bool {
        let has = |wanted: fn(&Pick) -> bool| mention.step.picks.iter().any(wanted);
        let is_some = has(|pick| *pick == Pick::Some) && parts.len() > 1;
        // "All but the lock": but for whatever follows.
        let is_but = has(|pick| matches!(pick, Pick::But(numbers) if numbers.is_empty()));
        let is_odd = mention.is_odd
            || is_but
            || parts.is_empty()
            || is_some
            || self.is_odd_number(mention, parts)
            || !self.has_all(mention, parts);
        if is_odd {
            return false;
        }
        let is_many = has(|pick| {
            matches!(
                pick,
                Pick::All | Pick::Both | Pick::Plural | Pick::No | Pick::But(_)
            )
        });
        let named = mention.step.picks.iter().find_map(|pick| match pick {
            Pick::Numbers(numbers) => Some(numbers.len()),
            Pick::Names(names) => Some(names.len()),
            _ => None,
        });
        let owners_are_many = mention.outer.iter().any(|outer| {
            outer.picks.iter().any(|pick| match pick {
                Pick::All | Pick::Both | Pick::Plural | Pick::But(_) => true,
                Pick::Numbers(numbers) => numbers.len() > 1,
                Pick::Names(names) => names.len() > 1,
                _ => false,
            })
        });
        is_many
            || owners_are_many
            || parts.len() == 1
            || self.is_set(mention, parts)
            || named.is_some_and(|named| parts.len() == named)
            || (subject.len() > 1 && parts.len() == subject.len())
    }

    /// "Both", of other than two; "top drawers", where one drawer alone is the top one.
    fn is_odd_number(&self, mention: &Mention, parts: &[usize]) -> bool {
        let mut picks = mention.step.picks.iter();
        picks.any(|pick| match pick {
            Pick::Both => {
                let owner = |part: &usize| self.scene.parts[*part].owner;
                let of_one = parts.iter().all(|part| owner(part) == owner(&parts[0]));
                !parts.len().is_multiple_of(2) || (of_one && parts.len() != 2)
            }
            Pick::Names(names) => mention.step.is_plural && parts.len() == 1 && names.len() == 1,
            Pick::Place(_) => mention.step.is_plural && parts.len() == 1,
            _ => false,
        })
    }

    /// "Front legs": the two whose names begin with it.
    fn is_set(&self, mention: &Mention, parts: &[usize]) -> bool {
        let picks = || mention.step.picks.iter();
        let is_called_so = |names: &[String]| {
            parts.iter().any(|&part| {
                let called = self.scene.parts[part].name.as_ref();
                called.is_some_and(|called| names.contains(called))
            })
        };
        mention.step.is_plural
            && parts.len() > 1
            && picks().any(|pick| matches!(pick, Pick::Names(_)))
            && !picks().any(|pick| matches!(pick, Pick::Names(names) if is_called_so(names)))
    }

    /// "Drawer 2" of a piece with drawers and small drawers is a drawer, and "drawers" are the
    /// drawers; "all drawers" are every one of both.
    fn prefer_the_word_itself(&self, mention: &Mention, parts: &mut Vec<usize>) {
        let is_every = |pick: &Pick| matches!(pick, Pick::All | Pick::No);
        let says_which = |pick: &Pick| matches!(pick, Pick::Numbers(_) | Pick::Place(_));
        let is_itself = |part: &usize| {
            let kind = self.scene.parts[*part].kind;
            mention.step.kinds.contains(&kind)
        };
        let picks = &mention.step.picks;
        let is_one = picks.iter().any(says_which) || !picks.iter().any(is_every);
        if is_one && parts.iter().any(is_itself) {
            parts.retain(is_itself);
        }
    }

    /// Whether every number and name that was said is among the parts: of "drawers 3 and 7"
    /// both, or it is not certain what is meant.
    fn has_all(&self, mention: &Mention, parts: &[usize]) -> bool {
        let steps = std::iter::once(&mention.step).chain(&mention.outer);
        let mut picked = steps.flat_map(|step| step.picks.iter().map(move |pick| (step, pick)));
        picked.all(|(step, pick)| {
            let has = |fits: &dyn Fn(usize) -> bool| {
                parts.iter().any(|&part| {
                    let mut lineage = self.scene.lineage(part);
                    lineage.any(|at| fits(at) && self.is_picked(at, step))
                })
            };
            match pick {
                Pick::Numbers(numbers) => numbers
                    .iter()
                    .all(|number| has(&|at| u64::from(self.scene.parts[at].number) == *number)),
                Pick::Names(names) => names.iter().all(|name| has(&|at| self.is_called(at, name))),
                _ => true,
            }
        })
    }

    fn fits(&self, part: usize, mention: &Mention) -> bool {
        if !self.is_picked(part, &mention.step) {
            return false;
        }
        mention.outer.iter().all(|outer| {
            let mut above = self.scene.lineage(part).skip(1);
            above.any(|owner| self.is_picked(owner, outer))
        })
    }

    fn is_picked(&self, at: usize, step: &Step) -> bool {
        let part = &self.scene.parts[at];
        let of_kind = step.kinds.iter().any(|&kind| {
            self.model.is_kind_of(part.kind, kind) || (kind == PIECE && part.owner.is_none())
        });
        of_kind
            && step.picks.iter().all(|pick| match pick {
                Pick::Plural | Pick::Some | Pick::Both | Pick::All | Pick::No => true,
                Pick::Numbers(numbers) => numbers.contains(&u64::from(part.number)),
                Pick::But(numbers) => !numbers.contains(&u64::from(part.number)),
                Pick::Names(names) => names.iter().any(|name| self.is_called(at, name)),
                Pick::Place(place) => self.is_placed(at, *place),
            })
    }

    /// Whether a part may be meant by a name.
    fn is_called(&self, at: usize, said: &str) -> bool {
        let part = &self.scene.parts[at];
        match &part.name {
            Some(name) => english::is_named(name, said),
            None => self.is_end_of_row(at, said),
        }
    }

    /// "Left drawer", where they are counted from the left: the first of them.
    fn is_end_of_row(&self, at: usize, said: &str) -> bool {
        let part = &self.scene.parts[at];
        let owner = part.owner.map(|owner| self.scene.parts[owner].kind);
        let owner = owner.and_then(|kind| self.model.kinds.get(kind.index()));
        let mut members = owner.into_iter().flat_map(|owner| &owner.members);
        let from = members.find(|member| member.kind == part.kind);
        let is_first = match (from.and_then(|member| member.from), said) {
            (Some(CountedFrom::Left), "left") | (Some(CountedFrom::Right), "right") => true,
            (Some(CountedFrom::Left), "right") | (Some(CountedFrom::Right), "left") => false,
            _ => return false,
        };
        let wanted = if is_first { 1 } else { part.of };
        part.of > 1 && part.number == wanted
    }

    /// Whether it stands there in its row. Left and right are no row: it is what they are
    /// built into that stands in one.
    fn is_placed(&self, at: usize, place: Place) -> bool {
        let part = &self.scene.parts[at];
        let row = if part.name.is_some() || part.of < 2 {
            let mut above = self.scene.lineage(at).skip(1);
            above.find(|&owner| self.scene.parts[owner].of > 1)
        } else {
            Some(at)
        };
        let Some(row) = row.map(|row| &self.scene.parts[row]) else {
            return false;
        };
        match place {
            Place::First => row.number == 1,
            Place::Last => row.number == row.of,
            Place::Middle => row.of % 2 == 1 && row.number == row.of / 2 + 1,
        }
    }

    /// The part that a mention names by its number or name, if the piece may have such and has
    /// not, as far as is known.
    pub(crate) fn absent(&self, mention: &Mention) -> Option<PartRef> {
        let kinds = &mention.step.kinds;
        if !self.meant(mention, &[]).parts.is_empty() || !mention.outer.is_empty() {
            return None;
        }
        let (owner, member) = self.scene.parts.iter().enumerate().find_map(|(at, part)| {
            let owner = self.model.kinds.get(part.kind.index())?;
            let member = owner.members.iter().find(|member| {
                let is_it = |&kind: &KindId| self.model.is_kind_of(member.kind, kind);
                member.most > 0 && kinds.iter().any(is_it)
            })?;
            Some((at, member))
        })?;
        let which = mention.step.picks.iter().find_map(|pick| match pick {
            Pick::Numbers(numbers) => {
                let number = u8::try_from(*numbers.first()?).ok()?;
                Some(Which::Number(number))
            }
            Pick::Names(names) => {
                let mut all = member.names.iter();
                let at = all.position(|name| english::is_named(name, &names[0]))?;
                Some(Which::Named(u8::try_from(at).ok()?))
            }
            _ => None,
        })?;
        let mut part = self.scene.reference(owner);
        let step = PartStep {
            kind: member.kind,
            which,
        };
        match owner {
            0 => part.steps = vec![step],
            _ => part.steps.insert(0, step),
        }
        Some(part)
    }

    /// Whether this piece can have a part of one of these kinds at all.
    pub(crate) fn can_be_here(&self, kinds: &[KindId]) -> bool {
        let can_have = |part: &crate::scene::Part| {
            let owner = self.model.kinds.get(part.kind.index());
            owner.is_some_and(|owner| {
                let mut members = owner.members.iter();
                members.any(|member| {
                    let mut kinds = kinds.iter();
                    kinds.any(|&kind| self.model.is_kind_of(member.kind, kind))
                })
            })
        };
        kinds.iter().any(|&kind| !self.such(kind).is_empty())
            || self.scene.parts.iter().any(can_have)
    }
}
