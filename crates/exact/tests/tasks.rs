//! Every operation of the treatise by both roads: what an ideal instrument shows,
//! what calculation gives, and how near a rounded working comes.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;

use case::{Case, angle, cases, instrument};
use exact::exact;
use instrument::{Eye, Length};
use practice::{
    Amount, Conditions, Figures, Finding, Quantity, Seen, Sighting, Stated, Task, TaskChoices,
    Value, carry_out, within,
};
use proptest::prelude::*;
use sky::Angle;

mod case;

/// What the roads may differ by, widened where a small error is enlarged.
const AGREE: f64 = 1e-9;

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

/// How far two values of a kind are apart, in its own unit.
fn off(one: Value, other: Value) -> f64 {
    one.to(other).number().abs()
}

/// How much a small error of any step is enlarged in a quantity.
fn gain(task: Task, conditions: &Conditions, choices: &TaskChoices, quantity: Quantity) -> f64 {
    let mut eye = conditions.clone();
    let tiny = Eye {
        least: Length::from_mm(1e-6),
        part_of_division: 0.0,
    };
    eye.setting = tiny;
    eye.reading = tiny;
    let operation = task.operation(&eye.instrument, choices);
    let moved = within(&operation, &eye)
        .get(&quantity)
        .map_or(0.0, |moved| moved.number());
    // A millionth of a millimetre is half a millionth of a degree at the limb.
    (moved / 5e-7).max(1.0)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn an_ideal_instrument_shows_what_calculation_gives(case in prop_oneof![cases(8.0..64.0), cases(-64.0..-8.0)]) {
        for task in Task::ALL {
            let choices = case.choices(task);
            let conditions = case.conditions(task, &choices);
            let working = carry_out(&task.operation(&conditions.instrument, &choices), &conditions);
            let exact = exact(task, &conditions, &choices);
            let operation = task.operation(&conditions.instrument, &choices);
            for quantity in task.finds(&operation) {
                if is_rough(task, quantity) || ON_PAPER.contains(&task) {
                    continue;
                }
                let read = working.reading(quantity).ok().map(|reading| reading.value);
                let calculated = exact.get(&quantity).copied();
                match (read, calculated) {
                    (Some(read), Some(calculated)) => {
                        let tolerance = AGREE * gain(task, &conditions, &choices, quantity) * 10.0;
                        prop_assert!(
                            off(read, calculated) < tolerance,
                            "{task} {}: read {read:?}, calculated {calculated:?}", quantity.name()
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

/// A case at Chaucer's Oxford, 51°50′, with the obliquity of 1391.
fn oxford(sun: f64) -> Case {
    Case {
        latitude: 51.0 + 50.0 / 60.0,
        obliquity: 23.5208,
        sun,
        hour: 0.0,
        star: (94.577, -16.039),
        degrees: (0.0, 30.0),
        planet_latitude: -3.0,
        high: (0.5, 0.5),
        west: false,
        number: 1,
    }
}

fn work(case: &Case, task: Task, altitude: Option<f64>, quantity: Quantity) -> f64 {
    let choices = case.choices(task);
    let mut conditions = case.conditions(task, &choices);
    if let Some(altitude) = altitude {
        let seen = Seen {
            value: Value::Height(angle(altitude)),
            within: None,
        };
        conditions.seen.insert(Sighting::Altitude, seen);
    }
    let working = carry_out(
        &task.operation(&conditions.instrument, &choices),
        &conditions,
    );
    working.reading(quantity).unwrap().value.number()
}

#[track_caller]
fn near(value: f64, published: f64, tolerance: f64) {
    let off = angle(value).to(angle(published)).abs().deg();
    assert!(
        off <= tolerance,
        "{value} against {published}, {tolerance} allowed"
    );
}

/// Chaucer, *A Treatise on the Astrolabe* (ed. Skeat 1894), II.3: on 12 March 1391
/// the Sun, at 1° of Aries, 25°30′ high in the forenoon, gives nine of the clock,
/// and the 20th degree of Gemini rises. The two do not quite agree: the altitude
/// gives 8 h 54 m and 18° Gemini; nine o'clock gives 19°44′.
#[test]
fn chaucer_hour_by_the_sun() {
    let hour = Quantity::Found(Finding::Hour);
    let day = oxford(1.0);
    near(work(&day, Task::HourBySun, Some(25.5), hour), -45.0, 1.75);
    near(
        work(&day, Task::HourBySun, Some(25.5), Quantity::Ascendant),
        79.5,
        2.0,
    );
    let nine = Case { hour: -45.0, ..day };
    near(
        work(&nine, Task::HousesByHours, None, Quantity::Ascendant),
        79.5,
        0.5,
    );
}

/// The same conclusion by night: Alhabor (Sirius) 18° high in the west gives 8 h 8 m
/// after noon and the 23rd degree of Libra rising.
#[test]
fn chaucer_hour_by_alhabor() {
    let night = Case {
        west: true,
        ..oxford(1.0)
    };
    let hour = Quantity::Found(Finding::Hour);
    near(work(&night, Task::HourByStar, Some(18.0), hour), 122.0, 1.0);
    near(
        work(&night, Task::HourByStar, Some(18.0), Quantity::Ascendant),
        202.5,
        0.6,
    );
}

/// II.7 to II.11 at the head of Cancer (numbers from ε 23°31′ by the formula of the
/// ascensional difference, computed independently): 247°15′ of day, and unequal
/// hours of 20°36′ and 9°24′. II.10: the two make 30° together.
#[test]
fn chaucer_unequal_hours() {
    let case = oxford(90.0);
    let found = |finding| work(&case, Task::UnequalHours, None, Quantity::Found(finding));
    near(found(Finding::DayArc), 247.25, 0.05);
    near(found(Finding::UnequalHourOfDay), 20.604, 0.01);
    near(found(Finding::UnequalHourOfNight), 9.396, 0.01);
}

/// II.9: at the equinox the day with its twilights, by the convention of 18°, is
/// longer than the twelve hours by what the Sun takes for 18° at each end.
#[test]
fn twilight_at_the_equinox() {
    let case = oxford(0.0);
    let found = |finding| {
        work(
            &case,
            Task::DayWithTwilights,
            None,
            Quantity::Found(finding),
        )
    };
    // sin t = sin 18° / cos φ.
    let twilight = (18f64.to_radians().sin() / case.latitude.to_radians().cos()).asin();
    near(
        found(Finding::DayWithTwilights),
        180.0 + 2.0 * twilight.to_degrees(),
        1e-6,
    );
}

/// II.22 and II.25: the pole is 51°50′ high at Oxford, the equator 38°10′; II.23 and
/// II.24: a star 56° and 48° high on the meridian gives 52°.
#[test]
fn chaucer_latitudes() {
    let case = oxford(0.0);
    let plate = |finding| work(&case, Task::PlateLatitude, None, Quantity::Found(finding));
    near(plate(Finding::PoleAltitude), 51.0 + 50.0 / 60.0, 1e-9);
    near(plate(Finding::EquatorAltitude), 38.0 + 10.0 / 60.0, 1e-9);
    let task = Task::LatitudeByCircumpolarStar;
    let choices = case.choices(task);
    let mut conditions = case.conditions(task, &choices);
    for (sight, deg) in [
        (Sighting::UpperAltitude, 56.0),
        (Sighting::LowerAltitude, 48.0),
    ] {
        let seen = Seen {
            value: Value::Height(angle(deg)),
            within: None,
        };
        conditions.seen.insert(sight, seen);
    }
    let working = carry_out(
        &task.operation(&conditions.instrument, &choices),
        &conditions,
    );
    let pole = working
        .reading(Quantity::Found(Finding::PoleAltitude))
        .unwrap();
    near(pole.value.number(), 52.0, 1e-12);
}

/// II.27 and II.28: right ascensions of the signs 27°54′, 29°55′, 32°12′; oblique
/// ascensions at 51°50′ from Aries to Virgo 12°53′ 16°59′ 26°31′ 37°53′ 42°50′ 42°55′
/// (numbers for ε 23°31′ computed independently).
#[test]
fn ascensions_of_the_signs() {
    let right = [27.90, 29.91, 32.20, 32.20, 29.91, 27.90];
    let oblique = [12.88, 16.98, 26.52, 37.88, 42.83, 42.91];
    for (sign, (right, oblique)) in right.into_iter().zip(oblique).enumerate() {
        let begins = 30.0 * sign as f64;
        let case = Case {
            degrees: (begins, begins + 30.0),
            ..oxford(0.0)
        };
        let found = |task, finding| work(&case, task, None, Quantity::Found(finding));
        near(
            found(Task::RightAscension, Finding::RightAscension),
            right,
            0.01,
        );
        near(
            found(Task::ObliqueAscension, Finding::ObliqueAscension),
            oblique,
            0.02,
        );
    }
}

/// Skeat's footnote to II.17 (1894): Arcturus equally high when 4° Sagittarius and
/// 2° Aquarius rise. The mean of the ascendants, 3° Capricorn, puts the 10th degree
/// of Scorpio on the meridian; rightly it is the beginning of the 5th.
#[test]
fn skeat_corrects_the_two_altitudes() {
    let case = Case {
        degrees: (244.0, 302.0),
        ..oxford(0.0)
    };
    let found = |finding| {
        work(
            &case,
            Task::StarDegreeByTwoAltitudes,
            None,
            Quantity::Found(finding),
        )
    };
    near(found(Finding::CulminatingDegree), 214.5, 1.0);
    near(found(Finding::OldCulminatingDegree), 219.5, 1.0);
}

/// II.40: Jupiter in the first degree of Pisces with 3° of southern latitude is said
/// to rise with the 14th of Pisces. By calculation it is 11°09′ for 0° Pisces (computed
/// independently); laid off along the hour circle, the treatise's way, it is 9°17′.
#[test]
fn chaucer_rising_of_jupiter() {
    let case = Case {
        degrees: (330.0, 0.0),
        ..oxford(0.0)
    };
    let found = |finding| {
        work(
            &case,
            Task::RisingDegreeOfPlanet,
            None,
            Quantity::Found(finding),
        )
    };
    near(found(Finding::RisingDegree), 341.0 + 9.0 / 60.0, 0.05);
    near(found(Finding::OldRisingDegree), 339.0 + 17.0 / 60.0, 0.01);
    near(found(Finding::RisingDegree), 343.5, 3.0);
}

/// Man of Law's Introduction, *Canterbury Tales* B 1–14: on 18 April a shadow as long as
/// the man (45°) at ten of the clock; Nun's Priest's Tale: on 3 May, Sun past 21°
/// Taurus, 41° and more at nine (from memory). Suns of 1387 computed independently.
#[test]
fn canterbury_shadows() {
    let hour = Quantity::Found(Finding::Hour);
    let london = |sun| Case {
        latitude: 51.5,
        ..oxford(sun)
    };
    near(
        work(&london(35.83), Task::HourBySun, Some(45.0), hour),
        -30.0,
        0.5,
    );
    near(
        work(&london(50.25), Task::HourBySun, Some(41.2), hour),
        -45.0,
        0.5,
    );
}

/// J. Blagrave, *Astrolabium Uranicum Generale* (1596), chapter 17: at 51°, the Sun at
/// 27°58′ Gemini, sunrise at "4 and somewhat lesse", sunset 8 h 10 m, oblique
/// ascension 56°20′ (his arithmetic is a degree off); chapter 16: the Sun at 26°03′
/// Pisces is 37° high at noon in Reading.
#[test]
fn blagrave_sunrise() {
    let plymouth = Case {
        latitude: 51.0,
        obliquity: 23.5,
        ..oxford(87.0 + 58.0 / 60.0)
    };
    let found = |finding| work(&plymouth, Task::DayAndNight, None, Quantity::Found(finding));
    near(found(Finding::Sunset), 122.5, 0.3);
    near(found(Finding::Sunrise), -120.0, 2.6);
    let arc = Case {
        degrees: (0.0, 87.0 + 58.0 / 60.0),
        ..plymouth
    };
    let oblique = Quantity::Found(Finding::ObliqueAscension);
    near(
        work(&arc, Task::ObliqueAscension, None, oblique),
        56.0 + 20.0 / 60.0,
        1.3,
    );
    let reading = Case {
        latitude: 51.45,
        ..oxford(356.05)
    };
    let altitude = Quantity::Found(Finding::MeridianAltitude);
    near(
        work(&reading, Task::MeridianAltitude, None, altitude),
        37.0,
        0.3,
    );
}

/// J. Meeus, *Astronomical Algorithms* (2nd ed. 1998), chapter 14: 51° north, ε 23°26.4′,
/// at 5 h of sidereal time 169°21′30″ rises.
#[test]
fn meeus_degree_rising() {
    let case = Case {
        latitude: 51.0,
        obliquity: 23.44,
        star: (75.0, 0.0),
        ..oxford(0.0)
    };
    // A star of 5 h of right ascension on the meridian makes the sidereal time 5 h; a
    // star on the equator rises six hours before it culminates.
    let rising = Case {
        star: (165.0, 0.0),
        ..case
    };
    let degree = Quantity::Found(Finding::RisingDegree);
    near(
        work(&rising, Task::RisingDegree, None, degree),
        169.0 + 21.5 / 60.0,
        0.001,
    );
}

/// Meeus, chapter 15 (example 15.a, Venus at Boston on 20 March 1988; from memory):
/// at 42°20′, a declination of 18.44092° has the altitude −0.5667° at 108.5344° from
/// the meridian.
#[test]
fn meeus_setting() {
    let case = Case {
        latitude: 42.0 + 20.0 / 60.0,
        star: (0.0, 18.440_92),
        west: true,
        ..oxford(0.0)
    };
    // The star and the Sun both at 0 h of right ascension: the Sun's hour is the star's.
    let hour = Quantity::Found(Finding::Hour);
    near(
        work(&case, Task::HourByStar, Some(-0.566_67), hour),
        108.5344,
        1e-3,
    );
}

/// The supplementary conclusions on the shadow square (Skeat 1872, II.41–43): recta 4
/// at 20 feet gives 60; versa 1 and 2 with 60 feet between give 10; 144/4 = 36, 144/3 = 48.
#[test]
fn chaucer_heights() {
    let case = oxford(0.0);
    let height = |task: Task, shadows: [f64; 2], distance: f64| {
        let choices = case.choices(task);
        let mut conditions = case.conditions(task, &choices);
        let length = |stated, length| (stated, Value::Length(length));
        conditions.stated.extend([
            length(Stated::Distance, distance),
            length(Stated::EyeHeight, 0.0),
        ]);
        for (sight, points) in [Sighting::Shadow, Sighting::OtherShadow]
            .into_iter()
            .zip(shadows)
        {
            let seen = Seen {
                value: Value::Points(points),
                within: Some(Amount::Points(0.0)),
            };
            conditions.seen.insert(sight, seen);
        }
        let operation = task.operation(&conditions.instrument, &choices);
        let finds = task.finds(&operation)[0];
        carry_out(&operation, &conditions)
            .reading(finds)
            .unwrap()
            .value
            .number()
    };
    near(height(Task::HeightByRecta, [4.0, 0.0], 20.0), 60.0, 1e-9);
    near(
        height(Task::HeightByVersaTwice, [1.0, 2.0], 60.0),
        10.0,
        1e-9,
    );
    near(height(Task::HeightByVersaTwice, [3.0, 4.0], 7.0), 7.0, 1e-9);
    near(height(Task::RectaToVersa, [4.0, 0.0], 0.0), 36.0, 1e-9);
    near(height(Task::RectaToVersa, [3.0, 0.0], 0.0), 48.0, 1e-9);
}

/// The treatise allows no just ascendant between eleven and one (II.3). A quarter of a
/// degree of altitude, the Sun at 1° Aries at 51°50′, costs 2.0 minutes and 0.54° of
/// ascendant at nine, 4.8 and 0.94° at eleven, 13.4 and 2.49° at a quarter to twelve
/// (computed independently).
#[test]
fn near_noon_the_altitude_is_worth_little() {
    for (hour, minutes, ascendant) in [(-45.0, 2.0, 0.54), (-15.0, 4.8, 0.94), (-3.75, 13.4, 2.49)]
    {
        let case = Case {
            hour,
            ..oxford(1.0)
        };
        let sun = case.sun_place();
        let (sin_l, cos_l) = angle(case.latitude).sin_cos();
        let up = sin_l * sun.declination.sin() + cos_l * sun.declination.cos() * angle(hour).cos();
        let choices = case.choices(Task::HourBySun);
        let mut conditions = case.conditions(Task::HourBySun, &choices);
        let seen = Seen {
            value: Value::Height(Angle::asin(up)),
            within: Some(Amount::Angle(angle(0.25))),
        };
        conditions.seen.insert(Sighting::Altitude, seen);
        let operation = Task::HourBySun.operation(&conditions.instrument, &choices);
        let within = within(&operation, &conditions);
        // Two deviations of an even spread are 1.155 of its half.
        let of = |quantity| within[&quantity].number() / 1.1547;
        let (hour, rising) = (
            of(Quantity::Found(Finding::Hour)) * 4.0,
            of(Quantity::Ascendant),
        );
        // Towards noon the error is lopsided: on the far side there is no such
        // altitude, and the near side counts twice.
        assert!(
            hour > 0.95 * minutes && hour < 2.1 * minutes,
            "{hour} minutes, {minutes}"
        );
        assert!(
            rising > 0.95 * ascendant && rising < 2.2 * ascendant,
            "{rising}, {ascendant}"
        );
    }
}

/// What is stated as "within" holds nineteen rounded workings of twenty.
#[test]
fn rounded_workings_stay_within() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut counts: BTreeMap<Task, (usize, usize)> = BTreeMap::new();
    let strategy = cases(25.0..60.0);
    for _ in 0..120 {
        let case = proptest::strategy::ValueTree::current(&strategy.new_tree(&mut runner).unwrap());
        for task in Task::ALL {
            if ON_PAPER.contains(&task) {
                continue;
            }
            let choices = case.choices(task);
            let steady = case.conditions(task, &choices);
            let mut rounded = steady.clone();
            rounded.setting = instrument(false).eye();
            rounded.reading = instrument(false).eye();
            rounded.figures = Figures::Written;
            for seen in rounded.seen.values_mut() {
                seen.within = None;
            }
            let operation = task.operation(&steady.instrument, &choices);
            let (truth, read) = (
                carry_out(&operation, &steady),
                carry_out(&operation, &rounded),
            );
            let within = within(&operation, &rounded);
            for quantity in task.finds(&operation) {
                let both = (truth.reading(quantity), read.reading(quantity));
                let (Ok(truth), Ok(read)) = both else {
                    continue;
                };
                let allowed = within.get(&quantity).map_or(0.0, |within| within.number());
                let counts = counts.entry(task).or_default();
                counts.0 += 1;
                counts.1 += usize::from(off(truth.value, read.value) <= allowed + AGREE);
            }
        }
    }
    let all: usize = counts.values().map(|(all, _)| all).sum();
    let inside: usize = counts.values().map(|(_, inside)| inside).sum();
    assert!(
        inside * 100 >= all * 95,
        "{inside} of {all} within what is stated"
    );
    for (task, (all, inside)) in counts {
        // Of some hundred a sample may have three or four fewer.
        let most = inside * 100 >= all * 91;
        assert!(most, "{task}: {inside} of {all} within what is stated");
    }
}
