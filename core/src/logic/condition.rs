//! Conditions as programs in a pack, and how they are worked out.
//!
//! A program is a row of words in postfix order. A test takes the part that the
//! sentence is about, goes to the parts that are meant and says what is known
//! of them; `ALL` and `ANY` join the last few results. The word layout is given
//! in `core/src/pack/FORMAT.md`.

use heapless::Vec;

use super::Truth;
use crate::limits::{MAX_CONDITION_STACK, MAX_DEPTH};
use crate::number::Share;
use crate::pack::{Form, NONE, Nature, Pack};
use crate::piece::Piece;

/// Ends a program.
pub const END: u32 = 0;
/// A test; see [`Test::words`].
pub const TEST: u32 = 1;
/// Joins the last n results: all of them hold.
pub const ALL: u32 = 2;
/// Joins the last n results: any of them holds.
pub const ANY: u32 = 3;
/// Holds always.
pub const ALWAYS: u32 = 4;

/// The word that joins the last `n` results.
#[must_use]
pub fn joining(all: bool, n: u8) -> u32 {
    (if all { ALL } else { ANY }) | (u32::from(n) << 16)
}

/// Which parts a test is about, seen from the subject.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// The subject.
    Own,
    /// Its nearest owner of this kind (0: the piece).
    Owner(u16),
    /// Its parts, down these kinds.
    Parts {
        /// The kinds on the way, in order; the first `steps` count.
        path: [u16; MAX_DEPTH],
        /// How many steps.
        steps: u8,
        /// How many of the parts it must be true of.
        many: Many,
    },
}

/// How many of the parts a test must be true of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Many {
    /// At least so many.
    AtLeast(u8),
    /// Every one.
    Every,
    /// Fewer than so many.
    FewerThan(u8),
    /// So many, no more and no fewer.
    Exactly(u8),
}

/// What a test asks of each of those parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// A state holds.
    State(u16),
    /// A hidden state is at least this sure, in thousandths.
    Sure(u16, u16),
    /// A reading lies within bounds, both included: ask, from, to.
    Within(u16, i32, i32),
    /// A choice is one of these values (a bit each).
    Values(u16, u32),
    /// It has so many parts of a kind: kind, from, to.
    Has(u16, i32, i32),
    /// It cannot be seen.
    OutOfSight,
}

/// One test of a condition.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Test {
    /// Which parts.
    pub whose: Whose,
    /// What is asked of them.
    pub what: What,
    /// Whether it must be so, or must not.
    pub yes: bool,
}

impl Test {
    /// As words of a program.
    #[must_use]
    pub fn words(&self) -> Vec<u32, 16> {
        let (reach, many, n, steps) = match self.whose {
            Whose::Own => (0, 0, 0, 0),
            Whose::Owner(_) => (1, 0, 0, 0),
            Whose::Parts { steps, many, .. } => {
                let (many, n) = match many {
                    Many::AtLeast(n) => (0, n),
                    Many::Every => (1, 0),
                    Many::FewerThan(n) => (2, n),
                    Many::Exactly(n) => (3, n),
                };
                (2, many, n, u32::from(steps))
            }
        };
        let what = match self.what {
            What::State(_) => 0,
            What::Sure(..) => 1,
            What::Within(..) => 2,
            What::Values(..) => 3,
            What::Has(..) => 4,
            What::OutOfSight => 5,
        };
        let head = TEST
            | (reach << 8)
            | (many << 10)
            | (what << 12)
            | (u32::from(self.yes) << 15)
            | (u32::from(n) << 16)
            | (steps << 24);
        let mut words = Vec::new();
        // Sixteen words hold the longest test: head, eight kinds, three operands.
        let mut put = |word: u32| {
            let _ = words.push(word);
        };
        put(head);
        match &self.whose {
            Whose::Own => {}
            Whose::Owner(kind) => put(u32::from(*kind)),
            Whose::Parts { path, steps, .. } => {
                for kind in path.iter().take(usize::from(*steps)) {
                    put(u32::from(*kind));
                }
            }
        }
        match self.what {
            What::State(state) => put(u32::from(state)),
            What::Sure(state, least) => put(u32::from(state) | (u32::from(least) << 16)),
            What::Within(ask, from, to) | What::Has(ask, from, to) => {
                put(u32::from(ask));
                put(from.cast_unsigned());
                put(to.cast_unsigned());
            }
            What::Values(ask, values) => {
                put(u32::from(ask));
                put(values);
            }
            What::OutOfSight => {}
        }
        words
    }
}

enum Token {
    Test(Test),
    All(usize),
    Any(usize),
    Always,
}

/// Reads a program token by token; `None` where it ends or is broken.
struct Tokens<'a> {
    words: &'a [u32],
    at: usize,
}

impl Tokens<'_> {
    fn word(&mut self) -> Option<u32> {
        let word = self.words.get(self.at).copied()?;
        self.at += 1;
        Some(word)
    }

    #[allow(clippy::cast_possible_truncation)]
    fn half(&mut self) -> Option<u16> {
        Some(self.word()? as u16)
    }

    fn ended(&self) -> bool {
        self.words.get(self.at) == Some(&END)
    }

    fn next(&mut self) -> Option<Token> {
        let head = self.word()?;
        let n = ((head >> 16) & 0xff).to_le_bytes()[0];
        match head & 0xff {
            ALL => return Some(Token::All(usize::from(n))),
            ANY => return Some(Token::Any(usize::from(n))),
            ALWAYS => return Some(Token::Always),
            TEST => {}
            _ => return None,
        }
        let whose = match (head >> 8) & 3 {
            0 => Whose::Own,
            1 => Whose::Owner(self.half()?),
            2 => {
                let steps = (head >> 24).to_le_bytes()[0];
                let mut path = [NONE; MAX_DEPTH];
                if steps == 0 {
                    return None;
                }
                for step in 0..usize::from(steps) {
                    *path.get_mut(step)? = self.half()?;
                }
                let many = match (head >> 10) & 3 {
                    0 => Many::AtLeast(n),
                    1 => Many::Every,
                    2 => Many::FewerThan(n),
                    _ => Many::Exactly(n),
                };
                Whose::Parts { path, steps, many }
            }
            _ => return None,
        };
        #[allow(clippy::cast_possible_truncation)]
        let what = match (head >> 12) & 7 {
            0 => What::State(self.half()?),
            1 => {
                let word = self.word()?;
                What::Sure(word as u16, (word >> 16) as u16)
            }
            2 => What::Within(
                self.half()?,
                self.word()?.cast_signed(),
                self.word()?.cast_signed(),
            ),
            3 => What::Values(self.half()?, self.word()?),
            4 => What::Has(
                self.half()?,
                self.word()?.cast_signed(),
                self.word()?.cast_signed(),
            ),
            5 => What::OutOfSight,
            _ => return None,
        };
        let yes = (head >> 15) & 1 == 1;
        Some(Token::Test(Test { whose, what, yes }))
    }
}

/// Whether a program that starts there is whole and names only what there is.
pub(crate) fn is_sound(pack: &Pack<'_>, at: u32) -> bool {
    let kind = |k: u16| usize::from(k) < pack.kinds();
    let state = |s: u16| usize::from(s) < pack.states();
    let ask = |a: u16| usize::from(a) < pack.asks();
    let mut tokens = Tokens {
        words: pack.condition(at),
        at: 0,
    };
    let mut height = 0_usize;
    while !tokens.ended() {
        match tokens.next() {
            Some(Token::Test(test)) => {
                let reach = match test.whose {
                    Whose::Own => true,
                    Whose::Owner(k) => kind(k),
                    Whose::Parts { path, steps, .. } => {
                        path.iter().take(usize::from(steps)).all(|&k| kind(k))
                    }
                };
                let said = match test.what {
                    What::State(s) | What::Sure(s, _) => state(s),
                    What::Within(a, ..) | What::Values(a, _) => ask(a),
                    What::Has(k, ..) => kind(k),
                    What::OutOfSight => true,
                };
                if !reach || !said {
                    return false;
                }
                height += 1;
            }
            Some(Token::All(n) | Token::Any(n)) => {
                if n == 0 || n > height {
                    return false;
                }
                height -= n - 1;
            }
            Some(Token::Always) => height += 1,
            None => return false,
        }
        if height > MAX_CONDITION_STACK {
            return false;
        }
    }
    height == 1
}

/// Works out conditions for one piece.
///
/// `chance` gives the chance of a hidden state of a part; it is asked only for
/// tests that name a sureness.
#[derive(Debug)]
pub struct Judge<'p, 'a, 'm, C> {
    pack: &'p Pack<'a>,
    piece: &'p Piece<'m>,
    chance: C,
}

impl<'p, 'a, 'm, C: FnMut(usize, u16) -> Share> Judge<'p, 'a, 'm, C> {
    /// A judge of conditions on this piece.
    pub fn new(pack: &'p Pack<'a>, piece: &'p Piece<'m>, chance: C) -> Self {
        Self {
            pack,
            piece,
            chance,
        }
    }

    /// Whether the condition that starts there holds for this part.
    pub fn holds(&mut self, condition: u32, subject: usize) -> Truth {
        let mut tokens = Tokens {
            words: self.pack.condition(condition),
            at: 0,
        };
        let mut stack: Vec<Truth, MAX_CONDITION_STACK> = Vec::new();
        while !tokens.ended() {
            let result = match tokens.next() {
                Some(Token::Test(test)) => self.test(&test, subject),
                Some(Token::All(n)) => take(&mut stack, n).fold(Truth::True, Truth::and),
                Some(Token::Any(n)) => take(&mut stack, n).fold(Truth::False, Truth::or),
                Some(Token::Always) => Truth::True,
                None => return Truth::NotKnown,
            };
            if stack.push(result).is_err() {
                return Truth::NotKnown;
            }
        }
        stack.pop().unwrap_or(Truth::NotKnown)
    }

    fn test(&mut self, test: &Test, subject: usize) -> Truth {
        match &test.whose {
            Whose::Own => self.of(subject, test),
            Whose::Owner(kind) => {
                let owner = self.piece.owners(subject).find(|&o| {
                    let place = self.pack.place(usize::from(self.piece.part(o).place));
                    place.kind == *kind || (*kind == 0 && place.owner == NONE)
                });
                owner.map_or(Truth::NotKnown, |owner| self.of(owner, test))
            }
            Whose::Parts { path, steps, many } => {
                let path = path.get(..usize::from(*steps)).unwrap_or(&[]);
                let mut tally = Tally::default();
                self.walk(subject, path, test, &mut tally);
                tally.verdict(*many)
            }
        }
    }

    /// Every part down the path, without recursion: one range of parts for
    /// each step.
    fn walk(&mut self, subject: usize, path: &[u16], test: &Test, tally: &mut Tally) {
        let mut open: Vec<core::ops::Range<usize>, MAX_DEPTH> = Vec::new();
        let Some(&first) = path.first() else { return };
        let _ = open.push(self.parts_of_kind(subject, first));
        while let Some(range) = open.last_mut() {
            let Some(part) = range.next() else {
                open.pop();
                continue;
            };
            match path.get(open.len()) {
                None => tally.add(self.of(part, test)),
                Some(&kind) => {
                    let inner = self.parts_of_kind(part, kind);
                    let _ = open.push(inner);
                }
            }
        }
    }

    fn parts_of_kind(&self, part: usize, kind: u16) -> core::ops::Range<usize> {
        let place = usize::from(self.piece.part(part).place);
        self.pack
            .children(place)
            .find(|&c| self.pack.place(c).kind == kind)
            .map_or(0..0, |child| self.piece.children_at(part, child))
    }

    fn of(&mut self, part: usize, test: &Test) -> Truth {
        let truth = match test.what {
            What::State(state) => {
                let record = self.pack.state(usize::from(state));
                self.piece.truth(self.pack, part, &record)
            }
            What::Sure(state, least) => {
                let record = self.pack.state(usize::from(state));
                match self.piece.truth(self.pack, part, &record) {
                    Truth::NotKnown if record.nature == Nature::Hidden => {
                        (self.chance)(part, state).reaches(least).into()
                    }
                    known => known,
                }
            }
            What::Within(ask, from, to) => match self.piece.answer(self.pack, part, ask) {
                crate::piece::Answer::Reading(x) => (from <= x && x <= to).into(),
                _ => Truth::NotKnown,
            },
            What::Values(ask, values) => match self.piece.answer(self.pack, part, ask) {
                crate::piece::Answer::Value(v) => {
                    (values.checked_shr(u32::from(v)).unwrap_or(0) & 1 == 1).into()
                }
                _ => Truth::NotKnown,
            },
            What::Has(kind, from, to) => self.has(part, kind, from, to),
            What::OutOfSight => self.piece.part(part).out_of_sight.into(),
        };
        truth.is(test.yes)
    }

    /// A number of parts is known if it was counted, or if nobody counts it
    /// and so it was stated when the piece was set up.
    fn has(&self, part: usize, kind: u16, from: i32, to: i32) -> Truth {
        let place = usize::from(self.piece.part(part).place);
        let counted = self
            .pack
            .asks_of(place)
            .find(|&a| self.pack.ask(usize::from(a)).form == Form::HowMany { part: kind });
        let number = match counted {
            Some(ask) => match self.piece.answer(self.pack, part, ask) {
                crate::piece::Answer::Reading(n) => n,
                _ => return Truth::NotKnown,
            },
            None => i32::try_from(self.parts_of_kind(part, kind).len()).unwrap_or(i32::MAX),
        };
        (from <= number && number <= to).into()
    }
}

fn take(stack: &mut Vec<Truth, MAX_CONDITION_STACK>, n: usize) -> impl Iterator<Item = Truth> {
    let mut left = n;
    core::iter::from_fn(move || {
        left = left.checked_sub(1)?;
        stack.pop()
    })
}

#[derive(Default)]
struct Tally {
    yes: usize,
    unknown: usize,
    all: usize,
}

impl Tally {
    fn add(&mut self, truth: Truth) {
        self.all += 1;
        match truth {
            Truth::True => self.yes += 1,
            Truth::NotKnown => self.unknown += 1,
            Truth::False => {}
        }
    }

    fn at_least(&self, n: usize) -> Truth {
        if self.yes >= n {
            Truth::True
        } else if self.yes + self.unknown >= n {
            Truth::NotKnown
        } else {
            Truth::False
        }
    }

    fn verdict(&self, many: Many) -> Truth {
        match many {
            Many::AtLeast(n) => self.at_least(usize::from(n)),
            Many::Every => self.at_least(self.all),
            Many::FewerThan(n) => !self.at_least(usize::from(n)),
            Many::Exactly(n) => {
                let n = usize::from(n);
                self.at_least(n).and(!self.at_least(n + 1))
            }
        }
    }
}
