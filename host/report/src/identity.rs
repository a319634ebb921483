//! What the piece is, who says so, and by which rules it was judged.

use super::matter::Matter;
use super::when::day;
use serde::Serialize;
use tellmark_job::record::Says;
use tellmark_language::model::Found;
use tellmark_language::words::{self, capital};

/// A line of `job.txt`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Label {
    /// Before the colon, with a capital.
    pub label: String,
    /// After it.
    pub text: String,
}

/// What the piece is, and by what it was judged.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Identity {
    /// "Chest of drawers with 4 drawers".
    pub piece: String,
    /// The name of the job's folder.
    pub job: String,
    /// When the job was opened; may be empty.
    pub opened: String,
    /// The day of the report.
    pub written: String,
    /// Everything else that `job.txt` says.
    pub labels: Vec<Label>,
    /// Fields of a condition record that nobody filled in.
    pub blank: Vec<String>,
    /// Title of the rules.
    pub rules: String,
    /// Their version.
    pub rules_version: u32,
    /// Title and version of the rules that the job was opened under, if they were others.
    pub opened_under: String,
    /// The checksum of the compiled rules.
    pub pack: String,
    /// This program's version.
    pub program: String,
}

/// Fields of a condition record (after EN 16095:2012) that only a person can fill in,
/// each with the labels in `job.txt` that do.
const FIELDS: [(&str, &[&str]); 15] = [
    (
        "number of the object",
        &["number", "inventory number", "object number"],
    ),
    ("maker", &["maker"]),
    (
        "place of making",
        &["place of making", "made in", "made at"],
    ),
    (
        "dimensions",
        &["dimensions", "size", "height", "width", "depth", "length"],
    ),
    ("weight", &["weight"]),
    (
        "marks and inscriptions",
        &["marks", "mark", "inscriptions", "stamp", "label"],
    ),
    ("owner", &["owner"]),
    (
        "where it is kept",
        &["location", "kept at", "kept in", "shelf"],
    ),
    (
        "climate where it is kept",
        &["climate", "humidity", "temperature"],
    ),
    ("purpose of the report", &["purpose", "reason"]),
    ("examiner", &["examiner", "examined by"]),
    ("light used", &["light"]),
    (
        "earlier treatment",
        &["earlier treatment", "earlier treatments", "history"],
    ),
    (
        "class of condition",
        &["condition", "condition class", "class of condition"],
    ),
    ("urgency", &["urgency"]),
];

/// Words of a note that make it one of what a field is about; a word that ends in "…" is any that
/// begins so.
const NOTED: [(&str, &[&str]); 2] = [
    (
        "marks and inscriptions",
        &[
            "stamp…",
            "label…",
            "inscri…",
            "signed",
            "signature…",
            "initial…",
            "cipher…",
            "branded",
        ],
    ),
    (
        "earlier treatment",
        &[
            "treated",
            "repair…",
            "restored",
            "reglued",
            "refinished",
            "revarnished",
            "replaced",
            "mended",
            "earlier",
        ],
    ),
];

/// What was noted of the piece that belongs in a field, each with its line: "the top: stamped JW
/// (line 25)".
fn noted_of(matter: &Matter<'_>, field: &str) -> Vec<String> {
    let known = NOTED.iter().find(|(known, _)| *known == field);
    let Some((_, wanted)) = known else {
        return Vec::new();
    };
    let is_one = |word: &str| {
        wanted.iter().any(|wanted| match wanted.strip_suffix('…') {
            Some(begin) => word.starts_with(begin),
            None => word == *wanted,
        })
    };
    let is_of_it = |said: &str| {
        let words = said.split(|letter: char| !letter.is_alphanumeric());
        words.map(str::to_lowercase).any(|word| is_one(&word))
    };
    let findings = matter
        .found
        .findings
        .iter()
        .filter(|finding| !matches!(finding.fact.found, Found::State { yes: false, .. }));
    let findings = findings.map(|finding| {
        let said = words::fact_line(matter.model(), &finding.fact);
        (finding.number, said)
    });
    let remarks = matter.job().entries().iter().filter_map(|entry| {
        let Says::Remark(remark) = &entry.says else {
            return None;
        };
        let said = match remark.words.contains(&remark.part) || remark.part == "the piece" {
            true => remark.words.clone(),
            false => format!("{}: {}", remark.part, remark.words),
        };
        Some((entry.number, said))
    });
    let mut noted: Vec<(usize, String)> = findings.chain(remarks).collect();
    noted.retain(|(_, said)| is_of_it(said));
    noted.sort_by_key(|(line, _)| *line);
    noted
        .into_iter()
        .map(|(line, said)| format!("{said} (line {line})"))
        .collect()
}

pub(super) fn identity(matter: &Matter<'_>) -> Identity {
    let header = matter.job().header();
    let manifest = matter.view.pack.manifest();
    let has = |label: &str| header.other.iter().any(|(l, _)| l.to_lowercase() == label);
    let open = FIELDS
        .iter()
        .filter(|(_, labels)| !labels.iter().any(|label| has(label)));
    // What nobody wrote into `job.txt` may have been noted of the piece.
    let (noted, blank): (Vec<_>, Vec<_>) = open
        .map(|(field, _)| (*field, noted_of(matter, field)))
        .partition(|(_, noted)| !noted.is_empty());
    let noted = noted.into_iter().map(|(field, noted)| Label {
        label: capital(field),
        text: noted.join("; "),
    });
    let house = header.house.as_deref().unwrap_or_default();
    let these = matter.view.open.house();
    let is_these = house == these || house == manifest.title;
    let same = is_these && header.version.unwrap_or(0) == manifest.version;
    let folder = matter.job().folder();
    let folder = std::path::absolute(folder).unwrap_or_else(|_| folder.to_owned());
    Identity {
        piece: capital(&words::piece_order(matter.model(), &matter.view.open.order)),
        job: folder
            .file_name()
            .map_or_else(String::new, |name| name.to_string_lossy().into_owned()),
        opened: header.opened.map_or_else(String::new, |t| day(t.date())),
        written: day(matter.today()),
        labels: header
            .other
            .iter()
            .map(|(label, text)| Label {
                label: capital(label),
                text: text.clone(),
            })
            .chain(noted)
            .collect(),
        blank: blank
            .into_iter()
            .map(|(field, _)| field.to_owned())
            .collect(),
        rules: these,
        rules_version: manifest.version,
        opened_under: match header.version {
            _ if same || house.is_empty() => String::new(),
            Some(version) => format!("{house}, version {version}"),
            None => house.to_owned(),
        },
        pack: format!("{:08x}", matter.view.pack.id()),
        program: env!("CARGO_PKG_VERSION").to_owned(),
    }
}
