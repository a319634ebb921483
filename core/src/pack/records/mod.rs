//! The rows of a pack's tables. Each is a few 32-bit words, read on demand.

mod asks;
mod conditional;
mod fragments;
mod jobs;
mod kinds;
mod only_ifs;
mod rounds;
mod sentences;
mod states;
mod worked_out;

pub use asks::{Ask, Form, Touch, Way};
pub use conditional::{Bound, Caution, Dating, Plan};
pub use fragments::{Fragment, GROUP_WORDS, Group};
pub use jobs::{Constraint, Force, Job, Pair};
pub use kinds::{Kind, Lineage, Place, Remark};
pub use only_ifs::OnlyIf;
pub use rounds::{Round, Step};
pub use sentences::Sentence;
pub use states::{Nature, State, Trial, Verb};
pub use worked_out::{WorkedOut, Working};

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pack::layout::Row;

    fn read<R: Row>(words: &[u32]) -> R {
        R::read(words)
    }

    #[test]
    fn a_row_is_read_as_it_was_written() {
        let trials = [Trial::Yes, Trial::Within(-3, i32::MAX), Trial::Value(7)];
        for trial in trials {
            let state = State {
                phrase: 0x0102,
                kind: 0x0304,
                ask: 0x0506,
                whether: 0x0708,
                verb: Verb::Has,
                nature: Nature::Hidden,
                risk: 5,
                trial,
                missed: 0x090a,
                own: 0x0b0c,
            };
            assert_eq!(read::<State>(&state.words()), state);
        }
        let forms = [
            Form::Whether,
            Form::Which {
                first: 1,
                values: 2,
            },
            Form::HowMuch {
                least: -1,
                most: i32::MIN,
                gauge: 0xfffe,
                unit: 0xfd,
            },
            Form::HowMany { part: 0xfffc },
            Form::Degrees {
                first: 3,
                values: 4,
            },
        ];
        for form in forms {
            let ask = Ask {
                kind: 0x0102,
                question: 0x0304,
                how: 0x0506,
                phrase: 0x0708,
                word: 0x090a,
                minutes: 0x0b0c,
                way: Way::Open,
                touch: Touch::ALot,
                form,
                slip: 0x0d0e,
            };
            assert_eq!(read::<Ask>(&ask.words()), ask);
        }
        let bounds = [
            Bound::NotEarlier(1),
            Bound::NotLater(2),
            Bound::Usually(3, 4),
            Bound::Later(5),
            Bound::Lost(6),
        ];
        for bound in bounds {
            let dating = Dating {
                subject: 1,
                source: 2,
                condition: 3,
                bound,
                strength: 4,
                region: 5,
            };
            assert_eq!(read::<Dating>(&dating.words()), dating);
        }
    }

    #[test]
    fn every_bit_of_a_row_that_has_no_gaps_comes_back() {
        let kind = [0x0123_4567, 0x89ab_cdef, 0x0f1e_2d3c];
        assert_eq!(read::<Kind>(&kind).words(), kind);
        let place = [0x0123_4567, 0x89ab_cdef, 0x0f1e_2d3c, 0x4b5a_6978];
        assert_eq!(read::<Place>(&place).words(), place);
        let sentence = [0x0123_4567, 0x89ab_cdef];
        assert_eq!(read::<Sentence>(&sentence).words(), sentence);
        let group = [1, 2, 3, 4, 5, 6, 7, 8, 9].map(|n: u32| n.wrapping_mul(0x1234_5679));
        assert_eq!(read::<Group>(&group).words(), group);
        let job = [1, 2, 3, 4, 0x7f01_0000_u32];
        assert_eq!(read::<Job>(&job).words(), job);
    }

    #[test]
    fn the_low_byte_of_a_word_comes_first() {
        let fragment = read::<Fragment>(&[9, 0x0003_0201, 0x0005_0004, 0x0007_0006]);
        assert_eq!((fragment.reads, fragment.feeds, fragment.groups), (1, 2, 3));
        assert_eq!((fragment.constants, fragment.states), (4, 5));
        assert_eq!((fragment.table, fragment.steps), (6, 7));
    }

    #[test]
    fn a_group_that_no_number_can_count_has_the_largest_number_of_entries() {
        let one = |reads, feeds, caps| Group {
            reads,
            feeds,
            caps,
            ..Group::default()
        };
        assert_eq!(one(2, 1, [3; 12]).entries(), 16);
        assert_eq!(one(0, 12, [255; 12]).entries(), usize::MAX);
        assert_eq!(one(16, 7, [255; 12]).entries(), usize::MAX);
    }
}
