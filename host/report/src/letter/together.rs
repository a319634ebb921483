//! Parts named together: "screws 1 and 3 of hinge 1 of door 2".

use super::Gathering;
use tellmark_language::model::KindId;
use tellmark_language::vocab::plural;
use tellmark_language::words::list;

/// "screws 1, 2 and 4 of hinge 1 of door 2", "the left and the right runner of drawer 2": parts of
/// one thing are named once. `kinds` are what one of each sort is called, and several: legs and
/// stretchers may stand in one list.
pub(super) fn together(names: &[String], kinds: &[(&str, &str)]) -> String {
    // What they are of, the noun, and which of them, each by its number or by its name.
    let mut runs: Vec<(&str, &str, Vec<&str>)> = Vec::new();
    for name in names {
        let (head, of) = name.split_at(name.find(" of ").unwrap_or(name.len()));
        let (before, last) = head.rsplit_once(' ').unwrap_or(("", head));
        let ends = kinds.iter().filter_map(|&(kind, _)| {
            let before = head.strip_suffix(kind)?;
            (before.is_empty() || before.ends_with(' ')).then_some((kind, before.trim_end()))
        });
        // A "table leg" is no "leg" with "back left table" before it.
        let (noun, which) = match ends.max_by_key(|(kind, _)| kind.len()) {
            _ if is_number(last) => (before, last),
            Some(ends) => ends,
            None => (last, before),
        };
        let mut known = runs.iter_mut();
        let is_same = |run: &&mut (&str, &str, Vec<&str>)| {
            let alike = run.2.iter().all(|one| is_number(one) == is_number(which));
            (run.0, run.1) == (of, noun) && alike
        };
        match known.find(is_same) {
            Some(run) => run.2.push(which),
            None => runs.push((of, noun, vec![which])),
        }
    }
    let several = |noun: &str| match kinds.iter().find(|(kind, _)| *kind == noun) {
        Some((_, several)) => (*several).to_owned(),
        None => plural(noun),
    };
    let said = runs
        .into_iter()
        .map(|(of, noun, which)| match which.as_slice() {
            [""] => format!("{noun}{of}"),
            [number] if is_number(number) => format!("{noun} {number}{of}"),
            [number, ..] if is_number(number) => format!("{} {}{of}", several(noun), list(&which)),
            names => format!("{} {noun}{of}", list(names)),
        });
    list(&said.collect::<Vec<_>>())
}

/// What one of each sort of these parts is called, and several.
pub(super) fn all_called<'g>(
    g: &'g Gathering<'_>,
    parts: impl Iterator<Item = usize>,
) -> Vec<(&'g str, &'g str)> {
    let mut all: Vec<(&str, &str)> = Vec::new();
    for part in parts {
        let one = called(g, g.kind_of(part));
        if !all.contains(&one) {
            all.push(one);
        }
    }
    all
}

/// What one of a kind is called, and several.
pub(super) fn called<'g>(g: &'g Gathering<'_>, kind: KindId) -> (&'g str, &'g str) {
    let kind = g.matter.model().kinds.get(kind.index());
    kind.map_or(("", ""), |kind| (kind.name.as_str(), kind.plural.as_str()))
}

fn is_number(word: &str) -> bool {
    word.parse::<u32>().is_ok()
}

#[cfg(test)]
mod tests {
    use super::together;

    #[test]
    fn numbered_parts_of_one_thing_are_named_once() {
        let named = |names: &[&str]| {
            let names: Vec<String> = names.iter().map(|&name| name.to_owned()).collect();
            together(&names, &[("foot", "feet"), ("table leg", "table legs")])
        };
        assert_eq!(
            named(&["foot 1 of the base", "foot 4 of the base"]),
            "feet 1 and 4 of the base"
        );
        assert_eq!(
            named(&["the left front foot", "the right front foot"]),
            "the left front and the right front foot"
        );
        assert_eq!(
            named(&[
                "screw 1 of hinge 1 of door 2",
                "screw 3 of hinge 1 of door 2"
            ]),
            "screws 1 and 3 of hinge 1 of door 2"
        );
        assert_eq!(
            named(&["drawer 1", "drawer 2", "the left leaf", "drawer 4"]),
            "drawers 1, 2 and 4 and the left leaf"
        );
        assert_eq!(
            named(&[
                "the left runner of drawer 2",
                "the right runner of drawer 2"
            ]),
            "the left and the right runner of drawer 2"
        );
        assert_eq!(
            named(&[
                "the back left table leg of the frame",
                "the back right table leg of the frame",
                "the left stretcher of the frame"
            ]),
            "the back left and the back right table leg of the frame and the left stretcher of the \
             frame"
        );
        assert_eq!(
            named(&["screw 1 of hinge 1", "screw 1 of hinge 2"]),
            "screw 1 of hinge 1 and screw 1 of hinge 2"
        );
    }
}
