use sky::{Angle, Body};

use crate::order_error::{OrderError, shortened};

/// The book of a year, for the owner of an instrument in a town: a cover, what is to be
/// known, the year at a glance, an opening for each month, and how it is meant. 28 pages,
/// which fold to a booklet.
#[derive(Clone, Debug, PartialEq)]
pub struct YearBook {
    /// The year.
    pub year: i32,
    /// The town.
    pub town: String,
    /// Its latitude, north positive.
    pub latitude_deg: f64,
    /// Its longitude, east positive.
    pub longitude_deg: f64,
    /// What the instrument is called.
    pub instrument: String,
    /// The plate that is laid in.
    pub plate_deg: f64,
    /// What is to be known first: the correction, the plate; paragraphs.
    pub first: Vec<String>,
    /// The year at a glance: eclipses, seasons, stations, changes of the clock.
    pub glance: Vec<YearNote>,
    /// The months.
    pub months: Vec<YearMonth>,
    /// How the columns are meant; paragraphs.
    pub meant: Vec<String>,
}

/// A month.
#[derive(Clone, Debug, PartialEq)]
pub struct YearMonth {
    /// Its name.
    pub name: &'static str,
    /// Its days.
    pub days: Vec<YearLine>,
    /// What happens in it.
    pub events: Vec<YearNote>,
    /// The stars of its evenings, with the day from which each serves.
    pub stars: Vec<YearNote>,
}

/// A day.
#[derive(Clone, Debug, PartialEq)]
pub struct YearLine {
    /// Of the month.
    pub day: u8,
    /// The first two letters of the day of the week.
    pub weekday: String,
    /// The planet of the day.
    pub ruler: Body,
    /// The Sun's degree as the calendar scale shows it.
    pub scale: Option<SignAndDegree>,
    /// The Sun's degree.
    pub sun: SignAndDegree,
    /// Sunrise, sunset, the lengths of the unequal hours, the equation of time; a dash where
    /// there is none.
    pub times: [String; 5],
    /// The Moon's degree.
    pub moon: SignAndDegree,
    /// How far she is ahead of the Sun.
    pub elongation: Angle,
}

/// A degree within a sign.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignAndDegree {
    /// 0 for Aries to 11 for Pisces.
    pub sign: usize,
    /// `12°34′`.
    pub degree: String,
}

/// Something with its day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct YearNote {
    /// The day.
    pub day: String,
    /// The time; empty where there is none.
    pub time: String,
    /// What.
    pub what: String,
}

/// The paper of a year's book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BookPaper {
    /// Pages of 148 mm by 210 mm.
    A5,
    /// Pages of 105 mm by 148 mm, for the pocket: everything smaller.
    A6,
    /// Pages of A5, two on each side of A4, in the order in which it is folded.
    A5Folded,
    /// Pages of A6, two on each side of A5, likewise.
    A6Folded,
}

impl BookPaper {
    /// All of them.
    pub const ALL: [BookPaper; 4] = [
        BookPaper::A5,
        BookPaper::A6,
        BookPaper::A5Folded,
        BookPaper::A6Folded,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            BookPaper::A5 => "a5",
            BookPaper::A6 => "a6",
            BookPaper::A5Folded => "a5-folded",
            BookPaper::A6Folded => "a6-folded",
        }
    }

    /// The paper of a name, in letters of either case.
    ///
    /// # Errors
    /// When there is none.
    pub fn named(name: &str) -> Result<BookPaper, OrderError> {
        let mut all = BookPaper::ALL.into_iter();
        let found = all.find(|paper| paper.name().eq_ignore_ascii_case(name.trim()));
        found.ok_or_else(|| OrderError::BookPaper(shortened(name)))
    }

    #[cfg(feature = "documents")]
    pub(crate) const fn is_folded(self) -> bool {
        matches!(self, BookPaper::A5Folded | BookPaper::A6Folded)
    }

    /// How much smaller the pages are than A5.
    #[cfg(feature = "documents")]
    pub(crate) fn scale(self) -> f64 {
        match self {
            BookPaper::A5 | BookPaper::A5Folded => 1.0,
            BookPaper::A6 | BookPaper::A6Folded => 148.0 / 210.0,
        }
    }
}
