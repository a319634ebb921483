//! Conditions of plans, cautions, steps and datings as programs of a pack.

use std::ops::Range;

use tellmark_core::limits::MAX_DEPTH;
use tellmark_core::pack::condition::{Among, END, Go, Look, Many, Test, What, Whose};
use tellmark_core::pack::{NONE, Trial};

use crate::meaning::{Meaning, Opposite, by_number, meaning};
use crate::numbers::{Number as _, Overflow};
use crate::plans::{Call, holds};
use crate::states::States;
use tellmark_language::model::{
    Condition, KindId, Mark, Model, PIECE, Placing, SignId, StateId, Sureness, Ticks, Working,
};

/// A program that always holds.
pub fn always() -> Result<Vec<u32>, Overflow> {
    written(&[(Look::Always, Next::Holds, Next::Fails)])
}

/// The program of a condition.
///
/// # Errors
/// [`Overflow`] if it is longer than a jump can reach.
pub fn program(
    model: &Model,
    states: &States,
    condition: &Condition,
) -> Result<Vec<u32>, Overflow> {
    let code = meaning(&mut Programs { model, states }, &Whose::Own, condition);
    of_code(states, &code)
}

/// The program of when a call holds.
///
/// # Errors
/// As [`program`].
pub fn program_of_call(model: &Model, states: &States, call: &Call) -> Result<Vec<u32>, Overflow> {
    let code = holds(&mut Programs { model, states }, &Whose::Own, call);
    of_code(states, &code)
}

fn of_code(states: &States, code: &Code) -> Result<Vec<u32>, Overflow> {
    let mut looks = Vec::new();
    put(code, Next::Holds, Next::Fails, &mut |look, so, not| {
        looks.push((quick(states, look), so, not));
    });
    written(&looks)
}

/// The form of conditions that the core works out on a piece. Which parts a test is
/// about stays in symbols; the core looks for them, and counts them.
struct Programs<'m> {
    model: &'m Model,
    states: &'m States,
}

/// A condition, its tests as the core has them.
enum Code {
    Known(bool),
    Test(Test),
    All(Vec<Code>),
    Any(Vec<Code>),
    AtLeast(usize, Vec<Code>),
    /// The subject has no owner of this kind.
    Without(u16),
}

/// A group of parts, as the core finds it.
enum Group {
    /// Down some kinds: how many of these count, and which parts of the last.
    Down {
        path: [u16; MAX_DEPTH],
        steps: u8,
        among: Among,
    },
    /// Some of the last kind are meant, and there are none such.
    None,
    /// The others of this kind that the subject's owner has.
    Others(u16),
}

impl Programs<'_> {
    fn test(whose: &Whose, what: What) -> Code {
        Code::Test(Test {
            whose: *whose,
            what,
            yes: true,
        })
    }

    /// The part that stands there among its like.
    fn one_of(&self, (sign, number): (SignId, u8)) -> Option<Among> {
        match self.model.signs[sign.index()].place()? {
            Working::FromLast => Some(Among::LAST).filter(|_| number == 1),
            _ => Among::number(number),
        }
    }

    /// The subject has an owner of this kind.
    fn has_owner(kind: u16) -> Code {
        let in_sight = |yes| {
            Code::Test(Test {
                whose: Whose::Owner(kind),
                what: What::OutOfSight,
                yes,
            })
        };
        Code::Any(vec![in_sight(true), in_sight(false)])
    }
}

impl Meaning for Programs<'_> {
    type Part = Whose;
    type Group = Group;
    type Value = Code;

    fn known(&mut self, so: bool) -> Code {
        Code::Known(so)
    }

    fn is_not(&mut self, value: Code) -> Code {
        match value {
            Code::Known(so) => Code::Known(!so),
            Code::Test(test) => Code::Test(Test {
                yes: !test.yes,
                ..test
            }),
            Code::All(codes) => Code::Any(codes.into_iter().map(|c| self.is_not(c)).collect()),
            Code::Any(codes) => Code::All(codes.into_iter().map(|c| self.is_not(c)).collect()),
            Code::AtLeast(n, codes) => {
                // One more is not so than may be.
                let n = codes.len() + 1 - n;
                Code::AtLeast(n, codes.into_iter().map(|c| self.is_not(c)).collect())
            }
            Code::Without(kind) => Self::has_owner(kind),
        }
    }

    fn all(&mut self, values: Vec<Code>) -> Code {
        Code::All(values)
    }

    fn any(&mut self, values: Vec<Code>) -> Code {
        Code::Any(values)
    }

    fn at_least_of(&mut self, n: usize, values: Vec<Code>) -> Code {
        Code::AtLeast(n, values)
    }

    /// The core looks whether there is one.
    fn owner(&mut self, _: &Whose, kind: KindId) -> Option<Whose> {
        Some(Whose::Owner(kind.0))
    }

    fn group(&mut self, _: &Whose, kinds: &[KindId], only: Option<&Placing>) -> Group {
        let mut path = [NONE; MAX_DEPTH];
        let mut steps = 0;
        for (step, kind) in path.iter_mut().zip(kinds) {
            *step = kind.0;
            steps += 1;
        }
        let Some(only) = only else {
            let among = Among::ALL;
            return Group::Down { path, steps, among };
        };
        let each = only.at.iter().filter_map(|&at| self.one_of(at));
        match each.reduce(Among::and) {
            Some(among) => {
                let among = if only.except { among.others() } else { among };
                Group::Down { path, steps, among }
            }
            None if only.except => {
                let among = Among::ALL;
                Group::Down { path, steps, among }
            }
            None => Group::None,
        }
    }

    fn others(&mut self, _: &Whose, kind: KindId) -> Group {
        Group::Others(kind.0)
    }

    fn quantified(
        &mut self,
        many: Many,
        group: &Group,
        is_so: &dyn Fn(&mut Self, &Whose) -> Code,
    ) -> Code {
        let whose = match *group {
            Group::Down { path, steps, among } => Whose::Parts {
                path,
                steps,
                many,
                among,
            },
            Group::Others(kind) => Whose::Others { kind, many },
            Group::None => {
                let of_none = match many {
                    Many::Every => true,
                    Many::AtLeast(n) | Many::Exactly(n) => n == 0,
                    Many::FewerThan(n) => n > 0,
                };
                return Code::Known(of_none);
            }
        };
        is_so(self, &whose)
    }

    fn state(&mut self, whose: &Whose, state: StateId, sureness: Option<Sureness>) -> Code {
        let state = self.states.number(state);
        let what = match sureness {
            Some(sureness) => What::Sure(state, u16::from(sureness.percent()) * 10),
            None => What::State(state),
        };
        Self::test(whose, what)
    }

    fn measure(&mut self, whose: &Whose, sign: SignId, mark: Mark) -> Code {
        let most = mark.at_most.unwrap_or(Ticks::MAX);
        let ask = self.states.ask(sign);
        Self::test(whose, What::Within(ask, mark.at_least, most))
    }

    fn choice(&mut self, whose: &Whose, sign: SignId, values: &[u8]) -> Code {
        let bit = |&value: &u8| 1_u32.checked_shl(value.into()).unwrap_or_default();
        let bits = values.iter().map(bit).fold(0, |bits, bit| bits | bit);
        Self::test(whose, What::Values(self.states.ask(sign), bits))
    }

    fn has(&mut self, whose: &Whose, kind: KindId, mark: Mark) -> Code {
        let most = mark.at_most.unwrap_or(Ticks::MAX);
        Self::test(whose, What::Has(kind.0, mark.at_least, most))
    }

    fn placed(&mut self, whose: &Whose, place: &Placing) -> Code {
        by_number(self, whose, place)
    }

    fn cannot_be_seen(&mut self, whose: &Whose) -> Code {
        Self::test(whose, What::OutOfSight)
    }
}

impl Opposite for Programs<'_> {
    /// Of what the subject is not built into, nothing is true; so the opposite of a test of
    /// it holds there. The opposite of a test of parts counts them the other way.
    fn not(&mut self, value: Code) -> Code {
        match value {
            Code::All(codes) => Code::Any(codes.into_iter().map(|c| self.not(c)).collect()),
            Code::Any(codes) => Code::All(codes.into_iter().map(|c| self.not(c)).collect()),
            Code::AtLeast(n, codes) => {
                let n = codes.len() + 1 - n;
                Code::AtLeast(n, codes.into_iter().map(|c| self.not(c)).collect())
            }
            Code::Test(test) => not_of(test),
            known => self.is_not(known),
        }
    }
}

fn not_of(test: Test) -> Code {
    let is_not = Code::Test(Test {
        yes: !test.yes,
        ..test
    });
    let many = match test.whose {
        Whose::Own => return is_not,
        Whose::Owner(kind) if kind == PIECE.0 => return is_not,
        Whose::Owner(kind) => return Code::Any(vec![Code::Without(kind), is_not]),
        Whose::Parts { many, .. } | Whose::Others { many, .. } => many,
    };
    let counted = |now: Many, yes: bool| {
        let mut whose = test.whose;
        if let Whose::Parts { many, .. } | Whose::Others { many, .. } = &mut whose {
            *many = now;
        }
        Code::Test(Test { whose, yes, ..test })
    };
    match many {
        Many::AtLeast(n) => counted(Many::FewerThan(n), test.yes),
        Many::FewerThan(n) => counted(Many::AtLeast(n), test.yes),
        Many::Every => counted(Many::AtLeast(1), !test.yes),
        Many::Exactly(n) => {
            let fewer = counted(Many::FewerThan(n), test.yes);
            let more = n.checked_add(1);
            let more = more.map(|more| counted(Many::AtLeast(more), test.yes));
            Code::Any(std::iter::once(fewer).chain(more).collect())
        }
    }
}

/// Where to go on after a look.
#[derive(Clone, Copy)]
enum Next {
    /// At the look with this number.
    Look(usize),
    Holds,
    Fails,
}

/// How many looks a condition takes.
fn looks_of(code: &Code) -> usize {
    match code {
        Code::All(codes) | Code::Any(codes) if !codes.is_empty() => {
            codes.iter().map(looks_of).sum()
        }
        Code::AtLeast(n, codes) => {
            let counts = |(i, code)| looks_of(code) * counts_before(*n, codes.len(), i).len();
            codes.iter().enumerate().map(counts).sum()
        }
        Code::Without(_) => 2,
        _ => 1,
    }
}

/// Writes the looks of a condition one after the other, each with where to go on.
fn put(code: &Code, so: Next, not: Next, each: &mut impl FnMut(Look, Next, Next)) {
    let mut at = 0;
    put_from(code, so, not, &mut at, &mut |look, so, not| {
        each(look, so, not)
    });
}

fn put_from(
    code: &Code,
    so: Next,
    not: Next,
    at: &mut usize,
    each: &mut dyn FnMut(Look, Next, Next),
) {
    let mut one = |look, so, not| {
        *at += 1;
        each(look, so, not);
    };
    let (all, codes) = match code {
        Code::Test(test) => return one(Look::Test(*test), so, not),
        Code::Known(true) => return one(Look::Always, so, not),
        Code::Known(false) => return one(Look::Always, not, not),
        Code::AtLeast(n, codes) => return put_counted(*n, codes, so, not, at, each),
        Code::Without(kind) => {
            // Whether an owner can be seen is always known; of one that is not there,
            // neither way of putting it holds.
            let owner = Programs::has_owner(*kind);
            return put_from(&owner, not, so, at, each);
        }
        Code::All(codes) => (true, codes),
        Code::Any(codes) => (false, codes),
    };
    let Some((last, others)) = codes.split_last() else {
        // All of nothing holds; any of nothing does not.
        return one(Look::Always, if all { so } else { not }, not);
    };
    for code in others {
        let next = Next::Look(*at + looks_of(code));
        let (so, not) = if all { (next, not) } else { (so, next) };
        put_from(code, so, not, at, each);
    }
    put_from(last, so, not, at, each);
}

/// How many of the first `i` of so many codes may have been so, where it is not settled yet
/// whether `n` of all are.
fn counts_before(n: usize, all: usize, i: usize) -> Range<usize> {
    (n + i).saturating_sub(all)..n.min(i + 1)
}

/// The codes one after the other, each once for every number of those before it that may
/// have been so.
fn put_counted(
    n: usize,
    codes: &[Code],
    so: Next,
    not: Next,
    at: &mut usize,
    each: &mut dyn FnMut(Look, Next, Next),
) {
    for (i, code) in codes.iter().enumerate() {
        let here = counts_before(n, codes.len(), i);
        let below = counts_before(n, codes.len(), i + 1);
        let size = looks_of(code);
        let next_row = *at + size * here.len();
        let size_below = codes.get(i + 1).map_or(0, looks_of);
        let go = |count: usize| {
            if count >= n {
                so
            } else if below.contains(&count) {
                Next::Look(next_row + size_below * (count - below.start))
            } else {
                not
            }
        };
        for count in here {
            put_from(code, go(count + 1), go(count), at, each);
        }
    }
}

fn written(looks: &[(Look, Next, Next)]) -> Result<Vec<u32>, Overflow> {
    let starts: Vec<usize> = looks
        .iter()
        .scan(0, |at, (look, ..)| {
            let start = *at;
            *at += look.length();
            Some(start)
        })
        .collect();
    let go = |next: Next| -> Result<Go, Overflow> {
        Ok(match next {
            Next::Look(i) => Go::To(starts[i].half()?),
            Next::Holds => Go::Holds,
            Next::Fails => Go::Fails,
        })
    };
    let mut words = Vec::new();
    for (look, so, not) in looks {
        words.extend_from_slice(&look.words(go(*so)?, go(*not)?));
    }
    words.push(END);
    Ok(words)
}

/// The quick way to a test of what was answered to a yes/no ask of the subject or of
/// the piece; else the test as it stands.
fn quick(states: &States, look: Look) -> Look {
    let Look::Test(test) = look else { return look };
    let What::State(state) = test.what else {
        return look;
    };
    let row = &states.states[usize::from(state)];
    let slot = usize::from(row.ask) - states.asks_of_kind[row.kind.index()].start;
    let is_answer = row.trial == Trial::Yes && row.whether.is_none();
    let (true, Ok(slot)) = (is_answer, slot.half()) else {
        return look;
    };
    match test.whose {
        // "Its chest" is the piece only where the piece is a chest.
        Whose::Owner(kind) if kind != PIECE.0 => look,
        Whose::Own | Whose::Owner(_) if row.kind == PIECE => Look::Piece(slot, test.yes),
        Whose::Own => Look::Own(slot, test.yes),
        _ => look,
    }
}
