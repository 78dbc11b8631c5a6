use figure::Horizon;
use sky::{Angle, Latitude, Sign};

use crate::{Argument, Ask, Cell, Definition, Figure, Form, PartOf, Table, TableError};

/// A table of the list: everything known of it stands in one value in one file.
#[derive(Clone, Copy)]
pub struct Kind {
    /// Its name: `oblique-ascensions`.
    pub name: &'static str,
    /// What it is for, in one line.
    pub what: &'static str,
    /// What it is made for.
    pub needs: Needs,
    define: fn(&Ask) -> Result<Box<dyn Definition>, TableError>,
}

/// What a table is made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Needs {
    /// Nothing: it is the same everywhere and always.
    Nothing,
    /// The obliquity of a year.
    Obliquity,
    /// A latitude, and the obliquity of a year.
    Latitude,
    /// The days of a year.
    Days,
    /// The days of a year at a place.
    DaysAtPlace,
}

impl Kind {
    /// The definition for what is asked.
    ///
    /// # Errors
    /// When the table cannot be made for it.
    pub fn define(&self, ask: &Ask) -> Result<Box<dyn Definition>, TableError> {
        (self.define)(ask)
    }

    /// The printed table.
    ///
    /// # Errors
    /// When the table cannot be made for what is asked.
    pub fn make(&self, ask: &Ask) -> Result<Table, TableError> {
        Ok(Table::of(self.name, self.define(ask)?.as_ref()))
    }
}

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
    found.ok_or_else(|| TableError::Unknown(name.chars().take(40).collect()))
}

/// The names, for a message.
pub(crate) fn names() -> String {
    let names: Vec<&str> = TABLES.iter().map(|one| one.name).collect();
    names.join(", ")
}

/// A latitude as titles have it: `51°32′ N`.
fn north_or_south(latitude: Latitude) -> String {
    let side = if latitude.deg() < 0.0 { "S" } else { "N" };
    let minutes = (latitude.deg().abs() * 60.0).round();
    format!("{}°{:02}′ {side}", (minutes / 60.0).floor(), minutes % 60.0)
}

/// An angle to the second, as titles have it: `23°26′17″`, and without seconds where
/// there are none.
fn to_second(angle: Angle) -> String {
    let seconds = angle.arcsec().round();
    let (minutes, rest) = ((seconds / 60.0).floor(), seconds % 60.0);
    let text = format!("{}°{:02}′", (minutes / 60.0).floor(), minutes % 60.0);
    if rest > 0.0 {
        format!("{text}{rest:02}″")
    } else {
        text
    }
}

/// The degrees of the ecliptic, a sign a part.
fn by_signs(heading: impl Fn(Sign) -> String) -> Vec<PartOf> {
    let degree = |sign: Sign, degree: u32| {
        let at = sign.begins().deg() + f64::from(degree);
        Argument {
            at,
            written: Cell::Figure(Figure::written(Form::ZodiacDegree, at)),
        }
    };
    Sign::ALL
        .into_iter()
        .map(|sign| PartOf {
            heading: heading(sign),
            arguments: (0..30).map(|within| degree(sign, within)).collect(),
            notes: Vec::new(),
        })
        .collect()
}

/// The horizon of a latitude, for what does not depend on the time.
fn horizon_of(latitude: Latitude, obliquity: Angle) -> Horizon {
    Horizon {
        sidereal_time: Angle::ZERO,
        obliquity,
        latitude,
    }
}

/// A whole number as an argument.
fn whole(number: u32) -> Argument {
    Argument {
        at: f64::from(number),
        written: Cell::Figure(Figure::written(Form::Number(0), f64::from(number))),
    }
}

/// One part without a heading.
fn one_part(arguments: impl IntoIterator<Item = Argument>) -> Vec<PartOf> {
    vec![PartOf {
        heading: String::new(),
        arguments: arguments.into_iter().collect(),
        notes: Vec::new(),
    }]
}
