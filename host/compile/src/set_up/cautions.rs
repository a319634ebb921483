//! The cautions that the findings call for.

use tellmark_core::number::Number;
use tellmark_core::piece::Answer;
use tellmark_core::plan::Call;
use tellmark_core::truth::Truth;

use super::{Case, Later, SetUp, part_ref};
use tellmark_language::model::Until;
use tellmark_language::words;

/// A caution that the findings call for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// Stop, rather than take care.
    pub stop: bool,
    /// The parts it is about.
    pub parts: Vec<String>,
    /// The same, as core counts them.
    pub indices: Vec<usize>,
    /// What it says.
    pub text: String,
    /// Where it comes from.
    pub source: String,
    /// Index in the model.
    pub caution: usize,
}

impl<N: Number> Case<'_, N> {
    /// The cautions that hold, once for each part they are about. A sign that was seen
    /// before something was mended counts for them as long as it may well be there still.
    pub fn raised(&mut self) -> Vec<Call> {
        let still = self.later.map_or(&[][..], Later::still);
        for given in still {
            let _ = self.inspection.answer(given.part, given.ask, given.answer);
        }
        let mut calls = Vec::new();
        self.inspection.cautions(|call| {
            if call.truth == Truth::True {
                calls.push(call);
            }
        });
        for given in still {
            let nothing = Answer::NotLooked;
            let _ = self.inspection.answer(given.part, given.ask, nothing);
        }
        calls
    }

    /// The cautions that hold, each once, stops first. One that ends once something is known of
    /// its part (`Until: it is known whether …`) has ended there.
    pub fn cautions(&mut self, set_up: &SetUp<'_>) -> Vec<Caution> {
        let mut calls = self.raised();
        calls.retain(|call| !self.is_known_enough(set_up, call));
        let mut found: Vec<Caution> = Vec::new();
        let parts = self.inspection.piece().parts();
        for call in calls {
            let reference = part_ref(&set_up.built.places, parts, call.part);
            let part = words::part_name(set_up.model, &reference);
            // What holds for several kinds was said once.
            let caution = set_up.model.said_caution(call.sentence);
            if let Some(known) = found.iter_mut().find(|c| c.caution == caution) {
                known.parts.push(part);
                known.indices.push(call.part);
                continue;
            }
            let pack = self.inspection.pack();
            let record = pack.caution(call.sentence);
            found.push(Caution {
                stop: record.stop,
                parts: vec![part],
                indices: vec![call.part],
                text: pack.text(record.text).to_owned(),
                source: pack.text(record.source).to_owned(),
                caution,
            });
        }
        found.sort_by_key(|caution| !caution.stop);
        found
    }

    /// Whether a caution ends because something is known by now.
    fn is_known_enough(&self, set_up: &SetUp<'_>, call: &Call) -> bool {
        let caution = set_up.model.cautions.get(call.sentence);
        let Some(Until::Known(state)) = caution.and_then(|caution| caution.until) else {
            return false;
        };
        let pack = self.inspection.pack();
        let state = pack.state(usize::from(set_up.built.states.number(state)));
        let piece = self.inspection.piece();
        piece.truth(pack, call.part, &state) != Truth::NotKnown
    }
}
