//! Which module may know which: arrows between the modules of a crate point down.
//!
//! [`CRATES`] has the layers of each crate, lowest first, once. A module may use the
//! modules of the layers below its own, and nothing else of its crate. To place a new
//! module, add its name to a layer; to hold another crate to its layers, add a crate.

use std::fs;
use std::path::{Path, PathBuf};

/// A crate, and its modules in layers.
struct Crate {
    /// Where its sources are, from the root of the workspace.
    sources: &'static str,
    /// Its top-level modules, lowest layer first. Those of one layer do not know each
    /// other.
    layers: &'static [&'static [&'static str]],
    /// Modules that stand below, and yet are not to be known: who, whom, and why.
    apart: &'static [(
        &'static [&'static str],
        &'static [&'static str],
        &'static str,
    )],
}

/// The modules of core that the unit carries.
const ON_THE_UNIT: &[&str] = &[
    "asking",
    "belief",
    "bench",
    "dating",
    "inspection",
    "link",
    "log",
    "logic",
    "looking",
    "lookup",
    "pack",
    "piece",
    "plan",
    "record",
    "round",
    "sample",
    "shortlist",
    "survey",
    "weighing",
    "words",
    "work",
];

const CRATES: &[Crate] = &[
    Crate {
        sources: "core/src",
        layers: &[
            &[
                "handbook",
                "limits",
                "logarithm",
                "number",
                "slices",
                "sureness",
                "truth",
            ],
            &["pack"],
            &["piece"],
            &["belief", "logic"],
            &["inspection"],
            &["looking", "plan"],
            &["dating"],
            &["record"],
            &["log"],
            &["link"],
            &["sample"],
            &["asking", "words"],
            &["lookup", "round", "shortlist"],
            &["weighing", "work"],
            &["survey"],
            &["bench"],
        ],
        apart: &[
            (
                &["record", "log", "link"],
                &["belief", "logic", "inspection", "looking", "plan", "dating"],
                "what is kept and sent is the same whatever follows from it",
            ),
            (
                &["bench"],
                &["log", "link"],
                "the screen gives its notes to its caller, who keeps and sends them",
            ),
            (
                ON_THE_UNIT,
                &["handbook"],
                "the unit does without it: sums are for the host",
            ),
        ],
    },
    Crate {
        sources: "host/compile/src",
        layers: &[
            &["formula", "meaning", "numbers", "order", "room"],
            &["bytes", "circuit", "plans", "problem", "ties"],
            &["factor", "states"],
            &["placed", "places", "tables"],
            &["rules"],
            &["fitted", "limits"],
            &["network"],
            &["fragment", "ground"],
            &["assemble", "flat", "size", "tangle"],
            &["moments", "packing"],
            &["fit"],
            &["obtained"],
            &["built"],
            &["set_up"],
            &["check"],
        ],
        apart: &[],
    },
    Crate {
        sources: "host/language/src",
        layers: &[
            &["ink", "span"],
            &["files", "model", "token"],
            &["message", "words"],
            &["near", "render", "screen", "sums", "vocab"],
            &["input", "label", "spent"],
            &["number"],
            &["entry", "syntax"],
            &["grammar"],
            &["resolve"],
            &["answers"],
        ],
        apart: &[(
            &["words"],
            &["message"],
            "what the rules say is said back the same whether or not there are messages",
        )],
    },
    Crate {
        sources: "host/notes/src",
        layers: &[
            &["english", "reading", "slips", "stem"],
            &["lexicon", "scene", "token"],
            &["house", "line", "nearest"],
            &["measure", "mention"],
            &["meant"],
            &["candidate", "clause"],
            &["findings", "ordering", "piece", "praise", "sound"],
            &["spoken"],
            &["reader"],
        ],
        apart: &[],
    },
    Crate {
        sources: "host/job/src",
        layers: &[
            &["amount", "bounds", "day", "inside", "one_line", "worries"],
            &["limit", "plain"],
            &["hours", "record", "settings"],
            &["advice"],
            &["moments", "scripts"],
            &["house"],
            &["noting", "open_job"],
            &["papers"],
            &["limits"],
        ],
        apart: &[],
    },
    Crate {
        sources: "host/sums/src",
        layers: &[
            &["list", "shown", "unit", "worked"],
            &["trouble"],
            &["quantity"],
            &["named"],
            &[
                "dust", "fastener", "glue", "moisture", "movement", "shelf", "shellac", "solvent",
                "tipping",
            ],
            &["fall"],
            &["of_rules"],
        ],
        apart: &[],
    },
    Crate {
        sources: "host/device/src",
        layers: &[&["bench"], &["unit"]],
        apart: &[],
    },
];

impl Crate {
    fn folder(&self) -> PathBuf {
        Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("..")
            .join(self.sources)
    }

    fn layer(&self, module: &str) -> Option<usize> {
        self.layers.iter().position(|layer| layer.contains(&module))
    }

    /// Why a module may not use another; `None` if it may.
    fn objection(&self, from: &str, to: &str) -> Option<String> {
        if from == to {
            return None;
        }
        let Some(own) = self.layer(from) else {
            return Some(format!("`{from}` stands in no layer: add it to CRATES"));
        };
        let Some(other) = self.layer(to) else {
            return Some(format!(
                "`{to}` stands in no layer: add it to CRATES, or name the module that it is in"
            ));
        };
        if other >= own {
            return Some(format!(
                "`{from}` must not know `{to}`, which does not stand below it: \
                 move what both need to a layer below both"
            ));
        }
        self.apart
            .iter()
            .find(|(who, whom, _)| who.contains(&from) && whom.contains(&to))
            .map(|(_, _, why)| format!("`{from}` must not know `{to}`: {why}"))
    }
}

#[test]
fn no_module_knows_one_that_stands_above_it() {
    let mut objections = Vec::new();
    for one in CRATES {
        let folder = one.folder();
        for path in sources(&folder) {
            let module = module_path(&folder, &path);
            // The root names all its modules.
            let Some(from) = module.first() else { continue };
            let text = fs::read_to_string(&path).expect("the sources can be read");
            let shown = path.strip_prefix(&folder).unwrap_or(&path).display();
            for (line, to) in imports(&module, &text) {
                if let Some(why) = one.objection(from, &to) {
                    objections.push(format!("{}/{shown}, line {line}: {why}.", one.sources));
                }
            }
        }
    }
    assert!(objections.is_empty(), "\n{}\n", objections.join("\n"));
}

#[test]
fn every_module_stands_in_one_layer_and_every_name_is_a_module() {
    for one in CRATES {
        let folder = one.folder();
        let mut there: Vec<String> = sources(&folder)
            .iter()
            .filter_map(|path| module_path(&folder, path).first().cloned())
            .collect();
        there.sort();
        there.dedup();
        let mut placed: Vec<&str> = one.layers.concat();
        placed.sort_unstable();
        assert_eq!(there, placed, "the modules of {}, and CRATES", one.sources);
    }
}

/// Every source file under a folder.
fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("the folder is there") {
            let path = entry.expect("readable").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// The module that a file is, by its names from the root of the crate.
fn module_path(folder: &Path, file: &Path) -> Vec<String> {
    let inner = file.strip_prefix(folder).expect("a file of the folder");
    let mut names: Vec<String> = inner
        .with_extension("")
        .iter()
        .map(|name| name.to_string_lossy().into_owned())
        .collect();
    if matches!(
        names.last().map(String::as_str),
        Some("mod" | "lib" | "main")
    ) {
        names.pop();
    }
    names
}

/// The top-level modules that a source text names by a path from the root of the crate
/// (`crate::…`, `super::super::…`), with the line.
fn imports(module: &[String], text: &str) -> Vec<(usize, String)> {
    let tokens = tokens(text);
    let word = |at: usize| tokens.get(at).map_or("", |(_, word)| word.as_str());
    let mut found = Vec::new();
    // Modules written out within the file, with the depth of braces they begin at.
    let mut inner: Vec<usize> = Vec::new();
    let mut depth = 0;
    for at in 0..tokens.len() {
        match word(at) {
            "{" => {
                if at >= 2 && word(at - 2) == "mod" {
                    inner.push(depth);
                }
                depth += 1;
            }
            "}" => {
                depth = depth.saturating_sub(1);
                if inner.last() == Some(&depth) {
                    inner.pop();
                }
            }
            // Where a path begins.
            "crate" | "super" if at == 0 || word(at - 1) != "::" => {
                let mut next = at;
                let mut left = if word(at) == "crate" {
                    0
                } else {
                    module.len() + inner.len()
                };
                while word(next) == "super" || word(next) == "crate" {
                    left = left.saturating_sub(usize::from(word(next) == "super"));
                    next += 1;
                    if word(next) != "::" {
                        break;
                    }
                    next += 1;
                }
                if left == 0 && word(next - 1) == "::" {
                    first_names(&tokens, next, &mut found);
                }
            }
            _ => {}
        }
    }
    found
}

/// The name at a place of a path, or those of the group that stands there.
fn first_names(tokens: &[(usize, String)], at: usize, found: &mut Vec<(usize, String)>) {
    let Some((line, word)) = tokens.get(at) else {
        return;
    };
    if word != "{" {
        found.push((*line, word.clone()));
        return;
    }
    let mut depth = 0;
    let mut is_first = true;
    for (line, word) in tokens.iter().skip(at) {
        match word.as_str() {
            "{" => depth += 1,
            "}" => depth -= 1,
            "," if depth == 1 => is_first = true,
            name if depth == 1 && is_first => {
                found.push((*line, name.to_owned()));
                is_first = false;
            }
            _ => {}
        }
        if depth == 0 {
            return;
        }
    }
}

/// Words and marks of a source text with their lines; comments and what stands in
/// quotes are left out.
fn tokens(text: &str) -> Vec<(usize, String)> {
    let mut found: Vec<(usize, String)> = Vec::new();
    let (mut line, mut rest) = (1, text);
    while let Some(first) = rest.chars().next() {
        let is_word = |c: char| c.is_alphanumeric() || c == '_';
        let length = if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("/*") {
            rest.find("*/").map_or(rest.len(), |end| end + 2)
        } else if first == '"' {
            quoted(rest)
        } else if first == '\'' {
            // A character, or only the mark of a lifetime.
            let mut inner = rest.char_indices().skip(1);
            let escaped = inner.next().is_some_and(|(_, c)| c == '\\');
            let end = inner.nth(usize::from(escaped));
            match end {
                Some((at, '\'')) => at + 1,
                _ => 1,
            }
        } else if is_word(first) {
            let length = rest.find(|c| !is_word(c)).unwrap_or(rest.len());
            found.push((line, rest[..length].to_owned()));
            length
        } else if rest.starts_with("::") {
            found.push((line, "::".to_owned()));
            2
        } else {
            if !first.is_whitespace() {
                found.push((line, first.to_string()));
            }
            first.len_utf8()
        };
        line += rest[..length].matches('\n').count();
        rest = &rest[length..];
    }
    found
}

/// The length of what stands in quotes at the beginning, quotes included.
fn quoted(text: &str) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            '\\' if !escaped => escaped = true,
            '"' if !escaped => return at + 1,
            _ => escaped = false,
        }
    }
    text.len()
}

/// What a file of this module imports.
fn named(module: &str, text: &str) -> Vec<String> {
    let module: Vec<String> = module.split("::").map(str::to_owned).collect();
    let names = imports(&module, text).into_iter().map(|(_, name)| name);
    names.collect()
}

#[test]
fn imports_are_seen_however_they_are_written() {
    let one = "use crate::pack::{Form, Pack};\nfn f(x: &crate::piece::Piece) {}";
    assert_eq!(named("belief::held", one), ["pack", "piece"]);
    let grouped = "use crate::{pack::{Form, Pack}, piece, truth::Truth as T};";
    assert_eq!(named("belief", grouped), ["pack", "piece", "truth"]);
    let up = "use super::super::pack::Pack;\nuse super::{need, stake::Stake};";
    assert_eq!(named("belief::held", up), ["pack"]);
    let grouped_up = "use super::{pack, limits::MAX_DEPTH};";
    assert_eq!(named("belief", grouped_up), ["pack", "limits"]);
    let within = "mod tests { use super::super::pack; use super::need; }\nuse super::piece;";
    assert_eq!(named("belief", within), ["pack", "piece"]);
}

#[test]
fn comments_quotes_and_visibility_are_no_imports() {
    let text = r#"
        //! See [`crate::bench`].
        /* crate::bench */
        pub(crate) struct Reader<'a>(&'a str);
        pub(in crate::pack) fn f() -> char { '"' }
        const NAME: &str = "crate::bench \" crate::link";
        const QUOTE: char = '\'';
    "#;
    assert_eq!(named("pack::condition", text), ["pack"]);
}

#[test]
fn an_arrow_that_runs_up_is_told_in_a_sentence() {
    let core = &CRATES[0];
    assert_eq!(
        core.objection("pack", "piece").as_deref(),
        Some(
            "`pack` must not know `piece`, which does not stand below it: \
             move what both need to a layer below both"
        )
    );
    assert_eq!(core.objection("piece", "pack"), None);
    assert!(core.objection("looking", "plan").is_some());
    assert!(core.objection("log", "inspection").is_some());
    assert!(core.objection("pack", "nowhere").is_some());
}
