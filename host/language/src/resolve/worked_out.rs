//! Measures that are worked out from others: which, and what that comes to in range and
//! spread.

use crate::entry::{Entry, Opener};
use crate::grammar::worked_out;
use crate::message::{Message, Problem};
use crate::model::{
    Asks, KindId, Operand, OwnPart, PIECE, Sense, Sign, SignId, Ticks, Unit, WorkedOut, Working,
};
use crate::resolve::Reader;
use crate::resolve::look::{Done, Look, Put, refuse};
use crate::resolve::measure::dimension;
use crate::span::Span;
use crate::syntax::{Name, NewOperand, NewWorking};
use crate::vocab::applies;
use crate::words::{a, capital, how_words, list};

/// The largest share that is told apart: 1000 %.
const MOST_SHARE: i64 = 100_000;

impl Reader<'_> {
    /// `How far a table leans is the difference between …`. What is worked out may be
    /// worked out from in its turn, in whatever order the sentences stand.
    pub(super) fn workings(&mut self, entries: &[Entry]) {
        // The standard rules first, so that the house's own find them there.
        let of = |standard| {
            let of = move |e: &&Entry| e.opener == Opener::WorkedOut && e.standard == standard;
            entries.iter().filter(of)
        };
        let mut open: Vec<&Entry> = of(true).chain(of(false)).collect();
        while !open.is_empty() {
            let is_known = |entry: &&Entry| self.can_be_worked_out(entry);
            let (mut now, later): (Vec<&Entry>, Vec<&Entry>) = open.into_iter().partition(is_known);
            open = later;
            if now.is_empty() {
                // What is left names something that there is not: its message says so.
                now = std::mem::take(&mut open);
            }
            for entry in now {
                self.mending(entry, Self::work_out);
            }
        }
    }

    /// Whether everything that a sentence names is known by now.
    fn can_be_worked_out(&mut self, entry: &Entry) -> bool {
        let Ok(new) = self.parse_tokens(entry, &entry.sentence, worked_out::worked_out) else {
            return false;
        };
        self.with_look(|look| match look.plain(&new.noun) {
            Ok(found) => new
                .operands()
                .all(|of| look.operand(found.kind, of).is_ok()),
            Err(_) => false,
        })
    }

    fn work_out(&mut self, entry: &Entry) {
        let Some(new) = self.parse(entry, worked_out::worked_out) else {
            return;
        };
        let particulars = self.particulars(entry);
        let good = self.good_name(&new.phrase, true);
        if self.keep(entry, good).is_none() {
            return;
        }
        let Some(kind) = self.owner(entry, &new.noun) else {
            return;
        };
        let spread_is_said = particulars.reads_to.is_some();
        let worked = self.with_look(|look| match &new.sum {
            Some((sum, fed)) => look.by_handbook(kind, &new, (*sum, fed), spread_is_said),
            None => {
                let (worked, unit) = look.working(kind, &new)?;
                let spread = look.spread(kind, &worked);
                Ok((worked, unit, spread))
            }
        });
        let Some((worked, unit, spread)) = self.keep(entry, worked) else {
            return;
        };
        let sound = self.with_look(|look| look.no_circle(kind, &new, &worked));
        if self.keep(entry, sound).is_none() {
            return;
        }
        let gauge = match particulars.reads_to {
            Some(quantity) => self.gauge(quantity, unit),
            None => Ok(spread),
        };
        let Some(gauge) = self.keep(entry, gauge) else {
            return;
        };
        let (least, most) = self.with_look(|look| look.ends(kind, &worked));
        let asks = Asks::HowMuch {
            word: self.written(new.word.at),
            phrase: self.written(new.phrase.at),
            unit,
            least,
            most,
            gauge,
        };
        self.vocab.measuring.insert(new.word.text.clone());
        self.how_much_sign(entry, Sense::Measure, kind, &new.phrase, asks, &particulars);
        let mut signs = self.model.signs.iter_mut();
        if let Some(sign) = signs.find(|sign| sign.at == entry.at) {
            sign.worked = Some(worked);
        }
    }
}

impl Look<'_> {
    fn working(&self, kind: KindId, new: &NewWorking) -> Done<(WorkedOut, Unit)> {
        let mut of = Vec::new();
        for operand in &new.of {
            of.push(self.operand(kind, operand)?);
        }
        let is_single = new.working == Working::Difference || new.working == Working::Share;
        for (operand, new) in of.iter().zip(&new.of) {
            let several = operand.part.filter(|part| part.several && is_single);
            if let Some(part) = several {
                let several = Some(self.plural(part.kind));
                return refuse(new.at, Problem::NotOneReading { several });
            }
        }
        let is_one = |operand: &Operand| operand.part.is_none_or(|part| !part.several);
        if let ([one], false) = (&of[..], is_single)
            && is_one(one)
        {
            return refuse(new.at, Problem::NotOneReading { several: None });
        }
        let units: Vec<Unit> = of.iter().filter_map(|o| self.unit_asked(o.sign)).collect();
        let unit = units.first().copied().unwrap_or(Unit::Mm);
        if let Some(other) = units.iter().find(|u| dimension(**u) != dimension(unit)) {
            let (one, other) = (&capital(dimension(unit)), dimension(*other));
            return refuse(new.at, Problem::UnlikeMeasures { one, other });
        }
        let worked = WorkedOut {
            working: new.working,
            of,
            handbook: None,
        };
        let unit = match new.working {
            Working::Share => Unit::Percent,
            _ => unit,
        };
        Ok((worked, unit))
    }

    /// Refuses what would be worked out from itself: said again, a measure may be one of
    /// those that others rest on.
    fn no_circle(&self, kind: KindId, new: &NewWorking, worked: &WorkedOut) -> Done<()> {
        let itself = self.measure(kind, Some(&new.phrase), Some(&new.word), Put::Named);
        let Some(itself) = itself else {
            return Ok(());
        };
        // What goes into a sum stands in the order of the sum, not in that of the sentence.
        let said = |at: usize| match &new.sum {
            Some(_) => new.at,
            None => new.of.get(at).map_or(new.at, |of| of.at),
        };
        for (at, of) in worked.of.iter().enumerate() {
            let mut open = vec![of.sign];
            let mut seen = Vec::new();
            while let Some(sign) = open.pop() {
                if sign == itself {
                    let words = &self.files_words(said(at));
                    return refuse(said(at), Problem::NoSuchMeasure { words, owner: None });
                }
                if !seen.contains(&sign) {
                    seen.push(sign);
                    let worked = self.sign(sign).worked.iter();
                    open.extend(worked.flat_map(|worked| &worked.of).map(|of| of.sign));
                }
            }
        }
        Ok(())
    }

    fn unit_asked(&self, sign: SignId) -> Option<Unit> {
        match self.sign(sign).asks {
            Asks::HowMuch { unit, .. } => Some(unit),
            _ => None,
        }
    }

    /// The measure that is named, and of which part.
    pub(super) fn operand(&self, owner: KindId, new: &NewOperand) -> Done<Operand> {
        let above = self.above(owner, new)?;
        let part = match &new.part {
            _ if above.is_some() => None,
            None => None,
            Some((name, noun)) => {
                let found = self.plain(noun)?;
                let Some(member) = self.tree.member(owner, found.kind) else {
                    return Err(Box::new(self.has_not(owner, found.kind, noun)));
                };
                let named = match name {
                    Some(name) => {
                        let mut names = member.names.iter();
                        let at = names.position(|n| n.to_lowercase() == name.text);
                        match at.and_then(|at| u8::try_from(at).ok()) {
                            Some(at) => Some(at),
                            None => return self.which_of(found.kind, Some(&name.text), noun.at),
                        }
                    }
                    None => None,
                };
                let several = named.is_none() && member.most > 1;
                if several && !found.plural {
                    return self.which_of(found.kind, None, noun.at);
                }
                Some(OwnPart {
                    kind: found.kind,
                    named,
                    several,
                })
            }
        };
        let kind = above.or(part.map(|part| part.kind)).unwrap_or(owner);
        // What is measured of drawers is measured of small drawers.
        let mut kinds = self.model.lineage(kind);
        let found = kinds.find_map(|kind| {
            self.measure(kind, new.phrase.as_ref(), Some(&new.word), Put::Named)
                .or_else(|| self.choice_between(kind, &new.word))
        });
        match found {
            Some(sign) => Ok(Operand {
                part,
                owner: above,
                sign,
            }),
            None => {
                let words = self.files_words(new.at);
                let owner = &self.a(kind);
                let owner = Some(owner.as_str());
                refuse(
                    new.at,
                    Problem::NoSuchMeasure {
                        words: &words,
                        owner,
                    },
                )
            }
        }
    }

    /// The owner that is meant, where a part is worked out from what is found of what it is
    /// built into: "how damp its piece is kept".
    fn above(&self, kind: KindId, new: &NewOperand) -> Done<Option<KindId>> {
        let Some((None, noun)) = &new.part else {
            return Ok(None);
        };
        let owner = self.plain(noun)?.kind;
        if owner == PIECE && kind != PIECE {
            return Ok(Some(owner));
        }
        if owner == kind || !self.tree.is_within(kind, owner) {
            return Ok(None);
        }
        // Each kind has signs of its own, and only one of them can be read.
        let mut kinds = (0..).map(KindId).zip(&self.model.kinds);
        match kinds.find(|(id, _)| *id != owner && self.model.is_kind_of(*id, owner)) {
            Some((_, special)) => {
                let special = &capital(&a(&special.name));
                let owner = self.name(owner);
                refuse(noun.at, Problem::OwnerOfKinds { owner, special })
            }
            None => Ok(Some(owner)),
        }
    }

    /// "which wood a top has": the choice between these, of this kind of part.
    fn choice_between(&self, kind: KindId, word: &Name) -> Option<SignId> {
        let piece = self.kind(kind).is_piece;
        let is_it = |sign: &Sign| {
            matches!(&sign.asks, Asks::Which { attribute, .. } if attribute.to_lowercase() == word.text)
                && applies(sign.kind, kind, piece)
        };
        let at = self.model.signs.iter().position(is_it)?;
        u16::try_from(at).ok().map(SignId)
    }

    fn which_of<T>(&self, kind: KindId, name: Option<&str>, at: Span) -> Done<T> {
        let part = self.name(kind);
        let problem = Problem::WhichPart {
            part,
            name,
            names: None,
        };
        Err(Box::new(Message::new(at, problem)))
    }

    fn files_words(&self, at: Span) -> String {
        let file = self.files.file(at);
        let text = file.map_or("", |file| file.text.as_str());
        crate::token::one_line(at.words(text))
    }

    /// One standard deviation of what is worked out, from those of the readings: of a
    /// difference or a sum the root of their squares together (of all its parts, as many
    /// as usual), of the largest or the smallest that of the coarsest. A share is taken as
    /// exact.
    pub(super) fn spread(&self, owner: KindId, worked: &WorkedOut) -> Ticks {
        let gauges = worked.of.iter().map(|of| {
            let gauge = match self.sign(of.sign).asks {
                Asks::HowMuch { gauge, .. } => i64::from(gauge),
                _ => 0,
            };
            let usual = of.part.filter(|part| part.several).map_or(1, |part| {
                let member = self.tree.member(owner, part.kind);
                member.map_or(1, |member| i64::from(member.usual))
            });
            (gauge, usual.max(1))
        });
        let gauge = match worked.working {
            Working::Difference | Working::Sum => {
                let squares: i64 = gauges.map(|(gauge, usual)| gauge * gauge * usual).sum();
                root(squares)
            }
            Working::Most | Working::Least => gauges.map(|(gauge, _)| gauge).max().unwrap_or(0),
            Working::Share | Working::Number | Working::FromLast | Working::Handbook => 0,
        };
        Ticks::try_from(gauge).unwrap_or(Ticks::MAX)
    }

    /// The smallest and the largest that it can come to.
    pub(super) fn ends(&self, owner: KindId, worked: &WorkedOut) -> (Ticks, Ticks) {
        if worked.working.is_place() {
            return self.numbers_of(owner);
        }
        if let Some(handbook) = &worked.handbook {
            let values = || handbook.table.values.iter().flatten().copied();
            // What is less than nothing in a table is nothing.
            let least = values().min().unwrap_or(0).max(0);
            return (
                least,
                values().max().unwrap_or(0).max(least.saturating_add(1)),
            );
        }
        let of: Vec<(i64, i64, i64, i64)> = worked
            .of
            .iter()
            .map(|of| {
                let (least, most) = self.sign(of.sign).asks.ends().unwrap_or((0, 1));
                let several = of.part.filter(|part| part.several);
                let member = several.and_then(|part| self.tree.member(owner, part.kind));
                let (few, many) = member.map_or((1, 1), |m| (m.least.max(1), m.most.max(1)));
                (least.into(), most.into(), few.into(), many.into())
            })
            .collect();
        let first = of.first().copied().unwrap_or((0, 1, 1, 1));
        let second = of.get(1).copied().unwrap_or(first);
        let (least, most) = match worked.working {
            Working::Difference => (0, (first.1 - second.0).max(second.1 - first.0)),
            Working::Sum => of.iter().fold((0, 0), |(low, high), of| {
                let times = |end: i64| [end * of.2, end * of.3];
                let least = times(of.0).into_iter().min().unwrap_or(0);
                let most = times(of.1).into_iter().max().unwrap_or(0);
                (low + least, high + most)
            }),
            Working::Share => {
                let most = match second.0 {
                    low if low > 0 => first.1 * 10_000 / low,
                    _ => MOST_SHARE,
                };
                (0, most.clamp(1, MOST_SHARE))
            }
            Working::Most => (first.0.max(second.0), first.1.max(second.1)),
            Working::Least => (first.0.min(second.0), first.1.min(second.1)),
            Working::Number | Working::FromLast | Working::Handbook => (1, 2),
        };
        let held = |end: i64| Ticks::try_from(end).unwrap_or(Ticks::MAX - 1);
        let (least, most) = (held(least), held(most));
        (least, most.max(least.saturating_add(1)))
    }

    /// The numbers that parts of a kind can have among their like.
    fn numbers_of(&self, kind: KindId) -> (Ticks, Ticks) {
        let members = self.model.kinds.iter().flat_map(|kind| &kind.members);
        let such = members.filter(|member| self.model.is_kind_of(member.kind, kind));
        let most = such.map(|member| member.most).max().unwrap_or(1);
        (1, Ticks::from(most).max(2))
    }

    /// Refuses a note or a step about what is worked out.
    pub(super) fn not_worked_out(&self, sign: SignId, at: Span) -> Done<SignId> {
        let Some(worked) = &self.sign(sign).worked else {
            return Ok(sign);
        };
        let mut of: Vec<String> = worked
            .of
            .iter()
            .map(|of| {
                let of = self.sign(of.sign);
                match &of.asks {
                    Asks::Which { attribute, .. } => {
                        format!("which {attribute} {} has", self.a(of.kind))
                    }
                    asks => how_words(asks, &self.a(of.kind)),
                }
            })
            .collect();
        of.dedup();
        let sign = &capital(&self.sign_words(sign));
        let of = &list(&of);
        refuse(at, Problem::IsWorkedOut { sign, of })
    }
}

/// The root of a number, rounded.
fn root(square: i64) -> i64 {
    #[allow(clippy::cast_possible_truncation, clippy::cast_precision_loss)]
    let root = (square as f64).sqrt().round() as i64;
    root
}
