//! Which sentences no example notices: each is left out, its strength made a step weaker, its
//! marks moved, its "unless" dropped, and every example is run again.
//!
//! (This is mutation testing: R. A. DeMillo, R. J. Lipton and F. G. Sayward, "Hints on test data
//! selection", Computer 11(4), 1978.)

use super::examples::run;
use crate::built::build_listed;
use crate::rules::Listed;
use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use tellmark_language::grammar::name::STRENGTHS;
use tellmark_language::model::Model;
use tellmark_language::span::Span;
use tellmark_language::{Reading, SourceFile, read, text_of};

/// What became of the sentences that were altered.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Altered {
    /// How many alterations were tried.
    pub tried: usize,
    /// Those that are no rules any more: other sentences rest on what was altered.
    pub refused: usize,
    /// Those after which every example comes out as it did.
    pub unnoticed: Vec<Unnoticed>,
}

/// A sentence that can be altered, and no example notices.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Unnoticed {
    /// The sentence.
    pub at: Span,
    /// How it was altered.
    pub how: How,
}

/// How a sentence is altered.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum How {
    /// It is not there.
    LeftOut,
    /// One word for how often, and the next weaker.
    Weaker(String, String),
    /// A mark, and one half as far again.
    Moved(String, String),
    /// Without what it is not said of: "unless it is treated for worm".
    Dropped(String),
}

/// An alteration: what stands instead of a stretch of a file.
struct Alteration {
    what: Unnoticed,
    stretch: Range<usize>,
    instead: String,
}

/// Alters the sentences that are wanted, one at a time, and says what no example notices.
#[must_use]
pub fn unnoticed(reading: &Reading, wanted: &(dyn Fn(Span) -> bool + Sync)) -> Altered {
    let Some(as_is) = outcome(reading) else {
        return Altered::default();
    };
    let alterations = alterations(reading, wanted);
    let next = AtomicUsize::new(0);
    let some = || {
        let (mut refused, mut unnoticed) = (0, Vec::new());
        while let Some(one) = alterations.get(next.fetch_add(1, Ordering::Relaxed)) {
            match altered(reading, one).as_ref().map(outcome) {
                Some(Some(outcome)) if outcome == as_is => unnoticed.push(one.what.clone()),
                Some(Some(_)) => {}
                _ => refused += 1,
            }
        }
        (refused, unnoticed)
    };
    let helpers = thread::available_parallelism().map_or(0, |n| n.get() - 1);
    let mut all = Altered {
        tried: alterations.len(),
        ..Altered::default()
    };
    thread::scope(|scope| {
        let helpers: Vec<_> = (0..helpers).map(|_| scope.spawn(some)).collect();
        let mut take = |(refused, unnoticed): (usize, Vec<Unnoticed>)| {
            all.refused += refused;
            all.unnoticed.extend(unnoticed);
        };
        take(some());
        for helper in helpers {
            match helper.join() {
                Ok(found) => take(found),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
    });
    all.unnoticed.sort();
    all
}

/// Which expectations of which examples are not met; `None` if there is nothing to run.
fn outcome(reading: &Reading) -> Option<Vec<(usize, usize)>> {
    if !reading.is_usable() {
        return None;
    }
    let model = &reading.model;
    let listed = Listed::of(model).ok()?;
    let built = build_listed(model, listed, &|at| text_of(&reading.files, at)).ok()?;
    let unmet = run(model, &built).into_iter();
    Some(unmet.map(|one| (one.example, one.expect)).collect())
}

fn altered(reading: &Reading, one: &Alteration) -> Option<Reading> {
    let mut files: Vec<SourceFile> = reading.files.to_vec();
    let file = files.get_mut(usize::from(one.what.at.file.0))?;
    file.text.get(one.stretch.clone())?;
    file.text.replace_range(one.stretch.clone(), &one.instead);
    Some(read(files))
}

/// The sentences that an example can notice: not the words, and not the order of work.
fn sentences(model: &Model) -> BTreeSet<Span> {
    let mut all = BTreeSet::new();
    all.extend(model.rules.iter().map(|one| one.at));
    all.extend(model.means.iter().map(|one| one.at));
    all.extend(model.togethers.iter().map(|one| one.at));
    all.extend(model.only_ifs.iter().map(|one| one.at));
    all.extend(model.at_most_ones.iter().map(|one| one.at));
    all.extend(model.plans.iter().map(|one| one.at));
    all.extend(model.stand_ins.iter().map(|one| one.at));
    all.extend(model.ladders.iter().map(|one| one.at));
    all.extend(model.cautions.iter().map(|one| one.at));
    all.extend(model.exclusions.iter().map(|one| one.at));
    all.extend(model.datings.iter().map(|one| one.at));
    all.extend(model.relatives.iter().map(|one| one.at));
    all
}

fn alterations(reading: &Reading, wanted: &dyn Fn(Span) -> bool) -> Vec<Alteration> {
    let mut all = Vec::new();
    for at in sentences(&reading.model)
        .into_iter()
        .filter(|at| wanted(*at))
    {
        let Some(file) = reading.files.file(at) else {
            continue;
        };
        let whole = at.start as usize..at.end as usize;
        let Some(text) = file.text.get(whole.clone()) else {
            continue;
        };
        let mut add = |how: How, inside: Range<usize>, instead: String| {
            all.push(Alteration {
                what: Unnoticed { at, how },
                stretch: whole.start + inside.start..whole.start + inside.end,
                instead,
            });
        };
        add(How::LeftOut, 0..text.len(), blank(text));
        let said = sentence_of(text);
        if let Some((inside, word, weaker)) = weaker(said) {
            let how = How::Weaker(word.to_owned(), weaker.to_owned());
            add(how, inside, weaker.to_owned());
        }
        for (inside, moved) in marks(said) {
            let how = How::Moved(said[inside.clone()].to_owned(), moved.clone());
            add(how, inside, moved);
        }
        if let Some(inside) = unless(said) {
            let dropped = said[inside.clone()].split_whitespace();
            let dropped = dropped.collect::<Vec<_>>().join(" ");
            let instead = blank(&said[inside.clone()]);
            add(How::Dropped(dropped), inside, instead);
        }
    }
    all
}

/// Spaces for every character, so that all else stays in its place.
fn blank(text: &str) -> String {
    text.bytes()
        .map(|byte| if byte == b'\n' { '\n' } else { ' ' })
        .collect()
}

/// The sentence itself, without what is said of it: "From: …", "Called: …", and a text in quotes.
fn sentence_of(text: &str) -> &str {
    const AFTER: [&str; 4] = ["From:", "Called:", "Because:", "\""];
    let end = AFTER.iter().filter_map(|after| text.find(after)).min();
    &text[..end.unwrap_or(text.len())]
}

/// The first word for how often, and the next weaker one.
fn weaker(said: &str) -> Option<(Range<usize>, &'static str, &'static str)> {
    let found = STRENGTHS.windows(2).filter_map(|pair| {
        let [(word, _), (weaker, _)] = pair else {
            return None;
        };
        let at = whole_word(said, word)?;
        Some((at..at + word.len(), *word, *weaker))
    });
    // "Nearly always" begins before the "always" in it.
    found.min_by_key(|(inside, ..)| inside.start)
}

/// Where a word stands by itself.
fn whole_word(said: &str, word: &str) -> Option<usize> {
    let is_letter = |c: Option<char>| c.is_some_and(char::is_alphabetic);
    let mut from = 0;
    while let Some(at) = said.get(from..)?.find(word) {
        let at = from + at;
        let before = said[..at].chars().next_back();
        let after = said[at + word.len()..].chars().next();
        if !is_letter(before) && !is_letter(after) {
            return Some(at);
        }
        from = at + word.len();
    }
    None
}

/// The figures behind "more than", "less than", "at least", "at most" that have a unit, each
/// with one half as far again.
fn marks(said: &str) -> Vec<(Range<usize>, String)> {
    const BEFORE: [&str; 4] = ["more than ", "less than ", "at least ", "at most "];
    const UNITS: [&str; 9] = [
        "mm", "cm", "m", "in", "%", "kg", "degrees", "years", "months",
    ];
    let mut marks = Vec::new();
    for before in BEFORE {
        let mut from = 0;
        while let Some(at) = said.get(from..).and_then(|rest| rest.find(before)) {
            let start = from + at + before.len();
            let figure = said[start..].split(|c: char| !c.is_ascii_digit() && c != '.');
            let figure = figure.into_iter().next().unwrap_or_default();
            let figure = figure.trim_end_matches('.');
            let unit = said[start + figure.len()..].split_whitespace().next();
            let unit = unit.unwrap_or_default().trim_end_matches([',', '.', ':']);
            if let Ok(number) = figure.parse::<f64>()
                && UNITS.contains(&unit)
            {
                let moved = (number * 15.0).round() / 10.0;
                marks.push((start..start + figure.len(), format!("{moved}")));
            }
            from = start;
        }
    }
    marks
}

/// "unless it is treated for worm", up to what comes after it.
fn unless(said: &str) -> Option<Range<usize>> {
    let from = whole_word(said, "unless")?;
    let rest = &said[from..];
    let ends = [" then ", ", ", ".", ":"];
    let end = ends.iter().filter_map(|end| rest.find(end)).min();
    Some(from..from + end.unwrap_or(rest.len()))
}

#[cfg(test)]
mod tests {
    use super::{marks, sentence_of, unless, weaker};

    #[test]
    fn the_next_weaker_word_stands_in_its_place() {
        let said = "If a base is damp then it is nearly always soft.";
        let (inside, word, instead) = weaker(said).expect("a word");
        assert_eq!((word, instead), ("nearly always", "usually"));
        assert_eq!(&said[inside], "nearly always");
        assert_eq!(
            weaker("A seat always usually"),
            Some((7..13, "always", "nearly always"))
        );
        assert_eq!(weaker("it is hardly ever stiff"), None);
        assert_eq!(weaker("unusually stiff"), None);
    }

    #[test]
    fn marks_with_a_unit_are_moved() {
        let said = "When a runner is worn more than 2 mm and at least 3 drawers are stiff";
        let found = marks(said);
        assert_eq!(found.len(), 1);
        assert_eq!((&said[found[0].0.clone()], found[0].1.as_str()), ("2", "3"));
        assert_eq!(marks("damp at least 2.5 %")[0].1, "3.8");
    }

    #[test]
    fn an_unless_ends_where_the_sentence_goes_on() {
        let said = "If a foot is damp unless it is dry then it is soft.";
        assert_eq!(&said[unless(said).expect("one")], "unless it is dry");
        let said = "Take care when it is wormed, unless it is treated: ";
        assert_eq!(&said[unless(said).expect("one")], "unless it is treated");
        assert_eq!(unless("nothing of the sort"), None);
    }

    #[test]
    fn what_is_said_of_a_sentence_is_no_part_of_it() {
        assert_eq!(
            sentence_of("If a, then b.  From: always there"),
            "If a, then b.  "
        );
        assert_eq!(
            sentence_of("Stop when a: \"more than 2 mm\""),
            "Stop when a: "
        );
    }
}
