//! What is not there, and what cannot be answered so, is an error: never a chance of
//! nothing, and never something about another part.

use tellmark_compile::room::Room;
use tellmark_compile::{Built, build};
use tellmark_core::belief::NoChance;
use tellmark_core::dating::{Dates, decades};
use tellmark_core::inspection::{Given, Inspection};
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Form, NONE, Pack};
use tellmark_core::piece::{Answer, NotNoted};
use tellmark_core::plan::{Memory, Seat, Status, Task};
use tellmark_tests::dice::Dice;
use tellmark_tests::random::RandomRules;

/// Rules whose whole piece has a state, a yes/no ask, and parts.
fn rules() -> Built {
    let fits = |built: &Built| {
        let pack = built.bytes.open().expect("a fresh pack opens");
        let root = (0..pack.places()).find(|&p| pack.place(p).owner == NONE);
        let root = root.expect("there is a whole piece");
        yes_or_no(&pack, root).is_some()
            && pack.states_of(root).count() > 0
            && pack.children(root).count() > 0
    };
    (0..100)
        .filter_map(|seed| {
            let rules = RandomRules::draw(&mut Dice::new(seed));
            build(&rules.model, &|_| "a sentence".to_owned()).ok()
        })
        .find(fits)
        .expect("some rules are like that")
}

fn yes_or_no(pack: &Pack<'_>, place: usize) -> Option<u16> {
    let mut asks = pack.asks_of(place);
    asks.find(|&ask| pack.ask(usize::from(ask)).form == Form::Whether)
}

/// The piece that the first place of a pack is, as it usually is.
fn with_piece(test: impl FnOnce(&Pack<'_>, &mut Inspection<'_, '_, UFloat>)) {
    let built = rules();
    let pack = built.bytes.open().expect("a fresh pack opens");
    let root = (0..pack.places()).find(|&p| pack.place(p).owner == NONE);
    let mut room = Room::<UFloat>::default();
    let usual = |_: &[_], _, place| pack.place(place).usual.max(1);
    let mut inspection = room
        .inspection(pack, root.expect("there is a whole piece"), usual)
        .expect("the piece can be set up");
    test(&pack, &mut inspection);
}

const NO_PART: usize = 60_000;

#[test]
fn a_part_that_is_not_there_is_not_taken_for_the_piece() {
    with_piece(|pack, inspection| {
        let root = inspection.piece().root();
        let ask = yes_or_no(pack, root).expect("just looked for");
        let state = pack.states_of(root).next().expect("just looked for");
        let yes = Answer::Seen(true);
        assert_eq!(inspection.piece().part(NO_PART), None);
        assert_eq!(inspection.piece().answers_of(NO_PART), []);
        assert_eq!(inspection.piece().answer(pack, NO_PART, ask), None);
        assert_eq!(inspection.piece().owners(NO_PART).count(), 0);
        for part in [NO_PART, usize::MAX] {
            let no_part = Err(NotNoted::NoSuchPart);
            assert_eq!(inspection.answer(part, ask, yes), no_part);
            assert_eq!(inspection.out_of_sight(part, true).err(), no_part.err());
            let no_chance = Err(NoChance::NoSuchPart);
            assert_eq!(inspection.chance(part, state), no_chance);
            assert_eq!(inspection.weights(part, 0).err(), no_chance.err());
            assert_eq!(inspection.likelihoods(part, 0), None);
            assert_eq!(inspection.holds(0, part), None);
        }
        assert_eq!(inspection.changes(), 0, "nothing was noted");
        // Word 0 of the conditions is a program that always holds.
        assert!(inspection.holds(0, 0).is_some());
    });
}

#[test]
fn a_state_or_an_ask_that_a_part_does_not_have_is_an_error() {
    with_piece(|pack, inspection| {
        let states = pack.states_of(inspection.piece().root()).count();
        let nobodys = u16::try_from(pack.states()).expect("few states");
        assert_eq!(inspection.chance(0, nobodys), Err(NoChance::NoSuchState));
        for slot in [states, usize::MAX] {
            let weights = inspection.weights(0, slot);
            assert_eq!(weights.err(), Some(NoChance::NoSuchState), "{slot}");
            assert_eq!(inspection.likelihoods(0, slot), None);
        }
        assert!(inspection.weights(0, states - 1).is_ok());
        let no_ask = u16::try_from(pack.asks()).expect("few asks");
        let noted = inspection.answer(0, no_ask, Answer::CannotSee);
        assert_eq!(noted, Err(NotNoted::NoSuchAsk));
        assert_eq!(inspection.piece().answer(pack, 0, no_ask), None);
        let given = Given {
            part: 0,
            ask: no_ask,
            answer: Answer::Seen(true),
        };
        let state = pack.states_of(inspection.piece().root()).next();
        let without = inspection.chance_without(given, 0, state.expect("it has one"));
        assert_eq!(without, Err(NoChance::NoSuchAsk));
    });
}

#[test]
fn an_answer_of_another_kind_is_not_noted() {
    with_piece(|pack, inspection| {
        let ask = yes_or_no(pack, inspection.piece().root()).expect("just looked for");
        for answer in [Answer::Reading(3), Answer::Value(0)] {
            let noted = inspection.answer(0, ask, answer);
            assert_eq!(noted, Err(NotNoted::WrongKind), "{answer:?}");
        }
        assert_eq!(inspection.changes(), 0, "nothing was noted");
        let noted = inspection.answer(0, ask, Answer::Looks(true));
        assert_eq!(noted, Ok(Answer::NotLooked));
    });
}

#[test]
fn taking_back_what_was_answered_leaves_it_as_it_was() {
    with_piece(|pack, inspection| {
        let root = inspection.piece().root();
        let ask = yes_or_no(pack, root).expect("just looked for");
        let state = pack.states_of(root).next().expect("just looked for");
        let before = inspection.chance(0, state).expect("nothing is answered");
        // What is said to have been answered never was.
        let given = Given {
            part: 0,
            ask,
            answer: Answer::Certain(true),
        };
        assert_eq!(inspection.chance_without(given, 0, state), Ok(before));
        let still = inspection.piece().answer(pack, 0, ask);
        assert_eq!(still, Some(Answer::NotLooked));
    });
}

#[test]
fn a_date_of_a_part_or_decade_that_is_not_there_is_none() {
    with_piece(|_, inspection| {
        let parts = inspection.piece().parts();
        let mut numbers = vec![0.0; Dates::<f64>::need(parts.len(), 2000)];
        let dates = Dates::new(parts, &[], &[], 2000, &mut numbers).expect("enough memory");
        assert!(dates.made_in(0, 0).is_some() && dates.original(0).is_some());
        for nowhere in [parts.len(), usize::MAX] {
            assert_eq!(dates.made_in(nowhere, 0), None);
            assert_eq!(dates.original(nowhere), None);
        }
        for never in [decades(2000), usize::MAX] {
            assert_eq!(dates.made_in(0, never), None);
        }
    });
}

#[test]
fn a_job_that_is_not_in_the_order_has_no_waits() {
    with_piece(|pack, inspection| {
        let mut tasks = vec![Task::NONE; 1_000];
        let mut seats = vec![Seat::FREE; pack.jobs()];
        let mut broken = vec![false; pack.constraints()];
        let memory = Memory {
            tasks: &mut tasks,
            seats: &mut seats,
            broken: &mut broken,
        };
        let order = inspection.order(memory, |_, _| Status::Done, &[]);
        let order = order.expect("enough memory");
        assert_eq!(order.waits_before(0), None);
        assert_eq!(order.waits_before(u16::MAX), None);
    });
}
