//! Makes `If <sign>, that usually means <fault>` come true.
//!
//! Such a sentence is a statement about the finished rules: of the pieces on
//! which the restorer says yes to this sign, and nothing else is known, the
//! fault is there that often. What can be fitted is how often the sign shows
//! when nothing is wrong (its false-alarm chance) and, where no `If … then …`
//! sentence gives it, how often the fault shows the sign. An ordinary yes
//! allows for a slip of the eye, and the fit counts that in; a sign that is
//! measured is taken as known for certain.
//!
//! Everything but the sign's own chance and its links is exact: the joint
//! chances of the faults and of the sign's other causes come from the compiled
//! rules without them.

use std::collections::{BTreeMap, HashMap};

use tellmark_core::inspection::Inspection;
use tellmark_core::piece::Answer;

use super::places::Places;
use super::states::States;
use tellmark_language::model::{
    Condition, HowMany, Means, Model, Nature, Predicate, Reach, Rule, Test,
};

/// How often the fault shows the sign, where there is a choice.
const SHOWS: f64 = 0.8;
/// The most often that a fault can be taken to show a sign.
const MOST: f64 = 0.99;
/// Smallest and largest false-alarm chance.
const ALARM: (f64, f64) = (0.000_5, 0.9);
/// Faults looked at together for one sign.
const TOGETHER: usize = 7;

/// The fitted figures.
#[derive(serde::Serialize, serde::Deserialize, Clone, Debug, Default, PartialEq)]
pub struct Fitted {
    alarms: HashMap<(usize, usize), f64>,
    links: HashMap<(usize, usize), f64>,
}

impl Fitted {
    /// A link for every sentence, of no particular strength.
    pub(super) fn assumed(model: &Model, places: &Places) -> Self {
        let mut fitted = Self::default();
        for (i, means) in model.means.iter().enumerate() {
            for place in places.of_subject(means.subject) {
                fitted.links.insert((place, i), SHOWS);
            }
        }
        fitted
    }

    /// The fitted chance that the sign (a row of the states) shows at this
    /// place when nothing is wrong.
    #[must_use]
    pub fn false_alarm(&self, place: usize, row: usize) -> Option<f64> {
        self.alarms.get(&(place, row)).copied()
    }

    /// The fitted chance that the fault of this sentence shows the sign at
    /// this place.
    #[must_use]
    pub fn link(&self, place: usize, means: usize) -> Option<f64> {
        self.links.get(&(place, means)).copied()
    }
}

/// What a `that means` sentence comes to in the finished pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// Which `that means` sentence.
    pub means: usize,
    /// At which place.
    pub place: usize,
    /// The figure that it comes to.
    pub reached: f64,
    /// The fault's chance before anything is known.
    pub before: f64,
}

/// One sign at one place, with all sentences that read it.
#[derive(Clone, Debug)]
pub struct Reading {
    /// Where.
    pub place: usize,
    /// The sign, as a row of the states.
    pub row: usize,
    /// The sentences.
    pub means: Vec<usize>,
}

/// All signs to be fitted.
#[must_use]
pub fn readings(model: &Model, states: &States, places: &Places) -> Vec<Reading> {
    let mut found: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
    for (i, means) in model.means.iter().enumerate() {
        for place in places.of_subject(means.subject) {
            let reachable = match &means.whose {
                Reach::Own => true,
                Reach::Up(kind) => places.owner_of_kind(place, *kind).is_some(),
                Reach::Down { path, .. } => places.down(place, path).is_some(),
            };
            if reachable {
                let row = states.declared(means.sign);
                found.entry((place, row)).or_default().push(i);
            }
        }
    }
    found
        .into_iter()
        .map(|((place, row), means)| Reading { place, row, means })
        .collect()
}

/// Nothing linked and no false alarms yet, for these signs.
#[must_use]
pub fn unlinked(readings: &[Reading]) -> Fitted {
    let mut fitted = Fitted::default();
    for reading in readings {
        fitted.alarms.insert((reading.place, reading.row), 0.0);
    }
    fitted
}

/// Whether a rule already says how often this fault shows this sign.
fn is_said(model: &Model, means: &Means) -> bool {
    model.rules.iter().any(|rule| {
        rule.state == means.sign
            && matches!(&rule.when, Condition::Test(test) if says(test, rule, means))
    })
}

fn says(test: &Test, rule: &Rule, means: &Means) -> bool {
    let positive =
        matches!(&test.what, Predicate::State { state, yes: true, .. } if *state == means.fault);
    let is_one = |many: &HowMany| matches!(many, HowMany::The | HowMany::Any);
    let same_part = match (&test.whose, &rule.result, &means.whose) {
        (Reach::Own, Reach::Own, Reach::Own) => true,
        (Reach::Up(a), Reach::Own, Reach::Up(b)) => a == b,
        (Reach::Down { path: a, many }, Reach::Own, Reach::Down { path: b, .. }) => {
            a == b && is_one(many)
        }
        (Reach::Own, Reach::Down { .. }, Reach::Up(kind)) => rule.subject == *kind,
        (Reach::Own, Reach::Up(kind), Reach::Down { path, .. }) => {
            path.last() == Some(&rule.subject) && means.subject == *kind
        }
        _ => false,
    };
    positive && same_part
}

/// The parts on which a sentence's fault can be, seen from a part.
fn fault_parts(
    inspection: &Inspection<'_, '_, f64>,
    places: &Places,
    part: usize,
    means: &Means,
) -> Vec<usize> {
    let piece = inspection.piece();
    let Some(record) = piece.part(part) else {
        return Vec::new();
    };
    let place = usize::from(record.place);
    match &means.whose {
        Reach::Own => vec![part],
        Reach::Up(kind) => {
            let Some(owner) = places.owner_of_kind(place, *kind) else {
                return Vec::new();
            };
            piece
                .owners(part)
                .filter(|&o| piece.part(o).is_some_and(|o| usize::from(o.place) == owner))
                .collect()
        }
        Reach::Down { path, .. } => {
            let mut parts = vec![part];
            for place in places.down(place, path).unwrap_or_default() {
                parts = parts
                    .into_iter()
                    .flat_map(|p| piece.children_at(p, place))
                    .collect();
            }
            parts
        }
    }
}

/// The first part that stands at a place.
fn part_at(inspection: &Inspection<'_, '_, f64>, place: usize) -> Option<usize> {
    let mut parts = inspection.piece().parts().iter();
    parts.position(|part| usize::from(part.place) == place)
}

/// Everything known about one sign before it is fitted.
struct Joint {
    /// For each combination of faults (a bit each) and of the sign's other
    /// causes (the lowest bit): its chance.
    chances: Vec<f64>,
    /// For each fault: which sentence of the reading.
    sentence: Vec<usize>,
    /// Chance of an ordinary yes although the sign is not there.
    slip: f64,
}

impl Joint {
    fn of(
        model: &Model,
        states: &States,
        places: &Places,
        inspection: &mut Inspection<'_, '_, f64>,
        reading: &Reading,
    ) -> Option<Self> {
        let part = part_at(inspection, reading.place)?;
        let mut faults = Vec::new();
        let mut sentence = Vec::new();
        for (i, &index) in reading.means.iter().enumerate() {
            let means = &model.means[index];
            let row = states.declared(means.fault);
            for at in fault_parts(inspection, places, part, means) {
                if faults.len() < TOGETHER {
                    faults.push((at, row));
                    sentence.push(i);
                }
            }
        }
        let mut nodes = vec![(part, reading.row)];
        nodes.extend(&faults);
        let mut chances = vec![0.0; 1 << nodes.len()];
        spread(states, inspection, &nodes, 0, 0, 1.0, &mut chances);
        let row = &states.states[reading.row];
        let by_eye = row.whether.is_none() && row.declared.is_some();
        let slip = inspection.pack().ask(row.ask).slip;
        Some(Self {
            chances,
            sentence,
            slip: if by_eye {
                f64::from(slip) / 1000.0
            } else {
                0.0
            },
        })
    }

    /// With this false-alarm chance and these links: the chance that the
    /// restorer says yes, and that the fault of one sentence (on its first
    /// part) is then there too.
    fn yes(&self, alarm: f64, links: &[f64], sentence: usize) -> (f64, f64) {
        let first = self.sentence.iter().position(|&s| s == sentence);
        let (mut yes, mut with) = (0.0, 0.0);
        for (world, chance) in self.chances.iter().enumerate() {
            if *chance == 0.0 {
                continue;
            }
            let mut absent = if world & 1 == 1 { 0.0 } else { 1.0 - alarm };
            for (fault, &sentence) in self.sentence.iter().enumerate() {
                if world >> (fault + 1) & 1 == 1 {
                    absent *= 1.0 - links[sentence];
                }
            }
            let here = chance * (1.0 - absent + absent * self.slip);
            yes += here;
            if first.is_some_and(|fault| world >> (fault + 1) & 1 == 1) {
                with += here;
            }
        }
        (yes, with)
    }

    /// The chance of one sentence's fault once the restorer has said yes.
    fn after_yes(&self, alarm: f64, links: &[f64], sentence: usize) -> f64 {
        let (yes, with) = self.yes(alarm, links, sentence);
        if yes > 0.0 { with / yes } else { 0.0 }
    }

    /// The link that makes one sentence come true, the others being given. A
    /// fault that can be on one part only makes both chances straight lines in
    /// its link, so that two points on each are enough.
    fn link(&self, alarm: f64, links: &[f64], sentence: usize, wanted: f64) -> f64 {
        let mut tried = links.to_vec();
        let mut at = |link: f64| {
            tried[sentence] = link;
            self.yes(alarm, &tried, sentence)
        };
        let parts = self.sentence.iter().filter(|&&s| s == sentence).count();
        if parts > 1 {
            return rise_to(wanted, (0.0, MOST), |link| {
                let (yes, with) = at(link);
                if yes > 0.0 { with / yes } else { 0.0 }
            });
        }
        let ((yes, with), (yes_linked, with_linked)) = (at(0.0), at(1.0));
        let rise = (with_linked - with) - wanted * (yes_linked - yes);
        let short = wanted * yes - with;
        if short <= 0.0 {
            0.0
        } else if rise * MOST <= short {
            MOST
        } else {
            short / rise
        }
    }
}

/// Multiplies out the joint chances of some states, one after the other.
fn spread(
    states: &States,
    inspection: &mut Inspection<'_, '_, f64>,
    nodes: &[(usize, usize)],
    depth: usize,
    world: usize,
    chance: f64,
    chances: &mut [f64],
) {
    let Some(&(part, row)) = nodes.get(depth) else {
        chances[world] = chance;
        return;
    };
    let Some(record) = inspection.piece().part(part) else {
        return;
    };
    let place = usize::from(record.place);
    let number = u16::try_from(row).unwrap_or(u16::MAX);
    let Some(slot) = inspection.pack().state_slot(place, number) else {
        return;
    };
    let Ok((no, yes)) = inspection.weights(part, slot) else {
        return;
    };
    let share = yes / (no + yes);
    let state = &states.states[row];
    let ask = state.whether.unwrap_or(state.ask);
    let ask = u16::try_from(ask).unwrap_or(u16::MAX);
    for (holds, part_of) in [(false, 1.0 - share), (true, share)] {
        if part_of > 0.0 {
            let before = inspection.answer(part, ask, Answer::Certain(holds));
            let world = world | (usize::from(holds) << depth);
            spread(
                states,
                inspection,
                nodes,
                depth + 1,
                world,
                chance * part_of,
                chances,
            );
            let _ = inspection.answer(part, ask, before.unwrap_or_default());
        }
    }
}

/// Where a rising function reaches a value.
fn rise_to(target: f64, (low, high): (f64, f64), mut value: impl FnMut(f64) -> f64) -> f64 {
    let (mut low, mut high) = (low, high);
    for _ in 0..30 {
        let middle = f64::midpoint(low, high);
        if value(middle) < target {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// Fits one sign.
pub fn fit(
    model: &Model,
    states: &States,
    places: &Places,
    inspection: &mut Inspection<'_, '_, f64>,
    reading: &Reading,
    fitted: &mut Fitted,
) {
    let Some(joint) = Joint::of(model, states, places, inspection, reading) else {
        return;
    };
    let wanted: Vec<f64> = reading
        .means
        .iter()
        .map(|&i| f64::from(model.means[i].strength.chance.0) / 1000.0)
        .collect();
    let said: Vec<bool> = reading
        .means
        .iter()
        .map(|&i| is_said(model, &model.means[i]))
        .collect();
    let solve = |alarm: f64| links(&joint, alarm, &wanted, &said);
    let alarm = match said.iter().position(|&s| s) {
        Some(fixed) => rise_to(-wanted[fixed], ALARM, |alarm| {
            -joint.after_yes(alarm, &solve(alarm), fixed)
        }),
        None => rise_to(SHOWS, ALARM, |alarm| {
            solve(alarm).into_iter().fold(0.0, f64::max)
        }),
    };
    let alarm = to_millionths(alarm);
    fitted.alarms.insert((reading.place, reading.row), alarm);
    for ((&means, &said), link) in reading.means.iter().zip(&said).zip(solve(alarm)) {
        if !said {
            let link = to_millionths(link);
            fitted.links.insert((reading.place, means), link);
        }
    }
}

/// A chance to the nearest millionth: finer than any sentence, and coarse
/// enough that the fit comes out the same in whatever order the compiler
/// multiplies.
fn to_millionths(chance: f64) -> f64 {
    (chance * 1e6).round() / 1e6
}

/// How often each fault must show the sign, given its false-alarm chance.
fn links(joint: &Joint, alarm: f64, wanted: &[f64], said: &[bool]) -> Vec<f64> {
    let mut links = vec![0.0; wanted.len()];
    for _ in 0..40 {
        let mut moved: f64 = 0.0;
        for i in 0..links.len() {
            if !said[i] {
                let link = joint.link(alarm, &links, i, wanted[i]);
                moved = moved.max((link - links[i]).abs());
                links[i] = link;
            }
        }
        if links.len() == 1 || moved < 1e-6 {
            break;
        }
    }
    links
}

/// What each sentence comes to in the finished pack.
pub fn reached(
    model: &Model,
    states: &States,
    places: &Places,
    inspection: &mut Inspection<'_, '_, f64>,
    reading: &Reading,
) -> Vec<Reached> {
    let Some(part) = part_at(inspection, reading.place) else {
        return Vec::new();
    };
    let row = &states.states[reading.row];
    let (ask, answer) = match model.states[row.declared.map_or(0, |d| d.index())].nature {
        Nature::CountsAs { .. } => (row.whether.unwrap_or(row.ask), Answer::Certain(true)),
        _ => (row.ask, Answer::Seen(true)),
    };
    let ask = u16::try_from(ask).unwrap_or(u16::MAX);
    let mut found = Vec::new();
    for &means in &reading.means {
        let sentence = &model.means[means];
        let fault = u16::try_from(states.declared(sentence.fault)).unwrap_or(u16::MAX);
        let Some(&at) = fault_parts(inspection, places, part, sentence).first() else {
            continue;
        };
        let before = inspection.chance(at, fault).unwrap_or_default().as_f64();
        let _ = inspection.answer(part, ask, answer);
        let reached = inspection.chance(at, fault).unwrap_or_default().as_f64();
        let _ = inspection.answer(part, ask, Answer::NotLooked);
        found.push(Reached {
            means,
            place: reading.place,
            reached,
            before,
        });
    }
    found
}
