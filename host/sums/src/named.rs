//! Woods, and other things that are asked for by name.

use crate::quantity;
use crate::trouble::Trouble;
use tellmark_core::handbook::fasteners::Soundness;
use tellmark_core::handbook::movement::Cut;
use tellmark_core::handbook::solvents::{SOLVENTS, Solvent};
use tellmark_core::handbook::woods::{Strength, WOODS, Wood};
use tellmark_language::near::nearest;

/// One of several, by its name.
pub(crate) fn one_of<T: Copy>(
    what: &'static str,
    name: &str,
    choices: &[(&'static str, T)],
) -> Result<T, Trouble> {
    let wanted = name.trim().to_lowercase();
    let found = choices.iter().find(|(name, _)| *name == wanted);
    found.map(|(_, value)| *value).ok_or_else(|| {
        let all: Vec<&str> = choices.iter().map(|(name, _)| *name).collect();
        not_named(what, name, &all, &all)
    })
}

fn not_named(
    what: &'static str,
    name: &str,
    all: &[&'static str],
    shown: &[&'static str],
) -> Trouble {
    let wanted = name.trim().to_lowercase();
    let lower: Vec<String> = all.iter().map(|name| name.to_lowercase()).collect();
    let near = nearest(&wanted, lower.iter().map(String::as_str));
    let near = near.map_or_else(Vec::new, |near| {
        let is_near = |name: &&&str| near.words.contains(&name.to_lowercase().as_str());
        all.iter().filter(is_near).copied().collect()
    });
    Trouble::NotNamed {
        what,
        name: name.trim().to_owned(),
        near,
        all: shown.to_vec(),
    }
}

/// A wood.
pub(crate) fn wood(name: &str) -> Result<&'static Wood, Trouble> {
    Wood::named(name.trim()).ok_or_else(|| {
        let shown: Vec<&str> = WOODS.iter().map(|wood| wood.name).collect();
        let also = WOODS.iter().flat_map(|wood| wood.also.iter().copied());
        let all: Vec<&str> = shown.iter().copied().chain(also).collect();
        not_named("wood", name, &all, &shown)
    })
}

/// How dense and stiff a wood is.
pub(crate) fn strength(wood: &Wood) -> Result<Strength, Trouble> {
    wood.strength.ok_or_else(|| {
        let known = WOODS.iter().filter(|other| other.strength.is_some());
        Trouble::NotNamed {
            what: "strength of the wood",
            name: wood.name.to_owned(),
            near: Vec::new(),
            all: known.map(|wood| wood.name).collect(),
        }
    })
}

/// Which wood's figures stand in for its own, as a sentence without its end; nothing where they
/// are its own.
pub(crate) fn stand_in(wood: &Wood, strength: &Strength) -> Option<String> {
    strength.stands_in.map(|other| {
        format!(
            "{} is not in the tables of strength: the figures are those of {other}, the nearest \
             wood that is",
            tellmark_language::words::capital(wood.name)
        )
    })
}

/// A solvent.
pub(crate) fn solvent(name: &str) -> Result<&'static Solvent, Trouble> {
    Solvent::named(name.trim()).ok_or_else(|| {
        let shown: Vec<&str> = SOLVENTS.iter().map(|one| one.name).collect();
        let also = SOLVENTS.iter().flat_map(|one| one.also.iter().copied());
        let all: Vec<&str> = shown.iter().copied().chain(also).collect();
        not_named("solvent", name, &all, &shown)
    })
}

/// How a board was cut; not known if not said.
pub(crate) fn cut(name: Option<&str>) -> Result<Cut, Trouble> {
    let choices = [
        ("flat", Cut::Flat),
        ("quarter", Cut::Quarter),
        ("unknown", Cut::Unknown),
    ];
    name.map_or(Ok(Cut::Unknown), |name| {
        one_of("cut of a board", name, &choices)
    })
}

/// How sound wood is: a word, or a share from 0 to 1; sound if not said.
pub(crate) fn soundness(name: Option<&str>) -> Result<Soundness, Trouble> {
    let Some(name) = name else {
        return Ok(Soundness::SOUND);
    };
    let choices = [
        ("sound", Soundness::SOUND),
        ("suspect", Soundness::SUSPECT),
        ("stripped", Soundness::STRIPPED),
    ];
    if name
        .trim()
        .starts_with(|c: char| c.is_ascii_digit() || c == '-')
    {
        return Ok(Soundness::of(quantity::bare("the soundness", name)?)?);
    }
    one_of("soundness of the wood", name, &choices)
}
