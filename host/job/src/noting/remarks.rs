//! What of a note is not clear: remarks, and what they could mean.

use super::{Left, Noting, piece};
use crate::record::{Job, Remark, Remarked, Says};
use std::ops::Range;
use tellmark_language::model::{Fact, PartRef};
use tellmark_language::words::fact_line;
use tellmark_notes::{Heard, Reading, Sayable, Understood, What, Why};

impl Noting<'_> {
    /// What of a note is left open: each thing by itself where it means the same by itself, else
    /// the whole note.
    pub(super) fn left_open(&self, understood: &Understood, typed: &str) -> Vec<Left> {
        match self.each_left_open(understood, typed) {
            Some(each) => each,
            None if understood.heard.iter().any(is_left) => vec![self.whole(understood, typed)],
            None => Vec::new(),
        }
    }

    /// The whole note as one remark.
    pub(super) fn whole(&self, understood: &Understood, typed: &str) -> Left {
        let is_nothing = |one: &Heard| matches!(one.what, What::Nothing);
        let sayables = match understood.heard.iter().any(is_nothing) {
            true => self.sayables(understood, typed),
            false => Vec::new(),
        };
        Left {
            remark: Remark {
                part: self.about(understood),
                words: typed.to_owned(),
            },
            readings: understood.choices(),
            unread: owned(&unread_words(understood.heard.iter(), typed)),
            sayables,
        }
    }

    /// What is said to be as it should be, where that answers nothing.
    pub(super) fn sound(&self, understood: &Understood, typed: &str) -> Vec<Left> {
        let sound = understood.heard.iter();
        let sound = sound.filter(|heard| matches!(heard.what, What::InOrder(_)));
        let left = sound.map(|heard| self.left(heard, &heard.typed, typed));
        left.collect()
    }

    /// Each thing that is open by itself; `None` where one of them means something else by
    /// itself, or there is only one.
    fn each_left_open(&self, understood: &Understood, typed: &str) -> Option<Vec<Left>> {
        let is_asked_of = |heard: &Heard| matches!(heard.what, What::Choose(_));
        // Two things that the same words say are one question.
        let is_same = |one: &Heard, other: &Heard| {
            one.typed == other.typed && is_asked_of(one) && is_asked_of(other)
        };
        let follow = |pair: &[Heard]| {
            pair[0].typed.end <= pair[1].typed.start || is_same(&pair[0], &pair[1])
        };
        if understood.heard.len() < 2 || !understood.heard.windows(2).all(follow) {
            return None;
        }
        let mut questions = understood.questions().into_iter();
        let mut is_asked = false;
        // Whether what was heard just before is left as well.
        let mut goes_on = false;
        let mut left: Vec<(Range<usize>, Left)> = Vec::new();
        for heard in &understood.heard {
            let before = left.last_mut().filter(|(_, open)| {
                goes_on
                    && open.readings.is_empty()
                    && open.remark.part == self.part_words(&heard.about)
            });
            goes_on = is_left(heard);
            if heard.is_bound && !matches!(heard.what, What::Choose(_)) {
                return None;
            }
            if let What::Choose(_) = heard.what {
                // What would be so instead is one question with what is before it.
                if heard.is_instead && is_asked {
                    continue;
                }
                is_asked = true;
                let question = questions.next()?;
                if left
                    .last()
                    .is_some_and(|(range, _)| *range == question.typed)
                {
                    continue;
                }
                let mut open = self.left(heard, &question.typed, typed);
                open.readings = self.by_itself(&open.remark)?;
                left.push((question.typed, open));
            } else if !is_left(heard) {
                continue;
            } else if let Some((range, open)) = before {
                // What no rule reads stays together.
                range.end = heard.typed.end;
                open.remark.words = stretch(typed, range).to_owned();
                let unread = unread_words(std::iter::once(heard), typed);
                open.unread.extend(owned(&unread));
            } else {
                let open = self.left(heard, &heard.typed, typed);
                left.push((heard.typed.clone(), open));
            }
        }
        Some(left.into_iter().map(|(_, open)| open).collect())
    }

    /// A stretch of what was typed as a remark.
    fn left(&self, heard: &Heard, range: &Range<usize>, typed: &str) -> Left {
        let words = stretch(typed, range);
        let kind = self.scene.kind_of(&heard.about).unwrap_or(self.order.kind);
        Left {
            remark: Remark {
                part: self.part_words(&heard.about),
                words: words.to_owned(),
            },
            readings: Vec::new(),
            unread: owned(&unread_words(std::iter::once(heard), typed)),
            sayables: match heard.what {
                What::Nothing => self.notes.sayables(kind, words),
                _ => Vec::new(),
            },
        }
    }

    /// What a remark could mean by itself, which is what settling it offers later; `None` if that
    /// is nothing, or is clear, so that its words mean something else among others.
    fn by_itself(&self, remark: &Remark) -> Option<Vec<Reading>> {
        let understood = self
            .notes
            .read(&self.scene, &self.spoken_in(remark), &remark.words);
        let readings = understood.choices();
        let is_open = understood.found().next().is_none() && !readings.is_empty();
        is_open.then_some(readings)
    }

    /// The part that a remark is about.
    fn spoken_in(&self, remark: &Remark) -> Vec<PartRef> {
        self.exact.part(&remark.part).into_iter().collect()
    }

    /// What can be said of the part that was not understood, the nearest first.
    fn sayables(&self, understood: &Understood, typed: &str) -> Vec<Sayable> {
        let mut heard = understood.heard.iter();
        let left = heard.rfind(|one| matches!(one.what, What::Nothing));
        let part = left.map(|heard| heard.about.clone());
        let part = part.or(self.subject.first().cloned()).unwrap_or_else(piece);
        let kind = self.scene.kind_of(&part).unwrap_or(self.order.kind);
        self.notes.sayables(kind, typed)
    }

    /// The part that a remark is about, in the words of the rules.
    fn about(&self, understood: &Understood) -> String {
        let left = understood
            .heard
            .iter()
            .find(|heard| !matches!(heard.what, What::Found(_)) || !heard.dropped.is_empty());
        let heard = left.or(understood.heard.first());
        let about = heard.map(|heard| &heard.about);
        let about = about
            .or(understood.subject.first())
            .or(self.subject.first());
        match about {
            Some(part) => self.part_words(part),
            None => self.part_words(&piece()),
        }
    }

    /// What a remark could be read as, beside what was noted of it at once.
    #[must_use]
    pub fn readings(&self, job: &Job, remark: &Remarked) -> Vec<Reading> {
        let words = &remark.remark.words;
        let understood = self
            .notes
            .read(&self.scene, &self.spoken_in(&remark.remark), words);
        let known = self.noted_at_once(job, remark.number);
        let mut readings = understood.choices();
        if readings.is_empty() {
            readings.push(Reading {
                facts: understood.found().cloned().collect(),
                fits: 1.0,
            });
        }
        for reading in &mut readings {
            reading
                .facts
                .retain(|fact| !known.contains(&fact_line(self.model, fact)));
        }
        readings.retain(|reading| {
            !reading.facts.is_empty() && self.refused(job, &reading.facts).is_none()
        });
        readings.dedup_by(|one, other| one.facts == other.facts);
        readings
    }

    /// Whatever the remarks that nobody has settled could mean.
    pub(super) fn asked_before(&self, job: &Job) -> Vec<Fact> {
        let remarks = job.remarks().into_iter();
        let readings = remarks.flat_map(|remark| self.readings(job, &remark));
        readings.flat_map(|reading| reading.facts).collect()
    }

    /// What a remark says besides these findings.
    #[must_use]
    pub fn rest(&self, remark: &Remark, facts: &[Fact]) -> Option<Rest> {
        if facts.is_empty() {
            return None;
        }
        let understood = self
            .notes
            .read(&self.scene, &self.spoken_in(remark), &remark.words);
        let mut rest: Vec<&str> = Vec::new();
        let mut add = |typed: &Range<usize>| {
            let words = remark.words.get(typed.clone()).unwrap_or_default();
            let words = words.trim_matches(|c: char| !c.is_alphanumeric() && c != '"');
            if !words.is_empty() {
                rest.push(words);
            }
        };
        for heard in &understood.heard {
            let is_unread = heard.dropped.iter().any(|gone| gone.why == Why::NoRule);
            if is_unread || matches!(heard.what, What::Nothing) {
                add(&heard.typed);
            }
        }
        let whole = |words: &str| words.trim() == remark.words.trim();
        let words = rest.join(", ");
        // Of one clause that says everything, the words that no finding has.
        if whole(&words) {
            let words = unread_words(understood.heard.iter(), &remark.words);
            return (!words.is_empty()).then(|| Rest::Words(owned(&words)));
        }
        (!words.is_empty()).then(|| {
            Rest::Clauses(Remark {
                part: remark.part.clone(),
                words,
            })
        })
    }

    /// What was noted with a remark, of the same line that was typed.
    fn noted_at_once(&self, job: &Job, remark: usize) -> Vec<String> {
        let before = job.entries().iter().filter(|one| one.number < remark);
        let mut before = before.rev();
        let typed = before.find(|one| !matches!(one.says, Says::Remark(_)));
        let Some((number, &Says::Typed { lines, .. })) = typed.map(|one| (one.number, &one.says))
        else {
            return Vec::new();
        };
        // Between them stand remarks of the same line, and nothing else.
        let is_between = |line: usize| (number + 1..remark).contains(&line);
        if job.lines().iter().any(|line| is_between(line.number)) {
            return Vec::new();
        }
        let noted = number.saturating_sub(lines)..number;
        let lines = job.lines().iter().filter(|l| noted.contains(&l.number));
        let facts = lines.filter_map(|line| self.exact.facts(&line.text).ok());
        let facts = facts.flatten();
        facts.map(|fact| fact_line(self.model, &fact)).collect()
    }
}

/// What a remark says besides the findings that are noted for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Rest {
    /// Clauses of their own: another remark.
    Clauses(Remark),
    /// Single words, which say little without the others: the report keeps the whole note.
    Words(Vec<String>),
}

/// Whether something of what was heard stands in no finding.
fn is_left(heard: &Heard) -> bool {
    let is_unread = heard.dropped.iter().any(|one| one.why == Why::NoRule);
    matches!(heard.what, What::Choose(_) | What::Nothing) || is_unread
}

/// A stretch of a line without the marks at its ends.
fn stretch<'t>(typed: &'t str, range: &Range<usize>) -> &'t str {
    let words = typed.get(range.clone()).unwrap_or_default();
    words.trim_matches(|c: char| !c.is_alphanumeric() && !matches!(c, '"' | '?' | '%' | '(' | ')'))
}

/// The words of a line that stand in no finding, as they were typed.
fn unread_words<'t, 'h>(heard: impl Iterator<Item = &'h Heard>, typed: &'t str) -> Vec<&'t str> {
    let all = heard.flat_map(|heard| &heard.dropped);
    let unread = all.filter(|gone| gone.why == Why::NoRule);
    let words = unread.filter_map(|gone| typed.get(gone.typed.clone()));
    words.filter(|words| !words.is_empty()).collect()
}

fn owned(words: &[&str]) -> Vec<String> {
    words.iter().map(|&words| words.to_owned()).collect()
}
