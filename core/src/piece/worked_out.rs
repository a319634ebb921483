//! Readings that follow from others: a difference, a sum, the largest of some, a sum of the
//! handbook; and those that follow from where a part stands among its like.

use super::{Answer, Piece};
use crate::limits::MAX_DEPTH;
use crate::pack::condition::Among;
use crate::pack::{Form, NONE, Pack, WorkedOut, Working};

/// Readings gathered from the operands of a measure.
#[derive(Clone, Copy)]
struct Gathered {
    sum: i64,
    most: i64,
    least: i64,
}

impl Gathered {
    fn and(self, other: Self) -> Self {
        Self {
            sum: self.sum.saturating_add(other.sum),
            most: self.most.max(other.most),
            least: self.least.min(other.least),
        }
    }
}

impl Piece<'_> {
    /// Works out every measure of every part, until nothing changes any more: one may follow
    /// from another, of a part or of an owner.
    pub(super) fn work_out_all(&mut self, pack: &Pack<'_>) {
        if pack.workings() == 0 {
            return;
        }
        for _ in 0..MAX_DEPTH {
            let mut has_changed = false;
            for part in 0..self.used {
                has_changed |= self.work_out(pack, part);
            }
            if !has_changed {
                return;
            }
        }
    }

    /// Works out every measure of a part that follows from others; whether any is
    /// another now.
    pub(crate) fn work_out(&mut self, pack: &Pack<'_>, part: usize) -> bool {
        let place = usize::from(self.record(part).place);
        let mut has_changed = false;
        for row in 0..pack.workings() {
            let working = pack.working(row);
            if pack.ask_slot(place, working.ask).is_none() {
                continue;
            }
            let answer = self.worked_out(pack, part, &working).unwrap_or_default();
            if let Ok(before) = self.set(pack, part, working.ask, answer) {
                has_changed |= before != answer;
            }
        }
        has_changed
    }

    /// What a measure comes to; `None` as long as a reading is not there.
    fn worked_out(&self, pack: &Pack<'_>, part: usize, working: &WorkedOut) -> Option<Answer> {
        let Form::HowMuch { least, most, .. } = pack.ask(usize::from(working.ask)).form else {
            return None;
        };
        if let Some(number) = self.number_of(part, working.working) {
            return Some(Answer::Reading(number.into()));
        }
        if working.working == Working::Table {
            return self.tabled(pack, part, &pack.sum_table(working.table), (least, most));
        }
        let first = self.gathered(
            pack,
            part,
            (working.first, working.first_kind, working.first_which),
        )?;
        let second = match working.second {
            NONE => None,
            ask => {
                Some(self.gathered(pack, part, (ask, working.second_kind, working.second_which))?)
            }
        };
        let all = second.map_or(first, |second| first.and(second));
        let found = match (working.working, second) {
            (Working::Difference, Some(second)) => first.sum.saturating_sub(second.sum).abs(),
            (Working::Share, Some(second)) => share(first.sum, second.sum)?,
            (Working::Difference | Working::Share, None)
            | (Working::Number | Working::FromLast | Working::Table, _) => return None,
            (Working::Sum, _) => all.sum,
            (Working::Most, _) => all.most,
            (Working::Least, _) => all.least,
        };
        let found = found.clamp(least.into(), most.max(least).into());
        i32::try_from(found).ok().map(Answer::Reading)
    }

    /// Which of its owner's parts of this kind a part is, if that is what is worked out.
    fn number_of(&self, part: usize, working: Working) -> Option<u8> {
        match working {
            Working::Number => Some(self.record(part).number),
            Working::FromLast => Some(self.number_from_last(part)),
            _ => None,
        }
    }

    /// Which of its owner's parts of this kind a part is, counted from the last.
    fn number_from_last(&self, part: usize) -> u8 {
        let like = self.like(part);
        let after = like.end.saturating_sub(part);
        u8::try_from(after).unwrap_or(u8::MAX)
    }

    /// The parts of its owner that stand where this one stands, itself among them.
    pub(crate) fn like(&self, part: usize) -> core::ops::Range<usize> {
        let record = self.record(part);
        if record.owner == NONE {
            return part..part.saturating_add(1);
        }
        self.children_at(usize::from(record.owner), usize::from(record.place))
    }

    /// Whether a part is among the numbered ones.
    pub(crate) fn is_among(&self, part: usize, among: Among) -> bool {
        among.has(self.record(part).number, self.number_from_last(part) == 1)
    }

    /// The readings of an operand: of the part itself, of one of its parts, or of all.
    fn gathered(
        &self,
        pack: &Pack<'_>,
        part: usize,
        (ask, kind, which): (u16, u16, u8),
    ) -> Option<Gathered> {
        if kind == NONE {
            return self.reading(pack, part, ask);
        }
        let place = usize::from(self.record(part).place);
        let mut places = pack.children(place);
        let place = places.find(|&place| pack.place(place).kind == kind)?;
        let mut all: Option<Gathered> = None;
        for part in self.children_at(part, place) {
            if which != 0 && self.record(part).number != which {
                continue;
            }
            let one = self.reading(pack, part, ask)?;
            all = Some(all.map_or(one, |all| all.and(one)));
        }
        all
    }

    fn reading(&self, pack: &Pack<'_>, part: usize, ask: u16) -> Option<Gathered> {
        let reading = i64::from(self.answer(pack, part, ask)?.reading()?);
        Some(Gathered {
            sum: reading,
            most: reading,
            least: reading,
        })
    }
}

/// One reading as a share of another, in hundredths of one per cent, to the nearest; of
/// nothing there is none.
fn share(part: i64, whole: i64) -> Option<i64> {
    if whole <= 0 {
        return None;
    }
    let twice = part.checked_mul(20_000)?.checked_add(whole)?;
    twice.checked_div_euclid(whole.checked_mul(2)?)
}
