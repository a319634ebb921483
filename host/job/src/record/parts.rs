//! Whether the piece has the part that a finding speaks of.

use super::findings::covers;
use std::fmt;
use tellmark_language::model::{
    Fact, Found, KindId, Member, Model, PIECE, PartRef, PartStep, PieceOrder, Which,
};
use tellmark_language::words::{self, capital, part_name, some_of};

/// Why a finding cannot be about this piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoSuchPart {
    /// A piece of this kind never has such parts: "a chest of drawers has no
    /// fall".
    Never {
        /// The piece or owner, with its article.
        owner: String,
        /// The parts, in the plural.
        parts: String,
    },
    /// It could have, but has not so many as far as this job says.
    TooFew {
        /// The part that is missing: "drawer 5".
        part: String,
        /// Its owner: "the chest of drawers".
        owner: String,
        /// What the owner has: "4 drawers".
        has: String,
        /// What to note if it has more: "5 drawers". `None` where the rules
        /// allow no more.
        needs: Option<String>,
    },
    /// There are several, and it was not said which.
    WhichOne {
        /// The parts there are: "4 drawers".
        has: String,
        /// How to say it: "drawer 1" and "every drawer".
        say: (String, String),
    },
    /// A count outside what the rules say.
    Count {
        /// The owner, with its article.
        owner: String,
        /// What the rules say it has: "2 to 8 screws".
        has: String,
    },
}

impl fmt::Display for NoSuchPart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoSuchPart::Never { owner, parts } => {
                write!(f, "{} has no {parts}.", capital(owner))
            }
            NoSuchPart::TooFew {
                part,
                owner,
                has,
                needs,
            } => {
                write!(
                    f,
                    "As far as this job says {owner} has {has}, so there is no {part}."
                )?;
                match needs {
                    Some(needs) => write!(f, " If it has more, note first: {owner} has {needs}."),
                    None => f.write_str(" The rules allow no more."),
                }
            }
            NoSuchPart::WhichOne { has, say } => {
                write!(
                    f,
                    "There are {has}: say which, such as \"{}\", or \"{}\".",
                    say.0, say.1
                )
            }
            NoSuchPart::Count { owner, has } => {
                write!(f, "By the rules {owner} has {has}.")
            }
        }
    }
}

/// Whether a piece that was opened like this, and of which `known` has been
/// found since, has the part that a finding speaks of.
pub fn has_part(
    model: &Model,
    order: &PieceOrder,
    known: &[&Fact],
    fact: &Fact,
) -> Result<(), NoSuchPart> {
    for (at, step) in fact.part.steps.iter().enumerate() {
        let owners = fact.part.steps.get(at + 1..).unwrap_or_default();
        step_exists(model, order, known, step, owners)?;
    }
    if let Found::Count { part, number } = fact.found {
        let owner = fact.part.steps.first().map_or(PIECE, |s| s.kind);
        let owner = if owner == PIECE { order.kind } else { owner };
        let Some(member) = member_of(model, owner, part) else {
            return Err(never(model, owner, part));
        };
        if !(member.least..=member.most).contains(&number) {
            return Err(NoSuchPart::Count {
                owner: words::a(name(model, owner)),
                has: words::member_count(model, member),
            });
        }
    }
    Ok(())
}

fn step_exists(
    model: &Model,
    order: &PieceOrder,
    known: &[&Fact],
    step: &PartStep,
    owners: &[PartStep],
) -> Result<(), NoSuchPart> {
    if step.kind == PIECE || step.kind == order.kind {
        return Ok(());
    }
    // Of which owner: the one named, or any that this piece has.
    let named = owners
        .first()
        .map(|o| if o.kind == PIECE { order.kind } else { o.kind });
    let members: Vec<(KindId, &Member)> = within(model, order.kind)
        .into_iter()
        .filter(|owner| named.is_none_or(|named| named == *owner))
        .filter_map(|owner| Some((owner, member_of(model, owner, step.kind)?)))
        .collect();
    if members.is_empty() {
        return Err(never(model, named.unwrap_or(order.kind), step.kind));
    }
    let wanted = match step.which {
        Which::Every => return Ok(()),
        Which::Only => 1,
        Which::Number(n) => n,
        Which::Named(n) => n.saturating_add(1),
    };
    let mut most = None;
    for (owner, member) in members {
        let part = PartRef {
            steps: if owners.is_empty() {
                vec![PartStep {
                    kind: owner,
                    which: Which::Every,
                }]
            } else {
                owners.to_vec()
            },
            at: tellmark_language::span::Span::default(),
        };
        let has = count(order, known, &part, member);
        if step.which == Which::Only {
            if has <= 1 {
                return Ok(());
            }
            return Err(which_one(model, step.kind, has));
        }
        if wanted <= has {
            return Ok(());
        }
        if most.as_ref().is_none_or(|(most, _, _)| has > *most) {
            most = Some((has, part, member));
        }
    }
    let Some((has, mut owner, member)) = most else {
        return Ok(());
    };
    if let Some(first) = owner.steps.first_mut()
        && (first.kind == order.kind || first.kind == PIECE)
    {
        first.kind = order.kind;
        first.which = Which::Only;
    }
    let (one, many) = (name(model, step.kind), plural(model, step.kind));
    let mut part = PartRef {
        steps: vec![step.clone()],
        at: owner.at,
    };
    part.steps.extend(owners.iter().cloned());
    Err(NoSuchPart::TooFew {
        part: part_name(model, &part),
        owner: part_name(model, &owner),
        has: some_of(has.into(), one, many),
        needs: (wanted <= member.most).then(|| some_of(wanted.into(), one, many)),
    })
}

fn which_one(model: &Model, kind: KindId, has: u8) -> NoSuchPart {
    let one = name(model, kind);
    NoSuchPart::WhichOne {
        has: some_of(has.into(), one, plural(model, kind)),
        say: (format!("{one} 1"), format!("every {one}")),
    }
}

/// How many of a member this owner has, as far as is known: what was counted
/// last, else what the job was opened with, else what is usual.
fn count(order: &PieceOrder, known: &[&Fact], owner: &PartRef, member: &Member) -> u8 {
    let counted = known.iter().rev().find_map(|fact| match fact.found {
        Found::Count { part, number } if part == member.kind && covers(&fact.part, owner) => {
            Some(number)
        }
        _ => None,
    });
    let ordered = || {
        let said = order.counts.iter().find(|(kind, _)| *kind == member.kind);
        said.map(|(_, number)| *number)
    };
    counted.or_else(ordered).unwrap_or(member.usual)
}

/// The kinds that a piece is made of, itself first. A makeup that goes in a
/// circle is walked once.
fn within(model: &Model, piece: KindId) -> Vec<KindId> {
    let mut found = vec![piece];
    let mut at = 0;
    while let Some(kind) = found.get(at).and_then(|k| model.kinds.get(k.index())) {
        for member in &kind.members {
            if !found.contains(&member.kind) {
                found.push(member.kind);
            }
        }
        at += 1;
    }
    found
}

fn member_of(model: &Model, owner: KindId, kind: KindId) -> Option<&Member> {
    model
        .kinds
        .get(owner.index())?
        .members
        .iter()
        .find(|m| m.kind == kind)
}

fn never(model: &Model, owner: KindId, kind: KindId) -> NoSuchPart {
    NoSuchPart::Never {
        owner: words::a(name(model, owner)),
        parts: name(model, kind).to_owned(),
    }
}

fn name(model: &Model, kind: KindId) -> &str {
    model.kinds.get(kind.index()).map_or("?", |k| &k.name)
}

fn plural(model: &Model, kind: KindId) -> &str {
    model.kinds.get(kind.index()).map_or("?", |k| &k.plural)
}
