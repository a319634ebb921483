//! Solvents as fractional parameters, their mixtures, and series of mixtures for tests.
//!
//! Method: J. P. Teas, "Graphic analysis of resin solubilities", *J. Paint Technology* 40
//! (516), 1968, 19-25 (confirmed). Figures: J. Burke, "Solubility Parameters: Theory and
//! Application", *AIC Book and Paper Group Annual* 3 (1984), 13-58 (from memory; each row comes
//! to 100). The model leaves out the size of molecules, drying, acids and bases, and heat; water
//! and hydrocarbons fit it badly. It orders tests; it promises nothing.

use super::{Quantity, Refused, Source};

/// Where the figures of this module come from.
pub const SOURCE: Source = Source::remembered(
    "J. P. Teas, J. Paint Technology 40 (516), 1968, 19-25; figures of J. Burke, AIC Book and \
     Paper Group Annual 3 (1984), 13-58",
);

/// Fractional parameters, in per cent; they come to 100.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fractions {
    /// Of dispersion forces (Fd).
    pub dispersion: f32,
    /// Of polar forces (Fp).
    pub polar: f32,
    /// Of hydrogen bonds (Fh).
    pub bonding: f32,
}

/// A solvent.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solvent {
    /// What it is called.
    pub name: &'static str,
    /// Other names for it.
    pub also: &'static [&'static str],
    /// Its parameters.
    pub fractions: Fractions,
    /// What to know before a bottle is opened, where there is something in particular.
    pub beware: Option<&'static str>,
}

const fn solvent(
    name: &'static str,
    also: &'static [&'static str],
    (dispersion, polar, bonding): (f32, f32, f32),
    beware: Option<&'static str>,
) -> Solvent {
    Solvent {
        name,
        also,
        fractions: Fractions {
            dispersion,
            polar,
            bonding,
        },
        beware,
    }
}

/// The solvents.
pub const SOLVENTS: &[Solvent] = &[
    solvent("white spirit", &["mineral spirits"], (90.0, 4.0, 6.0), None),
    solvent(
        "ligroin",
        &["petroleum ether"],
        (97.0, 2.0, 1.0),
        Some("takes fire at any room temperature"),
    ),
    solvent(
        "cyclohexane",
        &[],
        (94.0, 2.0, 4.0),
        Some("takes fire at any room temperature"),
    ),
    solvent(
        "toluene",
        &[],
        (80.0, 7.0, 13.0),
        Some("harms the unborn and the nerves; use something else if you can"),
    ),
    solvent(
        "xylene",
        &["o-xylene"],
        (83.0, 5.0, 12.0),
        Some("goes through the skin"),
    ),
    solvent(
        "turpentine",
        &[],
        (77.0, 18.0, 5.0),
        Some("sets off allergies"),
    ),
    solvent(
        "acetone",
        &[],
        (47.0, 32.0, 21.0),
        Some("takes fire far below room temperature"),
    ),
    solvent(
        "methyl ethyl ketone",
        &["MEK", "butanone"],
        (53.0, 30.0, 17.0),
        Some("takes fire below room temperature"),
    ),
    solvent(
        "ethyl acetate",
        &[],
        (51.0, 18.0, 31.0),
        Some("takes fire below room temperature"),
    ),
    solvent(
        "methanol",
        &[],
        (30.0, 22.0, 48.0),
        Some("poisons and blinds, through the skin as well; use ethanol"),
    ),
    solvent(
        "ethanol",
        &["alcohol", "methylated spirit", "meths"],
        (36.0, 18.0, 46.0),
        Some("takes fire at room temperature"),
    ),
    solvent(
        "isopropanol",
        &["2-propanol", "isopropyl alcohol"],
        (38.0, 17.0, 45.0),
        Some("takes fire at room temperature"),
    ),
    solvent("butanol", &["n-butanol"], (43.0, 15.0, 42.0), None),
    solvent("benzyl alcohol", &[], (48.0, 16.0, 36.0), None),
    solvent(
        "dichloromethane",
        &["methylene chloride"],
        (59.0, 21.0, 20.0),
        Some("do not use it: it kills in closed rooms, and most uses are banned"),
    ),
    solvent(
        "dimethyl sulphoxide",
        &["DMSO"],
        (41.0, 36.0, 23.0),
        Some("carries what is dissolved in it through the skin"),
    ),
    solvent("water", &[], (18.0, 28.0, 54.0), None),
];

impl Solvent {
    /// The solvent that is called so, in whatever case.
    #[must_use]
    pub fn named(name: &str) -> Option<&'static Solvent> {
        let is_so = |other: &&str| other.eq_ignore_ascii_case(name);
        SOLVENTS
            .iter()
            .find(|one| is_so(&one.name) || one.also.iter().any(is_so))
    }
}

/// The parameters of a mixture, of the parts by volume of each.
///
/// # Errors
///
/// Parts outside 0 to 1,000,000; no parts at all.
pub fn mixed(parts: impl IntoIterator<Item = (Fractions, f32)>) -> Result<Fractions, Refused> {
    let (mut all, mut dispersion, mut polar, mut bonding) = (0.0, 0.0, 0.0, 0.0);
    for (fractions, part) in parts {
        let part = Quantity::Parts.within(part, 0.0, 1e6)?;
        all += part;
        dispersion += part * fractions.dispersion;
        polar += part * fractions.polar;
        bonding += part * fractions.bonding;
    }
    if all <= 0.0 {
        return Err(Refused::NothingMixed);
    }
    Ok(Fractions {
        dispersion: dispersion / all,
        polar: polar / all,
        bonding: bonding / all,
    })
}

/// How much (%, by volume) of `added` brings `base` to this dispersion parameter.
///
/// # Errors
///
/// A parameter that does not lie between those of the two.
pub fn share_for(target: f32, base: Fractions, added: Fractions) -> Result<f32, Refused> {
    let (from, to) = (base.dispersion, added.dispersion);
    let (lowest, highest) = if from < to { (from, to) } else { (to, from) };
    let target = Quantity::Dispersion.within(target, lowest, highest)?;
    // Of two that are alike any share does.
    if lowest >= highest {
        return Ok(0.0);
    }
    Ok((target - from) / (to - from) * 100.0)
}

/// Fractional parameters from Hansen's three (MPa^½). They are another table than
/// [`SOLVENTS`], by up to a few units; keep to one.
///
/// # Errors
///
/// A parameter outside 0 to 60; nothing but noughts.
pub fn from_hansen(dispersion: f32, polar: f32, bonding: f32) -> Result<Fractions, Refused> {
    let [d, p, h] = [dispersion, polar, bonding].map(|one| Quantity::Hansen.within(one, 0.0, 60.0));
    let (d, p, h) = (d?, p?, h?);
    let all = d + p + h;
    if all <= 0.0 {
        return Err(Refused::NothingMixed);
    }
    Ok(Fractions {
        dispersion: d / all * 100.0,
        polar: p / all * 100.0,
        bonding: h / all * 100.0,
    })
}

/// A series of mixtures to try one after the other, and to stop at the first that works.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Series {
    /// What it is called.
    pub name: &'static str,
    /// Where it is from.
    pub source: Source,
    /// Its steps, mildest first.
    pub steps: &'static [Step],
}

/// A step of a series.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// What the step is called.
    pub name: &'static str,
    /// The first solvent, and its parts.
    pub base: (&'static str, u8),
    /// The other, and its parts.
    pub added: (&'static str, u8),
}

impl Step {
    /// The parameters of the step; `None` if a solvent is not in the table.
    #[must_use]
    pub fn fractions(&self) -> Option<Fractions> {
        let parts = [self.base, self.added].map(|(name, parts)| {
            let solvent = Solvent::named(name)?;
            Some((solvent.fractions, f32::from(parts)))
        });
        let [Some(base), Some(added)] = parts else {
            return None;
        };
        mixed([base, added]).ok()
    }
}

const fn step(name: &'static str, base: (&'static str, u8), added: (&'static str, u8)) -> Step {
    Step { name, base, added }
}

const CREMONESI: Source = Source::remembered(
    "P. Cremonesi, L'uso dei solventi organici nella pulitura di opere policrome (Il Prato 2000)",
);
const FELLER: Source = Source::remembered(
    "R. L. Feller, N. Stolow, E. H. Jones, On Picture Varnishes and Their Solvents (rev. ed. 1985)",
);

/// The series.
pub const SERIES: &[Series] = &[
    Series {
        name: "LA",
        source: CREMONESI,
        steps: &[
            step("LA1", ("ligroin", 90), ("acetone", 10)),
            step("LA2", ("ligroin", 80), ("acetone", 20)),
            step("LA3", ("ligroin", 70), ("acetone", 30)),
            step("LA4", ("ligroin", 60), ("acetone", 40)),
            step("LA5", ("ligroin", 50), ("acetone", 50)),
            step("LA6", ("ligroin", 40), ("acetone", 60)),
            step("LA7", ("ligroin", 30), ("acetone", 70)),
            step("LA8", ("ligroin", 20), ("acetone", 80)),
            step("LA9", ("ligroin", 10), ("acetone", 90)),
        ],
    },
    Series {
        name: "LE",
        source: CREMONESI,
        steps: &[
            step("LE1", ("ligroin", 90), ("ethanol", 10)),
            step("LE2", ("ligroin", 80), ("ethanol", 20)),
            step("LE3", ("ligroin", 70), ("ethanol", 30)),
            step("LE4", ("ligroin", 60), ("ethanol", 40)),
            step("LE5", ("ligroin", 50), ("ethanol", 50)),
            step("LE6", ("ligroin", 40), ("ethanol", 60)),
            step("LE7", ("ligroin", 30), ("ethanol", 70)),
            step("LE8", ("ligroin", 20), ("ethanol", 80)),
            step("LE9", ("ligroin", 10), ("ethanol", 90)),
        ],
    },
    Series {
        name: "AE",
        source: CREMONESI,
        steps: &[
            step("AE1", ("acetone", 75), ("ethanol", 25)),
            step("AE2", ("acetone", 50), ("ethanol", 50)),
            step("AE3", ("acetone", 25), ("ethanol", 75)),
        ],
    },
    Series {
        name: "Feller",
        source: FELLER,
        steps: &[
            step("C", ("cyclohexane", 100), ("toluene", 0)),
            step("C/T 3:1", ("cyclohexane", 75), ("toluene", 25)),
            step("C/T 1:1", ("cyclohexane", 50), ("toluene", 50)),
            step("C/T 1:3", ("cyclohexane", 25), ("toluene", 75)),
            step("T", ("toluene", 100), ("acetone", 0)),
            step("T/A 3:1", ("toluene", 75), ("acetone", 25)),
            step("T/A 1:1", ("toluene", 50), ("acetone", 50)),
            step("T/A 1:3", ("toluene", 25), ("acetone", 75)),
            step("A", ("toluene", 0), ("acetone", 100)),
        ],
    },
];
