//! Whether a text fits the bench screen.

use crate::message::{Message, Problem};
use crate::span::Span;

/// Characters on a line.
pub const LINE: usize = 21;

/// What does not fit: one message for each fault of the text. `source` is the
/// text of the file, for the exact place.
#[must_use]
pub fn check(text: &str, at: Span, source: &str, lines: usize) -> Vec<Message> {
    let mut said = Vec::new();
    let written = at.words(source);
    for (offset, sign) in written.char_indices() {
        // Quotation marks around the text are not shown.
        let edge = offset == 0 || offset + sign.len_utf8() == written.len();
        if u32::from(sign) <= 0xff || edge {
            continue;
        }
        let shown = shown(sign);
        let start = at.start + u32::try_from(offset).unwrap_or(0);
        let place = Span {
            start,
            end: start + u32::try_from(sign.len_utf8()).unwrap_or(1),
            ..at
        };
        let sign_text = sign.to_string();
        let right = (shown != "?").then_some(shown);
        let message = Message::new(
            place,
            Problem::SignNotShown {
                sign: &sign_text,
                shown,
                right,
            },
        );
        said.push(match right {
            Some(right) => message.with_fix(place, right, true),
            None => message,
        });
    }
    if !said.is_empty() {
        return said;
    }
    if let Some(word) = text.split(' ').find(|w| w.chars().count() > LINE) {
        let start = at.start + u32::try_from(written.find(word).unwrap_or(0)).unwrap_or(0);
        let place = Span {
            start,
            end: start + u32::try_from(word.len()).unwrap_or(0),
            ..at
        };
        return vec![Message::new(
            place,
            Problem::WordTooLong { word, room: LINE },
        )];
    }
    let needed = wrapped(text);
    if lines == 1 {
        let length = text.chars().count();
        if length > LINE {
            let over = length - LINE;
            return vec![Message::new(
                at,
                Problem::TextTooLong {
                    text,
                    length: Some(length),
                    room: LINE,
                    lines: None,
                    over: Some(over),
                },
            )];
        }
    } else if needed > lines {
        return vec![Message::new(
            at,
            Problem::TextTooLong {
                text,
                length: None,
                room: lines,
                lines: Some(needed),
                over: None,
            },
        )];
    }
    Vec::new()
}

/// How many lines of the screen a text fills.
#[must_use]
pub fn wrapped(text: &str) -> usize {
    let mut lines = 1;
    let mut used = 0;
    for word in text.split(' ') {
        let length = word.chars().count();
        if used == 0 {
            used = length;
        } else if used + 1 + length <= LINE {
            used += 1 + length;
        } else {
            lines += 1;
            used = length;
        }
    }
    lines
}

/// What the screen shows for a sign outside its alphabet.
fn shown(sign: char) -> &'static str {
    match sign {
        '“' | '”' | '„' | '″' => "\"",
        '‘' | '’' | '‚' | '′' => "'",
        '–' | '—' | '‐' | '‑' | '−' => "-",
        '…' => "...",
        '⅓' => "1/3",
        '⅔' => "2/3",
        '⅛' => "1/8",
        '⅜' => "3/8",
        '⅝' => "5/8",
        '⅞' => "7/8",
        '≤' => "<=",
        '≥' => ">=",
        '•' => "-",
        'œ' => "oe",
        'Œ' => "OE",
        '€' => "EUR",
        _ => "?",
    }
}
