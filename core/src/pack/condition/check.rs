//! Whether a program can be run: it is whole, it only goes forwards, and it names
//! only what the pack has.

use super::{END, Go, Look, Reader, What, Whose};
use crate::pack::{Form, Pack};

/// Whether a program that starts there, about parts of that kind, is whole,
/// goes only forwards and names only what there is.
pub(in crate::pack) fn is_sound(pack: &Pack<'_>, at: u32, subject: u16) -> bool {
    let words = pack.condition(at);
    let mut reader = Reader { words, at: 0 };
    while reader.words.get(reader.at) != Some(&END) {
        let Some(instruction) = reader.next() else {
            return false;
        };
        let lands = |go: Go| match go {
            Go::To(to) => usize::from(to) >= reader.at && starts_one(words, usize::from(to)),
            Go::Holds | Go::Fails => true,
        };
        if !names_what_there_is(pack, &instruction.look, subject)
            || !lands(instruction.so)
            || !lands(instruction.not)
        {
            return false;
        }
    }
    reader.at > 0
}

/// Whether an instruction starts at that word.
fn starts_one(words: &[u32], at: usize) -> bool {
    let mut reader = Reader { words, at: 0 };
    while reader.at < at && reader.words.get(reader.at) != Some(&END) {
        if reader.next().is_none() {
            return false;
        }
    }
    reader.at == at && words.get(at).is_some_and(|&word| word != END)
}

fn names_what_there_is(pack: &Pack<'_>, look: &Look, subject: u16) -> bool {
    let kind = |k: u16| usize::from(k) < pack.kinds();
    let state = |s: u16| usize::from(s) < pack.states();
    let ask = |a: u16| usize::from(a) < pack.asks();
    let whether = |kind: u16, slot: u16| {
        let kind = pack.kind(usize::from(kind));
        let ask = kind.first_ask.saturating_add(slot);
        slot < kind.asks && pack.ask(usize::from(ask)).form == Form::Whether
    };
    match look {
        Look::Always => true,
        Look::Own(slot, _) => whether(subject, *slot),
        Look::Piece(slot, _) => whether(0, *slot),
        Look::Test(test) => {
            let reach = match &test.whose {
                Whose::Own => true,
                Whose::Owner(k) | Whose::Others { kind: k, .. } => kind(*k),
                Whose::Parts { path, steps, .. } => {
                    path.iter().take(usize::from(*steps)).all(|&k| kind(k))
                }
            };
            let said = match test.what {
                What::State(s) | What::Sure(s, _) => state(s),
                What::Within(a, ..) | What::Values(a, _) => ask(a),
                What::Has(k, ..) => kind(k),
                What::OutOfSight => true,
            };
            reach && said
        }
    }
}
