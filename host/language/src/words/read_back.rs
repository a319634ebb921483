//! The whole model, one sentence an entry.

use super::entries;
use super::grammar::quoted;
use super::sign::sign_entry;
use crate::model::{Kind, Model, PIECE, State};
use crate::span::Span;

/// What an entry is, as `read` sorts and heads them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum About {
    /// Title, how often, other words, sources.
    Words,
    /// What is made of what.
    Makeup,
    /// What can be found out.
    Signs,
    /// What counts as something, and what cannot be seen.
    States,
    /// If and then.
    Rules,
    /// What a sign alone points to.
    Means,
    /// When to plan what, and ladders.
    Plans,
    /// The jobs themselves.
    Jobs,
    /// Take care, stop.
    Cautions,
    /// Order of work, and jobs that exclude each other.
    Orders,
    /// How old.
    Datings,
    /// The round of a piece, step by step.
    Rounds,
    /// Worked examples.
    Examples,
    /// What this house changed.
    Changes,
}

impl About {
    /// A heading in the house's own tone.
    #[must_use]
    pub fn heading(self) -> &'static str {
        match self {
            About::Words => "The words",
            About::Makeup => "What is made of what",
            About::Signs => "What can be found out",
            About::States => "What counts, and what cannot be seen",
            About::Rules => "If and then",
            About::Means => "What a sign means",
            About::Plans => "When to plan what",
            About::Jobs => "The jobs",
            About::Cautions => "Care",
            About::Orders => "Order of work",
            About::Datings => "How old",
            About::Rounds => "Looking over",
            About::Examples => "Examples",
            About::Changes => "What this house changed",
        }
    }
}

/// One entry as it was understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadBack {
    /// What it is.
    pub about: About,
    /// The sentence.
    pub text: String,
    /// Where the entry was written; nowhere for the title and the scale.
    pub at: Option<Span>,
}

/// Every entry of the model in one plain English sentence (a round: every step of
/// it), figures filled in, in the order of [`About`] and, inside it, of the model.
#[must_use]
pub fn read_back(model: &Model) -> Vec<ReadBack> {
    let mut all = Gathered(Vec::new());
    words(model, &mut all);
    for kind in &model.kinds {
        if let Some(text) = entries::makeup(model, kind) {
            all.add(About::Makeup, text, Some(makeup_place(kind)));
        }
    }
    for sign in &model.signs {
        all.add(About::Signs, sign_entry(model, sign), Some(sign.at));
    }
    for state in &model.states {
        if let Some(text) = entries::state_entry(model, state) {
            all.add(About::States, text, Some(state.at));
        }
    }
    for r in &model.rules {
        all.add(About::Rules, entries::rule(model, r), Some(r.at));
    }
    for m in &model.means {
        all.add(About::Means, entries::means(model, m), Some(m.at));
    }
    for p in &model.plans {
        all.add(About::Plans, entries::plan(model, p), Some(p.at));
    }
    for l in &model.ladders {
        all.add(About::Plans, entries::ladder(model, l), Some(l.at));
    }
    for j in &model.jobs {
        all.add(About::Jobs, entries::job(model, j), Some(j.at));
    }
    for c in &model.cautions {
        all.add(About::Cautions, entries::caution(model, c), Some(c.at));
    }
    for o in &model.orders {
        all.add(About::Orders, entries::order(model, o), Some(o.at));
    }
    for e in &model.exclusions {
        all.add(About::Orders, entries::exclusion(model, e), Some(e.at));
    }
    for d in &model.datings {
        all.add(About::Datings, entries::dating(model, d), Some(d.at));
    }
    for r in &model.rounds {
        for (number, step) in r.steps.iter().enumerate() {
            let text = entries::step(model, r.piece, number + 1, step);
            all.add(About::Rounds, text, Some(step.at));
        }
    }
    for e in &model.examples {
        all.add(About::Examples, entries::example(model, e), Some(e.at));
    }
    for c in &model.changes {
        all.add(About::Changes, entries::change(c), Some(c.now));
    }
    all.0
}

struct Gathered(Vec<ReadBack>);

impl Gathered {
    fn add(&mut self, about: About, text: String, at: Option<Span>) {
        self.0.push(ReadBack { about, text, at });
    }
}

fn words(model: &Model, all: &mut Gathered) {
    if !model.title.is_empty() {
        all.add(About::Words, entries::title(model), None);
    }
    for text in entries::scale(model) {
        all.add(About::Words, text, None);
    }
    for kind in model.kinds.iter().skip(PIECE.index() + 1) {
        if let Some(text) = entries::synonyms(&kind.name, &kind.also) {
            all.add(About::Words, text, Some(kind.at));
        }
    }
    for State {
        phrase, also, at, ..
    } in &model.states
    {
        if let Some(text) = entries::synonyms(phrase, also) {
            all.add(About::Words, text, Some(*at));
        }
    }
    for source in &model.sources {
        let name = quoted(&source.name);
        let text = source.text.trim().trim_end_matches('.');
        all.add(
            About::Words,
            format!("The source {name} is: {text}."),
            Some(source.at),
        );
    }
}

/// A makeup is shown at its first member, since the kind itself is declared
/// among the words.
fn makeup_place(kind: &Kind) -> Span {
    kind.members.first().map_or(kind.at, |m| m.at)
}
