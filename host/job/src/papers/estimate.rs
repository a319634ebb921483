//! An estimate as a paper: what a quotation says at one moment, with what it rests on.

use super::groups::Groups;
use super::parties::Parties;
use super::text::{LAYOUT, Labelled, TextError, as_minute, as_said, minute};
use crate::advice::{Item, Points, Quote};
use crate::house;
use crate::open_job::JobView;
use crate::record::{Job, NewPaper, PaperKind, PaperName, PaperTrouble};
use crate::scripts::{Line, Priced, as_text};
use jiff::civil::{Date, DateTime};
use rust_decimal::Decimal;
use serde::Serialize;
use tellmark_language::words::{figure, money};

/// An estimate or a supplement.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Estimate {
    /// What it is called.
    pub name: PaperName,
    /// What was agreed before, and this comes on top of; none of an estimate.
    pub adds_to: Vec<PaperName>,
    /// When it was written, to the minute.
    #[serde(serialize_with = "as_minute")]
    pub written: DateTime,
    /// The name of the job's folder.
    pub job: String,
    /// The piece.
    pub piece: String,
    /// Between whom it is.
    pub parties: Parties,
    /// The last day on which it stands.
    #[serde(serialize_with = "as_said")]
    pub until: Date,
    /// The house's currency, as it writes it.
    pub currency: String,
    /// The jobs, numbered from 1.
    pub jobs: Vec<EstimateJob>,
    /// Jobs that are in the hours and not listed, each hardly to be expected.
    pub unlisted: usize,
    /// What it costs, line by line.
    pub prices: Vec<PriceLine>,
    /// Sum of what is fixed.
    #[serde(with = "as_text")]
    pub fixed_total: Decimal,
    /// Sum of what is fixed and what is planned; `None` if nothing is planned besides what is
    /// fixed, or if an earlier program wrote it, which did not say.
    #[serde(with = "as_text::maybe")]
    pub planned_total: Option<Decimal>,
    /// The most that it comes to without asking again.
    #[serde(with = "as_text")]
    pub at_most: Decimal,
    /// Bench hours over everything that may be hidden; `None` of a supplement.
    pub hours: Option<HoursRange>,
    /// Before what the owner decides.
    pub decide: Vec<String>,
    /// What is left alone, in sentences.
    pub left_alone: Vec<String>,
    /// What is called for and not done, in sentences.
    pub not_done: Vec<String>,
    /// What is in none of the figures, in sentences.
    pub uncounted: Vec<String>,
    /// What is taken for granted.
    pub assumptions: Vec<String>,
    /// What it rests on.
    pub rests_on: RestsOn,
}

/// A job of an estimate, for one part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct EstimateJob {
    /// Its number in the paper, from 1.
    pub number: usize,
    /// The job.
    pub job: String,
    /// The part.
    pub part: String,
    /// It is done whatever is hidden.
    pub certain: bool,
    /// "certain", "67 in 100", "not known".
    pub chance: String,
    /// Minutes: quickest, usual, slowest; `None` if the rules do not say.
    pub minutes: Option<[u32; 3]>,
    /// The owner decides before it.
    pub ask_owner: bool,
}

/// A line of what it costs.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PriceLine {
    /// What it costs; of a provisional line, what it costs at most.
    #[serde(with = "as_text")]
    pub amount: Decimal,
    /// It may come to it.
    pub provisional: bool,
    /// Of what may come to it: the order of work called for it.
    pub planned: bool,
    /// The number of the job that it is for; `None` if it is for the whole.
    pub job: Option<usize>,
    /// What it is for, in the house's words.
    pub text: String,
}

/// How many bench hours are enough, and how surely.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HoursRange {
    /// Hours that are enough in 5, 10, 15 … 95 of 100 cases.
    pub twentieths: Vec<f64>,
    /// Hours of what is planned, enough in 10, 50, 80 and 90 of 100 cases; `None` if nothing is,
    /// or if an earlier program wrote it, which did not say.
    pub planned: Option<[f64; 4]>,
    /// The mean.
    pub mean: f64,
    /// The standard deviation.
    pub deviation: f64,
}

/// What an estimate rests on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct RestsOn {
    /// Whose rules.
    pub house: String,
    /// Their version; 0 if they do not say.
    pub version: u32,
    /// The sum of their files.
    pub rules: u32,
    /// The sum of the price list.
    pub prices: u32,
    /// The last line of the record that was gone by.
    pub line: usize,
    /// Lines that were not gone by, because these rules do not understand them.
    pub not_read: Vec<usize>,
}

/// What an estimate is made from, besides the quotation and its prices.
#[derive(Clone, Debug)]
pub struct Terms {
    /// When it is written.
    pub written: DateTime,
    /// The last day on which it stands.
    pub until: Date,
    /// Between whom it is.
    pub parties: Parties,
    /// What it rests on.
    pub rests_on: RestsOn,
}

impl RestsOn {
    /// What an estimate of this job as it was read rests on; `rules` and `prices` are sums.
    #[must_use]
    pub fn of(view: &JobView<'_>, not_understood: &[usize], rules: u32, prices: u32) -> RestsOn {
        let (open, model) = (view.open, view.model());
        let mut not_read: Vec<usize> = open.left_out.iter().map(|(line, _)| *line).collect();
        not_read.extend(open.job.unread().iter().map(|unread| unread.number));
        not_read.extend(not_understood);
        not_read.sort_unstable();
        not_read.dedup();
        RestsOn {
            house: house::name(&open.rules.reading),
            version: model.version,
            rules,
            prices,
            line: last_line(&open.job),
            not_read,
        }
    }
}

/// The last line of the record, as it was read; 0 if there is none.
pub(super) fn last_line(job: &Job) -> usize {
    let lines = job.lines().iter().map(|line| line.number);
    let entries = job.entries().iter().map(|entry| entry.number);
    let unread = job.unread().iter().map(|unread| unread.number);
    lines.chain(entries).chain(unread).max().unwrap_or(0)
}

/// From this chance on a job that has no price of its own is listed.
const LISTED: f64 = 0.01;

impl Estimate {
    /// The job of this number.
    #[must_use]
    pub fn job(&self, number: usize) -> Option<&EstimateJob> {
        self.jobs.iter().find(|job| job.number == number)
    }

    /// The paper of a quotation. Its number is given when it is kept.
    #[must_use]
    pub fn of(quote: &Quote, priced: &Priced, job: &Job, terms: Terms) -> Estimate {
        let lines = || priced.fixed.iter().chain(&priced.provisional);
        let has_price = |item: usize| lines().any(|line| line.item == Some(item));
        let is_listed = |(at, item): &(usize, &Item)| {
            has_price(*at) || item.planned || item.chance.is_some_and(|c| c >= LISTED)
        };
        let items: Vec<(usize, &Item)> = quote.items.iter().enumerate().collect();
        let (listed, others): (Vec<_>, Vec<_>) = items.into_iter().partition(is_listed);
        let number = |line: &Line| {
            let item = line.item?;
            Some(listed.iter().position(|(at, _)| *at == item)? + 1)
        };
        let asks = |item: usize| lines().any(|line| line.item == Some(item) && line.ask_owner);
        let jobs: Vec<EstimateJob> = (1..)
            .zip(&listed)
            .map(|(number, (at, item))| EstimateJob {
                ask_owner: item.ask_owner || asks(*at),
                ..estimate_job(number, item)
            })
            .collect();
        let groups = Groups::of(priced, &quote.items);
        let price = |line: &Line, (provisional, planned)| PriceLine {
            amount: line.amount,
            provisional,
            planned,
            job: number(line),
            text: line.text.clone(),
        };
        let prices = SURENESS
            .iter()
            .zip([&groups.fixed, &groups.planned, &groups.perhaps]);
        let prices = prices.flat_map(|(sureness, lines)| {
            let price = &price;
            lines.iter().map(|line| price(line, *sureness))
        });
        Estimate {
            name: PaperName {
                kind: PaperKind::Estimate,
                year: None,
                number: 1,
            },
            adds_to: Vec::new(),
            written: to_the_minute(terms.written),
            job: folder_name(job),
            piece: job.header().piece_said(),
            parties: terms.parties,
            until: terms.until,
            currency: priced.currency.clone(),
            unlisted: others.iter().filter(|(_, i)| i.chance.is_some()).count(),
            decide: decide(&quote.items),
            jobs,
            prices: prices.collect(),
            fixed_total: priced.fixed_total,
            planned_total: groups.planned_total,
            at_most: priced.at_most,
            hours: Some(hours_range(quote)),
            left_alone: quote.left.iter().map(|left| left.in_words()).collect(),
            not_done: quote.not_done.iter().map(|one| one.in_words()).collect(),
            uncounted: quote.uncounted_in_words(),
            assumptions: priced.assumptions.clone(),
            rests_on: terms.rests_on,
        }
    }

    /// "712.23 crowns fixed, 3,060.53 crowns at most".
    #[must_use]
    pub fn in_short(&self) -> String {
        let amount = |amount: Decimal| format!("{} {}", money(&amount.to_string()), self.currency);
        format!(
            "{} fixed, {} at most",
            amount(self.fixed_total),
            amount(self.at_most)
        )
    }

    /// The paper under this name, ready to be kept.
    #[must_use]
    pub fn to_paper(&self, name: PaperName) -> NewPaper {
        let named = Estimate {
            name,
            ..self.clone()
        };
        NewPaper {
            text: named.to_text(),
            words: named.in_short(),
        }
    }

    /// An estimate or a supplement of a job, if it is as it was written.
    ///
    /// # Errors
    /// See [`PaperTrouble`].
    pub fn read(job: &Job, name: PaperName) -> Result<Estimate, PaperTrouble> {
        let text = job.paper_text(name)?;
        let read = Labelled::read(&text).and_then(|text| Estimate::from_text(&text));
        read.map_err(|why| PaperTrouble::NotUnderstood(name, why.to_string()))
    }

    /// All of its text.
    fn to_text(&self) -> String {
        let never = "This paper is never changed. What is new has a paper of its own.";
        let mut text = Labelled::paper(self.name, &self.piece, never, &self.in_short());
        for name in &self.adds_to {
            text.line("on top of", &name.to_string());
        }
        text.line("written", &minute(self.written));
        text.line("job", &self.job);
        text.line("piece", &self.piece);
        self.parties.write(&mut text);
        text.line("stands until", &self.until.to_string());
        text.line("money", &self.currency);
        self.write_prices(&mut text);
        self.write_hours(&mut text);
        for (heading, label, said) in [
            ("The owner decides, before you …", "decide", &self.decide),
            ("What is left alone", "left alone", &self.left_alone),
            ("What is not done", "not done", &self.not_done),
            (
                "What is in none of the figures",
                "not counted",
                &self.uncounted,
            ),
            (
                "What is taken for granted",
                "taken for granted",
                &self.assumptions,
            ),
        ] {
            text.section(heading, said.iter().map(|said| (label, said.clone())));
        }
        self.write_jobs(&mut text);
        self.write_rests_on(&mut text);
        text.finish()
    }

    fn write_jobs(&self, text: &mut Labelled) {
        let jobs = self.jobs.iter().map(|job| {
            let minutes = job
                .minutes
                .map_or("time not known".to_owned(), |[a, b, c]| {
                    format!("{a}, {b}, {c} min")
                });
            let ask = if job.ask_owner {
                "; the owner decides"
            } else {
                ""
            };
            let said = format!("{}; {}; {}; {minutes}{ask}", job.job, job.part, job.chance);
            (format!("job {}", job.number), said)
        });
        let unlisted = (self.unlisted > 0).then(|| {
            let said = format!("{}, each under 1 in 100", self.unlisted);
            ("jobs not listed".to_owned(), said)
        });
        text.section(
            "The jobs: the part, how likely, and how long (at the quickest, usually, at the slowest)",
            jobs.chain(unlisted),
        );
    }

    fn write_prices(&self, text: &mut Labelled) {
        let line = |price: &PriceLine| {
            let job = price.job.map_or(String::new(), |job| format!("job {job}"));
            let label = if price.provisional { "up to" } else { "fixed" };
            let amount = money(&price.amount.to_string());
            (label, format!("{amount}; {job}; {}", price.text))
        };
        let of = |provisional: bool, planned: bool| {
            let is_wanted =
                move |p: &&PriceLine| (p.provisional, p.planned) == (provisional, planned);
            self.prices.iter().filter(is_wanted).map(line)
        };
        let total = |label, amount: Decimal| (label, money(&amount.to_string()));
        text.section(
            "What is fixed",
            of(false, false).chain([total("fixed in all", self.fixed_total)]),
        );
        if let Some(planned) = self.planned_total {
            let jobs = self.prices.iter().filter(|price| price.planned);
            let jobs: Vec<String> = jobs
                .filter_map(|price| Some(price.job?.to_string()))
                .collect();
            // An earlier program reads them as what may come to it, which they are.
            text.section(
                "What is planned as well, each up to the amount",
                of(true, true).chain([
                    (PLANNED_JOBS, jobs.join(", ")),
                    total(WITH_PLANNED, planned),
                ]),
            );
        }
        text.section(
            "What may come to it, each up to the amount",
            of(true, false).chain([total("never more, unasked", self.at_most)]),
        );
    }

    fn write_hours(&self, text: &mut Labelled) {
        let Some(hours) = &self.hours else {
            return;
        };
        let list = |hours: &[f64]| {
            let hours: Vec<String> = hours.iter().map(|h| format!("{h:.2}")).collect();
            hours.join(", ")
        };
        let planned = hours.planned.as_ref();
        let lines = [
            Some(("hours", list(&hours.twentieths))),
            planned.map(|planned| (PLANNED, list(planned))),
            Some((
                "on average",
                format!("{:.2}, give or take {:.2}", hours.mean, hours.deviation),
            )),
        ];
        text.section(
            "Bench hours that are enough in 5, 10, 15 … 95 of 100 such pieces (of what is planned: \
             in 10, 50, 80 and 90)",
            lines.into_iter().flatten(),
        );
    }

    fn write_rests_on(&self, text: &mut Labelled) {
        let on = &self.rests_on;
        let house = if on.house.is_empty() {
            "no name"
        } else {
            &on.house
        };
        let not_read: Vec<String> = on.not_read.iter().map(usize::to_string).collect();
        let mut lines = vec![
            (
                "rules",
                format!("version {}; checksum {:08x}; {house}", on.version, on.rules),
            ),
            ("prices", format!("checksum {:08x}", on.prices)),
            ("record", format!("up to line {}", on.line)),
        ];
        if !not_read.is_empty() {
            lines.push(("lines not gone by", not_read.join(", ")));
        }
        text.section("What this rests on", lines);
    }

    fn from_text(text: &Labelled) -> Result<Estimate, TextError> {
        text.must_be("layout", LAYOUT)?;
        let on_average = text.one_if_there("on average");
        let hours = match (text.one_if_there("hours"), on_average) {
            (Some(hours), Some(average)) => Some(HoursRange {
                twentieths: text.hours("hours", hours, 19)?,
                planned: match text.one_if_there(PLANNED) {
                    Some(planned) => {
                        let planned = text.hours(PLANNED, planned, 4)?;
                        planned.try_into().ok()
                    }
                    None => None,
                },
                mean: text.parsed("on average", average.split(',').next().unwrap_or(""))?,
                deviation: text.parsed("on average", average.rsplit(' ').next().unwrap_or(""))?,
            }),
            _ => None,
        };
        let mut prices = Vec::new();
        for (label, provisional) in [("fixed", false), ("up to", true)] {
            for said in text.all(label) {
                prices.push(price_line(text, label, said, provisional)?);
            }
        }
        if let Some(planned) = text.one_if_there(PLANNED_JOBS) {
            let planned: Vec<usize> = text.numbers(PLANNED_JOBS, planned)?;
            for price in prices.iter_mut().filter(|price| price.provisional) {
                price.planned = price.job.is_some_and(|job| planned.contains(&job));
            }
        }
        let mut jobs = Vec::new();
        for (label, said) in text.beginning("job ") {
            jobs.push(job_line(text, label, said)?);
        }
        let owned = |label| text.all(label).map(str::to_owned).collect();
        let unlisted = text.one_if_there("jobs not listed");
        let unlisted = unlisted.and_then(|said| said.split(',').next()?.parse().ok());
        Ok(Estimate {
            name: text.name("paper", text.one("paper")?)?,
            adds_to: text
                .all("on top of")
                .map(|said| text.name("on top of", said))
                .collect::<Result<_, _>>()?,
            written: text.minute("written")?,
            job: text.one("job")?.to_owned(),
            piece: text.one("piece")?.to_owned(),
            parties: Parties::read(text),
            until: text.parsed("stands until", text.one("stands until")?)?,
            currency: text.one("money")?.to_owned(),
            jobs,
            unlisted: unlisted.unwrap_or(0),
            prices,
            fixed_total: text.amount("fixed in all", text.one("fixed in all")?)?,
            planned_total: match text.one_if_there(WITH_PLANNED) {
                Some(said) => Some(text.amount(WITH_PLANNED, said)?),
                None => None,
            },
            at_most: text.amount("never more, unasked", text.one("never more, unasked")?)?,
            hours,
            decide: owned("decide"),
            left_alone: owned("left alone"),
            not_done: owned("not done"),
            uncounted: owned("not counted"),
            assumptions: owned("taken for granted"),
            rests_on: rests_on(text)?,
        })
    }
}

/// Whether a line is provisional, and whether it is planned, in the order in which they stand.
const SURENESS: [(bool, bool); 3] = [(false, false), (true, true), (true, false)];

const PLANNED_JOBS: &str = "planned jobs";
const WITH_PLANNED: &str = "with what is planned";

fn price_line(
    text: &Labelled,
    label: &str,
    said: &str,
    provisional: bool,
) -> Result<PriceLine, TextError> {
    let mut fields = said.splitn(3, ';').map(str::trim);
    let amount = text.amount(label, fields.next().unwrap_or(""))?;
    let job = match fields.next().unwrap_or("").strip_prefix("job ") {
        Some(job) => Some(text.parsed(label, job)?),
        None => None,
    };
    Ok(PriceLine {
        amount,
        provisional,
        planned: false,
        job,
        text: fields.next().unwrap_or("").to_owned(),
    })
}

fn job_line(text: &Labelled, label: &str, said: &str) -> Result<EstimateJob, TextError> {
    let number = label.strip_prefix("job ").unwrap_or("");
    let fields: Vec<&str> = said.split(';').map(str::trim).collect();
    let field = |at: usize| fields.get(at).copied().unwrap_or("");
    let minutes = match field(3).strip_suffix(" min") {
        Some(minutes) => Some(text.minutes(label, minutes)?),
        None => None,
    };
    Ok(EstimateJob {
        number: text.parsed(label, number)?,
        job: field(0).to_owned(),
        part: field(1).to_owned(),
        certain: field(2) == CERTAIN,
        chance: field(2).to_owned(),
        minutes,
        ask_owner: field(4) == "the owner decides",
    })
}

fn rests_on(text: &Labelled) -> Result<RestsOn, TextError> {
    let rules = text.one("rules")?;
    let fields: Vec<&str> = rules.splitn(3, ';').map(str::trim).collect();
    let field = |at: usize| fields.get(at).copied().unwrap_or("");
    let sum = |label, said: &str| {
        let sum = said.strip_prefix("checksum ").unwrap_or("");
        u32::from_str_radix(sum, 16).map_err(|_| text.wrong(label))
    };
    let version = field(0).strip_prefix("version ").unwrap_or("");
    let line = text
        .one("record")?
        .strip_prefix("up to line ")
        .unwrap_or("");
    let not_read = text.one_if_there("lines not gone by");
    Ok(RestsOn {
        house: field(2).to_owned(),
        version: text.parsed("rules", version)?,
        rules: sum("rules", field(1))?,
        prices: sum("prices", text.one("prices")?)?,
        line: text.parsed("record", line)?,
        not_read: match not_read {
            Some(lines) => text.numbers("lines not gone by", lines)?,
            None => Vec::new(),
        },
    })
}

const PLANNED: &str = "hours of what is planned";

/// What stands for the chance of a job that is done whatever is hidden.
const CERTAIN: &str = "certain";

fn estimate_job(number: usize, item: &Item) -> EstimateJob {
    let chance = match item.chance {
        _ if item.certain => CERTAIN.to_owned(),
        Some(chance) => figure(chance),
        None => "not known".to_owned(),
    };
    EstimateJob {
        number,
        job: item.job.clone(),
        part: item.part.clone(),
        certain: item.certain,
        chance,
        minutes: item.minutes,
        ask_owner: item.ask_owner,
    }
}

/// Before what the owner decides, of what is likely enough to come up.
pub(super) fn decide(items: &[Item]) -> Vec<String> {
    let mut jobs: Vec<String> = Vec::new();
    for item in items.iter().filter(|item| item.comes_up_to_decide()) {
        if !jobs.contains(&item.job) {
            jobs.push(item.job.clone());
        }
    }
    jobs
}

fn hours_range(quote: &Quote) -> HoursRange {
    let short = |hours: f64| (hours * 100.0).round() / 100.0;
    let twentieths = (1..20).map(|n| short(quote.total.point(f64::from(n) / 20.0)));
    let Points { p10, p50, p80, p90 } = quote.planned_hours;
    HoursRange {
        twentieths: twentieths.collect(),
        planned: quote
            .has_planned_hours()
            .then_some([p10, p50, p80, p90].map(short)),
        mean: short(quote.mean),
        deviation: short(quote.deviation),
    }
}

/// The name of a job's folder, also if it was given as ".".
pub(super) fn folder_name(job: &Job) -> String {
    let whole = std::fs::canonicalize(job.folder());
    let whole = whole.unwrap_or_else(|_| job.folder().to_owned());
    let name = whole.file_name().unwrap_or_default().to_string_lossy();
    crate::one_line::in_one_line(&name)
}

/// A paper says no seconds.
pub(super) fn to_the_minute(when: DateTime) -> DateTime {
    when.date().at(when.hour(), when.minute(), 0, 0)
}
