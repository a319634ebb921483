//! `cargo bench`: the table, without what needs Python or the built program.

fn main() -> std::io::Result<()> {
    tellmark_speed::table::print(None, None)
}
