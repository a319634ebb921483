//! Values for scripts.

use rhai::{Dynamic, Map};

/// A map of these.
pub(super) fn map<const N: usize>(entries: [(&str, Dynamic); N]) -> Dynamic {
    let map: Map = entries
        .into_iter()
        .map(|(name, value)| (name.into(), value))
        .collect();
    map.into()
}

/// A whole number.
pub(super) fn whole(number: impl TryInto<i64>) -> Dynamic {
    number.try_into().unwrap_or(i64::MAX).into()
}

/// A list of texts.
pub(super) fn texts<'t>(texts: impl IntoIterator<Item = &'t str>) -> Dynamic {
    let list: rhai::Array = texts.into_iter().map(Dynamic::from_text).collect();
    list.into()
}

/// A text, or nothing.
pub(super) fn text_or_nothing(text: Option<&str>) -> Dynamic {
    text.map_or(Dynamic::UNIT, Dynamic::from_text)
}

/// Making a value of a text.
pub(super) trait FromText {
    /// The value.
    fn from_text(text: &str) -> Self;
}

impl FromText for Dynamic {
    fn from_text(text: &str) -> Self {
        text.to_owned().into()
    }
}
