//! What a script is given: plain values that can be sent to another process.

use rhai::{Dynamic, Map};
use serde::{Deserialize, Serialize};

/// A plain value.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(super) enum Value {
    /// What the rules do not say.
    Nothing,
    /// A yes or no.
    Yes(bool),
    /// A whole number.
    Whole(i64),
    /// A text.
    Text(String),
    /// A list of texts.
    Texts(Vec<String>),
    /// Named values.
    Map(Vec<(String, Value)>),
}

/// Named values.
pub(super) fn map<const N: usize>(entries: [(&str, Value); N]) -> Value {
    Value::Map(named(entries))
}

/// Values with their names.
pub(super) fn named<const N: usize>(entries: [(&str, Value); N]) -> Vec<(String, Value)> {
    let entries = entries.into_iter();
    entries
        .map(|(name, value)| (name.to_owned(), value))
        .collect()
}

/// A whole number.
pub(super) fn whole(number: impl TryInto<i64>) -> Value {
    Value::Whole(number.try_into().unwrap_or(i64::MAX))
}

/// A text.
pub(super) fn text(text: &str) -> Value {
    Value::Text(text.to_owned())
}

/// A list of texts.
pub(super) fn texts<'t>(texts: impl IntoIterator<Item = &'t str>) -> Value {
    Value::Texts(texts.into_iter().map(str::to_owned).collect())
}

/// A value, or nothing.
pub(super) fn or_nothing<T>(value: Option<T>, of: impl FnOnce(T) -> Value) -> Value {
    value.map_or(Value::Nothing, of)
}

impl From<Value> for Dynamic {
    fn from(value: Value) -> Dynamic {
        match value {
            Value::Nothing => Dynamic::UNIT,
            Value::Yes(yes) => yes.into(),
            Value::Whole(number) => number.into(),
            Value::Text(text) => text.into(),
            Value::Texts(texts) => {
                let list: rhai::Array = texts.into_iter().map(Dynamic::from).collect();
                list.into()
            }
            Value::Map(entries) => {
                let entries = entries.into_iter();
                let map: Map = entries.map(|(name, v)| (name.into(), v.into())).collect();
                map.into()
            }
        }
    }
}
