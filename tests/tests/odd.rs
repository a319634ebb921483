//! Findings that sit oddly together: which, why, and the smallest group, against sums by
//! hand and the enumeration of all worlds.

use tellmark_compile::ground::{Ground, GroundState};
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{Evidence, Origin, SetUp};
use tellmark_core::pack::Trial;
use tellmark_core::piece::Answer;
use tellmark_job::advice::{Odd, odd};
use tellmark_language::AnswerReader;
use tellmark_language::words::fact_line;
use tellmark_tests::dice::Dice;
use tellmark_tests::said::{house, with_found};
use tellmark_tests::worlds::for_each;

const DRAWERS: &str = "\
House rules for odd drawers, version 1.
Pieces: drawer.
Parts: runner.
A drawer has two runners.
You can see whether a drawer is sitting low.    On its own: in 1 of 200 cases
You can feel whether a drawer is tipping.       On its own: in 1 of 100 cases
You can see whether a drawer is scraping.       On its own: in 1 of 100 cases
You can ask whether a drawer is rubbed.         On its own: in 2 of 10 cases
You can measure how much a runner is worn, in mm, from 0 to 15.  Reads to: 0.2 mm
A runner counts as worn low when it is worn at least 2 mm.  On its own: in 0 of 10 cases
A runner may be spent without showing it.       On its own: in 2 of 10 cases
If a runner is spent then it is by definition worn low.     From: house
If any runner of a drawer is spent then the drawer is nearly always sitting low.  From: house
If any runner of a drawer is spent then the drawer is nearly always tipping.      From: house
If any runner of a drawer is spent then the drawer is nearly always scraping.     From: house
";

fn oddly(found: &[&str]) -> Vec<Odd> {
    let rules = house(DRAWERS);
    with_found(&rules, "drawer", found, all_odd)
}

fn all_odd(set_up: &SetUp<'_>, _: &AnswerReader<'_>) -> Vec<Odd> {
    let pack = set_up.built.bytes.open().expect("a fresh pack opens");
    odd(set_up, pack, |_| true).expect("a small piece")
}

/// Every finding of a group in words, doubted ones with a star before them.
fn said(groups: &[Odd]) -> Vec<Vec<String>> {
    let rules = house(DRAWERS);
    let words = |group: &Odd| {
        let found = group.found.iter().map(|found| {
            let star = if found.doubt.is_some() { "* " } else { "" };
            let fact = found.fact.as_ref().expect("nothing was ordered");
            format!("{star}{}", fact_line(&rules.reading.model, fact))
        });
        found.collect()
    };
    groups.iter().map(words).collect()
}

#[test]
fn what_agrees_is_not_odd() {
    assert!(oddly(&[]).is_empty());
    assert!(oddly(&["the drawer is sitting low"]).is_empty());
    let agrees = [
        "the drawer is sitting low",
        "the drawer is tipping",
        "runner 1 is worn 5 mm",
        "runner 2 is worn 0 mm",
        "the drawer is not rubbed",
    ];
    assert!(oddly(&agrees).is_empty());
}

#[test]
fn level_runners_and_a_low_drawer_are_odd() {
    let low = [
        "the drawer is not rubbed",
        "runner 1 is worn 0 mm",
        "the drawer is sitting low",
        "the drawer is tipping",
        "runner 2 is worn 0 mm",
        "the drawer is scraping",
    ];
    // Any two of the three signs are not so rare together with sound runners, nor is
    // one sound runner: the other may be spent.
    let groups = oddly(&low);
    let groups = said(&groups);
    assert!(!groups.is_empty());
    for group in &groups {
        let has = |what: &str| group.iter().any(|words| words.contains(what));
        assert!(
            has("runner 1") && has("runner 2") && !has("rubbed"),
            "{group:?}"
        );
    }
}

/// A runner that measures 9 mm and that was opened up and found sound.
#[test]
fn a_reading_against_what_is_certain() {
    let found = [
        "runner 2 is worn 9 mm",
        "runner 2 is certainly not worn low",
    ];
    let groups = oddly(&found);
    assert_eq!(
        said(&groups),
        [[
            "* runner 2 is worn 9 mm",
            "* runner 2 is certainly not worn low"
        ]]
    );
    let doubts = groups[0].found.iter().filter_map(|f| f.doubt);
    for doubt in doubts {
        assert!(doubt.rarer < 1e-6 && doubt.slip == 0.0, "{doubt:?}");
    }
}

/// By hand: with both runners sound a drawer sits low in 0.005 of all cases, and yes
/// is said to that in 0.005 × 0.99 + 0.995 × 0.01.
#[test]
fn a_slip_beside_what_is_certain() {
    let found = [
        "runner 1 is certainly not spent",
        "runner 2 is certainly not spent",
        "the drawer is sitting low",
    ];
    let groups = oddly(&found);
    let yes = |low: f64| low * 0.99 + (1.0 - low) * 0.01;
    let usual = 1.0 - 0.995 * (1.0 - 0.36 * 0.95);
    let doubt = groups[0].found[2].doubt.expect("it is doubted");
    assert!((doubt.rarer - yes(0.005) / yes(usual)).abs() < 1e-12);
    assert!((doubt.slip - 0.995 * 0.01 / yes(0.005)).abs() < 1e-12);
}

/// No rule reads how thick a lining is; the words alone say that 3 mm is not thin.
#[test]
fn a_reading_and_a_judgement_that_no_rule_reads() {
    let rules = house(
        "House rules for linings, version 1.\n\
         Pieces: lining.\n\
         You can measure how thick a lining is, in mm, from 0 to 10.  Reads to: 0.5 mm\n\
         A lining counts as thin when it is at most 2 mm thick.  On its own: in 1 of 10 cases\n",
    );
    let doubts = |found: &[&str]| {
        let groups = with_found(&rules, "lining", found, all_odd);
        let found = groups.iter().flat_map(|group| &group.found);
        found.filter_map(|f| f.doubt).collect::<Vec<_>>()
    };
    assert!(
        doubts(&[
            "the lining is 2 mm thick",
            "the lining is certainly not thin"
        ])
        .is_empty()
    );
    let certain = doubts(&[
        "the lining is 1 mm thick",
        "the lining is certainly not thin",
    ]);
    // The mark is one tick above 2 mm, two deviations from the reading.
    let above = 0.022_750_131_948_179_2;
    assert_eq!(certain.len(), 2);
    assert!((certain[0].rarer - above / 0.9).abs() < 1e-5, "{certain:?}");
    let seen = doubts(&["the lining is 4 mm thick", "the lining is thin"]);
    let yes = 0.1 * 0.99 + 0.9 * 0.01;
    assert!(
        (seen[0].rarer - 0.01 / yes).abs() < 1e-3 && seen[1].slip > 0.99,
        "{seen:?}"
    );
}

/// By hand: *badly* is the only level, 0.01 by itself and 1 − 0.99 × 0.05 of an unglued
/// panel. What is left is shared as 0.98, 0.01 and 0.01 (to thousandths). A slip of 1 in 100
/// falls half on either side.
#[test]
fn a_judgement_in_degrees() {
    let rules = house(
        "House rules for panels, version 1.\n\
         Pieces: panel.\n\
         You can see how badly a panel is lifted: slightly, noticeably or badly.  On its own: in 3 of 100 cases\n\
         A panel may be unglued without showing it.  On its own: in 5 of 10 cases\n\
         If a panel is unglued then it is nearly always badly lifted.  From: house\n",
    );
    let groups = |found: &[&str]| with_found(&rules, "panel", found, all_odd);
    let sound = "the panel is certainly not unglued";
    assert!(
        groups(&[
            "the panel is badly lifted",
            "the panel is certainly unglued"
        ])
        .is_empty()
    );
    // 1 in 14 beside the rest, and no slip in 86 of 100.
    assert!(groups(&[sound, "the panel is at least slightly lifted"]).is_empty());
    assert!(groups(&[sound, "the panel is not lifted"]).is_empty());
    let with_badly = |badly: f64| {
        let rest = 1.0 - badly;
        [0.98 * rest, 0.01 * rest, 0.01 * rest, badly]
    };
    let (bare, unglued) = (with_badly(0.01), with_badly(1.0 - 0.99 * 0.05));
    let r = 0.005 / 0.995;
    let said = |row: [f64; 4]| row[3] + r * row[2] + r * r * row[1] + r * r * r * row[0];
    let groups = groups(&[sound, "the panel is badly lifted"]);
    let doubt = groups[0].found[1].doubt.expect("it is doubted");
    let rarer = said(bare) / (0.5 * said(bare) + 0.5 * said(unglued));
    assert!((doubt.rarer - rarer).abs() < 1e-12, "{doubt:?} {rarer}");
    let slip = 1.0 - bare[3] / said(bare);
    assert!((doubt.slip - slip).abs() < 1e-12, "{doubt:?} {slip}");
}

/// One line may speak of several parts.
#[test]
fn of_a_finding_about_several_parts_the_one_that_matters_is_named() {
    let found = [
        "the runners are certainly not worn low",
        "runner 2 is worn 9 mm",
    ];
    assert_eq!(
        said(&oddly(&found)),
        [[
            "* runner 2 is certainly not worn low",
            "* runner 2 is worn 9 mm"
        ]]
    );
}

#[test]
fn where_findings_clash_nothing_is_odd() {
    let rules = house(&DRAWERS.replace("  Reads to: 0.2 mm", ""));
    let found = [
        "runner 2 is worn 9 mm",
        "runner 2 is certainly not worn low",
    ];
    assert!(with_found(&rules, "drawer", &found, all_odd).is_empty());
}

/// Of random findings, exactly those are doubted that the enumeration of all worlds
/// calls odd, with the same figures.
#[test]
fn figures_against_all_worlds() {
    let rules = house(DRAWERS);
    let mut dice = Dice::new(11);
    let mut doubted = 0;
    for _ in 0..500 {
        let found = draw(&mut dice);
        let found: Vec<&str> = found.iter().map(String::as_str).collect();
        with_found(&rules, "drawer", &found, |set_up, reader| {
            let groups = all_odd(set_up, reader);
            let worlds = Worlds::of(set_up);
            for at in 0..found.len() {
                let (rarer, slip) = worlds.doubt(at, &worlds.others(at));
                let mut members = groups.iter().flat_map(|group| &group.found);
                let doubt = members.find_map(|f| f.doubt.filter(|_| f.from == Origin::Fact(at)));
                let is_odd = is_odd((rarer, slip));
                assert_eq!(doubt.is_some(), is_odd, "{found:?}: {at}, {rarer}, {slip}");
                if let Some(doubt) = doubt {
                    doubted += 1;
                    assert!(
                        (doubt.rarer / rarer - 1.0).abs() < 1e-8,
                        "{doubt:?} {rarer}"
                    );
                    assert!((doubt.slip - slip).abs() < 1e-8, "{doubt:?} {slip}");
                    worlds.assert_smallest(at, &groups);
                }
            }
        });
    }
    assert!(doubted > 100, "{doubted}");
}

fn is_odd((rarer, slip): (f64, f64)) -> bool {
    rarer <= 0.05 || (rarer <= 0.5 && slip >= 0.5)
}

/// Some findings, each about one part.
fn draw(dice: &mut Dice) -> Vec<String> {
    let signs = ["sitting low", "tipping", "scraping", "rubbed"];
    let mut found = Vec::new();
    for sign in signs {
        let how = *dice.pick(&["", "is ", "is not ", "is not ", "is certainly ", "looks "]);
        if !how.is_empty() {
            found.push(format!("the drawer {how}{sign}"));
        }
    }
    for runner in 1..=2 {
        let about = format!("runner {runner}");
        match dice.below(5) {
            0 => found.push(format!("{about} is certainly spent")),
            1 => found.push(format!("{about} is certainly not spent")),
            2 => found.push(format!("{about} is not worn low")),
            3 => found.push(format!("{about} is worn {} mm", dice.pick(&READINGS).0)),
            _ => {}
        }
    }
    found
}

/// Readings with how likely each is of a runner that is not worn low: the part of the
/// normal curve below the mark at 2 mm, with 0.2 mm for the gauge.
const READINGS: [(&str, f64); 3] = [
    ("1.9", 0.691_462_461_274_013_1),
    ("2", 0.5),
    ("2.2", 0.158_655_253_931_457_07),
];

/// How likely each of the findings is if a state does not hold, and if it does.
struct Worlds {
    ground: Ground,
    /// By finding: the state it is about, and the two likelihoods.
    findings: Vec<(usize, f64, f64)>,
    /// Whether an answer may be a slip, and what it says.
    seen: Vec<Option<bool>>,
}

impl Worlds {
    fn of(set_up: &SetUp<'_>) -> Self {
        let mut room = Room::<f64>::default();
        let pack = set_up.built.bytes.open().expect("a fresh pack opens");
        let case = set_up.case(pack, &mut room).expect("a small piece");
        let ground = set_up.ground(&case.inspection);
        let mut findings = Vec::new();
        let mut seen = Vec::new();
        let mut evidence = case.evidence.clone();
        evidence.sort_by_key(|e| e.from);
        for Evidence { given, .. } in evidence {
            let is_of = |state: &GroundState| {
                let row = &set_up.built.states.states[state.row];
                let ask = if row.trial == Trial::Yes {
                    Some(row.ask)
                } else {
                    row.whether
                };
                state.part == given.part && (ask == Some(given.ask) || row.ask == given.ask)
            };
            let state = ground.states.iter().position(is_of).expect("a state");
            // No rule reads it.
            let is_read = ground.states[state].in_use;
            let (no, yes) = match given.answer {
                _ if !is_read => (1.0, 1.0),
                Answer::Seen(true) => (0.01, 0.99),
                Answer::Seen(false) => (0.99, 0.01),
                Answer::Looks(true) => (1.0, 4.0),
                Answer::Certain(true) => (0.0, 1.0),
                Answer::Certain(false) => (1.0, 0.0),
                Answer::Reading(ticks) => {
                    let millimetres = (f64::from(ticks) / 40_000.0).to_string();
                    let reading = READINGS.iter().find(|(text, _)| *text == millimetres);
                    let below = reading.expect("one of these").1;
                    (below, 1.0 - below)
                }
                _ => panic!("{given:?}"),
            };
            findings.push((state, no, yes));
            seen.push(match given.answer {
                Answer::Seen(yes) if is_read => Some(yes),
                _ => None,
            });
        }
        Self {
            ground,
            findings,
            seen,
        }
    }

    fn others(&self, at: usize) -> Vec<usize> {
        (0..self.findings.len()).filter(|&i| i != at).collect()
    }

    /// A finding is odd in one of the groups that it is doubted in, and beside no fewer
    /// others.
    fn assert_smallest(&self, at: usize, groups: &[Odd]) {
        let number = |from: Origin| match from {
            Origin::Fact(number) => number,
            Origin::Opened => panic!("nothing was ordered"),
        };
        let beside = |group: &Odd| -> Option<Vec<usize>> {
            let mut found = group.found.iter();
            found.find(|f| f.doubt.is_some() && f.from == Origin::Fact(at))?;
            let members = group.found.iter().map(|f| number(f.from));
            let others: Vec<usize> = members.filter(|&i| i != at).collect();
            is_odd(self.doubt(at, &others)).then_some(others)
        };
        let smallest = groups.iter().filter_map(beside).map(|others| others.len());
        let smallest = smallest.min().expect("a group in which it is odd");
        let others = self.others(at);
        for subset in 0_usize..1 << others.len() {
            let some = others.iter().enumerate();
            let some = some
                .filter(|(bit, _)| subset >> bit & 1 == 1)
                .map(|(_, i)| *i);
            let some: Vec<usize> = some.collect();
            if some.len() < smallest {
                assert!(!is_odd(self.doubt(at, &some)), "{groups:?} {at} {some:?}");
            }
        }
    }

    /// How much rarer a finding is beside others than by itself, and the chance that it
    /// is a slip.
    fn doubt(&self, at: usize, others: &[usize]) -> (f64, f64) {
        let mut all = others.to_vec();
        all.push(at);
        let state = self.findings[at].0;
        let (with_all, wrong) = match self.seen[at] {
            Some(yes) => self.weight(&all, |holds| holds(state) != yes),
            None => self.weight(&all, |_| false),
        };
        let weight = |some: &[usize]| self.weight(some, |_| false).0;
        let rarer = with_all / weight(others) / weight(&[at]);
        (rarer, wrong / with_all)
    }

    /// How likely these findings are together, and how likely with what is also asked.
    fn weight(&self, some: &[usize], also: impl Fn(&dyn Fn(usize) -> bool) -> bool) -> (f64, f64) {
        let nothing = vec![(1.0, 1.0); self.ground.states.len()];
        let (mut total, mut with) = (0.0, 0.0);
        for_each(&self.ground, &nothing, |mut weight, holds| {
            for &i in some {
                let (state, no, yes) = self.findings[i];
                weight *= if holds(state) { yes } else { no };
            }
            total += weight;
            with += if also(holds) { weight } else { 0.0 };
        });
        (total, with)
    }
}

/// A reading that others are worked out from says something of those too: it is not
/// doubted, but what stands beside it may be.
#[test]
fn what_others_are_worked_out_from_is_not_doubted() {
    let rules = house(
        "House rules for stools, version 1.\n\
         Pieces: stool.\n\
         Parts: leg.\n\
         A stool has two legs (left, right).\n\
         You can measure how high a leg is, in mm, from 0 to 900.  Reads to: 1 mm\n\
         How far a stool is out of level is the difference between how high its left leg is and how high its right leg is.  On its own: in 1 of 10 cases\n\
         A stool counts as crooked when it is out of level at least 10 mm.  On its own: in 1 of 100 cases\n\
         A leg counts as cut when it is at most 400 mm high.  On its own: in 1 of 10 cases\n\
         A stool may be twisted without showing it.  On its own: in 1 of 10 cases\n\
         If a stool is twisted then it is by definition crooked.  From: house\n\
         If a stool is twisted then its legs are sometimes cut.   From: house\n",
    );
    let found = [
        "left leg is 450 mm high",
        "right leg is 450 mm high",
        "the stool is certainly twisted",
    ];
    let groups = with_found(&rules, "stool", &found, all_odd);
    let doubted = groups.iter().flat_map(|group| &group.found);
    let doubted: Vec<_> = doubted
        .filter(|f| f.doubt.is_some())
        .map(|f| f.from)
        .collect();
    assert_eq!(doubted, [Origin::Fact(2)], "{groups:?}");
}
