//! Invented words, so that rules can be made by the thousand.

const CONSONANTS: &[u8] = b"bdfgklmnprtvz";
const VOWELS: &[u8] = b"aeou";

/// The `n`-th word, which begins with these letters.
pub fn word(beginning: &str, n: usize) -> String {
    let mut word = beginning.to_owned();
    let mut rest = n;
    for _ in 0..3 {
        let syllables = CONSONANTS.len() * VOWELS.len();
        let syllable = rest % syllables;
        rest /= syllables;
        word.push(char::from(CONSONANTS[syllable / VOWELS.len()]));
        word.push(char::from(VOWELS[syllable % VOWELS.len()]));
    }
    word
}
