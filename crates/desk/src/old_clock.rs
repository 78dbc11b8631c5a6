use figure::{DailyCourse, Horizon};
use moment::{CivilTime, Moment, Note, NoteKind, Place};
use sky::{Angle, Latitude, Sky};

use crate::moment::MomentTexts;
use crate::refusal::{Field, Refusal, quoted};

/// The reckonings of the day that were in use before the clock's.
///
/// The hours are counted from the Sun's rising or setting at the place, so that they
/// are found by the Sun of that very day. The date is that of the midnight between
/// which and the next the rising or setting falls.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct OldClock {
    from: From,
    visible: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum From {
    /// Twelfths of the day, from sunrise.
    UnequalOfDay,
    /// Twelfths of the night, from the date's sunset.
    UnequalOfNight,
    /// Equal hours from the date's sunset.
    Sunset,
    /// Equal hours from the date's sunrise.
    Sunrise,
}

const NAMES: [(&str, From); 4] = [
    ("unequal-day", From::UnequalOfDay),
    ("unequal-night", From::UnequalOfNight),
    ("from-sunset", From::Sunset),
    ("from-sunrise", From::Sunrise),
];

/// How deep the Sun's centre stands when its upper edge is seen on a level horizon:
/// refraction 34′ and half its breadth 16′ (*Explanatory Supplement to the
/// Astronomical Almanac*, 2013, chapter 12).
const VISIBLE: Angle = Angle::from_deg(-50.0 / 60.0);

impl OldClock {
    /// The reckoning of a name: `unequal-day`, `unequal-night`, `from-sunset` or
    /// `from-sunrise`, by the Sun's centre on the true horizon; with `-visible`, by
    /// its edge as seen on a level horizon.
    pub(crate) fn named(name: &str) -> Option<OldClock> {
        let name = name.trim().to_lowercase();
        let (plain, visible) = match name.strip_suffix("-visible") {
            Some(plain) => (plain, true),
            None => (name.as_str(), false),
        };
        let (_, from) = NAMES.into_iter().find(|(known, _)| *known == plain)?;
        Some(OldClock { from, visible })
    }

    /// Every reckoning, each by the true horizon and by the one that is seen.
    pub(crate) fn all() -> impl Iterator<Item = OldClock> {
        let of = |(_, from)| [false, true].map(|visible| OldClock { from, visible });
        NAMES.into_iter().flat_map(of)
    }

    /// Its name in a request.
    pub(crate) fn name(self) -> String {
        let known = NAMES.into_iter().find(|(_, from)| *from == self.from);
        let plain = known.map_or("", |(name, _)| name);
        format!("{plain}{}", if self.visible { "-visible" } else { "" })
    }

    /// What it is, in short.
    pub(crate) fn kind(self) -> String {
        let hours = match self.from {
            From::UnequalOfDay => "unequal hours of the day",
            From::UnequalOfNight => "unequal hours of the night",
            From::Sunset => "hours from sunset",
            From::Sunrise => "hours from sunrise",
        };
        let horizon = if self.visible {
            "as it is seen"
        } else {
            "by the true horizon"
        };
        format!("{hours}, {horizon}")
    }

    /// The names, as a message lists them.
    pub(crate) fn names() -> String {
        let names = NAMES.map(|(name, _)| name).join(", ");
        format!("{names}, each also with -visible")
    }

    /// The moment that is meant.
    pub(crate) fn moment(
        self,
        texts: MomentTexts<'_>,
        place: &Place,
        now_unix_s: Option<f64>,
    ) -> Result<Moment, Refusal> {
        let by_sun = |when: &str| {
            let texts = MomentTexts {
                when,
                clock: Some("sun"),
                ..texts
            };
            texts.at(place.clone(), now_unix_s)
        };
        if texts.when.trim().eq_ignore_ascii_case("now") {
            return Err(Refusal::new(
                Field::Clock,
                "now is no hour by an old reckoning; a date and an hour would do",
            ));
        }
        // Read once as if by the Sun: that gives the date and the hours counted.
        let said = by_sun(texts.when)?.civil;
        let hours = said.time.hours();
        if matches!(self.from, From::UnequalOfDay | From::UnequalOfNight) && hours >= 12.0 {
            return Err(Refusal::new(
                Field::When,
                format!(
                    "{} has no twelve unequal hours behind it; 0:00 to 11:59 would do",
                    quoted(texts.when)
                ),
            ));
        }
        let midnight = CivilTime {
            time: moment::TimeOfDay::new(0, 0, 0.0).unwrap_or(said.time),
            ..said
        };
        let after_midnight = |hours: f64| midnight.plus_seconds(hours * 3600.0).to_string();
        let mut at = by_sun(&after_midnight(12.0))?;
        // The Sun's declination changes by a minute of arc an hour at most: each round
        // leaves a thousandth of the error.
        let mut local = 12.0;
        for _ in 0..4 {
            let Some(half_day) = self.half_day(&at.sky, place.latitude) else {
                return Err(Refusal::new(
                    Field::Clock,
                    format!(
                        "on this day the Sun does not rise and set at {}; a zone, mean or sun clock would do",
                        place.name
                    ),
                ));
            };
            let half = half_day.hours();
            local = match self.from {
                From::UnequalOfDay => 12.0 - half + hours * half / 6.0,
                From::UnequalOfNight => 12.0 + half + hours * (12.0 - half) / 6.0,
                From::Sunset => 12.0 + half + hours,
                From::Sunrise => 12.0 - half + hours,
            };
            at = by_sun(&after_midnight(local))?;
        }
        at.given = texts.when.to_owned();
        at.notes.push(Note {
            about: NoteKind::OldClock,
            text: self.words(hours, local),
        });
        Ok(at)
    }

    /// From rising to noon.
    fn half_day(self, sky: &Sky, latitude: Latitude) -> Option<Angle> {
        let declination = sky.sun().declination;
        if self.visible {
            let cosine = (VISIBLE.sin() - latitude.sin() * declination.sin())
                / (latitude.cos() * declination.cos());
            return (cosine.abs() < 1.0).then(|| Angle::acos(cosine));
        }
        let horizon = Horizon {
            sidereal_time: Angle::ZERO,
            obliquity: sky.obliquity(),
            latitude,
        };
        match horizon.daily_course(declination) {
            DailyCourse::RisesAndSets(arcs) => Some(arcs.diurnal()),
            DailyCourse::NeverSets | DailyCourse::NeverRises => None,
        }
    }

    fn words(self, hours: f64, local: f64) -> String {
        let minutes = (hours * 60.0).round();
        let counted = format!("{} h {:02} m", (minutes / 60.0).floor(), minutes % 60.0);
        let kind = match self.from {
            From::UnequalOfDay => "unequal hours of the day",
            From::UnequalOfNight => "unequal hours of the night that begins with the date's sunset",
            From::Sunset => "equal hours from the date's sunset",
            From::Sunrise => "equal hours from the date's sunrise",
        };
        let horizon = if self.visible {
            "the Sun's edge as seen on a level horizon"
        } else {
            "the Sun's centre on the true horizon"
        };
        let apparent = words::TimeOfDay(Angle::from_hours(local));
        format!("{counted} in {kind}, by {horizon}, is {apparent} of local apparent time")
    }
}
