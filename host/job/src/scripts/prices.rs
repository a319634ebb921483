//! What a piece costs, by the house's own price list.
//!
//! Money is counted in decimal numbers; every line is rounded first, and totals are
//! sums of rounded lines, so that they add up as they are read.

use rhai::{Array, Dynamic, Map};
use rust_decimal::{Decimal, RoundingStrategy};

use super::SENTENCES;
use super::error::{ScriptError, kind};
use super::request::{Asked, Ran, Told, ask};
use super::sandbox::Script;
use super::value::{Value, map, named, or_nothing, text, texts, whole};
use crate::advice::{Item, Points, Quote};
use crate::bounds::Bounds;
use crate::one_line::in_one_line;
use tellmark_language::SourceFile;

/// One line of a quotation.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Line {
    /// What it is for.
    pub text: String,
    /// What it costs; of a provisional line, what it costs at most.
    #[serde(with = "as_text")]
    pub amount: Decimal,
    /// The owner decides before it.
    pub ask_owner: bool,
    /// The job that it is for, counted from 0 as the script was asked for them; `None` if it
    /// is a line of the whole.
    pub item: Option<usize>,
}

/// A quotation with its prices.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Priced {
    /// The house's currency, as it writes it.
    pub currency: String,
    /// What is fixed.
    pub fixed: Vec<Line>,
    /// What may come to it.
    pub provisional: Vec<Line>,
    /// Sum of what is fixed.
    #[serde(with = "as_text")]
    pub fixed_total: Decimal,
    /// The most that it comes to without asking again.
    #[serde(with = "as_text")]
    pub at_most: Decimal,
    /// Days for which it stands.
    pub valid_days: u32,
    /// What is taken for granted.
    pub assumptions: Vec<String>,
}

/// Amounts in data, as text: "12.50".
pub(crate) mod as_text {
    use rust_decimal::Decimal;
    use serde::de::{Deserialize, Deserializer, Error};
    use serde::ser::Serializer;

    pub(crate) fn serialize<S: Serializer>(amount: &Decimal, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(amount)
    }

    /// Amounts that there may be.
    pub(crate) mod maybe {
        use rust_decimal::Decimal;
        use serde::ser::Serializer;

        pub(crate) fn serialize<S: Serializer>(
            amount: &Option<Decimal>,
            to: S,
        ) -> Result<S::Ok, S::Error> {
            match amount {
                Some(amount) => to.collect_str(amount),
                None => to.serialize_none(),
            }
        }
    }

    pub(crate) fn deserialize<'d, D: Deserializer<'d>>(from: D) -> Result<Decimal, D::Error> {
        String::deserialize(from)?.parse().map_err(D::Error::custom)
    }
}

/// Decimals of an amount, unless the house says otherwise.
const DECIMALS: u32 = 2;
/// The most signs of what a line is for.
pub(super) const LABEL: usize = 400;
/// The most signs of a currency.
const CURRENCY: usize = 20;
/// Days for which a quotation stands, unless the house says otherwise.
const VALID_DAYS: u32 = 30;

/// The largest amount, and the largest sum, in whole units of the house's currency.
/// Anything above is a slip in the price list, and so far below the largest decimal
/// number that amounts can be rounded to any number of decimals.
const LARGEST: u64 = 1_000_000_000_000;

/// Asks the house's price list for every job, and then for the whole.
pub fn prices(quote: &Quote, piece: &str, file: &SourceFile, bounds: &dyn Bounds) -> Ran<Priced> {
    let asked = Asked::Prices {
        jobs: quote.items.iter().map(|i| (job(i), i.ask_owner)).collect(),
        work: named([
            ("piece", text(piece)),
            ("hours", points(&quote.hours, Some(quote.mean))),
            ("planned_hours", points(&quote.planned_hours, None)),
            ("waits_least", whole(quote.waits[0])),
            ("waits_most", whole(quote.waits[1])),
        ]),
    };
    ask(file.clone(), asked, bounds).map(file, |told| match told {
        Told::Prices(priced) => Some(priced),
        Told::Checks(_) | Told::Invoice(_) => None,
    })
}

/// Asks the script for a line of every job, and for the terms of the whole.
pub(super) fn price(
    script: &Script,
    jobs: Vec<(Value, bool)>,
    work: Vec<(String, Value)>,
) -> Result<Priced, ScriptError> {
    let mut lines = Vec::new();
    for (item, (job, asks)) in jobs.into_iter().enumerate() {
        let answer = script.call("line", job.into())?;
        let from = Answer {
            script,
            function: "line",
        };
        lines.extend(from.line(answer, asks, Some(item))?);
    }
    let [fixed, provisional] = sums(&lines, script, "line")?;
    let work = work.into_iter().map(|(name, v)| (name.into(), v.into()));
    let mut work: Map = work.collect();
    work.insert("fixed".into(), fixed.into());
    work.insert("provisional".into(), provisional.into());
    let answer = script.call("terms", work.into())?;
    let from = Answer {
        script,
        function: "terms",
    };
    let terms = from.terms(answer)?;
    lines.extend(terms.lines);
    for (_, line) in &mut lines {
        let halves = RoundingStrategy::MidpointAwayFromZero;
        line.amount = line.amount.round_dp_with_strategy(terms.decimals, halves);
        line.amount.rescale(terms.decimals);
    }
    let [fixed_total, more] = sums(&lines, script, "terms")?;
    let at_most = sum([fixed_total, more], script, "terms")?;
    let of = |wanted: bool| {
        let wanted = lines.iter().filter(move |(is, _)| *is == wanted);
        wanted.map(|(_, line)| line.clone()).collect()
    };
    Ok(Priced {
        currency: terms.currency,
        fixed: of(false),
        provisional: of(true),
        fixed_total,
        at_most,
        valid_days: terms.valid_days,
        assumptions: terms.assumptions,
    })
}

/// The sum of what is fixed, and of what is provisional.
fn sums(
    lines: &[(bool, Line)],
    script: &Script,
    function: &'static str,
) -> Result<[Decimal; 2], ScriptError> {
    let of = |wanted: bool| {
        let wanted = lines.iter().filter(move |(is, _)| *is == wanted);
        sum(wanted.map(|(_, line)| line.amount), script, function)
    };
    Ok([of(false)?, of(true)?])
}

/// The sum of some amounts, if it is not more than [`LARGEST`].
fn sum(
    amounts: impl IntoIterator<Item = Decimal>,
    script: &Script,
    function: &'static str,
) -> Result<Decimal, ScriptError> {
    let largest = Decimal::from(LARGEST);
    let add = |sum: Decimal, amount| sum.checked_add(amount).filter(|sum| *sum <= largest);
    let sum = amounts.into_iter().try_fold(Decimal::ZERO, add);
    sum.ok_or_else(|| {
        let wanted = format!("a sum of at most {LARGEST}");
        let found = "amounts that come to more";
        ScriptError::gave_back(script.file(), function, found, &wanted)
    })
}

/// What a script is told of a job.
fn job(item: &Item) -> Value {
    #[allow(clippy::cast_possible_truncation)]
    let in_100 = item
        .chance
        .map(|chance| (chance * 100.0 + 1e-6).floor() as i64);
    let minutes = |n: usize| or_nothing(item.minutes, |m| whole(m[n]));
    let mean = item
        .minutes
        .map(|minutes| minutes.map(u64::from))
        .map(|[least, mostly, most]| (least + 4 * mostly + most).div_ceil(6));
    let waits = |n: usize| whole(item.waits.map_or(0, |w| w[n]));
    map([
        ("job", text(&item.job)),
        ("part", text(&item.part)),
        ("certain", Value::Yes(item.certain)),
        ("in_100", or_nothing(in_100, Value::Whole)),
        ("planned", Value::Yes(item.planned)),
        ("called_for", Value::Yes(item.called)),
        ("longest_of_several", Value::Yes(item.longest_of_several)),
        ("least", minutes(0)),
        ("mostly", minutes(1)),
        ("most", minutes(2)),
        ("mean", or_nothing(mean, whole)),
        ("waits_least", waits(0)),
        ("waits_most", waits(1)),
        ("needs", texts(item.needs.iter().map(String::as_str))),
        ("ask_owner", Value::Yes(item.ask_owner)),
        ("needed_by", or_nothing(item.needed_by.as_deref(), text)),
        ("again", Value::Yes(item.again.is_some())),
    ])
}

/// Hours for a script: in whole minutes, so that it counts money in whole numbers.
fn points(points: &Points, mean: Option<f64>) -> Value {
    #[allow(clippy::cast_possible_truncation)]
    let minutes = |hours: f64| Value::Whole((hours * 60.0).round() as i64);
    map([
        ("p10", minutes(points.p10)),
        ("p50", minutes(points.p50)),
        ("p80", minutes(points.p80)),
        ("p90", minutes(points.p90)),
        ("mean", or_nothing(mean, minutes)),
    ])
}

const NOT_NEGATIVE: &str = "a number that is not negative";

struct Terms {
    currency: String,
    decimals: u32,
    valid_days: u32,
    assumptions: Vec<String>,
    lines: Vec<(bool, Line)>,
}

/// Reads what a function gave back.
pub(super) struct Answer<'s> {
    pub(super) script: &'s Script,
    pub(super) function: &'static str,
}

impl Answer<'_> {
    pub(super) fn wrong(&self, found: &str, wanted: &str) -> ScriptError {
        ScriptError::gave_back(self.script.file(), self.function, found, wanted)
    }

    pub(super) fn map(&self, value: Dynamic, known: &[&str]) -> Result<Map, ScriptError> {
        let found = kind(value.type_name()).to_owned();
        let Some(map) = value.try_cast::<Map>() else {
            return Err(self.wrong(&found, "a map #{ ... }"));
        };
        match map.keys().find(|name| !known.contains(&name.as_str())) {
            Some(name) => Err(ScriptError::unknown_entry(
                self.script.file(),
                self.function,
                name,
                &known.join(", "),
            )),
            None => Ok(map),
        }
    }

    /// A text of at most so many signs, which must be there.
    pub(super) fn text(&self, map: &Map, name: &str, most: usize) -> Result<String, ScriptError> {
        let Some(value) = map.get(name) else {
            return Err(self.wrong(&format!("nothing for \"{name}\""), "a text"));
        };
        self.one_line(value.clone(), &format!("for \"{name}\""), most)
    }

    /// A text in one line, of at most so many signs; `place` says where it stands.
    pub(super) fn one_line(
        &self,
        value: Dynamic,
        place: &str,
        most: usize,
    ) -> Result<String, ScriptError> {
        let text = value
            .into_string()
            .map_err(|found| self.wrong(&format!("{} {place}", kind(found)), "a text"))?;
        let line = in_one_line(&text);
        match line.chars().count() {
            long if long > most => Err(self.wrong(
                &format!("a text of {long} signs {place}"),
                &format!("one of at most {most}"),
            )),
            _ => Ok(line),
        }
    }

    fn amount(&self, map: &Map) -> Result<Decimal, ScriptError> {
        let largest = Decimal::from(LARGEST);
        let value = map.get("amount").cloned().unwrap_or(Dynamic::UNIT);
        let number = match value.as_int() {
            Ok(whole) => Ok(Decimal::from(whole)),
            Err(_) => value.as_decimal(),
        };
        match number {
            Ok(number) if number > largest => {
                let wanted = format!("at most {LARGEST}");
                Err(self.wrong(&format!("{number} for \"amount\""), &wanted))
            }
            Ok(number) if !number.is_sign_negative() || number.is_zero() => Ok(number),
            Ok(number) => Err(self.wrong(&format!("{number} for \"amount\""), NOT_NEGATIVE)),
            Err(found) => Err(self.wrong(&format!("{} for \"amount\"", kind(found)), NOT_NEGATIVE)),
        }
    }

    fn yes(&self, map: &Map, name: &str, otherwise: bool) -> Result<bool, ScriptError> {
        map.get(name).map_or(Ok(otherwise), |value| {
            value.as_bool().map_err(|found| {
                let found = format!("{} for \"{name}\"", kind(found));
                self.wrong(&found, "true or false")
            })
        })
    }

    pub(super) fn number(
        &self,
        map: &Map,
        name: &str,
        most: u32,
        otherwise: u32,
    ) -> Result<u32, ScriptError> {
        let Some(value) = map.get(name) else {
            return Ok(otherwise);
        };
        let number = value.as_int().ok().and_then(|n| u32::try_from(n).ok());
        number.filter(|&n| n <= most).ok_or_else(|| {
            let found = format!("{value} for \"{name}\"");
            self.wrong(&found, &format!("a whole number from 0 to {most}"))
        })
    }

    pub(super) fn list(&self, map: &Map, name: &str) -> Result<Array, ScriptError> {
        let value = map.get(name).cloned().unwrap_or(Array::new().into());
        let found = format!("{} for \"{name}\"", kind(value.type_name()));
        let list = value.try_cast::<Array>();
        list.ok_or_else(|| self.wrong(&found, "a list [ ... ]"))
    }

    /// A line, and whether it is provisional; nothing if there is to be none.
    fn line(
        &self,
        value: Dynamic,
        asks: bool,
        item: Option<usize>,
    ) -> Result<Option<(bool, Line)>, ScriptError> {
        if value.is_unit() {
            return Ok(None);
        }
        let known = ["text", "amount", "provisional", "ask_owner"];
        let map = self.map(value, &known)?;
        let line = Line {
            text: self.text(&map, "text", LABEL)?,
            amount: self.amount(&map)?,
            ask_owner: self.yes(&map, "ask_owner", asks)?,
            item,
        };
        Ok(Some((self.yes(&map, "provisional", false)?, line)))
    }

    fn terms(&self, value: Dynamic) -> Result<Terms, ScriptError> {
        let known = ["currency", "decimals", "valid_days", "assumptions", "lines"];
        let map = self.map(value, &known)?;
        let currency = self.text(&map, "currency", CURRENCY)?;
        let mut assumptions = Vec::new();
        for value in self.list(&map, "assumptions")? {
            assumptions.push(self.one_line(value, "in \"assumptions\"", SENTENCES)?);
        }
        let mut lines = Vec::new();
        for value in self.list(&map, "lines")? {
            lines.extend(self.line(value, false, None)?);
        }
        Ok(Terms {
            currency,
            decimals: self.number(&map, "decimals", 4, DECIMALS)?,
            valid_days: self.number(&map, "valid_days", 3_650, VALID_DAYS)?,
            assumptions,
            lines,
        })
    }
}
