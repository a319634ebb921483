//! The sums that rules use, said to people: how they come about, where they are from, what to
//! mind.

use crate::{fall, movement, shelf, tipping};
use tellmark_core::handbook;
use tellmark_core::handbook::woods::Wood;
use tellmark_language::model::Sum;

/// A sum as it was worked out for a part.
#[derive(Clone, Copy, Debug)]
pub struct Reckoned<'a> {
    /// Which.
    pub sum: Sum,
    /// What went into it, by the places of [`Sum::inputs`]: "900 mm", "oak".
    pub fed: &'a [(usize, String)],
}

impl Reckoned<'_> {
    fn value(&self, input: usize) -> &str {
        let found = self.fed.iter().find(|(at, _)| *at == input);
        found.map_or("", |(_, value)| value)
    }

    fn wood(&self) -> Option<&'static Wood> {
        let inputs = self.sum.inputs();
        let at = inputs.iter().position(|input| input.name == "wood")?;
        Wood::named(self.value(at))
    }

    /// How it comes about, in a line.
    #[must_use]
    pub const fn formula(&self) -> &'static str {
        match self.sum {
            Sum::Movement => {
                "What the wood swells and shrinks across the grain between the moistures that \
                 it comes to in both airs, at 20 °C; the larger figure where sources disagree."
            }
            Sum::Strain => {
                "What the wood would shrink across the grain, as a share of its width, between \
                 the moistures that it comes to in both airs, at 20 °C."
            }
            Sum::Sag => {
                "5/384 of the load along it, its own weight included, times the span to the \
                 fourth, by the stiffness of the wood and its section; twice that after years."
            }
            Sum::ScrewLoad => {
                "Held open by its hinges alone, which butt eight tenths of the thickness below \
                 the pin: what the worst screw carries, one of two hinges taken to carry seven \
                 tenths, by what it holds."
            }
            Sum::Steadiness => {
                "What, hung on the front of the open drawers, tips it about its front feet, by \
                 the weight of a child of 27.2 kg."
            }
        }
    }

    /// The command that shows each step; nothing where there is none.
    #[must_use]
    pub fn command(&self) -> Option<String> {
        let of = |input: usize| self.value(input).to_owned();
        let air = |input: usize| format!("20 C {}", self.value(input));
        let mut options: Vec<(&str, String)> = Vec::new();
        match self.sum {
            Sum::Movement | Sum::Strain => {
                let first = usize::from(self.sum == Sum::Movement);
                if first == 1 {
                    options.push(("width", of(0)));
                }
                options.push(("wood", of(first)));
                let cut = of(first + 1);
                if !cut.is_empty() {
                    let cut = match cut.as_str() {
                        "flat" | "flat-sawn" | "slab-sawn" | "plain-sawn" => "flat",
                        "not known" | "unknown" => "unknown",
                        _ => "quarter",
                    };
                    options.push(("cut", cut.to_owned()));
                }
                options.push(("climate", air(first + 2)));
                options.push(("climate", air(first + 3)));
            }
            Sum::Sag => options.extend([
                ("span", of(0)),
                ("width", of(1)),
                ("thickness", of(2)),
                ("wood", of(3)),
                ("load", format!("{}/m", self.value(4))),
            ]),
            Sum::ScrewLoad => {
                options.extend([
                    ("depth", of(0)),
                    ("length", of(1)),
                    ("thickness", of(2)),
                    ("wood", of(3)),
                    ("hand", of(4)),
                    ("leaf", "face".to_owned()),
                    ("leaf-depth", of(5)),
                    ("screws-at", of(6)),
                    ("hinges", of(7)),
                    ("screws-each", of(8)),
                    ("shank", of(9)),
                    ("thread", of(10)),
                ]);
                let sound = of(11);
                if !sound.is_empty() {
                    options.push(("sound", sound));
                }
            }
            Sum::Steadiness => return None,
        }
        let options = options
            .into_iter()
            .map(|(name, value)| format!(" --{name} \"{value}\""));
        let options: String = options.collect();
        Some(format!(
            "tellmark sum {}{options} --working",
            self.sum.command()
        ))
    }

    /// Where formula and figures are from, and how sure they are.
    #[must_use]
    pub fn sources(&self) -> Vec<String> {
        let mut sources = Vec::new();
        match self.sum {
            Sum::Movement | Sum::Strain => {
                sources.push(handbook::moisture::SOURCE);
                sources.push(handbook::movement::SOURCE);
                if let Some(wood) = self.wood() {
                    sources.push(wood.movement.source);
                    sources.extend(wood.movement_elsewhere.iter().map(|other| other.source));
                }
            }
            Sum::Sag => sources.push(handbook::shelf::SOURCE),
            Sum::ScrewLoad => {
                sources.push(handbook::fall::SOURCE);
                sources.push(handbook::fasteners::SOURCE);
            }
            Sum::Steadiness => sources.push(handbook::tipping::SOURCE),
        }
        if matches!(self.sum, Sum::Sag | Sum::ScrewLoad)
            && let Some(strength) = self.wood().and_then(|wood| wood.strength)
        {
            sources.push(strength.source);
        }
        let mut said: Vec<String> = Vec::new();
        for source in sources {
            let source = source.to_string();
            if !said.contains(&source) {
                said.push(source);
            }
        }
        said
    }

    /// What to mind before it is gone by.
    #[must_use]
    pub const fn caution(&self) -> &'static str {
        match self.sum {
            Sum::Movement => movement::CAUTION,
            Sum::Strain => movement::HELD,
            Sum::Sag => shelf::CAUTION,
            Sum::ScrewLoad => fall::CAUTION,
            Sum::Steadiness => tipping::CAUTION,
        }
    }
}
