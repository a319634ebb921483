//! What became of a note.

use std::ops::Range;
use tellmark_language::model::{Fact, KindId, PartRef, Sure};

/// Readings that are offered at most; each has a key.
pub const MOST_READINGS: usize = 9;

/// What was understood of a line.
#[derive(Clone, Debug, Default)]
pub struct Understood {
    /// Clause by clause, in the order in which they were typed.
    pub heard: Vec<Heard>,
    /// The parts that were spoken of last: what "stiff" by itself is said of next.
    pub subject: Vec<PartRef>,
    /// The line is in the exact words of the rules.
    pub is_exact: bool,
    /// A part that was named by its number or name, and that the piece has not as far as is
    /// known, though it may: "drawer 2" of a press whose drawers nobody has counted.
    pub absent: Option<PartRef>,
    /// A kind of part that was named and that the piece cannot have: the ornament of a plain
    /// looking-glass.
    pub elsewhere: Option<KindId>,
}

/// Something that was said, and what it is taken for.
#[derive(Clone, Debug)]
pub struct Heard {
    /// The words that were typed: a stretch of the line.
    pub typed: Range<usize>,
    /// What they are taken for.
    pub what: What,
    /// What of them stands in no finding.
    pub dropped: Vec<Dropped>,
    /// The part that they are about: the piece, if no other was named.
    pub about: PartRef,
    /// It would be so instead of what was heard before it: "drawer 1 is stiff or drawer 2 is".
    pub is_instead: bool,
    /// It says nothing without the words beside it: "all sound" of "all sound but drawer 3".
    pub is_bound: bool,
}

/// What words are taken for.
#[derive(Clone, Debug)]
pub enum What {
    /// One clear reading.
    Found(Vec<Fact>),
    /// Several, the likeliest first, or one that is not clear enough to be written down
    /// without asking.
    Choose(Vec<Reading>),
    /// Parts are as they should be, in whatever was not noted of them otherwise.
    InOrder(InOrder),
    /// None: a remark.
    Nothing,
}

/// Parts that are as they should be.
#[derive(Clone, Debug, PartialEq)]
pub struct InOrder {
    /// Each by itself.
    pub parts: Vec<PartRef>,
    /// How sure it is.
    pub sure: Sure,
}

/// One way to read some words.
#[derive(Clone, Debug)]
pub struct Reading {
    /// What would be noted.
    pub facts: Vec<Fact>,
    /// How well it fits the words, up to 1.
    pub fits: f64,
}

/// Words that can be read in several ways, or in one that is not clear enough.
#[derive(Clone, Debug)]
pub struct Question {
    /// The words: a stretch of the line.
    pub typed: Range<usize>,
    /// The part that they are about.
    pub about: PartRef,
    /// The readings, the likeliest first; so many as have a key.
    pub readings: Vec<Reading>,
}

/// Words that stand in no finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dropped {
    /// The words: a stretch of the line.
    pub typed: Range<usize>,
    /// Why.
    pub why: Why,
}

/// Why words stand in no finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// No rule reads them: they are kept as a remark.
    NoRule,
    /// More or less of it: "very", "a bit". No rule has degrees of it.
    HowMuch,
    /// "about" of a measure: what the gauge allows for is in the rules.
    About,
    /// A range: the middle of it is noted.
    Range,
}

impl Understood {
    /// A line in the exact words of the rules.
    #[must_use]
    pub fn exactly(text: &str, facts: Vec<Fact>) -> Understood {
        let about = facts.last().map(|fact| fact.part.clone());
        let heard = about.clone().map(|about| Heard {
            typed: 0..text.len(),
            what: What::Found(facts),
            dropped: Vec::new(),
            about,
            is_instead: false,
            is_bound: false,
        });
        Understood {
            heard: heard.into_iter().collect(),
            subject: about.into_iter().collect(),
            is_exact: true,
            absent: None,
            elsewhere: None,
        }
    }

    /// What was not clear, in the order typed: each is asked by itself.
    #[must_use]
    pub fn questions(&self) -> Vec<Question> {
        let mut questions: Vec<Question> = Vec::new();
        for heard in &self.heard {
            let What::Choose(readings) = &heard.what else {
                continue;
            };
            match questions.last_mut().filter(|_| heard.is_instead) {
                Some(question) => {
                    question.typed.end = heard.typed.end;
                    question.readings.extend(readings.iter().cloned());
                    question.readings.truncate(MOST_READINGS);
                }
                None => questions.push(Question {
                    typed: heard.typed.clone(),
                    about: heard.about.clone(),
                    readings: readings.iter().take(MOST_READINGS).cloned().collect(),
                }),
            }
        }
        questions
    }

    /// Every set of findings that can be chosen for all that was not clear at once, the
    /// likeliest first.
    #[must_use]
    pub fn choices(&self) -> Vec<Reading> {
        let questions = self.questions().into_iter().map(|one| one.readings);
        let mut sets = questions
            .reduce(|sets, readings| {
                let each = sets.iter().flat_map(|set| {
                    readings.iter().map(|reading| Reading {
                        facts: set.facts.iter().chain(&reading.facts).cloned().collect(),
                        fits: set.fits * reading.fits,
                    })
                });
                let mut each: Vec<Reading> = each.collect();
                each.sort_by(|one, other| other.fits.total_cmp(&one.fits));
                each
            })
            .unwrap_or_default();
        sets.truncate(MOST_READINGS);
        sets
    }

    /// Everything that is clear, in the order typed.
    pub fn found(&self) -> impl Iterator<Item = &Fact> {
        self.heard.iter().flat_map(Heard::found)
    }
}

impl Heard {
    /// What of it is clear.
    pub(crate) fn found(&self) -> &[Fact] {
        match &self.what {
            What::Found(facts) => facts.as_slice(),
            What::Choose(_) | What::InOrder(_) | What::Nothing => &[],
        }
    }
}
