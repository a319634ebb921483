//! What the rules are understood to say, in plain English.

use tellmark_job::house;
use tellmark_language::model::{
    Asks, Fact, Found, KindId, Model, Nature, PIECE, PartRef, PartStep, Sure, Than, Which,
};
use tellmark_language::words::{self, About};
use tellmark_language::{SourceFile, read_facts, span::Span};

const WORDS: &str = "\
House rules for a test, version 1.
Pieces: folding screen, box stool.
Parts: panel, hinge (plural hinges), pin, lid, stay.
A folding screen has 2 to 6 panels (usually 3).
A panel has 2 hinges (upper, lower).
A hinge has 1 to 4 pins (usually 2).
A box stool has a lid.
A lid has 0 to 2 stays (usually 1).
Unless we say otherwise, a fault is there on its own: rarely.
Unless we say otherwise, a sign is there on its own: hardly ever.
Source notes: our own notes.
You can see whether a panel is bowed.  Takes: 1 minute
You can see whether a panel shows stains.  Takes: 1 minute
You can feel whether a pin is loose.  Takes: 1 minute  Slip: 5 in 100
You can measure how deep a panel is dented, in mm, from 0 to 20.  Takes: 1 minute
You can measure how much a lid is damp, in %, from 0 to 60.  Takes: 1 minute
You can see which metal a hinge has: brass, steel or iron.  Takes: 1 minute
You can see how badly a pin is bent: slightly, noticeably or badly.  Takes: 1 minute
You can count the stays of a lid.  Takes: 1 minute
You can ask whether a piece is kept outdoors.  Takes: 1 minute
A panel may be delaminating without showing it.  Missed: 4 hours, risk 3
A lid may be warped without showing it.
A hinge may be overloaded without showing it.
A lid counts as sodden when it is damp more than 25 %.
Job: press the panel.  Takes: 2 to 4 hours, mostly 3  Waits: 12 to 24 hours  From: notes
Job: clean the panel.  Takes: 20 minutes  Needs: swabs  From: notes
Job: true the lid.  Takes: not known  From: notes
";

/// The model of these sentences, which must all be understood.
fn model(sentences: &str) -> Model {
    let text = format!("{WORDS}{sentences}");
    let reading = tellmark_language::read(vec![SourceFile {
        name: "test.rules.txt".to_owned(),
        text,
        standard: false,
    }]);
    let stops: Vec<String> = reading
        .messages
        .iter()
        .filter(|m| m.level == tellmark_language::Level::Stop)
        .map(|m| tellmark_language::render(m, &reading.files, tellmark_language::Style::Plain))
        .collect();
    assert_eq!(stops.join("\n"), "");
    reading.model
}

/// What one sentence is understood to say.
fn understood(about: About, sentence: &str) -> String {
    let model = model(sentence);
    let mut said: Vec<String> = words::read_back(&model)
        .into_iter()
        .filter(|entry| entry.about == about)
        .map(|entry| entry.text)
        .collect();
    said.pop().unwrap_or_default()
}

#[test]
fn rules_say_whose_and_how_often() {
    for (sentence, said) in [
        (
            "If a panel is delaminating then it is often bowed.  From: notes",
            "For each panel: if it is delaminating, it is often (6 in 10) bowed. [notes]",
        ),
        (
            "If a panel is delaminating then it shows stains.",
            "For each panel: if it is delaminating, it always (99 in 100) shows stains.",
        ),
        (
            "If a panel is delaminating then it is by definition bowed.",
            "For each panel: if it is delaminating, it is by definition bowed.",
        ),
        (
            "If a hinge is overloaded then its pins are in 7 of 10 cases loose.",
            "For each hinge: if it is overloaded, each of its pins is in 7 of 10 cases loose.",
        ),
        (
            "If any panel of a folding screen is bowed then the hinges are usually overloaded.",
            "For each folding screen: if any of its panels is bowed, each of the hinges of its \
             panels is usually (8 in 10) overloaded.",
        ),
        (
            "If a panel is bowed and its folding screen is kept outdoors then it is sometimes \
             delaminating\n    unless it shows stains.",
            "For each panel: if it is bowed, and its folding screen is kept outdoors, the panel \
             is sometimes (3 in 10) delaminating. This rule is off when the panel shows stains.",
        ),
        (
            "If at least two panels of a folding screen are bowed then the piece is often kept \
             outdoors.",
            "For each folding screen: if at least two of its panels are bowed, the piece is often \
             (6 in 10) kept outdoors.",
        ),
        (
            "If a panel is dented between 2 and 4 mm deep then it is often delaminating.",
            "For each panel: if it is dented between 2 mm (about 5/64 in) and 4 mm (about 5/32 \
             in) deep, it is often (6 in 10) delaminating.",
        ),
        (
            "If a lid is sodden and it has fewer than 2 stays then it is often warped.",
            "For each lid: if it is sodden, and it has fewer than two stays, it is often (6 in \
             10) warped.",
        ),
        (
            "If all of these are true of a panel:\n    - it is bowed\n    - any of these is \
             true:\n        - any of its hinges is overloaded\n        - its folding screen is kept \
             outdoors\n    then it is often delaminating.",
            "For each panel: if it is bowed, and at least one of these [any of its hinges is \
             overloaded; its folding screen is kept outdoors], the panel is often (6 in 10) \
             delaminating.",
        ),
    ] {
        assert_eq!(understood(About::Rules, sentence), said);
    }
}

#[test]
fn means_are_the_other_way_round() {
    assert_eq!(
        understood(
            About::Means,
            "If a panel is bowed, that usually means it is delaminating.  From: notes"
        ),
        "Knowing only that a panel is bowed, it is usually (8 in 10) delaminating. [notes]"
    );
    assert_eq!(
        understood(
            About::Means,
            "If a pin is loose, that in 7 of 10 cases means its hinge is overloaded."
        ),
        "Knowing only that a pin is loose, its hinge is in 7 of 10 cases overloaded."
    );
}

#[test]
fn plans_and_cautions_say_how_sure() {
    for (about, sentence, said) in [
        (
            About::Plans,
            "When a panel is probably delaminating then plan to press the panel.  From: notes",
            "For each panel: when it is probably (60 in 100 or more) delaminating, plan to press \
             the panel: 2 to 4 h, mostly 3 h. [notes]",
        ),
        (
            About::Plans,
            "Depending on how deep a panel is dented:\n    up to 1 mm: nothing\n    up to 4 mm: \
             plan to clean the panel\n    more: plan to press the panel\n    From: notes",
            "For each panel, by how deep it is dented: up to 1 mm (about 3/64 in) plan nothing; \
             up to 4 mm (about 5/32 in) plan to clean the panel; more than that plan to press \
             the panel. [notes]",
        ),
        (
            About::Cautions,
            "Stop when a lid has no stays: \"Hold the lid.\"  From: notes",
            "For each lid: when it has no stays, stop: “Hold the lid.” [notes]",
        ),
        (
            About::Cautions,
            "Take care when any hinge of a panel cannot be seen: \"Lift with two.\"  From: notes",
            "For each panel: when any of its hinges cannot be seen, take care: “Lift with two.” \
             [notes]",
        ),
    ] {
        assert_eq!(understood(about, sentence), said);
    }
}

#[test]
fn orders_datings_and_the_rest() {
    for (about, sentence, said) in [
        (
            About::Orders,
            "Always clean the panel before you press the panel, because grime is pressed in.  \
             From: notes",
            "Always clean the panel before you press the panel, because grime is pressed in; no \
             plan may do otherwise. [notes]",
        ),
        (
            About::Orders,
            "Better clean the panel before you true the lid.  From: notes",
            "Better clean the panel before you true the lid; a plan may do otherwise. [notes]",
        ),
        (
            About::Orders,
            "Never plan to press the panel and true the lid together.  From: notes",
            "Never plan to press the panel and true the lid together. [notes]",
        ),
        (
            About::Datings,
            "A steel hinge is not earlier than 1850 in Britain.  From: notes  Evidence: strong",
            "For each hinge: when its metal is steel, it was made in 1850 or later, in Britain \
             (strong evidence). [notes]",
        ),
        (
            About::Datings,
            "A brass hinge is usually from 1780 to 1880.  From: notes",
            "For each hinge: when its metal is brass, it was mostly made from 1780 to 1880 (fair \
             evidence). [notes]",
        ),
        (
            About::Datings,
            "A steel hinge is later than its panel.  From: notes  Evidence: weak",
            "For each hinge: when its metal is steel, it was made later than its panel (weak \
             evidence). [notes]",
        ),
        (
            About::Datings,
            "A lid that is sodden has lost a brass knob.  From: notes",
            "For each lid: when it is sodden, it has lost a brass knob. [notes]",
        ),
        (
            About::Jobs,
            "",
            "To true the lid: takes a time not known; belongs to the stage \"structure\". [notes]",
        ),
        (
            About::States,
            "",
            "A lid counts as sodden when it is damp more than 25 %; so on its own hardly ever (3 \
             in 100).",
        ),
        (
            About::Makeup,
            "",
            "A lid has 0 to 2 stays (taken as 1 until counted).",
        ),
        (
            About::Rounds,
            "To look over a folding screen:\n    1. see whether each panel is bowed\n    2. see \
             whether each panel shows stains, only if any panel is bowed",
            "Looking over a folding screen, 2: see whether each panel shows stains, only if any \
             of the panels is bowed.",
        ),
        (
            About::Examples,
            "Example: a bowed panel.\n    Given a folding screen with 2 panels\n    Given panel 1 \
             is bowed\n    Expect no plan to press the panel\n    Expect no stop",
            "A bowed panel: take a folding screen with 2 panels, where panel 1 is bowed; then do \
             not plan to press the panel and no need to stop.",
        ),
    ] {
        assert_eq!(understood(about, sentence), said);
    }
}

fn standard() -> Model {
    let reading = house::read(None, &tellmark_job::house::Families::These(Vec::new())).unwrap();
    assert!(reading.is_usable());
    reading.model
}

/// Every sentence of the standard rules is said, each in one line, and none has
/// a blank where a word is missing.
#[test]
fn every_standard_sentence_is_said() {
    let model = standard();
    let said = words::read_back(&model);
    let of = |about| said.iter().filter(|entry| entry.about == about).count();
    assert_eq!(of(About::Signs), model.signs.len());
    assert_eq!(of(About::Rules), model.rules.len() + model.only_ifs.len());
    assert_eq!(of(About::Means), model.means.len());
    assert_eq!(
        of(About::Plans),
        model.plans.len() + model.stand_ins.len() + model.ladders.len()
    );
    assert_eq!(of(About::Jobs), model.jobs.len());
    assert_eq!(of(About::Cautions), model.cautions.len());
    assert_eq!(of(About::Tells), model.tells.len());
    assert_eq!(
        of(About::Orders),
        model.orders.len() + model.exclusions.len()
    );
    assert_eq!(
        of(About::Datings),
        model.datings.len() + model.relatives.len()
    );
    assert_eq!(of(About::Examples), model.examples.len());
    let steps: usize = model.rounds.iter().map(|r| r.steps.len()).sum();
    assert_eq!(of(About::Rounds), steps);
    assert!(of(About::Rules) > 50);
    for entry in &said {
        let mut words = entry.text.split_whitespace();
        let blank = words.any(|w| w.trim_matches(['(', ')', ',', '.', ';', ':']) == "?");
        assert!(!blank, "{}", entry.text);
        assert!(!entry.text.contains('\n'), "{}", entry.text);
        assert!(!entry.text.contains("  "), "{}", entry.text);
    }
}

/// Whatever can be found on a piece under the standard rules is said in words
/// that the language reads back as the same thing.
#[test]
fn whatever_can_be_noted_is_said_so_that_it_reads_the_same() {
    let model = standard();
    let mut tried = 0;
    for found in everything(&model) {
        let kind = kind_of(&model, &found);
        for part in parts(&model, kind) {
            let fact = Fact {
                part,
                found: found.clone(),
                at: Span::default(),
            };
            let said = words::fact_line(&model, &fact);
            let again = match read_facts(&model, &said) {
                Ok(again) => again,
                Err(message) => panic!("{said}: {}", message.text),
            };
            assert_eq!(again.len(), 1, "{said}");
            assert_eq!(again[0].found, fact.found, "{said}");
            assert_eq!(again[0].part.steps, fact.part.steps, "{said}");
            tried += 1;
        }
    }
    assert!(tried > 1000, "{tried}");
}

fn everything(model: &Model) -> Vec<Found> {
    let mut all = Vec::new();
    for (at, state) in (0..).zip(&model.states) {
        let state_id = tellmark_language::model::StateId(at);
        for yes in [true, false] {
            for sure in [Sure::Ordinary, Sure::Looks, Sure::Certain] {
                all.push(Found::State {
                    state: state_id,
                    yes,
                    sure,
                });
            }
        }
        if matches!(state.nature, Nature::Hidden { .. }) {
            all.push(Found::NotOpened(state_id));
        }
    }
    for (at, sign) in (0..).zip(&model.signs) {
        let sign_id = tellmark_language::model::SignId(at);
        all.push(Found::SignCannotBeSeen(sign_id));
        all.push(Found::NotLooked(sign_id));
        match &sign.asks {
            Asks::Whether(_) => {}
            Asks::Which { values, .. } => {
                for (value, _) in (0..).zip(values) {
                    all.push(Found::Choice {
                        sign: sign_id,
                        value,
                    });
                }
            }
            Asks::HowMuch { least, most, .. } => {
                for ticks in [*least, least + (most - least) / 8, *most] {
                    all.push(Found::Measure {
                        sign: sign_id,
                        ticks,
                    });
                }
            }
            Asks::Degrees { degrees, .. } => {
                let highest = u8::try_from(degrees.len()).unwrap_or(u8::MAX);
                for degree in 0..=highest {
                    for sure in [Sure::Ordinary, Sure::Looks, Sure::Certain] {
                        let judged = |than| Found::Degree {
                            sign: sign_id,
                            degree,
                            than,
                            sure,
                        };
                        all.push(judged(Than::Just));
                        if 0 < degree && degree < highest {
                            all.push(judged(Than::AtLeast));
                        }
                        if 1 < degree {
                            all.push(judged(Than::LessThan));
                        }
                    }
                }
            }
            Asks::HowMany(part) => all.push(Found::Count {
                part: *part,
                number: 1,
            }),
        }
    }
    all.push(Found::PartCannotBeSeen);
    all.push(Found::PartCanBeSeen);
    all
}

fn kind_of(model: &Model, found: &Found) -> KindId {
    match found {
        Found::State { state, .. } | Found::NotOpened(state) => model.states[state.index()].kind,
        Found::Measure { sign, .. }
        | Found::Choice { sign, .. }
        | Found::Degree { sign, .. }
        | Found::SignCannotBeSeen(sign)
        | Found::NotLooked(sign) => model.signs[sign.index()].kind,
        Found::Count { part, .. } => owners(model, *part)[0].0,
        Found::PartCannotBeSeen | Found::PartCanBeSeen => KindId(1),
    }
}

/// The kinds that have parts of this kind, with the most they have.
fn owners(model: &Model, kind: KindId) -> Vec<(KindId, u8)> {
    (0..)
        .zip(&model.kinds)
        .filter_map(|(at, owner)| {
            let member = owner.members.iter().find(|m| m.kind == kind)?;
            Some((KindId(at), member.most))
        })
        .collect()
}

/// One of them, fully named, and all of them.
fn parts(model: &Model, kind: KindId) -> Vec<PartRef> {
    let name = |every: bool| {
        let mut steps = Vec::new();
        let mut at = kind;
        loop {
            let is_piece = at == PIECE || model.kinds[at.index()].is_piece;
            let owner = owners(model, at).first().copied();
            let (which, owner) = match owner {
                None => (Which::Only, None),
                _ if is_piece => (Which::Only, None),
                Some((owner, 1)) => (Which::Only, Some(owner)),
                Some((owner, _)) if every && steps.is_empty() => (Which::Every, Some(owner)),
                Some((owner, most)) => (Which::Number(most), Some(owner)),
            };
            if !is_piece || steps.is_empty() {
                steps.push(PartStep { kind: at, which });
            }
            match owner {
                Some(owner) => at = owner,
                None => break,
            }
        }
        PartRef {
            steps,
            at: Span::default(),
        }
    };
    let (one, all) = (name(false), name(true));
    if one.steps == all.steps {
        vec![one]
    } else {
        vec![one, all]
    }
}

#[test]
fn what_a_house_changed_is_said() {
    let file = |name: &str, text: String, standard| SourceFile {
        name: name.to_owned(),
        text,
        standard,
    };
    let base = format!(
        "{WORDS}If a panel is delaminating then it is often bowed.\n    Called: bowing panels\nIf \
         a panel is delaminating then it often shows stains.\n    Called: stained panels\n"
    );
    let house = "Instead of bowing panels, if a panel is delaminating then it is usually bowed.\n\
                 Leave out stained panels, because ours are never stained.\n";
    let reading = tellmark_language::read(vec![
        file("base.rules.txt", base, true),
        file("house.rules.txt", house.to_owned(), false),
    ]);
    let said: Vec<String> = words::read_back(&reading.model)
        .into_iter()
        .filter(|entry| matches!(entry.about, About::Rules | About::Changes))
        .map(|entry| entry.text)
        .collect();
    assert_eq!(
        said,
        [
            "For each panel: if it is delaminating, it is usually (8 in 10) bowed.",
            "The sentence called “bowing panels” is replaced here by another.",
            "The sentence called “stained panels” is left out here, because ours are never stained.",
        ]
    );
}

/// A measure without words of its own ("how thick a top is") leaves no gap.
#[test]
fn a_name_on_a_measure_of_one_word_has_no_gap() {
    let rules = tellmark_tests::said::house(
        "House rules for tops, version 1.\nPieces: top.\nSource house: ours.\n\
         You can measure how thick a top is, in mm, from 5 to 60.\n\
         A top counts as planed when it is at most 10 mm thick.  On its own: rarely\n",
    );
    let said = words::read_back(&rules.reading.model);
    let planed = said.iter().find(|said| said.text.contains("planed"));
    let text = planed.map_or("", |said| said.text.as_str());
    assert!(
        text.starts_with("A top counts as planed when it is at most 10 mm"),
        "{text}"
    );
}
