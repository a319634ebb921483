//! What is a kind of what, and what a kind has from the kind that it is a kind of.

use crate::model::{Caution, HowOften, KindId, Model, Sign, SignId, State, StateId, Thousandths};

/// What kinds have from the kinds that they are kinds of.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, Default)]
pub struct Inherited {
    /// The last states of the model are the likes of these declared ones: "a bracket foot
    /// is damp" of "a foot is damp".
    pub states: Vec<StateId>,
    /// The last signs are the likes of these.
    pub signs: Vec<SignId>,
    /// Declared states that are the likes of others: what is said again of a kind, with
    /// figures of its own. First the one of the special kind; sorted by that.
    pub states_again: Vec<(StateId, StateId)>,
    /// The same of signs.
    pub signs_again: Vec<(SignId, SignId)>,
    /// The sentences as they were said, before each was spelt out for every kind that it
    /// speaks of; `None` if nothing is a kind of anything.
    pub said: Option<Box<Model>>,
}

impl Model {
    /// A kind, the kind that it is a kind of, and so on.
    pub fn lineage(&self, kind: KindId) -> impl Iterator<Item = KindId> + '_ {
        let general = |at: &KindId| self.kinds.get(at.index())?.general;
        std::iter::successors(Some(kind), general).take(self.kinds.len())
    }

    /// Whether one kind is the other, or a kind of it.
    #[must_use]
    pub fn is_kind_of(&self, kind: KindId, general: KindId) -> bool {
        self.lineage(kind).any(|at| at == general)
    }

    /// Whether one of two kinds is a kind of the other.
    #[must_use]
    pub fn are_kin(&self, one: KindId, other: KindId) -> bool {
        self.is_kind_of(one, other) || self.is_kind_of(other, one)
    }

    /// A kind, and after it every kind of it.
    pub fn kinds_of(&self, general: KindId) -> impl Iterator<Item = KindId> + '_ {
        let kinds = (0..).map(KindId).zip(&self.kinds).map(|(kind, _)| kind);
        let special = kinds.filter(move |&kind| kind != general && self.is_kind_of(kind, general));
        std::iter::once(general).chain(special)
    }

    /// Notes that a declared state is the like of another.
    pub(crate) fn add_state_again(&mut self, own: StateId, general: StateId) {
        let again = &mut self.inherited.states_again;
        let at = again.partition_point(|(before, _)| *before < own);
        again.insert(at, (own, general));
    }

    /// Notes that a declared sign is the like of another.
    pub(crate) fn add_sign_again(&mut self, own: SignId, general: SignId) {
        let again = &mut self.inherited.signs_again;
        let at = again.partition_point(|(before, _)| *before < own);
        again.insert(at, (own, general));
    }

    /// The model with its sentences as they were said, each once.
    #[must_use]
    pub fn as_said(&self) -> &Model {
        self.inherited.said.as_deref().unwrap_or(self)
    }

    /// The declared state whose sentence a state was made from.
    #[must_use]
    pub fn said_state(&self, state: StateId) -> StateId {
        let wanted = self.states.get(state.index());
        let is_it = |one: &State| wanted.is_some_and(|w| w.at == one.at && w.phrase == one.phrase);
        let mut declared = (0..).map(StateId).zip(self.declared_states());
        let found = declared.find(|(_, one)| is_it(one));
        found.map_or(state, |(id, _)| id)
    }

    /// The declared sign whose sentence a sign was made from.
    #[must_use]
    pub fn said_sign(&self, sign: SignId) -> SignId {
        let wanted = self.signs.get(sign.index());
        let mut declared = (0..).map(SignId).zip(self.declared_signs());
        let found = declared.find(|(_, one)| wanted.is_some_and(|wanted| wanted.at == one.at));
        found.map_or(sign, |(id, _)| id)
    }

    /// Gives a state and its likes that were said with it another start.
    pub fn start_anew(&mut self, state: StateId, often: HowOften) {
        let Some(said) = self.states.get(state.index()).cloned() else {
            return;
        };
        let likes = self.states.iter_mut();
        for like in likes.filter(|one| one.at == said.at && one.phrase == said.phrase) {
            like.on_its_own = Some(often);
        }
    }

    /// Gives a sign and its likes that were said with it a slip that is no larger.
    pub fn slip_less(&mut self, sign: SignId, slip: Thousandths) {
        let Some(said) = self.signs.get(sign.index()).map(|sign| sign.at) else {
            return;
        };
        for like in self.signs.iter_mut().filter(|one| one.at == said) {
            like.slip = like.slip.min(slip);
        }
    }

    /// The caution, as it was said, that a caution is spelt out from.
    #[must_use]
    pub fn said_caution(&self, caution: usize) -> usize {
        let said = &self.as_said().cautions;
        let spelt = self.cautions.get(caution).filter(|_| said.len() <= caution);
        let first = |spelt: &Caution| said.iter().position(|one| one.at == spelt.at);
        spelt.and_then(first).unwrap_or(caution)
    }

    /// The states that sentences declare.
    #[must_use]
    pub fn declared_states(&self) -> &[State] {
        let declared = self.states.len() - self.inherited.states.len();
        self.states.get(..declared).unwrap_or_default()
    }

    /// The signs that sentences declare.
    #[must_use]
    pub fn declared_signs(&self) -> &[Sign] {
        let declared = self.signs.len() - self.inherited.signs.len();
        self.signs.get(..declared).unwrap_or_default()
    }

    /// The declared state that a state is the like of; itself, if it is the like of none.
    #[must_use]
    pub fn declared_like(&self, state: StateId) -> StateId {
        let later = state.index().checked_sub(self.declared_states().len());
        let like = later.and_then(|at| self.inherited.states.get(at)).copied();
        let again = &self.inherited.states_again;
        let found = again.binary_search_by_key(&state, |(own, _)| *own);
        let again = found.ok().and_then(|at| again.get(at));
        like.or(again.map(|(_, general)| *general)).unwrap_or(state)
    }

    /// The declared sign that a sign is the like of; itself, if it is the like of none.
    #[must_use]
    pub fn declared_sign(&self, sign: SignId) -> SignId {
        let later = sign.index().checked_sub(self.declared_signs().len());
        let like = later.and_then(|at| self.inherited.signs.get(at)).copied();
        let again = &self.inherited.signs_again;
        let found = again.binary_search_by_key(&sign, |(own, _)| *own);
        let again = found.ok().and_then(|at| again.get(at));
        like.or(again.map(|(_, general)| *general)).unwrap_or(sign)
    }
}
