//! Where a part stands among its like: "its left runner", "the lowest drawer", "any other
//! drawer".

use tellmark_core::pack::condition::Among;

use crate::entry::{Entry, Opener};
use crate::message::Problem;
use crate::model::{
    Asks, CountedFrom, Disturbs, HowMany, HowOften, KindId, Member, Model, Placing, Reach, Sense,
    Sign, SignId, Thousandths, Ticks, Unit, WorkedOut, Working,
};
use crate::resolve::Reader;
use crate::resolve::look::{Done, Look, refuse};
use crate::resolve::reach::{Meant, Scene, Way};
use crate::span::Span;
use crate::syntax::{Name, Thing};
use crate::vocab::{join, key};
use crate::words::{capital, list};

/// "third": the numbers that have a word.
const ORDINALS: [&str; 12] = [
    "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth",
    "eleventh", "twelfth",
];

/// A number among like parts: how it is counted, and the number.
type Number = (Working, u8);

/// How others are spoken of.
pub(super) enum Others {
    /// "the other drawer", "the other drawers": whether it is a plural.
    The(bool),
    /// "any other drawer"; whether it says "every other", which may be each second one.
    Many(HowMany, bool),
}

/// Why words say no place.
enum NoPlace {
    /// Nobody says from where these parts are counted.
    NotCountedFrom,
    /// There is none that is called so, or not so many.
    None,
}

impl Reader<'_> {
    /// Gives each kind of part whose places the sentences speak of a sign for its number:
    /// from there on rules read it as they read any measure.
    pub(super) fn place_signs(&mut self, entries: &[Entry]) {
        for entry in entries {
            if !can_speak_of_places(entry.opener) {
                continue;
            }
            let tokens = &entry.sentence;
            for at in 0..tokens.len() {
                let place = self.vocab.place_length(&tokens[at..]);
                if place == 0 || tokens[at].is("other") {
                    continue;
                }
                let noun = &tokens[at + place..];
                let noun = join(&noun[..self.vocab.noun_length(noun)]);
                let nouns = self.vocab.nouns.get(&noun).iter();
                let kinds: Vec<KindId> = nouns.map(|noun| noun.kind).collect();
                for kind in kinds {
                    self.add_place_signs(kind, entry);
                }
            }
        }
    }

    fn add_place_signs(&mut self, kind: KindId, entry: &Entry) {
        let Some(kind) = self.model.lineage(kind).last() else {
            return;
        };
        let is_known = |sign: &Sign| sign.kind == kind && sign.place().is_some();
        if self.model.signs.iter().any(is_known) {
            return;
        }
        let members = self.model.kinds.iter().flat_map(|kind| &kind.members);
        let such = members.filter(|member| self.model.is_kind_of(member.kind, kind));
        let most = such.map(|member| member.most).max().unwrap_or(1);
        for working in [Working::Number, Working::FromLast] {
            if u16::try_from(self.model.signs.len()).is_err() {
                self.too_many("signs", entry.at);
                return;
            }
            self.model
                .signs
                .push(place_sign(kind, working, most, entry));
        }
    }
}

/// Whether such a sentence has conditions, or a result.
fn can_speak_of_places(opener: Opener) -> bool {
    matches!(
        opener,
        Opener::If
            | Opener::Plan
            | Opener::StandIn
            | Opener::Ladder
            | Opener::Exclusion
            | Opener::Caution
            | Opener::Tell
            | Opener::Round
            | Opener::OnlyIf
            | Opener::Dating
            | Opener::Relative
            | Opener::Trace
    )
}

/// Nobody looks for it, and how often it is so makes no difference: it is always known.
fn place_sign(kind: KindId, working: Working, most: u8, entry: &Entry) -> Sign {
    Sign {
        kind,
        sense: Sense::Count,
        asks: Asks::HowMuch {
            word: String::new(),
            phrase: String::new(),
            unit: Unit::Percent,
            least: 1,
            most: Ticks::from(most).max(2),
            gauge: 0,
        },
        ask: None,
        how: None,
        takes: None,
        slip: Thousandths(0),
        disturbs: Disturbs::Nothing,
        on_its_own: Some(HowOften {
            word: None,
            cases: Some((1, 2)),
            chance: Thousandths(500),
        }),
        usually: None,
        in_order: None,
        worked: Some(WorkedOut {
            working,
            of: Vec::new(),
            handbook: None,
        }),
        source: None,
        at: entry.at,
    }
}

impl Look<'_> {
    /// Where parts of a kind stand, in one owner or in any.
    pub(super) fn placing(
        &self,
        owner: Option<KindId>,
        kind: KindId,
        place: &Name,
    ) -> Done<Placing> {
        let owners = owner.map_or_else(|| self.tree.owners(kind), |owner| vec![owner]);
        let mut found: Option<Vec<Number>> = None;
        let mut problem = None;
        let mut differ = false;
        for &owner in &owners {
            let member = self.one_member(owner, kind, place)?;
            match numbers(member, &place.text) {
                Ok(numbers) => {
                    differ |= found.as_ref().is_some_and(|found| *found != numbers);
                    found = Some(numbers);
                }
                Err(why) => problem = Some((owner, member, why)),
            }
        }
        match (found, problem) {
            (Some(_), _) if differ => {
                let owners: Vec<String> = owners.iter().map(|&owner| self.a(owner)).collect();
                refuse(
                    place.at,
                    Problem::PlaceDiffers {
                        place: &place.text,
                        part: self.name(kind),
                        owners: &list(&owners),
                    },
                )
            }
            (Some(numbers), _) if numbers.iter().any(|&(_, n)| n > Among::MOST) => refuse(
                place.at,
                Problem::NoSuchPlace {
                    words: &place.text,
                    part: self.name(kind),
                    owner: "any piece",
                    names: None,
                    plural: self.plural(kind),
                    most: Some(Among::MOST.into()),
                },
            ),
            (Some(numbers), _) => {
                let count = numbers.len();
                let placing = placing(self.model, kind, numbers, &place.text);
                if placing.at.len() < count {
                    // A place in a sentence of a sort that none was looked for in.
                    let wants = "a part without saying where it stands";
                    return refuse(
                        place.at,
                        Problem::Unreadable {
                            read: None,
                            wants,
                            example: None,
                        },
                    );
                }
                Ok(placing)
            }
            (_, Some((owner, member, why))) => self.no_place(place, owner, member, &why),
            (None, None) => refuse(
                place.at,
                Problem::NoSuchPlace {
                    words: &place.text,
                    part: self.name(kind),
                    owner: "piece",
                    names: None,
                    plural: self.plural(kind),
                    most: None,
                },
            ),
        }
    }

    /// The member that a word stands for; of several kinds, each of which is counted by
    /// itself, the first that has such a place.
    fn one_member(&self, owner: KindId, kind: KindId, place: &Name) -> Done<&Member> {
        let mut members = self.tree.members(owner).iter();
        let such: Vec<&Member> = members
            .by_ref()
            .filter(|member| self.model.is_kind_of(member.kind, kind))
            .collect();
        match such[..] {
            [] => match self.tree.member(owner, kind) {
                Some(member) => Ok(member),
                None => refuse(
                    place.at,
                    Problem::NoSuchPlace {
                        words: &place.text,
                        part: self.name(kind),
                        owner: &self.a(owner),
                        names: None,
                        plural: self.plural(kind),
                        most: None,
                    },
                ),
            },
            [first, ..] => {
                let mut such = such.iter().copied();
                Ok(such
                    .find(|m| numbers(m, &place.text).is_ok())
                    .unwrap_or(first))
            }
        }
    }

    fn no_place<T>(&self, place: &Name, owner: KindId, member: &Member, why: &NoPlace) -> Done<T> {
        let (part, plural) = (self.name(member.kind), self.plural(member.kind));
        match why {
            NoPlace::NotCountedFrom => refuse(
                place.at,
                Problem::NotCountedFrom {
                    place: &place.text,
                    owner: &self.a(owner),
                    owner_cap: &capital(&self.a(owner)),
                    plural,
                    example: &self.counted_example(member, axis(&place.text)),
                },
            ),
            NoPlace::None => {
                let is_number = ORDINALS.contains(&place.text.as_str());
                let names: Vec<&str> = member.names.iter().map(String::as_str).collect();
                refuse(
                    place.at,
                    Problem::NoSuchPlace {
                        words: &place.text,
                        part,
                        owner: &self.a(owner),
                        names: Some(list(&names)).filter(|_| !names.is_empty()).as_deref(),
                        plural,
                        most: Some(u32::from(member.most)).filter(|_| is_number),
                    },
                )
            }
        }
    }

    /// "2 to 6 drawers (usually 4; from the top)"
    fn counted_example(&self, member: &Member, from: &str) -> String {
        let number = match (member.least, member.most) {
            (1, 1) => return format!("{} (from the {from})", self.a(member.kind)),
            (least, most) if least == most => most.to_string(),
            (least, most) => format!("{least} to {most}"),
        };
        let usual = match member.usual == member.most {
            true => String::new(),
            false => format!("usually {}; ", member.usual),
        };
        let names = match member.names.is_empty() {
            true => String::new(),
            false => format!("; {}", member.names.join(", ")),
        };
        let plural = self.plural(member.kind);
        format!("{number} {plural} ({usual}from the {from}{names})")
    }

    /// Refuses to say where the owner of a part stands: "the runners of its lowest drawer".
    pub(super) fn no_place_on_the_way(&self, of: Option<&Thing>) -> Done<()> {
        let mut next = of;
        while let Some(
            Thing::One {
                place, noun, of, ..
            }
            | Thing::Many {
                place, noun, of, ..
            },
        ) = next
        {
            if let Some(place) = place {
                let place_at = place.at;
                let kind = self.plain(noun)?.kind;
                let place = Some(place.text.as_str()).filter(|place| *place != "other");
                return refuse(
                    place_at.to(noun.at),
                    Problem::PlaceOnTheWay {
                        part: self.name(kind),
                        a_part: &self.a(kind),
                        place,
                    },
                );
            }
            next = of.as_deref();
        }
        Ok(())
    }

    /// Whether words name just one part of those down the ways: of one owner, and there by
    /// one number.
    pub(super) fn is_just_one(
        &self,
        scene: &Scene,
        (kind, ways): (KindId, &[Vec<KindId>]),
        place: Option<&Name>,
    ) -> Done<bool> {
        let Some(place) = place else { return Ok(false) };
        for way in ways {
            let (owner, on_the_way) = owner_on(scene.subject, way);
            let placing = self.placing(Some(owner), kind, place)?;
            if self.tree.range(scene.subject, on_the_way).1 > 1 || placing.at.len() > 1 {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// The same parts, as far as they stand at that place.
    pub(super) fn placed(
        &self,
        scene: &mut Scene,
        mut meant: Meant,
        place: Option<&Name>,
    ) -> Done<Meant> {
        let Some(place) = place else { return Ok(meant) };
        for reach in &mut meant.reach {
            match reach {
                Reach::Down { path, only, .. } => {
                    let (owner, _) = owner_on(scene.subject, path);
                    let placing = self.placing(Some(owner), meant.kind, place)?;
                    scene.placed = Some((meant.kind, placing.clone()));
                    *only = Some(placing);
                }
                Reach::Own | Reach::Up(_) | Reach::Others { .. } => {
                    meant.placed = Some(self.placing(None, meant.kind, place)?);
                }
            }
        }
        Ok(meant)
    }

    /// The others of the subject's owner.
    pub(super) fn others(
        &self,
        scene: &Scene,
        (kind, other): (KindId, &Name),
        way: &Way,
        said: Others,
    ) -> Done<Meant> {
        // "The other drawers of its chest" are reached by way of the chest.
        let about_such = self.model.are_kin(scene.subject, kind) && matches!(way, Way::Own);
        // "If the lowest drawer of a chest is stiff and no other drawer is stiff"
        let placed = scene.placed.as_ref().filter(|(of, _)| *of == kind);
        let beside = match (placed, way) {
            (Some((_, placing)), Way::Down(ways)) => Some((placing, ways)),
            _ => None,
        };
        if !about_such && beside.is_none() {
            return self.other_than_what(scene.subject, kind, other);
        }
        let (many, plural) = match said {
            Others::Many(_, true) => return self.several_others(kind, other, true),
            Others::Many(many, false) => (many, many == HowMany::Every),
            Others::The(true) => return self.several_others(kind, other, false),
            Others::The(false) => {
                let mut owners = self.tree.owners(kind).into_iter();
                let members = owners
                    .by_ref()
                    .filter_map(|owner| self.tree.member(owner, kind));
                if members.map(|member| member.most).max().unwrap_or(0) > 2 {
                    return self.several_others(kind, other, false);
                }
                (HowMany::The, false)
            }
        };
        let reach = match beside {
            Some((placing, ways)) => {
                let only = Some(Placing {
                    except: true,
                    ..placing.clone()
                });
                let down = |path: &Vec<KindId>| Reach::Down {
                    path: path.clone(),
                    many,
                    only: only.clone(),
                };
                ways.iter().map(down).collect()
            }
            None => vec![Reach::Others { of: kind, many }],
        };
        Ok(Meant {
            kind,
            reach,
            plural,
            placed: None,
        })
    }

    fn several_others<T>(&self, kind: KindId, at: &Name, every: bool) -> Done<T> {
        refuse(
            at.at,
            Problem::SeveralOthers {
                part: self.name(kind),
                plural: self.plural(kind),
                every: Some(self.name(kind)).filter(|_| every),
            },
        )
    }

    /// Whether "every other" was written, which may be each second one.
    pub(super) fn is_every_other(&self, amount: Span, all: Span) -> bool {
        let text = self.files.file(all).map_or("", |file| file.text.as_str());
        let written = Span {
            end: amount.end,
            ..all
        };
        matches!(
            written.words(text).to_lowercase().as_str(),
            "every" | "each"
        )
    }

    /// Refuses a step about some parts of a kind: who looks over a piece looks at each.
    pub(super) fn no_place_in_step(&self, place: Option<&Name>, noun: &Name) -> Done<()> {
        let Some(place) = place else { return Ok(()) };
        refuse(
            place.at,
            Problem::PlaceInStep {
                place: &place.text,
                noun: &noun.text,
            },
        )
    }

    /// Refuses a result about the sentence's own part at a place: the condition says which
    /// part it is about.
    pub(super) fn no_place_in_result(&self, meant: &Meant, at: Span) -> Done<()> {
        let Some(place) = &meant.placed else {
            return Ok(());
        };
        refuse(
            at,
            Problem::PlaceInResult {
                place: &place.words,
                part: self.name(meant.kind),
            },
        )
    }

    /// Refuses "other" where the sentence is not about such a part.
    pub(super) fn other_than_what<T>(&self, subject: KindId, kind: KindId, at: &Name) -> Done<T> {
        refuse(
            at.at,
            Problem::OtherThanWhat {
                part: self.name(kind),
                plural: self.plural(kind),
                a_part: &self.a(kind),
                subject: &self.a(subject),
            },
        )
    }
}

/// The numbers of parts of a kind, as the signs say them.
fn placing(model: &Model, kind: KindId, numbers: Vec<Number>, words: &str) -> Placing {
    let sign = |working: Working| {
        let mut signs = (0..).map(SignId).zip(&model.signs);
        let found = signs.find(|(_, sign)| sign.kind == kind && sign.place() == Some(working));
        found.map(|(id, _)| id)
    };
    let at = numbers.into_iter();
    let at = at.filter_map(|(working, number)| Some((sign(working)?, number)));
    Placing {
        at: at.collect(),
        except: false,
        words: words.to_owned(),
    }
}

/// The same place among the parts of a kind's own that a general word stands for.
pub(super) fn placing_of(model: &Model, member: &Member, place: &Placing) -> Placing {
    let numbers = numbers(member, &place.words).unwrap_or_default();
    Placing {
        except: place.except,
        ..placing(model, member.kind, numbers, &place.words)
    }
}

/// The numbers that words stand for among an owner's parts.
fn numbers(member: &Member, words: &str) -> Result<Vec<Number>, NoPlace> {
    let is_called = |name: &str| {
        let name = key(name);
        name == words || name.split(' ').any(|word| word == words)
    };
    let named: Vec<Number> = (1_u8..)
        .zip(&member.names)
        .filter(|(_, name)| is_called(name))
        .map(|(number, _)| (Working::Number, number))
        .collect();
    if !named.is_empty() {
        return Ok(named);
    }
    if let Some(number) = ORDINALS.iter().position(|word| *word == words) {
        let number = u8::try_from(number + 1).unwrap_or(u8::MAX);
        return match number <= member.most {
            true => Ok(vec![(Working::Number, number)]),
            false => Err(NoPlace::None),
        };
    }
    let (first, last) = ((Working::Number, 1), (Working::FromLast, 1));
    let from = |near: CountedFrom, far: CountedFrom| match member.from {
        Some(from) if from == near => Ok(vec![first]),
        Some(from) if from == far => Ok(vec![last]),
        _ => Err(NoPlace::NotCountedFrom),
    };
    match words {
        "last" => Ok(vec![last]),
        "highest" | "top" => from(CountedFrom::Top, CountedFrom::Bottom),
        "lowest" | "bottom" => from(CountedFrom::Bottom, CountedFrom::Top),
        "leftmost" => from(CountedFrom::Left, CountedFrom::Right),
        "rightmost" => from(CountedFrom::Right, CountedFrom::Left),
        "foremost" => from(CountedFrom::Front, CountedFrom::Back),
        "hindmost" => from(CountedFrom::Back, CountedFrom::Front),
        _ => Err(NoPlace::None),
    }
}

/// What the parts at the end of a way are built into, and the way there.
fn owner_on(subject: KindId, way: &[KindId]) -> (KindId, &[KindId]) {
    let on_the_way = way.split_last().map_or(way, |(_, first)| first);
    (on_the_way.last().copied().unwrap_or(subject), on_the_way)
}

/// Where counting would begin, so that a word says which part it is.
fn axis(place: &str) -> &'static str {
    match place {
        "leftmost" | "rightmost" => "left",
        "foremost" | "hindmost" => "front",
        _ => "top",
    }
}

#[cfg(test)]
mod tests {
    use super::{CountedFrom, KindId, Member, Working, numbers};
    use crate::span::Span;

    fn member(names: &[&str], from: Option<CountedFrom>) -> Member {
        Member {
            kind: KindId(1),
            least: 2,
            most: 4,
            usual: 4,
            names: names.iter().map(|&name| name.to_owned()).collect(),
            from,
            at: Span::default(),
        }
    }

    #[test]
    fn a_word_of_several_names_is_each_of_these_parts() {
        let feet = member(
            &["front left", "front right", "back left", "back right"],
            None,
        );
        let left = [(Working::Number, 1), (Working::Number, 3)];
        assert_eq!(numbers(&feet, "left").ok(), Some(left.to_vec()));
        let one = vec![(Working::Number, 3)];
        assert_eq!(numbers(&feet, "back left").ok(), Some(one));
        assert!(numbers(&feet, "middle").is_err());
    }

    #[test]
    fn the_lowest_is_the_last_of_what_is_counted_from_the_top() {
        let lowest = |from| numbers(&member(&[], from), "lowest").ok();
        assert_eq!(
            lowest(Some(CountedFrom::Top)),
            Some(vec![(Working::FromLast, 1)])
        );
        assert_eq!(
            lowest(Some(CountedFrom::Bottom)),
            Some(vec![(Working::Number, 1)])
        );
        assert_eq!(lowest(Some(CountedFrom::Left)), None);
        assert_eq!(lowest(None), None);
    }

    #[test]
    fn there_is_no_fifth_of_four() {
        assert!(numbers(&member(&[], None), "fourth").is_ok());
        assert!(numbers(&member(&[], None), "fifth").is_err());
    }
}
