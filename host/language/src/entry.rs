//! A file into entries: a line at the edge of the page and the lines moved in
//! under it. What sort of sentence an entry is, is settled by how it begins.

use crate::files::Files;
use crate::label::{self, Detail};
use crate::message::{Fix, Message, Problem};
use crate::near::nearest_run;
use crate::span::{FileId, Span};
use crate::token::{Number, Sort, Token, one_line, span, tokens};
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
    /// `Depending on how …:`
    Ladder,
    /// `Job: …`
    Job,
    /// `Always …` and `Better … before you …`
    Order,
    /// `Never plan to … and … together`
    Exclusion,
    /// `Take care when …` and `Stop when …`
    Caution,
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
    /// `A … has lost a …`
    Trace,
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
            Opener::Scale => "a strength word",
            Opener::Source => "a source",
            Opener::Note => "a note",
            Opener::Sign | Opener::CountSign => "a sign",
            Opener::Default => "a sentence that begins \"Unless we say otherwise\"",
            Opener::If => "a rule",
            Opener::Plan => "a plan",
            Opener::Ladder => "a ladder",
            Opener::Job => "a job",
            Opener::Order => "an order of work",
            Opener::Exclusion => "a sentence that begins \"Never plan to\"",
            Opener::Caution => "a caution",
            Opener::Round => "a round",
            Opener::Example => "an example",
            Opener::LeaveOut => "a sentence that begins \"Leave out\"",
            Opener::Hidden => "a hidden fault",
            Opener::CountsAs => "a sentence with \"counts as\"",
            Opener::Dating => "a dating",
            Opener::Trace => "a trace",
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
            Opener::Trace => "\"A front that shows plugged holes has lost a handle.\"",
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
                | Opener::Scale
                | Opener::Source
                | Opener::Sign
                | Opener::CountSign
                | Opener::Default
                | Opener::Hidden
                | Opener::CountsAs
                | Opener::Makeup
                | Opener::Unknown
        )
    }
}

/// An entry, cut into its sentence and its particulars.
#[derive(Clone, Debug)]
pub struct Entry {
    /// What sort of sentence it is.
    pub opener: Opener,
    /// Whether it comes from the rules that ship with the tool.
    pub standard: bool,
    /// The whole entry.
    pub at: Span,
    /// The tokens of the sentence.
    pub sentence: Vec<Token>,
    /// The particulars.
    pub details: Vec<Detail>,
    /// "Ask the owner first." among the particulars.
    pub ask_owner: Option<Span>,
    /// The name of the sentence that this one stands instead of.
    pub instead: Option<(String, Span)>,
    /// Whether a label was not understood.
    pub label_slip: bool,
    /// Whether a label was misspelt, understood or not.
    pub label_misspelt: bool,
}

impl Entry {
    /// The entry with a change made in its sentence; nothing if the change is
    /// not one of whole words.
    #[must_use]
    pub fn with(&self, fix: &Fix) -> Option<Entry> {
        let first = self
            .sentence
            .iter()
            .position(|t| t.at.start == fix.at.start)?;
        let last = self.sentence.iter().position(|t| t.at.end == fix.at.end)?;
        let place = self.sentence.get(first..=last)?;
        let (at, lead) = (place.first()?.at.to(place.last()?.at), place[0].first);
        let column = place[0].column;
        let words: Vec<Token> = fix
            .replacement
            .split_whitespace()
            .enumerate()
            .map(|(index, word)| Token {
                sort: Sort::Word,
                text: word.to_lowercase(),
                at,
                first: lead && index == 0,
                column,
            })
            .collect();
        let mut entry = self.clone();
        entry.sentence.splice(first..=last, words);
        Some(entry)
    }
}

/// A sentence that replaces another.
const INSTEAD_EXAMPLE: &str = "\"Instead of worn runner drags, if any runner of a drawer is worn \
                               more than 3 mm then the drawer is often stiff.\"";

/// Words that only ever go on with a sentence.
const GOING_ON: [&str; 6] = ["then", "unless", "and", "or", "given", "expect"];

/// Cuts a file into entries.
pub fn entries(
    file: FileId,
    text: &str,
    standard: bool,
    files: &Files,
    said: &mut Vec<Message>,
) -> Vec<Entry> {
    let mut ranges: Vec<(usize, usize)> = Vec::new();
    let mut offset = 0;
    for line in text.split_inclusive('\n') {
        let start = offset;
        offset += line.len();
        let words = line.trim_matches(|c: char| c.is_whitespace() || c == '\u{feff}');
        if words.is_empty() || words.starts_with('#') {
            continue;
        }
        let lead = line.trim_start_matches('\u{feff}');
        let end = start + line.trim_end().len();
        let start = start + line.len() - lead.len();
        if lead.starts_with(char::is_whitespace) {
            match ranges.last_mut() {
                Some(range) => range.1 = end,
                None => {
                    let from = start + (lead.len() - lead.trim_start().len());
                    said.push(Message::new(span(file, from, end), Problem::NothingAbove));
                }
            }
            continue;
        }
        if let Some(word) = goes_on(words)
            && let Some(range) = ranges.last_mut()
        {
            let at = span(file, start, start + word.len());
            said.push(Message::new(at, Problem::NotMovedIn { word }).with_fix(
                span(file, start, start),
                "    ",
                true,
            ));
            range.1 = end;
            continue;
        }
        ranges.push((start, end));
    }
    ranges
        .into_iter()
        .filter_map(|(start, end)| entry(file, text, (start, end), standard, files, said))
        .collect()
}

/// The word by which a line at the edge of the page shows that it belongs to
/// the one above.
fn goes_on(line: &str) -> Option<&str> {
    let word = line.split(|c: char| !c.is_alphanumeric()).next()?;
    let small = word.to_lowercase();
    let default = line.to_lowercase().starts_with("unless we say");
    if GOING_ON.contains(&small.as_str()) && !default {
        return Some(word);
    }
    if line.starts_with("- ") {
        return Some("-");
    }
    if small == "note" {
        return None;
    }
    label::LABELS.iter().find_map(|(_, name, _)| {
        let head = line.get(..=name.len())?;
        (head.to_lowercase() == format!("{}:", name.to_lowercase())).then_some(head)
    })
}

fn entry(
    file: FileId,
    text: &str,
    (start, end): (usize, usize),
    standard: bool,
    files: &Files,
    said: &mut Vec<Message>,
) -> Option<Entry> {
    let mut all = tokens(file, text, start, end);
    let at = span(file, start, end);
    if all.is_empty() {
        return None;
    }
    mend(&mut all, files, said);
    let instead = take_instead(&mut all);
    if instead.is_some() && all.iter().all(|t| t.sort == Sort::Stop) {
        let read = one_line(at.words(text));
        said.push(Message::new(
            at,
            Problem::Incomplete {
                read: read.trim_end_matches('.'),
                wants: "the sentence that stands instead",
                example: INSTEAD_EXAMPLE,
            },
        ));
        return None;
    }
    let opener = match opener(&all) {
        Some(opener) => opener,
        None => {
            let (message, mended) = unknown_opener(&all);
            said.push(message);
            if let Some((count, words)) = mended {
                put_words(&mut all, count, words);
            }
            opener(&all).unwrap_or(Opener::Unknown)
        }
    };
    if matches!(opener, Opener::Source | Opener::Note | Opener::Unknown) {
        return Some(Entry {
            opener,
            standard,
            at,
            sentence: all,
            details: Vec::new(),
            ask_owner: None,
            instead,
            label_slip: false,
            label_misspelt: false,
        });
    }
    let place = |sort| all.iter().position(|t| t.sort == sort);
    let (first_colon, first_text) = (place(Sort::Colon), place(Sort::Text));
    let mut split = label::split(
        all,
        |tokens, colon| is_structure(opener, tokens, colon, first_colon, first_text),
        said,
    );
    let ask_owner = take_ask_owner(&mut split);
    Some(Entry {
        opener,
        standard,
        at,
        sentence: split.sentence,
        details: split.details,
        ask_owner,
        instead,
        label_slip: split.slip,
        label_misspelt: split.misspelt,
    })
}

/// Puts right what can be read in one way only, and says so.
fn mend(tokens: &mut Vec<Token>, files: &Files, said: &mut Vec<Message>) {
    for token in tokens.iter_mut() {
        if token.sort == Sort::OpenText {
            token.sort = Sort::Text;
            let line = files.line(token.at);
            said.push(Message::new(token.at, Problem::OpenText { line: &line }));
        }
    }
    for index in 0..tokens.len().saturating_sub(2) {
        let (word, then, number) = (&tokens[index], &tokens[index + 1], &tokens[index + 2]);
        let compares = ["more", "less", "fewer", "earlier", "later"]
            .iter()
            .any(|w| word.is(w));
        if compares && then.is("then") && matches!(number.sort, Sort::Number(_)) {
            let unit = tokens.get(index + 3).filter(|t| t.sort == Sort::Word);
            let amount = match unit {
                Some(unit) => format!("{} {}", number.text, unit.text),
                None => number.text.clone(),
            };
            said.push(
                Message::new(
                    word.at.to(then.at),
                    Problem::ThenForThan {
                        word: &word.text,
                        amount: &amount,
                    },
                )
                .with_fix(then.at, "than", true),
            );
            tokens[index + 1].text = "than".to_owned();
        }
    }
    let mut index = 0;
    while index + 3 < tokens.len() {
        let decimal = decimal_comma(&tokens[index..index + 4]);
        if let Some((number, right)) = decimal {
            let at = tokens[index].at.to(tokens[index + 3].at);
            let rest = format!("{} {}", tokens[index + 2].text, tokens[index + 3].text);
            said.push(
                Message::new(
                    at,
                    Problem::DecimalComma {
                        whole: &tokens[index].text,
                        rest: &rest,
                        right: &right,
                    },
                )
                .with_fix(
                    tokens[index].at.to(tokens[index + 2].at),
                    right.clone(),
                    true,
                ),
            );
            tokens[index].at = tokens[index].at.to(tokens[index + 2].at);
            tokens[index].sort = Sort::Number(number);
            tokens[index].text = right;
            tokens.drain(index + 1..index + 3);
        }
        index += 1;
    }
}

/// "1,5 mm" written with a comma.
fn decimal_comma(four: &[Token]) -> Option<(Number, String)> {
    let [whole, comma, part, unit] = four else {
        return None;
    };
    let touching = comma.at.start == whole.at.end && part.at.start == comma.at.end;
    let (Sort::Number(a), Sort::Number(b)) = (whole.sort, part.sort) else {
        return None;
    };
    if comma.sort != Sort::Comma
        || !touching
        || a.under != 1
        || b.under != 1
        || part.text.len() > 6
        || crate::number::unit_of(&unit.text).is_none()
    {
        return None;
    }
    let under = 10_i64.pow(u32::try_from(part.text.len()).unwrap_or(0));
    Some((
        a.plus(Number {
            over: b.over,
            under,
        }),
        format!("{}.{}", whole.text, part.text),
    ))
}

/// Takes "Instead of <name>," off the front.
fn take_instead(tokens: &mut Vec<Token>) -> Option<(String, Span)> {
    if !(starts(tokens, "instead of")) {
        return None;
    }
    let comma = tokens.iter().position(|t| t.sort == Sort::Comma)?;
    if comma < 3 || tokens[..comma].iter().any(|t| t.sort == Sort::Colon) {
        return None;
    }
    let name = join(&tokens[2..comma]);
    let at = tokens[2].at.to(tokens[comma - 1].at);
    tokens.drain(..=comma);
    Some((name, at))
}

/// Takes "Ask the owner first." out.
fn take_ask_owner(split: &mut label::Split) -> Option<Span> {
    let mut found = None;
    let mut take = |tokens: &mut Vec<Token>, from: usize| {
        let place = (from..tokens.len()).find(|&index| {
            starts(&tokens[index..], "ask the owner first")
                && (tokens[index].first
                    || index == 0
                    || matches!(tokens[index - 1].sort, Sort::Stop | Sort::Text))
        });
        if let Some(index) = place {
            found = Some(tokens[index].at.to(tokens[index + 3].at));
            let stop = tokens.get(index + 4).is_some_and(|t| t.sort == Sort::Stop);
            tokens.drain(index..index + 4 + usize::from(stop));
            // The full stop of what stood before it.
            if tokens.len() == index && index > from && tokens[index - 1].sort == Sort::Stop {
                tokens.pop();
            }
        }
    };
    take(&mut split.sentence, 1);
    for detail in &mut split.details {
        take(&mut detail.value, 0);
    }
    found
}

/// Whether the tokens begin with these words.
#[must_use]
pub fn starts(tokens: &[Token], words: &str) -> bool {
    let mut count = 0;
    for word in words.split(' ') {
        if !tokens.get(count).is_some_and(|t| t.is(word)) {
            return false;
        }
        count += 1;
    }
    count > 0
}

/// Whether the tokens hold these words one after the other.
#[must_use]
pub fn holds(tokens: &[Token], words: &str) -> bool {
    (0..tokens.len()).any(|index| starts(&tokens[index..], words))
}

/// The ways a sentence can begin, `:` standing for a colon.
const BEGINNINGS: [(&str, Opener); 22] = [
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
    ("take care when", Opener::Caution),
    ("stop when", Opener::Caution),
    ("to look over", Opener::Round),
    ("example :", Opener::Example),
    ("leave out", Opener::LeaveOut),
];

fn opener(tokens: &[Token]) -> Option<Opener> {
    for (words, opener) in BEGINNINGS {
        let fits = match words.strip_suffix(" :") {
            Some(word) => {
                starts(tokens, word) && tokens.get(1).is_some_and(|t| t.sort == Sort::Colon)
            }
            None => starts(tokens, words),
        };
        if fits {
            return Some(opener);
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
    } else if holds(sentence, "may be") || holds(sentence, "may show") {
        Some(Opener::Hidden)
    } else if ["earlier than", "later than", "usually from"]
        .iter()
        .any(|words| holds(sentence, words))
    {
        Some(Opener::Dating)
    } else if holds(sentence, "has lost") || holds(sentence, "have lost") {
        Some(Opener::Trace)
    } else if has.is_some() && that.is_none() {
        Some(Opener::Makeup)
    } else if holds(sentence, "without showing") {
        Some(Opener::Hidden)
    } else {
        None
    }
}

/// The message about a beginning that is not known, and what to read instead.
fn unknown_opener(tokens: &[Token]) -> (Message, Option<(usize, &'static str)>) {
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
fn put_words(tokens: &mut [Token], count: usize, words: &str) {
    for (token, word) in tokens[..count].iter_mut().zip(words.split(' ')) {
        token.text = word.to_owned();
    }
}

/// Whether a colon belongs to the sentence. `first_colon` and `first_text` are
/// where the entry has its first colon and text.
fn is_structure(
    opener: Opener,
    tokens: &[Token],
    colon: usize,
    first_colon: Option<usize>,
    first_text: Option<usize>,
) -> bool {
    // A head of a list is short, so there is no need to look far back.
    let before = &tokens[colon.saturating_sub(24)..colon];
    // "All of these are true of a fall:"
    let list = before
        .iter()
        .rposition(|t| matches!(t.sort, Sort::Colon | Sort::Bullet | Sort::Stop))
        .map_or(before, |p| &before[p..]);
    if holds(list, "of these") && list.iter().any(|t| t.is("true")) {
        return true;
    }
    let first = first_colon == Some(colon);
    match opener {
        Opener::Pieces | Opener::Parts | Opener::Job | Opener::Round | Opener::Example => first,
        Opener::Sign => before.last().is_some_and(|t| t.is("has") || t.is("have")),
        Opener::Caution => first_text == Some(colon + 1),
        Opener::Ladder => {
            first
                || starts(&tokens[colon + 1..], "plan to")
                || starts(&tokens[colon + 1..], "nothing")
                || before.last().is_some_and(|t| {
                    t.is("more")
                        || matches!(t.sort, Sort::Number(_))
                        || crate::number::unit_of(&t.text).is_some()
                })
        }
        _ => false,
    }
}
