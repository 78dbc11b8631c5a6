use moment::{Calendar, CivilDate};
use sky::Latitude;

use super::{Given, Hand, Taken};
use crate::list::{
    acceleration, ephemeris, equation_of_time, houses, logarithms, second_differences,
    sidereal_time,
};
use crate::{Ask, By, Days, Definition, Exact, Figure, Form, Head, TableError};

/// A table of houses has a row every four minutes.
pub(crate) const ROW_H: f64 = 4.0 / 60.0;

/// A page of a table, opened where it is wanted: a cell is printed when it is read.
pub(crate) struct Page {
    name: &'static str,
    head: Head,
    definition: Box<dyn Definition>,
    /// The calendar of its days, where it has such.
    days: Option<Calendar>,
}

impl Page {
    fn of(name: &'static str, definition: Box<dyn Definition>) -> Page {
        Page {
            name,
            head: definition.head(),
            definition,
            days: None,
        }
    }

    /// The table of houses of a hand.
    pub(crate) fn houses(given: &Given, hand: &Hand) -> Result<Page, TableError> {
        Page::houses_for(given, hand.table_latitude, hand.obliquity)
    }

    /// The table of houses for a latitude and an obliquity.
    pub(crate) fn houses_for(
        given: &Given,
        latitude: Latitude,
        obliquity: sky::Angle,
    ) -> Result<Page, TableError> {
        let ask = Ask {
            latitude: Some(latitude),
            obliquity: Some(obliquity),
            method: given.method,
            by: By::SiderealTime,
            ..Ask::of_year(given.date.year())
        };
        Ok(Page::of("houses", houses::definition(&ask)?))
    }

    pub(crate) fn sidereal_time(day: i32, hand: &Hand, calendar: Calendar) -> Page {
        let days = Days::about(day, hand.hour, calendar);
        Page {
            days: Some(calendar),
            ..Page::of("sidereal-time", sidereal_time::at_greenwich(days))
        }
    }

    pub(crate) fn equation_of_time(day: i32, hand: &Hand, calendar: Calendar) -> Page {
        let days = Days::about(day, hand.hour, calendar);
        Page {
            days: Some(calendar),
            ..Page::of("equation-of-time", equation_of_time::at_greenwich(days))
        }
    }

    pub(crate) fn ephemeris(day: i32, hand: &Hand, calendar: Calendar) -> Page {
        let days = Days::about(day, hand.hour, calendar);
        Page {
            days: Some(calendar),
            ..Page::of("ephemeris", ephemeris::at_greenwich(days, calendar))
        }
    }

    pub(crate) fn acceleration() -> Page {
        Page::of("acceleration", acceleration::definition())
    }

    pub(crate) fn logarithms() -> Page {
        Page::of("diurnal-logarithms", logarithms::diurnal())
    }

    pub(crate) fn second_differences() -> Page {
        Page::of("second-differences", second_differences::definition())
    }

    /// The number of a column.
    pub(crate) fn column(&self, key: &str) -> usize {
        let place = self.head.columns.iter().position(|one| one.key == key);
        place.unwrap_or_default()
    }

    /// What is exactly so at an argument: for tables that nobody could print, and for what
    /// a printed one may be off.
    pub(crate) fn exact(&self, at: f64, column: usize) -> Option<f64> {
        match self.definition.exact(at).get(column) {
            Some(Exact::Number(number)) => Some(*number),
            _ => None,
        }
    }

    /// The form of a column.
    pub(crate) fn form(&self, column: usize) -> Form {
        let form = self.head.columns.get(column).and_then(|one| one.form);
        form.unwrap_or(Form::Sixties)
    }

    /// The cell of a row, with where it stands; none where there is a stroke.
    pub(crate) fn take(&self, at: f64, column: usize, hand: &Hand) -> Option<Taken> {
        let exact = self.exact(at, column)?;
        let head = self.head.columns.get(column)?;
        Some(Taken {
            table: self.name,
            title: self.head.title.clone(),
            row: self.row(at),
            column: head.head.clone(),
            cell: hand.write(self.form(column), exact),
        })
    }

    fn row(&self, at: f64) -> String {
        if let Some(calendar) = self.days {
            let date = CivilDate::from_julian_day_number(calendar, at.floor() as i32);
            let month = crate::days::month_name(date.month());
            return format!("{} {month} {}", date.day(), date.year());
        }
        let argument = &self.head.argument;
        let form = argument.form.unwrap_or(Form::Sixties);
        Figure::written(form, at).to_string()
    }
}

/// The row of a table of houses before a sidereal time, by its number, and the seconds
/// past it.
pub(crate) fn row_before(at_h: f64) -> (f64, f64) {
    // A second is 1/240 of a row: a rounding error before one is in it.
    let row = (at_h / ROW_H + 1e-9).floor();
    (row, ((at_h - row * ROW_H) * 3600.0).max(0.0))
}
