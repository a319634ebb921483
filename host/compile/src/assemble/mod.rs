//! Writes the tables of a pack.

mod fragments;
mod looks;
mod parts;
mod program;
mod work;
mod workings;

use std::collections::HashMap;

use tellmark_core::pack::{
    Ask, Bound, Caution, Constraint, Dating, Force, Form, Fragment as Directory, Job, Kind,
    Lineage, Manifest, NONE, Nature, OnlyIf, Pair, Place, Plan, Remark, Round, Section, Sentence,
    State, Step, Way, WorkedOut, Working,
};

use crate::bytes::{Sections, Texts, words_of};
use crate::fragment::Fragment;
use crate::meaning::tests;
use crate::numbers::{Number as _, Overflow};
use crate::plans::Call;
use crate::room::PackBytes;
use crate::rules::Rules;
use fragments::Programs;
use parts::unit_number;
pub(crate) use program::program as condition_program;
use program::{always, program_of_call};
use tellmark_language::model::{Condition, Reach, SourceId, Unit};
use tellmark_language::span::Span;

/// Everything that goes into a pack.
pub struct Parts<'m> {
    /// The rules.
    pub rules: Rules<'m>,
    /// A belief fragment for each place.
    pub fragments: &'m [Fragment],
    /// The words of an entry, on one line.
    pub words_of: &'m dyn Fn(Span) -> String,
}

struct Writer<'m> {
    rules: Rules<'m>,
    texts: Texts,
    conditions: Vec<u32>,
    known: HashMap<Vec<u32>, u32>,
    /// Whether any condition speaks of the other parts of an owner.
    looks_beside: bool,
}

/// The pack.
///
/// # Errors
/// [`Overflow`] if some number does not fit, or the core cannot read what was written.
pub fn pack(parts: &Parts<'_>) -> Result<PackBytes, Overflow> {
    let mut writer = Writer {
        rules: parts.rules,
        texts: Texts::default(),
        conditions: always()?,
        known: HashMap::new(),
        looks_beside: false,
    };
    let mut sections = Sections::default();
    let manifest = Manifest {
        title: &parts.rules.model.title,
        version: parts.rules.model.version,
        made_by: env!("CARGO_PKG_VERSION"),
    };
    let manifest = postcard::to_stdvec(&manifest).map_err(|_| Overflow)?;
    sections.add(Section::Manifest, words_of(manifest));
    sections.add_rows(Section::Kinds, writer.kinds()?.iter().map(Kind::words));
    let programs = Programs::of(parts.fragments)?;
    let places = writer.places(&programs.numbers)?;
    sections.add_rows(Section::Places, places.iter().map(Place::words));
    let states = writer.states()?;
    sections.add_rows(Section::States, states.iter().map(State::words));
    let asks = writer.asks()?;
    sections.add_rows(Section::Asks, asks.iter().map(Ask::words));
    let directory = programs.directory.iter().map(Directory::words);
    sections.add_rows(Section::Fragments, directory);
    sections.add(Section::Code, programs.code);
    sections.add_rows(Section::Plans, writer.plans()?.iter().map(Plan::words));
    let jobs = writer.jobs()?;
    sections.add_rows(Section::Jobs, jobs.iter().map(Job::words));
    let constraints = writer.constraints()?;
    sections.add_rows(
        Section::Constraints,
        constraints.iter().map(Constraint::words),
    );
    let cautions = writer.cautions()?;
    sections.add_rows(Section::Cautions, cautions.iter().map(Caution::words));
    let datings = writer.datings()?;
    sections.add_rows(Section::Datings, datings.iter().map(Dating::words));
    let (rounds, steps) = writer.rounds()?;
    sections.add_rows(Section::Rounds, rounds.iter().map(Round::words));
    sections.add_rows(Section::Steps, steps.iter().map(Step::words));
    sections.add_rows(Section::Pairs, writer.pairs().iter().map(Pair::words));
    let sentences = writer.sentences(parts.words_of)?;
    sections.add_rows(Section::Sentences, sentences.iter().map(Sentence::words));
    let only_ifs = writer.only_ifs()?;
    sections.add_rows(Section::OnlyIfs, only_ifs.iter().map(OnlyIf::words));
    let lineages = writer.lineages();
    if !lineages.is_empty() {
        sections.add_rows(Section::Lineages, lineages.iter().map(Lineage::words));
    }
    let (workings, tables) = writer.workings()?;
    if !workings.is_empty() {
        sections.add_rows(Section::Workings, workings.iter().map(WorkedOut::words));
    }
    let has_tables = !tables.is_empty();
    if has_tables {
        sections.add(Section::Tables, tables);
    }
    let remarks = writer.remarks()?;
    if !remarks.is_empty() {
        sections.add_rows_to_skip(Section::Remarks, remarks.iter().map(Remark::words));
    }
    sections.add(Section::Conditions, std::mem::take(&mut writer.conditions));
    sections.add(Section::Texts, writer.texts.words()?);
    let is_place = |row: &WorkedOut| matches!(row.working, Working::Number | Working::FromLast);
    let is_weight = |ask: &Ask| matches!(ask.form, Form::HowMuch { unit, .. } if unit > unit_number(Unit::Year));
    let lowest = match lineages.is_empty() {
        _ if has_tables || asks.iter().any(is_weight) => 7,
        _ if constraints.iter().any(|c| c.force == Force::Then) => 5,
        _ if writer.looks_beside || workings.iter().any(is_place) => 4,
        true => lowest_minor((&states, &asks), &only_ifs, &datings, &jobs),
        false => 3,
    };
    let bytes = PackBytes::new(&sections.finish(lowest)?);
    match bytes.open() {
        Ok(_) => Ok(bytes),
        Err(_) => Err(Overflow),
    }
}

/// The first minor version that reads these as they are meant.
fn lowest_minor(
    (states, asks): (&[State], &[Ask]),
    only_ifs: &[OnlyIf],
    datings: &[Dating],
    jobs: &[Job],
) -> u8 {
    let is_new = |ask: &Ask| match ask.form {
        _ if ask.way == Way::WorkOut => true,
        Form::Degrees { .. } => true,
        Form::HowMuch { unit, .. } => unit > unit_number(Unit::Percent),
        _ => false,
    };
    if asks.iter().any(is_new) || states.iter().any(|state| state.ask == NONE) {
        return 3;
    }
    if !only_ifs.is_empty() || states.iter().any(|state| state.nature == Nature::Divides) {
        return 2;
    }
    let of_traces = |d: &Dating| matches!(d.bound, Bound::Later(_) | Bound::Lost(_));
    let has_stage = |job: &Job| job.stage > 0;
    u8::from(datings.iter().any(of_traces) || jobs.iter().any(has_stage))
}

impl Writer<'_> {
    /// What can be remarked at the bench.
    fn remarks(&mut self) -> Result<Vec<Remark>, Overflow> {
        let remarks = self.rules.model.bench_remarks.iter();
        remarks
            .map(|remark| {
                let text = self.texts.add(&remark.text)?;
                Ok(Remark { text })
            })
            .collect()
    }

    fn source(&mut self, source: Option<SourceId>) -> Result<u16, Overflow> {
        let sources = &self.rules.model.sources;
        let name = source.map_or("", |id| sources[id.index()].name.as_str());
        self.texts.add(name)
    }

    /// Where the program of a condition starts.
    fn condition(&mut self, condition: Option<&Condition>) -> Result<u32, Overflow> {
        let Some(condition) = condition else {
            return Ok(0);
        };
        self.looks_beside(condition);
        let Rules { model, states, .. } = self.rules;
        self.program(condition_program(model, states, condition)?)
    }

    /// Where the program of a call starts.
    fn call(&mut self, call: &Call) -> Result<u32, Overflow> {
        self.looks_beside(&call.when);
        call.turns
            .iter()
            .for_each(|turn| self.looks_beside(&turn.when));
        let Rules { model, states, .. } = self.rules;
        self.program(program_of_call(model, states, call)?)
    }

    /// Notes whether a condition speaks of the other parts of an owner.
    fn looks_beside(&mut self, condition: &Condition) {
        tests(condition, &mut |test| {
            self.looks_beside |= matches!(test.whose, Reach::Others { .. });
        });
    }

    /// Where a program starts; equal programs are stored once.
    fn program(&mut self, program: Vec<u32>) -> Result<u32, Overflow> {
        if let Some(&at) = self.known.get(&program) {
            return Ok(at);
        }
        let at = self.conditions.len().word()?;
        self.conditions.extend(&program);
        self.known.insert(program, at);
        Ok(at)
    }
}
