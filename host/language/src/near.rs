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
    let wanted = Letters::of(word);
    for candidate in candidates {
        let far = candidate.chars().count().abs_diff(letters);
        if far > limit || candidate == word {
            continue;
        }
        // A word of one or two letters is near to everything.
        if candidate.chars().count() <= 2 && letters > 2 {
            continue;
        }
        let most = best.as_ref().map_or(limit, |found| found.slips);
        if wanted.differ_from(&Letters::of(candidate)) > most {
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

/// How often each letter is in a word, letters of far alphabets thrown together.
struct Letters([i16; 64]);

impl Letters {
    fn of(word: &str) -> Self {
        let mut counts = [0_i16; 64];
        for letter in word.chars() {
            let count = &mut counts[letter as usize % 64];
            *count = count.saturating_add(1);
        }
        Self(counts)
    }

    /// At least so many slips lie between two words with these letters: each slip
    /// adds a letter, takes one away, or does both.
    fn differ_from(&self, other: &Self) -> usize {
        let (mut more, mut fewer) = (0_usize, 0_usize);
        for (one, two) in self.0.iter().zip(other.0) {
            let differ = usize::from(one.abs_diff(two));
            if *one > two {
                more += differ;
            } else {
                fewer += differ;
            }
        }
        more.max(fewer)
    }
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

#[cfg(test)]
mod tests {
    use super::{Letters, nearest, nearest_run};

    fn near(word: &str, candidates: &[&'static str]) -> Option<(Vec<&'static str>, bool)> {
        let found = nearest(word, candidates.iter().copied())?;
        let sure = found.sure();
        Some((found.words, sure))
    }

    #[test]
    fn one_slip_in_a_long_word_is_sure() {
        assert_eq!(
            near("hnige", &["screw", "hinge"]),
            Some((vec!["hinge"], true))
        );
    }

    #[test]
    fn a_short_word_is_offered_but_never_sure() {
        assert_eq!(near("lef", &["leg"]), Some((vec!["leg"], false)));
    }

    #[test]
    fn two_that_are_equally_near_are_both_offered() {
        let found = near("rummer", &["runner", "hummer", "drummer"]);
        assert_eq!(found, Some((vec!["hummer", "drummer"], false)));
        let joined = nearest("rummer", ["hummer", "drummer"]).map(|n| n.joined());
        assert_eq!(joined.as_deref(), Some("hummer\" or \"drummer"));
    }

    #[test]
    fn more_slips_are_allowed_in_a_longer_word() {
        assert_eq!(near("scrx", &["seat"]), None);
        assert_eq!(
            near("drop-laef tabel", &["drop-leaf table"]),
            Some((vec!["drop-leaf table"], false))
        );
    }

    #[test]
    fn the_word_itself_and_very_short_words_are_near_to_nothing() {
        assert_eq!(near("hinge", &["hinge"]), None);
        assert_eq!(near("top", &["to", "in"]), None);
        assert_eq!(near("", &["top"]), None);
    }

    #[test]
    fn letters_never_differ_more_than_the_words() {
        let words = [
            "hinge", "hnige", "hinges", "hinga", "ginger", "screw", "", "h", "é", "ehing",
        ];
        for one in words {
            for other in words {
                let letters = Letters::of(one).differ_from(&Letters::of(other));
                let slips = strsim::damerau_levenshtein(one, other);
                assert!(letters <= slips, "{one} {other}: {letters} {slips}");
            }
        }
    }

    #[test]
    fn a_run_takes_as_many_words_as_fit_best() {
        let found = nearest_run(&["you", "cna", "see"], &["you can", "you"]);
        assert_eq!(
            found.map(|(count, near)| (count, near.words)),
            Some((2, vec!["you can"]))
        );
    }
}
