//! A note cut into words, figures and what stands between them.

use crate::english::number_word;

/// A piece of a note.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Token {
    /// In small letters, straight apostrophes, no "'s".
    pub(crate) text: String,
    /// What it is.
    pub(crate) sort: Sort,
    /// Where it begins in what was typed.
    pub(crate) start: usize,
    /// Where it ends.
    pub(crate) end: usize,
}

/// What a piece of a note is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Sort {
    /// A word.
    Word,
    /// A figure, exactly: so many of so many.
    Number(Ratio),
    /// What ends a clause: a comma, a semicolon, a full stop, a colon, a dash.
    Break(char),
    /// "2-3": a range, or from one to the other.
    To,
    /// `?`
    Question,
    /// `%` or `"`: a unit that is no word.
    Unit,
}

/// A number as it was written, exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Ratio {
    /// Above the stroke.
    pub(crate) over: u64,
    /// Below it; never 0.
    pub(crate) under: u64,
}

impl Ratio {
    pub(crate) fn whole(number: u64) -> Ratio {
        Ratio {
            over: number,
            under: 1,
        }
    }

    /// The whole number that it is, if it is one.
    pub(crate) fn as_whole(self) -> Option<u64> {
        self.over
            .is_multiple_of(self.under)
            .then(|| self.over / self.under)
    }

    fn add(self, other: Ratio) -> Option<Ratio> {
        let over = self.over.checked_mul(other.under)?;
        let over = over.checked_add(other.over.checked_mul(self.under)?)?;
        Some(Ratio {
            over,
            under: self.under.checked_mul(other.under)?,
        })
    }

    /// Half way between two.
    pub(crate) fn between(self, other: Ratio) -> Option<Ratio> {
        let sum = self.add(other)?;
        Some(Ratio {
            over: sum.over,
            under: sum.under.checked_mul(2)?,
        })
    }
}

const PARTS: [(char, Ratio); 11] = [
    ('½', of(1, 2)),
    ('¼', of(1, 4)),
    ('¾', of(3, 4)),
    ('⅛', of(1, 8)),
    ('⅜', of(3, 8)),
    ('⅝', of(5, 8)),
    ('⅞', of(7, 8)),
    ('⅓', of(1, 3)),
    ('⅔', of(2, 3)),
    ('⅕', of(1, 5)),
    ('⅙', of(1, 6)),
];

const fn of(over: u64, under: u64) -> Ratio {
    Ratio { over, under }
}

/// Cuts a note into its pieces.
pub(crate) fn tokens(text: &str) -> Vec<Token> {
    let signs: Vec<(usize, char)> = text.char_indices().collect();
    let mut cut = Cut {
        text,
        signs: &signs,
        at: 0,
        out: Vec::new(),
    };
    while cut.at < signs.len() {
        cut.next();
    }
    join_numbers(cut.out)
}

struct Cut<'t> {
    text: &'t str,
    signs: &'t [(usize, char)],
    at: usize,
    out: Vec<Token>,
}

impl Cut<'_> {
    fn sign(&self, ahead: usize) -> char {
        self.signs
            .get(self.at + ahead)
            .map_or('\0', |(_, sign)| *sign)
    }

    fn place(&self, at: usize) -> usize {
        self.signs
            .get(at)
            .map_or(self.text.len(), |(place, _)| *place)
    }

    fn push(&mut self, count: usize, sort: Sort) {
        let (start, end) = (self.place(self.at), self.place(self.at + count));
        let text = self.text.get(start..end).unwrap_or_default();
        let text = text.to_lowercase().replace(['’', '‘', '`'], "'");
        self.out.push(Token {
            text,
            sort,
            start,
            end,
        });
        self.at += count;
    }

    fn next(&mut self) {
        let sign = self.sign(0);
        if sign.is_ascii_digit() || (sign == '.' && self.sign(1).is_ascii_digit()) {
            self.number();
        } else if let Some((_, part)) = PARTS.iter().find(|(part, _)| *part == sign) {
            self.push(1, Sort::Number(*part));
        } else if sign.is_alphabetic() {
            self.word();
        } else {
            self.mark(sign);
        }
    }

    fn word(&mut self) {
        let mut count = 0;
        while self.sign(count).is_alphabetic()
            || (is_apostrophe(self.sign(count)) && self.sign(count + 1).is_alphabetic())
        {
            count += 1;
        }
        // "l/h", "l.h.", "r/h": hands, with a stroke or points between two letters.
        if count == 1 && "/.".contains(self.sign(1)) && self.sign(2).eq_ignore_ascii_case(&'h') {
            let more = self.sign(3);
            if !more.is_alphanumeric() {
                let count = if self.sign(1) == '.' && more == '.' {
                    4
                } else {
                    3
                };
                self.push(count, Sort::Word);
                if let Some(last) = self.out.last_mut() {
                    last.text.retain(|c| c.is_alphabetic());
                }
                return;
            }
        }
        self.push(count, Sort::Word);
        if let Some(last) = self.out.last_mut()
            && let Some(bare) = last.text.strip_suffix("'s")
        {
            last.text = bare.to_owned();
        }
        if let Some(last) = self.out.last_mut()
            && let Some(number) = number_word(&last.text)
        {
            last.sort = Sort::Number(Ratio::whole(number));
        }
    }

    /// Digits, a point or comma and digits, a stroke and digits.
    fn number(&mut self) {
        let digits = |cut: &Self, from: usize| {
            let mut count = 0;
            while cut.sign(from + count).is_ascii_digit() {
                count += 1;
            }
            count
        };
        let figure = |cut: &Self, from: usize, count: usize| -> u64 {
            let signs = (from..from + count).map(|at| cut.sign(at));
            let digits = signs.filter_map(|sign| sign.to_digit(10));
            digits.fold(0_u64, |sum, digit| {
                sum.saturating_mul(10).saturating_add(u64::from(digit))
            })
        };
        let first = digits(self, 0);
        let next = self.sign(first);
        let more = digits(self, first + 1);
        let follows = self.sign(first + 1 + more);
        let is_decimal = ".,".contains(next)
            && (1..=4).contains(&more)
            && first <= 9
            // "1,2 and 4" is a list; so is "1,2,4".
            && !(next == ',' && (follows == ',' || self.follows_a_plural()));
        if is_decimal && !(next == ',' && first == 0) {
            let under = 10_u64.pow(u32::try_from(more).unwrap_or(0));
            let over = figure(self, 0, first)
                .saturating_mul(under)
                .saturating_add(figure(self, first + 1, more));
            self.push(first + 1 + more, Sort::Number(Ratio { over, under }));
        } else if next == '/' && (1..=3).contains(&more) && figure(self, first + 1, more) > 0 {
            let ratio = Ratio {
                over: figure(self, 0, first),
                under: figure(self, first + 1, more),
            };
            self.push(first + 1 + more, Sort::Number(ratio));
        } else {
            let number = figure(self, 0, first);
            let start = self.at;
            self.push(first.max(1), Sort::Number(Ratio::whole(number)));
            self.ordinal(start);
        }
    }

    /// "2nd", "3rd": the letters belong to the number.
    fn ordinal(&mut self, _start: usize) {
        let two: String = (0..2)
            .map(|at| self.sign(at).to_ascii_lowercase())
            .collect();
        if ["st", "nd", "rd", "th"].contains(&two.as_str()) && !self.sign(2).is_alphanumeric() {
            self.at += 2;
            let end = self.place(self.at);
            if let Some(last) = self.out.last_mut() {
                last.end = end;
                last.text = format!("{}{two}", last.text);
            }
        }
    }

    /// "drawers 1,2": after a word in the plural a comma divides.
    fn follows_a_plural(&self) -> bool {
        let last = self.out.last();
        last.is_some_and(|t| t.sort == Sort::Word && t.text.ends_with('s') && t.text.len() > 3)
            || matches!(self.out.last(), Some(t) if t.text == "feet" || t.text == "leaves")
    }

    fn mark(&mut self, sign: char) {
        // "drawer 2's"
        if is_apostrophe(sign) && self.sign(1) == 's' && !self.sign(2).is_alphanumeric() {
            self.at += 2;
            return;
        }
        let before = self.out.last().map(|t| (t.sort, t.end));
        let touches = before.is_some_and(|(_, end)| end == self.place(self.at));
        let after_number = matches!(before, Some((Sort::Number(_), _)));
        match sign {
            '"' | '″' | '”' if after_number && touches => self.push(1, Sort::Unit),
            '"' | '“' if self.inscription().is_some() => {
                self.push(self.inscription().unwrap_or(1), Sort::Word);
            }
            '%' => self.push(1, Sort::Unit),
            '?' => self.push(1, Sort::Question),
            '-' | '–' | '—' | '−' if after_number && self.sign(1).is_ascii_digit() => {
                self.push(1, Sort::To);
            }
            // A hyphen inside a word divides it in two.
            '-' if touches && self.sign(1).is_alphanumeric() => self.at += 1,
            '-' | '–' | '—' | '−' => self.push(1, Sort::Break('-')),
            ',' | ';' | ':' | '!' | '\n' | '(' | ')' => self.push(1, Sort::Break(sign)),
            '.' if self.is_abbreviation() => self.at += 1,
            '.' => self.push(1, Sort::Break('.')),
            '&' | '+' => self.push(1, Sort::Break('&')),
            '/' => self.push(1, Sort::Break('/')),
            _ => self.at += 1,
        }
    }

    /// How long an inscription is that begins here, marks and all: several words between quotation
    /// marks are what stands on the piece, or what somebody said, and no findings of ours. One
    /// word may be anything, and a line that stands between them whole is a note.
    fn inscription(&self) -> Option<usize> {
        let before = self.at.checked_sub(1).and_then(|at| self.signs.get(at));
        let begins = before.is_none_or(|(_, sign)| sign.is_whitespace() || *sign == '(');
        let rest = self.signs.get(self.at + 1..)?;
        let rest = rest.iter().map(|(_, sign)| *sign);
        let within = rest
            .clone()
            .position(|sign| matches!(sign, '"' | '”' | '\n'))?;
        let closes = rest.clone().nth(within) != Some('\n');
        let text: String = rest.take(within).collect();
        let is_several = text.split_whitespace().nth(1).is_some();
        let is_whole = before.is_none() && self.sign(within + 2) == '\0';
        let fits = begins && closes && is_several && !is_whole && !text.starts_with(' ');
        fits.then_some(within + 2)
    }

    /// "sq.", "approx.", "no. 2": a point behind a short word that more of the line follows.
    fn is_abbreviation(&self) -> bool {
        let Some(last) = self.out.last() else {
            return true;
        };
        let touches = last.end == self.place(self.at);
        let next = (1..)
            .map(|ahead| self.sign(ahead))
            .find(|sign| *sign != ' ');
        let goes_on = next.is_some_and(|sign| sign.is_lowercase() || sign.is_ascii_digit());
        const SHORT: [&str; 10] = [
            "sq", "approx", "ca", "no", "nr", "dr", "abt", "lh", "rh", "in",
        ];
        touches && goes_on && SHORT.contains(&last.text.as_str())
    }
}

fn is_apostrophe(sign: char) -> bool {
    matches!(sign, '\'' | '’' | '‘' | '`')
}

/// "1 1/2", "3½": a whole number and a part of one.
fn join_numbers(tokens: Vec<Token>) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::with_capacity(tokens.len());
    let is_spelt = |token: &Token| token.text.chars().all(char::is_alphabetic);
    for token in tokens {
        // "twenty five"
        if let (Sort::Number(more), Some(last)) = (token.sort, out.last_mut())
            && let Sort::Number(tens) = last.sort
            && is_spelt(&token)
            && is_spelt(last)
            && (20..=90).contains(&tens.over)
            && tens.over % 10 == 0
            && (1..=9).contains(&more.over)
            && token.start - last.end <= 1
        {
            last.sort = Sort::Number(Ratio::whole(tens.over + more.over));
            last.end = token.end;
            last.text = format!("{}{}", last.text, token.text);
            continue;
        }
        // "d4 1/16 in" is drawer 4.
        let before = out.len().checked_sub(2).and_then(|at| out.get(at));
        let last_start = out.last().map(|last| last.start);
        let touches_a_word = before
            .is_some_and(|before| before.sort == Sort::Word && Some(before.end) == last_start);
        if let Sort::Number(part) = token.sort
            && !touches_a_word
            && part.over < part.under
            && let Some(last) = out.last_mut()
            && let Sort::Number(whole) = last.sort
            && whole.under == 1
            && last.text.chars().all(|c| c.is_ascii_digit())
            && token.start - last.end <= 1
            && let Some(sum) = whole.add(part)
        {
            last.sort = Sort::Number(sum);
            last.end = token.end;
            last.text = format!("{} {}", last.text, token.text);
            continue;
        }
        out.push(token);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{Ratio, Sort, tokens};

    fn texts(text: &str) -> Vec<String> {
        tokens(text).into_iter().map(|t| t.text).collect()
    }

    fn numbers(text: &str) -> Vec<(u64, u64)> {
        let numbers = tokens(text).into_iter().filter_map(|t| match t.sort {
            Sort::Number(Ratio { over, under }) => Some((over, under)),
            _ => None,
        });
        numbers.collect()
    }

    #[test]
    fn hands_hyphens_and_owners_are_taken_apart() {
        assert_eq!(texts("L/H leaf"), ["lh", "leaf"]);
        assert_eq!(texts("L.H. drop-leaf"), ["lh", "drop", "leaf"]);
        assert_eq!(texts("drawer 2’s lock"), ["drawer", "2", "lock"]);
        assert_eq!(texts("dr 2, 3"), ["dr", "2", ",", "3"]);
    }

    #[test]
    fn several_words_between_quotation_marks_are_one() {
        assert_eq!(
            texts("label says \"J. Holt 1782\" in ink"),
            ["label", "says", "\"j. holt 1782\"", "in", "ink"]
        );
        assert_eq!(texts("dad said “fix it”"), ["dad", "said", "“fix it”"]);
        assert_eq!(texts("\"drawer 2 stiff\""), ["drawer", "2", "stiff"]);
        assert_eq!(texts("a \"stiff\" drawer"), ["a", "stiff", "drawer"]);
        assert_eq!(texts("3\" by 4\""), ["3", "\"", "by", "4", "\""]);
        assert_eq!(texts("\" a b"), ["a", "b"]);
    }

    #[test]
    fn figures_are_exact() {
        assert_eq!(numbers("3mm"), [(3, 1)]);
        assert_eq!(numbers("3,5 mm"), [(35, 10)]);
        assert_eq!(numbers("1/8\""), [(1, 8)]);
        assert_eq!(numbers("1 1/2 in"), [(3, 2)]);
        assert_eq!(numbers("3½"), [(7, 2)]);
        assert_eq!(numbers("0.3cm"), [(3, 10)]);
        assert_eq!(numbers("2-3 mm"), [(2, 1), (3, 1)]);
        assert_eq!(numbers("drawers 1,2"), [(1, 1), (2, 1)]);
        assert_eq!(numbers("drawer two"), [(2, 1)]);
        assert_eq!(numbers("99999999999999999999999999"), [(u64::MAX, 1)]);
    }

    #[test]
    fn nothing_falls_over_odd_signs() {
        for text in [
            "", "…", "🪑", "1/0", "1//", "-", "\"\"\"", "l/", "…1,", "٣", "½½½",
        ] {
            for token in tokens(text) {
                assert!(token.start < token.end && text.get(token.start..token.end).is_some());
            }
        }
    }
}
