//! What the owner decided, what must be left alone, and where a job stands for it.

use super::{Left, Mark, Marked, Parts, Progress, Told, is_said};
use tellmark_core::plan::Status;

impl Progress {
    /// What the owner decided about a job on a part, if anything.
    #[must_use]
    pub fn decision(&self, job: usize, part: usize) -> Option<&Told<Marked>> {
        let marks = [Mark::Agreed, Mark::Refused, Mark::Undecided];
        let last = self.last(job, part, &marks)?;
        (last.what.mark != Mark::Undecided).then_some(last)
    }

    /// The parts of which the owner took back what they decided of a job wherever it is called
    /// for.
    #[must_use]
    pub fn open_again(&self, decided: &Told<Marked>) -> Vec<&str> {
        if !decided.what.parts.indices.is_empty() {
            return Vec::new();
        }
        let later = self.marks.iter().filter(|told| {
            told.line > decided.line
                && told.what.mark == Mark::Undecided
                && is_said(&told.what.job, &decided.what.job)
        });
        let parts = later.flat_map(|told| {
            let Parts { indices, names } = &told.what.parts;
            indices.iter().zip(names)
        });
        let is_decided_since = |part: usize| {
            let mut since = self.marks.iter().filter(|told| told.line > decided.line);
            let last = since.rfind(|told| {
                is_said(&told.what.job, &decided.what.job)
                    && (told.what.parts.indices.is_empty() || self.is_among(&told.what.parts, part))
                    && told.what.mark.is_decision()
            });
            last.is_some_and(|told| told.what.mark != Mark::Undecided)
        };
        let mut open: Vec<&str> = Vec::new();
        for (_, name) in parts.filter(|&(&part, _)| !is_decided_since(part)) {
            if !open.contains(&name.as_str()) {
                open.push(name);
            }
        }
        open
    }

    /// Whether what the owner decided in a mark still holds, rather than what they said later of
    /// the same job and all its parts.
    #[must_use]
    pub fn still_holds(&self, decided: &Told<Marked>) -> bool {
        let is_later = |told: &&Told<Marked>| {
            told.line > decided.line
                && told.what.job == decided.what.job
                && matches!(told.what.mark, Mark::Agreed | Mark::Refused)
        };
        let covers = |told: &Told<Marked>| {
            let (later, parts) = (&told.what.parts, &decided.what.parts);
            later.indices.is_empty()
                || (!parts.indices.is_empty()
                    && parts.indices.iter().all(|&part| self.is_among(later, part)))
        };
        !self.marks.iter().filter(is_later).any(covers)
    }

    /// Whether the owner will not have a job done on a part.
    #[must_use]
    pub fn is_refused(&self, job: usize, part: usize) -> bool {
        let decision = self.decision(job, part);
        decision.is_some_and(|told| told.what.mark == Mark::Refused)
    }

    /// Where a job stands for a part. One that would find out what is known is as good as done.
    #[must_use]
    pub fn status(&self, job: usize, part: usize) -> Status {
        match () {
            () if self.is_done(job, part) => Status::Done,
            () if self.is_refused(job, part) => Status::Refused,
            () if self.found_out.contains(&(job, part)) => Status::Done,
            () if self.stops(job, part).next().is_some() => Status::Refused,
            () => Status::ToDo,
        }
    }

    /// What stops a job on a part that must be left alone: what was said before the owner
    /// agreed to just this does not.
    pub fn stops(&self, job: usize, part: usize) -> impl Iterator<Item = &Told<Left>> {
        let agreed = self.agreed_line(job, part);
        self.leave(part).filter(move |told| told.line > agreed)
    }

    /// What must be left alone of that which a job works on besides the part that it is done for
    /// (`Touches:`), each once. It does not stop the job, which is done for the other parts.
    #[must_use]
    pub fn touches(&self, job: usize, part: usize) -> Vec<&Told<Left>> {
        // Who agreed to it agreed to what it works on.
        let agreed = self.decision(job, part);
        let agreed = agreed.filter(|told| told.what.mark == Mark::Agreed);
        let agreed = agreed.map_or(0, |told| told.line);
        let touched = self.touched.get(job).map_or(&[][..], Vec::as_slice);
        let owners = self.owners.get(part).map_or(&[][..], Vec::as_slice);
        // The top of a table stands beside its frame, in what both are built into.
        let around = || std::iter::once(&part).chain(owners);
        // Of each kind the nearest: the legs of this frame, and the top beside it.
        let nearest = |of_kind: &Vec<usize>| {
            let here = |&of: &usize| {
                let here = of_kind.iter().copied();
                let here: Vec<usize> = here.filter(|&at| self.is_within(at, of)).collect();
                (!here.is_empty()).then_some(here)
            };
            around().find_map(here).unwrap_or_default()
        };
        let mut all: Vec<&Told<Left>> = Vec::new();
        for left in touched
            .iter()
            .flat_map(nearest)
            .flat_map(|at| self.leave(at))
        {
            if left.line > agreed && !all.contains(&left) {
                all.push(left);
            }
        }
        all
    }

    /// Whether a job works on a part, wherever it is done (`Touches:`).
    #[must_use]
    pub fn works_on(&self, job: usize, part: usize) -> bool {
        self.touched
            .get(job)
            .is_some_and(|touched| touched.iter().any(|of_kind| of_kind.contains(&part)))
    }

    /// The line by which the owner agreed to a job on just this part; 0 if they did not.
    fn agreed_line(&self, job: usize, part: usize) -> usize {
        let agreed = self
            .decision(job, part)
            .filter(|told| told.what.mark == Mark::Agreed && !told.what.parts.indices.is_empty());
        agreed.map_or(0, |told| told.line)
    }

    /// Why a part must be left alone, if it must.
    pub fn leave(&self, part: usize) -> impl Iterator<Item = &Told<Left>> {
        self.left.iter().filter(move |told| {
            let mut freed = self.freed.iter();
            self.is_among(&told.what.parts, part)
                && !freed.any(|(line, parts)| *line > told.line && self.is_among(parts, part))
        })
    }
}
