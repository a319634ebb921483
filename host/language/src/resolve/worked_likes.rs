//! What a measure is worked out from, of a kind that has it from another kind: its own
//! readings, and those of the parts that it has.

use crate::message::{Message, Problem};
use crate::model::{KindId, Operand, SignId};
use crate::resolve::Reader;
use crate::words::{a, capital, list};

impl Reader<'_> {
    /// Lets every measure that is worked out go by the readings of its own kind, and of the
    /// kinds of parts that this kind has.
    pub(super) fn inherit_workings(&mut self) {
        for sign in 0..self.model.signs.len() {
            let Some(mut worked) = self.model.signs[sign].worked.clone() else {
                continue;
            };
            for operand in &mut worked.of {
                match self.operand_of(self.model.signs[sign].kind, *operand) {
                    Ok(own) => *operand = own,
                    Err(kinds) => self.over_kinds(sign, *operand, &kinds),
                }
            }
            self.model.signs[sign].worked = Some(worked);
        }
    }

    /// The operand as this kind has it; the kinds of parts, if there are several.
    fn operand_of(&self, kind: KindId, operand: Operand) -> Result<Operand, Vec<KindId>> {
        let Some(part) = operand.part else {
            let sign = self.like_of(operand.sign, kind);
            return Ok(Operand { sign, ..operand });
        };
        let members = self.tree.members(kind).iter().map(|member| member.kind);
        let such: Vec<KindId> = members
            .filter(|&member| self.model.is_kind_of(member, part.kind))
            .collect();
        match such[..] {
            // It has no such part, and so no such reading.
            [] => Ok(operand),
            [kind] => Ok(Operand {
                part: Some(crate::model::OwnPart { kind, ..part }),
                sign: self.like_of(operand.sign, kind),
            }),
            _ => Err(such),
        }
    }

    /// The like of a sign of a kind; the sign itself, if there is none.
    fn like_of(&self, sign: SignId, kind: KindId) -> SignId {
        let root = self.model.declared_sign(sign);
        let mut signs = (0..).map(SignId).zip(&self.model.signs);
        let like =
            signs.find(|(id, one)| one.kind == kind && self.model.declared_sign(*id) == root);
        like.map_or(sign, |(id, _)| id)
    }

    /// Refuses readings of parts of several kinds together.
    fn over_kinds(&mut self, sign: usize, operand: Operand, kinds: &[KindId]) {
        let plural = |kind: &KindId| self.model.kinds[kind.index()].plural.clone();
        let kinds: Vec<String> = kinds.iter().map(plural).collect();
        let sign = &self.model.signs[sign];
        let said = operand
            .part
            .map_or_else(String::new, |part| plural(&part.kind));
        let message = Message::new(
            sign.at,
            Problem::CountedOverKinds {
                owner: &capital(&a(&self.model.kinds[sign.kind.index()].name)),
                plural: &said,
                kinds: &list(&kinds),
            },
        );
        self.say(message);
    }
}
