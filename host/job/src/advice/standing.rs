//! Where a job stands: what a workshop wants to know of each job on its shelf.

use super::plan::WorkPlan;
use super::progress::{Mark, Marked, Progress, Told};
use crate::record::{Entry, PaperKind, Says, Shelf, When};
use jiff::ToSpan as _;
use jiff::civil::{DateTime, Time};
use jiff::tz::Offset;
use tellmark_compile::set_up::Caution;
use tellmark_language::model::{Minutes, Model};
use tellmark_language::words::list;

/// How far a job has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Nothing was found yet.
    TakenIn,
    /// Something was found; nothing is agreed or done.
    LookedOver,
    /// An estimate was kept; nothing is agreed or done.
    Estimated,
    /// The owner agreed to something; nothing is done.
    Agreed,
    /// Something is begun or done, and something is left to do.
    OnTheBench,
    /// Something is being waited for.
    Waiting,
    /// Something is done, and nothing that is left is certain.
    NothingCertainLeft,
    /// Somebody said that it is ready, or nothing at all is left to do.
    Ready,
    /// Somebody said that it was handed back.
    HandedBack,
}

impl Stage {
    /// "on the bench".
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::TakenIn => "taken in",
            Self::LookedOver => "looked over",
            Self::Estimated => "estimated",
            Self::Agreed => "agreed",
            Self::OnTheBench => "on the bench",
            Self::Waiting => "waiting",
            Self::NothingCertainLeft => "nothing certain left",
            Self::Ready => "ready",
            Self::HandedBack => "handed back",
        }
    }
}

/// What is waited for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wait {
    /// "the hinge from the foundry", "reglue the drawer".
    pub what: String,
    /// Until when at the least, if that can be said; of what somebody waits for, the beginning of
    /// the day on which it is expected.
    pub until: Option<DateTime>,
    /// The line of the record that ticks what has to be left alone; `None` if somebody said that
    /// this is waited for.
    pub ticked: Option<usize>,
}

impl Wait {
    /// "for \"the hinge\", expected on 2026-12-05, which is over", "for \"reglue the drawer\" until
    /// 2026-12-05 08:00".
    #[must_use]
    pub fn in_words(&self, now: Now) -> String {
        let what = format!("for \"{}\"", self.what);
        match (self.until, self.ticked) {
            (None, _) => what,
            (Some(until), Some(_)) => format!("{what} until {}", until.strftime("%Y-%m-%d %H:%M")),
            (Some(until), None) => {
                let is_over = until.date() < now.wall.date();
                let over = if is_over { ", which is over" } else { "" };
                format!("{what}, expected on {}{over}", until.date())
            }
        }
    }
}

/// Where a job stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Standing {
    /// How far it has come.
    pub stage: Stage,
    /// What it waits for, the longest wait first.
    pub waits: Vec<Wait>,
    /// Jobs that are certain and left to do.
    pub left: usize,
    /// The minutes that these mostly take, of as many as the rules give a time for.
    pub minutes: Minutes,
    /// Those of them that wait for the owner's answer.
    pub to_ask: usize,
    /// Jobs that were ticked.
    pub done: usize,
    /// Cautions that stop the work and stand, each with its parts.
    pub stops: Vec<String>,
}

/// The time at which it is asked where a job stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Now {
    /// On the wall.
    pub wall: DateTime,
    /// How far the clock on the wall is before UTC.
    pub offset: Offset,
}

impl Standing {
    /// Of a job with so many findings, by its plan.
    #[must_use]
    pub fn of(
        model: &Model,
        findings: usize,
        entries: &[Entry],
        progress: &Progress,
        plan: &WorkPlan,
        now: Now,
    ) -> Self {
        let done = progress.done().count();
        let certain = || plan.steps.iter().filter(|step| !step.certain.is_empty());
        let left = certain().count() + plan.own.len();
        let is_agreed = progress.marks.iter().any(|m| m.what.mark == Mark::Agreed)
            || answered(entries) == Some(true);
        let is_kept = |entry: &Entry| matches!(&entry.says, Says::Kept(paper) if paper.name.kind == PaperKind::Estimate);
        let is_estimated = entries.iter().any(is_kept);
        let is_begun = entries
            .iter()
            .any(|entry| matches!(entry.says, Says::Started { .. }));
        let said = said(entries);
        let waits = waits(model, entries, progress, now);
        let stage = match () {
            () if said == Some(&Shelf::HandedBack) => Stage::HandedBack,
            () if said == Some(&Shelf::Ready) => Stage::Ready,
            () if !waits.is_empty() => Stage::Waiting,
            () if done > 0 && plan.is_empty() => Stage::Ready,
            () if done > 0 && left == 0 => Stage::NothingCertainLeft,
            () if done > 0 || is_begun => Stage::OnTheBench,
            () if is_agreed => Stage::Agreed,
            () if is_estimated => Stage::Estimated,
            () if findings > 0 => Stage::LookedOver,
            () => Stage::TakenIn,
        };
        Self {
            stage,
            waits,
            left,
            minutes: plan.times.certain[1],
            to_ask: certain().filter(|step| step.to_ask).count(),
            done,
            stops: plan.cautions.iter().filter(|c| c.stop).map(stop).collect(),
        }
    }
}

/// "the left leaf: Do not load it."
fn stop(caution: &Caution) -> String {
    format!("{}: {}", list(&caution.parts), caution.text)
}

/// Whether the owner said yes to a paper last; `None` if they said nothing to one.
fn answered(entries: &[Entry]) -> Option<bool> {
    let mut said = entries.iter().rev().filter_map(|entry| match &entry.says {
        Says::Answer(answer) => Some(answer.yes),
        _ => None,
    });
    said.next()
}

fn said(entries: &[Entry]) -> Option<&Shelf> {
    said_when(entries).map(|(shelf, _)| shelf)
}

/// What was said last of where it stands, and when, if it still holds: work on it ends a wait and
/// that it is ready, but what was handed back is handed back until somebody says that it goes on.
#[must_use]
pub fn said_when(entries: &[Entry]) -> Option<(&Shelf, When)> {
    let mut said = None;
    for entry in entries {
        match &entry.says {
            Says::Shelf(Shelf::GoesOn) => said = None,
            Says::Shelf(shelf) => said = Some((shelf, entry.when)),
            Says::Done { .. } | Says::NotDone { .. } | Says::Started { .. }
                if !matches!(said, Some((Shelf::HandedBack, _))) =>
            {
                said = None;
            }
            _ => {}
        }
    }
    said
}

/// What a piece waits for, the longest wait first: what somebody said it waits for, until work goes
/// on or somebody says so, and what was done and has to be left alone. Nothing is waited for once
/// it is handed back.
#[must_use]
pub fn waits(model: &Model, entries: &[Entry], progress: &Progress, now: Now) -> Vec<Wait> {
    let mut waits = Vec::new();
    match said(entries) {
        Some(Shelf::HandedBack) => return waits,
        Some(Shelf::WaitsFor { what, until }) => waits.push(Wait {
            what: what.clone(),
            until: until.map(|day| day.to_datetime(Time::midnight())),
            ticked: None,
        }),
        _ => {}
    }
    waits.extend(setting(model, progress, now));
    waits.sort_by_key(|wait| std::cmp::Reverse((wait.until.is_none(), wait.until)));
    waits
}

/// What was done and is to be left alone for longer, wherever the piece stands: the longest wait
/// first.
#[must_use]
pub fn setting(model: &Model, progress: &Progress, now: Now) -> Vec<Wait> {
    let mut waits: Vec<Wait> = Vec::new();
    for told in progress.done() {
        let Some(until) = sets_until(model, told, now) else {
            continue;
        };
        let wait = Wait {
            what: told.what.job.clone(),
            until: Some(until),
            ticked: Some(told.line),
        };
        // Of a job done on one part after the other, the last is what counts.
        match waits
            .iter_mut()
            .find(|known| known.ticked.is_some() && known.what == wait.what)
        {
            Some(known) if known.until >= wait.until => {}
            Some(known) => *known = wait,
            None => waits.push(wait),
        }
    }
    waits.sort_by_key(|wait| std::cmp::Reverse((wait.until.is_none(), wait.until)));
    waits
}

/// When what was done has been left alone for long enough, if that is still to come.
#[must_use]
pub fn sets_until(model: &Model, done: &Told<Marked>, now: Now) -> Option<DateTime> {
    let (least, _) = model.jobs.get(done.what.index?)?.waits?;
    let from = match (done.when.instant(now.offset), done.when) {
        (Some(instant), _) => now.offset.to_datetime(instant),
        (None, When::Day(day)) => day.to_datetime(Time::midnight()),
        (None, _) => return None,
    };
    let until = from.checked_add(i64::from(least).minutes()).ok()?;
    (until > now.wall).then_some(until)
}
