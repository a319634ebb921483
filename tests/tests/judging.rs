//! What a pack's plans call for, against working their conditions out straight from the
//! sentences: how sure one must be, what cannot be seen, and what the whole piece is like
//! included.

use std::collections::BTreeSet;

use tellmark_compile::plans::{asks_about_parts, seen_from};
use tellmark_compile::room::Room;
use tellmark_compile::{Built, build};
use tellmark_core::inspection::Inspection;
use tellmark_core::number::UFloat;
use tellmark_core::pack::Form;
use tellmark_core::piece::{Answer, Eye, Judged, Part, Than};
use tellmark_core::sureness::{POSSIBLY, PROBABLY, SURELY};
use tellmark_core::truth::Truth;
use tellmark_language::model::{
    Asks, Condition, HowMany, Job, JobId, KindId, Mark, Model, Nature, PIECE, Plan, Predicate,
    Reach, SignId, StandIn, StateId, Sureness, Test, WorkStage,
};
use tellmark_language::span::Span;
use tellmark_tests::dice::Dice;
use tellmark_tests::random::RandomRules;

const BOX: KindId = KindId(1);
const TRAY: KindId = KindId(2);
const SLIDE: KindId = KindId(3);
const LID: KindId = KindId(4);

fn group(dice: &mut Dice, path: &[KindId]) -> (Reach, KindId) {
    let n = u8::try_from(dice.below(4)).unwrap_or(0);
    let many = *dice.pick(&[
        HowMany::The,
        HowMany::Any,
        HowMany::Every,
        HowMany::No,
        HowMany::AtLeast(n),
        HowMany::FewerThan(n),
        HowMany::Exactly(n),
    ]);
    let meant = path[path.len() - 1];
    let path = path.to_vec();
    (Reach::down(path, many), meant)
}

/// A way from a subject to the parts that are meant, and their kind.
fn reach(dice: &mut Dice, subject: KindId) -> (Reach, KindId) {
    match (subject, dice.below(4)) {
        (PIECE | BOX, 0) => group(dice, &[TRAY]),
        (PIECE | BOX, 1) => group(dice, &[TRAY, SLIDE]),
        (PIECE | BOX, 2) => group(dice, &[LID]),
        (TRAY, 0 | 1) => group(dice, &[SLIDE]),
        (SLIDE, 0) => (Reach::Up(TRAY), TRAY),
        (TRAY | SLIDE | LID, 2) => {
            let owner = *dice.pick(&[BOX, PIECE]);
            (Reach::Up(owner), owner)
        }
        // It is built into none of these.
        (TRAY | LID, 3) => (Reach::Up(SLIDE), SLIDE),
        _ => (Reach::Own, subject),
    }
}

/// Something that may be said of a part of this kind.
fn predicate(dice: &mut Dice, model: &Model, kind: KindId) -> Predicate {
    let yes = dice.chance(60);
    let sign = |of: &dyn Fn(&Asks) -> bool| {
        let mut signs = model.signs.iter();
        let at = signs.position(|sign| sign.kind == kind && of(&sign.asks));
        at.and_then(|at| u16::try_from(at).ok()).map(SignId)
    };
    let at_least = 1 + i32::try_from(dice.below(3)).unwrap_or(0);
    let at_most = dice
        .chance(40)
        .then_some(at_least + i32::from(dice.chance(50)));
    let states: Vec<StateId> = (0..model.states.len())
        .filter(|&at| model.states[at].kind == kind)
        .map(|at| StateId(u16::try_from(at).unwrap_or(0)))
        .collect();
    match dice.below(8) {
        0 => Predicate::CannotBeSeen,
        1 | 2 if kind == TRAY || kind == BOX => Predicate::Has {
            part: if kind == TRAY {
                SLIDE
            } else {
                *dice.pick(&[TRAY, LID])
            },
            mark: Mark { at_least, at_most },
            yes,
        },
        3 | 4 if sign(&|asks| matches!(asks, Asks::HowMuch { .. })).is_some() => {
            let sign = sign(&|asks| matches!(asks, Asks::HowMuch { .. }));
            let at_least = 10 * at_least;
            let at_most = at_most.map(|most| 10 * most);
            let mark = Mark { at_least, at_most };
            let sign = sign.unwrap_or(SignId(0));
            Predicate::Measure { sign, mark, yes }
        }
        3..=5 if sign(&|asks| matches!(asks, Asks::Degrees { .. })).is_some() => {
            let sign = sign(&|asks| matches!(asks, Asks::Degrees { .. })).unwrap_or(SignId(0));
            let mark = Mark { at_least, at_most };
            Predicate::Measure { sign, mark, yes }
        }
        3 | 4 if sign(&|asks| matches!(asks, Asks::Which { .. })).is_some() => {
            let sign = sign(&|asks| matches!(asks, Asks::Which { .. })).unwrap_or(SignId(0));
            let values = if dice.chance(50) { vec![0] } else { vec![1, 2] };
            Predicate::Choice { sign, values, yes }
        }
        _ if !states.is_empty() => {
            let state = *dice.pick(&states);
            let sure = [Sureness::Possibly, Sureness::Probably, Sureness::Surely];
            let sureness = dice.chance(50).then(|| *dice.pick(&sure));
            Predicate::State {
                state,
                yes,
                sureness,
            }
        }
        _ => Predicate::CannotBeSeen,
    }
}

fn condition(dice: &mut Dice, model: &Model, subject: KindId, depth: usize) -> Condition {
    let parts = |dice: &mut Dice| -> Vec<Condition> {
        let number = 1 + dice.below(4);
        (0..number)
            .map(|_| condition(dice, model, subject, depth - 1))
            .collect()
    };
    match dice.below(7) {
        5 | 6 if depth > 0 => {
            let parts = parts(dice);
            let enough = u8::try_from(1 + dice.below(parts.len())).expect("few");
            Condition::AtLeast(enough, parts)
        }
        0 | 1 if depth > 0 => Condition::All(parts(dice)),
        2 | 3 if depth > 0 => Condition::Any(parts(dice)),
        _ => {
            let (whose, kind) = reach(dice, subject);
            Condition::Test(Test {
                whose,
                what: predicate(dice, model, kind),
                at: Span::default(),
            })
        }
    }
}

/// Random rules with a plan for each of many random conditions.
fn rules(dice: &mut Dice) -> Model {
    let mut random = RandomRules::draw(dice);
    if dice.chance(50) {
        random.add_degrees(dice);
    }
    let mut model = random.model;
    // What cannot be is known not to be; `only_if.rs` has that.
    model.only_ifs.clear();
    for number in 0..JOBS {
        model.jobs.push(Job {
            name: format!("job {number}"),
            takes: None,
            waits: None,
            needs: Vec::new(),
            first: Vec::new(),
            then: Vec::new(),
            touches: Vec::new(),
            mends: Vec::new(),
            until: Vec::new(),
            holds: None,
            ask_owner: false,
            stage: WorkStage::default(),
            once_for: None,
            source: None,
            at: Span::default(),
        });
    }
    const KINDS: [KindId; 5] = [PIECE, BOX, TRAY, SLIDE, LID];
    let only = dice.chance(40).then(|| *dice.pick(&KINDS));
    for _ in 0..12 {
        let subject = only.unwrap_or_else(|| *dice.pick(&KINDS));
        let when = condition(dice, &model, subject, 2);
        model.plans.push(Plan {
            subject,
            when,
            job: JobId(u16::try_from(dice.below(JOBS)).unwrap_or(0)),
            source: None,
            called: None,
            at: Span::default(),
        });
    }
    model
}

const JOBS: usize = 4;

/// Some jobs stand in the place of others, the later in the place of the earlier; what the
/// check refuses is left out.
fn stand_ins(dice: &mut Dice, model: &mut Model) {
    for _ in 0..dice.below(4) {
        let replaced = dice.below(JOBS - 1);
        let job = replaced + 1 + dice.below(JOBS - 1 - replaced);
        let subject = *dice.pick(&[PIECE, BOX, TRAY, SLIDE, LID]);
        let when = condition(dice, model, subject, 1);
        let is_inside = |plan: &Plan| seen_from(model, plan.subject, subject).flatten().is_some();
        if asks_about_parts(&when) && model.plans.iter().any(is_inside) {
            continue;
        }
        model.stand_ins.push(StandIn {
            subject,
            when,
            replaced: JobId(u16::try_from(replaced).unwrap_or(0)),
            job: JobId(u16::try_from(job).unwrap_or(0)),
            source: None,
            called: None,
            replaced_at: Span::default(),
            said_at: Span::default(),
            at: Span::default(),
        });
    }
}

/// The least chance that a word asks for, in thousandths.
fn least_chance(sureness: Sureness) -> u16 {
    match sureness {
        Sureness::Possibly => POSSIBLY,
        Sureness::Probably => PROBABLY,
        Sureness::Surely => SURELY,
    }
}

/// Works conditions out from the sentences alone: `None` is not known.
struct Sentences<'s, 'm> {
    model: &'s Model,
    built: &'s Built,
    inspection: &'s mut Inspection<'m, 'm, UFloat>,
}

impl Sentences<'_, '_> {
    fn holds(&mut self, condition: &Condition, part: usize) -> Option<bool> {
        match condition {
            Condition::Test(test) => self.test(test, part),
            Condition::All(all) => {
                let each = all.iter().map(|one| self.holds(one, part));
                every(&each.collect::<Vec<_>>())
            }
            Condition::AtLeast(enough, all) => {
                let each: Vec<_> = all.iter().map(|one| self.holds(one, part)).collect();
                let surely = each.iter().filter(|one| **one == Some(true)).count();
                let perhaps = each.iter().filter(|one| **one != Some(false)).count();
                match usize::from(*enough) {
                    n if surely >= n => Some(true),
                    n if perhaps < n => Some(false),
                    _ => None,
                }
            }
            Condition::Any(any) => {
                let each = any.iter().map(|one| self.holds(one, part));
                let none = every(&each.map(|one| one.map(|yes| !yes)).collect::<Vec<_>>());
                none.map(|none| !none)
            }
        }
    }

    /// What is planned where a sentence calls for a job: it, where nothing that replaces it
    /// is so; and each job in its place where that is so, or what stands in *its* place.
    fn planned(
        &mut self,
        job: JobId,
        part: usize,
        called: Option<bool>,
        each: &mut dyn FnMut(JobId, Option<bool>),
    ) {
        let mut here = vec![called];
        for stand_in in self
            .model
            .stand_ins
            .iter()
            .filter(|one| one.replaced == job)
        {
            let own = self.inspection.piece().parts()[part].kind;
            let at = if stand_in.subject.0 == own || (stand_in.subject == PIECE && part == 0) {
                Some(part)
            } else {
                self.owner(part, stand_in.subject)
            };
            let so = at.map_or(Some(false), |at| self.holds(&stand_in.when, at));
            here.push(so.map(|so| !so));
            self.planned(stand_in.job, part, every(&[called, so]), each);
        }
        each(job, every(&here));
    }

    fn test(&mut self, test: &Test, part: usize) -> Option<bool> {
        match &test.whose {
            Reach::Own => self.says(&test.what, part),
            Reach::Up(kind) => {
                // Of an owner that is not there nothing is so, however it is put.
                let owner = self.owner(part, *kind);
                owner.map_or(Some(false), |owner| self.says(&test.what, owner))
            }
            Reach::Down { path, many, .. } => {
                let mut meant = vec![part];
                for &kind in path {
                    let parts = self.inspection.piece().parts();
                    let is_in = |record: &Part| {
                        record.kind == kind.0 && meant.contains(&usize::from(record.owner))
                    };
                    meant = (0..parts.len()).filter(|&at| is_in(&parts[at])).collect();
                }
                let said: Vec<_> = meant.iter().map(|&at| self.says(&test.what, at)).collect();
                counted(&said, *many)
            }
            Reach::Others { .. } => panic!("none are drawn"),
        }
    }

    fn owner(&self, part: usize, kind: KindId) -> Option<usize> {
        let piece = self.inspection.piece();
        if kind == PIECE {
            return Some(0);
        }
        let mut owners = piece.owners(part);
        owners.find(|&owner| piece.parts()[owner].kind == kind.0)
    }

    fn says(&mut self, what: &Predicate, part: usize) -> Option<bool> {
        let pack = *self.inspection.pack();
        let answer = |inspection: &Inspection<'_, '_, UFloat>, ask: u16| {
            inspection
                .piece()
                .answer(&pack, part, ask)
                .unwrap_or_default()
        };
        let (found, yes) = match what {
            Predicate::State {
                state,
                yes,
                sureness,
            } => {
                let row = self.built.states.declared(*state);
                let number = u16::try_from(row).unwrap_or(u16::MAX);
                let record = pack.state(row);
                let piece = self.inspection.piece();
                let known = match piece.truth(&pack, part, &record) {
                    Truth::True => Some(true),
                    Truth::False => Some(false),
                    Truth::NotKnown => None,
                };
                let surely = |sureness: Sureness| {
                    let chance = self.inspection.chance(part, number).ok();
                    chance.map(|chance| chance.reaches(least_chance(sureness)))
                };
                // How sure one must be is asked of what is hidden only.
                let state = &self.model.states[state.index()];
                let is_hidden = matches!(state.nature, Nature::Hidden { .. });
                let sureness = sureness.filter(|_| is_hidden);
                (known.or(sureness.and_then(surely)), *yes)
            }
            Predicate::Measure { sign, mark, yes } => {
                let said = answer(self.inspection, self.built.states.ask(*sign));
                match &self.model.signs[sign.index()].asks {
                    Asks::Degrees { degrees, .. } => (degree(said, degrees.len(), mark), *yes),
                    _ => (within(said, mark), *yes),
                }
            }
            Predicate::Choice { sign, values, yes } => {
                let said = match answer(self.inspection, self.built.states.ask(*sign)) {
                    Answer::Value(value) => Some(values.contains(&value)),
                    _ => None,
                };
                (said, *yes)
            }
            Predicate::Has {
                part: kind,
                mark,
                yes,
            } => {
                let own = self.inspection.piece().parts()[part].kind;
                let counts = |sign: &tellmark_language::model::Sign| {
                    sign.kind.0 == own && sign.asks == Asks::HowMany(*kind)
                };
                let counted = self.model.signs.iter().position(counts);
                let number = match counted.and_then(|sign| u16::try_from(sign).ok()) {
                    Some(sign) => answer(self.inspection, self.built.states.ask(SignId(sign))),
                    None => {
                        let parts = self.inspection.piece().parts().iter();
                        let inner = parts.filter(|inner| {
                            usize::from(inner.owner) == part && inner.kind == kind.0
                        });
                        Answer::Reading(i32::try_from(inner.count()).unwrap_or(i32::MAX))
                    }
                };
                (within(number, mark), *yes)
            }
            Predicate::Placed { .. } => panic!("none are drawn"),
            Predicate::CannotBeSeen => {
                let record = self.inspection.piece().parts()[part];
                (Some(record.out_of_sight), true)
            }
        };
        found.map(|found| found == yes)
    }
}

fn within(answer: Answer, mark: &Mark) -> Option<bool> {
    match answer {
        Answer::Reading(x) => Some(mark.at_least <= x && mark.at_most.is_none_or(|most| x <= most)),
        _ => None,
    }
}

fn truth_of(known: Option<bool>) -> Truth {
    known.map_or(Truth::NotKnown, Truth::from)
}

/// Whether a judgement is within a mark: known if all the degrees that it leaves agree.
fn degree(answer: Answer, highest: usize, mark: &Mark) -> Option<bool> {
    let left = |degree: &i32| match answer {
        Answer::Value(value) => {
            let judged = Judged::of(value).expect("a judgement");
            let said = i32::from(judged.degree);
            judged.eye == Eye::Looks
                || match judged.than {
                    Than::Just => *degree == said,
                    Than::AtLeast => *degree >= said,
                    Than::LessThan => *degree < said,
                }
        }
        _ => true,
    };
    let highest = i32::try_from(highest).unwrap_or(0);
    let degrees = (0..=highest).filter(left);
    let verdicts: BTreeSet<bool> = degrees
        .map(|degree| mark.at_least <= degree && mark.at_most.is_none_or(|most| degree <= most))
        .collect();
    (verdicts.len() == 1).then(|| verdicts.contains(&true))
}

/// Whether all are so, in Kleene's strong logic.
fn every(all: &[Option<bool>]) -> Option<bool> {
    if all.contains(&Some(false)) {
        Some(false)
    } else if all.contains(&None) {
        None
    } else {
        Some(true)
    }
}

/// Whether it is so of this many: known if it is the same however what is not known
/// turns out.
fn counted(said: &[Option<bool>], many: HowMany) -> Option<bool> {
    let number = |of: Option<bool>| said.iter().filter(|one| **one == of).count();
    let (least, most) = (number(Some(true)), number(Some(true)) + number(None));
    let is_so = |so: usize| match many {
        HowMany::The | HowMany::Any => so >= 1,
        HowMany::Every => so == said.len(),
        HowMany::No => so == 0,
        HowMany::AtLeast(n) => so >= usize::from(n),
        HowMany::FewerThan(n) => so < usize::from(n),
        HowMany::Exactly(n) => so == usize::from(n),
    };
    let verdicts: BTreeSet<bool> = (least..=most).map(is_so).collect();
    (verdicts.len() == 1).then(|| verdicts.contains(&true))
}

/// Answers about half of what can be asked; a fault is opened up now and then.
fn answer_half(inspection: &mut Inspection<'_, '_, UFloat>, dice: &mut Dice) {
    let pack = *inspection.pack();
    for part in 0..inspection.piece().parts().len() {
        let place = usize::from(inspection.piece().parts()[part].place);
        for ask in pack.asks_of(place) {
            let yes = dice.chance(50);
            let answer = match (pack.ask(usize::from(ask)).form, dice.below(6)) {
                (_, 0 | 1) => continue,
                (_, 2) => Answer::CannotSee,
                (Form::Whether, 3) => Answer::Looks(yes),
                (Form::Whether, 4) => Answer::Seen(yes),
                (Form::Whether, _) => Answer::Certain(yes),
                (Form::Which { .. }, _) => Answer::Value(u8::try_from(dice.below(3)).unwrap_or(0)),
                (Form::Degrees { values, .. }, _) => {
                    let degree = u8::try_from(dice.below(usize::from(values))).unwrap_or(0);
                    let eye = *dice.pick(&[Eye::Ordinary, Eye::Looks, Eye::Certain]);
                    let than = match degree {
                        0 => Than::Just,
                        _ => *dice.pick(&[Than::Just, Than::AtLeast, Than::LessThan]),
                    };
                    Answer::Value(Judged { degree, than, eye }.value())
                }
                (Form::HowMuch { .. }, _) => {
                    Answer::Reading(i32::try_from(dice.below(9)).unwrap_or(0) * 5)
                }
                (Form::HowMany { .. }, _) => {
                    Answer::Reading(i32::try_from(dice.below(4)).unwrap_or(0))
                }
            };
            inspection
                .answer(part, ask, answer)
                .expect("it can be answered so");
        }
        inspection
            .out_of_sight(part, dice.chance(30))
            .expect("it is there");
    }
}

#[test]
fn conditions_hold_as_their_sentences_say() {
    let mut dice = Dice::new(64);
    let (mut verdicts, mut replaced) = ([0; 3], 0);
    for _ in 0..600 {
        let mut model = rules(&mut dice);
        stand_ins(&mut dice, &mut model);
        let Ok(built) = build(&model, &|_| String::new()) else {
            continue;
        };
        let pack = built.bytes.open().expect("opens");
        let root = pack.root_of(BOX.0).expect("a box");
        let counts = dice.roll();
        let mut room = Room::<UFloat>::default();
        let inspection = room.inspection(pack, root, |_, owner, place| {
            let record = pack.place(place);
            let mut dice = Dice::new(counts ^ ((owner as u64) << 32) ^ place as u64);
            let span = usize::from(record.most - record.least) + 1;
            record.least + u8::try_from(dice.below(span)).unwrap_or(0)
        });
        let mut inspection = inspection.expect("the counts are within bounds");
        answer_half(&mut inspection, &mut dice);

        let mut found = Vec::new();
        let job = |sentence: usize| pack.plan(sentence).job;
        inspection.plans(|call| found.push((job(call.sentence), call.part, call.truth)));
        let mut expected = Vec::new();
        for plan in &model.plans {
            for part in 0..inspection.piece().parts().len() {
                let kind = inspection.piece().parts()[part].kind;
                let is_about = kind == plan.subject.0 || (plan.subject == PIECE && part == 0);
                if !is_about {
                    continue;
                }
                let mut sentences = Sentences {
                    model: &model,
                    built: &built,
                    inspection: &mut inspection,
                };
                let truth = sentences.holds(&plan.when, part);
                verdicts[truth_of(truth) as usize] += 1;
                sentences.planned(plan.job, part, truth, &mut |job, truth| {
                    replaced += usize::from(job != plan.job);
                    if truth_of(truth) != Truth::False {
                        expected.push((job.0, part, truth_of(truth)));
                    }
                });
            }
        }
        found.sort_unstable();
        expected.sort_unstable();
        assert_eq!(found, expected, "{:#?} {:#?}", model.plans, model.stand_ins);
        let parts = inspection.piece().parts().len();
        assert_eq!(inspection.holds(pack.plan(0).condition, parts), None);
    }
    assert!(verdicts.iter().all(|&times| times > 2_000), "{verdicts:?}");
    assert!(replaced > 2_000, "{replaced}");
}
