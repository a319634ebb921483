//! `tellmark-speed network FILE` writes the network that other libraries get;
//! `tellmark-speed table [LIBRARIES [PROGRAM FOLDER]]` measures and prints the
//! table; `tellmark-speed only PART` measures one part of it, for a profiler.

use std::path::Path;
use std::process::ExitCode;

use tellmark_speed::posterior::{exported, trials};
use tellmark_speed::{chest, table};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = match words[..] {
        ["network", file] => network(Path::new(file)),
        ["only", part] => table::only(part),
        ["table"] => table::print(None, None),
        ["table", libraries] => table::print(Some(Path::new(libraries)), None),
        ["table", libraries, program, folder] => table::print(
            Some(Path::new(libraries)),
            Some((Path::new(program), Path::new(folder))),
        ),
        _ => {
            eprintln!(
                "tellmark-speed network FILE | table [LIBRARIES [PROGRAM FOLDER]] | only PART"
            );
            return ExitCode::from(2);
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::FAILURE
        }
    }
}

fn network(file: &Path) -> std::io::Result<()> {
    let rules = chest::Rules::standard_with("");
    let chest = chest::Chest::new(&rules, table::DRAWERS);
    let trials = trials(&chest, table::SETS, table::ANSWERS);
    std::fs::write(file, exported(&chest, &trials).to_string())
}
