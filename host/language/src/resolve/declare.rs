//! Signs, hidden faults, marks with a name, sources and defaults.

use tellmark_core::limits::MAX_MARKS;

use crate::entry::{Entry, Opener};
use crate::grammar::declare;
use crate::label::Label;
use crate::message::{Message, Problem};
use crate::model::{
    Asks, KindId, Nature, PIECE, Sense, Sign, SignId, State, StateId, Strength, Thousandths, Unit,
    Verb,
};
use crate::number::{UnitWord, to_ticks};
use crate::resolve::Reader;
use crate::resolve::inherit::SaidOfSign;
use crate::resolve::look::{Done, refuse, verb_word};
use crate::resolve::particulars::Particulars;
use crate::span::Span;
use crate::syntax::{Name, NewSign};
use crate::vocab::Said;
use crate::words::{a, list_or};

/// How often an answer is a slip of the eye, unless the house says otherwise.
const SLIP: Thousandths = Thousandths(10);

impl Reader<'_> {
    /// Signs and hidden faults.
    pub(super) fn signs(&mut self, entries: &[Entry]) {
        // The standard rules first, so that the house's own find them there.
        for standard in [true, false] {
            for entry in entries.iter().filter(|e| e.standard == standard) {
                match entry.opener {
                    Opener::Sign => self.mending(entry, Self::sign),
                    Opener::CountSign => self.mending(entry, Self::count_sign),
                    Opener::Hidden => self.mending(entry, Self::hidden),
                    _ => {}
                }
            }
        }
    }

    pub(super) fn owner(&mut self, entry: &Entry, name: &Name) -> Option<KindId> {
        let found = self.with_look(|look| look.plain(name));
        self.keep(entry, found).map(|f| f.kind)
    }

    fn sign(&mut self, entry: &Entry) {
        let Some((sense, new)) = self.parse(entry, declare::sign) else {
            return;
        };
        let particulars = self.particulars(entry);
        match new {
            NewSign::Whether { noun, verb, phrase } => {
                let Some(kind) = self.owner(entry, &noun) else {
                    return;
                };
                self.whether(entry, sense, kind, verb, &phrase, &particulars);
            }
            NewSign::Which {
                attribute,
                noun,
                values,
            } => {
                let Some(kind) = self.owner(entry, &noun) else {
                    return;
                };
                self.which(entry, sense, kind, &attribute, &values, &particulars);
            }
            NewSign::Degrees {
                word,
                noun,
                phrase,
                degrees,
            } => {
                let Some(kind) = self.owner(entry, &noun) else {
                    return;
                };
                let words = (&word, &phrase);
                self.degrees(entry, (sense, kind), words, &degrees, &particulars);
            }
            NewSign::HowMuch {
                word,
                noun,
                lasting,
                phrase,
                unit,
                unit_at,
                least,
                most,
                range_at,
            } => {
                // Known even if the rest cannot be read, so that no other
                // sentence is lost for it.
                self.vocab.measuring.insert(word.text.clone());
                let Some(kind) = self.owner(entry, &noun) else {
                    return;
                };
                let sound = self.good_time((&word, lasting), (unit, unit_at));
                if self.keep(entry, sound).is_none() {
                    return;
                }
                let asks = self.how_much(
                    (&word, &phrase),
                    (unit, unit_at),
                    (least, most, range_at),
                    &particulars,
                );
                let Some(asks) = self.keep(entry, asks) else {
                    return;
                };
                let name = if phrase.text.is_empty() { word } else { phrase };
                self.how_much_sign(entry, sense, kind, &name, asks, &particulars);
            }
        }
    }

    /// Refuses what is already said of the same kind, unless the house says
    /// again what ships with the tool.
    pub(super) fn said_before(
        &self,
        entry: &Entry,
        kind: KindId,
        phrase: &Name,
    ) -> Done<Option<Said>> {
        let before = self
            .vocab
            .said(&phrase.text)
            .into_iter()
            .find(|(of, _)| *of == kind)
            .map(|(_, said)| said);
        let Some(said) = before else {
            return Ok(None);
        };
        let at = match said {
            Said::State(state) => self.model.states[state.index()].at,
            Said::Measure(sign) | Said::Value(sign, _) | Said::Degree(sign, _) => {
                self.model.signs[sign.index()].at
            }
        };
        if self.is_standard(at)
            && !entry.standard
            && matches!(said, Said::State(_) | Said::Measure(_))
        {
            return Ok(Some(said));
        }
        let owner = a(&self.model.kinds[kind.index()].name);
        let line = self.files.line_from(at, phrase.at);
        Err(Box::new(
            Message::new(
                phrase.at,
                Problem::SaidAlready {
                    phrase: &phrase.text,
                    owner: &owner,
                    line: &line,
                },
            )
            .with_also(at),
        ))
    }

    fn whether(
        &mut self,
        entry: &Entry,
        sense: Sense,
        kind: KindId,
        verb: Verb,
        phrase: &Name,
        particulars: &Particulars,
    ) {
        let good = self.good_name(phrase, true);
        if self.keep(entry, good).is_none() {
            return;
        }
        let before = self.said_before(entry, kind, phrase);
        let Some(before) = self.keep(entry, before) else {
            return;
        };
        if let Some(Said::State(id)) = before {
            self.say_again(entry, id, sense, verb, particulars);
            return;
        }
        let (Ok(state), Ok(sign)) = (
            u16::try_from(self.model.states.len()).map(StateId),
            u16::try_from(self.model.signs.len()).map(SignId),
        ) else {
            self.too_many("signs", entry.at);
            return;
        };
        let written = self.written(phrase.at);
        self.vocab.add_state(kind, state, &written);
        self.model.states.push(State {
            kind,
            verb,
            phrase: written,
            also: Vec::new(),
            shared: Vec::new(),
            nature: Nature::Seen(sign),
            on_its_own: particulars.on_its_own,
            source: particulars.from,
            at: entry.at,
        });
        self.push_sign(entry, kind, sense, Asks::Whether(state), particulars);
        self.plain_of_state(entry, state, particulars);
    }

    pub(super) fn push_sign(
        &mut self,
        entry: &Entry,
        kind: KindId,
        sense: Sense,
        asks: Asks,
        particulars: &Particulars,
    ) {
        let fitting = self.fitting_labels(entry, &asks);
        self.keep(entry, fitting);
        let on_its_own = match asks {
            Asks::Whether(_) => None,
            _ => particulars.on_its_own,
        };
        if let Ok(id) = u16::try_from(self.model.signs.len()) {
            let said = SaidOfSign {
                slip: particulars.slip,
                disturbs: particulars.disturbs,
            };
            self.said_of_sign.insert(SignId(id), said);
        }
        let in_order = self.in_order(entry, &asks, particulars);
        self.model.signs.push(Sign {
            kind,
            sense,
            asks,
            ask: particulars.ask.clone(),
            how: particulars.how.clone(),
            takes: particulars.takes.flatten().map(|t| t.mostly),
            slip: particulars.slip.unwrap_or(SLIP),
            disturbs: particulars.disturbs.unwrap_or_default(),
            on_its_own,
            usually: None,
            in_order,
            worked: None,
            source: particulars.from,
            at: entry.at,
        });
    }

    /// The value that a choice usually has, and how often.
    fn usual_value(
        &self,
        values: &[Name],
        particulars: &Particulars,
    ) -> Done<Option<(u8, Thousandths)>> {
        let Some(usual) = &particulars.usually else {
            return Ok(None);
        };
        let found = values.iter().position(|value| value.text == usual.text);
        match found.and_then(|at| u8::try_from(at).ok()) {
            Some(at) => Ok(Some((at, self.strength(Strength::Usually).chance))),
            None => {
                let known: Vec<String> = values.iter().map(|v| v.text.clone()).collect();
                refuse(
                    usual.at,
                    Problem::NotAmongValues {
                        word: &usual.text,
                        values: &list_or(&known),
                    },
                )
            }
        }
    }

    /// Refuses a label that says nothing of this sort of sign.
    fn fitting_labels(&self, entry: &Entry, asks: &Asks) -> Done<()> {
        for detail in &entry.details {
            let (fits, sort) = match detail.label {
                Label::ReadsTo => (
                    matches!(asks, Asks::HowMuch { .. }),
                    "a measure (\"how …\")",
                ),
                Label::Usually => (matches!(asks, Asks::Which { .. }), "a choice (\"which …\")"),
                Label::InOrder => (
                    !matches!(asks, Asks::HowMuch { .. } | Asks::HowMany(_)),
                    "a sign that is judged, not measured or counted",
                ),
                Label::InPlainWords => (
                    matches!(asks, Asks::Whether(_)),
                    "a sign that is yes or no; of a measure, say it of what counts as a fault",
                ),
                Label::Slip => (
                    matches!(
                        asks,
                        Asks::Whether(_) | Asks::Which { .. } | Asks::Degrees { .. }
                    ),
                    "a sign that is judged, not measured or counted",
                ),
                Label::OnItsOwn => (
                    !matches!(asks, Asks::Which { .. }),
                    "a sign that is yes or no, a measure or a count",
                ),
                _ => continue,
            };
            if !fits {
                return refuse(
                    detail.value_at(),
                    Problem::LabelDoesNotFit {
                        label: &self.written(detail.at),
                        sort,
                    },
                );
            }
        }
        Ok(())
    }

    /// The house says a sign of the standard rules again: what it gives takes
    /// the place of what was there.
    fn say_again(
        &mut self,
        entry: &Entry,
        id: StateId,
        sense: Sense,
        verb: Verb,
        particulars: &Particulars,
    ) {
        let state = &self.model.states[id.index()];
        let (was, nature) = (state.at, state.nature.clone());
        let words = format!(
            "whether {} {} {}",
            a(&self.model.kinds[state.kind.index()].name),
            verb_word(state.verb),
            state.phrase
        );
        let Nature::Seen(sign) = nature else {
            let owner = a(&self.model.kinds[state.kind.index()].name);
            let phrase = state.phrase.clone();
            let line = self.files.line_from(was, entry.at);
            self.fail(
                entry,
                Message::new(
                    entry.at,
                    Problem::SaidAlready {
                        phrase: &phrase,
                        owner: &owner,
                        line: &line,
                    },
                )
                .with_also(was),
            );
            return;
        };
        let state = &mut self.model.states[id.index()];
        state.verb = verb;
        state.at = entry.at;
        if particulars.on_its_own.is_some() {
            state.on_its_own = particulars.on_its_own;
        }
        state.source = particulars.from.or(state.source);
        self.update_sign(entry, sign, sense, particulars);
        self.plain_of_state(entry, id, particulars);
        self.replaced(&words, was, entry.at);
    }

    pub(super) fn update_sign(
        &mut self,
        entry: &Entry,
        id: SignId,
        sense: Sense,
        particulars: &Particulars,
    ) {
        let fitting = self.fitting_labels(entry, &self.model.signs[id.index()].asks);
        self.keep(entry, fitting);
        let sign = &mut self.model.signs[id.index()];
        sign.sense = sense;
        sign.at = entry.at;
        if particulars.ask.is_some() {
            sign.ask.clone_from(&particulars.ask);
        }
        if particulars.how.is_some() {
            sign.how.clone_from(&particulars.how);
        }
        if let Some(takes) = particulars.takes {
            sign.takes = takes.map(|t| t.mostly);
        }
        sign.slip = particulars.slip.unwrap_or(sign.slip);
        sign.disturbs = particulars.disturbs.unwrap_or(sign.disturbs);
        if !matches!(sign.asks, Asks::Whether(_)) && particulars.on_its_own.is_some() {
            sign.on_its_own = particulars.on_its_own;
        }
        sign.source = particulars.from.or(sign.source);
        let asks = sign.asks.clone();
        if particulars.in_order.is_some() {
            let in_order = self.in_order(entry, &asks, particulars);
            self.model.signs[id.index()].in_order = in_order;
        }
    }

    /// Whether these may be the values of a choice about a kind of part.
    fn good_values(&self, entry: &Entry, kind: KindId, values: &[Name]) -> Done<()> {
        if let Some(over) = values.get(MAX_MARKS) {
            return refuse(
                over.at,
                Problem::TooManyValues {
                    number: values.len(),
                    most: MAX_MARKS,
                },
            );
        }
        for (index, value) in values.iter().enumerate() {
            self.good_name(value, false)?;
            let twice = values[..index].iter().any(|v| v.text == value.text);
            let all = self.vocab.said(&value.text);
            let taken = match all.iter().find(|(of, _)| *of == kind) {
                _ if twice => entry.at,
                Some((_, Said::State(state))) => self.model.states[state.index()].at,
                Some((_, Said::Measure(sign) | Said::Value(sign, _) | Said::Degree(sign, _))) => {
                    self.model.signs[sign.index()].at
                }
                None => continue,
            };
            return refuse(
                value.at,
                Problem::WordTaken {
                    word: &value.text,
                    owner: &a(&self.model.kinds[kind.index()].name),
                    line: &self.files.line_from(taken, value.at),
                },
            );
        }
        Ok(())
    }

    fn which(
        &mut self,
        entry: &Entry,
        sense: Sense,
        kind: KindId,
        attribute: &Name,
        values: &[Name],
        particulars: &Particulars,
    ) {
        let owner = a(&self.model.kinds[kind.index()].name);
        let mut checked: Done<()> = self
            .good_name(attribute, false)
            .and_then(|()| self.good_values(entry, kind, values));
        if let Some((_, before)) = self
            .vocab
            .attributes
            .get(&attribute.text)
            .iter()
            .find(|(of, _)| *of == kind)
        {
            let at = self.model.signs[before.index()].at;
            let line = self.files.line_from(at, attribute.at);
            checked = checked.and_then(|()| {
                refuse(
                    attribute.at,
                    Problem::SaidAlready {
                        phrase: &attribute.text,
                        owner: &owner,
                        line: &line,
                    },
                )
            });
        }
        if checked.is_ok() && !self.vocab.nouns.get(&attribute.text).is_empty() {
            checked = refuse(
                attribute.at,
                Problem::SaidInTwoWays {
                    word: &attribute.text,
                    owner: &owner,
                    one: "a part",
                    line: "Parts:",
                    other: "something that differs",
                },
            );
        }
        if self.keep(entry, checked).is_none() {
            return;
        }
        let Ok(id) = u16::try_from(self.model.signs.len()).map(SignId) else {
            self.too_many("signs", entry.at);
            return;
        };
        if values.len() > usize::from(u8::MAX) {
            self.too_many("values", entry.at);
            return;
        }
        let usually = self.usual_value(values, particulars);
        let Some(usually) = self.keep(entry, usually) else {
            return;
        };
        let asks = Asks::Which {
            attribute: self.written(attribute.at),
            values: values.iter().map(|v| self.written(v.at)).collect(),
        };
        self.vocab.add_asks(kind, id, &asks);
        self.push_sign(entry, kind, sense, asks, particulars);
        if let Some(sign) = self.model.signs.get_mut(id.index()) {
            sign.usually = usually;
        }
    }

    fn how_much(
        &self,
        (word, phrase): (&Name, &Name),
        (unit, unit_at): (UnitWord, Span),
        (least, most, range_at): (crate::token::Number, crate::token::Number, Span),
        particulars: &Particulars,
    ) -> Done<Asks> {
        let Some(unit) = unit.of_measure() else {
            return refuse(
                unit_at,
                Problem::OtherDimension {
                    kind: "a length",
                    other: "a time or weight",
                    sign: "A sign",
                    unit: "mm, cm, m, in, ft, %, days, weeks, months or years",
                },
            );
        };
        if !phrase.text.is_empty() {
            self.good_name(phrase, true)?;
        }
        for number in [least, most] {
            self.kept(number, unit, range_at)?;
        }
        let (Some(low), Some(high)) = (to_ticks(least, unit), to_ticks(most, unit)) else {
            let words = self.written(range_at);
            return refuse(
                range_at,
                Problem::BadNumberOfParts {
                    words: &words,
                    why: "that is more than I can measure",
                },
            );
        };
        if low >= high {
            let right = format!("from {most} to {least}");
            return refuse(range_at, Problem::LargerFirst { right: &right });
        }
        let gauge = match particulars.reads_to {
            None => 0,
            Some(quantity) => self.gauge(quantity, unit)?,
        };
        Ok(Asks::HowMuch {
            word: self.written(word.at),
            phrase: if phrase.text.is_empty() {
                String::new()
            } else {
                self.written(phrase.at)
            },
            unit,
            least: low,
            most: high,
            gauge,
        })
    }

    pub(super) fn gauge(
        &self,
        quantity: crate::number::Quantity,
        unit: Unit,
    ) -> Done<crate::model::Ticks> {
        use crate::number::{in_unit, unit_name};
        use crate::resolve::measure::dimension;
        use tellmark_core::limits::MAX_GAUGE;
        let number = quantity.number.to_string();
        let name = unit_name(unit);
        match quantity.unit {
            None => refuse(
                quantity.at,
                Problem::UnitMissing {
                    number: &number,
                    unit: name,
                },
            ),
            Some(written) if written.of_measure().map(dimension) == Some(dimension(unit)) => {
                let written = written.of_measure().unwrap_or(unit);
                self.kept(quantity.number, written, quantity.at)?;
                match to_ticks(quantity.number, written) {
                    Some(ticks) if ticks > MAX_GAUGE.into() => refuse(
                        quantity.at,
                        Problem::GaugeTooCoarse {
                            amount: &format!("{number} {}", unit_name(written)),
                            most: &format!("{} {name}", in_unit(MAX_GAUGE.into(), unit)),
                        },
                    ),
                    Some(ticks) => Ok(ticks),
                    None => refuse(
                        quantity.at,
                        Problem::BadNumberOfParts {
                            words: &number,
                            why: "that is more than I can measure",
                        },
                    ),
                }
            }
            Some(_) => refuse(
                quantity.unit_at.unwrap_or(quantity.at),
                Problem::OtherDimension {
                    kind: dimension(unit),
                    other: "something else",
                    sign: "This sign",
                    unit: name,
                },
            ),
        }
    }

    pub(super) fn how_much_sign(
        &mut self,
        entry: &Entry,
        sense: Sense,
        kind: KindId,
        name: &Name,
        asks: Asks,
        particulars: &Particulars,
    ) {
        let before = match &asks {
            Asks::HowMuch { phrase, .. } if phrase.is_empty() => Ok(None),
            _ => self.said_before(entry, kind, name),
        };
        let Some(before) = self.keep(entry, before) else {
            return;
        };
        if let Some(Said::Measure(id)) = before {
            let was = self.model.signs[id.index()].at;
            let words = self.with_look(|look| look.sign_words(id));
            let old_gauge = match &self.model.signs[id.index()].asks {
                Asks::HowMuch { gauge, .. } => *gauge,
                _ => 0,
            };
            let mut asks = asks;
            if let (Asks::HowMuch { gauge, .. }, None) = (&mut asks, particulars.reads_to) {
                *gauge = old_gauge;
            }
            self.model.signs[id.index()].asks = asks;
            self.update_sign(entry, id, sense, particulars);
            self.replaced(&words, was, entry.at);
            return;
        }
        let Ok(id) = u16::try_from(self.model.signs.len()).map(SignId) else {
            self.too_many("signs", entry.at);
            return;
        };
        self.vocab.add_asks(kind, id, &asks);
        self.push_sign(entry, kind, sense, asks, particulars);
    }

    fn count_sign(&mut self, entry: &Entry) {
        let Some((part, owner)) = self.parse(entry, declare::count_sign) else {
            return;
        };
        let particulars = self.particulars(entry);
        let (Some(kind), Some(part_kind)) = (self.owner(entry, &owner), self.owner(entry, &part))
        else {
            return;
        };
        let direct = self.with_look(|look| match look.tree.member(kind, part_kind) {
            Some(_) => Ok(()),
            None => Err(Box::new(look.has_not(kind, part_kind, &part))),
        });
        if self.keep(entry, direct).is_none() {
            return;
        }
        let own = &self.model.kinds[PIECE.index()].members;
        if kind == PIECE && !own.iter().any(|member| member.kind == part_kind) {
            let parts = self.model.kinds[part_kind.index()].plural.clone();
            let mut pieces = self.model.kinds.iter().skip(1);
            let piece =
                pieces.find(|k| k.is_piece && k.members.iter().any(|m| m.kind == part_kind));
            let such = piece.map_or_else(|| "a piece".to_owned(), |piece| a(&piece.name));
            self.fail(
                entry,
                Message::new(
                    owner.at,
                    Problem::CountOfAnyPiece {
                        parts: &parts,
                        owner: &such,
                    },
                ),
            );
            return;
        }
        let asks = Asks::HowMany(part_kind);
        let before = self
            .model
            .signs
            .iter()
            .position(|s| s.kind == kind && s.asks == asks);
        if let Some(index) = before {
            let was = self.model.signs[index].at;
            if self.is_standard(was) && !entry.standard {
                let id = SignId(u16::try_from(index).unwrap_or(u16::MAX));
                let words = self.with_look(|look| look.sign_words(id));
                self.update_sign(entry, id, Sense::Count, &particulars);
                self.replaced(&words, was, entry.at);
                return;
            }
            let line = self.files.line_from(was, entry.at);
            self.fail(
                entry,
                Message::new(entry.at, Problem::RepeatedSentence { line: &line }).with_also(was),
            );
            return;
        }
        if self.model.signs.len() >= usize::from(u16::MAX) {
            self.too_many("signs", entry.at);
            return;
        }
        self.push_sign(entry, kind, Sense::Count, asks, &particulars);
    }
}
