//! Events of a day with the Sun moving, held against the sky itself: minute after minute it is
//! looked where the Sun stands, and nothing of how the events were found is asked.

#![expect(clippy::unwrap_used, reason = "helpers of tests break off as tests do")]

use std::collections::BTreeMap;

use exact::calculated;
use figure::{Sight, Site, Target};
use instrument::{CurveLeg, Instrument, ListedPlace, Specification};
use moment::{Calendar, Clock, Moment, Place, SaidMoment};
use practice::{
    Calculated, Conditions, CurveRead, Finding, Given, Quantity, RetePlace, StarTaken, Stated,
    Task, TaskChoices, TowardsMecca, Value,
};
use sky::{Angle, Body, Instant, Latitude, Sky};

/// A moment of a place: before sunrise, by day and after sunset, north and south, on either
/// side of both solstices.
const CASES: [(&str, f64, f64); 8] = [
    ("2024-05-14 09:20", 42.88, -8.54),
    ("2024-05-14 03:10", 42.88, -8.54),
    ("2024-12-02 21:40", 51.75, -1.25),
    ("1391-03-12 23:50", 51.83, -1.25),
    ("2023-09-30 00:20", 12.0, 77.6),
    ("1955-11-03 18:30", -37.81, 144.96),
    ("2030-01-20 05:00", -54.8, -68.3),
    ("1700-07-08 12:01", 59.9, 30.3),
];

/// A second of time, in degrees of the hour angle.
const SECOND_DEG: f64 = 1.0 / 240.0;

const STAR_DECLINATION_DEG: f64 = -16.7;

struct Day {
    name: String,
    now: Instant,
    site: Site,
    conditions: Conditions,
}

impl Day {
    fn all() -> Vec<Day> {
        CASES.iter().map(|case| Day::of(*case)).collect()
    }

    fn of((when, latitude, longitude): (&str, f64, f64)) -> Day {
        let place = Place::at(latitude, longitude).unwrap();
        let said = SaidMoment {
            clock: Clock::Mean,
            ..SaidMoment::new(when, place).unwrap()
        };
        let moment = Moment::resolve(&said, None).unwrap();
        let hemisphere = if latitude < 0.0 { "south" } else { "north" };
        let brass = Instrument::new(
            Specification::from_toml(&format!(
                "version = 1\nname = \"ideal\"\ndiameter_mm = 200\nepoch_year = 2000\n\
                 hemisphere = \"{hemisphere}\"\nplates_deg = [{latitude}]\ndate_from = \"given\"\n"
            ))
            .unwrap(),
        );
        let given = Given::of_moment(&moment, Calendar::Gregorian);
        Day {
            name: when.to_owned(),
            now: moment.instant(),
            site: Site {
                latitude: Latitude::from_deg(latitude).unwrap(),
                longitude: Angle::from_deg(longitude),
            },
            conditions: Conditions::ideal(given, &brass, moment.sky().obliquity()),
        }
    }

    fn found(&self, task: Task, hour: u8) -> BTreeMap<Finding, Calculated> {
        let choices = TaskChoices {
            hour,
            ..TaskChoices::default()
        };
        self.found_for_star(task, &choices, Angle::from_deg(101.3))
    }

    /// The same with a star at a right ascension.
    fn found_for_star(
        &self,
        task: Task,
        choices: &TaskChoices,
        right_ascension: Angle,
    ) -> BTreeMap<Finding, Calculated> {
        let number = Value::UnequalHours(f64::from(choices.hour));
        let star = StarTaken {
            name: "a star".to_owned(),
            right_ascension,
            declination: Latitude::from_deg(STAR_DECLINATION_DEG).unwrap(),
        };
        let stated = BTreeMap::from([(Stated::UnequalHours, number)]);
        let conditions = self
            .conditions
            .clone()
            .asked(Some(star), BTreeMap::new(), stated);
        let sky = Sky::at(self.now).unwrap();
        let found = calculated(task, &conditions, choices, &sky, self.site).unwrap();
        let found = found
            .into_iter()
            .filter_map(|(quantity, one)| match quantity {
                Quantity::Found(finding) => Some((finding, one)),
                _ => None,
            });
        found.collect()
    }

    /// So many seconds from the moment.
    fn after(&self, seconds: f64) -> Sky {
        Sky::at(self.now.plus_seconds(seconds)).unwrap()
    }

    fn altitude(&self, seconds: f64) -> f64 {
        let sun = Target::Body(Body::Sun);
        let position = self
            .site
            .position(&self.after(seconds), sun, Sight::GEOMETRIC);
        position.altitude.deg()
    }

    fn hour(&self, seconds: f64) -> Angle {
        let sun = Target::Body(Body::Sun);
        self.site.hour_angle(&self.after(seconds), sun)
    }

    /// The nearest moment from one on at which the Sun passes the horizon, upwards or down:
    /// minute after minute, then by halves.
    fn passes(&self, from: f64, step: f64, rising: bool) -> f64 {
        let is_above = |seconds: f64| (self.altitude(seconds) > 0.0) == rising;
        // Forwards it comes up or goes down, backwards it did.
        let (before, after) = (step < 0.0, step > 0.0);
        let minute = (0..1600)
            .map(|minute| from + f64::from(minute) * step)
            .find(|at| is_above(*at) == before && is_above(at + step) == after);
        let mut ends = [minute.unwrap(), minute.unwrap() + step];
        ends.sort_by(f64::total_cmp);
        for _ in 0..40 {
            let middle = (ends[0] + ends[1]) / 2.0;
            let half = usize::from(is_above(middle));
            ends[half] = middle;
        }
        ends[0]
    }

    fn seconds(&self, event: &Calculated) -> f64 {
        event.at.unwrap().seconds_since(self.now)
    }

    /// Whether a moment is of the same day by the Sun: its hour has gone on by what has gone
    /// by since, and by no turn more or less.
    fn is_of_the_day(&self, seconds: f64) -> bool {
        let gone = self.hour(seconds).signed().deg() - self.hour(0.0).signed().deg();
        (gone - seconds * SECOND_DEG).abs() < 1.0
    }
}

#[track_caller]
fn near(day: &Day, what: &str, found: f64, should: f64, most: f64) {
    assert!(
        (found - should).abs() < most,
        "{}, {what}: {found}, not {should}",
        day.name
    );
}

/// Dawn, sunrise, sunset and nightfall are on the day, when the Sun stands so high and goes up
/// or down, and by the hour that it has then.
#[test]
fn the_sun_stands_where_its_events_say() {
    for day in Day::all() {
        let mut found = day.found(Task::DawnAndNightfall, 1);
        found.append(&mut day.found(Task::DayAndNight, 1));
        for (finding, altitude, sign) in [
            (Finding::Dawn, -18.0, 1.0),
            (Finding::Sunrise, 0.0, 1.0),
            (Finding::Sunset, 0.0, -1.0),
            (Finding::Nightfall, -18.0, -1.0),
        ] {
            let what = format!("{finding:?}");
            let Some(event) = found.get(&finding) else {
                // In the white nights there is neither.
                assert!(altitude < 0.0, "{}: {what}", day.name);
                continue;
            };
            let at = day.seconds(event);
            near(&day, &what, day.altitude(at), altitude, 1e-4);
            assert!(
                day.altitude(at + 60.0 * sign) > altitude,
                "{}: {what}",
                day.name
            );
            assert!(
                day.is_of_the_day(at),
                "{}: {what} is of another day",
                day.name
            );
            let hour = day.hour(at);
            let computed = event.truly.angle().unwrap();
            near(&day, &what, computed.to(hour).deg(), 0.0, SECOND_DEG);
        }
        let arc = |finding| found[&finding].truly.number();
        let hour = |finding: Finding| found[&finding].truly.number();
        let length = hour(Finding::Sunset) - hour(Finding::Sunrise);
        near(&day, "day", arc(Finding::DayArc), length, 1e-9);
        // Until the next sunrise, which is minutes earlier or later by the Sun's own hour.
        let night = 360.0 - length;
        near(&day, "night", arc(Finding::NightArc), night, 1.5);
    }
}

/// What has gone since the last sunrise and the last sunset, by a Sun that was followed back
/// to them: a day by the Sun is half a minute longer or shorter than one by the clock.
#[test]
fn hours_are_counted_from_the_last_sunrise_and_sunset() {
    for day in Day::all() {
        let found = day.found(Task::HoursGone, 1);
        for (finding, rising) in [(Finding::SinceSunrise, true), (Finding::SinceSunset, false)] {
            let since = -day.passes(0.0, -60.0, rising);
            let gone = found[&finding].truly.number();
            near(
                &day,
                &format!("{finding:?}"),
                gone,
                since * SECOND_DEG,
                0.14,
            );
        }
        assert_eq!(found[&Finding::Hour].at, Some(day.now), "{}", day.name);
        near(
            &day,
            "now",
            day.hour(0.0)
                .to(found[&Finding::Hour].truly.angle().unwrap())
                .deg(),
            0.0,
            SECOND_DEG,
        );
    }
}

/// The twelve hours of the day lie between its sunrise and its sunset, those of the night
/// between its sunset and the next sunrise: each as long as the others, one after another.
#[test]
fn unequal_hours_fill_the_day_and_the_night() {
    for day in Day::all() {
        let found = day.found(Task::DayAndNight, 1);
        let [sunrise, sunset] =
            [Finding::Sunrise, Finding::Sunset].map(|one| day.seconds(&found[&one]));
        let next = day.passes(sunset + 600.0, 60.0, true);
        for number in 1..=24_u8 {
            let (from, until, hours) = match number {
                1..=12 => (sunrise, sunset, f64::from(number)),
                _ => (sunset, next, f64::from(number) - 12.0),
            };
            let span = day.found(Task::HourSpan, number);
            for (finding, hours) in [
                (Finding::HourBegins, hours - 1.0),
                (Finding::HourEnds, hours),
            ] {
                let should = from + (until - from) * hours / 12.0;
                let event = &span[&finding];
                near(
                    &day,
                    &format!("hour {number}"),
                    day.seconds(event),
                    should,
                    1.0,
                );
                let hour = event.truly.angle().unwrap();
                near(
                    &day,
                    "its hour",
                    hour.to(day.hour(should)).deg(),
                    0.0,
                    2.0 * SECOND_DEG,
                );
            }
            let equal = day.found(Task::EqualHours, number)[&Finding::EqualHours]
                .truly
                .number();
            let length = (until - from) * SECOND_DEG / 12.0 * f64::from(number);
            near(
                &day,
                "equal hours",
                equal,
                length,
                0.014 * f64::from(number),
            );
        }
    }
}

/// The hour that it is now lies in the day or the night where the moment lies between the
/// passages before and after it.
#[test]
fn the_unequal_hour_is_that_of_the_moment() {
    for day in Day::all() {
        let is_up = day.altitude(0.0) > 0.0;
        let (last, next) = (day.passes(0.0, -60.0, is_up), day.passes(0.0, 60.0, !is_up));
        let part = -last / (next - last) * 12.0;
        let should = if is_up { part } else { 12.0 + part };
        let found = day.found(Task::PlanetaryHour, 1);
        near(
            &day,
            "unequal hour",
            found[&Finding::UnequalHour].truly.number(),
            should,
            1e-3,
        );
    }
}

/// A star rises, culminates and sets on the day; where it does so twice in it, the time that
/// is nearer is told.
#[test]
fn a_star_is_where_its_events_say() {
    for day in Day::all() {
        is_where_its_events_say(&day, Angle::from_deg(101.3));
    }
}

/// The sky turns round in four minutes less than the day: what happens within them before or
/// after midnight happens twice on the day, and morning and evening are told different times.
#[test]
fn what_happens_twice_on_a_day_is_told_for_the_time_that_is_nearer() {
    let mut twice = 0;
    for day in Day::all() {
        let sun = day.after(0.0).sun().right_ascension;
        for deg in [178.6, 179.2, 179.6, 180.4, 180.8, 181.4] {
            let culminates = is_where_its_events_say(&day, sun + Angle::from_deg(deg));
            let also = [culminates - SIDEREAL_DAY_S, culminates + SIDEREAL_DAY_S];
            twice += also.iter().filter(|at| day.is_of_the_day(**at)).count();
        }
    }
    assert!(twice >= 8, "{twice}");
}

const SIDEREAL_DAY_S: f64 = 86_164.1;

/// Holds a star's events against where it stands then; the seconds from the moment to its
/// culmination.
#[track_caller]
fn is_where_its_events_say(day: &Day, right_ascension: Angle) -> f64 {
    let found = day.found_for_star(Task::StarUp, &TaskChoices::default(), right_ascension);
    let declination = Latitude::from_deg(STAR_DECLINATION_DEG).unwrap();
    let stands = |seconds: f64| {
        let sky = day.after(seconds);
        let horizon = day.site.horizon(&sky);
        let altitude = horizon
            .position(right_ascension, declination)
            .altitude
            .deg();
        (altitude, right_ascension.to(horizon.sidereal_time).deg())
    };
    for finding in [Finding::Rising, Finding::Culmination, Finding::Setting] {
        let what = format!("{finding:?}");
        let at = day.seconds(&found[&finding]);
        let (altitude, from_meridian) = stands(at);
        match finding {
            Finding::Culmination => near(day, &what, from_meridian, 0.0, 0.01),
            _ => {
                near(day, &what, altitude, 0.0, 0.01);
                assert_eq!(from_meridian < 0.0, finding == Finding::Rising, "{what}");
            }
        }
        assert!(
            day.is_of_the_day(at),
            "{}: {what} is of another day",
            day.name
        );
        for other in [at - SIDEREAL_DAY_S, at + SIDEREAL_DAY_S] {
            let nearer = other.abs() < at.abs() - 60.0;
            assert!(!nearer || !day.is_of_the_day(other), "{}: {what}", day.name);
        }
    }
    day.seconds(&found[&Finding::Culmination])
}

/// An instrument shows where the Sun of the moment would rise and set; calculation has the
/// Sun that does, hours away.
#[test]
fn the_suns_azimuths_at_the_horizon_are_those_at_its_rising_and_setting() {
    for day in Day::all() {
        let events = day.found(Task::DayAndNight, 1);
        let found = day.found(Task::SunriseAzimuth, 1);
        for (azimuth, event) in [
            (Finding::Azimuth, Finding::Sunrise),
            (Finding::SettingAzimuth, Finding::Sunset),
        ] {
            let there = day.after(day.seconds(&events[&event]));
            let sun = Target::Body(Body::Sun);
            let stands = day.site.position(&there, sun, Sight::GEOMETRIC).azimuth;
            let computed = found[&azimuth].truly.angle().unwrap();
            near(
                &day,
                &format!("{azimuth:?}"),
                computed.to(stands).deg(),
                0.0,
                1e-4,
            );
        }
    }
}

/// Where a star is asked about, the Sun's way changes nothing.
#[test]
fn a_stars_noon_and_azimuths_are_those_of_the_moment() {
    for day in Day::all() {
        let choices = TaskChoices {
            subject: RetePlace::Star,
            ..TaskChoices::default()
        };
        for task in [Task::MeridianAltitude, Task::SunriseAzimuth] {
            let found = day.found_for_star(task, &choices, Angle::from_deg(101.3));
            assert!(!found.is_empty(), "{}: {task}", day.name);
            for (finding, one) in found {
                assert_eq!(one.truly, one.sun_held, "{}: {finding:?}", day.name);
                assert_eq!(one.at, None, "{}: {finding:?}", day.name);
            }
        }
    }
}

/// Minute after minute through the day the Sun's azimuth is held against the bearing of Mecca:
/// where it passes, the altitude is what is told.
#[test]
fn the_sun_passes_the_direction_of_mecca() {
    let mecca = (21.0 + 25.0 / 60.0 + 21.0 / 3600.0_f64).to_radians();
    let mut held = 0;
    for (day, (_, latitude, longitude)) in Day::all().iter().zip(CASES) {
        let phi = latitude.to_radians();
        let away = (39.0 + 49.0 / 60.0 + 34.0 / 3600.0 - longitude).to_radians();
        let bearing = away
            .sin()
            .atan2(phi.cos() * mecca.tan() - phi.sin() * away.cos())
            .to_degrees();
        let sun = Target::Body(Body::Sun);
        let position = |at: f64| day.site.position(&day.after(at), sun, Sight::GEOMETRIC);
        let off =
            |at: f64| (position(at).azimuth.deg() - bearing + 540.0).rem_euclid(360.0) - 180.0;
        let from = -(day.hour(0.0).deg() + 180.0) * 240.0;
        let mut passed = Vec::new();
        for minute in 0..1440 {
            let (mut low, mut high) = (
                from + f64::from(minute) * 60.0,
                from + f64::from(minute + 1) * 60.0,
            );
            if off(low).abs() > 20.0 || (off(low) > 0.0) == (off(high) > 0.0) {
                continue;
            }
            for _ in 0..40 {
                let middle = (low + high) / 2.0;
                if (off(middle) > 0.0) == (off(low) > 0.0) {
                    low = middle;
                } else {
                    high = middle;
                }
            }
            let altitude = day.altitude(low);
            if altitude > 0.0 {
                passed.push(altitude);
            }
        }
        let place = ListedPlace {
            name: "here".to_owned(),
            latitude: day.site.latitude,
            longitude: day.site.longitude,
        };
        let mut computed = Vec::new();
        for lower in [CurveLeg::Northward, CurveLeg::Southward] {
            let choices = TaskChoices {
                towards_mecca: TowardsMecca {
                    lower,
                    higher: None,
                },
                ..TaskChoices::default()
            };
            let conditions = day.conditions.clone().reading_back(
                day.site.latitude,
                Some(CurveRead::whole(place.clone())),
                Vec::new(),
            );
            let found = calculated(
                Task::QiblaByCurves,
                &conditions,
                &choices,
                &Sky::at(day.now).unwrap(),
                day.site,
            )
            .unwrap();
            let one = found.get(&Quantity::Found(Finding::TowardsMecca));
            computed.extend(one.and_then(|one| one.truly.angle()).map(Angle::deg));
        }
        computed.sort_by(f64::total_cmp);
        passed.sort_by(f64::total_cmp);
        assert_eq!(
            computed.len(),
            passed.len(),
            "{}: {computed:?} {passed:?}",
            day.name
        );
        for (one, other) in computed.iter().zip(&passed) {
            assert!((one - other).abs() < 1e-5, "{}: {one} {other}", day.name);
            held += 1;
        }
    }
    assert!(held >= 4, "{held}");
}
