//! The bench screen held to a job: what is keyed in is in the job's record
//! before the next picture.

use super::noted::sentence;
use jiff::civil::DateTime;
use std::fmt;
use tellmark_compile::Built;
use tellmark_core::bench::Bench;
use tellmark_core::bench::keys::Event;
use tellmark_core::number::UFloat;
use tellmark_core::record::Noted;
use tellmark_core::work::Refused;
use tellmark_job::record::{self, Job};
use tellmark_language::model::Model;

/// Why the bench screen cannot go on with a job.
#[derive(Debug)]
pub enum BenchError {
    /// What the record comes to has no place on the bench.
    Refused(Refused),
    /// The record could not be written.
    Job(record::JobError),
}

impl fmt::Display for BenchError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Refused(Refused::TooLarge) => {
                write!(f, "This piece has too many parts for the bench screen.")
            }
            Self::Refused(why) => {
                write!(f, "The bench screen cannot take this job up: {why:?}.")
            }
            Self::Job(trouble) => trouble.fmt(f),
        }
    }
}

impl std::error::Error for BenchError {}

/// A bench screen over a job.
#[derive(Debug)]
pub struct Held<'h> {
    /// The screen.
    pub bench: Bench<'h, 'h, UFloat>,
    model: &'h Model,
    built: &'h Built,
    job: &'h mut Job,
    /// Lines added to the record.
    added: usize,
}

impl<'h> Held<'h> {
    /// Takes a job up where its record is.
    ///
    /// # Errors
    /// If the piece has no place on the bench.
    pub fn new(
        (model, built): (&'h Model, &'h Built),
        job: &'h mut Job,
        mut bench: Bench<'h, 'h, UFloat>,
        opening: &[Noted],
    ) -> Result<Self, BenchError> {
        for &noted in opening {
            bench.play(noted).map_err(BenchError::Refused)?;
        }
        bench.keep_to_piece();
        bench.take_up();
        Ok(Self {
            bench,
            model,
            built,
            job,
            added: 0,
        })
    }

    /// Takes a key, and adds what is noted to the job's record.
    ///
    /// # Errors
    /// If the record could not be written.
    pub fn press(&mut self, event: Event, now: DateTime) -> Result<(), BenchError> {
        let mut noted = Vec::new();
        self.bench.press(event, &mut |one| noted.push(one));
        let work = self.bench.work();
        let on = (work.pack(), work.parts());
        for one in noted {
            if let Some(line) = sentence(self.model, self.built, on, one) {
                self.job.append(&line, now).map_err(BenchError::Job)?;
                self.added += 1;
            }
        }
        Ok(())
    }

    /// How many lines were added to the record.
    #[must_use]
    pub fn added(&self) -> usize {
        self.added
    }
}
