use ::tables::{Ask, By, Cell, DayHour, Kind, Needs, Row, TABLES, Table, TableError};
use std::collections::BTreeMap;

use moment::{Calendar, CivilDate, Zone};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::Angle;

use crate::moment::understood_place;
use crate::refusal::{Field, Refusal, quoted};

/// What is asked when a table is wanted: texts, as a person gives them.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct TableRequest {
    /// Its name.
    pub name: String,
    /// The place, for tables that are made for one.
    pub at: Option<String>,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// By which clock the days of a year are counted: `zone` or `mean`, of the place; at
    /// Greenwich unless said, and planetary hours by the zone.
    pub clock: Option<String>,
    /// The year of the days and of the obliquity; this year's unless said.
    pub year: Option<i32>,
    /// A month alone, 1 to 12.
    pub month: Option<u8>,
    /// `gregorian` or `julian`.
    pub calendar: Option<String>,
    /// At which hour the days stand: `noon` unless said, or `midnight`.
    pub hour: Option<String>,
    /// The obliquity in degrees, instead of the year's.
    pub obliquity: Option<f64>,
    /// The house method; alcabitius unless said.
    pub houses: Option<String>,
    /// What a table of houses is entered with: `sidereal-time` unless said, or `midheaven`.
    pub by: Option<String>,
}

/// A table: what it says of itself, and its rows.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TableAnswer {
    /// Its name in the list of tables.
    pub name: &'static str,
    /// Its title.
    pub title: String,
    /// What its numbers mean.
    pub definitions: Vec<String>,
    /// How they are rounded.
    pub rounding: String,
    /// How wrong a straight line between its rows can be; null where nothing lies between.
    pub interpolation: Option<String>,
    /// The same for each column, measured.
    pub between: Vec<BetweenAnswer>,
    /// Its columns, the argument first.
    pub columns: Vec<ColumnAnswer>,
    /// Headings of its parts, with how many rows stand under each and what is told beneath.
    pub parts: Vec<PartAnswer>,
    /// The printed numbers by the names of their columns, in degrees, hours or as the name
    /// says; of a table of houses `midheaven_deg`, `sidereal_time_h` and `cusps_deg` with
    /// XI, XII, I, II, III. Null where there is no answer.
    pub rows: Vec<BTreeMap<String, FieldAnswer>>,
}

/// What a row has under a name.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum FieldAnswer {
    /// A printed number.
    Number(f64),
    /// Words.
    Words(String),
    /// Cusps by their numerals.
    Cusps(BTreeMap<String, Option<f64>>),
    /// No answer.
    Nothing,
}

/// How wrong a straight line between the rows of a column is, rounding apart.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct BetweenAnswer {
    /// The column's name.
    pub column: String,
    /// The largest error met with, in the column's unit.
    pub largest: f64,
    /// Nine in ten are no larger.
    pub nine_in_ten: f64,
    /// The row after which the largest is.
    pub after: String,
}

/// A column of a table.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct ColumnAnswer {
    /// Its name, with its unit.
    pub key: String,
    /// Its heading.
    pub head: String,
    /// What its last digit is; null for words.
    pub last_digit: Option<String>,
}

/// A part of a table.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PartAnswer {
    /// Its heading.
    pub heading: String,
    /// How many rows.
    pub rows: usize,
    /// What is told beneath them.
    pub notes: Vec<String>,
}

/// A table that there is.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct TableKindAnswer {
    /// Its name.
    pub name: &'static str,
    /// What it is for.
    pub what: &'static str,
    /// What it is made for.
    pub made_for: &'static str,
}

/// A table as it is printed, with what is said of it.
#[derive(Clone, Debug)]
pub struct PrintedTable {
    /// The answer.
    pub answer: TableAnswer,
    /// What is set on a page.
    pub table: Table,
}

/// The tables that there are.
#[must_use]
pub fn table_kinds() -> Vec<TableKindAnswer> {
    let kind = |kind: &Kind| TableKindAnswer {
        name: kind.name,
        what: kind.what,
        made_for: match kind.needs {
            Needs::Nothing => "the same everywhere and always",
            Needs::Obliquity => "for a year",
            Needs::Latitude => "for a place and a year",
            Needs::Days => "for the days of a year",
            Needs::DaysAtPlace => "for the days of a year at a place",
        },
    };
    TABLES.iter().map(kind).collect()
}

/// A table. `now_unix_s` is the time now, for the year that goes without saying.
///
/// # Errors
/// When the request cannot be understood, or the table cannot be made for it.
pub fn table(request: &TableRequest, now_unix_s: Option<f64>) -> Result<PrintedTable, Refusal> {
    let kind = ::tables::named(&request.name).map_err(refused)?;
    printed(kind, request, now_unix_s)
}

/// Every table for a place and a year, as a book has them.
///
/// # Errors
/// When the request cannot be understood, or a table cannot be made for it.
pub fn table_book(
    request: &TableRequest,
    now_unix_s: Option<f64>,
) -> Result<Vec<PrintedTable>, Refusal> {
    let tables = TABLES.iter();
    tables
        .map(|kind| printed(kind, request, now_unix_s))
        .collect()
}

fn printed(
    kind: &'static Kind,
    request: &TableRequest,
    now_unix_s: Option<f64>,
) -> Result<PrintedTable, Refusal> {
    let ask = asked(kind, request, now_unix_s)?;
    let table = kind.make(&ask).map_err(refused)?;
    Ok(PrintedTable {
        answer: TableAnswer::of(&table, ask.calendar),
        table,
    })
}

/// What is asked of a table.
fn asked(kind: &Kind, request: &TableRequest, now_unix_s: Option<f64>) -> Result<Ask, Refusal> {
    let year = request.year.or_else(|| now_unix_s.map(this_year));
    let year = year.ok_or_else(|| {
        Refusal::new(
            Field::When,
            "no year is said, and the time now is not known; a year such as 2027 would do",
        )
    })?;
    let mut ask = Ask::of_year(year);
    ask.month = request.month;
    ask.obliquity = request.obliquity.map(Angle::from_deg);
    if let Some(calendar) = &request.calendar {
        ask.calendar = calendar
            .parse()
            .map_err(|error: moment::MomentError| Refusal::new(Field::Calendar, error))?;
    }
    if let Some(hour) = &request.hour {
        ask.hour = one_of(hour, Field::Hour, &DayHour::ALL, DayHour::name)?;
    }
    if let Some(by) = &request.by {
        ask.by = one_of(by, Field::By, &By::ALL, By::name)?;
    }
    if let Some(houses) = &request.houses {
        ask.method = houses
            .parse()
            .map_err(|error: figure::UnknownMethod| Refusal::new(Field::Houses, error))?;
    }
    let Some(at) = &request.at else {
        return if request.clock.is_some() {
            Err(refused(TableError::NeedsPlace(kind.name)))
        } else {
            Ok(ask)
        };
    };
    let place = understood_place(at)?;
    ask.latitude = Some(place.latitude);
    // Days are counted at Greenwich unless they are the place's own.
    let own = kind.needs == Needs::DaysAtPlace;
    let clock = match &request.clock {
        Some(clock) => Some(one_of(clock, Field::Clock, &DayClock::ALL, DayClock::name)?),
        None => own.then_some(DayClock::Zone),
    };
    let by_days = own || kind.needs == Needs::Days;
    if let (Some(clock), true) = (clock, by_days) {
        ask.longitude = place.longitude;
        if clock == DayClock::Zone {
            let zone = match &request.zone {
                Some(zone) => {
                    Some(Zone::named(zone).map_err(|error| Refusal::new(Field::Zone, error))?)
                }
                None => place.with_zone_of_nearest_town().zone,
            };
            ask.zone = zone;
        }
    }
    Ok(ask)
}

/// By which clock of a place its days are counted.
#[derive(Clone, Copy, PartialEq, Eq)]
enum DayClock {
    Zone,
    Mean,
}

impl DayClock {
    const ALL: [DayClock; 2] = [DayClock::Zone, DayClock::Mean];

    fn name(self) -> &'static str {
        match self {
            DayClock::Zone => "zone",
            DayClock::Mean => "mean",
        }
    }
}

/// The one of a list that has a name.
pub(crate) fn one_of<T: Copy>(
    text: &str,
    field: Field,
    all: &[T],
    name: impl Fn(T) -> &'static str,
) -> Result<T, Refusal> {
    let found = all
        .iter()
        .find(|one| name(**one).eq_ignore_ascii_case(text.trim()));
    found.copied().ok_or_else(|| {
        let names: Vec<&str> = all.iter().map(|one| name(*one)).collect();
        Refusal {
            choices: names.iter().map(|one| (*one).to_owned()).collect(),
            ..Refusal::new(
                field,
                format!(
                    "{} is none of these; {} would do",
                    quoted(text),
                    names.join(" or ")
                ),
            )
        }
    })
}

/// The year of a moment, in seconds of UTC since the beginning of 1970.
fn this_year(unix_s: f64) -> i32 {
    const DAY_OF_1970: f64 = 2_440_588.0;
    let day = DAY_OF_1970 + (unix_s / 86_400.0).floor();
    CivilDate::from_julian_day_number(Calendar::Gregorian, day as i32).year()
}

pub(crate) fn refused(error: TableError) -> Refusal {
    let field = match &error {
        TableError::Unknown { .. } => Field::Table,
        TableError::NeedsPlace(_) | TableError::AtPole { .. } => Field::At,
        TableError::Obliquity(_) => Field::Obliquity,
        TableError::Year { .. } | TableError::Month(_) => Field::When,
    };
    Refusal::new(field, error)
}

impl TableAnswer {
    fn of(table: &Table, calendar: Calendar) -> TableAnswer {
        let head = &table.head;
        let column = |column: &::tables::Column| ColumnAnswer {
            key: column.key.clone(),
            head: column.head.clone(),
            last_digit: column.form.map(::tables::Form::last_digit),
        };
        let between = |one: &::tables::Between| {
            Some(BetweenAnswer {
                column: head.columns.get(one.column)?.key.clone(),
                largest: one.largest,
                nine_in_ten: one.nine_in_ten,
                after: one.after.clone(),
            })
        };
        TableAnswer {
            name: table.name,
            title: head.title.clone(),
            definitions: head.definitions.clone(),
            rounding: table.rounding(),
            interpolation: table.interpolation(),
            between: table.between.iter().filter_map(between).collect(),
            columns: std::iter::once(&head.argument)
                .chain(&head.columns)
                .map(column)
                .collect(),
            parts: table
                .parts
                .iter()
                .map(|part| PartAnswer {
                    heading: part.heading.clone(),
                    rows: part.rows.len(),
                    notes: part.notes.clone(),
                })
                .collect(),
            rows: table
                .rows()
                .map(|row| row_answer(table, row, calendar))
                .collect(),
        }
    }

    /// The rows as CSV, under the names of their columns: the same numbers.
    #[must_use]
    pub fn csv(&self) -> String {
        let is_cusp = |column: &ColumnAnswer| CUSPS.contains(&column.key.as_str());
        let name = |column: &ColumnAnswer| match is_cusp(column) {
            true => format!("cusps_deg.{}", column.key),
            false => column.key.clone(),
        };
        let field = |row: &BTreeMap<String, FieldAnswer>, column: &ColumnAnswer| {
            let number = |number: &f64| number.to_string();
            let of_row = row.get(if is_cusp(column) {
                "cusps_deg"
            } else {
                &column.key
            });
            match of_row {
                Some(FieldAnswer::Number(one)) => number(one),
                Some(FieldAnswer::Words(words)) => words.clone(),
                Some(FieldAnswer::Cusps(cusps)) => {
                    let cusp = cusps.get(&column.key).and_then(Option::as_ref);
                    cusp.map(number).unwrap_or_default()
                }
                Some(FieldAnswer::Nothing) | None => String::new(),
            }
        };
        let names: Vec<String> = self.columns.iter().map(name).collect();
        let mut text = names.join(",") + "\n";
        for row in &self.rows {
            let fields = self.columns.iter().map(|column| field(row, column));
            text.push_str(&fields.collect::<Vec<String>>().join(","));
            text.push('\n');
        }
        text
    }
}

/// The cusps of a table of houses, which stand together.
const CUSPS: [&str; 5] = ["XI", "XII", "I", "II", "III"];

fn row_answer(table: &Table, row: &Row, calendar: Calendar) -> BTreeMap<String, FieldAnswer> {
    let head = &table.head;
    let argument = match head.argument.key.as_str() {
        "date" => {
            let date = CivilDate::from_julian_day_number(calendar, row.at as i32);
            FieldAnswer::Words(date.to_string())
        }
        _ => field(&row.argument),
    };
    let mut fields = BTreeMap::from([(head.argument.key.clone(), argument)]);
    let mut cusps = BTreeMap::new();
    for (column, cell) in head.columns.iter().zip(&row.cells) {
        if CUSPS.contains(&column.key.as_str()) {
            let cusp = cell.figure().map(::tables::Figure::value);
            cusps.insert(column.key.clone(), cusp);
        } else {
            fields.insert(column.key.clone(), field(cell));
        }
    }
    if !cusps.is_empty() {
        fields.insert("cusps_deg".to_owned(), FieldAnswer::Cusps(cusps));
    }
    fields
}

fn field(cell: &Cell) -> FieldAnswer {
    match cell {
        Cell::Figure(figure) => FieldAnswer::Number(figure.value()),
        Cell::Words(words) => FieldAnswer::Words(words.clone()),
        Cell::Nothing => FieldAnswer::Nothing,
    }
}
