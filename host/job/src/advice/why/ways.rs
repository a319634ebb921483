//! The sentences that lead from what was found to a fault.

use std::collections::{HashMap, VecDeque};

use tellmark_compile::ground::{Ground, SentenceId};
use tellmark_compile::set_up::{Evidence, SetUp};

/// How a way comes to a state.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum Came {
    /// Up from something it helps to bring about.
    Up,
    /// Down from something that helps to bring it about.
    Down,
}

/// A state, and how a way comes to it.
type Stop = (usize, Came);

/// The shortest ways through the sentences from one state to all others.
///
/// A way goes up to causes and down to effects. From one cause of a thing to
/// another it leads only through a thing that something is known of: two causes
/// of what nobody has looked at say nothing of each other (d-separation: J.
/// Pearl, Probabilistic Reasoning in Intelligent Systems, 1988, section 3.3).
pub(super) struct Ways {
    /// For each stop: the one before it, and the sentence between.
    before: HashMap<Stop, (Stop, SentenceId)>,
    start: Stop,
}

impl Ways {
    pub(super) fn from(network: &Ground, target: usize, is_known: &[bool]) -> Self {
        let mut causes: Vec<Vec<(usize, SentenceId)>> = vec![Vec::new(); network.states.len()];
        let mut effects = causes.clone();
        for (effect, state) in network.states.iter().enumerate() {
            for cause in &state.causes {
                cause.when.states(&mut |from| {
                    effects[from].push((effect, cause.sentence));
                    causes[effect].push((from, cause.sentence));
                });
            }
        }
        // Something is known of a state if it, or anything it leads to, is.
        let mut tells = is_known.to_vec();
        let mut open: Vec<usize> = (0..tells.len()).filter(|&s| tells[s]).collect();
        while let Some(state) = open.pop() {
            for &(from, _) in &causes[state] {
                if !tells[from] {
                    tells[from] = true;
                    open.push(from);
                }
            }
        }
        let start = (target, Came::Up);
        let mut before = HashMap::new();
        let mut open = VecDeque::from([start]);
        while let Some(stop) = open.pop_front() {
            let (state, came) = stop;
            let up = (came == Came::Up || tells[state])
                .then_some(&causes[state])
                .into_iter()
                .flatten()
                .map(|&(to, sentence)| ((to, Came::Up), sentence));
            let down = effects[state]
                .iter()
                .map(|&(to, sentence)| ((to, Came::Down), sentence));
            for (next, sentence) in up.chain(down) {
                if next != start && !before.contains_key(&next) {
                    before.insert(next, (stop, sentence));
                    open.push_back(next);
                }
            }
        }
        Self { before, start }
    }

    /// The shortest way from any of these states.
    pub(super) fn to(&self, states: impl IntoIterator<Item = usize>) -> Vec<SentenceId> {
        states
            .into_iter()
            .flat_map(|state| [(state, Came::Up), (state, Came::Down)])
            .filter_map(|stop| self.way(stop))
            .min_by_key(Vec::len)
            .unwrap_or_default()
    }

    fn way(&self, from: Stop) -> Option<Vec<SentenceId>> {
        let mut sentences = Vec::new();
        let mut at = from;
        while at != self.start {
            let &(next, sentence) = self.before.get(&at)?;
            if sentence != SentenceId::Meaning && sentences.last() != Some(&sentence) {
                sentences.push(sentence);
            }
            at = next;
        }
        sentences.reverse();
        Some(sentences)
    }
}

/// The states that an answer is about.
pub(super) fn touched<'n>(
    set_up: &'n SetUp<'_>,
    network: &'n Ground,
    evidence: &'n Evidence,
) -> impl Iterator<Item = usize> + 'n {
    let rows = &set_up.built.states.states;
    let ask = evidence.given.ask;
    network
        .states
        .iter()
        .enumerate()
        .filter(move |(_, state)| {
            let row = &rows[state.row];
            state.part == evidence.given.part && (row.ask == ask || row.whether == Some(ask))
        })
        .map(|(state, _)| state)
}
