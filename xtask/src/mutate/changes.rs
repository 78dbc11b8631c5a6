//! What could be said otherwise in a source, so that it still compiles.
//!
//! Constant items, patterns, types and macros are passed over: nothing can sleep there. A
//! constant is changed where it is used.

use std::collections::HashMap;
use std::ops::Range;

use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{BinOp, Block, Expr, Lit, Pat, ReturnType, Signature, Stmt, Type, UnOp};

use super::mutant::{Change, Way};

/// The numbers that have a name anywhere in the house: by their names, what they are.
pub(super) type Constants = HashMap<String, Number>;

/// What a named number is, as far as it says how to change it.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Number {
    Whole,
    Real,
}

/// Operators, and what each is taken for.
const OPERATORS: &[(&str, &str)] = &[
    ("+", "-"),
    ("-", "+"),
    ("*", "/"),
    ("/", "*"),
    ("%", "/"),
    ("+=", "-="),
    ("-=", "+="),
    ("*=", "/="),
    ("/=", "*="),
    ("&&", "||"),
    ("||", "&&"),
    ("==", "!="),
    ("!=", "=="),
    ("<", ">="),
    ("<=", ">"),
    (">", "<="),
    (">=", "<"),
];

/// Comparisons of whole numbers, moved by one. Between others a bound is never met.
const MOVED: &[(&str, &str)] = &[("<", "<="), ("<=", "<"), (">", ">="), (">=", ">")];

/// Methods, and what each is taken for.
const METHODS: &[(&str, &str)] = &[
    ("all", "any"),
    ("any", "all"),
    ("ceil", "floor"),
    ("cos", "sin"),
    ("first", "last"),
    ("floor", "ceil"),
    ("is_none", "is_some"),
    ("is_some", "is_none"),
    ("last", "first"),
    ("max", "min"),
    ("max_by", "min_by"),
    ("min", "max"),
    ("min_by", "max_by"),
    ("sin", "cos"),
];

/// Traits that say something to nobody but a programmer, or in words.
const UNHEARD: &[&str] = &["Debug", "Display"];

/// The named numbers of a source.
pub(super) fn constants(source: &str) -> Result<Constants, String> {
    #[derive(Default)]
    struct Found(Constants);
    impl Found {
        fn add(&mut self, name: &syn::Ident, of: &Type) {
            if let Some(number) = number(of) {
                self.0.insert(name.to_string(), number);
            }
        }
    }
    impl Visit<'_> for Found {
        fn visit_item_const(&mut self, item: &syn::ItemConst) {
            self.add(&item.ident, &item.ty);
        }
        fn visit_impl_item_const(&mut self, item: &syn::ImplItemConst) {
            self.add(&item.ident, &item.ty);
        }
    }
    let mut found = Found::default();
    found.visit_file(&parsed(source)?);
    Ok(found.0)
}

/// Everything that could be said otherwise in a source.
pub(super) fn changes(source: &str, constants: &Constants) -> Result<Vec<Change>, String> {
    let mut finder = Finder {
        source,
        constants,
        function: String::new(),
        found: Vec::new(),
    };
    finder.visit_file(&parsed(source)?);
    Ok(finder.found)
}

fn parsed(source: &str) -> Result<syn::File, String> {
    syn::parse_file(source).map_err(|error| {
        let at = error.span().start();
        format!("line {}: {error}", at.line)
    })
}

fn number(of: &Type) -> Option<Number> {
    match named(of)?.as_str() {
        "f64" | "Angle" | "Length" | "Amount" => Some(Number::Real),
        name if is_whole(name) => Some(Number::Whole),
        _ => None,
    }
}

fn is_whole(name: &str) -> bool {
    const WHOLE: &[&str] = &[
        "u8", "u16", "u32", "u64", "usize", "i8", "i16", "i32", "i64", "isize",
    ];
    WHOLE.contains(&name)
}

/// The last name of a type that is a path.
fn named(of: &Type) -> Option<String> {
    match of {
        Type::Path(path) => path.path.segments.last().map(|last| last.ident.to_string()),
        _ => None,
    }
}

struct Finder<'a> {
    source: &'a str,
    constants: &'a Constants,
    function: String,
    found: Vec<Change>,
}

impl Finder<'_> {
    fn text(&self, of: &impl Spanned) -> &str {
        self.source.get(of.span().byte_range()).unwrap_or_default()
    }

    fn add(&mut self, range: Range<usize>, line: usize, way: Way, told: String) {
        self.found.push(Change {
            range,
            line,
            function: self.function.clone(),
            way,
            told,
        });
    }

    /// An expression in the place of another, told as it is.
    fn instead(&mut self, of: &impl Spanned, new: String) {
        let told = format!("`{}` → `{}`", abridged(self.text(of)), abridged(&new));
        self.instead_told(of, new, told);
    }

    fn instead_told(&mut self, of: &impl Spanned, new: String, told: String) {
        let span = of.span();
        let line = span.start().line;
        self.add(span.byte_range(), line, Way::Instead(new), told);
    }

    fn binary(&mut self, expr: &syn::ExprBinary) {
        if [&expr.left, &expr.right]
            .into_iter()
            .any(|side| holds_let(side))
        {
            return;
        }
        let (left, right) = (self.text(&expr.left), self.text(&expr.right));
        let (left, right) = (left.to_owned(), right.to_owned());
        let operator = self.text(&expr.op).to_owned();
        let moved = is_count(&expr.left) || is_count(&expr.right);
        let tables = [Some(OPERATORS), moved.then_some(MOVED)];
        for (from, to) in tables.into_iter().flatten().flatten() {
            if *from == operator {
                let told = format!(
                    "`{l} {from} {r}` → `{l} {to} {r}`",
                    l = abridged(&left),
                    r = abridged(&right)
                );
                self.instead_told(expr, format!("{left} {to} {right}"), told);
            }
        }
    }

    fn method(&mut self, expr: &syn::ExprMethodCall) {
        let method = expr.method.to_string();
        let Some((_, other)) = METHODS.iter().find(|(from, _)| *from == method) else {
            return;
        };
        let whole = expr.span().byte_range();
        let name = expr.method.span().byte_range();
        let before = &self.source[whole.start..name.start];
        let after = &self.source[name.end..whole.end];
        let told = format!(
            "`{b}{method}{a}` → `{b}{other}{a}`",
            b = abridged(before),
            a = abridged(after)
        );
        let new = format!("{before}{other}{after}");
        self.instead_told(expr, new, told);
    }

    fn literal(&mut self, expr: &syn::ExprLit) {
        let text = self.text(expr).to_owned();
        let new = match &expr.lit {
            Lit::Float(float) => match float.base10_parse::<f64>() {
                Ok(0.0) => format!("1.0{}", float.suffix()),
                _ => format!("2.0 * {text}"),
            },
            Lit::Int(_) => format!("{text} + 1"),
            Lit::Bool(bool) => (!bool.value).to_string(),
            _ => return,
        };
        self.instead(expr, new);
    }

    fn constant(&mut self, expr: &syn::ExprPath) {
        let Some(last) = expr.path.segments.last() else {
            return;
        };
        // Nothing doubled is nothing.
        if last.ident == "ZERO" {
            return;
        }
        let text = self.text(expr).to_owned();
        match self.constants.get(&last.ident.to_string()) {
            Some(Number::Real) => self.instead(expr, format!("{text} * 2.0")),
            Some(Number::Whole) => self.instead(expr, format!("{text} + 1")),
            None => {}
        }
    }

    /// A condition that no operator is turned in already.
    fn condition(&mut self, condition: &Expr) {
        let turned_already = matches!(condition, Expr::Binary(_) | Expr::Unary(_));
        if !turned_already && !holds_let(condition) {
            self.instead(condition, format!("!({})", self.text(condition)));
        }
    }

    /// What a function could answer without doing anything.
    fn answers(&mut self, signature: &Signature, block: &Block) {
        let answers: &[&str] = match &signature.output {
            ReturnType::Default => &[""],
            ReturnType::Type(_, of) => match named(of).as_deref() {
                Some("bool") => &["true", "false"],
                Some("f64") => &["0.0", "1.0"],
                Some("Angle" | "Length" | "String") => &["Default::default()"],
                Some("Option") => &["None"],
                Some("Vec") => &["Vec::new()"],
                Some(name) if is_whole(name) => &["0", "1"],
                _ => &[],
            },
        };
        // A function that does nothing already cannot do less.
        if block.stmts.is_empty() {
            return;
        }
        let at = block.brace_token.span.open().byte_range().end;
        let line = signature.span().start().line;
        for answer in answers {
            let told = match *answer {
                "" => "does nothing".to_owned(),
                answer => format!("answers `{answer}`"),
            };
            self.add(at..at, line, Way::Answered((*answer).to_owned()), told);
        }
    }

    fn function(&mut self, attributes: &[syn::Attribute], signature: &Signature, block: &Block) {
        if signature.constness.is_some() || is_conditional(attributes) {
            return;
        }
        let outer = std::mem::replace(&mut self.function, signature.ident.to_string());
        self.answers(signature, block);
        self.visit_block(block);
        self.function = outer;
    }
}

impl<'a> Visit<'a> for Finder<'_> {
    fn visit_expr(&mut self, expr: &'a Expr) {
        match expr {
            Expr::Binary(binary) => self.binary(binary),
            Expr::MethodCall(call) => self.method(call),
            Expr::Lit(literal) => self.literal(literal),
            Expr::Path(path) => self.constant(path),
            Expr::If(choice) => self.condition(&choice.cond),
            Expr::Unary(unary) if matches!(unary.op, UnOp::Not(_) | UnOp::Neg(_)) => {
                self.instead(unary, self.text(&unary.expr).to_owned());
            }
            _ => {}
        }
        visit::visit_expr(self, expr);
    }

    fn visit_stmt(&mut self, statement: &'a Stmt) {
        if let Stmt::Expr(expr, Some(_)) = statement
            && matches!(
                expr,
                Expr::Assign(_) | Expr::Call(_) | Expr::MethodCall(_) | Expr::Try(_)
            )
        {
            let span = statement.span();
            let told = format!("`{}` is left out", abridged(self.text(statement)));
            self.add(span.byte_range(), span.start().line, Way::LeftOut, told);
        }
        visit::visit_stmt(self, statement);
    }

    fn visit_pat(&mut self, pattern: &'a Pat) {
        if let Pat::Guard(guarded) = pattern {
            self.condition(&guarded.guard);
            self.visit_expr(&guarded.guard);
        }
    }

    fn visit_expr_repeat(&mut self, repeat: &'a syn::ExprRepeat) {
        self.visit_expr(&repeat.expr);
    }

    fn visit_item_fn(&mut self, item: &'a syn::ItemFn) {
        self.function(&item.attrs, &item.sig, &item.block);
    }

    fn visit_impl_item_fn(&mut self, item: &'a syn::ImplItemFn) {
        self.function(&item.attrs, &item.sig, &item.block);
    }

    fn visit_trait_item_fn(&mut self, item: &'a syn::TraitItemFn) {
        if let Some(block) = &item.default {
            self.function(&item.attrs, &item.sig, block);
        }
    }

    fn visit_item_mod(&mut self, item: &'a syn::ItemMod) {
        if !is_conditional(&item.attrs) {
            visit::visit_item_mod(self, item);
        }
    }

    fn visit_item_impl(&mut self, item: &'a syn::ItemImpl) {
        let of = item
            .trait_
            .as_ref()
            .and_then(|(path, _)| path.segments.last());
        let is_unheard = of.is_some_and(|last| UNHEARD.iter().any(|name| last.ident == name));
        if !is_unheard && !is_conditional(&item.attrs) {
            visit::visit_item_impl(self, item);
        }
    }

    // Nothing sleeps in what is known before the program runs.
    fn visit_attribute(&mut self, _: &'a syn::Attribute) {}
    fn visit_expr_const(&mut self, _: &'a syn::ExprConst) {}
    fn visit_generics(&mut self, _: &'a syn::Generics) {}
    fn visit_generic_argument(&mut self, _: &'a syn::GenericArgument) {}
    fn visit_impl_item_const(&mut self, _: &'a syn::ImplItemConst) {}
    fn visit_item_const(&mut self, _: &'a syn::ItemConst) {}
    fn visit_item_static(&mut self, _: &'a syn::ItemStatic) {}
    fn visit_trait_item_const(&mut self, _: &'a syn::TraitItemConst) {}
    fn visit_type(&mut self, _: &'a Type) {}
    fn visit_variant(&mut self, _: &'a syn::Variant) {}
}

/// Whether an item is there in some builds alone.
fn is_conditional(attributes: &[syn::Attribute]) -> bool {
    attributes
        .iter()
        .any(|attribute| attribute.path().is_ident("cfg") || attribute.path().is_ident("test"))
}

/// Whether a condition names what it matches: `let` stands nowhere else.
fn holds_let(condition: &Expr) -> bool {
    match condition {
        Expr::Let(_) => true,
        Expr::Binary(both) if matches!(both.op, BinOp::And(_)) => {
            holds_let(&both.left) || holds_let(&both.right)
        }
        _ => false,
    }
}

/// Whether an expression is seen to be a whole number.
fn is_count(expr: &Expr) -> bool {
    match expr {
        Expr::Lit(literal) => matches!(literal.lit, Lit::Int(_)),
        Expr::MethodCall(call) => call.method == "len" || call.method == "count",
        _ => false,
    }
}

/// A piece of source on one line, its middle left out where it is long.
fn abridged(text: &str) -> String {
    const MOST: usize = 48;
    let words: Vec<&str> = text.split_whitespace().collect();
    let line: Vec<char> = words.join(" ").chars().collect();
    if line.len() <= MOST {
        return line.into_iter().collect();
    }
    let begin: String = line[..MOST / 2].iter().collect();
    let end: String = line[line.len() - MOST / 2..].iter().collect();
    format!("{begin}…{end}")
}
