//! Parts that a note names and that the piece cannot have.

use super::Noting;
use tellmark_language::model::KindId;
use tellmark_language::words::{a, list_or};

/// So many pieces are named that have such a part.
const NAMED: usize = 3;

impl Noting<'_> {
    /// "By these rules a looking-glass has no ornament; a gilt glass has.", pieces like this one
    /// first; `None` if no piece has such a part.
    pub(super) fn who_has(&self, part: KindId) -> Option<String> {
        let kind = |kind: KindId| self.model.kinds.get(kind.index());
        let name = &kind(part)?.name;
        let own = kind(self.order.kind)?;
        let pieces = (0..self.model.kinds.len()).filter_map(|at| u16::try_from(at).ok());
        let pieces = pieces.map(KindId).filter(|&piece| {
            kind(piece).is_some_and(|kind| kind.is_piece) && self.is_made_of(piece, part, 0)
        });
        let mut pieces: Vec<KindId> = pieces.collect();
        let is_like = |&piece: &KindId| {
            let general = kind(piece).and_then(|kind| kind.general);
            general == Some(self.order.kind) || (general.is_some() && general == own.general)
        };
        pieces.sort_by_key(|piece| !is_like(piece));
        let named = pieces.iter().take(NAMED);
        let named: Vec<String> = named.filter_map(|&p| Some(a(&kind(p)?.name))).collect();
        match named.is_empty() {
            true => None,
            false => Some(format!(
                "By these rules {} has no {name}; {} has.",
                a(&own.name),
                list_or(&named)
            )),
        }
    }

    /// Whether a kind has parts of another, directly or in its parts.
    fn is_made_of(&self, owner: KindId, part: KindId, depth: u8) -> bool {
        const DEEPEST: u8 = 8;
        let members = self
            .model
            .kinds
            .get(owner.index())
            .map(|kind| &kind.members);
        let mut members = members.into_iter().flatten();
        depth < DEEPEST
            && members.any(|member| {
                self.model.is_kind_of(member.kind, part)
                    || self.is_made_of(member.kind, part, depth + 1)
            })
    }
}
