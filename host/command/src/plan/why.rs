//! `tellmark plan --why`: why a job stands where it does.

use super::super::exit::{Exit, Stopped};
use super::super::frame::Frame;
use super::super::shape::Shape;
use super::super::steps;
use super::{Printed, STRONG, because};
use serde_json::{Value, json};
use tellmark_core::pack::Force;
use tellmark_job::advice::{After, OwnStep, Step};
use tellmark_language::words::{list, minutes};

impl Printed<'_> {
    /// Why a job stands where it does.
    pub(super) fn why(&self, frame: &mut Frame, asked: &str) -> Result<Exit, Stopped> {
        let own = self.plan.own.iter();
        if let Some(own) = own
            .clone()
            .find(|own| own.job.eq_ignore_ascii_case(asked.trim()))
        {
            return self.why_own(frame, own);
        }
        let step = match steps::step(self.model, self.plan, asked) {
            Ok(step) => step,
            Err(why) => return self.why_not(frame, asked, why),
        };
        let follow: Vec<(&Step, &After)> = self
            .plan
            .steps
            .iter()
            .filter_map(|later| {
                let after = later.after.iter().find(|after| after.job == step.job)?;
                Some((later, after))
            })
            .collect();
        if frame.global.json {
            let before: Vec<Value> = step.after.iter().map(|a| self.after_json(a)).collect();
            let after: Vec<Value> = follow
                .iter()
                .map(|(later, after)| {
                    json!({ "job": self.name(later.job), "because": after.because })
                })
                .collect();
            let instead: Vec<Value> = step.turns.iter().map(|t| self.turned_json(t)).collect();
            frame.print_json(
                Shape::PLAN_WHY,
                json!({
                    "job": self.name(step.job),
                    "instead": instead,
                    "after": before,
                    "before": after,
                }),
            )?;
            return Ok(Exit::Fine);
        }
        writeln!(frame.out, "{STRONG}{}{STRONG:#}", self.name(step.job))?;
        if let Some(job) = step.needed_by {
            let name = self.name(job);
            let then = &self.model.jobs[job].then;
            match then.iter().any(|then| then.index() == step.job) {
                true => writeln!(frame.out, "  is done because it must follow \"{name}\"")?,
                false => writeln!(frame.out, "  is done because \"{name}\" needs it")?,
            }
        }
        self.print_turns(frame, &step.turns)?;
        for after in &step.after {
            writeln!(
                frame.out,
                "  {} \"{}\"{}",
                match after.force {
                    Force::Better => "better after",
                    _ => "after",
                },
                self.name(after.job),
                because(after)
            )?;
        }
        for (later, after) in follow {
            writeln!(
                frame.out,
                "  {} \"{}\"{}",
                match after.force {
                    Force::Better => "better before",
                    _ => "before",
                },
                self.name(later.job),
                because(after)
            )?;
        }
        if step.after.is_empty() {
            writeln!(
                frame.out,
                "  Nothing has to come before it; it stands where its stage does."
            )?;
        }
        Ok(Exit::Fine)
    }

    /// Why a job does not stand in the plan: it is done, or nothing calls for it.
    fn why_not(&self, frame: &mut Frame, asked: &str, why: Stopped) -> Result<Exit, Stopped> {
        let own = || {
            let done = self.progress.done();
            let mut own = done.filter(|told| told.what.index.is_none());
            own.find(|told| told.what.job.eq_ignore_ascii_case(asked.trim()))
        };
        let (job, name) = match steps::any_job(self.model, asked) {
            Ok(job) => (Some(job), self.name(job).to_owned()),
            Err(near) => match own() {
                Some(told) => (None, told.what.job.clone()),
                None if steps::is_nothing_like(self.model, asked) => return Err(near),
                None => return Err(why),
            },
        };
        let ticks = self.progress.done().filter(|told| match job {
            Some(job) => told.what.index == Some(job),
            None => told.what.index.is_none() && told.what.job == name,
        });
        let said: Vec<String> = ticks
            .map(|told| {
                format!(
                    "is done{}: line {}, {}",
                    self.on(&told.what.parts.names),
                    told.line,
                    told.when
                )
            })
            .collect();
        let said = match said.is_empty() {
            true => vec![
                "is not in the plan: nothing that was found calls for it, and nothing that is \
                 planned needs it"
                    .to_owned(),
            ],
            false => said,
        };
        if frame.global.json {
            frame.print_json(
                Shape::PLAN_WHY,
                json!({
                    "job": name,
                    "not_in_plan": said,
                    "instead": [],
                    "after": [],
                    "before": [],
                }),
            )?;
            return Ok(Exit::Fine);
        }
        writeln!(frame.out, "{STRONG}{name}{STRONG:#}")?;
        for said in said {
            writeln!(frame.out, "  {said}")?;
        }
        Ok(Exit::Fine)
    }

    /// Why work of one's own stands where it does.
    fn why_own(&self, frame: &mut Frame, own: &OwnStep) -> Result<Exit, Stopped> {
        if frame.global.json {
            frame.print_json(
                Shape::PLAN_WHY,
                json!({
                    "job": own.job,
                    "own_since_line": own.line,
                    "instead": [],
                    "after": [],
                    "before": [],
                }),
            )?;
            return Ok(Exit::Fine);
        }
        writeln!(frame.out, "{STRONG}{}{STRONG:#}", own.job)?;
        writeln!(
            frame.out,
            "  is work of your own (line {}): {} on {}. No rule orders it, so it stands behind what \
             the rules plan, and can be done when you like.",
            own.line,
            minutes(own.takes),
            list(&own.parts)
        )?;
        Ok(Exit::Fine)
    }

    /// Why one job stands before another.
    pub(super) fn why_pair(
        &self,
        frame: &mut Frame,
        one: &str,
        other: &str,
    ) -> Result<Exit, Stopped> {
        let mut own = self.plan.own.iter();
        let is_asked = |own: &&OwnStep| {
            let mut asked = [one, other].into_iter();
            asked.any(|asked| own.job.eq_ignore_ascii_case(asked.trim()))
        };
        if let Some(own) = own.find(is_asked) {
            return self.why_own(frame, own);
        }
        let one = steps::step(self.model, self.plan, one)?;
        let other = steps::step(self.model, self.plan, other)?;
        let at = |step: &Step| self.plan.steps.iter().position(|s| s.job == step.job);
        let (first, last) = if at(one) <= at(other) {
            (one, other)
        } else {
            (other, one)
        };
        let way = self.plan.way(first.job, last.job).unwrap_or_default();
        let (before, after) = (self.name(first.job), self.name(last.job));
        if frame.global.json {
            let way: Vec<Value> = way
                .iter()
                .map(|(job, why)| json!({ "job": self.name(*job), "after": self.after_json(why) }))
                .collect();
            frame.print_json(
                Shape::PLAN_WAY,
                json!({ "first": before, "last": after, "way": way }),
            )?;
            return Ok(Exit::Fine);
        }
        if way.is_empty() {
            let why = if first.stage == last.stage {
                "Nothing ties them: both belong to one stage, where they stand as the rules name them"
                    .to_owned()
            } else {
                format!(
                    "Nothing ties them, but \"{}\" comes before \"{}\"",
                    first.stage.words(),
                    last.stage.words()
                )
            };
            writeln!(frame.out, "\"{before}\" stands before \"{after}\". {why}.")?;
            return Ok(Exit::Fine);
        }
        writeln!(frame.out, "{STRONG}{before}{STRONG:#}")?;
        for (job, why) in way {
            let word = match why.force {
                Force::Better => "better before",
                _ => "before",
            };
            writeln!(frame.out, "  {word} \"{}\"{}", self.name(job), because(why))?;
        }
        Ok(Exit::Fine)
    }
}
