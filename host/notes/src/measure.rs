//! Quantities in a note: "3mm", "3,5 mm", "about 1/8 in", "2-3 mm".

use crate::english::Small;
use crate::line::Word;
use crate::token::{Ratio, Sort};
use tellmark_language::model::Unit;

/// A quantity as it was written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Quantity {
    pub(crate) number: Ratio,
    /// The other end of a range.
    pub(crate) to: Option<Ratio>,
    /// "about" stood before it.
    pub(crate) is_about: bool,
    pub(crate) unit: Written,
    /// Where it stands among the words.
    pub(crate) from: usize,
    pub(crate) until: usize,
}

/// A unit, as the rules write it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Written {
    Mm,
    Cm,
    Metre,
    Inch,
    Foot,
    Percent,
    Days,
    Weeks,
    Months,
    Years,
    Kg,
    Pound,
}

impl Written {
    pub(crate) fn text(self) -> &'static str {
        match self {
            Written::Mm => "mm",
            Written::Cm => "cm",
            Written::Metre => "m",
            Written::Inch => "in",
            Written::Foot => "ft",
            Written::Percent => "%",
            Written::Days => "days",
            Written::Weeks => "weeks",
            Written::Months => "months",
            Written::Years => "years",
            Written::Kg => "kg",
            Written::Pound => "lb",
        }
    }

    /// Whether it measures what a measure in this unit measures.
    pub(crate) fn fits(self, unit: Unit) -> bool {
        let is_time = matches!(
            self,
            Written::Days | Written::Weeks | Written::Months | Written::Years
        );
        match self {
            Written::Percent => matches!(unit, Unit::Percent),
            Written::Kg | Written::Pound => unit.is_weight(),
            _ if is_time => unit.is_time(),
            _ => !unit.is_time() && !unit.is_weight() && !matches!(unit, Unit::Percent),
        }
    }
}

fn unit(word: &Word, next: Option<&Word>) -> Option<(Written, usize)> {
    let text = word.token.text.as_str();
    if word.token.sort == Sort::Unit {
        let unit = if text == "%" {
            Written::Percent
        } else {
            Written::Inch
        };
        return Some((unit, 1));
    }
    let unit = match text {
        "mm" | "mms" | "mil" | "mils" | "mill" | "millimetre" | "millimetres" | "millimeter"
        | "millimeters" => Written::Mm,
        "cm" | "cms" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Written::Cm,
        "m" | "metre" | "metres" | "meter" | "meters" => Written::Metre,
        "inch" | "inches" | "ins" => Written::Inch,
        // "3 in drawer 2" is no length.
        "in" if !next.is_some_and(|next| {
            next.token.text == "the" || (next.is_word() && !next.known.is_empty())
        }) =>
        {
            Written::Inch
        }
        "ft" | "feet" | "foot" => Written::Foot,
        "percent" | "pc" => Written::Percent,
        "per" if next.is_some_and(|next| next.token.text == "cent") => {
            return Some((Written::Percent, 2));
        }
        "day" | "days" => Written::Days,
        "week" | "weeks" => Written::Weeks,
        "month" | "months" => Written::Months,
        "year" | "years" => Written::Years,
        "kg" | "kgs" | "kilo" | "kilos" | "kilogram" | "kilograms" => Written::Kg,
        "lb" | "lbs" | "pound" | "pounds" => Written::Pound,
        _ => return None,
    };
    Some((unit, 1))
}

/// The quantities of a line.
pub(crate) fn quantities(words: &[Word]) -> Vec<Quantity> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < words.len() {
        match quantity(words, at, words.len()) {
            Some(quantity) => {
                at = quantity.until;
                found.push(quantity);
            }
            None => at += 1,
        }
    }
    found
}

/// A number that is one with "-ths": "an eighth of an inch".
fn part_word(word: &Word) -> Option<Ratio> {
    let under = match word.token.text.as_str() {
        "half" => 2,
        "quarter" => 4,
        "eighth" => 8,
        "sixteenth" => 16,
        _ => return None,
    };
    Some(Ratio { over: 1, under })
}

fn quantity(words: &[Word], at: usize, end: usize) -> Option<Quantity> {
    let number = |at: usize| match words.get(at).filter(|_| at < end)?.token.sort {
        Sort::Number(ratio) => Some(ratio),
        _ => None,
    };
    let text = |at: usize| {
        words
            .get(at)
            .filter(|_| at < end)
            .map(|w| w.token.text.as_str())
    };
    let (first, mut next) = match number(at) {
        Some(ratio) => (ratio, at + 1),
        None => {
            let part = part_word(words.get(at)?)?;
            let mut next = at + 1;
            while matches!(text(next), Some("of" | "an" | "a")) {
                next += 1;
            }
            (part, next)
        }
    };
    let unit_at = |at: usize| {
        let word = words.get(at).filter(|_| at < end)?;
        unit(word, words.get(at + 1))
    };
    // "2mm-3mm": the unit may stand twice.
    let early = unit_at(next);
    let after = early.map_or(next, |(_, count)| next + count);
    let is_to = words
        .get(after)
        .filter(|_| after < end)
        .is_some_and(|word| {
            word.token.sort == Sort::To || matches!(word.token.text.as_str(), "to" | "or" | "-")
        });
    let mut to = None;
    let mut unit = early;
    if is_to
        && let Some(second) = number(after + 1)
        && let Some(second_unit) = unit_at(after + 2)
    {
        to = Some(second);
        next = after + 2;
        unit = Some(second_unit);
    }
    let (unit, count) = unit?;
    let about = |at: usize| words.get(at).is_some_and(|w| w.small == Some(Small::About));
    let is_about = (1..=2).any(|back| at.checked_sub(back).is_some_and(about));
    Some(Quantity {
        number: first,
        to,
        is_about,
        unit,
        from: at,
        until: next + count,
    })
}

/// A number as the rules write it.
pub(crate) fn number_text(ratio: Ratio) -> String {
    if let Some(whole) = ratio.as_whole() {
        return whole.to_string();
    }
    let tens = [10_u64, 100, 1000, 10_000];
    let decimal = tens.iter().zip(1..).find(|(ten, _)| {
        ratio
            .over
            .checked_mul(**ten)
            .is_some_and(|n| n % ratio.under == 0)
    });
    match decimal {
        // Parts of an inch stay as they are written.
        Some((ten, places)) if !ratio.under.is_power_of_two() || ratio.under == 2 => {
            let all = ratio.over * ten / ratio.under;
            let (whole, rest) = (all / ten, all % ten);
            format!("{whole}.{rest:0places$}")
        }
        _ if ratio.over > ratio.under => {
            let (whole, rest) = (ratio.over / ratio.under, ratio.over % ratio.under);
            format!("{whole} {rest}/{}", ratio.under)
        }
        _ => format!("{}/{}", ratio.over, ratio.under),
    }
}

#[cfg(test)]
mod tests {
    use super::{number_text, quantities};
    use crate::lexicon::Lexicon;
    use crate::line::words;

    fn read(text: &str) -> Vec<String> {
        let words = words(text, &Lexicon::default());
        let found = quantities(&words);
        found
            .into_iter()
            .map(|q| {
                let to =
                    q.to.map_or_else(String::new, |to| format!("-{}", number_text(to)));
                let about = if q.is_about { "about " } else { "" };
                format!("{about}{}{to} {}", number_text(q.number), q.unit.text())
            })
            .collect()
    }

    #[test]
    fn quantities_are_read_as_people_write_them() {
        for (typed, meant) in [
            ("worn 3mm", "3 mm"),
            ("worn 3,5 mm", "3.5 mm"),
            ("about 3 mm", "about 3 mm"),
            ("approx. 2 mm", "about 2 mm"),
            ("2-3 mm", "2-3 mm"),
            ("2mm to 3mm", "2-3 mm"),
            ("1/8\"", "1/8 in"),
            ("1/8 in", "1/8 in"),
            ("½ in", "0.5 in"),
            ("3/16\"", "3/16 in"),
            ("1 1/4 inches", "1 1/4 in"),
            ("0.3 cm", "0.3 cm"),
            ("an eighth of an inch", "1/8 in"),
            ("three millimetres", "3 mm"),
            ("22%", "22 %"),
            ("22 per cent", "22 %"),
        ] {
            assert_eq!(read(typed), [meant], "{typed}");
        }
        assert!(read("drawer 2 is stiff").is_empty());
    }
}
