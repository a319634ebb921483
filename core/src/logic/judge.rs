//! Runs the conditions of a pack over a piece.
//!
//! What is not known is first taken not to help; if the condition then fails, it is
//! run again with what is not known taken to help. Since "not" stands only at the
//! tests, that gives the values of Kleene's strong three-valued logic (S. C. Kleene,
//! Introduction to Metamathematics, 1952, section 64).

use heapless::Vec;

use super::tally::Tally;
use crate::limits::MAX_DEPTH;
use crate::number::Share;
use crate::pack::condition::opcode::{ALWAYS, OWN, PIECE};
use crate::pack::condition::{Among, Go, Reader, Test, What, Whose};
use crate::pack::{Form, NONE, Nature, Pack};
use crate::piece::{Answer, Judged, Piece};
use crate::truth::Truth;

/// Conditions of other things that are looked at for one: see [`Judge::left`].
const MOST_CONDITIONS: u16 = 4_096;

/// How a run through a program ended.
enum Outcome {
    Holds,
    /// All that was looked at is known.
    Fails,
    /// Something on the way was not known.
    FailsUnknown,
}

/// Works out conditions for one piece.
///
/// `chance` gives the chance of a hidden state of a part, if it can be told; it is asked
/// only for tests that name a sureness. What cannot be is known not to be (see
/// [`can_be`](super::can_be)).
pub struct Judge<'p, 'a, 'm> {
    pack: &'p Pack<'a>,
    piece: &'p Piece<'m>,
    /// Asks that any piece has: they stand before the piece's own.
    shared: usize,
    chance: &'p mut dyn FnMut(usize, u16) -> Option<Share>,
    /// How many conditions deep: whether one thing can be may hang on another.
    depth: usize,
    /// How many more such conditions are looked at before the rest are left open. No
    /// house comes near it; a pack that somebody made to do harm could ask for millions.
    left: u16,
}

impl<'p, 'a, 'm> Judge<'p, 'a, 'm> {
    /// A judge of conditions on this piece.
    pub fn new(
        pack: &'p Pack<'a>,
        piece: &'p Piece<'m>,
        chance: &'p mut dyn FnMut(usize, u16) -> Option<Share>,
    ) -> Self {
        let shared = match piece.record(0).kind {
            0 => 0,
            _ => usize::from(pack.kind(0).asks),
        };
        Self {
            pack,
            piece,
            shared,
            chance,
            depth: 0,
            left: MOST_CONDITIONS,
        }
    }

    /// Whether what a question asks for can be so of a part, as far as is known.
    #[inline(never)]
    pub(super) fn can_be(&mut self, part: usize, ask: u16) -> bool {
        for row in 0..self.pack.only_ifs() {
            let only_if = self.pack.only_if(row);
            if only_if.ask != ask {
                continue;
            }
            let Some(left) = self.left.checked_sub(1) else {
                return true;
            };
            let mut chance = |_: usize, _: u16| None;
            let mut deeper = Judge {
                depth: self.depth + 1,
                left,
                chance: &mut chance,
                ..*self
            };
            let truth = deeper.of_condition(only_if.condition, part);
            self.left = deeper.left;
            if truth == Truth::False {
                return false;
            }
        }
        true
    }

    /// What is not known of what cannot be is known after all.
    fn unless_ruled_out(&mut self, truth: Truth, part: usize, ask: u16) -> Truth {
        let may_be_ruled_out = truth == Truth::NotKnown && self.depth < MAX_DEPTH;
        if may_be_ruled_out && !self.can_be(part, ask) {
            return Truth::False;
        }
        truth
    }

    /// What was answered to a yes/no question of a part, by the answer's number.
    fn said(&mut self, answer: usize, part: usize) -> Truth {
        let said = self.piece.said(answer);
        if said != Truth::NotKnown || self.pack.only_ifs() == 0 {
            return said;
        }
        let record = self.piece.record(part);
        let slot = answer.saturating_sub(usize::from(record.first_answer));
        match self.pack.asks_of(usize::from(record.place)).nth(slot) {
            Some(ask) => self.unless_ruled_out(said, part, ask),
            None => said,
        }
    }

    /// Whether the condition that starts there holds for this part, which is one of the
    /// piece.
    pub fn holds(&mut self, condition: u32, subject: usize) -> Truth {
        self.left = MOST_CONDITIONS;
        self.of_condition(condition, subject)
    }

    fn of_condition(&mut self, condition: u32, subject: usize) -> Truth {
        self.of_program(self.pack.condition(condition), subject)
    }

    /// The same of a program that is not one of the pack's, in the pack's own numbers.
    pub fn holds_by(&mut self, program: &[u32], subject: usize) -> Truth {
        self.left = MOST_CONDITIONS;
        self.of_program(program, subject)
    }

    fn of_program(&mut self, words: &[u32], subject: usize) -> Truth {
        let own = match subject {
            0 => self.shared,
            part => usize::from(self.piece.record(part).first_answer),
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
                OWN => self.said(own + slot, subject).is(yes),
                PIECE => self.said(slot, 0).is(yes),
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
                    let place = self.pack.place(usize::from(self.piece.record(o).place));
                    place.kind == *kind || (*kind == 0 && place.owner == NONE)
                });
                // Of what is not there nothing is true, whichever way it is put.
                owner.map_or(Truth::False, |owner| self.of(owner, test))
            }
            Whose::Parts {
                path, steps, many, ..
            } => {
                let path = path.get(..usize::from(*steps)).unwrap_or(&[]);
                let mut tally = Tally::default();
                self.walk(subject, path, test, &mut tally);
                tally.verdict(*many)
            }
            Whose::Others { kind, many } => {
                let mut tally = Tally::default();
                let owner = self.piece.owners(subject).next();
                let parts = owner.map_or(0..0, |owner| self.parts_of_kind(owner, *kind));
                for part in parts.filter(|&part| part != subject) {
                    tally.add(self.of(part, test));
                }
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
                None if !self.is_meant(part, test) => {}
                None => tally.add(self.of(part, test)),
                Some(&kind) => {
                    let inner = self.parts_of_kind(part, kind);
                    let _ = open.push(inner);
                }
            }
        }
    }

    /// Whether a part is among those that a test is about.
    fn is_meant(&self, part: usize, test: &Test) -> bool {
        match test.whose {
            Whose::Parts { among, .. } => among == Among::ALL || self.piece.is_among(part, among),
            _ => true,
        }
    }

    fn parts_of_kind(&self, part: usize, kind: u16) -> core::ops::Range<usize> {
        let place = usize::from(self.piece.record(part).place);
        self.pack
            .children(place)
            .find(|&c| self.pack.place(c).kind == kind)
            .map_or(0..0, |child| self.piece.children_at(part, child))
    }

    fn of(&mut self, part: usize, test: &Test) -> Truth {
        let truth = match test.what {
            What::State(state) => {
                let record = self.pack.state(usize::from(state));
                let truth = self.piece.truth(self.pack, part, &record);
                self.unless_ruled_out(truth, part, record.ask)
            }
            What::Sure(state, least) => {
                let record = self.pack.state(usize::from(state));
                let truth = self.piece.truth(self.pack, part, &record);
                match self.unless_ruled_out(truth, part, record.ask) {
                    Truth::NotKnown if record.nature == Nature::Hidden => {
                        let chance = (self.chance)(part, state);
                        chance.map_or(Truth::NotKnown, |chance| chance.reaches(least).into())
                    }
                    known => known,
                }
            }
            What::Within(ask, from, to) => self.within(part, ask, (from, to)),
            What::Values(ask, values) => match self.piece.answer(self.pack, part, ask) {
                Some(Answer::Value(v)) => {
                    (values.checked_shr(u32::from(v)).unwrap_or(0) & 1 == 1).into()
                }
                _ => Truth::NotKnown,
            },
            What::Has(kind, from, to) => self.has(part, kind, from, to),
            What::OutOfSight => self.piece.record(part).out_of_sight.into(),
        };
        truth.is(test.yes)
    }

    /// What was measured, or judged in degrees, is known; of the rest, what is so (or not
    /// so) over its whole range.
    fn within(&mut self, part: usize, ask: u16, (from, to): (i32, i32)) -> Truth {
        let answer = self.piece.answer(self.pack, part, ask).unwrap_or_default();
        if let Some(reading) = answer.reading() {
            return unmeasured((reading, reading), (from, to));
        }
        let (least, most) = match (answer, self.pack.ask(usize::from(ask)).form) {
            (_, Form::HowMuch { least, most, .. }) => (least, most),
            (answer, Form::Degrees { values, .. }) => {
                let highest = i32::from(values).saturating_sub(1);
                let judged = match answer {
                    Answer::Value(value) => Judged::of(value),
                    _ => None,
                };
                let left = judged.map_or((0, highest), |judged| judged.leaves(highest));
                let is_open = left == (0, highest);
                if is_open && self.unless_ruled_out(Truth::NotKnown, part, ask) == Truth::False {
                    (0, 0)
                } else {
                    left
                }
            }
            _ => return Truth::NotKnown,
        };
        unmeasured((least, most), (from, to))
    }

    /// A number of parts is known if it was counted, or if nobody counts it
    /// and so it was stated when the piece was set up. What no count could change is
    /// known as well.
    fn has(&self, part: usize, kind: u16, from: i32, to: i32) -> Truth {
        let place = usize::from(self.piece.record(part).place);
        let counted = self
            .pack
            .asks_of(place)
            .find(|&a| self.pack.ask(usize::from(a)).form == Form::HowMany { part: kind });
        let number = match counted {
            Some(ask) => match self.piece.answer(self.pack, part, ask) {
                Some(Answer::Reading(n)) => n,
                _ => {
                    let mut children = self.pack.children(place).map(|at| self.pack.place(at));
                    let range = children.find(|child| child.kind == kind);
                    let range = range.map_or((0, 0), |child| (child.least, child.most));
                    return unmeasured((range.0.into(), range.1.into()), (from, to));
                }
            },
            None => i32::try_from(self.parts_of_kind(part, kind).len()).unwrap_or(i32::MAX),
        };
        (from <= number && number <= to).into()
    }
}

/// Whether a quantity that nobody measured, but that lies within a range, lies within
/// bounds; both include their ends.
fn unmeasured((least, most): (i32, i32), (from, to): (i32, i32)) -> Truth {
    match () {
        () if most < from || to < least => Truth::False,
        () if from <= least && most <= to => Truth::True,
        () => Truth::NotKnown,
    }
}
