//! `tellmark remark`

use super::exit::{Exit, Stopped};
use super::frame::Frame;
use super::shape::Shape;
use clap::Args;
use serde_json::json;
use std::path::PathBuf;
use tellmark_job::noting::Noting;
use tellmark_job::record::Remark as Words;

/// Keep a remark as it is typed; no rule reads it
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark remark walnut-chest \"bought at the mill sale\"\n  \
                        tellmark remark walnut-chest --part \"drawer 2\" \"smells of fish \
                        glue\"\n\nRemarks stand in the report under \"also noted\". \"tellmark \
                        note JOB --settle\" offers readings of them."
)]
pub struct Remark {
    /// The job's folder
    #[arg(value_name = "JOB")]
    pub(super) job: PathBuf,
    /// The remark
    #[arg(required = true, value_name = "WORDS")]
    words: Vec<String>,
    /// The part that it is about; else one that the words begin with, else the piece
    #[arg(long, value_name = "PART")]
    part: Option<String>,
}

impl Remark {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let mut job = frame.job(&self.job)?;
        let rules = frame.ready_or_warn()?;
        let words = self.words.join(" ");
        if words.trim().is_empty() {
            return Err(Stopped::Misuse(
                "There are no words in this remark. Nothing was noted.".to_owned(),
            ));
        }
        let mut noting = Noting::new(&rules.reading.model, &job);
        let part = match &self.part {
            Some(part) => noting
                .part_meant(&job, part)
                .map_err(|none| Stopped::Misuse(format!("{none} Nothing was noted.")))?,
            None => noting.spoken_of(&words),
        };
        let remark = Words {
            part: noting.part_words(&part),
            words,
        };
        let added = noting.remark(&mut job, &remark, frame.now)?;
        frame.tell(Exit::Fine, |frame| {
            let Words { part, words } = &remark;
            if frame.global.json {
                let line = added.number;
                return frame.print_json(
                    Shape::REMARK,
                    json!({ "line": line, "part": part, "words": words }),
                );
            }
            writeln!(
                frame.out,
                "Line {}, a remark on {part}: {words}",
                added.number
            )?;
            Ok(())
        })
    }
}
