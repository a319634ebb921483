//! Writes the network of every piece of [`PIECES`], and random answers about
//! it, into a folder: what the scripts in `tests/oracles` read.

use std::path::PathBuf;
use std::process::ExitCode;

use serde_json::{Value, json};
use tellmark_tests::dice::Dice;
use tellmark_tests::oracle::network::Network;
use tellmark_tests::oracle::{PIECES, SETS, Subject, sets, standard};

fn main() -> ExitCode {
    let Some(folder) = std::env::args_os().nth(1).map(PathBuf::from) else {
        eprintln!("Say which folder the networks go into.");
        return ExitCode::FAILURE;
    };
    let (model, built) = standard();
    for (i, (name, words)) in PIECES.into_iter().enumerate() {
        let subject = Subject::new(&model, &built, words);
        let network = Network::of(&subject);
        let mut dice = Dice::new(1_000 + i as u64);
        let drawn: Vec<Vec<Value>> = (0..SETS)
            .map(|_| {
                let set = sets::draw(&subject, &mut dice);
                set.into_iter().map(sets::written).collect()
            })
            .collect();
        let out = json!({
            "name": name,
            "piece": words,
            "print": network.print(),
            "states": network.states,
            "asks": network.asks,
            "parts": subject.used().iter().map(|(part, _)| part).collect::<Vec<_>>(),
            "sets": drawn,
        });
        let path = folder.join(format!("{name}.json"));
        if let Err(why) = std::fs::write(&path, out.to_string()) {
            eprintln!("I could not write {}: {why}", path.display());
            return ExitCode::FAILURE;
        }
        println!(
            "{name}: {} parts, {} states in use, {} sets",
            subject.ground.parts.len(),
            network.states.len(),
            drawn.len(),
        );
    }
    ExitCode::SUCCESS
}
