//! Random rules, pieces and answers, small enough to enumerate.
//!
//! Every kind of condition that the language has can come up: several kinds of
//! part inside one another, any, every, no, numbers, conjunctions, exceptions,
//! choices, measures, counts, and results on the part itself, on its owners and
//! on its parts.

use std::collections::HashSet;

use tellmark_compile::meaning::tests;
use tellmark_language::model::{
    Asks, AtMostOne, Condition, Disturbs, HowMany, HowOften, Kind, KindId, Mark, Means, Member,
    Model, Nature, OnlyIf, PIECE, Placing, Predicate, Reach, Rule, Sense, Sign, SignId, State,
    StateId, Strength, Test, Thousandths, Unit, Verb, WorkedOut, Working,
};
use tellmark_language::span::Span;

use crate::dice::Dice;

const BOX: KindId = KindId(1);
const TRAY: KindId = KindId(2);
const SLIDE: KindId = KindId(3);
const LID: KindId = KindId(4);

fn often(chance: u16) -> HowOften {
    HowOften {
        word: (chance == 1000).then_some(Strength::ByDefinition),
        cases: None,
        chance: Thousandths(chance),
    }
}

fn kind(name: &str, is_piece: bool, members: Vec<Member>) -> Kind {
    Kind {
        name: name.to_owned(),
        plural: format!("{name}s"),
        is_piece,
        members,
        ..Kind::default()
    }
}

fn member(kind: KindId, least: u8, most: u8, usual: u8) -> Member {
    Member {
        kind,
        least,
        most,
        usual,
        names: Vec::new(),
        from: None,
        at: Span::default(),
    }
}

fn sign(kind: KindId, asks: Asks, own: Option<u16>) -> Sign {
    Sign {
        kind,
        sense: Sense::See,
        asks,
        ask: None,
        how: None,
        takes: Some(1),
        slip: Thousandths(10),
        disturbs: Disturbs::Nothing,
        on_its_own: own.map(often),
        usually: None,
        in_order: None,
        worked: None,
        source: None,
        at: Span::default(),
    }
}

/// Random rules over a box with trays (with slides) and a lid.
pub struct RandomRules {
    /// The rules.
    pub model: Model,
    /// States from causes to effects.
    order: Vec<StateId>,
    /// The measure of a slide, if it has one.
    measure: Option<SignId>,
    /// The choice of a lid, if it has one.
    choice: Option<SignId>,
    /// Whether the slides of a tray can be counted.
    counted: bool,
    /// What is judged in degrees, if anything is: of which kind, and the highest degree.
    judged: Option<(SignId, KindId, u8)>,
    /// Whether rules may say where parts stand among their like.
    has_places: bool,
}

impl RandomRules {
    /// Draws some.
    #[must_use]
    pub fn draw(dice: &mut Dice) -> Self {
        let counted = dice.chance(30);
        let slides = if counted { (0, 3) } else { (0, 4) };
        let mut model = Model {
            kinds: vec![
                kind("piece", true, Vec::new()),
                kind(
                    "box",
                    true,
                    vec![member(TRAY, 0, 4, 2), member(LID, 0, 1, 1)],
                ),
                kind("tray", false, vec![member(SLIDE, slides.0, slides.1, 2)]),
                kind("slide", false, Vec::new()),
                kind("lid", false, Vec::new()),
            ],
            ..Model::default()
        };
        let mut rules = Self {
            model: Model::default(),
            order: Vec::new(),
            measure: None,
            choice: None,
            counted,
            judged: None,
            has_places: false,
        };
        if counted {
            let own = 20 + u16::try_from(dice.below(300)).unwrap_or(0);
            model
                .signs
                .push(sign(TRAY, Asks::HowMany(SLIDE), Some(own)));
        }
        if dice.chance(30) {
            rules.choice = Some(SignId(u16::try_from(model.signs.len()).unwrap_or(0)));
            let values = ["one", "two", "three"].map(str::to_owned).to_vec();
            let attribute = "shape".to_owned();
            model
                .signs
                .push(sign(LID, Asks::Which { attribute, values }, None));
        }
        let states = 3 + dice.below(4);
        for i in 0..states {
            let kind = *dice.pick(&[PIECE, BOX, TRAY, TRAY, SLIDE, SLIDE, LID]);
            rules.add_state(&mut model, dice, kind, i);
        }
        if dice.chance(30) {
            rules.add_measure(&mut model, dice);
        }
        rules.model = model;
        let wanted = 2 + dice.below(6);
        for _ in 0..wanted {
            if let Some(rule) = rules.rule(dice) {
                rules.model.rules.push(rule);
            }
        }
        if dice.chance(30) {
            rules.add_only_if(dice);
        }
        if dice.chance(40) {
            rules.add_at_most_one(dice);
        }
        rules
    }

    /// Two or three states of one kind that nothing reads, so that none of them can lead
    /// to another.
    fn add_at_most_one(&mut self, dice: &mut Dice) {
        let mut read = HashSet::new();
        let of_rules = self.model.rules.iter();
        let of_rules = of_rules.flat_map(|rule| std::iter::once(&rule.when).chain(&rule.unless));
        for condition in of_rules.chain(self.model.only_ifs.iter().map(|only_if| &only_if.when)) {
            tests(condition, &mut |test| {
                if let Predicate::State { state, .. } = test.what {
                    read.insert(state);
                }
            });
        }
        let kind = *dice.pick(&[BOX, TRAY, SLIDE, LID]);
        let may_be = |id: &StateId| {
            let state = &self.model.states[id.index()];
            let is_mark = matches!(state.nature, Nature::CountsAs { .. });
            state.kind == kind && !is_mark && !read.contains(id)
        };
        let mut states: Vec<StateId> = self.order.iter().copied().filter(may_be).collect();
        states.truncate(3);
        if states.len() > 1 {
            self.model.at_most_ones.push(AtMostOne {
                kind,
                states,
                source: None,
                called: None,
                at: Span::default(),
            });
        }
    }

    /// Adds something that is judged in degrees, with rules that conclude and read some
    /// of them, and perhaps something that it can be only if.
    pub fn add_degrees(&mut self, dice: &mut Dice) {
        let kind = *dice.pick(&[BOX, TRAY, SLIDE, LID]);
        let sign_id = SignId(u16::try_from(self.model.signs.len()).unwrap_or(0));
        let highest = 2 + u8::try_from(dice.below(2)).unwrap_or(0);
        let words = ["slightly", "noticeably", "badly"].map(str::to_owned);
        let asks = Asks::Degrees {
            word: "badly".to_owned(),
            phrase: "lifted".to_owned(),
            degrees: words[..usize::from(highest)].to_vec(),
        };
        let own = *dice.pick(&[30, 100, 400]);
        let mut judgement = sign(kind, asks, Some(own));
        judgement.slip = Thousandths(*dice.pick(&[0, 10, 40]));
        self.model.signs.push(judgement);
        let at = dice.below(self.order.len() + 1);
        let first = u16::try_from(self.model.states.len()).unwrap_or(0);
        for degree in 1..=highest {
            self.model.states.push(State {
                kind,
                verb: Verb::Is,
                phrase: format!("lifted by {degree}"),
                also: Vec::new(),
                shared: Vec::new(),
                nature: Nature::CountsAs {
                    sign: sign_id,
                    mark: Mark {
                        at_least: degree.into(),
                        at_most: None,
                    },
                },
                on_its_own: Some(often(own)),
                source: None,
                at: Span::default(),
            });
            // What is so of a higher degree comes before the lower ones in the order.
            self.order
                .insert(at, StateId(first + u16::from(degree) - 1));
        }
        self.judged = Some((sign_id, kind, highest));
        if at > 0 && dice.chance(30) {
            let state = StateId(first);
            let when = self.clause(dice, kind, at);
            self.model.only_ifs.extend(when.map(|when| OnlyIf {
                state,
                when,
                source: None,
                called: None,
                at: Span::default(),
            }));
        }
        for _ in 0..2 + dice.below(3) {
            let rule = self.rule(dice);
            self.model.rules.extend(rule);
        }
    }

    /// Adds rules that speak of where trays and slides stand, and of the others.
    pub fn add_places(&mut self, dice: &mut Dice) {
        for kind in [TRAY, SLIDE] {
            for working in [Working::Number, Working::FromLast] {
                let asks = Asks::HowMuch {
                    word: String::new(),
                    phrase: String::new(),
                    unit: Unit::Percent,
                    least: 1,
                    most: 4,
                    gauge: 0,
                };
                let mut number = sign(kind, asks, Some(500));
                number.worked = Some(WorkedOut {
                    handbook: None,
                    working,
                    of: Vec::new(),
                });
                self.model.signs.push(number);
            }
        }
        self.has_places = true;
        for _ in 0..2 + dice.below(3) {
            let rule = self.rule(dice);
            self.model.rules.extend(rule);
        }
    }

    /// Some numbers of trays or slides.
    fn place(&self, dice: &mut Dice, kind: KindId) -> Placing {
        let signs = (0..).map(SignId).zip(&self.model.signs);
        let signs = signs.filter(|(_, sign)| sign.kind == kind && sign.place().is_some());
        let signs: Vec<(SignId, Option<Working>)> =
            signs.map(|(id, sign)| (id, sign.place())).collect();
        let mut at = Vec::new();
        for _ in 0..=dice.below(2) {
            let &(sign, working) = dice.pick(&signs);
            let most = match working {
                Some(Working::FromLast) => 1,
                _ => 3,
            };
            at.push((sign, 1 + u8::try_from(dice.below(most)).unwrap_or(0)));
        }
        Placing {
            at,
            except: dice.chance(25),
            words: "some".to_owned(),
        }
    }

    /// The same reach, sometimes with only some of the parts, or with the others of a kind.
    fn beside(&self, dice: &mut Dice, subject: KindId, reach: Reach) -> Reach {
        if !self.has_places || dice.chance(30) {
            return reach;
        }
        match reach {
            Reach::Own if subject == TRAY || subject == SLIDE => {
                let many = match self.group(dice, &[subject]) {
                    Reach::Down { many, .. } => many,
                    _ => HowMany::Any,
                };
                Reach::Others { of: subject, many }
            }
            Reach::Down { path, many, .. } if path.last() != Some(&LID) => {
                let kind = path.last().copied().unwrap_or(subject);
                let only = Some(self.place(dice, kind));
                Reach::Down { path, many, only }
            }
            other => other,
        }
    }

    /// A degree of what is judged, if all of it stands before this.
    fn degree(&self, dice: &mut Dice, before: usize) -> Option<(KindId, Predicate)> {
        let (sign, kind, highest) = self.judged?;
        let is_of_it = |state: &StateId| matches!(self.model.states[state.index()].nature, Nature::CountsAs { sign: of, .. } if of == sign);
        if self.order[before..].iter().any(is_of_it) || dice.chance(50) {
            return None;
        }
        let at_least = 1 + i32::try_from(dice.below(usize::from(highest))).unwrap_or(0);
        let is_highest = at_least == i32::from(highest);
        let at_most = (!is_highest && dice.chance(50)).then_some(at_least);
        let mark = Mark { at_least, at_most };
        let yes = at_most.is_some() || dice.chance(60);
        Some((kind, Predicate::Measure { sign, mark, yes }))
    }

    /// A state that can be only if something before it is so.
    fn add_only_if(&mut self, dice: &mut Dice) {
        let target = 1 + dice.below(self.order.len().max(2) - 1);
        let Some(&state) = self.order.get(target) else {
            return;
        };
        let record = &self.model.states[state.index()];
        if matches!(record.nature, Nature::CountsAs { .. }) || record.kind == PIECE {
            return;
        }
        let kind = record.kind;
        if let Some(when) = self.clause(dice, kind, target) {
            self.model.only_ifs.push(OnlyIf {
                state,
                when,
                source: None,
                called: None,
                at: Span::default(),
            });
        }
    }

    fn add_state(&mut self, model: &mut Model, dice: &mut Dice, kind: KindId, i: usize) {
        let id = StateId(u16::try_from(model.states.len()).unwrap_or(0));
        let hidden = dice.chance(40);
        let nature = if hidden {
            Nature::Hidden { missed: None }
        } else {
            let sign_id = SignId(u16::try_from(model.signs.len()).unwrap_or(0));
            model.signs.push(sign(kind, Asks::Whether(id), None));
            Nature::Seen(sign_id)
        };
        let own = *dice.pick(&[0, 3, 30, 100, 300, 600]);
        model.states.push(State {
            kind,
            verb: Verb::Is,
            phrase: format!("s{i}"),
            also: Vec::new(),
            shared: Vec::new(),
            nature,
            on_its_own: Some(often(own)),
            source: None,
            at: Span::default(),
        });
        self.order.push(id);
    }

    /// A measure on a slide, with states that count as passing one mark or two, and
    /// perhaps one that stands between marks.
    fn add_measure(&mut self, model: &mut Model, dice: &mut Dice) {
        let measure = SignId(u16::try_from(model.signs.len()).unwrap_or(0));
        let asks = Asks::HowMuch {
            word: "much".to_owned(),
            phrase: "worn".to_owned(),
            unit: Unit::Mm,
            least: 0,
            most: 100,
            gauge: *dice.pick(&[0, 0, 8, 20]),
        };
        model.signs.push(sign(SLIDE, asks, Some(150)));
        self.measure = Some(measure);
        let at = dice.below(self.order.len() + 1);
        // What passes one passes the next, so that is before it in the order.
        let marks = if dice.chance(50) {
            [
                (70, None, 50),
                (40, None, 120),
                (25, None, 140),
                (45, Some(60), 0),
            ]
        } else {
            [
                (0, Some(30), 50),
                (0, Some(60), 120),
                (0, Some(75), 140),
                (45, Some(70), 0),
            ]
        };
        for (i, (at_least, at_most, own)) in marks.into_iter().enumerate() {
            if i > 0 && dice.chance(60) {
                continue;
            }
            let mark = Mark { at_least, at_most };
            let id = StateId(u16::try_from(model.states.len()).unwrap_or(0));
            model.states.push(State {
                kind: SLIDE,
                verb: Verb::Is,
                phrase: format!("worn by {at_least} {at_most:?}"),
                also: Vec::new(),
                shared: Vec::new(),
                nature: Nature::CountsAs {
                    sign: measure,
                    mark,
                },
                on_its_own: (own > 0).then(|| often(own)),
                source: None,
                at: Span::default(),
            });
            self.order.insert(at + i.min(self.order.len() - at), id);
        }
    }

    /// Whether it follows from marks on both sides, so that no rule concludes it.
    fn is_between(&self, state: StateId) -> bool {
        let nature = &self.model.states[state.index()].nature;
        matches!(nature, Nature::CountsAs { mark, .. } if mark.at_most.is_some() && mark.at_least > 0)
    }

    /// A random reason for a random state, from states before it in the order.
    fn rule(&self, dice: &mut Dice) -> Option<Rule> {
        let target = 1 + dice.below(self.order.len().max(2) - 1);
        let state = *self.order.get(target)?;
        if self.is_between(state) {
            return None;
        }
        let kind = self.model.states[state.index()].kind;
        let subject = *dice.pick(&[BOX, TRAY, SLIDE, LID]);
        let result = self.result(subject, kind)?;
        let result = match self.beside(dice, subject, result) {
            Reach::Others { of, .. } => Reach::Others {
                of,
                many: HowMany::Every,
            },
            result => result,
        };
        let strength = *dice.pick(&[100, 300, 600, 800, 990, 1000]);
        let mut parts = Vec::new();
        for _ in 0..=dice.below(3) {
            parts.push(self.clause(dice, subject, target)?);
        }
        let when = match parts.len() {
            1 => parts.remove(0),
            several if dice.chance(25) => {
                let enough = u8::try_from(1 + dice.below(several)).unwrap_or(1);
                Condition::AtLeast(enough, parts)
            }
            _ if dice.chance(60) => Condition::All(parts),
            _ => Condition::Any(parts),
        };
        let unless = if dice.chance(30) {
            self.clause(dice, subject, target)
        } else {
            None
        };
        let or = self.alternatives(dice, target);
        Some(Rule {
            subject,
            when,
            unless,
            result,
            state,
            or,
            strength: often(strength),
            source: None,
            called: None,
            at: Span::default(),
        })
    }

    /// Now and then, other states of the same kind that stand later in the order.
    fn alternatives(&self, dice: &mut Dice, target: usize) -> Vec<StateId> {
        if !dice.chance(25) {
            return Vec::new();
        }
        let kind = |id: &StateId| self.model.states[id.index()].kind;
        let is_mark = |id: &StateId| {
            let nature = &self.model.states[id.index()].nature;
            matches!(nature, Nature::CountsAs { .. })
        };
        let (first, later) = (self.order[target], &self.order[target + 1..]);
        let others = later.iter().copied();
        let others = others.filter(|id| kind(id) == kind(&first) && !is_mark(id));
        others.take(1 + dice.below(2)).collect()
    }

    fn result(&self, subject: KindId, kind: KindId) -> Option<Reach> {
        let down = |path: &[KindId]| Some(Reach::down(path.to_vec(), HowMany::Every));
        match (subject, kind) {
            (a, b) if a == b => Some(Reach::Own),
            (BOX, PIECE) => Some(Reach::Own),
            (_, PIECE | BOX) => Some(Reach::Up(kind)),
            (BOX, TRAY) => down(&[TRAY]),
            (BOX, SLIDE) => down(&[TRAY, SLIDE]),
            (BOX, LID) => down(&[LID]),
            (TRAY, SLIDE) => down(&[SLIDE]),
            (SLIDE, TRAY) => Some(Reach::Up(TRAY)),
            _ => None,
        }
    }

    fn clause(&self, dice: &mut Dice, subject: KindId, before: usize) -> Option<Condition> {
        let (kind, what) = self.predicate(dice, before);
        if self.has_places && (subject == TRAY || subject == SLIDE) && dice.chance(20) {
            let what = Predicate::Placed {
                place: self.place(dice, subject),
                yes: dice.chance(70),
            };
            return Some(Condition::Test(Test {
                whose: Reach::Own,
                what,
                at: Span::default(),
            }));
        }
        if self.has_places && subject == LID && kind == TRAY {
            let many = match self.group(dice, &[TRAY]) {
                Reach::Down { many, .. } => many,
                _ => HowMany::Any,
            };
            let whose = Reach::Others { of: TRAY, many };
            let at = Span::default();
            return Some(Condition::Test(Test { whose, what, at }));
        }
        let whose = match (subject, kind) {
            (a, b) if a == b => Reach::Own,
            (BOX, PIECE) => Reach::Own,
            (_, PIECE | BOX) => Reach::Up(kind),
            (BOX, TRAY) => self.group(dice, &[TRAY]),
            (BOX, SLIDE) => self.group(dice, &[TRAY, SLIDE]),
            (BOX, LID) => Reach::down(vec![LID], HowMany::The),
            (TRAY, SLIDE) => self.group(dice, &[SLIDE]),
            (SLIDE, TRAY) => Reach::Up(TRAY),
            _ => return None,
        };
        let whose = self.beside(dice, subject, whose);
        Some(Condition::Test(Test {
            whose,
            what,
            at: Span::default(),
        }))
    }

    fn group(&self, dice: &mut Dice, path: &[KindId]) -> Reach {
        let n = 1 + u8::try_from(dice.below(3)).unwrap_or(0);
        let many = match dice.below(if path.len() == 1 { 6 } else { 3 }) {
            0 => HowMany::Any,
            1 => HowMany::Every,
            2 => HowMany::No,
            3 => HowMany::AtLeast(n),
            4 => HowMany::FewerThan(n),
            _ => HowMany::Exactly(n),
        };
        Reach::down(path.to_vec(), many)
    }

    fn predicate(&self, dice: &mut Dice, before: usize) -> (KindId, Predicate) {
        if let Some(found) = self.degree(dice, before) {
            return found;
        }
        let yes = dice.chance(70);
        // The marks of the measure stand where its named states do.
        let is_mark = |s: &StateId| {
            let nature = &self.model.states[s.index()].nature;
            matches!(nature, Nature::CountsAs { .. })
        };
        let measure_is_before = !self.order[before..].iter().any(is_mark);
        if let (Some(sign), true, true) = (self.measure, measure_is_before, dice.chance(50)) {
            let at_least = *dice.pick(&[20, 40, 60]);
            let at_most = dice.chance(30).then_some(at_least + 15);
            let mark = Mark { at_least, at_most };
            return (SLIDE, Predicate::Measure { sign, mark, yes });
        }
        if let (Some(sign), true) = (self.choice, dice.chance(20)) {
            let values = if dice.chance(50) { vec![0] } else { vec![1, 2] };
            return (LID, Predicate::Choice { sign, values, yes });
        }
        if self.counted && dice.chance(20) {
            let at_least = 1 + i32::try_from(dice.below(3)).unwrap_or(0);
            let at_most = dice.chance(30).then_some(at_least);
            let mark = Mark { at_least, at_most };
            let part = SLIDE;
            return (TRAY, Predicate::Has { part, mark, yes });
        }
        let state = *dice.pick(&self.order[..before]);
        let kind = self.model.states[state.index()].kind;
        let sureness = None;
        (
            kind,
            Predicate::State {
                state,
                yes,
                sureness,
            },
        )
    }

    /// Adds a `that means` sentence, from a sign to a hidden state before it.
    pub fn add_means(&mut self, dice: &mut Dice) -> bool {
        let sign_at = 1 + dice.below(self.order.len().max(2) - 1);
        let Some(&sign) = self.order.get(sign_at) else {
            return false;
        };
        let fault = *dice.pick(&self.order[..sign_at]);
        let (Nature::Seen(_) | Nature::CountsAs { .. }, Nature::Hidden { .. }) = (
            &self.model.states[sign.index()].nature,
            &self.model.states[fault.index()].nature,
        ) else {
            return false;
        };
        if self.is_between(sign) {
            return false;
        }
        let subject = match self.model.states[sign.index()].kind {
            PIECE => BOX,
            kind => kind,
        };
        let Some(whose) = self.result(subject, self.model.states[fault.index()].kind) else {
            return false;
        };
        if subject == BOX && self.model.states[sign.index()].kind == PIECE {
            return false;
        }
        self.model.means.push(Means {
            subject,
            sign,
            whose,
            fault,
            strength: often(*dice.pick(&[300, 600, 800])),
            source: None,
            called: None,
            at: Span::default(),
        });
        true
    }
}
