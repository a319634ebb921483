//! The belief fragments in a pack.

use std::collections::HashMap;

use tellmark_core::pack::{Fragment as Directory, Group};

use crate::fragment::Fragment;
use crate::numbers::{Number as _, Overflow};

/// The fragments of a pack: equal ones are stored once.
pub(super) struct Programs {
    /// The number of each place's fragment.
    pub(super) numbers: Vec<u16>,
    /// Where each fragment's code starts, and how it is laid out.
    pub(super) directory: Vec<Directory>,
    /// The code.
    pub(super) code: Vec<u32>,
}

impl Programs {
    pub(super) fn of(fragments: &[Fragment]) -> Result<Self, Overflow> {
        let mut known: HashMap<&Fragment, u16> = HashMap::new();
        let mut all = Self {
            numbers: Vec::new(),
            directory: Vec::new(),
            code: Vec::new(),
        };
        for fragment in fragments {
            let number = match known.get(fragment) {
                Some(&number) => number,
                None => all.add(fragment)?,
            };
            known.insert(fragment, number);
            all.numbers.push(number);
        }
        Ok(all)
    }

    fn add(&mut self, fragment: &Fragment) -> Result<u16, Overflow> {
        let number = self.directory.len().half()?;
        let table: usize = fragment.groups.iter().map(Group::entries).sum();
        self.directory.push(Directory {
            code: self.code.len().word()?,
            reads: fragment.reads.byte()?,
            feeds: fragment.feeds.byte()?,
            groups: fragment.groups.len().byte()?,
            constants: fragment.program.constants.len().half()?,
            states: fragment.states.half()?,
            table: table.half()?,
            steps: fragment.program.steps.len().half()?,
        });
        for bits in &fragment.program.constants {
            #[allow(clippy::cast_possible_truncation)]
            self.code.extend([*bits as u32, (*bits >> 32) as u32]);
        }
        for pair in fragment.program.outputs.chunks(2) {
            let second = pair.get(1).copied().unwrap_or_default();
            self.code
                .push(u32::from(pair[0]) | (u32::from(second) << 16));
        }
        for group in &fragment.groups {
            self.code.extend(group.words());
        }
        self.code
            .extend(fragment.program.steps.iter().map(|step| step.word()));
        Ok(number)
    }
}
