//! Conditions as programs in a pack, and how they are worked out.
//!
//! A program is a row of instructions. Each looks at something and says where to
//! go on if it is so and where if it is not; two places stand for "the condition
//! holds" and "it does not". Jumps only ever go forwards. What is not known is
//! first taken not to help; if the condition then fails, it is tried again with
//! what is not known taken to help. Since "not" stands only at the tests, that
//! gives the values of Kleene's strong three-valued logic (S. C. Kleene,
//! Introduction to Metamathematics, 1952, section 64). The word layout is given
//! in `core/src/pack/FORMAT.md`.

use heapless::Vec;

use super::Truth;
use crate::limits::MAX_DEPTH;
use crate::number::Share;
use crate::pack::{Form, NONE, Nature, Pack};
use crate::piece::{Answer, Piece};

/// Ends a program.
pub const END: u32 = 0;
const TEST: u32 = 1;
const OWN: u32 = 2;
const PIECE: u32 = 3;
const ALWAYS: u32 = 4;

/// Where to go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Go {
    /// The instruction that starts this many words into the program.
    To(u16),
    /// Nowhere: the condition holds.
    Holds,
    /// Nowhere: it does not.
    Fails,
}

impl Go {
    fn half(self) -> u32 {
        match self {
            Self::To(at) => u32::from(at),
            Self::Holds => 0xffff,
            Self::Fails => 0xfffe,
        }
    }

    fn of(half: u32) -> Self {
        match half & 0xffff {
            0xffff => Self::Holds,
            0xfffe => Self::Fails,
            #[allow(clippy::cast_possible_truncation)]
            at => Self::To(at as u16),
        }
    }
}

/// One look of a condition at what is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Always so.
    Always,
    /// The answer to one of the subject's yes/no asks, by its number among the
    /// asks of its kind, is yes (or is no).
    Own(u16, bool),
    /// The same of one of the asks that any piece has, about the piece.
    Piece(u16, bool),
    /// Anything else.
    Test(Test),
}

impl Look {
    /// How many words its instruction takes.
    #[must_use]
    pub fn length(&self) -> usize {
        match self {
            Self::Always | Self::Own(..) | Self::Piece(..) => 2,
            Self::Test(test) => test.words().len() + 1,
        }
    }

    /// Its instruction: what to look at, and where to go on if it is so and if
    /// it is not.
    #[must_use]
    pub fn words(&self, so: Go, not: Go) -> Vec<u32, 16> {
        let mut words = Vec::new();
        // Sixteen words hold the longest test: head, jumps, eight kinds, three
        // operands.
        let mut put = |word: u32| {
            let _ = words.push(word);
        };
        let jumps = so.half() | (not.half() << 16);
        let asked =
            |op: u32, slot: u16, yes: bool| op | (u32::from(yes) << 15) | (u32::from(slot) << 16);
        match self {
            Self::Always => put(ALWAYS),
            Self::Own(slot, yes) => put(asked(OWN, *slot, *yes)),
            Self::Piece(slot, yes) => put(asked(PIECE, *slot, *yes)),
            Self::Test(test) => {
                let test = test.words();
                let (head, operands) = test.split_first().unwrap_or((&END, &[]));
                put(*head);
                put(jumps);
                operands.iter().for_each(|&word| put(word));
                return words;
            }
        }
        put(jumps);
        words
    }
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
    /// Its head and its operands.
    fn words(&self) -> Vec<u32, 16> {
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

/// An instruction as it is read.
struct Instruction {
    look: Look,
    so: Go,
    not: Go,
}

/// Reads a program instruction by instruction; `None` where it is broken.
struct Reader<'a> {
    words: &'a [u32],
    at: usize,
}

impl Reader<'_> {
    fn word(&mut self) -> Option<u32> {
        let word = self.words.get(self.at).copied()?;
        self.at += 1;
        Some(word)
    }

    #[allow(clippy::cast_possible_truncation)]
    fn half(&mut self) -> Option<u16> {
        Some(self.word()? as u16)
    }

    fn next(&mut self) -> Option<Instruction> {
        let head = self.word()?;
        let jumps = self.word()?;
        let yes = (head >> 15) & 1 == 1;
        #[allow(clippy::cast_possible_truncation)]
        let slot = (head >> 16) as u16;
        let look = match head & 0xff {
            ALWAYS => Look::Always,
            OWN => Look::Own(slot, yes),
            PIECE => Look::Piece(slot, yes),
            TEST => Look::Test(self.test(head)?),
            _ => return None,
        };
        Some(Instruction {
            look,
            so: Go::of(jumps),
            not: Go::of(jumps >> 16),
        })
    }

    fn test(&mut self, head: u32) -> Option<Test> {
        let n = ((head >> 16) & 0xff).to_le_bytes()[0];
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
        Some(Test { whose, what, yes })
    }
}

/// Whether a program that starts there, about parts of that kind, is whole,
/// goes only forwards and names only what there is.
pub(crate) fn is_sound(pack: &Pack<'_>, at: u32, subject: u16) -> bool {
    let words = pack.condition(at);
    let mut reader = Reader { words, at: 0 };
    while reader.words.get(reader.at) != Some(&END) {
        let Some(instruction) = reader.next() else {
            return false;
        };
        let lands = |go: Go| match go {
            Go::To(to) => usize::from(to) >= reader.at && starts_one(words, usize::from(to)),
            Go::Holds | Go::Fails => true,
        };
        if !names_what_there_is(pack, &instruction.look, subject)
            || !lands(instruction.so)
            || !lands(instruction.not)
        {
            return false;
        }
    }
    reader.at > 0
}

/// Whether an instruction starts at that word.
fn starts_one(words: &[u32], at: usize) -> bool {
    let mut reader = Reader { words, at: 0 };
    while reader.at < at && reader.words.get(reader.at) != Some(&END) {
        if reader.next().is_none() {
            return false;
        }
    }
    reader.at == at && words.get(at).is_some_and(|&word| word != END)
}

fn names_what_there_is(pack: &Pack<'_>, look: &Look, subject: u16) -> bool {
    let kind = |k: u16| usize::from(k) < pack.kinds();
    let state = |s: u16| usize::from(s) < pack.states();
    let ask = |a: u16| usize::from(a) < pack.asks();
    let whether = |kind: u16, slot: u16| {
        let kind = pack.kind(usize::from(kind));
        let ask = kind.first_ask.saturating_add(slot);
        slot < kind.asks && pack.ask(usize::from(ask)).form == Form::Whether
    };
    match look {
        Look::Always => true,
        Look::Own(slot, _) => whether(subject, *slot),
        Look::Piece(slot, _) => whether(0, *slot),
        Look::Test(test) => {
            let reach = match &test.whose {
                Whose::Own => true,
                Whose::Owner(k) => kind(*k),
                Whose::Parts { path, steps, .. } => {
                    path.iter().take(usize::from(*steps)).all(|&k| kind(k))
                }
            };
            let said = match test.what {
                What::State(s) | What::Sure(s, _) => state(s),
                What::Within(a, ..) | What::Values(a, _) => ask(a),
                What::Has(k, ..) => kind(k),
                What::OutOfSight => true,
            };
            reach && said
        }
    }
}

/// What a condition looks at, if it looks at one thing only.
pub(crate) fn only_look(pack: &Pack<'_>, at: u32) -> Option<Look> {
    let words = pack.condition(at);
    let mut reader = Reader { words, at: 0 };
    let only = reader.next()?;
    let is_plain = only.so == Go::Holds && only.not == Go::Fails;
    (is_plain && reader.word() == Some(END)).then_some(only.look)
}

/// Works out conditions for one piece.
///
/// `chance` gives the chance of a hidden state of a part; it is asked only for
/// tests that name a sureness.
#[derive(Debug)]
pub struct Judge<'p, 'a, 'm, C> {
    pack: &'p Pack<'a>,
    piece: &'p Piece<'m>,
    /// Asks that any piece has: they stand before the piece's own.
    shared: usize,
    chance: C,
}

impl<'p, 'a, 'm, C: FnMut(usize, u16) -> Share> Judge<'p, 'a, 'm, C> {
    /// A judge of conditions on this piece.
    pub fn new(pack: &'p Pack<'a>, piece: &'p Piece<'m>, chance: C) -> Self {
        let shared = match piece.part(0).kind {
            0 => 0,
            _ => usize::from(pack.kind(0).asks),
        };
        Self {
            pack,
            piece,
            shared,
            chance,
        }
    }

    /// Whether the condition that starts there holds for this part.
    pub fn holds(&mut self, condition: u32, subject: usize) -> Truth {
        let words = self.pack.condition(condition);
        let own = match subject {
            0 => self.shared,
            part => usize::from(self.piece.part(part).first_answer),
        };
        match self.run(words, subject, own, false) {
            Outcome::Holds => Truth::True,
            Outcome::Fails => Truth::False,
            Outcome::FailsUnknown => match self.run(words, subject, own, true) {
                Outcome::Holds => Truth::NotKnown,
                Outcome::Fails | Outcome::FailsUnknown => Truth::False,
            },
        }
    }

    /// Goes through a program once; what is not known is taken to help or not.
    fn run(&mut self, words: &[u32], subject: usize, own: usize, helps: bool) -> Outcome {
        let mut at = 0;
        let mut unknown = false;
        while let Some(&[head, jumps]) = words.get(at..at + 2) {
            let slot = (head >> 16) as usize;
            let yes = (head >> 15) & 1 == 1;
            let truth = match head & 0xff {
                OWN => self.piece.said(own + slot).is(yes),
                PIECE => self.piece.said(slot).is(yes),
                ALWAYS => Truth::True,
                _ => {
                    let mut reader = Reader { words, at: at + 2 };
                    match reader.test(head) {
                        Some(test) => self.test(&test, subject),
                        None => Truth::NotKnown,
                    }
                }
            };
            let so = match truth {
                Truth::True => true,
                Truth::False => false,
                Truth::NotKnown => {
                    unknown = true;
                    helps
                }
            };
            match Go::of(if so { jumps } else { jumps >> 16 }) {
                Go::To(to) if usize::from(to) > at => at = usize::from(to),
                Go::Holds => return Outcome::Holds,
                Go::To(_) | Go::Fails => break,
            }
        }
        if unknown {
            Outcome::FailsUnknown
        } else {
            Outcome::Fails
        }
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
                Answer::Reading(x) => (from <= x && x <= to).into(),
                _ => Truth::NotKnown,
            },
            What::Values(ask, values) => match self.piece.answer(self.pack, part, ask) {
                Answer::Value(v) => (values.checked_shr(u32::from(v)).unwrap_or(0) & 1 == 1).into(),
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
                Answer::Reading(n) => n,
                _ => return Truth::NotKnown,
            },
            None => i32::try_from(self.parts_of_kind(part, kind).len()).unwrap_or(i32::MAX),
        };
        (from <= number && number <= to).into()
    }
}

/// How a run through a program ended.
enum Outcome {
    Holds,
    /// All that was looked at is known.
    Fails,
    /// Something on the way was not known.
    FailsUnknown,
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
