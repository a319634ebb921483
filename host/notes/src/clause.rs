//! A line cut into clauses, and how what each says is said: so or not, how sure.

use crate::english::Small;
use crate::line::Word;
use crate::token::Sort;
use tellmark_language::model::Sure;

/// How a clause hangs on the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Joint {
    /// It does not: the first, or after a semicolon or full stop.
    Strong,
    /// A comma, colon or dash.
    Weak,
    And,
    Or,
    Nor,
    But,
}

/// A clause: some words of the line.
#[derive(Clone, Debug)]
pub(crate) struct Clause {
    pub(crate) words: Vec<usize>,
    pub(crate) joint: Joint,
    /// It ended with a question mark.
    pub(crate) is_asked: bool,
}

fn joint(words: &[Word], at: usize) -> Option<Joint> {
    let word = &words[at];
    // "Stops gone on 3 & 4": no end of anything.
    let is_figure = |at: Option<usize>| {
        let word = at.and_then(|at| words.get(at));
        word.is_some_and(|word| word.figure().is_some())
    };
    let joins = matches!(word.token.text.as_str(), "and" | "&" | "+");
    if word.is_inside || (joins && is_figure(at.checked_sub(1)) && is_figure(Some(at + 1))) {
        return None;
    }
    match (word.token.sort, word.token.text.as_str()) {
        (Sort::Break(';' | '.' | '!' | '\n'), _) => Some(Joint::Strong),
        (Sort::Question, _) => Some(Joint::Strong),
        (Sort::Break('&'), _) | (_, "and" | "plus" | "n") => Some(Joint::And),
        (Sort::Break(_), _) => Some(Joint::Weak),
        (_, "or") => Some(Joint::Or),
        (_, "nor") => Some(Joint::Nor),
        (_, "but") => Some(Joint::But),
        _ => None,
    }
}

/// Cuts a line into clauses.
pub(crate) fn clauses(words: &[Word]) -> Vec<Clause> {
    let mut clauses: Vec<Clause> = Vec::new();
    let mut from = 0;
    let mut before = Joint::Strong;
    for at in 0..=words.len() {
        let divides = match at < words.len() {
            true => joint(words, at),
            false => Some(Joint::Strong),
        };
        let Some(next) = divides else {
            continue;
        };
        if from < at {
            clauses.push(Clause {
                words: (from..at).collect(),
                joint: before,
                is_asked: false,
            });
            before = next;
        } else {
            // ", and": the word says more than the comma; ". And" begins anew.
            before = match (before, next) {
                (Joint::Strong, Joint::Weak) | (_, Joint::Strong) => Joint::Strong,
                _ => next,
            };
        }
        let asks = words
            .get(at)
            .is_some_and(|w| w.token.sort == Sort::Question);
        if let Some(last) = clauses.last_mut()
            && asks
        {
            last.is_asked = true;
        }
        from = at + 1;
    }
    clauses
}

/// How something is said.
#[derive(Clone, Debug, Default)]
pub(crate) struct Manner {
    /// The words that say "not".
    pub(crate) nots: Vec<usize>,
    pub(crate) is_doubted: bool,
    pub(crate) is_certain: bool,
    /// "missing", "without".
    pub(crate) missing: Vec<usize>,
    /// Words that turn it around or put it in another time.
    pub(crate) turns: Vec<usize>,
    /// "can't see".
    pub(crate) cannot: Option<Cannot>,
    /// "haven't looked".
    pub(crate) is_not_looked: bool,
    /// The words that the above took.
    pub(crate) words: Vec<usize>,
}

/// What cannot be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cannot {
    /// "can't see the back".
    Reach,
    /// "can't see if the back is wavy", "can't tell whether".
    Tell,
    /// "not sure if".
    Doubt,
    /// "can't see any cracks": there are none, or they cannot be seen.
    Any,
}

/// What one does to find something out.
const SENSES: [&str; 13] = [
    "see", "reach", "get", "access", "check", "inspect", "feel", "look", "tell", "make", "examine",
    "measure", "hear",
];
/// That it can be come to, or cannot.
const REACH: [&str; 7] = [
    "visible",
    "accessible",
    "access",
    "inaccessible",
    "invisible",
    "sight",
    "reachable",
];
/// That somebody did find it out.
const LOOKED: [&str; 7] = [
    "checked",
    "looked",
    "look",
    "check",
    "inspected",
    "tested",
    "examined",
];
/// Words that say nothing but that it cannot be found out.
const SAYS_CANNOT: [&str; 28] = [
    "if",
    "whether",
    "sure",
    "certain",
    "know",
    "unsure",
    "clear",
    "see",
    "reach",
    "access",
    "check",
    "inspect",
    "tell",
    "make",
    "visible",
    "accessible",
    "inaccessible",
    "invisible",
    "sight",
    "unable",
    "able",
    "measure",
    "examine",
    "reachable",
    "any",
    "could",
    "possible",
    "properly",
];
impl Manner {
    /// Reads how a clause is said; `taken` says which words are part of what is said.
    pub(crate) fn of(words: &[Word], clause: &Clause, taken: &dyn Fn(usize) -> bool) -> Manner {
        let mut manner = Manner {
            is_doubted: clause.is_asked,
            ..Manner::default()
        };
        for &at in &clause.words {
            let Some(small) = words[at].small.filter(|_| !taken(at)) else {
                continue;
            };
            match small {
                Small::Not => manner.nots.push(at),
                Small::Doubt => manner.is_doubted = true,
                Small::Certain => manner.is_certain = true,
                Small::Missing => manner.missing.push(at),
                Small::Turn | Small::But => manner.turns.push(at),
                _ => continue,
            }
            manner.words.push(at);
        }
        // "Not just stiff": it is that, and more.
        let more = manner.nots.iter().copied().find(|not| {
            let next = words
                .get(not + 1)
                .map_or("", |word| word.token.text.as_str());
            matches!(next, "just" | "only" | "merely")
        });
        manner.turns.extend(more);
        // "Out of round" is not round; "out of square" is said so by the rules.
        let out_of = |at: &&usize| {
            let text = |at: usize| words.get(at).map_or("", |word| word.token.text.as_str());
            text(**at) == "out" && text(**at + 1) == "of" && taken(**at + 2) && !taken(**at)
        };
        manner.turns.extend(clause.words.iter().find(out_of));
        // "Nowhere near stiff", "stopped sticking".
        let ends = |at: &&usize| {
            matches!(
                words[**at].token.text.as_str(),
                "nowhere" | "stopped" | "ceased" | "quit"
            )
        };
        manner.turns.extend(clause.words.iter().find(ends));
        // "As stiff as": it is compared.
        let compares = |at: &&usize| words[**at].token.text == "as";
        if clause.words.iter().filter(compares).count() > 1 {
            manner.turns.extend(clause.words.iter().find(compares));
        }
        manner.cannot_see(words, clause);
        let far = clause.words.iter().copied().find(|&at| {
            let text = |at: usize| words.get(at).map(|word| word.token.text.as_str());
            text(at) == Some("far") && text(at + 1) == Some("as")
        });
        if let Some(at) = far {
            manner.is_doubted = true;
            manner.words.extend([at, at + 1, at + 2, at + 3, at + 4]);
        }
        manner
    }

    /// How sure it is; `is_doubted` where what was said before is doubted and goes on.
    pub(crate) fn sure(&self, is_doubted: bool) -> Sure {
        match (self.is_doubted || is_doubted, self.is_certain) {
            (true, _) => Sure::Looks,
            (false, true) => Sure::Certain,
            (false, false) => Sure::Ordinary,
        }
    }

    fn cannot_see(&mut self, words: &[Word], clause: &Clause) {
        let text = |at: usize| {
            let inside = clause.words.contains(&at);
            words
                .get(at)
                .filter(|_| inside)
                .map_or("", |w| w.token.text.as_str())
        };
        let places = || clause.words.iter().copied();
        let has = |list: &[&str]| places().any(|at| list.contains(&text(at)));
        let not_at = self.nots.first().copied();
        let unable = places()
            .any(|at| matches!(text(at), "unable" | "unsure" | "inaccessible" | "invisible"))
            || (has(&["sight"]) && has(&["out"]));
        if not_at.is_none() && !unable {
            return;
        }
        let tells = has(&["if", "whether"]);
        let is_unsure = has(&["sure", "certain", "know", "unsure", "clear"]);
        let not = not_at.map_or("", text);
        let can = matches!(
            not,
            "cannot" | "can't" | "cant" | "couldn't" | "couldnt" | "could't"
        ) || (has(&["can", "could", "able", "possible"]) && not_at.is_some())
            || has(&["unable"]);
        let senses = has(&SENSES);
        let is_out_of_reach = has(&REACH);
        let done = has(&LOOKED);
        let did = matches!(
            not,
            "haven't" | "havent" | "didn't" | "didnt" | "not" | "hasn't"
        );
        let cannot = if is_unsure {
            Some(Cannot::Doubt)
        } else if (can && senses) || is_out_of_reach {
            Some(match () {
                () if tells || has(&["tell"]) => Cannot::Tell,
                () if has(&["any", "anything", "much"]) => Cannot::Any,
                () => Cannot::Reach,
            })
        } else {
            self.is_not_looked = did && done && !self.is_doubted;
            None
        };
        if cannot.is_some() {
            // What says so is no "not", doubt or "if" by itself.
            self.nots.clear();
            self.turns
                .retain(|&at| !matches!(text(at), "if" | "whether"));
            self.is_doubted = false;
            self.is_certain = false;
            let all = places().filter(|&at| SAYS_CANNOT.contains(&text(at)));
            self.words.extend(all);
        }
        self.cannot = cannot;
    }
}
