//! `tellmark unit find`

use super::super::exit::{Exit, Stopped};
use super::super::frame::Frame;
use super::super::shape::Shape;
use super::rules::of_pack;
use super::{NOTHING, Tried, Which};
use clap::Args;
use serde_json::json;
use tellmark_core::link::Hello;
use tellmark_device::unit::LinkError;

/// Find the bench unit and say what it holds
#[derive(Args, Debug)]
#[command(
    after_help = "Examples:\n  tellmark unit find\n  tellmark unit find --port \
                  /dev/ttyACM0\n\nExit code 1 if there is none."
)]
pub struct Find {
    #[command(flatten)]
    which: Which,
}

impl Find {
    /// Runs it.
    pub fn run(&self, frame: &mut Frame) -> Result<Exit, Stopped> {
        let tried = self.which.greet_all();
        let found = tried.iter().any(|tried| tried.hello.is_ok());
        // Which rules they have is worth a word, but no reason to stop.
        let packs = tried
            .iter()
            .filter_map(|tried| tried.hello.as_ref().ok()?.pack);
        let is_ours = |pack: &u32| matches!(of_pack(*pack, frame), Ok(Some(_)));
        let ours: Vec<u32> = packs.filter(is_ours).collect();
        if frame.global.json {
            let ports: Vec<serde_json::Value> =
                tried.iter().map(|tried| as_json(tried, &ours)).collect();
            frame.print_json(Shape::UNIT_FIND, json!({ "ports": ports }))?;
        } else {
            for tried in &tried {
                let path = tried.place.path.display();
                match &tried.hello {
                    Ok(hello) => {
                        let board = board(hello);
                        writeln!(
                            frame.out,
                            "{path}: bench unit {board}, {}",
                            holds(hello, &ours)
                        )?;
                    }
                    Err(trouble) => writeln!(frame.out, "{path}: {trouble}")?,
                }
            }
            if tried.is_empty() {
                writeln!(frame.err, "{NOTHING}")?;
            }
        }
        Ok(if found { Exit::Fine } else { Exit::No })
    }
}

fn board(hello: &Hello) -> String {
    hello.board.iter().map(|b| format!("{b:02x}")).collect()
}

/// "firmware 0.1.0, the pack of these rules (4f1c22aa), 12 notes to fetch."
fn holds(hello: &Hello, ours: &[u32]) -> String {
    let [a, b, c] = hello.firmware;
    let pack = match hello.pack {
        None => "no pack yet".to_owned(),
        Some(pack) if ours.contains(&pack) => format!("the pack of these rules ({pack:08x})"),
        Some(pack) => format!("the pack of other rules ({pack:08x})"),
    };
    let notes = match hello.unfetched {
        0 => "nothing to fetch".to_owned(),
        1 => "1 note to fetch".to_owned(),
        n => format!("{n} notes to fetch"),
    };
    format!("firmware {a}.{b}.{c}, {pack}, {notes}.")
}

fn as_json(tried: &Tried, ours: &[u32]) -> serde_json::Value {
    let port = tried.place.path.display().to_string();
    match &tried.hello {
        Ok(hello) => json!({
            "port": port,
            "name": tried.place.name,
            "board": board(hello),
            "firmware": hello.firmware,
            "protocol": [hello.lowest, hello.highest],
            "log": format!("{:08x}", hello.log),
            "pack": hello.pack.map(|pack| format!("{pack:08x}")),
            "pack_of_these_rules": hello.pack.is_some_and(|pack| ours.contains(&pack)),
            "notes_to_fetch": hello.unfetched,
        }),
        Err(trouble) => json!({
            "port": port,
            "name": tried.place.name,
            "silent": matches!(trouble, LinkError::Silent),
            "trouble": trouble.to_string(),
        }),
    }
}
