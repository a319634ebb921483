//! How far the owner has agreed to what is planned.

use super::super::when::noted;
use super::Gathering;
use tellmark_job::papers::Agreed;

/// How far the owner has agreed to what is planned, by papers that were kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Agreement {
    /// To nothing yet, as far as papers say.
    None,
    /// Something that is planned stands in no paper that was agreed to.
    InPart,
    /// To all that is planned: "estimate 1, on 5 October 2026".
    Whole(Vec<String>),
}

impl Agreement {
    /// A paper that cannot be gone by says nothing here.
    pub(super) fn of(g: &Gathering<'_>) -> Agreement {
        match Agreed::of(g.matter.job()).ok().filter(Agreed::is_any) {
            None => Agreement::None,
            Some(agreed) if !agreed.missing(g.plan, g.matter.model()).is_empty() => {
                Agreement::InPart
            }
            Some(agreed) => {
                let standing = agreed.standing().into_iter();
                let said = standing.map(|answered| {
                    let when = noted(answered.when);
                    match when.is_empty() {
                        true => answered.paper.name.to_string(),
                        false => format!("{}, on {when}", answered.paper.name),
                    }
                });
                Agreement::Whole(said.collect())
            }
        }
    }

    /// The papers, if nothing is missing in them.
    pub(super) fn whole(self) -> Vec<String> {
        match self {
            Agreement::Whole(papers) => papers,
            Agreement::None | Agreement::InPart => Vec::new(),
        }
    }
}
