//! From entries to a model: names first, then sentences.

pub mod answer;
mod at_most_one;
mod at_smallest;
mod bench_remarks;
mod change;
pub mod clause;
pub mod common;
pub mod dating;
pub mod declare;
mod degrees;
pub(crate) mod diagnose;
pub mod example;
pub mod fault;
mod finding;
pub mod finish;
mod handbook;
mod in_order;
mod inherit;
mod kind_of;
pub mod kinds;
pub mod look;
mod makeup;
mod marks;
mod meant_here;
pub mod measure;
mod once_known;
mod only_if;
pub mod particulars;
mod place;
mod plain_words;
pub mod predicate;
pub mod reach;
mod relative;
pub mod round;
pub mod rule;
mod scale;
pub mod sentence;
mod spell_out;
mod stand_in;
pub mod subject;
mod synonyms;
mod time;
mod together;
pub mod tree;
mod unknown;
pub mod work;
mod worked_likes;
mod worked_out;
mod wrong_friends;

use std::cell::RefCell;
use std::collections::{HashMap, HashSet};

use crate::entry::{Entry, Opener};
use crate::files::Files;
use crate::input::{Read, Tokens, Trail};
use crate::message::{Level, Message, Problem, ProblemKind};
use crate::model::{
    HowOften, JobId, KindId, Model, SignId, SourceId, StateId, Strength, Thousandths,
};
use crate::resolve::diagnose::diagnose;
use crate::resolve::inherit::SaidOfSign;
use crate::resolve::look::{Done, Look};
use crate::resolve::tree::Tree;
use crate::span::Span;
use crate::syntax::Frequency;
use crate::token::{Token, one_line};
use crate::vocab::Vocab;

/// The state of reading a set of files.
pub struct Reader<'f> {
    files: &'f Files,
    vocab: Vocab,
    /// What has been read so far.
    pub model: Model,
    /// What there is to say.
    pub messages: Vec<Message>,
    tree: Tree,
    jobs: HashMap<String, JobId>,
    sources: HashMap<String, SourceId>,
    broken: Broken,
    defaults: Defaults,
    /// Whether a label of the entry at hand was not understood, so that the
    /// value before it runs on.
    quiet_labels: bool,
    late: Vec<Late>,
    jobs_from_standard: HashSet<JobId>,
    /// Whether there was more of something than can be numbered, and that was said.
    is_full: bool,
    /// What signs say of themselves, where a usual value would stand for nothing said.
    said_of_sign: HashMap<SignId, SaidOfSign>,
    /// What kinds are said to have none of, and where.
    left_out: Vec<LeftOut>,
    /// Other words that the house has for what is said of a kind.
    house_words: HashSet<(KindId, String)>,
    /// Other words that a family of pieces says of a kind, each with where.
    family_words: HashMap<(KindId, String), Span>,
    /// Everyday words that mean more than one thing on a kind of part.
    shared_words: HashSet<(KindId, String)>,
}

/// "A bureau has no cornice."
struct LeftOut {
    owner: KindId,
    part: KindId,
    at: Span,
}

/// Starting chances for what has none of its own: of a fault, of a sign.
#[derive(Default)]
struct Defaults {
    fault: Option<(HowOften, Span, bool)>,
    sign: Option<(HowOften, Span, bool)>,
}

/// A slip in a rule's result whose message names the rule that gives the reason,
/// so that it is worded when every rule is known.
struct Late {
    at: Span,
    state: StateId,
    what: Misused,
}

/// What is wrong with such a result.
enum Misused {
    /// "is not": a rule cannot give a reason against.
    Negation { they: String },
    /// "rarely": a small reason for, read as a reason against.
    WeakStrength { word: String, phrase: String },
}

/// Entries that could not be read, so that what only follows from them is held
/// back.
#[derive(Default)]
struct Broken {
    /// Where they stand; nothing for one that was mended after all.
    entries: Vec<Option<Span>>,
    /// Their numbers, by what sort of sentence they are.
    by_opener: HashMap<Opener, Vec<usize>>,
    /// Their numbers, by the words in them.
    by_word: HashMap<String, WordUse>,
}

/// The broken entries that hold a word, in rising order.
#[derive(Default)]
struct WordUse {
    /// Those of a sort that declares words.
    declaring: Vec<usize>,
    all: Vec<usize>,
}

impl Broken {
    /// Candidates that are looked through for one message: a file with very
    /// many slips takes time in proportion to its length.
    const MOST_CANDIDATES: usize = 1_000;

    fn add(&mut self, entry: &Entry) {
        if self.entries.last() == Some(&Some(entry.at)) {
            return;
        }
        let id = self.entries.len();
        self.entries.push(Some(entry.at));
        self.by_opener.entry(entry.opener).or_default().push(id);
        let details = entry.details.iter().flat_map(|d| &d.value);
        let mut seen = HashSet::new();
        for token in entry.sentence.iter().chain(details) {
            if seen.insert(&token.text) {
                let uses = self.by_word.entry(stem(&token.text)).or_default();
                uses.all.push(id);
                if entry.opener.declares() {
                    uses.declaring.push(id);
                }
            }
        }
    }

    /// Takes back every entry from this number on: they were mended.
    fn take_back(&mut self, from: usize) {
        for entry in &mut self.entries[from..] {
            *entry = None;
        }
        for ids in self.by_opener.values_mut() {
            while ids.last().is_some_and(|id| *id >= from) {
                ids.pop();
            }
        }
    }

    /// Whether this entry is still broken, and is not the one at `at`.
    fn is_another(&self, id: usize, at: Span) -> bool {
        self.entries
            .get(id)
            .copied()
            .flatten()
            .is_some_and(|entry| {
                entry.file != at.file || at.start < entry.start || at.start >= entry.end
            })
    }

    /// Whether an entry of one of these sorts, other than the one at `at`, is
    /// broken.
    fn any(&self, openers: &[Opener], at: Span) -> bool {
        openers
            .iter()
            .filter_map(|opener| self.by_opener.get(opener))
            .flatten()
            .any(|id| self.is_another(*id, at))
    }

    /// Whether one broken entry, other than the one at `at`, holds all of
    /// these words.
    fn explains(&self, words: &str, at: Span, declared_only: bool) -> bool {
        const EVERYWHERE: [&str; 9] = ["a", "an", "the", "it", "any", "of", "one", "every", "no"];
        let mut lists: Vec<&[usize]> = Vec::new();
        for word in words.split_whitespace().map(stem) {
            if EVERYWHERE.contains(&word.as_str()) {
                continue;
            }
            match self.by_word.get(&word) {
                Some(uses) if declared_only => lists.push(&uses.declaring),
                Some(uses) => lists.push(&uses.all),
                None => return false,
            }
        }
        lists.sort_by_key(|list| list.len());
        let Some((rarest, others)) = lists.split_first() else {
            return false;
        };
        rarest.iter().take(Self::MOST_CANDIDATES).any(|id| {
            self.is_another(*id, at) && others.iter().all(|list| list.binary_search(id).is_ok())
        })
    }
}

/// Messages for which near words are looked for.
const MOST_EXPLAINED: usize = 300;

/// A word without the mark of the plural, roughly.
fn stem(word: &str) -> String {
    let word = word
        .trim_matches(|c: char| !c.is_alphanumeric())
        .to_lowercase();
    word.strip_suffix("es")
        .or_else(|| word.strip_suffix('s'))
        .filter(|s| s.len() > 2)
        .unwrap_or(&word)
        .to_owned()
}

/// The figures of the strength words, unless the house says otherwise.
pub const SCALE: [(Strength, u16); 8] = [
    (Strength::ByDefinition, 1000),
    (Strength::Always, 990),
    (Strength::NearlyAlways, 950),
    (Strength::Usually, 800),
    (Strength::Often, 600),
    (Strength::Sometimes, 300),
    (Strength::Rarely, 100),
    (Strength::HardlyEver, 30),
];

impl<'f> Reader<'f> {
    /// Begins with nothing but "the piece" and the usual scale.
    #[must_use]
    pub fn new(files: &'f Files, messages: Vec<Message>) -> Self {
        let model = Model {
            scale: SCALE.map(|(s, t)| (s, Thousandths(t))).to_vec(),
            ..Model::default()
        };
        let mut reader = Reader {
            files,
            vocab: Vocab::default(),
            model,
            messages,
            tree: Tree::default(),
            jobs: HashMap::new(),
            sources: HashMap::new(),
            broken: Broken::default(),
            defaults: Defaults::default(),
            quiet_labels: false,
            late: Vec::new(),
            jobs_from_standard: HashSet::new(),
            is_full: false,
            said_of_sign: HashMap::new(),
            left_out: Vec::new(),
            house_words: HashSet::new(),
            family_words: HashMap::new(),
            shared_words: HashSet::new(),
        };
        reader.begin_with_piece();
        reader
    }

    /// Reads all entries.
    pub fn read(&mut self, entries: &[Entry]) {
        for entry in entries.iter().filter(|e| e.opener == Opener::Unknown) {
            self.broken.add(entry);
        }
        self.titles(entries);
        self.scales(entries);
        self.lists(entries);
        let others = self.noun_synonyms(entries);
        self.kinds_of(entries);
        self.makeups(entries);
        self.read_sources(entries);
        self.read_defaults(entries);
        self.signs(entries);
        self.workings(entries);
        self.place_signs(entries);
        self.counts_as(entries);
        self.state_synonyms(others);
        self.wrong_friends(entries);
        self.bench_remarks(entries);
        self.inherit_words();
        let parsed = self.read_sentences(entries);
        let changes = self.changes(entries, &parsed);
        self.read_jobs(entries, &parsed);
        self.resolve_sentences(entries, &parsed, &changes);
        self.rounds(entries, &changes);
        self.examples(entries, &changes);
        self.share_piece_members();
        self.spell_out();
        self.finish(entries);
    }

    /// The words of a stretch of a file on one line.
    fn written(&self, at: Span) -> String {
        one_line(at.words(self.text(at)))
    }

    fn text(&self, at: Span) -> &'f str {
        self.files.file(at).map_or("", |f| f.text.as_str())
    }

    /// Says something, unless it only follows from what could not be read.
    fn say(&mut self, message: Message) {
        let kind = message.kind;
        // What is worded later is said then.
        if self.late.last().is_some_and(|late| late.at == message.at)
            || (kind == ProblemKind::LabelUnreadable && self.quiet_labels)
        {
            return;
        }
        if self.is_unsettled(kind, message.at) {
            return;
        }
        if message.level == Level::Stop && kind.may_follow() {
            let words = self.written(message.at);
            if self
                .broken
                .explains(&words, message.at, kind.follows_declarations_only())
            {
                return;
            }
        }
        self.messages.push(message);
    }

    /// Whether near words are still looked for. Past so many messages nobody reads
    /// on, and a file with very many slips takes time in proportion to its length.
    fn is_still_explaining(&self) -> bool {
        self.messages.len() < MOST_EXPLAINED
    }

    /// Whether a sentence that this rests on could not be read.
    fn is_unsettled(&self, kind: ProblemKind, at: Span) -> bool {
        use Opener::{CountSign, Default, Makeup, Parts, Pieces, Sign, Unknown};
        (kind.rests_on_makeup() && self.broken.any(&[Makeup, Parts, Pieces, Unknown], at))
            || (kind == ProblemKind::NotCounted && self.broken.any(&[CountSign, Sign, Unknown], at))
            || (kind == ProblemKind::NoStartingChance && self.broken.any(&[Default, Unknown], at))
    }

    /// Says why an entry could not be read.
    fn fail(&mut self, entry: &Entry, message: Message) {
        self.say(message);
        self.broken.add(entry);
    }

    /// Reads an entry; where it fails for a slip that can be put right in one
    /// way only, reads it again as it was meant, so that nothing follows from
    /// the slip.
    fn mending(&mut self, entry: &Entry, work: impl Fn(&mut Self, &Entry)) {
        let (said, broken) = (self.messages.len(), self.broken.entries.len());
        work(self, entry);
        if self.broken.entries.len() == broken {
            return;
        }
        let fix = self.messages[said..]
            .iter()
            .filter_map(|m| m.fix.clone())
            .find(|fix| fix.sure);
        let Some(mended) = fix.and_then(|fix| entry.with(&fix)) else {
            return;
        };
        self.broken.take_back(broken);
        work(self, &mended);
    }

    /// The result, if there is one; else the entry is broken.
    fn keep<T>(&mut self, entry: &Entry, done: Done<T>) -> Option<T> {
        match done {
            Ok(found) => Some(found),
            Err(message) => {
                self.fail(entry, *message);
                None
            }
        }
    }

    /// Reads the sentence of an entry with a parser.
    fn parse<O>(
        &mut self,
        entry: &Entry,
        parser: impl for<'a> Fn(Tokens<'a>) -> Read<'a, O>,
    ) -> Option<O> {
        let read = self.parse_tokens(entry, &entry.sentence, parser);
        self.keep(entry, read)
    }

    /// Reads some tokens with a parser.
    fn parse_tokens<O>(
        &self,
        entry: &Entry,
        tokens: &[Token],
        parser: impl for<'a> Fn(Tokens<'a>) -> Read<'a, O>,
    ) -> Done<O> {
        let trail = Trail::default();
        let input = Tokens::new(tokens, &self.vocab, &trail);
        match parser(input) {
            Ok((_, out)) => Ok(out),
            Err(_) => {
                let notes = RefCell::new(Vec::new());
                let look = self.look(&notes);
                Err(Box::new(diagnose(
                    Some(entry.opener),
                    entry.opener.example(),
                    tokens,
                    &trail,
                    &look,
                    |at| self.written(at),
                )))
            }
        }
    }

    fn look<'a>(&'a self, notes: &'a RefCell<Vec<Message>>) -> Look<'a> {
        Look {
            vocab: &self.vocab,
            model: &self.model,
            files: self.files,
            tree: &self.tree,
            piece: None,
            notes,
            is_explaining: self.is_still_explaining(),
        }
    }

    /// Looks names up; remarks made on the way are said.
    fn with_look<T>(&mut self, work: impl FnOnce(&Look<'_>) -> T) -> T {
        let notes = RefCell::new(Vec::new());
        let out = work(&self.look(&notes));
        for note in notes.into_inner() {
            self.messages.push(note);
        }
        out
    }

    /// A frequency with this house's figure.
    fn how_often(&self, often: &Frequency) -> Done<HowOften> {
        if let Some((n, of)) = often.cases {
            if n > of || of == 0 {
                let words = format!("{n} of {of}");
                return look::refuse(
                    often.at,
                    Problem::BadNumberOfParts {
                        words: &words,
                        why: "there cannot be more of them than there are cases",
                    },
                );
            }
            let chance = (u64::from(n) * 1000 + u64::from(of) / 2) / u64::from(of);
            return Ok(HowOften {
                word: None,
                cases: Some((n, of)),
                chance: Thousandths(u16::try_from(chance).unwrap_or(1000)),
            });
        }
        Ok(self.strength(often.word.unwrap_or(Strength::Always)))
    }

    /// A strength word with this house's figure.
    fn strength(&self, word: Strength) -> HowOften {
        let chance = self
            .model
            .scale
            .iter()
            .find(|(strength, _)| *strength == word)
            .map_or(Thousandths(0), |(_, chance)| *chance);
        HowOften {
            word: Some(word),
            cases: None,
            chance,
        }
    }
}
