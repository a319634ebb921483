//! A script in its engine: what it can reach, and the limits that the engine knows of.
//!
//! These limits tell a house where its script went wrong, with the line. They do not hold
//! everything: closures that hold closures, say, are not counted. What they do not hold,
//! the bounds of the process do ([`crate::bounds`]).

use std::cell::RefCell;
use std::rc::Rc;

use rhai::module_resolvers::DummyModuleResolver;
use rhai::packages::{
    ArithmeticPackage, BasicArrayPackage, BasicIteratorPackage, BasicMapPackage, BasicMathPackage,
    BasicStringPackage, LogicPackage, MoreStringPackage, Package,
};
use rhai::{AST, Dynamic, Engine, EvalAltResult, Position, Scope};
use rust_decimal::Decimal;

use super::SENTENCES;
use super::error::ScriptError;
use crate::one_line::shortened;
use tellmark_language::SourceFile;

/// Steps that one call may take.
const OPERATIONS: u64 = 200_000;
/// Functions inside one another.
const CALLS: usize = 32;
/// Parts of an expression inside one another, outside functions and inside them.
const DEPTH: (usize, usize) = (64, 32);
/// Bytes of a text.
const TEXT: usize = 10_000;
/// Entries of a list.
const LIST: usize = 1_000;
/// Entries of a map.
const MAP: usize = 100;
/// Variables at one time, and functions of a script.
const NAMES: usize = 100;
/// What a script prints, in lines, before the rest is dropped.
const PRINTED: usize = 100;

/// A script, read and ready to be called.
pub(super) struct Script {
    file: SourceFile,
    engine: Engine,
    ast: AST,
    printed: Rc<RefCell<Vec<String>>>,
}

impl Script {
    /// Reads a script.
    ///
    /// # Errors
    /// Where it is not written as a script should be.
    pub(super) fn read(file: SourceFile) -> Result<Self, ScriptError> {
        let printed = Rc::new(RefCell::new(Vec::new()));
        let engine = engine(&printed);
        match engine.compile(&file.text) {
            Ok(ast) => Ok(Self {
                file,
                engine,
                ast,
                printed,
            }),
            Err(why) => Err(ScriptError::of_reading(file, &why)),
        }
    }

    /// The file it was read from.
    pub(super) fn file(&self) -> &SourceFile {
        &self.file
    }

    /// What it printed so far.
    pub(super) fn printed(&self) -> Vec<String> {
        self.printed.borrow().clone()
    }

    /// Whether it has a function of this name, which takes one value.
    pub(super) fn has(&self, function: &str) -> bool {
        let is_it = |f: rhai::ScriptFnMetadata<'_>| f.name == function && f.params.len() == 1;
        self.ast.iter_functions().any(is_it)
    }

    /// Calls one of its functions, which takes one value.
    ///
    /// # Errors
    /// If there is no such function, or where it was stopped.
    pub(super) fn call(&self, function: &str, value: Dynamic) -> Result<Dynamic, ScriptError> {
        if !self.has(function) {
            return Err(ScriptError::no_function(self.file.clone(), function));
        }
        let mut scope = Scope::new();
        self.engine
            .call_fn::<Dynamic>(&mut scope, &self.ast, function, (value,))
            .map_err(|why| ScriptError::of_running(self.file.clone(), function, &why))
    }
}

/// Whole numbers are divided exactly: 90 by 60 is 1.5, not 1. An hour at 52 costs as much as one
/// at 52.0.
fn divided(over: i64, under: i64) -> Result<Dynamic, Box<EvalAltResult>> {
    let fails = |what: &str| -> Box<EvalAltResult> {
        EvalAltResult::ErrorArithmetic(format!("{what}: {over} / {under}"), Position::NONE).into()
    };
    match over.checked_rem(under) {
        None if under == 0 => Err(fails("Division by zero")),
        None => Err(fails("Division overflow")),
        Some(0) => Ok(Dynamic::from_int(over / under)),
        Some(_) => Decimal::from(over)
            .checked_div(Decimal::from(under))
            .map(Dynamic::from_decimal)
            .ok_or_else(|| fails("Division overflow")),
    }
}

/// The same in place: `x /= 60`.
fn divide(over: &mut Dynamic, under: i64) -> Result<(), Box<EvalAltResult>> {
    *over = match (over.as_int(), over.as_decimal()) {
        (Ok(whole), _) => divided(whole, under)?,
        (_, Ok(decimal)) => decimal
            .checked_div(Decimal::from(under))
            .map(Dynamic::from_decimal)
            .ok_or("a number divided by 0, or far too large")?,
        _ => return Err("only numbers can be divided".into()),
    };
    Ok(())
}

fn engine(printed: &Rc<RefCell<Vec<String>>>) -> Engine {
    let mut engine = Engine::new_raw();
    ArithmeticPackage::new().register_into_engine(&mut engine);
    LogicPackage::new().register_into_engine(&mut engine);
    BasicMathPackage::new().register_into_engine(&mut engine);
    BasicIteratorPackage::new().register_into_engine(&mut engine);
    BasicStringPackage::new().register_into_engine(&mut engine);
    MoreStringPackage::new().register_into_engine(&mut engine);
    BasicArrayPackage::new().register_into_engine(&mut engine);
    BasicMapPackage::new().register_into_engine(&mut engine);
    // Our own division is asked for, not the built-in one.
    engine.set_fast_operators(false);
    engine.register_fn("/", divided);
    engine.register_fn("/=", divide);
    engine
        .set_max_operations(OPERATIONS)
        .set_max_call_levels(CALLS)
        .set_max_expr_depths(DEPTH.0, DEPTH.1)
        .set_max_string_size(TEXT)
        .set_max_array_size(LIST)
        .set_max_map_size(MAP)
        .set_max_variables(NAMES)
        .set_max_functions(NAMES)
        .set_max_modules(0)
        .set_strict_variables(true)
        .set_fail_on_invalid_map_property(true)
        .set_module_resolver(DummyModuleResolver::new())
        .disable_symbol("eval")
        .disable_symbol("import")
        .disable_symbol("export");
    let lines = Rc::clone(printed);
    let keep = move |line: &str| {
        let mut lines = lines.borrow_mut();
        if lines.len() < PRINTED {
            lines.push(shortened(line, SENTENCES));
        }
    };
    let keep_too = keep.clone();
    engine.on_print(keep);
    engine.on_debug(move |line, _, _| keep_too(line));
    engine
}
