//! Two hundred conditions over three hundred facts.

use std::hint::black_box;

use tellmark_compile::room::Room;
use tellmark_core::logic::Judge;
use tellmark_core::number::UFloat;
use tellmark_core::piece::Answer;
use tellmark_core::truth::Truth;
use tellmark_tests::dice::Dice;

use crate::by_hand::{FACTS, RULES, SEPARATE, in_three_values, straight};
use crate::chest::{Rules, written};
use crate::clock::best;
use crate::words::word;

/// Sets of facts, taken in turn, so that no processor learns one by heart.
pub const SETS: usize = 8;

/// Some facts.
pub type Facts = [bool; FACTS];

/// All of the sets.
pub fn facts() -> Vec<Facts> {
    let mut dice = Dice::new(5);
    let mut draw = || std::array::from_fn(|_| dice.chance(50));
    (0..SETS).map(|_| draw()).collect()
}

/// Seconds of one pass over all rules by something that says how many fire for
/// the set of facts with this number.
pub fn pass(mut fired: impl FnMut(usize) -> usize) -> f64 {
    let facts = facts();
    for (set, facts) in facts.iter().enumerate() {
        assert_eq!(fired(set), straight(facts), "set {set}");
    }
    let all = best(|| {
        for set in 0..SETS {
            black_box(fired(set));
        }
    });
    // Eight sets.
    #[allow(clippy::cast_precision_loss)]
    let sets = SETS as f64;
    all / sets
}

/// The rules as a house would write them.
fn sentences() -> String {
    let fact = |n: usize| word("ke", n);
    let mut text = String::from(
        "House rules for the comparison, version 1, British.\nPieces: bench.\n\
         Unless we say otherwise, a sign is there on its own: hardly ever.\n",
    );
    for n in 0..FACTS {
        text += &format!(
            "You can see whether a bench is {0}.\n    Ask: \"Is it {0}?\"  Takes: 1 minute\n",
            fact(n)
        );
    }
    for (i, [a, b, c, d]) in RULES.into_iter().enumerate() {
        text += &format!(
            "When any of these is true of a bench:\n    - all of these are true:\n        - it is {}\n        \
             - it is {}\n    - all of these are true:\n        - it is not {}\n        - it is {}\n    \
             then plan to do {}.\n    Takes: 1 hour  From: house\n",
            fact(a),
            fact(b),
            fact(c),
            fact(d),
            word("jo", i),
        );
    }
    text
}

/// Seconds of a pass of ours.
pub struct Ours {
    /// Every condition judged.
    pub judged: f64,
    /// All plans called for, as a job's triage asks for them.
    pub plans: f64,
}

/// Measures ours, from sentences to what fires.
pub fn ours() -> Ours {
    let rules = Rules::of(vec![written(sentences())]);
    let pack = rules.pack();
    let facts = facts();
    let conditions: Vec<u32> = (0..pack.plans()).map(|p| pack.plan(p).condition).collect();
    assert_eq!(conditions.len(), RULES.len());
    let phrase = |state: usize| pack.text(pack.state(state).phrase);
    let mut rooms: Vec<Room<UFloat>> = (0..SETS).map(|_| Room::default()).collect();
    let mut inspections: Vec<_> = rooms
        .iter_mut()
        .zip(&facts)
        .map(|(room, facts)| {
            let root = pack.root_of(1).expect("a bench is a piece");
            let mut inspection = room
                .inspection(pack, root, |_, _, _| 0)
                .expect("a bench has no parts");
            for (n, &yes) in facts.iter().enumerate() {
                let state = (0..pack.states()).find(|&s| phrase(s) == word("ke", n));
                let ask = pack.state(state.expect("it was declared")).ask;
                inspection
                    .answer(0, ask, Answer::Seen(yes))
                    .expect("it can be answered so");
            }
            inspection
        })
        .collect();
    let judged = pass(|set| {
        let mut nothing = |_, _| None;
        let mut judge = Judge::new(&pack, inspections[set].piece(), &mut nothing);
        conditions
            .iter()
            .filter(|&&condition| judge.holds(condition, 0) == Truth::True)
            .count()
    });
    let plans = pass(|set| {
        let mut fired = 0;
        inspections[set].plans(|call| fired += usize::from(call.truth == Truth::True));
        fired
    });
    Ours { judged, plans }
}

/// Seconds of a pass of the rules written in Rust.
pub struct ByHand {
    /// One expression after another.
    pub straight: f64,
    /// A function for each rule.
    pub separate: f64,
    /// One expression after another, in three values.
    pub three: f64,
}

/// Measures the rules written in Rust.
pub fn by_hand() -> ByHand {
    let facts = facts();
    let in_three: Vec<[Truth; FACTS]> = facts.iter().map(|f| f.map(Truth::from)).collect();
    ByHand {
        straight: pass(|set| straight(black_box(&facts[set]))),
        separate: pass(|set| {
            let facts = black_box(&facts[set]);
            SEPARATE.iter().filter(|rule| rule(facts)).count()
        }),
        three: pass(|set| in_three_values(black_box(&in_three[set]))),
    }
}
