//! Which part is meant: from the subject of a sentence up to what it is built
//! into, or down to its own parts.

use crate::message::{Level, Message, Problem};
use crate::model::{HowMany, KindId, PIECE, Placing, Reach};
use crate::resolve::look::{Done, Look, refuse};
use crate::resolve::place::Others;
use crate::span::Span;
use crate::syntax::{Amount, Name, Pointing, Thing};
use crate::words::{a, capital};

/// What a sentence has said so far.
#[derive(Clone, Debug)]
pub struct Scene {
    /// The kind of part the sentence is about.
    pub subject: KindId,
    /// "If", "When" …, for messages.
    pub opening: &'static str,
    /// Whether the subject has been named with "a".
    pub opened: bool,
    /// Kinds of which "any" was said.
    pub any_said: Vec<KindId>,
    /// Kinds of which "has a …" was said.
    pub had: Vec<KindId>,
    /// The parts that were last said to stand somewhere: "the lowest drawer".
    pub placed: Option<(KindId, Placing)>,
}

/// A way from the subject.
#[derive(Clone, Debug, PartialEq)]
pub enum Way {
    /// The subject.
    Own,
    /// What it is built into.
    Up(KindId),
    /// Its parts; several ways only from "a piece".
    Down(Vec<Vec<KindId>>),
}

/// A part or group that a clause speaks of.
#[derive(Clone, Debug, PartialEq)]
pub struct Meant {
    /// Its kind.
    pub kind: KindId,
    /// How it is reached; several only from "a piece".
    pub reach: Vec<Reach>,
    /// Whether a plural was written.
    pub plural: bool,
    /// Where the part itself must stand: "a left runner".
    pub placed: Option<Placing>,
}

/// A part spoken of in the singular: "the runner of its drawer".
#[derive(Clone, Copy)]
struct One<'a> {
    /// The little word before it.
    how: Pointing,
    /// Where it stands among its like.
    place: Option<&'a Name>,
    noun: &'a Name,
    /// What it is said to be part of.
    of: Option<&'a Thing>,
    at: Span,
    /// Whether it stands in a result.
    result: bool,
}

impl Look<'_> {
    /// The way from the subject to a kind.
    pub fn way(&self, subject: KindId, kind: KindId, noun: &Name) -> Done<Way> {
        if self.tree.is_kind_of(subject, kind) || (kind == PIECE && self.tree.is_piece(subject)) {
            return Ok(Way::Own);
        }
        if kind == PIECE || self.tree.can_be_in(subject, kind) {
            return Ok(Way::Up(kind));
        }
        let ways = self.tree.ways(subject, kind);
        match ways.len() {
            0 => Err(Box::new(self.has_not(subject, kind, noun))),
            1 => Ok(Way::Down(ways)),
            _ if subject == PIECE => Ok(Way::Down(ways)),
            _ => Err(Box::new(match self.houses_own(subject, &ways, noun.at) {
                Some((at, holder, new)) => self
                    .second_place(at, (subject, holder), (kind, new))
                    .at_level(Level::Stop),
                None => self.several_ways(subject, kind, &ways, noun.at),
            })),
        }
    }

    /// Of a standard sentence that speaks of parts by a way that was the only one: where
    /// a house says that its subject has such parts itself, what has them too, and what the
    /// house calls them.
    fn houses_own(
        &self,
        subject: KindId,
        ways: &[Vec<KindId>],
        at: Span,
    ) -> Option<(Span, KindId, KindId)> {
        let is_standard = |at: Span| self.files.file(at).is_some_and(|file| file.standard);
        let own = ways.iter().find_map(|way| match way[..] {
            [part] => self.tree.own_member(subject, part),
            _ => None,
        })?;
        let longer = ways.iter().find(|way| way.len() > 1)?;
        let holder = longer.iter().rev().nth(1).copied()?;
        (is_standard(at) && !is_standard(own.at)).then_some((own.at, holder, own.kind))
    }

    /// "A chest of drawers has feet already: its base has."
    #[must_use]
    pub fn second_place(
        &self,
        at: Span,
        (owner, holder): (KindId, KindId),
        (such, new): (KindId, KindId),
    ) -> Message {
        let own_base = format!("{} {}", self.name(owner), self.name(holder));
        Message::new(
            at,
            Problem::SecondPlace {
                owner_cap: &capital(&self.a(owner)),
                plural: self.plural(such),
                holder: self.name(holder),
                holder_cap: &capital(&self.a(holder)),
                new: self.plural(new),
                own_holder: &own_base,
                a_own_holder: &capital(&a(&own_base)),
            },
        )
    }

    /// "This rule is about a drawer, and a drawer has no screw."
    #[must_use]
    pub fn has_not(&self, subject: KindId, kind: KindId, noun: &Name) -> Message {
        let subject_a = self.a(subject);
        let parts = self.parts(subject);
        let owners = self.tree.owners(kind);
        let owner = owners.first().map(|o| self.a(*o));
        Message::new(
            noun.at,
            Problem::HasNoSuchPart {
                subject: &subject_a,
                part: self.name(kind),
                subject_cap: &capital(&subject_a),
                parts: Some(parts.as_str()).filter(|p| !p.is_empty()),
                owner: owner.as_deref(),
                plural: self.plural(kind),
            },
        )
    }

    fn several_ways(
        &self,
        subject: KindId,
        kind: KindId,
        ways: &[Vec<KindId>],
        at: Span,
    ) -> Message {
        let mut places: Vec<&str> = Vec::new();
        for way in ways {
            let owner = way.len().checked_sub(2).map_or(subject, |i| way[i]);
            let many = self.tree.range(subject, &way[..way.len() - 1]).1 > 1;
            let name = if many {
                self.plural(owner)
            } else {
                self.name(owner)
            };
            if !places.contains(&name) {
                places.push(name);
            }
        }
        let plural = self.plural(kind);
        let examples: Vec<String> = places
            .iter()
            .map(|place| format!("\"the {plural} of its {place}\""))
            .collect();
        Message::new(
            at,
            Problem::InSeveralPlaces {
                owner: &capital(&self.a(subject)),
                plural,
                number: &count_word(ways.len()),
                places: &places.join(" and "),
                examples: &examples.join(" or "),
            },
        )
    }

    /// The way to a noun that may have an owner: "the screws of its hinges".
    fn way_of(
        &self,
        scene: &mut Scene,
        noun: &Name,
        of: Option<&Thing>,
        amount: Option<Amount>,
    ) -> Done<(KindId, bool, Way)> {
        let found = self.plain_or_subject(scene, noun)?;
        let Some(owner) = of else {
            let way = self.way(scene.subject, found.0, noun)?;
            return Ok((found.0, found.1, way));
        };
        if let Thing::Many {
            amount: inner, at, ..
        } = owner
        {
            let outer = amount.unwrap_or(Amount::Every);
            let same = *inner == outer
                || (outer == Amount::No && *inner == Amount::Any)
                || (amount.is_none() && matches!(inner, Amount::Every));
            if !same {
                return refuse(*at, Problem::AmountInsideAmount);
            }
        }
        let (owner_kind, _, owner_way) = match owner {
            Thing::It(_) | Thing::There(_) => (scene.subject, false, Way::Own),
            Thing::One { noun, of, how, .. } => {
                if *how == Pointing::A {
                    scene.opened = true;
                }
                self.way_of(scene, noun, of.as_deref(), amount)?
            }
            Thing::Many { noun, of, .. } => self.way_of(scene, noun, of.as_deref(), amount)?,
        };
        let part = found.0;
        match owner_way {
            Way::Own => {
                let way = self.way(owner_kind, part, noun)?;
                Ok((part, found.1, way))
            }
            Way::Down(heads) => {
                let Way::Down(tails) = self.way(owner_kind, part, noun)? else {
                    return Err(Box::new(self.has_not(owner_kind, part, noun)));
                };
                let joined = heads
                    .iter()
                    .flat_map(|head| {
                        tails.iter().map(move |tail| {
                            let mut way = head.clone();
                            way.extend_from_slice(tail);
                            way
                        })
                    })
                    .collect();
                Ok((part, found.1, Way::Down(joined)))
            }
            Way::Up(up) => {
                if part == scene.subject {
                    return Ok((part, found.1, Way::Own));
                }
                match self.way(up, part, noun)? {
                    Way::Up(higher) => Ok((part, found.1, Way::Up(higher))),
                    _ if self.tree.can_be_in(scene.subject, part) => {
                        Ok((part, found.1, Way::Up(part)))
                    }
                    _ => refuse(
                        noun.at,
                        Problem::UpAndDown {
                            subject: &self.a(scene.subject),
                            up: self.name(up),
                            a_up: &self.a(up),
                        },
                    ),
                }
            }
        }
    }

    fn plain_or_subject(&self, scene: &Scene, noun: &Name) -> Done<(KindId, bool)> {
        match self.noun(noun) {
            Ok(found)
                if found.choice.is_some() && (found.kind != scene.subject || scene.opened) =>
            {
                self.plain(noun).map(|f| (f.kind, f.plural))
            }
            Ok(found) => Ok((found.kind, found.plural)),
            Err(message) if message.kind.is_unknown_part() => {
                Err(Box::new(self.unknown_noun(noun, Some(scene.subject))))
            }
            Err(message) => Err(message),
        }
    }

    /// The part or group a clause speaks of.
    pub fn meant(&self, scene: &mut Scene, thing: &Thing, result: bool) -> Done<Meant> {
        match thing {
            Thing::It(_) => Ok(Meant {
                kind: scene.subject,
                reach: vec![Reach::Own],
                plural: false,
                placed: None,
            }),
            Thing::There(at) => refuse(
                *at,
                Problem::Nobodys {
                    plural: "parts",
                    example: None,
                    opening: None,
                    owner: None,
                    count: None,
                },
            ),
            Thing::One {
                how,
                place,
                noun,
                of,
                at,
            } => {
                self.no_place_on_the_way(of.as_deref())?;
                let one = One {
                    how: *how,
                    place: place.as_ref(),
                    noun,
                    of: of.as_deref(),
                    at: *at,
                    result,
                };
                self.meant_one(scene, one)
            }
            Thing::Many {
                amount,
                amount_at,
                place,
                noun,
                of,
                at,
            } => {
                self.no_place_on_the_way(of.as_deref())?;
                if result && !matches!(amount, Amount::Every) {
                    let found = self.plain_or_subject(scene, noun)?;
                    return refuse(
                        *amount_at,
                        Problem::ResultLeftOpen {
                            word: &amount_word(*amount),
                            plural: self.plural(found.0),
                            part: self.name(found.0),
                        },
                    );
                }
                let (kind, plural, way) = self.way_of(scene, noun, of.as_deref(), Some(*amount))?;
                if let Some(other) = place.as_ref().filter(|place| place.text == "other") {
                    let is_every = self.is_every_other(*amount_at, *at);
                    let many = how_many(*amount);
                    return self.others(scene, (kind, other), &way, Others::Many(many, is_every));
                }
                if *amount == Amount::Any {
                    scene.any_said.push(kind);
                }
                let meant = self.meant_many(scene, *amount, (kind, plural), way, thing)?;
                self.placed(scene, meant, place.as_ref())
            }
        }
    }

    fn meant_many(
        &self,
        scene: &Scene,
        amount: Amount,
        (kind, plural): (KindId, bool),
        way: Way,
        thing: &Thing,
    ) -> Done<Meant> {
        let at = thing.at();
        let Way::Down(ways) = way else {
            // "every drawer" about the drawer itself, or "any chest" upwards.
            return match way {
                Way::Own if kind == scene.subject => refuse(
                    at,
                    Problem::AnotherOfTheKind {
                        words: &format!("{} {}", amount_word(amount), self.name(kind)),
                        part: self.name(kind),
                    },
                ),
                Way::Up(up) => Ok(Meant {
                    kind,
                    reach: vec![Reach::Up(up)],
                    plural,
                    placed: None,
                }),
                _ => Ok(Meant {
                    kind,
                    reach: vec![Reach::Own],
                    plural,
                    placed: None,
                }),
            };
        };
        let many = how_many(amount);
        let counted = !matches!(amount, Amount::Any | Amount::Every | Amount::No);
        if counted && (ways.len() > 1 || ways[0].len() > 1) {
            let owner = ways[0]
                .len()
                .checked_sub(2)
                .map_or(scene.subject, |i| ways[0][i]);
            return refuse(
                at,
                Problem::CountedElsewhere {
                    plural: self.plural(kind),
                    owner: &self.a(owner),
                },
            );
        }
        if counted {
            self.can_be_so_of(scene.subject, kind, amount, at)?;
        }
        self.both_of_two(&ways[0], scene.subject, thing)?;
        if amount == Amount::Every && self.tree.range(scene.subject, &ways[0]).0 == 0 {
            let owner = ways[0]
                .len()
                .checked_sub(2)
                .map_or(scene.subject, |i| ways[0][i]);
            self.notes.borrow_mut().push(Message::new(
                at,
                Problem::EveryOfNone {
                    owner: &capital(&self.a(owner)),
                    part: self.name(kind),
                },
            ));
        }
        Ok(Meant {
            kind,
            reach: ways
                .into_iter()
                .map(|path| Reach::down(path, many))
                .collect(),
            plural,
            placed: None,
        })
    }

    /// Refuses a number of members of which something can never be so: of two there may be
    /// one or none that is worn, but never three.
    fn can_be_so_of(&self, owner: KindId, part: KindId, amount: Amount, at: Span) -> Done<()> {
        match amount {
            Amount::FewerThan(n) if n > 0 => Ok(()),
            Amount::AtMost(_) => Ok(()),
            Amount::Exactly(n) => self.can_be_so_many(owner, part, Amount::AtLeast(n), at),
            amount => self.can_be_so_many(owner, part, amount, at),
        }
    }

    /// Refuses "both" of more than two.
    fn both_of_two(&self, way: &[KindId], subject: KindId, thing: &Thing) -> Done<()> {
        let Thing::Many {
            amount: Amount::Every,
            amount_at,
            place: None,
            ..
        } = thing
        else {
            return Ok(());
        };
        let text = self.files.file(*amount_at);
        let text = text.map_or("", |file| file.text.as_str());
        let most = self.tree.range(subject, way).1;
        if most <= 2 || !amount_at.words(text).eq_ignore_ascii_case("both") {
            return Ok(());
        }
        let kind = way.last().copied().unwrap_or(subject);
        refuse(
            *amount_at,
            Problem::BothOfSeveral {
                owner: &capital(&self.a(subject)),
                plural: self.plural(kind),
                part: self.name(kind),
                most,
            },
        )
    }

    /// Refuses a number of members that there can never be.
    pub fn can_be_so_many(
        &self,
        owner: KindId,
        part: KindId,
        amount: Amount,
        at: Span,
    ) -> Done<()> {
        let Some(member) = self.tree.member(owner, part) else {
            return Ok(());
        };
        let can_be = |(least, most): (u32, u32)| match amount {
            Amount::Any => most >= 1,
            Amount::Every => true,
            Amount::No => least == 0,
            Amount::AtLeast(n) => most >= n,
            Amount::AtMost(n) => least <= n,
            Amount::MoreThan(n) => most > n,
            Amount::FewerThan(n) => least < n,
            Amount::Exactly(n) => (least..=most).contains(&n),
        };
        // A kind of it may have other numbers, and parts of several such kinds.
        let number_of = |owner: KindId| {
            let members = self.tree.members(owner).iter();
            let such = members.filter(|member| self.model.is_kind_of(member.kind, part));
            such.fold((0, 0), |(least, most), member| {
                (
                    least + u32::from(member.least),
                    most + u32::from(member.most),
                )
            })
        };
        if self.model.kinds_of(owner).map(number_of).any(can_be) {
            return Ok(());
        }
        let (least, most) = (u32::from(member.least), u32::from(member.most));
        Err(Box::new(
            Message::new(
                at,
                Problem::NumberNeverSo {
                    owner: &self.a(owner),
                    range: &self.range_words(least, most, part),
                    line: &self.line(member.at, at),
                },
            )
            .with_also(member.at),
        ))
    }

    /// "0 to 3 supports".
    #[must_use]
    pub fn range_words(&self, least: u32, most: u32, part: KindId) -> String {
        let name = if most == 1 {
            self.name(part)
        } else {
            self.plural(part)
        };
        if least == most {
            format!("{most} {name}")
        } else {
            format!("{least} to {most} {name}")
        }
    }

    /// The part that "a drawer", "its drawer" or "the same drawer" means.
    fn meant_one(&self, scene: &mut Scene, one: One<'_>) -> Done<Meant> {
        let opened = scene.opened;
        let (kind, plural, way) = self.way_of(scene, one.noun, one.of, None)?;
        if let Some(other) = one.place.filter(|place| place.text == "other") {
            let said = match plural && one.result {
                true => Others::Many(HowMany::Every, false),
                false => Others::The(plural),
            };
            return self.others(scene, (kind, other), &way, said);
        }
        let reach = match way {
            Way::Own => {
                if one.how == Pointing::A && opened && kind == scene.subject {
                    return refuse(
                        one.at,
                        Problem::AnotherOfTheKind {
                            words: &a(self.name(kind)),
                            part: self.name(kind),
                        },
                    );
                }
                scene.opened |= one.how == Pointing::A;
                vec![Reach::Own]
            }
            Way::Up(up) => vec![Reach::Up(up)],
            Way::Down(ways) => {
                let several = ways
                    .iter()
                    .any(|way| self.tree.range(scene.subject, way).1 > 1);
                let many = if !several || self.is_just_one(scene, (kind, &ways), one.place)? {
                    HowMany::The
                } else if one.result && plural {
                    HowMany::Every
                } else {
                    return self.one_of_several(scene, one, kind);
                };
                ways.into_iter()
                    .map(|path| Reach::down(path, many))
                    .collect()
            }
        };
        let meant = Meant {
            kind,
            reach,
            plural,
            placed: None,
        };
        self.placed(scene, meant, one.place)
    }

    /// One part is spoken of where there may be several.
    fn one_of_several<T>(&self, scene: &Scene, one: One<'_>, kind: KindId) -> Done<T> {
        let part = self.name(kind);
        let plural = match one.place {
            Some(place) => &format!("{} {}", place.text, self.plural(kind)),
            None => self.plural(kind),
        };
        let owner = &capital(&self.a(scene.subject));
        let (a_part, word) = (&self.a(kind), &a(&one.noun.text));
        let problem = match (one.result, one.how) {
            (_, Pointing::TheSame) if scene.any_said.contains(&kind) => Problem::SameOfSeveral {
                plural,
                part,
                a_part,
                opening: scene.opening,
                subject: self.name(scene.subject),
            },
            (true, Pointing::A) => Problem::ResultLeftOpen { word, plural, part },
            (true, _) => Problem::SeveralInResult { owner, plural },
            (false, _) => Problem::AnyOrEvery { owner, plural },
        };
        refuse(one.at, problem)
    }
}

/// "two".
#[must_use]
pub fn count_word(count: usize) -> String {
    const WORDS: [&str; 9] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight",
    ];
    WORDS
        .get(count)
        .map_or_else(|| count.to_string(), |w| (*w).to_owned())
}

fn small(number: u32) -> u8 {
    u8::try_from(number).unwrap_or(u8::MAX)
}

fn how_many(amount: Amount) -> HowMany {
    match amount {
        Amount::Any => HowMany::Any,
        Amount::Every => HowMany::Every,
        Amount::No => HowMany::No,
        Amount::AtLeast(n) => HowMany::AtLeast(small(n)),
        Amount::AtMost(n) => HowMany::FewerThan(small(n.saturating_add(1))),
        Amount::MoreThan(n) => HowMany::AtLeast(small(n.saturating_add(1))),
        Amount::FewerThan(n) => HowMany::FewerThan(small(n)),
        Amount::Exactly(n) => HowMany::Exactly(small(n)),
    }
}

/// The words for how many.
#[must_use]
pub fn amount_word(amount: Amount) -> String {
    match amount {
        Amount::Any => "any".to_owned(),
        Amount::Every => "every".to_owned(),
        Amount::No => "no".to_owned(),
        Amount::AtLeast(n) => format!("at least {n}"),
        Amount::AtMost(n) => format!("at most {n}"),
        Amount::MoreThan(n) => format!("more than {n}"),
        Amount::FewerThan(n) => format!("fewer than {n}"),
        Amount::Exactly(n) => n.to_string(),
    }
}
