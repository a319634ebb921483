//! Faults and jobs as they are told to an owner, by what the house says `In plain words:`.

use super::grammar::capital;
use super::verb;
use crate::model::{JobId, KindId, Model, StateId, Verb};

/// When something is so.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plainly {
    /// It was so, and is mended: "The drawer had lost its stops."
    Was,
    /// It is so: "The drawer has lost its stops."
    Is,
    /// It may be so: "The drawer may have lost its stops."
    MayBe,
}

/// The words by which a plain sentence about a fault says that it was so.
const WAS: [&str; 3] = ["had", "was", "were"];

/// A fault of a part in a plain sentence: the house's own, or one that is made of the words of
/// the fault. `part` is the part's name and `kind` its kind.
#[must_use]
pub fn plain_fault(
    model: &Model,
    state: StateId,
    told: Plainly,
    part: &str,
    kind: KindId,
) -> String {
    match model.plain_fault(state) {
        Some(said) => {
            let said = at_time(said, told).unwrap_or_else(|| said.to_owned());
            capital(&of_part(model, &said, part, kind))
        }
        None => {
            let Some(found) = model.states.get(state.index()) else {
                return String::new();
            };
            let verb = match (found.verb, told) {
                (Verb::Is, Plainly::Was) => "was",
                (Verb::Is, Plainly::Is) => "is",
                (Verb::Is, Plainly::MayBe) => "may be",
                (Verb::Shows, Plainly::Was) => "showed",
                (Verb::Shows, Plainly::Is) => "shows",
                (Verb::Shows, Plainly::MayBe) => "may show",
            };
            capital(&format!("{} {verb} {}.", the_part(part), found.phrase))
        }
    }
}

/// A plain sentence about a fault at another time; `None` if it does not say that it was so.
#[must_use]
pub fn at_time(said: &str, told: Plainly) -> Option<String> {
    let (at, was) = words(said).find(|(_, word)| WAS.contains(word))?;
    let now = match (told, was) {
        (Plainly::Was, was) => was,
        (Plainly::Is, "had") if is_several(&said[..at]) => "have",
        (Plainly::Is, "had") => "has",
        (Plainly::Is, "was") => "is",
        (Plainly::Is, _) => "are",
        (Plainly::MayBe, "had") => "may have",
        (Plainly::MayBe, _) => "may be",
    };
    let rest = &said[at + was.len()..];
    let rest = match (told, rest.strip_prefix(" not ")) {
        // "May be not held" is no English.
        (Plainly::MayBe, Some(rest)) => {
            let (may, be) = now.split_once(' ').unwrap_or((now, ""));
            return Some(format!("{}{may} not {be} {rest}", &said[..at]));
        }
        _ => rest,
    };
    Some(format!("{}{now}{rest}", &said[..at]))
}

/// Words before which the noun stands that a sentence is about: "the corner joints of the
/// drawer", "the guide that keeps it straight".
const BEHIND_NOUN: [&str; 16] = [
    "of", "that", "which", "in", "on", "at", "to", "from", "with", "behind", "below", "under",
    "over", "round", "between", "beside",
];

/// Whether what stands before "had" is several things: "The screws of the hinge".
fn is_several(subject: &str) -> bool {
    let subject = subject.split(',').next().unwrap_or_default();
    let noun = words(subject)
        .map(|(_, word)| word)
        .take_while(|word| !BEHIND_NOUN.contains(word))
        .last()
        .unwrap_or_default();
    matches!(noun, "feet" | "teeth") || (noun.ends_with('s') && !noun.ends_with("ss"))
}

/// What was done to a part, in plain sentences: the house's own, or one that is made of the
/// job's name, "We reblocked the foot."
#[must_use]
pub fn plain_job(model: &Model, job: JobId, part: &str, kind: KindId) -> String {
    match model.plain.job(job) {
        Some(said) => of_part(model, said, part, kind),
        None => model
            .jobs
            .get(job.index())
            .map_or_else(String::new, |job| done(&job.name)),
    }
}

/// What will be done to a part.
#[must_use]
pub fn plain_job_to_come(model: &Model, job: JobId, part: &str, kind: KindId) -> String {
    let done = plain_job(model, job, part, kind);
    to_come(&done).unwrap_or(done)
}

/// "We waxed the runners." of "wax the runners".
#[must_use]
pub fn done(name: &str) -> String {
    let (verb, rest) = name.split_once(' ').unwrap_or((name, ""));
    let space = if rest.is_empty() { "" } else { " " };
    format!("We {}{space}{rest}.", verb::past(verb))
}

/// "We will glue the blocks again." of "We glued the blocks again."; `None` if it does not say
/// what was done.
#[must_use]
pub fn to_come(said: &str) -> Option<String> {
    let mut out = String::with_capacity(said.len() + 8);
    let mut last = 0;
    let mut before = [""; 2];
    let mut is_said = false;
    for (at, word) in words(said) {
        let follows_we = before[1] == "We" || (before[1] == "we" && is_said);
        let follows_and = is_said && before[1] == "and";
        if follows_we || follows_and {
            let found = verb::base(word);
            if follows_we && found.is_none() {
                return None;
            }
            if let Some(base) = found {
                out.push_str(&said[last..at]);
                if follows_we {
                    out.push_str("will ");
                    is_said = true;
                }
                out.push_str(&base);
                last = at + word.len();
            }
        }
        before = [before[1], word];
    }
    out.push_str(&said[last..]);
    is_said.then_some(out)
}

/// What the owner is told once a job is done, if the house says it.
#[must_use]
pub fn afterwards(model: &Model, job: JobId, part: &str, kind: KindId) -> Option<String> {
    let said = model.plain.afterwards(job)?;
    Some(of_part(model, said, part, kind))
}

/// A sentence of the house about a kind of part, said of one such part: "the drawer" becomes
/// its name.
fn of_part(model: &Model, said: &str, part: &str, kind: KindId) -> String {
    let mut kinds = model.lineage(kind);
    let found = kinds.find_map(|kind| mention(model, said, kind));
    let Some((at, length)) = found else {
        return said.to_owned();
    };
    let name = the_part(part);
    let name = if at == 0 { capital(&name) } else { name };
    format!("{}{name}{}", &said[..at], &said[at + length..])
}

/// Where a sentence says "the drawer", and how long that is.
#[must_use]
pub fn mention(model: &Model, said: &str, kind: KindId) -> Option<(usize, usize)> {
    let name = &model.kinds.get(kind.index())?.name;
    let lower = said.to_ascii_lowercase();
    let wanted = format!("the {}", name.to_ascii_lowercase());
    let is_letter = |letter: Option<char>| letter.is_some_and(char::is_alphanumeric);
    let found = lower.match_indices(&wanted).find(|(at, _)| {
        let before = lower[..*at].chars().next_back();
        let after = lower[at + wanted.len()..].chars().next();
        !is_letter(before) && !is_letter(after)
    });
    found.map(|(at, wanted)| (at, wanted.len()))
}

/// "the left runner of drawer 2", "hinge 1 of the left leaf", but "drawer 2", "foot 3 of the
/// base".
#[must_use]
pub fn the_part(name: &str) -> String {
    let mut owners = name.split(" of ");
    let first = with_article(owners.next().unwrap_or(name), false);
    let owners = owners.map(|owner| with_article(owner, true));
    std::iter::once(first)
        .chain(owners)
        .collect::<Vec<_>>()
        .join(" of ")
}

/// An owner has its article already where it is the only one, and a word alone may be part of
/// a name: "chest of drawers".
fn with_article(name: &str, is_owner: bool) -> String {
    let is_numbered = name
        .rsplit(' ')
        .next()
        .is_some_and(|last| last.chars().all(|c| c.is_ascii_digit()));
    let has_article = ["the ", "every ", "no ", "a ", "an "]
        .iter()
        .any(|article| name.starts_with(article));
    let is_word_alone = is_owner && !name.contains(' ');
    if is_numbered || has_article || is_word_alone {
        name.to_owned()
    } else {
        format!("the {name}")
    }
}

/// The words of a sentence, each with its place.
fn words(said: &str) -> impl Iterator<Item = (usize, &str)> {
    said.split(|c: char| !c.is_alphanumeric() && c != '\'' && c != '’')
        .filter(|word| !word.is_empty())
        .map(move |word| (word.as_ptr() as usize - said.as_ptr() as usize, word))
}

#[cfg(test)]
mod tests {
    use super::{Plainly, at_time, done, the_part, to_come};

    #[test]
    fn one_sentence_serves_every_time() {
        let said = "The chest had been pushed out of square.";
        let at = |said, told| at_time(said, told).expect("a fault");
        assert_eq!(at(said, Plainly::Was), said);
        assert_eq!(
            at(said, Plainly::Is),
            "The chest has been pushed out of square."
        );
        assert_eq!(
            at(said, Plainly::MayBe),
            "The chest may have been pushed out of square."
        );
        let rotten = "The foot was rotten where it had stood in the wet.";
        assert_eq!(
            at(rotten, Plainly::MayBe),
            "The foot may be rotten where it had stood in the wet."
        );
        assert_eq!(
            at("The leg was not held.", Plainly::MayBe),
            "The leg may not be held."
        );
        assert_eq!(
            at("The screws of the hinge had lost their hold.", Plainly::Is),
            "The screws of the hinge have lost their hold."
        );
        assert_eq!(
            at(
                "The guide that keeps drawers straight had come loose.",
                Plainly::Is
            ),
            "The guide that keeps drawers straight has come loose."
        );
        assert_eq!(at_time("The drawer sticks.", Plainly::Is), None);
    }

    #[test]
    fn what_was_done_says_what_will_be_done() {
        assert_eq!(
            to_come("We cleaned out the old glue and fitted new blocks. We left them a night.")
                .as_deref(),
            Some("We will clean out the old glue and fit new blocks. We will leave them a night.")
        );
        assert_eq!(to_come("The blocks are glued."), None);
        assert_eq!(done("wax the runners"), "We waxed the runners.");
    }

    #[test]
    fn a_part_with_a_number_has_no_article() {
        assert_eq!(the_part("foot 3 of the base"), "foot 3 of the base");
        assert_eq!(
            the_part("left runner of drawer 2"),
            "the left runner of drawer 2"
        );
        assert_eq!(the_part("the top"), "the top");
        assert_eq!(the_part("hinge 1 of left leaf"), "hinge 1 of the left leaf");
        assert_eq!(the_part("the chest of drawers"), "the chest of drawers");
    }
}
