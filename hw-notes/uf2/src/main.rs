//! `tellmark-uf2 PROGRAM FILE`: makes FILE, in the UF2 format, of PROGRAM.

use std::path::PathBuf;
use std::process::ExitCode;
use std::{env, fs};

fn main() -> ExitCode {
    let mut arguments = env::args_os().skip(1).map(PathBuf::from);
    let (Some(program), Some(out), None) = (arguments.next(), arguments.next(), arguments.next())
    else {
        eprintln!("Say which program, and which file to make: tellmark-uf2 PROGRAM FILE");
        return ExitCode::from(2);
    };
    let elf = match fs::read(&program) {
        Ok(elf) => elf,
        Err(why) => {
            eprintln!("{}: {why}", program.display());
            return ExitCode::FAILURE;
        }
    };
    let file = match tellmark_uf2::sectors(&elf) {
        Ok(sectors) => tellmark_uf2::uf2(&sectors),
        Err(why) => {
            eprintln!("{}: {why}", program.display());
            return ExitCode::FAILURE;
        }
    };
    if let Err(why) = fs::write(&out, &file) {
        eprintln!("{}: {why}", out.display());
        return ExitCode::FAILURE;
    }
    println!("Wrote {}: {} bytes.", out.display(), file.len());
    ExitCode::SUCCESS
}
