//! The report of a job: one page that an owner can read, print and keep.
//!
//! Everything on it is gathered first, as plain words and figures ([`Report`]); the
//! page ([`page`]) only sets it out, so a house may set it out in another way. The
//! drawings are made here too, as SVG, and so are those of bench sums.

mod also_noted;
mod changed;
mod condition;
mod drawing;
mod fall_forces;
mod faults;
mod fonts;
mod hand_over;
mod hours_range;
mod identity;
mod kind;
mod letter;
mod looked;
mod made;
mod mark;
mod matter;
mod owner;
mod page;
mod photographs;
pub mod picture;
mod price;
mod quoted;
mod reckoned;
mod sense;
mod svg;
mod when;
mod work;
mod year;

pub use also_noted::AlsoNoted;
pub use changed::{Changed, Corrected, LeftOut};
pub use condition::{Found, PartFound};
pub use fall_forces::forces_drawing;
pub use faults::{Fault, Faults, LessLikely, Rests};
pub use hand_over::{HandedOver, hand_over};
pub use hours_range::hours_drawing;
pub use identity::{Identity, Label};
pub use kind::Kind;
pub use letter::{
    At, FoundPlain, Hours, LeftAsItIs, Letter, Open, OwnerCare, Proposed, Repair, Suspected,
};
pub use looked::{Hidden, Looked, Way};
pub use made::{Made, MadePart, Speaks, Unfit};
pub use matter::Matter;
pub use owner::{Decided, Owner, Untouched};
pub use page::{BadTemplate, STANDARD, TASK, Template, answer, is_page, page};
pub use photographs::{OfPart, Photographs, Shot};
pub use price::{Enough, HoursAndPrice, Price, Quotation};
pub use quoted::Quoted;
pub use reckoned::Reckoned;
pub use work::{Care, Done, PlannedJob, Work, WorkStage};
pub use year::year_drawing;

use serde::Serialize;
use tellmark_core::piece::SetUpError;
use tellmark_job::house::Workshop;

/// Everything that the page says.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Report {
    /// What the report is, by the moment.
    pub kind: Kind,
    /// Whose paper it is.
    pub workshop: Workshop,
    /// What the owner reads.
    pub letter: Letter,
    /// What the piece is, and by what it was judged.
    pub identity: Identity,
    /// What is amiss between the job and the rules that it is read by, a sentence each.
    pub amiss: Vec<String>,
    /// What the owner wishes, says and decides.
    pub owner: Owner,
    /// How it was looked over, and what was not seen.
    pub looked: Looked,
    /// The findings that cannot all be true; empty if all is well. Then nothing is
    /// said of likely faults and planned work.
    pub clash: Vec<String>,
    /// What was found, part by part, as the piece came in.
    pub condition: Vec<PartFound>,
    /// Whether something was mended, so that the piece is no longer as it was found.
    pub mended: bool,
    /// What was noted after something was mended that bears on it, part by part.
    pub since: Vec<PartFound>,
    /// What was noted in words that no rule reads.
    pub also_noted: Vec<AlsoNoted>,
    /// The parts drawn, one SVG for each main part.
    pub drawings: Vec<String>,
    /// What the marks in the drawings mean, each with its SVG.
    pub legend: Vec<(String, String)>,
    /// Likely hidden faults.
    pub faults: Faults,
    /// What can hurt somebody, or the piece.
    pub cautions: Vec<Care>,
    /// Cautions that were read at the bench, each with its day.
    pub heeded: Vec<String>,
    /// What was worked out from measures by sums of the handbook.
    pub reckoned: Vec<Reckoned>,
    /// When it was made; `None` if nothing speaks of it.
    pub made: Option<Made>,
    /// What is to be done.
    pub work: Work,
    /// How long it takes and what it costs; `None` if that was not worked out, or all
    /// is done.
    pub price: Option<HoursAndPrice>,
    /// What was done.
    pub done: Vec<Done>,
    /// Photographs.
    pub photographs: Photographs,
    /// Corrections in the record, and lines that could not be used.
    pub changed: Changed,
}

/// Gathers everything but the photographs' small copies, which take longest
/// ([`Photographs::load`]).
///
/// # Errors
/// If the piece cannot be set up.
pub fn gather(matter: &Matter<'_>) -> Result<Report, SetUpError> {
    let triage = matter.view.triage()?;
    let mut plan = matter.view.plan(matter.progress)?;
    if let Some(quoted) = matter.quoted {
        plan.go_by(quoted.quote, matter.model());
    }
    let dated = matter.found.date(matter.made_in, matter.year())?;
    let parts = mark::parts(matter, &triage)?;
    let of_found = match matter.is_mended() {
        true => Some(matter.found.triage()?),
        false => None,
    };
    let kind = match matter.kind {
        Some(kind) => kind,
        None => Kind::of_moment(matter, &plan),
    };
    let made = made::made(matter, &dated);
    let mut photographs = photographs::photographs(matter);
    let mut condition = condition::condition(matter, &parts);
    let numbers: Vec<(usize, String)> = condition
        .iter()
        .filter_map(|part| Some((part.index?, part.number.clone())))
        .collect();
    let looked = looked::looked(
        matter,
        of_found.as_ref().unwrap_or(&triage),
        &triage,
        &parts,
    );
    let told = letter::Told {
        hidden: &looked.hidden,
        numbers: &numbers,
        parts: &parts,
        triage: &triage,
        plan: &plan,
        dated: &dated,
        years: made.as_ref().map_or("", |made| made.years.as_str()),
    };
    let letter = letter::letter(matter, kind, &told, &mut photographs)?;
    condition::with_photographs(&mut condition, matter, &mut photographs);
    photographs.note_the_rest();
    Ok(Report {
        kind,
        workshop: matter.workshop.clone(),
        letter,
        identity: identity::identity(matter),
        amiss: matter.view.open.amiss(matter.progress).sentences(),
        owner: owner::owner(matter),
        looked,
        clash: triage.clash.as_ref().map_or_else(Vec::new, |clash| {
            clash.from.iter().map(|&f| matter.written(f)).collect()
        }),
        condition,
        mended: matter.is_mended(),
        since: condition::since_then(matter),
        also_noted: also_noted::also_noted(matter),
        drawings: drawing::drawings(&parts),
        legend: drawing::legend(),
        faults: faults::faults(matter, &triage),
        reckoned: reckoned::reckoned(matter),
        cautions: triage.cautions.iter().map(work::care).collect(),
        heeded: work::heeded(matter),
        made,
        work: work::work(matter, &plan),
        price: price::price(matter, &plan),
        done: work::done(matter),
        photographs,
        changed: changed::changed(matter),
    })
}
