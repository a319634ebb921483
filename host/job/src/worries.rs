//! Whether what was found is as it should be, and how it was found out.

use std::collections::BTreeSet;
use tellmark_language::model::{
    Asks, Condition, Fact, Found, KindId, Model, Nature, PartRef, Predicate, Reach, Sense, SignId,
    StateId, Sure, Than, Ticks,
};
use tellmark_language::span::Span;

/// The states and measures that matter to the rules: causes of a fault, signs of one, and
/// whatever calls for a job. The rest (how a dovetail is cut) only describes.
pub struct Worries {
    states: BTreeSet<(StateId, bool)>,
    /// What only says how a part is made: where something can be at all, or how old it is.
    describing: BTreeSet<(StateId, bool)>,
    marks: Vec<(SignId, Ticks, Ticks)>,
    /// What a job puts right.
    mended: BTreeSet<StateId>,
    /// Parts of which something is said by how many there are.
    counted: BTreeSet<KindId>,
}

impl Worries {
    /// What matters to these rules.
    #[must_use]
    pub fn of(model: &Model) -> Worries {
        let mut worries = Worries {
            states: BTreeSet::new(),
            describing: BTreeSet::new(),
            marks: Vec::new(),
            mended: BTreeSet::new(),
            counted: BTreeSet::new(),
        };
        worries.describe(model);
        for rule in &model.rules {
            worries.read(&rule.when);
            worries
                .states
                .extend(rule.results().map(|state| (state, true)));
        }
        for means in &model.means {
            worries.states.insert((means.sign, true));
        }
        for together in &model.togethers {
            let signs = together.signs.iter().map(|&sign| (sign, true));
            worries.states.extend(signs);
        }
        for plan in &model.plans {
            worries.read(&plan.when);
        }
        for job in &model.jobs {
            worries.states.extend(job.mends.iter().map(|s| (*s, true)));
            worries.mended.extend(&job.mends);
        }
        for ladder in &model.ladders {
            let mut from = Ticks::MIN;
            for (to, job) in &ladder.rungs {
                if job.is_some() {
                    worries.marks.push((ladder.sign, from, *to));
                }
                from = to.saturating_add(1);
            }
            if ladder.more.is_some() {
                worries.marks.push((ladder.sign, from, Ticks::MAX));
            }
        }
        for state in &model.states {
            if let Nature::CountsAs { sign, mark } = state.nature {
                let to = mark.at_most.unwrap_or(Ticks::MAX);
                worries.marks.push((sign, mark.at_least, to));
            }
        }
        worries
    }

    /// What "can be … only if" and the sentences about years read.
    fn describe(&mut self, model: &Model) {
        let only_ifs = model.only_ifs.iter().map(|only_if| &only_if.when);
        let datings = model
            .datings
            .iter()
            .filter_map(|dating| dating.when.as_ref());
        let relatives = model
            .relatives
            .iter()
            .filter_map(|relative| relative.when.as_ref());
        let mut read = Worries {
            states: BTreeSet::new(),
            describing: BTreeSet::new(),
            marks: Vec::new(),
            mended: BTreeSet::new(),
            counted: BTreeSet::new(),
        };
        for condition in only_ifs.chain(datings).chain(relatives) {
            read.read(condition);
        }
        self.describing = read.states;
    }

    fn read(&mut self, condition: &Condition) {
        match condition {
            Condition::All(all) | Condition::Any(all) | Condition::AtLeast(_, all) => {
                for condition in all {
                    self.read(condition);
                }
            }
            Condition::Test(test) => match test.what {
                Predicate::State { state, yes, .. } => {
                    let none = matches!(
                        test.whose,
                        Reach::Down {
                            many: tellmark_language::model::HowMany::No,
                            ..
                        }
                    );
                    self.states.insert((state, yes != none));
                }
                Predicate::Measure {
                    sign,
                    mark,
                    yes: true,
                } => {
                    let to = mark.at_most.unwrap_or(Ticks::MAX);
                    self.marks.push((sign, mark.at_least, to));
                }
                Predicate::Has { part, .. } => {
                    self.counted.insert(part);
                }
                _ => {}
            },
        }
    }

    /// Whether a finding is not as it should be. Where the house does not say what should
    /// be (`In order:`), a yes and a degree are something found, unless they only say how
    /// the part is made; a no is in order unless a rule reads it as a reason.
    #[must_use]
    pub fn is_one(&self, model: &Model, fact: &Fact) -> bool {
        if sense(model, fact) == Some(Sense::Ask) {
            // How a piece is kept is nothing found on it; that its key is lost is.
            return match fact.found {
                Found::State { state, yes, .. } => yes && self.mended.contains(&state),
                _ => false,
            };
        }
        if let Some(in_order) = said_in_order(model, &fact.found) {
            return !in_order;
        }
        match fact.found {
            Found::State { state, yes, .. } => {
                let is_read = self.states.contains(&(state, yes));
                is_read || (yes && !self.describing.contains(&(state, yes)))
            }
            Found::Measure { sign, ticks } => self
                .marks
                .iter()
                .any(|&(of, from, to)| of == sign && (from..=to).contains(&ticks)),
            Found::Degree { degree, than, .. } => match than {
                Than::Just | Than::AtLeast => degree > 0,
                Than::LessThan => false,
            },
            Found::Count { part, number: 0 } => self.is_missed(model, fact, part),
            _ => false,
        }
    }

    /// Whether it is something found that there are none of these parts: where there usually are
    /// some, where a sentence reads it, or where nobody is asked to count them, so that somebody
    /// missed them.
    fn is_missed(&self, model: &Model, fact: &Fact, part: KindId) -> bool {
        let is_owner = |kind: KindId| match fact.part.steps.first() {
            Some(step) => model.is_kind_of(kind, step.kind) || model.is_kind_of(step.kind, kind),
            None => model
                .kinds
                .get(kind.index())
                .is_some_and(|kind| kind.is_piece),
        };
        let kinds = (0_u16..).map(KindId).zip(&model.kinds);
        let owners = kinds.filter(|(kind, _)| is_owner(*kind));
        let mut members = owners.flat_map(|(_, kind)| &kind.members);
        let is_usual = members.any(|member| member.kind == part && member.usual > 0);
        let mut signs = model.signs.iter();
        let is_asked = signs.any(|sign| matches!(sign.asks, Asks::HowMany(of) if of == part));
        is_usual || self.counted.contains(&part) || !is_asked
    }

    /// What is found of a part if it is as it should be in this; `None` where that is no
    /// question of order: how it is made, which wood it is.
    #[must_use]
    pub fn as_it_should_be(
        &self,
        model: &Model,
        sign: SignId,
        part: &PartRef,
        sure: Sure,
    ) -> Option<Fact> {
        let fact = |found: Found| Fact {
            part: part.clone(),
            found,
            at: Span::default(),
        };
        match model.signs.get(sign.index())?.asks {
            Asks::Whether(state) => {
                let answer = |yes: bool| fact(Found::State { state, yes, sure });
                let (no, yes) = (answer(false), answer(true));
                match (self.is_one(model, &no), self.is_one(model, &yes)) {
                    (false, true) => Some(no),
                    (true, false) => Some(yes),
                    _ => None,
                }
            }
            Asks::Degrees { .. } => {
                let none = fact(Found::Degree {
                    sign,
                    degree: 0,
                    than: Than::Just,
                    sure,
                });
                (!self.is_one(model, &none)).then_some(none)
            }
            _ => None,
        }
    }
}

/// Whether the house says that this is as it should be; `None` if it does not say.
fn said_in_order(model: &Model, found: &Found) -> Option<bool> {
    let (sign, from, to) = match *found {
        Found::State { state, yes, .. } => match model.states.get(state.index())?.nature {
            Nature::Seen(sign) => (sign, u8::from(yes), u8::from(yes)),
            _ => return None,
        },
        Found::Choice { sign, value } => (sign, value, value),
        Found::Degree {
            sign, degree, than, ..
        } => match than {
            Than::Just => (sign, degree, degree),
            Than::AtLeast => (sign, degree, u8::MAX),
            Than::LessThan => (sign, 0, degree.saturating_sub(1)),
        },
        _ => return None,
    };
    let sign = model.signs.get(sign.index())?;
    let in_order = sign.in_order.as_ref()?;
    let to = match &sign.asks {
        Asks::Degrees { degrees, .. } => to.min(u8::try_from(degrees.len()).ok()?),
        _ => to,
    };
    Some((from..=to).all(|answer| in_order.contains(&answer)))
}

/// How a fact was found out; `None` for a hidden fault that was opened up.
#[must_use]
pub fn sense(model: &Model, fact: &Fact) -> Option<Sense> {
    let of = |sign: SignId| model.signs.get(sign.index()).map(|s| s.sense);
    match fact.found {
        Found::State { state, .. } | Found::NotOpened(state) => {
            match model.states.get(state.index())?.nature {
                Nature::Seen(sign) => of(sign),
                Nature::Hidden { .. } => None,
                Nature::CountsAs { .. } => Some(Sense::See),
            }
        }
        Found::Measure { .. } => Some(Sense::Measure),
        Found::Choice { sign, .. }
        | Found::Degree { sign, .. }
        | Found::SignCannotBeSeen(sign)
        | Found::NotLooked(sign) => of(sign),
        Found::Count { .. } => Some(Sense::Count),
        Found::PartCannotBeSeen | Found::PartCanBeSeen => Some(Sense::See),
    }
}
