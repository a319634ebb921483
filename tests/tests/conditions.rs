//! One meaning of a condition: the core's reading of a pack's programs, claims over the
//! ground network, the clauses of the network (through a rule) and the bounds that bench
//! hours go by must agree.
//!
//! Pieces are drawn with owners that are not there, groups of no parts, and parts that
//! nobody counted.

use tellmark_compile::ground::{Claim, Ground};
use tellmark_compile::meaning::{is_within, meaning};
use tellmark_compile::room::Room;
use tellmark_compile::{Built, build};
use tellmark_core::inspection::Inspection;
use tellmark_core::pack::{Form, Pack, Trial, Way};
use tellmark_core::piece::{Answer, Part};
use tellmark_core::truth::Truth;
use tellmark_job::hours::{Bounds, Found};
use tellmark_language::model::{
    Asks, Condition, Disturbs, HowMany, HowOften, Job, JobId, Kind, KindId, Ladder, Mark, Member,
    Model, Nature, PIECE, Placing, Plan, Predicate, Reach, Rule, Sense, Sign, SignId, State,
    StateId, Strength, Test, Thousandths, Unit, Verb, WorkStage, WorkedOut, Working,
};
use tellmark_language::span::Span;
use tellmark_tests::dice::Dice;

const CASES: usize = 3_000;

const CHEST: KindId = KindId(1);
const TABLE: KindId = KindId(2);
const DRAWER: KindId = KindId(3);
const FRONT: KindId = KindId(4);
const HANDLE: KindId = KindId(5);
const LEAF: KindId = KindId(6);

/// A kind, with the fewest and the most of it.
type Members = &'static [(KindId, u8, u8)];

/// Kinds with what they are made of: a handle is on a front, a drawer or a leaf, so that
/// "its front" and "its drawer" may be there or not.
const MADE_OF: [(KindId, Members); 6] = [
    (CHEST, &[(DRAWER, 0, 3)]),
    (TABLE, &[(LEAF, 0, 2), (HANDLE, 1, 1)]),
    (DRAWER, &[(FRONT, 0, 1), (HANDLE, 0, 2)]),
    (FRONT, &[(HANDLE, 2, 2)]),
    (HANDLE, &[]),
    (LEAF, &[(HANDLE, 0, 3)]),
];

/// What may be said of each kind: two states that are seen, one that counts as so by the
/// measure, the measure, a choice and a judgement in degrees.
struct Words {
    kind: KindId,
    states: Vec<StateId>,
    measure: SignId,
    choice: SignId,
    judged: SignId,
}

struct Drawn {
    model: Model,
    words: Vec<Words>,
    /// The states that stand for the conditions, in the order of `conditions`.
    results: Vec<StateId>,
    conditions: Vec<(KindId, Condition)>,
}

fn often(chance: u16) -> HowOften {
    HowOften {
        word: (chance == 1000).then_some(Strength::ByDefinition),
        cases: None,
        chance: Thousandths(chance),
    }
}

fn sign(kind: KindId, asks: Asks) -> Sign {
    Sign {
        kind,
        sense: Sense::See,
        asks,
        ask: None,
        how: None,
        takes: Some(1),
        slip: Thousandths(0),
        disturbs: Disturbs::Nothing,
        on_its_own: Some(often(300)),
        usually: None,
        in_order: None,
        worked: None,
        source: None,
        at: Span::default(),
    }
}

fn state(kind: KindId, phrase: String, nature: Nature) -> State {
    State {
        kind,
        verb: Verb::Is,
        phrase,
        also: Vec::new(),
        shared: Vec::new(),
        nature,
        on_its_own: Some(often(300)),
        source: None,
        at: Span::default(),
    }
}

fn number<T>(list: &[T]) -> u16 {
    u16::try_from(list.len()).expect("few")
}

impl Drawn {
    fn draw(dice: &mut Dice) -> Self {
        let mut model = Model::default();
        for name in [
            "piece", "chest", "table", "drawer", "front", "handle", "leaf",
        ] {
            model.kinds.push(Kind {
                name: name.to_owned(),
                plural: format!("{name}s"),
                is_piece: ["piece", "chest", "table"].contains(&name),
                ..Kind::default()
            });
        }
        let mut drawn = Self {
            model,
            words: Vec::new(),
            results: Vec::new(),
            conditions: Vec::new(),
        };
        for (kind, members) in MADE_OF {
            for &(member, least, most) in members {
                drawn.add_member(dice, kind, member, least, most);
            }
        }
        for kind in [PIECE, CHEST, TABLE, DRAWER, FRONT, HANDLE, LEAF] {
            drawn.add_words(kind);
        }
        for kind in [DRAWER, FRONT, HANDLE, LEAF] {
            drawn.add_places(kind);
        }
        for i in 0..4 {
            drawn.add_condition(dice, i);
        }
        drawn
    }

    /// The signs that say where a part stands among its like.
    fn add_places(&mut self, kind: KindId) {
        for working in [Working::Number, Working::FromLast] {
            let mut number = sign(
                kind,
                Asks::HowMuch {
                    word: String::new(),
                    phrase: String::new(),
                    unit: Unit::Percent,
                    least: 1,
                    most: 5,
                    gauge: 0,
                },
            );
            let of = Vec::new();
            number.worked = Some(WorkedOut {
                working,
                of,
                handbook: None,
            });
            self.model.signs.push(number);
        }
    }

    fn place(&self, dice: &mut Dice, kind: KindId) -> Placing {
        let signs = (0..).map(SignId).zip(&self.model.signs);
        let signs = signs.filter(|(_, sign)| sign.kind == kind && sign.place().is_some());
        let signs: Vec<(SignId, Option<Working>)> =
            signs.map(|(id, sign)| (id, sign.place())).collect();
        let at = (0..=dice.below(2)).map(|_| {
            let &(sign, working) = dice.pick(&signs);
            let most = if working == Some(Working::FromLast) {
                1
            } else {
                3
            };
            (sign, 1 + u8::try_from(dice.below(most)).expect("small"))
        });
        let at = at.collect();
        Placing {
            at,
            except: dice.chance(25),
            words: "some".to_owned(),
        }
    }

    /// The others of an owner that has the subject's kind.
    fn others(&self, dice: &mut Dice, subject: KindId) -> (Reach, KindId) {
        let kinds = self.model.kinds.iter();
        let owners: Vec<&Kind> = kinds
            .filter(|kind| kind.members.iter().any(|member| member.kind == subject))
            .collect();
        let owner = *dice.pick(&owners);
        let of = dice.pick(&owner.members).kind;
        let n = u8::try_from(dice.below(4)).expect("small");
        let many = match dice.below(6) {
            0 => HowMany::Any,
            1 => HowMany::Every,
            2 => HowMany::No,
            3 => HowMany::AtLeast(n),
            4 => HowMany::FewerThan(n),
            _ => HowMany::Exactly(n),
        };
        (Reach::Others { of, many }, of)
    }

    fn add_member(&mut self, dice: &mut Dice, kind: KindId, member: KindId, least: u8, most: u8) {
        self.model.kinds[kind.index()].members.push(Member {
            kind: member,
            least,
            most,
            usual: most.min(2),
            names: Vec::new(),
            from: None,
            at: Span::default(),
        });
        // What varies is counted, as the language asks for.
        if least != most || dice.chance(20) {
            self.model.signs.push(sign(kind, Asks::HowMany(member)));
        }
    }

    fn add_words(&mut self, kind: KindId) {
        let mut states = Vec::new();
        for name in ["worn", "loose"] {
            let id = StateId(number(&self.model.states));
            let seen = SignId(number(&self.model.signs));
            self.model.signs.push(sign(kind, Asks::Whether(id)));
            let nature = Nature::Seen(seen);
            self.model.states.push(state(kind, name.to_owned(), nature));
            states.push(id);
        }
        let measure = SignId(number(&self.model.signs));
        self.model.signs.push(sign(
            kind,
            Asks::HowMuch {
                word: "wide".to_owned(),
                phrase: "split".to_owned(),
                unit: Unit::Mm,
                least: 0,
                most: 100,
                gauge: 0,
            },
        ));
        let id = StateId(number(&self.model.states));
        let nature = Nature::CountsAs {
            sign: measure,
            mark: Mark {
                at_least: 40,
                at_most: None,
            },
        };
        let cracked = state(kind, "cracked".to_owned(), nature);
        self.model.states.push(cracked);
        states.push(id);
        let choice = SignId(number(&self.model.signs));
        let values = ["oak", "elm", "pine"].map(str::to_owned).to_vec();
        let attribute = "wood".to_owned();
        self.model
            .signs
            .push(sign(kind, Asks::Which { attribute, values }));
        let judged = SignId(number(&self.model.signs));
        self.model.signs.push(sign(
            kind,
            Asks::Degrees {
                word: "badly".to_owned(),
                phrase: "lifted".to_owned(),
                degrees: ["slightly", "badly"].map(str::to_owned).to_vec(),
            },
        ));
        for degree in [1, 2] {
            let id = StateId(number(&self.model.states));
            let nature = Nature::CountsAs {
                sign: judged,
                mark: Mark {
                    at_least: degree,
                    at_most: None,
                },
            };
            let lifted = state(kind, format!("lifted by {degree}"), nature);
            self.model.states.push(lifted);
            states.push(id);
        }
        self.words.push(Words {
            kind,
            states,
            measure,
            choice,
            judged,
        });
    }

    /// A condition, with a plan that waits for it and a state that a rule brings about
    /// exactly where it holds.
    fn add_condition(&mut self, dice: &mut Dice, i: usize) {
        let subject = *dice.pick(&[PIECE, CHEST, TABLE, DRAWER, FRONT, HANDLE, HANDLE, LEAF]);
        let when = self.condition(dice, subject, 2);
        let unless = dice.chance(25).then(|| self.condition(dice, subject, 1));
        let id = StateId(number(&self.model.states));
        let mut result = state(
            subject,
            format!("result {i}"),
            Nature::Hidden { missed: None },
        );
        result.on_its_own = Some(often(0));
        self.model.states.push(result);
        self.model.rules.push(Rule {
            subject,
            when: when.clone(),
            unless: unless.clone(),
            result: Reach::Own,
            state: id,
            or: Vec::new(),
            strength: often(1000),
            source: None,
            called: None,
            at: Span::default(),
        });
        if unless.is_none() {
            self.results.push(id);
            self.conditions.push((subject, when.clone()));
            self.model.plans.push(Plan {
                subject,
                when,
                job: JobId(0),
                source: None,
                called: None,
                at: Span::default(),
            });
        }
    }

    fn condition(&self, dice: &mut Dice, subject: KindId, depth: usize) -> Condition {
        if depth == 0 || dice.chance(40) {
            return Condition::Test(self.test(dice, subject));
        }
        let parts: Vec<Condition> = (0..=dice.below(3))
            .map(|_| self.condition(dice, subject, depth - 1))
            .collect();
        match dice.below(3) {
            0 => Condition::All(parts),
            1 => Condition::Any(parts),
            _ => {
                let enough = u8::try_from(1 + dice.below(parts.len())).expect("few");
                Condition::AtLeast(enough, parts)
            }
        }
    }

    fn test(&self, dice: &mut Dice, subject: KindId) -> Test {
        let is_part = !self.model.kinds[subject.index()].is_piece;
        if is_part && dice.chance(10) {
            return Test {
                whose: Reach::Own,
                what: Predicate::Placed {
                    place: self.place(dice, subject),
                    yes: dice.chance(60),
                },
                at: Span::default(),
            };
        }
        let (whose, kind) = match dice.below(4) {
            _ if is_part && dice.chance(25) => self.others(dice, subject),
            0 | 3 => (Reach::Own, subject),
            1 => {
                // Any owner, whether the subject can have one of this kind or not. (Of
                // a whole piece, "the piece" is said as its own.)
                let kind = *dice.pick(&[PIECE, CHEST, TABLE, DRAWER, FRONT, LEAF]);
                let is_itself = kind == PIECE && self.model.kinds[subject.index()].is_piece;
                let whose = if is_itself {
                    Reach::Own
                } else {
                    Reach::Up(kind)
                };
                (whose, kind)
            }
            _ => self.down(dice, subject),
        };
        Test {
            whose,
            what: self.predicate(dice, kind),
            at: Span::default(),
        }
    }

    fn down(&self, dice: &mut Dice, subject: KindId) -> (Reach, KindId) {
        let mut path = Vec::new();
        let mut at = subject;
        if subject == PIECE {
            // A piece of another sort has no such parts.
            at = *dice.pick(&[CHEST, TABLE]);
        }
        for _ in 0..=dice.below(3) {
            let members = &self.model.kinds[at.index()].members;
            if members.is_empty() {
                break;
            }
            at = dice.pick(members).kind;
            path.push(at);
        }
        if path.is_empty() {
            return (Reach::Own, subject);
        }
        let n = u8::try_from(dice.below(4)).expect("small");
        let many = match dice.below(if path.len() == 1 { 7 } else { 4 }) {
            0 => HowMany::Any,
            1 => HowMany::Every,
            2 => HowMany::No,
            3 => HowMany::The,
            4 => HowMany::AtLeast(n),
            5 => HowMany::FewerThan(n),
            _ => HowMany::Exactly(n),
        };
        let only = dice.chance(30).then(|| self.place(dice, at));
        (Reach::Down { path, many, only }, at)
    }

    fn predicate(&self, dice: &mut Dice, kind: KindId) -> Predicate {
        // What may be said of a piece may be said of a chest.
        let any_piece = self.model.kinds[kind.index()].is_piece && dice.chance(40);
        let of = if any_piece { PIECE } else { kind };
        let words = self.words.iter().find(|w| w.kind == of).expect("all");
        let yes = dice.chance(60);
        let members = &self.model.kinds[kind.index()].members;
        match dice.below(7) {
            0..=2 if !members.is_empty() => {
                let at_least = i32::try_from(dice.below(4)).expect("small");
                Predicate::Has {
                    part: dice.pick(members).kind,
                    mark: Mark {
                        at_least,
                        at_most: dice.chance(40).then_some(at_least),
                    },
                    yes,
                }
            }
            3 => {
                let at_least = *dice.pick(&[0, 20, 40, 90]);
                Predicate::Measure {
                    sign: words.measure,
                    mark: Mark {
                        at_least,
                        at_most: dice.chance(40).then_some(at_least + 30),
                    },
                    yes,
                }
            }
            5 if dice.chance(60) => {
                let at_least = 1 + i32::from(dice.chance(50));
                Predicate::Measure {
                    sign: words.judged,
                    mark: Mark {
                        at_least,
                        at_most: (at_least == 1 && dice.chance(50)).then_some(1),
                    },
                    yes,
                }
            }
            4 => Predicate::Choice {
                sign: words.choice,
                values: dice.pick(&[vec![0], vec![1, 2], vec![2]]).clone(),
                yes,
            },
            _ => Predicate::State {
                state: *dice.pick(&words.states),
                yes,
                sureness: None,
            },
        }
    }
}

fn job() -> Job {
    Job {
        name: "look again".to_owned(),
        takes: None,
        waits: None,
        needs: Vec::new(),
        first: Vec::new(),
        then: Vec::new(),
        touches: Vec::new(),
        mends: Vec::new(),
        until: Vec::new(),
        stage: WorkStage::default(),
        holds: None,
        ask_owner: false,
        once_for: None,
        source: None,
        at: Span::default(),
    }
}

/// A piece with answers, and the same piece as a ground network.
struct Case<'c, 'm> {
    drawn: &'c Drawn,
    built: &'c Built,
    ground: &'c Ground,
    pack: Pack<'c>,
    inspection: Inspection<'m, 'm, f64>,
}

impl Case<'_, '_> {
    /// Answers every ask of every part, but for those that are left open.
    fn answer(&mut self, dice: &mut Dice, open: usize) {
        for part in 0..self.ground.parts.len() {
            let place = self.ground.parts[part].place;
            let asks: Vec<u16> = self.pack.asks_of(place).collect();
            for ask in asks {
                let form = self.pack.ask(usize::from(ask)).form;
                if self.pack.ask(usize::from(ask)).way == Way::WorkOut {
                    continue;
                }
                // Counts are left out more often.
                let counts = matches!(form, Form::HowMany { .. });
                if dice.chance(if counts { 2 * open } else { open }) {
                    continue;
                }
                let answer = match form {
                    Form::Whether => Answer::Certain(dice.chance(50)),
                    Form::Which { .. } | Form::Degrees { .. } => {
                        Answer::Value(u8::try_from(dice.below(3)).expect("3"))
                    }
                    Form::HowMuch { .. } => Answer::Reading(*dice.pick(&[0, 19, 20, 45, 70, 100])),
                    Form::HowMany { part: kind } => {
                        let places = &self.built.places;
                        let there = self.ground.down(places, part, &[KindId(kind)]);
                        Answer::Reading(i32::try_from(there.len()).expect("few"))
                    }
                };
                self.inspection
                    .answer(part, ask, answer)
                    .expect("it is asked");
            }
        }
    }

    /// What the answers say of a state of the ground network; `None` if nothing.
    fn said(&self, node: usize) -> Option<bool> {
        let state = &self.ground.states[node];
        let row = &self.built.states.states[state.row];
        let piece = self.inspection.piece();
        let by_ask = match (piece.answer(&self.pack, state.part, row.ask), row.trial) {
            (Some(Answer::Certain(yes)), Trial::Yes) => Some(yes),
            (Some(Answer::Reading(x)), Trial::Within(from, to)) => Some(from <= x && x <= to),
            (Some(Answer::Value(v)), Trial::Value(meant)) => Some(v == meant),
            (Some(Answer::Value(degree)), Trial::Within(from, _)) => {
                Some(i32::from(degree) >= from)
            }
            _ => None,
        };
        by_ask.or_else(
            || match piece.answer(&self.pack, state.part, row.whether?) {
                Some(Answer::Certain(yes)) => Some(yes),
                _ => None,
            },
        )
    }

    /// A claim with the answers put in: true, false, or not known (Kleene).
    fn truth(&self, claim: &Claim) -> Truth {
        match claim {
            Claim::Known(so) => (*so).into(),
            Claim::State(node, yes) => match self.said(*node) {
                Some(said) => (said == *yes).into(),
                None => Truth::NotKnown,
            },
            Claim::All(parts) => parts
                .iter()
                .map(|part| self.truth(part))
                .fold(Truth::True, Truth::and),
            Claim::AtLeast(n, parts) => {
                let truths: Vec<Truth> = parts.iter().map(|part| self.truth(part)).collect();
                let so = truths.iter().filter(|t| **t == Truth::True).count();
                let perhaps = truths.iter().filter(|t| **t != Truth::False).count();
                match (so >= *n, perhaps >= *n) {
                    (true, _) => Truth::True,
                    (_, false) => Truth::False,
                    _ => Truth::NotKnown,
                }
            }
            Claim::Not(part) => !self.truth(part),
        }
    }

    fn bounds(&self, part: usize, condition: &Condition) -> Bounds {
        let mut found = Found {
            rules: self.built.rules(&self.drawn.model),
            ground: self.ground,
            inspection: &self.inspection,
        };
        meaning(&mut found, &part, condition)
    }

    /// The condition, read by hand: what a restorer would say with everything in view.
    fn by_hand(&self, part: usize, condition: &Condition) -> Option<bool> {
        match condition {
            Condition::All(parts) => {
                let all = parts.iter().map(|inner| self.by_hand(part, inner));
                all.collect::<Option<Vec<_>>>()
                    .map(|all| !all.contains(&false))
            }
            Condition::Any(parts) => {
                let all = parts.iter().map(|inner| self.by_hand(part, inner));
                all.collect::<Option<Vec<_>>>()
                    .map(|all| all.contains(&true))
            }
            Condition::AtLeast(enough, parts) => {
                let all = parts.iter().map(|inner| self.by_hand(part, inner));
                let all = all.collect::<Option<Vec<_>>>()?;
                Some(all.iter().filter(|so| **so).count() >= usize::from(*enough))
            }
            Condition::Test(test) => match &test.whose {
                Reach::Own => self.is_so(part, &test.what),
                Reach::Up(kind) => match self.ground.owner(&self.built.places, part, *kind) {
                    Some(owner) => self.is_so(owner, &test.what),
                    None => Some(false),
                },
                Reach::Down { many, .. } | Reach::Others { many, .. } => {
                    let parts = self.meant(part, &test.whose);
                    let so = parts.iter().map(|&part| self.is_so(part, &test.what));
                    let so: Vec<bool> = so.collect::<Option<_>>()?;
                    let count = so.iter().filter(|so| **so).count();
                    Some(match *many {
                        HowMany::The | HowMany::Any => count >= 1,
                        HowMany::Every => count == so.len(),
                        HowMany::No => count == 0,
                        HowMany::AtLeast(n) => count >= usize::from(n),
                        HowMany::FewerThan(n) => count < usize::from(n),
                        HowMany::Exactly(n) => count == usize::from(n),
                    })
                }
            },
        }
    }

    /// The parts of a group.
    fn meant(&self, part: usize, whose: &Reach) -> Vec<usize> {
        let places = &self.built.places;
        match whose {
            Reach::Down { path, only, .. } => {
                let mut parts = self.ground.down(places, part, path);
                parts.retain(|&part| only.as_ref().is_none_or(|only| self.stands(part, only)));
                parts
            }
            Reach::Others { of, .. } => {
                let owner = self.ground.parts[part].owner;
                let all = 0..self.ground.parts.len();
                let such = all.filter(|&other| {
                    let record = self.ground.parts[other];
                    record.owner == owner && places.kind(record.place) == *of && other != part
                });
                such.collect()
            }
            Reach::Own | Reach::Up(_) => vec![part],
        }
    }

    /// Whether a part stands there, by looking along the parts of its owner.
    fn stands(&self, part: usize, place: &Placing) -> bool {
        let record = self.ground.parts[part];
        let all = self.ground.parts.iter().enumerate();
        let like: Vec<usize> = all
            .filter(|(_, other)| other.owner == record.owner && other.place == record.place)
            .map(|(other, _)| other)
            .collect();
        let at = like
            .iter()
            .position(|&other| other == part)
            .expect("itself");
        let is_there = place.at.iter().any(|&(sign, number)| {
            let signs = &self.drawn.model.signs;
            let from_last = signs[sign.index()].place() == Some(Working::FromLast);
            let own = if from_last { like.len() - at } else { at + 1 };
            own == usize::from(number)
        });
        is_there != place.except
    }

    fn is_so(&self, part: usize, what: &Predicate) -> Option<bool> {
        let states = &self.built.states;
        let answer = |sign| {
            let ask = states.ask(sign);
            self.inspection.piece().answer(&self.pack, part, ask)
        };
        let (so, yes) = match what {
            Predicate::State { state, yes, .. } => {
                let row = states.declared(*state);
                let node = self.ground.node(states, &self.built.places, part, row)?;
                (self.said(node)?, *yes)
            }
            Predicate::Measure { sign, mark, yes } => match answer(*sign) {
                Some(Answer::Reading(x)) => (is_within(*mark, x), *yes),
                Some(Answer::Value(degree)) => (is_within(*mark, degree.into()), *yes),
                _ => return None,
            },
            Predicate::Choice { sign, values, yes } => match answer(*sign) {
                Some(Answer::Value(value)) => (values.contains(&value), *yes),
                _ => return None,
            },
            Predicate::Has {
                part: kind,
                mark,
                yes,
            } => {
                let there = self.ground.down(&self.built.places, part, &[*kind]);
                let number = i32::try_from(there.len()).expect("few");
                (is_within(*mark, number), *yes)
            }
            Predicate::Placed { place, yes } => (self.stands(part, place), *yes),
            Predicate::CannotBeSeen => return None,
        };
        Some(so == yes)
    }
}

/// What came up, so that it is seen to have.
#[derive(Debug, Default)]
struct Seen {
    whole: usize,
    open: usize,
    no_owner: usize,
    no_parts: usize,
    others: usize,
    uncounted: usize,
    so: usize,
    /// Conditions that are known though not everything was looked at.
    known: usize,
}

fn speaks_of_measures(condition: &Condition) -> bool {
    let mut measures = false;
    tellmark_compile::meaning::tests(condition, &mut |test| {
        measures |= matches!(test.what, Predicate::Measure { .. });
    });
    measures
}

impl Seen {
    fn note(&mut self, case: &Case<'_, '_>, part: usize, condition: &Condition) {
        tellmark_compile::meaning::tests(condition, &mut |test| match &test.whose {
            Reach::Up(kind) => {
                let owner = case.ground.owner(&case.built.places, part, *kind);
                self.no_owner += usize::from(owner.is_none());
            }
            Reach::Down { .. } => {
                let parts = case.meant(part, &test.whose);
                self.no_parts += usize::from(parts.is_empty());
            }
            Reach::Others { .. } => {
                self.others += usize::from(!case.meant(part, &test.whose).is_empty());
            }
            Reach::Own => {
                if let Predicate::Has { part: kind, .. } = test.what {
                    let form = Form::HowMany { part: kind.0 };
                    let place = case.ground.parts[part].place;
                    let mut asks = case.pack.asks_of(place);
                    let ask = asks.find(|&ask| case.pack.ask(ask.into()).form == form);
                    let piece = case.inspection.piece();
                    let is_open =
                        |ask| piece.answer(&case.pack, part, ask) == Some(Answer::NotLooked);
                    self.uncounted += usize::from(ask.is_some_and(is_open));
                }
            }
        });
    }
}

fn compare(case: &mut Case<'_, '_>, whole: bool, seen: &mut Seen, name: u64) {
    let rules = case.built.rules(&case.drawn.model);
    let settled = case.inspection.settle().is_ok();
    for (i, (subject, condition)) in case.drawn.conditions.iter().enumerate() {
        let program = case.pack.plan(i).condition;
        for part in 0..case.ground.parts.len() {
            if !case.ground.is_of(&case.built.places, part, *subject) {
                continue;
            }
            seen.note(case, part, condition);
            let core = case.inspection.holds(program, part).expect("a part");
            let claim = case.ground.claim(rules, part, condition);
            let truth = case.truth(&claim);
            let bounds = case.bounds(part, condition);
            let (surely, perhaps) = (case.truth(&bounds.surely), case.truth(&bounds.perhaps));
            let by_hand = case.by_hand(part, condition);
            let about = || format!("case {name}, plan {i}, part {part}: {condition:#?}");
            if let Some(so) = by_hand.filter(|_| whole) {
                seen.so += usize::from(so);
                assert_eq!(core, so.into(), "the core: {}", about());
                assert_eq!(truth, so.into(), "the ground network: {}", about());
                assert_eq!(bounds, Bounds::exactly(Claim::Known(so)), "{}", about());
                if settled {
                    let result = case.built.states.number(case.drawn.results[i]);
                    let chance = case.inspection.chance(part, result).expect("settled");
                    let wanted = f64::from(u8::from(so));
                    assert!((chance.as_f64() - wanted).abs() < 1e-9, "{}", about());
                }
            }
            // What is known of a part of the answers stays so with all of them. The core
            // does not tie the marks of a measure together, so it may know less.
            if core != Truth::NotKnown {
                assert_eq!(surely, core, "surely, {}", about());
                assert_eq!(perhaps, core, "perhaps, {}", about());
                assert_eq!(truth, core, "the ground network, {}", about());
            }
            assert!(surely <= perhaps, "{}", about());
            // What hours need no chance for is no "perhaps" of a plan. (Of a measure only
            // the mark may be known.)
            if let (Claim::Known(so), true) = (&bounds.surely, bounds.surely == bounds.perhaps)
                && !speaks_of_measures(condition)
            {
                assert_eq!(core, Truth::from(*so), "the core, {}", about());
                seen.known += usize::from(!whole);
            }
        }
    }
    if whole {
        seen.whole += 1;
    } else {
        seen.open += 1;
    }
}

#[test]
fn every_form_of_a_condition_means_the_same() {
    let mut seen = Seen::default();
    let (mut cases, mut seed) = (0, 0);
    while cases < CASES {
        seed += 1;
        let mut dice = Dice::new(seed);
        let mut drawn = Drawn::draw(&mut dice);
        drawn.model.jobs.push(job());
        let Ok(built) = build(&drawn.model, &|_| String::new()) else {
            continue;
        };
        let roots: Vec<usize> = (0..built.places.len())
            .filter(|&place| built.places.owner(place).is_none())
            .collect();
        let root = *dice.pick(&roots);
        let pack = built.bytes.open().expect("a fresh pack opens");
        let counts = dice.roll();
        let count = |owner: usize, place: usize| {
            let record = pack.place(place);
            let mut dice = Dice::new(counts ^ ((owner as u64) << 32) ^ place as u64);
            let span = usize::from(record.most - record.least) + 1;
            record.least + u8::try_from(dice.below(span)).expect("few")
        };
        let ground = built.ground(&drawn.model, root, |_, owner, place| count(owner, place));
        let mut room = Room::<f64>::default();
        let inspection = room
            .inspection(pack, root, |_: &[Part], owner, place| count(owner, place))
            .expect("within bounds");
        let mut case = Case {
            drawn: &drawn,
            built: &built,
            ground: &ground,
            pack,
            inspection,
        };
        let whole = dice.chance(60);
        let open = if whole { 0 } else { 30 };
        case.answer(&mut dice, open);
        compare(&mut case, whole, &mut seen, seed);
        cases += 1;
    }
    println!("{seen:?}");
    for came_up in [
        seen.no_owner,
        seen.no_parts,
        seen.others,
        seen.so,
        seen.known,
    ] {
        assert!(came_up > 500, "{seen:?}");
    }
    assert!(seen.uncounted > 200, "{seen:?}");
}

/// One condition about a chest that is set up as is said here.
fn told(condition: Condition, drawers: u8, answers: &[(usize, Answer)]) -> (Truth, Bounds) {
    let mut dice = Dice::new(1);
    let mut drawn = Drawn::draw(&mut dice);
    drawn.model.rules.clear();
    drawn.model.plans.clear();
    drawn.model.jobs.push(job());
    drawn.model.plans.push(Plan {
        subject: CHEST,
        when: condition.clone(),
        job: JobId(0),
        source: None,
        called: None,
        at: Span::default(),
    });
    let built = build(&drawn.model, &|_| String::new()).expect("small");
    let pack = built.bytes.open().expect("a fresh pack opens");
    let root = pack.root_of(CHEST.0).expect("a piece");
    let count = |place: usize| {
        if pack.place(place).kind == DRAWER.0 {
            drawers
        } else {
            0
        }
    };
    let ground = built.ground(&drawn.model, root, |_, _, place| count(place));
    let mut room = Room::<f64>::default();
    let inspection = room
        .inspection(pack, root, |_: &[Part], _, place| count(place))
        .expect("within bounds");
    let mut case = Case {
        drawn: &drawn,
        built: &built,
        ground: &ground,
        pack,
        inspection,
    };
    let worn = drawn.words.iter().find(|w| w.kind == DRAWER).expect("all");
    let row = &built.states.states[built.states.declared(worn.states[0])];
    for &(part, answer) in answers {
        let ask = match answer {
            Answer::Reading(_) => {
                let form = Form::HowMany { part: DRAWER.0 };
                let mut asks = pack.asks_of(root);
                asks.find(|&ask| pack.ask(ask.into()).form == form)
            }
            _ => Some(row.ask),
        };
        let ask = ask.expect("it is asked");
        case.inspection
            .answer(part, ask, answer)
            .expect("it is asked");
    }
    let truth = case
        .inspection
        .holds(pack.plan(0).condition, 0)
        .expect("a part");
    (truth, case.bounds(0, &condition))
}

fn drawers_are_worn(many: HowMany) -> Condition {
    let mut dice = Dice::new(1);
    let drawn = Drawn::draw(&mut dice);
    let worn = drawn.words.iter().find(|w| w.kind == DRAWER).expect("all");
    Condition::Test(Test {
        whose: Reach::Down {
            path: vec![DRAWER],
            many,
            only: None,
        },
        what: Predicate::State {
            state: worn.states[0],
            yes: true,
            sureness: None,
        },
        at: Span::default(),
    })
}

#[test]
fn fewer_than_two_is_not_at_most_two() {
    let known = |so| (Truth::from(so), Bounds::exactly(Claim::Known(so)));
    let answers = |worn: usize| -> Vec<(usize, Answer)> {
        (0..3).map(|i| (i + 1, Answer::Certain(i < worn))).collect()
    };
    for worn in 0..=3 {
        let fewer = told(drawers_are_worn(HowMany::FewerThan(2)), 3, &answers(worn));
        assert_eq!(fewer, known(worn < 2), "{worn} of 3 worn");
        let exactly = told(drawers_are_worn(HowMany::Exactly(2)), 3, &answers(worn));
        assert_eq!(exactly, known(worn == 2), "{worn} of 3 worn");
    }
    // With two worn and one not looked at it is settled; with one worn it is open.
    let two = [(1, Answer::Certain(true)), (2, Answer::Certain(true))];
    assert_eq!(
        told(drawers_are_worn(HowMany::FewerThan(2)), 3, &two),
        known(false)
    );
    let one = [(1, Answer::Certain(true)), (2, Answer::Certain(false))];
    let (truth, bounds) = told(drawers_are_worn(HowMany::FewerThan(2)), 3, &one);
    assert_eq!(truth, Truth::NotKnown);
    assert_eq!(bounds, Bounds::OPEN, "no rule gives a chance for it");
}

#[test]
fn of_no_parts_every_one_is_so() {
    let known = |so| (Truth::from(so), Bounds::exactly(Claim::Known(so)));
    for (many, so) in [
        (HowMany::Every, true),
        (HowMany::No, true),
        (HowMany::FewerThan(1), true),
        (HowMany::Exactly(0), true),
        (HowMany::AtLeast(0), true),
        (HowMany::FewerThan(0), false),
        (HowMany::Any, false),
        (HowMany::The, false),
        (HowMany::AtLeast(1), false),
        (HowMany::Exactly(1), false),
    ] {
        assert_eq!(told(drawers_are_worn(many), 0, &[]), known(so), "{many:?}");
    }
}

#[test]
fn what_nobody_counted_is_not_known() {
    let has_two = Condition::Test(Test {
        whose: Reach::Own,
        what: Predicate::Has {
            part: DRAWER,
            mark: Mark {
                at_least: 2,
                at_most: None,
            },
            yes: true,
        },
        at: Span::default(),
    });
    let (truth, bounds) = told(has_two.clone(), 3, &[]);
    assert_eq!(truth, Truth::NotKnown);
    assert_eq!(bounds, Bounds::OPEN, "no rule gives a chance for it");
    let counted = told(has_two.clone(), 3, &[(0, Answer::Reading(3))]);
    assert_eq!(counted.0, Truth::True);
    assert_eq!(counted.1, Bounds::exactly(Claim::Known(true)));
    let counted = told(has_two, 1, &[(0, Answer::Reading(1))]);
    assert_eq!(counted.0, Truth::False);
    assert_eq!(counted.1, Bounds::exactly(Claim::Known(false)));
}

#[test]
fn of_an_owner_that_is_not_there_nothing_is_true() {
    let mut dice = Dice::new(1);
    let drawn = Drawn::draw(&mut dice);
    let front = drawn.words.iter().find(|w| w.kind == FRONT).expect("all");
    for yes in [true, false] {
        let about_the_front = Condition::Test(Test {
            whose: Reach::Up(FRONT),
            what: Predicate::State {
                state: front.states[0],
                yes,
                sureness: None,
            },
            at: Span::default(),
        });
        let (truth, bounds) = told(about_the_front, 1, &[]);
        assert_eq!(truth, Truth::False);
        assert_eq!(bounds, Bounds::exactly(Claim::Known(false)));
    }
}

#[test]
fn a_ladder_calls_for_each_job_on_its_own_rung() {
    let mut model = Drawn::draw(&mut Dice::new(1)).model;
    let sign = SignId(0);
    model.ladders.push(Ladder {
        when: None,
        sign,
        rungs: vec![(10, None), (20, Some(JobId(0)))],
        more: Some(JobId(1)),
        source: None,
        called: None,
        at: Span::default(),
    });
    model.plans.clear();
    let calls = tellmark_compile::plans::calls(&model);
    let marks: Vec<(JobId, Mark)> = calls
        .iter()
        .map(|call| match &call.when {
            Condition::Test(Test {
                what: Predicate::Measure { mark, .. },
                ..
            }) => (call.job, *mark),
            other => panic!("{other:?}"),
        })
        .collect();
    let mark = |at_least, at_most| Mark { at_least, at_most };
    assert_eq!(
        marks,
        [(JobId(0), mark(11, Some(20))), (JobId(1), mark(21, None))]
    );
    assert_eq!(calls[0].written, calls[1].written);
}
