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

/// Names that some systems keep for devices, in any folder and with any ending.
const DEVICES: [&str; 6] = ["con", "prn", "aux", "nul", "conin$", "conout$"];

/// Whether a folder of this name can be made here and copied to any other system.
pub(super) fn may_be_a_folder(name: &str) -> bool {
    let is_odd = |c: char| c.is_control() || "/\\:*?\"<>|".contains(c);
    let stem = name.split('.').next().unwrap_or_default().trim_end();
    let stem = stem.to_lowercase();
    let port = stem
        .strip_prefix("com")
        .or_else(|| stem.strip_prefix("lpt"));
    let is_port = port.is_some_and(|port| {
        let mut figures = port.chars();
        let one = figures
            .next()
            .is_some_and(|c| c.is_ascii_digit() || "¹²³".contains(c));
        one && figures.next().is_none()
    });
    !name.is_empty()
        && !name.starts_with('.')
        && !name.ends_with(['.', ' '])
        && !name.contains(is_odd)
        && !is_port
        && !DEVICES.contains(&stem.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_has_a_name_that_every_system_takes() {
        for good in [
            "chest",
            "Mill Lane 4, chest",
            "café",
            "console",
            "com",
            "com12",
            "lpt.a",
        ] {
            assert!(may_be_a_folder(good), "{good}");
        }
        let bad = [
            "", ".", "..", ".chest", "chest.", "chest ", "a/b", "a\\b", "a:b", "a\nb", "CON",
            "nul", "aux.old", "Com1", "lpt9.txt", "com²", "con .x",
        ];
        for bad in bad {
            assert!(!may_be_a_folder(bad), "{bad}");
        }
    }
}
