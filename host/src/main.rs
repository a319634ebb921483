//! The `tellmark` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    tellmark::commands::run(std::env::args_os())
}
