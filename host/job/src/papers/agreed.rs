//! What the owner said to the papers of a job, and what that comes to.

use super::estimate::{Estimate, EstimateJob, PriceLine};
use crate::advice::WorkPlan;
use crate::amount::Money;
use crate::record::{Answer, Job, PaperKind, PaperName, PaperTrouble, Says, When};
use rust_decimal::Decimal;
use tellmark_language::model::Model;
use tellmark_language::words::{list, money};

/// A paper with the owner's last answer to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Answered {
    /// The paper.
    pub paper: Estimate,
    /// The answer.
    pub answer: Answer,
    /// The most that the owner said yes to, if they said so.
    pub up_to: Option<Decimal>,
    /// The line of the record.
    pub line: usize,
    /// When it was written down.
    pub when: When,
    /// Numbers of the paper's jobs that the owner will not have.
    pub except: Vec<usize>,
}

impl Answered {
    /// The jobs that were agreed to.
    pub fn jobs(&self) -> impl Iterator<Item = &EstimateJob> {
        let jobs = self.paper.jobs.iter();
        jobs.filter(|job| self.answer.yes && !self.except.contains(&job.number))
    }

    /// The lines that were agreed to.
    pub fn prices(&self) -> impl Iterator<Item = &PriceLine> {
        let is_excepted =
            |line: &&PriceLine| line.job.is_some_and(|job| self.except.contains(&job));
        let prices = self.paper.prices.iter();
        prices.filter(move |line| self.answer.yes && !is_excepted(line))
    }

    /// Sum of what is fixed and was agreed to.
    #[must_use]
    pub fn fixed(&self) -> Decimal {
        let fixed = self.prices().filter(|line| !line.provisional);
        fixed.map(|line| line.amount).sum()
    }

    /// The most that was agreed to.
    #[must_use]
    pub fn at_most(&self) -> Decimal {
        let most: Decimal = self.prices().map(|line| line.amount).sum();
        self.up_to.map_or(most, |up_to| most.min(up_to))
    }

    /// "estimate 1: yes, 712.23 marks fixed, 900.00 marks at most; by letter", with what was
    /// excepted.
    #[must_use]
    pub fn in_words(&self) -> String {
        let how = match self.answer.words.as_str() {
            "" => String::new(),
            words => format!("; {words}"),
        };
        if !self.answer.yes {
            return format!("{}: no{how}", self.paper.name);
        }
        let amount =
            |amount: Decimal| format!("{} {}", money(&amount.to_string()), self.paper.currency);
        let excepted = self.paper.jobs.iter();
        let excepted = excepted.filter(|job| self.except.contains(&job.number));
        let excepted: Vec<String> = excepted
            .map(|job| format!("{} ({})", job.job, job.part))
            .collect();
        let but = match excepted.is_empty() {
            true => String::new(),
            false => format!(", without {}", tellmark_language::words::list(&excepted)),
        };
        let condition = match self.up_to {
            Some(_) => ", the owner's condition",
            None => "",
        };
        format!(
            "{}: yes{but}; {} fixed, {} at most{condition}{how}",
            self.paper.name,
            amount(self.fixed()),
            amount(self.at_most())
        )
    }
}

/// Everything that was answered, the last answer to each paper, in the order of papers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Agreed {
    /// The papers that were answered.
    pub answers: Vec<Answered>,
    /// What was ticked: the line of the record, the job, and the parts; none: all.
    ticked: Vec<(usize, String, Vec<String>)>,
}

impl Agreed {
    /// What the record of a job says.
    ///
    /// # Errors
    /// If a paper that was answered cannot be gone by.
    pub fn of(job: &Job) -> Result<Agreed, PaperTrouble> {
        let mut answers: Vec<Answered> = Vec::new();
        let mut ticked = Vec::new();
        for entry in job.entries() {
            match &entry.says {
                Says::Done { job, parts, .. } => {
                    ticked.push((entry.number, job.clone(), parts.clone()));
                }
                Says::Answer(answer) => {
                    let paper = Estimate::read(job, answer.paper)?;
                    answers.retain(|known| known.paper.name != paper.name);
                    let promised = promised(&paper);
                    let said = Money::read(&answer.up_to).map(|money| money.amount);
                    answers.push(Answered {
                        up_to: [said, promised].into_iter().flatten().min(),
                        paper,
                        answer: answer.clone(),
                        line: entry.number,
                        when: entry.when,
                        except: Vec::new(),
                    });
                }
                Says::Refused(decision) | Says::Agreed(decision) => {
                    let refused = matches!(entry.says, Says::Refused(_));
                    let name = PaperName::read(&decision.words);
                    let of = answers.iter_mut().find(|a| Some(a.paper.name) == name);
                    if let Some(of) = of {
                        of.decide(&decision.job, &decision.parts, refused);
                    }
                }
                _ => {}
            }
        }
        answers.sort_by_key(|answered| answered.paper.name.number);
        Ok(Agreed { answers, ticked })
    }

    /// The papers that the owner said yes to.
    pub fn papers(&self) -> impl Iterator<Item = &Answered> {
        self.answers.iter().filter(|answered| answered.answer.yes)
    }

    /// Whether the owner said yes to a paper.
    #[must_use]
    pub fn is_any(&self) -> bool {
        self.papers().next().is_some()
    }

    /// The papers that count: the last estimate that was agreed to, and the supplements to it.
    /// A later estimate takes the place of an earlier one with all that was added to it.
    #[must_use]
    pub fn standing(&self) -> Vec<&Answered> {
        let is_estimate = |answered: &&Answered| answered.paper.name.kind == PaperKind::Estimate;
        let last = self.papers().filter(is_estimate).last();
        let from = last.map_or(0, |answered| answered.paper.name.number);
        let standing = self.papers();
        standing.filter(|a| a.paper.name.number >= from).collect()
    }

    /// The last line of the record that a paper holds for, if a later estimate that was agreed to
    /// took its place.
    #[must_use]
    pub fn until(&self, answered: &Answered) -> Option<usize> {
        let number = answered.paper.name.number;
        let mut later = self.papers().filter(|other| {
            other.paper.name.kind == PaperKind::Estimate && other.paper.name.number > number
        });
        Some(later.next()?.paper.rests_on.line)
    }

    /// The last line of the record that a paper holds for a job on a part, if a later one that was
    /// agreed to has it again.
    #[must_use]
    pub fn again(&self, answered: &Answered, job: &str, part: &str) -> Option<usize> {
        let number = answered.paper.name.number;
        let mut later = self.papers().filter(|other| {
            let is_it = |line: &EstimateJob| {
                let mut prices = other.prices();
                line.job == job && line.part == part && prices.any(|p| p.job == Some(line.number))
            };
            other.paper.name.number > number && other.jobs().any(is_it)
        });
        Some(later.next()?.paper.rests_on.line)
    }

    /// Whether something that was charged is charged under the papers that count: by its paper,
    /// or by the lines of the record that tick it.
    #[must_use]
    pub fn covers(&self, paper: Option<&(PaperName, Vec<usize>)>, ticks: &[usize]) -> bool {
        let standing = self.standing();
        match paper {
            Some((name, _)) => standing.iter().any(|a| a.paper.name == *name),
            None => {
                let since = standing.first().map_or(0, |a| a.paper.rests_on.line);
                ticks.is_empty() || ticks.iter().any(|tick| *tick > since)
            }
        }
    }

    /// What these papers would come to if the owner said yes to this supplement as well.
    #[must_use]
    pub fn with(&self, supplement: &Estimate) -> Agreed {
        let mut with = self.clone();
        // As long as it has no number, it comes after all others.
        let mut paper = supplement.clone();
        paper.name.number = u32::MAX;
        with.answers.push(Answered {
            answer: Answer {
                paper: paper.name,
                yes: true,
                up_to: String::new(),
                words: String::new(),
            },
            up_to: promised(&paper),
            paper,
            line: usize::MAX,
            when: When::Unknown,
            except: Vec::new(),
        });
        with
    }

    /// What has a price in a paper and falls away with what the owner left out, in sentences; `gone`
    /// is what is planned no more, each job with its part.
    #[must_use]
    pub fn falls_away(&self, paper: PaperName, gone: &[(String, String)]) -> Vec<String> {
        let Some(answered) = self.answers.iter().find(|a| a.paper.name == paper) else {
            return Vec::new();
        };
        let of = |provisional: bool| -> Vec<String> {
            let lines = answered.prices().filter(|line| {
                let job = line.job.and_then(|number| answered.paper.job(number));
                line.provisional == provisional
                    && job.is_some_and(|job| {
                        gone.iter().any(|(j, p)| (j, p) == (&job.job, &job.part))
                    })
            });
            let up_to = if provisional { "up to " } else { "" };
            let said = lines
                .map(|line| format!("{} ({up_to}{})", line.text, money(&line.amount.to_string())));
            said.collect()
        };
        let (fixed, more) = (of(false), of(true));
        let mut sentences = Vec::new();
        if !fixed.is_empty() {
            let they = if fixed.len() == 1 {
                "It stays"
            } else {
                "They stay"
            };
            sentences.push(format!(
                "Without that, this is planned no more, of what has a fixed price: {}. {they} in \
                 the sum that was agreed, but only what is done is charged.",
                list(&fixed)
            ));
        }
        if !more.is_empty() {
            sentences.push(format!(
                "Without that, this will not be done either: {}. Ask the owner whether that is \
                 what they want.",
                list(&more)
            ));
        }
        sentences
    }

    /// Sum of what is fixed, over the papers that count.
    #[must_use]
    pub fn fixed(&self) -> Decimal {
        let standing = self.standing();
        let sums = standing.iter().map(|answered| -> Decimal {
            let fixed = self.counted(answered, &standing).filter(|p| !p.provisional);
            fixed.map(|line| line.amount).sum()
        });
        sums.sum()
    }

    /// The most that was agreed to, over the papers that count.
    #[must_use]
    pub fn at_most(&self) -> Decimal {
        let standing = self.standing();
        let sums = standing.iter().map(|answered| {
            let most: Decimal = self.counted(answered, &standing).map(|p| p.amount).sum();
            answered.up_to.map_or(most, |up_to| most.min(up_to))
        });
        sums.sum()
    }

    /// The prices of a paper that count beside the later ones. A job that a later paper has
    /// again counts there, unless it was done in between: then it is done twice.
    fn counted<'a>(
        &'a self,
        answered: &'a Answered,
        standing: &'a [&Answered],
    ) -> impl Iterator<Item = &'a PriceLine> {
        let number = answered.paper.name.number;
        let is_replaced = move |line: &&PriceLine| {
            let job = line.job.and_then(|number| answered.paper.job(number));
            let Some(job) = job else {
                return false;
            };
            let mut later = standing.iter().filter(|o| o.paper.name.number > number);
            later.any(|other| {
                let mut jobs = other.jobs();
                let has_it = jobs.any(|known| {
                    let mut prices = other.prices();
                    (&known.job, &known.part) == (&job.job, &job.part)
                        && prices.any(|price| price.job == Some(known.number))
                });
                has_it && !self.is_done_between(job, answered, other)
            })
        };
        answered.prices().filter(move |line| !is_replaced(line))
    }

    /// Whether a job was ticked after one paper was written and before another.
    fn is_done_between(&self, job: &EstimateJob, paper: &Answered, other: &Answered) -> bool {
        let between = paper.paper.rests_on.line..other.paper.rests_on.line;
        self.ticked.iter().any(|(line, name, parts)| {
            between.contains(&(line - 1))
                && *name == job.job
                && (parts.is_empty() || parts.contains(&job.part))
        })
    }

    /// Jobs of a plan that are called for and have no price in what was agreed, each with its
    /// part; none if nothing was agreed.
    #[must_use]
    pub fn missing(&self, plan: &WorkPlan, model: &Model) -> Vec<String> {
        if !self.is_any() {
            return Vec::new();
        }
        let name = |job: usize| model.jobs.get(job).map_or("", |job| job.name.as_str());
        let called = plan.steps.iter().flat_map(|step| {
            let parts = step.certain.iter();
            parts.map(move |part| (name(step.job), part.as_str()))
        });
        let own = plan.own.iter().flat_map(|own| {
            let parts = own.parts.iter();
            parts.map(move |part| (own.job.as_str(), part.as_str()))
        });
        called
            .chain(own)
            .filter(|(job, part)| !self.has_price(job, part))
            .map(|(job, part)| format!("{job} ({part})"))
            .collect()
    }

    /// The line of a job for a part in what was agreed, if it has one.
    #[must_use]
    pub fn line(
        &self,
        job: &str,
        part: &str,
    ) -> Option<(&Answered, &EstimateJob, Option<&PriceLine>)> {
        let standing = self.standing().into_iter().rev();
        let mut all = standing.flat_map(|answered| {
            let jobs = answered.jobs().filter(|j| j.job == job && j.part == part);
            jobs.map(move |job| {
                let mut prices = answered.prices();
                (answered, job, prices.find(|p| p.job == Some(job.number)))
            })
        });
        let first = all.next()?;
        match first.2 {
            Some(_) => Some(first),
            None => Some(all.find(|(_, _, price)| price.is_some()).unwrap_or(first)),
        }
    }

    /// Whether a job for a part has a price that was agreed to.
    #[must_use]
    pub fn has_price(&self, job: &str, part: &str) -> bool {
        self.line(job, part)
            .is_some_and(|(_, _, price)| price.is_some())
    }

    /// The same for any part.
    #[must_use]
    pub fn has_price_anywhere(&self, job: &str) -> bool {
        let standing = self.standing();
        let mut jobs = standing.iter().flat_map(|answered| answered.jobs());
        jobs.any(|known| known.job == job && self.has_price(job, &known.part))
    }
}

impl Answered {
    fn decide(&mut self, job: &str, parts: &[String], refused: bool) {
        for known in &self.paper.jobs {
            if known.job != job || !parts.contains(&known.part) {
                continue;
            }
            self.except.retain(|number| *number != known.number);
            if refused {
                self.except.push(known.number);
            }
        }
    }
}

/// What a paper promised, where that is less than its lines: the owner had set a limit.
fn promised(paper: &Estimate) -> Option<Decimal> {
    let lines: Decimal = paper.prices.iter().map(|line| line.amount).sum();
    (paper.at_most < lines).then_some(paper.at_most)
}
