//! The labels that give particulars, and finding them in an entry.

use crate::message::{Message, Problem};
use crate::near::nearest;
use crate::span::Span;
use crate::token::{Sort, Token};

/// A label.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Label {
    /// `Ask:`
    Ask,
    /// `How:`
    How,
    /// `Takes:`
    Takes,
    /// `Waits:`
    Waits,
    /// `Needs:`
    Needs,
    /// `First:`
    First,
    /// `Then:`
    Then,
    /// `Touches:`
    Touches,
    /// `From:`
    From,
    /// `Note:`
    Note,
    /// `On its own:`
    OnItsOwn,
    /// `Called:`
    Called,
    /// `Slip:`
    Slip,
    /// `Disturbs:`
    Disturbs,
    /// `Reads to:`
    ReadsTo,
    /// `Mends:`
    Mends,
    /// `Holds:`
    Holds,
    /// `Missed:`
    Missed,
    /// `Evidence:`
    Evidence,
    /// `Stage:`
    Stage,
    /// `Usually:`
    Usually,
    /// `In order:`
    InOrder,
    /// `In plain words:`
    InPlainWords,
    /// `Afterwards:`
    Afterwards,
    /// `Until:`
    Until,
}

/// Every label with its words and what stands after it.
pub const LABELS: [(Label, &str, &str); 25] = [
    (Label::Ask, "Ask", "\"a short question\""),
    (Label::How, "How", "\"how to check, in a sentence or two\""),
    (
        Label::Takes,
        "Takes",
        "2 minutes; or 2 to 4 hours, mostly 3; or not known",
    ),
    (Label::Waits, "Waits", "12 to 24 hours; or 2 days"),
    (Label::Needs, "Needs", "oak strip, hide glue"),
    (
        Label::First,
        "First",
        "clear the drawer and take off the locks",
    ),
    (Label::Then, "Then", "put the locks back"),
    (Label::Touches, "Touches", "doors, shelves"),
    (Label::From, "From", "the name of a source; or house"),
    (Label::Note, "Note", "a remark"),
    (
        Label::OnItsOwn,
        "On its own",
        "rarely; or in 3 of 100 cases",
    ),
    (Label::Called, "Called", "a short name"),
    (Label::Slip, "Slip", "2 in 100"),
    (
        Label::Disturbs,
        "Disturbs",
        "nothing; or a little; or a lot",
    ),
    (Label::ReadsTo, "Reads to", "0.5 mm"),
    (Label::Mends, "Mends", "a runner is worn thin"),
    (Label::Holds, "Holds", "usually; or in 19 of 20 cases"),
    (Label::Missed, "Missed", "4 hours, risk 3"),
    (Label::Usually, "Usually", "blunt"),
    (Label::InOrder, "In order", "no; or yes or no"),
    (Label::Evidence, "Evidence", "strong; or fair; or weak"),
    (
        Label::Stage,
        "Stage",
        "record; make safe; structure; moving parts; surface; or hand back",
    ),
    (
        Label::InPlainWords,
        "In plain words",
        "\"The drawer had lost its stops.\"; or of a job \"We glued the blocks again.\"",
    ),
    (
        Label::Afterwards,
        "Afterwards",
        "\"Ring us if a gap opens again.\"",
    ),
    (Label::Until, "Until", "lift off the cornice"),
];

impl Label {
    /// Its words.
    #[must_use]
    pub fn words(self) -> &'static str {
        LABELS
            .iter()
            .find(|(label, _, _)| *label == self)
            .map_or("", |(_, words, _)| words)
    }

    /// What stands after it.
    #[must_use]
    pub fn form(self) -> &'static str {
        LABELS
            .iter()
            .find(|(label, _, _)| *label == self)
            .map_or("", |(_, _, form)| form)
    }
}

/// A label and what stands after it.
#[derive(Clone, Debug)]
pub struct Detail {
    /// The label.
    pub label: Label,
    /// Its words.
    pub at: Span,
    /// What stands after it, without the full stop at the end.
    pub value: Vec<Token>,
}

impl Detail {
    /// Where the value stands; the label itself if there is none.
    #[must_use]
    pub fn value_at(&self) -> Span {
        match (self.value.first(), self.value.last()) {
            (Some(first), Some(last)) => first.at.to(last.at),
            _ => self.at,
        }
    }
}

/// What was found when labels were looked for.
#[derive(Clone, Debug, Default)]
pub struct Split {
    /// The tokens before the first label.
    pub sentence: Vec<Token>,
    /// The particulars.
    pub details: Vec<Detail>,
    /// Whether a label was misspelt beyond repair, so that something may seem
    /// to be missing that is not.
    pub slip: bool,
    /// Whether a label was misspelt at all, so that the value before it may
    /// run on too far.
    pub misspelt: bool,
}

/// The most labels that an entry can sensibly have.
const MOST: usize = 200;

/// Cuts an entry into its sentence and its particulars. `is_structure` says
/// which colons belong to the sentence.
pub fn split(
    tokens: Vec<Token>,
    is_structure: impl Fn(&[Token], usize) -> bool,
    said: &mut Vec<Message>,
) -> Split {
    // Where each label begins, where its value begins, and which it is.
    let mut marks: Vec<(usize, usize, Option<Label>)> = Vec::new();
    let (mut slip, mut misspelt) = (false, false);
    for index in 0..tokens.len() {
        if tokens[index].sort != Sort::Colon || is_structure(&tokens, index) {
            continue;
        }
        let floor = marks.last().map_or(0, |(_, value, _)| *value);
        if let Some((start, label)) = known(&tokens, floor, index) {
            marks.push((start, index + 1, Some(label)));
        } else if marks.len() > MOST {
            break;
        } else if let Some((start, label, message)) = unknown(&tokens, floor, index) {
            slip |= label.is_none();
            misspelt = true;
            said.push(message);
            marks.push((start, index + 1, label));
        }
    }
    let mut split = Split {
        slip,
        misspelt,
        ..Split::default()
    };
    let ends: Vec<usize> = marks
        .iter()
        .skip(1)
        .map(|(start, _, _)| *start)
        .chain([tokens.len()])
        .collect();
    for (&(start, value, label), &end) in marks.iter().zip(&ends) {
        let Some(label) = label else { continue };
        let mut words = tokens[value..end.max(value)].to_vec();
        if words.last().is_some_and(|t| t.sort == Sort::Stop) {
            words.pop();
        }
        split.details.push(Detail {
            label,
            at: tokens[start].at.to(tokens[value - 1].at),
            value: words,
        });
    }
    let end = marks.first().map_or(tokens.len(), |(start, _, _)| *start);
    split.sentence = tokens;
    split.sentence.truncate(end);
    split
}

/// Whether a label ends before the colon at `colon`.
#[must_use]
pub fn ends_label(tokens: &[Token], colon: usize) -> bool {
    known(tokens, 0, colon).is_some()
}

/// The known label that ends before the colon at `colon`.
fn known(tokens: &[Token], floor: usize, colon: usize) -> Option<(usize, Label)> {
    for count in (1..=3).rev() {
        let Some(start) = colon.checked_sub(count).filter(|s| *s >= floor) else {
            continue;
        };
        let words = &tokens[start..colon];
        for (label, name, _) in LABELS {
            let mut parts = name.split(' ');
            if name.split(' ').count() == count
                && words
                    .iter()
                    .all(|t| parts.next().is_some_and(|part| t.is(&part.to_lowercase())))
            {
                return Some((start, label));
            }
        }
    }
    None
}

/// The label that the words before a colon are a part of: where they begin.
fn part_of_label(
    tokens: &[Token],
    floor: usize,
    colon: usize,
) -> Option<(usize, usize, String, bool)> {
    let last = colon.checked_sub(1).filter(|s| *s >= floor)?;
    let name = ["on its own", "reads to", "in order", "in plain words"]
        .into_iter()
        .find(|name| name.split(' ').any(|part| tokens[last].is(part)))?;
    let start = (floor..=last)
        .rev()
        .take_while(|index| name.split(' ').any(|part| tokens[*index].is(part)))
        .last()?;
    Some((start, 1, name.to_owned(), true))
}

/// A label that is not known: what it may be, and the message.
fn unknown(
    tokens: &[Token],
    floor: usize,
    colon: usize,
) -> Option<(usize, Option<Label>, Message)> {
    let names: Vec<String> = LABELS
        .iter()
        .map(|(_, name, _)| name.to_lowercase())
        .collect();
    let mut found: Option<(usize, usize, String, bool)> = None;
    for count in 1..=3 {
        let Some(start) = colon.checked_sub(count).filter(|s| *s >= floor) else {
            break;
        };
        let words = crate::vocab::join(&tokens[start..colon]);
        if let Some(near) = nearest(&words, names.iter().map(String::as_str))
            && near.words.len() == 1
            && found
                .as_ref()
                .is_none_or(|(_, slips, _, _)| near.slips < *slips)
        {
            found = Some((start, near.slips, near.words[0].to_owned(), near.sure()));
        }
    }
    // A word of a longer label, such as "own:" of "On its own:".
    if found.is_none() {
        found = part_of_label(tokens, floor, colon);
    }
    let all = LABELS.map(|(_, name, _)| name).join(", ");
    let Some((start, _, name, sure)) = found else {
        let start = colon
            .checked_sub(1)
            .filter(|s| *s >= floor && tokens[*s].sort == Sort::Word);
        let Some(start) = start else {
            let at = tokens[colon].at;
            let message = Message::new(at, Problem::LooseColon { labels: &all });
            return Some((colon, None, message));
        };
        let at = tokens[start].at;
        let message = Message::new(
            at.to(tokens[colon].at),
            Problem::UnknownLabel {
                word: &tokens[start].text,
                near: None,
                labels: Some(&all),
            },
        );
        return Some((start, None, message));
    };
    let label = LABELS
        .iter()
        .find(|(_, words, _)| words.to_lowercase() == name)
        .map(|(label, words, _)| (*label, *words))?;
    let at = tokens[start].at.to(tokens[colon - 1].at);
    let written = crate::words::capital(&crate::vocab::join(&tokens[start..colon]));
    let message = Message::new(
        at.to(tokens[colon].at),
        Problem::UnknownLabel {
            word: &written,
            near: Some(label.1),
            labels: None,
        },
    )
    .with_fix(at, label.1, sure);
    Some((start, Some(label.0), message))
}
