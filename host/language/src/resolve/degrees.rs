//! Degrees: how far something is so, judged by eye: declared, looked for in conditions,
//! found on a part, and brought about by rules.

use tellmark_core::limits::MAX_DEGREE;

use crate::entry::Entry;
use crate::grammar::answer::Stated;
use crate::message::{Message, Problem};
use crate::model::{
    Asks, Found, KindId, Mark, Nature, Predicate, Sense, SignId, State, StateId, Sure, Than, Ticks,
    Verb,
};
use crate::resolve::Reader;
use crate::resolve::look::{Done, Look, refuse};
use crate::resolve::particulars::Particulars;
use crate::span::Span;
use crate::syntax::{Beyond, Name};
use crate::vocab::{Said, applies};
use crate::words::{capital, degree_words, list_or};

/// Some degrees in a row, both ends included; 0 is "not".
type Row = (u8, u8);

impl Reader<'_> {
    /// `You can see how badly a veneer is lifted: slightly, noticeably or badly.`
    pub(super) fn degrees(
        &mut self,
        entry: &Entry,
        (sense, kind): (Sense, KindId),
        (word, phrase): (&Name, &Name),
        degrees: &[Name],
        particulars: &Particulars,
    ) {
        let said = if phrase.text.is_empty() { word } else { phrase };
        let good = self.good_degrees(entry, kind, said, degrees);
        let Some(before) = self.keep(entry, good) else {
            return;
        };
        let asks = Asks::Degrees {
            word: self.written(word.at),
            phrase: match phrase.text.as_str() {
                "" => String::new(),
                _ => self.written(phrase.at),
            },
            degrees: degrees.iter().map(|d| self.written(d.at)).collect(),
        };
        if let Some(sign) = before {
            self.degrees_again(entry, sign, sense, &asks, particulars);
            return;
        }
        let Ok(sign) = u16::try_from(self.model.signs.len()).map(SignId) else {
            self.too_many("signs", entry.at);
            return;
        };
        if self.model.states.len() + degrees.len() > usize::from(u16::MAX) {
            self.too_many("signs", entry.at);
            return;
        }
        self.vocab.add_asks(kind, sign, &asks);
        let written = self.written(said.at);
        if let Ok(lowest) = u16::try_from(self.model.states.len()) {
            self.vocab.add_state(kind, StateId(lowest), &written);
        }
        for degree in (1_u8..).take(degrees.len()) {
            self.model.states.push(State {
                kind,
                verb: Verb::Is,
                phrase: degree_words(&asks, Than::AtLeast, degree),
                also: Vec::new(),
                shared: Vec::new(),
                nature: Nature::CountsAs {
                    sign,
                    mark: Mark {
                        at_least: Ticks::from(degree),
                        at_most: None,
                    },
                },
                on_its_own: particulars.on_its_own,
                source: particulars.from,
                at: entry.at,
            });
        }
        self.push_sign(entry, kind, sense, asks, particulars);
    }

    /// Refuses degrees that cannot be told apart; gives back the judgement of the standard
    /// rules that is said again, if it is one.
    fn good_degrees(
        &self,
        entry: &Entry,
        kind: KindId,
        said: &Name,
        degrees: &[Name],
    ) -> Done<Option<SignId>> {
        self.good_name(said, true)?;
        if let [only] = degrees {
            return refuse(only.at, Problem::OneDegree { phrase: &said.text });
        }
        if let Some(over) = degrees.get(usize::from(MAX_DEGREE)) {
            return refuse(
                over.at,
                Problem::TooManyValues {
                    number: degrees.len(),
                    most: MAX_DEGREE.into(),
                },
            );
        }
        for (index, degree) in degrees.iter().enumerate() {
            self.good_name(degree, true)?;
            let first = degree.text.split(' ').next().unwrap_or_default();
            if ["a", "an", "the"].contains(&first) {
                let place = crate::resolve::unknown::front(degree, first);
                let word = first;
                return refuse(place, Problem::SmallWordInName { word, each: None });
            }
            if degrees[..index].iter().any(|d| d.text == degree.text) {
                return refuse(
                    degree.at,
                    Problem::WordTaken {
                        word: &degree.text,
                        owner: &crate::words::a(&self.model.kinds[kind.index()].name),
                        line: &self.files.line_from(entry.at, degree.at),
                    },
                );
            }
        }
        match self.said_before(entry, kind, said)? {
            Some(Said::State(state)) => match self.model.degree_of(state) {
                Some((sign, _)) => return Ok(Some(sign)),
                None => self.said_otherwise(self.model.states[state.index()].at, kind, said)?,
            },
            Some(Said::Measure(sign)) => {
                self.said_otherwise(self.model.signs[sign.index()].at, kind, said)?;
            }
            _ => {}
        }
        for degree in degrees {
            let name = Name {
                text: format!("{} {}", degree.text, said.text),
                at: degree.at,
            };
            self.said_before(entry, kind, &name)?;
        }
        Ok(None)
    }

    fn said_otherwise(&self, at: Span, kind: KindId, said: &Name) -> Done<()> {
        let problem = Problem::SaidAlready {
            phrase: &said.text,
            owner: &crate::words::a(&self.model.kinds[kind.index()].name),
            line: &self.files.line_from(at, said.at),
        };
        Err(Box::new(Message::new(said.at, problem).with_also(at)))
    }

    /// A judgement of the standard rules, said again with the same degrees.
    fn degrees_again(
        &mut self,
        entry: &Entry,
        id: SignId,
        sense: Sense,
        asks: &Asks,
        particulars: &Particulars,
    ) {
        let was = self.model.signs[id.index()].at;
        if self.model.signs[id.index()].asks != *asks {
            let line = self.files.line_from(was, entry.at);
            let problem = Problem::OtherDegrees { line: &line };
            self.fail(entry, Message::new(entry.at, problem).with_also(was));
            return;
        }
        let words = self.with_look(|look| look.sign_words(id));
        self.update_sign(entry, id, sense, particulars);
        let own = self.model.signs[id.index()].on_its_own;
        let ids = 1..=MAX_DEGREE;
        let states: Vec<StateId> = ids.map_while(|d| self.model.from_degree(id, d)).collect();
        for state in states {
            let state = &mut self.model.states[state.index()];
            state.on_its_own = own;
            state.source = particulars.from.or(state.source);
            state.at = entry.at;
        }
        self.replaced(&words, was, entry.at);
    }
}

impl Look<'_> {
    /// The judgement that is called so of a part: "how badly a veneer is lifted".
    pub(super) fn judgement(
        &self,
        kind: KindId,
        phrase: Option<&Name>,
        word: &Name,
    ) -> Option<SignId> {
        let piece = self.kind(kind).is_piece;
        let fits = |asks: &Asks| match asks {
            Asks::Degrees {
                word: w, phrase: p, ..
            } => {
                w.to_lowercase() == word.text
                    && phrase.map_or("", |name| name.text.as_str()) == p.to_lowercase()
            }
            _ => false,
        };
        let mut signs = (0..).map(SignId).zip(&self.model.signs);
        let found = signs.find(|(_, sign)| applies(sign.kind, kind, piece) && fits(&sign.asks));
        found.map(|(id, _)| id)
    }

    /// The degrees of a judgement in words: "slightly, noticeably or badly".
    fn degree_list(&self, sign: SignId) -> String {
        match &self.sign(sign).asks {
            Asks::Degrees { degrees, .. } => list_or(degrees),
            _ => String::new(),
        }
    }

    /// The highest degree of a judgement.
    fn highest(&self, sign: SignId) -> u8 {
        let ends = self.sign(sign).asks.ends();
        ends.and_then(|(_, most)| u8::try_from(most).ok())
            .unwrap_or(0)
    }

    /// The degrees that are meant.
    fn row(&self, (sign, degree): (SignId, u8), beyond: Option<Beyond>, at: &Name) -> Done<Row> {
        let most = self.highest(sign);
        let (from, to) = match beyond {
            None => (degree, degree),
            Some(Beyond::AtLeast) => (degree, most),
            Some(Beyond::MoreThan) => (degree.saturating_add(1), most),
            Some(Beyond::AtMost) => (0, degree),
            Some(Beyond::LessThan) => (0, degree.saturating_sub(1)),
        };
        let when = match () {
            () if from > to => "never",
            () if from == 0 && to == most => "always",
            () => return Ok((from, to)),
        };
        refuse(
            at.at,
            Problem::DegreeBeyondRange {
                when,
                sign: &capital(&self.sign_words(sign)),
                degrees: &self.degree_list(sign),
            },
        )
    }

    /// A degree, or all beyond one, as something that must be so.
    pub(super) fn degree(
        &self,
        (sign, degree): (SignId, u8),
        beyond: Option<Beyond>,
        not: Option<Span>,
        phrase: &Name,
    ) -> Done<Predicate> {
        let (from, to) = self.row((sign, degree), beyond, phrase)?;
        let most = self.highest(sign);
        if let Some(not) = not
            && from > 0
            && to < most
        {
            return self.not_just(sign, from == 1, (not.to(phrase.at), phrase));
        }
        let (mark, yes) = match from {
            // "At most" is the opposite of "at least the next".
            0 => ((to.saturating_add(1), most), false),
            _ => ((from, to), true),
        };
        Ok(Predicate::Measure {
            sign,
            mark: Mark {
                at_least: mark.0.into(),
                at_most: (mark.1 < most).then_some(mark.1.into()),
            },
            yes: yes == not.is_none(),
        })
    }

    /// "not slightly lifted" may mean less, or less and more.
    fn not_just<T>(&self, sign: SignId, lowest: bool, (at, phrase): (Span, &Name)) -> Done<T> {
        let not = degree_words(&self.sign(sign).asks, Than::Just, 0);
        refuse(
            at,
            Problem::NotJustDegree {
                phrase: &phrase.text,
                not: lowest.then_some(not.as_str()),
            },
        )
    }

    /// What was found, if it is a judgement: "is lifted", "is slightly lifted", "looks at
    /// least noticeably lifted".
    pub(super) fn judged(
        &self,
        (kind, said): (KindId, Said),
        stated: &Stated,
        yes: bool,
    ) -> Done<Option<Found>> {
        let phrase = &stated.phrase;
        let (sign, (from, to)) = match said {
            Said::Degree(sign, degree) => (sign, self.row((sign, degree), stated.beyond, phrase)?),
            Said::State(state) if stated.beyond.is_none() => match self.model.degree_of(state) {
                Some((sign, degree)) => (sign, (degree, self.highest(sign))),
                None => return Ok(None),
            },
            _ if stated.beyond.is_none() => return Ok(None),
            _ => return self.no_degrees(phrase),
        };
        if stated.shows && !stated.looks {
            return self.wrong_verb(Verb::Is, Verb::Shows, phrase, kind);
        }
        let most = self.highest(sign);
        let (from, to) = match (yes, from, to) {
            (true, ..) => (from, to),
            (false, 0, to) => (to.saturating_add(1), most),
            (false, from, to) if to == most => (0, from.saturating_sub(1)),
            (false, from, _) => return self.not_just(sign, from == 1, (phrase.at, phrase)),
        };
        let (than, degree) = match () {
            () if from == to => (Than::Just, from),
            () if to == most => (Than::AtLeast, from),
            () => (Than::LessThan, to.saturating_add(1)),
        };
        let sure = match (stated.looks, stated.certain) {
            (true, _) => Sure::Looks,
            (false, true) => Sure::Certain,
            (false, false) => Sure::Ordinary,
        };
        Ok(Some(Found::Degree {
            sign,
            degree,
            than,
            sure,
        }))
    }

    /// "at least stiff": there are no degrees of it.
    pub(super) fn no_degrees<T>(&self, phrase: &Name) -> Done<T> {
        let phrase_text = &phrase.text;
        refuse(
            phrase.at,
            Problem::NoDegrees {
                phrase: phrase_text,
            },
        )
    }

    /// A judgement that a quantity is compared with, or that is read like a measure.
    pub(super) fn judged_not_measured<T>(&self, sign: SignId, at: Span) -> Done<T> {
        refuse(
            at,
            Problem::JudgedNotMeasured {
                sign: &capital(&self.sign_words(sign)),
                degrees: &self.degree_list(sign),
            },
        )
    }

    /// The state of which a chance is told: of a degree, that it is so at least.
    pub(super) fn chance_of(
        &self,
        (sign, degree): (SignId, u8),
        beyond: Option<Beyond>,
        phrase: &Name,
    ) -> Done<StateId> {
        let (from, to) = self.row((sign, degree), beyond, phrase)?;
        let state = self.model.from_degree(sign, from);
        match state.filter(|_| to == self.highest(sign)) {
            Some(state) => Ok(state),
            None => refuse(
                phrase.at,
                Problem::ChanceOfDegree {
                    phrase: &phrase.text,
                },
            ),
        }
    }
}
