//! Lines of the record that are no findings: what the owner wishes and decides, what
//! was done, photographs, what was heeded at the bench, and remarks. Each begins with a label
//! and a colon.

use super::lines::{Name, When};
use super::paper::{Answer, KeptPaper, PaperKind, Payment};
use super::verbatim;
use jiff::civil::Date;
use std::fmt;

/// A line of the record that begins with a label.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its line in the file, from 1.
    pub number: usize,
    /// When it was written down.
    pub when: When,
    /// Who wrote it down, if it says.
    pub by: Option<Name>,
    /// What it says.
    pub says: Says,
}

/// What such a line says. [`fmt::Display`] writes it as it stands in the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Says {
    /// `wish: use it every day`: what the piece is for, in the owner's own words.
    Wish(String),
    /// `not wish: use it every day`: a wish taken back, in the words in which it was noted.
    NotWish(String),
    /// `limit: 20 hours`: how far the work may go.
    Limit(String),
    /// `not limit: 20 hours`: a limit taken back, in the words in which it was noted.
    NotLimit(String),
    /// `leave: the top; the rings are remembered`: what must not be touched.
    Leave {
        /// The part, in the words of the rules.
        part: String,
        /// Why; may be empty.
        because: String,
    },
    /// `not leave: the top`: it may be touched after all.
    NotLeave {
        /// The part, in the words of the rules.
        part: String,
    },
    /// `agreed: draw the nails; drawer 3; by letter`: the owner has been asked.
    Agreed(Decision),
    /// `refused: draw the nails; drawer 3; by letter`: the owner will not have it.
    Refused(Decision),
    /// `not decided: draw the nails; drawer 3`: neither of these any more.
    NotDecided {
        /// The job, in the words of the rules.
        job: String,
        /// The parts; none: all of them.
        parts: Vec<String>,
    },
    /// `done: wax the runners; drawer 2, drawer 3; 25 minutes`; of work of one's own also
    /// what it put right: `done: peg the joint; leg 2; 1 hour; mends leg 2 is loose`.
    Done {
        /// The job, in the words of the rules.
        job: String,
        /// The parts that it was done for; none: wherever the plan has it.
        parts: Vec<String>,
        /// What it took, in all; may be empty.
        took: String,
        /// What it mends besides what the rules say, each "leg 2 is loose".
        mends: Vec<String>,
    },
    /// `own work: turn a new knob; drawer 1; 2 hours`: work to be done that no rule plans.
    OwnWork {
        /// What, in the words of whoever plans it.
        job: String,
        /// The parts, in the words of the rules.
        parts: Vec<String>,
        /// What it takes on each.
        takes: String,
    },
    /// `not own work: turn a new knob`: it is not to be done after all.
    NotOwnWork(String),
    /// `not done: wax the runners; drawer 2`: a tick taken back.
    NotDone {
        /// The job.
        job: String,
        /// The parts; none: all of them.
        parts: Vec<String>,
    },
    /// `started: wax the runners`: a clock runs from here on.
    Started {
        /// What is worked on: a job of the rules, or words of one's own.
        job: String,
    },
    /// `stopped: wax the runners; 25 min`: the clock is stopped.
    Stopped {
        /// What was worked on.
        job: String,
        /// How long.
        took: String,
    },
    /// `photo: 1-torn-lip.jpg; drawer 2; before; the torn lip`.
    Photo(Photo),
    /// `heeded: leaf 1; Do not leave it up.`: a caution that was read at the bench.
    Heeded {
        /// The part that it is about.
        part: String,
        /// The caution.
        caution: String,
    },
    /// `finished: the piece is looked over`; what is found after that opens it again.
    Finished(String),
    /// `remark: drawer 2; smells of fish glue`: what no rule reads, as it was typed.
    Remark(Remark),
    /// `typed: l/h leaf sags 12mm`: what was typed for the finding on the line before;
    /// `typed for 3: …` for those on the three lines before; `typed for 0: …` where all of it
    /// is left in the remarks that follow.
    Typed {
        /// How many lines before it.
        lines: usize,
        /// What was typed, to the byte.
        words: String,
    },
    /// `settled: drawer 2; smells of fish glue`: a remark that has been read since, or
    /// is done with.
    Settled(Remark),
    /// Where the piece stands on the shelf.
    Shelf(Shelf),
    /// `rules: the bench at Mill Lane; version 3`: from here on the job goes by the rules of
    /// another house than the one that began it.
    Rules {
        /// What these rules are called.
        house: String,
        /// Their version; 0 if they have none.
        version: u32,
    },
    /// `estimate: 1; checksum 8f3a1c22; …`: a paper that stays.
    Kept(KeptPaper),
    /// `answer: estimate 1; yes; by letter`: what the owner said to a paper.
    Answer(Answer),
    /// `paid: 250.00; by transfer`, `paid back: …`.
    Paid(Payment),
}

/// Where a piece stands on the workshop's shelf, as somebody says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shelf {
    /// `waits for: the hinge from the foundry; 2026-12-05`.
    WaitsFor {
        /// What.
        what: String,
        /// The day on which it is expected, if one is.
        until: Option<Date>,
    },
    /// `ready: the piece`.
    Ready,
    /// `handed back: the piece`.
    HandedBack,
    /// `goes on: the piece`: none of these any more.
    GoesOn,
}

/// A remark: words that no rule reads, and the part that they are about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remark {
    /// The part, in the words of the rules.
    pub part: String,
    /// What was typed, to the byte.
    pub words: String,
}

/// What the owner decided about a job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Decision {
    /// The job, in the words of the rules.
    pub job: String,
    /// The parts; none: wherever the plan has it.
    pub parts: Vec<String>,
    /// How and why; may be empty.
    pub words: String,
}

/// A photograph kept with the job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Photo {
    /// Its name in the job's folder of photographs.
    pub file: String,
    /// The part, in the words of the rules; `None` for the whole piece.
    pub part: Option<String>,
    /// Before, during or after the work.
    pub stage: Stage,
    /// What it shows; may be empty.
    pub words: String,
}

/// When a photograph was taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Before any work.
    #[default]
    Before,
    /// While work went on.
    During,
    /// When it was done.
    After,
}

impl Stage {
    const NAMES: [(Stage, &'static str); 3] = [
        (Stage::Before, "before"),
        (Stage::During, "during"),
        (Stage::After, "after"),
    ];

    /// "before", "during" or "after".
    #[must_use]
    pub fn name(self) -> &'static str {
        let named = Stage::NAMES.iter().find(|(stage, _)| *stage == self);
        named.map_or("", |(_, name)| name)
    }

    /// The stage of that name.
    #[must_use]
    pub fn of_name(name: &str) -> Option<Stage> {
        let named = Stage::NAMES.iter().find(|(_, n)| *n == name);
        named.map(|(stage, _)| *stage)
    }
}

/// The labels, and what must follow each, for whoever writes by hand.
const LABELS: [(&str, &str); 33] = [
    ("wish", "wish: use it every day"),
    ("not wish", "not wish: use it every day"),
    ("limit", "limit: 20 hours"),
    ("not limit", "not limit: 20 hours"),
    ("leave", "leave: the top; the rings are remembered"),
    ("not leave", "not leave: the top"),
    ("agreed", "agreed: draw the nails; drawer 3"),
    ("refused", "refused: draw the nails; drawer 3"),
    ("not decided", "not decided: draw the nails; drawer 3"),
    ("done", "done: wax the runners; drawer 2; 25 minutes"),
    ("not done", "not done: wax the runners; drawer 2"),
    ("own work", "own work: turn a new knob; drawer 1; 2 hours"),
    ("not own work", "not own work: turn a new knob"),
    ("started", "started: wax the runners"),
    ("stopped", "stopped: wax the runners; 25 min"),
    (
        "photo",
        "photo: 1-torn-lip.jpg; drawer 2; before; the torn lip",
    ),
    ("heeded", "heeded: leaf 1; Do not leave it up."),
    ("finished", "finished: the piece is looked over"),
    ("remark", "remark: drawer 2; smells of fish glue"),
    ("typed", "typed: l/h leaf sags 12mm"),
    ("settled", "settled: drawer 2; smells of fish glue"),
    (
        "waits for",
        "waits for: the hinge from the foundry; 2026-12-05",
    ),
    ("ready", "ready: the piece"),
    ("handed back", "handed back: the piece"),
    ("goes on", "goes on: the piece"),
    ("rules", "rules: the bench at Mill Lane; version 3"),
    ("estimate", "estimate: 1; checksum 8f3a1c22; 712.23 in all"),
    (
        "supplement",
        "supplement: 2; checksum 8f3a1c22; 46.00 in all",
    ),
    (
        "invoice",
        "invoice: 2026-007; checksum 8f3a1c22; 712.23 in all",
    ),
    (
        "credit",
        "credit: 2026-008; checksum 8f3a1c22; 712.23 in all",
    ),
    ("answer", "answer: estimate 1; yes; by letter"),
    ("paid", "paid: 250.00; by transfer"),
    ("paid back", "paid back: 250.00; by transfer"),
];

impl Says {
    /// Reads a line without its time. `None` if it does not begin with a label: then
    /// it is a finding. If something is missing after the label, how such a line
    /// should read.
    #[must_use]
    pub fn read(text: &str) -> Option<Result<Says, &'static str>> {
        let (label, rest) = text.split_once(':')?;
        let label = label.trim().to_lowercase();
        if let Some(lines) = label.strip_prefix("typed for ") {
            let lines = lines.parse().ok().filter(|lines| *lines != 1)?;
            let words = verbatim::read(rest.trim());
            return Some(Ok(Says::Typed { lines, words }));
        }
        let (_, like) = LABELS.iter().find(|(l, _)| *l == label)?;
        Some(says(&label, rest.trim()).ok_or(like))
    }
}

fn says(label: &str, rest: &str) -> Option<Says> {
    let one = || (!rest.is_empty()).then(|| rest.to_owned());
    let (first, after) = rest.split_once(';').unwrap_or((rest, ""));
    let (first, after) = (first.trim(), after.trim());
    let (second, last) = after.split_once(';').unwrap_or((after, ""));
    let (second, last) = (second.trim(), last.trim());
    let first_word = || (!first.is_empty()).then(|| first.to_owned());
    let remark = || {
        Some(Remark {
            part: first_word()?,
            words: (!after.is_empty()).then(|| verbatim::read(after))?,
        })
    };
    let decision = || {
        Some(Decision {
            job: first_word()?,
            parts: parts(second),
            words: last.to_owned(),
        })
    };
    Some(match label {
        "wish" => Says::Wish(one()?),
        "not wish" => Says::NotWish(one()?),
        "limit" => Says::Limit(one()?),
        "not limit" => Says::NotLimit(one()?),
        "leave" => Says::Leave {
            part: first_word()?,
            because: after.to_owned(),
        },
        "not leave" => Says::NotLeave { part: one()? },
        "agreed" => Says::Agreed(decision()?),
        "refused" => Says::Refused(decision()?),
        "not decided" => Says::NotDecided {
            job: first_word()?,
            parts: parts(second),
        },
        "done" => done(first_word()?, second, last)?,
        "not done" => Says::NotDone {
            job: first_word()?,
            parts: parts(second),
        },
        "own work" if !last.is_empty() => Says::OwnWork {
            job: first_word()?,
            parts: parts(second),
            takes: last.to_owned(),
        },
        "not own work" => Says::NotOwnWork(one()?),
        "started" => Says::Started { job: one()? },
        "stopped" if !after.is_empty() => Says::Stopped {
            job: first_word()?,
            took: after.to_owned(),
        },
        "photo" => photo(first_word()?, second, last)?,
        "heeded" if !after.is_empty() => Says::Heeded {
            part: first_word()?,
            caution: after.to_owned(),
        },
        "finished" => Says::Finished(one()?),
        "remark" => Says::Remark(remark()?),
        "typed" => Says::Typed {
            lines: 1,
            words: verbatim::read(&one()?),
        },
        "settled" => Says::Settled(remark()?),
        "waits for" => Says::Shelf(Shelf::WaitsFor {
            what: first_word()?,
            until: match after {
                "" => None,
                day => Some(Date::strptime("%Y-%m-%d", day).ok()?),
            },
        }),
        "ready" => one().map(|_| Says::Shelf(Shelf::Ready))?,
        "handed back" => one().map(|_| Says::Shelf(Shelf::HandedBack))?,
        "goes on" => one().map(|_| Says::Shelf(Shelf::GoesOn))?,
        "rules" => Says::Rules {
            house: first_word()?,
            version: match after {
                "" => 0,
                after => after.strip_prefix("version ")?.trim().parse().ok()?,
            },
        },
        "answer" => Says::Answer(Answer::read(rest)?),
        "paid" | "paid back" => Says::Paid(Payment::read(label == "paid back", rest)?),
        kind => Says::Kept(KeptPaper::read(PaperKind::of_name(kind)?, rest)?),
    })
}

/// A tick: the job, its parts, and after them what it took and what it mends.
fn done(job: String, on: &str, rest: &str) -> Option<Says> {
    let (took, mends) = rest.split_once(';').unwrap_or((rest, ""));
    let mends = match mends.trim() {
        "" => Vec::new(),
        mends => parts(mends.strip_prefix("mends ")?),
    };
    Some(Says::Done {
        job,
        parts: parts(on),
        took: took.trim().to_owned(),
        mends,
    })
}

/// A photograph: its file, its part, and after them when it was taken and what it shows.
fn photo(file: String, part: &str, rest: &str) -> Option<Says> {
    let (stage, words) = rest.split_once(';').unwrap_or((rest, ""));
    Some(Says::Photo(Photo {
        file,
        part: (!part.is_empty()).then(|| part.to_owned()),
        stage: Stage::of_name(stage.trim())?,
        words: words.trim().to_owned(),
    }))
}

fn parts(text: &str) -> Vec<String> {
    let parts = text.split(',').map(str::trim).filter(|p| !p.is_empty());
    parts.map(str::to_owned).collect()
}

impl fmt::Display for Says {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Says::Typed { lines, words } = self {
            let words = verbatim::written(words);
            return match lines {
                1 => write!(f, "typed: {words}"),
                lines => write!(f, "typed for {lines}: {words}"),
            };
        }
        let (label, fields) = match self {
            Says::Wish(words) => ("wish", vec![words.clone()]),
            Says::NotWish(words) => ("not wish", vec![words.clone()]),
            Says::Limit(words) => ("limit", vec![words.clone()]),
            Says::NotLimit(words) => ("not limit", vec![words.clone()]),
            Says::Leave { part, because } => ("leave", vec![part.clone(), because.clone()]),
            Says::NotLeave { part } => ("not leave", vec![part.clone()]),
            Says::Agreed(d) => ("agreed", d.fields()),
            Says::Refused(d) => ("refused", d.fields()),
            Says::NotDecided { job, parts } => ("not decided", vec![job.clone(), parts.join(", ")]),
            Says::Done {
                job,
                parts,
                took,
                mends,
            } => {
                let mends = match mends.as_slice() {
                    [] => String::new(),
                    mends => format!("mends {}", mends.join(", ")),
                };
                let fields = vec![job.clone(), parts.join(", "), took.clone(), mends];
                ("done", fields)
            }
            Says::NotDone { job, parts } => ("not done", vec![job.clone(), parts.join(", ")]),
            Says::OwnWork { job, parts, takes } => {
                let fields = vec![job.clone(), parts.join(", "), takes.clone()];
                ("own work", fields)
            }
            Says::NotOwnWork(job) => ("not own work", vec![job.clone()]),
            Says::Started { job } => ("started", vec![job.clone()]),
            Says::Stopped { job, took } => ("stopped", vec![job.clone(), took.clone()]),
            Says::Heeded { part, caution } => ("heeded", vec![part.clone(), caution.clone()]),
            Says::Finished(words) => ("finished", vec![words.clone()]),
            Says::Remark(remark) => ("remark", remark.fields()),
            Says::Typed { words, .. } => ("typed", vec![verbatim::written(words)]),
            Says::Settled(remark) => ("settled", remark.fields()),
            Says::Shelf(shelf) => shelf.fields(),
            Says::Rules { house, version } => {
                let version = match version {
                    0 => String::new(),
                    version => format!("version {version}"),
                };
                ("rules", vec![house.clone(), version])
            }
            Says::Kept(paper) => (paper.name.kind.name(), paper.fields()),
            Says::Answer(answer) => ("answer", answer.fields()),
            Says::Paid(payment) if payment.back => ("paid back", payment.fields()),
            Says::Paid(payment) => ("paid", payment.fields()),
            Says::Photo(photo) => (
                "photo",
                vec![
                    photo.file.clone(),
                    photo.part.clone().unwrap_or_default(),
                    photo.stage.name().to_owned(),
                    photo.words.clone(),
                ],
            ),
        };
        let said = fields.iter().rposition(|field| !field.is_empty());
        let fields = fields.get(..=said.unwrap_or(0)).unwrap_or_default();
        write!(f, "{label}: {}", fields.join("; "))
    }
}

impl Says {
    /// What it says, for people to read: as it stands in the record, without fields that
    /// nobody filled in.
    #[must_use]
    pub fn shown(&self) -> String {
        let written = self.to_string();
        let is_verbatim = matches!(
            self,
            Says::Typed { .. }
                | Says::Remark(_)
                | Says::Settled(_)
                | Says::Wish(_)
                | Says::NotWish(_)
        );
        match written.split_once(": ") {
            Some((label, rest)) if !is_verbatim => {
                let fields = rest.split("; ").filter(|field| !field.trim().is_empty());
                format!("{label}: {}", fields.collect::<Vec<_>>().join("; "))
            }
            _ => written,
        }
    }
}

impl Shelf {
    fn fields(&self) -> (&'static str, Vec<String>) {
        let label = match self {
            Shelf::WaitsFor { what, until } => {
                let until = until.map_or_else(String::new, |day| day.to_string());
                return ("waits for", vec![what.clone(), until]);
            }
            Shelf::Ready => "ready",
            Shelf::HandedBack => "handed back",
            Shelf::GoesOn => "goes on",
        };
        (label, vec!["the piece".to_owned()])
    }
}

impl Remark {
    fn fields(&self) -> Vec<String> {
        vec![self.part.clone(), verbatim::written(&self.words)]
    }
}

impl Decision {
    fn fields(&self) -> Vec<String> {
        vec![self.job.clone(), self.parts.join(", "), self.words.clone()]
    }
}
