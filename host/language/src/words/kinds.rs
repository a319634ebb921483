//! What a kind of part is made of, and what it has from the kind that it is a kind of.

use super::entries;
use super::grammar::{a, list, sentence};
use super::part::{kind_name, kind_plural};
use crate::model::{Kind, Member, Model};

/// "A bureau is a kind of chest of drawers. It has a fall and 4 bracket feet (instead of its
/// feet), no cornice, and like any chest of drawers 2 to 10 drawers (taken as 4 until
/// counted)." Without what it is a kind of, only what it has; `None` for a kind that the
/// house says nothing of.
#[must_use]
pub fn makeup(model: &Model, kind: &Kind) -> Option<String> {
    let Some(general) = kind.general.and_then(|id| model.kinds.get(id.index())) else {
        return entries::makeup(model, kind);
    };
    let is_inherited = |member: &Member| general.members.iter().any(|m| m.at == member.at);
    let own = kind.members.iter().filter(|member| !is_inherited(member));
    let mut has: Vec<String> = own
        .map(|member| own_member(model, general, kind, member))
        .collect();
    let left_out = kind.left_out.iter();
    has.extend(left_out.map(|&part| format!("no {}", kind_name(model, part))));
    let inherited = kind.members.iter().filter(|member| is_inherited(member));
    let inherited: Vec<String> = inherited.map(|m| entries::member(model, m)).collect();
    if !inherited.is_empty() {
        has.push(format!("like any {} {}", general.name, list(&inherited)));
    }
    let kind_of = sentence(&format!("{} is a kind of {}", a(&kind.name), general.name));
    let has = has.join("; ");
    Some(match has.as_str() {
        "" => kind_of,
        has => format!("{kind_of} {}", sentence(&format!("it has {has}"))),
    })
}

/// "4 bracket feet (instead of its feet)".
fn own_member(model: &Model, general: &Kind, kind: &Kind, member: &Member) -> String {
    let said = entries::member(model, member);
    let has = |wanted: &dyn Fn(&Member) -> bool| kind.members.iter().any(wanted);
    let is_gone = |inherited: &&Member| {
        let stays = has(&|m: &Member| m.at == inherited.at);
        let is_said_again = has(&|m: &Member| m.kind == inherited.kind);
        model.are_kin(inherited.kind, member.kind)
            && !stays
            && (inherited.kind == member.kind || !is_said_again)
    };
    let replaced: Vec<String> = general
        .members
        .iter()
        .filter(is_gone)
        .map(
            |inherited| match (inherited.kind == member.kind, inherited.most) {
                (true, _) => entries::member_count(model, inherited),
                (false, 1) => format!("its {}", kind_name(model, inherited.kind)),
                (false, _) => format!("its {}", kind_plural(model, inherited.kind)),
            },
        )
        .collect();
    if replaced.is_empty() {
        said
    } else {
        format!("{said} instead of {}", list(&replaced))
    }
}
