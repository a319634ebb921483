//! Circles: a cause that is its own effect, a job that waits for itself.

use std::collections::BTreeSet;

use crate::ground::{Ground, SentenceId};
use crate::numbers::Number as _;
use crate::rules::Rules;
use tellmark_language::model::{AtMostOne, JobId, KindId, Model, StateId};
use tellmark_language::span::Span;

/// Rules that go round in a circle.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleCircle {
    /// Rows of the states on the way, the first one again at the end.
    pub states: Vec<usize>,
    /// The sentences on the way.
    pub sentences: Vec<Span>,
}

/// The first circle found among the causes, on a piece with enough parts of
/// every kind to show it.
#[must_use]
pub fn among_rules(rules: Rules<'_>) -> Option<RuleCircle> {
    numbers_of_parts(rules.model)
        .into_iter()
        .find_map(|many| with_so_many(rules, many))
}

/// With how many parts of each kind a circle shows, if there is one: two are enough, as a
/// rule (`None`). Where rules say which part is meant, the first may also be the last, or
/// there may be no second, so all numbers are tried that there can be.
fn numbers_of_parts(model: &Model) -> Vec<Option<u8>> {
    let mut highest = None;
    model.each_placing(&mut |place| {
        let numbers = place.at.iter().map(|&(_, number)| number);
        highest = numbers.chain(highest).max();
    });
    match highest {
        None => vec![None],
        Some(highest) => (1..=highest.saturating_add(2)).map(Some).collect(),
    }
}

fn with_so_many(rules: Rules<'_>, many: Option<u8>) -> Option<RuleCircle> {
    let places = rules.places;
    (0..places.len())
        .filter(|&place| places.owner(place).is_none())
        .find_map(|root| {
            let ground = Ground::assumed(rules, root, |_, _, place| {
                let member = places.get(place).member.as_ref();
                member.map_or(1, |m| match many {
                    Some(many) => many.clamp(m.least, m.most),
                    None => m.most.min(2),
                })
            });
            let way = circle(ground.states.len(), |node| {
                let mut near = Vec::new();
                for cause in &ground.states[node].causes {
                    cause
                        .when
                        .states(&mut |from| near.push((from, cause.sentence)));
                }
                near
            })?;
            Some(in_words(rules, &ground, &way))
        })
}

fn in_words(rules: Rules<'_>, ground: &Ground, way: &[(usize, SentenceId)]) -> RuleCircle {
    let model = rules.model;
    // The way was walked from effects to causes.
    let mut states: Vec<usize> = way.iter().map(|(n, _)| ground.states[*n].row).collect();
    states.reverse();
    if let Some(&first) = states.first() {
        states.push(first);
    }
    states.dedup();
    // What nobody can see has no words; the sentence that it comes from has.
    let declared = |&row: &usize| rules.states.states[row].declared;
    let on_the_way: Vec<StateId> = states.iter().filter_map(declared).collect();
    states.retain(|row| declared(row).is_some() || !rules.states.states[*row].phrase.is_empty());
    let excludes = |one: &&AtMostOne| one.states.iter().any(|id| on_the_way.contains(id));
    let exclusions = model.at_most_ones.iter().filter(excludes).map(|one| one.at);
    let spans: BTreeSet<Span> = way
        .iter()
        .filter_map(|(_, sentence)| match sentence {
            SentenceId::Rule(i) => Some(model.rules[*i].at),
            SentenceId::Means(i) => Some(model.means[*i].at),
            SentenceId::Together(i) => Some(model.togethers[*i].at),
            SentenceId::OnlyIf(i) => Some(model.only_ifs[*i].at),
            SentenceId::Meaning => None,
        })
        .chain(exclusions)
        .collect();
    RuleCircle {
        states,
        sentences: spans.into_iter().collect(),
    }
}

/// Jobs that wait for each other.
#[derive(Clone, Debug, PartialEq)]
pub struct JobCircle {
    /// The jobs, each waiting for the next, the first one again at the end.
    pub jobs: Vec<JobId>,
    /// The sentences that make them wait.
    pub sentences: Vec<Span>,
}

/// The first circle found in the order of work, advice left out.
#[must_use]
pub fn among_jobs(model: &Model) -> Option<JobCircle> {
    let mut ties: Vec<Vec<(usize, Span)>> = vec![Vec::new(); model.jobs.len()];
    for tie in crate::ties::ties(model) {
        ties[tie.after.index()].push((tie.before.index(), tie.at));
    }
    let way = circle(model.jobs.len(), |job| {
        let mut near = ties[job].clone();
        let orders = model.orders.iter().filter(|o| o.always);
        near.extend(
            orders
                .filter(|o| o.after.index() == job)
                .map(|o| (o.before.index(), o.at)),
        );
        near
    })?;
    let mut jobs: Vec<JobId> = way
        .iter()
        .filter_map(|(job, _)| Some(JobId(job.half().ok()?)))
        .collect();
    jobs.extend(jobs.first().copied());
    let sentences: BTreeSet<Span> = way.iter().map(|(_, at)| *at).collect();
    Some(JobCircle {
        jobs,
        sentences: sentences.into_iter().collect(),
    })
}

/// Kinds that are built into themselves.
#[must_use]
pub fn in_makeup(model: &Model) -> Option<Vec<KindId>> {
    let way = circle(model.kinds.len(), |kind| {
        model.kinds[kind]
            .members
            .iter()
            .map(|member| (member.kind.index(), ()))
            .collect()
    })?;
    Some(
        way.iter()
            .filter_map(|(kind, ())| Some(KindId(kind.half().ok()?)))
            .collect(),
    )
}

/// A circle in a directed graph, as its nodes with the label of the edge that
/// leaves each; depth first, without recursion.
pub(super) fn circle<L: Copy>(
    nodes: usize,
    near: impl Fn(usize) -> Vec<(usize, L)>,
) -> Option<Vec<(usize, L)>> {
    #[derive(Clone, Copy, PartialEq)]
    enum Mark {
        New,
        Open,
        Done,
    }
    let mut marks = vec![Mark::New; nodes];
    for start in 0..nodes {
        if marks[start] != Mark::New {
            continue;
        }
        marks[start] = Mark::Open;
        let mut stack = vec![(start, near(start), 0)];
        while let Some((node, edges, next)) = stack.last_mut() {
            let Some(&(to, _)) = edges.get(*next) else {
                marks[*node] = Mark::Done;
                stack.pop();
                continue;
            };
            *next += 1;
            match marks[to] {
                Mark::Done => {}
                Mark::New => {
                    marks[to] = Mark::Open;
                    stack.push((to, near(to), 0));
                }
                Mark::Open => {
                    let from = stack.iter().position(|(n, ..)| *n == to)?;
                    let way = stack[from..]
                        .iter()
                        .filter_map(|(n, edges, next)| {
                            edges
                                .get(next.saturating_sub(1))
                                .map(|(_, label)| (*n, *label))
                        })
                        .collect();
                    return Some(way);
                }
            }
        }
    }
    None
}
