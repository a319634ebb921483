//! The rules by which a unit's pack was built: those that are at hand, with some of the
//! families of pieces.

use super::super::exit::Stopped;
use super::super::frame::Frame;
use tellmark_compile::check::Checked;
use tellmark_job::house::{self, Families};

/// The rules at hand with those families that the pack of this name was built with; `None` if
/// it was built from other rules.
pub(super) fn of_pack(pack: u32, frame: &Frame<'_>) -> Result<Option<Checked>, Stopped> {
    let house = frame.rules()?;
    let each = Families::names().into_iter();
    let each = each.map(|name| Families::These(vec![name.to_owned()]));
    let some = std::iter::once(Families::These(Vec::new())).chain(each);
    let all: Vec<Families> = match &frame.global.families {
        Some(asked) => vec![asked.clone()],
        // With all of them a pack is too long, unless a house left most of it out.
        None if house.is_none() => some.collect(),
        None => some.chain([Families::All]).collect(),
    };
    for families in all {
        let checked = house::ready(house, &families)?;
        let opened = checked.built.as_ref().map(|built| built.bytes.open());
        if matches!(opened, Some(Ok(opened)) if opened.id() == pack) {
            return Ok(Some(checked));
        }
    }
    Ok(None)
}
