//! Parts counted anew in place: the piece is the one that would have been set up
//! so, and what was answered about parts that are still there stays with them.

use std::collections::BTreeMap;

use tellmark_core::pack::{Form, NONE, Pack};
use tellmark_core::piece::{Answer, Part, Piece, SetUpError};
use tellmark_core::record::Noted;
use tellmark_device::bench::Room;
use tellmark_tests::dice::Dice;
use tellmark_tests::screen::{Bencher, pack};

/// Where a part stands, whatever its index: place and number of it and its owners.
type Way = Vec<(u16, u8)>;

fn way(parts: &[Part], part: usize) -> Way {
    let mut way = Way::new();
    let mut at = part;
    loop {
        way.push((parts[at].place, parts[at].number));
        if parts[at].owner == NONE {
            way.reverse();
            return way;
        }
        at = usize::from(parts[at].owner);
    }
}

/// How many parts of each place each owner has, as the test knows it.
type Counts = BTreeMap<(Way, usize), u8>;

fn answers(pack: &Pack<'_>, piece: &Piece<'_>) -> BTreeMap<(Way, u16), Answer> {
    let of = |(part, ask, answer)| ((way(piece.parts(), part), ask), answer);
    piece.answered(pack).map(of).collect()
}

/// An answer that fits what is asked; which one hardly ever comes again.
fn any_answer(form: Form, dice: &mut Dice) -> Answer {
    let [n, m, ..] = dice.roll().to_le_bytes();
    match form {
        Form::Whether => match n % 3 {
            0 => Answer::Seen(m < 128),
            1 => Answer::Looks(m < 128),
            _ => Answer::Certain(m < 128),
        },
        Form::Which { values, .. } | Form::Degrees { values, .. } => {
            Answer::Value(u8::try_from(u16::from(n) % values).expect("few values"))
        }
        Form::HowMuch { .. } | Form::HowMany { .. } => Answer::Reading(i32::from(n)),
    }
}

#[test]
fn counted_anew_a_piece_is_as_if_set_up_so() {
    let pack = pack();
    let mut dice = Dice::new(11);
    let (mut more, mut fewer, mut refused) = (0, 0, 0);
    for root in (0..pack.places()).filter(|&place| pack.place(place).owner == NONE) {
        let mut room = (vec![Part::default(); 100], vec![Answer::NotLooked; 900]);
        let usual = |_: &[Part], _: usize, place: usize| pack.place(place).usual;
        let mut piece = Piece::set_up(&pack, root, usual, &mut room.0, &mut room.1).expect("room");
        let mut counts = Counts::new();
        for _ in 0..3_000 {
            for _ in 0..5 {
                let part = dice.below(piece.parts().len());
                let asks: Vec<u16> = pack
                    .asks_of(usize::from(piece.parts()[part].place))
                    .collect();
                if !asks.is_empty() {
                    let ask = *dice.pick(&asks);
                    let answer = any_answer(pack.ask(usize::from(ask)).form, &mut dice);
                    let noted = piece.set(&pack, part, ask, answer);
                    noted.expect("the answer fits what is asked");
                }
                let noted = piece.set_out_of_sight(part, dice.chance(30));
                noted.expect("the part is there");
            }
            let owner = dice.below(piece.parts().len());
            let places: Vec<usize> = pack
                .children(usize::from(piece.parts()[owner].place))
                .collect();
            if places.is_empty() {
                continue;
            }
            let place = *dice.pick(&places);
            let record = pack.place(place);
            let spread = usize::from(record.most.min(9) - record.least.min(9)) + 2;
            let number = record.least + u8::try_from(dice.below(spread)).expect("few");

            let (old, noted) = (piece.parts().to_vec(), answers(&pack, &piece));
            let hidden = |parts: &[Part]| -> Vec<Way> {
                let hidden = |&part: &usize| parts[part].out_of_sight;
                let parts_of = (0..parts.len()).filter(hidden);
                parts_of.map(|part| way(parts, part)).collect()
            };
            let hidden_before = hidden(&old);
            let mut moved = Vec::new();
            let had = piece.children_at(owner, place).len();
            let was_at = |from, to| moved.push((from, to));
            if let Err(why) = piece.recount(&pack, owner, place, number, was_at) {
                refused += 1;
                if number > record.most {
                    let place = u16::try_from(place).expect("few places");
                    assert_eq!(why, SetUpError::Count { place, number });
                }
                assert_eq!(piece.parts(), old, "nothing has changed");
                assert_eq!(answers(&pack, &piece), noted);
                continue;
            }
            more += usize::from(usize::from(number) > had);
            fewer += usize::from(usize::from(number) < had);
            let owner_way = way(&old, owner);
            counts.retain(|(way, at), _| {
                let below = way
                    .get(owner_way.len())
                    .filter(|_| way.starts_with(&owner_way));
                let is_gone = below.is_some_and(|&(p, n)| usize::from(p) == place && n > number);
                !is_gone && (way, *at) != (&owner_way, place)
            });
            counts.insert((owner_way, place), number);

            let count = |parts: &[Part], at: usize, place: usize| {
                let known = counts.get(&(way(parts, at), place));
                known.copied().unwrap_or(pack.place(place).usual)
            };
            let mut fresh = (vec![Part::default(); 200], vec![Answer::NotLooked; 2_000]);
            let set_up = Piece::set_up(&pack, root, count, &mut fresh.0, &mut fresh.1);
            let set_up = set_up.expect("room");
            let plain = |parts: &[Part]| -> Vec<Part> {
                let seen = |part: &Part| Part {
                    out_of_sight: false,
                    ..*part
                };
                parts.iter().map(seen).collect()
            };
            assert_eq!(plain(piece.parts()), plain(set_up.parts()));
            let is_there = |way: &Way| (0..piece.parts().len()).any(|p| way_is(&piece, p, way));
            let still: BTreeMap<_, _> = noted
                .into_iter()
                .filter(|((w, _), _)| is_there(w))
                .collect();
            assert_eq!(answers(&pack, &piece), still);
            let still: Vec<_> = hidden_before.into_iter().filter(is_there).collect();
            assert_eq!(hidden(piece.parts()), still);
            assert_eq!(moved.len(), old.len());
            for (from, to) in moved {
                let from = way(&old, from);
                assert_eq!(
                    to.map(|to| way(piece.parts(), to)),
                    is_there(&from).then_some(from)
                );
            }
        }
    }
    assert!(
        more > 100 && fewer > 100 && refused > 20,
        "{more} {fewer} {refused}"
    );
}

fn way_is(piece: &Piece<'_>, part: usize, wanted: &Way) -> bool {
    way(piece.parts(), part) == *wanted
}

/// A caution that was heeded stays heeded on its part, wherever the part stands after
/// others were counted.
#[test]
fn what_was_heeded_stays_heeded_on_its_part() {
    let pack = pack();
    let counts = |part: &Part| {
        let mut asks = pack.asks_of(usize::from(part.place));
        asks.find(|&ask| matches!(pack.ask(usize::from(ask)).form, Form::HowMany { .. }))
    };
    let mut tried = 0;
    for root in (0..pack.places()).filter(|&place| pack.place(place).owner == NONE) {
        let mut room = Room::default();
        let mut bencher = Bencher::new(pack, &mut room);
        let mut play = |noted: Noted| bencher.bench.play(noted).expect("it can be noted");
        let number = |n: usize| u16::try_from(n).expect("few");
        play(Noted::Begun {
            root: number(root),
            pack: pack.id(),
        });
        let laid = bencher.bench.work().parts().to_vec();
        let owner = (0..laid.len()).find(|&part| counts(&laid[part]).is_some());
        let Some(owner) = owner else { continue };
        tried += 1;
        let mut play = |noted: Noted| bencher.bench.play(noted).expect("it can be noted");
        play(Noted::SetUp {
            parts: number(laid.len()),
        });
        let last = laid.len() - 5..laid.len();
        for part in last.clone() {
            let part = number(part);
            play(Noted::Heeded { caution: 0, part });
        }
        let ask = counts(&laid[owner]).expect("it counts");
        let answer = Answer::Reading(2);
        let part = number(owner);
        play(Noted::Answered { part, ask, answer });
        let work = bencher.bench.work();
        let now = work.parts();
        assert_ne!(now.len(), laid.len(), "there are others now");
        let heeded = (0..now.len()).filter(|&part| work.is_heeded(0, part));
        let heeded: Vec<Way> = heeded.map(|part| way(now, part)).collect();
        let expected: Vec<Way> = last.map(|part| way(&laid, part)).collect();
        assert_eq!(heeded, expected);
    }
    assert!(tried > 0);
}
