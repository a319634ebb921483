//! A sum that is done.

use serde::Serialize;

/// A sum that is done.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Worked {
    /// Which sum: "movement".
    pub sum: &'static str,
    /// The answer, in one line.
    pub answer: String,
    /// How it comes about, a line a step.
    pub working: Vec<String>,
    /// Where formulas and figures are from, and how sure they are.
    pub sources: Vec<String>,
    /// What to mind before it is gone by.
    pub caution: String,
    /// The figures, for programs.
    pub figures: Vec<Figure>,
}

/// A figure of a sum.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// What it is.
    pub name: String,
    /// Its value.
    pub value: f64,
    /// Its unit; empty for a bare number.
    pub unit: &'static str,
}

impl Worked {
    /// One without figures and sources yet.
    pub(crate) fn new(sum: &'static str, answer: String, caution: &str) -> Worked {
        Worked {
            sum,
            answer,
            working: Vec::new(),
            sources: Vec::new(),
            caution: caution.to_owned(),
            figures: Vec::new(),
        }
    }

    /// With a line of working.
    pub(crate) fn step(&mut self, line: impl Into<String>) {
        self.working.push(line.into());
    }

    /// With a source, once.
    pub(crate) fn from(&mut self, source: impl ToString) {
        let source = source.to_string();
        if !self.sources.contains(&source) {
            self.sources.push(source);
        }
    }

    /// With a figure, to six places.
    pub(crate) fn figure(&mut self, name: impl Into<String>, value: f32, unit: &'static str) {
        let value = f64::from(value);
        let places = 5.0 - value.abs().log10().floor();
        let value = match places.is_finite() && places.abs() < 30.0 {
            true => {
                let scale = 10_f64.powf(places);
                (value * scale).round() / scale
            }
            false => value,
        };
        self.figures.push(Figure {
            name: name.into(),
            value,
            unit,
        });
    }
}
