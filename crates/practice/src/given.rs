use instrument::YearDay;
use moment::{Calendar, Clock, Moment};
use sky::{Angle, Latitude};

/// What a person brings to the instrument: a clock reading with what must be
/// taken off it and added, a date, a latitude, and the Sun from an ephemeris.
///
/// Times are angles here, as they are on the limb: 15° an hour, a degree four
/// minutes. Nothing says how the sky stands; the instrument has to find that out.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// The latitude of the place.
    pub latitude: Latitude,
    /// The time of day on the clock, from midnight.
    pub clock: Angle,
    /// What turns the clock's time into local mean time, in the order of the sum.
    pub to_mean: Vec<Term>,
    /// The equation of time, apparent minus mean.
    pub equation_of_time: Angle,
    /// Whether the clock shows local apparent time already, so that mean time is
    /// had by taking the equation of time *off*.
    pub clock_is_apparent: bool,
    /// The date, in the calendar of the instrument's date scale, with the part of
    /// the day gone by the clock.
    pub date: YearDay,
    /// The Sun's place from an ephemeris.
    pub sun: SunPlace,
}

impl Given {
    /// What someone brings who has a moment: its clock and place, the Sun from an ephemeris,
    /// and the date in the calendar of the instrument's date scale.
    #[must_use]
    pub fn of_moment(moment: &Moment, calendar: Calendar) -> Given {
        let seconds = |s: f64| Angle::from_hours(s / 3600.0);
        let term = |correction, amount| Term { correction, amount };
        let to_mean = match moment.standard_offset_s() {
            None => Vec::new(),
            Some(standard_s) => vec![
                term(Correction::SummerTime, seconds(-moment.summer_time_s())),
                term(Correction::Zone, seconds(-standard_s)),
                term(Correction::Longitude, moment.place().longitude),
            ],
        };
        let date = moment.civil().date.in_calendar(calendar);
        let sun = moment.sky().sun();
        Given {
            latitude: moment.place().latitude,
            clock: Angle::from_hours(moment.civil().time.hours()),
            to_mean,
            equation_of_time: seconds(moment.equation_of_time_s()),
            clock_is_apparent: moment.clock() == Clock::Sun,
            date: YearDay {
                month: date.month(),
                day: date.day(),
                part: moment.civil().time.hours() / 24.0,
            },
            sun: SunPlace {
                longitude: sun.longitude,
                right_ascension: sun.right_ascension,
                declination: sun.declination,
            },
        }
    }
}

/// A line of the sum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    /// Which correction it is.
    pub correction: Correction,
    /// What is added, 15° an hour.
    pub amount: Angle,
}

/// The corrections that lead from the clock to the hour for the rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Correction {
    /// Summer time, taken off.
    SummerTime,
    /// The zone's standard offset, taken off: that leaves Greenwich time.
    Zone,
    /// The place's own longitude, four minutes for every degree, added east of Greenwich.
    Longitude,
    /// The equation of time, added.
    EquationOfTime,
}

impl Correction {
    /// All of them, in the order of the sum.
    pub const ALL: [Correction; 4] = [
        Correction::SummerTime,
        Correction::Zone,
        Correction::Longitude,
        Correction::EquationOfTime,
    ];

    /// Its name; the share of leaving it out goes by the same.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Correction::SummerTime => "summer-time",
            Correction::Zone => "zone",
            Correction::Longitude => "longitude",
            Correction::EquationOfTime => "equation-of-time",
        }
    }

    /// The same in words, to follow `less` or `with`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Correction::SummerTime => "summer time",
            Correction::Zone => "the zone",
            Correction::Longitude => "the longitude",
            Correction::EquationOfTime => "the equation of time",
        }
    }
}

/// Where the Sun stands, seen from the Earth's centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunPlace {
    /// Its degree of the zodiac.
    pub longitude: Angle,
    /// Its right ascension.
    pub right_ascension: Angle,
    /// Its declination.
    pub declination: Latitude,
}
