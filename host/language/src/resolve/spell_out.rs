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

mod counts;

use std::collections::HashMap;

use tellmark_core::limits::MAX_STEPS;

use crate::message::{Message, Problem};
use crate::model::{
    Asks, AtMostOne, Condition, DateBound, Dating, Exclusion, HowMany, KindId, Known, Ladder, Mark,
    Means, Model, OnlyIf, PIECE, Predicate, Reach, Relative, Round, Rule, Sign, SignId, StandIn,
    StateId, Step, Test, Together,
};
use crate::resolve::Reader;
use crate::resolve::look::{Done, refuse};
use crate::resolve::tree::Tree;
use crate::span::Span;
use crate::vocab::applies;
use crate::words::{a, capital, list};
use counts::{at_least, fewer_than};

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

/// The most ways in which a number of parts of several kinds may be made up.
const MOST_WAYS: usize = 100;

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
            Reach::Down { path, many } => {
                let paths = self.paths(subject, path).into_iter();
                let reaches = paths.map(|path| {
                    let kind = path.last().copied().unwrap_or(subject);
                    (Reach::Down { path, many: *many }, kind)
                });
                reaches.collect()
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

    /// A sign of parts of several kinds cannot be told of all of them together.
    fn together(&self, together: &Together) -> Done<Vec<Together>> {
        let mut spelt = Vec::new();
        for subject in self.kinds_of(together.subject) {
            let mut paths = self.paths(subject, &together.path);
            let path = match (paths.pop(), paths.is_empty()) {
                (None, _) => continue,
                (Some(only), true) => only,
                (Some(last), false) => {
                    paths.push(last);
                    let kinds = paths.iter().filter_map(|path| path.last());
                    let plural = |kind: &KindId| self.model.kinds[kind.index()].plural.clone();
                    let kinds: Vec<String> = kinds.map(plural).collect();
                    let said = together.path.last().map_or_else(String::new, plural);
                    return refuse(
                        together.at,
                        Problem::CountedOverKinds {
                            owner: &capital(&a(&self.model.kinds[subject.index()].name)),
                            plural: &said,
                            kinds: &list(&kinds),
                        },
                    );
                }
            };
            let shown_by = path.last().copied().unwrap_or(subject);
            let signs = together.signs.iter();
            let signs: Vec<StateId> = signs.map(|&sign| self.state(sign, shown_by)).collect();
            for (whose, kind) in self.reaches(subject, &together.whose) {
                spelt.push(Together {
                    subject,
                    path: path.clone(),
                    signs: signs.clone(),
                    whose,
                    fault: self.state(together.fault, kind),
                    ..together.clone()
                });
            }
        }
        if spelt.is_empty() {
            spelt.push(together.clone());
        }
        Ok(spelt)
    }

    fn at_most_one(&self, one: &AtMostOne) -> Vec<AtMostOne> {
        let kinds = self.kinds_of(one.kind);
        let spelt = kinds.map(|kind| AtMostOne {
            kind,
            states: one
                .states
                .iter()
                .map(|&state| self.state(state, kind))
                .collect(),
            ..one.clone()
        });
        spelt.collect()
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

    fn work(&self, out: &mut Model, refused: &mut Vec<Message>) {
        let model = self.model;
        let plans = model.plans.iter().map(|plan| {
            let kinds = self.kinds_of(plan.subject);
            let spelt = kinds.map(|subject| {
                let when = self.condition(subject, &plan.when)?;
                Ok(crate::model::Plan {
                    subject,
                    when,
                    ..plan.clone()
                })
            });
            self.kept(&plan.at, spelt.collect(), refused)
        });
        out.plans = in_place(plans.collect());
        let ladders = model
            .ladders
            .iter()
            .map(|ladder| self.kept(&ladder.at, self.ladder(ladder), refused));
        out.ladders = in_place(ladders.collect());
        let stand_ins = model.stand_ins.iter().map(|stand_in| {
            let kinds = self.kinds_of(stand_in.subject);
            let spelt = kinds.map(|subject| {
                let when = self.condition(subject, &stand_in.when)?;
                Ok(StandIn {
                    subject,
                    when,
                    ..stand_in.clone()
                })
            });
            self.kept(&stand_in.at, spelt.collect(), refused)
        });
        out.stand_ins = in_place(stand_ins.collect());
        let exclusions = model.exclusions.iter();
        let exclusions = exclusions.map(|one| self.kept(&one.at, self.exclusion(one), refused));
        out.exclusions = in_place(exclusions.collect());
        let cautions = model.cautions.iter().map(|caution| {
            let kinds = self.kinds_of(caution.subject);
            let spelt = kinds.map(|subject| {
                let when = self.condition(subject, &caution.when)?;
                Ok(crate::model::Caution {
                    subject,
                    when,
                    ..caution.clone()
                })
            });
            self.kept(&caution.at, spelt.collect(), refused)
        });
        out.cautions = in_place(cautions.collect());
        for job in &mut out.jobs {
            let mends = job.mends.iter().flat_map(|&state| {
                let kinds = self.kinds_of(model.states[state.index()].kind);
                kinds.map(move |kind| self.state(state, kind))
            });
            job.mends = mends.collect();
        }
    }

    /// A ladder for each kind of part that is measured, where its condition is about that
    /// part or about each kind of owner that it may have.
    fn ladder(&self, ladder: &Ladder) -> Done<Vec<Ladder>> {
        let of = self.model.signs[ladder.sign.index()].kind;
        let mut spelt = Vec::new();
        for kind in self.kinds_of(of) {
            let sign = self.sign(ladder.sign, kind);
            let about = match &ladder.when {
                None => vec![None],
                Some((subject, _)) if self.model.are_kin(*subject, of) => vec![Some(kind)],
                Some((subject, _)) => self.owners(kind, *subject).into_iter().map(Some).collect(),
            };
            for subject in about {
                let when = ladder.when.as_ref().zip(subject);
                let when = when.map(|((_, when), subject)| {
                    Ok::<_, Box<Message>>((subject, self.condition(subject, when)?))
                });
                spelt.push(Ladder {
                    when: when.transpose()?,
                    sign,
                    ..ladder.clone()
                });
            }
        }
        Ok(spelt)
    }

    fn exclusion(&self, exclusion: &Exclusion) -> Done<Vec<Exclusion>> {
        let Some((subject, when)) = &exclusion.when else {
            return Ok(vec![exclusion.clone()]);
        };
        let spelt = self.kinds_of(*subject).map(|subject| {
            Ok(Exclusion {
                when: Some((subject, self.condition(subject, when)?)),
                ..exclusion.clone()
            })
        });
        spelt.collect()
    }

    /// What a part has of a kind, of each kind of these.
    fn relative(&self, relative: &Relative) -> Done<Vec<Relative>> {
        let mut spelt = Vec::new();
        for subject in self.kinds_of(relative.subject) {
            let when = relative.when.as_ref();
            let when = when.map(|when| self.condition(subject, when)).transpose()?;
            let parts = self.kinds_of(relative.part);
            for part in parts.filter(|&part| self.tree.is_within(part, subject)) {
                spelt.push(Relative {
                    subject,
                    when: when.clone(),
                    part,
                    ..relative.clone()
                });
            }
        }
        if spelt.is_empty() {
            spelt.push(relative.clone());
        }
        Ok(spelt)
    }

    /// What a step waits for, on this piece.
    fn known(&self, piece: KindId, known: Known) -> Known {
        let asked = self.asked(piece, known.sign).first().copied();
        Known {
            sign: asked.unwrap_or(known.sign),
            ..known
        }
    }

    fn dating(&self, dating: &Dating, out: &mut Vec<Dating>, refused: &mut Vec<Message>) {
        for subject in self.kinds_of(dating.subject) {
            let when = dating.when.as_ref();
            let when = when.map(|when| self.condition(subject, when)).transpose();
            let when = match when {
                Ok(when) => when,
                Err(message) => {
                    refused.push(*message);
                    return;
                }
            };
            let bounds = match dating.bound {
                DateBound::LaterThan(owner) => {
                    let owners = self.owners(subject, owner).into_iter();
                    owners.map(DateBound::LaterThan).collect()
                }
                ref other => vec![other.clone()],
            };
            out.extend(bounds.into_iter().map(|bound| Dating {
                subject,
                when: when.clone(),
                bound,
                ..dating.clone()
            }));
        }
    }

    /// The round of every piece: its own, or that of what it is a kind of.
    fn rounds(&self, refused: &mut Vec<Message>) -> Vec<Round> {
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

    /// A condition, seen from a part of this kind.
    fn condition(&self, subject: KindId, condition: &Condition) -> Done<Condition> {
        let all = |parts: &[Condition]| -> Done<Vec<Condition>> {
            parts
                .iter()
                .map(|part| self.condition(subject, part))
                .collect()
        };
        match condition {
            Condition::All(parts) => Ok(Condition::All(all(parts)?)),
            Condition::Any(parts) => Ok(Condition::Any(all(parts)?)),
            Condition::AtLeast(enough, parts) => Ok(Condition::AtLeast(*enough, all(parts)?)),
            Condition::Test(test) => self.test(subject, test),
        }
    }

    fn test(&self, subject: KindId, test: &Test) -> Done<Condition> {
        match &test.whose {
            Reach::Own => {
                self.is_counted(subject, test)?;
                Ok(self.said_of(subject, Reach::Own, test))
            }
            Reach::Up(of) => {
                let owners = self.owners(subject, *of).into_iter();
                let each = owners.map(|owner| {
                    self.is_counted(owner, test)?;
                    Ok(self.said_of(owner, Reach::Up(owner), test))
                });
                Ok(one_or(each.collect::<Done<_>>()?, Condition::Any))
            }
            Reach::Down { path, many } => {
                let paths = self.paths(subject, path);
                if paths.is_empty() {
                    return Ok(Condition::Test(test.clone()));
                }
                self.down(subject, &paths, *many, test)
            }
        }
    }

    /// What is said of parts down several ways together.
    fn down(
        &self,
        subject: KindId,
        paths: &[Vec<KindId>],
        many: HowMany,
        test: &Test,
    ) -> Done<Condition> {
        for path in paths {
            let owner = path.last().copied().unwrap_or(subject);
            self.is_counted(owner, test)?;
            self.not_over_kinds(owner, test)?;
        }
        let mosts: Vec<u8> = paths.iter().map(|path| self.most(subject, path)).collect();
        if let HowMany::AtLeast(n) | HowMany::FewerThan(n) | HowMany::Exactly(n) = many {
            let kinds: Vec<KindId> = paths
                .iter()
                .filter_map(|path| path.last().copied())
                .collect();
            self.not_too_many_ways(n.saturating_add(1), &mosts, &kinds, test)?;
        }
        let of = |path: &Vec<KindId>, many: HowMany| {
            let kind = path.last().copied().unwrap_or(subject);
            let whose = Reach::Down {
                path: path.clone(),
                many,
            };
            self.said_of(kind, whose, test)
        };
        let each = |many: HowMany| paths.iter().map(|path| of(path, many)).collect();
        let some = |at: usize, n: u8| of(&paths[at], HowMany::AtLeast(n));
        let few = |at: usize, n: u8| of(&paths[at], HowMany::FewerThan(n));
        Ok(match many {
            _ if paths.len() == 1 => of(&paths[0], many),
            HowMany::The | HowMany::Any => Condition::Any(each(many)),
            HowMany::Every | HowMany::No => Condition::All(each(many)),
            HowMany::AtLeast(n) => at_least(n, &mosts, &some),
            HowMany::FewerThan(n) => fewer_than(n, &mosts, &few),
            HowMany::Exactly(n) => Condition::All(vec![
                at_least(n, &mosts, &some),
                fewer_than(n.saturating_add(1), &mosts, &few),
            ]),
        })
    }

    /// Refuses a number of parts that nobody counts: a kind may have more or fewer where the
    /// kind that it is a kind of has always as many.
    fn is_counted(&self, owner: KindId, test: &Test) -> Done<()> {
        let Predicate::Has { part, mark, .. } = test.what else {
            return Ok(());
        };
        let is_piece = self.model.kinds[owner.index()].is_piece;
        let counts = |sign: &Sign, part: KindId| {
            sign.asks == Asks::HowMany(part) && applies(sign.kind, owner, is_piece)
        };
        let members = self.tree.members(owner).iter();
        let mut such = members.filter(|member| self.model.is_kind_of(member.kind, part));
        let open = such.find(|member| {
            let mut signs = self.model.signs.iter();
            member.least != member.most && !signs.any(|sign| counts(sign, member.kind))
        });
        match open {
            Some(member) if owner != PIECE => refuse(
                test.at,
                Problem::NotCounted {
                    plural: &self.model.kinds[member.kind.index()].plural,
                    owner: &a(&self.model.kinds[owner.index()].name),
                },
            ),
            _ => self.has_few_ways(owner, part, mark, test),
        }
    }

    fn has_few_ways(&self, owner: KindId, part: KindId, mark: Mark, test: &Test) -> Done<()> {
        let members = self.members(owner, part);
        let mosts: Vec<u8> = members.iter().map(|&m| self.most(owner, &[m])).collect();
        let end = mark.at_most.unwrap_or(mark.at_least).saturating_add(1);
        self.not_too_many_ways(counts::number(end), &mosts, &members, test)
    }

    /// How many there can be at the end of a way of one step.
    fn most(&self, owner: KindId, path: &[KindId]) -> u8 {
        let last = path.last().copied().unwrap_or(owner);
        let member = self.tree.own_member(owner, last);
        member.map_or(u8::MAX, |member| member.most)
    }

    /// Refuses a number that could be made up in too many ways.
    fn not_too_many_ways(&self, n: u8, mosts: &[u8], kinds: &[KindId], test: &Test) -> Done<()> {
        if mosts.len() < 2 || counts::ways(n, mosts) <= MOST_WAYS {
            return Ok(());
        }
        let plural = |kind: &KindId| self.model.kinds[kind.index()].plural.clone();
        let kinds: Vec<String> = kinds.iter().map(plural).collect();
        refuse(
            test.at,
            Problem::TooManyWays {
                kinds: &list(&kinds),
                most: MOST_WAYS,
            },
        )
    }

    /// Refuses a number of parts of several kinds where it is asked of several parts.
    fn not_over_kinds(&self, owner: KindId, test: &Test) -> Done<()> {
        let Predicate::Has { part, .. } = test.what else {
            return Ok(());
        };
        let members = self.members(owner, part);
        if members.len() < 2 {
            return Ok(());
        }
        let plural = |kind: &KindId| self.model.kinds[kind.index()].plural.clone();
        let kinds: Vec<String> = members.iter().map(plural).collect();
        refuse(
            test.at,
            Problem::CountedOverKinds {
                owner: &capital(&a(&self.model.kinds[owner.index()].name)),
                plural: &plural(&part),
                kinds: &list(&kinds),
            },
        )
    }

    /// The members of a kind that a word stands for.
    fn members(&self, owner: KindId, part: KindId) -> Vec<KindId> {
        let members = self.tree.members(owner).iter().map(|member| member.kind);
        members
            .filter(|&kind| self.model.is_kind_of(kind, part))
            .collect()
    }

    /// What a test says of a part of this kind.
    fn said_of(&self, kind: KindId, whose: Reach, test: &Test) -> Condition {
        let with = |what: Predicate| {
            Condition::Test(Test {
                whose: whose.clone(),
                what,
                at: test.at,
            })
        };
        let what = match &test.what {
            Predicate::State {
                state,
                yes,
                sureness,
            } => Predicate::State {
                state: self.state(*state, kind),
                yes: *yes,
                sureness: *sureness,
            },
            Predicate::Measure { sign, mark, yes } => Predicate::Measure {
                sign: self.sign(*sign, kind),
                mark: *mark,
                yes: *yes,
            },
            Predicate::Choice { sign, values, yes } => Predicate::Choice {
                sign: self.sign(*sign, kind),
                values: values.clone(),
                yes: *yes,
            },
            Predicate::Has { part, mark, yes } => {
                let has = |part: KindId, mark, yes| with(Predicate::Has { part, mark, yes });
                return match self.members(kind, *part)[..] {
                    [] => has(*part, *mark, *yes),
                    [member] => has(member, *mark, *yes),
                    ref members => {
                        let mosts = members.iter().map(|&m| self.most(kind, &[m]));
                        counts::has(members, &mosts.collect::<Vec<u8>>(), (*mark, *yes), &has)
                    }
                };
            }
            Predicate::CannotBeSeen => Predicate::CannotBeSeen,
        };
        with(what)
    }
}

/// The only one, or all of them joined.
fn one_or(mut all: Vec<Condition>, join: impl Fn(Vec<Condition>) -> Condition) -> Condition {
    match all.len() {
        1 => all.remove(0),
        _ => join(all),
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
