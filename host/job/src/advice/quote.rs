//! What a quotation rests on: the jobs that are certain and those that may follow,
//! how many hours it all takes, and what nobody has seen yet.

use std::collections::BTreeSet;

use tellmark_core::pack::Pack;
use tellmark_core::piece::{Part, SetUpError};

use super::plan::{LeftAlone, NotDone, plan};
use super::progress::{OwnWork, Progress, Told};
use crate::hours::{Hours, NoHours, Spread, Task, Work};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::SetUp;
use tellmark_compile::set_up::part_ref;
use tellmark_language::model::{Takes, Verb};
use tellmark_language::words;

/// A job of a quotation, for one part.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Item {
    /// The job.
    pub job: String,
    /// The part that it is done for.
    pub part: String,
    /// The chance that it is done; `None` where the rules give none.
    pub chance: Option<f64>,
    /// It is done whatever is hidden.
    pub certain: bool,
    /// Something that the rules give no chance for may call for it too.
    pub cannot_say: bool,
    /// As long as nobody has measured, this longer job is counted in its stead.
    pub counted_as: Option<String>,
    /// The order of work has it already, certain or perhaps.
    pub planned: bool,
    /// The order of work calls for it, and not only perhaps.
    pub called: bool,
    /// It is the longest of several jobs of which one is done, if any is; nobody has measured which.
    pub longest_of_several: bool,
    /// Minutes: quickest, usual, slowest; `None` if the rules do not say.
    pub minutes: Option<[u32; 3]>,
    /// Elapsed minutes of waiting after it, least and most.
    pub waits: Option<[u32; 2]>,
    /// Materials.
    pub needs: Vec<String>,
    /// The owner decides before it, and has not yet.
    pub ask_owner: bool,
    /// Only another job needs it: this one.
    pub needed_by: Option<String>,
    /// The line of the record that ticked it before, if what it mended was found again.
    pub again: Option<usize>,
}

/// Of the owner's decisions, those are named that are likely to come up: what the rules
/// call possible.
const POSSIBLE: u8 = tellmark_language::model::Sureness::Possibly.percent();

impl Item {
    /// Whether the owner decides before it, and it is likely enough to come to that.
    #[must_use]
    pub fn comes_up_to_decide(&self) -> bool {
        self.ask_owner && self.chance.is_some_and(|c| words::reaches(c, POSSIBLE))
    }
}

/// Points of a distribution of hours: so many are enough in one, five, eight and
/// nine cases of ten.
#[derive(Clone, Copy, Debug, Default, PartialEq, serde::Serialize)]
pub struct Points {
    /// Enough in 10 of 100 cases.
    pub p10: f64,
    /// Enough in 50.
    pub p50: f64,
    /// Enough in 80.
    pub p80: f64,
    /// Enough in 90.
    pub p90: f64,
}

impl From<&Spread> for Points {
    fn from(spread: &Spread) -> Self {
        Self {
            p10: spread.point(0.1),
            p50: spread.point(0.5),
            p80: spread.point(0.8),
            p90: spread.point(0.9),
        }
    }
}

/// Something that nobody has seen yet, and that widens the range.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Unseen {
    /// The part.
    pub part: String,
    /// "is racked".
    pub words: String,
    /// Whether it shows only when the piece is apart.
    pub hidden: bool,
    /// Its chance.
    pub chance: f64,
    /// Mean hours if it is not so.
    pub hours_if_not: f64,
    /// Mean hours if it is.
    pub hours_if_so: f64,
    /// The standard deviation, in hours, to be expected once it is known.
    pub deviation: f64,
}

/// What a quotation rests on.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Quote {
    /// Every job that is certain or may follow, in the order of work; those that no
    /// plan has yet come last.
    pub items: Vec<Item>,
    /// Mean of all hours.
    pub mean: f64,
    /// Standard deviation of all hours.
    pub deviation: f64,
    /// All hours.
    pub hours: Points,
    /// Hours of what the order of work has and does not call "perhaps"; nought if it has
    /// nothing.
    pub planned_hours: Points,
    /// How likely each total is.
    pub total: Spread,
    /// What widens the range most, widest first.
    pub widens: Vec<Unseen>,
    /// Waiting, in elapsed minutes, least and most, for the same.
    pub waits: [u32; 2],
    /// What is called for and cannot be done, because a job that must come first was
    /// refused; it is in none of the figures.
    pub not_done: Vec<NotDone>,
    /// What the owner wants left alone, with the jobs that it stops; they are in none of the
    /// figures.
    pub left: Vec<LeftAlone>,
}

impl Quote {
    /// Whether the order of work calls for anything that takes time.
    #[must_use]
    pub fn has_planned_hours(&self) -> bool {
        self.planned_hours.p90 > 0.0
    }

    /// What widens the range, widest first; parts that are alike stand together.
    #[must_use]
    pub fn widens_alike(&self) -> Vec<(Vec<&str>, &Unseen)> {
        let mut groups: Vec<(Vec<&str>, &Unseen)> = Vec::new();
        for unseen in &self.widens {
            let is_alike = |(_, other): &&mut (Vec<&str>, &Unseen)| {
                other.words == unseen.words && (other.deviation - unseen.deviation).abs() < 1e-6
            };
            match groups.iter_mut().find(is_alike) {
                Some((parts, _)) => parts.push(&unseen.part),
                None => groups.push((vec![&unseen.part], unseen)),
            }
        }
        groups
    }

    /// What is to be done a second time because it did not hold, in sentences.
    #[must_use]
    pub fn again_in_words(&self) -> Vec<String> {
        let again = self.items.iter().filter_map(|item| {
            let line = item.again?;
            Some(format!(
                "\"{}\" ({}) was done before (line {line}), and what it mended was found again. \
                 Whether that is charged is for your price list to say (job.again).",
                item.job, item.part
            ))
        });
        again.collect()
    }

    /// A job that is not counted: "renew the hinge", or "renew the hinge on further parts", if it is
    /// counted for others.
    fn uncounted(&self, item: &Item) -> String {
        let mut items = self.items.iter();
        match items.any(|other| other.job == item.job && other.chance.is_some()) {
            true => format!("{} on further parts", item.job),
            false => item.job.clone(),
        }
    }

    /// What is in none of the figures, because the rules give it no chance or no time,
    /// in sentences.
    #[must_use]
    pub fn uncounted_in_words(&self) -> Vec<String> {
        let mut uncounted: Vec<String> = Vec::new();
        let mut instead: Vec<String> = Vec::new();
        for item in self.items.iter().filter(|item| item.chance.is_none()) {
            let (named, said) = match &item.counted_as {
                Some(other) => (
                    &mut instead,
                    format!("\"{}\" instead of \"{other}\"", item.job),
                ),
                None if item.needed_by.is_none() => (&mut uncounted, self.uncounted(item)),
                None => continue,
            };
            if !named.contains(&said) {
                named.push(said);
            }
        }
        let untimed = |item: &&Item| item.minutes.is_none() && item.chance.is_some();
        let untimed = self.items.iter().filter(untimed).count();
        let mut sentences = Vec::new();
        if !uncounted.is_empty() {
            sentences.push(format!(
                "Not counted, because the rules do not say how likely it is: {}. A look settles \
                 it.",
                words::list(&uncounted)
            ));
        }
        if !instead.is_empty() {
            sentences.push(format!(
                "Until somebody looks, the longest job is counted. It may come to {}.",
                words::list(&instead)
            ));
        }
        if untimed > 0 {
            sentences.push(format!(
                "For {} the rules do not say what it takes.",
                words::some_of(u32::try_from(untimed).unwrap_or(u32::MAX), "job", "jobs")
            ));
        }
        sentences
    }
}

/// Why there is no quotation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoQuote {
    /// The piece cannot be set up.
    SetUp(SetUpError),
    /// The hours cannot be worked out.
    Hours(NoHours),
}

/// What is named of what widens the range.
const NAMED: usize = 12;
/// What narrows the range by less than this share of it is not named.
const FELT: f64 = 0.005;

/// Works out what a quotation rests on.
///
/// # Errors
/// See [`NoQuote`].
pub fn quote(set_up: &SetUp<'_>, pack: Pack<'_>, progress: &Progress) -> Result<Quote, NoQuote> {
    let mut room = Room::<f64>::default();
    let mut case = set_up.case(pack, &mut room).map_err(NoQuote::SetUp)?;
    if case.is_impossible() {
        return Err(NoQuote::Hours(NoHours::Clash));
    }
    let status = |job: u16, part: usize| progress.status(usize::from(job), part);
    let done = progress.to_be_followed();
    let work = Work::of(set_up, pack, &mut case, &status, &done).map_err(NoQuote::SetUp)?;
    let hours = work.hours().map_err(NoQuote::Hours)?;
    let order = plan(set_up, pack, progress).map_err(NoQuote::SetUp)?;
    let place = |job: usize| {
        let step = order.steps.iter().position(|step| step.job == job);
        step.unwrap_or(usize::MAX)
    };
    let parts = case.inspection.piece().parts();
    let mut tasks: Vec<usize> = (0..work.tasks.len()).collect();
    tasks.sort_by_key(|&t| {
        let task = &work.tasks[t];
        (place(task.job.index()), task.job, task.part)
    });
    let certain = work.certain();
    let called: BTreeSet<(usize, usize)> = order
        .steps
        .iter()
        .flat_map(|step| step.certain_parts.iter().map(|&part| (step.job, part)))
        .collect();
    let is_called = |task: &Task| called.contains(&(task.job.index(), task.part));
    // One job of the ladder is called for: what it comes to at most is planned.
    let is_open_rung = |task: &Task| {
        let part = name(set_up, parts, task.part);
        let mut steps = order
            .steps
            .iter()
            .filter(|step| step.job == task.job.index());
        steps.any(|step| {
            let mut ladders = step.one_of.iter();
            ladders.any(|open| open.chance.is_none() && open.part == part)
        })
    };
    let own: Vec<Item> = progress.own_to_do().map(own_item).collect();
    let own_hours = own.iter().filter_map(|item| item.minutes);
    let own_hours: f64 = own_hours.map(|[_, takes, _]| f64::from(takes) / 60.0).sum();
    let total = hours.total.later(own_hours);
    Ok(Quote {
        items: tasks
            .iter()
            .map(|&t| {
                item(
                    set_up,
                    parts,
                    &work,
                    progress,
                    &hours.chances,
                    (
                        certain[t],
                        is_called(&work.tasks[t]),
                        is_open_rung(&work.tasks[t]),
                    ),
                    t,
                )
            })
            .chain(own)
            .collect(),
        mean: hours.mean + own_hours,
        deviation: hours.deviation,
        hours: (&total).into(),
        planned_hours: (&work.hours_of(is_called).later(own_hours)).into(),
        widens: widens(set_up, parts, &work, &hours, own_hours),
        total,
        waits: order.times.waits.certain,
        not_done: order.not_done,
        left: order.left_alone,
    })
}

fn name(set_up: &SetUp<'_>, parts: &[Part], part: usize) -> String {
    let reference = part_ref(&set_up.built.places, parts, part);
    words::part_name(set_up.model, &reference)
}

/// Work of one's own on a part.
fn own_item((own, _, part): (&Told<OwnWork>, usize, &str)) -> Item {
    Item {
        job: own.what.job.clone(),
        part: part.to_owned(),
        chance: Some(1.0),
        certain: true,
        cannot_say: false,
        counted_as: None,
        planned: true,
        called: true,
        longest_of_several: false,
        minutes: Some([own.what.takes; 3]),
        waits: None,
        needs: Vec::new(),
        ask_owner: false,
        needed_by: None,
        again: None,
    }
}

fn item(
    set_up: &SetUp<'_>,
    parts: &[Part],
    work: &Work,
    progress: &Progress,
    chances: &[Option<f64>],
    (certain, is_called, is_open_rung): (bool, bool, bool),
    at: usize,
) -> Item {
    let task = &work.tasks[at];
    let chance = chances[at];
    let is_counted_for_another = |(other, one): (usize, &Task)| {
        (one.counted_as, one.part) == (Some(task.job), task.part) && chances[other].is_none()
    };
    let mut tasks = work.tasks.iter().enumerate();
    let longest_of_several = chance.is_some() && !is_called && tasks.any(is_counted_for_another);
    let job = &set_up.model.jobs[task.job.index()];
    let is_decided = progress.decision(task.job.index(), task.part).is_some();
    let minutes = |t: Takes| [t.least, t.mostly, t.most];
    let needs_it = task.needed_by.first().filter(|_| task.when.is_empty());
    Item {
        job: job.name.clone(),
        part: name(set_up, parts, task.part),
        chance,
        certain,
        cannot_say: task.cannot_say,
        counted_as: task
            .counted_as
            .filter(|_| chance.is_none())
            .map(|other| set_up.model.jobs[other.index()].name.clone()),
        planned: task.is_planned,
        called: is_called || (longest_of_several && is_open_rung),
        longest_of_several,
        minutes: job.takes.map(minutes),
        waits: job.waits.map(|(least, most)| [least, most]),
        needs: job.needs.clone(),
        ask_owner: (job.ask_owner && !is_decided)
            || !progress.touches(task.job.index(), task.part).is_empty(),
        again: progress.did_not_hold(task.job.index(), task.part),
        needed_by: needs_it.map(|&by| {
            let by = &work.tasks[by];
            set_up.model.jobs[by.job.index()].name.clone()
        }),
    }
}

fn widens(
    set_up: &SetUp<'_>,
    parts: &[Part],
    work: &Work,
    hours: &Hours,
    own_hours: f64,
) -> Vec<Unseen> {
    let is_felt = |deviation: f64| deviation < hours.deviation * (1.0 - FELT);
    let states = &set_up.built.states.states;
    hours
        .widens
        .iter()
        .filter(|widens| is_felt(widens.deviation))
        .take(NAMED)
        .map(|widens| {
            let state = &work.ground.states[widens.state];
            let row = &states[state.row];
            let words = match (row.declared, row.verb) {
                (Some(declared), _) => words::state_words(set_up.model, declared, true, false),
                (None, Some(Verb::Is)) => format!("is {}", row.phrase),
                (None, Some(Verb::Shows)) => format!("shows {}", row.phrase),
                (None, None) => format!("has {}", row.phrase),
            };
            Unseen {
                part: name(set_up, parts, state.part),
                words,
                hidden: row.nature == tellmark_core::pack::Nature::Hidden,
                chance: widens.chance,
                hours_if_not: widens.means.0 + own_hours,
                hours_if_so: widens.means.1 + own_hours,
                deviation: widens.deviation,
            }
        })
        .collect()
}
