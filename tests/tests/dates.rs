//! Dates of making and originality, against trying every combination.

use std::collections::BTreeMap;

use proptest::prelude::*;
use tellmark_core::dating::{Dates, Evidence, Together, decades, fewest_later, first_year, prior};
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::{Bound, Dating, NONE};
use tellmark_core::piece::{Answer, Part, Piece};

/// Five decades are enough to be wrong in.
const NOW: u16 = 1549;

/// A tree of parts: for each but the first, which earlier one it is built into.
/// Parts come in the order in which a piece has them, owner by owner.
fn tree(owners: &[usize]) -> Vec<Part> {
    let mut order = vec![0];
    let mut parts = vec![Part {
        owner: NONE,
        ..Part::default()
    }];
    let mut at = 0;
    while at < order.len() {
        let first = parts.len();
        for (i, &owner) in owners.iter().enumerate() {
            if owner % (i + 1) == order[at] {
                order.push(i + 1);
                parts.push(Part {
                    owner: u16::try_from(at).unwrap(),
                    ..Part::default()
                });
            }
        }
        parts[at].first_child = u16::try_from(first).unwrap();
        parts[at].children = u16::try_from(parts.len() - first).unwrap();
        at += 1;
    }
    parts
}

fn evidence(parts: usize) -> impl Strategy<Value = Evidence> {
    let year = || 1495_u16..1555;
    let bound = prop_oneof![
        year().prop_map(Bound::NotEarlier),
        year().prop_map(Bound::NotLater),
        (year(), 0_u16..30).prop_map(|(year, more)| Bound::Usually(year, year + more)),
        Just(Bound::Later(0)),
    ];
    (0..parts, 0_u32..3, bound, 0_u8..3).prop_map(|(part, finding, bound, strength)| Evidence {
        part,
        finding,
        bound,
        strength,
    })
}

/// A finding on all the parts of an owner, or on the first or the other half of them.
fn together(parts: &[Part]) -> impl Strategy<Value = Option<Together>> + use<> {
    let parts = parts.to_vec();
    (0..parts.len(), 0..3, 0_u32..3, 0_u8..3).prop_map(move |(owner, which, finding, strength)| {
        let first = usize::from(parts[owner].first_child);
        let number = usize::from(parts[owner].children);
        // Halves only of those of which nothing is said as a whole.
        let parts = match (owner % 2, which) {
            (0, _) => first..first + number,
            (_, 0) => first..first + number / 2,
            _ => first + number / 2..first + number,
        };
        (!parts.is_empty()).then_some(Together {
            parts,
            finding,
            strength,
        })
    })
}

fn cases() -> impl Strategy<Value = (Vec<Part>, Vec<Evidence>, Vec<Together>)> {
    prop::collection::vec(0_usize..10, 0..5).prop_flat_map(|owners| {
        let parts = tree(&owners);
        let evidence = prop::collection::vec(evidence(parts.len()), 0..7);
        let together = prop::collection::vec(together(&parts), 0..4);
        let together = together.prop_map(|all| all.into_iter().flatten().collect());
        (Just(parts), evidence, together)
    })
}

/// One way in which everything may have been made.
struct World {
    made: Vec<usize>,
    /// As old as what it is built into.
    as_old: Vec<bool>,
    original: Vec<bool>,
    weight: f64,
}

/// Every way, with its weight.
fn worlds(parts: &[Part], evidence: &[Evidence], together: &[Together]) -> Vec<World> {
    let decades = decades(NOW);
    // What one finding says counts once, by what fits worst.
    let all_on = |part: usize, says: &dyn Fn(&Evidence) -> f64| -> f64 {
        let mut worst = BTreeMap::new();
        for e in evidence.iter().filter(|e| e.part == part) {
            let least = worst.entry(e.finding).or_insert(1.0);
            *least = says(e).min(*least);
        }
        worst.values().product()
    };
    let fits = |part: usize, decade: usize| -> f64 {
        all_on(part, &|e| f64::from(e.likelihood(decade)) / 1000.0)
    };
    let fits_no_trace = |part: usize| -> f64 {
        all_on(part, &|e| match e.bound {
            Bound::Later(_) => [0.25, 0.05, 0.002][usize::from(e.strength)],
            _ => 1.0,
        })
    };
    let mut worlds: Vec<World> = (0..decades)
        .map(|decade| World {
            made: vec![decade],
            as_old: vec![true],
            original: vec![true],
            weight: f64::from(prior(decade)) / 1000.0 * fits(0, decade),
        })
        .collect();
    for (part, record) in parts.iter().enumerate().skip(1) {
        let owner = usize::from(record.owner);
        let mut longer = Vec::new();
        for world in worlds {
            let from = world.made[owner];
            let mut add = |decade: usize, original: bool, chance: f64| {
                let mut made = world.made.clone();
                made.push(decade);
                let mut all = world.original.clone();
                all.push(original && world.original[owner]);
                let mut as_old = world.as_old.clone();
                as_old.push(original);
                longer.push(World {
                    made,
                    as_old,
                    original: all,
                    weight: world.weight * chance * fits(part, decade),
                });
            };
            add(from, true, 0.833 * fits_no_trace(part));
            let left = f64::from(u8::try_from(decades - from).unwrap());
            for decade in from..decades {
                add(decade, false, 0.167 / left);
            }
        }
        worlds = longer;
    }
    for world in &mut worlds {
        // Not all of a group are as old, but for what one finding says.
        let mut worst = BTreeMap::new();
        for one in together {
            if one.parts.clone().all(|part| world.as_old[part]) {
                let weight: f64 = [0.25, 0.05, 0.002][usize::from(one.strength)];
                let least = worst
                    .entry((one.parts.start, one.parts.end, one.finding))
                    .or_insert(1.0);
                *least = weight.min(*least);
            }
        }
        world.weight *= worst.values().product::<f64>();
    }
    worlds
}

fn check<N: Number>(parts: &[Part], evidence: &[Evidence], together: &[Together], within: f64) {
    let mut numbers = vec![N::ZERO; Dates::<N>::need(parts.len(), NOW)];
    let dates = Dates::new(parts, evidence, together, NOW, &mut numbers).unwrap();
    let worlds = worlds(parts, evidence, together);
    let all: f64 = worlds.iter().map(|w| w.weight).sum();
    let share = |holds: &dyn Fn(&World) -> bool| -> f64 {
        let some = worlds.iter().filter(|w| holds(w));
        some.map(|w| w.weight).sum::<f64>() / all
    };
    for part in 0..parts.len() {
        let original = share(&|w| w.original[part]);
        let found = dates.original(part).expect("it is there").as_f64();
        assert!((found - original).abs() < within, "part {part} original");
        for decade in 0..decades(NOW) {
            let made = share(&|w| w.made[part] == decade);
            let found = dates.made_in(part, decade).expect("it is there").as_f64();
            assert!(
                (found - made).abs() < within,
                "part {part}, decade {decade}"
            );
        }
    }
}

/// The fewest later parts by trying every assignment of decades.
fn fewest(parts: &[Part], evidence: &[Evidence]) -> Option<usize> {
    let allowed = |w: &World| evidence.iter().all(|e| e.allows(w.made[e.part]));
    worlds(parts, &[], &[])
        .iter()
        .filter(|w| allowed(w))
        .map(|w| {
            let later = parts.iter().enumerate().skip(1);
            later
                .filter(|(part, record)| w.made[*part] != w.made[usize::from(record.owner)])
                .count()
        })
        .min()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn chances_are_those_of_all_worlds((parts, evidence, together) in cases()) {
        check::<f64>(&parts, &evidence, &together, 1e-9);
        check::<UFloat>(&parts, &evidence, &together, 2e-6);
    }

    #[test]
    fn the_later_parts_are_the_fewest_that_will_do((parts, evidence, _) in cases()) {
        let mut memory = vec![0; parts.len() * decades(NOW)];
        let mut found = Vec::new();
        let piece = fewest_later(&parts, &evidence, NOW, &mut memory, |part| found.push(part));
        prop_assert_eq!(piece.map(|_| found.len()), fewest(&parts, &evidence));
    }
}

fn says(part: usize, bound: Bound) -> Evidence {
    Evidence {
        part,
        finding: 0,
        bound,
        strength: 2,
    }
}

/// A gimlet-pointed screw in an old piece makes the screw later, not the piece.
#[test]
fn one_late_screw_dates_the_screw() {
    let parts = tree(&[0, 0, 0]);
    let evidence = [
        says(0, Bound::NotLater(1760)),
        says(1, Bound::NotLater(1770)),
        says(2, Bound::NotLater(1790)),
        says(3, Bound::NotEarlier(1846)),
    ];
    let now = 2026;
    let mut numbers = vec![0.0; Dates::<f64>::need(parts.len(), now)];
    let dates = Dates::new(&parts, &evidence, &[], now, &mut numbers).unwrap();
    let before_1800: f64 = (0..decades(now))
        .filter(|&d| first_year(d) < 1800)
        .map(|d| dates.made_in(0, d).expect("it is there").as_f64())
        .sum();
    assert!(before_1800 > 0.99, "{before_1800}");
    assert!(dates.original(3).expect("it is there").as_f64() < 0.05);
    assert!(dates.original(1).expect("it is there").as_f64() > 0.8);
    let mut later = Vec::new();
    let mut memory = vec![0; parts.len() * decades(now)];
    let piece = fewest_later(&parts, &evidence, now, &mut memory, |part| later.push(part));
    assert_eq!(later, [3]);
    assert_eq!(piece.map(first_year), Some(1760));
}

/// Where either would do, the part with the late finding is later, not what it is
/// built into.
#[test]
fn the_innermost_part_is_later() {
    let parts = tree(&[0, 1]);
    let now = 2026;
    let evidence = [
        says(0, Bound::NotLater(1769)),
        says(2, Bound::NotEarlier(1846)),
    ];
    let mut memory = vec![0; parts.len() * decades(now)];
    let mut later = Vec::new();
    let piece = fewest_later(&parts, &evidence, now, &mut memory, |part| later.push(part));
    assert_eq!(later, [2]);
    assert_eq!(piece.map(first_year), Some(1760));
}

/// A handle that fits no trace is later than its drawer, and says nothing of when
/// the drawer was made, nor of another handle.
#[test]
fn a_fitting_without_a_trace_is_later_alone() {
    let parts = tree(&[0, 1, 1]);
    let now = 2026;
    let dated = |evidence: &[Evidence]| {
        let mut numbers = vec![0.0; Dates::<f64>::need(parts.len(), now)];
        let dates = Dates::new(&parts, evidence, &[], now, &mut numbers).unwrap();
        let original = |part| dates.original(part).expect("it is there").as_f64();
        let made: Vec<f64> = (0..decades(now))
            .map(|d| dates.made_in(1, d).expect("it is there").as_f64())
            .collect();
        (original(1), original(2), original(3), made)
    };
    let of_1760 = says(0, Bound::Usually(1755, 1790));
    let before = dated(&[of_1760]);
    let found = Evidence {
        strength: 1,
        ..says(2, Bound::Later(1))
    };
    let after = dated(&[of_1760, found]);
    let near = |a: f64, b: f64| (a - b).abs() < 1e-12;
    assert!(near(before.0, after.0) && near(before.2, after.2));
    assert!(before.3.iter().zip(&after.3).all(|(a, b)| near(*a, *b)));
    // One in twenty, beside what is later: 0.833 × 0.05 against 0.167, on a
    // drawer that may itself be later.
    let own = 0.833 * 0.05 / (0.833 * 0.05 + 0.167);
    assert!((after.1 - own * before.0).abs() < 1e-9, "{}", after.1);
    let mut memory = vec![0; parts.len() * decades(now)];
    let mut later = 0;
    let _ = fewest_later(&parts, &[of_1760, found], now, &mut memory, |_| later += 1);
    assert_eq!(later, 0, "no date is broken");
}

/// Two sentences about one lion mask are one reason; two lion masks are two.
#[test]
fn one_finding_counts_once() {
    let parts = tree(&[]);
    let of = |finding: u32, bound: Bound| Evidence {
        finding,
        strength: 1,
        ..says(0, bound)
    };
    let chance_of_1760 = |evidence: &[Evidence]| {
        let mut numbers = vec![0.0; Dates::<f64>::need(parts.len(), 2026)];
        let dates = Dates::new(&parts, evidence, &[], 2026, &mut numbers).unwrap();
        dates.made_in(0, 26).expect("it is there").as_f64()
    };
    let bound = of(1, Bound::NotEarlier(1780));
    let usual = |finding| of(finding, Bound::Usually(1780, 2030));
    let alone = chance_of_1760(&[bound]);
    assert!((chance_of_1760(&[bound, usual(1)]) - alone).abs() < 1e-9);
    assert!(chance_of_1760(&[bound, usual(2)]) < alone / 5.0);
}

/// Years that fit a decade in part count in part.
#[test]
fn a_decade_may_fit_in_part() {
    let strong = says(0, Bound::NotEarlier(1846));
    let at = |year: u16| strong.likelihood(usize::from((year - 1500) / 10));
    assert_eq!((at(1830), at(1840), at(1850)), (2, 401, 1000));
}

#[test]
fn too_little_memory_is_said() {
    let parts = tree(&[0]);
    let mut numbers = vec![0.0; 3];
    let few = Dates::new(&parts, &[], &[], NOW, &mut numbers).unwrap_err();
    assert_eq!(few.numbers, Dates::<f64>::need(2, NOW));
}

/// "Later than its drawer" speaks of handles on drawers, "than the piece" of what is built
/// into the piece itself, and what was lost of nothing that is there.
#[test]
fn a_dating_speaks_of_the_parts_it_is_about() {
    let pack = tellmark_tests::screen::pack();
    let is_root = |&place: &usize| pack.place(place).owner == NONE && pack.place(place).kind != 0;
    let root = (0..pack.places()).find(is_root).expect("a piece");
    let (mut parts, mut answers) = (vec![Part::default(); 200], vec![Answer::NotLooked; 2_000]);
    let usual = |_: &[Part], _: usize, place: usize| pack.place(place).usual;
    let piece = Piece::set_up(&pack, root, usual, &mut parts, &mut answers).expect("room");
    let parts = piece.parts();
    let speaks = |bound: Bound, part: usize| {
        let dating = Dating {
            subject: 0,
            source: 0,
            condition: 77,
            bound,
            strength: 1,
            region: 0,
        };
        let evidence = Evidence::of(&pack, parts, &dating, part)?;
        let expected = Evidence {
            part,
            finding: 77,
            bound,
            strength: 1,
        };
        assert_eq!(evidence, expected);
        Some(())
    };
    let mut deep = 0;
    for (part, record) in parts.iter().enumerate() {
        let owner = parts.get(usize::from(record.owner));
        for kind in 0..u16::try_from(pack.kinds()).expect("few") {
            let is_in_piece = kind == 0 && record.owner == 0;
            let is_it = owner.is_some_and(|owner| owner.kind == kind) || is_in_piece;
            assert_eq!(
                speaks(Bound::Later(kind), part).is_some(),
                is_it,
                "{kind} {part}"
            );
        }
        deep += usize::from(record.owner != 0);
        assert_eq!(speaks(Bound::Lost(0), part), None);
        assert!(speaks(Bound::NotEarlier(1800), part).is_some());
    }
    assert!(deep > 10);
}
