use figure::{Sect, Site, SolarDay, Sunrise};
use moment::{CivilTime, Moment, Note, NoteKind, Place, SaidMoment, When};
use sky::{Angle, Instant, Sky};
use words::TimeOfDay;

use crate::moment_texts::{by_its_clock, resolved};
use crate::refusal::{Field, Refusal, quoted};

/// The reckonings of the day that were in use before the clock's.
///
/// The hours are counted from the Sun's true rising or setting at the place, with the
/// Sun moving, as a figure has its hours: the moment at which an hour is said to begin
/// is the one at which the figure's begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct OldClock {
    from: From,
    sunrise: Sunrise,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum From {
    /// Twelfths of the day, from sunrise.
    UnequalOfDay,
    /// Twelfths of the night, from a sunset.
    UnequalOfNight(Evening),
    /// Equal hours from a sunset.
    Sunset(Evening),
    /// Equal hours from the date's sunrise.
    Sunrise,
}

/// Which sunset belongs to a date, counted from midnight to midnight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Evening {
    /// The one before it, with which the date begins where days begin in the evening.
    Before,
    /// The one on it.
    OfDate,
}

/// Where hours were counted from sunset, as in Italy and Bohemia, the date began with
/// them: the plain name means that. A night without a day before it is looked for
/// in the evening.
const NAMES: [(&str, From); 6] = [
    ("unequal-day", From::UnequalOfDay),
    ("unequal-night", From::UnequalOfNight(Evening::OfDate)),
    (
        "unequal-night-before",
        From::UnequalOfNight(Evening::Before),
    ),
    ("from-sunset", From::Sunset(Evening::Before)),
    ("from-sunset-of-date", From::Sunset(Evening::OfDate)),
    ("from-sunrise", From::Sunrise),
];

/// The plain name said in full.
const IN_FULL: (&str, From) = ("from-sunset-before", From::Sunset(Evening::Before));

impl OldClock {
    /// The reckoning of a name, by the Sun's centre on the true horizon; with `-visible`,
    /// by its edge as seen on a level horizon.
    pub(crate) fn named(name: &str) -> Option<OldClock> {
        let name = name.trim().to_lowercase();
        let (plain, sunrise) = match name.strip_suffix("-visible") {
            Some(plain) => (plain, Sunrise::UpperLimb),
            None => (name.as_str(), Sunrise::Centre),
        };
        let mut known = NAMES.into_iter().chain([IN_FULL]);
        let (_, from) = known.find(|(known, _)| *known == plain)?;
        Some(OldClock { from, sunrise })
    }

    /// Every reckoning, each by the true horizon and by the one that is seen.
    pub(crate) fn all() -> impl Iterator<Item = OldClock> {
        let of = |(_, from)| Sunrise::ALL.map(|sunrise| OldClock { from, sunrise });
        NAMES.into_iter().flat_map(of)
    }

    /// Its name in a request.
    pub(crate) fn name(self) -> String {
        let known = NAMES.into_iter().find(|(_, from)| *from == self.from);
        let plain = known.map_or("", |(name, _)| name);
        let seen = match self.sunrise {
            Sunrise::Centre => "",
            Sunrise::UpperLimb => "-visible",
        };
        format!("{plain}{seen}")
    }

    /// What it is, in short.
    pub(crate) fn kind(self) -> String {
        let hours = match self.from {
            From::UnequalOfDay => "unequal hours of the day",
            From::UnequalOfNight(Evening::OfDate) => "unequal hours of the night after the day",
            From::UnequalOfNight(Evening::Before) => "unequal hours of the night before the day",
            From::Sunset(Evening::Before) => "hours from the sunset before the day (Italian)",
            From::Sunset(Evening::OfDate) => "hours from the date's own sunset",
            From::Sunrise => "hours from sunrise",
        };
        let horizon = match self.sunrise {
            Sunrise::UpperLimb => "as it is seen",
            Sunrise::Centre => "by the true horizon",
        };
        format!("{hours}, {horizon}")
    }

    /// The names, as a message lists them.
    pub(crate) fn names() -> String {
        let names = NAMES.map(|(name, _)| name).join(", ");
        format!("{names}, each also with -visible (from-sunset is also from-sunset-before)")
    }

    /// The moment that is meant by a date and the hours counted, read as if by the Sun.
    pub(crate) fn moment(self, said: &SaidMoment) -> Result<Moment, Refusal> {
        if said.when.is_now() {
            return Err(Refusal::new(
                Field::Clock,
                "now is no hour by an old reckoning; a date and an hour would do",
            ));
        }
        let by_sun = resolved(said, None)?;
        let hours = by_sun.civil().time.hours();
        if matches!(self.from, From::UnequalOfDay | From::UnequalOfNight(_)) && hours >= 12.0 {
            return Err(Refusal::new(
                Field::When,
                format!(
                    "{} has no twelve unequal hours behind it; 0:00 to 11:59 would do",
                    quoted(said.when.text())
                ),
            ));
        }
        let noon = CivilTime::noon_of(by_sun.civil().date);
        let noon = by_its_clock(&by_sun, When::clock_shows(noon))?;
        let instant = self
            .instant(noon.sky(), noon.place(), hours)
            .map_err(|why| Refusal::new(Field::When, why))?
            .ok_or_else(|| {
                Refusal::new(
                    Field::Clock,
                    format!(
                        "on this day the Sun does not rise and set at {}; a zone, mean or sun clock would do",
                        noon.place().name
                    ),
                )
            })?;
        let shown = noon
            .clock_at(instant)
            .map_err(|why| Refusal::new(Field::When, why))?;
        let counted = Note {
            about: NoteKind::OldClock,
            text: self.words(hours, shown),
        };
        let moment = by_its_clock(&noon, When::clock_shows(shown))?;
        Ok(moment.told_as(said.when.clone(), counted))
    }

    /// When so many hours are gone, of the date with this noon; none where the Sun does
    /// not rise or set.
    fn instant(
        self,
        noon: &Sky,
        place: &Place,
        hours: f64,
    ) -> Result<Option<Instant>, sky::SkyError> {
        // A second from its seam an instant is well within a day or a night.
        const WITHIN_S: f64 = 1.0;
        let site = Site {
            latitude: place.latitude,
            longitude: place.longitude,
        };
        let holding = |instant: Instant| SolarDay::at(&Sky::at(instant)?, site, self.sunrise);
        let day = match SolarDay::at(noon, site, self.sunrise)? {
            Ok(day) if day.sect == Sect::Day => day,
            Ok(_) | Err(_) => return Ok(None),
        };
        let night = |evening| match evening {
            Evening::Before => holding(day.begins.plus_seconds(-WITHIN_S)),
            Evening::OfDate => holding(day.ends.plus_seconds(WITHIN_S)),
        };
        let unequal = |of: SolarDay| of.begins.plus_seconds(hours * of.unequal_hour_s());
        Ok(match self.from {
            From::UnequalOfDay => Some(unequal(day)),
            From::UnequalOfNight(evening) => night(evening)?.ok().map(unequal),
            From::Sunset(Evening::OfDate) => Some(day.ends.plus_seconds(hours * 3600.0)),
            From::Sunset(Evening::Before) => {
                let night = night(Evening::Before)?.ok();
                night.map(|night| night.begins.plus_seconds(hours * 3600.0))
            }
            From::Sunrise => Some(day.begins.plus_seconds(hours * 3600.0)),
        })
    }

    fn words(self, hours: f64, shown: CivilTime) -> String {
        let minutes = (hours * 60.0).round();
        let counted = format!("{} h {:02} m", (minutes / 60.0).floor(), minutes % 60.0);
        let kind = match self.from {
            From::UnequalOfDay => "unequal hours of the day",
            From::UnequalOfNight(Evening::OfDate) => {
                "unequal hours of the night that begins with the date's own sunset \
                 (unequal-night-before counts the one that ends on the date)"
            }
            From::UnequalOfNight(Evening::Before) => {
                "unequal hours of the night that ends on the date"
            }
            From::Sunset(Evening::Before) => {
                "equal hours from the sunset before the date, with which it began where hours \
                 were counted so, as in Italy (from-sunset-of-date counts from the date's own)"
            }
            From::Sunset(Evening::OfDate) => "equal hours from the date's own sunset",
            From::Sunrise => "equal hours from the date's sunrise",
        };
        let horizon = match self.sunrise {
            Sunrise::UpperLimb => "the Sun's edge as seen on a level horizon",
            Sunrise::Centre => "the Sun's centre on the true horizon",
        };
        let apparent = TimeOfDay(Angle::from_hours(shown.time.hours()));
        format!(
            "{counted} in {kind}, by {horizon}, is {apparent} of local apparent time on {}",
            shown.date
        )
    }
}
