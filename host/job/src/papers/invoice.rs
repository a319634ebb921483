//! An invoice: what was done, at prices that were agreed or by the hours, with tax and what
//! was paid; and the credit that takes one back.

use super::estimate::{folder_name, to_the_minute};
use super::parties::Parties;
use super::text::{LAYOUT, Labelled, TextError, as_minute, as_said, minute};
use crate::record::{Job, NewPaper, PaperKind, PaperName, PaperTrouble};
use crate::scripts::{Charge, as_text};
use jiff::civil::{Date, DateTime};
use rust_decimal::Decimal;
use serde::Serialize;
use tellmark_language::words::money;

/// A line of an invoice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct InvoiceLine {
    /// What is charged.
    #[serde(with = "as_text")]
    pub amount: Decimal,
    /// What it is for.
    pub text: String,
    /// The lines of the record that say that it was done; none for a line of the whole.
    pub ticks: Vec<usize>,
    /// The paper in which it was agreed, and the numbers of the jobs there.
    pub agreed: Option<(PaperName, Vec<usize>)>,
}

/// A tax of an invoice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct TaxLine {
    /// What is added.
    #[serde(with = "as_text")]
    pub amount: Decimal,
    /// Of a hundred.
    #[serde(with = "as_text")]
    pub percent: Decimal,
    /// What it is called.
    pub text: String,
}

/// An invoice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Invoice {
    /// What it is called; the number is given when it is kept.
    pub name: Option<PaperName>,
    /// When it was written, to the minute.
    #[serde(serialize_with = "as_minute")]
    pub written: DateTime,
    /// The name of the job's folder.
    pub job: String,
    /// The piece.
    pub piece: String,
    /// Between whom it is.
    pub parties: Parties,
    /// By when it is to be paid.
    #[serde(serialize_with = "as_said")]
    pub pay_by: Date,
    /// The house's currency, as it writes it.
    pub currency: String,
    /// By what it is made.
    pub by: Charge,
    /// The lines.
    pub lines: Vec<InvoiceLine>,
    /// Their sum.
    #[serde(with = "as_text")]
    pub net: Decimal,
    /// Taxes on that sum.
    pub taxes: Vec<TaxLine>,
    /// Sum and taxes.
    #[serde(with = "as_text")]
    pub total: Decimal,
    /// What was paid before, and is taken off here.
    #[serde(with = "as_text")]
    pub paid: Decimal,
    /// What is to be paid.
    #[serde(with = "as_text")]
    pub to_pay: Decimal,
    /// What was paid over and above, and is the owner's.
    #[serde(with = "as_text")]
    pub too_much: Decimal,
    /// How to pay.
    pub how_to_pay: Vec<String>,
    /// What else it says.
    pub notes: Vec<String>,
    /// The last line of the record that was gone by.
    pub line: usize,
}

impl Invoice {
    /// "845.00 marks in all, 595.00 to pay".
    #[must_use]
    pub fn in_short(&self) -> String {
        format!(
            "{} {} in all, {} to pay",
            money(&self.total.to_string()),
            self.currency,
            money(&self.to_pay.to_string())
        )
    }

    /// The paper under this name, ready to be kept.
    #[must_use]
    pub fn to_paper(&self, name: PaperName) -> NewPaper {
        let named = Invoice {
            name: Some(name),
            ..self.clone()
        };
        NewPaper {
            text: named.to_text(name),
            words: named.in_short(),
        }
    }

    /// An invoice of a job, if it is as it was written.
    ///
    /// # Errors
    /// See [`PaperTrouble`].
    pub fn read(job: &Job, name: PaperName) -> Result<Invoice, PaperTrouble> {
        let text = job.paper_text(name)?;
        let read = Labelled::read(&text).and_then(|text| Invoice::from_text(&text));
        read.map_err(|why| PaperTrouble::NotUnderstood(name, why.to_string()))
    }

    fn to_text(&self, name: PaperName) -> String {
        let never = "This paper is never changed. A credit with a number of its own takes it back.";
        let mut text = Labelled::paper(name, &self.piece, never, &self.in_short());
        text.line("written", &minute(self.written));
        text.line("job", &self.job);
        text.line("piece", &self.piece);
        self.parties.write(&mut text);
        text.line("pay by", &self.pay_by.to_string());
        text.line("money", &self.currency);
        let by = match self.by {
            Charge::Agreed => "agreed",
            Charge::Hours => "hours",
        };
        text.line("charged by", by);
        let amount = |amount: Decimal| money(&amount.to_string());
        let lines = self.lines.iter().map(|line| {
            let said = format!("{}; {}; {}", amount(line.amount), line.from(), line.text);
            ("line", said)
        });
        let net = ("sum", amount(self.net));
        text.section("What was done", lines.chain([net]));
        let taxes = self.taxes.iter().map(|tax| {
            let said = format!(
                "{}; {} of 100; {}",
                amount(tax.amount),
                tax.percent,
                tax.text
            );
            ("tax", said)
        });
        text.section(
            "What it comes to",
            taxes.chain([
                ("in all", amount(self.total)),
                ("paid already", amount(self.paid)),
                ("to pay", amount(self.to_pay)),
                ("paid too much", amount(self.too_much)),
            ]),
        );
        let said = |said: &String| said.clone();
        text.section(
            "How to pay",
            self.how_to_pay.iter().map(|s| ("how to pay", said(s))),
        );
        text.section("Notes", self.notes.iter().map(|s| ("note", said(s))));
        let line = ("record", format!("up to line {}", self.line));
        text.section("What this rests on", [line]);
        text.finish()
    }

    fn from_text(text: &Labelled) -> Result<Invoice, TextError> {
        text.must_be("layout", LAYOUT)?;
        let amount = |label: &str| text.amount(label, text.one(label)?);
        let owned = |label| text.all(label).map(str::to_owned).collect();
        let line = text
            .one("record")?
            .strip_prefix("up to line ")
            .unwrap_or("");
        Ok(Invoice {
            name: Some(text.name("paper", text.one("paper")?)?),
            written: text.minute("written")?,
            job: text.one("job")?.to_owned(),
            piece: text.one("piece")?.to_owned(),
            parties: Parties::read(text),
            pay_by: text.parsed("pay by", text.one("pay by")?)?,
            currency: text.one("money")?.to_owned(),
            by: match text.one("charged by")? {
                "agreed" => Charge::Agreed,
                "hours" => Charge::Hours,
                _ => return Err(text.wrong("charged by")),
            },
            lines: text
                .all("line")
                .map(|said| invoice_line(text, said))
                .collect::<Result<_, _>>()?,
            net: amount("sum")?,
            taxes: text
                .all("tax")
                .map(|said| tax_line(text, said))
                .collect::<Result<_, _>>()?,
            total: amount("in all")?,
            paid: amount("paid already")?,
            to_pay: amount("to pay")?,
            too_much: amount("paid too much")?,
            how_to_pay: owned("how to pay"),
            notes: owned("note"),
            line: text.parsed("record", line)?,
        })
    }
}

impl InvoiceLine {
    /// "estimate 1, jobs 3 and 4; lines 12 and 14", for the paper.
    fn from(&self) -> String {
        let numbers = |numbers: &[usize]| {
            let numbers: Vec<String> = numbers.iter().map(usize::to_string).collect();
            numbers.join(" ")
        };
        let agreed = match &self.agreed {
            Some((name, jobs)) if jobs.is_empty() => name.to_string(),
            Some((name, jobs)) => format!("{name}, job {}", numbers(jobs)),
            None => String::new(),
        };
        let ticks = match self.ticks.is_empty() {
            true => String::new(),
            false => format!("record {}", numbers(&self.ticks)),
        };
        format!("{agreed}; {ticks}")
    }
}

fn invoice_line(text: &Labelled, said: &str) -> Result<InvoiceLine, TextError> {
    let fields: Vec<&str> = said.splitn(4, ';').map(str::trim).collect();
    let field = |at: usize| fields.get(at).copied().unwrap_or("");
    let numbers = |said: &str| -> Result<Vec<usize>, TextError> {
        let numbers = said.split_whitespace();
        numbers.map(|number| text.parsed("line", number)).collect()
    };
    let agreed = match field(1) {
        "" => None,
        agreed => {
            let (name, jobs) = agreed.split_once(", job ").unwrap_or((agreed, ""));
            Some((text.name("line", name)?, numbers(jobs)?))
        }
    };
    Ok(InvoiceLine {
        amount: text.amount("line", field(0))?,
        agreed,
        ticks: numbers(field(2).strip_prefix("record ").unwrap_or(""))?,
        text: field(3).to_owned(),
    })
}

fn tax_line(text: &Labelled, said: &str) -> Result<TaxLine, TextError> {
    let fields: Vec<&str> = said.splitn(3, ';').map(str::trim).collect();
    let field = |at: usize| fields.get(at).copied().unwrap_or("");
    Ok(TaxLine {
        amount: text.amount("tax", field(0))?,
        percent: text.parsed("tax", field(1).strip_suffix(" of 100").unwrap_or(""))?,
        text: field(2).to_owned(),
    })
}

/// A credit: it takes an invoice back, whole.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Credit {
    /// What it is called; the number is given when it is kept.
    pub name: Option<PaperName>,
    /// The invoice that it takes back.
    pub of: PaperName,
    /// When it was written, to the minute.
    #[serde(serialize_with = "as_minute")]
    pub written: DateTime,
    /// The name of the job's folder.
    pub job: String,
    /// The piece.
    pub piece: String,
    /// Between whom it is.
    pub parties: Parties,
    /// The house's currency, as it writes it.
    pub currency: String,
    /// What the invoice came to in all, tax and all.
    #[serde(with = "as_text")]
    pub total: Decimal,
    /// Why; may be empty.
    pub because: String,
}

impl Credit {
    /// A credit for an invoice of this job.
    #[must_use]
    pub fn of(invoice: &Invoice, of: PaperName, job: &Job, now: DateTime, because: &str) -> Credit {
        Credit {
            name: None,
            of,
            written: to_the_minute(now),
            job: folder_name(job),
            piece: invoice.piece.clone(),
            parties: invoice.parties.clone(),
            currency: invoice.currency.clone(),
            total: invoice.total,
            because: because.to_owned(),
        }
    }

    /// "takes back invoice 2026-007, 845.00 marks".
    #[must_use]
    pub fn in_short(&self) -> String {
        let total = money(&self.total.to_string());
        format!("takes back {}, {total} {}", self.of, self.currency)
    }

    /// The paper under this name, ready to be kept.
    #[must_use]
    pub fn to_paper(&self, name: PaperName) -> NewPaper {
        let never = "This paper is never changed.";
        let mut text = Labelled::paper(name, &self.piece, never, &self.in_short());
        text.line("written", &minute(self.written));
        text.line("job", &self.job);
        text.line("piece", &self.piece);
        self.parties.write(&mut text);
        text.line("takes back", &self.of.to_string());
        text.line("in all", &money(&self.total.to_string()));
        text.line("money", &self.currency);
        if !self.because.is_empty() {
            text.line("because", &self.because);
        }
        NewPaper {
            text: text.finish(),
            words: self.in_short(),
        }
    }

    /// A credit of a job, if it is as it was written.
    ///
    /// # Errors
    /// See [`PaperTrouble`].
    pub fn read(job: &Job, name: PaperName) -> Result<Credit, PaperTrouble> {
        let text = job.paper_text(name)?;
        let read = Labelled::read(&text).and_then(|text| {
            text.must_be("layout", LAYOUT)?;
            Ok(Credit {
                name: Some(text.name("paper", text.one("paper")?)?),
                of: text.name("takes back", text.one("takes back")?)?,
                written: text.minute("written")?,
                job: text.one("job")?.to_owned(),
                piece: text.one("piece")?.to_owned(),
                parties: Parties::read(&text),
                currency: text.one("money")?.to_owned(),
                total: text.amount("in all", text.one("in all")?)?,
                because: text.one_if_there("because").unwrap_or("").to_owned(),
            })
        });
        read.map_err(|why| PaperTrouble::NotUnderstood(name, why.to_string()))
    }
}

/// The invoices of a job that were not taken back, and the credits.
///
/// # Errors
/// If one of them cannot be gone by.
pub fn invoices(job: &Job) -> Result<Vec<Invoice>, PaperTrouble> {
    let mut back: Vec<PaperName> = Vec::new();
    let papers: Vec<PaperName> = job.papers().iter().map(|known| known.paper.name).collect();
    for name in papers.iter().filter(|name| name.kind == PaperKind::Credit) {
        back.push(Credit::read(job, *name)?.of);
    }
    let invoices = papers.iter().filter(|name| name.kind == PaperKind::Invoice);
    let standing = invoices.filter(|name| !back.contains(name));
    standing.map(|name| Invoice::read(job, *name)).collect()
}
