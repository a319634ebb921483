//! What is not as it should be, in plain words, part by part: before the work what was found,
//! and later what is known and not mended.

use super::super::condition::Since;
use super::super::kind::Kind;
use super::super::mark::Part;
use super::Gathering;
use super::album::At;
use super::together::{called, together};
use serde::Serialize;
use std::collections::BTreeSet;
use tellmark_job::record::{Finding, Stage};
use tellmark_job::worries::Worries;
use tellmark_language::model::{Fact, Found, KindId, Model, StateId, Sure};
use tellmark_language::words::{Plainly, capital, fact_line, list, plain_fault, the_part};

/// What is not as it should be on a part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FoundPlain {
    /// "Drawer 2".
    pub part: String,
    /// "Drawer 2 is sitting low and scraping below."
    pub says: Vec<String>,
    /// A photograph of it, if the letter shows none of it elsewhere.
    pub picture: Option<At>,
}

/// More parts than these are left to the record.
const MOST: usize = 12;

/// What is not as it should be, and how many more parts there are with such things.
pub(super) fn found(g: &Gathering<'_>, repairs: usize) -> (Vec<FoundPlain>, usize) {
    let mut found: Vec<FoundPlain> = Vec::new();
    let mut is_planned: Vec<bool> = Vec::new();
    let mut alike: Vec<Alike> = Vec::new();
    let since = Since::of_job(g.matter, g.parts);
    for at in super::super::mark::in_order(g.parts) {
        let Some(part) = g.parts.get(at) else {
            continue;
        };
        let mut says = faults(g, at);
        says.extend(signs(g, at, part, &since));
        says.extend(unsaid(g, at, part, &since));
        says.extend(noted_since(g, at));
        let mut told = BTreeSet::new();
        says.retain(|said| told.insert(said.clone()));
        if says.is_empty() {
            continue;
        }
        let picture = match at {
            0 => None,
            at => g.album.of_parts(Stage::Before, &[at]),
        };
        let picture = picture.filter(|_| repairs == 0);
        let name = the_part(g.name_of(at));
        let of_each: Vec<String> = says.iter().map(|said| of_each(said, &name)).collect();
        let known = alike.iter_mut().enumerate();
        let mut same = known.filter(|(_, one)| one.kind == part.kind_id && one.of_each == of_each);
        if let Some((at_first, one)) = same.next() {
            one.names.push(name);
            is_planned[at_first] |= is_planned_on(g, at);
            let first = &mut found[at_first];
            first.part = capital(&together(&one.names, &[called(g, part.kind_id)]));
            first.says = of_each;
            if let Some(said) = first.says.first_mut() {
                *said = format!("{}: {}", first.part, small(said));
            }
            first.picture = first.picture.take().or(picture);
            continue;
        }
        alike.push(Alike {
            kind: part.kind_id,
            of_each,
            names: vec![name.clone()],
        });
        is_planned.push(is_planned_on(g, at));
        found.push(FoundPlain {
            part: capital(&name),
            says,
            picture,
        });
    }
    let more = found.len().saturating_sub(MOST);
    // What something is to be done about goes before the rest.
    let mut kept: Vec<usize> = (0..found.len()).collect();
    kept.sort_by_key(|&at| !is_planned.get(at).copied().unwrap_or(false));
    kept.truncate(MOST);
    kept.sort_unstable();
    let kept = kept.into_iter().filter_map(|at| found.get(at).cloned());
    (kept.collect(), more)
}

/// Parts of one kind of which the same is said.
struct Alike {
    kind: KindId,
    /// What is said of each of them.
    of_each: Vec<String>,
    names: Vec<String>,
}

/// With a small letter at the beginning.
fn small(said: &str) -> String {
    let mut letters = said.chars();
    let first = letters.next().into_iter().flat_map(char::to_lowercase);
    first.chain(letters).collect()
}

/// What is said of one part, as it is said of each of several: "Each is loose."
fn of_each(said: &str, name: &str) -> String {
    let said = with(&with(said, &capital(name), "Each"), name, "each");
    // "Each, the edge that the drawer slides on, has worn thin."
    let explained = said.strip_prefix("Each, ");
    let explained = explained.and_then(|rest| rest.split_once(", "));
    if let Some((what, rest)) = explained {
        return format!("Each {} ({what}).", rest.trim_end_matches('.'));
    }
    match said.strip_prefix("It ") {
        Some(rest) => format!("Each {rest}"),
        None => said,
    }
}

/// A text with another name in the place of one; "drawer 1" does not stand in "drawer 12".
fn with(said: &str, name: &str, other: &str) -> String {
    let mut rest = said;
    let mut new = String::new();
    while let Some((before, after)) = rest.split_once(name) {
        let goes_on = after.starts_with(|c: char| c.is_alphanumeric());
        new.push_str(before);
        new.push_str(if goes_on { name } else { other });
        rest = after;
    }
    new + rest
}

/// Whether something is planned on a part, or on what it is built into but for the whole piece.
fn is_planned_on(g: &Gathering<'_>, part: usize) -> bool {
    let owner = |part: &usize| g.parts.get(*part).and_then(|part| part.owner);
    let mut within = std::iter::successors(Some(part), owner);
    let planned = |at: usize| {
        let mut steps = g.plan.steps.iter();
        steps.any(|step| step.certain_parts.contains(&at))
    };
    within.any(|at| (at != 0 || part == 0) && planned(at))
}

/// What was noted of a part after something was mended that bears on it, and is not as it should
/// be.
fn noted_since(g: &Gathering<'_>, part: usize) -> Vec<String> {
    let Some(now) = g.matter.view.later() else {
        return Vec::new();
    };
    let model = g.matter.model();
    let worries = Worries::of(model);
    let is_new = |finding: &&Finding| {
        let mut of_found = g.matter.found.findings.iter();
        !of_found.any(|f| f.number == finding.number) && !now.is_tick(finding.number)
    };
    let holding = g.noted_now.iter().take(now.holding);
    let of_it = holding
        .filter(|(finding, parts)| parts.contains(&part) && worries.is_one(model, &finding.fact))
        .map(|(finding, _)| *finding)
        .filter(is_new);
    let said = of_it.map(|finding| match plainly(model, &finding.fact) {
        Some(state) => plain_fault(model, state, Plainly::Is, g.name_of(part), g.kind_of(part)),
        None => {
            // Of every drawer at once, it is said of this one.
            let own = Fact {
                part: g.parts[part].reference.clone(),
                ..finding.fact.clone()
            };
            let said = fact_line(model, &own);
            let said = said.strip_prefix(&g.parts[part].name).unwrap_or(&said);
            format!("{}{said}.", capital(&the_part(g.name_of(part))))
        }
    });
    said.collect()
}

/// Faults of a part that opening it up has shown, and that are not mended.
fn faults(g: &Gathering<'_>, part: usize) -> Vec<String> {
    let suspects = g.triage.groups.iter().flat_map(|group| &group.suspects);
    let known = suspects.filter(|s| s.part == part && s.opened && s.chance > 0.5);
    let known = known.map(|suspect| {
        plain_fault(
            g.matter.model(),
            suspect.state,
            Plainly::Is,
            g.name_of(part),
            g.kind_of(part),
        )
    });
    known.collect()
}

/// What was found on a part, in a sentence for everything that it is and one for each thing
/// that the house says plainly.
fn signs(g: &Gathering<'_>, at: usize, part: &Part, since: &Since<'_>) -> Vec<String> {
    let name = g.name_of(at);
    let model = g.matter.model();
    let facts = part
        .wrong
        .iter()
        .filter_map(|&fact| g.matter.found.findings.get(fact))
        // What was seen before the work on it may be so no more.
        .filter(|finding| g.kind == Kind::Estimate || since.is_as_found(finding, at));
    let mut plain = Vec::new();
    let mut seen: BTreeSet<String> = BTreeSet::new();
    let (mut is, mut other): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    for finding in facts {
        let fact = &finding.fact;
        if let Some(state) = plainly(model, fact) {
            let kind = part.kind_id;
            plain.push(plain_fault(model, state, Plainly::Is, name, kind));
            continue;
        }
        // Of every drawer at once, it is said of this one.
        let own = Fact {
            part: part.reference.clone(),
            ..fact.clone()
        };
        let said = fact_line(model, &own);
        let Some(said) = said.strip_prefix(&part.name).map(str::trim) else {
            continue;
        };
        let said = none_of_one(model, part.kind_id, &fact.found).unwrap_or_else(|| seems(said));
        if !seen.insert(said.clone()) {
            continue;
        }
        match said.strip_prefix("is ") {
            Some(said) => is.push(said.to_owned()),
            None => other.push(said),
        }
    }
    let mut says = Vec::new();
    if !is.is_empty() {
        says.push(format!("{} is {}.", capital(&the_part(name)), list(&is)));
    }
    for (at, said) in other.iter().enumerate() {
        let whose = match at == 0 && is.is_empty() {
            true => capital(&the_part(name)),
            false => "It".to_owned(),
        };
        says.push(format!("{whose} {said}."));
    }
    says.extend(plain);
    says
}

/// "Has no lock", of what can have one at most.
fn none_of_one(model: &Model, owner: KindId, found: &Found) -> Option<String> {
    let Found::Count { part, number: 0 } = *found else {
        return None;
    };
    let mut members = model.kinds.get(owner.index())?.members.iter();
    let member = members.find(|member| member.kind == part)?;
    let name = &model.kinds.get(part.index())?.name;
    (member.most == 1).then(|| format!("has no {name}"))
}

/// "Seems to be stiff" of "looks stiff", "seems to show rust" of "looks as if it shows rust".
fn seems(said: &str) -> String {
    let Some(looks) = said.strip_prefix("looks ") else {
        return said.to_owned();
    };
    match (
        looks.strip_prefix("as if it shows "),
        looks.starts_with("as if "),
    ) {
        (Some(shown), _) => format!("seems to show {shown}"),
        (None, true) => said.to_owned(),
        (None, false) => format!("seems to be {looks}"),
    }
}

/// What was noted before work of one's own on the part, if nobody has said since how it is.
fn unsaid(g: &Gathering<'_>, at: usize, part: &Part, since: &Since<'_>) -> Option<String> {
    if g.kind == Kind::Estimate {
        return None;
    }
    let findings = part
        .wrong
        .iter()
        .filter_map(|&fact| g.matter.found.findings.get(fact));
    let mut said: Vec<String> = Vec::new();
    for finding in findings.filter(|finding| since.is_unsaid(finding, at)) {
        let own = Fact {
            part: part.reference.clone(),
            ..finding.fact.clone()
        };
        let line = fact_line(g.matter.model(), &own);
        let line = line.strip_prefix(&part.name).unwrap_or(&line).trim();
        if !said.iter().any(|one| one == line) {
            said.push(line.to_owned());
        }
    }
    (!said.is_empty()).then(|| {
        format!(
            "{} {}: so it was noted before we worked on it, and nobody has looked again.",
            capital(&the_part(g.name_of(at))),
            list(&said)
        )
    })
}

/// The state that a finding says is so, if the house says it plainly.
fn plainly(model: &Model, fact: &Fact) -> Option<StateId> {
    match fact.found {
        Found::State {
            state,
            yes: true,
            sure: Sure::Ordinary | Sure::Certain,
            ..
        } => model.plain_fault(state).map(|_| state),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::of_each;

    #[test]
    fn what_only_looks_so_seems_so() {
        assert_eq!(super::seems("looks stiff"), "seems to be stiff");
        assert_eq!(
            super::seems("looks as if it shows fresh frass"),
            "seems to show fresh frass"
        );
        assert_eq!(
            super::seems("looks as if it has a split"),
            "looks as if it has a split"
        );
        assert_eq!(super::seems("is stiff"), "is stiff");
    }

    #[test]
    fn what_is_said_of_one_is_said_of_each() {
        assert_eq!(of_each("Drawer 2 is stiff.", "drawer 2"), "Each is stiff.");
        assert_eq!(of_each("It shows wear.", "drawer 2"), "Each shows wear.");
        assert_eq!(
            of_each("The dovetails of drawer 2 had worked loose.", "drawer 2"),
            "The dovetails of each had worked loose."
        );
        assert_eq!(
            of_each(
                "The runner of drawer 2, the edge that the drawer slides on, has worn thin.",
                "the runner of drawer 2"
            ),
            "Each has worn thin (the edge that the drawer slides on)."
        );
    }
}
