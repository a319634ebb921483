//! What the house's price list says of invoices, if it says anything.

use rhai::{Dynamic, Map};
use rust_decimal::{Decimal, RoundingStrategy};

use super::SENTENCES;
use super::error::{ScriptError, kind};
use super::prices::{Answer, LABEL, as_text};
use super::request::{Asked, Ran, Told, ask};
use super::sandbox::Script;
use super::value::{Value, named, text};
use crate::bounds::Bounds;
use tellmark_language::SourceFile;
use tellmark_language::words::list;

/// By what an invoice is made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Charge {
    /// What was agreed, for what was done.
    #[default]
    Agreed,
    /// What the price list asks for the hours that were ticked.
    Hours,
}

/// A tax that is added.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Tax {
    /// What it is called.
    pub text: String,
    /// Of a hundred.
    #[serde(with = "as_text")]
    pub percent: Decimal,
}

impl Tax {
    /// The tax on a sum, to so many decimals, halves up.
    #[must_use]
    pub fn on(&self, net: Decimal, decimals: u32) -> Decimal {
        let tax = net * self.percent / Decimal::ONE_HUNDRED;
        let mut tax = tax.round_dp_with_strategy(decimals, RoundingStrategy::MidpointAwayFromZero);
        tax.rescale(decimals);
        tax
    }
}

/// A sum with the taxes on it, to the decimals of the sum.
#[must_use]
pub fn with_taxes(net: Decimal, taxes: &[Tax]) -> Decimal {
    let taxes = taxes.iter().map(|tax| tax.on(net, net.scale()));
    net + taxes.sum::<Decimal>()
}

/// The sum that comes to no more than this with the taxes on it, to the hundredth.
#[must_use]
pub fn without_taxes(gross: Decimal, taxes: &[Tax]) -> Decimal {
    let hundred = Decimal::ONE_HUNDRED;
    let percent: Decimal = taxes.iter().map(|tax| tax.percent).sum();
    let net = gross.checked_mul(hundred);
    let net = net.and_then(|net| net.checked_div(hundred.checked_add(percent)?));
    net.map_or(Decimal::ZERO, |net| net.trunc_with_scale(2))
}

/// "VAT", "VAT and the levy".
#[must_use]
pub fn tax_names(taxes: &[Tax]) -> String {
    let names: Vec<&str> = taxes.iter().map(|tax| tax.text.as_str()).collect();
    list(&names)
}

/// What the house says of its invoices.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct InvoiceTerms {
    /// By what it is made.
    pub by: Charge,
    /// Taxes that are added to the sum, each on the sum alone.
    pub taxes: Vec<Tax>,
    /// Days until it is to be paid.
    pub days_to_pay: u32,
    /// How to pay.
    pub how_to_pay: Vec<String>,
    /// What else it says.
    pub notes: Vec<String>,
}

impl Default for InvoiceTerms {
    fn default() -> Self {
        Self {
            by: Charge::Agreed,
            taxes: Vec::new(),
            days_to_pay: DAYS_TO_PAY,
            how_to_pay: Vec::new(),
            notes: Vec::new(),
        }
    }
}

/// Days until an invoice is to be paid, unless the house says otherwise.
const DAYS_TO_PAY: u32 = 30;

/// Asks the house's price list how its invoices are made. A list that says nothing of it has
/// [`InvoiceTerms::default`].
pub fn invoice_terms(piece: &str, file: &SourceFile, bounds: &dyn Bounds) -> Ran<InvoiceTerms> {
    let asked = Asked::Invoice(named([("piece", text(piece))]));
    ask(file.clone(), asked, bounds).map(file, |told| match told {
        Told::Invoice(terms) => Some(terms),
        Told::Prices(_) | Told::Checks(_) => None,
    })
}

/// The function of a price list that says how its invoices are made.
const FUNCTION: &str = "invoice";

/// Asks the script.
pub(super) fn terms(
    script: &Script,
    work: Vec<(String, Value)>,
) -> Result<InvoiceTerms, ScriptError> {
    if !script.has(FUNCTION) {
        return Ok(InvoiceTerms::default());
    }
    let work = work.into_iter().map(|(name, v)| (name.into(), v.into()));
    let work: Map = work.collect();
    let answer = script.call(FUNCTION, work.into())?;
    let from = Answer {
        script,
        function: FUNCTION,
    };
    let known = ["by", "taxes", "days_to_pay", "how_to_pay", "notes"];
    let map = from.map(answer, &known)?;
    let sentences = |name: &str| -> Result<Vec<String>, ScriptError> {
        let list = from.list(&map, name)?;
        let place = format!("in \"{name}\"");
        let each = list.into_iter();
        each.map(|value| from.one_line(value, &place, SENTENCES))
            .collect()
    };
    let taxes = from.list(&map, "taxes")?;
    Ok(InvoiceTerms {
        by: by(&from, &map)?,
        taxes: taxes
            .into_iter()
            .map(|value| tax(&from, value))
            .collect::<Result<_, _>>()?,
        days_to_pay: from.number(&map, "days_to_pay", 3_650, DAYS_TO_PAY)?,
        how_to_pay: sentences("how_to_pay")?,
        notes: sentences("notes")?,
    })
}

fn by(from: &Answer<'_>, map: &Map) -> Result<Charge, ScriptError> {
    let Some(value) = map.get("by") else {
        return Ok(Charge::default());
    };
    match value.clone().into_string().as_deref() {
        Ok("agreed") => Ok(Charge::Agreed),
        Ok("hours") => Ok(Charge::Hours),
        _ => Err(from.wrong(&format!("{value} for \"by\""), "\"agreed\" or \"hours\"")),
    }
}

fn tax(from: &Answer<'_>, value: Dynamic) -> Result<Tax, ScriptError> {
    let map = from.map(value, &["text", "percent"])?;
    let percent = map.get("percent").cloned().unwrap_or(Dynamic::UNIT);
    let number = match percent.as_int() {
        Ok(whole) => Some(Decimal::from(whole)),
        Err(_) => percent.as_decimal().ok(),
    };
    let fits = |percent: &Decimal| {
        !percent.is_sign_negative() && *percent <= Decimal::ONE_HUNDRED && percent.scale() <= 6
    };
    let found = format!("{} for \"percent\"", kind(percent.type_name()));
    Ok(Tax {
        text: from.text(&map, "text", LABEL)?,
        percent: number
            .filter(fits)
            .ok_or_else(|| from.wrong(&found, "a number from 0 to 100"))?,
    })
}
