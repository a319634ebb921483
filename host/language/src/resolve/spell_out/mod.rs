//! Sentences spelt out for every kind that they speak of.
//!
//! "If a foot is damp then its chest is usually dirty" speaks of bracket feet and of
//! bureaux too, where a bracket foot is a kind of foot and a bureau a kind of chest. Here
//! it becomes what a house without kinds would have to write: one sentence for each kind
//! of foot, each of what it may be built into. What follows, the compiler and the bench,
//! knows nothing of kinds.
//!
//! * A sentence about one kind is written again for each kind of it.
//! * "Its chest" is the chest or the bureau that it is built into: whichever there is.
//! * "Any foot" of what has feet of several kinds is any foot or any bracket foot; numbers
//!   are split up ("at least two": two of one, one of each, or two of the other).

mod condition;
mod counts;
mod dates;
mod rounds;
mod several;
mod work;

use std::collections::HashMap;

use crate::message::Message;
use crate::model::{KindId, Means, Model, OnlyIf, PIECE, Reach, Rule, SignId, StateId};
use crate::resolve::Reader;
use crate::resolve::look::Done;
use crate::resolve::tree::Tree;
use crate::span::Span;

impl Reader<'_> {
    /// Spells every sentence out; what was said is kept beside.
    pub(super) fn spell_out(&mut self) {
        if self.model.kinds.iter().all(|kind| kind.general.is_none()) {
            return;
        }
        let said = std::mem::take(&mut self.model);
        let spell = Spell::of(&said);
        let mut out = said.clone();
        let mut refused = Vec::new();
        spell.rules(&mut out, &mut refused);
        spell.work(&mut out, &mut refused);
        out.datings.clear();
        for dating in &said.datings {
            spell.dating(dating, &mut out.datings, &mut refused);
        }
        let relatives = said.relatives.iter();
        let relatives = relatives.map(|one| spell.kept(&one.at, spell.relative(one), &mut refused));
        out.relatives = in_place(relatives.collect());
        out.rounds = spell.rounds(&mut refused);
        out.inherited.said = Some(Box::new(said));
        self.model = out;
        for message in refused {
            self.say(message);
        }
    }
}

/// What it takes to spell sentences out.
struct Spell<'m> {
    model: &'m Model,
    tree: Tree,
    /// A kind, and after it every kind of it.
    kinds: Vec<Vec<KindId>>,
    states: HashMap<(StateId, KindId), StateId>,
    signs: HashMap<(SignId, KindId), SignId>,
}

/// Sentences, each with the ones that it is spelt out as: the first of each takes its
/// place, the others come after all.
fn in_place<T>(all: Vec<Vec<T>>) -> Vec<T> {
    let mut first = Vec::new();
    let mut more = Vec::new();
    for spelt in all {
        let mut spelt = spelt.into_iter();
        first.extend(spelt.next());
        more.extend(spelt);
    }
    first.extend(more);
    first
}

impl<'m> Spell<'m> {
    fn of(model: &'m Model) -> Self {
        let states = (0..).map(StateId).zip(&model.states);
        let states = states.map(|(id, state)| ((model.declared_like(id), state.kind), id));
        let signs = (0..).map(SignId).zip(&model.signs);
        let signs = signs.map(|(id, sign)| ((model.declared_sign(id), sign.kind), id));
        let mut kinds: Vec<Vec<KindId>> = Vec::new();
        let all = (0..).map(KindId).zip(&model.kinds).map(|(kind, _)| kind);
        kinds.extend(all.clone().map(|kind| vec![kind]));
        for kind in all {
            for general in model.lineage(kind).skip(1) {
                kinds[general.index()].push(kind);
            }
        }
        Self {
            model,
            tree: Tree::of(model),
            kinds,
            states: states.collect(),
            signs: signs.collect(),
        }
    }

    fn rules(&self, out: &mut Model, refused: &mut Vec<Message>) {
        let rules = self.model.rules.iter();
        let rules = rules.map(|rule| self.kept(&rule.at, self.rule(rule), refused));
        out.rules = in_place(rules.collect());
        let means = self.model.means.iter().map(|means| self.means(means));
        out.means = in_place(means.collect());
        let togethers = self.model.togethers.iter();
        let togethers = togethers.map(|one| self.kept(&one.at, self.together(one), refused));
        out.togethers = in_place(togethers.collect());
        let at_most_ones = self.model.at_most_ones.iter();
        out.at_most_ones = in_place(at_most_ones.map(|one| self.at_most_one(one)).collect());
        let only_ifs = self.model.only_ifs.iter();
        let only_ifs =
            only_ifs.map(|only_if| self.kept(&only_if.at, self.only_if(only_if), refused));
        out.only_ifs = in_place(only_ifs.collect());
    }

    /// A kind, and after it every kind of it.
    fn kinds_of(&self, general: KindId) -> impl Iterator<Item = KindId> + '_ {
        self.kinds
            .get(general.index())
            .into_iter()
            .flatten()
            .copied()
    }

    /// What was spelt out; a refusal is kept beside, at the sentence.
    fn kept<T>(&self, at: &Span, done: Done<Vec<T>>, refused: &mut Vec<Message>) -> Vec<T> {
        done.unwrap_or_else(|mut message| {
            if message.at == Span::default() {
                message.at = *at;
            }
            refused.push(*message);
            Vec::new()
        })
    }

    /// The like of a state of this kind.
    fn state(&self, state: StateId, kind: KindId) -> StateId {
        let like = self.states.get(&(self.model.declared_like(state), kind));
        like.copied().unwrap_or(state)
    }

    /// The like of a sign of this kind.
    fn sign(&self, sign: SignId, kind: KindId) -> SignId {
        let like = self.signs.get(&(self.model.declared_sign(sign), kind));
        like.copied().unwrap_or(sign)
    }

    /// The kinds that a part of one kind may be built into where a sentence says "its".
    fn owners(&self, part: KindId, of: KindId) -> Vec<KindId> {
        if of == PIECE {
            return vec![of];
        }
        let kinds = self.kinds_of(of);
        let owners: Vec<KindId> = kinds
            .filter(|&kind| self.tree.is_within(part, kind))
            .collect();
        if owners.is_empty() { vec![of] } else { owners }
    }

    /// The ways down from a kind to what a path of words stands for.
    fn paths(&self, from: KindId, path: &[KindId]) -> Vec<Vec<KindId>> {
        let Some((&step, rest)) = path.split_first() else {
            return vec![Vec::new()];
        };
        let members = self.tree.members(from).iter().map(|member| member.kind);
        let such = members.filter(|&kind| self.model.is_kind_of(kind, step));
        let mut paths = Vec::new();
        for kind in such {
            for mut way in self.paths(kind, rest) {
                way.insert(0, kind);
                paths.push(way);
            }
        }
        paths
    }

    fn rule(&self, rule: &Rule) -> Done<Vec<Rule>> {
        let mut spelt = Vec::new();
        for subject in self.kinds_of(rule.subject) {
            let when = self.condition(subject, &rule.when)?;
            let unless = rule.unless.as_ref();
            let unless = unless
                .map(|unless| self.condition(subject, unless))
                .transpose()?;
            for (result, kind) in self.reaches(subject, &rule.result) {
                spelt.push(Rule {
                    subject,
                    when: when.clone(),
                    unless: unless.clone(),
                    result,
                    state: self.state(rule.state, kind),
                    or: rule.or.iter().map(|&or| self.state(or, kind)).collect(),
                    ..rule.clone()
                });
            }
        }
        if spelt.is_empty() {
            spelt.push(rule.clone());
        }
        Ok(spelt)
    }

    /// What the result of a sentence is about, with its kind.
    fn reaches(&self, subject: KindId, reach: &Reach) -> Vec<(Reach, KindId)> {
        match reach {
            Reach::Own => vec![(Reach::Own, subject)],
            Reach::Up(of) => {
                let owners = self.owners(subject, *of).into_iter();
                owners.map(|owner| (Reach::Up(owner), owner)).collect()
            }
            Reach::Down { path, many, only } => {
                let paths = self.paths(subject, path).into_iter();
                let reaches = paths.map(|path| {
                    let kind = path.last().copied().unwrap_or(subject);
                    let only = only.as_ref().map(|only| self.place(subject, &path, only));
                    let many = *many;
                    (Reach::Down { path, many, only }, kind)
                });
                reaches.collect()
            }
            Reach::Others { of, many } => {
                let others = self.beside(subject, *of).into_iter();
                let reach = |of| (Reach::Others { of, many: *many }, of);
                others.map(reach).collect()
            }
        }
    }

    fn means(&self, means: &Means) -> Vec<Means> {
        let mut spelt = Vec::new();
        for subject in self.kinds_of(means.subject) {
            for (whose, kind) in self.reaches(subject, &means.whose) {
                spelt.push(Means {
                    subject,
                    sign: self.state(means.sign, subject),
                    whose,
                    fault: self.state(means.fault, kind),
                    ..means.clone()
                });
            }
        }
        if spelt.is_empty() {
            spelt.push(means.clone());
        }
        spelt
    }

    fn only_if(&self, only_if: &OnlyIf) -> Done<Vec<OnlyIf>> {
        let kind = self.model.states[only_if.state.index()].kind;
        let kinds = self.kinds_of(kind);
        let spelt = kinds.map(|kind| {
            Ok(OnlyIf {
                state: self.state(only_if.state, kind),
                when: self.condition(kind, &only_if.when)?,
                ..only_if.clone()
            })
        });
        spelt.collect()
    }
}
