use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

use moment::{Calendar, CivilDate};
use sky::{Angle, Latitude};

use super::{Given, Hand, Opened, OpenedRow, Taken};
use crate::list::{
    acceleration, ephemeris, equation_of_time, houses, logarithms, second_differences,
    sidereal_time,
};
use crate::{Ask, By, DayHour, Days, Definition, Exact, Figure, Form, Head, TableError};

/// The tables at hand for a case. A page is opened once, and a row of it calculated once,
/// however many sheets are worked from it.
pub(crate) struct Shelf<'a> {
    pub(crate) given: &'a Given,
    opened: RefCell<Vec<(Which, Rc<Page>)>>,
}

/// Which page of which table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Which {
    /// The table of houses for a latitude and an obliquity.
    Houses(Latitude, Angle),
    /// The sidereal time of the days about one.
    SiderealTime(i32, DayHour),
    /// The equation of time of the days about one.
    EquationOfTime(i32, DayHour),
    /// The ephemeris of the days about one.
    Ephemeris(i32, DayHour),
    Acceleration,
    Logarithms,
    SecondDifferences,
}

/// A table of houses has a row every four minutes.
pub(crate) const ROW_H: f64 = 4.0 / 60.0;

/// A page of a table, opened where it is wanted: a cell is printed when it is read.
pub(crate) struct Page {
    name: &'static str,
    which: Which,
    head: Head,
    definition: Box<dyn Definition>,
    /// The calendar of its days, where it has such.
    days: Option<Calendar>,
    rows: RefCell<BTreeMap<u64, Rc<Vec<Exact>>>>,
}

impl<'a> Shelf<'a> {
    pub(crate) fn new(given: &'a Given) -> Shelf<'a> {
        Shelf {
            given,
            opened: RefCell::default(),
        }
    }

    /// A page, opened anew or as it lies there.
    pub(crate) fn page(&self, which: Which) -> Result<Rc<Page>, TableError> {
        let lies_there = self.opened.borrow().iter().find_map(|(one, page)| {
            let same = *one == which;
            same.then(|| Rc::clone(page))
        });
        if let Some(page) = lies_there {
            return Ok(page);
        }
        let page = Rc::new(Page::open(which, self.given)?);
        self.opened.borrow_mut().push((which, Rc::clone(&page)));
        Ok(page)
    }

    /// The page from which a cell was taken.
    fn page_of(&self, taken: &Taken) -> Option<Rc<Page>> {
        let opened = self.opened.borrow();
        let mut pages = opened.iter().map(|(_, page)| page);
        let page = pages.find(|page| page.name == taken.table && page.head.title == taken.title)?;
        Some(Rc::clone(page))
    }

    /// The pages from which cells were taken, each open where they stand.
    pub(crate) fn open_at(&self, takes: &[Taken], hand: &Hand) -> Vec<Opened> {
        let mut done: Vec<&Taken> = Vec::new();
        let mut opened = Vec::new();
        for taken in takes {
            let same = |one: &&Taken| one.table == taken.table && one.title == taken.title;
            if done.iter().any(same) {
                continue;
            }
            done.push(taken);
            if let Some(page) = self.page_of(taken) {
                let of_page: Vec<&Taken> = takes.iter().filter(same).collect();
                opened.push(page.open_at(&of_page, hand));
            }
        }
        opened
    }
}

impl Page {
    fn open(which: Which, given: &Given) -> Result<Page, TableError> {
        let calendar = given.date.calendar();
        let about = |day, hour| Days::about(day, hour, calendar);
        let (name, days, definition) = match which {
            Which::Houses(latitude, obliquity) => {
                let ask = Ask {
                    latitude: Some(latitude),
                    obliquity: Some(obliquity),
                    method: given.method,
                    by: By::SiderealTime,
                    ..Ask::of_year(given.date.year())
                };
                ("houses", None, houses::definition(&ask)?)
            }
            Which::SiderealTime(day, hour) => (
                "sidereal-time",
                Some(calendar),
                sidereal_time::at_greenwich(about(day, hour)),
            ),
            Which::EquationOfTime(day, hour) => (
                "equation-of-time",
                Some(calendar),
                equation_of_time::at_greenwich(about(day, hour)),
            ),
            Which::Ephemeris(day, hour) => (
                "ephemeris",
                Some(calendar),
                ephemeris::at_greenwich(about(day, hour), calendar),
            ),
            Which::Acceleration => ("acceleration", None, acceleration::definition()),
            Which::Logarithms => ("diurnal-logarithms", None, logarithms::diurnal()),
            Which::SecondDifferences => {
                ("second-differences", None, second_differences::definition())
            }
        };
        Ok(Page {
            name,
            which,
            head: definition.head(),
            definition,
            days,
            rows: RefCell::default(),
        })
    }

    /// The number of a column.
    pub(crate) fn column(&self, key: &str) -> usize {
        let place = self.head.columns.iter().position(|one| one.key == key);
        place.unwrap_or(usize::MAX)
    }

    fn row_of(&self, at: f64) -> Rc<Vec<Exact>> {
        let mut rows = self.rows.borrow_mut();
        let row = rows
            .entry(at.to_bits())
            .or_insert_with(|| Rc::new(self.definition.exact(at)));
        Rc::clone(row)
    }

    /// What is exactly so in a column; none where there is no answer.
    pub(crate) fn exact(&self, at: f64, column: usize) -> Option<f64> {
        match self.row_of(at).get(column) {
            Some(Exact::Number(number)) => Some(*number),
            Some(Exact::Words(_) | Exact::Nothing) | None => None,
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
            stands: (at, column),
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

    /// How far the rows beside one are from it, and the first and the last of them.
    fn rows_about(&self, at: f64) -> (f64, f64, f64) {
        match self.which {
            Which::Houses(..) => (ROW_H, f64::NEG_INFINITY, f64::INFINITY),
            Which::SiderealTime(day, _)
            | Which::EquationOfTime(day, _)
            | Which::Ephemeris(day, _) => (1.0, f64::from(day) - 2.0, f64::from(day) + 3.0),
            // Hours and minutes stand apart.
            Which::Acceleration if at >= 1.0 => (1.0, 0.0, 24.0),
            Which::Acceleration => (1.0 / 60.0, 0.0, 59.0 / 60.0),
            Which::Logarithms => (1.0, 0.0, 59.0),
            Which::SecondDifferences => (0.25, 0.0, 24.0),
        }
    }

    /// Open where some of its cells stand: their rows with those beside them.
    fn open_at(&self, takes: &[&Taken], hand: &Hand) -> Opened {
        /// How many columns have room beside each other.
        const ROOM: usize = 7;
        const SAME: f64 = 1e-6;
        let all = self.head.columns.len();
        let lit_columns: Vec<usize> = takes.iter().map(|taken| taken.stands.1).collect();
        let is_near = |column: &usize| {
            let has_number = self
                .head
                .columns
                .get(*column)
                .is_some_and(|one| one.form.is_some());
            let beside = lit_columns.iter().any(|lit| lit.abs_diff(*column) <= 1);
            has_number && (all <= ROOM || beside)
        };
        let columns: Vec<usize> = (0..all).filter(is_near).collect();
        let mut rows: Vec<f64> = Vec::new();
        for taken in takes {
            let at = taken.stands.0;
            let (step, first, last) = self.rows_about(at);
            let beside = [at - step, at, at + step];
            rows.extend(
                beside
                    .into_iter()
                    .filter(|at| (first - SAME..=last + SAME).contains(at)),
            );
        }
        rows.sort_by(f64::total_cmp);
        rows.dedup_by(|a, b| (*a - *b).abs() < SAME);
        let cell = |at: f64, column: usize| match self.exact(at, column) {
            Some(exact) => hand.write(self.form(column), exact).to_string(),
            None => "–".to_owned(),
        };
        let is_lit = |at: f64, column: usize| {
            let mut taken = takes.iter();
            taken.any(|one| (one.stands.0 - at).abs() < SAME && one.stands.1 == column)
        };
        Opened {
            table: self.name,
            title: self.head.title.clone(),
            argument: self.head.argument.head.clone(),
            columns: columns
                .iter()
                .filter_map(|column| Some(self.head.columns.get(*column)?.head.clone()))
                .collect(),
            rows: rows
                .iter()
                .map(|at| OpenedRow {
                    row: self.row(*at),
                    cells: columns.iter().map(|column| cell(*at, *column)).collect(),
                    lit: columns.iter().map(|column| is_lit(*at, *column)).collect(),
                })
                .collect(),
        }
    }
}

/// The row of a table of houses before a sidereal time, by its number, and the seconds
/// past it.
pub(crate) fn row_before(at_h: f64) -> (f64, f64) {
    // A second is 1/240 of a row: a rounding error before one is in it.
    let row = (at_h / ROW_H + 1e-9).floor();
    (row, ((at_h - row * ROW_H) * 3600.0).max(0.0))
}
