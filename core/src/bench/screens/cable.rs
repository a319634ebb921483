//! How the cable is, and what waits for it.

use core::fmt::{self, Write};

use crate::bench::list::List;
use crate::bench::{Bench, Note};
use crate::number::Number;

pub(super) struct Cable;

impl<N: Number> List<N> for Cable {
    fn title(&self, _: &Bench<'_, '_, N>, out: &mut dyn Write) -> fmt::Result {
        out.write_str("Cable")
    }

    fn rows(&self, _: &Bench<'_, '_, N>) -> usize {
        1
    }

    fn row(&self, bench: &Bench<'_, '_, N>, _: usize, out: &mut dyn Write) -> fmt::Result {
        let cable = bench.cable.unwrap_or_default();
        match (cable.connected, cable.waiting) {
            (true, 0) => out.write_str("All notes are fetched. The cable can go."),
            (true, 1) => out.write_str("1 note is being fetched. Leave the cable in."),
            (true, some) => write!(out, "{some} notes are being fetched. Leave the cable in."),
            (false, 0) => out.write_str("All notes are fetched."),
            (false, 1) => out.write_str("1 note waits for the cable. Plug it in."),
            (false, some) => write!(out, "{some} notes wait for the cable. Plug it in."),
        }
    }

    fn verb(&self) -> &'static str {
        "Home"
    }

    fn take(&self, bench: &mut Bench<'_, '_, N>, _: usize, _: Note<'_>) {
        bench.go_home();
    }
}
