//! Checks a pack once, so that nothing that reads it afterwards can fail.

use super::words::{NONE, word};
use super::{
    Ask, Bound, CHECKSUM, Caution, Constraint, Dating, Form, Fragment, Group, HEADER_BYTES, Job,
    Kind, Lineage, MAGIC, MAJOR, MAX_SECTIONS, MINOR, Manifest, Nature, OnlyIf, OpenError, Pack,
    Pair, Place, Plan, Remark, Round, SECTION_BYTES, Section, Sentence, State, Step, Table, Way,
    WorkedOut, Working, condition,
};
use crate::limits::{MAX_DEGREE, MAX_DEPTH, MAX_INTERFACE, MAX_NODES};

fn u16_at(bytes: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_le_bytes(
        bytes.get(at..at.checked_add(2)?)?.try_into().ok()?,
    ))
}

fn u32_at(bytes: &[u8], at: usize) -> Option<u32> {
    Some(u32::from_le_bytes(
        bytes.get(at..at.checked_add(4)?)?.try_into().ok()?,
    ))
}

/// Header, checksum and section table.
pub(super) fn sections(bytes: &[u8]) -> Result<Pack<'_>, OpenError> {
    let cut = OpenError::TooShort;
    if bytes.get(..8).ok_or(cut)? != MAGIC {
        return Err(OpenError::NotAPack);
    }
    let major = *bytes.get(8).ok_or(cut)?;
    let header = u16_at(bytes, 10).ok_or(cut)?;
    let total = u32_at(bytes, 12).ok_or(cut)?;
    let id = u32_at(bytes, 16).ok_or(cut)?;
    let lowest_minor = *bytes.get(20).ok_or(cut)?;
    let count = usize::from(*bytes.get(21).ok_or(cut)?);
    if major != MAJOR || lowest_minor > MINOR {
        return Err(OpenError::Version {
            major,
            lowest_minor,
        });
    }
    if usize::from(header) != HEADER_BYTES || bytes.len() != total as usize {
        return Err(cut);
    }
    let words: &[u32] = bytemuck::try_cast_slice(bytes).map_err(|e| match e {
        bytemuck::PodCastError::TargetAlignmentGreaterAndInputNotAligned => OpenError::Misaligned,
        _ => cut,
    })?;
    let mut digest = CHECKSUM.digest();
    digest.update(bytes.get(..16).ok_or(cut)?);
    digest.update(bytes.get(20..).ok_or(cut)?);
    if digest.finalize() != id {
        return Err(OpenError::Checksum);
    }
    if cfg!(target_endian = "big") {
        return Err(OpenError::Misaligned);
    }

    let mut sections: [&[u32]; MAX_SECTIONS] = [&[]; MAX_SECTIONS];
    let mut manifest_bytes: &[u8] = &[];
    for i in 0..count {
        let at = HEADER_BYTES + i * SECTION_BYTES;
        let number = *bytes.get(at).ok_or(cut)?;
        let may_skip = bytes.get(at + 1).ok_or(cut)? & 1 == 1;
        let broken = OpenError::Section(number);
        let offset = u32_at(bytes, at + 4).ok_or(cut)? as usize;
        let length = u32_at(bytes, at + 8).ok_or(cut)? as usize;
        if !offset.is_multiple_of(4) || !length.is_multiple_of(4) {
            return Err(broken);
        }
        let end = offset.checked_add(length).ok_or(broken)?;
        let Some(slot) = sections.get_mut(usize::from(number)) else {
            if may_skip {
                continue;
            }
            return Err(broken);
        };
        *slot = words.get(offset / 4..end / 4).ok_or(broken)?;
        if number == Section::Manifest as u8 {
            manifest_bytes = bytes.get(offset..end).ok_or(broken)?;
        }
    }

    let manifest = postcard::from_bytes::<Manifest<'_>>(manifest_bytes)
        .map_err(|_| OpenError::Section(Section::Manifest as u8))?;
    let texts_section = sections
        .get(Section::Texts as usize)
        .copied()
        .unwrap_or(&[]);
    let texts = word(texts_section, 0) as usize;
    let text_start = texts.saturating_add(2);
    let text_words = texts_section
        .get(text_start..)
        .ok_or(OpenError::Section(Section::Texts as u8))?;
    Ok(Pack {
        manifest,
        sections,
        text_bytes: bytemuck::cast_slice(text_words),
        texts,
        id,
    })
}

/// Every row of every table.
pub(super) fn records(pack: &Pack<'_>) -> Result<(), OpenError> {
    texts(pack)?;
    let check = Check::of(pack);
    check.numbers()?;
    check.what_is_asked()?;
    check.where_it_stands()?;
    check.what_follows()?;
    check.what_is_said()
}

/// A pack whose rows are being checked, and how many there are of what they refer to.
struct Check<'p, 'a> {
    pack: &'p Pack<'a>,
    texts: usize,
    kinds: usize,
    states: usize,
    asks: usize,
    jobs: usize,
}

impl<'p, 'a> Check<'p, 'a> {
    fn of(pack: &'p Pack<'a>) -> Self {
        // Counted once: a count is a division, for which the unit's processor has no
        // instruction.
        Self {
            pack,
            texts: pack.texts(),
            kinds: pack.kinds(),
            states: pack.states(),
            asks: pack.asks(),
            jobs: pack.jobs(),
        }
    }

    fn each<R: Table>(&self, good: impl Fn(&R, usize) -> bool) -> Result<(), OpenError> {
        let number = R::SECTION as u8;
        if !self.pack.section(R::SECTION).len().is_multiple_of(R::WORDS) {
            return Err(OpenError::Section(number));
        }
        for row in 0..self.pack.rows::<R>() {
            if !good(&self.pack.row::<R>(row), row) {
                return Err(OpenError::Record(number, u32::try_from(row).unwrap_or(0)));
            }
        }
        Ok(())
    }

    fn text(&self, text: u16) -> bool {
        usize::from(text) < self.texts
    }

    fn kind(&self, kind: u16) -> bool {
        usize::from(kind) < self.kinds
    }

    fn state(&self, state: u16) -> bool {
        usize::from(state) < self.states
    }

    fn ask(&self, ask: u16) -> bool {
        usize::from(ask) < self.asks
    }

    /// Whether it is asked of parts of that kind.
    fn asked_of(&self, ask: u16, kind: u16) -> bool {
        self.ask(ask) && self.pack.ask(usize::from(ask)).kind == kind
    }

    fn job(&self, job: u16) -> bool {
        usize::from(job) < self.jobs
    }

    fn condition(&self, at: u32, subject: u16) -> bool {
        condition::is_sound(self.pack, at, subject)
    }

    /// There is a kind, and no row has the number that means "there is none".
    fn numbers(&self) -> Result<(), OpenError> {
        if self.kinds == 0 {
            return Err(OpenError::Section(Section::Kinds as u8));
        }
        for (section, rows) in [
            (Section::Texts, self.texts),
            (Section::Kinds, self.kinds),
            (Section::Places, self.pack.places()),
            (Section::States, self.states),
            (Section::Asks, self.asks),
            (Section::Fragments, self.pack.fragments()),
            (Section::Jobs, self.jobs),
        ] {
            if rows > usize::from(NONE) {
                return Err(OpenError::Section(section as u8));
            }
        }
        Ok(())
    }

    /// Kinds, their states and their asks.
    fn what_is_asked(&self) -> Result<(), OpenError> {
        self.each::<Kind>(|k, _| {
            self.text(k.name)
                && self.text(k.plural)
                && usize::from(k.first_state) + usize::from(k.states) <= self.states
                && usize::from(k.first_ask) + usize::from(k.asks) <= self.asks
        })?;
        self.each::<State>(|s, _| {
            self.text(s.phrase)
                && self.kind(s.kind)
                && (self.asked_of(s.ask, s.kind) || (s.ask == NONE && s.nature == Nature::Mark))
                && (s.whether == NONE || self.asked_of(s.whether, s.kind))
                && s.own <= 1000
                && s.risk <= 5
        })?;
        self.each::<Ask>(|a, _| {
            self.text(a.question)
                && self.text(a.how)
                && self.text(a.phrase)
                && self.text(a.word)
                && self.kind(a.kind)
                && a.slip <= 1000
                && match a.form {
                    Form::Whether => true,
                    Form::Which { first, values } => {
                        values > 0
                            && values <= 32
                            && usize::from(first) + usize::from(values) <= self.texts
                    }
                    Form::HowMuch { least, most, .. } => least <= most,
                    Form::HowMany { part } => self.kind(part),
                    Form::Degrees { first, values } => {
                        values > 1
                            && values <= 1 + u16::from(MAX_DEGREE)
                            && usize::from(first) + usize::from(values) <= self.texts
                    }
                }
        })
    }

    /// The tree of parts, and the programs that chances are worked out with.
    fn where_it_stands(&self) -> Result<(), OpenError> {
        let pack = self.pack;
        self.each::<Place>(|p, row| {
            self.kind(p.kind)
                && usize::from(p.fragment) < pack.fragments()
                && tree(pack, p, row)
                && p.least <= p.usual
                && p.usual <= p.most
                && usize::from(p.first_name) + usize::from(p.names) <= self.texts
                && (p.counted_by == NONE || self.ask(p.counted_by))
                && fragment_fits(pack, p, row)
        })?;
        self.each::<Fragment>(|f, _| fragment(pack, f))
    }

    /// Jobs and their order, cautions, datings.
    fn what_follows(&self) -> Result<(), OpenError> {
        self.each::<Plan>(|p, _| {
            self.kind(p.subject)
                && self.job(p.job)
                && self.text(p.source)
                && self.condition(p.condition, p.subject)
        })?;
        self.each::<Job>(|j, _| {
            self.text(j.name)
                && self.text(j.needs)
                && self.text(j.source)
                && (j.once_for == NONE || self.kind(j.once_for))
        })?;
        self.each::<Constraint>(|c, _| {
            self.job(c.before) && self.job(c.after) && self.text(c.because)
        })?;
        self.each::<Caution>(|c, _| {
            self.kind(c.subject)
                && self.text(c.text)
                && self.text(c.source)
                && self.condition(c.condition, c.subject)
        })?;
        self.each::<Dating>(|d, _| {
            self.kind(d.subject)
                && self.text(d.source)
                && d.strength <= 2
                && d.region <= 2
                && match d.bound {
                    Bound::Later(owner) => self.kind(owner),
                    Bound::Lost(what) => self.text(what),
                    Bound::NotEarlier(_) | Bound::NotLater(_) | Bound::Usually(..) => true,
                }
                && self.condition(d.condition, d.subject)
        })?;
        self.each::<Pair>(|p, _| {
            self.job(p.job)
                && if p.mends {
                    self.state(p.other)
                } else {
                    self.job(p.other)
                }
        })
    }

    /// The piece of the round that a step stands in. Steps are asked about in order, and
    /// `from` is the round that has been come to: rounds have their steps one after the other.
    fn piece_of_step(&self, from: &core::cell::Cell<usize>, step: usize) -> Option<u16> {
        while from.get() < self.pack.rounds() {
            let round = self.pack.round(from.get());
            let first = usize::from(round.first);
            if step < first {
                return None;
            }
            if step < first + usize::from(round.steps) {
                return Some(round.piece);
            }
            from.set(from.get() + 1);
        }
        None
    }

    /// What is a kind of what, where states can be, rounds, and the rules' own sentences.
    fn what_is_said(&self) -> Result<(), OpenError> {
        self.each::<Lineage>(|l, _| {
            self.kind(l.kind) && self.kind(l.general) && l.kind != 0 && l.general != l.kind
        })?;
        self.each::<OnlyIf>(|o, _| {
            let kind = |state: u16| self.pack.state(usize::from(state)).kind;
            self.state(o.state)
                && self.pack.state(usize::from(o.state)).ask == o.ask
                && self.condition(o.condition, kind(o.state))
        })?;
        self.each::<WorkedOut>(|w, _| {
            let kind = |kind: u16| kind == NONE || self.kind(kind);
            self.ask(w.ask)
                && self.pack.ask(usize::from(w.ask)).way == Way::WorkOut
                && self.ask(w.first)
                && kind(w.first_kind)
                && (w.second == NONE || self.ask(w.second))
                && kind(w.second_kind)
                && (w.working != Working::Table || self.pack.is_sum_table(w.table))
        })?;
        // Its condition is about the piece whose round it stands in.
        let round = core::cell::Cell::new(0);
        self.each::<Step>(|s, row| {
            let piece = self.piece_of_step(&round, row);
            let subject = piece.unwrap_or(self.pack.ask(usize::from(s.ask)).kind);
            self.ask(s.ask) && self.condition(s.condition, subject)
        })?;
        self.each::<Remark>(|remark, _| self.text(remark.text))?;
        self.each::<Round>(|r, _| {
            self.kind(r.piece) && usize::from(r.first) + usize::from(r.steps) <= self.pack.steps()
        })?;
        self.each::<Sentence>(|s, _| {
            self.state(s.state) && self.text(s.text) && self.text(s.source) && s.strength <= 1000
        })
    }
}

fn texts(pack: &Pack<'_>) -> Result<(), OpenError> {
    let offsets = pack.section(Section::Texts);
    let mut last = 0;
    for i in 0..=pack.texts() {
        let at = word(offsets, i + 1);
        let whole = pack
            .text_bytes
            .get(last as usize..at as usize)
            .is_some_and(|bytes| core::str::from_utf8(bytes).is_ok());
        if !whole || at < last {
            let row = u32::try_from(i).unwrap_or(0);
            return Err(OpenError::Record(Section::Texts as u8, row));
        }
        last = at;
    }
    Ok(())
}

/// Preorder, and not too deep.
fn tree(pack: &Pack<'_>, place: &Place, row: usize) -> bool {
    let end = usize::from(place.end);
    if end <= row || end > pack.places() {
        return false;
    }
    let mut depth = 1;
    let mut inner = row;
    let mut owner = place.owner;
    while owner != NONE {
        let at = usize::from(owner);
        if at >= inner {
            return false;
        }
        let outer = pack.place(at);
        depth += 1;
        if usize::from(outer.end) < end || depth > MAX_DEPTH {
            return false;
        }
        inner = at;
        owner = outer.owner;
    }
    true
}

/// The fragment is about as many states, and as many kinds of part, as the
/// place has.
fn fragment_fits(pack: &Pack<'_>, place: &Place, row: usize) -> bool {
    let fragment = pack.fragment(usize::from(place.fragment));
    if pack.states_of(row).count() != usize::from(fragment.states)
        || pack.children(row).count() != usize::from(fragment.groups)
        || (place.owner == NONE && (fragment.reads > 0 || fragment.feeds > 0))
    {
        return false;
    }
    let program = pack.program(&fragment);
    let mut table = 0_usize;
    pack.children(row).enumerate().all(|(g, child)| {
        let group = program.group(g);
        let part = pack.fragment(usize::from(pack.place(child).fragment));
        let here = table;
        // Too large for a number is too large for the table, too.
        table = table.saturating_add(group.entries());
        group.reads == part.reads
            && group.feeds == part.feeds
            && usize::from(group.table) == here
            && table <= usize::from(fragment.table)
            && group_is_sound(&group, &fragment)
    }) && table == usize::from(fragment.table)
}

fn group_is_sound(group: &Group, owner: &Fragment) -> bool {
    let caps = group.caps.iter().take(usize::from(group.feeds));
    let mut sources = group.sources.iter().take(usize::from(group.reads));
    caps.into_iter().all(|&cap| cap > 0)
        && sources.all(|&source| {
            source == NONE
                || if source & Group::READ == 0 {
                    source < owner.states
                } else {
                    source & !Group::READ < u16::from(owner.reads)
                }
        })
}

fn fragment(pack: &Pack<'_>, fragment: &Fragment) -> bool {
    let width = usize::from(fragment.reads) + usize::from(fragment.feeds);
    if width > MAX_INTERFACE || fragment.nodes() > 2 * MAX_NODES {
        return false;
    }
    let code = pack.code(fragment);
    if code.len() != fragment.code_words() {
        return false;
    }
    let program = super::Program::new(fragment, code);
    let nodes = fragment.nodes();
    program.constants().all(|bits| {
        let value = f64::from_bits(bits);
        value.is_finite() && value.is_sign_positive()
    }) && (0..fragment.entries()).all(|e| program.output(e) < nodes)
        && program.steps().enumerate().all(|(i, step)| {
            let at = program.first_step() + i;
            step.left < at && step.right < at
        })
}
