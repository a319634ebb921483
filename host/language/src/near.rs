//! Near words: what somebody may have meant.

use strsim::damerau_levenshtein;

/// How far apart two names may be and still be taken for a slip of the hand.
#[must_use]
pub fn cut_off(word: &str) -> usize {
    1 + word.chars().count() / 6
}

/// A near word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Near<'a> {
    /// What may have been meant; two if they are equally near.
    pub words: Vec<&'a str>,
    /// How many slips away.
    pub slips: usize,
}

impl Near<'_> {
    /// `hinge" or "screw`, to stand between quotation marks.
    #[must_use]
    pub fn joined(&self) -> String {
        self.words.join("\" or \"")
    }

    /// The one word, if there is only one and it is a single slip away in a
    /// word long enough that chance does not explain it.
    #[must_use]
    pub fn sure(&self) -> bool {
        self.words.len() == 1 && self.slips == 1 && self.words[0].chars().count() >= 4
    }
}

/// The nearest of the candidates, if any is near.
#[must_use]
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<Near<'a>> {
    let mut best: Option<Near<'a>> = None;
    let letters = word.chars().count();
    let limit = cut_off(word);
    for candidate in candidates {
        let far = candidate.chars().count().abs_diff(letters);
        if far > limit || candidate == word {
            continue;
        }
        // A word of one or two letters is near to everything.
        if candidate.chars().count() <= 2 && letters > 2 {
            continue;
        }
        let slips = damerau_levenshtein(word, candidate);
        if slips > limit || slips >= letters {
            continue;
        }
        match &mut best {
            Some(found) if found.slips < slips => {}
            Some(found) if found.slips == slips => {
                if found.words.len() < 2 && !found.words.contains(&candidate) {
                    found.words.push(candidate);
                }
            }
            _ => {
                best = Some(Near {
                    words: vec![candidate],
                    slips,
                });
            }
        }
    }
    best
}

/// The nearest over the first one to four of these words: how many of them it
/// replaces, and by what.
#[must_use]
pub fn nearest_run<'a>(words: &[&str], candidates: &[&'a str]) -> Option<(usize, Near<'a>)> {
    let mut best: Option<(usize, Near<'a>)> = None;
    for count in (1..=words.len().min(4)).rev() {
        let run = words[..count].join(" ");
        if let Some(near) = nearest(&run, candidates.iter().copied())
            && best
                .as_ref()
                .is_none_or(|(_, found)| near.slips < found.slips)
        {
            best = Some((count, near));
        }
    }
    best
}
