//! The order of work: never against what must be, against advice only where it
//! must, and as the rules name the jobs where nothing else decides. Small cases
//! against every order there is.

use std::collections::BTreeSet;

use proptest::prelude::*;
use tellmark_compile::build;
use tellmark_compile::check::{Depth, check};
use tellmark_compile::room::{PackBytes, Room};
use tellmark_core::inspection::Inspection;
use tellmark_core::number::{Share, UFloat};
use tellmark_core::pack::{Force, NONE, Nature as PackNature, Pack, Trial};
use tellmark_core::piece::{Answer, Piece};
use tellmark_core::plan::{Memory, Order, Seat, Status, Task, TooSmall};
use tellmark_core::truth::Truth;
use tellmark_job::house::standard;
use tellmark_language::model::{Asks, Disturbs, Nature};
use tellmark_language::model::{
    Condition, HowOften, Job, JobId, Kind, KindId, Member, Model, Order as Rule, Plan, Predicate,
    Reach, Sense, Sign, SignId, State, StateId, Takes, Test, Thousandths, Verb, WorkStage,
};
use tellmark_language::span::Span;
use tellmark_language::{SourceFile, read};

const BOX: KindId = KindId(1);
const TRAY: KindId = KindId(2);

/// A constraint: before, after, how.
type Arrow = (usize, usize, Force);

/// What is done between a job and the one that must follow it: what needs the earlier one
/// first, and what must follow that.
fn between(arrows: &[Arrow]) -> Vec<Arrow> {
    let of = |force| arrows.iter().filter(move |a| a.2 == force);
    let mut found = Vec::new();
    for &(opens, closes, _) in of(Force::Then) {
        for &(_, meanwhile, _) in of(Force::First).filter(|a| a.0 == opens) {
            let thens = of(Force::Then).filter(|a| a.0 == meanwhile).map(|a| a.1);
            for job in std::iter::once(meanwhile).chain(thens) {
                let hard = |a: &&Arrow| a.2 != Force::Better;
                let mut said = arrows.iter().filter(hard).map(|a| (a.0, a.1));
                let is_said = said.any(|pair| pair == (job, closes) || pair == (closes, job));
                let arrow = (job, closes, Force::Always);
                if job != closes && !is_said && !found.contains(&arrow) {
                    found.push(arrow);
                }
            }
        }
    }
    found
}

/// Rules with these jobs: whether each is called for by a sign of a box (`None`)
/// or of a tray, and the constraints.
#[derive(Clone, Debug)]
struct Case {
    jobs: usize,
    arrows: Vec<Arrow>,
    /// What follows from the arrows: see [`between`].
    between: Vec<Arrow>,
    /// Which jobs the box's signs call for, and which the first tray's.
    called: Vec<(bool, bool)>,
    /// The stage of each, as an index into the six.
    stages: Vec<usize>,
    /// Which jobs are still to be done.
    wanted: Vec<bool>,
    /// For which parts the owner will not have each: the box and the two trays.
    refused: Vec<[bool; 3]>,
    /// For which jobs the box's sign was not looked at.
    unknown: Vec<bool>,
}

impl Case {
    fn status(&self, job: usize, part: usize) -> Status {
        match () {
            () if self.refused[job][part] => Status::Refused,
            () if !self.wanted[job] => Status::Done,
            () => Status::ToDo,
        }
    }

    /// Everything that is said of the order, or follows from it.
    fn ties(&self) -> impl Iterator<Item = &Arrow> {
        self.arrows.iter().chain(&self.between)
    }

    /// What is done, each job on each part that it was done for.
    fn done(&self) -> Vec<(u16, usize)> {
        let jobs = (0..self.jobs).filter(|&job| !self.wanted[job]);
        jobs.flat_map(|job| [0, 1].map(|part| (job, part)))
            .filter(|&(job, part)| self.is_called(job, part) && !self.refused[job][part])
            .map(|(job, part)| (id(job).0, part))
            .collect()
    }

    /// Whether a job must follow one that is done on a part.
    fn follows(&self, job: usize, part: usize) -> bool {
        let done = self.done();
        let mut thens = self.arrows.iter().filter(|a| a.2 == Force::Then);
        thens.any(|then| then.1 == job && done.contains(&(id(then.0).0, part)))
    }

    /// The jobs that a job needs first.
    fn needs(&self, job: usize) -> impl Iterator<Item = usize> {
        let firsts = self.arrows.iter().filter(|a| a.2 == Force::First);
        firsts.filter(move |a| a.1 == job).map(|a| a.0)
    }

    /// Whether a job must follow one of these.
    fn is_brought(&self, job: usize, by: &[usize]) -> bool {
        let mut thens = self.arrows.iter().filter(|a| a.2 == Force::Then);
        thens.any(|then| then.1 == job && by.contains(&then.0))
    }

    /// Whether something that a job needs first, or that needs in its turn, is refused.
    fn needs_refused(&self, job: usize, part: usize) -> bool {
        self.needs(job).any(|first| {
            self.refused[first][part] || self.refused[first][0] || self.needs_refused(first, part)
        })
    }

    /// Whether a plan calls for a job for a part, or may yet call for it.
    fn is_called(&self, job: usize, part: usize) -> bool {
        let (on_box, on_tray) = self.called[job];
        match part {
            0 => on_box || self.unknown[job],
            1 => on_tray,
            _ => false,
        }
    }

    fn stage(&self, job: usize) -> WorkStage {
        WorkStage::ALL[self.stages[job]].0
    }
}

fn often(chance: u16) -> HowOften {
    HowOften {
        word: None,
        cases: None,
        chance: Thousandths(chance),
    }
}

/// A sign on a box and one on a tray for each job, which plan it.
fn model(case: &Case) -> Model {
    let kind = |name: &str, is_piece, members| Kind {
        name: name.to_owned(),
        plural: format!("{name}s"),
        is_piece,
        members,
        ..Kind::default()
    };
    let trays = Member {
        kind: TRAY,
        least: 2,
        most: 2,
        usual: 2,
        names: Vec::new(),
        from: None,
        at: Span::default(),
    };
    let mut model = Model {
        kinds: vec![
            kind("piece", true, Vec::new()),
            kind("box", true, vec![trays]),
            kind("tray", false, Vec::new()),
        ],
        ..Model::default()
    };
    for job in 0..case.jobs {
        let needs = |(before, after, force): &Arrow| {
            (*after == job && *force == Force::First).then(|| id(*before))
        };
        let brings = |(before, after, force): &Arrow| {
            (*before == job && *force == Force::Then).then(|| id(*after))
        };
        let minutes = 10 * u32::try_from(job + 1).unwrap_or(1);
        model.jobs.push(Job {
            name: format!("job {job}"),
            takes: is_timed(job).then_some(Takes {
                least: minutes / 2,
                mostly: minutes,
                most: minutes * 2,
            }),
            waits: Some((minutes, minutes * 3)),
            needs: Vec::new(),
            first: case.arrows.iter().filter_map(needs).collect(),
            then: case.arrows.iter().filter_map(brings).collect(),
            touches: Vec::new(),
            mends: Vec::new(),
            until: Vec::new(),
            holds: None,
            ask_owner: false,
            stage: case.stage(job),
            once_for: None,
            source: None,
            at: Span::default(),
        });
        for kind in [BOX, TRAY] {
            let state = StateId(u16::try_from(model.states.len()).unwrap_or(0));
            let sign = SignId(u16::try_from(model.signs.len()).unwrap_or(0));
            model.signs.push(Sign {
                kind,
                sense: Sense::See,
                asks: Asks::Whether(state),
                ask: None,
                how: None,
                takes: None,
                slip: Thousandths(10),
                disturbs: Disturbs::Nothing,
                on_its_own: None,
                usually: None,
                in_order: None,
                worked: None,
                source: None,
                at: Span::default(),
            });
            model.states.push(State {
                kind,
                verb: Verb::Is,
                phrase: format!("s{}", state.0),
                also: Vec::new(),
                shared: Vec::new(),
                nature: Nature::Seen(sign),
                on_its_own: Some(often(200)),
                source: None,
                at: Span::default(),
            });
            model.plans.push(Plan {
                subject: kind,
                when: Condition::Test(Test {
                    whose: Reach::Own,
                    what: Predicate::State {
                        state,
                        yes: true,
                        sureness: None,
                    },
                    at: Span::default(),
                }),
                job: id(job),
                source: None,
                called: None,
                at: Span::default(),
            });
        }
    }
    for &(before, after, force) in &case.arrows {
        if matches!(force, Force::Always | Force::Better) {
            model.orders.push(Rule {
                before: id(before),
                after: id(after),
                always: force == Force::Always,
                because: Some(format!("{before} makes ready for {after}")),
                source: None,
                at: Span::default(),
            });
        }
    }
    model
}

/// Of the seventh job nobody knows how long it takes.
fn is_timed(job: usize) -> bool {
    job != 6
}

fn id(job: usize) -> JobId {
    JobId(u16::try_from(job).unwrap_or(0))
}

/// Memory enough for any order here.
struct Lent {
    tasks: Vec<Task>,
    seats: Vec<Seat>,
    broken: Vec<bool>,
}

impl Lent {
    fn of(pack: &Pack<'_>) -> Self {
        Self {
            tasks: vec![Task::NONE; 500],
            seats: vec![Seat::FREE; pack.jobs()],
            broken: vec![false; pack.constraints()],
        }
    }

    fn memory(&mut self) -> Memory<'_> {
        Memory {
            tasks: &mut self.tasks,
            seats: &mut self.seats,
            broken: &mut self.broken,
        }
    }
}

/// The jobs of an order, each once, in order.
fn jobs(order: &Order<'_>) -> Vec<usize> {
    let mut jobs: Vec<usize> = order.tasks().iter().map(|t| usize::from(t.job)).collect();
    jobs.dedup();
    jobs
}

fn with_order(case: &Case, look: impl FnOnce(&Pack<'_>, &Piece<'_>, &Order<'_>)) {
    let built = build(&model(case), &|_| String::new()).expect("builds");
    let pack = built.bytes.open().expect("opens");
    let root = pack.root_of(BOX.0).expect("a box");
    let mut room = Room::<UFloat>::default();
    let mut inspection = room
        .inspection(pack, root, |_, _, place| pack.place(place).usual)
        .expect("two trays");
    for (job, &(on_box, on_tray)) in case.called.iter().enumerate() {
        let asks = |part: usize, inspection: &Inspection<'_, '_, UFloat>| {
            let place = usize::from(inspection.piece().parts()[part].place);
            pack.asks_of(place).nth(job).expect("an ask for each job")
        };
        for (part, yes) in [(0, on_box), (1, on_tray), (2, false)] {
            let ask = asks(part, &inspection);
            if part > 0 || !case.unknown[job] {
                inspection
                    .answer(part, ask, Answer::Seen(yes))
                    .expect("it can be answered so");
            }
        }
    }
    let mut lent = Lent::of(&pack);
    let order = inspection
        .order(
            lent.memory(),
            |job, part| case.status(job.into(), part),
            &case.done(),
        )
        .expect("room enough");
    look(&pack, inspection.piece(), &order);
}

fn is_kept(order: &[usize], (before, after, _): &Arrow) -> bool {
    let at = |job: &usize| order.iter().position(|j| j == job);
    match (at(before), at(after)) {
        (Some(before), Some(after)) => before < after,
        _ => true,
    }
}

/// Everything that may be said of an order without trying others.
fn must_hold(case: &Case, pack: &Pack<'_>, piece: &Piece<'_>, order: &Order<'_>) -> Vec<usize> {
    let found = jobs(order);
    let distinct: BTreeSet<usize> = found.iter().copied().collect();
    assert_eq!(distinct.len(), found.len(), "tasks of a job stand together");
    let tasks: BTreeSet<(u16, u16)> = order.tasks().iter().map(|t| (t.job, t.part)).collect();
    assert_eq!(tasks.len(), order.tasks().len(), "no task twice");
    for arrow in case.ties().filter(|a| a.2 != Force::Better) {
        assert!(is_kept(&found, arrow), "{arrow:?} in {found:?}");
        if arrow.2 == Force::First && found.contains(&arrow.1) && case.wanted[arrow.0] {
            assert!(found.contains(&arrow.0), "{arrow:?} in {found:?}");
        }
    }
    for &job in &found {
        let needs = |a: &&Arrow| match a.2 {
            Force::First => a.0 == job && found.contains(&a.1),
            Force::Then => a.1 == job && (found.contains(&a.0) || !case.wanted[a.0]),
            Force::Always | Force::Better => false,
        };
        // A sign of the second tray was answered with no, the others as called.
        let (on_box, on_tray) = case.called[job];
        let is_needed = case.arrows.iter().any(|a| needs(&a));
        let is_called = on_box || on_tray || case.unknown[job] || is_needed;
        // What was done before follows anew what is to be done.
        let is_anew = case.is_brought(job, &found);
        assert!(
            is_called && (case.wanted[job] || is_anew),
            "{job} in {found:?}"
        );
    }
    let against: BTreeSet<(usize, usize)> = order
        .against(pack)
        .map(|(job, reason)| (usize::from(reason.before), usize::from(job)))
        .collect();
    for arrow in case.arrows.iter().filter(|a| a.2 == Force::Better) {
        let is_against = against.contains(&(arrow.0, arrow.1));
        assert!(is_against || is_kept(&found, arrow), "{arrow:?}");
    }
    // Only what must come first moves a job to a later stage.
    let stages = stages(case, &found);
    assert!(found.is_sorted_by_key(|&job| stages[job]), "{found:?}");
    // A job's reasons are all the constraints that hold it back, and stand before.
    for &job in &found {
        for reason in order.reasons(pack, id(job).0) {
            let before = usize::from(reason.before);
            assert!(is_kept(&found, &(before, job, reason.force)));
            assert!(case.ties().any(|a| *a == (before, job, reason.force)));
        }
    }
    for task in order.tasks() {
        is_sure_enough(case, order, task);
    }
    bars_what_cannot_be_done(case, order);
    what_must_follow_is_there(case, order);
    let mut untimed = order.tasks().iter().map(|task| usize::from(task.job));
    let untimed = untimed.by_ref().filter(|&job| !is_timed(job)).count();
    assert_eq!(order.times(pack).untimed, untimed);
    bites_where_it_should(piece, order);
    found
}

/// The stage in which each job of an order is done: its own, or the latest of what must come
/// before it.
fn stages(case: &Case, found: &[usize]) -> Vec<WorkStage> {
    let mut stages: Vec<WorkStage> = (0..case.jobs).map(|job| case.stage(job)).collect();
    for _ in 0..case.jobs {
        for &(before, after, force) in case.ties() {
            let both = found.contains(&before) && found.contains(&after);
            if force != Force::Better && both && stages[before] > stages[after] {
                stages[after] = stages[before];
            }
        }
    }
    stages
}

/// A task is as certain as what calls for it, and as what needs it.
fn is_sure_enough(case: &Case, order: &Order<'_>, task: &Task) {
    let job = usize::from(task.job);
    let (on_box, on_tray) = case.called[job];
    let part = usize::from(task.part);
    let called = match task.part {
        // It is done, and there only to follow another anew.
        _ if !case.wanted[job] => Truth::False,
        0 if case.unknown[job] => Truth::NotKnown,
        0 => on_box.into(),
        1 => on_tray.into(),
        _ => Truth::False,
    };
    assert_eq!(task.needed_by.is_none(), called != Truth::False, "{task:?}");
    let first = |before: usize, after: usize| case.arrows.contains(&(before, after, Force::First));
    let then = |before: usize, after: usize| case.arrows.contains(&(before, after, Force::Then));
    // That it is done for the sake of another, or with it.
    let comes_with = |other: usize| first(job, other) || then(other, job);
    if let Some(other) = task.needed_by {
        assert!(comes_with(usize::from(other)), "{task:?}");
    }
    let mut others = order.tasks().iter();
    let is_needed_certainly =
        others.any(|other| other.truth == Truth::True && comes_with(usize::from(other.job)));
    let follows = case.wanted[job] && case.follows(job, part);
    assert!(task.truth >= called.max(follows.into()), "{task:?}");
    if task.truth == Truth::True {
        // What must follow a job on a tray may be done on the box.
        let on_tray = case.wanted[job] && case.follows(job, 1);
        let follows = follows || (part == 0 && on_tray);
        let is_called = called == Truth::True || follows;
        assert!(is_called || is_needed_certainly, "{task:?}");
        assert_eq!(task.chance, Some(Share::WHOLE));
    }
    // What must follow it is there, unless it is done or cannot be.
    for after in (0..case.jobs).filter(|&after| then(job, after) && case.wanted[after]) {
        let is_it = |other: &&Task| {
            usize::from(other.job) == after && (other.part == task.part || other.part == 0)
        };
        let is_there = order.tasks().iter().filter(is_it);
        let is_there = is_there.clone().any(|other| other.truth >= task.truth);
        let cannot_be = order.barred().any(|other| is_it(&other));
        let is_refused = case.refused[after][part] || case.refused[after][0];
        let needs_refused = case.needs_refused(after, part);
        assert!(
            is_there || cannot_be || is_refused || needs_refused,
            "{after} after {task:?}"
        );
    }
    for before in (0..case.jobs).filter(|&before| first(before, job) && case.wanted[before]) {
        let mut there = order.tasks().iter();
        let is_there = there.any(|other| {
            usize::from(other.job) == before
                && (other.part == task.part || other.part == 0)
                && (other.truth, other.chance) >= (task.truth, task.chance)
        });
        assert!(is_there, "{before} before {task:?}");
    }
}

/// What must follow a job that is done is still to be done, unless it is done or cannot be.
fn what_must_follow_is_there(case: &Case, order: &Order<'_>) {
    for (before, part) in case.done() {
        let thens = case.arrows.iter();
        let thens = thens.filter(|a| a.2 == Force::Then && id(a.0).0 == before);
        for &(_, after, _) in thens {
            let is_it = |task: &Task| {
                let at = usize::from(task.part);
                usize::from(task.job) == after && (at == part || at == 0)
            };
            let is_there = |task: &Task| is_it(task) && task.truth == Truth::True;
            assert!(
                order.tasks().iter().any(is_there)
                    || order.barred().any(is_it)
                    || case.status(after, part) != Status::ToDo
                    || case.status(after, 0) == Status::Refused
                    || case.needs_refused(after, part),
                "{after} after {before} on {part}"
            );
        }
    }
}

/// What needs a job that is refused is not in the order, but told apart; nothing else is.
fn bars_what_cannot_be_done(case: &Case, order: &Order<'_>) {
    let has = |job: usize, part: usize| {
        let mut tasks = order.tasks().iter();
        tasks.any(|t| (usize::from(t.job), usize::from(t.part)) == (job, part))
    };
    // A need may be met on the box, if the job is done there.
    fn is_possible(case: &Case, met: &dyn Fn(usize) -> bool, job: usize, part: usize) -> bool {
        case.status(job, part) == Status::ToDo
            && case.needs(job).all(|first| {
                let is_done = case.status(first, part) == Status::Done;
                is_done || met(first) || is_possible(case, met, first, part)
            })
    }
    let at_most = |job| has(job, 0);
    let at_least = |job: usize| has(job, 0) && case.is_called(job, 0) && case.wanted[job];
    let mut barred = BTreeSet::new();
    for task in order.barred() {
        let (job, part) = (usize::from(task.job), usize::from(task.part));
        barred.insert((job, part));
        let by = usize::from(task.barred_by.expect("it is barred"));
        assert!(case.refused[by][part], "{task:?}");
        let mut needed: BTreeSet<usize> = case.needs(job).collect();
        for _ in 0..case.jobs {
            let more: Vec<usize> = needed.iter().flat_map(|&job| case.needs(job)).collect();
            needed.extend(more);
        }
        assert!(needed.contains(&by), "{task:?} has nothing to do with {by}");
    }
    for job in 0..case.jobs {
        for part in 0..3 {
            let is_called = case.is_called(job, part) && case.status(job, part) == Status::ToDo;
            let is_barred = barred.contains(&(job, part));
            let is_missing = is_called && !has(job, part);
            // What must follow another is told apart as well.
            let all: Vec<usize> = (0..case.jobs).collect();
            let may_follow = case.is_brought(job, &all) && !has(job, part);
            assert!(!is_missing || is_barred, "{job} on {part}");
            assert!(!is_barred || is_missing || may_follow, "{job} on {part}");
            if has(job, part) {
                let is_it = case.wanted[job] && is_possible(case, &at_most, job, part);
                assert!(is_it || case.is_brought(job, &all), "{job} on {part}");
            }
            if is_barred {
                assert!(!is_possible(case, &at_least, job, part), "{job} on {part}");
            }
        }
    }
}

/// A caution is heeded at the first task on its part or on what is built into it, else
/// at the first on its owner.
fn bites_where_it_should(piece: &Piece<'_>, order: &Order<'_>) {
    let first = |of: &dyn Fn(u16) -> bool| order.tasks().iter().position(|task| of(task.part));
    assert_eq!(order.bites_at(piece, 0), first(&|_| true));
    for (tray, number) in [(1_usize, 1_u16), (2, 2)] {
        let on_it = first(&|part| part == number);
        let expected = on_it.or(first(&|part| part == 0));
        assert_eq!(order.bites_at(piece, tray), expected);
    }
}

/// Every order of some jobs.
fn orders(jobs: &[usize]) -> Vec<Vec<usize>> {
    let mut all = vec![Vec::new()];
    for &job in jobs {
        all = all
            .into_iter()
            .flat_map(|order: Vec<usize>| {
                (0..=order.len()).map(move |at| {
                    let mut longer = order.clone();
                    longer.insert(at, job);
                    longer
                })
            })
            .collect();
    }
    all
}

fn cases(most: usize) -> impl Strategy<Value = Case> {
    (2..=most)
        .prop_flat_map(|jobs| {
            let arrow = (0..jobs, 0..jobs, 0..6_u8);
            (
                Just(jobs),
                Just((0..jobs).collect::<Vec<_>>()).prop_shuffle(),
                prop::collection::vec(arrow, 0..2 * jobs),
                prop::collection::vec(any::<(bool, bool)>(), jobs),
                prop::collection::vec(0..6_usize, jobs),
                prop::collection::vec(prop::bool::weighted(0.85), jobs),
                prop::collection::vec(prop::array::uniform3(prop::bool::weighted(0.08)), jobs),
                prop::collection::vec(prop::bool::weighted(0.2), jobs),
            )
        })
        .prop_map(
            |(jobs, line, arrows, called, stages, wanted, refused, unknown)| {
                // What must be goes along one line, so that it makes no circle;
                // advice goes anywhere.
                let at = |job: usize| line.iter().position(|&j| j == job);
                let mut seen = BTreeSet::new();
                let mut arrows: Vec<Arrow> = arrows
                    .into_iter()
                    .filter(|(one, other, _)| one != other)
                    .map(|(one, other, how)| match how {
                        0 | 1 => (one, other, Force::Better),
                        _ if at(one) > at(other) => (other, one, force(how)),
                        _ => (one, other, force(how)),
                    })
                    .filter(|(one, other, _)| seen.insert((*one, *other)))
                    .collect();
                while let Some(against) = between(&arrows)
                    .into_iter()
                    .find(|(one, other, _)| at(*one) > at(*other))
                {
                    let closes = |a: &&mut Arrow| a.1 == against.1 && a.2 == Force::Then;
                    let then = arrows.iter_mut().find(closes);
                    then.expect("it comes from one").2 = Force::Always;
                }
                Case {
                    jobs,
                    between: between(&arrows),
                    arrows,
                    called,
                    stages,
                    wanted,
                    refused,
                    unknown,
                }
            },
        )
}

fn force(how: u8) -> Force {
    match how {
        5 => Force::Then,
        4 => Force::First,
        _ => Force::Always,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn what_must_be_is_never_broken(case in cases(14)) {
        with_order(&case, |pack, piece, order| {
            must_hold(&case, pack, piece, order);
        });
    }

    #[test]
    fn small_orders_are_the_best_of_all(case in cases(6)) {
        with_order(&case, |pack, piece, order| {
            let found = must_hold(&case, pack, piece, order);
            let against: BTreeSet<(usize, usize)> = order
                .against(pack)
                .map(|(job, reason)| (usize::from(reason.before), usize::from(job)))
                .collect();
            let kept: Vec<&Arrow> = case
                .ties()
                .filter(|a| a.2 != Force::Better || !against.contains(&(a.0, a.1)))
                .collect();
            let mut sorted = found.clone();
            sorted.sort_unstable();
            let allowed: Vec<Vec<usize>> = orders(&sorted)
                .into_iter()
                .filter(|order| kept.iter().all(|arrow| is_kept(order, arrow)))
                .collect();
            // Of all that keep to the same, the one nearest the stages' and then the
            // rules' own order.
            let near = |order: &&Vec<usize>| -> Vec<(WorkStage, usize)> {
                order.iter().map(|&job| (case.stage(job), job)).collect()
            };
            assert_eq!(allowed.iter().min_by_key(near), Some(&found));
            // No advice is broken that could be followed without leaving a stage.
            let stages = stages(&case, &found);
            for &(before, after) in &against {
                let advice = (before, after, Force::Better);
                let moves = stages[before] > stages[after];
                assert!(moves || !allowed.iter().any(|order| is_kept(order, &advice)));
            }
            // The longest waits one after the other, by going back from each job.
            let wait = |job: usize| 10 * (u32::try_from(job).unwrap_or(0) + 1);
            let mut longest = vec![0; case.jobs];
            for &job in &found {
                let before = kept
                    .iter()
                    .filter(|a| a.1 == job && found.contains(&a.0))
                    .map(|a| longest[a.0])
                    .max();
                longest[job] = before.unwrap_or(0) + wait(job);
            }
            let most = longest.iter().max().copied().unwrap_or(0);
            assert_eq!(order.times(pack).waits.perhaps, [most, 3 * most]);
        });
    }
}

fn standard_pack() -> PackBytes {
    let checked = check(read(standard()), Depth::Build);
    checked.built.expect("the standard rules build").bytes
}

fn job_named(pack: &Pack<'_>, name: &str) -> u16 {
    (0..pack.jobs())
        .find(|&job| pack.text(pack.job(job).name) == name)
        .map_or(NONE, |job| u16::try_from(job).unwrap_or(NONE))
}

/// A part of the piece: the `n`-th of a kind, from 1.
fn part_of(inspection: &Inspection<'_, '_, UFloat>, kind: &str, n: usize) -> usize {
    let pack = *inspection.pack();
    let parts = inspection.piece().parts().iter().enumerate();
    parts
        .filter(|(_, part)| pack.text(pack.kind(usize::from(part.kind)).name) == kind)
        .map(|(at, _)| at)
        .nth(n - 1)
        .expect("there is one")
}

fn say(inspection: &mut Inspection<'_, '_, UFloat>, part: usize, phrase: &str, answer: Answer) {
    let pack = *inspection.pack();
    let place = usize::from(inspection.piece().parts()[part].place);
    let ask = pack
        .states_of(place)
        .map(|state| pack.state(usize::from(state)))
        .find(|state| pack.text(state.phrase) == phrase)
        .expect("it can be so")
        .ask;
    inspection
        .answer(part, ask, answer)
        .expect("it can be asked");
}

#[test]
fn a_chest_is_worked_on_in_order() {
    let bytes = standard_pack();
    let pack = bytes.open().expect("opens");
    let kind = (0..pack.kinds()).find(|&k| pack.text(pack.kind(k).name) == "chest of drawers");
    let root = kind
        .and_then(|k| pack.root_of(u16::try_from(k).unwrap_or(NONE)))
        .expect("a chest");
    let mut room = Room::<UFloat>::default();
    let mut inspection = room
        .inspection(pack, root, |_, _, place| pack.place(place).usual)
        .expect("a usual chest");
    let (one, two) = (
        part_of(&inspection, "drawer", 1),
        part_of(&inspection, "drawer", 2),
    );
    for drawer in [one, two] {
        say(
            &mut inspection,
            drawer,
            "loose in the dovetails",
            Answer::Certain(true),
        );
    }
    say(
        &mut inspection,
        two,
        "short of stops",
        Answer::Certain(true),
    );
    say(&mut inspection, 0, "racked", Answer::Certain(true));
    let back = part_of(&inspection, "back", 1);
    say(
        &mut inspection,
        back,
        "loose on the nails",
        Answer::Certain(true),
    );

    let mut lent = Lent::of(&pack);
    let order = inspection
        .order(lent.memory(), |_, _| Status::ToDo, &[])
        .expect("room enough");
    let named = |t: &&Task, name: &str| t.job == job_named(&pack, name);
    let position = |name: &str| {
        order
            .tasks()
            .iter()
            .position(|t| t.job == job_named(&pack, name))
    };
    let of = |name: &str| {
        order
            .tasks()
            .iter()
            .filter(|t| named(t, name))
            .collect::<Vec<_>>()
    };

    // Two reasons to clear drawer 2, one to clear drawer 1: each is cleared once,
    // for the sake of the jobs that need it.
    let cleared: Vec<u16> = of("clear the drawer").iter().map(|t| t.part).collect();
    for drawer in [one, two] {
        let drawer = u16::try_from(drawer).expect("few parts");
        assert_eq!(cleared.iter().filter(|&&part| part == drawer).count(), 1);
    }
    // Everything is photographed once, before all of it.
    let photographed = of("photograph the piece");
    assert_eq!(photographed.len(), 1);
    assert_eq!(
        (photographed[0].part, photographed[0].truth),
        (0, Truth::True)
    );
    assert!(photographed[0].needed_by.is_some());
    assert!(position("photograph the piece") < position("clear the drawer"));
    assert!(position("square the carcase") < position("refix the back"));
    assert!(position("refix the back") < position("fit new stops"));

    let stops = job_named(&pack, "fit new stops");
    let after: Vec<(&str, &str, Force)> = order
        .reasons(&pack, stops)
        .map(|r| {
            let name = pack.text(pack.job(usize::from(r.before)).name);
            (name, pack.text(r.because), r.force)
        })
        .collect();
    assert!(after.contains(&("clear the drawer", "", Force::First)));
    let back_first = "the back sets the last fit of the drawers";
    assert!(after.contains(&("refix the back", back_first, Force::Always)));

    // Hold points, and what has to wait for glue.
    let square = job_named(&pack, "square the carcase");
    assert!(pack.job(usize::from(square)).ask_owner);
    let waits = order.waits_before(stops).expect("it is in the order");
    assert_eq!(waits.certain, [12 * 60, 24 * 60]);
    assert!(
        waits.perhaps[0] > 7 * 24 * 60,
        "the piece may have to settle"
    );
    let times = order.times(&pack);
    assert!(times.certain[0] > 7 * 60 && times.certain[1] > times.certain[0]);
    assert!(times.waits.certain[1] >= 24 * 60);
    // A caution about the drawer is heeded where work on it begins.
    assert_eq!(
        order.bites_at(inspection.piece(), two),
        order
            .tasks()
            .iter()
            .position(|t| usize::from(t.part) == two)
    );
    assert_eq!(order.bites_at(inspection.piece(), 0), Some(0));
    // Where there is no work on a part, nor on anything in it, it is heeded with the
    // first on what it is built into.
    let parts = inspection.piece().parts();
    let owners = |part: usize| -> Vec<usize> {
        let owner = |&at: &usize| Some(usize::from(parts[at].owner)).filter(|&o| o < parts.len());
        std::iter::successors(Some(part), owner).collect()
    };
    let mut around = 0;
    for part in 0..parts.len() {
        let on = |of: &dyn Fn(usize) -> bool| {
            let mut tasks = order.tasks().iter();
            tasks.position(|task| of(usize::from(task.part)))
        };
        let within = on(&|at| owners(at).contains(&part));
        let expected = within.or_else(|| on(&|at| owners(part).contains(&at)));
        assert_eq!(order.bites_at(inspection.piece(), part), expected, "{part}");
        around += usize::from(within.is_none() && owners(part).len() > 2);
    }
    assert!(around > 0);
}

#[test]
fn what_is_not_known_yet_has_its_chance() {
    let case = Case {
        jobs: 2,
        arrows: vec![(0, 1, Force::First)],
        between: Vec::new(),
        called: vec![(false, false); 2],
        stages: vec![2; 2],
        wanted: vec![true; 2],
        refused: vec![[false; 3]; 2],
        unknown: vec![false; 2],
    };
    let built = build(&model(&case), &|_| String::new()).expect("builds");
    let pack = built.bytes.open().expect("opens");
    let root = pack.root_of(BOX.0).expect("a box");
    let mut room = Room::<UFloat>::default();
    let mut inspection = room
        .inspection(pack, root, |_, _, place| pack.place(place).usual)
        .expect("two trays");
    let mut lent = Lent::of(&pack);
    let order = inspection
        .order(lent.memory(), |_, _| Status::ToDo, &[])
        .expect("room enough");
    // Nothing was looked at: both jobs, on all three parts, may come.
    assert_eq!(order.tasks().len(), 6);
    for task in order.tasks() {
        assert_eq!(task.truth, Truth::NotKnown);
    }
    let times = order.times(&pack);
    assert_eq!((times.certain, times.perhaps), ([0; 3], [45, 90, 180]));

    // Once a tray is known to need the second job, the first is certain there too.
    let place = usize::from(inspection.piece().parts()[1].place);
    let ask = pack.asks_of(place).nth(1).expect("an ask for each job");
    inspection
        .answer(1, ask, Answer::Certain(true))
        .expect("it can be answered so");
    let order = inspection
        .order(lent.memory(), |_, _| Status::ToDo, &[])
        .expect("room enough");
    let certain: Vec<(u16, u16, Option<Share>)> = order
        .tasks()
        .iter()
        .filter(|t| t.truth == Truth::True)
        .map(|t| (t.job, t.part, t.chance))
        .collect();
    let whole = Some(Share::WHOLE);
    assert_eq!(certain, vec![(0, 1, whole), (1, 1, whole)]);
}

/// Rules in which jobs hang on a measure and on what follows from it.
const LEDGES: &str = "\
House rules for the ledge bench, version 1.
Pieces: stand.
Source house: our own notes.
Unless we say otherwise, a fault is there on its own: rarely.
You can measure how wide a stand is split, in mm, from 0 to 12.
    Ask: \"Width of split?\"  On its own: in 2 of 10 cases
You can see whether a stand is weak.  Ask: \"Weak?\"  On its own: in 1 of 10 cases
If a stand is split more than 2 mm wide then it is by definition weak.  From: house
Job: close the split.  Takes: 1 hour
Job: brace it.  Takes: 1 hour
When a stand is split more than 2 mm wide then plan to close the split.  From: house
When a stand is weak then plan to brace it.  From: house
";

#[test]
fn a_job_has_the_chance_of_what_it_hangs_on() {
    let file = SourceFile {
        name: "ledge.rules.txt".to_owned(),
        text: LEDGES.to_owned(),
        standard: false,
    };
    let checked = check(read(vec![file]), Depth::Build);
    let messages = &checked.reading.messages;
    let built = checked.built.as_ref();
    let built = built.unwrap_or_else(|| panic!("{messages:?}"));
    let pack = built.bytes.open().expect("opens");
    let root = pack.root_of(1).expect("a stand");
    let mut room = Room::<UFloat>::default();
    let mut inspection = room.inspection(pack, root, |_, _, _| 0).expect("no parts");
    let mut lent = Lent::of(&pack);
    let mut chance_of = |inspection: &mut Inspection<'_, '_, UFloat>, name: &str| {
        let order = inspection.order(lent.memory(), |_, _| Status::ToDo, &[]);
        let order = order.expect("room enough");
        let mut tasks = order.tasks().iter();
        let task = tasks.find(|task| task.job == job_named(&pack, name));
        task.and_then(|task| task.chance).expect("it can be said")
    };
    let states: Vec<u16> = pack.states_of(root).collect();
    let is_mark = |&&state: &&u16| pack.state(usize::from(state)).nature == PackNature::Divides;
    let (mark, weak) = (
        states.iter().find(is_mark),
        states.iter().find(|s| !is_mark(s)),
    );
    let (mark, weak) = (*mark.expect("a mark"), *weak.expect("a sign"));
    let close = chance_of(&mut inspection, "close the split");
    assert_eq!(Ok(close), inspection.chance(0, mark));
    // More than the least in 2 of 10 cases; of those, 10 of 12 mm are over the mark.
    assert!(
        (close.as_f64() - 0.2 * 10.0 / 12.0).abs() < 1e-5,
        "{}",
        close.as_f64()
    );
    let brace = chance_of(&mut inspection, "brace it");
    assert_eq!(Ok(brace), inspection.chance(0, weak));
    // Six millimetres: it is weak for certain, though nobody has looked.
    let mark = pack.state(usize::from(mark));
    let Trial::Within(two, _) = mark.trial else {
        panic!("a mark is a reading");
    };
    let noted = inspection.answer(0, mark.ask, Answer::Reading(3 * two));
    assert_eq!(noted, Ok(Answer::NotLooked));
    assert_eq!(chance_of(&mut inspection, "brace it"), Share::WHOLE);
}

/// What a job needs is as certain as the job, also if that is found out late: here the
/// third job is listed for the first one's sake before the second makes that certain.
#[test]
fn certainty_is_passed_on_to_what_is_needed() {
    let case = Case {
        jobs: 3,
        arrows: vec![(0, 1, Force::First), (2, 0, Force::First)],
        between: Vec::new(),
        called: vec![(false, false), (true, false), (false, false)],
        stages: vec![2; 3],
        wanted: vec![true; 3],
        refused: vec![[false; 3]; 3],
        unknown: vec![true, false, false],
    };
    with_order(&case, |_, _, order| {
        let told: Vec<_> = order.tasks().iter().map(|t| (t.job, t.truth)).collect();
        let expected = [2, 0, 1].map(|job| (job, Truth::True));
        assert_eq!(told, expected);
    });
}

#[test]
fn too_little_memory_is_said() {
    let case = Case {
        jobs: 2,
        arrows: vec![(0, 1, Force::Always)],
        between: Vec::new(),
        called: vec![(true, true); 2],
        stages: vec![2; 2],
        wanted: vec![true; 2],
        refused: vec![[false; 3]; 2],
        unknown: vec![false; 2],
    };
    let built = build(&model(&case), &|_| String::new()).expect("builds");
    let pack = built.bytes.open().expect("opens");
    let root = pack.root_of(BOX.0).expect("a box");
    let mut room = Room::<UFloat>::default();
    let mut inspection = room
        .inspection(pack, root, |_, _, place| pack.place(place).usual)
        .expect("two trays");
    let mut lent = Lent::of(&pack);
    lent.tasks.truncate(5);
    let refused = inspection
        .order(lent.memory(), |_, _| Status::ToDo, &[])
        .map(|_| ());
    assert_eq!(refused, Err(TooSmall::Tasks));
    lent.seats.truncate(1);
    let refused = inspection
        .order(lent.memory(), |_, _| Status::ToDo, &[])
        .map(|_| ());
    let (seats, broken) = (2, 1);
    assert_eq!(refused, Err(TooSmall::Pack { seats, broken }));
}
