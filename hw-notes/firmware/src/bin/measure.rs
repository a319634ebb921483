//! Measures the core on a chest of six drawers with the standard rules.
#![no_std]
#![no_main]

use cortex_m_rt::entry;
use tellmark_core::belief::{Desk, Need};
use tellmark_core::inspection::Inspection;
use tellmark_core::looking::{self, Candidate, Looking, Progress};
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::{NONE, Nature, Pack};
use tellmark_core::piece::{Answer, Part};
use tellmark_firmware::marks::{self, BROKEN, DONE, figure, measured};
use tellmark_firmware::room::Room;
use tellmark_firmware::{sets, standard};

type Looked<'m> = Inspection<'m, 'static, UFloat>;

/// Most checks that are weighed, and numbers for it.
const CHECKS: usize = 1_000;
const NUMBERS: usize = 3_000;

#[entry]
fn main() -> ! {
    static mut ROOM: Room = Room::new();
    static mut CANDIDATES: [Candidate; CHECKS] = [Candidate::NONE; CHECKS];
    static mut BESIDE: [UFloat; NUMBERS] = [UFloat::ZERO; NUMBERS];
    let looking = Looking::new(CANDIDATES, BESIDE);
    marks::stop(match all(ROOM, looking) {
        Some(()) => DONE,
        None => BROKEN,
    })
}

fn all(room: &'static mut Room, mut looking: Looking<'static, UFloat>) -> Option<()> {
    let pack = measured("open the pack", || Pack::open(standard())).ok()?;
    figure("pack, bytes", standard().len());
    let root = sets::root_of(&pack, "chest of drawers")?;
    let (piece, rest) = measured("set up the piece", || {
        room.piece(&pack, root, sets::counts(pack, 6))
    })?;

    let parts = piece.parts().len();
    let need = Need::of(&pack, &piece);
    let to_look = looking::Need::of(&pack, &piece);
    let asks = |part: &Part| pack.asks_of(usize::from(part.place)).count();
    let answers: usize = piece.parts().iter().map(asks).sum();
    figure("parts", parts);
    figure("states", need.states);
    figure("answers", answers);
    figure("numbers, bytes", need.numbers() * size_of::<UFloat>());
    figure("desks, bytes", parts * size_of::<Desk>());
    figure("parts, bytes", size_of_val(piece.parts()));
    figure("answers, bytes", answers * size_of::<Answer>());
    figure("checks to weigh", to_look.candidates);
    figure(
        "checks to weigh, bytes",
        to_look.candidates * size_of::<Candidate>(),
    );
    figure(
        "numbers to weigh with, bytes",
        to_look.numbers * size_of::<UFloat>(),
    );

    let mut looked = measured("lend it memory", || rest.inspection(pack, piece))?;
    measured("settle, from nothing", || looked.settle()).ok()?;
    measured("chances of all states, once settled", || {
        all_states(&mut looked)
    })?;

    measured("what to look at next, nothing answered", || {
        weigh(&mut looking, &mut looked)
    })?;
    figure("faults held, nothing answered", looking.effort().faults);
    figure("parts worked out, nothing answered", looking.effort().parts);

    let drawer = part_called(&looked, "drawer", 3)?;
    let stiff = ask_called(&pack, "drawer", "stiff")?;
    measured("one answer on a drawer, its hidden states", || {
        looked.answer(drawer, stiff, Answer::Seen(true)).ok()?;
        hidden_within(&mut looked, drawer)
    })?;
    measured("one answer on a drawer, triage", || {
        looked.answer(drawer, stiff, Answer::Seen(false)).ok()?;
        hidden_within(&mut looked, 0)
    })?;
    measured("one answer on the piece, triage", || {
        let ask = shared_ask(&looked)?;
        looked.answer(0, ask, Answer::Seen(true)).ok()?;
        hidden_within(&mut looked, 0)
    })?;
    measured("one certain answer on the piece, triage", || {
        let ask = shared_ask(&looked)?;
        looked.answer(0, ask, Answer::Certain(true)).ok()?;
        hidden_within(&mut looked, 0)
    })?;

    sets::give(&mut looked, 7, 40);
    measured("triage, from nothing, 40 in 100 answered", || {
        hidden_within(&mut looked, 0)
    })?;
    measured("what to look at next, 40 in 100 answered", || {
        weigh(&mut looking, &mut looked)
    })?;
    figure("faults held, 40 in 100 answered", looking.effort().faults);
    figure(
        "parts worked out, 40 in 100 answered",
        looking.effort().parts,
    );
    let mut calls = 0;
    measured("plans", || looked.plans(|_| calls += 1));
    figure("plans called for", calls);
    let mut calls = 0;
    measured("cautions", || looked.cautions(|_| calls += 1));
    figure("cautions called for", calls);
    measured("one answer on a drawer, triage, 40 in 100 answered", || {
        let other = match looked.answer(drawer, stiff, Answer::NotLooked).ok()? {
            Answer::Seen(true) => Answer::Seen(false),
            _ => Answer::Seen(true),
        };
        looked.answer(drawer, stiff, other).ok()?;
        hidden_within(&mut looked, 0)
    })?;

    // Few answers, all over the piece: little is alike and little is known.
    sets::give(&mut looked, 7, 10);
    measured("what to look at next, 10 in 100 answered", || {
        weigh(&mut looking, &mut looked)
    })?;
    figure("faults held, 10 in 100 answered", looking.effort().faults);
    figure(
        "parts worked out, 10 in 100 answered",
        looking.effort().parts,
    );
    Some(())
}

/// The worth of every check, from the first step to the last.
fn weigh(looking: &mut Looking<'_, UFloat>, looked: &mut Looked<'_>) -> Option<usize> {
    looking.start(looked).ok()?;
    while looking.step(looked, |_, _| ()) == Progress::More {}
    Some(looking.best().len())
}

/// The chance of every state of every part.
fn all_states(looked: &mut Looked<'_>) -> Option<u64> {
    chances(looked, 0, |_| true)
}

/// The chance of every hidden state of a part and of all that is built into it.
fn hidden_within(looked: &mut Looked<'_>, part: usize) -> Option<u64> {
    chances(looked, part, |nature| nature == Nature::Hidden)
}

fn chances(looked: &mut Looked<'_>, within: usize, wanted: impl Fn(Nature) -> bool) -> Option<u64> {
    let pack = *looked.pack();
    let mut sum = 0;
    for part in within..looked.piece().parts().len() {
        if part != within && !looked.piece().owners(part).any(|owner| owner == within) {
            continue;
        }
        let place = usize::from(looked.piece().part(part)?.place);
        for state in pack.states_of(place) {
            if wanted(pack.state(usize::from(state)).nature) {
                sum += looked.chance(part, state).ok()?.units();
            }
        }
    }
    Some(sum)
}

/// The `number`-th part of a kind.
fn part_called(looked: &Looked<'_>, kind: &str, number: usize) -> Option<usize> {
    let pack = looked.pack();
    let is_it = |part: &Part| {
        let place = pack.place(usize::from(part.place));
        pack.text(pack.kind(usize::from(place.kind)).name) == kind
    };
    let mut parts = looked.piece().parts().iter().enumerate();
    parts
        .by_ref()
        .filter(|(_, part)| is_it(part))
        .map(|(i, _)| i)
        .nth(number - 1)
}

/// What is asked to find out whether a part is so.
fn ask_called(pack: &Pack<'_>, kind: &str, phrase: &str) -> Option<u16> {
    (0..pack.states())
        .map(|s| pack.state(s))
        .find(|s| {
            pack.text(s.phrase) == phrase && pack.text(pack.kind(usize::from(s.kind)).name) == kind
        })
        .map(|s| s.ask)
}

/// What decides the piece's state that most kinds of its parts read.
fn shared_ask(looked: &Looked<'_>) -> Option<u16> {
    let pack = looked.pack();
    let place = looked.piece().root();
    let fragment = pack.fragment(usize::from(pack.place(place).fragment));
    let program = pack.program(&fragment);
    let readers = |slot: usize| {
        (0..usize::from(fragment.groups))
            .filter(|&g| {
                let group = program.group(g);
                let mut sources = group.sources.iter().take(usize::from(group.reads));
                sources.any(|&s| s != NONE && usize::from(s) == slot)
            })
            .count()
    };
    let (_, state) = pack
        .states_of(place)
        .enumerate()
        .max_by_key(|&(slot, _)| readers(slot))?;
    Some(pack.state(usize::from(state)).ask)
}
