use std::fmt;

use sky::Sign;

use crate::{Figure, Form};

/// What a table is made of: what stands in it, at which arguments, and what is
/// exactly so at any argument between them.
pub trait Definition {
    /// What it is called, what it means, and its columns.
    fn head(&self) -> Head;

    /// Its arguments, in order, parted as they are to be read.
    fn parts(&self) -> Vec<PartOf>;

    /// What is exactly so at an argument, for each column, unrounded.
    fn exact(&self, at: f64) -> Vec<Exact>;

    /// Whether what lies between two rows means anything.
    fn has_between(&self) -> bool {
        true
    }
}

/// What stands above a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// What it is called, with what it is made for.
    pub title: String,
    /// What its numbers mean, a sentence each.
    pub definitions: Vec<String>,
    /// What it is entered with.
    pub argument: Column,
    /// What is found in it.
    pub columns: Vec<Column>,
}

/// A column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its name in files, with its unit: `declination_deg`.
    pub key: String,
    /// Its heading.
    pub head: String,
    /// How its numbers are written; none for words.
    pub form: Option<Form>,
    /// Whether one may go between two rows of it.
    pub has_between: bool,
}

impl Column {
    /// A column of numbers.
    #[must_use]
    pub fn new(key: &str, head: &str, form: Form) -> Column {
        Column {
            key: key.to_owned(),
            head: head.to_owned(),
            form: Some(form),
            has_between: true,
        }
    }

    /// The same, of which what lies between two rows means nothing: a sidereal time that
    /// goes round from day to day.
    #[must_use]
    pub fn without_between(self) -> Column {
        Column {
            has_between: false,
            ..self
        }
    }

    /// A column of words.
    #[must_use]
    pub fn words(key: &str, head: &str) -> Column {
        Column {
            form: None,
            ..Column::new(key, head, Form::Sixties)
        }
    }
}

/// Arguments under one heading.
#[derive(Clone, Debug, PartialEq)]
pub struct PartOf {
    /// What stands above them; empty where nothing does.
    pub heading: String,
    /// The arguments.
    pub arguments: Vec<Argument>,
    /// What is told beneath, a line each.
    pub notes: Vec<String>,
}

/// An argument and how it is written.
#[derive(Clone, Debug, PartialEq)]
pub struct Argument {
    /// Its value.
    pub at: f64,
    /// How it is written.
    pub written: Cell,
}

/// What is exactly so in one column.
#[derive(Clone, Debug, PartialEq)]
pub enum Exact {
    /// A number, in the unit of the column's form.
    Number(f64),
    /// Words.
    Words(String),
    /// Nothing: the question has no answer there.
    Nothing,
}

impl From<Option<f64>> for Exact {
    fn from(number: Option<f64>) -> Exact {
        number.map_or(Exact::Nothing, Exact::Number)
    }
}

/// What is printed in one place.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// A number with its digits.
    Figure(Figure),
    /// Words.
    Words(String),
    /// A stroke: there is no answer.
    Nothing,
}

impl Cell {
    /// The number, where there is one.
    #[must_use]
    pub const fn figure(&self) -> Option<Figure> {
        match self {
            Cell::Figure(figure) => Some(*figure),
            Cell::Words(_) | Cell::Nothing => None,
        }
    }

    /// The sign that it stands in, where it is a longitude.
    #[must_use]
    pub fn sign(&self) -> Option<Sign> {
        self.figure().and_then(Figure::sign)
    }
}

impl fmt::Display for Cell {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Cell::Figure(figure) => figure.fmt(f),
            Cell::Words(words) => f.pad(words),
            Cell::Nothing => f.pad("–"),
        }
    }
}

/// A printed table.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Its name in the list of tables.
    pub name: &'static str,
    /// What stands above it.
    pub head: Head,
    /// What is printed.
    pub parts: Vec<Part>,
    /// How wrong a straight line between its rows is, for each column of numbers;
    /// empty where nothing lies between them.
    pub between: Vec<Between>,
}

/// Rows under one heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What stands above them; empty where nothing does.
    pub heading: String,
    /// The rows.
    pub rows: Vec<Row>,
    /// What is told beneath, a line each.
    pub notes: Vec<String>,
}

/// A row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What the table is entered with.
    pub at: f64,
    /// The same as it is written.
    pub argument: Cell,
    /// What is found there.
    pub cells: Vec<Cell>,
}

/// How wrong a straight line between the rows of a column is, before anything is
/// rounded: measured at every eighth of every gap.
#[derive(Clone, Debug, PartialEq)]
pub struct Between {
    /// The column.
    pub column: usize,
    /// The largest error met with, in the unit of the column.
    pub largest: f64,
    /// Nine in ten are no larger than this.
    pub nine_in_ten: f64,
    /// After which row the largest is.
    pub after: String,
}

/// Where between two rows a straight line is tried.
const TRIED: [f64; 7] = [0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875];

impl Table {
    /// Prints a definition.
    #[must_use]
    pub fn of(name: &'static str, definition: &dyn Definition) -> Table {
        let head = definition.head();
        let parts = definition.parts();
        let mut rows_before: Option<(Argument, Vec<Exact>)> = None;
        let mut heading_before = String::new();
        let mut errors: Vec<Vec<(f64, String)>> = vec![Vec::new(); head.columns.len()];
        let mut printed = Vec::with_capacity(parts.len());
        for part in parts {
            let mut rows = Vec::with_capacity(part.arguments.len());
            for argument in part.arguments {
                let exact = definition.exact(argument.at);
                let cells = head.columns.iter().zip(&exact).map(print).collect();
                if definition.has_between()
                    && let Some(before) = &rows_before
                    && before.0.at < argument.at
                {
                    let from = (&before.0, before.1.as_slice());
                    let to = (argument.at, exact.as_slice());
                    measure(definition, &head, from, to, &heading_before, &mut errors);
                }
                rows.push(Row {
                    at: argument.at,
                    argument: argument.written.clone(),
                    cells,
                });
                rows_before = Some((argument, exact));
                heading_before.clone_from(&part.heading);
            }
            printed.push(Part {
                heading: part.heading,
                rows,
                notes: part.notes,
            });
        }
        let between = errors.into_iter().enumerate();
        Table {
            name,
            head,
            parts: printed,
            between: between
                .filter_map(|(column, errors)| Between::of(column, errors))
                .collect(),
        }
    }

    /// All its rows.
    pub fn rows(&self) -> impl Iterator<Item = &Row> {
        self.parts.iter().flat_map(|part| &part.rows)
    }

    /// The number of a column with this name in files.
    #[must_use]
    pub fn column(&self, key: &str) -> Option<usize> {
        self.head.columns.iter().position(|one| one.key == key)
    }

    /// How its numbers are rounded, in a sentence.
    #[must_use]
    pub fn rounding(&self) -> String {
        let mut digits: Vec<String> = Vec::new();
        for form in self.head.columns.iter().filter_map(|one| one.form) {
            let digit = form.last_digit();
            if !digits.contains(&digit) {
                digits.push(digit);
            }
        }
        if digits.is_empty() {
            return "Nothing is rounded.".to_owned();
        }
        format!(
            "Every number is rounded to its last digit ({}), halves away from zero, and is true \
             to half of it.",
            digits.join(", ")
        )
    }

    /// How wrong a straight line between its rows can be, in a sentence; none where
    /// nothing lies between them.
    #[must_use]
    pub fn interpolation(&self) -> Option<String> {
        let worst = self.between.iter().max_by(|a, b| {
            let counts = |one: &Between| one.largest * self.per_unit(one.column);
            counts(a).total_cmp(&counts(b))
        })?;
        let column = self.head.columns.get(worst.column)?;
        let form = column.form?;
        Some(format!(
            "A straight line between two rows is off by {} at most (in {}, after {}), and by {} or \
             less in nine cases of ten; to that comes the rounding.",
            form.size(worst.largest),
            column.head,
            worst.after,
            form.size(worst.nine_in_ten)
        ))
    }

    fn per_unit(&self, column: usize) -> f64 {
        let form = self.head.columns.get(column).and_then(|one| one.form);
        form.map_or(0.0, Form::per_unit)
    }
}

fn print((column, exact): (&Column, &Exact)) -> Cell {
    match (exact, column.form) {
        (Exact::Number(number), Some(form)) if number.is_finite() => {
            Cell::Figure(Figure::written(form, *number))
        }
        (Exact::Words(words), _) => Cell::Words(words.clone()),
        _ => Cell::Nothing,
    }
}

/// Tries the straight line between two rows, in each column where both have a number.
fn measure(
    definition: &dyn Definition,
    head: &Head,
    (before, from): (&Argument, &[Exact]),
    (next_at, to): (f64, &[Exact]),
    heading: &str,
    errors: &mut [Vec<(f64, String)>],
) {
    // A day of the month is one by the month's name.
    let after = match &before.written {
        Cell::Words(words) => format!("{words} {heading}"),
        other @ (Cell::Figure(_) | Cell::Nothing) => other.to_string(),
    };
    for part in TRIED {
        let truly = definition.exact(before.at + (next_at - before.at) * part);
        for (index, column) in head.columns.iter().enumerate() {
            let form = column.form.filter(|_| column.has_between);
            let (Some(form), Some(found)) = (form, errors.get_mut(index)) else {
                continue;
            };
            let here = |of: &[Exact]| match of.get(index) {
                Some(Exact::Number(number)) => Some(*number),
                _ => None,
            };
            if let (Some(from), Some(to), Some(truly)) = (here(from), here(to), here(&truly)) {
                let straight = from + form.from_to(from, to) * part;
                found.push((form.from_to(truly, straight).abs(), after.clone()));
            }
        }
    }
}

impl Between {
    fn of(column: usize, mut errors: Vec<(f64, String)>) -> Option<Between> {
        errors.sort_by(|a, b| a.0.total_cmp(&b.0));
        let nine_in_ten = errors.get(errors.len() * 9 / 10)?.0;
        let (largest, after) = errors.pop()?;
        Some(Between {
            column,
            largest,
            nine_in_ten,
            after,
        })
    }
}
