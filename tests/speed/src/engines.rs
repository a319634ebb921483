//! The same two hundred rules in general engines, compiled beforehand, the
//! facts handed over beforehand too.

use cel::{Context, Program, Value as Cel};
use regorus::languages::rego::compiler::Compiler;
use regorus::rvm::vm::RegoVM;
use rhai::{Engine, OptimizationLevel, Scope};
use serde_json::{Map, Value};
use zen_expression::{Isolate, Variable};

use crate::by_hand::RULES;
use crate::conditions::{Facts, facts, pass};

/// An engine's name, and seconds of one pass over all rules.
pub type Time = (&'static str, f64);

/// Measures all of them.
pub fn times() -> Vec<Time> {
    vec![
        ("zen-expression 2.1", zen()),
        ("cel 0.15", cel()),
        ("rhai 1.27", rhai()),
        ("regorus 0.14 (its VM)", regorus()),
    ]
}

fn object(facts: &Facts) -> Value {
    let facts = facts.iter().enumerate();
    let facts: Map<String, Value> = facts.map(|(n, &f)| (format!("f{n}"), f.into())).collect();
    facts.into()
}

fn zen() -> f64 {
    let mut isolates: Vec<Isolate> = facts()
        .iter()
        .map(|facts| Isolate::with_environment(Variable::from(object(facts))))
        .collect();
    let programs: Vec<_> = RULES
        .iter()
        .map(|[a, b, c, d]| {
            let text = format!("(f{a} and f{b}) or (not f{c} and f{d})");
            isolates[0].compile_standard(&text).expect("it compiles")
        })
        .collect();
    pass(|set| {
        let isolate = &mut isolates[set];
        programs
            .iter()
            .filter(|p| matches!(isolate.run_compiled(p.bytecode()), Ok(Variable::Bool(true))))
            .count()
    })
}

fn cel() -> f64 {
    let contexts: Vec<Context<'_, '_>> = facts()
        .iter()
        .map(|facts| {
            let mut context = Context::default();
            for (n, &fact) in facts.iter().enumerate() {
                context.add_variable_from_value(format!("f{n}"), fact);
            }
            context
        })
        .collect();
    let programs: Vec<Program> = RULES
        .iter()
        .map(|[a, b, c, d]| {
            Program::compile(&format!("(f{a} && f{b}) || (!f{c} && f{d})")).expect("it compiles")
        })
        .collect();
    pass(|set| {
        programs
            .iter()
            .filter(|p| matches!(p.execute(&contexts[set]), Ok(Cel::Bool(true))))
            .count()
    })
}

fn rhai() -> f64 {
    let mut engine = Engine::new();
    engine.set_optimization_level(OptimizationLevel::Simple);
    let mut scopes: Vec<Scope<'_>> = facts()
        .iter()
        .map(|facts| {
            let mut scope = Scope::new();
            for (n, &fact) in facts.iter().enumerate() {
                scope.push(format!("f{n}"), fact);
            }
            scope
        })
        .collect();
    let programs: Vec<_> = RULES
        .iter()
        .map(|[a, b, c, d]| {
            let text = format!("(f{a} && f{b}) || (!f{c} && f{d})");
            engine.compile_expression(&text).expect("it compiles")
        })
        .collect();
    pass(|set| {
        let scope = &mut scopes[set];
        programs
            .iter()
            .filter(|p| matches!(engine.eval_ast_with_scope(scope, p), Ok(true)))
            .count()
    })
}

fn regorus() -> f64 {
    let mut policy = String::from("package rules\nimport rego.v1\n");
    for (i, [a, b, c, d]) in RULES.iter().enumerate() {
        policy += &format!(
            "fired contains {i} if {{ input.f{a}; input.f{b} }}\n\
             fired contains {i} if {{ not input.f{c}; input.f{d} }}\n"
        );
    }
    let mut engine = regorus::Engine::new();
    engine
        .add_policy("rules.rego".to_owned(), policy)
        .expect("it parses");
    let rule = "data.rules.fired";
    let compiled = engine
        .compile_with_entrypoint(&rule.into())
        .expect("it compiles");
    let program = Compiler::compile_from_policy(&compiled, &[rule]).expect("it compiles");
    let mut vm = RegoVM::new();
    vm.load_program(program);
    let inputs: Vec<regorus::Value> = facts()
        .iter()
        .map(|facts| regorus::Value::from_json_str(&object(facts).to_string()).expect("it is JSON"))
        .collect();
    pass(|set| {
        vm.set_input(inputs[set].clone());
        match vm.execute() {
            Ok(regorus::Value::Set(fired)) => fired.len(),
            _ => 0,
        }
    })
}
