//! What sums refuse, in which words; and that nothing makes them panic.

use proptest::prelude::*;
use tellmark_core::handbook::fall::{Fall, Joint, in_the_edge, in_the_face, worst_screw};
use tellmark_core::handbook::fasteners::{self, Soundness};
use tellmark_core::handbook::movement::{Cut, by_coefficient, by_shrinkage, of_wood};
use tellmark_core::handbook::shelf::{Ends, Shelf};
use tellmark_core::handbook::tipping::{self, Mass};
use tellmark_core::handbook::woods::{Grain, WOODS};
use tellmark_core::handbook::{Quantity, Refused, dust, glue, moisture, shellac, solvents};

#[test]
fn a_refusal_has_the_quantity_its_value_and_its_range() {
    let refused = moisture::equilibrium(80.0, 50.0);
    let expected = Refused::Outside {
        quantity: Quantity::Temperature,
        value: 80.0,
        lowest: moisture::COLDEST,
        highest: moisture::WARMEST,
    };
    assert_eq!(refused, Err(expected));
    assert_eq!(
        expected.to_string(),
        "the temperature is 80 °C, and the sum holds from -1.2 to 60 °C"
    );
    let gauge = fasteners::gauge_mm(30.0).unwrap_err().to_string();
    assert_eq!(
        gauge,
        "the screw gauge is 30, and the sum holds from 0 to 24"
    );
    let nothing = solvents::mixed([]).unwrap_err();
    assert_eq!(nothing, Refused::NothingMixed);
}

#[test]
fn ends_of_ranges_are_taken_and_what_is_past_them_is_not() {
    assert!(moisture::equilibrium(moisture::COLDEST, 0.0).is_ok());
    assert!(moisture::equilibrium(moisture::WARMEST, 100.0).is_ok());
    assert!(moisture::equilibrium(20.0, 100.1).is_err());
    assert!(moisture::equilibrium(20.0, -0.1).is_err());
    assert!(moisture::humidity_for(20.0, 29.0).is_err());
    assert!(by_coefficient(100.0, 0.002, 5.9, 10.0).is_err());
    assert!(by_coefficient(100.0, 0.002, 6.0, 14.0).is_ok());
    assert!(by_coefficient(100.0, 0.002, 6.0, 14.1).is_err());
    assert!(by_shrinkage(100.0, 8.0, 30.1, 10.0).is_err());
    assert!(by_shrinkage(-1.0, 8.0, 12.0, 10.0).is_err());
    assert!(Shelf::new(5.0, 250.0, 20.0, 10_000.0, Ends::Resting).is_err());
    assert!(tipping::pull_that_tips(-1.0, 800.0).is_err());
    assert!(glue::batch(100.0, 0.4).is_err());
    assert!(shellac::grams_per_litre(0.0).is_err());
    assert!(worst_screw(100.0, 0, 3).is_err());
    assert!(worst_screw(100.0, 2, 0).is_err());
}

/// Any number that a caller can have, those that are none among them.
fn any_number() -> impl Strategy<Value = f32> {
    prop_oneof![
        4 => -10.0_f32..2000.0,
        2 => proptest::num::f32::ANY,
        1 => Just(f32::NAN),
        1 => Just(f32::INFINITY),
        1 => Just(0.0),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    /// Whatever goes in, a sum is refused or is a number.
    #[test]
    fn no_numbers_give_what_is_no_number(n in proptest::array::uniform5(any_number())) {
        let [a, b, c, d, e] = n;
        let mut found: Vec<Result<f32, Refused>> = vec![
            moisture::equilibrium(a, b),
            moisture::humidity_for(a, b),
            by_coefficient(a, b, c, d),
            by_shrinkage(a, b, c, d),
            fasteners::gauge_mm(a),
            fasteners::screw_withdrawal(a, b, c, Soundness::SUSPECT),
            fasteners::nail_withdrawal(a, b, c, Soundness::SUSPECT),
            fasteners::screw_lateral(Grain::Hard, a, b, c, Soundness::SOUND),
            fasteners::nail_lateral(Grain::Soft, a, b, c, Soundness::SOUND),
            tipping::moment([Mass { kg: a, behind_mm: b }]),
            tipping::pull_that_tips(a, b),
            tipping::load_that_tips(a, b),
            tipping::pulled_out_that_tips(a, b),
            tipping::tilt_that_tips(a, b),
            tipping::leaned(a, b, c, d),
            shellac::cut_of(a),
            shellac::by_weight(a),
            shellac::let_down(a, b, c, shellac::Basis::Polish).map(|(_, most)| most),
            glue::batch(a, b).map(|batch| batch.water + batch.solids),
            glue::batch_of(a, b).map(|batch| batch.glue),
            dust::average([(a, b), (c, d)]),
            solvents::from_hansen(a, b, c).map(|f| f.dispersion),
        ];
        for wood in WOODS {
            found.push(of_wood(wood, Cut::Unknown, a, b, c).map(|span| span.least + span.most));
        }
        if let Ok(shelf) = Shelf::new(a, b, c, d, Ends::Resting) {
            found.extend([shelf.sag(e), shelf.stress(e), shelf.thickness_for(e, a)]);
        }
        let fall = Fall {
            weight: a, weight_at_mm: b, hand: c, hand_at_mm: d, thickness_mm: e,
        };
        let at_pin = fall.by_hinges(Joint::Butts { depth_mm: 10.0 });
        found.push(at_pin.map(|at_pin| at_pin.pull));
        found.push(fall.on_supports(a).map(|held| held.hinge));
        found.push(fall.reach_needed());
        found.push(in_the_edge(a, b, [c, d]).map(|loads| loads.pry));
        found.push(in_the_edge(a, b, []).map(|loads| loads.all));
        if let Ok(at_pin) = at_pin {
            found.push(in_the_face(at_pin, a, b).map(|loads| loads.withdrawal));
        }
        for one in found {
            prop_assert!(one.is_err() || one.is_ok_and(f32::is_finite), "{one:?} of {n:?}");
        }
    }
}
