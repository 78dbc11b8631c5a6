//! Every operation of the treatise by both roads: what an ideal instrument shows,
//! what calculation gives, and how near a rounded working comes.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;
use std::sync::OnceLock;

use instrument::{Eye, Instrument, Length, Pick, Specification, YearDay};
use practice::{
    Brought, Conditions, Finding, Given, Quantity, Seen, Sight, StarTaken, SunPlace, Task, Told,
    Way, carry_out, exact, within,
};
use proptest::prelude::*;
use sky::{Angle, Latitude};

/// What the roads may differ by, widened where a small error is enlarged.
const AGREE: Angle = Angle::from_deg(1e-9);

fn instrument(south: bool) -> &'static Instrument {
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
struct Case {
    latitude: f64,
    obliquity: f64,
    sun: f64,
    hour: f64,
    star: (f64, f64),
    degrees: (f64, f64),
    planet_latitude: f64,
    /// Altitudes as parts of what is reached.
    high: (f64, f64),
    west: bool,
    number: u8,
}

fn cases(latitude: std::ops::Range<f64>) -> impl Strategy<Value = Case> {
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

fn angle(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

impl Case {
    fn sun_place(&self) -> SunPlace {
        let (sin, cos) = angle(self.sun).sin_cos();
        let (sin_e, cos_e) = angle(self.obliquity).sin_cos();
        SunPlace {
            longitude: angle(self.sun),
            right_ascension: Angle::atan2(sin * cos_e, cos).in_turn(),
            declination: Latitude::asin(sin * sin_e),
        }
    }

    fn south(&self) -> bool {
        self.latitude < 0.0
    }

    /// A declination's altitude on the meridian.
    fn meridian(&self, declination: f64) -> f64 {
        let sign = if self.south() { -1.0 } else { 1.0 };
        90.0 - self.latitude.abs() + sign * declination
    }

    fn conditions(&self, task: Task, way: &Way) -> Conditions {
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
        let declination = match (task, way.subject) {
            (Task::HourByStar | Task::MoonDegree, _) | (_, Brought::Star) => self.star.1,
            _ => sun.declination.deg(),
        };
        let reached = self.meridian(declination);
        let reached = if reached > 90.0 {
            180.0 - reached
        } else {
            reached
        };
        let seen = |value: f64| Seen {
            value: angle(value),
            within: Some(Angle::ZERO),
        };
        let noon = match task {
            Task::LatitudeByStar => self.meridian(self.star.1),
            _ => self.meridian(sun.declination.deg()),
        };
        let seen = BTreeMap::from([
            (Sight::Altitude, seen(reached * self.high.0)),
            (Sight::NoonAltitude, seen(noon)),
            (Sight::UpperAltitude, seen(60.0)),
            (Sight::LowerAltitude, seen(40.0)),
            (Sight::WandererAltitude, seen(40.0 * self.high.1)),
        ]);
        let told = BTreeMap::from([
            (Told::Degree, angle(self.degrees.0)),
            (Told::OtherDegree, angle(self.degrees.1)),
            (Told::Latitude, angle(self.planet_latitude)),
            (
                Told::UnequalHours,
                Angle::from_hours(f64::from(self.number)),
            ),
        ]);
        let star = StarTaken {
            name: "a star".to_owned(),
            right_ascension: angle(self.star.0),
            declination: Latitude::from_deg(self.star.1).unwrap(),
        };
        Conditions::ideal(given, instrument(self.south()), angle(self.obliquity)).asked(
            Some(star),
            seen,
            told,
        )
    }

    fn way(&self) -> Way {
        Way {
            side: if self.west {
                Pick::Western
            } else {
                Pick::Eastern
            },
            other_side: Pick::Eastern,
            subject: Brought::Sun,
            hour: self.number,
        }
    }
}

/// What is the treatise's own rough answer, and so no road to the exact one.
fn is_rough(task: Task, quantity: Quantity) -> bool {
    matches!(
        quantity,
        Quantity::Found(
            Finding::OldCulminatingDegree | Finding::OldRisingDegree | Finding::PlanetLatitude
        )
    ) || task == Task::BetweenAlmucantars
}

/// Tasks of which nothing is checked by calculation: sums on paper.
const ON_PAPER: [Task; 7] = [
    Task::DirectOrRetrograde,
    Task::MeridianByShadows,
    Task::HeightByRecta,
    Task::HeightByVersa,
    Task::HeightByVersaTwice,
    Task::HeightByRectaTwice,
    Task::RectaToVersa,
];

fn off(one: Angle, other: Angle) -> Angle {
    one.to(other).abs()
}

/// How much a small error of any step is enlarged in a quantity.
fn gain(task: Task, conditions: &Conditions, way: &Way, quantity: Quantity) -> f64 {
    let mut eye = conditions.clone();
    let tiny = Eye {
        least: Length::from_mm(1e-6),
        part_of_division: 0.0,
    };
    eye.setting = tiny;
    eye.reading = tiny;
    let operation = task.operation(&eye.instrument, way);
    let moved = within(&operation, &eye).get(&quantity).copied();
    // A millionth of a millimetre is half a millionth of a degree at the limb.
    (moved.unwrap_or_default().deg() / 5e-7).max(1.0)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..Default::default() })]

    #[test]
    fn an_ideal_instrument_shows_what_calculation_gives(case in prop_oneof![cases(8.0..64.0), cases(-64.0..-8.0)]) {
        for task in Task::ALL {
            let way = case.way();
            let conditions = case.conditions(task, &way);
            let working = carry_out(&task.operation(&conditions.instrument, &way), &conditions);
            let exact = exact(task, &conditions, &way);
            let operation = task.operation(&conditions.instrument, &way);
            for quantity in task.finds(&operation) {
                if is_rough(task, quantity) || ON_PAPER.contains(&task) || task == Task::SunDegree {
                    continue;
                }
                let read = working.reading(quantity).ok().map(|reading| reading.value);
                let calculated = exact.get(&quantity).copied();
                match (read, calculated) {
                    (Some(read), Some(calculated)) => {
                        let tolerance = AGREE * gain(task, &conditions, &way, quantity) * 10.0;
                        prop_assert!(
                            off(read, calculated) < tolerance,
                            "{task} {}: read {read}, calculated {calculated}", quantity.name()
                        );
                    }
                    (None, None) => {}
                    (read, calculated) => prop_assert!(
                        false,
                        "{task} {}: read {read:?}, calculated {calculated:?}: {:?}", quantity.name(), working.reading(quantity)
                    ),
                }
            }
        }
    }
}
