//! Pieces that may tip.

use super::near;
use super::reference::CLOSE_ENOUGH;
use proptest::prelude::*;
use tellmark_core::handbook::GRAVITY;
use tellmark_core::handbook::tipping::{
    CHILD, Mass, Restraint, Standing, leaned, load_that_tips, moment, pull_that_tips,
    pulled_out_that_tips, restraint, tilt_that_tips,
};

/// A carcase of 40 kg and four drawers of so many kg, of which so many are open by 300 mm.
fn chest(drawer_kg: f32, open: usize) -> f32 {
    let carcase = Mass {
        kg: 40.0,
        behind_mm: 225.0,
    };
    let drawer = Mass {
        kg: drawer_kg,
        behind_mm: 225.0,
    };
    let drawers = (0..4).map(|n| match n < open {
        true => drawer.pulled_out(300.0),
        false => drawer,
    });
    moment(drawers.chain([carcase])).unwrap()
}

#[test]
fn a_chest_with_its_drawers_open() {
    // Statics; worked out with g = 9.80665.
    for (kg, open, held, pull) in [
        (5.0, 0, 132.390, 155.75),
        (5.0, 1, 117.680, 138.45),
        (5.0, 4, 73.550, 86.53),
        (10.0, 4, 58.840, 69.22),
        (15.0, 4, 44.130, 51.92),
        (20.0, 4, 29.420, 34.61),
    ] {
        let found = chest(kg, open);
        near(found, held, 0.001);
        near(pull_that_tips(found, 850.0).unwrap(), pull, 0.01);
    }
    // A load on the front of the one drawer that is open, and a child of ASTM F2057-23 there.
    let one = chest(5.0, 1);
    let load = load_that_tips(one, 300.0).unwrap();
    near(load, 392.27, 0.01);
    near(load / GRAVITY, 40.0, 0.001);
    near(CHILD * GRAVITY * 0.3, 80.0, 0.05);
    // How far all drawers can come out.
    for (kg, out) in [(5.0, 675.0), (10.0, 450.0), (15.0, 375.0), (20.0, 337.5)] {
        let found = pulled_out_that_tips(chest(kg, 0), kg * 4.0).unwrap();
        near(found, out, 0.01);
    }
    // Leaned over, and on the edge of a carpet: 0.43 in (10.9 mm) is from memory.
    near(tilt_that_tips(225.0, 430.0).unwrap(), 27.62, 0.005);
    near(leaned(225.0, 430.0, 10.9, 450.0).unwrap(), 214.5, 0.05);
    near((10.9_f32 / 450.0).atan().to_degrees(), 1.388, 0.001);
}

#[test]
fn what_is_advised() {
    let low = Standing {
        height_mm: 500.0,
        opens_forward: true,
        is_top_heavy: false,
        all_open: 120.0,
        climbed_at_mm: 300.0,
    };
    assert_eq!(restraint(&low), Restraint::NotNeeded);
    let tall = Standing {
        height_mm: 850.0,
        ..low
    };
    assert_eq!(restraint(&tall), Restraint::Advised);
    let climbed = Standing {
        all_open: 73.55,
        ..low
    };
    assert_eq!(restraint(&climbed), Restraint::Always);
    let top_heavy = Standing {
        is_top_heavy: true,
        ..low
    };
    assert_eq!(restraint(&top_heavy), Restraint::Always);
    let tips = Standing {
        all_open: 0.0,
        climbed_at_mm: 0.0,
        ..low
    };
    assert_eq!(restraint(&tips), Restraint::Always);
    let closed = Standing {
        opens_forward: false,
        height_mm: 1500.0,
        ..low
    };
    assert_eq!(restraint(&closed), Restraint::NotNeeded);
}

proptest! {
    #[test]
    fn what_is_pulled_out_holds_back_less(
        kg in 0.1_f32..50.0,
        behind in 0.0_f32..500.0,
        out in 1.0_f32..500.0,
    ) {
        let carcase = Mass { kg: 40.0, behind_mm: 300.0 };
        let drawer = Mass { kg, behind_mm: behind };
        let closed = moment([carcase, drawer]).unwrap();
        let open = moment([carcase, drawer.pulled_out(out)]).unwrap();
        let lost = f64::from(kg) * f64::from(out) / 1000.0 * f64::from(GRAVITY);
        near(closed - open, lost, 1e-3 + lost * 1e-4);
    }

    #[test]
    fn a_pull_higher_up_tips_sooner_and_works_out_to_the_moment(
        held in 1.0_f32..500.0,
        height in 100.0_f32..2500.0,
    ) {
        let pull = pull_that_tips(held, height).unwrap();
        near(pull * height / 1000.0, held.into(), f64::from(held) * CLOSE_ENOUGH);
        prop_assert!(pull_that_tips(held, height + 50.0).unwrap() < pull);
        let load = load_that_tips(held, height / 2.0).unwrap();
        near(load, f64::from(pull) * 2.0, f64::from(load) * CLOSE_ENOUGH);
    }

    #[test]
    fn leaning_forward_brings_the_middle_forward(
        behind in 10.0_f32..500.0,
        height in 10.0_f32..2000.0,
        raised in 0.5_f32..50.0,
    ) {
        prop_assert!(leaned(behind, height, raised, 400.0).unwrap() < behind);
        near(leaned(behind, height, 0.0, 400.0).unwrap(), behind.into(), 1e-4);
        // By the very angle at which it tips, nothing is left.
        let tilt = tilt_that_tips(behind, height).unwrap();
        let raised = tilt.to_radians().tan() * 2000.0;
        if raised <= 1000.0 {
            near(leaned(behind, height, raised, 2000.0).unwrap(), 0.0, 0.01);
        }
    }
}
