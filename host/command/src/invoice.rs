//! `tellmark invoice`

use super::bounded::Bounded;
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::{cannot_set_up, open_job, progress};
use super::quote::{no_paper, print_parties, tell_of_others};
use super::shape::Shape;
use super::typed::as_path;
use clap::Args;
use rust_decimal::Decimal;
use serde_json::json;
use std::path::PathBuf;
use tellmark_job::house;
use tellmark_job::limits;
use tellmark_job::open_job::OpenJob;
use tellmark_job::papers::{self, Bill, Credit, Invoice as Paper, Known, NoBill, Parties, Ticks};
use tellmark_job::record::{NoNumber, Numbered, PaperKind, PaperName};
use tellmark_job::scripts::{self, Charge};
use tellmark_language::ink::Ink;
use tellmark_language::words::{capital, money};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Say what is to be paid for what was done, and write the invoice
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark invoice walnut-chest --rules my-rules\n  tellmark invoice \
                  walnut-chest --keep --rules my-rules\n  tellmark invoice walnut-chest --credit \
                  2026-007 --because \"a slip in the address\"\n\nWithout --keep it is only worked \
                  out. What was agreed is charged for what was done, or the hours that were ticked, \
                  as fn invoice in prices.rhai says, with the taxes that it names. Local tax rules \
                  come first, and your accountant: have both looked at before you send one."
)]
pub struct Invoice {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// Write it, under the next number of the year; it is never changed
    #[arg(long, conflicts_with = "credit")]
    keep: bool,
    /// Take back the invoice of this number, by a credit with a number of its own
    #[arg(long, value_name = "NUMBER")]
    credit: Option<String>,
    /// With --credit: why
    #[arg(long, value_name = "WORDS", requires = "credit")]
    because: Option<String>,
}

impl Invoice {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = open_job(&self.job, frame)?;
        if let Some(number) = &self.credit {
            return self.take_back(&mut job, number, frame);
        }
        let file = house::prices(frame.rules()?)?;
        if self.keep && file.standard {
            return Err(Stopped::Misuse(format!(
                "These prices are invented, and have no place in an invoice. Put your own list, {}, \
                 into the folder of your rules. Nothing was written.",
                scripts::PRICES
            )));
        }
        let bill = bill(&job, &file, frame)?;
        if !self.keep {
            return self.show(&bill, file.standard, frame);
        }
        if !bill.over.is_zero() {
            return Err(Stopped::Misuse(format!(
                "This is {} {} more than the owner agreed to, so no invoice is written. If tellmark \
                 quote {} --supplement says what is new, have that agreed first. If nothing is new, \
                 the sum that was agreed stands: charge less, by lower prices in {}. Nothing was \
                 written.",
                money(&bill.over.to_string()),
                bill.invoice.currency,
                as_path(&self.job),
                scripts::PRICES
            )));
        }
        let numbered = job
            .job
            .keep_in_series(PaperKind::Invoice, frame.now, |name| {
                bill.invoice.to_paper(name)
            })
            .map_err(no_number)?;
        frame.tell(Exit::Fine, |frame| {
            let invoice = Paper {
                name: Some(numbered.written.name),
                ..bill.invoice.clone()
            };
            if frame.global.json {
                return print_written(frame, &numbered, json!(invoice));
            }
            print_invoice(&invoice, frame)?;
            print_rest(&bill, frame)?;
            tell_written(frame, &numbered, &invoice.in_short())
        })
    }

    /// What it would say.
    fn show(&self, bill: &Bill, invented: bool, frame: &mut Frame) -> Result<Exit, Stopped> {
        let exit = if bill.over.is_zero() {
            Exit::Fine
        } else {
            Exit::No
        };
        if frame.global.json {
            frame.print_json(
                Shape::INVOICE,
                json!({
                    "invoice": bill.invoice,
                    "prices_are_invented": invented,
                    "not_charged": bill.not_charged,
                    "agreed": bill.agreed.map(|sum| sum.to_string()),
                    "over": bill.over.to_string(),
                    "open": bill.open.to_string(),
                }),
            )?;
            return Ok(exit);
        }
        print_invoice(&bill.invoice, frame)?;
        if invented {
            writeln!(
                frame.out,
                "The prices are invented. Put your own list, {}, into the folder of your rules.",
                scripts::PRICES
            )?;
        }
        print_rest(bill, frame)?;
        writeln!(
            frame.out,
            "\nThis is only worked out; --keep writes it. Local tax rules come first, and your \
             accountant."
        )?;
        Ok(exit)
    }

    /// Takes an invoice back.
    fn take_back(
        &self,
        job: &mut OpenJob,
        number: &str,
        frame: &mut Frame,
    ) -> Result<Exit, Stopped> {
        let of = PaperName::of(PaperKind::Invoice, number)
            .or_else(|| PaperName::read(number).filter(|name| name.kind == PaperKind::Invoice));
        let Some(of) = of else {
            return Err(Stopped::Misuse(format!(
                "I cannot read \"{number}\" as the number of an invoice: 2026-007 would do. \
                 Nothing was written."
            )));
        };
        let standing = papers::invoices(&job.job).map_err(no_paper)?;
        let Some(invoice) = standing.iter().find(|invoice| invoice.name == Some(of)) else {
            let papers = job.job.papers();
            let is_there = papers.iter().any(|known| known.paper.name == of);
            return Err(Stopped::Misuse(match is_there {
                true => format!(
                    "{} was taken back before. Nothing was written.",
                    capital(&of.to_string())
                ),
                false => format!("This job has no {of}. Nothing was written."),
            }));
        };
        let because = self.because.as_deref().unwrap_or_default();
        let because = because.split_whitespace().collect::<Vec<_>>().join(" ");
        let credit = Credit::of(invoice, of, &job.job, frame.now, &because);
        let numbered = job
            .job
            .keep_in_series(PaperKind::Credit, frame.now, |name| credit.to_paper(name))
            .map_err(no_number)?;
        frame.tell(Exit::Fine, |frame| {
            let credit = Credit {
                name: Some(numbered.written.name),
                ..credit.clone()
            };
            if frame.global.json {
                return print_written(frame, &numbered, json!(credit));
            }
            tell_written(frame, &numbered, &credit.in_short())?;
            writeln!(
                frame.out,
                "What it charged can be charged again: tellmark invoice JOB"
            )?;
            Ok(())
        })
    }
}

/// Works the invoice out.
fn bill(
    job: &OpenJob,
    file: &tellmark_language::SourceFile,
    frame: &mut Frame,
) -> Result<Bill, Stopped> {
    let view = job.view()?;
    let progress = progress(&view, frame)?;
    let ticks = Ticks::of(&view, &progress).map_err(cannot_set_up)?;
    let piece = &job.job.header().piece;
    let open = papers::to_charge(&job.job, &ticks).map_err(no_paper)?;
    let bounds = Bounded::here();
    let priced = papers::prices_by_hours(&open, job.model(), piece, file, &bounds);
    let terms = scripts::invoice_terms(piece, file, &bounds);
    for line in priced.printed.iter().chain(&terms.printed) {
        writeln!(frame.err, "{}: {line}", scripts::PRICES)?;
    }
    let wrong = |trouble: scripts::ScriptError| {
        Stopped::Misuse(trouble.render(tellmark_language::Style::Colour))
    };
    let (priced, terms) = (priced.result.map_err(wrong)?, terms.result.map_err(wrong)?);
    let workshop = house::workshop(frame.rules()?)?;
    let known = Known {
        job: &job.job,
        ticks: &ticks,
        priced: &priced,
        terms: &terms,
        now: frame.now,
        parties: Parties::of(&workshop, &job.job),
    };
    let bill = papers::bill(&known).map(|mut bill| {
        let note = Some(workshop.note).filter(|note| !note.is_empty());
        bill.invoice.notes.extend(note);
        bill
    });
    let before = papers::invoices(&job.job).map_err(no_paper)?;
    let before: Decimal = before.iter().map(|invoice| invoice.total).sum();
    let past = bill.as_ref().ok().and_then(|bill| {
        let in_all = before + bill.invoice.total;
        limits::past_limit(&progress, &bill.invoice.currency, in_all)
    });
    if let Some(said) = past {
        writeln!(frame.err, "{said}")?;
    }
    bill.map_err(|why| match why {
        NoBill::Paper(why) => no_paper(why),
        nothing @ NoBill::Nothing(_) => Stopped::No(format!("{nothing} Nothing was written.")),
        other => Stopped::Misuse(format!("{other} Nothing was written.")),
    })
}

fn no_number(why: NoNumber) -> Stopped {
    match why {
        NoNumber::Job(why) => why.into(),
        other => Stopped::Misuse(format!("{other} Nothing was written.")),
    }
}

/// Columns for what a line is for, and for its amount.
const WIDTH: (usize, usize) = (60, 12);

fn print_amount(frame: &mut Frame, what: &str, amount: &str) -> Result<(), Stopped> {
    let (text, amounts) = WIDTH;
    if what.chars().count() > text {
        writeln!(frame.out, "  {what}")?;
        writeln!(frame.out, "  {:text$}{amount:>amounts$}", "")?;
    } else {
        writeln!(frame.out, "  {what:text$}{amount:>amounts$}")?;
    }
    Ok(())
}

fn print_invoice(invoice: &Paper, frame: &mut Frame) -> Result<(), Stopped> {
    let name = invoice
        .name
        .map_or("Invoice".to_owned(), |name| capital(&name.to_string()));
    writeln!(frame.out, "{STRONG}{name}: {}{STRONG:#}", invoice.piece)?;
    print_parties(&invoice.parties, frame)?;
    let by = match invoice.by {
        Charge::Agreed => "What was agreed, for what was done.",
        Charge::Hours => "By the hours that were ticked.",
    };
    writeln!(frame.out, "{FAINT}{by}{FAINT:#}\n")?;
    for line in &invoice.lines {
        print_amount(frame, &line.text, &money(&line.amount.to_string()))?;
    }
    if invoice.taxes.is_empty() {
        writeln!(
            frame.out,
            "  {FAINT}No tax is added: the price list names none.{FAINT:#}"
        )?;
    } else {
        print_amount(frame, "Sum", &money(&invoice.net.to_string()))?;
    }
    for tax in &invoice.taxes {
        let what = format!("{}, {} of 100", tax.text, tax.percent);
        print_amount(frame, &what, &money(&tax.amount.to_string()))?;
    }
    let currency = &invoice.currency;
    let sum = |amount: rust_decimal::Decimal| money(&amount.to_string());
    print_amount(frame, "In all", &sum(invoice.total))?;
    if !invoice.paid.is_zero() {
        print_amount(frame, "Paid already", &money(&(-invoice.paid).to_string()))?;
    }
    write!(frame.out, "{STRONG}")?;
    let (text, amounts) = WIDTH;
    writeln!(
        frame.out,
        "  {:text$}{:>amounts$}{STRONG:#} {currency}",
        format!("To pay by {}", invoice.pay_by),
        sum(invoice.to_pay)
    )?;
    if !invoice.too_much.is_zero() {
        writeln!(
            frame.out,
            "  {} {currency} were paid over and above, and are the owner's: give them back, and note \
             it with tellmark paid JOB ... --back.",
            sum(invoice.too_much)
        )?;
    }
    for said in invoice.how_to_pay.iter().chain(&invoice.notes) {
        writeln!(frame.out, "  {said}")?;
    }
    Ok(())
}

/// What is not in it.
fn print_rest(bill: &Bill, frame: &mut Frame) -> Result<(), Stopped> {
    if !bill.not_charged.is_empty() {
        writeln!(frame.out, "\n{STRONG}Not charged{STRONG:#}")?;
    }
    for said in &bill.not_charged {
        writeln!(frame.out, "  {said}")?;
    }
    let currency = &bill.invoice.currency;
    if !bill.open.is_zero() {
        let open = money(&bill.open.to_string());
        writeln!(
            frame.out,
            "Of earlier invoices {open} {currency} are not paid yet."
        )?;
    }
    if !bill.over.is_zero() {
        writeln!(
            frame.out,
            "{STRONG}Over what was agreed:{STRONG:#} {} {currency} more than {}, before tax.",
            money(&bill.over.to_string()),
            money(&bill.agreed.unwrap_or_default().to_string())
        )?;
    }
    Ok(())
}

fn print_written(
    frame: &mut Frame,
    numbered: &Numbered,
    paper: serde_json::Value,
) -> Result<(), Stopped> {
    frame.print_json(
        Shape::INVOICE_KEPT,
        json!({
            "paper": paper,
            "called": numbered.written.name.to_string(),
            "file": numbered.written.path,
            "line": numbered.written.line,
            "series": numbered.series,
        }),
    )
}

fn tell_written(frame: &mut Frame, numbered: &Numbered, in_short: &str) -> Result<(), Stopped> {
    tell_of_others(&numbered.written, frame)?;
    writeln!(
        frame.out,
        "\n{} is written (line {} of the record): {in_short}.\nIt is in {}, and is never changed.",
        capital(&numbered.written.name.to_string()),
        numbered.written.line,
        numbered.written.path.display()
    )?;
    if numbered.is_new {
        writeln!(
            frame.out,
            "The numbers begin here: {}. All jobs in its folder, and in those below it, share them.",
            numbered.series.display()
        )?;
    }
    Ok(())
}
