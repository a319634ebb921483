//! `tellmark brief`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::left_finding::or_refuse;
use super::open_job::{cannot_set_up, open_job, progress};
use super::quote::no_paper;
use super::shape::Shape;
use super::steps;
use clap::Args;
use jiff::civil::Date;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::PathBuf;
use tellmark_compile::set_up::SetUp;
use tellmark_job::advice::{Mark, Marked, OwnWork, Progress, Told};
use tellmark_job::limit::Limit;
use tellmark_job::limits;
use tellmark_job::noting::Noting;
use tellmark_job::open_job::{JobView, OpenJob};
use tellmark_job::papers::{self, Agreed, NoAnswer, Said};
use tellmark_job::record::{Decision, New, PaperName, PaperTrouble, Says};
use tellmark_language::AnswerReader;
use tellmark_language::ink::Ink;
use tellmark_language::model::{Asks, Found, Nature, Sense, SignId};
use tellmark_language::words;

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Say or see what the owner wants: what for, how far, what must not be touched
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark brief walnut-chest --wish \"in use again, for linen\"\n  \
                        tellmark brief walnut-chest --limit \"20 hours\"\n  tellmark brief \
                        walnut-chest --leave \"the top\" --because \"the rings are remembered\"\n  \
                        tellmark brief walnut-chest --refused \"draw the nails\" --part \"drawer \
                        3\"\n  tellmark brief walnut-chest --agreed \"estimate 1\" --except \"rejoin the \
                        top\" --up-to 900\n\nWhat rules ask of the owner is noted like any finding: tellmark note \
                        walnut-chest \"the purpose of the piece is daily use\"."
)]
#[command(group = clap::ArgGroup::new("what").multiple(false))]
pub struct Brief {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// What the piece is for, in the owner's own words
    #[arg(long, value_name = "WORDS", group = "what")]
    wish: Option<String>,
    /// A wish taken back, in the words in which it was noted
    #[arg(long, value_name = "WORDS", group = "what")]
    not_wish: Option<String>,
    /// How far the work may go: a time at the bench, a price, a day; the last of each counts
    #[arg(long, value_name = "WORDS", group = "what")]
    limit: Option<String>,
    /// A limit taken back, in the words in which it was noted
    #[arg(long, value_name = "WORDS", group = "what")]
    not_limit: Option<String>,
    /// A part that must not be touched
    #[arg(long, value_name = "PART", group = "what")]
    leave: Option<String>,
    /// A part that may be touched after all
    #[arg(long, value_name = "PART", group = "what")]
    not_leave: Option<String>,
    /// A job that the owner agreed to, or a paper: "estimate 1"
    #[arg(long, value_name = "STEP", group = "what")]
    agreed: Option<String>,
    /// A job that the owner will not have, or a paper
    #[arg(long, value_name = "STEP", group = "what")]
    refused: Option<String>,
    /// A job of which what the owner decided holds no more
    #[arg(long, value_name = "STEP", group = "what")]
    not_decided: Option<String>,
    /// With --agreed and a paper: but not this job of it, by name, or by its number in the
    /// paper as "job 7"; give it again for more
    #[arg(long, value_name = "STEP", requires = "agreed")]
    except: Vec<String>,
    /// With --agreed and a paper: up to this sum only
    #[arg(long, value_name = "SUM", requires = "agreed")]
    up_to: Option<String>,
    /// With --agreed, --refused and --not-decided: only for this part; give it again for more
    #[arg(long, value_name = "PART")]
    part: Vec<String>,
    /// Why, or how it was said
    #[arg(long, value_name = "WORDS")]
    because: Option<String>,
}

impl Brief {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = open_job(&self.job, frame)?;
        if let Some(said) = self.answer()? {
            return self.write_answer(&mut job, &said, frame);
        }
        let (says, beside) = {
            let view = job.view()?;
            let progress = progress(&view, frame)?;
            let says = self.says(&view, &progress, frame)?;
            let Some(says) = says else {
                Shown {
                    job: &job,
                    progress: &progress,
                    set_up: &view.set_up(),
                }
                .print(frame)?;
                return Ok(Exit::Fine);
            };
            let beside = beside(&says, &view.set_up(), &progress, frame.now.date());
            (says, beside)
        };
        let added = job.job.append_entry(&says, frame.now)?;
        frame.tell(Exit::Fine, |frame| {
            frame.print_line(added.number, &says)?;
            match frame.global.json {
                true => Ok(()),
                false => beside
                    .iter()
                    .try_for_each(|said| Ok(writeln!(frame.out, "{said}")?)),
            }
        })
    }

    /// Writes an answer to a paper down, all of it or nothing.
    fn write_answer(
        &self,
        job: &mut OpenJob,
        said: &Said,
        frame: &mut Frame,
    ) -> Result<Exit, Stopped> {
        let mut answer =
            papers::answer(&job.job, said, frame.now.date()).map_err(|why| match why {
                // What the disk does not give is no misuse.
                NoAnswer::Paper(why @ PaperTrouble::Read(_)) => no_paper(why),
                why => Stopped::Misuse(format!("{why} Nothing was noted.")),
            })?;
        let before = match said.except.is_empty() {
            true => BTreeSet::new(),
            false => planned(job, frame)?,
        };
        let new: Vec<New<'_>> = answer.lines.iter().map(New::Entry).collect();
        let last = job.job.append_all(&new, frame.now)?.number;
        let numbered = (last + 1 - answer.lines.len()..).zip(&answer.lines);
        let numbered: Vec<_> = numbered.collect();
        frame.tell(Exit::Fine, |frame| {
            if !said.except.is_empty() {
                let after = planned(&open_job(&self.job, frame)?, frame)?;
                let gone: Vec<_> = before.difference(&after).cloned().collect();
                let agreed = Agreed::of(&job.job).map_err(no_paper)?;
                answer.notes.extend(agreed.falls_away(said.paper, &gone));
            }
            if frame.global.json {
                let lines: Vec<_> = numbered
                    .iter()
                    .map(|(number, says)| json!({ "line": number, "text": says.to_string() }))
                    .collect();
                return frame.print_json(
                    Shape::ANSWER,
                    json!({ "noted": lines, "notes": answer.notes }),
                );
            }
            for (number, says) in &numbered {
                writeln!(frame.out, "Line {number}: {says}")?;
            }
            for note in &answer.notes {
                writeln!(frame.out, "{note}")?;
            }
            Ok(())
        })
    }

    /// The answer to a paper, if this is one.
    fn answer(&self) -> Result<Option<Said>, Stopped> {
        let yes = self.agreed.as_deref().and_then(PaperName::read);
        let no = self.refused.as_deref().and_then(PaperName::read);
        let has_conditions = !self.except.is_empty() || self.up_to.is_some();
        let Some(paper) = yes.or(no) else {
            return match has_conditions {
                true => Err(Stopped::Misuse(
                    "--except and --up-to go with a paper: --agreed \"estimate 1\". Nothing was \
                     noted."
                        .to_owned(),
                )),
                false => Ok(None),
            };
        };
        if yes.is_none() && has_conditions {
            return Err(Stopped::Misuse(
                "--except and --up-to go with --agreed: what is refused has no conditions. Nothing \
                 was noted."
                    .to_owned(),
            ));
        }
        if !self.part.is_empty() {
            return Err(Stopped::Misuse(format!(
                "--part goes with a job, and {paper} is a paper: --except \"...\" leaves out a job \
                 of it. Nothing was noted."
            )));
        }
        Ok(Some(Said {
            paper,
            yes: yes.is_some(),
            except: self.except.clone(),
            up_to: self.up_to.clone(),
            words: one_line(self.because.as_deref().unwrap_or_default()),
        }))
    }

    /// What is to be noted, if anything.
    fn says(
        &self,
        view: &JobView<'_>,
        progress: &Progress,
        frame: &Frame,
    ) -> Result<Option<Says>, Stopped> {
        let command = frame.command("brief", &self.job);
        let because = one_line(self.because.as_deref().unwrap_or_default());
        let decision = |job: &str| -> Result<Decision, Stopped> {
            let is_it = |own: &&Told<OwnWork>| {
                one_line(&own.what.job).to_lowercase() == one_line(job).to_lowercase()
            };
            let job = match progress.own.iter().find(is_it) {
                Some(own) => own.what.job.as_str(),
                None => steps::name(view.model(), steps::any_job(view.model(), job)?),
            };
            let parts = self.part.iter().map(|part| known_part(view, part));
            Ok(Decision {
                job: job.to_owned(),
                parts: parts.collect::<Result<_, _>>()?,
                words: because.clone(),
            })
        };
        let says = if let Some(words) = &self.wish {
            Says::Wish(words_of(words, "--wish")?)
        } else if let Some(words) = &self.limit {
            Says::Limit(words_of(words, "--limit")?)
        } else if let Some(words) = &self.not_wish {
            let wishes = progress.wishes.iter().map(|told| told.what.as_str());
            Says::NotWish(one_of(words, "wish", wishes)?)
        } else if let Some(words) = &self.not_limit {
            let limits = progress.limits.iter().map(|told| told.what.words.as_str());
            Says::NotLimit(one_of(words, "limit", limits)?)
        } else if let Some(part) = &self.leave {
            Says::Leave {
                part: known_part(view, part)
                    .map_err(|why| or_refuse(why, view, progress, part, &command))?,
                because,
            }
        } else if let Some(part) = &self.not_leave {
            Says::NotLeave {
                part: left_part(view, progress, part)?,
            }
        } else if let Some(job) = &self.agreed {
            Says::Agreed(decision(job)?)
        } else if let Some(job) = &self.refused {
            Says::Refused(decision(job)?)
        } else if let Some(job) = &self.not_decided {
            let Decision { job, parts, .. } = decision(job)?;
            let is_decided = |told: &Told<Marked>| {
                matches!(told.what.mark, Mark::Agreed | Mark::Refused) && told.what.job == job
            };
            if !progress.marks.iter().any(is_decided) {
                return Err(Stopped::Misuse(format!(
                    "The owner decided nothing about \"{job}\". Nothing was noted."
                )));
            }
            Says::NotDecided { job, parts }
        } else {
            return match (self.part.is_empty(), because.is_empty()) {
                (true, true) => Ok(None),
                _ => Err(Stopped::Misuse(
                    "Say what this is about: --leave, --agreed or --refused. Nothing was noted."
                        .to_owned(),
                )),
            };
        };
        Ok(Some(says))
    }
}

/// One of the things that the record says in these words.
fn one_of<'w>(
    asked: &str,
    what: &str,
    known: impl Iterator<Item = &'w str>,
) -> Result<String, Stopped> {
    let asked = one_line(asked);
    let known: Vec<&str> = known.collect();
    let found = known
        .iter()
        .find(|words| one_line(words).to_lowercase() == asked.to_lowercase());
    if let Some(found) = found {
        return Ok((*found).to_owned());
    }
    let there = match known.as_slice() {
        [] => format!("There is no {what} on record."),
        known => format!("On record: \"{}\".", known.join("\", \"")),
    };
    Err(Stopped::Misuse(format!(
        "No {what} is \"{asked}\". {there} Nothing was noted."
    )))
}

/// What a line comes to, in sentences, where its words do not say it.
fn beside(says: &Says, set_up: &SetUp<'_>, progress: &Progress, today: Date) -> Vec<String> {
    let Says::Limit(words) = says else {
        return Vec::new();
    };
    let limit = Limit::read(words, &AnswerReader::new(set_up.model), Some(today));
    let earlier = progress
        .limits
        .iter()
        .find(|told| told.what.on.is_of_one_sort(&limit.on));
    let earlier = earlier.map(|told| {
        format!(
            "It takes the place of line {}: {}.",
            told.line, told.what.words
        )
    });
    let comes_to = limits::comes_to(&limit);
    std::iter::once(comes_to).chain(earlier).collect()
}

/// The jobs of a plan that are called for, or may be, each with its part.
fn planned(job: &OpenJob, frame: &mut Frame) -> Result<BTreeSet<(String, String)>, Stopped> {
    let view = job.view()?;
    let progress = progress(&view, frame)?;
    let plan = view.plan(&progress).map_err(cannot_set_up)?;
    let steps = plan.steps.iter().flat_map(|step| {
        let perhaps = step.perhaps.iter().map(|(part, _)| part);
        let parts = step.certain.iter().chain(perhaps);
        parts.map(|part| {
            let job = steps::name(view.model(), step.job);
            (job.to_owned(), part.clone())
        })
    });
    Ok(steps.collect())
}

fn one_line(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn words_of(words: &str, option: &str) -> Result<String, Stopped> {
    let words = one_line(words);
    if words.is_empty() {
        return Err(Stopped::Misuse(format!(
            "There are no words after {option}. Nothing was noted."
        )));
    }
    Ok(words)
}

/// A part that this piece has, as the rules call it.
pub(super) fn known_part(view: &JobView<'_>, part: &str) -> Result<String, Stopped> {
    let (model, job) = (view.model(), &view.open.job);
    let meant = Noting::new(model, job)
        .part_meant(job, part)
        .map_err(|none| Stopped::Misuse(format!("{none} Nothing was noted.")))?;
    let name = words::part_name(model, &meant);
    // One part is called by its whole name, as papers and plans have it.
    let parts = view.parts_called(std::slice::from_ref(&name));
    Ok(match parts.map_err(cannot_set_up)?.as_slice() {
        [one] => view.part_name(*one),
        _ => name,
    })
}

/// The same of a part that is to be left alone, or has to do with one that is.
fn left_part(view: &JobView<'_>, progress: &Progress, part: &str) -> Result<String, Stopped> {
    let part = known_part(view, part)?;
    let parts = view
        .parts_called(std::slice::from_ref(&part))
        .map_err(cannot_set_up)?;
    let left = progress
        .left
        .iter()
        .flat_map(|told| &told.what.parts.indices);
    let is_near = |&at: &usize| {
        let mut parts = parts.iter();
        parts.any(|&part| progress.is_within(part, at) || progress.is_within(at, part))
    };
    if left.copied().any(|at| is_near(&at)) {
        return Ok(part);
    }
    let known = progress
        .left
        .iter()
        .flat_map(|told| told.what.parts.names.clone());
    let known: Vec<String> = known.collect();
    let there = match known.as_slice() {
        [] => "Nothing is.".to_owned(),
        known => format!("Left alone: {}.", words::list(known)),
    };
    Err(Stopped::Misuse(format!(
        "{} is not on what is left alone. {there} Nothing was noted.",
        words::capital(&words::the_part(&part))
    )))
}

struct Shown<'s> {
    job: &'s OpenJob,
    progress: &'s Progress,
    set_up: &'s SetUp<'s>,
}

impl Shown<'_> {
    fn print(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if frame.global.json {
            return frame.print_json(Shape::BRIEF, self.as_json());
        }
        let wishes = self.progress.wishes.iter();
        let wishes = wishes.map(|w| format!("{} {FAINT}({}){FAINT:#}", w.what, w.when));
        section(frame, "What the owner wants", wishes)?;
        let limits = self.progress.limits.iter().map(|l| l.what.words.clone());
        section(frame, "How far it may go", limits)?;
        let left = self.left().into_iter().map(|(part, because)| {
            let colon = if because.is_empty() { "" } else { ": " };
            format!("{part}{colon}{because}")
        });
        section(frame, "What must not be touched", left)?;
        section(frame, "What the owner answered", self.answers())?;
        let decided = self.decided().into_iter().map(|(word, job, parts)| {
            let on = if parts.is_empty() { "" } else { ": " };
            format!("{word}: {job}{on}{parts}")
        });
        section(frame, "What the owner decided", decided)?;
        section(frame, "What the owner said to papers", self.to_papers())?;
        section(frame, "Not asked yet", self.not_asked())
    }

    fn as_json(&self) -> Value {
        let wishes = self.progress.wishes.iter().map(|w| &w.what);
        let limits = self.progress.limits.iter().map(|l| &l.what.words);
        let left = self.left();
        let left = left
            .iter()
            .map(|(part, because)| json!({ "part": part, "because": because }));
        let decided = self.decided();
        let decided = decided
            .iter()
            .map(|(word, job, parts)| json!({ "job": job, "parts": parts, "owner": word }));
        json!({
            "wishes": wishes.collect::<Vec<_>>(),
            "limits": limits.collect::<Vec<_>>(),
            "leave": left.collect::<Vec<_>>(),
            "answers": self.answers(),
            "decided": decided.collect::<Vec<_>>(),
            "papers": self.to_papers(),
            "not_asked": self.not_asked(),
        })
    }

    /// What must not be touched, and why.
    fn left(&self) -> Vec<(String, &str)> {
        let left = self.progress.left.iter();
        left.map(|l| (words::list(&l.what.parts.names), l.what.because.as_str()))
            .collect()
    }

    /// What the owner decided: "agreed" or "refused", the job, and its parts.
    fn decided(&self) -> Vec<(&'static str, &str, String)> {
        let marks = self.progress.marks.iter();
        let still_holds = |told: &&Told<Marked>| self.progress.still_holds(told);
        marks
            .filter(still_holds)
            .filter_map(|told| {
                let word = match told.what.mark {
                    Mark::Agreed => "agreed",
                    Mark::Refused => "refused",
                    Mark::Undecided => "not decided",
                    Mark::Done | Mark::NotDone => return None,
                };
                let parts = words::list(&told.what.parts.names);
                Some((word, told.what.job.as_str(), parts))
            })
            .collect()
    }

    /// What the owner said to papers; a paper that cannot be gone by says why.
    fn to_papers(&self) -> Vec<String> {
        match Agreed::of(&self.job.job) {
            Ok(agreed) => {
                let answers = agreed.answers.iter();
                answers
                    .map(|a| format!("{} ({})", a.in_words(), a.when))
                    .collect()
            }
            Err(why) => vec![why.to_string()],
        }
    }

    /// Findings about signs that the owner is asked about.
    fn answers(&self) -> Vec<String> {
        let asked = self.job.findings.iter().filter(|finding| {
            self.sign_of(&finding.fact.found)
                .and_then(|sign| self.set_up.model.signs.get(sign.index()))
                .is_some_and(|sign| sign.sense == Sense::Ask)
        });
        asked
            .map(|finding| words::fact_sentence(self.set_up.model, &finding.fact))
            .collect()
    }

    fn sign_of(&self, found: &Found) -> Option<SignId> {
        match found {
            Found::State { state, .. } => {
                match self.set_up.model.states.get(state.index())?.nature {
                    Nature::Seen(sign) => Some(sign),
                    _ => None,
                }
            }
            Found::Measure { sign, .. }
            | Found::Choice { sign, .. }
            | Found::Degree { sign, .. } => Some(*sign),
            Found::SignCannotBeSeen(sign) => Some(*sign),
            _ => None,
        }
    }

    /// What rules would ask the owner about the piece and the record does not answer.
    fn not_asked(&self) -> Vec<String> {
        let model = self.set_up.model;
        let answered: Vec<SignId> = self
            .job
            .findings
            .iter()
            .filter_map(|finding| self.sign_of(&finding.fact.found))
            .collect();
        model
            .signs
            .iter()
            .enumerate()
            .filter(|(at, sign)| {
                let is_answered = answered.iter().any(|id| id.index() == *at);
                sign.sense == Sense::Ask && !is_answered && self.is_of_this_piece(sign.kind)
            })
            .map(|(at, sign)| {
                let id = SignId(u16::try_from(at).unwrap_or(u16::MAX));
                let check = words::sign_check(model, id, "the piece");
                match &sign.asks {
                    Asks::Which { values, .. } => format!("{check}: {}", words::list_or(values)),
                    Asks::Degrees { degrees, .. } => {
                        format!("{check}: {}", words::list_or(degrees))
                    }
                    _ => check,
                }
            })
            .collect()
    }

    fn is_of_this_piece(&self, kind: tellmark_language::model::KindId) -> bool {
        kind == tellmark_language::model::PIECE || kind == self.set_up.order.kind
    }
}

/// Prints a heading with its lines, if there are any.
fn section(
    frame: &mut Frame,
    heading: &str,
    lines: impl IntoIterator<Item = String>,
) -> Result<(), Stopped> {
    for (i, line) in lines.into_iter().enumerate() {
        if i == 0 {
            writeln!(frame.out, "{STRONG}{heading}{STRONG:#}")?;
        }
        writeln!(frame.out, "  {line}")?;
    }
    Ok(())
}
