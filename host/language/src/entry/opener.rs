//! What sort of sentence an entry is, by how it begins.

use super::{INSTEAD_EXAMPLE, holds, starts};
use crate::message::{Message, Problem};
use crate::near::nearest_run;
use crate::token::{Sort, Token};
use crate::vocab::join;
use crate::words::capital;

/// What sort of sentence an entry is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Opener {
    /// `House rules for …`
    Title,
    /// `Pieces:`
    Pieces,
    /// `Parts:`
    Parts,
    /// `For … we also say …`
    Synonym,
    /// `Never take … for …`
    WrongFriend,
    /// `Bench remarks:`
    BenchRemarks,
    /// `By … we mean …`
    Scale,
    /// `Source …:`
    Source,
    /// `Note:`
    Note,
    /// `You can …`
    Sign,
    /// `You can count the …`
    CountSign,
    /// `Unless we say otherwise, …`
    Default,
    /// `If … then …` and `If …, that … means …`
    If,
    /// `When … plan to …`
    Plan,
    /// `When …, instead of … plan to …`
    StandIn,
    /// `Depending on how …:`, `When …, depending on how …:`
    Ladder,
    /// `Job: …`
    Job,
    /// `Always …` and `Better … before you …`
    Order,
    /// `Never plan to … and … together`, `When …, never plan to …`
    Exclusion,
    /// `Take care when …` and `Stop when …`
    Caution,
    /// `Tell the owner when …`
    Tell,
    /// `To look over …:`
    Round,
    /// `Example: …`
    Example,
    /// `Leave out …`
    LeaveOut,
    /// `A … may be … without showing it`
    Hidden,
    /// `A … counts as … when it is …`
    CountsAs,
    /// `A … is not earlier than …`, `A … is later than its …`
    Dating,
    /// `A … is usually earlier than its …`, `A … that … has a later …`
    Relative,
    /// `A … has lost a …`
    Trace,
    /// `A … is at most one of …`
    AtMostOne,
    /// `A … can be … only if …`
    OnlyIf,
    /// `A … is a kind of …`
    KindOf,
    /// `How … is …`
    WorkedOut,
    /// `A … has …`
    Makeup,
    /// A sentence that begins in no known way.
    Unknown,
}

impl Opener {
    /// What such an entry is called in messages.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Opener::Title => "a title",
            Opener::Pieces => "a list of pieces",
            Opener::Parts => "a list of parts",
            Opener::Synonym => "a list of other words",
            Opener::WrongFriend => "a sentence with \"never take\"",
            Opener::BenchRemarks => "a list of bench remarks",
            Opener::Scale => "a strength word",
            Opener::Source => "a source",
            Opener::Note => "a note",
            Opener::Sign | Opener::CountSign => "a sign",
            Opener::Default => "a sentence that begins \"Unless we say otherwise\"",
            Opener::If => "a rule",
            Opener::Plan => "a plan",
            Opener::StandIn => "a sentence with \"instead of\"",
            Opener::Ladder => "a ladder",
            Opener::Job => "a job",
            Opener::Order => "an order of work",
            Opener::Exclusion => "a sentence with \"never plan to\"",
            Opener::Caution => "a caution",
            Opener::Tell => "a sentence with \"tell the owner\"",
            Opener::Round => "a round",
            Opener::Example => "an example",
            Opener::LeaveOut => "a sentence that begins \"Leave out\"",
            Opener::Hidden => "a hidden fault",
            Opener::CountsAs => "a sentence with \"counts as\"",
            Opener::Dating => "a dating",
            Opener::Relative => "a dating of one part by another",
            Opener::Trace => "a trace",
            Opener::AtMostOne => "a sentence with \"at most one of\"",
            Opener::OnlyIf => "a sentence with \"only if\"",
            Opener::KindOf => "a sentence with \"is a kind of\"",
            Opener::WorkedOut => "a measure that is worked out",
            Opener::Makeup => "a sentence that says what a part has",
            Opener::Unknown => "a sentence I do not know",
        }
    }

    /// A whole sentence of the sort.
    #[must_use]
    pub fn example(self) -> &'static str {
        match self {
            Opener::Title => "\"House rules for the bench at Mill Lane, version 1.\"",
            Opener::Pieces => "\"Pieces: drop-leaf table, chest of drawers.\"",
            Opener::Parts => "\"Parts: top, drawer, foot (plural feet).\"",
            Opener::Synonym => "\"For support we also say loper, slide (US) or bearer.\"",
            Opener::WrongFriend => "\"Never take bowed for warped.\"",
            Opener::BenchRemarks => "\"Bench remarks: \"Old label\", \"Ask the owner\".\"",
            Opener::Scale => "\"By usually we mean 8 in 10.\"",
            Opener::Source => "\"Source house: our own bench notes.\"",
            Opener::Note => "\"Note: a remark for the house book.\"",
            Opener::Sign => "\"You can feel whether a drawer is stiff.\"",
            Opener::CountSign => "\"You can count the supports of a fall.\"",
            Opener::Default => "\"Unless we say otherwise, a fault is there on its own: rarely.\"",
            Opener::If => "\"If a runner is infested then it usually shows fresh dust.\"",
            Opener::Plan => {
                "\"When a runner is worn more than 2 mm then plan to fit a new runner.\""
            }
            Opener::StandIn => {
                "\"When a drawer is nailed shut, instead of wax the runner plan to open the drawer.\""
            }
            Opener::Ladder => {
                "\"Depending on how much a runner is worn:\", then lines such as \"up to 1 mm: plan to wax the runner\" and \"more: nothing\""
            }
            Opener::Job => "\"Job: clear the drawer.  Takes: 10 minutes\"",
            Opener::Order => {
                "\"Always dust it dry before you clean it damp, because grime turns to mud.\""
            }
            Opener::Exclusion => "\"Never plan to wax the runner and fit a new runner together.\"",
            Opener::Caution => {
                "\"Take care when a fall has no supports: \"Hold the fall as you open it.\"\""
            }
            Opener::Tell => {
                "\"Tell the owner when a piece is kept near heating: \"Keep it a step away from the heater.\"\""
            }
            Opener::Round => {
                "\"To look over a chest of drawers:\", then lines such as \"1. feel whether each drawer is stiff\""
            }
            Opener::Example => {
                "\"Example: a waxed drawer.\", then lines that begin \"Given\" and \"Expect\""
            }
            Opener::LeaveOut => "\"Leave out worn runner drags, because ours are waxed.\"",
            Opener::Hidden => "\"A hinge may be under strain without showing it.\"",
            Opener::CountsAs => {
                "\"A bottom counts as cracked when it is split at least 1 mm wide.\""
            }
            Opener::Dating => "\"A gimlet-point screw is not earlier than 1846.\"",
            Opener::Relative => "\"A door is usually earlier than its lock.\"",
            Opener::WorkedOut => {
                "\"How far a table is out of level is the difference between how high its left side is and how high its right side is.\""
            }
            Opener::Trace => "\"A front that shows plugged holes has lost a handle.\"",
            Opener::AtMostOne => "\"A bottom is at most one of cracked, held fast or shrunk.\"",
            Opener::OnlyIf => "\"A bottom can be held fast only if it is grooved in.\"",
            Opener::KindOf => "\"A bureau is a kind of desk.\"",
            Opener::Makeup => "\"A fall has 2 to 3 hinges and 0 to 3 supports.\"",
            Opener::Unknown => "\"If a runner is infested then it usually shows fresh dust.\"",
        }
    }

    /// Whether it declares words that other sentences use.
    #[must_use]
    pub fn declares(self) -> bool {
        matches!(
            self,
            Opener::Title
                | Opener::Pieces
                | Opener::Parts
                | Opener::Synonym
                | Opener::WrongFriend
                | Opener::BenchRemarks
                | Opener::Scale
                | Opener::Source
                | Opener::Sign
                | Opener::CountSign
                | Opener::Default
                | Opener::Hidden
                | Opener::WorkedOut
                | Opener::CountsAs
                | Opener::KindOf
                | Opener::Makeup
                | Opener::Unknown
        )
    }
}

/// The ways a sentence can begin, `:` standing for a colon.
const BEGINNINGS: [(&str, Opener); 26] = [
    ("house rules for", Opener::Title),
    ("pieces :", Opener::Pieces),
    ("parts :", Opener::Parts),
    ("for", Opener::Synonym),
    ("by", Opener::Scale),
    ("source", Opener::Source),
    ("note :", Opener::Note),
    ("you can count the", Opener::CountSign),
    ("you can", Opener::Sign),
    ("unless we say otherwise", Opener::Default),
    ("if", Opener::If),
    ("when", Opener::Plan),
    ("depending on how", Opener::Ladder),
    ("job :", Opener::Job),
    ("always", Opener::Order),
    ("better", Opener::Order),
    ("never plan to", Opener::Exclusion),
    ("never take", Opener::WrongFriend),
    ("bench remarks :", Opener::BenchRemarks),
    ("take care when", Opener::Caution),
    ("stop when", Opener::Caution),
    ("tell the owner when", Opener::Tell),
    ("to look over", Opener::Round),
    ("example :", Opener::Example),
    ("leave out", Opener::LeaveOut),
    ("how", Opener::WorkedOut),
];

pub(super) fn opener(tokens: &[Token]) -> Option<Opener> {
    for (words, opener) in BEGINNINGS {
        let fits = match words.strip_suffix(" :") {
            Some(words) => {
                let colon = tokens.get(words.split(' ').count());
                starts(tokens, words) && colon.is_some_and(|t| t.sort == Sort::Colon)
            }
            None => starts(tokens, words),
        };
        if fits {
            return Some(if opener == Opener::Plan {
                after_when(tokens)
            } else {
                opener
            });
        }
    }
    if !(starts(tokens, "a") || starts(tokens, "an")) {
        return None;
    }
    // Labels end the part of the sentence that tells the sorts apart.
    let end = tokens
        .iter()
        .position(|t| matches!(t.sort, Sort::Colon | Sort::Stop))
        .unwrap_or(tokens.len());
    let sentence = &tokens[..end];
    let has = sentence.iter().position(|t| t.is("has") || t.is("have"));
    let that = sentence.iter().position(|t| t.is("that"));
    if holds(sentence, "counts as") || holds(sentence, "count as") {
        Some(Opener::CountsAs)
    } else if holds(sentence, "at most one of") {
        Some(Opener::AtMostOne)
    } else if holds(sentence, "can be") || holds(sentence, "can show") {
        Some(Opener::OnlyIf)
    } else if holds(sentence, "may be") || holds(sentence, "may show") {
        Some(Opener::Hidden)
    } else if holds(sentence, "earlier than its") || has_later(sentence) {
        Some(Opener::Relative)
    } else if ["earlier than", "later than", "usually from"]
        .iter()
        .any(|words| holds(sentence, words))
    {
        Some(Opener::Dating)
    } else if holds(sentence, "has lost") || holds(sentence, "have lost") {
        Some(Opener::Trace)
    } else if ["kind", "sort", "type"].iter().any(|word| {
        holds(sentence, &format!("is a {word} of")) || holds(sentence, &format!("are a {word} of"))
    }) || holds(sentence, "is kind of")
    {
        Some(Opener::KindOf)
    } else if has.is_some() && that.is_none() {
        Some(Opener::Makeup)
    } else if holds(sentence, "without showing") {
        Some(Opener::Hidden)
    } else {
        None
    }
}

/// "… has a later lock", "… has one later lock".
fn has_later(sentence: &[Token]) -> bool {
    let has = sentence.iter().position(|t| t.is("has") || t.is("have"));
    let after = has.map_or(&[][..], |has| &sentence[has + 1..]);
    let later = after.iter().take(2).position(|t| t.is("later"));
    later.is_some_and(|later| !after.get(later + 1).is_some_and(|t| t.is("than")))
}

/// What sort of sentence begins "When …": what comes first after what must be so.
fn after_when(tokens: &[Token]) -> Opener {
    const SORTS: [(&str, Opener); 4] = [
        ("plan to", Opener::Plan),
        ("instead of", Opener::StandIn),
        ("depending on how", Opener::Ladder),
        ("never plan", Opener::Exclusion),
    ];
    let sort = |at: usize| {
        let rest = &tokens[at..];
        let found = SORTS.iter().find(|(words, _)| starts(rest, words));
        found.map(|(_, opener)| *opener)
    };
    let last = tokens.iter().rev().find(|t| t.sort == Sort::Word);
    let other = if last.is_some_and(|t| t.is("together")) && tokens.iter().any(|t| t.is("never")) {
        Opener::Exclusion
    } else if holds(tokens, "before you") {
        Opener::Order
    } else {
        Opener::Plan
    };
    (1..tokens.len()).find_map(sort).unwrap_or(other)
}

/// The message about a beginning that is not known, and what to read instead.
pub(super) fn unknown_opener(tokens: &[Token]) -> (Message, Option<(usize, &'static str)>) {
    if starts(tokens, "instead of") && holds(tokens, "plan to") {
        let example = Opener::StandIn.example();
        let at = tokens[0].at.to(tokens[1].at);
        return (
            Message::new(at, Problem::InsteadOfElsewhere { example }),
            None,
        );
    }
    if starts(tokens, "instead of") {
        let last = tokens.get(2).unwrap_or(&tokens[1]);
        let message = Message::new(
            tokens[0].at.to(last.at),
            Problem::Incomplete {
                read: "Instead of",
                wants: "the name of a sentence and a comma",
                example: INSTEAD_EXAMPLE,
            },
        );
        return (message, None);
    }
    let words: Vec<&str> = tokens
        .iter()
        .take(4)
        .take_while(|t| t.sort == Sort::Word)
        .map(|t| t.text.as_str())
        .collect();
    let colon = tokens.get(1).is_some_and(|t| t.sort == Sort::Colon);
    let candidates: Vec<&'static str> = BEGINNINGS
        .iter()
        .map(|(words, _)| *words)
        .filter(|words| words.ends_with(':') == colon)
        .map(|words| words.trim_end_matches(" :"))
        .collect();
    let found = nearest_run(&words, &candidates)
        .filter(|(count, near)| near.words[0].split(' ').count() == *count);
    if let Some((count, near)) = found {
        let at = tokens[0].at.to(tokens[count - 1].at);
        let written = capital(&join(&tokens[..count]));
        let right = capital(near.words[0]);
        let sure = near.sure();
        let one = near.words.len() == 1;
        let shown = near
            .words
            .iter()
            .map(|w| capital(w))
            .collect::<Vec<_>>()
            .join("\" or \"");
        let message = Message::new(
            at,
            Problem::UnknownBeginning {
                word: &written,
                near: Some(&shown),
            },
        )
        .with_fix(at, right, sure);
        return (message, one.then_some((count, near.words[0])));
    }
    let count = if tokens[0].is("a") || tokens[0].is("an") || tokens[0].is("the") {
        words.len().clamp(1, 3)
    } else {
        1
    };
    let at = tokens[0].at.to(tokens[count - 1].at);
    let written = capital(&join(&tokens[..count]));
    (
        Message::new(
            at,
            Problem::UnknownBeginning {
                word: &written,
                near: None,
            },
        ),
        None,
    )
}

/// Replaces the text of the first tokens.
pub(super) fn put_words(tokens: &mut [Token], count: usize, words: &str) {
    for (token, word) in tokens[..count].iter_mut().zip(words.split(' ')) {
        token.text = word.to_owned();
    }
}
