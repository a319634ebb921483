//! Answers that cannot all be true: the smallest group of them is named, wherever it
//! stands among the others.

use tellmark_compile::check::{Depth, check};
use tellmark_compile::room::Room;
use tellmark_core::number::UFloat;
use tellmark_core::piece::Answer;
use tellmark_language::{SourceFile, read};

/// Three of these signs can clash, and two others; asked for in this order.
fn rules(signs: [&str; 5]) -> String {
    let mut text = String::from(
        "House rules for the bench of clashes, version 1.\n\
         Pieces: stand.\n\
         Source house: our own notes.\n",
    );
    for sign in signs {
        text += &format!(
            "You can see whether a stand is {sign}.  Ask: \"{sign}?\"  On its own: in 1 of 10 cases\n"
        );
    }
    text += "If all of these are true of a stand:\n    \
                 - it is bent\n    \
                 - it is split\n    \
                 then it is by definition weak.\n    \
                 From: house\n\
             If a stand is wet then it is by definition stained.  From: house\n";
    text
}

/// The signs in the group that is named.
fn named(signs: [&'static str; 5]) -> Vec<&'static str> {
    let file = SourceFile {
        name: "clash.rules.txt".to_owned(),
        text: rules(signs),
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
    let place = usize::from(inspection.piece().parts()[0].place);
    let asks: Vec<u16> = pack.asks_of(place).collect();
    for (sign, &ask) in signs.iter().zip(&asks) {
        let yes = !["weak", "stained"].contains(sign);
        let noted = inspection.answer(0, ask, Answer::Certain(yes));
        assert_eq!(noted, Ok(Answer::NotLooked));
    }
    let group = inspection.clash();
    let number = |ask: u16| asks.iter().position(|&a| a == ask).expect("asked");
    let mut signs: Vec<_> = group.iter().map(|given| signs[number(given.ask)]).collect();
    signs.sort_unstable();
    signs
}

#[test]
fn the_smaller_of_two_groups_is_named() {
    for signs in [
        ["wet", "stained", "bent", "split", "weak"],
        ["bent", "split", "weak", "wet", "stained"],
    ] {
        assert_eq!(named(signs), ["stained", "wet"], "asked for as {signs:?}");
    }
}
