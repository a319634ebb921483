//! A reading beside what was judged of the same measure by eye, where no rule reads it: the
//! words alone say that a slide worn 9 mm is worn at least 2 mm.

use tellmark_core::belief::gauge::{WHOLE, between};
use tellmark_core::inspection::{Given, Inspection};
use tellmark_core::pack::{Form, Trial};
use tellmark_core::piece::Answer;

use super::Doubt;
use tellmark_compile::StateRow;
use tellmark_compile::set_up::SetUp;

/// What speaks against a judgement beside a reading, and so against the reading; `None` if
/// they are not about one measure, or if rules read it.
pub(super) fn doubt(
    set_up: &SetUp<'_>,
    inspection: &Inspection<'_, '_, f64>,
    reading: Given,
    judged: Given,
) -> Option<(Doubt, Doubt)> {
    let Answer::Reading(ticks) = reading.answer else {
        return None;
    };
    let row = named(set_up, reading, judged)?;
    let ask = |given: Given| inspection.pack().ask(usize::from(given.ask));
    let Form::HowMuch { gauge, .. } = ask(reading).form else {
        return None;
    };
    let inside = inside(row.trial, ticks, gauge)?;
    // How likely what was judged is if it is not so, and if it is.
    let slip = f64::from(ask(judged).slip) / 1000.0;
    let (no, yes) = match judged.answer {
        Answer::Seen(true) => (slip, 1.0 - slip),
        Answer::Seen(false) => (1.0 - slip, slip),
        Answer::Certain(true) => (0.0, 1.0),
        Answer::Certain(false) => (1.0, 0.0),
        _ => return None,
    };
    let usual = row.alone * yes + (1.0 - row.alone) * no;
    let together = inside * yes + (1.0 - inside) * no;
    let rarer = together / usual;
    let slip = match judged.answer {
        Answer::Seen(true) => (1.0 - inside) * no / together,
        Answer::Seen(false) => inside * yes / together,
        _ => 0.0,
    };
    Some((Doubt { rarer, slip: 0.0 }, Doubt { rarer, slip }))
}

/// The name that was judged, if it is one of the measure that was read and no rule
/// reads it.
fn named<'s>(set_up: &SetUp<'s>, reading: Given, judged: Given) -> Option<&'s StateRow> {
    let is_meant =
        |row: &&StateRow| row.ask == reading.ask && row.whether == Some(judged.ask) && !row.in_use;
    let mut rows = set_up.built.states.states.iter();
    (reading.part == judged.part).then(|| rows.find(is_meant))?
}

/// How much of what the gauge may have meant lies within the bounds of a name.
fn inside(trial: Trial, reading: i32, gauge: u16) -> Option<f64> {
    let Trial::Within(from, to) = trial else {
        return None;
    };
    if gauge == 0 {
        return Some(f64::from(u8::from(from <= reading && reading <= to)));
    }
    let distance = |at: i64| at - i64::from(reading);
    let from = (from != i32::MIN).then(|| distance(i64::from(from)));
    let to = (to != i32::MAX).then(|| distance(i64::from(to) + 1));
    #[allow(clippy::cast_precision_loss)]
    let mass = |part: u64| part as f64 / WHOLE as f64;
    Some(mass(between(from, to, gauge.into())))
}
