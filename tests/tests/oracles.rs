//! Every chance against independent libraries, whose answers lie in
//! `tests/golden` (see `tests/oracles/README.md`).

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use tellmark_compile::room::Room;
use tellmark_compile::set_up::{SetUp, resolve};
use tellmark_core::inspection::Inspection;
use tellmark_core::number::{Number, UFloat};
use tellmark_core::pack::Form;
use tellmark_core::piece::Answer;
use tellmark_language::SourceFile;
use tellmark_language::model::Fact;
use tellmark_tests::oracle::network::Network;
use tellmark_tests::oracle::sets::{self, Given};
use tellmark_tests::oracle::{PIECES, SETS, Subject, sound, standard};

/// How far a chance in `f64` may be from the libraries'.
const EXACT: f64 = 1e-12;
/// The same where something was read off a gauge: what that tells is kept to nine
/// figures.
const BY_GAUGE: f64 = 1e-8;
/// How far a chance on the bench may be.
const BENCH: f64 = 2e-6;

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn golden(name: &str) -> Value {
    let path = folder("golden").join(format!("{name}.json"));
    let text = fs::read_to_string(&path)
        .unwrap_or_else(|why| panic!("{}: {why}; run tests/oracles/regenerate.sh", path.display()));
    serde_json::from_str(&text).unwrap_or_else(|why| panic!("{}: {why}", path.display()))
}

fn text<'v>(value: &'v Value, field: &str) -> &'v str {
    value[field]
        .as_str()
        .unwrap_or_else(|| panic!("no {field}"))
}

fn list<'v>(value: &'v Value, field: &str) -> &'v [Value] {
    let list = value[field].as_array();
    list.unwrap_or_else(|| panic!("no {field}"))
}

/// Chances are kept in whole 10⁻¹⁵.
#[allow(clippy::cast_precision_loss)]
fn chance(value: &Value) -> f64 {
    value.as_u64().expect("a chance") as f64 / 1e15
}

/// The chances of a set of answers; nothing if they cannot all be true.
fn chances(set: &Value) -> Option<Vec<f64>> {
    let chances = set["chances"].as_array()?;
    Some(chances.iter().map(chance).collect())
}

#[derive(Default)]
struct Worst {
    exact: f64,
    by_gauge: f64,
    bench: f64,
    compared: usize,
    impossible: usize,
}

impl Worst {
    fn print(&self, name: &str) {
        println!(
            "{name}: {} chances, {} sets that cannot be; worst difference {:.1e} in f64, {:.1e} by a gauge, {:.1e} in u9.23",
            self.compared, self.impossible, self.exact, self.by_gauge, self.bench
        );
    }

    fn compare(
        &mut self,
        what: &str,
        by_gauge: bool,
        expected: f64,
        exact: (f64, f64),
        bench: (UFloat, UFloat),
    ) {
        let found = exact.1 / (exact.0 + exact.1);
        let wrong = (found - expected).abs();
        let (bound, worst) = if by_gauge {
            (BY_GAUGE, &mut self.by_gauge)
        } else {
            (EXACT, &mut self.exact)
        };
        assert!(wrong <= bound, "{what}: {found}, not {expected}");
        *worst = worst.max(wrong);
        let found = UFloat::share(bench.1, bench.0).as_f64();
        let wrong = (found - expected).abs();
        assert!(
            wrong <= BENCH,
            "{what}: {found} on the bench, not {expected}"
        );
        self.bench = self.bench.max(wrong);
        self.compared += 1;
    }
}

fn put<N: Number>(inspection: &mut Inspection<'_, '_, N>, answers: &[Given]) {
    for &(part, ask, answer) in answers {
        let before = inspection.answer(part, ask, answer);
        assert!(before.is_ok(), "part {part} has no ask {ask}");
    }
}

fn take_back<N: Number>(inspection: &mut Inspection<'_, '_, N>, answers: &[Given]) {
    for &(part, ask, _) in answers {
        inspection
            .answer(part, ask, Answer::NotLooked)
            .expect("it can be answered so");
    }
}

fn check_piece(name: &str, golden: &Value, subject: &Subject<'_>, network: &Network) -> Worst {
    let pack = subject.built.bytes.open().expect("a fresh pack opens");
    let (mut exact_room, mut bench_room) = (Room::<f64>::default(), Room::<UFloat>::default());
    let mut exact = subject.inspection(pack, &mut exact_room);
    let mut bench = subject.inspection(pack, &mut bench_room);
    let used = subject.used();
    let mut worst = Worst::default();
    let sets = list(golden, "sets");
    assert_eq!(sets.len(), SETS, "{name}: sets are missing");
    for (i, set) in sets.iter().enumerate() {
        let answers: Option<Vec<Given>> = list(set, "answers").iter().map(sets::read).collect();
        let answers =
            answers.unwrap_or_else(|| panic!("{name}, set {i}: an answer in no known form"));
        let by_gauge = answers.iter().any(|&(_, ask, _)| {
            let form = pack.ask(usize::from(ask)).form;
            matches!(form, Form::HowMuch { gauge, .. } if gauge > 0)
        });
        put(&mut exact, &answers);
        put(&mut bench, &answers);
        if let Some(expected) = chances(set) {
            assert_eq!(expected.len(), used.len(), "{name}, set {i}");
            for ((&(part, slot), state), expected) in used.iter().zip(&network.names).zip(expected)
            {
                let what = || format!("{name}, set {i}: {state}");
                let exact = exact
                    .weights(part, slot)
                    .unwrap_or_else(|_| panic!("{}", what()));
                let bench = bench
                    .weights(part, slot)
                    .unwrap_or_else(|_| panic!("{}", what()));
                worst.compare(&what(), by_gauge, expected, exact, bench);
            }
        } else {
            assert!(
                exact.settle().is_err(),
                "{name}, set {i}: not seen to clash"
            );
            assert!(
                bench.settle().is_err(),
                "{name}, set {i}: not seen to clash"
            );
            worst.impossible += 1;
        }
        take_back(&mut exact, &answers);
        take_back(&mut bench, &answers);
    }
    worst
}

/// Real pieces under the rules that ship with the program.
#[test]
fn standard_rules_agree_with_other_libraries() {
    let (model, built) = standard();
    for (name, words) in PIECES {
        let golden = golden(name);
        let subject = Subject::new(&model, &built, words);
        let network = Network::of(&subject);
        assert_eq!(
            (text(&golden, "piece"), text(&golden, "print")),
            (words, network.print().as_str()),
            "{name}: the standard rules are no longer the ones that were checked against other \
             libraries. Run tests/oracles/regenerate.sh, look at what it says, and commit \
             tests/golden."
        );
        assert_eq!(list(&golden, "states").len(), network.names.len());
        let worst = check_piece(name, &golden, &subject, &network);
        assert!(worst.compared > SETS / 2, "{name}: too little was compared");
        worst.print(name);
    }
}

fn read_rules(file: &str) -> SourceFile {
    let path = folder("oracles/packs").join(file);
    let text = fs::read_to_string(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    SourceFile {
        name: file.to_owned(),
        text,
        standard: false,
    }
}

fn check_case(case: &Value) -> Worst {
    let name = text(case, "name");
    let (model, built) = sound(vec![read_rules(text(case, "rules"))]);
    let order = tellmark_language::read_piece(&model, text(case, "piece"))
        .unwrap_or_else(|message| panic!("{name}: {}", message.text));
    let states: Vec<_> = list(case, "states")
        .iter()
        .map(|state| {
            let words = state.as_str().unwrap_or_default();
            tellmark_language::read_state(&model, words)
                .unwrap_or_else(|message| panic!("{name}: {words}: {}", message.text))
        })
        .collect();
    let pack = built.bytes.open().expect("a fresh pack opens");
    let mut worst = Worst::default();
    for (i, set) in list(case, "sets").iter().enumerate() {
        let facts: Vec<Fact> = list(set, "notes")
            .iter()
            .flat_map(|note| {
                let note = note.as_str().unwrap_or_default();
                tellmark_language::read_facts(&model, note)
                    .unwrap_or_else(|message| panic!("{name}: {note}: {}", message.text))
            })
            .collect();
        let facts: Vec<&Fact> = facts.iter().collect();
        let set_up = SetUp {
            model: &model,
            built: &built,
            order: &order,
            facts: &facts,
            later: None,
        };
        let (mut exact_room, mut bench_room) = (Room::<f64>::default(), Room::<UFloat>::default());
        let mut exact = set_up
            .case(pack, &mut exact_room)
            .expect("it fits")
            .inspection;
        let mut bench = set_up
            .case(pack, &mut bench_room)
            .expect("it fits")
            .inspection;
        let Some(expected) = chances(set) else {
            assert!(
                exact.settle().is_err(),
                "{name}, set {i}: not seen to clash"
            );
            assert!(
                bench.settle().is_err(),
                "{name}, set {i}: not seen to clash"
            );
            worst.impossible += 1;
            continue;
        };
        assert_eq!(expected.len(), states.len(), "{name}, set {i}");
        for ((part, state), expected) in states.iter().zip(expected) {
            let parts = resolve(&built, &exact, part);
            assert_eq!(parts.len(), 1, "{name}: one part is meant");
            let place = usize::from(exact.piece().parts()[parts[0]].place);
            let row = u16::try_from(built.states.declared(*state)).expect("few states");
            let slot = pack.state_slot(place, row).expect("a state of the part");
            let (Ok(exact), Ok(bench)) =
                (exact.weights(parts[0], slot), bench.weights(parts[0], slot))
            else {
                panic!("{name}, set {i}: clashes");
            };
            worst.compare(&format!("{name}, set {i}"), false, expected, exact, bench);
        }
    }
    worst
}

/// Published networks and small rule sets, whose meaning was said to the
/// libraries apart from our own reading of the rules.
#[test]
fn small_rule_sets_agree_with_other_libraries() {
    let golden = golden("small");
    let cases = list(&golden, "cases");
    let mut checked = BTreeSet::new();
    let mut impossible = 0;
    for case in cases {
        let worst = check_case(case);
        assert!(worst.compared > 0, "{}", text(case, "name"));
        worst.print(text(case, "name"));
        impossible += worst.impossible;
        checked.insert(text(case, "rules").to_owned());
    }
    assert!(impossible > 0, "answers that cannot be must come up too");
    let packs: BTreeSet<String> = fs::read_dir(folder("oracles/packs"))
        .expect("the packs are there")
        .flatten()
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    assert_eq!(checked, packs, "every pack is checked");
}
