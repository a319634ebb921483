//! Screws, nails and shelves.

use super::near;
use super::reference::{self, CLOSE_ENOUGH};
use proptest::prelude::*;
use tellmark_core::handbook::fasteners::{
    SAFETY, Soundness, gauge_mm, nail_lateral, nail_withdrawal, safe, screw_lateral,
    screw_withdrawal,
};
use tellmark_core::handbook::shelf::{Ends, Shelf, after_years};
use tellmark_core::handbook::woods::Grain;

const SOUND: Soundness = Soundness::SOUND;

/// Pounds of force in newtons.
const POUND: f64 = 4.448_221_615;

#[test]
fn screws_drawn_out() {
    // Wood Handbook (2010) Eq. (8-10), read. Gravities: white oak, mahogany, white pine and
    // walnut from memory. Worked out.
    for (gravity, shank, thread, expected) in [
        (0.68, 4.17, 25.0, 5218.2),
        (0.4847, 3.51, 15.0, 1339.0),
        (0.35, 4.17, 20.0, 1105.9),
        (0.55, 3.51, 12.0, 1379.2),
    ] {
        near(
            screw_withdrawal(gravity, shank, thread, SOUND).unwrap(),
            expected,
            0.1,
        );
    }
}

#[test]
fn nails_drawn_out() {
    // Wood Handbook (2010) Eq. (8-1), read. Worked out.
    for (gravity, diameter, length, expected) in [
        (0.68, 2.87, 38.0, 2250.6),
        (0.35, 3.33, 30.0, 391.8),
        (0.59, 2.5, 30.0, 1085.3),
    ] {
        near(
            nail_withdrawal(gravity, diameter, length, SOUND).unwrap(),
            expected,
            0.1,
        );
    }
}

#[test]
fn fasteners_pushed_sideways() {
    // Wood Handbook (2010) Eq. (8-2) and (8-11), Table 8-4, read. Worked out, with as much in
    // the wood as they need.
    for (grain, gravity, expected) in [(Grain::Hard, 0.68, 767.4), (Grain::Soft, 0.35, 402.9)] {
        let found = screw_lateral(grain, gravity, 4.17, 40.0, SOUND).unwrap();
        near(found, expected, 0.1);
    }
    let mahogany = screw_lateral(Grain::Hard, 0.4847, 3.51, 40.0, SOUND).unwrap();
    near(mahogany, 394.1, 0.1);
    let oak = nail_lateral(Grain::Hard, 0.68, 2.87, 38.0, SOUND).unwrap();
    near(oak, 459.6, 0.1);
    let pine = nail_lateral(Grain::Soft, 0.35, 3.33, 50.0, SOUND).unwrap();
    near(pine, 304.1, 0.1);
}

#[test]
fn a_screw_with_less_in_the_wood_carries_less_sideways() {
    // Wood Handbook (2010) ch. 8: 7 diameters, less in proportion, down to 4; read.
    let with = |length| screw_lateral(Grain::Hard, 0.68, 4.0, length, SOUND);
    let full = with(28.0).unwrap();
    near(with(60.0).unwrap(), full.into(), 0.0);
    near(with(16.0).unwrap(), f64::from(full) * 16.0 / 28.0, 0.01);
    assert!(with(15.9).is_err());
    // Nails: 10 diameters in the densest woods, 14 in others.
    assert!(nail_lateral(Grain::Hard, 0.68, 3.0, 29.9, SOUND).is_err());
    assert!(nail_lateral(Grain::Hard, 0.68, 3.0, 30.0, SOUND).is_ok());
    assert!(nail_lateral(Grain::Soft, 0.35, 3.0, 41.9, SOUND).is_err());
    assert!(nail_lateral(Grain::Soft, 0.35, 3.0, 42.0, SOUND).is_ok());
}

#[test]
fn metric_factors_are_those_in_inches() {
    // Wood Handbook (2010) Table 8-4, read: pounds with inches, newtons with millimetres.
    let classes = [
        (Grain::Hard, 0.40, 3360.0, 1440.0),
        (Grain::Hard, 0.52, 4640.0, 2000.0),
        (Grain::Hard, 0.65, 6400.0, 2720.0),
        (Grain::Soft, 0.35, 3360.0, 1440.0),
        (Grain::Soft, 0.45, 4320.0, 1800.0),
        (Grain::Soft, 0.50, 5280.0, 2200.0),
    ];
    for (grain, gravity, screw, nail) in classes {
        let found = screw_lateral(grain, gravity, 4.0, 60.0, SOUND).unwrap();
        let expected = screw * POUND * (4.0_f64 / 25.4).powi(2);
        near(found, expected, expected * 0.0005);
        let found = nail_lateral(grain, gravity, 4.0, 60.0, SOUND).unwrap();
        let expected = nail * POUND * (4.0_f64 / 25.4).powf(1.5);
        near(found, expected, expected * 0.0005);
    }
}

#[test]
fn gauges_of_wood_screws() {
    // 0.060 + 0.013 N inches; worked out, and as printed in lists of screws.
    for (gauge, mm) in [
        (4.0, 2.84),
        (5.0, 3.175),
        (6.0, 3.51),
        (7.0, 3.84),
        (8.0, 4.17),
        (9.0, 4.50),
        (10.0, 4.83),
        (12.0, 5.49),
        (14.0, 6.15),
    ] {
        near(gauge_mm(gauge).unwrap(), mm, 0.005);
    }
}

#[test]
fn a_fifth_may_be_relied_on_which_is_near_the_design_value() {
    // National Design Specification: W = 2,850 G² D pounds an inch of thread, read; that is the
    // load of Eq. (8-10) divided by 5.509.
    near(safe(5218.2), 5218.2 / 5.0, 0.001);
    near(SAFETY, 15_700.0 / 2_850.0, 0.51);
}

#[test]
fn soundness_takes_its_share() {
    let with = |soundness| screw_withdrawal(0.68, 4.17, 25.0, soundness).unwrap();
    near(
        with(Soundness::SUSPECT),
        f64::from(with(SOUND)) / 2.0,
        0.001,
    );
    near(with(Soundness::STRIPPED), 0.0, 0.0);
    near(
        with(Soundness::of(0.25).unwrap()),
        f64::from(with(SOUND)) / 4.0,
        0.001,
    );
    assert!(Soundness::of(1.1).is_err());
    assert!(Soundness::of(-0.1).is_err());
}

/// Load of so many kg/m along a shelf, N/mm.
fn kg_per_m(kg: f32) -> f32 {
    kg * 9.806_65 / 1000.0
}

fn shelf(span: f32, thickness: f32, stiffness: f32) -> Shelf {
    Shelf::new(span, 250.0, thickness, stiffness, Ends::Resting).unwrap()
}

#[test]
fn shelves_sag_as_worked_out() {
    // Wood Handbook (2010) Eq. (9-2), read; table numbers of the factors from memory. White oak
    // 12,300 MPa, mahogany 10,300, white pine 8,500. Worked out.
    let books = kg_per_m(20.0);
    let oak = shelf(900.0, 20.0, 12_300.0);
    near(oak.sag(books).unwrap(), 0.8173, 0.0001);
    near(oak.shear_sag(books).unwrap(), 0.0062, 0.0001);
    let longer = shelf(1200.0, 20.0, 12_300.0);
    near(longer.sag(books).unwrap(), 2.5832, 0.0002);
    let thicker = shelf(900.0, 25.0, 12_300.0);
    near(thicker.sag(books).unwrap(), 0.4185, 0.0001);
    near(oak.sag_at_point(200.0).unwrap(), 1.4817, 0.0002);
    let arm = Shelf::new(450.0, 250.0, 20.0, 12_300.0, Ends::OneEnd).unwrap();
    near(arm.sag(books).unwrap(), 0.4904, 0.0001);
    near(oak.stress(books).unwrap(), 1.191, 0.001);
    near(oak.thickness_for(books, 360.0).unwrap(), 13.78, 0.005);
    // A fifth, if both ends could be held fast.
    let fixed = Shelf::new(900.0, 250.0, 20.0, 12_300.0, Ends::Fixed).unwrap();
    near(fixed.sag(books).unwrap(), 0.8173 / 5.0, 0.0001);
}

#[test]
fn shelves_carry_themselves_as_well() {
    // The same with densities of 720, 545 and 400 kg/m³.
    let books = kg_per_m(20.0);
    for (stiffness, density, expected) in [
        (12_300.0, 720.0, 0.964),
        (10_300.0, 545.0, 1.109),
        (8_500.0, 400.0, 1.301),
    ] {
        let shelf = shelf(900.0, 20.0, stiffness);
        let load = books + shelf.own_load(density).unwrap();
        near(shelf.sag(load).unwrap(), expected, 0.0005);
    }
    let oak = shelf(900.0, 20.0, 12_300.0);
    let load = books + oak.own_load(720.0).unwrap();
    near(load, 0.23144, 0.00001);
    near(oak.stress(load).unwrap(), 1.406, 0.001);
    near(900.0 / oak.sag(load).unwrap(), 933.0, 1.0);
    // Creep: Wood Handbook (2010) ch. 5, read: twice; Eurocode 5 Table 3.2, from memory: 1.6.
    let (least, most) = after_years(oak.sag(load).unwrap());
    near(least, 1.543, 0.001);
    near(most, 1.929, 0.001);
}

proptest! {
    #[test]
    fn fasteners_hold_what_they_do_in_inches(
        gravity in 0.3_f32..1.0,
        diameter in 1.5_f32..8.0,
        length in 1.0_f32..100.0,
    ) {
        let screw = screw_withdrawal(gravity, diameter, length, SOUND).unwrap();
        let expected = reference::screw(gravity.into(), diameter.into(), length.into());
        near(screw, expected, expected * 5e-5);
        let nail = nail_withdrawal(gravity, diameter, length, SOUND).unwrap();
        let expected = reference::nail(gravity.into(), diameter.into(), length.into());
        near(nail, expected, expected * 1e-4);
        // More of anything holds more.
        prop_assert!(screw_withdrawal(gravity * 1.01, diameter, length, SOUND).unwrap() > screw);
        prop_assert!(screw_withdrawal(gravity, diameter * 1.01, length, SOUND).unwrap() > screw);
        prop_assert!(nail_withdrawal(gravity, diameter, length * 1.01, SOUND).unwrap() > nail);
    }

    #[test]
    fn denser_wood_never_holds_less_sideways(
        gravity in 0.33_f32..1.0,
        more in 0.0_f32..0.2,
        diameter in 1.5_f32..6.0,
    ) {
        for grain in [Grain::Hard, Grain::Soft] {
            let at = |g| screw_lateral(grain, g, diameter, 100.0, SOUND).unwrap();
            prop_assert!(at(gravity + more) >= at(gravity));
            let at = |g| nail_lateral(grain, g, diameter, 100.0, SOUND).unwrap();
            prop_assert!(at(gravity + more) >= at(gravity));
        }
    }

    #[test]
    fn a_shelf_sags_as_its_curvature_adds_up(
        load in 0.01_f32..2.0,
        span in 300.0_f32..2000.0,
        width in 100.0_f32..500.0,
        thickness in 10.0_f32..40.0,
        stiffness in 5_000.0_f32..15_000.0,
    ) {
        let shelf = Shelf::new(span, width, thickness, stiffness, Ends::Resting).unwrap();
        let found = shelf.sag(load).unwrap();
        let [load, span, width, thickness, stiffness] =
            [load, span, width, thickness, stiffness].map(f64::from);
        let expected = reference::sag(load, span, width, thickness, stiffness);
        near(found, expected, expected * CLOSE_ENOUGH);
    }

    #[test]
    fn a_thickness_that_was_asked_for_gives_the_sag_that_was_asked_for(
        load in 0.05_f32..2.0,
        span in 300.0_f32..1500.0,
        ratio in 150.0_f32..600.0,
    ) {
        let shelf = Shelf::new(span, 250.0, 20.0, 12_000.0, Ends::Resting).unwrap();
        let thickness = shelf.thickness_for(load, ratio).unwrap();
        if (3.0..100.0).contains(&thickness) {
            let right = Shelf::new(span, 250.0, thickness, 12_000.0, Ends::Resting).unwrap();
            near(span / right.sag(load).unwrap(), ratio.into(), f64::from(ratio) * 1e-4);
        }
    }
}
