//! A network as a text that other libraries can be given, and its fingerprint.
//!
//! Every state in use is one row `[name, own, causes, ask, trial, whether, divides]`:
//!
//! * `causes` are rows `[weight, claim]`; a claim is `true`, `false`,
//!   `["is", state]`, `["is not", state]`, `["all", claims]`,
//!   `["at least", number, claims]` or `["not", claim]`.
//! * `ask` is the number of the ask that decides the state, `trial` how:
//!   `"yes"`, `["value", v]` or `["within", from, to]`.
//! * `whether` is the number of a yes/no ask that decides it too, or `null`.
//! * `divides` is `null`, or for a mark that only divides a stretch of a measure the
//!   share that the pack keeps with it, in thousandths (see `State::own`).

use serde_json::{Value, json};
use tellmark_compile::ground::Claim;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::part_ref;
use tellmark_core::pack::{Form, Nature, Trial};
use tellmark_language::model::Verb;
use tellmark_language::words::part_name;

use super::Subject;

/// The network of a piece, and what its asks are like.
#[derive(Debug)]
pub struct Network {
    /// Names of the states in use.
    pub names: Vec<String>,
    /// One row for each state in use.
    pub states: Vec<Value>,
    /// For each ask `[slip in thousandths]`, after which a measure has its gauge, its
    /// least and its most in ticks, and a choice the number of its values.
    pub asks: Vec<Value>,
}

impl Network {
    /// Lays it out.
    ///
    /// # Panics
    /// If a rule reads a state that takes no part in the network.
    #[must_use]
    pub fn of(subject: &Subject<'_>) -> Self {
        let names = names(subject);
        let ground = &subject.ground;
        let mut number = vec![None; ground.states.len()];
        let used: Vec<usize> = (0..ground.states.len())
            .filter(|&state| ground.states[state].in_use)
            .collect();
        for (i, &state) in used.iter().enumerate() {
            number[state] = Some(i);
        }
        let states = used.iter().zip(&names).map(|(&state, name)| {
            let state = &ground.states[state];
            let row = &subject.built.states.states[state.row];
            let causes = state.causes.iter();
            let causes: Vec<Value> = causes
                .map(|cause| json!([cause.weight, claim(&cause.when, &number)]))
                .collect();
            let trial = match row.trial {
                Trial::Yes => json!("yes"),
                Trial::Value(value) => json!(["value", value]),
                Trial::Within(from, to) => json!(["within", from, to]),
            };
            let divides = (row.nature == Nature::Divides).then_some(row.share);
            json!([
                name,
                state.own,
                causes,
                row.ask,
                trial,
                row.whether,
                divides
            ])
        });
        let pack = subject.built.bytes.open().expect("a fresh pack opens");
        let asks = (0..subject.built.states.asks.len()).map(|ask| {
            let record = pack.ask(ask);
            match record.form {
                Form::HowMuch {
                    gauge, least, most, ..
                } => json!([record.slip, gauge, least, most]),
                Form::Which { values, .. } => json!([record.slip, values]),
                _ => json!([record.slip]),
            }
        });
        Self {
            states: states.collect(),
            asks: asks.collect(),
            names,
        }
    }

    /// A fingerprint: other rules have another one.
    #[must_use]
    pub fn print(&self) -> String {
        // FNV-1a (Fowler, Noll and Vo), 64 bits.
        let mut print = 0xcbf2_9ce4_8422_2325_u64;
        for row in self.states.iter().chain(&self.asks) {
            for byte in row.to_string().bytes().chain([b'\n']) {
                print = (print ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
            }
        }
        format!("{print:016x}")
    }
}

fn claim(claim_of: &Claim, number: &[Option<usize>]) -> Value {
    let each = |parts: &[Claim]| -> Vec<Value> { parts.iter().map(|p| claim(p, number)).collect() };
    match claim_of {
        Claim::Known(value) => json!(value),
        Claim::State(state, yes) => {
            let number = number[*state].expect("what a rule reads is in use");
            json!([if *yes { "is" } else { "is not" }, number])
        }
        Claim::All(parts) => json!(["all", each(parts)]),
        Claim::AtLeast(n, parts) => json!(["at least", n, each(parts)]),
        Claim::Not(part) => json!(["not", claim(part, number)]),
    }
}

fn names(subject: &Subject<'_>) -> Vec<String> {
    let pack = subject.built.bytes.open().expect("a fresh pack opens");
    let mut room = Room::<f64>::default();
    let inspection = subject.inspection(pack, &mut room);
    let parts = inspection.piece().parts();
    let used = subject.ground.states.iter().filter(|state| state.in_use);
    used.map(|state| {
        let row = &subject.built.states.states[state.row];
        let part = part_name(
            subject.model,
            &part_ref(&subject.built.places, parts, state.part),
        );
        let verb = match row.verb {
            Some(Verb::Is) => "is",
            Some(Verb::Shows) => "shows",
            None => "has",
        };
        format!("{part} {verb} {}", row.phrase)
    })
    .collect()
}
