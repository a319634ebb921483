//! What to write instead: figures, labels and sentences as they stand in a house's file.

use super::Say;
use tellmark_language::label::LABELS;
use tellmark_language::model::{HowOften, Model, Strength, Thousandths};
use tellmark_language::span::Span;
use tellmark_language::{text_of, words};

/// How to say a label of a declaration: where it stands, or again.
pub(super) fn with_label(say: &Say<'_>, at: Span, label: &str, value: &str) -> String {
    let then = format!("{label}: {value}");
    if say.is_standard(at) {
        return format!("write \"{}  {then}\"", written(say, at));
    }
    let line = say.line(at);
    match label_of(&text_of(&say.reading.files, at), label) {
        Some(now) => format!("in {line}, write \"{then}\" instead of \"{now}\""),
        None => format!("write \"{then}\" under {line}"),
    }
}

/// A sentence as it was written, without its labels.
pub(super) fn written(say: &Say<'_>, at: Span) -> String {
    let text = text_of(&say.reading.files, at);
    text[..first_label(&text)].trim_end().to_owned()
}

/// Every figure that can be said simply.
pub(super) fn figures(model: &Model) -> Vec<HowOften> {
    let word = |word: &(Strength, Thousandths)| HowOften {
        word: Some(word.0),
        cases: None,
        chance: word.1,
    };
    let mut all: Vec<HowOften> = model
        .scale
        .iter()
        .filter(|(word, _)| {
            matches!(
                word,
                Strength::NearlyAlways | Strength::Usually | Strength::Often | Strength::Sometimes
            )
        })
        .map(word)
        .collect();
    all.extend((1..10).map(|tenths| counted(tenths, 10)));
    all.push(counted(5, 100));
    all
}

/// Where the first label of an entry begins; its end, if there is none.
fn first_label(text: &str) -> usize {
    let places = LABELS
        .iter()
        .filter_map(|(_, label, _)| text.find(&format!(" {label}:")));
    places.min().unwrap_or(text.len())
}

/// A label with its value, as it stands in an entry.
fn label_of<'t>(text: &'t str, label: &str) -> Option<&'t str> {
    let from = text.find(&format!(" {label}:"))? + 1;
    let value = from + label.len() + 1;
    let end = value + first_label(&text[value..]);
    Some(text[from..end].trim_end().trim_end_matches('.'))
}

/// Choices, one a line.
pub(super) fn lines(ways: &[String]) -> String {
    ways.iter().map(|way| format!("\n  - {way}")).collect()
}

pub(super) fn counted(some: u32, all: u32) -> HowOften {
    let chance = u16::try_from(some * 1000 / all).unwrap_or(1000);
    HowOften {
        word: None,
        cases: Some((some, all)),
        chance: Thousandths(chance),
    }
}

pub(super) fn share(often: &HowOften) -> f64 {
    f64::from(often.chance.0) / 1000.0
}

/// A figure as it is written in a sentence: "usually", "in 2 of 10 cases".
pub(super) fn often_words(often: &HowOften) -> String {
    match (often.word, often.cases) {
        (Some(word), _) => words::strength_word(word).to_owned(),
        (None, Some((some, all))) => format!("in {some} of {all} cases"),
        (None, None) => words::how_often(often),
    }
}

#[cfg(test)]
mod tests {
    use super::{first_label, label_of};

    #[test]
    fn a_label_ends_where_the_next_begins() {
        let text =
            "A drawer may be odd without showing it. On its own: rarely. Missed: 1 hour, risk 1";
        assert_eq!(label_of(text, "On its own"), Some("On its own: rarely"));
        assert_eq!(label_of(text, "Missed"), Some("Missed: 1 hour, risk 1"));
        assert_eq!(label_of(text, "Slip"), None);
        assert_eq!(
            &text[..first_label(text)],
            "A drawer may be odd without showing it."
        );
    }
}
