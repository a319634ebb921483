//! Counting the parts of a piece anew, with everything answered carried over.

use super::{Answer, Part, Piece, SetUpError, children_at, lay_out};
use crate::limits::MAX_DEPTH;
use crate::pack::{NONE, Pack};

impl Piece<'_> {
    /// Gives an owner another number of parts at a place. What was answered
    /// about parts that are still there stays; `moved` is told for each part
    /// where it was and where it is now.
    ///
    /// While this happens the old piece and the new one lie in the lent memory
    /// together.
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
        let (used, asked) = (self.used, self.asked);
        let root = usize::from(self.part(0).place);
        let full = SetUpError::TooManyParts;
        let split = self.parts.len().checked_sub(used).ok_or(full)?;
        if split < used {
            return Err(full);
        }
        let answers_split = self.answers.len().checked_sub(asked);
        let answers_split = answers_split
            .filter(|&split| split >= asked)
            .ok_or(SetUpError::TooManyAnswers)?;
        self.parts.copy_within(..used, split);
        self.answers.copy_within(..asked, answers_split);
        let (parts, old) = self.parts.split_at_mut(split);
        let (answers, old_answers) = self.answers.split_at_mut(answers_split);

        let count = |new: &[Part], at: usize, child: usize| {
            let record = pack.place(child);
            let before = same(new, at, old);
            if before == Some(owner) && child == place {
                return number;
            }
            before.map_or(record.usual, |before| {
                u8::try_from(children_at(old, before, child).len()).unwrap_or(record.usual)
            })
        };
        let laid = lay_out(pack, root, count, parts);
        let new_answers = match laid {
            Ok((_, asked)) => answers.get_mut(..asked),
            Err(_) => None,
        };
        let (Ok((used, asked)), Some(new_answers)) = (laid, new_answers) else {
            // Back to the front with what was there.
            self.parts.copy_within(split.., 0);
            self.answers.copy_within(answers_split.., 0);
            return Err(laid.err().unwrap_or(SetUpError::TooManyAnswers));
        };
        new_answers.fill(Answer::NotLooked);
        let parts = parts.get_mut(..used).unwrap_or(&mut []);
        for (index, before) in old.iter().enumerate() {
            let now = same(old, index, parts);
            moved(index, now);
            let Some(part) = now.and_then(|now| parts.get_mut(now)) else {
                continue;
            };
            part.out_of_sight = before.out_of_sight;
            let asks = pack.asks_of(usize::from(before.place)).count();
            let (from, to) = (
                usize::from(before.first_answer),
                usize::from(part.first_answer),
            );
            let (Some(from), Some(to)) = (
                old_answers.get(from..from + asks),
                new_answers.get_mut(to..to + asks),
            ) else {
                continue;
            };
            to.copy_from_slice(from);
        }
        self.used = used;
        self.asked = asked;
        Ok(())
    }
}

/// Where a part of one tree is in another, if it is there: the same number of
/// the same place of the same owner.
fn same(from: &[Part], part: usize, to: &[Part]) -> Option<usize> {
    let mut way: heapless::Vec<(usize, u8), MAX_DEPTH> = heapless::Vec::new();
    let mut at = part;
    loop {
        let record = from.get(at)?;
        if record.owner == NONE {
            break;
        }
        way.push((usize::from(record.place), record.number)).ok()?;
        at = usize::from(record.owner);
    }
    let mut found = 0;
    for (place, number) in way.into_iter().rev() {
        let nth = usize::from(number).checked_sub(1)?;
        found = children_at(to, found, place).nth(nth)?;
    }
    Some(found)
}
