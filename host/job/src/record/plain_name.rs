//! Names for files and folders that any system takes: letters, figures and strokes.

/// Letters of a name at most; a word is not cut unless it alone is longer.
const LONGEST: usize = 40;

/// "The torn lip!" as "the-torn-lip"; may be empty.
pub(super) fn plain_name(text: &str) -> String {
    let mut name = String::new();
    for c in text.to_lowercase().chars() {
        if c.is_alphanumeric() {
            name.push(c);
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    let mut short: String = name.chars().take(LONGEST).collect();
    if name.chars().nth(LONGEST).is_some_and(|next| next != '-')
        && let Some((words, _)) = short.rsplit_once('-')
    {
        short.truncate(words.len());
    }
    short.trim_end_matches('-').to_owned()
}
