//! Work that hangs on something: one job in the place of another.

use crate::model::{Condition, JobId, KindId, Model, PIECE, SourceId};
use crate::span::Span;

/// `When …, instead of … plan to …`: where the rules call for the one job and this is so,
/// the other is planned in its place, on the same part.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug)]
pub struct StandIn {
    /// The kind of part that the condition is about: the one that the job is planned on,
    /// or what that is built into.
    pub subject: KindId,
    /// What must be so.
    pub when: Condition,
    /// The job that is not planned then.
    pub replaced: JobId,
    /// The job in its place.
    pub job: JobId,
    /// `From:`.
    pub source: Option<SourceId>,
    /// `Called:`.
    pub called: Option<String>,
    /// Where the name of the replaced job stands.
    pub replaced_at: Span,
    /// The sentence, without its particulars.
    pub said_at: Span,
    /// The whole entry.
    pub at: Span,
}

impl Model {
    /// Whether a part is of a kind or is built into one of that kind, whatever piece it is
    /// in; every part is built into "the piece".
    #[must_use]
    pub fn is_or_is_in(&self, part: KindId, owner: KindId) -> bool {
        if part == owner || owner == PIECE {
            return true;
        }
        let mut reached = vec![false; self.kinds.len()];
        let mut open = vec![owner];
        while let Some(kind) = open.pop() {
            let members = self.kinds.get(kind.index()).map_or(&[][..], |k| &k.members);
            for member in members {
                if member.kind == part {
                    return true;
                }
                if !std::mem::replace(&mut reached[member.kind.index()], true) {
                    open.push(member.kind);
                }
            }
        }
        false
    }
}
