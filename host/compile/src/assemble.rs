//! Writes the tables of a pack.

use std::collections::HashMap;

use tellmark_core::pack::{
    Ask, Bound, Caution, Constraint, Dating, Force, Form, Fragment as Directory, Job, Kind,
    Manifest, NONE, Pair, Place, Plan, Round, Section, Sentence, State, Step, Touch,
    Verb as PackVerb, Way,
};

use super::bytes::{Sections, Texts, words_of};
use super::condition::{always, program};
use super::fragment::Fragment;
use super::places::Places;
use super::states::{AskRow, Asked, States, count_sign};
use tellmark_language::model::{
    Asks, Condition, DateBound, Disturbs, Evidence, HowOften, JobId, Mark, Model, Predicate, Reach,
    Region, Sense, SourceId, StateId, Test, Ticks, Unit, Verb,
};
use tellmark_language::span::Span;

/// Numbers for a pack: what does not fit becomes "none".
fn half(n: usize) -> u16 {
    u16::try_from(n).unwrap_or(NONE)
}

fn short(minutes: u32) -> u16 {
    u16::try_from(minutes).unwrap_or(u16::MAX)
}

/// Everything that goes into a pack.
pub struct Parts<'m> {
    /// The rules.
    pub model: &'m Model,
    /// Their states and asks.
    pub states: &'m States,
    /// Their places.
    pub places: &'m Places,
    /// A belief fragment for each place.
    pub fragments: &'m [Fragment],
    /// The words of an entry, on one line.
    pub words_of: &'m dyn Fn(Span) -> String,
}

struct Writer<'m> {
    model: &'m Model,
    states: &'m States,
    places: &'m Places,
    texts: Texts,
    conditions: Vec<u32>,
    known: HashMap<Vec<u32>, u32>,
}

/// The bytes of the pack.
#[must_use]
pub fn pack(parts: &Parts<'_>) -> Vec<u8> {
    let mut writer = Writer {
        model: parts.model,
        states: parts.states,
        places: parts.places,
        texts: Texts::default(),
        conditions: always(),
        known: HashMap::new(),
    };
    let mut sections = Sections::default();
    let manifest = Manifest {
        title: &parts.model.title,
        version: parts.model.version,
        made_by: env!("CARGO_PKG_VERSION"),
    };
    let manifest = postcard::to_stdvec(&manifest).unwrap_or_default();
    sections.add(Section::Manifest, words_of(manifest));
    sections.add_rows(Section::Kinds, writer.kinds().iter().map(Kind::words));
    let (numbers, directory, code) = programs(parts.fragments);
    sections.add_rows(
        Section::Places,
        writer.places(&numbers).iter().map(Place::words),
    );
    sections.add_rows(Section::States, writer.states().iter().map(State::words));
    sections.add_rows(Section::Asks, writer.asks().iter().map(Ask::words));
    sections.add_rows(Section::Fragments, directory.iter().map(Directory::words));
    sections.add(Section::Code, code);
    sections.add_rows(Section::Plans, writer.plans().iter().map(Plan::words));
    let jobs = writer.jobs();
    sections.add_rows(Section::Jobs, jobs.iter().map(Job::words));
    sections.add_rows(
        Section::Constraints,
        writer.constraints().iter().map(Constraint::words),
    );
    sections.add_rows(
        Section::Cautions,
        writer.cautions().iter().map(Caution::words),
    );
    let datings = writer.datings();
    sections.add_rows(Section::Datings, datings.iter().map(Dating::words));
    let (rounds, steps) = writer.rounds();
    sections.add_rows(Section::Rounds, rounds.iter().map(Round::words));
    sections.add_rows(Section::Steps, steps.iter().map(Step::words));
    sections.add_rows(Section::Pairs, writer.pairs().iter().map(Pair::words));
    let sentences = writer.sentences(parts.words_of);
    sections.add_rows(Section::Sentences, sentences.iter().map(Sentence::words));
    sections.add(Section::Conditions, std::mem::take(&mut writer.conditions));
    sections.add(Section::Texts, writer.texts.words());
    sections.finish(lowest_minor(&datings, &jobs))
}

/// The first minor version that reads these datings and jobs as they are meant.
fn lowest_minor(datings: &[Dating], jobs: &[Job]) -> u8 {
    let of_traces = |d: &Dating| matches!(d.bound, Bound::Later(_) | Bound::Lost(_));
    let has_stage = |job: &Job| job.stage > 0;
    u8::from(datings.iter().any(of_traces) || jobs.iter().any(has_stage))
}

/// Equal fragments are stored once: the number of each place's, the directory
/// and the programs.
fn programs(fragments: &[Fragment]) -> (Vec<u16>, Vec<Directory>, Vec<u32>) {
    let mut known: HashMap<&Fragment, u16> = HashMap::new();
    let mut numbers = Vec::new();
    let mut directory = Vec::new();
    let mut code = Vec::new();
    for fragment in fragments {
        let number = *known.entry(fragment).or_insert_with(|| {
            let number = half(directory.len());
            let byte = |n: usize| u8::try_from(n).unwrap_or(u8::MAX);
            directory.push(Directory {
                code: u32::try_from(code.len()).unwrap_or(u32::MAX),
                reads: byte(fragment.reads),
                feeds: byte(fragment.feeds),
                groups: byte(fragment.groups.len()),
                constants: half(fragment.program.constants.len()),
                states: half(fragment.states),
                table: half(fragment.groups.iter().map(|g| g.entries()).sum()),
                steps: half(fragment.program.steps.len()),
            });
            for bits in &fragment.program.constants {
                #[allow(clippy::cast_possible_truncation)]
                code.extend([*bits as u32, (*bits >> 32) as u32]);
            }
            for pair in fragment.program.outputs.chunks(2) {
                let second = pair.get(1).copied().unwrap_or(0);
                code.push(u32::from(pair[0]) | (u32::from(second) << 16));
            }
            for group in &fragment.groups {
                code.extend(group.words());
            }
            code.extend(fragment.program.steps.iter().map(|step| step.word()));
            number
        });
        numbers.push(number);
    }
    (numbers, directory, code)
}

impl Writer<'_> {
    fn source(&mut self, source: Option<SourceId>) -> u16 {
        let name = source.map_or("", |id| self.model.sources[id.index()].name.as_str());
        self.texts.add(name)
    }

    /// Where the program of a condition starts; equal programs are stored once.
    fn condition(&mut self, condition: Option<&Condition>) -> u32 {
        let Some(condition) = condition else { return 0 };
        let program = program(self.states, condition);
        if let Some(&at) = self.known.get(&program) {
            return at;
        }
        let at = u32::try_from(self.conditions.len()).unwrap_or(u32::MAX);
        self.conditions.extend(&program);
        self.known.insert(program, at);
        at
    }

    fn kinds(&mut self) -> Vec<Kind> {
        let model = self.model;
        model
            .kinds
            .iter()
            .enumerate()
            .map(|(i, kind)| {
                let states = &self.states.of_kind[i];
                let asks = &self.states.asks_of_kind[i];
                Kind {
                    name: self.texts.add(&kind.name),
                    plural: self.texts.add(&kind.plural),
                    first_state: half(states.start),
                    states: half(states.len()),
                    first_ask: half(asks.start),
                    asks: half(asks.len()),
                }
            })
            .collect()
    }

    fn places(&mut self, fragments: &[u16]) -> Vec<Place> {
        let places = self.places;
        (0..places.len())
            .map(|i| {
                let place = places.get(i);
                let member = place.member.as_ref();
                let names = member.map_or(&[][..], |m| &m.names);
                let counted_by = place.owner.and_then(|owner| {
                    let sign = count_sign(self.model, places.kind(owner), place.kind)?;
                    Some(half(self.states.ask(sign)))
                });
                Place {
                    kind: place.kind.0,
                    owner: place.owner.map_or(NONE, half),
                    end: half(place.end),
                    fragment: fragments[i],
                    least: member.map_or(1, |m| m.least),
                    most: member.map_or(1, |m| m.most),
                    usual: member.map_or(1, |m| m.usual),
                    names: u8::try_from(names.len()).unwrap_or(0),
                    first_name: self.texts.add_row(names),
                    counted_by: counted_by.unwrap_or(NONE),
                }
            })
            .collect()
    }

    fn states(&mut self) -> Vec<State> {
        let rows = &self.states.states;
        rows.iter()
            .map(|row| State {
                phrase: self.texts.add(&row.phrase),
                kind: row.kind.0,
                ask: half(row.ask),
                whether: row.whether.map_or(NONE, half),
                verb: match row.verb {
                    Some(Verb::Is) => PackVerb::Is,
                    Some(Verb::Shows) => PackVerb::Shows,
                    None => PackVerb::Has,
                },
                nature: row.nature,
                risk: row.missed.map_or(0, |m| m.risk),
                trial: row.trial,
                missed: row.missed.map_or(0, |m| short(m.minutes)),
                #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                own: (row.own * 1000.0).round() as u16,
            })
            .collect()
    }

    fn asks(&mut self) -> Vec<Ask> {
        let rows: Vec<AskRow> = self.states.asks.clone();
        rows.iter().map(|row| self.ask(row)).collect()
    }

    fn ask(&mut self, row: &AskRow) -> Ask {
        let model = self.model;
        let sign = match row.what {
            Asked::Sign(sign) => &model.signs[sign.index()],
            Asked::State(state) => {
                let state = &model.states[state.index()];
                let hidden = matches!(
                    state.nature,
                    tellmark_language::model::Nature::Hidden { .. }
                );
                return Ask {
                    kind: row.kind.0,
                    question: 0,
                    how: 0,
                    phrase: self.texts.add(&state.phrase),
                    word: 0,
                    way: if hidden { Way::Open } else { Way::See },
                    touch: if hidden { Touch::ALot } else { Touch::Nothing },
                    minutes: 0,
                    slip: 10,
                    form: Form::Whether,
                };
            }
        };
        let text = |texts: &mut Texts, text: &Option<String>| {
            texts.add(text.as_deref().unwrap_or_default())
        };
        let (phrase, word, form) = match &sign.asks {
            Asks::Whether(state) => (
                model.states[state.index()].phrase.as_str(),
                "",
                Form::Whether,
            ),
            Asks::Which { attribute, values } => {
                let first = self.texts.add_row(values);
                (
                    attribute.as_str(),
                    "",
                    Form::Which {
                        first,
                        values: half(values.len()),
                    },
                )
            }
            Asks::HowMuch {
                word,
                phrase,
                unit,
                least,
                most,
                gauge,
            } => (
                phrase.as_str(),
                word.as_str(),
                Form::HowMuch {
                    least: *least,
                    most: *most,
                    gauge: u16::try_from(*gauge).unwrap_or(u16::MAX),
                    unit: unit_number(*unit),
                },
            ),
            Asks::HowMany(part) => (
                model.kinds[part.index()].plural.as_str(),
                "",
                Form::HowMany { part: part.0 },
            ),
        };
        Ask {
            kind: row.kind.0,
            question: text(&mut self.texts, &sign.ask),
            how: text(&mut self.texts, &sign.how),
            phrase: self.texts.add(phrase),
            word: self.texts.add(word),
            way: match sign.sense {
                Sense::See => Way::See,
                Sense::Feel => Way::Feel,
                Sense::Hear => Way::Hear,
                Sense::Smell => Way::Smell,
                Sense::Ask => Way::Ask,
                Sense::Measure => Way::Measure,
                Sense::Count => Way::Count,
            },
            touch: match sign.disturbs {
                Disturbs::Nothing => Touch::Nothing,
                Disturbs::ALittle => Touch::ALittle,
                Disturbs::ALot => Touch::ALot,
            },
            minutes: sign.takes.map_or(0, short),
            slip: sign.slip.0,
            form,
        }
    }

    fn plans(&mut self) -> Vec<Plan> {
        let model = self.model;
        let mut plans = Vec::new();
        for plan in &model.plans {
            plans.push(Plan {
                subject: plan.subject.0,
                job: plan.job.0,
                condition: self.condition(Some(&plan.when)),
                source: self.source(plan.source),
            });
        }
        for ladder in &model.ladders {
            let source = self.source(ladder.source);
            let mut from = Ticks::MIN;
            let rungs = ladder.rungs.iter().map(|(to, job)| (Some(*to), *job));
            for (to, job) in rungs.chain([(None, ladder.more)]) {
                if let Some(job) = job {
                    let condition = self.rung(ladder.sign, from, to, ladder.at);
                    plans.push(Plan {
                        subject: model.signs[ladder.sign.index()].kind.0,
                        job: job.0,
                        condition,
                        source,
                    });
                }
                from = to.map_or(Ticks::MAX, |to| to.saturating_add(1));
            }
        }
        plans
    }

    fn rung(
        &mut self,
        sign: tellmark_language::model::SignId,
        from: Ticks,
        to: Option<Ticks>,
        at: Span,
    ) -> u32 {
        let test = Test {
            whose: Reach::Own,
            what: Predicate::Measure {
                sign,
                mark: Mark {
                    at_least: from,
                    at_most: to,
                },
                yes: true,
            },
            at,
        };
        self.condition(Some(&Condition::Test(test)))
    }

    fn jobs(&mut self) -> Vec<Job> {
        let model = self.model;
        model
            .jobs
            .iter()
            .map(|job| Job {
                name: self.texts.add(&job.name),
                needs: self.texts.add(&job.needs.join(", ")),
                takes: job
                    .takes
                    .map_or([0; 3], |t| [short(t.least), short(t.mostly), short(t.most)]),
                waits: job.waits.map_or([0; 2], |(a, b)| [short(a), short(b)]),
                once_for: job.once_for.map_or(NONE, |kind| kind.0),
                source: self.source(job.source),
                ask_owner: job.ask_owner,
                stage: job.stage.number(),
            })
            .collect()
    }

    fn constraints(&mut self) -> Vec<Constraint> {
        let model = self.model;
        let firsts = model.jobs.iter().enumerate().flat_map(|(i, job)| {
            job.first.iter().map(move |first| Constraint {
                before: first.0,
                after: half(i),
                because: 0,
                force: Force::First,
            })
        });
        let mut all: Vec<Constraint> = firsts.collect();
        for order in &model.orders {
            all.push(Constraint {
                before: order.before.0,
                after: order.after.0,
                because: self.texts.add(order.because.as_deref().unwrap_or_default()),
                force: if order.always {
                    Force::Always
                } else {
                    Force::Better
                },
            });
        }
        all
    }

    fn cautions(&mut self) -> Vec<Caution> {
        let model = self.model;
        model
            .cautions
            .iter()
            .map(|caution| Caution {
                subject: caution.subject.0,
                text: self.texts.add(&caution.text),
                condition: self.condition(Some(&caution.when)),
                source: self.source(caution.source),
                stop: caution.stop,
            })
            .collect()
    }

    fn datings(&mut self) -> Vec<Dating> {
        let model = self.model;
        model
            .datings
            .iter()
            .map(|dating| {
                let bound = match &dating.bound {
                    DateBound::NotEarlier(year) => Bound::NotEarlier(*year),
                    DateBound::NotLater(year) => Bound::NotLater(*year),
                    DateBound::Usually(from, to) => Bound::Usually(*from, *to),
                    DateBound::LaterThan(kind) => Bound::Later(kind.0),
                    DateBound::Lost(what) => Bound::Lost(self.texts.add(what)),
                };
                Dating {
                    subject: dating.subject.0,
                    source: self.source(dating.source),
                    condition: self.condition(dating.when.as_ref()),
                    bound,
                    strength: match dating.evidence {
                        Evidence::Weak => 0,
                        Evidence::Fair => 1,
                        Evidence::Strong => 2,
                    },
                    region: match dating.region {
                        None => 0,
                        Some(Region::British) => 1,
                        Some(Region::American) => 2,
                    },
                }
            })
            .collect()
    }

    fn rounds(&mut self) -> (Vec<Round>, Vec<Step>) {
        let model = self.model;
        let mut rounds = Vec::new();
        let mut steps = Vec::new();
        for round in &model.rounds {
            rounds.push(Round {
                piece: round.piece.0,
                first: half(steps.len()),
                steps: half(round.steps.len()),
            });
            for step in &round.steps {
                steps.push(Step {
                    ask: half(self.states.ask(step.sign)),
                    condition: self.condition(step.only_if.as_ref()),
                });
            }
        }
        (rounds, steps)
    }

    fn pairs(&mut self) -> Vec<Pair> {
        let model = self.model;
        let exclusions = model.exclusions.iter().map(|exclusion| Pair {
            job: exclusion.one.0,
            other: exclusion.other.0,
            mends: false,
        });
        let states = self.states;
        let mends = model.jobs.iter().enumerate().flat_map(|(i, job)| {
            let job_number = JobId(half(i));
            job.mends.iter().map(move |&state| Pair {
                job: job_number.0,
                other: half(states.declared(state)),
                mends: true,
            })
        });
        exclusions.chain(mends).collect()
    }

    /// The sentences that give reasons, so that the unit can show them.
    fn sentences(&mut self, words_of: &dyn Fn(Span) -> String) -> Vec<Sentence> {
        let model = self.model;
        let rules = model
            .rules
            .iter()
            .map(|r| (r.state, r.strength, r.at, r.source));
        let means = model
            .means
            .iter()
            .map(|m| (m.fault, m.strength, m.at, m.source));
        let all: Vec<(StateId, HowOften, Span, Option<SourceId>)> = rules.chain(means).collect();
        all.into_iter()
            .map(|(state, strength, at, source)| Sentence {
                state: half(self.states.declared(state)),
                strength: strength.chance.0,
                text: self.texts.add(&words_of(at)),
                source: self.source(source),
            })
            .collect()
    }
}

/// The number of a unit in a pack.
#[must_use]
pub fn unit_number(unit: Unit) -> u8 {
    match unit {
        Unit::Mm => 0,
        Unit::Cm => 1,
        Unit::M => 2,
        Unit::In => 3,
        Unit::Ft => 4,
        Unit::Percent => 5,
    }
}
