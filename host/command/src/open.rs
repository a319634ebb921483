//! `tellmark open`

use super::exit::{Exit, Stopped};
use super::frame::{Frame, as_argument};
use clap::Args;
use serde_json::json;
use std::path::PathBuf;
use tellmark_job::record::{self, Header, Job};
use tellmark_language::read_piece;
use tellmark_language::words;

/// Open a job: a folder for one piece and everything found on it
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark open \"chest of drawers with 4 drawers\"\n  tellmark \
                        open chest of drawers --in jobs --name walnut-chest"
)]
pub struct Open {
    /// What it is, in the words of the rules
    #[arg(required = true, value_name = "PIECE")]
    piece: Vec<String>,
    /// The folder to make the job's folder in
    #[arg(long = "in", value_name = "DIR", default_value = ".")]
    parent: PathBuf,
    /// The name of the job's folder [default: the piece and the day]
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
}

impl Open {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let reading = frame.ready_or_warn()?.reading;
        let model = &reading.model;
        let order = read_piece(model, &self.piece.join(" "))
            .map_err(|message| Stopped::Misuse(message.said()))?;
        let piece = words::piece_order(model, &order);
        let name = match &self.name {
            Some(name) => name.clone(),
            None => {
                let kind = model.kinds.get(order.kind.index());
                let kind = kind.map_or("piece", |k| k.name.as_str());
                record::folder_name(&self.parent, kind, frame.now.date())
            }
        };
        let header = Header::new(&piece, frame.now, &model.title, model.version);
        let job = Job::create(&self.parent, &name, &header)?;
        let folder = job.folder();
        let folder = folder.strip_prefix(".").unwrap_or(folder);
        let folder = folder.display().to_string();
        frame.tell(Exit::Fine, |frame| {
            if frame.global.json {
                return frame.print_json(&json!({ "folder": folder, "piece": piece }));
            }
            writeln!(frame.out, "Opened {folder}: {}.", words::a(&piece))?;
            let (folder, rules) = (as_argument(&folder), frame.rules_argument());
            writeln!(
                frame.out,
                "Note what you find: tellmark note {folder} \"...\"{rules}"
            )?;
            Ok(())
        })
    }
}
