use std::ops::RangeInclusive;

use ::moment::{Calendar, CivilDate, CivilTime, Clock, SaidMoment, WEEKDAYS, When, Which, Zone};
use figure::{
    Almanac, Choices, Choosing, Condition, HorizonCrossing, Planet, Sight, Target,
    risings_and_settings, ruler_of_day,
};
use instrument::{DateFrom, YearDay};
use patience::Patience;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sky::{Angle, Body, Instant, Sky, SkyError, star_lettered};
use words::Degrees;

use crate::answer::{ClockTimeAnswer, DateAnswer, InstrumentAnswer, PlaceAnswer};
use crate::cabinet::Cabinet;
use crate::casting::Casting;
use crate::moment::understood_place;
use crate::moment_texts::{parsed, resolved};
use crate::plates::{PlatesRequest, TownPlates, plates};
use crate::refusal::{Field, Refusal, quoted};
use crate::request::{CastRequest, WithInstrument};
use crate::year_events::{YearEventAnswer, events};
use crate::year_understood::{Book, DAY_S, to_second};

/// The years of which a book is made: by the Gregorian calendar, with the whole of the last
/// within the ephemeris.
pub const BOOK_YEARS: RangeInclusive<i32> = 1583..=2649;

/// What is asked when a year's book is made.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct YearRequest {
    /// The year, one of [`BOOK_YEARS`].
    pub year: i32,
    /// A town or coordinates.
    pub at: String,
    /// The zone, instead of the place's own.
    pub zone: Option<String>,
    /// The instrument; the first of the cabinet for the place's hemisphere unless said.
    pub with: Option<WithInstrument>,
    /// The planets whose hours are listed, by name.
    pub hours_of: Vec<String>,
}

/// A year for the owner of an instrument in a town: what each day has, and what happens
/// when.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct YearAnswer {
    /// The year.
    pub year: i32,
    /// The place.
    pub place: PlaceAnswer,
    /// The zone by whose clock times are said; null for other clocks.
    pub zone: Option<String>,
    /// The instrument.
    pub instrument: InstrumentAnswer,
    /// The town's correction and plate.
    pub town: TownPlates,
    /// The beginning of the year, as a Julian date of Universal Time.
    pub begins_jd_ut: f64,
    /// The days, in order.
    pub days: Vec<YearDayAnswer>,
    /// What happens, in order.
    pub events: Vec<YearEventAnswer>,
    /// A star for the evenings from each Monday on, and from New Year.
    pub stars: Vec<EveningStarAnswer>,
    /// The hours of the planets that are asked for.
    pub hours: Vec<PlanetHourAnswer>,
    /// How the columns are meant, in sentences.
    pub meant: Vec<String>,
}

/// A day of the year.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct YearDayAnswer {
    /// The date, `YYYY-MM-DD`.
    pub date: DateAnswer,
    /// The day of the week.
    pub weekday: &'static str,
    /// The planet of the day that begins at its sunrise.
    pub ruler: &'static str,
    /// The Sun's longitude at noon by the clock.
    pub sun_deg: f64,
    /// What the instrument's calendar scale gives for it then; null where the date is set on
    /// a ring.
    pub scale_deg: Option<f64>,
    /// Sunrise by the clock, to the second: upper limb, through the air; null where there is
    /// none.
    pub sunrise: Option<ClockTimeAnswer>,
    /// Sunset likewise.
    pub sunset: Option<ClockTimeAnswer>,
    /// A twelfth of the time from sunrise to sunset, in seconds, the Sun's centre on the true
    /// horizon; null where there is none.
    pub day_hour_s: Option<f64>,
    /// A twelfth of the night that follows.
    pub night_hour_s: Option<f64>,
    /// Apparent minus mean time at noon by the clock, in seconds.
    pub equation_of_time_s: f64,
    /// The Moon's longitude at noon by the clock.
    pub moon_deg: f64,
    /// How far she is ahead of the Sun then, 0 to 360.
    pub elongation_deg: f64,
}

impl EveningStarAnswer {
    /// The star, with what its pointer is lettered with where that is something else.
    #[must_use]
    pub fn called(&self) -> String {
        match self.lettered {
            Some(lettered) => format!("{} (lettered {lettered})", self.star),
            None => self.star.to_owned(),
        }
    }
}

/// A star to find in the evening.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct EveningStarAnswer {
    /// From this date on, `YYYY-MM-DD`.
    pub from: DateAnswer,
    /// The star, as everywhere else.
    pub star: &'static str,
    /// What its pointer is lettered with, where that is something else.
    pub lettered: Option<&'static str>,
    /// When to look on that date, by the clock: the Sun is 9° below the horizon.
    pub at: ClockTimeAnswer,
    /// How high it stands then, seen through the air.
    pub altitude_deg: f64,
    /// Where, from north by east.
    pub azimuth_deg: f64,
}

/// An unequal hour of a planet.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct PlanetHourAnswer {
    /// Whose.
    pub planet: &'static str,
    /// When it begins, on the clock, to the second.
    pub from: ClockTimeAnswer,
    /// When it ends.
    pub until: ClockTimeAnswer,
    /// When it begins, as a Julian date of Universal Time.
    pub from_jd_ut: f64,
    /// When it ends.
    pub until_jd_ut: f64,
}

/// Makes the year of a town and an instrument.
///
/// # Errors
/// When the request cannot be understood, or the sky does not reach so far.
pub fn year(request: &YearRequest, cabinet: &Cabinet) -> Result<YearAnswer, Refusal> {
    let year = request.year;
    if !BOOK_YEARS.contains(&year) {
        return Err(Refusal::new(
            Field::When,
            format!(
                "a book of the year {year} is not made; {} to {} would do",
                BOOK_YEARS.start(),
                BOOK_YEARS.end()
            ),
        ));
    }
    let planets = request
        .hours_of
        .iter()
        .map(|name| planet(name))
        .collect::<Result<Vec<Planet>, Refusal>>()?;
    let case = CastRequest {
        with: request.with.clone(),
        ..CastRequest::default()
    };
    let place = understood_place(&request.at)?;
    let zone = parsed(request.zone.as_deref(), Field::Zone, Zone::named)?;
    let noon_of = |month: u8, day: u8| {
        let date = CivilDate::new(Calendar::Gregorian, year, month, day)
            .map_err(|error| Refusal::new(Field::When, error))?;
        let said = SaidMoment {
            when: When::clock_shows(CivilTime::noon_of(date)),
            place: place.clone(),
            calendar: None,
            clock: Clock::Zone,
            zone,
            which: Some(Which::Earlier),
        };
        Casting::of_moment(&case, resolved(&said, None)?, cabinet)
    };
    let first = noon_of(1, 1)?;
    let beyond = |error: SkyError| Refusal::new(Field::When, error);
    let begins = first.moment.day().map_err(beyond)?[0];
    let last = noon_of(12, 31)?;
    let ends = last.moment.day().map_err(beyond)?[1];
    let book = Book {
        casting: first,
        begins,
        ends,
    };
    Ok(YearAnswer {
        year,
        place: PlaceAnswer::of(book.moment().place()),
        zone: book.moment().zone().map(|zone| zone.name().to_owned()),
        instrument: InstrumentAnswer::of(&book.casting.instrument, book.casting.latitude()),
        town: book.town(request)?,
        begins_jd_ut: begins.jd_ut(),
        days: book.days().map_err(beyond)?,
        events: events(&book).map_err(beyond)?,
        stars: book.stars().map_err(beyond)?,
        hours: book.hours(&planets).map_err(beyond)?,
        meant: book.meant(),
    })
}

fn planet(name: &str) -> Result<Planet, Refusal> {
    let mut all = Planet::ALL.into_iter();
    let found = all.find(|planet| planet.name().eq_ignore_ascii_case(name.trim()));
    found.ok_or_else(|| {
        let names = Planet::ALL.map(|planet| planet.name().to_owned());
        Refusal {
            choices: names.to_vec(),
            ..Refusal::new(
                Field::Body,
                format!(
                    "{} rules no hours; {} would do",
                    quoted(name),
                    names.join(", ")
                ),
            )
        }
    })
}

impl Book {
    fn ahead_s(&self, instant: Instant) -> f64 {
        let Ok(clock) = self.moment().clock_at(instant) else {
            return self.site().longitude.deg() * 240.0;
        };
        let (day, fraction) = instant.ut_parts();
        let days = f64::from(clock.date.julian_day_number()) - 0.5 - day;
        days * DAY_S + clock.time.seconds() - fraction * DAY_S
    }

    /// The noons of the clock, with their dates.
    fn noons(&self) -> Vec<(CivilDate, Instant)> {
        let first = self.moment().civil().date;
        let (day, fraction) = self.moment().instant().ut_parts();
        let noon = |later: i32| {
            let number = first.julian_day_number() + later;
            let date = CivilDate::from_julian_day_number(first.calendar(), number);
            let about = Instant::from_ut(day + f64::from(later), fraction);
            // Where the clock was put forward or back since New Year.
            let off_s = self.ahead_s(self.moment().instant()) - self.ahead_s(about);
            (
                date,
                Instant::from_ut(day + f64::from(later), fraction + off_s / DAY_S),
            )
        };
        let days = (self.ends.seconds_since(self.begins) / DAY_S).round();
        (0..days as i32).map(noon).collect()
    }

    /// Sunrises and sunsets, from a day before the year to a day after it.
    fn sun(&self, sight: Sight) -> Result<Vec<HorizonCrossing>, SkyError> {
        let (from, until) = (
            self.begins.plus_seconds(-DAY_S),
            self.ends.plus_seconds(2.0 * DAY_S),
        );
        risings_and_settings(Target::Body(Body::Sun), self.site(), sight, from, until)?.collect()
    }

    fn days(&self) -> Result<Vec<YearDayAnswer>, SkyError> {
        let seen = self.sun(Sight::ALMANAC)?;
        let true_horizon = self.sun(Sight::GEOMETRIC)?;
        let noons = self.noons();
        noons
            .iter()
            .map(|(date, noon)| self.day(*date, *noon, &seen, &true_horizon))
            .collect()
    }

    fn day(
        &self,
        date: CivilDate,
        noon: Instant,
        seen: &[HorizonCrossing],
        true_horizon: &[HorizonCrossing],
    ) -> Result<YearDayAnswer, SkyError> {
        let sky = Sky::at(noon)?;
        let (sun, moon) = (sky.sun(), sky.body(Body::Moon));
        // His passage of the meridian nearest to noon by the clock, which may be far from it
        // where the clock is that of another place.
        let hour = self.site().hour_angle(&sky, Target::Body(Body::Sun));
        let passage = noon.plus_seconds(-hour.hours() * 3600.0);
        // The rising and the setting that have it between them, less than a day apart.
        let around = |crossings: &[HorizonCrossing]| {
            let after = crossings.partition_point(|one| one.instant <= passage);
            let rise = after.checked_sub(1).and_then(|at| crossings.get(at));
            let set = crossings.get(after);
            let next = crossings.get(after + 1);
            match (rise, set) {
                (Some(rise), Some(set))
                    if rise.rises && set.instant.seconds_since(rise.instant) < DAY_S =>
                {
                    Some((rise.instant, set.instant, next.map(|next| next.instant)))
                }
                _ => None,
            }
        };
        let (seen, plain) = (around(seen), around(true_horizon));
        let said =
            |instant: Option<Instant>| instant.map(|instant| self.clock(instant)).transpose();
        let twelfth = |from: Instant, to: Instant| {
            let long = to.seconds_since(from);
            (long < DAY_S).then_some(long / 12.0)
        };
        let instrument = &self.casting.instrument;
        let scale = (instrument.date_from() == DateFrom::Zodiac).then(|| {
            let calendar = instrument.specification().date_scale.calendar;
            let date = date.in_calendar(calendar);
            instrument.dates().at(YearDay {
                month: date.month(),
                day: date.day(),
                part: 0.5,
            })
        });
        Ok(YearDayAnswer {
            date: DateAnswer(date),
            weekday: weekday(date),
            ruler: ruler_of_day(passage, self.ahead_s(passage)).name(),
            sun_deg: sun.longitude.in_turn().deg(),
            scale_deg: scale.map(|degree| degree.in_turn().deg()),
            sunrise: said(seen.map(|(rise, ..)| rise))?,
            sunset: said(seen.map(|(_, set, _)| set))?,
            day_hour_s: plain.and_then(|(rise, set, _)| twelfth(rise, set)),
            night_hour_s: plain.and_then(|(_, set, next)| twelfth(set, next?)),
            equation_of_time_s: sky.equation_of_time_s(),
            moon_deg: moon.longitude.in_turn().deg(),
            elongation_deg: (moon.longitude - sun.longitude).in_turn().deg(),
        })
    }

    /// A star of the rete for each week: the brightest that stands between 25° and 60°, away
    /// from the meridian, where an altitude tells the hour well.
    fn stars(&self) -> Result<Vec<EveningStarAnswer>, SkyError> {
        let site = self.site();
        let sun = Target::Body(Body::Sun);
        let dusk = Angle::from_deg(-9.0);
        let (from, until) = (self.begins, self.ends.plus_seconds(DAY_S));
        let dusks = figure::altitude_passages(sun, site, dusk, from, until)?
            .filter(|found| found.as_ref().is_ok_and(|found| !found.rises) || found.is_err())
            .collect::<Result<Vec<HorizonCrossing>, SkyError>>()?;
        let mut stars = Vec::new();
        for (n, (date, noon)) in self.noons().into_iter().enumerate() {
            if n > 0 && weekday(date) != "Monday" {
                continue;
            }
            let evening = dusks.iter().find(|dusk| dusk.instant > noon);
            let Some(evening) = evening.filter(|dusk| dusk.instant.seconds_since(noon) < DAY_S)
            else {
                continue;
            };
            let sky = Sky::at(evening.instant)?;
            let placed = self
                .casting
                .instrument
                .stars()
                .iter()
                .filter_map(|pointer| {
                    let star = star_lettered(pointer.name).ok()?;
                    let place = site.position(&sky, Target::Star(star), Sight::ALIDADE);
                    let from_meridian = Angle::HALF_TURN.to(place.azimuth).abs().deg();
                    let well = (25.0..60.0).contains(&place.altitude.deg())
                        && (25.0..155.0).contains(&from_meridian);
                    well.then_some((star, pointer, place))
                });
            let brightest =
                placed.min_by(|(_, a, _), (_, b, _)| a.magnitude.total_cmp(&b.magnitude));
            if let Some((star, pointer, place)) = brightest {
                stars.push(EveningStarAnswer {
                    from: DateAnswer(date),
                    star: star.label(),
                    lettered: (pointer.name != star.label()).then_some(pointer.name),
                    at: self.clock(evening.instant)?,
                    altitude_deg: place.altitude.deg(),
                    azimuth_deg: place.azimuth.deg(),
                });
            }
        }
        Ok(stars)
    }

    fn hours(&self, planets: &[Planet]) -> Result<Vec<PlanetHourAnswer>, SkyError> {
        if planets.is_empty() {
            return Ok(Vec::new());
        }
        let almanac = Almanac::of(self.begins, self.ends)?;
        let ahead = |instant| self.ahead_s(instant);
        let choosing = Choosing {
            almanac: &almanac,
            site: self.site(),
            choices: &Choices::default(),
            clock_ahead_of_ut_s: &ahead,
        };
        let mut hours = Vec::new();
        for planet in planets {
            for (from, until) in choosing.spans(&Condition::HourOf(*planet))?.iter() {
                let [from, until] = [from, until].map(|at| to_second(self.begins.plus_seconds(at)));
                hours.push(PlanetHourAnswer {
                    planet: planet.name(),
                    from: self.clock(from)?,
                    until: self.clock(until)?,
                    from_jd_ut: from.jd_ut(),
                    until_jd_ut: until.jd_ut(),
                });
            }
        }
        hours.sort_by(|a, b| a.from_jd_ut.total_cmp(&b.from_jd_ut));
        Ok(hours)
    }

    fn town(&self, request: &YearRequest) -> Result<TownPlates, Refusal> {
        let specification = self.casting.instrument.specification();
        let asked = PlatesRequest {
            towns: vec![request.at.clone()],
            stock_deg: specification
                .plates
                .iter()
                .map(|plate| plate.deg())
                .collect(),
            year: Some(request.year),
            date_from: Some(specification.date_from.name().to_owned()),
            ..PlatesRequest::default()
        };
        // One town is no long work.
        let answer = plates(&asked, Patience::ENDLESS)?;
        let town = answer.towns.into_iter().next();
        town.ok_or_else(|| Refusal::new(Field::At, format!("{} is no town", quoted(&request.at))))
    }

    fn meant(&self) -> Vec<String> {
        let plate = self
            .casting
            .instrument
            .nearest_plate(self.casting.latitude());
        let wants_mean = self.casting.instrument.date_from().wants_mean_time();
        let mut meant = vec![
            "The Sun's and the Moon's degrees are those of noon by the clock; the first of the Sun's is what the calendar scale of this instrument shows for that noon, the second where he is.".to_owned(),
            "He rises and sets with his upper limb, seen through the air over a level horizon. Weather and hills make minutes of difference.".to_owned(),
            "An unequal hour is a twelfth of the day or of the night that follows, the Sun's centre on the true horizon, as the plate has it.".to_owned(),
            "The equation of time is what is added to local mean time to have the Sun's.".to_owned(),
            format!("The plate nearest to this latitude is that of {}.", Degrees(plate.angle())),
            "The evening's star is the brightest of the rete that stands between 25° and 60°, away from the meridian, when the Sun is 9° below the horizon.".to_owned(),
            "A planet is first or last seen by the rule of Ptolemy (Almagest XIII.7): on that day it is on the true horizon when the Sun stands so far below it, along the circle through the zenith: Mercury 10°, Venus 5°, Mars 11½°, Jupiter 10°, Saturn 11°. Air, hills and the eye make days of difference.".to_owned(),
            "Eclipses of the Moon are by the rule of a shadow enlarged by a fiftieth; magnitudes are parts of the diameter.".to_owned(),
        ];
        if wants_mean {
            meant.push("On this instrument the date is set on a ring of equal days: the equation of time is not applied.".to_owned());
        }
        meant
    }
}

fn weekday(date: CivilDate) -> &'static str {
    // Julian day 0 was a Monday.
    let day = date.julian_day_number().rem_euclid(7);
    WEEKDAYS[usize::try_from(day).unwrap_or_default() % 7]
}
