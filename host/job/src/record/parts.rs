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
    let job = Parts {
        model,
        order,
        known,
    };
    let meant = job.of_this_piece(&fact.part);
    for (at, step) in meant.steps.iter().enumerate() {
        let owners = meant.steps.get(at + 1..).unwrap_or_default();
        job.step_exists(step, owners)?;
    }
    if let Found::Count { part, number } = fact.found {
        let owner = meant.steps.first().map_or(order.kind, |s| s.kind);
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

/// The parts of a piece, as far as is known.
struct Parts<'p> {
    model: &'p Model,
    order: &'p PieceOrder,
    known: &'p [&'p Fact],
}

impl Parts<'_> {
    /// The same words with the piece called by its kind, however it was called: it is
    /// the only one there is.
    fn of_this_piece(&self, part: &PartRef) -> PartRef {
        let mut part = part.clone();
        for step in &mut part.steps {
            if step.kind == PIECE || step.kind == self.order.kind {
                *step = self.piece();
            }
        }
        part
    }

    fn piece(&self) -> PartStep {
        PartStep {
            kind: self.order.kind,
            which: Which::Only,
        }
    }

    fn step_exists(&self, step: &PartStep, owners: &[PartStep]) -> Result<(), NoSuchPart> {
        let (model, piece) = (self.model, self.order.kind);
        if step.kind == piece {
            return Ok(());
        }
        // Of which owner: the one named, or any that this piece has.
        let named = owners.first().map(|owner| owner.kind);
        let members: Vec<(KindId, &Member)> = within(model, piece)
            .into_iter()
            .filter(|owner| named.is_none_or(|named| named == *owner))
            .filter_map(|owner| Some((owner, member_of(model, owner, step.kind)?)))
            .collect();
        if members.is_empty() {
            return Err(never(model, named.unwrap_or(piece), step.kind));
        }
        let wanted = match step.which {
            Which::Every => return Ok(()),
            Which::Only => 1,
            Which::Number(n) => n,
            Which::Named(n) => n.saturating_add(1),
        };
        let mut most = None;
        for (kind, member) in members {
            for owner in self.owners(kind, member, owners) {
                let has = self.count(&owner, member);
                if most.as_ref().is_none_or(|(most, _, _)| has > *most) {
                    most = Some((has, owner, member));
                }
            }
        }
        let Some((has, owner, member)) = most else {
            return Ok(());
        };
        if step.which == Which::Only && has > 1 {
            return Err(which_one(model, step.kind, has));
        }
        if wanted <= has {
            return Ok(());
        }
        let (one, many) = (name(model, step.kind), plural(model, step.kind));
        let mut part = PartRef {
            steps: vec![step.clone()],
            at: owner.at,
        };
        part.steps.extend(owners.iter().cloned());
        let part = part_name(model, &part);
        Err(NoSuchPart::TooFew {
            part: part.strip_prefix("the ").unwrap_or(&part).to_owned(),
            owner: part_name(model, &owner),
            has: some_of(has.into(), one, many),
            needs: (wanted <= member.most).then(|| some_of(wanted.into(), one, many)),
        })
    }

    /// The owners that may have a part: the one named; else every one of the kind, and
    /// each whose parts were counted by themselves.
    fn owners(&self, kind: KindId, member: &Member, named: &[PartStep]) -> Vec<PartRef> {
        let one = |steps: Vec<PartStep>| PartRef {
            steps,
            at: tellmark_language::span::Span::default(),
        };
        if !named.is_empty() {
            return vec![one(named.to_vec())];
        }
        if kind == self.order.kind {
            return vec![one(vec![self.piece()])];
        }
        let every = PartStep {
            kind,
            which: Which::Every,
        };
        let counted = self.counts(member).map(|(owner, _)| owner);
        std::iter::once(one(vec![every]))
            .chain(counted.filter(|owner| owner.steps.first().is_some_and(|s| s.kind == kind)))
            .collect()
    }

    /// What was counted of a kind of part, latest first: of which owner, and how many.
    fn counts(&self, member: &Member) -> impl Iterator<Item = (PartRef, u8)> {
        let kind = member.kind;
        let known = self.known.iter().rev();
        known.filter_map(move |fact| match fact.found {
            Found::Count { part, number } if part == kind => {
                Some((self.of_this_piece(&fact.part), number))
            }
            _ => None,
        })
    }

    /// How many of a member this owner has, as far as is known: what was counted
    /// last, else what the job was opened with, else what is usual.
    fn count(&self, owner: &PartRef, member: &Member) -> u8 {
        let counted = self
            .counts(member)
            .find(|(of, _)| covers(self.model, of, owner));
        let ordered = || {
            let said = self.order.counts.iter();
            said.copied().find(|(kind, _)| *kind == member.kind)
        };
        let number = counted.map(|(_, number)| number);
        number
            .or_else(|| ordered().map(|(_, number)| number))
            .unwrap_or(member.usual)
            .clamp(member.least, member.most)
    }
}

fn which_one(model: &Model, kind: KindId, has: u8) -> NoSuchPart {
    let one = name(model, kind);
    NoSuchPart::WhichOne {
        has: some_of(has.into(), one, plural(model, kind)),
        say: (format!("{one} 1"), format!("every {one}")),
    }
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
