//! One fault, caution or job with all that the rules say of it, in a few lines.

use core::fmt::{self, Write};

use super::{Called, Suspect, Warned};
use crate::pack::{Job, Pack};
use crate::piece::Part;
use crate::words::{self, Capital};

impl Suspect {
    /// The fault in one sentence, and what it costs if it is found late.
    ///
    /// # Errors
    /// Those of `out`.
    pub fn in_full(&self, out: &mut dyn Write, pack: &Pack<'_>, parts: &[Part]) -> fmt::Result {
        let state = pack.state(usize::from(self.state));
        let at = (usize::from(self.part), &state);
        words::sentence(out, pack, parts, at, self.chance)?;
        if state.missed > 0 || state.risk > 0 {
            out.write_str("\nFound late: ")?;
            words::time(out, state.missed)?;
            out.write_str(" more")?;
        }
        if state.risk > 0 {
            write!(out, ", risk {} of 5", state.risk)?;
        }
        Ok(())
    }
}

impl Warned {
    /// The caution, the part it is about, and its source.
    ///
    /// # Errors
    /// Those of `out`.
    pub fn in_full(&self, out: &mut dyn Write, pack: &Pack<'_>, parts: &[Part]) -> fmt::Result {
        let caution = pack.caution(usize::from(self.caution));
        out.write_str(if caution.stop {
            "STOP: "
        } else {
            "Take care: "
        })?;
        words::part(out, pack, parts, usize::from(self.part))?;
        write!(out, ".\n{}\n", pack.text(caution.text))?;
        match pack.text(caution.source) {
            "" => Ok(()),
            source => write!(out, "From: {source}"),
        }
    }
}

/// Each job once, at the first part that calls for it; called for if any of its
/// parts calls for it.
pub fn each_once(all: &[Called]) -> impl Iterator<Item = Called> {
    all.iter().enumerate().filter_map(|(i, called)| {
        let earlier = all.iter().take(i).any(|other| other.job == called.job);
        let sure = |other: &Called| other.job == called.job && other.sure;
        (!earlier).then_some(Called {
            sure: all.iter().any(sure),
            ..*called
        })
    })
}

impl Called {
    /// The job: the parts it is done on, what it takes, what it comes after and
    /// why, what it needs and its source. `all` are the jobs of the piece in
    /// their order.
    ///
    /// # Errors
    /// Those of `out`.
    pub fn in_full(
        &self,
        out: &mut dyn Write,
        pack: &Pack<'_>,
        parts: &[Part],
        all: &[Called],
    ) -> fmt::Result {
        let job = pack.job(usize::from(self.job));
        write!(out, "{}", Capital(pack.text(job.name)))?;
        for (sure, before) in [(true, ": "), (false, ". May yet be: ")] {
            let at = |c: &&Called| c.job == self.job && c.sure == sure;
            for (i, other) in all.iter().filter(at).enumerate() {
                out.write_str(if i == 0 { before } else { ", " })?;
                words::part(out, pack, parts, usize::from(other.part))?;
            }
        }
        out.write_char('.')?;
        if job.ask_owner {
            out.write_str("\nHold: ask the owner first.")?;
        }
        times(out, &job)?;
        self.after(out, pack, all)?;
        for (label, text) in [("\nNeeds: ", job.needs), ("\nFrom: ", job.source)] {
            let text = pack.text(text);
            if !text.is_empty() {
                write!(out, "{label}{text}.")?;
            }
        }
        Ok(())
    }

    /// The jobs on this piece that it must come after.
    fn after(&self, out: &mut dyn Write, pack: &Pack<'_>, all: &[Called]) -> fmt::Result {
        let at = |job: u16| all.iter().position(|called| called.job == job);
        let comes_before =
            |one: u16| matches!((at(one), at(self.job)), (Some(one), Some(other)) if one < other);
        for constraint in (0..pack.constraints()).map(|row| pack.constraint(row)) {
            if constraint.after == self.job && comes_before(constraint.before) {
                let before = pack.job(usize::from(constraint.before));
                write!(out, "\nAfter: {}", pack.text(before.name))?;
                match pack.text(constraint.because) {
                    "" => {}
                    because => write!(out, ", because {because}")?,
                }
                out.write_char('.')?;
            }
        }
        Ok(())
    }
}

/// How long a job takes, and what is waited for after it.
fn times(out: &mut dyn Write, job: &Job) -> fmt::Result {
    let [quickest, usual, slowest] = job.takes;
    if slowest > 0 {
        out.write_str("\nTakes ")?;
        words::time(out, quickest)?;
        if slowest > quickest {
            out.write_str(" to ")?;
            words::time(out, slowest)?;
            out.write_str(", mostly ")?;
            words::time(out, usual)?;
        }
        out.write_char('.')?;
    }
    let [least, most] = job.waits;
    if most > 0 {
        out.write_str("\nThen waits ")?;
        words::time(out, least)?;
        if most > least {
            out.write_str(" to ")?;
            words::time(out, most)?;
        }
        out.write_char('.')?;
    }
    Ok(())
}
