//! The tables, each in a file of its own.

mod kind;
mod written;

pub use kind::{Kind, Needs};

use crate::TableError;

/// The list, in the order of a book: a line is a file beside this one, with its table.
macro_rules! tables {
    ($($module:ident: $($table:ident),+;)*) => {
        $(pub(crate) mod $module;)*

        /// Every table.
        pub const TABLES: &[Kind] = &[$($($module::$table),+),*];
    };
}

tables! {
    houses: HOUSES;
    right_ascensions: RIGHT_ASCENSIONS;
    oblique_ascensions: OBLIQUE_ASCENSIONS;
    semi_arcs: SEMI_ARCS;
    positions: POSITIONS;
    equation_of_time: EQUATION_OF_TIME;
    sidereal_time: SIDEREAL_TIME;
    acceleration: ACCELERATION;
    ephemeris: EPHEMERIS;
    planetary_hours: PLANETARY_HOURS;
    rulers_of_hours: RULERS_OF_HOURS;
    stars: STARS;
    refraction: REFRACTION;
    logarithms: DIURNAL_LOGARITHMS, TERNARY_LOGARITHMS, LOGISTIC_LOGARITHMS;
    second_differences: SECOND_DIFFERENCES;
    sexagesimal_multiplication: SEXAGESIMAL_MULTIPLICATION;
}

/// The table of a name, in letters of either case.
///
/// # Errors
/// When there is none; the message lists those that there are.
pub fn named(name: &str) -> Result<&'static Kind, TableError> {
    let name = name.trim();
    let found = TABLES
        .iter()
        .find(|one| one.name.eq_ignore_ascii_case(name));
    found.ok_or_else(|| TableError::Unknown {
        name: name.chars().take(40).collect(),
        names: names(),
    })
}

/// The names, for a message.
fn names() -> String {
    let names: Vec<&str> = TABLES.iter().map(|one| one.name).collect();
    names.join(", ")
}
