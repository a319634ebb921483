//! What is noted at the bench, to bytes and back.

use proptest::prelude::*;
use tellmark_core::piece::Answer;
use tellmark_core::record::{BODY, Noted};

fn answers() -> impl Strategy<Value = Answer> {
    prop_oneof![
        Just(Answer::NotLooked),
        Just(Answer::CannotSee),
        any::<bool>().prop_map(Answer::Seen),
        any::<bool>().prop_map(Answer::Looks),
        any::<bool>().prop_map(Answer::Certain),
        any::<i32>().prop_map(Answer::Reading),
        any::<u8>().prop_map(Answer::Value),
    ]
}

fn noted() -> impl Strategy<Value = Noted> {
    prop_oneof![
        any::<(u16, u32)>().prop_map(|(root, pack)| Noted::Begun { root, pack }),
        any::<(u16, u16, u8)>().prop_map(|(owner, place, number)| Noted::Parts {
            owner,
            place,
            number
        }),
        any::<u16>().prop_map(|parts| Noted::SetUp { parts }),
        (any::<(u16, u16)>(), answers()).prop_map(|((part, ask), answer)| Noted::Answered {
            part,
            ask,
            answer
        }),
        any::<(u16, bool)>()
            .prop_map(|(part, out_of_sight)| Noted::OutOfSight { part, out_of_sight }),
        any::<(u16, u16)>().prop_map(|(caution, part)| Noted::Heeded { caution, part }),
        any::<(u16, u16)>().prop_map(|(part, remark)| Noted::Remarked { part, remark }),
        Just(Noted::Finished),
    ]
}

proptest! {
    #[test]
    fn comes_back_as_it_was(noted in noted()) {
        prop_assert_eq!(Noted::from_bytes(noted.to_bytes()), Some(noted));
    }

    #[test]
    fn other_bytes_are_refused_or_mean_one_thing(bytes in any::<[u8; BODY]>(), what in 0_u8..9) {
        let mut bytes = bytes;
        bytes[0] = what;
        if let Some(noted) = Noted::from_bytes(bytes) {
            prop_assert_eq!(noted.to_bytes(), bytes);
        }
    }
}

/// The layout that is on units already.
#[test]
fn the_layout_stays() {
    let answered = Noted::Answered {
        part: 0x0102,
        ask: 0x0304,
        answer: Answer::Reading(-2),
    };
    assert_eq!(
        answered.to_bytes(),
        [4, 5, 0x02, 0x01, 0x04, 0x03, 0xFE, 0xFF, 0xFF, 0xFF]
    );
    let begun = Noted::Begun {
        root: 7,
        pack: 0xDEAD_BEEF,
    };
    assert_eq!(begun.to_bytes(), [1, 0, 7, 0, 0, 0, 0xEF, 0xBE, 0xAD, 0xDE]);
}
