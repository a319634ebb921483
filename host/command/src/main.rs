//! The `tellmark` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    tellmark::run(std::env::args_os())
}
