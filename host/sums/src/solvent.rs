//! Mixtures of solvents, and series for tests.

use crate::shown::plain;
use crate::trouble::Trouble;
use crate::worked::Worked;
use crate::{named, quantity};
use tellmark_core::handbook::solvents::{
    self, Fractions, SERIES, Series, Solvent, mixed, share_for,
};
use tellmark_language::words::{capital, list};

const CAUTION: &str = "It says what to try next, and promises nothing: test in a hidden place with \
                       the smallest swab, mildest first, and stop at the first colour. Fresh air, no \
                       flame or spark, gloves that this solvent does not pass. The maker's safety \
                       sheet, local rules and people licensed for it come first.";

/// A mixture, of parts by volume: "acetone 1", "white spirit 3".
///
/// # Errors
///
/// What cannot be read, and solvents that are not in the table.
pub fn mixture(parts: &[&str]) -> Result<Worked, Trouble> {
    let parts = parts
        .iter()
        .map(|text| part(text))
        .collect::<Result<Vec<_>, Trouble>>()?;
    let mix = mixed(parts.iter().map(|(one, parts)| (one.fractions, *parts)))?;
    let all: f32 = parts.iter().map(|(_, parts)| parts).sum();
    let names: Vec<String> = parts
        .iter()
        .map(|(one, parts)| format!("{} % {}", plain(parts / all * 100.0), one.name))
        .collect();
    let answer = format!("{} by volume: {}.", capital(&list(&names)), words(mix));
    let mut worked = Worked::new("solvent", answer, CAUTION);
    for (one, parts) in &parts {
        worked.step(format!(
            "{} × {}: {}.",
            plain(*parts),
            one.name,
            words(one.fractions)
        ));
    }
    beware(&mut worked, parts.iter().map(|(one, _)| *one));
    figures(&mut worked, mix);
    Ok(worked)
}

/// How much of one solvent brings another to a dispersion parameter.
///
/// # Errors
///
/// What cannot be read, solvents that are not in the table, and a target that does not lie
/// between the two.
pub fn to_target(target: &str, base: &str, added: &str) -> Result<Worked, Trouble> {
    let target = quantity::bare("the target", target)?;
    let (base, added) = (named::solvent(base)?, named::solvent(added)?);
    let share = share_for(target, base.fractions, added.fractions)?;
    let mix = mixed([(base.fractions, 100.0 - share), (added.fractions, share)])?;
    let answer = format!(
        "{share:.1} % {} in {} by volume: {}.",
        added.name,
        base.name,
        words(mix)
    );
    let mut worked = Worked::new("solvent", answer, CAUTION);
    worked.step(format!(
        "({} − {}) / ({} − {}) of it is {}.",
        plain(base.fractions.dispersion),
        plain(target),
        plain(base.fractions.dispersion),
        plain(added.fractions.dispersion),
        added.name
    ));
    beware(&mut worked, [base, added].into_iter());
    worked.figure("share", share, "%");
    figures(&mut worked, mix);
    Ok(worked)
}

/// A series of mixtures to try.
///
/// # Errors
///
/// A series that there is none of.
pub fn series(name: &str) -> Result<Worked, Trouble> {
    let choices: Vec<(&'static str, String)> = SERIES
        .iter()
        .map(|series| (series.name, series.name.to_lowercase()))
        .collect();
    let wanted = name.trim().to_lowercase();
    let at = choices.iter().position(|(_, lower)| *lower == wanted);
    let Some(series) = at.and_then(|at| SERIES.get(at)) else {
        return Err(Trouble::NotNamed {
            what: "series",
            name: name.trim().to_owned(),
            near: Vec::new(),
            all: choices.iter().map(|(name, _)| *name).collect(),
        });
    };
    Ok(steps(series))
}

fn steps(series: &Series) -> Worked {
    let mildest: Vec<&str> = series.steps.iter().map(|step| step.name).collect();
    let answer = format!(
        "Series {}, mildest first: {}. Note the first that works.",
        series.name,
        list(&mildest)
    );
    let mut worked = Worked::new("solvent", answer, CAUTION);
    let mut used: Vec<&Solvent> = Vec::new();
    for step in series.steps {
        let Some(mix) = step.fractions() else {
            continue;
        };
        let parts = [step.base, step.added];
        let parts = parts.iter().filter(|(_, parts)| *parts > 0);
        let names: Vec<String> = parts
            .map(|(name, parts)| format!("{parts} % {name}"))
            .collect();
        worked.step(format!("{}: {}; {}.", step.name, list(&names), words(mix)));
        worked.figure(format!("{} Fd", step.name), mix.dispersion, "%");
        worked.figure(format!("{} Fp", step.name), mix.polar, "%");
        worked.figure(format!("{} Fh", step.name), mix.bonding, "%");
        for (name, _) in [step.base, step.added] {
            used.extend(Solvent::named(name).filter(|one| !used.contains(one)));
        }
    }
    if used.iter().any(|one| one.name == "ligroin") {
        worked.step(
            "White spirit may stand in for ligroin on the bench; Fd is then up to 7 lower (common \
             practice).",
        );
    }
    worked.from(series.source);
    beware(&mut worked, used.into_iter());
    worked
}

/// "acetone 1": the name, and the parts at its end.
fn part(text: &str) -> Result<(&'static Solvent, f32), Trouble> {
    let Some((name, parts)) = text.trim().rsplit_once(char::is_whitespace) else {
        return Err(Trouble::Wrong(format!(
            "\"{text}\" is a part of no mixture. Say the solvent and its parts by volume: \"acetone \
             1\" and \"white spirit 3\"."
        )));
    };
    Ok((
        named::solvent(name)?,
        quantity::bare("the parts", parts.trim_end_matches('%'))?,
    ))
}

fn words(f: Fractions) -> String {
    format!(
        "Fd {}, Fp {}, Fh {}",
        places(f.dispersion),
        places(f.polar),
        places(f.bonding)
    )
}

/// Two places at the most, since series differ by them.
fn places(value: f32) -> String {
    let shown = format!("{value:.2}");
    shown.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn beware<'a>(worked: &mut Worked, used: impl Iterator<Item = &'a Solvent>) {
    let mut said: Vec<String> = Vec::new();
    for one in used {
        if let Some(beware) = one.beware {
            said.push(format!("{}: {beware}.", capital(one.name)));
        }
    }
    if !said.is_empty() {
        worked.caution = format!("{} {}", said.join(" "), worked.caution);
    }
    worked.from(solvents::SOURCE);
}

fn figures(worked: &mut Worked, mix: Fractions) {
    worked.figure("Fd", mix.dispersion, "%");
    worked.figure("Fp", mix.polar, "%");
    worked.figure("Fh", mix.bonding, "%");
}
