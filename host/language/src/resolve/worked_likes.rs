//! What a measure is worked out from, of a kind that has it from another kind: its own
//! readings, and those of the parts that it has.

use crate::message::{Message, Problem};
use crate::model::{Asks, KindId, Operand, SignId};
use crate::resolve::Reader;
use crate::words::{a, capital, list};

impl Reader<'_> {
    /// Lets every measure that is worked out go by the readings of its own kind, and of the
    /// kinds of parts that this kind has.
    pub(super) fn inherit_workings(&mut self) {
        if self.model.kinds.iter().all(|kind| kind.general.is_none()) {
            return;
        }
        let spreads: Vec<bool> = (0..)
            .map(SignId)
            .zip(&self.model.signs)
            .map(|(id, _)| self.has_the_spread_of_its_readings(id))
            .collect();
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
        // One may be worked out from another: as often as they can stand one on the other.
        for _ in 0..self
            .model
            .signs
            .iter()
            .filter(|s| s.worked.is_some())
            .count()
        {
            for (sign, &by_readings) in spreads.iter().enumerate() {
                self.fit_to_parts(sign, by_readings);
            }
        }
    }

    /// Whether nobody said how far a measure that is worked out may be out.
    fn has_the_spread_of_its_readings(&self, sign: SignId) -> bool {
        let said = &self.model.signs[self.model.declared_sign(sign).index()];
        let (Some(worked), Asks::HowMuch { gauge, .. }) = (&said.worked, &said.asks) else {
            return false;
        };
        let notes = std::cell::RefCell::new(Vec::new());
        self.look(&notes).spread(said.kind, worked) == *gauge
    }

    /// How far it goes, and how far it may be out, with as many parts as its kind has.
    fn fit_to_parts(&mut self, sign: usize, by_readings: bool) {
        let (kind, Some(worked)) = (self.model.signs[sign].kind, &self.model.signs[sign].worked)
        else {
            return;
        };
        let notes = std::cell::RefCell::new(Vec::new());
        let look = self.look(&notes);
        if worked.handbook.is_some() {
            // The measures that go into it are the same of each kind.
            return;
        }
        let (ends, spread) = (look.ends(kind, worked), look.spread(kind, worked));
        let Asks::HowMuch {
            least, most, gauge, ..
        } = &mut self.model.signs[sign].asks
        else {
            return;
        };
        (*least, *most) = ends;
        if by_readings {
            *gauge = spread;
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
                owner: None,
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
