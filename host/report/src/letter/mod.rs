//! What the owner reads: the report in plain words, by the moment at which it is made. A
//! craftsman to a neighbour: what was wrong in the past, the piece in the present.

mod agreement;
mod album;
mod care;
mod decided;
mod found;
mod lead;
mod left;
mod money;
mod pegs;
mod proposed;
mod repairs;
mod suspected;
mod together;
mod waits;

use agreement::Agreement;
pub(super) use album::Album;
pub use album::At;
pub use care::Care as OwnerCare;
pub use decided::Answer;
pub use found::FoundPlain;
pub use left::LeftAsItIs;
pub use proposed::{Hours, Proposed};
pub use repairs::Repair;
pub use suspected::{Open, Suspected};

use super::kind::Kind;
use super::looked::Hidden;
use super::mark::Part;
use super::matter::Matter;
use super::photographs::Photographs;
use serde::Serialize;
use tellmark_core::piece::SetUpError;
use tellmark_job::advice::{Dated, Triage, WorkPlan};
use tellmark_job::record::Finding;
use tellmark_language::model::KindId;

/// The owner's part of a report.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Letter {
    /// "Handed back on 2 October 2026".
    pub over: String,
    /// The papers by which the owner agreed to all that is planned, each with its day; empty if
    /// they did not.
    pub agreed: Vec<String>,
    /// "Your chest of drawers".
    pub title: String,
    /// What the piece is, and what became of it, in a few sentences.
    pub lead: Vec<String>,
    /// The large photograph.
    pub large: Option<At>,
    /// What was wrong and what was done, one after the other.
    pub repairs: Vec<Repair>,
    /// What was done besides, in a sentence or two; may be empty.
    pub also: String,
    /// What is not as it should be and is not mended, part by part.
    pub found: Vec<FoundPlain>,
    /// How many more parts there are of which that is so; they stand in the record.
    pub found_more: usize,
    /// What may be wrong, out of sight.
    pub suspected: Vec<Suspected>,
    /// How many more are less likely; they stand in the record.
    pub suspected_more: usize,
    /// What will be done, in order.
    pub proposed: Vec<Proposed>,
    /// How many more jobs may follow; they stand in the record.
    pub proposed_more: usize,
    /// How long that may take.
    pub hours: Option<Hours>,
    /// What the owner is asked, with a yes and a no.
    pub questions: Vec<String>,
    /// What the owner has decided.
    pub decided: Vec<Answer>,
    /// What is left as it is, and why.
    pub left: Vec<LeftAsItIs>,
    /// What could not be seen, or is not known.
    pub unknown: Vec<Open>,
    /// What the work comes to beside each limit of the owner, in sentences.
    pub limits: Vec<String>,
    /// What was invoiced and paid; empty if nothing was.
    pub account: String,
    /// How to look after it.
    pub care: OwnerCare,
    /// What each job took.
    pub took: Vec<(String, String)>,
    /// All of them; empty if nothing says so.
    pub took_in_all: String,
    /// Whether every job says what it took.
    pub took_is_whole: bool,
    /// Who signs for the owner and for the workshop; may be empty.
    pub owner: String,
    /// The same for the workshop.
    pub examiner: String,
}

/// What the parts of the letter are made from.
struct Gathering<'g> {
    matter: &'g Matter<'g>,
    kind: Kind,
    parts: &'g [Part],
    triage: &'g Triage,
    plan: &'g WorkPlan,
    dated: &'g Dated,
    years: &'g str,
    numbers: &'g [(usize, String)],
    hidden: &'g [Hidden],
    /// What was noted and holds now or held before a mend, with the parts that each is about;
    /// none before something was mended.
    noted_now: Vec<(&'g Finding, Vec<usize>)>,
    album: Album,
}

/// What was worked out of a job, as the letter is told it.
pub(super) struct Told<'g> {
    /// The parts of the piece as it was found.
    pub parts: &'g [Part],
    /// Likely faults, now.
    pub triage: &'g Triage,
    /// What is to be done.
    pub plan: &'g WorkPlan,
    /// What could not be seen.
    pub hidden: &'g [Hidden],
    /// The record's numbers of the parts.
    pub numbers: &'g [(usize, String)],
    /// When it was made.
    pub dated: &'g Dated,
    /// "from 1760 to 1789"; empty if nothing says so.
    pub years: &'g str,
}

/// Gathers the letter; the photographs that stand in it are marked.
pub(super) fn letter(
    matter: &Matter<'_>,
    kind: Kind,
    told: &Told<'_>,
    photographs: &mut Photographs,
) -> Result<Letter, SetUpError> {
    let now = matter.view.later();
    let findings = now.map_or(&[][..], |now| now.findings.as_slice());
    let parts = matter.view.parts_of_each(findings)?;
    let gathering = Gathering {
        noted_now: findings.iter().zip(parts).collect(),
        matter,
        kind,
        parts: told.parts,
        triage: told.triage,
        plan: told.plan,
        dated: told.dated,
        years: told.years,
        numbers: told.numbers,
        hidden: told.hidden,
        album: Album::of(matter, photographs),
    };
    let g = &gathering;
    let (repairs, also) = repairs::repairs(g)?;
    let large = g.album.large(kind);
    let (found, found_more) = found::found(g, repairs.len());
    let (suspected, suspected_more) = suspected::suspected(g);
    let agreement = Agreement::of(g);
    let (took, took_in_all, took_is_whole) = repairs::took(g);
    let letter = Letter {
        over: lead::over(g, &agreement),
        agreed: agreement.whole(),
        title: lead::title(g),
        lead: lead::lead(g, &repairs),
        large,
        also,
        found,
        found_more,
        suspected,
        suspected_more,
        proposed: proposed::proposed(g),
        proposed_more: proposed::more(g),
        hours: proposed::hours(g),
        questions: suspected::questions(g)?,
        decided: decided::decided(g),
        left: left::left(g),
        unknown: suspected::unknown(g),
        limits: money::limits(g),
        account: money::account(g),
        care: care::care(g)?,
        took,
        took_in_all,
        took_is_whole,
        owner: lead::label(g, &["owner"]),
        examiner: lead::label(g, &["examiner", "examined by"]),
        repairs,
    };
    album::mark(&letter, photographs);
    Ok(letter)
}

impl Gathering<'_> {
    /// The kind of a part.
    fn kind_of(&self, part: usize) -> KindId {
        self.parts.get(part).map_or(KindId(0), |part| part.kind_id)
    }

    /// The name of a part; of the piece, what its owner calls it.
    fn name_of(&self, part: usize) -> &str {
        if part == 0
            && let Some(called) = self.matter.job().header().called()
        {
            return called;
        }
        self.parts.get(part).map_or("", |part| part.name.as_str())
    }

    /// The part of this name.
    fn part_named(&self, name: &str) -> Option<usize> {
        self.parts.iter().position(|part| part.name == name)
    }
}
