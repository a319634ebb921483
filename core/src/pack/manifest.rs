//! What a pack says of itself.

/// Title and version of a pack, stored with postcard.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Manifest<'a> {
    /// "the bench at Mill Lane".
    #[serde(borrow)]
    pub title: &'a str,
    /// Version of the rules.
    pub version: u32,
    /// Version of the tool that made the pack.
    pub made_by: &'a str,
}
