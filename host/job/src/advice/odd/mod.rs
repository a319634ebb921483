//! Findings that sit oddly together: each may be true, but the rules hardly expect them
//! on one piece.
//!
//! How much rarer a finding f is beside others is P(f | others) / P(f). It is **odd** from
//! 1 in 20 downwards; or from a half, if it is more likely a slip than not (nothing that a
//! slip explains can be rarer than slips are). By the rules themselves, P(f | others) / P(f)
//! comes to t or less in t of all cases at most, and so seldom that what is called odd is
//! worth another look. The ratio is the same of the others beside f; its logarithm is
//! known as the conflict of a set of findings (Jensen, Chamberlain, Nordahl and Jensen,
//! "Analysis in HUGIN of data conflict", Proceedings of the sixth conference on uncertainty
//! in artificial intelligence, 1990).

mod bands;
mod group;
mod scene;
mod unread;

use std::collections::BTreeMap;

use tellmark_core::inspection::Given;
use tellmark_core::pack::Pack;
use tellmark_core::piece::SetUpError;

use group::smallest;
use scene::{Scene, Usual};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Case, Evidence, Origin, SetUp, part_ref};
use tellmark_language::model::Fact;

/// Findings that sit oddly together, in the order of the record: one of them is odd beside
/// the others, and beside no smaller group.
#[derive(Clone, Debug, PartialEq)]
pub struct Odd {
    /// The findings, two or more.
    pub found: Vec<Found>,
}

/// One of the findings.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// What gave it.
    pub from: Origin,
    /// The finding; of one about several parts, what it says of the part that matters.
    /// `None` of what the job was opened with.
    pub fact: Option<Fact>,
    /// Why it is worth looking at again: it is odd beside all the rest. `None` of what is
    /// not, and only stands beside what is.
    pub doubt: Option<Doubt>,
}

/// Why a finding is worth another look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt {
    /// With all the others found, it is this share as frequent as with nothing found.
    pub rarer: f64,
    /// The chance, after all that was found, that it is a slip; nought of what is
    /// certain and of readings.
    pub slip: f64,
}

/// From here downwards a finding is odd.
const RARE: f64 = 1.0 / 20.0;
/// From here downwards it is, if it is likely a slip.
const RARER: f64 = 1.0 / 2.0;
/// Where it is more likely a slip than not.
const LIKELY: f64 = 0.5;

impl Doubt {
    fn is_odd(self) -> bool {
        self.rarer <= RARE || (self.rarer <= RARER && self.slip >= LIKELY)
    }
}

/// The findings that sit oddly together, of those groups in which something is odd that
/// came from what `which` asks about. None, if the findings clash.
///
/// # Errors
/// If the piece cannot be set up.
pub fn odd(
    set_up: &SetUp<'_>,
    pack: Pack<'_>,
    which: impl Fn(Origin) -> bool,
) -> Result<Vec<Odd>, SetUpError> {
    let (mut found, mut bare) = (Room::<f64>::default(), Room::<f64>::default());
    let Case {
        inspection,
        evidence,
        ..
    } = set_up.case(pack, &mut found)?;
    let mut bare = Scene::new(set_up.bare(pack, &mut bare)?);
    let mut all = Scene::new(inspection);
    let given: Vec<Given> = evidence.iter().map(|e| e.given).collect();
    let asked = (0..given.len()).filter(|&at| which(evidence[at].from));
    let asked: Vec<usize> = asked.collect();
    let mut groups = groups(&mut bare, &mut all, &given, &asked);
    for (reading, &of) in given.iter().enumerate() {
        for (judged, &it) in given.iter().enumerate() {
            let is_asked = asked.contains(&reading) || asked.contains(&judged);
            let doubts = unread::doubt(set_up, &bare.inspection, of, it);
            if let Some((first, second)) = doubts.filter(|d| is_asked && d.1.is_odd()) {
                let members = vec![reading.min(judged), reading.max(judged)];
                groups.insert(members, vec![(reading, first), (judged, second)]);
            }
        }
    }
    let described = groups.into_iter().map(|(mut members, doubted)| {
        members.sort_by_key(|&i| (evidence[i].from, evidence[i].given.part));
        let found = members.iter().map(|&i| Found {
            from: evidence[i].from,
            fact: fact_of(set_up, &bare, &evidence[i]),
            doubt: doubted.iter().find(|(at, _)| *at == i).map(|d| d.1),
        });
        Odd {
            found: found.collect(),
        }
    });
    Ok(described.collect())
}

/// The findings of each group by their numbers, and those of them that are doubted.
type Groups = BTreeMap<Vec<usize>, Vec<(usize, Doubt)>>;

/// The groups among these findings, which are all that `all` has and `bare` has not, in
/// which one of the `asked` is odd.
fn groups(bare: &mut Scene<'_>, all: &mut Scene<'_>, given: &[Given], asked: &[usize]) -> Groups {
    let mut groups = Groups::new();
    for &at in asked {
        if let Some((usual, _)) = odd_beside_all(bare, all, given[at]) {
            let members = smallest(bare, given, at, &usual);
            groups.insert(members, Vec::new());
        }
    }
    for (members, doubted) in &mut groups {
        for &at in members {
            let doubt = odd_beside_all(bare, all, given[at]);
            doubted.extend(doubt.map(|(_, doubt)| (at, doubt)));
        }
    }
    groups
}

/// What a finding says of one of its parts.
fn fact_of(set_up: &SetUp<'_>, scene: &Scene<'_>, evidence: &Evidence) -> Option<Fact> {
    let Origin::Fact(number) = evidence.from else {
        return None;
    };
    let mut fact: Fact = (*set_up.facts.get(number)?).clone();
    fact.part = part_ref(&set_up.built.places, scene.parts(), evidence.given.part);
    Some(fact)
}

/// What is usual of a finding, and what speaks against it, if it is odd beside all the
/// others in `all`.
fn odd_beside_all(
    bare: &mut Scene<'_>,
    all: &mut Scene<'_>,
    given: Given,
) -> Option<(Usual, Doubt)> {
    all.take_back(given);
    let odd = odd_beside(bare, all, given);
    all.add(given);
    odd
}

/// What is usual of a finding, and what speaks against it, if it is odd beside `others`.
fn odd_beside(
    bare: &mut Scene<'_>,
    others: &mut Scene<'_>,
    given: Given,
) -> Option<(Usual, Doubt)> {
    // It is at most as much rarer as any of the possibilities that it tells apart.
    let (before, beside) = (bare.bands(given)?, others.bands(given)?);
    let mut rarer = beside
        .iter()
        .zip(&before)
        .map(|(beside, before)| beside / before);
    if !rarer.any(|rarer| rarer <= RARER) {
        return None;
    }
    let usual = bare.usual(given)?;
    let doubt = others.doubt(given, &usual)?;
    doubt.is_odd().then_some((usual, doubt))
}
