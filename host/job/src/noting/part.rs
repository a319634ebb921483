//! The part that somebody names by itself: "the tpo", "l/h leaf".

use super::Noting;
use crate::record::{Job, has_part};
use std::fmt;
use tellmark_language::model::{Fact, Found, PartRef, PartStep, Which};
use tellmark_language::near::nearest;
use tellmark_language::span::Span;
use tellmark_language::words::{list_or, list_some, part_name};
use tellmark_notes::turns;

/// Why no part was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoPart {
    /// The words name more than one part, one after the other.
    Several(String),
    /// The piece has several parts of that name, and not all of them are said to be meant.
    Which {
        /// What was typed.
        typed: String,
        /// Each of them.
        parts: Vec<String>,
        /// All of them: "every left runner of every drawer".
        all: String,
    },
    /// The rules know the part, and this piece has none; in a sentence.
    NotThere(String),
    /// These words name no part of the piece.
    Unknown {
        /// The piece.
        piece: String,
        /// What was typed.
        typed: String,
        /// Parts that may be meant, the nearest first.
        near: Vec<String>,
        /// The sorts of part that it has.
        has: Vec<String>,
    },
}

impl fmt::Display for NoPart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoPart::NotThere(why) => f.write_str(why),
            NoPart::Several(typed) => write!(
                f,
                "\"{typed}\" may be more than one part, and one is named at a time; of numbers \
                 \"drawers 1 and 3\" will do."
            ),
            NoPart::Which { typed, parts, all } => write!(
                f,
                "\"{typed}\" may be any of these: {}. Say which, or \"{all}\".",
                list_some(parts, MOST_NAMED)
            ),
            NoPart::Unknown {
                piece,
                typed,
                near,
                has,
            } => {
                write!(
                    f,
                    "I know no part of the {piece} that is called \"{typed}\"."
                )?;
                match near.is_empty() {
                    true => write!(f, " It has: {}.", has.join(", ")),
                    false => write!(f, " Did you mean {}?", list_or(near)),
                }
            }
        }
    }
}

/// How many of several parts of one name are named.
const MOST_NAMED: usize = 6;
/// How many parts are offered.
const OFFERED: usize = 3;

/// Whether part stands after part; "drawers 1 and 3" are named together.
fn names_several(typed: &str) -> bool {
    let words: Vec<&str> = typed.split_whitespace().collect();
    let is_joined = words.windows(2).any(|pair| {
        let joins = matches!(pair[0].to_lowercase().as_str(), "and" | "or" | "&" | "plus");
        let ends = pair[0].ends_with([',', ';', '.', '/']);
        (joins || ends) && !pair[1].starts_with(|c: char| c.is_ascii_digit())
    });
    is_joined || typed.trim_end_matches('.').contains([';', '\n'])
}

impl Noting<'_> {
    /// The part that some words name, as rules or as a restorer would say it.
    ///
    /// # Errors
    /// If they name none that the piece has, or not one alone.
    pub fn part_meant(&self, job: &Job, typed: &str) -> Result<PartRef, NoPart> {
        if names_several(typed) {
            return Err(NoPart::Several(typed.to_owned()));
        }
        let exact = self.exact.part(typed).ok();
        let part = exact.or_else(|| self.part(typed));
        // "No door", "maybe the back" say more than which part.
        let is_plain = !typed.split_whitespace().any(turns);
        let Some(part) = part.filter(|_| is_plain) else {
            return Err(NoPart::Unknown {
                piece: self.piece_name(),
                typed: typed.to_owned(),
                near: self.near(typed),
                has: self.sorts(),
            });
        };
        // A piece that these rules no longer know may have any part.
        if self.is_known {
            let about = Fact {
                part: part.clone(),
                found: Found::PartCannotBeSeen,
                at: Span::default(),
            };
            let findings = self.findings(job);
            let known: Vec<&Fact> = findings.standing().map(|one| &one.fact).collect();
            // "The pane", of a bookcase that has a dozen.
            let mut every = part.clone();
            if let Some(first) = every.steps.first_mut()
                && first.which == Which::Only
            {
                first.which = Which::Every;
            }
            let several = self.scene.single_parts(&every);
            if every != part && several.len() > 1 {
                return Err(NoPart::Which {
                    typed: typed.to_owned(),
                    parts: several.iter().map(|p| part_name(self.model, p)).collect(),
                    all: part_name(self.model, &every),
                });
            }
            has_part(self.model, &self.order, &known, &about)
                .map_err(|none| NoPart::NotThere(none.to_string()))?;
            let single = self.scene.single_parts(&part);
            if single.is_empty() {
                let (piece, part) = (self.piece_name(), part_name(self.model, &part));
                return Err(NoPart::NotThere(format!("The {piece} has no {part}.")));
            }
            let is_every = part.steps.iter().any(|step| step.which == Which::Every);
            if single.len() > 1 && !is_every {
                return Err(NoPart::Which {
                    typed: typed.to_owned(),
                    parts: single.iter().map(|p| part_name(self.model, p)).collect(),
                    all: self.all_of(&part, &single),
                });
            }
        }
        Ok(part)
    }

    /// All parts of a name that several have: "left runner of every drawer".
    fn all_of(&self, part: &PartRef, single: &[PartRef]) -> String {
        let mut all = part.clone();
        let owner = single
            .first()
            .and_then(|one| one.steps.get(part.steps.len()));
        all.steps.extend(owner.map(|owner| PartStep {
            which: Which::Every,
            ..owner.clone()
        }));
        part_name(self.model, &all)
    }

    /// The sorts of part that the piece has, each once.
    fn sorts(&self) -> Vec<String> {
        let mut sorts: Vec<String> = Vec::new();
        for part in self.parts() {
            let kind = part.steps.first().map(|step| step.kind);
            let kind = kind.filter(|kind| *kind != self.order.kind);
            let name = kind.and_then(|kind| self.model.kinds.get(kind.index()));
            let Some(name) = name.map(|kind| kind.name.clone()) else {
                continue;
            };
            if !sorts.contains(&name) {
                sorts.push(name);
            }
        }
        sorts
    }

    fn piece_name(&self) -> String {
        let kind = self.model.kinds.get(self.order.kind.index());
        kind.map_or_else(String::new, |kind| kind.name.clone())
    }

    /// The parts whose own name is nearest to one of the words.
    fn near(&self, typed: &str) -> Vec<String> {
        let parts = self.parts();
        let kind = |part: &PartRef| part.steps.first().map(|step| step.kind);
        let mut found: Vec<String> = Vec::new();
        for word in typed.split_whitespace().rev() {
            let kinds = parts.iter().filter_map(kind);
            let names = kinds.filter_map(|kind| self.model.kinds.get(kind.index()));
            let names: Vec<&str> = names.map(|kind| kind.name.as_str()).collect();
            let word = word.to_lowercase();
            let near: Vec<&str> = match names.contains(&word.as_str()) {
                true => vec![&word],
                false => nearest(&word, names).map_or_else(Vec::new, |near| near.words),
            };
            let is_near = |part: &&PartRef| {
                let of = kind(part).and_then(|kind| self.model.kinds.get(kind.index()));
                of.is_some_and(|of| near.contains(&of.name.as_str()))
            };
            for part in parts.iter().filter(is_near) {
                let name = format!("\"{}\"", part_name(self.model, part));
                if found.len() < OFFERED && !found.contains(&name) {
                    found.push(name);
                }
            }
        }
        found
    }
}
