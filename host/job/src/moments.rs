//! What a record says of the piece as it was found, and of the piece as it is now.
//!
//! As long as nothing was mended, the two are one.

use crate::advice::{Mark, Progress, Told};
use crate::record::{Finding, Findings, puts_right};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{At, Later, Mend, Mended, NoLater, SetUp, part_ref, resolve, sound};
use tellmark_core::inspection::Inspection;
use tellmark_core::number::UFloat;
use tellmark_core::pack::Pack;
use tellmark_core::piece::Part;
use tellmark_language::model::{Fact, Found, Model, PartRef, StateId};
use tellmark_language::span::Span;

/// The findings of each moment.
#[derive(Clone, Debug)]
pub struct Moments {
    /// What was noted of the piece as it was found, corrections among it.
    pub found: Vec<Finding>,
    /// The piece as it is now.
    pub now: Now,
}

/// The piece as it is now, after something was mended.
#[derive(Clone, Debug)]
pub struct Now {
    /// What holds now, the mended states among it as certainly not so; after these what
    /// was noted before something was mended that bears on it, and last what was noted of
    /// what was mended.
    pub findings: Vec<Finding>,
    /// How many of them hold now.
    pub holding: usize,
    /// How many of them hold now, or did before something was mended that bears on them.
    noted: usize,
    /// What was found and mended since.
    cured: Vec<Cured>,
    /// Its chances, and what was mended.
    pub later: Later,
}

impl Now {
    /// What was noted last about the same sign of the same part after a finding, if it holds now.
    #[must_use]
    pub fn noted_since(&self, model: &Model, earlier: &Finding) -> Option<&Finding> {
        let holding = self.findings.iter().take(self.holding);
        let mut since = holding.rev().filter(|f| f.number > earlier.number);
        since.find(|later| puts_right(model, &later.fact, &earlier.fact))
    }

    /// Signs that were noted before something was mended that bears on them, and that
    /// nobody has looked at since.
    #[must_use]
    pub fn look_again(&self) -> Vec<&Finding> {
        let overtaken = self.findings.get(self.holding..self.noted).unwrap_or(&[]);
        let says_so =
            |finding: &&Finding| !matches!(finding.fact.found, Found::State { yes: false, .. });
        let standing = overtaken.iter().filter(|f| f.put_right_by.is_none());
        standing.filter(says_so).collect()
    }
}

/// Something that was found on a part and mended since.
#[derive(Clone, Debug)]
struct Cured {
    /// The line that found it.
    number: usize,
    /// What it found.
    found: Found,
    /// The part.
    part: usize,
    /// The line that says that it was mended.
    line: usize,
}

impl Now {
    /// The line of the tick that mended what was found on a part.
    #[must_use]
    pub fn mended_on(&self, finding: &Finding, part: usize) -> Option<usize> {
        let is_it = |cured: &&Cured| {
            (cured.number, cured.part) == (finding.number, part)
                && cured.found == finding.fact.found
        };
        self.cured.iter().find(is_it).map(|cured| cured.line)
    }

    /// Whether what was found on a part was mended and is there again.
    #[must_use]
    pub fn is_again(&self, finding: &Finding, part: usize) -> bool {
        let tick = self.mended_on(finding, part);
        let is_it = |state: StateId| match finding.fact.found {
            Found::State { state: found, .. } => found == state,
            _ => true,
        };
        let mended = self.later.mended.iter();
        let mut of_it = mended.filter(|m| (Some(m.line), m.part) == (tick, part));
        of_it.any(|m| is_it(m.state) && m.was_there && m.again.is_some())
    }

    /// Whether a line of the record ticks a job that mended something.
    #[must_use]
    pub fn is_tick(&self, line: usize) -> bool {
        self.later.mended.iter().any(|mended| mended.line == line)
    }
}

/// Tells the moments apart; `None` if nothing was mended. The findings are all that the
/// record has, oldest first, corrected ones among them.
///
/// # Errors
/// See [`NoLater`].
pub fn moments(
    set_up: &SetUp<'_>,
    pack: Pack<'_>,
    findings: &[Finding],
    progress: &Progress,
) -> Result<Option<Moments>, NoLater> {
    let mends = progress.mends();
    let facts: Vec<&Fact> = findings.iter().map(|finding| &finding.fact).collect();
    let lines: Vec<usize> = findings.iter().map(|finding| finding.number).collect();
    let set_up = SetUp {
        facts: &facts,
        later: None,
        ..*set_up
    };
    let Some(mut later) = set_up.later(pack, &lines, &mends)? else {
        return Ok(None);
    };
    let mut room = Room::<UFloat>::default();
    let bare = set_up.bare(pack, &mut room).map_err(NoLater::SetUp)?;
    let split = Split {
        set_up: &set_up,
        parts: bare.piece().parts(),
        findings,
    };
    let found = later.sorted.found.iter();
    let found = found.flat_map(|at| split.findings(at)).collect();
    let mut names = vec![usize::MAX; findings.len()];
    let mut now: Vec<Finding> = Vec::new();
    let mut add = |now: &mut Vec<Finding>, all: &[At], first: usize| {
        let each = all.iter().map(|at| (at.fact, split.findings(at)));
        let each: Vec<(usize, Finding)> = each
            .flat_map(|(fact, all)| all.into_iter().map(move |finding| (fact, finding)))
            .collect();
        let standing = each.iter().map(|(_, finding)| finding.clone());
        let standing = Findings::<()>::again(set_up.model, standing).all;
        for ((fact, _), finding) in each.iter().zip(standing) {
            if finding.put_right_by.is_none() {
                names[*fact] = names[*fact].min(first + now.len());
                now.push(finding);
            }
        }
    };
    add(&mut now, &later.sorted.now, 0);
    now.extend(split.mended(&later, &mends, progress));
    let holding = now.len();
    let mut overtaken = Vec::new();
    add(&mut overtaken, &later.sorted.overtaken, holding);
    // What was looked at again since is not to be looked at once more.
    let both = overtaken.iter().chain(&now).cloned();
    let both = Findings::<()>::again(set_up.model, both).all;
    now.extend(both.into_iter().take(overtaken.len()));
    let noted = now.len();
    for (at, _) in &later.sorted.mended {
        names[at.fact] = names[at.fact].min(now.len());
        now.extend(split.findings(at));
    }
    let cured = split.cured(&bare, &later);
    later.set_names(names);
    Ok(Some(Moments {
        found,
        now: Now {
            findings: now,
            holding,
            noted,
            cured,
            later,
        },
    }))
}

/// Only the findings that stand, of these.
#[must_use]
pub fn standing(set_up: &SetUp<'_>, findings: &[Finding]) -> (Vec<Finding>, Vec<Finding>) {
    let all = Findings::<()>::again(set_up.model, findings.iter().cloned()).all;
    all.into_iter().partition(|f| f.put_right_by.is_none())
}

/// Findings, taken apart by their parts.
struct Split<'s> {
    set_up: &'s SetUp<'s>,
    parts: &'s [Part],
    findings: &'s [Finding],
}

impl Split<'_> {
    fn part(&self, part: usize, at: Span) -> PartRef {
        PartRef {
            at,
            ..part_ref(&self.set_up.built.places, self.parts, part)
        }
    }

    fn findings(&self, at: &At) -> Vec<Finding> {
        let Some(finding) = self.findings.get(at.fact) else {
            return Vec::new();
        };
        let Some(parts) = &at.parts else {
            return vec![finding.clone()];
        };
        let of_part = |&part: &usize| {
            let mut own = finding.clone();
            own.fact.part = self.part(part, finding.fact.part.at);
            own
        };
        parts.iter().map(of_part).collect()
    }

    /// What was found and mended since, part by part. A sign that bears on no fault stands in no
    /// group of states, and is what a mend names itself.
    fn cured(&self, bare: &Inspection<'_, '_, UFloat>, later: &Later) -> Vec<Cured> {
        let mut all: Vec<Cured> = Vec::new();
        let parts_of = |finding: &Finding| resolve(self.set_up.built, bare, &finding.fact.part);
        let names = |mended: &Mended, found: &Found| match *found {
            Found::State { state, .. } => state == mended.state,
            _ => true,
        };
        // By the mend that names it, if one does.
        let line_of = |finding: &Finding, part: usize| {
            let mut mended = later.mended.iter();
            let found = &finding.fact.found;
            let by = mended.find(|mended| {
                mended.part == part && mended.line > finding.number && names(mended, found)
            });
            by.map(|mended| mended.line)
        };
        for (at, line) in &later.sorted.mended {
            let Some(finding) = self.findings.get(at.fact) else {
                continue;
            };
            let parts = at.parts.clone().unwrap_or_else(|| parts_of(finding));
            all.extend(parts.into_iter().map(|part| Cured {
                number: finding.number,
                found: finding.fact.found.clone(),
                part,
                line: line_of(finding, part).unwrap_or(*line),
            }));
        }
        for finding in self.findings {
            if !matches!(finding.fact.found, Found::State { yes: true, .. }) {
                continue;
            }
            for part in parts_of(finding) {
                let is_it = |cured: &Cured| {
                    (cured.number, cured.part) == (finding.number, part)
                        && cured.found == finding.fact.found
                };
                if !all.iter().any(is_it) {
                    all.extend(line_of(finding, part).map(|line| Cured {
                        number: finding.number,
                        found: finding.fact.found.clone(),
                        part,
                        line,
                    }));
                }
            }
        }
        all
    }

    /// What was mended and is not in doubt, as findings of the lines that say so.
    fn mended(&self, later: &Later, mends: &[Mend], progress: &Progress) -> Vec<Finding> {
        let mut last: Vec<Finding> = Vec::new();
        for mended in later.mended.iter().filter(|mended| !mended.is_in_doubt()) {
            let is_tick = |told: &&Told<_>| told.line == mended.line;
            let Some(tick) = progress.marks.iter().find(is_tick) else {
                continue;
            };
            debug_assert!(tick.what.mark == Mark::Done && !mends.is_empty());
            let part = self.part(mended.part, Span::default());
            let found = sound(self.set_up.model, mended.state);
            let fact = Fact {
                at: part.at,
                part,
                found,
            };
            last.retain(|earlier| earlier.fact != fact);
            last.push(Finding {
                number: tick.line,
                when: tick.when,
                fact,
                put_right_by: None,
                is_said_again: false,
            });
        }
        last
    }
}
