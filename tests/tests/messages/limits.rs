//! What the bench has no room for.

use super::{Case, Edit};
use std::fmt::Write as _;
use tellmark_language::Level;

/// Values of a choice, from "tone 1" on.
fn values(number: usize) -> String {
    let values: Vec<String> = (1..=number).map(|n| format!("tone no{n}")).collect();
    format!(
        "You can see which tone a runner has: {}.",
        values.join(", ")
    )
}

/// A round that asks the same again and again.
fn round(steps: usize) -> String {
    let mut round = "To look over a drop-leaf table:".to_owned();
    for number in 1..=steps {
        let _ = write!(round, "\n    {number}. see whether each fall is sagging");
    }
    round
}

/// Rules about a runner worn more and more, a tenth of a millimetre each.
fn marks(number: usize) -> String {
    let mut rules = String::new();
    for tenths in 1..=number {
        let _ = writeln!(
            rules,
            "If a runner is worn more than 1.{tenths:02} mm then its drawer is sometimes stiff. \
             From: house"
        );
    }
    rules
}

pub const CASES: &[Case] = &[
    Case {
        name: "a gauge that is too coarse",
        number: 145,
        level: Level::Stop,
        edit: Edit::Put(&[(
            "You can measure how much a runner is worn, in mm, from 0 to 15.\n",
            "You can measure how much a runner is worn, in mm, from 0 to 15.\n    Reads to: 1.7 mm\n",
        )]),
        words: "1.7 mm",
        text: "Hand and gauge may be out by 1.638 mm at most, and this is 1.7 mm.",
        help: Some(
            "Read it with a finer gauge, or ask \"which\" with a few values instead of \"how\".",
        ),
    },
    Case {
        name: "a choice of very many values",
        number: 146,
        level: Level::Stop,
        edit: Edit::Made(|| values(34)),
        words: "tone no33",
        text: "This choice has 34 values, and 32 is the most that can be told apart.",
        help: Some("Put values together that lead to the same, or make two signs of it."),
    },
    Case {
        name: "a very long round",
        number: 147,
        level: Level::Stop,
        edit: Edit::Made(|| round(514)),
        words: "513. see whether each fall is sagging",
        text: "This round has more than 512 steps, which is the most that the bench can walk.",
        help: Some("Take some out. What no round asks can still be noted."),
    },
    Case {
        name: "very many marks on one measure",
        number: 148,
        level: Level::Stop,
        edit: Edit::Made(|| marks(40)),
        words: "a runner is worn more than 1.32 mm",
        text: "Rules tell more than 32 marks apart on one measure, how much a runner is worn, which \
               is the most that can be weighed.",
        help: Some("Use one mark where two are nearly the same."),
    },
];

#[test]
fn as_much_as_there_is_room_for_is_read() {
    for more in [values(32), round(512), marks(31)] {
        let reading = super::read(format!("{}{more}\n", super::MILL_LANE));
        let said: Vec<_> = reading.messages.iter().map(|m| &m.text).collect();
        assert!(said.is_empty(), "{said:?}");
    }
}
