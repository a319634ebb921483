//! The title of the letter and its first sentences.

use super::super::kind::Kind;
use super::super::price::{amount, unasked};
use super::super::when::day;
use super::agreement::Agreement;
use super::{Gathering, Repair, waits};
use rust_decimal::Decimal;
use tellmark_job::advice::{Dated, said_when};
use tellmark_job::papers::Groups;
use tellmark_job::record::Shelf;
use tellmark_job::scripts::{tax_names, with_taxes};
use tellmark_language::model::{Asks, Found};
use tellmark_language::words::{self, capital, list, number, the_part};

/// "Handed back on 2 October 2026".
pub(super) fn over(g: &Gathering<'_>, agreement: &Agreement) -> String {
    let today = day(g.matter.today());
    match g.kind {
        Kind::Estimate => match agreement {
            Agreement::Whole(_) => format!("What you agreed to, as of {today}"),
            Agreement::InPart => format!("Estimate of {today}, agreed in part"),
            Agreement::None => format!("Estimate of {today}"),
        },
        Kind::Progress => format!("How far it is on {today}"),
        Kind::HandBack => {
            let said = said_when(g.matter.job().entries());
            match said {
                Some((Shelf::HandedBack, when)) => {
                    format!("Handed back on {}", when.date().map_or(today, day))
                }
                // It stands in the workshop still, and the owner may keep this page.
                _ => format!("Ready to be handed back, {today}"),
            }
        }
    }
}

/// "Your chest of drawers".
pub(super) fn title(g: &Gathering<'_>) -> String {
    let piece = g.matter.view.open.piece_name();
    let piece = piece.strip_prefix("the ").unwrap_or(&piece);
    let called = g.matter.job().header().called();
    format!("Your {}", called.unwrap_or(piece))
}

/// What it is, and what became of it.
pub(super) fn lead(g: &Gathering<'_>, repairs: &[Repair]) -> Vec<String> {
    let mut lead = vec![what_it_is(g)];
    lead.extend(later_parts(g.dated));
    lead.extend(wishes(g));
    match g.kind {
        Kind::Estimate => lead.extend(to_pay(g)),
        Kind::Progress => lead.extend(so_far(g, repairs)),
        Kind::HandBack => lead.extend(goes_home(g, repairs)),
    }
    lead.extend(waits::waits(g));
    lead
}

/// "What you wish, as we noted it: to use it for tea again; keep its old colour."
fn wishes(g: &Gathering<'_>) -> Option<String> {
    let wishes = g.matter.progress.wishes.iter();
    let wishes: Vec<&str> = wishes
        .map(|told| told.what.trim_end_matches(['.', ';', ' ']))
        .collect();
    let head = match g.kind {
        Kind::HandBack => "What you wished",
        Kind::Estimate | Kind::Progress => "What you wish",
    };
    (!wishes.is_empty()).then(|| format!("{head}, as we noted it: {}.", wishes.join("; ")))
}

/// More years than these between the first and the last say little.
const TOO_WIDE: u16 = 150;

/// "A chest of drawers with 4 drawers, in walnut, most likely made from 1760 to 1789."
fn what_it_is(g: &Gathering<'_>) -> String {
    let model = g.matter.model();
    let piece = words::piece_order(model, &g.matter.view.open.order);
    let piece = match (g.matter.job().header().called(), piece.split_once(" with ")) {
        (Some(called), Some((_, with))) => format!("{called} with {with}"),
        (Some(called), None) => called.to_owned(),
        (None, _) => piece,
    };
    let mut said = capital(&words::a(&piece));
    if let Some(wood) = main_wood(g) {
        said.push_str(&format!(", in {wood}"));
    }
    let (first, last) = g.dated.made;
    match g.years {
        "" => said.push('.'),
        // A span that tells nothing is not told.
        _ if last.saturating_sub(first) > TOO_WIDE => said.push('.'),
        years => said.push_str(&format!(", most likely made {years}.")),
    }
    said
}

/// The main wood, if somebody noted it of the whole piece.
fn main_wood<'g>(g: &'g Gathering<'_>) -> Option<&'g str> {
    let model = g.matter.model();
    let mut findings = g.matter.found.findings.iter().rev();
    findings.find_map(|finding| {
        let Found::Choice { sign, value } = finding.fact.found else {
            return None;
        };
        match &model.signs.get(sign.index())?.asks {
            Asks::Which { attribute, values } if attribute == "main wood" => {
                values.get(usize::from(value)).map(String::as_str)
            }
            _ => None,
        }
    })
}

/// So many later parts are named.
const LATER: usize = 3;

/// "Drawer 3 is more likely a later part."
fn later_parts(dated: &Dated) -> Option<String> {
    let later = dated.parts.iter().filter(|part| part.original < 0.5);
    let names: Vec<String> = later.map(|part| the_part(&part.name)).collect();
    match names.as_slice() {
        [] => None,
        [one] => Some(format!("{} is more likely of a later time.", capital(one))),
        some if some.len() <= LATER => Some(format!(
            "{} are more likely of a later time.",
            capital(&list(some))
        )),
        some => Some(format!(
            "{} of its parts are more likely of a later time.",
            capital(&words::number(
                u32::try_from(some.len()).unwrap_or(u32::MAX)
            ))
        )),
    }
}

/// What the work costs, for certain and at the very most; hours, where nothing has a price.
fn to_pay(g: &Gathering<'_>) -> Vec<String> {
    if !g.plan.is_left() {
        return vec!["So far there is no work that we are sure of.".to_owned()];
    }
    let priced = g.matter.quoted.and_then(|quoted| quoted.priced);
    match priced {
        Some(priced) => {
            let is_sure = !priced.fixed_total.is_zero();
            let taxes = g.matter.quoted.map_or(&[][..], |quoted| quoted.taxes);
            let sum = |sum: Decimal| {
                let said = amount(&priced.currency, &sum);
                match taxes {
                    [] => said,
                    taxes => format!(
                        "{said} ({} with {})",
                        amount(&priced.currency, &with_taxes(sum, taxes)),
                        tax_names(taxes)
                    ),
                }
            };
            let items = g
                .matter
                .quoted
                .map_or(&[][..], |quoted| &quoted.quote.items);
            let planned = Groups::of(priced, items).planned_total;
            let sure = match (is_sure, planned) {
                (true, Some(planned)) => format!(
                    "The work that we are sure of comes to {}; with what we will most likely do \
                     as well, to {}. ",
                    sum(priced.fixed_total),
                    sum(planned)
                ),
                (true, None) => format!(
                    "The work that we are sure of comes to {}. ",
                    sum(priced.fixed_total)
                ),
                (false, Some(planned)) => {
                    format!("What we will most likely do comes to {}. ", sum(planned))
                }
                (false, None) => String::new(),
            };
            let most = unasked(g.matter, priced);
            let head = match planned.is_some_and(|planned| planned > most) {
                true => "That is more than we may begin: we",
                false => "Whatever proves so of what we suspect, we",
            };
            vec![format!(
                "{sure}{head} do not go beyond {} without asking you.",
                sum(most)
            )]
        }
        None => bench(g)
            .map(|bench| format!("The work that we propose takes {bench} at the bench."))
            .into_iter()
            .collect(),
    }
}

/// "20 to 30 h", enough in 1 and in 9 of 10 cases, of what is planned, as the quotation has it.
fn bench(g: &Gathering<'_>) -> Option<String> {
    let quote = g.matter.quoted?.quote;
    let (least, most) = (quote.planned_hours.p10, quote.planned_hours.p90);
    let (least, most) = (words::hours(least), words::hours(most));
    quote.has_planned_hours().then(|| match least == most {
        true => least,
        false => format!("{least} to {most}"),
    })
}

fn so_far(g: &Gathering<'_>, repairs: &[Repair]) -> Vec<String> {
    let mended = match u32::try_from(repairs.len()).unwrap_or(u32::MAX) {
        0 => "The work has begun.".to_owned(),
        1 => "One repair is done.".to_owned(),
        several => format!("{} repairs are done.", capital(&number(several))),
    };
    let left = bench(g).map(|bench| format!("What is left to do takes {bench} at the bench."));
    std::iter::once(mended).chain(left).collect()
}

fn goes_home(g: &Gathering<'_>, repairs: &[Repair]) -> Vec<String> {
    let opened = g.matter.job().header().opened;
    let came = opened.map(|opened| format!("It came to us on {}.", day(opened.date())));
    let mended = match u32::try_from(repairs.len()).unwrap_or(u32::MAX) {
        0 => None,
        1 => Some("Here is what was wrong with it, and what we did.".to_owned()),
        several => Some(format!(
            "Here is what was wrong with it, and the {} repairs that we made.",
            number(several)
        )),
    };
    came.into_iter().chain(mended).collect()
}

/// What `job.txt` says under one of these labels; empty if nothing.
pub(super) fn label(g: &Gathering<'_>, labels: &[&str]) -> String {
    let header = g.matter.job().header();
    header.all_of(labels).unwrap_or_default()
}
