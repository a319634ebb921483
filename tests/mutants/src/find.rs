//! The places in one source file that can be changed, and how.

use proc_macro2::Span;
use std::collections::HashMap;
use std::ops::Range;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{BinOp, Expr, ReturnType, Type, UnOp};

/// One small change to a source file, which a test should notice.
#[derive(Clone, Debug)]
pub struct Change {
    /// The line it is on, from 1.
    pub line: usize,
    /// The function it is in, and what is changed into what: the same as long as
    /// nobody touches that place, wherever it moves in the file.
    pub what: String,
}

/// How a place is rewritten so that its changes can be switched on; numbers are
/// those of [`Found::changes`].
#[derive(Clone, Debug)]
pub enum Form {
    /// An expression, or in its stead one of these.
    Switch(Vec<(usize, String)>),
    /// Statements of which one is taken, at the beginning of a body.
    Start(Vec<(usize, String)>),
    /// An arm without a guard gets one that can shut it.
    Arm(usize),
    /// A guard that can be made always true, or always false; its arm can be shut too.
    Guard {
        always: usize,
        never: usize,
        shut: Option<usize>,
    },
}

/// A place that can be changed.
#[derive(Clone, Debug)]
pub struct Site {
    /// Its bytes; empty where something is only put in.
    pub bytes: Range<usize>,
    /// How it is rewritten.
    pub form: Form,
}

/// Everything found in a file.
#[derive(Debug, Default)]
pub struct Found {
    /// Every change.
    pub changes: Vec<Change>,
    /// Every place, the outer before the inner, from the first byte to the last.
    pub sites: Vec<Site>,
    /// Modules that are there for tests only.
    pub test_modules: Vec<String>,
}

/// Looks through a file.
///
/// # Errors
/// If it is not Rust.
pub fn find(source: &str) -> Result<Found, syn::Error> {
    let file = syn::parse_file(source)?;
    let mut finder = Finder {
        source,
        within: Vec::new(),
        found: Found::default(),
    };
    finder.visit_file(&file);
    let mut found = finder.found;
    found
        .sites
        .sort_by_key(|site| (site.bytes.start, std::cmp::Reverse(site.bytes.end)));
    number_repeats(&mut found.changes);
    Ok(found)
}

/// The same change made a second time in the same function is told apart by number.
fn number_repeats(changes: &mut [Change]) {
    let mut seen = HashMap::<String, usize>::new();
    for change in changes {
        let times = seen.entry(change.what.clone()).or_default();
        *times += 1;
        if *times > 1 {
            change.what += &format!(" #{times}");
        }
    }
}

struct Finder<'s> {
    source: &'s str,
    /// The names around: of the type, of the function.
    within: Vec<String>,
    found: Found,
}

impl Finder<'_> {
    fn text(&self, span: Span) -> &str {
        self.source.get(span.byte_range()).unwrap_or("")
    }

    /// The text of something on one line, shortened if it is long.
    fn short(&self, span: Span) -> String {
        one_line(self.text(span))
    }

    fn change(&mut self, at: Span, what: &str) -> usize {
        let within = self.within.join("::");
        self.found.changes.push(Change {
            line: at.start().line,
            what: format!("{within}: {what}"),
        });
        self.found.changes.len() - 1
    }

    fn site(&mut self, bytes: Range<usize>, form: Form) {
        self.found.sites.push(Site { bytes, form });
    }

    /// An expression with others in its stead: what each is called, and its text.
    fn switch(&mut self, whole: Span, at: Span, others: Vec<(String, String)>) {
        let others: Vec<_> = others
            .into_iter()
            .map(|(what, text)| (self.change(at, &what), text))
            .collect();
        if !others.is_empty() {
            self.site(whole.byte_range(), Form::Switch(others));
        }
    }

    /// A function with a body: the body, and then all that is in it.
    fn function(
        &mut self,
        signature: &syn::Signature,
        attributes: &[syn::Attribute],
        body: &syn::Block,
    ) {
        if signature.constness.is_some() || is_for_tests(attributes) {
            return;
        }
        self.within.push(signature.ident.to_string());
        let is_same = |value: &str| one_line(self.text(body.span())) == format!("{{ {value} }}");
        let values: Vec<_> = defaults(&signature.output)
            .into_iter()
            .filter(|value| !is_same(value) && !body.stmts.is_empty())
            .collect();
        let mut bodies = Vec::new();
        for value in values {
            let what = match value {
                "" => "body removed".to_owned(),
                value => format!("body → `{value}`"),
            };
            let change = self.change(signature.ident.span(), &what);
            bodies.push((change, format!("return {value};")));
        }
        if !bodies.is_empty() {
            let at = body.brace_token.span.open().byte_range().end;
            self.site(at..at, Form::Start(bodies));
        }
        self.visit_block(body);
        self.within.pop();
    }

    fn binary(&mut self, expr: &syn::ExprBinary) {
        if !expr.attrs.is_empty() || is_let_chain(expr) {
            return;
        }
        let (left, right) = (self.text(expr.left.span()), self.text(expr.right.span()));
        let operator = self.text(expr.op.span());
        let whole = self.short(expr.span());
        // What is assigned to must stay a place.
        let is_assigned = matches!(
            operator,
            "+=" | "-=" | "*=" | "/=" | "%=" | "&=" | "|=" | "^=" | "<<=" | ">>="
        );
        let others = instead_of(&expr.op)
            .iter()
            .map(|other| {
                let what = format!("`{operator}` → `{other}` in `{whole}`");
                let text = if is_assigned {
                    format!("{left} {other} ({right})")
                } else {
                    format!("({left}) {other} ({right})")
                };
                (what, text)
            })
            .collect();
        self.switch(expr.span(), expr.op.span(), others);
    }

    fn unary(&mut self, expr: &syn::ExprUnary) {
        if !matches!(expr.op, UnOp::Not(_) | UnOp::Neg(_)) || !expr.attrs.is_empty() {
            return;
        }
        let operator = self.text(expr.op.span());
        let what = format!("`{operator}` removed from `{}`", self.short(expr.span()));
        let text = format!("({})", self.text(expr.expr.span()));
        self.switch(expr.span(), expr.op.span(), vec![(what, text)]);
    }

    fn call(&mut self, call: &syn::ExprMethodCall) {
        let name = call.method.to_string();
        let other = match (name.as_str(), call.args.len()) {
            ("min", _) => "max",
            ("max", _) => "min",
            ("min_by_key", 1) => "max_by_key",
            ("max_by_key", 1) => "min_by_key",
            ("any", 1) => "all",
            ("all", 1) => "any",
            ("first", 0) => "last",
            ("last", 0) => "first",
            ("saturating_add", 1) => "saturating_sub",
            ("saturating_sub", 1) => "saturating_add",
            _ => return,
        };
        if !call.attrs.is_empty() {
            return;
        }
        let (whole, name_at) = (call.span().byte_range(), call.method.span().byte_range());
        let before = self.source.get(whole.start..name_at.start).unwrap_or("");
        let after = self.source.get(name_at.end..whole.end).unwrap_or("");
        let text = format!("{before}{other}{after}");
        let what = format!("`{name}` → `{other}` in `{}`", self.short(call.span()));
        self.switch(call.span(), call.method.span(), vec![(what, text)]);
    }

    fn arm(&mut self, arm: &syn::Arm, is_spare: bool) {
        let pattern = self.short(arm.pat.span());
        let is_spare = is_spare && !matches!(arm.pat, syn::Pat::Wild(_)) && arm.attrs.is_empty();
        let shut =
            is_spare.then(|| self.change(arm.pat.span(), &format!("arm `{pattern}` removed")));
        match (&arm.guard, shut) {
            (Some((_, guard)), shut) if !has_let(guard) => {
                let text = self.short(guard.span());
                let always = self.change(guard.span(), &format!("guard `{text}` always true"));
                let never = self.change(guard.span(), &format!("guard `{text}` never true"));
                let form = Form::Guard {
                    always,
                    never,
                    shut,
                };
                self.site(guard.span().byte_range(), form);
            }
            (None, Some(shut)) => {
                let at = arm.pat.span().byte_range().end;
                self.site(at..at, Form::Arm(shut));
            }
            _ => {}
        }
    }
}

/// What the compiler works out, and what is there for tests only, is passed over.
impl<'ast> Visit<'ast> for Finder<'_> {
    fn visit_item_const(&mut self, _: &'ast syn::ItemConst) {}
    fn visit_item_static(&mut self, _: &'ast syn::ItemStatic) {}
    fn visit_impl_item_const(&mut self, _: &'ast syn::ImplItemConst) {}
    fn visit_trait_item_const(&mut self, _: &'ast syn::TraitItemConst) {}
    fn visit_item_enum(&mut self, _: &'ast syn::ItemEnum) {}
    fn visit_expr_const(&mut self, _: &'ast syn::ExprConst) {}
    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_type(&mut self, _: &'ast Type) {}
    fn visit_generics(&mut self, _: &'ast syn::Generics) {}
    fn visit_generic_argument(&mut self, _: &'ast syn::GenericArgument) {}
    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}

    fn visit_expr_repeat(&mut self, expr: &'ast syn::ExprRepeat) {
        self.visit_expr(&expr.expr);
    }

    fn visit_item_mod(&mut self, module: &'ast syn::ItemMod) {
        if is_for_tests(&module.attrs) {
            self.found.test_modules.push(module.ident.to_string());
        } else {
            visit::visit_item_mod(self, module);
        }
    }

    fn visit_item_impl(&mut self, block: &'ast syn::ItemImpl) {
        if is_for_tests(&block.attrs) {
            return;
        }
        let name = match &*block.self_ty {
            Type::Path(path) => path.path.segments.last().map(|s| s.ident.to_string()),
            _ => None,
        };
        self.within
            .push(name.unwrap_or_else(|| self.short(block.self_ty.span())));
        visit::visit_item_impl(self, block);
        self.within.pop();
    }

    fn visit_item_trait(&mut self, item: &'ast syn::ItemTrait) {
        self.within.push(item.ident.to_string());
        visit::visit_item_trait(self, item);
        self.within.pop();
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        self.function(&item.sig, &item.attrs, &item.block);
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        self.function(&item.sig, &item.attrs, &item.block);
    }

    fn visit_trait_item_fn(&mut self, item: &'ast syn::TraitItemFn) {
        if let Some(body) = &item.default {
            self.function(&item.sig, &item.attrs, body);
        }
    }

    fn visit_expr_binary(&mut self, expr: &'ast syn::ExprBinary) {
        self.binary(expr);
        visit::visit_expr_binary(self, expr);
    }

    fn visit_expr_unary(&mut self, expr: &'ast syn::ExprUnary) {
        self.unary(expr);
        visit::visit_expr_unary(self, expr);
    }

    fn visit_expr_method_call(&mut self, call: &'ast syn::ExprMethodCall) {
        self.call(call);
        visit::visit_expr_method_call(self, call);
    }

    fn visit_expr_match(&mut self, expr: &'ast syn::ExprMatch) {
        let is_rest = |arm: &syn::Arm| matches!(arm.pat, syn::Pat::Wild(_)) && arm.guard.is_none();
        let has_rest = expr.arms.iter().any(is_rest);
        for arm in &expr.arms {
            self.arm(arm, has_rest);
        }
        visit::visit_expr_match(self, expr);
    }
}

/// Whether something is there for tests only.
fn is_for_tests(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let path = attribute.path();
        let is_cfg_test = path.is_ident("cfg")
            && attribute
                .parse_args::<syn::Ident>()
                .is_ok_and(|word| word == "test");
        path.is_ident("test") || is_cfg_test
    })
}

/// A condition with `let` in it, as far as `&&` and `||` reach.
fn has_let(expr: &Expr) -> bool {
    match expr {
        Expr::Let(_) => true,
        Expr::Binary(binary) => has_let(&binary.left) || has_let(&binary.right),
        _ => false,
    }
}

fn is_let_chain(expr: &syn::ExprBinary) -> bool {
    has_let(&expr.left) || has_let(&expr.right)
}

/// The operators that take the place of one.
fn instead_of(operator: &BinOp) -> &'static [&'static str] {
    match operator {
        BinOp::Eq(_) => &["!="],
        BinOp::Ne(_) => &["=="],
        BinOp::Lt(_) => &["<=", ">"],
        BinOp::Le(_) => &["<", ">"],
        BinOp::Gt(_) => &[">=", "<"],
        BinOp::Ge(_) => &[">", "<"],
        BinOp::Add(_) => &["-"],
        BinOp::Sub(_) => &["+"],
        BinOp::Mul(_) => &["/"],
        BinOp::Div(_) => &["*"],
        BinOp::Rem(_) => &["/"],
        BinOp::And(_) => &["||"],
        BinOp::Or(_) => &["&&"],
        BinOp::BitAnd(_) => &["|"],
        BinOp::BitOr(_) => &["&"],
        BinOp::BitXor(_) => &["|"],
        BinOp::Shl(_) => &[">>"],
        BinOp::Shr(_) => &["<<"],
        BinOp::AddAssign(_) => &["-="],
        BinOp::SubAssign(_) => &["+="],
        BinOp::MulAssign(_) => &["/="],
        BinOp::DivAssign(_) => &["*="],
        BinOp::RemAssign(_) => &["/="],
        BinOp::BitAndAssign(_) => &["|="],
        BinOp::BitOrAssign(_) => &["&="],
        BinOp::BitXorAssign(_) => &["|="],
        BinOp::ShlAssign(_) => &[">>="],
        BinOp::ShrAssign(_) => &["<<="],
        _ => &[],
    }
}

/// What a body of this type can be replaced by.
fn defaults(output: &ReturnType) -> Vec<&'static str> {
    match output {
        ReturnType::Default => vec![""],
        ReturnType::Type(_, kind) => values(kind),
    }
}

fn values(kind: &Type) -> Vec<&'static str> {
    match kind {
        Type::Reference(reference) if reference.mutability.is_none() => match &*reference.elem {
            Type::Path(path) if path.path.is_ident("str") => vec!["\"\""],
            Type::Slice(_) => vec!["&[]"],
            _ => Vec::new(),
        },
        Type::Path(path) => {
            let Some(last) = path.path.segments.last() else {
                return Vec::new();
            };
            match last.ident.to_string().as_str() {
                "bool" => vec!["true", "false"],
                "u8" | "u16" | "u32" | "u64" | "u128" | "usize" | "i8" | "i16" | "i32" | "i64"
                | "i128" | "isize" => vec!["0", "1"],
                "f32" | "f64" => vec!["0.0", "1.0"],
                "Option" => vec!["None"],
                "String" => vec!["String::new()"],
                "Result" => match first_argument(last) {
                    None => vec!["Ok(())"],
                    Some(Type::Tuple(tuple)) if tuple.elems.is_empty() => vec!["Ok(())"],
                    Some(Type::Path(path)) if path.path.is_ident("bool") => {
                        vec!["Ok(true)", "Ok(false)"]
                    }
                    Some(_) => vec!["Ok(Default::default())"],
                },
                _ => vec!["Default::default()"],
            }
        }
        _ => Vec::new(),
    }
}

fn first_argument(segment: &syn::PathSegment) -> Option<&Type> {
    let syn::PathArguments::AngleBracketed(arguments) = &segment.arguments else {
        return None;
    };
    arguments.args.iter().find_map(|argument| match argument {
        syn::GenericArgument::Type(kind) => Some(kind),
        _ => None,
    })
}

/// Source text on one line, shortened in the middle if it is long.
fn one_line(text: &str) -> String {
    const MOST: usize = 100;
    const END: usize = 40;
    let words: Vec<&str> = text.split_whitespace().collect();
    let line = words.join(" ");
    let letters: Vec<char> = line.chars().collect();
    if letters.len() <= MOST {
        return line;
    }
    let begin: String = letters.iter().take(MOST - END).collect();
    let end: String = letters.iter().skip(letters.len() - END).collect();
    format!("{begin} … {end}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn changes(source: &str) -> Vec<String> {
        let found = find(source).expect("Rust");
        found
            .changes
            .into_iter()
            .map(|change| change.what)
            .collect()
    }

    #[test]
    fn a_change_is_called_by_its_function_and_by_what_it_does() {
        let source = "impl A { fn f(&self, a: u8) -> bool { a < 3 && !self.g() } }";
        let expected = [
            "A::f: body → `true`",
            "A::f: body → `false`",
            "A::f: `&&` → `||` in `a < 3 && !self.g()`",
            "A::f: `<` → `<=` in `a < 3`",
            "A::f: `<` → `>` in `a < 3`",
            "A::f: `!` removed from `!self.g()`",
        ];
        assert_eq!(changes(source), expected);
    }

    #[test]
    fn the_same_twice_in_a_function_is_numbered() {
        let source = "fn f(a: &mut X) { a.b += 1; a.b += 1; }";
        assert_eq!(changes(source)[1], "f: `+=` → `-=` in `a.b += 1`");
        assert_eq!(changes(source)[2], "f: `+=` → `-=` in `a.b += 1` #2");
    }

    #[test]
    fn what_the_compiler_works_out_and_tests_are_left_alone() {
        let source = "const A: u8 = 1 + 2; const fn f() -> u8 { 1 + 2 }
            static B: [u8; 1 + 2] = [0; 1 + 2];
            #[test] fn t() { f() + 1; } #[cfg(test)] mod tests { fn g() { 1 + 1; } }";
        assert_eq!(changes(source), Vec::<String>::new());
        assert_eq!(find(source).expect("Rust").test_modules, ["tests"]);
    }

    #[test]
    fn an_arm_can_be_removed_only_where_a_rest_takes_what_it_leaves() {
        let source = "fn f(a: u8) { match a { 1 if g() => h(), 2 => i(), _ => j() } }";
        let expected = [
            "f: body removed",
            "f: arm `1` removed",
            "f: guard `g()` always true",
            "f: guard `g()` never true",
            "f: arm `2` removed",
        ];
        assert_eq!(changes(source), expected);
        assert_eq!(
            changes("fn f(a: bool) { match a { true => {} false => {} } }").len(),
            1
        );
    }
}
