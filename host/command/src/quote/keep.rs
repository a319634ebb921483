//! A quotation kept as a paper.

use super::Worked;
use crate::exit::{Exit, Stopped};
use crate::frame::Frame;
use crate::shape::Shape;
use crate::typed::as_path;
use serde_json::json;
use std::path::Path;
use tellmark_job::papers::{Agreed, Estimate};
use tellmark_job::record::{Job, PaperName, PaperWritten};
use tellmark_job::scripts;
use tellmark_language::words::capital;

/// Refuses to keep what no owner should be given.
pub(super) fn may_be_kept(worked: &Worked, frame: &Frame) -> Result<(), Stopped> {
    if worked.prices_are_invented {
        let rules = match frame.rules()? {
            Some(rules) => rules.display().to_string(),
            None => "the folder of your rules, named with --rules".to_owned(),
        };
        return Err(Stopped::Misuse(format!(
            "These prices are invented, and have no place in a paper for an owner. Put your own \
             list, {}, into {rules}. Nothing was kept.",
            scripts::PRICES
        )));
    }
    if worked.is_over {
        return Err(Stopped::Misuse(
            "Nothing that was found is left to do, so there is nothing to offer. Nothing was kept."
                .to_owned(),
        ));
    }
    Ok(())
}

/// Keeps the paper, and says where it is.
pub(super) fn keep(job: &mut Job, estimate: &Estimate, frame: &mut Frame) -> Result<Exit, Stopped> {
    let kind = estimate.name.kind;
    let written = job.keep_paper(kind, frame.now, |name| estimate.to_paper(name))?;
    let kept = Estimate {
        name: written.name,
        ..estimate.clone()
    };
    let folder = job.folder().to_owned();
    frame.tell(Exit::Fine, |frame| {
        if frame.global.json {
            return frame.print_json(
                Shape::PAPER,
                json!({
                    "paper": kept,
                    "called": written.name.to_string(),
                    "file": written.path,
                    "line": written.line,
                }),
            );
        }
        tell_of_others(&written, frame)?;
        writeln!(
            frame.out,
            "\n{} is kept (line {} of the record): {}.\nIt is in {}, and is never changed.",
            capital(&written.name.to_string()),
            written.line,
            kept.in_short(),
            written.path.display()
        )?;
        tell_how_to_answer(&folder, written.name, frame)
    })
}

/// What was agreed, in data.
pub(super) fn sums(agreed: &Agreed) -> serde_json::Value {
    let papers = agreed.standing().into_iter().map(|answered| {
        json!({
            "paper": answered.paper.name.to_string(),
            "fixed": answered.fixed().to_string(),
            "at_most": answered.at_most().to_string(),
        })
    });
    json!({
        "papers": papers.collect::<Vec<_>>(),
        "fixed": agreed.fixed().to_string(),
        "at_most": agreed.at_most().to_string(),
    })
}

/// Papers that a stopped program left without a line have theirs now.
pub(crate) fn tell_of_others(written: &PaperWritten, frame: &mut Frame) -> Result<(), Stopped> {
    for name in &written.found {
        writeln!(
            frame.out,
            "{} was written before, by a program that was stopped; the record names it now.",
            capital(&name.to_string())
        )?;
    }
    Ok(())
}

fn tell_how_to_answer(folder: &Path, name: PaperName, frame: &mut Frame) -> Result<(), Stopped> {
    let folder = as_path(folder);
    let rules = frame.rules_argument();
    writeln!(
        frame.out,
        "When the owner has answered:\n  tellmark brief {folder} --agreed \"{name}\"{rules}\n  \
         tellmark brief {folder} --agreed \"{name}\" --except \"...\" --up-to \"...\"{rules}\n  \
         tellmark brief {folder} --refused \"{name}\"{rules}"
    )?;
    Ok(())
}
