//! What is noted when something is counted, set up or answered: usually one
//! thing, sometimes a few that belong together.
//!
//! Each is played first ([`Work::play`]) and, if it was not refused, handed to
//! `store`, to be kept in the record.

use heapless::Vec;

use super::{Count, Refused, Work};
use crate::asking;
use crate::limits::MAX_COUNTS;
use crate::number::Number;
use crate::pack::NONE;
use crate::piece::Answer;
use crate::record::Noted;

impl<N: Number> Work<'_, '_, N> {
    /// Notes one thing.
    ///
    /// # Errors
    /// See [`Refused`]; then nothing has changed and nothing is stored.
    pub fn note(&mut self, noted: Noted, store: &mut dyn FnMut(Noted)) -> Result<(), Refused> {
        self.play(noted)?;
        store(noted);
        Ok(())
    }

    /// Notes that a piece is begun that stands at this place of the pack.
    ///
    /// # Errors
    /// See [`Refused`].
    pub fn note_begun(&mut self, root: usize, store: &mut dyn FnMut(Noted)) -> Result<(), Refused> {
        let root = u16::try_from(root).unwrap_or(NONE);
        let pack = self.pack().id();
        self.note(Noted::Begun { root, pack }, store)
    }

    /// Notes how many parts an owner has, while the piece is begun. A number that
    /// moves later parts whose own numbers were noted already begins the piece
    /// again, with the numbers that still stand.
    ///
    /// # Errors
    /// See [`Refused`].
    pub fn note_count(
        &mut self,
        count: Count,
        store: &mut dyn FnMut(Noted),
    ) -> Result<(), Refused> {
        let kept = self.counts_before(count);
        if kept.len() < self.counts().len() {
            self.note_begun(self.root().unwrap_or(0), store)?;
            for &count in &kept {
                // It was not refused before.
                let _ = self.note(count.into(), store);
            }
        }
        self.note(count.into(), store)
    }

    /// The numbers noted for owners whose index does not change with this one.
    fn counts_before(&self, count: Count) -> Vec<Count, MAX_COUNTS> {
        let parts = self.parts();
        let key = (count.owner, count.place);
        let before = parts
            .iter()
            .take_while(|p| p.owner == NONE || (p.owner, p.place) < key)
            .count();
        // Those of the same kind that are there before and after stay where they are.
        let now = asking::number(parts, usize::from(count.owner), usize::from(count.place));
        let first = before + usize::from(now.min(count.number));
        let mut kept = Vec::new();
        for &count in self.counts() {
            if usize::from(count.owner) < first {
                // There are no more of them than are counted.
                let _ = kept.push(count);
            }
        }
        kept
    }

    /// Notes that the piece stands as counted, and answers with those numbers
    /// what the round would ask.
    ///
    /// # Errors
    /// See [`Refused`].
    pub fn note_set_up(&mut self, store: &mut dyn FnMut(Noted)) -> Result<(), Refused> {
        let parts = u16::try_from(self.parts().len()).unwrap_or(NONE);
        self.note(Noted::SetUp { parts }, store)?;
        for at in 0..self.counts().len() {
            let Some(&count) = self.counts().get(at) else {
                break;
            };
            let ask = self.pack().place(usize::from(count.place)).counted_by;
            if ask != NONE {
                let answer = Answer::Reading(i32::from(count.number));
                let part = count.owner;
                // The piece was just set up with this number of parts.
                let _ = self.note(Noted::Answered { part, ask, answer }, store);
            }
        }
        Ok(())
    }

    /// Notes an answer about a part. If the part is out of sight, the rest of it stays so.
    ///
    /// # Errors
    /// See [`Refused`].
    pub fn note_answer(
        &mut self,
        part: usize,
        ask: u16,
        answer: Answer,
        store: &mut dyn FnMut(Noted),
    ) -> Result<(), Refused> {
        let part = u16::try_from(part).map_err(|_| Refused::NoSuch)?;
        self.note(Noted::Answered { part, ask, answer }, store)
    }
}

impl From<Count> for Noted {
    fn from(count: Count) -> Self {
        let Count {
            owner,
            place,
            number,
        } = count;
        Self::Parts {
            owner,
            place,
            number,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::belief::Desk;
    use crate::number::UFloat;
    use crate::pack::Pack;
    use crate::piece::Part;
    use crate::sample::with_pack;
    use crate::work::Memory;

    /// Does something with a bench on which a chest of drawers is begun.
    fn with_begun(test: impl FnOnce(Pack<'_>, &mut Work<'_, '_, UFloat>, &mut Record)) {
        with_pack(|pack| {
            let memory = Memory {
                parts: &mut [Part::default(); 128],
                answers: &mut [Answer::NotLooked; 512],
                numbers: &mut [UFloat::ZERO; 4_096],
                desks: &mut [Desk::default(); 128],
            };
            let mut work = Work::new(pack, memory);
            let root = pack.find_piece("chest of drawers").unwrap_or(usize::MAX);
            let mut record = Record::new();
            assert_eq!(work.note_begun(root, &mut keep(&mut record)), Ok(()));
            test(pack, &mut work, &mut record);
        });
    }

    /// What a chest's record says of a thing noted about it.
    type Record = Vec<Noted, 16>;

    fn keep(record: &mut Record) -> impl FnMut(Noted) {
        |noted| assert!(record.push(noted).is_ok())
    }

    #[test]
    fn a_count_that_moves_other_parts_begins_the_piece_again() {
        with_begun(|pack, work, record| {
            let counts = |work: &Work<'_, '_, _>, name| {
                let kind = pack.find_kind(name);
                let mut counts: Vec<Count, 8> = Vec::new();
                for found in asking::countable(&pack, work.parts()) {
                    if Ok(pack.place(found.place).kind) == kind {
                        let short = |n: usize| u16::try_from(n).unwrap_or(NONE);
                        let (owner, place) = (short(found.owner), short(found.place));
                        let count = Count {
                            owner,
                            place,
                            number: found.number,
                        };
                        assert!(counts.push(count).is_ok());
                    }
                }
                counts
            };
            let (locks, drawers) = (counts(work, "lock"), counts(work, "drawer"));
            let ([first, .., last], [drawers]) = (locks.as_slice(), drawers.as_slice()) else {
                unreachable!("there are four drawers in a case")
            };
            let [first, last] = [first, last].map(|&lock| Count { number: 0, ..lock });
            let two = Count {
                number: 2,
                ..*drawers
            };
            for count in [first, last, two] {
                assert_eq!(work.note_count(count, &mut keep(record)), Ok(()));
            }
            // The lock of the last drawer went with it; that of the first stands.
            let begun = record.as_slice().first().copied();
            let again = [first.into(), two.into()];
            assert_eq!(record.get(1..3), Some(&[first, last].map(Noted::from)[..]));
            assert_eq!(record.get(3).copied(), begun);
            assert_eq!(record.get(4..), Some(&again[..]));
        });
    }

    #[test]
    fn an_answer_about_a_hidden_part_leaves_the_rest_of_it_hidden() {
        with_begun(|pack, work, record| {
            assert_eq!(work.note_set_up(&mut keep(record)), Ok(()));
            record.clear();
            let part = pack.find_part(work.parts(), "drawer 2").unwrap_or(0);
            let kind = work.parts().get(part).map_or(0, |part| part.kind);
            let ask = pack.find_ask(kind, "stiff").unwrap_or(NONE);
            let number = u16::try_from(part).unwrap_or(NONE);
            let hidden = Noted::OutOfSight {
                part: number,
                out_of_sight: true,
            };
            assert_eq!(work.note(hidden, &mut keep(record)), Ok(()));
            let answer = Answer::Seen(true);
            let noted = work.note_answer(part, ask, answer, &mut keep(record));
            assert_eq!(noted, Ok(()));
            let answered = Noted::Answered {
                part: number,
                ask,
                answer,
            };
            assert_eq!(record.as_slice(), &[hidden, answered][..]);
            assert!(work.parts().get(part).is_some_and(|part| part.out_of_sight));
        });
    }
}
