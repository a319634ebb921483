//! Slips that can be read in one way only, put right before a sentence is read.

use crate::files::Files;
use crate::message::{Message, Problem};
use crate::token::{Number, Sort, Token};

/// Puts right what can be read in one way only, and says so.
pub(super) fn mend(tokens: &mut Vec<Token>, files: &Files, said: &mut Vec<Message>) {
    for token in tokens.iter_mut() {
        if token.sort == Sort::OpenText {
            token.sort = Sort::Text;
            let line = files.line(token.at);
            said.push(Message::new(token.at, Problem::OpenText { line: &line }));
        }
    }
    for index in 0..tokens.len().saturating_sub(2) {
        let (word, then, number) = (&tokens[index], &tokens[index + 1], &tokens[index + 2]);
        let compares = ["more", "less", "fewer", "earlier", "later"]
            .iter()
            .any(|w| word.is(w));
        if compares && then.is("then") && matches!(number.sort, Sort::Number(_)) {
            let unit = tokens.get(index + 3).filter(|t| t.sort == Sort::Word);
            let amount = match unit {
                Some(unit) => format!("{} {}", number.text, unit.text),
                None => number.text.clone(),
            };
            said.push(
                Message::new(
                    word.at.to(then.at),
                    Problem::ThenForThan {
                        word: &word.text,
                        amount: &amount,
                    },
                )
                .with_fix(then.at, "than", true),
            );
            tokens[index + 1].text = "than".to_owned();
        }
    }
    let mut index = 0;
    while index + 3 < tokens.len() {
        let decimal = decimal_comma(&tokens[index..index + 4]);
        if let Some((number, right)) = decimal {
            let at = tokens[index].at.to(tokens[index + 3].at);
            let rest = format!("{} {}", tokens[index + 2].text, tokens[index + 3].text);
            said.push(
                Message::new(
                    at,
                    Problem::DecimalComma {
                        whole: &tokens[index].text,
                        rest: &rest,
                        right: &right,
                    },
                )
                .with_fix(
                    tokens[index].at.to(tokens[index + 2].at),
                    right.clone(),
                    true,
                ),
            );
            tokens[index].at = tokens[index].at.to(tokens[index + 2].at);
            tokens[index].sort = Sort::Number(number);
            tokens[index].text = right;
            tokens.drain(index + 1..index + 3);
        }
        index += 1;
    }
}

/// "1,5 mm" written with a comma.
fn decimal_comma(four: &[Token]) -> Option<(Number, String)> {
    let [whole, comma, part, unit] = four else {
        return None;
    };
    let touching = comma.at.start == whole.at.end && part.at.start == comma.at.end;
    let (Sort::Number(a), Sort::Number(b)) = (whole.sort, part.sort) else {
        return None;
    };
    if comma.sort != Sort::Comma
        || !touching
        || a.under != 1
        || b.under != 1
        || part.text.len() > 6
        || crate::number::unit_of(&unit.text).is_none()
    {
        return None;
    }
    let under = 10_i64.pow(u32::try_from(part.text.len()).unwrap_or(0));
    Some((
        a.plus(Number {
            over: b.over,
            under,
        }),
        format!("{}.{}", whole.text, part.text),
    ))
}
