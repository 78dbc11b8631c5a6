use figure::Method;
use moment::{Calendar, CivilDate, Zone};
use sky::{Angle, Instant, Latitude, Sky, SkyError};
use thiserror::Error;

/// What a table is made for. Each table takes of it what it needs.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// The latitude of the place; tables for a latitude need it.
    pub latitude: Option<Latitude>,
    /// East positive; zero, Greenwich, unless said.
    pub longitude: Angle,
    /// The zone by whose clock days are counted; mean time of the longitude without.
    pub zone: Option<Zone>,
    /// The year, astronomical (0 = 1 BC): of the days, and of the obliquity.
    pub year: i32,
    /// The calendar of the days.
    pub calendar: Calendar,
    /// A month alone, 1 to 12; the whole year without.
    pub month: Option<u8>,
    /// The obliquity, instead of the mean one at the beginning of the year.
    pub obliquity: Option<Angle>,
    /// The house method.
    pub method: Method,
    /// What a table of houses is entered with.
    pub by: By,
    /// At which hour of the day what is told by days stands.
    pub hour: DayHour,
}

/// What a table of houses is entered with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum By {
    /// The sidereal time, every four minutes.
    #[default]
    SiderealTime,
    /// The midheaven, every degree.
    Midheaven,
}

/// An hour at which what is told by days stands.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DayHour {
    /// Noon: the use of old almanacs.
    #[default]
    Noon,
    /// The midnight with which the day begins.
    Midnight,
}

impl By {
    /// Both.
    pub const ALL: [By; 2] = [By::SiderealTime, By::Midheaven];

    /// `sidereal-time` or `midheaven`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            By::SiderealTime => "sidereal-time",
            By::Midheaven => "midheaven",
        }
    }
}

impl DayHour {
    /// Both.
    pub const ALL: [DayHour; 2] = [DayHour::Noon, DayHour::Midnight];

    /// `noon` or `midnight`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            DayHour::Noon => "noon",
            DayHour::Midnight => "midnight",
        }
    }

    /// Hours after midnight.
    #[must_use]
    pub const fn hours(self) -> f64 {
        match self {
            DayHour::Noon => 12.0,
            DayHour::Midnight => 0.0,
        }
    }
}

/// Why a table cannot be made; the message names what would do.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum TableError {
    /// No table has this name.
    #[error("no table is called “{name}”; {names} would do")]
    Unknown {
        /// The name.
        name: String,
        /// Those that there are.
        names: String,
    },
    /// The table is made for a latitude.
    #[error("the table “{0}” is made for a place, and none is said; --at \"51.5333,0\" would do")]
    NeedsPlace(&'static str),
    /// The latitude is one at which the table says nothing.
    #[error(
        "the table “{table}” has no row at latitude {latitude}, for no degree of the ecliptic rises \
         or sets there; one between the poles would do"
    )]
    AtPole {
        /// The table.
        table: &'static str,
        /// The latitude.
        latitude: Angle,
    },
    /// The obliquity is none of an ecliptic.
    #[error("the obliquity {0} is out of range; 20° to 27° would do")]
    Obliquity(Angle),
    /// The year is outside the ephemeris.
    #[error("the year {year} is not covered by the ephemeris ({why}); −599 to 2649 would do")]
    Year {
        /// The year.
        year: i32,
        /// What the ephemeris says.
        why: String,
    },
    /// There is no such month.
    #[error("month {0} is none; 1 to 12 would do")]
    Month(u8),
}

impl Ask {
    /// What is asked of a year at Greenwich, by the method and the hour that go without
    /// saying.
    #[must_use]
    pub fn of_year(year: i32) -> Ask {
        Ask {
            latitude: None,
            longitude: Angle::ZERO,
            zone: None,
            year,
            calendar: if year < 1583 {
                Calendar::Julian
            } else {
                Calendar::Gregorian
            },
            month: None,
            obliquity: None,
            method: Method::default(),
            by: By::default(),
            hour: DayHour::default(),
        }
    }

    /// The latitude, for a table that is made for one.
    ///
    /// # Errors
    /// When none is said, or it is a pole.
    pub fn latitude_for(&self, table: &'static str) -> Result<Latitude, TableError> {
        let latitude = self.latitude.ok_or(TableError::NeedsPlace(table))?;
        if latitude.deg().abs() < 90.0 {
            Ok(latitude)
        } else {
            Err(TableError::AtPole {
                table,
                latitude: latitude.angle(),
            })
        }
    }

    /// The obliquity that is said, or else the mean one at the beginning of the year,
    /// as a title has it: to the second of arc.
    ///
    /// # Errors
    /// When it is none of an ecliptic, or the year is outside the ephemeris.
    pub fn obliquity(&self) -> Result<Angle, TableError> {
        if let Some(said) = self.obliquity {
            return if (20.0..=27.0).contains(&said.deg()) {
                Ok(said)
            } else {
                Err(TableError::Obliquity(said))
            };
        }
        let sky = self.sky_at(self.first_day(1)?)?;
        Ok(Angle::from_arcsec(sky.mean_obliquity().arcsec().round()))
    }

    /// The day with which a month of the year begins, by its Julian day number.
    pub(crate) fn first_day(&self, month: u8) -> Result<i32, TableError> {
        let date = CivilDate::new(self.calendar, self.year, month, 1);
        let date = date.map_err(|error| self.year_error(&error))?;
        Ok(date.julian_day_number())
    }

    /// The months that are asked.
    pub(crate) fn months(&self) -> Result<Vec<u8>, TableError> {
        match self.month {
            None => Ok((1..=12).collect()),
            Some(month @ 1..=12) => Ok(vec![month]),
            Some(other) => Err(TableError::Month(other)),
        }
    }

    /// The sky at noon of a day, to see that there is one.
    fn sky_at(&self, day: i32) -> Result<Sky, TableError> {
        Sky::at(Instant::from_ut(f64::from(day), 0.0)).map_err(|error| self.year_error(&error))
    }

    pub(crate) fn year_error(&self, why: &dyn std::fmt::Display) -> TableError {
        TableError::Year {
            year: self.year,
            why: why.to_string(),
        }
    }

    pub(crate) fn beyond(&self, error: SkyError) -> TableError {
        self.year_error(&error)
    }
}
