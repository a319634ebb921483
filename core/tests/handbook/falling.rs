//! Falls and leaves on their hinges.

use super::near;
use super::reference::CLOSE_ENOUGH;
use proptest::prelude::*;
use tellmark_core::handbook::fall::{Fall, Joint, NoStop, in_the_edge, in_the_face, worst_screw};
use tellmark_core::handbook::{GRAVITY, Refused};

/// A mahogany fall of 900 × 450 × 20 mm at 590 kg/m³: 4.779 kg, with a hand (N) at its edge.
fn mahogany(hand: f32) -> Fall {
    Fall {
        weight: 0.9 * 0.45 * 0.02 * 590.0 * GRAVITY,
        weight_at_mm: 225.0,
        hand,
        hand_at_mm: 450.0,
        thickness_mm: 20.0,
    }
}

const BUTTS: Joint = Joint::Butts { depth_mm: 18.0 };

#[test]
fn a_fall_held_by_its_hinges() {
    // Statics; worked out, and confirmed by moments about other points below.
    near(mahogany(0.0).weight, 46.866, 0.001);
    let dead = mahogany(0.0).by_hinges(BUTTS).unwrap();
    near(dead.pull, 585.82, 0.01);
    near(dead.down, 46.87, 0.01);
    let leaned_on = mahogany(50.0).by_hinges(BUTTS).unwrap();
    near(leaned_on.pull, 1835.82, 0.01);
    near(leaned_on.down, 96.87, 0.01);
    // A square-edged oak flap of 1000 × 350 × 18 mm at 720 kg/m³.
    let flap = Fall {
        weight: 1.0 * 0.35 * 0.018 * 720.0 * GRAVITY,
        weight_at_mm: 175.0,
        hand: 0.0,
        hand_at_mm: 350.0,
        thickness_mm: 18.0,
    };
    let held = flap.by_hinges(Joint::Butts { depth_mm: 15.0 }).unwrap();
    near(held.pull, 519.0, 0.05);
    near(flap.on_supports(200.0).unwrap().support, 38.92, 0.01);
    let leaned_on = Fall {
        hand: 200.0,
        ..flap
    };
    let held = leaned_on.on_supports(200.0).unwrap();
    near(held.support, 388.92, 0.01);
    near(held.hinge, -144.44, 0.01);
}

#[test]
fn leaves_let_into_the_edge_pry_on_their_screws() {
    // Statics of the leaf; worked out. Six No. 6 screws with 15 mm of thread in mahogany hold
    // 1,339.0 N each at the most.
    let dead = mahogany(0.0).by_hinges(BUTTS).unwrap();
    let loads = in_the_edge(dead.pull, 20.0, [10.0]).unwrap();
    near(loads.all, 1171.65, 0.01);
    near(loads.all / 6.0, 195.3, 0.05);
    near(loads.all / 6.0 / 1339.0 * 100.0, 14.6, 0.05);
    near(loads.all / 6.0 / (1339.0 / 5.0) * 100.0, 73.0, 0.1);
    let leaned_on = mahogany(50.0).by_hinges(BUTTS).unwrap();
    let loads = in_the_edge(leaned_on.pull, 20.0, [10.0]).unwrap();
    near(loads.all, 3671.6, 0.1);
    near(loads.all / 6.0, 611.9, 0.05);
    near(loads.all / 6.0 / 1339.0 * 100.0, 45.7, 0.05);
    near(loads.all / 6.0 / (1339.0 / 5.0) * 100.0, 229.0, 0.7);
    // One hinge of the pair taking seven tenths.
    let worst = worst_screw(loads.all, 2, 3).unwrap();
    near(worst, 856.7, 0.05);
    near(worst / 1339.0 * 100.0, 64.0, 0.05);
    // How hard it pries, by where the screws are.
    near(in_the_edge(1.0, 20.0, [10.0]).unwrap().all, 2.0, 1e-6);
    near(in_the_edge(1.0, 20.0, [12.0]).unwrap().all, 2.5, 1e-6);
    near(in_the_edge(1.0, 25.0, [10.0]).unwrap().all, 1.6667, 1e-4);
    let rows = in_the_edge(1.0, 20.0, [5.0, 15.0]).unwrap();
    near(rows.rows[0], 1.2, 1e-6);
    near(rows.rows[1], 0.4, 1e-6);
    near(rows.pry, 0.6, 1e-6);
}

#[test]
fn leaves_let_into_the_face_mostly_shear_their_screws() {
    // Statics; worked out. 394.1 N is the sideways load of a No. 6 screw in mahogany.
    let dead = mahogany(0.0).by_hinges(BUTTS).unwrap();
    let loads = in_the_face(dead, 25.0, 12.0).unwrap();
    near(loads.lateral / 6.0, 97.6, 0.05);
    near(loads.withdrawal, 90.1, 0.05);
    near(loads.withdrawal / 6.0, 15.0, 0.05);
    let leaned_on = mahogany(50.0).by_hinges(BUTTS).unwrap();
    let loads = in_the_face(leaned_on, 25.0, 12.0).unwrap();
    near(loads.lateral / 6.0, 306.0, 0.05);
    near(loads.lateral / 6.0 / 394.1 * 100.0, 77.6, 0.1);
}

#[test]
fn supports_that_reach_too_little_lift_the_hinges() {
    // Statics; worked out.
    for (reach, hand, support, hinge) in [
        (300.0, 0.0, 35.15, 11.72),
        (300.0, 50.0, 110.15, -13.28),
        (300.0, 100.0, 185.15, -38.28),
        (200.0, 50.0, 165.22, -68.36),
    ] {
        let found = mahogany(hand).on_supports(reach).unwrap();
        near(found.support, support, 0.01);
        near(found.hinge, hinge, 0.01);
    }
    for (hand, reach) in [(0.0, 225.0), (50.0, 341.1), (100.0, 378.2)] {
        near(mahogany(hand).reach_needed().unwrap(), reach, 0.1);
    }
}

#[test]
fn without_a_stop_there_is_no_equilibrium() {
    for why in [NoStop::RuleJoint, NoStop::NothingBelow] {
        let refused = mahogany(0.0).by_hinges(Joint::Open(why));
        assert_eq!(refused, Err(Refused::NoEquilibrium(why)));
    }
    let said = Refused::NoEquilibrium(NoStop::RuleJoint).to_string();
    assert!(said.starts_with("a rule joint has no stop"), "{said}");
    // Its support is another matter.
    assert!(mahogany(0.0).on_supports(300.0).is_ok());
    // Nor does it push deeper than the board is thick.
    let too_deep = Joint::Butts { depth_mm: 20.5 };
    assert!(matches!(
        mahogany(0.0).by_hinges(too_deep),
        Err(Refused::Outside { .. })
    ));
}

proptest! {
    #[test]
    fn moments_balance_about_any_point(
        weight in 1.0_f32..200.0,
        weight_at_mm in 20.0_f32..500.0,
        hand in 0.0_f32..300.0,
        hand_at_mm in 0.0_f32..900.0,
        depth_mm in 2.0_f32..20.0,
        x in -1000.0_f64..1000.0,
        y in -1000.0_f64..1000.0,
    ) {
        let fall = Fall { weight, weight_at_mm, hand, hand_at_mm, thickness_mm: 20.0 };
        let held = fall.by_hinges(Joint::Butts { depth_mm }).unwrap();
        // Forces on the fall, with x out from the pin and y up: at the pin it is held back and
        // up, at the depth it is pushed away.
        let (pull, down) = (f64::from(held.pull), f64::from(held.down));
        let forces = [
            ((0.0, 0.0), (-pull, down)),
            ((0.0, -f64::from(depth_mm)), (pull, 0.0)),
            ((f64::from(weight_at_mm), 0.0), (0.0, -f64::from(weight))),
            ((f64::from(hand_at_mm), 0.0), (0.0, -f64::from(hand))),
        ];
        let (mut moment, mut size) = (0.0, 0.0);
        for ((at_x, at_y), (fx, fy)) in forces {
            let one = (at_x - x) * fy - (at_y - y) * fx;
            moment += one;
            size += one.abs();
        }
        prop_assert!(moment.abs() <= size * CLOSE_ENOUGH, "{moment} of {size}");
    }

    #[test]
    fn a_longer_reach_and_a_deeper_push_carry_less(
        hand in 0.0_f32..300.0,
        reach in 100.0_f32..800.0,
        depth in 2.0_f32..19.0,
    ) {
        let fall = mahogany(hand);
        let near_pin = fall.on_supports(reach).unwrap();
        let further = fall.on_supports(reach + 10.0).unwrap();
        prop_assert!(further.support < near_pin.support && further.hinge > near_pin.hinge);
        let shallow = fall.by_hinges(Joint::Butts { depth_mm: depth }).unwrap();
        let deeper = fall.by_hinges(Joint::Butts { depth_mm: depth + 1.0 }).unwrap();
        prop_assert!(deeper.pull < shallow.pull);
        // Just as far as is needed, the hinges carry nothing.
        let needed = fall.reach_needed().unwrap();
        near(fall.on_supports(needed).unwrap().hinge, 0.0, 1e-3);
    }

    #[test]
    fn screws_of_a_leaf_carry_more_than_the_pull_and_balance_it(
        pull in 1.0_f32..5000.0,
        leaf in 10.0_f32..60.0,
        first in 0.05_f32..0.9,
        second in 0.05_f32..0.9,
    ) {
        let depths = [leaf * first, leaf * second];
        let loads = in_the_edge(pull, leaf, depths).unwrap();
        prop_assert!(loads.pry >= -pull * 1e-6);
        // Moments about the lower end of the leaf.
        let held: f32 = loads.rows.iter().zip(depths).map(|(load, at)| load * (leaf - at)).sum();
        near(held, f64::from(pull * leaf), f64::from(pull * leaf) * CLOSE_ENOUGH);
    }
}
