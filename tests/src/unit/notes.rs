//! What somebody might note at the bench, at random.

use crate::dice::Dice;
use tellmark_core::pack::{Form, NONE, Pack};
use tellmark_core::piece::{Answer, Eye, Judged, Part, Piece, Than};
use tellmark_core::record::Noted;

/// An inspection: a piece is begun, counted, set up, answered about, finished.
/// Numbers of parts are counted only while it is begun.
#[must_use]
pub fn inspection(pack: &Pack<'_>, dice: &mut Dice, answers: usize) -> Vec<Noted> {
    let roots: Vec<usize> = (0..pack.places())
        .filter(|&place| pack.place(place).owner == NONE)
        .collect();
    let root = *dice.pick(&roots);
    let half = |n: usize| u16::try_from(n).unwrap_or(NONE);
    let mut noted = vec![Noted::Begun {
        root: half(root),
        pack: pack.id(),
    }];
    let mut parts = vec![Part::default(); 1_000];
    let mut room = vec![Answer::NotLooked; 10_000];
    // An owner is counted after all that come before it, so its number stays.
    let mut counts = Vec::new();
    let piece = Piece::set_up(
        pack,
        root,
        |_, owner, place| {
            let record = pack.place(place);
            if dice.chance(60) {
                return record.usual;
            }
            let more = usize::from(record.most - record.least) + 1;
            let number = record.least + u8::try_from(dice.below(more.min(4))).unwrap_or(0);
            counts.push(Noted::Parts {
                owner: half(owner),
                place: half(place),
                number,
            });
            number
        },
        &mut parts,
        &mut room,
    );
    let piece = piece.unwrap();
    noted.append(&mut counts);
    noted.push(Noted::SetUp {
        parts: half(piece.parts().len()),
    });
    for _ in 0..answers {
        let part = dice.below(piece.parts().len());
        noted.push(about(pack, dice, piece.parts()[part], half(part)));
    }
    noted.push(Noted::Finished);
    noted
}

fn about(pack: &Pack<'_>, dice: &mut Dice, record: Part, part: u16) -> Noted {
    let asks: Vec<u16> = pack.asks_of(usize::from(record.place)).collect();
    if asks.is_empty() || dice.chance(8) {
        let out_of_sight = dice.chance(60);
        return Noted::OutOfSight { part, out_of_sight };
    }
    let ask = *dice.pick(&asks);
    let yes = dice.chance(50);
    let answer = match pack.ask(usize::from(ask)).form {
        _ if dice.chance(10) => Answer::CannotSee,
        _ if dice.chance(10) => Answer::NotLooked,
        Form::Whether => *dice.pick(&[Answer::Seen(yes), Answer::Looks(yes), Answer::Certain(yes)]),
        Form::Which { values, .. } => {
            let value = dice.below(usize::from(values));
            Answer::Value(u8::try_from(value).unwrap_or(0))
        }
        Form::Degrees { values, .. } => {
            let degree = u8::try_from(dice.below(usize::from(values))).unwrap_or(0);
            let eye = *dice.pick(&[Eye::Ordinary, Eye::Looks, Eye::Certain]);
            let than = Than::Just;
            Answer::Value(Judged { degree, than, eye }.value())
        }
        Form::HowMuch { most, .. } => {
            let least_step = 4_000;
            let steps = usize::try_from(most / least_step).unwrap_or(0);
            let step = i32::try_from(dice.below(steps + 1)).unwrap_or(0);
            Answer::Reading(step * least_step)
        }
        Form::HowMany { .. } => Answer::CannotSee,
    };
    Noted::Answered { part, ask, answer }
}
