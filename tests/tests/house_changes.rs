//! A house changes the standard rules: every sentence can be named, what is written
//! is what is obtained, and what is proposed works when it is followed to the letter.

use std::collections::{BTreeMap, BTreeSet};

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_job::house::standard;
use tellmark_language::model::{Changed, Model, WorkStage};
use tellmark_language::words::{ReadBack, read_back};
use tellmark_language::{Level, Message, Reading, SourceFile, Style, read, render};

fn house(text: &str) -> Vec<SourceFile> {
    let mut files = standard();
    files.push(SourceFile {
        name: "own.rules.txt".to_owned(),
        text: text.to_owned(),
        standard: false,
    });
    files
}

fn reading(text: &str) -> Reading {
    read(house(text))
}

fn checked(text: &str) -> Checked {
    check(reading(text), Depth::Full)
}

fn shown(reading: &Reading) -> String {
    let stop = |m: &&Message| m.level == Level::Stop;
    let messages = reading.messages.iter().filter(stop);
    messages
        .map(|m| render(m, &reading.files, Style::Plain))
        .collect()
}

/// The standard rules with this, which must be sound.
fn sound(text: &str) -> Model {
    let reading = reading(text);
    assert!(reading.is_usable(), "{text}\n{}", shown(&reading));
    reading.model
}

/// The one message that says stop.
fn only_stop(checked: &Checked) -> &Message {
    let messages = checked.reading.messages.iter();
    let stops: Vec<&Message> = messages.filter(|m| m.level == Level::Stop).collect();
    assert_eq!(stops.len(), 1, "{}", shown(&checked.reading));
    stops[0]
}

fn standard_sentences() -> Vec<ReadBack> {
    read_back(&read(standard()).model)
}

#[test]
fn every_standard_sentence_that_says_something_has_a_name_of_its_own() {
    let mut places: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut names = BTreeSet::new();
    for entry in standard_sentences() {
        use tellmark_language::words::About;
        let declares = matches!(
            entry.about,
            About::Words | About::Makeup | About::Signs | About::States | About::Jobs
        );
        if declares {
            continue;
        }
        let name = entry.called.unwrap_or_else(|| panic!("{}", entry.text));
        assert!(
            !name.contains(" because ") && !name.ends_with(','),
            "{name} cannot be written"
        );
        // The steps of a round have the name of the round.
        if entry.about != About::Rounds {
            let at = format!("{:?}", entry.at);
            places.entry(name.to_lowercase()).or_default().insert(at);
        }
        if entry.about != About::Examples {
            names.insert(name);
        }
    }
    for (name, at) in &places {
        assert_eq!(at.len(), 1, "{name} is the name of several");
    }
    assert!(names.len() > 500, "{}", names.len());
    // Houses write these names: one may be added, and none may go.
    let names: Vec<String> = names.into_iter().collect();
    insta::assert_snapshot!("names", names.join("\n"));
}

#[test]
fn every_standard_sentence_can_be_left_out() {
    let names: BTreeSet<String> = standard_sentences()
        .into_iter()
        .filter_map(|entry| entry.called)
        .collect();
    let text: String = names
        .iter()
        .map(|name| format!("Leave out {name}, because we know better.\n"))
        .collect();
    let model = sound(&text);
    let left = (model.rules.len(), model.means.len(), model.plans.len());
    assert_eq!(left, (0, 0, 0));
    let left = (model.ladders.len(), model.cautions.len());
    assert_eq!(left, (0, 0));
    let left = (model.datings.len(), model.orders.len());
    assert_eq!(left, (0, 0));
    let left = (model.exclusions.len(), model.rounds.len());
    assert_eq!(left, (0, 0));
    assert_eq!(model.examples.len(), 0);
    assert_eq!(model.changes.len(), names.len());
    let because = |c: &tellmark_language::model::Change| c.because.clone();
    assert!(model.changes.iter().all(|c| because(c).is_some()));
}

#[test]
fn every_sort_of_sentence_can_stand_instead_of_another() {
    let text = "\
Instead of square when racked, when a chest of drawers is possibly racked then plan to square the carcase.  From: house
Instead of ladder for split sides, depending on how wide a side is split:
    up to 2 mm: nothing
    more: plan to slip the side
    From: house
Instead of mould, take care when a piece is probably growing mould: \"Mould. Open a window.\"  From: house
Instead of walnut piece years, a walnut piece is usually from 1670 to 1740.  From: house
Instead of trace of a lock, an empty-mortised front has lost a catch.  From: house
Instead of treat for worm before you revive the polish, better treat for worm before you revive the polish.  From: house
Instead of nothing seen, a chest of drawers
";
    // The last line is no sentence, and says so by itself.
    let spoilt = reading(text);
    let stops: Vec<u16> = spoilt
        .messages
        .iter()
        .filter(|m| m.level == Level::Stop)
        .map(Message::number)
        .collect();
    assert_eq!(stops, [21], "{}", shown(&spoilt));
    let text = text.replace("Instead of nothing seen, a chest of drawers\n", "");
    let plain = read(standard()).model;
    let model = sound(&text);
    let counts = |m: &Model| {
        (
            m.plans.len(),
            m.ladders.len(),
            m.cautions.len(),
            m.datings.len(),
            m.orders.len(),
        )
    };
    assert_eq!(counts(&model), counts(&plain));
    let how: Vec<Changed> = model.changes.iter().map(|c| c.how).collect();
    assert_eq!(how, [Changed::Instead; 6]);
    let order = model
        .orders
        .iter()
        .find(|o| model.jobs[o.after.index()].name == "revive the polish" && !o.always);
    assert!(order.is_some());
}

#[test]
fn an_example_and_a_round_can_stand_instead_of_others() {
    let text = "\
Instead of example a creak is only a hint, example: a creak says little.
    Given a chest of drawers with 4 drawers
    Given drawer 3 is creaking
    Expect no stop
Instead of looking over a chest of drawers, to look over a chest of drawers:
    1. hear whether each drawer is creaking
";
    let plain = read(standard()).model;
    let model = sound(text);
    assert_eq!(model.examples.len(), plain.examples.len());
    let titles: Vec<&str> = model.examples.iter().map(|e| e.title.as_str()).collect();
    assert!(titles.contains(&"a creak says little"));
    assert!(!titles.contains(&"a creak is only a hint"));
    assert_eq!(model.rounds.len(), plain.rounds.len());
    assert!(model.rounds.iter().any(|round| round.steps.len() == 1));

    let crossed = text.replace(
        "to look over a chest",
        "to look over a drop-leaf table: 1. see\nTo look over a chest",
    );
    let crossed = reading(&crossed);
    assert!(!crossed.is_usable());
    let other = "Instead of example a creak is only a hint, if a drawer is stiff then it is often creaking.  From: house";
    assert!(
        shown(&reading(other)).contains("is an example, and what stands instead of it is a rule")
    );
}

#[test]
fn what_a_house_says_of_a_standard_job_takes_the_place_of_what_was_said() {
    let model = sound(
        "Job: treat for worm.  Takes: 3 hours  Needs: cold store  First: label the parts  Mends: a foot is weak from worm  From: house  Stage: surface",
    );
    let job = model.jobs.iter().find(|j| j.name == "treat for worm");
    let job = job.expect("it is there");
    assert_eq!(job.needs, ["cold store"]);
    let first: Vec<&str> = job
        .first
        .iter()
        .map(|id| model.jobs[id.index()].name.as_str())
        .collect();
    assert_eq!(first, ["label the parts"]);
    assert_eq!(job.mends.len(), 1);
    assert_eq!(job.stage, WorkStage::Surface);
    let source = job.source.map(|id| model.sources[id.index()].name.as_str());
    assert_eq!(source, Some("house"));
    // What it does not give stays.
    assert!(job.waits.is_some() && job.ask_owner);
}

#[test]
fn a_standard_job_keeps_what_the_house_does_not_give() {
    let model = sound("Job: wax the runners.  Needs: beeswax\n");
    let job = model.jobs.iter().find(|j| j.name == "wax the runners");
    let job = job.expect("it is there");
    assert_eq!(job.takes.map(|t| t.mostly), Some(10));
    assert_eq!(
        (job.needs.as_slice(), job.first.len()),
        (&["beeswax".to_owned()][..], 1)
    );
}

#[test]
fn a_plan_of_the_house_does_not_change_a_standard_job_in_silence() {
    for label in ["Stage: surface", "Waits: 2 days", "Takes: 5 hours"] {
        let text = format!(
            "When a drawer is surely swollen by damp then plan to reglue the drawer.  {label}  From: house"
        );
        let reading = reading(&text);
        let looks: Vec<u16> = reading
            .messages
            .iter()
            .filter(|m| m.level == Level::Look)
            .map(Message::number)
            .collect();
        assert_eq!(looks, [111], "{label}");
    }
}

#[test]
fn a_scale_and_a_source_of_the_house_are_listed_as_changes() {
    let model = sound(
        "By often we mean 7 in 10.\nUnless we say otherwise, a fault is there on its own: hardly ever.\nSource Nelson 1968: our own copy.",
    );
    let called: Vec<&str> = model.changes.iter().map(|c| c.called.as_str()).collect();
    assert_eq!(called, ["often", "Nelson 1968", "on its own, of a fault"]);
}

#[test]
fn a_name_that_a_standard_sentence_has_is_not_taken_in_silence() {
    let checked = checked(
        "If a drawer is stiff then it is sometimes creaking.  From: house  Called: thin runner tips",
    );
    let message = only_stop(&checked);
    assert_eq!(message.number(), 153);
    let help = message.help.as_deref().unwrap_or_default();
    assert!(help.contains("Instead of thin runner tips, …"), "{help}");
}

#[test]
fn names_that_are_like_one_that_is_not_known_are_told() {
    let said = |name: &str| {
        let checked = checked(&format!("Leave out {name}, because of us."));
        only_stop(&checked).help.clone().unwrap_or_default()
    };
    assert_eq!(
        said("creaking drawers"),
        "Did you mean \"creaking drawer\"?"
    );
    assert_eq!(
        said("creaking"),
        "These names are like it: \"creaking drawer\"."
    );
    assert_eq!(
        said("plan for a hinge"),
        "These names are like it: \"split hinge bed\", \"second hinge bed\", \"torn hinge steps\", \"trace of a hinge\" and 17 more."
    );
}

/// One harmless sentence of the house that keeps a standard one from coming true.
const CREAKING: &str = "\
House rules for our bench, version 1.
If a drawer is stiff then it is usually creaking.  From: house
";

/// What a message proposes, a line each.
fn ways(message: &Message) -> Vec<String> {
    let help = message.help.as_deref().unwrap_or_default();
    let lines = help.lines().filter_map(|line| line.strip_prefix("  - "));
    lines.map(str::to_owned).collect()
}

/// What stands between quotation marks, each from one that opens to the next that ends
/// a proposal.
fn in_quotes(way: &str) -> Vec<String> {
    way.split('"')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect()
}

#[test]
fn two_sentences_that_pull_apart_are_both_named() {
    let checked = checked(CREAKING);
    let message = only_stop(&checked);
    insta::assert_snapshot!(
        "pulled_apart",
        render(message, &checked.reading.files, Style::Plain)
    );
}

#[test]
fn each_way_out_of_two_that_pull_apart_works_to_the_letter() {
    let before = checked(CREAKING);
    let ways = ways(only_stop(&before));
    assert_eq!(ways.len(), 4, "{ways:?}");
    for way in &ways {
        let quoted = in_quotes(way);
        let text = if way.starts_with("in line 2 of own.rules.txt, write") {
            CREAKING.replacen(&quoted[1], &quoted[0], 1)
        } else if way.starts_with("write") {
            let lines: String = quoted
                .iter()
                .map(|line| format!("{}\n", line.replace('…', "ours are")))
                .collect();
            format!("{CREAKING}{lines}")
        } else {
            assert_eq!(way, "take line 2 of own.rules.txt out");
            CREAKING.lines().take(1).collect()
        };
        let after = checked(&text);
        assert!(after.is_sound(), "{way}\n{}", shown(&after.reading));
    }
}

#[test]
fn a_sentence_of_the_house_that_a_standard_one_is_against_can_be_mended() {
    let own = "\
House rules for our bench, version 1.
You can see whether a drawer is shiny below.
If a drawer is sitting low, that nearly always means it is short of stops.  From: house
";
    let before = checked(own);
    let message = only_stop(&before);
    let ways = ways(message);
    assert!(!ways.is_empty(), "{}", shown(&before.reading));
    for way in &ways {
        let quoted = in_quotes(way);
        let text = if let Some(rest) = way.strip_prefix("in line 3 of own.rules.txt, write") {
            assert!(rest.contains("instead of"), "{way}");
            own.replacen(&quoted[1], &quoted[0], 1)
        } else if way == "take line 3 of own.rules.txt out" {
            own.lines()
                .take(2)
                .map(|line| format!("{line}\n"))
                .collect()
        } else {
            assert!(way.starts_with("write"), "{way}");
            format!("{own}{}\n", quoted[0].replace('…', "ours are"))
        };
        let after = checked(&text);
        assert!(after.is_sound(), "{way}\n{}", shown(&after.reading));
    }
}

/// A fault that the house says is there much more often than the standard rules do.
const OFTEN_LOOSE: &str = "\
House rules for our bench, version 1.
A drawer may be split behind the lap without showing it.  On its own: in 9 of 10 cases
";

#[test]
fn a_starting_chance_of_the_house_that_undoes_a_standard_sentence_is_named() {
    let before = checked(OFTEN_LOOSE);
    let messages = before.reading.messages.iter();
    let undone: Vec<&Message> = messages.filter(|m| m.number() == 156).collect();
    let message = undone
        .first()
        .unwrap_or_else(|| panic!("{}", shown(&before.reading)));
    let text = render(message, &before.reading.files, Style::Plain);
    insta::assert_snapshot!("undone", text);
    assert!(text.starts_with("own.rules.txt, line 2"));
    let ways = ways(message);
    assert!(ways.contains(&"take line 2 of own.rules.txt out".to_owned()));
    for way in &ways {
        let quoted = in_quotes(way);
        let text = if way.contains("instead of") {
            OFTEN_LOOSE.replacen(&quoted[1], &quoted[0], 1)
        } else if way.starts_with("write") {
            let line = quoted[0].replace('…', "ours are");
            format!("{OFTEN_LOOSE}{line}\n")
        } else {
            OFTEN_LOOSE.lines().take(1).collect()
        };
        let after = checked(&text);
        let about = |m: &&Message| m.text.contains("line 192 of drawers.rules.txt");
        let again = after.reading.messages.iter().find(about);
        assert_eq!(again, None, "{way}");
    }
}

#[test]
fn one_change_that_undoes_many_sentences_is_told_once() {
    let own = "House rules for our bench, version 1.\nBy often we mean 95 in 100.\n";
    let before = checked(own);
    let of = |number: u16| {
        let messages = before.reading.messages.iter();
        messages
            .filter(move |m| m.number() == number)
            .collect::<Vec<_>>()
    };
    assert_eq!(of(129).len(), 0);
    let [message] = of(156)[..] else {
        panic!("{}", shown(&before.reading));
    };
    assert!(
        message
            .text
            .ends_with("more cannot come true for the same reason.")
    );
    assert_eq!(ways(message), ["take line 2 of own.rules.txt out"]);
}

#[test]
fn a_figure_that_cannot_be_reached_is_told_with_what_can() {
    // So rare a fault cannot be told by a sign that is taken for another so often.
    let own = "\
House rules for our bench, version 1.
You can smell whether a drawer is smelling of camphor.  Slip: 5 in 100
    Ask: \"Camphor?\"  Takes: 1 minute
A drawer may be lined with camphor wood without showing it.
    On its own: in 1 of 100 cases  Missed: 1 hour, risk 1
If a drawer is smelling of camphor, that usually means it is lined with camphor wood.  From: house
";
    let before = checked(own);
    let message = only_stop(&before);
    assert_eq!(message.number(), 129);
    insta::assert_snapshot!(
        "out_of_reach",
        render(message, &before.reading.files, Style::Plain)
    );
    let ways = ways(message);
    assert_eq!(ways.len(), 3, "{ways:?}");
    for way in &ways {
        let quoted = in_quotes(way);
        assert!(way.contains("instead of"), "{way}");
        let text = own.replacen(&quoted[1], &quoted[0], 1);
        assert_ne!(text, own, "{way}");
        let after = checked(&text);
        assert!(after.is_sound(), "{way}\n{}", shown(&after.reading));
    }
}

#[test]
fn a_standard_example_that_no_longer_fits_can_be_left_out() {
    let own = "Instead of creaking drawer, if a drawer is creaking, that sometimes means it is loose in the dovetails.  From: house\n";
    let before = checked(own);
    let message = only_stop(&before);
    assert_eq!(message.number(), 74);
    let help = message.help.as_deref().unwrap_or_default();
    let quoted = in_quotes(help);
    assert_eq!(
        quoted,
        ["Leave out example a creak is only a hint, because …."]
    );
    let after = checked(&format!("{own}{}\n", quoted[0].replace('…', "ours do")));
    assert!(after.is_sound(), "{}", shown(&after.reading));
}

/// Rules of the house about a sign that is left at the defaults.
const GRITTY: &str = "\
House rules for our bench, version 1.
You can feel whether a drawer is gritty.  Ask: \"Gritty?\"  Takes: 1 minute
You can hear whether a drawer is humming.  Ask: \"Hums?\"  Takes: 1 minute
You can hear whether a drawer is buzzing.  Ask: \"Buzzes?\"  Takes: 1 minute
If a drawer is gritty then it is usually humming.  From: house
If a drawer is gritty then it is nearly always buzzing.  From: house
";

/// The messages about rules that come to less than they say.
fn short(checked: &Checked) -> Vec<&Message> {
    let messages = checked.reading.messages.iter();
    messages.filter(|m| m.number() == 157).collect()
}

/// Follows every way out that is offered; none leaves a rule short, and nothing is lost.
fn each_way_mends(own: &str, message: &Message) {
    let stops = |checked: &Checked| checked.count(Level::Stop);
    let before = stops(&checked(own));
    let ways = ways(message);
    assert!(!ways.is_empty(), "{}", message.text);
    for way in &ways {
        let mut lines: Vec<String> = own.lines().map(str::to_owned).collect();
        for step in way.split(", and ") {
            let quoted = in_quotes(step);
            let number = |after: &str| -> Option<usize> {
                let (_, rest) = step.split_once(after)?;
                rest.split([' ', ',']).next()?.parse().ok()
            };
            if let Some(line) = number("in line ") {
                let line = &mut lines[line - 1];
                assert!(line.contains(&quoted[1]), "{step}");
                *line = line.replacen(&quoted[1], &quoted[0], 1);
            } else if let Some(line) = number("under line ") {
                lines[line - 1].push_str(&format!("  {}", quoted[0]));
            } else {
                lines.push(quoted[0].clone());
            }
        }
        let after = checked(&format!("{}\n", lines.join("\n")));
        assert!(stops(&after) <= before, "{way}\n{}", shown(&after.reading));
        assert!(short(&after).is_empty(), "{way}");
    }
}

#[test]
fn a_rule_of_the_house_that_comes_short_is_told_with_ways_that_work() {
    let before = checked(GRITTY);
    assert!(before.is_sound(), "{}", shown(&before.reading));
    let [message] = short(&before)[..] else {
        panic!("once for both rules");
    };
    assert_eq!(message.level, Level::Look);
    let text = render(message, &before.reading.files, Style::Plain);
    insta::assert_snapshot!("short", text);
    each_way_mends(GRITTY, message);
}

#[test]
fn a_rule_about_two_signs_is_mended_at_both() {
    let own = GRITTY.replace(
        "If a drawer is gritty then it is usually",
        "If a drawer is gritty and it shows grey grit then it is usually",
    );
    let own = own.replacen(
        "You can hear",
        "You can see whether a drawer shows grey grit.  Ask: \"Grey?\"  Slip: 3 in 100\nYou can hear",
        1,
    );
    let before = checked(&own);
    let all = short(&before);
    let [both, one] = all[..] else {
        panic!("{}", shown(&before.reading));
    };
    assert!(
        both.text.contains("“gritty” and “grey grit”"),
        "{}",
        both.text
    );
    assert!(one.text.contains("to “gritty” is"), "{}", one.text);
    // The other rule has a sign in common: it is mended too, or told again.
    let ways = ways(both);
    assert!(!ways.is_empty());
    for way in ways {
        assert!(way.contains("line 2") && way.contains("line 3"), "{way}");
    }
}

#[test]
fn standard_rules_that_come_short_are_told_only_if_the_house_brought_them_down() {
    assert!(short(&check(read(standard()), Depth::Full)).is_empty());
    let own = "\
House rules for our bench, version 1.
You can ask whether a chest of drawers is stood on damp floors.  On its own: in 1 of 100 cases
";
    let before = checked(own);
    let messages = short(&before);
    assert!(!messages.is_empty(), "{}", shown(&before.reading));
    for message in messages {
        assert!(
            message.text.starts_with("With this, line "),
            "{}",
            message.text
        );
        let text = render(message, &before.reading.files, Style::Plain);
        assert!(text.starts_with("own.rules.txt, line 2"), "{text}");
        each_way_mends(own, message);
    }
    // Said again with nothing new, it brings nothing down.
    let same = "\
House rules for our bench, version 1.
You can see whether a back is sheeted over.  Takes: 2 minutes
";
    assert!(short(&checked(same)).is_empty());
}

/// The feet of a chest belong to its base; a house that gives them to the chest itself is told
/// so at its own line, and what it is told to write is sound.
#[test]
fn parts_that_are_there_already_in_another_place() {
    let own = "A chest of drawers has 4 feet.\n";
    let reading = reading(own);
    let second: Vec<&Message> = reading
        .messages
        .iter()
        .filter(|m| m.level != Level::Note)
        .collect();
    let [only] = second[..] else {
        panic!("{}", shown(&reading));
    };
    assert_eq!((only.number(), only.level), (193, Level::Stop));
    assert_eq!(
        tellmark_language::text_of(&reading.files, only.at),
        "4 feet"
    );
    sound(
        "Parts: chest of drawers base, bracket foot (plural bracket feet).\n\
         A bracket foot is a kind of foot.\n\
         A chest of drawers base is a kind of base.\n\
         A chest of drawers base has 4 bracket feet.\n\
         A chest of drawers has a chest of drawers base.\n",
    );
    // Of a kind, all of them count; it is told why a promise of the standard rules fails.
    let of_kind = checked(
        "Pieces: bureau.\nParts: bracket foot (plural bracket feet).\n\
         A bracket foot is a kind of foot.\nA bureau is a kind of chest of drawers.\n\
         A bureau has 4 bracket feet.\n",
    );
    let messages = of_kind.reading.messages.iter();
    let told: Vec<u16> = messages
        .filter(|m| m.level != Level::Note)
        .map(|m| m.number())
        .collect();
    assert!(told.contains(&193), "{told:?}");
}

/// Jobs that nothing orders come in an order of their own, not in that of the files.
#[test]
fn jobs_stand_in_the_same_order_whatever_the_order_of_files() {
    let file = |name: &str, text: &str| SourceFile {
        name: name.to_owned(),
        text: text.to_owned(),
        standard: false,
    };
    let one = "When a drawer is stiff then plan to wedge the drawer.  Takes: 1 hour  From: house\n";
    let other = "Job: air the drawer.  Takes: 1 hour\n\
                 When a drawer is stiff then plan to air the drawer.  From: house\n";
    let jobs = |own: [(&str, &str); 2]| -> Vec<String> {
        let mut files = standard();
        files.extend(own.map(|(name, text)| file(name, text)));
        let jobs = read(files).model.jobs.into_iter();
        jobs.map(|job| job.name).collect()
    };
    let in_order = jobs([("a.rules.txt", one), ("b.rules.txt", other)]);
    assert_eq!(
        in_order,
        jobs([("a.rules.txt", other), ("b.rules.txt", one)])
    );
    let own = &in_order[in_order.len() - 2..];
    assert_eq!(own, ["air the drawer", "wedge the drawer"]);
}

/// A second round for a piece goes on where the first one ends; nothing of it is lost.
#[test]
fn a_second_round_goes_on_where_the_first_ends() {
    let model = sound(
        "You can hear whether a back is creaking.  Ask: \"Back creaks?\"  On its own: rarely\n\
         To look over a chest of drawers:\n    1. hear whether the back is creaking\n",
    );
    let chest = model
        .kinds
        .iter()
        .position(|kind| kind.name == "chest of drawers");
    let of_chest = |round: &&tellmark_language::model::Round| Some(round.piece.index()) == chest;
    let rounds: Vec<_> = model.rounds.iter().filter(of_chest).collect();
    assert_eq!(rounds.len(), 1);
    let last = rounds[0].steps.last().expect("it has steps");
    let sign = &model.signs[last.sign.index()];
    assert_eq!(sign.ask.as_deref(), Some("Back creaks?"));
    assert!(
        rounds[0].steps.len() > 20,
        "and the standard ones before it"
    );
}

/// The standard rules have many everyday words. What a house says itself comes first.
#[test]
fn everyday_words_give_way_to_the_houses_own() {
    let model = sound(
        "You can see which grain a leaf has: straight or curled.  Ask: \"Grain?\"\n\
         For sagging we also say cast.\n\
         Parts: flap.\n",
    );
    let reader = tellmark_language::AnswerReader::new(&model);
    let state = |text: &str| reader.state(text).expect(text).1;
    assert_eq!(state("leaf 1 is cast"), state("leaf 1 is sagging"));
    assert!(reader.facts("leaf 1 is curled").is_ok());
    assert!(model.kinds.iter().any(|kind| kind.name == "flap"));
}
