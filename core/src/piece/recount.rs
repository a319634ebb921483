//! Counting the parts of a piece anew, in place, with everything answered carried
//! over.
//!
//! Parts stand in the order of their depth, then of their owners, then of the
//! pack; taking some out or putting some in leaves the others in their order.

use super::{Answer, Part, Piece, SetUpError};
use crate::pack::{NONE, Pack};

impl Piece<'_> {
    /// Gives an owner another number of parts at a place. What was answered
    /// about parts that are still there stays; `moved` is told for each part
    /// where it was and where it is now.
    ///
    /// # Errors
    /// See [`SetUpError`]; then nothing has changed.
    pub fn recount(
        &mut self,
        pack: &Pack<'_>,
        owner: usize,
        place: usize,
        number: u8,
        mut moved: impl FnMut(usize, Option<usize>),
    ) -> Result<(), SetUpError> {
        let record = pack.place(place);
        let stands_at = self.part(owner).map(|owner| usize::from(owner.place));
        let can_be = stands_at.is_some_and(|at| pack.children(at).any(|child| child == place))
            && (record.least..=record.most).contains(&number);
        if !can_be {
            let place = u16::try_from(place).unwrap_or(NONE);
            return Err(SetUpError::Count { place, number });
        }
        let before = self.children_at(owner, place).len();
        if usize::from(number) < before {
            self.take_out(pack, owner, place, usize::from(number), moved);
            self.work_out_all(pack);
            return Ok(());
        }
        for _ in before..usize::from(number) {
            if let Err(why) = self.put_in(pack, owner, place) {
                self.take_out(pack, owner, place, before, |_, _| {});
                return Err(why);
            }
        }
        let new = self.children_at(owner, place);
        let new = new.start.saturating_add(before)..new.end;
        let is_old = |&part: &usize| {
            let mut own_and_owners = core::iter::once(part).chain(self.owners(part));
            !own_and_owners.any(|part| new.contains(&part))
        };
        for (was, is) in (0..self.used).filter(is_old).enumerate() {
            moved(was, Some(is));
        }
        self.work_out_all(pack);
        Ok(())
    }

    /// Takes out all but the first parts at a place, with what is built into them.
    fn take_out(
        &mut self,
        pack: &Pack<'_>,
        owner: usize,
        place: usize,
        stay: usize,
        mut moved: impl FnMut(usize, Option<usize>),
    ) {
        let there = self.children_at(owner, place);
        let gone = there.start.saturating_add(stay)..there.end;
        if let Some(owner) = self.parts.get_mut(owner) {
            let fewer = u16::try_from(gone.len()).unwrap_or(0);
            owner.children = owner.children.saturating_sub(fewer);
        }
        // What goes is marked; owners before their parts.
        for part in 0..self.used {
            let owner = self.parts().get(usize::from(self.record(part).owner));
            if (gone.contains(&part) || owner.is_some_and(|owner| owner.place == NONE))
                && let Some(record) = self.parts.get_mut(part)
            {
                record.place = NONE;
            }
        }
        let (mut used, mut asked) = (0, 0);
        for part in 0..self.used {
            let record = self.record(part);
            if record.place == NONE {
                moved(part, None);
                continue;
            }
            moved(part, Some(used));
            let first = usize::from(record.first_answer);
            for at in first..first + pack.asks_of(usize::from(record.place)).count() {
                let answer = self.answers.get(at).copied().unwrap_or_default();
                if let Some(to) = self.answers.get_mut(asked) {
                    *to = answer;
                }
                asked += 1;
            }
            if let Some(to) = self.parts.get_mut(used) {
                *to = record;
            }
            used += 1;
        }
        self.used = used;
        self.asked = asked;
        self.number_anew(pack);
    }

    /// Puts one more part in at a place, with the usual parts built into it.
    fn put_in(&mut self, pack: &Pack<'_>, owner: usize, place: usize) -> Result<(), SetUpError> {
        let full = SetUpError::TooManyParts;
        let index = |n: usize| u16::try_from(n).ok().filter(|&i| i != NONE).ok_or(full);
        let record = self.record(owner);
        let (part_place, kind) = (index(place)?, pack.place(place).kind);
        let there = self.children_at(owner, place).len();
        let number = u8::try_from(there + 1).map_err(|_| full)?;
        // After those of its own kind, and of the kinds before.
        let mut at = usize::from(record.first_child);
        for child in pack.children(usize::from(record.place)) {
            at += self.children_at(owner, child).len();
            if child == place {
                break;
            }
        }
        let asks = pack.asks_of(place).count();
        let asked = self.asked.saturating_add(asks);
        if asked > self.answers.len() || asked > usize::from(u16::MAX) {
            return Err(SetUpError::TooManyAnswers);
        }
        index(self.used)?;
        if self.used >= self.parts.len() {
            return Err(full);
        }
        let after = self.parts().get(at);
        let first_answer = after.map_or(self.asked, |part| usize::from(part.first_answer));
        self.used += 1;
        self.asked = asked;
        make_room(self.parts.get_mut(at..self.used), 1);
        make_room(self.answers.get_mut(first_answer..asked), asks);
        if let Some(part) = self.parts.get_mut(at) {
            *part = Part {
                place: part_place,
                kind,
                number,
                ..Part::default()
            };
        }
        for answer in self.answers.iter_mut().skip(first_answer).take(asks) {
            *answer = Answer::NotLooked;
        }
        if let Some(owner) = self.parts.get_mut(owner) {
            owner.children = owner.children.saturating_add(1);
        }
        self.number_anew(pack);
        for child in pack.children(place) {
            for _ in 0..pack.place(child).usual {
                self.put_in(pack, at, child)?;
            }
        }
        Ok(())
    }

    /// Works out again, from how many parts each part has, where its owner, its
    /// parts and its answers are.
    fn number_anew(&mut self, pack: &Pack<'_>) {
        // None of the numbers is larger than when it was laid out or put in.
        let short = |n: usize| u16::try_from(n).unwrap_or(NONE);
        let (mut next, mut asked) = (1, 0);
        for at in 0..self.used {
            let Some(part) = self.parts.get_mut(at) else {
                return;
            };
            part.first_child = short(next);
            part.first_answer = short(asked);
            asked += pack.asks_of(usize::from(part.place)).count();
            let children = usize::from(part.children);
            for inner in self.parts.iter_mut().skip(next).take(children) {
                inner.owner = short(at);
            }
            next += children;
        }
    }
}

/// Moves everything so many places on; the last go.
fn make_room<T: Copy>(things: Option<&mut [T]>, places: usize) {
    let things = core::cell::Cell::from_mut(things.unwrap_or(&mut [])).as_slice_of_cells();
    let later = things.iter().skip(places);
    for (before, after) in things.iter().zip(later).rev() {
        after.set(before.get());
    }
}
