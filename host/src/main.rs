//! The `tellmark` command.

fn main() {
    println!("{}", env!("CARGO_PKG_VERSION"));
}
