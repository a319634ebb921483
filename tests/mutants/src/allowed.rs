//! Changes that no test needs to notice, each with the reason.

use crate::Trouble;
use crate::trial::Mutant;
use std::collections::HashMap;
use std::fs;
use std::path::Path;

/// The allowed changes: what each is called, and why.
pub type Allowed = HashMap<String, String>;

/// Reads the list.
///
/// A line that begins at the margin names a change; the lines under it, which are
/// indented, say why. A line that begins with `#` is for the reader only.
///
/// # Errors
/// If an entry has no reason, is there twice, or names a change that there is none of.
pub fn read(path: &Path, mutants: &[Mutant]) -> Result<Allowed, Trouble> {
    let text = fs::read_to_string(path)?;
    let allowed = parse(&text).map_err(Trouble)?;
    let gone: Vec<&str> = allowed
        .keys()
        .filter(|key| !mutants.iter().any(|mutant| mutant.key() == **key))
        .map(String::as_str)
        .collect();
    if gone.is_empty() {
        return Ok(allowed);
    }
    Err(Trouble(format!(
        "{}: no change in the sources is called this any more; put it right or take it out:\n{}",
        path.display(),
        gone.join("\n")
    )))
}

fn parse(text: &str) -> Result<Allowed, String> {
    let mut allowed = Allowed::new();
    // Several changes may share the reason that follows them.
    let mut named: Vec<String> = Vec::new();
    let mut why = String::new();
    let mut keep = |named: &mut Vec<String>, why: &mut String| {
        for name in named.drain(..) {
            if why.is_empty() {
                return Err(format!("no reason is given for: {name}"));
            }
            if allowed.insert(name.clone(), why.clone()).is_some() {
                return Err(format!("this is there twice: {name}"));
            }
        }
        why.clear();
        Ok(())
    };
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        if let Some(reason) = line.strip_prefix("    ") {
            let gap = if why.is_empty() { "" } else { " " };
            why += gap;
            why += reason.trim();
        } else if !line.trim().is_empty() {
            if !why.is_empty() {
                keep(&mut named, &mut why)?;
            }
            named.push(line.trim().to_owned());
        }
    }
    keep(&mut named, &mut why)?;
    Ok(allowed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn changes_that_follow_one_another_share_a_reason() {
        let text = "# For the reader.\na.rs f: x\na.rs f: y\n    It is\n    the same.\n\nb.rs g: z\n    Other.\n";
        let allowed = parse(text).expect("sound");
        assert_eq!(allowed.len(), 3);
        assert_eq!(allowed["a.rs f: x"], "It is the same.");
        assert_eq!(allowed["a.rs f: y"], "It is the same.");
        assert_eq!(allowed["b.rs g: z"], "Other.");
    }

    #[test]
    fn a_reason_is_asked_for() {
        assert!(parse("a.rs f: x\n").is_err());
        assert!(parse("a.rs f: x\n    Why.\na.rs f: x\n    Why.\n").is_err());
    }
}
