//! What a condition means, written down once.
//!
//! Conditions are given several forms: clauses over the variables of places (the
//! belief network), claims about the parts of one piece (the ground network, bench
//! hours), programs of a pack. Each form is a [`Meaning`], an algebra: it says what
//! "and", "not", "a state of a part" and so on are in it. [`meaning`] walks over a
//! condition and asks the algebra, so that the rules below hold in every form:
//!
//! * **A part that is not there.** A clause about an owner that the subject does not
//!   have is false, whichever way it is put: of a table without a front, "its front
//!   is worn" is false, and "its front is not worn" is false too, since there is
//!   nothing that could be unworn. This is known, not unknown. An exception
//!   (`unless`) about it does not apply.
//! * **No parts.** Of none, "every" is true, "no", "fewer than" and "exactly 0" are
//!   true, and "any", "the" and "at least 1" are false.
//! * **The ends of a range.** What is so over the whole range of a measure or a count is
//!   so, and what is so nowhere in it is not, though nobody measured or counted: of up to
//!   3 supports, "has 3" and "has at least 3" are the same, and "has at most 3" is true.
//! * **How many.** Every quantifier comes down to "at least n of these": see
//!   [`by_counting`].
//! * **Where a part stands** among its like is known of every part that there is. A group
//!   of which only some are meant ("its left runners") is a smaller group.
//! * **"Not"** stands at a clause: "is not worn" is the opposite of "is worn" of
//!   the same part, and "every runner is not worn" is said of each runner. The opposite of
//!   a whole condition ([`Opposite`]) holds where the condition does not, so also where
//!   it speaks of an owner that is not there.
//!
//! The core's own reading of a pack's programs ([`tellmark_core::logic`]) has the same
//! rules; `tests/tests/conditions.rs` compares all of them.

use tellmark_core::pack::condition::Many;
use tellmark_language::model::{
    Condition, HowMany, KindId, Mark, Placing, Predicate, Reach, SignId, StateId, Sureness, Test,
    Ticks,
};

/// A form that conditions are given: an algebra over them.
pub trait Meaning: Sized {
    /// Where a clause looks: a part of a piece, or a place.
    type Part;
    /// A group of parts, from a part down some kinds.
    type Group;
    /// What a condition comes to.
    type Value;

    /// True or false, whatever is found.
    fn known(&mut self, so: bool) -> Self::Value;
    /// "Is not": the opposite of what a clause says of a part that is there.
    fn is_not(&mut self, value: Self::Value) -> Self::Value;
    /// Every one of these.
    fn all(&mut self, values: Vec<Self::Value>) -> Self::Value;
    /// At least one of these.
    fn any(&mut self, values: Vec<Self::Value>) -> Self::Value;
    /// At least so many of these, which are not more than there are.
    fn at_least_of(&mut self, n: usize, values: Vec<Self::Value>) -> Self::Value;

    /// The nearest owner of this kind, if there is one.
    fn owner(&mut self, part: &Self::Part, kind: KindId) -> Option<Self::Part>;
    /// The parts down these kinds; of the last kind only some, if it says which.
    fn group(&mut self, part: &Self::Part, path: &[KindId], only: Option<&Placing>) -> Self::Group;
    /// The parts of this kind that the part's owner has, but not the part itself.
    fn others(&mut self, part: &Self::Part, kind: KindId) -> Self::Group;
    /// So many of the group are so, `is_so` giving what is said of one part.
    fn quantified(
        &mut self,
        many: Many,
        group: &Self::Group,
        is_so: &dyn Fn(&mut Self, &Self::Part) -> Self::Value,
    ) -> Self::Value;

    /// A state holds; for a hidden fault, as surely as is asked.
    fn state(
        &mut self,
        part: &Self::Part,
        state: StateId,
        sureness: Option<Sureness>,
    ) -> Self::Value;
    /// A measure passes a mark.
    fn measure(&mut self, part: &Self::Part, sign: SignId, mark: Mark) -> Self::Value;
    /// A choice is one of these values.
    fn choice(&mut self, part: &Self::Part, sign: SignId, values: &[u8]) -> Self::Value;
    /// It has so many parts of a kind.
    fn has(&mut self, part: &Self::Part, kind: KindId, mark: Mark) -> Self::Value;
    /// It stands there among its like.
    fn placed(&mut self, part: &Self::Part, place: &Placing) -> Self::Value;
    /// It cannot be seen.
    fn cannot_be_seen(&mut self, part: &Self::Part) -> Self::Value;
}

/// A form in which every condition has an opposite.
pub trait Opposite: Meaning {
    /// The opposite.
    fn not(&mut self, value: Self::Value) -> Self::Value;
}

/// A form in which parts can be counted. (A pack's programs are none: the core counts.)
pub trait Counting: Opposite {
    /// At least `n` of the group are so.
    fn at_least(
        &mut self,
        n: usize,
        group: &Self::Group,
        is_so: &dyn Fn(&mut Self, &Self::Part) -> Self::Value,
    ) -> Self::Value;
}

/// Every quantifier by "at least n": [`Meaning::quantified`] of forms that can count.
pub fn by_counting<M: Counting>(
    form: &mut M,
    many: Many,
    group: &M::Group,
    is_so: &dyn Fn(&mut M, &M::Part) -> M::Value,
) -> M::Value {
    match many {
        Many::AtLeast(n) => form.at_least(n.into(), group, is_so),
        Many::FewerThan(n) => {
            let enough = form.at_least(n.into(), group, is_so);
            form.not(enough)
        }
        Many::Every => {
            let one_is_not = form.at_least(1, group, &|form, part| {
                let so = is_so(form, part);
                form.not(so)
            });
            form.not(one_is_not)
        }
        Many::Exactly(n) => {
            let enough = form.at_least(n.into(), group, is_so);
            let more = form.at_least(usize::from(n) + 1, group, is_so);
            let no_more = form.not(more);
            form.all(vec![enough, no_more])
        }
    }
}

/// What a condition about a part comes to in this form.
pub fn meaning<M: Meaning>(form: &mut M, part: &M::Part, condition: &Condition) -> M::Value {
    match condition {
        Condition::All(parts) => {
            let values = parts.iter().map(|inner| meaning(form, part, inner));
            let values = values.collect();
            form.all(values)
        }
        Condition::Any(parts) => {
            let values = parts.iter().map(|inner| meaning(form, part, inner));
            let values = values.collect();
            form.any(values)
        }
        Condition::AtLeast(enough, parts) => {
            let values = parts.iter().map(|inner| meaning(form, part, inner));
            let values = values.collect();
            form.at_least_of((*enough).into(), values)
        }
        Condition::Test(test) => of_test(form, part, test),
    }
}

/// What a rule's condition and its exception come to together.
pub fn with_exception<M: Opposite>(
    form: &mut M,
    part: &M::Part,
    when: &Condition,
    unless: Option<&Condition>,
) -> M::Value {
    let when = meaning(form, part, when);
    let Some(unless) = unless else { return when };
    let exception = meaning(form, part, unless);
    let no_exception = form.not(exception);
    form.all(vec![when, no_exception])
}

fn of_test<M: Meaning>(form: &mut M, part: &M::Part, test: &Test) -> M::Value {
    match &test.whose {
        Reach::Own => predicate(form, part, &test.what),
        Reach::Up(kind) => match form.owner(part, *kind) {
            Some(owner) => predicate(form, &owner, &test.what),
            None => form.known(false),
        },
        Reach::Down { path, many, only } => {
            let group = form.group(part, path, only.as_ref());
            form.quantified(normal(*many), &group, &|form, part| {
                predicate(form, part, &test.what)
            })
        }
        Reach::Others { of, many } => {
            let group = form.others(part, *of);
            form.quantified(normal(*many), &group, &|form, part| {
                predicate(form, part, &test.what)
            })
        }
    }
}

/// Whether a part stands there among its like, by what is said of its number.
pub fn by_number<M: Meaning>(form: &mut M, part: &M::Part, place: &Placing) -> M::Value {
    let at = place.at.iter().map(|&(sign, number)| {
        let number = Ticks::from(number);
        let mark = Mark {
            at_least: number,
            at_most: Some(number),
        };
        form.measure(part, sign, mark)
    });
    let at = at.collect();
    let there = form.any(at);
    if place.except {
        form.is_not(there)
    } else {
        there
    }
}

/// The quantifiers of the language, as the four that a pack has.
fn normal(many: HowMany) -> Many {
    match many {
        HowMany::The | HowMany::Any => Many::AtLeast(1),
        HowMany::Every => Many::Every,
        HowMany::No => Many::FewerThan(1),
        HowMany::AtLeast(n) => Many::AtLeast(n),
        HowMany::FewerThan(n) => Many::FewerThan(n),
        HowMany::Exactly(n) => Many::Exactly(n),
    }
}

fn predicate<M: Meaning>(form: &mut M, part: &M::Part, what: &Predicate) -> M::Value {
    let (value, yes) = match what {
        Predicate::State {
            state,
            yes,
            sureness,
        } => (form.state(part, *state, *sureness), *yes),
        Predicate::Measure { sign, mark, yes } => (form.measure(part, *sign, *mark), *yes),
        Predicate::Choice { sign, values, yes } => (form.choice(part, *sign, values), *yes),
        Predicate::Has {
            part: kind,
            mark,
            yes,
        } => (form.has(part, *kind, *mark), *yes),
        Predicate::Placed { place, yes } => (form.placed(part, place), *yes),
        Predicate::CannotBeSeen => (form.cannot_be_seen(part), true),
    };
    if yes { value } else { form.is_not(value) }
}

/// Calls `each` with every test of a condition, for what only lists what a condition
/// speaks of.
pub fn tests<'c>(condition: &'c Condition, each: &mut impl FnMut(&'c Test)) {
    match condition {
        Condition::All(parts) | Condition::Any(parts) | Condition::AtLeast(_, parts) => {
            for part in parts {
                tests(part, each);
            }
        }
        Condition::Test(test) => each(test),
    }
}

/// Whether a quantity lies within a mark.
#[must_use]
pub fn is_within(mark: Mark, quantity: i32) -> bool {
    mark.at_least <= quantity && mark.at_most.is_none_or(|most| quantity <= most)
}
