//! What the labels of an entry say.

use nom::Parser;
use nom::branch::alt;
use nom::combinator::{opt, value};
use nom::sequence::preceded;

use crate::entry::{Entry, Opener};
use crate::grammar::declare::own_chance;
use crate::grammar::name::free;
use crate::input::{Read, Tokens, comma, end, word, words};
use crate::label::{Detail, Label};
use crate::message::{Message, Problem};
use crate::model::{
    Disturbs, Evidence, HowOften, Minutes, Missed, Source, SourceId, Strength, Takes, Thousandths,
    WorkStage,
};
use crate::near::nearest;
use crate::number::{Quantity, minutes, number, quantity, time_unit, times, whole};
use crate::resolve::Reader;
use crate::screen;
use crate::span::Span;
use crate::syntax::Name;
use crate::token::{Sort, Token};
use crate::vocab::{join, key};

/// What the labels of an entry say.
#[derive(Default)]
pub struct Particulars {
    /// `Ask:`
    pub ask: Option<String>,
    /// `How:`
    pub how: Option<String>,
    /// `Takes:`; nothing inside for "not known".
    pub takes: Option<Option<Takes>>,
    /// `Waits:`
    pub waits: Option<(Minutes, Minutes)>,
    /// `Needs:`
    pub needs: Vec<String>,
    /// `First:`, to be looked up when all jobs are known.
    pub first: Option<Vec<Token>>,
    /// `Then:`, in the same way.
    pub then: Option<Vec<Token>>,
    /// `Touches:`
    pub touches: Option<Vec<Token>>,
    /// `From:`
    pub from: Option<SourceId>,
    /// Whether there was a `From:` at all, or a slip that may have been one.
    pub from_given: bool,
    /// `On its own:`
    pub on_its_own: Option<HowOften>,
    /// `Called:`
    pub called: Option<String>,
    /// `Slip:`
    pub slip: Option<Thousandths>,
    /// `Disturbs:`
    pub disturbs: Option<Disturbs>,
    /// `Reads to:`
    pub reads_to: Option<Quantity>,
    /// `Mends:`, to be read when all words are known.
    pub mends: Option<Vec<Token>>,
    /// `Holds:`
    pub holds: Option<HowOften>,
    /// `Missed:`
    pub missed: Option<Missed>,
    /// `Evidence:`
    pub evidence: Option<Evidence>,
    /// `Stage:`
    pub stage: Option<WorkStage>,
    /// `Usually:`
    pub usually: Option<Name>,
    /// `In order:`, to be read when the answers are known.
    pub in_order: Option<Vec<Token>>,
    /// `In plain words:`, to be looked through when it is known of what.
    pub plain: Option<Name>,
    /// `Afterwards:`
    pub afterwards: Option<Name>,
    /// `Until:`, to be looked up when all jobs are known.
    pub until: Option<Vec<Token>>,
}

/// The labels an entry may have.
fn allowed(opener: Opener) -> &'static [Label] {
    use Label::{
        Afterwards, Ask, Called, Disturbs, Evidence, First, From, Holds, How, InOrder,
        InPlainWords, Mends, Missed, Needs, Note, OnItsOwn, ReadsTo, Slip, Stage, Takes, Then,
        Touches, Until, Usually, Waits,
    };
    match opener {
        Opener::Sign | Opener::CountSign => &[
            Ask,
            How,
            Takes,
            OnItsOwn,
            Usually,
            InOrder,
            Slip,
            Disturbs,
            ReadsTo,
            InPlainWords,
            From,
            Note,
        ],
        Opener::Hidden => &[OnItsOwn, Missed, InPlainWords, From, Note],
        Opener::CountsAs => &[OnItsOwn, InPlainWords, From, Note],
        Opener::WorkedOut => &[OnItsOwn, ReadsTo, From, Note],
        Opener::Default => &[OnItsOwn, From, Note],
        Opener::If => &[From, Called, Note],
        Opener::Plan | Opener::StandIn => &[
            Takes, Waits, Needs, First, Then, Touches, Mends, Holds, Stage, From, Called, Note,
        ],
        Opener::Job => &[
            Takes,
            Waits,
            Needs,
            First,
            Then,
            Touches,
            Mends,
            Holds,
            Until,
            Stage,
            InPlainWords,
            Afterwards,
            From,
            Note,
        ],
        Opener::Caution => &[Until, InPlainWords, From, Called, Note],
        Opener::Ladder | Opener::Tell | Opener::Trace | Opener::OnlyIf | Opener::AtMostOne => {
            &[From, Called, Note]
        }
        Opener::Dating | Opener::Relative => &[From, Called, Evidence, Note],
        Opener::Title => &[Note],
        _ => &[From, Note],
    }
}

impl Reader<'_> {
    /// Reads the labels of an entry.
    pub(super) fn particulars(&mut self, entry: &Entry) -> Particulars {
        let mut out = Particulars {
            from_given: entry.label_slip,
            ..Particulars::default()
        };
        self.quiet_labels = entry.label_misspelt;
        let may = allowed(entry.opener);
        let mut seen: Vec<Label> = Vec::new();
        for detail in &entry.details {
            if !may.contains(&detail.label) {
                let labels = may.iter().map(|l| l.words()).collect::<Vec<_>>().join(", ");
                self.say(Message::new(
                    detail.at,
                    Problem::LabelNotAllowed {
                        label: detail.label.words(),
                        entry: entry.opener.name(),
                        labels: &labels,
                    },
                ));
                continue;
            }
            if seen.contains(&detail.label) && detail.label != Label::Note {
                self.say(Message::new(
                    detail.at,
                    Problem::LabelTwice {
                        label: detail.label.words(),
                    },
                ));
                continue;
            }
            seen.push(detail.label);
            self.detail(entry, detail, &mut out);
        }
        self.quiet_labels = false;
        if let Some(at) = entry.ask_owner
            && !matches!(entry.opener, Opener::Job | Opener::Plan | Opener::StandIn)
        {
            self.say(Message::new(
                at,
                Problem::Unreadable {
                    read: None,
                    wants: "a label",
                    example: Some(entry.opener.example()),
                },
            ));
        }
        out
    }

    fn detail(&mut self, entry: &Entry, detail: &Detail, out: &mut Particulars) {
        match detail.label {
            Label::Ask => out.ask = self.screen_text(detail, 1),
            Label::How => out.how = self.screen_text(detail, 6),
            Label::Note => {}
            Label::From => {
                out.from_given = true;
                out.from = self.source(detail);
            }
            Label::Called => {
                if detail.value.is_empty() {
                    self.unreadable(detail);
                } else {
                    out.called = self.sentence_name(detail);
                }
            }
            Label::First => out.first = self.some_words(detail),
            Label::Then => out.then = self.some_words(detail),
            Label::Touches => out.touches = self.some_words(detail),
            Label::Mends => out.mends = self.some_words(detail),
            Label::Needs => {
                out.needs = self
                    .written(detail.value_at())
                    .split(',')
                    .map(|n| n.trim().trim_end_matches('.').to_owned())
                    .filter(|n| !n.is_empty())
                    .collect();
                if detail.value.is_empty() {
                    out.needs.clear();
                    self.unreadable(detail);
                }
            }
            Label::Takes => out.takes = self.value(detail, takes),
            Label::Waits => out.waits = self.value(detail, whole_times),
            Label::OnItsOwn => {
                let chance = self.value(detail, own_chance).and_then(|often| {
                    let chance = self.how_often(&often);
                    self.keep(entry, chance)
                });
                // What could not be read is not missing too.
                out.on_its_own = chance.or_else(|| Some(self.strength(Strength::Rarely)));
            }
            Label::Holds => {
                let often = self.value(detail, own_chance);
                let often = often.map(|often| self.how_often(&often));
                out.holds = often.and_then(|often| self.keep(entry, often));
            }
            Label::Slip => out.slip = self.value(detail, slip),
            Label::Disturbs => out.disturbs = self.value(detail, disturbs),
            Label::ReadsTo => out.reads_to = self.value(detail, whole_quantity),
            Label::Missed => out.missed = self.value(detail, missed),
            Label::Evidence => out.evidence = self.value(detail, evidence),
            Label::Stage => out.stage = self.value(detail, stage),
            Label::Usually => out.usually = self.value(detail, one_value),
            Label::InOrder => out.in_order = self.some_words(detail),
            Label::InPlainWords => out.plain = self.plain_text(detail),
            Label::Afterwards => out.afterwards = self.plain_text(detail),
            Label::Until => out.until = self.some_words(detail),
        }
    }

    /// The name that a sentence is given. It must be one that can be written
    /// after "Instead of" and "Leave out".
    fn sentence_name(&mut self, detail: &Detail) -> Option<String> {
        let written = self.written(detail.value_at());
        let stray = detail.value.iter().find(|token| {
            !matches!(token.sort, Sort::Word | Sort::Number(_)) || token.is("because")
        });
        let Some(stray) = stray else {
            return Some(written);
        };
        let sign = self.written(stray.at);
        self.say(Message::new(
            stray.at,
            Problem::BadSentenceName {
                name: &written,
                sign: &sign,
            },
        ));
        None
    }

    fn value<O>(
        &mut self,
        detail: &Detail,
        parser: impl for<'a> Fn(Tokens<'a>) -> Read<'a, O>,
    ) -> Option<O> {
        let trail = crate::input::Trail::default();
        let found = parser(Tokens::new(&detail.value, &self.vocab, &trail))
            .ok()
            .map(|(_, out)| out);
        if found.is_none() {
            self.unreadable_at(detail, &trail);
        }
        found
    }

    fn unreadable(&mut self, detail: &Detail) {
        self.say(Message::new(
            detail.value_at(),
            Problem::LabelUnreadable {
                label: detail.label.words(),
                form: &format!("\"{}: {}\"", detail.label.words(), detail.label.form()),
            },
        ));
    }

    /// The same, with a near word if there is one.
    fn unreadable_at(&mut self, detail: &Detail, trail: &crate::input::Trail) {
        let (lost, wants) = trail.furthest();
        if let Some(token) = detail.value.get(lost).filter(|t| t.sort == Sort::Word) {
            let literal = wants.iter().copied().filter(|w| !w.starts_with("a "));
            if let Some(near) = nearest(&token.text, literal) {
                self.say(
                    Message::new(
                        token.at,
                        Problem::UnknownWord {
                            word: &token.text,
                            near: Some(&near.joined()),
                            figure: None,
                            read: None,
                            wants: None,
                        },
                    )
                    .with_fix(token.at, near.words[0], near.sure()),
                );
                return;
            }
            let word_for_how_often =
                matches!(detail.label, Label::OnItsOwn | Label::Holds) && lost == 0;
            if word_for_how_often {
                let words = self.with_look(|look| look.scale_words());
                let words = format!("{words}, rarely, hardly ever");
                self.say(Message::new(
                    token.at,
                    Problem::UnknownStrength {
                        word: &token.text,
                        words: &words,
                    },
                ));
                return;
            }
        }
        self.unreadable(detail);
    }

    fn some_words(&mut self, detail: &Detail) -> Option<Vec<Token>> {
        if detail.value.is_empty() {
            self.unreadable(detail);
            return None;
        }
        Some(detail.value.clone())
    }

    /// A text for the bench screen, in quotation marks or not.
    fn screen_text(&mut self, detail: &Detail, lines: usize) -> Option<String> {
        let at = detail.value_at();
        let text = match &detail.value[..] {
            [] => {
                self.unreadable(detail);
                return None;
            }
            [only] if only.sort == Sort::Text => only.text.clone(),
            [first, rest @ ..] if first.sort == Sort::Text => {
                // Words after the closing quotation mark.
                let after = rest[0].at.to(at);
                self.say(Message::new(
                    after,
                    Problem::LabelUnreadable {
                        label: detail.label.words(),
                        form: &format!("\"{}: {}\"", detail.label.words(), detail.label.form()),
                    },
                ));
                return None;
            }
            _ => self.written(at),
        };
        self.check_screen(&text, at, lines);
        Some(text)
    }

    /// Checks a text for the bench screen.
    pub(super) fn check_screen(&mut self, text: &str, at: Span, lines: usize) {
        for message in screen::check(text, at, self.text(at), lines) {
            self.say(message);
        }
    }

    /// A sentence in quotation marks.
    fn plain_text(&mut self, detail: &Detail) -> Option<Name> {
        match &detail.value[..] {
            [only] if only.sort == Sort::Text => Some(Name {
                text: only.text.clone(),
                at: only.at,
            }),
            _ => {
                self.unreadable(detail);
                None
            }
        }
    }

    fn source(&mut self, detail: &Detail) -> Option<SourceId> {
        if detail.value.is_empty() {
            self.unreadable(detail);
            return None;
        }
        let full = join(&detail.value);
        // The name, with or without a page after a comma.
        let head = detail
            .value
            .iter()
            .position(|t| t.sort == Sort::Comma)
            .map_or(full.clone(), |comma| join(&detail.value[..comma]));
        for name in [&full, &head] {
            if let Some(id) = self.sources.get(name.as_str()) {
                return Some(*id);
            }
        }
        for name in ["house", "common practice"] {
            if head == name {
                return self.add_source(name.to_owned(), name.to_owned(), Span::default());
            }
        }
        let mut candidates: Vec<&str> = Vec::new();
        if self.is_still_explaining() {
            candidates.extend(self.sources.keys().map(String::as_str));
            candidates.extend(["house", "common practice"]);
            candidates.sort_unstable();
        }
        let at = detail.value_at();
        let written = self.written(at);
        let message = match nearest(&head, candidates) {
            Some(near) => {
                let found = self.sources.get(near.words[0]).copied();
                let declared = found.and_then(|id| self.model.sources.get(id.index()));
                let name = declared.map_or(near.words[0].to_owned(), |s| s.name.clone());
                let line = declared
                    .filter(|s| !s.at.is_empty())
                    .map(|source| self.files.line_from(source.at, at));
                let problem = Problem::UnknownSource {
                    word: &written,
                    near: Some(&name),
                    line: line.as_deref(),
                };
                Message::new(at, problem).with_fix(at, name.clone(), near.sure())
            }
            None => Message::new(
                at,
                Problem::UnknownSource {
                    word: &written,
                    near: None,
                    line: None,
                },
            ),
        };
        self.say(message);
        None
    }

    /// Adds a source; nothing if there are too many.
    pub(super) fn add_source(&mut self, name: String, text: String, at: Span) -> Option<SourceId> {
        let id = SourceId(u16::try_from(self.model.sources.len()).ok()?);
        self.sources.insert(key(&name), id);
        self.model.sources.push(Source { name, text, at });
        Some(id)
    }
}

fn takes(input: Tokens<'_>) -> Read<'_, Option<Takes>> {
    if let Ok((rest, _)) = words("not known")(input) {
        let (rest, ()) = end(rest)?;
        return Ok((rest, None));
    }
    let (rest, (least, most)) = times(input)?;
    // The unit of the range serves "mostly 3" too.
    let each = input
        .rest
        .iter()
        .filter_map(|t| match crate::number::unit_of(&t.text) {
            Some(crate::number::UnitWord::Time(each)) => Some(each),
            _ => None,
        })
        .next_back()
        .unwrap_or(1);
    let (rest, mostly) = opt(preceded(
        (opt(comma), word("mostly")),
        (number, opt(time_unit)),
    ))
    .parse(rest)?;
    let (rest, ()) = end(rest)?;
    let mostly = mostly.map_or_else(
        || least + (most.max(least) - least) / 2,
        |((n, _), unit)| minutes(n, unit.unwrap_or(each)),
    );
    if !(least <= mostly && mostly <= most) {
        return input.fail("times in rising order");
    }
    Ok((
        rest,
        Some(Takes {
            least,
            mostly,
            most,
        }),
    ))
}

fn whole_times(input: Tokens<'_>) -> Read<'_, (Minutes, Minutes)> {
    let (rest, range) = times(input)?;
    let (rest, ()) = end(rest)?;
    if range.0 > range.1 {
        return input.fail("times in rising order");
    }
    Ok((rest, range))
}

fn slip(input: Tokens<'_>) -> Read<'_, Thousandths> {
    let (rest, (n, _, of)) = (whole, alt((word("in"), word("of"))), whole).parse(input)?;
    let (rest, ()) = end(rest)?;
    if of == 0 || n.saturating_mul(2) > of {
        return input.fail("a chance of at most a half");
    }
    let chance = (u64::from(n) * 1000 + u64::from(of) / 2) / u64::from(of);
    Ok((rest, Thousandths(u16::try_from(chance).unwrap_or(500))))
}

fn disturbs(input: Tokens<'_>) -> Read<'_, Disturbs> {
    let (rest, found) = alt((
        value(Disturbs::Nothing, word("nothing")),
        value(Disturbs::ALittle, words("a little")),
        value(Disturbs::ALot, words("a lot")),
    ))
    .parse(input)?;
    let (rest, ()) = end(rest)?;
    Ok((rest, found))
}

fn whole_quantity(input: Tokens<'_>) -> Read<'_, Quantity> {
    let (rest, found) = quantity(input)?;
    let (rest, ()) = end(rest)?;
    Ok((rest, found))
}

fn missed(input: Tokens<'_>) -> Read<'_, Missed> {
    let (rest, (least, most)) = times(input)?;
    let (rest, risk) = preceded((opt(comma), word("risk")), whole).parse(rest)?;
    let (rest, ()) = end(rest)?;
    if !(1..=5).contains(&risk) || least > most {
        return input.fail("a risk from 1 to 5");
    }
    Ok((
        rest,
        Missed {
            minutes: least + (most - least) / 2,
            risk: u8::try_from(risk).unwrap_or(5),
        },
    ))
}

fn evidence(input: Tokens<'_>) -> Read<'_, Evidence> {
    let (rest, found) = alt((
        value(Evidence::Strong, word("strong")),
        value(Evidence::Fair, word("fair")),
        value(Evidence::Weak, word("weak")),
    ))
    .parse(input)?;
    let (rest, ()) = end(rest)?;
    Ok((rest, found))
}

fn one_value(input: Tokens<'_>) -> Read<'_, Name> {
    let (rest, value) = free(input, &[], "one of the values")?;
    let (rest, ()) = end(rest)?;
    Ok((rest, value))
}

fn stage(input: Tokens<'_>) -> Read<'_, WorkStage> {
    for (stage, said) in WorkStage::ALL {
        if let Ok((rest, _)) = words(said)(input) {
            let (rest, ()) = end(rest)?;
            return Ok((rest, stage));
        }
    }
    input.fail("a stage of the work")
}
