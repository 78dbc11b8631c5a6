use figure::Method;
use moment::CivilDate;
use sky::{Angle, Latitude};

use super::{At, Cause, Slip, SlipKind};
use crate::DayHour;

/// What someone has who takes up the pen: the clock and the place.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// The date on the clock.
    pub date: CivilDate,
    /// The time on it, in seconds after midnight.
    pub clock_s: f64,
    /// What the clock keeps.
    pub kept: Kept,
    /// North positive.
    pub latitude: Latitude,
    /// East positive.
    pub longitude: Angle,
    /// The house method of the table of houses.
    pub method: Method,
}

/// What a clock keeps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kept {
    /// A standard time, so many seconds ahead of Universal Time, and summer time.
    Standard {
        /// Standard time less Universal Time.
        ahead_s: f64,
        /// Summer time.
        summer_s: f64,
    },
    /// Mean time of the place.
    Mean,
    /// The time by the Sun.
    Sun,
}

/// A line of the sum that someone leaves out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LeftOut {
    /// Summer time is not taken off.
    SummerTime,
    /// The zone is not taken off.
    Zone,
    /// The longitude is not put on, for the sidereal time of the place.
    Longitude,
    /// The equation of time is not taken off a time by the Sun.
    EquationOfTime,
}

impl LeftOut {
    /// All of them.
    pub const ALL: [LeftOut; 4] = [
        LeftOut::SummerTime,
        LeftOut::Zone,
        LeftOut::Longitude,
        LeftOut::EquationOfTime,
    ];

    /// Its name, as that of its cause.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            LeftOut::SummerTime => Cause::SummerTime.name(),
            LeftOut::Zone => Cause::Zone.name(),
            LeftOut::Longitude => Cause::Longitude.name(),
            LeftOut::EquationOfTime => Cause::EquationOfTime.name(),
        }
    }
}

/// How the pen is led, and by which tables.
#[derive(Clone, Debug, PartialEq)]
pub struct Hand {
    /// The latitude that the table of houses is made for.
    pub table_latitude: Latitude,
    /// The obliquity that it is made for.
    pub obliquity: Angle,
    /// The hour at which the ephemeris has its days.
    pub hour: DayHour,
    /// Whether the Moon's second difference is taken.
    pub second_difference: bool,
    /// What is left out of the sum.
    pub left_out: Vec<LeftOut>,
    /// Whether numbers have the digits of the tables; all of them, else.
    pub has_digits: bool,
    /// Whether tables have the rows that are printed; one for every argument, else.
    pub has_rows: bool,
    /// What goes wrong.
    pub slips: Vec<Slip>,
    /// A local sidereal time in hours that the sheet is gone on with, whatever the sum makes.
    pub goes_on_with: Option<f64>,
}

impl Hand {
    /// By tables that nobody could print: made for the place and the moment's own
    /// obliquity, with a row for every argument and all digits; nothing is left out.
    #[must_use]
    pub fn ideal(given: &Given, obliquity: Angle, hour: DayHour) -> Hand {
        Hand {
            table_latitude: given.latitude,
            obliquity,
            hour,
            second_difference: true,
            left_out: Vec::new(),
            has_digits: false,
            has_rows: false,
            slips: Vec::new(),
            goes_on_with: None,
        }
    }

    /// Gives up what belongs to a cause, to be as another hand is.
    pub fn give_up(&mut self, cause: Cause, actual: &Hand) {
        let mut leave = |one: LeftOut| {
            if actual.left_out.contains(&one) {
                self.left_out.push(one);
            }
        };
        match cause {
            Cause::Procedure | Cause::Unexplained => {}
            Cause::SummerTime => leave(LeftOut::SummerTime),
            Cause::Zone => leave(LeftOut::Zone),
            Cause::Longitude => leave(LeftOut::Longitude),
            Cause::EquationOfTime => leave(LeftOut::EquationOfTime),
            Cause::Epoch => self.obliquity = actual.obliquity,
            Cause::TableLatitude => self.table_latitude = actual.table_latitude,
            Cause::TableRounding => self.has_digits = actual.has_digits,
            Cause::Interpolation => self.has_rows = actual.has_rows,
            Cause::SecondDifference => self.second_difference = actual.second_difference,
        }
    }

    /// Whether a line of the sum is written.
    pub(crate) fn keeps(&self, one: LeftOut) -> bool {
        let slip = match one {
            LeftOut::SummerTime => SlipKind::SummerTimeLeftIn,
            LeftOut::Zone => SlipKind::ZoneLeftIn,
            LeftOut::Longitude => SlipKind::LongitudeLeftOut,
            LeftOut::EquationOfTime => SlipKind::EquationLeftOut,
        };
        !self.left_out.contains(&one) && !self.slips_at(slip, At::Sum)
    }

    /// Whether a slip is made at a place of the sheet.
    pub(crate) fn slips_at(&self, kind: SlipKind, at: At) -> bool {
        self.slips.iter().any(|slip| slip.is_made(kind, at))
    }

    /// A number as this hand writes it.
    pub(crate) fn write(&self, form: crate::Form, value: f64) -> crate::Figure {
        if self.has_digits {
            crate::Figure::written(form, value)
        } else {
            crate::Figure::unrounded(form, value)
        }
    }
}
