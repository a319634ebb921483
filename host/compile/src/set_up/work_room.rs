//! Memory for putting the work on a piece in order, which core borrows.

use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::piece::SetUpError;
use tellmark_core::plan::{Memory, Seat, Status, Task, TooSmall};

use super::Case;

/// Room for the tasks of a piece, and for every job and constraint of its pack.
pub struct WorkRoom {
    tasks: Vec<Task>,
    seats: Vec<Seat>,
    broken: Vec<bool>,
}

impl WorkRoom {
    /// Tasks there is room for at first.
    const FIRST_TASKS: usize = 512;
    /// The most tasks there can be.
    const MOST_TASKS: usize = 1 << 20;

    /// Room for the work that a pack can call for, on a piece of usual size.
    #[must_use]
    pub fn of(pack: &Pack<'_>) -> WorkRoom {
        WorkRoom {
            tasks: vec![Task::NONE; WorkRoom::FIRST_TASKS],
            seats: vec![Seat::FREE; pack.jobs()],
            broken: vec![false; pack.constraints()],
        }
    }

    /// The room, lent out.
    pub fn memory(&mut self) -> Memory<'_> {
        Memory {
            tasks: &mut self.tasks,
            seats: &mut self.seats,
            broken: &mut self.broken,
        }
    }

    /// Makes room for every task of this piece; `status` and `done` are those of
    /// [`tellmark_core::inspection::Inspection::order`].
    ///
    /// # Errors
    /// A piece with more tasks than any should have.
    pub fn grow(
        &mut self,
        case: &mut Case<'_, UFloat>,
        status: &impl Fn(u16, usize) -> Status,
        done: &[(u16, usize)],
    ) -> Result<(), SetUpError> {
        while let Err(why) = case.inspection.order(self.memory(), status, done) {
            let more = self.tasks.len() * 4;
            if why != TooSmall::Tasks || more > WorkRoom::MOST_TASKS {
                return Err(SetUpError::TooManyParts);
            }
            self.tasks.resize(more, Task::NONE);
        }
        Ok(())
    }
}
