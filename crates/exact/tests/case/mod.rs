//! A question on an instrument with everything that any operation may need.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use exact::sun_towards_mecca;
use instrument::{CurveLeg, Instrument, ListedPlace, Pick, Specification, YearDay};
use practice::{
    Amount, Conditions, CurveRead, Given, RetePlace, Seen, Sighting, StarTaken, Stated, SunPlace,
    Task, TaskChoices, TowardsMecca, Value,
};
use proptest::prelude::*;
use sky::{Angle, Latitude};

pub(crate) fn instrument(south: bool) -> &'static Instrument {
    static BUILT: OnceLock<[Instrument; 2]> = OnceLock::new();
    let build = |hemisphere: &str, plate: i32| {
        let text = format!(
            "version = 1\nname = \"ideal\"\ndiameter_mm = 200\nhemisphere = \"{hemisphere}\"\n\
             orientation = \"noon-up\"\nepoch_year = 2000\nplates_deg = [{plate}]\n\
             date_from = \"given\"\n"
        );
        Instrument::new(Specification::from_toml(&text).unwrap())
    };
    let built = BUILT.get_or_init(|| [build("north", 45), build("south", -45)]);
    &built[usize::from(south)]
}

/// A question with everything that any task may need.
#[derive(Clone, Debug)]
pub(crate) struct Case {
    pub(crate) latitude: f64,
    pub(crate) obliquity: f64,
    pub(crate) sun: f64,
    pub(crate) hour: f64,
    pub(crate) star: (f64, f64),
    pub(crate) degrees: (f64, f64),
    pub(crate) planet_latitude: f64,
    /// Altitudes as parts of what is reached.
    pub(crate) high: (f64, f64),
    pub(crate) west: bool,
    pub(crate) number: u8,
}

pub(crate) fn cases(latitude: std::ops::Range<f64>) -> impl Strategy<Value = Case> {
    (
        (latitude, 23.0..23.9, 0.0..360.0, -180.0..180.0),
        (0.0..360.0, -20.0..40.0),
        (0.0..360.0, 0.0..360.0, -6.0..6.0),
        (0.05..0.9, 0.05..0.9),
        any::<bool>(),
        1..=24_u8,
    )
        .prop_map(
            |((latitude, obliquity, sun, hour), star, degrees, high, west, number)| Case {
                latitude,
                obliquity,
                sun,
                hour,
                star,
                degrees: (degrees.0, degrees.1),
                planet_latitude: degrees.2,
                high,
                west,
                number,
            },
        )
}

pub(crate) fn angle(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

impl Case {
    pub(crate) fn sun_place(&self) -> SunPlace {
        let (sin, cos) = angle(self.sun).sin_cos();
        let (sin_e, cos_e) = angle(self.obliquity).sin_cos();
        SunPlace {
            longitude: angle(self.sun),
            right_ascension: Angle::atan2(sin * cos_e, cos).in_turn(),
            declination: Latitude::asin(sin * sin_e),
        }
    }

    pub(crate) fn south(&self) -> bool {
        self.latitude < 0.0
    }

    /// A declination's altitude on the meridian.
    pub(crate) fn meridian(&self, declination: f64) -> f64 {
        let sign = if self.south() { -1.0 } else { 1.0 };
        90.0 - self.latitude.abs() + sign * declination
    }

    pub(crate) fn conditions(&self, task: Task, choices: &TaskChoices) -> Conditions {
        let sun = self.sun_place();
        let given = Given {
            latitude: Latitude::from_deg(self.latitude).unwrap(),
            clock: angle(self.hour + 180.0),
            to_mean: Vec::new(),
            equation_of_time: Angle::ZERO,
            clock_is_apparent: true,
            date: YearDay {
                month: 1,
                day: 1,
                part: 0.0,
            },
            sun,
        };
        let declination = match (task, choices.subject) {
            (Task::HourByStar | Task::MoonDegree, _) | (_, RetePlace::Star) => self.star.1,
            _ => sun.declination.deg(),
        };
        let reached = self.meridian(declination);
        let reached = if reached > 90.0 {
            180.0 - reached
        } else {
            reached
        };
        let seen = |value: f64| Seen {
            value: Value::Height(angle(value)),
            within: Some(Amount::Angle(Angle::ZERO)),
        };
        let noon = match task {
            Task::LatitudeByStar => self.meridian(self.star.1),
            _ => self.meridian(sun.declination.deg()),
        };
        let noon = noon.min(180.0 - noon);
        let seen = BTreeMap::from([
            (Sighting::Altitude, seen(reached * self.high.0)),
            (Sighting::NoonAltitude, seen(noon)),
            (Sighting::UpperAltitude, seen(60.0)),
            (Sighting::LowerAltitude, seen(40.0)),
            (Sighting::WandererAltitude, seen(40.0 * self.high.1)),
        ]);
        let stated = BTreeMap::from([
            (Stated::Degree, Value::Degree(angle(self.degrees.0))),
            (Stated::OtherDegree, Value::Degree(angle(self.degrees.1))),
            (Stated::Latitude, Value::Height(angle(self.planet_latitude))),
            (
                Stated::UnequalHours,
                Value::UnequalHours(f64::from(self.number)),
            ),
        ]);
        let star = StarTaken {
            name: "a star".to_owned(),
            right_ascension: angle(self.star.0),
            declination: Latitude::from_deg(self.star.1).unwrap(),
        };
        Conditions::ideal(given, instrument(self.south()), angle(self.obliquity))
            .asked(Some(star), seen, stated)
            .reading_back(
                Latitude::from_deg(self.latitude).unwrap(),
                Some(CurveRead::whole(self.place())),
                Vec::new(),
            )
    }

    pub(crate) fn choices(&self, task: Task) -> TaskChoices {
        let declination = match task {
            Task::LatitudeByStar => self.star.1,
            _ => self.sun_place().declination.deg(),
        };
        let by_noon = task.sighted_on_meridian() == Some(Sighting::NoonAltitude);
        TaskChoices {
            beyond_zenith: by_noon && self.meridian(declination) > 90.0,
            side: if self.west {
                Pick::Western
            } else {
                Pick::Eastern
            },
            other_side: Pick::Eastern,
            subject: RetePlace::Sun,
            hour: self.number,
            towards_mecca: self.towards_mecca(),
        }
    }

    /// The place, at a longitude that the case has no other use for in the same task.
    fn place(&self) -> ListedPlace {
        ListedPlace {
            name: "here".to_owned(),
            latitude: Latitude::from_deg(self.latitude).unwrap(),
            longitude: angle(self.degrees.0).signed(),
        }
    }

    fn towards_mecca(&self) -> TowardsMecca {
        let place = self.place();
        let declination = self.sun_place().declination;
        let there = sun_towards_mecca(place.latitude, place.longitude, declination);
        let legs: Vec<CurveLeg> = there.iter().map(|one| one.leg).collect();
        TowardsMecca {
            lower: legs.first().copied().unwrap_or(CurveLeg::Northward),
            higher: legs.get(1).copied(),
        }
    }
}
