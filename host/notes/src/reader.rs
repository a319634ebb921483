//! The reader of notes: a line in, and what it is taken for.

use crate::clause::{Clause, Joint};
use crate::english::{Small, is_praise};
use crate::house::House;
use crate::line::{Word, words};
use crate::measure::quantities;
use crate::mention::{Atom, Finder, SOME};
use crate::nearest::{Sayable, sayables};
use crate::ordering::Line;
use crate::reading::{Heard, Understood, What};
use crate::scene::Scene;
use crate::spoken::{Carried, MENDED, Spoken};
use std::collections::BTreeSet;
use std::ops::Range;
use tellmark_language::model::{Fact, Found, KindId, Model, PartRef};

/// Reads notes with the words of one house, on one piece.
pub struct NoteReader<'m> {
    house: House<'m>,
}

impl<'m> NoteReader<'m> {
    /// Gets the words of a house ready, for a piece of this kind.
    #[must_use]
    pub fn new(model: &'m Model, piece: KindId) -> NoteReader<'m> {
        NoteReader {
            house: House::new(model, piece),
        }
    }

    /// Reads a line; `subject` is what was spoken of before it.
    #[must_use]
    pub fn read(&self, scene: &Scene, subject: &[PartRef], text: &str) -> Understood {
        if let Some(facts) = self.house.read_exactly(scene, text) {
            return Understood::exactly(text, facts);
        }
        let before: Vec<usize> = subject.iter().flat_map(|part| scene.meant(part)).collect();
        self.read_loosely(scene, before, text)
    }

    /// Everything that can be said of a kind of part, the nearest to some words first.
    #[must_use]
    pub fn sayables(&self, kind: KindId, words: &str) -> Vec<Sayable> {
        sayables(self.house.model, &self.house.lexicon, kind, words)
    }

    fn read_loosely(&self, scene: &Scene, mut subject: Vec<usize>, text: &str) -> Understood {
        let mut words = words(text, &self.house.lexicon);
        let finder = Finder {
            model: self.house.model,
            lexicon: &self.house.lexicon,
            scene,
        };
        while let Some(slip) = corrected(&words, &finder.atoms(&words, &|_| true)) {
            words.drain(slip);
        }
        let mentions = finder.mentions(&words, &|_| true);
        let absent = mentions.iter().find_map(|mention| finder.absent(mention));
        let elsewhere = mentions.iter().find_map(|mention| {
            let kinds = &mention.step.kinds;
            kinds
                .first()
                .copied()
                .filter(|_| !finder.can_be_here(kinds))
        });
        for mention in mentions {
            for at in mention.words {
                words[at].is_inside = true;
            }
        }
        let measured = quantities(&words);
        for quantity in &measured {
            for word in &mut words[quantity.from..quantity.until] {
                word.is_inside = true;
            }
        }
        let line = Line {
            finder,
            lexicon: &self.house.lexicon,
            words: &words,
            quantities: &measured,
        };
        let mut understood = Understood {
            absent,
            elsewhere,
            ..Understood::default()
        };
        let mut carried = Carried::default();
        let clauses = line.clauses();
        let last_back = clauses
            .iter()
            .rposition(|clause| takes_back(&words, clause));
        let is_past = is_past(&words);
        let open = is_open(&line, &clauses);
        let mut is_plain_so_far = true;
        let mut says_something = false;
        let mut says_anything = false;
        for (at, clause) in clauses.iter().enumerate() {
            let is_alternative = is_alternative(&words, &clauses, at);
            // "Neither foot 1 nor foot 2 is …": of foot 1 nothing would be written.
            let is_nor_alone = clause.joint == Joint::Nor && !says_something;
            let spoken = Spoken {
                house: &self.house,
                line: &line,
                clause,
                subject: &subject,
                text,
                is_taken_back: is_past
                    || is_nor_alone
                    || open.contains(&at)
                    || last_back.is_some_and(|back| at < back),
                is_alternative,
                is_plain_so_far,
            };
            let (mut heard, next) = spoken.read(&mut carried);
            is_plain_so_far &= spoken.names_plainly();
            // "…, so is the back right": it was to say something.
            let is_last = at + 1 == clauses.len() && at > 0;
            if heard.is_empty() && is_last && says_anything {
                heard.push(spoken.remark(&None));
            }
            says_anything |= !heard.is_empty();
            says_something = heard.iter().any(|one| !matches!(one.what, What::Nothing));
            for one in &mut heard {
                one.is_instead = is_alternative && clause.joint == Joint::Or;
                one.is_bound = is_alternative || spoken.is_taken_back;
            }
            understood.heard.extend(heard);
            if let Some(next) = next {
                subject = next;
            }
        }
        understood.subject = scene.references(&subject);
        leave_open_what_is_restricted(&mut understood);
        understood
    }
}

/// "Left door um no right door": the words of a slip of the tongue that the next ones put right, up
/// to where these begin.
fn corrected(words: &[Word], nouns: &[Atom]) -> Option<Range<usize>> {
    let text = |at: usize| words[at].token.text.as_str();
    let ends = |noun: &Atom| Some((*noun.words.iter().min()?, *noun.words.iter().max()?));
    nouns.windows(2).find_map(|pair| {
        let ((from, last), (next, _)) = (ends(&pair[0])?, ends(&pair[1])?);
        // "No right door" is no denial here.
        let next = next + usize::from(text(next) == "no");
        let is_alike = pair[0].step.kinds == pair[1].step.kinds;
        let between = last + 1..next;
        let says = |wanted: &str| between.clone().any(|at| text(at) == wanted);
        let only = between.clone().all(|at| {
            let is_slip = matches!(
                text(at),
                "no" | "sorry"
                    | "um"
                    | "er"
                    | "uh"
                    | "oh"
                    | "wait"
                    | "i"
                    | "mean"
                    | "rather"
                    | "make"
                    | "that"
                    | "the"
            );
            is_slip || !words[at].is_word()
        });
        let is_slip = says("sorry")
            || (says("no")
                && (says("um") || says("er") || says("oh") || says("wait") || says("uh")))
            || (says("mean") && says("i"));
        (is_alike && only && is_slip).then_some(from..next)
    })
}

/// "All sound, except …": a part is sound only if all that follows was understood.
fn leave_open_what_is_restricted(understood: &mut Understood) {
    // "Bottom sound, no worm": more praise restricts nothing.
    let is_no = |fact: &Fact| matches!(fact.found, Found::State { yes: false, .. });
    let is_found = |heard: &Heard| match &heard.what {
        What::Found(_) | What::InOrder(_) => true,
        What::Choose(readings) => readings.iter().flat_map(|one| &one.facts).all(is_no),
        What::Nothing => false,
    };
    let last = understood.heard.iter().rposition(|heard| !is_found(heard));
    let until = last.unwrap_or(0);
    for heard in understood.heard.iter_mut().take(until) {
        if matches!(heard.what, What::InOrder(_)) {
            heard.what = What::Nothing;
            heard.is_bound = true;
        }
    }
}

/// The clauses that another restricts: "all sound but drawer 3", "all but the lock is sound", "drawer 1
/// stiff, now fine".
fn is_open(line: &Line<'_>, clauses: &[Clause]) -> BTreeSet<usize> {
    let mut open = BTreeSet::new();
    let text = |at: &usize| line.words[*at].token.text.as_str();
    for (at, clause) in clauses.iter().enumerate().skip(1) {
        let before = &clauses[at - 1];
        let says = |clause: &Clause| line.says_something(clause);
        let only_names = clause.words.iter().all(|at| {
            let word = &line.words[*at];
            word.small.is_some() || line.finder.is_name(word)
        });
        let is_exception =
            clause.joint == Joint::But && !(says(before) && says(clause) && !only_names);
        let is_all = before
            .words
            .last()
            .is_some_and(|at| matches!(text(at), "anything" | "everything" | "nothing" | "all"));
        let is_sound = before.words.iter().any(|at| is_praise(text(at)));
        if is_exception || (clause.joint == Joint::But && (is_sound || is_all)) {
            open.extend([at - 1, at]);
        }
        // "The drawers are stiff, the bottom one isn't."
        let is_said_again = clause.words.iter().any(|at| before.words.contains(at));
        let denies =
            |at: &usize| line.words[*at].small == Some(Small::Not) && !before.words.contains(at);
        if is_said_again && line.is_of_several(before) && clause.words.iter().any(denies) {
            open.extend([at - 1, at]);
        }
        // "Broken at the dovetail and mended with a plate": it is not broken now.
        let is_mended = clause
            .words
            .iter()
            .take(3)
            .any(|at| MENDED.contains(&text(at)));
        if is_mended && clause.joint != Joint::Strong && !line.names_part(clause) {
            open.insert(at - 1);
        }
        if clause
            .words
            .iter()
            .any(|at| matches!(text(at), "now" | "nowadays"))
        {
            open.extend(0..=at);
        }
    }
    open
}

/// Whether a clause is one of several of which only one need be so: "drawer 1 is stiff or drawer
/// 2 is stiff". A "not" that comes first holds for them all: "not stiff or worn" is neither; "not
/// sure whether" denies nothing.
fn is_alternative(words: &[Word], clauses: &[Clause], at: usize) -> bool {
    let hangs = |at: usize| clauses.get(at).is_some_and(|c| c.joint == Joint::Or);
    let first = (0..=at).rev().find(|&at| !hangs(at)).unwrap_or(0);
    let last = (at..clauses.len())
        .take_while(|&next| next == at || hangs(next))
        .last();
    let (first, last) = (first, last.unwrap_or(at));
    let denies = |clause: &Clause| {
        let all = || clause.words.iter().map(|&at| &words[at]);
        const DOUBTS: [&str; 7] = ["whether", "if", "sure", "certain", "know", "clear", "tell"];
        let is_doubt = all().any(|word| DOUBTS.contains(&word.token.text.as_str()));
        !is_doubt && all().any(|word| word.small == Some(Small::Not))
    };
    let denies_all = denies(&clauses[first]) && !clauses[first + 1..=last].iter().any(denies);
    first < last && !denies_all
}

/// Whether a line says how something was and how it is now: "was stiff, now runs well".
fn is_past(words: &[Word]) -> bool {
    let find = |list: &[&str]| {
        let mut texts = words.iter().map(|word| word.token.text.as_str());
        texts.position(|text| list.contains(&text))
    };
    let was = find(&["was", "were", "had", "been"]);
    was.is_some_and(|was| find(&["now", "nowadays", "today"]).is_some_and(|now| was < now))
}

/// Whether a clause is only "no it doesn't", "maybe", "none", "some of them": what was said before it is then
/// not to be written down without asking.
fn takes_back(words: &[Word], clause: &Clause) -> bool {
    let all = || clause.words.iter().map(|&at| &words[at]);
    let is_small = all().all(|word| word.is_word() && word.small.is_some());
    let takes_back = |small: Small| {
        matches!(
            small,
            Small::Not | Small::Doubt | Small::Missing | Small::Turn
        )
    };
    let is_some = all().any(|word| SOME.contains(&word.token.text.as_str()))
        && all().all(|word| {
            let text = word.token.text.as_str();
            SOME.contains(&text) || matches!(text, "of" | "them" | "only" | "just" | "a")
        });
    // "Otherwise fine" says something of its own.
    let has = |wanted: &dyn Fn(&Word) -> bool| all().any(wanted);
    let says_well = has(&|word| is_praise(&word.token.text))
        && !has(&|word| matches!(word.small, Some(Small::Not | Small::Missing | Small::Doubt)));
    is_some || (is_small && !says_well && all().filter_map(|word| word.small).any(takes_back))
}
