//! How inputs are made from other inputs: bits, bytes, numbers at their limits, blocks
//! moved and doubled, two inputs spliced, words of the target put in; and for text the
//! same with its own words and lines.

use crate::targets::Form;
use tellmark_tests::dice::Dice;

/// Bytes at the limits of what a byte is read as.
const BYTES: [u8; 12] = [0, 1, 2, 7, 8, 16, 0x7F, 0x80, 0x81, 0xF0, 0xFE, 0xFF];
/// Numbers at the limits of 16 and 32 bits, and of what is counted here.
const NUMBERS: [u32; 20] = [
    0,
    1,
    2,
    15,
    16,
    17,
    255,
    256,
    257,
    4095,
    4096,
    0x7FFF,
    0x8000,
    0xFFFE,
    0xFFFF,
    0x1_0000,
    0x7FFF_FFFF,
    0x8000_0000,
    0xFFFF_FFFE,
    0xFFFF_FFFF,
];
/// The same as they are written.
const FIGURES: [&str; 30] = [
    "0",
    "1",
    "2",
    "10",
    "11",
    "99",
    "100",
    "101",
    "255",
    "256",
    "999",
    "1000",
    "1001",
    "65535",
    "65536",
    "2147483647",
    "4294967295",
    "4294967296",
    "99999999999999999999",
    "-1",
    "0.0",
    "0.5",
    "1.5",
    "0.05",
    "1e9",
    "1/2",
    "00",
    "1,000",
    "one",
    "1600",
];
/// What text is seldom tried with.
const ODD: [&str; 34] = [
    "\u{feff}",
    "\0",
    "\u{7f}",
    "\u{1b}[31m",
    "\u{202e}",
    "\u{200b}",
    "\u{a0}",
    "\u{2028}",
    "\t",
    "\r",
    "\r\n",
    "\n",
    "\n\n",
    "é",
    "e\u{301}",
    "\u{301}",
    "ß",
    "İ",
    "ı",
    "ﬁ",
    "𝟏",
    "²",
    "½",
    "’",
    "“",
    "”",
    "–",
    "木",
    "🪑",
    "Ω",
    "{",
    "}",
    "\\",
    "\u{fffd}",
];

/// Makes inputs.
#[derive(Debug)]
pub struct Mutator {
    dice: Dice,
    form: Form,
    words: Vec<Vec<u8>>,
    longest: usize,
}

impl Mutator {
    /// A maker of inputs of this form, at most so long; `words` are put in here and there.
    #[must_use]
    pub fn new(seed: u64, form: Form, words: Vec<Vec<u8>>, longest: usize) -> Self {
        Self {
            dice: Dice::new(seed),
            form,
            words,
            longest,
        }
    }

    /// Another input, from one or two of these.
    pub fn next(&mut self, corpus: &[Vec<u8>]) -> Vec<u8> {
        // What was kept last has been tried least.
        let late = corpus.len().saturating_sub(64);
        let at = if self.dice.chance(40) {
            late + self.dice.below(corpus.len() - late)
        } else {
            self.dice.below(corpus.len())
        };
        let mut input = corpus.get(at).cloned().unwrap_or_default();
        for _ in 0..1 << self.dice.below(5) {
            let other = corpus.get(self.dice.below(corpus.len()));
            let other = other.map_or(&[][..], Vec::as_slice);
            match self.form {
                Form::Text if !self.dice.chance(6) => self.change_text(&mut input, other),
                _ => self.change_bytes(&mut input, other),
            }
            input.truncate(self.longest);
        }
        input
    }

    /// A stretch of `length` bytes, more often short than long.
    fn stretch(&mut self, length: usize) -> std::ops::Range<usize> {
        let most = match self.dice.below(4) {
            0 => 4,
            1 => 16,
            2 => 64,
            _ => length,
        };
        let size = 1 + self.dice.below(most.min(length));
        let start = self.dice.below(length.saturating_sub(size) + 1);
        start..(start + size).min(length)
    }

    fn change_bytes(&mut self, input: &mut Vec<u8>, other: &[u8]) {
        if input.is_empty() {
            input.extend_from_slice(other);
            input.push(self.dice.roll().to_le_bytes()[0]);
            return;
        }
        let at = self.dice.below(input.len());
        match self.dice.below(17) {
            0 | 1 => input[at] ^= 1 << self.dice.below(8),
            2 => input[at] = self.dice.roll().to_le_bytes()[0],
            3 => input[at] = *self.dice.pick(&BYTES),
            4 => {
                let by = u8::try_from(1 + self.dice.below(16)).unwrap_or(1);
                let down = self.dice.chance(50);
                let byte = input[at];
                input[at] = if down {
                    byte.wrapping_sub(by)
                } else {
                    byte.wrapping_add(by)
                };
            }
            5 | 6 => {
                let number = self.dice.pick(&NUMBERS).to_le_bytes();
                let width = *self.dice.pick(&[2, 4]);
                overwrite(input, at, &number[..width]);
            }
            7 => {
                // A number of 16 or 32 bits, a little more or less.
                let width = *self.dice.pick(&[2, 4]);
                let mut number = [0; 4];
                for (to, from) in number.iter_mut().zip(&input[at..]).take(width) {
                    *to = *from;
                }
                let by = u32::try_from(1 + self.dice.below(20)).unwrap_or(1);
                let number = u32::from_le_bytes(number);
                let number = if self.dice.chance(50) {
                    number.wrapping_add(by)
                } else {
                    number.wrapping_sub(by)
                };
                overwrite(input, at, &number.to_le_bytes()[..width]);
            }
            8 => {
                let gone = self.stretch(input.len());
                input.drain(gone);
            }
            9 => {
                let from = self.stretch(input.len());
                let block = input[from].to_vec();
                input.splice(at..at, block);
            }
            10 => {
                let from = self.stretch(input.len());
                let block: Vec<u8> = input.drain(from).collect();
                let at = at.min(input.len());
                input.splice(at..at, block);
            }
            11 => {
                let from = self.stretch(input.len());
                let block = input[from].to_vec();
                overwrite(input, at, &block);
            }
            12 => {
                let byte = *self.dice.pick(&[0, 0xFF, b' ', b'0']);
                let many = 1 + self.dice.below(40);
                input.splice(at..at, std::iter::repeat_n(byte, many));
            }
            13 if !self.words.is_empty() => {
                let word = self.dice.pick(&self.words).clone();
                input.splice(at..at, word);
            }
            14 if !self.words.is_empty() => {
                let word = self.dice.pick(&self.words).clone();
                overwrite(input, at, &word);
            }
            15 if !other.is_empty() => {
                let from = self.stretch(other.len());
                let block = other[from].to_vec();
                input.splice(at..at, block);
            }
            _ => {
                let from = self.dice.below(other.len() + 1);
                input.truncate(at);
                input.extend_from_slice(&other[from..]);
            }
        }
    }

    fn change_text(&mut self, input: &mut Vec<u8>, other: &[u8]) {
        if self.dice.chance(30) {
            return self.change_lines(input, other);
        }
        let spans = words_of(input);
        if spans.is_empty() {
            return self.change_bytes(input, other);
        }
        let word = self.dice.pick(&spans).clone();
        let another = self.dice.pick(&spans).clone();
        match self.dice.below(12) {
            0 => {
                input.drain(word);
            }
            1 => {
                let mut doubled = input[word.clone()].to_vec();
                doubled.push(b' ');
                input.splice(word.start..word.start, doubled);
            }
            2 => {
                let moved = input[another].to_vec();
                input.splice(word, moved);
            }
            3 => {
                let (first, second) = if word.start <= another.start {
                    (word, another)
                } else {
                    (another, word)
                };
                if first.end <= second.start {
                    let moved = input[second.clone()].to_vec();
                    let left = input[first.clone()].to_vec();
                    input.splice(second, left);
                    input.splice(first, moved);
                }
            }
            4 | 5 if !self.words.is_empty() => {
                let new = self.dice.pick(&self.words).clone();
                input.splice(word, new);
            }
            6 if !self.words.is_empty() => {
                let mut new = self.dice.pick(&self.words).clone();
                new.push(b' ');
                input.splice(word.start..word.start, new);
            }
            7 => {
                let numbers: Vec<_> = spans
                    .iter()
                    .filter(|span| input[(*span).clone()].iter().all(u8::is_ascii_digit))
                    .cloned()
                    .collect();
                let word = if numbers.is_empty() {
                    word
                } else {
                    self.dice.pick(&numbers).clone()
                };
                input.splice(word, self.dice.pick(&FIGURES).bytes());
            }
            8 => {
                let odd = self.dice.pick(&ODD);
                let at = word.start + self.dice.below(word.len() + 1);
                input.splice(at..at, odd.bytes());
            }
            9 => {
                let text = String::from_utf8_lossy(&input[word.clone()]).into_owned();
                let changed = if self.dice.chance(50) {
                    text.to_uppercase()
                } else {
                    text.to_lowercase()
                };
                input.splice(word, changed.into_bytes());
            }
            10 => {
                // Letters of a word: one less, one more, two exchanged.
                let at = word.start + self.dice.below(word.len());
                match self.dice.below(3) {
                    0 => {
                        input.remove(at);
                    }
                    1 => input.insert(at, input[at]),
                    _ if at + 1 < input.len() => input.swap(at, at + 1),
                    _ => {}
                }
            }
            _ => {
                let spans = words_of(other);
                if !spans.is_empty() {
                    let first = self.dice.below(spans.len());
                    let last = (first + self.dice.below(5)).min(spans.len() - 1);
                    let new = other[spans[first].start..spans[last].end].to_vec();
                    input.splice(word, new);
                }
            }
        }
    }

    fn change_lines(&mut self, input: &mut Vec<u8>, other: &[u8]) {
        let mut lines: Vec<Vec<u8>> = lines_of(input);
        let others = lines_of(other);
        let at = self.dice.below(lines.len().max(1));
        match self.dice.below(7) {
            0 if !lines.is_empty() => {
                lines.remove(at);
            }
            1 if !lines.is_empty() => lines.insert(at, lines[at].clone()),
            2 if !lines.is_empty() => {
                let to = self.dice.below(lines.len());
                lines.swap(at, to);
            }
            3 if !lines.is_empty() => {
                let indent = *self.dice.pick(&["    ", "  ", "\t", ""]);
                let bare = lines[at].trim_ascii_start().to_vec();
                lines[at] = [indent.as_bytes(), &bare].concat();
            }
            4 if !lines.is_empty() => {
                // Two lines in one.
                let end = lines[at].trim_ascii_end().len();
                lines[at].truncate(end);
                lines[at].push(b' ');
            }
            _ if !others.is_empty() => {
                let first = self.dice.below(others.len());
                let number = 1 + self.dice.below(4);
                let new = others[first..].iter().take(number).cloned();
                lines.splice(at..at, new);
            }
            _ => {}
        }
        *input = lines.concat();
    }
}

fn overwrite(input: &mut [u8], at: usize, with: &[u8]) {
    for (to, from) in input.iter_mut().skip(at).zip(with) {
        *to = *from;
    }
}

/// Words and marks: letters and figures together, and every mark by itself.
fn words_of(text: &[u8]) -> Vec<std::ops::Range<usize>> {
    let mut spans: Vec<std::ops::Range<usize>> = Vec::new();
    let mut in_word = false;
    for (at, byte) in text.iter().enumerate() {
        let is_letter = byte.is_ascii_alphanumeric() || *byte >= 0x80;
        match spans.last_mut() {
            Some(span) if in_word && is_letter => span.end = at + 1,
            _ if !byte.is_ascii_whitespace() => spans.push(at..at + 1),
            _ => {}
        }
        in_word = is_letter;
    }
    spans
}

fn lines_of(text: &[u8]) -> Vec<Vec<u8>> {
    text.split_inclusive(|b| *b == b'\n')
        .map(<[u8]>::to_vec)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_makes_the_same_inputs() {
        let corpus = [b"a drawer is stiff\n".to_vec(), b"17 of 20".to_vec()];
        let make = |form| {
            let mut mutator = Mutator::new(5, form, vec![b"often".to_vec()], 60);
            (0..500).map(|_| mutator.next(&corpus)).collect::<Vec<_>>()
        };
        for form in [Form::Text, Form::Bytes] {
            let inputs = make(form);
            assert_eq!(inputs, make(form));
            assert!(inputs.iter().all(|input| input.len() <= 60));
        }
    }

    #[test]
    fn words_are_found() {
        let text = b"drawer 2, stiff.";
        let words: Vec<&[u8]> = words_of(text).into_iter().map(|w| &text[w]).collect();
        let expected: [&[u8]; 5] = [b"drawer", b"2", b",", b"stiff", b"."];
        assert_eq!(words, expected);
    }
}
