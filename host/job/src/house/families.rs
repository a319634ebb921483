//! Families of pieces: standard rules beside those for chests and tables, which are read
//! only where a piece needs them.
//!
//! Each is a file of `rules/families`. It uses the words of the standard rules and is used by
//! none of them, nor by another family, so it can be left out: a job about a chest reads none,
//! and a bench unit carries those that it has room for.

use super::ENDING;
use tellmark_language::SourceFile;

/// Every family, file name and text, sorted by name.
const FAMILIES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/families.rs"));

/// Which families are read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Families {
    /// Every one.
    #[default]
    All,
    /// Those with these names; none of that name is an error of whoever asks.
    These(Vec<String>),
}

impl Families {
    /// Those that a piece needs, by its name in a job ("side chair with 4 legs"). All of them
    /// if none has it, nor the standard rules: then nobody knows.
    #[must_use]
    pub fn of_piece(piece: &str) -> Self {
        let name = piece.split(" with ").next().unwrap_or_default().trim();
        let has_it = |text: &str| pieces(text).iter().any(|one| one == name);
        if super::STANDARD.iter().any(|(_, text)| has_it(text)) {
            return Families::These(Vec::new());
        }
        let with_it: Vec<String> = FAMILIES
            .iter()
            .filter(|(_, text)| has_it(text))
            .map(|(file, _)| family(file).to_owned())
            .collect();
        match with_it.is_empty() {
            true => Families::All,
            false => Families::These(with_it),
        }
    }

    /// As a user names them: "all", "none", or names with commas between them.
    ///
    /// # Errors
    /// The name that is none.
    pub fn named(text: &str) -> Result<Self, String> {
        let names = text.split(',').map(|name| name.trim().to_lowercase());
        let names: Vec<String> = names.filter(|name| !name.is_empty()).collect();
        match names.as_slice() {
            [all] if all == "all" => return Ok(Families::All),
            [none] if none == "none" => return Ok(Families::These(Vec::new())),
            _ => {}
        }
        match names
            .iter()
            .find(|name| !Self::names().contains(&name.as_str()))
        {
            Some(none) => Err(none.clone()),
            None => Ok(Families::These(names)),
        }
    }

    /// What every family is called.
    #[must_use]
    pub fn names() -> Vec<&'static str> {
        FAMILIES.iter().map(|(file, _)| family(file)).collect()
    }

    /// Their files.
    pub(super) fn files(&self) -> impl Iterator<Item = SourceFile> + '_ {
        let is_asked = |name: &str| match self {
            Families::All => true,
            Families::These(names) => names.iter().any(|one| one == family(name)),
        };
        let files = FAMILIES.iter().filter(move |(name, _)| is_asked(name));
        files.map(|(name, text)| SourceFile {
            name: format!("{}{name}", SourceFile::FAMILIES),
            text: (*text).to_owned(),
            standard: true,
        })
    }
}

fn family(file: &str) -> &str {
    file.strip_suffix(ENDING).unwrap_or(file)
}

/// The pieces that a text of ours declares: after `Pieces:`, and before `is a kind of`.
fn pieces(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let lines: Vec<&str> = text.lines().collect();
    for (at, line) in lines.iter().enumerate() {
        if let Some(first) = line.strip_prefix("Pieces:") {
            let more = lines[at + 1..].iter();
            let more = more.take_while(|line| line.starts_with(char::is_whitespace));
            let all: Vec<&str> = std::iter::once(first).chain(more.copied()).collect();
            let all = all.join(" ");
            let names = all.trim().trim_end_matches('.').split(',');
            let names = names.map(|name| name.split('(').next().unwrap_or_default().trim());
            found.extend(names.map(str::to_owned));
        }
        if let Some((kind, _)) = line.split_once(" is a kind of ") {
            let kind = kind.strip_prefix("An ").or_else(|| kind.strip_prefix("A "));
            found.extend(kind.map(str::to_owned));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// The pieces of rules, as the language reads them.
    fn read(families: &Families) -> BTreeSet<String> {
        let mut files = super::super::standard();
        files.extend(families.files());
        let reading = tellmark_language::read(files);
        let kinds = reading.model.kinds.into_iter().skip(1);
        kinds
            .filter(|kind| kind.is_piece)
            .map(|kind| kind.name)
            .collect()
    }

    #[test]
    fn every_piece_brings_its_family_and_no_other() {
        let none = Families::These(Vec::new());
        for piece in read(&none) {
            assert_eq!(Families::of_piece(&piece), none, "{piece}");
        }
        for name in Families::names() {
            let family = Families::These(vec![name.to_owned()]);
            let (with, without) = (read(&family), read(&none));
            let own: Vec<&String> = with.difference(&without).collect();
            assert!(!own.is_empty(), "{name} has no piece");
            for piece in own {
                assert_eq!(
                    Families::of_piece(&format!("{piece} with 4 drawers")),
                    family
                );
            }
        }
    }

    #[test]
    fn families_are_named_as_a_user_writes_them() {
        assert_eq!(Families::named("all"), Ok(Families::All));
        assert_eq!(Families::named("None"), Ok(Families::These(Vec::new())));
        assert_eq!(Families::named("spoons"), Err("spoons".to_owned()));
    }
}
