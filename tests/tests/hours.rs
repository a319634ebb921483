//! Bench hours: three-point times against their closed forms, and the total against
//! every world, another library, and the throw of dice.

use serde_json::Value;
use tellmark_compile::ground::{Ground, GroundPart};
use tellmark_compile::plans::{asks_about_parts, seen_from};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Case, SetUp};
use tellmark_compile::{Built, build};
use tellmark_core::logic::can_be;
use tellmark_core::pack::Form;
use tellmark_core::piece::Answer;
use tellmark_core::plan::{Memory, Seat, Status, Task, done_for};
use tellmark_core::truth::Truth;
use tellmark_job::advice::{self};
use tellmark_job::hours::{Hours, Pert, Work};
use tellmark_language::model::{
    Condition, Fact, HowMany, Job, JobId, KindId, Model, PIECE, PieceOrder, Plan, Predicate, Reach,
    StandIn, StateId, Sureness, Takes, Test,
};
use tellmark_language::span::Span;
use tellmark_language::{AnswerReader, Level, SourceFile};
use tellmark_tests::dice::Dice;
use tellmark_tests::random::RandomRules;
use tellmark_tests::worlds::{for_each, has_circle};

#[test]
fn times_have_the_shape_of_their_closed_forms() {
    // With the usual time in the middle the distribution function is
    // 10x³ − 15x⁴ + 6x⁵, with the usual the quickest 1 − (1 − x)⁵.
    let middle = Pert::new(0.0, 0.5, 1.0);
    let early = Pert::new(0.0, 0.0, 1.0);
    for n in 0..=1000 {
        let x = f64::from(n) / 1000.0;
        let wanted = 10.0 * x.powi(3) - 15.0 * x.powi(4) + 6.0 * x.powi(5);
        assert!((middle.within(x) - wanted).abs() < 1e-13, "{x}");
        assert!(
            (early.within(x) - (1.0 - (1.0 - x).powi(5))).abs() < 1e-13,
            "{x}"
        );
    }
}

#[test]
fn times_agree_with_another_library() {
    for times in golden()["times"].as_array().expect("a list") {
        let of = |key: &str, n: usize| times[key][n].as_f64().expect("a number");
        let pert = Pert::new(of("times", 0), of("times", 1), of("times", 2));
        assert!((pert.mean() - times["mean"].as_f64().expect("a number")).abs() < 1e-12);
        assert!((pert.variance() - times["variance"].as_f64().expect("a number")).abs() < 1e-12);
        for (n, share) in [0.1, 0.5, 0.9].into_iter().enumerate() {
            assert!((pert.within(of("points", n)) - share).abs() < 1e-12);
        }
    }
}

#[test]
fn the_grid_keeps_all_the_weight_and_the_mean() {
    let mut dice = Dice::new(7);
    for _ in 0..500 {
        let [a, b, c] = [(); 3].map(|()| u32::try_from(dice.below(600)).expect("small"));
        let (least, most) = (a.min(b).min(c), a.max(b).max(c));
        let mostly = a + b + c - least - most;
        let pert = Pert::from(Takes {
            least,
            mostly,
            most,
        });
        for step in [1.0 / 60.0, 0.25, 4.0] {
            let row = pert.on_grid(step);
            let mean = row
                .iter()
                .zip(0_u32..)
                .map(|(p, n)| p * f64::from(n) * step);
            assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-12);
            assert!(
                (mean.sum::<f64>() - pert.mean()).abs() < 1e-10,
                "{least} {mostly} {most}"
            );
            assert!(row.iter().all(|&p| p >= 0.0));
        }
    }
}

fn golden() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/golden/hours.json");
    let text = std::fs::read_to_string(path).expect("the file is there");
    serde_json::from_str(&text).expect("it is JSON")
}

/// A job that takes this long.
fn job(name: String, [least, mostly, most]: [u32; 3]) -> Job {
    Job {
        name,
        takes: Some(Takes {
            least,
            mostly,
            most,
        }),
        waits: None,
        needs: Vec::new(),
        first: Vec::new(),
        then: Vec::new(),
        touches: Vec::new(),
        mends: Vec::new(),
        until: Vec::new(),
        holds: None,
        ask_owner: false,
        once_for: None,
        stage: tellmark_language::model::WorkStage::default(),
        source: None,
        at: Span::default(),
    }
}

fn plan(subject: KindId, when: Condition, job: usize) -> Plan {
    Plan {
        subject,
        when,
        job: JobId(u16::try_from(job).expect("few jobs")),
        source: None,
        called: None,
        at: Span::default(),
    }
}

fn is(whose: Reach, state: StateId, yes: bool, sureness: Option<Sureness>) -> Condition {
    Condition::Test(Test {
        whose,
        what: Predicate::State {
            state,
            yes,
            sureness,
        },
        at: Span::default(),
    })
}

/// The small network of the golden file, in the words of the rules.
const RULES: &str = "
House rules for the test of hours, version 1.
Pieces: chest.
You can see whether a chest is gaping.  Ask: \"Gaping?\"  On its own: in 5 of 100 cases
You can ask whether a chest is damp.  Ask: \"Damp?\"  On its own: in 2 of 10 cases
You can see whether a chest is heavy.  Ask: \"Heavy?\"  On its own: in 3 of 10 cases
A chest may be runner worn without showing it.  On its own: in 5 of 100 cases
A chest may be racked without showing it.  On its own: in 4 of 100 cases
A chest may be dropping without showing it.  On its own: in 1 of 100 cases
A chest may be sticking without showing it.  On its own: in 2 of 100 cases
A chest may be chipped without showing it.  On its own: in 3 of 100 cases
If a chest is heavy then it is runner worn in 6 of 10 cases.  From: house
If a chest is damp then it is racked in 5 of 10 cases.  From: house
If a chest is heavy then it is racked in 1 of 10 cases.  From: house
If a chest is runner worn then it is dropping in 85 of 100 cases.  From: house
If a chest is racked then it is dropping in 2 of 10 cases.  From: house
If a chest is racked then it is sticking in 7 of 10 cases.  From: house
If a chest is damp then it is sticking in 5 of 10 cases.  From: house
If a chest is dropping then it is chipped in 6 of 10 cases.  From: house
If a chest is racked then it is gaping in 9 of 10 cases.  From: house
If a chest is dropping then it is gaping in 4 of 10 cases.  From: house
Job: attend the runner.  Takes: 1 to 6 hours, mostly 2  Mends: a chest is runner worn
Job: brace it.  Takes: 4 to 16 hours, mostly 6  Mends: a chest is racked
Job: chock it up.  Takes: 0.5 to 1.5 hours, mostly 1  Mends: a chest is dropping
Job: ease it.  Takes: 0.5 to 3 hours, mostly 1  Mends: a chest is sticking
Job: fill it.  Takes: 1 to 4 hours, mostly 2  Mends: a chest is chipped
When a chest is probably runner worn then plan to attend the runner.  From: house
When a chest is surely racked then plan to brace it.  From: house
When a chest is possibly dropping then plan to chock it up.  From: house
When a chest is probably sticking then plan to ease it.  From: house
When a chest is probably chipped then plan to fill it.  From: house
";
/// Its faults, in the order of the jobs.
const FAULTS: [&str; 5] = ["runner worn", "racked", "dropping", "sticking", "chipped"];

fn work_on_golden(found: &Value) -> (Work, Hours) {
    let reading = tellmark_language::read(vec![SourceFile {
        name: "hours.rules.txt".to_owned(),
        text: RULES.to_owned(),
        standard: false,
    }]);
    assert!(
        reading.messages.iter().all(|m| m.level != Level::Stop),
        "{:?}",
        reading.messages
    );
    let model = reading.model;
    let built = build(&model, &|_| String::new()).expect("small enough");
    let reader = AnswerReader::new(&model);
    let order = reader.piece("chest").expect("a piece");
    let found = found.as_object().expect("an object").keys();
    let facts: Vec<Fact> = found
        .flat_map(|sign| {
            reader
                .facts(&format!("the chest is certainly {sign}"))
                .expect("an answer")
        })
        .collect();
    let facts: Vec<&Fact> = facts.iter().collect();
    let set_up = SetUp {
        model: &model,
        built: &built,
        order: &order,
        facts: &facts,
        later: None,
    };
    let pack = built.bytes.open().expect("a fresh pack opens");
    let mut room = Room::<f64>::default();
    let mut case = set_up.case(pack, &mut room).expect("it can be set up");
    let work =
        Work::of(&set_up, pack, &mut case, &|_, _| Status::ToDo, &[]).expect("it can be set up");
    let step = golden()["step"].as_f64().expect("a number");
    let hours = work.hours_in_steps(step).expect("small enough");
    (work, hours)
}

#[test]
fn totals_agree_with_another_library() {
    for case in golden()["cases"].as_array().expect("a list") {
        let (work, hours) = work_on_golden(&case["found"]);
        let of = |key: &str| case[key].as_f64().expect("a number");
        for (job, fault) in FAULTS.iter().enumerate() {
            let task = work.tasks.iter().position(|t| t.job.index() == job);
            let chance = task.and_then(|t| hours.chances[t]).expect("a chance");
            let wanted = case["chances"][*fault].as_f64().expect("a number");
            assert!(
                (chance - wanted).abs() < 1e-12,
                "{fault}: {chance}, {wanted}"
            );
        }
        assert!((hours.mean - of("mean")).abs() < 1e-11);
        assert!((hours.deviation - of("deviation")).abs() < 1e-11);
        // No time is so short that it would count as nothing, on either grid.
        assert!((hours.total.chances[0] - of("nothing to do")).abs() < 1e-12);
        for (n, share) in [0.1, 0.5, 0.8, 0.9].into_iter().enumerate() {
            let wanted = case["points"][n].as_f64().expect("a number");
            // They take the nearest step, and no point between steps.
            assert!((hours.total.point(share) - wanted).abs() <= hours.total.step);
        }
    }
}

/// A gamma variable (G. Marsaglia and W. W. Tsang, "A simple method for generating
/// gamma variables", ACM Transactions on Mathematical Software 26, 2000), for a shape
/// of one or more.
fn gamma(dice: &mut Dice, shape: f64) -> f64 {
    let d = shape - 1.0 / 3.0;
    let c = 1.0 / (9.0 * d).sqrt();
    loop {
        let radius = (-2.0 * unit(dice).ln()).sqrt();
        let x = radius * (std::f64::consts::TAU * unit(dice)).cos();
        let v = (1.0 + c * x).powi(3);
        if v > 0.0 && unit(dice).ln() < 0.5 * x * x + d - d * v + d * v.ln() {
            return d * v;
        }
    }
}

/// A number between 0 and 1, ends left out.
#[allow(clippy::cast_precision_loss)]
fn unit(dice: &mut Dice) -> f64 {
    ((dice.roll() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
}

#[test]
fn totals_agree_with_the_throw_of_dice() {
    const THROWS: usize = 20_000;
    let case = &golden()["cases"][1];
    let (work, hours) = work_on_golden(&case["found"]);
    let mut worlds: Vec<(f64, Vec<usize>)> = Vec::new();
    for_each(&work.ground, &work.likelihoods, |weight, holds| {
        let done = (0..work.tasks.len()).filter(|&t| {
            let mut claims = work.tasks[t].when.iter();
            claims.any(|(_, claim)| claim.holds(&holds))
        });
        worlds.push((weight, done.collect()));
    });
    let all: f64 = worlds.iter().map(|(weight, _)| weight).sum();
    let takes: [[f64; 3]; 5] = [
        [1.0, 2.0, 6.0],
        [4.0, 6.0, 16.0],
        [0.5, 1.0, 1.5],
        [0.5, 1.0, 3.0],
        [1.0, 2.0, 4.0],
    ];
    let mut dice = Dice::new(1946);
    let mut totals: Vec<f64> = (0..THROWS)
        .map(|_| {
            let mut left = unit(&mut dice) * all;
            let world = worlds.iter().find(|(weight, _)| {
                left -= weight;
                left <= 0.0
            });
            let done = world.map_or(&[][..], |(_, done)| done);
            done.iter()
                .map(|&task| {
                    let [least, mostly, most] = takes[work.tasks[task].job.index()];
                    let usual = (mostly - least) / (most - least);
                    let a = gamma(&mut dice, 1.0 + 4.0 * usual);
                    let b = gamma(&mut dice, 5.0 - 4.0 * usual);
                    least + (most - least) * a / (a + b)
                })
                .sum()
        })
        .collect();
    totals.sort_by(f64::total_cmp);
    #[allow(clippy::cast_precision_loss)]
    let throws = THROWS as f64;
    let mean = totals.iter().sum::<f64>() / throws;
    let error = hours.deviation / throws.sqrt();
    println!("mean {mean:.3} ± {error:.3} against {:.3}", hours.mean);
    assert!((mean - hours.mean).abs() < 4.0 * error);
    for share in [0.5, 0.8, 0.9] {
        // The share of throws below our point has a standard error of its own.
        let point = hours.total.point(share);
        let below = totals.partition_point(|&t| t <= point);
        #[allow(clippy::cast_precision_loss)]
        let found = below as f64 / throws;
        let error = (share * (1.0 - share) / throws).sqrt();
        println!("{share}: {found:.4} ± {error:.4} of the throws below {point:.2} h");
        assert!((found - share).abs() < 4.0 * error);
    }
}

const CASES: usize = 400;
const MOST_STATES: usize = 12;

/// A random piece, with jobs that hang on random conditions.
struct Drawn {
    model: Model,
    built: Built,
    order: PieceOrder,
}

fn draw(dice: &mut Dice) -> Option<Drawn> {
    let mut random = RandomRules::draw(dice);
    if dice.chance(30) {
        random.add_degrees(dice);
    }
    let mut model = random.model;
    let built = build(&model, &|_| String::new()).ok()?;
    let states = &built.states.states;
    let used: Vec<StateId> = states
        .iter()
        .filter(|row| row.in_use)
        .filter_map(|row| row.declared)
        .collect();
    if used.is_empty() {
        return None;
    }
    for i in 0..2 + dice.below(5) {
        let least = 10 + u32::try_from(dice.below(60)).ok()?;
        let more = u32::try_from(dice.below(80)).ok()?;
        let mut job = job(format!("job {i}"), [least, least + more / 2, least + more]);
        job.once_for = *dice.pick(&[None, None, Some(PIECE), Some(KindId(2))]);
        // What is needed first is done once for the piece: where else it would go, the
        // order of work says, and that is compared below.
        if i > 0 && dice.chance(40) {
            job.first = vec![JobId(u16::try_from(dice.below(i)).ok()?)];
            model.jobs[job.first[0].index()].once_for = Some(PIECE);
            // What is taken apart first is put together again.
            if dice.chance(40) {
                job.once_for = Some(PIECE);
                let this = JobId(u16::try_from(model.jobs.len()).ok()?);
                model.jobs[job.first[0].index()].then = vec![this];
            }
        } else if i > 0 && dice.chance(40) {
            job.then = vec![JobId(u16::try_from(dice.below(i)).ok()?)];
            model.jobs[job.then[0].index()].once_for = Some(PIECE);
        }
        model.jobs.push(job);
        for _ in 0..=dice.below(2) {
            let subject = KindId(1 + u16::try_from(dice.below(4)).ok()?);
            let mut parts = Vec::new();
            for _ in 0..=dice.below(2) {
                parts.extend(clause(dice, &model, subject, &used));
            }
            let when = match parts.len() {
                0 => continue,
                1 => parts.remove(0),
                2 if dice.chance(30) => Condition::AtLeast(2, parts),
                _ if dice.chance(50) => Condition::All(parts),
                _ => Condition::Any(parts),
            };
            model.plans.push(plan(subject, when, i));
        }
    }
    stand_ins(dice, &mut model, &used);
    let built = build(&model, &|_| String::new()).ok()?;
    let order = PieceOrder {
        kind: KindId(1),
        counts: [(KindId(2), 4), (KindId(3), 3), (KindId(4), 1)]
            .map(|(kind, most)| (kind, u8::try_from(dice.below(most + 1)).unwrap_or(0)))
            .to_vec(),
    };
    Some(Drawn {
        model,
        built,
        order,
    })
}

/// Some jobs stand in the place of others, the later in the place of the earlier; what the
/// check refuses is left out.
fn stand_ins(dice: &mut Dice, model: &mut Model, used: &[StateId]) {
    let jobs = model.jobs.len();
    for _ in 0..dice.below(4) {
        let replaced = dice.below(jobs - 1);
        let job = replaced + 1 + dice.below(jobs - 1 - replaced);
        let id = |at: usize| JobId(u16::try_from(at).unwrap_or(0));
        let (replaced, job) = (id(replaced), id(job));
        let subject = KindId(u16::try_from(dice.below(5)).unwrap_or(0));
        let Some(when) = clause(dice, model, subject, used) else {
            continue;
        };
        let is_inside = |plan: &Plan| seen_from(model, plan.subject, subject).flatten().is_some();
        let of_others = asks_about_parts(&when) && model.plans.iter().any(is_inside);
        if of_others || is_tied(model, replaced) {
            continue;
        }
        model.stand_ins.push(StandIn {
            subject,
            when,
            replaced,
            job,
            source: None,
            called: None,
            replaced_at: Span::default(),
            said_at: Span::default(),
            at: Span::default(),
        });
    }
}

/// Whether a job must come first for another, or follow it.
fn is_tied(model: &Model, job: JobId) -> bool {
    let mut jobs = model.jobs.iter();
    jobs.any(|other| other.first.contains(&job) || other.then.contains(&job))
}

/// The jobs that are done in a world where a plan calls for one: it, or what stands in its
/// place there.
fn in_its_place(
    drawn: &Drawn,
    ground: &Ground,
    (job, part): (JobId, usize),
    truth: &dyn Fn(usize, StateId) -> bool,
) -> Vec<JobId> {
    let places = &drawn.built.places;
    let mut others = Vec::new();
    for one in drawn
        .model
        .stand_ins
        .iter()
        .filter(|one| one.replaced == job)
    {
        let at = if ground.is_of(places, part, one.subject) {
            Some(part)
        } else {
            ground.owner(places, part, one.subject)
        };
        if at.is_some_and(|at| holds(drawn, ground, at, &one.when, truth)) {
            others.extend(in_its_place(drawn, ground, (one.job, part), truth));
        }
    }
    if others.is_empty() { vec![job] } else { others }
}

fn clause(dice: &mut Dice, model: &Model, subject: KindId, used: &[StateId]) -> Option<Condition> {
    let state = *dice.pick(used);
    let kind = model.states[state.index()].kind;
    let n = u8::try_from(dice.below(4)).ok()?;
    let many = *dice.pick(&[
        HowMany::Any,
        HowMany::Every,
        HowMany::No,
        HowMany::AtLeast(2),
        HowMany::FewerThan(n),
        HowMany::Exactly(n),
    ]);
    let down = |path: &[u16]| Reach::Down {
        path: path.iter().map(|&k| KindId(k)).collect(),
        many,
        only: None,
    };
    let whose = match (subject.0, kind.0) {
        (a, b) if a == b => Reach::Own,
        (1, 0) => Reach::Own,
        // No piece is built into another.
        (0, 1) => return None,
        (_, 0 | 1) => Reach::Up(kind),
        (1, 2) => down(&[2]),
        (1, 3) => down(&[2, 3]),
        (1, 4) => down(&[4]),
        (2, 3) => down(&[3]),
        (3, 2) => Reach::Up(kind),
        _ => return None,
    };
    let hidden = matches!(
        model.states[state.index()].nature,
        tellmark_language::model::Nature::Hidden { .. }
    );
    let sureness =
        hidden.then(|| *dice.pick(&[Sureness::Possibly, Sureness::Probably, Sureness::Surely]));
    Some(is(whose, state, dice.chance(80), sureness))
}

/// Whether a condition holds in a world, where `truth` says what is so.
fn holds(
    drawn: &Drawn,
    ground: &Ground,
    part: usize,
    condition: &Condition,
    truth: &dyn Fn(usize, StateId) -> bool,
) -> bool {
    let places = &drawn.built.places;
    match condition {
        Condition::All(parts) => parts.iter().all(|c| holds(drawn, ground, part, c, truth)),
        Condition::Any(parts) => parts.iter().any(|c| holds(drawn, ground, part, c, truth)),
        Condition::AtLeast(enough, parts) => {
            let so = parts
                .iter()
                .filter(|c| holds(drawn, ground, part, c, truth));
            so.count() >= usize::from(*enough)
        }
        Condition::Test(test) => {
            let Predicate::State { state, yes, .. } = test.what else {
                panic!("only states are drawn");
            };
            let is_so = |part: usize| truth(part, state) == yes;
            match &test.whose {
                Reach::Own => is_so(part),
                Reach::Up(kind) => ground.owner(places, part, *kind).is_some_and(is_so),
                Reach::Down { path, many, .. } => {
                    let parts = ground.down(places, part, path);
                    let so = parts.iter().filter(|&&p| is_so(p)).count();
                    match many {
                        HowMany::Every => so == parts.len(),
                        HowMany::No => so == 0,
                        HowMany::AtLeast(n) => so >= usize::from(*n),
                        HowMany::FewerThan(n) => so < usize::from(*n),
                        HowMany::Exactly(n) => so == usize::from(*n),
                        HowMany::The | HowMany::Any => so >= 1,
                    }
                }
                Reach::Others { .. } => panic!("none are drawn"),
            }
        }
    }
}

/// Answers some things at random.
fn answer_some(dice: &mut Dice, case: &mut Case<'_, f64>) {
    for _ in 0..dice.below(6) {
        let part = dice.below(case.inspection.piece().parts().len());
        let pack = *case.inspection.pack();
        let place = usize::from(case.inspection.piece().parts()[part].place);
        let asks: Vec<u16> = pack.asks_of(place).collect();
        if asks.is_empty() {
            continue;
        }
        let ask = *dice.pick(&asks);
        let yes = dice.chance(50);
        let answer = match pack.ask(usize::from(ask)).form {
            Form::Whether if dice.chance(40) => Answer::Looks(yes),
            Form::Whether if dice.chance(30) => Answer::Certain(yes),
            Form::Whether => Answer::Seen(yes),
            Form::Which { .. } => Answer::Value(0),
            Form::Degrees { values, .. } => {
                Answer::Value(u8::try_from(dice.below(usize::from(values))).unwrap_or(0))
            }
            Form::HowMuch { .. } => Answer::Reading(50),
            Form::HowMany { .. } => continue,
        };
        case.inspection
            .answer(part, ask, answer)
            .expect("it can be answered so");
    }
}

fn convolved(one: &[f64], other: &[f64]) -> Vec<f64> {
    let mut sum = vec![0.0; one.len() + other.len() - 1];
    for (i, a) in one.iter().enumerate() {
        for (j, b) in other.iter().enumerate() {
            sum[i + j] += a * b;
        }
    }
    sum
}

/// Where a job stands for a part: most are to be done.
fn status(seed: u64, job: u16, part: usize) -> Status {
    let part = u64::try_from(part).unwrap_or(0);
    let mut dice = Dice::new(seed ^ (u64::from(job) + 1) << 40 ^ (part + 1) << 50);
    match dice.below(12) {
        0 => Status::Refused,
        1 => Status::Done,
        _ => Status::ToDo,
    }
}

/// Whether a job is still to be done and can be.
fn is_to_do(drawn: &Drawn, seed: u64, job: JobId, part: usize) -> bool {
    status(seed, job.0, part) == Status::ToDo && can_be_done(drawn, seed, job, part)
}

/// Whether a job can be done, or was: what it needs, for the whole piece, is not refused.
fn can_be_done(drawn: &Drawn, seed: u64, job: JobId, part: usize) -> bool {
    status(seed, job.0, part) != Status::Refused
        && drawn.model.jobs[job.index()].first.iter().all(|&first| {
            status(seed, first.0, 0) == Status::Done || is_to_do(drawn, seed, first, 0)
        })
}

/// The jobs that are done and that another must follow, with their parts.
fn followed(
    drawn: &Drawn,
    parts: usize,
    status: &dyn Fn(u16, usize) -> Status,
) -> Vec<(u16, usize)> {
    let jobs = (0_u16..).zip(&drawn.model.jobs);
    let tied = jobs.filter(|(_, job)| !job.then.is_empty());
    tied.flat_map(|(id, _)| (0..parts).map(move |part| (id, part)))
        .filter(|&(job, part)| status(job, part) == Status::Done)
        .collect()
}

/// The distribution of the total, and what each unseen state does to it, by every
/// world.
fn check_case(drawn: &Drawn, case: &mut Case<'_, f64>, set_up: &SetUp<'_>, seed: u64) {
    let pack = drawn.built.bytes.open().expect("a fresh pack opens");
    let status = |job: u16, part: usize| status(seed, job, part);
    let followed = followed(drawn, case.inspection.piece().parts().len(), &status);
    let work = Work::of(set_up, pack, case, &status, &followed).expect("it can be set up");
    let impossible = check_order(&work, case, seed, &status, &followed);
    let step = 0.25;
    let hours = work.hours_in_steps(step).expect("small enough");
    let ground = &work.ground;
    if has_circle(ground) {
        return;
    }
    let piece = case.inspection.piece();
    let (mut all, mut first, mut second) = (0.0, 0.0, 0.0);
    let mut total = vec![0.0; hours.total.chances.len()];
    let mut with = vec![(0.0, 0.0); ground.states.len()];
    for_each(ground, &work.likelihoods, |weight, world| {
        let truth = |part: usize, state: StateId| {
            let built = &drawn.built;
            let row = built.states.declared(state);
            match piece.truth(&pack, part, &pack.state(row)) {
                Truth::True => true,
                Truth::False => false,
                Truth::NotKnown if !can_be(&pack, piece, part, pack.state(row).ask) => false,
                Truth::NotKnown => ground
                    .node(&built.states, &built.places, part, row)
                    .is_some_and(world),
            }
        };
        let mut done: Vec<(usize, usize)> = Vec::new();
        for plan in &drawn.model.plans {
            for part in 0..ground.parts.len() {
                if !ground.is_of(&drawn.built.places, part, plan.subject)
                    || !holds(drawn, ground, part, &plan.when, &truth)
                {
                    continue;
                }
                for job in in_its_place(drawn, ground, (plan.job, part), &truth) {
                    let at = done_for(&pack, piece, job.0, part);
                    if is_to_do(drawn, seed, job, at) {
                        done.push((job.index(), at));
                    }
                }
            }
        }
        // What is needed is refused (then nothing that needs it is here) or done already; what
        // must follow may be refused.
        let needs = |job: usize| {
            let job = &drawn.model.jobs[job];
            let first = job.first.iter();
            let first = first.filter(|first| is_to_do(drawn, seed, **first, 0));
            // What was done before follows anew.
            first.chain(
                job.then
                    .iter()
                    .filter(|then| can_be_done(drawn, seed, **then, 0)),
            )
        };
        for &(job, _) in &followed {
            let then = drawn.model.jobs[usize::from(job)].then.iter();
            let then = then.filter(|then| is_to_do(drawn, seed, **then, 0));
            done.extend(then.map(|then| (then.index(), 0)));
        }
        let mut at = 0;
        while at < done.len() {
            for needed in needs(done[at].0) {
                done.push((needed.index(), 0));
            }
            done.sort_unstable();
            done.dedup();
            at += 1;
        }
        // What is needed stands before what needs it: once more from the start.
        for _ in 0..drawn.model.jobs.len() {
            for (job, _) in done.clone() {
                for needed in needs(job) {
                    done.push((needed.index(), 0));
                }
            }
            done.sort_unstable();
            done.dedup();
        }
        let never = |(job, part): &(u16, usize)| !done.contains(&(usize::from(*job), *part));
        // (A job may come by one way in some world, and be called for by another that never
        // comes.)
        let comes = |(job, part): &&(u16, usize)| {
            let mut tasks = work.tasks.iter();
            tasks.any(|t| (t.job.0, t.part) == (*job, *part) && !t.when.is_empty())
        };
        let mut impossible = impossible.iter().filter(|task| !comes(task));
        assert!(impossible.all(never), "case {seed}");
        let times: Vec<Pert> = done
            .iter()
            .filter_map(|(job, _)| drawn.model.jobs[*job].takes.map(Pert::from))
            .collect();
        let mean: f64 = times.iter().map(Pert::mean).sum();
        let variance: f64 = times.iter().map(Pert::variance).sum();
        let row = times
            .iter()
            .fold(vec![1.0], |row, time| convolved(&row, &time.on_grid(step)));
        for (sum, p) in total.iter_mut().zip(&row) {
            *sum += weight * p;
        }
        all += weight;
        first += weight * mean;
        second += weight * (variance + mean * mean);
        for (state, with) in with.iter_mut().enumerate() {
            if world(state) {
                with.0 += weight;
                with.1 += weight * mean;
            }
        }
    });
    let mean = first / all;
    let variance = second / all - mean * mean;
    assert!(
        (hours.mean - mean).abs() < 1e-11,
        "case {seed}: {} {mean}",
        hours.mean
    );
    assert!(
        (hours.deviation.powi(2) - variance).abs() < 1e-10,
        "case {seed}"
    );
    for (n, (ours, sum)) in hours.total.chances.iter().zip(&total).enumerate() {
        let wanted = sum / all;
        assert!(
            (ours - wanted).abs() < 1e-12,
            "case {seed}, {n}: {ours} {wanted}"
        );
    }
    for widens in &hours.widens {
        let (weight, sum) = with[widens.state];
        let chance = weight / all;
        let (no, yes) = ((first - sum) / (all - weight), sum / weight);
        let left = variance - chance * (1.0 - chance) * (yes - no).powi(2);
        assert!((widens.chance - chance).abs() < 1e-12, "case {seed}");
        assert!((widens.means.0 - no).abs() < 1e-8, "case {seed}");
        assert!((widens.means.1 - yes).abs() < 1e-8, "case {seed}");
        assert!(
            (widens.deviation.powi(2) - left.max(0.0)).abs() < 1e-9,
            "case {seed}"
        );
    }
}

/// What is planned is what the order of work has, for the same parts. Gives back what the
/// order has and nothing can come of: "where it is so, and not so" is not known to it.
fn check_order(
    work: &Work,
    case: &mut Case<'_, f64>,
    seed: u64,
    status: &dyn Fn(u16, usize) -> Status,
    followed: &[(u16, usize)],
) -> Vec<(u16, usize)> {
    let pack = *case.inspection.pack();
    let mut tasks = vec![Task::NONE; 2_000];
    let mut seats = vec![Seat::FREE; pack.jobs()];
    let mut broken = vec![false; pack.constraints()];
    let order = case
        .inspection
        .order(
            Memory {
                tasks: &mut tasks,
                seats: &mut seats,
                broken: &mut broken,
            },
            status,
            followed,
        )
        .expect("room enough");
    let mut wanted: Vec<(u16, usize)> = order
        .tasks()
        .iter()
        .map(|t| (t.job, usize::from(t.part)))
        .collect();
    let mut planned: Vec<(u16, usize)> = work
        .tasks
        .iter()
        .filter(|t| t.is_planned)
        .map(|t| (t.job.0, t.part))
        .collect();
    wanted.sort_unstable();
    planned.sort_unstable();
    let (found, impossible): (Vec<_>, Vec<_>) =
        wanted.into_iter().partition(|task| planned.contains(task));
    assert_eq!(planned, found, "case {seed}");
    // What is done whatever is hidden is certain there too.
    for (task, certain) in work.tasks.iter().zip(work.certain()) {
        let there = order
            .tasks()
            .iter()
            .find(|t| (t.job, usize::from(t.part)) == (task.job.0, task.part));
        if certain {
            assert_eq!(there.map(|t| t.truth), Some(Truth::True), "case {seed}");
        }
    }
    impossible
}

#[test]
fn totals_agree_with_every_world() {
    let (mut cases, mut seed) = (0, 0);
    while cases < CASES {
        seed += 1;
        let mut dice = Dice::new(seed);
        let Some(drawn) = draw(&mut dice) else {
            continue;
        };
        let set_up = SetUp {
            model: &drawn.model,
            built: &drawn.built,
            order: &drawn.order,
            facts: &[],
            later: None,
        };
        let pack = drawn.built.bytes.open().expect("a fresh pack opens");
        let mut room = Room::<f64>::default();
        let Ok(mut case) = set_up.case(pack, &mut room) else {
            continue;
        };
        let piece = case.inspection.piece();
        let root = piece.root();
        let ground = drawn
            .built
            .ground(&drawn.model, root, |_: &[GroundPart], owner, place| {
                u8::try_from(piece.children_at(owner, place).len()).unwrap_or(0)
            });
        let used = ground.states.iter().filter(|s| s.in_use).count();
        if !(2..=MOST_STATES).contains(&used) {
            continue;
        }
        answer_some(&mut dice, &mut case);
        if case.inspection.settle().is_err() {
            continue;
        }
        cases += 1;
        check_case(&drawn, &mut case, &set_up, seed);
    }
    println!("{cases} cases");
}

#[test]
fn the_demonstration_has_every_job_of_its_plan() {
    let checked =
        tellmark_job::house::ready(None, &tellmark_job::house::Families::These(Vec::new()))
            .expect("the standard rules");
    let built = checked.built.as_ref().expect("they are sound");
    let model = &checked.reading.model;
    let reader = AnswerReader::new(model);
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/jobs/landing-chest");
    let job = tellmark_job::record::Job::open(std::path::Path::new(folder)).expect("a job");
    let order = reader.piece(&job.header().piece).expect("a piece");
    let findings: tellmark_job::record::Findings<tellmark_language::Message> =
        tellmark_job::record::Findings::read(model, job.lines(), |text| reader.facts(text));
    let facts: Vec<&Fact> = findings.standing().map(|f| &f.fact).collect();
    let set_up = SetUp {
        model,
        built,
        order: &order,
        facts: &facts,
        later: None,
    };
    let pack = built.bytes.open().expect("a fresh pack opens");
    let mut room = Room::<f64>::default();
    let mut case = set_up.case(pack, &mut room).expect("it can be set up");
    let work =
        Work::of(&set_up, pack, &mut case, &|_, _| Status::ToDo, &[]).expect("it can be set up");
    check_order(&work, &mut case, 0, &|_, _| Status::ToDo, &[]);
    for seed in 1..40 {
        let status = |job: u16, part: usize| status(seed, job, part);
        let work = Work::of(&set_up, pack, &mut case, &status, &[]).expect("it can be set up");
        check_order(&work, &mut case, seed, &status, &[]);
    }
    let hours = work.hours().expect("small enough");
    let mean = hours.total.mean();
    assert!((mean - hours.mean).abs() < 1e-9, "{mean} {}", hours.mean);
    let quote = advice::quote(&set_up, pack, &advice::Progress::default()).expect("a quotation");
    assert_eq!(quote.items.len(), work.tasks.len());
    // A fault's chance in the network is the chance of the job that mends it.
    for task in 0..work.tasks.len() {
        let chance = hours.chances[task];
        assert!(chance.is_none_or(|c| (0.0..=1.0).contains(&c)));
    }
}

/// Drawers that can be counted and are built with a lock or without; a lock is on a
/// drawer or on the door.
const COUNTED: &str = "
House rules for the test of what calls for a job, version 1.
Pieces: chest.
Parts: drawer, door, lock.
A chest has 0 to 3 drawers (usually 2) and 1 door.
A drawer has 1 lock.
A door has 1 lock.
Source house: our own notes.
You can count the drawers of a chest.  Takes: 1 minute
You can feel whether a drawer is stiff.  On its own: rarely
A drawer may be worn hollow without showing it.  On its own: in 3 of 10 cases
A chest may be racked without showing it.  On its own: in 1 of 10 cases
If a drawer is worn hollow then it is often stiff.  From: house
If a drawer is worn hollow then the chest is sometimes racked.  From: house
Job: brace it.  Takes: 2 to 4 hours, mostly 3  Mends: a chest is racked
Job: ease it.  Takes: 1 to 2 hours, mostly 1
Job: oil it.  Takes: 10 to 20 minutes, mostly 15
";

/// The tasks of a chest, each with its chance, by the name of its job.
fn tasks_of(plans: &str, piece: &str, found: &[&str]) -> Vec<(String, Option<f64>, bool)> {
    let reading = tellmark_language::read(vec![SourceFile {
        name: "counted.rules.txt".to_owned(),
        text: format!("{COUNTED}{plans}"),
        standard: false,
    }]);
    assert!(
        reading.messages.iter().all(|m| m.level != Level::Stop),
        "{:?}",
        reading.messages
    );
    let model = reading.model;
    let built = build(&model, &|_| String::new()).expect("small enough");
    let reader = AnswerReader::new(&model);
    let order = reader.piece(piece).expect("a piece");
    let facts: Vec<Fact> = found
        .iter()
        .flat_map(|text| reader.facts(text).expect("an answer"))
        .collect();
    let facts: Vec<&Fact> = facts.iter().collect();
    let set_up = SetUp {
        model: &model,
        built: &built,
        order: &order,
        facts: &facts,
        later: None,
    };
    let pack = built.bytes.open().expect("a fresh pack opens");
    let mut room = Room::<f64>::default();
    let mut case = set_up.case(pack, &mut room).expect("it can be set up");
    let work =
        Work::of(&set_up, pack, &mut case, &|_, _| Status::ToDo, &[]).expect("it can be set up");
    let hours = work.hours().expect("small enough");
    work.tasks
        .iter()
        .zip(&hours.chances)
        .map(|(task, chance)| {
            let name = model.jobs[task.job.index()].name.clone();
            (name, *chance, task.cannot_say)
        })
        .collect()
}

fn is_near(tasks: &[(String, Option<f64>, bool)], name: &str, wanted: f64) {
    let task = tasks.iter().find(|task| task.0 == name);
    let chance = task.unwrap_or_else(|| panic!("no {name}: {tasks:?}")).1;
    let chance = chance.unwrap_or_else(|| panic!("no chance: {tasks:?}"));
    assert!((chance - wanted).abs() < 1e-12, "{chance} {wanted}");
}

#[test]
fn fewer_than_two_of_three_calls_as_often_as_its_worlds() {
    let fewer = "When fewer than 2 drawers of a chest are probably worn hollow \
                 then plan to ease it.  From: house\n";
    let tasks = tasks_of(fewer, "chest with 3 drawers", &[]);
    let (so, not) = (0.3_f64, 0.7_f64);
    is_near(&tasks, "ease it", not.powi(3) + 3.0 * so * not.powi(2));
    let exactly = "When exactly 2 drawers of a chest are probably worn hollow \
                   then plan to ease it.  From: house\n";
    let tasks = tasks_of(exactly, "chest with 3 drawers", &[]);
    is_near(&tasks, "ease it", 3.0 * so.powi(2) * not);
    // Of one drawer there are always fewer than two.
    let tasks = tasks_of(fewer, "chest with 1 drawer", &[]);
    is_near(&tasks, "ease it", 1.0);
}

#[test]
fn every_one_of_none_is_so() {
    let every = "When every drawer of a chest is probably worn hollow \
                 then plan to ease it.  From: house\n";
    is_near(
        &tasks_of(every, "chest with 0 drawers", &[]),
        "ease it",
        1.0,
    );
    is_near(
        &tasks_of(every, "chest with 2 drawers", &[]),
        "ease it",
        0.09,
    );
    let any = "When any drawer of a chest is probably worn hollow \
               then plan to ease it.  From: house\n";
    assert_eq!(tasks_of(any, "chest with 0 drawers", &[]), []);
}

#[test]
fn what_nobody_counted_is_not_taken_as_counted() {
    let many = "When a chest has at least 2 drawers then plan to ease it.  From: house\n";
    // Two are usual, and nobody has counted: no rule gives a chance for it.
    let tasks = tasks_of(many, "chest", &[]);
    assert_eq!(tasks, [("ease it".to_owned(), None, true)]);
    let tasks = tasks_of(many, "chest", &["the chest has 2 drawers"]);
    is_near(&tasks, "ease it", 1.0);
    assert_eq!(tasks_of(many, "chest", &["the chest has 1 drawer"]), []);
}

#[test]
fn a_lock_that_is_not_on_a_drawer_is_planned_for_nothing_of_its_drawer() {
    // Stiff on its own one time in ten, and six times in ten where it is worn hollow.
    let not_stiff = 0.9 * (0.7 + 0.3 * 0.4);
    for (is, chance) in [("is stiff", 1.0 - not_stiff), ("is not stiff", not_stiff)] {
        let plan = format!("When the drawer of a lock {is} then plan to oil it.  From: house\n");
        let tasks = tasks_of(&plan, "chest with 1 drawer", &[]);
        assert_eq!(
            tasks.len(),
            1,
            "the lock of the door has no drawer: {tasks:?}"
        );
        is_near(&tasks, "oil it", chance);
    }
}
