//! Why a fault is as likely as it is: the weight of each answer, the sentences
//! on the way, and what would move it most next.

use std::collections::{BTreeSet, HashMap, VecDeque};

use tellmark_core::inspection::Inspection;
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Form, Nature as PackNature, Pack};
use tellmark_core::piece::{Answer, SetUpError};

use super::triage::{LEAST_DECIBANS, by_fact, decibans};
use tellmark_compile::Asked;
use tellmark_compile::ground::{Ground, SentenceId};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::part_ref;
use tellmark_compile::set_up::{Case, Evidence, SetUp};
use tellmark_language::model::{SignId, SourceId, StateId};
use tellmark_language::span::Span;
use tellmark_language::words;

/// What one fact does to the chance.
#[derive(Clone, Debug, PartialEq)]
pub struct Weight {
    /// The fact.
    pub fact: usize,
    /// Weight of evidence, if it were taken back now (decibans).
    pub decibans: f64,
    /// The chance if it were taken back.
    pub without: f64,
    /// Weight of evidence when it was added to what had been found before it
    /// (decibans). These add up to the whole way from the chance before to the
    /// chance now; those for taking back do not where causes compete.
    pub in_order: f64,
    /// The sentences that lead from it to the fault, nearest the fault first;
    /// none for a weight that is hardly felt.
    pub sentences: Vec<SentenceId>,
}

/// A sentence on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct Sentence {
    /// Which.
    pub id: SentenceId,
    /// Where it stands.
    pub at: Span,
    /// Where it comes from.
    pub source: Option<SourceId>,
    /// As it is understood.
    pub words: String,
}

/// A fault that explains the same findings.
#[derive(Clone, Debug, PartialEq)]
pub struct Rival {
    /// The part.
    pub part: String,
    /// The fault.
    pub state: StateId,
    /// Its chance now.
    pub now: f64,
    /// Its chance if the fault asked about is there.
    pub then: f64,
}

/// A check that has not been made, and what it could do.
#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// The part.
    pub part: String,
    /// The sign.
    pub sign: SignId,
    /// "feel whether screw 1 of hinge 1 of fall 1 is loose".
    pub check: String,
    /// Minutes, if known.
    pub minutes: u16,
    /// The lowest and the highest that an answer would bring the chance to.
    pub from_to: (f64, f64),
    /// How far it is expected to move the chance.
    pub expected: f64,
}

/// Why a fault is as likely as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Why {
    /// The part.
    pub part: String,
    /// The fault or sign.
    pub state: StateId,
    /// Its chance.
    pub chance: f64,
    /// Its chance before anything was found.
    pub before: f64,
    /// Its chance on its own, when nothing gives a reason for it.
    pub own: f64,
    /// What was found, heaviest first.
    pub weights: Vec<Weight>,
    /// All sentences on the way.
    pub sentences: Vec<Sentence>,
    /// Faults that fall if this one is there: they explain the same findings.
    pub rivals: Vec<Rival>,
    /// The checks that would move it most.
    pub next: Vec<Look>,
}

/// Works out the reasons for a state of a part; `None` if the answers clash.
///
/// # Errors
/// If the piece cannot be set up.
pub fn why(
    set_up: &SetUp<'_>,
    pack: Pack<'_>,
    part: usize,
    state: StateId,
) -> Result<Option<Why>, SetUpError> {
    let mut room = Room::<UFloat>::default();
    let mut case = set_up.case(pack, &mut room)?;
    let row = set_up.built.states.declared(state);
    let number = u16::try_from(row).unwrap_or(u16::MAX);
    let Ok(chance) = case.inspection.chance(part, number) else {
        return Ok(None);
    };
    let chance = chance.as_f64();
    let mut bare_room = Room::<UFloat>::default();
    let mut bare = set_up.bare(pack, &mut bare_room)?;
    let before = bare.chance(part, number).unwrap_or_default().as_f64();
    let network = network(set_up, &case);
    let target = network
        .states
        .iter()
        .position(|s| s.part == part && s.row == row);
    let mut weights = weights(&mut case, part, number, chance);
    if let Some(target) = target {
        let mut is_known = vec![false; network.states.len()];
        for evidence in &case.evidence {
            for state in touched(set_up, &network, evidence) {
                is_known[state] = true;
            }
        }
        let ways = Ways::from(&network, target, &is_known);
        for weight in weights
            .iter_mut()
            .filter(|w| w.decibans.abs() >= LEAST_DECIBANS)
        {
            weight.sentences = ways.to_fact(set_up, &network, &case, weight.fact);
        }
    }
    let mut ids: BTreeSet<SentenceId> = weights
        .iter()
        .flat_map(|w| w.sentences.iter().copied())
        .collect();
    if ids.is_empty()
        && let Some(target) = target
    {
        ids.extend(network.states[target].causes.iter().map(|c| c.sentence));
    }
    let rivals = rivals(set_up, &mut case, part, state);
    let next = looks(set_up, &mut case, part, number, chance);
    let parts = case.inspection.piece().parts();
    let own = parts.get(part).and_then(|record| {
        let place = usize::from(record.place);
        set_up.built.false_alarm(place, row)
    });
    Ok(Some(Why {
        part: words::part_name(set_up.model, &part_ref(&set_up.built.places, parts, part)),
        state,
        chance,
        before,
        own: own.unwrap_or(set_up.built.states.states[row].own),
        weights,
        sentences: ids
            .into_iter()
            .filter_map(|id| sentence(set_up, id))
            .collect(),
        rivals,
        next,
    }))
}

fn weights(case: &mut Case<'_, UFloat>, part: usize, number: u16, chance: f64) -> Vec<Weight> {
    let mut found = Vec::new();
    for (fact, givens) in by_fact(case) {
        for given in &givens {
            let _ = case
                .inspection
                .answer(given.part, given.ask, Answer::NotLooked);
        }
        let without = case.inspection.chance(part, number);
        for given in &givens {
            let _ = case.inspection.answer(given.part, given.ask, given.answer);
        }
        let Ok(without) = without else { continue };
        let without = without.as_f64();
        found.push(Weight {
            fact,
            decibans: decibans(chance, without),
            without,
            in_order: 0.0,
            sentences: Vec::new(),
        });
    }
    set_in_order(case, part, number, &mut found);
    let is_felt = |d: f64| d.abs() >= LEAST_DECIBANS / 5.0;
    found.retain(|w| is_felt(w.decibans) || is_felt(w.in_order));
    found.sort_by(|a, b| b.decibans.abs().total_cmp(&a.decibans.abs()));
    found
}

/// Gives the answers again one fact after the other, as they were found.
fn set_in_order(case: &mut Case<'_, UFloat>, part: usize, number: u16, weights: &mut [Weight]) {
    let facts = by_fact(case);
    for (_, givens) in &facts {
        for given in givens {
            let _ = case
                .inspection
                .answer(given.part, given.ask, Answer::NotLooked);
        }
    }
    let mut before = case.inspection.chance(part, number).unwrap_or_default();
    for (fact, givens) in &facts {
        for given in givens {
            let _ = case.inspection.answer(given.part, given.ask, given.answer);
        }
        let after = case.inspection.chance(part, number).unwrap_or(before);
        if let Some(weight) = weights.iter_mut().find(|w| w.fact == *fact) {
            weight.in_order = decibans(after.as_f64(), before.as_f64());
        }
        before = after;
    }
}

/// How many rivals are named.
const RIVALS: usize = 3;
/// A rival falls by at least this.
const LEAST_FALL: f64 = 0.03;

/// The faults whose chance falls most when this one is held to be there.
fn rivals(
    set_up: &SetUp<'_>,
    case: &mut Case<'_, UFloat>,
    part: usize,
    state: StateId,
) -> Vec<Rival> {
    let row = &set_up.built.states.states[set_up.built.states.declared(state)];
    let ask = u16::try_from(row.whether.unwrap_or(row.ask)).unwrap_or(u16::MAX);
    let now = hidden(set_up, case);
    let before = case.inspection.answer(part, ask, Answer::Certain(true));
    let then = if case.inspection.settle().is_ok() {
        hidden(set_up, case)
    } else {
        now.clone()
    };
    let _ = case
        .inspection
        .answer(part, ask, before.unwrap_or_default());
    let mut found: Vec<(f64, Rival)> = now
        .into_iter()
        .zip(then)
        .filter(|((now, ..), (then, ..))| now - then >= LEAST_FALL)
        .map(|((now, at, state), (then, ..))| {
            let parts = case.inspection.piece().parts();
            let reference = part_ref(&set_up.built.places, parts, at);
            let rival = Rival {
                part: words::part_name(set_up.model, &reference),
                state,
                now,
                then,
            };
            (now - then, rival)
        })
        .collect();
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found
        .into_iter()
        .take(RIVALS)
        .map(|(_, rival)| rival)
        .collect()
}

/// The chance of every hidden fault, with its part.
fn hidden(set_up: &SetUp<'_>, case: &mut Case<'_, UFloat>) -> Vec<(f64, usize, StateId)> {
    let rows = &set_up.built.states.states;
    let pack = *case.inspection.pack();
    let mut found = Vec::new();
    for part in 0..case.inspection.piece().parts().len() {
        let Some(record) = case.inspection.piece().part(part) else {
            break;
        };
        for number in pack.states_of(usize::from(record.place)) {
            let row = &rows[usize::from(number)];
            if let (PackNature::Hidden, Some(state)) = (row.nature, row.declared) {
                let chance = case.inspection.chance(part, number).unwrap_or_default();
                found.push((chance.as_f64(), part, state));
            }
        }
    }
    found
}

/// The same piece part by part.
fn network(set_up: &SetUp<'_>, case: &Case<'_, UFloat>) -> Ground {
    let piece = case.inspection.piece();
    let root = piece.root();
    set_up.built.ground(set_up.model, root, |_, owner, place| {
        u8::try_from(piece.children_at(owner, place).len()).unwrap_or(u8::MAX)
    })
}

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
struct Ways {
    /// For each stop: the one before it, and the sentence between.
    before: HashMap<Stop, (Stop, SentenceId)>,
    start: Stop,
}

impl Ways {
    fn from(network: &Ground, target: usize, is_known: &[bool]) -> Self {
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

    fn to_fact(
        &self,
        set_up: &SetUp<'_>,
        network: &Ground,
        case: &Case<'_, UFloat>,
        fact: usize,
    ) -> Vec<SentenceId> {
        let answered = case.evidence.iter().filter(|e| e.fact == fact);
        answered
            .flat_map(|evidence| touched(set_up, network, evidence))
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
fn touched<'n>(
    set_up: &'n SetUp<'_>,
    network: &'n Ground,
    evidence: &'n Evidence,
) -> impl Iterator<Item = usize> + 'n {
    let rows = &set_up.built.states.states;
    let ask = usize::from(evidence.given.ask);
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

fn sentence(set_up: &SetUp<'_>, id: SentenceId) -> Option<Sentence> {
    let (at, source, words) = match id {
        SentenceId::Rule(i) => {
            let rule = set_up.model.rules.get(i)?;
            (rule.at, rule.source, words::rule(set_up.model, rule))
        }
        SentenceId::Means(i) => {
            let means = set_up.model.means.get(i)?;
            (means.at, means.source, words::means(set_up.model, means))
        }
        SentenceId::Meaning => return None,
    };
    Some(Sentence {
        id,
        at,
        source,
        words,
    })
}

/// How many checks are named.
const LOOKS: usize = 4;
/// A check that moves the chance by less than this is not worth naming.
const LEAST_MOVE: f64 = 0.005;

/// Tries every answer to every yes/no check and choice that has not been made.
fn looks(
    set_up: &SetUp<'_>,
    case: &mut Case<'_, UFloat>,
    part: usize,
    number: u16,
    chance: f64,
) -> Vec<Look> {
    let mut found = Vec::new();
    for other in 0..case.inspection.piece().parts().len() {
        let record = case.inspection.piece().part(other);
        let Some(record) = record.filter(|record| !record.out_of_sight) else {
            continue;
        };
        let pack = *case.inspection.pack();
        for ask in pack.asks_of(usize::from(record.place)) {
            let answer = case.inspection.piece().answer(&pack, other, ask);
            let is_open = answer == Some(Answer::NotLooked);
            let Asked::Sign(sign) = set_up.built.states.asks[usize::from(ask)].what else {
                continue;
            };
            if !is_open {
                continue;
            }
            let answers = possible(set_up, &pack, usize::from(ask));
            let Some((from_to, expected)) = outcomes(
                &mut case.inspection,
                (other, ask),
                &answers,
                (part, number),
                chance,
            ) else {
                continue;
            };
            if from_to.1 - from_to.0 < LEAST_MOVE {
                continue;
            }
            let parts = case.inspection.piece().parts();
            let name =
                words::part_name(set_up.model, &part_ref(&set_up.built.places, parts, other));
            found.push(Look {
                check: words::sign_check(set_up.model, sign, &name),
                part: name,
                sign,
                minutes: pack.ask(usize::from(ask)).minutes,
                from_to,
                expected,
            });
        }
    }
    found.sort_by(|a, b| b.expected.total_cmp(&a.expected));
    found.truncate(LOOKS);
    found
}

/// Answers that stand for all there can be: yes and no, each value of a choice,
/// a reading on each side of every mark.
fn possible(set_up: &SetUp<'_>, pack: &Pack<'_>, ask: usize) -> Vec<Answer> {
    match pack.ask(ask).form {
        Form::Whether => vec![Answer::Seen(false), Answer::Seen(true)],
        Form::Which { values, .. } => (0..values)
            .map(|v| Answer::Value(u8::try_from(v).unwrap_or(0)))
            .collect(),
        Form::HowMuch { least, most, .. } => readings(set_up, ask, least, most),
        Form::HowMany { part } => {
            let kind = pack.ask(ask).kind;
            let (least, most) = tellmark_compile::range(
                set_up.model,
                tellmark_language::model::KindId(kind),
                tellmark_language::model::KindId(part),
            );
            readings(set_up, ask, least, most)
        }
    }
}

fn readings(set_up: &SetUp<'_>, ask: usize, least: i32, most: i32) -> Vec<Answer> {
    let mut marks = BTreeSet::from([least, most]);
    for row in set_up.built.states.states.iter().filter(|r| r.ask == ask) {
        if let tellmark_core::pack::Trial::Within(from, to) = row.trial {
            for mark in [from, to.saturating_add(1)] {
                if least < mark && mark <= most {
                    marks.insert(mark);
                    marks.insert(mark - 1);
                }
            }
        }
    }
    marks.into_iter().map(Answer::Reading).collect()
}

/// The lowest and highest chance that the answers lead to, and how far they are
/// expected to move it. Each answer counts as its own chance says: since the
/// expected chance afterwards is the chance now, two extremes and the way
/// between them give the expected move of a yes/no check exactly, and of the
/// others its upper end.
fn outcomes(
    inspection: &mut Inspection<'_, '_, UFloat>,
    (part, ask): (usize, u16),
    answers: &[Answer],
    (of_part, number): (usize, u16),
    chance: f64,
) -> Option<((f64, f64), f64)> {
    let mut low = chance;
    let mut high = chance;
    for &answer in answers {
        let _ = inspection.answer(part, ask, answer);
        if let Ok(after) = inspection.chance(of_part, number) {
            low = low.min(after.as_f64());
            high = high.max(after.as_f64());
        }
    }
    let _ = inspection.answer(part, ask, Answer::NotLooked);
    if high - low <= 0.0 {
        return None;
    }
    // With chance p of the high end, p·high + (1 − p)·low = chance.
    let p = (chance - low) / (high - low);
    let expected = p * (high - chance) + (1.0 - p) * (chance - low);
    Some(((low, high), expected))
}
