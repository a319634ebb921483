//! The figures that make the sentences about one sign come true, in closed form where
//! a fault can be on one part only.

use super::joint::Joint;
use super::reading::{Reading, is_said};
use crate::fitted::{Fitted, SHOWS};
use crate::rules::Rules;

/// The most often that a fault can be taken to show a sign.
const MOST: f64 = 0.99;
/// Smallest and largest false-alarm chance.
const ALARM: (f64, f64) = (0.000_5, 0.9);

/// Fits one sign.
pub(super) fn solve(rules: Rules<'_>, joint: &Joint, reading: &Reading, fitted: &mut Fitted) {
    let sentences = || reading.means.iter().map(|&i| &rules.model.means[i]);
    let wanted: Vec<f64> = sentences()
        .map(|means| f64::from(means.strength.chance.0) / 1000.0)
        .collect();
    let said: Vec<bool> = sentences()
        .map(|means| is_said(rules.model, means))
        .collect();
    let solve = |alarm: f64| links(joint, alarm, &wanted, &said);
    let alarm = match said.iter().position(|&s| s) {
        Some(fixed) => rise_to(-wanted[fixed], ALARM, |alarm| {
            -joint.after_yes(alarm, &solve(alarm), fixed)
        }),
        None => rise_to(SHOWS, ALARM, |alarm| {
            solve(alarm).into_iter().fold(0.0, f64::max)
        }),
    };
    let alarm = to_millionths(alarm);
    fitted.set_false_alarm(reading.place, rules.states.declared(reading.sign), alarm);
    for ((&means, &said), link) in reading.means.iter().zip(&said).zip(solve(alarm)) {
        if !said {
            fitted.set_link(reading.place, means, to_millionths(link));
        }
    }
}

/// A chance to the nearest millionth: finer than any sentence, and coarse
/// enough that the fit comes out the same in whatever order the compiler
/// multiplies.
fn to_millionths(chance: f64) -> f64 {
    (chance * 1e6).round() / 1e6
}

/// How often each fault must show the sign, given its false-alarm chance.
fn links(joint: &Joint, alarm: f64, wanted: &[f64], said: &[bool]) -> Vec<f64> {
    let mut links = vec![0.0; wanted.len()];
    for _ in 0..40 {
        let mut moved: f64 = 0.0;
        for i in 0..links.len() {
            if !said[i] {
                let link = link(joint, alarm, &links, i, wanted[i]);
                moved = moved.max((link - links[i]).abs());
                links[i] = link;
            }
        }
        if links.len() == 1 || moved < 1e-6 {
            break;
        }
    }
    links
}

/// The link that makes one sentence come true, the others being given. A
/// fault that can be on one part only makes both chances straight lines in
/// its link, so that two points on each are enough.
fn link(joint: &Joint, alarm: f64, links: &[f64], sentence: usize, wanted: f64) -> f64 {
    let mut tried = links.to_vec();
    let mut at = |link: f64| {
        tried[sentence] = link;
        joint.yes(alarm, &tried, sentence)
    };
    let parts = joint.sentence.iter().filter(|&&s| s == sentence).count();
    if parts > 1 {
        return rise_to(wanted, (0.0, MOST), |link| {
            let (yes, with) = at(link);
            if yes > 0.0 { with / yes } else { 0.0 }
        });
    }
    let ((yes, with), (yes_linked, with_linked)) = (at(0.0), at(1.0));
    let rise = (with_linked - with) - wanted * (yes_linked - yes);
    let short = wanted * yes - with;
    if short <= 0.0 {
        0.0
    } else if rise * MOST <= short {
        MOST
    } else {
        short / rise
    }
}

/// Where a rising function reaches a value.
fn rise_to(target: f64, (low, high): (f64, f64), mut value: impl FnMut(f64) -> f64) -> f64 {
    let (mut low, mut high) = (low, high);
    for _ in 0..30 {
        let middle = f64::midpoint(low, high);
        if value(middle) < target {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}
