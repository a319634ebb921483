//! Rule files into a model.

use proptest::prelude::*;
use tellmark_language::model::{
    Asks, Changed, Condition, DateBound, Disturbs, Evidence, Expected, Found, HowMany, KindId,
    Mark, Missed, Model, Nature, PIECE, Predicate, Reach, Region, StateId, Strength, Takes, Test,
    Thousandths, Unit, Which,
};
use tellmark_language::span::{FileId, Span};
use tellmark_language::{AnswerReader, Level, Reading, SourceFile, Style};

const MILL_LANE: &str = include_str!("packs/mill-lane.rules.txt");
const FURTHER: &str = include_str!("packs/further.rules.txt");

fn file(name: &str, text: &str, standard: bool) -> SourceFile {
    SourceFile {
        name: name.to_owned(),
        text: text.to_owned(),
        standard,
    }
}

fn read(text: &str) -> Reading {
    tellmark_language::read(vec![file("house.rules.txt", text, false)])
}

fn shown(reading: &Reading) -> String {
    reading
        .messages
        .iter()
        .map(|m| tellmark_language::render(m, &reading.files, Style::Plain))
        .collect()
}

/// Reads a text that must give no message at all.
fn sound(text: &str) -> Reading {
    let reading = read(text);
    assert!(reading.messages.is_empty(), "{}", shown(&reading));
    reading
}

fn kind(model: &Model, name: &str) -> KindId {
    let index = model.kinds.iter().position(|k| k.name == name);
    KindId(u16::try_from(index.unwrap_or_else(|| panic!("no kind {name}"))).unwrap_or(u16::MAX))
}

fn state(model: &Model, owner: &str, phrase: &str) -> StateId {
    let owner = kind(model, owner);
    let index = model
        .states
        .iter()
        .position(|s| s.kind == owner && s.phrase == phrase);
    StateId(u16::try_from(index.unwrap_or_else(|| panic!("no state {phrase}"))).unwrap_or(u16::MAX))
}

/// The rule whose words hold `part`.
fn rule<'m>(reading: &'m Reading, part: &str) -> &'m tellmark_language::model::Rule {
    reading
        .model
        .rules
        .iter()
        .find(|r| tellmark_language::text_of(&reading.files, r.at).contains(part))
        .unwrap_or_else(|| panic!("no rule {part}"))
}

fn test(condition: &Condition) -> &Test {
    match condition {
        Condition::Test(test) => test,
        other => panic!("not one test: {other:?}"),
    }
}

#[test]
fn the_whole_example_reads_clean() {
    let reading = sound(MILL_LANE);
    let model = &reading.model;
    assert_eq!(model.title, "the bench at Mill Lane");
    assert_eq!((model.kinds.len(), model.rules.len()), (12, 7));
    assert_eq!((model.plans.len(), model.ladders.len()), (2, 1));
    assert_eq!((model.cautions.len(), model.datings.len()), (2, 2));
    assert_eq!((model.rounds.len(), model.examples.len()), (2, 3));
    assert_eq!((model.jobs.len(), model.sources.len()), (6, 2));
    assert_eq!((model.signs.len(), model.states.len()), (10, 10));
}

#[test]
fn the_guide_reads_clean() {
    let guide = include_str!("../../rules/LANGUAGE.md");
    let pack: String = guide
        .split("```rules\n")
        .skip(1)
        .filter_map(|block| block.split("```").next())
        .collect();
    let reading = sound(&pack);
    assert!(reading.model.rules.len() > 5);
    assert_eq!(reading.model.as_said().rounds.len(), 2);
    // Every label has its row.
    for (_, label, _) in tellmark_language::label::LABELS {
        assert!(guide.contains(&format!("| `{label}:` |")), "{label}");
    }
}

#[test]
fn no_supports_strain_each_hinge() {
    let reading = sound(MILL_LANE);
    let model = &reading.model;
    let found = rule(&reading, "has no supports");
    assert_eq!(found.subject, kind(model, "fall"));
    assert_eq!(
        test(&found.when).what,
        Predicate::Has {
            part: kind(model, "support"),
            mark: Mark {
                at_least: 1,
                at_most: None
            },
            yes: false
        }
    );
    assert_eq!(
        found.result,
        Reach::Down {
            path: vec![kind(model, "hinge")],
            many: HowMany::Every,
            only: None,
        }
    );
    assert_eq!(found.state, state(model, "hinge", "under strain"));
    assert_eq!(found.strength.chance, Thousandths(800));
}

#[test]
fn any_runner_of_a_drawer_is_about_the_drawer() {
    let reading = sound(MILL_LANE);
    let model = &reading.model;
    let found = rule(&reading, "If any runner of a drawer");
    assert_eq!(found.subject, kind(model, "drawer"));
    let first = test(&found.when);
    assert_eq!(
        first.whose,
        Reach::Down {
            path: vec![kind(model, "runner")],
            many: HowMany::Any,
            only: None,
        }
    );
    // More than 2 mm is at least one tick beyond it.
    assert!(matches!(
        first.what,
        Predicate::Measure {
            mark: Mark {
                at_least: 80_001,
                at_most: None
            },
            yes: true,
            ..
        }
    ));
    assert_eq!(found.result, Reach::Own);
    let exception = found.unless.as_ref().map(|u| test(u).what.clone());
    assert_eq!(
        exception,
        Some(Predicate::State {
            state: state(model, "drawer", "freshly waxed"),
            yes: true,
            sureness: None
        })
    );
}

#[test]
fn lists_nest_and_look_up_and_down() {
    let reading = sound(MILL_LANE);
    let model = &reading.model;
    let found = rule(&reading, "all of these are true of a fall");
    let Condition::All(all) = &found.when else {
        panic!("{:?}", found.when);
    };
    // Fewer than 2 is the opposite of at least 2.
    assert!(matches!(
        test(&all[0]).what,
        Predicate::Has {
            mark: Mark {
                at_least: 2,
                at_most: None
            },
            yes: false,
            ..
        }
    ));
    let Condition::Any(any) = &all[1] else {
        panic!("{:?}", all[1]);
    };
    assert_eq!(
        test(&any[1]).whose,
        Reach::Up(kind(model, "drop-leaf table"))
    );
}

#[test]
fn a_piece_reaches_down_to_its_bottoms() {
    let reading = sound(MILL_LANE);
    let model = &reading.model;
    let found = rule(&reading, "If a piece is kept near heating");
    assert_eq!(found.subject, PIECE);
    assert_eq!(
        found.result,
        Reach::Down {
            path: vec![kind(model, "drawer"), kind(model, "bottom")],
            many: HowMany::Every,
            only: None,
        }
    );
}

#[test]
fn a_ladder_keeps_its_marks() {
    let reading = sound(MILL_LANE);
    let ladder = &reading.model.ladders[0];
    let marks: Vec<i32> = ladder.rungs.iter().map(|(mark, _)| *mark).collect();
    assert_eq!(marks, [40_000, 160_000]);
    let job = |id: tellmark_language::model::JobId| reading.model.jobs[id.index()].name.as_str();
    assert_eq!(ladder.rungs[0].1.map(job), Some("watch the split"));
    assert_eq!(ladder.more.map(job), Some("reglue the bottom"));
}

#[test]
fn what_is_not_said_is_as_by_default() {
    let reading = sound(MILL_LANE);
    let model = &reading.model;
    let waxed = &model.states[state(model, "drawer", "freshly waxed").index()];
    assert_eq!(
        waxed.on_its_own.and_then(|o| o.word),
        Some(Strength::HardlyEver)
    );
    let stiff = &model.states[state(model, "drawer", "stiff").index()];
    assert_eq!(stiff.on_its_own.map(|o| o.chance), Some(Thousandths(300)));
    for sign in &model.signs {
        let must = matches!(sign.asks, Asks::HowMuch { .. } | Asks::HowMany(_));
        assert_eq!(sign.on_its_own.is_some(), must);
        assert_eq!(sign.slip, Thousandths(10));
    }
}

#[test]
fn further_sentences_read_clean() {
    let reading = sound(FURTHER);
    let model = &reading.model;
    assert_eq!((model.version, model.region), (12, Some(Region::British)));
    assert_eq!(model.title, "the long bench");
    let foot = &model.kinds[kind(model, "French foot").index()];
    assert_eq!(foot.plural, "French feet");
    let chest = &model.kinds[kind(model, "chest of drawers").index()];
    let leaves = &chest.members[1];
    assert_eq!((leaves.least, leaves.most, leaves.usual), (2, 2, 2));
    assert_eq!(leaves.names, ["left", "right"]);
    let case = &model.kinds[kind(model, "case").index()];
    assert_eq!((case.members[0].most, case.members[0].usual), (6, 4));
    assert!(
        model
            .scale
            .contains(&(Strength::Sometimes, Thousandths(250)))
    );
}

#[test]
fn signs_keep_their_particulars() {
    let reading = sound(FURTHER);
    let model = &reading.model;
    let stiff = &model.states[state(model, "drawer", "stiff").index()];
    assert_eq!(stiff.also, ["sticking", "binding"]);
    assert_eq!(stiff.on_its_own.map(|o| o.cases), Some(Some((3, 100))));
    let Nature::Seen(sign) = stiff.nature else {
        panic!("{:?}", stiff.nature);
    };
    let sign = &model.signs[sign.index()];
    assert_eq!(sign.ask.as_deref(), Some("Does it drag?"));
    assert_eq!((sign.takes, sign.slip), (Some(1), Thousandths(20)));
    assert_eq!(sign.disturbs, Disturbs::ALittle);
    let source = sign.source.map(|s| model.sources[s.index()].name.as_str());
    assert_eq!(source, Some("Bench Book 2019"));
    let measures: Vec<_> = model
        .signs
        .iter()
        .filter_map(|s| match &s.asks {
            Asks::HowMuch {
                word,
                phrase,
                unit,
                least,
                most,
                gauge,
            } => Some((word.as_str(), phrase.as_str(), *unit, *least, *most, *gauge)),
            _ => None,
        })
        .collect();
    assert_eq!(
        measures,
        [
            ("much", "worn", Unit::Mm, 0, 600_000, 15_875),
            ("thick", "", Unit::In, 0, 2_032_000, 0),
            ("damp", "", Unit::Percent, 500, 3000, 0),
        ]
    );
}

#[test]
fn marks_count_as_states() {
    let reading = sound(FURTHER);
    let model = &reading.model;
    let thin = &model.states[state(model, "runner", "thin").index()];
    assert!(matches!(
        thin.nature,
        Nature::CountsAs {
            mark: Mark {
                at_least: 0,
                at_most: Some(253_999)
            },
            ..
        }
    ));
    let wet = &model.states[state(model, "case", "wet").index()];
    assert!(matches!(
        wet.nature,
        Nature::CountsAs {
            mark: Mark {
                at_least: 1400,
                at_most: None
            },
            ..
        }
    ));
    let hollow = &model.states[state(model, "runner", "worn hollow").index()];
    assert_eq!(
        hollow.nature,
        Nature::Hidden {
            missed: Some(Missed {
                minutes: 240,
                risk: 3
            })
        }
    );
}

#[test]
fn signs_mean_faults() {
    let reading = sound(FURTHER);
    let model = &reading.model;
    let [stiff, thin, low] = &model.means[..] else {
        panic!("{:?}", model.means.len());
    };
    assert_eq!(
        stiff.whose,
        Reach::Down {
            path: vec![kind(model, "runner")],
            many: HowMany::Every,
            only: None,
        }
    );
    assert_eq!(stiff.called.as_deref(), Some("stiff means hollow"));
    assert_eq!(thin.whose, Reach::Own);
    assert_eq!(thin.strength.cases, Some((7, 10)));
    assert_eq!(low.whose, Reach::Up(kind(model, "case")));
}

#[test]
fn rules_take_every_form() {
    let reading = sound(FURTHER);
    let model = &reading.model;
    assert_eq!(
        rule(&reading, "in 3 of 4 cases").strength.chance,
        Thousandths(750)
    );
    assert_eq!(
        rule(&reading, "by definition").strength.chance,
        Thousandths(1000)
    );
    let daily = rule(&reading, "used daily");
    assert_eq!(daily.strength.chance, Thousandths(990));
    assert_eq!(
        daily.result,
        Reach::Down {
            path: vec![
                kind(model, "case"),
                kind(model, "drawer"),
                kind(model, "runner")
            ],
            many: HowMany::Every,
            only: None,
        }
    );
    // Runners are reached in two ways from "a piece", so it is turned round.
    let level = rule(&reading, "If a piece is out of level");
    assert_eq!(level.subject, kind(model, "runner"));
    assert_eq!(test(&level.when).whose, Reach::Up(PIECE));
    assert_eq!(level.result, Reach::Own);
    let damp = rule(&reading, "damp binds");
    assert!(matches!(damp.unless, Some(Condition::Any(ref any)) if any.len() == 2));
    let two = test(&rule(&reading, "at least two runners").when);
    assert_eq!(
        two.whose,
        Reach::Down {
            path: vec![kind(model, "runner")],
            many: HowMany::AtLeast(2),
            only: None,
        }
    );
    assert!(matches!(
        two.what,
        Predicate::Measure {
            mark: Mark {
                at_least: 127_000,
                at_most: Some(254_000)
            },
            yes: true,
            ..
        }
    ));
    let build = test(&rule(&reading, "the build of a lock").when);
    assert!(matches!(
        &build.what,
        Predicate::Choice { values, yes: false, .. } if values == &[0, 1]
    ));
}

#[test]
fn jobs_keep_their_particulars() {
    let reading = sound(FURTHER);
    let model = &reading.model;
    let job = |name: &str| {
        model
            .jobs
            .iter()
            .find(|j| j.name == name)
            .unwrap_or_else(|| panic!("no job {name}"))
    };
    assert_eq!(
        job("clear the drawer").once_for,
        Some(kind(model, "drawer"))
    );
    assert_eq!(
        job("ease the lock").takes,
        Some(Takes {
            least: 30,
            mostly: 60,
            most: 120
        })
    );
    assert_eq!(job("ease the lock").waits, Some((720, 1440)));
    assert_eq!(job("dry the case").takes, None);
    assert_eq!(job("dry the case").waits, Some((20_160, 20_160)));
    assert_eq!(
        job("plane and wax the runner").takes.map(|t| t.mostly),
        Some(90)
    );
    let new = job("fit a new runner");
    assert!(new.ask_owner);
    assert_eq!(new.needs, ["oak strip", "hide glue"]);
    let first: Vec<&str> = new
        .first
        .iter()
        .map(|j| model.jobs[j.index()].name.as_str())
        .collect();
    assert_eq!(
        first,
        [
            "clear the drawer",
            "plane and wax the runner",
            "ease the lock"
        ]
    );
    assert_eq!(
        new.mends,
        [
            state(model, "runner", "worn hollow"),
            state(model, "drawer", "stiff")
        ]
    );
    assert_eq!(model.orders.len(), 2);
    assert_eq!(
        model.orders[0].because.as_deref(),
        Some("a full drawer is heavy")
    );
    assert!(model.orders[0].always && !model.orders[1].always);
    assert_eq!(model.exclusions.len(), 1);
}

#[test]
fn datings_keep_region_and_evidence() {
    let reading = sound(FURTHER);
    let datings = &reading.model.datings;
    assert_eq!(datings[0].bound, DateBound::NotEarlier(1778));
    assert_eq!(datings[0].region, Some(Region::British));
    assert_eq!(datings[0].evidence, Evidence::Strong);
    assert!(matches!(
        datings[0].when.as_ref().map(|w| &test(w).what),
        Some(Predicate::Choice { .. })
    ));
    assert_eq!(datings[1].bound, DateBound::Usually(1850, 1880));
    assert_eq!(datings[1].evidence, Evidence::Weak);
    assert_eq!(datings[2].evidence, Evidence::Fair);
    assert_eq!(datings[3].when, None);
}

#[test]
fn fittings_and_traces_are_datings_too() {
    let more = "A dead lock is later than its drawer.  From: house  Evidence: strong\n\
                A runner that is thin has lost a small brass clip.  From: house\n";
    let reading = sound(&format!("{FURTHER}{more}"));
    let model = &reading.model;
    let [.., fitting, trace] = &model.datings[..] else {
        panic!("two more datings");
    };
    assert_eq!(fitting.bound, DateBound::LaterThan(kind(model, "drawer")));
    assert_eq!(fitting.evidence, Evidence::Strong);
    assert_eq!(trace.bound, DateBound::Lost("small brass clip".to_owned()));
    assert!(trace.when.is_some() && trace.region.is_none());
}

#[test]
fn examples_give_and_expect() {
    let reading = sound(FURTHER);
    let model = &reading.model;
    let example = &model.examples[0];
    assert_eq!(example.title, "a low drawer");
    assert_eq!(
        example.piece.counts,
        [(kind(model, "drawer"), 4), (kind(model, "lock"), 1)]
    );
    assert_eq!(example.given[0].part.steps[0].which, Which::Named(0));
    assert_eq!(example.given[1].found, Found::PartCannotBeSeen);
    assert_eq!(
        example.given[2].found,
        Found::Count {
            part: kind(model, "bracket"),
            number: 0
        }
    );
    assert!(matches!(
        example.expect[0].what,
        Expected::Chance(_, _, often) if often.cases == Some((7, 10))
    ));
    assert!(matches!(
        example.expect[1].what,
        Expected::Plan { yes: false, .. }
    ));
    assert_eq!(example.expect[2].what, Expected::Stop(false));
    assert_eq!(example.expect[3].what, Expected::NotLater(1900));
}

#[test]
fn order_of_files_and_entries_never_matters() {
    // Blocks of the pack the other way round, in two files.
    let blocks: Vec<&str> = MILL_LANE.split("\n# ----").collect();
    let (early, late) = blocks.split_at(3);
    let join = |blocks: &[&str]| {
        let mut all: Vec<String> = blocks.iter().rev().map(|b| format!("# {b}\n")).collect();
        all.insert(0, String::new());
        all.concat()
    };
    let head = "House rules for the bench at Mill Lane, version 1.\n";
    let early = join(early).replace(&format!("# {head}"), head);
    let reading = tellmark_language::read(vec![
        file("late.rules.txt", &join(late), false),
        file("early.rules.txt", &early, false),
    ]);
    assert!(reading.messages.is_empty(), "{}", shown(&reading));
    let sound = sound(MILL_LANE);
    let count = |m: &Model| {
        (
            m.rules.len(),
            m.plans.len(),
            m.examples.len(),
            m.signs.len(),
        )
    };
    assert_eq!(count(&reading.model), count(&sound.model));
}

#[test]
fn a_house_changes_the_standard_rules() {
    let standard = MILL_LANE.replace(
        "    unless it is freshly waxed.\n    From: house",
        "    unless it is freshly waxed.\n    From: house\n    Called: worn runner drags",
    );
    let standard = standard.replace(
        "If a bottom is held fast then it is often cracked.  From: house",
        "If a bottom is held fast then it is often cracked.  From: house  Called: fast cracks",
    );
    let house = "House rules for the yard, version 4.
By often we mean 7 in 10.
Parts: drawer, knob.
A drawer has 0 to 2 knobs.
You can count the knobs of a drawer.
You can feel whether a drawer is stiff.  On its own: rarely
Job: watch the split.  Takes: 20 minutes
Instead of worn runner drags, if any runner of a drawer is worn more than 3 mm then the drawer is often stiff.  From: house
Leave out fast cracks, because ours are all pine.
";
    let reading = tellmark_language::read(vec![
        file("standard.rules.txt", &standard, true),
        file("yard.rules.txt", house, false),
    ]);
    assert!(reading.is_usable(), "{}", shown(&reading));
    assert!(reading.messages.iter().all(|m| m.level == Level::Note));
    let model = &reading.model;
    assert_eq!((model.title.as_str(), model.version), ("the yard", 4));
    assert_eq!(model.rules.len(), 6);
    let drags = model
        .rules
        .iter()
        .find(|r| r.called.as_deref() == Some("worn runner drags"));
    let drags = drags.unwrap_or_else(|| panic!("no such rule"));
    assert_eq!(drags.strength.chance, Thousandths(700));
    assert!(matches!(
        test(&drags.when).what,
        Predicate::Measure {
            mark: Mark {
                at_least: 120_001,
                ..
            },
            ..
        }
    ));
    let stiff = &model.states[state(model, "drawer", "stiff").index()];
    assert_eq!(
        stiff.on_its_own.and_then(|o| o.word),
        Some(Strength::Rarely)
    );
    let watch = model.jobs.iter().find(|j| j.name == "watch the split");
    assert_eq!(watch.and_then(|j| j.takes).map(|t| t.mostly), Some(20));
    let changes: Vec<(&str, Changed)> = model
        .changes
        .iter()
        .map(|c| (c.called.as_str(), c.how))
        .collect();
    assert_eq!(
        changes,
        [
            ("whether a drawer is stiff", Changed::Again),
            ("worn runner drags", Changed::Instead),
            ("fast cracks", Changed::LeftOut),
            ("watch the split", Changed::Again),
        ]
    );
    let left_out = model.changes.iter().find(|c| c.how == Changed::LeftOut);
    let because = left_out.and_then(|c| c.because.as_deref());
    assert_eq!(because, Some("ours are all pine"));
}

#[test]
fn a_word_of_two_regions_is_settled_by_the_pack() {
    let pack = |region: &str| {
        format!(
            "House rules for the bench{region}.\nPieces: low chest, dresser (UK).\n\
             For low chest we also say dresser (US).\nParts: shelf (plural shelves), top.\n\
             A low chest has a top.\nA dresser has 2 shelves.\n\
             You can see whether a shelf is bowed.  On its own: rarely\n\
             You can see whether a dresser is leaning.  On its own: rarely\n"
        )
    };
    let british = read(&pack(", British"));
    assert!(british.messages.is_empty(), "{}", shown(&british));
    let order = AnswerReader::new(&british.model).piece("dresser");
    let order = order.expect("one piece is meant");
    assert_eq!(british.model.kinds[order.kind.index()].name, "dresser");
    let none = read(&pack(""));
    assert!(
        none.messages.iter().any(|m| m.number() == 10),
        "{}",
        shown(&none)
    );
}

#[test]
fn odd_signs_and_spellings_are_read() {
    let text = MILL_LANE
        .replace("Ask: \"Runner wear?\"", "Ask: “Runner wear?”")
        .replace(
            "worn more than 2 mm then plan",
            "worn more than 1½ mm then plan",
        )
        .replace("If a hinge is under strain", "IF AN hinge ARE under Strain")
        .replace('\n', "\r\n");
    let reading = sound(&format!("\u{feff}{text}"));
    assert!(matches!(
        test(&reading.model.plans[0].when).what,
        Predicate::Measure {
            mark: Mark {
                at_least: 60_001,
                ..
            },
            ..
        }
    ));
}

#[test]
fn ten_thousand_sentences_are_read_in_time() {
    let mut text = MILL_LANE.to_owned();
    for index in 0..2500 {
        text.push_str(&format!(
            "You can see whether a drawer shows mark {index}.  Ask: \"Mark {index}?\"  Takes: 1 minute\n\
             A drawer may be spoilt by {index} without showing it.\n\
             If a drawer is spoilt by {index} then it usually shows mark {index}.  From: house\n\
             When a drawer shows mark {index} and any of its runners is worn more than 3 mm then plan to clear the drawer.  From: house\n"
        ));
    }
    let begun = std::time::Instant::now();
    let reading = sound(&text);
    let took = begun.elapsed();
    assert_eq!(reading.model.rules.len(), 2507);
    // Generous, since tests are built without much optimising.
    assert!(took.as_secs() < 10, "took {took:?}");
}

/// Where the words of a text stand, remarks left out.
fn word_places(text: &str) -> Vec<(usize, usize)> {
    let mut places = Vec::new();
    let mut offset = 0;
    for line in text.split_inclusive('\n') {
        let body = line.split('#').next().unwrap_or_default();
        let mut from = None;
        for (index, sign) in body.char_indices().chain([(body.len(), ' ')]) {
            let inside = sign.is_alphanumeric() || sign == '-';
            match (from, inside) {
                (None, true) => from = Some(index),
                (Some(start), false) => {
                    places.push((offset + start, offset + index));
                    from = None;
                }
                _ => {}
            }
        }
        offset += line.len();
    }
    places
}

/// Where the entry that holds a place begins and ends.
fn entry_around(text: &str, place: usize) -> (usize, usize) {
    let mut start = 0;
    let mut end = text.len();
    let mut offset = 0;
    for line in text.split_inclusive('\n') {
        let opens = !line.starts_with([' ', '#', '\n', '\r', '\t']);
        if opens {
            if offset <= place {
                start = offset;
            } else {
                end = offset;
                break;
            }
        }
        offset += line.len();
    }
    (start, end)
}

/// Whether the sentence at this place only uses words and declares none.
fn only_uses(entry: &str) -> bool {
    [
        "If ",
        "Stop ",
        "Take ",
        "Depending ",
        "Example:",
        "To look ",
    ]
    .iter()
    .any(|begin| entry.starts_with(begin))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_read_without_harm(bytes in proptest::collection::vec(any::<u8>(), 0..600)) {
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let reading = read(&text);
        for message in &reading.messages {
            let _ = tellmark_language::render(message, &reading.files, Style::Colour);
            let _ = tellmark_language::record(message, &reading.files);
        }
    }

    #[test]
    fn any_order_of_its_words_is_read_without_harm(
        picks in proptest::collection::vec((0_usize..100_000, 0_u8..8), 1..120),
    ) {
        let places = word_places(MILL_LANE);
        let mut text = String::new();
        for (pick, after) in picks {
            let (start, end) = places[pick % places.len()];
            text.push_str(&MILL_LANE[start..end]);
            text.push_str(["  ", " ", ", ", ": ", ".\n", "\n    - ", " \"", " of "][usize::from(after)]);
        }
        let whole = format!("{MILL_LANE}{text}");
        for text in [&text, &whole] {
            let reading = read(text);
            for message in &reading.messages {
                let shown = tellmark_language::render(message, &reading.files, Style::Plain);
                prop_assert!(!shown.contains('{'), "{}", shown);
            }
        }
    }

    #[test]
    fn a_slip_in_one_sentence_is_told_of_that_sentence(pick in 0_usize..100_000, how in 0_u8..3) {
        // A line that loses its first word is moved in, so part of another entry.
        let places: Vec<_> = word_places(MILL_LANE)
            .into_iter()
            .filter(|(start, _)| {
                let (from, to) = entry_around(MILL_LANE, *start);
                *start > from && only_uses(&MILL_LANE[from..to])
            })
            .collect();
        let (start, end) = places[pick % places.len()];
        let word = &MILL_LANE[start..end];
        let new = match how {
            0 => String::new(),
            1 => "quoin".to_owned(),
            _ => word.chars().rev().collect(),
        };
        let (from, to) = entry_around(MILL_LANE, start);
        let text = format!("{}{new}{}", &MILL_LANE[..start], &MILL_LANE[end..]);
        let reading = read(&text);
        let to = (to + new.len()).saturating_sub(word.len());
        let told: Vec<_> = reading.messages.iter().filter(|m| !m.again).collect();
        prop_assert!(told.len() <= 3, "{}", shown(&reading));
        for message in told {
            let inside = (from..to).contains(&(message.at.start as usize));
            prop_assert!(inside || message.level != Level::Stop, "{}", shown(&reading));
        }
    }

    #[test]
    fn any_answer_is_read_without_harm(
        picks in proptest::collection::vec(0_usize..40, 0..14),
    ) {
        const WORDS: [&str; 40] = [
            "drawer", "runner", "1", "2", "of", "the", "every", "no", "is", "not", "stiff", "worn",
            "3", "mm", "has", "shows", "fresh", "dust", "looks", "cannot", "be", "seen", "see",
            "whether", "have", "looked", "point", "screw", "gimlet-point", "certainly", "how",
            "much", "which", "piece", "it", "fall", "supports", ".", ",", "\"",
        ];
        let text = picks.iter().map(|p| WORDS[*p]).collect::<Vec<_>>().join(" ");
        let model = read(MILL_LANE).model;
        let reader = tellmark_language::AnswerReader::new(&model);
        let messages = [
            reader.facts(&text).err(),
            reader.piece(&text).err(),
            reader.state(&text).err(),
        ];
        for message in messages.into_iter().flatten() {
            prop_assert!(message.at.end as usize <= text.len());
            prop_assert!(!message.text.contains('{'), "{}", message.text);
        }
    }
}

#[test]
fn places_outside_the_files_are_no_harm() {
    let reading = read(MILL_LANE);
    let nowhere = Span {
        file: FileId(7),
        start: 9_000_000,
        end: 9_000_009,
    };
    assert_eq!(tellmark_language::text_of(&reading.files, nowhere), "");
    assert_eq!(tellmark_language::line_of(&reading.files, nowhere), ("", 1));
}
