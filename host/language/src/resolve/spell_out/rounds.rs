//! Rounds: that of what a piece is a kind of, where it has none of its own.

use tellmark_core::limits::MAX_STEPS;

use super::Spell;
use crate::message::{Message, Problem};
use crate::model::{KindId, Known, PIECE, Round, SignId, Step};
use crate::resolve::look::{Done, refuse};

impl Spell<'_> {
    /// The round of every piece: its own, or that of what it is a kind of.
    pub(super) fn rounds(&self, refused: &mut Vec<Message>) -> Vec<Round> {
        let said = |kind: KindId| self.model.rounds.iter().find(|round| round.piece == kind);
        let mut rounds = Vec::new();
        for (piece, kind) in (0..).map(KindId).zip(&self.model.kinds) {
            let round = self.model.lineage(piece).find_map(said);
            let Some(round) = round.filter(|_| kind.is_piece) else {
                continue;
            };
            match self.round(piece, round) {
                Ok(spelt) => rounds.push(spelt),
                Err(message) => refused.push(*message),
            }
        }
        rounds
    }

    fn round(&self, piece: KindId, round: &Round) -> Done<Round> {
        // Each with the member of the piece that it is about; steps about the same members
        // follow one another.
        let mut runs: Vec<Vec<(KindId, Step)>> = Vec::new();
        for step in &round.steps {
            let only_if = step.only_if.as_ref();
            let only_if = only_if
                .map(|when| self.condition(piece, when))
                .transpose()?;
            let asked = self.asked(piece, step.sign).into_iter().map(|sign| {
                let step = Step {
                    sign,
                    only_if: only_if.clone(),
                    known: step.known.map(|known| self.known(piece, known)),
                    at: step.at,
                };
                let kind = self.model.signs[sign.index()].kind;
                (self.member_with(piece, kind), step)
            });
            let asked: Vec<(KindId, Step)> = asked.collect();
            let is_about = |run: &Vec<(KindId, Step)>| {
                let mut members = run.iter().map(|(member, _)| member);
                members.any(|member| asked.iter().any(|(other, _)| other == member))
            };
            match runs.last_mut() {
                Some(run) if is_about(run) => run.extend(asked),
                _ => runs.push(asked),
            }
        }
        let steps: Vec<Step> = runs.into_iter().flat_map(one_after_the_other).collect();
        if steps.len() > MAX_STEPS {
            return refuse(round.at, Problem::RoundTooLong { most: MAX_STEPS });
        }
        Ok(Round {
            piece,
            steps,
            at: round.at,
        })
    }

    /// What a step waits for, on this piece.
    fn known(&self, piece: KindId, known: Known) -> Known {
        let asked = self.asked(piece, known.sign).first().copied();
        Known {
            sign: asked.unwrap_or(known.sign),
            ..known
        }
    }

    /// The member of a piece that a kind of part is, or stands in; the piece itself for what
    /// is asked of it.
    fn member_with(&self, piece: KindId, part: KindId) -> KindId {
        let mut members = self.tree.members(piece).iter().map(|member| member.kind);
        let holds = |&member: &KindId| member == part || self.tree.is_within(part, member);
        members.find(holds).unwrap_or(piece)
    }

    /// What a step of a round asks of a piece: its sign, of every kind of part that it has.
    fn asked(&self, piece: KindId, sign: SignId) -> Vec<SignId> {
        let kind = self.model.signs[sign.index()].kind;
        let declared = self.model.declared_sign(sign);
        let likes = (0..)
            .map(SignId)
            .zip(&self.model.signs)
            .filter(|(id, like)| {
                self.model.declared_sign(*id) == declared
                    && self.model.is_kind_of(like.kind, kind)
                    && (like.kind == piece
                        || like.kind == PIECE
                        || self.tree.is_within(like.kind, piece))
            });
        let likes: Vec<SignId> = likes.map(|(id, _)| id).collect();
        let is_own = self.model.rounds.iter().any(|round| round.piece == piece);
        if likes.is_empty() && is_own {
            vec![sign]
        } else {
            likes
        }
    }
}

/// Steps about the same members of a piece: everything about the first, then everything
/// about the next.
fn one_after_the_other(run: Vec<(KindId, Step)>) -> Vec<Step> {
    let mut members: Vec<KindId> = Vec::new();
    for (member, _) in &run {
        if !members.contains(member) {
            members.push(*member);
        }
    }
    let of = |member: KindId| run.iter().filter(move |(about, _)| *about == member);
    let steps = members.into_iter().flat_map(of);
    steps.map(|(_, step)| step.clone()).collect()
}
