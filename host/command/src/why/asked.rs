//! What is asked about: a part and what may be true of it, in a restorer's own words.

use super::super::choice;
use super::super::exit::Stopped;
use super::super::frame::Frame;
use super::super::open_job::cannot_set_up;
use super::super::typed::as_argument;
use super::Why;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::resolve;
use tellmark_core::number::UFloat;
use tellmark_job::noting::Noting;
use tellmark_job::open_job::{JobView, OpenJob};
use tellmark_language::AnswerReader;
use tellmark_language::model::{Fact, Found, PartRef, StateId};
use tellmark_language::words;
use tellmark_notes::What;

/// A part of the piece, and a state of it.
type About = (usize, StateId);

/// So many are offered.
const MOST: usize = 9;

impl Why {
    /// The part and the state that the words mean on this piece.
    pub(super) fn asked(&self, job: &OpenJob, frame: &mut Frame) -> Result<About, Stopped> {
        let typed = self.fault.join(" ");
        let view = job.view()?;
        let reader = AnswerReader::new(job.model()).about(view.set_up().order.kind);
        let (meant, is_clear) = match reader.state(&typed) {
            Ok((reference, state)) => {
                let meant = every(&view, [(reference.clone(), state)])?;
                if meant.is_empty() {
                    return Err(Stopped::Misuse(format!(
                        "This piece has no {}.",
                        words::part_name(job.model(), &reference)
                    )));
                }
                (meant, true)
            }
            Err(_) => match in_own_words(job, &view, &typed)? {
                (meant, _) if meant.is_empty() => {
                    return Err(Stopped::Misuse(format!(
                        "I do not know what \"{typed}\" asks about. Name a part and what may be \
                         wrong with it (\"drawer 2 is loose in the dovetails\"), or a part alone \
                         (\"drawer 2\"): then I list what can be asked of it."
                    )));
                }
                meant => meant,
            },
        };
        self.one_of(&view, meant, is_clear, frame)
    }

    /// The one that is meant; where it may be several, it is asked about.
    fn one_of(
        &self,
        view: &JobView<'_>,
        mut meant: Vec<About>,
        is_clear: bool,
        frame: &mut Frame,
    ) -> Result<About, Stopped> {
        if let ([one], true) = (meant.as_slice(), is_clear) {
            return Ok(*one);
        }
        let heading = match meant.len() {
            1 => "It may mean this:",
            _ => "It may mean one of these:",
        };
        meant.truncate(MOST);
        let said = meant.iter().map(|&(part, state)| {
            let name = view.part_name(part);
            words::state_phrase(view.model(), &name, state, true)
        });
        let said: Vec<String> = said.collect();
        if choice::can_ask(frame) {
            writeln!(frame.out, "{heading}")?;
            return match choice::choose(frame, &said)?.and_then(|at| meant.get(at)) {
                Some(one) => Ok(*one),
                None => Err(Stopped::No("Nothing was asked about.".to_owned())),
            };
        }
        let ways = said.iter().map(|said| {
            let again = frame.command("why", &self.job);
            let as_found = if self.as_found { " --as-found" } else { "" };
            format!("\n  {again} {}{as_found}", as_argument(said))
        });
        Err(Stopped::No(format!(
            "{heading}{}",
            ways.collect::<String>()
        )))
    }
}

/// What a note in these words would be about, and whether that is clear: the states that it
/// names, or of a part alone the faults that are likeliest there.
fn in_own_words(
    job: &OpenJob,
    view: &JobView<'_>,
    typed: &str,
) -> Result<(Vec<About>, bool), Stopped> {
    let understood = Noting::new(job.model(), &job.job).hear(typed);
    let is_clear = understood
        .heard
        .iter()
        .all(|heard| matches!(heard.what, What::Found(_)) && heard.dropped.is_empty());
    let offered = understood.heard.iter().flat_map(|heard| match &heard.what {
        What::Found(facts) => facts.clone(),
        What::Choose(readings) => readings.iter().flat_map(|one| one.facts.clone()).collect(),
        What::InOrder(_) | What::Nothing => Vec::new(),
    });
    let state_of = |fact: Fact| match fact.found {
        Found::State { state, .. } => Some((fact.part, state)),
        _ => None,
    };
    let meant = every(view, offered.filter_map(state_of))?;
    if !meant.is_empty() {
        return Ok((meant, is_clear));
    }
    // Where a part alone is named, nothing was said of it.
    if !understood.heard.is_empty() {
        return Ok((Vec::new(), false));
    }
    let parts = parts_of(view, understood.subject.iter().cloned())?;
    let triage = view.triage().map_err(cannot_set_up)?;
    let suspects = triage.groups.iter().flat_map(|group| &group.suspects);
    let there = suspects.filter(|suspect| parts.contains(&suspect.part));
    let there = there.map(|suspect| (suspect.part, suspect.state));
    Ok((there.collect(), false))
}

fn parts_of(
    view: &JobView<'_>,
    references: impl IntoIterator<Item = PartRef>,
) -> Result<Vec<usize>, Stopped> {
    let mut room = Room::<UFloat>::default();
    let set_up = view.set_up();
    let bare = set_up.bare(view.pack, &mut room).map_err(cannot_set_up)?;
    let references = references.into_iter();
    Ok(references
        .flat_map(|reference| resolve(view.built, &bare, &reference))
        .collect())
}

/// Each part by itself, and none twice.
fn every(
    view: &JobView<'_>,
    meant: impl IntoIterator<Item = (PartRef, StateId)>,
) -> Result<Vec<About>, Stopped> {
    let mut every = Vec::new();
    for (reference, state) in meant {
        for part in parts_of(view, [reference])? {
            if !every.contains(&(part, state)) {
                every.push((part, state));
            }
        }
    }
    Ok(every)
}
