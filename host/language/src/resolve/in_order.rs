//! `In order:` which answers are as they should be.

use super::Reader;
use super::look::{Done, refuse};
use super::particulars::Particulars;
use crate::entry::Entry;
use crate::message::Problem;
use crate::model::Asks;
use crate::token::{Sort, Token};
use crate::vocab::join;
use crate::words::list_or;

impl Reader<'_> {
    /// The answers that are as they should be, by their numbers; `None` if nothing is said
    /// of it.
    pub(super) fn in_order(
        &mut self,
        entry: &Entry,
        asks: &Asks,
        particulars: &Particulars,
    ) -> Option<Vec<u8>> {
        let words = particulars.in_order.as_ref()?;
        let read = read(asks, words);
        self.keep(entry, read)
    }
}

fn read(asks: &Asks, words: &[Token]) -> Done<Vec<u8>> {
    let known: Vec<&str> = match asks {
        Asks::Whether(_) => vec!["no", "yes"],
        Asks::Which { values, .. } => values.iter().map(String::as_str).collect(),
        Asks::Degrees { degrees, .. } => {
            let degrees = degrees.iter().map(String::as_str);
            std::iter::once("no").chain(degrees).collect()
        }
        // That the label does not fit these is said by itself.
        Asks::HowMuch { .. } | Asks::HowMany(_) => return Ok(Vec::new()),
    };
    let between = |token: &Token| token.sort == Sort::Comma || token.is("or");
    let mut found = Vec::new();
    for said in words.split(between).filter(|said| !said.is_empty()) {
        let word = join(said);
        let at = known
            .iter()
            .position(|known| known.eq_ignore_ascii_case(&word));
        match at.and_then(|at| u8::try_from(at).ok()) {
            Some(at) => found.push(at),
            None => {
                let (first, last) = (&said[0], &said[said.len() - 1]);
                return refuse(
                    first.at.to(last.at),
                    Problem::NotAmongValues {
                        word: &word,
                        values: &list_or(&known),
                    },
                );
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    Ok(found)
}
