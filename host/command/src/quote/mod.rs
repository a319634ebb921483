//! `tellmark quote`

mod against;
mod keep;
mod told;

use super::bounded::Bounded;
use super::drawing;
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::open_job::{cannot_set_up, open_job, progress};
use super::typed::as_path;
use crate::shape::Shape;
use clap::Args;
use jiff::ToSpan as _;
use jiff::civil::Date;
pub(super) use keep::tell_of_others;
use rust_decimal::Decimal;
use serde_json::json;
use std::path::{Path, PathBuf};
use tellmark_job::advice::{self, NoQuote, Progress};
use tellmark_job::hours::NoHours;
use tellmark_job::house;
use tellmark_job::limit::On;
use tellmark_job::limits::{self, Compared, Money, Work};
use tellmark_job::open_job::{JobView, OpenJob};
use tellmark_job::papers::{self, Agreed, DoneWork, Estimate, Parties, RestsOn, Terms};
use tellmark_job::record::{Job, PaperTrouble};
use tellmark_job::scripts::{self, Priced, Tax};
use tellmark_language::SourceFile;
use tellmark_language::ink::Ink;
use tellmark_language::words;
use told::{ROOM, wrapped};

const STRONG: Ink = Ink::STRONG;
const FAINT: Ink = Ink::FAINT;

/// Say what it will cost: what is fixed, what may come to it, and how sure that is
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark quote walnut-chest\n  tellmark quote walnut-chest --valid \
                        14\n  tellmark quote walnut-chest --keep --rules my-rules\n  tellmark quote walnut-chest \
                        --supplement --keep --rules my-rules\n  tellmark quote walnut-chest --against --svg \
                        hours.svg\n\nPrices come from prices.rhai in the folder of your own rules; until \
                        you have one, the figures are invented. Hours are worked out over \
                        everything that may be hidden, all of it together."
)]
pub struct Quote {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// For how many days it stands, instead of what the price list says
    #[arg(long, value_name = "DAYS", value_parser = clap::value_parser!(u32).range(..=3650))]
    valid: Option<u32>,
    /// Keep it: a numbered, dated paper in the job's folder, which is never changed
    #[arg(long)]
    keep: bool,
    /// Only what is new against what the owner agreed to; with --keep, as a paper
    #[arg(long, conflicts_with = "valid")]
    supplement: bool,
    /// The papers that were agreed, or the last estimate, beside what was taken
    #[arg(long, conflicts_with_all = ["valid", "keep", "supplement"])]
    against: bool,
    /// Draw the range of hours into this file; with --against also what was taken
    #[arg(long, value_name = "FILE", conflicts_with_all = ["keep", "supplement"])]
    svg: Option<PathBuf>,
}

/// A quotation, and what it rests on.
struct Worked {
    /// Jobs that it prices and that the rules never plan together, in sentences.
    not_both: Vec<String>,
    quote: advice::Quote,
    priced: Priced,
    prices_are_invented: bool,
    /// Nothing that was found is left to do.
    is_over: bool,
    /// The last day on which it stands.
    until: Date,
    rests_on: RestsOn,
    agreed: Agreed,
    /// What the papers that were agreed name of what is done since.
    done: Decimal,
    limits: Vec<Compared>,
    /// The most that it comes to without asking again.
    unasked: Decimal,
    /// The most that a new estimate may promise.
    promised: Decimal,
    /// What the owner's limit leaves for what is still to be done.
    left_by_limit: Option<Decimal>,
    /// Between whom a paper of it is.
    parties: Parties,
}

impl Quote {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = open_job(&self.job, frame)?;
        if self.against {
            return self.against(&job, frame);
        }
        let worked = self.worked(&job, frame)?;
        if self.supplement {
            return self.supplement(&mut job, &worked, frame);
        }
        if self.keep {
            keep::may_be_kept(&worked, frame)?;
            let estimate = worked.estimate(&job, frame);
            if !frame.global.json {
                print(&worked, &estimate.piece, frame)?;
            }
            return keep::keep(&mut job.job, &estimate, frame);
        }
        if let Some(file) = &self.svg {
            let hours = worked.estimate(&job, frame).hours;
            if let Some(hours) = hours {
                against::draw(file, &hours, None)?;
            }
        }
        let piece = job.job.header().piece_said();
        if frame.global.json {
            frame.print_json(
                Shape::QUOTE,
                json!({
                    "piece": piece,
                    "prices": worked.priced,
                    "prices_are_invented": worked.prices_are_invented,
                    "valid_until": worked.until.to_string(),
                    "rests_on": worked.quote,
                    "agreed": keep::sums(&worked.agreed),
                    "limits": worked.limits,
                }),
            )?;
        } else {
            print(&worked, &piece, frame)?;
            drawing::tell(self.svg.as_deref(), frame)?;
        }
        Ok(Exit::Fine)
    }

    /// Works it out.
    fn worked(&self, job: &OpenJob, frame: &mut Frame) -> Result<Worked, Stopped> {
        let view = job.view()?;
        let progress = progress(&view, frame)?;
        let quote = view
            .quote(&progress)
            .map_err(|why| self.no_quote(why, frame))?;
        let rules = frame.rules()?.map(Path::to_owned);
        let file = house::prices(rules.as_deref())?;
        let mut priced = priced(frame, &quote, &job.job.header().piece, &file)?;
        priced.valid_days = self.valid.unwrap_or(priced.valid_days);
        let taxes = taxes(frame, &job.job.header().piece, &file)?;
        priced.assumptions.extend(on_top(&taxes));
        let days = i64::from(priced.valid_days);
        let not_understood: Vec<usize> = progress.not_understood.iter().map(|t| t.line).collect();
        let rules = house::checksum(&house::files(rules.as_deref(), &frame.families()?)?);
        let prices = house::checksum(std::slice::from_ref(&file));
        let agreed = agreed(&job.job, frame)?;
        let done = done_work(&view, &progress, &agreed, frame)?;
        let plan = view.plan(&progress).map_err(cannot_set_up)?;
        let money = Money {
            currency: &priced.currency,
            done,
            fixed: priced.fixed_total,
            planned: papers::Groups::of(&priced, &quote.items)
                .planned_total
                .unwrap_or(priced.fixed_total),
            at_most: priced.at_most,
            taxes: &taxes,
        };
        let compared = limits::limits(
            &progress,
            &Work {
                plan: &plan,
                quote: Some(&quote),
                price: Some(money),
                waits: &advice::waits(job.model(), job.job.entries(), &progress, frame.moment()),
            },
            frame.now.date(),
        );
        let unasked = limits::unasked(&progress, &money, &agreed);
        let promised = limits::within_limit(priced.at_most, &progress, &money);
        let left_by_limit = limits::left_by_limit(&progress, &money);
        let is_planned = quote.items.iter().any(|item| item.planned);
        let not_both = plan.at_odds.iter().map(|odds| {
            let parts = odds.hangs.as_ref().map_or(&[][..], |hangs| &hangs.parts);
            let on = match parts {
                [] => String::new(),
                parts => format!(": {}", words::list(parts)),
            };
            let (head, said) = odds.in_words(job.model(), &on);
            format!("{head} {said}")
        });
        let not_both = not_both.collect();
        Ok(Worked {
            not_both,
            prices_are_invented: file.standard,
            is_over: !is_planned && progress.done().next().is_some(),
            until: frame.now.date().saturating_add(days.days()),
            rests_on: RestsOn::of(&view, &not_understood, rules, prices),
            quote,
            priced,
            agreed,
            done: done.agreed,
            limits: compared,
            unasked,
            promised,
            left_by_limit,
            parties: Parties::of(&house::workshop(frame.rules()?)?, &job.job),
        })
    }

    /// What is new against what was agreed, shown or kept.
    fn supplement(
        &self,
        job: &mut OpenJob,
        worked: &Worked,
        frame: &mut Frame,
    ) -> Result<Exit, Stopped> {
        let folder = as_path(&self.job);
        let agreed = papers::Agreed::of(&job.job).map_err(no_paper)?;
        if !agreed.is_any() {
            return Err(Stopped::Misuse(format!(
                "The owner has said yes to no paper of this job yet, so there is nothing to add \
                 to. \"tellmark quote {folder} --keep{}\" keeps an estimate.",
                frame.rules_argument()
            )));
        }
        if self.keep {
            keep::may_be_kept(worked, frame)?;
        }
        let new = {
            let view = job.view()?;
            let progress = progress(&view, frame)?;
            let ticks = papers::Ticks::of(&view, &progress).map_err(cannot_set_up)?;
            papers::supplement(&worked.estimate(job, frame), &agreed, &ticks)
        };
        let Some(mut new) = new else {
            let said = "Nothing is new against what was agreed.";
            if self.keep {
                return Err(Stopped::Misuse(format!("{said} Nothing was kept.")));
            }
            if frame.global.json {
                frame.print_json(
                    Shape::SUPPLEMENT,
                    json!({ "supplement": null, "agreed": keep::sums(&agreed) }),
                )?;
            } else {
                writeln!(frame.out, "{said}")?;
            }
            return Ok(Exit::Fine);
        };
        let left = worked.left_by_limit;
        let over = left.map(|left| papers::keep_within(&mut new, &agreed, worked.done, left));
        if !frame.global.json {
            told::print_supplement(frame, &new, &agreed)?;
            if let Some(over) = over.filter(|over| !over.is_zero()) {
                writeln!(
                    frame.out,
                    "With what was agreed this is up to {} {} more than the owner's limit leaves: \
                     ask them for another limit before it is begun.",
                    words::money(&over.to_string()),
                    new.currency
                )?;
            }
            print_limits(frame, worked)?;
            told::print_again(frame, &worked.quote)?;
        }
        if self.keep {
            return keep::keep(&mut job.job, &new, frame);
        }
        if frame.global.json {
            frame.print_json(
                Shape::SUPPLEMENT,
                json!({ "supplement": new, "agreed": keep::sums(&agreed) }),
            )?;
        }
        Ok(Exit::Fine)
    }

    fn no_quote(&self, why: NoQuote, frame: &Frame) -> Stopped {
        let triage = frame.command("triage", &self.job);
        match why {
            NoQuote::SetUp(why) => cannot_set_up(why),
            NoQuote::Hours(NoHours::Clash) => Stopped::Misuse(format!(
                "The findings cannot all be true, so nothing can be quoted. To see \
                 which ones clash:\n  {triage}"
            )),
            NoQuote::Hours(NoHours::TooTangled) => Stopped::Misuse(
                "The rules tie so many parts of this piece together that the hours cannot be \
                 worked out. \"tellmark plan\" gives the jobs with their times."
                    .to_owned(),
            ),
        }
    }
}

impl Worked {
    /// The estimate that it comes to.
    fn estimate(&self, job: &OpenJob, frame: &Frame) -> Estimate {
        let terms = Terms {
            written: frame.now,
            until: self.until,
            parties: self.parties.clone(),
            rests_on: self.rests_on.clone(),
        };
        Estimate {
            at_most: self.promised,
            ..Estimate::of(&self.quote, &self.priced, &job.job, terms)
        }
    }
}

/// What the house's invoices add to these sums, in sentences.
pub(super) fn taxes(
    frame: &mut Frame,
    piece: &str,
    file: &SourceFile,
) -> Result<Vec<Tax>, Stopped> {
    let ran = scripts::invoice_terms(piece, file, &Bounded::here());
    for line in &ran.printed {
        writeln!(frame.err, "{}: {line}", scripts::PRICES)?;
    }
    let terms = ran
        .result
        .map_err(|trouble| Stopped::Misuse(trouble.render(tellmark_language::Style::Colour)))?;
    Ok(terms.taxes)
}

/// A sentence on each tax.
fn on_top(taxes: &[Tax]) -> impl Iterator<Item = String> {
    let taxes = taxes.iter();
    taxes.map(|tax| format!("{} comes on top, {} of 100.", tax.text, tax.percent))
}

/// What is done already. What no agreed paper names is priced by its hours where the owner set a
/// limit in money, since nothing else asks.
pub(super) fn done_work(
    view: &JobView<'_>,
    progress: &Progress,
    agreed: &Agreed,
    frame: &mut Frame,
) -> Result<DoneWork, Stopped> {
    let has_limit = progress
        .limits
        .iter()
        .any(|told| matches!(told.what.on, On::Sum { .. }));
    if !has_limit && !agreed.is_any() {
        return Ok(DoneWork::default());
    }
    let job = view.open;
    let ticks = papers::Ticks::of(view, progress).map_err(cannot_set_up)?;
    let priced = match ticks.ticks.is_empty() {
        true => None,
        false => {
            let file = house::prices(frame.rules()?)?;
            let piece = &job.job.header().piece;
            let all: Vec<&papers::Tick> = ticks.ticks.iter().collect();
            let ran = papers::prices_by_hours(&all, job.model(), piece, &file, &Bounded::here());
            Some(ran.result.map_err(|trouble| {
                Stopped::Misuse(trouble.render(tellmark_language::Style::Colour))
            })?)
        }
    };
    // A paper that cannot be gone by was told of already.
    Ok(papers::done_work(&job.job, &ticks, priced.as_ref()).unwrap_or_default())
}

/// Each of the owner's limits, beside what the work comes to.
fn print_limits(frame: &mut Frame, worked: &Worked) -> Result<(), Stopped> {
    for limit in &worked.limits {
        let said = words::capital(&limit.sentence("the owner's"));
        let said = wrapped(&format!("{said}."), ROOM).join("\n    ");
        writeln!(frame.out, "{said}")?;
    }
    Ok(())
}

/// What the owner said to papers. If one of them cannot be gone by, that is said, and none is.
pub(super) fn agreed(job: &Job, frame: &mut Frame) -> Result<Agreed, Stopped> {
    match Agreed::of(job) {
        Ok(agreed) => Ok(agreed),
        Err(why) => {
            writeln!(frame.err, "{why}")?;
            Ok(Agreed::default())
        }
    }
}

/// A paper that cannot be gone by.
pub(super) fn no_paper(why: PaperTrouble) -> Stopped {
    match why {
        PaperTrouble::Read(why) => why.into(),
        other => Stopped::Misuse(other.to_string()),
    }
}

/// Between whom a paper is, a line each.
pub(crate) fn print_parties(parties: &Parties, frame: &mut Frame) -> Result<(), Stopped> {
    for (label, said) in parties.lines() {
        writeln!(
            frame.out,
            "{FAINT}{}: {said}{FAINT:#}",
            words::capital(label)
        )?;
    }
    Ok(())
}

/// Tells it in a terminal.
fn print(worked: &Worked, piece: &str, frame: &mut Frame) -> Result<(), Stopped> {
    writeln!(frame.out, "{STRONG}Quotation: {piece}{STRONG:#}")?;
    print_parties(&worked.parties, frame)?;
    if worked.prices_are_invented {
        writeln!(
            frame.out,
            "The prices are invented. Put your own list, {}, into the folder of your rules.",
            scripts::PRICES
        )?;
    }
    if worked.is_over {
        writeln!(
            frame.out,
            "Nothing that was found is left to do. This is for what may still be hidden."
        )?;
    }
    told::print_agreed(frame, worked)?;
    told::print_prices(frame, worked)?;
    print_limits(frame, worked)?;
    told::print_again(frame, &worked.quote)?;
    told::print_holds(frame, &worked.quote.items)?;
    for said in &worked.not_both {
        writeln!(
            frame.out,
            "{}",
            told::wrapped(said, told::ROOM).join("\n    ")
        )?;
    }
    told::print_left(frame, &worked.quote)?;
    for assumption in &worked.priced.assumptions {
        let said = format!("Taken for granted: {assumption}");
        writeln!(frame.out, "{}", wrapped(&said, ROOM).join("\n    "))?;
    }
    writeln!(
        frame.out,
        "It stands for {}, until {}.",
        words::some_of(worked.priced.valid_days, "day", "days"),
        worked.until
    )?;
    told::print_hours(frame, &worked.quote)?;
    told::print_widens(frame, &worked.quote)?;
    told::print_not_done(frame, &worked.quote)?;
    let uncounted = worked.quote.uncounted_in_words();
    if !uncounted.is_empty() {
        writeln!(frame.out, "\n{}", uncounted.join("\n"))?;
    }
    Ok(())
}

/// What a price list makes of the work; what it prints goes to the error stream.
pub(super) fn priced(
    frame: &mut Frame,
    quote: &advice::Quote,
    piece: &str,
    file: &SourceFile,
) -> Result<Priced, Stopped> {
    let ran = scripts::prices(quote, piece, file, &Bounded::here());
    for line in &ran.printed {
        writeln!(frame.err, "{}: {line}", scripts::PRICES)?;
    }
    ran.result
        .map_err(|trouble| Stopped::Misuse(trouble.render(tellmark_language::Style::Colour)))
}
