//! `Bench remarks: …`: what can be remarked at the bench by a key, of whatever part.

use super::Reader;
use super::look::{Done, refuse};
use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::message::Problem;
use crate::model::BenchRemark;
use crate::syntax::Name;

/// The most signs of a remark: two lines of the bench's screen.
const LONGEST: usize = 42;
/// The most remarks: a list that is gone through by one key.
const MOST: usize = 24;

impl Reader<'_> {
    /// Reads these lists. That of the house takes the place of the standard one.
    pub(super) fn bench_remarks(&mut self, entries: &[Entry]) {
        let is_list = |entry: &&Entry| entry.opener == Opener::BenchRemarks;
        let has_own = entries.iter().filter(is_list).any(|entry| !entry.standard);
        for entry in entries.iter().filter(is_list) {
            if has_own && entry.standard {
                continue;
            }
            let Some(remarks) = self.parse(entry, declare::bench_remarks) else {
                continue;
            };
            let _ = self.particulars(entry);
            for remark in remarks {
                let read = self.bench_remark(entry, &remark);
                if let Some(read) = self.keep(entry, read) {
                    self.model.bench_remarks.push(read);
                }
            }
        }
    }

    fn bench_remark(&self, entry: &Entry, remark: &Name) -> Done<BenchRemark> {
        let text = remark.text.trim().trim_end_matches('.');
        let number = text.chars().count();
        if number == 0 || number > LONGEST {
            let most = LONGEST;
            return refuse(remark.at, Problem::RemarkLength { number, most });
        }
        let known = &self.model.bench_remarks;
        let same = known
            .iter()
            .find(|known| known.text.to_lowercase() == text.to_lowercase());
        if let Some(same) = same {
            let line = self.files.line_from(same.at, remark.at);
            return refuse(remark.at, Problem::RemarkTwice { text, line: &line });
        }
        if known.len() == MOST {
            return refuse(remark.at, Problem::TooManyRemarks { most: MOST });
        }
        Ok(BenchRemark {
            text: text.to_owned(),
            at: entry.at,
        })
    }
}
