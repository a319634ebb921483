//! The list of likely hidden faults, part by part, worst first.

use tellmark_core::inspection::Given;
use tellmark_core::logic::can_be;
use tellmark_core::number::UFloat;
use tellmark_core::pack::{Form, Nature as PackNature, Pack};
use tellmark_core::piece::{Answer, Piece, SetUpError};

use super::odd::{Odd, odd};
use super::progress::Progress;
use super::until::leave_out_ended;
use std::collections::BTreeSet;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::part_ref;
use tellmark_compile::set_up::{Case, Later, Origin, SetUp};
use tellmark_compile::set_up::{Caution, Clash};
use tellmark_language::model::{Missed, Model, StateId, Sureness};
use tellmark_language::words;

/// An answer that speaks for or against a fault.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// What gave it.
    pub from: Origin,
    /// Weight of evidence in decibans: ten times the common logarithm of how
    /// many times the odds are what they would be without it. Above zero it
    /// speaks for the fault.
    pub decibans: f64,
    /// The chance without it.
    pub without: f64,
    /// It was found on the part itself, on what is built into it, or on what it
    /// is built into short of the whole piece.
    pub is_near: bool,
}

/// A hidden fault that may be there.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Index of the part.
    pub part: usize,
    /// The fault.
    pub state: StateId,
    /// Its chance.
    pub chance: f64,
    /// Its chance before anything was found.
    pub before: f64,
    /// What finding it late costs.
    pub missed: Option<Missed>,
    /// Whether it has been opened up, so that the chance is a finding.
    pub opened: bool,
    /// What it rests on, heaviest first.
    pub reasons: Vec<Reason>,
}

/// Chances in 100 from which a fault is listed: the mark of "possibly".
pub const LISTED: u8 = Sureness::Possibly.percent();
/// Chances in 100 from which a fault always stands with its part: the mark of
/// "probably".
const PROBABLE: u8 = Sureness::Probably.percent();
/// Decibans that double the odds.
const DOUBLING: f64 = 3.0;

impl Suspect {
    /// Whether a fault is worth showing with its part: it has been opened up, is
    /// probable, or something found near it at least doubles its odds or halves them.
    #[must_use]
    pub fn stands_out(&self) -> bool {
        let strong = |reason: &Reason| reason.is_near && reason.decibans.abs() >= DOUBLING;
        self.opened || words::reaches(self.chance, PROBABLE) || self.reasons.iter().any(strong)
    }
}

impl Suspect {
    fn is_worth_reasons(&self) -> bool {
        !self.opened && (self.chance >= WORTH_REASONS || self.before >= WORTH_REASONS)
    }

    /// Notes what the chance is without something, if the difference is felt.
    fn add_reason(&mut self, from: Origin, without: f64, is_near: bool) {
        let decibans = decibans(self.chance, without);
        if decibans.abs() >= LEAST_DECIBANS {
            self.reasons.push(Reason {
                from,
                decibans,
                without,
                is_near,
            });
        }
    }
}

/// What is still to be looked at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Unseen {
    /// Signs asked for in all.
    pub asked: usize,
    /// Answered so far.
    pub answered: usize,
    /// Known because it was mended: nobody looked.
    pub mended: usize,
    /// Looked at, and cannot be told.
    pub out_of_sight: usize,
}

impl Unseen {
    /// Not looked at yet.
    #[must_use]
    pub fn left(&self) -> usize {
        self.asked - self.answered - self.mended - self.out_of_sight
    }
}

/// The suspects of one part.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Index of the part.
    pub part: usize,
    /// Its name.
    pub name: String,
    /// Worst first.
    pub suspects: Vec<Suspect>,
    /// What is still to be looked at on this part.
    pub unseen: Unseen,
}

/// One fault, with all the parts that are about as likely to have it.
#[derive(Clone, Debug)]
pub struct Alike<'t> {
    first: &'t Suspect,
    others: Vec<&'t Suspect>,
    /// The parts by name.
    pub parts: Vec<&'t str>,
}

impl<'t> Alike<'t> {
    /// The fault on the first of the parts.
    #[must_use]
    pub fn first(&self) -> &'t Suspect {
        self.first
    }

    /// What it rests on, on every one of the parts: heaviest first, with the figures of the
    /// first part.
    pub fn reasons(&self) -> impl Iterator<Item = &'t Reason> {
        self.first.reasons.iter().filter(|reason| {
            let says_so = |other: &Reason| {
                other.from == reason.from
                    && other.decibans.is_sign_positive() == reason.decibans.is_sign_positive()
            };
            let all = |other: &&Suspect| other.reasons.iter().any(says_so);
            self.others.iter().all(all)
        })
    }
}

/// The whole list.
#[derive(Clone, Debug, PartialEq)]
pub struct Triage {
    /// Part by part, the part with the likeliest fault first.
    pub groups: Vec<Group>,
    /// Over all parts.
    pub unseen: Unseen,
    /// What is mended, and so no longer suspected: one for each part.
    pub mended: Vec<StateId>,
    /// Cautions that hold.
    pub cautions: Vec<Caution>,
    /// Findings that the rules hardly expect together.
    pub odd: Vec<Odd>,
    /// Set if the answers cannot all be true; then there are no chances.
    pub clash: Option<Clash>,
}

impl Triage {
    /// The faults from this chance in 100 upwards that do not stand out, each once
    /// with all its parts.
    #[must_use]
    pub fn with_less_to_go_on(&self, least: u8) -> Vec<Alike<'_>> {
        self.alike(|s| words::reaches(s.chance, least) && !s.stands_out())
    }

    /// The faults from this chance in 100 upwards, each once with all the parts that are
    /// about as likely to have it: what matters most first, by chance times risk.
    #[must_use]
    pub fn by_what_matters(&self, least: u8) -> Vec<Alike<'_>> {
        let mut all = self.alike(|s| words::reaches(s.chance, least));
        let matters = |alike: &Alike<'_>| {
            let s = alike.first();
            let risk = s.missed.map_or(0, |missed| missed.risk);
            let minutes = s.missed.map_or(0, |missed| missed.minutes);
            (s.chance * f64::from(risk), s.chance * f64::from(minutes))
        };
        all.sort_by(|a, b| {
            let (a, b) = (matters(a), matters(b));
            b.0.total_cmp(&a.0).then(b.1.total_cmp(&a.1))
        });
        all
    }

    /// How many faults stand below this chance in 100, and how many of them are to be
    /// expected.
    #[must_use]
    pub fn below(&self, least: u8) -> (usize, f64) {
        let all = self.groups.iter().flat_map(|group| &group.suspects);
        all.filter(|s| !words::reaches(s.chance, least))
            .fold((0, 0.0), |(count, sum), s| (count + 1, sum + s.chance))
    }

    /// The faults that are wanted, each once with all the parts that are about as likely to
    /// have it.
    fn alike(&self, is_wanted: impl Fn(&Suspect) -> bool) -> Vec<Alike<'_>> {
        let mut all: Vec<Alike<'_>> = Vec::new();
        for group in &self.groups {
            for suspect in group.suspects.iter().filter(|s| is_wanted(s)) {
                let alike = |other: &&mut Alike<'_>| {
                    let other = other.first();
                    other.state == suspect.state
                        && other.opened == suspect.opened
                        && (other.chance - suspect.chance).abs() < 0.03
                };
                match all.iter_mut().find(alike) {
                    Some(alike) => {
                        alike.others.push(suspect);
                        alike.parts.push(&group.name);
                    }
                    None => all.push(Alike {
                        first: suspect,
                        others: Vec::new(),
                        parts: vec![&group.name],
                    }),
                }
            }
        }
        all
    }

    /// "all 4 bottoms", or the parts by name.
    #[must_use]
    pub fn all_or_each(&self, model: &Model, state: StateId, parts: &[&str]) -> String {
        let kind = &model.kinds[model.states[state.index()].kind.index()];
        let of_kind = self
            .groups
            .iter()
            .flat_map(|g| &g.suspects)
            .filter(|s| s.state == state)
            .count();
        let mended = self.mended.iter().filter(|s| **s == state).count();
        let of_kind = of_kind + mended;
        if parts.len() > 2 && parts.len() == of_kind {
            format!("all {} {}", parts.len(), kind.plural)
        } else if parts.len() > 4 {
            format!("{} of the {of_kind} {}", parts.len(), kind.plural)
        } else {
            words::list(parts)
        }
    }
}

/// Works out the list; without progress, of the piece as it was found.
///
/// # Errors
/// If the piece cannot be set up.
pub fn triage(
    set_up: &SetUp<'_>,
    pack: Pack<'_>,
    progress: Option<&Progress>,
) -> Result<Triage, SetUpError> {
    let mut room = Room::<UFloat>::default();
    let mut case = set_up.case(pack, &mut room)?;
    let mut unseen = unseen_by_part(&case);
    set_mended(set_up, &case, &mut unseen);
    let total = unseen.iter().fold(Unseen::default(), |sum, u| Unseen {
        asked: sum.asked + u.asked,
        answered: sum.answered + u.answered,
        mended: sum.mended + u.mended,
        out_of_sight: sum.out_of_sight + u.out_of_sight,
    });
    if let Some(clash) = case.clash() {
        return Ok(Triage {
            groups: Vec::new(),
            unseen: total,
            mended: Vec::new(),
            cautions: Vec::new(),
            odd: Vec::new(),
            clash: Some(clash),
        });
    }
    let mut cautions = case.cautions(set_up);
    if let Some(progress) = progress {
        leave_out_ended(set_up.model, progress, &mut cautions);
    }
    let (mut suspects, mended) = suspects(set_up, &mut case);
    set_before(set_up, pack, &mut suspects)?;
    set_reasons(set_up, &mut case, &mut suspects);

    let mut groups: Vec<Group> = Vec::new();
    // Chances that read the same stay in the order of the parts.
    let thousandths = |s: &Suspect| (s.chance * 1000.0).round();
    suspects.sort_by(|a, b| thousandths(b).total_cmp(&thousandths(a)));
    let parts = case.inspection.piece().parts();
    for suspect in suspects {
        if let Some(group) = groups.iter_mut().find(|g| g.part == suspect.part) {
            group.suspects.push(suspect);
            continue;
        }
        let reference = part_ref(&set_up.built.places, parts, suspect.part);
        groups.push(Group {
            part: suspect.part,
            name: words::part_name(set_up.model, &reference),
            unseen: unseen[suspect.part],
            suspects: vec![suspect],
        });
    }
    Ok(Triage {
        groups,
        unseen: total,
        mended,
        cautions,
        // What sits oddly was found so; what is known of one moment is no news of another.
        odd: match set_up.later {
            None => odd(set_up, pack, |_| true)?,
            Some(_) => Vec::new(),
        },
        clash: None,
    })
}

/// Tells checks that were made from what is known because it was mended.
fn set_mended(set_up: &SetUp<'_>, case: &Case<'_, UFloat>, unseen: &mut [Unseen]) {
    let (pack, piece) = (case.inspection.pack(), case.inspection.piece());
    let mended = set_up.later.map_or(&[][..], |later| &later.mended);
    let rows = &set_up.built.states.states;
    let known = mended.iter().filter(|mended| !mended.is_in_doubt());
    let asks: BTreeSet<(usize, u16)> = known
        .map(|mended| {
            let row = &rows[set_up.built.states.declared(mended.state)];
            (mended.part, row.ask)
        })
        .collect();
    for (part, ask) in asks {
        let is_asked = pack.ask(usize::from(ask)).question != 0;
        let is_known = matches!(piece.answer(pack, part, ask), Some(Answer::Certain(false)));
        if let Some(unseen) = unseen.get_mut(part).filter(|_| is_asked && is_known) {
            unseen.answered = unseen.answered.saturating_sub(1);
            unseen.mended += 1;
        }
    }
}

/// Every hidden fault of every part, and those of them that are mended.
fn suspects(set_up: &SetUp<'_>, case: &mut Case<'_, UFloat>) -> (Vec<Suspect>, Vec<StateId>) {
    let rows = &set_up.built.states.states;
    let (mut found, mut all_mended) = (Vec::new(), Vec::new());
    for part in 0..case.inspection.piece().parts().len() {
        let Some(record) = case.inspection.piece().part(part) else {
            break;
        };
        let place = usize::from(record.place);
        let numbers: Vec<u16> = case.inspection.pack().states_of(place).collect();
        for number in numbers {
            let row = &rows[usize::from(number)];
            let (PackNature::Hidden, Some(state)) = (row.nature, row.declared) else {
                continue;
            };
            let mended = set_up
                .later
                .and_then(|later| later.last_mended(part, state));
            if mended.is_some_and(|mended| !mended.is_in_doubt()) {
                all_mended.push(state);
                continue;
            }
            let chance = case.inspection.chance(part, number).unwrap_or_default();
            let pack = *case.inspection.pack();
            let answer = case.inspection.piece().answer(&pack, part, row.ask);
            found.push(Suspect {
                part,
                state,
                chance: chance.as_f64(),
                before: 0.0,
                missed: row.missed,
                opened: matches!(answer, Some(Answer::Certain(_))),
                reasons: Vec::new(),
            });
        }
    }
    (found, all_mended)
}

/// The chances on the same piece with nothing found.
fn set_before(
    set_up: &SetUp<'_>,
    pack: Pack<'_>,
    suspects: &mut [Suspect],
) -> Result<(), SetUpError> {
    let mut room = Room::<UFloat>::default();
    let mut bare = set_up.bare(pack, &mut room)?;
    for suspect in suspects {
        let number = number(set_up, suspect.state);
        suspect.before = bare
            .chance(suspect.part, number)
            .unwrap_or_default()
            .as_f64();
    }
    Ok(())
}

fn number(set_up: &SetUp<'_>, state: StateId) -> u16 {
    set_up.built.states.number(state)
}

/// Chances below this are not worth giving reasons for in the list.
const WORTH_REASONS: f64 = 0.05;
/// Weights below this are not felt: a deciban is about the least that is.
pub(super) const LEAST_DECIBANS: f64 = 0.5;

/// Takes what was told back, one thing after the other, and notes what that changes.
fn set_reasons(set_up: &SetUp<'_>, case: &mut Case<'_, UFloat>, suspects: &mut [Suspect]) {
    match set_up.later {
        None => set_reasons_of_found(set_up, case, suspects),
        Some(later) => set_reasons_of_now(set_up, later, case, suspects),
    }
    for suspect in suspects {
        suspect
            .reasons
            .sort_by(|a, b| b.decibans.abs().total_cmp(&a.decibans.abs()));
    }
}

/// The same of the piece after something was mended.
fn set_reasons_of_now(
    set_up: &SetUp<'_>,
    later: &Later,
    case: &mut Case<'_, UFloat>,
    suspects: &mut [Suspect],
) {
    let ground = set_up.ground(&case.inspection);
    for (from, parts) in later.told() {
        let Some(chances) = later.chances_without(from) else {
            continue;
        };
        for suspect in suspects
            .iter_mut()
            .filter(|suspect| suspect.is_worth_reasons())
        {
            let row = set_up.built.states.declared(suspect.state);
            let state = ground.node(
                &set_up.built.states,
                &set_up.built.places,
                suspect.part,
                row,
            );
            let Some(without) = state.and_then(|state| chances[state]) else {
                continue;
            };
            let piece = case.inspection.piece();
            let near = parts.iter().any(|&at| is_near(piece, suspect.part, at));
            suspect.add_reason(later.name(from), without, near);
        }
    }
}

fn set_reasons_of_found(set_up: &SetUp<'_>, case: &mut Case<'_, UFloat>, suspects: &mut [Suspect]) {
    for (from, givens) in by_origin(case) {
        for given in &givens {
            let _ = case
                .inspection
                .answer(given.part, given.ask, Answer::NotLooked);
        }
        for suspect in suspects.iter_mut() {
            if !suspect.is_worth_reasons() {
                continue;
            }
            let number = number(set_up, suspect.state);
            let Ok(without) = case.inspection.chance(suspect.part, number) else {
                continue;
            };
            let piece = case.inspection.piece();
            let near = givens.iter().any(|g| is_near(piece, suspect.part, g.part));
            suspect.add_reason(from, without.as_f64(), near);
        }
        for given in &givens {
            let _ = case.inspection.answer(given.part, given.ask, given.answer);
        }
    }
}

fn is_near(piece: &Piece<'_>, part: usize, found_on: usize) -> bool {
    part == found_on
        || piece.owners(found_on).any(|owner| owner == part)
        || (found_on != 0 && piece.owners(part).any(|owner| owner == found_on))
}

/// The answers with which the piece was opened, and those that each fact gave, in the
/// order of the record.
pub(super) fn by_origin(case: &Case<'_, UFloat>) -> Vec<(Origin, Vec<Given>)> {
    let mut all = std::collections::BTreeMap::<Origin, Vec<Given>>::new();
    for evidence in &case.evidence {
        all.entry(evidence.from).or_default().push(evidence.given);
    }
    all.into_iter().collect()
}

/// Ten times the common logarithm of the ratio of the odds (I. J. Good, "Weight
/// of evidence: a brief survey", Bayesian Statistics 2, 1985).
pub(super) fn decibans(with: f64, without: f64) -> f64 {
    let least = 1e-6;
    let odds = |p: f64| {
        let p = p.clamp(least, 1.0 - least);
        p / (1.0 - p)
    };
    10.0 * (odds(with) / odds(without)).log10()
}

/// What is still to be looked at on each part, in the order of the parts.
#[must_use]
pub fn unseen_by_part(case: &Case<'_, UFloat>) -> Vec<Unseen> {
    let pack = case.inspection.pack();
    let piece = case.inspection.piece();
    piece
        .parts()
        .iter()
        .enumerate()
        .map(|(part, record)| {
            let mut unseen = Unseen::default();
            for ask in pack.asks_of(usize::from(record.place)) {
                let details = pack.ask(usize::from(ask));
                if details.question == 0 && !matches!(details.form, Form::HowMany { .. }) {
                    continue;
                }
                let found = piece.answer(pack, part, ask);
                if found == Some(Answer::NotLooked) && !can_be(pack, piece, part, ask) {
                    continue;
                }
                unseen.asked += 1;
                match found {
                    Some(Answer::NotLooked) if record.out_of_sight => unseen.out_of_sight += 1,
                    Some(Answer::NotLooked) | None => {}
                    Some(Answer::CannotSee) => unseen.out_of_sight += 1,
                    Some(_) => unseen.answered += 1,
                }
            }
            unseen
        })
        .collect()
}
