//! `tellmark triage`

use super::at_hand::{AtHand, unexpected};
use super::exit::{Exit, Stopped};
use super::frame::Frame;
use crate::inspect::{self, Caution, Clash, Group, Reason, Suspect, Triage as List, Unseen};
use crate::model::Missed;
use crate::words::{self, capital, figure, list, minutes, some_of, sureness_word};
use anstyle::{AnsiColor, Style};
use clap::Args;
use serde_json::{Value, json};
use std::path::PathBuf;

const STRONG: Style = Style::new().bold();
const FAINT: Style = Style::new().dimmed();
const STOP: Style = AnsiColor::Red.on_default().bold();
const CARE: Style = AnsiColor::Yellow.on_default().bold();

/// Say which hidden faults are likely, part by part, and what that rests on
#[derive(Args, Debug)]
#[command(
    after_help = "Example:\n  tellmark triage walnut-chest\n\nA fault is listed from 15 in 100 \
                        (\"possibly\") upwards. Under it stand the findings that move it most, \
                        each with the chance without it."
)]
pub struct Triage {
    /// The job's folder
    #[arg(value_name = "JOB")]
    job: PathBuf,
    /// List every fault, however unlikely
    #[arg(long)]
    all: bool,
}

/// Chances in 100 from which a fault is listed: the mark of "possibly".
const LISTED: u8 = 15;
/// Chances in 100 from which a fault always stands with its part: the mark of
/// "probably".
const PROBABLE: u8 = 60;
/// Decibans that double the odds.
const DOUBLING: f64 = 3.0;
/// Reasons shown for one fault.
const REASONS: usize = 3;

impl Triage {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let at_hand = AtHand::open(&self.job, frame)?;
        let facts = at_hand.facts();
        let set_up = at_hand.set_up(&facts)?;
        let pack = at_hand.built()?.bytes.open().map_err(unexpected)?;
        let list = inspect::triage(&set_up, pack).map_err(unexpected)?;
        let page = Page {
            at_hand: &at_hand,
            list: &list,
            least: if self.all { 0 } else { LISTED },
        };
        if frame.global.json {
            frame.print_json(&page.as_json())?;
        } else {
            page.print(frame)?;
        }
        Ok(if list.clash.is_some() {
            Exit::No
        } else {
            Exit::Fine
        })
    }
}

struct Page<'p> {
    at_hand: &'p AtHand,
    list: &'p List,
    least: u8,
}

impl Page<'_> {
    fn print(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let piece = words::piece_order(self.at_hand.model(), &self.at_hand.order);
        let findings = u32::try_from(self.at_hand.findings.len()).unwrap_or(u32::MAX);
        writeln!(
            frame.out,
            "{STRONG}{}{STRONG:#}: {}.\n{}",
            capital(&piece),
            some_of(findings, "finding", "findings"),
            seen(self.list.unseen)
        )?;
        if let Some(clash) = &self.list.clash {
            return self.print_clash(frame, clash);
        }
        self.print_cautions(frame)?;
        for group in &self.list.groups {
            self.print_group(frame, group)?;
        }
        self.print_rest(frame)
    }

    fn print_clash(&self, frame: &mut Frame, clash: &Clash) -> Result<(), Stopped> {
        writeln!(
            frame.out,
            "\nBy these rules the findings cannot all be true, so I give no chances."
        )?;
        if !clash.facts.is_empty() {
            writeln!(frame.out, "One of these must be wrong:")?;
        }
        for &fact in &clash.facts {
            let (number, text) = self.at_hand.line(fact);
            writeln!(frame.out, "  line {number}: {text}")?;
        }
        writeln!(
            frame.out,
            "Look again, and note what you find: the latest line counts."
        )?;
        Ok(())
    }

    fn print_cautions(&self, frame: &mut Frame) -> Result<(), Stopped> {
        if !self.list.cautions.is_empty() {
            writeln!(frame.out)?;
        }
        for caution in &self.list.cautions {
            let (style, word) = if caution.stop {
                (STOP, "STOP")
            } else {
                (CARE, "Take care")
            };
            writeln!(
                frame.out,
                "{style}{word}{style:#} ({}): {}{FAINT}{}{FAINT:#}",
                list(&caution.parts),
                caution.text,
                source_mark(&caution.source)
            )?;
        }
        Ok(())
    }

    /// Faults that something found speaks for or against, part by part.
    fn print_group(&self, frame: &mut Frame, group: &Group) -> Result<(), Stopped> {
        let listed: Vec<&Suspect> = group
            .suspects
            .iter()
            .filter(|s| words::reaches(s.chance, self.least) && stands_out(s))
            .collect();
        if listed.is_empty() {
            return Ok(());
        }
        writeln!(
            frame.out,
            "\n{STRONG}{}{STRONG:#}{FAINT}{}{FAINT:#}",
            capital(&group.name),
            left(group.unseen)
        )?;
        for suspect in &listed {
            self.print_suspect(frame, suspect)?;
        }
        Ok(())
    }

    /// Faults that nothing speaks strongly of, each once with all its parts.
    fn print_rest(&self, frame: &mut Frame) -> Result<(), Stopped> {
        let mut rest: Vec<(&Suspect, Vec<&str>)> = Vec::new();
        for group in &self.list.groups {
            let listed = group.suspects.iter();
            for suspect in listed.filter(|s| words::reaches(s.chance, self.least) && !stands_out(s))
            {
                let alike = |(other, _): &&mut (&Suspect, Vec<&str>)| {
                    other.state == suspect.state && (other.chance - suspect.chance).abs() < 0.03
                };
                match rest.iter_mut().find(alike) {
                    Some((_, parts)) => parts.push(&group.name),
                    None => rest.push((suspect, vec![&group.name])),
                }
            }
        }
        if rest.is_empty() {
            return Ok(());
        }
        writeln!(
            frame.out,
            "\n{STRONG}Possible, with less to go on{STRONG:#}"
        )?;
        for (suspect, parts) in rest {
            let state = &self.at_hand.model().states[suspect.state.index()];
            let moved = (suspect.chance - suspect.before).abs() >= 0.01;
            let before = if moved {
                format!(", {} before anything was found", figure(suspect.before))
            } else {
                String::new()
            };
            writeln!(
                frame.out,
                "  {}: {} {FAINT}({}{before}{}){FAINT:#}",
                state.phrase,
                self.all_or_each(suspect, &parts),
                figure(suspect.chance),
                suspect.missed.map_or_else(String::new, cost)
            )?;
            self.print_reasons(frame, suspect)?;
        }
        Ok(())
    }

    /// "all 4 bottoms", or the parts by name.
    fn all_or_each(&self, suspect: &Suspect, parts: &[&str]) -> String {
        let model = self.at_hand.model();
        let kind = &model.kinds[model.states[suspect.state.index()].kind.index()];
        let of_kind = self
            .list
            .groups
            .iter()
            .flat_map(|g| &g.suspects)
            .filter(|s| s.state == suspect.state)
            .count();
        if parts.len() > 2 && parts.len() == of_kind {
            format!("all {} {}", parts.len(), kind.plural)
        } else if parts.len() > 4 {
            format!("{} of the {of_kind} {}", parts.len(), kind.plural)
        } else {
            list(parts)
        }
    }

    fn print_suspect(&self, frame: &mut Frame, suspect: &Suspect) -> Result<(), Stopped> {
        let model = self.at_hand.model();
        if suspect.opened {
            let yes = suspect.chance > 0.5;
            let words = words::state_words(model, suspect.state, yes, false);
            writeln!(
                frame.out,
                "  {STRONG}{words}{STRONG:#} (opened up and seen)"
            )?;
            return Ok(());
        }
        let phrase = words::likely_phrase(model, "", suspect.state, suspect.chance);
        writeln!(
            frame.out,
            "  {STRONG}{}{STRONG:#}{FAINT}, {} before anything was found{}{FAINT:#}",
            phrase.trim(),
            figure(suspect.before),
            suspect.missed.map_or_else(String::new, cost)
        )?;
        self.print_reasons(frame, suspect)
    }

    fn print_reasons(&self, frame: &mut Frame, suspect: &Suspect) -> Result<(), Stopped> {
        for reason in suspect.reasons.iter().take(REASONS) {
            let (number, text) = self.at_hand.line(reason.fact);
            let side = if reason.decibans > 0.0 {
                "for"
            } else {
                "against"
            };
            writeln!(
                frame.out,
                "    {side:7} {text} {FAINT}(line {number}; without it {}){FAINT:#}",
                figure(reason.without)
            )?;
        }
        Ok(())
    }

    fn as_json(&self) -> Value {
        let clash = self.list.clash.as_ref().map(|clash| {
            let lines = clash.facts.iter().map(|&fact| self.line_json(fact));
            lines.collect::<Vec<_>>()
        });
        json!({
            "piece": words::piece_order(self.at_hand.model(), &self.at_hand.order),
            "findings": self.at_hand.findings.len(),
            "seen": unseen_json(self.list.unseen),
            "clash": clash,
            "cautions": self.list.cautions.iter().map(caution_json).collect::<Vec<_>>(),
            "parts": self.list.groups.iter().filter_map(|g| self.group_json(g)).collect::<Vec<_>>(),
        })
    }

    fn group_json(&self, group: &Group) -> Option<Value> {
        let suspects: Vec<Value> = group
            .suspects
            .iter()
            .filter(|s| words::reaches(s.chance, self.least))
            .map(|s| self.suspect_json(s))
            .collect();
        (!suspects.is_empty()).then(|| {
            json!({
                "part": group.name,
                "seen": unseen_json(group.unseen),
                "faults": suspects,
            })
        })
    }

    fn suspect_json(&self, suspect: &Suspect) -> Value {
        let model = self.at_hand.model();
        let reason = |reason: &Reason| {
            json!({
                "finding": self.line_json(reason.fact),
                "decibans": reason.decibans,
                "chance_without": reason.without,
            })
        };
        json!({
            "fault": words::state_words(model, suspect.state, true, false),
            "chance": suspect.chance,
            "word": sureness_word(suspect.chance),
            "before": suspect.before,
            "opened": suspect.opened,
            "missed_minutes": suspect.missed.map(|m| m.minutes),
            "risk": suspect.missed.map(|m| m.risk),
            "rests_on": suspect.reasons.iter().map(reason).collect::<Vec<_>>(),
        })
    }

    fn line_json(&self, fact: usize) -> Value {
        let (line, text) = self.at_hand.line(fact);
        json!({ "line": line, "text": text })
    }
}

/// Whether a fault is shown with its part: it has been opened up, is probable,
/// or something found near it at least doubles its odds or halves them.
fn stands_out(suspect: &Suspect) -> bool {
    let strong = |reason: &Reason| reason.is_near && reason.decibans.abs() >= DOUBLING;
    suspect.opened || words::reaches(suspect.chance, PROBABLE) || suspect.reasons.iter().any(strong)
}

fn caution_json(caution: &Caution) -> Value {
    json!({
        "stop": caution.stop,
        "parts": caution.parts,
        "text": caution.text,
        "source": caution.source,
    })
}

fn unseen_json(unseen: Unseen) -> Value {
    json!({
        "checks": unseen.asked,
        "made": unseen.answered,
        "cannot_be_seen": unseen.out_of_sight,
        "left": unseen.left(),
    })
}

fn source_mark(source: &str) -> String {
    if source.is_empty() {
        String::new()
    } else {
        format!(" [{source}]")
    }
}

/// "; found late it costs 3 h, risk 2 of 5".
fn cost(missed: Missed) -> String {
    format!(
        "; found late it costs {}, risk {} of 5",
        minutes(missed.minutes),
        missed.risk
    )
}

fn seen(unseen: Unseen) -> String {
    let hidden = if unseen.out_of_sight > 0 {
        format!(", {} cannot be told", unseen.out_of_sight)
    } else {
        String::new()
    };
    format!(
        "Of {} checks {} are made{hidden}, and {} are left.",
        unseen.asked,
        unseen.answered,
        unseen.left()
    )
}

fn left(unseen: Unseen) -> String {
    match unseen.left() {
        0 => String::new(),
        left => format!(
            ", {} left here",
            some_of(u32::try_from(left).unwrap_or(u32::MAX), "check", "checks")
        ),
    }
}
