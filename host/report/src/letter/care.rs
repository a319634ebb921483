//! What to watch, and how to look after the piece.

use super::super::kind::Kind;
use super::super::work::{Care as Caution, care as caution};
use super::Gathering;
use serde::Serialize;
use tellmark_compile::set_up::Caution as Raised;
use tellmark_core::piece::SetUpError;
use tellmark_language::model::{JobId, KindId};
use tellmark_language::words::{afterwards, capital, the_part};

/// How to look after it.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Care {
    /// What can hurt somebody or the piece, as it stands now.
    pub stops: Vec<Caution>,
    /// When to ring: "Ring us if " and each of these.
    pub watch: Vec<String>,
    /// Day by day.
    pub days: Vec<String>,
}

pub(super) fn care(g: &Gathering<'_>) -> Result<Care, SetUpError> {
    let stops = g.triage.cautions.iter().filter(|caution| caution.stop);
    let mut care = Care {
        stops: stops.map(|stop| plainly(g, stop)).collect(),
        ..Care::default()
    };
    if g.kind != Kind::HandBack {
        return Ok(care);
    }
    for said in after_jobs(g).into_iter().chain(told(g)?) {
        let (list, said) = match said.strip_prefix("Ring us if ") {
            Some(rest) => (&mut care.watch, rest.to_owned()),
            None => (&mut care.days, said),
        };
        if !list.contains(&said) {
            list.push(said);
        }
    }
    Ok(care)
}

/// A caution as the house says it to an owner; as it says it at the bench, if it has no other
/// words.
fn plainly(g: &Gathering<'_>, of: &Raised) -> Caution {
    let said = g.matter.model().cautions.get(of.caution);
    let plain = said.and_then(|said| said.plain.clone());
    let caution = caution(of);
    Caution {
        text: plain.unwrap_or_else(|| caution.text.clone()),
        ..caution
    }
}

/// What each job that is done leaves to watch.
fn after_jobs(g: &Gathering<'_>) -> Vec<String> {
    let model = g.matter.model();
    let mut said = Vec::new();
    for tick in g.matter.progress.done() {
        let Some(job) = tick.what.index.and_then(|job| u16::try_from(job).ok()) else {
            continue;
        };
        let parts = &tick.what.parts.indices;
        let whole = [0];
        let parts = if parts.is_empty() { &whole[..] } else { parts };
        for &part in parts {
            let (name, kind) = (g.name_of(part), g.kind_of(part));
            said.extend(afterwards(model, JobId(job), name, kind));
        }
    }
    said
}

/// What the house tells every owner of such a piece.
fn told(g: &Gathering<'_>) -> Result<Vec<String>, SetUpError> {
    let told = g.matter.view.owner_told()?;
    let said = told.into_iter().map(|one| match one.parts.as_slice() {
        [part] if is_part(g, one.kind) => format!("{}: {}", capital(&the_part(part)), one.text),
        _ => one.text,
    });
    Ok(said.collect())
}

/// Whether a sentence is about a part, rather than about the whole piece.
fn is_part(g: &Gathering<'_>, kind: KindId) -> bool {
    let kind_of_piece = g.kind_of(0);
    !g.matter.model().is_kind_of(kind_of_piece, kind) && kind != tellmark_language::model::PIECE
}
