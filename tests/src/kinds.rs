//! Random house rules with kinds of kinds, and the same rules as somebody would write them
//! who has no kinds: every sentence once for each kind that it speaks of.
//!
//! The second text is worked out here from the guide alone, sentence by sentence, and
//! shares nothing with the reader of the language.

use crate::dice::Dice;

/// A kind of piece or part.
struct Kind {
    name: &'static str,
    plural: &'static str,
    piece: bool,
    general: Option<usize>,
}

const CHEST: usize = 0;
const BUREAU: usize = 1;
const TALL: usize = 2;
const FOOT: usize = 3;
const BRACKET: usize = 4;
const BUN: usize = 5;
const DRAWER: usize = 6;
const SMALL: usize = 7;
const KNOB: usize = 8;
const RING: usize = 9;

/// So many parts of a kind.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Member {
    part: usize,
    least: u8,
    most: u8,
    usual: u8,
}

/// How many of some parts.
#[derive(Clone, Copy)]
enum Many {
    Any,
    Every,
    No,
    AtLeastTwo,
    AtMostOne,
}

/// Whose part a clause is about.
#[derive(Clone)]
enum Whose {
    Own,
    Up(usize),
    Down(Many, Vec<usize>),
}

/// What a clause says.
#[derive(Clone, Copy)]
enum What {
    /// "is dull", or "is not dull".
    Is(&'static str, bool),
    /// "is worn more than so many mm".
    Worn(u8),
    /// "has at least (or at most) so many" of a part.
    Has(bool, u8, usize),
}

#[derive(Clone)]
struct Clause {
    whose: Whose,
    what: What,
}

/// A clause as somebody without kinds says it.
#[derive(Clone, PartialEq)]
enum Flat {
    Known(bool),
    Text(String),
    Any(Vec<Flat>),
    All(Vec<Flat>),
}

/// House rules with kinds, and the same without.
pub struct Kinds {
    kinds: Vec<Kind>,
    own: Vec<(usize, Member)>,
    left_out: Vec<(usize, usize)>,
    with: Vec<String>,
    without: String,
    all_written_out: bool,
}

/// The two texts.
pub struct Texts {
    /// With kinds.
    pub with: String,
    /// Without.
    pub without: String,
    /// Whether no sentence was left out of the second text because it can never hold of
    /// some kind. What such a sentence reads can be said of that kind where there are kinds.
    pub all_written_out: bool,
    /// The pieces that there are.
    pub pieces: Vec<&'static str>,
}

/// Draws rules. The sentences of the text with kinds stand in any order.
#[must_use]
pub fn draw(seed: u64) -> Texts {
    let mut dice = Dice::new(seed);
    let mut all = Kinds::begin(&mut dice);
    all.makeup(&mut dice);
    all.words(&mut dice);
    for _ in 0..3 + dice.below(5) {
        all.rule(&mut dice);
    }
    all.other_sentences(&mut dice);
    all.work(&mut dice);
    all.rounds(&mut dice);
    let mut order: Vec<(u64, String)> = all.with.into_iter().map(|s| (dice.roll(), s)).collect();
    order.sort();
    let with: Vec<String> = order.into_iter().map(|(_, sentence)| sentence).collect();
    Texts {
        with: with.join("\n"),
        without: all.without,
        all_written_out: all.all_written_out,
        pieces: all
            .kinds
            .iter()
            .filter(|k| k.piece)
            .map(|k| k.name)
            .collect(),
    }
}

impl Kinds {
    fn begin(dice: &mut Dice) -> Self {
        let kind = |name, plural, piece, general| Kind {
            name,
            plural,
            piece,
            general,
        };
        let bun_of = if dice.chance(50) { FOOT } else { BRACKET };
        let tall_of = if dice.chance(60) { BUREAU } else { CHEST };
        let kinds = vec![
            kind("chest", "chests", true, None),
            kind("bureau", "bureaus", true, Some(CHEST)),
            kind("tall bureau", "tall bureaus", true, Some(tall_of)),
            kind("foot", "feet", false, None),
            kind("bracket foot", "bracket feet", false, Some(FOOT)),
            kind("bun foot", "bun feet", false, Some(bun_of)),
            kind("drawer", "drawers", false, None),
            kind("small drawer", "small drawers", false, Some(DRAWER)),
            kind("knob", "knobs", false, None),
            kind("ring knob", "ring knobs", false, Some(KNOB)),
        ];
        let head = "\
House rules for kinds, version 1.
Pieces: chest, bureau, tall bureau.
Parts: foot (plural feet), bracket foot (plural bracket feet), bun foot (plural bun feet), drawer, small drawer, knob, ring knob.
Unless we say otherwise, a sign is there on its own: in 1 of 10 cases.
Unless we say otherwise, a fault is there on its own: in 2 of 10 cases.
";
        let mut with: Vec<String> = head.lines().map(str::to_owned).collect();
        for kind in &kinds {
            if let Some(general) = kind.general {
                let (name, general) = (kind.name, kinds[general].name);
                with.push(format!("A {name} is a kind of {general}."));
            }
        }
        Self {
            kinds,
            own: Vec::new(),
            left_out: Vec::new(),
            with,
            without: head.to_owned(),
            all_written_out: true,
        }
    }

    fn name(&self, kind: usize) -> &'static str {
        self.kinds[kind].name
    }

    fn lineage(&self, kind: usize) -> Vec<usize> {
        let mut all = vec![kind];
        while let Some(general) = self.kinds[all[all.len() - 1]].general {
            all.push(general);
        }
        all
    }

    fn is(&self, kind: usize, general: usize) -> bool {
        self.lineage(kind).contains(&general)
    }

    fn all_of(&self, general: usize) -> Vec<usize> {
        let kinds = 0..self.kinds.len();
        kinds.filter(|&kind| self.is(kind, general)).collect()
    }

    /// What a kind has: what it is a kind of has, but for what its own takes the place of,
    /// and what it leaves out.
    fn members(&self, kind: usize) -> Vec<Member> {
        let own = self.own.iter().filter(|(owner, _)| *owner == kind);
        let own: Vec<Member> = own.map(|(_, member)| *member).collect();
        let Some(general) = self.kinds[kind].general else {
            return own;
        };
        let mut all: Vec<Member> = Vec::new();
        for inherited in self.members(general) {
            let mut left_out = self.left_out.iter();
            if left_out.any(|&(owner, part)| owner == kind && self.is(inherited.part, part)) {
                continue;
            }
            let kin =
                |m: &&Member| self.is(m.part, inherited.part) || self.is(inherited.part, m.part);
            let instead: Vec<Member> = own.iter().filter(kin).copied().collect();
            if instead.is_empty() {
                all.push(inherited);
            }
            all.extend(instead);
        }
        all.extend(own);
        let mut once: Vec<Member> = Vec::new();
        for member in all {
            if !once.iter().any(|m| m.part == member.part) {
                once.push(member);
            }
        }
        once
    }

    fn within(&self, part: usize, owner: usize) -> bool {
        let members = self.members(owner);
        let mut members = members.iter();
        members.any(|m| m.part == part || self.within(part, m.part))
    }

    fn has(&mut self, owner: usize, part: usize, (least, most, usual): (u8, u8, u8)) {
        let member = Member {
            part,
            least,
            most,
            usual,
        };
        self.own.push((owner, member));
        let text = self.has_text(owner, &member);
        self.with.push(text);
    }

    fn has_text(&self, owner: usize, member: &Member) -> String {
        let (name, plural) = (self.name(owner), self.kinds[member.part].plural);
        let Member {
            least, most, usual, ..
        } = member;
        format!("A {name} has {least} to {most} {plural} (usually {usual}).")
    }

    fn makeup(&mut self, dice: &mut Dice) {
        self.has(CHEST, FOOT, (2, 2, 2));
        self.has(CHEST, DRAWER, (1, 3, 2));
        self.has(DRAWER, KNOB, (0, 2, 1));
        match dice.below(4) {
            0 => {}
            1 => self.has(BUREAU, BRACKET, (2, 2, 2)),
            2 => {
                self.has(BUREAU, BRACKET, (1, 2, 2));
                self.has(BUREAU, FOOT, (1, 2, 1));
            }
            _ => {
                self.left_out.push((BUREAU, FOOT));
                self.with.push("A bureau has no feet.".to_owned());
            }
        }
        match dice.below(4) {
            0 => {}
            1 => self.has(BUREAU, SMALL, (1, 2, 1)),
            2 => self.has(BUREAU, DRAWER, (1, 2, 1)),
            _ => {
                self.has(BUREAU, SMALL, (1, 2, 1));
                self.has(BUREAU, DRAWER, (1, 2, 2));
            }
        }
        match dice.below(3) {
            0 => {}
            1 => self.has(TALL, BUN, (1, 2, 2)),
            _ => self.has(TALL, SMALL, (1, 1, 1)),
        }
        match dice.below(3) {
            0 => {}
            1 => self.has(SMALL, RING, (1, 2, 1)),
            _ => {
                self.left_out.push((SMALL, KNOB));
                self.with.push("A small drawer has no knob.".to_owned());
            }
        }
        for kind in 0..self.kinds.len() {
            for member in self.members(kind) {
                let text = self.has_text(kind, &member);
                self.without.push_str(&format!("{text}\n"));
            }
        }
    }

    /// Says something of a kind in the one text, and of every kind of it in the other.
    /// `{}` stands for the kind.
    fn say_of(&mut self, kind: usize, sentence: &str) {
        self.with.push(sentence.replace("{}", self.name(kind)));
        for kind in self.all_of(kind) {
            self.without
                .push_str(&sentence.replace("{}", self.name(kind)));
            self.without.push('\n');
        }
    }

    /// A fault, which a special kind may have at another rate: what it says no more of stays.
    fn say_weak(&mut self, dice: &mut Dice, kind: usize) {
        let special = self.all_of(kind).into_iter().filter(|&one| one != kind);
        let again: Vec<usize> = special.filter(|_| dice.chance(40)).collect();
        let said = "A {} may be weak without showing it.";
        self.with
            .push(format!("{said}  Missed: 2 hours, risk 3").replace("{}", self.name(kind)));
        for &one in &again {
            let text = format!("{said}  On its own: in {} of 10 cases", 3 + one % 3);
            self.with.push(text.replace("{}", self.name(one)));
        }
        for one in self.all_of(kind) {
            let nearest = self.lineage(one).into_iter().find(|at| again.contains(at));
            let own = nearest.map_or_else(String::new, |at| {
                format!("  On its own: in {} of 10 cases", 3 + at % 3)
            });
            let text = format!("{said}{own}  Missed: 2 hours, risk 3\n");
            self.without.push_str(&text.replace("{}", self.name(one)));
        }
    }

    fn words(&mut self, dice: &mut Dice) {
        for kind in [CHEST, FOOT, DRAWER, KNOB] {
            self.say_of(kind, "You can see whether a {} is dull.  Takes: 1 minute");
            self.say_of(
                kind,
                "You can hear whether a {} is loose.  Takes: 2 minutes  Slip: 3 in 100",
            );
            self.say_weak(dice, kind);
        }
        self.say_of(
            FOOT,
            "You can measure how much a {} is worn, in mm, from 0 to 20.  Reads to: 0.5 mm",
        );
        self.say_of(
            FOOT,
            "A {} counts as grooved when it is worn at least 8 mm.",
        );
        self.say_of(
            DRAWER,
            "You can see which lining a {} has: pine, oak or cedar.",
        );
        self.say_of(
            BRACKET,
            "You can see whether a {} is chipped.  Takes: 1 minute",
        );
        self.say_of(SMALL, "A {} may be split without showing it.");
        if dice.chance(50) {
            self.say_of(BUREAU, "You can ask whether a {} is inky.");
        } else {
            self.say_of(BUREAU, "A {} may be inky without showing it.");
        }
        // What there are more or fewer of is counted.
        for (owner, part) in [(CHEST, FOOT), (CHEST, DRAWER), (DRAWER, KNOB)] {
            let said = (owner, part);
            let (name, plural) = (self.name(owner), self.kinds[part].plural);
            self.with
                .push(format!("You can count the {plural} of a {name}."));
            for owner in self.all_of(owner) {
                for member in self.members(owner) {
                    let is_said = (owner, member.part) == said;
                    if self.is(member.part, part) && (is_said || member.least < member.most) {
                        let (name, plural) = (self.name(owner), self.kinds[member.part].plural);
                        let text = format!("You can count the {plural} of a {name}.\n");
                        self.without.push_str(&text);
                    }
                }
            }
        }
    }

    /// What may be a condition of a rule about a part of this kind: nothing that the rules
    /// lead to.
    fn cause(&self, dice: &mut Dice, kind: usize) -> What {
        let base = self.lineage(kind)[self.lineage(kind).len() - 1];
        let mut all = vec![What::Is("weak", true), What::Is("weak", false)];
        match base {
            FOOT => all.extend([What::Worn(4), What::Is("grooved", true)]),
            DRAWER => {
                let n = 1 + u8::from(dice.chance(50));
                let has = What::Has(dice.chance(50), n, KNOB);
                all.extend([What::Is("oak", true), What::Is("oak", false), has]);
            }
            CHEST => {
                let n = 2 + u8::from(dice.chance(30));
                all.push(What::Has(true, n, DRAWER));
                all.push(What::Has(false, 2, DRAWER));
            }
            _ => {}
        }
        *dice.pick(&all)
    }

    fn clause(&self, dice: &mut Dice, subject: usize) -> Clause {
        let base = self.lineage(subject)[self.lineage(subject).len() - 1];
        let many = *dice.pick(&[
            Many::Any,
            Many::Every,
            Many::No,
            Many::AtLeastTwo,
            Many::AtMostOne,
        ]);
        let some = *dice.pick(&[Many::Any, Many::Every, Many::No]);
        // Words that every kind of the subject's own parts goes by.
        let (whose, kind) = match (base, dice.below(3)) {
            (CHEST, 0) if subject == CHEST => (Whose::Down(Many::Any, vec![FOOT]), FOOT),
            (CHEST, 1) => {
                // "At most one" may not be said of what there are always more of.
                let drawers = self.members(subject).into_iter();
                let drawers = drawers.filter(|m| self.is(m.part, DRAWER));
                let (least, most) = drawers.fold((0, 0), |(l, m), d| (l + d.least, m + d.most));
                let many = match many {
                    Many::AtMostOne if least > 1 => Many::Any,
                    Many::AtLeastTwo if most < 2 => Many::Any,
                    other => other,
                };
                (Whose::Down(many, vec![DRAWER]), DRAWER)
            }
            (CHEST, _) if subject == CHEST => (Whose::Down(some, vec![DRAWER, KNOB]), KNOB),
            (DRAWER, 0) if subject == DRAWER => (Whose::Down(some, vec![KNOB]), KNOB),
            (DRAWER | FOOT, 1) => (Whose::Up(CHEST), CHEST),
            (KNOB, 0) => (Whose::Up(DRAWER), DRAWER),
            (KNOB, 1) => (Whose::Up(CHEST), CHEST),
            _ => (Whose::Own, subject),
        };
        let mut what = self.cause(dice, kind);
        // "No drawer is not weak" is refused.
        if let (Whose::Down(Many::No | Many::AtMostOne, _), What::Is(word, false)) = (&whose, what)
        {
            what = What::Is(word, true);
        }
        // Numbers of parts are asked of the subject alone, where they can be so.
        if let What::Has(more, n, part) = what {
            let such = self
                .members(subject)
                .into_iter()
                .filter(|m| self.is(m.part, part));
            let (least, most) = such.fold((0, 0), |(l, m), d| (l + d.least, m + d.most));
            let can_be = if more { n <= most } else { least <= n };
            if !matches!(whose, Whose::Own) || most == 0 || !can_be {
                what = What::Is("weak", true);
            }
        }
        Clause { whose, what }
    }

    fn said(&self, what: What) -> String {
        match what {
            What::Is(word, true) => format!("is {word}"),
            What::Is(word, false) => format!("is not {word}"),
            What::Worn(mm) => format!("is worn more than {mm} mm"),
            What::Has(true, n, part) => format!("has at least {n} {}", self.kinds[part].plural),
            What::Has(false, n, part) => format!("has at most {n} {}", self.kinds[part].plural),
        }
    }

    fn text(&self, clause: &Clause) -> String {
        let said = self.said(clause.what);
        match &clause.whose {
            Whose::Own => format!("it {said}"),
            Whose::Up(owner) => format!("its {} {said}", self.name(*owner)),
            Whose::Down(many, path) => {
                let (word, is_many) = match many {
                    Many::Any => ("any", false),
                    Many::Every => ("every", false),
                    Many::No => ("no", false),
                    Many::AtLeastTwo => ("at least two", true),
                    Many::AtMostOne => ("at most 1", true),
                };
                match path[..] {
                    [outer, inner] => {
                        let (outer, inner) = (&self.kinds[outer], &self.kinds[inner]);
                        format!(
                            "{word} of the {} of its {} {said}",
                            inner.plural, outer.plural
                        )
                    }
                    [part] if is_many => format!("{word} {} {said}", self.kinds[part].plural),
                    [part] => format!("{word} {} {said}", self.name(part)),
                    _ => String::new(),
                }
            }
        }
    }

    /// The paths down from a kind that words for them stand for.
    fn paths(&self, from: usize, path: &[usize]) -> Vec<Vec<Member>> {
        let Some((&step, rest)) = path.split_first() else {
            return vec![Vec::new()];
        };
        let such = self
            .members(from)
            .into_iter()
            .filter(|m| self.is(m.part, step));
        such.flat_map(|member| {
            let rest = self.paths(member.part, rest).into_iter();
            rest.map(move |way| [vec![member], way].concat())
        })
        .collect()
    }

    fn flat(&self, subject: usize, clause: &Clause) -> Flat {
        let text = |whose: Whose| {
            Flat::Text(self.text(&Clause {
                whose,
                what: clause.what,
            }))
        };
        match &clause.whose {
            Whose::Own => self.flat_own(subject, clause.what),
            Whose::Up(owner) => {
                let owners = self.all_of(*owner).into_iter();
                let owners = owners.filter(|&owner| self.within(subject, owner));
                Flat::Any(owners.map(|owner| text(Whose::Up(owner))).collect())
            }
            Whose::Down(many, path) => {
                let ways = self.paths(subject, path);
                let words = |way: &[Member]| -> Vec<usize> {
                    way.iter().map(|member| member.part).collect()
                };
                let each = |many: Many| -> Vec<Flat> {
                    let ways = ways.iter();
                    ways.map(|way| text(Whose::Down(many, words(way))))
                        .collect()
                };
                let two = |way: &[Member]| match way[0].most {
                    0 | 1 => Flat::Known(false),
                    _ => text(Whose::Down(Many::AtLeastTwo, words(way))),
                };
                let not_two = |way: &[Member]| match way[0] {
                    Member { most: 0 | 1, .. } => Flat::Known(true),
                    // (The language has no other word for it.)
                    _ => text(Whose::Down(Many::AtMostOne, words(way))),
                };
                let one = |way: &[Member]| text(Whose::Down(Many::Any, words(way)));
                let none = |way: &[Member]| text(Whose::Down(Many::No, words(way)));
                match many {
                    Many::Any => Flat::Any(each(*many)),
                    Many::Every | Many::No => Flat::All(each(*many)),
                    Many::AtLeastTwo => {
                        let mut all: Vec<Flat> = ways.iter().map(|way| two(way)).collect();
                        for (i, way) in ways.iter().enumerate() {
                            let others = ways.iter().skip(i + 1);
                            all.extend(others.map(|w| Flat::All(vec![one(way), one(w)])));
                        }
                        Flat::Any(all)
                    }
                    Many::AtMostOne => {
                        let mut all: Vec<Flat> = ways.iter().map(|way| not_two(way)).collect();
                        for (i, way) in ways.iter().enumerate() {
                            let others = ways.iter().skip(i + 1);
                            all.extend(others.map(|w| Flat::Any(vec![none(way), none(w)])));
                        }
                        Flat::All(all)
                    }
                }
            }
        }
    }

    /// What is said of the subject itself; numbers of parts of several kinds are added up.
    fn flat_own(&self, subject: usize, what: What) -> Flat {
        let said = |what: What| {
            Flat::Text(self.text(&Clause {
                whose: Whose::Own,
                what,
            }))
        };
        let What::Has(more, n, part) = what else {
            return said(what);
        };
        let such = self
            .members(subject)
            .into_iter()
            .filter(|m| self.is(m.part, part));
        let such: Vec<Member> = such.collect();
        let at_least = |member: &Member, n: u8| match member {
            m if n <= m.least => Flat::Known(true),
            m if n > m.most => Flat::Known(false),
            m => said(What::Has(true, n, m.part)),
        };
        let at_most = |member: &Member, n: u8| match member {
            m if n >= m.most => Flat::Known(true),
            m if n < m.least => Flat::Known(false),
            m => said(What::Has(false, n, m.part)),
        };
        match (more, &such[..]) {
            (true, []) => Flat::Known(n == 0),
            (false, []) => Flat::Known(true),
            (true, [m]) => at_least(m, n),
            (false, [m]) => at_most(m, n),
            (true, [a, b, ..]) => Flat::Any(
                (0..=n)
                    .map(|some| Flat::All(vec![at_least(a, some), at_least(b, n - some)]))
                    .collect(),
            ),
            (false, [a, b, ..]) => Flat::Any(
                (0..=n)
                    .map(|some| Flat::All(vec![at_most(a, some), at_most(b, n - some)]))
                    .collect(),
            ),
        }
    }

    fn conditions(&self, dice: &mut Dice, subject: usize) -> Vec<Clause> {
        let count = 1 + dice.below(2);
        (0..count).map(|_| self.clause(dice, subject)).collect()
    }

    /// A sentence about a kind with conditions: `head` and `tail` around the list, with
    /// `{}` for the kind. `tails` gives what follows for each kind, with nothing for no
    /// sentence.
    fn with_conditions(
        &mut self,
        head: &str,
        subject: usize,
        conditions: &[Clause],
        tail: &str,
        tails: impl Fn(&Self, usize) -> Vec<String>,
    ) {
        let rows: Vec<String> = conditions.iter().map(|c| self.text(c)).collect();
        let name = self.name(subject);
        let head = |name: &str| head.replace("{}", name);
        let text = format!(
            "{}\n    - {}\n    {tail}",
            head(name),
            rows.join("\n    - ")
        );
        self.with.push(text);
        for kind in self.all_of(subject) {
            let flat = conditions.iter().map(|c| self.flat(kind, c)).collect();
            let flat = simple(Flat::All(flat));
            let rows = match &flat {
                Flat::Known(false) => {
                    self.all_written_out = false;
                    continue;
                }
                // What is always so: it is dull or it is not.
                Flat::Known(true) => {
                    "    - any of these is true:\n        - it is weak\n        - it is not weak\n"
                        .to_owned()
                }
                Flat::All(all) => all.iter().map(|one| rows_of(one, 4)).collect(),
                other => rows_of(other, 4),
            };
            for tail in tails(self, kind) {
                let text = format!("{}\n{rows}    {tail}\n", head(self.name(kind)));
                self.without.push_str(&text);
            }
        }
    }

    /// Some kind of part that a sentence may be about.
    fn subject(&self, dice: &mut Dice) -> usize {
        let all = [
            CHEST, CHEST, FOOT, FOOT, DRAWER, DRAWER, KNOB, BUREAU, BRACKET, SMALL,
        ];
        let stands = |kind: usize| {
            let mut pieces = [CHEST, BUREAU, TALL].into_iter();
            pieces.any(|piece| piece == kind || self.within(kind, piece))
        };
        let all: Vec<usize> = all.into_iter().filter(|&kind| stands(kind)).collect();
        *dice.pick(&all)
    }

    fn rule(&mut self, dice: &mut Dice) {
        let subject = self.subject(dice);
        let conditions = self.conditions(dice, subject);
        let base = self.lineage(subject)[self.lineage(subject).len() - 1];
        let often = *dice.pick(&["usually", "often", "sometimes", "always"]);
        let word = *dice.pick(&["dull", "loose"]);
        // Own, up or down; each kind of part with a result of its own.
        let (whose, of) = match (base, dice.below(4)) {
            (CHEST, 0) if subject == CHEST => ("its drawers are".to_owned(), Some((false, DRAWER))),
            (FOOT | DRAWER, 1) => ("its chest is".to_owned(), Some((true, CHEST))),
            (KNOB, 2) => ("its drawer is".to_owned(), Some((true, DRAWER))),
            _ => ("it is".to_owned(), None),
        };
        let end = format!("{often} {word}.\n    From: house");
        let tail = format!("then {whose} {end}");
        self.with_conditions(
            "If all of these are true of a {}:",
            subject,
            &conditions,
            &tail,
            |all, kind| match of {
                None => vec![tail.clone()],
                Some((true, owner)) => {
                    let owners = all.all_of(owner).into_iter();
                    let owners = owners.filter(|&owner| all.within(kind, owner));
                    let tail = |owner| format!("then its {} is {end}", all.name(owner));
                    owners.map(tail).collect()
                }
                Some((false, part)) => {
                    let ways = all.paths(kind, &[part]).into_iter();
                    let tail = |way: Vec<Member>| {
                        let plural = all.kinds[way[0].part].plural;
                        format!("then its {plural} are {end}")
                    };
                    ways.map(tail).collect()
                }
            },
        );
    }

    fn other_sentences(&mut self, dice: &mut Dice) {
        if dice.chance(40) {
            let kind = *dice.pick(&[FOOT, DRAWER, KNOB, BRACKET]);
            self.say_of(kind, "You can hear whether a {} is creaking.");
            self.say_of(
                kind,
                "If a {} is creaking, that often means it is weak.  From: house",
            );
        }
        if dice.chance(50) {
            // Of a word that rules lead to, by one that nothing leads to.
            let (kind, when) = *dice.pick(&[
                (DRAWER, "it is not oak"),
                (FOOT, "it is worn more than 3 mm"),
            ]);
            self.say_of(
                kind,
                &format!("A {{}} can be dull only if {when}.  From: house"),
            );
        }
        if dice.chance(70) {
            let kind = *dice.pick(&[CHEST, FOOT, DRAWER, BRACKET]);
            let evidence = *dice.pick(&["weak", "fair", "strong"]);
            self.say_of(
                kind,
                &format!("A {{}} that is dull is not earlier than 1830.  From: house  Evidence: {evidence}"),
            );
        }
        if dice.chance(50) {
            self.with
                .push("A knob that is loose is later than its drawer.  From: house".to_owned());
            for knob in self.all_of(KNOB) {
                for drawer in self.all_of(DRAWER) {
                    if self.members(drawer).iter().any(|m| m.part == knob) {
                        let (knob, drawer) = (self.name(knob), self.name(drawer));
                        self.without.push_str(&format!(
                            "A {knob} that is loose is later than its {drawer}.  From: house\n"
                        ));
                    }
                }
            }
        }
    }

    fn work(&mut self, dice: &mut Dice) {
        let add = |all: &mut Self, sentence: String| {
            all.without.push_str(&format!("{sentence}\n"));
            all.with.push(sentence);
        };
        for job in ["mend it", "wax it", "turn it"] {
            let takes = format!("Job: {job}.  Takes: 1 to 3 hours");
            if job == "mend it" {
                let kind = *dice.pick(&[FOOT, DRAWER]);
                let mends = |kind: usize| format!("a {} is weak", self.name(kind));
                let all: Vec<String> = self.all_of(kind).into_iter().map(mends).collect();
                let with = format!("{takes}  Mends: a {} is weak", self.name(kind));
                let without = format!("{takes}  Mends: {}\n", all.join(", "));
                self.with.push(with);
                self.without.push_str(&without);
            } else {
                add(self, takes);
            }
        }
        add(
            self,
            "Always mend it before you wax it, because it is so.  From: house".to_owned(),
        );
        for job in ["mend it", "wax it", "turn it"] {
            let subject = self.subject(dice);
            let sure = *dice.pick(&["possibly ", "probably "]);
            let mut conditions = self.conditions(dice, subject);
            conditions.retain(|c| !matches!(c.what, What::Is("weak", _)));
            conditions.push(Clause {
                whose: Whose::Own,
                what: What::Is("dull", true),
            });
            let rows = vec![Clause {
                whose: Whose::Own,
                what: What::Is(
                    if sure == "possibly " {
                        "possibly weak"
                    } else {
                        "probably weak"
                    },
                    true,
                ),
            }];
            let conditions = if dice.chance(50) { conditions } else { rows };
            let tail = format!("then plan to {job}.\n    From: house");
            let again = tail.clone();
            self.with_conditions(
                "When all of these are true of a {}:",
                subject,
                &conditions,
                &tail,
                |_, _| vec![again.clone()],
            );
        }
        let subject = self.subject(dice);
        self.say_of(
            subject,
            "Take care when a {} is loose: \"Mind it.\"  From: house",
        );
        self.say_of(
            FOOT,
            "Depending on how much a {} is worn:\n    up to 2 mm: nothing\n    more: plan to wax it\n    From: house",
        );
    }

    fn rounds(&mut self, dice: &mut Dice) {
        let own_round = dice.chance(30);
        let pieces: &[usize] = if own_round { &[CHEST, TALL] } else { &[CHEST] };
        let questions = [
            (CHEST, "hear whether the {} is loose"),
            (DRAWER, "see whether each {} is dull"),
            (KNOB, "hear whether each {} is loose"),
            (FOOT, "measure how much each {} is worn"),
        ];
        for (at, &piece) in pieces.iter().enumerate() {
            let mut with = format!("To look over a {}:", self.name(piece));
            let takes = questions.iter().skip(at);
            for (number, (kind, question)) in takes.clone().enumerate() {
                let name = if *kind == CHEST { piece } else { *kind };
                // A round is only read if the piece has such parts.
                let such = self.all_of(*kind).into_iter();
                let mut such = such.filter(|&part| part == piece || self.within(part, piece));
                if such.next().is_some() || *kind == CHEST {
                    with.push_str(&format!(
                        "\n    {}. {}",
                        number + 1,
                        question.replace("{}", self.name(name))
                    ));
                }
            }
            self.with.push(with);
        }
    }
}

/// With what is known worked out.
fn simple(flat: Flat) -> Flat {
    let (all, parts) = match flat {
        Flat::All(parts) => (true, parts),
        Flat::Any(parts) => (false, parts),
        other => return other,
    };
    let mut open: Vec<Flat> = Vec::new();
    for part in parts.into_iter().map(simple) {
        match part {
            Flat::Known(known) if known == all => {}
            Flat::Known(known) => return Flat::Known(known),
            other => open.push(other),
        }
    }
    match open.len() {
        0 => Flat::Known(all),
        1 => open.remove(0),
        _ if all => Flat::All(open),
        _ => Flat::Any(open),
    }
}

/// The rows of a list.
fn rows_of(flat: &Flat, indent: usize) -> String {
    let margin = " ".repeat(indent);
    let (head, parts) = match flat {
        Flat::Text(text) => return format!("{margin}- {text}\n"),
        Flat::Known(_) => return String::new(),
        Flat::Any(parts) => ("any of these is true:", parts),
        Flat::All(parts) => ("all of these are true:", parts),
    };
    let rows: String = parts.iter().map(|part| rows_of(part, indent + 4)).collect();
    format!("{margin}- {head}\n{rows}")
}
