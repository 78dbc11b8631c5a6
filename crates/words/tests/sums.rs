//! Whoever reads a sum on a handout finds it true: what the sentences print is read back.

#![expect(clippy::unwrap_used, reason = "a test fails by panicking")]

use std::collections::BTreeMap;
use std::sync::OnceLock;

use instrument::{Instrument, Pick, Specification, YearDay};
use practice::{
    Act, Conditions, Correction, Figures, Given, Quantity, Reckoning, RetePlace, Seen, Sighting,
    StarTaken, Stated, SunPlace, Task, TaskChoices, Term, Working, carry_out,
};
use proptest::prelude::*;
use sky::{Angle, Latitude};
use words::instruction;

/// The angles in a text, in degrees: `41°25′`, with a minus before it, a sign of the zodiac
/// or a side of noon behind it. What stands in brackets says the same again.
fn figures_in(text: &str) -> Vec<f64> {
    let mut plain = String::new();
    let mut depth = 0;
    for letter in text.chars() {
        depth += i32::from(letter == '(');
        if depth == 0 {
            plain.push(letter);
        }
        depth -= i32::from(letter == ')');
    }
    let mut found = Vec::new();
    for (at, _) in plain.match_indices('′') {
        let (before, after) = (&plain[..at], plain[at + '′'.len_utf8()..].trim_start());
        let Some((degrees, minutes)) = before.rsplit_once('°') else {
            continue;
        };
        let from = degrees.rfind(|c: char| !c.is_ascii_digit());
        let number = &degrees[from.map_or(0, |at| {
            at + degrees[at..].chars().next().unwrap().len_utf8()
        })..];
        let negative = degrees.strip_suffix(number).unwrap().ends_with('−');
        let size = number.parse::<f64>().unwrap() + minutes.parse::<f64>().unwrap() / 60.0;
        let sign = sky::Sign::ALL
            .into_iter()
            .find(|sign| after.starts_with(sign.name()));
        found.push(match sign {
            Some(sign) => sign.begins().deg() + size,
            None if negative || after.starts_with("before noon") => -size,
            None => size,
        });
    }
    found
}

/// A time or a length of time in hours: `6 h 49 m 12 s`, `34 m 11 s`.
fn hours_in(text: &str) -> f64 {
    let words: Vec<&str> = text.split_whitespace().collect();
    let part = |unit| {
        let pair = words
            .windows(2)
            .find(|pair| pair[1].trim_matches([',', '.', ':', ';']) == unit);
        pair.map_or(0.0, |pair| pair[0].parse::<f64>().unwrap())
    };
    part("h") + part("m") / 60.0 + part("s") / 3600.0
}

/// The number at the end of a text.
fn last_number(text: &str) -> f64 {
    let words = text.trim_end_matches('.').split_whitespace();
    words
        .filter_map(|word| word.parse().ok())
        .next_back()
        .unwrap()
}

/// What a sum prints as its result, and what its printed figures make.
fn read_back(working: &Working, step: usize, conditions: &Conditions) -> Option<(f64, f64)> {
    let text = instruction(working, step, conditions).unwrap().text();
    let done = &working.steps[step];
    let Act::Reckon(reckoning) = done.act else {
        return None;
    };
    let Some(Ok(_)) = done.outcome else {
        return None;
    };
    let before = |wanted: Quantity| {
        let at = working
            .steps
            .iter()
            .position(|one| one.act.finds() == Some(wanted))
            .unwrap();
        instruction(working, at, conditions).unwrap().text()
    };
    let points = |sight| last_number(&before(Quantity::Seen(sight)));
    let found = figures_in(&text);
    let result = || *found.last().unwrap();
    Some(match reckoning {
        Reckoning::HourForRule => {
            let parts: Vec<&str> = text.split(',').collect();
            let mut sum = hours_in(parts[0]);
            for part in &parts[1..] {
                let amount = hours_in(part.split(':').next().unwrap());
                sum += if part.contains("less") {
                    -amount
                } else {
                    amount
                };
            }
            // In seconds, as degrees, so that it is held to the last of them.
            let end = hours_in(text.split(": ").last().unwrap());
            (end * 60.0, sum.rem_euclid(24.0) * 60.0)
        }
        Reckoning::ThirdOfLimb(house) => {
            let ascendant = found[0];
            let third = match house.number() {
                12 => ascendant / 3.0 * 2.0,
                11 => ascendant / 3.0,
                2 => ascendant - (ascendant + 180.0) / 3.0,
                _ => ascendant - (ascendant + 180.0) / 3.0 * 2.0,
            };
            (result(), third)
        }
        Reckoning::Count(..) => (result(), (found[1] - found[0]).rem_euclid(360.0)),
        Reckoning::RestOfTurn(..) => (result(), 360.0 - found[0]),
        Reckoning::Twelfth(..) => (result(), found[0] / 12.0),
        Reckoning::RestOfThirty(..) => (result(), 30.0 - found[0]),
        Reckoning::Hours(..) => {
            let number = text
                .split_whitespace()
                .next()
                .unwrap()
                .parse::<f64>()
                .unwrap();
            (result(), number * found[0])
        }
        Reckoning::Less(..) => (result(), found[0] - found[1]),
        Reckoning::Sum(..) => (result(), found[0] + found[1]),
        Reckoning::Mean(..) => (result(), (found[0] + found[1]) / 2.0),
        Reckoning::RestOfRight(..) => (result(), 90.0 - found[0]),
        Reckoning::ThroughZenith(_) => (result(), 180.0 - found[0]),
        Reckoning::FromSouth(..) => (result(), found[0] - 180.0),
        Reckoning::Midway(..) | Reckoning::MidDegree(..) => (
            result(),
            found[0] + (found[1] - found[0]).rem_euclid(360.0) / 2.0,
        ),
        Reckoning::Beside(..) => {
            assert!((result() - found[0]).abs() <= 15.0, "{text}");
            return None;
        }
        Reckoning::BetweenPlates(_) => {
            let arc = angle(found[2]).to(angle(found[3])).deg();
            (result(), found[2] + arc * found[0] / found[1])
        }
        Reckoning::InProportion(_) => {
            let part = (found[0] - found[1]) / (found[2] - found[1]);
            let arc = angle(found[3]).to(angle(found[4])).deg();
            (result(), found[3] + arc * part)
        }
        Reckoning::Height(tower) => {
            let stated = |asked| conditions.stated[&asked].written().number();
            let (distance, eye) = (stated(Stated::Distance), stated(Stated::EyeHeight));
            let points = [Sighting::Shadow, Sighting::OtherShadow].map(|sight| {
                working
                    .reading(Quantity::Seen(sight))
                    .map_or(f64::NAN, |_| points(sight))
            });
            let above = match tower {
                practice::Tower::Recta => distance * 12.0 / points[0],
                practice::Tower::Versa => distance * points[0] / 12.0,
                practice::Tower::RectaTwice => distance * 12.0 / (points[0] - points[1]).abs(),
                practice::Tower::VersaTwice => {
                    distance / (12.0 / points[0] - 12.0 / points[1]).abs()
                }
            };
            // Hundredths, as minutes of arc.
            return Some((last_number(&text) / 0.6, (above + eye) / 0.6));
        }
        Reckoning::FromEquinox(_) => {
            let from_aries = (found[0] + 180.0).rem_euclid(360.0) - 180.0;
            (result(), from_aries.abs().min(180.0 - from_aries.abs()))
        }
        Reckoning::ProductOfSines(..) => {
            let number = |text: &str| {
                text.split_whitespace()
                    .next()
                    .unwrap()
                    .parse::<f64>()
                    .unwrap()
            };
            let (one, other) = text.split_once(" times ").unwrap();
            let made = number(one) * number(other.split(',').next().unwrap()) / 60.0;
            // Written to a hundredth, and held to that.
            (last_number(&text) * 50.0 / 60.0, made * 50.0 / 60.0)
        }
        Reckoning::SideOfEquator(..) => {
            let south = text.contains("south of the equator");
            (result(), if south { -found[1] } else { found[1] })
        }
        Reckoning::RectaToVersa => {
            return Some((
                last_number(&text) / 0.6,
                144.0 / points(Sighting::Shadow) / 0.6,
            ));
        }
    })
}

fn angle(deg: f64) -> Angle {
    Angle::from_deg(deg)
}

fn brass(south: bool) -> &'static Instrument {
    static BUILT: OnceLock<[Instrument; 2]> = OnceLock::new();
    let build = |hemisphere: &str, plate: i32| {
        let text = format!(
            "version = 1\nname = \"brass\"\ndiameter_mm = 200\nhemisphere = \"{hemisphere}\"\n\
             orientation = \"noon-up\"\nepoch_year = 2000\nplates_deg = [{plate}]\n\
             date_from = \"zodiac\"\n"
        );
        Instrument::new(Specification::from_toml(&text).unwrap())
    };
    let built = BUILT.get_or_init(|| [build("north", 45), build("south", -45)]);
    &built[usize::from(south)]
}

/// A person with the instrument; what is given has as many digits as it likes.
fn person(latitude: f64, day: (u8, u8), hour: f64, sums: [f64; 4], any: &[f64]) -> Conditions {
    let [summer, zone, longitude, equation] = sums;
    let terms = [
        (Correction::SummerTime, summer),
        (Correction::Zone, zone),
        (Correction::Longitude, longitude),
    ];
    let given = Given {
        latitude: Latitude::from_deg(latitude).unwrap(),
        clock: angle(hour),
        to_mean: terms
            .into_iter()
            .map(|(correction, amount)| Term {
                correction,
                amount: angle(amount),
            })
            .collect(),
        equation_of_time: angle(equation),
        clock_is_apparent: false,
        date: YearDay {
            month: day.0,
            day: day.1,
            part: 0.0,
        },
        sun: SunPlace {
            longitude: Angle::ZERO,
            right_ascension: Angle::ZERO,
            declination: Latitude::ZERO,
        },
    };
    // Every kind of value from numbers between 0 and 1.
    let seen = Sighting::ALL.into_iter().zip(any).map(|(sight, part)| {
        let value = match sight {
            Sighting::MorningShadow | Sighting::EveningShadow => part * 360.0,
            Sighting::Shadow | Sighting::OtherShadow => 0.4 + part * 12.0,
            Sighting::Altitude
            | Sighting::OtherAltitude
            | Sighting::NoonAltitude
            | Sighting::UpperAltitude
            | Sighting::LowerAltitude
            | Sighting::WandererAltitude => part * 60.0,
        };
        (
            sight,
            Seen {
                value: sight.measure().value(value),
                within: Some(sight.measure().amount(0.0)),
            },
        )
    });
    let told = Stated::ALL
        .into_iter()
        .zip(any.iter().skip(2))
        .map(|(told, part)| {
            let value = match told {
                Stated::Degree | Stated::OtherDegree => part * 360.0,
                Stated::Latitude => part * 10.0 - 5.0,
                Stated::UnequalHours => part * 24.0,
                Stated::Distance => 1.0 + part * 100.0,
                Stated::EyeHeight => part * 5.0,
            };
            (told, told.measure().value(value))
        });
    let star = StarTaken {
        name: "a star".to_owned(),
        right_ascension: angle(any[0] * 360.0),
        declination: Latitude::from_deg(any[1] * 60.0 - 20.0).unwrap(),
    };
    let conditions = Conditions::actual(given, brass(latitude < 0.0).clone(), &[]);
    assert_eq!(conditions.figures, Figures::Written);
    conditions.asked(
        Some(star),
        BTreeMap::from_iter(seen),
        BTreeMap::from_iter(told),
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn printed_sums_are_true(
        latitude in prop_oneof![2.0..64.0, -64.0..-2.0],
        day in (1..=12_u8, 1..=28_u8),
        hour in 0.0..360.0,
        sums in ([-30.0..0.0, -180.0..180.0, -180.0..180.0, -4.2..4.2]),
        any_values in proptest::collection::vec(0.0..1.0, 12),
        (west, beyond_zenith, number) in (any::<bool>(), any::<bool>(), 1..=24_u8),
    ) {
        let conditions = person(latitude, day, hour, sums, &any_values);
        let choices = TaskChoices {
            side: if west { Pick::Western } else { Pick::Eastern },
            other_side: Pick::Eastern,
            subject: RetePlace::Sun,
            beyond_zenith,
            hour: number,
            ..TaskChoices::default()
        };
        for task in Task::ALL {
            let working = carry_out(&task.operation(&conditions.instrument, &choices), &conditions);
            for step in 0..working.steps.len() {
                if let Some((result, made)) = read_back(&working, step, &conditions) {
                    let off = angle(made).to(angle(result)).abs();
                    // Half of the last digit, where the sum is divided.
                    prop_assert!(
                        off <= Angle::from_arcmin(0.5 + 1e-6),
                        "{task}: {} ({made} is made)",
                        instruction(&working, step, &conditions).unwrap()
                    );
                }
            }
        }
    }
}
