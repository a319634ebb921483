//! What several signs mean together, and what excludes what, for every kind.

use super::Spell;
use crate::message::Problem;
use crate::model::{AtMostOne, KindId, StateId, Together};
use crate::resolve::look::{Done, refuse};
use crate::words::{a, capital, list};

impl Spell<'_> {
    /// A sign of parts of several kinds cannot be told of all of them together.
    pub(super) fn together(&self, together: &Together) -> Done<Vec<Together>> {
        let mut spelt = Vec::new();
        for subject in self.kinds_of(together.subject) {
            let mut paths = self.paths(subject, &together.path);
            let path = match (paths.pop(), paths.is_empty()) {
                (None, _) => continue,
                (Some(only), true) => only,
                (Some(last), false) => {
                    paths.push(last);
                    let kinds = paths.iter().filter_map(|path| path.last());
                    let plural = |kind: &KindId| self.model.kinds[kind.index()].plural.clone();
                    let kinds: Vec<String> = kinds.map(plural).collect();
                    let said = together.path.last().map_or_else(String::new, plural);
                    return refuse(
                        together.at,
                        Problem::CountedOverKinds {
                            owner: &capital(&a(&self.model.kinds[subject.index()].name)),
                            plural: &said,
                            kinds: &list(&kinds),
                        },
                    );
                }
            };
            let shown_by = path.last().copied().unwrap_or(subject);
            let signs = together.signs.iter();
            let signs: Vec<StateId> = signs.map(|&sign| self.state(sign, shown_by)).collect();
            for (whose, kind) in self.reaches(subject, &together.whose) {
                spelt.push(Together {
                    subject,
                    path: path.clone(),
                    signs: signs.clone(),
                    whose,
                    fault: self.state(together.fault, kind),
                    ..together.clone()
                });
            }
        }
        if spelt.is_empty() {
            spelt.push(together.clone());
        }
        Ok(spelt)
    }

    pub(super) fn at_most_one(&self, one: &AtMostOne) -> Vec<AtMostOne> {
        let kinds = self.kinds_of(one.kind);
        let spelt = kinds.map(|kind| AtMostOne {
            kind,
            states: one
                .states
                .iter()
                .map(|&state| self.state(state, kind))
                .collect(),
            ..one.clone()
        });
        spelt.collect()
    }
}
