//! The whole model, one sentence an entry.

use super::called;
use super::entries::{self, job_name};
use super::grammar::{a, list_or, quoted};
use super::kinds;
use super::part::kind_name;
use super::sign::sign_entry;
use crate::model::{Exclusion, Kind, Model, Order, PIECE, Sign, State};
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
    /// What the owner is told.
    Tells,
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
            About::Tells => "What the owner is told",
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
    /// The name by which a house can change it or leave it out, if it has one.
    pub called: Option<String>,
}

/// Every entry of the model in one plain English sentence (a round: every step of
/// it), figures filled in, in the order of [`About`] and, inside it, of the model.
#[must_use]
pub fn read_back(model: &Model) -> Vec<ReadBack> {
    let mut all = Gathered(Vec::new());
    // What holds for several kinds was said once.
    let model = model.as_said();
    words(model, &mut all);
    for kind in &model.kinds {
        if let Some(text) = kinds::makeup(model, kind) {
            all.add(About::Makeup, text, Some(makeup_place(kind)));
        }
    }
    let has_words = |sign: &&Sign| sign.place().is_none();
    for sign in model.declared_signs().iter().filter(has_words) {
        all.add(About::Signs, sign_entry(model, sign), Some(sign.at));
    }
    for state in model.declared_states() {
        if let Some(text) = entries::state_entry(model, state) {
            all.add(About::States, text, Some(state.at));
        }
    }
    for r in &model.rules {
        all.add(About::Rules, entries::rule(model, r), Some(r.at));
        all.called(r.called.clone());
    }
    for m in &model.means {
        all.add(About::Means, entries::means(model, m), Some(m.at));
        all.called(m.called.clone());
    }
    for t in &model.togethers {
        all.add(About::Means, entries::together(model, t), Some(t.at));
        all.called(t.called.clone());
    }
    for one in &model.at_most_ones {
        all.add(About::Rules, entries::at_most_one(model, one), Some(one.at));
        all.called(one.called.clone());
    }
    for o in &model.only_ifs {
        all.add(About::Rules, entries::only_if(model, o), Some(o.at));
        all.called(o.called.clone());
    }
    for p in &model.plans {
        all.add(About::Plans, entries::plan(model, p), Some(p.at));
        all.called(p.called.clone());
    }
    for s in &model.stand_ins {
        let text = super::stand_in::stand_in(model, s);
        all.add(About::Plans, text, Some(s.at));
        all.called(s.called.clone());
    }
    for l in &model.ladders {
        all.add(About::Plans, entries::ladder(model, l), Some(l.at));
        all.called(l.called.clone());
    }
    for j in &model.jobs {
        all.add(About::Jobs, entries::job(model, j), Some(j.at));
    }
    for c in &model.cautions {
        all.add(About::Cautions, entries::caution(model, c), Some(c.at));
        all.called(c.called.clone());
    }
    for t in &model.tells {
        all.add(About::Tells, super::tell::tell(model, t), Some(t.at));
        all.called(t.called.clone());
    }
    for o in &model.orders {
        all.add(About::Orders, entries::order(model, o), Some(o.at));
        all.called(Some(order_called(model, o)));
    }
    for e in &model.exclusions {
        all.add(About::Orders, entries::exclusion(model, e), Some(e.at));
        all.called(Some(exclusion_called(model, e)));
    }
    for d in &model.datings {
        all.add(About::Datings, entries::dating(model, d), Some(d.at));
        all.called(d.called.clone());
    }
    for r in &model.relatives {
        let text = super::relative::relative(model, r);
        all.add(About::Datings, text, Some(r.at));
        all.called(r.called.clone());
    }
    for r in &model.rounds {
        for (number, step) in r.steps.iter().enumerate() {
            let text = entries::step(model, r.piece, number + 1, step);
            all.add(About::Rounds, text, Some(step.at));
            all.called(Some(called::round(&a(kind_name(model, r.piece)))));
        }
    }
    for e in &model.examples {
        all.add(About::Examples, entries::example(model, e), Some(e.at));
        all.called(Some(called::example(&e.title)));
    }
    for c in &model.changes {
        all.add(About::Changes, entries::change(c), Some(c.now));
    }
    all.0
}

struct Gathered(Vec<ReadBack>);

impl Gathered {
    fn add(&mut self, about: About, text: String, at: Option<Span>) {
        self.0.push(ReadBack {
            about,
            text,
            at,
            called: None,
        });
    }

    /// Names the entry that was added last.
    fn called(&mut self, name: Option<String>) {
        if let Some(last) = self.0.last_mut() {
            last.called = name;
        }
    }
}

fn order_called(model: &Model, order: &Order) -> String {
    called::order(job_name(model, order.before), job_name(model, order.after))
}

fn exclusion_called(model: &Model, exclusion: &Exclusion) -> String {
    called::exclusion(
        job_name(model, exclusion.one),
        job_name(model, exclusion.other),
    )
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
        phrase,
        also,
        shared,
        at,
        ..
    } in model.declared_states()
    {
        let words: Vec<String> = also.iter().chain(shared).cloned().collect();
        if let Some(text) = entries::synonyms(phrase, &words) {
            all.add(About::Words, text, Some(*at));
        }
    }
    for friend in &model.wrong_friends {
        all.add(About::Words, entries::wrong_friend(friend), Some(friend.at));
    }
    let mut remarks = model.bench_remarks.iter().peekable();
    while let Some(first) = remarks.next() {
        let mut texts = vec![quoted(&first.text)];
        while let Some(next) = remarks.next_if(|next| next.at == first.at) {
            texts.push(quoted(&next.text));
        }
        let text = format!("At the bench one can remark {}.", list_or(&texts));
        all.add(About::Words, text, Some(first.at));
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
/// among the words; a kind of another, where that is said.
fn makeup_place(kind: &Kind) -> Span {
    if kind.general.is_some() {
        return kind.general_at;
    }
    kind.members.first().map_or(kind.at, |m| m.at)
}
