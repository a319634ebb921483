//! The standard rules that ship: enough of them, in order, true to their own
//! words, and small enough for the bench unit.

use std::collections::HashSet;
use std::fmt::Write as _;
use std::sync::OnceLock;

use tellmark_compile::check::{Checked, Depth, check};
use tellmark_compile::{Built, TOLERANCE};
use tellmark_core::limits::{MAX_INTERFACE, MAX_NODES};
use tellmark_job::house::standard;
use tellmark_language::model::{DateBound, Model, Nature};
use tellmark_language::{Level, read};

fn checked() -> &'static Checked {
    static CHECKED: OnceLock<Checked> = OnceLock::new();
    CHECKED.get_or_init(|| check(read(standard()), Depth::Full))
}

fn model() -> &'static Model {
    &checked().reading.model
}

fn built() -> &'static Built {
    checked().built.as_ref().expect("the standard rules build")
}

#[test]
fn they_have_nothing_to_mend_and_every_example_holds() {
    let messages: Vec<&str> = checked()
        .reading
        .messages
        .iter()
        .filter(|m| m.level != Level::Note)
        .map(|m| m.text.as_str())
        .collect();
    assert_eq!(messages, Vec::<&str>::new());
    assert!(checked().is_sound());
}

#[test]
fn there_are_enough_of_them() {
    let model = model();
    let hidden = |n: &Nature| matches!(n, Nature::Hidden { .. });
    let faults: Vec<_> = model.states.iter().filter(|s| hidden(&s.nature)).collect();
    assert!(faults.len() >= 35, "{} faults", faults.len());
    assert!(model.signs.len() >= 90, "{} signs", model.signs.len());
    let rules = model.rules.len() + model.means.len();
    assert!(rules >= 110, "{rules} rules");
    assert!(model.examples.len() >= 25);
    assert!(model.cautions.len() >= 12);
    let (of_fittings, of_years): (Vec<_>, Vec<_>) = model
        .datings
        .iter()
        .map(|dating| &dating.bound)
        .partition(|b| matches!(b, DateBound::LaterThan(_) | DateBound::Lost(_)));
    assert!(of_years.len() >= 60, "{} datings", of_years.len());
    let lost = |b: &&&DateBound| matches!(b, DateBound::Lost(_));
    let lost = of_fittings.iter().filter(lost).count();
    assert!(lost > 0 && lost < of_fittings.len());
    let pieces: Vec<&str> = model
        .kinds
        .iter()
        .skip(1)
        .filter(|k| k.is_piece)
        .map(|k| k.name.as_str())
        .collect();
    assert_eq!(pieces, ["chest of drawers", "drop-leaf table"]);
    let rounds: HashSet<_> = model.rounds.iter().map(|r| r.piece).collect();
    assert_eq!(rounds.len(), 2, "a round for each piece");
    println!(
        "{} faults, {} signs, {} rules and {} that-means sentences, {} jobs, {} cautions, {} datings, {} sentences of fittings and traces, {} examples",
        faults.len(),
        model.signs.len(),
        model.rules.len(),
        model.means.len(),
        model.jobs.len(),
        model.cautions.len(),
        of_years.len(),
        of_fittings.len(),
        model.examples.len()
    );
}

#[test]
fn every_hidden_fault_says_what_it_costs_to_miss_it() {
    for state in &model().states {
        if let Nature::Hidden { missed } = &state.nature {
            assert!(missed.is_some(), "{}", state.phrase);
        }
    }
}

/// Every fault and every job is told in plain words, of what was, what is and what may be, of
/// what is done and what will be; and none of it is in the pack.
#[test]
fn every_fault_and_job_is_told_in_plain_words() {
    use tellmark_language::model::{JobId, StateId};
    use tellmark_language::words::{Plainly, at_time, to_come};
    let model = model();
    let said = model.as_said();
    for (id, state) in (0..).map(StateId).zip(said.declared_states()) {
        if matches!(state.nature, Nature::Hidden { .. }) {
            let plain = said
                .plain_fault(id)
                .unwrap_or_else(|| panic!("{}", state.phrase));
            let forms = [Plainly::Was, Plainly::Is, Plainly::MayBe];
            assert!(
                forms.iter().all(|&form| at_time(plain, form).is_some()),
                "{plain}"
            );
        }
    }
    for (id, job) in (0..).map(JobId).zip(&said.jobs) {
        let plain = said.plain.job(id).unwrap_or_else(|| panic!("{}", job.name));
        let to_come = to_come(plain).expect("what was done");
        assert!(to_come.starts_with("We will "), "{to_come}");
    }
    assert!(said.tells.len() >= 10);
    let mut bare = standard();
    bare.retain(|file| !file.text.contains("Tell the owner when"));
    for file in &mut bare {
        let is_plain = |line: &&str| {
            let line = line.trim_start();
            line.starts_with("In plain words:") || line.starts_with("Afterwards:")
        };
        let lines: Vec<&str> = file.text.lines().filter(|line| !is_plain(line)).collect();
        file.text = lines.join("\n");
    }
    let bare = check(read(bare), Depth::Build);
    let pack = bare.built.expect("they build").bytes;
    assert!(pack == built().bytes, "plain words stay on the host");
}

#[test]
fn every_that_means_sentence_comes_true() {
    let reached = built().reached(model());
    let sentences: HashSet<usize> = reached.iter().map(|r| r.means).collect();
    assert_eq!(sentences.len(), model().means.len(), "each one is tried");
    let mut worst: f64 = 0.0;
    for reached in &reached {
        let wanted = f64::from(model().means[reached.means].strength.chance.0) / 1000.0;
        let off = (reached.reached - wanted).abs();
        worst = worst.max(off);
        assert!(
            off <= TOLERANCE,
            "{:?} comes to {}",
            model().means[reached.means],
            reached.reached
        );
    }
    println!("{} places tried, worst off by {worst:.4}", reached.len());
}

#[test]
fn every_kind_of_part_fits_the_bench_unit() {
    let mut table = String::from("part | states | interface | nodes | kept | up | down\n");
    for kind in &built().sizes.kinds {
        assert!(kind.interface <= MAX_INTERFACE && kind.nodes <= MAX_NODES);
        let _ = writeln!(
            table,
            "{} | {} | {} | {} | {} | {} | {}",
            kind.name, kind.states, kind.interface, kind.nodes, kind.kept, kind.up, kind.down
        );
    }
    assert!(built().sizes.pack <= 256 * 1024, "budget of the pack");
    insta::assert_snapshot!("sizes", table);
}
