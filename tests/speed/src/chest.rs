//! A chest of drawers under the standard rules, and answers about it.

use tellmark_compile::Built;
use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::ground::Ground;
use tellmark_compile::room::Room;
use tellmark_core::inspection::Inspection;
use tellmark_core::number::Number;
use tellmark_core::pack::{Form, NONE, Nature, Pack, Trial};
use tellmark_core::piece::Answer;
use tellmark_job::house;
use tellmark_language::model::Model;
use tellmark_language::{SourceFile, Style};
use tellmark_tests::dice::Dice;

/// An answer: part, ask, what was answered.
pub type Given = (usize, u16, Answer);

/// Rules, read and built.
pub struct Rules {
    /// What they say.
    pub model: Model,
    /// The pack.
    pub built: Built,
}

impl Rules {
    /// Reads and builds rules that must be sound.
    pub fn of(files: Vec<SourceFile>) -> Self {
        let Checked { reading, built } = check(tellmark_language::read(files), Depth::Build);
        let Some(built) = built else {
            let said: String = reading
                .messages
                .iter()
                .map(|m| tellmark_language::render(m, &reading.files, Style::Plain))
                .collect();
            panic!("the rules are not sound:\n{said}");
        };
        Self {
            model: reading.model,
            built,
        }
    }

    /// The standard rules, with sentences added.
    pub fn standard_with(sentences: &str) -> Self {
        let mut files = house::standard();
        if !sentences.is_empty() {
            files.push(written(sentences.to_owned()));
        }
        Self::of(files)
    }

    /// The pack.
    pub fn pack(&self) -> Pack<'_> {
        self.built.bytes.open().expect("a fresh pack opens")
    }
}

/// A file of rules.
pub fn written(text: String) -> SourceFile {
    SourceFile {
        name: "house.rules.txt".to_owned(),
        text,
        standard: false,
    }
}

/// A chest of drawers.
pub struct Chest<'r> {
    /// The rules.
    pub rules: &'r Rules,
    /// Its network, laid out part by part.
    pub ground: Ground,
    root: usize,
    drawers: u8,
    drawer: u16,
}

impl<'r> Chest<'r> {
    /// A chest with so many drawers, all else as usual.
    pub fn new(rules: &'r Rules, drawers: u8) -> Self {
        let pack = rules.pack();
        let kind = |name: &str| {
            let at = rules.model.kinds.iter().position(|k| k.name == name);
            u16::try_from(at.expect("the standard rules know it")).expect("kinds are few")
        };
        let root = pack
            .root_of(kind("chest of drawers"))
            .expect("it is a piece");
        let drawer = kind("drawer");
        let ground = rules.built.ground(&rules.model, root, |_, _, place| {
            count(&pack, drawer, drawers, place)
        });
        Self {
            rules,
            ground,
            root,
            drawers,
            drawer,
        }
    }

    /// The piece for the core, in that memory.
    pub fn inspection<'m, N: Number>(
        &self,
        pack: Pack<'m>,
        room: &'m mut Room<N>,
    ) -> Inspection<'m, 'm, N> {
        let (drawer, drawers) = (self.drawer, self.drawers);
        room.inspection(pack, self.root, |_, _, place| {
            count(&pack, drawer, drawers, place)
        })
        .expect("the counts are within bounds")
    }

    /// The states that take part in the network: number in the network, part,
    /// number among the part's states.
    pub fn used(&self) -> Vec<(usize, usize, usize)> {
        let states = self.ground.states.iter().enumerate();
        states
            .filter(|(_, state)| state.in_use)
            .map(|(i, state)| (i, state.part, i - self.ground.state(state.part, 0)))
            .collect()
    }

    /// Hidden states, as numbers in the network; only those of one drawer and
    /// what it is made of, if one is given.
    pub fn hidden(&self, drawer: Option<usize>) -> Vec<usize> {
        let pack = self.rules.pack();
        let states = self.ground.states.iter().enumerate();
        states
            .filter(|(_, state)| {
                pack.state(state.row).nature == Nature::Hidden
                    && state.in_use
                    && (drawer.is_none() || self.drawer_of(state.part) == drawer)
            })
            .map(|(i, _)| i)
            .collect()
    }

    /// The drawer that a part is, or is built into.
    pub fn drawer_of(&self, part: usize) -> Option<usize> {
        let pack = self.rules.pack();
        let mut at = Some(part);
        while let Some(part) = at {
            let record = self.ground.parts[part];
            if pack.place(record.place).kind == self.drawer {
                return Some(part);
            }
            at = record.owner;
        }
        None
    }

    /// So many ordinary answers, as on a real chest: to things drawn at random,
    /// true of a chest drawn by the rules, with some hints and some slips. How
    /// many parts there are is known, and not asked.
    pub fn answers(&self, wanted: usize, dice: &mut Dice) -> Vec<Given> {
        let pack = self.rules.pack();
        let world = self.world(dice);
        let mut open: Vec<(usize, u16)> = Vec::new();
        for (part, record) in self.ground.parts.iter().enumerate() {
            let asks = pack.asks_of(record.place).filter(|&ask| {
                let counts = matches!(pack.ask(usize::from(ask)).form, Form::HowMany { .. });
                !counts && !self.only_when_apart(&pack, ask)
            });
            open.extend(asks.map(|ask| (part, ask)));
        }
        let mut given = Vec::new();
        while given.len() < wanted && !open.is_empty() {
            let (part, ask) = open.swap_remove(dice.below(open.len()));
            if let Some(answer) = self.answer(&pack, &world, part, ask, dice) {
                given.push((part, ask, answer));
            }
        }
        given
    }

    fn only_when_apart(&self, pack: &Pack<'_>, ask: u16) -> bool {
        (0..pack.states()).any(|s| {
            let state = pack.state(s);
            state.ask == ask && state.nature == Nature::Hidden
        })
    }

    fn answer(
        &self,
        pack: &Pack<'_>,
        world: &[bool],
        part: usize,
        ask: u16,
        dice: &mut Dice,
    ) -> Option<Answer> {
        let decided: Vec<(Trial, bool)> = self
            .ground
            .states
            .iter()
            .enumerate()
            .filter(|(_, state)| {
                state.part == part && state.in_use && pack.state(state.row).ask == ask
            })
            .map(|(i, state)| (pack.state(state.row).trial, world[i]))
            .collect();
        if decided.is_empty() {
            return None;
        }
        match pack.ask(usize::from(ask)).form {
            Form::Whether => {
                let truth = decided.iter().any(|(_, holds)| *holds);
                Some(match dice.below(20) {
                    0 => Answer::Seen(!truth),
                    1..=4 => Answer::Looks(truth),
                    _ => Answer::Seen(truth),
                })
            }
            Form::Which { .. } => decided.iter().find_map(|(trial, holds)| match trial {
                Trial::Value(value) if *holds => Some(Answer::Value(*value)),
                _ => None,
            }),
            Form::HowMuch { least, most, .. } => {
                let span = usize::try_from(most - least).unwrap_or(0) + 1;
                (0..200).find_map(|_| {
                    let above = i32::try_from(dice.below(span)).unwrap_or(0);
                    let reading = least + above;
                    let fits = decided.iter().all(|(trial, holds)| match trial {
                        Trial::Within(from, to) => (*from..=*to).contains(&reading) == *holds,
                        _ => true,
                    });
                    fits.then_some(Answer::Reading(reading))
                })
            }
            Form::HowMany { .. } | Form::Degrees { .. } => None,
        }
    }

    /// A chest drawn as the rules would have it.
    fn world(&self, dice: &mut Dice) -> Vec<bool> {
        let mut world = vec![None; self.ground.states.len()];
        for state in 0..world.len() {
            self.settle(state, &mut world, dice);
        }
        world.into_iter().map(Option::unwrap_or_default).collect()
    }

    fn settle(&self, state: usize, world: &mut Vec<Option<bool>>, dice: &mut Dice) {
        if world[state].is_some() {
            return;
        }
        let record = &self.ground.states[state];
        let mut holds = throw(record.own, dice);
        for cause in &record.causes {
            cause
                .when
                .states(&mut |other| self.settle(other, world, dice));
            let known = |other: usize| world[other].unwrap_or_default();
            holds |= cause.when.holds(&known) && throw(cause.weight, dice);
        }
        world[state] = Some(holds);
    }

    /// How likely each answer makes it that a state does not hold, and that it
    /// does, for every state in use about which something was answered.
    pub fn evidence(&self, answers: &[Given]) -> Vec<(usize, Evidence)> {
        let pack = self.rules.pack();
        let find = |part: usize, ask: u16| {
            let same = answers.iter().find(|(p, a, _)| *p == part && *a == ask);
            same.map(|(_, _, answer)| *answer)
        };
        let mut evidence = Vec::new();
        for (i, state) in self.ground.states.iter().enumerate() {
            if !state.in_use {
                continue;
            }
            let record = pack.state(state.row);
            let said = find(state.part, record.ask)
                .and_then(|answer| says(&pack, record.ask, answer, record.trial))
                .or_else(|| {
                    let answer = find(state.part, record.whether)?;
                    (record.whether != NONE)
                        .then(|| says(&pack, record.whether, answer, Trial::Yes))?
                });
            evidence.extend(said.map(|said| (i, said)));
        }
        evidence
    }
}

/// What an answer says of a state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Evidence {
    /// So likely if it does not hold, and if it does.
    Likely(f64, f64),
    /// A reading, the bounds within which the state holds, and one standard
    /// deviation of hand and gauge.
    Read(i32, i32, i32, u16),
}

fn says(pack: &Pack<'_>, ask: u16, answer: Answer, trial: Trial) -> Option<Evidence> {
    let record = pack.ask(usize::from(ask));
    let sides = |yes: bool, against: f64| {
        if yes {
            Evidence::Likely(against, 1.0)
        } else {
            Evidence::Likely(1.0, against)
        }
    };
    let slip = f64::from(record.slip) / 1000.0;
    match (answer, trial) {
        (Answer::Seen(yes), Trial::Yes) => Some(sides(yes, slip)),
        (Answer::Looks(yes), Trial::Yes) => Some(sides(yes, 0.25)),
        (Answer::Value(value), Trial::Value(meant)) => Some(sides(value == meant, slip)),
        (Answer::Reading(reading), Trial::Within(from, to)) => {
            let gauge = match record.form {
                Form::HowMuch { gauge, .. } => gauge,
                _ => 0,
            };
            Some(Evidence::Read(reading, from, to, gauge))
        }
        _ => None,
    }
}

fn count(pack: &Pack<'_>, drawer: u16, drawers: u8, place: usize) -> u8 {
    let record = pack.place(place);
    if record.kind == drawer {
        drawers
    } else {
        record.usual
    }
}

fn throw(chance: f64, dice: &mut Dice) -> bool {
    // The upper 53 bits of a throw, as a fraction of one.
    #[allow(clippy::cast_precision_loss)]
    let fraction = (dice.roll() >> 11) as f64 / (1_u64 << 53) as f64;
    fraction < chance
}
