//! Lines of the record that tell of papers and money: a paper that was kept, what its
//! owner answered, what was paid.

use std::fmt;

/// What sort of paper it is.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[serde(rename_all = "lowercase")]
pub enum PaperKind {
    /// What the work will take and cost.
    Estimate,
    /// What is new against what was agreed.
    Supplement,
    /// What is to be paid.
    Invoice,
    /// It takes an invoice back.
    Credit,
}

impl PaperKind {
    const NAMES: [(PaperKind, &'static str); 4] = [
        (PaperKind::Estimate, "estimate"),
        (PaperKind::Supplement, "supplement"),
        (PaperKind::Invoice, "invoice"),
        (PaperKind::Credit, "credit"),
    ];

    /// "estimate", "supplement", "invoice", "credit".
    #[must_use]
    pub fn name(self) -> &'static str {
        let named = PaperKind::NAMES.iter().find(|(kind, _)| *kind == self);
        named.map_or("", |(_, name)| name)
    }

    /// The kind of that name.
    #[must_use]
    pub fn of_name(name: &str) -> Option<PaperKind> {
        let named = PaperKind::NAMES.iter().find(|(_, n)| *n == name);
        named.map(|(kind, _)| *kind)
    }

    /// Whether its numbers run through the year, over all jobs, and not job by job.
    #[must_use]
    pub fn is_of_the_year(self) -> bool {
        matches!(self, PaperKind::Invoice | PaperKind::Credit)
    }
}

/// What a paper is called: "estimate 1", "invoice 2026-007".
///
/// Estimates and supplements of a job are numbered together, and so are the invoices and
/// credits of a year.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
pub struct PaperName {
    /// What sort of paper it is.
    pub kind: PaperKind,
    /// Its year, if it is numbered by the year.
    pub year: Option<i16>,
    /// Its number, from 1.
    pub number: u32,
}

impl PaperName {
    /// Reads "estimate 1".
    #[must_use]
    pub fn read(text: &str) -> Option<PaperName> {
        let text = text.trim().to_lowercase();
        let (kind, number) = text.split_once(char::is_whitespace)?;
        PaperName::of(PaperKind::of_name(kind)?, number)
    }

    /// The paper of this kind with this number: "1", "2026-007".
    #[must_use]
    pub fn of(kind: PaperKind, number: &str) -> Option<PaperName> {
        let (year, number) = match (kind.is_of_the_year(), number.trim().split_once('-')) {
            (true, Some((year, number))) => (Some(year.parse().ok()?), number),
            (false, None) => (None, number.trim()),
            _ => return None,
        };
        let number = number.parse().ok().filter(|number| *number > 0)?;
        Some(PaperName { kind, year, number })
    }

    /// "1", "2026-007".
    #[must_use]
    pub fn figures(&self) -> String {
        match self.year {
            Some(year) => format!("{year}-{:03}", self.number),
            None => self.number.to_string(),
        }
    }

    /// The name of its file in the folder of papers: "estimate-1.txt".
    #[must_use]
    pub fn file(&self) -> String {
        format!("{}-{}.txt", self.kind.name(), self.figures())
    }

    /// The paper of a file of that name.
    #[must_use]
    pub fn of_file(file: &str) -> Option<PaperName> {
        let (kind, number) = file.strip_suffix(".txt")?.split_once('-')?;
        let name = PaperName::of(PaperKind::of_name(kind)?, number)?;
        (name.file() == file).then_some(name)
    }
}

impl fmt::Display for PaperName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.kind.name(), self.figures())
    }
}

/// `estimate: 1; checksum 8f3a1c22; 712.23 crowns for certain`: a paper that stays, in the
/// folder of papers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptPaper {
    /// What it is called.
    pub name: PaperName,
    /// The sum of its bytes, by which it is seen that they are the same still.
    pub checksum: u32,
    /// What it says, in short.
    pub words: String,
}

/// `answer: estimate 1; yes; up to 900; by letter`: what the owner said to a paper. What is
/// said of single jobs stands in lines of their own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The paper.
    pub paper: PaperName,
    /// Whether the owner said yes.
    pub yes: bool,
    /// Up to this sum only, in the paper's money: "900", "900.00"; may be empty.
    pub up_to: String,
    /// How and why; may be empty.
    pub words: String,
}

/// `paid: 250.00; by transfer`: what the owner paid; `paid back: …`: what they were given
/// back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Payment {
    /// How much, in the money of the house's prices: "250.00".
    pub amount: String,
    /// It was given back.
    pub back: bool,
    /// How; may be empty.
    pub how: String,
}

/// Sums by which a paper is known again.
const SUM: crc::Crc<u32> = crc::Crc::<u32>::new(&crc::CRC_32_ISO_HDLC);

/// The sum of some bytes.
#[must_use]
pub fn checksum(bytes: &[u8]) -> u32 {
    SUM.checksum(bytes)
}

impl KeptPaper {
    /// What stands after the label of such a line.
    pub(super) fn read(kind: PaperKind, rest: &str) -> Option<KeptPaper> {
        let (number, rest) = rest.split_once(';')?;
        let (sum, words) = rest.split_once(';').unwrap_or((rest, ""));
        let sum = sum.trim().strip_prefix("checksum ")?;
        Some(KeptPaper {
            name: PaperName::of(kind, number)?,
            checksum: u32::from_str_radix(sum, 16).ok()?,
            words: words.trim().to_owned(),
        })
    }

    pub(super) fn fields(&self) -> Vec<String> {
        let sum = format!("checksum {:08x}", self.checksum);
        vec![self.name.figures(), sum, self.words.clone()]
    }
}

impl Answer {
    pub(super) fn read(rest: &str) -> Option<Answer> {
        let (paper, rest) = rest.split_once(';')?;
        let (yes, rest) = rest.split_once(';').unwrap_or((rest, ""));
        let (up_to, words) = match rest.trim().strip_prefix("up to ") {
            Some(rest) => rest.split_once(';').unwrap_or((rest, "")),
            None => ("", rest),
        };
        Some(Answer {
            paper: PaperName::read(paper)?,
            yes: match yes.trim() {
                "yes" => true,
                "no" => false,
                _ => return None,
            },
            up_to: up_to.trim().to_owned(),
            words: words.trim().to_owned(),
        })
    }

    pub(super) fn fields(&self) -> Vec<String> {
        let yes = if self.yes { "yes" } else { "no" };
        let mut fields = vec![self.paper.to_string(), yes.to_owned()];
        if !self.up_to.is_empty() {
            fields.push(format!("up to {}", self.up_to));
        }
        fields.push(self.words.clone());
        fields
    }
}

impl Payment {
    pub(super) fn read(back: bool, rest: &str) -> Option<Payment> {
        let (amount, how) = rest.split_once(';').unwrap_or((rest, ""));
        let amount = amount.trim().to_owned();
        (!amount.is_empty()).then(|| Payment {
            amount,
            back,
            how: how.trim().to_owned(),
        })
    }

    pub(super) fn fields(&self) -> Vec<String> {
        vec![self.amount.clone(), self.how.clone()]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_paper_is_known_by_its_file() {
        for (file, said) in [
            ("estimate-1.txt", Some("estimate 1")),
            ("supplement-12.txt", Some("supplement 12")),
            ("invoice-2026-007.txt", Some("invoice 2026-007")),
            ("credit-2026-1000.txt", Some("credit 2026-1000")),
            ("estimate-01.txt", None),
            ("estimate-0.txt", None),
            ("estimate-2026-001.txt", None),
            ("invoice-7.txt", None),
            ("invoice-2026-07.txt", None),
            ("letter-1.txt", None),
        ] {
            let name = PaperName::of_file(file);
            assert_eq!(name.map(|n| n.to_string()).as_deref(), said, "{file}");
            if let Some(said) = said {
                assert_eq!(PaperName::read(said), name);
            }
        }
    }
}
