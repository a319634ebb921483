//! Chances in words and figures.

use tellmark_core::sureness;

use crate::model::{HowOften, Strength, Sureness, Thousandths};

/// "82 in 100"; at the ends "under 1 in 100" and "over 99 in 100", since
/// nothing worked out from slips of the eye is ever certain. A chance that is
/// no number is "not known".
#[must_use]
pub fn figure(chance: f64) -> String {
    if chance.is_nan() {
        "not known".to_owned()
    } else if chance < 0.01 {
        "under 1 in 100".to_owned()
    } else if chance > 0.99 {
        "over 99 in 100".to_owned()
    } else {
        format!("{:.0} in 100", chance * 100.0)
    }
}

/// Whether a chance has come to a mark in hundredths, a millionth allowed for,
/// as [`tellmark_core::number::Share::reaches`] allows it.
#[must_use]
pub fn reaches(chance: f64, mark: u8) -> bool {
    reaches_thousandths(chance, u16::from(mark) * 10)
}

fn reaches_thousandths(chance: f64, mark: u16) -> bool {
    chance + 1e-6 >= f64::from(mark) / 1000.0
}

/// How sure, in words that can stand where "probably" stands:
///
/// | chance | word |
/// | --- | --- |
/// | 95 in 100 or more | almost certainly |
/// | 60 in 100 or more | probably |
/// | 15 in 100 or more | possibly |
/// | 5 in 100 or more | probably not |
/// | less | almost certainly not |
///
/// The upper marks are those of `surely`, `probably` and `possibly` in the
/// rule language, so a screen never says "possibly" where a rule that waits
/// for "possibly" stays still.
#[must_use]
pub fn sureness_word(chance: f64) -> &'static str {
    if reaches(chance, Sureness::Surely.percent()) {
        "almost certainly"
    } else if reaches(chance, Sureness::Probably.percent()) {
        "probably"
    } else if reaches(chance, Sureness::Possibly.percent()) {
        "possibly"
    } else if reaches_thousandths(chance, sureness::PROBABLY_NOT) {
        "probably not"
    } else {
        "almost certainly not"
    }
}

/// The word as the house writes it.
#[must_use]
pub fn strength_word(strength: Strength) -> &'static str {
    match strength {
        Strength::ByDefinition => "by definition",
        Strength::Always => "always",
        Strength::NearlyAlways => "nearly always",
        Strength::Usually => "usually",
        Strength::Often => "often",
        Strength::Sometimes => "sometimes",
        Strength::Rarely => "rarely",
        Strength::HardlyEver => "hardly ever",
    }
}

/// "8 in 10", "19 in 20", "3 in 100": the smallest of these that is exact.
#[must_use]
pub fn cases(chance: Thousandths) -> String {
    let thousandths = u32::from(chance.0);
    let of = [10, 20, 100]
        .into_iter()
        .find(|of| thousandths * of % 1000 == 0)
        .unwrap_or(1000);
    format!("{} in {of}", thousandths * of / 1000)
}

/// "usually (8 in 10)", "in 7 of 10 cases", "by definition".
#[must_use]
pub fn how_often(often: &HowOften) -> String {
    match (often.word, often.cases) {
        (Some(Strength::ByDefinition), _) => strength_word(Strength::ByDefinition).to_owned(),
        (Some(word), _) => format!("{} ({})", strength_word(word), cases(often.chance)),
        (None, Some((some, all))) => format!("in {some} of {all} cases"),
        (None, None) => format!("in {} cases", cases(often.chance).replace(" in ", " of ")),
    }
}

/// "1,240.50", of "1240.50"; "-250.00".
#[must_use]
pub fn money(amount: &str) -> String {
    let (sign, amount) = match amount.strip_prefix('-') {
        Some(amount) => ("-", amount),
        None => ("", amount),
    };
    let (whole, rest) = amount.split_at(amount.find('.').unwrap_or(amount.len()));
    let mut grouped = sign.to_owned();
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    grouped + rest
}
