//! What can be asked of the piece on the bench, and how it can be answered.

use crate::pack::{Ask, Form, NONE, Pack, Way};
use crate::piece::{Answer, Judged, Part};

/// The places of the pieces that the house knows.
pub fn pieces<'a>(pack: &Pack<'a>) -> impl Iterator<Item = usize> + use<'a> {
    let pack = *pack;
    (0..pack.places()).filter(move |&place| {
        let record = pack.place(place);
        record.owner == NONE && record.kind != 0
    })
}

/// Parts of one kind in one owner, whose number the rules leave open.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Countable {
    /// Index of the owner.
    pub owner: usize,
    /// Place of the parts in the pack's tree.
    pub place: usize,
    /// How many there are taken to be.
    pub number: u8,
}

/// Every owner with each of its kinds of part whose number the rules leave open.
pub fn countable<'p>(
    pack: &'p Pack<'_>,
    parts: &'p [Part],
) -> impl Iterator<Item = Countable> + 'p {
    parts.iter().enumerate().flat_map(move |(owner, record)| {
        pack.children(usize::from(record.place))
            .filter(move |&place| {
                let record = pack.place(place);
                record.least < record.most
            })
            .map(move |place| Countable {
                owner,
                place,
                number: number(parts, owner, place),
            })
    })
}

/// How many parts an owner has at a place of the pack's tree.
#[must_use]
pub fn number(parts: &[Part], owner: usize, place: usize) -> u8 {
    let of = |p: &&Part| usize::from(p.owner) == owner && usize::from(p.place) == place;
    u8::try_from(parts.iter().filter(of).count()).unwrap_or(u8::MAX)
}

/// What is asked of the parts at a place: all that the house has a question for,
/// and all that is counted.
pub fn asks_at<'a>(pack: &Pack<'a>, place: usize) -> impl Iterator<Item = u16> + use<'a> {
    let pack = *pack;
    pack.asks_of(place).filter(move |&ask| {
        let ask = pack.ask(usize::from(ask));
        ask.question != 0 || matches!(ask.form, Form::HowMany { .. })
    })
}

/// The place of the parts of a kind right below another place.
#[must_use]
pub fn place_of_parts(pack: &Pack<'_>, owner: usize, kind: u16) -> Option<usize> {
    let mut children = pack.children(owner);
    children.find(|&child| pack.place(child).kind == kind)
}

/// The least and the most that can be read or counted, asked of a part at this
/// place: ticks, or a number of parts. Both are 0 for any other question.
#[must_use]
pub fn bounds(pack: &Pack<'_>, place: usize, ask: &Ask) -> (i32, i32) {
    match ask.form {
        Form::HowMuch { least, most, .. } => (least, most.max(least)),
        Form::HowMany { part: kind } => place_of_parts(pack, place, kind).map_or((0, 0), |child| {
            let record = pack.place(child);
            let least = i32::from(record.least);
            (least, i32::from(record.most).max(least))
        }),
        Form::Whether | Form::Which { .. } | Form::Degrees { .. } => (0, 0),
    }
}

/// A plain yes or no. What was opened up to be seen is certain.
#[must_use]
pub fn yes_or_no(ask: &Ask, yes: bool) -> Answer {
    match ask.way {
        Way::Open => Answer::Certain(yes),
        _ => Answer::Seen(yes),
    }
}

/// How a question can be answered besides plainly.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct OtherAnswers {
    /// It looks like it, or looks unlikely.
    pub looks: bool,
    /// It cannot be seen.
    pub cannot_be_seen: bool,
    /// The answer so far is taken back.
    pub take_back: bool,
}

impl OtherAnswers {
    /// To this question, with this answer so far. Parts once counted can be
    /// counted again, no more: they are there.
    #[must_use]
    pub fn to(ask: &Ask, so_far: Answer) -> Self {
        let answered = so_far != Answer::NotLooked;
        let whether = ask.form == Form::Whether;
        let counted = answered && matches!(ask.form, Form::HowMany { .. });
        Self {
            looks: whether,
            // A hidden fault has no question: it can be opened up, or not yet.
            cannot_be_seen: (!whether || ask.question != 0) && !counted,
            take_back: answered && !counted,
        }
    }
}

/// Why an answer is none to a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unfit {
    /// It is an answer to another form of question.
    Form,
    /// Outside of what can be read, counted or chosen.
    Bounds {
        /// The least that can be.
        least: i32,
        /// The most.
        most: i32,
    },
}

/// Whether an answer can be given to a question about a part at this place.
///
/// # Errors
/// See [`Unfit`].
pub fn fits(pack: &Pack<'_>, place: usize, ask: &Ask, answer: Answer) -> Result<(), Unfit> {
    let within = |value: i32, (least, most): (i32, i32)| {
        if (least..=most).contains(&value) {
            Ok(())
        } else {
            Err(Unfit::Bounds { least, most })
        }
    };
    match (ask.form, answer) {
        (_, Answer::NotLooked | Answer::CannotSee)
        | (Form::Whether, Answer::Seen(_) | Answer::Looks(_) | Answer::Certain(_)) => Ok(()),
        (Form::HowMuch { .. } | Form::HowMany { .. }, Answer::Reading(ticks)) => {
            within(ticks, bounds(pack, place, ask))
        }
        (Form::Which { values, .. }, Answer::Value(value)) => {
            within(i32::from(value), (0, i32::from(values) - 1))
        }
        (Form::Degrees { values, .. }, Answer::Value(value)) => {
            let degree = Judged::of(value).ok_or(Unfit::Form)?.degree;
            within(i32::from(degree), (0, i32::from(values) - 1))
        }
        _ => Err(Unfit::Form),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::with_chest;

    #[test]
    fn what_the_rules_leave_open_can_be_counted() {
        with_chest(3, |chest| {
            let (pack, parts) = (chest.pack(), chest.piece().parts());
            assert_eq!(pieces(pack).count(), 2);
            let kind = |c: &Countable| pack.text(pack.kind(pack.place(c.place).kind.into()).name);
            let drawers = countable(pack, parts).find(|c| kind(c) == "drawer");
            assert_eq!(drawers.map(|c| c.number), Some(3));
            // There are always four feet.
            assert!(!countable(pack, parts).any(|c| kind(&c) == "French foot"));
        });
    }

    #[test]
    fn only_what_answers_a_question_fits_it() {
        with_chest(2, |chest| {
            let pack = chest.pack();
            let asks = |kind: &str, words| {
                let kind = pack.find_kind(kind).unwrap_or(u16::MAX);
                let ask = pack.find_ask(kind, words).unwrap_or(u16::MAX);
                let place = (0..pack.places()).find(|&p| pack.place(p).kind == kind);
                (place.unwrap_or(0), pack.ask(usize::from(ask)))
            };
            let fit = |(place, ask): (usize, Ask), answer| fits(pack, place, &ask, answer);
            let stiff = asks("drawer", "stiff");
            assert_eq!(fit(stiff, Answer::Seen(true)), Ok(()));
            assert_eq!(fit(stiff, Answer::Reading(3)), Err(Unfit::Form));
            let worn = asks("runner", "worn");
            assert_eq!(fit(worn, Answer::Reading(40_000)), Ok(()));
            assert_eq!(fit(worn, Answer::CannotSee), Ok(()));
            let most = bounds(pack, worn.0, &worn.1).1;
            let over = Unfit::Bounds { least: 0, most };
            assert_eq!(fit(worn, Answer::Reading(most + 1)), Err(over));
            let build = asks("lock", "build");
            assert_eq!(fit(build, Answer::Value(2)), Ok(()));
            let over = Unfit::Bounds { least: 0, most: 2 };
            assert_eq!(fit(build, Answer::Value(3)), Err(over));
        });
    }
}
