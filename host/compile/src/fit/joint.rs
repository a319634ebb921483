//! What is known about one sign before it is fitted: its joint chances with the faults
//! that it points to.

use tellmark_core::inspection::Inspection;
use tellmark_core::piece::Eye;

use super::reading::{Reading, fault_parts, part_at};
use crate::rules::Rules;
use crate::states::{StateRow, States};

/// Faults looked at together for one sign.
const TOGETHER: usize = 7;

/// Everything known about one sign before it is fitted.
pub(super) struct Joint {
    /// For each combination of faults (a bit each) and of the sign's other
    /// causes (the lowest bit): its chance.
    chances: Vec<f64>,
    /// The same, of the sign's being ruled out; empty, if it never is.
    ruled_out: Vec<f64>,
    /// For each fault: which sentence of the reading.
    pub(super) sentence: Vec<usize>,
    /// How likely the restorer says yes.
    yes: Yes,
}

/// How likely somebody says yes to a sign: "it is stiff", "it is badly lifted".
struct Yes {
    /// If it is so.
    so: f64,
    /// If it is not so, for each combination of faults; one for all, if they make no
    /// difference.
    not: Vec<f64>,
    /// If it cannot be so at all.
    ruled_out: f64,
}

impl Yes {
    /// To a sign that is so or not. A slip of a judgement falls half on either side.
    fn plain(row: &StateRow, slip: f64) -> Self {
        let slip = row.degree().map_or(slip, |_| slip / 2.0);
        Self {
            so: 1.0 - slip,
            not: vec![slip],
            ruled_out: slip,
        }
    }

    fn not(&self, faults: usize) -> f64 {
        let of_all = self.not.first().copied().unwrap_or(0.0);
        self.not.get(faults).copied().unwrap_or(of_all)
    }
}

impl Joint {
    pub(super) fn of(
        rules: Rules<'_>,
        inspection: &mut Inspection<'_, '_, f64>,
        reading: &Reading,
    ) -> Option<Self> {
        let states = rules.states;
        let part = part_at(inspection, reading.place)?;
        let mut faults = Vec::new();
        let mut sentence = Vec::new();
        for (i, &index) in reading.means.iter().enumerate() {
            let means = &rules.model.means[index];
            let number = states.number(means.fault);
            for at in fault_parts(inspection, (rules.model, rules.places), part, means) {
                if faults.len() < TOGETHER {
                    faults.push((at, number));
                    sentence.push(i);
                }
            }
        }
        let mut nodes = vec![(part, states.number(reading.sign))];
        nodes.extend(&faults);
        let mut chances = vec![0.0; 1 << nodes.len()];
        let row = &states.states[states.declared(reading.sign)];
        let (ask, _) = row.said(true, Eye::Ordinary);
        let slip = f64::from(inspection.pack().ask(ask.into()).slip) / 1000.0;
        let mut yes = Yes::plain(row, slip);
        let highest = states.highest(row);
        if highest > 1 {
            let right = 1.0 - slip / 2.0;
            let wrong = slip / 2.0;
            yes = Yes {
                so: right.powi(highest),
                not: vec![0.0; chances.len() / 2],
                ruled_out: wrong.powi(highest),
            };
        }
        let mut spread = Spread {
            states,
            inspection,
            nodes: &nodes,
            chances: &mut chances,
            highest,
            slip: slip / 2.0,
            not: &mut yes.not,
        };
        spread.from(0, 0, 1.0);
        Some(Self {
            chances,
            ruled_out: Vec::new(),
            sentence,
            yes,
        })
    }

    /// The joint chances of the faults with the sign's not being there.
    pub(super) fn without_sign(&self) -> Vec<f64> {
        self.chances.iter().step_by(2).copied().collect()
    }

    /// With what chances of the faults the sign is ruled out.
    pub(super) fn rule_out(&mut self, ruled_out: &[f64]) {
        self.ruled_out = ruled_out.to_vec();
    }

    /// With this false-alarm chance and these links: the chance that the
    /// restorer says yes, and that the fault of one sentence (on its first
    /// part) is then there too.
    pub(super) fn yes(&self, alarm: f64, links: &[f64], sentence: usize) -> (f64, f64) {
        let first = self.sentence.iter().position(|&s| s == sentence);
        let (mut yes, mut with) = (0.0, 0.0);
        for (world, chance) in self.chances.iter().enumerate() {
            if *chance == 0.0 {
                continue;
            }
            let other_cause = world & 1 == 1;
            let mut absent = if other_cause { 0.0 } else { 1.0 - alarm };
            for (fault, &sentence) in self.sentence.iter().enumerate() {
                if world >> (fault + 1) & 1 == 1 {
                    absent *= 1.0 - links[sentence];
                }
            }
            let closed = match self.ruled_out.get(world >> 1) {
                Some(closed) if !other_cause => closed.min(*chance),
                _ => 0.0,
            };
            let open = absent * (chance - closed);
            let here = (chance - open - closed) * self.yes.so
                + open * self.open(world >> 1, *chance, closed)
                + closed * self.yes.ruled_out;
            yes += here;
            if first.is_some_and(|fault| world >> (fault + 1) & 1 == 1) {
                with += here;
            }
        }
        (yes, with)
    }

    /// How likely a yes is where the sign is not there though it could be, from how likely
    /// it is where it is not there for whatever reason.
    fn open(&self, faults: usize, chance: f64, closed: f64) -> f64 {
        let all = self.yes.not(faults);
        if closed > 0.0 && chance > closed {
            (all * chance - closed * self.yes.ruled_out) / (chance - closed)
        } else {
            all
        }
    }

    /// The chance of one sentence's fault once the restorer has said yes.
    pub(super) fn after_yes(&self, alarm: f64, links: &[f64], sentence: usize) -> f64 {
        let (yes, with) = self.yes(alarm, links, sentence);
        if yes > 0.0 { with / yes } else { 0.0 }
    }
}

/// Multiplies out the joint chances of some states, one after the other.
struct Spread<'s, 'i, 'm, 'a> {
    states: &'s States,
    inspection: &'i mut Inspection<'m, 'a, f64>,
    /// Parts, with a state of each by its number.
    nodes: &'s [(usize, u16)],
    chances: &'s mut [f64],
    /// Of a sign that is the highest degree of a judgement: which that is; or 0.
    highest: i32,
    /// How often somebody says yes to a degree that is not so.
    slip: f64,
    /// How likely a yes to the sign is in each world without it (see [`Yes::not`]).
    not: &'s mut [f64],
}

impl Spread<'_, '_, '_, '_> {
    /// How likely somebody takes the highest degree for so, which is not: from the chances
    /// of the lower ones as things stand.
    fn lower(&mut self) -> f64 {
        let Some(&(part, sign)) = self.nodes.first() else {
            return 0.0;
        };
        let Some(record) = self.inspection.piece().part(part) else {
            return 0.0;
        };
        let ask = self.states.states[usize::from(sign)].ask;
        let mut from = vec![1.0];
        for degree in 1..self.highest {
            let mut rows = (0_u16..).zip(&self.states.states);
            let is_it =
                |row: &StateRow| row.ask == ask && row.degree().map(i32::from) == Some(degree);
            let number = rows.find(|(_, row)| is_it(row)).map(|(number, _)| number);
            let pack = *self.inspection.pack();
            let slot = number.and_then(|n| pack.state_slot(usize::from(record.place), n));
            let weights = slot.and_then(|slot| self.inspection.weights(part, slot).ok());
            from.push(weights.map_or(0.0, |(no, yes)| yes / (no + yes)));
        }
        from.push(0.0);
        let degrees = (0..self.highest).zip(from.windows(2));
        let likely = degrees.map(|(degree, pair)| {
            let taken = (1.0 - self.slip).powi(degree) * self.slip.powi(self.highest - degree);
            (pair[0] - pair[1]) * taken
        });
        likely.sum()
    }

    /// From this node on, with the ones before as `world` has them (a bit each), which
    /// has this chance.
    fn from(&mut self, depth: usize, world: usize, chance: f64) {
        let Some(&(part, number)) = self.nodes.get(depth) else {
            self.chances[world] = chance;
            if self.highest > 1 && world & 1 == 0 {
                self.not[world >> 1] = self.lower();
            }
            return;
        };
        let Some(record) = self.inspection.piece().part(part) else {
            return;
        };
        let place = usize::from(record.place);
        let Some(slot) = self.inspection.pack().state_slot(place, number) else {
            return;
        };
        let Ok((no, yes)) = self.inspection.weights(part, slot) else {
            return;
        };
        let share = yes / (no + yes);
        let state = &self.states.states[usize::from(number)];
        for (holds, part_of) in [(false, 1.0 - share), (true, share)] {
            if part_of > 0.0 {
                let (ask, certainly) = state.said(holds, Eye::Certain);
                let before = self.inspection.answer(part, ask, certainly);
                let world = world | (usize::from(holds) << depth);
                self.from(depth + 1, world, chance * part_of);
                let _ = self
                    .inspection
                    .answer(part, ask, before.unwrap_or_default());
            }
        }
    }
}
