//! Conditions, spelt out for one kind of part.

use super::Spell;
use super::counts::{self, at_least, fewer_than};
use crate::message::Problem;
use crate::model::{
    Asks, Condition, HowMany, KindId, Mark, PIECE, Placing, Predicate, Reach, Sign, Test,
};
use crate::resolve::look::{Done, refuse};
use crate::resolve::place::placing_of;
use crate::vocab::applies;
use crate::words::{a, capital, list};

/// The most ways in which a number of parts of several kinds may be made up.
const MOST_WAYS: usize = 100;

/// The reach to so many parts at the end of a way.
type ByWay<'r> = &'r dyn Fn(&Vec<KindId>, HowMany) -> Reach;

impl Spell<'_> {
    /// A condition, seen from a part of this kind.
    pub(super) fn condition(&self, subject: KindId, condition: &Condition) -> Done<Condition> {
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
            Reach::Down { path, many, only } => {
                let paths = self.paths(subject, path);
                if paths.is_empty() {
                    return Ok(Condition::Test(test.clone()));
                }
                // Each kind of them is counted by itself.
                let down = |path: &Vec<KindId>, many: HowMany| Reach::Down {
                    path: path.clone(),
                    many,
                    only: only.as_ref().map(|only| self.place(subject, path, only)),
                };
                let mosts = paths.iter().map(|path| self.most(subject, path)).collect();
                self.several((&paths, mosts), (*many, &down), test)
            }
            Reach::Others { of, many } => {
                let beside = self.beside(subject, *of);
                if beside.is_empty() {
                    return Ok(Condition::Test(test.clone()));
                }
                let mosts = beside.iter().map(|&kind| self.most_beside(subject, kind));
                let mosts = mosts.collect();
                let paths: Vec<Vec<KindId>> = beside.into_iter().map(|kind| vec![kind]).collect();
                let others = |path: &Vec<KindId>, many: HowMany| Reach::Others {
                    of: path.last().copied().unwrap_or(subject),
                    many,
                };
                self.several((&paths, mosts), (*many, &others), test)
            }
        }
    }

    /// The same place among the parts at the end of a way.
    pub(super) fn place(&self, subject: KindId, path: &[KindId], place: &Placing) -> Placing {
        let on_the_way = path.split_last().map_or(path, |(_, first)| first);
        let owner = on_the_way.last().copied().unwrap_or(subject);
        let kind = path.last().copied().unwrap_or(subject);
        match self.tree.own_member(owner, kind) {
            Some(member) => placing_of(self.model, member, place),
            None => place.clone(),
        }
    }

    /// The kinds of parts beside a part of this kind, in any owner, that a word stands for.
    pub(super) fn beside(&self, subject: KindId, of: KindId) -> Vec<KindId> {
        let owners = self.model.kinds.iter();
        let owners = owners.filter(|kind| kind.members.iter().any(|m| m.kind == subject));
        let mut beside: Vec<KindId> = owners
            .flat_map(|owner| &owner.members)
            .map(|member| member.kind)
            .filter(|&kind| self.model.is_kind_of(kind, of))
            .collect();
        beside.sort_unstable_by_key(|kind| kind.index());
        beside.dedup();
        beside
    }

    /// How many parts of a kind there can be beside a part of this kind.
    fn most_beside(&self, subject: KindId, kind: KindId) -> u8 {
        let owners = self.model.kinds.iter();
        let owners = owners.filter(|owner| owner.members.iter().any(|m| m.kind == subject));
        let members = owners.flat_map(|owner| &owner.members);
        let such = members.filter(|member| member.kind == kind);
        such.map(|member| member.most).max().unwrap_or(0)
    }

    /// What is said of parts down several ways together; each way is a reach for a number of
    /// them.
    fn several(
        &self,
        (paths, mosts): (&[Vec<KindId>], Vec<u8>),
        (many, reach): (HowMany, ByWay<'_>),
        test: &Test,
    ) -> Done<Condition> {
        let last = |path: &Vec<KindId>| path.last().copied().unwrap_or(PIECE);
        for path in paths {
            self.is_counted(last(path), test)?;
            self.not_over_kinds(last(path), test)?;
        }
        if let HowMany::AtLeast(n) | HowMany::FewerThan(n) | HowMany::Exactly(n) = many {
            let kinds: Vec<KindId> = paths
                .iter()
                .filter_map(|path| path.last().copied())
                .collect();
            self.not_too_many_ways(n.saturating_add(1), &mosts, &kinds, test)?;
        }
        let of =
            |path: &Vec<KindId>, many: HowMany| self.said_of(last(path), reach(path, many), test);
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
            Predicate::Placed { place, yes } => {
                let at = place.at.iter();
                let at = at.map(|&(sign, number)| (self.sign(sign, kind), number));
                let place = Placing {
                    at: at.collect(),
                    ..place.clone()
                };
                Predicate::Placed { place, yes: *yes }
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
